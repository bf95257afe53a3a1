"""Pans by the words for them: weight, heat capacity, surface and lid."""
from __future__ import annotations

import re
from dataclasses import dataclass


@dataclass(frozen=True)
class Pan:
    """base_kg and per_litre_kg: weight against what the pan holds; wall_film_w_m2k: from the outside of the wall to the
    liquid; leak [-]: exchange through a closed lid's gap beside an open pot. Heat capacities and emissivities are those
    of the material tables (cast iron 450, clay 800, steel 460 J/kg/K); weights and leaks: common practice, no source.
    """
    name: str
    words: tuple[str, ...]
    base_kg: float
    per_litre_kg: float
    capacity_j_kgk: float
    emissivity: float
    wall_film_w_m2k: float = 500.0
    leak: float = 0.18
    leak_spread: float = 0.35
    lidded: bool = True


PANS: tuple[Pan, ...] = (
    Pan("enamelled steel", ("enamel", "enamelled", "roaster"), 0.8, 0.22, 480.0, 0.88, leak=0.21),
    Pan("clay", ("clay", "earthenware", "terracotta", "crock", "tagine", "cazuela", "pottery", "ceramic", "stoneware",
                 "bean pot"), 1.4, 0.45, 800.0, 0.90, wall_film_w_m2k=150.0, leak=0.24),
    Pan("steel", ("steel", "stainless", "saucepan", "stock pot", "stockpot", "hotel pan", "gastro"), 0.8, 0.20,
        460.0, 0.35),
    Pan("aluminium", ("aluminium", "alu", "foil"), 0.3, 0.10, 900.0, 0.20, leak=0.30),
    Pan("copper", ("copper",), 1.2, 0.4, 385.0, 0.25),
    Pan("open tin", ("tin", "tray", "roasting tin", "skillet", "frying pan", "rack"), 0.8, 0.15, 470.0,
        0.80, lidded=False),
    Pan("bare floor", ("stone", "peel", "floor", "sole", "hearth", "tiles", "bricks"), 0.03, 0.0, 470.0, 0.80,
        lidded=False),
    Pan("cast iron", ("iron", "cast", "dutch oven", "casserole", "cocotte", "cauldron"), 1.0, 0.40, 450.0, 0.85),
)
DEFAULT = next(pan for pan in PANS if pan.name == "cast iron")
BARE_FLOOR = next(pan for pan in PANS if pan.name == "bare floor")


def find_pan(said: str | None) -> tuple[Pan, bool]:
    """The pan that the words name and whether they did.

    >>> find_pan("the big clay pot")[0].name
    'clay'
    """
    words = " " + re.sub(r"[^a-z]+", " ", (said or "").lower()).strip() + " "
    for pan in PANS:
        if any(f" {word} " in words for word in pan.words):
            return pan, True
    return DEFAULT, False
