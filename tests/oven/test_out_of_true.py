"""A gun that reads 20 low all day is found out and said once; one that is right is left alone (invented day)."""
from __future__ import annotations

from functools import cache

import numpy as np
import pytest

from skills.kitchen import Kitchen, Setting
from skills.oven.drift import gun_prompts, morning_prompts
from skills.record import ClassRecord, OvenRecord
from skills.view import View
from tests.kitchen.days import at, dome_day, told

SETTING = Setting(seed=3, members=120, foreseeing=60)
SCATTER = (6, -7, 3, -2, 8, -5)


@cache
def shots(low: float) -> tuple:
    """The dome's day with six pairs of shots by a gun that reads so many degrees low of what the probe's day gives."""
    facts = dome_day()
    for step, minute in enumerate((205, 230, 260, 300, 345, 390)):
        before = [each for each in dome_day() if each.at <= at(minute)]
        oven = Kitchen(SETTING).believe(before, at(minute)).ovens["dome"]
        for index, (place, spot) in enumerate((("dome", np.median(oven.dome_c) + 5),
                                               ("floor", np.median(oven.surface_c) - 10))):
            value = round(float(spot) - low + SCATTER[(2 * step + index) % 6])
            facts.append(told(minute, "dome", index=5 + index, who="Bea",
                              **{"is": "reading", "place": place, "tool": "infrared", "celsius": value}))
    facts.sort(key=lambda each: (each.at, each.told, each.message, each.index))
    return tuple(facts)


def view(low: float) -> View:
    facts = [each for each in shots(low) if each.at <= at(391)]
    return View(ClassRecord(facts=tuple(facts)), at(391), Kitchen(SETTING).believe(facts, at(391)))


@pytest.mark.parametrize(("low", "word"), [(20.0, "low"), (-25.0, "high")])
def test_a_gun_that_is_off_all_day_is_found_out(low, word):
    prompts = list(gun_prompts(view(low)))
    assert [each.key for each in prompts] == ["gun:Bea"]
    assert f"{word} today" in prompts[0].text
    mean_k, sd_k, _ = view(low).belief.offsets()["infrared", "Bea"]
    assert abs(mean_k + low) < 2.5 * sd_k


def test_a_gun_that_is_right_is_not_spoken_of():
    assert list(gun_prompts(view(0.0))) == []


def test_the_next_morning_is_asked_for_once_and_not_when_it_was_told():
    reading = told(500, "dome", **{"is": "reading", "place": "air", "celsius": 150})
    ended = at(540)
    record = ClassRecord(facts=(reading,), ended=ended, lead="Mara",
                         ovens={"dome": OvenRecord("dome", readings={"air": reading}, raked_at=at(185))})
    prompts = list(morning_prompts(View(record, ended, None)))
    assert [(each.due.hour, each.due.day - ended.day, each.who) for each in prompts] == [(8, 1, "Mara")]
    early = told(1500, "dome", **{"is": "reading", "place": "air", "celsius": 90})
    after = ClassRecord(facts=(reading, early), ended=ended, lead="Mara", ovens=record.ovens)
    assert list(morning_prompts(View(after, at(1500), None))) == []
