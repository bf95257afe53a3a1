"""One firing and one pot in many lanes at once: when each lane is lit, fed, raked, shut, and looked into.

The lanes run through the oven and dish models that everything else uses (skills/kitchen/ensemble.py); this file only
says what people do in each. Every lane keeps its own times, so that a fire can be as long as that member's oven asks
for while all pots go in at the same step.
"""
from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field, fields, replace

import numpy as np
from numpy.typing import NDArray

from skills.dish import model as dish
from skills.kitchen import ensemble as kitchen
from skills.kitchen import pots
from skills.kitchen.ensemble import KINDLING_PIECES, USUAL_MOISTURE_PCT, Ensemble
from skills.kitchen.pots import LID_S
from skills.kitchen.setting import Setting
from skills.oven.model import COLUMNS, OvenState
from skills.physics.combustion import heating_value_mj_kg
from skills.physics.constants import ZERO_CELSIUS_K

Array = NDArray[np.float64]

STEP_S = 600
FEED_EVERY_S = 1200            # five splits every twenty minutes, 5 to 6 kg an hour in a 90 cm oven: firings of
FEED_PIECES = 5.0              # village ovens take 8 to 10, a small dome 3 (heat reference 8)
# A fire for what is done beside the flame: embers all over the floor, and feeds that give a light oven 4 to 5 kg an
# hour (3 to 5 kg to its cooking heat, owner's figure) and a 90 cm one 9 to 10 (heat reference 8).
BRISK = 1.75
LAST_FEED_S = 2400             # nothing new goes on in the last forty minutes: embers, not logs, are raked out
RAKE_S = 1200                  # rake, brush, damp mop, door on (job: 15 min; whole steps)
SETTLE_S = 3000                # door on, until skin and depth agree (30 to 60 min in diaries and an old bakery manual)
TENDED_WARM_S = 3600           # a light oven cooks 45 to 60 min after lighting (owner's figure)
TENDED_EVERY_S = 1800
TENDED_SHARE = 0.5             # its full feeds beside those of a firing (judgement)
LOOK_S = 240.0
TOP_UP_UNDER_L, TOP_UP_L, TOP_UP_K = 0.35, 0.30, 358.15   # a low pot is topped up with hot liquid at a look


@dataclass
class Firing:
    """What is done in each lane (lanes,), epoch seconds; inf: never. fire_kg: weight of one full feed at the usual
    moisture; small_kg: of a small feed of a tended oven while it cooks (0: stored heat).

    begin_s: the lane stands still in its first state until then.
    """
    begin_s: Array
    lit_s: Array
    raked_s: Array
    shut_s: Array
    fire_kg: Array
    small_kg: Array
    heat_j_kg: Array
    rake_left: Array
    looks_s: Sequence[float] = ()
    lit_already: bool = False      # then lit_s is the time of the last feed
    spread: bool = False           # embers lie all over the floor while it burns
    first: OvenState | None = None
    kg: Array = field(default_factory=lambda: np.zeros(0))

    def open_share(self, shut: Array, from_s: int, end_s: int) -> Array:
        """The mouth is open from lighting until the door goes on, and for a few minutes at each look."""
        span = float(end_s - from_s)
        fire = np.clip(np.minimum(self.shut_s, end_s) - np.maximum(self.lit_s, from_s), 0.0, span) / span
        looked = sum(max(0.0, min(at + LOOK_S, end_s) - max(at, from_s)) for at in self.looks_s) / span
        opened: Array = np.clip(np.maximum(np.maximum(shut, fire), looked), 0.0, 1.0)
        return opened

    def bare(self, from_s: int, end_s: int) -> Array | None:
        span = float(end_s - from_s)
        looked = sum(max(0.0, min(at + LID_S, end_s) - max(at, from_s)) for at in self.looks_s) / span
        return np.full(len(self.lit_s), min(looked, 1.0)) if looked > 0.0 else None

    def pots_in(self, end_s: int) -> Array | None:
        """Every pot stays in: the plan asks when it is done, not when it is taken out."""
        del end_s
        return None

    def fire(self, state: OvenState, from_s: int, end_s: int) -> OvenState:
        """Wood that goes on, and embers that come out, at the start of a step."""
        if self.first is not None and (self.begin_s >= from_s).any():
            state = _held(state, self.first, self.begin_s >= from_s)
        charge = np.where(from_s >= self.begin_s, self._charge_kg(from_s, end_s), 0.0)
        if charge.any():
            self.kg = charge if not self.kg.size else self.kg + charge
            state = replace(state, fresh_j=state.fresh_j + charge * self.heat_j_kg)
            if self.spread:
                state = replace(state, spread=np.ones_like(state.spread))
        rake = (self.raked_s >= from_s) & (self.raked_s < end_s)
        if rake.any():
            keep = np.where(rake, self.rake_left, 1.0)
            state = replace(state, fresh_j=state.fresh_j * keep, flame_j=state.flame_j * keep,
                            ember_j=state.ember_j * keep)
        return state

    def _charge_kg(self, from_s: int, end_s: int) -> Array:
        first = 0.0 if self.lit_already else (self.lit_s >= from_s) & (self.lit_s < end_s)
        fed = (from_s > self.lit_s) & (from_s <= np.minimum(self.raked_s, self.shut_s) - LAST_FEED_S)
        full = np.where(fed, _turns(self.lit_s, from_s, end_s, FEED_EVERY_S), 0.0)
        small = np.zeros_like(full)
        if self.small_kg.any():
            small = np.where(from_s >= self.shut_s, _turns(self.shut_s, from_s, end_s, TENDED_EVERY_S), 0.0)
        kindling = self.fire_kg * (KINDLING_PIECES / FEED_PIECES)
        charge: Array = first * kindling + full * self.fire_kg + small * self.small_kg
        return charge


def _turns(first_s: Array, from_s: int, end_s: int, every_s: float) -> Array:
    """How many of the marks first_s, first_s + every_s, ... fall into [from_s, end_s)."""
    first_s = np.where(np.isfinite(first_s), first_s, 0.0)
    turns: Array = np.ceil((end_s - first_s) / every_s) - np.ceil((from_s - first_s) / every_s)
    return turns


def _held(state: OvenState, first: OvenState, held: NDArray[np.bool_]) -> OvenState:
    """Lanes that have not begun keep their first state."""
    wide = np.tile(held, COLUMNS)
    kept = {each.name: np.where(wide if getattr(state, each.name).shape[-1] == len(wide) else held,
                                getattr(first, each.name), getattr(state, each.name)) for each in fields(OvenState)}
    return OvenState(**kept)


def piece_kg(ensemble: Ensemble) -> float:
    """What a split of this oven's firing wood weighs, the middle of what is believed [kg] at the usual moisture."""
    return float(np.median(ensemble.numbers["piece_kg"]))


def warming_kg(ensemble: Ensemble) -> float:
    """The wood that brings a light oven to cooking heat [kg] at the usual moisture."""
    feeds = np.floor(TENDED_WARM_S / FEED_EVERY_S) - 1.0
    return float((KINDLING_PIECES + FEED_PIECES * feeds) * TENDED_SHARE * piece_kg(ensemble))


def heat_j_kg(ensemble: Ensemble) -> Array:
    """Heat of a kilogram of wood at the usual moisture in each lane [J/kg]."""
    heat: Array = float(heating_value_mj_kg(USUAL_MOISTURE_PCT)) * 1e6 * ensemble.numbers["wood"]
    return heat


def tiled(ensemble: Ensemble, oven: str, copies: int) -> Ensemble:
    """So many copies of one oven's members, side by side, with nothing in them and the door shut."""
    index = ensemble.names.index(oven)
    lanes = np.tile(np.arange(ensemble.members) + index * ensemble.members, copies)
    columns = np.concatenate([column * ensemble.oven_lanes + lanes for column in range(COLUMNS)])
    picked = {each.name: getattr(ensemble.state, each.name) for each in fields(OvenState)}
    wide = COLUMNS * ensemble.oven_lanes
    state = OvenState(**{name: value[..., columns if value.shape[-1] == wide else lanes]
                         for name, value in picked.items()})
    return kitchen.renewed(
        replace(ensemble, names=tuple(str(each) for each in range(copies)), probe_m=ensemble.probe_m[lanes],
                state=state, door=("on",) * copies, shelf=pots.Shelf(), owed_j=np.zeros(copies * ensemble.members)),
        ensemble.theta[:, lanes])


@dataclass(frozen=True)
class Food:
    """A dish as it goes in, drawn for the members of one oven."""
    parameters: dish.DishParameters
    state: dish.DishState


def food(ensemble: Ensemble, setting: Setting, name: str, load: dict[str, object]) -> Food:
    """The dish of that name and load, as the kitchen would draw it when it goes in."""
    shelf = pots.put_in(pots.Shelf(), name, 0, load, ensemble.members, setting.seed, setting.altitude_m,
                        kitchen.cut_prior(setting, name, load), ensemble.numbers["ambient_k"][: ensemble.members], 0)
    assert shelf.parameters is not None
    assert shelf.state is not None
    return Food(shelf.parameters, shelf.state)


def put_in(ensemble: Ensemble, name: str, cooked: Food, copies: Sequence[int]) -> Ensemble:
    """The same dish into each of some copies of the oven."""
    shelf = ensemble.shelf
    parameters = [cooked.parameters] * len(copies)
    states = [cooked.state] * len(copies)
    if shelf.parameters is not None and shelf.state is not None:
        parameters, states = [shelf.parameters, *parameters], [shelf.state, *states]
    names = tuple(f"{name}/{each}" for each in copies)
    return replace(ensemble, shelf=pots.Shelf(
        (*shelf.names, *names), (*shelf.ovens, *copies), dish.stack(parameters), dish.stack(states), None,
        (*shelf.left_s, *(None,) * len(copies)), shelf.bare))


@dataclass
class Watch:
    """Air, floor and dome at every step, and when each pot is done; (dishes * members,) as the shelf has them."""
    ensemble: Ensemble
    at_s: list[int] = field(default_factory=list)
    heats_c: list[Array] = field(default_factory=list)        # (3, lanes): thermometer, floor surface, dome face
    done_s: Array = field(default_factory=lambda: np.zeros(0))
    _last: tuple[int, Array] | None = None

    def __call__(self, at_s: int, state: OvenState, now: pots.Cooking | None) -> None:
        self.at_s.append(at_s)
        self.heats_c.append(np.stack([state.hang_k, state.face_k[0], state.face_k[2]]) - ZERO_CELSIUS_K)
        if now is None:
            return
        share = dish.tender_fraction(now.state, now.parameters)
        if len(self.done_s) != len(share):
            self.done_s = np.where(share >= dish.TENDER_SHARE, float(at_s), np.inf)
        elif self._last is not None:
            last_s, last = self._last
            part = np.clip((dish.TENDER_SHARE - last) / np.maximum(share - last, 1e-9), 0.0, 1.0)
            new = (share >= dish.TENDER_SHARE) & ~np.isfinite(self.done_s)
            self.done_s = np.where(new, last_s + part * (at_s - last_s), self.done_s)
        self._last = (at_s, share)

    def restart(self, done_s: Array) -> None:
        """Another pot has gone in: done_s (dishes * members,) as known so far, inf for the new one."""
        self.done_s, self._last = done_s, None

    def heat_c(self, place: str, at_s: float) -> Array:
        """Heat of a place at the step nearest to a time (lanes,) [degC]."""
        step = int(np.argmin(np.abs(np.array(self.at_s) - at_s)))
        found: Array = self.heats_c[step][{"air": 0, "floor": 1, "dome": 2}[place]]
        return found


def run(ensemble: Ensemble, course: Firing, until_s: int, watch: Callable[..., None],
        stride_s: int = STEP_S) -> Ensemble:
    """All lanes on to a time."""
    return kitchen.advance(ensemble, kitchen.boundaries(ensemble.at_s, until_s, stride_s), course, watch)


def topped_up(ensemble: Ensemble) -> Ensemble:
    """Every pot that a look finds low is topped up."""
    shelf = ensemble.shelf
    if shelf.state is None or shelf.parameters is None:
        return ensemble
    low = (dish.liquid_litres(shelf.state) < TOP_UP_UNDER_L) & (shelf.parameters.liquid_start_kg > 0.2)
    if not low.any():
        return ensemble
    fuller = dish.top_up(shelf.state, TOP_UP_L, TOP_UP_K)
    state = replace(shelf.state, **{name: np.where(low, getattr(fuller, name), getattr(shelf.state, name))
                                    for name in ("liquid_k", "liquid_kg", "heat_in_j")})
    return replace(ensemble, shelf=replace(shelf, state=state, heat=None))
