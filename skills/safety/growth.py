"""Growth of spore-formers in cooked food while it is warm: what is predicted, and by which published model.

Temperatures are of the warmest point while cooling and the coldest while heating: the core in both. The main model is
C. perfringens in cooked uncured meat (Food Microbiology 2011;28:791-795, coefficients as stored in the RAKIP open model
repository, records 1157-1162; beef q0 corrected to 0.00699). It errs high for whole, salted, acid or spiced dishes.
"""
from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]


@dataclass(frozen=True)
class Meat:
    """b [1/(sqrt h degC)], t_min_c and t_max_c [degC], c [1/degC], q0 [-] the spores' state after cooking."""
    b: float
    t_min_c: float
    c: float
    t_max_c: float
    q0: float


MEATS = {
    "beef": Meat(0.050, 10.15, 0.238, 53.0, 0.00699),
    "chicken": Meat(0.048, 9.74, 0.208, 52.1, 0.0105),
    "pork": Meat(0.047, 10.69, 0.252, 52.8, 0.0137),
}
# Replicates of one cooling differ by a log, and the lag by more (J Food Prot 2005;68(2)): never said closer than this.
BAND_LOG10 = 1.0
# FSIS: no more than one log in cooling (9 CFR 318.17(a)(2), as quoted). Half and three are judgements.
CAUTION_LOG10, FAIL_LOG10, DISCARD_LOG10 = 0.5, 1.0, 3.0
# Ranges in which they grow [degC]: least, best, most. Source: growth-limits appendix of a HACCP handbook.
LIMITS_C = {
    "C. perfringens": (12.0, 45.0, 50.0), "B. cereus": (4.0, 35.0, 55.0), "L. monocytogenes": (-0.4, 37.0, 45.0),
    "Salmonella": (5.2, 39.0, 46.2), "S. aureus toxin": (10.0, 42.5, 48.0),
}
_STEP_S = 60.0


def meat_of(words: str) -> str:
    """Which model stands for a dish: chicken and pork by name, else beef, the quickest of the three.

    >>> meat_of("pork shoulder"), meat_of("lamb")
    ('pork', 'beef')
    """
    if any(word in words for word in ("chicken", "turkey", "duck", "goose", "bird", "thigh", "poultry")):
        return "chicken"
    return "pork" if any(word in words for word in ("pork", "ham", "gammon", "belly")) else "beef"


def growth_rate(temp_c: Array | float, meat: str = "beef") -> Array:
    """C. perfringens, log10 CFU/g per h, same shape as temp_c [degC]; zero outside its range."""
    model = MEATS[meat]
    temp = np.asarray(temp_c, dtype=np.float64)
    inside = (temp > model.t_min_c) & (temp < model.t_max_c)
    value = model.b ** 2 * (temp - model.t_min_c) ** 2 * (1.0 - np.exp(model.c * np.minimum(temp - model.t_max_c, 0.0)))
    found: Array = np.where(inside, value, 0.0)
    return found


def growth_log10(at_s: Array, temp_c: Array, meat: str = "beef", q0: float | None = None) -> Array:
    """Predicted rise in log10 CFU/g (lanes,) of a history temp_c (times,) or (times, lanes) [degC] at at_s [s].

    Straight between the points, integrated at a minute or finer. The lag is in q0; no ceiling (see with_ceiling).
    """
    at = np.asarray(at_s, dtype=np.float64)
    temp = np.asarray(temp_c, dtype=np.float64)
    lanes = temp[:, None] if temp.ndim == 1 else temp
    if len(at) < 2:
        return np.zeros(lanes.shape[1])
    parts = max(2, int(np.ceil((at[-1] - at[0]) / _STEP_S)))
    fine = np.unique(np.concatenate([at, np.linspace(at[0], at[-1], parts + 1)]))
    found = np.empty(lanes.shape[1])
    for lane in range(lanes.shape[1]):
        rate = growth_rate(np.interp(fine, at, lanes[:, lane]), meat)
        found[lane] = np.trapezoid(rate, fine) / 3600.0
    start = MEATS[meat].q0 if q0 is None else q0
    # log10((1 + q0 e^A) / (1 + q0)) with A = ln 10 x found, written so that a long stay does not overflow.
    grown: Array = np.logaddexp(0.0, np.log(start) + np.log(10.0) * found) / np.log(10.0) - np.log10(1.0 + start)
    return grown


def with_ceiling(grown_log10: float, start_log10: float, ceiling_log10: float) -> float:
    """log10 CFU/g after a predicted rise, from a start and under a ceiling (logistic: the food can carry no more)."""
    rise = 10.0 ** grown_log10
    share = 10.0 ** (start_log10 - ceiling_log10)
    return float(start_log10 + grown_log10 - np.log10(1.0 + share * (rise - 1.0)))


def lag_h(temp_c: float, meat: str = "beef", q0: float | None = None) -> float:
    """Lag at a steady temperature [h]; inf where nothing grows."""
    rate = float(growth_rate(temp_c, meat))
    start = MEATS[meat].q0 if q0 is None else q0
    return float(np.log(1.0 + 1.0 / start) / (np.log(10.0) * rate)) if rate > 0.0 else float("inf")


def generation_min(temp_c: float, meat: str = "beef") -> float:
    """Time to double [min]; inf where nothing grows."""
    rate = float(growth_rate(temp_c, meat))
    return float(60.0 * np.log10(2.0) / rate) if rate > 0.0 else float("inf")


def cardinal_rate(temp_c: Array | float, t_min_c: float, t_opt_c: float, t_max_c: float, best_per_h: float) -> Array:
    """The cardinal temperature model, per h, as best_per_h; zero outside. Source: open R package page."""
    temp = np.asarray(temp_c, dtype=np.float64)
    wide = t_opt_c - t_min_c
    under = wide * (wide * (temp - t_opt_c) - (t_opt_c - t_max_c) * (t_opt_c + t_min_c - 2.0 * temp))
    inside = (temp > t_min_c) & (temp < t_max_c)
    value = best_per_h * (temp - t_max_c) * (temp - t_min_c) ** 2 / np.where(inside, under, 1.0)
    found: Array = np.where(inside, value, 0.0)
    return found


# Braised beef, C. perfringens: least, best, most [degC], ln per h (Food Control 2019, abstract); for a second opinion.
BRAISED_BEEF = (10.3, 43.5, 53.4, 5.64)
# B. cereus in cooked rice, per h as recorded (Food Control 2019;96:403-409, RAKIP record 1172).
COOKED_RICE = (8.23, 37.6, 46.8, 2.21)


def salted_rate(temp_c: float, salt_pct: float, ph: float) -> float:
    """C. perfringens in bulk meat, ln per h; 15 to 52 degC, salt 0.5 to 4 %, pH 5 to 6.25.

    Int J Food Microbiol 2008;128:41-50, RAKIP records 1317-1318. Not for use alone: its start state was not read.
    """
    water = 1.0 - salt_pct * (5.2471 + 0.12206 * salt_pct) / 1000.0
    return float(7.45 * (temp_c - 12.20) ** 2 * (1.0 - np.exp(0.095 * (temp_c - 54.47))) * (water - 0.9755)
                 * (2.0 - water - 0.9755) * (ph - 4.76))


def botulinum_rate(temp_c: float) -> float:
    """Proteolytic C. botulinum in cooked ground beef, per h as recorded (Food Microbiology 2021;93:103618)."""
    if not 15.0 < temp_c < 45.48:
        return 0.0
    return float(0.001034 * (temp_c - 15.0) ** 2 * (1.0 - np.exp(0.4147 * (temp_c - 45.48))))
