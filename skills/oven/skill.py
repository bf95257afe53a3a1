"""What the ovens hold now and later, and which reading is missed."""
from __future__ import annotations

from collections.abc import Iterable
from datetime import timedelta

import numpy as np

from skills.dated import Dated, coming_time
from skills.dish.brief import is_brief
from skills.dish.promise import promise
from skills.oven.drift import drift_prompts, gun_prompts, morning_prompts
from skills.oven.measure import best, candidates, next_look, say_measure
from skills.oven.stages import stage_lines
from skills.oven.what_if import EXAMPLES, say_what_if
from skills.oven.why import say_why
from skills.record import OvenRecord
from skills.skill import Prompt, Reply, Skill
from skills.view import View
from skills.vocabulary import Measure, OvenAt, Reading, Status, WhatIf, Why
from skills.wording import (
    capital,
    clock,
    day_clock,
    heat_range,
    moment,
    number,
    quantile,
    time_range,
    to_five,
    which_oven,
)

PLACES = {"floor": "floor_c", "air": "air_c", "dome": "dome_c", "back": "dome_c", "wall": "dome_c", "mouth": "air_c"}
WORDS = {"floor": "floor", "air": "air", "dome": "ceiling", "back": "ceiling", "wall": "ceiling", "mouth": "air"}

# People wait for an answer: after this long without any word of oven or dish, one reading is worth asking for.
SILENT = timedelta(minutes=75)
# A look that is due this soon is not asked for twice (common practice, no source).
SOON = timedelta(minutes=20)


def _no_oven(name: str | None, view: View) -> Reply:
    return Reply((which_oven(list(view.record.ovens), name),))


def say_oven_at(question: OvenAt, view: View) -> Reply:
    """ "what will the dome be at three?", "when do we drop to 120?" """
    oven = view.oven(question.oven)
    forecast = view.forecast(hours=14.0)
    if oven is None or forecast is None or oven.name not in forecast.ovens:
        return _no_oven(question.oven, view)
    believed = forecast.ovens[oven.name]
    place = question.place or "air"
    name = capital(oven.name)
    if question.celsius is not None:
        samples = getattr(believed, PLACES[place])
        return Reply((_crossing(name, WORDS[place], samples, forecast.at_s, question.celsius, view),))
    at = coming_time(question.by, view.now) if question.by else view.now
    step = int(np.argmin(np.abs(forecast.at_s - at.timestamp())))
    if at.timestamp() > forecast.at_s[-1] + 600:
        return Reply((f"{day_clock(at, view.now)} is further off than I can see. Ask for a time before "
                      f"{day_clock(moment(float(forecast.at_s[-1]), view.now.tzinfo), view.now)}.",))
    if question.place is not None:
        return Reply((f"{name} {WORDS[place]} at {day_clock(at, view.now)}: "
                      f"{heat_range(getattr(believed, PLACES[place])[step])}.",))
    return Reply((f"{name} at {day_clock(at, view.now)}: air {heat_range(believed.air_c[step])}, "
                  f"floor {heat_range(believed.floor_c[step])}.",))


def _crossing(name: str, place: str, samples: np.ndarray, at_s: np.ndarray, celsius: float, view: View) -> str:
    """When a falling heat passes a figure, over the ensemble."""
    first = samples[0]
    falling = float(np.median(first)) >= celsius
    reached = (samples <= celsius) if falling else (samples >= celsius)
    hit = reached.any(axis=0)
    times = np.where(hit, at_s[reached.argmax(axis=0)], np.inf)
    if not np.isfinite(quantile(times, 0.5)):
        last = day_clock(moment(float(at_s[-1]), view.now.tzinfo), view.now)
        verb = "stays above" if falling else "stays below"
        return f"{name} {place} {verb} {celsius:g} as far as I can see, to {last} " \
               f"(then {heat_range(samples[-1])})."
    verb = "down to" if falling else "up to"
    return f"{name} {place} {verb} {celsius:g} {time_range(times, view.now)}."


def _oven_line(oven: OvenRecord, view: View) -> str:
    said = []
    forecast = view.forecast()
    if forecast is not None and oven.name in forecast.ovens:
        believed = forecast.ovens[oven.name]
        air, floor = (float(np.median(each[0])) for each in (believed.air_c, believed.floor_c))
        later = min(len(forecast.at_s) - 1, 6)
        trend = float(np.median(believed.floor_c[later])) - floor
        moving = f" and {'rising' if trend > 0 else 'falling'} {abs(trend):.0f} an hour" if abs(trend) >= 3 else ""
        said.append(f"air about {air:.0f}, floor about {floor:.0f}{moving}")
    reading = view.last_reading(oven.name)
    if reading is not None:
        said.append(_read(reading, view))
    elif not said:
        said.append("nothing read yet")
    if oven.burning:
        said.append("fire in")
    if oven.door:
        said.append(f"door {oven.door}")
    return f"{capital(oven.name)}: {', '.join(said)}."


def _read(reading: Dated, view: View) -> str:
    """The last reading, and whether it was believed: "is that number right?"."""
    fact = reading.fact
    assert isinstance(fact, Reading)
    value = f"{fact.place or 'reading'} {number(fact.celsius)}" if fact.celsius is not None else "a hand count"
    doubt = next((each for each in view.belief.doubted if (each.message, each.index) == (
        reading.message, reading.index)), None) if view.belief is not None else None
    if doubt is None:
        return f"last read {value} at {clock(reading.at)}"
    return f"{value} at {clock(reading.at)} not used: I had {doubt.expected_p50_c:.0f} " \
           f"({doubt.expected_p05_c:.0f} to {doubt.expected_p95_c:.0f}), read it again"


def say_status(question: Status, view: View) -> Reply:
    """ "how's the dome?", "where are we?" """
    from skills.dish.skill import say_when_done
    from skills.vocabulary import Eta
    if question.oven is not None:
        oven = view.oven(question.oven)
        if oven is None:
            return _no_oven(question.oven, view)
        return Reply((_oven_line(oven, view), *stage_lines(oven, view))[:3])
    if question.dish is not None:
        return say_when_done(Eta(dish=question.dish), view)
    if not view.record.ovens and not view.record.dishes:
        return _no_oven(None, view)
    used = [oven for oven in view.record.ovens.values() if _used(oven, view)] or list(view.record.ovens.values())
    stages = [stage_lines(oven, view) for oven in used[:2]]
    lines = [line for oven, said in zip(used, stages, strict=False)
             for line in ((*said, _oven_line(oven, view)) if len(used) == 1 else said or (_oven_line(oven, view),))]
    cooking = [dish for dish in view.record.dishes.values() if dish.cooking]
    if cooking:
        parts = []
        for dish in cooking[:3]:
            believed = promise(dish, view)
            when = believed.when() if believed else "in" if is_brief(dish) else "no forecast yet"
            parts.append(f"{capital(dish.name)} {when}")
        eating = "" if view.serve is None else f" Eating {day_clock(view.serve, view.now)}."
        lines.append(f"{'; '.join(parts)}.{eating}")
    elif view.serve is not None and view.record.ended is None and not any(stages):
        lines.append(f"No pot in an oven. Eating {day_clock(view.serve, view.now)}.")
    return Reply(tuple(lines[-3:] if cooking else lines[:3]))


def _used(oven: OvenRecord, view: View) -> bool:
    """Whether more than its size was told of it."""
    return oven.lit_at is not None or bool(oven.readings) or any(
        dish.oven == oven.name for dish in view.record.dishes.values())


def reading_prompts(view: View) -> Iterable[Prompt]:
    """Nothing has been heard of an oven with a dish in it for too long to answer what people wait for."""
    if view.record.ended is not None:
        return
    for oven in view.record.ovens.values():
        waiting = [dish for dish in view.record.dishes.values()
                   if dish.oven == oven.name and dish.tender not in ("tender", "falling")]
        if not waiting:
            continue
        dish = waiting[0]
        heard = max((dated.at for dated in view.record.facts
                     if (dated.oven == oven.name and dated.fact.is_ == "reading") or
                     (dated.dish == dish.name and dated.fact.is_ in ("check", "food", "pot"))), default=view.now)
        due = view.when_there(max(heard + SILENT, view.now))
        believed = promise(dish, view)
        if believed is None:
            continue
        if quantile(believed.tender_s, 0.5) <= (due + SOON).timestamp():
            continue                        # the look that is due then tells more
        spread_s = quantile(believed.tender_s, 0.9) - quantile(believed.tender_s, 0.1)
        if spread_s < 1200:
            continue
        who = view.minder(oven.name, dish.name)
        wanted = best(candidates(view, oven, dish, due))
        look = next_look(dish, view)
        if wanted is None and look is not None and look > due:
            # Nothing from outside would tell: it waits for the look that is planned.
            due = view.when_there(look)
            wanted = best(candidates(view, oven, dish, due))
        if wanted is None:
            continue
        yield Prompt("reading", f"reading:{oven.name}:{heard.isoformat()}", due,
                     f"{who}: {wanted.ask}, please, by {clock(to_five(due + timedelta(minutes=15)))}. "
                     f"No word since {clock(heard)}; {dish.name} {believed.when()}.",
                     oven.name, None, who, due + timedelta(minutes=45))


SKILL = Skill(
    name="oven", about="how hot the ovens are now and later",
    answers={OvenAt: say_oven_at, Status: say_status, WhatIf: say_what_if,
             Measure: say_measure, Why: say_why},
    prompts=(reading_prompts, drift_prompts, gun_prompts, morning_prompts),
    examples=("what will the dome be at three?", "when do we drop to 120?", "where are we?",
              "which reading do you want next?", "why is the probe still climbing?", *EXAMPLES),
)
