"""What the room hears when a plan is asked of what cannot be, or of what was not told."""

from __future__ import annotations

from datetime import datetime, timedelta

import pytest

from bot.engine import Room
from bot.talk import Message, School
from skills.planning.say_shopping import say_how_much
from skills.record import ClassRecord, DishRecord
from skills.view import View
from skills.vocabulary import HowMuch

DAY = datetime.fromisoformat("2026-05-15T17:00:00+01:00")
OVEN = "the dome is 90 across, 6 cm floor brick, 10 cm dome, 10 of insulation, probe 5 cm down. we fire it and rake it"
CLASS = "class: shoulder day, 14 guests, eating at 1.30"
LAMB = "3 kg lamb shoulder, litre of hot stock, iron pot"
ASK = "when do I light up to eat at half one?"


def transcript(*told):
    """What is said last, after messages at (minutes, text)."""
    room, said = Room("yard", School(lead="Mara", seed=7)), ""
    for row, (minute, text) in enumerate(told):
        message = Message(f"b{row}", DAY + timedelta(minutes=minute), "Mara", text)
        said = "\n".join(each.text for each in room.hear(message).actions if each.kind == "reply")
    assert said.count("\n") <= 2
    return said


def test_no_oven_is_known():
    said = transcript((0, CLASS), (1, LAMB), (2, ASK))
    assert said.startswith("Which oven? Name it and say its size, such as ")
    assert "\n" not in said


def test_the_meal_has_passed():
    said = transcript((0, "class: supper, 14 guests, eating at 18:00"), (0, OVEN), (1, LAMB), (120, "what's the plan"))
    assert said.startswith("18:00 has passed. When do you eat?")
    assert "\n" not in said


def test_four_hundred_guests_in_one_pot():
    """90 kg of meat in pots of 14 l, two thirds full (common practice, no source): a dozen pots or more."""
    said = transcript((0, OVEN), (0, CLASS), (1, "stew in the iron pot"),
                      (2, "when do I light for the stew for 400 to eat at 13:30?"))
    assert "400" in said
    assert int(said.split(" pots of ")[0].split()[-1]) >= 12
    assert "the rest needs another oven or day" in said


@pytest.mark.parametrize("wood", ["wood is at 60 % moisture", "wood 60% wet basis"])
def test_wood_that_will_not_carry_a_firing(wood):
    said = transcript((0, OVEN), (0, CLASS), (1, LAMB), (2, wood), (3, ASK))
    assert said.startswith("Light 0")
    assert "60 % will not carry a firing: bring some at 20 % or less" in said


def test_a_dish_with_no_finish_known():
    said = transcript((0, OVEN), (0, CLASS), (1, "2 kg kimchi"), (2, ASK))
    assert said.startswith("Light 0")
    assert "no figures for kimchi: reckoned as lamb shoulder" in said


@pytest.mark.parametrize("guests", [0, 4000])
def test_a_list_for_more_than_can_be_reckoned_is_one_line(guests):
    """As the question stands once it is read."""
    record = ClassRecord(dishes={"lamb": DishRecord("lamb", meat_kg=3.0)})
    lines = say_how_much(HowMuch(guests=guests), View(record, DAY, None)).lines
    assert len(lines) == 1
    assert lines[0].startswith(f"{guests} guests is beyond what I can reckon; ask for 1 to ")
