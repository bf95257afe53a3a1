"""A bare value that mends what its sender said a moment before: "no hang on, twenty to six", "it was 500 ml"."""

from __future__ import annotations

from datetime import timedelta
from typing import Any

from bot.reading.clock_times import Ago, Clock
from bot.reading.lexicon import bag
from bot.reading.numbers import Number
from bot.reading.scene import Scene, compiled
from bot.reading.units import fahrenheit

# As long as a person takes to see her own mistake (common practice, no source).
SOON = timedelta(minutes=5)
# "Make that" can only be said of what was told before, and is said later.
LATE = timedelta(minutes=20)

_PARDON = (
    r"(?:no|nope|nah|sorry|soz|oops|whoops|ah|oh|argh|wait|hang on|hold on|hmm|er|ugh|doh|apologies|excuse me|pardon|"
    r"correction|typo|my mistake|my bad|i mean|i meant|meant|wrong|actually|rather)"
)
_SAYS = (
    r"(?:(?:it|that|this|one|last one|that one|which) (?:was|should be|should have been|should say|should read)"
    r"|should be|should have been|should say|should read|make that|make it|more like|i mean|i meant|meant|was"
    r"|(?:it|that) (?:was|is|'s))"
)
_SMALL = r"(?:at|about|around|actually|really|in fact|only|more like|with|on|in)"
_OF = r"(?:people|guests|of us|splits?|logs?|pieces|degrees|count|seconds|o'clock|all told|in total|now|not then)"
_BARE = compiled(
    rf"(?P<cue>(?:{_PARDON}(?: [,.!:-])* ?)*(?:{_SAYS} )?(?:{_SMALL} )*)"
    rf"(?P<value><T>|<A>|<N>|<H>|<K>|<L>|<C>|<I>)(?: {_OF})?(?P<tail>(?: [,.!-]| {_PARDON})*)"
)


# Why it was told wrong says nothing more: "no sorry 198, bad eyes".
_EXCUSE = compiled(
    r"(.*\S) ?[,.-] (?:(?:<W>) ){0,3}(?:eyes|glasses|specs|thumbs|thumb|fingers|gloves|light|dark|steam|smoke"
    r"|handwriting|screen|typing|autocorrect|sorry)(?: [.!])*"
)


def _without_excuse(scene: Scene) -> str:
    match = _EXCUSE.fullmatch(scene.row.canon)
    return match[1] if match is not None else scene.row.canon


# "the 10.10 one was 156": a heat told before, picked by its time.
_PICKED = compiled(
    rf"(?:{_PARDON}(?: ,)? )*(?:my |that )?(?P<at><T>|<N>)(?: (?P<place><P>))? (?:one|reading|number|temp|figure|entry)"
    rf" (?:was|is|'s|should be|should say|should have been|meant)(?: {_SMALL})* (?P<value><V>)(?: [.!])*"
)


def mend_last(scene: Scene) -> None:
    """The correction, if the words are nothing but one and the sender's last message holds what it can mend."""
    found = _picked(scene) or _other_unit(scene)
    if found is not None:
        scene.add({"is": "fix", "act": "replace", **found}, 0, len(scene.items), "correction")
        return
    match = _BARE.fullmatch(scene.row.canon) or _BARE.fullmatch(_without_excuse(scene))
    if match is None:
        return
    if not (compiled(rf".*(?:{_PARDON}|{_SAYS}).*").fullmatch(match["cue"]) or match["tail"].strip(" .!,-")):
        return
    told = _told_last(scene, LATE if "make that" in match["cue"] else SOON)
    found = _mended(scene, match["value"], told)
    if found is not None:
        scene.add({"is": "fix", "act": "replace", **found}, 0, len(scene.items), "correction")


def _picked(scene: Scene) -> dict[str, Any] | None:
    match = _PICKED.fullmatch(scene.row.canon)
    clock = scene.clock(match["at"]) if match is not None else None
    if match is None or not isinstance(clock, Clock) or clock.hour is None:
        return None
    at = scene.past(clock)
    for said in reversed(scene.context.last):
        for fact in (each.said() for each in said.heard.facts):
            when = fact.get("at", f"{said.at:%H:%M}")
            if when == at and "celsius" in fact and fact["is"] in ("reading", "food"):
                place = {"place": scene.name(match["place"])} if match["place"] else {}
                return {"of": fact["is"], "at": at, **place, "celsius": scene.number(match["value"])}
    return None


def _other_unit(scene: Scene) -> dict[str, Any] | None:
    """ "it is in Fahrenheit, the american thermometer": said of the heat that its sender just told."""
    numbers = any(item.kind in ("N", "H", "T") for item in scene.items)
    asks = scene.items[-1].word == "?" if scene.items else True
    says_f = scene.has_any(bag("fahrenheit farenheit")) or _F_ALONE.fullmatch(scene.row.canon) is not None
    if numbers or asks or not says_f or scene.has_any(bag("not celsius isn't")):
        return None
    heats = [fact for fact in _told_last(scene) if "celsius" in fact and fact["is"] in ("reading", "food")]
    if len(heats) != 1 or not _written(scene, float(heats[0]["celsius"])):
        return None
    kept: dict[str, Any] = {key: heats[0][key] for key in ("place", "part", "oven", "tool", "dish") if key in heats[0]}
    return {"of": heats[0]["is"], **kept, "celsius": round(fahrenheit(float(heats[0]["celsius"])), 1)}


_F_ALONE = compiled(
    r"(?:sorry |oh |no )*(?:(?:that|it|this) (?:is|was|'s) (?:in )?f|f(?: (?:that|it) (?:is|was))?)(?: [.!])*"
)


def _written(scene: Scene, value: float) -> bool:
    """Whether its sender wrote this very number: one that was turned to Celsius already is not turned twice."""
    own = [said for said in scene.context.last if said.who == scene.context.sender and said.heard.facts]
    text = own[-1].text
    return f"{value:g}" in text or not any(each.isdigit() for each in text)


def _told_last(scene: Scene, within: timedelta = SOON) -> list[dict[str, Any]]:
    own = [said for said in scene.context.last if said.who == scene.context.sender and said.heard.facts]
    if scene.context.sender is None or not own or scene.context.now - own[-1].at > within:
        return []
    return [fact.said() for fact in own[-1].heard.facts]


_MEASURES = {"L": ("litres", "liquid_l"), "K": ("meat_kg", "wood_kg"), "C": ("depth_cm", "across_cm")}
# No oven and no food is told of below this [degC]; common practice, no source.
LEAST_HEAT = 20
_COUNTED = bag("people guests us splits split logs log pieces count seconds total told")
_COUNTS = ("pieces", "count", "guests")


def _mended(scene: Scene, token: str, told: list[dict[str, Any]]) -> dict[str, Any] | None:
    kind, item = token[0], scene.item(token)
    clock = scene.clock(token) if kind in "TAN" else None
    for fact in reversed(told):
        of = fact.get("of", fact["is"]) if fact["is"] == "fix" else fact["is"]
        timed = "at" in fact and of in ("pot", "fire", "door", "stage", "reading", "food", "check", "chill", "reheat")
        if kind in "TA" and clock is not None:
            if of == "serve":
                return {"of": of, "by": scene.coming_meal(clock)}
            if timed or (isinstance(clock, Clock | Ago) and of in ("pot", "fire", "stage") and "pieces" not in fact):
                return {"of": of, "at": scene.past(clock)}
        elif kind in _MEASURES:
            key = next((key for key in _MEASURES[kind] if key in fact), None)
            if key is not None:
                return {"of": of, key: item.value}
        elif kind == "I" and of == "reading" and "celsius" in fact and fact.get("place") != "air":
            return {"of": of, "tool": "infrared"}
        elif kind == "N" and isinstance(item.value, Number):
            value = item.value.value
            key = next((key for key in _COUNTS if isinstance(fact.get(key), int | float)), None)
            bare = "celsius" in fact and of in ("reading", "food") and scene.kinds <= {"", ".", "N"}
            if bare and value >= LEAST_HEAT and not scene.has_any(_COUNTED):
                return {"of": of, "celsius": value}
            if key is not None and value % 1 == 0 and 0 < value < 200:
                return {"of": of, key: int(value) if key != "pieces" else value}
            written = "." in item.word or item.value.words or item.value.zero_led
            if timed and written and isinstance(clock, Clock) and "celsius" not in fact:
                return {"of": of, "at": scene.past(clock)}
    return None
