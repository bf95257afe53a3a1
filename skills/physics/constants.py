"""Constants of nature, SI (CODATA 2018, from memory; standard gravity is exact by definition)."""
from __future__ import annotations

STEFAN_BOLTZMANN_W_M2K4 = 5.670374419e-8
STANDARD_GRAVITY_M_S2 = 9.80665
GAS_CONSTANT_J_MOLK = 8.314462618
ZERO_CELSIUS_K = 273.15
AIR_MOLAR_MASS_KG_MOL = 0.0289647
STANDARD_PRESSURE_PA = 101_325.0
