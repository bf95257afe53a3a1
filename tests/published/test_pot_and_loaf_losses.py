"""A hot pot and a loaf that lose heat to a kitchen: closed forms and a university's worked example, by the dish model.

Rows of tests/data/published/oven.json; each names its source.
"""
from __future__ import annotations

import json
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from skills.dish import model
from skills.dish.model import DishParameters, DishState
from skills.kitchen.pots import ROOM_K, on_bench
from skills.physics.radiation import grey_exchange_w, linear_w_m2k
from tests.dish.helpers import SHOULDER, ZERO_K, medians, steady

PATH = Path(__file__).parents[1] / "data" / "published" / "oven.json"
ROWS = {row["id"]: row for row in json.loads(PATH.read_text(encoding="utf-8"))}


def vessel(area_m2: float, film_w_m2k: float, emissivity: float, capacity_j_k: float = 1e9) -> DishParameters:
    """A lidded pot of the dish model that keeps nothing inside and stands on nothing."""
    one = np.ones(1)
    return replace(medians(), pot_area_m2=area_m2 * one, film_w_m2k=film_w_m2k * one, emissivity=emissivity * one,
                   pot_capacity_j_k=capacity_j_k * one, base_area_m2=1e-9 * one, liquid_film_w_m2k=0.0 * one)


def at(parameters: DishParameters, celsius: float) -> DishState:
    return model.initial_state(parameters, ZERO_K + 20.0, ZERO_K + 20.0, ZERO_K + celsius)


def cooled_c(parameters: DishParameters, row: dict, dt_s: float) -> float:
    state = at(parameters, row["inputs"]["T0_C"])
    for _ in range(round(row["inputs"]["time_s"] / dt_s)):
        state, _ = model.step(state, parameters, steady(20.0, 1), dt_s)
    return float(state.pot_k[0]) - ZERO_K


def test_an_empty_pot_cools_by_its_film_as_the_exponential_says() -> None:
    """Steps of 4 and 2 s, extrapolated to none: the error is of first order."""
    row = ROWS["lump-pot"]
    inputs = row["inputs"]
    tau_s, later_c = row["expect"]
    pot = vessel(inputs["area_m2"], inputs["h_W_m2K"], 0.0, inputs["mass_kg"] * inputs["cp_J_kgK"])
    assert 2.0 * cooled_c(pot, row, 2.0) - cooled_c(pot, row, 4.0) == pytest.approx(later_c, rel=row["tolerance_rel"])
    _, heat = model.step(at(pot, inputs["T0_C"]), pot, steady(20.0, 1), 1e-3)
    store_j = inputs["mass_kg"] * inputs["cp_J_kgK"] * (inputs["T0_C"] - inputs["T_air_C"])
    assert -store_j / float(heat.air_w[0]) == pytest.approx(tau_s, rel=row["tolerance_rel"])


def test_an_empty_pot_cools_by_radiation_as_the_integral_says() -> None:
    row = ROWS["lump-radiation"]
    inputs = row["inputs"]
    pot = vessel(inputs["area_m2"], 0.0, inputs["emissivity"], inputs["mass_kg"] * inputs["cp_J_kgK"])
    got = 2.0 * cooled_c(pot, row, 2.0) - cooled_c(pot, row, 4.0)
    assert got == pytest.approx(row["expect"], rel=row["tolerance_rel"])


def test_a_hot_loaf_loses_what_the_worked_example_says() -> None:
    """The example sets no back-radiation against its emission; what a model should use is the net row."""
    row, net = ROWS["we-bread-loaf"], ROWS["rad-bread-net"]
    inputs = row["inputs"]
    surface_k = 273.0 + inputs["T_surface_C"]          # as the example rounds it
    loaf = vessel(inputs["area_m2"], inputs["h_W_m2K"], inputs["emissivity"])
    _, heat = model.step(at(loaf, inputs["T_surface_C"]), loaf, steady(inputs["T_air_C"], 1), 1e-3)
    assert -float(heat.air_w[0]) == pytest.approx(row["expect"][0], rel=row["tolerance_rel"])
    assert -float(heat.radiant_w[0]) == pytest.approx(net["expect"], rel=net["tolerance_rel"])
    emitted = grey_exchange_w(inputs["area_m2"], inputs["emissivity"], surface_k, 0.0)
    assert emitted == pytest.approx(row["expect"][1], rel=row["tolerance_rel"])
    assert emitted - float(heat.air_w[0]) == pytest.approx(row["expect"][2], rel=row["tolerance_rel"])
    assert grey_exchange_w(inputs["area_m2"], inputs["emissivity"], net["inputs"]["T_surface_K"],
                           net["inputs"]["T_surroundings_K"]) == pytest.approx(net["expect"], rel=net["tolerance_rel"])


def test_a_pot_on_the_bench_loses_near_what_film_and_radiation_say() -> None:
    """Pot at 95 in a kitchen at 20: side film of the row, radiation, and a wooden board of 3 cm (0.15 W/m/K, table of
    EN 12524) under it. The bench of the model is plain: half as much again or a third less would show in a rest."""
    row = ROWS["nc-h-values"]
    pot = medians(SHOULDER)
    hot_k = ZERO_K + row["inputs"]["cases"][1]["Ts_C"]
    state = model.initial_state(pot, hot_k, hot_k, hot_k)
    _, heat = model.step(state, pot, on_bench(state), 1e-3)
    ours = -float((heat.air_w + heat.radiant_w + heat.floor_w)[0])
    side = row["expect"][1] + pot.emissivity * linear_w_m2k(hot_k, ROOM_K)
    theirs = float((side * pot.pot_area_m2 + 0.15 / 0.03 * pot.base_area_m2)[0]) * (hot_k - ROOM_K)
    assert theirs / 1.5 < ours < theirs * 1.5
