"""A dish that is put on a ring to finish: "lamb out to the ring", "brisket over to the gas"; and off one."""

from __future__ import annotations

from bot.reading.clauses import PUT, SAYS_NOTHING
from bot.reading.follow_ups import topic_dishes
from bot.reading.heat_nouns import HOT
from bot.reading.lexicon import bag
from bot.reading.scene import Draft, Scene, compiled
from bot.reading.subjects import is_stuff

RINGS = bag("ring hob burner gas stove stovetop")
_HELD = compiled(rf"(?:(?:of|from|<O>|oven|[.,-]|and|then|now|straight|gone|went|put) )*(?:into|in|to) (?:our |my )?"
                 rf"(?:{HOT})")
_ONTO = bag("on onto to over")
_ALLOWED = SAYS_NOTHING | PUT | _ONTO | RINGS | bag(
    "moved shifted carried swapped switched transferred hauled over across out from off oven pot pan finish finishing "
    "simmer simmering heat up straight n low gentle small that"
)
_CUTS = bag("shoulder shin leg neck cheek cheeks breast rib ribs belly hock shank shanks joint braise stew")
_POTS = bag("pot pan")
# What makes an order, a plan or a moment to come of it.
_NOT_YET = bag("yet later soon tomorrow when if until till unless after before for next")

_YET_TO = bag("go be come finish get move")
# "it's on the ring", "gone on the ring": what the talk was of, or the one pot that there is.
_IT = bag("it that this")
_WENT = bag("gone moved shifted swapped switched transferred put popped stuck now")
# "the stew" of a shin that braises.
_WHATEVER = bag("joint braise stew")
# What stands before an act that is asked of somebody.
_ASKED = bag("please can could will would shall should")


def rings(scene: Scene) -> None:
    """Acts on rings, of dishes that stand in an oven or have come out of one, in what nothing else was read from."""
    _into_hot_hold(scene)
    if not scene.has_any(RINGS):
        return
    for at, item in enumerate(scene.items):
        if item.kind == "" and item.word in RINGS and (way := _way(scene, at)) is not None:
            _ring(scene, at, way)


def _into_hot_hold(scene: Scene) -> None:
    """ "chilli out the barrel and into the hot box": where it stands from then on."""
    for draft in scene.drafts:
        if draft.kind != "pot" or draft.fields.get("act") != "out":
            continue
        start = scene.row.offset(draft.last)
        match = _HELD.match(scene.row.canon, start) if start < len(scene.row.canon) else None
        if match is not None:
            draft.fields["onto"] = "hot_hold"
            scene.use(draft.last, scene.row.items_of(match.start(), match.end())[1], "into the hot hold")
    inside = {dish for dish, _ in scene.context.standing}
    for found in scene.find(rf"(?P<dish><D>)(?: (?:is|are|'s|now|gone|went|all|straight|moved))* (?:into|in|to) "
                            rf"(?:our |my )?(?:{HOT})(?= ?(?:$|[.,;!|]|<T>|now|at |and ))"):
        if found.name("dish") in inside and not any(draft.kind == "pot" for draft in scene.drafts):
            scene.add({"is": "pot", "act": "out", "dish": found.name("dish"), "onto": "hot_hold"}, found.first,
                      found.last, "into the hot hold")


def _way(scene: Scene, at: int) -> int | None:
    """Where the "on", "to" or "off" before a ring stands."""
    back = at - 1
    while back >= 0 and scene.items[back].kind == "" and scene.items[back].word in bag("the a our my that gas small"):
        back -= 1
    if back > 0 and scene.items[back - 1].word in bag("next close near"):
        return None
    if at + 1 < len(scene.items) and scene.items[at + 1].word in bag("oven mark bottle grill bbq barbecue"):
        return None
    return back if back >= 0 and scene.items[back].word in _ONTO | bag("off") else None


def _ring(scene: Scene, at: int, way: int) -> None:
    first, last = _clause(scene, at)
    begin, end = scene.sentence(at)
    if any(mood != "fact" for mood in scene.moods[first : at + 1]) or scene.items[-1].word == "?":
        return
    behind = {item.word for item in scene.items[at + 1 : end] if item.kind == ""}
    if behind & _NOT_YET or (any(item.kind == "T" for item in scene.items[first:last]) and _words(
            scene, first, at) & bag("going goes go")):
        return
    off = scene.items[way].word == "off"
    told = [draft for draft in scene.drafts if draft.kind == "pot" and draft.fields.get("act") == "out"
            and begin <= draft.first <= at]
    if told and not off:
        if _only_between(scene, told[-1], at):
            told[-1].fields["onto"] = "ring"
            scene.use(way, at + 1, "onto a ring")
        return
    known = {name for name, _ in scene.context.standing} | set(scene.context.out)
    named = [n for n in range(first, at) if scene.items[n].kind == "D"]
    dishes = [str(scene.items[n].value) for n in named if str(scene.items[n].value) in known]
    words = _words(scene, first, at)
    told_of = words & _IT or (words & _WENT and not words & _POTS)
    if not dishes and all(str(scene.items[n].value) in _WHATEVER for n in named) and (named or told_of):
        dishes = _meant(scene, known)
    if not dishes or any(is_stuff(scene, n) for n in named) or scene.used[way] or scene.used[at]:
        return
    if any(str(scene.items[n].value) not in known | _CUTS for n in named):
        return
    if not words <= _ALLOWED | _people(scene) or not {
            item.kind for item in scene.items[first:at]} <= {"", "D", "O", "T", "A", "."}:
        return
    if words & _ASKED or (behind & _ASKED) or (
            scene.items[first].kind == "" and scene.items[first].word in bag("move get take bring finish pop")):
        return  # may be an order
    if any(scene.items[n].word == "to" and scene.items[n + 1].word in _YET_TO for n in range(first, way)):
        return  # "lamb to go on the ring" is still to be done
    for name in dict.fromkeys(dishes):
        fields = {"is": "pot", "act": "out"} | ({"dish": name} if name else {}) | ({} if off else {"onto": "ring"})
        scene.add(fields, first, at + 1, "off a ring" if off else "onto a ring", keep=True).no_carry = not name
    scene.use(first, at + 1, "onto a ring")


def _meant(scene: Scene, known: set[str]) -> list[str]:
    """The dish that nobody named: the one that the talk was of, if it was in an oven, else the only one that was.

    "" of several: it is asked which.
    """
    spoken = topic_dishes(scene)
    if len(spoken) == 1:
        return sorted(spoken & known)
    return sorted(known) if len(known) == 1 else [""] if known else []


def _clause(scene: Scene, at: int) -> tuple[int, int]:
    """From the last break or taken word before a ring to the next one behind it; a list of dishes is one clause."""
    first, last = at, at + 1
    while first > 0 and scene.items[first - 1].kind != "." and not scene.used[first - 1]:
        first -= 1
    while last < len(scene.items) and scene.items[last].kind != "." and not scene.used[last]:
        last += 1
    return first, last


def _words(scene: Scene, first: int, last: int) -> frozenset[str]:
    return frozenset(item.word for item in scene.items[first:last] if item.kind == "")


def _only_between(scene: Scene, told: Draft, at: int) -> bool:
    """Whether what stands between what came out and the ring tells only of that."""
    between = scene.items[told.last : at]
    return all(item.kind in (".", "O", "T", "A") or (item.kind == "" and item.word in _ALLOWED) for item in between)


def _people(scene: Scene) -> frozenset[str]:
    return frozenset(word.lower() for name in scene.context.people for word in name.split())
