"""The heat that a dish wants as it goes in: which part of the oven it looks at, how hot, how long, how long it rests.

The bands are the trade's words for the heat of a dish; sources disagree by tens of kelvin, so that the bands are wide.
They and the minutes are common practice, no source, where nothing else is said.
"""
from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

Place = Literal["air", "floor"]


@dataclass(frozen=True)
class Heat:
    """place: what the dish feels first; low_c to high_c [degC]: as it goes in; least_c: no use below this at the end;
    fire: cooked beside the live flame; usual_s, rest_s [s]: time in the oven, and from there to the plate;
    pots: how many of the oven's places it takes; after: what must have been done before it goes in.
    """
    name: str
    place: Place
    low_c: float
    high_c: float
    least_c: float
    usual_s: float
    rest_s: float
    fire: bool = False
    places: float = 1.0
    dry: bool = False          # a low heat for hours, with nothing to finish: fruit, herbs, kindling


def _h(hours: float) -> float:
    return 3600.0 * hours


# Common practice, no source: flame dishes first, then bread and roasts, then pots, then custards, then drying.
BRAISE = Heat("braise", "air", 150.0, 205.0, 95.0, _h(4.0), _h(1 / 3))
PULSES = Heat("beans", "air", 130.0, 190.0, 90.0, _h(4.0), _h(1 / 6))
ROOTS = Heat("roots", "air", 150.0, 220.0, 100.0, _h(1.2), _h(1 / 6))
PUDDING = Heat("pudding", "air", 110.0, 160.0, 85.0, _h(2.5), _h(1 / 6))
CUSTARD = Heat("custard", "air", 100.0, 140.0, 90.0, _h(1.0), _h(1 / 2))
LOAVES = Heat("loaves", "floor", 210.0, 270.0, 180.0, _h(0.75), _h(1.0))
FLATBREADS = Heat("flatbreads", "floor", 300.0, 450.0, 280.0, _h(0.75), _h(1 / 12), fire=True)
CAKES = Heat("cakes", "air", 160.0, 200.0, 140.0, _h(0.75), _h(1.0))
ROAST = Heat("roast", "air", 190.0, 250.0, 140.0, _h(1.5), _h(1 / 3))
BIRD = Heat("bird", "air", 175.0, 220.0, 140.0, _h(1.2), _h(1 / 4))
FISH = Heat("fish", "air", 170.0, 230.0, 140.0, _h(0.5), _h(1 / 12))
DRYING = Heat("drying", "air", 50.0, 90.0, 40.0, _h(12.0), 0.0, dry=True)
