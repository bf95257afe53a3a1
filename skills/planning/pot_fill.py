"""How far meat and liquor fill a pot of a given width."""
from __future__ import annotations

import math
from dataclasses import dataclass

# Share of a heap of lumps that is lump: 0.60 loose, 0.64 shaken (random packing of balls, Scott 1960, from memory).
PACKED = 0.62
MEAT_KG_L = 1.05
# A round pot is about half as deep as it is wide, and filled to two thirds (common practice, no source).
DEEP, FULL = 0.5, 2.0 / 3.0
# The narrowest and the widest pot of a yard [cm] (common practice, no source).
NARROWEST_CM, WIDEST_CM = 12.0, 80.0


@dataclass(frozen=True)
class Filled:
    """liquor_l: in all pots, half-way up the meat; deep_cm: how deep the meat lies; pots: how many it takes."""
    liquor_l: float
    deep_cm: float
    pots: int


def filled(meat_kg: float, pot_cm: float, piece_kg: float, slender: float = 1.5) -> Filled:
    """Meat in pieces of piece_kg laid into pots of this width, and the liquor that comes half-way up it.

    A piece is a round bar as long as `slender` thicknesses. What lies spread out is as high as one piece; what does
    not find room side by side is heaped.
    """
    area_dm2 = math.pi * (pot_cm / 20.0) ** 2
    most_dm = FULL * DEEP * pot_cm / 10.0
    piece_l = min(piece_kg, meat_kg) / MEAT_KG_L
    piece_dm = 2.0 * (piece_l / (2.0 * math.pi * slender)) ** (1.0 / 3.0)
    meat_l = meat_kg / MEAT_KG_L
    pieces = max(1, round(meat_kg / piece_kg))
    pots = min(pieces, max(1, math.ceil(meat_l / PACKED / area_dm2 / most_dm - 1e-9)))
    each_l = meat_l / pots
    deep_dm = max(piece_dm, each_l / PACKED / area_dm2)
    return Filled(0.5 * pots * (area_dm2 * deep_dm - each_l), 10.0 * deep_dm, pots)
