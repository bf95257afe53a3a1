"""A dish that nobody has named yet: "peaches in the barrel" tells of a pot, whatever peaches are."""

from __future__ import annotations

from collections.abc import Sequence
from functools import cache

from bot.reading.context import Context
from bot.reading.items import FILLERS, Item
from bot.reading.lexicon import bag, phrase_set
from bot.reading.spelling import rule_words

_MINE = bag("the our some")
_HEADS = FILLERS | bag("ok okay right and then now also sorry forgot late done yes yep")
_PUT = bag("put popped slid loaded stuck slipped shoved placed set got")
_WENT = bag("is are 's was were went gone going now just all both back finally safely has have been already")
_INTO = bag("in into inside")
# Things that get into an oven and are no food; whatever a rule looks for is none either.
_NO_FOOD = bag(
    "cat cats dog mouse mice rat bird bee bees wasp wasps spider spiders ant ants fly flies hedgehog hen fox owl robin "
    "frog toad snail nest nests web webs leaf leaves soot dust cinder cinders charcoal twig twigs newspaper paper "
    "rubbish draught drip drips damp leak hole holes gap gaps hair hand hands head face arm foot glove gloves sock "
    "socks phone keys key spoon ladle tongs rag rags towel cloth foil grate rack racks shelf brick bricks puddle hail "
    "snow sleet mud moss nothing something everything anything everyone everybody somebody someone anybody nobody "
    "things stuff bits lots plenty loads room space life love trust bored stuck lost day days week weeks year years "
    "hour hours minute minutes morning night nights man men woman boy girl kid kids people guests "
    "still quiet silence noise music singing shade heart hearts soul wine beer money time times place places "
    "hat coat scarf jacket apron shoe shoes boot boots ring watch glasses book books chair bike ball toy toys "
    "ghost ghosts dragon dragons monster monsters yesterday today tonight tomorrow "
)


def named_by_act(items: list[Item], context: Context) -> list[Item]:
    """The row with the unknown noun of "NOUN in the OVEN" as a dish, if that is all that its clause says."""
    at = 0
    while at < len(items):
        if at == 0 or items[at - 1].kind == ".":
            found = _noun(items, at, context)
            if found is not None:
                first, last = found
                words = tuple(item.word for item in items[first:last])
                name = " ".join(words)
                items[first:last] = [Item("D", name, items[first].start, items[last - 1].end, name, words)]
        at += 1
    return items


def _noun(items: Sequence[Item], at: int, context: Context) -> tuple[int, int] | None:
    while _word(items, at) in _HEADS:
        at += 1
    if _word(items, at) in ("i", "we"):
        at += 1
    put = _word(items, at) in _PUT
    at += put
    at += _word(items, at) in _MINE
    at += at < len(items) and items[at].kind == "N"
    last = at
    while last < min(at + 2, len(items)) and _may_be_food(items[last], context):
        last += 1
    behind = last
    while _word(items, behind) in _WENT:
        behind += 1
    if last == at or _word(items, behind) not in _INTO:
        return None
    behind += 1 + (_word(items, behind + 1) == "of")
    behind += _word(items, behind) == "the"
    if behind >= len(items) or items[behind].kind != "O" or str(items[behind].value) not in context.ovens:
        return None
    return (at, last) if _ends(items, behind + 1) else None


def _word(items: Sequence[Item], at: int) -> str:
    return items[at].word if at < len(items) and items[at].kind == "" else ""


def _may_be_food(item: Item, context: Context) -> bool:
    people = {part.lower() for name in context.people for part in name.split()}
    return (
        item.kind == ""
        and item.word.isalpha()
        and len(item.word) > 2
        and item.word not in _NO_FOOD | FILLERS | _WENT | _INTO | _PUT | people
        and (len(item.word) == 3 or item.word not in rule_words() or item.word in _food_words())
        and not item.word.endswith(("ly", "ing"))
    )


@cache
def _food_words() -> frozenset[str]:
    """The words of known dishes' names: "rice" and "pancakes" make "rice pancakes"."""
    words = frozenset(word for phrase in phrase_set("dishes", "words") for word in phrase)
    return words - bag("fire wood pot hot of and in tray bird oven back welsh spare stuffed leg ring")


def _ends(items: Sequence[Item], at: int) -> bool:
    """Whether the clause ends there, but for a time and such small words."""
    small = bag("now at just already and since finally again sorry ago about chef all too also")
    while at < len(items) and (items[at].kind in ("T", "A", "N", "U") or _word(items, at) in small):
        if _word(items, at) == "and":
            return True
        at += 1
    return at >= len(items) or items[at].kind == "."
