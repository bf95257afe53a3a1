"""Wood that nobody told of: a fire is fed at regular times, and about half of the feeds are never said."""
from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

# Feeds in a firing come 10 to 25 min apart; the last one well before raking (common practice, no source).
FIRST_FEED_S = 360
LAST_BEFORE_RAKE_S = 1800
USUAL_S = {"retained": 1140.0, "tended": 690.0}


def feed_interval_s(told_s: Sequence[int], usual_s: float) -> float:
    """The most likely spacing [s] of feeds told at `told_s`: gaps are whole multiples of it, near `usual_s`.

    >>> feed_interval_s([0, 18 * 60, 53 * 60, 90 * 60], 1200.0) / 60
    18.0
    """
    gaps = [later - early for early, later in pairwise(told_s) if later - early >= 300]
    best, best_cost = usual_s, float("inf")
    for minutes in range(8, 61):
        spacing = 60.0 * minutes
        cost = ((spacing - usual_s) / 360.0) ** 2
        for gap in gaps:
            parts = max(1, round(gap / spacing))
            # About every other feed is told: each one missing makes the spacing half as likely.
            cost += min(((gap - spacing * parts) / 120.0) ** 2, 9.0) + 0.7 * (parts - 1)
        if cost < best_cost:
            best, best_cost = spacing, cost
    return best


def untold_feeds_s(lit_s: int | None, told_s: Sequence[int], end_s: int, ended: bool, usual_s: float,
                   quiet_s: int) -> list[int]:
    """Times [s] of the feeds that fill the gaps between lighting, the told feeds and the end of the firing.

    ended: the end was told (raked, door on), and nobody feeds in the last `quiet_s` before it; else the end is now.
    """
    told = sorted(told_s)
    spacing = feed_interval_s(told, usual_s)
    feeds: list[int] = []
    if lit_s is not None:
        first = told[0] if told else end_s
        if told:
            at = first - spacing
            while at >= lit_s + FIRST_FEED_S - 150:
                feeds.append(round(at))
                at -= spacing
        else:
            at = float(lit_s + FIRST_FEED_S)
            while at < end_s - (quiet_s if ended else 240):
                feeds.append(round(at))
                at += spacing
    for early, later in pairwise(told):
        parts = round((later - early) / spacing)
        feeds += [round(early + (later - early) * part / parts) for part in range(1, parts)]
    if told:
        at = told[-1] + spacing
        while at <= end_s - (quiet_s if ended else 240):
            feeds.append(round(at))
            at += spacing
    return sorted(feed // 60 * 60 for feed in feeds)


def routine_feeds_s(from_s: int, told_s: Sequence[int], until_s: int, interval_s: float) -> list[int]:
    """Times [s] of the routine feeds that nobody told of, from a stated routine to `until_s`."""
    feeds: list[int] = []
    last = from_s - interval_s + 240.0      # the first one comes soon after the routine is said
    for mark, told in [*((each, True) for each in sorted(told_s) if each >= from_s - 60), (until_s, False)]:
        slack = 0.5 * interval_s if told else 180.0
        at = last + interval_s
        while at <= mark - slack:
            feeds.append(round(at) // 60 * 60)
            at += interval_s
        last = float(mark)
    return [feed for feed in feeds if feed >= from_s]
