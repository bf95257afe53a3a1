"""Why something was told wrong: "thumbs are frozen", "flame was in the way". It is no fact, and mends nothing."""

from __future__ import annotations

from bot.reading.lexicon import bag
from bot.reading.scene import Scene

_WITH = bag(
    "thumb thumbs finger fingers hand hands eye eyes eyesight glasses specs goggles gloves glove brain head "
    "handwriting screen typing autocorrect phone battery lens beam gun laser"
)
_BEFORE_IT = bag("flame flames smoke steam sun sunlight light glare dark torch lantern hood visor hair rain coal "
    "coals")
_SO = bag(
    "way frozen cold numb wet dirty greasy bad blind fogged foggy misted misty steamed steamy smeared smudged tired "
    "off thick fat clumsy wrong dead dark asleep failing playing dodgy swapped slipped cracked shaking shaky stiff "
    "gone bright blinding useless floury buttery elsewhere fried mush"
)
_ACTS = bag("door lid pot log logs split splits raked fed spread lit out ember embers guests")
_CLAUSE = 8


def why_wrong(scene: Scene, first: int, last: int) -> range:
    """The items of the clause at the end of a correction that only says why."""
    at = last
    while at > first and scene.items[at - 1].kind == ".":
        at -= 1
    begin = scene.segment(at - 1)[0] if at > first else at
    if not first < begin < at or at - begin > _CLAUSE or not says_why(scene, begin, at):
        return range(0)
    return range(begin, at)


def says_why(scene: Scene, first: int, last: int) -> bool:
    """Whether a clause is nothing but such a reason."""
    items = scene.items[first:last]
    words = {item.word for item in items}
    if any(item.kind in "NHKLCTAUMOD" and item.kind for item in items) or words & _ACTS:
        return False
    return bool(words & _WITH and (words & _SO or len(items) <= SHORTEST)) or bool(
        words & _BEFORE_IT and words & _IN_THE_WAY)


SHORTEST = 3
_IN_THE_WAY = bag("way eyes eye blinding blinded lens bright dazzled fooled licking beam front everywhere")
