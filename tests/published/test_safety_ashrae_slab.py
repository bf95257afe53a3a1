"""ASHRAE Refrigeration, Cooling and Freezing Times of Foods: f and j of slab and cylinder; and the exact series."""
from __future__ import annotations

import numpy as np
import pytest

from skills.safety import chill
from skills.safety.packs import pack
from tests.published.safety_rows import ROWS, ids

K, CAPACITY = 0.5, 1040.0 * 3600.0


def f_and_j(shape: float, size_m: float, biot: float, cells: int = 120) -> tuple[float, float]:
    """f in units of L2/alpha, and j, from the late straight part of the simulated centre (sink 0, start 1)."""
    half = size_m / 2.0 if shape == 0.0 else size_m
    unit = half ** 2 * CAPACITY / K
    at = unit * np.array([0.0, 0.5, 1.0])
    vessel = chill.Vessel("", shape, size_m)
    got = chill.march(vessel, np.array([1.0]), at, np.array([biot * K / half]), np.array([0.0]), np.array([K]),
                      CAPACITY, cells=cells)[:, 0]
    slope = (np.log10(got[1]) - np.log10(got[2])) / 0.5
    return 1.0 / slope, float(got[1] * 10 ** (0.5 * slope))


@pytest.mark.parametrize("row_id", [each for each in ids("slab-fj-") if each != "slab-fj-inf"])
def test_slab_has_the_handbook_root_f_and_j(row_id: str) -> None:
    row = ROWS[row_id]
    root, f_want, j_want = row["expect"]
    f, j = f_and_j(0.0, 1.0, row["inputs"]["biot"])
    assert np.sqrt(np.log(10.0) / f) == pytest.approx(root, abs=row["tolerance"][0])
    assert f == pytest.approx(f_want, abs=row["tolerance"][1])
    assert j == pytest.approx(j_want, abs=row["tolerance"][2])


@pytest.mark.parametrize(("row_id", "shape"), [("slab-fj-inf", 0.0), ("cyl-fj-inf", 1.0)])
def test_strong_film_gives_the_handbook_limit(row_id: str, shape: float) -> None:
    row = ROWS[row_id]
    f, j = f_and_j(shape, 1.0, 1e7, 200)
    assert f == pytest.approx(row["expect"][0], abs=row["tolerance"])
    # The middle shell's mean lies a little under the very middle.
    assert j == pytest.approx(row["expect"][1], abs=row["tolerance"])


@pytest.mark.parametrize("row_id", ids("chill-slab-"))
def test_slab_cools_as_the_exact_series(row_id: str) -> None:
    row = ROWS[row_id]
    inputs = row["inputs"]
    at = np.arange(0.0, 30 * 3600.0, 60.0)
    got = chill.march(chill.tray(inputs["thickness_mm"] / 10.0), np.array([60.0]), at, np.array([inputs["h_w_m2k"]]),
                      np.array([inputs["air_temp_c"]]), np.array([inputs["k_w_mk"]]),
                      inputs["rho_kg_m3"] * inputs["cp_j_kgk"])
    for mark, want, reach in zip((21.0, 5.0), row["expect"], row["tolerance"], strict=True):
        assert chill.first_below(at, got, mark)[0] / 3600.0 == pytest.approx(want, abs=reach)


def test_twice_as_thick_takes_four_times_as_long() -> None:
    """Cooling Rates of Foods, 1973: time goes with the square of the least dimension."""
    row = ROWS["chill-square-law"]
    times = []
    for size in (0.5, 1.0):
        at = np.linspace(0.0, 3.0 * size ** 2 / 4.0 * CAPACITY / K, 4000)
        got = chill.march(chill.Vessel("", 0.0, size), np.array([60.0]), at, np.array([1e7]), np.array([0.0]),
                          np.array([K]), CAPACITY, cells=60)
        times.append(chill.first_below(at, got, 10.0)[0])
    assert times[1] / times[0] == pytest.approx(row["expect"], abs=row["tolerance"])


@pytest.mark.parametrize(("row_id", "place"), [("chill-2pt-stage1", 0), ("chill-2pt-total", 1)])
def test_two_point_rate_of_the_us_stages(row_id: str, place: int) -> None:
    """J Environ Health 2022: rate = log10((T1 - Td) / (T2 - Td)) / hours, Td 37 degF (from memory)."""
    row = ROWS[row_id]
    mark = pack("us").chill[place]
    driving_c = (row["inputs"]["driving_f"] - 32.0) / 1.8
    got = np.log10((mark.from_c - driving_c) / (mark.to_c - driving_c)) / (mark.within_min / 60.0)
    assert got == pytest.approx(row["expect"], abs=row["tolerance"])
