"""What is said to "is it ok" and "how long to chill": the number, the rule set, the next act; never a clearance."""
from __future__ import annotations

import re

import pytest

from skills.safety.answers import say_how_long_to_chill, say_where_it_stands
from skills.safety.packs import pack
from skills.safety.skill import SKILL
from skills.safety.spans import names
from skills.vocabulary import ChillTime, Safe
from tests.hazards.cases import CALM, HAZARDS, LAMB, LAMB_OUT, NIGHT, STEW, Calm, Hazard, chill, core, into, load, stage
from tests.safety.helpers import view

NEVER = re.compile(r"\bsafe\b|perfectly|!|lethality|pasteuri|ensemble|quantile|lane", re.IGNORECASE)


def ask(lines: tuple, now: str, dish: str | None = None, region: str = "uk", kitchen: dict | None = None) -> list[str]:
    return list(say_where_it_stands(Safe(dish=dish), view(lines, now, region, kitchen=kitchen)).lines)


@pytest.mark.parametrize("case", [*HAZARDS, *CALM], ids=lambda case: case.name)
def test_every_answer_is_short_and_clears_nothing(case: Hazard | Calm) -> None:
    seen = view(case.lines, case.now, case.region, kitchen=case.kitchen or None)
    for name in names(seen.record) or [None]:
        lines = say_where_it_stands(Safe(dish=name), seen).lines
        assert 1 <= len(lines) <= 3
        assert all(0 < len(line) <= 230 for line in lines), lines
        assert not NEVER.search("\n".join(lines))
        assert pack(case.region).short in "\n".join(lines)


def test_nothing_logged_gives_the_figures_and_a_probe() -> None:
    first, second = ask((), "12:00", "stew")
    assert "63" in first
    assert "8" in first
    assert "discard" in second


def test_two_dishes_without_a_name_are_asked_about() -> None:
    assert ask((*LAMB[:2], *STEW[:2]), "12:00") == ["Which one: the lamb or the stew?"]


def test_hold_answer_gives_since_when_and_by_when() -> None:
    """England 2005, Sch. 4 para 7: once, under 2 h."""
    first, second = ask((*STEW, ("14:40", "Bea", core("stew", 60))), "15:20", "stew")
    since = re.search(r"since (\d\d):(\d\d) \(by probe\)", first)
    by = re.search(r"use or chill by (\d\d):(\d\d)", second, re.IGNORECASE)
    assert since is not None
    assert by is not None
    minutes = [int(each.group(1)) * 60 + int(each.group(2)) for each in (since, by)]
    assert minutes[1] - minutes[0] == 120
    assert 14 * 60 + 10 < minutes[0] <= 14 * 60 + 40


def test_past_its_time_is_a_no() -> None:
    text = "\n".join(ask((*STEW, ("14:40", "Bea", core("stew", 60))), "18:00", "stew"))
    assert "discard" in text


def test_overnight_answer_names_the_coolest_hour_and_says_no() -> None:
    first, second = ask(NIGHT, "21:40", "beans", kitchen={"beans": [("21:40", 88, 2), ("+07:00", 58, 6)]})
    assert "coolest hour" in first
    assert re.search(r"about 5\d \(5\d to 6\d\)", first)
    assert "63" in first
    assert second.startswith("No")


def test_overnight_answer_when_it_holds_gives_the_number_and_no_permission() -> None:
    first, second = ask(NIGHT, "21:40", "beans", kitchen={"beans": [("21:40", 90, 2), ("+07:00", 76, 4)]})
    assert "above 63" in first
    assert "probe" in second
    assert not second.startswith("Yes")


@pytest.mark.parametrize(("edge", "no"), [(64.0, True), (64.5, True), (66.0, False), (70.0, False)])
def test_an_edge_that_sinks_to_within_its_own_doubt_of_the_figure_is_not_left_unseen(edge: float, no: bool) -> None:
    """The drawn ways lie evenly within 1.1 of the half spread, so their 5 % edge is 0.99 of it under the middle.

    The doubt of the edge itself: for n draws its standard error is sqrt(p (1 - p) / n) / density (any text on order
    statistics), 2.3 degC for 21 normal draws of 5 degC: within 2 is no clear hold.
    """
    ways = {"beans": [("21:40", 90.0, 2.0), ("+07:00", edge + 0.99 * 8.0, 8.0)]}
    first, second = ask(NIGHT, "21:40", "beans", kitchen=ways)
    assert second.startswith("No, not unseen") is no
    assert ("may come within 2 of 63" in first) is no


def test_an_edge_that_only_rises_through_the_figure_is_a_hold() -> None:
    ways = {"beans": [("20:50", 67.0, 2.0), ("21:40", 70.0, 4.0), ("+07:00", 84.0, 4.0)]}
    assert "above 63" in ask(NIGHT, "20:50", "beans", kitchen=ways)[0]


def test_overnight_is_answered_in_the_afternoon_too() -> None:
    """Asked at 17:40 with no meal to come (job, sample 14)."""
    lines = (("16:00", "Idris", load("beans", 1.5, 2.0)), ("16:10", "Idris", into("beans")))
    first, second, *_ = ask(lines, "17:40", "beans", kitchen={"beans": [("17:40", 95, 2), ("+07:00", 60, 6)]})
    assert "coolest hour" in first
    assert "boil hard" in second


def test_unboiled_beans_are_told_so() -> None:
    lines = (("08:50", "Bea", load("beans", 1.0, 2.0, "red kidney")), ("09:00", "Bea", into("beans")))
    assert "boil hard" in ask(lines, "10:00", "beans")[-1]


def test_braise_in_the_oven_says_what_was_probed() -> None:
    first, second = ask((*LAMB, ("13:10", "Idris", core("lamb", 92))), "13:12", "lamb")
    assert "core 92 by probe" in first
    assert "far past" in first
    assert "robe" in second


def test_reckoned_heat_is_called_reckoned() -> None:
    assert "by my figures" in ask(LAMB, "13:06", "lamb")[0]


def test_part_cooked_answer_gives_the_time_left() -> None:
    lines = (("09:00", "Idris", load("lamb")), ("09:10", "Idris", stage("lamb", "aside")))
    first, second = ask(lines, "09:40", "lamb")
    assert "30 min" in first
    assert "11:10" in second


def test_chill_answer_gives_the_mark_and_the_range() -> None:
    first, second = ask((*LAMB_OUT, ("14:20", "Tomos", chill(depth_cm=4, method="ice"))), "14:25", "lamb")
    assert re.search(r"below 8 wanted by 15:\d\d", first)
    assert re.search(r"about 15:\d\d \(1\d:\d\d to 1\d:\d\d\)", first)
    assert "robe" in second


def test_chilled_answer_gives_the_minutes_between_the_figures() -> None:
    lines = (*LAMB_OUT, ("13:33", "Tomos", core("lamb", 64)), ("13:35", "Tomos", chill(depth_cm=2.5, method="ice")),
             ("14:30", "Tomos", core("lamb", 7)), ("14:31", "Tomos", chill("done")))
    first, second = ask(lines, "14:40", "lamb")
    found = re.search(r"about (\d+) min between 63 and 8", first)
    assert found is not None
    # Below 63 within minutes of 13:33, below 8 by 14:30 at the latest.
    assert 25 <= int(found.group(1)) <= 57
    assert "last probe 7" in first
    assert "70" in second


def test_allergens_that_guests_avoid_come_with_the_answer() -> None:
    lines = (("08:00", "Bea", {"is": "guests", "count": 1, "allergen": "nuts"}), *LAMB_OUT,
             ("13:33", "Bea", {"is": "contents", "dish": "lamb", "item": "pesto", "allergen": "nuts"}))
    assert any("nuts (pesto 13:33)" in line for line in ask(lines, "13:40", "lamb"))


@pytest.mark.parametrize("region", ["uk", "scotland", "us", "anz", "eu"])
def test_chill_times_are_given_against_the_rule_of_the_region(region: str) -> None:
    reply = say_how_long_to_chill(ChillTime(depth_cm=4, method="ice"), view((), "14:00", region))
    assert len(reply.lines) <= 3
    assert pack(region).short in reply.text or pack(region).short.lower() in reply.text.lower()
    for mark in pack(region).chill:
        assert f"{mark.to_c:g}" in reply.text


def test_one_pot_gets_the_trays_instead() -> None:
    """Job, sample 13; observations in tests/published/test_safety_chill_observed.py."""
    reply = say_how_long_to_chill(ChillTime(litres=6, method="fridge"), view((), "14:20"))
    assert "well over 6 h" in reply.text
    assert "Three trays under 5 cm" in reply.text


def test_deeper_takes_longer_and_ice_beats_the_fridge() -> None:
    def middle(**how: object) -> float:
        reply = say_how_long_to_chill(ChillTime(**how), view((), "14:20"))
        found = re.search(r"below 8 in about (\d+) min", reply.lines[0])
        return float(found.group(1)) if found else float("inf")
    assert middle(depth_cm=2.5, method="ice") < middle(depth_cm=4, method="ice") < middle(depth_cm=6, method="ice")
    assert middle(depth_cm=2.5, method="ice") < middle(depth_cm=2.5, method="fridge")


def test_a_chill_question_with_nothing_to_go_by_asks_back() -> None:
    assert say_how_long_to_chill(ChillTime(), view((), "14:20")).lines[0].endswith("?")


def test_the_skill_is_declared_whole() -> None:
    assert set(SKILL.answers) == {Safe, ChillTime}
    assert len(SKILL.prompts) == 3
