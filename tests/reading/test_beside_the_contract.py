"""What is heard beside the contract serves the skills and is kept, and what is written for others leaves it out."""

from __future__ import annotations

import pytest

from bot.reading.context import Said
from bot.reading.read import read
from skills.vocabulary import BESIDE, Heard
from tests.reading.helpers import at, context


@pytest.mark.parametrize(
    ("text", "field", "value"),
    [
        ("how much stock for 18 in a 30 cm pot", "pot_cm", 30),
        ("when do I light up to eat at half one tomorrow", "tomorrow", True),
        ("3 kg shoulder, eating 1.30 tomorrow, when do I light the dome", "tomorrow", True),
        ("plan for tomorrow 13:30", "tomorrow", True),
        ("when do I light up yesterday", "day", "yesterday"),
        ("plan for saturday 13:30", "day", "saturday"),
        ("when do I light for the lamb, the loaves and the kimchi", "also", ["loaves", "kimchi"]),
    ],
)
def test_it_is_kept_and_not_said(text: str, field: str, value: object) -> None:
    heard = read(text, context("09:10")).heard
    kept = heard.kept()
    assert [entry[field] for entry in kept["questions"] if field in entry] == [value]
    assert not any(BESIDE & entry.keys() for entry in heard.said()["questions"])
    assert Heard.model_validate(kept) == heard


def test_a_plan_for_today_is_not_of_tomorrow() -> None:
    asked, = read("when do I light up to eat at half one", context("06:10")).heard.kept()["questions"]
    assert "tomorrow" not in asked


def test_what_is_told_of_the_hurt_after_an_incident_is_part_of_it() -> None:
    burnt = read("burnt my wrist on the peel", context("10:20")).heard
    after = context("10:21", last=(Said(at("10:20"), "Bea", "burnt my wrist on the peel", burnt),))
    for text in ("under cold water 20 min, Idris watching her", "no blister, cling film on"):
        told, = read(text, after).heard.kept()["facts"]
        assert (told["is"], told["follow_up"]) == ("incident", True)
        assert read(text, context("10:21")).heard.kept()["facts"] == []
    assert [fact.is_ for fact in read("lamb core 88", after).heard.facts] == ["food"]


def test_a_seat_is_kept_beside_the_count() -> None:
    one, = read("seat 4 no celery", context("09:01")).heard.kept()["facts"]
    assert (one["allergen"], one["count"], one["seat"]) == ("celery", 1, "seat 4")
    two, = read("seats 4 and 6 no nuts", context("09:01")).heard.kept()["facts"]
    assert (two["allergen"], two["count"], two["seat"]) == ("nuts", 2, "seats 4 and 6")
