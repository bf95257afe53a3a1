"""A ladder during the class: the plan of all its dishes once the fire burns or is raked, new times where acts move."""

from __future__ import annotations

from datetime import datetime, timedelta

import numpy as np
import pytest

from bot.engine import Room
from bot.talk import Message, School
from skills.planning.course import FEED_EVERY_S
from skills.planning.firing_plan import banked
from skills.planning.ladder import ladder, replay
from skills.planning.outcome import Start
from tests.planning import helpers
from tests.planning.test_ladder import LOADS
from tests.planning.test_replays import FRESH, MEMBERS, least

DAY = datetime.fromisoformat("2026-05-16T04:00:00+01:00")
OVEN = "the dome is 90 across, 6 cm floor brick, 10 cm dome, 10 of insulation, probe 5 cm down. we fire it and rake it"


class Talk:
    """A class with a shoulder and loaves for six in the evening, planned at four in the morning."""

    def __init__(self):
        self.room = Room("yard", School(lead="Mara", seed=7))
        self.count = 0
        for text in (OVEN, "class: shoulder day, 14 guests, eating at 18:00",
                     "3 kg lamb shoulder, litre of hot stock, iron pot", "2.4 kg loaves"):
            self.say(0, text)
        self.answer = self.say(1, "what's the plan")

    def say(self, minute, text, who="Mara"):
        self.count += 1
        message = Message(f"t{self.count}", DAY + timedelta(minutes=minute), who, text)
        replies = [action.text for action in self.room.hear(message).actions if action.kind == "reply"]
        assert all(reply.count("\n") <= 2 for reply in replies)
        return "\n".join(replies)

    def prompts(self, until):
        said = []
        while (wake := self.room.next_wake()) is not None and wake <= DAY + timedelta(minutes=until):
            said += [action.text for action in self.room.tick(wake) if action.prompt == "plan"]
        return said


@pytest.fixture
def lit_late():
    """To be lit at about half past six, and lit at nine."""
    talk = Talk()
    talk.prompts(299)
    talk.say(300, "lit the dome", "Idris")
    return talk


def test_the_fire_that_burns_is_planned_for_all_its_dishes(lit_late):
    lit_late.prompts(301)
    text = lit_late.say(310, "what's the plan")
    assert text.startswith("Rake ")
    assert "shoulder " in text
    assert "loaves " in text


def test_a_fire_lit_late_moves_every_act_once_in_one_message(lit_late):
    said = lit_late.prompts(302)
    assert len(said) == 1
    assert said[0].startswith("Mara: rake dome ")
    for part in ("(was ", "In: ", "shoulder ", "loaves ", "All ready by ", ", not 18:00: "):
        assert part in said[0]
    lit_late.say(320, "five splits on", "Idris")
    assert lit_late.prompts(325) == []


def test_a_fire_lit_at_its_time_keeps_the_meal():
    talk = Talk()
    light = talk.answer.split()[1]
    hours, minutes = (int(each) for each in light.split(":"))
    minute = 60 * hours + minutes - 240
    assert talk.prompts(minute - 1) == [f"Mara: light dome {light}."]
    talk.say(minute, "lit the dome", "Idris")
    assert not any("all ready by" in text and "(was" in text for text in talk.prompts(minute + 2))


def test_what_no_longer_fits_a_raked_oven_is_said_and_the_rest_is_planned(lit_late):
    lit_late.prompts(302)
    lit_late.say(470, "raked out", "Idris")
    lit_late.prompts(472)
    lit_late.say(500, "floor 190", "Bea")
    text = lit_late.say(505, "what's the plan")
    # Loaves bake on a floor of some 210 to 250 (common practice, no source): 190 and falling is too cool for them.
    assert "Not loaves" in text or "not loaves" in text
    assert "light" not in text.lower()


def test_the_pot_that_is_in_stands_in_the_plan_and_is_not_called_for_again(lit_late):
    lit_late.prompts(302)
    lit_late.say(500, "raked out", "Idris")
    lit_late.prompts(569)
    lit_late.say(570, "lamb shoulder in, door on", "Idris")
    text = lit_late.say(575, "what's the plan")
    assert "houlder in: tender " in text
    assert "oaves" in text
    assert "Light " not in text
    assert "Lit now" not in text
    assert not any("houlder into dome" in prompt for prompt in lit_late.prompts(800))


def raked(seed, members):
    """The dome two hours fired, raked and nearly settled."""
    cold = helpers.start(seed=seed, members=members)
    lit = helpers.NOW.timestamp()
    hot = banked(cold, lit, lit + 7200.0 + 1200.0)
    return Start("dome", hot.ensemble, hot.setting, False, False, 0.5 * FEED_EVERY_S)


@pytest.mark.parametrize("seed", [109, 110])
def test_a_raked_oven_keeps_what_is_promised_of_it(seed):
    """As the plans of `test_replays`: ovens and meat drawn afresh."""
    planned = raked(1, MEMBERS)
    now = helpers.NOW + timedelta(seconds=planned.ensemble.at_s - helpers.NOW.timestamp())
    eat = now + timedelta(hours=7)
    made = ladder(planned, [helpers.wish(each, LOADS[each], eat=eat) for each in ("lamb", "rice pudding")], eat, now)
    assert made.stage == "raked"
    assert made.rungs
    kept = float(np.mean(replay(raked(seed, FRESH), made)))
    assert kept >= least(made.reached, MEMBERS, FRESH)
