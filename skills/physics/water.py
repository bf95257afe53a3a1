"""Water as it boils and evaporates at the height of the school."""
from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from skills.physics.constants import (
    AIR_MOLAR_MASS_KG_MOL,
    GAS_CONSTANT_J_MOLK,
    STANDARD_GRAVITY_M_S2,
    STANDARD_PRESSURE_PA,
    ZERO_CELSIUS_K,
)

Array = NDArray[np.float64]

WATER_HEAT_CAPACITY_J_KGK = 4190.0   # 4184 to 4216 between 20 and 100 degC (property tables)
VAPOUR_TO_AIR_MOLAR_MASS = 0.62198   # [-]
AIR_HEAT_CAPACITY_J_KGK = 1006.0

_CRITICAL_K = 647.096
_CRITICAL_PA = 22.064e6
_CRITICAL_KG_M3 = 322.0
_PRESSURE_TERMS = ((-7.85951783, 1.0), (1.84408259, 1.5), (-11.7866497, 3.0), (22.6807411, 3.5),
                   (-15.9618719, 4.0), (1.80122502, 7.5))
_LIQUID_TERMS = ((1.99274064, 1 / 3), (1.09965342, 2 / 3), (-0.510839303, 5 / 3), (-1.75493479, 16 / 3),
                 (-45.5170352, 43 / 3), (-6.74694450e5, 110 / 3))
_VAPOUR_TERMS = ((-2.03150240, 2 / 6), (-2.68302940, 4 / 6), (-5.38626492, 8 / 6), (-17.2991605, 18 / 6),
                 (-44.7586581, 37 / 6), (-63.9201063, 71 / 6))


def pressure_at_altitude_pa(altitude_m: Array | float) -> Array:
    """Air pressure of the standard atmosphere [Pa], 0 to 11 000 m. Source: US Standard Atmosphere 1976."""
    geopotential_m = 6_356_766.0 * np.asarray(altitude_m, dtype=np.float64) / (6_356_766.0 + altitude_m)
    exponent = STANDARD_GRAVITY_M_S2 * AIR_MOLAR_MASS_KG_MOL / (GAS_CONSTANT_J_MOLK * 0.0065)
    pressure: Array = STANDARD_PRESSURE_PA * (1.0 - 0.0065 * geopotential_m / 288.15) ** exponent
    return pressure


def _sum(terms: tuple[tuple[float, float], ...], tau: Array) -> Array:
    total = np.zeros_like(tau)
    for factor, power in terms:
        total = total + factor * tau ** power
    return total


def saturation_pressure_pa(temp_k: Array | float) -> Array:
    """Vapour pressure of water over liquid [Pa], 273.16 to 647 K. Source: Wagner and Pruss 1993, eq. 1."""
    temp = np.asarray(temp_k, dtype=np.float64)
    pressure: Array = _CRITICAL_PA * np.exp(_CRITICAL_K / temp * _sum(_PRESSURE_TERMS, 1.0 - temp / _CRITICAL_K))
    return pressure


def saturation_slope_pa_k(temp_k: Array | float) -> Array:
    """Slope of the vapour pressure curve [Pa/K]; derivative of Wagner and Pruss 1993, eq. 1."""
    temp = np.asarray(temp_k, dtype=np.float64)
    pressure = saturation_pressure_pa(temp)
    tau = 1.0 - temp / _CRITICAL_K
    slope = _sum(tuple((factor * power, power - 1.0) for factor, power in _PRESSURE_TERMS), tau)
    return -pressure / temp * (np.log(pressure / _CRITICAL_PA) + slope)


def latent_heat_j_kg(temp_k: Array | float) -> Array:
    """Heat of vaporisation [J/kg], 273.16 to 640 K.

    Source: Clapeyron's equation with the saturated densities of Wagner and Pruss 1993, eqs. 2 and 3.
    """
    temp = np.asarray(temp_k, dtype=np.float64)
    tau = 1.0 - temp / _CRITICAL_K
    liquid_kg_m3 = _CRITICAL_KG_M3 * (1.0 + _sum(_LIQUID_TERMS, tau))
    vapour_kg_m3 = _CRITICAL_KG_M3 * np.exp(_sum(_VAPOUR_TERMS, tau))
    return temp * (1.0 / vapour_kg_m3 - 1.0 / liquid_kg_m3) * saturation_slope_pa_k(temp)


def boiling_k(pressure_pa: Array | float) -> Array:
    """Boiling point of pure water [K], 10 to 200 kPa: Newton's method on the vapour pressure curve."""
    target = np.asarray(pressure_pa, dtype=np.float64)
    temp = np.full_like(target, 365.0)
    for _ in range(8):
        pressure = saturation_pressure_pa(temp)
        # In the logarithm the curve is nearly straight, so that few rounds suffice.
        temp = temp - np.log(pressure / target) * pressure / saturation_slope_pa_k(temp)
    return temp


def boiling_at_altitude_k(altitude_m: Array | float) -> Array:
    """Boiling point of pure water in the standard atmosphere [K]."""
    return boiling_k(pressure_at_altitude_pa(altitude_m))


# log10(p/mmHg) = 8.07131 - 1730.63 / (233.426 + t/degC), turned into natural logarithm, Pa and K.
_ANTOINE_A = (8.07131 + np.log10(133.322368)) * np.log(10.0)
_ANTOINE_B = 1730.63 * np.log(10.0)
_ANTOINE_C = 233.426 - ZERO_CELSIUS_K


def dew_point_k(vapour_pa: float) -> float:
    """Temperature at which air with this vapour pressure is saturated [K], by Antoine's equation."""
    return float(_ANTOINE_B / (_ANTOINE_A - np.log(vapour_pa)) - _ANTOINE_C)


def quick_saturation_pressure_pa(temp_k: Array) -> Array:
    """Vapour pressure [Pa] by Antoine's equation (coefficients from memory), within 0.75 % from 5 to 100 degC.

    One exponential in place of six powers: for use inside time steps.
    """
    pressure: Array = np.exp(_ANTOINE_A - _ANTOINE_B / (temp_k + _ANTOINE_C))
    return pressure


def quick_saturation_k(pressure_pa: Array) -> tuple[Array, Array]:
    """Temperature at which water has this vapour pressure [K], and its slope [K/Pa]: the same equation turned round."""
    rest = _ANTOINE_A - np.log(pressure_pa)
    above = _ANTOINE_B / rest
    return above - _ANTOINE_C, above / (rest * pressure_pa)


def quick_latent_heat_j_kg(temp_k: Array) -> Array:
    """Heat of vaporisation [J/kg] as a straight line, within 0.1 % from 5 to 100 degC."""
    heat: Array = 2.5025e6 - 2440.0 * (temp_k - ZERO_CELSIUS_K)
    return heat


# Vapour flow from an open wet surface for each unit of the logarithmic drive [kg/m2/s]: a heat film of 7 W/m2/K (5 to 9
# for still air over a hot pot) turned into a mass film by the Lewis relation, Le = 1.
VAPOUR_KG_M2S = 7.0 / AIR_HEAT_CAPACITY_J_KGK * VAPOUR_TO_AIR_MOLAR_MASS


def open_evaporation_kg_m2s(surface_k: Array, pressure_pa: Array, vapour_pa: Array | float) -> Array:
    """Evaporation from an open wet surface into air [kg/m2/s], from below the boil up to it.

    vapour_pa: vapour pressure in the air. Stefan flow: the logarithm grows without bound at the boil, where the heat
    supplied decides. Source: heat and mass analogy (any transfer text).
    """
    left_pa = np.maximum(pressure_pa - quick_saturation_pressure_pa(surface_k), 0.004 * pressure_pa)
    drive = np.log((pressure_pa - vapour_pa) / left_pa)
    return VAPOUR_KG_M2S * np.maximum(drive, 0.0)
