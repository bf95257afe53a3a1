"""How the dish model follows the six simulated cooks when it is given the oven as it really was.

Run: python -m tests.bench.bench_dish [-v]. Prior medians (spread 0) and the prior's 90 % interval; no reading is used.
The prior's medians were set with an eye on these same cooks, so its errors here are on the flattering side.
"""
from __future__ import annotations

import json
import sys
import time
from dataclasses import dataclass, replace
from datetime import datetime
from pathlib import Path
from typing import Any

import numpy as np

from skills.dish import model
from skills.dish.prior import Said, draw_state

COOKS = Path(__file__).parents[1] / "data" / "cooks"
ZERO_K = 273.15


@dataclass
class Case:
    """One dish of one cook: what was said, what stood around it each minute, and what it did."""
    cook: str
    name: str
    load: Said
    altitude_m: float
    minute: np.ndarray
    around: np.ndarray          # (minutes, 3): air, walls, floor [K]
    lid_off: np.ndarray         # (minutes,) bool: someone looks
    truth_minute: np.ndarray
    truth: dict[str, np.ndarray]
    tender_minute: float


def _at(text: str) -> float:
    return datetime.fromisoformat(text).timestamp()


def cases() -> list[Case]:
    found = []
    for path in sorted(COOKS.glob("*.truth.json")):
        data: dict[str, Any] = json.loads(path.read_text(encoding="utf-8"))
        stamps = np.array([_at(text) for text in data["time"]])
        for name, dish in data["dishes"].items():
            into, out = _at(dish["pot_in"]), _at(dish["pot_out"])
            said: dict[str, Any] = {}
            for message in data["messages"]:
                for fact in message.get("facts", ()):
                    if fact["is"] == "load" and fact.get("dish", name) == name:
                        said = {key: fact.get(key) for key in ("cut", "meat_kg", "liquid_l", "pan", "start")}
            seconds = np.arange(into, out, 60.0)
            around = np.stack([np.interp(seconds, stamps, np.array(data[key], dtype=float)) + ZERO_K
                               for key in ("air_true", "dome_inner", "floor_surface_centre")], axis=1)
            lid_off = np.zeros(len(seconds), dtype=bool)
            opened = None
            for event in data["events"]:
                if event["kind"] == "door" and event.get("minor"):
                    if event["state"] == "off":
                        opened = _at(event["at"])
                    elif opened is not None:
                        if opened > into + 600 and _at(event["at"]) < out - 120:
                            lid_off |= (seconds >= opened) & (seconds < _at(event["at"]))
                        opened = None
            inside = [index for index, value in enumerate(dish["pot_liquid"]) if value is not None]
            truth = {key: np.array([dish[key][index] for index in inside], dtype=float)
                     for key in ("pot_liquid", "meat_core", "liquid_litres", "tender_fraction")}
            found.append(Case(data["cook"], name, Said(name=name, **said), data["hidden"]["alt"], (seconds - into) / 60,
                              around, lid_off, (stamps[inside] - into) / 60, truth,
                              (_at(data["tender"][name]) - into) / 60))
    return found


def run(case: Case, lanes: int, spread: float, seed: int = 0, **changed: float) -> dict[str, np.ndarray]:
    """Per minute, (minutes, lanes): liquid, core [degC], litres, fraction; `changed` multiplies parameters."""
    rng = np.random.default_rng(seed)
    parameters = model.draw(rng, lanes, case.load, case.altitude_m, spread=spread)
    parameters = replace(parameters, **{key: getattr(parameters, key) * value for key, value in changed.items()})
    state = draw_state(rng, parameters, case.load, spread=spread)
    kept: dict[str, list[np.ndarray]] = {key: [] for key in case.truth}
    ones = np.ones(lanes)
    closed, opened = parameters, model.with_lid(parameters, False)
    horizon = len(case.minute) + (240 if lanes > 1 else 180)
    for minute in range(horizon):
        air, walls, floor = case.around[min(minute, len(case.around) - 1)]
        look = minute < len(case.lid_off) and case.lid_off[minute]
        kept["pot_liquid"].append(state.liquid_k - ZERO_K)
        kept["meat_core"].append(model.core_k(state, parameters) - ZERO_K)
        kept["liquid_litres"].append(model.liquid_litres(state, parameters))
        kept["tender_fraction"].append(model.tender_fraction(state, parameters))
        around = model.Surroundings(air * ones, walls * ones, floor * ones)
        state, _ = model.step(state, opened if look else closed, around, 60.0)
    return {key: np.array(values) for key, values in kept.items()}


def tender_minutes(fraction: np.ndarray) -> np.ndarray:
    """(lanes,) first minute at or over 0.9; nan if never."""
    done = fraction >= 0.9
    return np.where(done.any(axis=0), done.argmax(axis=0), np.nan)


def main(verbose: bool) -> None:
    print("cook  dish      tender  prior median  out by | prior 5-95 % | mean error: liquid C  core C  litres")
    errors, inside = [], 0
    for case in cases():
        middle = run(case, 1, 0.0)
        wide = tender_minutes(run(case, 300, 1.0)["tender_fraction"])
        low, high = np.nanquantile(wide, [0.05, 0.95])
        got = float(tender_minutes(middle["tender_fraction"])[0])
        errors.append(got - case.tender_minute)
        inside += low <= case.tender_minute <= high
        index = np.minimum(case.truth_minute.astype(int), len(middle["pot_liquid"]) - 1)
        off = {key: middle[key][index, 0] - case.truth[key] for key in case.truth}
        late = case.truth_minute > 30
        print(f"{case.cook}  {case.name:8}  {case.tender_minute:5.0f}  {got:9.0f}  {errors[-1]:+10.0f} |"
              f" {low:5.0f} {high:5.0f}  |"
              f"   {np.mean(off['pot_liquid'][late]):+6.1f} ({np.abs(off['pot_liquid'][late]).mean():.1f})"
              f"  {np.mean(off['meat_core'][late]):+6.1f} ({np.abs(off['meat_core'][late]).mean():.1f})"
              f"  {np.mean(off['liquid_litres'][late]):+.2f} (end {off['liquid_litres'][-1]:+.2f})")
        if verbose:
            for k in range(0, len(index), 6):
                print(f"    {case.truth_minute[k]:4.0f} min" + "".join(
                    f"  {key[:6]} {case.truth[key][k]:6.2f}/{middle[key][index[k], 0]:6.2f}" for key in case.truth))
    print(f"tender time: mean {np.mean(errors):+.0f} min, mean absolute {np.mean(np.abs(errors)):.0f} min; "
          f"inside the prior's 5-95 %: {inside} of {len(errors)}")
    lanes = 900
    rng = np.random.default_rng(0)
    load = Said(name="lamb", cut="lamb shoulder", meat_kg=3.0, liquid_l=1.0, pan="iron", start="cold")
    parameters = model.draw(rng, lanes, load)
    state = draw_state(rng, parameters, load)
    around = model.Surroundings(*[np.full(lanes, 430.0)] * 3)
    took = []
    for _ in range(300):
        start = time.perf_counter()
        state, _ = model.step(state, parameters, around, 60.0)
        took.append(time.perf_counter() - start)
    print(f"step: {np.median(took) * 1e3:.2f} ms for {lanes} lanes x {model.CELLS} cells")


if __name__ == "__main__":
    main("-v" in sys.argv)
