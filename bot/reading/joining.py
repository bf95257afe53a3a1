"""Small helpers on a list of items: look at a word, look for a number, put items together."""

from __future__ import annotations

from collections.abc import Sequence

from bot.reading.items import Item


def is_number(items: Sequence[Item], at: int) -> bool:
    return 0 <= at < len(items) and items[at].kind == "N"


def word_at(items: Sequence[Item], at: int) -> str:
    return items[at].word if 0 <= at < len(items) and items[at].kind in ("", ".") else ""


def join_items(items: list[Item], first: int, last: int, kind: str, value: object) -> None:
    """Put items first..last-1 together into one."""
    words = tuple(word for item in items[first:last] for word in item.words)
    items[first:last] = [
        Item(kind, items[first].word, items[first].start, items[last - 1].end, value, words, items[first].glued)
    ]
