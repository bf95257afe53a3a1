"""The one best move for a dish that will miss the meal. Each is run through the model before it is said."""
from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime, timedelta

import numpy as np

from skills import vocabulary as v
from skills.dated import Dated
from skills.dish.promise import Promise, promise
from skills.kitchen import Forecast
from skills.record import DishRecord, OvenRecord
from skills.view import REST, View
from skills.wording import day_clock, moment, quantile, the

# Shares of the meal on time under which a move is looked for, and with which an eating time is named.
BEHIND, SURE = 0.6, 0.8
# A move that wins less than this over only eating later is not worth the trouble; nor is one for a short wait
# (levers in order of cost: job notes; minutes: common practice, no source).
WORTH = timedelta(minutes=15)
SHORT_WAIT = timedelta(minutes=15)
# A ring takes a person to watch it: only for the last hours, and for more (common practice, no source).
RING_WITHIN, RING_WORTH = timedelta(hours=2), timedelta(minutes=30)
# Another oven has to be this much hotter [K]; over HOTTEST_C a lidded pot scorches (common practice, no source).
HOTTER_K, HOTTEST_C = 8.0, 230.0
# A meal put off by more than this is another meal (common practice, no source).
TOO_LATE = timedelta(hours=3)
FEED_EVERY = timedelta(minutes=35)
FED_FOR = timedelta(hours=3)
RING_HOURS = 8.0


@dataclass(frozen=True)
class Move:
    """What is done, and the eating time that then holds with 4 in 5 (None: none in sight)."""
    words: str
    then: Promise
    eat: datetime | None

    def line(self) -> str:
        if self.eat is None:
            return "No eating time I can see would be sure, with any move I know: think of plan B."
        table = f"eat {day_clock(self.eat, self.then.now)}"
        if self.then.serve is not None and self.eat - self.then.serve > TOO_LATE:
            first = f"Best move: {self.words}: {self.then.when()}; sure" if self.words else "Sure"
            return f"{first} only by {day_clock(self.eat, self.then.now)}: think of plan B."
        if not self.words:
            return f"Best move: {table}: 4 in 5."
        return f"Best move: {self.words}: {self.then.when()}, {table}."


def eating_time(believed: Promise, share: float = SURE) -> datetime | None:
    """The time at which it is on the table with this share, to the next five minutes; never before the meal's own."""
    table_s = quantile(believed.tender_s, share) + REST.total_seconds()
    if not math.isfinite(table_s):
        return None
    at = moment(math.ceil(table_s / 300) * 300, believed.now.tzinfo)
    return max(at, believed.serve) if believed.serve is not None else at


def best_move(dish: DishRecord, view: View, by: datetime | None = None) -> Move | None:
    """The cheapest of the moves that bring the meal forward most; eating later if none does enough.

    None: no meal is to come, or it is only the liquor that threatens it.
    """
    base = promise(dish, view, by)
    if base is None or base.serve is None:
        return None
    wait = Move("", base, eating_time(base))
    if wait.eat == base.serve:
        return None
    if wait.eat is not None and wait.eat - base.serve <= SHORT_WAIT:
        return wait
    best = wait
    for words, worth, forecast in _moves(dish, base.serve, view):
        then = promise(dish, view, by, forecast)
        if then is None:
            continue
        move = Move(words, then, eating_time(then))
        if move.eat is not None and (best.eat is None or best.eat - move.eat >= worth):
            best = move
    return best


def _moves(dish: DishRecord, serve: datetime, view: View) -> Iterator[tuple[str, timedelta, Forecast]]:
    """Moves in order of cost, what each has to win, and what would come of it."""
    belief = view.belief
    own = view.record.ovens.get(dish.oven or "")
    here = None if belief is None or own is None else belief.ovens.get(own.name)
    if belief is None or own is None or here is None:
        return
    if dish.lid == "off":
        then = view.what_if([Dated(view.now, view.now, "", "move", 0, v.Pot(act="lid_on"), own.name, dish.name)])
        if then is not None:
            yield f"lid back on the {dish.name} now", WORTH, then
    for name, other in belief.ovens.items():
        air_c = other.quantile("air", 0.5)
        record = view.record.ovens.get(name)
        fit = here.quantile("air", 0.5) + HOTTER_K <= air_c <= HOTTEST_C
        if record is None or name == own.name or not fit or (record.burning and not _tended(record)):
            continue
        moved = Dated(view.now, view.now, "", "move", 0, v.Pot(act="moved"), name, dish.name)
        then = view.what_if([moved])
        if then is not None:
            yield f"{dish.name} to {the([name])} at {5 * round(air_c / 5)} now", WORTH, then
    if own.burning and _tended(own):
        then = view.what_if(list(_feeds(own, view)))
        if then is not None and _air_top_c(then, own.name) <= HOTTEST_C:
            yield f"one more split on {the([own.name])} now and at each feed", WORTH, then
    if (dish.liquid_l or 0.0) > 0.0 and serve - view.now <= RING_WITHIN:
        then = belief.on_ring(dish.name, RING_HOURS)
        yield f"{dish.name} on a ring now, lid on, gentle simmer", RING_WORTH, then


def _tended(oven: OvenRecord) -> bool:
    return oven.fired != "retained"


def _feeds(oven: OvenRecord, view: View) -> Iterator[Dated]:
    """The usual feeds of the next hours with a split more on each."""
    routine = None if view.belief is None else view.belief.routine(oven.name)
    every = FEED_EVERY if routine is None else timedelta(seconds=routine.interval_s)
    pieces = 1.0 if routine is None else (routine.pieces or 1.0) + 1.0
    kg = None if routine is None or routine.kg is None else routine.kg * pieces / (pieces - 1.0)
    for count in range(int(FED_FOR / every)):
        fed = v.Fire(act="fed", pieces=pieces, wood_kg=kg)
        yield Dated(view.now + count * every, view.now, "", "move", count, fed, oven.name)


def _air_top_c(forecast: Forecast, oven: str) -> float:
    """The hottest that the air is foreseen to be [degC]."""
    return float(np.median(forecast.ovens[oven].air_c, axis=1).max())
