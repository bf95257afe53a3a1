"""The same table as score_replays on cooks of our own making, in many ovens: are the forecasts tuned to six cooks?

    python -m tests.bench.score_simulated [--ovens N] [--first SEED] [--classes K]

Each seed is an oven (tests/simulator); seeds of which the last digit is 1, 3, 6 or 8 are tended. With --classes 3 each
oven has three classes, each starting from what the ones before taught, and each again without it; the ratio of the air
errors is printed.
"""
from __future__ import annotations

import argparse
import json
import tempfile
from pathlib import Path

import numpy as np

from tests.bench.score_replays import score, show_pooled
from tests.simulator.cook import make


def line(name: str, result: dict) -> str:
    mean = {key: float(np.mean(values)) for key, values in result["rows"].items()}
    if "air 1.0" not in mean:
        return f"{name}: nothing to score"
    return (f"{name}: air 1 h {mean['air 1.0']:.1f} (Newton {mean['newton 1.0']:.1f}), 2 h {mean['air 2.0']:.1f}; "
            f"floor 2 h {mean['floor 2.0']:.1f}; in band air {mean['air in 1.0']:.2f} {mean['air in 2.0']:.2f} floor "
            f"{mean['floor in 2.0']:.2f}; signed air {mean['air 1.0 signed']:+.1f} "
            f"floor {mean['floor 2.0 signed']:+.1f}")


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--ovens", type=int, default=12)
    parser.add_argument("--first", type=int, default=0)
    parser.add_argument("--classes", type=int, default=1)
    given = parser.parse_args()
    pools: dict[str, dict[str, list[float]]] = {"retained": {}, "tended": {}}
    taught: dict[int, list[tuple[float, float]]] = {}
    for seed in range(given.first, given.first + given.ovens):
        with tempfile.TemporaryDirectory() as folder:
            where = Path(folder)
            for number in range(given.classes):
                name = f"s{seed:03d}{'abc'[number]}"
                text, truth = make(seed, number)
                (where / f"{name}.txt").write_text(text)
                (where / f"{name}.truth.json").write_text(json.dumps(truth))
                fresh = score(name, where)
                print(line(name, fresh), flush=True)
                kind = "tended" if seed % 5 in (1, 3) else "retained"
                for key, values in fresh["rows"].items():
                    pools[kind].setdefault(key, []).extend(values)
                if given.classes > 1:
                    learnt = score(name, where, where / "data")
                    print("   with what was learnt " + line(name, learnt), flush=True)
                    taught.setdefault(number, []).append(
                        (float(np.mean(learnt["rows"]["air 1.0"])), float(np.mean(fresh["rows"]["air 1.0"]))))
    both: dict[str, list[float]] = {}
    for kind, pool in pools.items():
        if pool:
            show_pooled(pool, kind)
        for key, values in pool.items():
            both.setdefault(key, []).extend(values)
    show_pooled(both)
    for number, pairs in taught.items():
        learnt_k, fresh_k = (float(np.mean(each)) for each in zip(*pairs, strict=True))
        print(f"  class {number + 1}: air 1 h {learnt_k:.1f} with the profile, {fresh_k:.1f} without: ratio "
              f"{learnt_k / fresh_k:.2f}")


if __name__ == "__main__":
    main()
