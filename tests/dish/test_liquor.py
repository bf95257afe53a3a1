"""The word about liquor comes in time, with a volume, once."""
from __future__ import annotations

import re
from datetime import datetime

import numpy as np

from skills.dish.promise import dries_out
from tests.dish.room import SCHOOL_DAY, play

HOT = """
08:34 Tomos: dome probe 217 air 186
08:38 Tomos: 3 kg lamb shoulder, {litres} l of hot stock, iron pot, {lid}
08:45 Tomos: lamb in the dome, door on
09:20 Idris: dome floor 205, air 168
"""
UNTIL = "13:10 Bea: coffee's on"


def clock(at: datetime) -> str:
    return at.strftime("%H:%M")


def test_little_liquor_without_a_lid_is_told_with_a_volume_before_the_look_it_names() -> None:
    told = play(SCHOOL_DAY, HOT.format(litres=0.5, lid="lid on"), "09:21 Tomos: lid off the lamb", UNTIL)
    said = told.prompts_of("liquid")
    assert len(said) == 1
    assert re.search(r"add \d+(\.\d)? (ml|l) boiling", said[0].text)
    named = re.search(r"at the (\d\d:\d\d) look", said[0].text)
    assert named is None or clock(said[0].at) < named[1]
    belief = play(SCHOOL_DAY, HOT.format(litres=0.5, lid="lid on"), "09:21 Tomos: lid off the lamb").view.forecast()
    assert belief is not None
    dry = (belief.dishes["lamb"].liquid_l < 0.05).mean(axis=1) >= 0.5
    assert not dry.any() or said[0].at.timestamp() < belief.at_s[int(dry.argmax())]


def test_plenty_of_liquor_under_a_lid_is_left_alone() -> None:
    assert not play(SCHOOL_DAY, HOT.format(litres=2.0, lid="lid on"), UNTIL).prompts_of("liquid")


def test_a_pot_called_low_is_to_be_filled_now_and_not_again_once_it_was() -> None:
    told = play(SCHOOL_DAY, HOT.format(litres=2.0, lid="lid on"),
                "10:40 Idris: looked at the lamb, still tough, liquid's low\n10:50 Bea: coffee's on")
    said = told.prompts_of("liquid")
    assert [clock(each.at) for each in said] == ["10:40"]
    assert "boiling now" in said[0].text
    filled = play(SCHOOL_DAY, HOT.format(litres=2.0, lid="lid on"),
                  "10:40 Idris: looked at the lamb, still tough, liquid's low\n"
                  "10:44 Idris: topped up the lamb, 500 ml\n10:55 Bea: coffee's on")
    assert len(filled.prompts_of("liquid")) == 1


def falls(litres_an_hour: float, hours: float = 4.0) -> tuple[np.ndarray, np.ndarray]:
    """A litre of liquor that boils away evenly, every ten minutes, in one member."""
    at_s = np.arange(0.0, hours * 3600 + 1.0, 600.0)
    return np.maximum(1.0 - litres_an_hour * at_s / 3600.0, 0.0)[:, None], at_s


def test_what_a_look_in_an_hour_would_fill_is_not_lost_and_what_goes_within_the_hour_is() -> None:
    """Common practice, no source: a look about once an hour, and a low pot is filled."""
    never = np.array([np.inf])
    assert not dries_out(*falls(0.25), never, 3.0)[0]
    assert dries_out(*falls(1.5), never, 3.0)[0]


def test_a_pot_that_is_tender_before_it_dries_is_out_of_the_oven_by_then() -> None:
    litres, at_s = falls(1.5)
    assert not dries_out(litres, at_s, np.array([1200.0]), 3.0)[0]
