"""The heat ladder of one firing: several dishes in order and times down the falling heat, worked back from a meal.

The oven's own fall of heat, empty, gives each dish the times at which its place has the heat that it wants. At a few of
those times each dish is run. For each time that may pass from rake to meal the cheapest choice of times is found, by an
integer programme (HiGHS, through scipy) where the floor is too small for what each would like best; nobody is asked to
put anything in at night. A fire that burns is raked when it will do, and a raked oven is taken as it stands. The choice
that costs least is run whole, with every load in it, and its odds are those of that run; if they are too low the next
longer one is.
"""
from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from typing import Any

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import Bounds, LinearConstraint, milp

from skills.dish.heats import Heat
from skills.planning import course
from skills.planning.firing_plan import (
    EARLY,
    EVENING_FROM,
    EVENING_LATEST,
    POT_FOOT_M2,
    POT_MOST_KG,
    DishPlan,
    Wish,
    banked,
    is_warm,
    kept_warm,
)
from skills.planning.outcome import Start, late
from skills.planning.tries import FIRST_S, SLOT_S, Fall, Try, aim_c, fall_of, fire_s, run_loads, tries_of
from skills.wording import clock, moment
from skills.wording import odds as words_of

Array = NDArray[np.float64]

# Nobody is in the yard between these hours to put anything in.
NIGHT = (22, 5)
MEMBERS = 60
MOST_S = 26 * 3600.0           # from the rake to the meal
# What an hour costs against an hour more between rake and meal (judgement): food that stands done longer than its kind
# may; heat that is right in none of the members rather than in all.
WAIT_WEIGHT, FIT_WEIGHT, DRY_LATE_WEIGHT = 1.0, 1.0, 0.05
# An hour by which the meal would be late, once the fire is lit, against such hours.
LATE_WEIGHT = 4.0
# Lighting in the dead of night, and flame dishes then, against such hours.
DEAD, DEAD_WEIGHT, FLAME_WEIGHT = (22, 4), 2.0, 6.0
WORTH = 0.75                   # a ladder less likely than this is not offered: a dish is left out of it instead
AIM_SHARES = (0.6, 1.0)        # of the hottest dish's band: first a middling fire, then the most that it bears
MOST_MORE_S = 2 * 3600.0
RUNS = 4                       # so often a choice is run whole before the best is taken as it is
# How long a dish may stand done before the meal, lid on or cold on a rack [h] (common practice, no source).
WAITS_H = {"loaves": 30.0, "cakes": 30.0, "braise": 2.5, "beans": 2.5, "pudding": 2.0, "custard": 3.0, "roast": 0.5,
           "bird": 0.5, "fish": 0.2}
WAIT_H = 1.0
# Beyond this a pot cools in the oven with nobody there to see to it, and what is carved or flaked is spoilt [h].
MOST_WAITS_H = {"roast": 3.0, "bird": 2.0, "fish": 1.5}
MOST_WAIT_H = 5.0
# The sure fire may be planned for, in place of the even one, if the rake is put off by so much more than the lighting
# is put forward: what is done then stands less long (judgement).
RAKE_SHARES, SLEEP_WEIGHT = (0.5, 0.6, 0.7, 0.8, 0.9), 1.5


@dataclass(frozen=True)
class Rung:
    """One dish of the ladder: when it goes in and comes out, and the heat it meets. out_sure: by the odds asked;
    slot_s: from the rake to its going in."""
    wish: Wish
    into: datetime
    out: datetime
    out_sure: datetime
    heat_c: float
    after_meal: bool = False
    slot_s: float = 0.0


@dataclass(frozen=True)
class Left:
    """A dish that does not fit, and why. instead: the plan of it in another oven that has it in time; nearest: what
    would do in the same oven, in words."""
    wish: Wish
    why: str
    instead: DishPlan | None = None
    nearest: str = ""


@dataclass(frozen=True)
class Ladder:
    """The plan of several dishes, set by the sure time: lit at `light`, all of it is done in time with the odds
    `reached`. likely: lit as late as that it would be an even chance. late_by_s: so much later is the meal.
    heat, aimed_c: what the fire is judged by. evening: the ladder after a fire the evening before, lit at evening_lit.
    stage: "ahead" of the fire, "burning" (light is now, kg what is still to go on) or "raked". raked_first: when the
    evening's fire, that burns now, is raked. tended: a light oven, held at aimed_c by feeds of small_kg (members,) from
    `rake` on, when the first dish goes in. sure_meal, sure_without: where the odds asked are not kept, the meal that
    keeps them, or the dish without which they are. full: when the fire has done enough at an even chance, where it is
    raked later than that.
    """
    oven: str
    eat: datetime
    odds: float
    reached: float
    light: datetime
    likely: datetime | None
    rake: datetime
    fire_s: float
    kg: float
    rungs: tuple[Rung, ...]
    left: tuple[Left, ...]
    late_by_s: float
    heat: Heat
    aimed_c: float
    evening: Ladder | None = None
    evening_lit: datetime | None = None
    stage: str = "ahead"
    raked_first: datetime | None = None
    tended: bool = False
    small_kg: Array | None = None
    sure_meal: datetime | None = None
    sure_without: str = ""
    full: datetime | None = None

    @property
    def meal(self) -> datetime:
        return self.eat + timedelta(seconds=self.late_by_s)


@dataclass(frozen=True)
class _Chosen:
    """A time for each dish, with `rest_s` from the rake to the meal, and what that costs."""
    cost: float
    rest_s: float
    light_s: float
    picks: tuple[Try, ...]


@dataclass(frozen=True)
class _Task:
    """What is to be planned with one fire."""
    start: Start
    hot: Sequence[Wish]
    flame: Sequence[Wish]
    fire: Array
    fall: Fall
    tries: Sequence[Try]
    room: int
    eat: datetime
    now: datetime
    odds: float
    spare_s: tuple[float, ...] = ()    # each dish is to be done so much before the meal

    @property
    def fire_s(self) -> float:
        """From lighting, or now, to the rake; less than none if that has been."""
        return float(np.median(self.fire)) - raked_ago_s(self.start)

    @property
    def under_way(self) -> bool:
        return stage_of(self.start) != "ahead"

    def long_s(self, each: Try) -> float:
        """How long a dish is reckoned to take until it is run with the others."""
        return late(each.spans_s, self.odds) + (self.spare_s[each.dish] if self.spare_s else 0.0)

    def end_s(self, each: Try) -> float:
        return each.at_s + self.long_s(each) + self.hot[each.dish].heat.rest_s

    def lit_s(self, rest_s: float) -> float:
        """When the fire is lit for a meal so long after the rake; now if it has been."""
        if self.under_way:
            return self.now.timestamp()
        return max(self.now.timestamp(), float(300.0 * np.floor((self.eat.timestamp() - self.fire_s - rest_s) / 300.0)))

    def night(self, at_s: float, hours: tuple[int, int] = NIGHT) -> bool:
        return _at_night(moment(at_s, self.eat.tzinfo), hours)


def _at_night(at: datetime, hours: tuple[int, int] = NIGHT) -> bool:
    return at.hour >= hours[0] or at.hour < hours[1]


def stage_of(start: Start) -> str:
    """How far the firing is: "ahead", "burning" or "raked"."""
    return "raked" if start.settle_s is not None else "burning" if start.burning else "ahead"


def raked_ago_s(start: Start) -> float:
    """How long before now the slots of a raked oven begin [s]: it is then FIRST_S from the rake when it has settled."""
    return 0.0 if start.settle_s is None else FIRST_S - start.settle_s


def places(wish: Wish) -> float:
    """How many pots' places a dish takes on the floor (common practice, no source)."""
    kg = wish.load.get("meat_kg")
    weight = float(kg) if isinstance(kg, float | int) else 1.0
    if wish.heat.name == "loaves":
        return max(0.5, 0.4 * weight / 0.8)
    return max(1.0, float(np.ceil(weight / POT_MOST_KG)))


def ladder(start: Start, wishes: Sequence[Wish], eat: datetime, now: datetime, odds: float = 0.9,
           evening: bool = True, taken: float = 0.0) -> Ladder:
    """The ladder of these dishes in one firing of a retained-heat oven; without rungs if none of them can be cooked so.

    evening: look also at a fire the evening before, if the oven would be lit at night. taken: places on the floor that
    are taken already.
    """
    made = _one(start, wishes, eat, now, odds, taken)
    if stage_of(start) != "ahead" or not made.rungs:
        return made
    if is_warm(start.ensemble) and made.light.timestamp() > start.ensemble.at_s + 3600:
        # It cools until it is lit.
        start = kept_warm(start, made.light.timestamp())
        made = _one(start, wishes, eat, now, odds)
    if not made.rungs or not evening or made.late_by_s > 0.0 or not _at_night(made.light, EARLY):
        return made
    day = made.light if made.light.hour < EARLY[1] else made.light + timedelta(days=1)
    lit = day.replace(hour=EVENING_FROM, minute=30, second=0, microsecond=0) - timedelta(days=1)
    if now > lit:
        lit = moment(np.ceil((now.timestamp() + 600.0) / 300.0) * 300.0, now.tzinfo)
    if lit.hour >= EVENING_LATEST or lit >= made.light - timedelta(hours=4):
        return made
    hot = banked(start, lit.timestamp(), made.rake.timestamp())
    again = _one(hot, [rung.wish for rung in made.rungs], eat, now, odds)
    if not again.rungs or again.left or again.light <= made.light:
        return made
    return replace(made, evening=again, evening_lit=lit)


def _one(start: Start, wishes: Sequence[Wish], eat: datetime, now: datetime, odds: float,
         taken: float = 0.0) -> Ladder:
    hot = [wish for wish in wishes if not wish.heat.fire]
    flame = [wish for wish in wishes if wish.heat.fire]
    room = max(1, room_of(start) - int(np.ceil(taken)))
    left = [Left(wish, f"it needs {places(wish):.0f} pots and the floor holds about {room}")
            for wish in hot if places(wish) > room]
    hot = [wish for wish in hot if places(wish) <= room]
    raked = stage_of(start) == "raked"
    if raked:
        left += [Left(wish, f"the fire in the {start.name} is out") for wish in flame]
        flame = []
    while hot:
        dropped: Left | None = None
        made: list[Ladder] = []
        for share in AIM_SHARES[:1] if raked else AIM_SHARES:
            hottest = max(hot, key=lambda wish: aim_c(wish.heat, share)).heat
            fire = fire_s(start, hottest, aim_c(hottest, share))
            fall = fall_of(start, fire)
            task = _Task(start, hot, flame, fire, fall, tries_of(start, hot, fall, fire), room, eat, now, odds)
            whole = _best(task, left, (hottest, aim_c(hottest, share)))
            if whole is None:
                dropped = _misfit(task)
                continue
            if _kept(whole):
                return whole
            made.append(whole)
        if made:
            whole = min(made, key=_worse)
            if whole.reached >= WORTH or len(hot) == 1:
                return whole
            dropped = Left(_in_the_way(task)[0], f"with it all is done in time only {words_of(whole.reached)}")
        assert dropped is not None
        left.append(dropped)
        hot = [wish for wish in hot if wish is not dropped.wish]
    return Ladder(start.name, eat, odds, 0.0, now, None, now, 0.0, 0.0, (), tuple(left), 0.0, wishes[0].heat, 0.0,
                  stage=stage_of(start))


def room_of(start: Start) -> int:
    """How many pots stand on its floor."""
    return max(1, int(float(np.median(start.ensemble.built.floor_m2)) / POT_FOOT_M2))


def _choices(task: _Task) -> list[_Chosen]:
    """The cheapest choice for each time from rake to meal that has one, cheapest first."""
    least = 0.0
    for row, wish in enumerate(task.hot):
        mine = [each for each in task.tries if each.dish == row]
        if not mine:
            return []
        if not wish.heat.dry:
            least = max(least, min(task.end_s(each) for each in mine))
    if not np.isfinite(least):
        return []
    found = []
    first_s = np.ceil(max(least, FIRST_S) / 600.0) * 600.0
    if task.under_way:
        # The fire is not lit later for a later meal: what is done sooner stands.
        first_s = max(first_s, task.eat.timestamp() - task.now.timestamp() - task.fire_s)
    for rest_s in np.arange(first_s, MOST_S, SLOT_S):
        chosen = _choose(task, float(rest_s))
        if chosen is not None:
            found.append(chosen)
    return sorted(found, key=lambda each: each.cost)


def _choose(task: _Task, rest_s: float) -> _Chosen | None:
    lit_s = task.lit_s(rest_s)
    raked_s = lit_s + task.fire_s
    allowed = [each for each in task.tries if not task.night(raked_s + each.at_s)
               and _waits_h(task, each, rest_s) >= 0.0 and not _stale(task, each, rest_s)]
    if {each.dish for each in allowed} != set(range(len(task.hot))):
        return None
    costs = np.array([_cost(task, each, rest_s) for each in allowed])
    picks = _pick(task, allowed, costs)
    if picks is None:
        return None
    cost = rest_s / 3600.0 + float(costs[picks].sum())
    if task.under_way:
        cost += LATE_WEIGHT * max(0.0, lit_s + task.fire_s + rest_s - task.eat.timestamp()) / 3600.0
    if task.night(lit_s, DEAD):
        cost += DEAD_WEIGHT
    cost += FLAME_WEIGHT * sum(task.night(_by_flame_s(task, wish, raked_s, lit_s)) for wish in task.flame)
    return _Chosen(cost, rest_s, lit_s, tuple(sorted((allowed[each] for each in picks), key=lambda each: each.at_s)))


def _cost(task: _Task, each: Try, rest_s: float) -> float:
    """What is wrong with a dish at this time [h]."""
    heat = task.hot[each.dish].heat
    cost = FIT_WEIGHT * (1.0 - each.fit)
    if heat.dry:
        return cost + DRY_LATE_WEIGHT * each.at_s / 3600.0
    waits_h = _waits_h(task, each, rest_s)
    return cost + WAIT_WEIGHT * max(0.0, waits_h - WAITS_H.get(heat.name, WAIT_H)) + 0.01 * waits_h


def _waits_h(task: _Task, each: Try, rest_s: float) -> float:
    """How long a dish stands done before the meal [h]; what dries waits for nobody."""
    return 0.0 if task.hot[each.dish].heat.dry else (rest_s - task.end_s(each)) / 3600.0


def _stands(heat: Heat) -> float:
    """How well a dish stands, done, until the meal: from a half to 1."""
    return min(1.0, max(0.5, WAITS_H.get(heat.name, WAIT_H) / 2.0))


def _stale(task: _Task, each: Try, rest_s: float) -> bool:
    heat = task.hot[each.dish].heat
    return _waits_h(task, each, rest_s) > max(MOST_WAITS_H.get(heat.name, MOST_WAIT_H), WAITS_H.get(heat.name, WAIT_H))


def _pick(task: _Task, allowed: Sequence[Try], costs: Array) -> list[int] | None:
    """The cheapest time for each dish with no more on the floor than it holds."""
    each_best = [min((row for row, each in enumerate(allowed) if each.dish == dish), key=lambda row: costs[row])
                 for dish in range(len(task.hot))]
    needs = [places(task.hot[each.dish]) for each in allowed]
    spans = [(each.at_s, each.at_s + task.long_s(each)) for each in allowed]
    marks = np.arange(FIRST_S, max(end for _, end in spans if np.isfinite(end)) + SLOT_S, SLOT_S)
    stands = np.array([[need if begin <= mark < end else 0.0 for need, (begin, end) in zip(needs, spans, strict=True)]
                       for mark in marks])
    if (stands[:, each_best].sum(axis=1) <= task.room).all():
        return each_best
    one = np.array([[1.0 if each.dish == dish else 0.0 for each in allowed] for dish in range(len(task.hot))])
    tight = stands[stands.sum(axis=1) > task.room]
    found = milp(costs, constraints=[LinearConstraint(one, 1.0, 1.0), LinearConstraint(tight, 0.0, task.room)],
                 integrality=np.ones(len(allowed)), bounds=Bounds(0.0, 1.0))
    return [row for row, on in enumerate(found.x) if on > 0.5] if found.success else None


def _misfit(task: _Task) -> Left:
    """The dish that is in the way of all the others, and why."""
    for row, wish in enumerate(task.hot):
        mine = [each for each in task.tries if each.dish == row]
        if not mine:
            return Left(wish, task.fall.why_not(wish.heat))
        if not wish.heat.dry and not any(np.isfinite(task.long_s(each)) for each in mine):
            return Left(wish, f"too cool for it by the time that its heat comes: not done in {words_of(task.odds)}")
    wish, best = _in_the_way(task)
    row = next(row for row, each in enumerate(task.hot) if each is wish)
    window = task.fall.window_s(wish.heat)
    if best is None or window is None:
        return Left(wish, f"the floor holds about {task.room} pots at once")
    raked_s = best.light_s + task.fire_s
    alone = [each for each in task.tries if each.dish == row and not task.night(raked_s + each.at_s)]
    if alone and any(wish.heat.dry or task.end_s(each) <= best.rest_s for each in alone):
        return Left(wish, f"the floor holds about {task.room} pots at once")
    first, last = (moment(raked_s + each, task.eat.tzinfo) for each in window)
    when = f"{clock(_five(first.timestamp(), first.tzinfo))} to {clock(_five(last.timestamp(), last.tzinfo))}"
    return Left(wish, f"its heat comes {when}, at night" if not alone else f"its heat comes {when}, too late for it")


def _in_the_way(task: _Task) -> tuple[Wish, _Chosen | None]:
    """The dish without which the others are planned at the least cost, and that plan."""
    ranked = []
    for row, wish in enumerate(task.hot):
        others = [other for other in range(len(task.hot)) if other != row]
        rest = replace(task, hot=[task.hot[other] for other in others], tries=[
            replace(each, dish=others.index(each.dish)) for each in task.tries if each.dish != row])
        found = _choices(rest) if others else []
        ranked.append((found[0].cost if found else np.inf, row, wish, found[0] if found else None))
    _, _, wish, best = min(ranked, key=lambda each: (each[0], -places(each[2]), each[1]))
    return wish, best


def _best(task: _Task, left: Sequence[Left], aimed: tuple[Heat, float]) -> Ladder | None:
    """The cheapest choice that keeps the odds with every load in it; else the best of those run."""
    runs: list[Ladder] = []
    spare_s = [0.0] * len(task.hot)
    for _ in range(RUNS):
        chosen = _choices(replace(task, spare_s=tuple(spare_s)))
        if not chosen:
            break
        made, needed_s, alone_s = _whole(task, chosen[0], left, aimed)
        runs.append(made)
        if _kept(made):
            break
        # With all in it, it takes longer than each alone: so much earlier is each to be done. The meal is missed with
        # any of them: what stands well gives more than its own share of that.
        short_s = _short_s(needed_s, chosen[0].rest_s)
        own_s = {dish: _short_s(each, chosen[0].rest_s, 0.0) for dish, each in alone_s.items()}
        spare_s = [spare + max(short_s * _stands(wish.heat), own_s.get(wish.dish, 0.0))
                   for spare, wish in zip(spare_s, task.hot, strict=True)]
    return min(runs, key=_worse, default=None)


def _short_s(needed_s: float, had_s: float, least_s: float = SLOT_S) -> float:
    return min(max(needed_s - had_s, least_s), MOST_MORE_S)


def _kept(made: Ladder) -> bool:
    """Whether no other choice need be looked for: under way the meal itself must be kept, not a later one."""
    return made.reached >= made.odds and (made.stage == "ahead" or made.late_by_s == 0.0)


def _worse(made: Ladder) -> tuple[bool, float, float]:
    """Order of ladders of which none keeps all: under way the one with the soonest meal that is sure."""
    begun = made.stage != "ahead"
    return begun and made.reached < made.odds, made.late_by_s if begun else 0.0, -made.reached


def _whole(task: _Task, chosen: _Chosen, left: Sequence[Left], aimed: tuple[Heat, float]
           ) -> tuple[Ladder, float, dict[str, float]]:
    """A choice run whole, its times set against the meal; and how long from the rake to the meal keeps the odds [s], of
    all, and of each dish."""
    hot, zone = task.hot, task.eat.tzinfo
    loads = [(hot[each.dish], each.at_s, 0) for each in chosen.picks if not hot[each.dish].heat.dry]
    met: list[Array] = []
    spans = run_loads(task.start, loads, task.fire, 1, met) if loads else []
    total = task.fire - raked_ago_s(task.start) + _ends_s(loads, spans, task.start.ensemble.members)
    needed_s = late(total, task.odds)
    light, now_s = chosen.light_s, task.now.timestamp()
    # What is to spare goes to the night's sleep, unless something would then go in at night.
    spare = np.floor((task.fire_s + chosen.rest_s - needed_s) / 300.0) * 300.0 if np.isfinite(needed_s) else 0.0
    if spare > 0.0 and light > now_s and not any(
            task.night(light + spare + task.fire_s + each.at_s) for each in chosen.picks):
        light += spare
    late_by = 0.0
    if light <= now_s + 60.0:
        # The meal waits for what the odds need.
        ready = light + (needed_s if np.isfinite(needed_s) else task.fire_s + chosen.rest_s)
        late_by = float(np.ceil(max(0.0, ready - task.eat.timestamp()) / 300.0) * 300.0)
    eaten_s = task.eat.timestamp() + late_by
    kept = float((total <= eaten_s - light).mean())
    light, fired_s, total = _put_off(task, chosen, total - task.fire, light, eaten_s, min(kept, task.odds))
    raked, kept = light + fired_s, float((total <= eaten_s - light).mean())
    rungs, out_early = [], list(left)
    for wish in task.flame:
        into = _by_flame_s(task, wish, raked, light)
        if task.night(into):
            out_early.append(Left(wish, f"raked {clock(_five(raked, zone))}, its fire burns when nobody is there"))
        else:
            rungs.append(Rung(wish, _five(into, zone), _five(raked - 600.0, zone), _five(raked - 600.0, zone),
                              wish.heat.low_c + 30.0))
    heats = iter(met)
    by_load = {id(load[0]): span for load, span in zip(loads, spans, strict=True)}
    for each in chosen.picks:
        wish, into = hot[each.dish], raked + each.at_s
        if wish.heat.dry:
            gone = _five(into + wish.heat.usual_s, zone)
            rungs.append(Rung(wish, _five(into, zone), gone, gone, task.fall.heat_c(wish.heat.place, each.at_s),
                              into >= eaten_s, each.at_s))
            continue
        out, sure = (min(into + late(by_load[id(wish)], share), eaten_s - wish.heat.rest_s)
                     for share in (0.5, task.odds))
        rungs.append(Rung(wish, _five(into, zone), _five(out, zone), _five(sure, zone), float(np.median(next(heats))),
                          False, each.at_s))
    likely_s = np.inf if task.under_way else late(total, 0.5)
    made = Ladder(task.start.name, task.eat, task.odds, kept, _five(light, zone),
                  _five(min(eaten_s - likely_s, light + 86400.0), zone) if np.isfinite(likely_s) else None,
                  _five(raked, zone), fired_s, hot[0].wood.kg(_wood_kg(task)),
                  tuple(sorted(rungs, key=lambda rung: rung.into)), tuple(out_early), late_by, *aimed,
                  stage=stage_of(task.start), full=_five(light + task.fire_s, zone),
                  **_instead(task, loads, spans, kept, eaten_s - light, light + late(total, task.odds)))
    alone = {load[0].dish: late(task.fire + _ends_s([load], [span], len(total)), task.odds) - raked_ago_s(task.start)
             - task.fire_s for load, span in zip(loads, spans, strict=True)}
    return made, needed_s - task.fire_s, alone


def _put_off(task: _Task, chosen: _Chosen, after: Array, light: float, eaten_s: float, odds: float
             ) -> tuple[float, float, Array]:
    """When to light, how long to keep the fire, and how long all then takes (members,): not raked as soon as it is full
    at an even chance where the meal bears a later rake, so that less of it stands done. after: from each member's rake,
    or that of a fire that is judged full sooner and kept small till then, to all done."""
    def timed(fired_s: float) -> Array:
        return np.maximum(task.fire, fired_s) + after

    plain = task.fire + after
    if stage_of(task.start) == "raked" or not np.isfinite(late(plain, odds)):
        return light, task.fire_s, plain
    found = [(0.0, light, task.fire_s)]
    for share in RAKE_SHARES:
        fired_s = late(task.fire, share)
        needed_s = late(timed(fired_s), odds)
        lit = light if light + needed_s <= eaten_s else float(np.floor((eaten_s - needed_s) / 300.0) * 300.0)
        if lit < light and (task.under_way or lit <= task.now.timestamp() + 60.0):
            continue
        if any(task.night(lit + fired_s + each.at_s) for each in chosen.picks):
            continue
        found.append((lit + fired_s - light - task.fire_s - SLEEP_WEIGHT * (light - lit), lit, fired_s))
    _, light, fired_s = max(found)
    return light, fired_s, plain if fired_s <= task.fire_s else timed(fired_s)


def _instead(task: _Task, loads: Sequence[tuple[Wish, float, int]], spans: Sequence[Array], kept: float,
             spare_s: float, sure_s: float) -> dict[str, Any]:
    """Where a ladder keeps less than the odds asked: the nearest one that does. The meal later, lit at the same time;
    or, where no waiting helps, without the one dish that is not done."""
    if kept >= task.odds - 1e-9 or not loads:
        return {}
    if np.isfinite(sure_s):
        return {"sure_meal": moment(np.ceil(sure_s / 300.0) * 300.0, task.eat.tzinfo)}
    shares = []
    for row, (wish, _, _) in enumerate(loads):
        rest = [each for each in range(len(loads)) if each != row]
        ends = _ends_s([loads[each] for each in rest], [spans[each] for each in rest], task.start.ensemble.members)
        total = task.fire - raked_ago_s(task.start) + ends
        shares.append((float((total <= spare_s).mean()), wish.dish))
    best, dish = max(shares, key=lambda each: each[0])
    return {"sure_without": dish} if best >= task.odds and len(loads) > 1 else {}


def _ends_s(loads: Sequence[tuple[Wish, float, int]], spans: Sequence[Array], members: int) -> Array:
    """When everything is done and rested, after the rake (members,) [s]."""
    ends = np.full(members, 0.0 if loads else FIRST_S)
    for (wish, at_s, _), span in zip(loads, spans, strict=True):
        ends = np.maximum(ends, at_s + span + wish.heat.rest_s)
    return ends


def _wood_kg(task: _Task) -> float:
    feeds = max(0.0, (task.fire_s - course.LAST_FEED_S) / course.FEED_EVERY_S)
    kindling = 0.0 if task.under_way else 3.2
    return float((course.FEED_PIECES * np.floor(feeds) + kindling) * course.piece_kg(task.start.ensemble))


def replay(start: Start, made: Ladder) -> NDArray[np.bool_]:
    """Which members (members,) have everything done and rested by the meal if the ladder is kept in this oven: lit at
    its time, fired until it is judged right, each dish in as long after the rake as was planned."""
    fire = fire_s(start, made.heat, made.aimed_c)
    loads = [(rung.wish, rung.slot_s, 0) for rung in made.rungs if not rung.wish.heat.fire and not rung.wish.heat.dry]
    spans = run_loads(start, loads, fire, 1) if loads else []
    if stage_of(start) != "raked":
        fire = np.maximum(fire, made.fire_s)
    total = fire - raked_ago_s(start) + _ends_s(loads, spans, start.ensemble.members)
    kept: NDArray[np.bool_] = total <= (made.meal - made.light).total_seconds()
    return kept


def _by_flame_s(task: _Task, wish: Wish, raked_s: float, lit_s: float) -> float:
    return max(raked_s - wish.heat.usual_s - 600.0, lit_s + (0.0 if task.under_way else 3600.0))


def _five(at_s: float, zone: object) -> datetime:
    return moment(round(at_s / 300.0) * 300.0, zone)  # type: ignore[arg-type]
