"""Small helpers on a list of items: look at a word, look for a number, put items together, part them at the commas."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence

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


JOINTS = frozenset(("and", "&", "+", "plus"))


def listed(items: Sequence[Item], first: int, last: int) -> Iterator[tuple[int, int]]:
    """The stretches of items first..last-1 between commas, colons and "and"."""
    return between(items, first, last, lambda item: item.kind == "." or (item.kind == "" and item.word in JOINTS))


def between(items: Sequence[Item], first: int, last: int, parts: Callable[[Item], bool]) -> Iterator[tuple[int, int]]:
    """The stretches of items first..last-1 that the items which part them leave."""
    begin = first
    for at in range(first, last + 1):
        if at == last or parts(items[at]):
            if at > begin:
                yield begin, at
            begin = at + 1
