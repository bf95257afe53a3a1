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
        what = "chart" if question.form == "plot" else "table"
        return Reply((f"I cannot post the {what} yet. 'Post the summary' gives the day in three lines.",))
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
    tail = f"{readings} readings{corrected}{unused}."
    lines = (f"{', '.join(head)}.", " ".join((*(f"{each}." for each in (*fires, *dishes)), tail)))
    return Reply(lines)


def _fire_words(oven: OvenRecord, lit: datetime) -> str:
    raked = f", raked {clock(oven.raked_at)}" if oven.raked_at else ""
    fed = f", {oven.feeds} feeds told" if oven.feeds else ""
    return f"{capital(oven.name)} lit {clock(lit)}{fed}{raked}"


SKILL = Skill(
    name="class log", about="the day in a few lines", answers={ShowLog: say_summary},
    examples=("post the summary",),
)
