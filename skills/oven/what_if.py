"""What a thing would cost: the same forward model run twice, member by member, with and without it."""
from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime, timedelta
from typing import Literal

import numpy as np

from skills import vocabulary as v
from skills.dated import Dated, coming_time
from skills.dish.promise import promise
from skills.skill import Reply
from skills.view import View
from skills.vocabulary import WhatIf
from skills.wording import Floats, capital, clock, day_clock, odds, to_five, which_oven

# A door off "for a bit", when no length is said (common practice, no source).
A_BIT = timedelta(minutes=10)
# Costs are told an hour after the thing is over: the dip has passed, what is left is what the brick lost.
AFTER = timedelta(hours=1)
HOURS = 8.0
OPENED = ("off", "ajar")
# What is undone again when the time is over.
_BACK: dict[str, Literal["lid_on", "in"]] = {"lid_off": "lid_on", "out": "in"}


def say_what_if(question: WhatIf, view: View) -> Reply:
    """ "what if I leave the door off ten minutes?" """
    if view.belief is None:
        return Reply(("No oven is known yet, so I cannot tell what that would do.",))
    serve = next((each for each in question.facts if isinstance(each, v.Serve)), None)
    acts, over, trouble = _acts(question.facts, view)
    if trouble:
        return Reply((trouble,))
    if not acts and serve is None:
        return Reply(("Say what would be done, such as 'what if the door is off ten minutes' or 'two splits on'.",))
    lines = _heat_lines(acts, over, view)
    by = coming_time(serve.by, view.now) if serve is not None else view.record.serve
    lines += _dish_lines(acts, by, serve is not None, view)
    return Reply(tuple(lines[:3]))


def _acts(facts: Sequence[v.Fact], view: View) -> tuple[list[Dated], datetime, str]:
    """The imagined acts at their times, when the last of them is over, and what is wrong with them, if anything."""
    acts: list[Dated] = []
    over = view.now
    for fact in facts:
        at = coming_time(fact.at, view.now) if fact.at else view.now
        if isinstance(fact, v.Serve):
            continue
        dish = view.dish(fact.dish) if isinstance(fact, v.Pot | v.Load) else None
        oven = view.oven(fact.oven or (dish.oven if dish else None))
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
    for name in dict.fromkeys(dated.oven for dated in acts if dated.oven in base.ovens):
        assert name is not None
        change = np.asarray(then.ovens[name].air_c[step] - base.ovens[name].air_c[step])
        lines.append(f"{capital(name)} {_degrees(change)} at {clock(at)}.")
    return lines


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
        base = promise(dish, view, by)
        if not dish.cooking or base is None or then is None or dish.name not in then.dishes:
            continue
        if dish.tender in ("tender", "falling"):
            continue
        after = promise(dish, view, by, then)
        assert after is not None
        both = np.isfinite(base.tender_s) & np.isfinite(after.tender_s)
        shift = float(np.median(after.tender_s[both] - base.tender_s[both])) / 60 if both.any() else 0.0
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


EXAMPLES = ("what if I leave the door off ten minutes?", "what if I put two more splits on?")
