"""All ovens and dishes of a class, as many members of each, run forward along the timeline.

Arrays are never changed in place, so that a snapshot is only a reference. An oven's lanes are
[oven * members, (oven + 1) * members).
"""
from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Protocol

import numpy as np
from numpy.typing import NDArray

from skills import vocabulary as v
from skills.dish import model as dish
from skills.dish.prior import CutProfile as CutPrior
from skills.kitchen import pots
from skills.kitchen.acts import Act, OvenStory
from skills.kitchen.seeds import balanced_normals, generator
from skills.kitchen.setting import OvenProfile, Setting
from skills.oven import model as oven
from skills.oven.parameters import NAMES, ROW, OvenNumbers, prior
from skills.oven.yard import FAIR, Yard
from skills.physics.combustion import heating_value_mj_kg

Array = NDArray[np.float64]

STEP_S = 300
NOISE_S = 1800
USUAL_MOISTURE_PCT = 17.0          # air-dry split wood 15 to 20 % wet basis (heat reference 8)
TAKEN_OUT = 0.4                    # "fire's out": chance that something burning was taken out too (judgement)
KINDLING_PIECES = 3.2              # the first charge in splits (judgement)

# How far the unknowns wander in half an hour: wind, seals, sun, a pot pushed aside (transformed values).
WANDER: Mapping[str, float] = {
    "leak_w_k": 0.05, "inner_w_m2k": 0.03, "ambient_k": 0.3, "outer_w_m2k": 0.03, "insulation_k_w_mk": 0.02,
    "underlay_k_w_mk": 0.03, "probe_patch": 0.10, "hang_bias_k": 0.4, "hang_w_m2k": 0.02, "door_w_m2k": 0.04,
    "wood": 0.02, "probe_bias_k": 0.7}


@dataclass(frozen=True)
class Ensemble:
    """Everything that the members hold at one time. door: state of each oven's door.

    misfit (ovens, 2, 2): of air and floor, how many innovations there were and the sum of their squares (misfit.py).
    """
    at_s: int
    names: tuple[str, ...]
    members: int
    theta: Array
    numbers: OvenNumbers
    built: oven.Built
    probe_m: Array
    state: oven.OvenState
    door: tuple[str, ...]
    shelf: pots.Shelf
    owed_j: Array
    misfit: Array
    yard: Yard = FAIR

    def lanes(self, index: int) -> slice:
        return slice(index * self.members, (index + 1) * self.members)

    @property
    def oven_lanes(self) -> int:
        return len(self.names) * self.members


def assemble(setting: Setting, stories: Mapping[str, OvenStory], at_s: int) -> Ensemble:
    """The prior ensemble of all ovens that the class has."""
    members = setting.members
    blocks, depths = [], []
    misfit = np.zeros((len(stories), 2, 2))
    for place, (name, story) in enumerate(stories.items()):
        words = story.words()
        mean, sd = prior(words)
        normals = balanced_normals(generator(setting.seed, "oven", name), len(NAMES), members)
        profile = setting.ovens.get(name)
        if profile is not None and profile.usable():
            blocks.append(_from_profile(profile, mean, sd, normals))
            misfit[place] = REMEMBERED * np.array(profile.misfit)
        else:
            blocks.append(mean[:, None] + sd[:, None] * normals)
        depths.append(np.full(members, np.nan if words.probe_m is None else words.probe_m))
    theta = np.concatenate(blocks, axis=1)
    probe_m = np.concatenate(depths)
    numbers = OvenNumbers(theta)
    return Ensemble(at_s, tuple(stories), members, theta, numbers, oven.build(numbers, probe_m), probe_m,
                    oven.start(numbers), ("on",) * len(stories), pots.Shelf(), np.zeros(len(stories) * members), misfit)


# What belongs to the day and not to the oven: it starts each class from the common prior.
OF_THE_DAY = ("ambient_k", "start_k", "moisture", "wood", "piece_kg")


# How far an unknown changes from class to class, as a share of its prior spread: masonry little; air, fire and the
# hands that tend it much. Tried on simulated ovens of three classes each (judgement otherwise).
OF_AIR_AND_HANDS = frozenset((
    "leak_w_k", "inner_w_m2k", "outer_w_m2k", "ajar", "catch_s", "flame_s", "ember_s", "flame_to_dome",
    "flame_to_floor", "ember_to_floor", "ember_to_dome", "draught_kg_kg", "rake_left", "small_kg", "lateral",
    "gun_floor_k", "gun_dome_k", "probe_patch"))
CHANGES = np.array([0.6 if name in OF_AIR_AND_HANDS else 0.2 for name in NAMES])


REMEMBERED = 0.5        # share of the misfit of earlier classes that counts in the next one (judgement)


def _from_profile(profile: OvenProfile, mean: Array, sd: Array, normals: Array) -> Array:
    """Draws for a new class from what the last one taught; the day's unknowns are new.

    What a class finds is the oven's own value and that day's departure from it, independent and normal: prior spread
    sd, of which CHANGES times sd is the day's. The next class starts from the oven's value given what was found.
    """
    stays = 1.0 - CHANGES**2
    taught = mean + stays * (np.array(profile.mean) - mean)
    fresh = (1.0 + stays) * (CHANGES * sd) ** 2
    covariance = stays[:, None] * np.array(profile.covariance) * stays + np.diag(fresh)
    for name in OF_THE_DAY:
        row = ROW[name]
        taught[row] = mean[row]
        covariance[row, :] = 0.0
        covariance[:, row] = 0.0
        covariance[row, row] = sd[row] ** 2
    drawn: Array = taught[:, None] + np.linalg.cholesky(covariance + 1e-12 * np.eye(len(mean))) @ normals
    return drawn


def renewed(ensemble: Ensemble, theta: Array) -> Ensemble:
    """The ensemble with other unknowns, and all that follows from them under the weather of the hour."""
    numbers = ensemble.yard.over(OvenNumbers(theta))
    return replace(ensemble, theta=theta, numbers=numbers, built=oven.build(numbers, ensemble.probe_m))


def boundaries(from_s: int, to_s: int, stride_s: int = STEP_S) -> list[int]:
    """Ends of the steps from one time to another, on the absolute grid of stride_s."""
    marks = list(range((from_s // stride_s + 1) * stride_s, to_s, stride_s))
    return [*marks, to_s] if to_s > from_s else []


def open_share(ensemble: Ensemble) -> Array:
    """How open each lane's mouth is [-]."""
    parts = []
    for index, state in enumerate(ensemble.door):
        if state == "ajar":
            parts.append(ensemble.numbers["ajar"][ensemble.lanes(index)])
        else:
            parts.append(np.full(ensemble.members, 1.0 if state == "off" else 0.0))
    return np.concatenate(parts)


Watch = Callable[[int, oven.OvenState, pots.Cooking | None], None]


class Course(Protocol):
    """What people do in each lane without saying it (skills/kitchen/habits.py)."""

    def open_share(self, shut: Array, from_s: int, end_s: int) -> Array: ...
    def bare(self, from_s: int, end_s: int) -> Array | None: ...
    def pots_in(self, end_s: int) -> Array | None: ...
    def fire(self, state: oven.OvenState, from_s: int, end_s: int) -> oven.OvenState: ...


def advance(ensemble: Ensemble, ends_s: Sequence[int], course: Course | None = None, watch: Watch | None = None,
            enough: Callable[[], bool] | None = None) -> Ensemble:
    """Run all lanes through steps that end at ends_s, or until there is enough; watch sees each step's end."""
    if not ends_s:
        return ensemble
    state, owed_j = ensemble.state, ensemble.owed_j
    shut = open_share(ensemble)
    now = pots.cooking(ensemble.shelf, state, ensemble.numbers, ensemble.members)
    at_s = ensemble.at_s
    for end_s in ends_s:
        dt_s = float(end_s - at_s)
        opened, stay = shut, None
        if course is not None:
            opened, stay = course.open_share(shut, at_s, end_s), course.pots_in(end_s)
            state = course.fire(state, at_s, end_s)
        load = None
        if now is not None and stay is not None and not stay[now.lanes].any():
            # The last pot has left the last lane: nothing of the dishes is to be followed any more.
            ensemble, now = replace(ensemble, shelf=pots.put_back(ensemble.shelf, now, ensemble.members)), None
        if now is not None:
            load, owed_j = pots.load_on(now, owed_j, ensemble.members, ensemble.oven_lanes, dt_s, stay)
        state, reckoned_w = oven.step(state, ensemble.numbers, ensemble.built, oven.Inputs(opened, load), dt_s)
        if now is not None:
            bare = None if course is None else course.bare(at_s, end_s)
            now, more_j = pots.step(now, state, ensemble.numbers, reckoned_w, ensemble.members, dt_s, bare)
            owed_j = owed_j + (more_j if stay is None else more_j * stay)
        at_s = end_s
        if watch is not None:
            watch(at_s, state, now)
        if enough is not None and enough():
            break
    shelf = ensemble.shelf if now is None else pots.put_back(ensemble.shelf, now, ensemble.members)
    return replace(ensemble, at_s=at_s, state=state, shelf=shelf, owed_j=owed_j)


def thinned(ensemble: Ensemble, members: int) -> Ensemble:
    """The ensemble with at most so many members, evenly picked; they are exchangeable."""
    if members >= ensemble.members:
        return ensemble
    fewer = picked(ensemble, np.arange(members) * ensemble.members // members)
    return replace(fewer, shelf=replace(fewer.shelf, heat=None))


def picked(ensemble: Ensemble, pick: NDArray[np.intp]) -> Ensemble:
    """The ensemble with these members only."""
    lanes = np.concatenate([index * ensemble.members + pick for index in range(len(ensemble.names))])
    columns = np.concatenate([column * ensemble.oven_lanes + lanes for column in range(oven.COLUMNS)])
    state, shelf = ensemble.state, ensemble.shelf
    fewer = oven.OvenState(
        state.temp_k[:, columns], state.water[:, columns], state.face_k[:, lanes], state.air_k[lanes],
        state.star_k[lanes], state.hang_k[lanes], state.fresh_j[lanes], state.flame_j[lanes], state.ember_j[lanes],
        state.spread[lanes], state.ledger_j[lanes])
    if shelf.parameters is not None and shelf.state is not None:
        cooks = np.concatenate([index * ensemble.members + pick for index in range(len(shelf.names))])
        heat = shelf.heat
        if heat is not None:
            heat = dish.take(heat, np.concatenate([place * ensemble.members + pick
                                                   for place in range(len(heat.air_w) // ensemble.members)]))
        shelf = replace(shelf, parameters=dish.take(shelf.parameters, cooks), state=dish.take(shelf.state, cooks),
                        heat=heat, as_left={name: dish.take(each, pick) for name, each in shelf.as_left.items()})
    return renewed(replace(ensemble, members=len(pick), probe_m=ensemble.probe_m[lanes], state=fewer, shelf=shelf,
                           owed_j=ensemble.owed_j[lanes]), ensemble.theta[:, lanes])


def wander(ensemble: Ensemble, setting: Setting) -> Ensemble:
    """The slow changes that no model sees, at one mark of the half-hour grid."""
    theta = ensemble.theta.copy()
    for index, name in enumerate(ensemble.names):
        rng = generator(setting.seed, "wander", name, ensemble.at_s)
        theta[np.array([ROW[each] for each in WANDER]), ensemble.lanes(index)] += (
            np.array(list(WANDER.values()))[:, None] * rng.standard_normal((len(WANDER), ensemble.members)))
    return renewed(ensemble, theta)


def wood_j(ensemble: Ensemble, act: Act, index: int, seed: int) -> Array:
    """Heat of one feed in each member (members,) [J]."""
    lanes = ensemble.lanes(index)
    numbers = ensemble.numbers
    if act.kg is not None:
        kg = np.full(ensemble.members, act.kg)
    elif act.state == "small":
        kg = (act.pieces or 1.0) * numbers["small_kg"][lanes]
    elif act.kind == "lit":
        kg = KINDLING_PIECES * numbers["piece_kg"][lanes]
    else:
        kg = (3.0 if act.pieces is None else act.pieces) * numbers["piece_kg"][lanes]
    rng = generator(seed, "wood", act.oven, act.at_s, act.kind)
    kg = kg * np.exp(act.doubt * rng.standard_normal(ensemble.members))
    kg = kg * (rng.uniform(size=ensemble.members) >= act.missed)
    if act.doubled:
        kg = kg * (1.0 + (rng.uniform(size=ensemble.members) < act.doubled))
    wet_pct = USUAL_MOISTURE_PCT if act.wet_pct is None else min(act.wet_pct, 60.0)
    heat: Array = kg * float(heating_value_mj_kg(wet_pct)) * 1e6 * numbers["wood"][lanes]
    return heat


def perform(ensemble: Ensemble, act: Act, setting: Setting, loads: Mapping[str, Mapping[str, object]]) -> Ensemble:
    """The ensemble right after an act."""
    index = ensemble.names.index(act.oven) if act.oven in ensemble.names else None
    if act.kind in ("cover", "uncover") and act.dish is not None:
        return replace(ensemble, shelf=pots.uncover(ensemble.shelf, act.dish, act.kind == "uncover"))
    if act.kind in ("top_up", "lid") and act.dish in ensemble.shelf.names:
        return _handle(ensemble, act)
    if act.kind == "weather" and act.fact is not None and isinstance(act.fact.fact, v.Weather):
        told = act.fact.fact
        return renewed(replace(ensemble, yard=ensemble.yard.told(act.warmer_k, told.sky, told.wind)), ensemble.theta)
    if act.kind == "ring" and act.dish is not None:
        shelf = pots.ring(ensemble.shelf, act.dish, act.state == "on", ensemble.members, act.at_s)
        return replace(ensemble, shelf=shelf)
    if index is None:
        return ensemble
    lanes = ensemble.lanes(index)
    state = ensemble.state
    if act.kind in ("lit", "feed"):
        fresh = state.fresh_j.copy()
        fresh[lanes] += wood_j(ensemble, act, index, setting.seed)
        return replace(ensemble, state=replace(state, fresh_j=fresh))
    if act.kind == "spread":
        spread = state.spread.copy()
        spread[lanes] = 1.0
        return replace(ensemble, state=replace(state, spread=spread))
    if act.kind in ("raked", "fire_out"):
        fresh, flame, ember = state.fresh_j.copy(), state.flame_j.copy(), state.ember_j.copy()
        spread = state.spread.copy()
        keep = ensemble.numbers["rake_left"][lanes]
        if act.kind == "fire_out":
            # Mostly it is only fed no more; now and then what burns is taken out (judgement).
            rng = generator(setting.seed, "out", act.oven, act.at_s)
            taken = rng.uniform(size=ensemble.members) < TAKEN_OUT
            keep = np.where(taken, rng.uniform(0.1, 0.9, ensemble.members), 1.0)
        for heat in (fresh, flame, ember):
            heat[lanes] *= keep
        spread[lanes] = 0.0
        return replace(ensemble, state=replace(state, fresh_j=fresh, flame_j=flame, ember_j=ember, spread=spread))
    if act.kind == "door":
        return replace(ensemble, door=(*ensemble.door[:index], act.state, *ensemble.door[index + 1:]))
    if act.kind == "pot_in" and act.dish is not None:
        load = loads.get(act.dish, {})
        shelf = pots.put_in(ensemble.shelf, act.dish, index, load, ensemble.members, setting.seed, setting.altitude_m,
                            cut_prior(setting, act.dish, load), ensemble.numbers["ambient_k"][lanes], act.at_s)
        return replace(ensemble, shelf=shelf)
    if act.kind == "pot_out" and act.dish is not None:
        return replace(ensemble, shelf=pots.take_out(ensemble.shelf, act.dish, ensemble.members, act.at_s))
    return ensemble


def cut_prior(setting: Setting, name: str, load: Mapping[str, object]) -> CutPrior | None:
    """What earlier classes taught of this cut."""
    profile = setting.cuts.get(dish.treated_as(pots.said(name, load)))
    if profile is None or profile.unknowns != ("log_rate",):
        return None
    return CutPrior(profile.mean[0], profile.sd[0])


def _handle(ensemble: Ensemble, act: Act) -> Ensemble:
    """A pot topped up, its lid taken off or put on."""
    members = ensemble.members
    assert act.dish is not None
    index = ensemble.shelf.names.index(act.dish)
    shelf = pots.cooled(ensemble.shelf, index, members, act.at_s)
    assert shelf.state is not None
    assert shelf.parameters is not None
    lanes = shelf.lanes(index, members)
    if act.kind == "lid":
        changed = dish.with_lid(dish.take(shelf.parameters, lanes), act.state == "on")
        return replace(ensemble, shelf=pots.with_parameters(shelf, index, members, changed))
    # Cooks top up with hot liquid (common practice, no source).
    state = dish.top_up(dish.take(shelf.state, lanes), act.litres, 353.15)
    return replace(ensemble, shelf=pots.with_state(shelf, index, members, state))


def marks_between(from_s: int, to_s: int, stride_s: int = NOISE_S) -> Sequence[int]:
    """Marks of the absolute grid after from_s, up to and with to_s."""
    return range((from_s // stride_s + 1) * stride_s, to_s + 1, stride_s)
