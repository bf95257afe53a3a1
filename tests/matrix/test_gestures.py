"""The room's own gestures: edits, removals, replies, reactions and threads mean what people mean by them."""
from __future__ import annotations

import time

import pytest
from nio import RoomMessageNotice

from bot.talk import Answer
from tests.matrix.looks import answers, edits, is_edit, log, notice, recorded, relation, said_by, tick_on


def test_an_edit_corrects_and_the_reply_that_it_had_is_edited_too(bot, mara, room):
    asked = mara.say(room, "floor 180, is it 180?")
    reply = mara.until(room, answers(asked))
    assert reply.body.startswith("2 stand: 180 180")
    mara.edit(room, asked, "floor 190, is it?")
    second = mara.until(room, edits(reply.event_id))
    assert second.source["content"]["m.new_content"]["body"].startswith("1 stand: 190")
    assert second.source["content"]["m.mentions"] == {}
    notices = [each for each in said_by(mara, room, bot.config.matrix.user) if isinstance(each, RoomMessageNotice)]
    assert [is_edit(each) for each in notices] == [False, True], "no second line of talk"


def test_the_newest_edit_counts_and_only_its_sender_s(mara, tomos, bot):
    room = mara.room(bot.config.matrix.user, tomos.user)
    tomos.join(room)
    mara.joined(room, bot.config.matrix.user)
    said = mara.say(room, "floor 180")
    mara.edit(room, said, "floor 190")
    last = mara.edit(room, said, "floor 200")
    tomos.edit(room, said, "floor 666")
    mara.edit(room, last, "floor 777")
    asked = mara.say(room, "how?")
    assert "1 stand: 200" in mara.until(room, answers(asked)).body


def test_an_edit_that_is_removed_leaves_what_was_said_first(mara, room):
    said = mara.say(room, "floor 180")
    changed = mara.edit(room, said, "floor 190")
    mara.remove(room, changed)
    asked = mara.say(room, "how?")
    assert "1 stand: 180" in mara.until(room, answers(asked)).body


def test_a_removed_message_is_taken_back_and_its_words_are_gone_from_the_record(bot, mara, room):
    said = mara.say(room, "floor 180 for the coeliac in seat 4")
    mara.until(room, tick_on(said))
    mara.remove(room, said)
    asked = mara.say(room, "how?")
    assert "0 stand" in mara.until(room, answers(asked)).body
    texts = [line.message.text for line in log(bot.folder, room) if isinstance(line, Answer)]
    assert texts == ["(removed)", "", "how?"]
    for path in bot.folder.glob("yardhand.sqlite"):
        assert path.exists()


def test_a_reply_names_the_question_that_it_answers_and_the_quotation_is_not_heard_again(bot, mara, room):
    asked = mara.say(room, "sure?")
    question = mara.until(room, answers(asked))
    mara.reply(room, f"> <{bot.config.matrix.user}> floor 111\n> and 222\n\nyes", question.event_id)
    told = mara.until(room, notice("Mara says yes to"))
    action = told.body.split(" to ")[1]
    assert action in {each.id for line in log(bot.folder, room) for each in line.actions if "ask" in each.data}
    asked = mara.say(room, "how?")
    assert "0 stand" in mara.until(room, answers(asked)).body


@pytest.mark.parametrize(("key", "word"), [("👍", "yes"), ("👎🏽", "no"), ("✅", "yes")])
def test_a_reaction_on_a_question_is_yes_or_no(mara, room, key, word):
    question = mara.until(room, answers(mara.say(room, "sure?")))
    mara.react(room, question.event_id, key)
    mara.until(room, notice(f"Mara says {word} to"))


def test_a_reaction_on_a_prompt_acknowledges_that_prompt_and_can_be_taken_back(bot, mara, room):
    mara.say(room, "wood in 1")
    prompt = mara.until(room, notice("one split on the barrel"))
    reaction = mara.react(room, prompt.event_id, "🙋")
    told = mara.until(room, notice("Mara says got it to"))
    said = {each.id for line in log(bot.folder, room) for each in line.actions if each.kind == "prompt"}
    assert told.body.split(" to ")[1] in said
    back = mara.remove(room, reaction)
    until = time.monotonic() + 10
    while back not in recorded(bot.folder, room) and time.monotonic() < until:
        time.sleep(0.1)
    last = log(bot.folder, room)[-1]
    assert isinstance(last, Answer)
    assert (last.message.id, last.message.removes) == (back, reaction)


def test_reactions_on_talk_and_pictures_without_a_meaning_say_nothing(bot, mara, room):
    said = mara.say(room, "well?")
    reply = mara.until(room, answers(said))
    ignored = [mara.react(room, said, "👍"), mara.react(room, reply.event_id, "👍"),
               mara.react(room, reply.event_id, "🍞")]
    mara.until(room, answers(mara.say(room, "and now?")))
    assert not set(ignored) & set(recorded(bot.folder, room))


def test_what_is_asked_in_a_thread_is_answered_in_it(mara, room):
    root = mara.say(room, "lovely crowd")

    def thread(text):
        return mara.say(room, text, **{"m.relates_to": {
            "rel_type": "m.thread", "event_id": root, "is_falling_back": True, "m.in_reply_to": {"event_id": root}}})

    thread("floor 180")
    asked = thread("how is it?")
    reply = mara.until(room, answers(asked))
    assert (relation(reply)["rel_type"], relation(reply)["event_id"]) == ("m.thread", root)
    assert "1 stand: 180" in reply.body
    plain = mara.until(room, answers(mara.say(room, "and here?")))
    assert "rel_type" not in relation(plain)


def test_the_board_is_pinned_once_and_edited_in_place_and_other_pins_stay(bot, mara):
    room = mara.room(bot.config.matrix.user, power_level_override={"users": {
        mara.user: 100, bot.config.matrix.user: 50}}, version="11")
    mara.joined(room, bot.config.matrix.user)
    own = mara.say(room, "our rules are on the door")
    mara._do(mara.client.room_put_state(room, "m.room.pinned_events", {"pinned": [own]}))
    mara.say(room, "board, floor 180")
    first = mara.until(room, notice("- 180"))
    assert "&lt;b&gt;" in first.source["content"]["formatted_body"]
    mara.say(room, "floor 190")
    change = mara.until(room, edits(first.event_id))
    assert "- 180\n- 190" in change.source["content"]["m.new_content"]["body"]
    pins = mara._do(mara.client.room_get_state_event(room, "m.room.pinned_events")).content["pinned"]
    assert pins == [own, first.event_id]


def test_where_it_may_not_pin_it_says_so_once(bot, mara, room):
    mara.say(room, "board, floor 180")
    mara.until(room, notice("I may not pin the board here"))
    mara.say(room, "floor 190")
    mara.until(room, lambda event: isinstance(event, RoomMessageNotice) and is_edit(event))
    told = [each for each in said_by(mara, room, bot.config.matrix.user) if "may not pin" in getattr(each, "body", "")]
    assert len(told) == 1
