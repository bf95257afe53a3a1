"""Conduction and storage in brick against closed forms and grid-converged references (tests/data/published/oven.json).

Source of each value: the row's `source`. Tolerance: the row's own, or what a grid of stated size can give (said there).
"""

from __future__ import annotations

import json
from pathlib import Path

import ht
import numpy as np
import pytest

from skills.physics import conduction, materials

ROWS = {
    row["id"]: row
    for row in json.loads((Path(__file__).parents[1] / "data" / "published" / "oven.json").read_text(encoding="utf-8"))
}


def march(thickness_m, k_w_mk, rc_j_m3k, start_c, flux_w_m2, dt_s, times_s, far_w_m2k=0.0, far_c=20.0, surface=None):
    """One column of cells under a face flux (number or function of time), or a face held at surface = (degC);
    returns the cells at times_s, and the face."""
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
            # Face held: flux through half a cell into the folded system.
            flux = (surface - folded.rest_k) / (half[0] + folded.rise_k_m2_w)
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
    _, faces = march(thickness, k, rc, 20.0, lambda at_s: 6000.0 if at_s < 7200 else 0.0, dt_s, times, far_w_m2k=10.0)
    assert faces == pytest.approx(row["expect"], rel=within)


def test_a_hot_floor_cools_into_its_board():
    row = ROWS["num-floor-cooling"]
    thickness = np.concatenate([brick(0.065, 40), brick(0.1, 40)])
    k, rc = np.r_[np.full(40, 1.0), np.full(40, 0.1)], np.r_[np.full(40, 2100 * 950.0), np.full(40, 240 * 900.0)]
    start = np.r_[np.full(40, 300.0), np.full(40, 20.0)]
    times = [3600 * hours for hours in row["inputs"]["times_h"]]
    _, faces = march(thickness, k, rc, start, 0.0, 30.0, times, far_w_m2k=8.0)
    assert faces == pytest.approx(row["expect"], rel=1e-3)


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


def test_enthalpy_decides_how_far_a_cell_warms():
    """C d + S d2 / 2 is the heat that went in: the definition of a capacity that grows with temperature."""
    rise = np.array([[120.0], [-80.0], [0.0]])
    reach = np.array([[4e-4], [4e-4], [4e-4]])
    true = conduction.true_rise_k(rise, reach)
    assert true + 0.5 * reach * true**2 == pytest.approx(rise, rel=1e-12)


@pytest.mark.parametrize("celsius", [400.0, 600.0])
def test_fireclay_conducts_and_stores_as_the_handbook_table_says(celsius):
    """VDI Heat Atlas, as carried by ht: k within 3 %, c within 3 % (a straight line through it)."""
    kelvin = celsius + 273.15
    assert materials.FIRECLAY.conductivity_w_mk(kelvin) == pytest.approx(
        ht.refractory_VDI_k("Fireclay", kelvin), rel=0.03
    )
    assert materials.FIRECLAY.heat_capacity_j_kgk(kelvin) == pytest.approx(
        ht.refractory_VDI_Cp("Fireclay", kelvin), rel=0.03
    )


def test_common_brick_is_the_handbook_one():
    """ASHRAE Fundamentals 2013, as carried by ht."""
    assert materials.COMMON_BRICK.conductivity_20_w_mk == pytest.approx(
        ht.k_material("Brick, fired clay, 1920 kg/m^3"), rel=1e-6
    )


@pytest.mark.parametrize("material", materials.MATERIALS, ids=lambda each: each.name)
def test_no_material_leaves_the_plausible(material):
    """Ranges of the heat reference, section 1: 0.03 to 7 W/m/K, 50 to 3000 kg/m3, 700 to 1400 J/kg/K at 20 degC."""
    assert 0.03 <= material.conductivity_20_w_mk <= 7.0
    assert 50.0 <= material.density_kg_m3 <= 3000.0
    assert 700.0 <= material.heat_capacity_20_j_kgk <= 1400.0
    assert material.conductivity_w_mk(873.15) > material.conductivity_20_w_mk
    assert material.source
