"""What is left of a dish, where nobody weighs it: "half the stew left", "loads of curry left over"."""

from __future__ import annotations

from bot.reading.lexicon import bag
from bot.reading.scene import Found, Scene
from bot.reading.subjects import is_bread, is_stuff

_SHARES = {
    "half": 0.5, "third": 1 / 3, "two thirds": 2 / 3, "quarter": 0.25, "three quarters": 0.75, "most": 0.75,
    "all": 1.0, "whole": 1.0, "whole lot": 1.0,
}
_PART = (r"(?P<part>two thirds|three quarters|half|third|quarter|most|all|whole lot|whole)")
# An amount of which nobody says what part it is.
_SOME = (r"(?:(?:loads|lots|plenty|heaps|tons|masses|bags|stacks|a lot|a fair bit|a good bit|a bit|quite a bit|a load"
         r"|so much|too much|much|enough|some|more|a few|a good few|few|good few|<N>|a couple|big|a big|another)"
         r"(?: (?:portions|helpings|ladles|bowls|bowlfuls|plates|servings|litres|tubs))?)")
_POT = r"(?:(?:big |whole )?(?:pot|pan|tray|vat|pots|pans|trays|potful|panful))"
_LEFT = r"(?:left|left over|leftover|over|remaining|uneaten|spare|untouched|not eaten|wasn't eaten|didn't get eaten)"
_BE = r"(?: (?:'s|is|are|was|still|all|got|was all))*"
_BEFORE = r"(?:(?:there|we|i)(?: (?:'s|is|are|was|were|have|'ve|have got|still|got|had))* )?"
_END = (r"(?= ?(?:$|[.,;!|()-]|<T>|and |now|at |in |on |here|still|again|for |so |but |then|after|to |by |from|folks"
        r"|guys|chef|team|everyone))")
_PATTERNS = (
    rf"{_BEFORE}(?:about |around |nearly |over |just |easily |maybe |at least |good |well over |more than )*"
    rf"(?:a |the )?{_PART}(?: {_POT})?(?: of)?(?: (?:our|that|my|a))? (?:(?P<dish><D>)(?: <D>)?|{_POT}){_BE} {_LEFT}"
    rf"{_END}",
    rf"{_BEFORE}{_SOME}(?: {_POT})?(?: of)?(?: (?:our|that|my))? (?P<dish><D>)(?: <D>)?{_BE} {_LEFT}{_END}",
    rf"(?P<dish><D>)(?: <D>)?{_BE}(?: [,:-])? (?:about |around |nearly )?(?:a )?{_PART}(?: (?:a )?{_POT})?(?: of it)?"
    rf" {_LEFT}{_END}",
    rf"(?P<dish><D>)(?: <D>)?{_BE}(?: [,:-])? {_SOME}(?: of it)? {_LEFT}{_END}",
)
_WORDS = bag("left leftover over remaining uneaten spare untouched eaten")
# What is counted or poured as it goes in is no meal's remains.
_TO_DO = bag("to do make cook cut chop peel brown sear prep roll shape")
_MAY_HOLD_IT = (None, "comment", "load")


def what_is_left(scene: Scene) -> None:
    """Parts of dishes that are told to be left; how much that is the record knows."""
    _weighed(scene)
    if not scene.has_any(_WORDS) or not scene.context.dishes or (scene.items and scene.items[-1].word == "?"):
        return
    for pattern in _PATTERNS:
        for found in scene.find(pattern, fresh=False):
            if {scene.used[n] for n in range(found.first, found.last)} - set(_MAY_HOLD_IT) or _to_come(scene, found):
                continue
            name = found.name("dish") if found.has("dish") else None
            if name is not None and (name not in scene.context.dishes or is_bread(name)):
                continue
            if any(scene.items[n].kind == "D" and is_stuff(scene, n) for n in range(found.first, found.last)):
                continue
            part = found.groups.get("part")
            fields = {"is": "load", "dish": name, "share": round(_SHARES[part], 2) if part else 1.0}
            scene.add(fields, found.first, found.last, "what is left")


def _weighed(scene: Scene) -> None:
    """ "9 litres of chilli left over": what is weighed is what is left of a dish of the room."""
    for draft in scene.drafts:
        if draft.kind != "load" or "cut" in draft.fields or draft.fields.get("dish") not in scene.context.dishes:
            continue
        first, last = scene.segment(draft.first)
        words = scene.row.words(first, last)
        if words[-1:] in (("left",), ("leftover",)) or words[-2:] == ("left", "over"):
            draft.fields["share"] = 1.0


def _to_come(scene: Scene, found: Found) -> bool:
    """ "half the chicken left to brown": work, and no leftovers."""
    _, last = scene.segment(found.first)
    return not _TO_DO.isdisjoint(scene.row.words(found.last, last)[:2])
