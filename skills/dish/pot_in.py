"""A dish that is still to go in: when, what it meets there, what that makes of the meal, and what waiting costs."""
from __future__ import annotations

from datetime import datetime

import numpy as np

from skills import vocabulary as v
from skills.dated import Dated
from skills.dish.promise import Promise, promise
from skills.oven.settling import settling, waits_for_a_pot
from skills.planning.raking import is_fired, raking
from skills.record import DishRecord, OvenRecord
from skills.view import View
from skills.wording import Floats, capital, clock, moment, quantile, the

# Waiting is told for an oven that has fallen so much further [K].
FALLEN_K = 20.0
# An oven cooler than this takes no pot: nothing simmers in it (common practice, no source) [degC].
LEAST_C = 90.0
# A wait that costs less than this at the table is not told [min].
WORTH_MIN = 5.0


def where_to(view: View) -> OvenRecord | None:
    """The oven that the next dish goes into: the one raked for it, else the one that is fired, else the only one."""
    ovens = list(view.record.ovens.values())
    for fits in (waits_for_a_pot, is_fired):
        found = [oven for oven in ovens if fits(oven, view)]
        if len(found) == 1:
            return found[0]
    return view.oven(None)


def ready_at(oven: OvenRecord, view: View) -> datetime:
    """When the oven has settled; now, if it is in use or nothing is known of it."""
    found = settling(oven, view) if waits_for_a_pot(oven, view) else None
    return max(found.ready, view.now) if found is not None and found.ready is not None else view.now


def put_in(dish: DishRecord, oven: OvenRecord, at: datetime, view: View) -> Promise | None:
    """What would come of putting it in at a time; None if the models hold too little of it."""
    acts = [Dated(at, view.now, "", "pot-in", 0, v.Pot(act="in"), oven.name, dish.name)]
    return promise(dish, view, forecast=view.what_if(acts))


def say_pot_in(dish: DishRecord | None, oven: OvenRecord, view: View) -> tuple[str, ...]:
    """When the oven takes a pot, and for a dish that is known what comes of it."""
    fired = raking(oven, view) if is_fired(oven, view) else None
    if fired is not None:
        at = fired.pot_in
        rake = "rake now" if fired.due else f"rake {clock(fired.rake)}"
        lines: tuple[str, ...] = (f"{capital(oven.name)} still burns: {rake}, settle, pot in about {clock(at)}.",)
    else:
        found = settling(oven, view) if waits_for_a_pot(oven, view) else None
        air_c = _air_c(oven, view) if found is None else None
        if air_c is not None and air_c < LEAST_C:
            return (f"{capital(oven.name)} air about {air_c:.0f} by my figures: too cool for a pot. Light it first.",)
        lines = found.lines() if found is not None else _as_it_stands(oven, air_c)
        at = ready_at(oven, view)
    then = put_in(dish, oven, at, view) if dish is not None else None
    if dish is None or then is None:
        return lines
    return (*lines, f"{then.eta_line()} {then.odds_line()} {_wait(dish, oven, at, then, view)}".strip())[:3]


def _air_c(oven: OvenRecord, view: View) -> float | None:
    """The air of an oven now, as likely above as below [degC]; None if nothing is known of it."""
    forecast = view.forecast()
    if forecast is None or oven.name not in forecast.ovens:
        return None
    return quantile(forecast.ovens[oven.name].air_c[0], 0.5)


def _as_it_stands(oven: OvenRecord, air_c: float | None) -> tuple[str, ...]:
    if air_c is None:
        return (f"Nothing is known of {the([oven.name])} yet. Say when it was lit and what it reads.",)
    return (f"{capital(oven.name)} air about {air_c:.0f}: a pot can go in as it stands.",)


def _wait(dish: DishRecord, oven: OvenRecord, at: datetime, then: Promise, view: View) -> str:
    """ "Waiting to 180 costs 25 min." """
    forecast = view.forecast()
    if forecast is None or oven.burning or oven.name not in forecast.ovens:
        return ""
    air: Floats = np.median(forecast.ovens[oven.name].air_c, axis=1)
    first = int(np.clip(np.searchsorted(forecast.at_s, at.timestamp()), 0, len(air) - 1))
    mark = 5.0 * round((float(air[first]) - FALLEN_K) / 5.0)
    below = np.flatnonzero(air[first:] <= mark)
    if not len(below):
        return ""
    waited = put_in(dish, oven, moment(float(forecast.at_s[first + below[0]]), view.now.tzinfo), view)
    if waited is None:
        return ""
    both = np.isfinite(then.tender_s) & np.isfinite(waited.tender_s)
    cost_min = float(np.median(waited.tender_s[both] - then.tender_s[both])) / 60.0 if both.any() else 0.0
    return f"Waiting to {mark:.0f} costs {5 * round(cost_min / 5):.0f} min." if cost_min >= WORTH_MIN else ""
