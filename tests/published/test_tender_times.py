"""Braising times as published timetables and the trade give them, against the dish model in a steady oven.

Timetables are bounds: animals and cuts differ by a factor of 1.5 to either side (the spread that
tests/dish/test_anchors.py checks), and no timetable says how hot the liquor went in.
"""
from __future__ import annotations

import pytest

from skills.dish.prior import Said
from tests.dish.helpers import SHOULDER, hours_to_tender, medians, steady
from tests.published.safety_rows import ROWS

KG_PER_LB = 0.4536
SPREAD = 1.5


def in_f(degf: float) -> float:
    return (degf - 32.0) / 1.8


@pytest.mark.parametrize(("row_id", "cut", "kg"), [
    ("tender-pot-roast", "chuck", 4 * KG_PER_LB), ("tender-short-rib", "short ribs", 2.25 * KG_PER_LB),
    ("tender-lamb-shoulder", "lamb shoulder", 4 * KG_PER_LB), ("tender-shank", "shank", 3 * KG_PER_LB),
])
def test_braises_of_the_timetables(row_id: str, cut: str, kg: float) -> None:
    """USDA Family Fare timetable; a US beef braising sheet, which gives the oven (325 F)."""
    row = ROWS[row_id]
    low, high = row["expect"]
    load = medians(Said(cut=cut, meat_kg=kg, liquid_l=0.5, pan="iron"))
    found = hours_to_tender(load, steady(in_f(row["inputs"]["oven_f"]), 1))[0]
    assert low / SPREAD <= found <= high * SPREAD


def test_braises_of_the_trade() -> None:
    """Common practice, no source: about 4 h at 150, 8 to 10 at 100."""
    row, slow = ROWS["tender-150"], ROWS["tender-100"]
    at = hours_to_tender(medians(SHOULDER), steady(row["inputs"]["oven_avg_c"], 1))[0]
    assert at == pytest.approx(row["expect"], abs=row["tolerance"])
    low, high = slow["expect"]
    assert low <= hours_to_tender(medians(SHOULDER), steady(slow["inputs"]["oven_avg_c"], 1))[0] <= high
