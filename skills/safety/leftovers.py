"""What is left of a dish, told in litres or kilos once it is off the heat: how long one pot takes to chill, what is
quicker, and by when to begin. Said at once, for food that cools on the side has its clock running."""
from __future__ import annotations

from collections.abc import Sequence
from datetime import timedelta

import numpy as np

from skills import vocabulary as v
from skills.dated import Dated
from skills.safety import chill, meters
from skills.safety.answers import span_words, trays_instead
from skills.safety.history import history, moment_of
from skills.safety.spans import story
from skills.safety.watch import rules_of_the_day
from skills.safety.watch_chill import LEFT
from skills.skill import Reply
from skills.view import View
from skills.wording import capital, clock, number, to_five

# To fetch trays and ice (common practice, no source).
FETCH = timedelta(minutes=20)


def leftovers(facts: Sequence[Dated], view: View) -> Reply | None:
    """The answer to a message that says how much is left of a dish; None if none of its facts does."""
    for dated in facts:
        fact = dated.fact
        if isinstance(fact, v.Load) and dated.dish is not None and (fact.liquid_l or fact.meat_kg) \
                and not fact.odd():
            reply = _chill(dated.dish, (fact.liquid_l or 0.0) + (fact.meat_kg or 0.0), view)
            if reply is not None:
                return reply
    return None


def _chill(name: str, litres: float, view: View) -> Reply | None:
    made = story(name, view.record, view.now)
    dish = view.record.dishes.get(name)
    if dish is None or dish.cooking or dish.out_at is None or made.last is None or made.last.where not in (
            "bench", "open"):
        return None
    rules, seen = rules_of_the_day(view), history(made, view)
    mark = rules.chill[0]
    pot = chill.pot(litres)
    takes = chill.chill_time(pot, "fridge", mark.from_c, mark.to_c)
    slow = float(takes[len(takes) // 2]) > mark.within_min * 60.0
    if not slow:
        return Reply((f"{capital(name)}: {number(litres)} l in one pot, in the fridge: below {number(mark.to_c)} in "
                      f"{span_words(takes)}. Probe it, lid off.",))
    falls = meters.falls_below(seen, rules.hot_hold_c) if seen is not None else None
    start = view.now + FETCH
    if falls is not None:
        start = min(start, moment_of(falls, view.now.tzinfo))
    start = max(to_five(start), view.now)
    quick = chill.chill_time(chill.tray(chill.TRAY_CM), "ice", mark.from_c, mark.to_c)
    probe = to_five(start + timedelta(seconds=float(np.median(quick))))
    return Reply((f"{capital(name)}: {number(litres)} l in one pot needs {span_words(takes)} to {number(mark.to_c)}: "
                  f"too slow ({rules.named_chill()}).",
                  trays_instead(pot, "fridge", mark.from_c, mark.to_c, litres),
                  f"Start by {clock(start)}, probe at {clock(probe)}. Who has it?"),
                 said={f"{LEFT}{name}": view.now.timestamp()})
