"""Heats by what is in the clause, whatever its order: a last look at clauses that no other rule read anything from.

A clause that has one heat, a spot or an oven or a dish, and besides these only words that say nothing else, is a
reading of that spot. Every word has to be accounted for: one word that is not in the lists below leaves the clause
unread.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from bot.reading.heat_limits import check_limits, value_of
from bot.reading.heat_nouns import GLUE
from bot.reading.items import FILLERS
from bot.reading.lexicon import bag
from bot.reading.scene import Scene, is_hard

# What may stand beside a heat and changes nothing of it.
_SAYS_NOTHING = GLUE | FILLERS | bag(
    "dropping dropped drops drop going gone goes went go slowly slow slipping slipped sliding slid steadily fast quick "
    "quickly getting gotten bit tad touch little same spot reading readings degrees degree deg c temp temps "
    "number figure final current latest present next later side end part through across inside there here "
    "door by near next close closer middle centre nicely fine good great ok okay lovely looking looks look seems "
    "appears "
    "after before since as he she they idris tomos bea mara me everyone all finally again yet even "
    "using use used pointed aimed aiming shot shoot point stuck poked put time again check quick "
    "one more another fresh new second first third showing shown display displays displayed screen needle "
    "thermometer meter therm up-to stays staying stayed stay remains remaining held hold holds keeps keeping kept "
    "only barely well properly right pretty much more less exactly dead bang some way of off off-the back our ours "
    "pegged parked floating wobbling swinging drifting drifted drifts eased easing ease leveled levelled off "
    "recovered recovering recovers bouncing bounced back to comes coming came climbs climb rises rise falls fall "
    "cools cool cooling warm warms warming heat heats heating picking picked peaked peaking maxed tops topping "
    "being arrived arrives chef mate boss guys temperature "
        "too also which this that these those what where when- which it its it's there's"
)  # fmt: skip
_CHANGED = bag("down up dropped lost gained fell risen rose fallen climbed by another minus plus")
_TO = bag("to at now , : - is 's")
_CORE = bag("core middle centre center inside internal thickest deepest bone")
_LIQUID = bag("liquor liquid juice juices sauce gravy broth stock jus")
_PROBE = bag("probe thermocouple stem skewer")


def composed_heats(scene: Scene) -> None:
    """Readings and heats of food from clauses that are still wholly unread."""
    if not scene.kinds & {"N", "H"}:
        return
    for first, last in stretches(scene):
        _compose(scene, first, last)


def stretches(scene: Scene) -> Iterator[tuple[int, int]]:
    """Runs of unread told items, first whole ones with their commas, then piece by piece."""
    for first, last in scene.sentences:
        at = first
        while at < last:
            if not _free(scene, at):
                at += 1
                continue
            end = at
            while end < last and _free(scene, end):
                end += 1
            yield at, end
            cuts = [at, *(n + 1 for n in range(at, end) if _parts(scene, n)), end]
            for length in (2, 1):
                for a, b in zip(cuts, cuts[length:], strict=False):
                    if (a, b) != (at, end) and not any(scene.used[a:b]):
                        yield a, b
            at = end


def _free(scene: Scene, at: int) -> bool:
    return scene.used[at] is None and scene.moods[at] == "fact" and not is_hard(scene.items[at])


def _parts(scene: Scene, at: int) -> bool:
    item = scene.items[at]
    return item.kind == "." or (item.kind == "" and item.word in ("and", "but", "then", "&"))


def _compose(scene: Scene, first: int, last: int) -> None:
    while first < last and _parts(scene, first):
        first += 1
    while last > first and _parts(scene, last - 1):
        last -= 1
    if any(scene.used[first:last]):
        return
    found: dict[str, list[int]] = {}
    words: list[str] = []
    for at in range(first, last):
        item = scene.items[at]
        if item.kind == ".":
            if item.word not in (",", ":", "-", "/"):
                return
        elif item.kind == "":
            if item.word == "giving" and "D" in scene.kinds:
                return  # told of the dish
            words.append(item.word)
        else:
            found.setdefault("V" if item.kind in "NH" else item.kind, []).append(at)
    if set(found) - set("VPOIDTA") or len(found.get("V", ())) != 1:
        return
    if any(len(found.get(kind, ())) > 1 for kind in "POID") or len(found.get("T", ())) + len(found.get("A", ())) > 1:
        return
    at = found["V"][0]
    if _is_change(scene, at, first) or _is_no_heat(scene, at):
        return
    nouns = _CORE | _LIQUID | _PROBE | bag("meat joint oven hand pot pots pan tin")
    if any(word not in _SAYS_NOTHING and word not in nouns for word in words):
        return
    fields = _fields(scene, found, set(words), value_of(scene, at))
    if fields is None:
        return
    draft = scene.add(fields, first, last, "heat of the clause")
    check_limits(scene, draft)


def _is_change(scene: Scene, at: int, first: int) -> bool:
    before = scene.items[at - 1].word if at > first else ""
    return before in _CHANGED or before in ("for", "in", "not", "than", "over", "under", "above", "below", "from")


def _is_no_heat(scene: Scene, at: int) -> bool:
    item = scene.items[at]
    if item.kind == "H":
        return False
    value = item.value.value
    return bool(item.value.colon or value != value or not 60 <= value <= 700)


def _fields(scene: Scene, found: dict[str, list[int]], words: set[str], value: float) -> dict[str, Any] | None:
    def named(kind: str) -> str | None:
        return str(scene.items[found[kind][0]].value) if kind in found else None

    place, oven, dish = named("P"), named("O"), named("D")
    core, liquid = bool(words & _CORE), bool(words & _LIQUID)
    food = core or liquid or words & bag("meat joint pot pan")
    if dish is not None or (food and place is None and oven is None):
        if not 20 <= value <= 110 or place is not None:
            return None
        part = "liquid" if liquid else "core" if core or words & _PROBE else None
        return {"is": "food", "celsius": value, "part": part, "dish": dish}
    if words & {"hand", "meat", "joint"} or (
        place is None and oven is None and not words & _PROBE and "I" not in found
    ):
        return None
    tool = "infrared" if "I" in found or words & {"shot", "shoot"} else "probe" if words & _PROBE else None
    if place is None and tool == "probe":
        place = "floor"
    if value < 20:
        return None
    return {
        "is": "reading",
        "place": place,
        "celsius": value,
        "oven": oven,
        "tool": tool if place != "air" else None,
    }
