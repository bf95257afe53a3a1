"""How good the forecasts are, through the whole path: replay a cook, take the trace, hold it against what happened.

    python -m tests.bench.score_replays [NAME...]

Prints for each simulated cook of tests/data/cooks the error of the air thermometer 1 h and of the floor 2 h ahead,
how often the p05-p95 band held, and the error of the time of tenderness from a quarter, half and three quarters of
the way; beside them what a person would otherwise use: Newton's law of cooling fitted to the air readings told so far,
the last reading, and the rule of thumb (4 h in a 150 C oven, 9 h at 100 C; common practice, no source).
"""
from __future__ import annotations

import json
import sys
import tempfile
from datetime import datetime
from pathlib import Path

import numpy as np
from scipy.optimize import least_squares

COOKS = Path(__file__).parents[1] / "data" / "cooks"
HOURS = (0.5, 1.0, 2.0, 4.0)


def seconds(iso: str) -> float:
    return datetime.fromisoformat(iso).timestamp()


def trace_of(path: Path, data: Path | None = None) -> list[dict]:
    """The trace of one replay; data: a folder that keeps what was learnt."""
    from bot.cli import main
    with tempfile.TemporaryDirectory() as folder:
        out = Path(folder) / "trace.jsonl"
        stdout, sys.stdout = sys.stdout, open(Path(folder) / "talk.txt", "w")  # noqa: PTH123, SIM115
        try:
            main(["replay", str(path), "--trace", str(out), *([] if data is None else ["--data", str(data)])])
        finally:
            sys.stdout.close()
            sys.stdout = stdout
        return [json.loads(line) for line in out.read_text().splitlines()]


def newton(told: list[tuple[float, float]], ambient_c: float) -> object:
    """Newton's law of cooling to the outdoors, fitted to the last readings of the air; flat with fewer than two."""
    last = told[-5:]
    if len(last) < 2 or last[-1][0] - last[0][0] < 600:
        return lambda _: last[-1][1] if last else np.nan
    at0 = last[-1][0]
    times = np.array([at for at, _ in last]) - at0
    heats = np.array([heat for _, heat in last])

    def residual(p: np.ndarray) -> np.ndarray:
        return ambient_c + (p[0] - ambient_c) * np.exp(-np.exp(p[1]) * times) - heats
    fit = least_squares(residual, [heats[-1], np.log(1 / 36000)], bounds=([0, -16], [900, -6])).x
    return lambda at: ambient_c + (fit[0] - ambient_c) * np.exp(-np.exp(fit[1]) * (at - at0))


def score(name: str, folder: Path = COOKS, data: Path | None = None) -> dict[str, object]:
    truth = json.loads((folder / f"{name}.truth.json").read_text())
    lines = [line for line in trace_of(folder / f"{name}.txt", data) if "text" in line and "from" in line]
    times = np.array([seconds(at) for at in truth["time"]])
    oven = truth["oven"]
    dishes = dict(truth["dishes"])
    first_in = min(seconds(each["pot_in"]) for each in dishes.values())
    last_out = max(seconds(each["pot_out"]) for each in dishes.values())
    rows: dict[str, list[float]] = {}
    told: list[tuple[float, float]] = []
    for line, meant in zip(lines, truth["messages"], strict=True):
        now = seconds(line["at"])
        for fact in meant["facts"]:
            if fact["is"] == "reading" and fact.get("place") == "air" and "celsius" in fact:
                told.append((now, fact["celsius"]))
            if fact["is"] == "fix" and "celsius" in fact and told and fact.get("place", "air") == "air":
                told[-1] = (told[-1][0], fact["celsius"])
        if now < first_in or line["forecast"] is None or not told or now > last_out + 7200:
            continue
        belief = line["forecast"]["ovens"].get(oven)
        if belief is None:
            rows.setdefault("missing", []).append(1)
            continue
        grid = np.array([seconds(at) for at in belief["at"]])
        fit = newton(told, truth["hidden"]["ambient_c"])
        for hours in HOURS:
            at = now + 3600 * hours
            if at > times[-1] or at > grid[-1] + 1:
                continue
            for place, key in (("air", "air_thermometer"), ("floor", "floor")):
                real = float(np.interp(at, times, truth[key]))
                low, mid, high = (float(np.interp(at, grid, belief[place][q])) for q in ("p05", "p50", "p95"))
                rows.setdefault(f"{place} {hours}", []).append(abs(mid - real))
                rows.setdefault(f"{place} {hours} signed", []).append(mid - real)
                rows.setdefault(f"{place} in {hours}", []).append(low <= real <= high)
                rows.setdefault(f"{place} width {hours}", []).append(high - low)
                if place == "air":
                    rows.setdefault(f"newton {hours}", []).append(abs(fit(at) - real))
                    rows.setdefault(f"stays {hours}", []).append(abs(told[-1][1] - real))
    tender = {}
    for dish, real in truth["tender"].items():
        start, end = seconds(dishes[dish]["pot_in"]), seconds(real)
        for part in (0.25, 0.5, 0.75):
            when = start + part * (end - start)
            before = [line for line in lines if seconds(line["at"]) <= when and line["forecast"]
                      and dish in line["forecast"]["dishes"]]
            if not before:
                tender[dish, part] = None
                continue
            guess = before[-1]["forecast"]["dishes"][dish]["tender"]
            q = [seconds(guess[key]) if guess[key] else np.inf for key in ("p05", "p50", "p95")]
            air = np.mean([heat for at, heat in told if start - 900 <= at <= when] or [150])
            thumb = start + 3600 * float(np.interp(air, [100, 150, 200], [9.0, 4.0, 3.0]))
            tender[dish, part] = ((q[1] - end) / 60, q[0] <= end <= q[2], (q[2] - q[0]) / 60, (thumb - end) / 60)
    return {"rows": rows, "tender": tender, "ms": [line["ms"] for line in lines]}


def main(names: list[str]) -> None:
    pooled: dict[str, list[float]] = {}
    halves, thumbs, hits, ms = [], [], [], []
    for name in names:
        result = score(name)
        rows = result["rows"]
        for key, values in rows.items():
            pooled.setdefault(key, []).extend(values)
        ms += result["ms"]
        mean = {key: float(np.mean(values)) for key, values in rows.items()}
        print(f"{name}: air 1 h {mean['air 1.0']:.1f} (Newton {mean['newton 1.0']:.1f}, "
              f"stays {mean['stays 1.0']:.1f}), "
              f"2 h {mean['air 2.0']:.1f} ({mean['newton 2.0']:.1f}); floor 2 h {mean['floor 2.0']:.1f}; "
              f"in band air {mean['air in 1.0']:.2f} floor {mean['floor in 2.0']:.2f}; "
              f"signed air {mean['air 1.0 signed']:+.1f} floor {mean['floor 2.0 signed']:+.1f}; "
              f"missing {len(rows.get('missing', []))}")
        for (dish, part), got in result["tender"].items():
            if got is None:
                print(f"   {dish} at {part}: no forecast")
                continue
            held = "holds" if got[1] else "misses"
            print(f"   {dish} at {part}: {got[0]:+.0f} min, band {got[2]:.0f} min {held}; "
                  f"rule of thumb {got[3]:+.0f}")
            hits.append(got[1])
            if part == 0.5:
                halves.append(abs(got[0]))
                thumbs.append(abs(got[3]))
    show_pooled(pooled)
    print(f"  tender from half way: median {np.median(halves):.0f} min (rule of thumb {np.median(thumbs):.0f}); "
          f"in band {np.mean(hits):.2f} of {len(hits)}")
    print(f"  ms a message: median {np.median(ms):.0f}, p95 {np.quantile(ms, 0.95):.0f}")


def show_pooled(pooled: dict[str, list[float]], title: str = "all cooks") -> None:
    mean = {key: float(np.mean(values)) for key, values in pooled.items()}
    print(f"\n{title}")
    for hours in HOURS:
        print(f"  {hours} h: air {mean[f'air {hours}']:.1f}  Newton {mean[f'newton {hours}']:.1f}  ratio "
              f"{mean[f'air {hours}'] / mean[f'newton {hours}']:.2f}  stays {mean[f'stays {hours}']:.1f}   floor "
              f"{mean[f'floor {hours}']:.1f}   in band air {mean[f'air in {hours}']:.2f} (width "
              f"{mean[f'air width {hours}']:.0f}) floor {mean[f'floor in {hours}']:.2f} "
              f"(width {mean[f'floor width {hours}']:.0f})")


if __name__ == "__main__":
    main(sys.argv[1:] or sorted(path.stem for path in COOKS.glob("*.txt")))
