"""What one firing leaves out, or would make late, shared out to the other ovens: the nearest plan that works.

Each other oven takes what it can have in time, by the same planning of all its dishes together; what the meal waits for
is moved as long as that brings the meal forward, or the odds up.
"""
from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from datetime import datetime, timedelta

import numpy as np

from skills.planning.course import FEED_EVERY_S
from skills.planning.firing_plan import DishPlan, Wish, plan_dish
from skills.planning.held import SWINGS_K, held
from skills.planning.ladder import WORTH, Ladder, Left, Rung, ladder
from skills.planning.outcome import Outcome, Start
from skills.planning.rows import feeding, in_row, last_feed, lighting, looks, raking, serving, taking_out, tending
from skills.wording import clock, odds

# A flame dish is eaten fresh: done so long before the meal it is for another oven, if there is one (common practice,
# no source).
FRESH = timedelta(hours=2)
# A pot is not moved for less than this (judgement).
SOONER = timedelta(minutes=30)
# So many dishes that the meal waits for are tried elsewhere: each costs a plan of all the others.
MOVES = 2


def down_in(start: Start, wishes: Sequence[Wish], eat: datetime, now: datetime, chance: float, evening: bool = False,
            taken: float = 0.0) -> Ladder:
    """The plan of several dishes in an oven: down its falling heat, or at the heat that it is held at."""
    if start.tended:
        return held(start, wishes, eat, now, chance, taken)
    return ladder(start, wishes, eat, now, chance, evening, taken)


class Spread:
    """What the other ovens take, as it is shared out."""

    def __init__(self, others: Sequence[Start], now: datetime) -> None:
        self._ovens = {start.name: start for start in others}
        self._now = now
        self._plans: dict[str, list[DishPlan]] = {}
        self._wishes: dict[str, list[Wish]] = {}

    def find(self, wish: Wish, than: datetime | None) -> tuple[datetime, str, list[DishPlan]] | None:
        """The oven that has a dish, beside what it has already, in time for the meal (than None), or clearly sooner
        than that; and its plans."""
        found = []
        for name, start in self._ovens.items():
            plans = _together(start, [*self._wishes.get(name, ()), wish], self._now)
            meals = [meal_of(plan) for plan in plans]
            known = [meal for meal in meals if meal is not None]
            if known and len(known) == len(meals) and (
                    max(known) <= wish.eat if than is None else max(known) <= than - SOONER):
                found.append((max(known), len(plans), name, plans))
        if not found:
            return None
        meal, _, name, plans = min(found, key=lambda each: each[:3])
        return meal, name, plans

    def take(self, name: str, wish: Wish, plans: list[DishPlan]) -> None:
        self._wishes.setdefault(name, []).append(wish)
        self._plans[name] = plans

    def try_to_take(self, left: Sequence[Left]) -> None:
        # What is eaten fresh wants the fire last, and mostly an oven for itself.
        for each in sorted(left, key=lambda each: each.wish.heat.fire):
            found = self.find(each.wish, None)
            if found is not None:
                self.take(found[1], each.wish, found[2])

    def settled(self, left: Sequence[Left]) -> tuple[Left, ...]:
        """Each with its plan in the oven that takes it, if one does."""
        where = {id(wish): plan for name, wishes in self._wishes.items()
                 for wish, plan in zip(wishes, self._plans[name], strict=True)}
        return tuple(replace(each, instead=where.get(id(each.wish))) for each in left)


def shared_out(made: Ladder, others: Sequence[Start], again: Callable[[Sequence[Wish]], Ladder],
               now: datetime) -> Ladder:
    """The ladder with what does not fit it, or keeps it from the meal, in the other ovens.

    again: the ladder of fewer dishes in the same oven.
    """
    spread, left = Spread(others, now), list(made.left)
    spread.try_to_take(left)
    stale = [Left(rung.wish, f"done {clock(rung.out)} here, long before the meal") for rung in _stale(made)]
    spread.try_to_take(stale)
    moved = [each for each in spread.settled(stale) if each.instead is not None]
    gone = [each.wish.dish for each in moved]
    made = replace(made, rungs=tuple(rung for rung in made.rungs if rung.wish.dish not in gone))
    left += moved
    for _ in range(MOVES):
        better = _without_the_latest(made, spread, again)
        if better is None:
            break
        made, more = better
        left = [more, *left, *made.left]
        spread.try_to_take(made.left)
    return replace(made, left=spread.settled(left))


def _without_the_latest(made: Ladder, spread: Spread, again: Callable[[Sequence[Wish]], Ladder]
                        ) -> tuple[Ladder, Left] | None:
    """The ladder without a dish that all wait for, if another oven has that and the meal is better for it."""
    late = made.late_by_s > 0.0
    if not late and made.reached >= made.odds:
        return None
    for rung in _slow(made):
        found = spread.find(rung.wish, made.meal if late else None)
        if found is None:
            continue
        rest = again([each.wish for each in made.rungs if each is not rung])
        meal = max(found[0], rest.meal)
        if not rest.rungs or (meal, -rest.reached) >= (made.meal, -made.reached):
            return None
        spread.take(found[1], rung.wish, found[2])
        why = f"with it all is ready by {clock(made.meal)}" if late else \
            f"with it all is done in time only {odds(made.reached)}"
        return replace(rest, late_by_s=(meal - rest.eat).total_seconds()), Left(rung.wish, why)
    return None


def _stale(made: Ladder) -> list[Rung]:
    """Flame dishes that would be done long before they are eaten."""
    return [rung for rung in made.rungs if rung.wish.heat.fire and made.meal - rung.out > FRESH]


def _slow(made: Ladder) -> list[Rung]:
    """The dishes that all wait for, the last first; none if there is no other that still needs the oven's heat."""
    slow = [rung for rung in made.rungs if not rung.wish.heat.fire and not rung.wish.heat.dry]
    if len(slow) < 2:
        return []
    return sorted(slow, key=lambda rung: rung.out_sure + timedelta(seconds=rung.wish.heat.rest_s), reverse=True)


def placed(left: Sequence[Left], free: Sequence[Start], now: datetime) -> tuple[Left, ...]:
    """Each with its plan in an oven of `free` that has it in time, if one does."""
    spread = Spread(free, now)
    spread.try_to_take(left)
    return spread.settled(left)


def sooner(others: Sequence[Start], wish: Wish, than: datetime | None, now: datetime) -> DishPlan | None:
    """The plan of a dish in that other oven that has it first on the table, if it gives the heat that the dish wants
    and is clearly sooner than a time (None: in time for the meal)."""
    found = Spread(others, now).find(wish, than)
    return found[2][0] if found is not None else None


def meal_of(plan: DishPlan) -> datetime | None:
    """When a plan has its dish on the table: at the meal, if that is likely enough to be offered."""
    return plan.eat if plan.reached >= WORTH else plan.sure_meal


def _together(start: Start, wishes: Sequence[Wish], now: datetime) -> list[DishPlan]:
    """The plans of dishes that share an oven, in the order of asking; none if it cannot have them all."""
    if len(wishes) == 1:
        plan = plan_dish(start, wishes[0], now, False)
        return [plan] if _hot(plan) else []
    made = down_in(start, wishes, wishes[0].eat, now, wishes[0].odds)
    if made.left or made.reached < WORTH or _stale(made):
        return []
    by_wish = {id(rung.wish): rung for rung in made.rungs}
    return [_of_rung(made, by_wish[id(wish)]) for wish in wishes]


def _hot(plan: DishPlan) -> bool:
    heat_c = float(np.median(plan.outcome.heat_c))
    return plan.heat.low_c - SWINGS_K <= heat_c <= plan.heat.high_c + SWINGS_K


def _of_rung(made: Ladder, rung: Rung) -> DishPlan:
    """One dish of several as a plan of its own; the fire and its wood are told with the first of them."""
    heat, meal = rung.wish.heat, made.meal
    first = rung is made.rungs[0]
    rows = []
    if first and made.stage == "ahead":
        rows.append(lighting(made.light))
    if first and made.stage != "raked":
        fed = made.light + timedelta(seconds=FEED_EVERY_S)
        if made.tended:
            end = max(each.out_sure for each in made.rungs)
            rows += [*(feeding(fed, made.rake, small=True) if made.stage == "ahead" else ()), tending(made.rake, end)]
        else:
            rows += [*feeding(fed, last_feed(made.rake)), *raking(made.rake)]
    cook_s = (rung.out - rung.into).total_seconds()
    rows += [in_row(rung.into, heat, rung.heat_c), *looks(heat, bool(rung.wish.load.get("liquid_l")), rung.into, None,
             cook_s), *taking_out(heat, rung.out_sure), serving(meal)]
    one, heat_c = np.zeros(1), np.array([rung.heat_c])
    kg = made.kg if first else 0.0
    late = made.late_by_s > 0.0
    return DishPlan(rung.wish.dish, made.oven, heat, made.eat, made.odds, 0.0 if late else made.reached, "ahead",
                    Outcome(rung.heat_c, np.array([made.fire_s]), one, np.array([cook_s]), np.array([kg]), heat_c,
                            heat_c, one + np.inf, heat_c, one), tuple(sorted(rows, key=lambda row: row.at)), kg, kg, 0,
                    made.tended, meal if late else None, notes=rung.wish.notes)
