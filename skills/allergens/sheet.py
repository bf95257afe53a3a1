"""What each dish holds by what was logged, against what guests avoid. It says what was logged and what was not.

It never says that a dish is free of anything: a thing that nobody logged may be in it.
"""
from __future__ import annotations

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from functools import cache
from importlib.resources import files
from typing import Literal

from skills import vocabulary as v
from skills.dated import Dated
from skills.record import ClassRecord
from skills.wording import clock

State = Literal["logged", "may hold", "not logged"]


@dataclass(frozen=True)
class Item:
    """One logged thing: what it holds by its own words or as said, and what its label must be read for."""
    words: str
    at: datetime
    told: datetime
    who: str
    holds: tuple[str, ...]
    often: tuple[str, ...]

    def said(self) -> str:
        return f"{self.words} {clock(self.at)}"


@dataclass(frozen=True)
class Cell:
    """One dish against one allergen."""
    state: State
    items: tuple[Item, ...] = ()


@cache
def _table() -> Mapping[str, Mapping[str, tuple[str, ...]]]:
    data = tomllib.loads(files("skills.allergens").joinpath("hidden.toml").read_text(encoding="utf-8"))
    return {part: {name: tuple(words) for name, words in rows.items()} for part, rows in data.items()}


def held_in(words: str, named: str | None = None) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """What an item holds, and what it often holds, by its words; `named`: the allergen that was said with it.

    >>> held_in("red wine"), held_in("stock cube", "celery")
    (((), ('sulphites',)), (('celery',), ('gluten', 'milk', 'soya')))
    """
    table = _table()
    text = words.lower().replace(",", " ").replace("-", " ")
    parts = set(text.split())
    unlike = {name for name, phrases in table["unlike"].items() if any(phrase in text for phrase in phrases)}
    holds = [name for name, known in table["holds"].items() if parts & set(known) and name not in unlike]
    if named is not None and named not in holds:
        holds.insert(0, named)
    often = [name for name, known in table["often"].items() if parts & set(known) and name not in (*holds, *unlike)]
    return tuple(holds), tuple(sorted(often))


def items(dish: str | None, record: ClassRecord) -> tuple[Item, ...]:
    """What was logged into a dish, newest last; None: what was logged without a dish."""
    return tuple(_item(dated, dated.fact) for dated in record.facts
                 if isinstance(dated.fact, v.Contents) and dated.dish == dish)


def _item(dated: Dated, fact: v.Contents) -> Item:
    holds, often = held_in(fact.item, fact.allergen)
    return Item(fact.item, dated.at, dated.told, dated.who, holds, often)


def dishes(record: ClassRecord) -> tuple[str, ...]:
    """Every dish of the class, those with only a contents line too."""
    named = [dated.dish for dated in record.facts if isinstance(dated.fact, v.Contents) and dated.dish is not None]
    return tuple(dict.fromkeys([*record.dishes, *named]))


def cell(dish: str, allergen: str, record: ClassRecord) -> Cell:
    """What is logged of one allergen in one dish; a thing logged for no named dish counts for every dish."""
    mine = (*items(dish, record), *items(None, record))
    holding = tuple(item for item in mine if allergen in item.holds)
    if holding:
        return Cell("logged", holding)
    maybe = tuple(item for item in mine if allergen in item.often)
    return Cell("may hold", maybe) if maybe else Cell("not logged")


def matrix(record: ClassRecord) -> dict[str, dict[str, Cell]]:
    """Dish by allergen that a guest avoids."""
    return {dish: {allergen: cell(dish, allergen, record) for allergen in record.avoids} for dish in dishes(record)}


def labels_read(dish: str, record: ClassRecord) -> Dated | None:
    """Who last said that labels were read, of this dish or of none by name; None: nobody."""
    for dated in reversed(record.facts):
        fact = dated.fact
        words = fact.what if isinstance(fact, v.Task) and fact.act == "done" else \
            fact.text if isinstance(fact, v.Note) else None
        words = (words or "").lower()
        if "label" not in words or not {"no", "not", "unread"}.isdisjoint(words.split()):
            continue
        others = [name for name in dishes(record) if name != dish and name in words]
        if dated.dish in (None, dish) and (dish in words or not others):
            return dated
    return None


def clashes(dish: str, record: ClassRecord) -> list[str]:
    """ "gluten (flour 07:40)", "celery (stock may hold it)": what guests avoid and is, or may be, in the dish."""
    found = []
    for allergen in record.avoids:
        here = cell(dish, allergen, record)
        if here.state == "logged":
            found.append(f"{allergen} ({here.items[-1].said()})")
        elif here.state == "may hold":
            found.append(f"{allergen} ({here.items[-1].words} may hold it)")
    return found


def avoided(record: ClassRecord) -> str:
    """ "2 avoid gluten, 1 avoids nuts (seat 4)": counts and seats, never names."""
    return ", ".join(avoid(many, allergen) + (f" ({', '.join(record.seats[allergen])})" if allergen in record.seats
                                              else "") for allergen, many in record.avoids.items())


def avoid(many: int, allergen: str) -> str:
    return f"{many} {'avoids' if many == 1 else 'avoid'} {allergen}"


def sheet_text(record: ClassRecord) -> str:
    """The whole matrix for the log page: one line a dish."""
    lines = [f"Guests: {avoided(record)}." if record.avoids else "No guest was said to avoid anything."]
    for dish, row in matrix(record).items():
        parts = [f"{allergen}: {here.state}" + (f" ({', '.join(item.said() for item in here.items)})" if here.items
                                                 else "") for allergen, here in row.items()]
        logged = ", ".join(item.said() for item in items(dish, record)) or "nothing"
        read = labels_read(dish, record)
        labels = f" Labels read {clock(read.at)} ({read.who})." if read is not None else " No labels logged as read."
        lines.append(f"{dish}: logged {logged}. {'; '.join(parts)}".rstrip() + labels)
    lines.append("What was not logged may still be in a dish: labels and the cook decide.")
    return "\n".join(lines)
