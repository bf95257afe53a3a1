"""What people will do that nobody has said: looks while a pot is in, pots taken out when they are done, fires let out.

Each member has its own course of these, so that a forecast carries the doubt about them. Figures are the usual run of a
class (common practice, no source): a look about once an hour; a pot comes out some time after a look has found it
tender; the small fire of a tended oven is let out then; now and then the door stays off.
"""
from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace

import numpy as np
from numpy.typing import NDArray

from skills.kitchen.acts import OvenStory, Timeline
from skills.kitchen.ensemble import Ensemble
from skills.kitchen.pots import LID_S
from skills.kitchen.seeds import generator
from skills.kitchen.setting import Setting
from skills.oven.model import OvenState

Array = NDArray[np.float64]
Flags = NDArray[np.bool_]

# A pot is left alone for its first hour or two and then looked at about every 50 min; who looks keeps a rhythm (common
# practice, no source). What a class's own looks tell of it counts against RHYTHM_LOOKS usual ones.
FIRST_LOOK_S, LOOK_EVERY_S = 6000.0, 3100.0
FIRST_SHAPE, LOOK_SHAPE = 2.5, 3.0      # Weibull: deviations of 0.43 and 0.36 of the mean
RHYTHM_LOOKS = 2.0
MEAN_GAP = 0.89             # mean of a Weibull variable of either shape over its scale
OVERDUE = 1.2               # a look this late, in scales, was made unsaid or is not meant to be
LOOK_S = 240.0
POT_OUT_S = 120.0
OUT_AFTER_FOUND_S = (180.0, 2400.0)
LEFT_OFF = 1.0 / 3.0        # of six simulated classes two left it off
# A door left off is told with the pot or not at all: the chance of it falls off in the minutes after (judgement).
SILENCE_S, STILL_OFF = 300.0, 0.2


@dataclass
class Habits:
    """The courses of all oven lanes. out_s: when the last pot leaves (inf: not known yet)."""
    members: int
    looks_s: Array                                    # (count, oven lanes) starts of looks
    soon_s: Array                                     # from being found tender to out
    least_s: Array                                    # no pot leaves earlier than this
    stays_off: Flags                                  # whether the door is left off then
    tended: Flags
    out_s: Array
    found_s: Mapping[str, int]                        # dishes that people have called tender, and when
    dishes: dict[str, tuple[int, Array]] = field(default_factory=dict)

    def __post_init__(self) -> None:
        looked = self.looks_s[:, np.isfinite(self.looks_s[0])]     # the lanes of ovens with a pot in them
        self.earliest_s = looked.min(axis=1) if looked.size else np.zeros(0)
        self.latest_s = looked.max(axis=1) if looked.size else np.zeros(0)

    def ripen(self, oven: int, name: str, tender_s: Array) -> None:
        """Take in when a dish becomes tender in each member (inf: not yet)."""
        lanes = slice(oven * self.members, (oven + 1) * self.members)
        found = self.found_s.get(name)
        ready = (_first_from(self.looks_s[:, lanes], tender_s) if found is None else found) + self.soon_s[lanes]
        self.dishes[name] = (oven, ready)
        out = np.max([each for place, each in self.dishes.values() if place == oven], axis=0)
        out = np.maximum(out, self.least_s[lanes])
        self.out_s[lanes] = out

    def _looked_s(self, from_s: int, end_s: int, length_s: float) -> Array:
        """Seconds of a step that fall into looks of that length."""
        # Each lane's looks follow one another: only those of a few rows can touch the step.
        first, last = np.searchsorted(self.latest_s, from_s - length_s), np.searchsorted(self.earliest_s, end_s)
        looks_s = self.looks_s[first:last]
        if not len(looks_s):
            return np.zeros_like(self.out_s)
        parts = np.minimum(looks_s + length_s, end_s)
        parts -= np.maximum(looks_s, from_s)
        np.maximum(parts, 0.0, out=parts)
        parts *= looks_s < self.out_s
        within: Array = parts.sum(axis=0)
        return within

    def bare(self, from_s: int, end_s: int) -> Array | None:
        """Share of a step in which the lids are off, for a fork test within a look."""
        looked = self._looked_s(from_s, end_s, LID_S)
        return np.minimum(looked / (end_s - from_s), 1.0) if looked.any() else None

    def open_share(self, shut: Array, from_s: int, end_s: int) -> Array:
        """How open each mouth is in a step, given how open it was said to be."""
        span = float(end_s - from_s)
        looked = self._looked_s(from_s, end_s, LOOK_S)
        after = np.where(self.stays_off, np.inf, self.out_s + POT_OUT_S)
        gone = np.clip(np.minimum(after, end_s) - np.maximum(self.out_s, from_s), 0.0, span)
        share = np.minimum((looked + gone) / span, 1.0)
        opened: Array = shut + (1.0 - shut) * share
        return opened

    def pots_in(self, end_s: int) -> Array | None:
        """1 where the pots still stand in the oven at the end of a step, else 0."""
        gone = self.out_s < end_s
        return None if not gone.any() else 1.0 - gone.astype(np.float64)

    def fire(self, state: OvenState, from_s: int, end_s: int) -> OvenState:
        """The small fire is let out with the last pot."""
        now = self.tended & (self.out_s >= from_s) & (self.out_s < end_s)
        if not now.any():
            return state
        return replace(state, flame_j=np.where(now, 0.5 * state.flame_j, state.flame_j),
                       fresh_j=np.where(now, 0.5 * state.fresh_j, state.fresh_j))

    def fed(self, at_s: int) -> Flags:
        """Whether each lane's oven is still fed."""
        going: Flags = ~(self.tended & (self.out_s <= at_s))
        return going


def _first_from(looks_s: Array, tender_s: Array) -> Array:
    """The first look at which it is tender in each lane (inf: none); looks_s (count, lanes) in order."""
    late: Array = np.where(looks_s >= tender_s, looks_s, np.inf).min(axis=0)
    return late


def picked(course: Habits, pick: NDArray[np.intp]) -> Habits:
    """The courses of these members only."""
    lanes = np.concatenate([first + pick for first in range(0, len(course.out_s), course.members)])
    return replace(course, members=len(pick), looks_s=course.looks_s[:, lanes], soon_s=course.soon_s[lanes],
                   least_s=course.least_s[lanes], stays_off=course.stays_off[lanes], tended=course.tended[lanes],
                   out_s=course.out_s[lanes],
                   dishes={name: (place, ready[pick]) for name, (place, ready) in course.dishes.items()})


def untouched(course: Habits) -> Habits:
    """The course in which nobody is there: no looks, nothing taken out."""
    return replace(course, looks_s=np.full_like(course.looks_s, np.inf), soon_s=np.full_like(course.soon_s, np.inf))


def to_come(ensemble: Ensemble, setting: Setting, span_s: int, story: Timeline) -> Habits:
    """Draw each member's course from now on."""
    lanes, members = ensemble.oven_lanes, ensemble.members
    count = int(span_s / LOOK_EVERY_S * 1.6) + 6
    looks = np.full((count, lanes), np.inf)
    soon, least = np.zeros(lanes), np.zeros(lanes)
    off, kept = np.zeros(lanes, bool), np.zeros(lanes, bool)
    out = np.full(lanes, np.inf)
    for index, name in enumerate(ensemble.names):
        mine = ensemble.lanes(index)
        rng = generator(setting.seed, "habits", name, ensemble.at_s)
        drawn = rng.exponential(size=(count, members))
        if index in ensemble.shelf.ovens:
            looks[:, mine] = ensemble.at_s + _look_gaps_s(drawn, story.ovens[name], ensemble.at_s).cumsum(axis=0)
        soon[mine] = rng.uniform(*OUT_AFTER_FOUND_S, members)
        least[mine] = ensemble.at_s + rng.uniform(60.0, 1500.0, members)
        oven = story.ovens[name]
        kept[mine] = oven.tended
        left_s = oven.emptied_s
        chance = LEFT_OFF
        if left_s is not None and not oven.door_told(left_s - POT_OUT_S):
            out[mine] = left_s
            quiet_s = max(ensemble.at_s - left_s, 0.0)
            chance *= STILL_OFF + (1.0 - STILL_OFF) * np.exp(-quiet_s / SILENCE_S)
        off[mine] = rng.uniform(size=members) < chance
    return Habits(members, looks, soon, least, off, kept, out, story.found_s)


def _look_gaps_s(drawn: Array, story: OvenStory, now_s: int) -> Array:
    """Seconds from now to the next look and between those after it, from standard exponentials `drawn`.

    Gaps are Weibull; of the one that is running only what is left of it, given that it has lasted so long.
    """
    begun_s = now_s if story.filled_s is None else story.filled_s
    looked_s = [each for each in story.looked_s if each > begun_s]
    between_s = np.diff(looked_s)
    scale_s = (RHYTHM_LOOKS * LOOK_EVERY_S + between_s.sum()) / (RHYTHM_LOOKS + len(between_s)) / MEAN_GAP
    gaps: Array = scale_s * drawn ** (1.0 / LOOK_SHAPE)
    first_s, shape = (scale_s, LOOK_SHAPE) if looked_s else (FIRST_LOOK_S / MEAN_GAP, FIRST_SHAPE)
    waited = min(max(now_s - max([begun_s, *looked_s]), 0) / first_s, OVERDUE)
    gaps[0] = first_s * ((waited ** shape + drawn[0]) ** (1.0 / shape) - waited)
    return gaps
