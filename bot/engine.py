"""The core of a room: messages and ticks in, actions out; no clock, no disk, no socket.

A room follows one class at a time. A new class opens with the first message, with "class: ..." once the one before
has ended or grown old, or with a fire that is lit hours after an end. What comes after an end ("next morning:
floor 92") still belongs to the class that ended.
"""
from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from typing import Any

from bot.binding import bind
from bot.board import Board, board_text
from bot.log.keeping import doubted, kept
from bot.planner import due_now, next_due, plan, propose
from bot.reading.read import read
from bot.reading.read_back import asks_back, read_as
from bot.reading.result import Reading as HowRead
from bot.reading.short_words import COMPLETED
from bot.replies import respond
from bot.session import Learnt, Session
from bot.talk import Action, Answer, LogLine, Message, Prompted, School
from skills.instants import Instant
from skills.skill import Prompt
from skills.team.calls import put_off
from skills.view import View
from skills.vocabulary import Check, Class, Door, Fact, Fire, Fix, Food, Load, Oven, Pot, Reading

# A class that started this long ago is over when another is announced, said so or not.
OLD = timedelta(hours=10)
# A fire lit this long after an end belongs to the next class, announced or not.
AFTER_END = timedelta(hours=3)
# What moves the forecast: the forecast after such a fact is kept with it, for the log.
MOVING = (Check, Door, Fire, Fix, Food, Load, Pot, Reading)
# The reader's name for the rule that takes a short message as the answer to what the bot asked.
ANSWERED = "answer to the question"


class Room:
    """One room. `log` is what was kept of it before (restored without saying anything again)."""

    def __init__(self, name: str, school: School, learnt: Learnt | None = None, log: Sequence[LogLine] = ()) -> None:
        self.name = name
        self.school = school
        self._learnt: Learnt = learnt or {}
        self._sessions: list[Session] = []
        self._plan: list[Prompt] = []
        self._planned_at: datetime | None = None
        self._unplanned: tuple[Session, View] | None = None
        self._view: View | None = None
        self._foreseen_at: datetime | None = None
        for line in log:
            self._restore(line)
        if log and self._sessions:
            self._replan()

    @property
    def session(self) -> Session | None:
        return self._sessions[-1] if self._sessions else None

    def hear(self, message: Message, *, forecast: bool = False) -> Answer:
        """Read a message, take it into the record, and say what is to be said to it.

        The plan of unasked words is made when it is next looked at, so that the answer need not wait for it.
        """
        self._settle()
        session = self._session_of(message)
        context = session.context(message) if session else Session("", self.school, self._learnt).context(message)
        reading = read("" if message.removes else message.text, context)
        bound = None
        if session is not None and not message.removes:
            reading, bound = bind(session, message, reading)
        opened = session is None or self._opens(session, message, reading.heard.facts)
        if session is None or opened:
            session = self._open(message)
        before = session.record
        answers = session.question(message)[1] if any(span.rule == ANSWERED for span in reading.spans) else None
        if any(span.rule == COMPLETED for span in reading.spans):
            answers = session.last_told_by(message.sender)
        session.add(message, reading.heard, answers)
        view = session.view(message.at.astimezone(session.zone))
        actions = self._read_back(session, message, reading) or respond(session, before, view, message, reading)
        if bound is not None and not actions:
            actions = [Action(session.next_id(), "tick", message.at, session.class_id, to=message.id)]
        session.take_off()
        read_data: dict[str, Any] = {"prior": dict(session.prior)} if opened else {}
        if answers is not None:
            read_data["answers"] = answers
        if bound is not None:
            read_data["bound"] = bound
        if reading.leftover:
            read_data["leftover"] = list(reading.leftover)
        told = forecast and view.belief is not None
        answer = Answer(message, session.class_id, reading.heard, tuple(actions),
                        _trace(view) if told else None, read_data)
        session.absorb(answer)
        self._view = view
        if _changes(answer, session) or self._planned_at is None:
            self._planned_at = message.at
            self._unplanned = (session, view)
        return replace(answer, read={**answer.read, **self._noted(view, reading.heard.facts)})

    def _read_back(self, session: Session, message: Message, reading: HowRead) -> list[Action]:
        """The answer to "why did you read that?": of the message replied to, of one's own last, or else of the last
        that told or asked something."""
        if reading.heard.facts or message.removes or not asks_back(message.text):
            return []
        told = [each for each in session.messages if each.id != message.id and each.text and not asks_back(each.text)]
        meant = [each for each in told if each.id == message.reply_to] or [
            each for each in told if each.heard.facts or each.heard.questions or (
                each is told[-1] and each.who == message.sender)]
        if not meant:
            return []
        last = meant[-1]
        how = read(last.text, session.context_before(last))
        lines = read_as(last.text, last.who, f"{last.at.astimezone(session.zone):%H:%M}", how)
        return [Action(session.next_id(), "reply", message.at, session.class_id, "\n".join(lines), message.id)]

    def _noted(self, view: View, facts: Sequence[Fact]) -> dict[str, Any]:
        """What the log keeps of the belief after these facts."""
        if not any(isinstance(fact, MOVING) for fact in facts):
            return {}
        doubts, seen = doubted(view), kept(view, self._foreseen_at)
        if seen is not None:
            self._foreseen_at = datetime.fromtimestamp(seen["at"], UTC)
        return ({} if doubts is None else {"doubted": doubts}) | ({} if seen is None else {"foreseen": seen})

    def tick(self, now: datetime) -> tuple[Action, ...]:
        """What is due to be said unasked at this time."""
        self._settle()
        session = self.session
        if session is None:
            return ()
        actions = due_now(self._plan, session, Instant.of(now).astimezone(session.zone))
        if actions:
            session.absorb_prompts(Prompted(now, tuple(actions)))
        return tuple(actions)

    def next_wake(self) -> datetime | None:
        """When the next unasked word may be due; what is found overdue is due now, not before the last word heard."""
        self._settle()
        session = self.session
        due = next_due(self._plan, session) if session else None
        if due is None or session is None or session.last_at is None:
            return due
        return max(due, session.last_at)

    def board(self) -> Board | None:
        """What stands on the board since the last message, with the calls as they are now."""
        self._settle()
        session = self.session
        if session is None or session.last_at is None:
            return None
        if self._view is None:
            self._view = session.view(session.last_at.astimezone(session.zone))
        self._view.calls = session.standing()
        return board_text(self._view, self._plan)

    def learnt(self) -> dict[str, dict[str, Any]]:
        """What is now known of ovens and cuts, for the next class."""
        return dict(self.session.learnt()) if self.session else {key: dict(each) for key, each in self._learnt.items()}

    def _session_of(self, message: Message) -> Session | None:
        target = message.replaces or message.removes
        if target is not None:
            for session in reversed(self._sessions):
                if target in session.known_ids:
                    return session
        return self.session

    def _opens(self, session: Session, message: Message, facts: Sequence[Fact]) -> bool:
        if message.replaces or message.removes:
            return False
        record = session.record
        first = record.started or (session.messages[0].at if session.messages else message.at)
        for fact in facts:
            if isinstance(fact, Class) and fact.act == "start":
                over = record.ended is not None and message.at >= record.ended
                return over or (record.started is not None and message.at - first >= OLD)
            lit = isinstance(fact, Fire) and fact.act == "lit"
            if (lit or isinstance(fact, Oven)) and record.ended is not None:
                return message.at - record.ended >= AFTER_END
        return False

    def _open(self, message: Message) -> Session:
        if self.session is not None:
            self._learnt = self.session.learnt()
        session = Session(self._class_id(message.at), self.school, self._learnt)
        self._sessions.append(session)
        self._plan, self._planned_at, self._foreseen_at = [], None, None
        return session

    def _class_id(self, at: datetime) -> str:
        day = at.astimezone(Session("", self.school, {}).zone).date().isoformat()
        name = re.sub(r"[^a-z0-9]+", "-", self.name.lower()).strip("-") or "room"
        base = f"{name}-{day}"
        taken = {session.class_id for session in self._sessions}
        return base if base not in taken else next(
            f"{base}-{n}" for n in range(2, len(taken) + 3) if f"{base}-{n}" not in taken)

    def _restore(self, line: LogLine) -> None:
        if isinstance(line, Prompted):
            if self.session is not None:
                self.session.absorb_prompts(line)
            return
        session = next((each for each in self._sessions if each.class_id == line.class_id), None)
        if session is None:
            session = Session(line.class_id, self.school, line.read.get("prior", self._learnt))
            self._sessions.append(session)
        session.absorb(line)
        if "foreseen" in line.read:
            self._foreseen_at = datetime.fromtimestamp(line.read["foreseen"]["at"], UTC)
        if _changes(line, session) or self._planned_at is None:
            self._planned_at = line.message.at

    def _replan(self) -> None:
        """The plan as it was made at the last message that told something, from what had been said by then."""
        session = self._sessions[-1]
        if self._planned_at is None:
            return
        view = session.view(self._planned_at.astimezone(session.zone))
        view.said = {key: at for key, at in session.said.items() if at <= self._planned_at}
        self._unplanned = (session, view)

    def _settle(self) -> None:
        """Make the plan that the last message called for. One that fails is not tried again: the next message's is."""
        if self._unplanned is None:
            return
        (session, view), self._unplanned = self._unplanned, None
        self._plan = []
        found = put_off(propose(view), [call for call in session.calls if call.at <= view.now], view.now)
        session.live = {prompt.key: prompt for prompt in found}
        self._plan = plan(found, session.said, view.now)


def _changes(answer: Answer, session: Session) -> bool:
    """Whether what is to be said may differ for it: something told, changed, taken back, planned, or somebody goes."""
    planned = any(key.startswith("plan:") for action in answer.actions for key in action.data.get("told", {}))
    last = session.messages[-1]
    told = answer.heard.facts or answer.message.removes or answer.message.replaces
    return planned or bool(told or last.goes or last.comes or last.unwell or last.watched)


def _trace(view: View) -> dict[str, Any] | None:
    made = view.forecast()
    return None if made is None else made.trace(view.now.tzinfo or UTC)
