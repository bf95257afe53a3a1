"""Dishes put into one firing of a retained-heat oven at times after raking: how hot it is then, how long each takes."""
from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from skills.dish.heats import Heat
from skills.kitchen import ensemble as kitchen
from skills.planning import course
from skills.planning.course import RAKE_S, SETTLE_S, STEP_S, Watch
from skills.planning.firing_plan import Wish
from skills.planning.outcome import HORIZON_S, LEVELS_H, Start, empty_heats_c, fire_for, firing_of, judged_k

Array = NDArray[np.float64]

SLOT_S = 1200
FIRST_S = RAKE_S + SETTLE_S    # from the rake to the first pot
# Times tried for each dish, from the first at which its heat is right [s]; the end of its window is tried too.
TRIED_S = (0, 2400, 4800, 7200, 10800, 14400, 19200)
DRY_EVERY_S = 2400             # what dries needs no run of the models to be timed
TRY_MEMBERS = 40               # enough to set the times; the whole ladder is run with all members
ENOUGH = 0.975                 # of the members with every pot done: the odds are known, the rest are the slow tail
FALL_S = 32 * 3600             # how far the empty oven's heat is followed after raking
# A dish goes in where at least this share of the members have its heat, with slack, as oven words are (judgement).
FITS_SHARE, BAND_SLACK_K = 0.5, 10.0


@dataclass(frozen=True)
class Try:
    """One dish (its place in the list) at one time after raking [s]: how long it takes each member, and in what share
    of them it meets the heat that it wants."""
    dish: int
    at_s: float
    spans_s: Array
    fit: float


@dataclass(frozen=True)
class Fall:
    """Air and floor (times, members) [degC] of the empty oven from raking on, at times since raking [s]."""
    heats_c: dict[str, Array]
    times_s: Array

    def fits(self, heat: Heat) -> Array:
        """Share of the members in which the dish's heat is right at each time (times,)."""
        place = self.heats_c[heat.place]
        right = (place >= heat.low_c - BAND_SLACK_K) & (place <= heat.high_c + BAND_SLACK_K)
        share: Array = np.where(self.times_s >= FIRST_S, right.mean(axis=1), 0.0)
        return share

    def window_s(self, heat: Heat) -> tuple[float, float] | None:
        """From when to when after raking the dish may go in; None: never."""
        share = self.fits(heat)
        if share.max() <= 0.2:
            return None
        window = self.times_s[share >= min(FITS_SHARE, 0.8 * float(share.max()))]
        first = float(np.ceil(max(float(window[0]), FIRST_S) / STEP_S) * STEP_S)
        return first, max(first, float(np.floor(float(window[-1]) / STEP_S) * STEP_S))

    def heat_c(self, place: str, at_s: float) -> float:
        """The middle heat of a place at a time after raking [degC]."""
        return float(np.median(self.heats_c[place][int(np.argmin(np.abs(self.times_s - at_s)))]))

    def why_not(self, heat: Heat) -> str:
        """Why a dish has no window."""
        middle = np.median(self.heats_c[heat.place][self.times_s >= FIRST_S], axis=1)
        if middle.max() < heat.low_c:
            return f"wants its {heat.place} at {heat.low_c:.0f} or more; this fire leaves {middle.max():.0f}"
        return f"its heat, {heat.low_c:.0f} to {heat.high_c:.0f}, is not reached within {FALL_S / 3600:.0f} h of raking"


def aim_c(heat: Heat, share: float) -> float:
    """So far up the band of a heat [degC]."""
    return heat.low_c + share * (heat.high_c - heat.low_c)


def fire_s(start: Start, heat: Heat, aimed_c: float) -> Array:
    """The fire (members,) [s] after which each oven, as people judge it, settles at aimed_c; none once it is raked."""
    if start.settle_s is not None:
        return np.zeros(start.ensemble.members)
    levels_s = [each * 3600.0 for each in LEVELS_H]
    empty = empty_heats_c(start, heat, _pot_in_s(start, 6 * 3600.0), levels_s, False)
    return fire_for(empty, levels_s, aimed_c, judged_k(start))


def _pot_in_s(start: Start, longest_s: float) -> int:
    at_s = start.ensemble.at_s + longest_s + FIRST_S + 2 * STEP_S
    return int(np.ceil(at_s / STEP_S)) * STEP_S


def fall_of(start: Start, fire: Array) -> Fall:
    """The empty oven after each member's fire."""
    ensemble = course.tiled(start.ensemble, start.ensemble.names[0], 1)
    pot_in_s = _pot_in_s(start, float(fire.max()))
    firing = firing_of(start, ensemble, pot_in_s, fire, False)
    watch = Watch(ensemble)
    ensemble = course.run(ensemble, firing, pot_in_s, watch)
    course.run(ensemble, firing, pot_in_s + FALL_S, watch, SLOT_S)
    since = np.array(watch.at_s, dtype=np.float64) - (pot_in_s - FIRST_S)
    keep = since >= 0.0
    stack = np.stack(watch.heats_c)[keep]
    return Fall({"air": stack[:, 0], "floor": stack[:, 1]}, since[keep])


def tries_of(start: Start, hot: Sequence[Wish], fall: Fall, fire: Array) -> list[Try]:
    """Each dish, that has a window, run alone at a few times within it."""
    plan: list[tuple[int, float]] = []
    for row, wish in enumerate(hot):
        window = fall.window_s(wish.heat)
        if window is None:
            continue
        first, last = window
        if wish.heat.dry:
            slots = set(np.arange(first, last + 1.0, DRY_EVERY_S))
        else:
            slots = {min(first + each, last) for each in TRIED_S}
        plan += [(row, float(slot)) for slot in sorted(slots)]
    few = min(TRY_MEMBERS, start.ensemble.members)
    thin = replace(start, ensemble=kitchen.thinned(start.ensemble, few))
    pick = np.arange(few) * start.ensemble.members // few
    loads = [(hot[row], slot, copy) for copy, (row, slot) in enumerate(
        each for each in plan if not hot[each[0]].heat.dry)]
    spans = iter(run_loads(thin, loads, fire[pick], len(loads)) if loads else [])
    tries = []
    for row, slot in plan:
        each = np.full(few, hot[row].heat.usual_s) if hot[row].heat.dry else next(spans)
        share = fall.fits(hot[row].heat)[int(np.argmin(np.abs(fall.times_s - slot)))]
        tries.append(Try(row, slot, each, float(share)))
    return tries


def run_loads(start: Start, loads: Sequence[tuple[Wish, float, int]], fire: Array, copies: int,
              heats: list[Array] | None = None, fed_kg: Array | None = None) -> list[Array]:
    """Dishes put into copies of the oven at their times after raking; how long each takes (members,) [s].

    heats: takes what each meets as it goes in, in the order in which they go in. fed_kg: small feeds of a light oven,
    whose first pot goes in at FIRST_S.
    """
    members = start.ensemble.members
    ensemble = course.tiled(start.ensemble, start.ensemble.names[0], copies)
    pot_in_s = _pot_in_s(start, float(fire.max()))
    raked_s = pot_in_s - FIRST_S
    firing = firing_of(start, ensemble, pot_in_s, np.tile(fire, copies), False,
                       None if fed_kg is None else np.tile(fed_kg, copies))
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
    while at_s < horizon and not _enough(watch.done_s.reshape(-1, members), [loads[each][2] for each in inside]):
        at_s = min(at_s + 3600.0, horizon)
        ensemble = course.run(ensemble, firing, int(at_s), watch)
        ensemble = course.topped_up(ensemble)
    for place, index in enumerate(inside):
        spans[index] = watch.done_s[place * members:(place + 1) * members] - (raked_s + loads[index][1])
    return spans


def _enough(done_s: Array, copies: Sequence[int]) -> bool:
    """Whether nearly all members have everything done in each copy of the oven."""
    done = np.isfinite(done_s)
    return all(float(done[np.array(copies) == copy].all(axis=0).mean()) >= ENOUGH for copy in set(copies))
