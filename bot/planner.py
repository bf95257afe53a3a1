"""What is due to be said unasked, and when: pure functions of the plan and of what was said already.

Rules of silence: nothing twice under one key; the same kind about the same thing not twice in ten minutes; about six
an hour; while the lead teaches only what is urgent passes, the rest waits or lapses.
"""
from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import datetime, timedelta

from bot.session import Session
from bot.talk import Action
from skills.all_skills import SKILLS
from skills.skill import Prompt
from skills.view import View

# Job, section 5: the same prompt never twice in 10 min, about 6 unasked an hour, bundled if within 5 min.
SAME_AGAIN = timedelta(minutes=10)
AN_HOUR = timedelta(hours=1)
MOST_AN_HOUR = 6
BUNDLE = timedelta(minutes=5)
LAPSE = timedelta(minutes=30)


def plan(view: View) -> list[Prompt]:
    """Every prompt that may fall due from now on if nothing more is told, in order of time."""
    found = [prompt for skill in SKILLS for prompter in skill.prompts for prompt in prompter(view)]
    new = [prompt for prompt in found if prompt.key not in view.said]
    new = [replace(prompt, due=_whole_minute(prompt.due)) for prompt in new]
    return sorted(new, key=lambda prompt: (prompt.due, prompt.key))


def _whole_minute(at: datetime) -> datetime:
    """A person's clock has no seconds; never earlier than it was due."""
    whole = at.replace(second=0, microsecond=0)
    return whole if whole == at else whole + timedelta(minutes=1)


def _topic(prompt: Prompt) -> str:
    return f"topic:{prompt.kind}:{prompt.oven}:{prompt.dish}"


def _when(prompt: Prompt, session: Session) -> datetime | None:
    """The first time at which the rules of silence let a prompt through; None if it lapses before that."""
    when = prompt.due
    last = session.said.get(_topic(prompt))
    if last is not None:
        when = max(when, last + SAME_AGAIN)
    if not prompt.urgent:
        hush = session.record.hush_until
        if hush is not None:
            when = max(when, hush)
        recent = [at for at in session.prompted if at > when - AN_HOUR]
        if len(recent) >= MOST_AN_HOUR:
            when = max(when, recent[-MOST_AN_HOUR] + AN_HOUR + timedelta(seconds=1))
    lapses = prompt.lapses or prompt.due + LAPSE
    return when if when <= lapses else None


def _open(prompts: Sequence[Prompt], session: Session) -> list[tuple[datetime, Prompt]]:
    timed = [(_when(prompt, session), prompt) for prompt in prompts if prompt.key not in session.said]
    return [(when, prompt) for when, prompt in timed if when is not None]


def next_due(prompts: Sequence[Prompt], session: Session) -> datetime | None:
    return min((when for when, _ in _open(prompts, session)), default=None)


def due_now(prompts: Sequence[Prompt], session: Session, now: datetime) -> list[Action]:
    """The prompts to say now; those due within five minutes more come along, so that people are called once."""
    waiting = sorted(_open(prompts, session), key=lambda pair: (pair[0], pair[1].key))
    if not waiting or waiting[0][0] > now:
        return []
    room = MOST_AN_HOUR - sum(1 for at in session.prompted if at > now - AN_HOUR)
    actions: list[Action] = []
    topics: set[str] = set()
    for when, prompt in waiting:
        if when > now + BUNDLE or _topic(prompt) in topics or (len(actions) >= room and not prompt.urgent):
            continue
        if prompt.lapses is not None and now > prompt.lapses + BUNDLE:
            continue
        topics.add(_topic(prompt))
        actions.append(Action(session.next_id(len(actions)), "prompt", now, session.class_id, prompt.text,
                              prompt=prompt.kind, oven=prompt.oven, dish=prompt.dish, who=prompt.who,
                              data={"key": prompt.key, "topic": _topic(prompt)}))
    return actions
