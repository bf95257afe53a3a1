"""A bot that is killed again and again while people talk: nothing is lost, nothing said twice.

YARDHAND_KILLS sets the number of kills (the README's command makes a few; a hundred is the full test).
"""
from __future__ import annotations

import json
import os
import time

import pytest
from nio import ReactionEvent

from tests.matrix.bots import SealedBot, errors_of, parted
from tests.matrix.bots import drive as start
from tests.matrix.looks import answers, notice, recorded
from tests.matrix.test_faults import assert_whole

KILLS = int(os.environ.get("YARDHAND_KILLS", "12"))

pytestmark = pytest.mark.skipif(not hasattr(os, "fork"), reason="needs fork and SIGKILL")


def drive(person, room, plan, most):
    """Talk while the driver kills; what was said, what was asked, and how the children died."""
    process = start(plan)
    os.set_blocking(process.stdout.fileno(), False)
    said, asked, how = [], [], None
    begun = time.monotonic()
    while how is None and time.monotonic() - begun < 1500:
        line = process.stdout.readline()
        how = json.loads(line) if line.strip() else None
        assert process.poll() is None, errors_of(process)
        if len(said) < most:
            said.append(person.say(room, f"floor {len(said)}"))
            if len(said) % 3 == 0:
                said.append(person.say(room, "how?"))
                asked.append(said[-1])
        time.sleep(0.05)
    return process, said, asked, how


def finish(process):
    os.set_blocking(process.stdout.fileno(), True)
    assert "left in peace" in parted(process), errors_of(process)


@pytest.mark.slow
@pytest.mark.parametrize("encrypted", [False, True], ids=["plain", "encrypted"])
def test_killed_at_random_points_nothing_is_lost_and_nothing_is_said_twice(
        synapse, account, mara, tmp_path, encrypted):
    with SealedBot(synapse.url, account, tmp_path) as bot:
        room = mara.room(bot.user, encrypted=encrypted)
        mara.joined(room, bot.user)
    kills = max(3, KILLS // (3 if encrypted else 1))
    plan = {"url": synapse.url, "user": bot.user, "folder": str(tmp_path), "kills": kills, "seed": 7,
            "real": False, "most_s": 3.0, "password": "", "tell_after_ms": 60_000}
    process, said, asked, how = drive(mara, room, plan, 12 * kills)
    print(how, len(said), "said", len(asked), "asked")
    assert sum(how.values()) == kills
    last = mara.say(room, "how, at last?")
    readings = len(said) - len(asked)
    mara.until(room, notice(f"{readings} stand"), 120)
    if encrypted:
        # Sealed replies are only readable in what the person has synced.
        for question in [*asked, last]:
            mara.until(room, answers(question), 60)
        replies = {event.event_id for where, event in mara.seen if where == room and notice(" stand")(event)}
        assert len(replies) == len(asked) + 1
        assert sorted(recorded(tmp_path, room)) == sorted([*said, last])
    else:
        assert_whole(mara, room, tmp_path, [*said, last], [*asked, last])
    ticks = [event.reacts_to for where, event in mara.seen if where == room and isinstance(event, ReactionEvent)]
    assert len(set(ticks)) <= readings
    finish(process)


@pytest.mark.slow
def test_killed_on_the_real_engine_nothing_is_lost(synapse, account, mara, tmp_path):
    with SealedBot(synapse.url, account, tmp_path) as bot:
        room = mara.room(bot.user)
        mara.joined(room, bot.user)
    first = mara.say(room, "the barrel is 70 across, 6 cm floor brick, 8 cm dome, 5 cm insulation, kept going")
    plan = {"url": synapse.url, "user": bot.user, "folder": str(tmp_path), "kills": 2, "seed": 3,
            "real": True, "most_s": 12.0, "password": "", "tell_after_ms": 60_000}
    process, said, asked, how = drive(mara, room, plan, 8)
    del asked
    assert sum(how.values()) == 2
    last = mara.say(room, "what can I say?")
    mara.until(room, notice("floor 180 air 170"), 120)
    assert sorted(recorded(tmp_path, room)) == sorted([first, *said, last])
    finish(process)
