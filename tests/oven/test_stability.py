"""Whatever an oven is like and whatever is done to it, at any step: finite, bounded, and no heat lost or made."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
from hypothesis import Phase, given, settings
from hypothesis import strategies as st

from skills.oven import model
from skills.oven.parameters import HIGHEST, LOWEST, NAMES, OvenNumbers, OvenWords, prior

LANES = 24
WORDS = st.builds(
    OvenWords,
    across_m=st.none() | st.floats(0.01, 50.0),
    floor_m=st.none() | st.floats(0.001, 2.0),
    dome_m=st.none() | st.floats(0.001, 2.0),
    insulation_m=st.none() | st.floats(0.0001, 5.0),
    probe_m=st.none() | st.floats(0.0, 0.5),
    tended=st.booleans(),
    ambient_k=st.none() | st.floats(250.0, 315.0),
)
DEEDS = ("", "", "wood", "wood", "rake", "spread", "pots", "out")


@settings(max_examples=40, deadline=None, phases=(Phase.explicit, Phase.reuse, Phase.generate))
@given(words=WORDS, seed=st.integers(0, 2**32 - 1), spread=st.sampled_from([1.0, 4.0, 9.0]))
def test_no_oven_and_no_deed_drives_a_step_out_of_bounds(words, seed, spread):
    """Wood up to 100 kg at once, pots that take 60 W/K and are owed 2 kW, unknowns at the ends of their reach.

    Bounds: gas with the least air burns near 2200 K (15 MJ/kg into 9 kg of gas at 1.1 kJ/kg/K with dissociation left
    out); below, a thin cell may pass the coldest body by the bend of its heat capacity in one long step.
    """
    rng = np.random.default_rng(seed)
    mean, sd = prior(words)
    theta = np.clip(
        mean[:, None] + spread * sd[:, None] * rng.standard_normal((len(NAMES), LANES)),
        LOWEST[:, None],
        HIGHEST[:, None],
    )
    numbers = OvenNumbers(theta)
    built = model.build(numbers, np.full(LANES, np.nan if words.probe_m is None else words.probe_m))
    state = model.start(numbers)
    before, moved_j, pots = model.stored_j(state, built, numbers), np.zeros(LANES), None
    with np.errstate(all="raise", under="ignore"):
        for _ in range(60):
            deed, size = rng.choice(DEEDS), float(rng.random())
            opened, dt_s = rng.choice([0.0, 0.0, 0.3, 1.0]), float(rng.choice([1.0, 30.0, 60.0, 300.0, 600.0, 1200.0]))
            if deed == "wood":
                state = replace(state, flame_j=state.flame_j + size**3 * 1.5e9)
            elif deed == "rake":
                state = replace(state, flame_j=0.0 * state.flame_j, ember_j=0.05 * state.ember_j)
            elif deed == "spread":
                state = replace(state, spread=np.ones(LANES))
            elif deed == "pots":
                w_k, skin_k = 60.0 * size * np.array([[0.1], [0.4], [0.5]]) + np.zeros(LANES), 278.0 + 100.0 * size
                pots = model.Pots(*w_k, *(w_k * skin_k), rng.uniform(-2000.0, 2000.0, LANES), np.full(LANES, size))
            elif deed == "out":
                pots = None
            held = state.ledger_j
            state, taken_w = model.step(state, numbers, built, model.Inputs(np.full(LANES, opened), pots), dt_s)
            assert np.isfinite(taken_w).all()
            moved_j += np.abs(state.ledger_j - held)
            for each in (state.temp_k, state.face_k, state.star_k, state.air_k, state.hang_k):
                assert np.isfinite(each).all()
                assert each.min() > 120.0
                assert each.max() < 2400.0
            assert (state.water >= -1e-12).all()
    gained = model.stored_j(state, built, numbers) - before
    assert np.abs(gained - state.ledger_j).max() <= 1e-3 * moved_j.max() + 100.0
    assert (np.abs(gained - state.ledger_j) <= 1e-3 * moved_j + 100.0).all()


@settings(max_examples=30, deadline=None)
@given(flame_s=st.floats(20.0, 2e4), ember_s=st.floats(20.0, 2e4), same=st.booleans(), dt_s=st.floats(1.0, 1200.0))
def test_a_fire_gives_off_what_it_was_fed_and_no_more(flame_s, ember_s, same, dt_s):
    """Heat left and heat released add up, and none is negative, also where flames and embers fade alike."""
    one = np.array([1.0])
    ember_s = flame_s if same else ember_s
    left, embers, flamed, glowed = model.combustion.burn(7e6 * one, 2e6 * one, flame_s * one, ember_s * one, dt_s)
    assert np.isclose(left + embers + flamed + glowed, 9e6, rtol=1e-9)
    assert min(left, embers, flamed, glowed + 1e-6) >= 0.0
