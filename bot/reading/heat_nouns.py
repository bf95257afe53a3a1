"""Which noun a heat belongs to: the one before it, or the one behind."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from bot.reading.lexicon import bag
from bot.reading.scene import Scene, compiled, is_hard

GLUE = bag(
    "'s is was are were it at on in of to by from for says say said reads read reading readings showing "
    "shows show sitting sat holding steady up down now still about around "
    "hit hits touching over under roughly back only got gives gave giving registers "
    "registered and then has have been a an with or so approx currently already there "
    "hovering running "
    "near nearly almost approx temp temperature heat reached reaches reaching that gone "
    "came come coming checked check took taken looks fell dropped dipped sunk slipped jumped risen climbed settled "
    "update yes measured "
    "just sits stands standing comes = here today one new latest late plus all bit white "
    "clear black probed temped get gets getting measures the please very really quite so "
    "saying telling "
    "makes make like circa abt fallen rose falling rising cooled warmed heated crept crawled well um er oh "
    "being arrived arrives measuring pointing off inside again well within around round while we i got "
    "hangs hung what which "
    "my our this hanging wow is's bang shooting shot smack dead according to clocking clocks clocked "
    "stalled stuck plateaued brick bricks slab itself us shy maybe perhaps probably "
)


HOT = (
    r"hot hold|warm hold|hot cupboard|hot holding|hot box|hotbox|hot-hold|bain marie|bain mari|bain|hot cabinet"
    r"|warming drawer|warming cupboard|warm cupboard|warm box|hot press|warmer|hot plate|hotplate|warming oven"
    r"|holding cabinet|hot pass"
)

_NOUNS = compiled(
    r"(?P<place><P>)(?: (?P<pp>probe))?|(?P<probe>probe|thermocouple|deep probe|stem)|(?P<tool><I>)|"
    r"(?P<core>core|core temp|meat (?:probe|P\d+|thermometer|temp)|middle|centre|center|inside(?! O\d| oven)|internal"
    r"|thickest(?: part| bit| end)?|(?:thick|fat) (?:part|bit|end)|deepest|bone|heart of)|"
    r"(?P<liq>liquor|liquid|juice|juices|cooking liquid|braising liquid|broth temp|liquor temp)|"
    r"(?P<fridge>fridge|walk in|cold room|chiller|fridges|cooler|walk-in|refrigerator)|"
    rf"(?P<hot>{HOT})|"
    r"(?P<shell>outside of|on outside|shell|chimney|flue|trivet)|(?P<out>outside|out here|outdoors|out there|in "
    r"yard|yard|weather|out in yard|yard temp|shade"
    r"|ambient|outside air)|"
    r"(?P<dish><D>|leftovers?|thighs?|breasts?|drumsticks?|wings?)|(?P<oven><O>)|(?P<wood>wood|firewood|logs|log|splits|moisture|meter|woodpile|kindling)"
)


@dataclass
class Noun:
    """The noun that a number belongs to; place, tool and the rest as the fact says them."""

    kind: str
    fields: dict[str, Any]
    first: int
    last: int


def _nouns(scene: Scene, first: int, last: int) -> list[Noun]:
    """The nouns in a stretch of items, in order."""
    if first >= last:
        return []
    canon = scene.row.canon
    numbers = list(range(first, last))
    if not numbers:
        return []
    found: list[Noun] = []
    start = scene.row.offset(first)
    end = scene.row.offset(last)
    for match in _NOUNS.finditer(canon, start, end):
        a, b = scene.row.items_of(match.start(), match.end())
        kind = str(match.lastgroup) if match.lastgroup != "pp" else "place"
        fields: dict[str, Any] = {}
        if kind == "place":
            fields["place"] = scene.items[a].value
            if match.group("pp"):
                fields["tool"] = "probe"
        item = scene.items[a]
        if (
            kind == "dish"
            and item.words in (("gravy",), ("broth",), ("stock",))
            and item.value not in scene.context.dishes
        ):
            kind = "liq"
        found.append(Noun(kind, fields, a, b))
    return found


def noun_before(scene: Scene, start: int, at: int, taken: set[int]) -> Noun | None:
    """The noun before a number with nothing but small words between."""
    nouns = [noun for noun in _nouns(scene, start, at) if noun.first not in taken]
    chosen: Noun | None = None
    edge = at
    commas = 0
    for noun in reversed(nouns):
        gap = scene.items[noun.last : edge]
        parted = any(item.word in (",", "/") for item in gap)
        ok = True
        for at_gap, item in enumerate(gap):
            if is_hard(item) or (item.word == "giving" and at_gap + 1 < len(gap) and gap[at_gap + 1].kind == "."):
                ok = False  # "ribs giving, 86 inside": told of the ribs, not of the number
            elif item.kind == ".":
                commas += item.word in ",/"
            elif (
                (item.kind == "" and item.word not in GLUE)
                or item.kind in ("N", "H", "K", "L", "C", "U")
                or (chosen is not None and item.kind in ("T", "A"))
            ):
                ok = False
        if not ok or commas > 1:
            break
        if parted and chosen is not None:
            break
        chosen = noun if chosen is None else _join(scene, noun, chosen)
        edge = noun.first
    return chosen


def _join(scene: Scene, outer: Noun, inner: Noun) -> Noun:
    """Two nouns before one number: "air in the barrel", "probe in the belly", "ir on floor", "lamb core"."""
    kinds = {outer.kind, inner.kind}
    first, last = min(outer.first, inner.first), max(outer.last, inner.last)
    if kinds == {"place"}:
        # "hanging thermometer by the floor" is rare; the nearer noun is meant, but "thermometer on the floor" is one.
        return (
            inner
            if inner.fields["place"] != "air" or outer.fields["place"] == "air"
            else Noun("place", inner.fields, inner.first, inner.last)
        )
    if kinds == {"place", "core"}:
        place, core = (outer, inner) if outer.kind == "place" else (inner, outer)
        if place.fields["place"] == "air" and scene.row.words(core.first, core.last) == ("inside",):
            return Noun("place", place.fields, first, last)
    for main in ("shell", "core", "liq", "fridge", "hot"):
        if main in kinds:
            keep = outer if outer.kind == main else inner
            return Noun(main, keep.fields, first, last)
    if "place" in kinds:
        place = outer if outer.kind == "place" else inner
        other = inner if place is outer else outer
        fields = dict(place.fields)
        if other.kind == "tool":
            fields["tool"] = "infrared"
        elif other.kind == "probe":
            fields["tool"] = "probe"
        elif other.kind == "dish":
            if place is inner:
                return inner
            if fields["place"] == "air" and any(
                item.word in ("in", "of") for item in scene.items[outer.last : inner.first]
            ):
                return Noun("dish", {}, first, last)
            return inner
        return Noun("place", fields, first, last)
    if kinds == {"probe", "dish"}:
        return Noun("core", {}, first, last)
    if kinds == {"tool", "dish"}:
        return Noun("dish", {}, first, last)
    if "probe" in kinds:
        return Noun("probe", {}, first, last)
    if "tool" in kinds and "oven" in kinds:
        return Noun("tool", {}, first, last)
    if "wood" in kinds:
        return Noun("wood", {}, first, last)
    if "out" in kinds:
        return Noun("out", {}, first, last)
    return inner


def noun_behind(scene: Scene, at: int, stop: int, taken: set[int]) -> Noun | None:
    """The noun behind a number: "180 on the floor", "82 in the middle", "170 air"."""
    nouns = [noun for noun in _nouns(scene, at + 1, stop) if noun.first not in taken]
    if not nouns:
        return None
    chosen: Noun | None = None
    edge = at + 1
    linked = False
    for noun in nouns:
        gap = scene.items[edge : noun.first]
        words = {item.word for item in gap}
        if any(
            item.kind == "." or item.kind in ("T", "A") or (item.kind == "" and item.word not in _LINKS) for item in gap
        ) or ("to" in words and "according" not in words):
            break
        if chosen is None:
            linked = any(item.word in _PREPOSITIONS for item in gap)
            chosen = noun
        elif (
            any(item.word in _PREPOSITIONS for item in gap)
            or noun.kind == "oven"
            or (chosen.kind == "oven" and noun.kind == "place" and not gap)
        ):
            chosen = _join(scene, chosen, noun)
        else:
            break
        edge = noun.last
    if chosen is not None:
        chosen.fields = {**chosen.fields, "_linked": linked}
    return chosen


_LINKS = bag(
    "the please just on in at of from by off with for the up near my our a over inside across per using according "
) | {"to"}


_PREPOSITIONS = bag("on in at of from by off with using over across per inside for near according")


def choose_noun(scene: Scene, left: Noun | None, right: Noun | None) -> Noun | None:
    """The one of the two that the number belongs to; both together where one is the tool or the dish of the other."""
    if left is None:
        return right
    if left.kind == "fridge" and _put_in_fridge(scene, left):
        return Noun("dish", {}, left.first, left.last)
    if (
        right is not None
        and right.kind == "out"
        and left.kind in ("oven", "dish", "wood")
        and _told_of_yard(scene, left, right)
    ):
        return right
    if right is None or not right.fields.get("_linked"):
        if right is not None and left.kind in ("tool", "oven") and right.kind == "place" and not claimed(scene, right):
            return Noun(
                "place",
                {**right.fields, **({"tool": "infrared"} if left.kind == "tool" else {})},
                left.first,
                right.last,
            )
        if right is not None and right.kind == "core" and left.kind in ("dish", "probe"):
            return Noun("core", {}, left.first, right.last)
        if right is not None and right.kind == "tool" and left.kind == "place":
            return Noun("place", {**left.fields, "tool": "infrared"}, left.first, left.last)
        return left
    if left.kind == "place" and right.kind in ("tool", "probe"):
        tool = "infrared" if right.kind == "tool" else "probe"
        return Noun("place", {**left.fields, "tool": tool}, left.first, right.last)
    if left.kind == "tool" and right.kind == "place":
        return Noun("place", {**right.fields, "tool": "infrared"}, left.first, right.last)
    if left.kind in ("tool", "probe") and right.kind == "dish":
        return Noun("core" if left.kind == "probe" else "dish", {}, left.first, right.last)
    if left.kind == "probe" and right.kind == "place":
        return Noun("place", {**right.fields, "tool": "probe"}, left.first, right.last)
    if right.kind in ("core", "liq") and left.kind in ("dish", "probe", "place", "tool"):
        return Noun(right.kind, {}, left.first, right.last)
    if left.kind == "oven" and right.kind == "oven":
        return right
    if right.kind == "out" and left.last < right.first - 1 and left.kind != "out":
        return right
    if left.kind == "oven" and right.kind in ("place", "core", "probe"):
        return Noun(right.kind, right.fields, left.first, right.last)
    if left.kind == "place" and right.kind == "dish" and left.fields.get("place") == "air":
        return Noun("dish", {}, left.first, right.last)
    if left.kind == "dish" and right.kind == "place":
        return right
    if left.kind == "dish" and right.kind in ("fridge", "hot", "probe"):
        return left if right.kind != "probe" else Noun("core", {}, left.first, right.last)
    return left


def _put_in_fridge(scene: Scene, noun: Noun) -> bool:
    """ "leftovers in the fridge now, 7 degrees": the heat of what went in, not the fridge's own."""
    first, _ = scene.sentence(noun.first)
    before = [item.word for item in scene.items[max(first, noun.first - 2) : noun.first]]
    behind = scene.items[noun.last : noun.last + 2]
    dish = any(item.kind == "D" for item in scene.items[first : noun.first])
    return dish and ("in" in before or "into" in before) and any(item.kind == "." for item in behind)


def _told_of_yard(scene: Scene, left: Noun, right: Noun) -> bool:
    """ "lit the dome at 5, it's 4 degrees outside": a comma and "it's" begin a new matter."""
    gap = scene.items[left.last : right.first]
    return any(item.kind == "." for item in gap) and any(
        item.word in ("it", "only", "about", "'s", "is") for item in gap
    )


def claimed(scene: Scene, noun: Noun) -> bool:
    """Whether a noun behind a number has a number of its own: "ir 180, floor 170"."""
    after = noun.last
    while after < len(scene.items) and scene.items[after].word in bag("'s is at was probe says"):
        after += 1
    return after < len(scene.items) and scene.items[after].kind in ("N", "H")


def told_to_hold(scene: Scene) -> str | None:
    """ "pork in the hot box, 70", "hot hold pork 67": the one dish that is told to stand in the hot cupboard."""
    if len({str(item.value) for item in scene.items if item.kind == "D"}) != 1:
        return None
    went = r"(?: (?:'s|is|are|now|out|and|back|went|gone|put|moved|still|all|pot|tray|trays))*"
    inside = rf"(?P<dish><D>){went} (?:in|into|inside) (?:{HOT})"
    for found in scene.find(rf"{inside}|(?:{HOT}) (?:with )?(?P<dish2><D>)(?= <H>| <N>)", fresh=False):
        if not {"out", "moved"} & set(scene.row.words(found.first, found.last)):
            scene.use(found.first, found.last, "told to stand in the hot cupboard")
        return found.name("dish" if found.has("dish") else "dish2")
    return None
