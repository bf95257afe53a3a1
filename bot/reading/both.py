"""One word for two: "both doors open", "lamb and beans out, both resting"."""

from __future__ import annotations

from dataclasses import replace

from bot.reading.lexicon import bag
from bot.reading.scene import Draft, Scene

_OF_OVENS = frozenset(bag("door fire"))
_OF_DISHES = frozenset(bag("pot check stage chill reheat"))


def tell_of_both(scene: Scene) -> None:
    """Give a fact that is told of both to each of the two: those just named, else the only two that the room has."""
    for draft in list(scene.drafts):
        key, kind, known = ("oven", "O", scene.context.ovens) if draft.kind in _OF_OVENS else (
            "dish", "D", scene.context.dishes)
        words = _around(scene, draft) & {"both", "all"}
        if draft.question or draft.kind not in _OF_OVENS | _OF_DISHES or not words:
            continue
        if any(item.kind == kind for item in scene.items[draft.first : draft.last]):
            continue
        names = list(dict.fromkeys(str(item.value) for item in scene.items[: draft.first] if item.kind == kind))
        if not names and words == {"both"}:
            names = list(known)
        if len(names) < 2 or (words == {"both"} and len(names) != 2):
            if words == {"both"}:
                draft.fields.pop(key, None)
            continue
        at = scene.drafts.index(draft)
        scene.drafts[at : at + 1] = [replace(draft, fields={**draft.fields, key: name}) for name in names]


def _around(scene: Scene, draft: Draft) -> set[str]:
    first = draft.first
    while first and scene.items[first - 1].word in _THINGS:
        first -= 1
    return {item.word for item in scene.items[max(0, first - 1) : draft.last + 1] if item.kind == ""}


_THINGS = bag("ovens oven doors door fires fire pots pot dishes lids lid the are 's of them")
