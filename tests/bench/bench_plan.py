"""How long a plan takes: one dish (so long take new times in class too), a ladder of five; each against one forecast.

    python tests/bench/bench_plan.py [--repeat N]

The baseline in the same run is a forecast of twelve hours with one oven and one pot, as every reply makes it. Prints
seconds of processor time, median of the repeats, and the ratio to the baseline.
"""

from __future__ import annotations

import argparse
import statistics
import sys
import time
from datetime import timedelta
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from skills.kitchen import Kitchen, Setting
from skills.planning.ladder import ladder
from tests.kitchen.days import at, dome_day
from tests.planning import helpers

FIVE = {
    "roast pork": {"meat_kg": 2.5},
    "loaves": {"meat_kg": 2.4},
    "lamb": helpers.SHOULDER,
    "beans": {"cut": "borlotti", "meat_kg": 2.0, "liquid_l": 3.0, "pan": "clay", "start": "hot"},
    "rice pudding": {"meat_kg": 0.4, "liquid_l": 3.0},
}


def timed(act, repeat):
    spans = []
    for _ in range(repeat):
        begin = time.process_time()
        act()
        spans.append(time.process_time() - begin)
    return statistics.median(spans)


def main():
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--repeat", type=int, default=3)
    repeat = parser.parse_args().repeat
    kitchen = Kitchen(Setting(seed=1))
    facts = [dated for dated in dome_day() if dated.at <= at(240)]

    def forecast():
        kitchen.believe(facts, at(240))._made.clear()
        kitchen.believe(facts, at(240)).forecast(hours=12.0)

    start = helpers.start(members=100)
    wishes = [helpers.wish(name, load) for name, load in FIVE.items()]
    forecast()
    rows = {
        "forecast of 12 h (baseline)": timed(forecast, repeat),
        "plan of one dish": timed(lambda: helpers.plan_dish(start, helpers.wish(), helpers.NOW, False), repeat),
        "the same with the evening before": timed(
            lambda: helpers.plan_dish(start, helpers.wish(), helpers.NOW), repeat),
        "ladder of five dishes": timed(
            lambda: ladder(helpers.start(members=60), wishes, helpers.EAT, helpers.NOW), repeat),
        "ladder of five, too late": timed(lambda: ladder(helpers.start(members=60), wishes, helpers.EAT, helpers.EAT
                                                         - timedelta(hours=6)), repeat),
    }
    base = rows["forecast of 12 h (baseline)"]
    for name, span in rows.items():
        print(f"{name:<36} {span:6.2f} s   {span / base:6.1f} of the baseline")
    print("(limits of the job: one dish 2 s, ladder of five 10 s)")


if __name__ == "__main__":
    main()
