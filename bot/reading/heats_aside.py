"""Numbers beside a heat that are none: a change ("down 8"), an old value ("was 190"), what it is measured against."""

from __future__ import annotations

from bot.reading.heat_limits import value_of
from bot.reading.heat_nouns import Noun
from bot.reading.lexicon import bag
from bot.reading.scene import Draft, Scene


def denied(scene: Scene, at: int, start: int) -> bool:
    return at > start and scene.items[at - 1].word in ("not", "than")


def aside(scene: Scene, start: int, at: int) -> bool:
    """ "(was 190)": what stands in brackets with no time is a remark."""
    opened = any(item.kind == "." and item.word == "(" for item in scene.items[start:at])
    closed = any(item.kind == "." and item.word == ")" for item in scene.items[start:at])
    return (
        opened
        and not closed
        and any(
            item.word in bag("was from before earlier down up vs against expected want wanted")
            for item in scene.items[start:at]
        )
    )


_CHANGED = bag(
    "down up dropped lost gained fell risen rose by fallen climbed dropping climbing rising falling "
    "gaining losing another"
)


def comment(scene: Scene, at: int, start: int, noun: Noun | None, before: Draft | None) -> bool:
    """A change ("down 8"), an old value with no time ("was 190"), a number measured against another ("20 above")."""
    words = [item.word for item in scene.items[start:at] if item.kind == ""]
    value = value_of(scene, at)
    tail = words[-2:]
    if (
        "to" not in tail
        and "at" not in tail
        and value <= 80
        and any(word in _CHANGED for word in tail)
        and scene.items[at - 1].kind != "."
        and (noun is None or before is not None or noun.kind in ("place", "oven", "probe"))
    ):
        return True
    after = [item.word for item in scene.items[at + 1 : at + 4] if item.kind == ""]
    if (
        after
        and scene.items[at + 1].kind == ""
        and after[0]
        in bag("above below over under higher lower warmer cooler hotter colder less off apart short out degrees")
        and (
            after[0] not in ("over", "out", "off", "under")
            or (
                len(after) > 1
                and after[1] in bag("the what my that where")
                and not _by_tool(scene, at)
                and not _from_spot(scene, at, after)
            )
        )
    ):
        return True
    if (
        words[-1:] in (["was"], ["were"])
        and after[:1] in (["before"], ["earlier"], ["previously"])
        and any(scene.items[n].kind in ("N", "H") for n in range(*scene.sentence(at)) if n != at)
        and not has_time_near(scene, at)
    ):
        return True  # "air was 160 before, 175 now"
    if (
        before is not None
        and words
        and words[-1] in bag("from was were vs versus against")
        and (noun is None or noun.first < start or noun.kind == "none")
    ):
        return not has_time_near(scene, at)
    return bool(
        words and words[-1] == "from" and at + 2 < len(scene.items) and scene.items[at + 1].word in ("to", "down", "up")
    )


def _by_tool(scene: Scene, at: int) -> bool:
    """ "floor 215 off the gun": what it was read with."""
    return any(item.kind == "I" or item.word == "probe" for item in scene.items[at + 2 : at + 4])


def _from_spot(scene: Scene, at: int, after: list[str]) -> bool:
    """ "got 184 off the floor" """
    return after[:2] == ["off", "the"] and any(item.kind == "P" for item in scene.items[at + 1 : at + 4])


def has_time_near(scene: Scene, at: int) -> bool:
    _, end = scene.segment(at)
    begin, _ = scene.segment(at)
    return any(item.kind in ("T", "A") for item in scene.items[begin:end])
