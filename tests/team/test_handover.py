"""Handing things over: who is named must say yes, until then the old owner stays (job, section 5)."""
from __future__ import annotations

from datetime import datetime, timedelta

import pytest

from bot.engine import Room
from bot.talk import Action, Message, School

MORNING = datetime.fromisoformat("2026-05-16T09:00:00+01:00")


class Talk:
    def __init__(self) -> None:
        self.room = Room("yard", School(lead="Mara", seed=5))
        self.count = 0

    def hear(self, minute: float, text: str, who: str, **more: str) -> list[Action]:
        self.count += 1
        message = Message(f"t{self.count}", MORNING + timedelta(minutes=minute), who, text, **more)
        return list(self.room.hear(message).actions)

    def say(self, minute: float, text: str, who: str, **more: str) -> list[str]:
        return [action.text for action in self.hear(minute, text, who, **more)]

    def holder(self, minute: float, what: str = "barrel") -> str:
        return self.say(minute, f"who has the {what}?", "Bea")[0]


@pytest.fixture
def talk() -> Talk:
    talk = Talk()
    for who in ("Mara", "Idris", "Tomos", "Bea"):
        talk.say(0, "morning", who)
    talk.say(1, "lit the barrel, two kilos of ash", "Idris")
    talk.say(2, "i've got the barrel", "Idris")
    return talk


def test_the_one_who_is_named_is_asked_and_the_old_owner_stays_until_the_yes(talk: Talk) -> None:
    asked, = talk.hear(30, "off home, tomos has barrel", "Idris")
    assert asked.who == "Tomos"
    assert asked.text.startswith("Tomos, say yes")
    assert len(asked.text.splitlines()) == 3
    assert talk.holder(31).startswith("Idris has the barrel")
    assert talk.say(32, "yes got it", "Tomos") == [""]
    assert talk.holder(33).startswith("Tomos has the barrel since 09:32")


def test_who_says_that_the_yes_is_missing(talk: Talk) -> None:
    talk.say(30, "off home, tomos has barrel", "Idris")
    answer = talk.holder(31)
    assert "Tomos" in answer
    assert "yes" in answer


@pytest.mark.parametrize("who", ["Bea", "Mara", "Idris"])
def test_the_yes_of_another_hands_nothing_over(talk: Talk, who: str) -> None:
    talk.say(30, "tomos has the barrel", "Idris")
    talk.say(31, "yes", who)
    talk.say(32, "got it", who)
    assert talk.holder(33).startswith("Idris has the barrel")


def test_a_reply_long_after_still_says_yes(talk: Talk) -> None:
    asked, = talk.hear(30, "tomos has the barrel", "Idris")
    talk.say(75, "ok", "Tomos", reply_to=asked.id)
    assert talk.holder(76).startswith("Tomos has the barrel")


def test_a_refusal_leaves_the_thing_where_it_is_and_says_so_once(talk: Talk) -> None:
    talk.say(30, "off home, tomos has barrel", "Idris")
    assert talk.say(31, "can't", "Tomos") == ["Idris keeps the barrel."]
    assert "yes" not in talk.holder(32)


def test_no_yes_is_asked_for_once_more_and_then_told_to_the_lead(talk: Talk) -> None:
    talk.say(30, "off home, tomos has barrel", "Idris")
    said = []
    while (wake := talk.room.next_wake()) is not None and wake <= MORNING + timedelta(minutes=90):
        said += talk.room.tick(wake)
    about = [action for action in said if "barrel" in action.text and "again" in action.data]
    assert [(action.prompt, action.who) for action in about] == [("reminder", "Tomos"), ("lead", "Mara")]


def test_taking_what_another_has_changes_the_holder_and_says_so_once(talk: Talk) -> None:
    said = talk.say(30, "I've got the barrel", "Bea")
    assert len(said) == 1
    assert "Bea" in said[0]
    assert "Idris" in said[0]
    assert talk.holder(31).startswith("Bea has the barrel since 09:30")
    assert talk.say(40, "I've got the barrel", "Bea") == [""]


def test_a_thing_that_nobody_had_is_given_without_asking(talk: Talk) -> None:
    assert talk.say(30, "bea has the salad", "Mara") == [""]
    assert talk.holder(31, "salad").startswith("Bea has the salad")


def test_an_eating_time_moved_by_another_wants_the_lead_to_say_yes() -> None:
    talk = Talk()
    talk.say(0, "class: shoulder day, 14 guests, eating at 13:30", "Mara")
    talk.say(1, "morning", "Idris")
    asked = talk.hear(30, "eating at 2 now", "Idris")[0]
    assert asked.who == "Mara"
    assert "14:00" in asked.text
    assert [each.call.kind for each in talk.room.session.standing()] == ["eating"]
    talk.say(31, "yes", "Mara")
    assert talk.room.session.standing() == ()
    assert talk.room.session.record.serve.strftime("%H:%M") == "14:00"


def test_an_eating_time_that_the_lead_refuses_goes_back() -> None:
    talk = Talk()
    talk.say(0, "class: shoulder day, 14 guests, eating at 13:30", "Mara")
    talk.say(30, "eating at 2 now", "Idris")
    talk.say(31, "no", "Mara")
    assert talk.room.session.record.serve.strftime("%H:%M") == "13:30"


def test_the_lead_moves_the_meal_without_asking_anybody() -> None:
    talk = Talk()
    talk.say(0, "class: shoulder day, 14 guests, eating at 13:30", "Mara")
    talk.say(30, "eating at 2 now", "Mara")
    assert talk.room.session.standing() == ()


@pytest.mark.parametrize(("words", "left"), [
    ("off home, tomos has barrel", True), ("I'm off", True), ("i’m leaving", True), ("going home now, night all", True),
    ("I'm off to fetch wood", False), ("take the lid off", False), ("home made stock", False)])
def test_who_has_left_is_known_until_they_speak_again(talk: Talk, words: str, left: bool) -> None:
    talk.say(30, words, "Idris")
    assert ("Idris" in talk.room.session.record.gone) is left
    talk.say(40, "floor 180", "Idris")
    assert "Idris" not in talk.room.session.record.gone
