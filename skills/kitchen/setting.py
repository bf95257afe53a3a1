"""What a class starts from: the school, and the profiles that earlier classes left."""
from __future__ import annotations

from collections.abc import Mapping
from typing import Literal

import numpy as np
from pydantic import BaseModel, ConfigDict, Field

from skills.oven.parameters import NAMES


class _Profile(BaseModel):
    model_config = ConfigDict(frozen=True, extra="forbid")

    name: str
    version: int = 1
    classes: int = Field(1, ge=1)


class Seen(BaseModel):
    """How fast an oven lost its heat in one class: logarithm of the share lost in an hour, and its deviation."""
    model_config = ConfigDict(frozen=True, extra="forbid")

    day: str
    log_loss: float
    sd: float


class OvenProfile(_Profile):
    """What was learnt of one oven: mean and covariance of its unknowns (transformed), by name; seen: class by class;
    misfit: of air and floor, count and sum of squares of the innovations; fired: how it was last kept, if that was
    told or seen."""
    unknowns: tuple[str, ...]
    mean: tuple[float, ...]
    covariance: tuple[tuple[float, ...], ...]
    seen: tuple[Seen, ...] = ()
    misfit: tuple[tuple[float, float], tuple[float, float]] = ((0.0, 0.0), (0.0, 0.0))
    fired: Literal["retained", "tended"] | None = None

    def usable(self) -> bool:
        """Whether it was written for the unknowns that the model has now."""
        return self.unknowns == NAMES and bool(np.isfinite(self.mean).all() and np.isfinite(self.covariance).all())


class CutProfile(_Profile):
    """What was learnt of one cut of meat (or pulse): mean and deviation of its unknowns (transformed), by name."""
    unknowns: tuple[str, ...]
    mean: tuple[float, ...]
    sd: tuple[float, ...]


class Setting(BaseModel):
    """seed; altitude_m [m], None: not known; profiles by the room's own names; members of the
    ensemble; foreseeing: how many of them are run into the future."""
    model_config = ConfigDict(frozen=True, extra="forbid", arbitrary_types_allowed=True)

    seed: int = 0
    altitude_m: float | None = None
    ovens: Mapping[str, OvenProfile] = Field(default_factory=dict)
    cuts: Mapping[str, CutProfile] = Field(default_factory=dict)
    members: int = Field(200, ge=60, le=2000)
    foreseeing: int = Field(100, ge=20, le=2000)
