"""A core heat that somebody asks for: the forecast goes by it, and the rules are said beside it once."""
from __future__ import annotations

import numpy as np
import pytest

from skills.dish import crust, model
from skills.dish.cuts import cut_of
from skills.dish.prior import Said
from tests.dish.helpers import ZERO_K, hours_to_tender, medians, steady
from tests.dish.room import SCHOOL_DAY, play

ROAST = """
08:34 Tomos: dome probe 217 air 196
08:36 Tomos: 2.5 kg topside roast, in a roasting tin
08:38 Mara: want the roast at 54
08:45 Tomos: roast in the dome, door on
"""


def test_the_forecast_goes_by_the_heat_that_was_asked_for() -> None:
    hours = []
    for wanted in (54.0, None):
        parameters = medians(Said(cut="topside roast", meat_kg=2.5, pan="roasting tin", done_c=wanted))
        state = model.initial_state(parameters, ZERO_K + 12.0, ZERO_K + 12.0)
        hours.append(float(hours_to_tender(parameters, steady(190.0, 1), state)[0]))
    assert hours[0] < hours[1]
    told = play(SCHOOL_DAY, ROAST, "08:48 Mara: when will the roast be done?").replies["08:48"]
    assert "at 54 in the middle" in told


def test_a_pink_joint_by_choice_is_told_the_rule_once_and_not_called_underdone() -> None:
    """UK guidance: whole pieces of beef or lamb may be served pink (from memory)."""
    played = play(SCHOOL_DAY, ROAST, "10:20 Tomos: roast core 55\n10:22 Tomos: roast out, resting\n10:50 Mara: hello")
    assert "70 for 2 min" in played.replies["08:38"]
    assert "not for guests at risk" in played.replies["08:38"]
    assert len(played.replies["08:38"].splitlines()) <= 3
    assert not [each for each in played.prompts_of("safety") if "heated through" in each.text]


@pytest.mark.parametrize("food", ["2 kg whole chicken", "2 kg meatloaf", "2 kg loin of pork"])
def test_what_is_never_served_pink_is_called_underdone_whatever_was_asked_for(food: str) -> None:
    """UK guidance: poultry, mince and pork are cooked through (from memory)."""
    name = food.split()[-1]
    played = play(SCHOOL_DAY, f"08:34 Tomos: dome probe 217 air 196\n08:36 Tomos: {food}, in a roasting tin\n"
                  f"08:38 Mara: want the {name} at 58\n08:45 Tomos: {name} in the dome, door on\n"
                  f"10:10 Tomos: {name} core 59\n10:12 Tomos: {name} out\n10:50 Mara: hello all")
    assert "probe that before it is served" in played.replies["08:38"]
    assert [each for each in played.prompts_of("safety") if "heated through" in each.text]


def test_a_bird_asked_for_at_less_still_goes_to_its_own_heat() -> None:
    """74 degC: US Food Code, poultry."""
    assert cut_of(Said(name="chicken", done_c=60.0))[0].finish.target_c == 74.0
    assert cut_of(Said(name="chicken", done_c=80.0))[0].finish.target_c == 80.0


def test_a_cut_that_others_braise_is_roasted_if_a_core_heat_is_asked_for() -> None:
    braised, roasted = (cut_of(Said(name="lamb shoulder", done_c=wanted))[0].finish for wanted in (None, 60.0))
    assert braised.law == "rate"
    assert (roasted.law, roasted.target_c, roasted.in_liquor) == ("core", 60.0, False)


def test_beans_go_by_their_softening_whatever_heat_is_asked_for() -> None:
    assert cut_of(Said(name="beans", done_c=60.0))[0] == cut_of(Said(name="beans"))[0]


def test_a_core_that_was_read_is_as_far_on_as_it_reads() -> None:
    """Nearness to the target goes with the heat that was found, not with what usually goes with it."""
    parameters = medians(Said(cut="topside roast", meat_kg=2.5, pan="roasting tin"), lanes=3)
    state = model.initial_state(parameters, ZERO_K + 30.0, ZERO_K + 30.0)
    rows = model.state_vector(state)
    rows[:, 3:9] = ZERO_K + 50.0
    rows[:, 9:] = 2.0
    found = model.with_state_vector(state, rows, parameters)
    assert np.allclose(found.progress, crust.nearness(found.meat_k.T, parameters).T)
    assert not model.tender(found, parameters).any()
