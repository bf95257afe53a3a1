""" "Why did you read that?": what each piece of a message was taken for, in the plain words of a reply."""

from __future__ import annotations

import re

from bot.reading.result import Reading, Span

_ASKS = re.compile(
    r"(?:(?:and|so|ok|hang on|wait|yardhand|bot|hey)[\s,:]+)*"
    r"(?:why|how|how come|what|where)(?:['’]?d| did| do| have| are)? (?:you|u|ya|yardhand|the bot|it)(?: just| even)? "
    r"(?:read(?:ing)?|take|took|taken|hear|heard|understand|understood|misread|make|made|get|got|write|wrote|log|logged)"
    r"(?: (?:that|this|it|me|my|from|of|in|out|last|the|message|one|line|there|then|for|as|like|so|just now|what i said"
    r"|wrong|\w+))*[\s?.!]*", re.IGNORECASE)
_OF_IT = re.compile(r"\b(?:that|this|it|me|my|message|line|there|what i said)\b|\bwhat\b.*\bread\W*$", re.IGNORECASE)
# What is asked of figures is no question of reading.
_OF_FIGURES = re.compile(r"\b(?:eta|time|estimate|number|figure|forecast|late|hours?|minutes?|\d)", re.IGNORECASE)
MOST_PIECES = 4


def asks_back(text: str) -> bool:
    """Whether a message asks how another one was read.

    >>> asks_back("why did you read that?"), asks_back("what did you take that for"), asks_back("why is it late?")
    (True, True, False)
    """
    return _ASKS.fullmatch(text.strip()) is not None and _OF_IT.search(text) is not None and \
        _OF_FIGURES.search(text) is None


def read_as(text: str, who: str, at: str, reading: Reading) -> tuple[str, ...]:
    """Three lines at most: whose words, what was taken for what, and what was left over."""
    first = f'{who} {at}: "{_short(text)}".'
    if not reading.spans:
        return first, "Nothing in it was taken for the record." + _left(reading)
    pieces = [f'"{_short(span.text.strip(" ,.;"))}" as {_plain(span)}' for span in reading.spans[:MOST_PIECES]]
    more = len(reading.spans) - len(pieces)
    return first, f"Taken: {'; '.join(pieces)}{f' and {more} more' if more > 0 else ''}.", _left(reading).strip() or (
        "Nothing was left over.")


def _short(text: str, most: int = 60) -> str:
    words = " ".join(text.split())
    return words if len(words) <= most else words[: most - 3] + "..."


def _plain(span: Span) -> str:
    """ "reading: place floor, celsius 180" in the room's words."""
    kind, _, fields = span.meaning.partition(": ")
    words = re.sub(r"[\[\]{}']", "", fields).replace("_", " ")
    for field, said in _WORDS:
        words = re.sub(rf"\b{field}\b", said, words)
    words = " ".join(words.split()).replace(" ,", ",").strip(" ,")
    if kind in _QUESTIONS:
        return f"a question, {_QUESTIONS[kind]}{f': {words}' if words else ''}"
    return f"{_KINDS.get(kind, kind.replace('_', ' '))}: {words}"


_KINDS = {"fix": "correction", "pot": "pot", "store": "fridge or hot cupboard"}
_QUESTIONS = {
    "status": "how things stand", "eta": "when it is done", "ready_by": "whether it makes its time",
    "oven_at": "the oven at a time", "refuel": "whether it wants wood", "safe": "whether it may be kept",
    "what_if": "what if", "plan": "the plan", "amount": "how much", "chill_time": "how long it takes to chill",
    "allergens": "what is in it", "who": "who has it", "why": "why", "measure": "what to read next", "log": "the log",
    "help": "what can be said"}
_WORDS = (("celsius", "degrees"), ("meat kg", "kg"), ("liquid l", "litres"), ("wood kg", "kg"),
          ("depth cm", "cm deep"), ("place dome", "ceiling"), ("place", ""), ("is", ""), ("facts", ""), ("act", ""),
          ("of", ""))


def _left(reading: Reading) -> str:
    pieces = ", ".join(f'"{_short(piece, 30)}"' for piece in reading.leftover[:MOST_PIECES])
    return f" Left over: {pieces}." if pieces else ""
