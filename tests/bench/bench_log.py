"""A hundred classes of 300 messages: how long the log and the comparison take as commands, and how large the file is.

    python -m tests.bench.bench_log [CLASSES [MESSAGES]]

The baseline of the same run is `yardhand --help`: what any command costs before it does anything. Processor time is
told beside wall time, for a machine that others use as well. The first comparison reckons every class once; "a new
class" reckons one, as a school's next comparison does. The test extra brings pandas, which the library of the store
reads in where it finds it: a tutor's install has none, so it is hidden here.
"""
from __future__ import annotations

import json
import random
import resource
import subprocess
import sys
import tempfile
import time
from datetime import UTC, datetime, timedelta
from pathlib import Path

from bot.log.foreseen import MARKS_MIN
from bot.store import FILE_NAME, Store
from bot.talk import School

COMMAND = "import sys; sys.modules['pandas'] = None; from bot.cli import main; sys.exit(main())"
OVENS, DISHES = ("dome", "barrel"), ("lamb", "beans", "shanks")


def main(classes: int = 100, messages: int = 300) -> None:
    with tempfile.TemporaryDirectory(prefix="yardhand-bench-") as folder:
        data = Path(folder)
        fill(data, classes, messages)
        size = sum(path.stat().st_size for path in data.glob(f"{FILE_NAME}*")) / 1e6
        print(f"{classes} classes of {messages} messages: {size:.1f} MB")
        base = timed("--help")
        print(f"{'--help (baseline)':<34} {base[0]:6.2f} s wall {base[1]:6.2f} s processor")
        for name, command in (
                ("log last", ["log", "last"]), ("log last --csv", ["log", "last", "--csv"]),
                ("log last --json", ["log", "last", "--json"]),
                ("compare 3 classes, first time", ["compare", "c000", "c050", "c099"]),
                ("compare 3 classes, again", ["compare", "c000", "c050", "c099"]),
                ("compare 3 classes, a new class", ["compare", "c000", "c050", "c099"]),
                ("compare --plot, again", ["compare", "c000", "c050", "c099", "--plot"]),
                ("log last --plot", ["log", "last", "--plot"]),
                ("log last --html, with the chart", ["log", "last", "--html"]),
                ("log last --pdf, with the chart", ["log", "last", "--pdf"])):
            if name.endswith("a new class"):
                store = Store.open(data)
                with store.writing() as db:
                    db.execute("DELETE FROM outcome WHERE class_id = 'c099'")
                store.close()
            took = timed(*command, "--data", folder)
            print(f"{name:<34} {took[0]:6.2f} s wall {took[1]:6.2f} s processor, {took[1] / base[1]:5.1f} times the "
                  "baseline")


def timed(*arguments: str) -> tuple[float, float]:
    """Wall and processor time [s] of a command."""
    begun, before = time.perf_counter(), resource.getrusage(resource.RUSAGE_CHILDREN)
    subprocess.run([sys.executable, "-c", COMMAND, *arguments], check=True, stdout=subprocess.DEVNULL)
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    return time.perf_counter() - begun, after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime


def fill(folder: Path, classes: int, messages: int) -> None:
    """Classes of a size and mix as a long day has: a third chatter, the rest readings, fires, looks and moves."""
    chance = random.Random(1)
    store = Store.open(folder)
    store.set_school("yard", School(lead="Mara"))
    with store.writing() as db:
        seq = 0
        for number in range(classes):
            start = datetime(2026, 1, 1, 5, tzinfo=UTC) + timedelta(days=number)
            name = f"c{number:03}"
            db.execute("INSERT INTO class VALUES (?, 'yard', ?, ?, 'Day')", [name, name, start.isoformat()])
            for n in range(messages):
                seq += 1
                at = (start + timedelta(minutes=n * 720 / messages)).isoformat()
                facts = facts_of(n, messages, chance)
                read = {"doubted": [], "foreseen": forecast(start + timedelta(minutes=n * 720 / messages), chance)} \
                    if facts and n % 2 else {}
                db.execute("""INSERT INTO message (room, id, class_id, seq, at, sender, text, received_at, heard, read,
                              answered) VALUES ('yard', ?, ?, ?, ?, ?, ?, ?, ?, ?, 1)""",
                           [f"{name}/{n}", name, seq, at, ("Mara", "Idris", "Tomos", "Bea")[n % 4], "floor 180 air 170",
                            at, json.dumps({"facts": facts, "questions": []}), json.dumps(read, separators=(",", ":"))])
                db.execute("""INSERT INTO said (room, id, class_id, seq, at, kind, text, to_message, data, delivered)
                              VALUES ('yard', ?, ?, ?, ?, ?, ?, ?, '{}', 1)""",
                           [f"{name}/s{n}", name, seq, at, "reply" if n % 5 == 0 else "tick", "Lamb about 12:50.",
                            f"{name}/{n}"])
    store.close()


def facts_of(n: int, messages: int, chance: random.Random) -> list[dict[str, object]]:
    if n == 0:
        return [{"is": "class", "act": "start", "title": "Day", "guests": 14, "serve": "13:30"}]
    if n < 4:
        return [{"is": "fire", "act": "lit", "oven": OVENS[n % 2], "wood_kg": 1.2}]
    if n == messages // 4:
        return [{"is": "fire", "act": "raked", "oven": "dome"}]
    if n in range(messages // 3, messages // 3 + 3):
        return [{"is": "pot", "act": "in", "oven": OVENS[n % 2], "dish": DISHES[n % 3]}]
    if n % 3 == 0:
        return []
    if n % 10 == 1:
        return [{"is": "fire", "act": "fed", "oven": "barrel", "pieces": 2}]
    if n % 10 == 2 and n > messages // 2:
        return [{"is": "check", "dish": DISHES[n % 3], "tender": "tender" if n > 0.8 * messages else "tough"}]
    if n % 25 == 4:
        return [{"is": "fix", "act": "replace", "of": "reading", "celsius": 151}]
    heat = round(260 - 150 * n / messages + chance.gauss(0, 6))
    return [{"is": "reading", "place": place, "oven": OVENS[n % 2], "celsius": heat + add}
            for place, add in (("floor", 20), ("air", 0))]


def forecast(at: datetime, chance: random.Random) -> dict[str, object]:
    def band(middle: float) -> list[list[float]]:
        return [[round(middle + edge - mark / 9) for mark in MARKS_MIN] for edge in (-15, 0, 15)]

    def litres() -> list[list[float]]:
        return [[round(1.2 + edge - mark / 1000, 2) for mark in MARKS_MIN] for edge in (-0.2, 0.0, 0.2)]
    seconds = round(at.timestamp())
    heat = 200 + chance.gauss(0, 10)
    return {"at": seconds, "ovens": {name: {"air": band(heat), "floor": band(heat + 20), "dome": band(heat + 10),
                                            "stored_mj": [80.1, 95.2, 110.3]} for name in OVENS},
            "dishes": {name: {"core": band(90), "liquor": band(95), "liquid": litres(),
                              "tender": [seconds + 3600 * hour for hour in (2, 3, 4, 5, 6)]} for name in DISHES}}


if __name__ == "__main__":
    main(*map(int, sys.argv[1:]))
