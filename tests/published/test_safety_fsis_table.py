"""USDA FSIS Appendix A (1999), dwell times for cooked beef, two web copies that agree."""
from __future__ import annotations

import numpy as np
import pytest

from skills.safety import growth, lethality
from skills.safety.packs import pack
from tests.published.safety_rows import ROWS, ids

TABLE = [row_id for row_id in ids("fsis-a-") if row_id.endswith("f")]
BELOW_158 = [row_id for row_id in TABLE if row_id != "fsis-a-158f"]


def seconds(row_id: str, column: int) -> float:
    row = ROWS[row_id]
    return row["expect"][column] * (60.0 if row["what"].endswith("minutes") else 1.0)


@pytest.mark.parametrize("row_id", TABLE)
def test_dwell_of_each_printed_row(row_id: str) -> None:
    core = ROWS[row_id]["inputs"]["core_temp_c"]
    assert lethality.fsis_dwell_s(core, 6.5) == seconds(row_id, 0)
    assert lethality.fsis_dwell_s(core, 7.0) == seconds(row_id, 1)


def test_no_dwell_is_offered_below_the_table() -> None:
    assert lethality.fsis_dwell_s(54.0) == float("inf")


@pytest.mark.parametrize(("row_id", "column"), [("fsis-a-z65", 0), ("fsis-a-z7", 1)])
def test_z_of_the_column(row_id: str, column: int) -> None:
    cores = [(ROWS[each]["inputs"]["core_temp_f"] - 32) / 1.8 for each in BELOW_158]
    got = lethality.z_of(np.array(cores), np.array([seconds(each, column) / 60 for each in BELOW_158]))
    assert len(BELOW_158) == ROWS[row_id]["inputs"]["rows"]
    assert got == pytest.approx(ROWS[row_id]["expect"], abs=ROWS[row_id]["tolerance"])


def test_fitted_dwell_at_sixty() -> None:
    row = ROWS["fsis-a-t60fit"]
    cores = np.array([(ROWS[each]["inputs"]["core_temp_f"] - 32) / 1.8 for each in BELOW_158])
    slope, cut = np.polyfit(cores, np.log10([seconds(each, 0) / 60 for each in BELOW_158]), 1)
    assert 10 ** (cut + slope * 60.0) == pytest.approx(row["expect"], abs=row["tolerance"])


@pytest.mark.parametrize("row_id", [each for each in BELOW_158 if ROWS[each]["inputs"]["core_temp_c"] >= 60.0])
def test_what_the_meter_asks_is_never_less_than_the_table(row_id: str) -> None:
    """Two equivalent minutes at 70 degC, z 7.5, are on the cautious side of the 7-log column from 60 degC up."""
    core = ROWS[row_id]["inputs"]["core_temp_c"]
    assert lethality.hold_min(core) * 60.0 >= lethality.fsis_dwell_s(core, 7.0)


def test_come_up_and_stabilisation_limits() -> None:
    assert pack("us").value("slow_rise_min") == ROWS["us-comeup"]["expect"] * 60
    assert not pack("us").figures["slow_rise_min"].firm
    assert ROWS["lim-fsis-stab"]["expect"] == growth.FAIL_LOG10
