"""Films of still air: correlations of natural convection (Churchill, McAdams) as the library `ht` prints them.

The models hold films as unknowns that readings teach; the correlations say where their priors must lie. Rows of
tests/data/published/oven.json.
"""
from __future__ import annotations

import json
from pathlib import Path

import numpy as np
import pytest

from skills.dish import prior as dish_prior
from skills.oven.parameters import ROW, OvenWords, prior
from skills.physics.radiation import linear_w_m2k
from skills.safety.chill import METHODS

PATH = Path(__file__).parents[1] / "data" / "published" / "oven.json"
ROWS = {row["id"]: row for row in json.loads(PATH.read_text(encoding="utf-8"))}
GRAVITY_M_S2 = 9.81
# Air at one atmosphere: kinematic viscosity [m2/s] and conductivity [W/m/K]; tables of any heat-transfer text.
AIR = {400.0: (2.64e-5, 0.0338), 450.0: (3.24e-5, 0.0373)}


def film_w_m2k(row_id: str, grashof: float, film_k: float, apart_k: float) -> tuple[float, float]:
    """Film [W/m2/K] and size [m] of the body that has the row's Grashof number in air of that heat."""
    row = ROWS[row_id]
    nusselt = row["expect"][row["inputs"]["Gr"].index(grashof)]
    viscosity, conductivity = AIR[film_k]
    size_m = (grashof * viscosity**2 * film_k / (GRAVITY_M_S2 * apart_k)) ** (1 / 3)
    return nusselt * conductivity / size_m, size_m


def deviations(name: str, value: float) -> float:
    """How many deviations from the middle of the oven's prior, in logarithms."""
    mean, sd = prior(OvenWords())
    return float(abs(np.log(value) - mean[ROW[name]]) / sd[ROW[name]])


def cavity() -> tuple[float, float]:
    """Films of floor and dome [W/m2/K]: raked, air 30 K cooler than brick at 190 degC; the floor is a plate that faces
    up, the dome one that faces down over air that lies still."""
    up, size_m = film_w_m2k("nc-plate-up", 1e9, 450.0, 30.0)
    down, _ = film_w_m2k("nc-plate-down", 1e9, 450.0, 30.0)
    assert 0.7 < size_m < 1.5                       # an oven, indeed
    return up, down


def test_the_floor_of_a_cavity_has_the_film_of_a_warm_plate() -> None:
    assert deviations("inner_w_m2k", cavity()[0]) < 1.0


@pytest.mark.xfail(strict=True, reason="1.4 W/m2/K under the dome, 4.3 over the floor: 2.4 over both, 2.1 deviations "
                                       "under the model's one film, whose middle of 5.5 is of ovens with a fire")
def test_floor_and_dome_together_have_the_films_of_their_plates() -> None:
    up, down = cavity()
    assert deviations("inner_w_m2k", (up + 2.0 * down) / 3.0) < 2.0


def test_bread_and_roasts_have_the_film_of_a_plate_of_their_size() -> None:
    """OPEN_FILM, spread 0.35: a wall of 20 cm in an oven at 167 degC and 80 K cooler, within 2 deviations."""
    film, size_m = film_w_m2k("nc-vertical", 1e7, 400.0, 80.0)
    assert 0.10 < size_m < 0.25
    assert abs(np.log(film / dish_prior.OPEN_FILM)) < 2.0 * 0.35


def test_a_tray_in_the_fridge_has_the_film_of_a_warm_plate_and_its_radiation() -> None:
    row = ROWS["nc-h-values"]
    case = row["inputs"]["cases"][0]
    whole = row["expect"][0] + 0.95 * linear_w_m2k(case["Ts_C"] + 273.15, case["Ta_C"] + 273.15)
    fridge = METHODS["fridge"]
    assert fridge.film_w_m2k / fridge.film_factor < whole < fridge.film_w_m2k * fridge.film_factor
    # It is never thought to chill faster than the hottest tray does by still air alone.
    assert fridge.film_w_m2k < whole


def test_the_outside_of_a_dome_has_its_film_and_its_radiation() -> None:
    """Plaster and brick 0.91 to 0.93 (emissivity tables)."""
    row = ROWS["nc-h-values"]
    case = row["inputs"]["cases"][2]
    whole = row["expect"][2] + 0.92 * linear_w_m2k(case["Ts_C"] + 273.15, case["Ta_C"] + 273.15)
    assert deviations("outer_w_m2k", whole) < 1.0
