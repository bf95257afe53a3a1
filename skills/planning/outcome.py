"""What comes of firing an oven for one dish, member by member, and the firing that keeps a promise with least trouble.

The plan is a rule, not a length of time: fire until the oven promises the heat that the dish wants, rake, let it
settle, put the pot in, top it up at a look if it is low. Each member follows the rule in its own oven with its own
meat, through the same forward models as every forecast; the times are then the quantiles over the members. A cold or
wet oven is one that takes longer, which is why the sure time is earlier.
"""
from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from skills.dish.heats import Heat
from skills.kitchen.ensemble import Ensemble
from skills.kitchen.seeds import generator
from skills.kitchen.setting import Setting
from skills.planning import course
from skills.planning.course import RAKE_S, SETTLE_S, STEP_S, Firing, Food, Watch

Array = NDArray[np.float64]

LEVELS_H = (0.0, 2 / 3, 4 / 3, 2.0, 3.0, 4.0, 5.0, 6.0)
MOST_FIRE_S = 6 * 3600.0
# People judge from readings while the fire burns how hot the oven will settle; they are off by so much (judgement).
JUDGED_K = 12.0
# A plan that is this much earlier than another is worth it if it saves wood (judgement).
INDIFFERENT_S = 1200.0
HORIZON_S = 13 * 3600
AIMS = 4
TENDED_SHUT_S = 3000           # door on while it burns small, ten minutes before the pot
TENDED_LEVELS = (0.5, 1.0, 2.0, 3.5)
CLEAR_C = 300.0                # the mean face when the crown burns white; the crown is hotter (judgement)


@dataclass(frozen=True)
class Start:
    """One oven before its plan: `members` lanes of it and nothing else, as it stands at ensemble.at_s.

    burning: it is being fired, since lit_ago_s [s], fed_ago_s [s] the last time; settle_s [s]: how long it has still to
    settle (None: it has not been raked since).
    """
    name: str
    ensemble: Ensemble
    setting: Setting
    tended: bool = False
    burning: bool = False
    settle_s: float | None = None
    fed_ago_s: float = float(course.FEED_EVERY_S)
    lit_ago_s: float = 0.0


@dataclass(frozen=True)
class Outcome:
    """What came of one aim; every array (members,). to_pot_s: from lighting (or now, if it burns) to the pot going in;
    cook_s: from there to done (inf: not within the hours looked at); kg: wood at the usual moisture; heat_c: the
    dish's place as it goes in; done_heat_c: air when it is done; clear_s: from lighting to a clear ceiling (inf:
    never); small_kg: small feed of a tended oven.
    """
    aim_c: float
    fire_s: Array
    to_pot_s: Array
    cook_s: Array
    kg: Array
    heat_c: Array
    floor_c: Array
    clear_s: Array
    done_heat_c: Array
    small_kg: Array

    @property
    def total_s(self) -> Array:
        return self.to_pot_s + self.cook_s

    def sure_s(self, odds: float) -> float:
        """The time that so many of the members keep to [s]; inf if they do not."""
        return late(self.total_s, odds)


def late(spans_s: Array, odds: float) -> float:
    """The span within which a share `odds` of the members stay: the smallest that keeps the chance constraint."""
    ordered = np.sort(spans_s)
    return float(ordered[min(len(ordered) - 1, max(0, int(np.ceil(odds * len(ordered) - 1e-9)) - 1))])


def aims_c(heat: Heat) -> Array:
    """Heats to aim at within the dish's band [degC]."""
    return np.linspace(heat.low_c + 0.15 * (heat.high_c - heat.low_c), heat.high_c - 0.1 * (heat.high_c - heat.low_c),
                       AIMS)


def judged_k(start: Start) -> Array:
    """How far each member's cook misjudges where the oven will settle (members,) [K]."""
    rng = generator(start.setting.seed, "judged", start.name)
    return JUDGED_K * rng.standard_normal(start.ensemble.members)


def firing_of(start: Start, ensemble: Ensemble, pot_in_s: float, fire_s: Array, real_clock: bool,
              fed_kg: Array | float | None = None, flame: bool = False) -> Firing:
    """The course of lanes that fire for fire_s (lanes,) and put the pot in at pot_in_s; flame: beside the live fire."""
    none = fire_s <= 0.0
    inf = np.full(len(fire_s), np.inf)
    feed_kg = np.full(len(fire_s), course.FEED_PIECES * course.piece_kg(start.ensemble))
    small = np.zeros(len(fire_s)) if fed_kg is None else fed_kg * np.ones(len(fire_s))
    at = np.full(len(fire_s), float(pot_in_s))
    if start.settle_s is not None:
        # Fired and raked: it only settles. Or tended and burning: it is only fed on.
        begin = at - start.settle_s
        lit, raked, shut = inf, inf, begin if start.tended else -inf
    elif start.tended:
        lit = at - course.TENDED_WARM_S
        begin, raked, shut = lit, inf, lit + TENDED_SHUT_S
        feed_kg = course.TENDED_SHARE * feed_kg
    else:
        lit = np.where(none, np.inf, pot_in_s - RAKE_S - SETTLE_S - fire_s)
        raked = np.where(none, np.inf, pot_in_s - RAKE_S - SETTLE_S)
        shut = np.where(none, -np.inf, raked + STEP_S)
        begin = np.where(none, pot_in_s, lit)
    if flame and not start.tended and start.settle_s is None:
        lit = at - fire_s
        begin, raked, shut = lit, inf, inf
        feed_kg = course.BRISK * feed_kg
    elif start.burning and not start.tended:
        # Nothing more goes on where the fire has done enough: it is raked at once.
        lit = np.where(none, pot_in_s - RAKE_S - SETTLE_S, lit)
        raked = np.where(none, lit, raked)
        shut = np.where(none, raked + STEP_S, shut)
        begin = lit
        # Feeding goes on from the last feed, whose turn may have come already.
        lit = lit - min(start.fed_ago_s, course.FEED_EVERY_S) // STEP_S * STEP_S
    if real_clock:
        begin = -inf
    numbers = ensemble.numbers
    return Firing(begin, lit, raked, shut, feed_kg, small, course.heat_j_kg(ensemble), numbers["rake_left"],
                  lit_already=start.burning and not start.tended, spread=flame,
                  first=None if real_clock else ensemble.state)


def empty_heats_c(start: Start, heat: Heat, pot_in_s: int, levels_s: Sequence[float], real_clock: bool) -> Array:
    """The heat of the dish's place at pot_in_s after each length of fire, nothing in the oven (levels, members)."""
    members = start.ensemble.members
    ensemble = course.tiled(start.ensemble, start.ensemble.names[0], len(levels_s))
    fire_s = np.repeat(np.asarray(levels_s, dtype=np.float64), members)
    firing = firing_of(start, ensemble, pot_in_s, fire_s, real_clock, flame=heat.fire)
    watch = Watch(ensemble)
    course.run(ensemble, firing, pot_in_s, watch)
    return watch.heat_c(heat.place, pot_in_s).reshape(len(levels_s), members)


def fire_for(heats_c: Array, levels_s: Sequence[float], aim_c: float, misjudged_k: Array) -> Array:
    """The fire (members,) [s] after which each oven, as people judge it, will settle at aim_c: whole steps."""
    seen = np.maximum.accumulate(heats_c + misjudged_k, axis=0)
    found = np.empty(seen.shape[1])
    for member in range(seen.shape[1]):
        found[member] = np.interp(aim_c, seen[:, member], levels_s)
    return np.ceil(found / STEP_S) * STEP_S


def outcomes(start: Start, heat: Heat, cooked: Food | None, pot_in_s: int, real_clock: bool,
             aims: Array | None = None, minutes_s: float | None = None) -> list[Outcome]:
    """What comes of each aim. real_clock: the oven cools (or not) on the clock until it is lit; else every lane starts
    from the state at ensemble.at_s, whenever it is lit."""
    aims = aims_c(heat) if aims is None else aims
    members = start.ensemble.members
    if start.tended:
        aims = np.array([middle_c(heat)])
        fires, small = np.zeros((1, members)), tended_feeds_kg(start, middle_c(heat), pot_in_s, real_clock)
    elif start.settle_s is not None:
        fires, small, aims = np.zeros((1, members)), None, aims[:1]
    else:
        levels_s = [level * 3600.0 for level in LEVELS_H]
        if real_clock:
            room_s = pot_in_s - (0 if heat.fire else RAKE_S + SETTLE_S) - start.ensemble.at_s
            levels_s = [each for each in levels_s if each <= room_s] or [0.0]
        empty = empty_heats_c(start, heat, pot_in_s, levels_s, real_clock)
        misjudged = judged_k(start)
        fires, small = np.stack([fire_for(empty, levels_s, float(aim), misjudged) for aim in aims]), None
    copies = len(fires)
    ensemble = course.tiled(start.ensemble, start.ensemble.names[0], copies)
    firing = firing_of(start, ensemble, pot_in_s, fires.reshape(-1), real_clock,
                       None if small is None else np.tile(small, copies), heat.fire)
    watch = Watch(ensemble)
    ensemble = course.run(ensemble, firing, pot_in_s, watch)
    place, floor = watch.heat_c(heat.place, pot_in_s), watch.heat_c("floor", pot_in_s)
    cook = np.full(copies * members, heat.usual_s)
    if cooked is not None and not heat.fire:
        cook = _cook(ensemble, firing, cooked, pot_in_s, minutes_s or heat.usual_s, watch, copies)
    end = _heat_when(watch, "air", pot_in_s + cook)
    to_pot = _to_pot_s(start, fires, heat.fire)
    clear = _clear_s(watch, firing)
    kg = firing.kg if firing.kg.size else np.zeros(copies * members)
    rows = [each.reshape(copies, members) for each in (cook, kg, place, floor, clear, end)]
    return [Outcome(float(aims[row]), fires[row], to_pot[row], rows[0][row], rows[1][row], rows[2][row], rows[3][row],
                    rows[4][row], rows[5][row], np.zeros(members) if small is None else small) for row in range(copies)]


def _to_pot_s(start: Start, fires: Array, flame: bool) -> Array:
    if start.settle_s is not None:
        return np.full_like(fires, start.settle_s)
    if start.tended:
        return np.full_like(fires, float(course.TENDED_WARM_S))
    if flame:
        return fires
    if start.burning:
        return fires + RAKE_S + SETTLE_S
    return np.where(fires > 0.0, fires + RAKE_S + SETTLE_S, 0.0)


def _cook(ensemble: Ensemble, firing: Firing, cooked: Food, pot_in_s: int, usual_s: float, watch: Watch,
          copies: int) -> Array:
    """Time from the pot going in to done (lanes,) [s]."""
    ensemble = course.put_in(ensemble, "dish", cooked, range(copies))
    looks = looks_s(usual_s, HORIZON_S) if float(cooked.parameters.liquid_start_kg.max()) > 0.2 else []
    firing.looks_s = [pot_in_s + each for each in looks]
    for stop in [*looks, HORIZON_S]:
        step = STEP_S if usual_s > 5400.0 else 300
        ensemble = course.run(ensemble, firing, int(pot_in_s + stop), watch, step)
        if np.isfinite(watch.done_s).mean() > 0.985:
            break
        ensemble = course.topped_up(ensemble)
    return np.asarray(watch.done_s - pot_in_s)


def looks_s(usual_s: float, until_s: float) -> list[int]:
    """Looks that would change something, from the pot going in: the first at six tenths of the usual time, where the
    liquor may be low, then about every hour (common practice, no source)."""
    first = int(0.6 * usual_s / STEP_S) * STEP_S
    return list(range(max(first, STEP_S), int(until_s), 3600))


def _heat_when(watch: Watch, place: str, at_s: Array) -> Array:
    """The heat of a place in each lane at that lane's own time."""
    times = np.array(watch.at_s, dtype=np.float64)
    row = {"air": 0, "floor": 1, "dome": 2}[place]
    stack = np.stack([each[row] for each in watch.heats_c])
    step = np.clip(np.searchsorted(times, np.minimum(at_s, times[-1])), 0, len(times) - 1)
    found: Array = stack[step, np.arange(stack.shape[1])]
    return found


def _clear_s(watch: Watch, firing: Firing) -> Array:
    times = np.array(watch.at_s, dtype=np.float64)
    dome = np.stack([each[2] for each in watch.heats_c])
    white = (dome >= CLEAR_C) & (times[:, None] > firing.lit_s) & (times[:, None] <= firing.raked_s)
    first = np.where(white.any(axis=0), times[white.argmax(axis=0)], np.inf)
    with np.errstate(invalid="ignore"):
        since = first - firing.lit_s
    return np.where(np.isfinite(since), since, np.inf)


def middle_c(heat: Heat) -> float:
    """The middle of a dish's band [degC]."""
    return 0.5 * (heat.low_c + heat.high_c)


def tended_feeds_kg(start: Start, aim_c: float, pot_in_s: int, real_clock: bool, hold_s: float = 3 * 3600.0) -> Array:
    """The small feed (members,) [kg] that holds each light oven, as people judge it, at aim_c for so long."""
    members, count = start.ensemble.members, len(TENDED_LEVELS)
    ensemble = course.tiled(start.ensemble, start.ensemble.names[0], count)
    small = np.repeat(np.array(TENDED_LEVELS), members) * 0.35 * course.piece_kg(start.ensemble)
    firing = firing_of(start, ensemble, pot_in_s, np.zeros(count * members), real_clock, small)
    watch = Watch(ensemble)
    course.run(ensemble, firing, int(pot_in_s + hold_s), watch)
    held = [each[0] for at, each in zip(watch.at_s, watch.heats_c, strict=True) if at > pot_in_s + 3600]
    air = np.mean(held, axis=0).reshape(count, members) + judged_k(start)
    seen = np.maximum.accumulate(air, axis=0)
    kg = small.reshape(count, members)
    return np.array([np.interp(aim_c, seen[:, each], kg[:, each]) for each in range(members)])


def best(found: Sequence[Outcome], odds: float) -> Outcome:
    """The outcome that lets the fire be lit latest and still keeps the odds; of nearly equal ones that with less wood.

    Where none keeps them, the one that most members finish.
    """
    sure = np.array([each.sure_s(odds) for each in found])
    if not np.isfinite(sure).any():
        share = [float(np.isfinite(each.total_s).mean()) for each in found]
        return found[int(np.argmax(share))]
    near = [each for each, span in zip(found, sure, strict=True) if span <= np.nanmin(sure) + INDIFFERENT_S]
    return min(near, key=lambda each: float(np.median(each.kg)))


def best_by(found: Sequence[Outcome], spare_s: float) -> Outcome:
    """The outcome with the best odds of being done within spare_s from its start; of equal ones that with less wood."""
    def worth(each: Outcome) -> tuple[float, float]:
        return round(float((each.total_s <= spare_s).mean()) / 0.02), -float(np.median(each.kg))
    return max(found, key=worth)
