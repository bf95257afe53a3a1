"""Whole classes, played through a room as it hears them, against labels written before they were first read."""

from __future__ import annotations

import json
from datetime import datetime, timedelta
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest

from bot.engine import Room
from bot.talk import Message, School
from tests.reading.helpers import as_set

DATA = Path(__file__).parent / "data"


def rounded(entries):
    """To the tenth that a label gives."""
    return as_set([{key: round(value, 1) if isinstance(value, float) else value for key, value in entry.items()}
                   for entry in entries])


@pytest.mark.parametrize("name", sorted(each.stem for each in DATA.glob("class_*.jsonl")))
def test_every_turn_of_a_class_is_heard_and_asked_about_as_labelled(name):
    """Turns marked open are not read so yet; a clock that goes back is the next day's."""
    room, day, before, wrong = Room("yard", School()), datetime(2026, 6, 6, tzinfo=ZoneInfo("Europe/London")), None, []
    turns = [json.loads(line) for line in (DATA / f"{name}.jsonl").read_text(encoding="utf-8").splitlines()]
    for number, turn in enumerate(turns):
        hour, minute = map(int, turn["at"].split(":"))
        at = day.replace(hour=hour, minute=minute)
        if before is not None and at < before:
            day, at = day + timedelta(days=1), at + timedelta(days=1)
        before = at
        room.tick(at)
        answer = room.hear(Message(f"m{number}", at, turn["who"], turn["text"]))
        said = answer.heard.said()
        asked = any(action.text.rstrip().endswith("?") for action in answer.actions)
        right = rounded(said["facts"] + said["questions"]) == rounded(turn["facts"] + turn["questions"])
        if not (right and (asked or not turn.get("ask"))) and not turn.get("open"):
            wrong.append((turn["text"], said, asked))
    assert wrong == []
