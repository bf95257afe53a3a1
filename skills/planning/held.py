"""Several dishes in one light oven: one heat held for all with small feeds, each in so that all are done by the meal.

A light oven has no falling heat to order dishes down: what can share its heat goes in one after the other, the slowest
first, and comes out for the meal. All are run together in every member's oven; the fire is lit so early that the odds
asked for are kept.
"""
from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import datetime

import numpy as np
from numpy.typing import NDArray

from skills.dish.heats import Heat
from skills.planning import course
from skills.planning.course import STEP_S
from skills.planning.firing_plan import Wish, plan_dish
from skills.planning.ladder import WORTH, Ladder, Left, Rung, places, room_of
from skills.planning.outcome import Array, Start, late, middle_c, tended_feeds_kg
from skills.planning.tries import FIRST_S, run_loads
from skills.wording import clock, day_clock, moment, the
from skills.wording import odds as words_of

# So far off its heat is no reason against an oven: that of a light one swings by as much between two feeds (common
# practice, no source).
SWINGS_K = 20.0
# From one held heat to another (judgement) [s].
SHIFT_S = 1800.0
# The dishes are run alone to set their times, then so often together.
RUNS = 2


@dataclass(frozen=True)
class _Held:
    """Dishes at one held heat: when each goes in after the first [s], how long it then takes, and what heat it met."""
    loads: tuple[tuple[Wish, float], ...]
    spans: tuple[Array, ...]
    heats_c: tuple[float, ...]
    small_kg: Array
    total_s: Array


def held(start: Start, wishes: Sequence[Wish], eat: datetime, now: datetime, odds: float = 0.9,
         taken: float = 0.0) -> Ladder:
    """The plan of these dishes in a light oven; without rungs if none of them can be cooked in it."""
    hot = [wish for wish in wishes if not wish.heat.fire]
    flame = [wish for wish in wishes if wish.heat.fire]
    if not hot:
        return _beside_the_flame(start, flame, eat, now, odds)
    left = [Left(wish, f"beside the flame, and the door of {the([start.name])} is shut on the pots") for wish in flame]
    hot, left = _that_fit(start, hot, left, taken)
    while hot:
        aimed_c = _aim_c(hot)
        apart = [wish for wish in hot if not _suits(wish.heat, aimed_c)]
        left += [Left(wish, f"wants {wish.heat.low_c:.0f} to {wish.heat.high_c:.0f}, and {the([start.name])} is held "
                            f"near {5 * round(aimed_c / 5)} for the others") for wish in apart]
        hot = [wish for wish in hot if wish not in apart]
        made = _whole(start, hot, aimed_c, odds)
        gone = _misfit(start, hot, made, odds)
        if gone is None:
            plan = _set(start, made, aimed_c, eat, now, odds, left)
            return replace(plan, left=tuple(_with_nearest(start, plan, each, now) for each in left))
        left.append(gone)
        hot = [wish for wish in hot if wish is not gone.wish]
    return Ladder(start.name, eat, odds, 0.0, now, None, now, 0.0, 0.0, (), tuple(left), 0.0, wishes[0].heat, 0.0,
                  stage=_stage(start), tended=True)


def replay_held(start: Start, made: Ladder) -> NDArray[np.bool_]:
    """Which members (members,) have everything done and rested by the meal if the plan is kept in this oven."""
    first = min(rung.slot_s for rung in made.rungs)
    loads = [(rung.wish, rung.slot_s - first) for rung in made.rungs]
    kept: NDArray[np.bool_] = _run(start, loads, made.aimed_c).total_s <= (made.meal - made.light).total_seconds()
    return kept


def _stage(start: Start) -> str:
    return "burning" if start.settle_s is not None else "ahead"


def _to_pot_s(start: Start) -> float:
    """From lighting, or now if it burns, to the first pot."""
    return course.TENDED_WARM_S if start.settle_s is None else start.settle_s


def _that_fit(start: Start, hot: Sequence[Wish], left: list[Left], taken: float) -> tuple[list[Wish], list[Left]]:
    """What is not cooked on the air of a light oven, and what its floor cannot hold, is left out: the largest first."""
    kept = list(hot)
    for wish in hot:
        if wish.heat.place == "floor" or wish.heat.dry:
            why = "dries in a falling heat, not beside a fire" if wish.heat.dry else \
                f"wants its floor at {wish.heat.low_c:.0f} or more; {the([start.name])} has that under a full fire only"
            left.append(Left(wish, why))
            kept.remove(wish)
    room = max(1, room_of(start) - int(np.ceil(taken)))
    while kept and sum(places(wish) for wish in kept) > room:
        large = max(kept, key=places)
        left.append(Left(large, f"the floor of {the([start.name])} holds about {room} pots at once"))
        kept.remove(large)
    return kept, left


def _suits(heat: Heat, aimed_c: float) -> bool:
    return heat.low_c - SWINGS_K <= aimed_c <= heat.high_c + SWINGS_K


def _aim_c(hot: Sequence[Wish]) -> float:
    """The heat that suits most of the dishes; of equal ones that nearest to the middle of their bands."""
    low, high = max(wish.heat.low_c for wish in hot), min(wish.heat.high_c for wish in hot)
    tried = sorted({0.5 * (low + high), *(middle_c(wish.heat) for wish in hot)})
    return max(tried, key=lambda aim: (sum(_suits(wish.heat, aim) for wish in hot),
                                       -sum(abs(aim - middle_c(wish.heat)) for wish in hot)))


def _whole(start: Start, hot: Sequence[Wish], aimed_c: float, odds: float) -> _Held:
    """The dishes run together, each in so early that it is done with the others; timed by a run of each alone."""
    few = [(wish, 0.0) for wish in hot]
    spans = _spans(start, few, aimed_c, len(few))[0]
    made = None
    for _ in range(RUNS):
        ends = [late(span, odds) + wish.heat.rest_s for (wish, _), span in zip(few, spans, strict=True)]
        longest = max((end for end in ends if np.isfinite(end)), default=0.0)
        loads = [(wish, float(np.floor((longest - min(end, longest)) / STEP_S) * STEP_S))
                 for (wish, _), end in zip(few, ends, strict=True)]
        made = _run(start, loads, aimed_c)
        spans = list(made.spans)
    assert made is not None
    return made


def _run(start: Start, loads: Sequence[tuple[Wish, float]], aimed_c: float) -> _Held:
    spans, heats, small = _spans(start, loads, aimed_c, 1)
    ends = np.zeros(start.ensemble.members)
    for (wish, at_s), span in zip(loads, spans, strict=True):
        ends = np.maximum(ends, at_s + span + wish.heat.rest_s)
    return _Held(tuple(loads), tuple(spans), tuple(float(np.median(each)) for each in heats), small,
                 _to_pot_s(start) + ends)


def _spans(start: Start, loads: Sequence[tuple[Wish, float]], aimed_c: float, copies: int
           ) -> tuple[list[Array], list[Array], Array]:
    """How long each dish takes, what heat it meets, and the small feed of each member; in one oven, or each in its
    own."""
    none = np.zeros(start.ensemble.members)
    pot_in_s = int(np.ceil((start.ensemble.at_s + course.TENDED_WARM_S) / STEP_S) + 2) * STEP_S
    longest_s = max(wish.heat.usual_s for wish, _ in loads)
    small = tended_feeds_kg(start, aimed_c, pot_in_s, False, max(2 * 3600.0, longest_s))
    met: list[Array] = []
    placed = [(wish, FIRST_S + at_s, copy if copies > 1 else 0) for copy, (wish, at_s) in enumerate(loads)]
    spans = run_loads(start, placed, none, copies, met, small)
    order = sorted(range(len(placed)), key=lambda each: placed[each][1])
    heats = [met[order.index(each)] for each in range(len(placed))]
    return spans, heats, small


def _misfit(start: Start, hot: Sequence[Wish], made: _Held, odds: float) -> Left | None:
    """The dish that the oven is too hot for by then, or that is not done. One that goes in while it still warms up only
    takes longer."""
    for wish, heat_c in zip(hot, made.heats_c, strict=True):
        if heat_c > wish.heat.high_c + SWINGS_K:
            return Left(wish, f"wants {wish.heat.low_c:.0f} to {wish.heat.high_c:.0f}; {the([start.name])} would be "
                              f"near {5 * round(heat_c / 5)}")
    if np.isfinite(late(made.total_s, min(odds, WORTH))):
        return None
    ends = [late(span, odds) for span in made.spans]
    slow = hot[int(np.argmax(ends))]
    return Left(slow, f"not done in {the([start.name])} in {words_of(odds)}")


def _set(start: Start, made: _Held, aimed_c: float, eat: datetime, now: datetime, odds: float,
         left: Sequence[Left]) -> Ladder:
    """The times set against the meal."""
    zone, now_s = eat.tzinfo, now.timestamp()
    needed_s, likely_s = late(made.total_s, odds), late(made.total_s, 0.5)
    within_s = needed_s if np.isfinite(needed_s) else late(made.total_s, WORTH)
    light = max(now_s, float(np.floor((eat.timestamp() - within_s) / 300.0) * 300.0))
    late_by = max(0.0, float(np.ceil((light + within_s - eat.timestamp()) / 300.0) * 300.0))
    eaten_s, first = eat.timestamp() + late_by, light + _to_pot_s(start)
    rungs = []
    for (wish, at_s), span, heat_c in zip(made.loads, made.spans, made.heats_c, strict=True):
        into = first + at_s
        out, sure = (min(into + late(span, share), eaten_s - wish.heat.rest_s) for share in (0.5, odds))
        rungs.append(Rung(wish, _five(into, zone), _five(out, zone), _five(sure, zone), heat_c, slot_s=FIRST_S + at_s))
    ahead, reached = _stage(start) == "ahead", float((made.total_s <= eaten_s - light).mean())
    without = _without(made, eaten_s - light, _to_pot_s(start), odds) if reached < odds - 1e-9 else ""
    return Ladder(start.name, eat, odds, reached, _five(light, zone),
                  _five(eaten_s - likely_s, zone) if ahead and np.isfinite(likely_s) else None,
                  _five(first, zone), 0.0, made.loads[0][0].wood.kg(_wood_kg(start, made)),
                  tuple(sorted(rungs, key=lambda rung: rung.into)), tuple(left), late_by, made.loads[0][0].heat,
                  aimed_c, stage=_stage(start), tended=True, small_kg=made.small_kg, sure_without=without)


def _with_nearest(start: Start, made: Ladder, left: Left, now: datetime) -> Left:
    """What would do for a dish in the same oven: beside the flame before the pots, or once they are out."""
    wish, zone = left.wish, made.eat.tzinfo
    if wish.heat.fire:
        first = plan_dish(start, replace(wish, eat=made.rake, odds=made.odds), now, False) \
            if _stage(start) == "ahead" and not wish.heat.dry else None
        light = first.row("light") if first is not None else None
        if first is None or light is None or first.mode != "ahead":
            return left
        return replace(left, nearest=f"first, beside a brisk fire lit {clock(light.sure or light.at)}, would do")
    if wish.heat.place == "floor" or wish.heat.dry or places(wish) > room_of(start):
        return left
    span_s = late(_spans(start, [(wish, 0.0)], middle_c(wish.heat), 1)[0][0], made.odds)
    if not np.isfinite(span_s):
        return left
    ready = _five(made.meal.timestamp() + SHIFT_S + span_s + wish.heat.rest_s + 299.0, zone)
    return replace(left, nearest=f"after the others, by {day_clock(ready, now)} ({words_of(made.odds)})")


def _without(made: _Held, spare_s: float, warm_s: float, odds: float) -> str:
    """The one dish without which the rest keeps the odds asked; none if there is no such."""
    found = []
    for row, (wish, _) in enumerate(made.loads):
        ends = [at_s + span + other.heat.rest_s for place, ((other, at_s), span)
                in enumerate(zip(made.loads, made.spans, strict=True)) if place != row]
        if ends:
            found.append((float((warm_s + np.max(ends, axis=0) <= spare_s).mean()), wish.dish))
    best, dish = max(found, default=(0.0, ""))
    return dish if best >= odds else ""


def _wood_kg(start: Start, made: _Held) -> float:
    """Until half of the members have everything done."""
    cooks_s = late(made.total_s, 0.5) - _to_pot_s(start)
    kg = float(np.median(made.small_kg)) * np.ceil(max(0.0, cooks_s) / course.TENDED_EVERY_S)
    return float(kg + (course.warming_kg(start.ensemble) if start.settle_s is None else 0.0))


def _beside_the_flame(start: Start, flame: Sequence[Wish], eat: datetime, now: datetime, odds: float) -> Ladder:
    """Dishes one after the other beside the same fire: timed as one."""
    plan = plan_dish(start, flame[0], now, False)
    light, pot = plan.row("light"), plan.row("pot in")
    assert pot is not None
    late_by = 0.0
    if plan.mode != "ahead" and plan.sure_meal is not None and plan.reached < odds:
        late_by = max(0.0, (plan.sure_meal - eat).total_seconds())
    out = _five(eat.timestamp() + late_by - flame[0].heat.rest_s, eat.tzinfo)
    lit = now if light is None else light.sure or light.at
    rungs = [Rung(wish, pot.at, out, out, float(np.median(plan.outcome.heat_c))) for wish in flame]
    return Ladder(start.name, eat, odds, odds if late_by else plan.reached, lit, None if light is None else light.at,
                  pot.at, float(np.median(plan.outcome.fire_s)), plan.kg, tuple(rungs), (), late_by, flame[0].heat,
                  plan.outcome.aim_c, stage="ahead" if light is not None else "burning", tended=True)


def _five(at_s: float, zone: object) -> datetime:
    return moment(np.floor(at_s / 300.0) * 300.0, zone)  # type: ignore[arg-type]
