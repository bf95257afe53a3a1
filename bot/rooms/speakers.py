"""Who speaks a typed line: "Idris: pot in" is said by Idris, "Lamb: still tough" by the one at the keyboard."""
from __future__ import annotations

import re
from collections.abc import Iterable
from functools import cache

from bot.reading.lexicon import split_words, table
from skills.vocabulary import FACTS, QUESTIONS, Heard

# A name is one or two words with a capital, then a colon.
_NAMED = re.compile(r"(?P<name>[^\W\d_][\w'’-]*(?: [^\W\d_][\w'’-]*)?)\s*:\s*(?P<text>.*)", re.DOTALL)
# Words that people put before a colon and that no other list holds.
_OPENERS = frozenset((
    "sorry", "correction", "update", "now", "today", "tonight", "tomorrow", "time", "times", "question", "reminder",
    "fyi", "ps", "re", "todo", "menu", "heat", "temp", "temps", "temperature", "lid", "leftovers", "everyone", "all",
    "team", "hi", "hello", "ok", "okay", "core", "liquor", "simmer", "probe", "pots", "ovens",
))
_LISTS = ("places", "infrared", "ovens", "dishes", "liquids", "pans")


@cache
def _things() -> frozenset[str]:
    words = table()
    found = {kind.model_fields["is_"].default for kind in (*FACTS, *QUESTIONS)} | _OPENERS
    for name in _LISTS:
        for phrases in words.get(name, {}).values():
            found |= {word for phrase in phrases for word in split_words(phrase)}
    return frozenset(found)


class Speakers:
    """The people of a room, and the one whose keyboard it is."""

    def __init__(self, present: str, known: Iterable[str] = ()) -> None:
        self.present = present
        self._people = {name.lower(): name for name in (*known, present)}
        self._named: set[str] = set()

    def met(self, name: str, heard: Heard) -> None:
        """Remember who spoke, and the ovens and dishes that were named."""
        self._people.setdefault(name.lower(), name)
        for entry in (*heard.facts, *heard.questions):
            self._named |= {word for thing in (entry.oven, entry.dish) if thing for word in split_words(thing)}

    def split(self, line: str) -> tuple[str, str]:
        """(who, what) of a typed line."""
        found = _NAMED.fullmatch(line)
        if found is None or not found["text"].strip():
            return self.present, line
        name, text = found["name"], found["text"].strip()
        if name.lower() in self._people:
            return self._people[name.lower()], text
        words = split_words(name)
        if not all(word[0].isupper() for word in name.split()) or _things() & set(words) or self._named & set(words):
            return self.present, line
        return name, text
