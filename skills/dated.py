"""A fact with its place in the day: the one thing that record, models and skills all read."""
from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Any

from skills.vocabulary import Fact, Heard


@dataclass(frozen=True)
class Told:
    """One message as it was heard, the unit that the record is folded from. `at` has a time zone.

    goes, comes: "HH:MM" at which somebody is said to leave and to be back. unwell: somebody has a headache or the like.
    watched: somebody stays with the ovens through the night.
    """
    id: str
    at: datetime
    who: str
    text: str
    heard: Heard
    replaces: str | None = None
    removes: str | None = None
    answers: str | None = None      # the message whose open fact this one completes
    goes: str | None = None
    comes: str | None = None
    unwell: bool = False
    watched: bool = False


@dataclass(frozen=True)
class Dated:
    """A fact in force. `oven` and `dish` are the room's own names, worked out from context (None: not known).

    at: when it happened; told: when it was said (both with time zone, whole seconds). who: the sender.
    message and index name the message and the fact's place in it. minor: worked out, not said (a door that
    must have been open while a pot went in). mended: its value was corrected, so that somebody has looked twice.
    """
    at: datetime
    told: datetime
    who: str
    message: str
    index: int
    fact: Fact
    oven: str | None = None
    dish: str | None = None
    minor: bool = False
    mended: bool = False


@dataclass(frozen=True)
class Change:
    """A correction: which fact, what it said, what it says now (None: taken back), by whom, when, and how."""
    message: str
    index: int
    old: dict[str, Any]
    new: dict[str, Any] | None
    by: str
    at: datetime
    through: str


@dataclass(frozen=True)
class Open:
    """A fact that cannot be placed yet: its `missing` name is one of `options`; or a fix that found nothing."""
    message: str
    index: int
    fact: Fact
    missing: str
    options: tuple[str, ...]


def past_time(clock: str, now: datetime) -> datetime:
    """The last such clock time at or just before `now` (two minutes of grace for clocks that differ).

    >>> past_time("23:50", datetime.fromisoformat("2026-05-17T00:10:00+01:00")).isoformat()
    '2026-05-16T23:50:00+01:00'
    """
    hour, minute = map(int, clock.split(":"))
    at = now.replace(hour=hour, minute=minute, second=0, microsecond=0)
    return at if at <= now + timedelta(minutes=2) else at - timedelta(days=1)


def coming_time(clock: str, now: datetime) -> datetime:
    """The next such clock time, this minute included.

    >>> coming_time("07:00", datetime.fromisoformat("2026-05-16T22:10:00+01:00")).isoformat()
    '2026-05-17T07:00:00+01:00'
    """
    hour, minute = map(int, clock.split(":"))
    at = now.replace(hour=hour, minute=minute, second=0, microsecond=0)
    return at if at >= now.replace(second=0, microsecond=0) else at + timedelta(days=1)
