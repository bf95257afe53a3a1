"""Whole classes in plain talk, both errors: a hazard whose prompt comes late, a calm class that is disturbed.

Each hazard's rule and limit stand in its header; the limits follow from the rules' figures, which
tests/published/test_safety_limits.py checks against their sources.
"""
from __future__ import annotations

from datetime import datetime, timedelta
from pathlib import Path

import pytest

from bot.rooms.transcript import read_transcript
from tests.hazards.transcripts import AHEAD, CALM, HAZARDS, expected, open_at, play, safety_prompts


def test_there_are_enough_of_both_in_every_region() -> None:
    assert len(HAZARDS) >= 40
    assert len(CALM) >= 20
    assert {read_transcript(path).school.region for path in HAZARDS} == {"uk", "scotland", "us", "anz", "eu"}


@pytest.mark.parametrize("path", HAZARDS, ids=lambda path: path.stem)
def test_a_hazard_is_said_while_something_can_be_done(path: Path, tmp_path: Path) -> None:
    want = expected(path)
    prompts = safety_prompts(play(path, tmp_path), want.kind)
    mine = [line for line in prompts if _of_it(want.dish, line.get("dish"))
            and want.since <= datetime.fromisoformat(line["at"]) <= want.limit]
    assert mine, (want, prompts)
    if want.ahead:
        assert want.limit - datetime.fromisoformat(mine[0]["at"]) >= AHEAD
    people = {message.sender for message in read_transcript(path).messages}
    for line in prompts:
        assert line["text"].split(": ", 1)[0] in people
        assert len(line["text"].split("\n")) <= 3
    texts = [line["text"].split(": ", 1)[1] for line in prompts]
    assert len(set(texts)) == len(texts), "a text of safety that was already given today"


@pytest.mark.parametrize("path", HAZARDS[::6], ids=lambda path: path.stem)
def test_what_nobody_answered_stays_on_the_board(path: Path, tmp_path: Path) -> None:
    first = safety_prompts(play(path, tmp_path), expected(path).kind)[0]
    at = datetime.fromisoformat(first["at"])
    (tmp_path / "again").mkdir()
    words = first["text"].split(": ", 1)[1][:30]
    assert any(words in line for line in open_at(path, tmp_path / "again", at + timedelta(minutes=1)))


@pytest.mark.parametrize("path", CALM, ids=lambda path: path.stem)
def test_a_calm_class_hears_nothing_of_safety(path: Path, tmp_path: Path) -> None:
    assert safety_prompts(play(path, tmp_path)) == []


def _of_it(wanted, told):
    """Of any dish, of this, or of this by its fuller name: "tagine" is the "lamb tagine" that was told of first."""
    return wanted is None or (told is not None and (told == wanted or told.endswith(f" {wanted}")))
