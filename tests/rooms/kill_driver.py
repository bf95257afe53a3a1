"""Hears a transcript in a child process that is killed, starts it again until it is done, and tells what was kept.

    kill_driver.py points FOLDER    for every checkpoint: a child killed there, then one that finishes
    kill_driver.py shaken FOLDER    one folder, children killed at checkpoints chosen by a seed until one finishes
    kill_driver.py real FOLDER      as points, on the real engine, at some checkpoints of a short class
    kill_driver.py one FOLDER       one child, not killed by itself (its caller kills it at a time of its own)

Children are forked, so that a hundred kills cost little; the parent has no threads and no store open.
"""
from __future__ import annotations

import json
import os
import random
import signal
import sys
from pathlib import Path

from fake_engine import FakeRoom

from bot.rooms.house import House, engine
from bot.rooms.transcript import parse
from bot.store import Store

TEXT = """\
# date: 2026-05-16
# zone: Europe/London
# title: Killed
09:30 Mara: class: one
09:31 Mara: floor 180
09:31 Idris: wood in 5
09:33 Bea: lovely crowd
09:40 Mara: when?
09:41 Tomos: wood in 1
09:41 Tomos: wood in 1
09:45 Idris: floor 190, when?
09:50 Idris: end of class
09:51 Mara: class: two
09:52 Bea: wood in 30
10:20 Mara: when?
# until: 10:40
"""


# Checkpoints that fall into taking, answering, prompting and saying, early and late.
REAL_POINTS = (2, 8, 31, 62, 77, 88)
REAL_TEXT = """\
# date: 2026-05-16
# zone: Europe/London
09:00 Mara: class: short day, 6 guests, eating at 13:00
09:01 Idris: the barrel is 70 across, 6 cm floor brick, 8 cm dome, 5 cm insulation, kept going with a small fire
09:02 Idris: lit the barrel, 2 kg of ash
09:40 Idris: air 230 floor 190
09:50 Tomos: two splits on
10:00 Tomos: 2 kg pork shoulder, litre of hot stock, iron pot, lid on
10:01 Tomos: pork in the barrel, door on
10:02 Idris: air 411
# until: 11:45
"""


def run(folder, kill_at=None, text=TEXT, make=FakeRoom):
    """One process's life. Counts checkpoints and kills itself at the one that is asked for."""
    passed = 0

    def checkpoint(_):
        nonlocal passed
        passed += 1
        if passed == kill_at:
            os.kill(os.getpid(), signal.SIGKILL)

    def deliver(actions, _):
        for action in actions:
            checkpoint("before print")
            os.write(printed, f"{action.id}\n".encode())
            checkpoint("after print")

    folder.mkdir(exist_ok=True)
    printed = os.open(folder / "printed.txt", os.O_CREAT | os.O_WRONLY | os.O_APPEND)
    transcript = parse("killed", text.splitlines())
    store = Store.open(folder, checkpoint=checkpoint)
    house = House(store, "yard", transcript.school, deliver, title=transcript.title, make=make)
    house.start()
    for message in transcript.messages:
        house.run_until(message.at)
        house.hear(message, message.at)
    house.run_until(transcript.end)
    store.close()


def child(folder, kill_at=None, *more):
    """Whether a forked child came to its end."""
    pid = os.fork()
    if pid == 0:
        code = 1
        try:
            run(folder, kill_at, *more)
            code = 0
        finally:
            os._exit(code)
    _, status = os.waitpid(pid, 0)
    if os.WIFSIGNALED(status):
        assert os.WTERMSIG(status) == signal.SIGKILL
        return False
    assert os.WEXITSTATUS(status) == 0, f"the child failed: {folder} {kill_at}"
    return True


def kept(folder):
    """What the store holds, and what was printed."""
    store = Store.open(folder)
    told = {
        "log": [repr(line) for line in store.log("yard")],
        "unanswered": [message.id for message in store.unanswered("yard")],
        "undelivered": [action.id for action in store.undelivered("yard")],
        "classes": [repr(each) for each in store.classes()],
        "learnt": store.learnt(),
        "printed": (folder / "printed.txt").read_text().split("\n")[:-1],
    }
    store.close()
    return told


def main(mode, folder):
    if mode == "one":
        print("at work", flush=True)
        run(folder)
        return
    real = (REAL_TEXT, engine) if mode == "real" else ()
    assert child(folder / "whole", None, *real)
    told = {"whole": kept(folder / "whole"), "broken": []}
    if mode == "real":
        for point in REAL_POINTS:
            assert not child(folder / f"at{point}", point, *real), "that many checkpoints"
            assert child(folder / f"at{point}", None, *real)
            told["broken"].append(kept(folder / f"at{point}"))
    elif mode == "points":
        point = 1
        while not child(folder / f"at{point}", point):
            assert child(folder / f"at{point}")
            told["broken"].append(kept(folder / f"at{point}"))
            point += 1
    else:
        chance = random.Random(5)
        for n in range(10):
            kills = 0
            # Passing over what was taken before costs checkpoints too, so a life must be able to be long.
            while not child(folder / f"shaken{n}", chance.randint(5, 60)):
                kills += 1
            told["broken"].append(kept(folder / f"shaken{n}") | {"kills": kills})
    print(json.dumps(told))


if __name__ == "__main__":
    main(sys.argv[1], Path(sys.argv[2]))
