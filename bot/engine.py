"""The core of a room: messages and ticks in, actions out; no clock, no disk, no socket.

STUB while the parts are being written; the signatures hold.
"""
from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import datetime
from typing import Any

from bot.talk import Action, Answer, LogLine, Message, School
from skills.vocabulary import Heard


class Room:
    """One room. `log` is what was kept of it before (restored without saying anything again)."""

    def __init__(self, name: str, school: School, learnt: Mapping[str, Mapping[str, Any]] | None = None,
                 log: Sequence[LogLine] = ()) -> None:
        self.name = name
        self.school = school

    def hear(self, message: Message, *, forecast: bool = False) -> Answer:
        return Answer(message, "stub", Heard())

    def tick(self, now: datetime) -> tuple[Action, ...]:
        return ()

    def next_wake(self) -> datetime | None:
        return None

    def learnt(self) -> dict[str, dict[str, Any]]:
        return {"ovens": {}, "cuts": {}}
