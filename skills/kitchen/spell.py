"""How long a thing that bakes in minutes lies on an oven's floor as it stands now: a fine run of its own."""
from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from skills.dish import model as dish
from skills.dish.prior import Said, draw_state
from skills.kitchen import pots
from skills.kitchen.ensemble import Ensemble
from skills.kitchen.seeds import generator

Array = NDArray[np.float64]

STEP_S, MOST_S = 4.0, 900.0


def spell_s(ensemble: Ensemble, place: int, load: Said, seed: int) -> Array:
    """Seconds (members,) from going in to done; inf: not within a quarter of an hour."""
    lanes = np.arange(ensemble.members) + place * ensemble.members
    around = pots.around(ensemble.state, ensemble.numbers, lanes)
    around = dish.Surroundings(around.air_k, around.radiant_k, ensemble.state.face_k[0][lanes])
    rng = generator(seed, "spell", load.name)
    parameters = dish.draw(rng, ensemble.members, load)
    state = draw_state(rng, parameters, load)
    found = np.full(ensemble.members, np.inf)
    for count in range(1, int(MOST_S / STEP_S) + 1):
        state, _ = dish.step(state, parameters, around, STEP_S)
        found = np.where(np.isinf(found) & dish.tender(state, parameters), count * STEP_S, found)
        if np.isfinite(found).all():
            break
    return found
