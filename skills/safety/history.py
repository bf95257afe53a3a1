"""The temperature history of a dish: measured where measured, reckoned between, forecast ahead, and which is which.

Lanes (K,) are ways in which the core may have gone, coolest first; a cautious edge is a quantile over them. Off the
fire a pot falls to the room by Newton's law between a quick and a slow edge; in trays it is reckoned by conduction.
"""
from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, tzinfo
from statistics import NormalDist

import numpy as np
from numpy.typing import NDArray

from skills import vocabulary as v
from skills.instants import Instant
from skills.safety import chill
from skills.safety.spans import OUT, Anchor, Span, Story
from skills.view import View

Array = NDArray[np.float64]

GRID_S = 120.0
SHARES = chill.SHARES
# One at the 95 % edge of the ways, minus one at the 5 % edge.
EDGE: Array = chill.z_scores(SHARES) / NormalDist().inv_cdf(0.95)
# Rooms, stores and films, middle and half-width to the 5 % edge (judgement, from memory).
ROOM_C, ROOM_HALF_C = 18.0, 5.0
COLD_C, COLD_HALF_C = 5.0, 2.0
WARM_C, WARM_HALF_C = 18.0, 6.0
HOT_LIQUOR_C, HOT_HALF_C = 85.0, 8.0
# Film of a pot on the bench [W/m2/K]: air and radiation with the lid on, evaporation as well with it off (from memory).
LID_FILM, OPEN_FILM, FILM_FACTOR = 10.0, 16.0, 1.6
# Pot and food together, for each kg of food [J/K/kg] (from memory: food 3600, an iron pot's share 400).
CAPACITY_J_KGK = 4000.0
# A dish warms in an oven in an hour or two, and falls with the oven itself (judgement).
OVEN_FAR_C, OVEN_TAU_S, OVEN_FALL_TAU_S = 95.0, 5400.0, 8 * 3600.0
REHEAT_TAU_S = 1500.0
JOIN_TAU_S = 7200.0
AHEAD_S = 6 * 3600.0
BOILING_C = 100.0
# Slower than this no pot goes on that has cooled at all (judgement).
SLOWEST_PACE = 0.1
# Below this the air of an oven may let a dish fall under a hot-hold figure (judgement).
SLACK_AIR_C = 72.0


@dataclass(frozen=True)
class History:
    """at_s (times,) [epoch s]; core_c (times, lanes) [degC]; cool_c: the coolest part, for what is held in an oven.

    kind (times,): measured, reckoned or forecast. now: index of the present.
    """
    story: Story
    at_s: Array
    core_c: Array
    cool_c: Array
    kind: tuple[str, ...]
    now: int

    @property
    def past(self) -> slice:
        return slice(0, self.now + 1)

    def edge(self, share: float, part: str = "core") -> Array:
        """A quantile over the ways (times,) [degC]."""
        found: Array = np.quantile(self.core_c if part == "core" else self.cool_c, share, axis=1)
        return found

    @property
    def measured_at_s(self) -> float | None:
        return next((anchor.at_s for anchor in reversed(self.story.anchors) if anchor.measured), None)

    def now_c(self, share: float = 0.5) -> float:
        return float(np.quantile(self.core_c[self.now], share))


def history(made: Story, view: View, hours: float = 8.0, feeding: bool = True, untouched: bool = False,
            left_c: tuple[float, float, float] | None = None) -> History | None:
    """The history of a dish, from the first word of it to as far ahead as is foreseen; None: nothing known.

    untouched: ahead, nobody takes it out. So it is for what is done already: it stands there till somebody moves it.
    left_c: what the oven's model made of it as it came out (5, 50, 95 % [degC]), where no kitchen is at hand.
    """
    if not made.spans:
        return None
    now_s = view.now.timestamp()
    begin_s = min([made.spans[0].at_s] + [anchor.at_s for anchor in made.anchors])
    anchors = sorted([*made.anchors, *_believed(made, view, left_c)], key=lambda anchor: anchor.at_s)
    ahead = _foreseen(made, view, hours, feeding, untouched)
    end_s = now_s if ahead is not None else now_s + AHEAD_S
    at, core = _walk(made, anchors, begin_s, end_s, now_s)
    kind = ["reckoned" if each <= now_s else "forecast" for each in at]
    for anchor in anchors:
        if anchor.measured:
            kind[int(np.argmin(np.abs(at - anchor.at_s)))] = "measured"
    now = int(np.searchsorted(at, now_s, side="right")) - 1
    cool = _under_its_cupboard(made, at, core)
    if ahead is not None:
        coming, core_ahead, cool_ahead = ahead
        if len(coming) and anchors and anchors[-1].measured:
            # The forecast goes on from what was probed, and comes to the oven's own in a dish's time.
            part = np.exp(-(coming - now_s) / JOIN_TAU_S)[:, None]
            cool_ahead = cool_ahead + (core[-1] - core_ahead[0]) * part
            core_ahead = core_ahead + (core[-1] - core_ahead[0]) * part
        at = np.concatenate([at, coming])
        core, cool = np.concatenate([core, core_ahead]), np.concatenate([cool, cool_ahead])
        kind += ["forecast"] * len(coming)
    return History(made, at, core, cool, tuple(kind), max(now, 0))


def _under_its_cupboard(made: Story, at_s: Array, core_c: Array) -> Array:
    """The coolest part (times, lanes) [degC]: in a hot cupboard no warmer than it, straight between readings."""
    heats = [(dated.at.timestamp(), dated.fact.celsius) for dated in made.facts
             if isinstance(dated.fact, v.StoreHeat) and dated.fact.place == "hot_hold"]
    if not heats:
        return core_c
    read_c = np.interp(at_s, [each for each, _ in heats], [celsius for _, celsius in heats])
    begun_s = np.array([span.at_s for span in made.spans])
    place = np.searchsorted(begun_s, at_s, side="right") - 1
    inside = np.array([made.spans[max(each, 0)].where == "hot_hold" for each in place])
    found: Array = np.where(inside[:, None], np.minimum(core_c, read_c[:, None]), core_c)
    return found


def _believed(made: Story, view: View, left_c: tuple[float, float, float] | None) -> list[Anchor]:
    """The kitchen's core now, or at the moment when the dish came out, where nobody has measured it just then."""
    if made.last is None:
        return []
    belief = view.belief.dishes.get(made.name) if view.belief is not None else None
    span = made.last_of("oven")
    if span is None or (belief is None and left_c is None):
        return []
    later = [each.at_s for each in made.spans if each.at_s > span.at_s]
    at_s = min([*later, view.now.timestamp()])
    if any(abs(anchor.at_s - at_s) <= (600.0 if anchor.measured else 2700.0) for anchor in made.anchors):
        return []
    if belief is not None:
        ways = belief.left_core_c if made.meaty else belief.left_liquor_c
        low, mid, high = (float(each) for each in np.quantile(ways, (0.05, 0.5, 0.95)))
    else:
        assert left_c is not None
        low, mid, high = left_c
    # A way that boiled dry and roasts on says nothing of how cool another may be.
    high = max(mid, min(high, BOILING_C))
    mid = min(mid, _no_hotter_before(made, at_s))
    return [Anchor(at_s, mid, max(high - mid, mid - low, 0.5), False)]


def _no_hotter_before(made: Story, left_s: float) -> float:
    """No pot falls faster on the bench than its quickest way: the most that it was when it came out, by the first probe
    there [degC]."""
    first = next((anchor for anchor in made.anchors if anchor.measured and anchor.at_s >= left_s), None)
    if first is None or any(span.where != "bench" for span in made.spans if left_s <= span.at_s <= first.at_s):
        return BOILING_C
    room_c = ROOM_C - ROOM_HALF_C
    quickest_s = float(bench_tau_s(made.litres, made.dish.lid != "off").min())
    return room_c + (first.celsius - room_c) * float(np.exp(min((first.at_s - left_s) / quickest_s, 5.0)))


def _foreseen(made: Story, view: View, hours: float, feeding: bool,
              untouched: bool) -> tuple[Array, Array, Array] | None:
    """The kitchen's forecast of a dish in an oven: times, core, the cooler of core and liquor; members by warmth."""
    if made.last is None or made.last.where != "oven":
        return None
    if untouched or made.dish.tender in ("tender", "falling"):
        forecast = view.forecast(hours, feeding, untouched=True)
    else:
        forecast = view.forecast(hours, feeding)
        oven = forecast.ovens.get(made.dish.oven or "") if forecast is not None else None
        if oven is not None and float(np.quantile(oven.air_c, 0.05, axis=1).min()) < SLACK_AIR_C:
            forecast = view.forecast(hours, feeding, untouched=True)
    if forecast is None or made.name not in forecast.dishes:
        return None
    each = forecast.dishes[made.name]
    # A soup has no core but its liquor.
    # Nor one with water in it: what has boiled dry in a few ways is no heat of food.
    core = np.minimum(each.core_c if made.meaty else each.liquor_c, BOILING_C)
    cool = np.minimum(core, each.liquor_c)
    order = np.argsort(cool.mean(axis=0), kind="stable")
    pick = order[np.clip((SHARES * len(order)).astype(int), 0, len(order) - 1)]
    later = forecast.at_s > view.now.timestamp()
    return forecast.at_s[later], core[later][:, pick], cool[later][:, pick]


def _walk(made: Story, anchors: list[Anchor], begin_s: float, end_s: float, now_s: float) -> tuple[Array, Array]:
    """Core lanes on a grid from begin_s to end_s; what is not yet known at now_s goes on as it was."""
    marks = {begin_s, end_s, now_s, *(span.at_s for span in made.spans), *(anchor.at_s for anchor in anchors)}
    marks = {mark for mark in marks if begin_s <= mark <= end_s}
    grid = sorted(marks | set(np.arange(begin_s, end_s, GRID_S).tolist()))
    at = np.array(grid)
    core = np.empty((len(at), len(SHARES)))
    temp = _first_c(made)
    chilling = _Chilling()
    stops = sorted(marks)
    index = 0
    for start_s, stop_s in zip(stops, [*stops[1:], end_s + 1.0], strict=True):
        here = [anchor for anchor in anchors if anchor.at_s == start_s]
        if here:
            temp = here[-1].celsius + here[-1].spread_c * EDGE
        span = next((each for each in reversed(made.spans) if each.at_s <= start_s), made.spans[0])
        if span.hot and span.at_s == start_s and not here:
            temp = HOT_LIQUOR_C + HOT_HALF_C * EDGE
        if span.where == "cold" and span.at_s == start_s and not here:
            temp = np.minimum(temp, COLD_C + COLD_HALF_C * EDGE)
        chilling.begin(span, start_s, temp, here[-1] if here else None)
        target = next((anchor for anchor in anchors if anchor.at_s == stop_s), None)
        piece = [each for each in grid[index:] if each < stop_s]
        times = np.array(piece) - start_s
        if target is not None and span.where != "chill":
            goal = target.celsius + target.spread_c * EDGE
            core[index:index + len(piece)] = _bridge(temp, goal, times, stop_s - start_s, _tau_s(span, made),
                                                     OVEN_FALL_TAU_S if span.where == "oven" else 0.0)
            temp = goal
        else:
            reach = np.append(times, stop_s - start_s)
            rows = chilling.rows(start_s, reach) if span.where == "chill" else _law(span, made, temp, reach)
            core[index:index + len(piece)] = rows[:-1]
            temp = rows[-1]
        index += len(piece)
    _no_cooler_before(made, anchors, at, core)
    return at, core


def _no_cooler_before(made: Story, anchors: list[Anchor], at_s: Array, core_c: Array) -> None:
    """A pot on the bench does not warm by itself: before a probe there it was no cooler, back to the probe before."""
    for before, anchor in zip([None, *anchors], anchors, strict=False):
        since_s = np.inf
        for span in reversed([each for each in made.spans if each.at_s <= anchor.at_s]):
            if span.where not in ("bench", "open"):
                break
            since_s = span.at_s
        if anchor.measured and since_s < anchor.at_s:
            inside = (at_s >= since_s) & (at_s < anchor.at_s) & (at_s > (before.at_s if before is not None else 0.0))
            core_c[inside] = np.maximum(core_c[inside], anchor.celsius + anchor.spread_c * EDGE)


def _first_c(made: Story) -> Array:
    """The core before anything was done to it: cold from the store unless said otherwise; a soup as its liquor."""
    begun = made.dish.start
    if made.spans and made.spans[0].where in (*OUT, "chill", "cold") and not made.meaty:
        begun = "hot"
    if made.spans and made.spans[0].where in ("bench", "open", "hot_hold", "chill"):
        # It comes into the talk off the heat: hot all through, how hot nobody said.
        return HOT_LIQUOR_C + HOT_HALF_C * EDGE
    if begun == "hot" and not made.meaty:
        return HOT_LIQUOR_C + HOT_HALF_C * EDGE
    if begun == "warm":
        return WARM_C + WARM_HALF_C * EDGE
    return COLD_C + COLD_HALF_C * EDGE


def bench_tau_s(litres: float, lid: bool) -> Array:
    """Time constant (lanes,) [s] of a pot that stands in the room, as high as wide; quick falls first."""
    area = 5.54 * (litres / 1000.0) ** (2.0 / 3.0)
    film = (LID_FILM if lid else OPEN_FILM) * FILM_FACTOR ** (-EDGE)
    tau: Array = CAPACITY_J_KGK * litres / (film * area)
    return tau


def _tau_s(span: Span, made: Story) -> Array:
    if span.where in ("bench", "aside", "open"):
        lid = span.where == "bench" and made.dish.lid != "off"
        return bench_tau_s(made.litres, lid)
    if span.where in ("reheat", "ring"):
        return REHEAT_TAU_S * 1.6 ** (-EDGE)
    return OVEN_TAU_S * 1.5 ** (-EDGE)


def _far_c(span: Span) -> Array:
    if span.where in ("oven", "reheat", "ring"):
        return OVEN_FAR_C + 2.0 * EDGE
    if span.where == "hot_hold" and span.celsius is not None:
        # What the cupboard reads is what the rule asks of it.
        return np.full(len(SHARES), span.celsius)
    if span.where in ("cold", "store"):
        return COLD_C + COLD_HALF_C * EDGE
    return ROOM_C + ROOM_HALF_C * EDGE


def _law(span: Span, made: Story, temp: Array, times_s: Array) -> Array:
    """Lanes (times, lanes) that go towards what surrounds the dish; a store keeps what it holds."""
    if span.where == "store":
        return np.repeat(temp[None, :], len(times_s), axis=0)
    part = np.exp(-times_s[:, None] / _tau_s(span, made)[None, :])
    far = _far_c(span)
    found: Array = far + (temp - far) * part
    return found


def _bridge(temp: Array, goal: Array, times_s: Array, whole_s: float, tau_s: Array, least_fall_s: float) -> Array:
    """From one known heat to the next along an exponential of the place's own time constant."""
    # A warm way rises early and falls late.
    tau = np.where(goal >= temp, np.sort(tau_s)[::-1], np.maximum(np.sort(tau_s), least_fall_s))
    share = -np.expm1(-times_s[:, None] / tau) / np.maximum(-np.expm1(-max(whole_s, 1.0) / tau), 1e-9)
    found: Array = temp + (goal - temp) * share
    return found


class _Chilling:
    """The chill that is under way: one run from its start, narrowed to the ways that fit a reading taken in it."""

    def __init__(self) -> None:
        self._span: Span | None = None
        self._start_s = 0.0
        self._start_c = np.zeros(len(SHARES))
        self._shares: Array = SHARES
        self._pace = 1.0    # of what was probed, to the slowest way reckoned

    def begin(self, span: Span, at_s: float, temp: Array, anchor: Anchor | None) -> None:
        if span.where != "chill":
            self._span = None
            return
        if span is not self._span:
            self._span, self._start_s, self._start_c, self._shares, self._pace = span, at_s, temp, SHARES, 1.0
        elif anchor is not None:
            self._narrow(at_s, anchor)

    def _narrow(self, at_s: float, anchor: Anchor) -> None:
        elapsed_s = np.arange(1.0, 61.0) / 60.0 * (at_s - self._start_s)
        rows = self.rows(self._start_s, elapsed_s)
        expected = rows[-1]
        place = float(np.interp(anchor.celsius, expected, self._shares))
        if expected[-1] + 2.0 < anchor.celsius < float(self._start_c.max()) - 2.0:
            # Slower than the slowest way: it goes on as slowly as it has gone so far.
            reached_s = float(np.interp(-anchor.celsius, -rows[:, -1], elapsed_s))
            self._pace *= max(reached_s / elapsed_s[-1], SLOWEST_PACE)
        elif not expected[0] - 2.0 <= anchor.celsius <= expected[-1] + 2.0:
            # Outside all ways reckoned: go on from the reading by the ways at that end.
            self._start_s, self._pace = at_s, 1.0
            self._start_c = anchor.celsius + anchor.spread_c * EDGE
        narrowed: Array = np.clip(place + 0.3 * (SHARES - 0.5), SHARES[0], SHARES[-1])
        self._shares = narrowed

    def rows(self, from_s: float, times_s: Array) -> Array:
        assert self._span is not None
        assert self._span.vessel is not None
        after = (times_s + (from_s - self._start_s)) * self._pace
        at = np.unique(np.concatenate([[0.0], after]))
        found = chill.curves(self._span.vessel, chill.METHODS[self._span.method], self._start_c, at, self._shares)
        return found[np.searchsorted(at, after)]


def moment_of(at_s: float, zone: tzinfo | None) -> datetime:
    return Instant.fromtimestamp(at_s, zone)
