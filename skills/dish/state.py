"""What is believed of a dish: its properties, its state and what stands around it, for many ensemble members at once.

A lane is one member of one dish; several dishes may be stacked in one set of arrays. Arrays are (lanes,), or
(lanes, cells) for the shells of a piece of meat, cell 0 in the middle.
"""
from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, fields, replace
from functools import cached_property
from typing import Any, TypeVar

import numpy as np
from numpy.typing import NDArray

from skills.physics.constants import GAS_CONSTANT_J_MOLK, ZERO_CELSIUS_K
from skills.physics.transient import middle_weight
from skills.physics.water import (
    VAPOUR_KG_M2S,
    WATER_HEAT_CAPACITY_J_KGK,
    quick_latent_heat_j_kg,
    quick_saturation_k,
)

Array = NDArray[np.float64]

CELLS = 6
ROOM_VAPOUR_PA = 1500.0               # vapour in kitchen or oven air, from memory
REFERENCE_K = ZERO_CELSIUS_K + 90.0    # temperature at which rates of progress are stated
# Share of the meat's surface that stands free in a dry or open pan, and moisture of skin or crust beside open water
# [-]: from memory.
BARE, SKIN = 0.75, 0.30
# Pot wall and meat to a dry headspace: radiation and still air; dough to the brick it lies on (from memory).
DRY_FILM_W_M2K, LAID_FILM_W_M2K = 24.0, 1000.0
# What a shut lid lets out for each unit of drive beside its gap [-]: at the boil steam lifts it (from memory).
LIFTS = 0.005
RATE_LAW, CORE_LAW, CRUST_LAW = 0.0, 1.0, 2.0        # values of DishParameters.law


@dataclass(frozen=True)
class DishParameters:
    """One lane's dish. `piece` is the meat, the beans, the loaf: whatever is to be done; its pieces are alike.

    meat_kg [kg] of all pieces; half_thickness_m [m] of one piece, shape 0 slab, 1 cylinder, 2 ball [-];
    pot_area_m2: outside of walls and lid; base_area_m2: on the floor; mouth_area_m2: liquid under the lid;
    contact_w_m2k: pot base to floor; film_w_m2k: oven air to pot; liquid_film_w_m2k: pot wall to liquid;
    meat_film_w_m2k: liquid to meat; lid_on 0 or 1; lid_leak [-]: exchange through a closed lid's gap, as a share of
    the open pot's at a unit of drive; juice_share [-]: of the raw mass, what the piece gives to the liquor when hot
    (negative: it drinks); rate_1_s [1/s]: progress at REFERENCE_K, activation_j_mol [J/mol]; unevenness [-]: spread
    of the logarithm of progress within a piece; onset_k: no progress below; law RATE_LAW, CORE_LAW or CRUST_LAW;
    target_k: core temperature for the last two; laid 1: on the bare floor, without a pot; underside 1: its crust is
    judged from below.
    shell_share, shell_link (lanes, CELLS) [-]: shells' shares of volume and conductances; they follow from `shape`.
    """
    meat_kg: Array
    half_thickness_m: Array
    shape: Array
    conductivity_w_mk: Array
    density_kg_m3: Array
    capacity_j_kgk: Array
    pot_capacity_j_k: Array
    pot_area_m2: Array
    base_area_m2: Array
    mouth_area_m2: Array
    emissivity: Array
    contact_w_m2k: Array
    film_w_m2k: Array
    liquid_film_w_m2k: Array
    meat_film_w_m2k: Array
    lid_on: Array
    lid_leak: Array
    juice_share: Array
    liquid_start_kg: Array
    boiling_k: Array
    pressure_pa: Array
    rate_1_s: Array
    activation_j_mol: Array
    onset_k: Array
    unevenness: Array
    law: Array
    target_k: Array
    laid: Array
    underside: Array
    shell_share: Array
    shell_link: Array
    treated_as: str = ""

    @property
    def lanes(self) -> int:
        return len(self.meat_kg)

    @cached_property
    def ready(self) -> Ready:
        """What every time step needs of the parameters alone, worked out once."""
        return Ready.of(self)


@dataclass(frozen=True)
class Ready:
    """Products of parameters, (lanes,) or (cells, lanes); names as in DishParameters, units in the names."""
    raw_kg: Array
    raw_j_k: Array
    raw_water_j_k: Array
    chain_w_k: Array
    around_w_k: Array
    outer_w_k: Array
    meat_area_m2: Array
    inside_m2: Array
    uncovered_m2: Array
    emitting_m2: Array
    air_w_k: Array
    uncovered_air_w_k: Array
    floor_w_k: Array
    bare_m2: Array
    bare_oven_m2: Array
    boil_j_kg: Array
    open_w: Array
    gap_w: Array
    drive_pa: Array
    salt_k: Array
    log_rate: Array
    slope_k: Array
    middle: Array
    any_open: bool
    any_drinks: bool
    any_core: bool
    any_crust: bool
    lies: Array
    dry_film_w_m2k: Array

    @classmethod
    def of(cls, p: DishParameters) -> Ready:
        volume_m3 = p.meat_kg / p.density_kg_m3
        raw_kg = np.ascontiguousarray((p.shell_share * p.meat_kg[:, None]).T)
        links = (p.shell_link * (p.conductivity_w_mk * volume_m3 / p.half_thickness_m ** 2)[:, None]).T
        meat_area_m2 = (p.shape + 1.0) * volume_m3 / p.half_thickness_m
        inside_m2 = 0.6 * (p.pot_area_m2 + p.base_area_m2)
        film_w_k = meat_area_m2 * p.meat_film_w_m2k
        to_liquid = links[-1] * film_w_k / (links[-1] + film_w_k)
        chain = np.concatenate([links[:-1], to_liquid[None], (inside_m2 * p.liquid_film_w_m2k)[None]])
        # What the chain adds to each node's own diagonal: the links on both its sides.
        around = np.zeros((len(chain) + 1, p.lanes))
        around[:-1] += chain
        around[1:] += chain
        slope_k = p.activation_j_mol / GAS_CONSTANT_J_MOLK
        none = np.zeros(p.lanes)
        made = cls(
            raw_kg=raw_kg, raw_j_k=raw_kg * p.capacity_j_kgk, raw_water_j_k=raw_kg * WATER_HEAT_CAPACITY_J_KGK,
            chain_w_k=chain, around_w_k=around, outer_w_k=links[-1].copy(), meat_area_m2=meat_area_m2,
            inside_m2=inside_m2, uncovered_m2=none, emitting_m2=none, air_w_k=none, uncovered_air_w_k=none,
            floor_w_k=p.base_area_m2 * p.contact_w_m2k, bare_m2=none, bare_oven_m2=none,
            boil_j_kg=quick_latent_heat_j_kg(p.boiling_k), open_w=none, gap_w=none,
            drive_pa=p.pressure_pa - ROOM_VAPOUR_PA,
            salt_k=p.boiling_k - quick_saturation_k(p.pressure_pa)[0],
            log_rate=np.log(p.rate_1_s) + slope_k / REFERENCE_K, slope_k=slope_k, middle=middle_weight(p.shape),
            any_open=False, any_drinks=bool((p.juice_share < 0.0).any()),
            any_core=bool((p.law != RATE_LAW).any()), any_crust=bool((p.law == CRUST_LAW).any()),
            lies=np.where(p.laid > 0.0, p.base_area_m2 / meat_area_m2, 1.0),
            dry_film_w_m2k=np.where(p.laid > 0.0, LAID_FILM_W_M2K, DRY_FILM_W_M2K))
        return replace(made, **_under_lids(p, made))


@dataclass(frozen=True)
class DishState:
    """The dish now. pot_k, liquid_k [K], liquid_kg [kg], meat_k (lanes, cells) [K].

    progress (lanes, cells) [-]: 0 raw, 1 when half of what lies there counts as tender; given (lanes, cells) [-]:
    mass that left the shell (juice and steam) as a share of its raw mass; boiled_kg [kg]: vapour lost so far;
    heat_in_j and vapour_j [J]: heat taken up and carried off with vapour since the start, for the balance.
    """
    pot_k: Array
    liquid_k: Array
    liquid_kg: Array
    meat_k: Array
    progress: Array
    given: Array
    boiled_kg: Array
    heat_in_j: Array
    vapour_j: Array


@dataclass(frozen=True)
class Surroundings:
    """What the pot stands in, each (lanes,) [K]: air, walls it sees, floor under it. Out of the oven: the room."""
    air_k: Array
    radiant_k: Array
    floor_k: Array


@dataclass(frozen=True)
class Heat:
    """Mean heat that the dish took in a step, (lanes,) [W], and the conductances it went through [W/K].

    An oven with little heat of its own (air) can use the conductance and the outside temperature of the pot,
    `skin_k`, to couple without a lag: air_w = air_w_k (air_k - skin_k) and so on.
    """
    air_w: Array
    radiant_w: Array
    floor_w: Array
    air_w_k: Array
    radiant_w_k: Array
    floor_w_k: Array
    skin_k: Array
    vapour_kg_s: Array


Part = TypeVar("Part", DishParameters, DishState, Surroundings, Heat)
_NAMES: dict[type, tuple[str, ...]] = {}        # of the fields: asking a dataclass for them takes long


def _values(part: Part) -> list[Any]:
    kind = type(part)
    names = _NAMES.get(kind) or _NAMES.setdefault(kind, tuple(each.name for each in fields(kind)))
    return [getattr(part, name) for name in names]


def stack(parts: Sequence[Part]) -> Part:
    """Several sets of lanes as one; take() gives them back. `treated_as` is not kept for more than one."""
    first = parts[0]
    if len(parts) == 1:
        return first
    kind: Callable[..., Part] = type(first)
    return kind(*(np.concatenate(each) if isinstance(each[0], np.ndarray) else each[0]
                  for each in zip(*map(_values, parts), strict=True)))


def take(part: Part, lanes: slice | NDArray[np.intp]) -> Part:
    """These lanes only (a slice, or an index array: resampling)."""
    kind: Callable[..., Part] = type(part)
    return kind(*(each[lanes] if isinstance(each, np.ndarray) else each for each in _values(part)))


def with_lid(parameters: DishParameters, on: bool) -> DishParameters:
    """The same dish with its lid on or off."""
    return with_lids(parameters, np.full_like(parameters.lid_on, float(on)))


def with_lids(parameters: DishParameters, lid_on: Array) -> DishParameters:
    """The same dishes with their lids on (1), off (0), or on for a share of the time (lanes,)."""
    made = replace(parameters, lid_on=lid_on)
    ready = parameters.ready
    made.__dict__["ready"] = replace(ready, **_under_lids(made, ready))     # where cached_property keeps it
    return made


def _under_lids(p: DishParameters, ready: Ready) -> dict[str, Any]:
    """The products that lids change."""
    open_share = 1.0 - p.lid_on
    walls_m2 = p.pot_area_m2 - open_share * p.mouth_area_m2
    uncovered_m2 = open_share * p.mouth_area_m2
    air_w_k = walls_m2 * p.film_w_m2k
    free_m2 = np.where(p.laid > 0.0, 1.0 - ready.lies, BARE) * ready.meat_area_m2
    # Under a lid no more steams off than its gap lets out, however many small pieces lie in a pot run dry.
    moist_m2 = SKIN * free_m2
    bare_m2 = open_share * moist_m2 + p.lid_on * p.lid_leak * np.minimum(moist_m2, p.mouth_area_m2)
    around = ready.around_w_k.copy()
    around[-1] = ready.chain_w_k[-1] + air_w_k + ready.floor_w_k
    return {
        "around_w_k": around, "uncovered_m2": uncovered_m2, "emitting_m2": walls_m2 * p.emissivity, "air_w_k": air_w_k,
        "uncovered_air_w_k": uncovered_m2 * p.film_w_m2k, "bare_m2": bare_m2,
        "bare_oven_m2": free_m2 * open_share,
        "open_w": p.mouth_area_m2 * (open_share + p.lid_on * LIFTS) * VAPOUR_KG_M2S * ready.boil_j_kg,
        "gap_w": p.mouth_area_m2 * p.lid_on * p.lid_leak * VAPOUR_KG_M2S * ready.boil_j_kg,
        "any_open": bool((p.lid_on < 1.0).any())}
