"""The whole bot: opens what is kept, hears, works at every room's desk, and begins again from what is kept when the
disk or something unforeseen fails. Stopped or killed at any moment, it loses nothing and says nothing twice."""
from __future__ import annotations

import asyncio
import logging
import os
from collections.abc import Callable, Mapping
from concurrent.futures import ThreadPoolExecutor
from contextlib import suppress
from dataclasses import replace
from pathlib import Path
from typing import Any, TypeVar

from bot.config import Config
from bot.rooms.house import MakeEngine, engine
from bot.rooms.matrix.account import AccountError, login_for
from bot.rooms.matrix.client import Client, TokenGoneError, back_off_s
from bot.rooms.matrix.clock import ServerClock
from bot.rooms.matrix.desk import Desk
from bot.rooms.matrix.listening import TELL_AFTER_MS, Listener
from bot.rooms.matrix.mailbox import Mailbox, Place
from bot.rooms.matrix.tasks import end
from bot.store import Store, StoreError
from bot.talk import School

Result = TypeVar("Result")

# How long a stop waits for the models' present step [s].
STOP_WITHIN_S = 3.0
# A life that lasted this long was a good one: after it the waits begin small again [s].
GOOD_LIFE_S = 60.0

_LOG = logging.getLogger(__name__)


class Service:
    """One account's bot. `run` ends when `stop` was called, or raises AccountError when there is no way in."""

    def __init__(self, config: Config, folder: Path, *, environment: Mapping[str, str] | None = None,
                 make: MakeEngine = engine, tell_after_ms: int = TELL_AFTER_MS,
                 checkpoint: Callable[[str], None] | None = None) -> None:
        self._config = config
        self._folder = folder
        self._environment = os.environ if environment is None else environment
        self._make = make
        self._tell_after_ms = tell_after_ms
        self._checkpoint = checkpoint
        self._stopping = asyncio.Event()
        self._loop: asyncio.AbstractEventLoop | None = None
        # Set after each batch of the server, for whoever waits for the bot to be there.
        self.heard = asyncio.Event()
        self.clock = ServerClock()
        self.clean = True

    def stop(self) -> None:
        """May be called from any thread, or by a signal."""
        if self._loop is not None and not self._loop.is_closed():
            self._loop.call_soon_threadsafe(self._stopping.set)

    async def run(self) -> None:
        """Life after life until stopped."""
        self._loop = asyncio.get_running_loop()
        tries = 0
        while not self._stopping.is_set():
            begun = self._loop.time()
            try:
                await self._life()
            except TokenGoneError as error:
                raise AccountError(
                    f"the server no longer knows the login of {self._config.matrix.user}: move "
                    f"{self._folder / 'matrix-login.json'} away, set YARDHAND_PASSWORD and start again") from error
            except (AccountError, StoreError):
                if tries == 0 and not self.heard.is_set():
                    raise
                _LOG.exception("the bot cannot go on now")
            except Exception:
                _LOG.exception("the bot begins again from what is kept")
            if self._stopping.is_set():
                return
            tries = 1 if self._loop.time() - begun > GOOD_LIFE_S else tries + 1
            with suppress(TimeoutError):
                async with asyncio.timeout(back_off_s(tries)):
                    await self._stopping.wait()

    async def _life(self) -> None:
        login = await login_for(self._config, self._folder, self._environment)
        store = Store.open(self._folder) if self._checkpoint is None else Store.open(
            self._folder, checkpoint=self._checkpoint)
        work, mail = ThreadPoolExecutor(1, "models"), ThreadPoolExecutor(1, "post")
        client: Client | None = None
        try:
            mailbox = Mailbox(store, dict(self._config.names))
            keys = self._keys(mailbox, login.device_id)
            client = Client(self._config.matrix.homeserver, login, keys)
            for path in keys.iterdir() if keys is not None else ():
                path.chmod(0o600)
            await self._live(store, client, mailbox, work, mail)
        finally:
            await self._wait_for(work, mail)
            if client is not None:
                await client.close()
            if self.clean:
                store.close()

    def _keys(self, mailbox: Mailbox, device: str) -> Path | None:
        """Where the encryption keys are; None without encryption. Keys that are gone cannot be made up."""
        if not self._config.matrix.encryption:
            return None
        keys = self._folder / "keys"
        keys.mkdir(mode=0o700, exist_ok=True)
        if mailbox.state("keys of") == device and not any(keys.glob(f"*_{device}.db")):
            raise AccountError(
                f"the encryption keys of this login are gone from {keys}: move {self._folder / 'matrix-login.json'} "
                "away, set YARDHAND_PASSWORD and start again as a new device; log the old one out")
        mailbox.set_state("keys of", device)
        return keys

    async def _live(self, store: Store, client: Client, mailbox: Mailbox, work: ThreadPoolExecutor,
                    mail: ThreadPoolExecutor) -> None:
        loop = asyncio.get_running_loop()

        def thread(pool: ThreadPoolExecutor) -> Any:
            return lambda call: loop.run_in_executor(pool, call)

        desks: dict[str, Desk] = {}
        tasks: dict[str, asyncio.Task[None]] = {}
        failed: asyncio.Future[None] = loop.create_future()

        def fail(task: asyncio.Task[None]) -> None:
            if not task.cancelled() and task.exception() is not None and not failed.done():
                failed.set_exception(task.exception() or RuntimeError())

        def attend() -> None:
            """A desk for every room that the bot is in, and none for others."""
            places = {place.id: place for place in listener.places}
            for place_id in desks.keys() - places.keys():
                tasks.pop(place_id).cancel()
                del desks[place_id]
            for place in places.values():
                if place.id not in desks:
                    school = self._school(store, place, listener.known(place.room))
                    desks[place.id] = Desk(place, school, client, mailbox, thread(work), thread(mail), self.clock,
                                           self._make, self._config.matrix.board_every_s)
                    tasks[place.id] = asyncio.create_task(desks[place.id].run())
                    tasks[place.id].add_done_callback(fail)
            self.heard.set()

        def fresh(places: set[str]) -> None:
            for place_id in places & desks.keys():
                desks[place_id].wake()

        listener = Listener(self._config, client, mailbox, thread(mail), self.clock, fresh, self._tell_after_ms)
        hearing = asyncio.create_task(listener.run(attend))
        hearing.add_done_callback(fail)
        stopped = asyncio.create_task(self._stopping.wait())
        try:
            waits: set[asyncio.Future[Any]] = {failed, stopped}
            await asyncio.wait(waits, return_when=asyncio.FIRST_COMPLETED)
            if failed.done():
                failed.result()
        finally:
            failed.cancel()
            await end(hearing, stopped, *tasks.values())

    def _school(self, store: Store, place: Place, ids: list[str]) -> School:
        """What the file says of a room, under any of the ids that it has had; the seed stays what it was."""
        named = next((each for each in ids if each in self._config.rooms), place.id)
        school = self._config.school_of(named)
        before = store.school(place.room)
        return school if before is None else replace(school, seed=before.seed)

    async def _wait_for(self, *pools: ThreadPoolExecutor) -> None:
        """Let the present step of each thread come to its end; one that takes too long is left behind."""
        for pool in pools:
            pool.shutdown(wait=False, cancel_futures=True)
        waits = [asyncio.get_running_loop().run_in_executor(None, pool.shutdown) for pool in pools]
        done, late = await asyncio.wait(waits, timeout=STOP_WITHIN_S)
        self.clean = not late
        del done

