"""One invented class in a simulated oven: what people did, what they said of it, and what really happened.

    python -m tests.simulator.cook SEED [CLASS]   prints the transcript

`make(seed, number)` gives (transcript, truth) in the format of tests/data/cooks; `number` 0, 1, 2 are classes in the
same oven on different days. People tell of about half of what they do, some minutes late, with slips.
"""

from __future__ import annotations

import sys
from datetime import datetime, timedelta
from zoneinfo import ZoneInfo

import numpy as np

from tests.simulator.masonry import STEP_S, Kind, Oven, Pot, draw_kind

ZONE = ZoneInfo("Europe/London")
PEOPLE = ("Mara", "Idris", "Tomos", "Bea")
EVERY_S = 300


class Class:
    """A day: a clock, the oven, the talk so far."""

    def __init__(self, seed: int, number: int) -> None:
        self.kind = draw_kind(np.random.default_rng(seed), tended=seed % 5 in (1, 3))
        self.rng = np.random.default_rng((seed, number))
        rng, kind = self.rng, self.kind
        self.name = "barrel" if kind.tended else "dome"
        self.start = datetime(2026, 5, 2 + 7 * number, int(rng.integers(6, 9)), int(rng.integers(0, 50)), tzinfo=ZONE)
        self.ambient = 273.15 + rng.uniform(4.0, 22.0)
        self.days = int(rng.choice([1, 2, 4, 9]))
        self.warm = self.ambient + float(np.exp(-self.days / 1.5)) * rng.uniform(20.0, 70.0)
        self.oven = Oven(kind, rng, self.ambient, self.warm, rng.uniform(0.002, 0.015))
        self.moist = rng.uniform(0.12, 0.22)
        self.gun = {who: rng.normal(-2.0, 5.0) for who in PEOPLE}
        self.spot = rng.normal(0.0, 6.0, 9)
        self.now_s = 0.0
        self.said: list[tuple[float, str, str, list[dict]]] = []
        self.series: list[tuple[float, ...]] = []
        self.pots: dict[str, str] = {}
        self.read_s = 0.0
        self.told = rng.uniform(0.35, 0.75)

    # The clock.
    def until(self, at_s: float) -> None:
        while self.now_s + STEP_S <= at_s + 1e-6:
            self.oven.step(self.now_s)
            self.now_s += STEP_S
            if self.now_s % EVERY_S == 0:
                self.series.append((self.now_s, *self.oven.shown(), self.oven.gas - 273.15))

    def time(self, at_s: float) -> datetime:
        return self.start + timedelta(seconds=at_s)

    def say(self, text: str, *facts: dict, who: str | None = None, late: float = 0.0) -> None:
        self.said.append((self.now_s + late, who or str(self.rng.choice(PEOPLE[:3])), text, list(facts)))

    def tells(self) -> bool:
        return bool(self.rng.random() < self.told)

    # Readings.
    def air_floor(self, kinds: str) -> None:
        air, floor = self.oven.shown()
        rng = self.rng
        values = {"air": round(air + rng.normal(0, 1.5)), "floor": round(floor + rng.normal(0, 1.2))}
        places = [place for place in ("floor", "air") if place[0] in kinds]
        facts = [{"is": "reading", "place": place, "celsius": float(values[place])} for place in places]
        text = " ".join(f"{place} {values[place]}" for place in places)
        who = str(rng.choice(PEOPLE))
        if rng.random() < 0.04:
            place = places[-1]
            wrong = values[place] + int(rng.choice([-100, 100, 90]))
            if wrong > 40:
                self.say(text.replace(str(values[place]), str(wrong)), *facts, who=who)
                self.said.append((self.now_s + 60, who, f"sorry {place} {values[place]} not {wrong}", []))
                return
        if rng.random() < 0.12:
            minutes = int(rng.integers(3, 15))
            past = self.time(self.now_s)
            self.say(f"{self.name} {text} at {past:%H:%M}", *facts, who=who, late=60.0 * minutes)
            return
        self.say(f"{self.name} {text}" if rng.random() < 0.5 else text, *facts, who=who)

    def gun_shot(self) -> None:
        who = str(self.rng.choice(PEOPLE))
        face = self.oven.face - 273.15 + self.spot + self.gun[who] + self.rng.normal(0, 5.0, 9)
        zone, words = [(0, "the floor"), (5, "the ceiling"), (6, "the left wall"), (8, "the back wall")][
            int(self.rng.integers(0, 4))]
        self.say(f"ir {face[zone]:.0f} on {words}", who=who)

    def reading(self) -> None:
        draw = self.rng.random()
        if draw < 0.2:
            self.gun_shot()
        else:
            self.air_floor("a" if draw < 0.55 else "f" if draw < 0.65 else "af")

    def watch(self, to_s: float, gap_s: float) -> None:
        """Readings about every gap_s until to_s."""
        while True:
            at = max(self.read_s, self.now_s) + gap_s * self.rng.gamma(3.0, 1 / 3.0)
            if at >= to_s:
                break
            self.until(at)
            self.read_s = at
            self.reading()
        self.until(to_s)

    # Deeds.
    def wood(self, kg: float, pieces: int, say: bool, words: str) -> None:
        self.oven.feed(self.now_s, kg, self.moist, pieces)
        if say:
            self.say(words, late=60.0 * self.rng.integers(0, 4))

    def look(self) -> None:
        self.oven.open = 1.0
        self.until(self.now_s + 60.0 * self.rng.integers(2, 6))
        self.oven.open = 0.0

    def describe(self) -> None:
        kind, rng = self.kind, self.rng
        parts = [f"{kind.across * 100:.0f} across", f"{kind.floor * 100:.0f} cm floor brick",
                 f"{kind.dome * 100:.0f} cm dome", f"{kind.insulation * 100:.0f} cm insulation"]
        parts = [parts[0], *(each for each in parts[1:] if rng.random() < 0.9)]
        way = "kept going with a small fire" if kind.tended else "fired then cleared"
        self.say(f"class: slow pot, 12 guests, eating at {self.time(8 * 3600):%H:%M}", who="Mara")
        self.now_s += 60
        probe = f"floor probe {kind.probe * 100:.0f} cm deep"
        self.say(f"the {self.name} is {', '.join([*parts, probe, way])}", who="Mara")
        self.now_s += 60
        if rng.random() < 0.6:
            self.say(f"last fired {self.days} days ago" if self.days > 1 else "fired yesterday", who="Mara")
        if rng.random() < 0.4:
            self.say(f"{self.ambient - 273.15:.0f} degrees out here", who="Bea")
        self.now_s += 60
        self.now_s = float(np.ceil(self.now_s / STEP_S) * STEP_S)
        self.read_s = self.now_s

    def firing(self) -> None:
        rng, kind, oven = self.rng, self.kind, self.oven
        first = 0.9 if kind.tended else 1.2
        oven.open = 1.0
        self.wood(first, 7, False, "")
        self.say(f"lit the {self.name}, {first} kg to start" if rng.random() < 0.6 else f"lit the {self.name}")
        pieces = 2 if kind.tended else 3
        self.piece = (0.28 if kind.tended else 0.42) * (kind.across / (0.66 if kind.tended else 0.9)) ** 2 * np.exp(
            rng.normal(0, 0.2))
        gap = 60.0 * (rng.integers(9, 14) if kind.tended else rng.integers(14, 25))
        least, most = (3, 6) if kind.tended else (5, 13)
        hot = 273.15 + (rng.uniform(270.0, 330.0) if kind.tended else rng.uniform(360.0, 470.0))
        self.watch(self.now_s + 420, 3000)
        for count in range(most):
            if count >= least and oven.face[5:].mean() > hot:
                break
            kg = pieces * self.piece * np.exp(rng.normal(0, 0.1))
            words = f"{kg:.1f} kg of wood on" if rng.random() < 0.3 else f"{pieces} splits on"
            self.wood(kg, pieces, self.tells(), words)
            self.watch(self.now_s + gap * rng.uniform(0.9, 1.1), 2600)
        if kind.tended:
            self.watch(self.now_s + 180, 3000)
        else:
            if rng.random() < 0.6:
                oven.spread = True
                if self.tells():
                    self.say("embers spread over the floor")
            self.watch(self.now_s + 60.0 * rng.integers(20, 40), 3000)
            oven.rake()
            self.say("raked out")
            self.watch(self.now_s + 60.0 * rng.integers(4, 14), 3000)
        oven.open = 0.0
        self.say("door's on")

    def tend(self, to_s: float, looks: list[float]) -> None:
        """Between now and to_s: readings, looks, and for a tended oven the small fire."""
        while self.now_s < to_s - 1:
            marks = [to_s, *looks[:1]]
            if self.kind.tended:
                marks.append(self.feed_s)
            self.watch(max(min(marks), self.now_s), self.gap_s)
            if self.kind.tended and self.feed_s <= self.now_s + STEP_S:
                self.small_feed()
            elif looks and looks[0] <= self.now_s + STEP_S:
                looks.pop(0)
                self.look()
                self.check()
            elif self.now_s + STEP_S >= to_s:
                break

    def small_feed(self) -> None:
        rng = self.rng
        if rng.random() < 0.06:
            if rng.random() < 0.5:
                self.say("sorry, forgot to feed it")
        else:
            many = 2 if rng.random() < 0.08 or (self.oven.hang < 273.15 + 120 and rng.random() < 0.6) else 1
            self.wood(many * self.small * np.exp(rng.normal(0, 0.15)), many, self.tells(),
                      "one split on" if many == 1 else "two splits on")
        self.feed_s = self.now_s + self.every_s * rng.uniform(0.85, 1.15)

    def check(self) -> None:
        pot = self.oven.pot
        if pot is None:
            return
        word = "tough as boots" if pot.done < 0.6 else "giving but not there" if pot.done < 1.0 else "tender"
        simmer = "gentle simmer" if pot.body > pot.boil - 6 else "not a bubble"
        self.say(f"lamb {word}, {simmer}", who="Idris")
        if pot.done >= 1.0:
            self.found = True

    def run(self) -> None:
        rng, kind = self.rng, self.kind
        self.found = False
        self.gap_s = 60.0 * rng.uniform(18, 45)
        self.describe()
        self.firing()
        self.every_s = 60.0 * float(rng.choice([25, 30, 30, 35, 40]))
        self.small = 0.42 * self.piece * np.exp(rng.normal(0, 0.25)) if kind.tended else 0.0
        self.feed_s = self.now_s + self.every_s * rng.uniform(0.7, 1.5)
        if kind.tended and rng.random() < 0.75:
            self.watch(self.now_s + 60.0 * rng.integers(5, 30), 2400)
            weight = f" (about {self.small:.1f} kg)" if rng.random() < 0.35 else ""
            self.say(f"from now on it gets one split{weight} every {self.every_s / 60:.0f} min", who="Tomos")
            self.feed_s = self.now_s + 60.0 * rng.uniform(2, 20)
        limit = self.now_s + 3600 * (1.2 if kind.tended else 2.5)
        self.tend(self.now_s + 1200, [])
        while self.oven.hang > 273.15 + 205 and self.now_s < limit:
            self.tend(self.now_s + 600, [])
        kg, liquid = round(rng.uniform(1.5, 4.0), 1), round(rng.uniform(0.6, 1.8), 1)
        start = str(rng.choice(["cold", "warm", "hot"]))
        self.say(f"{kg} kg lamb shoulder, {liquid} l {start} stock, iron pot, lid on", who="Idris")
        self.oven.open = 1.0
        self.tend(self.now_s + 60.0 * rng.integers(2, 5), [])
        self.oven.pot = Pot(kg, liquid, 373.0, {"cold": 285.0, "warm": 320.0, "hot": 365.0}[start])
        self.oven.open = 0.0
        self.pots["pot_in"] = self.time(self.now_s).isoformat()
        self.say("pot in, door on", who="Idris")
        begin = self.now_s
        looks = list(begin + np.cumsum(3600 * rng.uniform(0.7, 1.5, 14)))
        while not self.found and self.now_s < begin + 9 * 3600:
            if rng.random() < 0.12:
                minutes = int(rng.integers(8, 20))
                self.oven.open = 1.0
                if rng.random() < 0.7:
                    self.say("door's off for a bit")
                self.tend(self.now_s + 60 * minutes, [])
                self.oven.open = 0.0
                self.say("door's back on")
            self.tend(min(self.now_s + 3600, begin + 9 * 3600), looks)
        self.tend(self.now_s + 60.0 * rng.integers(5, 40), [])
        self.oven.open = 1.0
        self.until(self.now_s + 60)
        self.oven.pot = None
        self.pots["pot_out"] = self.time(self.now_s).isoformat()
        self.say("pot out", who="Idris")
        if kind.tended:
            self.feed_s = np.inf
            if rng.random() < 0.7:
                self.say("fire's out")
        self.until(self.now_s + 60)
        if rng.random() < 0.4:
            self.say("left the door off")
        else:
            self.oven.open = 0.0
        self.tend(self.now_s + 7200, [])
        self.said = [each for each in self.said if each[0] <= self.now_s]
        self.until(max(self.now_s, begin + 12 * 3600))

    def transcript(self) -> tuple[str, dict]:
        said = sorted(self.said, key=lambda each: each[0])
        times = [self.time(each[0] // 60 * 60).replace(second=0) for each in said]
        lines = [f"# title: simulated\n# date: {self.start:%Y-%m-%d}\n# zone: Europe/London"]
        lines += [f"{at:%H:%M} {who}: {text}" for at, (_, who, text, _) in zip(times, said, strict=True)]
        series = np.array(self.series)
        truth = {
            "oven": self.name,
            "time": [self.time(each).isoformat() for each in series[:, 0]],
            "air_thermometer": series[:, 1].round(2).tolist(),
            "floor": series[:, 2].round(2).tolist(),
            "dishes": {"lamb": dict(self.pots)},
            "tender": {},
            "hidden": {"ambient_c": self.ambient - 273.15, "alt": 0.0},
            "messages": [{"at": at.isoformat(), "from": who, "text": text, "facts": facts, "questions": []}
                         for at, (_, who, text, facts) in zip(times, said, strict=True)],
        }
        return "\n".join(lines) + "\n", truth


def make(seed: int, number: int = 0) -> tuple[str, dict]:
    """The transcript and the truth of class `number` in oven `seed`."""
    day = Class(seed, number)
    day.run()
    return day.transcript()


if __name__ == "__main__":
    text, truth = make(int(sys.argv[1]), int(sys.argv[2]) if len(sys.argv) > 2 else 0)
    print(text)
    print([round(each) for each in truth["air_thermometer"]][::3])
    print([round(each) for each in truth["floor"]][::3])


__all__ = ["Class", "Kind", "make"]
