"""What people say oddly of ovens: another name, impossible sizes, weather and waiting."""
from __future__ import annotations

import re

import pytest

from tests.dish.room import SCHOOL_DAY, play

LATER = "07:45 Tomos: dome floor 225 air 215"


@pytest.mark.parametrize("words", ["the dome is called bertha now", "we call the dome bertha",
                                   "rename the dome to bertha", "the dome's new name is bertha",
                                   "call it bertha from now on"])
def test_an_oven_renamed_in_mid_class_is_one_oven_under_both_names(words: str) -> None:
    yard = play(SCHOOL_DAY, f"07:40 Mara: {words}", "07:45 Tomos: bertha floor 225 air 215",
                "07:50 Tomos: dome floor 222", "07:51 Mara: how's bertha?")
    assert list(yard.view.record.ovens) == ["dome"]
    assert yard.view.record.ovens["dome"].readings["floor"].fact.celsius == 222
    assert "one oven" in yard.replies["07:40"]
    assert yard.replies["07:51"].startswith("Dome: air")


@pytest.mark.parametrize("words", ["the dome is called off", "bea called, dome is hot", "call the dome ready"])
def test_what_only_sounds_like_a_name_renames_nothing(words: str) -> None:
    assert play(SCHOOL_DAY, f"07:40 Mara: {words}").view.record.ovens["dome"].called == ()


@pytest.mark.parametrize("words", ["dome is 0 across", "the dome has 2 m of floor", "dome is 900 across"])
def test_an_impossible_size_is_told_and_not_used(words: str) -> None:
    yard = play(SCHOOL_DAY, f"07:40 Mara: {words}")
    assert "cannot be right: noted, not used" in yard.replies["07:40"]
    assert yard.view.record.ovens["dome"].size["across_cm"] == 90
    assert yard.view.record.ovens["dome"].size["floor_cm"] == 6


def test_a_probe_below_the_floor_brick_is_said_to_be_so() -> None:
    assert "below the 6 cm of floor brick" in play(SCHOOL_DAY, "07:40 Mara: probe 12 down in the dome").replies["07:40"]


@pytest.mark.parametrize("words", ["what if it rains all afternoon", "what if the wind gets up",
                                   "what if it drops to 2 degrees outside"])
def test_weather_that_is_only_supposed_is_answered_in_degrees(words: str) -> None:
    assert re.match(r"Dome (about \d+ (lower|warmer)|hardly changes)", play(
        SCHOOL_DAY, LATER, f"07:50 Mara: {words}").replies["07:50"])


def test_waiting_is_answered_by_the_oven_as_it_will_be_and_by_the_pot_that_waits() -> None:
    yard = play(SCHOOL_DAY, LATER, "07:50 Mara: what if we wait half an hour",
                "07:52 Mara: 3 kg shoulder, litre of hot stock", "07:55 Mara: what if we wait half an hour")
    assert re.match(r"Dome at 08:20: air about \d+ \(\d+ to \d+\), about \d+ lower", yard.replies["07:50"])
    assert yard.replies["07:55"].startswith("Shoulder in 08:25: tender about")


def test_why_says_which_way_the_probe_goes_by_the_same_forecast() -> None:
    yard = play(SCHOOL_DAY, LATER, "07:50 Mara: why is the dome probe still climbing?")
    forecast = yard.view.forecast()
    assert forecast is not None
    floor_c = forecast.ovens["dome"].floor_c
    falls = (floor_c[3] < floor_c[0]).mean()
    said = yard.replies["07:50"]
    assert ("climbs" in said) == (falls < 0.5) or "hardly moves" in said


def test_a_heat_told_behind_the_insulation_is_no_thickness() -> None:
    yard = play(SCHOOL_DAY, "07:40 Mara: 20 cm insulation, raked, floor 240 air 225")
    oven = yard.view.record.ovens["dome"]
    assert oven.size["insulation_cm"] == 20
    assert oven.size["floor_cm"] == 6
    assert oven.readings["floor"].fact.celsius == 240
