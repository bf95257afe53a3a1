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
_IS = bag("is are has have 's was were")
_OURS = bag("the our")
# What a clause has said when it is whole enough for another to follow it.
_SAID = _IS | bag("took put got gave been went goes came had did done used told fed lit raked 'll")
_HURT = bag("burnt burned scalded cut singed hurt sliced bumped grazed slipped tripped fell fainted")
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


def _is_done(word: str) -> bool:
    """ "browned", "chilled"."""
    return word.endswith("ed") and len(word) > 5


def _new_subject(items: list[Item], at: int, begun: int) -> bool:
    """ "... butter in the mash and the gravy mix has gluten", "... and sol scalded his arm": whose verb is its own."""
    if items[at].word != "and" or items[at].kind != "":
        return False
    before = items[at - begun : at]
    if not any(item.kind == "" and (item.word in _SAID or _is_done(item.word)) for item in before):
        return False
    here = at + 1
    while here < len(items) and items[here].word in ("also", "then", "now"):
        here += 1
    own = here < len(items) and items[here].word in _OURS
    here += own
    words = [item.word if item.kind in ("", "O", "D", "P", "I") else "" for item in items[here : here + 3]]
    if len(words) < 2 or not words[0] or words[0] in _NOT_BEHIND | _WHO | _SAID:
        return False
    if words[1] in _HURT or (words[1] in ("has", "'s") and len(words) > 2 and words[2] in _HURT | {"done", "got"}):
        return True
    return own and (words[1] in _IS or (len(words) > 2 and words[1] not in _NOT_BEHIND and words[2] in _IS))


def _note_begins(items: list[Item], at: int) -> bool:
    """ "... doorway one eighty note laser battery is low": behind a heat or a name, with a sentence of its own."""
    if items[at].word != "note" or items[at].kind != "":
        return False
    before = items[at - 1]
    told = before.kind in tuple("NHTKLCODP") or before.word in ("now", "today", "done")
    rest = [item for item in items[at + 1 :] if item.kind != "."]
    return told and len(rest) >= 3 and rest[0].word not in (
        "that", "for", "to", "this", "it", "down", "the", "is", "says", "book")


def _it_is(items: list[Item], at: int) -> bool:
    """ "the chilli is chilled it's at 3": the heat of what was just told of."""
    if items[at].word != "it" or at + 3 > len(items) - 1 or items[at + 1].word not in ("'s", "is"):
        return False
    here = at + 2 + (items[at + 2].word in ("at", "now", "about"))
    before = items[at - 1]
    return before.kind == "" and _is_done(before.word) and here < len(items) and items[here].kind in ("N", "H")


_ASKS = {
    "what": bag("a reading should spot next do does is 's will"), "which": bag("reading spot place"),
    "how": bag("long much many hot"), "who": bag("has 's is"), "where": bag("are is"),
}


def _asks_behind(items: list[Item], at: int) -> bool:
    """ "... not one forty seven what reading do you want next": a question right behind a number."""
    asks = items[at].kind == "" and at + 1 < len(items) and items[at + 1].word in _ASKS.get(items[at].word, ())
    return asks and items[at - 1].kind in ("N", "H")


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
        joins = joins or (begun >= _LEAST and _new_subject(items, at, begun))
        joins = joins or (begun >= _LEAST and (_it_is(items, at) or _asks_behind(items, at)))
        if begun >= _LEAST and _note_begins(items, at):
            out.append(Item(".", ".", item.start, item.start))
            out.append(item)
            out.append(Item(".", ":", item.end, item.end))
            begun = 0
            continue
        if joins and begun >= _LEAST and items[at - 1].word not in _NOT_BEHIND:
            out.append(Item(".", ",", item.start, item.start))
            begun = 0
        if item.word == "," and _mends_a_name(items, at):
            item = Item(".", ".", item.start, item.end)
        out.append(item)
        begun = 0 if item.kind == "." else begun + 1
    return out


def _mends_a_name(items: list[Item], at: int) -> bool:
    """ "that was the floor, air 198": what was told before got its spot, and something new follows."""
    first = at - 1
    while first > 0 and items[first - 1].kind != ".":
        first -= 1
    words = [item.word for item in items[first:at] if item.word not in ("the", "sorry", "oops", "no")]
    named = items[at - 1].kind in ("P", "O") if at else False
    mends = named and len(words) == 3 and words[0] == "that" and words[1] in ("was", "'s", "is")
    return mends and at + 1 < len(items) and "not" not in [item.word for item in items[at + 1 : at + 3]]
