"""Where the heat goes at this minute: the model's own fluxes, summed, for the answer to "why?"."""
from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from skills.oven import model
from skills.oven.model import BRICK_CELLS, COLUMNS, Array, Built, OvenState
from skills.oven.parameters import OvenNumbers

# The skin that people call the face: the first two cells of the brick, one to two centimetres.
SKIN_CELLS = 2


@dataclass(frozen=True)
class Budget:
    """Heat leaving the hot skin of the brick, medians over the members [W]; and what the probe's depth feels [K].

    deeper_w: into cooler brick behind it; door_w: out by mouth, door and leaks; rest_w: to what stands in the oven;
    fire_w: given by flame and embers; behind_k: skin less brick at the probe's depth.
    """
    deeper_w: float
    door_w: float
    rest_w: float
    fire_w: float
    behind_k: float


def budget(state: OvenState, numbers: OvenNumbers, built: Built, opened: Array, lanes: slice) -> Budget:
    """The budget of one oven's lanes. opened (all lanes,): how open the mouth is [-]."""
    count = state.air_k.shape[0]
    temp = state.temp_k.reshape(state.temp_k.shape[0], COLUMNS, count)
    half = (built.half_20_m2k_w / (1.0 + (state.temp_k - 293.15) * built.k_slope_1_k)).reshape(temp.shape)
    inner, outer = SKIN_CELLS - 1, SKIN_CELLS
    deeper = ((temp[inner] - temp[outer]) / (half[inner] + half[outer]) * built.area_m2)[:, lanes]
    into_face = ((state.face_k - temp[0]) / half[0] * built.area_m2)[:, lanes]
    yard_w_k, air_w_k = model._losses(state, numbers, built, model.Inputs(opened), np.zeros(count))
    door = (yard_w_k * (state.star_k - numbers["ambient_k"]) + air_w_k * (state.air_k - numbers["ambient_k"]))[lanes]
    fire = ((state.flame_j / numbers["flame_s"]) + (state.ember_j / numbers["ember_s"]))[lanes]
    given = -into_face.sum(axis=0)
    probe = (built.probe_weight * temp[:BRICK_CELLS, 0])[:, lanes].sum(axis=0)
    return Budget(float(np.median(np.maximum(deeper, 0.0).sum(axis=0))), float(np.median(np.maximum(door, 0.0))),
                  float(np.median(np.maximum(given - door, 0.0))), float(np.median(fire)),
                  float(np.median(state.face_k[0, lanes] - probe)))
