"""The live terminal room on a small engine, for a test that types: room_child.py FOLDER."""
from __future__ import annotations

import sys
from datetime import datetime
from pathlib import Path
from zoneinfo import ZoneInfo

from fake_engine import FakeRoom

from bot.rooms import terminal
from bot.rooms.clock import running_from
from bot.store import Store
from bot.talk import School

START = datetime(2026, 5, 16, 9, 30, tzinfo=ZoneInfo("Europe/London"))

if __name__ == "__main__":
    store = Store.open(Path(sys.argv[1]))
    setting = terminal.Setting("yard", School(), "Mara", running_from(START), make=FakeRoom)
    terminal.run(store, setting, terminal.styled_page(80), greeting=["welcome"])
    store.close()
    print("left in peace")
