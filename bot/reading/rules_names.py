"""An oven that gets another name in the middle of a class: both names are its own from then on."""

from __future__ import annotations

from bot.reading.lexicon import bag
from bot.reading.scene import Scene, clean

_NAME = r"(?P<name>(?!now\b|off\b|out\b|ready\b|hot\b)[a-z]+(?: (?!now\b|from\b|please\b|today\b)[a-z]+)?)"
_TAIL = r"(?:(?: ,)? (?:now|from now on|today|please|from here on|from here|on))*"
_RENAMED = (
    rf"(?:(?P<oven><O>)(?: oven)? (?:is|'s|will be)(?: now)? (?:called|named|known as) {_NAME}{_TAIL}"
    rf"|(?:calling|call|rename|renaming) (?P<oven><O>|oven|it)(?: oven)? (?:as |to )?{_NAME}{_TAIL}"
    rf"|(?P<oven><O>)(?: oven)?(?: 's)? new name (?:is|'s) {_NAME}{_TAIL})"
)
_NO_NAMES = bag("it that this off out in on hot cold ready oven back up down done over a the for so")
# What may stand before it in its sentence.
_BEFORE = bag("the and so also oh ok by way , from now on we i will shall let let's 'll 're are can please")


def renames(scene: Scene) -> None:
    """ "the dome is called bertha now", "we call it bertha": of an oven that the room knows."""
    if not scene.has_any(bag("called named call calling rename renaming name known")):
        return
    for found in scene.find(_RENAMED, None):
        first, last = next(each for each in scene.sentences if each[0] <= found.first < each[1])
        inside = scene.items[first:found.first] + scene.items[found.last:last]
        if not all(item.kind == "." or item.word in _BEFORE for item in inside) or scene.moods[found.first] in (
                "question", "what_if"):
            continue
        name = clean(found.text("name"))
        known = found.name("oven") if found["oven"][0] == "O" else None
        if known is None and len(scene.context.ovens) == 1:
            known = scene.context.ovens[0]
        if known is None or known not in scene.context.ovens or not name or set(name.split()) & _NO_NAMES:
            continue
        scene.add({"is": "oven", "oven": known, "called": name}, found.first, found.last, "oven renamed")
