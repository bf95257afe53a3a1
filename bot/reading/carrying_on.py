"""A message that goes on with what its sender said a moment before: "lamb core 88", then "and its liquor is low"."""

from __future__ import annotations

from datetime import timedelta
from typing import Any

from bot.reading.carry import DISH_KINDS, DISH_QUESTIONS, OVEN_KINDS, OVEN_QUESTIONS
from bot.reading.context import Said
from bot.reading.lexicon import bag
from bot.reading.scene import Draft, Scene, compiled

# As long as a person takes to look again and type on (common practice, no source).
A_MOMENT = timedelta(minutes=3)

# So long after a heat "now 168" goes on with it, if it is no further off [K]; common practice, no source.
STILL_THERE, MOST_MOVED_K = timedelta(minutes=30), 60.0
_SMALL = r"(?:(?:and|it|it 's|is|still|down|up|back|at|to|about|around|only) )*"
_NOW_HEAT = rf"(?:{_SMALL}now {_SMALL}<V>|(?:back )?(?:down|up) to <V>(?: now)?)(?: [.!])*"

_JOINS = bag("and also plus then")
_LEADS = bag("oh ah ok right yes yep sorry")
_TOO = bag("too also well")
_PRONOUNS = bag("it they them that this those these its their")
# Said of a dish that was just looked into, these need no word that joins them: "giving now", "out and resting".
_LOOKED = bag("check food stage")
_DONE_TO_IT = bag("out turned topped_up lid_on lid_off")


def carry_on(scene: Scene) -> None:
    """What goes on with a message before it: a heat of the same spot, the names its sender spoke of just before."""
    _same_spot_now(scene)
    said = _just_before(scene)
    if said is None:
        return
    joined = _joined(scene)
    for kind, key, facts, questions in (
        ("O", "oven", OVEN_KINDS, OVEN_QUESTIONS),
        ("D", "dish", DISH_KINDS, DISH_QUESTIONS | {"why"}),
    ):
        name = _name(said, key)
        if name is None or any(item.kind == kind for item in scene.items):
            continue
        for draft in scene.drafts:
            goes = draft.kind in (questions if draft.question else facts)
            if goes and key not in draft.fields and (joined or _goes_on(scene, draft, key)):
                draft.fields[key] = name
    _same_chill(scene, said)


def _same_spot_now(scene: Scene) -> None:
    """ "air 175", then "now 168": the spot of the last message, if it told of one spot alone."""
    if scene.drafts or not scene.context.last or not compiled(_NOW_HEAT).fullmatch(scene.row.canon):
        return
    told = [fact.said() for fact in scene.context.last[-1].heard.facts]
    value = next(scene.number(f"{item.kind}{at}") for at, item in enumerate(scene.items) if item.kind in ("N", "H"))
    if len(told) != 1 or scene.context.now - scene.context.last[-1].at > STILL_THERE or value is None:
        return
    if told[0]["is"] == "reading" and "place" in told[0] and abs(value - told[0].get("celsius", -999)) <= MOST_MOVED_K:
        spot: dict[str, Any] = {key: told[0].get(key) for key in ("is", "oven", "place", "tool")}
        scene.add({**spot, "celsius": value}, 0, len(scene.items), "the same spot now")


def _just_before(scene: Scene) -> Said | None:
    """The sender's last message, if it told or asked something and is fresh."""
    own = [said for said in scene.context.last if said.who == scene.context.sender]
    if scene.context.sender is None or not own or scene.context.now - own[-1].at > A_MOMENT:
        return None
    return own[-1]


def _name(said: Said, key: str) -> str | None:
    """The one oven or dish that a message was about; None if it was about several or none."""
    entries = [entry for entry in (*said.heard.facts, *said.heard.questions) if entry.is_ not in ("fix", "class")]
    names = {name for entry in entries if (name := getattr(entry, key, None)) is not None}
    return str(names.pop()) if len(names) == 1 else None


def _joined(scene: Scene) -> bool:
    """Whether the words join it to the sentence before: "oh and lid on", "lid on too"."""
    words = [item.word for item in scene.items if item.kind != "."]
    while words and words[0] in _LEADS:
        words.pop(0)
    return bool(words) and (words[0] in _JOINS or words[-1] in _TOO)


def _goes_on(scene: Scene, draft: Draft, key: str) -> bool:
    if key == "dish" and draft.kind in _LOOKED and not draft.question:
        return True
    if key == "dish" and draft.kind == "pot" and draft.fields.get("act") in _DONE_TO_IT:
        return True
    a, b = scene.segment(draft.first)
    words = {item.word for item in scene.items[min(a, draft.first) : max(b, draft.last)] if item.kind == ""}
    return bool(words & _PRONOUNS)


def _same_chill(scene: Scene, said: Said) -> None:
    """ "beans in trays 5 cm deep on ice", then "how long will that take to chill": the depth was given."""
    asked = [draft for draft in scene.drafts if draft.kind == "chill_time" and _goes_on(scene, draft, "")]
    told = [fact.said() for fact in said.heard.facts if fact.is_ == "chill"]
    for draft in asked:
        for key in ("dish", "depth_cm", "litres", "method"):
            if told and key in told[-1]:
                draft.fields.setdefault(key, told[-1][key])
