"""Whether a tended fire wants wood, and by when."""
from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime, timedelta

import numpy as np

from skills.fire.feeding import how_much
from skills.record import OvenRecord
from skills.skill import Prompt, Reply, Skill
from skills.view import View
from skills.vocabulary import Fire, Reading, Refuel, Weather
from skills.wording import Floats, capital, clock, moment, the, to_five, which_oven

# Time to fetch a split and lay it (common practice, no source).
FETCH = timedelta(minutes=10)
# Cooking heat of a tended oven: a braise wants about 150 in the air (common practice, no source).
COOKING_C = 150.0
LATELY = timedelta(hours=3)
CAUTION = "Open slowly, stand aside."
# Beyond this a feed is too far off to say how much.
FORESEEN = timedelta(minutes=45)
# Wind into the mouth shortens the time to the mark (judgement; gusts cost up to 80 K in one open oven, heat reference).
WINDY = 0.8
# Two people who feed within this do not know of each other.
TWO_FEEDERS = timedelta(minutes=15)


@dataclass(frozen=True)
class Want:
    """The air now, the figure it should not pass, and when it does if nobody adds wood (None: not in sight)."""
    air_c: float
    floor_c: float
    crosses: datetime | None
    much: str = "one split"


def tended(oven: OvenRecord) -> bool:
    """Run on a live fire: said so, or burning with something cooking in it."""
    return oven.fired == "tended" or (oven.fired is None and oven.burning)


def want(oven: OvenRecord, view: View) -> Want | None:
    """When the air falls below cooking heat without another split."""
    forecast = view.forecast(hours=4.0, feeding=False)
    if forecast is None or oven.name not in forecast.ovens:
        return None
    air: Floats = np.median(forecast.ovens[oven.name].air_c, axis=1)
    cooking = any(dish.oven == oven.name for dish in view.record.dishes.values())
    mark = _mark(oven, view) if cooking else COOKING_C
    below = np.flatnonzero(air < mark)
    crosses = None
    if len(below):
        step = int(below[0])
        at_s = float(forecast.at_s[step])
        if step > 0:
            gap = air[step - 1] - air[step]
            part = (air[step - 1] - mark) / gap if gap > 0 else 0.0
            at_s = float(forecast.at_s[step - 1]) + part * 600.0
        if _windy(view):
            at_s = view.now.timestamp() + WINDY * (at_s - view.now.timestamp())
        crosses = moment(at_s, view.now.tzinfo)
    much = "one split"
    if crosses is not None and crosses - view.now <= FORESEEN:
        by = max(crosses - FETCH, view.now)
        much = how_much(oven.name, view, air, np.asarray(forecast.at_s), mark, by)
    return Want(float(air[0]), mark, crosses, much)


def _windy(view: View) -> bool:
    told = [dated.fact.wind for dated in view.record.facts
            if isinstance(dated.fact, Weather) and dated.fact.wind is not None]
    return bool(told) and told[-1] == "windy"


def _mark(oven: OvenRecord, view: View) -> float:
    """The heat to keep: a braise's, or less in an oven that has been run cooler on purpose [degC]."""
    told = [dated.fact.celsius for dated in view.record.facts
            if isinstance(dated.fact, Reading) and dated.oven == oven.name and dated.fact.place == "air"
            and dated.fact.celsius is not None and view.now - dated.at <= LATELY]
    if not told:
        return COOKING_C
    return min(COOKING_C, max(100.0, 10.0 * round((float(np.median(told)) - 15.0) / 10)))


def say_whether_to_refuel(question: Refuel, view: View) -> Reply:
    """ "does the barrel want wood?" """
    pool = [oven for oven in view.record.ovens.values() if oven.burning]
    oven = view.oven(question.oven) if question.oven or len(pool) != 1 else pool[0]
    if oven is None:
        return Reply((which_oven(list(view.record.ovens), question.oven),))
    if not oven.burning:
        gone = oven.raked_at or oven.out_at
        when = f" since {clock(gone)}" if gone else ""
        return Reply((f"No fire in {the([oven.name])}{when}: it runs on stored heat.",))
    if not tended(oven):
        return Reply((f"{capital(oven.name)} is still being fired. Keep it fed until the ceiling is clear and an hour "
                      "more, then rake.",))
    needed = want(oven, view)
    if needed is None:
        return Reply((f"{capital(oven.name)}: give me an air reading and I can say.",))
    lines = [_line(oven, needed, view.now)]
    if oven.door in ("off", "ajar") and needed.crosses is not None:
        lines.append(f"The door is {oven.door}: shutting it comes before wood, once the fire is small.")
    holder = view.holder(oven.name)
    if holder is not None and needed.crosses is not None:
        lines.append(f"{holder} has it: nobody else feeds it.")
    return Reply(tuple(lines))


def _line(oven: OvenRecord, needed: Want, now: datetime) -> str:
    name = capital(oven.name)
    if needed.crosses is None:
        return f"{name}: no wood needed yet. Air {needed.air_c:.0f}, above {needed.floor_c:.0f} for hours."
    by = to_five(max(needed.crosses - FETCH, now))
    if needed.air_c < needed.floor_c or needed.crosses <= now + timedelta(minutes=2):
        return f"{name}: {needed.much} now. Air about {needed.air_c:.0f}, below {needed.floor_c:.0f}. {CAUTION}"
    if needed.crosses - now > timedelta(minutes=45):
        return f"{name}: not yet. Air {needed.air_c:.0f}, below {needed.floor_c:.0f} about " \
               f"{clock(to_five(needed.crosses))}; look again at {clock(by)}."
    return f"{name}: {needed.much} by {clock(by)}. Air {needed.air_c:.0f}, below {needed.floor_c:.0f} about " \
           f"{clock(to_five(needed.crosses))}."


def refuel_prompts(view: View) -> Iterable[Prompt]:
    """A split is due on a tended fire that something cooks on; open until the fire is fed, raked or out."""
    if view.record.ended is not None:
        return
    for oven in view.record.ovens.values():
        if not oven.burning or not tended(oven):
            continue
        if not any(dish.oven == oven.name for dish in view.record.dishes.values()):
            continue
        needed = want(oven, view)
        if needed is None or needed.crosses is None:
            continue
        yield from _two_feeders(oven, needed, view)
        due = max(needed.crosses - 2 * FETCH, view.now)
        if oven.fed_at is not None:
            due = max(due, oven.fed_at + timedelta(minutes=15))
        who = view.holder(oven.name) or oven.fed_by or view.record.lead or ""
        by = to_five(max(needed.crosses - FETCH, due + FETCH))
        fed = oven.fed_at.isoformat() if oven.fed_at else "-"
        heat = f"Air {needed.air_c:.0f} at {clock(view.now)}, " + (
            f"under {needed.floor_c:.0f}." if needed.air_c < needed.floor_c else
            f"below {needed.floor_c:.0f} about {clock(to_five(max(needed.crosses, due)))}.")
        text = f"{oven.name}, {needed.much} by {clock(by)}. {heat}"
        late = f"{oven.name}, {needed.much} now. {heat}"
        yield Prompt("refuel", f"refuel:{oven.name}:{fed}", due, f"{who}: {text}", oven.name, None, who,
                     due + timedelta(minutes=30), urgent=True, act_at=by, late=late)


def _two_feeders(oven: OvenRecord, needed: Want, view: View) -> Iterable[Prompt]:
    """One person feeds one fire: said once an hour, when another than its holder, or two within minutes, has fed it."""
    feeds = [dated for dated in view.record.facts if isinstance(dated.fact, Fire) and dated.fact.act == "fed"
             and dated.oven == oven.name]
    if not feeds or feeds[-1].told != view.now or needed.crosses is None:
        return
    last = feeds[-1]
    holder = view.holder(oven.name)
    other = holder if holder is not None and holder != last.who else None
    if other is None and len(feeds) > 1 and feeds[-2].who != last.who and last.at - feeds[-2].at <= TWO_FEEDERS:
        other = feeds[-2].who
    if other is None:
        return
    has = "you have it" if other == holder else f"you fed it {clock(feeds[-2].at)}"
    again = clock(to_five(min(max(needed.crosses - FETCH, last.at + TWO_FEEDERS), last.at + FORESEEN)))
    yield Prompt("feeding", f"feeders:{oven.name}:{last.at:%d:%H}", view.now,
                 f"{other}: {last.who} fed {oven.name} {clock(last.at)}, {has}. Nothing more before about {again}.",
                 oven.name, None, other, view.now + timedelta(minutes=10))


SKILL = Skill(
    name="fire", about="whether a tended fire wants wood",
    answers={Refuel: say_whether_to_refuel}, prompts=(refuel_prompts,),
    examples=("does the barrel want wood?",),
)
