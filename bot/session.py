"""One class in one room: its messages in force, the record, what the models believe, and what has been said.

Everything here follows from the log: `absorb` takes a line as it was kept, whether it was made just now or read
back after a restart, so that both leave the same state.
"""
from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from datetime import datetime, timedelta
from typing import Any
from zoneinfo import ZoneInfo

from bot.reading.context import Context, Pending
from bot.reading.context import Said as SaidBefore
from bot.reading.goings import goings, watches
from bot.reading.habits import in_fahrenheit, plainly_celsius, spots_meant
from bot.reading.introduced import introduced
from bot.reading.lexicon import longest
from bot.reading.unwell import unwell
from bot.talk import Action, Answer, Message, Prompted, School
from skills.allergens.skill import CHECKED, KIND, open_alerts
from skills.dated import Told
from skills.instants import Instant
from skills.kitchen import Belief, CutProfile, Kitchen, OvenProfile, Setting
from skills.naming import UNNAMED_DISH, UNNAMED_OVEN
from skills.record import ClassRecord, fold
from skills.skill import Prompt
from skills.team.calls import Bound, Call, Standing, Talk, standing
from skills.view import View
from skills.vocabulary import Heard

# A question that nobody answered for this long is no longer what the next short message is about.
PENDING_FOR = timedelta(minutes=15)
REMEMBERED = 12

Learnt = Mapping[str, Mapping[str, Any]]


class Session:
    """The state of one class."""

    def __init__(self, class_id: str, school: School, prior: Learnt) -> None:
        self.class_id = class_id
        self.school = school
        self.zone = ZoneInfo(school.zone)
        self.prior = prior
        self.messages: list[Told] = []
        self.said: dict[str, datetime] = {}
        self.prompted: list[datetime] = []
        self.told: dict[str, Any] = {}
        self.pending: Pending | None = None
        self.asked_of: str | None = None
        self.asked: dict[str, tuple[Pending, str | None]] = {}
        self.calls: list[Call] = []
        self.again: dict[str, list[tuple[int, datetime]]] = {}
        self.again_as: dict[str, str] = {}
        self.live: Mapping[str, Prompt] | None = None
        self.actions = 0
        self.known_ids: set[str] = set()
        self._bounds: list[Bound] = []
        self._record: ClassRecord | None = None
        self._kitchen = Kitchen(Setting(
            seed=school.seed, altitude_m=school.altitude_m,
            ovens={name: OvenProfile.model_validate(data) for name, data in prior.get("ovens", {}).items()},
            cuts={name: CutProfile.model_validate(data) for name, data in prior.get("cuts", {}).items()}))

    @property
    def record(self) -> ClassRecord:
        if self._record is None:
            self._record = fold(self.messages, self.school.lead)
        return self._record

    @property
    def last_at(self) -> datetime | None:
        return max((told.at for told in self.messages), default=None)

    def believe(self, now: datetime) -> Belief | None:
        """What the models hold of this class at a time; None while no oven is known."""
        return self._kitchen.believe(self.record.facts, now) if self.record.ovens else None

    def view(self, now: datetime) -> View:
        return View(self.record, now, self.believe(now), self.school.region, self.said, self.told, self.class_id,
                    setting=self._kitchen.setting, calls=self.standing())

    def standing(self) -> tuple[Standing, ...]:
        """The calls that are open."""
        if not self.calls:
            return ()
        order = {told.id: number for number, told in enumerate(self.messages)}
        gone = {target for told in self.messages for target in (told.replaces, told.removes) if target}
        heard = {told.id: told.heard for told in self.messages}
        edited = {told.replaces: order[told.id] for told in self.messages
                  if told.replaces in heard and heard[told.replaces] != told.heard}
        record = self.record
        mended = {(change.message, change.index): order[change.through] for change in record.changes
                  if change.new is not None and change.through in order}
        arrived = {(dated.message, dated.index): max(
            order.get(dated.message, -1), edited.get(dated.message, -1), mended.get((dated.message, dated.index), -1))
            for dated in record.facts}
        bounds = [bound for bound in self._bounds if bound.message not in gone]
        return standing(Talk(self.calls, bounds, arrived, self.live, self.again), record.facts)

    def context(self, message: Message) -> Context:
        """What the reader may know of the room before this message."""
        record = self.record
        others = (name for oven in record.ovens.values() for name in oven.called)
        known_ovens = dict.fromkeys((*record.ovens, *others, *self.prior.get("ovens", {})))
        ovens = tuple(name for name in known_ovens if name != UNNAMED_OVEN)
        # "3 kg yak shoulder" goes by either word afterwards; "kidney beans" are one name.
        cuts = (tuple(dish.cut.split()) for dish in record.dishes.values() if dish.cut)
        animals = (cut[0] for cut in cuts if len(cut) > 1 and longest(cut, "dishes", "words") != (0, len(cut)))
        dishes = tuple(dict.fromkeys((*(name for name in record.dishes if name != UNNAMED_DISH), *animals)))
        last = tuple(SaidBefore(told.at, told.who, told.text, told.heard) for told in self.messages[-REMEMBERED:])
        pending, _ = self.question(message)
        if pending is None and message.reply_to is None and message.sender == record.lead:
            pending = self._unanswered(message.at)
        # Times that people say are of the clock's face.
        face = Instant.of(message.at).astimezone(self.zone).plain()
        standing = tuple((name, dish.oven) for name, dish in record.dishes.items()
                         if dish.oven is not None and name != UNNAMED_DISH and dish.oven != UNNAMED_OVEN)
        out = tuple(name for name, dish in record.dishes.items()
                    if dish.oven is None and dish.in_at is not None and not dish.served and name != UNNAMED_DISH)
        asked = {to: question for question, to in self.asked.values() if to is not None}
        replied = [(asked[told.answers], told) for told in self.messages if told.answers in asked]
        texts = {told.id: told.text for told in self.messages}
        spots = spots_meant((question, [each.said() for each in told.heard.facts]) for question, told in replied)
        typed = in_fahrenheit(((told.who, told.text, plainly_celsius(told.heard.facts)) for told in self.messages),
                              ((question, told.who, texts.get(told.answers or "", ""), told.text)
                               for question, told in replied))
        gone = {target for told in self.messages for target in (told.replaces, told.removes) if target}
        told_of = tuple(dict.fromkeys(
            name for told in self.messages if told.id not in gone for name in introduced(told.text)))
        return Context(face, ovens, dishes, record.people, message.sender, last, pending, standing, out, spots, typed,
                       told_of)

    def context_before(self, told: Told) -> Context:
        """What the reader knew when it read a message of this class, the question that it answered among it."""
        past = Session(self.class_id, self.school, self.prior)
        past.messages, past.asked = self.messages[: self.messages.index(told)], self.asked
        question = next((each for each, to in self.asked.values() if to is not None and to == told.answers), None)
        return replace(past.context(Message(told.id, told.at, told.who, told.text)), pending=question)

    def _unanswered(self, now: datetime) -> Pending | None:
        """An allergen alert that the lead has heard and not answered stays open: her short yes is about it."""
        heard = [alert for alert in open_alerts(self.record) if f"{KIND}:{alert.key}" in self.said]
        if not heard:
            return None
        names = " and ".join(dict.fromkeys(alert.dish for alert in heard))
        return Pending(heard[-1].what, {"is": "task", "act": "done", "what": f"{CHECKED} {names}"}, "seen", (), now,
                       self.record.lead)

    def question(self, message: Message) -> tuple[Pending | None, str | None]:
        """The question that a message may answer, and the message that it was asked of.

        A reply answers the question it replies to, however old; a reply to anything else answers none.
        """
        if message.reply_to is not None and message.reply_to != self.asked_of:
            return self.asked.get(message.reply_to, (None, None))
        fresh = self.pending is not None and (
            message.reply_to is not None or message.at - self.pending.at <= PENDING_FOR)
        return (self.pending, self.asked_of) if fresh else (None, None)

    def last_told_by(self, who: str) -> str | None:
        """The last message of a person that told something."""
        return next((told.id for told in reversed(self.messages) if told.who == who and told.heard.facts), None)

    def absorb(self, answer: Answer) -> None:
        """Take a message as it was heard, and what was said to it, into the state."""
        message = answer.message
        self.add(message, answer.heard, answer.read.get("answers"))
        bound = answer.read.get("bound")
        if bound is not None:
            self._bounds.append(Bound(message.id, bound["call"], bound["act"], bound["who"], self._local(message.at)))
        if answer.heard.facts:
            self.pending = None
        for action in answer.actions:
            self._note(action, action.to)
            self.actions += 1

    def absorb_prompts(self, prompted: Prompted) -> None:
        """Take unasked words into the state."""
        for action in prompted.actions:
            self._note(action, None)
            # What is pressing enough to be said again while people work does not use up what may be said besides.
            if not ("again" in action.data and action.data.get("urgent")):
                self.prompted.append(action.at)
            self.actions += 1

    def add(self, message: Message, heard: Heard, answers: str | None = None) -> None:
        at = message.at.astimezone(self.zone)
        self.messages.append(Told(message.id, at, message.sender, message.text, heard, message.replaces,
                                  message.removes, answers, *goings(message.text, at), unwell(message.text),
                                  watches(message.text)))
        self.known_ids.add(message.id)
        self._record = None

    def take_off(self) -> None:
        """Forget the message added last (it was only tried)."""
        told = self.messages.pop()
        self.known_ids.discard(told.id)
        self._record = None

    def _note(self, action: Action, to: str | None) -> None:
        data, at = action.data, action.at
        for name in ("key", "topic"):
            if name in data:
                self.said[data[name]] = at
        self.told.update(data.get("told", {}))
        ask = data.get("ask")
        if ask is not None:
            self.pending = Pending(ask["question"], ask["about"], ask["missing"], tuple(ask["options"]), at,
                                   ask.get("to"))
            self.asked_of = to
            self.asked[action.id] = (self.pending, to)
        again = data.get("again")
        if again is not None:
            self.again.setdefault(again["call"], []).append((again["step"], self._local(at)))
            self.again_as[action.id] = again["call"]
        elif action.kind == "prompt" or "call" in data:
            self.calls.append(self._call(action))

    def _call(self, action: Action) -> Call:
        data = action.data
        more = data.get("call", {})
        lapses, act_at = (datetime.fromisoformat(data[name]) if name in data else None for name in ("lapses", "act_at"))
        return Call(action.id, more.get("key") or data.get("key", action.id), more.get("kind") or action.prompt or "",
                    self._local(action.at), action.text, more.get("who") or action.who, action.oven, action.dish,
                    bool(data.get("urgent")), lapses, len(self.messages), more.get("what"), more.get("by"), action.to,
                    act_at, data.get("act", ""), data.get("late", ""))

    def _local(self, at: datetime) -> datetime:
        return at.astimezone(self.zone)

    def next_id(self, count: int = 0) -> str:
        return f"{self.class_id}/{self.actions + count + 1}"

    def learnt(self) -> dict[str, dict[str, Any]]:
        """The profiles of ovens and cuts after this class; what it did not touch stays as it was."""
        kept = {"ovens": dict(self.prior.get("ovens", {})), "cuts": dict(self.prior.get("cuts", {}))}
        belief = self.believe(self.last_at) if self.last_at is not None else None
        if belief is not None:
            ovens, cuts = belief.profiles()
            kept["ovens"].update({name: each.model_dump(mode="json") for name, each in ovens.items()})
            kept["cuts"].update({name: each.model_dump(mode="json") for name, each in cuts.items()})
        return kept
