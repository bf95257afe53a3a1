"""What belongs to one person's way of reading: a gun held aslant, a count that runs fast. Learnt as the ovens are.

Each is one number a member, kept beside the ovens' unknowns and moved by the same readings.
"""
from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from skills.kitchen.ensemble import Ensemble
from skills.kitchen.seeds import balanced_normals, generator
from skills.oven.parameters import UNKNOWNS

Array = NDArray[np.float64]
Whose = tuple[str, str]             # kind ("infrared", "hand") and person

# Spread between people: a gun's slant and spot [K]; the logarithm of a hand count, of which the published tables differ
# by a factor of 1.6 for the same heat and of 5 between traditions (heat reference, section 10).
SPREAD: Mapping[str, float] = {"infrared": 4.0, "hand": 0.6}
USUAL = {unknown.name: unknown.middle for unknown in UNKNOWNS}


@dataclass(frozen=True)
class Used:
    """How many readings of one kind by one person were used, by oven and place."""
    kind: str
    who: str
    oven: str
    place: str
    count: int


def drawn(whose: Whose, seed: int, members: int) -> Array:
    """The prior of a person's own offset (members,)."""
    kind, who = whose
    own: Array = SPREAD[kind] * balanced_normals(generator(seed, "person", kind, who.lower()), 1, members)[0]
    return own


def counted(used: tuple[Used, ...], one: Used) -> tuple[Used, ...]:
    """The tally with one more reading."""
    for place, each in enumerate(used):
        if (each.kind, each.who, each.oven, each.place) == (one.kind, one.who, one.oven, one.place):
            more = Used(each.kind, each.who, each.oven, each.place, each.count + one.count)
            return (*used[:place], more, *used[place + 1:])
    return (*used, one)


def offsets(ensemble: Ensemble, own: Mapping[Whose, Array],
            used: tuple[Used, ...]) -> dict[Whose, tuple[float, float, int]]:
    """How far each person's instrument reads from what a true one would: {(kind, person): (mean, sd, readings)}.

    "infrared": [K], gun and person together and what their spots have in common beyond the usual (a gun that reads 20
    low at every place has a mean near -20); "hand": logarithm of that person's count over the usual person's.
    """
    found: dict[Whose, tuple[float, float, int]] = {}
    for whose in dict.fromkeys((each.kind, each.who) for each in used):
        mine = [each for each in used if (each.kind, each.who) == whose and each.oven in ensemble.names]
        count = sum(each.count for each in mine)
        if not count:
            continue
        total = np.array(own.get(whose, np.zeros(ensemble.members)))
        if whose[0] == "infrared":
            for each in mine:
                lanes = ensemble.lanes(ensemble.names.index(each.oven))
                spot = "gun_floor_k" if each.place == "floor" else "gun_dome_k"
                away = ensemble.numbers["gun_bias_k"][lanes] + ensemble.numbers[spot][lanes] - USUAL[spot]
                total = total + each.count / count * away
        found[whose] = (float(total.mean()), float(total.std(ddof=1)), count)
    return found
