"""Acts on pots, lids and doors by what is in the clause, whatever its order: "the lamb I have put inside"."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from bot.reading.clauses import PUT, Clause, unread
from bot.reading.fires_composed import feeds, fires
from bot.reading.lexicon import bag
from bot.reading.rules_topping_up import POURED
from bot.reading.scene import Scene
from bot.reading.subjects import is_stuff

_POTS = bag("pot pots pan pans tray trays tin tins dish joint meat roast roasting iron clay crock casserole big small")
_IT = bag("it him her them")
_INSIDE = bag("in inside into")
_WHERE = bag(
    "oven bottom back left right side front middle centre near deep next beside trivet tile tiles brick bricks on "
    "to"
)
_TURNED = bag("turned rotated spun flipped twisted swivelled swung pivoted")
_ROUND = bag("round around about half quarter way over end halfway full other degrees spin turn twist flip gave given")
_MOVED = bag("moved shifted carried swapped switched transferred shunted relocated hauled")
_POUR = bag("added topped poured tipped splashed sloshed ladled")
_AMOUNT = bag("splash ladle ladles ladleful cup cups cupful mug jug glug drop bit some slosh dash glass couple")
_MORE = bag("in into up to with over another extra further top topping more hot cold boiling warm kettle")
_LID_ON = bag("on shut closed sealed clamped fitted down firmly tight tightly snug snugly")
_LID_OFF = bag("off removed away aside lifted uncovered")
_SHUT = bag("on shut closed sealed firmly tight tightly fitted place")
_OPEN = bag("off open opened away down removed wide fully aside completely")
_AJAR = bag("ajar propped cracked half halfway partly slightly crack inch little touch hand finger fingers smidge tad")
_DOOR = bag("door doors oven back with left in pushed swung hung kept")


def composed_acts(scene: Scene) -> None:
    """Pots, lids, doors and fires from clauses that are still wholly unread."""
    for clause in unread(scene):
        for read in (feeds, fires, _door, _lid, _topped, _moved, _turned, _in, _out):
            facts = list(read(clause))
            for fields in facts:
                scene.add(fields, clause.first, clause.last, "act of the clause")
            if facts:
                break


def _told(clause: Clause) -> bool:
    """Whether somebody tells it as done: a bare "put it in" may be an order."""
    telling = bag("took taken pulled lifted removed i we have has 's got just gone went")
    surely = _TURNED | _MOVED | clause.people | telling
    return bool(clause.words & surely or clause.found.keys() & {"T", "A"})


def _potted(clause: Clause, verbs: frozenset[str]) -> list[str | None]:
    """The dishes that an act is told of; [None] for a pot that nobody names, nothing if there is no pot."""
    if clause.dishes:
        return list(clause.dishes)
    if clause.words & _POTS or (clause.words & _IT and clause.words & verbs and _told(clause) and not _of_fire(clause)):
        return [None]
    return []


def _of_fire(clause: Clause) -> bool:
    """ "relit the barrel, it had gone out": the fire had."""
    before = [draft.kind for draft in clause.scene.drafts if draft.last <= clause.first]
    return before[-1:] == ["fire"]


def _pot(clause: Clause, act: str, verbs: frozenset[str], oven: str | None = None) -> Iterator[dict[str, Any]]:
    for dish in _potted(clause, verbs):
        yield {"is": "pot", "act": act, "dish": dish, "oven": oven}


def _in(clause: Clause) -> Iterator[dict[str, Any]]:
    if not clause.words & _INSIDE or bag("out off") & clause.words or len(clause.ovens) > 1:
        return
    if not clause.has_only("DOP") or not clause.says_only(PUT, _POTS, _WHERE, _INSIDE):
        return
    items = clause.scene.items
    vessels = [n for n in range(clause.first, clause.last) if items[n].kind == "D" or items[n].word in _POTS]
    if any(clause.word_before(n) in _INSIDE for n in vessels):
        return  # "carrots in the stew", "soup into trays"
    spots = clause.found.get("P", ())
    if all(clause.word_before(n) in ("at", "by", "near", "to", "of", "against") for n in spots):
        yield from _pot(clause, "in", PUT, clause.oven)


def _out(clause: Clause) -> Iterator[dict[str, Any]]:
    gone = clause.words & bag("out off removed pulled")
    allowed = bag("out off removed pulled oven heat board")
    if not gone or not clause.has_only("DO") or not clause.says_only(PUT, _POTS, allowed) or len(clause.ovens) > 1:
        return
    if clause.words & bag("in into on") or (gone == {"off"} and not clause.words & (bag("heat") | PUT)):
        return
    yield from _pot(clause, "out", PUT | gone, clause.oven)


def _turned(clause: Clause) -> Iterator[dict[str, Any]]:
    given = clause.words & bag("gave given had") or "H" in clause.found
    turn = given and clause.words & bag("turn spin twist")
    turned = bool(clause.words & _TURNED or turn)
    if turned and clause.has_only("DNH") and clause.says_only(_POTS, _TURNED, _ROUND):
        yield from _pot(clause, "turned", _TURNED | _ROUND)


def _moved(clause: Clause) -> Iterator[dict[str, Any]]:
    way = bag("over across to into in onto out")
    if not clause.words & (_MOVED | bag("over across")) or not clause.says_only(PUT, _MOVED, _POTS, way):
        return
    if not clause.has_only("DO"):
        return
    to = [n for n in clause.found.get("O", ()) if clause.word_before(n) in ("to", "into", "in", "onto")]
    if len(to) == 1:
        yield from _pot(clause, "moved", PUT | _MOVED, str(clause.scene.items[to[0]].value))


def _topped(clause: Clause) -> Iterator[dict[str, Any]]:
    litres = clause.found.get("L", [])
    liquid = bool(clause.words & POURED) or any(is_stuff(clause.scene, n) for n in clause.found.get("D", ()))
    if len(litres) > 1 or len(clause.dishes) > 1 or not clause.has_only("DLN"):
        return
    if not clause.says_only(_POUR, _AMOUNT, POURED, _POTS, PUT, _MORE):
        return
    vague = bag("more another extra further splash glug drop slosh dash ladle ladleful cup mug jug")
    poured = clause.words & _POUR or (clause.words & bag("put gave given went gone had") and clause.words & vague)
    if not poured or not (litres or liquid or clause.words & bag("splash glug slosh topped")):
        return
    if clause.found.get("N") and not clause.words & _AMOUNT:
        return
    amount = clause.scene.items[litres[0]].value if litres else None
    yield {"is": "pot", "act": "topped_up", "dish": clause.dish, "litres": amount}


def _lid(clause: Clause) -> Iterator[dict[str, Any]]:
    if not clause.words & bag("lid lids") or not clause.has_only("D") or len(clause.dishes) > 1:
        return
    on, off = clause.words & _LID_ON, clause.words & _LID_OFF
    if bool(on) == bool(off):
        return
    if clause.says_only(_LID_ON, _LID_OFF, PUT, _POTS, bag("lid lids with to back over foil paste")):
        yield {"is": "pot", "act": "lid_off" if off else "lid_on", "dish": clause.dish}


def _door(clause: Clause) -> Iterator[dict[str, Any]]:
    if not clause.words & bag("door doors") or not clause.has_only("OC") or len(clause.ovens) > 1:
        return
    ajar, shut, open_ = clause.words & _AJAR, clause.words & _SHUT, clause.words & _OPEN
    if (shut and (open_ or ajar)) or not (shut or open_ or ajar):
        return
    if clause.says_only(_AJAR, _SHUT, _OPEN, PUT, _DOOR):
        state = "on" if shut else "ajar" if ajar or "C" in clause.found else "off"
        yield {"is": "door", "state": state, "oven": clause.oven}
