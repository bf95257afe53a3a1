"""What crosses the border between a room and the engine: messages in, actions out. No I/O here."""
from __future__ import annotations

from dataclasses import dataclass, field
from datetime import datetime
from typing import Any, Literal

from skills.instants import Instant
from skills.vocabulary import Heard


@dataclass(frozen=True)
class Message:
    """One line of talk. `at` has a time zone. An edit names what it `replaces`, a removal what it `removes`.

    reply_to: the id of the action (or of the person's message) that this is a reply to. "got it", "done", "no" then are
    about that call and no other, an answer is about that question, and "two on" is about its oven. A room hands in a
    reaction the same way: a message with such words as its text and the action's id as reply_to.
    """
    id: str
    at: datetime
    sender: str
    text: str
    replaces: str | None = None
    removes: str | None = None
    reply_to: str | None = None

    def __post_init__(self) -> None:
        # Everything later in a class is reckoned from the times of its messages, also on a night of changing clocks.
        object.__setattr__(self, "at", Instant.of(self.at))


@dataclass(frozen=True)
class Action:
    """Something the bot does: a reply or tick to a message, or an unasked prompt of a kind.

    `id` is made from the class and a count, so that the same log gives the same ids. `data` is what the engine
    needs to go on after a restart (a question that waits for its answer, when a prompt lapses).
    """
    id: str
    kind: Literal["reply", "tick", "prompt"]
    at: datetime
    class_id: str
    text: str = ""
    to: str | None = None
    prompt: str | None = None
    oven: str | None = None
    dish: str | None = None
    who: str | None = None
    data: dict[str, Any] = field(default_factory=dict)


@dataclass(frozen=True)
class Answer:
    """What came of one message: what was heard, what the bot does, and what it now believes."""
    message: Message
    class_id: str
    heard: Heard
    actions: tuple[Action, ...] = ()
    forecast: dict[str, Any] | None = None
    read: dict[str, Any] = field(default_factory=dict)


@dataclass(frozen=True)
class Prompted:
    """Unasked words that a tick brought up, as they are kept in the log between the messages."""
    at: datetime
    actions: tuple[Action, ...]


LogLine = Answer | Prompted


@dataclass(frozen=True)
class School:
    """What a room knows before its first message."""
    zone: str = "Europe/London"
    region: Literal["uk", "scotland", "us", "anz", "eu"] = "uk"
    altitude_m: float | None = None
    seed: int = 0
    lead: str | None = None
