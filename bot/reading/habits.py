"""What this room's talk has shown of how its people tell things: which spot a bare heat of an oven is of, who writes in
Fahrenheit. Both were asked once; asked again they would only tire people."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from datetime import timedelta
from typing import Any

from bot.reading.asking import NEAR_K, last_heats
from bot.reading.context import Pending
from bot.reading.lexicon import bag
from bot.reading.scene import Draft, Scene
from bot.reading.units import fahrenheit
from skills.vocabulary import Fact, Reading

_F = re.compile(r"\d ?(?:°|deg(?:rees|s)?)? ?F\b|\bfahrenheit\b", re.IGNORECASE)
_C = re.compile(r"\d ?(?:°|deg(?:rees|s)?)? ?C\b|\b(?:celsius|centigrade)\b", re.IGNORECASE)
# Said by itself of what was just told: "sorry F", "that's in F".
_F_ALONE = re.compile(r"(?:(?:sorry|oh|no|oops|it|that|thats|that's|its|it's|is|was|in|all|mine|my|dial|gauge|always)"
                      r"[\s,]+)*(?:F|fahrenheit)(?:[\s,]+(?:sorry|always|all of it|btw|by the way))*[\s.!]*",
                      re.IGNORECASE)
# Said of all that one tells: "i only do fahrenheit", "im on F here".
_F_MINE = re.compile(
    r"(?:[a-z' ]+[\s,]+)?(?:i|i'm|im|we|we're|my \w+|mine|mine's)\b[\s,]*"
    r"(?:(?:only|always|just|all|do|does|use|work|think|read|reads|write|say|talk|know|speak|'m|am|are|is|in|on|from|it)"
    r"[\s,]+)+(?:F|fahrenheit)(?:[\s,]+(?:sorry|here|always|btw|ok|folks|guys|me))*[\s.!]*", re.IGNORECASE)
# A borrowed gun or dial shows its owner's unit, not that of who reads it.
_OTHERS_TOOL = re.compile(
    r"\b(?:visitors?|guests?|american|borrowed|\w+'s|\w{2,}s'?) (?:gun|dial|gauge|thermometer|laser|ir)\b",
    re.IGNORECASE)
# Who wrote Fahrenheit so often without being asked, and never Celsius, means it always (common practice, no source).
OFTEN_F = 2
# What is meant by a bare number of one who writes Fahrenheit [as written]; below, it is no such heat in Fahrenheit.
LEAST_F = {"reading": 140.0, "food": 100.0, "store": 30.0, "weather": 40.0}
COLDEST_HOT_F = 110.0
# Below this an oven that is cooked in may well be in Celsius [degC].
HOTTEST_C = 300.0
# Wet food boils before it is this hot [degC]: above, its probe shows Fahrenheit.
HOTTEST_FOOD_C = 120.0
# As far as the air of an oven may have moved since it was last told of [K]; common practice, no source.
MOVED_K = 90.0


def spots_meant(answered: Iterable[tuple[Pending, Sequence[Mapping[str, Any]]]]) -> tuple[tuple[str, str], ...]:
    """For every oven the spot that was answered when a bare heat of it was asked about; the latest stands."""
    found: dict[str, str] = {}
    for pending, facts in answered:
        if pending.missing != "place" or pending.about.get("tool") == "infrared":
            continue  # a gun is pointed anywhere; a number without it is of what hangs or sits in the oven
        for fact in facts:
            if fact["is"] == "reading" and fact.get("celsius") == pending.about.get("celsius"):
                found[str(fact.get("oven", ""))] = str(fact.get("place", ""))
    return tuple((oven, place) for oven, place in found.items() if place in ("floor", "air", "dome"))


def in_fahrenheit(said: Iterable[tuple[str, str, Sequence[float]]],
                  answered: Iterable[tuple[Pending, str, str, str]]) -> tuple[str, ...]:
    """Who writes Fahrenheit alone.

    said: who wrote what, and the heats of ovens that were taken of it as plainly Celsius. answered: what was asked, who
    answered, what it was asked of, in what words.
    """
    often: dict[str, int] = {}
    for pending, who, asked, text in answered:
        own = pending.missing == "unit" and not _OTHERS_TOOL.search(f"{asked} {text}")
        if own and re.search(r"\bf\b|fahrenheit|american", text, re.IGNORECASE):
            often[who] = OFTEN_F
    celsius = set()
    for who, text, heats in said:
        if _F_ALONE.fullmatch(text.strip()) or _F_MINE.fullmatch(text.strip()):
            often[who] = OFTEN_F
        often[who] = often.get(who, 0) + bool(_F.search(text))
        if _C.search(text) or any(f"{heat:g}" in text for heat in heats):
            celsius.add(who)
    return tuple(who for who, times in often.items() if times >= OFTEN_F and who not in celsius)


def plainly_celsius(facts: Sequence[Fact]) -> list[float]:
    """The heats of ovens among these that are none of the round numbers of a Fahrenheit dial."""
    heats = [float(fact.celsius) for fact in facts if isinstance(fact, Reading) and fact.celsius is not None]
    return [heat for heat in heats if heat < HOTTEST_C and heat % 25]


def spot_as_before(scene: Scene) -> None:
    """ "barrel 150", when it was asked once today of which spot: the same spot, if nothing speaks against it."""
    for draft in scene.drafts:
        place = dict(scene.context.spots).get(str(draft.fields.get("oven", "")))
        if draft.kind != "reading" or "celsius" not in draft.fields or "place" in draft.fields or place is None:
            continue
        if draft.fields.get("tool") == "infrared":
            continue
        value = float(draft.fields["celsius"])
        heats = last_heats(scene, draft.fields.get("oven"))
        others = [heat for spot, heat in heats.items() if spot != place and abs(heat - value) <= NEAR_K]
        near = place not in heats or abs(heats[place] - value) <= (NEAR_K if others else MOVED_K)
        if near:
            draft.fields["place"] = place


# Cooler than this a bare number may as well be a core's or a count [as written].
LEAST_BARE, MOST_BARE = 100.0, 600.0
_JUST_ASKED = timedelta(minutes=5)


def number_as_before(scene: Scene) -> None:
    """ "215" in a room that was asked once which spot a number alone is of: that one's, if it may be."""
    items = [item for item in scene.items if item.kind != "."]
    if len(items) != 1 or items[0].kind != "N" or scene.drafts or not scene.message_of(items[0]).isdigit():
        return
    value, now = float(scene.message_of(items[0])), scene.context.now
    asked = any(now - said.at <= _JUST_ASKED and "?" in said.text for said in scene.context.last[-2:])
    if asked or scene.context.pending is not None or not LEAST_BARE <= value <= MOST_BARE:
        return
    if "" in dict(scene.context.spots):
        scene.add({"is": "reading", "celsius": value}, 0, len(scene.items), "heat of the spot told before")


def unit_as_before(scene: Scene) -> None:
    """A bare heat of one who writes Fahrenheit, unless it is near what its spot was in Celsius."""
    if scene.context.sender not in scene.context.fahrenheit:
        return
    for draft in scene.drafts:
        value = draft.fields.get("celsius")
        if draft.kind not in LEAST_F or value is None or not _bare(scene, draft):
            continue
        meant = fahrenheit(float(value))
        least = COLDEST_HOT_F if draft.fields.get("place") == "hot_hold" else LEAST_F[draft.kind]
        known = last_heats(scene, draft.fields.get("oven")) if draft.kind == "reading" else {}
        last = known.get(str(draft.fields.get("place")))
        nearer = last is not None and abs(last - float(value)) < abs(last - meant)
        if value >= least and not nearer:
            draft.fields["celsius"] = meant


_NO_UNIT = bag("c f celsius fahrenheit centigrade")


def _bare(scene: Scene, draft: Draft) -> bool:
    items = scene.items[draft.first : draft.last]
    return not any(item.kind == "H" or item.word in _NO_UNIT for item in items)
