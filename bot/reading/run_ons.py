"""Clauses that a voice runs together: "boiling hard so I've opened the door" is two, and so it is read."""

from __future__ import annotations

from bot.reading.items import Item
from bot.reading.lexicon import bag

_WHO = bag("i we it they he she there i've we've")
_JOINTS = {
    "so": _WHO, "and": bag("i we it they there"), "because": None, "cause": _WHO, "cos": None, "cuz": None, "but": _WHO,
}
# "and so I", "is so", "just so we": no new clause begins there.
_NOT_BEHIND = bag("and just is are 's even or if that not how when what but so then think reckon hope do not only or")
_SAY_THINGS = bag("fridge freezer cupboard")
_PEOPLE = bag("guest guests person people of coeliac")
_MEALS = bag("breakfast lunch dinner supper brunch")
_LEAST = 2


def _of_those(items: list[Item], at: int) -> bool:
    """Whether an item belongs to "of the nine" behind a number: how many all of them are is told elsewhere."""
    first = at
    while first > 0 and at - first < 3 and items[first].word != "of":
        first -= 1
    if items[first].word != "of" or not first or items[first - 1].kind != "N":
        return False
    last = first + 1
    while last < len(items) and items[last].word in ("the", "our", "those", "these"):
        last += 1
    counted = last < len(items) - 1 and items[last].kind == "N" and first + 1 < last
    return counted and at <= last and items[last + 1].word in bag("are is can't cannot have has don't need avoid")


def apart(items: list[Item]) -> list[Item]:
    """The row with a comma where a new clause begins without one."""
    out: list[Item] = []
    begun = 0
    for at, item in enumerate(items):
        if at and item.word in _MEALS and items[at - 1].word in ("eating", "eat"):
            continue  # "eating breakfast at nine"
        if out and _of_those(items, at):
            continue  # "two of the nine are coeliac"
        following = items[at + 1].word if at + 1 < len(items) else ""
        who = _JOINTS.get(item.word, frozenset()) if item.kind == "" else frozenset()
        joins = who is None or following in who
        more = items[at + 2].word if at + 2 < len(items) else ""
        counted = at + 1 < len(items) and (items[at + 1].kind == "N" or following in ("a", "another"))
        joins = joins or (item.word == "and" and item.kind == "" and counted and more in _PEOPLE)
        joins = joins or (item.word == "and" and following == "the" and more in _SAY_THINGS)
        joins = joins or (item.kind == "" and item.word in ("yes", "yep", "yeah") and at == len(items) - 1)
        if joins and begun >= _LEAST and items[at - 1].word not in _NOT_BEHIND:
            out.append(Item(".", ",", item.start, item.start))
            begun = 0
        out.append(item)
        begun = 0 if item.kind == "." else begun + 1
    return out
