"""Several dishes on one firing: order down the heat, room, the meal, and what does not fit."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

import numpy as np
import pytest

from skills.planning.firing_plan import POT_FOOT_M2, banked
from skills.planning.ladder import _ends_s, _instead, _Task, ladder, places
from skills.planning.outcome import late
from skills.planning.say_ladder import say_ladder
from tests.planning import helpers

LOADS = {
    "flatbreads": {"meat_kg": 3.5},
    "roast pork": {"meat_kg": 2.5},
    "loaves": {"meat_kg": 2.4},
    "lamb": helpers.SHOULDER,
    "beans": {"cut": "borlotti", "meat_kg": 2.0, "liquid_l": 3.0, "pan": "clay", "start": "hot"},
    "rice pudding": {"meat_kg": 0.4, "liquid_l": 3.0},
    "plums to dry": {},
}


SUPPER = helpers.EAT + timedelta(hours=4, minutes=30)


def make(*names, now=helpers.NOW, loads=LOADS, eat=helpers.EAT, **oven):
    return ladder(helpers.start(**oven), [helpers.wish(name, loads[name]) for name in names], eat, now)


@pytest.fixture(scope="module")
def day():
    return make("rice pudding", "lamb", "flatbreads", "loaves", "plums to dry", eat=SUPPER)


@pytest.fixture(scope="module")
def lunch():
    return make("roast pork", "loaves", "lamb", "beans", "rice pudding", eat=helpers.EAT - timedelta(hours=1))


def test_the_order_goes_down_the_heat_whatever_the_order_of_asking(day):
    """Common practice, no source: flame, then bread, then pots, then puddings, then drying."""
    assert [rung.wish.dish for rung in day.rungs] == ["flatbreads", "loaves", "lamb", "rice pudding", "plums to dry"]


def test_each_dish_goes_in_at_the_heat_that_it_wants(day):
    for rung in day.rungs:
        heat = rung.wish.heat
        if not heat.fire:
            assert heat.low_c - 15.0 <= rung.heat_c <= heat.high_c + 15.0, rung.wish.dish


def test_flame_dishes_are_done_before_the_rake_and_the_others_go_in_after(day):
    for rung in day.rungs:
        assert rung.out <= day.rake if rung.wish.heat.fire else rung.into > day.rake


def test_all_but_the_drying_is_done_and_rested_by_the_meal(day):
    assert day.reached >= day.odds
    for rung in day.rungs:
        if not rung.wish.heat.dry:
            assert rung.out_sure + timedelta(seconds=rung.wish.heat.rest_s) <= day.eat + timedelta(minutes=3)


def test_no_more_stands_in_the_oven_than_its_floor_holds(day):
    room = int(3.1416 * 0.45**2 / POT_FOOT_M2)
    for rung in day.rungs:
        together = [each for each in day.rungs if each.into <= rung.into < each.out_sure and not each.wish.heat.fire]
        assert sum(places(each.wish) for each in together) <= room + 1


def test_a_dish_that_no_pot_place_is_left_for_is_said_to_be_left_out():
    loads = {"lamb": helpers.SHOULDER, "stew": {"meat_kg": 60.0, "liquid_l": 20.0}}
    made = make("lamb", "stew", loads=loads)
    assert [each.wish.dish for each in made.left] == ["stew"]
    assert "floor holds about" in made.left[0].why
    assert [rung.wish.dish for rung in made.rungs] == ["lamb"]
    assert "Not stew" in say_ladder(made, helpers.NOW).lines[-1]


def test_too_late_for_the_meal_is_said_with_the_meal_that_it_makes():
    made = make("lamb", "loaves", now=helpers.EAT - timedelta(hours=5))
    assert made.late_by_s > 3600
    assert made.reached >= made.odds
    assert "not by 13:30" in say_ladder(made, helpers.EAT - timedelta(hours=5)).lines[0]


def test_the_room_hears_it_in_three_lines(day):
    reply = say_ladder(day, helpers.NOW)
    assert len(reply.lines) <= 3
    assert "loaves" in reply.lines[1]
    assert reply.lines[1].index("loaves") < reply.lines[1].index("lamb")


def test_nobody_is_told_to_put_anything_in_at_night(day, lunch):
    """Common practice, no source: from ten to five nobody is in the yard."""
    evening = make("lamb", "plums to dry", "rice pudding")
    for made in (day, lunch, evening):
        for rung in made.rungs:
            assert 5 <= rung.into.hour < 22, (rung.wish.dish, rung.into)


def test_what_would_have_to_go_in_at_night_is_left_out_and_the_rest_is_planned(lunch):
    """Five dishes from one fire by half past twelve is a night's work: the one in the way of the others is named."""
    assert len(lunch.left) >= 1
    assert len(lunch.rungs) >= 3
    assert lunch.reached >= 0.75
    assert all(each.why for each in lunch.left)
    assert f"Not {lunch.left[0].wish.dish}: " in say_ladder(lunch, helpers.NOW).lines[-1]


def test_lit_at_night_it_offers_a_fire_the_evening_before():
    made = make("lamb", "loaves")
    assert made.light.hour < 4
    assert made.evening_lit.date() == helpers.NOW.date()
    assert made.evening.light > made.light
    assert made.evening.fire_s < made.fire_s
    assert "or fire 2 h tonight at 19:30" in say_ladder(made, helpers.NOW).lines[0]


def test_a_warm_oven_is_let_cool_until_it_is_lit_and_then_needs_less_fire():
    """Common practice, no source: on day two the cold brick is already paid for."""
    start = helpers.start()
    warm = banked(start, helpers.NOW.timestamp(), helpers.NOW.timestamp() + 3 * 3600)
    wishes = [helpers.wish(name, LOADS[name]) for name in ("lamb", "loaves")]
    made = ladder(warm, wishes, helpers.EAT, helpers.NOW + timedelta(hours=3))
    assert made.fire_s < ladder(start, wishes, helpers.EAT, helpers.NOW).fire_s


@pytest.mark.parametrize(("slow_h", "meal", "without"), [(3.0, 3.5, ""), (np.inf, None, "beans"), (1.0, None, "")])
def test_odds_that_fall_short_come_with_the_nearest_plan_that_keeps_those_asked(slow_h, meal, without):
    """Ten of sixty pots of beans take longer: by hand, five in six by a meal 2 h after the rake, and all of
    them, with 10 min of rest, 3 h 30 after it; no waiting helps where they are never done, and none is needed else."""
    start, rest_h = helpers.start(members=60), 1 / 6
    wishes = [helpers.wish(name, LOADS[name]) for name in ("lamb", "beans")]
    task = _Task(start, wishes, (), np.zeros(60), None, (), 5, helpers.EAT, helpers.NOW, 0.9)
    spans = [np.full(60, 3600.0), np.where(np.arange(60) < 10, (slow_h + 0.5 - rest_h) * 3600.0, 3600.0)]
    loads = [(wish, 0.0, 0) for wish in wishes]
    total = _ends_s(loads, spans, 60)
    kept, lit_s = float((total <= 7200.0).mean()), helpers.EAT.timestamp() - 7200.0
    found = _instead(task, loads, spans, kept, 7200.0, lit_s + late(total, 0.9))
    assert kept == (1.0 if slow_h == 1.0 else pytest.approx(50 / 60))
    assert found.get("sure_without", "") == without
    assert (found.get("sure_meal") is None) == (meal is None)
    if meal is not None:
        assert found["sure_meal"] == helpers.EAT + timedelta(hours=meal - 2.0)


def test_short_odds_are_said_plainly(day):
    short = replace(day, reached=0.8, sure_meal=day.meal + timedelta(minutes=40))
    first = say_ladder(short, helpers.NOW).lines[0]
    assert "(4 in 5; 9 in 10 by " in first
    assert "(4 in 5; 9 in 10 without beans)" in say_ladder(
        replace(short, sure_meal=None, sure_without="beans"), helpers.NOW).lines[0]
    assert "(4 in 5; 9 in 10 is out of reach with all of these)" in say_ladder(
        replace(short, sure_meal=None), helpers.NOW).lines[0]


def test_odds_are_not_rounded_up_over_those_that_were_asked(day):
    first = say_ladder(replace(day, reached=0.87, sure_meal=day.meal + timedelta(minutes=20)), helpers.NOW).lines[0]
    assert "(just under 9 in 10; 9 in 10 by " in first
    assert "just under" not in say_ladder(replace(day, reached=0.9), helpers.NOW).lines[0]


def test_a_roast_does_not_stand_long_and_if_it_must_that_is_said():
    """A roast rests well for an hour, not for two (common practice, no source)."""
    made = make("roast pork", "loaves")
    roast = next(rung for rung in made.rungs if rung.wish.dish == "roast pork")
    assert made.meal - roast.out - timedelta(seconds=roast.wish.heat.rest_s) <= timedelta(minutes=75)
    assert "Roast pork done" not in say_ladder(made, helpers.NOW).lines[-1]
    early = replace(made, rungs=tuple(replace(rung, out=rung.out - timedelta(hours=1)) for rung in made.rungs))
    assert "Roast pork done about" in say_ladder(early, helpers.NOW).lines[-1]
    assert "Loaves done" not in say_ladder(early, helpers.NOW).lines[-1]
