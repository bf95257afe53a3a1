"""Dishes that a message tells of before they are in a pot: "two pots on the go today, the shin and the beans".

A load of one of them is that dish's, and no cut of another. A class's title introduces none: "bread day" is no pot.
"""

from __future__ import annotations

import re
from functools import lru_cache

from bot.reading.lexicon import longest, split_words
from bot.reading.names import CUTS

_LEADS = (
    r"(?:(?:ok|okay|right|so|morning|we've|we have|weve|we're|we are|got|having|doing|there's|theres|there are|just"
    r"|it's|its|only|today|tonight|all)[\s,]+)*"
)
_POTS = (
    r"(?:(?:one|two|three|four|five|both|\d)\s+(?:pots?|dish(?:es)?|mains?|roasts?|braises?)"
    r"|(?:today's |tonight's |todays |tonights |the |on the )?(?:menu|pots|dishes|mains)(?:\s+(?:is|are))?"
    r"|(?:we're |we are |were )?cooking)"
)
_TAIL = (
    r"(?:\s+(?:on|the|go|going|today|tonight|this|time|morning|evening|to|do|cook|in|all|for|lunch|supper|dinner"
    r"|us))*"
)
_INTRODUCES = re.compile(rf"{_LEADS}{_POTS}{_TAIL}\s*[:,–-]\s*(?P<list>[^.!?;\n]+)", re.IGNORECASE)
_OTHER_DAYS = re.compile(r"\b(?:tomorrow|yesterday|last|next|if|would|could|should|maybe|or|not|no)\b", re.IGNORECASE)
_AND = re.compile(r"\s*(?:,|&|\+|\band\b|\bn\b|\bplus\b|\bthen\b|\bwith\b)\s*", re.IGNORECASE)
_ARTICLE = re.compile(r"^(?:(?:the|a|an|some|our|one of|also|both)\s+)+", re.IGNORECASE)
MOST_WORDS = 3


@lru_cache(maxsize=512)
def introduced(text: str) -> tuple[str, ...]:
    """The names, in the order of the message.

    >>> introduced("two pots on the go today, the shin and the beans")
    ('shin', 'beans')
    >>> introduced("two pots in the sink, the big and the old")
    ()
    """
    found: list[str] = []
    for sentence in re.split(r"(?<=[.!?;\n])", text):
        noted = _NOTE.match(sentence.strip())
        if noted is not None:
            found += _named_first(noted["text"])
        match = _INTRODUCES.match(sentence.strip())
        if match is None or sentence.rstrip().endswith("?") or _OTHER_DAYS.search(sentence):
            continue
        names = [_ARTICLE.sub("", each.strip().lower()) for each in _AND.split(match["list"])]
        names = [name for name in names if name]
        if all(_is_dish(name) for name in names):
            found += names
    return tuple(dict.fromkeys(found))


_NOTE = re.compile(r"note(?: to self| for all)?\s*[:,–-]\s*(?:(?:the|our|that)\s+)?(?P<text>.+)", re.IGNORECASE)


def _named_first(text: str) -> list[str]:
    """ "butter beans soaked overnight": the dish that a note is of."""
    words = split_words(text)[:MOST_WORDS]
    at = longest(words, "dishes", "words")
    return [" ".join(words[: at[1]])] if at is not None and at[0] == 0 else []


def _is_dish(name: str) -> bool:
    words = split_words(name)
    food = longest(words, "dishes", "words") is not None or (len(words) == 1 and words[0] in CUTS)
    return 0 < len(words) <= MOST_WORDS and food
