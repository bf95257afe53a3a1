"""An oven that is being fired: whether its ceiling is clear and its brick full, when to rake, and what that leaves.

A clear ceiling is a hot skin. What is stored shows in how the oven stands hours later: raking now and raking later are
run through the same forward model, member by member.
"""
from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime, timedelta

import numpy as np

from skills import vocabulary as v
from skills.dated import Dated
from skills.dish.heats import BRAISE
from skills.planning.course import RAKE_S, SETTLE_S
from skills.planning.firing_plan import DishPlan
from skills.planning.heats import heat_of
from skills.planning.outcome import CLEAR_C
from skills.planning.say_ladder import said_of
from skills.planning.say_plan import say_plan, work_out
from skills.record import OvenRecord
from skills.skill import Reply
from skills.view import View
from skills.wording import Floats, capital, clock, day_clock, heat_range, moment, number, odds, to_five

HOURS = 8.0
# A fire that is enough already is compared with one that goes on for so long.
LONGER = timedelta(minutes=30)
# Where no meal or dish says when to rake, now and the quarters of the hours ahead are tried.
QUARTER_S, QUARTERS = 900, 8
# What is left is told for a whole hour, in the last part of the cook: so long before the meal, or after the rake.
BEFORE_MEAL, AFTER_RAKE = timedelta(minutes=90), timedelta(hours=4)
# A probe read this lately is told as it was read.
FRESH = timedelta(minutes=20)
# Floor so much under the ceiling: embers over it first (common practice, no source) [K].
SPREAD_K = 40.0
SOON = timedelta(minutes=5)
# A rake that was told is kept to within this, if the odds are the same (judgement).
STEADY = timedelta(minutes=25)


@dataclass(frozen=True)
class Raking:
    """clear: whether the ceiling is burnt clear; probe: as read, or as reckoned; under_k: the floor's face under
    the ceiling's; rake: when; table: the odds of the meal, if one is planned; said: what later words are compared
    with; at: when what is left is told; now_c, then_c (members,): the air left by raking now and at `then` [degC]."""
    oven: str
    now: datetime
    clear: bool
    probe: str
    rise_k_h: float
    under_k: float
    rake: datetime
    then: datetime
    at: datetime
    now_c: Floats
    then_c: Floats
    table: str
    said: Mapping[str, float]

    @property
    def due(self) -> bool:
        return self.rake <= self.now + SOON

    @property
    def pot_in(self) -> datetime:
        return to_five(self.rake + timedelta(seconds=RAKE_S + SETTLE_S))

    def lines(self) -> tuple[str, ...]:
        """How full it is and when to rake; what raking now and later leaves."""
        skin = "clear, " if self.clear else ""
        rising = f" and rising about {5 * round(self.rise_k_h / 5)} an hour" if self.rise_k_h >= 5 else ""
        probe = f"probe {self.probe}{rising}"
        embers = f" Spread embers 15 min first: floor {self.under_k:.0f} under the ceiling." \
            if self.under_k > SPREAD_K else ""
        at = day_clock(self.at, self.now)
        left = f"Raking now would leave {heat_range(self.now_c)} at {at}"
        longer = f"{clock(self.then)} leaves {heat_range(self.then_c)}"
        if self.due:
            return (f"{capital(self.oven)}: {skin}{probe}. Enough: rake now.{self.table}{embers}",
                    f"{left}; {longer}.")
        return (f"{capital(self.oven)}: {skin}not full: {probe}. Keep firing to {clock(self.rake)}, "
                    f"pot in about {clock(self.pot_in)}.{self.table}",
                f"{left}; {longer}.{embers if self.rake - self.now <= LONGER else ''}")


def is_fired(oven: OvenRecord, view: View) -> bool:
    """Whether an oven burns that is to be raked, and nothing stands in it."""
    return oven.burning and not view.tended(oven.name) and not any(
        dish.oven == oven.name for dish in view.record.dishes.values())


def raking(oven: OvenRecord, view: View) -> Raking | None:
    """How the firing for a meal stands; None if the models do not follow it, or it is not for that meal."""
    forecast = view.forecast()
    believed = forecast.ovens.get(oven.name) if forecast is not None else None
    here = view.belief.ovens.get(oven.name) if view.belief is not None else None
    if believed is None or here is None or forecast is None:
        return None
    made = work_out(v.Plan(oven=oven.name), view, quick=True)
    if any(each is not None and each.raked_first is not None for each in (made.plan, made.ladder)):
        return None                      # the fire of the evening before: the plan says when that is raked
    rake, table, said = None, "", dict[str, float]()
    if made.plan is not None and (row := made.plan.row("rake")) is not None:
        rake = _as_told(max(row.at, view.now), made.plan, view)
        said = said_of(made.plan) | {f"plan:{made.plan.dish}@{oven.name}:rake": rake.timestamp()}
        table = f" On the table at {day_clock(made.plan.eat, view.now)}: {odds(made.plan.reached, made.plan.odds)}."
    elif made.ladder is not None and made.ladder.rake is not None:
        rake = max(made.ladder.rake, view.now)
    rake = to_five(rake or _holding(oven, view))
    then = rake if rake > view.now + SOON else to_five(view.now + LONGER)
    serve = view.serve
    at = serve - BEFORE_MEAL if serve is not None and serve - BEFORE_MEAL > then else then + AFTER_RAKE
    at = at.replace(minute=0, second=0, microsecond=0) + timedelta(hours=round(at.minute / 60))
    read = _probed_c(oven.name, view)
    probe = f"about {np.median(believed.floor_c[0]):.0f} by my figures" if read is None else number(read)
    now_c, then_c = (_left(oven.name, each, at, view) for each in (view.now, then))
    if now_c is None or then_c is None:
        return None
    rise = float(np.median(believed.floor_c[min(6, len(forecast.at_s) - 1)] - believed.floor_c[0]))
    under = float(np.median(here.dome_c - here.surface_c))
    clear = bool(np.mean(here.dome_c >= CLEAR_C) >= 0.5) or _shot_clear(oven.name, view)
    return Raking(oven.name, view.now, clear, probe, rise, under, rake, then, at,
                  now_c, then_c, table, {**said, raking_key(oven.name): rake.timestamp()})


def _as_told(rake: datetime, plan: DishPlan, view: View) -> datetime:
    """The rake that was told already, while another would be no better: of times with like odds one is kept to."""
    before = view.told.get(raking_key(plan.oven))
    reached = view.told.get(f"plan:{plan.dish}@{plan.oven}:odds")
    if before is None or before["mid"] is None or reached is None or odds(reached["mid"]) != odds(plan.reached):
        return rake
    told = moment(float(before["mid"]), view.now.tzinfo)
    return told if told >= view.now and abs(told - rake) <= STEADY else rake


def _shot_clear(oven: str, view: View) -> bool:
    """Whether a face was shot lately that is as hot as a ceiling that burns clear."""
    return any(dated.oven == oven and isinstance(dated.fact, v.Reading) and dated.fact.place not in ("air", "mouth")
               and dated.fact.tool != "probe" and (dated.fact.celsius or 0.0) >= CLEAR_C
               and view.now - dated.at <= FRESH for dated in view.record.facts)


def _probed_c(oven: str, view: View) -> float | None:
    """What the floor probe was read at lately, if it was believed [degC]."""
    doubted = {(each.message, each.index) for each in view.belief.doubted} if view.belief is not None else set()
    read = [dated.fact.celsius for dated in view.record.facts
            if dated.oven == oven and isinstance(dated.fact, v.Reading) and dated.fact.place == "floor"
            and dated.fact.tool != "infrared" and view.now - dated.at <= FRESH
            and (dated.message, dated.index) not in doubted]
    return read[-1] if read else None


def _left(oven: str, rake: datetime, at: datetime, view: View) -> Floats | None:
    """The air of the empty oven at a time, raked at another (members,) [degC]."""
    raked = Dated(rake, view.now, "", "raking", 0, v.Fire(act="raked"), oven)
    forecast = view.what_if([raked], HOURS)
    if forecast is None or oven not in forecast.ovens:
        return None
    return np.asarray(forecast.ovens[oven].air_c[int(np.argmin(np.abs(forecast.at_s - at.timestamp())))])


def _holding(oven: OvenRecord, view: View) -> datetime:
    """The first rake after which the oven holds the heat of what waits, or of a braise, to the end of its time."""
    waiting = [dish for dish in view.record.dishes.values() if dish.in_at is None and not dish.served]
    heats = [heat for dish in waiting if not (heat := heat_of(dish.name, dish.cut)[0]).fire and not heat.dry]
    heat = max(heats, key=lambda each: each.usual_s, default=BRAISE)
    span = timedelta(seconds=RAKE_S + SETTLE_S + heat.usual_s)
    quarter_s = (view.now.timestamp() // QUARTER_S + 1) * QUARTER_S
    tried = [view.now, *(moment(quarter_s + QUARTER_S * count, view.now.tzinfo) for count in range(QUARTERS))]
    low, high = 0, len(tried) - 1
    while low < high:
        middle = (low + high) // 2
        left = _left(oven.name, tried[middle], tried[middle] + span, view)
        if left is not None and float(np.median(left)) >= heat.low_c:
            high = middle
        else:
            low = middle + 1
    return tried[low]


def raking_lines(oven: OvenRecord, view: View) -> tuple[str, ...]:
    """What is said of an oven that is being fired; nothing of any other."""
    found = raking(oven, view) if is_fired(oven, view) else None
    return found.lines() if found is not None else ()


def raking_key(oven: str) -> str:
    """The name under which the rake time that was said last is remembered."""
    return f"rake:{oven}"


def say_when(question: v.Plan, view: View) -> Reply:
    """ "when do I light?", "when do I rake?": the plan; of an oven that burns also what raking now would leave."""
    oven = view.oven(question.oven) or _only_fired(view)
    if oven is None or not is_fired(oven, view):
        return say_plan(question, view)
    made = raking(oven, view)
    if made is None:
        return say_plan(question, view)
    # Of one dish the rake and the meal are told as they are of a reading; a ladder has its own words.
    alone = any(key.endswith(":rake") for key in made.said)
    reply = say_plan(question, view) if question.by is not None or question.dish is not None or not alone else None
    if reply is None or not any(key.startswith("plan:") for key in reply.said):
        return Reply(made.lines(), made.said)
    return Reply((*reply.lines, made.lines()[1])[:3], {**made.said, **reply.said})


def _only_fired(view: View) -> OvenRecord | None:
    fired = [oven for oven in view.record.ovens.values() if is_fired(oven, view)]
    return fired[0] if len(fired) == 1 else None
