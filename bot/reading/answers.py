"""Short answers to a question of the bot: "floor probe", "the barrel", "F", "the heat".

An answer completes the fact that waits; the heard fact is whole, as if it had been said at once. A message that
says more than the answer is read like any other.
"""

from __future__ import annotations

from itertools import pairwise
from typing import Any

from bot.reading.carry import DISH_KINDS, OVEN_KINDS
from bot.reading.clock_times import Clock
from bot.reading.context import Pending
from bot.reading.items import Item, Row
from bot.reading.lexicon import bag
from bot.reading.numbers import Number
from bot.reading.result import Ask
from bot.reading.scene import Draft, Scene, compiled
from bot.reading.units import fahrenheit

_SMALL = bag(
    "the a an it it's 's is was on in at of by with that one i mean meant sorry ok yes yeah yep no oh so "
    "just please for to and or reading temp temperature "
    "oven from side its this then probe gun degrees celsius fahrenheit c f wall pot now said one's "
    "obvs obv duh inside off heat time o'clock dish door obviously course be reads says dial gauge thermometer"
)
_CELSIUS = frozenset({"c", "celsius", "centigrade"})
_FAHRENHEIT = frozenset({"f", "fahrenheit", "farenheit"})


def answer_of(scene: Scene) -> list[Draft] | None:
    """The full fact if the message answers what the bot asked; None if it is anything else."""
    pending = scene.context.pending
    if pending is None or not scene.items or len(scene.items) > 14:
        return None
    if pending.to is not None and scene.context.sender not in (None, pending.to) and not _says_option(scene, pending):
        return None
    if scene.items[-1].word == "?":
        return None
    found = _all_of_them(scene, pending) or _ANSWERS.get(pending.missing, _by_option)(scene, pending)
    if found is None:
        return None
    each = found if isinstance(found, list) else [found]
    whole = [fields if "is" in fields else {**pending.about, **fields} for fields in each]
    scene.use(0, len(scene.items), "answer to the question")
    return [Draft(fields, 0, len(scene.items), "answer to the question", question=fields["is"] in _QUESTIONS)
            for fields in whole]


def answer_first(scene: Scene) -> list[Draft]:
    """ "pork, core 92 and tender": the answer, then more; the first clause is the answer, the rest is read as usual."""
    pending = scene.context.pending
    if pending is None:
        return []
    stop = next((at for at, item in enumerate(scene.items) if item.kind == "." and item.word in ",.;!-"), None)
    if stop is None or not 0 < stop <= 4 or stop + 1 >= len(scene.items):
        return []
    if pending.missing == "celsius" and any(item.kind in "NHTA" for item in scene.items[stop:] if item.kind):
        return []  # another heat or time may be what was meant
    clause = Scene(Row(scene.row.message, scene.items[:stop]), scene.context)
    drafts = answer_of(clause) or []
    for draft in drafts:
        draft.last = stop
        scene.use(0, stop, "answer to the question")
    return drafts


def names_of_the_answer(scene: Scene, answered: list[Draft]) -> None:
    """ "that's air, probe 103", of the dome that was asked about: the second heat is the dome's too."""
    for key, kind, kinds in (("oven", "O", OVEN_KINDS), ("dish", "D", DISH_KINDS)):
        name = next((draft.fields[key] for draft in answered if key in draft.fields), None)
        if name is not None:
            _others_asked_of(scene, answered[0], key, name, kinds)
        if name is None or any(item.kind == kind for item in scene.items[answered[0].last :]):
            continue
        for draft in scene.drafts:
            if draft not in answered and not draft.question and draft.kind in kinds:
                draft.fields.setdefault(key, name)


def _others_asked_of(scene: Scene, answer: Draft, key: str, name: str, kinds: frozenset[str]) -> None:
    """ "out and resting", "the hock": the name goes with every fact of the message that was asked about."""
    about = scene.context.pending.about if scene.context.pending is not None else {}
    own = [said for said in scene.context.last if said.who == scene.context.sender and said.heard.facts]
    told = [fact.said() for fact in own[-1].heard.facts] if own else []
    if key in about or about not in told:
        return
    for fact in told:
        if fact != about and fact["is"] in kinds and key not in fact:
            scene.drafts.append(Draft({**fact, key: name}, answer.first, answer.last, answer.rule))


_QUESTIONS = bag(
    "eta ready_by status oven_at refuel safe what_if plan amount chill_time allergens who measure why log help"
)


def _only(scene: Scene, kinds: str, words: frozenset[str] = frozenset()) -> list[Item] | None:
    """The items of these kinds, if nothing else but small words is said."""
    found = []
    for item in scene.items:
        if item.kind in ("", "."):
            if item.kind == "" and item.word not in _SMALL and item.word not in words:
                return None
            continue
        if item.kind not in kinds:
            return None
        found.append(item)
    return found


_GAUGES = bag("dial gauge thermometer probe one")


def _people(scene: Scene) -> frozenset[str]:
    """Whose thermometer it is says nothing more: "Bea's dial", "the visitors gun"."""
    known = frozenset(part.lower() for name in scene.context.people for part in name.split())
    items = scene.items
    owners = {
        item.word for item, behind in pairwise(items)
        if item.kind == "" and (behind.kind == "I" or behind.word in _GAUGES or behind.word == "'s")
    }
    return known | (owners - _NO_OWNERS)


_NO_OWNERS = bag("not no new another broken wrong hand")


def _words(scene: Scene) -> set[str]:
    return {word for item in scene.items for word in item.words}


def _place(scene: Scene, pending: Pending) -> dict[str, Any] | None:
    words = _words(scene)
    found = _only(scene, "PIO", _people(scene) | bag("probe middle left right back front side ceiling"))
    if found is None:
        return None
    fields: dict[str, Any] = {}
    places = [item for item in found if item.kind == "P" or item.value == "dome"]
    spots = [item for item in places if item.value != "dome"]
    named = bool(places) and (places[0].value == "dome" or any(item.kind == "O" for item in places))
    if spots and len(places) > 1 and named and "dome" in scene.context.ovens:
        places = spots  # "dome floor", "air in the dome": the oven's
        fields.update({} if "oven" in pending.about else {"oven": "dome"})
    if places:
        fields["place"] = str(places[0].value)
    elif "probe" in words:
        fields["place"] = "floor"
    else:
        loose = {"back": "back", "left": "wall", "right": "wall", "side": "wall", "front": "mouth"}
        named = next((loose[word] for word in words if word in loose), None)
        if named is None:
            return None
        fields["place"] = named
    if "probe" in words and fields["place"] != "air":
        fields["tool"] = "probe"
    if any(item.kind == "I" for item in found) and fields["place"] != "air":
        fields["tool"] = "infrared"
    ovens = [item for item in found if item.kind == "O" and item.value != "dome"]
    if ovens and "oven" not in pending.about:
        fields["oven"] = str(ovens[0].value)
    return {**fields, **_in_fahrenheit(words, pending)}


def _in_fahrenheit(words: set[str], pending: Pending) -> dict[str, Any]:
    """ "air in the drum, its dial says F": the heat that waits, if the answer also names its unit."""
    value = pending.about.get("celsius")
    return {"celsius": fahrenheit(float(value))} if words & _FAHRENHEIT and value is not None else {}


def _oven(scene: Scene, pending: Pending) -> dict[str, Any] | None:
    found = _only(scene, "OP")
    if found is None or _OF_WHAT_WAS_TOLD.fullmatch(scene.row.canon):
        return None
    ovens = [item for item in found if item.kind == "O" or str(item.value) in pending.options]
    if len(ovens) != 1:
        return _by_option(scene, pending)
    spots = [item for item in found if item.kind == "P" and item is not ovens[0]]
    placed = pending.about.get("is") == "reading" and "place" not in pending.about
    return {**(_spots(spots) if placed else {}), "oven": str(ovens[0].value)}


# "that was the barrel": it mends all that was told, and answers for no single heat of it.
_OF_WHAT_WAS_TOLD = compiled(
    r"(?:(?:no|oh|ah|sorry|argh|oops|,) )*(?:that|those|these) (?:was|were) (?:all |both )?<O>(?: [.!])*")


def _dish(scene: Scene, pending: Pending) -> dict[str, Any] | None:
    found = _only(scene, "D")
    if found:
        return {"dish": str(found[0].value)}
    return _by_option(scene, pending)


def _unit(scene: Scene, pending: Pending) -> dict[str, Any] | None:
    words = _words(scene)
    value = pending.about.get("celsius")
    # "it is in Fahrenheit, that is the american dial of Wade": whatever is said with a unit's full name.
    named = words & (_FAHRENHEIT | _CELSIUS) - {"c", "f"} and not any(item.kind in ("H", "N") for item in scene.items)
    found = _only(scene, "HNPIO", frozenset({"american", "us"}) | _people(scene))
    if named and found is None:
        found = [item for item in scene.items if item.kind in ("P", "I", "O")]
    if found is None or value is None:
        return None
    number = next((item for item in found if item.kind in ("H", "N")), None)
    if number is not None and _degrees(number) not in (float(value), fahrenheit(float(value))):
        return None     # another reading
    where = _spots(found)
    if words & _FAHRENHEIT or "american" in words or (number is not None and number.kind == "H" and number.word == "f"):
        return {"celsius": fahrenheit(float(value)), **where}
    if words & _CELSIUS or (number is not None and number.kind == "H" and number.word == "c"):
        return {"celsius": float(value), **where}
    return None


def _degrees(item: Item) -> float:
    return float(item.value.value if isinstance(item.value, Number) else item.value)


def _spots(found: list[Item]) -> dict[str, Any]:
    """The place and the oven that an answer names besides."""
    fields: dict[str, Any] = {}
    for item in found:
        if item.kind == "P":
            fields["place"] = str(item.value)
        elif item.kind == "O":
            fields["oven"] = str(item.value)
        elif item.kind == "I" and fields.get("place") != "air":
            fields["tool"] = "infrared"
    return fields


_NOT_THAT = compiled(r"(?: ?,)? (?:not|isn't|no) (?:(?:the|a) )?(?:time|clock)(?: [.!])*$")


def _celsius(scene: Scene, pending: Pending) -> dict[str, Any] | None:
    stop = _NOT_THAT.search(scene.row.canon)
    if stop is not None:    # "air, not the time"
        scene = Scene(Row(scene.row.message, scene.items[: scene.row.items_of(*stop.span())[0]]), scene.context)
    words = _words(scene)
    value = pending.about.get("celsius")
    if words & bag("eat eating lunch dinner serving serve food") and value is not None and not words & bag("heat temp"):
        hour, minute = divmod(int(value), 100)
        if (
            hour < 24
            and minute < 60
            and _only(scene, "", bag("eat eating lunch dinner serving serve food clock when they we moved")) is not None
        ):
            return {"is": "serve", "by": scene.coming_meal(Clock(hour, minute))}
    if words & bag("heat temp temperature degrees reading") and value is not None:
        spots = _only(scene, "PIO", bag("probe"))
        return {**(_spots(spots) if spots is not None else {}), **_in_fahrenheit(words, pending)}
    spots = _only(scene, "PIO", _people(scene))
    if spots and value is not None:
        return {**_spots(spots), **_in_fahrenheit(words, pending)}
    found = _only(scene, "HN")
    if not found:
        return None
    value = found[0].value
    number = value.value if isinstance(value, Number) else float(value)
    return {"celsius": number} if number == number else None


def _at(scene: Scene, pending: Pending) -> dict[str, Any] | None:
    del pending
    for number, item in enumerate(scene.items):
        if item.kind in ("T", "A", "N"):
            clock = scene.clock(f"{item.kind}{number}")
            if clock is None or _only(scene, "TAN") is None:
                return None
            return {"at": scene.past(clock)}
    return None


def _says_option(scene: Scene, pending: Pending) -> bool:
    said = " ".join(sorted(_words(scene)))
    return any(set(option.lower().split()) <= set(said.split()) for option in pending.options)


def _by_option(scene: Scene, pending: Pending) -> dict[str, Any] | None:
    """An answer in the very words of one option."""
    words = _words(scene)
    fitting = [option for option in pending.options if set(option.lower().split()) <= words]
    extra = [
        word for word in words if word not in _SMALL and not any(word in option.lower().split() for option in fitting)
    ]
    if len(fitting) == 1 and not [word for word in extra if word.isalpha()]:
        return {pending.missing: fitting[0]}
    return None


_ALL = {2: bag("both"), 3: bag("all")}


def _all_of_them(scene: Scene, pending: Pending) -> list[dict[str, Any]] | None:
    """ "both", of two ovens or dishes: an act on each; one heat is never two."""
    every = _ALL.get(len(pending.options), frozenset())
    words = _words(scene)
    if pending.missing not in ("oven", "dish") or not words & every or pending.about.get("is") in ("reading", "food"):
        return None
    if not words <= _SMALL | every | bag("them ovens dishes pots two three same"):
        return None
    return [{pending.missing: option} for option in pending.options]


_YES = bag("yes yeah yep right correct sure really true checked twice again same is it's use still stands definitely")


def _confirm(scene: Scene, pending: Pending) -> dict[str, Any] | None:
    """ "yes it is right": the reading that was doubted stands; said again, it is the second witness."""
    words = _words(scene)
    value = pending.about.get("celsius")
    numbers = _only(scene, "HN", _YES)
    if numbers is None or words & bag("no nope not wrong"):
        return None
    said = [_degrees(item) for item in numbers]
    if any(number != value for number in said):
        return None
    return {} if said or words & bag("yes yeah yep right correct sure really true definitely") else None


def asked_again(scene: Scene) -> Ask | None:
    """A bare yes or no to a question of which thing: it says neither; what to write instead."""
    pending = scene.context.pending
    if pending is None or len(pending.options) < 2 or pending.options == ("yes", "no"):
        return None
    if pending.to is not None and scene.context.sender not in (None, pending.to):
        return None
    words = [item.word for item in scene.items if item.kind != "."]
    if not words or len(words) > MOST_BARE or any(item.kind not in ("", ".") for item in scene.items) \
            or not set(words) <= _YES | bag("no nope ok okay it") or not set(words) & bag("yes yeah yep no nope"):
        return None
    value = pending.about.get("celsius")
    named = [f"{value:g} {option}" if pending.missing == "unit" and value is not None else option
             for option in pending.options]
    listed = ", ".join(f'"{each}"' for each in named[:-1])
    return Ask(f'Write {listed} or "{named[-1]}".', pending.about, pending.missing, pending.options)


MOST_BARE = 4       # words of a yes that says nothing else
_SEEN = bag("confirmed confirm got it seen noted understood will do thanks thank you have heard know on")


def _seen(scene: Scene, pending: Pending) -> dict[str, Any] | None:
    """ "yes", "got it", "confirmed": somebody has what was said to her."""
    del pending
    words = _words(scene)
    if _only(scene, "", _SEEN | _YES) is None or words & bag("no nope not wrong"):
        return None
    return {} if words & bag("yes yeah yep confirmed confirm got seen noted understood ok heard") else None


_ANSWERS = {
    "seen": _seen,
    "confirm": _confirm,
    "place": _place,
    "oven": _oven,
    "dish": _dish,
    "unit": _unit,
    "celsius": _celsius,
    "at": _at,
}
