"""The dishes of the ensemble: their lanes, where each stands, and the heat between them and the ovens."""
from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace

import numpy as np
from numpy.typing import NDArray

from skills.dish import model as dish
from skills.dish.prior import CutProfile, Said, draw_state
from skills.kitchen import flame
from skills.kitchen.seeds import generator
from skills.oven.model import PATCH_M2, OvenState, Pots
from skills.oven.parameters import OvenNumbers
from skills.physics.water import boiling_k, pressure_at_altitude_pa

Array = NDArray[np.float64]

PAY_BACK_S = 600.0      # how fast the difference between reckoned and taken heat is settled with the oven
LID_S = 180.0           # a lid is off for so long to look (simulated classes)
# Of the contact with an oven's floor (60 W/m2/K), a wooden board of 3 cm (0.15 W/m/K, table of EN 12524) has so much.
BOARD_SHARE = 0.08
ROOM_K = 291.15         # kitchen air around a pot that is out of the oven


@dataclass(frozen=True)
class Shelf:
    """All dishes that were ever in an oven: names and ovens (index, None: out of it) in order of coming; parameters,
    state and last heat are (dishes * members,).

    as_left: each dish as it came out of its oven, whatever was measured since. ringed: those on a ring since.
    """
    names: tuple[str, ...] = ()
    ovens: tuple[int | None, ...] = ()
    parameters: dish.DishParameters | None = None
    state: dish.DishState | None = None
    heat: dish.Heat | None = None
    left_s: tuple[int | None, ...] = ()
    bare: frozenset[str] = frozenset()       # dishes that someone looks into
    as_left: Mapping[str, dish.DishState] = field(default_factory=dict)
    ringed: frozenset[str] = frozenset()

    def lanes(self, index: int, members: int) -> slice:
        return slice(index * members, (index + 1) * members)


def said(name: str, load: Mapping[str, object]) -> Said:
    """The load as the dish model takes it."""
    return Said(name=name, **load)  # type: ignore[arg-type]


def put_in(shelf: Shelf, name: str, oven: int, load: Mapping[str, object], members: int, seed: int,
           altitude_m: float | None, profile: CutProfile | None, room_k: Array, at_s: int) -> Shelf:
    """The shelf with a dish in an oven; a dish that was out of one has cooled, or gone on on its ring."""
    if name in shelf.names:
        index = shelf.names.index(name)
        shelf = cooled(shelf, index, members, at_s)
        ovens = (*shelf.ovens[:index], oven, *shelf.ovens[index + 1:])
        return replace(shelf, ovens=ovens, left_s=(*shelf.left_s[:index], None, *shelf.left_s[index + 1:]), heat=None,
                       ringed=shelf.ringed - {name},
                       as_left={each: state for each, state in shelf.as_left.items() if each != name})
    words = said(name, load)
    rng = generator(seed, "dish", name)
    parameters = dish.draw(rng, members, words, altitude_m, profile)
    if altitude_m is None:
        pressure = pressure_at_altitude_pa(rng.uniform(0.0, 600.0, members))
        salt = parameters.boiling_k - boiling_k(parameters.pressure_pa)
        parameters = replace(parameters, pressure_pa=pressure, boiling_k=boiling_k(pressure) + salt)
    state = draw_state(rng, parameters, words, float(room_k.mean()))
    parts = (parameters, state)
    if shelf.parameters is not None and shelf.state is not None:
        parts = (dish.stack([shelf.parameters, parameters]), dish.stack([shelf.state, state]))
    return Shelf((*shelf.names, name), (*shelf.ovens, oven), *parts, None, (*shelf.left_s, None), shelf.bare,
                 shelf.as_left, shelf.ringed)


def uncover(shelf: Shelf, name: str, bare: bool) -> Shelf:
    """Someone lifts the lid to look, or puts it back."""
    return replace(shelf, bare=shelf.bare | {name} if bare else shelf.bare - {name})


def take_out(shelf: Shelf, name: str, members: int, at_s: int) -> Shelf:
    if name not in shelf.names:
        return shelf
    index = shelf.names.index(name)
    as_left = shelf.as_left
    if shelf.ovens[index] is not None and shelf.state is not None:
        as_left = {**as_left, name: dish.take(shelf.state, shelf.lanes(index, members))}
    return replace(shelf, ovens=(*shelf.ovens[:index], None, *shelf.ovens[index + 1:]),
                   left_s=(*shelf.left_s[:index], at_s, *shelf.left_s[index + 1:]),
                   as_left=as_left)


def ring(shelf: Shelf, name: str, on: bool, members: int, at_s: int) -> Shelf:
    """A dish goes onto a ring, out of its oven if it stands in one, or off it."""
    if name not in shelf.names:
        return shelf
    index = shelf.names.index(name)
    if shelf.ovens[index] is not None:
        return replace(take_out(shelf, name, members, at_s), ringed=shelf.ringed | {name}) if on else shelf
    shelf = cooled(shelf, index, members, at_s)
    return replace(shelf, ringed=shelf.ringed | {name} if on else shelf.ringed - {name})


def cooled(shelf: Shelf, index: int, members: int, at_s: int) -> Shelf:
    """The shelf with a dish that is out of the ovens as it stands at that time."""
    left = shelf.left_s[index]
    if left is None or at_s <= left:
        return shelf
    shelf = _cool(shelf, index, members, at_s - left)
    return replace(shelf, left_s=(*shelf.left_s[:index], at_s, *shelf.left_s[index + 1:]))


def on_bench(state: dish.DishState) -> dish.Surroundings:
    """A pot on a board in the kitchen: it gives far less downwards than to hot brick that it stands on."""
    room = np.full_like(state.pot_k, ROOM_K)
    return dish.Surroundings(room, room, state.pot_k + BOARD_SHARE * (ROOM_K - state.pot_k))


def _cool(shelf: Shelf, index: int, members: int, span_s: int) -> Shelf:
    """A dish on the bench, or on its ring, for span_s."""
    assert shelf.parameters is not None
    assert shelf.state is not None
    lanes = shelf.lanes(index, members)
    one, state = dish.take(shelf.parameters, lanes), dish.take(shelf.state, lanes)
    room = np.full(members, ROOM_K)
    if shelf.names[index] in shelf.ringed:
        return with_state(shelf, index, members, flame.simmered(state, one, room, span_s))
    steps = max(1, min(24, span_s // 600))
    for _ in range(steps):
        state, _heat = dish.step(state, one, on_bench(state), min(span_s / steps, 600.0))
    return with_state(shelf, index, members, state)


def with_state(shelf: Shelf, index: int, members: int, state: dish.DishState) -> Shelf:
    """The shelf with one dish's state replaced."""
    assert shelf.state is not None
    parts = [dish.take(shelf.state, shelf.lanes(each, members)) for each in range(len(shelf.names))]
    parts[index] = state
    return replace(shelf, state=dish.stack(parts))


def with_parameters(shelf: Shelf, index: int, members: int, parameters: dish.DishParameters) -> Shelf:
    """The shelf with one dish's parameters replaced."""
    assert shelf.parameters is not None
    parts = [dish.take(shelf.parameters, shelf.lanes(each, members)) for each in range(len(shelf.names))]
    parts[index] = parameters
    return replace(shelf, parameters=dish.stack(parts))


def inside(shelf: Shelf) -> list[int]:
    return [index for index, oven in enumerate(shelf.ovens) if oven is not None]


def _picked(shelf: Shelf, members: int) -> NDArray[np.intp] | slice:
    """Lanes of the dishes that stand in an oven."""
    mine = inside(shelf)
    if len(mine) == len(shelf.names):
        return slice(None)
    return np.concatenate([np.arange(each * members, (each + 1) * members) for each in mine])


@dataclass(frozen=True)
class Cooking:
    """The dishes in ovens, ready to step: which oven each stands in, their lanes' oven lanes."""
    ovens: tuple[int, ...]
    parameters: dish.DishParameters
    state: dish.DishState
    heat: dish.Heat
    lanes: NDArray[np.intp]


def cooking(shelf: Shelf, oven: OvenState, numbers: OvenNumbers, members: int) -> Cooking | None:
    """The dishes in ovens as one stack; None if there are none."""
    mine = inside(shelf)
    if not mine or shelf.parameters is None or shelf.state is None:
        return None
    ovens = tuple(each for index in mine if (each := shelf.ovens[index]) is not None)
    lanes = np.concatenate([np.arange(each * members, (each + 1) * members) for each in ovens])
    picked = _picked(shelf, members)
    parameters, state = dish.take(shelf.parameters, picked), dish.take(shelf.state, picked)
    if shelf.bare:
        closed = np.repeat([0.0 if shelf.names[each] in shelf.bare else 1.0 for each in mine], members)
        parameters = dish.with_lids(parameters, parameters.lid_on * closed)
    if shelf.heat is not None and len(shelf.heat.air_w) == len(lanes):
        heat = shelf.heat
    else:
        # The first step's conductances: those of an infinitesimal step.
        _, heat = dish.step(state, parameters, around(oven, numbers, lanes), 1.0)
    return Cooking(ovens, parameters, state, heat, lanes)


def put_back(shelf: Shelf, now: Cooking, members: int) -> Shelf:
    """The shelf with the stepped dishes back in their places."""
    mine = inside(shelf)
    if len(mine) == len(shelf.names):
        return replace(shelf, state=now.state, heat=now.heat)
    assert shelf.state is not None
    parts = [dish.take(shelf.state, shelf.lanes(each, members)) for each in range(len(shelf.names))]
    for place, index in enumerate(mine):
        parts[index] = dish.take(now.state, slice(place * members, (place + 1) * members))
    return replace(shelf, state=dish.stack(parts), heat=now.heat)


def around(oven: OvenState, numbers: OvenNumbers, lanes: NDArray[np.intp]) -> dish.Surroundings:
    """A pot sees half of the cavity at large and half the dome above it."""
    walls = 0.5 * (oven.star_k + oven.face_k[2])
    under = numbers["under"][lanes]
    below = (1.0 - under) * oven.face_k[0][lanes] + under * oven.face_k[1][lanes]
    return dish.Surroundings(oven.air_k[lanes], walls[lanes], below)


def load_on(now: Cooking, owed_j: Array, members: int, oven_lanes: int, dt_s: float,
            stay: Array | None) -> tuple[Pots, Array]:
    """What the pots are to their ovens in the next step, and the debt (oven_lanes,) [J] left after it.

    stay (oven_lanes,): 0 where the pots have left the oven in this course of things.
    """
    sums = np.zeros((7, oven_lanes))
    heat = now.heat
    rows = np.stack([heat.air_w_k, heat.radiant_w_k, heat.floor_w_k, heat.air_w_k * heat.skin_k,
                     heat.radiant_w_k * heat.skin_k, heat.floor_w_k * heat.skin_k, now.parameters.base_area_m2])
    for place, oven in enumerate(now.ovens):
        sums[:, oven * members:(oven + 1) * members] += rows[:, place * members:(place + 1) * members]
    if stay is not None:
        sums *= stay
    paid = owed_j * (1.0 - np.exp(-dt_s / PAY_BACK_S))
    cover = np.minimum(sums[6] / PATCH_M2, 1.0) * 0.85
    return Pots(sums[0], sums[1], sums[2], sums[3], sums[4], sums[5], paid / dt_s, cover), owed_j - paid


def step(now: Cooking, oven: OvenState, numbers: OvenNumbers, reckoned_w: Array, members: int, dt_s: float,
         bare: Array | None = None) -> tuple[Cooking, Array]:
    """The dishes dt_s later, and the heat (oven lanes,) [J] that they took beyond what the oven reckoned.

    bare (oven lanes,): share of the step in which the lids are off, which is at its beginning: liquor that stands open
    cools within minutes and steams less for it.
    """
    state, heat, outside = now.state, now.heat, around(oven, numbers, now.lanes)
    off_s = 0.0 if bare is None else min(LID_S, dt_s)
    if bare is not None:
        lids = dish.with_lids(now.parameters, now.parameters.lid_on * (1.0 - np.minimum(bare[now.lanes] * dt_s / off_s,
                                                                                       1.0)))
        state, heat = dish.step(state, lids, outside, off_s)
    if dt_s > off_s:
        state, later = dish.step(state, now.parameters, outside, dt_s - off_s)
        heat = later if bare is None else dish.mean_heat([heat, later], [off_s, dt_s - off_s])
    took = heat.air_w + heat.radiant_w + heat.floor_w
    more = -reckoned_w.sum(axis=0)
    for place, index in enumerate(now.ovens):
        more[index * members:(index + 1) * members] += took[place * members:(place + 1) * members]
    return Cooking(now.ovens, now.parameters, state, heat, now.lanes), more * dt_s
