"""Plan questions as people put them in the yard, and what a plan lacked told piece by piece."""

from __future__ import annotations

from datetime import timedelta

import pytest

from bot.engine import Room
from bot.talk import Message, School
from tests.planning.helpers import EAT

MORNING = EAT.replace(hour=7, minute=0)
DOME = "the dome is 90 across, 6 cm floor brick, 10 cm insulation"
LAMB = "3 kg lamb shoulder, litre of hot stock, iron pot"


class Talk:
    def __init__(self, *first: str) -> None:
        self.room, self.count = Room("yard", School(lead="Mara", seed=3)), 0
        for text in first:
            self.say(text)

    def say(self, text: str, who: str = "Mara") -> str:
        self.count += 1
        at = MORNING + timedelta(minutes=self.count)
        answer = self.room.hear(Message(f"m{self.count}", at, who, text))
        return "\n".join(action.text or "" for action in answer.actions if action.kind == "reply")


def test_a_plan_that_lacked_something_comes_as_soon_as_that_is_told() -> None:
    talk = Talk(LAMB)
    assert "Eating when?" in talk.say("plan")
    assert "Which oven?" in talk.say("lunch at 6")
    said = talk.say("dome")
    assert "rake " in said
    assert "18:00" in said
    assert talk.say("lovely") == ""


def test_the_oven_is_named_by_itself_when_that_was_asked() -> None:
    talk = Talk(LAMB, DOME, "the barrel is 66 across, 5 cm dome", "eating at 18:00")
    assert "Which oven: " in talk.say("whats the plan")
    assert "kg of wood" in talk.say("the dome")


@pytest.mark.parametrize("asked", ["can we still make 6?", "what if we eat at 6"])
def test_another_meal_is_planned_for_before_anything_is_in_and_not_taken_for_the_plan(asked: str) -> None:
    talk = Talk(DOME, LAMB, "eating at 17:00")
    assert "17:00" in talk.say("plan")
    assert "18:00" in talk.say(asked)
    assert "17:00" in talk.say("plan")


@pytest.mark.parametrize("asked", ["what next", "whats next and when", "so what's next then", "which goes first",
                                   "what's the latest we can light", "what order do we do them in"])
def test_asked_in_passing_the_plan_is_given(asked: str) -> None:
    assert "of wood" in Talk(DOME, LAMB, "eating at 19:00").say(asked)


@pytest.mark.parametrize("words", ["i'll do the wood", "i'll take the fire"])
def test_who_has_the_wood_has_the_only_oven(words: str) -> None:
    talk = Talk(DOME)
    talk.say(words, "Tomos")
    assert talk.say("who has the dome").startswith("Tomos has the ")
    talk.say("the barrel is 66 across")
    assert talk.say("who has the barrel").startswith("Nobody has claimed the barrel")


def test_an_oven_is_given_to_another_who_must_say_yes() -> None:
    talk = Talk(DOME, "lit the dome")
    talk.say("i've got the dome", "Tomos")
    assert talk.say("give the dome to Bea", "Tomos").startswith("Bea, say yes to take the dome")
    assert talk.say("who has the dome").startswith("Tomos has the dome")
    talk.say("yes", "Bea")
    assert talk.say("who has the dome").startswith("Bea has the dome")


def test_the_words_of_our_own_hint_are_read() -> None:
    room = Talk("the dome is 90 across, 6 cm brick, 10 of insulation").room
    assert room.session is not None
    assert room.session.record.ovens["dome"].size == {"across_cm": 90.0, "floor_cm": 6.0, "insulation_cm": 10.0}


def test_of_two_raked_ovens_the_free_one_is_meant_and_none_where_all_is_in() -> None:
    talk = Talk(DOME, "the cob is 80 across, 5 cm floor, 5 insulation", "eating at 14:00", LAMB,
                "2 kg beans, 3 l hot water, clay pot", "lit the dome at 4:00", "lit the cob at 4:00",
                "raked the dome", "raked the cob", "dome floor 220 air 200", "cob floor 190 air 180",
                "shoulder into the dome")
    said = talk.say("whats the plan")
    assert "Which oven" not in said
    assert "beans in" in said.lower() or "pot in" in said
    assert "the cob" in said
    talk.say("beans into the cob")
    lines = talk.say("whats the plan").splitlines()
    assert [line.split(":")[0] for line in lines] == ["Shoulder is in", "Beans are in"]
