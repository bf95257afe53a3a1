"""A plain room, end to end, on a real server."""
from __future__ import annotations

import pytest
from nio import ReactionEvent, RoomMessageNotice

from tests.matrix.bots import Bot, config_for


@pytest.fixture
def bot(synapse, account, tmp_path):
    config = config_for(synapse.url, user=f"@{account}:kitchen.test", people=["@mara:kitchen.test",
                                                                               "@tomos:kitchen.test"])
    with Bot(config, tmp_path / "data", password=account) as running:
        yield running


@pytest.fixture
def room(bot, mara):
    made = mara.room(bot.config.matrix.user)
    mara.joined(made, bot.config.matrix.user)
    return made


def notice(text):
    return lambda event: isinstance(event, RoomMessageNotice) and text in event.body


def answers(event_id):
    """A notice that answers an event."""
    return lambda event: isinstance(event, RoomMessageNotice) and (
        event.source["content"].get("m.relates_to", {}).get("m.in_reply_to", {}).get("event_id") == event_id)


def test_a_question_gets_a_notice_with_escaped_html_that_calls_nobody(mara, room):
    mara.say(room, "floor 180")
    asked = mara.say(room, "how is it?")
    reply = mara.until(room, answers(asked))
    assert reply.body == "1 stand: 180\nMara, that is all <b>&"
    content = reply.source["content"]
    assert content["formatted_body"] == "1 stand: 180<br><strong>Mara</strong>, that is all &lt;b&gt;&amp;"
    assert content["m.mentions"] == {"user_ids": ["@mara:kitchen.test"]}
    assert content["msgtype"] == "m.notice"
    assert content["format"] == "org.matrix.custom.html"


def test_a_plain_reading_gets_a_tick_and_not_a_line(mara, room):
    said = mara.say(room, "floor 180")
    mara.until(room, lambda event: isinstance(event, ReactionEvent) and event.reacts_to == said)
    mara.say(room, "lovely crowd")
    asked = mara.say(room, "well?")
    mara.until(room, answers(asked))
    told = [event for where, event in mara.seen if where == room and event.sender != mara.user
            and isinstance(event, RoomMessageNotice | ReactionEvent)]
    assert len(told) == 2
