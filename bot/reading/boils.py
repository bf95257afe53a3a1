"""The hard boil of beans: it makes them safe, so that it counts whenever it was, and however it is told."""

from __future__ import annotations

from bot.reading.lexicon import bag
from bot.reading.scene import Draft, Scene

_BOILED = bag("boiled boil boiling")
# A hard boil: said to be hard, or for how long, or that it has been.
_HARD = bag("hard rolling fast hammering already previously beforehand")
_PULSES = bag("beans bean kidneys borlotti cannellini haricot haricots chickpeas lentils pulses")
_NOT = bag("not never no don't didn't haven't hasn't won't wasn't weren't must should need needs to will shall going "
           "let if when before unless until till egg eggs potatoes spuds pasta rice kettle water stock")


def boils(scene: Scene) -> None:
    """ "beans boiled 15 min hard last night", "boiled em already 20 min": a hard simmer of beans, on whatever day."""
    if not scene.has_any(_BOILED):
        return
    checks = [draft for draft in scene.drafts if draft.kind == "check" and "simmer" in draft.fields]
    for draft in checks:
        _of_pulses(scene, draft)
    if checks:
        return
    for first, last in scene.sentences:
        items = scene.items[first:last]
        words = {word for item in items for word in item.words}
        if "boiled" not in words and not (words & {"boil"} and words & bag("had have has got given gave")):
            continue
        hard = words & _HARD or any(item.kind == "U" for item in items)
        asked = any(mood in ("question", "what_if") for mood in scene.moods[first:last])
        if any(draft.kind == "note" and draft.first < last and first < draft.last for draft in scene.drafts):
            continue  # the note is kept whole, and the rule for beans reads it
        if not hard or words & _NOT or asked or (scene.items and scene.items[-1].word == "?"):
            continue
        named = next((str(item.value) for item in items if item.kind == "D" and set(str(item.value).split()) & _PULSES),
                     None)
        known = [name for name in scene.context.dishes if set(name.split()) & _PULSES]
        if named is None and (len(known) != 1 or any(item.kind == "D" for item in items)):
            continue
        at = next(n for n in range(first, last) if set(scene.items[n].words) & _BOILED)
        fields = {"is": "check", "simmer": "hard"} | ({"dish": named} if named is not None else {})
        scene.add(fields, at, at + 1, "hard boil")


def _of_pulses(scene: Scene, draft: Draft) -> None:
    """ "beans 2 kilo, 6 l water, ham hock in, boiled hard 15 min": of all that is named it is the beans' boil."""
    if draft.fields["simmer"] != "hard":
        return
    words = {word for item in scene.items[draft.first:draft.last] for word in item.words}
    first, last = scene.segment(draft.first)
    if not words & {"boiled"} or any(item.kind == "D" for item in scene.items[first:last]):
        return
    a, b = scene.sentence(draft.first)
    named = [str(item.value) for item in scene.items[a:b] if item.kind == "D"]
    pulses = [name for name in named if set(name.split()) & _PULSES]
    if len(set(pulses)) == 1:
        draft.fields["dish"] = pulses[0]
