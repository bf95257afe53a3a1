"""Dishes of two or three words that no list has: "soda loaves", "kohlrabi gratin", "beef and barley stew".

The head word is a dish or a form of dish (the lexicon's `compounds`), and before it stand foods, or words that nobody
knows. The whole is the dish, as it was typed; "the bake" later is the room's fennel bake, by its shorter name.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import cache

from bot.reading.context import Context
from bot.reading.items import Item
from bot.reading.lexicon import allergens_in, bag, common_phrases, phrase_set, split_words, table
from bot.reading.spelling import ordinary_words, rule_words, table_words

MOST_BEFORE = 3
# Said of a dish or of who eats it, and no part of its name, beside the words that some rule looks for.
_SAID_OF_IT = bag(
    "fantastic amazing delicious awesome brilliant gorgeous incredible wonderful fabulous terrible horrible awful "
    "stunning epic legendary magic magical secret famous favourite favorite usual special giant enormous massive huge "
    "whole entire half single double triple lukewarm tepid frozen fresh stale soggy crispy crunchy crusty fluffy "
    "blackened charred ruined homemade handmade leftover staff kids children grown christmas easter birthday wedding "
    "picnic anniversary demo workshop visitor visitors parents students neighbour neighbours grandma granny nan gran "
    "mum dad uncle aunt chef chefs another every each either neither several many few all any both these those much "
    "enough what which whose whatever decent perfect ideal classic traditional authentic proper random mystery vegan "
    "vegetarian sour bitter salty bland stodgy heavy light thick thin round square long short flat tall wide us them "
    "him her me you your their his its eat eats ate scoffed devoured nicked pinched grabbed fancy fancied craving "
    "dropped forgot remember hello thanks cheers sorry welcome enjoy love loves loved hate hates hated miss missed"
)
_ENDS = ("ly", "ing", "est", "ful", "ous", "less", "n't")
_PERSONS = bag("i we you he she they who nobody everyone everybody someone somebody people guests")
# Heads that are verbs as well: what stands before them is one thing, and not who or what does it.
_ALSO_VERBS = bag("bake roast mash braise stew")
_PLAIN = bag("of and in on the a an with for no not to at is 's n")
_LIQUID_OF = bag("hot cold boiling warm of more")


@cache
def heads() -> frozenset[str]:
    return frozenset(word for words in phrase_set("dishes", "compounds") for word in words)


@cache
def foods() -> frozenset[str]:
    """Words of known dishes, and what stands before a dish in its name."""
    named = {word for key in ("words", "flavours") for phrase in phrase_set("dishes", key) for word in phrase}
    return frozenset(named | {word.removesuffix("s") for word in named}) - _PLAIN - bag(
        "fire wood pot hot tray oven back spare ring corn black old big cold red green brown white yellow broad runner "
        "sweet baked half")


@cache
def _of_dishes() -> frozenset[str]:
    """Words that the lexicon has only in the names of dishes ("kimchi" of a kimchi stew)."""
    others = {word for section, lists in table().items() if section != "dishes" for phrases in lists.values()
              for phrase in phrases for word in split_words(phrase)}
    names = {word for words in phrase_set("dishes", "words") for word in words}
    return frozenset(names - others - ordinary_words() - table_words() - _PLAIN)


def strange(item: Item, people: frozenset[str]) -> bool:
    """A word for food, or one that nobody knows."""
    word = item.word
    return item.kind == "" and len(word) > 2 and word.isalpha() and (
        bool(allergens_in(item.words)) or word in _of_dishes() or not (
            word.endswith(_ENDS) or word in _SAID_OF_IT or word in people or word in ordinary_words()
            or word in rule_words() or word in table_words()))


def whole_dishes(items: list[Item], context: Context) -> list[Item]:
    """The row with every such name as one dish."""
    if not any(item.words[-1] in heads() for item in items):
        return items
    people = frozenset(part.lower() for name in context.people for part in name.split())
    people |= frozenset(" ".join(phrase) for phrase in phrase_set("people", "words"))
    out: list[Item] = []
    for at, item in enumerate(items):
        first = _begins(out, item, people, context) if _is_head(item, context) else len(out)
        if first < len(out):
            words = tuple(word for each in (*out[first:], item) for word in each.words)
            name = " ".join(words)
            out[first:] = [Item("D", name, out[first].start, item.end, name, words)]
        elif item.kind == "" and item.word in heads() and _shorter(items, at, context):
            out.append(Item("D", item.word, item.start, item.end, item.word, item.words))
        else:
            out.append(item)
    return out


def _is_head(item: Item, context: Context) -> bool:
    known = item.kind == "D" and str(item.value) in context.dishes
    return item.kind in ("", "D") and item.words[-1] in heads() and not known


def _begins(out: Sequence[Item], head: Item, people: frozenset[str], context: Context) -> int:
    """Where the name begins, the last of `out` being what stands before its head."""
    at = len(out)
    while at and len(out) - at < MOST_BEFORE and _belongs(out, at - 1, head, people, context):
        at -= 1
    if at == len(out) and not (head.kind == "D" and len(head.words) > 1):
        return at
    first = out[at] if at < len(out) else head
    pair = at > 1 and out[at - 1].word in ("and", "n") and _one_of_two(out[at - 2], first, head, context)
    if pair:
        return at - 2
    if head.words[-1] == "broth" and at and (out[at - 1].kind == "L" or out[at - 1].word in _LIQUID_OF):
        return len(out)  # "600 ml chicken broth"
    return at


def _belongs(out: Sequence[Item], at: int, head: Item, people: frozenset[str], context: Context) -> bool:
    item = out[at]
    verb = head.kind == "" and head.words[-1] in _ALSO_VERBS
    if item.end >= head.start and at == len(out) - 1:
        return False
    if item.kind == "D":
        baked = head.words[-1] in ("bread", "loaf", "loaves", "rolls", "buns", "bake", "roast")
        whole = item.words[-1] in heads() - bag("bread rye meat")
        return not whole and not (str(item.value) in context.dishes and baked) and not (
            verb and item.words[-1].endswith("s"))
    if item.kind != "" or item.word in people or (verb and item.word.endswith("s")):
        return False
    if item.word in foods() or allergens_in(item.words):
        return item.word not in _SAID_OF_IT
    before = out[at - 1].word if at else ""
    return strange(item, people) and before not in _PERSONS | people


def _one_of_two(item: Item, other: Item, head: Item, context: Context) -> bool:
    """ "beef and barley stew": what stands before "and" is no dish of its own."""
    alone = f"{other.words[-1]} {head.words[-1]}"
    named = alone in context.dishes or split_words(alone) in {words for words, kind, _ in common_phrases().get(
        other.words[-1], ()) if kind == "D"}
    food = item.kind == "D" or (item.kind == "" and item.word in foods())
    plural = item.words[-1].endswith("s")
    return food and not plural and not named and item.words[-1] not in heads() and str(
        item.value) not in context.dishes


_THE = bag("the our that this my")


def _shorter(items: Sequence[Item], at: int, context: Context) -> bool:
    """ "the bake", "bake's out", in a room with a fennel bake."""
    word = items[at].word
    if not any(name.split()[-1] == word and " " in name for name in context.dishes):
        return False
    behind = items[at + 1].word if at + 1 < len(items) else ""
    first = at == 0 or items[at - 1].kind == "."
    return items[at - 1].word in _THE if not first else behind in bag("'s is in out into still soft tender")
