"""When a careful person would ask back, and what: one short question, and only if the answer would change something."""

from __future__ import annotations

import re
from datetime import datetime, timedelta
from typing import Any

from bot.reading.clock_times import Clock
from bot.reading.items import Item
from bot.reading.lexicon import bag
from bot.reading.result import Ask
from bot.reading.scene import Draft, Scene, compiled
from bot.reading.units import fahrenheit

# A reading this near to the last one of a spot is that spot's, if every other spot is further off [K].
NEAR_K = 25.0
# 400 C this far above every heat told lately may be 400 F [K].
FAR_K = 60.0
RECENT = timedelta(minutes=90)


def ask_of(scene: Scene) -> Ask | None:
    """The question to ask of this message, if any."""
    _two_alone(scene)
    return (
        _unit(scene)
        or _store_unit(scene)
        or _place(scene)
        or _left_over(scene)
        or _bare_number(scene)
        or _cold_or_clock(scene)
        or _move(scene)
    )


def last_heats(scene: Scene, oven: str | None) -> dict[str, float]:
    """The latest heat of every spot, as lately said and not raked out since."""
    found: dict[str, float] = {}
    for said in scene.context.last:
        if scene.context.now - said.at > RECENT:
            continue
        for fact in said.heard.facts:
            data = fact.said()
            if data["is"] == "fire" and data["act"] == "raked" and data.get("oven") in (None, oven):
                found.clear()
            if (
                data["is"] == "reading"
                and "celsius" in data
                and "place" in data
                and (oven is None or data.get("oven") in (None, oven))
            ):
                found[str(data["place"])] = float(data["celsius"])
    return found


def _own_heats(scene: Scene, oven: str | None) -> dict[str, float]:
    """The heats of this oven alone: of two ovens a heat told of none may be the other's."""
    if oven is None or len(scene.context.ovens) < 2:
        return last_heats(scene, oven)
    told = {fact.said().get("place") for said in scene.context.last for fact in said.heard.facts if fact.oven == oven}
    return {place: heat for place, heat in last_heats(scene, oven).items() if place in told}


# A store read without a unit between these is read in Fahrenheit: no fridge is so warm in Celsius, and no hot cupboard.
_STORES_F = {"fridge": (30.0, 60.0), "hot_hold": (110.0, 190.0)}


def _store_unit(scene: Scene) -> Ask | None:
    """ "fridge 45": taken for Fahrenheit meanwhile, and asked."""
    ask = None
    for draft in scene.drafts:
        value = draft.fields.get("celsius")
        low, high = _STORES_F.get(str(draft.fields.get("place")), (0.0, 0.0))
        if draft.kind == "store" and value is not None and low <= value <= high and _no_unit(scene, draft):
            about = dict(draft.fields)
            draft.fields["celsius"] = fahrenheit(float(value))
            said = f"{value:g}: C or F? Taken as F, {draft.fields['celsius']:.0f} C."
            ask = ask or Ask(said, about, "unit", ("C", "F"))
    return ask if _celsius_only(scene) else None


def _unit(scene: Scene) -> Ask | None:
    """ "floor 400" in an oven that was at 200 just now: 400 F would fit, 400 C would not."""
    for draft in scene.drafts:
        value = draft.fields.get("celsius")
        if draft.kind != "reading" or value is None or value < 300 or not _no_unit(scene, draft):
            continue
        heats = last_heats(scene, draft.fields.get("oven"))
        place = draft.fields.get("place")
        near = [heats[place]] if place in heats else list(heats.values())
        as_fahrenheit = fahrenheit(float(value))
        fits = (
            bool(near)
            and min(abs(as_fahrenheit - heat) for heat in near) <= 15
            and min(abs(value - heat) for heat in near) > 100
        )
        lone = not near or min(abs(value - heat) for heat in near) > FAR_K
        open_ = (place is None and not heats and float(value) % 25 == 0) or (
            place in ("floor", "air")
            and value >= 390
            and lone
            and draft.fields.get("tool") != "infrared"
            and not (place in _own_heats(scene, draft.fields.get("oven")) and _celsius_only(scene))
        )
        open_ = open_ or _round_in_fahrenheit(scene, draft, lone)
        if fits or open_:
            about = {key: entry for key, entry in draft.fields.items() if key[0] != "_"}
            if fits or place is None or scene.context.last:
                scene.drafts.remove(draft)  # a lone message is taken by its words; in talk the answer comes
            return Ask(f"{value:g}: C or F?", about, "unit", ("C", "F"))
    return None


# Round numbers of Fahrenheit dials in air [as written]; common practice, no source.
LEAST_ROUND, ROUND = 325.0, 25.0


def _round_in_fahrenheit(scene: Scene, draft: Draft, lone: bool) -> bool:
    """ "barrel air 350", from one who has told no heat before: a dial of another country, or an oven in full fire?"""
    value = float(draft.fields["celsius"])
    if draft.fields.get("place") != "air" or value < LEAST_ROUND or value % ROUND or not lone or not scene.context.last:
        return False
    own = [said for said in scene.context.last if said.who == scene.context.sender]
    told = any("celsius" in fact.said() for said in own for fact in said.heard.facts)
    return not told and len([each for each in scene.drafts if each.kind == "reading"]) == 1


def _celsius_only(scene: Scene) -> bool:
    """Whether nobody has lately spoken of Fahrenheit; then a high number is no reason to ask."""
    return not any(
        f"{word} ".find("fahrenheit") >= 0 or re.fullmatch(r"\d+\s*°?f|f", word)
        for said in scene.context.last
        for word in said.text.lower().replace("?", " ").replace(",", " ").split()
    )


def _no_unit(scene: Scene, draft: Draft) -> bool:
    return not any(item.kind == "H" for item in scene.items[draft.first : draft.last])


# A spot that the gun was pointed at once says nothing of a number without one.
_OFTEN_UNSAID = ("floor", "air", "dome", None)


def _place(scene: Scene) -> Ask | None:
    """ "dome 210": of the dome oven, but where?"""
    for draft in scene.drafts:
        if draft.kind != "reading" or "celsius" not in draft.fields or "place" in draft.fields:
            continue
        oven = draft.fields.get("oven")
        value = float(draft.fields["celsius"])
        if (clock := _as_a_time(scene, draft)) is not None:
            about = {key: entry for key, entry in draft.fields.items() if key[0] != "_"}
            scene.drafts.remove(draft)
            said = _likely(clock, scene.context.now)
            return Ask(f"{value:g} degrees, or the time {said}?", about, "celsius", ("heat", "time"))
        heats = {place: heat for place, heat in last_heats(scene, oven).items() if place in _OFTEN_UNSAID}
        close = [place for place, heat in heats.items() if abs(heat - value) <= NEAR_K]
        if (len(close) == 1 and len(heats) > 1) or (len(heats) == 1 and close):
            continue
        about = {key: entry for key, entry in draft.fields.items() if key[0] != "_"}
        where = (
            f" in the {oven}{'' if str(oven).endswith('oven') else ' oven'}"
            if oven == "dome"
            else f" in the {oven}"
            if oven
            else ""
        )
        if draft.fields.get("tool") == "infrared":
            return Ask(f"{value:g}{where}: which spot?", about, "place", ("floor", "dome", "back", "wall", "mouth"))
        return Ask(f"{value:g}{where}: floor, air or ceiling?", about, "place", ("floor", "air", "dome"))
    return None


# What is planned is spoken of this long before [min]; common practice, no source.
PLANNED_MIN = 120


def _as_a_time(scene: Scene, draft: Draft) -> Clock | None:
    """ "hive at one forty", said at ten past twelve: the words of a time that is near."""
    at = next((n for n in range(draft.first, min(draft.last, len(scene.items))) if scene.items[n].kind == "N"), None)
    if at is None or at == 0 or scene.items[at - 1].word != "at" or len(scene.drafts) > 1:
        return None
    item = scene.items[at]
    _, clock = _both(item)
    if clock is None or not item.value.words or any(each.word in ("'s", "is") for each in scene.items[:at]):
        return None
    here = scene.context.now.hour * 60 + scene.context.now.minute
    return clock if any(0 <= minute - here <= PLANNED_MIN for minute in clock.day_minutes()) else None


def _left_over(scene: Scene) -> Ask | None:
    """ "floor 228, cl 271": in a list of heats one stands beside a word that nobody knows."""
    told = [draft for draft in scene.drafts if draft.kind == "reading" and "celsius" in draft.fields]
    if not told:
        return None
    for at in range(1, len(scene.items)):
        item, before = scene.items[at], scene.items[at - 1]
        if item.kind not in ("N", "H") or scene.used[at] or scene.moods[at] != "fact":
            continue
        value = float(item.value.value if item.kind == "N" else item.value)
        a, b = scene.segment(at)
        words = [each for each in scene.items[a:b] if each.word not in _SMALL and each.kind != "."]
        unknown = before.kind == "" and before.word.isalpha() and before.word not in _SMALL | _NO_SPOT
        if unknown and len(words) == 2 and 60 <= value <= 600 and value == int(value) and scene.used[at - 1] is None:
            about: dict[str, Any] = {key: told[-1].fields[key] for key in ("oven", "tool") if key in told[-1].fields}
            return Ask(
                f"{value:g} {before.word}: floor, air or ceiling?",
                {"is": "reading", **about, "celsius": value},
                "place",
                ("floor", "air", "dome"),
            )
    return None


_SMALL = bag("the a is at 's was now and on in of about around")
_NO_SPOT = bag(
    "from was not than to by over under above below down up ago minus plus target want need wanted expected aim page "
    "room "
    "class table guests bus number no code price hit peak max min last lost gained dropped"
)


def _bare_number(scene: Scene) -> Ask | None:
    """ "two ten" alone: a time or a heat? The hour or the last readings may tell; else it is asked."""
    items = [
        item
        for item in scene.items
        if item.kind != "."
        and not (
            item.kind == ""
            and item.word
            in bag("it 's is at now just about on the its in there here reading still temp only reads says")
        )
    ]
    if len(items) != 1 or items[0].kind not in ("N", "T") or scene.drafts:
        return None
    item = items[0]
    value, clock = _both(item)
    if value is None or not 60 <= value <= 600:
        return None
    if clock is None:
        return _bare_heat(scene, value)
    heats = last_heats(scene, None)
    if any(abs(heat - value) <= NEAR_K for heat in heats.values()):
        near = [place for place, heat in heats.items() if abs(heat - value) <= NEAR_K]
        about: dict[str, Any] = {"is": "reading", "celsius": value}
        if len(near) > 1:
            return Ask(f"{value:g}: floor, air or ceiling?", about, "place", ("floor", "air", "dome"))
        return Ask(f"{value:g} on which spot?", about, "place", ("floor", "air", "dome"))
    if scene.message_of(item).isdigit() and value >= 100 and heats and not _asked_just_now(scene):
        return _bare_heat(scene, value)  # typed as a heat is, where heats are told
    said = _likely(clock, scene.context.now)
    return Ask(
        f"{value:g} degrees, or the time {said}?", {"is": "reading", "celsius": value}, "celsius", ("heat", "time")
    )


def _cold_or_clock(scene: Scene) -> Ask | None:
    """ "stew is at 6" where nobody has told of chilling it: as cold as that, or ready at that hour?"""
    if scene.drafts or "D" not in scene.kinds or "T" not in scene.kinds:
        return None
    for found in scene.find(r"(?P<dish><D>)(?: (?:'s|is|are|now))+ (?:at|down to) (?P<v><T>)(?: now)?(?: [.!])*$"):
        word = scene.message_of(scene.item(found["v"]))
        if found.first == 0 or scene.items[found.first - 1].word in ("the", "our", "my", "."):
            if not word.isdigit() or int(word) > WARMEST_COLD_C:
                return None
            about = {"is": "food", "dish": found.name("dish"), "celsius": float(word)}
            return Ask(f"{word} degrees, or the time?", about, "celsius", ("heat", "time"))
    return None


# A dish this cold is one that was chilled [degC]; a number above is no clock's hour either.
WARMEST_COLD_C = 12


_TWO = compiled(r"(?P<one><N>) [/] (?P<other><N>)(?: [.!])*")


def _two_alone(scene: Scene) -> None:
    """ "221/208", and nothing that tells of what: the line says what to write instead."""
    match = _TWO.fullmatch(scene.row.canon)
    values = [scene.number(match[name]) or 0.0 for name in ("one", "other")] if match is not None else []
    if values and not scene.drafts and all(100 <= value <= 450 for value in values) and scene.trouble is None:
        text = scene.row.text(0, len(scene.items))
        such = f"floor {values[0]:g} air {values[1]:g}"
        scene.trouble = f"{text}: which is the floor, which the air? Write such as '{such}'."


def _likely(clock: Clock, now: datetime) -> str:
    """The one of the two times in waking hours, the nearer one if both are: "two ten" at 11:50 is 14:10."""
    found = [divmod(minute, 60) for minute in clock.day_minutes()]
    awake = [each for each in found if 5 <= each[0] <= 22] or found
    here = now.hour * 60 + now.minute
    hour, minute = min(awake, key=lambda each: abs(each[0] * 60 + each[1] - here))
    return f"{hour:02}:{minute:02}"


def _bare_heat(scene: Scene, value: float) -> Ask | None:
    """ "180" alone is no time: a heat, if nobody has just asked for another number."""
    in_f = scene.context.sender in scene.context.fahrenheit
    if _asked_just_now(scene) or not 100 <= value <= (850 if in_f else 450) or value != int(value):
        return None
    return Ask(
        f"{value:g}{' F' if in_f else ''}: a heat? Floor, air or ceiling?",
        {"is": "reading", "celsius": fahrenheit(value) if in_f else value},
        "place",
        ("floor", "air", "dome"),
    )


def _asked_just_now(scene: Scene) -> bool:
    return any(
        scene.context.now - said.at <= timedelta(minutes=5) and "?" in said.text for said in scene.context.last[-2:]
    )


def _both(item: Item) -> tuple[float | None, Clock | None]:
    if item.kind != "N" or item.value.value != item.value.value:
        return None, None
    if item.value.clock is None or not item.value.clock[1]:
        return float(item.value.value), None
    hour, minute = item.value.clock
    return float(item.value.value), Clock(hour, minute)


def _move(scene: Scene) -> Ask | None:
    """ "moved it to the barrel" with several dishes known and none spoken of just now."""
    for draft in scene.drafts:
        if draft.kind != "pot" or draft.fields.get("act") != "moved" or "dish" in draft.fields:
            continue
        dishes = scene.context.dishes
        if len(dishes) < 2 or _spoken_of(scene):
            return None
        about = {key: entry for key, entry in draft.fields.items() if key[0] != "_"}
        return Ask(f"Which went over: {_or(dishes)}?", about, "dish", tuple(dishes))
    return None


def _spoken_of(scene: Scene) -> bool:
    """The sender's last message, a few minutes old at most, was about one dish."""
    for said in reversed(scene.context.last):
        if said.who == scene.context.sender:
            names = {fact.dish for fact in said.heard.facts if fact.dish}
            return len(names) == 1 and scene.context.now - said.at <= timedelta(minutes=5)
    return False


def _or(names: tuple[str, ...]) -> str:
    return f"{', '.join(names[:-1])} or {names[-1]}" if len(names) > 1 else names[0]
