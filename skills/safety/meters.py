"""What a history amounts to: heat kill, growth, the coolest hour, and the clocks of holding, chilling and reheating.

Doubt goes to the cautious side: the 5 % (cool) edge of what must be hot, the 95 % (warm) edge of what must be cold.
"""
from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from skills import vocabulary as v
from skills.safety import growth, kinds, lethality
from skills.safety.chill import first_below
from skills.safety.history import History
from skills.safety.packs import ChillMark, Pack
from skills.safety.spans import OUT, Span, Story

Array = NDArray[np.float64]

COOL, MID, WARM = 0.05, 0.5, 0.95
# A dip shorter than this is a lid off or a probe in the wrong place (judgement).
DIP_S = 300.0
BOTTOM_C = 5.0
# Where nobody looks, a falling edge counts as below the figure when it comes this near it: an edge told by a score of
# ways is itself unsure by about 2 to 3 degC (standard error of a 5 % quantile of 21 normal draws with 5 to 6 degC).
UNSEEN_MARGIN_C = 2.0


@dataclass(frozen=True)
class Cooked:
    """Equivalent minutes at 70 degC at the cool edge, what is asked, whether it is reached (probed: by a reading)."""
    minutes: float
    need_min: float
    reached: bool
    probed: bool
    at_s: float | None


@dataclass(frozen=True)
class HoldClock:
    """Below the hot-hold figure since; chill by; use by [epoch s]. how: what tells it. turn: how many times by now."""
    since_s: float
    chill_by_s: float
    use_by_s: float
    how: Literal["probe", "hot hold", "figures"]
    turn: int

    @property
    def again(self) -> bool:
        return self.turn > 1

    @property
    def measured(self) -> bool:
        return self.how != "figures"


@dataclass(frozen=True)
class ChillStage:
    """One stage of a chill: by when, when it is reached (5, 50, 95 % of the ways), and the share that misses it."""
    mark: ChillMark
    by_s: float
    reached_s: tuple[float, float, float]
    miss: float


@dataclass(frozen=True)
class Growth:
    """C. perfringens since the last full heat, log10: cool edge, middle, warm edge, the model's own band included."""
    low: float
    mid: float
    high: float


@dataclass(frozen=True)
class Coolest:
    """The coolest hour ahead [epoch s], its heats at the edges [degC]; when the cool edge and the middle fall below.

    share: of the ways ahead, how many fall below at all.
    """
    at_s: float
    cool_c: float
    mid_c: float
    warm_c: float
    passes_s: float | None
    likely_s: float | None
    share: float


def cooked(history: History, until: int | None = None) -> Cooked:
    """How far the core has been heated up to index `until` (default: now)."""
    stop = history.now + 1 if until is None else until + 1
    at, core = history.at_s[:stop], history.core_c[:stop]
    running = np.quantile(lethality.equivalent_min(at, core), COOL, axis=1)
    cool = np.quantile(core, COOL, axis=1)
    need = lethality.need_min(_rise_c_per_min(at, np.quantile(core, MID, axis=1)))
    enough = (running >= need) | (cool >= lethality.SLOW_ENOUGH_C)
    reached = bool(enough.any())
    at_s = float(at[int(np.argmax(enough))]) if reached else None
    best = max((anchor.celsius for anchor in history.story.anchors if anchor.measured), default=0.0)
    return Cooked(float(running[-1]), need, reached, best >= lethality.CREDIT_FROM_C, at_s)


def _rise_c_per_min(at_s: Array, core_c: Array) -> float:
    """How fast the core rose through 40 to 60 degC; slow where that was not seen."""
    low, high = np.flatnonzero(core_c >= 40.0), np.flatnonzero(core_c >= 60.0)
    if len(low) == 0 or len(high) == 0 or high[0] <= low[0]:
        return 0.0
    return float((core_c[high[0]] - core_c[low[0]]) / (at_s[high[0]] - at_s[low[0]]) * 60.0)


def in_range_min(history: History, pack: Pack) -> float:
    """Minutes up to now between the hot and cold figures since the last full heat, at the edge that lingers longer."""
    begin = _last_kill(history, history.now + 1)
    at = history.at_s[begin:history.now + 1]
    longest = 0.0
    for share in (COOL, WARM):
        edge = history.edge(share)[begin:history.now + 1]
        mid = 0.5 * (edge[1:] + edge[:-1])
        inside = (mid < pack.hot_hold_c) & (mid > max(BOTTOM_C, pack.cold_hold_c))
        longest = max(longest, float(np.sum(np.diff(at)[inside])))
    return longest / 60.0


def hold_clock(history: History, pack: Pack, until: int | None = None) -> HoldClock | None:
    """The clock that runs at index `until` (default: now) while cooked food is below the hot-hold figure; else None.

    It starts when the cool edge passes the figure, or at the reading that showed it. Where the allowance is for once, a
    second fall has none left; where times add up, they add up.
    """
    stop = history.now if until is None else until
    done_s = cooked(history, stop).at_s
    done_s = _taken_for_cooked_s(history.story) if done_s is None else done_s
    if done_s is None or done_s > history.at_s[stop]:
        return None
    start = int(np.searchsorted(history.at_s, done_s))
    at, cool = history.at_s[start:stop + 1], history.edge(COOL, "cool")[start:stop + 1]
    reheated = [span.at_s for span in history.story.spans if span.where == "reheat"]
    ceiling = pack.value("reheat_c")
    falls: list[list[float]] = []
    below = False
    hottest = 0.0
    for before, step, temp in zip([at[0], *at], at, cool, strict=False):
        if temp < pack.hot_hold_c and not below:
            # From the last moment at which it was not below.
            falls.append([float(before), float(step)])
            below, hottest = True, temp
        elif temp >= pack.hot_hold_c and below:
            below = False
        if below:
            falls[-1][1] = float(step)
        else:
            hottest = max(hottest, float(temp))
            if falls and hottest >= max(ceiling, lethality.SLOW_ENOUGH_C) and reheated and step >= reheated[0]:
                # A full reheat wipes the slate once (and is the only one there is).
                falls = []
    falls = [fall for fall in falls if fall[1] - fall[0] >= DIP_S or fall is falls[-1]]
    if not falls or not below:
        return None
    since = falls[-1][0]
    spent = sum(fall[1] - fall[0] for fall in falls[:-1])
    turn = len(falls)
    use, chill = pack.value("use_by_min") * 60.0, pack.value("chill_by_min") * 60.0
    if pack.once and turn > 1:
        return HoldClock(since, since, since, _told_by(history, since, pack), turn)
    used = 0.0 if pack.once else spent
    return HoldClock(since, since + max(chill - used, 0.0), since + max(use - used, 0.0),
                     _told_by(history, since, pack), turn)


def _taken_for_cooked_s(made: Story) -> float | None:
    """When it was taken for cooked, whatever its heat was [epoch s]: a rice or a soup with its oven, meat when served.

    A clock that waited for proof of cooking would never start for food that nobody probed.
    """
    raw = kinds.raw_meat(made)
    for before, span in zip(made.spans, made.spans[1:], strict=False):
        if before.where == "oven" and span.where in OUT and not raw:
            return span.at_s
    served = made.dish.stages.get("served") if made.last_of("oven") is not None else None
    return served.timestamp() if served is not None else None


def _told_by(history: History, since_s: float, pack: Pack) -> Literal["probe", "hot hold", "figures"]:
    made = history.story
    if any(anchor.measured and anchor.at_s >= since_s and anchor.celsius < pack.hot_hold_c for anchor in made.anchors):
        return "probe"
    cupboard = any(isinstance(dated.fact, v.StoreHeat) and dated.fact.place == "hot_hold"
                   and dated.fact.celsius < pack.hot_hold_c and dated.at.timestamp() >= since_s for dated in made.facts)
    return "hot hold" if cupboard else "figures"


def falls_below(history: History, mark_c: float, share: float = COOL) -> float | None:
    """When the core's edge passes below a figure from now on [epoch s]; None: not in sight, or below already."""
    edge = history.edge(share, "cool")[history.now:]
    at = history.at_s[history.now:]
    if edge[0] < mark_c:
        return None
    found = float(first_below(at, edge[:, None], mark_c)[0])
    # What is reckoned cooler than it was told to look, and warms from there, is on its way up and not falling.
    peak = int(np.argmax(edge[1:])) if len(edge) > 1 else 0
    return found if np.isfinite(found) and not (peak > 0 and at[1 + peak] > found) else None


def coolest_hour(history: History, pack: Pack, from_s: float, until_s: float) -> Coolest | None:
    """The coolest hour between two times ahead; None where nothing is foreseen."""
    inside = (history.at_s >= from_s) & (history.at_s <= until_s)
    if inside.sum() < 2:
        return None
    at, lanes = history.at_s[inside], history.cool_c[inside]
    low, mid, high = (np.quantile(lanes, share, axis=1) for share in (COOL, MID, WARM))
    half = (at[:, None] - at[None, :] <= 1800.0) & (at[None, :] - at[:, None] <= 1800.0)
    hourly = (half @ low) / half.sum(axis=1)
    # What is still on its way up is not falling yet.
    peak = int(np.argmax(low))
    place = peak + int(np.argmin(hourly[peak:]))
    passes = [float(first_below(at[peak:], edge[peak:, None], mark_c)[0])
              for edge, mark_c in ((low, pack.hot_hold_c + UNSEEN_MARGIN_C), (mid, pack.hot_hold_c))]
    cool_s, likely_s = (each if np.isfinite(each) else None for each in passes)
    return Coolest(float(at[place]), float(low[place]), float(mid[place]), float(high[place]), cool_s, likely_s,
                   float((lanes[peak:].min(axis=0) < pack.hot_hold_c).mean()))


def chill_stages(history: History, pack: Pack, span: Span) -> list[ChillStage]:
    """Each stage of the cooling rule for a chill that began with `span`, lane by lane.

    The clock starts with the chill; where the rule counts from its first figure, when that is passed, which may be
    before the chill or well into it.
    What was probed goes before what was reckoned: a way cannot be below a mark before a probe that was above it.
    """
    at, core = history.at_s, history.core_c
    begun_s = history.story.chill_begun_s
    begun_s = span.at_s if begun_s is None else min(begun_s, span.at_s)
    probed = [anchor for anchor in history.story.anchors if anchor.measured and anchor.at_s > begun_s]
    found = []
    for mark in pack.chill:
        seen_s = next((anchor.at_s for anchor in probed if anchor.celsius <= mark.to_c), np.inf)
        after = at >= max([begun_s] + [anchor.at_s for anchor in probed if anchor.at_s < seen_s])
        passed = np.full(core.shape[1], begun_s)
        reached = np.full(core.shape[1], np.inf)
        for lane in range(core.shape[1]):
            hot = np.flatnonzero(core[:, lane] > mark.from_c)
            if mark.starts == "heat" and len(hot) and hot[-1] + 1 < len(at):
                passed[lane] = at[hot[-1] + 1]
            reached[lane] = min(seen_s, float(first_below(at[after], core[after][:, lane:lane + 1], mark.to_c)[0]))
        late = reached - passed > mark.within_min * 60.0
        ordered = np.sort(reached)
        edges = tuple(float(ordered[min(len(ordered) - 1, int(share * len(ordered)))]) for share in (COOL, MID, WARM))
        found.append(ChillStage(mark, float(np.median(passed)) + mark.within_min * 60.0,
                                (edges[0], edges[1], edges[2]), float(late.mean())))
    return found


def grown(history: History, until: int | None = None) -> Growth:
    """Predicted growth since the core was last heated through, up to index `until` (default: now)."""
    stop = history.now + 1 if until is None else until + 1
    start = _last_kill(history, stop)
    at, core = history.at_s[start:stop], history.core_c[start:stop]
    if len(at) < 2:
        return Growth(0.0, 0.0, growth.BAND_LOG10)
    meat = growth.meat_of(history.story.words)
    picked = np.stack([np.quantile(core, share, axis=1) for share in (COOL, MID, WARM)], axis=1)
    each = growth.growth_log10(at, picked, meat)
    return Growth(max(0.0, float(each.min()) - growth.BAND_LOG10), float(each[1]),
                  float(each.max()) + growth.BAND_LOG10)


def _last_kill(history: History, stop: int) -> int:
    """Index after the last stretch above 60 degC that reached what is asked at the cool edge; 0 if there was none."""
    at, cool = history.at_s[:stop], history.edge(COOL)[:stop]
    hot = cool >= lethality.CREDIT_FROM_C
    last, begin = 0, None
    for index in range(stop + 1):
        inside = index < stop and bool(hot[index])
        if inside and begin is None:
            begin = index
        elif not inside and begin is not None:
            heard = lethality.equivalent_min(at[begin:index], cool[begin:index])[-1]
            if heard >= lethality.NEED_MIN or cool[begin:index].max() >= lethality.SLOW_ENOUGH_C:
                last = index - 1
            begin = None
    return last


def reaches(history: History, mark_c: float, share: float = COOL) -> float | None:
    """When an edge of the core first passes above a figure [epoch s], ahead or behind; None: not in sight."""
    above = np.flatnonzero(history.edge(share) >= mark_c)
    return float(history.at_s[int(above[0])]) if len(above) else None
