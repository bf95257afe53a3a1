"""Questions to the bot; what is asked of people ("can someone bring the long peel") stays silent."""

from __future__ import annotations

from bot.reading.asked import Asked, ReadFacts, time_asked, with_names
from bot.reading.lexicon import bag
from bot.reading.questions_kitchen import allergens_asked, amount_asked, refuel_asked, safe_asked
from bot.reading.questions_team import (
    asked_of_people,
    help_asked,
    log_asked,
    measure_asked,
    status_asked,
    who_asked,
    why_asked,
)
from bot.reading.questions_time import chill_time_asked, eta_asked, oven_at_asked, plan_asked, ready_by_asked
from bot.reading.questions_what_if import what_if_asked
from bot.reading.scene import Scene, compiled


def questions(scene: Scene, read_facts: ReadFacts) -> None:
    """Every question of the message, in order."""
    for first, last in _regions(scene):
        _ask(scene, first, last, read_facts)


def _regions(scene: Scene) -> list[tuple[int, int]]:
    found: list[tuple[int, int]] = []
    at = 0
    while at < len(scene.items):
        if scene.moods[at] == "question":
            end = at
            _a, b = scene.sentence(at)
            while end < b and scene.moods[end] == "question":
                end += 1
            found.append((at, end))
            at = end
        at += 1
    return found


def _ask(scene: Scene, first: int, last: int, read_facts: ReadFacts) -> None:
    asked = Asked(scene, first, last)
    if not asked.text.strip(" .,?!:;-"):
        return
    for rule in (
        what_if_asked,
        help_asked,
        log_asked,
        asked_of_people,
        why_asked,
        who_asked,
        measure_asked,
        refuel_asked,
        plan_asked,
        chill_time_asked,
        amount_asked,
        allergens_asked,
        ready_by_asked,
        oven_at_asked,
        safe_asked,
        eta_asked,
        status_asked,
    ):
        fields = rule(asked, read_facts)
        if fields is not None:
            if fields.get("is") == "person":
                return
            if fields == {"is": "ready_by"} and _second_try(scene, first, last):
                return
            draft = scene.add(fields, first, last, f"question {fields['is']}", question=True)
            draft.hidden["pronoun"] = _pronoun(asked)
            return
    _second_try(scene, first, last)


def _second_try(scene: Scene, first: int, last: int) -> bool:
    """ "brisket for 3 o'clock, are we ok?": the clause before belongs to the question."""
    a, b = scene.sentence(first)
    if first == a or scene.items[b - 1].word != "?":
        return False
    before, _ = scene.segment(max(a, first - 2))
    if any(scene.used[before:first]) or not compiled(
        r".*(?:are we|is it|is that|will it|will that|still|we|ok|on track|doable|possible|any chance|good"
        r"|realistic).*"
    ).fullmatch(Asked(scene, first, last).text):
        return False
    asked = Asked(scene, before, last)
    by = time_asked(asked, meal=True)
    if by is None or asked.items("P") or any(scene.items[n].kind == "H" for n in range(before, first)):
        return False
    scene.add(with_names(asked, {"is": "ready_by", "by": by}), before, last, "question ready_by", question=True)
    return True


def _pronoun(asked: Asked) -> bool:
    return bool(asked.words & bag("it they that this there them these those"))
