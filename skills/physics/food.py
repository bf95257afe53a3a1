"""Heat properties of food from what it is made of (Choi and Okos 1986, in the ASHRAE form)."""
from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]


@dataclass(frozen=True)
class Component:
    """Polynomials in degC, -40 to 150: conductivity [W/m/K], density [kg/m3], heat capacity [J/kg/K]."""
    conductivity: tuple[float, float, float]
    density: tuple[float, float, float]
    heat_capacity: tuple[float, float, float]


def _at(coefficients: tuple[float, float, float], celsius: Array | float) -> Array:
    c0, c1, c2 = coefficients
    value: Array = np.asarray(c0 + c1 * celsius + c2 * celsius * celsius, dtype=np.float64)
    return value


# Source: Choi and Okos 1986; coefficients as printed in ASHRAE Refrigeration 2006. Water above 0 degC.
COMPONENTS: dict[str, Component] = {
    "water": Component((0.57109, 1.7625e-3, -6.7036e-6), (997.18, 3.1439e-3, -3.7574e-3),
                       (4176.2, -9.0864e-2, 5.4731e-3)),
    "protein": Component((0.17881, 1.1958e-3, -2.7178e-6), (1329.9, -0.51840, 0.0),
                         (2008.2, 1.2089, -1.3129e-3)),
    "fat": Component((0.18071, -2.7604e-4, -1.7749e-7), (925.59, -0.41757, 0.0), (1984.2, 1.4733, -4.8008e-3)),
    "carbohydrate": Component((0.20141, 1.3874e-3, -4.3312e-6), (1599.1, -0.31046, 0.0),
                              (1548.8, 1.9625, -5.9399e-3)),
    "fibre": Component((0.18331, 1.2497e-3, -3.1683e-6), (1311.5, -0.36589, 0.0), (1845.9, 1.8306, -4.6509e-3)),
    "ash": Component((0.32962, 1.4011e-3, -2.9069e-6), (2423.8, -0.28063, 0.0), (1092.6, 1.8896, -3.6817e-3)),
}
# The ASHRAE print has 4128.9; that is 1.3 % under the measured heat capacity of water at 20 degC, 4176.2 only 0.2 %.
ASHRAE_WATER_HEAT_CAPACITY = (4128.9, -9.0864e-2, 5.4731e-3)


@dataclass(frozen=True)
class Composition:
    """Mass shares [-] of a food; they are scaled to one. `carbohydrate` is without fibre."""
    water: float
    protein: float
    fat: float
    carbohydrate: float = 0.0
    fibre: float = 0.0
    ash: float = 0.01

    def shares(self) -> dict[str, float]:
        parts = {name: float(getattr(self, name)) for name in COMPONENTS}
        total = sum(parts.values())
        return {name: part / total for name, part in parts.items() if part > 0.0}


@dataclass(frozen=True)
class HeatProperties:
    """conductivity of layers along the heat flow (parallel, the upper bound) and across it (series), [W/m/K];
    density [kg/m3]; heat capacity [J/kg/K]."""
    parallel_w_mk: float
    series_w_mk: float
    density_kg_m3: float
    heat_capacity_j_kgk: float

    @property
    def conductivity_w_mk(self) -> float:
        """For joints in liquor: the upper bound, since juice that moves carries heat as well (from memory)."""
        return self.parallel_w_mk


def heat_properties(made_of: Composition, celsius: float = 60.0) -> HeatProperties:
    """Properties of a food at a temperature, -40 to 150 degC. Source: ASHRAE Refrigeration 2006, food chapter."""
    shares = made_of.shares()
    density = 1.0 / sum(share / float(_at(COMPONENTS[name].density, celsius)) for name, share in shares.items())
    capacity = sum(share * float(_at(COMPONENTS[name].heat_capacity, celsius)) for name, share in shares.items())
    volumes = {name: share * density / float(_at(COMPONENTS[name].density, celsius))
               for name, share in shares.items()}
    conductivities = {name: float(_at(COMPONENTS[name].conductivity, celsius)) for name in shares}
    parallel = sum(volumes[name] * conductivities[name] for name in shares)
    series = 1.0 / sum(volumes[name] / conductivities[name] for name in shares)
    return HeatProperties(parallel, series, density, capacity)
