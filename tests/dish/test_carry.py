"""A roast goes on warming once it is out: how far, and that the room says when to take it out for it."""
from __future__ import annotations

import re

import numpy as np
import pytest

from skills.dish import model
from skills.dish.prior import Said
from tests.dish.helpers import ZERO_K, medians, steady
from tests.dish.room import SCHOOL_DAY, play

ROAST = """
08:40 Tomos: dome probe 217 air 186
08:42 Tomos: 2.5 kg topside roast, in a roasting tin
08:45 Tomos: roast in the dome, door on
09:40 Idris: roast core 48
09:41 Mara: when will the roast be done?
"""


def rise_k(celsius: float) -> float:
    """How far the middle of a joint of 2.5 kg climbs in 20 min out of a steady oven, from 60 degC [K]."""
    parameters = medians(Said(cut="topside roast", meat_kg=2.5, pan="roasting tin"))
    state = model.initial_state(parameters, ZERO_K + 12.0, ZERO_K + 12.0)
    while model.core_k(state, parameters)[0] < ZERO_K + 60.0:
        state, _ = model.step(state, parameters, steady(celsius, 1), 60.0)
    covered, peak = model.with_lid(parameters, True), 0.0
    for _ in range(20):
        state, _ = model.step(state, covered, steady(18.0, 1), 60.0)
        peak = max(peak, float(model.core_k(state, covered)[0]))
    return peak - ZERO_K - 60.0


def test_a_joint_climbs_by_some_degrees_and_more_out_of_a_hotter_oven() -> None:
    """3 to 6 K out of a slow oven, up to 8 to 14 out of a hot one (common practice, no source)."""
    slow, hot = rise_k(130.0), rise_k(220.0)
    assert 3.0 <= slow <= 6.5
    assert 8.0 <= hot <= 14.0


def test_the_room_says_when_to_take_a_roast_out_and_what_it_then_climbs() -> None:
    told = play(SCHOOL_DAY, ROAST).replies["09:41"]
    found = re.search(r"Roast out about (\d\d:\d\d)\. At (\d+) in the middle it climbs about (\d+) more", told)
    assert found, told
    assert int(found[2]) + int(found[3]) == pytest.approx(70, abs=1.5)
    assert len(told.splitlines()) <= 3


def test_taken_out_as_told_it_rests_up_to_its_heat() -> None:
    """The same dish told out at the hour that was named: 20 min later most members have been where it was to go."""
    told = play(SCHOOL_DAY, ROAST)
    found = re.search(r"out about (\d\d:\d\d)\.", told.replies["09:41"])
    assert found
    hour, minute = found[1].split(":")
    after = f"{hour}:{int(minute) + 20:02d}" if int(minute) < 40 else f"{int(hour) + 1:02d}:{int(minute) - 40:02d}"
    rested = play(SCHOOL_DAY, ROAST, f"{found[1]} Tomos: roast out, resting\n{after} Mara: lovely crowd").view
    assert rested.belief is not None
    core_c = rested.belief.dishes["roast"].core_c
    assert 66.0 < float(np.median(core_c)) < 75.0
    assert float(np.median(core_c)) > float(np.median(rested.belief.dishes["roast"].left_core_c)) + 2.0


def test_a_braise_has_no_such_word_and_the_prompt_for_a_roast_comes_in_time_for_it() -> None:
    braise = play(SCHOOL_DAY, "08:34 Tomos: dome probe 217 air 186\n08:38 Tomos: 3 kg lamb shoulder, litre of hot "
                  "stock, iron pot, lid on\n08:45 Tomos: lamb in the dome, door on\n"
                  "08:50 Mara: when will the lamb be done?")
    assert "rest, covered" not in braise.replies["08:50"]
    roast = play(SCHOOL_DAY, ROAST, "11:00 Bea: coffee's on")
    said = roast.prompts_of("ready")
    assert said
    assert "in 20 min of rest, covered" in said[0].text
    done = re.search(r"in the middle about (\d\d:\d\d)", roast.replies["09:41"])
    assert done
    assert said[0].at.strftime("%H:%M") < done[1]
