"""Pictures and courtesies: the chart when asked for and at the end, the typing mark while a reply takes its time."""
from __future__ import annotations

import time

import pytest
from nio import DownloadResponse, RoomEncryptedImage, RoomMessageImage
from nio.crypto.attachments import decrypt_attachment

from tests.matrix.bots import Bot, SealedBot, config_for
from tests.matrix.looks import answers
from tests.matrix.small_engine import SmallRoom

PNG = b"\x89PNG\r\n\x1a\n"    # W3C PNG specification, 5.2


def picture(person, room, kind):
    found = person.until(room, lambda event: isinstance(event, kind))
    answer = person._do(person.client.download(found.url))
    assert isinstance(answer, DownloadResponse)
    return found, answer.body


def test_the_chart_is_posted_when_it_is_asked_for_and_at_the_end_of_the_class(mara, room):
    mara.say(room, "floor 180")
    asked = mara.say(room, "post the chart")
    found, data = picture(mara, room, RoomMessageImage)
    assert data.startswith(PNG)
    content = found.source["content"]
    assert content["m.relates_to"] == {"m.in_reply_to": {"event_id": asked}}
    assert content["info"]["size"] == len(data)
    assert 400 <= content["info"]["w"] <= 4000
    mara.say(room, "end of class")
    mara.until(room, lambda event: isinstance(event, RoomMessageImage) and event.event_id != found.event_id)


@pytest.mark.slow
def test_in_a_sealed_room_the_chart_is_sealed(synapse, account, mara, tmp_path):
    with SealedBot(synapse.url, account, tmp_path) as sealed:
        room = mara.room(sealed.user, encrypted=True)
        mara.joined(room, sealed.user)
        mara.say(room, "floor 180")
        mara.say(room, "post the chart")
        found, data = picture(mara, room, RoomEncryptedImage)
    assert not data.startswith(PNG)
    assert decrypt_attachment(data, found.key["k"], found.hashes["sha256"], found.iv).startswith(PNG)


class Slow(SmallRoom):
    slow_s = 1.5


def test_a_reply_that_takes_its_time_is_announced_by_the_typing_mark(synapse, account, mara, tmp_path):
    typing = []
    with Bot(config_for(synapse.url, user=f"@{account}:kitchen.test"), tmp_path, password=account, make=Slow) as slow:
        room = mara.room(slow.config.matrix.user)
        mara.joined(room, slow.config.matrix.user)
        asked = mara.say(room, "how?")
        until = time.monotonic() + 10
        while not typing and time.monotonic() < until:
            mara.sync(500)
            typing = list(mara.client.rooms[room].typing_users)
        mara.until(room, answers(asked))
        while mara.client.rooms[room].typing_users and time.monotonic() < until + 10:
            mara.sync(500)
    assert typing == [slow.config.matrix.user]
    assert mara.client.rooms[room].typing_users == []
