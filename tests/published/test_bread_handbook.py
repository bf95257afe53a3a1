"""Loaf against the table of a bakers' handbook of what happens in a loaf by its heat (Hamelman, Bread)."""
from __future__ import annotations

import json
from pathlib import Path

import pytest

from skills.dish import model
from skills.dish.prior import Said
from tests.dish.helpers import ZERO_K, medians, steady

PATH = Path(__file__).parents[1] / "data" / "published" / "baking.json"
WHOLE_DEGREES_K = 0.5      # the table gives no halves; salted water boils some tenths over 100 degC (water tables)
ROWS = {row["id"]: row for row in json.loads(PATH.read_text(encoding="utf-8"))}


@pytest.mark.parametrize("celsius", [200.0, 230.0, 250.0])
def test_a_loaf_that_is_called_baked_has_set_in_the_middle_and_is_no_hotter_than_a_loaf_gets(celsius: float) -> None:
    parameters = medians(Said(cut="loaf", meat_kg=0.8))
    state = model.initial_state(parameters, ZERO_K + 20.0, ZERO_K + 20.0)
    for _ in range(180):
        state, _ = model.step(state, parameters, steady(celsius, 1), 60.0)
        if model.tender(state, parameters)[0]:
            break
    core_c = float(model.core_k(state, parameters)[0]) - ZERO_K
    assert model.tender(state, parameters)[0]
    assert core_c > ROWS["wheat-starch-set"]["expect"][1]
    low, high = ROWS["loaf-core-most"]["expect"]
    assert low <= core_c <= high + WHOLE_DEGREES_K


def test_crust_takes_colour_within_the_range_of_the_table() -> None:
    onset_c = float(medians(Said(cut="loaf", meat_kg=0.8)).onset_k[0]) - ZERO_K
    low, high = ROWS["crust-colours"]["expect"]
    assert low <= onset_c <= high
