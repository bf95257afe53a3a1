"""What is asked in other words than a known phrase: the words that count, from the tables (`hear`)."""

from __future__ import annotations

import re
from collections.abc import Container, Mapping
from dataclasses import dataclass
from functools import cache
from typing import Any

from bot.reading.asked import Asked, by_asked, dish_asked, people_asked, time_asked
from bot.reading.lexicon import allergens_in
from bot.reading.mended import people_of
from bot.reading.phrases import fields_of, phrase_tables, spans_of
from bot.reading.ways import SLOTS, Way, Ways

# What is asked in more tokens than these is no question that a person waits for an answer to.
MOST_TOKENS = 30
_LEAST_HEAT_C = 30.0


@dataclass(frozen=True)
class Entry:
    """An entry of a table: what it means, and what else must fit, must not fit and must be found."""

    means: Mapping[str, Any]
    also: tuple[Way, ...]
    unless: tuple[Way, ...]
    needs: tuple[str, ...]


@cache
def _tables() -> tuple[tuple[Entry, ...], Ways]:
    entries: list[Entry] = []
    ways = Ways()
    for table in phrase_tables():
        lists = table.get("words", {})
        for each in table.get("question", ()):
            if "hear" not in each:
                continue
            also, unless = ([Way.read(text, lists) for text in each.get(key, ())] for key in ("also", "unless"))
            entries.append(Entry(each["means"], tuple(also), tuple(unless), tuple(each.get("needs", ()))))
            for way in each["hear"]:
                ways.add(len(entries) - 1, way, lists)
    return tuple(entries), ways


def heard(asked: Asked) -> dict[str, Any] | None:
    """The question in a stretch of the message that asks; {"is": "nobody"} for what is asked of people."""
    tokens = asked.tokens()
    if not 0 < len(tokens) <= MOST_TOKENS:
        return None
    entries, ways = _tables()
    texts = list(spans_of(tokens, "question"))
    refused: set[int] = set()
    for way in ways.fitting(tokens):
        if way.meaning in refused:
            continue
        entry = entries[way.meaning]
        match = next((match for text in texts if (match := way.match(text)) is not None), None)
        if match is None:
            continue
        if not _holds(entry, texts):
            refused.add(way.meaning)
            continue
        fields = _filled(asked, entry, match)
        if fields is not None:
            return fields
    return None


def _holds(entry: Entry, texts: list[str]) -> bool:
    def fits(ways: tuple[Way, ...]) -> bool:
        return any(way.match(text) is not None for way in ways for text in texts)

    return (not entry.also or fits(entry.also)) and not fits(entry.unless)


def _filled(asked: Asked, entry: Entry, match: re.Match[str]) -> dict[str, Any] | None:
    fields = fields_of(asked.scene, entry.means, match)
    named = [value for name, value in match.groupdict().items() if value and name.startswith("person_")]
    if fields is None or any(name not in people_of(asked.scene) for name in named):
        return None
    taken = {token for value in match.groupdict().values() if value for token in value.split()}
    for key, slot in entry.means.items():
        if slot in SLOTS and key not in fields:
            found = elsewhere(asked, fields, str(slot), taken)
            if found is not None:
                fields[key] = found
            elif slot in entry.needs:
                return None
    return fields


def elsewhere(asked: Asked, fields: dict[str, Any], slot: str, taken: Container[str] = frozenset()) -> Any:
    """What the way does not hold itself, from the rest of the clause."""
    if slot == "DISH":
        return dish_asked(asked)
    if slot == "OVEN":
        return None if fields.get("dish") and fields["is"] == "eta" else asked.name("O")
    if slot == "PLACE":
        return asked.name("P")
    if slot == "COUNT":
        return people_asked(asked)
    if slot == "ALLERGEN":
        named = allergens_in([word for word in asked.words_besides(fields.get("dish")) if word != "free"])
        return named[0] if named else None
    if slot in ("DEPTH", "LITRES"):
        found = asked.items(SLOTS[slot][1])
        return asked.scene.items[found[-1]].value if found else None
    if slot == "HEAT":
        return None
    if fields["is"] == "oven_at":
        return time_asked(asked, besides=taken)
    return by_asked(asked).get("by") if fields["is"] == "ready_by" else time_asked(asked, meal=True)
