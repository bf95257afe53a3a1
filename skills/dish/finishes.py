"""How a dish comes to be done: one entry a finish, each with its law, the heat it wants and its source.

A new finish is a new entry here and the words for it in skills/dish/cuts.py; nothing else names a finish.
"""
from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import Literal

from skills.dish import heats
from skills.dish.heats import Heat
from skills.physics.constants import GAS_CONSTANT_J_MOLK, ZERO_CELSIUS_K

BRIEF_S = 300.0


@dataclass(frozen=True)
class Finish:
    """law "rate": progress by an Arrhenius rate, done when the slowest part has had enough; law "core": done when the
    middle reaches target_c; law "crust": both of the middle, and of the crust by the rate.

    heat: what it wants as it goes in.
    hours_at_90 [h]: time at 90 degC to progress 1 (half of that spot counts as tender); activation_j_mol [J/mol];
    onset_c [degC]: no progress below; unevenness [-]: spread of log progress within a piece; spread [-]: standard
    deviation of the log rate between animals, harvests, batches.
    crust: which side of it has to brown; floor_s [s]: it lies on the bare floor about so long, unless a pan is said.
    in_liquor: cooked in it, under a lid; flesh: meat, bird or fish. done: how people call it; trial: how they find out.
    rests: it is taken out before it is there, and goes on in the middle. least_c [degC]: asked for less, it still goes
    to here.
    """
    name: str
    law: Literal["rate", "core", "crust"]
    heat: Heat
    source: str
    hours_at_90: float = 0.0
    activation_j_mol: float = 0.0
    activation_spread: float = 0.08
    onset_c: float = 0.0
    unevenness: float = 0.25
    spread: float = 0.20
    target_c: float = 0.0
    crust: Literal["top", "underside"] = "top"
    floor_s: float = 0.0
    done: str = "tender"
    trial: str = "try a fork in"
    in_liquor: bool = False
    flesh: bool = False
    rests: bool = False
    least_c: float = 0.0

    @property
    def brief(self) -> bool:
        """Done in minutes, on a floor that somebody stands by."""
        return 0.0 < self.floor_s <= BRIEF_S

    def at(self, core_c: float) -> Finish:
        """The finish with another core heat [degC] in place of its own; as it is, where the core does not tell."""
        if self.law == "rate":
            return self
        target_c = max(core_c, self.least_c)
        return replace(self, target_c=target_c, done=self.done.replace(f"{self.target_c:.0f}", f"{target_c:.0f}"))


def hours_at_90(factor_1_s: float, activation_j_mol: float, share: float) -> float:
    """Time [h] at 90 degC in which a first-order change with this factor [1/s] is `share` [-] of the way."""
    rate_1_s = factor_1_s * math.exp(-activation_j_mol / (GAS_CONSTANT_J_MOLK * (ZERO_CELSIUS_K + 90.0)))
    return -math.log1p(-share) / rate_1_s / 3600.0


# Browning of bread crust, dry crumb on a hot plate at 140 to 250 degC: first order, from nothing to burnt (Zanoni, Peri
# and Bruno 1995, LWT 28:604). Crust browns once it is dry, over about 120 degC (review of Purlis 2010, J Food Eng
# 99:239, from memory). A third of the way to burnt is a golden crust: by the usual bake of a loaf, 35 to 50 min at
# 230 degC (common practice, no source).
BROWNING_1_S, BROWNING_J_MOL, BROWN, BROWNS_FROM_C = 42_000.0, 64_151.0, 1.0 / 3.0, 120.0
_BROWN_H = hours_at_90(BROWNING_1_S, BROWNING_J_MOL, BROWN)
_BROWNING = "Browning: Zanoni, Peri and Bruno 1995 (LWT 28:604). "

COLLAGEN = Finish(
    "collagen", "rate", heats.BRAISE,
    "Calibrated: a steady 150 degC oven takes about 4 h, a steady 100 degC oven 8 to 10 h (common practice, no "
    "source). The rate's rise with temperature follows from those two; spread between animals from memory.",
    hours_at_90=2.45, activation_j_mol=120e3, activation_spread=0.06, unevenness=0.20, spread=0.18, in_liquor=True,
    flesh=True)
PULSE = Finish(
    "pulse", "rate", heats.PULSES,
    "Soaked beans are tender after 45 to 90 min at a simmer (common practice, no source); softening of pulses near "
    "the boil doubles to trebles in 10 K (from memory).",
    hours_at_90=1.75, activation_j_mol=95e3, unevenness=0.12, spread=0.35, in_liquor=True)
ROOT = Finish(
    "root", "rate", heats.ROOTS,
    "Roots in 3 to 4 cm pieces soften in 20 to 40 min at a simmer, hardly at all under 80 degC (common practice, no "
    "source); pectin softening 90 to 120 kJ/mol (from memory).",
    hours_at_90=1.2, activation_j_mol=110e3, unevenness=0.2, spread=0.30, in_liquor=True)
GRAIN = Finish(
    "grain", "rate", heats.PUDDING,
    "Rice cooks by a first-order rate of about 17 kcal/mol below the boil (Kinetic studies on cooking of rice of "
    "various polishing degrees, abstract), and not through below 61 degC (Prog Colloid Polym Sci 136, abstract). In "
    "milk 2 to 3 h from 130 degC falling (common practice, no source).",
    hours_at_90=1.0, activation_j_mol=71e3, onset_c=61.0, unevenness=0.2, spread=0.25, done="cooked", trial="taste",
    in_liquor=True)
CUSTARD = Finish(
    "custard", "rate", heats.CUSTARD,
    "Egg in milk sets between 80 and 85 degC and curdles over that (handbooks of cookery); heated slowly it sets some "
    "degrees lower. Unfolding of egg white about 400 kJ/mol (from memory); the time follows from those two.",
    hours_at_90=0.0031, activation_j_mol=400e3, activation_spread=0.02, onset_c=65.0, unevenness=0.2, spread=0.6,
    done="set", trial="shake", rests=True)
BREAD = Finish(
    "bread", "crust", heats.LOAVES,
    _BROWNING + "The middle at 93 to 98 degC (common practice, no source), between set starch, 80 to 90, and the most "
    "that it comes to, 90 to 100 (Hamelman, Bread: a baker's book).",
    hours_at_90=_BROWN_H, activation_j_mol=BROWNING_J_MOL, activation_spread=0.0, onset_c=BROWNS_FROM_C, spread=0.15,
    target_c=95.0, floor_s=2400.0, done="baked", trial="tap or probe")
FLATBREAD = Finish(
    "flatbread", "crust", heats.FLATBREADS,
    _BROWNING + "On brick at 325 to 330 degC 2 min, at 390 degC under 1 min (Varlamov, Glatz and Grasso 2018, "
    "arXiv 1806.08790).",
    hours_at_90=_BROWN_H, activation_j_mol=BROWNING_J_MOL, activation_spread=0.0, onset_c=BROWNS_FROM_C, spread=0.25,
    target_c=94.0, crust="underside", floor_s=120.0, done="baked", trial="look under")
CAKE = Finish(
    "cake", "crust", heats.CAKES,
    _BROWNING + "What is sweet browns sooner, in a fifth of the time; the middle sets at 96 to 99 degC (common "
    "practice, no source).",
    hours_at_90=_BROWN_H / 5.0, activation_j_mol=BROWNING_J_MOL, activation_spread=0.0, onset_c=BROWNS_FROM_C,
    spread=0.25, target_c=97.0, done="baked", trial="put a skewer in")
ROAST = Finish(
    "roast", "core", heats.ROAST,
    "A roast is done at the core temperature that the cook wants; unless one is said, 70 degC as in UK cooking "
    "guidance (70 degC for 2 min).",
    target_c=70.0, done="at 70 in the middle", trial="probe", flesh=True, rests=True)
BIRD = Finish(
    "bird", "core", heats.BIRD, "74 degC in the thickest part (US Food Code, poultry).",
    target_c=74.0, done="at 74 in the thickest part", trial="probe", flesh=True, least_c=74.0)
MINCED = Finish(
    "minced", "core", heats.ROAST, "70 degC in the middle for 2 min (UK cooking guidance); 71 degC (US, from memory).",
    target_c=71.0, done="at 71 in the middle", trial="probe", flesh=True, least_c=71.0)
BAKE = Finish(
    "bake", "core", heats.ROAST, "75 degC in the middle for 30 s, an equal of 70 for 2 min (UK cooking guidance).",
    target_c=75.0, done="at 75 in the middle", trial="probe")
FISH = Finish(
    "fish", "core", heats.FISH, "63 degC in the middle (US Food Code, fish).",
    target_c=63.0, done="at 63 in the middle", trial="probe", flesh=True)


@dataclass(frozen=True)
class Slowing:
    """Something in the water that changes how fast a finish comes: times [-] as long, log_spread [-] of that.

    words: what it is called; finishes: those that it acts on.
    """
    name: str
    words: tuple[str, ...]
    finishes: tuple[Finish, ...]
    times: float
    log_spread: float
    says: str
    source: str


SLOWINGS: tuple[Slowing, ...] = (
    Slowing("acid", ("tomato", "tomatoes", "passata", "vinegar", "lemon", "wine", "molasses", "treacle", "tamarind",
                     "cider", "ketchup", "yoghurt", "yogurt"), (PULSE, ROOT), 1.5, 0.25,
            "Acid in the pot keeps it firm longer: that is reckoned in.",
            "Cooks put tomatoes and vinegar to pulses and roots when these are soft, since acid keeps them firm "
            "(common practice, no source); a third to twice as long (from memory)."),
    Slowing("hard water", ("hard water", "chalky water", "limey water"), (PULSE,), 1.35, 0.2,
            "Hard water keeps them firm longer: that is reckoned in.",
            "Pulses soften slower in hard water, whose lime binds the pectin (common practice, no source; size from "
            "memory)."),
    Slowing("soda", ("bicarbonate", "bicarb", "baking soda", "soda"), (PULSE,), 0.65, 0.25,
            "Soda softens them sooner: that is reckoned in.",
            "A pinch of soda softens pulses sooner (common practice, no source; size from memory)."),
)


def slowings(finish: Finish, contents: tuple[str, ...]) -> tuple[Slowing, ...]:
    """What of the contents, as people call them, changes how fast the finish comes; each once."""
    told = [f" {item.lower()} " for item in contents]
    return tuple(each for each in SLOWINGS if finish in each.finishes
                 and any(f" {word} " in item for word in each.words for item in told))
