"""Every kind of plan kept in ovens and meat drawn afresh: its promised odds hold within what chance allows.

The members of a plan are drawn from one seed and those of the replay from others, as a school's own oven is one draw of
what is believed of it. Bounds: the normal limit of the binomial distribution for the members of plan and replay.
"""

from __future__ import annotations

from datetime import timedelta

import numpy as np
import pytest
from scipy.stats import norm

from skills.planning import course
from skills.planning.course import RAKE_S, SETTLE_S, STEP_S
from skills.planning.firing_plan import banked, kept_warm, plan_dish
from skills.planning.ladder import ladder, replay
from skills.planning.outcome import outcomes
from tests.planning import helpers
from tests.planning.test_ladder import LOADS, SUPPER

MEMBERS, FRESH = 60, 120
ONE = {"lamb": helpers.SHOULDER, "beans": LOADS["beans"], "loaves": LOADS["loaves"], "roast pork": LOADS["roast pork"],
       "rice pudding": LOADS["rice pudding"]}
LADDERS = {
    "two": ("lamb", "loaves"), "with a pudding": ("lamb", "rice pudding"),
    "five": ("roast pork", "loaves", "lamb", "beans", "rice pudding"),
    "five by supper": ("rice pudding", "lamb", "flatbreads", "loaves", "plums to dry")}


def least(odds, planned, fresh):
    """The share that a replay keeps at least, but for once in two thousand replays, if the odds are as promised."""
    return odds + norm.ppf(0.0005) * np.sqrt(odds * (1 - odds) * (1 / planned + 1 / fresh)) - 1 / fresh


def in_time(fresh, made, light, dish, load):
    """In what share of the members the dish is on the table in time when the fire is lit at `light`."""
    cooked = course.food(fresh.ensemble, fresh.setting, dish, load)
    pot_in_s = int(np.ceil((fresh.ensemble.at_s + 6 * 3600 + RAKE_S + SETTLE_S) / STEP_S + 1)) * STEP_S
    after = outcomes(fresh, made.heat, cooked, pot_in_s, False, np.array([made.outcome.aim_c]))[0]
    return float((after.total_s <= made.eat.timestamp() - made.heat.rest_s - light.timestamp()).mean())


@pytest.mark.parametrize("seed", [101, 102])
@pytest.mark.parametrize("damp", [False, True], ids=["cold", "wet"])
@pytest.mark.parametrize("dish", ONE)
def test_one_dish_in_a_cold_or_wet_oven(dish, damp, seed):
    made = helpers.plan(dish=dish, load=ONE[dish], damp=damp, members=MEMBERS)
    fresh = helpers.start(seed=seed, members=FRESH, damp=damp)
    assert made.reached >= made.odds - 1e-9
    assert in_time(fresh, made, made.row("light").sure, dish, ONE[dish]) >= least(made.odds, MEMBERS, FRESH)


@pytest.mark.parametrize("dish", ["lamb", "loaves"])
def test_one_dish_in_an_oven_still_warm_from_the_day(dish):
    """Fired from noon to two, shut at four; lit again the next morning."""
    noon = helpers.NOW.timestamp() - 4 * 3600
    warm = banked(helpers.start(members=MEMBERS), noon, helpers.NOW.timestamp())
    made = plan_dish(warm, helpers.wish(dish=dish, load=ONE[dish]), helpers.NOW, False)
    fresh = banked(helpers.start(seed=103, members=FRESH), noon, helpers.NOW.timestamp())
    light = made.row("light").sure
    fresh = kept_warm(fresh, light.timestamp())
    assert in_time(fresh, made, light, dish, ONE[dish]) >= least(made.odds, MEMBERS, FRESH)


@pytest.mark.parametrize("seed", [104, 105])
def test_one_dish_after_a_fire_the_evening_before(seed):
    made = helpers.plan(evening=True, members=MEMBERS)
    light = made.evening.light_sure
    fresh = banked(helpers.start(seed=seed, members=FRESH), made.evening.lit.timestamp(), light.timestamp())
    assert in_time(fresh, made, light, "lamb", helpers.SHOULDER) >= least(made.odds, MEMBERS, FRESH)


@pytest.mark.parametrize("seed", [106, 107])
@pytest.mark.parametrize("name", LADDERS)
def test_a_ladder(name, seed):
    eat = SUPPER if "supper" in name else helpers.EAT
    made = ladder(helpers.start(members=MEMBERS), [helpers.wish(each, LOADS[each]) for each in LADDERS[name]], eat,
                  helpers.NOW)
    kept = float(replay(helpers.start(seed=seed, members=FRESH), made).mean())
    assert kept >= least(made.reached, MEMBERS, FRESH)
    assert made.evening is None or replay(
        banked(helpers.start(seed=seed, members=FRESH), made.evening_lit.timestamp(), made.evening.light.timestamp()),
        made.evening).mean() >= least(made.evening.reached, MEMBERS, FRESH)


@pytest.mark.parametrize("later", [1, 4])
def test_a_ladder_that_is_too_late_keeps_the_meal_that_it_names(later):
    now = helpers.EAT - timedelta(hours=5 - later)
    made = ladder(helpers.start(members=MEMBERS), [helpers.wish(each, LOADS[each]) for each in ("lamb", "loaves")],
                  helpers.EAT, now)
    assert made.late_by_s > 0.0
    kept = float(replay(helpers.start(seed=108, members=FRESH), made).mean())
    assert kept >= least(made.reached, MEMBERS, FRESH)
