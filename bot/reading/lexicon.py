"""The yard's words, read once from lexicon.toml, and the look-ups that the rules share."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterable, Mapping, Sequence
from functools import cache
from importlib import resources
from types import MappingProxyType
from typing import Any

Phrases = Mapping[str, tuple[tuple[tuple[str, ...], str, str], ...]]


def split_words(phrase: str) -> tuple[str, ...]:
    """A phrase as the tokeniser splits it: "door-side" is two words."""
    return tuple(re.findall(r"[a-z]+|\d+|'s(?![a-z])", phrase.lower()))


@cache
def bag(words: str) -> frozenset[str]:
    """A set of words written as one line of them."""
    return frozenset(words.split())


@cache
def table() -> Mapping[str, Any]:
    text = resources.files("bot.reading").joinpath("lexicon.toml").read_text(encoding="utf-8")
    return MappingProxyType(tomllib.loads(text))


@cache
def as_typed() -> Mapping[str, str]:
    """What is meant by words typed short, by ear or without their apostrophe."""
    text = resources.files("bot.reading").joinpath("alike.toml").read_text(encoding="utf-8")
    return MappingProxyType(tomllib.loads(text))


def index(entries: Iterable[tuple[str, str, str]]) -> Phrases:
    """Entries (phrase, class, meaning) by first word, the longest first."""
    found: dict[str, list[tuple[tuple[str, ...], str, str]]] = {}
    for phrase, kind, meaning in entries:
        words = split_words(phrase)
        if words:
            found.setdefault(words[0], []).append((words, kind, meaning))
    return {first: tuple(sorted(each, key=lambda entry: -len(entry[0]))) for first, each in found.items()}


@cache
def common_phrases() -> Phrases:
    """Every phrase of the yard that stands for one thing: places P, infrared tool I, dishes D, ovens O."""
    words = table()
    entries: list[tuple[str, str, str]] = []
    for place, phrases in words["places"].items():
        entries += [(phrase, "P", place) for phrase in phrases]
    entries += [(phrase, "I", "infrared") for phrase in words["infrared"]["words"]]
    ovens = words["ovens"]["words"]
    for phrase in ovens:
        alone = phrase.removesuffix(" oven")  # "dome oven" is said of the dome, but "big oven" is no big
        entries.append((phrase, "O", alone if alone == "dome" or alone in ovens else phrase))
    taken = {phrase for phrase, _, _ in entries}
    entries += [(phrase, "D", phrase) for phrase in words["dishes"]["words"] if phrase not in taken]
    return index(entries)


@cache
def _allergen_words() -> Mapping[tuple[str, ...], str | None]:
    found: dict[tuple[str, ...], str | None] = {}
    for name, phrases in table()["allergens"].items():
        for phrase in (name, *phrases) if name != "free_of" else phrases:
            found[split_words(phrase)] = None if name == "free_of" else name
    return found


def allergens_in(words: Sequence[str]) -> list[str]:
    """Standard names of the allergens that these words are or name, in order; "rice flour" is none.

    >>> allergens_in(["wholegrain", "mustard", "and", "butter"]), allergens_in(["rice", "flour"])
    (['mustard', 'milk'], [])
    """
    return list(dict.fromkeys(name for _, _, name in allergen_runs(words) if name is not None))


def allergen_runs(words: Sequence[str]) -> list[tuple[int, int, str | None]]:
    """Where the words name an allergen, or a thing that only sounds like one (None), the longest phrase first.

    >>> allergen_runs(["peanut", "butter", "and", "rice", "flour"])
    [(0, 2, 'peanuts'), (3, 5, None)]
    """
    known = _allergen_words()
    found: list[tuple[int, int, str | None]] = []
    at = 0
    while at < len(words):
        for length in (4, 3, 2, 1):
            piece = tuple(words[at : at + length])
            if len(piece) == length and piece in known:
                found.append((at, at + length, known[piece]))
                at += length
                break
        else:
            at += 1
    return found


@cache
def phrase_set(section: str, key: str) -> frozenset[tuple[str, ...]]:
    return frozenset(split_words(phrase) for phrase in table()[section][key])


def longest(words: Sequence[str], section: str, key: str) -> tuple[int, int] | None:
    """Where the longest phrase of a list stands in the words: (start, end)."""
    phrases = phrase_set(section, key)
    for length in (4, 3, 2, 1):
        for start in range(len(words) - length + 1):
            if tuple(words[start : start + length]) in phrases:
                return start, start + length
    return None
