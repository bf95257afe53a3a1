"""What a thing would cost: the same forward model run twice, member by member, with and without it."""
from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import datetime, timedelta
from typing import Literal

import numpy as np

from skills import vocabulary as v
from skills.dated import Dated, coming_time
from skills.dish.pot_in import put_in, ready_at, where_to
from skills.dish.promise import Promise, promise
from skills.planning.raking import is_fired, raking_lines
from skills.record import DishRecord, OvenRecord
from skills.skill import Reply
from skills.view import View
from skills.vocabulary import WhatIf
from skills.wording import Floats, capital, clock, day_clock, odds, the, to_five, which_oven

# A door off "for a bit", when no length is said (common practice, no source).
A_BIT = timedelta(minutes=10)
# Costs are told an hour after the thing is over: the dip has passed, what is left is what the brick lost.
AFTER = timedelta(hours=1)
HOURS = 8.0
# A pot put in so much after its oven is ready is held against the earlier time.
SOONER = timedelta(minutes=5)
OPENED = ("off", "ajar")
# What is undone again when the time is over.
_BACK: dict[str, Literal["lid_on", "in"]] = {"lid_off": "lid_on", "out": "in"}


def say_what_if(question: WhatIf, view: View) -> Reply:
    """ "what if I leave the door off ten minutes?" """
    if view.belief is None:
        return Reply(("No oven is known yet, so I cannot tell what that would do.",))
    serve = next((each for each in question.facts if isinstance(each, v.Serve)), None)
    if question.wait is not None:
        return Reply(tuple(_waiting(timedelta(minutes=question.wait), view)[:3]))
    acts, over, trouble = _acts(question.facts, view)
    if trouble:
        return Reply((trouble,))
    if not acts and serve is None:
        return Reply(("Say what would be done, such as 'what if the door is off ten minutes' or 'two splits on'.",))
    if len(acts) == 1 and getattr(acts[0].fact, "act", "") == "raked" and \
            (oven := view.oven(acts[0].oven)) is not None and (said := raking_lines(oven, view)):
        return Reply(said)
    by = coming_time(serve.by, view.now) if serve is not None else view.serve
    lines = [] if acts and all(_goes_in(act, view) for act in acts) else _heat_lines(acts, over, view)
    lines += _dish_lines(acts, by, serve is not None, view)
    lines += _elsewhere_lines(acts, over, view)
    lines = [line for line in lines if line]
    if not lines and serve is not None:
        from skills.planning.say_plan import say_plan
        planned = say_plan(v.Plan(by=serve.by), view)
        # What is only asked is not taken for the plan.
        return Reply(planned.lines)
    return Reply(tuple(lines[:3]) or (_NOTHING_COOKS,))


_NOTHING_COOKS = ("Nothing is in an oven by my log, so that changes nothing yet. Say what went in, such as 'lamb in at "
                  "10:05'.")


def _goes_in(act: Dated, view: View) -> bool:
    """Whether the act puts a dish in that is in no oven yet."""
    dish = view.record.dishes.get(act.dish or "")
    return isinstance(act.fact, v.Pot) and act.fact.act == "in" and dish is not None and dish.in_at is None


def _which(fact: v.Fact, dish: DishRecord | None, view: View) -> OvenRecord | None:
    """The oven that an act is thought of in."""
    named = view.oven(fact.oven or (dish.oven if dish else None))
    if named is not None or fact.oven is not None:
        return named
    if isinstance(fact, v.Pot) and fact.act == "in":
        return where_to(view)
    fired = [oven for oven in view.record.ovens.values() if is_fired(oven, view)]
    return fired[0] if isinstance(fact, v.Fire) and fact.act in ("raked", "spread") and len(fired) == 1 else None


def _acts(facts: Sequence[v.Fact], view: View) -> tuple[list[Dated], datetime, str]:
    """The imagined acts at their times, when the last of them is over, and what is wrong with them, if anything."""
    acts: list[Dated] = []
    over = view.now
    for fact in facts:
        at = coming_time(fact.at, view.now) if fact.at else view.now
        if isinstance(fact, v.Serve):
            continue
        if isinstance(fact, v.Weather):
            acts.append(Dated(at, view.now, "", "what-if", len(acts), fact))
            continue
        dish = view.dish(fact.dish) if isinstance(fact, v.Pot | v.Load) else None
        if isinstance(fact, v.Pot) and fact.act == "in" and fact.minutes and not fact.at:
            at = view.now + timedelta(minutes=fact.minutes)
        oven = _which(fact, dish, view)
        if oven is None:
            return [], over, which_oven(list(view.record.ovens), fact.oven)
        if isinstance(fact, v.Pot | v.Load) and dish is None:
            return [], over, "Which dish? Say its name and what goes in, then ask again."
        name = dish.name if dish else None
        acts.append(Dated(at, view.now, "", "what-if", len(acts), fact, oven.name, name))
        end = at
        if isinstance(fact, v.Door) and fact.state in OPENED:
            end = at + (timedelta(minutes=fact.minutes) if fact.minutes else A_BIT)
            acts.append(Dated(end, view.now, "", "what-if", len(acts), v.Door(state="on"), oven.name))
        if isinstance(fact, v.Pot) and fact.act in _BACK and name is not None:
            end = at + (timedelta(minutes=fact.minutes) if fact.minutes else A_BIT)
            acts.append(Dated(end, view.now, "", "what-if", len(acts), v.Pot(act=_BACK[fact.act]), oven.name, name))
        over = max(over, end)
    return sorted(acts, key=lambda dated: dated.at), over, ""


def _heat_lines(acts: Sequence[Dated], over: datetime, view: View) -> list[str]:
    """Degrees up or down in each oven that is touched, an hour after."""
    base, then = view.forecast(HOURS), view.what_if(acts, HOURS)
    if base is None or then is None or not acts:
        return []
    at = to_five(over + AFTER)
    step = int(np.argmin(np.abs(base.at_s - at.timestamp())))
    lines = []
    everywhere = any(isinstance(dated.fact, v.Weather) for dated in acts)
    for name in base.ovens if everywhere else dict.fromkeys(dated.oven for dated in acts):
        if name is None or name not in base.ovens:
            continue
        change = np.asarray(then.ovens[name].air_c[step] - base.ovens[name].air_c[step])
        lines.append(f"{capital(name)} {_degrees(change)} at {clock(at)}.")
    return lines


def _waiting(wait: timedelta, view: View) -> list[str]:
    """ "what if we wait half an hour?": what waits to go in goes in later; the ovens as they will be; a later meal."""
    at = view.now + wait
    ready = [dish for dish in view.record.dishes.values() if dish.in_at is None and dish.meat_kg is not None
             and not dish.served]
    oven = where_to(view)
    if len(ready) == 1 and oven is not None:
        act = Dated(at, view.now, "", "what-if", 0, v.Pot(act="in"), oven.name, ready[0].name)
        return _dish_lines([act], view.serve, False, view)
    base = view.forecast(HOURS)
    if base is None or wait > timedelta(hours=HOURS):
        return [f"I see {HOURS:.0f} hours ahead, not further."]
    step = int(np.argmin(np.abs(base.at_s - at.timestamp())))
    lines = []
    for name, each in base.ovens.items():
        low, mid, high = np.quantile(each.air_c[step], (0.05, 0.5, 0.95))
        lines.append(f"{capital(name)} at {clock(at)}: air about {mid:.0f} ({low:.0f} to {high:.0f}), "
                     f"{_degrees(np.asarray(each.air_c[step] - each.air_c[0]))} than now; "
                     f"floor about {np.median(each.floor_c[step]):.0f}.")
    if view.serve is None:
        return lines
    meal = view.serve + wait
    later = ((dish.name, promise(dish, view, meal)) for dish in view.record.dishes.values() if dish.cooking)
    return lines + [f"{capital(name)} on the table at {day_clock(meal, view.now)} instead: {odds(found.share)}."
                    for name, found in later if found is not None]


def _degrees(change: Floats) -> str:
    low, mid, high = np.quantile(np.abs(change), (0.1, 0.5, 0.9))
    if mid < 1 and high < 2:
        return "hardly changes"
    side = "lower" if float(np.median(change)) < 0 else "warmer"
    return f"about {mid:.0f} {side} ({low:.0f} to {high:.0f})"


def _dish_lines(acts: Sequence[Dated], by: datetime | None, retimed: bool, view: View) -> list[str]:
    """Minutes later or sooner for each dish that cooks, and the odds of the meal."""
    then = view.what_if(acts, HOURS) if acts else view.forecast(HOURS)
    lines = []
    for dish in view.record.dishes.values():
        entering = next((act for act in acts if act.dish == dish.name and _goes_in(act, view)), None)
        if entering is not None:
            lines.append(_entering_line(dish, entering, by, view))
            continue
        if acts and not any(act.dish == dish.name or act.oven in (dish.oven, None) for act in acts):
            continue
        base = promise(dish, view, by)
        if not dish.cooking or base is None or then is None or dish.name not in then.dishes:
            continue
        if dish.tender in ("tender", "falling"):
            continue
        after = promise(dish, view, by, then)
        assert after is not None
        shift = _later_min(base, after)
        words = "no later" if abs(shift) < 1 else f"{abs(shift):.0f} min {'later' if shift > 0 else 'sooner'}"
        table = ""
        if by is not None and (retimed or odds(after.share) != odds(base.share) or abs(shift) >= 1):
            table = f"n the table at {day_clock(by, view.now)}: {odds(after.share)}."
        name = capital(dish.name)
        if retimed and not acts:
            lines.append(f"{name} o{table}")
        else:
            lines.append(f"{name} {words}." + (f" O{table}" if table else ""))
    return lines


def _entering_line(dish: DishRecord, act: Dated, by: datetime | None, view: View) -> str:
    """A dish put in at a time, beside the time at which its oven is ready for it."""
    oven = view.oven(act.oven)
    assert oven is not None
    then = put_in(dish, oven, act.at, view)
    if then is None:
        return f"{capital(dish.name)}: say its weight and what it stands in, then I can work it out."
    ready = to_five(ready_at(oven, view))
    sooner = put_in(dish, oven, ready, view) if act.at - ready > SOONER else None
    table = f" On the table at {day_clock(by, view.now)}: {odds(then.share)}." if by is not None else ""
    done = f"{capital(dish.name)} in {clock(act.at)}: {then.when()}"
    if sooner is None:
        return f"{done}.{table}"
    first = f" ({odds(sooner.share)} if in at {clock(ready)})." if by is not None else ""
    return f"{done}, {_later_min(sooner, then):.0f} min later.{table.removesuffix('.') if first else ''}{first}"


def _later_min(base: Promise, after: Promise) -> float:
    both = np.isfinite(base.tender_s) & np.isfinite(after.tender_s)
    return float(np.median(after.tender_s[both] - base.tender_s[both])) / 60 if both.any() else 0.0


def _elsewhere_lines(acts: Sequence[Dated], over: datetime, view: View) -> list[str]:
    """What a door costs in the other oven: a light one loses in minutes what brick does not miss."""
    if not acts or not all(isinstance(act.fact, v.Door) for act in acts):
        return []
    others = [oven for oven in view.record.ovens.values() if oven.name != acts[0].oven and oven.burning
              and oven.fired != "retained"]
    if len(others) != 1 or view.oven(acts[0].oven) in others:
        return []
    name = others[0].name
    lines = _heat_lines([replace(act, oven=name) for act in acts], over, view)
    return [f"The same in {the([name])}: {line.removeprefix(capital(name)).strip()}" for line in lines]


EXAMPLES = ("what if I leave the door off ten minutes?", "what if I put two more splits on?")
