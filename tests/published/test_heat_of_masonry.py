"""Conduction and storage in brick against closed forms and grid-converged references (tests/data/published/oven.json).

Source of each value: the row's `source`. Tolerance: the row's own, or what a grid of stated size can give (said there).
"""

from __future__ import annotations

import json
from pathlib import Path

import numpy as np
import pytest
from scipy.special import erfc

from skills.oven import model
from skills.oven.parameters import ROW, OvenNumbers, OvenWords, prior
from skills.physics import conduction, materials

ROWS = {
    row["id"]: row
    for row in json.loads((Path(__file__).parents[1] / "data" / "published" / "oven.json").read_text(encoding="utf-8"))
}


def march(thickness_m, k_w_mk, rc_j_m3k, start_c, flux_w_m2, dt_s, times_s, far_w_m2k=0.0, far_c=20.0, surface=None,
          film_w_m2k=np.inf):
    """One column of cells under a face flux (number or function of time), or a face held at surface = (degC), or one
    in gas of that heat behind a film; returns the cells at times_s, and the face."""
    half = 0.5 * thickness_m / k_w_mk
    link = conduction.links_w_m2k(half[:, None])
    capacity = (rc_j_m3k * thickness_m)[:, None]
    temp = (np.zeros(len(thickness_m)) + start_c)[:, None]
    found, faces, at_s, todo = [], [], 0.0, list(times_s)
    while todo:
        storage = capacity / dt_s
        far = 1.0 / (1.0 / far_w_m2k + half[-1]) if far_w_m2k else 0.0
        folded = conduction.eliminate(storage, link, storage * temp, far, far_c)
        flux = flux_w_m2(at_s + 0.5 * dt_s) if callable(flux_w_m2) else flux_w_m2
        if surface is not None:
            # Flux through film and half a cell into the folded system.
            flux = (surface - folded.rest_k) / (1.0 / film_w_m2k + half[0] + folded.rise_k_m2_w)
        temp = conduction.substitute(folded, flux)
        at_s += dt_s
        if at_s >= todo[0] - 1e-6:
            found.append(temp[:, 0].copy())
            faces.append(float(temp[0, 0] + np.atleast_1d(flux)[0] * half[0]))
            todo.pop(0)
    return np.array(found), np.array(faces)


def brick(length_m, cells):
    return np.full(cells, length_m / cells)


def test_a_face_held_hot_warms_the_depth_as_the_error_function_says():
    row = ROWS["si-const-T"]
    cells = brick(0.6, 1200)
    found, _ = march(cells, np.full(1200, 1.0), np.full(1200, 2100 * 950.0), 20.0, 0.0, 5.0, [3600.0], surface=450.0)
    centres = np.cumsum(cells) - 0.5 * cells
    got = np.interp(row["inputs"]["depths_m"], centres, found[0])
    # 5 s steps of first order leave a few hundredths of a degree; the row's 1e-4 is for the closed form itself.
    assert got == pytest.approx(row["expect"], rel=5e-4)


def seam(found, thickness_m, k_w_mk, cell):
    """Where cells `cell` and the next touch, from the flux between their centres."""
    near, far = 0.5 * thickness_m[cell : cell + 2] / k_w_mk[cell : cell + 2]
    return found[:, cell] - (found[:, cell] - found[:, cell + 1]) * near / (near + far)


def solid(inputs):
    """Conductivity and heat capacity of the row's solid: k, rho, cp or their list."""
    if not isinstance(inputs, list):
        inputs = [inputs["k_W_mK"], inputs["rho_kg_m3"], inputs["cp_J_kgK"]]
    return inputs[0], inputs[1] * inputs[2]


def test_a_face_held_hot_takes_the_heat_that_the_closed_form_says():
    row = ROWS["si-const-T-flux"]
    cells = conduction.graded_cells_m(0.6, 400, 1.015)
    k, rc = solid(row["inputs"])
    found, _ = march(
        cells, np.full(400, k), np.full(400, rc), 20.0, 0.0, 0.5, row["inputs"]["times_s"], surface=450.0
    )
    got = (450.0 - found[:, 0]) * k / (0.5 * cells[0])
    # 0.5 s steps of first order: half a percent at the first minute, where the flux still falls steeply.
    assert got == pytest.approx(row["expect"], rel=5e-3)
    assert got[2] == pytest.approx(row["expect"][2], rel=5e-4)


def test_hot_gas_warms_a_thick_wall_as_the_closed_form_says():
    row = ROWS["si-convection"]
    inputs = row["inputs"]
    cells = brick(0.8, 800)
    k, rc = solid(inputs)
    found, faces = march(
        cells, np.full(800, k), np.full(800, rc), inputs["T_initial_C"], 0.0, 5.0, [inputs["time_s"]],
        surface=inputs["T_gas_C"], film_w_m2k=inputs["h_W_m2K"],
    )
    deeper = np.interp(inputs["depths_m"][1:], np.cumsum(cells) - 0.5 * cells, found[0])
    assert [faces[0], *deeper] == pytest.approx(row["expect"], rel=5e-4)  # 5 s steps, as above


def test_meat_on_a_hot_floor_meets_it_where_the_effusivity_rule_says():
    row = ROWS["si-contact"]
    floor, meat = row["inputs"]["floor"], row["inputs"]["meat"]
    grown = conduction.graded_cells_m(0.2, 200, 1.02)
    cells = np.concatenate([grown[::-1], grown])
    (k_floor, rc_floor), (k_meat, rc_meat) = solid(floor), solid(meat)
    k, rc = np.r_[np.full(200, k_floor), np.full(200, k_meat)], np.r_[np.full(200, rc_floor), np.full(200, rc_meat)]
    start = np.r_[np.full(200, float(floor["T_C"])), np.full(200, float(meat["T_C"]))]
    found, _ = march(cells, k, rc, start, 0.0, 1.0, [60.0, 600.0])
    assert seam(found, cells, k, 199) == pytest.approx([row["expect"]] * 2, rel=1e-3)


@pytest.mark.parametrize("place", [0, 1, 2])
def test_what_a_face_draws_at_first_is_its_effusivity(place):
    """A step of the face draws e / sqrt(pi t) for each kelvin: any heat-transfer text."""
    row = ROWS["si-effusivity"]
    k, rc = solid(row["inputs"][("firebrick", "soapstone", "meat")[place]])
    cells = conduction.graded_cells_m(0.6, 300, 1.02)
    found, _ = march(cells, np.full(300, k), np.full(300, rc), 20.0, 0.0, 1.0, [1800.0], surface=120.0)
    flux = (120.0 - found[0, 0]) * k / (0.5 * cells[0])
    assert flux * np.sqrt(np.pi * 1800.0) / 100.0 == pytest.approx(row["expect"][place], rel=2e-3)


def test_heat_goes_as_deep_and_takes_as_long_as_the_diffusion_scales_say():
    """At the depth sqrt(alpha t) a held face has sent erfc(1/2) of its step; a slab held on one face levels out with
    4/pi2 of L2/alpha: the same texts."""
    row = ROWS["slab-penetration"]
    inputs = row["inputs"]
    k, rc = solid(inputs)
    cells = brick(0.4, 800)
    found, _ = march(cells, np.full(800, k), np.full(800, rc), 0.0, 0.0, 5.0, [inputs["time_s"]], surface=100.0)
    centres = np.cumsum(cells) - 0.5 * cells
    assert np.interp(-100.0 * erfc(0.5), -found[0], centres) == pytest.approx(row["expect"][0], rel=1e-3)
    for thickness_m, diffusion_h in zip(inputs["thickness_m"], row["expect"][1:], strict=True):
        times = [0.5 * diffusion_h * 3600.0, diffusion_h * 3600.0]
        found, _ = march(
            brick(thickness_m, 100), np.full(100, k), np.full(100, rc), 0.0, 0.0, times[1] / 2000, times, surface=100.0
        )
        left = 100.0 - found[:, -1]
        level_h = (times[1] - times[0]) / 3600.0 / np.log(left[0] / left[1])
        assert level_h * np.pi**2 / 4 == pytest.approx(diffusion_h, rel=2e-3)


def test_a_constant_flux_heats_a_thick_wall_as_the_closed_form_says():
    row = ROWS["si-const-flux"]
    cells = brick(0.6, 600)
    found, faces = march(cells, np.full(600, 1.0), np.full(600, 2100 * 950.0), 0.0, 6000.0, 5.0, [3600.0])
    centres = np.cumsum(cells) - 0.5 * cells
    assert faces[0] == pytest.approx(row["expect"][0], rel=1e-3)
    assert np.interp(0.03, centres, found[0]) == pytest.approx(row["expect"][1], rel=1e-3)


def test_a_slab_soaks_after_raking_as_the_cosine_series_says():
    cells = brick(0.115, 230)
    centres = np.cumsum(cells) - 0.5 * cells
    start = 450.0 + (100.0 - 450.0) * centres / 0.115
    times = [3600 * hours for hours in ROWS["slab-soak"]["inputs"]["times_h"]]
    found, _ = march(cells, np.full(230, 1.0), np.full(230, 2100 * 950.0), start, 0.0, 5.0, times)
    assert found[:, 0] == pytest.approx(ROWS["slab-soak"]["expect"], rel=2e-3)
    assert found[:, -1] == pytest.approx(ROWS["slab-soak-back"]["expect"], rel=2e-3)


def test_a_heated_slab_reaches_both_faces_as_the_series_says():
    row = ROWS["slab-flux"]
    cells = brick(0.115, 230)
    found, faces = march(cells, np.full(230, 1.0), np.full(230, 2100 * 950.0), 20.0, 6000.0, 5.0, [7200.0])
    assert [faces[0], found[0][-1]] == pytest.approx(row["expect"], rel=1e-3)


@pytest.mark.parametrize(("cells", "dt_s", "within"), [(60, 30.0, 0.002), (6, 300.0, 0.03)])
def test_fire_and_soak_of_an_insulated_wall(cells, dt_s, within):
    """The fine grid must meet the row; the grid and step that the oven uses may be off by 3 %."""
    row = ROWS["num-fire-and-soak"]
    back = max(cells // 2, 3)
    thickness = np.concatenate(
        [
            conduction.graded_cells_m(0.115, cells, 1.5 if cells == 6 else 1.0),
            conduction.graded_cells_m(0.075, back, 1.5 if cells == 6 else 1.0),
        ]
    )
    k = np.r_[np.full(cells, 1.0), np.full(back, 0.09)]
    rc = np.r_[np.full(cells, 2100 * 950.0), np.full(back, 128 * 1100.0)]
    times = [3600 * hours for hours in row["inputs"]["times_h"]]
    found, faces = march(
        thickness, k, rc, 20.0, lambda at_s: 6000.0 if at_s < 7200 else 0.0, dt_s, times, far_w_m2k=10.0
    )
    assert faces == pytest.approx(row["expect"], rel=within)
    behind = ROWS["num-fire-interface"]
    # Behind a few thick cells heat comes early: a share of the hottest face, not of what is still cool.
    most = 0.002 if cells == 60 else 0.02
    assert seam(found, thickness, k, cells - 1) == pytest.approx(behind["expect"], abs=most * max(row["expect"]))


def test_a_hot_floor_cools_into_its_board():
    row = ROWS["num-floor-cooling"]
    thickness = np.concatenate([brick(0.065, 40), brick(0.1, 40)])
    k, rc = np.r_[np.full(40, 1.0), np.full(40, 0.1)], np.r_[np.full(40, 2100 * 950.0), np.full(40, 240 * 900.0)]
    start = np.r_[np.full(40, 300.0), np.full(40, 20.0)]
    times = [3600 * hours for hours in row["inputs"]["times_h"]]
    found, faces = march(thickness, k, rc, start, 0.0, 30.0, times, far_w_m2k=8.0)
    assert faces == pytest.approx(row["expect"], rel=1e-3)
    behind = ROWS["num-floor-interface"]
    assert seam(found, thickness, k, 39) == pytest.approx(behind["expect"], rel=behind["tolerance_rel"])


def test_the_error_falls_with_the_first_power_of_the_step_and_the_second_of_the_cell():
    def hot_face(cells, dt_s):
        _, faces = march(
            brick(0.115, cells), np.full(cells, 1.0), np.full(cells, 2100 * 950.0), 20.0, 6000.0, dt_s, [7200.0]
        )
        return faces[0]

    true = ROWS["slab-flux"]["expect"][0]
    in_time = [abs(hot_face(400, dt_s) - true) for dt_s in (400.0, 200.0, 100.0)]
    assert np.log2(in_time[0] / in_time[1]) == pytest.approx(1.0, abs=0.2)
    assert np.log2(in_time[1] / in_time[2]) == pytest.approx(1.0, abs=0.2)
    in_space = [abs(hot_face(cells, 0.5) - true) for cells in (5, 10, 20)]
    assert np.log2(in_space[0] / in_space[1]) == pytest.approx(2.0, abs=0.3)
    assert np.log2(in_space[1] / in_space[2]) == pytest.approx(2.0, abs=0.3)


def test_steady_flux_through_brick_blanket_and_films():
    row = ROWS["ss-composite"]
    thickness = np.concatenate([brick(0.115, 10), brick(0.075, 10)])
    k = np.r_[np.full(10, 1.0), np.full(10, 0.09)]
    half = 0.5 * thickness / k
    storage = np.full((20, 1), 1e-9)
    far = 1.0 / (1.0 / 10.0 + half[-1])
    folded = conduction.eliminate(storage, conduction.links_w_m2k(half[:, None]), storage * 20.0, far, 20.0)
    flux = (300.0 - folded.rest_k) / (1.0 / 12.0 + half[0] + folded.rise_k_m2_w)
    temp = conduction.substitute(folded, flux)
    assert float(flux[0]) == pytest.approx(row["expect"][0], rel=1e-4)
    middle = 0.5 * (temp[9] + temp[10]) + 0.5 * flux * (half[10] - half[9])
    assert float(middle[0]) == pytest.approx(row["expect"][2], rel=1e-4)


def shell_loss_w_m2(power, radius_m, row_layers, film_in, film_out, hot_c, cold_c, cells=200):
    """Steady loss for each square metre of inner face of a wall whose area grows with that power of the radius."""
    thickness = np.concatenate([brick(length, cells) for length, _ in row_layers])
    k = np.concatenate([np.full(cells, each) for _, each in row_layers])
    half = 0.5 * thickness / k
    swell = (1.0 + np.r_[0.0, np.cumsum(thickness)] / radius_m) ** power
    storage = np.full((2 * cells, 1), 1e-9)
    link = conduction.links_w_m2k(half[:, None], swell[1:-1, None])
    far = swell[-1] / (1.0 / film_out + half[-1])
    folded = conduction.eliminate(storage, link, storage * cold_c, far, cold_c)
    return float(((hot_c - folded.rest_k) / (1.0 / film_in + half[0] + folded.rise_k_m2_w))[0])


def test_curved_walls_lose_as_cylinder_and_hemisphere_do():
    """Cells take the resistance at their middle: 200 of them leave 2e-4 of the closed form."""
    barrel, dome = ROWS["ss-cylinder"], ROWS["ss-hemisphere"]
    layers = [(each["L_m"], each["k_W_mK"]) for each in barrel["inputs"]["layers"]]
    case = (layers, barrel["inputs"]["h_in_W_m2K"], barrel["inputs"]["h_out_W_m2K"], 300.0, 20.0)
    assert shell_loss_w_m2(1.0, 0.5, *case) * np.pi == pytest.approx(barrel["expect"], rel=1e-3)
    assert shell_loss_w_m2(2.0, 0.5, *case) * 2 * np.pi * 0.25 == pytest.approx(dome["expect"], rel=1e-3)


def test_the_oven_loses_between_a_barrel_and_a_dome():
    """The oven's own dome column, its nine cells and its one power for both shapes, with the row's walls and films."""
    barrel, dome = ROWS["ss-cylinder"], ROWS["ss-hemisphere"]
    mean, _sd = prior(OvenWords(across_m=1.0, dome_m=0.115, insulation_m=0.075))
    told = {"dome_k_w_mk": 1.0, "insulation_k_w_mk": 0.09, "outer_w_m2k": 10.0}
    for name, value in told.items():
        mean[ROW[name]] = np.log(value)
    built = model.build(OvenNumbers(mean[:, None]), None)
    half, ratio = built.half_20_m2k_w[:, 2], built.face_ratio[:, 2]
    wall = half[0] + ((half[:-1] + half[1:]) / ratio).sum() + 1.0 / built.far_w_m2k[2]
    loss = 280.0 / (1.0 / 12.0 + wall)
    assert barrel["expect"] / np.pi < loss < dome["expect"] / (2 * np.pi * 0.25)


def test_a_blanket_whose_conductivity_grows_passes_what_its_mean_heat_says():
    row = ROWS["ss-kirchhoff"]
    inputs = row["inputs"]
    k_20 = inputs["k0_W_mK"] + 20 * inputs["k1_W_mK_per_C"]
    blanket = materials.Material("row", k_20, inputs["k1_W_mK_per_C"] / k_20, 1000.0, 0.0, 100.0, 0.1, row["source"])
    cells = brick(inputs["L_m"], 100)
    temp = np.full(100, 200.0)
    for _ in range(30):
        half = 0.5 * cells / blanket.conductivity_w_mk(temp + 273.15)
        storage = np.full((100, 1), 1e-9)
        folded = conduction.eliminate(
            storage, conduction.links_w_m2k(half[:, None]), 0.0 * storage, 1.0 / half[-1], inputs["T_cold_C"]
        )
        flux = (inputs["T_hot_C"] - folded.rest_k) / (half[0] + folded.rise_k_m2_w)
        temp = conduction.substitute(folded, flux)[:, 0]
    assert float(flux[0]) == pytest.approx(row["expect"], rel=row["tolerance_rel"])


def test_enthalpy_decides_how_far_a_cell_warms():
    """C d + S d2 / 2 is the heat that went in: the definition of a capacity that grows with temperature."""
    rise = np.array([[120.0], [-80.0], [0.0]])
    reach = np.array([[4e-4], [4e-4], [4e-4]])
    true = conduction.true_rise_k(rise, reach)
    assert true + 0.5 * reach * true**2 == pytest.approx(rise, rel=1e-12)
