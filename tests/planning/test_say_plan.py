"""What the room hears when it asks for a plan, and what it hears when something is missing or cannot be."""

from __future__ import annotations

from datetime import datetime, timedelta

import pytest

from skills.dated import Dated
from skills.kitchen import Kitchen, Setting
from skills.planning.say_plan import say_plan, work_out
from skills.record import ClassRecord, apply
from skills.view import View
from skills.vocabulary import Plan, fact

NOW = datetime.fromisoformat("2026-05-15T16:10:00+01:00")
DOME = {"is": "oven", "across_cm": 90, "floor_cm": 6, "dome_cm": 10, "insulation_cm": 10, "fired": "retained"}
LAMB = {"is": "load", "cut": "lamb shoulder", "meat_kg": 3.0, "liquid_l": 1.0, "pan": "iron", "start": "hot"}
SETTING = Setting(seed=3, members=60, foreseeing=60)


def view(*told, now=NOW, setting=SETTING):
    """The class after these (minutes before now, oven, dish, fact)."""
    facts = [Dated(now - timedelta(minutes=before), now - timedelta(minutes=before), "Mara", f"m{row}", 0, fact(data),
                   oven, dish) for row, (before, oven, dish, data) in enumerate(told)]
    record = ClassRecord(facts=tuple(facts), lead="Mara")
    for dated in facts:
        record = apply(dated.fact, record, dated)
    belief = Kitchen(setting).believe(facts, now) if record.ovens else None
    return View(record, now, belief, setting=setting)


def ask(*told, now=NOW, setting=SETTING, **question):
    reply = say_plan(Plan(**question), view(*told, now=now, setting=setting))
    assert len(reply.lines) <= 3
    assert all(len(line) <= 170 for line in reply.lines)
    return reply


SHOULDER_DAY = ((5, "dome", None, DOME), (4, None, "lamb", LAMB))


def test_the_first_line_is_the_whole_plan():
    first = ask(*SHOULDER_DAY, by="13:30").lines[0]
    assert first.startswith("Light 0")
    for part in (" to be 9 in 10 sure)", "fire", "settle", "pot in", "near"):
        assert part in first


def test_the_day_before_it_can_be_asked_of_an_oven_that_nobody_has_described():
    lines = ask((1, None, "lamb", LAMB), by="13:30", oven="dome").lines
    assert lines[0].startswith("Light ")
    assert "I do not know the dome yet" in lines[-1]


def test_an_oven_learnt_in_earlier_classes_needs_no_words():
    kitchen = Kitchen(SETTING)
    facts = view(*SHOULDER_DAY).record.facts
    ovens, _ = kitchen.believe(facts, NOW).profiles()
    lines = ask((1, None, "lamb", LAMB), setting=SETTING.model_copy(update={"ovens": ovens}), by="13:30").lines
    assert lines[0].startswith("Light ")
    assert "do not know" not in " ".join(lines)


def test_the_evening_before_is_offered():
    assert "tonight at 19:30" in ask(*SHOULDER_DAY, by="13:30").lines[2]


def test_allergens_are_said_when_people_shop():
    gluten = (3, None, None, {"is": "guests", "count": 2, "allergen": "gluten"})
    assert "2 avoid gluten" in ask(*SHOULDER_DAY, gluten, by="13:30").text


def test_a_pin_meter_is_told_apart_from_the_weight_of_water():
    text = ask(*SHOULDER_DAY, (2, None, None, {"is": "wood", "moisture_pct": 25}), by="13:30").text
    assert "20 % water (25 on a pin meter" in text
    text = ask(*SHOULDER_DAY, (2, None, None, {"is": "wood", "moisture_pct": 25, "basis": "wet"}), by="13:30").text
    assert "at 25 % water" in text
    assert "pin meter" not in text


def test_the_pot_that_is_in_has_only_its_end_left():
    fired = ((200, "dome", None, DOME), (199, "dome", None, {"is": "fire", "act": "lit"}),
             (60, "dome", None, {"is": "fire", "act": "raked"}), (2, None, "lamb", LAMB),
             (1, "dome", "lamb", {"is": "pot", "act": "in"}))
    lines = ask(*fired, by="20:30").lines
    assert lines[0].startswith("Lamb is in: tender ")
    assert "out by 20:10" in lines[0]


def test_a_fire_that_burns_is_told_when_to_be_raked():
    lit = ((90, "dome", None, DOME), (80, "dome", None, {"is": "fire", "act": "lit"}), (4, None, "lamb", LAMB))
    first = ask(*lit, by="23:30").lines[0]
    assert first.startswith("Rake ")
    assert "pot in" in first
    assert "on the table at 23:30:" in first


@pytest.mark.parametrize(
    ("told", "question", "answer"),
    [
        (((4, None, "lamb", LAMB),), {"by": "13:30"}, "Which oven? Name it and say its size"),
        (((4, "dome", None, DOME),), {"by": "13:30"}, "What is cooking?"),
        (SHOULDER_DAY, {}, "Eating when?"),
        ((*SHOULDER_DAY, (300, None, None, {"is": "serve", "by": "13:30"})), {}, "13:30 has passed. When do you eat?"),
    ],
    ids=["no oven", "no dish", "no time", "meal past"],
)
def test_what_is_missing_is_said_in_one_line(told, question, answer):
    lines = ask(*told, **question).lines
    assert len(lines) == 1
    assert lines[0].startswith(answer)


def test_four_hundred_guests_are_more_pots_than_the_oven_holds():
    text = ask((4, "dome", None, DOME), (3, None, "stew", {"is": "load", "pan": "iron"}), by="13:30", guests=400).text
    assert "400" in text
    assert " pots of " in text
    assert "another oven or day" in text


def test_wood_at_sixty_percent_is_not_planned_with():
    wet = (2, None, None, {"is": "wood", "moisture_pct": 60, "basis": "wet"})
    text = ask(*SHOULDER_DAY, wet, by="13:30").text
    assert "60 % will not carry a firing" in text
    assert "Light 0" in text


def test_of_a_dish_with_no_finish_known_the_kind_is_asked_in_one_line_and_no_other_dish_is_planned():
    lines = ask(*SHOULDER_DAY, by="13:30", dish="kimchi").lines
    assert len(lines) == 1
    assert lines[0].startswith("I have no figures for kimchi. Name its cut, or its kind: 'kimchi stew'")
    assert ask(*SHOULDER_DAY, by="13:30", dish="kimchi stew").lines[0].startswith("Light 0")


def test_of_several_named_dishes_those_known_are_planned_and_the_other_is_said_to_be_left_out():
    loaves = (3, None, "loaves", {"is": "load", "meat_kg": 2.4})
    one = ask(*SHOULDER_DAY, loaves, by="13:30", dish="lamb", also=("kimchi",))
    assert one.lines[0].startswith("Light 0")
    assert one.lines[-1] == "Not kimchi: no figures for it, name its cut or kind."
    both = ask(*SHOULDER_DAY, loaves, by="13:30", dish="lamb", also=("kimchi", "loaves"))
    assert "lamb" in both.lines[1]
    assert "loaves" in both.lines[1]
    assert both.lines[-1] == "Not kimchi: no figures for it, name its cut or kind."


def test_yesterday_is_said_to_be_past():
    lines = ask(*SHOULDER_DAY, day="yesterday").lines
    assert len(lines) == 1
    assert lines[0].startswith("Yesterday is past.")


def test_the_meal_of_a_named_day_is_that_days():
    """16 May 2026 is a Saturday."""
    assert NOW.strftime("%A") == "Friday"
    for day, ahead in (("saturday", 1), ("sunday", 2), ("friday", 7)):
        plan = work_out(Plan(by="13:30", day=day), view(*SHOULDER_DAY), quick=True).plan
        assert plan.eat.date() == (NOW + timedelta(days=ahead)).date()


BARREL = {"is": "oven", "across_cm": 66, "fired": "tended"}


def test_of_a_raked_and_a_tended_oven_the_raked_one_is_taken_for_a_braise_and_named():
    reply = ask(*SHOULDER_DAY, (3, "barrel", None, BARREL), by="13:30")
    assert reply.lines[0].startswith("In the dome: light 0")
    assert "settle" in reply.lines[0]
    assert not ask(*SHOULDER_DAY, (3, "barrel", None, BARREL), by="13:30", oven="dome").lines[0].startswith("In ")
    assert not ask(*SHOULDER_DAY, by="13:30").lines[0].startswith("In ")
    two = ask(*SHOULDER_DAY, (3, "cave", None, {**DOME, "across_cm": 80}), by="13:30")
    assert two.lines[0].startswith("Which oven: ")


def test_the_next_plan_is_for_the_meal_that_was_asked_for_and_not_for_the_late_one_of_a_ladder():
    asked = view(*SHOULDER_DAY, (3, None, "loaves", {"is": "load", "meat_kg": 2.4}))
    reply = say_plan(Plan(by="19:30"), asked)
    assert "not by 19:30" in reply.lines[0]
    asked.told = {key: {"mid": mid, "at": NOW.timestamp(), "odds": None} for key, mid in reply.said.items()}
    assert asked.serve.strftime("%H:%M") == "19:30"


def test_three_kilos_for_four_hundred_is_said_to_be_too_little():
    """180 to 230 g of raw boneless meat a guest (common practice, no source): 3 kg are for 13 to 17."""
    text = ask(*SHOULDER_DAY, by="13:30", guests=400).text
    assert "3 kg feeds about 17, not 400" in text
    assert "feeds about" not in ask(*SHOULDER_DAY, by="13:30", guests=14).text


def test_a_meal_of_tomorrow_asked_about_in_the_morning_is_not_planned_for_today():
    morning = NOW.replace(hour=5)
    assert "tomorrow" not in ask(*SHOULDER_DAY, by="19:30", now=morning).lines[0]
    assert "tomorrow" in ask(*SHOULDER_DAY, by="19:30", tomorrow=True, now=morning).lines[0]


def test_a_light_oven_of_earlier_classes_is_known_to_be_tended():
    """It was told so once; the next class need not say it again."""
    facts = [Dated(NOW, NOW, "Mara", "m0", 0, fact({"is": "oven", "across_cm": 66, "fired": "tended"}), "barrel")]
    ovens, _ = Kitchen(SETTING).believe(facts, NOW).profiles()
    learnt = SETTING.model_copy(update={"ovens": ovens})
    asked = view((60, None, "lamb", LAMB), setting=learnt)
    assert not asked.record.ovens
    assert asked.tended("barrel")
    reply = say_plan(Plan(by="13:30", oven="barrel"), asked)
    assert "feed small" in reply.lines[0]
    assert "settle" not in reply.lines[0]


def test_other_odds_than_nine_in_ten_are_kept_to_and_remembered():
    """Less sure is lit later; what is planned anew keeps to the odds that were asked for."""
    asked = view((60, "dome", None, DOME), (50, None, "lamb", LAMB))
    usual = work_out(Plan(by="13:30"), asked).plan
    reply = say_plan(Plan(by="13:30", odds=0.8), asked)
    assert "to be 4 in 5 sure" in reply.lines[0]
    asked.told = {key: {"mid": mid, "at": NOW.timestamp(), "odds": None} for key, mid in reply.said.items()}
    again = work_out(Plan(by="13:30"), asked).plan
    assert again.odds == 0.8
    assert again.row("light").sure > usual.row("light").sure
    assert again.reached >= 0.8
