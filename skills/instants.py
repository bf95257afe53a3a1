"""Moments that stay right across the nights on which the clocks change.

Python takes two times of one zone for what their faces say: to it, from 23:00 to 03:00 is four hours every night. An
instant counts the hours that really pass; its face is that of the zone. Only whole days keep the face: "tomorrow at
seven" is at seven.
"""
from __future__ import annotations

from datetime import date, datetime, timedelta, timezone, tzinfo
from typing import Any, Self


class Instant(datetime):
    """A time with a zone, whose sums, differences and order are those of real time.

    >>> from zoneinfo import ZoneInfo
    >>> evening = Instant(2026, 10, 24, 23, 0, tzinfo=ZoneInfo("Europe/London"))
    >>> f"{evening + timedelta(hours=4):%H:%M}"
    '02:00'
    """

    @classmethod
    def of(cls, at: datetime) -> Self:
        """The same moment with the same face."""
        if isinstance(at, cls):
            return at
        return cls(at.year, at.month, at.day, at.hour, at.minute, at.second, at.microsecond, at.tzinfo, fold=at.fold)

    def plain(self) -> datetime:
        """The same face and zone as Python's own kind; zones reckon with it."""
        return datetime(self.year, self.month, self.day, self.hour, self.minute, self.second, self.microsecond,
                        self.tzinfo, fold=self.fold)

    @classmethod
    def fromtimestamp(cls, timestamp: float, tz: tzinfo | None = None) -> Self:
        """The moment so many seconds after 1970 [s]."""
        return cls.of(datetime.fromtimestamp(timestamp, tz))

    def astimezone(self, tz: tzinfo | None = None) -> Self:
        """The same moment on the clocks of another zone."""
        return type(self).of(self.plain().astimezone(tz))

    def __add__(self, span: timedelta) -> Self:
        """So much later in real time; by whole days, at the same time of day."""
        later = super().__add__(span)
        if isinstance(self.tzinfo, timezone):
            return later
        if span.days and not span.seconds and not span.microseconds:
            return type(self).fromtimestamp(later.timestamp(), self.tzinfo)
        offset = self.utcoffset()
        # Faces can be added to where no clock is changed: at both readings of the later one the offset is the same.
        if offset is None or (later.replace(fold=0).utcoffset() == offset == later.replace(fold=1).utcoffset()):
            return later
        return type(self).fromtimestamp(self.timestamp() + span.total_seconds(), self.tzinfo)

    __radd__ = __add__

    def __sub__(self, other: Any) -> Any:
        """The real time since another moment, or the moment so much earlier."""
        if isinstance(other, timedelta):
            return self + (-other)
        apart = super().__sub__(other)
        return apart if apart is NotImplemented else apart - self._skew(other)

    def __rsub__(self, other: Any) -> Any:
        """The real time from this moment to another."""
        return NotImplemented if not isinstance(other, datetime) else -(self - other)

    def _skew(self, other: datetime) -> timedelta:
        """By how much the faces of two times of one zone are further apart than the moments."""
        if not self._same_faces(other):
            return timedelta(0)
        mine, theirs = self.utcoffset(), other.utcoffset()
        return timedelta(0) if mine is None or theirs is None else mine - theirs

    def _same_faces(self, other: object) -> bool:
        """Whether Python would compare the faces only, of a zone whose clocks may change."""
        return isinstance(other, datetime) and self.tzinfo is other.tzinfo and not isinstance(self.tzinfo, timezone)

    def __lt__(self, other: date) -> bool:
        if isinstance(other, datetime) and self._same_faces(other):
            return bool(self - other < timedelta(0))
        return super().__lt__(other)  # type: ignore[operator]

    def __le__(self, other: date) -> bool:
        if isinstance(other, datetime) and self._same_faces(other):
            return bool(self - other <= timedelta(0))
        return super().__le__(other)  # type: ignore[operator]

    def __gt__(self, other: date) -> bool:
        if isinstance(other, datetime) and self._same_faces(other):
            return bool(self - other > timedelta(0))
        return super().__gt__(other)  # type: ignore[operator]

    def __ge__(self, other: date) -> bool:
        if isinstance(other, datetime) and self._same_faces(other):
            return bool(self - other >= timedelta(0))
        return super().__ge__(other)  # type: ignore[operator]

    def __eq__(self, other: object) -> bool:
        same = super().__eq__(other)
        return same if same is not True or not isinstance(other, datetime) else not self._skew(other)

    __hash__ = datetime.__hash__
