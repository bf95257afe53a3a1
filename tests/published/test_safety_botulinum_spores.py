"""Non-proteolytic C. botulinum spores (FSA vacuum-packing training table, from industry guidelines 2006)."""
from __future__ import annotations

import pytest

from skills.safety import lethality
from tests.published.safety_rows import ROWS, ids


@pytest.mark.parametrize("row_id", ids("bot-np-"))
def test_minutes_for_six_logs(row_id: str) -> None:
    row = ROWS[row_id]
    assert lethality.spores_6log_min(row["inputs"]["core_temp_c"]) == pytest.approx(row["expect"], abs=row["tolerance"])
