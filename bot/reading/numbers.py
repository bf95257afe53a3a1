"""Numbers as people write and say them: digits, decimals with a comma, "one seventy five", "two and a half".

A number that can also be a clock time keeps its two parts: "two ten" is 210 and (2, 10).
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass

_SMALL = (
    "zero one two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen sixteen seventeen "
    "eighteen nineteen"
)
_TENS = "twenty thirty forty fifty sixty seventy eighty ninety"
SMALL = {word: value for value, word in enumerate(_SMALL.split())}
TENS = {word: 10 * value for value, word in enumerate(_TENS.split(), start=2)}
TENS["fourty"] = 40
NUMBER_WORDS = frozenset(SMALL) | frozenset(TENS) | {"hundred", "thousand"}
_FRACTION = re.compile(r"\d{1,2}/\d{1,2}")


@dataclass(frozen=True)
class Number:
    """A value, the clock time it could be, and whether it was written in words."""

    value: float
    clock: tuple[int, int] | None = None
    words: bool = False
    zero_led: bool = False
    colon: bool = False


def from_digits(text: str) -> Number | None:
    """One written number; None if it is none ("1.2.3").

    >>> from_digits("155,5").value, from_digits("9.06").clock, from_digits("1,200").value
    (155.5, (9, 6), 1200.0)
    """
    if "/" in text:
        return None
    if text[0] == ".":
        return Number(float(f"0{text}")) if len(text) < 9 else None
    parts = re.split(r"[.,:]", text)
    if len(parts) > 2 or any(len(part) > 9 for part in parts):
        return None
    if len(parts) == 1:
        return Number(float(text), _whole_clock(text), zero_led=len(text) > 1 and text[0] == "0")
    mark = text[len(parts[0])]
    clock = None
    if len(parts[1]) == 2 and len(parts[0]) <= 2 and int(parts[0]) < 24 and int(parts[1]) < 60 and mark != ",":
        clock = (int(parts[0]), int(parts[1]))
    if mark == ":":
        return Number(float("nan"), clock, zero_led=text[0] == "0", colon=True)
    if mark == "," and len(parts[1]) == 3:
        return Number(float(parts[0] + parts[1])) if len(parts[0]) < 3 else None
    return Number(float(f"{parts[0]}.{parts[1]}"), clock, zero_led=text[0] == "0" and text[1].isdigit())


def _whole_clock(text: str) -> tuple[int, int] | None:
    value = int(text)
    if len(text) <= 2:
        return (value, 0) if value <= 24 else None
    if len(text) in (3, 4) and value // 100 < 24 and value % 100 < 60:
        return value // 100, value % 100
    return None


def from_words(words: Sequence[str]) -> tuple[int, Number] | None:
    """The number that the words begin with and how many of them it takes.

    >>> from_words("one seventy five floor".split())
    (3, Number(value=175, clock=None, words=True, zero_led=False, colon=False))
    """
    first = words[0] if words else ""
    if first not in SMALL and first not in TENS:
        return None
    taken, value = _below_hundred(words)
    rest = words[taken:]
    if rest and rest[0] == "hundred" and value < 100:
        more = 2 if len(rest) > 1 and rest[1] == "and" else 1
        tail_taken, tail = _below_hundred(rest[more:])
        if tail_taken == 0:
            more = 1
        after = rest[more + tail_taken : more + tail_taken + 2]
        if len(after) == 2 and after[0] == "point" and 0 <= SMALL.get(after[1], 10) <= 9:
            return taken + more + tail_taken + 2, Number(value * 100 + tail + SMALL[after[1]] / 10, words=True)
        return taken + more + tail_taken, Number(value * 100 + tail, words=True)
    if rest and rest[0] == "point":
        digits = ""
        for word in rest[1:]:
            if SMALL.get(word, 10) > 9:
                break
            digits += str(SMALL[word])
        if digits:
            return taken + 1 + len(digits), Number(float(f"{value}.{digits}"), words=True)
    if taken == 1 and 1 <= value <= 9 and (spelled := _spelled(rest)) is not None:
        return 3, Number(value * 100.0 + spelled, words=True)
    if taken == 1 and first in SMALL and 1 <= value <= 12:
        tail_taken, tail = _below_hundred(rest)
        if tail >= 10:
            clock = (value, tail) if tail < 60 else None
            return taken + tail_taken, Number(value * 100 + tail, clock, words=True)
        if len(rest) > 1 and rest[0] in ("oh", "o", "zero") and 1 <= SMALL.get(rest[1], 0) <= 9:
            return 3, Number(value * 100 + SMALL[rest[1]], (value, SMALL[rest[1]]), words=True)
    clock = (value, 0) if value <= 24 else None
    return taken, Number(float(value), clock, words=True)


_OH = ("oh", "o", "zero")


def _spelled(rest: Sequence[str]) -> int | None:
    """The last two digits of a number told digit by digit: "one nine oh", "one seven five"."""
    digits = [0 if word in _OH else SMALL.get(word, 10) for word in rest[:2]]
    if len(digits) < 2 or digits[0] == 0 or max(digits) > 9 or (len(rest) > 2 and SMALL.get(rest[2], 10) <= 9):
        return None
    return 10 * digits[0] + digits[1]


def _below_hundred(words: Sequence[str]) -> tuple[int, int]:
    if not words:
        return 0, 0
    if words[0] in TENS:
        if len(words) > 1 and 1 <= SMALL.get(words[1], 0) <= 9:
            return 2, TENS[words[0]] + SMALL[words[1]]
        return 1, TENS[words[0]]
    if words[0] in SMALL:
        return 1, SMALL[words[0]]
    return 0, 0


def fraction(text: str) -> float | None:
    """A fraction with a slash: "1/2".

    >>> fraction("3/4")
    0.75
    """
    if not _FRACTION.fullmatch(text):
        return None
    top, bottom = map(int, text.split("/"))
    return top / bottom if 0 < top < bottom <= 10 else None
