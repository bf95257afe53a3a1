"""The forecast as it stood at a message, in few numbers, kept with what was heard in it.

The log can so show later what was believed at the time, without running the models again and even by a later version
of them. Heats are whole degrees Celsius at MARKS_MIN after the moment, each as p05, p50, p95.
"""
from __future__ import annotations

from datetime import datetime, timedelta
from typing import Any

import numpy as np

from bot.log.foreseen import MARKS_MIN, SHARES
from skills.kitchen.forecast import EVERY_S, bands, later_quantile
from skills.view import View

PLACES = ("air", "floor", "dome")
# For the log alone no forecast is made that is younger than this after the last.
FRESH = timedelta(minutes=10)


def kept(view: View, last_at: datetime | None) -> dict[str, Any] | None:
    """What to keep of the present forecast; None while no oven is known.

    A forecast that was made for an answer is kept, or that the plan of prompts will look at: of whatever cooks. For the
    log alone one is made only if the last is old.
    """
    old = last_at is None or view.now - last_at >= FRESH or any(dish.cooking for dish in view.record.dishes.values())
    forecast = view.forecast() if old else view.made_already()
    if forecast is None or view.belief is None or not forecast.ovens:
        return None
    rows = [minute * 60 // EVERY_S for minute in MARKS_MIN]
    ovens: dict[str, Any] = {}
    for name, oven in forecast.ovens.items():
        ovens[name] = {place: _three(getattr(oven, f"{place}_c")[rows], 0) for place in PLACES}
        stored = view.belief.stored_j(name)
        if stored is not None:
            ovens[name]["stored_mj"] = [round(float(each), 1) for each in np.quantile(stored / 1e6, (0.05, 0.5, 0.95))]
    dishes: dict[str, Any] = {}
    for name, dish in forecast.dishes.items():
        times = [later_quantile(dish.tender_s, share) for share in SHARES]
        dishes[name] = {"core": _three(dish.core_c[rows], 0), "liquor": _three(dish.liquor_c[rows], 0),
                        "liquid": _three(dish.liquid_l[rows], 2),
                        "tender": [round(each) if np.isfinite(each) else None for each in times]}
    return {"at": round(float(forecast.at_s[0])), "ovens": ovens, "dishes": dishes}


def doubted(view: View) -> list[list[Any]] | None:
    """The readings that the models doubt now, each with what they expected; None while no oven is known."""
    if view.belief is None:
        return None
    return [[doubt.message, doubt.index, round(doubt.expected_p05_c), round(doubt.expected_p50_c),
             round(doubt.expected_p95_c)] for doubt in view.belief.doubted]


def _three(values: Any, digits: int) -> list[list[float]]:
    found = bands(values, digits)
    return [[int(each) if digits == 0 else each for each in found[label]] for label in ("p05", "p50", "p95")]
