"""The loop that hears the server: batch after batch, each kept with the place in the stream before the next is asked.

The library's own loop is not used: it saves the place before anything is made of a batch, and drops the rest of one
after a failure. Its callbacks are not used either; what a batch holds is read from the answer.
"""
from __future__ import annotations

import asyncio
import logging
from collections.abc import Callable, Coroutine
from functools import partial
from typing import Any
from zoneinfo import ZoneInfo

import aiohttp
from nio import (
    Event,
    InviteMemberEvent,
    JoinError,
    MegolmEvent,
    MessageDirection,
    RoomInfo,
    RoomMemberEvent,
    RoomMessagesResponse,
    RoomUpgradeEvent,
    SyncResponse,
)

from bot.config import Config
from bot.rooms.matrix.client import BATCH, FILTER, Client, RefusedError, TokenGoneError, sure
from bot.rooms.matrix.clock import ServerClock
from bot.rooms.matrix.desk import Thread
from bot.rooms.matrix.hearing import incoming
from bot.rooms.matrix.mailbox import Mailbox, News, Place, Sealed
from bot.rooms.matrix.tasks import end

LONG_POLL_MS = 30_000
# The first batch brings the state of all rooms [s].
FIRST_WITHIN_S = 300.0
# A key that has not come after this long is not waited for in silence [ms].
TELL_AFTER_MS = 60_000
PAGE = 100
# The server does one thing after another: the read mark must not go before the answer that people wait for [s].
MARK_AFTER_S = 1.5
# A room that the file names and that the bot was in long before is heard from this long ago on [ms].
NEW_FOLDER_MS = 3_600_000

_LOG = logging.getLogger(__name__)


class Listener:
    """Hears for all rooms of one client. `fresh` is called with the rooms in which something was said."""

    def __init__(self, config: Config, client: Client, mailbox: Mailbox, mail: Thread, clock: ServerClock,
                 fresh: Callable[[set[str]], None], tell_after_ms: int = TELL_AFTER_MS) -> None:
        self._config = config
        self._client = client
        self._mailbox = mailbox
        self._mail = mail
        self._clock = clock
        self._fresh = fresh
        self._tell_after_ms = tell_after_ms
        self._places: dict[str, Place] = {}
        self._last_read: dict[str, str] = {}
        self._background: set[asyncio.Task[None]] = set()
        local = client.user_id.removeprefix("@").split(":", 1)[0]
        self._names = (client.user_id, local, config.matrix.device_name)

    @property
    def places(self) -> list[Place]:
        """The rooms that the bot is meant to be in and is in."""
        return [place for place in self._places.values() if not place.gone and place.id in self._client.rooms]

    def known(self, room: str) -> list[str]:
        """Every id under which the server has had a room."""
        return [place.id for place in self._places.values() if place.room == room]

    async def run(self, heard: Callable[[], None]) -> None:
        """Until cancelled. heard: called after each batch."""
        since = await self._mail(lambda: self._mailbox.state("since"))
        first = True
        try:
            while True:
                answer = await self._batch(since, first)
                self._clock.told(answer.transport_response.headers.get("Date") if answer.transport_response else None)
                await self._tend_keys()
                await self._take(answer, since, first)
                since, first = answer.next_batch, False
                heard()
        finally:
            await end(*self._background)

    async def _batch(self, since: str | None, first: bool) -> SyncResponse:
        async def ask() -> Any:
            async with asyncio.timeout(FIRST_WITHIN_S if first else None):
                return await self._client.sync(timeout=0 if first else LONG_POLL_MS, since=since, full_state=first,
                                               sync_filter=FILTER)

        answer = await sure(ask)
        assert isinstance(answer, SyncResponse)
        return answer

    async def _tend_keys(self) -> None:
        try:
            await self._client.tend_keys()
        except (aiohttp.ClientError, TimeoutError) as error:
            _LOG.warning("the keys could not be tended now: %s", type(error).__name__)

    async def _take(self, answer: SyncResponse, since: str | None, first: bool) -> None:
        """Everything that a batch holds, then one transaction."""
        await self._load_places()
        for room_id, invited in answer.rooms.invite.items():
            await self._invited(room_id, invited.invite_state)
        for room_id in answer.rooms.join:
            if room_id in self._config.rooms and room_id not in self._places:
                await self._welcome(room_id, "the configuration")
        news: list[News] = []
        for rooms, gone in ((answer.rooms.join, False), (answer.rooms.leave, True)):
            for room_id, info in rooms.items():
                if room_id in self._places and not self._places[room_id].gone:
                    news.append(await self._news_of(room_id, info, since, gone))
        zones = {place: ZoneInfo(self._config.school_of(place).zone) for place in self._places}
        now = self._clock()
        # What was sealed till now was said before what this batch brings.
        late = await self._open(zones)
        fresh = late | await self._mail(lambda: self._mailbox.take(news, answer.next_batch, now, zones))
        await self._load_places()
        for each in news:
            for sealed in each.sealed:
                self._later(self._client.ask_for_key(sealed.source, sealed.place))
            if each.heard and each.place in fresh:
                self._later(self._read(each.place, each.heard[-1].id))
        for room_id, info in answer.rooms.join.items():
            await self._upgraded(room_id, info)
        if first:
            for place in self._places.values():
                if not place.gone and place.id not in self._client.rooms:
                    self._later(self._join(place.id))
        self._fresh(fresh)

    async def _load_places(self) -> None:
        self._places = {place.id: place for place in await self._mail(self._mailbox.places)}

    # Rooms

    async def _invited(self, room_id: str, events: list[Any]) -> None:
        """Accept from people on the list; refuse others without a word."""
        for event in events:
            if isinstance(event, InviteMemberEvent) and event.membership == "invite" and (
                    event.state_key == self._client.user_id):
                if self._config.hears(event.sender):
                    await self._welcome(room_id, event.sender)
                    self._later(self._join(room_id))
                else:
                    _LOG.warning("an invitation by %s, who is not on the list, is refused", event.sender)
                    self._later(self._leave(room_id))
                return

    async def _welcome(self, room_id: str, asked_by: str) -> None:
        own = self._config.rooms.get(room_id)
        name = own.name if own is not None else None
        await self._mail(lambda: self._mailbox.welcome(room_id, asked_by, name))
        await self._load_places()

    async def _join(self, room_id: str) -> None:
        try:
            answer = await sure(lambda: self._client.join(room_id), passes=("M_UNKNOWN",))
        except RefusedError as error:
            _LOG.warning("room %s cannot be joined (%s): invite the bot", room_id, error.code)
            await self._mail(lambda: self._mailbox.gone(room_id))
            return
        if isinstance(answer, JoinError):
            _LOG.warning("room %s cannot be joined: %s", room_id, answer.message)

    async def _leave(self, room_id: str) -> None:
        await sure(lambda: self._client.room_leave(room_id), passes=("M_UNKNOWN",))

    async def _upgraded(self, room_id: str, info: RoomInfo) -> None:
        """A room was replaced: the talk goes on in the new one, at once where the bot may join, else when invited."""
        place = self._places.get(room_id)
        if place is None or place.gone:
            return
        for event in (*info.state, *info.timeline.events):
            if isinstance(event, RoomUpgradeEvent) and self._config.hears(event.sender):
                await self._mail(partial(self._mailbox.follow, room_id, event.replacement_room))
                await self._load_places()
                self._later(self._join_replacement(event.replacement_room))

    async def _join_replacement(self, room_id: str) -> None:
        """Without an invitation it may be refused; then it is waited for."""
        try:
            await sure(lambda: self._client.join(room_id), passes=("M_UNKNOWN",))
        except RefusedError:
            _LOG.warning("room %s replaces another and cannot be joined: invite the bot", room_id)

    # Events

    async def _news_of(self, room_id: str, info: RoomInfo, since: str | None, gone: bool) -> News:
        place = self._places[room_id]
        news = News(room_id, gone=gone)
        joins = [event for event in (*info.state, *info.timeline.events) if isinstance(event, RoomMemberEvent)
                 and event.state_key == self._client.user_id and event.membership == "join"]
        entered = [event.server_timestamp for event in joins if event.prev_membership != "join"]
        if entered:
            news.joined_ms = max(entered)
        elif place.joined_ms is None and joins:
            news.joined_ms = joins[-1].server_timestamp
        if place.joined_ms is None and news.joined_ms is not None and place.asked_by == "the configuration":
            news.joined_ms = max(news.joined_ms, self._clock.ms() - NEW_FOLDER_MS)
        heard_from = news.joined_ms if news.joined_ms is not None else place.joined_ms
        if heard_from is None:
            _LOG.warning("room %s does not tell since when the bot is in it: nothing of it is heard", room_id)
            return news
        events = list(info.timeline.events)
        if info.timeline.limited and info.timeline.prev_batch and not any(event in info.timeline.events
                                                                          for event in joins):
            events = await self._gap(room_id, info.timeline.prev_batch, since, heard_from) + events
        for event in events:
            try:
                self._event(event, news)
            except Exception:
                _LOG.exception("an event of room %s is passed over: %s", place.room, type(event).__name__)
        return news

    async def _gap(self, room_id: str, start: str, since: str | None, heard_from: int) -> list[Any]:
        """What was said between two batches, from the room's history; the earliest first."""
        found: list[Any] = []
        page: str | None = start
        while page is not None:
            answer = await sure(partial(self._client.room_messages, room_id, start=page, end=since,
                                        direction=MessageDirection.back, limit=PAGE))
            if not isinstance(answer, RoomMessagesResponse) or not answer.chunk:
                break
            found += answer.chunk
            oldest = getattr(answer.chunk[-1], "server_timestamp", heard_from)
            page = answer.end if oldest >= heard_from else None
        _LOG.info("%d events fetched that a batch of %d left out", len(found), BATCH)
        return found[::-1]

    def _event(self, event: Any, news: News) -> None:
        if not isinstance(event, Event) or event.sender == self._client.user_id:
            return
        room = self._client.rooms.get(news.place)
        if isinstance(event, MegolmEvent):
            if self._config.hears(event.sender):
                news.sealed.append(Sealed(event.event_id, news.place, event.sender, str(event.session_id),
                                          event.server_timestamp, self._clock.ms(), event.source))
            return
        heard = incoming(event.source, self._names)
        if heard is None or not (heard.kind == "removal" or self._config.hears(heard.user)):
            return
        news.heard.append(heard)
        shown = room.users[heard.user].display_name if room is not None and heard.user in room.users else None
        if shown:
            news.displays[heard.user] = shown

    async def _open(self, zones: dict[str, ZoneInfo]) -> set[str]:
        """Try what is sealed once more; tell people of what has stayed so."""
        waiting = await self._mail(self._mailbox.sealed)
        if not waiting:
            return set()
        news: dict[str, News] = {}
        for sealed in waiting:
            opened = self._client.open_sealed(sealed.source, sealed.place)
            if opened is not None:
                each = news.setdefault(sealed.place, News(sealed.place))
                each.opened.append(sealed.id)
                self._event(opened, each)
        now = self._clock()
        fresh: set[str] = set()
        if news:
            fresh = await self._mail(lambda: self._mailbox.take(list(news.values()), None, now, zones))
        written = await self._mail(lambda: self._mailbox.tell_of_sealed(self._clock.ms() - self._tell_after_ms))
        return fresh | ({sealed.place for sealed in waiting} if written else set())

    async def _read(self, room_id: str, event_id: str) -> None:
        """Only the last mark of a burst is set."""
        self._last_read[room_id] = event_id
        await asyncio.sleep(MARK_AFTER_S)
        if self._last_read.get(room_id) == event_id:
            await self._client.update_receipt_marker(room_id, event_id)

    def _later(self, call: Coroutine[Any, Any, Any]) -> None:
        """Do something beside the loop; a failure of it is noted."""

        async def guarded() -> None:
            try:
                await call
            except TokenGoneError:
                pass
            except Exception as error:
                _LOG.warning("left undone: %s (%s)", getattr(call, "__name__", "a call"), type(error).__name__)

        task = asyncio.create_task(guarded())
        self._background.add(task)
        task.add_done_callback(self._background.discard)
