"""Air: how it passes through an open mouth, and the films on walls."""
from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from skills.physics.constants import (
    AIR_MOLAR_MASS_KG_MOL,
    GAS_CONSTANT_J_MOLK,
    STANDARD_GRAVITY_M_S2,
    STANDARD_PRESSURE_PA,
)

Array = NDArray[np.float64]
AIR_HEAT_CAPACITY_J_KGK = 1006.0    # dry air near 20 degC, from memory
DISCHARGE = 0.65                    # [-] sharp-edged opening; value of the open building-simulation door model


def air_density_kg_m3(temp_k: Array | float, pressure_pa: float = STANDARD_PRESSURE_PA) -> Array | float:
    """Density of dry air [kg/m3]. Source: ideal-gas law."""
    return pressure_pa * AIR_MOLAR_MASS_KG_MOL / (GAS_CONSTANT_J_MOLK * temp_k)


def neutral_height_share(inside_k: Array | float, outside_k: Array | float) -> Array | float:
    """Height of the level without flow over the sill, as a share of the opening's height [-]; mass in = mass out."""
    return 1.0 / (1.0 + (inside_k / outside_k) ** (1.0 / 3.0))


def doorway_exchange_kg_s(width_m: Array | float, height_m: Array | float, inside_k: Array | float,
                          outside_k: Array | float, discharge: float = DISCHARGE) -> Array | float:
    """Air that flows in (and out) through one opening, by buoyancy alone [kg/s]; inside is warmer, else 0.

    Source: Bernoulli flow integrated over the height with equal mass in and out (derivation in any fire-engineering
    text); for small differences it is the handbook V = Cd/3 A sqrt(g H dT/T).
    """
    outside_kg_m3 = air_density_kg_m3(outside_k)
    drive = np.maximum(1.0 - outside_k / np.asarray(inside_k, dtype=np.float64), 0.0)
    neutral_m = height_m * neutral_height_share(inside_k, outside_k)
    flow: Array = (2.0 / 3.0) * discharge * width_m * outside_kg_m3 * np.sqrt(
        2.0 * STANDARD_GRAVITY_M_S2 * drive) * neutral_m ** 1.5
    return flow


def mouth_coefficient_w_k(width_m: Array | float, height_m: Array | float) -> Array | float:
    """C of the short form W/K = C sqrt(1 - Tout/Tin), neutral height taken at 0.45 of the opening; see the tests."""
    flow: Array | float = (2.0 / 3.0) * DISCHARGE * width_m * 1.2 * np.sqrt(2.0 * STANDARD_GRAVITY_M_S2) * (
        0.45 * height_m) ** 1.5
    return flow * AIR_HEAT_CAPACITY_J_KGK


def smoke_draught_w_k(fire_w: Array | float, air_per_wood_kg_kg: Array | float,
                      heating_value_j_kg: float) -> Array | float:
    """Heat that the air drawn through a fire carries off, for each kelvin above outside [W/K].

    fire_w [W] heat release, air_per_wood_kg_kg [kg/kg] air drawn in per wood (stoichiometric about 5 to 6, open fires
    twice and more: from memory).
    """
    return fire_w / heating_value_j_kg * air_per_wood_kg_kg * AIR_HEAT_CAPACITY_J_KGK
