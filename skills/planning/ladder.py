"""The heat ladder of one firing: several dishes in order and times down the falling heat, worked back from a meal.

The oven's own fall of heat, empty, gives each dish the times at which its place has the heat that it wants. At a few of
those times each dish is run; an integer programme (HiGHS, through scipy) then picks one time for each, so that no more
stands on the floor than it holds and the meal comes soonest after the fire. The ladder chosen is run whole, with every
load in it, and its odds are those of that run.
"""
from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import datetime

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import Bounds, LinearConstraint, milp

from skills.kitchen import ensemble as kitchen
from skills.planning import course
from skills.planning.course import RAKE_S, SETTLE_S, STEP_S, Watch
from skills.planning.firing_plan import POT_FOOT_M2, POT_MOST_KG, Wish
from skills.planning.heats import Heat
from skills.planning.outcome import HORIZON_S, LEVELS_H, Start, empty_heats_c, fire_for, firing_of, judged_k, late
from skills.wording import moment
from skills.wording import odds as words_of

Array = NDArray[np.float64]

SLOT_S = 1200
# Times tried for each dish, from the first at which its heat is right [s]; the last is the end of its window.
TRIED_S = (0, 2400, 4800, 8400, 13200)
TRY_MEMBERS = 40               # enough to set the times; the whole ladder is run with all members
MEMBERS = 60
ENOUGH = 0.96                  # of the members done in every pot: the odds are known, the rest are the slow tail
FALL_S = 32 * 3600             # how far the empty oven's heat is followed after raking
WAIT_WEIGHT = 0.01             # an hour that food waits, against an hour of earlier fire
FIT_WEIGHT = 1.0               # heat that is right in none of the members rather than in all, against such an hour
WORTH = 0.5                    # a ladder less likely than this is not offered: a dish is left out of it instead
AIM_SHARES = (0.6, 1.0)        # of the hottest dish's band: first a middling fire, then the most that it bears
NEVER_S = 40 * 3600.0
# A dish goes in where at least this share of the members have its heat, with slack, as oven words are (judgement).
FITS_SHARE, BAND_SLACK_K = 0.5, 10.0


@dataclass(frozen=True)
class Rung:
    """One dish of the ladder: when it goes in and comes out, and the heat it meets. out_sure: by the odds asked."""
    wish: Wish
    into: datetime
    out: datetime
    out_sure: datetime
    heat_c: float
    after_meal: bool = False


@dataclass(frozen=True)
class Left:
    """A dish that does not fit, and why."""
    wish: Wish
    why: str


@dataclass(frozen=True)
class Ladder:
    """The plan of several dishes, set by the sure time: lit at `light`, all of it is done in time with the odds
    `reached`. likely: lit as late as that it would be an even chance. late_by_s: so much later is the meal."""
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


@dataclass(frozen=True)
class _Try:
    """One dish at one time after raking [s]: how long it takes with the odds asked, and in what share of the members
    it meets the heat that it wants."""
    dish: int
    at_s: float
    long_s: float
    fit: float


def places(wish: Wish) -> float:
    """How many pots' places a dish takes on the floor (common practice, no source)."""
    kg = wish.load.get("meat_kg")
    weight = float(kg) if isinstance(kg, float | int) else 1.0
    if wish.heat.name == "loaves":
        return max(0.5, 0.4 * weight / 0.8)
    return max(1.0, float(np.ceil(weight / POT_MOST_KG)))


def ladder(start: Start, wishes: Sequence[Wish], eat: datetime, now: datetime, odds: float = 0.9) -> Ladder | None:
    """The ladder of these dishes in one firing of a retained-heat oven; None if none of them can be cooked so."""
    hot = [wish for wish in wishes if not wish.heat.fire]
    flame = [wish for wish in wishes if wish.heat.fire]
    room = _room(start)
    left = [Left(wish, f"it needs {places(wish):.0f} pots and the floor holds about {room}")
            for wish in hot if places(wish) > room]
    hot = [wish for wish in hot if places(wish) <= room]
    while hot:
        dropped: Left | None = None
        made: list[tuple[float, Ladder, Wish]] = []
        for share in AIM_SHARES:
            fire_s = _fire(start, hot, share)
            heats, times = _fall(start, fire_s)
            tries, misfits = _tries(start, hot, heats, times, fire_s, odds)
            if misfits:
                dropped = misfits[0]
                continue
            picked = _pick(hot, tries, room)
            if picked is None:
                dropped = Left(max(hot, key=places), f"the floor holds about {room} pots at once")
                continue
            whole, slowest, reach = _whole(start, hot, flame, picked, fire_s, eat, now, odds, left, heats, times)
            if reach >= odds:
                return whole
            made.append((reach, whole, slowest))
        if made:
            reach, whole, slowest = max(made, key=lambda each: each[0])
            if reach >= WORTH:
                return whole
            dropped = Left(slowest, f"with everything in, done in time only {words_of(reach)}")
        assert dropped is not None
        left.append(dropped)
        hot = [wish for wish in hot if wish is not dropped.wish]
    return None


def _room(start: Start) -> int:
    return max(1, int(float(np.median(start.ensemble.built.floor_m2)) / POT_FOOT_M2))


def _fire(start: Start, hot: Sequence[Wish], share: float) -> Array:
    """The fire (members,) [s] that the hottest of the dishes asks for; share: how far up its band to aim."""
    hottest = max(hot, key=lambda wish: _aim_c(wish.heat, share))
    levels_s = [each * 3600.0 for each in LEVELS_H]
    empty = empty_heats_c(start, hottest.heat, _after(start, 6 * 3600.0), levels_s, False)
    return fire_for(empty, levels_s, _aim_c(hottest.heat, share), judged_k(start))


def _aim_c(heat: Heat, share: float) -> float:
    return heat.low_c + share * (heat.high_c - heat.low_c)


def _after(start: Start, fire_s: float) -> int:
    at_s = start.ensemble.at_s + fire_s + RAKE_S + SETTLE_S + 2 * STEP_S
    return int(np.ceil(at_s / STEP_S)) * STEP_S


def _fall(start: Start, fire_s: Array) -> tuple[dict[str, Array], Array]:
    """Air and floor (times, members) of the empty oven from raking on, and the times since raking [s]."""
    ensemble = course.tiled(start.ensemble, start.ensemble.names[0], 1)
    pot_in_s = _after(start, float(fire_s.max()))
    firing = firing_of(start, ensemble, pot_in_s, fire_s, False)
    watch = Watch(ensemble)
    ensemble = course.run(ensemble, firing, pot_in_s, watch)
    course.run(ensemble, firing, pot_in_s + FALL_S, watch, SLOT_S)
    since = np.array(watch.at_s, dtype=np.float64) - (pot_in_s - SETTLE_S - RAKE_S)
    keep = since >= 0.0
    stack = np.stack(watch.heats_c)[keep]
    return {"air": stack[:, 0], "floor": stack[:, 1]}, since[keep]


def _fits(heat: Heat, heats: dict[str, Array], times: Array) -> Array:
    """Share of the members in which the dish's heat is right at each time (times,)."""
    place = heats[heat.place]
    right = (place >= heat.low_c - BAND_SLACK_K) & (place <= heat.high_c + BAND_SLACK_K)
    share: Array = np.where(times >= RAKE_S + SETTLE_S, right.mean(axis=1), 0.0)
    return share


def _tries(start: Start, hot: Sequence[Wish], heats: dict[str, Array], times: Array, fire_s: Array,
           odds: float) -> tuple[list[_Try], list[Left]]:
    """Each dish run at a few times within its window."""
    plan: list[tuple[int, float]] = []
    misfits = []
    for row, wish in enumerate(hot):
        share = _fits(wish.heat, heats, times)
        window = times[share >= min(FITS_SHARE, 0.8 * float(share.max()))] if share.max() > 0.2 else times[:0]
        if not len(window):
            misfits.append(Left(wish, _why_not(wish, heats, times)))
            continue
        first = np.ceil(max(float(window[0]), RAKE_S + SETTLE_S) / STEP_S) * STEP_S
        last = max(first, np.floor(float(window[-1]) / STEP_S) * STEP_S)
        slots = sorted({min(first + each, last) for each in TRIED_S})
        plan += [(row, float(slot)) for slot in slots]
    if misfits:
        return [], misfits
    lengths = _lengths(start, hot, plan, fire_s)
    tries = []
    for (row, slot), spans in zip(plan, lengths, strict=True):
        span = late(spans, odds)
        if np.isfinite(span):
            fit = float(_fits(hot[row].heat, heats, times)[int(np.argmin(np.abs(times - slot)))])
            tries.append(_Try(row, slot, span, fit))
    cold = [Left(wish, f"too cool for it by the time that its heat comes: not done in {words_of(odds)}")
            for row, wish in enumerate(hot) if all(each.dish != row for each in tries)]
    return tries, cold


def _why_not(wish: Wish, heats: dict[str, Array], times: Array) -> str:
    usable = times >= RAKE_S + SETTLE_S
    middle = np.median(heats[wish.heat.place][usable], axis=1)
    if middle.max() < wish.heat.low_c:
        return f"wants its {wish.heat.place} at {wish.heat.low_c:.0f} or more; this fire leaves {middle.max():.0f}"
    return f"its heat, {wish.heat.low_c:.0f} to {wish.heat.high_c:.0f}, is not reached within " \
           f"{FALL_S / 3600:.0f} h of raking"


def _lengths(start: Start, hot: Sequence[Wish], plan: Sequence[tuple[int, float]], fire_s: Array) -> list[Array]:
    """How long each dish takes, put in alone at each time after raking (members,) [s]."""
    few = min(TRY_MEMBERS, start.ensemble.members)
    thin = replace(start, ensemble=kitchen.thinned(start.ensemble, few))
    pick = np.arange(few) * start.ensemble.members // few
    loads = [(hot[row], slot, copy) for copy, (row, slot) in enumerate(
        each for each in plan if not hot[each[0]].heat.dry)]
    spans = iter(_run(thin, loads, fire_s[pick], len(loads)) if loads else [])
    return [np.full(few, hot[row].heat.usual_s) if hot[row].heat.dry else next(spans) for row, _ in plan]


def _run(start: Start, loads: Sequence[tuple[Wish, float, int]], fire_s: Array, copies: int,
         heats: list[Array] | None = None) -> list[Array]:
    """Dishes put into copies of the oven at their times after raking; how long each takes (members,) [s]."""
    members = start.ensemble.members
    ensemble = course.tiled(start.ensemble, start.ensemble.names[0], copies)
    pot_in_s = _after(start, float(fire_s.max()))
    raked_s = pot_in_s - SETTLE_S - RAKE_S
    firing = firing_of(start, ensemble, pot_in_s, np.tile(fire_s, copies), False)
    foods: dict[str, course.Food] = {}
    ordered = sorted(range(len(loads)), key=lambda each: loads[each][1])
    spans = [np.full(members, np.inf) for _ in loads]
    watch = Watch(ensemble)
    inside: list[int] = []
    done_s = np.zeros(0)
    for place, index in enumerate(ordered):
        wish, slot, copy = loads[index]
        ensemble = course.run(ensemble, firing, int(raked_s + slot), watch)
        if heats is not None:
            lanes = slice(copy * members, (copy + 1) * members)
            heats.append(watch.heat_c(wish.heat.place, raked_s + slot)[lanes])
        done_s = np.concatenate([watch.done_s if len(watch.done_s) else done_s, np.full(members, np.inf)])
        if wish.dish not in foods:
            foods[wish.dish] = course.food(start.ensemble, start.setting, wish.dish, dict(wish.load))
        ensemble = course.put_in(ensemble, f"{wish.dish}{place}", foods[wish.dish], [copy])
        inside.append(index)
        watch.restart(done_s)
    last = raked_s + max(slot for _, slot, _ in loads)
    horizon = last + min(HORIZON_S, 3.0 * max(wish.heat.usual_s for wish, _, _ in loads) + 3600)
    at_s = float(last)
    while at_s < horizon and np.isfinite(watch.done_s).reshape(-1, members).mean(axis=1).min() < ENOUGH:
        at_s = min(at_s + 3600.0, horizon)
        ensemble = course.run(ensemble, firing, int(at_s), watch)
        ensemble = course.topped_up(ensemble)
    for place, index in enumerate(inside):
        spans[index] = watch.done_s[place * members:(place + 1) * members] - (raked_s + loads[index][1])
    return spans


def _pick(hot: Sequence[Wish], tries: Sequence[_Try], room: int) -> list[_Try] | None:
    """One time for each dish, by an integer programme: the meal soonest after the fire, no more on the floor than it
    holds. Variables: one switch for each try, and the time from raking to the meal [h]."""
    count = len(tries)
    hours = 1.0 / 3600.0
    cost = np.zeros(count + 1)
    cost[-1] = 1.0
    rows, low, high = [], [], []
    for dish in range(len(hot)):
        row = np.array([1.0 if each.dish == dish else 0.0 for each in tries] + [0.0])
        rows.append(row)
        low.append(1.0)
        high.append(1.0)
        if not hot[dish].heat.dry:
            ends = np.array([(each.at_s + each.long_s + hot[dish].heat.rest_s) * hours if each.dish == dish else 0.0
                             for each in tries] + [-1.0])
            rows.append(ends)
            low.append(-np.inf)
            high.append(0.0)
    for row_, each in enumerate(tries):
        wish = hot[each.dish]
        # What is hot-held or eaten fresh would rather be done late; what comes after the meal rather begins early.
        end = (each.at_s + each.long_s + wish.heat.rest_s) * hours
        cost[row_] = WAIT_WEIGHT * (end if wish.heat.dry else -end) - FIT_WEIGHT * each.fit
    marks = np.arange(RAKE_S + SETTLE_S, max(each.at_s + each.long_s for each in tries), SLOT_S)
    for mark in marks:
        row = np.array([places(hot[each.dish]) if each.at_s <= mark < each.at_s + each.long_s else 0.0
                        for each in tries] + [0.0])
        if row.sum() > room:
            rows.append(row)
            low.append(0.0)
            high.append(float(room))
    found = milp(cost, constraints=LinearConstraint(np.array(rows), np.array(low), np.array(high)),
                 integrality=np.append(np.ones(count), 0), bounds=Bounds(np.zeros(count + 1),
                                                                        np.append(np.ones(count), NEVER_S * hours)))
    if not found.success:
        return None
    return sorted((each for each, on in zip(tries, found.x[:-1], strict=True) if on > 0.5), key=lambda each: each.at_s)


def _whole(start: Start, hot: Sequence[Wish], flame: Sequence[Wish], picked: Sequence[_Try], fire_s: Array,
           eat: datetime, now: datetime, odds: float, left: list[Left], empty: dict[str, Array],
           times: Array) -> tuple[Ladder, Wish, float]:
    """The chosen ladder run with every load in one oven, its times set against the meal; its slowest dish; and in
    what share of the members everything gets done at all."""
    loads = [(hot[each.dish], each.at_s, 0) for each in picked if not hot[each.dish].heat.dry]
    met: list[Array] = []
    spans = _run(start, loads, fire_s, 1, met) if loads else []
    members = start.ensemble.members
    ends = np.zeros(members)
    for (wish, at_s, _), span in zip(loads, spans, strict=True):
        ends = np.maximum(ends, at_s + span + wish.heat.rest_s)
    if not loads:
        ends = ends + RAKE_S + SETTLE_S
    total = fire_s + ends
    reach = float(np.isfinite(total).mean())
    # Where the odds asked are out of reach, nearly all that can be had.
    aimed = odds if reach >= odds else 0.97 * reach
    slowest = loads[int(np.argmin([np.isfinite(span).mean() for span in spans]))][0] if loads else hot[0]
    span_s = late(total, aimed)
    span_s = span_s if np.isfinite(span_s) else NEVER_S
    eat_s, zone = eat.timestamp(), eat.tzinfo
    light = np.floor((eat_s - span_s) / 300.0) * 300.0
    late_by = max(0.0, now.timestamp() - light - 150.0)
    if late_by > 0.0:
        late_by = np.ceil(late_by / 300.0) * 300.0
        light = now.timestamp()
    eaten_s = eat_s + late_by
    raked = light + float(np.median(fire_s))
    rungs = [_flame_rung(wish, raked, light, zone) for wish in flame]
    for row, ((wish, at_s, _), span) in enumerate(zip(loads, spans, strict=True)):
        out, sure = (min(raked + at_s + late(span, each), eaten_s - wish.heat.rest_s) for each in (0.5, aimed))
        rungs.append(Rung(wish, _five(raked + at_s, zone), _five(out, zone), _five(sure, zone),
                          float(np.median(met[row]))))
    for each in picked:
        wish = hot[each.dish]
        if wish.heat.dry:
            heat_c = float(np.median(empty[wish.heat.place][int(np.argmin(np.abs(times - each.at_s)))]))
            into, out_of = _five(raked + each.at_s, zone), _five(raked + each.at_s + wish.heat.usual_s, zone)
            rungs.append(Rung(wish, into, out_of, out_of, heat_c, into >= eat))
    kept = float((total <= eaten_s - light).mean())
    feeds = max(0.0, (float(np.median(fire_s)) - course.LAST_FEED_S) / course.FEED_EVERY_S)
    usual_kg = (course.FEED_PIECES * np.floor(feeds) + 3.2) * course.piece_kg(start.ensemble)
    likely_s = late(total, 0.5)
    made = Ladder(start.name, eat, odds, kept, _five(light, zone),
                  _five(min(eat_s - likely_s, light + 86400.0), zone) if np.isfinite(likely_s) else None,
                  _five(raked, zone), float(np.median(fire_s)), hot[0].wood.kg(float(usual_kg)),
                  tuple(sorted(rungs, key=lambda rung: rung.into)), tuple(left), late_by)
    return made, slowest, reach


def _flame_rung(wish: Wish, raked: float, light: float, zone: object) -> Rung:
    into = max(raked - wish.heat.usual_s - 600.0, light + 3600.0)
    return Rung(wish, _five(into, zone), _five(raked - 600.0, zone), _five(raked - 600.0, zone), wish.heat.low_c + 30.0)


def _five(at_s: float, zone: object) -> datetime:
    return moment(round(at_s / 300.0) * 300.0, zone)  # type: ignore[arg-type]
