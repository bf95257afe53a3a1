"""The bot of the tests: the whole service in a thread, on a small engine unless a test asks for the real one."""
from __future__ import annotations

import asyncio
import threading

from bot.config import Config
from bot.rooms.matrix.service import Service
from tests.matrix.small_engine import SmallRoom

BOT = "@yardhand:kitchen.test"


def config_for(url, *, user=BOT, people=("@*:kitchen.test",), rooms=None, **more):
    return Config.model_validate({
        "matrix": {"homeserver": url, "user": user, "people": list(people), "board_every_s": 1.0, **more},
        "school": {"lead": "@mara:kitchen.test"}, "rooms": rooms or {}})


class Bot:
    """with Bot(config, folder) as bot: ... ; stopped at the end, and everything that it was doing with it."""

    def __init__(self, config, folder, *, make=SmallRoom, password="yardhand", **more):
        self.config = config
        self.folder = folder
        self._make = make
        self._more = more
        self._password = password
        self._ready = threading.Event()
        self.error = None
        self.service = None

    def __enter__(self):
        self._thread = threading.Thread(target=self._run, name="bot", daemon=True)
        self._thread.start()
        assert self._ready.wait(30), "the bot did not come up"
        if self.error is not None and not self._more.get("fails"):
            raise self.error
        return self

    def __exit__(self, *_):
        self.stop()

    def stop(self):
        self.service.stop()
        self._thread.join(15)
        assert not self._thread.is_alive(), "the bot did not stop"

    def _run(self):
        async def whole():
            self.service = Service(self.config, self.folder, environment={"YARDHAND_PASSWORD": self._password},
                                   make=self._make, **self._more)
            up = asyncio.create_task(self._tell_ready())
            try:
                await self.service.run()
            except Exception as error:
                self.error = error
            finally:
                up.cancel()
                self._ready.set()

        asyncio.run(whole())

    async def _tell_ready(self):
        await self.service.heard.wait()
        self._ready.set()
