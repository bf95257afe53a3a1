"""What is out of true: an oven that has changed since an earlier class, a gun that reads low all day.

And the next morning's reading, the best measure of an oven's losses.
"""
from __future__ import annotations

from collections.abc import Iterable
from datetime import date, datetime, timedelta

from skills.kitchen.character import Drift, drift
from skills.record import OvenRecord
from skills.skill import Prompt
from skills.view import View
from skills.wording import capital, the

# Before this hour of the next day nobody is asked, and after the other one the oven may be lit again.
MORNING, TOO_LATE = 8, 12
# Shares as people say them, each for the ratios from it up to the next.
_PARTS = ((2.4, "more than twice as fast as"), (1.75, "nearly twice as fast as"), (1.42, "about half faster than"),
          (1.29, "about a third faster than"), (1.22, "about a quarter faster than"),
          (0.0, "about a fifth faster than"))


def say_day(day: str, today: date) -> str:
    """ "12 April", with the year when it is not this one. """
    then = date.fromisoformat(day)
    return f"{then.day} {then:%B}" + ("" if then.year == today.year else f" {then.year}")


def say_drift(oven: str, found: Drift, today: date) -> str:
    """ "The barrel loses heat about a third faster than on 12 April: look at the door seal or damp insulation." """
    day = say_day(found.since, today)
    if found.ratio < 1.0:
        part = next(words for least, words in _PARTS if 1.0 / found.ratio >= least)
        return f"{capital(oven)} keeps its heat better than on {day}, when it went {part} now."
    part = next(words for least, words in _PARTS if found.ratio >= least)
    return f"{capital(oven)} loses heat {part} on {day}: look at the door seal or damp insulation."


def drift_prompts(view: View) -> Iterable[Prompt]:
    """Once a class, after its end: that an oven has changed since an earlier class."""
    ended = view.record.ended
    if ended is None or view.belief is None:
        return
    for oven in view.record.ovens.values():
        if not oven.readings:
            continue
        found = drift(view.belief.seen(oven.name))
        if found is not None:
            yield Prompt("drift", f"drift:{oven.name}", max(ended, view.now),
                         say_drift(the([oven.name]), found, view.now.date()), oven.name, who=view.record.lead)


# A gun is spoken of when it was used so often, is so far off [K], and so many deviations of its estimate from right.
GUN_READINGS, GUN_K, GUN_SURE = 4, 10.0, 2.0


def gun_prompts(view: View) -> Iterable[Prompt]:
    """Once a class: whose infrared gun reads low or high, by how much, and that it is allowed for."""
    if view.belief is None or view.record.ended is not None:
        return
    for (kind, who), (mean_k, sd_k, count) in view.belief.offsets().items():
        if kind != "infrared" or count < GUN_READINGS or abs(mean_k) < max(GUN_K, GUN_SURE * sd_k):
            continue
        near, far = sorted(abs(mean_k) + each * 1.28 * sd_k for each in (-1.0, 1.0))
        yield Prompt("reading", f"gun:{who}", view.now,
                     f"{who}: the gun reads about {abs(mean_k):.0f} {'low' if mean_k < 0 else 'high'} today "
                     f"({near:.0f} to {far:.0f}): allowed for. Hold it square, or try it on a pot at the boil.",
                     who=who)


def _morning(ended: datetime) -> datetime:
    day = ended if ended.hour < 4 else ended + timedelta(days=1)
    return day.replace(hour=MORNING, minute=0, second=0, microsecond=0)


def _left_warm(oven: OvenRecord, ended: datetime) -> bool:
    """Fired or read on the day, and no fire left to feed: what it holds next morning tells its losses."""
    last = max((dated.at for dated in oven.readings.values()), default=None)
    return last is not None and ended - last < timedelta(hours=14) and not oven.burning


def morning_prompts(view: View) -> Iterable[Prompt]:
    """One reading of each oven that was left to cool, asked for once, at eight the next morning."""
    ended = view.record.ended
    if ended is None:
        return
    due = _morning(ended)
    read = {dated.oven for dated in view.record.facts
            if dated.fact.is_ == "reading" and dated.at >= due - timedelta(hours=4)}
    names = [oven.name for oven in view.record.ovens.values() if _left_warm(oven, ended) and oven.name not in read]
    if names and view.now < due.replace(hour=TOO_LATE):
        who = f"{view.record.lead}: " if view.record.lead else ""
        yield Prompt("reading", f"morning:{due.date().isoformat()}", max(due, view.now),
                     f"{who}what {'does' if len(names) == 1 else 'do'} {the(names, 'and')} read, floor and air, "
                     "before the door comes off? It tells best how fast the heat goes.", names[0], who=view.record.lead,
                     lapses=due.replace(hour=TOO_LATE))
