"""A flame under a pot that a cook turns down at the simmer."""
from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from skills.dish import model as dish
from skills.physics.constants import ZERO_CELSIUS_K

Array = NDArray[np.float64]

STEP_S = 300
# A base over a gas flame, and how far under the boil it is turned down: common practice, no source.
FLAME_K = ZERO_CELSIUS_K + 300.0
SIMMER_K = 2.0


def simmer(state: dish.DishState, parameters: dish.DishParameters, room_k: Array, dt_s: float) -> dish.DishState:
    """The dish one step later on a ring."""
    under_k = parameters.boiling_k - state.liquid_k
    share = np.clip(under_k / SIMMER_K - 0.5, 0.0, 1.0)
    below = state.pot_k + share * (FLAME_K - state.pot_k)
    return dish.step(state, parameters, dish.Surroundings(room_k, room_k, below), dt_s)[0]


def simmered(state: dish.DishState, parameters: dish.DishParameters, room_k: Array, span_s: int) -> dish.DishState:
    """The dish span_s later on a ring."""
    for begun_s in range(0, span_s, STEP_S):
        state = simmer(state, parameters, room_k, float(min(STEP_S, span_s - begun_s)))
    return state
