"""A plain room on a real server: who is heard, what is answered, and how."""
from __future__ import annotations

import subprocess
import sys
import time

from nio import RoomMemberEvent

from tests.matrix.looks import answers, notice, recorded, said_by, tick_on


def test_a_question_gets_a_notice_with_escaped_html_that_calls_only_whom_it_names(mara, room):
    mara.say(room, "floor 180")
    asked = mara.say(room, "how is it?")
    reply = mara.until(room, answers(asked))
    content = reply.source["content"]
    assert content["body"] == "1 stand: 180\nMara, that is all <b>&"
    assert content["formatted_body"] == "1 stand: 180<br><strong>Mara</strong>, that is all &lt;b&gt;&amp;"
    assert content["m.mentions"] == {"user_ids": ["@mara:kitchen.test"]}
    assert (content["msgtype"], content["format"]) == ("m.notice", "org.matrix.custom.html")


def test_a_plain_reading_gets_a_tick_chatter_nothing_and_the_read_mark_moves(bot, mara, room):
    said = mara.say(room, "floor 180")
    mara.until(room, tick_on(said))
    mara.say(room, "lovely crowd")
    asked = mara.say(room, "well?")
    mara.until(room, answers(asked))
    assert len(said_by(mara, room, bot.config.matrix.user)) == 2
    receipts = mara.client.rooms[room].threaded_read_receipts
    mark = None
    until = time.monotonic() + 15
    while mark != asked and time.monotonic() < until:
        mara.sync(500)
        mark = receipts[bot.config.matrix.user]["main"].event_id if bot.config.matrix.user in receipts else None
    assert mark == asked


def test_notices_outsiders_and_what_was_said_before_the_bot_came_are_neither_answered_nor_kept(bot, mara, idris):
    room = mara.room(idris.user)
    idris.join(room)
    old = mara.say(room, "floor 100, how is it?")
    mara._do(mara.client.room_invite(room, bot.config.matrix.user))
    mara.joined(room, bot.config.matrix.user)
    outside = idris.say(room, "floor 200, how is it?")
    bots = mara.send(room, {"msgtype": "m.notice", "body": "floor 300, how is it?"})
    picture = mara.send(room, {"msgtype": "m.image", "body": "floor 400.png", "url": "mxc://kitchen.test/x"})
    asked = mara.say(room, "how is it?")
    assert "0 stand" in mara.until(room, answers(asked)).body
    assert len(said_by(mara, room, bot.config.matrix.user)) == 1
    assert recorded(bot.folder, room) == [asked]
    assert not {old, outside, bots, picture} & set(recorded(bot.folder, room))


def test_an_invitation_by_someone_who_is_not_on_the_list_is_refused(bot, idris):
    room = idris.room(bot.config.matrix.user)

    def member():
        answer = idris._do(idris.client.room_get_state_event(room, "m.room.member", bot.config.matrix.user))
        return answer.content["membership"]

    until = time.monotonic() + 15
    while member() == "invite" and time.monotonic() < until:
        time.sleep(0.1)
    assert member() == "leave"


def test_a_room_that_the_bot_was_put_in_without_an_invitation_by_the_list_hears_nothing_from_it(
        bot, synapse, mara, idris):
    room = idris.room(mara.user)
    mara.join(room)
    token = synapse.call("POST", "/_matrix/client/v3/login", {
        "type": "m.login.password", "identifier": {"type": "m.id.user", "user": "head"}, "password": "head",
    })["access_token"]
    # An administrator of the server needs to be in the room to put others into it.
    idris._do(idris.client.room_invite(room, "@head:kitchen.test"))
    synapse.call("POST", f"/_matrix/client/v3/join/{room}", {}, token)
    idris._do(idris.client.room_put_state(room, "m.room.join_rules", {"join_rule": "public"}))
    put = synapse.call("POST", f"/_synapse/admin/v1/join/{room}", {"user_id": bot.config.matrix.user}, token)
    assert "room_id" in put
    mara.joined(room, bot.config.matrix.user)
    mara.say(room, "floor 180, how is it?")
    other = mara.room(bot.config.matrix.user)
    mara.joined(other, bot.config.matrix.user)
    asked = mara.say(other, "how is it?")
    mara.until(other, answers(asked))
    assert said_by(mara, room, bot.config.matrix.user) == []


def test_a_prompt_comes_at_its_time_and_calls_its_owner_only(bot, mara, tomos):
    room = mara.room(bot.config.matrix.user, tomos.user)
    tomos.join(room)
    mara.joined(room, bot.config.matrix.user)
    begun = time.monotonic()
    tomos.say(room, "wood in 2")
    prompt = mara.until(room, notice("one split on the barrel"))
    assert time.monotonic() - begun >= 1.0
    assert prompt.body.startswith("Tomos: ")
    assert prompt.source["content"]["m.mentions"] == {"user_ids": [tomos.user]}


def test_two_people_of_one_name_are_told_apart_and_names_carry_no_markup(bot, mara, tomos):
    room = mara.room(bot.config.matrix.user, tomos.user)
    tomos.join(room)
    mara.joined(room, bot.config.matrix.user)
    for person in (mara, tomos):
        person._do(person.client.set_displayname("  Bea <b>\n: "))
        mara.until(room, lambda event, who=person.user: isinstance(event, RoomMemberEvent) and event.state_key == who
                   and "Bea" in str(event.content.get("displayname")))
    try:
        first, second = mara.say(room, "who?"), tomos.say(room, "who?")
        bodies = [mara.until(room, answers(each)).source["content"] for each in (first, second)]
    finally:
        for person in (mara, tomos):
            person._do(person.client.set_displayname(person.user.split(":")[0][1:]))
    assert bodies[0]["body"].split("\n")[1].startswith("Bea <b>, that")
    assert "<strong>Bea &lt;b&gt;</strong>" in bodies[0]["formatted_body"]
    assert bodies[1]["body"].split("\n")[1].startswith("Tomos, that")


def test_the_command_prints_the_ids_of_the_events_that_were_recorded(bot, mara, room):
    said = [mara.say(room, "floor 180"), mara.say(room, "lovely crowd"), mara.say(room, "well?")]
    said.append(mara.edit(room, said[0], "floor 190"))
    said.append(mara.remove(room, said[1]))
    mara.until(room, answers(said[2]))
    until = time.monotonic() + 10
    while len(recorded(bot.folder, room)) < 5 and time.monotonic() < until:
        time.sleep(0.1)
    done = subprocess.run([sys.executable, "-m", "bot.cli", "log", "--room", room, "--events", "--data", bot.folder],
                          capture_output=True, text=True, check=True)
    assert done.stdout.splitlines() == said
    in_room = [event.event_id for event in mara.history(room)]
    assert [each for each in in_room if each in said] == said


def test_files_of_the_bot_are_for_their_owner_alone(bot, room):
    del room
    for path in [bot.folder, *bot.folder.rglob("*")]:
        assert path.stat().st_mode & 0o077 == 0, path
