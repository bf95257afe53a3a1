"""What is believed of a dish before it has been looked at: drawn from what was said, wide where nothing was."""
from __future__ import annotations

from dataclasses import dataclass
from typing import Protocol

import numpy as np

from skills.dish.cuts import Cut, cut_of
from skills.dish.finishes import slowings
from skills.dish.pans import BARE_FLOOR, find_pan
from skills.dish.state import CELLS, CORE_LAW, CRUST_LAW, RATE_LAW, Array, DishParameters, DishState
from skills.physics.constants import ZERO_CELSIUS_K
from skills.physics.food import heat_properties
from skills.physics.transient import shell_links, shell_shares
from skills.physics.water import boiling_k, pressure_at_altitude_pa

WATER_KG_L = 0.995                    # [kg/l] as it is measured, cold
ROOM_IN_POT = 1.4                     # [-] what a pot holds beside what is in it (common practice, no source)
SEEN_WALL = 1.0                       # [-] of a pot's side that trades radiation
LIDDED_FILM, OPEN_FILM = 3.0, 4.0     # [W/m2/K] still air round a lidded pot in a shut oven; round bread and roasts
# Share of its surface on which bread lies: a sheet, a loaf (common practice, no source).
SHEET_UNDER, LOAF_UNDER = 0.5, 0.25
# Brick: conductivity 0.86 W/m/K, diffusivity 4e-7 m2/s (Varlamov, Glatz and Grasso 2018, arXiv 1806.08790).
BRICK_W_MK, BRICK_M2_S = 0.86, 4e-7
PACKED = 1.25                         # [-] pieces of meat lie close and act thicker than one alone (from memory)
MEAT_START_C = {"cold": (12.0, 5.0), "warm": (19.0, 5.0), "hot": (20.0, 6.0), None: (15.0, 7.0)}
LIQUID_START_C = {"cold": (13.0, 5.0), "warm": (50.0, 9.0), "hot": (88.0, 6.0), None: (30.0, 22.0)}


class Load(Protocol):
    """What was said of a dish; anything may be None. `name` is the room's word for it."""
    @property
    def name(self) -> str: ...
    @property
    def cut(self) -> str | None: ...
    @property
    def meat_kg(self) -> float | None: ...
    @property
    def liquid_l(self) -> float | None: ...
    @property
    def pan(self) -> str | None: ...
    @property
    def start(self) -> str | None: ...
    @property
    def done_c(self) -> float | None: ...
    @property
    def contents(self) -> tuple[str, ...]: ...


@dataclass(frozen=True)
class Said:
    """A Load of plain values."""
    name: str = ""
    cut: str | None = None
    meat_kg: float | None = None
    liquid_l: float | None = None
    pan: str | None = None
    start: str | None = None
    done_c: float | None = None
    contents: tuple[str, ...] = ()


@dataclass(frozen=True)
class CutProfile:
    """What earlier classes taught of a cut: mean and spread of the log rate beside the table's."""
    log_rate: float = 0.0
    spread: float | None = None


def treated_as(load: Load) -> str:
    """The cut that the models take this dish for: said aloud when the word was not known."""
    return cut_of(load)[0].name


def half_thickness_m(cut: Cut, meat_kg: float, density_kg_m3: float) -> float:
    """Half the thickness of a piece [m]: a round bar as long as `slender` thicknesses; a sheet if shape is 0."""
    volume_m3 = min(cut.piece_kg or meat_kg, meat_kg) / density_kg_m3
    if cut.shape == 0.0:
        # A square sheet: volume = slender2 x thickness3.
        return float(0.5 * (volume_m3 / cut.slender ** 2) ** (1 / 3))
    packed = PACKED if 0.0 < cut.piece_kg < meat_kg and cut.finish.in_liquor and cut.finish.flesh else 1.0
    return packed * float((volume_m3 / (2.0 * np.pi * cut.slender)) ** (1 / 3))


def brick_w_m2k(span_s: float) -> float:
    """What hot brick gives to what lies on it, on average over this time, for each kelvin between the two [W/m2/K].

    Semi-infinite body whose surface is held colder: 2 k / sqrt(pi a t).
    """
    return 2.0 * BRICK_W_MK / float(np.sqrt(np.pi * BRICK_M2_S * span_s))


def _log(rng: np.random.Generator, lanes: int, value: float, spread: float) -> Array:
    """Log-normal draws about a median; exactly the median if spread is 0."""
    return np.asarray(value * np.exp(spread * rng.standard_normal(lanes)), dtype=np.float64)


def draw(rng: np.random.Generator, lanes: int, load: Load, altitude_m: float | None = None,
         profile: CutProfile | None = None, spread: float = 1.0) -> DishParameters:
    """A prior ensemble of a dish (lanes,). spread 0 gives the medians in every lane; 1 is the honest width.

    Every call draws the same count of numbers in the same order, whatever was said, so that a changed load moves
    the ensemble smoothly.
    """
    cut, known = cut_of(load)
    pan, pan_known = find_pan(load.pan)
    finish = cut.finish
    if finish.floor_s and not pan_known:
        pan = BARE_FLOOR
    laid = pan is BARE_FLOOR
    heat = heat_properties(cut.made_of, 60.0)
    weighed = load.meat_kg is not None and load.meat_kg > 0.0
    meat_kg = float(load.meat_kg) if weighed and load.meat_kg is not None else cut.usual_kg
    liquid_l = load.liquid_l if load.liquid_l is not None else _usual_liquid_l(cut, meat_kg)
    volume_l = meat_kg / heat.density_kg_m3 * 1e3 + max(liquid_l, 0.3)
    # A round pot with some room to spare, half as wide again as it is high.
    pot_volume_m3 = ROOM_IN_POT * 1e-3 * volume_l
    radius_m = (pot_volume_m3 * 1.5 / (2.0 * np.pi)) ** (1 / 3)
    height_m = pot_volume_m3 / (np.pi * radius_m ** 2)
    base_m2 = float(np.pi * radius_m ** 2)
    lidded = pan.lidded and (finish.in_liquor or (pan_known and liquid_l > 0.0))

    # Contact under a pot, lid leak, wall film, pot weight: no measured figures found. Medians follow six simulated
    # cooks loosely: given their ovens, what pots take up for what they let out differs by 0.4 in its logarithm, which
    # the spreads of leak, contact and film share. Oven film 2 to 6 W/m2/K in a closed hot oven (common practice).
    mass = _log(rng, lanes, meat_kg, spread * (0.03 if weighed else 0.30))
    thick = _log(rng, lanes, 1.0, spread * (0.10 if known else 0.2))
    pot_kg = _log(rng, lanes, pan.base_kg + pan.per_litre_kg * ROOM_IN_POT * volume_l,
                  spread * (0.3 if pan_known else 0.45))
    size = _log(rng, lanes, 1.0, spread * 0.15)
    emissivity = np.clip(pan.emissivity + spread * 0.07 * rng.standard_normal(lanes), 0.05, 0.97)
    contact = _log(rng, lanes, brick_w_m2k(finish.floor_s) if laid and finish.floor_s else 60.0, spread * 0.3)
    film = _log(rng, lanes, LIDDED_FILM if lidded else OPEN_FILM, spread * 0.25)
    inner = _log(rng, lanes, pan.wall_film_w_m2k, spread * 0.3)
    leak = np.clip(_log(rng, lanes, pan.leak, spread * pan.leak_spread), 0.005, 0.9)
    juice = cut.juice_share * _log(rng, lanes, 1.0, spread * 0.25)
    poured = _log(rng, lanes, max(liquid_l, 1e-6), spread * (0.05 if load.liquid_l is not None else 0.5))
    slowed = slowings(finish, load.contents)
    slower = float(np.prod([each.times for each in slowed]))
    unsure = float(np.sqrt(sum(each.log_spread ** 2 for each in slowed)))
    taught_spread = finish.spread if profile is None or profile.spread is None else profile.spread
    rate = _log(rng, lanes, 1.0, spread * float(np.hypot(taught_spread, unsure if known else np.hypot(unsure, 0.25))))
    activation = _log(rng, lanes, 1.0, spread * finish.activation_spread)
    uneven = _log(rng, lanes, finish.unevenness, spread * 0.3)
    conductivity = _log(rng, lanes, heat.conductivity_w_mk * cut.moves_heat, spread * 0.07)
    target_k = ZERO_CELSIUS_K + finish.target_c + spread * 2.0 * rng.standard_normal(lanes)
    salt_k = np.abs(0.3 + spread * 0.1 * rng.standard_normal(lanes))

    ones = np.ones(lanes)
    pressure = pressure_at_altitude_pa(altitude_m or 0.0) * ones
    taught = 0.0 if profile is None else profile.log_rate
    thermal = finish.law != "core"
    hours = finish.hours_at_90 * cut.slower * slower
    law = {"rate": RATE_LAW, "core": CORE_LAW, "crust": CRUST_LAW}[finish.law]
    grown_m = half_thickness_m(cut, meat_kg, heat.density_kg_m3) * thick
    if not cut.piece_kg:
        grown_m = grown_m * (mass / meat_kg) ** (1 / 3)
    base, mouth = base_m2 * size, base_m2 * size
    walls = (SEEN_WALL * 2.0 * np.pi * radius_m * height_m + base_m2) * size
    if laid:
        under = SHEET_UNDER if cut.shape == 0.0 else LOAF_UNDER
        base = under * (cut.shape + 1.0) * mass / heat.density_kg_m3 / grown_m
        walls = mouth = np.zeros(lanes)
    return DishParameters(
        meat_kg=mass, half_thickness_m=grown_m, shape=cut.shape * ones, conductivity_w_mk=conductivity,
        density_kg_m3=heat.density_kg_m3 * ones, capacity_j_kgk=heat.heat_capacity_j_kgk * ones,
        pot_capacity_j_k=pot_kg * pan.capacity_j_kgk,
        pot_area_m2=walls, base_area_m2=base, mouth_area_m2=mouth, emissivity=emissivity, contact_w_m2k=contact,
        film_w_m2k=film, liquid_film_w_m2k=inner, meat_film_w_m2k=250.0 * ones, lid_on=float(lidded) * ones,
        lid_leak=leak, juice_share=np.clip(juice, -1.2, 0.45), liquid_start_kg=poured * WATER_KG_L,
        boiling_k=boiling_k(pressure) + salt_k, pressure_pa=pressure,
        rate_1_s=(np.exp(taught) * rate / (3600.0 * hours)) if thermal else 1e-12 * ones,
        activation_j_mol=(finish.activation_j_mol or 60e3) * activation,
        onset_k=(finish.onset_c + ZERO_CELSIUS_K) * ones, unevenness=uneven, law=law * ones, target_k=target_k,
        laid=float(laid) * ones, underside=float(finish.crust == "underside") * ones,
        shell_share=shell_shares(cut.shape * ones, CELLS).T, shell_link=shell_links(cut.shape * ones, CELLS).T,
        treated_as=cut.name)


def _usual_liquid_l(cut: Cut, meat_kg: float) -> float:
    """Liquor if none was said: about a third of the meat, more for what drinks, none for what bakes or roasts."""
    if not cut.finish.in_liquor:
        return 0.0
    return meat_kg * (0.35 if cut.juice_share >= 0.0 else 1.5 - 3.0 * cut.juice_share)


def initial_state(parameters: DishParameters, meat_k: Array | float, liquid_k: Array | float,
                  pot_k: Array | float | None = None) -> DishState:
    """The dish as it stands before it goes in; temperatures (lanes,) or one for all [K]."""
    ones = np.ones(parameters.lanes)
    meat, liquid = meat_k * ones, liquid_k * ones
    pot = 0.5 * (liquid + ZERO_CELSIUS_K + 18.0) if pot_k is None else pot_k * ones
    # A boiling kettle poured at a height boils no hotter than the school's water.
    liquid = np.minimum(liquid, parameters.boiling_k)
    cells = np.zeros((parameters.lanes, CELLS))
    zeros = np.zeros(parameters.lanes)
    return DishState(pot, liquid, parameters.liquid_start_kg.copy(), cells + meat[:, None], cells.copy(), cells.copy(),
                     zeros.copy(), zeros.copy(), zeros.copy())


def draw_state(rng: np.random.Generator, parameters: DishParameters, load: Load, room_k: float = ZERO_CELSIUS_K + 17.0,
               spread: float = 1.0) -> DishState:
    """The dish as it goes in, with an honest spread about the said start (cold, warm, hot, or nothing said)."""
    lanes = parameters.lanes
    start = load.start if load.start in MEAT_START_C else None
    meat_c, meat_spread = MEAT_START_C[start]
    liquid_c, liquid_spread = LIQUID_START_C[start]
    meat = ZERO_CELSIUS_K + np.clip(meat_c + spread * meat_spread * rng.standard_normal(lanes), 2.0, 40.0)
    liquid = ZERO_CELSIUS_K + np.clip(liquid_c + spread * liquid_spread * rng.standard_normal(lanes), 3.0, 100.0)
    return initial_state(parameters, meat, liquid, 0.5 * (liquid + room_k))
