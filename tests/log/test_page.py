"""The class page holds what its transcript says (data/yard_day.txt is the truth here) and what inspectors ask for."""
from __future__ import annotations

from dataclasses import replace

import pytest

from bot.log.answered import answer_to
from bot.log.page import page
from bot.talk import Action, Answer
from skills.safety.packs import REGIONS, pack


def test_the_head_names_date_menu_ovens_team_guests_meal_and_rules(kept):
    top = dict(kept.page.top)
    assert kept.page.title == "Yard day"
    assert kept.page.under.startswith("Saturday 16 May 2026")
    assert top["Lead"] == "Mara"
    assert set(top["Team"].split(", ")) == {"Mara", "Idris", "Tomos", "Bea"}
    assert top["Guests"] == "12"
    assert top["Guests who avoid"] == "2 avoid gluten"
    assert top["Meal"] == "planned 13:30, changed to 14:00 by Mara at 12:40, served 14:00"
    assert "3 kg" in top["Menu"]
    assert "iron pot" in top["Menu"]
    assert "across 90 cm" in top["Ovens"]
    assert "9 C" in top["Weather"]
    assert "England" in top["Rules"]


def test_allergens_declared_in_the_dish_and_told_stand_with_their_teller(kept):
    assert [(row[0], row[1], row[2], row[5]) for row in kept.table("Allergens").rows] == [
        ("07:10", "avoided by", "gluten", "Mara"), ("07:30", "in the dish", "gluten", "Tomos"),
        ("13:35", "told at the table", "gluten", "Mara")]
    assert "gluten (flour 07:30)" in kept.table("Allergens").note


def test_the_firing_has_its_acts_and_the_wood_that_was_told(kept):
    firing = kept.table("Firing")
    assert ("05:02", "Dome", "lit", "1.5 kg", "Idris") in firing.rows
    assert ("05:06", "", "wood moisture", "18 %", "Idris") in firing.rows
    assert ("07:50", "Dome", "raked out", "", "Idris") in firing.rows
    assert "1.5 kg and 8 pieces" in firing.note


def test_every_reading_stands_with_tool_and_person(kept):
    rows = kept.table("Oven readings").rows
    assert ("07:00", "Dome", "ceiling", "300 °C", "infrared gun", "Idris", "yes") in rows
    assert ("08:30", "Dome", "floor", "210 °C", "probe", "Tomos", "yes") in rows
    assert ("10:40", "Dome", "floor", "184 °C", "not said", "Tomos", "yes") in rows


def test_a_reading_that_was_thrown_out_says_why_and_a_twin_counts_once(kept):
    why = {row[1]: row[3] for row in kept.table("Readings not used").rows}
    assert "expected about" in why["dome: reading air 290 C"]
    assert "kept, not used" in why["dome: reading air 290 C"]
    assert "counted once" in why["dome: reading floor 199 C"]
    assert [row[6] for row in kept.table("Oven readings").rows if row[3] == "290 °C"] == ["no: see below"]


def test_the_critical_steps_have_food_value_and_person(kept):
    rows = {(row[0], row[1], row[2], row[3], row[5]) for row in kept.table("Cook, hold").rows}
    assert {("12:20", "Lamb", "core", "92 °C", "Tomos"), ("08:40", "Lamb", "into the oven", "", "Tomos"),
            ("14:20", "Lamb", "chilling begun", "4 cm deep, on ice", "Tomos"),
            ("15:30", "Lamb", "core", "7 °C", "Tomos")} <= rows
    assert ("13:36", "hot hold", "71 °C", "Bea") in {(row[0], *row[2:4], row[5])
                                                      for row in kept.table("Cook, hold").rows}


def test_corrections_show_old_and_new_with_who_and_when(kept):
    assert kept.table("Corrections").rows == (
        ("10:40", "dome: reading floor 148 C", "dome: reading floor 184 C", "Tomos", "Idris", "10:44"),)


def test_the_heat_of_the_food_says_what_was_measured_and_what_is_reckoned(kept):
    rows = kept.table("Heat of the food").rows
    assert {("12:20", "Lamb", "92 °C", "measured"), ("15:30", "Lamb", "7 °C", "measured")} <= set(rows)
    reckoned = [row for row in rows if row[3] == "reckoned"]
    assert reckoned
    assert all(" to " in row[2] for row in reckoned)
    # In the oven it is the models' word, and one that they gave long before is called a forecast with its time.
    inside = [row for row in rows if row[1] == "Lamb" and "08:40" < row[0] < "12:20"]
    assert inside
    assert {row[3].split(" ")[0] for row in inside} <= {"reckoned", "forecast"}
    assert all(row[3].removeprefix("forecast of ") < row[0] for row in inside if row[3].startswith("forecast"))


def test_incidents_and_notes_are_kept_in_the_words_that_were_said(kept):
    assert kept.table("Incidents").rows[0][:3] == ("11:50", "burnt my hand on the peel", "Bea")
    assert any("<b>back left</b> corner & door run hot" in row[1] for row in kept.table("Notes").rows)


def test_forecasts_stand_beside_what_came_of_them(kept):
    rows = kept.table("Forecasts of the dishes").rows
    assert len(rows) >= 3
    assert all("tender at 13:10, not yet at 12:20" in row[4] for row in rows)
    ovens = kept.table("Forecasts of the ovens")
    assert sum(int(row[3]) for row in ovens.rows) >= 4
    assert "error had the last reading stayed" in ovens.columns


def test_a_prompt_is_answered_by_a_reply_or_by_what_it_asked_for(kept):
    answers = [line for line in kept.lines if isinstance(line, Answer)]
    fed = next(answer for answer in answers if answer.message.text == "four splits of ash on")
    before = kept.lines[:kept.lines.index(fed)][-1].message.at
    refuel = Action("x", "prompt", before, "c", "wood", prompt="refuel", oven="dome")
    found = answer_to(refuel, kept.lines[kept.lines.index(fed):], kept.rows.record)
    assert (found.who, found.how) == ("Idris", "four splits of ash on")
    assert answer_to(replace(refuel, oven="barrel"), [fed], kept.rows.record) is None
    reply = replace(fed, message=replace(fed.message, text="on it", reply_to="x", id="new"))
    assert answer_to(replace(refuel, prompt="safety"), [reply], kept.rows.record).how == "on it"


def test_the_answer_is_the_message_that_the_room_took_for_it(kept):
    """"Got it" tells no fact: the room notes which call it took; one about another call answers nothing here."""
    line = next(line for line in kept.lines if isinstance(line, Answer))
    prompt = Action("call", "prompt", line.message.at, "c", "one split", prompt="refuel", oven="dome")

    def got(call, act="claim", text="got it"):
        return replace(line, message=replace(line.message, text=text, reply_to=None, id="new"),
                       heard=type(line.heard)(), read={"bound": {"call": call, "act": act, "who": "Tomos"}})

    found = answer_to(prompt, [got("other"), got("call", "no", "can't"), got("call")], kept.rows.record)
    assert (found.who, found.how) == ("Tomos", "got it")
    assert answer_to(prompt, [got("other")], kept.rows.record) is None
    again = replace(prompt, id="again", data={"again": {"call": "call"}})
    assert answer_to(again, [got("call", "done", "done")], kept.rows.record).how == "done"


@pytest.mark.parametrize("region", REGIONS)
def test_the_page_names_the_rule_pack_and_what_its_inspectors_ask(kept, region):
    made = page(kept.rows, replace(kept.school, region=region))
    assert pack(region).title in dict(made.top)["Rules"]
    assert pack(region).short in made.foot
    asked = [table for table in made.tables if table.heading.startswith("For the inspector")]
    headings = {table.heading for table in made.tables}
    assert len(asked) == 2
    for row in asked[0].rows + asked[1].rows:
        for place in row[1].split("; "):
            named = place.split(" (")[0]
            assert "elsewhere" in place or "below" in place or named.startswith("this page") or any(
                heading.startswith(named) for heading in headings), place
        assert row[2]


def test_an_empty_class_has_a_page(kept):
    made = page(replace(kept.rows, lines=(), rows=(), record=type(kept.rows.record)()), kept.school)
    assert all(not table.rows for table in made.tables if not table.heading.startswith("For the inspector"))
    assert made.made_at is None
