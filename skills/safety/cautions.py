"""The usual cautions about fire, ash, carbon monoxide and burns: each once a class, at the moment it applies.

They defer to local codes and licensed practice. Figures carry their sources; the words are ours.
"""
from __future__ import annotations

from collections.abc import Iterable
from collections.abc import Set as AbstractSet
from datetime import timedelta

from skills import vocabulary as v
from skills.dated import Dated
from skills.safety.words import in_words, words_of
from skills.skill import Prompt
from skills.view import View
from skills.wording import in_lines

KIND = "fire"
# Coals may stay alive this long; a bin stands this far from buildings (US fire district and department notices).
ASH_DAYS, ASH_FT, ASH_M = 4, 10, 3
# Uninsulated flue pipe from what burns, in pipe diameters (Approved Document J 2010, as a trade page gives it).
FLUE_CLEARANCE_DIAMETERS = 3
# Extraction over solid-fuel cooking is examined at least this often in the UK (a council's page).
EXTRACTION_MONTHS = 14
_UNTIL = timedelta(minutes=30)
# So long after wood went on it flames (common practice, no source).
FLAMES = timedelta(minutes=40)
# Embers give off carbon monoxide until they are out: taken to be so for this long after the rake-out (judgement).
EMBERS = timedelta(hours=12)


def prompts(view: View) -> Iterable[Prompt]:
    """Door shut on live fire, ash after the rake-out, carbon monoxide where smoke and rain meet, wine near flame."""
    ended = view.record.ended
    yield from _unwell(view)
    for dated in view.record.facts:
        if view.now - dated.at > _UNTIL or (ended is not None and dated.at < ended):
            continue
        # Ash is carried out when the class is over: what is told of it then is heard as before.
        said = _said(dated, view) if ended is None else None
        if said is not None:
            key, text = said
            oven = view.record.ovens.get(dated.oven or "")
            fed = oven.fed_at if oven is not None else None
            # Wood went on a short while ago: no rake-out that nobody told of, but a door on flames. With a pot in, a
            # light oven is kept going like that.
            cooks = any(dish.cooking and dish.oven == dated.oven for dish in view.record.dishes.values())
            alight = key == "door" and fed is not None and dated.at - fed <= FLAMES and not cooks
            yield Prompt("safety" if alight else KIND, f"caution:{key}", view.now,
                         in_lines(f"{dated.who}: {text}"), dated.oven, None, dated.who, dated.at + _UNTIL,
                         urgent=key in ("door", "wine"))
        astray = _astray(dated, view)
        if astray is not None:
            key, text, act = astray
            yield Prompt("safety", f"safety:fire:{key}", view.now, in_lines(f"{dated.who}: {text}"), None, None,
                         dated.who, dated.at + _UNTIL, urgent=True, act=act)


def _unwell(view: View) -> Iterable[Prompt]:
    """A headache or dizziness by a fire or its embers. Who is called decides; nothing here is a diagnosis."""
    if not any(oven.burning or (oven.raked_at is not None and view.now - oven.raked_at <= EMBERS)
               for oven in view.record.ovens.values()):
        return
    for at, who in view.record.unwell:
        if view.now - at <= _UNTIL:
            yield Prompt("safety", "caution:unwell", view.now,
                         f"{who}: a headache, dizziness or sickness by a fire may be carbon monoxide.\nEverybody out "
                         "into the open air now. The emergency number if anybody is bad, else a doctor: they decide.\n"
                         "Doors wide if it can be done from outside; nobody back in until they say.", None, None, who,
                         at + _UNTIL, urgent=True)
            return


def _said(dated: Dated, view: View) -> tuple[str, str] | None:
    fact = dated.fact
    oven = view.record.ovens.get(dated.oven or "")
    if isinstance(fact, v.Door) and fact.state == "on" and oven is not None and oven.door == "on" and oven.burning \
            and not view.tended(oven.name):
        return "door", ("door on a live fire: it starves, gives off carbon monoxide, and flares when opened. Rake "
                        "first; open a hand's breadth, stand aside.")
    if isinstance(fact, v.Fire) and fact.act == "raked":
        return "ash", (f"embers and ash in a lidded metal bin, outdoors, {ASH_M} m from walls; alive up to {ASH_DAYS} "
                       "days and giving off carbon monoxide. Your fire service's advice goes first.")
    if isinstance(fact, v.Weather) and fact.sky == "rain" and any(each.burning for each in view.record.ovens.values()):
        return "cover", ("rain on a live fire: never under a closed cover or tent, carbon monoxide has no smell. Keep "
                         "air through, alarm on.")
    return _wine_or_oil(dated, view)


def _astray(dated: Dated, view: View) -> tuple[str, str, str] | None:
    """Somebody told where ash went, or that the place is shut up, and it is wrong: no caution but a hazard that stands.
    """
    words = in_words(dated.fact.text) if isinstance(dated.fact, v.Note) else frozenset()
    if words & words_of("ash") and words & words_of("lived_in") and not (
            words & (words_of("ash_dead") | words_of("apart"))):
        return "embers", ("embers in there give off carbon monoxide, which has no smell. Out into the open with them "
                          "now, in metal, and everything open; a headache or sickness means everybody out."
                          ), "embers out"
    if words & words_of("ash") and astray(words):
        return "ash", (f"ash or embers there can set fire to things for up to {ASH_DAYS} days and give off carbon "
                       f"monoxide. Into a metal bin, lid on, outdoors, {ASH_M} m from buildings and hedges, now. Your "
                       "fire service's advice goes first."), "ash into metal, lid on, away from buildings"
    if words & words_of("shut") and words & words_of("air_ways") and any(
            each.burning for each in view.record.ovens.values()):
        return "shut", ("a live fire with the place shut up: carbon monoxide has no smell. Open the doors, fan on, "
                        "alarm on, now; a headache or sickness means everybody out."), "doors open, fan on"
    return None


def astray(words: AbstractSet[str]) -> bool:
    """Whether ash or embers told of with these words are where they can set fire to something."""
    if words & words_of("ash_dead"):
        return False
    if words & words_of("apart"):
        # "away from the shed": what it is in still counts.
        words = words - words_of("near") - words_of("lived_in")
    if words & words_of("near_to") and words & words_of("near") and not words & words_of("lids"):
        return True
    return bool(words & words_of("ash_astray")) and not words & words_of("ash_right")


def _wine_or_oil(dated: Dated, view: View) -> tuple[str, str] | None:
    """Wine, spirits or oil told of while a fire burns that the dish may be beside. From memory, no source read."""
    fact = dated.fact
    told = fact.item if isinstance(fact, v.Contents) else fact.text if isinstance(fact, v.Note) else ""
    words = in_words(told)
    poured = words & words_of("alcohol") and not words & words_of("not_alcohol")
    hot_oil = words & words_of("oils") and words & (words_of("at_flame") | words_of("deep_frying"))
    if not (poured or hot_oil) or not _near_flame(dated, view, words):
        return None
    if poured:
        return "wine", ("wine or spirits near flame: never pour from the bottle there. Measure it out away from the "
                          "fire, bottle put away first, add it with the pan off the heat; stand back.")
    return "oil", ("oil near flame: keep it half a pan deep at most, dry food in. If it burns: no water; off the heat "
                   "if you can reach, cover it, get out, call the fire service.")


def _near_flame(dated: Dated, view: View, words: frozenset[str]) -> bool:
    """The words say so, or the dish is in an oven whose fire burns, or is not in one yet while a fire burns."""
    if not any(each.burning for each in view.record.ovens.values()):
        return bool(words & words_of("at_flame"))
    dish = view.record.dishes.get(dated.dish or "")
    oven = view.record.ovens.get(dish.oven or "") if dish is not None else None
    return oven is None or oven.burning
