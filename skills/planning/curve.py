"""The oven's heat along a plan as it would be carried out: bands of air and floor on the clock, every load in it."""
from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from skills.planning import course
from skills.planning.course import STEP_S, Firing, Watch
from skills.planning.firing_plan import DishPlan, Wish
from skills.planning.ladder import Ladder
from skills.planning.outcome import TENDED_SHUT_S, Array, Start

SHARES = (0.1, 0.5, 0.9)
AFTER_MEAL_S = 3600.0


@dataclass(frozen=True)
class Curve:
    """at_s (times,) epoch seconds; air_c and floor_c (3, times) [degC]: a tenth, half and nine tenths lie below."""
    at_s: Array
    air_c: Array
    floor_c: Array


def curve_of_plan(start: Start, plan: DishPlan, wish: Wish) -> Curve:
    """The curve of one dish, lit at the sure time."""
    light, pot = plan.row("light"), plan.row("pot in")
    assert pot is not None
    lit = (light.sure or light.at).timestamp() if light is not None else np.inf
    into = (pot.sure or pot.at).timestamp() if plan.mode == "ahead" else pot.at.timestamp()
    return _curve(start, lit, plan.outcome.fire_s, plan.outcome.small_kg, [(wish, into)],
                  plan.eat.timestamp() + AFTER_MEAL_S, wish.heat.fire)


def curve_of_ladder(start: Start, made: Ladder) -> Curve:
    """The curve of several dishes, lit at the sure time."""
    members = start.ensemble.members
    flame = made.tended and all(rung.wish.heat.fire for rung in made.rungs)
    small = np.zeros(members) if made.small_kg is None else made.small_kg
    return _curve(start, made.light.timestamp(), np.full(members, made.fire_s), small,
                  [(rung.wish, rung.into.timestamp()) for rung in made.rungs
                   if not rung.wish.heat.fire and not rung.wish.heat.dry],
                  made.eat.timestamp() + made.late_by_s + AFTER_MEAL_S, flame)


def _curve(start: Start, lit_s: float, fire_s: Array, small_kg: Array, loads: Sequence[tuple[Wish, float]],
           until_s: float, flame: bool) -> Curve:
    members = start.ensemble.members
    ensemble = course.tiled(start.ensemble, start.ensemble.names[0], 1)
    inf, full = np.full(members, np.inf), course.FEED_PIECES * course.piece_kg(ensemble)
    grid = int(np.floor(min(lit_s, *(at for _, at in loads), until_s) / STEP_S)) * STEP_S
    lit = np.full(members, lit_s) if np.isfinite(lit_s) else inf
    raked = np.round((lit + fire_s) / STEP_S) * STEP_S if np.isfinite(lit_s) and not start.tended else inf
    shut = raked + STEP_S if np.isfinite(lit_s) else -inf
    if start.tended and not flame:
        shut = lit + TENDED_SHUT_S if np.isfinite(lit_s) else -inf
        full = course.TENDED_SHARE * full
    elif flame:
        raked, shut, full = inf, inf, course.BRISK * full
    if start.burning and not np.isfinite(lit_s):
        lit, raked = np.full(members, float(start.ensemble.at_s)), start.ensemble.at_s + fire_s
        shut = raked + STEP_S
    firing = Firing(-inf, lit, raked, shut, np.full(members, full), small_kg, course.heat_j_kg(ensemble),
                    ensemble.numbers["rake_left"], lit_already=start.burning, spread=flame)
    watch = Watch(ensemble)
    if grid > ensemble.at_s + 3600:
        ensemble = course.run(ensemble, firing, grid - 1800, lambda *_: None, 1200)
    for place, (wish, at_s) in enumerate(sorted(loads, key=lambda each: each[1])):
        ensemble = course.run(ensemble, firing, max(int(at_s), ensemble.at_s), watch)
        ensemble = course.put_in(ensemble, f"{wish.dish}{place}", course.food(
            start.ensemble, start.setting, wish.dish, dict(wish.load)), [0])
        watch.restart(np.full((place + 1) * members, np.inf))
    course.run(ensemble, firing, int(until_s), watch)
    stack = np.stack(watch.heats_c)
    return Curve(np.array(watch.at_s, dtype=np.float64), np.quantile(stack[:, 0], SHARES, axis=1),
                 np.quantile(stack[:, 1], SHARES, axis=1))


