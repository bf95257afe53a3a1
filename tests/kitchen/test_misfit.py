"""Forecasts are wider for an oven whose readings surprise, narrower for one that does as foreseen, within bounds.

An innovation over its expected deviation is a standard normal where the models are right (Mehra 1970, IEEE Transactions
on Automatic Control 15): over many of them the scale must be 1, and twice as large ones must bring it towards 2.
"""
from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from skills.kitchen import Kitchen, Setting, misfit
from skills.kitchen.forecast import EVERY_S, walked
from tests.kitchen.days import at, dome_day, told

SMALL = Setting(seed=3, members=60)


@pytest.fixture(scope="module")
def shut():
    """The dome with its door on, nothing read yet as far as the tally goes."""
    ensemble = Kitchen(SMALL).believe(dome_day(), at(240)).standing
    return replace(ensemble, misfit=np.zeros((1, 2, 2)))


def after(ensemble, place, scores):
    for score in scores:
        ensemble = misfit.seen(ensemble, 0, place, float(score))
    return misfit.scales(ensemble, 0)


def test_innovations_of_the_expected_size_leave_the_doubt_as_it_is(shut):
    air, floor = after(shut, "air", np.random.default_rng(1).standard_normal(4000))
    assert air == pytest.approx(1.0, abs=0.03)
    assert floor == 1.0


@pytest.mark.parametrize(("size", "wanted"), [(0.7, 0.7), (1.3, 1.3)])
def test_the_doubt_grows_and_shrinks_with_the_innovations(shut, size, wanted):
    scores = size * np.random.default_rng(2).standard_normal(4000)
    assert after(shut, "floor", scores)[1] == pytest.approx(wanted, rel=0.04)


def test_few_innovations_move_the_doubt_less_than_many(shut):
    few, many = (after(shut, "air", [0.2] * count)[0] for count in (2, 40))
    assert many < few < 1.0


@pytest.mark.parametrize(("score", "bound"), [(0.0, misfit.LEAST_SCALE), (50.0, misfit.MOST_SCALE)])
def test_the_doubt_stays_within_its_bounds(shut, score, bound):
    assert after(shut, "air", [score] * 500)[0] == bound


def test_what_short_spans_tell_fades_with_the_hours_ahead(shut):
    odd = shut
    for _ in range(20):
        odd = misfit.seen(odd, 0, "air", 2.5)
    near, later, far = misfit.scales_ahead(odd, 0, np.array([0.0, 1.0, 20.0]) * misfit.FADES_S)[0]
    assert near == misfit.scales(odd, 0)[0] > later > far
    assert far == pytest.approx(1.0, abs=1e-4)


def test_one_slip_does_not_make_an_oven_a_strange_one(shut):
    assert after(shut, "air", [0.5] * 8 + [40.0])[0] < 1.2


def test_what_is_read_through_an_open_mouth_and_by_gun_or_hand_does_not_count(shut):
    for ensemble, place in ((replace(shut, door=("off",)), "air"), (shut, "dome")):
        assert misfit.seen(ensemble, 0, place, 3.0) is ensemble


def test_a_floor_that_surprised_widens_its_own_forecast_and_not_the_airs_and_is_remembered():
    calm = dome_day()
    odd = [*calm, *(told(minute, "dome", **{"is": "reading", "place": "floor", "celsius": heat, "tool": "probe"})
                    for minute, heat in ((401, 172), (431, 140), (461, 168)))]
    now = at(470)
    kitchen = Kitchen(SMALL)
    (calm_air, calm_floor), (odd_air, odd_floor) = (
        misfit.scales(kitchen.believe(facts, now).standing, 0) for facts in (calm, odd))
    assert odd_floor > calm_floor
    assert odd_air == pytest.approx(calm_air, rel=0.02)
    profile = kitchen.believe(odd, now).profiles()[0]["dome"]
    again = Kitchen(SMALL.model_copy(update={"ovens": {"dome": profile}})).believe(calm[:1], at(1)).standing
    assert misfit.scales(again, 0)[1] > misfit.scales(again, 0)[0]


@pytest.mark.parametrize("relaxes_s", [np.inf, 7200.0])
def test_what_the_model_leaves_out_grows_as_a_walk_that_is_pulled_back(relaxes_s):
    """Variance t of a free walk, T/2 (1 - exp(-2 t/T)) of one pulled back. Source: Uhlenbeck and Ornstein 1930,
    Physical Review 36, 823 (in continuous time: steps of ten minutes differ from it by less than a tenth)."""
    kicks = np.random.default_rng(5).standard_normal((2, 49, 4000))
    walk = walked(kicks, float(np.exp(-EVERY_S / relaxes_s)))
    hours = np.arange(49) * EVERY_S / 3600.0
    relaxes_h = relaxes_s / 3600.0
    wanted = hours if np.isinf(relaxes_s) else 0.5 * relaxes_h * (1.0 - np.exp(-2.0 * hours / relaxes_h))
    assert (walk[:, 0] == 0.0).all()
    assert walk.var(axis=2)[:, 1:] == pytest.approx(np.tile(wanted[1:], (2, 1)), rel=0.15)
