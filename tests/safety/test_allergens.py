"""Allergens: what was logged and what was not, repeated at plan, assembly and serving; a late change must be seen.

The 14 of Annex II, Regulation (EU) 1169/2011, and the US nine are checked in tests/published/test_safety_limits.py.
"""
from __future__ import annotations

import re
from datetime import timedelta

import pytest

from skills.allergens import sheet
from skills.allergens.skill import SKILL, prompts, say_what_is_in
from skills.safety.packs import pack
from skills.skill import Prompt
from skills.view import View
from skills.vocabulary import Allergens
from tests.hazards.cases import into, load, serve, stage
from tests.safety.helpers import at, view

CLEARS = re.compile(r"\bfree\b|\bsafe\b|does not contain|doesn't contain|\bno (nuts|gluten|milk)\b|without|!",
                    re.IGNORECASE)


def guests(allergen: str, count: int = 1, **more: object) -> dict:
    return {"is": "guests", "allergen": allergen, "count": count} | more


def holds(item: str, dish: str | None = None, allergen: str | None = None) -> dict:
    said_too = {key: value for key, value in (("dish", dish), ("allergen", allergen)) if value is not None}
    return {"is": "contents", "item": item} | said_too


BASE = (("07:00", "Mara", serve("13:30")), ("07:10", "Bea", guests("gluten", 2), guests("nuts")),
        ("07:40", "Bea", holds("flour", "lamb", "gluten")), ("07:45", "Bea", holds("red wine", "lamb")),
        ("08:00", "Bea", load("lamb")), ("08:45", "Bea", into("lamb")), ("08:50", "Tomos", into("beans")))
DONE = (*BASE, ("12:30", "Bea", stage("lamb", "assembled")))


def said(lines: tuple, now: str) -> list[Prompt]:
    return list(prompts(view(lines, now)))


def keyed(found: list[Prompt], start: str) -> list[Prompt]:
    return [prompt for prompt in found if prompt.key.startswith(start)]


def answer(lines: tuple, now: str = "13:00", **question: str) -> str:
    return say_what_is_in(Allergens(**question), view(lines, now)).text


@pytest.mark.parametrize(("words", "holds_it", "often"), [
    ("red wine", (), ("sulphites",)), ("stout", ("gluten",), ()), ("plain flour", ("gluten",), ()),
    ("stock cube", (), ("celery",)), ("dijon mustard", ("mustard",), ()), ("butter", ("milk",), ()),
    ("soy sauce", ("soya",), ("gluten",)), ("dried apricots", (), ("sulphites",)), ("anchovies", ("fish",), ()),
])
def test_where_allergens_hide_in_a_braise(words: str, holds_it: tuple, often: tuple) -> None:
    """Common practice, no source (reference, section 1.3)."""
    got_holds, got_often = sheet.held_in(words)
    assert set(holds_it) <= set(got_holds)
    assert set(often) <= set(got_often)


@pytest.mark.parametrize("words", ["cornflour", "rice flour", "ginger beer", "coconut milk", "cocoa butter"])
def test_what_only_sounds_like_it_is_not_logged_as_it(words: str) -> None:
    """Common practice, no source; the label still decides."""
    assert not {"gluten", "milk"} & set(sheet.held_in(words)[0])


def test_all_names_are_in_the_longest_list() -> None:
    """Annex II names (14), as the region packs list them."""
    known = set(pack("uk").allergens)
    table = sheet._table()
    assert {name for part in table.values() for name in part} <= known


def test_matrix_says_logged_may_hold_or_not_logged() -> None:
    lines = (("07:05", "Bea", guests("sulphites")), *BASE)
    got = sheet.matrix(view(lines, "12:00").record)
    assert got["lamb"]["gluten"].state == "logged"
    assert got["lamb"]["sulphites"].state == "may hold"
    assert got["lamb"]["nuts"].state == "not logged"
    assert got["beans"]["gluten"].state == "not logged"


def test_a_label_read_out_for_no_dish_counts_for_every_dish() -> None:
    lines = (("07:05", "Bea", guests("celery")), ("08:00", "Bea", into("lamb")), ("08:01", "Bea", into("beans")),
             ("08:05", "Tomos", holds("stock cube", None, "celery")))
    record = view(lines, "09:00").record
    for name in ("lamb", "beans"):
        assert sheet.clashes(name, record) == ["celery (stock cube 08:05)"]


def test_answer_names_the_thing_and_the_time() -> None:
    text = answer(BASE, dish="lamb", allergen="gluten")
    assert "flour 07:40" in text
    assert "labels" in text
    assert "Mara" in text


def test_answer_about_what_nobody_logged_is_no_proof() -> None:
    text = answer(BASE, dish="lamb", allergen="nuts")
    assert "2 things logged" in text
    assert "no proof" in text


def test_answer_about_what_is_in_it_lists_all_and_the_clash() -> None:
    text = answer(BASE, dish="lamb")
    for words in ("flour (gluten)", "red wine (often sulphites)", "2 avoid gluten", "gluten (flour 07:40)"):
        assert words in text


def test_answer_without_a_dish_goes_through_all() -> None:
    text = answer(BASE)
    assert "lamb" in text.lower()
    assert "beans" in text


@pytest.mark.parametrize("question", [{}, {"dish": "lamb"}, {"dish": "beans"}, {"dish": "trifle"}, {"allergen": "nuts"},
                                      {"dish": "lamb", "allergen": "nuts"}, {"dish": "beans", "allergen": "gluten"}])
@pytest.mark.parametrize("lines", [(), BASE[:2], BASE, DONE], ids=["nothing", "guests", "pots", "assembled"])
def test_no_answer_says_that_a_dish_is_free_of_anything(question: dict, lines: tuple) -> None:
    text = answer(lines, **question)
    assert 1 <= len(text.split("\n")) <= 3
    assert not CLEARS.search(text), text


def test_repeated_at_plan_assembly_and_serving() -> None:
    plan = keyed(said(BASE, "08:50"), "allergen:plan")
    assert plan
    assert plan[0].due <= at("08:50")
    assembly = keyed(said(DONE, "12:30"), "allergen:assembled:lamb")
    assert assembly
    assert "gluten (flour 07:40)" in assembly[0].text
    serving = keyed(said(DONE, "12:30"), "allergen:serving")
    assert serving
    assert at("13:00") <= serving[0].due < at("13:30")


def test_what_a_guest_avoids_and_is_in_it_waits_for_the_lead_and_then_goes_to_another() -> None:
    first, second = keyed(said(DONE, "12:30"), "allergen:assembled:lamb")
    assert (first.kind, first.who) == ("safety", "Mara")
    assert second.who not in ("Mara", None)
    read = (*DONE, ("12:31", "Mara", {"is": "task", "act": "done", "what": "labels"}))
    assert not [each for each in keyed(said(read, "12:32"), "allergen:assembled:lamb") if each.kind == "safety"]


def test_the_lead_who_tells_of_a_guest_is_told_what_others_put_in() -> None:
    held = (*DONE, ("12:32", "Tomos", holds("tahini", "lamb", "sesame")), ("12:45", "Mara", guests("sesame")))
    first, *_ = late(view(held, "12:46"))
    assert "tahini" in first.text
    assert first.who == "Mara"


def test_counts_and_never_names_of_guests() -> None:
    for prompt in said(DONE, "12:30"):
        assert prompt.text.startswith("Mara: ") or prompt.key.endswith(":again")
    assert "2 avoid gluten, 1 avoids nuts" in keyed(said(DONE, "12:30"), "allergen:serving")[0].text


def test_serving_is_silent_once_the_table_was_told() -> None:
    told = (*DONE, ("13:05", "Mara", {"is": "guests", "allergen": "gluten", "told": True},
                    {"is": "guests", "allergen": "nuts", "told": True}))
    assert keyed(said(told, "13:06"), "allergen:serving") == []


def late(view_: View) -> list[Prompt]:
    return keyed(list(prompts(view_)), "allergen:changed")


def test_contents_after_assembly_go_to_the_lead_and_then_to_another() -> None:
    lines = (*DONE, ("12:40", "Bea", holds("pesto", "lamb", "nuts")))
    first, second = late(view(lines, "12:41"))
    assert first.who == "Mara"
    assert first.due <= at("12:41") + timedelta(minutes=1)
    assert "pesto" in first.text
    assert second.who != "Mara"
    # Half an hour before they eat at 13:30: the lead has had her time, and there is time to hold the plates.
    assert second.due == at("13:00")


def test_a_guest_who_tells_late_goes_to_the_lead() -> None:
    first, *_ = late(view((*DONE, ("12:45", "Bea", guests("milk"))), "12:46"))
    assert first.who == "Mara"
    assert "1 avoids milk" in first.text


@pytest.mark.parametrize("reply", [{"is": "task", "act": "done", "what": "labels"},
                                   {"is": "note", "text": "seen, swapped"},
                                   {"is": "guests", "allergen": "nuts", "told": True}])
def test_the_lead_who_answers_ends_it(reply: dict) -> None:
    lines = (*DONE, ("12:40", "Bea", holds("pesto", "lamb", "nuts")), ("12:43", "Mara", reply))
    assert late(view(lines, "12:44")) == []


def test_somebody_else_who_answers_does_not_end_it() -> None:
    lines = (*DONE, ("12:40", "Bea", holds("pesto", "lamb", "nuts")),
             ("12:43", "Tomos", {"is": "task", "act": "done", "what": "labels"}))
    assert late(view(lines, "12:44"))


@pytest.mark.parametrize("teller", ["Mara", "Tomos"])
def test_what_is_put_in_after_a_late_guest_is_told_once(teller: str) -> None:
    lines = (*DONE, ("12:40", teller, guests("sesame")), ("12:43", "Bea", holds("sesame oil", "lamb", "sesame")))
    assert len([each for each in late(view(lines, "12:44")) if "sesame oil" in each.text and each.who == "Mara"]) == 1


def test_contents_before_assembly_are_no_change() -> None:
    assert late(view(DONE, "12:31")) == []


def test_without_guests_who_avoid_anything_nobody_is_called() -> None:
    lines = tuple(line for line in BASE if line[2]["is"] != "guests")
    assert said(lines, "12:00") == []


def test_after_the_class_nobody_is_called() -> None:
    assert said((*DONE, ("14:00", "Mara", {"is": "class", "act": "end"})), "14:01") == []


def test_sheet_is_whole_for_the_page() -> None:
    text = sheet.sheet_text(view(DONE, "13:00").record)
    for words in ("2 avoid gluten", "lamb", "beans", "flour 07:40", "not logged", "may still be"):
        assert words in text


def test_the_skill_is_declared_whole() -> None:
    assert set(SKILL.answers) == {Allergens}
    assert SKILL.examples


def test_who_read_the_labels_stands_in_the_sheet() -> None:
    made = (("08:00", "Mara", {"is": "guests", "count": 1, "allergen": "nuts"}),
            ("08:10", "Tomos", {"is": "load", "dish": "lamb", "meat_kg": 3}),
            ("08:12", "Tomos", {"is": "load", "dish": "dal", "meat_kg": 1}))
    assert sheet.sheet_text(view(made, "08:20").record).count("No labels logged as read.") == 2
    read = (*made, ("08:15", "Bea", {"is": "task", "act": "done", "what": "labels on the lamb"}))
    lamb, dal = sheet.sheet_text(view(read, "08:20").record).split("\n")[1:3]
    assert "Labels read 08:15 (Bea)." in lamb
    assert "No labels logged as read." in dal


def test_labels_not_read_are_not_taken_for_read() -> None:
    made = (("08:10", "Tomos", {"is": "load", "dish": "lamb", "meat_kg": 3}),
            ("08:15", "Bea", {"is": "note", "text": "labels not read yet"}))
    assert "No labels logged as read." in sheet.sheet_text(view(made, "08:20").record)


def test_seats_are_kept_and_shown_and_no_name_is() -> None:
    lines = (("09:00", "Mara", guests("celery", seat="seat 4")), ("09:05", "Mara", guests("celery", seat="seat 7")))
    record = view(lines, "09:10").record
    assert record.avoids["celery"] == 2
    assert sheet.avoided(record) == "2 avoid celery (seat 4, seat 7)"
