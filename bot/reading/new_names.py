"""Names that nobody has used yet: "peaches in the barrel" tells of a pot, whatever peaches are; "everybody calls the
oven bertha" how an oven is called that had no name, "we call the dome bertha now" how one is called from now on.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import cache

from bot.reading.context import Context
from bot.reading.items import FILLERS, Item
from bot.reading.lexicon import bag, phrase_set
from bot.reading.scene import Scene, clean
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
    _named_oven(items, context)
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


# The ways to say what a thing is called: before its name, and before the thing with its name behind it.
_IS_CALLED = bag("called named christened renamed")
_CALL = bag("call calls calling called name named rename renaming renamed christen christened")
_CALLS = bag("call calls") | _IS_CALLED
_IT = bag("it her him this that one oven the our a we everybody everyone here is")
_LIT = bag("lit relit fired")
_WOOD = frozenset(word for words in phrase_set("wood", "species") for word in words) | bag("splits logs wood kindling")
_NO_OVENS = bag(
    "candle candles lamp lamps torch stove bbq barbecue grill match matches cigarette sun sky room face sign light "
    "lights it they she he that this we i who what there fireworks bonfire brazier lantern lanterns hob gas"
)


def _named_oven(items: list[Item], context: Context) -> None:
    """ "we call it bertha", "the big oven under the arch is the cave", "bertha was lit at six"."""
    words = [item.word if item.kind == "" else "" for item in items]
    sized = any(item.kind == "C" for item in items) or "across" in words or "wide" in words
    oven_told = sized or any("oven" in item.words for item in items)
    stop, told_since = -1, False  # the last stop, and whether an oven was told of between it and two words back
    for at, item in enumerate(items):
        if at and items[at - 1].kind == ".":
            stop, told_since = at - 1, False
        elif at - 3 > stop and "oven" in items[at - 3].words:
            told_since = True
        if item.kind != "" or not item.word.isalpha() or len(item.word) < 3:
            continue
        before = at - 1
        while before >= 0 and (words[before] in _IT or _only_describes(items[before], context)):
            before -= 1
        known_as = words[before] == "as" and words[before - 1] == "known"
        called = oven_told and before >= 0 and (words[before] in _CALLS or known_as) and _stops(items, at + 1)
        first = stop
        linked = at - first > 3 and words[at - 1] == "the" and words[at - 2] == "is"
        is_so = linked and sized and told_since and _stops(items, at + 1)
        if called or is_so or _was_lit(items, words, at, context):
            name = item.word
            for n, each in enumerate(items):
                if each.kind == "" and each.word == name:
                    items[n] = Item("O", name, each.start, each.end, name, (name,), named_here=True)
            if is_so or called:
                _describe_it_alone(items, first + 1, at, context)
            return


def _only_describes(item: Item, context: Context) -> bool:
    """ "we call the new oven bertha": an oven that has no name yet."""
    return item.kind == "O" and len(item.words) > 1 and item.value not in context.ovens


def _describe_it_alone(items: list[Item], first: int, at: int, context: Context) -> None:
    """Words in front of the name that would be an oven's name themselves: "the big oven under the arch"."""
    for n in range(first, at):
        if items[n].kind == "O" and items[n].value not in context.ovens:
            items[n] = Item("", items[n].word, items[n].start, items[n].end)


def _stops(items: Sequence[Item], at: int) -> bool:
    return at >= len(items) or items[at].kind == "." or _word(items, at) in ("and", "here", "today", "but")


def _was_lit(items: Sequence[Item], words: Sequence[str], at: int, context: Context) -> bool:
    head = at == 0 or items[at - 1].kind == "." or words[at - 1] in _HEADS | bag("say the our and mention")
    behind = at + 1
    while _word(items, behind) in bag("was is 's got has been just now finally were"):
        behind += 1
    name = words[at]
    bare = behind == at + 1 and _word(items, behind) in _LIT and any(
        item.kind in ("K", "T") or item.word in _WOOD for item in items[behind + 1 :])  # "pup lit, 2 kg birch"
    if not head or len(name) < (3 if bare else 4) or name in _NO_OVENS or not _may_be_food(items[at], context):
        return False
    if behind == at + 1 and not bare:
        return False
    a_fire = tuple(words[behind : behind + 3]) in (("had", "a", "fire"), ("got", "a", "fire"), ("had", "the", "fire"))
    return words[at] not in _food_words() and (_word(items, behind) in _LIT or a_fire)


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


_BEHIND_IS, _BEFORE_IT = "|".join(sorted(_IS_CALLED)), "|".join(sorted(_CALL))
_NAME = r"(?P<name>(?!now\b|off\b|out\b|ready\b|hot\b)[a-z]+(?: (?!now\b|from\b|please\b|today\b)[a-z]+)?)"
_TAIL = r"(?:(?: ,)? (?:now|from now on|today|please|from here on|from here|on))*"
_RENAMED = (
    rf"(?:(?P<oven><O>)(?: oven)? (?:is|'s|will be|was|has been)(?: now)? (?:{_BEHIND_IS}|known as) {_NAME}{_TAIL}"
    rf"|(?:{_BEFORE_IT}) (?P<oven><O>|oven|it)(?: oven)? (?:as |to )?{_NAME}{_TAIL}"
    rf"|(?P<oven><O>)(?: oven)?(?: 's)? new name (?:is|'s) {_NAME}{_TAIL})"
)
_NO_NAMES = bag("it that this off out in on hot cold ready oven back up down done over a the for so")
# What may stand before it in its sentence.
_BEFORE = bag(
    "the and so also everybody everyone all oh ok by way , from now on we i will shall let let's 'll 're are can please"
)


def renames(scene: Scene) -> None:
    """ "the dome is called bertha now", "we call it bertha": of an oven that the room knows."""
    if not scene.has_any(_CALL | bag("known")):
        return
    for found in scene.find(_RENAMED, None):
        first, last = next(each for each in scene.sentences if each[0] <= found.first < each[1])
        inside = scene.items[first:found.first] + scene.items[found.last:last]
        if not all(item.kind == "." or item.word in _BEFORE for item in inside) or scene.moods[found.first] in (
                "question", "what_if"):
            continue
        name = clean(found.text("name"))
        known = found.name("oven") if found["oven"][0] == "O" else None
        if known is None and len(scene.context.ovens) == 1:
            known = scene.context.ovens[0]
        if known is None or known not in scene.context.ovens or not name or set(name.split()) & _NO_NAMES:
            continue
        scene.add({"is": "oven", "oven": known, "called": name}, found.first, found.last, "oven renamed")
