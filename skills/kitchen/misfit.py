"""How well the models foresee an oven's own readings, and by how much its forecasts are to be wider or narrower for it.

An innovation (reading less what was expected, over its expected deviation) is a standard normal where the models are
right about their doubt. Its mean square over a class tells by how much they are too sure of this oven, or not enough.
Source: Mehra 1970, IEEE Transactions on Automatic Control 15 (innovations of a filter that is right have their
theoretical variance); Anderson 2009, Tellus A 61 (a spread adapted so).
"""
from __future__ import annotations

from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from skills.kitchen.ensemble import Ensemble

Array = NDArray[np.float64]

PLACES = ("air", "floor")       # what hangs or sits fixed; a gun and a hand are looser than any misfit
USUAL = 5.0                     # the prior counts as so many innovations of the expected size (judgement)
MOST = 3.0                      # one innovation counts no further than this: a slip or an untold act, not a misfit
LEAST_SCALE, MOST_SCALE = 0.6, 1.8
# Readings come half an hour apart and tell little of hours ahead: the scale fades to 1 (tried on simulated ovens).
FADES_S = 14400.0


def seen(ensemble: Ensemble, index: int, place: str, score: float) -> Ensemble:
    """The ensemble with one more innovation of one oven's instrument.

    Not through an open mouth: what a fire and a draught do there says nothing of a shut oven's forecast.
    """
    if place not in PLACES or ensemble.door[index] == "off":
        return ensemble
    tally = ensemble.misfit.copy()
    tally[index, PLACES.index(place)] += 1.0, min(abs(score), MOST) ** 2
    return replace(ensemble, misfit=tally)


def scales_ahead(ensemble: Ensemble, index: int, ahead_s: Array) -> Array:
    """By how much to widen the doubt about an oven's air and floor so far ahead (2, times) [-]."""
    found: Array = 1.0 + (scales(ensemble, index)[:, None] - 1.0) * np.exp(-ahead_s / FADES_S)
    return found


def scales(ensemble: Ensemble, index: int) -> Array:
    """The same of the next reading (2,) [-]."""
    count, squares = ensemble.misfit[index].T
    found: Array = np.clip(np.sqrt((USUAL + squares) / (USUAL + count)), LEAST_SCALE, MOST_SCALE)
    return found
