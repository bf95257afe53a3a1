"""How soon the room answers, beside a bare echo bot on the same library, on the same server, in the same run.

    python -m tests.bench.bench_matrix [--questions 60] [--rooms 100 --minutes 3]

Latency is from the sending of a question to the receipt of its answer by the person who asked, on loopback. The class
has an oven and a pot, so that every answer runs the forecast. Prints; passes or fails nothing.
"""
from __future__ import annotations

import argparse
import asyncio
import os
import random
import signal
import subprocess
import sys
import tempfile
import time
from pathlib import Path

from nio import AsyncClient, AsyncClientConfig, RoomMessageText

from tests.matrix.server import Synapse

ROOT = str(Path(__file__).parents[2])
CLASS = ("class: shoulder day, 14 guests, eating at 13:30",
         "the dome is 90 across, 6 cm floor brick, 10 cm insulation, probe 5 cm down",
         "lit the dome", "two splits on the dome", "dome floor 210 air 240", "raked out the dome, door on",
         "3 kg lamb shoulder, litre of hot stock, iron pot, lid on", "lamb in the dome, door on")
QUESTIONS = ("when will the lamb be done?", "will the lamb make half one?", "where are we?", "dome floor 205 air 215",
             "what will the dome be at three?")


async def echo(url, name):
    """The bare bot: the library's own loop and one callback."""
    client = AsyncClient(url, f"@{name}:kitchen.test", config=AsyncClientConfig(encryption_enabled=False))
    await client.login(name)

    async def answer(room, event):
        if event.sender != client.user_id:
            await client.room_send(room.room_id, "m.room.message", {
                "msgtype": "m.notice", "body": event.body,
                "m.relates_to": {"m.in_reply_to": {"event_id": event.event_id}}})

    client.add_event_callback(answer, RoomMessageText)
    await client.sync(timeout=0)
    for room in list(client.invited_rooms):
        await client.join(room)
    await client.sync_forever(timeout=30000, since=client.next_batch)


class Asker:
    """A person with a long poll that notes when each answer (notice or tick) is there."""

    def __init__(self, url, name):
        self.client = AsyncClient(url, f"@{name}:kitchen.test", config=AsyncClientConfig(encryption_enabled=False))
        self.answered = {}
        self._since = None
        self._changed = asyncio.Event()

    async def start(self, name):
        await self.client.login(name)
        self._since = (await self.client.sync(timeout=0)).next_batch
        self._task = asyncio.create_task(self._listen())

    async def _listen(self):
        flt = {"room": {"timeline": {"limit": 500}, "ephemeral": {"types": []}}, "presence": {"types": []}}
        while True:
            answer = await self.client.sync(timeout=30000, since=self._since, sync_filter=flt)
            self._since = answer.next_batch
            now = time.perf_counter()
            for info in answer.rooms.join.values():
                for event in info.timeline.events:
                    relation = event.source.get("content", {}).get("m.relates_to", {})
                    ticked = relation if relation.get("rel_type") == "m.annotation" else {}
                    about = relation.get("m.in_reply_to", ticked)
                    if about.get("event_id"):
                        self.answered.setdefault(about["event_id"], now)
            self._changed.set()

    async def room(self, bot):
        made = (await self.client.room_create(invite=[bot])).room_id
        while bot not in {each.user_id for each in (await self.client.joined_members(made)).members}:
            await asyncio.sleep(0.05)
        return made

    async def say(self, room, text):
        begun = time.perf_counter()
        sent = await self.client.room_send(room, "m.room.message", {"msgtype": "m.text", "body": text})
        return sent.event_id, begun

    async def ask(self, room, text, within_s=60.0):
        """The time from sending to the answer [s]."""
        event, begun = await self.say(room, text)
        until = time.monotonic() + within_s
        while event not in self.answered:
            self._changed.clear()
            left = until - time.monotonic()
            if left < 0:
                return float("nan")
            try:
                await asyncio.wait_for(self._changed.wait(), left)
            except TimeoutError:
                return float("nan")
        return self.answered[event] - begun


def told(name, times):
    ordered = sorted(times)
    p50, p95 = (ordered[min(len(ordered) - 1, int(len(ordered) * share))] * 1000 for share in (0.5, 0.95))
    print(f"{name:<34} n {len(times):>4}  p50 {p50:7.0f} ms  p95 {p95:7.0f} ms", flush=True)
    return p50, p95


async def one_class(url, questions):
    asker = Asker(url, "mara")
    await asker.start("mara")
    rooms = {"echo bot": await asker.room("@echo:kitchen.test"), "yardhand": await asker.room("@yardhand:kitchen.test")}
    for line in CLASS:
        await asker.say(rooms["yardhand"], line)
        await asyncio.sleep(1.0)
    for room in rooms.values():
        await asker.ask(room, "where are we?")
    times = {name: [] for name in rooms}
    chance = random.Random(1)
    for n in range(questions):
        for name, room in rooms.items():
            times[name].append(await asker.ask(room, QUESTIONS[n % len(QUESTIONS)]))
            await asyncio.sleep(chance.uniform(0.1, 0.4))
    told_of = {name: told(name, each) for name, each in times.items()}
    (echo50, echo95), (own50, own95) = told_of["echo bot"], told_of["yardhand"]
    print(f"{'yardhand over echo bot':<34} p50 {own50 / echo50:.1f} times, p95 {own95 / echo95:.1f} times", flush=True)
    await asker.client.close()


async def many_rooms(url, rooms, minutes, pid):
    asker = Asker(url, "idris")
    await asker.start("idris")
    made = [await asker.room("@yardhand:kitchen.test") for _ in range(rooms)]
    for line in CLASS:
        for room in made:
            await asker.say(room, line)
    await asker.ask(made[-1], "where are we?", 900)
    times = []

    async def talk(room, chance):
        await asyncio.sleep(chance.uniform(0, 60))
        for n in range(minutes):
            times.append(await asker.ask(room, QUESTIONS[n % len(QUESTIONS)]))
            await asyncio.sleep(60)

    await asyncio.gather(*(talk(room, random.Random(n)) for n, room in enumerate(made)))
    told(f"yardhand, {rooms} rooms", [each for each in times if each == each])
    lost = sum(1 for each in times if each != each)
    with Path(f"/proc/{pid}/status").open() as status:
        memory = next(int(line.split()[1]) for line in status if line.startswith("VmRSS")) / 1024
    print(f"unanswered within a minute: {lost} of {len(times)}; resident memory {memory:.0f} MB", flush=True)
    await asker.client.close()


def main():
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--questions", type=int, default=60)
    parser.add_argument("--rooms", type=int, default=0)
    parser.add_argument("--minutes", type=int, default=3)
    parser.add_argument("--echo", help=argparse.SUPPRESS)
    options = parser.parse_args()
    if options.echo:
        asyncio.run(echo(options.echo, "echo"))
        return
    load = os.getloadavg()[0]
    print(f"{os.cpu_count()} cores, load before the run {load:.1f}", flush=True)
    with tempfile.TemporaryDirectory(prefix="yardhand-") as name:
        folder = Path(name)
        (folder / "hs").mkdir()
        server = Synapse(folder / "hs")
        server.start()
        for user in ("mara", "idris", "echo", "yardhand"):
            server.user(user)
        (folder / "yardhand.toml").write_text(
            f'[matrix]\nhomeserver = "{server.url}"\nuser = "@yardhand:kitchen.test"\npeople = ["@*:kitchen.test"]\n'
            'data = "kept"\n')
        environment = {**os.environ, "PYTHONPATH": ROOT, "YARDHAND_PASSWORD": "yardhand"}
        bot = subprocess.Popen([sys.executable, "-m", "bot.cli", "matrix", "--config", folder / "yardhand.toml"],
                               env=environment)
        bare = None
        try:
            if options.questions:
                bare = subprocess.Popen([sys.executable, "-m", "tests.bench.bench_matrix", "--echo", server.url],
                                        cwd=ROOT, env=environment)
                asyncio.run(one_class(server.url, options.questions))
            if options.rooms:
                asyncio.run(many_rooms(server.url, options.rooms, options.minutes, bot.pid))
        finally:
            bot.send_signal(signal.SIGTERM)
            bot.wait(20)
            if bare is not None:
                bare.kill()
                bare.wait()
            server.stop()


if __name__ == "__main__":
    main()
