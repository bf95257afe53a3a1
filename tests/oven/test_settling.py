"""A raked oven on its way to its first pot: the spots that were shot, the time, and the dish that waits for it."""
from __future__ import annotations

import re

import numpy as np

from skills.oven.settling import AGREE_K, LEAST, settling
from tests.dish.room import SCHOOL_DAY, Played, play

LOAD = "07:31 Mara: 3 kg lamb shoulder, litre of hot stock, iron pot, lid on"
SPOTS = "07:45 Tomos: dome ir back 265 left 240 right 238 mouth 190 floor 225"


def found(yard: Played):
    made = settling(yard.view.record.ovens["dome"], yard.view)
    assert made is not None
    return made


def test_a_round_of_spots_far_apart_is_told_as_unsettled_with_the_time_of_the_pot() -> None:
    yard = play(SCHOOL_DAY, LOAD, SPOTS)
    assert "spots 75 apart" in yard.replies["07:45"]
    assert "Pot in about" in yard.replies["07:45"]


def test_the_farther_the_spots_are_apart_the_later_the_pot_goes_in() -> None:
    near = found(play(SCHOOL_DAY, "07:45 Tomos: dome ir back 236 floor 225"))
    far = found(play(SCHOOL_DAY, "07:45 Tomos: dome ir back 275 floor 185"))
    assert near.apart_k is not None
    assert near.apart_k < AGREE_K
    assert float(np.median(far.ready_s)) > float(np.median(near.ready_s)) + 600.0


def test_no_pot_goes_in_within_half_an_hour_of_the_rake() -> None:
    """Half an hour with the door on at the least (an old manual of village bakeries)."""
    yard = play(SCHOOL_DAY, "07:32 Tomos: dome ir back 226 floor 225")
    raked = yard.view.record.ovens["dome"].raked_at
    assert raked is not None
    assert float(found(yard).ready_s.min()) >= (raked + LEAST).timestamp()


def test_spots_that_agree_an_hour_after_the_rake_are_settled() -> None:
    """Skin and depth agree after 30 to 60 min in diaries of brick ovens (common practice, no source)."""
    settled = ("08:25 Tomos: dome ir back 212 floor 205", "08:26 Mara: has it settled?")
    with_lamb, without = play(SCHOOL_DAY, LOAD, *settled).replies["08:26"], play(SCHOOL_DAY, *settled).replies["08:26"]
    assert "settled by my figures" in with_lamb
    assert "settled by my figures" in without
    assert "Pot in now" in with_lamb
    # Nobody is told to put in what nobody has spoken of.
    assert "Pot in" not in without
    assert "Ready for a pot now" in without


def test_when_the_pot_can_go_in_is_told_with_the_meal_and_what_waiting_costs() -> None:
    yard = play(SCHOOL_DAY, LOAD, SPOTS, "07:46 Mara: when can the pot go in?", "07:47 Mara: pot in now or wait?",
                "07:48 Mara: what if we wait till 9.30 to put the lamb in")
    assert "On the table at 13:30" in yard.replies["07:46"]
    cost = re.search(r"Waiting to \d+ costs (\d+) min", yard.replies["07:46"])
    assert cost is not None
    assert int(cost[1]) > 0
    assert yard.replies["07:47"].splitlines()[1].startswith("Pot in about")
    later = re.search(r"Shoulder in 09:30: tender about .*, (\d+) min later", yard.replies["07:48"])
    assert later is not None
    assert 15 <= int(later[1]) <= 120


def test_an_oven_with_a_pot_in_is_not_waited_for() -> None:
    yard = play(SCHOOL_DAY, LOAD, "08:30 Idris: lamb in", "08:40 Tomos: dome ir back 265 floor 190")
    assert "apart" not in yard.replies["08:40"]


def test_a_pot_that_names_no_oven_goes_into_the_one_raked_for_it() -> None:
    """The other is lit and described; the talk between was of the dish alone."""
    yard = play(SCHOOL_DAY, "07:50 Tomos: barrel is 60 across, 3 cm brick. that one we feed",
                "07:51 Tomos: lit the barrel",
                "08:28 Idris: 3 kg lamb shoulder, litre of hot stock, iron pot", "08:30 Idris: lamb in")
    assert yard.view.record.dishes["lamb"].oven == "dome"


def test_what_a_door_costs_is_told_for_the_light_oven_beside() -> None:
    yard = play(SCHOOL_DAY, LOAD, "08:30 Idris: lamb in the dome", "08:31 Tomos: barrel is 60 across, 3 cm brick",
                "08:35 Tomos: lit the barrel", "09:10 Tomos: barrel air 190",
                "09:12 Mara: what if I leave the dome door off ten mins")
    said = yard.replies["09:12"].splitlines()
    assert said[0].startswith("Dome")
    assert said[-1].startswith("The same in the barrel")


def test_an_oven_raked_too_soon_is_too_cool_for_a_pot() -> None:
    """Under 100 or so nothing comes to a simmer (common practice, no source)."""
    yard = play("09:00 Idris: lit the dome", "09:12 Idris: raked out, door on", "09:20 Mara: has it settled?")
    assert "too cool for a pot" in yard.replies["09:20"]
