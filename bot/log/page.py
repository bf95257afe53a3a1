"""The class page: the log set out for people and inspectors. One model, from which HTML and PDF are written."""
from __future__ import annotations

import tomllib
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import datetime, timedelta
from functools import cache
from importlib.resources import files
from typing import Any

from bot.log import foreseen, outcomes
from bot.log.answered import answer_to
from bot.log.foreseen import Expected, Place
from bot.log.heat_history import heat_history
from bot.log.rows import WAITING, ClassPage, words
from bot.log.rows import Row as FactRow
from bot.rooms.look import harmless
from bot.talk import Action, Answer, School
from skills import vocabulary as v
from skills.allergens import sheet
from skills.dated import Dated, coming_time
from skills.record import ClassRecord, DishRecord
from skills.safety.packs import pack
from skills.wording import capital, clock, number, to_five

KEEP = "Kept 4 years it covers every period that we have read of; ask your local officer."
PLACES = {"air": "air", "floor": "floor", "dome": "ceiling", "back": "back wall", "wall": "wall", "mouth": "mouth"}
TOOLS = {"probe": "probe", "infrared": "infrared gun", "hand": "bare hand"}
SHOWN_EVERY = timedelta(minutes=30)
# What the kinds of prompts are about, in the words of the yard.
ABOUT = {"refuel": "wood", "feeding": "wood", "ready": "tender yet", "serve": "serving", "liquid": "liquor",
         "allergen": "allergens", "safety": "food safety", "reading": "a reading", "drift": "a change in an oven",
         "plan": "the plan"}
OF_DISHES = ("ready", "serve", "liquid", "safety")

Row = tuple[str, ...]


@dataclass(frozen=True)
class Table:
    """One part of the page. Without rows it says `empty`; `note` stands under the heading."""
    heading: str
    columns: Row
    rows: tuple[Row, ...]
    empty: str = "Nothing was told."
    note: str = ""


@dataclass(frozen=True)
class Page:
    """The whole page. top: what stands in its head, by label. sign: lines to be filled in by hand."""
    title: str
    under: str
    top: tuple[tuple[str, str], ...]
    tables: tuple[Table, ...]
    sign: tuple[str, ...]
    foot: str
    made_at: datetime | None


def page(made: ClassPage, school: School) -> Page:
    """The page of one class from its rows and lines."""
    record = made.record
    day = Days(record, made)
    doubts = foreseen.doubts(made.lines) or {}
    rules = pack(school.region)
    last = max((line.message.at if isinstance(line, Answer) else line.at for line in made.lines), default=None)
    tables = (
        _allergens(record, day), _dishes(record, day), _firing(record, day), _critical(record, day, rules.short),
        _heats(made, day, school.region), _readings(record, doubts, day),
        _not_used(made, doubts, day), _forecasts(made, day), _oven_forecasts(made, day),
        _prompts(made, day), _corrections(made, day), _incidents(record, day), _notes(record, day),
        *_inspector(school.region))
    return Page(
        title=capital(harmless(made.title or "Wood-fired class")),
        under=", ".join(filter(None, (day.date, f"class {made.class_id}"))),
        top=tuple(_top(record, day, school)), tables=tables,
        sign=("Recipe sheets used (dish, version)", "Thermometers checked (tool, reading in ice or boiling water, "
              "by)", "Deliveries and labels (supplier, temperature, by)", "Cleaning done (by)",
              "Witnesses and follow-up of incidents (by)", "Signed, lead of the class", "Date"),
        foot=f"Made from the log of the room. Rules: {rules.title} ({rules.short}); guidance, not law: your own plan, "
             f"local code and officer decide. {KEEP}",
        made_at=last)


class Days:
    """Clock times; with the date where the class runs over midnight."""

    def __init__(self, record: ClassRecord, made: ClassPage) -> None:
        times = [dated.at for dated in record.facts] or [
            line.message.at if isinstance(line, Answer) else line.at for line in made.lines]
        self._first = min(times, default=None)

    @property
    def date(self) -> str:
        return "" if self._first is None else f"{self._first:%A} {self._first.day} {self._first:%B %Y}"

    def clock(self, at: datetime | None) -> str:
        if at is None:
            return ""
        same = self._first is None or at.date() == self._first.date()
        return clock(at) if same else f"{at.day} {at:%b} {clock(at)}"


def _heat(celsius: float) -> str:
    return f"{number(celsius)} °C"


def _named(name: str | None) -> str:
    return capital(harmless(name)) if name else ""


def _facts(record: ClassRecord, *kinds: type[v.Fact]) -> Iterable[Dated]:
    return (dated for dated in record.facts if isinstance(dated.fact, kinds))


def _top(record: ClassRecord, day: Days, school: School) -> Iterable[tuple[str, str]]:
    rules = pack(school.region)
    yield "Lead", _named(record.lead)
    yield "Team", ", ".join(harmless(each) for each in record.people) or "nobody spoke"
    yield "Guests", str(record.guests) if record.guests is not None else "not told"
    yield "Guests who avoid", capital(sheet.avoided(record)) if record.avoids else "none told"
    served = next((day.clock(dated.at) for dated in _facts(record, v.Stage)
                   if isinstance(dated.fact, v.Stage) and dated.fact.stage == "served"), "not told")
    yield "Meal", f"planned {_planned(record, day)}, served {served}"
    yield "Menu", "; ".join(_dish_words(dish) for dish in record.dishes.values()) or "no dish was told"
    yield "Ovens", "; ".join(
        f"{capital(oven.name)}" + (f" ({_size(oven.size)})" if oven.size else "") for oven in record.ovens.values()
    ) or "none told"
    weather = [words({key: each for key, each in dated.fact.said().items() if key != "at"}).removeprefix("weather ")
               for dated in _facts(record, v.Weather)]
    yield "Weather", "; ".join(weather) or "not told"
    yield "Rules", f"{rules.title} ({rules.short})"


def _planned(record: ClassRecord, day: Days) -> str:
    times = [(coming_time(said, dated.told), dated) for dated in _facts(record, v.Class, v.Serve)
             if (said := getattr(dated.fact, "serve", None) or getattr(dated.fact, "by", None)) is not None]
    return ", ".join(day.clock(at) if not place else f"changed to {day.clock(at)} by {harmless(dated.who)} at "
                     f"{day.clock(dated.at)}" for place, (at, dated) in enumerate(times)) or "not told"


def _size(size: Mapping[str, float]) -> str:
    return ", ".join(f"{name.removesuffix('_cm')} {number(value)} cm" for name, value in size.items())


def _dish_words(dish: DishRecord) -> str:
    parts = [harmless(dish.cut or ""), f"{number(dish.meat_kg)} kg" if dish.meat_kg is not None else "",
             f"{number(dish.liquid_l)} l liquid" if dish.liquid_l is not None else "", harmless(dish.pan or "")]
    told = ", ".join(part for part in parts if part and part != dish.name)
    return _named(dish.name) + (f" ({told})" if told else "")


def _allergens(record: ClassRecord, day: Days) -> Table:
    rows: list[Row] = []
    for dated in _facts(record, v.Guests, v.Contents):
        fact = dated.fact
        if isinstance(fact, v.Guests) and fact.allergen:
            what = "told at the table" if fact.told else "avoided by"
            many = "" if fact.told else str(fact.count or 1)
            rows.append((day.clock(dated.at), what, harmless(fact.allergen), many, "", harmless(dated.who)))
        elif isinstance(fact, v.Contents):
            holds, often = sheet.held_in(fact.item, fact.allergen)
            label = ", ".join((*holds, *(f"{each} (read the label)" for each in often)))
            rows.append((day.clock(dated.at), "in the dish", label, "", f"{_named(dated.dish)}: {harmless(fact.item)}"
                         if dated.dish else harmless(fact.item), harmless(dated.who)))
    clashes = [f"{_named(dish)}: {', '.join(found)}" for dish in sheet.dishes(record)
               if (found := sheet.clashes(dish, record))]
    note = "Guests by count, never by name. What nobody logged may still be in a dish: labels and the cook decide."
    if clashes:
        note += f" Avoided and in a dish, or it may be: {'; '.join(clashes)}."
    return Table("Allergens", ("time", "what", "allergen", "guests", "dish and item", "told by"), tuple(rows),
                 "No allergen was declared and no item was logged.", note)


def _dishes(record: ClassRecord, day: Days) -> Table:
    rows = tuple((_named(dish.name), _dish_words(dish), day.clock(dish.in_at),
                  _tender(record, dish.name, day), day.clock(dish.out_at), day.clock(dish.stages.get("served")))
                 for dish in record.dishes.values())
    return Table("Dishes", ("dish", "what it was", "in", "found tender", "out", "served"), rows, "No dish was told.")


def _tender(record: ClassRecord, name: str, day: Days) -> str:
    came = outcomes.tender_times(record).get(name)
    return day.clock(came.found) if came is not None else ""


def _firing(record: ClassRecord, day: Days) -> Table:
    acts = {"lit": "lit", "fed": "wood on", "spread": "embers spread", "raked": "raked out", "out": "fire out"}
    rows: list[Row] = []
    for dated in _facts(record, v.Fire, v.Wood, v.Door):
        fact = dated.fact
        if isinstance(fact, v.Fire):
            amount = [f"{number(fact.wood_kg)} kg" if fact.wood_kg is not None else "",
                      f"{number(fact.pieces)} pieces" if fact.pieces is not None else "", harmless(fact.species or "")]
            rows.append((day.clock(dated.at), _named(dated.oven), acts[fact.act], " ".join(filter(None, amount)),
                         harmless(dated.who)))
        elif isinstance(fact, v.Wood):
            basis = f" ({fact.basis} basis)" if fact.basis else ""
            rows.append((day.clock(dated.at), _named(dated.oven), "wood moisture",
                         f"{number(fact.moisture_pct)} %{basis}", harmless(dated.who)))
        elif isinstance(fact, v.Door):
            rows.append((day.clock(dated.at), _named(dated.oven), f"door {fact.state}", "", harmless(dated.who)))
    totals = []
    for oven in record.ovens:
        fires = [dated.fact for dated in _facts(record, v.Fire) if dated.oven == oven]
        weight = sum(fact.wood_kg or 0.0 for fact in fires if isinstance(fact, v.Fire))
        pieces = sum(fact.pieces or 0.0 for fact in fires if isinstance(fact, v.Fire))
        told = [f"{number(round(weight, 2))} kg" if weight else "", f"{number(pieces)} pieces" if pieces else ""]
        if any(told):
            totals.append(f"{capital(oven)}: {' and '.join(filter(None, told))} of wood told")
    return Table("Firing", ("time", "oven", "what", "wood", "who"), tuple(rows), "No fire was told.",
                 "; ".join(totals) + "." if totals else "")


def _critical(record: ClassRecord, day: Days, rule: str) -> Table:
    """Cook, hold, cool and reheat: food, time, value, who."""
    rows = []
    for dated in record.facts:
        step = _step(dated.fact)
        if step is not None:
            rows.append((day.clock(dated.at), _named(dated.dish) or "not named", *step, harmless(dated.who)))
    return Table("Cook, hold, cool and reheat", ("time", "food", "step", "value", "tool", "who"), tuple(rows),
                 "No step was told.", f"Limits by the {rule}: 'yardhand rules' lists each with its source.")


def _heats(made: ClassPage, day: Days, region: str) -> Table:
    found, notes = heat_history(made.record, region, list(foreseen.forecasts(made.lines)))
    rows = tuple((day.clock(row.at), _named(row.food), row.heat, row.how) for row in found)
    return Table("Heat of the food: measured, reckoned, forecast", ("time", "food", "core", "how"), rows,
                 "Nothing was told to reckon it from.", notes)


def _step(fact: v.Fact) -> tuple[str, str, str] | None:
    """Step, value and tool of a fact that belongs to the critical steps."""
    if isinstance(fact, v.Food):
        return {"core": "core", "liquid": "liquor"}.get(fact.part or "", "food"), _heat(fact.celsius), "tool not said"
    if isinstance(fact, v.StoreHeat):
        return {"hot_hold": "hot hold", "fridge": "fridge"}[fact.place], _heat(fact.celsius), "tool not said"
    if isinstance(fact, v.Pot):
        act = {"in": "into the oven", "out": "out of the oven", "moved": "moved", "turned": "turned",
               "topped_up": "topped up", "lid_on": "lid on", "lid_off": "lid off"}[fact.act]
        act = {"ring": "onto a ring", "hot_hold": "into the hot hold", None: act}[fact.onto]
        return act, f"{number(fact.litres)} l" if fact.litres is not None else "", ""
    if isinstance(fact, v.Check):
        seen = [fact.tender or "", f"simmer {fact.simmer}" if fact.simmer else "",
                f"liquid {fact.liquid}" if fact.liquid else ""]
        return "looked at", ", ".join(filter(None, seen)), "fork and eye"
    if isinstance(fact, v.Stage):
        return {"aside": "set aside part-cooked"}.get(fact.stage, fact.stage), "", ""
    if isinstance(fact, v.Chill):
        act = {"start": "chilling begun", "fridge": "into the fridge", "done": "chilled"}[fact.act]
        how = [f"{number(fact.litres)} l" if fact.litres is not None else "",
               f"{number(fact.depth_cm)} cm deep" if fact.depth_cm is not None else "",
               {"ice": "on ice", "fridge": "fridge", "room": "in the room"}.get(fact.method or "", "")]
        return act, ", ".join(filter(None, how)), ""
    if isinstance(fact, v.Reheat):
        return {"start": "reheating begun", "done": "reheated"}[fact.act], "", ""
    return None


def _readings(record: ClassRecord, doubts: dict[Place, Expected], day: Days) -> Table:
    rows = []
    for dated in _facts(record, v.Reading):
        fact = dated.fact
        assert isinstance(fact, v.Reading)
        value = _heat(fact.celsius) if fact.celsius is not None else f"count of {number(fact.count or 0)}"
        used = "no: see below" if (dated.message, dated.index) in doubts else "yes"
        rows.append((day.clock(dated.at), _named(dated.oven), PLACES.get(fact.place or "", "place not said"), value,
                     TOOLS.get(fact.tool or "", "not said"), harmless(dated.who), used))
    return Table("Oven readings", ("time", "oven", "place", "value", "tool", "who", "used"), tuple(rows),
                 "No reading was told.")


def _not_used(made: ClassPage, doubts: dict[Place, Expected], day: Days) -> Table:
    record = made.record
    rows = []
    for dated in record.facts:
        expected = doubts.get((dated.message, dated.index))
        if expected is not None:
            low, mid, high = expected
            rows.append((day.clock(dated.at), words(_short(dated)), harmless(dated.who),
                         f"expected about {mid:.0f} °C ({low:.0f} to {high:.0f}) by all that is known; kept, not used"))
    rows += [(day.clock(dated.at), words(_short(dated)), harmless(dated.who), "the same was said by somebody else "
              "within two minutes: counted once") for dated in record.repeats]
    rows += [(day.clock(row.told), words(row.fact), harmless(row.who), "nobody said which oven or dish")
             for row in made.rows if row.status == WAITING]
    note = "" if foreseen.doubts(made.lines) is not None else (
        "This log was kept by a version that did not note which readings its models doubted.")
    return Table("Readings not used, and why", ("time", "what was told", "by", "why"), tuple(rows),
                 "Every reading was used.", note)


def _short(dated: Dated) -> dict[str, object]:
    said = {key: value for key, value in dated.fact.said().items() if key not in ("at", "oven", "dish")}
    named = {key: value for key, value in (("oven", dated.oven), ("dish", dated.dish)) if value}
    return {"is": said.pop("is"), **named, **said}


def _forecasts(made: ClassPage, day: Days) -> Table:
    """What was forecast of each dish, every half hour at most, and what came of it."""
    kept = list(foreseen.forecasts(made.lines))
    said = {(line.message.id, dish): told for line in made.lines if isinstance(line, Answer)
            for action in line.actions for dish, told in action.data.get("told", {}).items() if isinstance(told, dict)}
    message_at = {each.at: each.message for each in kept}
    rows: list[Row] = []
    last: dict[str, datetime] = {}
    for guess in outcomes.guesses(made.record, kept):
        told = said.get((message_at[guess.made_at], guess.dish))
        before = last.get(guess.dish)
        if told is None and before is not None and guess.made_at - before < SHOWN_EVERY:
            continue
        last[guess.dish] = guess.made_at
        rows.append((day.clock(guess.made_at), _named(guess.dish), _when(guess, day),
                     (told or {}).get("odds") or "", _came(guess, day)))
    return Table("Forecasts of the dishes, and what came of them",
                 ("made at", "dish", "tender, 9 in 10 between", "on the table in time", "what came"), tuple(rows),
                 "No forecast was kept.")


def _when(guess: outcomes.Guess, day: Days) -> str:
    low, mid, high = (day.clock(to_five(each)) if each is not None else "later than foreseen"
                      for each in (guess.low, guess.mid, guess.high))
    return f"{mid} ({low} to {high})" if guess.mid is not None else "later than foreseen"


def _came(guess: outcomes.Guess, day: Days) -> str:
    if guess.came is None:
        return "nobody said that it was tender"
    verdict = "in the range" if guess.inside else "outside the range"
    return f"{verdict}: tender at {day.clock(guess.came.found)}, not yet at {day.clock(guess.came.not_yet)}"


def _oven_forecasts(made: ClassPage, day: Days) -> Table:
    del day
    found = outcomes.hits(made.record, list(foreseen.forecasts(made.lines)), foreseen.doubts(made.lines) or {})
    return Table("Forecasts of the ovens against the readings that came", outcomes.COLUMNS,
                 tuple(outcomes.score_rows(found)), "No reading came an hour or more after a forecast.",
                 outcomes.NOTE)


def _prompts(made: ClassPage, day: Days) -> Table:
    rows: list[Row] = []
    for place, line in enumerate(made.lines):
        if isinstance(line, Answer):
            continue
        for action in line.actions:
            after = answer_to(action, made.lines[place + 1:], made.record)
            who, how = (f"{harmless(after.who)} {day.clock(after.told)}", after.how) if after else ("no answer", "")
            rows.append((day.clock(action.at), _kind(action), harmless(action.text), who, harmless(how)))
    return Table("Prompts, and who answered", ("time", "about", "what was said unasked", "answered by", "with"),
                 tuple(rows), "Nothing had to be said unasked.")


def _kind(action: Action) -> str:
    about = ABOUT.get(action.prompt or "", action.prompt or "")
    named = action.dish if action.prompt in OF_DISHES and action.dish else action.oven or action.dish
    return f"{about}: {harmless(named)}" if named else about


def _corrections(made: ClassPage, day: Days) -> Table:
    rows = tuple((day.clock(row.at), _placed(row, row.old or row.fact),
                  _placed(row, row.new) if row.new is not None else "taken back", harmless(row.who),
                  harmless(row.by or ""),
                  day.clock(row.changed_at)) for row in made.rows if row.changed_at is not None)
    return Table("Corrections", ("of", "old value", "new value", "first told by", "changed by", "changed at"), rows,
                 "Nothing was corrected.")


def _placed(row: FactRow, said: Mapping[str, Any]) -> str:
    where = {name: found for name, found in (("oven", row.oven), ("dish", row.dish)) if found}
    return words({**where, **said})


def _incidents(record: ClassRecord, day: Days) -> Table:
    rows: list[list[str]] = []
    for dated in _facts(record, v.Incident):
        assert isinstance(dated.fact, v.Incident)
        if dated.fact.follow_up and rows:
            done = f"{day.clock(dated.at)} {harmless(dated.who)}: {harmless(dated.fact.what)}"
            rows[-1][3] = "; ".join(filter(None, (rows[-1][3], done)))
        else:
            rows.append([day.clock(dated.at), harmless(dated.fact.what), harmless(dated.who), ""])
    return Table("Incidents", ("time", "what happened", "told by", "what was done; witnesses and follow-up by hand"),
                 tuple(tuple(row) for row in rows), "No incident was told.")


def _notes(record: ClassRecord, day: Days) -> Table:
    rows = []
    for dated in _facts(record, v.Note, v.Task):
        fact = dated.fact
        if isinstance(fact, v.Note):
            rows.append((day.clock(dated.at), harmless(fact.text), harmless(dated.who)))
        elif isinstance(fact, v.Task):
            did = "took" if fact.act == "claim" else "done:"
            rows.append((day.clock(dated.at), f"{did} {harmless(fact.what or 'it')}", harmless(fact.who or dated.who)))
    return Table("Notes and tasks", ("time", "what", "who"), tuple(rows), "No note was made.")


@dataclass(frozen=True)
class Asked:
    """One part of inspectors.toml."""
    title: str
    rows: list[list[str]]


@cache
def _asked() -> dict[str, Asked]:
    data = tomllib.loads(files("bot.log").joinpath("inspectors.toml").read_text(encoding="utf-8"))
    return {key: Asked(**part) for key, part in data.items()}


def _inspector(region: str) -> Iterable[Table]:
    for key in ("common", {"scotland": "uk"}.get(region, region)):
        part = _asked()[key]
        yield Table(f"For the inspector: {part.title}", ("may be asked for", "where it stands", "source"),
                    tuple(tuple(row) for row in part.rows))
