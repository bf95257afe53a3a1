"""Every row of heat, food and firing is read by a test, or has its reason why nothing here can be held against it."""
from __future__ import annotations

import json
import re
from pathlib import Path

import pytest

HERE = Path(__file__)
TESTS, DATA = HERE.parents[1], HERE.parents[1] / "data" / "published"
FILES = ("baking", "food_properties", "oven", "ovens_measured", "transient_conduction", "water_and_pot")
NOT_TESTED = {
    "nc-sphere": "no body of this shape has a film of its own: the films of oven, pot, tray and thermometer are one "
                 "number each, which readings teach",
    "nc-hcyl": "the same",
}
# A quoted word, and whether it has holes to be filled.
QUOTED = re.compile(r"""(f?)(["'])([A-Za-z0-9{}_.-]+)\2""")


def ids() -> list[str]:
    return [row["id"] for name in FILES for row in json.loads((DATA / f"{name}.json").read_text(encoding="utf-8"))]


def _patterns() -> set[str]:
    """What the tests quote, as patterns of ids; a hole stands for anything, a start for all that begin with it."""
    found = set()
    for path in TESTS.rglob("test_*.py"):
        text = path.read_text(encoding="utf-8")
        if path == HERE or "published" not in text:
            continue
        for formatted, _, quoted in QUOTED.findall(text):
            fixed = re.split(r"\{[^}]*\}", quoted) if formatted else [quoted]
            if len("".join(fixed)) > 3:
                found.add(".+".join(re.escape(part) for part in fixed))
        found |= {re.escape(start) + ".*" for start in re.findall(r'startswith\("([a-z-]{4,})"\)', text)}
    return found


def test_every_row_is_read_by_a_test_or_has_its_reason() -> None:
    patterns = [re.compile(each) for each in _patterns()]
    unread = {row_id for row_id in ids() if not any(each.fullmatch(row_id) for each in patterns)}
    assert unread == set(NOT_TESTED)


@pytest.mark.parametrize("name", FILES)
def test_every_row_says_its_source_and_its_tolerance(name: str) -> None:
    for row in json.loads((DATA / f"{name}.json").read_text(encoding="utf-8")):
        assert row["source"], row["id"]
        assert row["tolerance_rel"] >= 0.0, row["id"]


def test_no_row_stands_twice() -> None:
    assert len(ids()) == len(set(ids()))


def test_a_row_that_nothing_reads_is_found() -> None:
    assert not any(re.fullmatch(each, "meas-" + "never-used") for each in _patterns())
