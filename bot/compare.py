"""Firings side by side, and how good the forecasts were over all classes, from what the logs kept: no models here.

The figures of a class are reckoned once and kept in the file's table `outcome`, under the number of rows that they
were reckoned from; a class that has had more talk since is reckoned again.
"""
from __future__ import annotations

import json
from collections.abc import Iterable, Iterator, Sequence
from datetime import datetime, timedelta
from math import exp, lgamma, log, log1p, sqrt
from statistics import median
from typing import Any, NamedTuple

from pydantic import BaseModel, ConfigDict

from bot.log import foreseen, outcomes
from bot.log.rows import told_of
from bot.store import ClassRow, Store
from bot.talk import Answer, LogLine, School
from skills.record import ClassRecord, fold
from skills.vocabulary import Fire, Reading
from skills.wording import capital, number

VERSION = 1
# One split where nobody weighed it [kg] (the models' own starting value for an oven of 90 cm; from memory).
PIECE_KG = 0.37
# The fall of an oven is taken from this long after the rake-out: before, the heat spreads inwards.
SETTLED = timedelta(hours=1)
# Fewer readings than this say nothing about bands.
FEW = 20


class _Part(BaseModel):
    model_config = ConfigDict(frozen=True, extra="forbid")


class Fall(_Part):
    """Readings of a settled, shut oven: the first and last [degC] and the hours between."""
    first_c: float
    last_c: float
    hours: float

    @property
    def per_hour(self) -> float:
        return (self.first_c - self.last_c) / self.hours


class Firing(_Part):
    """One firing of one oven up to its rake-out. stored_mj: heat in the brick then, p05, p50, p95, by the models."""
    oven: str
    lit: datetime
    raked: datetime | None
    wood_kg: float
    weighed: bool
    stored_mj: tuple[float, float, float] | None
    fall: dict[str, Fall]
    readings: dict[str, list[tuple[float, float]]]

    @property
    def fire_h(self) -> float | None:
        return None if self.raked is None else (self.raked - self.lit).total_seconds() / 3600.0

    @property
    def kept_mj_kg(self) -> float | None:
        return None if (found := self.kept_range) is None else found[1]

    @property
    def kept_range(self) -> tuple[float, float, float] | None:
        """Heat in the brick a kg of wood [MJ/kg]: p05, p50, p95."""
        if self.stored_mj is None or not self.wood_kg:
            return None
        low, mid, high = self.stored_mj
        return low / self.wood_kg, mid / self.wood_kg, high / self.wood_kg


class Score(NamedTuple):
    """One reading against a forecast made `lead_h` before, with the error of "the last reading stays" beside it."""
    oven: str
    place: str
    lead_h: float
    alone: bool
    inside: bool
    error_c: float
    stays_c: float | None


# A score as it is kept: there are tens of thousands.
Row = tuple[str, str, float, bool, bool, float, float | None]


class Dish(_Part):
    """The forecast that stood half way of one dish. error_min: how far its middle lay outside the time found."""
    dish: str
    inside: bool
    error_min: float | None


class Figures(_Part):
    """What is compared of one class."""
    id: str
    title: str
    day: datetime | None
    firings: tuple[Firing, ...]
    rows: tuple[Row, ...]
    dishes: tuple[Dish, ...]
    doubted: int

    @property
    def scores(self) -> Iterator[Score]:
        return (Score(*row) for row in self.rows)

    @property
    def name(self) -> str:
        return f"{self.title}, {self.day.day} {self.day:%b}" if self.day is not None else self.title


def figures_of(store: Store, rows: Sequence[ClassRow]) -> list[Figures]:
    """The figures of classes; what was reckoned before is taken as it is if nothing has been added since."""
    with store.writing() as db:
        counts: dict[str, int] = {}
        for table in ("message", "said"):
            for found in db.query(f"SELECT class_id, count(*) AS n FROM {table} WHERE class_id IS NOT NULL "
                                  "GROUP BY class_id"):
                counts[found["class_id"]] = counts.get(found["class_id"], 0) + found["n"]
        kept = {found["class_id"]: found for found in db.query("SELECT * FROM outcome WHERE version = ?", [VERSION])}
    made = []
    for row in rows:
        upto = counts.get(row.id, 0)
        before = kept.get(row.id)
        if before is not None and before["upto"] == upto:
            made.append(Figures.model_validate_json(before["json"]))
            continue
        new = reckon(row, store.log(row.room, row.id), store.school(row.room) or School())
        with store.writing() as db:
            db.execute("INSERT OR REPLACE INTO outcome (class_id, upto, version, json) VALUES (?, ?, ?, ?)",
                       [row.id, upto, VERSION, new.model_dump_json()])
        made.append(new)
    return made


def reckon(row: ClassRow, lines: Sequence[LogLine], school: School) -> Figures:
    """The figures of one class from its log."""
    record = fold([told_of(line) for line in lines if isinstance(line, Answer)], school.lead)
    made = list(foreseen.forecasts(lines))
    doubts = foreseen.doubts(lines) or {}
    rows = tuple(Score(hit.oven, hit.place, hit.lead_h, hit.alone, hit.inside, round(hit.error_c, 1),
                       None if hit.last_c is None else round(abs(hit.read_c - hit.last_c), 1))
                 for hit in outcomes.hits(record, made, doubts))
    dishes = tuple(Dish(dish=guess.dish, inside=bool(guess.inside), error_min=None if guess.error is None
                        else guess.error.total_seconds() / 60.0) for guess in outcomes.half_way(record, made))
    return Figures(
        id=row.id, title=capital(record.title or row.title or "class"),
        day=record.facts[0].at if record.facts else None, firings=tuple(_firings(record, made, doubts)),
        rows=rows, dishes=dishes, doubted=len(doubts))


def _firings(record: ClassRecord, made: Sequence[foreseen.Foreseen], doubts: Iterable[foreseen.Place]
             ) -> Iterator[Firing]:
    unused = set(doubts)
    for name in record.ovens:
        fires = [dated for dated in record.facts if isinstance(dated.fact, Fire) and dated.oven == name]
        if not fires:
            continue
        lit = fires[0].at
        raked = next((dated.at for dated in fires if isinstance(dated.fact, Fire) and dated.fact.act == "raked"), None)
        burnt = [dated.fact for dated in fires if isinstance(dated.fact, Fire) and (raked is None or dated.at <= raked)]
        weight = sum(fact.wood_kg if fact.wood_kg is not None else PIECE_KG * (fact.pieces or 0.0) for fact in burnt)
        again = next((dated.at for dated in fires if raked is not None and dated.at > raked), None)
        stored = None
        if raked is not None:
            near = [each for each in made if raked <= each.at <= raked + SETTLED and "stored_mj" in
                    each.ovens.get(name, {})]
            stored = tuple(near[0].ovens[name]["stored_mj"]) if near else None
        rows: dict[str, list[tuple[float, float]]] = {}
        for dated in record.facts:
            fact = dated.fact
            if raked is None or dated.oven != name or not outcomes.comparable(dated) or dated.at < raked or (
                    again is not None and dated.at >= again) or (dated.message, dated.index) in unused:
                continue
            assert isinstance(fact, Reading)
            assert fact.place is not None
            assert fact.celsius is not None
            rows.setdefault(fact.place, []).append(((dated.at - raked).total_seconds() / 3600.0, fact.celsius))
        yield Firing(oven=name, lit=lit, raked=raked, wood_kg=round(weight, 2),
                     weighed=all(fact.pieces is None or fact.wood_kg is not None for fact in burnt), stored_mj=stored,
                     fall={place: fall for place, each in rows.items() if (fall := _fall(each)) is not None},
                     readings=rows)


def _fall(readings: Sequence[tuple[float, float]]) -> Fall | None:
    settled = [each for each in readings if each[0] >= SETTLED.total_seconds() / 3600.0]
    if len(settled) < 2 or settled[-1][0] - settled[0][0] < 1.0:
        return None
    return Fall(first_c=settled[0][1], last_c=settled[-1][1], hours=settled[-1][0] - settled[0][0])


# In words

COLUMNS = ("class", "wood", "fire", "heat kept", "a kg", "air falls", "floor falls", "1 h error", "in band")


def table(oven: str, made: Sequence[Figures]) -> list[tuple[str, ...]]:
    """A row a firing of an oven."""
    rows: list[tuple[str, ...]] = []
    for each in made:
        for firing in each.firings:
            if firing.oven != oven:
                continue
            near = [score for score in each.scores if score.oven == oven and score.lead_h == 1.0 and score.alone]
            stored, per_kg, fire = firing.stored_mj, firing.kept_mj_kg, firing.fire_h
            rows.append((
                each.name, f"{'' if firing.weighed else 'about '}{number(round(firing.wood_kg, 1))} kg",
                "" if fire is None else f"{fire:.1f} h",
                "" if stored is None else f"{stored[1]:.0f} MJ ({stored[0]:.0f} to {stored[2]:.0f})",
                "" if per_kg is None else f"{per_kg:.1f} MJ", _fell(firing.fall.get("air")),
                _fell(firing.fall.get("floor")),
                f"{median(score.error_c for score in near):.0f} °C" if near else "",
                f"{sum(score.inside for score in near)} of {len(near)}" if near else ""))
    return rows


def _fell(fall: Fall | None) -> str:
    return "" if fall is None else (
        f"{fall.per_hour:.0f} an hour ({number(fall.first_c)} to {number(fall.last_c)} in {fall.hours:.1f} h)")


def words(oven: str, made: Sequence[Figures]) -> list[str]:
    """What differs between the first and the last firing of an oven that can be compared."""
    mine = [(each, firing) for each in made for firing in each.firings if firing.oven == oven]
    said = []
    kept = [(each, range_) for each, firing in mine if (range_ := firing.kept_range) is not None]
    if len(kept) >= 2:
        (first, (low_a, a, high_a)), (last, (low_b, b, high_b)) = kept[0], kept[-1]
        if low_a <= b <= high_a and low_b <= a <= high_b:
            said.append(f"No clear difference in heat kept: the {oven} kept {b:.1f} MJ a kg in {last.name}, {a:.1f} in "
                        f"{first.name}, each within the other's doubt.")
        else:
            more = "more" if b >= a else "less"
            said.append(f"The {oven} kept {abs(b - a):.1f} MJ a kg {more} in {last.name} than in {first.name} "
                        f"({b:.1f} against {a:.1f}).")
    for place in ("air", "floor"):
        falls = [(each, firing.fall[place]) for each, firing in mine if place in firing.fall]
        if len(falls) >= 2:
            (first, early), (last, late) = falls[0], falls[-1]
            said.append(f"Its {place} fell {late.per_hour:.0f} an hour from {number(late.first_c)} in {last.name}, "
                        f"{early.per_hour:.0f} from {number(early.first_c)} in {first.name}; the hotter the faster.")
    if not said:
        said.append(f"The {oven} has no two firings here that can be compared: it takes a rake-out, wood told, and air "
                    "or floor read twice, an hour apart.")
    return said


def calibration(made: Sequence[Figures]) -> list[str]:
    """How good the forecasts were, over all classes; honest about how little a few readings say."""
    lines = [f"All {len(made)} classes kept here, {sum(each.doubted for each in made)} doubted readings left out:"]
    groups: dict[tuple[str, float, bool], list[Row]] = {}
    for each in made:
        for row in each.rows:
            groups.setdefault(row[1:4], []).append(row)
    for place in ("air", "floor"):
        for lead in outcomes.LEADS_H:
            for alone in (True, False):
                some = groups.get((place, lead, alone))
                if some:
                    lines.append(_said(place, lead, alone, some))
    dishes = [dish for each in made for dish in each.dishes]
    if dishes:
        errors = [dish.error_min for dish in dishes if dish.error_min is not None]
        middle = f", middle {median(errors):.0f} min outside the time found" if errors else ""
        lines.append(f"- tender, said half way: {sum(dish.inside for dish in dishes)} of {len(dishes)} in the range"
                     f"{middle}{'' if len(dishes) >= FEW else '; too few to judge by'}")
    if len(lines) == 1:
        lines.append("- no reading came an hour or more after a forecast yet")
    lines.append("A good 9 in 10 band holds 9 of 10. Readings of one class hang together, so the doubt is wider than "
                 "by chance; tender is known only between two looks.")
    return lines


def _said(place: str, lead: float, alone: bool, some: Sequence[Row]) -> str:
    many = len(some)
    _, _, _, _, hits, errors, last = zip(*some, strict=True)
    inside = sum(hits)
    stays = [each for each in last if each is not None]
    paired = [error for error, each in zip(errors, last, strict=True) if each is not None]
    beside = (f" (where a reading was known before: {median(paired):.0f}, and {median(stays):.0f} had it stayed)"
              if stays else "")
    if many < FEW:
        judged = "too few to judge by"
    else:
        low, high = chance(many, 0.9)
        judged = f"chance alone gives {low} to {high}"
    meanwhile = "oven left alone" if alone else "fire, door or pot meanwhile"
    return (f"- {place} {lead:g} h ahead, {meanwhile}: {inside} of {many} in the band ({judged}); "
            f"middle error {median(errors):.0f} °C{beside}")


def chance(many: int, share: float) -> tuple[int, int]:
    """How many of so many fall inside by chance, 19 times in 20 (binomial quantiles 0.025 and 0.975).

    >>> chance(20, 0.9)
    (15, 20)
    """
    total, low = 0.0, None
    # Ten deviations below the mean there is nothing to add up.
    for count in range(max(0, int(many * share - 10.0 * sqrt(many * share * (1.0 - share)))), many + 1):
        total += exp(lgamma(many + 1) - lgamma(count + 1) - lgamma(many - count + 1) + count * log(share)
                     + (many - count) * log1p(-share))
        if low is None and total >= 0.025:
            low = count
        if total >= 0.975 - 1e-12:
            return low or 0, count
    return low or 0, many


def as_text(made: Sequence[Figures], everything: Sequence[Figures]) -> str:
    """Tables and words for the classes that were asked for, and the calibration over all."""
    out: list[str] = []
    for oven in ovens(made):
        rows = [COLUMNS, *table(oven, made)]
        widths = [max(len(row[place]) for row in rows) for place in range(len(COLUMNS))]
        shown = [place for place in range(len(COLUMNS)) if any(row[place] for row in rows[1:])]
        out += [capital(oven)]
        out += ["  ".join(row[place].ljust(widths[place]) for place in shown).rstrip() for row in rows]
        out += [*words(oven, made), ""]
    out += calibration(everything)
    return "\n".join(out) + "\n"


def ovens(made: Sequence[Figures]) -> list[str]:
    return list(dict.fromkeys(firing.oven for each in made for firing in each.firings))


def as_json(made: Sequence[Figures], everything: Sequence[Figures]) -> str:
    whole: dict[str, Any] = {"classes": [each.model_dump(mode="json") for each in made],
                             "calibration": calibration(everything)}
    return json.dumps(whole, ensure_ascii=False, indent=1) + "\n"
