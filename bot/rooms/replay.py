"""Plays a transcript through the same house as a live room, with the clock taken from the file."""
from __future__ import annotations

import json
import time
from collections.abc import Callable, Sequence
from typing import TextIO

from bot.rooms.house import House, MakeEngine, engine
from bot.rooms.look import Page
from bot.rooms.transcript import Transcript
from bot.store import Store
from bot.talk import Action, Answer
from bot.trace import message_line, prompt_line

# Called after each piece of talk, so that a demo can let it be read.
Pause = Callable[[str], None]


class Replay:
    """One transcript in one house. Messages that the house has heard before are passed over."""

    def __init__(self, transcript: Transcript, store: Store, name: str, page: Page, *, trace: TextIO | None = None,
                 pause: Pause | None = None, make: MakeEngine = engine, guarded: bool = False) -> None:
        self._transcript = transcript
        self._page = page
        self._trace = trace
        self._pause = pause
        self._begun = time.perf_counter()
        self.house = House(store, name, transcript.school, self._say, title=transcript.title, make=make,
                           guarded=guarded)

    def play(self) -> None:
        """The whole transcript, then the clock to its end."""
        forecast = self._trace is not None
        self.house.start(forecast)
        for message in self._transcript.messages:
            self.house.run_until(message.at)
            self._begun = time.perf_counter()
            self.house.hear(message, message.at, forecast=forecast)
        self.house.run_until(self._transcript.end)

    def _say(self, actions: Sequence[Action], answer: Answer | None) -> None:
        ms = (time.perf_counter() - self._begun) * 1000
        if answer is not None:
            self._page.message(answer)
            self._write(message_line(answer, ms))
            self._wait(answer.message.text)
        for action in actions:
            if action.kind == "prompt":
                self._write(prompt_line(action))
            if action.kind != "tick":
                self._page.action(action)
                self._wait(action.text)

    def _write(self, line: dict[str, object]) -> None:
        if self._trace is not None:
            self._trace.write(json.dumps(line, ensure_ascii=False, allow_nan=False) + "\n")

    def _wait(self, text: str) -> None:
        if self._pause is not None:
            self._pause(text)


def free_name(store: Store, stem: str) -> str:
    """A room name for one more replay in this folder: a class that was kept before is never played into."""
    name, count = stem, 1
    while store.school(name) is not None:
        count += 1
        name = f"{stem} {count}"
    return name
