"""What goes on cooking in the middle once it is out: when to take a joint out so that it rests up to its heat, and a
custard so that it sets."""
from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from skills.dish import model as dish
from skills.kitchen import pots
from skills.kitchen.ensemble import Ensemble
from skills.kitchen.forecast import Forecast
from skills.physics.constants import ZERO_CELSIUS_K

Array = NDArray[np.float64]

STEP_S, MARK_S = 120, 240
HORIZON_S = 5 * 3600
REST_S = 1200                  # 20 min under a loose cover before it is carved (common practice, no source)
ENOUGH = 40                    # members that are followed; they are exchangeable


@dataclass(frozen=True)
class TakeOut:
    """Each (members,): when to take it out (epoch seconds, inf: not in sight), its core then and what it rests up to
    [degC]."""
    at_s: Array
    core_c: Array
    rested_c: Array


def take_out(ensemble: Ensemble, name: str, forecast: Forecast) -> TakeOut | None:
    """When to take a dish out of its oven so that it is done when it has rested; None if it is in none.

    The oven goes as the forecast's thermometer does; walls and floor keep their distance from it.
    """
    shelf, members = ensemble.shelf, ensemble.members
    if name not in shelf.names or shelf.parameters is None or shelf.state is None:
        return None
    index = shelf.names.index(name)
    place = shelf.ovens[index]
    if place is None:
        return None
    pick = np.arange(min(ENOUGH, members)) * members // min(ENOUGH, members)
    parameters = dish.take(shelf.parameters, index * members + pick)
    state = dish.take(shelf.state, index * members + pick)
    around = pots.around(ensemble.state, ensemble.numbers, place * members + pick)
    path_k = np.median(forecast.ovens[ensemble.names[place]].air_c, axis=1)
    marks, states = [ensemble.at_s], [state]
    for at_s in range(ensemble.at_s + STEP_S, ensemble.at_s + HORIZON_S + 1, STEP_S):
        if dish.tender(state, parameters).all():
            break
        change_k = float(np.interp(at_s, forecast.at_s, path_k)) - path_k[0]
        state, _ = dish.step(state, parameters, dish.Surroundings(
            around.air_k + change_k, around.radiant_k + change_k, around.floor_k + change_k), float(STEP_S))
        if (at_s - ensemble.at_s) % MARK_S == 0:
            marks.append(at_s)
            states.append(state)
    peaks, enough = _rested(states, parameters)
    cores = np.stack([dish.core_k(each, parameters) for each in states])
    first, some = enough.argmax(axis=0), enough.any(axis=0)
    lanes = np.arange(len(pick))
    return TakeOut(np.where(some, np.array(marks, dtype=float)[first], np.inf), cores[first, lanes] - ZERO_CELSIUS_K,
                   peaks[first, lanes] - ZERO_CELSIUS_K)


def _rested(states: list[dish.DishState], parameters: dish.DishParameters) -> tuple[Array, NDArray[np.bool_]]:
    """The hottest that the middle gets while it rests in the kitchen, from each state (states, members) [K], and
    whether it is done then."""
    lanes = dish.with_lid(dish.stack([parameters] * len(states)), True)
    state = dish.stack(states)
    peak = dish.core_k(state, lanes)
    for _ in range(REST_S // STEP_S):
        state, _ = dish.step(state, lanes, pots.on_bench(state), float(STEP_S))
        peak = np.maximum(peak, dish.core_k(state, lanes))
    return peak.reshape(len(states), -1), dish.tender(state, lanes).reshape(len(states), -1)
