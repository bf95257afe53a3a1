"""Names and times that a message says once and means for more than one fact."""

from __future__ import annotations

from bot.reading.clock_times import Ago, Clock
from bot.reading.lexicon import bag
from bot.reading.scene import Draft, Scene, is_hard, is_stop

OVEN_KINDS = frozenset(bag("reading door fire oven pot"))
DISH_KINDS = frozenset(bag("pot food load stage check chill reheat contents"))
OVEN_QUESTIONS = frozenset({"oven_at", "refuel"})
DISH_QUESTIONS = frozenset({"eta", "ready_by", "safe", "chill_time", "allergens"})
TIMED = frozenset(bag("reading food pot door fire stage check chill reheat store wood weather load"))
_HOLD_NAMES = frozenset(bag("note task incident hush who"))


def carry(scene: Scene) -> None:
    """Give every draft the names and the time that hold for it."""
    scene.drafts.sort(key=lambda draft: (draft.first, draft.last))
    _oven_it_is(scene)
    _names(scene, "O", "oven", OVEN_KINDS, OVEN_QUESTIONS)
    _names(scene, "D", "dish", DISH_KINDS, DISH_QUESTIONS)
    _times(scene)


def _oven_it_is(scene: Scene) -> None:
    """ "the dome had a fire in it last night. lit it again at six": "it" is the oven named before, told of or not."""
    for draft in scene.drafts:
        first, _ = scene.sentence(draft.first)
        if draft.kind not in ("fire", "door") or draft.question or "oven" in draft.fields:
            continue
        named = [item.kind == "O" for item in scene.items[first : draft.last]]
        if "it" not in scene.row.words(draft.first, draft.last) or any(named):
            continue
        before = [str(item.value) for item in scene.items[:first] if item.kind == "O"]
        if before:
            draft.fields["oven"] = before[-1]


def _hidden(scene: Scene) -> set[int]:
    """Items whose names stay inside a free text."""
    hidden: set[int] = set()
    for draft in scene.drafts:
        if draft.kind in _HOLD_NAMES:
            hidden.update(range(draft.first, draft.last))
        if draft.kind == "amount":
            hidden.update(n for n in range(draft.first, draft.last) if scene.items[n].kind == "D")
    return hidden


def _mentions(scene: Scene, kind: str) -> list[int]:
    hidden = _hidden(scene)
    found = []
    for at, item in enumerate(scene.items):
        if item.kind != kind or at in hidden:
            continue
        if kind == "D" and (scene.used[at] == "load listed" or _ingredient(scene, at)):
            continue
        if scene.moods[at] == "silent" and not any(
            draft.first <= at < draft.last or (draft.last <= at <= draft.last + 3 and _joined(scene, draft.last, at))
            for draft in scene.drafts
        ):
            continue
        found.append(at)
    return found


_STUFF = bag("stock broth gravy milk water meat")


def _ingredient(scene: Scene, at: int) -> bool:
    item = scene.items[at]
    name = str(item.value)
    if name in scene.context.dishes:
        return False
    if name in _STUFF or _goes_with(scene, at):
        return True
    return (
        any(
            draft.kind == "contents" and draft.first <= at < draft.last and draft.fields.get("dish") != name
            for draft in scene.drafts
        )
        or any(
            draft.kind == "load" and draft.first <= at < draft.last and draft.fields.get("dish") != name
            for draft in scene.drafts
        )
        or any(
            draft.kind in ("guests", "allergens")
            and draft.first <= at < draft.last
            and draft.fields.get("dish") != name
            for draft in scene.drafts
        )
    )


def _goes_with(scene: Scene, at: int) -> bool:
    """ "lamb is 3.2 kg, browned with onions and carrots": what goes with a dish that was named is none itself."""
    start = at - 1
    while start > 0 and (scene.items[start].kind == "D" or scene.items[start].word in ("and", "some", "the", "our")):
        start -= 1
    return start > 0 and scene.items[start].word == "with" and any(item.kind == "D" for item in scene.items[:start])


def _names(scene: Scene, kind: str, key: str, facts: frozenset[str], questions: frozenset[str]) -> None:
    mentions = _mentions(scene, kind)
    if not mentions:
        return
    for draft in scene.drafts:
        wanted = draft.kind in (questions if draft.question else facts)
        wanted = wanted or (key == "oven" and _of_the_oven(scene, draft))
        if draft.question and not wanted and draft.kind == "why" and draft.hidden.get("pronoun"):
            wanted = key == "dish" or "dish" not in draft.fields
        if draft.question and draft.kind == "status" and draft.hidden.get("heat of it"):
            wanted = not any(item.kind == ("D" if key == "oven" else "O") for item in scene.items[: draft.first])
        if not wanted or key in draft.fields or (draft.no_carry and (key == "dish" or draft.kind == "oven")):
            continue
        if draft.question and draft.kind == "eta" and ("oven" in draft.fields and key == "dish"):
            continue
        at = _holding(scene, draft, mentions)
        if at is None or (draft.kind == "contents" and key == "dish" and _holds_another(scene, draft, at)):
            continue
        if draft.question and key == "dish" and not _may_ask_on(draft) and not draft.hidden.get("heat of it"):
            continue
        if draft.kind == "pot" and key == "oven" and draft.fields["act"] == "moved":
            continue
        draft.fields[key] = str(scene.items[at].value)


def _holds_another(scene: Scene, draft: Draft, at: int) -> bool:
    """ "there's butter in the mash, and the gravy mix has gluten": the mash is what the butter is in."""
    has = any(item.word in ("has", "contains", "have") for item in scene.items[draft.first : draft.last])
    return has and any(
        other is not draft and other.kind == "contents" and other.first <= at < other.last for other in scene.drafts
    )


def _of_the_oven(scene: Scene, draft: Draft) -> bool:
    """ "raked the dome, when will it be ready": only the oven was spoken of, and what was done to its fire."""
    return (
        draft.kind == "eta"
        and bool(draft.hidden.get("pronoun"))
        and any(other.kind == "fire" and other.first < draft.first for other in scene.drafts)
        and not any(item.kind == "D" for item in scene.items)
    )


def _may_ask_on(draft: Draft) -> bool:
    return bool(draft.hidden.get("pronoun")) or draft.kind in ("eta", "ready_by", "safe", "chill_time")


def _holding(scene: Scene, draft: Draft, mentions: list[int]) -> int | None:
    """The name that holds for a draft: one in it, one before it, one behind it in its clause, one at the list's end."""
    inside = [at for at in mentions if draft.first <= at < draft.last]
    if inside and scene.items[inside[0]].kind == "O":
        return inside[0]
    a, b = scene.segment(draft.first)
    same_before = [at for at in mentions if a <= at < draft.first]
    same_after = [at for at in mentions if draft.last <= at < b]
    taken = {n for other in scene.drafts if other is not draft for n in range(other.first, other.last)}
    if scene.items[mentions[0]].kind == "D" and inside:
        return inside[0]
    if same_before and not (
        same_after and _joined(scene, draft.last, same_after[0]) and not _heads_next(scene, draft, same_after[0])
    ):
        known = [
            at for at in same_before if scene.items[at].kind == "D" and scene.items[at].value in scene.context.dishes
        ]
        return (known or same_before)[-1]
    free_after = [
        at
        for at in same_after
        if at not in taken or (_joined(scene, draft.last, at) and not _heads_next(scene, draft, at))
    ]
    if free_after:
        return free_after[0]
    before = [at for at in mentions if at < draft.first]
    if before:
        known = [at for at in before if scene.items[at].value in scene.context.dishes]
        return (known if known and scene.items[before[-1]].kind == "D" else before)[-1]
    if draft.kind == "reading" and len(mentions) == 1 and scene.items[mentions[0]].kind == "O":
        at = mentions[0]
        last = scene.items[at - 1] if at else None
        told = last is not None and (last.word in ("in", "the") or last.kind in ("N", "H"))
        behind = told and scene.segment(at)[1] >= len(scene.items) - 1
        others = [each for each in scene.drafts if each.first > draft.first]
        if (
            behind
            and others
            and all(each.kind == "reading" for each in others)
            and _one_sentence(scene, draft.first, at)
        ):
            return at  # "air 163, floor 174 in the dome"
    return _list_end(scene, draft, mentions)


def _heads_next(scene: Scene, draft: Draft, at: int) -> bool:
    """ "dome ceiling 265 barrel ceiling 231": a name right between two readings is the second's."""
    return at == draft.last and any(other.first in (at, at + 1) for other in scene.drafts if other is not draft)


def _one_sentence(scene: Scene, first: int, last: int) -> bool:
    return not any(is_hard(item) for item in scene.items[first:last])


def _joined(scene: Scene, start: int, at: int) -> bool:
    """Only small words between: "180 in the barrel"."""
    return all(
        item.kind == "" and item.word in bag("in on at of for the from inside to") for item in scene.items[start:at]
    )


def _list_end(scene: Scene, draft: Draft, mentions: list[int]) -> int | None:
    """ "floor 180, air 170, barrel": a bare name behind the list holds for the list."""
    for at in mentions:
        a, b = scene.segment(at)
        if a < draft.last:
            continue
        if any(is_hard(item) for item in scene.items[draft.last : at]):
            continue
        others = [
            item
            for item in scene.items[a:b]
            if not (
                (item.kind == "" and item.word in bag("in on the for that 's oven all is both this of from at again"))
                or (item.kind == "P" and item.value == draft.fields.get("place"))  # "4 count, back of the dome"
            )
        ]
        if len(others) == 1 and (b >= len(scene.items) or is_stop(scene.items[b])):
            return at
        words = {item.word for item in scene.items[a:b]}
        # "lamb out, core 92, all in the dome": a last clause with "all" or "both" speaks of the list.
        if words & {"all", "both"}:
            return at
    return None


def _times(scene: Scene) -> None:
    spots = [at for at, item in enumerate(scene.items) if item.kind in ("T", "A") and not _used_as_field(scene, at)]
    for at in spots:
        if at and scene.items[at - 1].word in ("till", "until"):
            continue
        if scene.used[at] == "heat after a change":
            continue  # "lost 20 since nine, 178 now"
        if at and scene.items[at - 1].word == "from" and scene.sentence(at)[1] - at <= 2 and _cold(scene, at):
            continue  # "stew back on to reheat from 4": its heat, and no time of day
        if scene.moods[at] != "fact" and not any(draft.first <= at < draft.last for draft in scene.drafts):
            continue
        value = scene.items[at].value
        assert isinstance(value, Clock | Ago)
        for draft in _targets(scene, at):
            if draft.time is None:
                draft.time = value
            if draft.time == value:
                scene.use(at, at + 1, "time carried")
    _lasting(scene)
    for draft in [each for each in scene.drafts if each.time is not None]:
        if "at" in draft.fields or draft.question:
            continue
        if draft.kind in _PLANNED and isinstance(draft.time, Clock) and _lies_ahead(scene, draft.time, draft.kind):
            scene.drafts.remove(draft)
            a, b = scene.segment(draft.first)
            scene.moods[a:b] = ["silent"] * (b - a)
            if draft.kind in _MEASURED:
                clock = scene.coming(draft.time)
                scene.trouble = f"{clock} is still to come: not recorded. Say when it was, such as 'floor 180 at 9:40'."
            continue
        draft.fields["at"] = scene.past(draft.time)


def _cold(scene: Scene, at: int) -> bool:
    """A bare number that may be the heat of a fridge, where something is put on to reheat."""
    text = scene.message_of(scene.items[at])
    return text.isdigit() and int(text) <= _WARMEST_FRIDGE_C and any(each.kind == "reheat" for each in scene.drafts)


_WARMEST_FRIDGE_C = 10
_PLANNED = frozenset(bag("pot door fire stage chill reheat reading food check"))
_MEASURED = frozenset(bag("reading food check"))
# A time that comes this soon, and was last this long ago, is meant as one to come [minutes].
_SOON, _LONG_AGO = 4 * 60, 8 * 60
# Nobody tells a heat so late [minutes].
_FORGOTTEN = 12 * 60


def _lies_ahead(scene: Scene, said: Clock, kind: str) -> bool:
    """ "lamb in at 12" at half past eleven is a plan, not a report of midnight."""
    if "yesterday" in scene.row.message.lower():
        return False  # "lit yesterday at 16:00" in the afternoon
    now = scene.context.now.hour * 60 + scene.context.now.minute

    def minutes(text: str | None) -> int:
        hour, _, minute = str(text).partition(":")
        return int(hour) * 60 + int(minute)

    ahead = (minutes(scene.coming(said)) - now) % 1440
    ago = (now - minutes(scene.past(said))) % 1440
    if ahead <= 0 or ago >= 1440 - 10:
        return False
    return (ahead <= _SOON and ago >= _LONG_AGO) or (kind in _MEASURED and ago >= _FORGOTTEN)


def _lasting(scene: Scene) -> None:
    """ "lid's been off 10 min", "lamb's been in for an hour": since then."""
    for draft in scene.drafts:
        if draft.question or draft.kind not in ("pot", "fire", "stage") or draft.time is not None:
            continue
        at = draft.last
        while (
            at < len(scene.items) and scene.items[at].kind == "" and scene.items[at].word in bag("for about now a good")
        ):
            at += 1
        been = any(item.kind == "" and item.word == "been" for item in scene.items[draft.first : draft.last])
        if been and at < len(scene.items) and scene.items[at].kind == "U":
            draft.time = Ago(float(scene.items[at].value))
            scene.used[at] = draft.rule


def _used_as_field(scene: Scene, at: int) -> bool:
    return (scene.used[at] or "").startswith("question") or any(
        draft.first <= at < draft.last
        and (draft.question or draft.kind in bag("serve class hush note guests") or draft.rule == "phrase for wood"
             or ("by" in draft.fields and draft.fields["by"] == scene.coming_meal(scene.items[at].value)))
        for draft in scene.drafts
    )


def _timed(draft: Draft) -> bool:
    return not draft.question and draft.kind in TIMED and draft.kind != "fix"


def _targets(scene: Scene, at: int) -> list[Draft]:
    first, last = scene.sentence(at)
    a, b = scene.segment(at)
    here = [draft for draft in scene.drafts if _timed(draft) and draft.first < b and a < draft.last]
    in_sentence = [draft for draft in scene.drafts if _timed(draft) and first <= draft.first < last]
    words = {item.word for item in scene.items[a:b]}
    head = not any(draft.first < at for draft in in_sentence if draft.last <= at or draft.first < at)
    lone = not here
    if words & {"all", "both"} and in_sentence and (lone or at >= max(draft.last for draft in here) - 1):
        return in_sentence
    if head:
        later = [draft for draft in in_sentence if draft.first >= at or draft.first <= at < draft.last]
        return _till_next_time(scene, at, later)
    if lone:
        behind = [draft for draft in in_sentence if draft.first > at]
        before = [draft for draft in in_sentence if draft.last <= at]
        if behind:
            return _till_next_time(scene, at, behind)
        return _list_before(scene, at, before)
    before_here = [draft for draft in here if draft.first < at]
    if not before_here:
        return _till_next_time(scene, at, [draft for draft in in_sentence if draft.first > at])
    nearest = max(before_here, key=lambda draft: draft.last)
    return [draft for draft in before_here if draft.kind == nearest.kind and _and_between(scene, draft, nearest)]


def _and_between(scene: Scene, one: Draft, other: Draft) -> bool:
    """ "floor 190 and air 175 at 10:30": one clause, one time."""
    if one is other:
        return True
    gap = scene.items[min(one.last, other.last) : max(one.first, other.first)]
    return all(item.word in ("and", "&", "the") for item in gap if item.kind != ".") and not any(
        item.kind in ("T", "A") for item in scene.items[min(one.first, other.first) : max(one.last, other.last)]
    )


def _list_before(scene: Scene, at: int, before: list[Draft]) -> list[Draft]:
    times = [other for other, item in enumerate(scene.items) if item.kind in ("T", "A") and other < at]
    floor = max(times, default=-1)
    return [draft for draft in before if draft.first > floor]


def _till_next_time(scene: Scene, at: int, later: list[Draft]) -> list[Draft]:
    """A time at the head of a list holds to the next time, or to a "now"."""
    stop = len(scene.items)
    for other in range(at + 1, len(scene.items)):
        item = scene.items[other]
        if item.kind in ("T", "A") and not _used_as_field(scene, other):
            stop = _clause_start_of_time(scene, other, at)
            break
        if item.kind == "" and item.word == "now" and other > at + 1:
            begin = scene.segment(other)[0]
            stop = begin if begin > at else other
            break
    return [draft for draft in later if draft.first < stop]


def _clause_start_of_time(scene: Scene, other: int, at: int) -> int:
    a, _ = scene.segment(other)
    return max(a, at + 1)
