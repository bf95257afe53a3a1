"""Names in a row of items: places, tools, and the ovens and dishes that the room or the lexicon knows."""

from __future__ import annotations

from collections.abc import Sequence

from bot.reading.context import Context
from bot.reading.items import Item
from bot.reading.joining import word_at
from bot.reading.lexicon import Phrases, bag, common_phrases, index, phrase_set, split_words
from bot.reading.places_mended import heard_place
from bot.reading.spelling import rule_words

# Place words that are also everyday words: places only beside a number or after a tool.
_EVERYDAY = frozenset(
    [
        ("left",),
        ("right",),
        ("side",),
        ("sides",),
        ("front",),
        ("back",),
        ("rear",),
        ("base",),
        ("top",),
        ("opening",),
        ("entrance",),
        ("dial",),
        ("gauge",),
        ("left", "side"),
        ("left", "one"),
        ("right", "one"),
        ("right", "side"),
        ("back", "end"),
    ]
)


def known_names(items: list[Item], context: Context) -> list[Item]:
    """Places, tools, ovens and dishes; the room's own names first."""
    own = _own_names(context)
    own_singles = {split_words(name) for name in (*context.ovens, *context.dishes)}
    out: list[Item] = []
    at = 0
    while at < len(items):
        item = items[at]
        if item.kind != "":
            out.append(item)
            at += 1
            continue
        heard = heard_place(items, at)
        if heard is not None and (item.word,) not in own_singles:
            out.append(Item("P", heard, item.start, item.end, heard, (heard,)))
            at += 1
            continue
        if item.word == "chuck" and item.word not in context.dishes and word_at(items, at + 1) in _THROWN:
            out.append(item)  # "chuck another log on" is no dish
            at += 1
            continue
        if item.word == "kid" and item.word not in context.dishes and _counted_child(items, at):
            out.append(item)  # "one kid can't have nuts" is no goat
            at += 1
            continue
        if (known := _other_word_for(items, at, context)) is not None:
            out.append(Item("O", known, item.start, items[at + 1].end, known, (item.word, "one")))
            at += 2
            continue
        match = _longest(items, at, own)
        common = _longest(items, at, common_phrases())
        # "dome ceiling" is the ceiling of the dome, where an oven is called so.
        named = common is not None and common[1] == "P" and match is not None and match[1] == "O"
        if common is not None and (match is None or (common[0] > match[0] and common[1] in "PI" and not named)):
            match = common
        if match is None:
            out.append(item)
            at += 1
            continue
        end, kind, meaning, words = match
        if kind == "D" and (whole := _dish_of_cut(words, context) or _same_dish(words, context)) is not None:
            meaning = whole
        if kind == "D" and end == at + 1 and word_at(items, end) == "stock" and (*words, "stock") in _liquids():
            # "beef stock 600 ml" in a room that cooks beef
            out.append(Item("D", "stock", item.start, items[end].end, "stock", ("stock",)))
            at = end + 1
            continue
        behind = _behind_oven(items, end, own)
        alone = behind != end and (not out or out[-1].kind == ".") and (
            behind >= len(items) or items[behind].kind == ".")  # "4 count, back of the dome"
        beside = alone or _beside_number(items, behind, out)
        if kind == "P" and words in _EVERYDAY and (
            not beside or _come_back(out, words, word_at(items, at + 1))
        ):
            out.append(item)
            at += 1
            continue
        before = out[-1] if out else None
        if (
            kind == "D"
            and words[0] in CUTS
            and meaning not in context.dishes
            and before is not None
            and before.kind == "D"
            and str(before.value) in context.dishes
        ):
            out[-1] = Item("D", before.word, before.start, items[end - 1].end, before.value, (*before.words, *words))
        else:
            out.append(Item(kind, meaning, item.start, items[end - 1].end, meaning, words))
        at = end
    return _parts_of_dishes(out, context)


VEGETABLES = bag(
    "veg vegetables carrots potatoes spuds onions swede turnips parsnips leeks celeriac barley lentils dumplings "
    "cabbage fennel beetroot squash pumpkin peppers mushrooms"
)
_MIXED = bag(
    "soup stew curry casserole tagine broth hotpot chowder minestrone borscht cawl scouse goulash ragu chilli chili "
    "daube braise stovies bourguignon"
)
_FEELS = bag("is are 's still not nearly almost soft hard tender tough just now giving getting feel feels look looks")


def _parts_of_dishes(items: list[Item], context: Context) -> list[Item]:
    """ "soup gentle simmer, carrots still hard": how its vegetables feel is told of the soup."""
    mixed = False
    for at, item in enumerate(items):
        if item.kind != "D":
            continue
        name = str(item.value)
        if mixed and len(item.words) == 1 and item.words[0] in VEGETABLES and name not in context.dishes:
            if word_at(items, at + 1) in _FEELS:
                items[at] = Item("", item.word, item.start, item.end)
        elif name.split()[-1] in _MIXED:
            mixed = True
    return items


def _liquids() -> frozenset[tuple[str, ...]]:
    return phrase_set("liquids", "words")


_A_CHILD = bag("is can't has says wants needs avoids who with just told allergic doesn't")


def _counted_child(items: Sequence[Item], at: int) -> bool:
    one = at > 0 and (items[at - 1].kind == "N" or items[at - 1].word in bag("a another this that little first"))
    return one and word_at(items, at + 1) in _A_CHILD | {"'s"}


def _behind_oven(items: list[Item], at: int, own: Phrases) -> int:
    """ "back of the dome 249": the number that counts stands behind the oven."""
    if word_at(items, at) != "of":
        return at
    oven = at + 1 + (word_at(items, at + 1) in ("the", "our"))
    match = _longest(items, oven, own) if oven < len(items) and items[oven].kind == "" else None
    return match[0] if match is not None and match[1] == "O" else at


_PERSONS = bag("everybody everyone he she they we you somebody someone i anybody anyone people guests class folks")


def _come_back(out: Sequence[Item], words: tuple[str, ...], following: str) -> bool:
    """ "till everybody's back at four": people are, not the back wall."""
    if words != ("back",) or not out:
        return False
    if following in ("up", "down"):
        return True  # "air dipped to 158, back up now"
    if out[-1].word in bag("come comes came get gets got go went coming"):
        return True
    return len(out) > 1 and out[-1].word in bag("'s is are am be") and out[-2].word in _PERSONS


_THROWN = bag("a an another some it them more that this one in on out away")
CUTS = bag(
    "shoulder shoulders shank shanks neck leg legs breast breasts thigh thighs wing wings drumsticks belly cheek "
    "cheeks "
    "shin ribs rib collar hock hocks joint chops of"
)


def _dish_of_cut(words: tuple[str, ...], context: Context) -> str | None:
    """The room's own dish in "shoulder of lamb": the room cooks one lamb, whatever piece of it is named."""
    if " ".join(words) in context.dishes:
        return None
    own = [name for name in context.dishes if name in words]
    return own[0] if len(own) == 1 and all(word in CUTS or word == own[0] for word in words) else None


# Two words for one thing: whoever says the one means the room's dish of the other name.
_ALIKE = (
    bag("potatoes spuds taters tatties roasties"), bag("aubergines eggplants"), bag("courgettes zucchini"),
    bag("chicken chickens chook chooks"),
    frozenset(("chickpeas", "chick peas", "garbanzos")), frozenset(("squash", "pumpkin")),
    bag("bread loaves loaf"),
    frozenset(("rice pudding", "pudding", "rice pud", "pud", "puds")),
)


def _same_dish(words: tuple[str, ...], context: Context) -> str | None:
    """ "spuds crisp", in a room that put potatoes in."""
    said = " ".join(words)
    if said in context.dishes:
        return None
    own = [name for alike in _ALIKE if said in alike for name in context.dishes if name in alike]
    return own[0] if len(own) == 1 else None


def _other_word_for(items: list[Item], at: int, context: Context) -> str | None:
    """ "the big one": the big oven, if the room has one."""
    one = at + 1 < len(items) and items[at + 1].words == ("one",) and items[at + 1].kind == "N"
    counted = at > 0 and (items[at - 1].kind == "N" or items[at - 1].word in ("a", "another", "more"))
    name = f"{items[at].word} oven"
    return name if one and not counted and name in context.ovens else None


def _own_names(context: Context) -> Phrases:
    entries = [(name, "O", name) for name in context.ovens]
    entries += [(f"{name} oven", "O", name) for name in context.ovens if not name.endswith("oven")]
    entries += [(name, "D", name) for name in context.dishes]
    entries += [(short, "O", name) for name in context.ovens if (short := _short_name(name, context)) is not None]
    taken = {entry[0] for entry in entries}
    entries += [(other, "D", name) for name in context.dishes if (other := _other_number(name)) not in taken]
    return index(entries)


def _short_name(name: str, context: Context) -> str | None:
    """ "bertha" for big bertha, if the word means nothing else here and no other oven has it."""
    short = name.split()[-1]
    alike = sum(short in other.split() for other in (*context.ovens, *context.dishes))
    common = short in rule_words() or (short,) in {words for words, _, _ in common_phrases().get(short, ())}
    return short if short != name and len(short) > 3 and alike == 1 and not common else None


def _other_number(name: str) -> str:
    """One bean for beans, ribs for rib: the room means the same dish."""
    return name[:-1] if name.endswith("s") and len(name) > 4 else f"{name}s"


def _longest(items: Sequence[Item], at: int, phrases: Phrases) -> tuple[int, str, str, tuple[str, ...]] | None:
    """The longest phrase that begins at an item: one past its end, class, meaning, words; articles are skipped."""
    for words, kind, meaning in phrases.get(items[at].word, ()):
        end = _end_of(items, at, words)
        if end is not None:
            return end, kind, meaning, words
    return None


def _end_of(items: Sequence[Item], at: int, words: Sequence[str]) -> int | None:
    here = at
    for number, word in enumerate(words):
        while (
            number
            and here < len(items)
            and items[here].kind == ""
            and items[here].word in ("the", "a")
            and word != items[here].word
        ):
            here += 1
        if here >= len(items) or items[here].kind != "" or items[here].word != word:
            return None
        here += 1
    return here


_COUNTING = bag("count counts ct and only now by with on at hand then but sec secs the so before just when to for")


def _beside_number(items: Sequence[Item], end: int, out: Sequence[Item]) -> bool:
    after = end
    while word_at(items, after) in bag("'s is at was says reads reading about around : the a"):
        after += 1
    if after < len(items) and items[after].kind in ("N", "H"):
        if items[after].kind == "H" or items[after].value.value >= 40:
            return True
        return not word_at(items, after + 1).isalpha() or word_at(items, after + 1) in _COUNTING
    if word_at(items, end) in ("now", "away", "then", "sorry"):
        return False
    before = len(out) - 1
    while before >= 0 and out[before].word in bag("the on at of in off from"):
        before -= 1
    return before >= 0 and (
        out[before].kind in ("I", "H", "S")
        or (out[before].word in ("count", "ct", "hand") and before < len(out) - 1)
        or (out[before].kind == "N" and out[before].words != ("one",))
    )

