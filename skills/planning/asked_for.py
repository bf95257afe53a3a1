"""What a question for a plan asks for: which dishes, which meal, which oven; or one line that says what is missing."""
from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime, timedelta

from skills.dated import coming_time
from skills.planning.heats import heat_of
from skills.view import View
from skills.vocabulary import Plan
from skills.wording import clock, the

WEEK = ("monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday")


def known_dishes(question: Plan, view: View) -> tuple[Plan, list[str]]:
    """The question without the dishes that it names and no finish is known of; and those."""
    names = [name for name in (question.dish, *(question.also or ())) if name is not None]
    strange = [name for name in names if view.dish(name) is None and not heat_of(name)[2]]
    known = [name for name in names if name not in strange]
    return question.model_copy(update={"dish": known[0] if known else None, "also": tuple(known[1:]) or None}), strange


def no_figures(names: Sequence[str]) -> str:
    name = names[0]
    return f"I have no figures for {' or '.join(names)}. Name its cut, or its kind: '{name} stew', '{name} roast', " \
           f"'{name} beans', '{name} bread'."


def meal_asked(question: Plan, view: View) -> tuple[datetime | None, str]:
    if question.day == "yesterday":
        return None, "Yesterday is past. I plan for a meal to come, such as 'when do I light up to eat at 13:30?'."
    eat = coming_time(question.by, view.now) if question.by is not None else view.serve
    if eat is None:
        return None, "Eating when? Such as 'when do I light up to eat at 13:30?'."
    if question.day is not None:
        eat += timedelta(days=(WEEK.index(question.day) - eat.weekday()) % 7)
    elif question.tomorrow and eat.date() <= view.now.date():
        eat += timedelta(days=1)
    if eat <= view.now:
        return None, f"{clock(eat)} has passed. When do you eat? Such as 'plan to eat at 18:00'."
    return eat, ""


def oven_asked(question: Plan, view: View) -> tuple[str | None, str]:
    """The oven to plan for: named, known in this class, or learnt in earlier ones."""
    names = ovens_known(view)
    stored = [name for name in names if not view.tended(name)]
    meant = _meant(stored or names, question, view)
    if question.oven is None and len(meant) == 1:
        return meant[0], ""
    known = view.oven(question.oven)
    if known is not None:
        return known.name, ""
    if question.oven is not None:
        return question.oven, ""
    if len(names) == 1 or len(stored) == 1:
        return (names if len(names) == 1 else stored)[0], ""
    if not names:
        return None, "Which oven? Name it and say its size, such as 'the dome is 90 across, 10 of insulation'."
    return None, f"Which oven: {the(names)}?"


def _meant(names: list[str], question: Plan, view: View) -> list[str]:
    """Those of several ovens that can be meant: that a dish to go in is told or planned for, fired, free."""
    dishes = [dish for dish in view.record.dishes.values() if dish.in_at is None and not dish.served]
    if question.dish is not None:
        known = view.dish(question.dish)
        dishes = [known] if known is not None and known.in_at is None else []
    planned = {key.split("@", 1)[1].split(":")[0] for key in view.told if key.startswith("plan:") and "@" in key}
    used = {dish.oven for dish in view.record.dishes.values() if dish.cooking}
    ovens = view.record.ovens
    for fits in ({dish.oven for dish in dishes}, planned,
                 {name for name, oven in ovens.items() if oven.burning or oven.raked_at is not None},
                 set(names) - used if dishes else set()):
        names = [name for name in names if name in fits] or names
    return names


def ovens_known(view: View) -> list[str]:
    """Every oven of this class and of earlier ones."""
    return list(dict.fromkeys([*view.record.ovens, *view.setting.ovens]))
