"""A house: kept before answered, prompts at their own times, nothing said twice, and what was learnt is kept."""
from __future__ import annotations

from datetime import datetime, timedelta
from zoneinfo import ZoneInfo

import pytest
from fake_engine import FakeRoom

from bot.rooms.house import SORRY, House
from bot.store import Store
from bot.talk import Answer, Message, School

NOON = datetime(2026, 5, 16, 12, tzinfo=ZoneInfo("Europe/London"))


def at(minutes):
    return NOON + timedelta(minutes=minutes)


@pytest.fixture
def store(tmp_path):
    opened = Store.open(tmp_path)
    yield opened
    opened.close()


class Said:
    def __init__(self):
        self.ids = []
        self.texts = []

    def __call__(self, actions, _):
        self.ids += [action.id for action in actions]
        self.texts += [action.text for action in actions if action.text]


def house(store, said=None, **more):
    return House(store, "yard", School(), said, make=FakeRoom, **more)


def say(room, minutes, text, n=None):
    return room.hear(Message(n or f"m{minutes}", at(minutes), "Mara", text), at(minutes))


def test_a_prompt_that_is_due_before_a_message_is_said_before_it_and_at_its_own_time(store):
    room = house(store, Said())
    say(room, 0, "wood in 5")
    say(room, 9, "when?")
    _, prompted, later = store.log("yard")
    assert prompted.at == at(5)
    assert later.actions[0].text == "1 facts and 2 words so far"


def test_a_message_that_comes_again_is_not_heard_again(store):
    room = house(store, Said())
    assert isinstance(say(room, 0, "floor 180"), Answer)
    assert say(room, 0, "floor 180") is None
    assert len(store.log("yard")) == 1


def test_a_message_is_on_the_disk_before_the_engine_sees_it(store, tmp_path):
    class Watching(FakeRoom):
        def hear(self, message, *, forecast=False):
            beside = Store.open(tmp_path, shared=True)
            seen.append([each.id for each in beside.unanswered("yard")])
            beside.close()
            return super().hear(message, forecast=forecast)

    seen = []
    room = House(store, "yard", School(), Said(), make=Watching)
    say(room, 0, "floor 180")
    assert seen == [["m0"]]


def test_without_a_mouth_words_wait_to_be_sent_and_marked(store):
    room = house(store)
    say(room, 0, "when?")
    waiting = store.undelivered("yard")
    assert len(waiting) == 2
    store.delivered("yard", [waiting[0].id])
    said = Said()
    house(store, said).start()
    assert said.ids == [waiting[1].id]


def test_what_was_taken_and_not_answered_is_answered_at_the_next_start_in_order(store):
    store.take("yard", Message("m0", at(0), "Mara", "wood in 5"), at(0))
    store.take("yard", Message("m9", at(9), "Mara", "when?"), at(9))
    said = Said()
    answers = house(store, said).start()
    assert [answer.message.id for answer in answers] == ["m0", "m9"]
    assert said.texts == ["Wood, 1 facts.", "1 facts and 2 words so far", "second line\nthird line"]


def test_a_house_that_is_built_again_goes_on_as_if_it_had_never_stopped(store):
    texts = ["class: a", "floor 180", "wood in 3", "when?", "end of class", "class: b", "wood in 90", "floor 20",
             "when?"]
    once = Said()
    for minutes, text in enumerate(texts):
        say(house(store, once), minutes, text)
    with_one = Said()
    room = House(store, "other", School(), with_one, make=FakeRoom)
    for minutes, text in enumerate(texts):
        say(room, minutes, text)
    assert once.texts == with_one.texts
    assert len(once.texts) == 5


def test_what_was_learnt_is_kept_at_a_classes_end_and_at_what_is_told_after_it(store):
    room = house(store, Said())
    say(room, 0, "floor 180")
    assert store.learnt()["ovens"] == {}
    say(room, 1, "end of class")
    assert store.learnt()["ovens"] == {"barrel": {"facts": 2}}
    room = house(store, Said())
    say(room, 900, "floor 90")
    assert store.learnt()["ovens"] == {"barrel": {"facts": 3}}


def test_what_was_learnt_is_kept_when_another_class_opens_without_an_end(store):
    room = house(store, Said())
    say(room, 0, "floor 180")
    say(room, 1, "class: two")
    assert store.learnt()["ovens"] == {"barrel": {"facts": 2}}


def test_the_title_that_was_told_names_the_class_and_else_the_rooms(store):
    room = house(store, Said(), title="The day")
    say(room, 0, "floor 180")
    assert [each.title for each in store.classes()] == ["The day"]
    say(room, 1, "class: told")
    assert [each.title for each in store.classes()] == ["The day", "told"]


def test_a_failing_engine_is_outlived_only_by_a_guarded_house(store):
    said = Said()
    with pytest.raises(RuntimeError, match="boom"):
        say(house(store, said), 0, "boom", "first")
    room = house(store, said, guarded=True)
    room.start()
    assert said.texts == [SORRY]
    say(room, 1, "floor 180")
    say(room, 2, "when?")
    assert said.texts[1] == "1 facts and 2 words so far"
    assert store.unanswered("yard") == []


def test_a_failing_prompt_does_not_stop_a_guarded_house_or_spin(store):
    class Broken(FakeRoom):
        ticks = 0

        def tick(self, now):
            Broken.ticks += 1
            raise RuntimeError(f"tick at {now}")

    room = House(store, "yard", School(), Said(), make=Broken, guarded=True)
    say(room, 0, "wood in 1")
    assert say(room, 2, "floor 180") is not None
    assert Broken.ticks == 1
    assert room.next_wake() == at(6)


def test_a_plan_that_cannot_be_made_stops_no_answer(store):
    class Planless(FakeRoom):
        def next_wake(self):
            raise RuntimeError("no plan")

    said = Said()
    room = House(store, "yard", School(), said, make=Planless, guarded=True)
    say(room, 0, "floor 180")
    say(room, 1, "when?")
    assert said.texts == ["1 facts and 1 words so far", "second line\nthird line"]
    assert room.failures > 0
    with pytest.raises(RuntimeError, match="no plan"):
        House(store, "other", School(), Said(), make=Planless).next_wake()


def test_an_engine_whose_wake_never_moves_does_not_hang_the_room(store):
    class Stuck(FakeRoom):
        def tick(self, now):
            del now
            return ()

    room = House(store, "yard", School(), Said(), make=Stuck)
    say(room, 0, "wood in 1")
    assert say(room, 2, "floor 180") is not None


def test_words_under_an_id_that_was_used_are_a_failure_like_any_other(store):
    class Forgetful(FakeRoom):
        def _said(self, actions):
            del actions

    said = Said()
    room = House(store, "yard", School(), said, make=Forgetful, guarded=True)
    say(room, 0, "floor 180")
    say(room, 1, "floor 190")
    assert said.texts == [SORRY]
    assert store.unanswered("yard") == []


def test_broken_characters_are_kept_as_a_mark(store):
    say(house(store, Said()), 0, "floor 180 \udcff")
    assert store.log("yard")[0].message.text == "floor 180 ?"
