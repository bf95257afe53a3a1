"""Three pots in two ovens: in, looked at, topped up, turned, uncovered, moved, set aside, resumed, held."""
from __future__ import annotations

import numpy as np
import pytest

from tests.dish.room import SCHOOL_DAY, Played, play

TWO_OVENS = SCHOOL_DAY + """
07:35 Tomos: the barrel is 66 across, 4 cm floor, 5 cm dome, 2 of insulation. fire stays in
07:36 Tomos: lit the barrel, a kilo of ash to start
07:50 Tomos: two splits on the barrel
08:05 Tomos: one on the barrel, door on
08:20 Tomos: dome floor 205 air 190
08:21 Tomos: barrel air 185 floor 160
"""
POTS = """
08:30 Idris: 3 kg lamb shoulder, litre of hot stock, iron pot, lid on
08:31 Bea: 1 kg soaked white beans, 3 l hot water, clay pot, lid on
08:32 Mara: 2 kg beef shin, litre of hot stock, iron pot, lid on
08:40 Idris: lamb in the dome, door on
08:42 Idris: shin in the dome, door on
08:45 Bea: beans in the barrel, door on
"""


def middle(played: Played, dish: str) -> float:
    forecast = played.view.forecast()
    assert forecast is not None
    return float(np.quantile(np.asarray(forecast.dishes[dish].tender_s), 0.5))


def liquor_l(played: Played, dish: str) -> float:
    forecast = played.view.forecast()
    assert forecast is not None
    return float(np.median(np.asarray(forecast.dishes[dish].liquid_l)[0]))


@pytest.fixture(scope="module")
def begun() -> Played:
    return play(TWO_OVENS, POTS, "10:30 Bea: coffee's on")


def test_each_pot_is_where_it_was_put_and_has_a_time(begun: Played) -> None:
    dishes = begun.view.record.dishes
    assert {name: dishes[name].oven for name in ("lamb", "shin", "beans")} == {
        "lamb": "dome", "shin": "dome", "beans": "barrel"}
    assert begun.now is not None
    for name in ("lamb", "shin", "beans"):
        assert middle(begun, name) > begun.now.timestamp()


def test_a_second_pot_takes_heat_from_the_first(begun: Played) -> None:
    alone = play(TWO_OVENS, "\n".join(line for line in POTS.splitlines() if "shin" not in line),
                 "10:30 Bea: coffee's on")
    assert middle(begun, "lamb") > middle(alone, "lamb")


def test_a_top_up_is_in_the_pot_and_an_open_lid_loses_more(begun: Played) -> None:
    topped = play(TWO_OVENS, POTS, "10:20 Idris: half a litre of hot stock into the lamb", "10:30 Bea: coffee's on")
    assert liquor_l(topped, "lamb") == pytest.approx(liquor_l(begun, "lamb") + 0.5, abs=0.1)
    bare = play(TWO_OVENS, POTS, "09:40 Idris: lid off the lamb to reduce", "10:30 Bea: coffee's on")
    assert liquor_l(bare, "lamb") < liquor_l(begun, "lamb")


def test_turning_is_logged_and_moves_no_time_by_more_than_a_look(begun: Played) -> None:
    turned = play(TWO_OVENS, POTS, "10:25 Idris: turned the lamb round", "10:30 Bea: coffee's on")
    told = [dated.fact for dated in turned.view.record.facts if getattr(dated.fact, "act", None) == "turned"]
    assert [fact.is_ for fact in told] == ["pot"]
    assert abs(middle(turned, "lamb") - middle(begun, "lamb")) < 20 * 60


def test_a_pot_that_moves_counts_in_the_other_oven_from_then_on(begun: Played) -> None:
    moved = play(TWO_OVENS, POTS, "10:20 Bea: moved the beans to the dome", "10:30 Bea: coffee's on")
    assert moved.view.record.dishes["beans"].oven == "dome"
    forecast = moved.view.forecast()
    assert forecast is not None
    assert "beans" in forecast.dishes
    assert middle(moved, "lamb") > middle(begun, "lamb")


def test_set_aside_part_cooked_it_waits_and_resumed_it_goes_on_from_where_it_was(begun: Played) -> None:
    resumed = play(TWO_OVENS, POTS, "10:00 Idris: lamb out, set it aside part cooked",
                   "10:20 Idris: lamb back in the dome, door on", "10:30 Bea: coffee's on")
    assert resumed.view.record.dishes["lamb"].oven == "dome"
    later = middle(resumed, "lamb") - middle(begun, "lamb")
    assert 0 < later < 2 * 3600, "the time out and what it cooled, but not from the beginning"


def test_held_after_it_is_done_it_stays_tender_and_the_answer_says_since_when() -> None:
    held = play(TWO_OVENS, POTS, "11:30 Bea: beans tender", "11:32 Bea: beans out, into the hot cupboard at 70",
                "12:00 Mara: when will the beans be done?")
    assert held.view.record.dishes["beans"].tender == "tender"
    assert "11:3" in held.replies["12:00"]


BARREL = """
08:34 Tomos: dome probe 217 air 186
08:38 Tomos: 3 kg lamb shoulder, litre of hot stock, iron pot, lid on
08:45 Tomos: lamb in the dome, door on
09:00 Tomos: barrel is 55 across, lit the barrel
09:20 Tomos: 2 on the barrel
09:40 Tomos: 1 on the barrel
09:45 Tomos: barrel air 205
"""


def test_a_pot_moved_into_a_fire_that_was_just_fed_is_reckoned_as_fed_on() -> None:
    """Nobody puts a pot beside a live fire to let it go out: that it is tended need not be said."""
    stayed = play(SCHOOL_DAY, BARREL, "09:50 Bea: coffee's on").view.forecast()
    moved = play(SCHOOL_DAY, BARREL, "09:48 Tomos: lamb over to the barrel\n09:50 Bea: coffee's on").view.forecast()
    assert stayed is not None
    assert moved is not None
    assert np.median(moved.dishes["lamb"].tender_s) < np.median(stayed.dishes["lamb"].tender_s) + 3600.0


def test_a_pot_that_is_said_to_be_in_still_is_not_asked_about() -> None:
    told = play(SCHOOL_DAY, BARREL, "11:00 Tomos: lamb still in, lid on").replies["11:00"]
    assert "?" not in told
    assert "in the dome since 08:45 already" in told


def test_a_meal_put_off_by_hours_is_called_plan_b() -> None:
    late = play(SCHOOL_DAY, "08:34 Tomos: dome probe 160 air 140\n08:38 Tomos: 6 kg brisket, 1 l cold stock, iron pot",
                "10:30 Tomos: brisket in the dome\n10:31 Mara: will the brisket make it?").replies["10:31"]
    assert "plan B" in late
    assert len(late.splitlines()) <= 3


def test_of_a_move_that_names_no_pot_only_the_pots_that_cook_are_asked_about() -> None:
    """The labelling rules on conversations: it asks when a move names no dish, and does not where one alone can be."""
    asked = play(TWO_OVENS, POTS, "10:30 Bea: coffee's on\n11:00 Bea: moved it over to the barrel").replies["11:00"]
    assert asked == "Which went over: the lamb or the shin?"
    alone = play(TWO_OVENS, POTS.replace("08:42 Idris: shin in the dome, door on\n", ""),
                 "11:00 Bea: moved it over to the barrel").replies["11:00"]
    assert "?" not in alone
    assert "Lamb moved to the barrel" in alone
