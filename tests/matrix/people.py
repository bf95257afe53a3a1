"""A person at the server: a second client of the library, with a loop of its own so that tests read in order."""
from __future__ import annotations

import asyncio
import itertools
import time
from urllib.parse import quote

from nio import AsyncClient, AsyncClientConfig, RoomMessagesResponse, SyncResponse
from nio.responses import ErrorResponse

WITHIN_S = 20.0
_count = itertools.count()


class Person:
    """Logs in, speaks in rooms and reads them. With `keys`, in encrypted rooms too."""

    def __init__(self, url, user, password, keys=None):
        self.user = user
        self._loop = asyncio.new_event_loop()
        config = AsyncClientConfig(encryption_enabled=keys is not None, store_sync_tokens=False)
        self.client = AsyncClient(url, user, config=config, store_path=str(keys) if keys is not None else "")
        self._since = None
        self.seen = []
        self._do(self.client.login(password))
        self.sync()

    def close(self):
        self._do(self.client.close())
        self._loop.close()

    def _do(self, call):
        answer = self._loop.run_until_complete(call)
        assert not isinstance(answer, ErrorResponse), answer
        return answer

    def sync(self, wait_ms=0):
        """Take what is new; `seen` holds (room, event) of every timeline."""
        async def once():
            answer = await self.client.sync(timeout=wait_ms, since=self._since, full_state=self._since is None,
                                            sync_filter={"room": {"timeline": {"limit": 1000}}})
            if self.client.olm is not None:
                if self.client.should_upload_keys:
                    await self.client.keys_upload()
                if self.client.should_query_keys:
                    await self.client.keys_query()
                if self.client.should_claim_keys:
                    await self.client.keys_claim(self.client.get_users_for_key_claiming())
                await self.client.send_to_device_messages()
            return answer

        answer = self._do(once())
        assert isinstance(answer, SyncResponse)
        before, self._since = self._since, answer.next_batch
        for room, info in answer.rooms.join.items():
            if info.timeline.limited and before is not None:
                # The server gives a hundred at most.
                missed = self._do(self.client.room_messages(room, start=info.timeline.prev_batch, end=before,
                                                            limit=1000))
                self.seen += [(room, event) for event in reversed(missed.chunk)]
            self.seen += [(room, event) for event in info.timeline.events]

    def until(self, room, wanted, within_s=WITHIN_S):
        """Wait for an event of a room that `wanted` likes, from the beginning of what was seen."""
        until = time.monotonic() + within_s
        looked = 0
        while True:
            for where, event in self.seen[looked:]:
                if where == room and wanted(event):
                    return event
            looked = len(self.seen)
            if time.monotonic() > until:
                told = [(type(event).__name__, getattr(event, "body", ""))
                        for where, event in self.seen if where == room]
                raise AssertionError(f"not seen in {within_s} s; seen: {told[-12:]}")
            self.sync(1000)

    def room(self, *invited, encrypted=False, version=None, **more):
        state = [{"type": "m.room.encryption", "state_key": "",
                  "content": {"algorithm": "m.megolm.v1.aes-sha2"}}] if encrypted else []
        if version is not None:
            more["room_version"] = version
        made = self._do(self.client.room_create(invite=list(invited), initial_state=state, **more))
        self.sync()
        return made.room_id

    def joined(self, room, user, within_s=WITHIN_S):
        """Wait till somebody is in the room."""
        until = time.monotonic() + within_s
        while time.monotonic() < until:
            if user in {member.user_id for member in self._do(self.client.joined_members(room)).members}:
                self.sync()
                return
            time.sleep(0.05)
        raise AssertionError(f"{user} did not join")

    def join(self, room):
        self._do(self.client.join(room))
        self.sync()

    def send(self, room, content, kind="m.room.message"):
        answer = self._do(self.client.room_send(room, kind, content, tx_id=f"t{next(_count)}-{time.time_ns()}",
                                                ignore_unverified_devices=True))
        return answer.event_id

    def say(self, room, text, **more):
        return self.send(room, {"msgtype": "m.text", "body": text, **more})

    def offer(self, room, content, kind="m.room.message"):
        """Send what the server may refuse."""
        self._loop.run_until_complete(self.client.room_send(room, kind, content))

    def reply(self, room, text, to):
        return self.say(room, text, **{"m.relates_to": {"m.in_reply_to": {"event_id": to}}})

    def edit(self, room, event, text):
        return self.say(room, f"* {text}", **{"m.new_content": {"msgtype": "m.text", "body": text},
                                              "m.relates_to": {"rel_type": "m.replace", "event_id": event}})

    def react(self, room, event, key):
        return self.send(room, {"m.relates_to": {"rel_type": "m.annotation", "event_id": event, "key": key}},
                         "m.reaction")

    def remove(self, room, event):
        return self._do(self.client.room_redact(room, event)).event_id

    def raw_history(self, room):
        """The last events of a room as the server has them, nothing opened."""
        async def fetch():
            headers = {"Authorization": f"Bearer {self.client.access_token}"}
            path = f"/_matrix/client/v3/rooms/{quote(room)}/messages?dir=b&limit=500"
            return await (await self.client.send("GET", path, headers=headers)).json()

        return self._do(fetch())["chunk"][::-1]

    def history(self, room):
        """Every event of a room, the earliest first."""
        found, start = [], None
        while True:
            answer = self._do(self.client.room_messages(room, start=start, limit=500))
            assert isinstance(answer, RoomMessagesResponse)
            found += answer.chunk
            start = answer.end
            if not answer.chunk or start is None:
                return found[::-1]
