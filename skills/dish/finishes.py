"""How a dish comes to be done: one entry a finish, each with its law and where its figures come from."""
from __future__ import annotations

from dataclasses import dataclass
from typing import Literal


@dataclass(frozen=True)
class Finish:
    """law "rate": progress by an Arrhenius rate, done when the slowest part has had enough; law "core": done when the
    middle reaches target_c.

    hours_at_90 [h]: time at 90 degC to progress 1 (half of that spot counts as tender); activation_j_mol [J/mol];
    unevenness [-]: spread of log progress within a piece; spread [-]: standard deviation of the log rate between
    animals, harvests, batches. done: how people call it; trial: how they find out.
    rests: it is taken out before it is there, and goes on warming in the middle.
    """
    name: str
    law: Literal["rate", "core"]
    source: str
    hours_at_90: float = 0.0
    activation_j_mol: float = 0.0
    activation_spread: float = 0.08
    unevenness: float = 0.25
    spread: float = 0.20
    target_c: float = 0.0
    done: str = "tender"
    trial: str = "try a fork in"
    rests: bool = False


COLLAGEN = Finish(
    "collagen", "rate",
    "Calibrated: a steady 150 degC oven takes about 4 h, a steady 100 degC oven 8 to 10 h (common practice, no "
    "source). The rate's rise with temperature follows from those two; spread between animals from memory.",
    hours_at_90=2.2, activation_j_mol=120e3, unevenness=0.20, spread=0.20)
PULSE = Finish(
    "pulse", "rate",
    "Soaked beans are tender after 45 to 90 min at a simmer (common practice, no source); softening of pulses near "
    "the boil doubles to trebles in 10 K (from memory).",
    hours_at_90=1.75, activation_j_mol=95e3, unevenness=0.12, spread=0.35)
ROOT = Finish(
    "root", "rate",
    "Roots in 3 to 4 cm pieces soften in 20 to 40 min at a simmer, hardly at all under 80 degC (common practice, no "
    "source); pectin softening 90 to 120 kJ/mol (from memory).",
    hours_at_90=1.2, activation_j_mol=110e3, unevenness=0.2, spread=0.30)
GRAIN = Finish(
    "grain", "rate",
    "Rice in milk: 2 to 3 h from 130 degC falling (common practice, no source); starch swells from about 70 degC up.",
    hours_at_90=1.0, activation_j_mol=75e3, unevenness=0.2, spread=0.25)
CUSTARD = Finish("custard", "core", "A custard sets at 80 to 85 degC in the middle (common practice, no source).",
                 target_c=82.0, done="set", trial="shake")
BREAD = Finish("bread", "core", "A loaf is baked at 93 to 98 degC in the middle (common practice, no source).",
               target_c=95.0, done="baked", trial="tap or probe")
FLATBREAD = Finish("flatbread", "core", "Thin dough is done in 1 to 3 min, near the boil all through "
                   "(common practice, no source).", target_c=94.0, done="baked", trial="look at")
ROAST = Finish("roast", "core", "A roast is done at the core temperature that the cook wants; unless one is said, "
               "70 degC as in UK cooking guidance (70 degC for 2 min).", target_c=70.0, done="at 70 in the middle",
               trial="probe", rests=True)
BIRD = Finish("bird", "core", "74 degC in the thickest part (US Food Code, poultry).", target_c=74.0,
              done="at 74 in the thickest part", trial="probe")
FISH = Finish("fish", "core", "63 degC in the middle (US Food Code, fish).", target_c=63.0, done="at 63 in the middle",
              trial="probe")

FINISHES: tuple[Finish, ...] = (COLLAGEN, PULSE, ROOT, GRAIN, CUSTARD, BREAD, FLATBREAD, ROAST, BIRD, FISH)


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
