"""A why after a word of food safety names the figure, its source and how well it is known."""
from __future__ import annotations

from dataclasses import replace

from skills.oven.why import say_why
from skills.safety.answers import say_where_it_stands
from skills.vocabulary import Safe, Why
from tests.safety.helpers import at, view

ASIDE = (("09:00", "Idris", {"is": "load", "dish": "lamb", "meat_kg": 3}),
         ("09:05", "Idris", {"is": "stage", "dish": "lamb", "stage": "aside"}))
WHY = Why.model_validate({"is": "why"})


def test_why_after_a_prompt_gives_the_figure_and_that_it_is_to_be_checked() -> None:
    seen = replace(view(ASIDE, "10:26"), said={"safety:aside:1:lamb": at("10:25")})
    text = say_why(WHY, seen).text
    assert "within 2 h" in text
    assert "check locally" in text                       # practice in the pack, not read in a rule


def test_why_after_an_answer_gives_the_hold_figure_with_its_source() -> None:
    now = view(ASIDE, "10:26")
    answer = say_where_it_stands(Safe.model_validate({"is": "safe", "dish": "lamb"}), now)
    told = {name: {"at": now.now.timestamp()} for name in answer.said}
    text = say_why(WHY, replace(now, told=told)).text
    assert "63 C" in text
    assert "Sch. 4" in text                              # Food Hygiene (Wales) Regulations 2006, Sch. 4 para 6


def test_why_an_hour_later_is_about_the_oven_again() -> None:
    seen = replace(view(ASIDE, "11:30"), said={"safety:aside:1:lamb": at("10:25")})
    assert "2 h" not in say_why(WHY, seen).text
