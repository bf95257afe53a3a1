"""The board of a class: what one message in the room keeps saying, edited in place."""
from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from skills.all_skills import ANSWERS
from skills.dish.promise import promise
from skills.skill import Prompt
from skills.view import View
from skills.vocabulary import Status
from skills.wording import capital, clock, day_clock

MOST_ACTS = 4
MOST_HELD = 6


@dataclass(frozen=True)
class Board:
    """A heading, and under each title its lines; a title without lines is not shown."""
    class_id: str
    heading: str
    parts: dict[str, tuple[str, ...]]


def board_text(view: View, acts: Sequence[Prompt] = ()) -> Board | None:
    """The board as of `view.now`; `acts` are the prompts that may fall due. None while there is nothing to show."""
    record = view.record
    if not record.ovens and not record.dishes:
        return None
    title = capital(record.title or "class")
    facts = (f"{record.guests} guests" if record.guests else "",
             f"eating {clock(record.serve)}" if record.serve else "")
    state = f"closed {clock(record.ended)}" if record.ended is not None else f"as of {clock(view.now)}"
    heading = ", ".join(part for part in (title, *facts, state) if part)
    if record.ended is not None:
        return Board(view.class_id, heading, {"Pots": tuple(
            f"{capital(dish.name)}, called {dish.tender} {clock(dish.tender_at)}"
            for dish in record.dishes.values() if dish.tender and dish.tender_at)})
    ovens = tuple(" ".join(ANSWERS[Status](Status(oven=name), view).lines) for name in record.ovens)
    coming = sorted((act for act in acts if act.due >= view.now and act.key not in view.said), key=lambda act: act.due)
    next_acts = tuple(" ".join((day_clock(act.due, view.now), _act(act))) for act in coming[:MOST_ACTS])
    held = tuple(f"{capital(who)} has {what}, since {clock(at)}" for what, (who, at) in record.tasks.items())
    return Board(view.class_id, heading, {"Ovens": ovens, "Pots": _pots(view), "Next": next_acts,
                                          "Who has what": held[-MOST_HELD:]})


def _pots(view: View) -> tuple[str, ...]:
    lines = []
    for dish in view.record.dishes.values():
        if not dish.cooking or dish.served:
            continue
        believed = promise(dish, view)
        where = f"{capital(dish.name)}, in {dish.oven}"
        if dish.tender in ("tender", "falling") and dish.tender_at is not None:
            lines.append(f"{where}: called {dish.tender} {clock(dish.tender_at)}.")
        elif believed is None:
            lines.append(f"{where}: no forecast yet.")
        else:
            lines.append(f"{where}: {believed.eta_line()} {believed.odds_line()}".strip())
    return tuple(lines)


def _act(act: Prompt) -> str:
    """The first line of a prompt, with its owner in front."""
    first = act.text.split("\n", 1)[0]
    return first if not act.who or first.startswith(f"{act.who}: ") else f"{act.who}: {first}"
