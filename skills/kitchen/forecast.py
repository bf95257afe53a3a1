"""What the members will do from now on."""
from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import UTC, datetime, tzinfo
from typing import Any

import numpy as np
from numpy.typing import NDArray

from skills.dish import model as dish
from skills.kitchen import ensemble as kitchen
from skills.kitchen import habits, misfit, pots
from skills.kitchen.acts import Act, Timeline
from skills.kitchen.ensemble import Ensemble
from skills.kitchen.seeds import generator
from skills.kitchen.setting import Setting
from skills.oven import model as oven
from skills.oven.parameters import OvenNumbers
from skills.physics.constants import ZERO_CELSIUS_K

Array = NDArray[np.float64]

EVERY_S = 600
# Steps of 5 min for the first hour, of 10 min to five hours, of 20 min after: (until, step) [s].
STRIDES_S = ((3600, 300), (18000, 600), (10 ** 9, 1200))
TENDER_S = 14 * 3600        # how far a slow dish is followed
# What the model leaves out of a tended oven: splits differ, the fire moves about, pot and probe get knocked. Growth of
# the error of thermometer and probe [K] in an hour, as of a random walk that is pulled back: what one split too many
# gave is lost again within hours (held against the simulated cooks of both kinds).
DRIFT_K, PULLED_BACK_S = 5.8, 7200.0
# The same for an oven without fire, thermometer and probe: other brick, wind, a door that never shuts twice alike. That
# stays as it is.
STILL_DRIFT_K = (2.5, 1.2)
BANDS = (("p05", 0.05), ("p50", 0.50), ("p95", 0.95))


@dataclass(frozen=True)
class OvenForecast:
    """air_c: thermometer; floor_c: probe; dome_c: inner face; surface_c: the floor's; each (times, members) [degC]."""
    air_c: Array
    floor_c: Array
    dome_c: Array
    surface_c: Array


@dataclass(frozen=True)
class DishForecast:
    """tender_s (members,): epoch seconds, inf when beyond the horizon; the rest (times, members) [l, degC]."""
    tender_s: Array
    liquid_l: Array
    core_c: Array
    liquor_c: Array


@dataclass(frozen=True)
class Forecast:
    """at_s: epoch seconds, every ten minutes from the minute of the belief."""
    at_s: Array
    ovens: Mapping[str, OvenForecast]
    dishes: Mapping[str, DishForecast]

    def trace(self, tz: tzinfo) -> dict[str, Any]:
        """The forecast as the replay trace writes it."""
        at = [datetime.fromtimestamp(float(each), tz).isoformat() for each in self.at_s]
        ovens = {name: {"at": at, "air": bands(each.air_c), "floor": bands(each.floor_c), "dome": bands(each.dome_c)}
                 for name, each in self.ovens.items()}
        dishes = {name: {"tender": {label: _moment(each.tender_s, share, tz) for label, share in BANDS},
                         "liquid": bands(each.liquid_l, 3), "core": bands(each.core_c)}
                  for name, each in self.dishes.items()}
        return {"ovens": ovens, "dishes": dishes}


def bands(values: Array, digits: int = 1) -> dict[str, list[float]]:
    """p05, p50 and p95 along the times of (times, members)."""
    if not np.isfinite(values).all():
        # A member that ran off its rails tells nothing; it stands for what the others say.
        middle = np.nanmedian(np.where(np.isfinite(values), values, np.nan), axis=1, keepdims=True)
        values = np.where(np.isfinite(values), values, np.nan_to_num(middle))
    ordered = np.sort(values, axis=1)
    last = ordered.shape[1] - 1
    found = {label: ordered[:, round(share * last)] for label, share in BANDS}
    return {label: np.round(row, digits).tolist() for label, row in found.items()}


def later_quantile(values: Array, share: float) -> float:
    """A quantile of times of which some are beyond the horizon (inf)."""
    return float(np.sort(np.where(np.isnan(values), np.inf, values))[round(share * (len(values) - 1))])


def _moment(values: Array, share: float, tz: tzinfo) -> str | None:
    found = later_quantile(values, share)
    return datetime.fromtimestamp(round(found), UTC).astimezone(tz).isoformat() if np.isfinite(found) else None


def passed_s(last_s: int, last: Array, at_s: int, share: Array) -> Array:
    """When each member passed the tender share between two steps that ended with these shares."""
    part = np.clip((dish.TENDER_SHARE - last) / np.maximum(share - last, 1e-9), 0.0, 1.0)
    passed: Array = last_s + part * (at_s - last_s)
    return passed


@dataclass
class Recorder:
    """Collects what an advance passes through: ovens and dishes every ten minutes, tenderness at every step."""
    zero_s: int
    until_s: int                # tenderness alone is followed further
    members: int
    numbers: OvenNumbers
    built: oven.Built
    course: habits.Habits
    inside: tuple[tuple[str, int], ...] = ()
    ovens: list[tuple[int, Array]] = field(default_factory=list)
    dishes: dict[str, list[tuple[int, Array]]] = field(default_factory=dict)
    tender: dict[str, tuple[int, Array, Array]] = field(default_factory=dict)   # last time, last share, tender_s

    def __call__(self, at_s: int, state: oven.OvenState, now: pots.Cooking | None) -> None:
        shown = at_s <= self.until_s and (at_s - self.zero_s) % EVERY_S == 0
        if shown:
            self.ovens.append((at_s, np.stack([
                oven.thermometer_k(state, self.numbers), oven.probe_k(state, self.numbers, self.built),
                state.face_k[2], state.face_k[0]]) - ZERO_CELSIUS_K))
        if now is None:
            return
        share = dish.tender_fraction(now.state, now.parameters)
        rows = _rows(now) if shown else None
        for place, (name, oven_index) in enumerate(self.inside):
            lanes = slice(place * self.members, (place + 1) * self.members)
            self._ripen(name, at_s, share[lanes])
            self.course.ripen(oven_index, name, self.tender[name][2])
            if rows is not None:
                self.dishes.setdefault(name, []).append((at_s, rows[:, lanes]))

    def _ripen(self, name: str, at_s: int, share: Array) -> None:
        """The moment between two steps at which a member passes the tender share."""
        before = self.tender.get(name)
        if before is None:
            found = np.where(share >= dish.TENDER_SHARE, float(at_s), np.inf)
        else:
            last_s, last, found = before
            new = (share >= dish.TENDER_SHARE) & ~np.isfinite(found)
            found = np.where(new, passed_s(last_s, last, at_s, share), found)
        self.tender[name] = (at_s, share, found)

    def waiting(self) -> NDArray[np.bool_]:
        """The members (members,) in which something in an oven is not tender yet; what went in at the very end of what
        is shown is not followed."""
        missing = np.zeros(self.members, bool)
        for name, _ in self.inside:
            if name in self.tender:
                missing |= ~np.isfinite(self.tender[name][2])
        return missing


def _rows(now: pots.Cooking) -> Array:
    """Liquor [l], core and liquor [degC] of all that cooks: (3, lanes)."""
    return np.stack([dish.liquid_litres(now.state, now.parameters),
                     dish.core_k(now.state, now.parameters) - ZERO_CELSIUS_K, now.state.liquid_k - ZERO_CELSIUS_K])


def nothing(now: datetime, hours: float) -> Forecast:
    """The forecast of a class of which no oven is known."""
    now_s = int(now.timestamp()) // 60 * 60
    return Forecast(now_s + EVERY_S * np.arange(_count(hours), dtype=np.float64), {}, {})


def _count(hours: float) -> int:
    return int(np.ceil(hours * 3600 / EVERY_S)) + 1


def run(start: Ensemble, setting: Setting, hours: float, acts: Sequence[Act], story: Timeline,
        untouched: bool = False, slow: bool = True) -> Forecast:
    """Run the members on from start through acts to come, for `hours`; if `slow`, dishes till tender, to TENDER_S."""
    now_s = start.at_s
    marks = now_s + EVERY_S * np.arange(_count(hours), dtype=np.float64)
    end_s = int(marks[-1])
    ensemble = start
    todo = sorted((act for act in acts if act.kind != "measure"), key=lambda act: act.at_s)
    for act in (act for act in todo if act.at_s <= now_s):
        ensemble = kitchen.perform(ensemble, act, setting, story.loads)
    ensemble = kitchen.thinned(ensemble, setting.foreseeing)
    course = habits.to_come(ensemble, setting, max(end_s - now_s, TENDER_S), story)
    if untouched:
        course = habits.untouched(course)
    recorder = Recorder(now_s, end_s, ensemble.members, ensemble.numbers, ensemble.built, course)
    recorder.inside = _inside(ensemble)
    recorder(now_s, ensemble.state,
             pots.cooking(ensemble.shelf, ensemble.state, ensemble.numbers, ensemble.members))
    coming = [_on_grid(act, now_s) for act in todo if now_s < act.at_s <= end_s]
    for stop in sorted({act.at_s for act in coming} | {end_s}):
        ensemble = kitchen.advance(ensemble, _grid(now_s, ensemble.at_s, stop), course, recorder)
        for act in (act for act in coming if act.at_s == stop):
            ensemble = _perform(ensemble, act, setting, story, course)
        recorder.inside = _inside(ensemble)
    if slow and not untouched and end_s < now_s + TENDER_S:
        _follow(ensemble, recorder, _grid(now_s, end_s, now_s + TENDER_S))
    tended = tuple(name for name, each in story.ovens.items() if each.tended)
    return _collect(ensemble, recorder, marks, setting.seed, tended)


def _follow(ensemble: Ensemble, recorder: Recorder, ends_s: Sequence[int]) -> None:
    """Run on what is not tender yet, for its tenderness alone: the members in which all is tender need not be."""
    pick = np.flatnonzero(recorder.waiting())
    if not len(pick):
        return
    ensemble, course = kitchen.picked(ensemble, pick), habits.picked(recorder.course, pick)
    few = Recorder(recorder.zero_s, recorder.until_s, len(pick), ensemble.numbers, ensemble.built, course,
                   recorder.inside)
    few.tender = {name: (at_s, share[pick], found[pick]) for name, (at_s, share, found) in recorder.tender.items()}
    kitchen.advance(ensemble, ends_s, course, few, lambda: not few.waiting().any())
    for name, (_, _, found) in few.tender.items():
        if name in recorder.tender:
            recorder.tender[name][2][pick] = found


def _on_grid(act: Act, zero_s: int) -> Act:
    """A feed that is only supposed comes at the end of a step: nobody knows its minute."""
    if act.kind != "feed" or act.fact is not None:
        return act
    stride = next(step for until, step in STRIDES_S if act.at_s - zero_s <= until)
    return replace(act, at_s=zero_s + max(1, round((act.at_s - zero_s) / stride)) * stride)


def _perform(ensemble: Ensemble, act: Act, setting: Setting, story: Timeline, course: habits.Habits) -> Ensemble:
    """An act to come; nobody feeds a fire that has been let out."""
    after = kitchen.perform(ensemble, act, setting, story.loads)
    if act.kind != "feed":
        return after
    fresh = np.where(course.fed(act.at_s), after.state.fresh_j, ensemble.state.fresh_j)
    return replace(after, state=replace(after.state, fresh_j=fresh))


def _inside(ensemble: Ensemble) -> tuple[tuple[str, int], ...]:
    shelf = ensemble.shelf
    return tuple((shelf.names[index], oven_index) for index in pots.inside(shelf)
                 if (oven_index := shelf.ovens[index]) is not None)


def _grid(zero_s: int, from_s: int, to_s: int) -> list[int]:
    """Ends of steps on the forecast's own grid, which starts at its first minute."""
    ends, off = [], 0
    for until, stride in STRIDES_S:
        while off < min(until, to_s - zero_s):
            off += stride
            ends.append(zero_s + off)
    return [*(end for end in ends if from_s < end < to_s), to_s] if to_s > from_s else []


def _at_marks(noted: Sequence[tuple[int, Array]], marks: Array) -> Array:
    """Rows noted at some times, at the marks (linear between; the first or last outside): (rows, marks, members)."""
    times = np.array([at_s for at_s, _ in noted])
    values = np.stack([row for _, row in noted], axis=1)
    if len(times) == len(marks) and (times == marks).all():
        return values
    high = np.clip(np.searchsorted(times, marks), 1, max(len(times) - 1, 1))
    if len(times) == 1:
        return np.repeat(values, len(marks), axis=1)
    part = np.clip((marks - times[high - 1]) / (times[high] - times[high - 1]), 0.0, 1.0)[:, None]
    between: Array = values[:, high - 1] * (1.0 - part) + values[:, high] * part
    return between


def walked(kicks: Array, kept: float) -> Array:
    """Walks (places, marks, members) from 0, of unit variance gained in an hour; kept: share left of it at the next
    mark."""
    walk = np.zeros_like(kicks)
    for mark in range(1, kicks.shape[1]):
        walk[:, mark] = kept * walk[:, mark - 1] + np.sqrt(EVERY_S / 3600.0) * kicks[:, mark]
    return walk


def _collect(ensemble: Ensemble, recorder: Recorder, marks: Array, seed: int, tended: Sequence[str]) -> Forecast:
    rows = _at_marks(recorder.ovens, marks)
    for index, name in enumerate(ensemble.names):
        drift_k = np.array((DRIFT_K, DRIFT_K) if name in tended else STILL_DRIFT_K)
        kicks = generator(seed, "drift", name, recorder.zero_s).standard_normal((2, len(marks), ensemble.members))
        mine = rows[:2, :, ensemble.lanes(index)]
        kept = float(np.exp(-EVERY_S / PULLED_BACK_S)) if name in tended else 1.0
        mine += drift_k[:, None, None] * walked(kicks, kept)
        middle = np.median(mine, axis=2, keepdims=True)
        mine += (misfit.scales_ahead(ensemble, index, marks - recorder.zero_s)[:, :, None] - 1.0) * (mine - middle)
    ovens = {}
    for index, name in enumerate(ensemble.names):
        lanes = ensemble.lanes(index)
        ovens[name] = OvenForecast(*(row[:, lanes] for row in rows))
    dishes = {}
    for name, noted in recorder.dishes.items():
        # A dish that comes or goes within the forecast keeps its first or last values outside its stay.
        values = _at_marks(noted, marks)
        dishes[name] = DishForecast(recorder.tender[name][2], values[0], values[1], values[2])
    return Forecast(marks, ovens, dishes)
