"""What bakes in minutes on a floor that somebody stands by: how long each takes, in seconds."""
from __future__ import annotations

import math

from skills.dish.cuts import cut_of
from skills.record import DishRecord, OvenRecord
from skills.view import View
from skills.wording import be, capital, quantile, the

# A floor under this asks for more heat first; a turn is due at half of it (common practice, no source).
LONGEST_S = 600.0


def is_brief(dish: DishRecord) -> bool:
    return cut_of(dish)[0].finish.brief


def brief_line(dish: DishRecord, oven: OvenRecord | None, view: View) -> str:
    """ "Flatbreads: about 100 s each on a floor at 335 (80 to 130). Turn at half, look under." """
    name = capital(dish.name)
    spell = None if view.belief is None or oven is None else view.belief.spell_s(dish.name, oven.name)
    if spell is None or view.belief is None or oven is None:
        return f"{name}: say what the floor reads, such as 'dome floor 340', then I can tell the seconds."
    floor_c = view.belief.ovens[oven.name].quantile("surface", 0.5)
    finish = cut_of(dish)[0].finish
    low, mid, high = (quantile(spell, share) for share in (0.1, 0.5, 0.9))
    if not math.isfinite(mid) or mid > LONGEST_S:
        return (f"{name} {be(dish.name)} slow at {floor_c:.0f} on the floor of {the([oven.name])}: "
                f"{finish.heat.low_c:.0f} or more is wanted (common practice).")
    most = f"{_tens(high)}" if math.isfinite(high) else "many"
    return (f"{name}: about {_tens(mid)} s each on a floor at {floor_c:.0f} ({_tens(low)} to {most}). "
            f"Turn at half, {finish.trial}.")


def _tens(seconds: float) -> str:
    return f"{10 * round(seconds / 10):.0f}"
