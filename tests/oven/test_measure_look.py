"""What is inside a pot is asked for at a planned look: before that a lid that comes off costs heat."""
from __future__ import annotations

import re

from tests.dish.room import SCHOOL_DAY, play

LOADED = """
08:28 Idris: 3 kg lamb shoulder, litre of hot stock, iron pot, lid on
08:30 Idris: lamb in, door on
08:31 Idris: probe 205 air 190
"""
INSIDE = re.compile(r"\b(?:core|fork|simmering)\b")


def test_before_the_planned_look_nobody_is_sent_into_the_pot() -> None:
    yard = play(SCHOOL_DAY, LOADED, "09:30 Mara: shall I look?", "09:31 Mara: which reading do you want next?",
                "# until: 10:30")
    for said in (yard.replies["09:30"], yard.replies["09:31"], *(each.text for each in yard.prompts_of("reading"))):
        assert not INSIDE.search(said)
    assert re.search(r"lid on till 1\d:\d\d. A look now costs", yard.replies["09:30"])


def test_at_the_planned_look_the_pot_is_what_is_asked_of() -> None:
    yard = play(SCHOOL_DAY, LOADED, "11:40 Mara: which reading do you want next?")
    assert "lid on till" not in yard.replies["11:40"]


def test_a_look_is_answered_with_what_came_of_it() -> None:
    yard = play(SCHOOL_DAY, LOADED, "12:16 Idris: lamb giving, gentle simmer, core 91")
    assert re.search(r"tender about 1\d:\d\d .*On the table at 13:30", yard.replies["12:16"])
