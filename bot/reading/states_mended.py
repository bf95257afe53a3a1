"""Corrections of a state: "stock was cold, not hot", "the cut was shin, not shoulder"."""

from __future__ import annotations

from datetime import timedelta
from typing import Any

from bot.reading.lexicon import bag
from bot.reading.scene import Scene, clean, compiled

_CUE = r"(?:(?:sorry|no|oops|actually|wait|correction|ah|my mistake|my bad)(?: [,:-])? )*"
_BE = r"(?: (?:was|is|were|are|'s|should be|should have been))+"
_NOT = r"(?: ,)? (?:not|instead of|rather than)"
_END = r"(?: ,)?(?: (?:sorry|my mistake|my bad|soz|oops))*"
_SIMMER = {"gentle": "gentle", "soft": "gentle", "slow": "gentle", "hard": "hard", "rolling": "hard", "none": "none"}


def state_mended(scene: Scene, first: int, last: int) -> dict[str, Any] | None:
    """What a sentence says that something was, and was not."""
    start, stop = scene.row.offset(first), scene.row.offset(last)
    text = scene.row.canon[start:stop].strip(" .!,")
    if not {"not", "instead", "rather"} & set(text.split()):
        return _tool_told_later(scene, text)
    return _tool(scene, text) or _start(text) or _cut(scene, text) or _simmer(scene, text)


def _tool(scene: Scene, text: str) -> dict[str, Any] | None:
    match = compiled(
        rf"{_CUE}(?P<p><P>|that|it)(?: (?:one|reading))?{_BE}(?: (?:with|by|from|on|off))? (?P<tool><I>|probe)"
        rf"{_NOT}(?: (?:with|by|from|on|off))? (?P<other><I>|probe){_END}"
    ).fullmatch(text)
    if match is None or match["tool"][0] == match["other"][0]:
        return None
    fields: dict[str, Any] = {"of": "reading", "tool": "probe" if match["tool"] == "probe" else "infrared"}
    if match["p"][1:].isdigit():
        fields["place"] = str(scene.item(match["p"]).value)
    return fields


# So long after a reading its tool may still be told (common practice, no source).
A_TOOL = timedelta(minutes=20)


def _tool_told_later(scene: Scene, text: str) -> dict[str, Any] | None:
    """ "sole was gun as well": with what a spot was read that was told before."""
    match = compiled(
        rf"{_CUE}(?P<p><P>|that|it)(?: (?:one|reading))?{_BE}(?: (?:with|by|from|on|off|also|the))* (?P<tool><I>|probe)"
        r"(?: (?:as well|too|also|as))*"
    ).fullmatch(text)
    if match is None:
        return None
    place = str(scene.item(match["p"]).value) if match["p"][1:].isdigit() else None
    told = [fact.said() for said in scene.context.last if scene.context.now - said.at <= A_TOOL
            for fact in said.heard.facts if fact.is_ == "reading"]
    if not any("celsius" in fact and place in (None, fact.get("place")) for fact in told) or place == "air":
        return None
    tool = "probe" if match["tool"] == "probe" else "infrared"
    return {"of": "reading", "tool": tool, **({"place": place} if place else {})}


def _start(text: str) -> dict[str, Any] | None:
    temps = r"(?:cold|hot|warm|boiling|tepid)"
    match = compiled(
        rf"{_CUE}(?:<D>|stock|broth|water|liquid|liquor|it all)(?: (?:in|for) <D>)?{_BE} (?:in )?(?P<now>{temps})"
        rf"(?: when <W> <W>)?{_NOT} (?P<wrong>{temps}){_END}"
    ).fullmatch(text)
    if match is None:
        return None
    return {"of": "load", "start": "hot" if match["now"] in ("hot", "boiling") else "cold"}


def _cut(scene: Scene, text: str) -> dict[str, Any] | None:
    match = compiled(
        rf"{_CUE}(?P<noun>cut|meat|<D>){_BE} (?P<cut>(?:<D>|<W>)(?: <W>)?){_NOT} (?:<D>|<W>)(?: <W>)?{_END}"
    ).fullmatch(text)
    if match is None or set(match["cut"].split()) & bag("in out on done ready cold hot tender tough"):
        return None
    if match["noun"][1:].isdigit() and str(scene.item(match["noun"]).value) != "joint":
        return None
    token = match["cut"].split()[0]
    return {"of": "load", "cut": clean(str(scene.item(token).value) if token[1:].isdigit() else match["cut"])}


def _simmer(scene: Scene, text: str) -> dict[str, Any] | None:
    kinds = "|".join(_SIMMER)
    match = compiled(
        rf"{_CUE}(?:(?P<dish><D>) )?(?:simmer|bubble|boil)(?:{_BE})?(?: a)? (?P<now>{kinds}){_NOT}(?: a)?"
        rf" (?:{kinds}){_END}"
    ).fullmatch(text)
    if match is None:
        return None
    fields: dict[str, Any] = {"of": "check", "simmer": _SIMMER[match["now"]]}
    if match["dish"]:
        fields["dish"] = str(scene.item(match["dish"]).value)
    return fields
