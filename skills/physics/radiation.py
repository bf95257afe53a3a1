"""Thermal radiation between grey surfaces: fluxes, networks and what an infrared thermometer makes of them."""
from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from skills.physics.constants import STEFAN_BOLTZMANN_W_M2K4

Array = NDArray[np.float64]


def black_emission_w_m2(temp_k: Array | float) -> Array | float:
    """Hemispherical emission of a black surface [W/m2]. Source: Stefan-Boltzmann law."""
    return STEFAN_BOLTZMANN_W_M2K4 * temp_k ** 4


def parallel_exchange_w_m2(hot_k: Array | float, cold_k: Array | float, hot_emissivity: Array | float,
                           cold_emissivity: Array | float) -> Array | float:
    """Net flux between two large grey parallel planes [W/m2]. Source: any heat-transfer text."""
    return STEFAN_BOLTZMANN_W_M2K4 * (hot_k ** 4 - cold_k ** 4) / (1 / hot_emissivity + 1 / cold_emissivity - 1)


def grey_exchange_w(area_m2: Array | float, emissivity: Array | float, hot_k: Array | float,
                    cold_k: Array | float) -> Array | float:
    """Net radiant heat from a small grey surface to large surroundings [W]. Source: any heat-transfer text."""
    return area_m2 * emissivity * STEFAN_BOLTZMANN_W_M2K4 * (hot_k ** 4 - cold_k ** 4)


def two_surface_exchange_w(area_m2: tuple[float, float], emissivity: tuple[float, float], view: float,
                           hot_k: Array | float, cold_k: Array | float) -> Array | float:
    """Net radiant heat [W] from the first to the second of two grey surfaces that close an enclosure.

    view: view factor of the first to the second. Source: radiation network method (any heat-transfer text).
    """
    resistance = ((1 - emissivity[0]) / (emissivity[0] * area_m2[0]) + 1 / (area_m2[0] * view)
                  + (1 - emissivity[1]) / (emissivity[1] * area_m2[1]))
    return STEFAN_BOLTZMANN_W_M2K4 * (hot_k ** 4 - cold_k ** 4) / resistance


def cavity_opening_emissivity(wall_emissivity: Array | float, wall_area_m2: Array | float,
                              opening_area_m2: Array | float) -> Array | float:
    """Effective emissivity of the opening of an isothermal grey cavity [-]. Source: network method, diffuse walls."""
    return wall_emissivity / (wall_emissivity + (1 - wall_emissivity) * opening_area_m2 / wall_area_m2)


def star_conductance_m2(area_m2: Array | float, emissivity: Array | float, flat_m2: Array | float,
                        total_flat_m2: Array | float) -> Array:
    """Area-like conductance [m2] from a surface of an enclosure to the common node of its radiation network.

    In a network with one common node a surface sees the node through its own surface resistance (1 - e)/(e A) and a
    space resistance. flat_m2: area of the flattest sheet over the surface (a dome's is its rim's disc, for it sees
    itself); with it two surfaces that close an enclosure have their exact resistance. total_flat_m2: sum over all.
    """
    space = (1 - flat_m2 / total_flat_m2) / flat_m2
    conductance = 1.0 / ((1 - emissivity) / (emissivity * area_m2) + space)
    return np.asarray(conductance, dtype=np.float64)


def linear_w_m2k(first_k: Array | float, second_k: Array | float) -> Array | float:
    """Black-body coefficient H [W/m2/K]: sigma (a4 - b4) = H (a - b), exactly.

    >>> round(float(linear_w_m2k(573.15, 373.15)), 2)
    25.1
    """
    return STEFAN_BOLTZMANN_W_M2K4 * (first_k * first_k + second_k * second_k) * (first_k + second_k)


def infrared_reads_k(true_k: Array | float, emissivity: Array | float, set_emissivity: float,
                     background_k: Array | float, assumed_background_k: float, power: float = 4.0) -> Array | float:
    """What a gun set to `set_emissivity` shows [K] for a spot of `emissivity`; signal grows as T ** power.

    Source: radiometer equation of makers' manuals; power 4 is total radiation (in 8 to 14 um about 3 near 250 degC).
    """
    signal = emissivity * true_k ** power + (1 - emissivity) * background_k ** power
    own = (signal - (1 - set_emissivity) * assumed_background_k ** power) / set_emissivity
    shown: Array | float = own ** (1 / power)
    return shown
