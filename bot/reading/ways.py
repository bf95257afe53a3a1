"""Ways of saying, written in plain words with optional and alternative parts, and the quick search among many of them.

`[word]` may be left out, `(one|other)` is either, `{one|other}` any number of these, `...` any words, `<done>` any
entry of a named list, a word in capitals is a slot that one or more tokens of the row's canon fill (see SLOTS).
"""

from __future__ import annotations

import random
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from bot.reading.numbers import SMALL

_FREE = r"(?:[a-z][a-z']*|[DOP]\d+)"
_WORD_OR_DISH = r"(?:[a-z]+|D\d+)"
# Slot: what fills it, and the letters of the tokens of which it needs one ("" for free words).
SLOTS: dict[str, tuple[str, str]] = {
    "DISH": (r"D\d+", "D"),
    "OVEN": (r"O\d+", "O"),
    "PLACE": (r"P\d+", "P"),
    "TIME": (r"[TN]\d+", "TN"),
    "AGO": (r"A\d+", "A"),
    "HEAT": (r"[HNT]\d+", "HNT"),
    "CORE": (r"[HN]\d+", "HN"),
    "COLD": (r"[HN]\d+", "HN"),
    "COUNT": (r"N\d+", "N"),
    "DEPTH": (r"C\d+", "C"),
    "LITRES": (r"L\d+", "L"),
    "KILOS": (r"K\d+", "K"),
    "PERCENT": (r"[MNT]\d+", "MNT"),
    "LENGTH": (r"U\d+", "U"),
    "GUN": (r"I\d+", "I"),
    "WHAT": (rf"{_FREE}(?: {_FREE}){{0,3}}?", ""),
    "ITEM": (rf"{_WORD_OR_DISH}(?: {_WORD_OR_DISH}){{0,2}}?", ""),
    "ALLERGEN": (rf"{_WORD_OR_DISH}(?: {_WORD_OR_DISH})??", ""),
    "PERSON": (r"[a-z]+", ""),
    "SPECIES": (r"[a-z]+(?: [a-z]+)??", ""),
    "FLOUR": (
        r"(?:cornflour|cornstarch|(?:rice|potato|plain|gluten free|gf|buckwheat|gram|oat) flour|(?:oat|almond"
        r"|coconut) milk"
        r"|vegan butter|margarine|tamari)",
        "",
    ),
    "HELD": (rf"{_WORD_OR_DISH}(?: {_WORD_OR_DISH}){{0,2}}?", ""),
}
_PARTS = re.compile(r"\.\.\.|[\[\]()|?{}]|<[a-z_]+>|[^\s\[\]()|<>?{}.]+")
# How often what stands in each bracket may be said.
_BRACKETS = {"(": "", "[": "?", "{": "*"}
Need = frozenset[str]


@dataclass
class _Piece:
    """A part of a way: its pattern, and the sets of tokens of each of which it needs one."""

    regex: str
    needs: list[Need]


@dataclass
class Way:
    """One way of saying. `meaning` is the number of the entry that it belongs to."""

    meaning: int
    needs: tuple[Need, ...]
    regex: str
    _compiled: re.Pattern[str] | None = field(default=None, repr=False)

    @classmethod
    def read(cls, text: str, lists: Mapping[str, str], meaning: int = 0) -> Way:
        piece = _Reader(text, lists).whole()
        if not piece.needs:
            raise ValueError(f"'{text}' fits anything: a way of saying needs a word that cannot be left out")
        return cls(meaning, tuple(sorted(piece.needs, key=_commonness)), piece.regex)

    def match(self, text: str) -> re.Match[str] | None:
        if self._compiled is None:
            self._compiled = re.compile(self.regex)
        return self._compiled.fullmatch(text)


class Ways:
    """Many ways of saying, found by the rarest token that each of them needs."""

    def __init__(self) -> None:
        self._by_token: dict[str, list[int]] = {}
        self._ways: list[Way] = []

    def add(self, meaning: int, text: str, lists: Mapping[str, str]) -> None:
        self._ways.append(Way.read(text, lists, meaning))
        for token in self._ways[-1].needs[0]:
            self._by_token.setdefault(token, []).append(len(self._ways) - 1)

    def fitting(self, tokens: Sequence[str]) -> list[Way]:
        """The ways whose needed tokens are all there, in the order in which they were added."""
        have = {token if token[0].islower() or not token[0].isalpha() else token[0] for token in tokens}
        numbers = {number for token in have for number in self._by_token.get(token, ())}
        return [
            way
            for way in (self._ways[number] for number in sorted(numbers))
            if not any(have.isdisjoint(need) for need in way.needs)
        ]


def _commonness(need: Need) -> int:
    """How many messages have one of these tokens, roughly: a number or a name is in most of them, a word in few."""
    return sum(12 if token.isupper() else 1 for token in need)


class _Reader:
    """Reads one way of saying, or one named list, from left to right."""

    def __init__(self, text: str, lists: Mapping[str, str], seen: dict[str, int] | None = None) -> None:
        self.parts = _PARTS.findall(text)
        self.at = 0
        self.lists = lists
        self.seen: dict[str, int] = {} if seen is None else seen

    def whole(self) -> _Piece:
        piece = self._either()
        if self.at < len(self.parts):
            raise ValueError(f"a bracket too many before '{self.parts[self.at]}'")
        return piece

    def _either(self) -> _Piece:
        ways = [self._row()]
        while self.at < len(self.parts) and self.parts[self.at] == "|":
            self.at += 1
            ways.append(self._row())
        if len(ways) == 1:
            return ways[0]
        needs: list[Need] = []
        if all(way.needs for way in ways):
            needs = [frozenset().union(*(min(way.needs, key=len) for way in ways))]
        return _Piece("(?:" + "|".join(way.regex for way in ways) + ")", needs)

    def _row(self) -> _Piece:
        regex, needs = "", []
        while self.at < len(self.parts) and self.parts[self.at] not in ("|", ")", "]", "}"):
            piece = self._one()
            regex += piece.regex
            needs += piece.needs
        return _Piece(regex, needs)

    def _one(self) -> _Piece:
        part = self.parts[self.at]
        self.at += 1
        if part in _BRACKETS:
            inner = self._either()
            if self.at >= len(self.parts):
                raise ValueError("a bracket is not closed")
            self.at += 1
            return inner if part == "(" else _Piece(f"(?:{inner.regex}){_BRACKETS[part]}", [])
        if part == "...":
            return _Piece(r"(?:\S+ )*?", [])
        if part[0] == "<":
            return _Reader(self.lists[part[1:-1]], self.lists, self.seen)._either()
        if part in SLOTS:
            regex, letters = SLOTS[part]
            return _Piece(rf"(?P<{self._name(part.lower())}>{regex}) ", [frozenset(letters)] if letters else [])
        if part in SMALL:
            return _Piece(rf"(?P<{self._name(f'number{SMALL[part]}')}>N\d+) ", [frozenset("N")])
        return _Piece(re.escape(part) + " ", [frozenset((part,))])

    def _name(self, slot: str) -> str:
        """A slot may come twice in a way; each gets a name of its own."""
        self.seen[slot] = self.seen.get(slot, 0) + 1
        return f"{slot}__{self.seen[slot]}"


def said_in_a_way(
    way: str, lists: Mapping[str, str], chance: random.Random, slots: Mapping[str, Sequence[str]]
) -> str:
    """One of the many texts that a way stands for, what may be left out mostly so. `slots`: what may fill each."""
    parts = _PARTS.findall(way)
    at = 0

    def either() -> str:
        nonlocal at
        ways = [row()]
        while at < len(parts) and parts[at] == "|":
            at += 1
            ways.append(row())
        return chance.choice(ways)

    def row() -> str:
        nonlocal at
        out: list[str] = []
        while at < len(parts) and parts[at] not in ("|", ")", "]", "}"):
            part = parts[at]
            at += 1
            if part in ("(", "[", "{"):
                inner = either()
                at += 1
                out += [inner] if part == "(" or chance.random() < (0.35 if part == "[" else 0.1) else []
            elif part == "...":
                continue
            elif part[0] == "<":
                out.append(said_in_a_way(lists[part[1:-1]], lists, chance, slots))
            else:
                out.append(chance.choice(slots.get(part, (part,))))
        return " ".join(each for each in out if each)

    return either().replace(" 's", "'s").replace(" ?", "?")
