"""A room's engine and its store bound together: what every kind of room goes through.

The order is what makes a kill harmless: a message is kept, then heard, then what came of it is kept, and only then
is anything said. After a restart the engine is built from what was kept, messages that were kept and not answered
are heard again, and words that were kept and not said are said.
"""
from __future__ import annotations

import logging
from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from datetime import datetime, timedelta
from typing import TYPE_CHECKING, Any, Protocol

from bot.store import Store
from bot.talk import Action, Answer, LogLine, Message, Prompted, School
from skills.vocabulary import Class, Fact, Fix, Heard

if TYPE_CHECKING:
    from bot.board import Board

SORRY = "I could not work with that. It is kept as you said it; say it another way."
# After a failure in the engine's own prompts, this long without any.
PAUSE = timedelta(minutes=5)

_LOG = logging.getLogger(__name__)

# Says words; with an answer they answer its message (there may be none), without one they are unasked or late.
Deliver = Callable[[Sequence[Action], Answer | None], None]


class Engine(Protocol):
    """What a house needs of a room's engine."""
    def hear(self, message: Message, *, forecast: bool = False) -> Answer: ...
    def tick(self, now: datetime) -> tuple[Action, ...]: ...
    def next_wake(self) -> datetime | None: ...
    def board(self) -> Board | None: ...
    def learnt(self) -> dict[str, dict[str, Any]]: ...


MakeEngine = Callable[[str, School, Mapping[str, Mapping[str, Any]], Sequence[LogLine]], Engine]


def engine(name: str, school: School, learnt: Mapping[str, Mapping[str, Any]], log: Sequence[LogLine]) -> Engine:
    """The engine that all rooms use (read in only now: it brings the models with it)."""
    from bot.engine import Room

    return Room(name, school, learnt, log)


class House:
    """One room, kept. Not for two threads at once.

    deliver: says words that have just been marked as said (at most once). Without it they stay undelivered, and the
    room sends them itself with a number that makes a second sending harmless, and marks them then.
    guarded: a failure of the engine is noted, answered and outlived; without it (replay, tests) it is raised.
    """

    def __init__(self, store: Store, name: str, school: School, deliver: Deliver | None = None, *,
                 title: str | None = None, guarded: bool = False, make: MakeEngine = engine) -> None:
        self.store = store
        self.name = name
        if store.school(name) != school:
            store.set_school(name, school)
        self.school = school
        self._deliver = deliver
        self._title = title
        self._guarded = guarded
        self._make = make
        self.failures = 0
        self._quiet_until: datetime | None = None
        self._ended: set[str] = set()
        self._class_id: str | None = None
        self._engine = self._restored()

    def start(self, forecast: bool = False) -> list[Answer]:
        """Pick up where an earlier process stopped: say what it did not say, answer what it did not answer."""
        self._say(self.store.undelivered(self.name), None)
        return [self._answer(message, forecast) for message in self.store.unanswered(self.name)]

    def answer_next(self) -> Answer | None:
        """Answer the earliest message that was kept (by whoever brings the post) and not answered yet."""
        return next((self._answer(message, False) for message in self.store.unanswered(self.name, 1)), None)

    def hear(self, message: Message, received_at: datetime, *, forecast: bool = False) -> Answer | None:
        """Keep a message, deal with it, and say what is to be said. None: it was heard before."""
        message = replace(message, text=_storable(message.text), sender=_storable(message.sender))
        if not self.store.take(self.name, message, received_at):
            return None
        return self._answer(message, forecast)

    def run_until(self, until: datetime) -> None:
        """Let the clock run: each prompt that is due on the way falls at its own time."""
        last: datetime | None = None
        while (wake := self.next_wake()) is not None and wake <= until and (last is None or wake > last):
            self.tick(wake)
            last = wake

    def tick(self, now: datetime) -> None:
        """Say what is due to be said unasked now."""
        try:
            actions = self._engine.tick(now)
            if actions:
                self.store.prompt(self.name, Prompted(actions[0].at, tuple(actions)))
        except Exception:
            self._failed("a prompt")
            self._quiet_until = now + PAUSE
            self._engine = self._restored()
            return
        if actions:
            self._say(actions, None)

    def next_wake(self) -> datetime | None:
        """When to tick next; None: not before something is heard."""
        try:
            wake = self._engine.next_wake()
        except Exception:
            self._failed("the plan of prompts")
            return None
        return wake if wake is None or self._quiet_until is None else max(wake, self._quiet_until)

    def board(self) -> Board | None:
        """What the board of the class says; none if it cannot be told."""
        try:
            return self._engine.board()
        except Exception:
            self._failed("the board")
            return None

    def save_learnt(self, at: datetime) -> None:
        """Keep what the present class has taught."""
        if self._class_id is not None:
            self.store.save_learnt(self.name, self._class_id, self._engine.learnt(), at)

    def _answer(self, message: Message, forecast: bool) -> Answer:
        self.run_until(message.at)
        try:
            answer = self._engine.hear(message, forecast=forecast)
            learnt = self._engine.learnt() if self._teaches(answer) else None
            self.store.answer(self.name, answer, title=self._titled(answer), learnt=learnt)
        except Exception:
            self._failed(f"message {message.id}")
            answer = self._sorry(message)
            self.store.answer(self.name, answer)
            self._engine = self._restored()
        self._note(answer)
        self._say(answer.actions, answer)
        if answer.class_id in self._ended and answer.heard.facts:
            self._reckon(answer.class_id)
        return answer

    def _reckon(self, given: str) -> None:
        """Keep the figures of a class that has ended, so that a comparison need not work them out (it can)."""
        from bot.compare import figures_of

        try:
            figures_of(self.store, [row for row in self.store.classes() if (row.room, row.given) == (self.name, given)])
        except Exception:
            _LOG.exception("the figures of %s of room %s were not worked out", given, self.name)

    def _say(self, actions: Sequence[Action], answer: Answer | None) -> None:
        if self._deliver is None:
            return
        if actions:
            self.store.delivered(self.name, [action.id for action in actions])
        if actions or answer is not None:
            self._deliver(actions, answer)

    def _restored(self) -> Engine:
        log = self.store.log(self.name)
        self._ended.clear()
        for line in log:
            if isinstance(line, Answer):
                self._note(line)
        return self._make(self.name, self.school, self.store.learnt(), log)

    def _note(self, answer: Answer) -> None:
        self._class_id = answer.class_id
        if any(isinstance(fact, Class) and fact.act == "end" for fact in answer.heard.facts):
            self._ended.add(answer.class_id)

    def _teaches(self, answer: Answer) -> bool:
        """Whether to keep what was learnt: at a class's end, at what is told after it, and when another opens."""
        if self._class_id is not None and answer.class_id != self._class_id:
            return True
        ends = any(isinstance(fact, Class) and fact.act == "end" for fact in answer.heard.facts)
        return ends or (answer.class_id in self._ended and bool(answer.heard.facts))

    def _titled(self, answer: Answer) -> str | None:
        """The title that the talk has just given the class; the room's own for a new class that has none."""
        told = [title for fact in answer.heard.facts if (title := _title_in(fact)) is not None]
        if told:
            return told[-1]
        return self._title if answer.class_id != self._class_id else None

    def _sorry(self, message: Message) -> Answer:
        class_id = self._class_id or f"{self.name}-{message.at.date().isoformat()}"
        action = Action(f"{message.id}/sorry", "reply", message.at, class_id, SORRY, to=message.id)
        return Answer(message, class_id, Heard(), (action,))

    def _failed(self, what: str) -> None:
        """Called while an exception is handled."""
        if not self._guarded:
            raise
        self.failures += 1
        _LOG.exception("the engine failed on %s of room %s", what, self.name)


def _title_in(fact: Fact) -> str | None:
    return fact.title if isinstance(fact, Class | Fix) else None


def _storable(text: str) -> str:
    """Text that any file can hold: halves of characters, which a broken keyboard setting sends, become a mark."""
    return text.encode("utf-8", "replace").decode("utf-8")
