"""What is heard beside the contract serves the skills and is kept, and what is written for others leaves it out."""

from __future__ import annotations

import pytest

from bot.reading.read import read
from skills.vocabulary import BESIDE, Heard
from tests.reading.helpers import context


@pytest.mark.parametrize(
    ("text", "field", "value"),
    [
        ("how much stock for 18 in a 30 cm pot", "pot_cm", 30),
        ("when do I light up to eat at half one tomorrow", "tomorrow", True),
        ("3 kg shoulder, eating 1.30 tomorrow, when do I light the dome", "tomorrow", True),
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
