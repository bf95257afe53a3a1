"""The heat of each food for the class page: measured, reckoned, forecast, and which is which.

It is the history that the prompts go by. In an oven it is what the models made of it then, as the log kept it; what
they were not told of for a while, or what was still to come, is a forecast.
"""
from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta

import numpy as np

from bot.log.foreseen import Expected, Foreseen
from skills.record import ClassRecord
from skills.safety import kinds, meters, spans
from skills.safety.history import BOILING_C, History, history, moment_of
from skills.safety.packs import pack
from skills.view import View
from skills.wording import capital, clock, number

# A row for each hour in an oven; what was kept so lately is what was reckoned then, and older is a forecast; ahead so
# far (all judgement).
EVERY, FRESH, AHEAD = timedelta(hours=1), timedelta(minutes=30), timedelta(hours=6)


@dataclass(frozen=True)
class HeatRow:
    """how: measured; reckoned (by the oven's model, or the laws of the place); or a forecast, made when."""
    at: datetime
    food: str
    heat: str
    how: str


def heat_history(record: ClassRecord, region: str, kept: Sequence[Foreseen] = ()) -> tuple[list[HeatRow], str]:
    """The rows, and how long each food was between the hot and the cold figure of the region's rules."""
    rows: list[HeatRow] = []
    notes = []
    last = max((dated.told for dated in record.facts), default=None)
    for name in spans.names(record) if last is not None else ():
        assert last is not None
        view = View(record, last, None, region)
        made = spans.story(name, record, view.now)
        seen = history(made, view, left_c=_left(made, kept)) if kinds.clocked(made) else None
        if seen is None:
            continue
        probed = {anchor.at_s: anchor.celsius for anchor in made.anchors if anchor.measured}
        moved = {span.at_s for span in made.spans if span.where not in ("oven", "store", "gone")}
        mine = list(_in_ovens(made, kept, last, list(probed)))
        for at_s in sorted(probed.keys() | moved):
            at = moment_of(at_s, view.now.tzinfo)
            if at_s in probed:
                mine.append(HeatRow(at, name, f"{number(probed[at_s])} °C", "measured"))
            else:
                mine.append(HeatRow(at, name, _reckoned(seen, at_s), "reckoned"))
        rows += sorted(mine, key=lambda row: row.at)
        between = meters.in_range_min(seen, pack(region))
        if moved and between >= 1.0:
            notes.append(f"{capital(name)}: about {between:.0f} min between the hot and the cold figure, as reckoned.")
    return rows, " ".join(notes)


def _in_ovens(made: spans.Story, kept: Sequence[Foreseen], last: datetime,
              probed: Sequence[float]) -> Iterator[HeatRow]:
    """A row for each hour in an oven, by the forecast kept last before; ahead too while it still stands there."""
    for span, after in zip(made.spans, [*made.spans[1:], None], strict=True):
        if span.where != "oven":
            continue
        at = moment_of(span.at_s, last.tzinfo)
        ends = moment_of(after.at_s, last.tzinfo) if after is not None else last + AHEAD
        while (at := at + EVERY) < ends:
            found = _band(made, kept, at)
            if found is None or any(abs(each - at.timestamp()) < FRESH.total_seconds() for each in probed):
                continue
            was, band = found
            fresh = at <= last and at - was.at <= FRESH
            yield HeatRow(at, made.name, _words(band), "reckoned" if fresh else f"forecast of {clock(was.at)}")


def _band(made: spans.Story, kept: Sequence[Foreseen], at: datetime) -> tuple[Foreseen, Expected] | None:
    """5, 50 and 95 % of its heat at a time [degC], by the last forecast before it."""
    was = next((each for each in reversed(kept) if each.at <= at and made.name in each.dishes), None)
    band = was.dish_band(made.name, "core" if made.meaty else "liquor", at) if was is not None else None
    if was is None or band is None:
        return None
    low, mid, high = (min(each, BOILING_C) for each in band)
    return was, (low, mid, high)


def _left(made: spans.Story, kept: Sequence[Foreseen]) -> Expected | None:
    """What was foreseen of it for the moment when it left its oven."""
    span = made.last_of("oven")
    after = [each.at_s for each in made.spans if span is not None and each.at_s > span.at_s]
    if not after or not kept:
        return None
    found = _band(made, kept, moment_of(after[0], kept[0].at.tzinfo))
    return None if found is None else found[1]


def _reckoned(seen: History, at_s: float) -> str:
    low, mid, high = (float(np.interp(at_s, seen.at_s, seen.edge(share))) for share in (
        meters.COOL, meters.MID, meters.WARM))
    return _words((low, mid, high))


def _words(band: Expected) -> str:
    low, mid, high = band
    return f"about {mid:.0f} °C ({low:.0f} to {high:.0f})"
