"""The board of a class: what one message in the room keeps saying, edited in place. Plain lines, short for a phone."""
from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from skills.dish.promise import promise
from skills.record import DishRecord, OvenRecord
from skills.skill import Prompt
from skills.team.calls import HANDOVER, Standing
from skills.view import View
from skills.wording import capital, clock, day_clock, odds, quantile

MOST_ACTS = 4
MOST_HELD = 6
MOST_OPEN = 5
MOST_LETTERS = 110
# A heat that moves less than this in an hour stands still [K].
STILL_K = 3.0


@dataclass(frozen=True)
class Board:
    """A heading, and under each title its lines; a title without lines is not shown."""
    class_id: str
    heading: str
    parts: dict[str, tuple[str, ...]]

    @property
    def text(self) -> str:
        shown = ["\n".join([title, *(f"- {line}" for line in lines)]) for title, lines in self.parts.items() if lines]
        return "\n".join([self.heading, *shown])


def board_text(view: View, acts: Sequence[Prompt] = ()) -> Board | None:
    """The board as of `view.now`; `acts` are the prompts that may fall due. None while there is nothing to show."""
    record = view.record
    if not record.ovens and not record.dishes and not view.calls:
        return None
    facts = (f"{record.guests} guests" if record.guests else "",
             f"eating {clock(record.serve)}" if record.serve else "")
    state = f"closed {clock(record.ended)}" if record.ended is not None else f"as of {clock(view.now)}"
    heading = ", ".join(part for part in (capital(record.title or "class"), *facts, state) if part)
    if record.ended is not None:
        # Ash is carried out after the class, and a burn does not wait for it either.
        late = tuple(_open_line(each) for each in view.calls
                     if each.call.kind == "safety" and each.call.at >= record.ended)
        return Board(view.class_id, heading, {"Open": late, "Pots": tuple(
            f"{capital(dish.name)}, called {dish.tender} {clock(dish.tender_at)}"
            for dish in record.dishes.values() if dish.tender and dish.tender_at)})
    pots = tuple(_pot_line(dish, view) for dish in record.dishes.values() if dish.cooking and not dish.served)
    coming = sorted((act for act in acts if act.due >= view.now and act.key not in view.said), key=lambda act: act.due)
    return Board(view.class_id, heading, {
        "Open": tuple(_open_line(each) for each in view.calls[-MOST_OPEN:]),
        "Ovens": tuple(_oven_line(oven, view) for oven in record.ovens.values()),
        "Pots": pots,
        "Next": tuple(f"{day_clock(act.due, view.now)} {_act(act.text, act.who)}" for act in coming[:MOST_ACTS]),
        "Who has what": _held(view)})


def _oven_line(oven: OvenRecord, view: View) -> str:
    """ "Dome: air 171, floor 164, falling 9 an hour, door on, read 12:16" """
    said = []
    forecast = view.forecast()
    if forecast is not None and oven.name in forecast.ovens:
        believed = forecast.ovens[oven.name]
        air, floor = (float(np.median(each[0])) for each in (believed.air_c, believed.floor_c))
        said.append(f"air {air:.0f}, floor {floor:.0f}")
        moved = float(np.median(believed.air_c[min(len(forecast.at_s) - 1, 6)])) - air
        if abs(moved) >= STILL_K:
            said.append(f"{'rising' if moved > 0 else 'falling'} {abs(moved):.0f} an hour")
    if oven.burning:
        said.append(f"fire in, fed {clock(oven.fed_at)}" if oven.fed_at else "fire in")
    if oven.door:
        said.append(f"door {oven.door}")
    reading = view.last_reading(oven.name)
    said.append(f"read {clock(reading.at)}" if reading is not None else "not read yet")
    return f"{capital(oven.name)}: {', '.join(said)}"


def _pot_line(dish: DishRecord, view: View) -> str:
    """ "Lamb, in dome since 09:02: tender about 12:50 (12:15 to 13:25), 4 in 5 for 13:30, 0.6 l left" """
    place, since = (f"in {dish.oven}", dish.in_at) if dish.ring_at is None else (
        "over the fire" if dish.over_fire else "on the ring", dish.ring_at)
    where = f"{capital(dish.name)}, {place}" + (f" since {clock(since)}" if since else "")
    believed = promise(dish, view)
    if believed is None:
        return f"{where}: no forecast yet"
    said = [believed.when()]
    if believed.serve is not None:
        said.append(f"{odds(believed.share)} for {clock(believed.serve)}")
    liquid = _liquid(dish, view)
    return f"{where}: {', '.join([*said, *([liquid] if liquid else [])])}"


def _liquid(dish: DishRecord, view: View) -> str:
    if dish.liquid == "low":
        return "liquid low"
    forecast = view.forecast()
    if forecast is None or dish.name not in forecast.dishes or not dish.liquid_l:
        return ""
    return f"about {quantile(forecast.dishes[dish.name].liquid_l[0], 0.5):.1f} l in it"


def _act(text: str, who: str | None) -> str:
    """The first line of what is asked, with its owner in front."""
    first = text.split("\n", 1)[0]
    whole = first if not who or first.startswith(f"{who}: ") else f"{who}: {first}"
    return whole if len(whole) <= MOST_LETTERS else whole[:MOST_LETTERS].rsplit(" ", 1)[0].rstrip(",;:") + " ..."


def _open_line(each: Standing) -> str:
    """ "barrel, one split by 11:10: Tomos has it since 11:01"; "nobody since 10:58, Mara told 11:06" """
    call = each.call
    if call.kind == HANDOVER:
        return f"{capital(call.what or '')} to {call.who}: no yes since {clock(call.at)}"
    words = _act(call.words, None)
    if each.taken_by is not None and each.taken_at is not None:
        return f"{words} - {each.taken_by} has it since {clock(each.taken_at)}"
    asked = f"{call.who} asked" if call.who else "asked"
    return f"{words} - {asked} {clock(call.at)}, no answer"


def _held(view: View) -> tuple[str, ...]:
    held = [f"{capital(who)} has the {what} since {clock(at)}" for what, (who, at) in view.record.tasks.items()]
    return tuple(held[-MOST_HELD:])
