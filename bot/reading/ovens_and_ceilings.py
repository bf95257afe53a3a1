"""A "dome" is an oven or the ceiling of one: which of the two is settled here, before any rule looks."""

from __future__ import annotations

from bot.reading.items import Item, Row
from bot.reading.lexicon import bag
from bot.reading.scene import Scene

_INTO = bag(
    "lit relit fired in into using inside fed opened closed shut light feed fire does how's how rake load "
    "unload use start heat from to of raked loaded using emptied"
)


# What is lit, fed, raked or loaded is an oven.
_DONE_TO_OVENS = bag(
    "lit relit raked fed fired alight loaded swept stoked emptied burning kindled going had roaring wet damp soaked "
    "soaking sodden rained"
)


def settle_domes(scene: Scene) -> None:
    """Turn the items of "dome" into what they are meant for."""
    known = "dome" in scene.context.ovens or "the dome" in scene.context.ovens
    items = scene.items
    changed = False
    for at, item in enumerate(items):
        if item.kind not in ("O", "P") or item.value != "dome" or item.words not in (("dome",), ("dome", "oven")):
            continue
        if item.words == ("dome", "oven"):
            continue
        oven = _means_oven(items, at) if not known else not _means_ceiling(items, at)
        kind = "O" if oven else "P"
        if kind != item.kind:
            items[at] = Item(kind, item.word, item.start, item.end, "dome", item.words)
            changed = True
    if changed:
        scene.row = Row(scene.row.message, items)


def _before(items: list[Item], at: int) -> Item | None:
    at -= 1
    while at >= 0 and items[at].kind == "" and items[at].word in ("the", "just", "our"):
        at -= 1
    return items[at] if at >= 0 else None


def _after(items: list[Item], at: int) -> Item | None:
    return items[at + 1] if at + 1 < len(items) else None


def _means_ceiling(items: list[Item], at: int) -> bool:
    """With an oven called dome: the ceiling only beside a tool, or as one spot in a list of spots."""
    before, after = _before(items, at), _after(items, at)
    if after is not None and after.kind == "P":
        return False
    if any(item.word in ("across", "wide", "diameter") for item in items[at + 1 : at + 4]):
        return False
    if before is not None and before.kind == "I":
        return True
    of = next((n for n in range(at - 1, -1, -1) if items[n] is before), 0)
    if before is not None and before.word == "of" and of and items[of - 1].kind == "P":
        return False  # "back of the dome 249"
    if before is not None and before.kind == "" and before.word in ("on", "of", "off", "at") and at >= 2:
        value = next((items[n] for n in range(at - 1, max(-1, at - 6), -1) if items[n].kind in ("N", "H")), None)
        tool = any(item.kind == "I" for item in items[:at])
        if value is not None and tool:
            return True
        if (
            value is not None
            and any(item.kind == "P" for item in items)
            and not any(item.kind == "P" for item in items[max(0, at - 4) : at])
        ):
            return True
    if before is not None and before.kind == "" and before.word == "shot":
        return True
    numbered = after is not None and (
        after.kind in ("N", "H")
        or (after.word in ("'s", "is", "at", "was", ":") and at + 2 < len(items) and items[at + 2].kind in ("N", "H"))
    )
    if not numbered:
        return False
    spots = [
        n
        for n, item in enumerate(items)
        if item.kind == "P"
        and n != at
        and n + 1 < len(items)
        and (items[n + 1].kind in ("N", "H") or items[n + 1].word in ("'s", "is", "at"))
    ]
    others = [item for item in items if item.kind == "O" and item.value != "dome"]
    if before is not None and before.kind == "O":
        return True
    return bool(spots) and not others and (at > 0 or items[-1].kind != "P")


def _described(items: list[Item]) -> bool:
    return any(item.word in ("across", "wide", "diameter", "retained", "tended") for item in items)


def _means_oven(items: list[Item], at: int) -> bool:
    """With no oven known by the name: the oven only where a ceiling makes no sense."""
    before, after = _before(items, at), _after(items, at)
    if after is not None and after.kind == "P":
        return True
    if after is not None and after.kind == "" and after.word in ("door", "oven", "fire", "air"):
        return True
    if before is not None and before.kind == "" and before.word in _INTO:
        between = items[max(0, at - 4) : at]
        if before.word in ("in", "of", "from", "to") and any(item.kind == "I" for item in between):
            return False
        return not (
            before.word == "of" and any(item.kind == "" and item.word in ("top", "inside", "face") for item in between)
        )
    if after is not None and after.word == ":" and at == 0:
        return True
    if after is not None and (after.word in _DONE_TO_OVENS or after.kind == "C"):
        return True
    if (
        after is not None
        and after.word in bag("'s is was has have been got now just finally")
        and any(item.word in _DONE_TO_OVENS for item in items[at + 2 : at + 4])
    ):
        return True
    if at == 0 and after is not None and after.word in ("as", "the", "same", "like", ",") and _described(items):
        return True  # "dome as usual, retained, 85 across"
    if any(item.word in ("across", "wide", "diameter") for item in items[at + 1 : at + 5]) and not (
        before is not None and before.kind in ("N", "C")
    ):
        return True
    if after is not None and after.word == "on" and at + 2 < len(items) and items[at + 2].word in (
            "retained", "tended"):
        return True  # "dome on retained, barrel and the pup are tended"
    if after is not None and after.word in ("'s", "is") and at + 2 < len(items):
        following = items[at + 2]
        if following.kind == "C":
            return True
        return following.kind == "" and following.word in bag(
            "retained tended ready lit on about roughly raked settled the going fired a mine"
        )
    if (
        before is not None
        and before.kind == ""
        and before.word in ("on", "onto")
        and any(item.word in bag("split splits log logs wood another") for item in items[:at])
    ):
        return True
    first = items[0] if items else None
    asks = (
        first is not None
        and first.kind == ""
        and first.word in bag("what when how why does will is where who should can")
    )
    return asks or any(item.kind == "." and item.word == "?" for item in items[at:])
