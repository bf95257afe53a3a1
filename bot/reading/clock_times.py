"""Clock times: which of the day's hours a spoken time means.

Reports look back: the last such time before now. Promises and questions look ahead: the next such time; what is
eaten is eaten between seven in the morning and half past ten at night (common practice, no source).
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime, timedelta

# Clocks of two people differ by this much without anyone noticing (common practice, no source).
GRACE = timedelta(minutes=4)
FIRST_MEAL, LAST_MEAL = 7 * 60, 22 * 60 + 30


@dataclass(frozen=True)
class Clock:
    """A time as it was said. hour None: "ten past" names no hour. exact: morning or evening is settled."""

    hour: int | None
    minute: int
    exact: bool = False

    def day_minutes(self) -> tuple[int, ...]:
        """Every minute of the day that it can mean."""
        if self.hour is None:
            return tuple(hour * 60 + self.minute for hour in range(24))
        hour = self.hour % 24
        if self.exact or hour > 12 or hour == 0:
            return (hour * 60 + self.minute,)
        return tuple(sorted({(hour % 12) * 60 + self.minute, (hour % 12 + 12) * 60 + self.minute}))


@dataclass(frozen=True)
class Ago:
    """A length of time before now."""

    minutes: float


def half_hour_before(clock: Clock, minutes: int) -> Clock:
    """ "ten to eleven" from eleven o'clock and ten minutes."""
    assert clock.hour is not None
    hour = clock.hour - 1
    if hour == 0 and not clock.exact:
        hour = 12
    return Clock(hour % 24, 60 - minutes, clock.exact)


def past(said: Clock | Ago, now: datetime) -> str:
    """The last such time up to now, as "HH:MM"."""
    if isinstance(said, Ago):
        return _text(now - timedelta(minutes=said.minutes))
    return _text(max(at for at in _candidates(said, now, (-1, 0)) if at <= now + GRACE))


def coming(said: Clock | Ago, now: datetime) -> str:
    """The next such time from now on, as "HH:MM"; a length of time counts from now."""
    if isinstance(said, Ago):
        return _text(now + timedelta(minutes=said.minutes))
    start = now.replace(second=0, microsecond=0)
    return _text(min(at for at in _candidates(said, now, (0, 1)) if at >= start))


def coming_meal(said: Clock | Ago, now: datetime) -> str:
    """The next such time at which people eat."""
    if isinstance(said, Ago):
        return coming(said, now)
    start = now.replace(second=0, microsecond=0)
    found = [at for at in _candidates(said, now, (0, 1, 2)) if at >= start]
    meals = [at for at in found if FIRST_MEAL <= at.hour * 60 + at.minute <= LAST_MEAL]
    return _text(min(meals or found))


def _candidates(said: Clock, now: datetime, days: tuple[int, ...]) -> Iterator[datetime]:
    midnight = now.replace(hour=0, minute=0, second=0, microsecond=0)
    for day in days:
        for minute in said.day_minutes():
            yield midnight + timedelta(days=day, minutes=minute)


def _text(at: datetime) -> str:
    return f"{at:%H:%M}"
