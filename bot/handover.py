"""What one person must say yes to: a thing that is handed over, an eating time that another than the lead moved.

A hand-over is told in three lines: the state, the next act with its time, what is open. Until the yes nothing changes.
"""
from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Any

import numpy as np

from bot.planner import propose
from skills import vocabulary as v
from skills.dated import Dated
from skills.record import ClassRecord, Offer
from skills.team.calls import EATING, HANDOVER
from skills.view import View
from skills.wording import clock, the

MOST_NEXT = 2
AHEAD = timedelta(hours=4)
MOST_LETTERS = 150


@dataclass(frozen=True)
class Asked:
    """Words that wait for the yes of one person. `about`: the fact that the yes tells."""
    kind: str
    key: str
    who: str
    by: str
    lines: tuple[str, ...]
    about: dict[str, Any]
    what: str | None = None

    def data(self) -> dict[str, Any]:
        call = {"kind": self.kind, "key": self.key, "who": self.who, "by": self.by, "what": self.what}
        ask = {"question": self.lines[0], "about": self.about, "missing": "confirm", "options": [], "to": self.who}
        return {"call": {name: value for name, value in call.items() if value is not None}, "ask": ask}


def calls_of(facts: Sequence[Dated], before: ClassRecord, view: View) -> Iterable[Asked]:
    """What the facts of one message ask of somebody."""
    record = view.record
    for dated in facts:
        offer = next((each for each in record.offers.values() if each.message == dated.message), None)
        if isinstance(dated.fact, v.Task) and offer is not None:
            yield Asked(HANDOVER, f"handover:{offer.message}", offer.to, offer.by, _offered(offer, view),
                        {"is": "task", "act": "claim", "what": offer.what}, offer.what)
            return
        lead = record.lead
        if isinstance(dated.fact, v.Serve) and record.serve and before.serve and record.serve != before.serve \
                and lead is not None and lead.casefold() != dated.who.casefold():
            yield Asked(EATING, f"eating:{dated.message}", lead, dated.who,
                        (f"{lead}: eating {clock(record.serve)}, was {clock(before.serve)}, yes?",),
                        {"is": "serve", "by": clock(record.serve)})
            return


def taken_over(dated: Dated, before: ClassRecord, record: ClassRecord) -> list[str]:
    """Said once when a thing changes hands without having been offered; a yes to an offer needs no word."""
    fact = dated.fact
    what = (fact.what or "it").removesuffix(" oven") if isinstance(fact, v.Task) else "it"
    old, new = before.tasks.get(what), record.tasks.get(what)
    if old is None or new is None or what in record.offers:
        return []
    offer = before.offers.get(what)
    if old[0] == new[0]:
        return [f"{new[0]} keeps {the([what])}."] if offer is not None else []
    return [] if offer is not None and offer.to == new[0] else [
        f"{new[0]} has {the([what])} now, was {old[0]} since {clock(old[1])}."]


def _offered(offer: Offer, view: View) -> tuple[str, ...]:
    dishes = [dish.name for dish in view.record.dishes.values() if dish.oven == offer.what or dish.name == offer.what]
    state = _state(offer.what, dishes, view)
    since = view.record.tasks[offer.what][1]
    first = f"{offer.to}, say yes to take {the([offer.what])}: " + (
        f"{state}." if state else f"{offer.by} has it since {clock(since)}.")
    if offer.what not in view.record.ovens and not dishes:
        return (first,)
    return first, _next(offer.what, dishes, view), _worries(offer.what, dishes, view)


def _state(what: str, dishes: Sequence[str], view: View) -> str:
    """ "air 171, fire in, fed 14:50, rice pudding in since 14:30" """
    said = []
    oven = view.record.ovens.get(what)
    if oven is not None:
        forecast = view.forecast()
        if forecast is not None and oven.name in forecast.ovens:
            said.append(f"air {float(np.median(forecast.ovens[oven.name].air_c[0])):.0f}")
        if oven.burning and oven.fed_at is not None:
            said.append(f"fed {clock(oven.fed_at)}")
        if oven.door:
            said.append(f"door {oven.door}")
    for name in dishes[:3]:
        dish = view.record.dishes[name]
        if dish.in_at is not None and dish.cooking:
            said.append(f"{name} in since {clock(dish.in_at)}" if dish.ring_at is None else
                        f"{name} {'over the fire' if dish.over_fire else 'on the ring'} since {clock(dish.ring_at)}")
    return ", ".join(said)


def _next(what: str, dishes: Sequence[str], view: View) -> str:
    """The next acts that will be asked for, with their times."""
    coming: dict[str, tuple[datetime, str]] = {}
    for prompt in sorted(propose(view), key=lambda each: each.due):
        mine = (prompt.oven == what or prompt.dish in dishes) and prompt.kind != "fire"
        if mine and prompt.key not in view.said and view.now <= prompt.due <= view.now + AHEAD:
            coming.setdefault(prompt.kind, (prompt.due, _gist(prompt.text.removeprefix(f"{prompt.who}: "))))
    acts = [f"{clock(due)} {words}" for due, words in list(coming.values())[:MOST_NEXT]]
    return _short(f"Next: {'; '.join(acts)}.") if acts else "Next: nothing that I can see."


def _worries(what: str, dishes: Sequence[str], view: View) -> str:
    """What was asked and not answered, and what was told to be wrong."""
    found = [_gist(each.call.words).split(": ")[0] for each in reversed(view.calls)
             if (each.call.oven == what or each.call.dish in dishes) and each.call.kind != HANDOVER]
    found += [f"{name} liquid low" for name in dishes if view.record.dishes[name].liquid == "low"]
    return _short(f"Open: {'; '.join(dict.fromkeys(found))}.") if found else "Nothing open."


def _gist(words: str) -> str:
    return words.split("\n")[0].split(". ")[0].rstrip(".")


def _short(line: str) -> str:
    return line if len(line) <= MOST_LETTERS else line[:MOST_LETTERS].rsplit(" ", 1)[0].rstrip(",;:") + " ..."
