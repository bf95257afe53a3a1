"""Flatbread is told in seconds, by the floor as it is, and nobody is called to it."""
from __future__ import annotations

import re

from tests.dish.room import play

FIRE = """
08:00 Mara: the dome is 90 across, 6 cm floor brick, 10 cm dome, 10 of insulation, probe 5 down. fired and raked
08:02 Mara: lit the dome
08:10 Idris: 4 splits on
08:40 Idris: 4 more
09:10 Idris: 4 splits
09:40 Idris: 4 splits on
"""


def seconds(reply: str) -> tuple[int, ...]:
    found = re.search(r"about (\d+) s each on a floor at \d+ \((\d+) to (\d+)\)", reply)
    assert found, reply
    return tuple(int(each) for each in found.groups())


def test_flatbread_is_told_in_seconds_by_the_floor() -> None:
    """About 2 min on brick at 325 to 330 degC (Varlamov, Glatz and Grasso 2018)."""
    told = play(FIRE, "10:10 Idris: floor ir 330\n10:11 Mara: flatbreads in",
                "10:16 Mara: when will the flatbreads be done?")
    for clock in ("10:11", "10:16"):
        middle, low, high = seconds(told.replies[clock])
        assert low <= 120 <= high
        assert 60 <= middle <= 180
        assert len(told.replies[clock].splitlines()) == 1


def test_a_hotter_floor_takes_fewer_seconds() -> None:
    cool, hot = (play(FIRE, f"10:10 Idris: floor ir {celsius}\n10:12 Bea: floor ir {celsius}",
                      "10:14 Mara: flatbreads in")
                 for celsius in (290, 390))
    assert seconds(hot.replies["10:14"])[0] < seconds(cool.replies["10:14"])[0]


def test_a_floor_too_cool_for_it_is_said_with_what_it_wants() -> None:
    told = play(FIRE, "10:20 Idris: raked out, door on\n12:30 Idris: floor 180, air 175\n12:31 Mara: flatbreads in")
    assert "slow" in told.replies["12:31"]
    assert "300 or more" in told.replies["12:31"]


def test_nobody_is_called_to_what_somebody_stands_by() -> None:
    told = play(FIRE, "10:10 Idris: floor ir 340\n10:11 Mara: flatbreads in\n11:40 Mara: hello all")
    assert not [each for each in told.prompts if each.prompt in ("ready", "serve", "reading", "liquid")
                and "flatbread" in each.text]
