"""Twin experiment: the truth is a draw from the prior, run by the same model and read with noise; the band holds it.

Of N independent classes a 90 % band holds Binomial(N, 0.9): below its 0.05 % point the band is too narrow. Whether it
is too wide is seen by how far the readings narrow it.
"""
from __future__ import annotations

import numpy as np
import pytest
from scipy.stats import binom

from skills.kitchen import Kitchen, Setting
from skills.kitchen.ensemble import advance, boundaries
from skills.kitchen.instruments import AIR_SD_K, PROBE_SD_K
from skills.oven import model
from skills.physics.constants import ZERO_CELSIUS_K
from tests.kitchen.days import at, told

CLASSES = 60
READ_AT = (170, 190, 215)
AHEAD_S = (3600, 7200)


def fired():
    size = {"across_cm": 90, "floor_cm": 6, "dome_cm": 10, "insulation_cm": 8, "probe_cm": 4, "fired": "retained"}
    return [
        told(0, "dome", **{"is": "oven", **size}),
        told(2, "dome", **{"is": "fire", "act": "lit", "wood_kg": 1.2}),
        *(told(8 + 20 * each, "dome", **{"is": "fire", "act": "fed", "wood_kg": 1.2}) for each in range(6)),
        told(140, "dome", **{"is": "fire", "act": "raked"}),
        told(150, "dome", **{"is": "door", "state": "on"}),
    ]


def shown(ensemble):
    """Thermometer and probe of each member (2, members) [degC]."""
    state, numbers = ensemble.state, ensemble.numbers
    return np.stack([
        model.thermometer_k(state, numbers), model.probe_k(state, numbers, ensemble.built)]) - ZERO_CELSIUS_K


def later(ensemble):
    """What they show at each of AHEAD_S, by the model alone (2, leads, members)."""
    ends = [ensemble.at_s + span for span in AHEAD_S]
    return np.stack([shown(advance(ensemble, boundaries(ensemble.at_s, end))) for end in ends], axis=1)


@pytest.fixture(scope="module")
def held():
    """(classes, 2, leads): whether the band held the truth; and the same shape: its width after over before."""
    hits, widths = [], []
    for seed in range(CLASSES):
        rng = np.random.default_rng(seed)
        twin = Kitchen(Setting(seed=5000 + seed, members=60))
        facts = fired()
        for minute in READ_AT:
            air, floor = shown(twin.believe(fired(), at(minute)).standing)[:, 0]
            air, floor = air + AIR_SD_K * rng.standard_normal(), floor + PROBE_SD_K * rng.standard_normal()
            facts += [
                told(minute, "dome", index=0, **{"is": "reading", "place": "air", "celsius": float(air)}),
                told(minute, "dome", index=1,
                     **{"is": "reading", "place": "floor", "celsius": float(floor), "tool": "probe"}),
            ]
        now = at(READ_AT[-1])
        truth = later(twin.believe(fired(), now).standing)[:, :, 0]
        kitchen = Kitchen(Setting(seed=seed, members=100))
        blind = np.ptp(np.quantile(later(kitchen.believe(fired(), now).standing), (0.05, 0.95), axis=2), axis=0)
        low, high = np.quantile(later(kitchen.believe(facts, now).standing), (0.05, 0.95), axis=2)
        hits.append((low <= truth) & (truth <= high))
        widths.append((high - low) / blind)
    return np.array(hits), np.array(widths)


def test_the_band_is_not_too_narrow_for_the_truth(held):
    hits, _ = held
    assert (hits.sum(axis=0) >= binom.ppf(0.0005, CLASSES, 0.9)).all(), hits.mean(axis=0)


def test_three_readings_leave_less_than_half_of_the_doubt(held):
    """A band that is wide enough by never narrowing would pass the test above."""
    _, widths = held
    assert (widths.mean(axis=0) < 0.5).all(), widths.mean(axis=0)
