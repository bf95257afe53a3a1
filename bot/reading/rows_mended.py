"""Rows in which the words of one time or one number stand apart, put right before any rule looks at them."""

from __future__ import annotations

import re
from dataclasses import replace

from bot.reading.clock_times import Clock
from bot.reading.context import Context
from bot.reading.items import Item
from bot.reading.lexicon import bag
from bot.reading.numbers import from_digits

_DIGITS = re.compile(r"[1-5]")
_TENS = re.compile(r"\d[05]")


def hundreds_apart(items: list[Item]) -> list[Item]:
    """ "air 3 50": a heat of which the hundreds stand apart, as voice typing writes it; a spot goes before."""
    for at in range(len(items) - 2, 0, -1):
        here, behind = items[at], items[at + 1]
        spot = items[at - 1].kind in ("P", "I") or items[at - 1].word in ("at", "reads", "says")
        ends = at + 2 == len(items) or items[at + 2].kind == "." or items[at + 2].kind in ("P", "I")
        if here.kind == behind.kind == "N" and spot and ends and _DIGITS.fullmatch(here.word) and _TENS.fullmatch(
                behind.word) and any(item.kind in ("P", "I") for item in items):
            number = from_digits(here.word + behind.word)
            if number is not None:
                items[at : at + 2] = [Item("N", here.word + behind.word, here.start, behind.end, number)]
    return items


def without_owners(items: list[Item]) -> list[Item]:
    """ "400 on the visitors gun": whose gun it is says nothing more."""
    owned = [
        at - 1
        for at in range(2, len(items))
        if items[at].kind == "I" and items[at - 1].kind == "" and items[at - 2].word in _BEFORE_OWNERS
        and items[at - 1].word.endswith("s") and items[at - 1].word.isalpha() and items[at - 1].word not in _NO_OWNERS
        and any(item.kind in ("N", "H") for item in items[:at])
    ]
    return [item for at, item in enumerate(items) if at not in owned]


_BEFORE_OWNERS = bag("the on with by from")
_NO_OWNERS = bag("was is this its it's has reads says shows pass across less yes")
_NIGHTS = (("last", "night"), ("last", "evening"), ("yesterday", "evening"), ("yesterday", "night"))
NOON = 12


def of_the_night_before(items: list[Item], context: Context) -> list[Item]:
    """ "ham in the fridge at half ten last night", in a class that began the evening before: then, and no other day."""
    began = context.last and context.last[0].at.date() < context.now.date()
    clocks = [at for at, item in enumerate(items) if item.kind == "T" and isinstance(item.value, Clock)]
    pairs = [at for at in range(len(items) - 1) if (items[at].word, items[at + 1].word) in _NIGHTS]
    if not began or context.now.hour >= NOON or len(clocks) != 1 or len(pairs) != 1:
        return items
    clock, at = items[clocks[0]].value, pairs[0]
    if clock.hour is not None and not clock.exact and 5 <= clock.hour < NOON:
        items[clocks[0]].value = replace(clock, hour=clock.hour + NOON, exact=True)
    return items[:at] + items[at + 2 :]
