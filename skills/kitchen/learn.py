"""What a reading, a core temperature or a fork teaches: the ensemble after one piece of evidence."""
from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace

import numpy as np
from numpy.typing import NDArray

from skills import vocabulary as v
from skills.dish import evidence
from skills.dish import model as dish
from skills.kitchen import instruments, misfit, personal, pots
from skills.kitchen.acts import Act
from skills.kitchen.ensemble import Ensemble, renewed
from skills.kitchen.instruments import Doubt
from skills.kitchen.update import Scalar, assimilate
from skills.oven import model as oven
from skills.oven.parameters import HIGHEST, LOWEST
from skills.physics.constants import ZERO_CELSIUS_K

Array = NDArray[np.float64]

CONFIRM_S = 1800        # a second reading this soon that agrees with a doubted one is believed
CONFIRM_K = 8.0
# Later ones that are off by as much on the same side tell of an oven that nobody foresaw, and not of slips (judgement).
ALIKE_S, ALIKE_SHARE = 3 * 3600, 0.35
OVER_BOIL_K = 1.0       # wet food gets no hotter than it boils; the needle makes up this much
HOTTEST_C = 550.0       # ovens are fired no hotter (heat reference 9); more is a slip
# What a confirmed odd reading overruled is kept beside it for so long. It wins by two later readings at different times
# that it foresaw, with odds of 10 to 1; one reading counts no further than the last figure (judgement).
RIVAL_S, FORESEEN, WINS, ONE_MOST = 2 * 3600, 2.0, 2.3, 3.0
SURPRISING, STEPS = 1.5, 4   # deviations beyond which a reading is taken in steps, and how many
WIDEN = 2.5             # how much wider the members become when they were wrong


@dataclass(frozen=True)
class Waiting:
    """A doubted reading that a second one may yet confirm. away_k: it less what was expected."""
    at_s: int
    oven: str
    place: str
    tool: str | None
    celsius: float
    away_k: float


@dataclass(frozen=True)
class Learnt:
    """The ensemble after evidence, the doubts so far, and what each person's own way of reading is believed to be."""
    ensemble: Ensemble
    doubts: tuple[Doubt, ...] = ()
    waiting: tuple[Waiting, ...] = ()
    own: Mapping[personal.Whose, Array] = field(default_factory=dict)
    used: tuple[personal.Used, ...] = ()
    rival: Rival | None = None

    def changed(self, change: Callable[[Ensemble], Ensemble]) -> Learnt:
        """The same after something happened in the ovens."""
        rival = None if self.rival is None else replace(self.rival, learnt=self.rival.learnt.changed(change))
        return replace(self, ensemble=change(self.ensemble), rival=rival)


@dataclass(frozen=True)
class Rival:
    """What is believed if a reading that was doubted and confirmed is wrong after all: people say "yes" to a slip.

    foreseen_s: when the readings came that it foresaw; odds: logarithm of how much better it foresaw all of them.
    """
    learnt: Learnt
    oven: str
    begun_s: int
    foreseen_s: tuple[int, ...] = ()
    odds: float = 0.0


def learn(before: Learnt, act: Act, seed: int, first_sight: bool = False) -> Learnt:
    """Take one measurement (a reading, a core or liquor temperature, a check) into the ensemble.

    first_sight: nobody could foresee how hot that oven is, so that a reading is no slip for being unforeseen.
    """
    after = _taken(before, act, seed, first_sight)
    return after if before.rival is None else _weighed(before.rival, before, after, act, seed)


def _weighed(rival: Rival, before: Learnt, after: Learnt, act: Act, seed: int) -> Learnt:
    """What is believed after a measurement that two beliefs foresaw, one of them maybe better."""
    other = _taken(rival.learnt, act, seed, False)
    if act.at_s - rival.begun_s > RIVAL_S or other.rival is not None:
        return replace(after, rival=None)
    dated = act.fact
    assert dated is not None
    if isinstance(dated.fact, v.Reading) and act.oven == rival.oven and instruments.kind_of(dated.fact) is None:
        index = before.ensemble.names.index(rival.oven)
        held, kept = (instruments.reading_scalar(each.ensemble, index, dated.fact) for each in (before, rival.learnt))
        if held is not None and kept is not None:
            gain = float(np.clip(kept.log_density - held.log_density, -ONE_MOST, ONE_MOST))
            foreseen = (*rival.foreseen_s, act.at_s) if abs(kept.score) < FORESEEN else rival.foreseen_s
            rival = replace(rival, foreseen_s=foreseen, odds=rival.odds + gain)
    if rival.odds > WINS and len(set(rival.foreseen_s)) > 1:
        found = tuple(each if each in before.doubts else replace(each, found_by=dated.message)
                      for each in other.doubts)
        return replace(other, doubts=found)
    return replace(after, rival=None if rival.odds < -WINS else replace(rival, learnt=other))


def _taken(before: Learnt, act: Act, seed: int, first_sight: bool) -> Learnt:
    dated = act.fact
    assert dated is not None
    fact = dated.fact
    ensemble = before.ensemble
    if isinstance(fact, v.Reading):
        if act.oven not in ensemble.names:
            return before
        index = ensemble.names.index(act.oven)
        kind, place = instruments.kind_of(fact), fact.place or "air"
        whose = None if kind is None else (kind, dated.who)
        own = None
        if whose is not None:
            own = before.own[whose] if whose in before.own else personal.drawn(whose, seed, ensemble.members)
        scalar = instruments.reading_scalar(ensemble, index, fact, 0.0 if own is None else own)
        if scalar is None:
            return before
        if instruments.implausible(scalar, dated.mended):
            mark = Waiting(act.at_s, act.oven, place, fact.tool, scalar.value, _away_k(scalar))
            if not (first_sight and scalar.value < HOTTEST_C):
                doubt = instruments.doubt(dated.message, dated.index, act.oven, place, scalar)
                without = replace(before, doubts=(*before.doubts, doubt), waiting=(*before.waiting, mark))
                if not any(_agrees(each, mark) for each in before.waiting):
                    return without
                before = replace(before, rival=Rival(replace(without, rival=None), act.oven, act.at_s))
            # Twice the same, or a fire that nobody told of: it is the members that are wrong. They are spread out so
            # far that they can follow.
            ensemble = _widened(ensemble, index)
            wide = instruments.reading_scalar(ensemble, index, fact, 0.0 if own is None else own)
            scalar = wide if wide is not None else scalar
            away = abs(scalar.value - float(scalar.predicted.mean()))
            need = max(scalar.sd, 0.5 * away)
            scalar = Scalar(scalar.predicted, scalar.value, min(need, 3.0 * scalar.sd))
        if own is None or whose is None:
            if fact.tool in (None, "probe"):
                ensemble = misfit.seen(ensemble, index, place, scalar.score)
            return replace(before, ensemble=_followed(ensemble, index, fact, scalar))
        used = personal.counted(before.used, personal.Used(*whose, act.oven, place, 1))
        moved = _moved(ensemble, index, None, scalar)
        return replace(before, ensemble=moved, own={**before.own, whose: assimilate(own[None], scalar)[0]}, used=used)
    if act.dish not in ensemble.shelf.names:
        return before
    place_in = ensemble.shelf.names.index(act.dish)
    out = ensemble.shelf.ovens[place_in] is None
    outside = out and act.dish not in ensemble.shelf.ringed
    if out:
        ensemble = replace(ensemble, shelf=pots.cooled(ensemble.shelf, place_in, ensemble.members, act.at_s))
    for scalar in _dish_scalars(ensemble, place_in, fact):
        if isinstance(fact, v.Food):
            part = fact.part or "core"
            mark = Waiting(act.at_s, act.dish, part, None, scalar.value, _away_k(scalar))
            odd = instruments.implausible(scalar, dated.mended)
            never = fact.odd or scalar.value > _boiling_c(ensemble, place_in) + OVER_BOIL_K
            if odd and outside and not never:
                # On a ring or in a hot cupboard it was, and nobody said so: the reading is its heat.
                ensemble = _warmed(ensemble, place_in, scalar.value - float(scalar.predicted.mean()))
                continue
            if never or (odd and not any(_agrees(each, mark) for each in before.waiting)):
                doubt = instruments.doubt(dated.message, dated.index, act.dish, part, scalar)
                return replace(before, doubts=(*before.doubts, doubt), waiting=(*before.waiting, mark))
            if odd:
                rows = _dish_rows(ensemble, place_in)
                mean = rows.mean(axis=1, keepdims=True)
                ensemble = _with_dish_rows(ensemble, place_in, mean + WIDEN * (rows - mean))
                scalar = _dish_scalars(ensemble, place_in, fact)[0]
        ensemble = _moved(ensemble, ensemble.shelf.ovens[place_in], place_in, scalar, isinstance(fact, v.Check))
    return replace(before, ensemble=ensemble)


def _warmed(ensemble: Ensemble, index: int, more_k: float) -> Ensemble:
    """The ensemble with one dish so much hotter or colder all through, no hotter than it boils."""
    shelf, members = ensemble.shelf, ensemble.members
    assert shelf.parameters is not None
    assert shelf.state is not None
    lanes = shelf.lanes(index, members)
    top_k = dish.take(shelf.parameters, lanes).boiling_k
    state = dish.take(shelf.state, lanes)
    state = replace(state, meat_k=np.clip(state.meat_k + more_k, ZERO_CELSIUS_K, top_k[:, None]),
                    liquid_k=np.clip(state.liquid_k + more_k, ZERO_CELSIUS_K, top_k),
                    pot_k=np.clip(state.pot_k + more_k, ZERO_CELSIUS_K, top_k))
    return replace(ensemble, shelf=pots.with_state(shelf, index, members, state))


def _boiling_c(ensemble: Ensemble, index: int) -> float:
    """Where the liquor of a dish boils in the middle member [degC]."""
    parameters = ensemble.shelf.parameters
    assert parameters is not None
    return float(np.median(parameters.boiling_k[ensemble.shelf.lanes(index, ensemble.members)])) - ZERO_CELSIUS_K


def _agrees(early: Waiting, late: Waiting) -> bool:
    if early.oven != late.oven or early.place != late.place:
        return False
    apart_s = late.at_s - early.at_s
    if apart_s <= CONFIRM_S and abs(early.celsius - late.celsius) <= CONFIRM_K:
        return True
    return 0 < apart_s <= ALIKE_S and abs(late.away_k - early.away_k) <= ALIKE_SHARE * abs(early.away_k)


def _away_k(scalar: Scalar) -> float:
    return scalar.value - float(scalar.predicted.mean())


def _widened(ensemble: Ensemble, index: int) -> Ensemble:
    rows = _oven_rows(ensemble, index)
    mean = rows.mean(axis=1, keepdims=True)
    return _with_oven_rows(ensemble, index, mean + WIDEN * (rows - mean))


def _followed(ensemble: Ensemble, index: int, fact: v.Reading, scalar: Scalar) -> Ensemble:
    """The update of a fixed instrument's reading, the surprising one in steps with what is expected worked out anew.

    Far from what was expected the way there is not straight. Steps of one reading with its variance times their number
    amount to one update where it is. Source: Emerick and Reynolds 2013, Computers and Geosciences 55, eq. 8 to 10.
    """
    steps = STEPS if abs(scalar.score) > SURPRISING else 1
    sd = scalar.sd * steps ** 0.5
    for step in range(steps):
        again = instruments.reading_scalar(ensemble, index, fact) if step else scalar
        assert again is not None
        ensemble = _moved(ensemble, index, None, Scalar(again.predicted, again.value, sd))
    return ensemble


def _moved(ensemble: Ensemble, index: int | None, dish_index: int | None, scalar: Scalar,
           within: bool = False) -> Ensemble:
    """Update an oven with all dishes in it, or a dish that stands outside alone.

    within: no further than the members reach already. A word is no number: "tender" of what all members have long
    tender, some of them boiled dry at 800 degC, would take the rest along a straight line down to freezing.
    """
    blocks: list[Array] = []
    dishes = [] if index is None else [each for each, place in enumerate(ensemble.shelf.ovens) if place == index]
    if index is None and dish_index is not None:
        dishes = [dish_index]
    if index is not None:
        blocks.append(_oven_rows(ensemble, index))
    blocks += [_dish_rows(ensemble, each) for each in dishes]
    before = np.concatenate(blocks)
    rows = assimilate(before, scalar)
    if within:
        rows = np.clip(rows, before.min(axis=1, keepdims=True), before.max(axis=1, keepdims=True))
    at = 0
    if index is not None:
        count = blocks[0].shape[0]
        ensemble = _with_oven_rows(ensemble, index, rows[:count])
        at = count
    for each in dishes:
        count = len(dish.PARAMETER_NAMES) + len(dish.STATE_NAMES)
        ensemble = _with_dish_rows(ensemble, each, rows[at:at + count])
        at += count
    return ensemble


def _oven_rows(ensemble: Ensemble, index: int) -> Array:
    """All that an oven reading may move (unknowns, members)."""
    lanes = ensemble.lanes(index)
    state = ensemble.state
    count = ensemble.oven_lanes
    columns = state.temp_k.reshape(oven.CELLS, oven.COLUMNS, count)[:, :, lanes].reshape(-1, ensemble.members)
    return np.concatenate([
        ensemble.theta[:, lanes], columns, state.face_k[:, lanes], state.air_k[None, lanes], state.star_k[None, lanes],
        state.hang_k[None, lanes], state.fresh_j[None, lanes] / 1e6, state.flame_j[None, lanes] / 1e6,
        state.ember_j[None, lanes] / 1e6])


def _with_oven_rows(ensemble: Ensemble, index: int, rows: Array) -> Ensemble:
    lanes = ensemble.lanes(index)
    state = ensemble.state
    count, params = ensemble.oven_lanes, ensemble.theta.shape[0]
    theta = ensemble.theta.copy()
    theta[:, lanes] = np.clip(rows[:params], LOWEST[:, None], HIGHEST[:, None])
    at = params + oven.CELLS * oven.COLUMNS
    temp = state.temp_k.reshape(oven.CELLS, oven.COLUMNS, count).copy()
    temp[:, :, lanes] = np.clip(rows[params:at], 240.0, 1300.0).reshape(oven.CELLS, oven.COLUMNS, ensemble.members)
    rest = rows[at:]
    face, air, star, hang = state.face_k.copy(), state.air_k.copy(), state.star_k.copy(), state.hang_k.copy()
    fire = [state.fresh_j.copy(), state.flame_j.copy(), state.ember_j.copy()]
    face[:, lanes] = np.clip(rest[:3], 240.0, 1300.0)
    air[lanes], star[lanes], hang[lanes] = np.clip(rest[3:6], 240.0, 1300.0)
    for heat, row in zip(fire, rest[6:9], strict=True):
        heat[lanes] = np.where(heat[lanes] > 0.0, np.maximum(row, 0.0) * 1e6, 0.0)
    moved = replace(state, temp_k=temp.reshape(oven.CELLS, -1), face_k=face, air_k=air, star_k=star, hang_k=hang,
                    fresh_j=fire[0], flame_j=fire[1], ember_j=fire[2])
    return renewed(replace(ensemble, state=moved), theta)


def _dish_rows(ensemble: Ensemble, index: int) -> Array:
    shelf = ensemble.shelf
    assert shelf.parameters is not None
    assert shelf.state is not None
    lanes = shelf.lanes(index, ensemble.members)
    parameters, state = dish.take(shelf.parameters, lanes), dish.take(shelf.state, lanes)
    return np.concatenate([dish.parameter_vector(parameters), dish.state_vector(state)], axis=1).T


def _with_dish_rows(ensemble: Ensemble, index: int, rows: Array) -> Ensemble:
    shelf = ensemble.shelf
    assert shelf.parameters is not None
    assert shelf.state is not None
    lanes = shelf.lanes(index, ensemble.members)
    count = len(dish.PARAMETER_NAMES)
    parameters = dish.with_vector(dish.take(shelf.parameters, lanes), np.ascontiguousarray(rows[:count].T))
    state = dish.with_state_vector(dish.take(shelf.state, lanes), np.ascontiguousarray(rows[count:].T), parameters)
    shelf = pots.with_parameters(shelf, index, ensemble.members, parameters)
    return replace(ensemble, shelf=pots.with_state(shelf, index, ensemble.members, state))


def _dish_scalars(ensemble: Ensemble, index: int, fact: v.Fact) -> list[Scalar]:
    """A core or liquor temperature as a number; a check as the number that its odds amount to."""
    shelf = ensemble.shelf
    assert shelf.parameters is not None
    assert shelf.state is not None
    lanes = shelf.lanes(index, ensemble.members)
    parameters, state = dish.take(shelf.parameters, lanes), dish.take(shelf.state, lanes)
    if isinstance(fact, v.Food):
        if fact.part == "liquid":
            value, sd = evidence.liquid_observation(state)
        else:
            value, sd = evidence.core_observation(state, parameters)
        return [Scalar(value - ZERO_CELSIUS_K, float(fact.celsius), float(np.mean(sd)))]
    if not isinstance(fact, v.Check):
        return []
    scalars = []
    if fact.tender is not None:
        weight = evidence.check_log_likelihood(state, parameters, tender=fact.tender)
        scalars.append(equivalent(np.log(state.progress.mean(axis=1) + 0.01), weight))
    if fact.simmer is not None:
        weight = evidence.check_log_likelihood(state, parameters, simmer=fact.simmer)
        scalars.append(equivalent(state.liquid_k, weight))
        if fact.simmer != "none" and fact.liquid is None:
            scalars.append(equivalent(state.liquid_kg, evidence.seen_wet_log_likelihood(state)))
    if fact.liquid is not None:
        weight = evidence.check_log_likelihood(state, parameters, liquid=fact.liquid)
        scalars.append(equivalent(state.liquid_kg, weight))
    return [scalar for scalar in scalars if scalar is not None]


def equivalent(score: Array, log_likelihood: Array) -> Scalar | None:
    """The reading of `score` whose update gives the mean and variance that the likelihood weights give.

    None if the words leave the members as they are.
    """
    weight = np.exp(log_likelihood - log_likelihood.max())
    weight /= weight.sum()
    old_mean, old = float(score.mean()), float(score.var(ddof=1))
    if old <= 1e-12:
        return None
    mean = float(weight @ score)
    new = float(weight @ (score - mean) ** 2)
    new = float(np.clip(new, 0.05 * old, 0.97 * old))
    if abs(mean - old_mean) < 0.02 * np.sqrt(old) and new > 0.95 * old:
        return None
    noise = 1.0 / (1.0 / new - 1.0 / old)
    return Scalar(score, mean + noise * (mean - old_mean) / old, float(np.sqrt(noise)))
