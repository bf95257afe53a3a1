"""When a joint is taken out so that it rests up to its heat: the word for an answer and the hour for the prompt."""
from __future__ import annotations

from datetime import datetime

import numpy as np

from skills.dish.cuts import cut_of
from skills.kitchen.resting import REST_S, TakeOut
from skills.record import DishRecord
from skills.view import View
from skills.wording import capital, clock, moment, quantile, to_five


def carry(dish: DishRecord, view: View) -> TakeOut | None:
    """What is believed of taking it out; None for what does not rest, or is not seen to get there."""
    if not cut_of(dish)[0].finish.rests or not dish.cooking or view.belief is None:
        return None
    found = view.belief.take_out(dish.name)
    return found if found is not None and np.isfinite(quantile(found.at_s, 0.5)) else None


def out_at(dish: DishRecord, view: View) -> datetime | None:
    """When it is as likely as not that resting takes it the rest of the way."""
    found = carry(dish, view)
    return None if found is None else max(moment(quantile(found.at_s, 0.5), view.now.tzinfo), view.now)


def carry_line(dish: DishRecord, view: View) -> str:
    """The word for an answer, such as "Roast out about 10:35. At 65 in the middle ..."; empty if there is none."""
    at = out_at(dish, view)
    if at is None:
        return ""
    when = "now" if (at - view.now).total_seconds() < 150 else f"about {clock(to_five(at))}"
    return f"{capital(dish.name)} out {when}. {rest_words(dish, view)}"


def rest_words(dish: DishRecord, view: View) -> str:
    """ "At 65 in the middle it climbs about 5 more in 20 min of rest, covered. Probe it again then." """
    found = carry(dish, view)
    if found is None:
        return ""
    core_c, climb_k = quantile(found.core_c, 0.5), quantile(found.rested_c - found.core_c, 0.5)
    trial = cut_of(dish)[0].finish.trial
    return (f"At {core_c:.0f} in the middle it climbs about {climb_k:.0f} more in {REST_S // 60} min of rest, covered. "
            f"{capital(trial)} it again then.")
