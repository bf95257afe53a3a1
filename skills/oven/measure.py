"""Which reading is worth taking now: the one that narrows what people wait for the most.

For each place and tool the ensemble is asked: if this were read now, with that tool's error, how much of the spread of
the awaited time or heat would go? For a number that is the squared covariance over the variance of the reading
(the linear-Gaussian update); for a word ("simmering?") the variance between the members that would answer yes and no.
"""
from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime, timedelta

import numpy as np

from skills import vocabulary as v
from skills.dated import Dated
from skills.dish.cuts import has_core
from skills.dish.liquor import planned_look
from skills.dish.promise import promise
from skills.record import DishRecord, OvenRecord
from skills.skill import Reply
from skills.view import View
from skills.vocabulary import Measure
from skills.wording import Floats, capital, clock, quantile

# Errors of the tools [K]: a floor probe, a hanging thermometer, a spot of the gun, a probe in meat (heat reference,
# sections 9 to 11, and judgement where it gives none).
PROBE_K, HANGING_K, SPOT_K, CORE_K = 3.0, 6.0, 14.0, 3.0
# A simmer is seen within a few degrees of the boil (common practice, no source) [degC].
SIMMER_C = 95.0
# A word costs less than a number: it is asked for when it does nearly as well.
NEARLY = 0.75
# A reading that takes away less than this share of the spread is not worth the walk.
WORTH = 0.03
# A lid comes off for a look that is planned, no sooner than this before it (common practice, no source).
BEFORE_LOOK = timedelta(minutes=10)


@dataclass(frozen=True)
class Candidate:
    """Something to read: how to say it, whether it is a word, and the share of the awaited spread it takes away."""
    ask: str
    word: bool
    oven: str | None
    dish: str | None
    share: float


def _share_of_number(reading: Floats, error_k: float, awaited: Floats) -> float:
    """Share of the variance of `awaited` that a reading with this error takes away [-]."""
    spread = float(np.var(awaited))
    if spread <= 0.0:
        return 0.0
    covariance = float(np.mean((reading - reading.mean()) * (awaited - awaited.mean())))
    return covariance ** 2 / (float(np.var(reading)) + error_k ** 2) / spread


def _share_of_word(yes: np.ndarray, awaited: Floats) -> float:
    """Share of the variance of `awaited` between those who would answer yes and no [-]."""
    spread, part = float(np.var(awaited)), float(np.mean(yes))
    if spread <= 0.0 or part in (0.0, 1.0):
        return 0.0
    apart = float(awaited[yes].mean() - awaited[~yes].mean())
    return part * (1.0 - part) * apart ** 2 / spread


def next_look(dish: DishRecord, view: View) -> datetime | None:
    """When the pot is next looked into; None: nothing is foreseen of it."""
    believed = promise(dish, view)
    if believed is None:
        return None
    middle = quantile(believed.tender_s, 0.5)
    return planned_look(dish, view, middle) if np.isfinite(middle) else None


def look_is_due(dish: DishRecord, view: View, at: datetime) -> bool:
    """Whether what is inside the pot may be asked for at a time: a lid that comes off costs heat."""
    look = next_look(dish, view)
    return look is None or at >= look - BEFORE_LOOK


def candidates(view: View, oven: OvenRecord, dish: DishRecord | None, at: datetime | None = None) -> list[Candidate]:
    """Every reading that could be taken of an oven and what stands in it, the most telling first. at: when it would be
    taken; what is inside a pot only if a look is due by then."""
    forecast = view.forecast()
    if forecast is None or oven.name not in forecast.ovens:
        return []
    now = forecast.ovens[oven.name]
    believed = promise(dish, view) if dish is not None else None
    if believed is not None:
        awaited = np.minimum(believed.tender_s, forecast.at_s[-1] + 6 * 3600.0)
    else:
        awaited = np.asarray(forecast.ovens[oven.name].air_c[min(12, len(forecast.at_s) - 1)])
    name = oven.name
    found = [
        Candidate(f"the {name} floor probe", False, name, None, _share_of_number(now.floor_c[0], PROBE_K, awaited)),
        Candidate(f"the {name} air by the door, door shut", False, name, None,
                  _share_of_number(now.air_c[0], HANGING_K, awaited)),
        Candidate(f"the {name} ceiling by the gun, two spots", False, name, None,
                  _share_of_number(now.dome_c[0], SPOT_K, awaited)),
    ]
    opened = dish is not None and look_is_due(dish, view, at or view.now)
    if dish is not None and believed is not None and opened and len(forecast.dishes[dish.name].core_c):
        inside = forecast.dishes[dish.name]
        if has_core(dish):
            found.append(Candidate(f"the core of the {dish.name}", False, name, dish.name,
                                   _share_of_number(inside.core_c[0], CORE_K, awaited)))
        found += [
            Candidate(f"one word on the {dish.name}: simmering or not", True, name, dish.name,
                      _share_of_word(inside.liquor_c[0] >= SIMMER_C, awaited)),
            Candidate(f"a fork in the {dish.name}: tough, giving or tender" if has_core(dish) else
                      f"one word on the {dish.name}: soft or still hard", True, name, dish.name,
                      _share_of_word(believed.tender_s <= view.now.timestamp(), awaited)),
        ]
    return sorted(found, key=lambda each: -each.share)


def best(found: Iterable[Candidate]) -> Candidate | None:
    """The most telling reading; a word instead of a number where it does nearly as well."""
    ranked = list(found)
    if not ranked or ranked[0].share < WORTH:
        return None
    words = [each for each in ranked if each.word and each.share >= NEARLY * ranked[0].share]
    return words[0] if words else ranked[0]


def say_measure(question: Measure, view: View) -> Reply:
    """ "which reading do you want next?" """
    dish = view.dish(question.dish)
    if dish is None and question.dish is None:
        # Of several pots the one that is looked into next.
        looks = [(look, each) for each in view.record.dishes.values()
                 if question.oven in (None, each.oven) and each.tender not in ("tender", "falling")
                 and (look := next_look(each, view)) is not None]
        dish = min(looks, key=lambda pair: pair[0])[1] if looks else None
    oven = view.oven(question.oven or (dish.oven if dish is not None else None))
    if oven is None and view.record.ovens:
        oven = next(iter(view.record.ovens.values()))
    if oven is None:
        return Reply(("Anything at all: what does the oven read? Such as 'dome floor 180 air 170'.",))
    if dish is not None and (dish.oven != oven.name or dish.tender in ("tender", "falling")):
        dish = None
    wait_for = _wait_line(dish, view) if dish is not None else ()
    chosen = best(candidates(view, oven, dish))
    if chosen is None:
        return Reply(wait_for or ("Nothing would change what I say by much just now. Leave the door on.",))
    believed = promise(dish, view) if dish is not None else None
    wait = f"{dish.name} {believed.when()}" if believed and dish else \
        f"the {oven.name}'s air in two hours"
    return Reply((*wait_for,
                  f"{capital(chosen.ask)}, please. It takes {_parts(chosen.share)} off the doubt in: {wait}."))


def _wait_line(dish: DishRecord, view: View) -> tuple[str, ...]:
    """Before the planned look: what a look now would cost, for nothing."""
    look = next_look(dish, view)
    if look is None or look_is_due(dish, view, view.now):
        return ()
    base = promise(dish, view)
    now = Dated(view.now, view.now, "", "look", 0, v.Check(simmer="gentle"), dish.oven, dish.name)
    after = promise(dish, view, forecast=view.what_if([now]))
    cost = 0.0
    if base is not None and after is not None:
        both = np.isfinite(base.tender_s) & np.isfinite(after.tender_s)
        cost = float(np.median(after.tender_s[both] - base.tender_s[both])) / 60.0 if both.any() else 0.0
    costs = f"costs about {cost:.0f} min" if cost >= 1.0 else "costs little heat"
    return (f"{capital(dish.name)}: lid on till {clock(look)}. A look now {costs} and tells nothing yet.",)


def _parts(share: float) -> str:
    """ "a third" of the spread, not of its square. """
    spread = 1.0 - float(np.sqrt(max(0.0, 1.0 - min(share, 1.0))))
    steps = ((0.07, "a little"), (0.17, "about a tenth"), (0.29, "about a quarter"), (0.42, "about a third"),
             (0.6, "about half"))
    return next((words for most, words in steps if spread < most), "most")

