"""How much a heated core counts for: equivalent minutes at 70 degC, and the published dwell tables.

Core: the coldest point while heating. No time below 60 degC is credited (the UK list ends there).
"""
from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]

# Convention 70 degC for 2 min = 6 log L. monocytogenes, z = 7.5 degC (z from memory; it fits the UK list).
REFERENCE_C, Z_C = 70.0, 7.5
CREDIT_FROM_C = 60.0
NEED_MIN = 2.0
LOGS_PER_MIN = 3.0
# Listeria that was heated slowly stands more: D 12.95, 5.4, 2.3 min at 60, 63, 66 degC (Lett Appl Microbiol 1991).
# Six logs on that line need 4.3 min at 70 degC; the margin to 5, or a core of 75, is a judgement.
SLOW_NEED_MIN, SLOW_ENOUGH_C = 5.0, 75.0
SLOW_RISE_C_PER_MIN = 1.0

# FSA core temperature list, as UK training pages give it: degC -> minutes.
FSA_LIST_MIN = {60.0: 45.0, 65.0: 10.0, 70.0: 2.0, 75.0: 0.5, 80.0: 0.1}

# USDA FSIS Appendix A (1999), two web copies that agree: degF -> seconds for 6.5-log and 7-log Salmonella in beef.
FSIS_DWELL_S: dict[int, tuple[float, float]] = {
    130: (6720, 7260), 131: (5340, 5820), 132: (4260, 4620), 133: (3360, 3720), 134: (2700, 2820), 135: (2160, 2220),
    136: (1680, 1920), 137: (1380, 1440), 138: (1080, 1140), 139: (900, 900), 140: (720, 720), 141: (540, 600),
    142: (480, 480), 143: (360, 360), 144: (300, 300), 145: (240, 240), 146: (169, 182), 147: (134, 144),
    148: (107, 115), 149: (85, 91), 150: (67, 72), 151: (54, 58), 152: (43, 46), 153: (34, 37), 154: (27, 29),
    155: (22, 23), 156: (17, 19), 157: (14, 15), 158: (0, 0),
}


def rate(core_c: Array | float, z_c: float = Z_C, reference_c: float = REFERENCE_C) -> Array:
    """Equivalent minutes at the reference per minute at core_c [-], any shape; no floor applied."""
    value: Array = np.power(10.0, (np.asarray(core_c, dtype=np.float64) - reference_c) / z_c)
    return value


def hold_min(core_c: float, need_min: float = NEED_MIN, z_c: float = Z_C, reference_c: float = REFERENCE_C) -> float:
    """Minutes at a steady core that equal need_min at the reference. Arithmetic only: below 60 degC give no credit.

    >>> round(hold_min(60.0), 1)
    43.1
    """
    return float(need_min / rate(core_c, z_c, reference_c))


def equivalent_min(at_s: Array, core_c: Array, floor_c: float = CREDIT_FROM_C) -> Array:
    """Running equivalent minutes at 70 degC (times, ...) of a core core_c (times, ...) [degC] at at_s (times,) [s].

    The core is taken as straight between its points; each piece is integrated in closed form, only above floor_c.
    """
    temp = np.asarray(core_c, dtype=np.float64)
    span_min = np.diff(np.asarray(at_s, dtype=np.float64)) / 60.0
    span_min = span_min.reshape((-1,) + (1,) * (temp.ndim - 1))
    low, high = np.minimum(temp[:-1], temp[1:]), np.maximum(temp[:-1], temp[1:])
    counted = np.clip((high - floor_c) / np.maximum(high - low, 1e-12), 0.0, 1.0)
    counted = np.where(low >= floor_c, 1.0, np.where(high < floor_c, 0.0, counted))
    start = np.maximum(low, floor_c)
    rise = (high - start) * np.log(10.0) / Z_C
    # (e^x - 1)/x for the mean over a straight piece; one where it is level.
    mean = np.where(rise > 1e-9, np.expm1(rise) / np.maximum(rise, 1e-9), 1.0) * rate(start)
    pieces = np.where(counted > 0.0, span_min * counted * mean, 0.0)
    total: Array = np.concatenate([np.zeros((1, *temp.shape[1:])), np.cumsum(pieces, axis=0)])
    return total


def need_min(rise_c_per_min: float) -> float:
    """Equivalent minutes asked of a core that rose at this rate [degC/min]: more after a slow rise."""
    return SLOW_NEED_MIN if rise_c_per_min < SLOW_RISE_C_PER_MIN else NEED_MIN


def fsis_dwell_s(core_c: float, log_reduction: float = 6.5) -> float:
    """Printed dwell [s] after the core reaches core_c; the row at or below it. 54.4 degC and up, beef, not poultry."""
    if log_reduction not in (6.5, 7.0):
        raise ValueError("the table has the columns 6.5 and 7")
    # Rows are whole degrees Fahrenheit; their Celsius is rounded to a tenth in print.
    degf = min(158, int(np.floor(core_c * 1.8 + 32.0 + 0.1)))
    if degf < 130:
        return float("inf")
    return float(FSIS_DWELL_S[degf][0 if log_reduction == 6.5 else 1])


def z_of(temps_c: Array, minutes: Array) -> float:
    """z [degC] by least squares of log10(minutes) on temperature."""
    slope = np.polyfit(np.asarray(temps_c, dtype=np.float64), np.log10(np.asarray(minutes, dtype=np.float64)), 1)[0]
    return float(-1.0 / slope)


def spores_6log_min(core_c: float) -> float:
    """Minutes for six logs of non-proteolytic C. botulinum spores; z 9 below 90 degC, 10 above, 10 min at 90.

    Source: FSA vacuum-packing training table from industry guidelines, 2006.
    """
    return float(10.0 * 10.0 ** ((90.0 - core_c) / (9.0 if core_c < 90.0 else 10.0)))
