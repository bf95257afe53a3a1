"""Several dishes told as a list, some weighed and some not: "3 kg shoulder, 12 flatbreads, beans, plums to dry"."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from bot.reading.joining import listed
from bot.reading.lexicon import bag, phrase_set
from bot.reading.rules_contents import is_ingredient
from bot.reading.scene import Scene

_SMALL = bag("a an the our some of we have 've got there is are 's also then both today tomorrow")
_DRY = bag("dry drying dehydrate dehydrating")
# What goes into a pot beside its meat is no dish of its own, if it was not weighed.
_SIDES = bag("carrots onions garlic leeks celeriac parsnips swede turnips tomatoes cabbage fennel potatoes "
             "veg vegetables")
# So many dishes in a row are a menu: each is for itself.
MENU = 3


@dataclass(frozen=True)
class _Piece:
    """A stretch between commas that names one dish; side: which may go in with another."""

    first: int
    last: int
    dish: str
    dry: bool
    kilos: tuple[int, ...]
    litres: tuple[int, ...]
    counted: bool
    side: bool


def listed_loads(scene: Scene) -> None:
    """The dishes of a list that are to dry, are counted or have only their liquid told; in a menu each that is named.

    What is weighed is left to the rule of loads, with the liquid and the pan that stand behind it.
    """
    for first, last in scene.sentences:
        pieces = [_piece(scene, a, b) for a, b in listed(scene.items, first, last)]
        named = [piece for piece in pieces if piece is not None]
        menu = len(named) >= MENU and len(named) == len(pieces) and not any(piece.side for piece in named)
        begun = any(piece.kilos or piece.litres or piece.dry for piece in named)
        for piece in named:
            if piece.dry or (len(named) > 1 and begun and not piece.kilos and not piece.side and (
                    piece.counted or piece.litres or menu)):
                _add(scene, piece)


def _add(scene: Scene, piece: _Piece) -> None:
    fields: dict[str, Any] = {"is": "load", "dish": f"{piece.dish} to dry" if piece.dry else piece.dish}
    for name, found in (("meat_kg", piece.kilos), ("liquid_l", piece.litres)):
        if found:
            fields[name] = round(sum(float(scene.items[at].value) for at in found), 3)
    scene.add(fields, piece.first, piece.last, "load listed")


def _piece(scene: Scene, first: int, last: int) -> _Piece | None:
    items = scene.items[first:last]
    if any(scene.used[first:last]) or any(mood != "fact" for mood in scene.moods[first:last]):
        return None
    liquids = phrase_set("liquids", "words")
    dishes = [item for item in items if item.kind == "D" and item.words not in liquids]
    words = [item.word for item in items if item.kind == "" and item.words not in liquids]
    dry = words[-1:] != [] and words[-1] in _DRY and (words[-2:-1] in (["to"], ["for"]) or words[0] in _DRY)
    if len(dishes) != 1 or not {item.kind for item in items} <= {"", "D", "K", "L", "N"} or set(words) - _SMALL - (
            _DRY | {"to", "for"} if dry else frozenset()):
        return None
    kilos, litres = (tuple(at for at in range(first, last) if scene.items[at].kind == kind) for kind in "KL")
    counted = any(item.kind == "N" for item in items)
    aside = is_ingredient(dishes[0].words) or bool(set(dishes[0].words) & _SIDES)
    side = aside and not dry and not kilos and not litres and dishes[0].words[-1] != "beans"
    return _Piece(first, last, str(dishes[0].value), dry, kilos, litres, counted, side)
