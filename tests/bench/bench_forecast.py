"""How long a message takes with two ovens, three pots, eight hours of log and a forecast of twelve hours.

    python tests/bench/bench_forecast.py [--members N]

Also: a correction of the first message (the whole log run again). Processor time is told beside wall time, for a
machine that others use as well. The baseline of the same run is the forecast with every member followed to the end,
tender or not. The step alone is held against a general solver in bench_update.
"""

from __future__ import annotations

import argparse
import sys
import time
from datetime import datetime, timedelta
from pathlib import Path

import numpy as np

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from skills.dated import Dated
from skills.kitchen import Kitchen, Setting
from skills.kitchen import ensemble as model
from skills.kitchen import forecast as forecasting
from skills.vocabulary import fact

START = datetime.fromisoformat("2026-05-16T06:00:00+01:00")


def day():
    """Facts of an invented day in the yard: the dome (retained) and the barrel (tended)."""
    said = [
        (
            0,
            "dome",
            None,
            {
                "is": "oven",
                "across_cm": 95,
                "floor_cm": 6,
                "dome_cm": 9,
                "insulation_cm": 8,
                "probe_cm": 5,
                "fired": "retained",
            },
        ),
        (
            1,
            "barrel",
            None,
            {
                "is": "oven",
                "across_cm": 66,
                "floor_cm": 4,
                "dome_cm": 5,
                "insulation_cm": 3,
                "probe_cm": 2,
                "fired": "tended",
            },
        ),
        (5, "dome", None, {"is": "fire", "act": "lit", "wood_kg": 1.3}),
    ]
    said += [(12 + 20 * each, "dome", None, {"is": "fire", "act": "fed", "pieces": 3}) for each in range(8)]
    said += [
        (185, "dome", None, {"is": "fire", "act": "raked"}),
        (195, "dome", None, {"is": "door", "state": "on"}),
        (120, "barrel", None, {"is": "fire", "act": "lit", "wood_kg": 0.9}),
        (131, "barrel", None, {"is": "fire", "act": "fed", "pieces": 2}),
        (142, "barrel", None, {"is": "fire", "act": "fed", "pieces": 2}),
        (160, "barrel", None, {"is": "door", "state": "on"}),
        (165, None, None, {"is": "note", "text": "barrel gets one small split every 35 min"}),
    ]
    for name, minute, oven, load in (
        (
            "lamb",
            225,
            "dome",
            {"cut": "lamb shoulder", "meat_kg": 3.0, "liquid_l": 1.0, "pan": "iron", "start": "cold"},
        ),
        ("beans", 228, "dome", {"cut": "white beans", "meat_kg": 1.5, "liquid_l": 2.0, "pan": "clay", "start": "hot"}),
        ("ribs", 235, "barrel", {"cut": "short ribs", "meat_kg": 2.0, "liquid_l": 0.8, "pan": "iron", "start": "warm"}),
    ):
        said += [(minute - 1, None, name, {"is": "load", **load}), (minute, oven, name, {"is": "pot", "act": "in"})]
    for step, minute in enumerate(range(205, 480, 20)):
        said += [
            (minute, "dome", None, {"is": "reading", "place": "air", "celsius": 182 - 3.2 * step}),
            (minute, "dome", None, {"is": "reading", "place": "floor", "celsius": 215 - 4.0 * step, "tool": "probe"}),
            (minute + 7, "barrel", None, {"is": "reading", "place": "air", "celsius": 165 - 0.8 * step}),
        ]
    said += [
        (330, None, "lamb", {"is": "check", "tender": "tough", "simmer": "gentle"}),
        (400, None, "lamb", {"is": "check", "tender": "giving", "simmer": "gentle"}),
    ]
    said.sort(key=lambda each: each[0])
    return [
        Dated(
            START + timedelta(minutes=minute),
            START + timedelta(minutes=minute),
            "Mara",
            f"m{place:03d}",
            0,
            fact(data),
            oven,
            dish,
        )
        for place, (minute, oven, dish, data) in enumerate(said)
    ]


def main():
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--members", type=int, default=None)
    members = parser.parse_args().members
    setting = Setting(seed=1) if members is None else Setting(seed=1, members=members)
    facts = day()
    kitchen = Kitchen(setting)
    spent, parts, used = [], [], []
    for count in range(1, len(facts) + 1):
        begun, before = time.perf_counter(), time.process_time()
        belief = kitchen.believe(facts[:count], facts[count - 1].at)
        between = time.perf_counter()
        belief.forecast(hours=12.0)
        done = time.perf_counter()
        if len([each for each in facts[:count] if each.fact.is_ == "pot"]) == 3:
            spent.append(done - begun)
            parts.append(between - begun)
            used.append(time.process_time() - before)
    print(
        f"message to forecast: median {1e3 * np.median(spent):.0f} ms, p95 {1e3 * np.quantile(spent, 0.95):.0f} ms "
        f"(belief alone {1e3 * np.median(parts):.0f} ms); processor {1e3 * np.median(used):.0f} ms, "
        f"p95 {1e3 * np.quantile(used, 0.95):.0f} ms"
    )
    begun, before = time.perf_counter(), time.process_time()
    Kitchen(setting).believe(facts, facts[-1].at)
    print(
        f"the whole log again: {1e3 * (time.perf_counter() - begun):.0f} ms, "
        f"processor {1e3 * (time.process_time() - before):.0f} ms"
    )
    known = [facts[:count] for count in range(len(facts) - 30, len(facts), 3)]
    quick, plain = (sum(_usual(kitchen, each, way) for each in known) for way in (forecasting._follow, _follow_all))
    print(
        f"the usual forecast of 8 h: processor {1e3 * quick / len(known):.0f} ms; with every member followed on "
        f"{1e3 * plain / len(known):.0f} ms, {plain / quick:.2f} times as long"
    )


def _usual(kitchen, facts, follow):
    """Processor time [s] of the forecast of 8 h at the last fact, the best of three."""
    forecasting._follow, took = follow, []
    for _ in range(3):
        belief = kitchen.believe(facts, facts[-1].at)
        before = time.process_time()
        belief.forecast()
        took.append(time.process_time() - before)
    return min(took)


def _follow_all(ensemble, recorder, ends_s):
    if recorder.waiting().any():
        model.advance(ensemble, ends_s, recorder.course, recorder)


if __name__ == "__main__":
    main()
