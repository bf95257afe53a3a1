"""Spots that were typed or heard otherwise: "flaw one ninety five", "floor 183, ait 170", "f 180 a 170"."""

from __future__ import annotations

from collections.abc import Sequence

from bot.reading.items import Item
from bot.reading.joining import word_at
from bot.reading.lexicon import bag
from bot.reading.spelling import slip_cost

# Words that voice typing hears for a place, right before a heat.
_HEARD = {"flaw": "floor", "flower": "floor", "flour": "floor", "flor": "floor", "err": "air", "heir": "air"}
_HEARD |= {"foor": "floor", "loor": "floor", "floo": "floor", "ari": "air", "aur": "air"}
_HEARD |= {"hair": "air", "aire": "air", "ar": "air", "ayer": "air", "ere": "air", "here": "air", "seal": "ceiling"}
_HEARD |= {"soul": "floor", "souls": "floor", "sealing": "ceiling", "mouse": "mouth", "ear": "air", "heath": "floor"}


# Places that a slip in a list of heats may have been; the words here are never such a slip.
_LISTED = ("floor", "air", "back", "wall", "mouth", "dome", "crown", "roof", "rear", "hearth", "ceiling", "sole")
_NO_SLIPS = bag("and are all at for in is was to by with not ill ir gun from core door done wood lid pot now near over")


def listed_place(items: Sequence[Item], at: int) -> str | None:
    """ "floor 183, ait 170", "flor 208 moth 181": a word with a heat behind it, next to a place with its own."""
    word = items[at].word
    if len(word) < 3 or word in _NO_SLIPS or not _heat_at(items, at + 1):
        return None
    if not any(
        other != at
        and items[other].kind == ""
        and _heat_at(items, other + 1)
        and (items[other].word in _LISTED or items[other].word in _HEARD)
        for other in range(max(0, at - 6), min(len(items), at + 7))
    ):
        return None
    near = [(cost, place) for place in _LISTED if (cost := slip_cost(word, place)) is not None]
    near.sort()
    if not near or (len(near) > 1 and near[0][0] == near[1][0]):
        return None
    return near[0][1]


def _heat_at(items: Sequence[Item], at: int) -> bool:
    if at >= len(items) or items[at].kind not in ("N", "H"):
        return False
    value = float(items[at].value.value if items[at].kind == "N" else items[at].value)
    return 60 <= value <= 600


def heard_place(items: Sequence[Item], at: int) -> str | None:
    """ "flaw one ninety five", "aire 160": a place with a heat right behind it, and no place behind that."""
    if items[at].kind != "":
        return None
    place = _HEARD.get(items[at].word)
    if place is None:
        return None
    after = at + 1
    while word_at(items, after) in ("'s", "is", "at"):
        after += 1
    if after >= len(items) or items[after].kind not in ("N", "H"):
        return None
    if not 60 <= (items[after].value.value if items[after].kind == "N" else items[after].value) <= 600:
        return None
    return None if word_at(items, after + 1) in bag("on in at of the grams g") else place


def sides(message: str, items: list[Item]) -> list[Item]:
    """ "fl 231 bk 248 L 226 R 229": the letters before heats are the two side walls."""
    walls = any(item.word in ("walls", "sides", "wall") for item in items)
    letters = [
        at for at, item in enumerate(items)
        if walls and item.kind == "" and at and _heat_at(items, at - 1)
        and message[item.start : item.end].lower() in ("l", "r")
    ]
    if len(letters) == 2 and not _heat_at(items, letters[-1] + 1):
        return [item for at, item in enumerate(items) if at not in letters]  # "side walls: 203 l / 211 r"
    for at, item in enumerate(items):
        side = {"l": "left", "r": "right"}.get(message[item.start : item.end].lower())
        if side and item.kind == "" and word_at(items, at + 1) == "wall" and _heat_at(items, at + 2):
            items[at] = Item("", side, item.start, item.end)
        elif side and item.kind == "" and _heat_at(items, at + 1) and (at == 0 or _heat_at(items, at - 1)):
            others = [each for each in items if each.word in _LISTED or each.word in _SIDE_WORDS]
            if others:
                items[at] = Item("", side, item.start, item.end)
    return items


_SIDE_WORDS = bag("left right fl bk ir")
_LETTERS = {"f": "floor", "a": "air", "c": "ceiling", "b": "back", "w": "wall", "d": "dome", "m": "mouth"}


def lettered(items: list[Item]) -> list[Item]:
    """ "f 180 a 170": single letters before heats, two of them at least, are spots."""
    spots = [
        at
        for at, item in enumerate(items)
        if item.kind == ""
        and item.word in _LETTERS
        and _heat_at(items, at + 1)
        and (at == 0 or items[at + 1].glued or items[at - 1].kind in (".", "N") or items[at - 1].word in ("and", "is"))
    ]
    if len(spots) >= 2:
        for at in spots:
            items[at] = Item("", _LETTERS[items[at].word], items[at].start, items[at].end)
    return items
