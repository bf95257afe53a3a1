"""Words that the food-safety answers and prompts share."""
from __future__ import annotations

import math
from datetime import datetime

from skills.record import ClassRecord
from skills.safety import chill
from skills.safety.history import moment_of
from skills.safety.meters import ChillStage, Growth, HoldClock
from skills.safety.packs import Pack
from skills.safety.spans import Span, Story
from skills.view import View
from skills.wording import capital, clock, day_clock, number, to_five

_COUNTS = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten")


def title(made: Story) -> str:
    return capital(made.name)


def at(at_s: float, view: View) -> str:
    """A clock time, to the minute below: a deadline is never said later than it is."""
    return day_clock(moment_of(math.floor(at_s / 60.0) * 60.0, view.now.tzinfo), view.now)


def about(at_s: float, view: View) -> str:
    return day_clock(to_five(moment_of(at_s, view.now.tzinfo)), view.now)


def owner(view: View, made: Story) -> str:
    """Who is to act: who holds the oven, who told of the dish last, else the lead."""
    told = next((span.who for span in reversed(made.spans) if span.who), "")
    return view.holder(made.dish.oven or "") or told or view.person() or lead(view.record)


def lead(record: ClassRecord) -> str:
    return record.lead or "Lead"


def count(many: int) -> str:
    return _COUNTS[many] if many < len(_COUNTS) else str(many)


def how(clock_: HoldClock) -> str:
    return {"probe": "by probe", "hot hold": "by the hot hold", "figures": "by my figures"}[clock_.how]


def below(clock_: HoldClock) -> str:
    return "below" if clock_.measured else "may be below"


def deadline(clock_: HoldClock, pack: Pack, view: View) -> str:
    """ "use or chill by 15:50 (UK rule)"; where they differ, both. """
    rule = pack.named("use_by_min", "hot_hold_c")
    if clock_.again and pack.once:
        return f"the one time below {number(pack.hot_hold_c)} is spent: reheat it fully now, or discard it ({rule})"
    if clock_.chill_by_s <= view.now.timestamp():
        return f"too late to chill it; use by {at(clock_.use_by_s, view)}, then discard it ({rule})"
    if clock_.chill_by_s >= clock_.use_by_s - 60.0:
        return f"use or chill by {at(clock_.use_by_s, view)} ({rule})"
    return f"chill by {at(clock_.chill_by_s, view)}, or use by {at(clock_.use_by_s, view)} ({rule})"


def heat(low: float, mid: float, high: float) -> str:
    return f"about {mid:.0f} ({low:.0f} to {high:.0f})" if high - low >= 2.0 else f"about {mid:.0f}"


def growth_line(grown: Growth) -> str:
    """C. perfringens in folds, with the band; an empty string where it is too little to speak of."""
    from skills.safety.growth import CAUTION_LOG10, DISCARD_LOG10, FAIL_LOG10
    if grown.mid < CAUTION_LOG10:
        return ""
    fold = "over 1000-fold" if grown.mid > DISCARD_LOG10 else f"about {_round(10 ** grown.mid)}-fold"
    most = "" if grown.mid > DISCARD_LOG10 else f" (up to {_round(10 ** min(grown.high, 6.0))})"
    act = "discard it" if grown.mid > FAIL_LOG10 else "near the US limit of 10-fold"
    return f"C. perfringens by the model {fold}{most}: {act}."


def _round(value: float) -> str:
    digits = max(0, math.floor(math.log10(max(value, 1.0))))
    return f"{round(value / 10 ** digits) * 10 ** digits:.0f}"


def length(seconds: float) -> str:
    """ "50 min", "3 h 10 min" """
    minutes = int(seconds // 60)
    return f"{minutes} min" if minutes < 100 else f"{minutes // 60} h {minutes % 60:02d} min"


def reached(stage: ChillStage, view: View) -> str:
    low, mid, high = stage.reached_s
    if not math.isfinite(mid):
        return "not within the hours I can see"
    last = about(high, view) if math.isfinite(high) else "hours later"
    return f"about {about(mid, view)} ({clock_only(low, view)} to {last})"


def clock_only(at_s: float, view: View) -> str:
    return clock(to_five(moment_of(at_s, view.now.tzinfo)))


def better_chill(made: Story, span: Span, core_c: float, mark_c: float, now: datetime) -> tuple[str, datetime]:
    """What to change, and when it would be there: trays on ice, or ice and stirring for what is in trays already."""
    litres = made.litres if span.vessel is None or span.vessel.litres is None else span.vessel.litres
    trays = chill.trays_for(litres)
    tray = span.vessel is not None and span.vessel.shape == 0.0
    shallow = tray and span.vessel is not None and span.vessel.size_m <= (0.055 if span.method == "ice" else 0.045)
    # What the guests have left of it nobody weighed.
    many = "Trays" if span.vessel is None and made.dish.served else (
        f"{capital(count(max(trays, 1)))} tray{'s' if trays != 1 else ''}")
    words = "Set the trays in ice, stir every 10 min" if shallow and span.method != "ice" else (
        f"{many} under 5 cm in ice, stir every 10 min")
    if shallow and span.method == "ice":
        words = "Fresh ice, shallower trays (2 to 3 cm), stir every 10 min"
    depth = 2.5 if shallow and span.method == "ice" else chill.TRAY_CM
    if shallow and span.method != "ice" and span.vessel is not None:
        depth = min(depth, 100.0 * span.vessel.size_m)
    takes = chill.chill_time(chill.tray(depth), "ice", core_c, mark_c)
    mid = min(float(takes[len(takes) // 2]), chill.HORIZON_S)
    ready = moment_of(now.timestamp() + mid, now.tzinfo)
    return f"{words}: {mark_c:g} about {clock(to_five(ready))}. Probe it.", ready
