"""A raked oven before its first pot: how far its spots are apart, when it has settled, and at what air it lands.

The models follow skin and depth; how far one spot is hotter than another they do not hold. That is taken from the
spots that were shot, and dies away as people see it do.
"""
from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta

import numpy as np

from skills.kitchen.seeds import generator
from skills.record import OvenRecord
from skills.view import View
from skills.vocabulary import Reading
from skills.wording import Floats, capital, clock, heat_range, moment, quantile, time_range, to_five

# Settled: spots, ceiling and floor agree within about this [K]. A lidded pot boils hard in air over AIR_C; a floor over
# TRIVET_C wants a trivet or tile, and over FLOOR_C time (common practice, no source) [degC].
AGREE_K, AIR_C, TRIVET_C, FLOOR_C = 20.0, 205.0, 200.0, 215.0
# Cool is about 90, very slow 120 (trade words of a general encyclopaedia): under this no pot comes to a simmer [degC].
COOL_C = 100.0
# Half an hour with the door on at the least (an old manual of village bakeries).
LEAST = timedelta(minutes=30)
# In so long the spots of a shut oven come half as close, and how much that differs between ovens [log] (judgement,
# held against settling in 30 to 60 min).
HALVED_S, HALVED_SPREAD = 900.0, 0.4
# Spots shot within this time are one round of the oven, and tell of it for so long.
ROUND, TELLS = timedelta(minutes=6), timedelta(minutes=30)
AGAIN = timedelta(minutes=20)
# A pot is waited for in an oven that was raked no longer ago than this.
LATELY = timedelta(hours=4)


@dataclass(frozen=True)
class Settling:
    """One oven on its way. apart_k: between the spots of the last round (None: none was shot); ready_s (members,):
    when it has settled [epoch s], inf if not within sight; air_c, floor_c (members,): where it lands [degC];
    cool_s: when the air is as likely as not under AIR_C [epoch s]; awaited: a dish is known that has not been in."""
    oven: str
    now: datetime
    apart_k: float | None
    ready_s: Floats
    air_c: Floats
    floor_c: Floats
    cool_s: float
    awaited: bool = True

    @property
    def ready(self) -> datetime | None:
        """When a pot may as well go in as not; None: not within the hours that can be seen."""
        middle = quantile(self.ready_s, 0.5)
        return moment(middle, self.now.tzinfo) if np.isfinite(middle) else None

    @property
    def settled(self) -> bool:
        return self.ready is not None and self.ready <= self.now + timedelta(minutes=5)

    def lines(self) -> tuple[str, ...]:
        """How it stands, and when the pot may go in."""
        name = capital(self.oven)
        air = heat_range(self.air_c)
        if self.ready is None:
            return (f"{name}: I do not see it settle in the hours ahead. Air at the door, and two spots?",)
        if float(np.median(self.air_c)) < COOL_C:
            return (f"{name}: it lands near {air.removeprefix('about ')}: too cool for a pot. Fire it again.",)
        floor_c = float(np.median(self.floor_c))
        how = ", on a trivet" if floor_c > TRIVET_C else ""
        if float(np.median(self.air_c)) > AIR_C:
            under = f" {clock(to_five(moment(self.cool_s, self.now.tzinfo)))}" if np.isfinite(self.cool_s) else "wards"
            how += f"; hot for a lidded pot, under {AIR_C:.0f} after{under}"
        elif floor_c > FLOOR_C:
            how += f", once the floor is under {FLOOR_C:.0f}"
        goes_in = "Pot in" if self.awaited else "Ready for a pot"
        if self.settled:
            return (f"{name} settled by my figures: air {air}. Shoot two spots to be sure.", f"{goes_in} now{how}.")
        apart = f"spots {self.apart_k:.0f} apart" if self.apart_k is not None and self.apart_k > AGREE_K else \
            "skin still hotter than the depth"
        look = to_five(min(self.now + AGAIN, max(self.ready, self.now + AGAIN / 2)))
        return (f"{name}: {apart}, still settling. Door stays on; shoot back and floor again at {clock(look)}.",
                f"{goes_in} {time_range(self.ready_s, self.now)}, air near {air.removeprefix('about ')}{how}.")


def waits_for_a_pot(oven: OvenRecord, view: View) -> bool:
    """Whether an oven was raked and nothing has gone into it since."""
    if oven.raked_at is None or oven.burning or view.now - oven.raked_at > LATELY:
        return False
    raked = oven.raked_at
    return not any(dish.oven == oven.name or (dish.in_at is not None and dish.in_at >= raked and dish.oven is None)
                   for dish in view.record.dishes.values())


def spots_apart_k(oven: str, view: View) -> tuple[float, datetime] | None:
    """How far the spots of the last round were apart [K], and when; None: no two were shot lately."""
    shot = [dated for dated in view.record.facts if dated.oven == oven and isinstance(dated.fact, Reading)
            and dated.fact.celsius is not None and dated.fact.tool == "infrared" and view.now - dated.at <= TELLS]
    last = [dated for dated in shot if shot[-1].at - dated.at <= ROUND]
    heats = [dated.fact.celsius for dated in last if isinstance(dated.fact, Reading) and dated.fact.celsius is not None]
    return (max(heats) - min(heats), shot[-1].at) if len(heats) > 1 else None


def settling(oven: OvenRecord, view: View) -> Settling | None:
    """How a raked oven settles; None if the models do not follow it."""
    forecast = view.forecast()
    if forecast is None or oven.name not in forecast.ovens:
        return None
    believed = forecast.ovens[oven.name]
    right = (np.abs(believed.dome_c - believed.surface_c) <= AGREE_K) & (
        np.abs(believed.floor_c - believed.surface_c) <= AGREE_K)
    found = right.any(axis=0)
    step = np.where(found, right.argmax(axis=0), len(forecast.at_s) - 1)
    ready_s = np.where(found, forecast.at_s[step], np.inf)
    if oven.raked_at is not None:
        ready_s = np.maximum(ready_s, (oven.raked_at + LEAST).timestamp())
    spots = spots_apart_k(oven.name, view)
    if spots is not None and spots[0] > AGREE_K:
        apart_k, at = spots
        rng = generator(view.setting.seed, "settling", oven.name)
        halved_s = HALVED_S * np.exp(HALVED_SPREAD * rng.standard_normal(len(ready_s)))
        ready_s = np.maximum(ready_s, at.timestamp() + halved_s * np.log2(apart_k / AGREE_K))
    step = np.clip(np.searchsorted(forecast.at_s, ready_s), 0, len(forecast.at_s) - 1)
    members = np.arange(len(step))
    cool = np.flatnonzero(np.median(believed.air_c, axis=1) <= AIR_C)
    return Settling(oven.name, view.now, None if spots is None else spots[0], ready_s,
                    believed.air_c[step, members], believed.surface_c[step, members],
                    float(forecast.at_s[cool[0]]) if len(cool) else np.inf,
                    any(dish.in_at is None and not dish.served for dish in view.record.dishes.values()))


def settling_lines(oven: OvenRecord, view: View) -> tuple[str, ...]:
    """What is said of an oven that was raked and has no pot yet; nothing of any other."""
    found = settling(oven, view) if waits_for_a_pot(oven, view) else None
    return found.lines() if found is not None else ()
