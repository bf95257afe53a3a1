"""One reading moves the ensemble: the deterministic ensemble Kalman update of one scalar at a time."""
from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]


@dataclass(frozen=True)
class Scalar:
    """A reading against what the members would have read. predicted (members,); value, sd: same unit."""
    predicted: Array
    value: float
    sd: float

    @property
    def score(self) -> float:
        """Innovation over its expected deviation [-]."""
        return (self.value - float(self.predicted.mean())) / self.spread

    @property
    def spread(self) -> float:
        """Expected deviation of the innovation."""
        return float(np.sqrt(self.predicted.var(ddof=1) + self.sd ** 2))

    @property
    def log_density(self) -> float:
        """Logarithm of how likely the value was to be read, but for a constant."""
        return -0.5 * self.score ** 2 - float(np.log(self.spread))


def assimilate(rows: Array, reading: Scalar, taper: bool = True) -> Array:
    """The ensemble `rows` (unknowns, members) after one scalar reading.

    Mean and deviations are moved apart (square-root form): with enough members the result is the Kalman update of a
    linear-Gaussian prior. taper: a correlation that so few members could show by chance moves its row less; the weight
    r2 / (r2 + (1 - r2)2 / (members - 1)) goes to 1 with more members.
    Source: Whitaker and Hamill 2002, Monthly Weather Review 130, eq. 10 to 13; taper in the spirit of Anderson 2007.
    """
    members = rows.shape[1]
    middle = reading.predicted.mean()
    away = reading.predicted - middle
    variance = float(away @ away) / (members - 1)
    if variance <= 0.0:
        return rows
    mean = rows.mean(axis=1)
    apart = rows - mean[:, None]
    covariance = apart @ away / (members - 1)
    noise = reading.sd ** 2
    gain = covariance / (variance + noise)
    if taper:
        own = (apart * apart).sum(axis=1) / (members - 1)
        share = np.divide(covariance ** 2, own * variance, out=np.zeros_like(own), where=own > 0)
        gain = gain * share / (share + (1.0 - share) ** 2 / (members - 1) + 1e-300)
    shrink = 1.0 / (1.0 + np.sqrt(noise / (variance + noise)))
    moved: Array = (mean + gain * (reading.value - middle))[:, None] + apart - np.outer(shrink * gain, away)
    return moved
