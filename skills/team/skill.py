"""Who has what, and what can be said here."""
from __future__ import annotations

from skills.safety.in_use import say_rules
from skills.skill import Reply, Skill
from skills.view import FIRE_TASKS, View
from skills.vocabulary import Help, Who
from skills.wording import capital, clock


def say_who(question: Who, view: View) -> Reply:
    """ "who has the barrel?"; "who has what?" """
    tasks = view.record.tasks
    if question.what is None or question.what in ("what", "it", "everything"):
        lines = [_held(what, view) for what in list(tasks)[-2:]]
        waiting = [each.call for each in view.calls if each.call.pressing and each.taken_by is None]
        lines += [f"Open: {call.words.split(chr(10))[0].split('. ')[0].rstrip('.')}, {call.who or 'nobody'} asked at "
                  f"{clock(call.at)}." for call in waiting[-1:]]
        return Reply(tuple(lines) or ("Nobody has claimed anything yet. Say 'I've got the barrel'.",))
    words = set(question.what.split())
    found = [what for what in tasks if words & set(what.split())]
    if found:
        return Reply((_held(found[-1], view),))
    oven = view.oven(question.what)
    fire = next((what for what in tasks if what in FIRE_TASKS), None)
    if oven is not None and fire is not None and view.holder(oven.name) is not None:
        return Reply((_held(fire, view),))
    if oven is not None and oven.fed_at is not None and oven.fed_by is not None:
        return Reply((f"Nobody has claimed the {question.what}. {oven.fed_by} fed it last, at {clock(oven.fed_at)}.",))
    return Reply((f"Nobody has claimed the {question.what}. Say 'I've got the {question.what}'.",))


def _held(what: str, view: View) -> str:
    who, at = view.record.tasks[what]
    offer = view.record.offers.get(what)
    waits = f" {offer.to} was asked at {clock(offer.at)} and has not said yes." if offer is not None else ""
    return f"{capital(who)} has the {what} since {clock(at)}.{waits}"


def say_help(question: Help, view: View) -> Reply:
    """ "what can I say?", "which rules are we on?" """
    if question.about == "rules":
        return say_rules(view)
    return Reply((
        "Tell me what you see: 'floor 180 air 170', 'lamb in', 'two splits on', 'still tough', 'sorry, 210 not 120'.",
        "Ask: 'when will the lamb be done', 'will it make half one', 'what will the dome be at three', 'where are we',",
        "'does the barrel want wood', 'who has the barrel', 'post the summary'. Doubt a figure? Say the right one.",
    ))


SKILL = Skill(
    name="team", about="who has what, and what can be said", answers={Who: say_who, Help: say_help},
    examples=("who has the barrel?", "what can I say?"),
)
