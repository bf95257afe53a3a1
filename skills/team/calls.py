"""Calls: words that want somebody to act. Which of them are open, who took them, and when to ask again.

A call is open until it is answered by what it asks for (a fact), or overtaken (its skill would not give it any more, or
a newer call is about the same thing). "Got it" takes a call without closing it. Everything here is worked out from the
log: what was said, what was heard after it, and the facts in force; a correction re-opens what it takes away.
"""
from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import datetime, timedelta
from typing import Literal

from skills import vocabulary as v
from skills.dated import Dated
from skills.skill import Prompt
from skills.wording import capital, clock

Act = Literal["claim", "done", "no"]

# A call that nobody takes is said once more after this long, then once to the lead (job, section 5: never the same
# twice in ten minutes, one reminder, one step up; the lengths after it are common practice, no source). Who took it is
# reminded later, and once; then the lead hears. The shorter step is for food that may hurt somebody within the hour.
WAIT = timedelta(minutes=10)
# What has an hour or more is done when a hand is free (judgement).
LONGEST_WAIT = timedelta(minutes=20)
STEP_UP, STEP_UP_URGENT = timedelta(minutes=10), timedelta(minutes=4)
LATE = timedelta(minutes=2)
TAKEN, TAKEN_URGENT = timedelta(minutes=15), timedelta(minutes=10)
SOON = timedelta(hours=1)
# A fact that happened this long before a call and was told after it answers it ("forgot: fed at ten past").
BEFORE = timedelta(minutes=30)
HANDOVER, EATING = "handover", "eating"
# An act that is to be done so much later than was called for is another call, under the key of the first and a mark.
PUT_OFF_BY, PUT_OFF = timedelta(minutes=15), "|"
# Kinds that want an answer from a person (job, section 5). A request for a look or a reading is not asked for again.
_PRESSING = ("refuel", "liquid", "move", "serve", "safety", "allergen", HANDOVER, EATING)
_HURTS = ("safety", "allergen")


@dataclass(frozen=True)
class Call:
    """Something said that wants an act. `heard`: how many messages had come before it.

    what: the thing that is handed over. by: who hands it over or told the change. to: the message that it answers.
    lapses: not worth saying after. act_at: when it is to be done. act: what is to be done, in the words of a reminder;
    late: the words once that time has passed.
    """
    id: str
    key: str
    kind: str
    at: datetime
    text: str
    who: str | None = None
    oven: str | None = None
    dish: str | None = None
    urgent: bool = False
    lapses: datetime | None = None
    heard: int = 0
    what: str | None = None
    by: str | None = None
    to: str | None = None
    act_at: datetime | None = None
    act: str = ""
    late: str = ""

    @property
    def pressing(self) -> bool:
        """Whether it is asked for again. Cautions tell, and a call to look for the lead is a step up already."""
        if self.key.startswith("caution:") or self.key.endswith(":again"):
            return False
        if self.key.startswith("allergen:"):
            return self.kind == "safety"
        return self.kind in _PRESSING

    @property
    def words(self) -> str:
        """The words without the name in front."""
        return self.text.removeprefix(f"{self.who}: ") if self.who else self.text


@dataclass(frozen=True)
class Bound:
    """A short answer to a call: taken, done, or refused, by whom. `message` holds it."""
    message: str
    call: str
    act: Act
    who: str
    at: datetime


@dataclass(frozen=True)
class Standing:
    """An open call as it stands. now: what its skill would say of it since the last message."""
    call: Call
    taken_by: str | None = None
    taken_at: datetime | None = None
    refused_at: datetime | None = None
    reminded_at: datetime | None = None
    passed_at: datetime | None = None
    now: Prompt | None = None

    @property
    def owner(self) -> str | None:
        return self.taken_by or self.call.who

    @property
    def act_at(self) -> datetime | None:
        """When it is to be done, by what was told since."""
        return self.now.act_at if self.now is not None and self.now.late else self.call.act_at

    def words(self, at: datetime) -> str:
        """What is true of it at a time, without a name in front: nothing is asked for by a time that is gone."""
        newest = self.now if self.now is not None and self.now.late else self.call
        if newest.late and self.act_at is not None and at >= self.act_at:
            return newest.late
        return newest.text.removeprefix(f"{newest.who}: ")


@dataclass(frozen=True)
class Talk:
    """What of the talk the calls need.

    arrived: (message, index of the fact) -> its place in the order in which messages came.
    live: what the skills would still say, by its key (None: not known).
    again: call -> (step, when) that it was said again.
    """
    calls: Sequence[Call] = ()
    bounds: Sequence[Bound] = ()
    arrived: Mapping[tuple[str, int], int] = field(default_factory=dict)
    live: Mapping[str, Prompt] | None = None
    again: Mapping[str, Sequence[tuple[int, datetime]]] = field(default_factory=dict)


def standing(talk: Talk, facts: Sequence[Dated]) -> tuple[Standing, ...]:
    """The open calls, the oldest first."""
    found = []
    newest = {topic(call): call.id for call in talk.calls}
    for call in talk.calls:
        if newest[topic(call)] != call.id or not _alive(call, talk):
            continue
        after = [dated for dated in facts if talk.arrived.get((dated.message, dated.index), -1) >= call.heard
                 and dated.at >= call.at - BEFORE]
        if any(answers(call, dated) for dated in after):
            continue
        own = [bound for bound in talk.bounds if bound.call == call.id]
        if any(bound.act == "done" for bound in own):
            continue
        now = talk.live.get(call.key) if talk.live is not None else None
        found.append(replace(_as_it_stands(call, own, after, talk.again.get(call.id, ())), now=now))
    return tuple(found)


def _as_it_stands(call: Call, own: Sequence[Bound], after: Sequence[Dated],
                  again: Iterable[tuple[int, datetime]]) -> Standing:
    taken: list[tuple[datetime, str]] = [(bound.at, bound.who) for bound in own if bound.act == "claim"]
    if call.kind != HANDOVER:
        taken += [(dated.at, _taker(dated)) for dated in after
                  if isinstance(dated.fact, v.Task) and dated.fact.act == "claim" and _names(call, dated.fact.what)]
    refused = [bound.at for bound in own if bound.act == "no"]
    steps = dict(again)
    # Of two who take it in one minute the one who spoke last has it.
    last = sorted(taken, key=lambda each: each[0])[-1] if taken else None
    if last is not None and refused and max(refused) > last[0]:
        last = None
    return Standing(call, last[1] if last else None, last[0] if last else None,
                    max(refused) if refused and last is None else None, steps.get(1), steps.get(2))


def topic(call: Call) -> tuple[object, ...]:
    """Calls about the same act: the newest counts. Matters of food safety and allergens each stand for themselves."""
    if call.kind in ("safety", "allergen", EATING):
        return call.kind, call.key
    return call.kind, call.oven, call.dish, call.what, call.key.split(":")[0]


def _alive(call: Call, talk: Talk) -> bool:
    """Whether its skill would still say it. Some skills are silent on what they have said; those go by facts alone."""
    by_facts = call.kind in (HANDOVER, EATING, "liquid") or call.key.startswith("miss:")
    return by_facts or talk.live is None or call.key in talk.live


def _names(call: Call, what: str | None) -> bool:
    """Whether who takes a thing takes this call: who has the oven has its fire, not every pot in it."""
    return bool(set((call.dish or call.oven or "").split()) & set((what or "").split()))


def answers(call: Call, dated: Dated) -> bool:
    """Whether a fact is what the call asks for."""
    fact = dated.fact
    here = call.dish is None or dated.dish is None or dated.dish == call.dish
    stove = call.oven is None or dated.oven == call.oven
    pot = fact.act if isinstance(fact, v.Pot) and here else None
    check = fact if isinstance(fact, v.Check) and here else v.Check()
    if call.kind == "refuel":
        return isinstance(fact, v.Fire) and fact.act in ("fed", "raked", "out") and stove
    if call.kind == "liquid":
        return pot in ("topped_up", "out") or check.liquid == "ok"
    if call.kind == "ready":
        return pot == "out" or check.tender is not None
    if call.kind in ("serve", "move"):
        over = isinstance(fact, v.Stage) and here and fact.stage in ("resting", "served")
        return isinstance(fact, v.Serve) or pot in ("out", "moved") or over
    if call.kind == "reading":
        looked = call.dish is not None and here and isinstance(fact, v.Food | v.Check)
        return looked or (isinstance(fact, v.Reading) and stove)
    if call.kind == HANDOVER:
        return isinstance(fact, v.Task) and bool(set((fact.what or "").split()) & set((call.what or "").split()))
    return call.kind == EATING and isinstance(fact, v.Serve) and _same(dated.who, call.who)


def _taker(dated: Dated) -> str:
    return dated.fact.who or dated.who if isinstance(dated.fact, v.Task) else dated.who


def _same(one: str | None, other: str | None) -> bool:
    return one is not None and other is not None and one.lower() == other.lower()


def put_off(found: Sequence[Prompt], calls: Sequence[Call], now: datetime) -> list[Prompt]:
    """The same prompts, under the key of the call that each goes on with; or under a new one where what was told since
    has put its act off, so that it is called for once more at its new time and not in between."""
    newest = {call.key.split(PUT_OFF)[0]: call for call in calls}
    renewed = []
    for prompt in found:
        call = newest.get(prompt.key)
        if call is None or prompt.act_at is None or call.act_at is None:
            renewed.append(prompt)
        elif prompt.due > now and prompt.act_at - call.act_at >= PUT_OFF_BY:
            renewed.append(replace(prompt, key=f"{prompt.key}{PUT_OFF}{call.act_at:%d%H%M}"))
        else:
            # What is due at once is no later than it was asked for.
            act_at = prompt.act_at if prompt.due > now else call.act_at
            renewed.append(replace(prompt, key=call.key, act_at=act_at))
    return renewed


@dataclass(frozen=True)
class Again:
    """Words that are to be said again: step 1 to the one who was asked or took it, step 2 to the lead."""
    prompt: Prompt
    call: str
    step: int


def reminders(calls: Sequence[Standing], lead: str | None) -> Iterable[Again]:
    """What is to be said again, and when: once to the one who was asked or took it, once to the lead; then no more."""
    for each in calls:
        call = each.call
        if not call.pressing:
            continue
        urgent = call.urgent and call.kind in _HURTS and (call.lapses is None or call.lapses - call.at <= SOON)
        patience = _patience(call)
        step_up = STEP_UP_URGENT if urgent else max(STEP_UP, patience)
        taken = each.taken_at
        if each.reminded_at is None and each.refused_at is None:
            # What is to be done at a later time is not asked for again before then.
            since = call.at + patience if taken is None else taken + (TAKEN_URGENT if urgent else TAKEN)
            due = max(since, (each.act_at or call.at) + LATE)
            if call.act and call.lapses is not None and due > call.lapses:
                # The act is no longer possible: the board keeps it.
                continue
            if call.act:
                text = _named(each.owner, f"still open since {clock(call.at)}: {call.act}.")
            else:
                text = _named(each.owner, each.words(due))
            yield _again(call, 1, due, each.owner, text)
            continue
        since = each.refused_at or (each.reminded_at + step_up if each.reminded_at else call.at)
        if taken is not None:
            # Who took it after the reminder has the time that a taker has.
            since = max(since, taken + (TAKEN_URGENT if urgent else TAKEN))
        if each.passed_at is None and lead and not _same(lead, each.owner):
            yield _again(call, 2, since, lead, _to_lead(each, lead, since))


def _patience(call: Call) -> timedelta:
    """How long a call stands before it is said again: a third of the time that food has, within bounds."""
    if call.lapses is None or call.kind != "safety":
        return WAIT
    return min(max(WAIT, (call.lapses - call.at) / 3), LONGEST_WAIT)


def _named(who: str | None, words: str) -> str:
    return f"{who}: {words}" if who else words


def _to_lead(each: Standing, lead: str, at: datetime) -> str:
    call = each.call
    who, said = call.who, f"has not answered since {call.at:%H:%M}"
    if each.taken_by is not None and each.taken_at is not None:
        who, said = each.taken_by, f"has this since {each.taken_at:%H:%M} and has not said it is done"
    elif each.refused_at is not None:
        said = "cannot"
    head = f"{lead}: {who} {said}." if who else f"{lead}: nobody has taken this since {call.at:%H:%M}."
    words = capital(each.words(at))
    return "\n".join([head, *words.split("\n")][:3])


def _again(call: Call, step: int, due: datetime, who: str | None, text: str) -> Again:
    lapses = max(call.lapses or call.at + timedelta(minutes=45), due)
    prompt = Prompt("reminder" if step == 1 else "lead", f"again{step}:{call.id}", due, text, call.oven, call.dish, who,
                    lapses, urgent=call.urgent)
    return Again(prompt, call.id, step)
