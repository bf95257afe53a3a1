"""What the kitchen holds at one moment, for skills to look at."""
from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from skills.dated import Dated
from skills.dish import model as dish
from skills.dish.cuts import cut_of
from skills.dish.finishes import Slowing, slowings
from skills.dish.prior import Said
from skills.kitchen import character, pots
from skills.kitchen import forecast as forecasting
from skills.kitchen.acts import Act, Timeline, timeline
from skills.kitchen.ensemble import Ensemble, open_share, perform, thinned
from skills.kitchen.forecast import Forecast
from skills.kitchen.instruments import Doubt
from skills.kitchen.pots import said
from skills.kitchen.resting import TakeOut, take_out
from skills.kitchen.ring import on_ring
from skills.kitchen.routine import Routine
from skills.kitchen.setting import CutProfile, OvenProfile, Seen, Setting
from skills.kitchen.spell import spell_s
from skills.oven import model as oven
from skills.oven.budget import Budget, budget
from skills.oven.parameters import NAMES
from skills.physics.constants import ZERO_CELSIUS_K

Array = NDArray[np.float64]


@dataclass(frozen=True)
class OvenBelief:
    """One oven now; each (members,) [degC]: thermometer, floor probe, dome face, floor surface."""
    name: str
    air_c: Array
    floor_c: Array
    dome_c: Array
    surface_c: Array
    door: str
    burning: bool

    def quantile(self, place: str, share: float) -> float:
        """A quantile of "air", "floor", "dome" or "surface" now [degC]."""
        return float(np.quantile(getattr(self, f"{place}_c"), share))


@dataclass(frozen=True)
class DishBelief:
    """One dish now. oven: where it stands, None when out; tender (members,): whether it is; the rest (members,).

    left_...: as it came out of its oven, whatever was measured since; while it is in one, as it stands now.
    """
    name: str
    oven: str | None
    treated_as: str
    tender: NDArray[np.bool_]
    liquid_l: Array
    core_c: Array
    liquor_c: Array
    left_core_c: Array
    left_liquor_c: Array

    @property
    def tender_share(self) -> float:
        """Share of the members that have it tender [-]."""
        return float(self.tender.mean())


class Belief:
    """Ovens and dishes at `now`, the readings that were doubted, and what is to come."""

    def __init__(self, now: datetime, setting: Setting, ensemble: Ensemble | None, doubted: Sequence[Doubt],
                 story: Timeline, facts: tuple[Dated, ...],
                 offsets: Mapping[tuple[str, str], tuple[float, float, int]] | None = None) -> None:
        self.now = now
        self.doubted = tuple(doubted)
        self._setting, self._ensemble, self._story, self._facts = setting, ensemble, story, facts
        self._made: dict[tuple[float, bool, bool], Forecast] = {}
        self._offsets = offsets or {}
        self._seen: dict[str, tuple[Seen, ...]] = {}
        self._rests: dict[str, TakeOut | None] = {}

    @cached_property
    def ovens(self) -> Mapping[str, OvenBelief]:
        ensemble = self._ensemble
        if ensemble is None:
            return {}
        state = ensemble.state
        air = oven.thermometer_k(state, ensemble.numbers) - ZERO_CELSIUS_K
        floor = oven.probe_k(state, ensemble.numbers, ensemble.built) - ZERO_CELSIUS_K
        return {name: OvenBelief(name, air[lanes], floor[lanes], state.face_k[2][lanes] - ZERO_CELSIUS_K,
                                 state.face_k[0][lanes] - ZERO_CELSIUS_K, ensemble.door[index],
                                 bool((state.flame_j[lanes] + state.fresh_j[lanes] > 2e5).mean() > 0.5))
                for index, name in enumerate(ensemble.names) for lanes in (ensemble.lanes(index),)}

    @cached_property
    def dishes(self) -> Mapping[str, DishBelief]:
        found: dict[str, DishBelief] = {}
        if self._ensemble is None:
            return found
        shelf = self._ensemble.shelf
        for index, name in enumerate(shelf.names):
            lanes = shelf.lanes(index, self._ensemble.members)
            assert shelf.state is not None
            left = shelf.as_left.get(name) or dish.take(shelf.state, lanes)
            shelf = pots.cooled(shelf, index, self._ensemble.members, self._ensemble.at_s)
            assert shelf.parameters is not None
            assert shelf.state is not None
            parameters, state = dish.take(shelf.parameters, lanes), dish.take(shelf.state, lanes)
            place = shelf.ovens[index]
            found[name] = DishBelief(
                name, None if place is None else self._ensemble.names[place],
                dish.treated_as(_said(name, self._story)), dish.tender(state, parameters),
                dish.liquid_litres(state, parameters), dish.core_k(state, parameters) - ZERO_CELSIUS_K,
                state.liquid_k - ZERO_CELSIUS_K, dish.core_k(left, parameters) - ZERO_CELSIUS_K,
                left.liquid_k - ZERO_CELSIUS_K)
        return found

    @property
    def standing(self) -> Ensemble | None:
        """The members as they stand now, for whoever runs them on another way (the plan); None: no oven is known."""
        return self._ensemble

    def stored_j(self, name: str) -> Array | None:
        """Heat in the masonry of one oven now, above 20 degC (members,) [J]; None if the oven is not known."""
        ensemble = self._ensemble
        if ensemble is None or name not in ensemble.names:
            return None
        found: Array = oven.stored_j(ensemble.state, ensemble.built, ensemble.numbers)
        return found[ensemble.lanes(ensemble.names.index(name))]

    def budget(self, name: str) -> Budget | None:
        """Where the heat of one oven goes now; None if the oven is not known."""
        ensemble = self._ensemble
        if ensemble is None or name not in ensemble.names:
            return None
        return budget(ensemble.state, ensemble.numbers, ensemble.built, open_share(ensemble),
                      ensemble.lanes(ensemble.names.index(name)))

    def forecast(self, hours: float = 8.0, acts: Sequence[Dated] = (), feeding: bool = True,
                 untouched: bool = False) -> Forecast:
        """What is to come in the next `hours`; acts: what-ifs; feeding False: nobody adds wood from now.

        untouched: nobody is there to look or to take out what is done. Dishes that are not done by then are followed
        on for when they are tender, but not where nobody feeds: that is asked for the heats alone.
        """
        key = (hours, feeding, untouched)
        if not acts and key in self._made:
            return self._made[key]
        if self._ensemble is None:
            return forecasting.nothing(self.now, hours)
        now_s = self._ensemble.at_s
        until_s = now_s + int(hours * 3600)
        known = timeline(self._facts, now_s)
        coming = timeline([*self._facts, *acts], now_s if not feeding else until_s, until_s if feeding else now_s)
        done = set(known.acts)
        todo = [act for act in coming.acts if act.at_s > now_s or (act not in done and act.at_s >= now_s - 60)]
        made = forecasting.run(self._ensemble, self._setting, hours, todo, coming, untouched, slow=feeding)
        made = self._with_rings(self._ensemble, made, hours, todo)
        if not acts:
            self._made[key] = made
        return made

    def _with_rings(self, ensemble: Ensemble, made: Forecast, hours: float, todo: Sequence[Act]) -> Forecast:
        """The forecast with the dishes that are on a ring, or are put on one by what is only thought of."""
        for act in (each for each in todo if each.kind == "ring"):
            ensemble = perform(ensemble, act, self._setting, self._story.loads)
        names = [name for name in ensemble.shelf.names if name in ensemble.shelf.ringed and name not in made.dishes]
        if not names:
            return made
        few = thinned(ensemble, self._setting.foreseeing)
        rings = {name: on_ring(few, name, hours).dishes[name] for name in names}
        return replace(made, dishes={**made.dishes, **rings})

    def offsets(self) -> Mapping[tuple[str, str], tuple[float, float, int]]:
        """How far each person's instrument reads from a true one, once they have used it in this class.

        {(kind, person): (mean, deviation, readings)}. kind "infrared": [K], below zero for a gun that reads low,
        whether by the gun or the way it is held, beyond the usual cooler spot on the floor; "hand": logarithm of the
        person's count over the usual one (0.7: counts twice as fast).
        """
        return self._offsets

    def seen(self, name: str) -> tuple[Seen, ...]:
        """How fast an oven lost its heat in each class, this one last; empty if it is not known."""
        ensemble = self._ensemble
        if ensemble is None or name not in ensemble.names:
            return ()
        if name not in self._seen:
            before = self._setting.ovens.get(name)
            now = character.seen(ensemble.theta[:, ensemble.lanes(ensemble.names.index(name))],
                                 min(dated.at for dated in self._facts).date().isoformat())
            self._seen[name] = (*(() if before is None else before.seen), now)
        return self._seen[name]

    def on_ring(self, name: str, hours: float = 8.0) -> Forecast:
        """What is to come if a dish is finished on a ring from now; nothing of a dish that is not known."""
        if self._ensemble is None or name not in self._ensemble.shelf.names:
            return forecasting.nothing(self.now, hours)
        return on_ring(self._ensemble, name, hours, lid_on=True)

    def take_out(self, name: str) -> TakeOut | None:
        """When to take a joint out so that it rests up to its heat; None if it is in no oven."""
        if self._ensemble is None:
            return None
        if name not in self._rests:
            self._rests[name] = take_out(self._ensemble, name, self.forecast())
        return self._rests[name]

    def spell_s(self, name: str, oven_name: str) -> Array | None:
        """How long a thing that bakes in minutes would lie in that oven from now (members,) [s]; None: not known."""
        ensemble = self._ensemble
        if ensemble is None or oven_name not in ensemble.names:
            return None
        return spell_s(ensemble, ensemble.names.index(oven_name), _said(name, self._story), self._setting.seed)

    def routine(self, name: str) -> Routine | None:
        """The feeding that was said of an oven."""
        story = self._story.ovens.get(name)
        return story.routine[1] if story is not None and story.routine is not None else None

    def slowings(self, name: str) -> tuple[Slowing, ...]:
        """What in the water of a dish the models have taken to change its rate."""
        load = _said(name, self._story)
        return slowings(cut_of(load)[0].finish, load.contents)

    def profiles(self) -> tuple[dict[str, OvenProfile], dict[str, CutProfile]]:
        """What this class taught of its ovens and cuts, for the next one."""
        ensemble = self._ensemble
        ovens: dict[str, OvenProfile] = {}
        cuts: dict[str, CutProfile] = {}
        if ensemble is None:
            return ovens, cuts
        for index, name in enumerate(ensemble.names):
            rows = ensemble.theta[:, ensemble.lanes(index)]
            before = self._setting.ovens.get(name)
            covariance = np.cov(rows)
            ovens[name] = OvenProfile(
                name=name, classes=1 if before is None else before.classes + 1, unknowns=NAMES,
                mean=tuple(float(each) for each in rows.mean(axis=1)),
                covariance=tuple(tuple(float(each) for each in row) for row in covariance), seen=self.seen(name),
                misfit=tuple((float(count), float(squares)) for count, squares in ensemble.misfit[index]),
                fired=self._story.ovens[name].kept_as or (before.fired if before is not None else None))
        shelf = ensemble.shelf
        for index, name in enumerate(shelf.names):
            assert shelf.parameters is not None
            cut = dish.treated_as(_said(name, self._story))
            rate = np.log(dish.take(shelf.parameters, shelf.lanes(index, ensemble.members)).rate_1_s)
            usual = dish.draw(np.random.default_rng(0), 1, _said(name, self._story), spread=0.0)
            learnt = self._setting.cuts.get(cut)
            cuts[cut] = CutProfile(
                name=cut, classes=1 if learnt is None else learnt.classes + 1, unknowns=("log_rate",),
                # The animal of the day is not the next one: half of what was seen belongs to the cut (judgement).
                mean=(0.5 * float(rate.mean() - np.log(usual.rate_1_s[0])),), sd=(max(float(rate.std()), 0.15),))
        return ovens, cuts


def _said(name: str, story: Timeline) -> Said:
    return said(name, story.loads.get(name, {}))
