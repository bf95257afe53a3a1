"""Which dish a piece of talk is about."""

from __future__ import annotations

from bot.reading.lexicon import bag
from bot.reading.scene import Scene


def subject_of(scene: Scene, at: int) -> str | None:
    """The dish spoken of at a place: the nearest named before it, else one named behind it in the clause."""
    for number in range(at - 1, -1, -1):
        item = scene.items[number]
        if item.kind == "D" and not is_liquid_word(scene, number):
            return str(item.value)
    _, end = scene.segment(at)
    for number in range(at, end):
        if scene.items[number].kind == "D" and not is_liquid_word(scene, number):
            return str(scene.items[number].value)
    return None


_LIQUIDS = bag("stock broth gravy milk water")


def is_liquid_word(scene: Scene, at: int) -> bool:
    item = scene.items[at]
    return str(item.value) in _LIQUIDS and str(item.value) not in scene.context.dishes


_POT = r"(?:<D>(?: <D>)?|it|they|meat|pot|pots|dish|everything|joint|all of it|all|that|both)"
