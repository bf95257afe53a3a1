"""What goes wrong around a bot: the server, the network, the disk, the clock, the login, the room. Nothing is lost and
nothing said twice: what was recorded is compared with what was sent, and the notices in the room with the questions."""
from __future__ import annotations

import json
import os
import random
import subprocess
import time
from collections import Counter
from contextlib import suppress
from datetime import UTC, datetime, timedelta
from email.utils import format_datetime

import pytest
from nio import RoomMessageNotice

from bot.rooms.matrix.account import AccountError
from bot.rooms.matrix.clock import ServerClock
from tests.matrix.bots import Bot, config_for
from tests.matrix.looks import answers, is_edit, notice, recorded, relation
from tests.matrix.people import Person
from tests.matrix.proxy import Proxy
from tests.matrix.server import Synapse


def assert_whole(person, room, folder, said, asked):
    """Every event is recorded once and in no other order, and every question has one answer."""
    until = time.monotonic() + 60
    while (missing := len(recorded(folder, room)) < len(said)) and time.monotonic() < until:
        time.sleep(0.2)
    assert not missing, f"{len(said) - len(recorded(folder, room))} of {len(said)} are not recorded"
    assert Counter(recorded(folder, room)) == Counter(said)
    for question in asked:
        person.until(room, answers(question), 60)
    person.sync(200)
    notices = [event for event in person.history(room) if isinstance(event, RoomMessageNotice) and not is_edit(event)]
    replies = Counter(relation(event)["m.in_reply_to"]["event_id"] for event in notices
                      if "m.in_reply_to" in relation(event))
    assert replies == Counter(asked)


def started(person, bot):
    room = person.room(bot.config.matrix.user)
    person.joined(room, bot.config.matrix.user)
    return room


def test_a_burst_of_two_hundred_while_the_bot_is_away_and_one_while_it_is_there(synapse, account, mara, tmp_path):
    config = config_for(synapse.url, user=f"@{account}:kitchen.test")
    with Bot(config, tmp_path, password=account) as bot:
        room = started(mara, bot)
    said = [mara.say(room, f"floor {n}") for n in range(120)]
    asked = [mara.say(room, "how?")]
    with Bot(config, tmp_path, password=account):
        said += [mara.say(room, f"floor {n}") for n in range(80)]
        asked.append(mara.say(room, "how?"))
        assert "200 stand" in mara.until(room, answers(asked[-1]), 60).body
        assert_whole(mara, room, tmp_path, [*said[:120], asked[0], *said[120:], asked[1]], asked)


@pytest.mark.slow
def test_a_server_that_is_away_and_comes_back(tmp_path_factory, tmp_path):
    """Half a minute with YARDHAND_LONG set, else eight seconds."""
    server = Synapse(tmp_path_factory.mktemp("away"))
    server.start()
    try:
        for name in ("mara", "yardhand"):
            server.user(name)
        person = Person(server.url, "@mara:kitchen.test", "mara")
        with Bot(config_for(server.url), tmp_path) as bot:
            room = started(person, bot)
            said = [person.say(room, "floor 1")]
            person.say(room, "wood in 3")
            server.stop()
            time.sleep(30.0 if os.environ.get("YARDHAND_LONG") else 8.0)
            server.start()
            begun = time.monotonic()
            asked = person.say(room, "how?")
            assert "2 stand" in person.until(room, answers(asked)).body
            assert time.monotonic() - begun < 15
            # The prompt fell due while nobody could be told.
            person.until(room, notice("one split on the barrel"))
            assert recorded(tmp_path, room)[0] == said[0]
            assert len(recorded(tmp_path, room)) == 3
        person.close()
    finally:
        server.stop()


def test_batches_that_come_twice_and_out_of_order_change_nothing(synapse, account, mara, tmp_path):
    chance = random.Random(4)
    kept = []

    def change(body):
        """Every event again with the next batch, and each batch in another order."""
        for info in body.get("rooms", {}).get("join", {}).values():
            events = info.get("timeline", {}).get("events", [])
            kept.extend(events)
            info["timeline"]["events"] = [*events, *(each for each in kept if each["type"] == "m.room.message")]
            chance.shuffle(info["timeline"]["events"])
        return body

    with Proxy(synapse.url) as proxy:
        config = config_for(proxy.url, user=f"@{account}:kitchen.test")
        with Bot(config, tmp_path, password=account) as bot:
            room = started(mara, bot)
            proxy.change = change
            said = [mara.say(room, f"floor {n}") for n in range(12)]
            said.append(mara.edit(room, said[0], "floor 500"))
            said.append(mara.remove(room, said[1]))
            asked = [mara.say(room, "how?")]
            assert "11 stand" in mara.until(room, answers(asked[0])).body
            assert_whole(mara, room, tmp_path, said + asked, asked)


def test_answers_that_the_server_does_not_take_at_first_are_sent_once(synapse, account, mara, tmp_path):
    refused = Counter()

    def refuse(method, path):
        if "/send/" in path and method == "PUT" and refused[path] < 2:
            refused[path] += 1
            return 502
        return None

    with Proxy(synapse.url) as proxy:
        proxy.refuse = refuse
        with Bot(config_for(proxy.url, user=f"@{account}:kitchen.test"), tmp_path, password=account) as bot:
            room = started(mara, bot)
            said, asked = [mara.say(room, "floor 180")], [mara.say(room, "how?")]
            assert_whole(mara, room, tmp_path, said + asked, asked)
    assert set(refused.values()) == {2}


def test_a_login_that_the_server_no_longer_knows_ends_the_bot_with_what_to_do(synapse, account, mara, tmp_path):
    config = config_for(synapse.url, user=f"@{account}:kitchen.test")
    with Bot(config, tmp_path, password=account) as bot:
        room = started(mara, bot)
        said = mara.say(room, "how?")
        mara.until(room, answers(said))
        token = json.loads((tmp_path / "matrix-login.json").read_text())["access_token"]
        synapse.call("POST", "/_matrix/client/v3/logout", {}, token)
        bot._thread.join(20)
        assert isinstance(bot.error, AccountError)
    assert "set YARDHAND_PASSWORD and start again" in str(bot.error)
    (tmp_path / "matrix-login.json").rename(tmp_path / "old-login.json")
    asked = mara.say(room, "and now?")
    with Bot(config, tmp_path, password=account):
        mara.until(room, answers(asked))
        assert_whole(mara, room, tmp_path, [said, asked], [said, asked])


def fill(path):
    """Write till the file system is full."""
    with path.open("wb", buffering=0) as out, suppress(OSError):
        while True:
            out.write(b"x" * 1024)


@pytest.mark.skipif(os.geteuid() != 0, reason="only root can make a small file system")
def test_a_full_disk_stops_nothing_for_good(synapse, account, mara, tmp_path):
    small = tmp_path / "small"
    small.mkdir()
    if subprocess.run(["mount", "-t", "tmpfs", "-o", "size=3m", "tmpfs", small], check=False).returncode != 0:
        pytest.skip("no small file system can be mounted here")
    try:
        with Bot(config_for(synapse.url, user=f"@{account}:kitchen.test"), small / "data", password=account) as bot:
            room = started(mara, bot)
            said = [mara.say(room, "floor 1")]
            asked = [mara.say(room, "how?")]
            mara.until(room, answers(asked[0]))
            filler = small / "filler"
            fill(filler)
            during = [mara.say(room, f"floor {n}") for n in range(20)]
            asked.append(mara.say(room, "how, now?"))
            time.sleep(2.0)
            filler.unlink()
            mara.until(room, answers(asked[1]), 60)
            assert_whole(mara, room, small / "data", [*said, asked[0], *during, asked[1]], asked)
    finally:
        subprocess.run(["umount", "-l", small], check=False)


def test_a_clock_that_jumps_neither_loses_nor_repeats(synapse, account, mara, tmp_path):
    with Proxy(synapse.url) as proxy:
        with Bot(config_for(proxy.url, user=f"@{account}:kitchen.test"), tmp_path, password=account) as bot:
            room = started(mara, bot)
            said = [mara.say(room, "wood in 3600")]
            for hours in (2, -5, 0):
                proxy.date = format_datetime(datetime.now(UTC) + timedelta(hours=hours), usegmt=True)
                said.append(mara.say(room, "floor 180"))
                asked = mara.say(room, "how?")
                mara.until(room, answers(asked))
                said.append(asked)
            mara.until(room, notice("one split on the barrel"))
            assert_whole(mara, room, tmp_path, said, said[2::2])
        prompts = [event for event in mara.history(room) if isinstance(event, RoomMessageNotice)
                   and "one split" in event.body]
    assert len(prompts) == 1, "due once when the clock was ahead, and not again"


def test_the_server_s_clock_counts_and_the_machine_s_does_not():
    """Date header as RFC 9110, 5.6.7 shows it."""
    steady = [100.0]
    clock = ServerClock(lambda: steady[0], lambda: datetime(2020, 1, 1, tzinfo=UTC))
    assert clock() == datetime(2020, 1, 1, tzinfo=UTC)
    clock.told("Sun, 06 Nov 1994 08:49:37 GMT")
    steady[0] += 90.0
    assert clock() == datetime(1994, 11, 6, 8, 51, 7, tzinfo=UTC)
    clock.told("Sun, 06 Nov 1994 08:51:06 GMT")
    assert clock() == datetime(1994, 11, 6, 8, 51, 7, tzinfo=UTC), "an answer that came late sets nothing back"
    clock.told("nonsense")
    clock.told(None)
    assert clock() == datetime(1994, 11, 6, 8, 51, 7, tzinfo=UTC)


@pytest.mark.parametrize("version", ["10", "12"])
def test_a_room_that_is_upgraded_takes_its_class_along(synapse, account, mara, tmp_path, version):
    with Bot(config_for(synapse.url, user=f"@{account}:kitchen.test"), tmp_path, password=account) as bot:
        old = mara.room(bot.config.matrix.user, version="10")
        mara.joined(old, bot.config.matrix.user)
        said = [mara.say(old, "floor 180")]
        asked = [mara.say(old, "how?")]
        mara.until(old, answers(asked[0]))
        new = synapse.call("POST", f"/_matrix/client/v3/rooms/{old}/upgrade", {"new_version": version},
                           mara.client.access_token)["replacement_room"]
        mara._do(mara.client.room_invite(new, bot.config.matrix.user))
        mara.joined(new, bot.config.matrix.user)
        asked.append(mara.say(new, "and here?"))
        assert "1 stand: 180" in mara.until(new, answers(asked[1])).body
        assert recorded(tmp_path, new) == [*said, *asked]


def test_a_bot_that_was_removed_and_is_invited_again_goes_on_with_the_class(synapse, account, mara, tmp_path):
    with Bot(config_for(synapse.url, user=f"@{account}:kitchen.test"), tmp_path, password=account) as bot:
        room = started(mara, bot)
        said = [mara.say(room, "floor 180")]
        asked = [mara.say(room, "how?")]
        mara.until(room, answers(asked[0]))
        mara._do(mara.client.room_kick(room, bot.config.matrix.user))
        without = mara.say(room, "floor 999")
        mara._do(mara.client.room_invite(room, bot.config.matrix.user))
        mara.joined(room, bot.config.matrix.user)
        asked.append(mara.say(room, "and now?"))
        assert "1 stand: 180" in mara.until(room, answers(asked[1])).body
        assert recorded(tmp_path, room) == [*said, *asked]
        assert without not in recorded(tmp_path, room)


def test_behind_the_server_s_own_limit_waiting_answers_go_out_together(tmp_path_factory, tmp_path):
    """Synapse as it comes: about ten messages, then one in five seconds for a user."""
    server = Synapse(tmp_path_factory.mktemp("limited"), limited=True)
    server.start()
    try:
        for name in ("mara", "yardhand"):
            server.user(name)
        server.user("head", admin=True)
        token = server.call("POST", "/_matrix/client/v3/login", {
            "type": "m.login.password", "identifier": {"type": "m.id.user", "user": "head"}, "password": "head"})[
                "access_token"]
        server.call("POST", "/_synapse/admin/v1/users/@mara:kitchen.test/override_ratelimit",
                    {"messages_per_second": 0, "burst_count": 0}, token)
        person = Person(server.url, "@mara:kitchen.test", "mara")
        with Bot(config_for(server.url), tmp_path) as bot:
            room = started(person, bot)
            for n in range(30):
                person.say(room, f"floor {n}, how?")
            person.until(room, notice("30 stand"), 60)
            notices = [event for event in person.history(room) if isinstance(event, RoomMessageNotice)]
            assert sum(event.body.count(" stand: ") for event in notices) == 30
            assert len(notices) < 30
        person.close()
    finally:
        server.stop()
