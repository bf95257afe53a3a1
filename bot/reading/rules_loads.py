"""What goes into a pot: meat, liquid, cut and pan."""

from __future__ import annotations

from itertools import pairwise
from typing import Any

from bot.reading.lexicon import allergens_in, bag, longest, phrase_set
from bot.reading.names import CUTS, VEGETABLES
from bot.reading.scene import Scene

_START = {
    "cold": "cold",
    "chilled": "cold",
    "fridge": "cold",
    "hot": "hot",
    "boiling": "hot",
    "boil": "hot",
    "boiled": "hot",
    "simmering": "hot",
    "warm": "warm",
    "tepid": "warm",
    "lukewarm": "warm",
    "warmed": "warm",
    "room": "warm",
    "kettle": "hot",
    "scalding": "hot",
    "steaming": "hot",
    "frozen": "cold",
    "heated": "hot",
}


_WOODY = bag(
    "wood lit fire fed log logs split splits kindling start embers burn burnt oak ash beech birch alder hornbeam barrow"
)


_SKIP_CUT = bag(
    "of the a an in with and cold hot warm boiling litre litres soaked raw whole diced dry dried cubed for "
    "each about around roughly into big nice total some from fridge pot pan on now lid is 's it going we "
    "have got used put to all - : , load loaded loading weighed weighs weighing weight at its just over "
    "under bone-in boneless trimmed drained overnight bone boned rolled tied cut up browned fresh good "
    "more or so pre seared off today tomorrow dry-weight "
    "that that's this it these those them they which what "
    "are was were had holds holding has meat liquid i we've there there's here makes too also well and then plus "
    "kg kilos "
    "bag pack packet piece pieces joint lump whole entire weigh came comes in-all altogether right left-side sat "
    "sitting told reckon reckoned by my scales scale about-ish obviously far"
)


def loads(scene: Scene) -> None:
    """What goes into a pot: "3 kg shoulder, litre of hot stock, clay pot"."""
    for first, last in scene.sentences:
        _load(scene, first, last)
    _heat_of_liquid(scene)


def _heat_of_liquid(scene: Scene) -> None:
    """ "cheeks in the dome, cider's hot": what the liquid of the pot was like when it went in."""
    states = "|".join(sorted(_START))
    put = [draft for draft in scene.drafts if draft.kind == "load" or draft.fields.get("act") == "in"]
    if not put:
        return
    for found in scene.find(
        rf"(?P<what>(?:<W>|<D>)(?: <W>)?) (?:'s|is|was|went in|are|were) (?:still |nice and |all )*(?P<start>{states})"
        r"(?= ?(?:$|[.,;!|]|and ))"
    ):
        words = found.words("what")
        if words not in phrase_set("liquids", "words") and words[-1:] not in phrase_set("liquids", "words"):
            continue
        loaded = [draft for draft in put if draft.kind == "load"]
        if loaded and "start" not in loaded[-1].fields:
            loaded[-1].fields["start"] = _START[found["start"]]
            scene.use(found.first, found.last, "load")
        elif not loaded:
            fields = {"is": "load", "start": _START[found["start"]], "dish": put[-1].fields.get("dish")}
            scene.add(fields, found.first, found.last, "load")


def _load(scene: Scene, first: int, last: int) -> None:
    items = scene.items
    free = [at for at in range(first, last) if scene.moods[at] == "fact" and not scene.used[at]]
    kilos = [at for at in free if items[at].kind == "K"]
    litres = [at for at in free if items[at].kind == "L"]
    sentence_words = set(scene.row.words(first, last))
    kilos = [at for at in kilos if not _woody(scene, at) and not _left_over(scene, at) and not _priced(scene, at)]
    litres = [at for at in litres if not _other_liquid(scene, at)]
    if not kilos and not litres:
        _pan_alone(scene, first, last)
        return
    if not kilos and not _loading(scene, first, last, litres):
        return
    if not kilos and sentence_words & {"left", "trays", "chill", "cool", "tray", "ice", "leftovers"}:
        return
    for_dish = _for_dish(scene, first, last)
    groups = [(first, last)] if for_dish else _split_loads(scene, first, last, kilos, litres)
    for begin, end in groups:
        own, poured = ([at for at in each if begin <= at < end] for each in (kilos, litres))
        _one_load(scene, begin, end, own, poured, for_dish)


def _for_dish(scene: Scene, first: int, last: int) -> str | None:
    """ "3 kg shin and 1 kg onions for the stew": what all of it is for."""
    for at in range(first + 1, last):
        ahead = at - 1 if scene.items[at - 1].word not in ("the", "our", "my") else at - 2
        if scene.items[at].kind == "D" and ahead >= first and scene.items[ahead].word == "for" and not scene.used[at]:
            scene.used[at] = "load"
            return str(scene.items[at].value)
    return None


def _pan_alone(scene: Scene, first: int, last: int) -> None:
    """ "lamb shoulder, iron pot", "shin in the clay pot": the pan of a dish that nobody has weighed."""
    items = scene.items
    for at in range(first, last):
        if items[at].kind != "D" or scene.used[at] not in (None, "pot in") or scene.moods[at] != "fact":
            continue
        begin, end = scene.segment(at)
        word = next((n for n in range(at + 1, end) if items[n].word in ("in", "into")), end)
        behind, stop = (word + 1, end) if word + 1 < end else (end + 1, scene.segment(end + 1)[1] if end < last else 0)
        while behind < stop and items[behind].word in ("in", "into", "the", "a", "our", "my", "an"):
            behind += 1
        rest = {items[n].word for n in range(begin, word) if n != at} - bag("the our my 's is now")
        if behind >= stop or rest or any(scene.used[n] or scene.moods[n] != "fact" for n in range(behind, stop)):
            continue
        words = list(scene.row.words(behind, stop))
        plain = [word for word in words if word not in _PAN_LOOKS] or words
        if longest(plain, "pans", "words") != (0, len(plain)):
            continue
        name = str(items[at].value)
        own = [word for word in items[at].words if word not in (*name.split(), "of")]
        known = name in scene.context.dishes
        fields = {"is": "load", "dish": name if known else None, "pan": " ".join(words)}
        fields["cut"] = (" ".join(own) or None) if known else name
        scene.add(fields, at, stop, "load", keep=True)
        scene.use(behind, stop, "load")


def _split_loads(scene: Scene, first: int, last: int, kilos: list[int], litres: list[int]) -> list[tuple[int, int]]:
    """Two dishes in one message are two loads: "lamb 3 kg, 1 l stock; beans 1 kg, 2 l water"."""
    del litres
    if len(kilos) < 2 or _one_pot(scene, first, kilos[0]):
        return [(first, last)]
    cuts = [first]
    for at in kilos[1:]:
        begin, _ = scene.segment(at)
        if scene.items[begin - 1].word == "(" and begin > first:
            begin, _ = scene.segment(begin - 2)  # "white beans too (1 kilo soaked)"
        named = [n for n in range(begin, scene.segment(at)[1]) if scene.items[n].kind == "D"]
        if named and not _goes_in_too(scene, begin, at, kilos[0], named):
            cuts.append(begin)
    if len(cuts) == 1:
        return [(first, last)]
    return list(zip(cuts, [*cuts[1:], last], strict=True))


_GRAINS = bag("barley rice pearl spelt farro bulgur lentils")


def _goes_in_too(scene: Scene, begin: int, at: int, main: int, named: list[int]) -> bool:
    """ "shin 4 kg, 2 l stock and 500 g barley", "3 kg lamb, 1 kg carrots": weighed beside what it is cooked with."""
    behind = [n for n in named if n > at]
    before = [n for n in named if n < at and scene.items[n].words not in phrase_set("liquids", "words")]
    if before or not behind or any(item.kind == "L" for item in scene.items[at:scene.segment(at)[1]]):
        return False
    poured = any(item.kind == "L" for item in scene.items[begin:at])
    beside = set(scene.items[behind[0]].words) <= VEGETABLES | _GRAINS
    few = float(scene.items[at].value) <= float(scene.items[main].value) / 2
    return few and (poured or beside)


def _one_pot(scene: Scene, first: int, at: int) -> bool:
    """ "ragu: beef 2 kg, pork 1 kg": the name at the head is the dish, what follows goes into it."""
    heads = [n for n in range(first, at - 1) if scene.items[n].kind == "D" and scene.items[n + 1].word == ":"]
    return bool(heads) and any(scene.items[n].kind == "D" for n in range(heads[-1] + 2, at))


def _left_over(scene: Scene, at: int) -> bool:
    """ "2 kg pork left": what is over, not what goes in."""
    return bool(set(scene.row.words(*scene.segment(at))) & {"left", "leftover", "leftovers", "spare"})


def _priced(scene: Scene, at: int) -> bool:
    """ "lamb was 12 quid a kilo", "the sheet says 2 kg": of the shop or of a paper, not of a pot."""
    words = scene.row.words(*scene.segment(at))
    chore = any(word == "to" and words[n + 1 : n + 2] and words[n + 1] in _CHORES for n, word in enumerate(words))
    return bool(set(words) & _OF_SHOPS) or chore


_CHORES = bag(
    "peel chop slice dice cut prep weigh wash soak do go come buy order bring fetch bone trim shell pod "
    "grate"
)
_OF_SHOPS = bag("quid price paid pay cost costs sheet recipe card book bought brought ordered")


def _woody(scene: Scene, at: int) -> bool:
    begin, end = scene.segment(at)
    words = set(scene.row.words(begin, end))
    if words & _WOODY and not any(item.kind == "D" for item in scene.items[begin:end]):
        return True
    start, _ = scene.sentence(at)
    before = set(scene.row.words(start, at))
    return bool(before & bag("lit fed fire stoked lighting")) and not any(
        item.kind == "D" for item in scene.items[start:end]
    )


def _other_liquid(scene: Scene, at: int) -> bool:
    begin, end = scene.segment(at)
    words = set(scene.row.words(begin, end))
    return bool(
        words
        & bag("left leftover leftovers trays tray ice chill topped top cool fridge")
        - ({"fridge"} if words & {"stock", "water", "from"} else set())
        - ({"tray"} if words & {"roasting", "baking", "going", "oven"} else set())
    )


def _loading(scene: Scene, first: int, last: int, litres: list[int]) -> bool:
    """Liquid alone is a load when it is named and has its heat or its pot: "a litre of cold stock in the clay pot"."""
    words = scene.row.words(first, last)
    liquid = longest(words, "liquids", "words") is not None
    started = any(word in _START for word in words)
    pan = longest(words, "pans", "words") is not None
    dish = any(
        item.kind == "D" and item.words not in phrase_set("liquids", "words") for item in scene.items[first:last]
    )
    added = set(words) & bag("another more extra added drank need jug each top topped topping")
    weighed = any(_weighed_in(scene, at) for at in range(first, last))
    return bool(litres) and ((liquid and (started or pan or dish)) or (dish and started) or weighed) and not added


def _weighed_in(scene: Scene, at: int) -> bool:
    """ "14 l stock in the dome": a pot of nothing else goes in, and its litres are the load."""
    before = at - 2 if scene.items[at - 1].word == "of" else at - 1
    return (
        scene.items[at].kind == "D"
        and before >= 0
        and scene.items[before].kind == "L"
        and any(
            draft.kind == "pot" and draft.first <= at + 1 <= draft.last and draft.fields.get("act") == "in"
            for draft in scene.drafts
        )
    )


def _one_load(
    scene: Scene, first: int, last: int, kilos: list[int], litres: list[int], dish: str | None = None
) -> None:
    items = scene.items
    fields: dict[str, Any] = {"is": "load", **({"dish": dish} if dish else {})}
    used: list[int] = []
    if kilos:
        fields["meat_kg"] = round(sum(float(items[at].value) * _each(scene, at) for at in kilos), 3)
        used += kilos
    if litres:
        fields["liquid_l"] = round(sum(float(items[at].value) for at in litres), 3)
        used += litres
        _liquid_state(scene, fields, litres[0])
    elif kilos:
        _unmeasured_liquid(scene, fields, first, last, used)
    _pan(scene, fields, first, last, used)
    _name_and_cut(scene, fields, first, last, kilos, litres, used)
    if kilos and not litres and "cut" not in fields and "dish" not in fields and "pan" not in fields:
        if not scene.row.words(first, last) or first != 0:
            return
        if (
            not any(item.kind == "D" for item in items[first:last])
            and len([i for i in items[first:last] if i.kind != "."]) > 1
            and not {"meat", "joint", "weight"} & set(scene.row.words(first, last))
        ):
            return
    if not kilos and not litres:
        return
    for at in kilos[1:]:
        beside = at + 2 if items[min(at + 1, last - 1)].word == "of" else at + 1
        if beside < last and items[beside].kind == "D" and not scene.used[beside]:
            used.append(beside)     # "and 1.2 kg potatoes": weighed in with the rest
            for named in allergens_in(items[beside].words):
                held = {"is": "contents", "item": str(items[beside].value), "allergen": named, **_dish_of(fields)}
                scene.add(held, at, beside + 1, "load", keep=True).no_carry = True
    begin, end = min(used), max(used) + 1
    draft = scene.add(fields, begin, end, "load", keep=True)
    draft.hidden["load"] = True
    for at in used:
        scene.used[at] = "load"
    if begin and items[begin].kind == "D" and items[begin - 1].kind == "N":
        scene.used[begin - 1] = "load"  # so many pieces of it
    for at in range(begin, end):
        if scene.used[at] is None and (
            items[at].kind == "D"
            or items[at].word in _START
            or items[at].word in bag("stock water of wine cider pot iron clay beer")
        ):
            scene.used[at] = "load"


def _dish_of(fields: dict[str, Any]) -> dict[str, Any]:
    return {"dish": fields["dish"]} if "dish" in fields else {}


def _each(scene: Scene, at: int) -> float:
    """ "two shoulders, 2.4 kg each": how many of them there are."""
    _, end = scene.segment(at)
    if "each" not in scene.row.words(at, end):
        return 1
    first, _ = scene.sentence(at)
    counts = [scene.items[n].value.value for n in range(first, at) if scene.items[n].kind == "N"]
    return float(counts[-1]) if counts and counts[-1] in range(1, 21) else 1


def _liquid_state(scene: Scene, fields: dict[str, Any], at: int) -> None:
    _, end = scene.segment(at)
    begin = max(scene.segment(at)[0], at - 3)
    words = scene.row.words(begin, end)
    for word in (*words, *_lone_state(scene, at)):
        if word in _START:
            fields["start"] = _START[word]
            break
    for number in range(at, end):
        if scene.items[number].word in _START and scene.moods[number] == "fact":
            scene.used[number] = "load"


def _unmeasured_liquid(scene: Scene, fields: dict[str, Any], first: int, last: int, used: list[int]) -> None:
    """ "brisket 6 lb in the iron pot with boiling broth": the heat of a liquid whose amount nobody tells."""
    for at in range(first, last - 1):
        word = scene.items[at].word
        if (
            scene.items[at].kind == ""
            and word in _START
            and word != "fridge"
            and scene.moods[at] == "fact"
            and not scene.used[at]
            and scene.items[at + 1].words in phrase_set("liquids", "words")
        ):
            fields["start"] = _START[word]
            used += [at, at + 1]
            return


def _lone_state(scene: Scene, at: int) -> tuple[str, ...]:
    """ "3 l water, boiling": the heat of the liquid behind its own comma."""
    _, end = scene.segment(at)
    a, b = scene.segment(end + 1) if end + 1 < len(scene.items) else (0, 0)
    words = scene.row.words(a, b)
    if not words or words[-1] not in _START or len(words) > 2 or a < at:
        return ()
    for draft in [each for each in scene.drafts if each.rule == "check" and a <= each.first < b]:
        draft.fields.pop("simmer", None)
        if not draft.fields.keys() & {"tender", "liquid", "simmer"}:
            scene.drafts.remove(draft)
    scene.use(a, b, "load")
    return words


def _pan(scene: Scene, fields: dict[str, Any], first: int, last: int, used: list[int]) -> None:
    free = [at for at in range(first, last) if scene.items[at].kind != "." and scene.moods[at] == "fact"]
    flat: list[tuple[int, str]] = [(at, word) for at in free for word in scene.items[at].words]
    words = [word for _, word in flat]
    found = longest(words, "pans", "words") or _pan_by_its_word(words)
    if found is None:
        return
    begin, end = found
    if any(scene.items[flat[n][0]].kind == "." for n in range(begin, end)):
        return
    while begin and words[begin - 1] in _PAN_LOOKS and scene.items[flat[begin - 1][0]].kind == "":
        begin -= 1
    if end < len(words) and words[end] in _VESSELS and words[end - 1] not in _VESSELS:
        end += 1  # "enamel tray": what it is made of, and what it is
    fields["pan"] = " ".join(words[begin:end])
    used += sorted({flat[n][0] for n in range(begin, end)})


_PAN_LOOKS = bag(
    "big large small little old new black tall wide deep heavy long blue red green round square oval thick"
)


def _pan_by_its_word(words: list[str]) -> tuple[int, int] | None:
    """ "in the tall pot": any word or two between "in the" and a word for a vessel."""
    for at in range(len(words) - 2):
        if words[at] in ("in", "into", "using") and words[at + 1] in ("the", "a", "our", "an", "my"):
            for end in (at + 3, at + 4):
                if words[end : end + 1] and words[end] in _VESSELS and not set(words[at + 2 : end]) & _NO_PAN:
                    return at + 2, end + 1
    return None


_VESSELS = bag("pot pan tin tray dish casserole cocotte crock cauldron skillet stockpot")
_NO_PAN = bag("a the and of in with usual same other same oven right first second last bottom top")


def _name_and_cut(
    scene: Scene, fields: dict[str, Any], first: int, last: int, kilos: list[int], litres: list[int], used: list[int]
) -> None:
    """The dish's name is the dish, the butcher's word left over the cut; with no dish known the meat is the cut."""
    items = scene.items
    liquid_words = phrase_set("liquids", "words")
    known = {*scene.context.dishes, *scene.context.introduced}
    region: list[int] = []
    if kilos:
        begin, end = scene.segment(kilos[0])
        begin = max(begin, first)
        headed = any(items[n].kind == "D" for n in range(begin, kilos[0]))
        stop = next(
            (
                at
                for at in range(kilos[0] + 1, end)
                if items[at].kind in ("L", "T", "A", "N", "K")
                or (at > kilos[0] + 1 and _liquid_next(scene, at))
                or (at == kilos[0] + 1 and _liquid_next(scene, at) and any(n.kind == "D" for n in items[begin:at]))
                or (items[at].word in bag("in with plus and cold from lid at on") and (headed or at > kilos[0] + 1))
            ),
            end,
        )
        region = [at for at in range(begin, stop) if at not in litres and items[at].kind in ("", "D")]
    words_used: list[tuple[int, str]] = []
    for at in region:
        if scene.used[at] or scene.moods[at] != "fact" or at in used:
            continue
        for word in items[at].words:
            if word in _SKIP_CUT or word == "or so" or word in _START or (word == "'s" and items[at].kind == ""):
                continue
            words_used.append((at, word))
    head = _head_dish(scene, first, kilos, litres) if "dish" not in fields else None
    if head is not None:
        fields["dish"] = str(items[head].value)
        used.append(head)
        words_used = [(at, word) for at, word in words_used if at != head]
        if not words_used:
            own = set(str(items[head].value).split())
            words_used = [(head, word) for word in items[head].words if word not in own | {"of"}]
    elif not kilos and "dish" not in fields:
        for at in range(first, last):
            if (
                items[at].kind == "D"
                and items[at].words not in liquid_words
                and not scene.used[at]
                and str(items[at].value) in known
            ) or _weighed_in(scene, at):
                fields["dish"] = str(items[at].value)
                used.append(at)
                return
    if head is None and kilos and not words_used:
        words_used = _named_before(scene, first, kilos[0])
    words = [word for _, word in words_used]
    if head is None and "dish" not in fields and not _other_pulse(words, known):
        named = _known_in(words, known)
        if named is not None:
            name, a, b = named
            fields["dish"] = name
            del words[a:b]
    if words and kilos:
        cut = " ".join(words)
        if set(words) & _NO_CUT:
            return
        other = any(item.kind == "D" for item in items[: kilos[0]]) or "dish" in fields
        if set(words) <= VEGETABLES and other:
            used += [at for at, _ in words_used]  # "soup in, 2 kg leeks": no butcher's word
            return
        if "dish" not in fields and any(
                one.kind == "D" and one.value == cut and other.kind != "D"      # "goat curry, 6 lb goat" is the curry's
                for one, other in pairwise(items[:words_used[0][0]])):
            fields["dish"] = cut  # "brisket and beans in the dome, 5.2 kilo brisket": of the two it is that one
        elif cut != fields.get("dish"):
            fields["cut"] = cut.removeprefix("'s ").strip()
        before = words_used[0][0] - 1
        if known and before >= 0 and items[before].word in ("the", "our") and "dish" not in fields:
            _another_dish(fields)
        used += [at for at, _ in words_used]
    elif words_used:
        used += [at for at, _ in words_used]


def _another_dish(fields: dict[str, Any]) -> None:
    """ "the chicken is 2.4 kg" in a room that cooks beef: the meat is no cut of the beef, but a dish of its own."""
    words = tuple(str(fields["cut"]).split())
    dishes = phrase_set("dishes", "words")
    if len(words) == 2 and words[-1] in CUTS and words[0] not in CUTS and words[:1] in dishes:
        fields.update(dish=words[0], cut=words[1])
    elif words in dishes and not CUTS & set(words):
        fields["dish"] = fields.pop("cut")


_NO_CUT = bag(
    "quid price paid pay cost costs says say said sheet recipe card book label each not if should would "
    "could will "
    "want wants like those these weigh weighs each per pots trays chair chairs table bag bags box boxes sack "
    "sacks delivery order "
    "bring buy"
)


def _liquid_next(scene: Scene, at: int) -> bool:
    """ "goat 3.5 kg stock 800 ml": a liquid named right before its own amount."""
    for end in range(at + 1, min(at + 4, len(scene.items))):
        if scene.items[end].kind == "L":
            words = scene.row.words(at, end)
            return longest(words, "liquids", "words") == (0, len(words))
    return False


def _named_before(scene: Scene, first: int, at: int) -> list[tuple[int, str]]:
    """ "shoulder, 3 kilos": the meat in a clause of its own before its weight."""
    begin, _ = scene.segment(at)
    if begin <= first:
        return []
    a, b = scene.segment(begin - 1)
    small = bag("the a an our my of")
    items = [n for n in range(max(a, first), b) if scene.items[n].word not in small and scene.items[n].kind != "N"]
    if len(items) != 1 or scene.items[items[0]].kind != "D" or scene.used[items[0]]:
        return []
    return [(items[0], word) for word in scene.items[items[0]].words]


_PULSES = bag("beans lentils peas")


def _other_pulse(words: list[str], known: set[str]) -> bool:
    """ "red beans" are no cut of the beans: another pulse, with a name of its own."""
    return bool(words) and words[-1] in _PULSES and tuple(words) in phrase_set("dishes", "words") and (
        len(words) > 1 and " ".join(words) not in known)


def _known_in(words: list[str], known: set[str]) -> tuple[str, int, int] | None:
    for name in sorted(known, key=len, reverse=True):
        parts = name.split()
        for at in range(len(words) - len(parts) + 1):
            if words[at : at + len(parts)] == parts:
                return name, at, at + len(parts)
    return None


def _head_dish(scene: Scene, first: int, kilos: list[int], litres: list[int]) -> int | None:
    """ "the cheeks: 3 kg ox cheek": the name at the head of the list."""
    quantities = sorted([*kilos, *litres])
    if not quantities:
        return None
    for at in range(first, quantities[0]):
        if scene.used[at] == "load listed":
            continue
        if scene.items[at].kind == "D" and at + 1 < quantities[0] + 1 and at + 1 < len(scene.items):
            after = scene.items[at + 1]
            known = str(scene.items[at].value) in (*scene.context.dishes, *scene.context.introduced)
            if after.kind == "." and (after.word == ":" or (after.word in ",-" and known)):
                return at
    return None
