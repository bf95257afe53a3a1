"""The day in a few lines; the whole record is printed by the log command."""
from __future__ import annotations

from datetime import datetime

from skills.record import OvenRecord
from skills.skill import Reply, Skill
from skills.view import View
from skills.vocabulary import ShowLog
from skills.wording import capital, clock


def say_summary(question: ShowLog, view: View) -> Reply:
    """ "post the summary" """
    record = view.record
    if question.form in ("plot", "table"):
        return Reply(_pointer(question.form, view))
    day = record.facts[0].at if record.facts else view.now
    head = [capital(record.title or "class"), f"{day.day} {day.strftime('%B')}"]
    if record.guests is not None:
        head.append(f"{record.guests} guests")
    if record.serve is not None:
        head.append(f"eating {clock(record.serve)}")
    fires = [_fire_words(oven, oven.lit_at) for oven in record.ovens.values() if oven.lit_at]
    dishes = []
    for dish in record.dishes.values():
        if dish.in_at is None:
            continue
        part = f"{capital(dish.name)} in {clock(dish.in_at)}"
        if dish.tender_at and dish.tender:
            part += f", {dish.tender} {clock(dish.tender_at)}"
        if dish.out_at:
            part += f", out {clock(dish.out_at)}"
        dishes.append(part)
    readings = sum(1 for dated in record.facts if dated.fact.is_ == "reading")
    corrected = f", {len(record.changes)} corrected" if record.changes else ""
    doubted = len(view.belief.doubted) if view.belief is not None else 0
    unused = f", {doubted} doubted and not used" if doubted else ""
    tail = f"{readings} reading{'' if readings == 1 else 's'}{corrected}{unused}."
    lines = (f"{', '.join(head)}.", " ".join((*(f"{each}." for each in (*fires, *dishes)), tail)))
    return Reply(lines)


def _pointer(form: str, view: View) -> tuple[str, ...]:
    """Words beside the chart, or in place of what a line of talk cannot show."""
    if form == "plot":
        return (f"Chart of the day to {clock(view.now)}: ovens, pots, what was done and what is to come.",
                "Where no picture shows: 'yardhand log last --plot' writes it.")
    readings = sum(1 for dated in view.record.facts if dated.fact.is_ == "reading")
    return (f"The table to {clock(view.now)}: {len(view.record.facts)} facts, {readings} of them readings.",
            "'yardhand log last --csv' writes it whole, '--html' and '--pdf' the page.")


def _fire_words(oven: OvenRecord, lit: datetime) -> str:
    raked = f", raked {clock(oven.raked_at)}" if oven.raked_at else ""
    fed = "" if not oven.feeds else ", fed once" if oven.feeds == 1 else f", fed {oven.feeds} times"
    return f"{capital(oven.name)} lit {clock(lit)}{fed}{raked}"


SKILL = Skill(
    name="class log", about="the day in a few lines", answers={ShowLog: say_summary},
    examples=("post the summary", "post the chart"),
)
