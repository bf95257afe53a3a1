"""The heat of each food for the class page: where it was measured, and as reckoned where it changed places."""
from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

import numpy as np

from skills.record import ClassRecord
from skills.safety import kinds, meters, spans
from skills.safety.history import History, history, moment_of
from skills.safety.packs import pack
from skills.view import View
from skills.wording import capital, number


@dataclass(frozen=True)
class HeatRow:
    """how: measured, or reckoned (by the laws of the places, without the oven's model)."""
    at: datetime
    food: str
    heat: str
    how: str


def heat_history(record: ClassRecord, region: str) -> tuple[list[HeatRow], str]:
    """The rows, and how long each food was between the hot and the cold figure of the region's rules."""
    rows: list[HeatRow] = []
    notes = []
    last = max((dated.told for dated in record.facts), default=None)
    for name in spans.names(record) if last is not None else ():
        assert last is not None
        view = View(record, last, None, region)
        made = spans.story(name, record, view.now)
        seen = history(made, view) if kinds.clocked(made) else None
        if seen is None:
            continue
        probed = {anchor.at_s: anchor.celsius for anchor in made.anchors if anchor.measured}
        moved = {span.at_s for span in made.spans if span.where not in ("oven", "store", "gone")}
        for at_s in sorted(probed.keys() | moved):
            at = moment_of(at_s, view.now.tzinfo)
            if at_s in probed:
                rows.append(HeatRow(at, name, f"{number(probed[at_s])} °C", "measured"))
            else:
                rows.append(HeatRow(at, name, _reckoned(seen, at_s), "reckoned"))
        between = meters.in_range_min(seen, pack(region))
        if moved and between >= 1.0:
            notes.append(f"{capital(name)}: about {between:.0f} min between the hot and the cold figure, as reckoned.")
    return rows, " ".join(notes)


def _reckoned(seen: History, at_s: float) -> str:
    low, mid, high = (float(np.interp(at_s, seen.at_s, seen.edge(share))) for share in (
        meters.COOL, meters.MID, meters.WARM))
    return f"about {mid:.0f} °C ({low:.0f} to {high:.0f})"
