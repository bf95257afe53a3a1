"""Corrections that hold only a name, a place, a time or a number: what they mend is what was said lately."""

from __future__ import annotations

from typing import Any

from bot.reading.clock_times import Clock
from bot.reading.items import Item
from bot.reading.lexicon import bag, longest, phrase_set
from bot.reading.mended import length_mended, unit_mended
from bot.reading.scene import Scene

# No oven and no food is told of below this [degC]; common practice, no source.
LEAST_HEAT = 20


def bare_fix(scene: Scene, sub: Scene, sure: bool, denied: list[tuple[int, int]]) -> dict[str, Any] | None:
    """A correction that holds only a name, a place, a time or a number."""
    items = [item for item in sub.items if item.kind != "."]
    words = [
        item
        for item in items
        if item.kind == ""
        and item.word
        not in bag(
            "the it that was i is 's a on for of one at to oven reading about this all those were be from no "
            "ah oh wait meant and so said last my both by just with message been temp them guys everyone entry "
            "excuse me pardon "
            "post number readings have had not say says really"
        )
    ]
    told = {word.word for word in words}
    if not told <= bag(
        "guests people degrees probe kg splits split logs guest count minutes pieces door pot core "
        "celsius cold hot warm wet dry off ajar shut open closed lit went gone served cornflour us "
        "are eating out half ago earlier in deep depth tray trays tub tubs insulation across wide thick thickness "
        "lagging shell brick bricks eyes glasses specs gloves steam "
        "smoke bad cold blind feed load weight meat weighed weighs joint f c fahrenheit farenheit celsius "
        "centigrade degs wood"
    ) | {word.word for word in words if longest([word.word], "wood", "species")}:
        return None
    fields: dict[str, Any] = {}
    species = longest([word.word for word in words], "wood", "species")
    if species is not None and denied:
        fields.update(of="fire", species=" ".join(word.word for word in words[species[0] : species[1]]))
        for each in items:
            if each.kind == "K":
                fields["wood_kg"] = each.value
            elif each.kind == "N" and told & {"splits", "split", "logs", "pieces"}:
                fields["pieces"] = each.value.value
        fields.update({"oven": str(item.value)} if (item := next((o for o in items if o.kind == "O"), None)) else {})
        return fields
    no_value = not any(item.kind in ("N", "H", "T", "A", "K", "L", "C") for item in items)
    if sure and no_value and (unit := unit_mended(scene, told)) is not None:
        return unit
    if denied and len(words) == 1 and words[0].word in _INGREDIENTS:
        return {"of": "contents", "item": words[0].word}
    for item in items:
        if item.kind == "O":
            fields["oven"] = str(item.value)
        elif item.kind == "D":
            if str(item.value) in scene.context.dishes or item.words not in phrase_set("liquids", "words"):
                fields["dish"] = str(item.value)
        elif item.kind == "P":
            fields["place"] = str(item.value)
            fields["of"] = "reading"
        elif item.kind in ("T", "A"):
            fields["at"] = scene.past(item.value)
        elif item.kind == "H":
            fields["celsius"] = item.value
            fields["of"] = "reading"
        elif item.kind == "K":
            fields.update(
                {"of": "fire", "wood_kg": item.value} if "wood" in told else {"of": "load", "meat_kg": item.value}
            )
        elif item.kind == "L":
            fields["liquid_l"] = item.value
            fields["of"] = "load"
        elif item.kind == "C":
            places = {word for each in items if each.kind in ("P", "O") for word in each.words}
            fields.update(length_mended(item, told | places, any(each.kind == "O" for each in items)))
            fields.pop("place", None)
        elif item.kind == "N":
            _bare_number(scene, fields, item, {word.word for word in words})
        elif item.kind == "I":
            fields["tool"] = "infrared"
            fields["of"] = "reading"
    if any(word.word == "probe" for word in words) and "celsius" in fields:
        fields.update(place="floor", tool="probe", of="reading")
    if any(word.word == "core" for word in words) and "celsius" in fields:
        fields.update(part="core", of="food")
    states = {"off": "off", "ajar": "ajar", "shut": "on", "open": "off", "closed": "on"}
    for word in words:
        if word.word in states and denied:
            fields.update(of="door", state=states[word.word])
    if "at" in fields and "of" not in fields:
        acts = {"in": "pot", "out": "pot", "lit": "fire", "served": "stage"}
        kind = next((acts[word] for word in ("lit", "served", "in", "out") if word in told), None)
        if kind is not None:
            fields["of"] = kind
    if not fields or (not sure and set(fields) <= bag("oven dish place of at")):
        return None
    if "at" in fields and "of" not in fields and (kind := _told_at(scene, denied)) is not None:
        fields["of"] = kind
        if kind == "serve":
            del fields["at"]
            fields["by"] = next(scene.coming_meal(item.value) for item in items if item.kind in ("T", "A"))
    _kind_of_last(scene, fields, denied)
    if fields.get("of") == "reading" and "dish" in fields and not fields.keys() & {"oven", "place", "tool"}:
        fields["of"] = "food"
    return fields or None


def _told_at(scene: Scene, denied: list[tuple[int, int]]) -> str | None:
    """ "twenty five past, not half past": the kind of what was told to have been at the wrong time."""
    clocks = [item.value for a, b in denied for item in scene.items[a:b] if item.kind == "T"]
    wrong, meals = {scene.past(clock) for clock in clocks}, {scene.coming_meal(clock) for clock in clocks}
    for said in reversed(scene.context.last):
        for fact in said.heard.facts:
            told = fact.said()
            if meals & {told.get("by"), told.get("serve")} and fact.is_ in ("serve", "class"):
                return "serve"
            if fact.at is not None and fact.said().get("at") in wrong and fact.is_ != "fix":
                return fact.is_
    return None


_INGREDIENTS = bag("cornflour cornstarch flour butter margarine oil cream oat soya potato rice buckwheat spelt rye")


def _bare_number(scene: Scene, fields: dict[str, Any], item: Item, words: set[str]) -> None:
    value = item.value.value
    if value != value:
        if item.value.clock is not None:
            fields["at"] = scene.past(Clock(*item.value.clock))
        return
    if words & {"guests", "people", "guest", "us"}:
        fields.update(of="guests", count=int(value))
    elif words & {"splits", "split", "logs", "pieces"}:
        fields.update(of="fire", pieces=value)
    elif words & {"count"}:
        fields.update(of="reading", count=value)
    elif value >= 25:
        fields.update(of="reading", celsius=value)
    else:
        fields["_number"] = value
        if item.value.clock is not None and item.value.clock[1] and "." in item.word:
            fields["_clock"] = scene.past(Clock(*item.value.clock))
            fields["_meal"] = scene.coming_meal(Clock(*item.value.clock))


def _last_heated(scene: Scene) -> str | None:
    """What the sender told a heat of last, or anyone: an oven's spot, a food or a fridge."""
    who = scene.context.sender
    own = [said for said in scene.context.last if who is None or said.who == who]
    for said in (*reversed(own), *reversed(scene.context.last)):
        for fact in reversed(said.heard.facts):
            if "celsius" in fact.said() and fact.is_ in ("reading", "food", "store"):
                return fact.is_
    return None


def _kind_of_last(scene: Scene, fields: dict[str, Any], denied: list[tuple[int, int]]) -> None:
    """What a bare number mends: the thing said lately that held the wrong one, else the last that held any number."""
    number = fields.pop("_number", None)
    clock, meal = fields.pop("_clock", None), fields.pop("_meal", None)
    if clock is not None:
        for said in reversed(scene.context.last):
            for fact in reversed(said.heard.facts):
                if fact.is_ in bag("pot fire door stage chill reheat"):
                    fields.update({"of": fact.is_, "at": clock})
                    return
                if fact.is_ in ("serve", "class") or "celsius" in fact.said():
                    if fact.is_ == "serve":
                        fields.pop("_number", None)
                        fields.update({"of": "serve", "by": meal})
                        return
                    break
    value = number if number is not None else fields.get("celsius")
    if value is None:
        return
    if fields.get("of") == "reading" and "celsius" in fields and not fields.keys() & {"place", "tool", "at"}:
        fields["of"] = _last_heated(scene) or "reading"
    wrong = {float(scene.number(f"N{n}") or 0.0) for a, b in denied for n in range(a, b) if scene.items[n].kind == "N"}
    wrong |= {float(scene.number(f"H{n}") or 0.0) for a, b in denied for n in range(a, b) if scene.items[n].kind == "H"}
    keys: tuple[str, ...] = ("celsius", "count", "guests", "meat_kg", "liquid_l", "pieces", "wood_kg", "depth_cm")
    keys += ("litres", "moisture_pct")
    latest: tuple[str, str] | None = None
    for said in reversed(scene.context.last):
        for fact in reversed(said.heard.facts):
            data = fact.said()
            for key in keys:
                if key in data and not isinstance(data[key], str):
                    if float(data[key]) in wrong:
                        fields.pop("celsius", None)
                        fields.update({"of": data["is"], key: value})
                        return
                    latest = latest or (str(data["is"]), key)
    warm = latest is not None and latest[1] == "celsius" and latest[0] in ("reading", "food")
    if number is not None and latest is not None and not (warm and number < LEAST_HEAT):
        fields.update({"of": latest[0], latest[1]: number})
