"""An encrypted room: the same talk, sealed; what cannot be read is waited for and told of."""
from __future__ import annotations

import time

import pytest
from nio import MegolmEvent, ReactionEvent

from tests.matrix.bots import Bot, SealedBot, config_for
from tests.matrix.looks import answers, edits, log, notice, recorded, tick_on
from tests.matrix.people import Person
from tests.matrix.proxy import Proxy


@pytest.fixture(scope="module")
def bot(synapse, tmp_path_factory):
    synapse.user("sealed")
    with SealedBot(synapse.url, "sealed", tmp_path_factory.mktemp("sealed")) as running:
        yield running


def sealed_room(person, user):
    room = person.room(user, encrypted=True)
    person.joined(room, user)
    return room


def test_a_sealed_room_is_heard_and_answered_sealed(bot, mara):
    room = sealed_room(mara, bot.user)
    said = mara.say(room, "floor 180")
    mara.until(room, tick_on(said))
    asked = mara.say(room, "how is it?")
    reply = mara.until(room, answers(asked))
    assert "1 stand: 180" in reply.body
    assert reply.decrypted
    mara.edit(room, asked, "how, 7?")
    assert "2 stand: 180 7" in mara.until(room, edits(reply.event_id)).source["content"]["m.new_content"]["body"]
    raw = mara.raw_history(room)
    words = [event["type"] for event in raw if event["sender"] == bot.user
             and event["type"] in ("m.room.message", "m.room.encrypted")]
    assert words == ["m.room.encrypted"] * 2, "no clear word in a sealed room"
    assert recorded(bot.folder, room)[:2] == [said, asked]


def test_a_bot_that_stops_and_starts_reads_on_with_the_same_keys(synapse, account, mara, tmp_path):
    with SealedBot(synapse.url, account, tmp_path) as bot:
        room = sealed_room(mara, bot.user)
        asked = [mara.say(room, "floor 1, how?")]
        mara.until(room, answers(asked[0]))
    asked.append(mara.say(room, "floor 2, how?"))
    with SealedBot(synapse.url, account, tmp_path):
        assert "2 stand" in mara.until(room, answers(asked[1])).body
        asked.append(mara.say(room, "floor 3, how?"))
        assert "3 stand" in mara.until(room, answers(asked[2])).body
    assert recorded(tmp_path, room) == asked


def test_words_whose_key_comes_late_are_heard_at_their_own_time_and_told_of_once(synapse, account, mara, tmp_path):
    """The keys are held back on their way to the bot, then let through."""
    held = []
    holding = [True]

    def change(body):
        events = body.get("to_device", {}).get("events", [])
        if holding[0]:
            held.extend(events)
            events = []
        else:
            events = [*held, *events]
            held.clear()
        return {**body, "to_device": {"events": events}}

    with Proxy(synapse.url) as proxy:
        with SealedBot(proxy.url, account, tmp_path, tell_after_ms=1500) as bot:
            proxy.change = change
            room = sealed_room(mara, bot.user)
            early = [mara.say(room, "floor 180"), mara.say(room, "floor 190")]
            time.sleep(1.6)
            plain = mara.room(bot.user)
            mara.joined(plain, bot.user)
            told = mara.until(room, notice("could not read your message"), 40)
            assert told.body.startswith("Mara: ")
            assert recorded(tmp_path, room) == []
            assert any("sendToDevice" in path and "m.room_key_request" in path for _, path in proxy.requests)
            holding[0] = False
            asked = mara.say(room, "how?")
            assert "2 stand: 180 190" in mara.until(room, answers(asked)).body
            assert set(recorded(tmp_path, room)) == {*early, asked}
            by_id = {line.message.id: line.message.at for line in log(tmp_path, room)}
            assert by_id[early[0]] <= by_id[early[1]] <= by_id[asked]
            assert (by_id[asked] - by_id[early[0]]).total_seconds() >= 1.0
        notes = {event.event_id for where, event in mara.seen
                 if where == room and "could not read" in getattr(event, "body", "")}
    assert len(notes) == 1


def test_without_its_keys_it_says_nothing_into_a_sealed_room(synapse, account, mara, tmp_path):
    """The library would send clear words."""
    config = config_for(synapse.url, user=f"@{account}:kitchen.test", encryption=False)
    with Bot(config, tmp_path, password=account) as bot:
        room = sealed_room(mara, config.matrix.user)
        synapse.call("PUT", f"/_matrix/client/v3/rooms/{room}/send/m.room.message/clear1",
                     {"msgtype": "m.text", "body": "how is it?"}, mara.client.access_token)
        until = time.monotonic() + 15
        while not recorded(tmp_path, room) and time.monotonic() < until:
            time.sleep(0.1)
        time.sleep(1.0)
        assert [event["type"] for event in mara.raw_history(room)
                if event["sender"] == bot.config.matrix.user] == ["m.room.member"]


def test_the_library_still_sends_reactions_of_a_sealed_room_in_the_clear(bot, mara):
    """Known, and told in the README: the tick shows which event it is on, and no words."""
    room = sealed_room(mara, bot.user)
    said = mara.say(room, "floor 180")
    tick = mara.until(room, tick_on(said))
    assert isinstance(tick, ReactionEvent)
    assert not tick.decrypted
    assert not isinstance(tick, MegolmEvent)


@pytest.mark.slow
def test_a_new_device_of_a_person_reads_what_the_bot_says_from_then_on(synapse, bot, tmp_path):
    first = Person(synapse.url, "@tomos:kitchen.test", "tomos", tmp_path)
    room = sealed_room(first, bot.user)
    first.until(room, answers(first.say(room, "floor 1, how?")))
    (tmp_path / "second").mkdir()
    second = Person(synapse.url, "@tomos:kitchen.test", "tomos", tmp_path / "second")
    try:
        first.sync(500)
        asked = first.say(room, "floor 2, how?")
        assert "2 stand" in second.until(room, answers(asked)).body
    finally:
        first.close()
        second.close()
