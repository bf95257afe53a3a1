"""What to buy for the dishes of a plan, scaled to the guests: raw and cooked weights, what goes with them, pots, wood,
allergens.

Servings are those of skills/planning/amounts.py; what goes into a dish, cooked yields and the fill of pots are common
practice, no source.
"""
from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from skills.allergens.sheet import avoided, cell, clashes
from skills.planning.amounts import OVER, serving_of
from skills.planning.firing_plan import POT_MOST_KG, Wish
from skills.record import ClassRecord

# What is left on the plate of a raw weight: a third is lost in a braise, a quarter in a roast; bone is not eaten.
COOKED = {"braise": 0.65, "roast": 0.75, "bird": 0.60, "fish": 0.80, "beans": 2.3, "loaves": 0.88, "flatbreads": 0.85,
          "cakes": 0.9}
# How the weight of a kind is meant; other kinds: raw.
WEIGHED = {"loaves": "dough", "flatbreads": "dough", "cakes": "batter", "beans": "dry", "pudding": "dry rice",
           "custard": "mixed"}
# What a kilogram of that takes besides, the liquid of a pot first: half-way up the meat, whatever the guests; beans
# drink what they are soaked in and more; ten times a pudding's rice in milk; dough of 65 parts water to 100 of flour.
_DOUGH = (("flour", 0.60, "kg"), ("water", 0.39, "l"), ("salt", 0.012, "kg"))
PARTS: dict[str, tuple[tuple[str, float, str], ...]] = {
    "braise": (("liquor", 0.35, "l"),), "beans": (("liquor", 1.5, "l"),),
    "pudding": (("milk", 10.0, "l"), ("sugar", 0.75, "kg")),
    "custard": (("milk or cream", 0.70, "l"), ("eggs", 5.0, ""), ("sugar", 0.10, "kg")),
    "cakes": (("flour", 0.25, "kg"), ("butter", 0.25, "kg"), ("sugar", 0.25, "kg"), ("eggs", 5.0, "")),
    "loaves": _DOUGH, "flatbreads": _DOUGH}
# Kinds that stand in a pot with their liquid.
IN_POTS = ("braise", "beans", "pudding")
PIECE_KG = {"loaves": 0.8, "flatbreads": 0.12}
FILL = 2.0 / 3.0
# Dishes that nearly always hold one of the common allergens (flour, milk, egg); a label decides, not this list.
HOLDS: dict[str, tuple[str, ...]] = {"loaves": ("gluten",), "flatbreads": ("gluten",), "pudding": ("milk",),
                                     "custard": ("milk", "egg"), "cakes": ("gluten", "milk", "egg"),
                                     "fish": ("fish",)}
MARGIN_L = 0.5


@dataclass(frozen=True)
class Item:
    """One line of the list: what, how much raw, what comes of it, what it takes besides, in which pots.

    parts: (name, amount, unit); flags: allergens that a guest avoids.
    """
    what: str
    weighed: str
    raw_kg: float
    cooked_kg: float | None
    pieces: int
    parts: tuple[tuple[str, float, str], ...]
    pots: int
    pot_l: float
    flags: tuple[str, ...]

    @property
    def liquor_l(self) -> float:
        """The liquid in its pots [l]."""
        return sum(amount for _, amount, unit in self.parts if unit == "l") if self.pots else 0.0

    def amounts(self) -> str:
        """ "shoulder 3.1 kg raw (2.0 on the plate), 1.1 l of liquor, 1 pot of 6 l" """
        cooked = f" ({self.cooked_kg:.1f} on the plate)" if self.cooked_kg is not None else ""
        pieces = f", {self.pieces} of {1000 * self.raw_kg / self.pieces:.0f} g" if self.pieces else ""
        pots = [f"{self.pots} {'pot' if self.pots == 1 else 'pots'} of {self.pot_l:.0f} l"] if self.pots else []
        return ", ".join([f"{self.what} {self.raw_kg:.1f} kg {self.weighed}{cooked}{pieces}",
                          *(_amount(*part) for part in self.parts), *pots])


def _amount(name: str, much: float, unit: str) -> str:
    """ "1.1 l of liquor", "30 g of salt", "5 eggs" """
    if unit == "":
        return f"{np.ceil(much):.0f} {name}"
    return f"{much:.1f} {unit} of {name}" if unit == "l" or much >= 0.1 else f"{1000 * much:.0f} g of {name}"


def mind(wishes: Sequence[Wish], record: ClassRecord) -> str:
    """ "2 avoid gluten: loaves nearly always hold gluten; lamb: gluten (flour 07:40)" for those who shop; "" if nobody
    was said to avoid anything."""
    if not record.avoids:
        return ""
    held = []
    for name in record.avoids:
        usual = [wish.dish for wish in wishes if name in HOLDS.get(wish.heat.name, ())]
        if usual:
            one = len(usual) == 1 and not usual[0].endswith("s")
            held.append(f"{' and '.join(usual)} nearly always {'holds' if one else 'hold'} {name}")
    held += [f"{wish.dish}: {', '.join(logged)}" for wish in wishes
             if not set(HOLDS.get(wish.heat.name, ())) & set(record.avoids) and (logged := clashes(wish.dish, record))]
    return f"{avoided(record)}{': ' if held else ''}{'; '.join(held)}. Read every label as you shop."


def flags_of(wish: Wish, record: ClassRecord) -> tuple[str, ...]:
    """What guests avoid and a dish nearly always holds, or has logged in it, or may have by what was logged."""
    return tuple(name for name in record.avoids if name in HOLDS.get(wish.heat.name, ())
                 or cell(wish.dish, name, record).state != "not logged")


def shopping(wishes: Sequence[Wish], guests: int, record: ClassRecord) -> list[Item]:
    """The list for these dishes and so many guests, a tenth over. A weight that was said stands as it was said."""
    items = []
    for wish in wishes:
        kind = wish.heat.name
        told, poured = wish.load.get("meat_kg"), wish.load.get("liquid_l")
        raw = float(told) if isinstance(told, float | int) else _raw_kg(wish, guests)
        parts = [(name, share * raw, unit) for name, share, unit in PARTS.get(kind, ())]
        if isinstance(poured, float | int):
            name = parts[0][0] if parts and parts[0][2] == "l" else "liquor"
            parts = [(name, float(poured), "l"), *(part for part in parts if part[0] != name)]
        liquid = sum(amount for _, amount, unit in parts if unit == "l")
        pots = max(1, int(np.ceil(raw / POT_MOST_KG))) if kind in IN_POTS or isinstance(poured, float | int) else 0
        pot_l = np.ceil((raw + liquid) / pots / FILL + MARGIN_L) if pots else 0.0
        share = COOKED.get(kind)
        pieces = int(np.ceil(raw / PIECE_KG[kind] - 1e-6)) if kind in PIECE_KG else 0
        items.append(Item(wish.dish, WEIGHED.get(kind, "raw"), raw, None if share is None else share * raw, pieces,
                          tuple(parts), pots, float(pot_l), flags_of(wish, record)))
    return items


def _raw_kg(wish: Wish, guests: int) -> float:
    serving = serving_of(wish.heat.name, wish.load.get("cut"), wish.dish)
    return 0.5 * (serving.low + serving.high) * guests * OVER


def list_lines(items: Sequence[Item], guests: int, wood: Sequence[tuple[str, float]], avoids: str) -> list[str]:
    """The shopping list in lines. wood: oven and kilograms; avoids: as `mind` says it."""
    lines = [f"For {guests}, a tenth over:",
             *(f"- {item.amounts()}" + (f"; mind {', '.join(item.flags)}" if item.flags else "") for item in items)]
    if wood:
        each = " and ".join(f"{np.ceil(kg):.0f} kg for the {oven}" for oven, kg in wood)
        lines.append(f"- wood: {each}, dry splits, and as much again for one spare firing")
    if avoids:
        lines.append(f"- {avoids} Keep the labels.")
    return lines
