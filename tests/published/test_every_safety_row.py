"""Every row of safety_checks.json is accounted for: the file that tests it, or why nothing here can."""
from __future__ import annotations

import re
from pathlib import Path

from tests.published.safety_rows import ROWS

HERE = Path(__file__).parent
# The start of the ids, and the file that reads those rows: one source a file.
TESTED = {
    "test_safety_fsa_list.py": ("leth-",),
    "test_safety_fsis_table.py": ("fsis-", "lim-fsis-stab", "us-comeup"),
    "test_safety_ecoli_beef.py": ("d-o157-",),
    "test_safety_listeria_slow.py": ("d-listeria-",),
    "test_safety_botulinum_spores.py": ("bot-",),
    "test_safety_perfringens_model.py": ("mu-beef-", "mu-chicken-", "mu-pork-", "mu-max-", "lag-", "g-",
                                      "gt-beef-41-model"),
    "test_safety_perfringens_observed.py": ("gt-", "spore-", "g-beef-obs-", "g-turkey-", "g-beef-1994-", "g-pork-2012-",
                                            "g-roastbeef-", "g-chili-"),
    "test_safety_other_growth.py": ("mu-bulk-", "mu-braised-", "mu-bc-", "mu-cb-", "card-"),
    "test_safety_ashrae_slab.py": ("slab-", "cyl-", "chill-slab-", "chill-square-", "chill-2pt-"),
    "test_safety_chill_observed.py": ("chill-obs-",),
    "test_safety_limits.py": ("lim-", "us-2h", "haz-"),
    "test_tender_times.py": ("tender-pot-", "tender-short-", "tender-lamb-", "tender-shank", "tender-1"),
}
NOT_TESTED = {
    "tender-58": "shear of muscle at 58 degC: the finish model stands for dissolving above 80 and is not used there",
    "tender-60-old": "animals of 12 to 17 years at 60 degC: the same, and nobody braises there",
    "colour-63": "no model of colour is kept",
    "tender-model-95": "a working line drawn through tender-150 and tender-100, which are tested themselves",
    "tender-model-86": "the same line",
}


def _file_of(row_id: str) -> str | None:
    """The file whose start fits the id best."""
    fits = [(len(start), name) for name, starts in TESTED.items() for start in starts if row_id.startswith(start)]
    return max(fits)[1] if fits else None


def _reads(name: str, row_id: str) -> bool:
    text = (HERE / name).read_text(encoding="utf-8")
    starts = {start for call in re.findall(r"ids\(([^)]*)\)", text) for start in re.findall(r'"([^"]+)"', call)}
    return f'"{row_id}"' in text or any(row_id.startswith(start) for start in starts)


def test_every_row_is_tested_or_has_its_reason() -> None:
    for row_id in ROWS:
        name = _file_of(row_id)
        assert (name is None) == (row_id in NOT_TESTED), row_id
        if name is not None:
            assert _reads(name, row_id), (row_id, name)


def test_every_reason_is_for_a_row() -> None:
    assert NOT_TESTED.keys() <= ROWS.keys()
