"""The room as people meet it: when it speaks, when it only ticks, and when it is silent (job, section 5)."""
from __future__ import annotations

import re
from datetime import datetime, timedelta
from pathlib import Path

import pytest

from bot.engine import Room
from bot.rooms.transcript import read_transcript
from bot.talk import Message, School

ROOT = Path(__file__).parents[1]
DEMOS = sorted((ROOT / "transcripts_demo").glob("*.txt"))
DAY = datetime.fromisoformat("2026-05-16T09:00:00+01:00")


class Talk:
    """A room and a running clock for short tests."""

    def __init__(self) -> None:
        self.room = Room("yard", School(lead="Mara", seed=5))
        self.count = 0

    def say(self, minute: float, text: str, who: str = "Idris", **more: str) -> list[str]:
        self.count += 1
        message = Message(f"t{self.count}", DAY + timedelta(minutes=minute), who, text, **more)
        return [action.text if action.kind == "reply" else action.kind for action in self.room.hear(message).actions]

    def prompts(self, until: float) -> list:
        said = []
        while (wake := self.room.next_wake()) is not None and wake <= DAY + timedelta(minutes=until):
            said += self.room.tick(wake)
        return said


@pytest.fixture
def talk() -> Talk:
    talk = Talk()
    talk.say(0, "class: shoulder day, 14 guests, eating at 13:30", "Mara")
    talk.say(1, "the dome is 90 across, 6 cm floor brick, 10 cm dome, 10 cm insulation, probe 5 cm down, retained heat")
    return talk


def heated(talk: Talk) -> Talk:
    talk.say(2, "lit the dome at 5:30")
    talk.say(3, "raked out at 8:20, door on")
    talk.say(4, "floor 205 air 178")
    talk.say(5, "3 kg lamb shoulder, 1 l hot stock, iron pot, lid on")
    return talk


def test_chatter_gets_nothing(talk: Talk) -> None:
    assert talk.say(5, "lovely crowd today") == []
    assert talk.say(6, "thanks all, tea's up") == []


def test_a_plain_reading_gets_a_tick(talk: Talk) -> None:
    talk.say(2, "dome was lit at 6")
    assert talk.say(3, "floor 60") == ["tick"]


def test_a_new_pot_is_told_its_time_with_a_range_and_the_odds_of_the_meal(talk: Talk) -> None:
    reply = heated(talk).say(8, "lamb in, door on")[0]
    assert re.search(r"Lamb tender about \d\d:\d\d \(\d\d:\d\d to \d\d:\d\d\)", reply)
    assert re.search(r"On the table at 13:30: (better than |less than )?\d+ in \d+", reply)


def test_a_correction_repeats_both_values(talk: Talk) -> None:
    heated(talk).say(8, "lamb in")
    talk.say(40, "floor 148")
    reply = talk.say(42, "sorry floor 184 not 148")[0]
    assert "184" in reply
    assert "148" in reply


def test_an_unknown_dish_is_told_with_what_is_known(talk: Talk) -> None:
    heated(talk).say(8, "lamb in")
    reply = talk.say(20, "when will the goose be done?", "Bea")[0]
    assert "goose" in reply
    assert "lamb" in reply


def test_a_reading_beyond_belief_is_told_and_not_recorded(talk: Talk) -> None:
    talk.say(2, "dome was lit at 6")
    before = len(talk.room.session.record.facts)
    reply = talk.say(5, "floor 1800")[0]
    assert "1800" in reply
    assert len(talk.room.session.record.facts) == before


def test_nothing_is_asked_for_while_the_lead_teaches_but_fire_passes(talk: Talk) -> None:
    heated(talk).say(8, "lamb in")
    talk.say(9, "teaching now, hold the chat for 120 minutes", "Mara")
    kinds = {prompt.prompt for prompt in talk.prompts(125)}
    assert "reading" not in kinds


def test_a_long_silence_brings_one_request_for_a_reading(talk: Talk) -> None:
    heated(talk).say(8, "lamb in, door on")
    asked = [prompt for prompt in talk.prompts(180) if prompt.prompt == "reading"]
    assert len(asked) == 1
    assert asked[0].oven == "dome"
    assert re.search(r"since 09:\d\d", asked[0].text)


def test_no_prompt_is_said_twice_but_for_its_one_reminder(talk: Talk) -> None:
    heated(talk).say(8, "lamb in, door on")
    said = talk.prompts(600)
    assert said
    assert len({prompt.data["key"] for prompt in said}) == len(said)
    first = [prompt.text for prompt in said if "again" not in prompt.data]
    assert len(first) == len(set(first))


@pytest.mark.parametrize("text", ["", " ", "\x00\x07\x1b[31m", "a" * 10_000, "‮floor 180 ria", "🔥" * 500,
                                  "25:71 floor", "floor -400", "pot " * 2000, "\n\n\t", "99999999999999999999 guests"])
def test_bad_input_is_survived_with_at_most_one_clear_line(talk: Talk, text: str) -> None:
    replies = talk.say(3, text)
    assert len(replies) <= 1
    assert all(len(reply.splitlines()) <= 2 for reply in replies)
    assert talk.say(4, "lit the dome")


def test_an_edited_message_is_a_correction_and_a_removed_one_was_never_said(talk: Talk) -> None:
    heated(talk)
    talk.say(30, "floor 148")
    first = f"t{talk.count}"
    talk.say(31, "floor 184", replaces=first)
    assert talk.room.session.record.facts[-1].fact.celsius == 184
    talk.say(32, "", removes=first)
    assert 184 not in [getattr(dated.fact, "celsius", None) for dated in talk.room.session.record.facts]


def test_a_second_class_opens_after_the_first_has_ended(talk: Talk) -> None:
    first = talk.room.session.class_id
    talk.say(300, "that's the class done", "Mara")
    assert talk.room.session.class_id == first
    talk.say(1440, "class: bread day, 8 guests, eating at 1", "Mara")
    assert talk.room.session.class_id != first


def test_the_plan_of_prompts_is_made_after_the_answer_and_once(talk: Talk, monkeypatch: pytest.MonkeyPatch) -> None:
    made = []
    monkeypatch.setattr("bot.engine.propose", lambda view: made.append(view.now) or [])
    heated(talk)
    talk.room.next_wake()
    assert talk.say(6, "lamb in the dome")[0].startswith("Lamb tender")
    assert made[-1] < DAY + timedelta(minutes=6)
    talk.room.next_wake()
    talk.room.tick(DAY + timedelta(minutes=7))
    talk.room.board()
    assert made.count(DAY + timedelta(minutes=6)) == 1


@pytest.mark.slow
@pytest.mark.parametrize("path", DEMOS, ids=lambda path: path.stem)
def test_every_reply_keeps_the_rules_of_speech(path: Path) -> None:
    transcript = read_transcript(path)
    room = Room("demo", transcript.school)
    said, prompted = [], []
    for message in transcript.messages:
        while (wake := room.next_wake()) is not None and wake <= message.at:
            prompted += room.tick(wake)
        said += room.hear(message).actions
    for action in [*said, *prompted]:
        assert len(action.text.splitlines()) <= 3, action.text
        assert "!" not in action.text
        assert "safe to eat" not in action.text.lower()
        assert all(len(line) <= 160 for line in action.text.splitlines()), action.text
        assert all(ord(char) < 0x2190 for char in action.text), action.text
    for prompt in prompted:
        if prompt.prompt in ("fire", "allergen"):
            continue  # cautions and reminders for this very moment: they name no other time
        assert re.search(r"\d\d:\d\d", prompt.text), prompt.text
        lately = [one for one in prompted if timedelta(0) <= prompt.at - one.at <= timedelta(hours=1)]
        assert len(lately) <= 8, [one.text for one in lately]


def test_first_care_does_not_wait_for_the_next_whole_minute(talk: Talk) -> None:
    talk.say(2.2, "I burnt my hand on the door")
    assert any("running water" in prompt.text for prompt in talk.prompts(2.5))


def test_one_hurt_does_not_delay_a_word_on_another_danger(talk: Talk) -> None:
    talk.say(2, "I burnt my hand on the door")
    assert any("running water" in prompt.text for prompt in talk.prompts(2.5))
    talk.say(3, "hot ash is in a cardboard box by the shed")
    told = [prompt.text for prompt in talk.prompts(3.5)]
    assert any("metal bin" in text for text in told)
    assert all(len(line) <= 160 for text in told for line in text.splitlines())
