"""The figure that stands for an oven's losses, against the lumped balance of a textbook; and drift from class to class.

Source of the balance: a body of heat capacity C that loses UA(T - T0) falls at the rate UA / C (lumped capacitance, any
heat-transfer handbook; from memory).
"""
from __future__ import annotations

from datetime import date

import numpy as np
import pytest

from skills.kitchen.character import drift, loss_1_h
from skills.kitchen.setting import Seen
from skills.oven import model
from skills.oven.drift import say_drift
from skills.oven.parameters import ROW, OvenNumbers, OvenWords, prior


def members(count: int = 120, **words) -> np.ndarray:
    mean, sd = prior(OvenWords(**words))
    return mean[:, None] + sd[:, None] * np.random.default_rng(4).standard_normal((len(mean), count))


def test_the_loss_is_near_the_lumped_balance_of_walls_door_and_leaks():
    theta = members(across_m=0.9, floor_m=0.06, insulation_m=0.1)
    numbers = OvenNumbers(theta)
    built = model.build(numbers, None)
    dome_m, floor_m = numbers["dome_m"], numbers["floor_m"]
    up = 1 / (dome_m / numbers["dome_k_w_mk"] / 2 + numbers["insulation_m"] / numbers["insulation_k_w_mk"]
              + 1 / numbers["outer_w_m2k"])
    down = 1 / (floor_m / numbers["floor_k_w_mk"] / 2 + numbers["underlay_m"] / numbers["underlay_k_w_mk"] + 1 / 7)
    loss_w_k = (built.dome_m2 * up + built.floor_m2 * down
                + built.mouth_m2 * (numbers["leak_w_k"] / 0.11 + numbers["door_w_m2k"]))
    store_j_k = 1.15 * (built.dome_m2 * dome_m * numbers["dome_rc_j_m3k"]
                        + built.floor_m2 * floor_m * numbers["floor_rc_j_m3k"])
    ratio = loss_1_h(theta) / (3600.0 * loss_w_k / store_j_k)
    assert 0.85 < np.median(ratio) < 1.15
    assert ((ratio > 0.5) & (ratio < 1.6)).mean() > 0.9


@pytest.mark.parametrize(("unknown", "more"), [("leak_w_k", 0.5), ("insulation_k_w_mk", 0.5), ("insulation_m", -0.5)])
def test_a_worse_seal_or_worse_insulation_loses_faster(unknown, more):
    theta = members(40)
    worse = theta.copy()
    worse[ROW[unknown]] += more
    assert (loss_1_h(worse) > loss_1_h(theta)).all()


def history(*falls: float, sd: float = 0.06) -> list[Seen]:
    return [Seen(day=f"2026-0{n + 3}-10", log_loss=float(np.log(each)), sd=sd) for n, each in enumerate(falls)]


def test_drift_needs_a_change_that_is_large_and_sure():
    assert drift(history(0.05)) is None
    assert drift(history(0.05, 0.052)) is None
    assert drift(history(0.05, 0.068, sd=0.5)) is None
    found = drift(history(0.05, 0.051, 0.068))
    assert found is not None
    assert found.since == "2026-03-10"
    assert found.ratio == pytest.approx(0.068 / 0.05)


def test_drift_is_told_in_plain_words_both_ways():
    faster = drift(history(0.05, 0.067))
    assert say_drift("the barrel", faster, date(2026, 4, 10)) == (
        "The barrel loses heat about a third faster than on 10 March: look at the door seal or damp insulation.")
    slower = drift(history(0.067, 0.05))
    assert "keeps its heat better than on 10 March 2026, when" in say_drift("the dome", slower, date(2027, 4, 10))
