"""Chilling as seen in kitchens, one source a row: bounds on the range that is told (the slow edge is cautious)."""
from __future__ import annotations

import math

import numpy as np
import pytest

from skills.safety import chill
from tests.published.safety_rows import ROWS

LITRES_PER_GALLON = 3.785
LONG_S = 120 * 3600.0


def hours(vessel: chill.Vessel, method: str, start_c: float, mark_c: float) -> tuple[float, float, float]:
    got = chill.chill_time(vessel, method, start_c, mark_c, horizon_s=LONG_S) / 3600.0
    return float(got[1]), float(got[len(got) // 2]), float(got[-2])


def test_two_inch_pan_in_a_refrigerator_misses_both_us_limits() -> None:
    """Food Protection Trends 2013;33:27-31."""
    row = ROWS["chill-obs-fridge51"]
    pan = chill.tray(row["inputs"]["depth_cm"])
    assert row["expect"] == 0
    assert hours(pan, "fridge", 57.0, 21.0)[1] > 2.0
    assert hours(pan, "fridge", 57.0, 5.0)[1] > 6.0


def test_only_stronger_cold_than_a_refrigerator_passes_at_that_depth() -> None:
    """Same study: a walk-in freezer alone met both limits; here colder and moving air stand for it."""
    row = ROWS["chill-obs-freezer"]
    freezer = chill.Method("in a freezer", 25.0, 1.3, -18.0, 2.0)
    at = np.arange(0.0, 6 * 3600.0 + 1, 120.0)
    cooled = chill.curves(chill.tray(row["expect"]), freezer, 57.0, at)
    assert np.median(chill.first_below(at, cooled, 21.0)) <= 2 * 3600.0
    assert np.median(chill.first_below(at, cooled, 5.0)) <= 6 * 3600.0


def test_two_gallon_tub_takes_about_what_was_seen_or_longer() -> None:
    """US state extension page: about 10 h to 41 degF in a 40 degF cooler; chili turns over, so the quick edge."""
    row = ROWS["chill-obs-2gal"]
    quick, _, slow = hours(chill.pot(row["inputs"]["volume_gal"] * LITRES_PER_GALLON), "fridge", 60.0, 5.0)
    assert quick <= row["expect"] + row["tolerance"] <= slow


def test_five_gallon_bucket_is_not_there_after_twenty_hours() -> None:
    row = ROWS["chill-obs-bucket"]
    assert hours(chill.pot(5 * LITRES_PER_GALLON), "fridge", 60.0, 5.0)[1] > row["expect"]


@pytest.mark.parametrize("vessel", [chill.pot(3.0), chill.tray(6.0)], ids=["pot of 3 l", "6 cm tub"])
def test_leftovers_in_a_home_refrigerator_lie_in_the_range(vessel: chill.Vessel) -> None:
    """J Food Prot 1981;44:513: 13 to over 22 h from 140 to 45 degF; sizes not in the abstract."""
    low, high = ROWS["chill-obs-home"]["expect"]
    quick, _, slow = hours(vessel, "fridge", 60.0, 7.2)
    assert quick < low
    assert slow > 0.9 * high


def test_fourteen_gallons_of_stew_take_days() -> None:
    """Cooling Rates of Foods, 1973: 84 h from 115 to 50 degF. The told range ends sooner, all past any rule."""
    row = ROWS["chill-obs-stew"]
    quick, mid, slow = hours(chill.pot(row["inputs"]["volume_gal"] * LITRES_PER_GALLON), "fridge", 46.1, 10.0)
    assert 6.0 < quick < row["expect"]
    assert mid > 24.0
    assert slow > 48.0


def test_a_fan_roughly_halves_it() -> None:
    """J Food Prot 1981;44:513, abstract."""
    still, fan = (hours(chill.tray(5.0), method, 57.0, 21.0)[1] for method in ("fridge", "fan"))
    assert 0.3 < fan / still < 0.7


def test_deep_pot_on_ice_is_acceptable_only_if_stirred() -> None:
    """US state extension page: 10 in deep in an ice bath, stirred, acceptable (both US limits)."""
    deep = chill.pot(2 * LITRES_PER_GALLON)
    assert hours(deep, "ice", 57.0, 21.0)[1] < 2.0
    assert hours(deep, "ice", 57.0, 5.0)[1] < 6.0
    assert hours(deep, "ice_still", 57.0, 21.0)[1] > 2.0


def test_turkey_roast_hours_are_those_of_the_growth_rows() -> None:
    """J Food Prot 2006;69(1): the three cooling times are the inputs of the growth bounds."""
    got = [ROWS[f"g-turkey-cm{each}"]["inputs"]["hours"] for each in (1, 3, 4)]
    assert got == ROWS["chill-obs-roast"]["expect"]


def test_nothing_chills_in_a_room() -> None:
    """Newton's law: no body falls below what surrounds it."""
    assert math.isinf(hours(chill.tray(2.5), "room", 60.0, 8.0)[0])
