"""Firewood: heating value at its moisture, moisture bases, and how a charge burns down."""
from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]

DRY_HEATING_VALUE_MJ_KG = 18.5     # [MJ/kg] net, oven-dry broadleaf; 18.5 to 19.0, conifers about 2 % more
WATER_LATENT_MJ_KG = 2.44          # [MJ/kg] at 25 degC
CHAR_SHARE = 0.30                  # [-] of the heat that is left to the embers; 0.25 to 0.35, from memory


def heating_value_mj_kg(moisture_wet_pct: Array | float,
                        dry_mj_kg: Array | float = DRY_HEATING_VALUE_MJ_KG) -> Array | float:
    """Net heating value [MJ/kg] of wood with `moisture_wet_pct` percent water by total weight (0 to 60).

    Source: the makers' formula NCV(M) = (NCV0 (100 - M) - 2.44 M) / 100; the example is its row for 20 %.
    >>> round(heating_value_mj_kg(20.0), 2)
    14.31
    """
    return (dry_mj_kg * (100.0 - moisture_wet_pct) - WATER_LATENT_MJ_KG * moisture_wet_pct) / 100.0


def wet_basis_pct(dry_basis_pct: float) -> float:
    """Water by total weight [%] from water by dry weight [%], as pin meters mostly read.

    >>> wet_basis_pct(25.0)
    20.0
    """
    return 100.0 * dry_basis_pct / (100.0 + dry_basis_pct)


def burn(flame_j: Array, ember_j: Array, flame_s: Array, ember_s: Array,
         dt_s: float) -> tuple[Array, Array, Array, Array]:
    """One step of a fire: (flame_j, ember_j) left and (flame, ember) heat released [J], all (lanes,).

    Fresh wood gives its heat off in proportion to what is left (time constant flame_s [s]); CHAR_SHARE of it passes to
    the embers, which fade with ember_s [s]. Exact for any dt_s; heat left plus heat released stays constant.
    """
    flame_left = flame_j * np.exp(-dt_s / flame_s)
    gone = flame_j - flame_left
    fade = np.exp(-dt_s / ember_s)
    # Two-stage decay chain (Bateman), in the form that has its limit where both constants are the same.
    apart = dt_s / flame_s - dt_s / ember_s
    near = np.abs(apart) < 1e-6
    shape = np.where(near, 1.0, -np.expm1(-apart) / np.where(near, 1.0, apart))
    ember_left = ember_j * fade + CHAR_SHARE * flame_j * fade * (dt_s / flame_s) * shape
    released = ember_j + CHAR_SHARE * gone - ember_left
    return flame_left, ember_left, (1.0 - CHAR_SHARE) * gone, released


def opening_limited_kg_s(area_m2: Array | float, height_m: Array | float) -> Array | float:
    """Most wood that a fire behind one opening can burn [kg/s]. Source: 0.09 A sqrt(H), Fire Technology 2022,
    10.1007/s10694-022-01218-1."""
    return 0.09 * area_m2 * np.sqrt(height_m)
