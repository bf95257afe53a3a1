"""Short words that answer a call: "got it", "done", "can't", a reaction; and replies that leave out what they are to.

A reply is about the call it replies to. Without one, short words are about the latest call to the one who speaks, or,
if the words are plain enough, about the latest call that nobody has taken.
"""
from __future__ import annotations

import re
from collections.abc import Collection, Iterable, Sequence
from dataclasses import replace
from datetime import datetime, timedelta
from typing import Any

from bot.reading.lexicon import bag
from bot.reading.result import Reading
from bot.session import Session
from bot.talk import Message
from skills import vocabulary as v
from skills.team.calls import EATING, HANDOVER, Act, Standing
from skills.vocabulary import Heard, fact

# How long after a call short words are still about it: to the one who was called, and to the others
# (common practice, no source).
MINE, ANYBODY, MINE_DONE = timedelta(minutes=20), timedelta(minutes=5), timedelta(minutes=45)

_STRONG = ("i've got it", "i have got it", "i got it", "got it", "got this", "got", "i've got this", "on it",
           "i'll do it", "i'll do that", "i'll get it", "i'll go", "i have it", "it's mine", "mine", "will do",
           "i'm on it", "i will", "doing it", "doing that", "i'm doing it", "on my way", "going",
           "leave it with me", "leave it to me",
           "✋", "🙋", "🏃")
_WEAK = ("yes", "yep", "yeah", "yup", "aye", "ok", "okay", "k", "sure", "roger", "heard", "copy", "copy that", "noted",
         "seen", "seen it", "right", "fine", "understood", "agreed", "👍", "👌", "🙌", "🆗", "👀", "+1")
_DONE = ("done", "done it", "done that", "i've done it", "it's done", "that's done", "all done", "did it", "i did it",
         "did that", "sorted", "all sorted", "just did it", "just done it", "✅", "✔", "☑")
_NO = ("no", "nope", "can't", "cannot", "i can't", "can't do it", "not me", "not now", "hands full", "someone else",
       "somebody else", "no can do", "👎", "❌", "🙅")
_SMALL = bag("please thanks thank you ta cheers chef bot yardhand mate now then just and in a sec min mins minute "
             "minutes two 2 1 one 5 five all oh right away straight boss")
_PICTURE_MARKS = re.compile("[\U0001f3fb-\U0001f3ff\ufe0f\u200d\u2640\u2642]")
_OF = re.compile(r"[+]?\w+(?:'\w+)?|[^\w\s.,;:!?()\"/-]")
_NAMED = re.compile(r"(?P<who>[a-z]+)(?:'s| has| is|) (?:got it|on it|got this|doing it|has it|will do it|going)")


def bind(session: Session, message: Message, reading: Reading) -> tuple[Reading, dict[str, str] | None]:
    """The reading with what the call adds to it; and the act on the call, if the words are one."""
    calls = session.standing()
    if not calls:
        return reading, None
    heard = reading.heard
    if heard.facts or heard.questions:
        return _filled(session, message, reading, calls), None
    if reading.ask is not None or reading.trouble is not None:
        return reading, None
    people = session.record.people
    names = {word for each in calls for name in (each.call.oven, each.call.dish, each.call.what) if name
             for word in name.split()}
    found = _act(message.text, (*people, *(each.call.who for each in calls if each.call.who)), names,
                 replied=message.reply_to is not None)
    if found is None:
        return reading, None
    act, plain, named = found
    who = named or message.sender
    each = _which(session, message, calls, act, plain or named is not None, who)
    if each is None or (each.call.kind in (HANDOVER, EATING) and not _same(each.call.who, message.sender)):
        return reading, None
    if each.call.kind == EATING and act == "claim":
        act = "done"
    facts = tuple(fact(said) for said in _told(each, act))
    return replace(reading, heard=Heard(facts=facts), leftover=()), {"call": each.call.id, "act": act, "who": who}


def _act(text: str, people: Iterable[str], things: Collection[str], *,
         replied: bool) -> tuple[Act, bool, str | None] | None:
    """(the act, whether the words are plain enough without a reply, who is said to have it)."""
    bare = _PICTURE_MARKS.sub("", text.lower().replace("’", "'"))
    words = _OF.findall(bare)
    if not words or len(words) > 10:
        return None
    said = " ".join(words)
    named = _NAMED.fullmatch(said)
    if named is not None:
        who = next((name for name in people if named["who"] in (name.lower(), name.lower().split()[0])), None)
        if who is not None:
            return "claim", True, who
    found: list[tuple[Act, bool]] = []
    while said:
        phrase = max((each for group in (_STRONG, _WEAK, _DONE, _NO) for each in group
                      if said == each or said.startswith(f"{each} ")), key=len, default=None)
        first, _, rest = said.partition(" ")
        if phrase is not None:
            found.append(_kind(phrase))
            said = said[len(phrase):].strip()
        elif first in _SMALL or (found and first in (*things, "the")):
            said = rest
        elif found and replied:
            break
        else:
            return None
    if not found:
        return None
    # "no, done it" and "yes, can't": the stronger word stands.
    act = max((act for act, _ in found), key=("claim", "done", "no").index)
    return act, any(plain for each, plain in found if each == act), None


def _kind(phrase: str) -> tuple[Act, bool]:
    if phrase in _DONE:
        return "done", True
    return ("no", False) if phrase in _NO else ("claim", phrase in _STRONG)


def _which(session: Session, message: Message, calls: Sequence[Standing], act: Act, plain: bool,
           who: str) -> Standing | None:
    sender = message.sender
    if message.reply_to is not None:
        wanted = session.again_as.get(message.reply_to, message.reply_to)
        chosen = next((each for each in calls if wanted in (each.call.id, each.call.to)), None)
        if chosen is None:
            return None
        # Calls of one moment may stand in one message of the room: then a person's own is meant.
        together = [each for each in calls if each.call.at == chosen.call.at and _same(each.owner, sender)]
        return chosen if _same(chosen.owner, sender) or not together else together[0]
    age = {each.call.id: message.at - _last_said(each) for each in calls}
    mine = [each for each in calls if _is_for(each, sender) and timedelta(0) <= age[each.call.id]
            and age[each.call.id] <= (MINE_DONE if act == "done" else MINE)]
    if mine:
        return min(mine, key=lambda each: age[each.call.id])
    if not plain or act != "claim":
        return None
    free = [each for each in calls if each.taken_by is None and each.call.kind not in (HANDOVER, EATING)
            and timedelta(0) <= age[each.call.id] <= ANYBODY]
    named = [each for each in free if _same(each.call.who, who)]
    return min(named or free, key=lambda each: age[each.call.id], default=None)


def _last_said(each: Standing) -> datetime:
    return max(at for at in (each.call.at, each.reminded_at, each.passed_at) if at is not None)


def _is_for(each: Standing, sender: str) -> bool:
    return _same(each.owner, sender) or (each.taken_by is None and _same(each.call.who, sender))


def _same(one: str | None, other: str | None) -> bool:
    return one is not None and other is not None and one.lower() == other.lower()


def _told(each: Standing, act: Act) -> list[dict[str, Any]]:
    """What an answer tells besides: "done" to a call for wood is a feed, "yes" to a hand-over takes the thing."""
    call = each.call
    if call.kind == HANDOVER:
        # A refusal leaves the thing with the one who has it.
        return [{"is": "task", "act": "claim", "what": call.what, **({"who": call.by} if act == "no" else {})}]
    if call.kind == EATING:
        return [{"is": "fix", "act": "undo", "of": "serve"}] if act == "no" else []
    if call.key.startswith("allergen:") and call.kind == "safety":
        return [] if act == "no" else [{"is": "task", "act": "done", "what": f"allergens of the {call.dish}"}]
    if act != "done":
        return []
    if call.kind == "refuel":
        return [{"is": "fire", "act": "fed", "oven": call.oven}]
    if call.kind == "liquid":
        return [{"is": "pot", "act": "topped_up", "dish": call.dish}]
    if call.key.startswith("out:"):
        return [{"is": "pot", "act": "out", "dish": call.dish}]
    return []


def _filled(session: Session, message: Message, reading: Reading, calls: Sequence[Standing]) -> Reading:
    """A reply need not name the oven or the dish of the call that it replies to."""
    if message.reply_to is None:
        return reading
    wanted = session.again_as.get(message.reply_to, message.reply_to)
    each = next((each for each in calls if each.call.id == wanted), None)
    if each is None:
        return reading
    facts = []
    for told in reading.heard.facts:
        oven, dish = each.call.oven, each.call.dish
        if told.oven is None and told.dish is None:
            if oven is not None and isinstance(told, v.Fire | v.Door | v.Reading):
                told = told.model_copy(update={"oven": oven})
            elif dish is not None and isinstance(told, v.Pot | v.Check | v.Food | v.Stage | v.Chill | v.Reheat):
                told = told.model_copy(update={"dish": dish})
        facts.append(told)
    ask = reading.ask
    if ask is not None and ask.missing in ("oven", "dish"):
        ask = None
    return replace(reading, heard=Heard(facts=tuple(facts), questions=reading.heard.questions), ask=ask)
