"""A message as a row of items: words, numbers with their units, clock times, places, names.

Rules match on `Row.canon`, where every item is one word: plain words as they are, the others as a letter and their
number in the row ("P0 N1 , pot in"). Articles and fillers stay in the row but not in canon.

Letters: N number, H heat [degC], K mass [kg], L volume [litre], C length [cm], M percent, U minutes, S seconds,
T clock time, A a while ago, P place, O oven, D dish, I infrared tool, R a range of numbers.
"""

from __future__ import annotations

import bisect
from dataclasses import dataclass, field
from typing import Any

from bot.reading.lexicon import bag

FILLERS = bag("the please pls plz just really very quite um er erm uh ah oh so well fyi btw tbh ngl fr imo bruh")


@dataclass
class Item:
    """kind: a letter (see above), "" for a plain word, "." for punctuation. start, end: characters of the message."""

    kind: str
    word: str
    start: int
    end: int
    value: Any = None
    words: tuple[str, ...] = ()
    glued: bool = False
    # Whether this message is what tells that an oven is called so.
    named_here: bool = False

    def __post_init__(self) -> None:
        if not self.words:
            self.words = (self.word,)


@dataclass
class Row:
    """The items of one message, and the string that rules match on."""

    message: str
    items: list[Item]
    canon: str = ""
    _starts: list[int] = field(default_factory=list)
    _index: list[int] = field(default_factory=list)

    def __post_init__(self) -> None:
        parts: list[str] = []
        at = 0
        for number, item in enumerate(self.items):
            if item.kind == "" and item.word in FILLERS:
                continue
            text = f"{item.kind}{number}" if item.kind.isalpha() else item.word
            self._starts.append(at)
            self._index.append(number)
            parts.append(text)
            at += len(text) + 1
        self.canon = " ".join(parts)

    def item_at(self, offset: int) -> int:
        """The number of the item at a place of canon."""
        return self._index[max(0, bisect.bisect_right(self._starts, offset) - 1)]

    def offset(self, number: int) -> int:
        """Where in canon an item stands (a filler: the item behind it)."""
        at = bisect.bisect_left(self._index, number)
        return self._starts[at] if at < len(self._starts) else len(self.canon)

    def items_of(self, start: int, end: int) -> tuple[int, int]:
        """First item and one past the last for a piece of canon."""
        if end <= start:
            at = self.item_at(start)
            return at, at
        return self.item_at(start), self.item_at(end - 1) + 1

    def text(self, first: int, last: int) -> str:
        """The message's own characters from item `first` up to `last`."""
        if first >= last:
            return ""
        return self.message[self.items[first].start : self.items[last - 1].end]

    def spelled(self, first: int, last: int) -> str:
        """The message's own text, with the slips in its plain words mended."""
        out, at = [], self.items[first].start if first < last else 0
        for item in self.items[first:last]:
            typed = self.message[item.start : item.end]
            low = typed.lower()
            mended = (
                item.kind == ""
                and low.isalpha()
                and len(low) >= 3
                and low[0] == item.word[0]
                and (not low.startswith(item.word))
            )
            named = (
                item.kind in ("O", "D") and len(item.words) == 1 and low.isalpha() and not low.startswith(item.words[0])
            )
            if named and item.words[0].isalpha():
                mended, typed = False, item.words[0]
            out += [self.message[at : item.start], item.word if mended and item.word.isalpha() else typed]
            at = item.end
        return "".join(out)

    def words(self, first: int, last: int) -> tuple[str, ...]:
        return tuple(word for item in self.items[first:last] for word in item.words if item.kind != ".")
