"""A sentence sent in two pieces: "beehive back wall is", and a moment later "231 on the gun"."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import timedelta

from bot.reading.context import Context
from bot.reading.items import FILLERS, Item
from bot.reading.lexicon import bag
from bot.reading.normalise import plain
from bot.reading.result import Reading, Span
from bot.reading.tokens import row_of
from skills.vocabulary import Fact

# As long as a thumb takes to go on (common practice, no source).
A_MOMENT = timedelta(minutes=3)
MOST_ITEMS = 7
_NAMES = frozenset("PODI")
_OPEN = bag("is are 's was at reads reading says saying on in of about around now and it its by shows")
_SMALL = FILLERS | bag(
    "is 's are at on in of our and it its now temp temperature reading reads says core probe from to"
)


def begun_before(text: str, context: Context) -> str | None:
    """The piece before this one, if its sender left it open: only names in it, or a last word that wants more."""
    own = [said for said in context.last if said.who == context.sender]
    if context.sender is None or not own or context.now - own[-1].at > A_MOMENT:
        return None
    said = own[-1]
    if said.heard.facts or said.heard.questions or "?" in said.text or text.rstrip().endswith("?"):
        return None
    before = [item for item in row_of(said.text, plain(said.text), context).items if item.kind != "."]
    now = row_of(text, plain(text), context).items
    if not 0 < len(before) <= MOST_ITEMS or not now:
        return None
    if _number_first(before, now):
        return said.text
    if _time_first(before, now):
        return said.text.rstrip(" .…,:-")
    named = {item.kind for item in before} & _NAMES or any(item.word in ("core", "probe") for item in before)
    timed = sum(item.kind == "T" for item in before) == 1 and len(before) > 1 and "at" in {i.word for i in before}
    bare = all(item.kind in _NAMES or item.word in _SMALL or (timed and item.kind == "T") for item in before)
    if not named or not (bare or _wants_more(before)):
        return None
    again = {item.kind for item in now} & {item.kind for item in before} & frozenset("OD")
    return None if again else said.text.rstrip(" .…,:-")


def _number_first(before: list[Item], now: list[Item]) -> bool:
    """ "90", then "core of the ribs"."""
    if len(before) != 1 or before[0].kind not in "NH" or not all(i.kind in ("", ".", *_NAMES) for i in now):
        return False
    named = {item.kind for item in now} & frozenset("PD") or any(item.word == "core" for item in now)
    return bool(named) and all(item.kind != "" or item.word in _SMALL | bag("degrees") for item in now)


def _time_first(before: list[Item], now: list[Item]) -> bool:
    """ "at quarter past", then "dome floor was 176": the time heads what is told next, if that has none."""
    clocks = [item for item in before if item.kind == "T"]
    led = {item.word for item in before if item.kind == ""}
    small = bag("at about around so ok and late one this was from just")
    return len(clocks) == 1 and "at" in led and led <= small and (
        all(item.kind in ("", "T") for item in before) and not any(item.kind in "TA" and item.kind for item in now))


def hanging(text: str, context: Context) -> str | None:
    """The message before this one, if all of it was heard but a last clause that its sender left open, and this is
    the number that it wants: "dome ir back wall 231, floor is", then "198"."""
    own = [said for said in context.last if said.who == context.sender]
    if context.sender is None or not own or context.now - own[-1].at > A_MOMENT or not own[-1].heard.facts:
        return None
    said = own[-1].text.rstrip(" .…-")
    items = row_of(said, plain(said), context).items
    stop = max((at for at, item in enumerate(items) if item.kind == "." and item.word in ",;."), default=None)
    now = row_of(text, plain(text), context).items
    if stop is None or len([item for item in now if item.kind in "NH" and item.kind]) != 1:
        return None
    clause = items[stop + 1 :]
    named = any(item.kind == "P" for item in clause)
    open_ended = named and all(item.kind in _NAMES or item.word in _SMALL for item in clause)
    only = all(item.kind in ("N", "H", ".") or item.word in _SMALL | bag("degrees about c f") for item in now)
    return said if open_ended and only else None


def what_it_wanted(alone: Reading, whole: Reading, heard: Sequence[Fact], before: int) -> Reading:
    """Of the reading of both pieces what the first alone did not tell."""
    facts = tuple(fact for fact in whole.heard.facts if fact not in heard)
    if not facts or len(facts) != len(whole.heard.facts) - len(heard) or whole.heard.questions:
        return alone
    spans = tuple(_shifted(span, before) for span in whole.spans if span.end > before)
    return replace(whole, heard=whole.heard.model_copy(update={"facts": facts}), spans=spans, ask=None)


def _wants_more(items: list[Item]) -> bool:
    told = any(item.kind in frozenset("NHKLCTA") for item in items)
    return items[-1].kind == "" and items[-1].word in _OPEN and not told


def fuller(alone: Reading, whole: Reading, before: int) -> Reading:
    """The reading of both pieces if it says more than that of the second alone; `before`: letters of the first."""
    facts = whole.heard.facts
    if not facts or whole.heard.questions or whole.ask is not None or len(facts) < len(alone.heard.facts):
        return alone
    spans = tuple(_shifted(span, before) for span in whole.spans)
    return replace(whole, spans=spans)


def _shifted(span: Span, letters: int) -> Span:
    return replace(span, start=max(0, span.start - letters), end=max(0, span.end - letters))
