"""How fast food chills in trays and pots: conduction in the food, a film outside, stirring between.

The conduction is the dish's own (skills/physics/transient.py), cell 0 in the middle (a tray with an open top: there).
Lanes (K,) are ways in which it may go, from the quickest to the slowest.
"""
from __future__ import annotations

import math
from dataclasses import dataclass, replace
from statistics import NormalDist

import numpy as np
from numpy.typing import NDArray

from skills.physics.transient import march_body

Array = NDArray[np.float64]

# Wet braise or stew, from memory (typical; near skills/physics/food.py at 75 % water).
CONDUCTIVITY_W_MK, DENSITY_KG_M3, HEAT_CAPACITY_J_KGK = 0.50, 1040.0, 3600.0
CELLS = 16
# 21 ways, evenly by share: 2.4 % to 97.6 %.
SHARES: Array = (np.arange(21, dtype=np.float64) + 0.5) / 21.0
HORIZON_S = 10 * 3600.0
GRID_S = 120.0
# A small roasting tray, 30 by 20 cm, and the depth advised (reference, section 7: 25 to 50 mm).
TRAY_M2, TRAY_CM = 0.06, 4.0


@dataclass(frozen=True)
class Method:
    """One way to chill. film_w_m2k: middle, and the factor to its edges; sink_c: middle and half-width to its edges."""
    words: str
    film_w_m2k: float
    film_factor: float
    sink_c: float
    sink_half_c: float
    top_w_m2k: float | None = None
    top_c: float | None = None
    stir_s: float | None = None


# Films: still fridge 10, fan 25, ice slurry 200 W/m2/K (reference, section 7.2); spreads are judgements.
# On ice the open top loses to kitchen air and by evaporation (from memory).
METHODS = {
    "fridge": Method("in the fridge", 10.0, 1.6, 4.0, 2.5),
    "fan": Method("in moving fridge air", 25.0, 1.6, 4.0, 2.0),
    "ice": Method("on ice, stirred every 10 min", 200.0, 2.0, 1.0, 0.8, top_w_m2k=10.0, top_c=10.0, stir_s=600.0),
    "ice_still": Method("on ice, not stirred", 200.0, 2.0, 1.0, 0.8, top_w_m2k=10.0, top_c=10.0),
    "room": Method("in the room", 12.0, 1.5, 19.0, 4.0),
}
# Sides of a tray in slurry: 12 m of wall a square metre of tray, half of it of use (judgement).
SIDES_1_M = 6.0
# Thin liquor turns over by itself and carries heat better than still food: factor on conductivity, middle, 95 % edge
# (judgement; the slow edge is still food).
TURNOVER, TURNOVER_MOST = 1.5, 6.0


@dataclass(frozen=True)
class Vessel:
    """A tray (shape 0, size_m its depth) or a pot (shape 1.5, size_m its radius)."""
    words: str
    shape: float
    size_m: float
    litres: float | None = None

    @property
    def shallow(self) -> bool:
        """Whether it is a tray no deeper than is advised."""
        return self.shape == 0.0 and self.size_m <= TRAY_CM / 100.0


def tray(depth_cm: float, litres: float | None = None) -> Vessel:
    return Vessel(f"{depth_cm:g} cm deep", 0.0, max(depth_cm, 0.5) / 100.0, litres)


def trays(many: int, litres: float) -> Vessel:
    """Small trays that share it evenly: larger ones lie no deeper."""
    depth_cm = max(litres / (many * TRAY_M2 * 10.0), 1.0)
    held = "one tray" if many == 1 else f"{many} trays"
    words = f"{litres:g} l in {held}, about {depth_cm:.0f} cm deep"
    return Vessel(words, 0.0, depth_cm / 100.0, litres)


def pot(litres: float) -> Vessel:
    """A pot as high as it is wide: the film sees less area for its volume than a ball would, on the cautious side."""
    return Vessel(f"one pot of {litres:g} l", 1.5, (max(litres, 0.2) / 1000.0 / (2.0 * math.pi)) ** (1.0 / 3.0), litres)


def trays_for(litres: float, depth_cm: float = TRAY_CM) -> int:
    """How many small trays hold it at a depth."""
    return max(1, math.ceil(litres / (TRAY_M2 * depth_cm * 10.0) - 0.1))


def z_scores(shares: Array) -> Array:
    return np.array([NormalDist().inv_cdf(float(share)) for share in shares])


def curves(vessel: Vessel, method: Method, start_c: Array | float, at_s: Array, shares: Array = SHARES) -> Array:
    """Warmest point (times, lanes) [degC] at at_s (times,) [s] after the start, from an even start_c [degC].

    shares (lanes,): 0 the quickest, 1 the slowest way; film, sink and turnover go together (the cautious choice).
    """
    edge = z_scores(shares) / NormalDist().inv_cdf(0.95)
    film = method.film_w_m2k * method.film_factor ** (-edge)
    sink = method.sink_c + method.sink_half_c * edge
    if vessel.shape == 0.0 and method.stir_s is not None:
        # Stirring brings the food to the sides as well: volume over cooled area counts, not depth.
        vessel = replace(vessel, size_m=vessel.size_m / (1.0 + SIDES_1_M * vessel.size_m))
    turnover = np.maximum(1.0, TURNOVER * (TURNOVER_MOST / TURNOVER) ** (-edge))
    return march(vessel, np.zeros(len(shares)) + start_c, np.asarray(at_s, dtype=np.float64), film, sink,
                 CONDUCTIVITY_W_MK * turnover, DENSITY_KG_M3 * HEAT_CAPACITY_J_KGK, method.top_w_m2k, method.top_c,
                 method.stir_s)


def march(vessel: Vessel, start_c: Array, at_s: Array, film_w_m2k: Array, sink_c: Array, conductivity_w_mk: Array,
          capacity_j_m3k: float, top_w_m2k: float | None = None, top_c: float | None = None,
          stir_s: float | None = None, cells: int = CELLS) -> Array:
    """Warmest point (times, lanes) [degC] of the body; all lane arrays (lanes,).

    A tray with top_* unset is cooled alike on both faces: half its depth is reckoned.
    """
    half = vessel.shape == 0.0 and top_w_m2k is None
    size = vessel.size_m / 2.0 if half else vessel.size_m
    slow_s = size ** 2 * capacity_j_m3k / float(conductivity_w_mk.min())
    parts = math.ceil(GRID_S / float(np.clip(slow_s / 300.0, 15.0, 60.0)))
    steps = max(1, math.ceil(float(at_s[-1]) / GRID_S))
    every = 0 if stir_s is None else max(1, round(stir_s / GRID_S))
    inner = None if top_w_m2k is None or top_c is None else (top_w_m2k, top_c)
    run = march_body(start_c, vessel.shape, size, conductivity_w_mk, conductivity_w_mk / capacity_j_m3k, film_w_m2k,
                     sink_c, GRID_S, steps, parts, cells, inner, every)
    times = np.arange(steps + 1) * GRID_S
    warmest = np.concatenate([start_c[None, :], run.max(axis=1)[1:]])
    return np.stack([np.interp(at_s, times, warmest[:, lane]) for lane in range(len(start_c))], axis=1)


def first_below(at_s: Array, temp_c: Array, mark_c: float) -> Array:
    """First passage (lanes,) [s] of falling curves (times, lanes) through a mark; inf if they do not."""
    found = np.full(temp_c.shape[1], np.inf)
    for lane in range(temp_c.shape[1]):
        below = np.flatnonzero(temp_c[:, lane] <= mark_c)
        if len(below) == 0:
            continue
        step = int(below[0])
        if step == 0:
            found[lane] = at_s[0]
            continue
        high, low = temp_c[step - 1, lane], temp_c[step, lane]
        found[lane] = at_s[step - 1] + (at_s[step] - at_s[step - 1]) * (high - mark_c) / (high - low)
    return found


def chill_time(vessel: Vessel, method: str, start_c: float, mark_c: float, from_c: float | None = None,
               horizon_s: float = HORIZON_S) -> Array:
    """Seconds (lanes,) from passing from_c (or the start) to mark_c, quickest lane first; inf beyond the horizon."""
    at = np.arange(0.0, horizon_s + GRID_S, GRID_S)
    temp = curves(vessel, METHODS[method], start_c, at)
    begun = np.zeros(temp.shape[1]) if from_c is None or start_c <= from_c else first_below(at, temp, from_c)
    reached = first_below(at, temp, mark_c)
    return np.sort(np.where(np.isfinite(reached), reached - np.where(np.isfinite(begun), begun, 0.0), np.inf))
