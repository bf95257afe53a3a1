"""What a note says of feeding and of an oven's past: "one small split every 30 min", "last fired two days ago"."""
from __future__ import annotations

import re
from dataclasses import dataclass

_COUNTS = {"a": 1, "an": 1, "one": 1, "two": 2, "three": 3, "four": 4, "five": 5, "six": 6, "seven": 7, "eight": 8,
           "nine": 9, "ten": 10, "couple of": 2, "a couple of": 2, "half": 0.5, "twenty": 20, "thirty": 30,
           "forty": 40, "forty five": 45, "forty-five": 45, "sixty": 60}
_NUMBER = r"(\d+(?:[.,]\d+)?|" + "|".join(sorted((re.escape(word) for word in _COUNTS), key=len, reverse=True)) + ")"
_EVERY = re.compile(rf"\b(?:every|each)\s+(?:{_NUMBER}\s+)?(?:or so\s+)?(min(?:ute)?s?|mins?|hours?|hrs?|h|half hour|"
                    r"half an hour|quarter of an hour|quarter hour)\b")
_PIECES = re.compile(rf"\b{_NUMBER}\s+(?:(?:small|little|thin|big|medium|more|good|dry)\s+)*"
                     r"(?:\w+\s+)?(?:splits?|logs?|pieces?|sticks?|bits?|lumps?)\b")
_KG = re.compile(r"(\d+(?:[.,]\d+)?)\s*(kg|kilos?|kilograms?|g|grams?)\b")
_DAYS = re.compile(r"\b(?:fired|lit|used|hot|burnt|burned|burning|going|cooked in)\b.*?\b"
                   rf"{_NUMBER}\s+(days?|weeks?)\s+ago\b")
_IDLE = re.compile(r"\bnot\b.*?\b(?:fired|lit|used)\b.*?\b(?:for|in)\s+(?:over\s+|about\s+|nearly\s+)?"
                   rf"{_NUMBER}\s+(days?|weeks?)")
_YESTERDAY = re.compile(r"\b(?:fired|lit|used|hot|cooked in)\b.*\b(yesterday|last night|this morning)\b")
_DAMP = re.compile(r"\b(damp|wet|rained|soaked|soaking)\b")


@dataclass(frozen=True)
class Routine:
    """A stated feeding routine: every `interval_s`, so many pieces or kilograms each time."""
    interval_s: float
    pieces: float | None = None
    kg: float | None = None


def _count(word: str) -> float:
    word = word.lower()
    return float(_COUNTS[word]) if word in _COUNTS else float(word.replace(",", "."))


def stated_routine(text: str) -> Routine | None:
    """The routine in a note, if there is one.

    >>> stated_routine("from now on it gets one split (about 0.1 kg) every 30 mins")
    Routine(interval_s=1800.0, pieces=1.0, kg=0.1)
    """
    text = text.lower()
    every = _EVERY.search(text)
    if every is None:
        return None
    unit = every.group(2)
    number = _count(every.group(1)) if every.group(1) else 1.0
    if unit.startswith("half"):
        interval_s = 1800.0
    elif unit.startswith("quarter"):
        interval_s = 900.0
    else:
        interval_s = number * (60.0 if unit.startswith("min") else 3600.0)
    if not 300.0 <= interval_s <= 4 * 3600.0:
        return None
    pieces, weight = _PIECES.search(text), _KG.search(text)
    if pieces is None and weight is None and not re.search(r"\b(wood|feed|fed|stoke|fire|log|split)", text):
        return None
    kg = None
    if weight is not None:
        kg = _count(weight.group(1)) * (0.001 if weight.group(2).startswith("g") else 1.0)
    return Routine(interval_s, _count(pieces.group(1)) if pieces else None, kg)


def days_idle(text: str) -> float | None:
    """How long ago the oven was last fired, if a note says so.

    >>> days_idle("last fired two days ago"), days_idle("not been lit for over a week, might be damp")
    (2.0, 7.0)
    """
    text = text.lower()
    found = _DAYS.search(text) or _IDLE.search(text)
    if found is not None:
        return _count(found.group(1)) * (7.0 if found.group(2).startswith("week") else 1.0)
    yesterday = _YESTERDAY.search(text)
    return None if yesterday is None else {"yesterday": 1.0, "last night": 0.6, "this morning": 0.3}[yesterday.group(1)]


def is_damp(text: str) -> bool:
    """A note that says the oven is damp."""
    return _DAMP.search(text.lower()) is not None
