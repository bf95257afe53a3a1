"""Solid materials of a masonry oven: what they are made of, with range and source.

Every row says where its figures come from; `conductivity` and `heat_capacity` rise with temperature. Values are
typical, the spread column is the standard deviation of the logarithm that a prior should give them.
"""
from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from skills.physics.constants import ZERO_CELSIUS_K

Array = NDArray[np.float64]


@dataclass(frozen=True)
class Material:
    """conductivity_20_w_mk [W/m/K] and heat_capacity_20_j_kgk [J/kg/K] at 20 degC, with relative slopes [1/K].

    density_kg_m3 [kg/m3]; spread: standard deviation of the logarithm of the conductivity. Holds for 0 to 800 degC.
    """
    name: str
    conductivity_20_w_mk: float
    conductivity_slope_1_k: float
    heat_capacity_20_j_kgk: float
    heat_capacity_slope_1_k: float
    density_kg_m3: float
    spread: float
    source: str

    def conductivity_w_mk(self, temp_k: Array | float) -> Array | float:
        return self.conductivity_20_w_mk * (1.0 + self.conductivity_slope_1_k * (temp_k - ZERO_CELSIUS_K - 20.0))

    def heat_capacity_j_kgk(self, temp_k: Array | float) -> Array | float:
        return self.heat_capacity_20_j_kgk * (1.0 + self.heat_capacity_slope_1_k * (temp_k - ZERO_CELSIUS_K - 20.0))


FIRECLAY = Material(
    "dense fireclay brick", 0.97, 2.8e-4, 860.0, 3.0e-4, 2150.0, 0.20,
    "k 1.05 to 1.18 W/m/K at 400 to 1000 degC and c 956 to 1037 J/kg/K: VDI Heat Atlas table (as carried by ht); "
    "below 400 degC by a straight line, c at 20 degC from memory")
COMMON_BRICK = Material(
    "fired clay brick", 0.895, 2.8e-4, 800.0, 3.0e-4, 1920.0, 0.25,
    "ASHRAE Fundamentals 2013 table (as carried by ht); slopes as fireclay, from memory")
BLANKET = Material(
    "ceramic-fibre blanket", 0.045, 3.6e-3, 1050.0, 0.0, 128.0, 0.30,
    "0.06, 0.10, 0.15 W/m/K at 200, 400, 600 degC mean, c 1000 to 1130 J/kg/K: from memory")
VERMICULITE_CONCRETE = Material(
    "vermiculite concrete", 0.16, 1.0e-3, 900.0, 0.0, 480.0, 0.35,
    "0.12 to 0.21 W/m/K at 320 to 640 kg/m3: ASHRAE Fundamentals 2013 table (as carried by ht); slope from memory")
CALCIUM_SILICATE = Material(
    "calcium-silicate board", 0.063, 9.0e-4, 920.0, 0.0, 260.0, 0.25,
    "0.059 to 0.072 W/m/K at 38 degC: ASTM C533 maxima; c from memory")

MATERIALS: tuple[Material, ...] = (FIRECLAY, COMMON_BRICK, BLANKET, VERMICULITE_CONCRETE, CALCIUM_SILICATE)

BRICK_EMISSIVITY = 0.92       # [-] red brick 0.93, fireclay 0.8 to 0.9 at 200 to 500 degC, soot 0.95: compilations
IRON_EMISSIVITY = 0.75        # [-] oxidised cast iron 0.60 to 0.95 in 8 to 14 um: compilations
