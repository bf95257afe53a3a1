"""One word for two: "both doors open", "lamb and beans out, both resting"."""

from __future__ import annotations

from dataclasses import replace

from bot.reading.lexicon import bag
from bot.reading.scene import Draft, Scene
from bot.reading.subjects import is_stuff

_OF_OVENS = frozenset(bag("door fire"))
_OF_DISHES = frozenset(bag("pot check stage chill reheat"))


def tell_of_both(scene: Scene) -> None:
    """Give a fact that is told of both to each of the two: those just named, else the only two that the room has."""
    _each_oven_of_a_list(scene)
    for draft in list(scene.drafts):
        key, kind, known = ("oven", "O", scene.context.ovens) if draft.kind in _OF_OVENS else (
            "dish", "D", scene.context.dishes)
        words = _around(scene, draft) & {"both", "all"}
        joined = _joined(scene, draft) if draft.kind in ("stage", "check") and not draft.question else []
        if joined:
            at = scene.drafts.index(draft)
            scene.drafts[at : at + 1] = [replace(draft, fields={**draft.fields, key: name}) for name in joined]
            continue
        if draft.question or draft.kind not in _OF_OVENS | _OF_DISHES or not words:
            continue
        if words == {"all"} and "it" in _around(scene, draft):
            continue  # "it's all browned" is of one
        if any(item.kind == kind for item in scene.items[draft.first : draft.last]):
            continue
        named = [n for n, item in enumerate(scene.items[: draft.first]) if item.kind == kind]
        names = list(dict.fromkeys(str(scene.items[n].value) for n in named if kind == "O" or not is_stuff(scene, n)))
        if not names and words == {"both"}:
            names = list(known)
        if len(names) < 2 or (words == {"both"} and len(names) != 2):
            if words == {"both"}:
                draft.fields.pop(key, None)
            continue
        at = scene.drafts.index(draft)
        scene.drafts[at : at + 1] = [replace(draft, fields={**draft.fields, key: name}) for name in names]


_LISTED = bag("and plus & the our")
_SHARED = frozenset({"pieces", "wood_kg"})


def _each_oven_of_a_list(scene: Scene) -> None:
    """ "dome and barrel lit", "doors on dome and barrel": one act told of ovens that "and" joins is told of each; an
    amount of wood is each one's only if that is said."""
    runs: list[list[int]] = []
    for at in (n for n, item in enumerate(scene.items) if item.kind == "O"):
        before = runs[-1][-1] if runs else None
        joined = before is not None and before < at - 1 and all(
            item.word in _LISTED for item in scene.items[before + 1 : at])
        if joined:
            runs[-1].append(at)
        else:
            runs.append([at])
    for run in (each for each in runs if len(each) > 1):
        names = list(dict.fromkeys(str(scene.items[n].value) for n in run))
        first, last = scene.segment(run[0])
        told = [draft for draft in scene.drafts if first <= draft.first < last and draft.kind in _OF_OVENS]
        if len(told) != 1 or told[0].question or told[0].fields.get("oven") not in names or len(names) < 2:
            continue
        draft = told[0]
        near = draft.first <= run[-1] + _NEAR and run[0] <= draft.last + _NEAR
        amount = draft.fields.keys() & _SHARED and "each" not in scene.row.words(first, scene.sentence(run[0])[1])
        if near and not amount and "not" not in scene.row.words(first, last):
            at = scene.drafts.index(draft)
            scene.drafts[at : at + 1] = [replace(draft, fields={**draft.fields, "oven": name}) for name in names]


# So few words may stand between a list of ovens and what was done to them.
_NEAR = 3
_BETWEEN = bag("the are were is 's have been now both all just our and ,")


def _joined(scene: Scene, draft: Draft) -> list[str]:
    """The dishes of "lamb and beans served": a list that the word stands behind, joined by "and"."""
    names: list[str] = []
    at = draft.last if any(item.kind == "D" for item in scene.items[draft.first : draft.last]) else draft.first
    joined = False
    while at and (scene.items[at - 1].kind == "D" or scene.items[at - 1].word in _BETWEEN or at > draft.first):
        at -= 1
        item = scene.items[at]
        if item.kind == "D" and not is_stuff(scene, at):
            names.insert(0, str(item.value))
        joined = joined or (item.word == "and" and bool(names) and at > 0 and scene.items[at - 1].kind == "D")
    lone = all(other is draft or other.last <= at or other.first >= draft.last for other in scene.drafts)
    return names if joined and lone and len(set(names)) == len(names) > 1 else []


def _around(scene: Scene, draft: Draft) -> set[str]:
    first = draft.first
    while first and scene.items[first - 1].word in _THINGS:
        first -= 1
    return {item.word for item in scene.items[max(0, first - 1) : draft.last + 1] if item.kind == ""}


_THINGS = bag("ovens oven doors door fires fire pots pot dishes lids lid the are 's of them")
