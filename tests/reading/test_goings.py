"""Who goes and who comes. The sentences are common practice, no source."""
from __future__ import annotations

from datetime import datetime

import pytest

from bot.reading.goings import goings

EVENING = datetime.fromisoformat("2026-05-16T20:35:00+01:00")


@pytest.mark.parametrize(("words", "goes", "comes"), [
    ("see you at half six", "20:35", "06:30"), ("last one out locks up at nine, Idris opens up half seven", "21:00",
                                                "07:30"),
    ("bed. see you at 7", "20:35", "07:00"), ("we're gone by ten, Tomos in at quarter to seven", "22:00", "06:45"),
    ("off home, tomos has the barrel", "20:35", None), ("locked up, night all", "20:35", None),
    ("nobody here till half seven", None, "07:30"), ("I'll be in from 6", None, "06:00"),
    ("back in at six tomorrow", None, "06:00"), ("I'm heading off", "20:35", None)])
def test_when_people_go_and_come_is_known(words: str, goes: str | None, comes: str | None) -> None:
    assert goings(words, EVENING) == (goes, comes)


@pytest.mark.parametrize("words", ["I'm off to fetch wood", "take the lid off", "home made stock", "long night ahead",
                                   "rested all night in the fridge", "put the bread to bed", "floor 180", "served at 7",
                                   "the last group leaves on time"])
def test_other_talk_is_no_going(words: str) -> None:
    assert goings(words, EVENING) == (None, None)
