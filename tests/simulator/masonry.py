"""Nine zones of brick and backing around one body of gas, with a fire, a mouth, gusts and a pot. SI units, kelvins.

Zones: floor back, left, right, front, under the pot; dome crown, left, right, back.
"""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np

SIGMA = 5.670374e-8
FLOOR, DOME, SPOT = slice(0, 5), slice(5, 9), 4
BRICK, BACK = 16, 6
STEP_S = 15.0


@dataclass
class Kind:
    """What one oven is like; drawn once, kept for all its cooks."""

    across: float
    floor: float
    dome: float
    insulation: float
    probe: float
    tended: bool
    k_floor: float
    k_dome: float
    k_back: float
    k_under: float
    under: float
    rc: float
    bulge: float
    mouth: float
    leak: float
    door: float
    draught: float
    radiant: float
    ember_s: float
    flame_s: float
    hang_film: float
    hang_s: float
    hang_bias: float
    probe_bias: float
    outer: float
    place: int


def draw_kind(rng: np.random.Generator, tended: bool) -> Kind:
    """An oven: small and light if tended, else from 70 to 120 cm, brick, castable or clay, bare to well wrapped."""
    across = rng.uniform(0.55, 0.80) if tended else rng.uniform(0.70, 1.20)
    cm = lambda low, high: float(round(rng.uniform(low, high) * 100) / 100)  # noqa: E731
    floor = cm(0.03, 0.05) if tended else cm(0.04, 0.115)
    insulation = cm(0.01, 0.05) if tended else cm(0.02, 0.13)
    return Kind(
        across=float(round(across * 100) / 100), floor=floor, dome=cm(0.04, 0.07) if tended else cm(0.06, 0.14),
        insulation=insulation, probe=float(round(rng.uniform(0.4, 0.85) * floor * 100) / 100), tended=tended,
        k_floor=rng.uniform(0.6, 1.3), k_dome=rng.uniform(0.6, 1.4), k_back=np.exp(rng.normal(np.log(0.11), 0.4)),
        k_under=np.exp(rng.normal(np.log(0.22), 0.6)), under=rng.uniform(0.05, 0.15), rc=rng.uniform(1.45e6, 2.1e6),
        bulge=rng.uniform(1.5, 2.1), mouth=across**2 * rng.uniform(0.06, 0.14),
        leak=np.exp(rng.normal(np.log(0.0012), 0.6)), door=np.exp(rng.normal(np.log(3.0), 0.4)),
        draught=rng.uniform(9.0, 18.0), radiant=rng.uniform(0.22, 0.42),
        ember_s=rng.uniform(1400.0, 3200.0), flame_s=rng.uniform(500.0, 1100.0), hang_film=rng.uniform(8.0, 22.0),
        hang_s=rng.uniform(100.0, 320.0), hang_bias=rng.normal(-1.0, 2.5), probe_bias=rng.normal(0.0, 2.0),
        outer=rng.uniform(7.0, 15.0), place=int(rng.integers(0, 3)))


@dataclass
class Charge:
    """Wood laid on at one time: kg, net heat [J/kg], flames' time constant [s], delay before it burns [s]."""

    at_s: float
    kg: float
    heat: float
    flame_s: float
    wait_s: float
    burnt: float = 0.0


@dataclass
class Pot:
    """A lidded pot: metal and liquor as one body, meat as a slab of eight layers that ends at the boil.

    Steam past the lid takes heat as the vapour's pressure rises, so that a cool oven's pot never quite boils.
    """

    kg: float
    liquid: float
    boil: float
    warm: float
    half: float = 0.035
    done: float = 0.0
    body: float = field(init=False)
    meat: np.ndarray = field(init=False)

    def __post_init__(self) -> None:
        self.body, self.meat = self.warm, np.full(8, min(self.warm, 288.0))

    def step(self, into_w: float, dt: float) -> None:
        area, layer = self.kg / 1050.0 / (2 * self.half) * 2, self.half / 8
        meat = self.meat
        flow = np.empty(9)
        flow[0], flow[-1] = area * 120.0 * (self.body - meat[0]), 0.0
        flow[1:-1] = area * 0.47 / layer * (meat[:-1] - meat[1:])
        self.meat = meat + dt * (flow[:-1] - flow[1:]) / (self.kg / 8 * 3400.0)
        steam_w = 30.0 * np.exp((self.body - self.boil) / 18.0)
        self.body = min(self.body + dt * (into_w - flow[0] - steam_w) / (self.liquid * 4190.0 + 2600.0), self.boil)
        core = self.meat[-1] - 273.15
        self.done += dt / 3600.0 / 1.2 * np.exp((core - 95.0) / 4.0)


class Oven:
    """The state of one oven on one day; `step` moves it by STEP_S."""

    def __init__(self, kind: Kind, rng: np.random.Generator, ambient: float, warm: float, moisture: float) -> None:
        self.kind, self.rng, self.ambient = kind, rng, ambient
        floor_area = np.pi * kind.across**2 / 4
        spot = min(0.05, 0.3 * floor_area)
        share = np.array([0.28, 0.24, 0.24, 0.24]) * (floor_area - spot)
        dome = floor_area * kind.bulge * np.array([0.3, 0.25, 0.25, 0.2])
        self.area = np.concatenate([share, [spot], dome])
        thick = np.where(np.arange(9) < 5, kind.floor, kind.dome)
        back = np.where(np.arange(9) < 5, kind.under, kind.insulation)
        weights = 1.22 ** np.arange(BRICK)
        self.cell = np.concatenate([np.outer(weights / weights.sum(), thick), np.tile(back / BACK, (BACK, 1))])
        self.depth = np.cumsum(self.cell, axis=0) - 0.5 * self.cell
        self.is_floor = np.arange(9) < 5
        self.temp = np.full((BRICK + BACK, 9), warm)
        self.temp[BRICK:] -= 0.4 * (warm - ambient)
        self.water = np.tile(moisture * 2000.0 * self.cell[:BRICK], (1, 1)) * 2.4e6
        near = np.ones((9, 9))
        near[:5, :5] = 0.0
        for one, other, more in ((0, 8, 2.0), (1, 6, 2.0), (2, 7, 2.0), (3, 5, 1.3), (4, 5, 1.5)):
            near[one, other] = near[other, one] = more
        seen = self.area[:, None] * self.area[None, :] / self.area.sum() * near
        np.fill_diagonal(seen, 0.0)
        # No zone can see more than its own area; emissivity 0.9 on both sides.
        seen *= np.minimum.outer(*(2 * [np.minimum(self.area / seen.sum(axis=1), 1.3)]))
        self.seen = 0.82 * seen
        self.gas = self.hang = warm
        self.charges: list[Charge] = []
        self.ember, self.spread = 0.0, False
        self.open = 0.0
        self.plate = warm
        self.gust, self.pot = 0.0, None
        self.radiant_mean = warm

    @property
    def face(self) -> np.ndarray:
        return self.temp[0]

    def feed(self, at_s: float, kg: float, moisture: float, pieces: int) -> None:
        heat = (18.6e6 * (1 - moisture) - 2.44e6 * moisture) * self.rng.uniform(0.85, 1.0)
        size = (kg / max(pieces, 1) / 0.3) ** 0.35
        self.charges.append(Charge(at_s, kg, heat, self.kind.flame_s * size * self.rng.uniform(0.75, 1.3),
                                   self.rng.uniform(20.0, 200.0)))

    def rake(self) -> None:
        self.charges, self.ember, self.spread = [], self.ember * self.rng.uniform(0.0, 0.1), False

    def fire(self, now: float) -> tuple[float, float, float]:
        """Heat of flames and embers and wood burnt in this step [W, W, kg/s]."""
        air = 0.5 if self.open < 0.1 else 1.0
        flame_w = wood = 0.0
        for charge in self.charges:
            age = now - charge.at_s - charge.wait_s
            if age <= 0 or charge.burnt >= 1:
                continue
            # Gamma with shape 2: a rise, a peak, a tail.
            rate = age / charge.flame_s**2 * np.exp(-age / charge.flame_s) * (1.0 if air > 0.6 else 0.85)
            part = min(rate * STEP_S, 1.0 - charge.burnt)
            charge.burnt += part
            flame_w += 0.7 * part * charge.kg * charge.heat / STEP_S
            self.ember += 0.3 * part * charge.kg * charge.heat
            wood += part * charge.kg / STEP_S
        self.charges = [each for each in self.charges if each.burnt < 0.995 and now - each.at_s < 4 * 3600]
        ember_w = self.ember / (self.kind.ember_s / air**0.6)
        self.ember -= ember_w * STEP_S
        return flame_w, ember_w, wood + ember_w / 30e6

    def step(self, now: float) -> None:
        kind, rng, area = self.kind, self.rng, self.area
        self.gust = 0.985 * self.gust + 0.17 * rng.normal() * 0.25
        flame_w, ember_w, wood = self.fire(now)
        face = self.face
        fire_at = 1 if kind.tended else kind.place
        into = np.zeros(9)
        # Flames lick the crown and the near wall; embers warm what they lie on and shine on the rest.
        near_wall = {0: 8, 1: 6, 2: 7}[fire_at]
        cold = np.clip(1.0 - (face / 1450.0) ** 4, 0.0, 1.0)
        flame = np.zeros(9)
        flame[DOME], flame[FLOOR] = 0.13 * np.ones(4), 0.06 * np.ones(5)
        flame[5] += 0.2
        flame[near_wall] += 0.25
        into += kind.radiant * flame_w * flame / flame.sum() * cold
        everywhere = area[FLOOR] / area[FLOOR].sum()
        lie = everywhere if self.spread else 0.15 * everywhere + 0.85 * np.eye(5)[fire_at]
        into[FLOOR] += 0.22 * ember_w * lie * cold[FLOOR]
        into[DOME] += 0.30 * ember_w * area[DOME] / area[DOME].sum() * cold[DOME]
        to_gas = (1 - kind.radiant) * flame_w + 0.48 * ember_w
        # Exchange between zones, with the plate (door) or the yard, and with the pot.
        four = face**4
        into += SIGMA * (self.seen @ four - self.seen.sum(axis=1) * four)
        view = kind.mouth * area / area.sum() * 0.95
        behind = self.open * self.ambient**4 + (1 - self.open) * self.plate**4
        out = SIGMA * view * (four - behind)
        into -= out
        plate_w = (1 - self.open) * (SIGMA * view * (four - self.plate**4)).sum()
        pot_w = 0.0
        if self.pot is not None:
            sees = 0.07 * area[DOME] / area[DOME].sum() * 0.85
            wall = SIGMA * sees * (four[DOME] - self.pot.body**4)
            into[DOME] -= wall
            below = 2.2 * (face[SPOT] - self.pot.body)
            into[SPOT] -= below
            pot_w = wall.sum() + below + 0.12 * 6.0 * (self.gas - self.pot.body)
        # Films: thick over a cold floor, thin under a warm dome.
        apart = np.abs(face - self.gas) ** (1 / 3)
        film = np.where(self.is_floor, np.where(face > self.gas, 1.5, 0.6) * apart + 0.8, 1.2 * apart + 0.8)
        film += 3.0 * min(wood / 0.0005, 1.5)
        warm = max(self.gas - self.ambient, 0.0) / self.gas
        height = 0.3 * kind.across
        # Exchange through one opening: Cd / 3 A sqrt(g H dT / T), Cd 0.65 (heat reference, section 6).
        through = 0.65 / 3 * kind.mouth * self.open * 1.2 * np.sqrt(9.81 * height * warm) * np.exp(self.gust)
        through += kind.leak * np.sqrt(warm / 0.3) * (1 - self.open) * np.exp(1.5 * self.gust)
        flow = (through + kind.draught * wood) * 1040.0
        hold = 1.2 * 300.0 / self.gas * 1000.0 * 0.3 * kind.across**3 * 4.0 / STEP_S
        pot_gas = 0.72 if self.pot is not None else 0.0
        sum_film = (film * area).sum()
        body = 0.0 if self.pot is None else pot_gas * self.pot.body
        gas = ((film * area * face).sum() + to_gas + flow * self.ambient + hold * self.gas + body) / (
            sum_film + flow + hold + pot_gas)
        self.gas = gas
        into += film * area * (gas - face)
        self.conduct(into / area)
        self.plate += STEP_S * (plate_w / kind.mouth - kind.door * (self.plate - self.ambient)) / 25000.0
        if self.pot is not None:
            self.pot.step(pot_w, STEP_S)
        self.radiant_mean = float((self.face[DOME] ** 4).mean() * 0.7 + (self.face[FLOOR] ** 4).mean() * 0.3) ** 0.25
        rad = 4 * SIGMA * 0.85 * self.radiant_mean**3
        target = (kind.hang_film * gas + rad * self.radiant_mean) / (kind.hang_film + rad)
        self.hang += (target - self.hang) * (1 - np.exp(-STEP_S / kind.hang_s))

    def conduct(self, flux: np.ndarray) -> None:
        """One implicit step of all zones with sideways heat between the brick of neighbours."""
        kind, temp = self.kind, self.temp
        k = np.empty_like(temp)
        k[:BRICK] = np.where(self.is_floor, kind.k_floor, kind.k_dome) * (1 + 3e-4 * (temp[:BRICK] - 293))
        k[BRICK:] = np.where(self.is_floor, kind.k_under, kind.k_back) * (1 + 1.2e-3 * (temp[BRICK:] - 293))
        rc = np.full_like(temp, kind.rc)
        rc[:BRICK] *= 1 + 4.5e-4 * (temp[:BRICK] - 293)
        rc[BRICK:] = np.where(self.is_floor, 9e5, 2.5e5)
        store = rc * self.cell / STEP_S
        link = 1.0 / (0.5 * self.cell[:-1] / k[:-1] + 0.5 * self.cell[1:] / k[1:])
        right = store * temp
        right[0] += flux
        for group in (FLOOR, DOME):
            side = temp[:BRICK, group]
            right[:BRICK, group] += 0.9 * self.cell[:BRICK, group] / 0.06 * (side.mean(axis=1, keepdims=True) - side)
        own = store.copy()
        own[-1] += kind.outer
        right[-1] += kind.outer * self.ambient
        for row in range(len(own) - 1, 0, -1):
            part = link[row - 1] / (own[row] + link[row - 1])
            own[row - 1] += part * own[row]
            right[row - 1] += part * right[row]
        new = np.empty_like(temp)
        new[0] = right[0] / own[0]
        for row in range(1, len(own)):
            new[row] = (right[row] + link[row - 1] * new[row - 1]) / (own[row] + link[row - 1])
        boil = np.minimum(np.maximum(new[:BRICK] - 372.0, 0.0) * rc[:BRICK] * self.cell[:BRICK], self.water)
        new[:BRICK] -= boil / (rc[:BRICK] * self.cell[:BRICK])
        self.water = self.water - boil
        self.temp = new

    def shown(self) -> tuple[float, float]:
        """What the hanging thermometer and the floor probe (half under the pot) show [degC], reading noise left out."""
        place = 0.5 * self.temp[:, SPOT] + 0.5 * self.temp[:, 2]
        probe = float(np.interp(self.kind.probe, self.depth[:, SPOT], place))
        return self.hang - 273.15 + self.kind.hang_bias, probe - 273.15 + self.kind.probe_bias
