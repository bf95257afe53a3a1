"""Steady ovens and one braise, for the tests of the dish model."""
from __future__ import annotations

import numpy as np

from skills.dish import model
from skills.dish.model import DishParameters, DishState, Surroundings
from skills.dish.prior import Said

ZERO_K = 273.15
SHOULDER = Said(name="lamb", cut="lamb shoulder", meat_kg=3.0, liquid_l=1.0, pan="iron", start="cold")


def medians(load: Said = SHOULDER, lanes: int = 1, altitude_m: float = 0.0) -> DishParameters:
    """The prior's medians in every lane."""
    return model.draw(np.random.default_rng(0), lanes, load, altitude_m, spread=0.0)


def cold(parameters: DishParameters) -> DishState:
    return model.initial_state(parameters, ZERO_K + 8.0, ZERO_K + 12.0)


def steady(celsius: float | np.ndarray, lanes: int) -> Surroundings:
    """An oven whose air, walls and floor all stand at one temperature."""
    everywhere = np.zeros(lanes) + celsius + ZERO_K
    return Surroundings(everywhere, everywhere, everywhere)


def hours_to_tender(parameters: DishParameters, around: Surroundings, state: DishState | None = None,
                    dt_s: float = 60.0, horizon_h: float = 16.0) -> np.ndarray:
    """(lanes,) [h] to the first step after which the dish is tender; inf beyond the horizon."""
    state = cold(parameters) if state is None else state
    found = np.full(parameters.lanes, np.inf)
    for number in range(1, round(horizon_h * 3600 / dt_s) + 1):
        state, _ = model.step(state, parameters, around, dt_s)
        now = model.tender(state, parameters) & np.isinf(found)
        found[now] = number * dt_s / 3600
        if np.isfinite(found).all():
            break
    return found
