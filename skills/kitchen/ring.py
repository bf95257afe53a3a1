"""A pot finished on a ring: the same dish model, with a flame under it that a cook turns down at the simmer."""
from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from skills.dish import model as dish
from skills.kitchen import pots
from skills.kitchen.ensemble import Ensemble
from skills.kitchen.flame import STEP_S, simmer
from skills.kitchen.forecast import EVERY_S, DishForecast, Forecast, passed_s
from skills.physics.constants import ZERO_CELSIUS_K

Array = NDArray[np.float64]


def on_ring(ensemble: Ensemble, name: str, hours: float, lid_on: bool = False) -> Forecast:
    """One dish from now on a ring, at a gentle simmer; its lid as it is, or on."""
    members = ensemble.members
    shelf = pots.cooled(ensemble.shelf, ensemble.shelf.names.index(name), members, ensemble.at_s)
    assert shelf.parameters is not None
    assert shelf.state is not None
    lanes = shelf.lanes(shelf.names.index(name), members)
    state = dish.take(shelf.state, lanes)
    parameters = dish.take(shelf.parameters, lanes)
    if lid_on:
        parameters = dish.with_lid(parameters, True)
    room = np.full(members, pots.ROOM_K)
    share = dish.tender_fraction(state, parameters)
    tender_s = np.where(share >= dish.TENDER_SHARE, float(ensemble.at_s), np.inf)
    rows = [_row(state, parameters)]
    marks = ensemble.at_s + EVERY_S * np.arange(int(np.ceil(hours * 3600 / EVERY_S)) + 1, dtype=np.float64)
    for at_s in range(ensemble.at_s + STEP_S, int(marks[-1]) + 1, STEP_S):
        state = simmer(state, parameters, room, float(STEP_S))
        last, share = share, dish.tender_fraction(state, parameters)
        found = (share >= dish.TENDER_SHARE) & np.isinf(tender_s)
        tender_s = np.where(found, passed_s(at_s - STEP_S, last, at_s, share), tender_s)
        if (at_s - ensemble.at_s) % EVERY_S == 0:
            rows.append(_row(state, parameters))
    litres, core, liquor = np.stack(rows, axis=1)
    return Forecast(marks, {}, {name: DishForecast(tender_s, litres, core, liquor)})


def _row(state: dish.DishState, parameters: dish.DishParameters) -> Array:
    return np.stack([dish.liquid_litres(state, parameters), dish.core_k(state, parameters) - ZERO_CELSIUS_K,
                     state.liquid_k - ZERO_CELSIUS_K])
