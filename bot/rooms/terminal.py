"""The room in a terminal: people type, the bot answers, and speaks up at its own times while they type."""
from __future__ import annotations

import asyncio
import sys
from collections.abc import Callable, Iterable, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, replace
from datetime import datetime
from functools import partial
from pathlib import Path
from typing import TypeVar
from uuid import uuid4

from prompt_toolkit import PromptSession, print_formatted_text
from prompt_toolkit.formatted_text import FormattedText
from prompt_toolkit.patch_stdout import patch_stdout
from prompt_toolkit.styles import Style

from bot.rooms.clock import Clock, seconds_until
from bot.rooms.house import House, MakeEngine, engine
from bot.rooms.look import Fragments, Page, plain
from bot.rooms.picture import asks_for_chart, chart
from bot.rooms.speakers import Speakers
from bot.store import Store
from bot.talk import Action, Answer, Message, School

Result = TypeVar("Result")

LAST_LINES = 12
# A typed line waits this long for its mark before it goes on the page without [s].
MARK_WITHIN_S = 0.7
# Look at the clock at least this often: clocks are set and machines sleep [s].
LOOK_EVERY_S = 15.0

HELP = ("Every line is a message. 'Idris: pot in' is said by Idris; a line without a name is said by {present}.",
        "'/as Idris' makes Idris the one without a name. '/quit' or Ctrl-D leaves; come back and the class goes on.",
        "What the bot understands: ask it 'what can I say'.")

_STYLE = Style.from_dict({"time": "ansibrightblack", "ok": "ansigreen", "who": "bold", "bot": "ansicyan",
                          "unasked": "ansiyellow", "remark": "ansibrightblack", "prompt": "bold"})


@dataclass(frozen=True)
class Setting:
    """What a terminal room is opened with."""
    name: str
    school: School
    speaker: str
    clock: Clock
    title: str | None = None
    make: MakeEngine = engine


class _Talk:
    """What the live room and the piped one share: lines become messages, and what comes of them goes on the page."""

    def __init__(self, store: Store, setting: Setting, page: Page) -> None:
        self.page = page
        self.clock = setting.clock
        self.store = store
        self.name = setting.name
        self.speakers = Speakers(setting.speaker)
        self._bare: set[str] = set()
        self.house = House(store, setting.name, setting.school, self.deliver, title=setting.title, guarded=True,
                           make=setting.make)

    def deliver(self, actions: Sequence[Action], answer: Answer | None) -> None:
        self.show(actions, answer)
        self.show_chart(self.chart_of(answer))

    def chart_of(self, answer: Answer | None) -> Path | None:
        """The chart that was asked for, as a file: a terminal shows no picture."""
        if answer is None or not asks_for_chart(answer):
            return None
        made = chart(self.store, self.name, answer, answer.message.at)
        if made is None:
            return None
        path = self.store.path.parent / f"{answer.class_id}-chart.png"
        try:
            path.write_bytes(made)
        except OSError:
            return None
        return path

    def show_chart(self, path: Path | None) -> None:
        if path is not None:
            self.page.remark(f"the chart is written to {path}")

    def recall(self, last: int = LAST_LINES) -> None:
        """The last lines of the talk so far, without what is still to be said."""
        log = self.store.log(self.name)
        waiting = {action.id for action in self.store.undelivered(self.name)}
        for line in log:
            if isinstance(line, Answer):
                self.speakers.met(line.message.sender, line.heard)
        if log and last:
            self.page.remark("the talk so far ends:" if len(log) > last else "the talk so far:")
        for line in log[-last:] if last else ():
            self.page.line(replace(line, actions=tuple(each for each in line.actions if each.id not in waiting)))

    def message(self, line: str, at: datetime) -> Message:
        who, text = self.speakers.split(line)
        return Message(f"{at:%Y%m%d%H%M%S}-{uuid4().hex[:12]}", at, who, text)

    def show_bare(self, message: Message) -> None:
        """Put a message on the page before it is known what comes of it."""
        self._bare.add(message.id)
        self.page.message(message)

    def show(self, actions: Sequence[Action], answer: Answer | None) -> None:
        if answer is not None:
            self.speakers.met(answer.message.sender, answer.heard)
            if answer.message.id not in self._bare:
                self.page.message(answer)
            elif any(action.kind == "tick" for action in actions):
                self.page.late_mark(answer.message)
            self._bare.discard(answer.message.id)
        for action in actions:
            self.page.action(action)

    def command(self, line: str) -> bool:
        """Carry out a line that begins with a slash; False: it was /quit."""
        word, _, rest = line.partition(" ")
        if word in ("/quit", "/exit"):
            return False
        if word == "/as" and rest.strip():
            self.speakers.present = rest.strip()
            self.page.remark(f"a line without a name is now said by {self.speakers.present}")
        elif word == "/help":
            for text in HELP:
                self.page.remark(text.format(present=self.speakers.present))
        else:
            self.page.remark(f"nothing is called {line!r} here: /help tells what there is. Not taken as a message.")
        return True


def listen(lines: Iterable[str], store: Store, setting: Setting, out: Callable[[str], None]) -> None:
    """The room without a keyboard: answer each line that comes, then leave."""
    talk = _Talk(store, setting, Page(lambda fragments: out(plain(fragments))))
    talk.recall()
    talk.house.start()
    talk.house.tick(talk.clock())
    for each in lines:
        line = each.strip()
        if line.startswith("/"):
            if not talk.command(line):
                return
        elif line:
            now = talk.clock()
            talk.house.hear(talk.message(line, now), now)


def run(store: Store, setting: Setting, page: Page, *, greeting: Sequence[str] = (), recall: int = LAST_LINES) -> None:
    """The room at a keyboard, until its user leaves."""
    asyncio.run(_Live(store, setting, page).run(greeting, recall))


def styled_page(width: int | None) -> Page:
    """A page on the terminal, coloured if the terminal and its user (NO_COLOR) wish it."""

    def emit(fragments: Fragments) -> None:
        print_formatted_text(FormattedText([(f"class:{style}" if style else "", text) for style, text in fragments]),
                             style=_STYLE)

    return Page(emit, width)


class _Live(_Talk):
    """The house works in a thread of its own, so that typing never waits for the models."""

    def __init__(self, store: Store, setting: Setting, page: Page) -> None:
        self._loop: asyncio.AbstractEventLoop | None = None
        super().__init__(store, setting, page)
        self._worker = ThreadPoolExecutor(1, "house")
        self._typed: asyncio.Queue[Message] = asyncio.Queue()
        self._changed = asyncio.Event()

    def deliver(self, actions: Sequence[Action], answer: Answer | None) -> None:
        """Called in the worker; the page belongs to the loop."""
        assert self._loop is not None
        self._loop.call_soon_threadsafe(self.show, actions, answer)
        if answer is not None:
            self._loop.call_soon_threadsafe(self.show_chart, self.chart_of(answer))

    async def run(self, greeting: Sequence[str], recall: int) -> None:
        self._loop = asyncio.get_running_loop()
        with patch_stdout(), self._worker:
            for text in greeting:
                self.page.remark(text)
            self.recall(recall)
            parts = [asyncio.create_task(part) for part in (self._type(), self._hear(), self._speak_up())]
            try:
                done, _ = await asyncio.wait(parts, return_when=asyncio.FIRST_COMPLETED)
            finally:
                for part in parts:
                    part.cancel()
                await asyncio.gather(*parts, return_exceptions=True)
            for part in done:
                part.result()

    async def _work(self, call: Callable[[], Result]) -> Result:
        assert self._loop is not None
        return await self._loop.run_in_executor(self._worker, call)

    async def _type(self) -> None:
        """Read lines till the user leaves and everything typed has been dealt with."""
        session: PromptSession[str] = PromptSession(erase_when_done=True, style=_STYLE)
        while True:
            try:
                typed = await session.prompt_async(lambda: [("class:prompt", f"{self.speakers.present}: ")])
            except KeyboardInterrupt:
                self.page.remark("the line is gone. To leave: /quit or Ctrl-D.")
                continue
            except EOFError:
                break
            if not all(self._take(line.strip()) for line in typed.splitlines()):
                break
        await self._typed.join()

    def _take(self, line: str) -> bool:
        if line.startswith("/"):
            return self.command(line)
        if line:
            self._typed.put_nowait(self.message(line, self.clock()))
        return True

    async def _hear(self) -> None:
        await self._work(self.house.start)
        await self._work(lambda: self.house.tick(self.clock()))
        self._changed.set()
        while True:
            message = await self._typed.get()
            heard = asyncio.ensure_future(self._work(partial(self.house.hear, message, message.at)))
            done, _ = await asyncio.wait({heard}, timeout=MARK_WITHIN_S)
            if not done:
                self.show_bare(message)
            await heard
            # What the worker gave to the page stands in the loop's queue before this, so it is on the page by now.
            self._typed.task_done()
            self._changed.set()

    async def _speak_up(self) -> None:
        """Tick the house when it asks for it."""
        await self._changed.wait()
        while True:
            self._changed.clear()
            wake = await self._work(self.house.next_wake)
            now = self.clock()
            if wake is not None and wake <= now:
                await self._work(partial(self.house.tick, now))
                await asyncio.sleep(0)
                after = await self._work(self.house.next_wake)
                if after is not None and after <= now:
                    await asyncio.sleep(1.0)
                continue
            try:
                async with asyncio.timeout(seconds_until(wake, now, LOOK_EVERY_S)):
                    await self._changed.wait()
            except TimeoutError:
                continue


def is_live() -> bool:
    return sys.stdin.isatty() and sys.stdout.isatty()
