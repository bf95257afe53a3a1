"""What to buy for the dishes of a plan, scaled to the guests: raw and cooked weights, liquor, pots, wood, allergens.

Servings are those of skills/planning/amounts.py; cooked yields and the fill of pots are common practice, no source.
"""
from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from skills.dish.cuts import find_cut
from skills.planning.amounts import OVER, find
from skills.planning.firing_plan import POT_MOST_KG, Wish

# What is left on the plate of a raw weight: a third is lost in a braise, a quarter in a roast; bone is not eaten.
COOKED = {"braise": 0.65, "roast": 0.75, "bird": 0.60, "fish": 0.80, "beans": 2.3, "loaves": 0.88, "flatbreads": 0.85}
# Liquor comes half-way up the meat: by the pot, whatever the guests; beans drink what they are soaked in and more.
LIQUOR_L_KG = {"braise": 0.35, "beans": 1.5}
FILL = 2.0 / 3.0
# Dishes that nearly always hold one of the common allergens (flour, milk, egg); a label decides, not this list.
HOLDS: dict[str, tuple[str, ...]] = {"loaves": ("gluten",), "flatbreads": ("gluten",), "pudding": ("milk",),
                                     "custard": ("milk", "egg"), "fish": ("fish",)}
MARGIN_L = 0.5


@dataclass(frozen=True)
class Item:
    """One line of the list: what, how much raw, what comes of it, in which pots."""
    what: str
    raw_kg: float
    cooked_kg: float | None
    liquor_l: float
    pots: int
    pot_l: float
    flags: tuple[str, ...]

    def amounts(self) -> str:
        """ "shoulder 3.1 kg raw (2.0 on the plate), 1.1 l of liquor, 1 pot of 6 l" """
        parts = [f"{self.what} {self.raw_kg:.1f} kg raw"]
        if self.cooked_kg is not None:
            parts[0] += f" ({self.cooked_kg:.1f} on the plate)"
        if self.liquor_l > 0:
            parts.append(f"{self.liquor_l:.1f} l of liquor")
        if self.pots and self.pot_l > 0:
            parts.append(f"{self.pots} {'pot' if self.pots == 1 else 'pots'} of {self.pot_l:.0f} l")
        return ", ".join(parts)


def told_to_avoid(avoids: Mapping[str, int]) -> str:
    """ "2 avoid gluten, 1 avoids nuts" """
    return ", ".join(f"{count} {'avoids' if count == 1 else 'avoid'} {name}" for name, count in avoids.items())


def shopping(wishes: Sequence[Wish], guests: int, avoids: Mapping[str, int] | None = None) -> list[Item]:
    """The list for these dishes and so many guests, a tenth over. A weight that was said stands as it was said.

    avoids: allergen -> how many guests; a dish is flagged with those that its kind nearly always holds.
    """
    avoids = avoids or {}
    items = []
    for wish in wishes:
        kind = wish.heat.name
        told = wish.load.get("meat_kg")
        raw = float(told) if isinstance(told, float | int) else _raw_kg(wish, guests)
        poured = wish.load.get("liquid_l")
        liquor = float(poured) if isinstance(poured, float | int) else LIQUOR_L_KG.get(kind, 0.0) * raw
        pots = max(1, int(np.ceil(raw / POT_MOST_KG))) if liquor > 0 else 0
        pot_l = np.ceil((raw + liquor) / max(pots, 1) / FILL + MARGIN_L) if pots else 0.0
        flags = tuple(name for name in HOLDS.get(kind, ()) if name in avoids)
        share = COOKED.get(kind)
        items.append(Item(wish.dish, raw, None if share is None else share * raw, liquor, pots, float(pot_l), flags))
    return items


def _raw_kg(wish: Wish, guests: int) -> float:
    cut = wish.load.get("cut")
    serving = find(str(cut)) if cut else None
    serving = serving or find(wish.dish)
    if serving is None or serving.unit != "kg":
        return find_cut(None, wish.dish)[0].usual_kg
    return 0.5 * (serving.low + serving.high) * guests * OVER


def list_lines(items: Sequence[Item], guests: int, wood_kg: float, avoids: Mapping[str, int]) -> list[str]:
    """The shopping list in lines."""
    lines = [f"For {guests}, a tenth over:",
             *(f"- {item.amounts()}" + (f"; mind {', '.join(item.flags)}" if item.flags else "") for item in items)]
    if wood_kg > 0.0:
        lines.append(f"- wood: {np.ceil(wood_kg):.0f} kg dry splits, and as much again for one spare firing")
    if avoids:
        lines.append(f"- {told_to_avoid(avoids)}: read every label as you buy, and keep the labels")
    return lines
