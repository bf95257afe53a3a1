"""Corrections without a value of the usual kinds: who has a task, what went into a dish, a depth, a unit."""

from __future__ import annotations

from typing import Any

from bot.reading.items import Item
from bot.reading.lexicon import allergens_in, bag, phrase_set
from bot.reading.scene import Scene, clean, compiled
from bot.reading.units import fahrenheit

_INGREDIENTS = bag(
    "cornflour cornstarch salt sugar pepper honey vinegar oil garlic onion onions lard dripping suet "
    "rice potato wine "
    "cider treacle stock bouillon margarine buckwheat polenta arrowroot cornmeal beer ale milk water"
)
# Said of flour when its own name was just said: "cornflour, not plain".
_FLOURS = bag("plain white ordinary normal wheat bread strong self raising")
_LENGTHS = (
    ("insulation_cm", bag("insulation insulated lagging blanket")),
    ("across_cm", bag("across wide diameter width inside")),
    ("probe_cm", bag("probe")),
    ("floor_cm", bag("floor bricks brick")),
    ("dome_cm", bag("dome shell thick thickness")),
)


def people_of(scene: Scene) -> frozenset[str]:
    """First names that the room or the yard knows, lower case."""
    known = {part.lower() for name in scene.context.people for part in name.split()}
    return frozenset(known | {" ".join(phrase) for phrase in phrase_set("people", "words")})


def task_mended(scene: Scene, first: int, last: int) -> dict[str, Any] | None:
    """ "Tomos has the barrel, not Idris": one person for another."""
    text = scene.row.canon[scene.row.offset(first) : scene.row.offset(last)].strip(" .!")
    what = r"(?P<what>(?:<W>|<D>|<O>|<P>)(?: (?:<W>|<D>|<O>|<P>)){0,3}?)"
    holds = (
        r"(?:has got|has|'s got|is on|'s on|got|is doing|'s doing|is minding|'s minding|is watching|'s watching|on"
        r"|takes|took|is|gets|claimed|did|'s taking|is taking)"
    )
    cue = r"(?:(?:sorry|no|oops|actually|wait|correction|ah)(?: [,:])? )*"
    match = compiled(
        rf"{cue}(?:it 's |it is |that 's |it was )?(?P<who>[a-z]+) {holds} {what}(?: ,)? (?:not|rather than|instead of)"
        rf" (?P<other>[a-z]+)(?: (?:sorry|my bad|my mistake))?"
        rf"|{cue}(?:it 's |it is )?(?P<who>[a-z]+)(?: ,)? not (?P<other>[a-z]+) {holds} {what}"
    ).fullmatch(text)
    if match is None:
        return None
    groups = {name.partition("__")[0]: value for name, value in match.groupdict().items() if value}
    people = people_of(scene)
    if groups["who"] not in people or groups["other"] not in (people | {"me", "him", "her", "i"}):
        return None
    name = "what" if match["what"] else "what__2"
    a, b = scene.row.items_of(
        scene.row.offset(first) + match.start(name) + _lead(scene, first, last),
        scene.row.offset(first) + match.end(name) + _lead(scene, first, last),
    )
    return {"of": "task", "who": groups["who"], "what": clean(scene.row.text(a, b))}


def _lead(scene: Scene, first: int, last: int) -> int:
    text = scene.row.canon[scene.row.offset(first) : scene.row.offset(last)]
    return len(text) - len(text.lstrip(" .!"))


def contents_mended(scene: Scene, first: int, last: int) -> dict[str, Any] | None:
    """ "cornflour not flour": one ingredient for another."""
    text = scene.row.canon[scene.row.offset(first) : scene.row.offset(last)].strip(" .!")
    thing = r"(?:<W>|<D>)(?: (?:<W>|<D>))?"
    match = compiled(
        rf"(?:(?:sorry|no|oops|actually|wait|correction|ah|it was|it 's|that was|that 's|was|used"
        rf"|i used|we used|meant"
        rf"|i meant)(?: [,:])? )*(?P<item>{thing})(?: in (?P<dish><D>|<W>))?(?: ,)? (?:not|instead of|rather than)"
        rf" (?P<wrong>{thing}?)(?: in (?P<dish><D>|<W>))?(?: (?:sorry|my mistake|my bad|soz))?"
        # "cornflour in the lamb not plain, swapped it first thing"
        rf"(?: ,(?: (?:i|we|it|just))* (?:swapped|changed|used|switched|read|checked|looked|saw)"
        rf"(?: (?:<W>|<T>)){{0,5}})?"
    ).fullmatch(text)
    if match is None:
        return None
    offset = scene.row.offset(first) + _lead(scene, first, last)
    words: list[tuple[str, ...]] = []
    for name in ("item", "wrong"):
        a, b = scene.row.items_of(offset + match.start(name), offset + match.end(name))
        words.append(scene.row.words(a, b))
    if any(not allergens_in(each) and each[-1] not in _INGREDIENTS for each in words):
        floury = words[0][-1].endswith("flour") and set(words[1]) <= _FLOURS
        if not floury:
            return None
    names = [scene.item(match[name]).value for name in ("item", "wrong") if _is_dish(match[name])]
    if len(names) == 2 and all(name in scene.context.dishes for name in names):
        return None
    spoken = {word for each in words for word in each}
    if spoken & bag("allergy allergies allergic intolerance intolerant coeliac coeliacs vegan"):
        return {"of": "guests", "allergen": allergens_in(words[0])[0]} if allergens_in(words[0]) else None
    fields: dict[str, Any] = {"of": "contents", "item": " ".join(words[0])}
    named = allergens_in(words[0])
    if named:
        fields["allergen"] = named[0]
    pots = [token for key, token in match.groupdict().items() if key.startswith("dish") and _is_dish(token)]
    if pots:
        fields["dish"] = str(scene.item(pots[0]).value)
    return fields


def _is_dish(token: str | None) -> bool:
    return token is not None and token[0] == "D" and token[1:].isdigit()


def length_mended(item: Item, words: set[str], oven: bool) -> dict[str, Any]:
    """ "trays are 3 cm deep": a depth of food; of an oven, what is thick or wide."""
    if words & bag("deep depth tray trays tub tubs shallow") and not words & {"probe"}:
        return {"of": "chill", "depth_cm": item.value}
    for key, named in _LENGTHS:
        if words & named or (key == "across_cm" and oven and not words & bag("insulation thick floor brick probe")):
            return {"of": "oven", key: item.value}
    return {"of": "chill", "depth_cm": item.value}


def last_heat(scene: Scene) -> dict[str, Any] | None:
    """The latest heat that the sender told, or anyone."""
    for said in reversed(scene.context.last):
        for fact in reversed(said.heard.facts):
            data = fact.said()
            if data["is"] in ("reading", "food") and "celsius" in data:
                return data
    return None


def unit_mended(scene: Scene, words: set[str]) -> dict[str, Any] | None:
    """ "that was F": the heat told last was in the other unit."""
    last = last_heat(scene)
    if last is None or not words & bag("f fahrenheit farenheit"):
        return None
    kept: dict[str, Any] = {key: last[key] for key in ("place", "part", "oven", "tool") if key in last}
    return {"of": last["is"], **kept, "celsius": round(fahrenheit(float(last["celsius"])), 1)}
