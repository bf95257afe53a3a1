"""The acts of a firing and a dish as rows of a plan: one wording for one dish and for a ladder of several."""
from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta

from skills.dish.heats import Heat
from skills.planning.course import BRISK, FEED_EVERY_S, FEED_PIECES, LAST_FEED_S, RAKE_S, SETTLE_S, TENDED_EVERY_S
from skills.planning.outcome import looks_s
from skills.wording import moment

MOST_LOOKS = 3
# Looks are planned up to this long before a dish is done: the one at the end is its taking out [s].
LAST_LOOK_S = 1800.0


@dataclass(frozen=True)
class Row:
    """One act of the plan: when, by which odds to be sure, and with what remark. sure None: the same. every, until: it
    is done again so often until then; lasts: so long it takes."""
    what: str
    at: datetime
    sure: datetime | None = None
    remark: str = ""
    every: timedelta | None = None
    until: datetime | None = None
    lasts: timedelta = timedelta(0)


def lighting(at: datetime, sure: datetime | None = None) -> Row:
    """The fire is lit."""
    return Row("light", at, sure, "small dry splits at the mouth, door off")


def feeding(first: datetime, until: datetime, small: bool = False, flame: bool = False) -> list[Row]:
    """Full feeds of a firing from `first`, the few splits of a light oven, or the brisk ones of a fire that is cooked
    beside, the last by `until`; none if that is before."""
    every = timedelta(seconds=FEED_EVERY_S)
    if until < first:
        return []
    splits = "2 to 3" if small else f"{FEED_PIECES * (BRISK if flame else 1.0):.0f}"
    spread = ", embers all over the floor, pushed aside to bake" if flame else ""
    last = first + (until - first) // every * every
    return [Row("feed", first, None, f"{splits} splits every {FEED_EVERY_S // 60:.0f} min{spread}", every, last)]


def kept_small(full: datetime, rake: datetime) -> list[Row]:
    """The fire that is full before its rake; none if they are near."""
    every = timedelta(seconds=TENDED_EVERY_S)
    if rake - full < every:
        return []
    return [Row("feed small", full, None, "once it is full, one small split every "
                f"{TENDED_EVERY_S // 60:.0f} min; feed on while it is not", every, rake - every)]


def tending(pot_in: datetime, out: datetime) -> Row:
    """The small feeds of a light oven while something cooks in it."""
    every = timedelta(seconds=TENDED_EVERY_S)
    return Row("feed small", pot_in, None, f"one small split every {TENDED_EVERY_S // 60:.0f} min", every,
               max(pot_in, out - every))


def raking(at: datetime, sure: datetime | None = None) -> list[Row]:
    """Raked, brushed, shut, and left to settle."""
    door = timedelta(seconds=RAKE_S)
    return [Row("rake", at, sure, "embers into a lidded metal bin outdoors, brush, damp mop, door on",
                lasts=timedelta(seconds=RAKE_S)),
            Row("settle", at + door, None if sure is None else sure + door,
                f"door on {SETTLE_S // 60:.0f} min until spots agree", lasts=timedelta(seconds=SETTLE_S))]


def last_feed(rake: datetime) -> datetime:
    """Nothing new goes on after this: embers, not logs, are raked out."""
    return rake - timedelta(seconds=LAST_FEED_S)


def in_row(at: datetime, heat: Heat, heat_c: float) -> Row:
    """A dish goes in."""
    return Row("pot in", at, None, f"{heat.place} near {5 * round(heat_c / 5)}")


def looks(heat: Heat, liquid: bool, pot_in: datetime, pot_sure: datetime | None, cook_s: float) -> list[Row]:
    """The looks that would change something; liquid: whether there is liquor that may be low."""
    if not liquid and heat.name not in ("braise", "beans", "pudding"):
        return []

    def after(begin: datetime | None, at_s: float) -> datetime | None:
        return None if begin is None else moment((begin.timestamp() + at_s) // 300.0 * 300.0, begin.tzinfo)

    return [Row("look", at, after(pot_sure, at_s), "fork and liquor; top up boiling if low; door shut again at once")
            for at_s in looks_s(heat.usual_s, max(cook_s - LAST_LOOK_S, 0.0))[:MOST_LOOKS]
            if (at := after(pot_in, at_s)) is not None]


def taking_out(heat: Heat, ready: datetime) -> list[Row]:
    """Out, and its rest."""
    waits = "an hour or two past tender is no harm, lid on and hot" if heat.name == "braise" else ""
    rows = [Row("done" if heat.fire else "out", ready, None, waits)]
    if heat.rest_s >= 300.0:
        rest = timedelta(seconds=heat.rest_s)
        rows.append(Row("rest", ready, None, f"{rest // timedelta(minutes=1)} min", lasts=rest))
    return rows


def serving(at: datetime) -> Row:
    """The meal."""
    return Row("table", at, None, "say the allergens aloud")
