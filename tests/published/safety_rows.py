"""Rows of tests/data/published/safety_checks.json; each names its source and how it was read."""
from __future__ import annotations

import json
from pathlib import Path

PATH = Path(__file__).parents[1] / "data" / "published" / "safety_checks.json"
ROWS = {row["id"]: row for row in json.loads(PATH.read_text(encoding="utf-8"))}


def ids(*starts: str) -> list[str]:
    return [row_id for row_id in ROWS if row_id.startswith(starts)]
