"""Whether the liquor lasts to the table, and the one word in time: how much to add, before the look that is planned."""
from __future__ import annotations

import math
import re
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime, timedelta

import numpy as np

from skills.dish.promise import (
    DRY_L,
    GOOD_L_KG,
    LEAST_L,
    LOOKS_S,
    LOW_L_KG,
    USUAL_KG,
    first_look,
    promise,
)
from skills.record import DishRecord
from skills.skill import Prompt, Reply
from skills.view import REST, View
from skills.vocabulary import Pot
from skills.wording import capital, clock, moment, quantile, to_five

# Shares of the ensemble: as likely low as not, or one in five dry.
LIKELY_LOW, LIKELY_DRY = 0.5, 0.2
STEP_L, MOST_L = 0.1, 1.0
LOOKS = timedelta(seconds=LOOKS_S)
NOTICE = timedelta(minutes=15)       # to boil a kettle
# What is asked for when somebody asks whether it lasts.
LIQUOR = re.compile(r"\b(?:liquor|liquid|stock|water|broth|juices?|gravy)\b")


@dataclass(frozen=True)
class Liquor:
    """left_l: the middle figure at `table`; low: when it is as likely low as not, or may be dry; add_l: what to add."""
    left_l: float
    table: datetime
    low: datetime
    add_l: float


def running_low(dish: DishRecord, view: View) -> Liquor | None:
    """Whether a dish is likely to want liquor before it comes out."""
    believed, forecast = promise(dish, view), view.forecast()
    if believed is None or forecast is None or not (dish.liquid_l or 0.0) > DRY_L:
        return None
    litres = forecast.dishes[dish.name].liquid_l
    until_s = quantile(believed.tender_s, 0.5)
    if believed.serve is not None and believed.serve > view.now:
        until_s = max(until_s if math.isfinite(until_s) else 0.0, (believed.serve - REST).timestamp())
    last = int(np.searchsorted(forecast.at_s, until_s))
    if not 0 < last < len(forecast.at_s):
        return None
    kg = dish.meat_kg or USUAL_KG
    floor_l = max(LEAST_L, LOW_L_KG * kg)
    path = litres[: last + 1]
    short = (np.mean(path < floor_l, axis=1) >= LIKELY_LOW) | (np.mean(path < DRY_L, axis=1) >= LIKELY_DRY)
    if not short.any():
        return None
    low = moment(float(forecast.at_s[int(short.argmax())]), view.now.tzinfo)
    left = float(np.median(path[-1]))
    wanted = max(GOOD_L_KG * kg, LEAST_L + STEP_L) - left
    add = min(MOST_L, max(2 * STEP_L, math.ceil(wanted / STEP_L - 1e-9) * STEP_L))
    return Liquor(left, moment(until_s, view.now.tzinfo), low, add)


def planned_look(dish: DishRecord, view: View, tender_s: float) -> datetime:
    """When somebody will next look: six tenths of the way, or an hour after the last look."""
    if dish.looked_at is not None:
        return max(to_five(dish.looked_at + LOOKS), view.now)
    return max(first_look(dish, tender_s, view.now), view.now)


def liquid_prompts(view: View) -> Iterable[Prompt]:
    """Said once for each filling: before the planned look, or before it gets low if no look comes first."""
    if view.record.ended is not None:
        return
    for dish in view.record.dishes.values():
        if not dish.cooking or dish.served:
            continue
        who = view.minder(dish.oven, dish.name)
        filled = sum(1 for dated in view.record.facts if dated.dish == dish.name and isinstance(dated.fact, Pot)
                     and dated.fact.act == "topped_up")
        key = f"liquid:{dish.name}:{filled}"
        if key in view.said:
            continue
        if dish.liquid == "low" and dish.looked_at is not None:
            yield Prompt("liquid", key, view.now, f"{who}: {dish.name} is low: add {_ml(_refill_l(dish))} boiling now, "
                         "lid on.", dish.oven, dish.name, who, view.now + LOOKS, urgent=True)
            continue
        found, believed = running_low(dish, view), promise(dish, view)
        if found is None or believed is None:
            continue
        middle = quantile(believed.tender_s, 0.5)
        look = planned_look(dish, view, middle) if math.isfinite(middle) else found.low
        at = min(look, to_five(found.low))
        due = max(at - NOTICE, view.now)
        when = f"at the {clock(at)} look" if at > view.now + NOTICE else "now"
        yield Prompt("liquid", key, due, f"{who}: {liquor_words(dish, found)} add {_ml(found.add_l)} boiling {when}.",
                     dish.oven, dish.name, who, max(found.low, due) + LOOKS, urgent=True,
                         act_at=max(at, view.now),
                         late=f"{liquor_words(dish, found)} add {_ml(found.add_l)} boiling at the next look, no later.")


def _refill_l(dish: DishRecord) -> float:
    return max(2 * STEP_L, round((GOOD_L_KG - 0.5 * LOW_L_KG) * (dish.meat_kg or USUAL_KG) / STEP_L) * STEP_L)


def liquor_words(dish: DishRecord, found: Liquor) -> str:
    left = "may be dry" if found.left_l < LEAST_L else f"about {found.left_l:.1f} l left"
    return f"{dish.name} {left} by {clock(to_five(found.table))}:"


def liquor_line(dish: DishRecord, view: View) -> str:
    """The same for an answer; nothing if the liquor lasts."""
    found, believed = running_low(dish, view), promise(dish, view)
    if found is None or believed is None:
        return ""
    middle = quantile(believed.tender_s, 0.5)
    look = planned_look(dish, view, middle) if math.isfinite(middle) else found.low
    at = min(look, to_five(found.low))
    when = f"at the {clock(at)} look" if at > view.now + NOTICE else "now, or at the next look"
    return f"{capital(liquor_words(dish, found))} add {_ml(found.add_l)} boiling {when}."


def say_liquor(name: str | None, view: View) -> Reply:
    """ "is there enough liquor?": what is left at the table, and what to add, for each pot that cooks."""
    found = view.dish(name)
    dishes = [found] if found is not None else [dish for dish in view.record.dishes.values() if dish.cooking]
    lines = []
    for dish in dishes[:3]:
        believed, forecast = promise(dish, view), view.forecast()
        if believed is None or forecast is None:
            continue
        if not (dish.liquid_l or 0.0) > DRY_L:
            lines.append(f"{capital(dish.name)}: how much liquid went in? Such as '{dish.name}, 1 l stock'.")
            continue
        if line := liquor_line(dish, view):
            lines.append(line)
            continue
        litres = forecast.dishes[dish.name].liquid_l
        middle = quantile(believed.tender_s, 0.5)
        step = int(np.clip(np.searchsorted(forecast.at_s, middle), 0, len(forecast.at_s) - 1))
        low, mid = (float(np.quantile(litres[step], share)) for share in (0.1, 0.5))
        when = clock(to_five(moment(float(forecast.at_s[step]), view.now.tzinfo)))
        sure = "enough" if low >= LEAST_L else "likely enough, see at the next look"
        lines.append(f"{capital(dish.name)}: {sure}. About {mid:.1f} l left by {when}, {low:.1f} at the least.")
    return Reply(tuple(lines) or ("No pot with liquor is in an oven by my log. Such as 'lamb in, 1 l hot stock'.",))


def _ml(litres: float) -> str:
    return f"{litres:.1f} l" if litres >= 1.0 else f"{round(litres * 1000)} ml"
