"""FSA core temperature list (as UK training pages give it) and its convention: 70 degC 2 min, z 7.5 degC."""
from __future__ import annotations

import numpy as np
import pytest

from skills.safety import lethality
from tests.published.safety_rows import ROWS, ids


def steady(celsius: float, minutes: float) -> float:
    return float(lethality.equivalent_min(np.array([0.0, minutes * 60]), np.array([celsius, celsius]))[-1])


@pytest.mark.parametrize("row_id", ids("leth-fsa-"))
def test_printed_hold_passes_and_is_the_line_rounded_up(row_id: str) -> None:
    row = ROWS[row_id]
    core = row["inputs"]["core_temp_c"]
    assert lethality.FSA_LIST_MIN[core] == row["expect"]
    assert steady(core, row["expect"]) >= lethality.NEED_MIN - 1e-9
    assert lethality.hold_min(core) <= row["expect"] <= 1.2 * lethality.hold_min(core)


@pytest.mark.parametrize("row_id", ids("leth-z-"))
def test_hold_that_equals_two_minutes_at_seventy(row_id: str) -> None:
    row = ROWS[row_id]
    inputs = row["inputs"]
    got = lethality.hold_min(inputs["core_temp_c"], inputs["ref_minutes"], inputs["z_c"], inputs["ref_temp_c"])
    assert got == pytest.approx(row["expect"], abs=row["tolerance"])


def test_time_below_sixty_earns_nothing() -> None:
    """The list ends at 60 degC (row leth-z-55 is arithmetic only)."""
    assert steady(59.9, 600.0) == 0.0
    ramp = lethality.equivalent_min(np.array([0.0, 3600.0]), np.array([40.0, 60.0]))
    assert ramp[-1] == 0.0


@pytest.mark.parametrize("row_id", ids("leth-eq-"))
def test_equivalent_minutes_of_a_steady_hold(row_id: str) -> None:
    row = ROWS[row_id]
    assert steady(row["inputs"]["core_temp_c"], row["inputs"]["minutes"]) == pytest.approx(
        row["expect"], abs=row["tolerance"])


@pytest.mark.parametrize("row_id", ids("leth-ramp-"))
@pytest.mark.parametrize("pieces", [1, 7, 600])
def test_equivalent_minutes_of_a_straight_rise_at_any_sampling(row_id: str, pieces: int) -> None:
    row = ROWS[row_id]
    begin, end = row["inputs"]["core_temps_c"]
    at = np.linspace(0.0, row["inputs"]["times_min"][1] * 60.0, pieces + 1)
    got = lethality.equivalent_min(at, np.linspace(begin, end, pieces + 1))[-1]
    assert got == pytest.approx(row["expect"], abs=row["tolerance"])


def test_logs_of_listeria_credited_at_63() -> None:
    row = ROWS["leth-log-63x60"]
    got = steady(row["inputs"]["core_temp_c"], row["inputs"]["minutes"]) * lethality.LOGS_PER_MIN
    assert got == pytest.approx(row["expect"], abs=row["tolerance"])
