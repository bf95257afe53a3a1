"""A fact with its place in the day: the one thing that record, models and skills all read."""
from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from skills.vocabulary import Fact


@dataclass(frozen=True)
class Dated:
    """A fact in force. `oven` and `dish` are the room's own names, worked out from context (None: not known).

    at: when it happened; told: when it was said (both with time zone, whole seconds). who: the sender.
    message and index name the message and the fact's place in it. minor: worked out, not said (a door that
    must have been open while a pot went in).
    """
    at: datetime
    told: datetime
    who: str
    message: str
    index: int
    fact: Fact
    oven: str | None = None
    dish: str | None = None
    minor: bool = False
