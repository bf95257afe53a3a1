"""What must hold for any dish and any oven."""
from __future__ import annotations

from dataclasses import replace

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

from skills.dish import model
from skills.dish.prior import Said, draw_state
from tests.dish.helpers import steady

LOADS = st.builds(
    Said, name=st.just("dish"),
    cut=st.sampled_from(["lamb shoulder", "ox cheek", "shanks", "brisket", "goat leg", "white beans", "stew", "carrots",
                         None]),
    meat_kg=st.floats(0.4, 6.0), liquid_l=st.floats(0.3, 3.0),
    pan=st.sampled_from(["iron", "clay", "enamel", "steel", None]),
    start=st.sampled_from(["cold", "warm", "hot", None]))
FEW = settings(max_examples=25, deadline=None, derandomize=True)


def pair(load: Said, seed: int) -> tuple[model.DishParameters, model.DishState]:
    """One lane of the prior, twice."""
    rng = np.random.default_rng(seed)
    one = model.draw(rng, 1, load)
    state = draw_state(rng, one, load)
    return model.stack([one, one]), model.stack([state, state])


@FEW
@given(load=LOADS, seed=st.integers(0, 10_000), celsius=st.floats(90.0, 180.0), hotter=st.floats(2.0, 40.0))
def test_a_hotter_oven_is_never_slower(load: Said, seed: int, celsius: float, hotter: float) -> None:
    parameters, state = pair(load, seed)
    around = steady(np.array([celsius, celsius + hotter]), 2)
    for _ in range(40):
        state, _ = model.step(state, parameters, around, 300.0)
        if state.liquid_kg.min() < 0.15:
            break                                   # a nearly dry pot is another matter: the hotter one is first
        fraction = model.tender_fraction(state, parameters)
        assert fraction[1] >= fraction[0] - 1e-9
        assert state.progress[1].min() >= state.progress[0].min() - 1e-12


@FEW
@given(load=LOADS, seed=st.integers(0, 10_000), celsius=st.floats(90.0, 180.0), thicker=st.floats(1.02, 1.8))
def test_a_thicker_piece_is_never_done_sooner(load: Said, seed: int, celsius: float, thicker: float) -> None:
    """The same weight in thicker pieces: the slowest part lags, so the dish as a whole is not tender before."""
    parameters, state = pair(load, seed)
    parameters = replace(parameters, half_thickness_m=parameters.half_thickness_m * np.array([1.0, thicker]),
                         juice_share=np.zeros(2))
    first, second = tender_steps(parameters, state, celsius)
    assert second >= first


@FEW
@given(load=LOADS, seed=st.integers(0, 10_000), celsius=st.floats(90.0, 180.0), more=st.floats(1.1, 2.5))
def test_more_meat_is_never_done_sooner(load: Said, seed: int, celsius: float, more: float) -> None:
    """A heavier joint of the same shape in the same pot."""
    parameters, state = pair(load, seed)
    parameters = replace(parameters, meat_kg=parameters.meat_kg * np.array([1.0, more]),
                         half_thickness_m=parameters.half_thickness_m * np.array([1.0, more ** (1 / 3)]),
                         juice_share=np.zeros(2))
    first, second = tender_steps(parameters, state, celsius)
    assert second >= first


def tender_steps(parameters: model.DishParameters, state: model.DishState, celsius: float) -> tuple[float, float]:
    """Steps of 300 s to tender of two lanes; inf if not within 14 h. The pot is kept from drying."""
    found = np.full(2, np.inf)
    for number in range(168):
        state, _ = model.step(state, parameters, steady(celsius, 2), 300.0)
        state = replace(state, liquid_kg=np.maximum(state.liquid_kg, 0.25))
        found[model.tender(state, parameters) & np.isinf(found)] = number
        if np.isfinite(found).all():
            break
    return float(found[0]), float(found[1])


@FEW
@given(load=LOADS, seed=st.integers(0, 10_000), celsius=st.floats(30.0, 220.0), off=st.floats(0.0, 0.9))
def test_taking_the_lid_off_never_saves_liquid(load: Said, seed: int, celsius: float, off: float) -> None:
    """Vapour gone, all told: the open pot has lost at least as much at every time after."""
    parameters, state = pair(load, seed)
    opened = replace(parameters, lid_on=np.array([1.0, 0.0]))
    parameters = replace(parameters, lid_on=np.ones(2))
    for number in range(40):
        state, _ = model.step(state, opened if number >= 40 * off else parameters, steady(celsius, 2), 300.0)
        if state.liquid_kg.min() < 0.1:
            break
        assert state.boiled_kg[1] >= state.boiled_kg[0] - 1e-9


@FEW
@given(load=LOADS, seed=st.integers(0, 10_000), celsius=st.floats(20.0, 350.0), dt_s=st.floats(5.0, 600.0))
def test_every_number_stays_within_what_can_be(load: Said, seed: int, celsius: float, dt_s: float) -> None:
    """Between the coldest and the hottest thing about, liquid from 0, progress that never falls."""
    parameters, state = pair(load, seed)
    for _ in range(20):
        before = state
        state, _ = model.step(state, parameters, steady(celsius, 2), dt_s)
        for temp in (state.pot_k, state.liquid_k, state.meat_k):
            assert np.isfinite(temp).all()
            assert temp.min() >= 273.15
            assert temp.max() <= max(celsius, 100.0) + 274.5
        assert (state.liquid_kg >= 0.0).all()
        assert (state.progress >= before.progress).all()
        fraction = model.tender_fraction(state, parameters)
        assert ((fraction >= 0.0) & (fraction <= 1.0)).all()


@FEW
@given(load=LOADS, seed=st.integers(0, 10_000))
def test_vectors_go_there_and_back(load: Said, seed: int) -> None:
    parameters, state = pair(load, seed)
    vector = model.parameter_vector(parameters)
    assert vector.shape == (2, len(model.PARAMETER_NAMES))
    same = model.with_vector(parameters, vector)
    assert np.abs(model.parameter_vector(same) - vector).max() < 1e-9
    for _ in range(10):
        state, _ = model.step(state, parameters, steady(160.0, 2), 300.0)
    states = model.state_vector(state)
    assert states.shape == (2, len(model.STATE_NAMES))
    back = model.with_state_vector(state, states, parameters)
    assert np.abs(model.state_vector(back) - states).max() < 1e-9


@FEW
@given(load=LOADS, seed=st.integers(0, 10_000), pushes=st.lists(st.floats(-60.0, 60.0), min_size=1, max_size=8))
def test_a_wild_update_still_leaves_a_dish_that_can_be_stepped(load: Said, seed: int, pushes: list[float]) -> None:
    """An ensemble update may throw a lane far out: it is held to what can be, and the next steps are finite."""
    parameters, state = pair(load, seed)
    push = np.resize(np.array(pushes), (2, len(model.PARAMETER_NAMES)))
    parameters = model.with_vector(parameters, model.parameter_vector(parameters) + push)
    push = np.resize(np.array(pushes), (2, len(model.STATE_NAMES)))
    state = model.with_state_vector(state, model.state_vector(state) + push, parameters)
    for _ in range(10):
        state, heat = model.step(state, parameters, steady(150.0, 2), 300.0)
    assert np.isfinite(model.state_vector(state)).all()
    assert np.isfinite(heat.air_w + heat.radiant_w + heat.floor_w).all()
    assert (state.liquid_kg >= 0.0).all()


@FEW
@given(load=LOADS, seed=st.integers(0, 10_000), celsius=st.floats(85.0, 170.0), hotter=st.floats(3.0, 50.0),
       when=st.integers(0, 30))
def test_a_move_to_a_hotter_oven_never_delays(load: Said, seed: int, celsius: float, hotter: float, when: int) -> None:
    parameters, state = pair(load, seed)
    found = np.full(2, np.inf)
    for number in range(168):
        heat = np.array([celsius, celsius + (hotter if number >= when else 0.0)])
        state, _ = model.step(state, parameters, steady(heat, 2), 300.0)
        state = replace(state, liquid_kg=np.maximum(state.liquid_kg, 0.25))      # the pots are kept from drying
        found[model.tender(state, parameters) & np.isinf(found)] = number
        if np.isfinite(found).all():
            break
    assert found[1] <= found[0]


DRY_LOADS = st.builds(
    Said, name=st.just("dish"), cut=st.sampled_from(["flatbread", "loaf", "lentils", "rice pudding", "squid", "beans"]),
    meat_kg=st.floats(0.05, 1.5), liquid_l=st.floats(0.0, 0.1), pan=st.just("tin"))


@FEW
@given(load=DRY_LOADS, seed=st.integers(0, 10_000), celsius=st.floats(150.0, 400.0), dt_s=st.floats(30.0, 1200.0))
def test_what_is_left_in_the_oven_dries_out_and_no_further(load: Said, seed: int, celsius: float, dt_s: float) -> None:
    """No shell loses more than its water, none gets hotter than the oven, and the heat balance closes."""
    parameters, state = pair(load, seed)
    begun = model.energy_j(state, parameters)
    with np.errstate(divide="raise", invalid="raise"):
        for _ in range(int(4 * 3600 / dt_s)):
            state, _ = model.step(state, parameters, steady(celsius, 2), dt_s)
    assert state.given.max() <= 0.6 + 1e-9
    assert state.meat_k.max() <= celsius + 273.15 + 1e-6
    off = model.energy_j(state, parameters) - state.heat_in_j + state.vapour_j - begun
    assert np.abs(off).max() <= 1e-6 * np.abs(state.heat_in_j).max()
