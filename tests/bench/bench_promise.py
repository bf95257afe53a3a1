"""Whether odds hold: classes of our own making, told with gaps and errors, and what came of "4 in 5".

    python -m tests.bench.bench_promise [--cooks N] [--seed S] [--members M] [--detail]

The truth of each class is one member that the forecaster never sees: oven and dish drawn wider than the prior, with a
rate law of its own, gusts, uneven splits, untold feeds and looks; the yard reads with noise and judges with a bias of
its own. Printed: for the time of tenderness at a quarter, half and three quarters of the way the error and the band;
for the odds of a meal (ready_by) the reliability table and the Brier score, beside the rule of thumb's in the same run.
"""
from __future__ import annotations

import argparse
import time
from collections import defaultdict
from dataclasses import dataclass, replace
from datetime import UTC, datetime, timedelta

import numpy as np

from skills import vocabulary as v
from skills.dated import Told
from skills.dish import evidence
from skills.dish import model as dish
from skills.dish.prior import Said, draw_state
from skills.dish.promise import promise
from skills.kitchen import Kitchen, Setting, pots
from skills.kitchen import ensemble as kitchen
from skills.kitchen.acts import Act, OvenStory
from skills.oven import model as oven
from skills.oven.parameters import ROW, OvenNumbers, prior
from skills.record import fold
from skills.view import View
from skills.vocabulary import Heard

START = datetime(2026, 5, 16, 5, 0, tzinfo=UTC)
WIDER = 1.15                    # of the prior's spreads
STEP_S = 120
PARTS = (0.25, 0.5, 0.75)
# Hours after the pot went in at which the odds are asked, while it is not tender: times that know nothing of the truth.
# Odds asked at parts of the true way would not hold even if they were right: the time of asking gives the answer away.
ASKED_H = (0.1, 1.5, 2.5, 3.5, 5.0)
LOW_L_KG, FILL_L = 0.10, 0.4      # a cook who sees so little liquor for each kg of meat adds this much
LAST_S = 12 * 3600              # nobody waits longer; parts of the way are reckoned from this then
SERVES_MIN = (-75, -45, -15, 15, 45, 75, 120)     # meals asked about, round the rule of thumb's time
CUTS = ("lamb shoulder", "hogget shoulder", "pork collar", "goat leg", "brisket", "ox cheek", "lamb shanks",
        "beef short ribs", "beef shin", "beef chuck", "mutton shoulder", "pork shoulder")


def thumb_h(cut: str, air_c: float) -> float:
    """About 4 h at 150, 9 h at 100, brisket and cheek half as long again (common practice, no source)."""
    hours = float(np.interp(air_c, [100.0, 150.0, 200.0], [9.0, 4.0, 3.0]))
    return hours * (1.4 if any(word in cut for word in ("brisket", "cheek")) else 1.0)


@dataclass
class Cook:
    """What was told, and what came of it."""
    told: list[Told]
    pot_in_s: int
    tender_s: float
    dry_at: list[int]               # steps at which the pot stood dry
    cut: str
    tended: bool
    air: list[tuple[int, float]]
    number: int = 0


class Day:
    """One class, played forward: the yard acts on the true oven and tells part of it."""

    def __init__(self, rng: np.random.Generator) -> None:
        self.rng = rng
        self.told: list[Told] = []
        self.air: list[tuple[int, float]] = []
        self.tended = bool(rng.uniform() < 0.2)
        self.pieces = 1
        across = rng.uniform(0.55, 0.75) if self.tended else rng.uniform(0.75, 1.25)
        size = {"across_cm": across * 100, "floor_cm": rng.uniform(4, 8), "dome_cm": rng.uniform(6, 13),
                "insulation_cm": float(np.exp(rng.uniform(np.log(3), np.log(14)))), "probe_cm": rng.uniform(2, 5)}
        size = {name: float(round(value)) for name, value in size.items()}
        story = OvenStory("dome", 0, size=size, fired="tended" if self.tended else "retained")
        mean, sd = prior(story.words())
        theta = (mean + WIDER * sd * rng.standard_normal(len(mean)))[:, None]
        numbers = OvenNumbers(theta)
        probe_m = np.array([size["probe_cm"] / 100])
        self.at_s = int(START.timestamp())
        self.truth = kitchen.Ensemble(self.at_s, ("dome",), 1, theta, numbers, oven.build(numbers, probe_m), probe_m,
                                      oven.start(numbers), ("on",), pots.Shelf(), np.zeros(1), np.zeros((1, 2, 2)))
        self.setting = Setting(seed=int(rng.integers(1 << 30)))
        self.loads: dict[str, dict[str, object]] = {}
        self.bias = rng.standard_normal(3)
        self.tender_s = np.inf
        self.dry_at: list[int] = []
        self.tell(0.0, v.Class(act="start", title="braise"))
        self.tell(1.0, v.Oven(oven="dome", fired=story.fired, **size))

    def tell(self, late_min: float, *facts: v.Fact) -> None:
        at = datetime.fromtimestamp(self.at_s + round(late_min) * 60, UTC)
        self.told.append(Told(f"m{len(self.told):03d}", at, "Idris", "", Heard(facts=facts, questions=())))

    def act(self, kind: str, **more: object) -> None:
        act = Act(self.at_s, kind, "dome", doubt=0.15, **more)  # type: ignore[arg-type]
        self.truth = kitchen.perform(self.truth, act, self.setting, self.loads)

    def run(self, minutes: float) -> None:
        """On by so many minutes; wind and seals wander as the forecaster does not know."""
        end = self.at_s + max(1, round(minutes)) * 60
        while self.at_s < end:
            stop = min(end, (self.at_s // 900 + 1) * 900)
            self.truth = kitchen.advance(self.truth, kitchen.boundaries(self.at_s, stop, STEP_S), watch=self._watch)
            self.at_s = stop
            theta = self.truth.theta.copy()
            theta[ROW["leak_w_k"]] += 0.06 * self.rng.standard_normal()
            theta[ROW["outer_w_m2k"]] += 0.04 * self.rng.standard_normal()
            self.truth = kitchen.renewed(self.truth, theta)

    def _watch(self, at_s: int, _state: oven.OvenState, now: pots.Cooking | None) -> None:
        if now is None:
            return
        if np.isinf(self.tender_s) and dish.tender(now.state, now.parameters)[0]:
            self.tender_s = at_s
        if dish.liquid_litres(now.state)[0] < 0.05:
            self.dry_at.append(at_s)

    @property
    def air_c(self) -> float:
        return float(oven.thermometer_k(self.truth.state, self.truth.numbers)[0] - 273.15)

    def read(self) -> None:
        """Thermometer, probe or both, with noise; now and then nothing."""
        rng, facts = self.rng, []
        if rng.uniform() < 0.8:
            heat = round(self.air_c + 1.5 * rng.standard_normal())
            self.air.append((self.at_s, float(heat)))
            facts.append(v.Reading(oven="dome", place="air", celsius=heat))
        if rng.uniform() < 0.6:
            probe = oven.probe_k(self.truth.state, self.truth.numbers, self.truth.built)[0] - 273.15
            facts.append(v.Reading(oven="dome", place="floor", tool="probe",
                                   celsius=round(float(probe) + 1.5 * rng.standard_normal())))
        if facts:
            self.tell(rng.uniform(0, 3), *facts)

    def feed(self, pieces: int, told: float) -> None:
        self.act("feed", pieces=float(pieces), state="small" if self.tended else "")
        if self.rng.uniform() < told:
            self.tell(self.rng.uniform(0, 4), v.Fire(oven="dome", act="fed", pieces=pieces))

    def fire(self) -> bool:
        """From cold to a settled oven; False if it is no oven to braise in."""
        rng = self.rng
        self.act("door", state="off")
        self.act("lit")
        self.tell(1.0, v.Fire(oven="dome", act="lit"))
        long_min = rng.uniform(50, 75) if self.tended else rng.uniform(140, 230)
        begun = self.at_s
        while self.at_s - begun < long_min * 60:
            self.run(rng.uniform(8, 14) if self.tended else rng.uniform(14, 24))
            self.feed(3, 0.5)
            if rng.uniform() < 0.3:
                self.read()
        self.run(15 if self.tended else 35)
        if self.tended:
            self.act("door", state="on")
            self.pieces = self._routine()
            self.tell(0.0, v.Door(oven="dome", state="on"),
                      v.Note(text=f"the dome gets {self.pieces} small splits every 30 minutes from now on"))
        else:
            self.act("raked")
            self.tell(1.0, v.Fire(oven="dome", act="raked"))
            self.run(10)
            self.act("door", state="on")
            self.tell(0.0, v.Door(oven="dome", state="on"))
        self.run(20 if self.tended else rng.uniform(35, 70))
        for _ in range(6):
            self.read()
            if self.air_c < 215:
                break
            self.run(25)
        return (130 if self.tended else 150) < self.air_c < 230

    def _routine(self) -> int:
        """Splits each half hour that hold this oven near 150: a yard knows its oven."""
        kept, at_s, found = self.truth, self.at_s, {}
        for pieces in range(1, 8):
            for _ in range(5):
                self.run(30)
                self.act("feed", pieces=float(pieces), state="small")
            found[pieces] = abs(self.air_c - 150.0)
            self.truth, self.at_s = kept, at_s
        return min(found, key=lambda pieces: found[pieces])

    def put_in(self) -> None:
        rng = self.rng
        cut = str(rng.choice(CUTS))
        load: dict[str, object] = {"cut": cut, "meat_kg": round(rng.uniform(1.5, 4.0), 1),
                                   "liquid_l": round(rng.uniform(0.5, 1.6), 1),
                                   "pan": str(rng.choice(["iron", "clay", "enamel", "steel"])),
                                   "start": str(rng.choice(["cold", "warm", "hot"]))}
        self.loads["meat"] = load
        self.cut = cut
        self.tell(-6.0, v.Load(dish="meat", **load))  # type: ignore[arg-type]
        self.act("door", state="off")
        self.run(3)
        said = Said(name="meat", **load)  # type: ignore[arg-type]
        one = dish.draw(rng, 1, said, float(rng.uniform(0, 600)), spread=WIDER)
        # A rate law of its own: another rise with heat, and a cut that is not the table's.
        one = replace(one, activation_j_mol=one.activation_j_mol * np.exp(0.10 * rng.standard_normal(1)),
                      rate_1_s=one.rate_1_s * np.exp(0.08 * rng.standard_normal(1)))
        begun = draw_state(rng, one, said, spread=WIDER)
        self.truth = replace(self.truth, shelf=pots.Shelf(("meat",), (0,), one, begun, None, (None,)))
        self.pot_in_s = self.at_s
        self.tell(0.0, v.Pot(dish="meat", oven="dome", act="in"))
        self.run(1)
        self.act("door", state="on")

    def look(self) -> None:
        """A look with the door off and, mostly, a word told of it."""
        rng = self.rng
        told = rng.uniform() < 0.8
        parameters, state = self.truth.shelf.parameters, self.truth.shelf.state
        assert parameters is not None
        assert state is not None
        seen = replace(state, progress=state.progress * np.exp(0.10 * self.bias[0] + 0.08 * rng.standard_normal()))
        warm = replace(parameters, boiling_k=parameters.boiling_k + 0.8 * self.bias[1])
        word = self._word(evidence.TENDER_WORDS, evidence.tender_word_chances(seen, parameters))
        check: dict[str, str] = {"tender": word}
        if rng.uniform() < 0.7:
            check["simmer"] = self._word(evidence.SIMMER_WORDS, evidence.simmer_word_chances(state, warm))
        if rng.uniform() < 0.4:
            check["liquid"] = self._word(evidence.LIQUID_WORDS, evidence.liquid_word_chances(state, parameters))
        core = float(dish.core_k(state, parameters)[0] - 273.15 + 1.5 * self.bias[2] + 2.5 * rng.standard_normal())
        self.act("door", state="off")
        self.act("uncover", dish="meat")
        self.run(3)
        low = float(dish.liquid_litres(state)[0]) < LOW_L_KG * float(parameters.meat_kg[0])
        if low:
            self.act("top_up", dish="meat", litres=FILL_L)
        self.act("cover", dish="meat")
        self.run(1)
        self.act("door", state="on")
        if low:
            self.tell(1.0, v.Pot(dish="meat", act="topped_up", litres=FILL_L))
        if told:
            facts: list[v.Fact] = [v.Check(dish="meat", **check)]  # type: ignore[arg-type]
            if rng.uniform() < 0.35:
                facts.append(v.Food(dish="meat", part="core", celsius=round(core)))
            self.tell(rng.uniform(0, 3), *facts)

    def _word(self, words: tuple[str, ...], chances: np.ndarray) -> str:
        shares = chances[0] * 0.97 + 0.03 / len(words)
        return str(self.rng.choice(words, p=shares / shares.sum()))

    def cook(self) -> Cook:
        """From pot in to tender, or to where nobody waits any more (tender_s is inf then)."""
        rng = self.rng
        look_s = self.at_s + rng.uniform(80, 130) * 60
        read_s = self.at_s + rng.uniform(10, 40) * 60
        feed_s = self.at_s + rng.uniform(5, 20) * 60 if self.tended else np.inf
        while np.isinf(self.tender_s):
            if self.at_s - self.pot_in_s > LAST_S:
                break
            coming = min(look_s, read_s, feed_s)
            self.run(max(1.0, (coming - self.at_s) / 60))
            if coming == look_s:
                self.look()
                look_s = self.at_s + rng.uniform(35, 75) * 60
            elif coming == feed_s:
                if rng.uniform() > 0.06:
                    self.feed(self.pieces, 0.5)
                feed_s += rng.uniform(24, 38) * 60
            else:
                self.read()
                read_s = self.at_s + rng.uniform(25, 60) * 60
        return Cook(self.told, self.pot_in_s, self.tender_s, self.dry_at, self.cut, self.tended, self.air)


def make(seed: int) -> Cook | None:
    day = Day(np.random.default_rng(seed))
    if not day.fire():
        return None
    day.put_in()
    return replace(day.cook(), number=seed)


def score(cook: Cook, seed: int, members: int, out: dict[str, list[tuple[float, ...]]], detail: bool) -> None:
    """Forecasts right after pot in and at parts of the way, against what came."""
    room = Kitchen(Setting(seed=seed, members=members))
    line = [f"{seed:4d} {'tended' if cook.tended else '':6s} {cook.cut:15s}",
            f"{(cook.tender_s - cook.pot_in_s) / 3600:4.1f} h"]
    soon = cook.tender_s - cook.pot_in_s < LAST_S
    for part in (0.02, *PARTS, *(-hours for hours in ASKED_H)):
        way_s = part * min(cook.tender_s - cook.pot_in_s, LAST_S) if part > 0 else -part * 3600
        now_s = cook.pot_in_s + way_s
        if now_s >= cook.tender_s:
            continue
        now = datetime.fromtimestamp(int(now_s) // 60 * 60 + 60, UTC)
        record = fold([told for told in cook.told if told.at <= now])
        view = View(record, now, room.believe(record.facts, now))
        heats = [heat for at_s, heat in cook.air if cook.pot_in_s - 1800 <= at_s <= now_s] or [150.0]
        thumb_s = cook.pot_in_s + thumb_h(cook.cut, float(np.mean(heats))) * 3600
        name = next(iter(record.dishes))
        found = promise(record.dishes[name], view, now)
        assert found is not None
        if part < 0:
            _asked(cook, name, view, now, thumb_s, out)
            continue
        low, mid, high = np.sort(found.tender_s)[np.round(np.array([0.05, 0.5, 0.95]) * (len(found.tender_s) - 1))
                                                 .astype(int)]
        # A dish that nobody waits for counts for the band and the odds, not for the error.
        off_min = (mid - cook.tender_s) / 60 if soon else np.nan
        held = float(low <= cook.tender_s <= high)
        out[f"tender {part}"].append((off_min, held, (high - low) / 60, (thumb_s - cook.tender_s) / 60,
                                      float(np.mean(found.tender_s <= cook.tender_s))))
        line.append(f"{(mid - cook.tender_s) / 60:+5.0f}{'' if low <= cook.tender_s <= high else '!'}"
                    f"({(high - low) / 60:3.0f})")
    if detail:
        print("  ".join(line), flush=True)


def _asked(cook: Cook, name: str, view: View, now: datetime, thumb_s: float,
           out: dict[str, list[tuple[float, ...]]]) -> None:
    """Meals round the usual time for the cut: the odds given and what came of them."""
    middle_s = cook.pot_in_s + thumb_h(cook.cut, 150.0) * 3600
    for shift in SERVES_MIN:
        by = datetime.fromtimestamp(middle_s, UTC) + timedelta(minutes=20 + shift)
        if by <= now:
            continue
        asked = promise(view.record.dishes[name], view, by)
        assert asked is not None
        out_s = by.timestamp() - 1200
        # What dried out before it was asked was filled since; what is tender is not left in to dry.
        dry = any(now.timestamp() < at_s <= cook.tender_s for at_s in cook.dry_at)
        made = float(cook.tender_s <= out_s and not dry)
        out["odds"].append((asked.share, made, float(thumb_s <= out_s), cook.number))
        out["tender alone"].append((float(np.mean(asked.tender_s <= out_s)), float(cook.tender_s <= out_s),
                                    float(thumb_s <= out_s), cook.number))


def report(out: dict[str, list[tuple[float, ...]]]) -> None:
    for part in (0.02, *PARTS):
        rows = np.array(out[f"tender {part}"])
        finite = np.isfinite(rows[:, 0])
        timed = ~np.isnan(rows[:, 0])
        print(f"tender from {part}: median |error| {np.median(np.abs(rows[timed, 0])):.0f} min (rule of thumb "
              f"{np.median(np.abs(rows[timed, 3])):.0f}), bias {np.median(rows[finite, 0]):+.0f}; p05-p95 holds "
              f"{rows[:, 1].mean():.2f}, width {np.median(rows[timed, 2]):.0f} min; rank of the truth in tenths "
              f"{np.histogram(rows[:, 4], np.linspace(0, 1, 11))[0]}")
    for title in ("odds", "tender alone"):
        _reliability(title, np.array(out[title]))
    lost = np.array(out["tender alone"])[:, :2].mean(axis=0) - np.array(out["odds"])[:, :2].mean(axis=0)
    print(f"tender and dry before: foreseen {lost[0]:.3f}, came {lost[1]:.3f}")


def _reliability(title: str, rows: np.ndarray) -> None:
    share, made, thumb, cook = rows.T
    print(f"{title}: {len(rows)} promises; Brier {np.mean((share - made) ** 2):.3f}, rule of thumb "
          f"{np.mean((thumb - made) ** 2):.3f}, always the same odds {made.mean() * (1 - made.mean()):.3f}")
    for low, high in ((0, 0.1), (0.1, 0.3), (0.3, 0.5), (0.5, 0.7), (0.7, 0.85), (0.85, 0.95), (0.95, 1.01)):
        mine = (share >= low) & (share < high)
        if mine.any():
            print(f"  said {share[mine].mean():.2f}: made {made[mine].mean():.2f} of {mine.sum()} "
                  f"(sampling error {_error(made[mine] - share[mine], cook[mine]):.2f})")


def _error(off: np.ndarray, cook: np.ndarray) -> float:
    """Standard error of the mean of `off`, whose values hang together within a cook (cluster-robust: Liang and Zeger
    1986, Biometrika 73:13)."""
    sums = [(off[cook == each] - off.mean()).sum() for each in np.unique(cook)]
    return float(np.sqrt(np.sum(np.square(sums))) / len(off))


np.seterr(invalid="ignore")


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--cooks", type=int, default=200)
    parser.add_argument("--seed", type=int, default=1000)
    parser.add_argument("--members", type=int, default=200)
    parser.add_argument("--detail", action="store_true")
    args = parser.parse_args()
    out: dict[str, list[tuple[float, ...]]] = defaultdict(list)
    begun, seed, done = time.perf_counter(), args.seed, 0
    while done < args.cooks:
        seed += 1
        cook = make(seed)
        if cook is None:
            continue
        score(cook, seed, args.members, out, args.detail)
        done += 1
    print(f"{done} cooks of {seed - args.seed} tried, {time.perf_counter() - begun:.0f} s")
    report(out)


if __name__ == "__main__":
    main()
