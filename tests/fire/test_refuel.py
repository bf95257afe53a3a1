"""Wood for a tended oven: how much, by when, why; to one person, and not twice."""

from __future__ import annotations

from datetime import datetime, timedelta

import numpy as np
import pytest

from skills.dated import Dated
from skills.fire.feeding import AMOUNTS, gains_k, how_much
from skills.fire.skill import FETCH, refuel_prompts, say_whether_to_refuel, want
from skills.kitchen import Kitchen, Setting
from skills.record import ClassRecord, apply
from skills.view import View
from skills.vocabulary import Refuel, fact

NOW = datetime.fromisoformat("2026-05-16T11:00:00+01:00")
BARREL = {"is": "oven", "across_cm": 66, "floor_cm": 4, "dome_cm": 5, "insulation_cm": 3, "fired": "tended"}
SHANKS = {"is": "load", "cut": "lamb shanks", "meat_kg": 2.4, "liquid_l": 1.0, "pan": "iron", "start": "hot"}
SETTING = Setting(seed=3, members=60, foreseeing=60)


def told(before, data, who="Tomos", oven="barrel", dish=None):
    """One fact so many minutes before NOW."""
    return before, who, oven, dish, data


def fed(before, who="Tomos", pieces=1):
    return told(before, {"is": "fire", "act": "fed", "pieces": pieces}, who)


DAY = (
    told(150, BARREL), told(149, {"is": "fire", "act": "lit"}), fed(135, pieces=2), fed(120, pieces=2),
    told(105, {"is": "door", "state": "on"}), told(60, SHANKS, dish="shanks"),
    told(59, {"is": "pot", "act": "in"}, dish="shanks"), told(55, {"is": "reading", "place": "air", "celsius": 172}),
    fed(40), told(10, {"is": "reading", "place": "air", "celsius": 166}),
)


def view(*more, now=NOW):
    rows = sorted((*DAY, *more), key=lambda row: -row[0])
    facts = [Dated(NOW - timedelta(minutes=before), NOW - timedelta(minutes=before), who, f"m{count}", 0, fact(data),
                   oven, dish) for count, (before, who, oven, dish, data) in enumerate(rows)]
    record = ClassRecord(facts=tuple(facts), lead="Mara")
    for dated in facts:
        record = apply(dated.fact, record, dated)
    return View(record, now, Kitchen(SETTING).believe(facts, now), setting=SETTING)


@pytest.fixture(scope="module")
def quiet():
    return view()


def refuels(seen):
    return [prompt for prompt in refuel_prompts(seen) if prompt.key.startswith("refuel:")]


def test_the_prompt_names_one_person_an_amount_a_time_and_the_reason(quiet):
    prompt = refuels(quiet)[0]
    assert prompt.text.startswith("Tomos: barrel, ")
    assert any(words in prompt.text for words in AMOUNTS.values())
    assert "below 15" in prompt.text or "below 14" in prompt.text
    assert prompt.urgent


def test_the_prompt_comes_earlier_than_the_need_by_the_time_to_fetch(quiet):
    needed = want(quiet.record.ovens["barrel"], quiet)
    assert needed is not None
    assert needed.crosses is not None
    assert refuels(quiet)[0].due <= max(needed.crosses - FETCH, quiet.now)


def test_more_wood_adds_more_heat_and_it_fades(quiet):
    added = gains_k("barrel", quiet)
    assert added is not None
    assert (np.diff(added, axis=0) > 0.0).all()
    assert (added.max(axis=1) > added[:, -1]).all()


def test_a_deeper_fall_never_asks_for_less_wood(quiet):
    at_s = quiet.now.timestamp() + 600.0 * np.arange(12)
    order = list(AMOUNTS.values())
    asked = [order.index(how_much("barrel", quiet, 165.0 - fall * np.arange(12), at_s, 150.0, quiet.now))
             for fall in (0.5, 2.0, 4.0, 7.0, 12.0)]
    assert asked == sorted(asked)
    assert asked[-1] > asked[0]


def test_an_answer_stops_it(quiet):
    before = refuels(quiet)[0]
    after = refuels(view(fed(0)))
    assert all(prompt.key != before.key for prompt in after)
    assert all(prompt.due >= NOW + timedelta(minutes=15) for prompt in after)


def test_an_open_door_brings_the_need_forward(quiet):
    shut = want(quiet.record.ovens["barrel"], quiet)
    opened = view(told(1, {"is": "door", "state": "off"}))
    off = want(opened.record.ovens["barrel"], opened)
    assert off.crosses <= shut.crosses
    assert "The door is off" in say_whether_to_refuel(Refuel(oven="barrel"), opened).text


def test_wind_brings_the_need_forward(quiet):
    windy = view(told(1, {"is": "weather", "wind": "windy"}, oven=None))
    assert want(windy.record.ovens["barrel"], windy).crosses <= want(quiet.record.ovens["barrel"], quiet).crosses


def test_a_cold_pot_more_brings_the_need_forward(quiet):
    load = {"is": "load", "cut": "shin", "meat_kg": 4.0, "liquid_l": 3.0, "pan": "iron", "start": "cold"}
    fuller = view(told(8, load, dish="shin"), told(7, {"is": "pot", "act": "in"}, dish="shin"))
    assert want(fuller.record.ovens["barrel"], fuller).crosses <= want(quiet.record.ovens["barrel"], quiet).crosses


def feeders(seen):
    return [prompt for prompt in refuel_prompts(seen) if prompt.key.startswith("feeders:")]


def test_two_people_who_feed_one_fire_are_told_of_each_other():
    assert feeders(view(fed(8, "Tomos"), fed(0, "Idris")))[0].text.startswith("Tomos: Idris fed barrel 11:00")
    assert feeders(view(fed(8, "Tomos"), fed(0, "Tomos"))) == []
    assert feeders(view(fed(35, "Tomos"), fed(0, "Idris"))) == []


def test_whoever_has_the_oven_hears_that_another_fed_it():
    claim = told(90, {"is": "task", "act": "claim", "what": "barrel"}, "Bea", oven=None)
    prompts = feeders(view(claim, fed(0, "Idris")))
    assert [prompt.who for prompt in prompts] == ["Bea"]
    assert "you have it" in prompts[0].text
    assert "Bea has it" in say_whether_to_refuel(Refuel(oven="barrel"), view(claim)).text


def test_the_prompt_is_to_the_one_who_has_the_oven():
    claim = told(90, {"is": "task", "act": "claim", "what": "barrel"}, "Bea", oven=None)
    assert [prompt.who for prompt in refuels(view(claim))] == ["Bea"]
