"""The uncertain parts of a dish as plain numbers that are nearly Gaussian, and back: for ensemble Kalman updates."""
from __future__ import annotations

from dataclasses import replace
from typing import Any

import numpy as np

from skills.dish import crust
from skills.dish.state import CELLS, Array, DishParameters, DishState
from skills.physics.constants import ZERO_CELSIUS_K

# Parameters that must stay positive move in their logarithm, shares between 0 and 1 in their log odds.
_LOG = ("rate_1_s", "activation_j_mol", "half_thickness_m", "meat_kg", "film_w_m2k", "contact_w_m2k",
        "pot_capacity_j_k", "unevenness")
_LOGIT = ("emissivity", "lid_leak")
_PLAIN = ("juice_share",)
PARAMETER_NAMES: tuple[str, ...] = (tuple(f"log {name}" for name in _LOG) + tuple(f"logit {name}" for name in _LOGIT)
                                    + _PLAIN)
STATE_NAMES: tuple[str, ...] = ("pot_k", "liquid_k", "liquid_kg", *(f"meat_k {cell}" for cell in range(CELLS)),
                                *(f"log progress {cell}" for cell in range(CELLS)))
_FLOOR = 1e-4                                     # smallest progress whose logarithm is told apart


def parameter_vector(parameters: DishParameters) -> Array:
    """(lanes, len(PARAMETER_NAMES)): what an update may move."""
    columns = [np.log(getattr(parameters, name)) for name in _LOG]
    for name in _LOGIT:
        share = np.clip(getattr(parameters, name), 1e-4, 1.0 - 1e-4)
        columns.append(np.log(share / (1.0 - share)))
    columns += [getattr(parameters, name) for name in _PLAIN]
    return np.stack(columns, axis=1)


def with_vector(parameters: DishParameters, vector: Array) -> DishParameters:
    """The parameters with `vector` (lanes, len(PARAMETER_NAMES)) in their place. Exponents are held to a sane reach."""
    changed: dict[str, Any] = {}
    for column, name in enumerate(_LOG):
        old = np.log(getattr(parameters, name))
        changed[name] = np.exp(np.clip(vector[:, column], old - 2.3, old + 2.3))
    for column, name in enumerate(_LOGIT, start=len(_LOG)):
        changed[name] = 1.0 / (1.0 + np.exp(-np.clip(vector[:, column], -9.2, 9.2)))
    for column, name in enumerate(_PLAIN, start=len(_LOG) + len(_LOGIT)):
        changed[name] = np.clip(vector[:, column], -1.2, 0.45)
    return replace(parameters, **changed)


def state_vector(state: DishState) -> Array:
    """(lanes, len(STATE_NAMES)): temperatures in K, liquid in kg, progress in its logarithm."""
    return np.concatenate([state.pot_k[:, None], state.liquid_k[:, None], state.liquid_kg[:, None], state.meat_k,
                           np.log(state.progress + _FLOOR)], axis=1)


def with_state_vector(state: DishState, vector: Array, parameters: DishParameters | None = None) -> DishState:
    """The state with `vector` in its place, held to what can be: no liquid below 0, none hotter than it boils."""
    low, high = ZERO_CELSIUS_K - 2.0, ZERO_CELSIUS_K + 450.0
    liquid_kg = np.maximum(vector[:, 2], 0.0)
    boil_k = parameters.boiling_k if parameters is not None else np.full_like(liquid_kg, ZERO_CELSIUS_K + 101.0)
    liquid_top = np.where(liquid_kg > 0.0, boil_k, high)
    meat_top = np.maximum(boil_k[:, None], state.meat_k)
    meat_k = np.clip(vector[:, 3:3 + CELLS], low, meat_top)
    progress = np.maximum(np.exp(np.clip(vector[:, 3 + CELLS:], -20.0, 5.0)) - _FLOOR, 0.0)
    if parameters is not None and parameters.ready.any_core:
        progress = crust.learnt(progress, state.progress, state.meat_k, meat_k, parameters)
    return replace(
        state, pot_k=np.clip(vector[:, 0], low, high), liquid_k=np.clip(vector[:, 1], low, liquid_top),
        liquid_kg=liquid_kg, meat_k=meat_k, progress=progress)
