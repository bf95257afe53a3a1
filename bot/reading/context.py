"""What the reader may know besides the message: the time, the room's names, what was said just before."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from typing import Any

from skills.vocabulary import Heard


@dataclass(frozen=True)
class Said:
    """An earlier message of the room and what it was heard to mean."""

    at: datetime
    who: str
    text: str
    heard: Heard


@dataclass(frozen=True)
class Pending:
    """A question of the bot that waits for its answer.

    about: the flat fact without the open field. missing: the open field (place, oven, dish, celsius, at, unit).
    options: the answers that fit. to: who was asked (None: anyone).
    """

    question: str
    about: dict[str, Any]
    missing: str
    options: tuple[str, ...]
    at: datetime
    to: str | None = None


@dataclass(frozen=True)
class Context:
    """The room as it stands when a message comes.

    `now` has a time zone; `last` is newest last; `standing` tells which dish stands in which oven, `out` which
    have come out of one and are not eaten; `spots` the spot that a bare heat of an oven is of, as it was answered;
    `fahrenheit` who writes heats in that unit; `introduced` the dishes that were told of and are in no pot yet.
    """

    now: datetime
    ovens: tuple[str, ...] = ()
    dishes: tuple[str, ...] = ()
    people: tuple[str, ...] = ()
    sender: str | None = None
    last: tuple[Said, ...] = ()
    pending: Pending | None = None
    standing: tuple[tuple[str, str], ...] = ()
    out: tuple[str, ...] = ()
    spots: tuple[tuple[str, str], ...] = ()
    fahrenheit: tuple[str, ...] = ()
    introduced: tuple[str, ...] = ()
