"""The unknowns of an oven: one table, each row with its prior, and the physical quantities that follow from them.

The ensemble holds them as rows of one array theta (parameters, lanes) of nearly Gaussian values: logarithms of positive
quantities, logits of shares, plain values of offsets. `OvenNumbers` is what the model computes with.
"""
from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]


@dataclass(frozen=True)
class Unknown:
    """One row: `middle` is the median of the physical value, `sd` the deviation of the transformed one."""
    name: str
    scale: Literal["log", "logit", "plain"]
    middle: float
    sd: float
    why: str

    def forward(self, value: Array | float) -> Array | float:
        if self.scale == "log":
            return np.log(value)
        return np.log(value / (1.0 - value)) if self.scale == "logit" else value

    def back(self, transformed: Array) -> Array:
        if self.scale == "log":
            return np.exp(transformed)
        return 1.0 / (1.0 + np.exp(-transformed)) if self.scale == "logit" else transformed


# Spreads are wide enough to hold the ovens of the literature (heat reference, sections 1, 8, 9); "judgement" marks a
# value that no text gives.
UNKNOWNS: tuple[Unknown, ...] = (
    Unknown("across_m", "log", 0.90, 0.25, "inner width if not told"),
    Unknown("floor_m", "log", 0.06, 0.25, "floor brick if not told"),
    Unknown("dome_m", "log", 0.09, 0.30, "dome wall if not told"),
    Unknown("insulation_m", "log", 0.05, 0.60, "dome insulation if not told"),
    Unknown("dome_area", "log", 1.85, 0.15, "dome inner face to floor: 2 is a hemisphere, barrels and low domes less"),
    Unknown("dome_k_w_mk", "log", 0.90, 0.25, "clay brick to castable"),
    Unknown("floor_k_w_mk", "log", 0.80, 0.28, "clay brick to fireclay"),
    Unknown("dome_rc_j_m3k", "log", 1.75e6, 0.12, "density times heat capacity at 20 degC"),
    Unknown("floor_rc_j_m3k", "log", 1.75e6, 0.12, "density times heat capacity at 20 degC"),
    Unknown("insulation_k_w_mk", "log", 0.10, 0.50, "blanket to vermiculite concrete, some of it damp"),
    Unknown("underlay_k_w_mk", "log", 0.20, 0.80, "board to plain sand under the floor"),
    Unknown("underlay_rc_j_m3k", "log", 1.0e6, 0.40, "board to sand at 0.2 W/m/K; what conducts is dense"),
    Unknown("underlay_m", "log", 0.10, 0.40, "what lies under the floor brick is seldom told"),
    Unknown("outer_w_m2k", "log", 10.0, 0.30, "film and radiation outside, wind"),
    Unknown("leak_w_k", "log", 2.2, 0.70, "air that passes a shut door, for a mouth of 0.11 m2 (judgement)"),
    Unknown("door_w_m2k", "log", 3.0, 0.50, "door of wood, steel or insulated steel"),
    Unknown("inner_w_m2k", "log", 5.5, 0.40, "films inside, 2 to 6 and more with flame"),
    Unknown("mouth", "log", 0.7, 0.45, "mouth area against 0.14 of across squared (judgement)"),
    Unknown("ajar", "logit", 0.25, 0.60, "opening of a door ajar against none (judgement)"),
    Unknown("catch_s", "log", 200.0, 0.40, "time constant until fresh wood has caught (judgement)"),
    Unknown("flame_s", "log", 900.0, 0.40, "time constant of wood that has caught (judgement)"),
    Unknown("ember_s", "log", 2400.0, 0.40, "time constant of embers (judgement)"),
    Unknown("flame_to_dome", "logit", 0.24, 0.40, "of the flame's heat; stored shares 0.20 to 0.45 in all"),
    Unknown("flame_to_floor", "logit", 0.07, 0.40, "of the flame's heat"),
    Unknown("ember_to_floor", "logit", 0.14, 0.45, "embers lie on it"),
    Unknown("ember_to_dome", "logit", 0.22, 0.40, "of the embers' heat, radiant"),
    Unknown("draught_kg_kg", "log", 12.0, 0.40, "air drawn in with wood"),
    Unknown("rake_left", "logit", 0.05, 0.80, "embers that stay behind"),
    Unknown("wood", "log", 1.0, 0.15, "true wood heat to told: moisture, scales, bark"),
    Unknown("piece_kg", "log", 0.37, 0.30, "one split of firing wood"),
    Unknown("small_kg", "log", 0.15, 0.45, "one split of a tended fire: 0.4 of one of the firing (judgement)"),
    Unknown("ambient_k", "plain", 286.5, 5.0, "yard air if not told"),
    Unknown("start_k", "log", 8.0, 0.90, "masonry above the yard at the start"),
    Unknown("moisture", "log", 0.007, 0.70, "water to dry brick by weight, damp to dry"),
    Unknown("hang_w_m2k", "log", 14.0, 0.45, "film of a hanging thermometer; radiation weighs against it"),
    Unknown("hang_s", "log", 200.0, 0.40, "lag of the hanging thermometer"),
    Unknown("hang_bias_k", "plain", -2.0, 3.0, "constant error of the hanging thermometer"),
    Unknown("probe_m", "plain", 0.0, 0.005, "true less told depth of the probe"),
    Unknown("probe_bias_k", "plain", 0.0, 3.0, "constant error of the probe"),
    Unknown("lateral", "log", 0.8, 0.8, "conduction sideways to the floor under a pot (judgement)"),
    Unknown("under", "logit", 0.40, 1.30, "of a pot's heat from below, from the patch under it and not past its rim"),
    Unknown("probe_patch", "logit", 0.40, 1.50, "how much of the probe's place lies under the pot"),
    Unknown("gun_bias_k", "plain", -2.0, 8.0, "constant error of the gun; two were found 15 to 20 apart"),
    Unknown("gun_floor_k", "plain", -10.0, 14.0, "floor spot that people shoot against the middle"),
    Unknown("gun_dome_k", "plain", 5.0, 10.0, "dome spot that people shoot against the mean"),
)
NAMES: tuple[str, ...] = tuple(unknown.name for unknown in UNKNOWNS)
# No reading, however odd, moves an unknown beyond these: outside every oven of the literature, short of nonsense.
_CENTRE = np.array([unknown.forward(unknown.middle) for unknown in UNKNOWNS], dtype=np.float64)
_REACH = np.array([4.0 * unknown.sd + (0.0 if unknown.scale == "plain" else 0.7) for unknown in UNKNOWNS])
LOWEST, HIGHEST = _CENTRE - _REACH, _CENTRE + _REACH
ROW: Mapping[str, int] = {name: row for row, name in enumerate(NAMES)}


# Sizes that an oven can have [m]; what is told beyond them is taken for the nearest (judgement).
POSSIBLE_M: Mapping[str, tuple[float, float]] = {
    "across_m": (0.25, 3.0), "floor_m": (0.01, 0.4), "dome_m": (0.01, 0.5), "insulation_m": (0.003, 0.6)}


@dataclass(frozen=True)
class OvenWords:
    """What people said of an oven, SI; None: not said. `days_idle`: since it was last fired."""
    across_m: float | None = None
    floor_m: float | None = None
    dome_m: float | None = None
    insulation_m: float | None = None
    probe_m: float | None = None
    tended: bool | None = None
    days_idle: float | None = None
    ambient_k: float | None = None
    kg_feed: float | None = None
    damp: bool = False
    kg_small: float | None = None


def prior(words: OvenWords) -> tuple[Array, Array]:
    """Means and deviations (parameters,) of the transformed values before any reading."""
    middle = {unknown.name: unknown.middle for unknown in UNKNOWNS}
    sd = {unknown.name: unknown.sd for unknown in UNKNOWNS}
    for name, tight in (("across_m", 0.02), ("floor_m", 0.04), ("dome_m", 0.06), ("insulation_m", 0.10)):
        told = getattr(words, name)
        if told is not None and told > 0:
            low, high = POSSIBLE_M[name]
            middle[name], sd[name] = float(np.clip(told, low, high)), tight
    if words.tended and words.across_m is None:
        middle["across_m"], middle["floor_m"], middle["dome_m"] = 0.70, 0.04, 0.05
    # Splits are cut to the oven: their weight grows with its width (judgement).
    middle["piece_kg"] = 0.37 * (middle["across_m"] / 0.9) ** 2.2
    if words.kg_feed is not None:
        middle["piece_kg"], sd["piece_kg"] = words.kg_feed, 0.12
    middle["small_kg"] = 0.40 * middle["piece_kg"]
    if words.kg_small is not None:
        # Told to a tenth of a kilogram, mostly.
        middle["small_kg"] = float(np.clip(words.kg_small, 0.02, 3.0))
        sd["small_kg"] = max(0.12, 0.03 / middle["small_kg"])
    # Who spares insulation over the dome spares it under the floor too (judgement).
    middle["underlay_k_w_mk"] = 0.20 * float(np.clip(0.05 / max(middle["insulation_m"], 0.005), 0.4, 4.0)) ** 1.2
    # In a small oven the pot stands over the probe, in a wide one beside it (judgement).
    middle["probe_patch"] = float(np.clip(0.75 * (0.66 / middle["across_m"]) ** 2.2, 0.08, 0.85))
    if words.ambient_k is not None:
        middle["ambient_k"], sd["ambient_k"] = words.ambient_k, 1.5
    if words.days_idle is not None:
        # Measured curves: an insulated dome keeps tens of kelvin for two or three days (heat reference 9.1).
        middle["start_k"] = float(np.clip(45.0 * np.exp(-words.days_idle / 1.6), 0.7, 60.0))
        sd["start_k"] = 0.6
    if words.damp:
        middle["moisture"], sd["moisture"] = 0.012, 0.4
    means = np.array([unknown.forward(middle[unknown.name]) for unknown in UNKNOWNS], dtype=np.float64)
    return means, np.array([sd[name] for name in NAMES], dtype=np.float64)


class OvenNumbers:
    """The physical values of every lane, computed once after each change of theta. Names as in UNKNOWNS."""

    def __init__(self, theta: Array) -> None:
        self.value: dict[str, Array] = {
            unknown.name: unknown.back(row) for unknown, row in zip(UNKNOWNS, theta, strict=True)}

    def __getitem__(self, name: str) -> Array:
        return self.value[name]

    def but(self, changed: Mapping[str, Array]) -> OvenNumbers:
        """The same with some values changed."""
        other = OvenNumbers.__new__(OvenNumbers)
        other.value = {**self.value, **changed}
        return other
