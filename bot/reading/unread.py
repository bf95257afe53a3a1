"""What a message told and nobody took: a heat, an amount, a name or a word of the trade that no rule explains.

A message of which a part was taken and a part was not is misread unless it is said so; the tick would hide it. So is a
report of a known oven, dish or spot of which nothing was taken at all.
"""

from __future__ import annotations

from collections.abc import Sequence

from bot.reading.items import Item
from bot.reading.lexicon import bag
from bot.reading.numbers import Number
from bot.reading.scene import Draft, Scene

# Words that are told for the record's sake wherever they stand in a message that tells something.
_TELLING = bag(
    "floor air ceiling crown roof hearth deck sole core liquor liquid lid embers coals raked rake raking lit fed "
    "splits split logs giving tender tough soft simmer simmering boiling bubbling low fahrenheit turned moved topped "
    "spread seared browned resting fridge reheat reheating allergy allergic intolerant coeliac coeliacs"
)
# What happens to an oven or dish that is named.
_HAPPENED = _TELLING | bag("in out on off wood chilled served door put inside into went gone back pulled taken")
_MEASURED = frozenset("NHKLCM")
# How the fields end that a measure of that kind may stand in (a bare number: any).
_ENDS = {"K": ("kg",), "L": ("_l", "litres"), "C": ("cm",), "M": ("pct",), "H": ("celsius",), "N": ("",)}
_TIMES = frozenset("TA")
_NAMES = frozenset("PIODS")
_SPOTS = frozenset("PI")
# Words that only fill out what a fact of that kind says already.
_FILLING = {
    "fire": bag("embers coals splits split logs big"),
    "wood": bag("logs splits split basis dry wet"),
    "load": bag("stock"),
    "pot": bag("stock broth lid"),
    "store": bag("hot hold cupboard box fridge"),
    "chill": bag("fridge tray trays"),
    "reheat": bag("fridge"),
    "food": bag("reheat"),
    "check": bag("liquor liquid"),
}
MOST_QUOTED = 60
_LINKS = bag("'s is are was were has have been back gone now went all just both")


def unread_of(scene: Scene) -> str | None:
    """The line that says what of a message was not taken."""
    if not scene.drafts:
        if _act_of_nothing(scene):
            return _OF_WHAT
        span = _report(scene)
    elif all(draft.question for draft in scene.drafts):
        return None
    else:
        span = _remainder(scene)
    return f'Not taken: "{scene.row.text(*span)}". What is it?' if span is not None else None


_OF_WHAT = 'Of which pot or oven? Write such as "lamb in the dome" or "dome floor 210".'
_ACTS_ALONE = bag("in out")


def _act_of_nothing(scene: Scene) -> bool:
    """ "out", where no oven and no dish has been told of yet: meant for the record, but of nothing it knows."""
    known = scene.context.ovens or scene.context.dishes or scene.context.last
    words = [item.word for item in scene.items if item.kind != "."]
    return not known and len(words) == 1 and words[0] in _ACTS_ALONE and scene.items[0].kind == ""


def _report(scene: Scene) -> tuple[int, int] | None:
    """A sentence that tells of a known oven, dish or spot and of what was read or done there."""
    for first, last in scene.sentences:
        told = [at for at in range(first, last) if scene.moods[at] == "fact"]
        known = [at for at in told if _known(scene, scene.items[at])]
        if known and (any(_counts(scene.items[at]) for at in told) or any(_goes(scene, at, last) for at in known)):
            return _short(scene, first, last, first)
    return None


def _known(scene: Scene, item: Item) -> bool:
    return item.kind in ("P", "I") or (
        item.kind in ("O", "D") and str(item.value) in (*scene.context.ovens, *scene.context.dishes))


def _counts(item: Item) -> bool:
    """Whether an item tells of a heat, an amount or a state."""
    if item.kind == "N":
        return bool(item.value.value >= LEAST_HEAT or item.value.value < 0)     # no spot of an oven freezes
    return item.kind in _MEASURED or (item.kind == "" and item.word in _TELLING)


def _goes(scene: Scene, name: int, last: int) -> bool:
    """ "lamb's back in", "barrel is out": not "sulking in this wind"."""
    if not _OF_THE_DAY.isdisjoint(item.word for item in scene.items[name:last]):
        return False
    at = name + 1
    while at < last and scene.items[at].word in _LINKS:
        at += 1
    return at < last and scene.items[at].kind == "" and scene.items[at].word in _HAPPENED


# "lamb in the dome today", "brisket and beans overnight": what is to be cooked.
_OF_THE_DAY = bag("today tonight tomorrow overnight later")


def _happened(item: Item) -> bool:
    return _counts(item) or (item.kind == "" and item.word in _HAPPENED)


def _remainder(scene: Scene) -> tuple[int, int] | None:
    """A stretch beside what was taken that tells something more."""
    taken = scene.taken()
    for at, item in enumerate(scene.items):
        if taken[at] or scene.moods[at] != "fact":
            continue
        first, last = scene.segment(at)
        beside = [scene.items[n] for n in range(first, last)
                  if n != at and not taken[n] and not _explained(scene, scene.items[n])]
        if not _telling(scene, item, beside) or _explained(scene, item) or _kept_nowhere(item, beside):
            continue
        planned = not _OF_THE_DAY.isdisjoint(each.word for each in beside)
        if item.kind in _NAMES and not any(_counts(each) if item.kind in _SPOTS or planned else _happened(each)
                                           for each in beside):
            continue  # a name alone tells nothing, nor does a spot without its heat: "ceiling gone white"
        while first < at and taken[first]:
            first += 1
        while last > at + 1 and taken[last - 1]:
            last -= 1
        return _short(scene, first, last, at)
    return None


def _short(scene: Scene, first: int, last: int, at: int) -> tuple[int, int]:
    while last > first + 1 and scene.items[last - 1].kind == ".":
        last -= 1
    return (first, last) if len(scene.row.text(first, last)) <= MOST_QUOTED else (at, min(last, at + 6))


# A bare number below this is a heat of nothing; it may count guests, pieces or seconds, or things nobody records.
LEAST_HEAT = 40


# What the record has no place for, so that no question would help: who eats no meat, which way the fire was pushed.
_DIETS = bag("veggie veggies vegetarian vegetarians veggy veg vegan vegans pescatarian pescatarians halal kosher meat")
_ASIDE = bag("back side sides edge edges left right corner")


def _kept_nowhere(item: Item, beside: Sequence[Item]) -> bool:
    words = {word for each in beside for word in each.words}
    if item.kind == "N":
        return not words.isdisjoint(_DIETS)
    if item.word == "turned":
        return not words.isdisjoint(("up", "down"))     # the hot cupboard, and its new heat is told beside it
    return item.word in ("embers", "coals") and not words.isdisjoint(_ASIDE)


def _telling(scene: Scene, item: Item, beside: Sequence[Item]) -> bool:
    """Whether an item tells something of its own; beside: what else of its clause no fact says."""
    if item.word in _BARE_ACTS and _stands_alone(scene, scene.items.index(item)):
        return True
    if item.words == ("one",) and scene.items[scene.items.index(item) - 1].word in _SIZES:
        return False  # "the little one"
    if item.kind == "N" and not item.value.value >= LEAST_HEAT:
        at = scene.items.index(item)
        first, last = scene.segment(at)
        if "silent" in scene.moods[first:last] or _pronoun(scene, at, first):
            return False
        beside = [each for each in beside if each.word != "now"]
        return not beside or any(each.kind in _NAMES or each.word in _TELLING for each in beside)
    if item.kind in _TIMES:
        first, last = scene.segment(scene.items.index(item))
        beside = [each for each in scene.items[first:last] if each is not item]
        return not beside or any(each.kind in _NAMES | _MEASURED or (each.kind == "" and each.word in _HAPPENED)
                                 for each in beside)
    return item.kind in _MEASURED | _NAMES or (item.kind == "" and item.word in _TELLING)


def _pronoun(scene: Scene, at: int, first: int) -> bool:
    """ "the tended one", "big one": stands for a noun and counts nothing."""
    before = scene.items[at - 1] if at > first else None
    return scene.items[at].words == ("one",) and before is not None and before.kind == "" and before.word not in _LINKS


_SIZES = bag("little big small large old new other first second round left right far near good main tall low")
_BARE_ACTS = bag("in out off on")


def _stands_alone(scene: Scene, at: int) -> bool:
    """ "tender too and out": an act with nothing beside it."""
    after = scene.items[at + 1] if at + 1 < len(scene.items) else None
    before = scene.items[at - 1] if at else None
    return (after is None or after.kind == ".") and before is not None and before.word in (",", "and", "then")


def _explained(scene: Scene, item: Item) -> bool:
    """Whether some fact says the same: a name it has from elsewhere, the length of the trays, the wood that was fed."""
    return any(_says(draft, item) for draft in scene.drafts)


def _says(draft: Draft, item: Item) -> bool:
    if set(item.words) & _FILLING.get(draft.kind, frozenset()):
        return True
    if item.kind in _MEASURED:
        value = item.value.value if isinstance(item.value, Number) else item.value
        return any(key.endswith(_ENDS[item.kind]) and isinstance(said, int | float)
                   and abs(said - value) < 1e-6 * max(1.0, abs(said)) for key, said in draft.fields.items())
    return any(str(item.value) == str(said) or set(item.words) & set(str(said).split())
               for said in draft.fields.values())
