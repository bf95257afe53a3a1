"""The lid of a pot: on, off, and on again."""

from __future__ import annotations

from bot.reading.lexicon import bag
from bot.reading.scene import Scene, compiled
from bot.reading.subjects import dish_of, is_stuff

_LID_WORDS = bag("lid lids lidded uncovered unlidded")
_STAYS_OFF = bag("reduce reducing reduces brown browning colour crisp thicken thickening stays staying left leaving")


def lids(scene: Scene) -> None:
    """The lid as it was put or taken, told as an act or as a state."""
    if not scene.has_any(_LID_WORDS):
        return
    pot = r"(?: (?:of|on|off|from|for|to) (?:(?P<dish><D>)|pot|pan|(?P<oven>O\d+)|it|them|both))?"
    on = (
        r"(?:(?:put|got|popped|stuck|jammed|clamped|whacked|bunged|set)(?: the)? lids?(?: back)? on"
        r"|(?<!no )lids?(?: 's| is| are| now| went| gone| has| have| come| came| going| all| both| put| firmly| tight| "
        r"tightly| stays"
        r"| stayed| still| safely)*(?: back)? on|lid back|back on with lid|with (?:a |its |tight )?lid on"
        r"|(?:and )?with (?:a |its )?lid(?= ?(?:$|[.,;!|]))|lidded|lids?(?: is| are| now| was)* fitted(?: on)?"
        r"|lid sealed|covered with (?:a |its )?lid|lid down|replaced lid|lid replaced|put lid back"
        r"|lids? clamped(?: on| down)?|lid shut)"
    )
    off = (
        r"(?:(?:took|taken|pulled|lifted|got|had|whipped)(?: the)? lids?(?: back)? off|lids?(?: 's| is| are"
        r"| now| has| have| was| came| come| taken| all| both| gone| been| still| left)*(?: right)? off|without (?:a "
        r"|its )?lid|uncovered|unlidded|lid removed|removed lid|lid lifted|lifted lid|no lid)"
    )
    before = r"(?:(?P<dish2><D>)(?: (?:pot|in|'s|is|are|and|with|now))*? )?"
    for act, word in (("lid_on", on), ("lid_off", off)):
        for found in scene.find(rf"{before}{word}{pot}"):
            if _of_no_pot(scene, found.first, found.last):
                scene.use(found.first, found.last, "lid of no pot")
                continue
            if found.has("dish2") and compiled(r"(?:in|and (?:put|got|popped|stuck))").search(found.match.group()):
                start = compiled(word).search(scene.row.canon, found.start("dish2"))
                assert start is not None
                first, _last = scene.row.items_of(start.start(), start.end())
                scene.add({"is": "pot", "act": act}, first, found.last, "lid")
                continue
            named = [n for n in range(found.first, found.last) if scene.items[n].kind == "D"]
            scene.add(
                {
                    "is": "pot",
                    "act": act,
                    "dish": None if any(is_stuff(scene, n) for n in named) else dish_of(found),
                    "oven": found.name("oven") if found.has("oven") else None,
                },
                found.first,
                found.last,
                "lid",
            )
    _all_along(scene)
    _without(scene)
    _lid_back(scene)
    _for_a_look(scene)


_OTHER_LIDS = bag("bin bucket box jar crate churn drain cooler bottle skip")


def _of_no_pot(scene: Scene, first: int, last: int) -> bool:
    """ "embers in the bin with the bin lid on": whose lid it is stands in front of the lid, or behind it."""
    for at in range(first, last):
        if scene.items[at].word in _LID_WORDS:
            before = scene.items[at - 1].word if at else ""
            behind = scene.row.words(at + 1, min(at + 4, len(scene.items)))
            whose = behind[2] if len(behind) == 3 and behind[0] in ("of", "on", "off") and behind[1] == "the" else ""
            return before in _OTHER_LIDS or whose in _OTHER_LIDS
    return False


def _for_a_look(scene: Scene) -> None:
    """ "took the lid off for a look": it goes back, where nobody says that it is to stay off."""
    off = [draft for draft in scene.drafts if draft.fields.get("act") == "lid_off"]
    if not off or scene.has_any(_STAYS_OFF):
        return
    for found in scene.find(
        r"(?:just |only )*(?:for|had|having|took|taking|to (?:have|take|get)) (?:a |another |my )?(?:quick |wee "
        r"|little |proper )*(?:look|peek|check|sniff|taste|prod|poke|nosey?|gander)"
        r"|to (?:look|check|see|taste|prod|poke|test)"
    ):
        first, _ = scene.sentence(found.first)
        before = [draft for draft in off if first <= draft.first < found.first]
        if before:
            dish = before[-1].fields.get("dish")
            scene.add({"is": "pot", "act": "lid_on", "dish": dish}, found.first, found.last, "lid back after a look")


def _all_along(scene: Scene) -> None:
    """ "forgot: lid was on the belly from the start"."""
    for found in scene.find(
        r"lid (?:was|has been|'s been) (?P<state>on|off)(?: (?:of )?(?P<dish><D>))? (?:from (?:start|beginning|outset)"
        r"|since start|all along|all time|whole time)"
    ):
        act = "lid_on" if found["state"] == "on" else "lid_off"
        scene.add({"is": "pot", "act": act, "dish": dish_of(found)}, found.first, found.last, "lid")


def _without(scene: Scene) -> None:
    """ "I put the chicken in, without the lid": told of a pot, no denial."""
    for found in scene.find(r"(?:without|with no|minus) (?:a |its |any )?lids?(?: on)?(?= ?(?:$|[.,;!|]|and ))", None):
        first, _ = scene.sentence(found.first)
        put = bag("in put into inside pot pan") & set(scene.row.words(first, found.first))
        told = all(scene.moods[n] == "fact" for n in range(first, found.first))
        if told and put and not any(draft.fields.get("act") == "lid_off" for draft in scene.drafts):
            scene.add({"is": "pot", "act": "lid_off"}, found.first, found.last, "lid")


def _lid_back(scene: Scene) -> None:
    """ "had the lid off ten mins, back on now": the lid that the clause before took off."""
    if not any(draft.fields.get("act") == "lid_off" for draft in scene.drafts):
        return
    for found in scene.find(r"(?:and |now |it 's |then )*back on(?: (?:now|again))*(?= ?(?:$|[.,;!|]))"):
        first, _ = scene.sentence(found.first)
        before = [draft for draft in scene.drafts if first <= draft.first < found.first]
        if before and before[-1].fields.get("act") == "lid_off":
            dish = before[-1].fields.get("dish")
            scene.add({"is": "pot", "act": "lid_on", "dish": dish}, found.first, found.last, "lid back on")
