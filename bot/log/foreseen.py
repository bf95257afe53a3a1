"""The forecasts that were kept in the log (bot/log/keeping.py), read back: no models here."""
from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Any

from bot.talk import Answer, LogLine
from skills.instants import Instant

MARKS_MIN = (0, 30, 60, 90, 120, 180, 240, 300, 360, 420, 480)
SHARES = (0.05, 0.1, 0.5, 0.9, 0.95)
Place = tuple[str, int]
Expected = tuple[float, float, float]
Band = tuple[Sequence[float], Sequence[float], Sequence[float]]


@dataclass(frozen=True)
class Foreseen:
    """One kept forecast, read back: bands by (oven, place) and dish, times of tenderness, heat in the brick [MJ]."""
    at: datetime
    message: str
    data: Mapping[str, Any]

    @property
    def ovens(self) -> Mapping[str, Mapping[str, Any]]:
        found: Mapping[str, Mapping[str, Any]] = self.data["ovens"]
        return found

    @property
    def dishes(self) -> Mapping[str, Mapping[str, Any]]:
        found: Mapping[str, Mapping[str, Any]] = self.data["dishes"]
        return found

    @property
    def marks(self) -> list[datetime]:
        return [self.at + timedelta(minutes=minute) for minute in MARKS_MIN]

    def band(self, oven: str, place: str, at: datetime) -> tuple[float, float, float] | None:
        """p05, p50, p95 of an oven's place at a time within the forecast [degC]."""
        return self._within(self.ovens.get(oven, {}).get(place), at)

    def dish_band(self, dish: str, what: str, at: datetime) -> tuple[float, float, float] | None:
        """The same of a dish's "core" [degC] or "liquid" [l]."""
        return self._within(self.dishes.get(dish, {}).get(what), at)

    def _within(self, rows: Band | None, at: datetime) -> tuple[float, float, float] | None:
        minute = (at - self.at).total_seconds() / 60.0
        if rows is None or not 0 <= minute <= MARKS_MIN[-1]:
            return None
        after = next(index for index, mark in enumerate(MARKS_MIN) if mark >= minute)
        before = max(after - 1, 0)
        part = (minute - MARKS_MIN[before]) / max(MARKS_MIN[after] - MARKS_MIN[before], 1)
        low, mid, high = (row[before] + part * (row[after] - row[before]) for row in rows)
        return low, mid, high

    def tender(self, dish: str, share: float) -> datetime | None:
        """A quantile (one of SHARES) of the time of tenderness; None: beyond what was foreseen."""
        found = self.dishes[dish]["tender"][SHARES.index(share)]
        return None if found is None else Instant.fromtimestamp(found, self.at.tzinfo)


def forecasts(lines: Sequence[LogLine]) -> Iterator[Foreseen]:
    """The forecasts kept in a log, in its order."""
    for line in lines:
        if isinstance(line, Answer) and "foreseen" in line.read:
            data = line.read["foreseen"]
            yield Foreseen(Instant.fromtimestamp(data["at"], line.message.at.tzinfo), line.message.id, data)


def doubts(lines: Sequence[LogLine]) -> dict[Place, Expected] | None:
    """The readings that the models doubt by all that is known by the end, and what they expected [degC].

    None: the log was kept by a version that did not note it.
    """
    noted = [line.read["doubted"] for line in lines if isinstance(line, Answer) and "doubted" in line.read]
    if not noted and any(isinstance(line, Answer) and line.heard.facts for line in lines):
        return None
    return {(message, index): (low, mid, high) for message, index, low, mid, high in (noted[-1] if noted else ())}
