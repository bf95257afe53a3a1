"""The page of a class: a correction never hides the old value, and says who made it and when."""
from __future__ import annotations

import csv
import io
import json
from datetime import datetime, timedelta
from zoneinfo import ZoneInfo

from bot.log.rows import as_csv, as_json, as_text, page_of
from bot.talk import Action, Answer, Message, Prompted
from skills.vocabulary import Fix, Heard, Note, Reading

NOON = datetime(2026, 5, 16, 12, tzinfo=ZoneInfo("Europe/London"))


def told(n, who, text, *facts, **more):
    message = Message(f"m{n}", NOON + timedelta(minutes=n), who, text, **more)
    return Answer(message, "c", Heard(facts=facts), (Action(f"c/{n}", "tick", message.at, "c", to=message.id),))


def floor(celsius, **more):
    return Reading(place="floor", celsius=celsius, oven="dome", **more)


def rows(lines, **more):
    page = page_of("c", "yard", "Day", lines, **more)
    return page, list(csv.DictReader(io.StringIO(as_csv(page))))


def test_a_corrected_reading_keeps_its_old_value_with_who_and_when():
    mend = Fix(act="replace", of="reading", celsius=184, place="floor")
    page, table = rows([told(0, "Tomos", "floor 148", floor(148)), told(4, "Idris", "floor 184 not 148", mend)])
    old, new, fix = table
    assert (old["status"], old["old"], old["new"], old["by"], old["changed_at"]) == (
        "corrected", "dome: reading floor 148 C", "dome: reading floor 184 C", "Idris", "2026-05-16T12:04:00+01:00")
    assert (old["who"], old["celsius"], old["told"]) == ("Tomos", "148", "2026-05-16T12:00:00+01:00")
    assert (new["status"], new["celsius"], new["oven"]) == ("in force", "184", "dome")
    assert fix["status"] == "correction"
    assert "reading floor 148 C -> changed to dome: reading floor 184 C by Idris, 12:04" in as_text(page)


def test_a_reading_corrected_twice_shows_every_value():
    fix = [Fix(act="replace", of="reading", celsius=value, place="floor") for value in (184, 185)]
    _, table = rows([told(0, "Tomos", "floor 148", floor(148)), told(4, "Idris", "184 not 148", fix[0]),
                     told(6, "Bea", "185 not 184", fix[1])])
    said = [(row["celsius"], row["status"], row["by"]) for row in table if row["kind"] == "reading"]
    assert said == [("148", "corrected", "Idris"), ("184", "corrected", "Bea"), ("185", "in force", "")]


def test_what_was_taken_back_stays_on_the_page():
    page, table = rows([told(0, "Tomos", "floor 148", floor(148)), told(1, "Tomos", "scrap that", Fix(act="undo"))])
    assert (table[0]["status"], table[0]["old"], table[0]["new"], table[0]["by"]) == (
        "taken back", "dome: reading floor 148 C", "", "Tomos")
    assert "taken back by Tomos, 12:01" in as_text(page)
    assert json.loads(as_json(page))["lines"][0]["facts"][0]["new"] is None


def test_an_edited_message_keeps_what_it_said_before():
    page, table = rows([told(0, "Tomos", "floor 148", floor(148)),
                        told(2, "Tomos", "floor 184 and note it", floor(184), Note(text="note it"), replaces="m0")])
    assert [(row["status"], row["value"], row["by"]) for row in table] == [
        ("corrected", "reading floor 148 C", "Tomos"), ("in force", "reading floor 184 C", ""),
        ("in force", "note note it", "")]
    assert "Tomos (edited): floor 184" in as_text(page)


def test_a_removed_message_is_taken_back_and_still_shown():
    _, table = rows([told(0, "Tomos", "floor 148", floor(148)), told(2, "Mara", "", removes="m0")])
    assert [(row["status"], row["by"]) for row in table] == [("taken back", "Mara")]


def test_a_doubted_reading_says_so_and_the_same_said_twice_counts_once():
    page, table = rows([told(0, "Tomos", "floor 148", floor(148)), told(1, "Bea", "floor 148", floor(148)),
                        told(9, "Bea", "floor 448", floor(448))], doubted=[("m9", 0)])
    assert [row["status"] for row in table] == ["in force", "said twice", "doubted"]
    assert "reading floor 448 C (doubted)" in as_text(page)


def test_a_late_fact_shows_when_it_happened_and_when_it_was_told():
    page, table = rows([told(9, "Tomos", "floor was 148 at noon", floor(148, at="12:00"))])
    assert (table[0]["at"], table[0]["told"]) == ("2026-05-16T12:00:00+01:00", "2026-05-16T12:09:00+01:00")
    assert "reading floor 148 C at 12:00" in as_text(page)


def test_the_json_page_holds_all_talk_in_order():
    prompt = Action("c/2", "prompt", NOON + timedelta(minutes=5), "c", "Wood.", prompt="refuel", oven="barrel")
    page, _ = rows([told(0, "Tomos", "hello"), Prompted(prompt.at, (prompt,)), told(6, "Bea", "floor 90", floor(90))])
    lines = json.loads(as_json(page))["lines"]
    assert [line.get("text") or line["unasked"][0]["text"] for line in lines] == ["hello", "Wood.", "floor 90"]
    assert "12:05        yardhand, unasked: Wood." in as_text(page)


def test_control_characters_of_a_message_do_not_reach_the_reader():
    page, _ = rows([told(0, "To\x1b[2Jmos", "floor\x1b]0;x\x07 148\nsecond", floor(148))])
    assert "\x1b" not in as_text(page)
    assert "\x07" not in as_text(page)
