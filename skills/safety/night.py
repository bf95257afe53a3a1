"""A dish that stays in an oven while nobody is there: its coolest hour, foreseen before they go."""
from __future__ import annotations

import math
from dataclasses import dataclass
from datetime import datetime, timedelta

from skills.safety import meters
from skills.safety.history import History, history, moment_of
from skills.safety.packs import Pack
from skills.safety.spans import Story
from skills.view import NIGHT, View

# From this hour the night ahead is thought of, so that somebody can still act (common practice, no source).
EVENING = 15
LATE = 20
MORNING = 7
# What is told between midnight and this hour is told by somebody who is up (judgement).
DEEP = 5
# It "will" pass if so many of the ways do; else it may (judgement).
SURELY = 0.9
EARLY_OR_LATE = timedelta(hours=4)


@dataclass(frozen=True)
class Night:
    """The night ahead for one dish: its coolest hour, and the rule's figure [degC]."""
    coolest: meters.Coolest
    hot_hold_c: float
    history: History

    @property
    def may_fall(self) -> bool:
        return self.coolest.passes_s is not None

    @property
    def how(self) -> str:
        """What it does to the figure: "may pass below", or comes too near to be left unseen."""
        low = self.coolest
        if low.share == 0.0 or low.cool_c >= self.hot_hold_c:
            return f"may come within {meters.UNSEEN_MARGIN_C:.0f} of"
        return "will pass below" if low.share >= SURELY else "may pass below"


def morning(now: datetime) -> datetime:
    at = now.replace(hour=MORNING, minute=0, second=0, microsecond=0)
    return at if at > now else at + timedelta(days=1)


def somebody_comes(view: View) -> datetime:
    """When the yard is no longer empty: as somebody said, else the usual morning."""
    usual, said = morning(view.now), view.record.comes
    return said if said is not None and abs(said - usual) <= EARLY_OR_LATE and said > view.now else usual


def leaving(view: View) -> datetime | None:
    """When people go, if that was said this evening."""
    first, last = view.now - timedelta(hours=4), morning(view.now)
    return min((at for at in view.record.goings if first <= at < last and at.hour >= EVENING), default=None)


def watched(view: View) -> bool:
    """Whether somebody is with the ovens this night: it was said, or something was told in its depth."""
    since = view.now - timedelta(hours=14)
    deep = (dated.told for dated in view.record.facts if dated.told >= since)
    return any(at >= since for at in view.record.watches) or any(at.hour < DEEP and at.date() == view.now.date()
                                                                 for at in deep)


def stays_overnight(view: View, asked: bool = False) -> bool:
    """Whether dishes in ovens are there for the night, with nobody by: the meal is after it, or it is late and no meal
    was named."""
    now, serve = view.now, view.record.serve
    if watched(view):
        return False
    dark = now.hour >= NIGHT[0] or now.hour < NIGHT[1]
    if serve is not None and serve > now:
        return serve >= morning(now) and (dark or now.hour >= EVENING or asked)
    return dark or now.hour >= LATE or leaving(view) is not None or (asked and now.hour >= EVENING)


def if_left(made: Story, view: View) -> datetime | None:
    """When a dish counts as left for the night if nothing more is told: put in late in the day for no named meal."""
    begun, serve = made.dish.in_at, view.record.serve
    late = view.now.replace(hour=LATE, minute=0, second=0, microsecond=0)
    named = serve is not None and begun is not None and serve > begun
    if begun is None or named or begun.date() != view.now.date() or begun.hour < EVENING:
        return None
    return late


def night_of(made: Story, view: View, pack: Pack) -> Night | None:
    """The night ahead of a dish that stands in an oven; None where nothing is foreseen or it is never hot."""
    if made.last is None or made.last.where != "oven":
        return None
    until = somebody_comes(view).timestamp()
    hours = math.ceil((until - view.now.timestamp()) / 3600.0 * 2.0 + 0.5) / 2.0
    oven = view.oven(made.dish.oven)
    # Nobody feeds a fire at night, and nobody takes out what is done.
    seen = history(made, view, max(hours, 8.0), feeding=not (oven is not None and oven.burning), untouched=True)
    if seen is None or "forecast" not in seen.kind:
        return None
    hot = meters.reaches(seen, pack.hot_hold_c, meters.MID)
    if hot is None:
        return None
    found = meters.coolest_hour(seen, pack, max(hot + 3600.0, view.now.timestamp()), until)
    return None if found is None else Night(found, pack.hot_hold_c, seen)


def passes(night: Night, view: View) -> datetime | None:
    at_s = night.coolest.passes_s
    return None if at_s is None else moment_of(at_s, view.now.tzinfo)
