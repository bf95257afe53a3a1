"""What is due to be said unasked, and when: pure functions of the plan and of what was said already.

Rules of silence: nothing twice under one key; the same kind about the same thing not twice in ten minutes; about six
an hour; while the lead teaches only what is urgent passes, the rest waits or lapses. A call that nobody takes is said
once more and once to the lead (skills/team/calls.py), under the same rules. Two people are never called for one act.
"""
from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime, timedelta

from bot.session import Session
from bot.talk import Action
from skills.all_skills import SKILLS
from skills.skill import Prompt
from skills.team.calls import Again, Standing, reminders
from skills.view import View

# Job, section 5: the same prompt never twice in 10 min, about 6 unasked an hour, bundled if within 5 min.
SAME_AGAIN = timedelta(minutes=10)
AN_HOUR = timedelta(hours=1)
MOST_AN_HOUR = 6
BUNDLE = timedelta(minutes=5)
LAPSE = timedelta(minutes=30)
# Acts that one person does with his hands.
ONE_FOR = ("refuel", "liquid", "ready", "reading", "move")


def propose(view: View) -> list[Prompt]:
    """Every prompt that the skills would give from now on if nothing more is told, said before or not."""
    return [prompt for skill in SKILLS for prompter in skill.prompts for prompt in prompter(view)]


def plan(found: Sequence[Prompt], said: Mapping[str, datetime], now: datetime) -> list[Prompt]:
    """Those that were not said, in order of time; what is due already does not wait for the next whole minute."""
    new = [prompt if prompt.due <= now else replace(prompt, due=_whole_minute(prompt.due))
           for prompt in found if prompt.key not in said]
    return sorted(new, key=lambda prompt: (prompt.due, prompt.key))


def _whole_minute(at: datetime) -> datetime:
    """A person's clock has no seconds; never earlier than it was due."""
    whole = at.replace(second=0, microsecond=0)
    return whole if whole == at else whole + timedelta(minutes=1)


def _topic(prompt: Prompt) -> str:
    """What a prompt is about; of no oven and no dish, each is about its own thing: a burn delays no word on embers."""
    about = prompt.key if prompt.oven is None and prompt.dish is None else f"{prompt.oven}:{prompt.dish}"
    return f"topic:{prompt.kind}:{about}"


def _when(prompt: Prompt, session: Session, again: bool) -> datetime | None:
    """The first time at which the rules of silence let a prompt through; None if it lapses before that."""
    when = prompt.due
    last = None if again else session.said.get(_topic(prompt))
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


@dataclass(frozen=True)
class _Waiting:
    when: datetime
    prompt: Prompt
    again: Again | None = None


def _waiting(prompts: Sequence[Prompt], session: Session, calls: Sequence[Standing]) -> list[_Waiting]:
    """What may be said: the plan, and the open calls that are to be said again; the earliest first."""
    found = [_Waiting(when, prompt) for prompt in prompts if prompt.key not in session.said
             and (when := _when(prompt, session, False)) is not None]
    for each in reminders(calls, session.record.lead):
        prompt = replace(each.prompt, due=_whole_minute(each.prompt.due))
        when = _when(prompt, session, True)
        if when is not None:
            found.append(_Waiting(when, prompt, each))
    return sorted(found, key=lambda each: (each.when, each.prompt.key))


def next_due(prompts: Sequence[Prompt], session: Session) -> datetime | None:
    return min((each.when for each in _waiting(prompts, session, session.standing())), default=None)


def due_now(prompts: Sequence[Prompt], session: Session, now: datetime) -> list[Action]:
    """The prompts to say now; those due within five minutes more come along, so that people are called once."""
    calls = session.standing()
    waiting = _waiting(prompts, session, calls)
    if not waiting or waiting[0].when > now:
        return []
    room = MOST_AN_HOUR - sum(1 for at in session.prompted if at > now - AN_HOUR)
    actions: list[Action] = []
    topics: set[str] = set()
    hush = session.record.hush_until
    quiet = hush is not None and hush > now
    for each in waiting:
        prompt = each.prompt if each.again else _to_the_same(each.prompt, calls)
        topic = prompt.key if each.again else _topic(prompt)
        if each.when > (now if each.again else now + BUNDLE) or topic in topics:
            continue
        if not prompt.urgent and (quiet or len(actions) >= room):
            continue
        if prompt.lapses is not None and now > prompt.lapses + BUNDLE:
            continue
        topics.add(topic)
        data: dict[str, object] = {"key": prompt.key}
        if each.again:
            data["again"] = {"call": each.again.call, "step": each.again.step}
        else:
            data["topic"] = topic
            if prompt.said:
                data["told"] = {name: {"mid": mid, "at": now.timestamp(), "odds": None}
                                for name, mid in prompt.said.items()}
            for name in ("lapses", "act_at"):
                if (moment := getattr(prompt, name)) is not None:
                    data[name] = moment.isoformat()
        if prompt.urgent:
            data["urgent"] = True
        for name in ("act", "late"):
            if getattr(prompt, name) and not each.again:
                data[name] = getattr(prompt, name)
        actions.append(Action(session.next_id(len(actions)), "prompt", now, session.class_id, prompt.text,
                              prompt=prompt.kind, oven=prompt.oven, dish=prompt.dish, who=prompt.who, data=data))
    return actions


def _to_the_same(prompt: Prompt, calls: Sequence[Standing]) -> Prompt:
    """Who was called for an act, or took it, is the one who hears of it again."""
    for each in calls:
        same = (each.call.kind, each.call.oven, each.call.dish) == (prompt.kind, prompt.oven, prompt.dish)
        if same and prompt.kind in ONE_FOR and each.owner and prompt.who and each.owner != prompt.who:
            return replace(prompt, who=each.owner, text=f"{each.owner}: {prompt.text.removeprefix(f'{prompt.who}: ')}")
    return prompt
