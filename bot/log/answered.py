"""Who answered a prompt, and with what.

The message that the room took for its answer, or that replied to it, or the first after it that tells something of what
it asked for.
"""
from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta

from bot.talk import Action, Answer, LogLine
from skills import vocabulary as v
from skills.record import ClassRecord

# After this long a message is no longer the answer to a prompt (judgement).
WITHIN = timedelta(minutes=45)
# What the room noted of a message that was about a call: taken or done; "can't" answers nothing.
TAKES = ("claim", "done")
# What answers each kind of prompt; any other kind is answered by a reply to it, or by somebody who takes it on.
ANSWERS: dict[str, tuple[type[v.Fact], ...]] = {
    "refuel": (v.Fire, v.Task), "reading": (v.Reading, v.Food, v.Check),
    "liquid": (v.Pot, v.Check), "ready": (v.Check, v.Pot, v.Stage), "serve": (v.Stage, v.Serve, v.Pot),
    "allergen": (v.Guests, v.Contents, v.Task), "fire": (v.Fire, v.Task),
    "safety": (v.Food, v.Chill, v.Reheat, v.StoreHeat, v.Pot, v.Stage, v.Check, v.Task),
}


@dataclass(frozen=True)
class Answered:
    """By whom, when, and the words."""
    who: str
    told: datetime
    how: str


def answer_to(prompt: Action, after: Sequence[LogLine], record: ClassRecord) -> Answered | None:
    """The answer to a prompt among the lines after it."""
    facts = {(dated.message, dated.index): dated for dated in record.facts}
    kinds = ANSWERS.get(prompt.prompt or "", (v.Task,))
    # A reminder is answered with the call that it repeats.
    mine = {prompt.id, prompt.data.get("again", {}).get("call")}
    for line in after:
        if not isinstance(line, Answer):
            continue
        message = line.message
        found = Answered(message.sender, message.at, message.text)
        bound = line.read.get("bound")
        if bound is not None and bound["act"] in TAKES:
            if bound["call"] in mine:
                return Answered(bound["who"], message.at, message.text)
            continue
        if message.reply_to == prompt.id:
            return found
        if message.at - prompt.at > WITHIN:
            continue
        for index, fact in enumerate(line.heard.facts):
            dated = facts.get((message.id, index))
            if dated is None or not isinstance(fact, kinds):
                continue
            named = isinstance(fact, v.Task) and prompt.dish is not None and prompt.dish in (fact.what or "")
            if (prompt.oven in (None, dated.oven) or dated.oven is None) and (
                    named or prompt.dish in (None, dated.dish)):
                return found
    return None
