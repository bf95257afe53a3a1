"""The dish in time: pot, liquid and meat in one implicit step, with boiling, juice, and progress towards tender.

`step` is the only thing that moves a DishState. It is pure and works on all lanes at once.
"""
from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from skills.dish import crust
from skills.dish.prior import Load, draw, draw_state, initial_state, treated_as
from skills.dish.state import (
    CELLS,
    CORE_LAW,
    CRUST_LAW,
    RATE_LAW,
    ROOM_VAPOUR_PA,
    Array,
    DishParameters,
    DishState,
    Heat,
    Surroundings,
    stack,
    take,
    with_lid,
    with_lids,
)
from skills.dish.vectors import (
    PARAMETER_NAMES,
    STATE_NAMES,
    parameter_vector,
    state_vector,
    with_state_vector,
    with_vector,
)
from skills.physics.constants import ZERO_CELSIUS_K
from skills.physics.radiation import linear_w_m2k
from skills.physics.transient import fold_chain, unfold_chain
from skills.physics.water import (
    WATER_HEAT_CAPACITY_J_KGK,
    dew_point_k,
    open_evaporation_kg_m2s,
    quick_latent_heat_j_kg,
    quick_saturation_k,
    quick_saturation_pressure_pa,
)

__all__ = [
    "CELLS", "CORE_LAW", "CRUST_LAW", "PARAMETER_NAMES", "RATE_LAW", "STATE_NAMES", "Array", "DishParameters",
    "DishState", "Heat", "Load", "Surroundings", "core_k", "draw", "draw_state", "dry", "energy_j", "initial_state",
    "liquid_litres", "mean_heat", "parameter_vector", "stack", "state_vector", "step", "take", "tender",
    "tender_fraction", "top_up", "treated_as", "with_lid", "with_lids", "with_state_vector", "with_vector",
]

TENDER_SHARE = 0.9
Flags = NDArray[np.bool_]

LONGEST_STEP_S, LONGEST_CRUST_STEP_S = 300.0, 60.0
WATER_KG_L = 0.965                    # [kg/l] water at 90 degC

_WET_KG = 0.10                        # less liquor than this no longer covers the bottom (common practice, no source)
_HEADSPACE_J_K = 80.0                 # heat capacity left in a pot that is dry: steam, residue
_DEW_K = dew_point_k(ROOM_VAPOUR_PA)
_WATER_EMISSIVITY = 0.95              # [-] wet food and water 0.95 to 0.96: compilations
_JUICE_FROM_K, _JUICE_OVER_K = ZERO_CELSIUS_K + 50.0, 30.0
_NEAR_BOIL = 3e-4                    # [-] of the pressure: within 0.01 K of the boil; nearer is not told apart
_RIND = 0.05                          # [-] beyond it, for the outermost shell, which dries to a rind
_MOST_GIVEN = 0.55                    # [-] of its raw mass a shell can lose: its water, or nearly


def step(state: DishState, parameters: DishParameters, surroundings: Surroundings,
         dt_s: float) -> tuple[DishState, Heat]:
    """The dish `dt_s` later, and the heat it took from around it.

    Stable at any dt_s (long ones are divided): 300 s costs 3 min in a braise of 5 h, 60 s less than 1 min; 60 s costs
    2 min in a loaf.
    """
    longest_s = LONGEST_CRUST_STEP_S if parameters.ready.any_crust else LONGEST_STEP_S
    parts = max(1, math.ceil(dt_s / longest_s - 1e-9))
    heats: list[Heat] = []
    for _ in range(parts):
        state, heat = _short_step(state, parameters, surroundings, dt_s / parts)
        heats.append(heat)
    return state, mean_heat(heats, [dt_s / parts] * parts)


def mean_heat(heats: Sequence[Heat], spans_s: Sequence[float]) -> Heat:
    """The mean over steps of these lengths; temperatures and conductances of the last one."""
    if len(heats) == 1:
        return heats[0]
    last, whole_s = heats[-1], sum(spans_s)
    air_w, radiant_w, floor_w, vapour_kg_s = (
        sum(value * (span_s / whole_s) for value, span_s in zip(each, spans_s, strict=True)) for each in zip(
            *((heat.air_w, heat.radiant_w, heat.floor_w, heat.vapour_kg_s) for heat in heats), strict=True))
    return Heat(air_w, radiant_w, floor_w, last.air_w_k, last.radiant_w_k, last.floor_w_k, last.skin_k, vapour_kg_s)


def _short_step(state: DishState, p: DishParameters, around: Surroundings, dt_s: float) -> tuple[DishState, Heat]:
    ready = p.ready
    meat_k, given = np.ascontiguousarray(state.meat_k.T), np.ascontiguousarray(state.given.T)
    liquid_k, liquid_kg = state.liquid_k, state.liquid_kg
    meat_k, given, liquid_k, liquid_kg = _give_juice(meat_k, given, liquid_k, liquid_kg, p)

    # The chain: shell, ..., outer shell, liquid, pot. A pot that is drying out couples less.
    wet = np.minimum(liquid_kg * (1.0 / _WET_KG), 1.0)
    all_wet = bool(wet.min() >= 1.0)
    chain, diagonal = ready.chain_w_k, ready.around_w_k.copy()
    if not all_wet:
        crust_m2k_w = crust.resistance_m2k_w(given[-1], p)
        chain = _drier(chain, wet, crust_m2k_w, p)
        change = chain[-2:] - ready.chain_w_k[-2:]
        diagonal[-3:-1] += change
        diagonal[-2:] += change

    # From outside. Without the lid the oven sees the liquid (or the meat) and not the lid.
    radiant_w_k = ready.emitting_m2 * linear_w_m2k(around.radiant_k, state.pot_k)

    meat_j_k = ready.raw_j_k - ready.raw_water_j_k * given
    storage = np.empty_like(diagonal)
    storage[:-2] = meat_j_k
    storage[-2], storage[-1] = liquid_kg * WATER_HEAT_CAPACITY_J_KGK + _HEADSPACE_J_K, p.pot_capacity_j_k
    storage *= 1.0 / dt_s
    diagonal += storage
    right = np.empty_like(diagonal)
    right[:-2], right[-2], right[-1] = meat_k, liquid_k, state.pot_k
    right *= storage
    diagonal[-1] += radiant_w_k
    right[-1] += radiant_w_k * around.radiant_k + ready.air_w_k * around.air_k + ready.floor_w_k * around.floor_k
    if ready.any_open:
        liquid_radiant_w_k = ready.uncovered_m2 * _WATER_EMISSIVITY * linear_w_m2k(around.radiant_k, liquid_k)
        diagonal[-2] += liquid_radiant_w_k + ready.uncovered_air_w_k
        right[-2] += liquid_radiant_w_k * around.radiant_k + ready.uncovered_air_w_k * around.air_k
    if not all_wet:
        bare_j_kg = quick_latent_heat_j_kg(np.minimum(meat_k[-1], p.boiling_k))
        moist = np.clip((_MOST_GIVEN - given[-1]) * 5.0, 0.0, 1.0) * crust.seeping(crust_m2k_w)
        meat_vapour_w_k = (1.0 - wet) * moist * ready.bare_m2 * _vapour_w_m2k(meat_k[-1], p, bare_j_kg)
        diagonal[-3] += meat_vapour_w_k
        right[-3] += meat_vapour_w_k * _DEW_K
        # A roast or a loaf without lid or liquor sees the oven itself, through its own outer half shell.
        bare_radiant_w_m2k = _WATER_EMISSIVITY * linear_w_m2k(around.radiant_k, meat_k[-1])
        bare_m2 = (1.0 - wet) * ready.bare_oven_m2
        bare_w_m2k = bare_radiant_w_m2k + p.film_w_m2k
        through = 1.0 / (1.0 + bare_m2 * bare_w_m2k / ready.outer_w_k + bare_w_m2k * crust_m2k_w)
        bare_radiant_w_k, bare_air_w_k = bare_m2 * bare_radiant_w_m2k * through, bare_m2 * p.film_w_m2k * through
        diagonal[-3] += bare_radiant_w_k + bare_air_w_k
        right[-3] += bare_radiant_w_k * around.radiant_k + bare_air_w_k * around.air_k
    ratios = fold_chain(diagonal[:-1], right[:-1], chain[:-1])
    pot_share = chain[-1] / diagonal[-1]
    supply_w, supply_w_k = right[-2] + pot_share * right[-1], diagonal[-2] - pot_share * chain[-1]
    liquid_k, gone_kg = _evaporate(liquid_k, liquid_kg, supply_w, supply_w_k, wet, dt_s, p)
    pot_k = (right[-1] + chain[-1] * liquid_k) / diagonal[-1]
    new_meat_k = unfold_chain(diagonal[:-1], right[:-1], ratios, liquid_k)[:-1]

    air_w, radiant_w = ready.air_w_k * (around.air_k - pot_k), radiant_w_k * (around.radiant_k - pot_k)
    floor_w = ready.floor_w_k * (around.floor_k - pot_k)
    air_w_k = ready.air_w_k
    if ready.any_open:
        air_w = air_w + ready.uncovered_air_w_k * (around.air_k - liquid_k)
        radiant_w = radiant_w + liquid_radiant_w_k * (around.radiant_k - liquid_k)
        air_w_k, radiant_w_k = air_w_k + ready.uncovered_air_w_k, radiant_w_k + liquid_radiant_w_k

    if not all_wet:
        air_w = air_w + bare_air_w_k * (around.air_k - new_meat_k[-1])
        radiant_w = radiant_w + bare_radiant_w_k * (around.radiant_k - new_meat_k[-1])
        air_w_k, radiant_w_k = air_w_k + bare_air_w_k, radiant_w_k + bare_radiant_w_k

    boiled_kg, left_kg = gone_kg, np.maximum(liquid_kg - gone_kg, 0.0)
    vapour_j = gone_kg * (ready.boil_j_kg + WATER_HEAT_CAPACITY_J_KGK * (liquid_k - ZERO_CELSIUS_K))
    if not all_wet or bool((new_meat_k > p.boiling_k).any()):
        bare_j = np.zeros_like(wet) if all_wet else meat_vapour_w_k * (new_meat_k[-1] - _DEW_K) * dt_s
        new_meat_k, given, from_meat_kg, from_meat_j = _dry_meat(new_meat_k, given, meat_j_k, bare_j, p)
        boiled_kg, vapour_j = boiled_kg + from_meat_kg, vapour_j + from_meat_j

    surface_k = new_meat_k[-1]
    if ready.any_crust and not all_wet:
        outside_k = (bare_radiant_w_m2k * around.radiant_k + p.film_w_m2k * around.air_k) / bare_w_m2k
        surface_k = np.where(p.underside > 0.0, pot_k, outside_k - through * (outside_k - surface_k))
    progress = _progress(state, new_meat_k, surface_k, p, dt_s)
    heat = Heat(air_w, radiant_w, floor_w, air_w_k, radiant_w_k, ready.floor_w_k, pot_k, boiled_kg / dt_s)
    new = DishState(pot_k, liquid_k, left_kg, new_meat_k.T, progress, given.T, state.boiled_kg + boiled_kg,
                    state.heat_in_j + (air_w + radiant_w + floor_w) * dt_s, state.vapour_j + vapour_j)
    return new, heat


def _drier(chain: Array, wet: Array, crust_m2k_w: Array, p: DishParameters) -> Array:
    """The chain's conductances [W/K] when the liquor covers only a share `wet` of what it should."""
    ready = p.ready
    chain = chain.copy()
    dry = ready.dry_film_w_m2k
    touching_m2 = ready.lies * ready.meat_area_m2
    crust_m2k_w = crust_m2k_w * (1.0 - wet)              # what lies in liquor has none
    film_w_m2k = dry + wet * (p.meat_film_w_m2k - dry)
    chain[-2] = touching_m2 / (ready.meat_area_m2 / ready.outer_w_k + 1.0 / film_w_m2k + crust_m2k_w)
    chain[-1] = ready.inside_m2 * (dry + wet * (p.liquid_film_w_m2k - dry))
    return chain


def _evaporate(liquid_k: Array, liquid_kg: Array, supply_w: Array, supply_w_k: Array, wet: Array, dt_s: float,
               p: DishParameters) -> tuple[Array, Array]:
    """Liquid temperature (lanes,) [K] at the end of the step and the vapour [kg] that left in it.

    What reaches the liquid is supply_w - supply_w_k T. From open water vapour carries off more without bound as T
    nears the boil (Stefan flow). Through the gap of a lid a volume of what is over the liquor changes places with the
    oven's air: at most pure steam, so a lidded pot comes up to the boil, and only then steam lifts the lid. Both in
    u = -ln of the air's share of the pressure over the water: open u, gap (1 - e^-u), by Newton's method in u.
    """
    ready = p.ready
    open_w, gap_w = wet * ready.open_w, wet * ready.gap_w
    free_k = liquid_k - ready.salt_k
    share = np.maximum(p.pressure_pa - quick_saturation_pressure_pa(free_k), _NEAR_BOIL * p.pressure_pa)
    drive = np.maximum(-np.log(share / ready.drive_pa), 0.0)
    for _ in range(2):
        share = np.exp(-drive)
        vapour_pa = p.pressure_pa - ready.drive_pa * share
        near_k, slope_k_pa = quick_saturation_k(vapour_pa)
        near_k += ready.salt_k
        change = (supply_w - open_w * drive - gap_w * (1.0 - share) - supply_w_k * near_k) / (
            open_w + (gap_w + supply_w_k * slope_k_pa * ready.drive_pa) * share + 1e-9)
        # From the right of the root a step may fall far short of it; from the left it never passes it.
        drive = np.maximum(drive + change, 0.4 * drive)
    near_k, _ = quick_saturation_k(p.pressure_pa - ready.drive_pa * np.exp(-drive))
    near_k += ready.salt_k
    # Whatever the last rounding of u, heat and water balance: the vapour is what the supply at this temperature feeds.
    vapour_w = np.minimum(np.maximum(supply_w - supply_w_k * near_k, 0.0), liquid_kg * ready.boil_j_kg * (1.0 / dt_s))
    return (supply_w - vapour_w) / supply_w_k, vapour_w / ready.boil_j_kg * dt_s


def _vapour_w_m2k(surface_k: Array, p: DishParameters, latent_j_kg: Array) -> Array:
    """Heat that vapour carries from an open wet surface, for each kelvin over the dew point [W/m2/K]."""
    flow = open_evaporation_kg_m2s(np.minimum(surface_k, p.boiling_k), p.pressure_pa, ROOM_VAPOUR_PA)
    conductance: Array = flow * latent_j_kg / np.maximum(surface_k - _DEW_K, 1.0)
    return conductance


def _give_juice(meat_k: Array, given: Array, liquid_k: Array, liquid_kg: Array,
                p: DishParameters) -> tuple[Array, Array, Array, Array]:
    """Water that the heat wrings out of each shell into the liquor, at the shell's own temperature.

    Meat lets go of water between about 50 and 80 degC, and takes none back (water-holding curves
    of the meat literature, from memory). Beans and grain drink instead: juice_share is negative.
    """
    if not p.ready.any_drinks and (meat_k[-1].max() < _JUICE_FROM_K or (given[0] >= p.juice_share).all()):
        return meat_k, given, liquid_k, liquid_kg      # nothing yet, or nothing more: the middle is the last to give
    more = meat_k - _JUICE_FROM_K
    more *= 1.0 / _JUICE_OVER_K
    np.minimum(more, 1.0, out=more)
    np.maximum(more, 0.0, out=more)
    more *= p.juice_share
    more -= given
    if p.ready.any_drinks:
        more = np.where(p.juice_share >= 0.0, np.maximum(more, 0.0), np.minimum(more, 0.0))
    else:
        np.maximum(more, 0.0, out=more)
    moved_kg = more * p.ready.raw_kg
    out_kg = moved_kg.sum(axis=0)
    if not out_kg.any():
        return meat_k, given, liquid_k, liquid_kg
    water = WATER_HEAT_CAPACITY_J_KGK
    liquid_j_k = liquid_kg * water + _HEADSPACE_J_K
    brought_k = (moved_kg * meat_k).sum(axis=0)
    if p.ready.any_drinks:
        # What drinks takes at most half of what is there in one step, at the liquid's temperature.
        limit = np.where(out_kg < 0.0, np.minimum(1.0, 0.5 * liquid_kg / np.maximum(-out_kg, 1e-12)), 1.0)
        moved_kg, more, out_kg = moved_kg * limit, more * limit, out_kg * limit
        drinks = p.juice_share < 0.0
        brought_k = np.where(drinks, liquid_k * out_kg, brought_k)
        shell_j_k = p.ready.raw_j_k - p.ready.raw_water_j_k * given
        gain_j_k = np.where(drinks, -moved_kg * water, 0.0)
        meat_k = (shell_j_k * meat_k + gain_j_k * liquid_k) / (shell_j_k + gain_j_k)
    liquid_k = (liquid_j_k * liquid_k + brought_k * water) / (liquid_j_k + out_kg * water)
    return meat_k, given + more, liquid_k, np.maximum(liquid_kg + out_kg, 0.0)


def _dry_meat(meat_k: Array, given: Array, meat_j_k: Array, bare_j: Array,
              p: DishParameters) -> tuple[Array, Array, Array, Array]:
    """Steam from the meat itself, in a pot without liquid or in the open: it holds the meat at the boil.

    bare_j: heat that vapour from the outer shell has already taken out in this step.
    """
    water = WATER_HEAT_CAPACITY_J_KGK
    raw_kg = p.ready.raw_kg
    outer_j_kg = quick_latent_heat_j_kg(np.minimum(meat_k[-1], p.boiling_k))
    # No shell loses more than its water: the heat that would have carried off more stays in it.
    bare_kg = np.minimum(bare_j / outer_j_kg, np.maximum(_MOST_GIVEN + _RIND - given[-1], 0.0) * raw_kg[-1])
    given, meat_j_k, meat_k = given.copy(), meat_j_k.copy(), meat_k.copy()
    meat_k[-1] += (bare_j - bare_kg * outer_j_kg) / meat_j_k[-1]
    vapour_j = bare_kg * (outer_j_kg + water * (meat_k[-1] - ZERO_CELSIUS_K))
    given[-1] += bare_kg / raw_kg[-1]
    meat_j_k[-1] -= bare_kg * water
    over_j = np.maximum(meat_k - p.boiling_k, 0.0) * meat_j_k
    if not over_j.any():
        return meat_k, given, bare_kg, vapour_j
    steam_j_kg = p.ready.boil_j_kg
    steam_kg = np.minimum(over_j / steam_j_kg, np.maximum(_MOST_GIVEN - given, 0.0) * raw_kg)
    rest_k = np.minimum(meat_k, p.boiling_k)
    vapour_j = vapour_j + (steam_kg * (steam_j_kg + water * (rest_k - ZERO_CELSIUS_K))).sum(axis=0)
    meat_k = rest_k + (over_j - steam_kg * steam_j_kg) / (meat_j_k - steam_kg * water)
    return meat_k, given + steam_kg / raw_kg, bare_kg + steam_kg.sum(axis=0), vapour_j


def _progress(state: DishState, meat_k: Array, surface_k: Array, p: DishParameters, dt_s: float) -> Array:
    """Progress (lanes, cells) after the step: Arrhenius rate at the step's mean, or as the core and the crust are."""
    exponent = state.meat_k.T + meat_k
    warm = exponent >= 2.0 * p.onset_k
    np.divide(-2.0 * p.ready.slope_k, exponent, out=exponent)
    exponent += p.ready.log_rate + math.log(dt_s)
    np.exp(exponent, out=exponent)
    exponent *= warm
    progress: Array = (exponent + state.progress.T).T
    if p.ready.any_core:
        by_core = crust.progress(state.progress, meat_k, surface_k, p, dt_s)
        progress = np.where((p.law == RATE_LAW)[:, None], progress, by_core)
    return progress


def tender_fraction(state: DishState, parameters: DishParameters) -> Array:
    """Share of the meat that counts as tender (lanes,) [-]; 0.9 is fork-tender.

    By the rate law: meat of one shell is not all alike, so the share of it that is tender rises smoothly as progress
    passes 1 (logistic in its logarithm). By the other laws: 0.9 when the middle stands at its target (and is brown).
    """
    sharpness = 1.7 / parameters.unevenness
    by_rate = _share_by_rate(state.progress, sharpness, parameters)
    if not parameters.ready.any_core:
        return by_rate
    by_core = np.clip(TENDER_SHARE * crust.share_done(state.progress, parameters), 0.0, 1.0)
    return np.where(parameters.law == RATE_LAW, by_rate, by_core)


def _share_by_rate(progress: Array, sharpness: Array, parameters: DishParameters) -> Array:
    shares = parameters.shell_share.T
    odds = np.maximum(progress.T, 1e-9) ** sharpness
    fraction: Array = (shares * odds / (1.0 + odds)).sum(axis=0)
    return fraction


def tender(state: DishState, parameters: DishParameters, share: float = TENDER_SHARE) -> Flags:
    """Whether each lane is fork-tender (or at its core temperature, or set)."""
    done: Flags = tender_fraction(state, parameters) >= share
    return done


def core_k(state: DishState, parameters: DishParameters | None = None) -> Array:
    """Temperature in the middle of the meat (lanes,) [K]; without parameters, of the innermost shell."""
    if parameters is None:
        return state.meat_k[:, 0]
    inner_k = state.meat_k[:, 0]
    middle: Array = inner_k - (state.meat_k[:, 1] - inner_k) * parameters.ready.middle
    return middle


def liquid_litres(state: DishState, parameters: DishParameters | None = None) -> Array:
    """Liquor in the pot (lanes,) [l]."""
    del parameters
    return state.liquid_kg / WATER_KG_L


def dry(state: DishState) -> Flags:
    """Whether each lane's pot has less liquor than covers its bottom."""
    low: Flags = state.liquid_kg < _WET_KG
    return low


def top_up(state: DishState, litres: float, temp_k: float) -> DishState:
    """The dish with liquid poured in; its heat counts as heat taken up."""
    added_kg = litres * WATER_KG_L
    water = WATER_HEAT_CAPACITY_J_KGK
    old_j_k = state.liquid_kg * water + _HEADSPACE_J_K
    new_j_k = old_j_k + added_kg * water
    return replace(state, liquid_k=(old_j_k * state.liquid_k + added_kg * water * temp_k) / new_j_k,
                   liquid_kg=state.liquid_kg + added_kg,
                   heat_in_j=state.heat_in_j + added_kg * water * (temp_k - ZERO_CELSIUS_K))


def energy_j(state: DishState, parameters: DishParameters) -> Array:
    """Heat held by the dish, over water and meat at 0 degC (lanes,) [J].

    energy_j - heat_in_j + vapour_j stays constant: the balance that the tests assert.
    """
    meat_j_k = parameters.ready.raw_j_k - parameters.ready.raw_water_j_k * state.given.T
    held: Array = ((meat_j_k * (state.meat_k.T - ZERO_CELSIUS_K)).sum(axis=0)
                   + (state.liquid_kg * WATER_HEAT_CAPACITY_J_KGK + _HEADSPACE_J_K) * (state.liquid_k - ZERO_CELSIUS_K)
                   + parameters.pot_capacity_j_k * (state.pot_k - ZERO_CELSIUS_K))
    return held
