"""When people look into a pot: left alone at first, then in the rhythm of the class (common practice, no source).

Figures of the Weibull distribution by its closed forms (any text on reliability); means of many draws, so within their
sampling error.
"""
from __future__ import annotations

from math import gamma

import numpy as np
import pytest

from skills.kitchen import habits
from skills.kitchen.acts import timeline
from tests.kitchen.days import at, told

DRAWN = np.random.default_rng(5).exponential(size=(6, 40000))


def day(*looks):
    """A pot in at minute 200 and forks tried at these minutes."""
    return [
        told(0, "dome", **{"is": "oven", "across_cm": 90, "fired": "retained"}),
        told(200, "dome", "lamb", **{"is": "pot", "act": "in"}),
        *(told(minute, "dome", "lamb", **{"is": "check", "tender": "tough"}) for minute in looks),
    ]


def gaps_min(now, *looks):
    now_s = int(at(now).timestamp())
    story = timeline(day(*looks), now_s).ovens["dome"]
    return habits._look_gaps_s(DRAWN, story, now_s) / 60.0


def test_the_first_look_comes_later_than_the_ones_after_it():
    gaps = gaps_min(200)
    assert gaps[0].mean() == pytest.approx(habits.FIRST_LOOK_S / 60.0, rel=0.02)
    assert gaps[1:].mean() == pytest.approx(habits.LOOK_EVERY_S / 60.0, rel=0.02)


@pytest.mark.parametrize("shape", [habits.FIRST_SHAPE, habits.LOOK_SHAPE])
def test_the_mean_of_a_gap_over_its_scale_is_that_of_the_distribution(shape):
    assert pytest.approx(gamma(1.0 + 1.0 / shape), abs=0.005) == habits.MEAN_GAP


def test_who_has_just_looked_looks_again_later_than_who_has_waited():
    just, waited = gaps_min(320, 320)[0], gaps_min(355, 320)[0]
    assert np.mean(just < 20.0) < 0.08 < np.mean(waited < 20.0)


def test_what_is_left_of_a_gap_is_what_lasted_so_long_less_the_wait():
    """The part of all gaps that are longer than 35 min, less 35 min, has the quantiles of what is left after 35 min."""
    whole, left = gaps_min(320, 320)[0], gaps_min(355, 320)[0]
    longer = whole[whole > 35.0] - 35.0
    for share in (0.1, 0.5, 0.9):
        assert np.quantile(left, share) == pytest.approx(np.quantile(longer, share), rel=0.04)


def test_a_class_that_looks_often_is_taken_to_go_on_so():
    usual, often = gaps_min(400, 400)[1].mean(), gaps_min(400, 300, 325, 350, 375, 400)[1].mean()
    assert 25.0 < often < 0.85 * usual


def test_a_pot_is_taken_out_after_the_first_look_that_finds_it_tender():
    """Looks at 10, 50 and 90 min of pots that are tender at 20, at 50 and never."""
    looks_s = np.repeat(np.array([[600.0], [3000.0], [5400.0]]), 3, axis=1)
    tender_s = np.array([1200.0, 3000.0, np.inf])
    assert habits._first_from(looks_s, tender_s).tolist() == [3000.0, 3000.0, np.inf]


def test_a_second_pot_does_not_begin_the_first_quiet_hours_anew():
    story = timeline([*day(320), told(340, "dome", "beans", **{"is": "pot", "act": "in"})], int(at(345).timestamp()))
    left_min = habits._look_gaps_s(DRAWN, story.ovens["dome"], int(at(345).timestamp()))[0].mean() / 60.0
    assert left_min < habits.LOOK_EVERY_S / 60.0


def test_several_words_about_one_look_are_one_look():
    story = timeline(day(320, 323, 326), int(at(330).timestamp())).ovens["dome"]
    assert len(story.looked_s) == 1
