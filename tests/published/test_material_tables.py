"""Materials and pans against the tables that the library `ht` carries; rows of tests/data/published/oven.json.

VDI Heat Atlas (refractories), ASHRAE Fundamentals 2013 (brick, insulation), DIN EN 12524 (metals).
"""
from __future__ import annotations

import json
from pathlib import Path

import ht
import numpy as np
import pytest

from skills.dish.pans import find_pan
from skills.oven.parameters import ROW, UNKNOWNS, OvenWords, prior
from skills.physics import materials

PATH = Path(__file__).parents[1] / "data" / "published" / "oven.json"
ROWS = {row["id"]: row for row in json.loads(PATH.read_text(encoding="utf-8"))}


def deviations(name: str, value: float) -> float:
    """How many deviations of the prior of an oven that nobody described a value lies from its middle."""
    mean, sd = prior(OvenWords())
    return abs(float(UNKNOWNS[ROW[name]].forward(value)) - mean[ROW[name]]) / sd[ROW[name]]


@pytest.mark.parametrize(("place", "within"), [(0, 0.03), (1, 0.03), (2, 0.04)])
def test_fireclay_conducts_and_stores_as_the_table_says(place: int, within: float) -> None:
    """400 to 800 degC, the end of the model's range: straight lines through the table."""
    row = ROWS["mat-fireclay"]
    kelvin = row["inputs"]["T_C"][place] + 273.15
    assert row["inputs"]["rho_kg_m3"] == materials.FIRECLAY.density_kg_m3
    assert materials.FIRECLAY.conductivity_w_mk(kelvin) == pytest.approx(row["expect"][place], rel=within)
    assert materials.FIRECLAY.heat_capacity_j_kgk(kelvin) == pytest.approx(row["expect"][5 + place], rel=within)
    assert ht.refractory_VDI_k("Fireclay", kelvin) == pytest.approx(row["expect"][place], rel=row["tolerance_rel"])


def test_common_brick_is_that_of_the_table_at_its_density_and_its_spread_holds_the_others() -> None:
    """The table's five densities, 1600 to 2240 kg/m3: within two deviations of ours, the middle one exactly."""
    row, brick = ROWS["mat-common-brick"], materials.COMMON_BRICK
    at = row["inputs"]["rho_kg_m3"].index(int(brick.density_kg_m3))
    assert brick.conductivity_20_w_mk == pytest.approx(row["expect"][at], rel=row["tolerance_rel"])
    assert np.abs(np.log(np.array(row["expect"]) / brick.conductivity_20_w_mk)).max() < 2.0 * brick.spread


@pytest.mark.parametrize("name", ["floor_k_w_mk", "dome_k_w_mk"])
def test_brick_cob_and_fireclay_are_bricks_that_an_oven_may_have(name: str) -> None:
    """An oven that nobody described: the tables' bricks, and cob by the R value of an old wall, within 2 deviations."""
    cob = ROWS["ss-Rvalue"]
    assert cob["expect"] == pytest.approx(ht.R_value_to_k(cob["inputs"]["R_imperial_per_inch"], SI=False), rel=1e-3)
    for value in (cob["expect"], *ROWS["mat-common-brick"]["expect"], ROWS["mat-fireclay"]["expect"][0]):
        assert deviations(name, value) < 2.0


def test_vermiculite_concrete_is_that_of_the_table_and_its_spread_holds_the_other_mixes() -> None:
    row, concrete = ROWS["mat-vermiculite"], materials.VERMICULITE_CONCRETE
    mixes = dict(zip((320.0, 480.0, 640.0, 800.0), row["expect"][1:], strict=True))
    assert concrete.conductivity_20_w_mk == pytest.approx(mixes[concrete.density_kg_m3], rel=row["tolerance_rel"])
    assert np.abs(np.log(np.array(list(mixes.values())) / concrete.conductivity_20_w_mk)).max() < 2.0 * concrete.spread


def test_what_people_insulate_with_is_what_an_oven_may_have() -> None:
    """Loose vermiculite, its concretes, light brick: over the dome and under the floor, within 2 deviations."""
    for value in (*ROWS["mat-vermiculite"]["expect"], *ROWS["mat-light-brick"]["expect"]):
        assert deviations("insulation_k_w_mk", value) < 2.0
        assert deviations("underlay_k_w_mk", value) < 2.0


def test_pans_hold_heat_as_their_metal_does() -> None:
    """Enamelled steel: a twentieth of its weight is glass of 800 J/kg/K (from memory), hence 7 %."""
    capacities = ROWS["mat-metals"]["expect"][2::3]
    for words, capacity, within in zip(("cast iron", "enamelled", "stainless"), capacities, (1e-6, 0.07, 1e-6),
                                       strict=True):
        assert find_pan(words)[0].capacity_j_kgk == pytest.approx(capacity, rel=within)


def test_a_pots_wall_is_one_temperature() -> None:
    """The pot is one node of the dish model: Biot number under 0.1 (any heat-transfer text) with 5 mm of each metal,
    under the film of a wet wall."""
    for words, conductivity in zip(("cast iron", "enamelled", "stainless"), ROWS["mat-metals"]["expect"][::3],
                                   strict=True):
        film = min(find_pan(words)[0].wall_film_w_m2k, 500.0)
        assert film * 0.0025 / conductivity < 0.1


@pytest.mark.parametrize("material", materials.MATERIALS, ids=lambda each: each.name)
def test_no_material_leaves_the_plausible(material: materials.Material) -> None:
    """Ranges of the heat reference, section 1: 0.03 to 7 W/m/K, 50 to 3000 kg/m3, 700 to 1400 J/kg/K at 20 degC."""
    assert 0.03 <= material.conductivity_20_w_mk <= 7.0
    assert 50.0 <= material.density_kg_m3 <= 3000.0
    assert 700.0 <= material.heat_capacity_20_j_kgk <= 1400.0
    assert material.conductivity_w_mk(873.15) > material.conductivity_20_w_mk
    assert material.source
