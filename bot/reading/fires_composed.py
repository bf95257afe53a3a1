"""Wood and fire in any order of words: "to the barrel I have given two splits of oak", "done raking"."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from bot.reading.clauses import PUT, SAYS_NOTHING, Clause
from bot.reading.lexicon import bag, longest, phrase_set
from bot.reading.subjects import elsewhere

_WOOD = bag("split splits log logs billet billets stick sticks piece pieces chunk chunks kindling wood fuel")
_BAGS = bag("armful armfuls handful bundle barrow basket load bucket some more couple few")
_SIZES = bag("small big large little thin thick fat dry seasoned half chunky short long fresh extra another other")
_ON_FIRE = bag(
    "plus on in onto into to fire flames embers bed oven added fed given fuelled stoked thrown threw laid up "
    "topped banked built"
)
_EMBERS = bag("ember embers ash ashes coals fire")
_SPREADING = bag("spread spreading scattered levelled leveled evened raked pushed pulled moved flattened dragged")
_EVENLY = bag(
    "evenly thin thinly flat level over across all around about floor forward even wide fully out oven on in bed"
)
_RAKED = bag(
    "raked rake raking scraped swept shovelled shoveled hoed pulled dragged drawn drew cleared emptied cleaned taken "
    "took tipped"
)
_CLEAN = bag(
    "out away clear bin bucket outside empty clean hot into in to with brush brushed mopped mop swept wiped damp "
    "finished complete over fire floor oven metal steel tin old"
)
_LIT = bag(
    "lit lighted kindled fired relit alight aflame match matches flame flames started going burning caught away "
    "made built "
    "a fire fires in on with up using start laid first small little going under way put oven to"
)


def feeds(clause: Clause) -> Iterator[dict[str, Any]]:
    """Every wood of the clause with its own pieces; one feed if it names one wood or none."""
    if not clause.has_only("NKO") or len(clause.ovens) > 1 or not clause.words & _ON_FIRE:
        return
    if any(elsewhere(clause.scene, n) for n in range(clause.first, clause.last)) or _dropped(clause):
        return
    units = _units(clause)
    if not units or not clause.says_only(_WOOD, _BAGS, _SIZES, _ON_FIRE, PUT, _species_words(clause)):
        return
    if len({unit.get("species") for unit in units}) == 1 and len(units) > 1:
        if not all("pieces" in unit for unit in units):
            return
        units = [{**units[0], "pieces": sum(unit["pieces"] for unit in units)}]
    for unit in units:
        yield {"is": "fire", "act": "fed", "oven": clause.oven, **unit}


def _dropped(clause: Clause) -> bool:
    """ "one landed in the ash": in the bed of the fire, which is no wood; what lands there was meant for the floor."""
    items = clause.scene.items
    bed = any(items[n].word in ("ash", "ashes") and items[n - 1].word == "the" and items[n - 2].word in _INTO
              for n in range(clause.first + 2, clause.last))
    return bed or "landed" in clause.words


_INTO = bag("in into on onto to under over")


def fires(clause: Clause) -> Iterator[dict[str, Any]]:
    """Embers spread, raked out, or the fire lit, with what it was lit with."""
    if len(clause.ovens) > 1 or not clause.has_only("NKOP"):
        return
    if _spread(clause):
        yield {"is": "fire", "act": "spread", "oven": clause.oven}
    elif _raked(clause):
        yield {"is": "fire", "act": "raked", "oven": clause.oven}
    elif _lit(clause):
        units = _units(clause)
        if len(units) < 2:
            yield {"is": "fire", "act": "lit", "oven": clause.oven, **(units[0] if units else {})}


def _out(clause: Clause) -> bool:
    return bool(clause.words & bag("out away clear bin bucket outside empty"))


def _spread(clause: Clause) -> bool:
    embers = clause.words & (_EMBERS - {"fire"} | {"bed"})
    spread = bool(embers and clause.words & _SPREADING) and not _out(clause)
    return spread and clause.says_only(_EMBERS, _SPREADING, _EVENLY)


def _raked(clause: Clause) -> bool:
    words = clause.words
    if not clause.has_only("O") or not words & _RAKED or not clause.says_only(_EMBERS, _RAKED, _CLEAN):
        return False
    if words & bag("rake raking"):
        over = bool(words & bag("done finished complete over"))
        # "raking out now" is told with the rake in the fire, as "going in now" is with the pot at the door.
        begun = "raking" in words and bool(words & bag("now out") or words == {"raking"})
        return over or (begun and "T" not in clause.found)
    embers = words & _EMBERS - {"fire"}
    emptied = clause.oven is not None and bool(embers or "out" in words)
    return "raked" in words or emptied or bool(embers and _out(clause))


def _lit(clause: Clause) -> bool:
    words = clause.words
    if "P" in clause.found or "out" in words:
        return False
    alight = words & bag("lit lighted kindled relit alight aflame match flame flames")
    going = words & bag("fired started going burning caught away made built")
    of_fire = words & bag("fire fires") or ("fired" in words and clause.oven)
    named = clause.oven or words & bag("fire oven flame match") or len(words - SAYS_NOTHING) == 1
    burns = bool(alight or (going and of_fire)) and bool(named)
    return burns and clause.says_only(_LIT, _WOOD, _BAGS, _SIZES, _species_words(clause))


def _species_words(clause: Clause) -> frozenset[str]:
    return frozenset(word for words in phrase_set("wood", "species") for word in words) & clause.words


def _species_at(clause: Clause, at: int) -> int:
    """How many words of a wood's name begin at an item."""
    if clause.scene.items[at].kind != "":
        return 0
    named = clause.scene.row.words(at, min(at + 2, clause.last))
    return next((n for n in (2, 1) if longest(named[:n], "wood", "species") == (0, n)), 0)


def _units(clause: Clause) -> list[dict[str, Any]]:
    """ "one log of ash and one log of cherry": how much of what, in order; [] if it is no wood."""
    items, units = clause.scene.items, list[dict[str, Any]]()
    woody, bagged = False, bool(clause.words & bag("armful armfuls handful bundle barrow basket load bucket"))
    at = clause.first
    while at < clause.last:
        item = items[at]
        behind = {each.word for each in items[at + 1 : at + 4]}
        if length := _species_at(clause, at):
            species = " ".join(clause.scene.row.words(at, at + length))
            if not units or "species" in units[-1]:
                units.append({})
            units[-1]["species"] = species
            woody = True
        elif item.kind == "N":
            units.append({} if bagged else {"pieces": item.value.value})
        elif item.kind == "K":
            units.append({"wood_kg": item.value})
        elif item.word in ("a", "an", "another", "one") and behind & _WOOD and not bagged:
            units.append({"pieces": 0.5 if at and items[at - 1].word == "half" else 1})
        woody = woody or item.word in _WOOD
        at += length or 1
    fed = clause.words & bag("fed stoked fuelled fire flames embers")
    sized = clause.oven is not None and "on" in clause.words and clause.words & bag("small big large little")
    went = woody and clause.words & bag("gone going went put goes")
    stoked = clause.words & bag("topped banked built stoked") and "fire" in clause.words
    if not units and (bagged or went or stoked):
        return [{}]
    return units if woody or ((fed or sized) and units) else []
