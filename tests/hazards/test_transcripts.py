"""Whole classes in plain talk, both errors: a hazard whose prompt comes late, a calm class that is disturbed.

Each hazard's rule and limit stand in its header; the limits follow from the rules' figures, which
tests/published/test_safety_limits.py checks against their sources.
"""
from __future__ import annotations

from datetime import datetime
from pathlib import Path

import pytest

from bot.rooms.transcript import read_transcript
from tests.hazards.transcripts import AHEAD, CALM, HAZARDS, expected, play, safety_prompts


def test_there_are_enough_of_both_in_every_region() -> None:
    assert len(HAZARDS) >= 40
    assert len(CALM) >= 20
    assert {read_transcript(path).school.region for path in HAZARDS} == {"uk", "scotland", "us", "anz", "eu"}


@pytest.mark.parametrize("path", HAZARDS, ids=lambda path: path.stem)
def test_a_hazard_is_said_while_something_can_be_done(path: Path, tmp_path: Path) -> None:
    want = expected(path)
    prompts = safety_prompts(play(path, tmp_path))
    mine = [line for line in prompts if (want.dish is None or line.get("dish") == want.dish)
            and want.since <= datetime.fromisoformat(line["at"]) <= want.limit]
    assert mine, (want, prompts)
    if want.ahead:
        assert want.limit - datetime.fromisoformat(mine[0]["at"]) >= AHEAD
    for line in mine:
        assert ": " in line["text"].split("\n")[0]
        assert len(line["text"].split("\n")) <= 3


@pytest.mark.parametrize("path", CALM, ids=lambda path: path.stem)
def test_a_calm_class_hears_nothing_of_safety(path: Path, tmp_path: Path) -> None:
    assert safety_prompts(play(path, tmp_path)) == []
