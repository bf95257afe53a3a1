"""After hours without the server or the machine: the record is whole, and no answer of the morning is given at noon."""
from __future__ import annotations

import json
from datetime import UTC, datetime, timedelta
from email.utils import format_datetime
from zoneinfo import ZoneInfo

import pytest

from bot.rooms.house import House
from bot.rooms.matrix.hearing import Incoming
from bot.rooms.matrix.mailbox import Mailbox, News
from bot.store import Store
from bot.talk import Action, Prompted, School
from tests.matrix.bots import Bot, config_for
from tests.matrix.looks import notice, recorded
from tests.matrix.proxy import Proxy
from tests.matrix.small_engine import SmallRoom

NOON = datetime(2026, 1, 6, 12, 0, tzinfo=UTC)
ZONES = {"!yard:kitchen.test": ZoneInfo("UTC")}


class Post:
    """A mailbox and its one room, without a server."""

    def __init__(self, folder):
        self.store = Store.open(folder)
        self.box = Mailbox(self.store)
        self.box.welcome("!yard:kitchen.test", "@mara:kitchen.test", "yard")
        self.box.take([News("!yard:kitchen.test", joined_ms=0)], "s0", NOON, ZONES)
        self.house = House(self.store, "yard", School(), make=SmallRoom)
        self.n = 0

    def batch(self, *said, now=NOON):
        heard = []
        for clock, text in said:
            self.n += 1
            at = NOON.replace(hour=int(clock[:2]), minute=int(clock[3:]))
            heard.append(Incoming(f"$event{self.n}", "@mara:kitchen.test", int(at.timestamp() * 1000), "message", text))
        self.box.take([News("!yard:kitchen.test", heard=heard)], f"s{self.n}", now, ZONES)
        while self.house.answer_next() is not None:
            pass

    def letters(self):
        """The bodies that would be sent, ticks as their sign."""
        place = self.box.places()[0]
        self.box.pack(place)
        found = [letter.content for letter in self.box.waiting(place.id)]
        return [each.get("body", "tick") for each in found]


@pytest.fixture
def post(tmp_path):
    made = Post(tmp_path)
    yield made
    made.store.close()


def test_old_questions_get_one_line_together_and_the_newest_an_answer(post):
    post.batch(("09:00", "floor 210"), ("09:05", "when?"), ("10:30", "and when?"), ("11:55", "and now?"))
    first, *rest = post.letters()
    assert first.startswith("What you wrote from 09:05 to 10:30 reached me late.")
    assert [body for body in rest if body != "tick"] == [body for body in rest if body.startswith("1 stand: 210")]
    assert rest.count("tick") == 1
    assert len(post.store.log("yard")) == 4


def test_twenty_minutes_late_is_not_an_absence(post):
    post.batch(("11:45", "when?"), ("11:59", "floor 205"))
    assert not any("reached me late" in body for body in post.letters())


def test_what_the_bot_asks_and_what_still_presses_is_said_late_all_the_same(post):
    post.batch(("09:00", "sure?"))
    post.store.prompt("yard", Prompted(NOON - timedelta(hours=2), tuple(
        Action(f"prompt {name}", "prompt", NOON - timedelta(hours=2), "yard", f"{name} prompt", prompt="safety",
               data=data)
        for name, data in (("pressing", {"urgent": True}), ("plain", {}),
                           ("lapsed", {"urgent": True, "lapses": (NOON - timedelta(hours=1)).isoformat()})))))
    bodies = post.letters()
    assert any("Are you sure?" in body for body in bodies)
    assert any("pressing prompt" in body for body in bodies)
    assert not any("plain prompt" in body or "lapsed prompt" in body for body in bodies)


def test_while_it_is_there_a_clock_that_is_set_makes_nothing_old(post):
    post.batch(("11:59", "floor 205"), now=NOON)
    post.batch(("12:00", "when?"), now=NOON + timedelta(hours=3))
    assert any("1 stand: 205" in body for body in post.letters())


def test_a_bot_that_comes_back_hours_later_has_everything_in_the_log_and_says_one_line(
        synapse, account, mara, tmp_path):
    config = config_for(synapse.url, user=f"@{account}:kitchen.test")
    with Bot(config, tmp_path, password=account):
        room = mara.room(config.matrix.user)
        mara.joined(room, config.matrix.user)
    said = [mara.say(room, "floor 210"), mara.say(room, "how?"), mara.say(room, "how now?")]
    with Proxy(synapse.url) as proxy:
        proxy.date = format_datetime(datetime.now(UTC) + timedelta(hours=3), usegmt=True)
        late = config_for(proxy.url, user=f"@{account}:kitchen.test")
        with Bot(late, tmp_path, password=account):
            mara.until(room, notice("reached me late"), 30)
            assert recorded(tmp_path, room) == said
    bodies = [json.dumps(event.source) for event in mara.history(room)]
    assert not any("stand: 210" in body for body in bodies)
