"""Radiation, the open mouth and firewood against the rows of tests/data/published/oven.json and the library `ht`."""

from __future__ import annotations

import json
from dataclasses import replace
from pathlib import Path

import ht
import numpy as np
import pytest
from scipy.optimize import brentq

from skills.kitchen.instruments import GUN_SD_K, HAND_SD_LOG, hand_count_c, usual_log_count
from skills.kitchen.personal import SPREAD
from skills.oven import model
from skills.oven.parameters import ROW, OvenNumbers, OvenWords, prior
from skills.physics import combustion, convection, radiation

ROWS = {
    row["id"]: row
    for row in json.loads((Path(__file__).parents[1] / "data" / "published" / "oven.json").read_text(encoding="utf-8"))
}


def check(name, got):
    row = ROWS[name]
    assert got == pytest.approx(row["expect"], rel=row["tolerance_rel"]), row["source"]


def test_black_emission():
    check("rad-black", [radiation.black_emission_w_m2(each + 273.15) for each in ROWS["rad-black"]["inputs"]["T_C"]])
    assert radiation.black_emission_w_m2(500.0) == pytest.approx(ht.q_rad(1.0, 500.0), rel=1e-5)


def test_parallel_planes():
    check("rad-parallel", radiation.parallel_exchange_w_m2(673.15, 523.15, 0.9, 0.9))


def test_a_pot_in_a_dome():
    check(
        "rad-small-in-large",
        radiation.two_surface_exchange_w((1.57, 0.0707), (0.9, 0.85), 0.0707 / 1.57, 573.15, 373.15),
    )


def test_dome_to_floor():
    area = 2 * np.pi * 0.25
    got = radiation.two_surface_exchange_w((area, area / 2), (0.9, 0.85), 0.5, 673.15, 573.15)
    assert got == pytest.approx(ROWS["rad-floor-dome"]["expect"][0], rel=1e-4)


def test_the_mouth_of_a_cavity_is_nearly_black():
    got = radiation.cavity_opening_emissivity(0.88, 2.2435, 0.1125)
    loss = got * 0.1125 * (radiation.black_emission_w_m2(573.15) - radiation.black_emission_w_m2(293.15))
    check("rad-cavity", [got, loss])


def row_mouth(inside_c=300.0, **told):
    """The oven whose mouth is that of the rows, 0.45 by 0.25 m, hot throughout, in a yard at 20 degC."""
    mean, _sd = prior(OvenWords(across_m=0.9, ambient_k=293.15))
    for name, value in {"mouth": 0.1125 / (0.14 * 0.9**2), **told}.items():
        mean[ROW[name]] = np.log(value)
    numbers = OvenNumbers(mean[:, None])
    built = model.build(numbers, None)
    hot = np.full(1, inside_c + 273.15)
    state = model.start(numbers)
    state = replace(state, star_k=hot, air_k=hot, face_k=np.tile(hot, (3, 1)))
    return numbers, built, state


def test_an_open_oven_sees_the_yard_through_a_black_mouth():
    row = ROWS["rad-mouth-table"]
    for inside_c, expect in zip(row["inputs"]["T_in_C"], row["expect"], strict=True):
        numbers, built, state = row_mouth(inside_c)
        yard_w_k, _air = model._losses(state, numbers, built, model.Inputs(np.ones(1)), np.zeros(1))
        assert float((yard_w_k * (state.star_k - 293.15) / built.mouth_m2)[0]) == pytest.approx(
            expect, rel=row["tolerance_rel"]
        )


def test_the_star_network_is_near_the_exact_enclosure():
    """The oven's single radiation node against the radiosity solution with an open mouth.

    It has to be within 15 %: it leaves out which surface sees which, and the films and unknowns of an oven are wider.
    """
    row = ROWS["rad-3surface-opening"]
    dome, mouth = 2 * np.pi * 0.25 - 0.1125, 0.1125
    floor = np.pi * 0.25
    area, emissivity = np.array([floor, dome, mouth]), np.array([0.85, 0.9, 1.0])
    flat = np.array([floor, floor, mouth])
    power = radiation.star_conductance_m2(area, emissivity, flat, flat.sum())
    black = radiation.black_emission_w_m2(np.array([573.15, 623.15, 293.15]))
    star = (power * black).sum() / power.sum()
    assert power * (black - star) == pytest.approx(row["expect"], rel=0.15)


def test_linear_coefficient_is_exact():
    check("lump-linear-hrad", radiation.linear_w_m2k(573.15, 373.15))


def test_an_infrared_gun_reads_low_on_dull_brick():
    row = ROWS["ir-t4"]
    got = [
        radiation.infrared_reads_k(true + 273.15, emissivity, 0.95, around + 273.15, 298.15) - 273.15
        for true, emissivity, around in row["inputs"]["cases"]
    ]
    check("ir-t4", got)


def planck_power(celsius):
    """How fast the signal in the middle of 8 to 14 um grows with temperature: x / (1 - exp(-x)), Planck's law."""
    x = 14388.0 / 10.6 / (celsius + 273.15)
    return x / (1.0 - np.exp(-x))


@pytest.mark.parametrize("case", range(11))
def test_a_gun_of_one_band_reads_as_the_integral_over_its_band(case):
    """A power of the temperature stands for the band: 3 K on brick, soot and iron, 4 K on bright steel."""
    row = ROWS["ir-band"]
    inputs = row["inputs"]
    true_c, emissivity, around_c = inputs["cases"][case]
    got = radiation.infrared_reads_k(
        true_c + 273.15, emissivity, inputs["eps_set"], around_c + 273.15, inputs["T_bg_assumed_C"] + 273.15,
        planck_power(max(true_c, around_c)),
    )
    assert got - 273.15 == pytest.approx(row["expect"][case], abs=3.0 if emissivity > 0.5 else 4.0)


def test_the_doubt_of_a_gun_holds_what_dull_and_sooty_brick_does_to_it():
    """Emissivity 0.85 to 0.93 (emissivity tables), set at 0.95: gun, spot and who holds it, 2 deviations."""
    row = ROWS["ir-band"]
    mean, sd = prior(OvenWords())
    middle = mean[ROW["gun_bias_k"]] + mean[ROW["gun_dome_k"]]
    spread = np.hypot(np.hypot(sd[ROW["gun_bias_k"]], sd[ROW["gun_dome_k"]]), np.hypot(GUN_SD_K, SPREAD["infrared"]))
    brick = [place for place, case in enumerate(row["inputs"]["cases"]) if case[1] > 0.8]
    assert len(brick) == 5
    for place in brick:
        assert abs(row["expect"][place] - row["inputs"]["cases"][place][0] - middle) < 2.0 * spread


def test_air_through_an_open_mouth():
    flow = convection.doorway_exchange_kg_s(0.45, 0.25, 573.15, 293.15)
    check("door-flow", [convection.neutral_height_share(573.15, 293.15), flow])


def test_the_refrigeration_doorway_is_the_same_law():
    """The handbook's form is ours with a discharge of 0.663 (algebra: 0.221 = 0.663 / 3)."""
    check("door-flow-doorway", convection.doorway_exchange_kg_s(0.45, 0.25, 573.15, 293.15, discharge=0.663))


def test_hot_gas_at_wall_heat_would_lose_what_the_row_says():
    """The long form to the row's 0.2 % and the 0.4 % by which heat capacities differ; the oven's short form to 15 %."""
    row = ROWS["door-heat"]
    long = convection.doorway_exchange_kg_s(0.45, 0.25, 573.15, 293.15) * convection.AIR_HEAT_CAPACITY_J_KGK * 280.0
    assert long == pytest.approx(row["expect"], rel=row["tolerance_rel"] + 0.004)
    numbers, built, state = row_mouth(leak_w_k=1e-9)
    _yard, air_w_k = model._losses(state, numbers, built, model.Inputs(np.ones(1)), np.zeros(1))
    assert float(air_w_k[0]) * 280.0 == pytest.approx(row["expect"], rel=0.15)


def test_small_differences_give_the_handbook_doorway():
    flow = convection.doorway_exchange_kg_s(0.9, 2.1, 295.15, 291.15)
    got = flow / convection.air_density_kg_m3(293.15)
    assert got == pytest.approx(
        ROWS["door-flow-boussinesq"]["expect"], rel=0.01
    )  # small-difference form of the same law


def test_an_open_oven_with_hot_walls_settles_where_film_and_flow_agree():
    row = ROWS["door-coupled"]

    def surplus(gas_k):
        flow = convection.doorway_exchange_kg_s(0.45, 0.25, gas_k, 293.15)
        return 6.0 * 2.2435 * (573.15 - gas_k) - flow * 1010 * (gas_k - 293.15)

    gas_k = brentq(surplus, 294.0, 573.0)
    assert [gas_k - 273.15, 6.0 * 2.2435 * (573.15 - gas_k)] == pytest.approx(row["expect"], rel=row["tolerance_rel"])


@pytest.mark.parametrize("inside_c", [80.0, 150.0, 300.0, 500.0])
def test_the_short_form_of_the_mouth_is_near_the_long_one(inside_c):
    inside_k, outside_k = inside_c + 273.15, 288.15
    short = convection.mouth_coefficient_w_k(0.45, 0.25) * np.sqrt(1 - outside_k / inside_k)
    long = convection.doorway_exchange_kg_s(0.45, 0.25, inside_k, outside_k) * convection.AIR_HEAT_CAPACITY_J_KGK
    assert short == pytest.approx(long, rel=0.15)  # it fixes the neutral height; the mouth's size is less well known


def test_heating_value_of_wood():
    got = [combustion.heating_value_mj_kg(each) for each in ROWS["wood-ncv"]["inputs"]["moisture_wet_pct"]]
    check("wood-ncv", got)
    table = [
        combustion.heating_value_mj_kg(each, 19.0) for each in ROWS["wood-ncv-table"]["inputs"]["moisture_wet_pct"]
    ]
    check("wood-ncv-table", table)


def test_moisture_meter_basis():
    assert combustion.wet_basis_pct(25.0) == pytest.approx(20.0)
    assert combustion.wet_basis_pct(0.0) == 0.0


def test_a_fire_behind_a_mouth_can_burn_only_so_fast():
    check("fire-burn-limit", combustion.opening_limited_kg_s(0.1125, 0.25))


def test_a_burning_charge_gives_off_all_its_heat_whatever_the_steps():
    """Conservation, and the exact two-stage decay chain: many small steps equal one large one."""

    def burnt(steps):
        flame, ember = np.array([60e6]), np.array([5e6])
        out = 0.0
        for _ in range(steps):
            flame, ember, flamed, glowed = combustion.burn(
                flame, ember, np.array([900.0]), np.array([2700.0]), 14400.0 / steps
            )
            out += float((flamed + glowed)[0])
        return flame[0], ember[0], out

    one, many = burnt(1), burnt(288)
    assert one == pytest.approx(many, rel=1e-9)
    assert sum(one) == pytest.approx(65e6, rel=1e-12)


def test_a_hand_count_points_into_the_band_of_the_skin_model():
    """Derived skin model of the heat reference, section 10; a count is good to 45 K at best."""
    row = ROWS["hand-model"]
    for wall_c, short_s, long_s in zip(row["inputs"]["T_wall_C"], *row["expect"], strict=True):
        assert hand_count_c((short_s * long_s) ** 0.5) == pytest.approx(wall_c, abs=25.0)


def counts_over_ours(seconds, fahrenheit):
    """Logarithm of our usual hand's seconds over a chart's at the chart's own heat."""
    heat_k = (np.array(fahrenheit, dtype=float) - 32.0) / 1.8 + 273.15
    return usual_log_count(heat_k) - np.log(seconds)


def test_a_grills_chart_is_our_count_read_by_another_hand():
    """A magazine's chart for a hand 3 in. over a grate: a grill's thermometer says less of what the hand feels than an
    oven's walls do, and its seconds are one factor under ours, which is learnt as a person's own way of counting."""
    row = ROWS["hand-grill-chart"]
    middles = [np.mean([float(each) for each in span.split("-")]) for span in row["inputs"]["seconds"]]
    over = counts_over_ours(middles, row["expect"])
    assert np.abs(over - over.mean()).max() < 2.0 * HAND_SD_LOG
    assert abs(over.mean()) < 2.5 * SPREAD["hand"]


@pytest.mark.xfail(
    strict=True,
    reason="the table falls by 28 K a second to 93 degC at 8 s, which a hand bears for minutes by the skin model: "
    "one factor (1.6 in the logarithm) leaves 1.0 of it over",
)
def test_the_camp_ovens_table_is_our_count_read_by_another_hand():
    row = ROWS["hand-camp-oven"]
    over = counts_over_ours(row["inputs"]["seconds"], row["expect"])
    assert np.abs(over - over.mean()).max() < 2.0 * HAND_SD_LOG
