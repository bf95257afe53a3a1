"""Nothing is left of what was eaten, in whatever words: "every scrap gone", "cleared the lot, no leftovers".

What is eaten stands nowhere and cools nowhere, so that its clocks end. Of which dish, if none is named, the record
knows: of those that went to the table.
"""

from __future__ import annotations

import re

from bot.reading.lexicon import bag
from bot.reading.scene import Scene

_BIT = (r"(?:scrap|slice|crumb|bit|bite|bowl|bowlful|drop|morsel|spoonful|piece|portion|plate|mouthful|pie|helping"
        r"|wing|rib|sliver|shred|one)")
_BE = r"(?:(?: of (?:it|them|the \w+|that))?(?: (?:is|'s|was|were|has|have|been|got|are|all|already|now))*)"
_GONE = (r"(?:gone|eaten|eaten up|scoffed|polished off|demolished|hoovered(?: up)?|wolfed(?: down)?|devoured|vanished"
         r"|taken|munched|snaffled|inhaled|cleared|finished off)")
_ATE = (r"(?:ate|eaten|scoffed|cleared|finished|polished off|demolished|wolfed|devoured|hoovered(?: up)?|munched"
        r"|snaffled|cleaned up)")
_UP = re.compile("|".join((
    r"\b(?:no|zero|nae|without any|without) (?:left ?-?overs|remains|seconds left)\b",
    rf"\b(?:nothing|nowt|none|zilch|nada|not (?:a|one|a single) {_BIT}){_BE} (?:left|remaining|over|left over|to chill"
    r"|to cool|to keep|to put away|to save)\b(?! to (?!chill|cool|keep|put|save|serve))",
    rf"\b(?:every|each)(?: (?:last|single))? {_BIT}{_BE} {_GONE}\b",
    rf"\b(?:all|it all|the lot|the whole lot|whole lot|everything){_BE} (?:all )?(?!cleared){_GONE}\b"
    r"(?! (?:home|in(?! (?:\w+ )?(?:mins?|minutes|time|seconds?))|into|to|out|off|on"
    r"|quiet|well|wrong|for|down|back|now to|up|away))",
    rf"\b{_ATE} (?:it all|the (?:whole )?lot|all of it|everything|every (?:last )?{_BIT}|the pot clean)\b",
    r"\b(?:bones only|only (?:the )?bones|just (?:the )?bones|bare bones|nothing but bones|bones left)\b",
    r"\b(?:pots?|pans?|trays?|dish|dishes|platters?|boards?)(?: (?:is|'s|are|was|were|came|come|all|back|just))* "
    r"(?:empty|scraped clean|licked clean|wiped clean|scraped)\b",
    r"\b(?:scraped|licked|wiped) (?:the )?(?:pots?|pans?|trays?|dish|platters?) clean\b",
)))
# None of these is eaten, or not by the guests; and what is only hoped or asked.
_OTHERS = bag(
    "wood logs log splits split kindling fuel fire embers ice stock liquor liquid water beer wine tea coffee milk "
    "butter flour salt people guests everyone everybody kids team signal battery light rain sun hope hopefully if when "
    "until till should might will could would may doubt usually expect think want wants tomorrow next yesterday gas "
    "space room time seats places gloves towels but except starters starter nibbles bread dough"
)
_DEEDS = bag("left over remaining gone eaten ate scoffed leftovers leftover bones empty clean scraped finished "
             "cleared lot polished demolished hoovered wolfed devoured vanished munched snaffled inhaled taken overs")


def eaten_up(scene: Scene) -> None:
    """A sentence that says that nothing is left, of a dish that it names or of what was served."""
    if not scene.has_any(_DEEDS) or any(draft.fields.get("what") == "eaten up" for draft in scene.drafts):
        return
    for first, last in scene.sentences:
        items = scene.items[first:last]
        if items[-1].word == "?" or any("question" in scene.moods[n] or scene.moods[n] == "what_if"
                                        for n in range(first, last)):
            continue
        if any(draft.kind == "load" and draft.first < last and draft.last > first for draft in scene.drafts):
            continue
        for begin, end in _segments(scene, first, last):
            words = " ".join(word for item in scene.items[begin:end] for word in item.words)
            if _OTHERS & set(words.split()) or not _UP.search(words):
                continue
            # "no leftovers to chill": nothing is chilled either.
            chills = [draft for draft in scene.drafts if draft.kind == "chill" and begin <= draft.first < end]
            scene.drafts[:] = [draft for draft in scene.drafts if draft not in chills]
            for draft in chills:
                scene.used[draft.first : draft.last] = [None] * (draft.last - draft.first)
            # "all eaten" tells that it was served, too.
            if any(scene.used[n] not in (None, "comment", "phrase for stage") for n in range(begin, end)):
                continue
            names = {str(item.value) for item in items if item.kind == "D" and str(item.value) in scene.context.dishes}
            named = next(iter(names)) if len(names) == 1 else None
            scene.add({"is": "task", "act": "done", "what": "eaten up", "dish": named}, begin, end, "nothing is left")
            return


def _segments(scene: Scene, first: int, last: int) -> list[tuple[int, int]]:
    found: list[tuple[int, int]] = []
    for n in range(first, last):
        a, b = scene.segment(n)
        if a < b and (a, b) not in found:
            found.append((a, b))
    return found
