"""The oven: (state, numbers, inputs, dt) -> state, for many lanes at once. There is one oven model, not one a feature.

A lane is one member of one oven. Three columns of brick and backing stand for it: the open floor, the floor under the
pots, and the dome. They, the mouth or door, and the pots exchange radiation through one common node, and air carries
heat between them. Fluxes into the columns and the two cavity nodes are solved together, implicitly, at each step.
"""
from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from skills.oven.parameters import OvenNumbers
from skills.physics import combustion, conduction
from skills.physics.constants import STEFAN_BOLTZMANN_W_M2K4
from skills.physics.convection import mouth_coefficient_w_k, smoke_draught_w_k
from skills.physics.materials import BLANKET, BRICK_EMISSIVITY, FIRECLAY
from skills.physics.radiation import star_conductance_m2

Array = NDArray[np.float64]

BRICK_CELLS = 6
BACK_CELLS = 3
CELLS = BRICK_CELLS + BACK_CELLS
COLUMNS = 3                     # open floor, floor under the pots, dome
GROWTH = 1.5
INSULATION_RC = 2.0e5           # [J/m3/K] between blanket and vermiculite concrete
STAND_W_M2K = 7.0               # film under the stand
PATCH_M2 = 0.05                 # the foot of a 25 cm pot
LATENT_J_KG = 2.45e6
DRY_K = 371.0                   # brick gives its water off near the boil
BRICK_KG_M3 = 2000.0
AIR_STORE_J_M3K = 1200.0 * 2.5  # the air's own heat and that of soot, hooks and racks (judgement)
WOOD_J_KG = 15.0e6              # air-dry wood (heat reference 8), for the air that a fire draws
LEAST_AIR_KG_KG = 8.0           # what the chemistry needs (from memory: 5 to 6) and a little
STILL = 0.33                    # film of a hot plate that faces down over one that faces up (McAdams' correlations)
STIRS_W = 300.0                 # a flame of this heat stirs the air under the dome (judgement)
FIRE_K = 1400.0                 # flames 1300 to 1600 K, embers 1100 to 1300 K (from memory): no face gets hotter


@dataclass(frozen=True)
class Built:
    """What follows from the numbers alone: grids and conductances; (CELLS or CELLS - 1, 3 * lanes) and (lanes,)."""
    half_20_m2k_w: Array          # resistance of half a cell at 20 degC
    k_slope_1_k: Array
    store_20_j_m2k: Array         # heat capacity of a cell at 20 degC
    face_ratio: Array             # area of each inner face to the hot face (curved dome)
    depth_m: Array                # cell centres (BRICK_CELLS, lanes) of the floor
    floor_m2: Array
    dome_m2: Array
    patch_m2: Array
    star_m2: Array                # (3, lanes) radiative conductance of open floor, patch, dome
    area_m2: Array                # (3, lanes)
    mouth_m2: Array
    mouth_w_k: Array              # coefficient of sqrt(1 - Tout / Tin)
    most_flame_w: Array           # what a fire behind this mouth can give at most
    far_w_m2k: Array              # (3 * lanes,)
    far_k: Array                  # (3 * lanes,)
    dry_j_m2: Array               # heat to dry a cell that holds 1 kg/kg of water (BRICK_CELLS, 3 * lanes)
    lateral_w_m2k: Array          # (BRICK_CELLS, lanes) between open floor and patch, on the patch's area
    probe_weight: Array           # (BRICK_CELLS, lanes)


@dataclass(frozen=True)
class OvenState:
    """temp_k (CELLS, 3 * lanes) [K]; water (BRICK_CELLS, 3 * lanes) [kg/kg]; air_k, hang_k, star_k, fresh_j, flame_j,
    ember_j, ledger_j (lanes,); face_k (3, lanes). Wood is fresh until it has caught. spread: 1 where embers lie all
    over the floor."""
    temp_k: Array
    water: Array
    face_k: Array
    air_k: Array
    star_k: Array
    hang_k: Array
    fresh_j: Array
    flame_j: Array
    ember_j: Array
    spread: Array
    ledger_j: Array               # heat let in less heat let out, since the start


@dataclass(frozen=True)
class Pots:
    """What stands in the oven, summed over its pots, each (lanes,): conductances to air, walls and floor [W/K], the
    same times the pots' outside temperature [W], and heat of earlier steps that is still owed to them [W].

    cover [-]: how much of the floor patch the pots hide from the cavity.
    """
    air_w_k: Array
    walls_w_k: Array
    floor_w_k: Array
    air_w: Array
    walls_w: Array
    floor_w: Array
    owed_w: Array
    cover: Array


@dataclass(frozen=True)
class Inputs:
    """What acts on the lanes during one step: open_share (lanes,) of the mouth's opening, 0 shut to 1 off."""
    open_share: Array
    pots: Pots | None = None


def build(numbers: OvenNumbers, probe_told_m: Array | None) -> Built:
    """Grids and conductances. probe_told_m (lanes,): told depth of the probe, nan where there is none."""
    lanes = numbers["across_m"].shape[0]
    floor_m, dome_m, insulation_m = numbers["floor_m"], numbers["dome_m"], numbers["insulation_m"]
    brick = conduction.graded_cells_m(np.stack([floor_m, floor_m, dome_m]), BRICK_CELLS, GROWTH)
    underlay = numbers["underlay_m"]
    back = conduction.graded_cells_m(np.stack([underlay, underlay, insulation_m]), BACK_CELLS, GROWTH)
    cell_m = np.concatenate([brick, back])                                 # (CELLS, 3, lanes)
    edge = np.concatenate([np.zeros((1, COLUMNS, lanes)), np.cumsum(cell_m, axis=0)])
    radius_m = 0.5 * numbers["across_m"]
    # The wall's area grows outwards: once for a vault, squared for a dome; the power between them serves for both.
    swell = np.ones_like(edge)
    swell[:, 2] = (1.0 + edge[:, 2] / radius_m) ** 1.5
    volume_ratio = 0.5 * (swell[1:] + swell[:-1])
    k_20 = np.empty((CELLS, COLUMNS, lanes))
    k_20[:BRICK_CELLS, :2], k_20[:BRICK_CELLS, 2] = numbers["floor_k_w_mk"], numbers["dome_k_w_mk"]
    k_20[BRICK_CELLS:, :2], k_20[BRICK_CELLS:, 2] = numbers["underlay_k_w_mk"], numbers["insulation_k_w_mk"]
    rc_20 = np.empty((CELLS, COLUMNS, lanes))
    rc_20[:BRICK_CELLS, :2], rc_20[:BRICK_CELLS, 2] = numbers["floor_rc_j_m3k"], numbers["dome_rc_j_m3k"]
    rc_20[BRICK_CELLS:, :2] = numbers["underlay_rc_j_m3k"] * (numbers["underlay_k_w_mk"] / 0.2) ** 0.4
    rc_20[BRICK_CELLS:, 2] = INSULATION_RC
    floor_m2 = np.pi * radius_m ** 2
    dome_m2 = floor_m2 * numbers["dome_area"]
    mouth_m2 = 0.14 * numbers["across_m"] ** 2 * numbers["mouth"]
    patch_m2 = np.minimum(PATCH_M2, 0.4 * floor_m2)
    area = np.stack([floor_m2 - patch_m2, patch_m2, dome_m2])
    flat = np.stack([floor_m2 - patch_m2, patch_m2, floor_m2])
    star = star_conductance_m2(area, BRICK_EMISSIVITY, flat, 2.0 * floor_m2 + mouth_m2)
    film = 1.0 / (1.0 / numbers["outer_w_m2k"] + back[-1, 2] / (2.0 * numbers["insulation_k_w_mk"]))
    stand = 1.0 / (1.0 / STAND_W_M2K + back[-1, 0] / (2.0 * numbers["underlay_k_w_mk"]))
    height_m = 0.28 * numbers["across_m"] * np.sqrt(numbers["mouth"])
    centre = edge[:BRICK_CELLS, 0] + 0.5 * brick[:, 0]
    girth_m, reach_m = 0.8, 0.10   # round the patch, to the middle of the floor around it
    lateral = numbers["lateral"] * numbers["floor_k_w_mk"] * brick[:, 0] * girth_m / (reach_m * patch_m2)
    slope = np.full_like(k_20, FIRECLAY.conductivity_slope_1_k)
    # Half the blanket's slope: part of the insulations of the literature do not rise so steeply.
    slope[BRICK_CELLS:, 2] = 0.5 * BLANKET.conductivity_slope_1_k
    return Built(
        _flat(0.5 * cell_m / k_20), _flat(slope), _flat(rc_20 * cell_m * volume_ratio), _flat(swell[1:-1]), centre,
        floor_m2, dome_m2, patch_m2, star, area, mouth_m2,
        np.asarray(mouth_coefficient_w_k(mouth_m2 / height_m, height_m)),
        np.asarray(combustion.opening_limited_kg_s(mouth_m2, height_m)) * WOOD_J_KG,
        np.concatenate([stand, stand, film * swell[-1, 2]]), np.tile(numbers["ambient_k"], COLUMNS),
        _flat(brick * volume_ratio[:BRICK_CELLS]) * BRICK_KG_M3 * LATENT_J_KG, lateral,
        _probe_weights(centre, numbers, probe_told_m))


def _flat(stacked: Array) -> Array:
    return stacked.reshape(stacked.shape[0], -1)


def _probe_weights(centre_m: Array, numbers: OvenNumbers, told_m: Array | None) -> Array:
    """Linear interpolation between cell centres at each lane's depth (BRICK_CELLS, lanes)."""
    lanes = centre_m.shape[1]
    told = np.full(lanes, np.nan) if told_m is None else told_m
    depth = np.where(np.isnan(told), 0.0, np.clip(told + numbers["probe_m"], 0.002, None))
    weight = np.zeros_like(centre_m)
    at = np.clip((centre_m < depth).sum(axis=0), 1, BRICK_CELLS - 1)
    lane = np.arange(lanes)
    low, high = centre_m[at - 1, lane], centre_m[at, lane]
    share = np.clip((depth - low) / (high - low), 0.0, 1.3)
    weight[at - 1, lane], weight[at, lane] = 1.0 - share, share
    return weight


def start(numbers: OvenNumbers) -> OvenState:
    """Cold or lately fired masonry at one temperature, damp as it stands."""
    lanes = numbers["across_m"].shape[0]
    warm = numbers["ambient_k"] + np.minimum(numbers["start_k"], 90.0)
    temp = np.tile(warm, (CELLS, COLUMNS))
    zero = np.zeros(lanes)
    water = np.tile(np.minimum(numbers["moisture"], 0.06), (BRICK_CELLS, COLUMNS))
    return OvenState(temp, water, np.tile(warm, (COLUMNS, 1)), warm, warm, warm, zero, zero, zero, zero, zero)


def step(state: OvenState, numbers: OvenNumbers, built: Built, inputs: Inputs, dt_s: float) -> tuple[OvenState, Array]:
    """One step of dt_s [s], 1 to 600; fluxes are implicit, coefficients are those at the start of the step.

    Returns the state and the heat (3, lanes) [W] that was reckoned for the pots: from air, walls, floor.
    """
    lanes = state.air_k.shape[0]
    ambient = numbers["ambient_k"]
    grip, flame_w, smoke_w_k, fire = _fire(state, numbers, built, dt_s)
    # Masonry: fold each column into its face.
    warm = state.temp_k - 293.15
    half = warm * built.k_slope_1_k
    half += 1.0
    np.divide(built.half_20_m2k_w, half, out=half)
    warm *= FIRECLAY.heat_capacity_slope_1_k
    warm += 1.0                                                   # heat capacity over that at 20 degC
    storage = built.store_20_j_m2k * warm
    storage /= dt_s
    right = storage * state.temp_k
    # Sideways between open floor and patch: the implicit step of each pair of cells, so that no step overshoots.
    patch_share = built.area_m2[1] / built.area_m2[0]
    stiff = built.lateral_w_m2k * (1.0 / storage[:BRICK_CELLS, lanes:2 * lanes]
                                   + patch_share / storage[:BRICK_CELLS, :lanes])
    across = built.lateral_w_m2k * (state.temp_k[:BRICK_CELLS, :lanes]
                                    - state.temp_k[:BRICK_CELLS, lanes:2 * lanes]) / (1.0 + stiff)
    right[:BRICK_CELLS, lanes:2 * lanes] += across
    right[:BRICK_CELLS, :lanes] -= across * patch_share
    folded = conduction.eliminate(storage, conduction.links_w_m2k(half, built.face_ratio), right, built.far_w_m2k,
                                  built.far_k)
    skin = half[0].reshape(COLUMNS, lanes)
    rest = folded.rest_k.reshape(COLUMNS, lanes)
    rise = folded.rise_k_m2_w.reshape(COLUMNS, lanes) + skin     # face above first cell centre, per W/m2
    # Cavity: two nodes, star (radiation) and air.
    star_old, face_old = state.star_k, state.face_k
    radiant = built.star_m2 * STEFAN_BOLTZMANN_W_M2K4 * (face_old ** 2 + star_old ** 2) * (face_old + star_old)
    film = built.area_m2 * numbers["inner_w_m2k"]
    # Over an open mouth hot air lies still under a hotter dome, unless a flame stirs it.
    still = np.exp(-flame_w / STIRS_W) * (state.face_k[2] > state.air_k)
    film[2] *= 1.0 - (1.0 - STILL) * inputs.open_share * still
    pots = inputs.pots
    direct, under = grip * FIRE_K, np.zeros_like(film)
    if pots is not None:
        bare = 1.0 - pots.cover
        radiant[1] *= bare
        film[1] *= bare
        beneath = numbers["under"]
        under[0], under[1] = (1.0 - beneath) * pots.floor_w_k, beneath * pots.floor_w_k
        direct[0] += (1.0 - beneath) * pots.floor_w
        direct[1] += beneath * pots.floor_w
    give = rise / built.area_m2
    hold_face = under + grip
    drag = 1.0 / (1.0 + give * (radiant + film + hold_face))
    fixed = drag * (rest + give * direct)                         # face with both nodes at 0 K
    by_star, by_air = drag * give * radiant, drag * give * film
    yard, air_loss = _losses(state, numbers, built, inputs, smoke_w_k)
    hold = built.floor_m2 * numbers["across_m"] * 0.35 * AIR_STORE_J_M3K / dt_s
    ss = (radiant * (1.0 - by_star)).sum(axis=0) + yard
    sa = (radiant * by_air).sum(axis=0)
    aa = (film * (1.0 - by_air)).sum(axis=0) + air_loss + hold
    right_s = (radiant * fixed).sum(axis=0) + yard * ambient
    right_a = (film * fixed).sum(axis=0) + air_loss * ambient + hold * state.air_k + flame_w
    if pots is not None:
        ss += pots.walls_w_k
        aa += pots.air_w_k
        right_s += pots.walls_w
        right_a += pots.air_w
    determinant = ss * aa - sa * sa
    star = (right_s * aa + sa * right_a) / determinant
    owed_w = np.zeros(lanes)
    if pots is not None:
        owed_w = _payable(pots.owed_w, star, determinant / aa, state, ambient)
        right_s -= owed_w
        star -= owed_w * aa / determinant
    air = (right_a * ss + sa * right_s) / determinant
    face = fixed + by_star * star + by_air * air
    flux = radiant * (star - face) + film * (air - face) + direct - hold_face * face
    taken = np.zeros_like(face) if pots is None else np.stack([
        pots.air_w_k * air - pots.air_w, pots.walls_w_k * star - pots.walls_w + (owed_w - pots.owed_w),
        under[0] * face[0] + under[1] * face[1] - pots.floor_w])
    linear = conduction.substitute(folded, (flux / built.area_m2).reshape(-1))
    back_w = built.far_w_m2k * (linear[-1] - built.far_k)
    np.subtract(linear, state.temp_k, out=linear)
    temp = conduction.true_rise_k(linear, FIRECLAY.heat_capacity_slope_1_k / warm)
    temp += state.temp_k
    temp, water, steam_j = _dry(temp, state.water, built, lanes)
    paid_w = 0.0 if pots is None else pots.owed_w    # what was not payable is taken off `taken`
    gained_w = ((grip * (FIRE_K - face)).sum(axis=0) + flame_w - taken.sum(axis=0) - paid_w - yard * (star - ambient)
                - air_loss * (air - ambient) - (back_w.reshape(COLUMNS, lanes) * built.area_m2).sum(axis=0))
    shown = _between(state.hang_k, air, 0.5 * (star + face[2]), numbers)
    hang = shown + (state.hang_k - shown) * np.exp(-dt_s / numbers["hang_s"])
    return OvenState(temp, water, face, air, star, hang, *fire, state.spread,
                     state.ledger_j + gained_w * dt_s - steam_j), taken


def _fire(state: OvenState, numbers: OvenNumbers, built: Built,
          dt_s: float) -> tuple[Array, Array, Array, tuple[Array, Array, Array]]:
    """How flames and embers hold the three faces (3, lanes) [W/K] at FIRE_K, heat to the air (lanes,) [W], smoke's
    conductance, what is left [J].

    The shares are what a cold face takes; a hotter one takes less by the law of radiation, and smoke has the rest.
    """
    if not (state.flame_j.any() or state.ember_j.any() or state.fresh_j.any()):
        zero = np.zeros_like(state.air_k)
        return np.zeros((COLUMNS, zero.size)), zero, zero, (state.fresh_j, state.flame_j, state.ember_j)
    fresh_left = state.fresh_j * np.exp(-dt_s / numbers["catch_s"])
    flame_j = state.flame_j + state.fresh_j - fresh_left
    # A heap of wood burns no faster than the mouth lets air in.
    flame_s = np.maximum(numbers["flame_s"], flame_j / built.most_flame_w)
    flame_left, ember_left, flamed, glowed = combustion.burn(flame_j, state.ember_j, flame_s, numbers["ember_s"], dt_s)
    flame_w, ember_w = flamed / dt_s, glowed / dt_s
    # Embers over the whole floor give it about half as much again (judgement).
    ember_floor = np.minimum(numbers["ember_to_floor"] * (1.0 + 0.5 * state.spread), 0.6)
    floor_w = numbers["flame_to_floor"] * flame_w + ember_floor * ember_w
    dome_w = numbers["flame_to_dome"] * flame_w + numbers["ember_to_dome"] * ember_w
    too_much = np.maximum((floor_w + dome_w) / np.maximum(flame_w + ember_w, 1e-9), 1.0)
    floor_w, dome_w = floor_w / too_much, dome_w / too_much
    air_w = np.maximum(flame_w + ember_w - floor_w - dome_w, 0.0)
    patch = PATCH_M2 / (np.pi * 0.25 * numbers["across_m"] ** 2)
    patch = np.minimum(patch, 0.4)
    to = np.stack([floor_w * (1.0 - patch), floor_w * patch, dome_w])
    face = np.minimum(state.face_k, FIRE_K)
    to *= (FIRE_K ** 2 + face ** 2) * (FIRE_K + face) / FIRE_K ** 4
    smoke = np.asarray(smoke_draught_w_k(
        flame_w + ember_w, np.maximum(numbers["draught_kg_kg"], LEAST_AIR_KG_KG), WOOD_J_KG))
    return to, air_w, smoke, (fresh_left, flame_left, ember_left)


def _payable(owed_w: Array, star_k: Array, stiff_w_k: Array, state: OvenState, ambient_k: Array) -> Array:
    """How much of a debt to the pots [W] this step can bear: no more than what brings the cavity to the coldest (or,
    paid back, the hottest) thing around it. stiff_w_k: heat that moves the node by a kelvin; the rest stays owed."""
    around = np.concatenate([state.face_k, state.air_k[None], state.star_k[None], ambient_k[None]])
    down = np.maximum(star_k - around.min(axis=0), 0.0) * stiff_w_k
    up = np.maximum(around.max(axis=0) - star_k, 0.0) * stiff_w_k
    payable: Array = np.clip(owed_w, -up, down)
    return payable


def hang_target_k(state: OvenState, numbers: OvenNumbers) -> Array:
    """Where the hanging thermometer is heading (lanes,) [K], its constant error left out."""
    return _between(state.hang_k, state.air_k, 0.5 * (state.star_k + state.face_k[2]), numbers)


def _between(hang_k: Array, air_k: Array, walls_k: Array, numbers: OvenNumbers) -> Array:
    """A small body between air (film) and walls (radiation); it hangs nearer the dome than the floor."""
    middle = 0.5 * (hang_k + walls_k)
    radiant = 4.0 * STEFAN_BOLTZMANN_W_M2K4 * middle * middle * middle
    film = numbers["hang_w_m2k"]
    shown: Array = (film * air_k + radiant * walls_k) / (film + radiant)
    return shown


def _losses(state: OvenState, numbers: OvenNumbers, built: Built, inputs: Inputs,
            smoke_w_k: Array) -> tuple[Array, Array]:
    """Conductances [W/K] to the yard: from the radiation node, and from the air."""
    ambient = numbers["ambient_k"]
    through = STEFAN_BOLTZMANN_W_M2K4 * (state.star_k ** 2 + ambient ** 2) * (state.star_k + ambient)
    shut = 1.0 / (1.0 / numbers["door_w_m2k"] + 1.0 / through)
    yard = built.mouth_m2 * (inputs.open_share * through + (1.0 - inputs.open_share) * shut)
    drive = np.sqrt(np.maximum(1.0 - ambient / state.air_k, 0.0))
    air = (inputs.open_share * built.mouth_w_k * drive + numbers["leak_w_k"] * built.mouth_m2 / 0.11 + smoke_w_k)
    return yard, air


def _dry(temp_k: Array, water: Array, built: Built, lanes: int) -> tuple[Array, Array, Array]:
    """Brick over the boiling point spends its excess heat on drying first. Returns steam's heat (lanes,) [J]."""
    brick = temp_k[:BRICK_CELLS]
    if not ((brick > DRY_K) & (water > 0.0)).any():
        return temp_k, water, np.zeros(lanes)
    over_k = np.maximum(brick - DRY_K, 0.0)
    slope = FIRECLAY.heat_capacity_slope_1_k
    warm = 1.0 + slope * (brick - 293.15)
    store = built.store_20_j_m2k[:BRICK_CELLS]
    spent = np.minimum(store * over_k * (warm - 0.5 * slope * over_k), water * built.dry_j_m2)
    temp = temp_k.copy()
    temp[:BRICK_CELLS] += conduction.true_rise_k(-spent / (store * warm), slope / warm)
    steam = (spent.reshape(BRICK_CELLS, COLUMNS, lanes).sum(axis=0) * built.area_m2).sum(axis=0)
    return temp, water - spent / built.dry_j_m2, steam


def stored_j(state: OvenState, built: Built, numbers: OvenNumbers) -> Array:
    """Heat in masonry and air above 20 degC (lanes,) [J]."""
    lanes = state.air_k.shape[0]
    rise = state.temp_k - 293.15
    held = built.store_20_j_m2k * (rise + 0.5 * FIRECLAY.heat_capacity_slope_1_k * rise ** 2)
    masonry: Array = (held.sum(axis=0).reshape(COLUMNS, lanes) * built.area_m2).sum(axis=0)
    air: Array = built.floor_m2 * numbers["across_m"] * 0.35 * AIR_STORE_J_M3K * (state.air_k - 293.15)
    masonry += air
    return masonry


def probe_k(state: OvenState, numbers: OvenNumbers, built: Built) -> Array:
    """What the floor probe shows at its depth (lanes,) [K]; the surface where no probe was told."""
    lanes = state.air_k.shape[0]
    open_k = (built.probe_weight * state.temp_k[:BRICK_CELLS, :lanes]).sum(axis=0)
    under_k = (built.probe_weight * state.temp_k[:BRICK_CELLS, lanes:2 * lanes]).sum(axis=0)
    shown: Array = open_k + numbers["probe_patch"] * (under_k - open_k)
    shown += numbers["probe_bias_k"]
    return shown


def thermometer_k(state: OvenState, numbers: OvenNumbers) -> Array:
    """What the hanging thermometer shows (lanes,) [K]."""
    shown: Array = state.hang_k + numbers["hang_bias_k"]
    return shown


