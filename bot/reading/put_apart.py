"""Clauses that no rule saw the end of: where words of a message are left over, it is read again with a stop at each
joint in turn, and the reading that leaves the least over stands.

A stop may only add: whatever was read before must be read again, and nothing that was silent (planned, denied, told of
another day) may come to life by it.
"""
from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from bot.reading.items import Item
from bot.reading.lexicon import bag
from bot.reading.scene import Scene
from skills.vocabulary import Fact, Question

_JOINTS = bag("and also then but so while plus as because")
_ASKING = bag("how what when who which where why whats wheres hows whens")
# Words in front of an asking word that it hangs on: "tell me how", "and when", "not what".
_HANGS = bag("and or me you us know see tell ask asked asking wonder wondering say says said of on for about in to the "
             "a an not then but so is are was if that than like sure idea remember forgot forget no check by")
_FREE = {"incident": "what", "task": "what", "class": "title", "contents": "item"}
# "put it on when it drops" tells a time; "when will it drop" asks for one.
_JOINING_TOO = bag("when where which who")
_INVERTED = bag("will is are do does did can should shall would 's 'll")
# A talk of more words than a breath holds is not tried at every joint: it would take too long.
MOST_PLACES, MOST_ITEMS = 8, 60
# So many words make a clause: "assembled and ready" is one.
LEAST_ITEMS = 2
# Words of a free text that may come to stand alone when it is cut.
MOST_SPILT = 2


@dataclass(frozen=True)
class Heard:
    """What a row was read as, and how many of its items that count nobody took."""

    said: tuple[Fact | Question, ...]
    over: int


def over(scene: Scene, small: frozenset[str]) -> int:
    """Items that nothing was read from, where something may be read."""
    taken = scene.taken()
    return sum(not taken[at] and item.kind != "." and scene.moods[at] != "silent"
               and not (item.kind == "" and item.word in small) for at, item in enumerate(scene.items))


def places(scene: Scene, small: frozenset[str]) -> Iterator[int]:
    """Where a stop may have been left out, if the message has a part that nobody took, or one that may hold two."""
    wide = any(draft.question or draft.kind in _FREE for draft in scene.drafts)
    if len(scene.items) > MOST_ITEMS or not (wide or over(scene, small)):
        return
    items = scene.items
    found = 0
    for at in range(LEAST_ITEMS, len(items) - LEAST_ITEMS):
        item, before = items[at], items[at - 1]
        if item.kind != "" or before.kind == "." or items[at + 1].kind == ".":
            continue
        asks = item.word in _ASKING and not (before.kind == "" and before.word in _HANGS) and not any(
            each.word in _ASKING for each in items[scene.segment(at)[0]:at])
        joins = item.word in _JOINTS and scene.moods[at] != "silent"
        asks = asks and scene.moods[at - 1] != "what_if" and (
            item.word not in _JOINING_TOO or items[at + 1].word in _INVERTED)
        if (joins or asks) and found < MOST_PLACES:
            found += 1
            yield at


def with_stop(scene: Scene, items: list[Item], at: int) -> list[Item]:
    """What was asked stays asked: a question mark far behind belongs to both halves."""
    start = items[at].start
    return [*items[:at], Item(".", "?" if scene.moods[at - 1] == "question" else ".", start, start), *items[at:]]


def better(one: Heard, other: Heard) -> bool:
    """Whether the other reading says all that the first says and more of what was typed."""
    if len(other.said) < len(one.said) or other.said == one.said:
        return False
    rest = list(other.said)
    left: list[Fact | Question] = []
    for each in one.said:
        if each in rest:
            rest.remove(each)
        else:
            left.append(each)
    changed, cut = 0, []
    for each in left:
        same = next((new for new in rest if _shorter(each, new) or _mends(each, new) or _fuller(each, new)), None)
        if same is None:
            return False
        rest.remove(same)
        changed += 1
        if _shorter(each, same):
            cut.append(each.is_)
    if any(new.is_ in ("help", *cut) for new in rest) or (cut and not rest):
        return False
    return bool(changed or rest) and other.over <= one.over + (MOST_SPILT if cut else 0)


def _shorter(old: Fact | Question, new: Fact | Question) -> bool:
    """The same fact with less free text."""
    text = _FREE.get(old.is_)
    if new.is_ != old.is_ or text is None:
        return False
    was, now = old.said(), new.said()
    part, whole = str(now.pop(text, "")), str(was.pop(text, ""))
    return bool(part) and part in whole and was == now


def _fuller(old: Fact | Question, new: Fact | Question) -> bool:
    """All that it said and more."""
    return new.said().items() >= old.said().items() if new.is_ == old.is_ else False


def _mends(old: Fact | Question, new: Fact | Question) -> bool:
    """The same value, told as a correction."""
    was, now = old.said(), new.said()
    mends = (now.pop("is"), now.pop("act", ""), now.pop("of", ""))
    return mends == ("fix", "replace", was.pop("is")) and was == now
