"""The body solver of the meat against closed solutions, published worked examples and cooling trays.

Rows of tests/data/published/transient_conduction.json: one-term and series solutions of any heat-transfer text,
textbook problems; each row names its source.
"""
from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from skills.physics import transient

PATH = Path(__file__).parents[1] / "data" / "published" / "transient_conduction.json"
ROWS = {row["id"]: row for row in json.loads(PATH.read_text(encoding="utf-8"))}
SHAPES = {"wall": 0.0, "cylinder": 1.0, "sphere": 2.0}
ZERO_K = 273.15


def first_mode(shape: float, biot: float, cells: int = 300) -> tuple[float, float]:
    """The slowest mode of the discrete body: root zeta1 and centre coefficient C1 (unit radius and diffusivity)."""
    shares, links = transient.shell_shares(shape, cells)[:, 0], transient.shell_links(shape, cells)[:, 0]
    film = (shape + 1.0) * biot
    outer = links[-1] * film / (links[-1] + film)
    stiffness = np.diag(np.append(links[:-1], outer)) + np.diag(np.append(0.0, links[:-1]))
    stiffness -= np.diag(links[:-1], 1) + np.diag(links[:-1], -1)
    scale = 1.0 / np.sqrt(shares)
    values, vectors = np.linalg.eigh(stiffness * scale[:, None] * scale[None, :])
    mode = vectors[:, 0] * scale
    centre = float(transient.middle_k(mode[:, None], shape)[0])
    return float(np.sqrt(values[0])), float((shares * mode).sum() * centre)


@pytest.mark.parametrize("shape", SHAPES)
def test_discrete_body_has_the_roots_and_coefficients_of_the_series(shape: str) -> None:
    roots, coefficients = ROWS[f"tc-{shape}-roots"], ROWS[f"tc-{shape}-C1"]
    got = [first_mode(SHAPES[shape], biot) for biot in roots["inputs"]["Bi"]]
    assert [each[0] for each in got] == pytest.approx(roots["expect"], rel=roots["tolerance_rel"])
    assert [each[1] for each in got] == pytest.approx(coefficients["expect"], rel=coefficients["tolerance_rel"])


@pytest.mark.parametrize("shape", SHAPES)
def test_strong_film_gives_the_limit_of_a_fixed_surface(shape: str) -> None:
    row = ROWS[f"tc-{shape}-limit"]
    assert first_mode(SHAPES[shape], 1e9) == pytest.approx(row["expect"], rel=row["tolerance_rel"])


def heat_body(inputs: dict[str, Any], shape: float, times_s: list[float], dt_s: float, cells: int) -> list[float]:
    """Centre, surface and mean [degC] at each time."""
    diffusivity = inputs["k_W_mK"] / inputs["rho_kg_m3"] / inputs["cp_J_kgK"]
    radius, film, air = inputs["half_thickness_or_radius_m"], inputs["h_W_m2K"], inputs["T_air_C"]
    temp = np.full((cells, 1), float(inputs["T_initial_C"]))
    shares = transient.shell_shares(shape, cells)
    out, at_s = [], 0.0
    for target in times_s:
        while at_s < target - 1e-6:
            temp = transient.step_body(temp, shape, radius, inputs["k_W_mK"], diffusivity, film, air, dt_s)
            at_s += dt_s
        surface = transient.surface_k(temp, shape, radius, inputs["k_W_mK"], film, air)
        out += [float(transient.middle_k(temp, shape)[0]), float(surface[0]), float((shares * temp).sum())]
    return out


@pytest.mark.parametrize("shape", SHAPES)
def test_meat_like_body_warms_as_the_full_series(shape: str) -> None:
    """Backward Euler at two steps, extrapolated to none: the error in time is of first order."""
    row = ROWS[f"tc-{shape}-meat"]
    times = row["inputs"]["times_s"]
    coarse = np.array(heat_body(row["inputs"], SHAPES[shape], times, 40.0, 80))
    fine = np.array(heat_body(row["inputs"], SHAPES[shape], times, 20.0, 80))
    assert (2.0 * fine - coarse).tolist() == pytest.approx(row["expect"], rel=row["tolerance_rel"])


@pytest.mark.parametrize("shape", SHAPES)
def test_error_falls_in_step_with_the_time_step(shape: str) -> None:
    row = ROWS[f"tc-{shape}-meat"]
    errors = [abs(heat_body(row["inputs"], SHAPES[shape], [7200.0], dt_s, 60)[0] - row["expect"][3])
              for dt_s in (240.0, 120.0, 60.0)]
    assert 1.7 < errors[0] / errors[1] < 2.3
    assert 1.7 < errors[1] / errors[2] < 2.3


@pytest.mark.parametrize("shape", SHAPES)
def test_the_few_shells_of_the_model_are_good_to_a_degree_and_a_half(shape: str) -> None:
    """Six shells and a step of a minute, as the dish model runs, beside the series (people round to more)."""
    from skills.dish.state import CELLS
    row = ROWS[f"tc-{shape}-meat"]
    got = heat_body(row["inputs"], SHAPES[shape], row["inputs"]["times_s"], 60.0, CELLS)
    assert got == pytest.approx(row["expect"], abs=1.5)


def one_body(inputs: dict[str, Any], radius_m: float, shape: float, outside_c: float) -> float:
    diffusivity = inputs.get("alpha_m2_s") or inputs["k_W_mK"] / inputs["rho_kg_m3"] / inputs["cp_J_kgK"]
    return transient.seconds_to_reach(inputs["T_centre_C"], inputs["T_initial_C"], outside_c, radius_m,
                                      inputs["k_W_mK"], diffusivity, inputs["h_W_m2K"], shape)


def test_roast_as_a_ball_takes_what_the_worked_example_takes() -> None:
    """The book's one-term answer is 134 min, the full series gives 132.8 (its Fourier number is a little under 0.2)."""
    series, book = ROWS["we-roast-sphere-series"], ROWS["we-roast-sphere"]
    inputs = series["inputs"]
    radius_m = (3 * inputs["mass_kg"] / inputs["rho_kg_m3"] / (4 * np.pi)) ** (1 / 3)
    minutes = one_body(inputs, radius_m, 2.0, inputs["T_oven_C"]) / 60
    assert minutes == pytest.approx(series["expect"], rel=series["tolerance_rel"])
    assert minutes == pytest.approx(book["expect"], rel=0.015)


def test_egg_in_boiling_water_takes_what_the_worked_example_takes() -> None:
    row = ROWS["we-egg-time"]
    zeta1, c1, seconds = row["expect"]
    inputs = row["inputs"]
    biot, theta = ROWS["we-egg"]["expect"]
    assert inputs["h_W_m2K"] * inputs["diameter_m"] / 2 / inputs["k_W_mK"] == pytest.approx(biot, rel=1e-3)
    assert first_mode(2.0, biot, 500) == pytest.approx((zeta1, c1), rel=row["tolerance_rel"])
    assert (inputs["T_centre_C"] - 100) / (inputs["T_initial_C"] - 100) == pytest.approx(theta, rel=1e-3)
    assert one_body(inputs, inputs["diameter_m"] / 2, 2.0, inputs["T_water_C"]) == pytest.approx(seconds, rel=0.002)


def test_apple_in_ice_water_takes_what_the_problem_data_give() -> None:
    row = ROWS["we-apple"]
    got = one_body(row["inputs"], row["inputs"]["diameter_m"] / 2, 2.0, row["inputs"]["T_water_C"])
    assert got == pytest.approx(row["expect"], rel=0.002)


def test_product_of_slab_and_bar_gives_the_short_cylinder() -> None:
    row = ROWS["tc-short-cylinder"]
    inputs = row["inputs"]
    thetas = []
    for shape, size in ((1.0, inputs["radius_m"]), (0.0, inputs["half_length_m"])):
        found = []
        for dt_s in (20.0, 10.0):
            temp = np.ones((60, 1))
            for _ in range(round(inputs["time_s"] / dt_s)):
                temp = transient.step_body(temp, shape, size, inputs["k_W_mK"], inputs["alpha_m2_s"], inputs["h_W_m2K"],
                                           0.0, dt_s)
            found.append(float(transient.middle_k(temp, shape)[0]))
        thetas.append(2.0 * found[1] - found[0])
    cold, hot = inputs["T_initial_C"], inputs["T_ambient_C"]
    got = hot + (cold - hot) * thetas[0] * thetas[1]
    assert got == pytest.approx(row["expect"], rel=row["tolerance_rel"])


def test_the_short_cylinders_middle_is_warm_when_the_product_says() -> None:
    """The same body, one step after another: the step in which the product of the two passes the target."""
    row = ROWS["tc-short-cylinder-time"]
    inputs = row["inputs"]
    cold, hot = inputs["T_initial_C"], inputs["T_ambient_C"]
    sizes = {1.0: inputs["radius_m"], 0.0: inputs["half_length_m"]}

    def passes_s(dt_s: float) -> float:
        bodies = {shape: np.ones((60, 1)) for shape in sizes}
        at_s, now = 0.0, float(cold)
        while now < inputs["T_target_C"]:
            before, at_s = now, at_s + dt_s
            for shape, size in sizes.items():
                bodies[shape] = transient.step_body(bodies[shape], shape, size, inputs["k_W_mK"], inputs["alpha_m2_s"],
                                                    inputs["h_W_m2K"], 0.0, dt_s)
            share = float(np.prod([transient.middle_k(bodies[shape], shape)[0] for shape in sizes]))
            now = hot + (cold - hot) * share
        return at_s - dt_s * (now - inputs["T_target_C"]) / (now - before)

    assert 2.0 * passes_s(20.0) - passes_s(40.0) == pytest.approx(row["expect"], rel=row["tolerance_rel"])


@pytest.mark.parametrize("row_id", [row_id for row_id in ROWS if row_id.startswith("chill-")])
def test_trays_chill_as_the_series_says(row_id: str) -> None:
    row = ROWS[row_id]
    inputs = row["inputs"]
    diffusivity = inputs["k_W_mK"] / inputs["rho_kg_m3"] / inputs["cp_J_kgK"]
    got = [transient.seconds_to_reach(target, inputs["T_initial_C"], inputs["T_air_C"], inputs["half_thickness_m"],
                                      inputs["k_W_mK"], diffusivity, inputs["h_W_m2K"]) / 3600
           for target in inputs["T_targets_C"]]
    assert got == pytest.approx(row["expect"], rel=row["tolerance_rel"])
