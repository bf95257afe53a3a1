"""What cannot be as it was told: one line or one question, nothing lost, nothing broken."""
from __future__ import annotations

import pytest

from skills import vocabulary as v
from skills.dish.pot_in import put_in
from skills.wording import moment
from tests.dish.room import SCHOOL_DAY, Played, play

LAMB = "08:34 Tomos: dome probe 217 air 186\n08:38 Tomos: 3 kg lamb shoulder, litre of hot stock, iron pot, lid on\n"
LAMB_IN = LAMB + "08:45 Tomos: lamb in the dome, door on\n"


def told(played: Played, clock: str) -> list[str]:
    return played.replies[clock].splitlines()


def facts(played: Played, kind: str) -> list[v.Fact]:
    return [dated.fact for dated in played.view.record.facts if dated.fact.is_ == kind]


@pytest.mark.parametrize(("said", "wrong"), [
    ("300 kg lamb shoulder, 1 l stock", "300 kg"), ("0 kg lamb shoulder", "0 kg"),
    ("3 kg lamb shoulder, 90 l stock", "90 l"),
])
def test_a_weight_or_volume_that_cannot_be_is_noted_and_not_used(said: str, wrong: str) -> None:
    played = play(SCHOOL_DAY, f"08:38 Tomos: {said}")
    reply = told(played, "08:38")
    assert len(reply) == 1
    assert wrong in reply[0]
    assert "noted, not used" in reply[0]
    assert len(facts(played, "load")) == 1
    dish = next(iter(played.view.record.dishes.values()))
    assert dish.meat_kg in (None, 3.0)
    assert dish.liquid_l in (None, 1.0)


def test_the_forecast_stands_after_a_weight_that_cannot_be() -> None:
    right = play(SCHOOL_DAY, LAMB_IN, "08:50 Bea: coffee's on").view.forecast()
    wrong = play(SCHOOL_DAY, LAMB_IN, "08:47 Bea: 300 kg lamb shoulder\n08:50 Bea: coffee's on").view.forecast()
    assert right is not None
    assert wrong is not None
    assert (right.dishes["lamb"].tender_s == wrong.dishes["lamb"].tender_s).all()


def test_a_pot_put_in_twice_is_in_once() -> None:
    played = play(SCHOOL_DAY, LAMB_IN, "09:05 Bea: lamb in the dome")
    assert told(played, "09:05") == ["Lamb: in the dome since 08:45 already. Nothing changed."]
    assert len(facts(played, "pot")) >= 2
    assert played.view.record.dishes["lamb"].in_at.strftime("%H:%M") == "08:45"   # type: ignore[union-attr]


def test_a_pot_taken_out_that_is_not_in_is_said_so() -> None:
    played = play(SCHOOL_DAY, LAMB, "08:40 Tomos: lamb out")
    reply = told(played, "08:40")
    assert len(reply) == 1
    assert "not in an oven by my log" in reply[0]


def test_two_who_tell_of_the_same_taking_out_hear_nothing() -> None:
    played = play(SCHOOL_DAY, LAMB_IN, "12:40 Idris: lamb's tender\n13:00 Idris: lamb out\n13:03 Bea: lamb out")
    assert told(played, "13:03") == []
    assert played.view.record.dishes["lamb"].out_at.strftime("%H:%M") == "13:00"  # type: ignore[union-attr]


@pytest.mark.parametrize("celsius", [101.5, 140])
def test_a_core_above_the_boil_is_doubted_and_moves_nothing(celsius: float) -> None:
    plain = play(SCHOOL_DAY, LAMB_IN, "10:02 Bea: coffee's on").view
    played = play(SCHOOL_DAY, LAMB_IN, f"10:00 Idris: lamb core {celsius:g}\n10:02 Bea: coffee's on")
    assert "not used" in played.replies["10:00"]
    assert len(told(played, "10:00")) == 1
    assert played.view.belief is not None
    assert plain.belief is not None
    core = played.view.belief.dishes["lamb"].core_c.mean()
    assert abs(core - plain.belief.dishes["lamb"].core_c.mean()) < 2.0    # the lid was off for the look, no more


def test_a_surprising_core_read_twice_is_believed() -> None:
    first, second = "11:25 Idris: lamb core 8", "11:30 Bea: lamb core 9"
    once = play(SCHOOL_DAY, LAMB_IN, first, "11:30 Bea: coffee's on")
    twice = play(SCHOOL_DAY, LAMB_IN, first, second)
    assert "not used" in once.replies["11:25"]
    assert "not used" not in twice.replies["11:30"]
    assert once.view.belief is not None
    assert twice.view.belief is not None
    assert twice.view.belief.dishes["lamb"].core_c.mean() < once.view.belief.dishes["lamb"].core_c.mean() - 10.0


def test_a_look_at_a_dish_that_was_served_is_noted_in_one_line() -> None:
    played = play(SCHOOL_DAY, LAMB_IN, "13:00 Idris: lamb out\n13:28 Mara: lamb served\n13:40 Idris: lamb still tough")
    assert told(played, "13:40") == ["Lamb: served at 13:28. Noted; nothing is forecast of it any more."]
    assert len(facts(played, "check")) == 1


@pytest.mark.parametrize("question", ["when will the lamb be done?", "will the lamb make half one?"])
def test_in_an_oven_of_which_nothing_is_known_a_reading_is_asked_for_and_not_the_weight_again(question: str) -> None:
    played = play("", "08:38 Tomos: 3 kg lamb shoulder, litre of hot stock, iron pot, lid on\n"
                      f"08:45 Tomos: lamb in the dome\n08:46 Mara: {question}")
    reply = played.replies["08:46"]
    assert "dome" in reply
    assert "reads" in reply
    assert "weight" not in reply


def test_a_core_above_the_boil_does_not_make_it_cooked_for_food_safety_either() -> None:
    """It was called cooked by it, and the word that it sinks below the hold figure came of raw meat."""
    played = play(SCHOOL_DAY, LAMB_IN, "10:00 Idris: lamb core 104\n10:30 Bea: coffee's on")
    assert not [each for each in played.prompts_of("safety") if "pass below" in each.text]


def test_what_a_lid_off_does_to_the_meal_is_said_and_the_lid_is_a_move() -> None:
    played = play(SCHOOL_DAY, LAMB_IN, "09:00 Mara: when will the lamb be done?",
                  "09:05 Idris: lid off the lamb to reduce",
                  "09:06 Mara: will the lamb make it?")
    assert "Lamb tender" in played.replies["09:05"]
    assert "lid back on the lamb now" in played.replies["09:06"]


def test_one_dish_is_spoken_of_as_one_and_several_as_several() -> None:
    played = play(SCHOOL_DAY, "08:34 Tomos: dome probe 217 air 186\n08:40 Tomos: 1.5 kg beans, 2 l hot water, clay pot",
                  "08:45 Tomos: beans in the dome\n10:40 Tomos: beans tender\n"
                  "10:41 Mara: when will the bean be done?\n10:42 Tomos: core 95 in the bean")
    assert "Beans were called tender at 10:40" in played.replies["10:41"]
    assert list(played.view.record.dishes) == ["beans"]


def test_what_is_weighed_after_a_pot_was_told_out_is_another_dish() -> None:
    played = play(SCHOOL_DAY, "08:34 Tomos: dome probe 217 air 186\n09:00 Mara: lamb out\n"
                  "10:10 Bea: 1.2 kg trout in a tin, in the dome\n10:15 Mara: when will the trout be done?")
    assert "Trout at 63 in the middle" in played.replies["10:15"]
    assert played.view.record.dishes["lamb"].meat_kg is None


def test_a_dish_put_in_at_the_very_end_of_what_is_foreseen_has_no_forecast_and_breaks_none() -> None:
    view = play(SCHOOL_DAY, LAMB_IN, "10:00 Mara: want the roast at 54\n10:05 Bea: hello").view
    forecast = view.forecast()
    assert forecast is not None
    last = moment(float(forecast.at_s[-1]), view.now.tzinfo)
    assert put_in(view.record.dishes["roast"], view.record.ovens["dome"], last, view) is None
    sooner = put_in(view.record.dishes["roast"], view.record.ovens["dome"], view.now, view)
    assert sooner is not None
