""" "how many pots can it take?": the places on each floor, and what one cold pot more costs that oven in heat."""
from __future__ import annotations

import re

import numpy as np

from skills import vocabulary as v
from skills.dated import Dated
from skills.planning.firing_plan import POT_FOOT_M2
from skills.record import OvenRecord
from skills.skill import Reply
from skills.view import View
from skills.wording import capital, which_oven

# The pot that is reckoned with (common practice, no source).
POT = {"meat_kg": 3.0, "liquid_l": 1.0, "pan": "iron pot"}
NAME = "one more pot"
# The oven has paid for most of it an hour after it went in.
PAID_STEP = 6
# Cooler than this an oven takes no pot yet [degC]; a saving smaller than this is not told [-].
HOT_C, TOLD = 90.0, 0.1
POTS = re.compile(r"\b(?:pots?|pans?|casseroles?|dishes|trays)\b")


def say_room(view: View) -> Reply:
    """How many pots each oven in use takes."""
    used = [oven for oven in view.record.ovens.values() if oven.lit_at is not None or oven.readings]
    lines, saves = [], []
    for oven in used[:2]:
        if not _is_hot(oven, view):
            lines.append(f"{capital(oven.name)}: room for {_places(oven, view)}; not hot enough for one yet.")
            continue
        cold, hot = (_cost_k(oven, start, view) for start in ("cold", "hot"))
        if cold is None or hot is None:
            continue
        if cold >= 2.0:
            saves.append(1.0 - hot / cold)
        lines.append(f"{capital(oven.name)}: room for {_places(oven, view)}; each cold pot of 3 kg and 1 l costs it "
                     f"about {max(1.0, cold):.0f} degrees.")
    if not lines:
        return Reply((which_oven(list(view.record.ovens)) if not view.record.ovens else
                      "No oven has been lit or read yet. Say 'lit the dome', then ask again.",))
    if saves and float(np.mean(saves)) >= TOLD:
        parts = round(1.0 / float(np.mean(saves)))
        lines.append(f"Stock in boiling, not cold: saves about a {_PARTS.get(parts, 'tenth')} of that.")
    return Reply(tuple(lines[:3]))


_PARTS = {1: "half", 2: "half", 3: "third", 4: "quarter", 5: "fifth", 6: "sixth"}


def _is_hot(oven: OvenRecord, view: View) -> bool:
    forecast = view.forecast()
    return forecast is None or oven.name not in forecast.ovens or \
        float(np.median(forecast.ovens[oven.name].air_c[0])) >= HOT_C


def _places(oven: OvenRecord, view: View) -> str:
    standing = view.belief.standing if view.belief is not None else None
    if standing is None or oven.name not in standing.names:
        return "pots that I cannot count"
    floor_m2 = float(np.median(standing.built.floor_m2[standing.lanes(standing.names.index(oven.name))]))
    room = max(1, int(floor_m2 / POT_FOOT_M2))
    inside = sum(1 for dish in view.record.dishes.values() if dish.oven == oven.name)
    return f"about {room} pot{'s' if room > 1 else ''}" + (f", {inside} in" if inside else "")


def _cost_k(oven: OvenRecord, start: str, view: View) -> float | None:
    """What one more pot takes off the air an hour later [K]; None if the models do not follow the oven."""
    base = view.forecast()
    load = v.Load.model_validate({"is": "load", "dish": NAME, "start": start, **POT})
    acts = [Dated(view.now, view.now, "", "room", index, fact, oven.name, NAME)
            for index, fact in enumerate((load, v.Pot(act="in", dish=NAME), v.Door(state=oven.door or "on")))]
    then = view.what_if(acts)
    if base is None or then is None or oven.name not in base.ovens:
        return None
    return float(np.median(base.ovens[oven.name].air_c[PAID_STEP] - then.ovens[oven.name].air_c[PAID_STEP]))
