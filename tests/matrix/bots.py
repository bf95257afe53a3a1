"""The bot of the tests: the whole service on a small engine unless a test asks for the real one.

In a thread it has no encryption: the library binds its tables to one database for the whole process, so two clients
with keys cannot work in two threads. With encryption it is a process of its own (SealedBot).
"""
from __future__ import annotations

import asyncio
import json
import os
import signal
import subprocess
import sys
import threading
from pathlib import Path

from bot.config import Config
from bot.rooms.matrix.service import Service
from tests.matrix.small_engine import SmallRoom

BOT = "@yardhand:kitchen.test"


def config_for(url, *, user=BOT, people=("@*:kitchen.test",), rooms=None, **more):
    return Config.model_validate({
        "matrix": {"homeserver": url, "user": user, "people": list(people), "board_every_s": 1.0,
                   "encryption": False, **more},
        "school": {"lead": "@mara:kitchen.test"}, "rooms": rooms or {}})


class Bot:
    """with Bot(config, folder) as bot: ... ; stopped at the end, and everything that it was doing with it."""

    def __init__(self, config, folder, *, make=SmallRoom, password="yardhand", fails=False, **more):
        self.config = config
        self.folder = folder
        self._make = make
        self._fails = fails
        self._more = more
        self._password = password
        self._ready = threading.Event()
        self.error = None
        self.service = None

    def __enter__(self):
        self._thread = threading.Thread(target=self._run, name="bot", daemon=True)
        self._thread.start()
        assert self._ready.wait(30), "the bot did not come up"
        if self.error is not None and not self._fails:
            raise self.error
        return self

    def __exit__(self, *_):
        self.stop()

    def stop(self):
        if self._thread.is_alive():
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


class SealedBot:
    """with SealedBot(url, name, folder) as bot: ... ; a process with encryption."""

    def __init__(self, url, name, folder, *, tell_after_ms=60_000):
        self.user = f"@{name}:kitchen.test"
        self.folder = folder
        self._plan = {"url": url, "user": self.user, "folder": str(folder), "kills": 0, "seed": 0, "real": False,
                      "most_s": 0, "password": name, "tell_after_ms": tell_after_ms}

    def __enter__(self):
        self._process = drive(self._plan)
        assert json.loads(self._process.stdout.readline()) == {"itself": 0, "from outside": 0}
        assert self._process.stdout.readline() == "up\n"
        return self

    def __exit__(self, *_):
        assert "left in peace" in parted(self._process), errors_of(self._process)


def drive(plan):
    """kill_driver.py at work on a plan. What it logs goes to a file: a full pipe that nobody reads would stop it."""
    root = str(Path(__file__).parents[2])
    path = Path(f"{plan['folder']}.log")
    with path.open("a") as log:
        process = subprocess.Popen([sys.executable, "-m", "tests.matrix.kill_driver", json.dumps(plan)], text=True,
                                   stdin=subprocess.PIPE, stdout=subprocess.PIPE, stderr=log, cwd=root,
                                   env={**os.environ, "PYTHONPATH": root})
    process.log = path
    return process


def parted(process, within_s=60):
    """What a driver printed up to its end, which the closed input brings about. One that stays is made to tell where
    it is, into what errors_of gives."""
    try:
        return process.communicate(timeout=within_s)[0]
    except subprocess.TimeoutExpired:
        process.send_signal(signal.SIGABRT)
        return process.communicate(timeout=10)[0]


def errors_of(process):
    return process.log.read_text()[-3000:]
