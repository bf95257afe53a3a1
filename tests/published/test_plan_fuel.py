"""Wood of a plan against published figures of firings: rows of tests/data/published/oven.json, with their sources."""

from __future__ import annotations

import json
from pathlib import Path

import numpy as np
import pytest

from skills.oven import model as oven
from skills.physics.combustion import heating_value_mj_kg, opening_limited_kg_s
from skills.planning import course
from skills.planning.course import FEED_EVERY_S, FEED_PIECES, STEP_S, Firing, Watch
from skills.planning.wood import stack
from tests.planning import helpers

ROWS = {
    row["id"]: row
    for row in json.loads((Path(__file__).parents[1] / "data" / "published" / "oven.json").read_text(encoding="utf-8"))
}
MEASURED = {
    row["id"]: row
    for row in json.loads(
        (Path(__file__).parents[1] / "data" / "published" / "ovens_measured.json").read_text(encoding="utf-8")
    )
}


def test_the_kilograms_of_a_plan_follow_the_heating_value_of_the_published_rows():
    row = ROWS["wood-ncv"]
    moistures, expect = row["inputs"]["moisture_wet_pct"][:6], row["expect"][:6]
    kg = [stack(float(each), "wet").kg(10.0) for each in moistures]
    # So much wood at each moisture as gives the heat of 10 kg at 20 %, by the row's own values.
    at_20 = expect[moistures.index(20)]
    told = [each / kg[moistures.index(20)] for each in kg]
    assert told == pytest.approx([at_20 / each for each in expect], rel=1e-3)


def test_a_dry_basis_reading_is_less_by_total_weight():
    row = ROWS["wood-basis"]
    assert stack(row["inputs"]["dry_pct"]).wet_pct == pytest.approx(row["expect"][0])


@pytest.fixture(scope="module")
def fired():
    """A cold dome fired for two and a half hours and raked, as a plan fires it: shares and masses of its members."""
    start = helpers.start(members=60)
    ensemble = course.tiled(start.ensemble, start.ensemble.names[0], 1)
    begin = int(np.ceil(ensemble.at_s / STEP_S)) * STEP_S
    full = np.full(60, FEED_PIECES * course.piece_kg(ensemble))
    lit, raked = np.full(60, float(begin)), np.full(60, begin + 2.5 * 3600)
    firing = Firing(np.full(60, -np.inf), lit, raked, raked + STEP_S, full, np.zeros(60), course.heat_j_kg(ensemble),
                    ensemble.numbers["rake_left"])
    before = oven.stored_j(ensemble.state, ensemble.built, ensemble.numbers)
    hot = course.run(ensemble, firing, begin + int(2.5 * 3600), Watch(ensemble))
    after = oven.stored_j(hot.state, hot.built, hot.numbers)
    numbers, built = ensemble.numbers, ensemble.built
    brick_kg = oven.BRICK_KG_M3 * (built.floor_m2 * numbers["floor_m"] + built.dome_m2 * numbers["dome_m"])
    share = (after - before) / (firing.kg * firing.heat_j_kg)
    return {"share": share, "kg": firing.kg, "brick_kg": brick_kg}


def test_the_share_of_the_heat_that_the_masonry_keeps_is_that_of_batch_firings(fired):
    """Heat reference 8: 0.20 to 0.45 for a firing of 1.5 to 3 h, derived from the rows below and 57 % at the most."""
    middle = float(np.median(fired["share"]))
    assert 0.20 <= middle <= 0.45
    assert float(np.quantile(fired["share"], 0.95)) <= ROWS["oven-heat-stored"]["expect"][1]


def test_a_firing_takes_a_twentieth_to_a_thirtieth_of_the_bricks_weight_in_wood(fired):
    """The builders' rule, for bricks at a mean of 240 degC; the firing here leaves them cooler, hence the slack."""
    low, high = min(ROWS["oven-wood-rule"]["inputs"]["wood_per_brick"]), max(
        ROWS["oven-wood-rule"]["inputs"]["wood_per_brick"])
    share = float(np.median(fired["kg"] / fired["brick_kg"]))
    assert 0.7 * low <= share <= 1.3 * high


def test_no_more_is_burnt_than_the_mouth_lets_air_in_for_and_no_less_than_on_an_open_hearth():
    row = ROWS["fire-burn-limit"]["inputs"]
    limit_kg_h = 3600.0 * float(opening_limited_kg_s(row["A_m2"], row["H_m"]))
    start = helpers.start(members=60)
    kg_h = FEED_PIECES * course.piece_kg(start.ensemble) * 3600.0 / FEED_EVERY_S
    assert min(MEASURED["meas-hearth-birch"]["expect"]) <= kg_h <= limit_kg_h


def test_wood_in_a_plan_is_reckoned_at_a_heating_value_near_fifteen():
    """Heat reference 8, table of NCV0 19: 15.79 and 14.72 MJ/kg at 15 and 20 % water."""
    low, high = ROWS["wood-ncv-table"]["expect"][2], ROWS["wood-ncv-table"]["expect"][1]
    assert 0.97 * low <= float(heating_value_mj_kg(stack(None).wet_pct)) <= high
