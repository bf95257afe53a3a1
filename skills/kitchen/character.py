"""How fast an oven loses its heat, as one figure that can be compared from class to class.

The forward model is run on a standard day: dry brick, shut door, no pots, the yard at 15 degC. After the heat has
spread through the brick, the fall of the dome's face over the yard is close to exponential; its rate is the figure.
"""
from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from skills.kitchen.setting import OvenProfile, Seen
from skills.oven import model
from skills.oven.parameters import NAMES, ROW, Array, OvenNumbers

YARD_K = 288.15
FILLED_K = 493.15               # brick at 220 degC all through, as after a long firing
SPREAD_S, WATCHED_S, STEP_S = 6 * 3600, 2 * 3600, 300
# A change worth a word: by a fifth, and surer than 9 in 10 (judgement).
CHANGED = float(np.log(1.2))
SURE = 1.3


def loss_1_h(theta: Array) -> Array:
    """Share of its heat over the yard that a shut, settled oven loses in an hour (lanes,) [1/h].

    theta (unknowns, lanes): as the ensemble holds it.
    """
    dry = theta.copy()
    dry[ROW["moisture"]] = np.log(1e-4)
    dry[ROW["ambient_k"]] = YARD_K
    numbers = OvenNumbers(dry)
    built = model.build(numbers, None)
    lanes = theta.shape[1]
    state = model.start(numbers)
    temp = np.full_like(state.temp_k, FILLED_K)
    falls = np.linspace(1.0, 0.0, model.BACK_CELLS + 2)[1:-1]
    temp[model.BRICK_CELLS:] = YARD_K + (FILLED_K - YARD_K) * falls[:, None]
    hot = np.full(lanes, FILLED_K)
    state = replace(state, temp_k=temp, face_k=np.tile(hot, (model.COLUMNS, 1)), air_k=hot, star_k=hot, hang_k=hot)
    shut = model.Inputs(np.zeros(lanes))
    early = hot
    for at_s in range(0, SPREAD_S + WATCHED_S, STEP_S):
        if at_s == SPREAD_S:
            early = state.face_k[2]
        state, _ = model.step(state, numbers, built, shut, float(STEP_S))
    fallen: Array = np.log((early - YARD_K) / (state.face_k[2] - YARD_K)) * (3600.0 / WATCHED_S)
    return fallen


def drawn(profile: OvenProfile, members: int = 80, seed: int = 0) -> Array:
    """Draws (unknowns, members) of what a profile holds."""
    covariance = np.array(profile.covariance)
    root = np.linalg.cholesky(covariance + 1e-12 * np.eye(len(NAMES)))
    normals = np.random.default_rng(seed).standard_normal((len(NAMES), members))
    found: Array = np.array(profile.mean)[:, None] + root @ normals
    return found


def seen(theta: Array, day: str) -> Seen:
    """The figure of one class, for the profile; theta (unknowns, members)."""
    logs = np.log(np.maximum(loss_1_h(theta), 1e-4))
    return Seen(day=day, log_loss=float(logs.mean()), sd=float(logs.std(ddof=1)))


@dataclass(frozen=True)
class Drift:
    """since: the day compared with; ratio: the loss now to the loss then [-]."""
    since: str
    ratio: float


def drift(history: Sequence[Seen]) -> Drift | None:
    """The last class against the earlier one that differs the most from it; None: no change to be sure of."""
    if len(history) < 2:
        return None
    last = history[-1]
    apart = [(last.log_loss - each.log_loss, each) for each in history[:-1]
             if abs(last.log_loss - each.log_loss) >= max(CHANGED, SURE * float(np.hypot(last.sd, each.sd)))]
    if not apart:
        return None
    most, then = max(apart, key=lambda pair: abs(pair[0]))
    return Drift(then.day, float(np.exp(most)))
