"""How long the reader takes. Prints figures, tests nothing: `python -m tests.bench.bench_reading`."""

from __future__ import annotations

import json
import random
import statistics
import string
from pathlib import Path
from time import perf_counter

from bot.reading.read import read
from tests.reading.helpers import context

DEV = Path(__file__).parents[1] / "reading" / "data" / "messages_dev.jsonl"


def took_ms(text, known):
    start = perf_counter()
    read(text, known)
    return (perf_counter() - start) * 1e3


def main():
    messages = [json.loads(line) for line in DEV.read_text(encoding="utf-8").splitlines()]
    cases = [
        (each["text"], context(each["now"], each["known"]["ovens"], each["known"]["dishes"])) for each in messages
    ]
    first = sum(took_ms(text, known) for text, known in cases)
    print(f"first pass, patterns compiled on the way: {first:.0f} ms for {len(cases)} messages")
    times = sorted(took_ms(text, known) for text, known in cases for _ in range(5))
    late = times[int(len(times) * 0.95)]
    print(f"median {statistics.median(times):.2f} ms, 95 % {late:.2f} ms, most {times[-1]:.2f} ms")
    chance = random.Random(1)
    for length in (2_000, 10_000):
        for name, letters in (
            ("printable", string.printable),
            ("letters", string.ascii_lowercase + "   "),
            ("digits", "0123456789 .,"),
        ):
            text = "".join(chance.choice(letters) for _ in range(length))
            took_ms(text, cases[0][1])
            print(f"{length} random {name}: {took_ms(text, cases[0][1]):.1f} ms")
        talk = " ".join(chance.choice(cases)[0] for _ in range(length // 10))[:length]
        print(f"{length} characters of yard talk: {took_ms(talk, cases[0][1]):.1f} ms")


if __name__ == "__main__":
    main()
