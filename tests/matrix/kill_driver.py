"""Runs the bot in children that are killed, one after the other, then one that lives until the input ends.

kill_driver.py '{"url":, "user":, "folder":, "kills":, "seed":, "real":, "most_s":, "password":, "tell_after_ms":}'

A child kills itself at a checkpoint of the store that a seed chooses, or is killed from outside after a time, whichever
comes first. Children are forked, so that a hundred starts cost little; the parent has no threads.
"""
from __future__ import annotations

import asyncio
import faulthandler
import json
import os
import random
import signal
import sys
import threading
import time
from pathlib import Path

from bot.rooms.house import engine
from bot.rooms.matrix.service import Service
from tests.matrix.bots import config_for
from tests.matrix.small_engine import SmallRoom


def live(plan, kill_at, until_input_ends):
    """One child's life."""
    passed = 0

    def checkpoint(_):
        nonlocal passed
        passed += 1
        if passed == kill_at:
            os.kill(os.getpid(), signal.SIGKILL)

    async def whole():
        service = Service(config_for(plan["url"], user=plan["user"], encryption=True), Path(plan["folder"]),
                          environment={"YARDHAND_PASSWORD": plan["password"]}, checkpoint=checkpoint,
                          make=engine if plan["real"] else SmallRoom, tell_after_ms=plan["tell_after_ms"])
        if until_input_ends:
            threading.Thread(target=lambda: (sys.stdin.read(), service.stop()), daemon=True).start()
            up = asyncio.create_task(tell_up(service))
        await service.run()
        if until_input_ends:
            await up

    asyncio.run(whole())


async def tell_up(service):
    await service.heard.wait()
    print("up", flush=True)


def main(plan):
    if plan["real"]:
        import bot.engine  # noqa: F401 (once for all children)
    chance = random.Random(plan["seed"])
    how = {"itself": 0, "from outside": 0}
    for n in range(plan["kills"]):
        kill_at, most_s = chance.randint(1, 60), chance.uniform(0.1, plan["most_s"])
        pid = os.fork()
        if pid == 0:
            live(plan, kill_at, False)
            os._exit(1)
        until = time.monotonic() + most_s
        while (ended := os.waitpid(pid, os.WNOHANG))[0] == 0 and time.monotonic() < until:
            time.sleep(0.01)
        if ended[0] == 0:
            os.kill(pid, signal.SIGKILL)
            ended = os.waitpid(pid, 0)
            how["from outside"] += 1
        else:
            how["itself"] += 1
        assert os.WIFSIGNALED(ended[1]), f"child {n} ended by itself"
        assert os.WTERMSIG(ended[1]) == signal.SIGKILL
    print(json.dumps(how), flush=True)
    live(plan, None, True)
    print("left in peace", flush=True)


if __name__ == "__main__":
    faulthandler.enable()
    main(json.loads(sys.argv[1]))
