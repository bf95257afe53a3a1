"""Whatever stands in a room, the bot outlives it and hears the next message."""
from __future__ import annotations

import json

from hypothesis import given, settings
from hypothesis import strategies as st

from bot.rooms.matrix.content import edited, notice
from bot.rooms.matrix.hearing import incoming
from tests.matrix.looks import answers, log

RELATIONS = [
    {"rel_type": "m.replace", "event_id": "$nothing"},
    {"rel_type": "m.replace"},
    {"rel_type": "m.annotation", "event_id": 7, "key": {}},
    {"rel_type": "m.thread", "event_id": "$nothing", "m.in_reply_to": {"event_id": ["$x"]}},
    {"m.in_reply_to": {"m.in_reply_to": {"m.in_reply_to": {"event_id": "$deep"}}}},
    {"m.in_reply_to": "$text"},
    "m.replace",
    ["m.replace"],
]


def test_broken_events_and_nested_relations_are_passed_over(mara, room):
    for each in RELATIONS:
        mara.offer(room, {"msgtype": "m.text", "body": "lovely crowd", "m.relates_to": each,
                          "m.new_content": {"body": 7}})
    mara.offer(room, {"msgtype": 7, "body": "x"})
    mara.offer(room, {"msgtype": "m.location", "body": "floor 500", "geo_uri": "geo:0,0"})
    mara.offer(room, {"body": "floor 500"}, "test.yard.unknown")
    mara.offer(room, {"no": "keys"}, "m.room.encrypted")
    said = mara.say(room, "lovely crowd")
    mara.offer(room, {"m.relates_to": {"rel_type": "m.annotation", "event_id": said, "key": "x" * 200}}, "m.reaction")
    asked = mara.say(room, "how is it?")
    assert "0 stand" in mara.until(room, answers(asked)).body


def test_a_message_of_sixty_thousand_letters_is_kept_whole(bot, mara, room):
    text = "floor 180 " * 6_000
    said = mara.say(room, text)
    asked = mara.say(room, "well?")
    mara.until(room, answers(asked))
    kept = {line.message.id: line.message.text for line in log(bot.folder, room)}
    assert kept[said] == text.strip()


def test_a_failure_of_the_engine_is_told_and_the_room_goes_on(mara, room):
    mara.say(room, "floor 180")
    broken = mara.say(room, "boom")
    assert "could not work with that" in mara.until(room, answers(broken)).body
    asked = mara.say(room, "how is it?")
    assert "1 stand: 180" in mara.until(room, answers(asked)).body


values = st.recursive(st.none() | st.booleans() | st.integers() | st.text(max_size=8) | st.sampled_from(
    ["m.text", "m.replace", "m.thread", "m.annotation", "$id", "@a:b", "> <@a:b> x\n\ny"]),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.sampled_from(
        ["body", "msgtype", "m.relates_to", "rel_type", "event_id", "key", "m.new_content", "m.in_reply_to", "redacts",
         "filename"]), inner, max_size=5), max_leaves=12)


@given(kind=st.sampled_from(["m.room.message", "m.reaction", "m.room.redaction", "x"]), content=values, rest=values)
@settings(max_examples=300, deadline=None)
def test_no_event_of_any_shape_makes_the_hearing_fail(kind, content, rest):
    source = {"type": kind, "event_id": "$1", "sender": "@a:b", "origin_server_ts": 1, "content": content,
              **(rest if isinstance(rest, dict) else {})}
    heard = incoming(source, ("yardhand",))
    if heard is not None:
        heard.text.encode("utf-8")


@given(st.text(max_size=40), st.text(alphabet="<>&\"'abc", min_size=1, max_size=10))
def test_nothing_that_people_wrote_becomes_markup(text, name):
    """Only the tags that the bot sets itself stand in what it sends."""
    made = notice(f"{name}: {text}", {name: "@a:b"})
    for content in (made, edited("$1", made)["m.new_content"]):
        bare = content["formatted_body"].replace("<br>", "").replace("<strong>", "").replace("</strong>", "")
        assert "<" not in bare
        assert ">" not in bare
    json.dumps(made)
