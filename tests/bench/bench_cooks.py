"""How good the forecasts are on the six simulated cooks (tests/data/cooks), beside what a person would otherwise use.

    python tests/bench/bench_cooks.py [COOK ...] [--members N] [--detail]

For each message from pot-in on: the thermometer 0.5, 1, 2 and 4 h ahead against Newton's law of cooling fitted to the
air readings so far, and against "the last reading stays"; the floor probe; whether the truth lies between p05 and p95;
the time of tenderness from 1/4, 1/2 and 3/4 of the way, against the rule of thumb.
"""

from __future__ import annotations

import argparse
import json
import sys
import time
from collections import defaultdict
from datetime import datetime
from pathlib import Path

import numpy as np

ROOT = Path(__file__).resolve().parents[2]
sys.path.insert(0, str(ROOT))

from skills.dated import Told  # noqa: E402
from skills.kitchen import Kitchen, Setting  # noqa: E402
from skills.kitchen.forecast import later_quantile  # noqa: E402
from skills.record import fold  # noqa: E402
from skills.vocabulary import Heard  # noqa: E402

COOKS = ROOT / "tests" / "data" / "cooks"
HOURS = (0.5, 1.0, 2.0, 4.0)


def moment(text):
    return datetime.fromisoformat(text)


def told_messages(truth):
    return [
        Told(
            f"m{place:04d}",
            moment(each["at"]),
            each["from"],
            each["text"],
            Heard.model_validate({"facts": each["facts"], "questions": each["questions"]}),
        )
        for place, each in enumerate(truth["messages"])
    ]


def newton(readings, at_s, ambient_c=15.0):
    """Newton's law of cooling through the air readings (time, degC): degC at at_s."""
    if not readings:
        return np.nan
    times = np.array([each[0] for each in readings], dtype=float)
    over = np.log(np.maximum(np.array([each[1] for each in readings]) - ambient_c, 1.0))
    if len(readings) == 1:
        return readings[0][1]
    slope, level = np.polyfit(times - times[-1], over, 1)
    return ambient_c + np.exp(level + slope * (at_s - times[-1]))


def rule_of_thumb_h(mean_air_c):
    """4 h at 150, 9 h at 100 (common practice, no source)."""
    return float(np.interp(mean_air_c, [100.0, 150.0], [9.0, 4.0]))


def bench(name, members, detail, out, learnt=None):
    truth = json.loads((COOKS / f"{name}.truth.json").read_text())
    messages = told_messages(truth)
    times = np.array([moment(each).timestamp() for each in truth["time"]])
    air, floor = np.array(truth["air_thermometer"], float), np.array(truth["floor"], float)
    pot_in = min(moment(each["pot_in"]).timestamp() for each in truth["dishes"].values())
    learnt = learnt if learnt is not None else {}
    kitchen = Kitchen(
        Setting(
            seed=1,
            members=members,
            altitude_m=truth["hidden"]["alt"],
            ovens=learnt.get("ovens", {}),
            cuts=learnt.get("cuts", {}),
        )
    )
    marks = {
        dish: [(moment(each["pot_in"]).timestamp(), moment(truth["tender"][dish]).timestamp())]
        for dish, each in truth["dishes"].items()
        if truth["tender"].get(dish)
    }
    beliefs = []
    spent = []
    for place, message in enumerate(messages):
        record = fold(messages[: place + 1])
        if not record.ovens:
            continue
        begun = time.perf_counter()
        belief = kitchen.believe(record.facts, message.at)
        forecast = belief.forecast(hours=8.0)
        spent.append(time.perf_counter() - begun)
        at_s = message.at.timestamp()
        beliefs.append((at_s, forecast))
        if at_s < pot_in:
            continue
        oven = next(iter(forecast.ovens.values()))
        readings = [
            (each.at.timestamp(), each.fact.celsius)
            for each in record.facts
            if each.fact.is_ == "reading" and each.fact.place == "air" and each.fact.celsius is not None
        ]
        row = []
        for hours in HOURS:
            ahead = at_s + hours * 3600
            if ahead > times[-1]:
                continue
            for key, series, got in (("air", air, oven.air_c), ("floor", floor, oven.floor_c)):
                real = np.interp(ahead, times, series)
                members_then = np.array([np.interp(ahead, forecast.at_s, lane) for lane in got.T])
                low, mid, high = np.quantile(members_then, (0.05, 0.5, 0.95))
                out[key, hours].append((name, mid - real, low <= real <= high, high - low))
                row.append(f"{mid - real:+.0f}/{(high - low) / 2:.0f}{'' if low <= real <= high else '!'}")
            real = np.interp(ahead, times, air)
            out["newton", hours].append((name, newton(readings, ahead) - real, True, 0))
            out["stays", hours].append((name, (readings[-1][1] if readings else np.nan) - real, True, 0))
        if detail:
            print(
                message.at.strftime("%H:%M"),
                " ".join(f"{each:>9}" for each in row),
                message.text[:50],
                "DOUBT" if belief.doubted and belief.doubted[-1].message == message.id else "",
            )
    learnt["ovens"], learnt["cuts"] = belief.profiles()
    for dish, ((begin, tender),) in marks.items():
        for part in (0.25, 0.5, 0.75):
            when = begin + part * (tender - begin)
            known = [each for each in beliefs if each[0] <= when and dish in each[1].dishes]
            if not known:
                continue
            at_s, forecast = known[-1]
            samples = forecast.dishes[dish].tender_s
            low, mid, high = (later_quantile(samples, share) for share in (0.05, 0.5, 0.95))
            mean_air = float(np.mean(air[(times >= begin) & (times <= when)]))
            thumb = begin + rule_of_thumb_h(mean_air) * 3600
            out["tender", part].append(
                (f"{name} {dish}", (mid - tender) / 60, low <= tender <= high, (high - low) / 60)
            )
            out["thumb", part].append((name, (thumb - tender) / 60, True, 0))
    return spent


def main():
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument(
        "cooks", nargs="*", default=sorted(each.name.split(".")[0] for each in COOKS.glob("*.truth.json"))
    )
    parser.add_argument("--members", type=int, default=200)
    parser.add_argument("--detail", action="store_true")
    parser.add_argument(
        "--profiles", action="store_true", help="each oven's second cook starts from what its first taught"
    )
    args = parser.parse_args()
    out = defaultdict(list)
    spent = []
    taught = defaultdict(dict)
    for name in args.cooks:
        spent += bench(name, args.members, args.detail, out, taught[name[:3]] if args.profiles else None)
    ratio = []
    print("mean absolute error [K], share within p05 to p95, half width; per cook")
    for key in ("air", "floor", "newton", "stays"):
        for hours in HOURS:
            rows = out[key, hours]
            per = {name: np.nanmean([abs(each[1]) for each in rows if each[0] == name]) for name in args.cooks}
            cover = np.mean([each[2] for each in rows])
            width = np.mean([each[3] for each in rows]) / 2
            held = {name: np.mean([each[2] for each in rows if each[0] == name]) for name in args.cooks}
            print(
                f"{key:7}{hours:4} h  {np.nanmean([abs(each[1]) for each in rows]):6.1f}"
                + (f"  in {cover:.2f}  half {width:5.1f}" if key in ("air", "floor") else " " * 22)
                + "   "
                + " ".join(
                    f"{name} {value:5.1f}" + (f" {held[name]:.2f}" if key in ("air", "floor") else "")
                    for name, value in per.items()
                )
            )
    pooled = [each[2] for key in ("air", "floor") for hours in HOURS for each in out[key, hours]]
    ratio = [
        np.nanmean([abs(e[1]) for e in out["air", h]]) / np.nanmean([abs(e[1]) for e in out["newton", h]])
        for h in HOURS
    ]
    print(f"air against Newton {' '.join(f'{each:.2f}' for each in ratio)}; pooled coverage {np.mean(pooled):.3f}")
    for part in (0.25, 0.5, 0.75):
        rows = out["tender", part]
        if rows:
            print(
                f"tender from {part}: median |error| {np.median([abs(each[1]) for each in rows]):.0f} min, in "
                f"{np.mean([each[2] for each in rows]):.2f}, thumb "
                f"{np.median([abs(each[1]) for each in out['thumb', part]]):.0f}; "
                + ", ".join(f"{each[0]} {each[1]:+.0f}{'' if each[2] else '!'} ({each[3]:.0f})" for each in rows)
            )
    print(f"message to forecast: median {1e3 * np.median(spent):.0f} ms, p95 {1e3 * np.quantile(spent, 0.95):.0f} ms")


if __name__ == "__main__":
    main()
