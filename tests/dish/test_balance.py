"""Nothing is lost: heat, water, and no water hotter than it boils."""
from __future__ import annotations

import json
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from skills.dish import model
from skills.dish.prior import Said, draw_state
from tests.dish.helpers import SHOULDER, ZERO_K, cold, medians, steady

ROWS = {row["id"]: row for row in json.loads((Path(__file__).parents[1] / "data" / "published" / "water_and_pot.json")
                                             .read_text(encoding="utf-8"))}
LOADS = [
    SHOULDER, Said(cut="beans", meat_kg=1.6, liquid_l=2.0, pan="clay", start="hot"), Said(cut="shanks", liquid_l=0.2),
    Said(cut="chicken", meat_kg=2.0, pan="roasting tin"), Said(cut="rice pudding", liquid_l=1.5, start="warm"),
]


@pytest.mark.parametrize("dt_s", [20.0, 300.0, 600.0])
@pytest.mark.parametrize("load", LOADS, ids=lambda load: load.cut)
def test_heat_in_equals_heat_held_and_heat_gone_with_vapour(load: Said, dt_s: float) -> None:
    """First law of thermodynamics, over 12 h of an oven that falls, with looks and times aside, wet and dry."""
    rng = np.random.default_rng(3)
    lanes = 40
    closed = model.draw(rng, lanes, load)
    state = draw_state(rng, closed, load)
    opened = model.with_lid(closed, False)
    start_j = model.energy_j(state, closed)
    taken_j = np.zeros(lanes)
    for number in range(round(12 * 3600 / dt_s)):
        hour = number * dt_s / 3600
        around = steady(20.0 if 5 < hour < 5.5 else 60.0 + 250.0 * np.exp(-hour / 5.0), lanes)
        state, heat = model.step(state, opened if hour % 2 < 0.1 else closed, around, dt_s)
        taken_j += (heat.air_w + heat.radiant_w + heat.floor_w) * dt_s
    error_j = model.energy_j(state, closed) - start_j - taken_j + state.vapour_j
    assert np.abs(error_j / taken_j).max() < 1e-3
    assert np.abs(taken_j / state.heat_in_j - 1.0).max() < 1e-9


@pytest.mark.parametrize("load", LOADS, ids=lambda load: load.cut)
def test_water_is_in_the_pot_in_the_meat_or_gone_as_vapour(load: Said) -> None:
    """Conservation of mass."""
    parameters = model.draw(np.random.default_rng(4), 30, load)
    state = cold(parameters)
    start_kg = state.liquid_kg
    for _ in range(100):
        state, _ = model.step(state, parameters, steady(170.0, 30), 300.0)
        given_kg = (state.given * parameters.shell_share).sum(axis=1) * parameters.meat_kg
        assert np.abs(start_kg + given_kg - state.boiled_kg - state.liquid_kg).max() < 1e-9
        assert (state.liquid_kg >= 0.0).all()


def test_liquor_never_passes_the_boil_of_the_school_s_height() -> None:
    """98.3 degC at 500 m: tests/published/test_water_boiling.py; stock a little over it, 0.1 to 0.5 K (from memory)."""
    parameters = model.draw(np.random.default_rng(6), 50, SHOULDER, 500.0)
    state = cold(parameters)
    hottest = np.zeros(50)
    for _ in range(60):
        state, _ = model.step(state, parameters, steady(250.0, 50), 120.0)
        wet = state.liquid_kg > 0.05         # of the last spoonful the pot is no longer a water bath
        hottest = np.where(wet, np.maximum(hottest, state.liquid_k), hottest)
    assert hottest.max() < ZERO_K + 98.313 + 0.8
    assert np.median(hottest) > ZERO_K + 98.313


def test_a_boiling_pot_loses_its_net_heat_over_the_latent_heat() -> None:
    """300 W net, 0.479 kg/h: row pot-boiloff (heat over latent heat of the steam tables)."""
    row = ROWS["pot-boiloff"]
    parameters = replace(medians(), boiling_k=np.array([ZERO_K + 99.974]))
    state = model.initial_state(parameters, ZERO_K + 99.974, ZERO_K + 99.974, ZERO_K + 105.0)
    state = replace(state, given=np.full_like(state.given, 0.22))
    for _ in range(20):
        state, _ = model.step(state, parameters, steady(170.0, 1), 60.0)
    before = state
    state, _ = model.step(state, parameters, steady(170.0, 1), 60.0)
    net_w = (state.heat_in_j - before.heat_in_j)[0] / 60.0
    kg_h = (state.boiled_kg - before.boiled_kg)[0] * 60.0
    assert net_w > 100.0
    # Leaving vapour also takes the heat of the water that it was; the row counts the latent heat alone. Pot and meat
    # are within 0.1 K of steady here.
    assert kg_h / net_w * row["inputs"]["net_W"] == pytest.approx(row["expect"], rel=5e-3)


def test_heating_up_takes_the_heat_of_meat_stock_and_pot() -> None:
    """Row pot-heatup: m c dT. The headspace holds 0.4 % more."""
    row = ROWS["pot-heatup"]
    inputs, share = row["inputs"], np.array([1.0])
    parameters = replace(medians(), meat_kg=share * inputs["meat_kg"], capacity_j_kgk=share * inputs["cp_meat"],
                         pot_capacity_j_k=share * inputs["pot_kg"] * inputs["cp_pot"],
                         liquid_start_kg=share * inputs["stock_kg"] * inputs["cp_stock"] / 4190.0)
    held = [model.energy_j(model.initial_state(parameters, ZERO_K + c, ZERO_K + c, ZERO_K + c), parameters)[0]
            for c in (inputs["T0_C"], inputs["T1_C"])]
    assert (held[1] - held[0]) / 1e6 == pytest.approx(row["expect"][0], rel=5e-3)


@pytest.mark.parametrize("dt_s", [600.0, 300.0])
def test_long_steps_stay_near_short_ones(dt_s: float) -> None:
    """The implicit step is stable; its error in time is of first order and is stated in the docstring of `step`."""
    ends = []
    for each_s in (15.0, dt_s):
        parameters = model.draw(np.random.default_rng(8), 30, SHOULDER)
        state = cold(parameters)
        for _ in range(round(4 * 3600 / each_s)):
            state, _ = model.step(state, parameters, steady(150.0, 30), each_s)
        ends.append(state)
    assert np.abs(ends[0].liquid_k - ends[1].liquid_k).max() < 1.0
    assert np.abs(model.core_k(ends[0]) - model.core_k(ends[1])).max() < 2.0
    assert np.abs(ends[0].liquid_kg - ends[1].liquid_kg).max() < 0.08


def test_the_step_is_the_same_bit_for_bit_and_lane_by_lane() -> None:
    """Same seed, same bytes; and a lane does not feel its neighbours."""
    parameters = model.draw(np.random.default_rng(9), 20, SHOULDER)
    state = draw_state(np.random.default_rng(10), parameters, SHOULDER)
    whole, again = state, state
    part, some = model.take(state, slice(5, 12)), model.take(parameters, slice(5, 12))
    for _ in range(30):
        whole, _ = model.step(whole, parameters, steady(150.0, 20), 60.0)
        again, _ = model.step(again, parameters, steady(150.0, 20), 60.0)
        part, _ = model.step(part, some, steady(150.0, 7), 60.0)
    assert whole.progress.tobytes() == again.progress.tobytes()
    assert np.abs(whole.liquid_k[5:12] - part.liquid_k).max() < 1e-9
    assert np.abs(whole.meat_k[5:12] - part.meat_k).max() < 1e-9


def test_stacked_dishes_behave_as_each_alone() -> None:
    """A braise, beans and an open roast in one set of arrays."""
    alone = [model.draw(np.random.default_rng(11), 4, load) for load in LOADS[:4]]
    states = [cold(each) for each in alone]
    together, state = model.stack(alone), model.stack(states)
    for _ in range(40):
        state, _ = model.step(state, together, steady(180.0, 16), 120.0)
        states = [model.step(each, parameters, steady(180.0, 4), 120.0)[0]
                  for each, parameters in zip(states, alone, strict=True)]
    expect = model.stack(states)
    assert np.abs(state.meat_k - expect.meat_k).max() < 1e-6
    assert np.abs(state.liquid_kg - expect.liquid_kg).max() < 1e-9
    assert np.abs(model.tender_fraction(state, together) - np.concatenate(
        [model.tender_fraction(each, parameters) for each, parameters in zip(states, alone, strict=True)])).max() < 1e-9


def test_a_pot_out_of_the_oven_cools_while_its_middle_still_climbs() -> None:
    """Carry-over: a joint that is hotter outside than in goes on warming in the middle (common practice, no source)."""
    parameters = medians()
    state = cold(parameters)
    for _ in range(60):
        state, _ = model.step(state, parameters, steady(170.0, 1), 120.0)
    core_k, liquid_k = model.core_k(state)[0], state.liquid_k[0]
    assert core_k < liquid_k - 15.0
    for _ in range(10):
        state, heat = model.step(state, parameters, steady(18.0, 1), 120.0)
    assert model.core_k(state)[0] > core_k + 2.0
    assert state.liquid_k[0] < liquid_k - 3.0
    assert heat.air_w[0] < 0.0
    assert heat.radiant_w[0] < 0.0


def test_topping_up_adds_water_and_keeps_the_balance() -> None:
    """Mixing by heat capacity."""
    parameters = medians()
    state = model.initial_state(parameters, ZERO_K + 90.0, ZERO_K + 90.0, ZERO_K + 90.0)
    fuller = model.top_up(state, 1.0, ZERO_K + 10.0)
    assert model.liquid_litres(fuller)[0] == pytest.approx(model.liquid_litres(state)[0] + 1.0)
    assert fuller.liquid_k[0] - ZERO_K == pytest.approx(50.0, abs=3.0)
    gained_j = model.energy_j(fuller, parameters) - model.energy_j(state, parameters)
    assert gained_j[0] == pytest.approx((fuller.heat_in_j - state.heat_in_j)[0], rel=1e-9)
