"""What is only imagined, planned, asked for, heard of elsewhere or of another day is no fact, whatever it is about.

The frames and the reports were written by hand (common practice, no source); every frame is tried with every report.
"""

from __future__ import annotations

import pytest

from bot.reading.read import read
from tests.reading.helpers import as_set, context, heard

FRAMES = (
    "if {} we are fine", "once {} we can start", "hoping {} soon", "my gran's oven: {}", "yesterday {}",
    "last time {}", "tomorrow {}", "imagine {}", "would be nice if {}", "as if {}", "in the video {}", "I dreamt {}",
    "it'd be great to have {}", "supposedly {}", "rumour is {}", "at the other place {}", "if only {}",
    "it's not true that {}", "let's say {}", "suppose {}", "in an ideal world {}", "unless {} we wait",
    "don't tell me {}", "no way {}", "I doubt {}", "I thought {}", "back in june {}", "it will be {}",
    "my mate had {}", "when {} shout", "wake me when {}", "the plan is {}", "in theory {}", "not sure {}",
    "they told me {} at the other yard", "in the old place {}", "we're meant to have {}", "recipe calls for {}",
    "some people like {}", "I could swear {}", "before {} we sweep", "the forecast says {}", "practice question: {}",
    "joke: {}", "not until {}", "instead of {}", "rather than {}", "assuming {}, we rake", "nobody has {}",
    "the old log shows {}", "somebody dreamed that {}", "the kids pretended {}", "in the photo {}",
    "at my sister's {}", "it's a myth that {}", "what if {}",
)
REPORTS = (
    "floor 180", "the lamb is in", "two splits on the barrel", "door's open", "floor at 210 and air 190",
    "beans are boiling", "raked the dome", "14 guests", "lamb core 88", "stew in the fridge", "barrel lit",
)
# Words of the same look that hold nothing back.
BESIDE = ("{}, not sure about the rest", "{}, it'd be nice to sit down", "some people are here, {}", "{}, no idea why",
          "ok so {}", "{}, thought so")


@pytest.mark.parametrize("frame", FRAMES)
def test_what_is_not_told_is_not_recorded(frame: str) -> None:
    for report in REPORTS:
        reading = read(frame.format(report), context(dishes=("lamb", "beans", "stew")))
        assert not reading.heard.facts or reading.ask or reading.trouble, report


@pytest.mark.parametrize("frame", BESIDE)
def test_what_is_told_beside_it_still_is(frame: str) -> None:
    for report in ("floor 180", "two splits on the barrel", "raked the dome", "barrel lit", "stew in the fridge"):
        assert as_set(heard(frame.format(report), dishes=("stew",))) == as_set(heard(report, dishes=("stew",)))


@pytest.mark.parametrize("frame", ["if {} we wait", "imagine {}", "last week {}", "at the other school {}"])
@pytest.mark.parametrize("report", ["eating at two", "one coeliac", "lunch at 1 for 16"])
def test_a_meal_or_a_guest_of_another_place_or_day_is_none_of_ours(frame: str, report: str) -> None:
    assert not heard(frame.format(report))
