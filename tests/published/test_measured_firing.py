"""Ovens that were measured as they were fired: papers' abstracts and builders' readings, each row its own.

Rows of tests/data/published/ovens_measured.json; see test_measured_door_on.py for what is asked.
"""
from __future__ import annotations

import numpy as np
import pytest

from skills.oven import model
from tests.published.ovens import BRICK, DRY, MEMBERS, ROWS, SHUT, Oven, holds, near


@pytest.mark.parametrize("place", [pytest.param("vault", marks=pytest.mark.xfail(
    strict=True, reason="308 (203 to 487) where 546 +- 53 was measured: its size is not told, and the model gives the "
    "vault a fifth to a third of a flame's heat and holds one body of gas")), "floor"])
def test_a_pilot_pizza_oven_on_three_kilograms_an_hour(place):
    """Size not told. (Its third figure, 13 % into water or pizza, is of a load that the model does not have.)"""
    row = ROWS["meas-pilot-pizza"]
    oven = Oven.of(DRY).burn(5.0, row["inputs"]["wood_kg_h"])
    got = oven.dome_c() if place == "vault" else oven.floor_c()
    assert holds(got, row["expect"][("vault", "floor").index(place)])


def test_eight_inches_of_brick_take_eight_hours_to_600_fahrenheit():
    """Fired hard (dome at the heat of the pilot oven's vault), raked, levelled for two hours: the hours of fire that
    leave it at 316."""
    row = ROWS["meas-heavy-fire-time"]
    levels, vault_c = [], ROWS["meas-pilot-pizza"]["expect"][0]
    hours = np.array([4.0, 6.0, 8.0, 10.0])
    for each in hours:
        oven = Oven.of(dome_m=row["inputs"]["mass_thickness_m"], floor_m=0.10).fire_to(vault_c, each)
        levels.append(float(np.median(oven.rake().rest(2.0, SHUT).inside_c())))
    took = np.interp((row["inputs"]["T_F"] - 32.0) / 1.8, levels, hours)
    assert near(np.full(MEMBERS, took), row["expect"], row["tolerance_rel"])


def test_ninety_minutes_of_fire_bring_a_bake_house_to_300():
    """Nine kilograms an hour, which a village oven burns: row meas-rate-village."""
    row, village = ROWS["meas-bakehouse-90min"], ROWS["meas-rate-village"]["inputs"]
    kg_h = village["wood_kg"] / (sum(village["fire_h"]) / 2)
    oven = Oven.of().burn(row["inputs"]["fire_min"] / 60, kg_h)
    assert near(oven.inside_c(), row["expect"], row["tolerance_rel"])


def test_the_back_of_the_brick_has_hardly_heard_of_a_short_fire():
    row = ROWS["meas-brick-back-lag"]
    oven = Oven.of(BRICK).fire_to(275.0, row["inputs"]["fire_h"])
    assert near(oven.dome_c(1.0), row["expect"], row["tolerance_rel"])


def test_the_underside_of_the_slab():
    """Steady, at baking heat: sand 0.3 (dry), board 0.08 (hot), lintel of concrete 1.3 W/m/K (from memory) as one
    backing of the same thickness and resistance."""
    row = ROWS["meas-floor-underside"]
    layers = ((0.015, 0.3), (0.080, 0.08), (0.072, 1.3))
    thickness_m = sum(each for each, _ in layers)
    k = thickness_m / sum(each / conductivity for each, conductivity in layers)
    oven = Oven.of(floor_m=0.072, underlay_m=thickness_m, underlay_k_w_mk=k)
    half = oven.built.half_20_m2k_w[:, :MEMBERS]
    through = 2.0 * half[:-1].sum(axis=0) + half[-1] + 1.0 / oven.built.far_w_m2k[:MEMBERS]
    under = 20.0 + (row["inputs"]["T_oven_C"] - 20.0) / through / model.STAND_W_M2K
    assert near(under, row["expect"], row["tolerance_rel"])


@pytest.mark.xfail(strict=True, reason="366 (245 to 475) where 540 was read, with the face at 627: the crown, where "
                                       "the thermocouple sat, is hotter than the one dome of the model")
def test_the_middle_of_a_dome_brick_after_four_hours_of_oak():
    row = ROWS["meas-midbrick-4h"]
    oven = Oven.of(BRICK, DRY).fire_to(650.0, row["inputs"]["fire_h"], up=0.25)
    assert near(oven.dome_c(0.5), row["expect"], row["tolerance_rel"])
