"""How people's readings relate to what the models hold: which quantity, and how far a reading may be off."""
from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from skills import vocabulary as v
from skills.kitchen.ensemble import Ensemble
from skills.kitchen.update import Scalar
from skills.oven import model as oven
from skills.physics.constants import ZERO_CELSIUS_K

Array = NDArray[np.float64]

# Noise and model error together [K]: a fixed instrument is read to a degree or two, a gun hits one uneven spot.
AIR_SD_K = 1.8
PROBE_SD_K = 1.6
SURFACE_SD_K = 9.0
GUN_SD_K = 12.0
GUN_FIRE_SD_K = 22.0
HAND_SD_K = 45.0
HAND_SD_LOG = 0.35              # one person's counts in the same heat, and the place of the hand (judgement)
TIMING_S = 75.0                 # clocks and thumbs: a reading is told a minute or so off
# Seconds that a bare hand stays in against the heat around it [degC]: hand model of the heat reference, section 10.
HAND_COUNT_S = (0.8, 1.0, 3.1, 6.0, 14.0, 37.0)
HAND_COUNT_C = (420.0, 400.0, 300.0, 250.0, 200.0, 150.0)


@dataclass(frozen=True)
class Doubt:
    """A reading that does not fit: where it stands in the log, and what was expected there [degC].

    found_by: the message whose reading showed one that had been used to be wrong.
    """
    message: str
    index: int
    oven: str
    place: str
    celsius: float
    expected_p05_c: float
    expected_p50_c: float
    expected_p95_c: float
    found_by: str | None = None


def hand_count_c(seconds: float) -> float:
    """Heat that a hand count points to [degC]; good to 45 K at best.

    >>> round(hand_count_c(6.0))
    250
    """
    return float(np.interp(np.log(max(seconds, 0.5)), np.log(HAND_COUNT_S), HAND_COUNT_C))


def usual_log_count(heat_k: Array) -> Array:
    """Logarithm of the seconds that the usual hand stays in; falls on beyond the table as at its ends."""
    heat_c = heat_k - ZERO_CELSIUS_K
    order = np.argsort(HAND_COUNT_C)
    at, logs = np.array(HAND_COUNT_C)[order], np.log(HAND_COUNT_S)[order]
    found: Array = np.interp(heat_c, at, logs) - 0.0194 * np.minimum(heat_c - at[0], 0.0)
    return found


def kind_of(fact: v.Reading) -> str | None:
    """Whose own way of reading matters: "hand" for a count, "infrared" for a gun; None for fixed instruments."""
    if fact.count is not None:
        return "hand"
    place = fact.place or "air"
    if fact.celsius is None or fact.tool == "hand" or place in ("air", "mouth"):
        return None
    return "infrared" if fact.tool == "infrared" or place != "floor" else None


def reading_scalar(ensemble: Ensemble, index: int, fact: v.Reading, own: Array | float = 0.0) -> Scalar | None:
    """The reading against each member's own; None if it says nothing that the models hold.

    [degC], a hand count in logarithms of seconds. own (members,): the reader's offset, in the same unit.
    """
    lanes = ensemble.lanes(index)
    state, numbers = ensemble.state, ensemble.numbers
    burning = float((state.flame_j[lanes] + state.fresh_j[lanes] > 2e5).mean()) > 0.5
    opened = ensemble.door[index] == "off"
    if fact.count is not None:
        return Scalar(usual_log_count(state.star_k[lanes]) + own, float(np.log(max(fact.count, 0.5))), HAND_SD_LOG)
    assert fact.celsius is not None
    place, tool = fact.place or "air", fact.tool
    value = float(fact.celsius)
    if tool == "hand":
        return Scalar(state.star_k[lanes] - ZERO_CELSIUS_K, value, HAND_SD_K)
    if place == "air":
        shown = oven.thermometer_k(state, numbers)[lanes] - ZERO_CELSIUS_K
        target = oven.hang_target_k(state, numbers)[lanes]
        rate = float(np.median(np.abs(target - state.hang_k[lanes]) / numbers["hang_s"][lanes]))
        sd = float(np.hypot(AIR_SD_K, TIMING_S * rate))
        return Scalar(shown, value, float(np.hypot(sd, 12.0)) if burning and opened else sd)
    has_probe = not np.isnan(ensemble.probe_m[lanes]).any()
    if place == "floor" and tool != "infrared" and has_probe:
        return Scalar(oven.probe_k(state, numbers, ensemble.built)[lanes] - ZERO_CELSIUS_K, value, PROBE_SD_K)
    if place == "floor" and tool != "infrared":
        return Scalar(oven.probe_k(state, numbers, ensemble.built)[lanes] - ZERO_CELSIUS_K, value, SURFACE_SD_K)
    gun = numbers["gun_bias_k"][lanes] + own
    spot = GUN_FIRE_SD_K if burning else GUN_SD_K
    if place == "floor":
        return Scalar(state.face_k[0][lanes] + gun + numbers["gun_floor_k"][lanes] - ZERO_CELSIUS_K, value, spot)
    if place == "mouth":
        return Scalar(state.face_k[2][lanes] - 20.0 - ZERO_CELSIUS_K, value, 30.0)
    return Scalar(state.face_k[2][lanes] + gun + numbers["gun_dome_k"][lanes] - ZERO_CELSIUS_K, value, spot)


def slips(value: float) -> list[float]:
    """What a mistyped number may have been meant as: digits swapped, or one digit wrong by a hundred.

    >>> 107.0 in slips(170.0), 141.0 in slips(411.0), 151.0 in slips(511.0), 102.0 in slips(202.0)
    (True, True, True, True)
    """
    text = f"{value:.0f}"
    found = set()
    for one in range(len(text)):
        for other in range(one + 1, len(text)):
            swapped = list(text)
            swapped[one], swapped[other] = swapped[other], swapped[one]
            found.add(float("".join(swapped)))
    if len(text) == 3:
        # 411 for 141 is a swap; 202 for 102 a slip of the first digit.
        found |= {float(digit + text[1:]) for digit in "123"}
    found.discard(float(text))
    return [each for each in sorted(found) if each >= 10.0]


def implausible(scalar: Scalar, mended: bool = False) -> bool:
    """Whether a reading should wait for a second one before it is used. mended: its slip has been put right already."""
    away = abs(scalar.value - float(scalar.predicted.mean()))
    if abs(scalar.score) > 4.5 and away > 15.0:
        return True
    if abs(scalar.score) > 3.0 and away > 25.0 and not mended:
        # A number that fits well once a known slip is undone is most likely that slip.
        return any(abs(Scalar(scalar.predicted, meant, scalar.sd).score) < 1.5 for meant in slips(scalar.value))
    return False


def doubt(message: str, index: int, oven_name: str, place: str, scalar: Scalar) -> Doubt:
    low, middle, high = np.quantile(scalar.predicted, (0.05, 0.5, 0.95))
    return Doubt(message, index, oven_name, place, scalar.value, float(low), float(middle), float(high))
