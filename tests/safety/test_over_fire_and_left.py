"""Food over a flame, what is left of a dish unweighed, one pulse under two names, and stores told in Fahrenheit.

Core figures: FSA 70 C for 2 min, Food Code 3-401.11 (poultry 165 F). What people say is common practice, no source.
"""
from __future__ import annotations

from typing import Any

import pytest

from tests.safety.test_told_in_the_room import prompts, told

GRILL = "10:00 Mara: class: grill day, 12 guests, eating at 1\n11:00 Idris: fire lit under the grill\n"


@pytest.mark.parametrize("words", ["chicken on", "chicken on the grill", "put the chicken over the coals"])
def test_meat_over_a_flame_is_asked_for_its_core_before_it_is_served(words, tmp_path):
    said, = prompts(told(f"{GRILL}12:15 Bea: {words}\n12:58 Mara: plates are warm\n", tmp_path), "safety")
    assert "chicken over the fire since 12:15" in said
    assert "70" in said


def test_a_core_that_is_there_needs_no_word_and_one_that_is_not_does(tmp_path):
    done = f"{GRILL}12:15 Bea: chicken on\n12:50 Bea: chicken core 78\n12:52 Bea: chicken off\n13:00 Mara: served\n"
    assert prompts(told(done, tmp_path), "safety") == []
    (tmp_path / "raw").mkdir()
    raw = f"{GRILL}12:15 Bea: chicken on\n12:40 Bea: chicken off, probe says 58\n"
    assert "core 58" in prompts(told(raw, tmp_path / "raw"), "safety")[0]


STEW = """09:00 Mara: class: stew, 12 guests, eating at 1
09:10 Bea: stew: 2 kg shin, 2 l hot stock
09:15 Bea: stew in the dome
12:30 Bea: stew tender, core 94
12:40 Bea: stew out
13:00 Mara: served
"""


@pytest.mark.parametrize("words", ["half the stew left", "there's loads of stew left", "a third of the pot left over"])
def test_what_is_left_begins_the_clock_of_the_cold_though_nobody_weighed_it(words, tmp_path):
    """England: cooled within 90 min and then cold (FSA advice, as the UK pack has it)."""
    trace = told(f"{STEW}13:20 Tomos: {words}\n14:00 Mara: walk round the garden\n", tmp_path)
    said = prompts(trace, "safety")
    assert any("in the fridge by 14:10" in each for each in said)


def _boil(trace: list[dict[str, Any]]) -> list[str]:
    return [each for each in prompts(trace, "safety") if "hard boil" in each]


def test_one_pulse_under_two_names_is_one_dish(tmp_path):
    soaked = ("08:00 Mara: class: beans, 12 guests, eating at 1\n"
              "08:10 Tomos: borlotti soaked overnight, 1 kg, 3 l water\n")
    into = "08:50 Tomos: beans in the barrel\n"
    assert _boil(told(f"{soaked}08:30 Tomos: boiled them hard for 15 min\n{into}", tmp_path)) == []
    (tmp_path / "other").mkdir()
    said, = _boil(told(f"{soaked}{into}", tmp_path / "other"))
    assert "borlotti" in said


def test_a_store_that_is_read_in_fahrenheit_is_judged_as_that_and_asked(tmp_path):
    """45 F is 7.2 C: over the US 41 F (Food Code 3-501.16), within the UK's 8 C; 150 F is 65.6 C."""
    line = "09:00 Mara: class: ribs, 12 guests, eating at 2\n09:10 Bea: fridge 45\n"
    trace = told(line, tmp_path)
    assert "C or F" in trace[-1]["replies"][0]
    assert prompts(trace, "safety") == []
    (tmp_path / "us").mkdir()
    assert "fridge 7.2 is over 5" in prompts(told(line, tmp_path / "us", "us"), "safety")[0]


def test_what_went_straight_in_is_not_set_aside_while_it_is_asked_where(tmp_path):
    text = ("08:00 Mara: class: lamb, 12 guests, eating at 5\n08:10 Idris: dome air 170\n08:12 Idris: barrel air 150\n"
            "08:30 Bea: 3 kg lamb shoulder browned and straight in\n10:40 Mara: tea\n")
    assert prompts(told(text, tmp_path), "safety") == []


def test_roast_potatoes_that_colour_are_still_on_their_way_up(tmp_path):
    text = ("09:00 Mara: class: roasties, 12 guests, eating at 7\n16:00 Idris: dome raked, air 220\n"
            "16:30 Tomos: potatoes in the dome, 4 kg\n17:00 Idris: dome air 170\n17:10 Tomos: potatoes colouring\n"
            "17:40 Mara: tea\n")
    assert prompts(told(text, tmp_path), "safety") == []
