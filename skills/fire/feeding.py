"""How much wood a tended oven wants: what splits of each count would add to its air, by the oven model."""
from __future__ import annotations

from dataclasses import replace
from datetime import datetime

import numpy as np

from skills.kitchen import ensemble as kitchen
from skills.kitchen.ensemble import USUAL_MOISTURE_PCT
from skills.physics.combustion import heating_value_mj_kg
from skills.planning import course
from skills.view import View
from skills.wording import Floats

# Splits that people lay on at once; half a split twice beats a whole one, and more than two overshoot (common
# practice, no source).
AMOUNTS: dict[float, str] = {0.5: "half a split", 1.0: "one split", 2.0: "two splits"}
STEP_S = 300
# A feed is to hold the oven from when it has caught to the next feed (common practice: every 30 to 40 min) [s].
CAUGHT_S, HOLDS_S = 900, 2400
MEMBERS = 40
NEARLY_K = 6.0                 # so little under the mark, between two feeds, is no harm (judgement)


def gains_k(oven: str, view: View) -> Floats | None:
    """What each amount adds to the air every STEP_S after it is laid on (amounts, times) [K]; the middle member.

    The pots are left out of it: they take their share of the fall that it is added to.
    """
    standing = view.belief.standing if view.belief is not None else None
    if standing is None or oven not in standing.names:
        return None
    one = kitchen.thinned(course.tiled(standing, oven, 1), MEMBERS)
    count = len(AMOUNTS) + 1
    ensemble = course.tiled(one, one.names[0], count)
    door = view.record.ovens[oven].door
    ensemble = replace(ensemble, door=(door if door in ("on", "ajar", "off") else "on",) * count)
    kg = np.repeat([0.0, *AMOUNTS], one.members) * ensemble.numbers["small_kg"]
    heat_j = kg * float(heating_value_mj_kg(USUAL_MOISTURE_PCT)) * 1e6 * ensemble.numbers["wood"]
    ensemble = replace(ensemble, state=replace(ensemble.state, fresh_j=ensemble.state.fresh_j + heat_j))
    watch = course.Watch(ensemble)
    kitchen.advance(ensemble, [ensemble.at_s + STEP_S * each for each in range(1, HOLDS_S // STEP_S + 1)], None, watch)
    rows = [heats[0] for heats in watch.heats_c]
    air = np.stack(rows).reshape(len(rows), count, one.members)
    added: Floats = np.median(air[:, 1:] - air[:, :1], axis=2).T
    return added


def how_much(oven: str, view: View, air_c: Floats, at_s: Floats, mark_c: float, by: datetime) -> str:
    """The smallest feed, laid on at `by`, that holds the air near mark_c [degC] on the mean until the next one is due.

    air_c (times,): the air without wood at the times at_s [epoch s].
    """
    added = gains_k(oven, view)
    if added is None:
        return AMOUNTS[1.0]
    after = np.arange(STEP_S, HOLDS_S + 1, STEP_S)
    late = after >= CAUGHT_S
    bare = np.interp(by.timestamp() + after, at_s, air_c)
    for row, words in enumerate(AMOUNTS.values()):
        if (bare + added[row])[late].mean() >= mark_c - NEARLY_K:
            return words
    return AMOUNTS[max(AMOUNTS)]
