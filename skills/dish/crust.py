"""The crust of what bakes: how deep it has dried, how hot its surface is, how brown it gets."""
from __future__ import annotations

import numpy as np

from skills.dish.state import CELLS, CORE_LAW, CRUST_LAW, RATE_LAW, Array, DishParameters

# Water in dough [kg/m3] that has to leave outwards for crust to form (half of it goes to the middle); what dry crust
# conducts; [m2 K/W] of crust through which steam no longer seeps but boils off beneath (bread literature, from memory).
_WATER_KG_M3, _CRUST_W_MK, _SHUT_M2K_W = 225.0, 0.06, 0.002
_NEAR_K = 30.0                        # [K] a core this far under its target counts nothing; between, in proportion


def resistance_m2k_w(given_outer: Array, p: DishParameters) -> Array:
    """What the dry crust lets heat through (lanes,) [m2 K/W]: as deep as the water that left the outer shell; 0 for
    what makes none. given_outer [-]: mass that left that shell, as a share of its raw mass."""
    depth_m = np.maximum(given_outer, 0.0) * p.ready.raw_kg[-1] / (p.ready.meat_area_m2 * _WATER_KG_M3)
    dry: Array = np.where(p.law == CRUST_LAW, np.minimum(depth_m, p.half_thickness_m / CELLS) / _CRUST_W_MK, 0.0)
    return dry


def seeping(resistance: Array) -> Array:
    """Share (lanes,) [-] of an open wet surface's vapour that still leaves through the crust."""
    share: Array = np.exp(-resistance / _SHUT_M2K_W)
    return share


def nearness(meat_k: Array, p: DishParameters) -> Array:
    """Progress (cells, lanes) of food that is done at a core temperature: 1 there, falling a tenth each 3 K below."""
    near: Array = np.clip(1.0 + (meat_k - p.target_k) / _NEAR_K, 0.0, None)
    return near


def progress(before: Array, meat_k: Array, surface_k: Array, p: DishParameters, dt_s: float) -> Array:
    """Progress (lanes, CELLS) of what is not done by the rate law alone.

    Each shell by its nearness to the core's target; with the crust law the outer one holds the browning instead.
    """
    made = np.maximum(before, nearness(meat_k, p).T)
    if p.ready.any_crust:
        rate = np.where(surface_k >= p.onset_k, np.exp(p.ready.log_rate - p.ready.slope_k / surface_k), 0.0)
        made[:, -1] = np.where(p.law == CRUST_LAW, before[:, -1] + dt_s * rate, made[:, -1])
    return made


def learnt(updated: Array, before: Array, old_k: Array, new_k: Array, p: DishParameters) -> Array:
    """Progress (lanes, CELLS) after the shells were found at new_k instead of old_k (lanes, CELLS) [K].

    Where the core tells, its progress goes with its heat, not with what usually goes with such a heat: `updated` is
    kept for the rate law and for the browning of a crust alone.
    """
    moved = np.maximum(before + (nearness(new_k.T, p) - nearness(old_k.T, p)).T, 0.0)
    by_core = np.where((p.law == RATE_LAW)[:, None], updated, moved)
    by_core[:, -1] = np.where(p.law == CORE_LAW, moved[:, -1], updated[:, -1])
    return by_core


def share_done(progress_: Array, p: DishParameters) -> Array:
    """How far (lanes,) [-] it is, 1 when done: the middle, and with the crust law the lesser of middle and crust."""
    middle = progress_[:, 0]
    done: Array = np.where(p.law == CRUST_LAW, np.minimum(middle, progress_[:, -1]), middle)
    return done
