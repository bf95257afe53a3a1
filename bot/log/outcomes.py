"""What came of the forecasts: each reading against what was foreseen of it, each dish against when it was found tender.

Left out, and counted as left out: what a hand or a gun told (one spot's skin is not what was foreseen) and readings
that the models doubted. What is compared with a forecast was never known to it: only forecasts made before count.
"""
from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from statistics import median

from bot.log.foreseen import Expected, Foreseen, Place
from skills.dated import Dated
from skills.record import ClassRecord
from skills.vocabulary import Check, Door, Fire, Pot, Reading

# How long before a reading the forecast was made: the newest one at least this old, and not half as old again.
LEADS_H = (1.0, 2.0, 4.0)
TENDER = ("tender", "falling")


@dataclass(frozen=True)
class Hit:
    """A reading [degC] against the forecast of it, made `lead_h` before. last_c: the reading known at that time.

    alone: nothing was done to the oven in between.
    """
    oven: str
    place: str
    at: datetime
    read_c: float
    made_at: datetime
    lead_h: float
    low_c: float
    mid_c: float
    high_c: float
    last_c: float | None
    alone: bool

    @property
    def inside(self) -> bool:
        # A thermometer is read to a degree.
        return self.low_c - 0.5 <= self.read_c <= self.high_c + 0.5

    @property
    def error_c(self) -> float:
        return abs(self.read_c - self.mid_c)


@dataclass(frozen=True)
class Tender:
    """When a dish was found tender, and the last look at which it was not (or when it went in)."""
    dish: str
    not_yet: datetime
    found: datetime


@dataclass(frozen=True)
class Guess:
    """A forecast of tenderness against when it was found; low and high hold 9 in 10, None: later than was foreseen."""
    dish: str
    made_at: datetime
    low: datetime | None
    mid: datetime | None
    high: datetime | None
    came: Tender | None

    @property
    def inside(self) -> bool | None:
        """Whether the range meets the time between the last look that was too early and the first that was not."""
        if self.came is None:
            return None
        return (self.low is not None and self.low <= self.came.found) and (
            self.high is None or self.high >= self.came.not_yet)

    @property
    def error(self) -> timedelta | None:
        """How far the middle lies outside that time; nothing if inside it."""
        if self.came is None or self.mid is None:
            return None
        if self.mid > self.came.found:
            return self.mid - self.came.found
        return max(self.came.not_yet - self.mid, timedelta(0))


def comparable(dated: Dated) -> bool:
    """Whether a reading is of what the forecast is of: the hanging thermometer or the probe in the floor."""
    fact = dated.fact
    return (isinstance(fact, Reading) and dated.oven is not None and fact.celsius is not None
            and fact.place in ("air", "floor") and fact.tool in (None, "probe"))


def hits(record: ClassRecord, made: Sequence[Foreseen], doubts: dict[Place, Expected]) -> list[Hit]:
    """Every comparable reading against the forecasts made an hour, two and four before."""
    found = []
    # Searched by seconds since 1970, in order: a long class has a hundred thousand pairs of reading and forecast.
    acts: dict[str | None, list[float]] = {}
    for dated in record.facts:
        if isinstance(dated.fact, Fire | Door) or (isinstance(dated.fact, Pot) and dated.fact.act != "turned"):
            acts.setdefault(dated.oven, []).append(dated.at.timestamp())
    for times in acts.values():
        times.sort()
    last: dict[tuple[str, str], tuple[list[float], list[float]]] = {}
    made_s = [each.at.timestamp() for each in made]
    for dated in record.facts:
        if not comparable(dated) or (dated.message, dated.index) in doubts:
            continue
        fact = dated.fact
        assert isinstance(fact, Reading)
        assert dated.oven is not None
        assert fact.place is not None
        assert fact.celsius is not None
        read_s = dated.at.timestamp()
        known_s, known_c = last.setdefault((dated.oven, fact.place), ([], []))
        mine = acts.get(dated.oven, [])
        for lead in LEADS_H:
            place = bisect_right(made_s, read_s - 3600.0 * lead)
            if not place or read_s - made_s[place - 1] > 1.5 * 3600.0 * lead:
                continue
            before = made[place - 1]
            band = before.band(dated.oven, fact.place, dated.at)
            if band is not None:
                then = bisect_right(known_s, made_s[place - 1] + 60.0)
                found.append(Hit(dated.oven, fact.place, dated.at, fact.celsius, before.at, lead, *band,
                                 known_c[then - 1] if then else None,
                                 bisect_right(mine, made_s[place - 1]) == bisect_left(mine, read_s)))
        known_s.append(read_s)
        known_c.append(fact.celsius)
    return found


def tender_times(record: ClassRecord) -> dict[str, Tender]:
    """When each dish was first found tender."""
    found: dict[str, Tender] = {}
    not_yet: dict[str, datetime] = {}
    for dated in record.facts:
        name, fact = dated.dish, dated.fact
        if name is None or name in found:
            continue
        if isinstance(fact, Pot) and fact.act in ("in", "moved"):
            not_yet.setdefault(name, dated.at)
        elif isinstance(fact, Check) and fact.tender in TENDER:
            found[name] = Tender(name, not_yet.get(name, dated.at), dated.at)
        elif isinstance(fact, Check) and fact.tender is not None:
            not_yet[name] = dated.at
    return found


def guesses(record: ClassRecord, made: Sequence[Foreseen]) -> Iterator[Guess]:
    """Each kept forecast of a dish that was still cooking, in order of time."""
    came = tender_times(record)
    for each in made:
        for name in each.dishes:
            end = came.get(name)
            if end is not None and each.at >= end.found:
                continue
            yield _guess(each, name, end)


def _guess(made: Foreseen, name: str, came: Tender | None) -> Guess:
    return Guess(name, made.at, made.tender(name, 0.05), made.tender(name, 0.5), made.tender(name, 0.95), came)


def half_way(record: ClassRecord, made: Sequence[Foreseen]) -> list[Guess]:
    """The forecast that stood half way from the oven to tender, one a dish."""
    found = []
    for name, came in tender_times(record).items():
        begun = record.dishes[name].in_at if name in record.dishes else None
        if begun is None or begun >= came.found:
            continue
        middle = begun + (came.found - begun) / 2
        before = next((each for each in reversed(made) if name in each.dishes and each.at <= middle), None)
        if before is not None:
            found.append(_guess(before, name, came))
    return found


COLUMNS = ("oven and place", "forecast made", "meanwhile", "readings", "in the 9 in 10 band", "middle error",
           "error had the last reading stayed")
NOTE = ("Only the hanging thermometer and the floor probe are compared; doubted readings are left out. "
        "'Left alone': no fire, door or pot in that oven between forecast and reading; nobody can foresee the others.")


def score_rows(found: Sequence[Hit]) -> Iterator[tuple[str, ...]]:
    """Hits in words, by oven, place, lead and whether the oven was left alone meanwhile."""
    groups: dict[tuple[str, str, float, bool], list[Hit]] = {}
    for hit in found:
        groups.setdefault((hit.oven, hit.place, hit.lead_h, hit.alone), []).append(hit)
    for (oven, place, lead, alone), each in sorted(groups.items(), key=lambda pair: (*pair[0][:3], not pair[0][3])):
        stays = [abs(hit.read_c - hit.last_c) for hit in each if hit.last_c is not None]
        yield (f"{oven} {place}", f"{lead:g} h before", "left alone" if alone else "fire, door or pot", str(len(each)),
               f"{sum(hit.inside for hit in each)} of {len(each)}", f"{median(hit.error_c for hit in each):.0f} °C",
               f"{median(stays):.0f} °C" if stays else "")
