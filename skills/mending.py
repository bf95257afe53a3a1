"""Corrections: which earlier fact a fix means, and what stands after it.

Works on messages in the order in which they were said. An edited message stands in its old place with its new
meaning, a removed one says nothing any more, an undo takes back, a replace mends. Nothing is forgotten: each
step leaves a Change with the old value and the new one.
"""
from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from datetime import timedelta
from typing import Any

from skills.dated import Change, Open, Told, past_time
from skills.stand_ins import is_plain, replaced_by
from skills.vocabulary import Contents, Fact, Fix, fact

# A correction reaches back this far; in the shorter reach people mean what they said themselves (common practice).
REACH = timedelta(hours=12)
OWN_REACH = timedelta(minutes=30)

# The field that a bare corrected number belongs to, by kind.
_PICKS = ("oven", "dish", "place", "part", "tool", "item", "allergen", "what", "who", "method")
_WRONG = re.compile(r"\bnot (?:the |at |a |an )?(\d+(?:[.,]\d+)?)(?![\d:]|[.,]\d)")
_NOT_THAT = re.compile(r"\b(?:not|instead of|rather than) (?:the |any |a )?([a-z]+(?: [a-z]+)?)")
_NUMBER = re.compile(r"\d+(?:[.,]\d+)?")


@dataclass
class Standing:
    """A fact as it stands while the corrections are worked through."""
    told: Told
    index: int
    fact: Fact
    alive: bool = True
    mended: bool = False


@dataclass
class Mended:
    standing: list[Standing] = field(default_factory=list)
    changes: list[Change] = field(default_factory=list)
    lost: list[Open] = field(default_factory=list)


def mend(messages: Sequence[Told]) -> Mended:
    """Facts that stand after all corrections, in the order in which they were said."""
    result = Mended()
    for told in _as_edited(messages, result):
        if told.answers is not None:
            _complete(result, told)
        for index, each in enumerate(told.heard.facts):
            if isinstance(each, Fix):
                _fix(result, told, index, each)
            else:
                standing = Standing(told, index, each)
                if not (isinstance(each, Contents) and _instead(result, told, each)):
                    result.standing.append(standing)
    result.standing = [each for each in result.standing if each.alive]
    return result


def _as_edited(messages: Sequence[Told], result: Mended) -> Iterator[Told]:
    by_id = {told.id: told for told in messages}
    removed = {told.removes: told for told in messages if told.removes in by_id}
    edits = {told.replaces: told for told in messages if told.replaces in by_id and told.id not in removed}
    for told in messages:
        if told.replaces is not None or told.removes is not None:
            continue
        last = removed.get(told.id) or edits.get(told.id)
        if last is None:
            yield told
            continue
        new = () if told.id in removed else last.heard.facts
        result.changes.extend(_edit_changes(told, new, last))
        if told.id not in removed:
            yield Told(told.id, told.at, told.who, last.text, last.heard, goes=last.goes, comes=last.comes,
                       unwell=last.unwell, watched=last.watched)


def _edit_changes(told: Told, new: Sequence[Fact], last: Told) -> Iterator[Change]:
    for index, old in enumerate(told.heard.facts):
        stands = new[index] if index < len(new) else None
        if stands != old:
            yield Change(told.id, index, old.said(), stands.said() if stands else None, last.who, last.at, last.id)


def _fix(result: Mended, told: Told, index: int, fix: Fix) -> None:
    if fix.act == "undo":
        targets = _undo_targets(result.standing, told, fix)
        for target in targets:
            target.alive = False
            result.changes.append(Change(target.told.id, target.index, target.fact.said(), None, told.who, told.at,
                                         told.id))
    else:
        targets = _replace(result, told, index, fix)
    if not targets:
        result.lost.append(Open(told.id, index, fix, "target", ()))


def _instead(result: Mended, told: Told, new: Contents) -> bool:
    """ "cornflour today": it takes the place of the flour that was logged; both stay in the log."""
    plain = replaced_by(new.item, told.text)
    if plain is None:
        return False
    for target in _earlier(result.standing, told):
        old = target.fact
        if isinstance(old, Contents) and is_plain(old.item, plain) and (
                new.dish is None or old.dish in (None, new.dish)):
            given = {key: value for key, value in new.said().items() if key not in ("is", "at")}
            kept = {key: value for key, value in old.said().items() if key not in ("item", "allergen")}
            target.fact = fact({**kept, **given})
            result.changes.append(Change(target.told.id, target.index, old.said(), target.fact.said(), told.who,
                                         told.at, told.id))
            return True
    return False


def _earlier(standing: Sequence[Standing], told: Told) -> list[Standing]:
    """Facts of other messages that a fix of this message can reach, the latest first."""
    return [each for each in reversed(standing)
            if each.alive and each.told.id != told.id and told.at - each.told.at <= REACH]


def _complete(result: Mended, told: Told) -> None:
    """An answer says the open fact whole: the one without its place or in the wrong unit no longer stands."""
    for new in told.heard.facts:
        for each in result.standing:
            if not each.alive or each.told.id != told.answers or each.fact.is_ != new.is_:
                continue
            old, whole = each.fact.said(), new.said()
            open_place = "place" in whole and "place" not in old and old.get("celsius") == whole.get("celsius")
            other_unit = old.get("place") == whole.get("place") and old.get("celsius") != whole.get("celsius")
            unnamed = {key: value for key, value in whole.items() if key not in ("oven", "dish")} == old
            if open_place or other_unit or unnamed:
                each.alive = False
            if other_unit:
                result.changes.append(Change(each.told.id, each.index, old, whole, told.who, told.at, told.id))


def _undo_targets(standing: Sequence[Standing], told: Told, fix: Fix) -> list[Standing]:
    found = _earlier(standing, told)
    if fix.of is not None:
        found = [each for each in found if each.fact.is_ == fix.of]
    if fix.item is not None:        # whoever told of it: it is out of the pot, and no entry of it stands
        words = set(fix.item.split())
        return [each for each in found if words & set(str(getattr(each.fact, "item", "")).split())]
    for name in ("oven", "dish", "place"):
        wanted = getattr(fix, name)
        if wanted is not None:
            found = [each for each in found if getattr(each.fact, name, None) in (wanted, None)]
    own = [each for each in found if each.told.who == told.who and told.at - each.told.at <= OWN_REACH]
    found = own or found
    if not found:
        return []
    if fix.of is not None:
        return found[:1]
    return [each for each in found if each.told.id == found[0].told.id]


_OF_CLASS = {"serve": ("by", "serve"), "guests": ("count", "guests")}


def _replace(result: Mended, told: Told, index: int, fix: Fix) -> list[Standing]:
    given = {key: value for key, value in fix.said().items() if key not in ("is", "act", "of")}
    found = _earlier(result.standing, told)
    if fix.of is None and not set(given) - {"oven", "dish", "at"}:
        return _rename(result, found, told, given)
    kinds = {fix.of} if fix.of else {"reading", "food", "store"} if "celsius" in given else set()
    reachable, found = found, [each for each in found if not kinds or each.fact.is_ in kinds]
    if not found and fix.of in _OF_CLASS and _OF_CLASS[fix.of][0] in given and "allergen" not in given:
        # The eating time and the head count may have been told with the class itself.
        key, field = _OF_CLASS[fix.of]
        found = [each for each in reachable if each.fact.is_ == "class" and field in each.fact.said()]
        given = {field: given[key]}
    if fix.of == "contents" and "item" in given:
        denied = _denied_words(told.text)
        if denied:
            # Another thing in the dish is not what was mended: it stands, and so does its allergen.
            found = [each for each in found if denied & set(str(each.fact.said().get("item", "")).lower().split())]
            if not found:
                return _as_new(result, told, index, fix, given)
            given = {"allergen": None, **given}
    wrong = _WRONG.search(told.text)
    if wrong is not None and not any(_holds(each.fact, wrong[1]) for each in found):
        return _as_new(result, told, index, fix, given)
    if not found:
        return []
    numbers = {number.replace(",", ".") for number in _NUMBER.findall(told.text)}
    ranked = sorted(enumerate(found), key=lambda pair: (-_likeness(pair[1], told, given, numbers), pair[0]))
    target = ranked[0][1]
    old = target.fact.said()
    new = {**old, **given}
    if "at" in given and _same_minute(target, told, given["at"]):
        new = {**new, **({"at": old["at"]} if "at" in old else {})}
        if "at" not in old:
            new.pop("at")
    if "celsius" in given:
        new.pop("count", None)
    elif "count" in given:
        new.pop("celsius", None)
    try:
        fields = _fields(target.fact)
        target.fact = fact({key: value for key, value in new.items() if value is not None and key in fields})
    except ValueError:
        return []
    target.mended = True
    result.changes.append(Change(target.told.id, target.index, old, target.fact.said(), told.who, told.at, told.id))
    return [target]


def _denied_words(text: str) -> set[str]:
    """ "cornflour, not plain flour": the words of what it was not."""
    match = _NOT_THAT.search(text.lower())
    return set(match[1].split()) if match is not None else set()


def _holds(fact_: Fact, number: str) -> bool:
    """Whether a fact holds the number that a correction calls wrong (as said, or in Fahrenheit)."""
    wrong = float(number.replace(",", "."))
    values = [value for value in fact_.said().values() if isinstance(value, int | float)]
    return any(abs(value - wrong) < 0.06 or abs(value * 1.8 + 32 - wrong) < 0.1 for value in values)


def _as_new(result: Mended, told: Told, index: int, fix: Fix, given: dict[str, Any]) -> list[Standing]:
    """What was called wrong was never taken down: the right value stands as a fact of its own."""
    try:
        standing = Standing(told, index, fact({"is": fix.of or "", **given}))
    except ValueError:
        return []
    result.standing.append(standing)
    return [standing]


def _rename(result: Mended, found: list[Standing], told: Told, given: dict[str, Any]) -> list[Standing]:
    """ "meant the barrel": the sender's last message is about another oven or dish, or another time."""
    found = [each for each in found if not given.keys() - _fields(each.fact) and not _nameless(each.fact, given)]
    own = [each for each in found if each.told.who == told.who and told.at - each.told.at <= OWN_REACH] or found
    targets = [each for each in own if each.told.id == own[0].told.id] if own else []
    for target in targets:
        old = target.fact.said()
        target.fact = fact({**old, **given})
        result.changes.append(Change(target.told.id, target.index, old, target.fact.said(), told.who, told.at,
                                     told.id))
    return targets


_OF_NO_DISH = frozenset(("weather", "wood", "guests", "class", "serve", "task", "hush", "note", "incident", "oven"))


def _nameless(of: Fact, given: dict[str, Any]) -> bool:
    """ "brisket I mean" mends no word on the weather."""
    return bool({"dish", "oven"} & given.keys()) and of.is_ in _OF_NO_DISH - ({"oven"} if "oven" in given else set())


def _fields(of: Fact) -> set[str]:
    return {info.alias or name for name, info in type(of).model_fields.items()}


def _same_minute(target: Standing, told: Told, clock: str) -> bool:
    at = target.fact.at
    when = past_time(at, target.told.at) if at else target.told.at
    return abs(past_time(clock, told.at) - when) <= timedelta(minutes=3)


def _likeness(target: Standing, told: Told, given: dict[str, Any], numbers: set[str]) -> float:
    """How well an earlier fact fits what a correction says of it; names weigh most, then the wrong number."""
    score = 0.0
    old = target.fact.said()
    for pick in _PICKS:
        if pick in given and pick in old:
            score += 4 if given[pick] == old[pick] else -4
    if "at" in given and _same_minute(target, told, given["at"]):
        score += 5
    changed = [key for key in given if key not in _PICKS]
    for key in changed:
        value = old.get(key)
        if key in old:
            score += 1
        if isinstance(value, int | float) and f"{value:g}" in numbers and value != given[key]:
            score += 3
    if target.told.who == told.who:
        score += 1
    return score - (told.at - target.told.at) / timedelta(hours=3)
