"""Choi and Okos food properties against the ASHRAE 2006 values of a property library, and old measured tables.

Each row of tests/data/published/food_properties.json names its source.
"""
from __future__ import annotations

import json
from pathlib import Path

import pytest

from skills.physics.food import ASHRAE_WATER_HEAT_CAPACITY, COMPONENTS, Composition, _at, heat_properties

PATH = Path(__file__).parents[1] / "data" / "published" / "food_properties.json"
ROWS = {row["id"]: row for row in json.loads(PATH.read_text(encoding="utf-8"))}
COMPONENT_ROWS = {"food-water": "water", "food-protein": "protein", "food-fat": "fat", "food-carb": "carbohydrate",
                  "food-fibre": "fibre", "food-ash": "ash"}


@pytest.mark.parametrize(("row_id", "name"), COMPONENT_ROWS.items())
def test_each_component_has_the_library_values(row_id: str, name: str) -> None:
    row, component = ROWS[row_id], COMPONENTS[name]
    capacity = ASHRAE_WATER_HEAT_CAPACITY if name == "water" else component.heat_capacity
    got = [float(_at(curve, celsius)) for celsius in row["inputs"]["T_C"]
           for curve in (component.conductivity, component.density, capacity)]
    assert got == pytest.approx(row["expect"], rel=row["tolerance_rel"])


@pytest.mark.parametrize("row_id", [row_id for row_id in ROWS if row_id.startswith("food-mix-")])
def test_mixtures_of_database_foods_have_the_computed_values(row_id: str) -> None:
    row = ROWS[row_id]
    share = {name: percent / 100 for name, percent in row["inputs"]["mass_pct"].items()}
    made_of = Composition(share["water"], share["protein"], share["fat"],
                          share["carbohydrate_total"] - share["fibre"], share["fibre"], share["ash"])
    heat = heat_properties(made_of, row["inputs"]["T_C"])
    diffusivity = heat.parallel_w_mk / heat.density_kg_m3 / heat.heat_capacity_j_kgk
    got = [heat.parallel_w_mk, heat.series_w_mk, heat.density_kg_m3, heat.heat_capacity_j_kgk, diffusivity]
    assert got == pytest.approx(row["expect"], rel=row["tolerance_rel"])


def test_heat_capacities_lie_near_the_measured_tables() -> None:
    """The table gives the water only; protein, fat and starch of the rest are usual values, from memory."""
    row = ROWS["food-cp-table"]
    made_of = [Composition(0.72, 0.21, 0.06), Composition(0.70, 0.20, 0.09), Composition(0.60, 0.17, 0.22),
               Composition(0.882, 0.009, 0.002, 0.07, 0.028), Composition(0.75, 0.02, 0.001, 0.20, 0.022)]
    got = [heat_properties(each, 20.0).heat_capacity_j_kgk for each in made_of]
    assert got == pytest.approx(row["expect"], rel=row["tolerance_rel"])


def test_water_capacity_is_nearer_to_the_steam_tables_than_the_ashrae_print() -> None:
    """4184 J/kg/K at 20 degC: steam tables."""
    ours = float(_at(COMPONENTS["water"].heat_capacity, 20.0))
    printed = float(_at(ASHRAE_WATER_HEAT_CAPACITY, 20.0))
    assert abs(ours - 4184) < abs(printed - 4184)
    assert ours == pytest.approx(4184, rel=0.003)


def test_conductivity_stays_between_its_bounds_for_every_cut() -> None:
    """Parallel layers are the upper bound and layers in series the lower (any heat-transfer text)."""
    from skills.dish.cuts import CUTS
    for cut in CUTS:
        heat = heat_properties(cut.made_of, 60.0)
        assert heat.series_w_mk <= heat.conductivity_w_mk <= heat.parallel_w_mk
        assert heat.series_w_mk > 0.2
        assert heat.parallel_w_mk < 0.66     # no food conducts better than water at 60 degC, 0.65 W/m/K
        assert 900 < heat.density_kg_m3 < 1300
        assert 2000 < heat.heat_capacity_j_kgk < 4200
