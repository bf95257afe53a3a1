"""L. monocytogenes in meat emulsion that was heated slowly (Lett Appl Microbiol 1991, abstract)."""
from __future__ import annotations

import numpy as np
import pytest

from skills.safety import lethality
from tests.published.safety_rows import ROWS

ROW = ROWS["d-listeria-slow"]
PAIRS = list(zip(ROW["inputs"]["temps_c"], ROW["expect"], strict=True))


def test_z_of_the_slow_line() -> None:
    row = ROWS["d-listeria-slow-z"]
    got = lethality.z_of(np.array(row["inputs"]["temps_c"]), np.array(row["inputs"]["d_min"]))
    assert got == pytest.approx(row["expect"], abs=row["tolerance"])


def test_two_minutes_at_seventy_are_not_six_logs_after_a_slow_rise() -> None:
    row = ROWS["d-listeria-slow-70"]
    inputs = row["inputs"]
    dose = inputs["minutes"] * lethality.rate(inputs["temp_c"], inputs["z_c"], inputs["ref_temp_c"])
    assert dose / inputs["d_ref_min"] == pytest.approx(row["expect"], abs=row["tolerance"])
    assert row["expect"] < 6.0


@pytest.mark.parametrize(("core", "d_min"), PAIRS)
def test_what_is_asked_after_a_slow_rise_is_six_logs_or_more(core: float, d_min: float) -> None:
    slow = lethality.need_min(ROW["inputs"]["heating_rate_c_per_min"])
    assert lethality.hold_min(core, slow) / d_min >= 6.0


def test_a_fast_rise_asks_for_the_plain_two_minutes() -> None:
    assert lethality.need_min(5.0) == lethality.NEED_MIN
