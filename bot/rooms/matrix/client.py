"""The library's client with what a bot needs that may be killed at any moment."""
from __future__ import annotations

import asyncio
import logging
import random
from collections.abc import Awaitable, Callable
from contextlib import nullcontext
from pathlib import Path
from typing import Any, TypeVar

import aiohttp
from nio import (
    AsyncClient,
    AsyncClientConfig,
    ErrorResponse,
    Event,
    KeysUploadError,
    KeysUploadResponse,
    MegolmEvent,
    SyncResponse,
)
from nio.api import Api
from nio.exceptions import EncryptionError, LocalProtocolError

from bot.rooms.matrix.account import Login

Result = TypeVar("Result")

# The library waits up to this between tries while the server is away [s].
MOST_WAIT_S = 3.0
# A batch holds up to this many events of a room; what is more is fetched from the room's history.
BATCH = 50
FILTER: dict[str, Any] = {
    "presence": {"types": []}, "account_data": {"types": []},
    "room": {"timeline": {"limit": BATCH}, "ephemeral": {"types": []}, "account_data": {"types": []}}}

_LOG = logging.getLogger(__name__)
# Answers that no second try will change.
FINAL = frozenset(("M_FORBIDDEN", "M_TOO_LARGE", "M_BAD_JSON", "M_NOT_FOUND", "M_INVALID_PARAM", "M_UNRECOGNIZED"))
TOKEN_GONE = frozenset(("M_UNKNOWN_TOKEN", "M_MISSING_TOKEN"))


class TokenGoneError(Exception):
    """The server no longer knows the bot's login."""


class RefusedError(Exception):
    """The server will not do it, now or later. `code` is the server's."""

    def __init__(self, code: str) -> None:
        super().__init__(code)
        self.code = code


class Client(AsyncClient):  # type: ignore[misc]
    """One account on one device. Its token, its device and its keys are one thing (account.Login)."""

    def __init__(self, homeserver: str, login: Login, keys: Path | None) -> None:
        config = AsyncClientConfig(encryption_enabled=keys is not None, store_sync_tokens=False,
                                   pickle_key=login.pickle_key, max_timeout_retry_wait_time=MOST_WAIT_S)
        super().__init__(homeserver, login.user_id, device_id=login.device_id, config=config,
                         store_path=str(keys) if keys is not None else "")
        self.restore_login(login.user_id, login.device_id, login.access_token)

    async def _handle_to_device(self, response: SyncResponse) -> None:
        """The library saves a session and the room key that came through it apart: a kill in between loses the key."""
        with self.store.database.atomic() if self.olm and self.store else nullcontext():
            await super()._handle_to_device(response)

    async def keys_upload(self) -> KeysUploadResponse | KeysUploadError:
        """Save the one-time keys before the server has them: after a kill in between no upload would work again."""
        if not self.should_upload_keys:
            raise LocalProtocolError("no keys are to be uploaded")
        body = self.olm.share_keys()
        self.olm.save_account()
        return await self._send(KeysUploadResponse, *Api.keys_upload(self.access_token, body))

    async def tend_keys(self) -> None:
        """What the library's own loop does between two batches."""
        if self.olm is None:
            return
        if self.should_upload_keys:
            await self.keys_upload()
        if self.should_query_keys:
            await self.keys_query()
        if self.should_claim_keys:
            await self.keys_claim(self.get_users_for_key_claiming())
        await self.send_to_device_messages()

    def open_sealed(self, source: dict[str, Any], room_id: str) -> Event | None:
        """An encrypted event once more; None while its key is missing."""
        event = Event.parse_encrypted_event(source)
        if not isinstance(event, MegolmEvent) or self.olm is None:
            return None
        event.room_id = room_id
        try:
            opened = self.decrypt_event(event)
        except EncryptionError:
            return None
        return opened if isinstance(opened, Event) else None

    async def ask_for_key(self, source: dict[str, Any], room_id: str) -> None:
        """Ask the sender's devices for the key of an event, once for a session."""
        event = Event.parse_encrypted_event(source)
        if isinstance(event, MegolmEvent) and event.session_id not in self.outgoing_key_requests:
            event.room_id = room_id
            await self.request_room_key(event)

    async def put(self, room_id: str, kind: str, content: dict[str, Any], txn: str) -> str | None:
        """Send an event; its id, or None for a reaction that stands already. Raises RefusedError."""
        room = self.rooms.get(room_id)
        if room is None:
            raise RefusedError("M_FORBIDDEN")
        if room.encrypted and self.olm is None:
            # The library would put clear words into an encrypted room.
            raise RefusedError("no keys in an encrypted room")
        answer = await sure(lambda: self.room_send(room_id, kind, content, tx_id=txn, ignore_unverified_devices=True),
                            passes=("M_DUPLICATE_ANNOTATION",))
        return getattr(answer, "event_id", None)


async def sure(call: Callable[[], Awaitable[Result]], passes: tuple[str, ...] = ()) -> Result:
    """The server's answer, asked again after each failure that may pass (the library gives up on 5xx)."""
    tries = 0
    while True:
        try:
            answer = await call()
        except (aiohttp.ClientError, TimeoutError) as error:
            why = type(error).__name__
        else:
            if not isinstance(answer, ErrorResponse) or answer.status_code in passes:
                return answer
            check_token(answer)
            if answer.status_code in FINAL:
                raise RefusedError(str(answer.status_code))
            why = str(answer.status_code or answer.message)[:80]
        tries += 1
        wait = back_off_s(tries)
        _LOG.warning("the server did not do it (%s); again in %.1f s", why, wait)
        await asyncio.sleep(wait)


def check_token(answer: ErrorResponse) -> None:
    if answer.status_code in TOKEN_GONE:
        raise TokenGoneError


def back_off_s(tries: int) -> float:
    """1, 2, 4 ... 30 s, less up to a half at random, so that a crowd of bots does not come back as one.

    >>> all(0.5 <= back_off_s(1) <= 1.0 and 15 <= back_off_s(20) <= 30 for _ in range(100))
    True
    """
    return min(30.0, 2.0 ** (min(tries, 6) - 1)) * random.uniform(0.5, 1.0)
