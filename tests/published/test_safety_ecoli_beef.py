"""E. coli O157:H7 in lean ground beef (Int J Food Microbiol 1997;35:231-237, abstract)."""
from __future__ import annotations

import numpy as np
import pytest

from skills.safety import lethality
from tests.published.safety_rows import ROWS, ids

D_ROWS = [row_id for row_id in ids("d-o157-") if row_id != "d-o157-z"]


def test_z_from_the_five_values() -> None:
    row = ROWS["d-o157-z"]
    got = lethality.z_of(np.array(row["inputs"]["temps_c"]), np.array(row["inputs"]["d_min"]))
    assert got == pytest.approx(row["expect"], abs=row["tolerance"])


@pytest.mark.parametrize("row_id", D_ROWS)
def test_a_pass_on_the_meter_is_six_logs_or_more(row_id: str) -> None:
    """From 60 degC; below it the meter gives no credit, however long."""
    row = ROWS[row_id]
    core, d_min = row["inputs"]["temp_c"], row["expect"]
    if core < lethality.CREDIT_FROM_C:
        long = lethality.equivalent_min(np.array([0.0, 20 * d_min * 60.0]), np.array([core, core]))
        assert long[-1] == 0.0
    else:
        assert lethality.hold_min(core) / d_min >= 6.0
