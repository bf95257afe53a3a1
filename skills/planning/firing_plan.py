"""The plan of one dish in one oven: when to light, rake, put in and take out, to eat at a time with the odds asked."""
from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from datetime import datetime, timedelta

import numpy as np

from skills.dish.heats import Heat
from skills.kitchen.ensemble import KINDLING_PIECES, Ensemble
from skills.planning import course
from skills.planning.course import FEED_EVERY_S, FEED_PIECES, LAST_FEED_S, RAKE_S, SETTLE_S, STEP_S
from skills.planning.outcome import Array, Outcome, Start, aims_c, best, best_by, late, outcomes
from skills.planning.rows import Row, feeding, last_feed, lighting, looks, raking, serving, taking_out, tending
from skills.planning.wood import Stack
from skills.wording import moment

ODDS = 0.9
# An oven this much over the yard is warm: it is run on the clock until it is lit.
WARM_K = 15.0
# A fire the evening before: two hours, raked, door on; lit no later than this in the evening (common practice).
EVENING_S, EVENING_FROM, EVENING_LATEST = 7200, 19, 21
# A fire lit in these hours, with which the dish would be done so long before a meal of the next day, was not lit for
# it: it is the evening before's (judgement).
EVENING_HOURS, TOO_EARLY = (14, 22), timedelta(hours=3)
# Before this nobody likes to light a fire; the evening before is offered then.
EARLY = (21, 6)
POT_MOST_KG = 7.0              # a 14 l pot two thirds full (common practice, no source)
POT_FOOT_M2 = 0.11             # a pot's place on the floor with room around it (common practice, no source)


@dataclass(frozen=True)
class Evening:
    """The fire of the evening before, and what is left to do in the morning."""
    lit: datetime
    light: datetime
    light_sure: datetime | None
    fire_s: float
    pot_in: datetime
    kg: float


@dataclass(frozen=True)
class DishPlan:
    """A plan as it was worked out. reached: odds of the meal when the sure times are kept (or of what is left of the
    day); mode: "ahead" (light later), "now" (too late for the odds, or under way); raked_first: when the evening's
    fire, that burns now, is raked."""
    dish: str
    oven: str
    heat: Heat
    eat: datetime
    odds: float
    reached: float
    mode: str
    outcome: Outcome
    rows: tuple[Row, ...]
    kg: float
    kg_sure: float
    splits: int
    tended: bool
    sure_meal: datetime | None
    evening: Evening | None = None
    notes: tuple[str, ...] = ()
    raked_first: datetime | None = None

    def row(self, what: str) -> Row | None:
        return next((row for row in self.rows if row.what == what), None)


@dataclass(frozen=True)
class Wish:
    """What is wanted. load: as the kitchen takes it; guests: for the amounts."""
    dish: str
    heat: Heat
    load: Mapping[str, object]
    eat: datetime
    odds: float = ODDS
    wood: Stack = field(default_factory=Stack)
    notes: tuple[str, ...] = ()


def plan_dish(start: Start, wish: Wish, now: datetime, evening: bool = True, aims: Array | None = None) -> DishPlan:
    """The plan of one dish, worked back from the meal. aims: heats to aim at [degC], instead of the usual few."""
    heat = wish.heat
    if heat.fire and start.tended:
        # Beside the live flame every oven is fired alike: full feeds, door off, nothing to rake.
        start = replace(start, tended=False, settle_s=None)
    cooked = None if heat.dry else course.food(start.ensemble, start.setting, wish.dish, dict(wish.load))
    ready_s = wish.eat.timestamp() - heat.rest_s
    under_way = start.burning or start.settle_s is not None
    clock = is_warm(start.ensemble) and not under_way
    now_s = now.timestamp()
    found: list[Outcome] = []
    if not under_way:
        at_s = _grid(ready_s - 1.1 * heat.usual_s) if clock else _grid(start.ensemble.at_s + _longest_s(start) + STEP_S)
        if not clock or at_s > start.ensemble.at_s + STEP_S:
            found = outcomes(start, heat, cooked, at_s, clock, aims)
            chosen = best(found, wish.odds)
            if ready_s - chosen.sure_s(wish.odds) >= now_s - 150.0:
                plan = _ahead(start, wish, chosen, ready_s)
                return replace(plan, evening=_evening(start, wish, cooked, chosen, ready_s, now) if evening else None)
    if clock or under_way:
        found = outcomes(start, heat, cooked, _grid(start.ensemble.at_s + _longest_s(start) + STEP_S), False, aims)
    sure_s = min(each.sure_s(wish.odds) for each in found)
    return _from_now(start, wish, best_by(found, ready_s - now_s), sure_s, now, ready_s)


def _longest_s(start: Start) -> float:
    if start.settle_s is not None:
        return start.settle_s
    return course.TENDED_WARM_S if start.tended else 6 * 3600.0 + RAKE_S + SETTLE_S


def _grid(at_s: float) -> int:
    return int(np.ceil(at_s / STEP_S)) * STEP_S


def is_warm(ensemble: Ensemble) -> bool:
    """Whether it still holds so much heat that it matters when it is lit."""
    over = ensemble.state.face_k[2] - ensemble.numbers["ambient_k"]
    return bool(np.median(over) > WARM_K)


def _to_five(at_s: float, zone: datetime) -> datetime:
    """Down to five minutes: early is the side of the promise."""
    return moment(np.floor(at_s / 300.0) * 300.0, zone.tzinfo)


def _ahead(start: Start, wish: Wish, chosen: Outcome, ready_s: float) -> DishPlan:
    zone, odds = wish.eat, wish.odds
    total = chosen.total_s
    sure_s = chosen.sure_s(odds)
    light_s = ready_s - late(total, 0.5)
    lit_sure = _to_five(ready_s - sure_s, zone) if np.isfinite(sure_s) else None
    reached = float((total <= ready_s - lit_sure.timestamp()).mean()) if lit_sure else float(np.isfinite(total).mean())

    def back(spans: Array) -> tuple[datetime, datetime | None]:
        """A time before the meal, and the time by which to be sure."""
        sure = late(spans, odds)
        return _to_five(ready_s - late(spans, 0.5), zone), _to_five(ready_s - sure, zone) if np.isfinite(sure) else None

    rows: list[Row] = []
    fire_s = float(np.median(chosen.fire_s))
    light, light_sure = _to_five(light_s, zone), lit_sure
    pot_in, pot_sure = back(chosen.cook_s)
    ready = _to_five(ready_s, zone)
    if start.tended or fire_s > 0.0:
        rows.append(lighting(light, light_sure))
    first = light + timedelta(seconds=FEED_EVERY_S)
    if start.tended:
        rows += [*feeding(first, pot_in, small=True), tending(pot_in, ready)]
    elif fire_s > 0.0 and wish.heat.fire:
        rows += feeding(first, pot_in, flame=True)
    elif fire_s > 0.0:
        rake, rake_sure = back(chosen.cook_s + RAKE_S + SETTLE_S)
        rows += feeding(first, last_feed(rake))
        clear = float(np.median(chosen.clear_s))
        if np.isfinite(clear) and clear <= fire_s:
            rows.append(Row("ceiling clear", _to_five(light.timestamp() + clear, zone), None,
                            "a hot skin, not a full brick: keep feeding"))
        rows += raking(rake, rake_sure)
    rows.append(Row("pot in", pot_in, pot_sure, _pot_in_remark(chosen, wish.heat)))
    rows += _kitchen_rows(wish, pot_in, pot_sure, ready, float(np.median(chosen.cook_s)))
    kg, kg_sure = float(np.median(chosen.kg)), late(chosen.kg, odds)
    piece = course.piece_kg(start.ensemble)
    return DishPlan(wish.dish, start.name, wish.heat, wish.eat, odds, reached, "ahead", chosen, tuple(rows),
                    wish.wood.kg(kg), wish.wood.kg(kg_sure), wish.wood.splits(kg, piece), start.tended, None,
                    notes=wish.notes)


def _pot_in_remark(chosen: Outcome, heat: Heat) -> str:
    near = 5 * round(float(np.median(chosen.heat_c)) / 5)
    low, high = (5 * round(float(each) / 5) for each in np.quantile(chosen.heat_c, (0.1, 0.9)))
    trivet = ", on a trivet" if heat.place == "air" and float(np.median(chosen.floor_c)) > 200.0 else ""
    return f"{heat.place} near {near:.0f} ({low:.0f} to {high:.0f}){trivet}"


def _kitchen_rows(wish: Wish, pot_in: datetime, pot_sure: datetime | None, ready: datetime,
                  cook_s: float) -> list[Row]:
    """Looks, out, rest and table."""
    cook_s = cook_s if np.isfinite(cook_s) else wish.heat.usual_s
    return [*looks(wish.heat, bool(wish.load.get("liquid_l")), pot_in, pot_sure, cook_s),
            *taking_out(wish.heat, ready), serving(wish.eat)]


def _from_now(start: Start, wish: Wish, chosen: Outcome, sure_s: float, now: datetime, ready_s: float) -> DishPlan:
    """The plan when the fire burns, or it is late: everything from now on, and the odds of the meal.

    sure_s: the shortest span that some firing keeps with the odds asked.
    """
    zone, now_s = wish.eat, now.timestamp()
    reached = float((chosen.total_s <= ready_s - now_s).mean())
    meal = None
    if np.isfinite(sure_s):
        meal = moment(np.ceil((now_s + sure_s + wish.heat.rest_s) / 300.0) * 300.0, zone.tzinfo)
    rows: list[Row] = []
    fire_s, to_pot = float(np.median(chosen.fire_s)), float(np.median(chosen.to_pot_s))
    pot_in, ready = _to_five(now_s + to_pot, zone), _to_five(ready_s, zone)
    to_fire = start.settle_s is None and (start.tended or wish.heat.fire or fire_s > 0.0 or start.burning)
    first = now if start.burning else now + timedelta(seconds=FEED_EVERY_S)
    if to_fire and not start.burning:
        rows.append(lighting(now))
    if start.tended:
        rows += [*(feeding(first, pot_in, small=True) if to_fire else ()), tending(pot_in, ready)]
    elif to_fire and wish.heat.fire:
        rows += feeding(first, pot_in, flame=True)
    elif to_fire:
        rake = _to_five(now_s + fire_s, zone)
        rows += feeding(first, last_feed(rake))
        rows += raking(rake, _to_five(now_s + late(chosen.fire_s, 0.9), zone))
    rows.append(Row("pot in", pot_in, _to_five(now_s + late(chosen.to_pot_s, 0.9), zone),
                    _pot_in_remark(chosen, wish.heat)))
    rows += _kitchen_rows(wish, pot_in, None, ready, float(np.median(chosen.cook_s)))
    kg, kg_sure = float(np.median(chosen.kg)), late(chosen.kg, wish.odds)
    return DishPlan(wish.dish, start.name, wish.heat, wish.eat, wish.odds, reached, "now", chosen,
                    tuple(sorted(rows, key=lambda row: row.at)), wish.wood.kg(kg), wish.wood.kg(kg_sure),
                    wish.wood.splits(kg, course.piece_kg(start.ensemble)), start.tended, meal, notes=wish.notes)


def _evening(start: Start, wish: Wish, cooked: course.Food | None, chosen: Outcome, ready_s: float,
             now: datetime) -> Evening | None:
    """Two hours of fire the evening before, raked, door on: when is the morning's fire then lit?"""
    light = moment(ready_s - late(chosen.total_s, 0.5), wish.eat.tzinfo)
    sure_s = chosen.sure_s(wish.odds)
    if start.tended or float(np.median(chosen.fire_s)) <= 0.0 or not np.isfinite(sure_s):
        return None
    sure = moment(ready_s - sure_s, wish.eat.tzinfo)
    if not any(at.hour >= EARLY[0] or at.hour < EARLY[1] for at in (light, sure)):
        return None
    lit = (light if light.hour < EARLY[0] else light + timedelta(days=1)).replace(
        hour=EVENING_FROM, minute=30, second=0, microsecond=0) - timedelta(days=1)
    if now > lit:
        lit = _to_five(now.timestamp() + 900.0, now)
    if lit.hour >= EVENING_LATEST or lit.date() >= wish.eat.date():
        return None
    if start.ensemble.at_s > lit.timestamp():
        return None
    morning_s = ready_s - late(chosen.cook_s, 0.5) - RAKE_S - SETTLE_S - 5400.0
    again = banked(start, lit.timestamp(), morning_s)
    hot = again.ensemble
    pot_in_s = _grid(hot.at_s + 6 * 3600.0 + RAKE_S + SETTLE_S + STEP_S)
    after = outcomes(again, wish.heat, cooked, pot_in_s, False, np.array([chosen.aim_c]))[0]
    sure_s = after.sure_s(wish.odds)
    kg = float(np.median(after.kg)) + _evening_kg(start)
    return Evening(lit, _to_five(ready_s - late(after.total_s, 0.5), wish.eat),
                   _to_five(ready_s - sure_s, wish.eat) if np.isfinite(sure_s) else None,
                   float(np.median(after.fire_s)), _to_five(ready_s - late(after.cook_s, 0.5), wish.eat),
                   wish.wood.kg(kg))


def banked(start: Start, lit_s: float, until_s: float) -> Start:
    """The oven at until_s, lit in the evening at lit_s, fed for EVENING_S, raked, its door on through the night."""
    lit_s = float(_grid(lit_s))
    if not is_warm(start.ensemble):
        start = replace(start, ensemble=replace(start.ensemble, at_s=int(lit_s)))
    return _night(start, lit_s, lit_s + EVENING_S, until_s)


def _night(start: Start, lit_s: float, raked_s: float, until_s: float) -> Start:
    """The oven at until_s after a fire lit (or last fed) at lit_s, raked at raked_s, its door on from then."""
    ensemble = start.ensemble
    members = ensemble.members
    full = np.full(members, course.FEED_PIECES * course.piece_kg(ensemble))
    raked = np.full(members, raked_s)
    firing = course.Firing(np.full(members, -np.inf), np.full(members, lit_s), raked, raked + STEP_S, full,
                           np.zeros(members), course.heat_j_kg(ensemble), ensemble.numbers["rake_left"],
                           lit_already=start.burning)
    hot = course.run(ensemble, firing, int(raked_s + 2 * STEP_S), _unseen)
    hot = course.run(hot, firing, max(_grid(until_s), hot.at_s + 1200), _unseen, 1200)
    return replace(start, ensemble=hot, burning=False)


def evening_fire(lit: datetime, light: datetime) -> bool:
    """Whether a fire was lit for the night, if that of the meal is to be lit, to be sure, at `light`."""
    return lit.date() < light.date() and EVENING_HOURS[0] <= lit.hour < EVENING_HOURS[1] and light - lit >= TOO_EARLY


def for_the_night(start: Start, wish: Wish, now: datetime) -> tuple[Start, datetime | None]:
    """If the fire that burns is the evening before's: the oven as it will be once that is raked and its door on, and
    when to rake it. Else the oven as it is."""
    lit = now - timedelta(seconds=start.lit_ago_s)
    if not start.burning or start.tended or wish.heat.dry or not evening_fire(lit, wish.eat):
        return start, None
    made = plan_dish(start, wish, now, False, aims_c(wish.heat)[1:3])
    if made.sure_meal is None or wish.eat - made.sure_meal < TOO_EARLY:
        return start, None
    rake = max(_to_five(lit.timestamp() + EVENING_S, now), now)
    raked_s = float(_grid(max(rake.timestamp(), start.ensemble.at_s)))
    return _night(start, now.timestamp() - start.fed_ago_s, raked_s, raked_s), rake


def _evening_kg(start: Start) -> float:
    feeds = np.floor((EVENING_S - LAST_FEED_S) / FEED_EVERY_S)
    return float((FEED_PIECES * feeds + KINDLING_PIECES) * course.piece_kg(start.ensemble))


def kept_warm(start: Start, until_s: float) -> Start:
    """The oven as it will be at until_s if nobody touches it."""
    members = start.ensemble.members
    inf, none = np.full(members, np.inf), np.zeros(members)
    firing = course.Firing(-inf, inf, inf, -inf, none, none, course.heat_j_kg(start.ensemble),
                           start.ensemble.numbers["rake_left"])
    return replace(start, ensemble=course.run(start.ensemble, firing, _grid(until_s), _unseen, 1200))


def _unseen(*_: object) -> None:
    """Nobody looks."""
