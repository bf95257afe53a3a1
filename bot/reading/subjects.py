"""Which dish a piece of talk is about, and how a pot is named."""

from __future__ import annotations

from typing import Any

from bot.reading.lexicon import bag, phrase_set
from bot.reading.scene import Found, Scene


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


_POT = (
    r"(?:pot|pots|pan|pans|tray|trays|tin|tins|dish|crock|it|they|everything|both|lot|meat|joint|big pot|small pot"
    r"|iron pot|clay pot|cast iron|both pots)"
)


# A dish can have its cut or a describing word behind it: "lamb shoulder in", "beans all in".
SUBJECT = (
    rf"(?:(?P<dish><D>)(?: <D>)?(?: pot| pan| tin| tray)?|(?:our |my |that )?{_POT}|(?:pot|pan|tray"
    rf"|tin) (?:of|with) (?P<dish2><D>))"
)


BE = (
    r"(?: (?:'s|is|are|was|were|has|have|had|been|gone|went|go|goes|going|got|put|now|both|all|back|finally"
    r"|straight|safely|just|also|too|well|already|popped|slid|loaded|placed|lowered|tucked|came|come|coming|moving"
    r"|being|again))*"
)


def dish_of(found: Found) -> str | None:
    for name in ("dish", "dish2"):
        if found.has(name):
            return found.name(name)
    return None


def is_bread(name: str | None) -> bool:
    """Bread and the like, which is no food to be chilled and never gets tender."""
    return name is not None and name.split()[-1] in _BREADS


_BREADS = bag(
    "bread loaf loaves sourdough focaccia flatbread flatbreads pizza pizzas pitta pittas rolls buns naan naans scones "
    "biscuits baguettes bagels brioche baps ciabatta cake cakes tart tarts meringue meringues granola calzone calzones"
)


def is_stuff(scene: Scene, at: int) -> bool:
    """Stock and the like that go into a pot, not pots of their own."""
    item = scene.items[at]
    return str(item.value) not in scene.context.dishes and item.words in phrase_set("liquids", "words")


def add_act(scene: Scene, found: Found, act: str, rule: str, **more: Any) -> None:
    fields: dict[str, Any] = {"is": "pot", "act": act, "dish": dish_of(found), **more}
    if found.has("oven") and "oven" not in more:
        fields["oven"] = found.name("oven")
    before = scene.items[found.first - 1] if found.first else None
    counted = before is not None and before.kind == "N" and before.value.value <= 24 and found.has("dish")
    scene.add(fields, found.first - counted, found.last, rule)  # "six loaves into the dome"


def elsewhere(scene: Scene, at: int) -> bool:
    """ "out of the fridge", "in the basket": whether what follows names a place that is none of the oven's."""
    word = next_word(scene, at)
    if word not in bag("in into on onto to of from by under behind beside near at"):
        return False
    behind = at + 1
    while next_word(scene, behind) in bag("the a an our my his her their your some"):
        behind += 1
    noun = next_word(scene, behind)
    return noun in _OTHER_PLACES or (noun == "door" and word in ("by", "behind", "beside", "near", "at"))


_OTHER_PLACES = bag(
    "fridge freezer shed van car boot basket box bag sack store storeroom kitchen cupboard drawer bin house garage "
    "shop gate bakers butcher butchers delivery boxes bags stack pile woodpile corner wall rain yard barn barrow crate "
    "trolley path gravel grass ground office classroom toilet sink bucket trough pan soil garden bench shelf "
    "hall porch"
)


def next_word(scene: Scene, at: int) -> str:
    return scene.items[at].word if at < len(scene.items) and scene.items[at].kind == "" else ""
