"""What one firing leaves out, or would make late, tried in another oven of the yard: the nearest plan that works."""
from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from datetime import datetime, timedelta

import numpy as np

from skills.planning.firing_plan import DishPlan, Wish, plan_dish
from skills.planning.ladder import WORTH, Ladder, Left, Rung
from skills.planning.outcome import Start
from skills.wording import clock, odds

# A flame dish is eaten fresh: done so long before the meal it is for another oven, if there is one (common practice,
# no source).
FRESH = timedelta(hours=2)
# So far off its heat is no reason against an oven: that of a light one swings by as much between two feeds (common
# practice, no source).
SWINGS_K = 20.0
# A pot is not moved for less than this (judgement).
SOONER = timedelta(minutes=30)


def shared_out(made: Ladder, others: Sequence[Start], again: Callable[[Sequence[Wish]], Ladder],
               now: datetime) -> Ladder:
    """The ladder with what does not fit it, or keeps it from the meal, in the other ovens; each takes one dish.

    again: the ladder of fewer dishes in the same oven.
    """
    free = list(others)
    stale = [rung for rung in made.rungs if rung.wish.heat.fire and made.meal - rung.out > FRESH]
    moved = [each for each in placed(
        [Left(rung.wish, f"done {clock(rung.out)} here, long before the meal") for rung in stale], free, now)
        if each.instead is not None]
    gone = [each.wish for each in moved]
    made = replace(made, rungs=tuple(rung for rung in made.rungs if rung.wish not in gone),
                   left=(*placed(made.left, free, now), *moved))
    late = _latest(made)
    if late is None or (made.late_by_s <= 0.0 and made.reached >= made.odds):
        return made
    plan = sooner(free, late.wish, made.meal if made.late_by_s > 0.0 else None, now)
    rest = again([rung.wish for rung in made.rungs if rung is not late]) if plan is not None else None
    meal = meal_of(plan) if plan is not None else None
    if rest is None or meal is None or not rest.rungs:
        return made
    meal = max(meal, rest.meal)
    if (meal, -rest.reached) >= (made.meal, -made.reached):
        return made
    why = f"with it all is ready by {clock(made.meal)}" if made.late_by_s > 0.0 else \
        f"with it all is done in time only {odds(made.reached)}"
    return replace(rest, late_by_s=(meal - rest.eat).total_seconds(),
                   left=(Left(late.wish, why, plan), *made.left, *rest.left))


def _latest(made: Ladder) -> Rung | None:
    """The dish that all wait for; None if there is no other beside it, or none that still needs the oven's heat."""
    slow = [rung for rung in made.rungs if not rung.wish.heat.fire and not rung.wish.heat.dry]
    if len(slow) < 2:
        return None
    return max(slow, key=lambda rung: rung.out_sure + timedelta(seconds=rung.wish.heat.rest_s))


def placed(left: Sequence[Left], free: list[Start], now: datetime) -> tuple[Left, ...]:
    """Each with its plan in the first oven of `free` that has it in time, if one does; that oven is then taken."""
    found = []
    for each in left:
        plan = sooner(free, each.wish, None, now)
        found.append(replace(each, instead=plan))
        if plan is not None:
            free[:] = [start for start in free if start.name != plan.oven]
    return tuple(found)


def sooner(others: Sequence[Start], wish: Wish, than: datetime | None, now: datetime) -> DishPlan | None:
    """The plan of a dish in that other oven that has it first on the table, if it gives the heat that the dish wants
    and is clearly sooner than a time (None: in time for the meal)."""
    plans = [plan for start in others if _hot(plan := plan_dish(start, wish, now, False))]
    ready = [(meal, plan.oven, plan) for plan in plans if (meal := meal_of(plan)) is not None
             and (meal <= wish.eat if than is None else meal <= than - SOONER)]
    return min(ready, key=lambda each: each[:2])[2] if ready else None


def meal_of(plan: DishPlan) -> datetime | None:
    """When a plan has its dish on the table: at the meal, if that is likely enough to be offered."""
    return plan.eat if plan.reached >= WORTH else plan.sure_meal


def _hot(plan: DishPlan) -> bool:
    heat_c = float(np.median(plan.outcome.heat_c))
    return plan.heat.low_c - SWINGS_K <= heat_c <= plan.heat.high_c + SWINGS_K
