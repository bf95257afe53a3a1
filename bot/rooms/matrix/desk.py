"""One room at work: it answers what was taken, speaks up at its own times, keeps the board, and sends its letters.

Two tasks, so that an answer that waits behind the server's limit stops neither hearing nor thinking. The models work
in the thread of `work`; what touches the post, in that of `mail`.
"""
from __future__ import annotations

import asyncio
import logging
import sqlite3
import time
from collections.abc import Awaitable, Callable, Coroutine
from contextlib import suppress
from dataclasses import dataclass
from datetime import datetime
from io import BytesIO
from typing import TYPE_CHECKING, Any, Protocol, TypeVar

from nio import RoomGetStateEventResponse, RoomPutStateError, UploadResponse

from bot.rooms.clock import seconds_until
from bot.rooms.house import House, MakeEngine
from bot.rooms.matrix import content
from bot.rooms.matrix.client import Client, RefusedError, TokenGoneError, back_off_s, sure
from bot.rooms.matrix.mailbox import BOARD, TICK, Letter, Mailbox, Place
from bot.rooms.matrix.tasks import end
from bot.rooms.picture import CHART, chart, wants_chart
from bot.talk import Answer, School

if TYPE_CHECKING:
    from bot.board import Board

Result = TypeVar("Result")

# Look at the clock at least this often: clocks are set and machines sleep [s].
LOOK_EVERY_S = 15.0
# A reply that takes longer is announced by the typing mark [s].
TYPING_AFTER_S = 0.5
# The models' next thoughts wait up to this long for the last answer to go out: they would take its time [s].
SENT_WITHIN_S = 0.3
# A letter that took longer than this was held back by the server's limit [s].
HELD_BACK_S = 2.0
# How long a refused letter waits for the news that the bot was removed or the room replaced [s].
REFUSED_FOR_S = 5.0
TICKS_AT_ONCE = 4
MAY_NOT_PIN = "I may not pin the board here: give me power 50 in the room's settings, or pin it yourselves."

_LOG = logging.getLogger(__name__)


@dataclass(frozen=True)
class _Step:
    """What a step of the models came to."""
    answer: Answer | None = None
    wake: datetime | None = None
    ticked: bool = False

    @property
    def tells(self) -> bool:
        return self.answer is not None and (bool(self.answer.heard.facts) or self.answer.message.removes is not None)


class Thread(Protocol):
    """Runs a call in a thread of its own, one at a time."""
    def __call__(self, call: Callable[[], Result], /) -> Awaitable[Result]: ...


class Desk:
    """What one room of the server needs while the bot is in it."""

    def __init__(self, place: Place, school: School, client: Client, mailbox: Mailbox, work: Thread, mail: Thread,
                 clock: Callable[[], datetime], make: MakeEngine, board_every_s: float) -> None:
        self.place = place
        self._school = school
        self._client = client
        self._mailbox = mailbox
        self._work = work
        self._mail = mail
        self._clock = clock
        self._make = make
        self._board_every_s = board_every_s
        self._board_at = -board_every_s
        self._house: House | None = None
        self._board_wanted = True
        self._news = asyncio.Event()
        self._post = asyncio.Event()
        self._all_sent = asyncio.Event()
        self._held_back = False

    def wake(self) -> None:
        """Something new was taken, or a letter was written elsewhere."""
        self._news.set()
        self._post.set()

    async def run(self) -> None:
        """Until cancelled, or until the disk or the login fails."""
        self._post.set()
        tasks = [asyncio.create_task(each) for each in (self._guarded(self._turn), self._guarded(self._send))]
        try:
            await asyncio.gather(*tasks)
        finally:
            await end(*tasks)

    async def _guarded(self, step: Callable[[], Coroutine[Any, Any, None]]) -> None:
        """Step after step. What goes wrong in one room is noted, and the room begins again from what is kept."""
        tries = 0
        while True:
            try:
                await step()
                tries = 0
            except (sqlite3.Error, TokenGoneError):
                raise
            except Exception:
                _LOG.exception("room %s stumbled", self.place.room)
                self._house = None
                tries += 1
                await asyncio.sleep(back_off_s(tries))

    # Answers

    async def _turn(self) -> None:
        """Answer the next message or say what is due; else wait."""
        if self._house is None:
            self._house = await self._work(self._opened)
        house = self._house
        self._news.clear()
        step = await self._with_typing(self._work(lambda: self._answered(house)))
        if step is None:
            with suppress(TimeoutError):
                async with asyncio.timeout(SENT_WITHIN_S):
                    await self._all_sent.wait()
            step = await self._with_typing(self._work(lambda: self._ticked(house)))
        if step.answer is not None or step.ticked:
            self._all_sent.clear()
            self._board_wanted = self._board_wanted or step.ticked or step.tells
            self._post.set()
        if step.answer is not None:
            if wants_chart(step.answer):
                await self._picture(step.answer)
            return
        wait_s = seconds_until(step.wake, self._clock(), LOOK_EVERY_S)
        with suppress(TimeoutError):
            # A prompt that is due and does not come must not keep the thread busy.
            async with asyncio.timeout(max(wait_s, 1.0 if step.ticked else 0.0)):
                await self._news.wait()

    def _opened(self) -> House:
        return House(self._mailbox.store, self.place.room, self._school, guarded=True, make=self._make)

    def _answered(self, house: House) -> _Step | None:
        """In the models' thread: the next message, if one waits."""
        answer = house.answer_next()
        if answer is None:
            return None
        if answer.message.removes is not None:
            self._mailbox.store.erase(self.place.room, answer.message.removes)
        return _Step(answer)

    def _ticked(self, house: House) -> _Step:
        """In the models' thread: what is due."""
        wake, now = house.next_wake(), self._clock()
        if wake is None or wake > now:
            return _Step(wake=wake)
        house.tick(now)
        return _Step(wake=house.next_wake(), ticked=True)

    async def _with_typing(self, work: Awaitable[Result]) -> Result:
        """The typing mark while people wait for a reply."""
        task = asyncio.ensure_future(work)
        done, _ = await asyncio.wait({task}, timeout=TYPING_AFTER_S)
        if done:
            return task.result()
        await self._quietly(self._client.room_typing(self.place.id, True, timeout=30_000))
        try:
            return await task
        finally:
            await self._quietly(self._client.room_typing(self.place.id, False))

    async def _quietly(self, call: Coroutine[Any, Any, object]) -> None:
        """A courtesy that nobody misses if it fails."""
        try:
            async with asyncio.timeout(5.0):
                await call
        except Exception as error:
            _LOG.debug("a courtesy failed: %s", type(error).__name__)

    # Letters

    async def _send(self) -> None:
        """Send what is written, in order; then see to the board."""
        due_s = max(0.0, self._board_at + self._board_every_s - time.monotonic()) if self._board_wanted else None
        with suppress(TimeoutError):
            async with asyncio.timeout(due_s):
                await self._post.wait()
        self._post.clear()
        await self._send_all()
        if self._board_wanted and time.monotonic() >= self._board_at + self._board_every_s:
            await self._put_board()
            await self._send_all()

    async def _send_all(self) -> None:
        while True:
            await self._mail(lambda: self._mailbox.pack(self.place, together=self._held_back))
            letters = await self._mail(lambda: self._mailbox.waiting(self.place.id))
            words = [letter for letter in letters if letter.kind != TICK]
            if not letters:
                self._all_sent.set()
                return
            begun = time.monotonic()
            if words:
                await self._send_one(words[0])
            else:
                # Ticks have no order among them, and words that come meanwhile must not wait for many of them.
                await asyncio.gather(*(self._send_one(letter) for letter in letters[:TICKS_AT_ONCE]))
            self._held_back = time.monotonic() - begun > HELD_BACK_S

    async def _send_one(self, letter: Letter) -> None:
        try:
            event = await self._client.put(self.place.id, letter.type, letter.content, letter.txn)
        except RefusedError as error:
            if error.code == "M_FORBIDDEN":
                # Perhaps the bot was removed or the room replaced: then this desk is closed and the letter kept.
                await asyncio.sleep(REFUSED_FOR_S)
            _LOG.warning("the server refuses a %s in room %s: %s", letter.kind, self.place.room, error.code)
            code = error.code
            await self._mail(lambda: self._mailbox.failed(letter, code))
            return
        await self._mail(lambda: self._mailbox.sent(letter, event or "stands already"))
        if letter.kind == BOARD and event is not None:
            await self._pin(event)

    # Board and pictures

    async def _put_board(self) -> None:
        self._board_at = time.monotonic()
        house = self._house
        if house is None:
            return
        self._board_wanted = False
        board: Board | None = await self._work(house.board)
        if board is not None:
            made = content.board(board.heading, board.parts)
            await self._mail(lambda: self._mailbox.put_board(self.place, board.class_id, made))

    async def _pin(self, event: str) -> None:
        """Put the board in the place of the boards before it; other people's pins stay."""
        state = await sure(lambda: self._client.room_get_state_event(self.place.id, "m.room.pinned_events"),
                           passes=("M_NOT_FOUND",))
        pinned = state.content.get("pinned") if isinstance(state, RoomGetStateEventResponse) else None
        ours = await self._mail(lambda: self._mailbox.boards(self.place.id))
        others = [each for each in pinned if isinstance(each, str) and each not in ours] if isinstance(
            pinned, list) else []
        answer = await sure(lambda: self._client.room_put_state(
            self.place.id, "m.room.pinned_events", {"pinned": [*others, event]}), passes=("M_FORBIDDEN",))
        if isinstance(answer, RoomPutStateError):
            await self._mail(lambda: self._mailbox.remark(self.place.id, "may not pin", MAY_NOT_PIN))

    async def _picture(self, answer: Answer) -> None:
        """The chart, when somebody asks for it and at the end of the class."""
        message = answer.message.id
        if await self._mail(lambda: self._mailbox.has_letter(self.place.id, f"picture {message}")):
            return
        png = await self._work(lambda: chart(self._mailbox.store, self.place.room, answer, self._clock()))
        if png is None:
            return
        room = self._client.rooms.get(self.place.id)
        sealed = room is not None and room.encrypted
        answered, keys = await self._client.upload(BytesIO(png), content_type="image/png", filename=CHART,
                                                   encrypt=sealed, filesize=len(png))
        if not isinstance(answered, UploadResponse):
            _LOG.warning("the server does not take a picture in room %s", self.place.room)
            return
        made = content.picture(CHART, png, answered.content_uri, keys if sealed else None, reply_to=message)
        await self._mail(lambda: self._mailbox.put_picture(self.place, message, made))
        self._post.set()
