"""Views made of facts with clock times, and a kitchen whose forecast is drawn by hand. An invented school yard."""
from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime, timedelta
from types import SimpleNamespace
from typing import Any

import numpy as np

from skills.dated import Told
from skills.kitchen import DishForecast, Forecast
from skills.record import fold
from skills.view import View
from skills.vocabulary import Heard, fact

DAY = datetime.fromisoformat("2026-05-16T00:00:00+01:00")
MEMBERS = 60


def at(clock: str) -> datetime:
    """ "14:20" of the day, "+06:30" of the day after."""
    hour, minute = map(int, clock.lstrip("+").split(":"))
    return DAY + timedelta(days=1 if clock.startswith("+") else 0, hours=hour, minutes=minute)


class DrawnKitchen:
    """A belief whose dishes follow straight lines through (clock, degC) points, with a spread [degC] at each."""

    def __init__(self, now: datetime, dishes: dict[str, list[tuple[str, float, float]]]) -> None:
        self.now = now
        self.doubted: tuple[Any, ...] = ()
        self.ovens: dict[str, Any] = {}
        self._dishes = dishes
        self.dishes = {name: SimpleNamespace(name=name, oven="dome", core_c=here, liquor_c=here, left_core_c=here,
                                             left_liquor_c=here)
                       for name, points in dishes.items() for here in (self._at(points, [now.timestamp()])[0],)}

    @staticmethod
    def _at(points: list[tuple[str, float, float]], times: Sequence[float]) -> np.ndarray:
        marks = [at(clock).timestamp() for clock, _, _ in points]
        mid = np.interp(times, marks, [celsius for _, celsius, _ in points])
        spread = np.interp(times, marks, [half for _, _, half in points])
        return mid[:, None] + spread[:, None] * np.linspace(-1.1, 1.1, MEMBERS)[None, :]

    def forecast(self, hours: float = 8.0, acts: Sequence[Any] = (), feeding: bool = True,
                 untouched: bool = False) -> Forecast:
        del acts, feeding, untouched
        times = self.now.timestamp() + 600.0 * np.arange(int(hours * 6) + 1)
        dishes = {}
        for name, points in self._dishes.items():
            core = self._at(points, times.tolist())
            dishes[name] = DishForecast(np.full(MEMBERS, np.inf), np.full_like(core, 1.0), core, core)
        return Forecast(times, {}, dishes)


def view(lines: Sequence[Sequence[Any]], now: str, region: str = "uk", lead: str = "Mara",
         kitchen: dict[str, list[tuple[str, float, float]]] | None = None) -> View:
    """lines: (clock, who, fact, ...); only those up to now are told."""
    told = [Told(f"m{count}", at(clock), who, "", Heard(facts=tuple(fact(each) for each in facts)))
            for count, (clock, who, *facts) in enumerate(lines) if at(clock) <= at(now)]
    belief = DrawnKitchen(at(now), kitchen) if kitchen else None
    return View(fold(told, lead), at(now), belief, region)  # type: ignore[arg-type]
