"""Ovens that were measured as they cooled with the door on: owners' readings from forums and blogs, each row its own.

Rows of tests/data/published/ovens_measured.json. Median of the members within the row's 20 % where the build is told;
where hardly anything is told, 8 in 10 members hold the value between them.
"""
from __future__ import annotations

from itertools import pairwise

import numpy as np
import pytest

from tests.published.ovens import BARE, BRICK, DRY, OPEN, PIZZA_C, ROWS, SHUT, TIGHT, Oven, holds, near

INSULATED = (BRICK, DRY, TIGHT)
SOAKED_H = 7.0                  # three hours to heat and an evening of pizza (common practice, no source)


def after_pizza(*told, damp=False, **more):
    """Insulated brick dome, warm from the day before, after hours of pizza; raked, as it was read."""
    oven = Oven.of(*INSULATED, *told, damp=damp, start_k=24.0, **more)
    return oven.fire_to(PIZZA_C + 15.0, SOAKED_H).rake().reads(PIZZA_C)


def is_near(oven, row, place):
    """Whether the inside is near the row's reading, that many readings after the first."""
    got = oven.rest(row["inputs"]["times_h"][place], SHUT).inside_c()
    return near(got, row["expect"][place], row["tolerance_rel"])


@pytest.mark.parametrize("place", [1, 2, 3])
def test_a_damp_base_costs_a_dome_a_quarter_of_its_heat_in_a_day(place):
    """Wet vermiculite concrete under the floor (0.4 W/m/K: from memory) and brick that holds 3 % of water."""
    assert is_near(after_pizza(underlay_k_w_mk=0.4, moisture=0.03), ROWS["meas-dome-door-A"], place)


@pytest.mark.parametrize("place", [1, 2, 3])
def test_the_same_dome_dry_holds_its_heat_for_days(place):
    assert is_near(after_pizza(), ROWS["meas-dome-door-B"], place)


@pytest.mark.parametrize("place", [1, pytest.param(2, marks=pytest.mark.xfail(
    strict=True, reason="158 where 204 was read: that reading is of a time constant of 91 h between two days of 40 h")),
    3, 4])
def test_the_same_dome_through_a_week(place):
    assert is_near(after_pizza(), ROWS["meas-dome-door-D"], place)


@pytest.mark.parametrize("place", [1, pytest.param(2, marks=pytest.mark.xfail(
    strict=True, reason="116 where 93 was read (112 would do): the bridge takes heat from the floor brick itself, "
    "where the model has it at the air"))])
def test_a_slab_of_soapstone_under_the_door_is_a_bridge(place):
    """Soapstone 6.4 W/m/K (a stove maker's table): 5 cm of it, half a metre wide, through 11 cm of doorway."""
    bridge_w_k = 6.4 * 0.05 * 0.5 / 0.11
    assert is_near(after_pizza(leak_w_k=TIGHT["leak_w_k"] + bridge_w_k), ROWS["meas-dome-door-C"], place)


def test_the_derived_time_constants_are_those_of_such_ovens():
    """Row tau-derived, the pairs with a door on; a time constant from two readings of 20 % is good to 40 %."""
    dome, row = after_pizza(), ROWS["tau-derived"]
    read = [dome.inside_c()] + [dome.rest(24.0, SHUT).inside_c() for _ in range(3)]
    taus = [24.0 / np.log((before - 20.0) / (after - 20.0)) for before, after in pairwise(read)]
    assert all([near(tau, expect, 0.4) for tau, expect in zip(taus, row["expect"][:3], strict=True)])  # noqa: C419
    massive = soaked_massive()
    later = massive.inside_c(), massive.rest(111.0, SHUT).inside_c()
    assert near(111.0 / np.log((later[0] - 20.0) / (later[1] - 20.0)), row["expect"][3], 0.4)


def soaked_massive():
    """8 in. of brick, two doors one before the other, read in the morning after a day's fire."""
    row = ROWS["meas-massive-outerdoor"]
    oven = Oven.of(DRY, dome_m=0.203, floor_m=0.10, door_w_m2k=0.5, leak_w_k=0.4)
    return oven.fire_to(400.0, 8.0).rake().rest(12.0, SHUT).reads(row["expect"][0])


def test_a_massive_oven_with_two_doors_is_warm_after_five_days():
    row = ROWS["meas-massive-outerdoor"]
    assert near(soaked_massive().rest(111.0, SHUT).inside_c(), row["expect"][1], row["tolerance_rel"])


def test_a_new_low_dome_levels_out_over_night():
    """Crown 300 and sides 170 at closing, of which the model's one dome is the mean; the floor under its coals as the
    crown."""
    row = ROWS["meas-castdome-17h"]
    crown_c, sides_c = row["inputs"]["dome_C"], row["inputs"]["sides_C"]
    oven = Oven.of(DRY, TIGHT, dome_area=1.6).fire_to(crown_c, 7.0).reads(0.5 * (crown_c + sides_c), crown_c)
    assert near(oven.rest(17.0, SHUT).inside_c(), row["expect"], row["tolerance_rel"])


@pytest.mark.parametrize("place", [pytest.param(1, marks=pytest.mark.xfail(
    strict=True, reason="152 (129 to 184) where 204 was read: how much was burning is not told, and the model's embers "
    "are gone in two hours also where they get no air")), 2])
def test_a_curing_fire_that_is_left_to_die(place):
    """Size not told; brick, damp, its door on once the fire is low."""
    row = ROWS["meas-cure-fire"]
    oven = Oven.of(BRICK, damp=True).fire_to(row["expect"][0] + 10.0, 5.0).reads(row["expect"][0])
    assert holds(oven.rest(row["inputs"]["times_h"][place], SHUT).inside_c(), row["expect"][place])


def test_a_tunnel_under_rock_wool_is_bread_warm_next_day():
    """Floor of 100 by 62 cm, thick rock wool all round; 200 degC when the last bread comes out."""
    row = ROWS["meas-tunnel-24h"]
    oven = Oven.of(DRY, TIGHT, across_m=0.89, insulation_m=0.20).fire_to(400.0, 3.0).rake().rest(4.0, SHUT)
    assert near(oven.reads(200.0).rest(24.0, SHUT).inside_c(), row["expect"], row["tolerance_rel"])


@pytest.mark.parametrize("place", [pytest.param(0, marks=pytest.mark.xfail(
    strict=True, reason="229 (205 to 257) where 300 is told: more than eight hours of fire at 500 put into 9 in.")),
    1])
def test_nine_inches_of_brick_under_rock_wool(place):
    row = ROWS["meas-thick-rockwool"]
    oven = Oven.of(DRY, TIGHT, dome_m=0.229, floor_m=0.115, insulation_m=0.20).fire_to(500.0, 8.0).rake()
    assert near(oven.rest(row["inputs"]["times_h"][place], SHUT).inside_c(), row["expect"][place],
                row["tolerance_rel"])


def test_a_batch_oven_is_baking_hot_an_hour_after_closing():
    row = ROWS["meas-massbread-week"]
    oven = Oven.of(INSULATED[0], DRY, dome_m=0.15).fire_to(480.0, 6.0).rake().rest(1.25, OPEN).rest(1.5, SHUT)
    assert near(oven.inside_c(), row["expect"][0], row["tolerance_rel"])


def test_a_batch_oven_is_hand_warm_at_the_end_of_the_week():
    row = ROWS["meas-massbread-week"]
    hours = row["inputs"]["hours_after_closing"]
    oven = Oven.of(INSULATED[0], DRY, dome_m=0.15).fire_to(480.0, 6.0).rake().rest(1.25, OPEN).rest(1.5, SHUT)
    assert holds(oven.reads(row["expect"][0]).rest(hours[1] - hours[0], SHUT).inside_c(), row["expect"][1])


def test_a_dense_oven_falls_to_bread_heat_in_the_hour_after_raking():
    row = ROWS["meas-closed-hour"]
    oven = Oven.of(dome_m=0.15).fire_to(row["expect"][0] + 10.0, row["inputs"]["fire_h"]).rake()
    oven.reads(row["expect"][0])
    assert near(oven.rest(1.0, SHUT).inside_c(), row["expect"][1], row["tolerance_rel"])


def test_coals_left_behind_a_door_keep_a_dome_hot_over_night():
    row = ROWS["meas-smoulder-night"]
    oven = Oven.of(BRICK, DRY, across_m=1.09, dome_area=2.0).fire_to(500.0, row["inputs"]["fire_h"])
    assert near(oven.rest(row["inputs"]["hours_after"], SHUT).inside_c(), row["expect"], row["tolerance_rel"])


@pytest.mark.parametrize("place", [0, 1])
def test_a_village_oven_falls_as_its_makers_say(place):
    """Size not told; 20 kg of wood in two hours and a quarter, then the first two hours and a half, and two more."""
    row = ROWS["meas-rate-village"]
    hours = sum(row["inputs"]["fire_h"]) / 2
    oven = Oven.of().burn(hours, row["inputs"]["wood_kg"] / hours).rake()
    read = [oven.inside_c(), oven.rest(0.5, SHUT).inside_c(), oven.rest(2.5, SHUT).inside_c(),
            oven.rest(2.0, SHUT).inside_c()][1:]
    assert holds((read[place] - read[place + 1]) / (2.5, 2.0)[place], row["expect"][place])


def bare_clay():
    """Bare clay walls at 260 once it is sealed."""
    oven = Oven.of(BARE, dome_m=0.12, leak_w_k=0.3).fire_to(420.0, 2.0).rake().rest(0.5, SHUT)
    return oven.reads(ROWS["meas-clay-roundhouse"]["expect"][2])


def test_the_air_of_a_clay_oven_falls_by_a_hundred_while_it_is_swabbed():
    row = ROWS["meas-clay-roundhouse"]
    assert near(bare_clay().rest(0.25, OPEN).air_c(), row["expect"][1], row["tolerance_rel"])


@pytest.mark.xfail(strict=True, reason="116 (101 to 131) where 164 was read: 12 cm of bare clay, fired for two hours; "
                                       "its owners' walls may be thicker or sunk in earth")
def test_a_bare_clay_oven_is_hot_six_hours_on():
    row = ROWS["meas-clay-roundhouse"]
    assert near(bare_clay().rest(6.0, SHUT).inside_c(), row["expect"][3], row["tolerance_rel"])


def test_a_load_of_small_loaves_takes_ninety_degrees_off_a_thin_oven():
    """Floor of 10 cm, half-pavers, 8 cm of insulating castable (0.4 W/m/K: a maker's table), pine door; 12 pieces of
    250 g go in as it is raked, the mouth open for five minutes, and bake for 25 (common practice, no source)."""
    row = ROWS["meas-load-drop"]
    oven = Oven.of(floor_m=0.10, dome_m=0.05, insulation_m=0.08, insulation_k_w_mk=0.40).fire_to(400.0, 1.5).rake()
    oven.reads(row["inputs"]["before_C"]).bake({"cut": "bread", "meat_kg": 3.0}, 5 / 60, 0.5)
    assert near(oven.inside_c(), row["expect"], row["tolerance_rel"])


def test_the_air_comes_up_when_the_door_shuts_on_a_dying_fire():
    """A rise of 58 K in four minutes, then a fall."""
    row = ROWS["meas-air-rebound"]
    oven = Oven.of(across_m=0.6).fire_to(450.0, 2.5).rest(0.5, OPEN)
    begin = oven.air_c()
    rises = np.stack([oven.rest(1 / 12, SHUT).air_c() - begin for _ in range(12)])
    assert holds(rises.max(axis=0), row["expect"] - row["inputs"]["T_before_C"])
    assert np.median(rises[-1]) < np.median(rises.max(axis=0)) - 5.0
