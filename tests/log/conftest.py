"""One class, replayed once through the whole path, for every test that looks at its log."""
from __future__ import annotations

from pathlib import Path

import pytest

from bot.cli import main
from bot.log.foreseen import doubts
from bot.log.page import page
from bot.log.rows import page_of
from bot.store import Store

DAY = Path(__file__).parent / "data" / "yard_day.txt"


class Kept:
    """A folder with one class, and what is in it."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        store = Store.open(folder, shared=True)
        (self.row,) = store.classes()
        self.school = store.school(self.row.room)
        self.lines = store.log(self.row.room, self.row.id)
        store.close()
        self.rows = page_of(self.row.id, self.row.room, self.row.title, self.lines, self.school.lead,
                            doubts(self.lines) or ())
        self.page = page(self.rows, self.school)

    def table(self, heading: str):
        return next(table for table in self.page.tables if table.heading.startswith(heading))


@pytest.fixture(scope="session")
def kept(tmp_path_factory: pytest.TempPathFactory) -> Kept:
    folder = tmp_path_factory.mktemp("yard")
    assert main(["replay", str(DAY), "--data", str(folder)]) == 0
    return Kept(folder)
