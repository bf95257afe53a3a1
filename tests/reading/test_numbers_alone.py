"""A number alone goes on with what its teller told of; the talk is ours, common practice, no source."""
from __future__ import annotations

from datetime import datetime, timedelta

import pytest

from bot.reading.context import Context, Said
from bot.reading.read import read

START = datetime.fromisoformat("2026-10-10T10:00:00+01:00")


def told(*lines: str, gap_min: float = 20.0, who: str = "Bea") -> list[dict[str, object]]:
    """The facts of the last of several lines by one person, so many minutes apart; the one before may be another's."""
    context = Context(START, sender="Bea", ovens=("dome",), dishes=("cheeks",))
    facts: list[dict[str, object]] = []
    for count, line in enumerate(lines):
        sender = who if count == len(lines) - 1 else "Bea"
        now = START + timedelta(minutes=gap_min * count)
        context = Context(now, sender=sender, ovens=("dome",), dishes=("cheeks",), last=context.last)
        reading = read(line, context)
        facts = [fact.said() for fact in reading.heard.facts]
        context = Context(now, sender=sender, ovens=("dome",), dishes=("cheeks",),
                          last=(*context.last, Said(now, sender, line, reading.heard)))
    return facts


@pytest.mark.parametrize(("lines", "fact"), [
    (("hot cupboard 61", "turned it up. 68"), {"is": "store", "place": "hot_hold", "celsius": 68}),
    (("cheeks in two trays 3 cm on ice", "18 now"), {"is": "food", "dish": "cheeks", "celsius": 18}),
    (("cheeks core 71", "78"), {"is": "food", "dish": "cheeks", "part": "core", "celsius": 78}),
    (("dome air 196", "185"), {"is": "reading", "oven": "dome", "place": "air", "celsius": 185}),
    (("dome air 186", "bit cool now 155"), {"is": "reading", "oven": "dome", "place": "air", "celsius": 155}),
    (("dome air 160", "155"), {"is": "reading", "oven": "dome", "place": "air", "celsius": 155}),   # no time near ten
    (("cheeks in trays on ice", "16 deg"), {"is": "food", "dish": "cheeks", "celsius": 16}),
])
def test_a_number_alone_is_of_the_spot_told_before(lines: tuple[str, ...], fact: dict[str, object]) -> None:
    assert told(*lines) == [fact]


def test_what_chilled_goes_into_the_fridge_with_its_heat() -> None:
    facts = told("cheeks in two trays 3 cm on ice", "9. into the fridge")
    assert [(fact["is"], fact.get("celsius"), fact.get("act")) for fact in facts] == [
        ("food", 9, None), ("chill", None, "fridge")]


def test_two_numbers_with_a_stroke_are_floor_and_air_as_told_before() -> None:
    facts = told("floor 244 air 229", "221/208")
    assert [(fact["place"], fact["celsius"]) for fact in facts] == [("floor", 221), ("air", 208)]


def test_what_may_be_the_time_of_day_is_left_open() -> None:
    context = Context(START.replace(hour=13, minute=40), sender="Bea", ovens=("dome",))
    said = Said(context.now - timedelta(minutes=20), "Bea", "dome air 160", read("dome air 160", context).heard)
    later = Context(context.now, sender="Bea", ovens=("dome",), last=(said,))
    assert read("155", later).heard.facts == ()
    assert [fact.said()["celsius"] for fact in read("175", later).heard.facts] == [175]


@pytest.mark.parametrize(("lines", "gap_min", "who"), [
    (("hot cupboard 61", "68"), 20.0, "Tomos"),      # another person may mean another thing
    (("hot cupboard 61", "68"), 60.0, "Bea"),        # too long ago
    (("dome air 196", "90"), 20.0, "Bea"),           # too far off to be the same
    (("dome air 160", "1.50"), 20.0, "Bea"),         # may be the time
    (("floor 244 air 229", "120/80"), 20.0, "Bea"),
])
def test_a_number_alone_is_left_open_where_it_may_be_something_else(
        lines: tuple[str, ...], gap_min: float, who: str) -> None:
    assert told(*lines, gap_min=gap_min, who=who) == []
