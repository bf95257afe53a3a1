"""Plain words for times, heats, odds and names: how every reply says them."""
from __future__ import annotations

import math
import re
from collections.abc import Sequence
from datetime import datetime, tzinfo

import numpy as np
from numpy.typing import NDArray

from skills.instants import Instant

Floats = NDArray[np.float64]

# Odds as people say them; each stands for the shares nearest to it.
_ODDS = ((0.95, "19 in 20"), (0.9, "9 in 10"), (0.8, "4 in 5"), (0.67, "2 in 3"), (0.5, "1 in 2"), (0.33, "1 in 3"),
         (0.2, "1 in 5"), (0.1, "1 in 10"), (0.05, "1 in 20"))


def clock(at: datetime) -> str:
    return at.strftime("%H:%M")


def to_five(at: datetime) -> datetime:
    """To the nearest five minutes: a forecast is no sharper than that."""
    seconds = round(at.timestamp() / 300) * 300
    return Instant.fromtimestamp(seconds, at.tzinfo)


def moment(at_s: float, zone: tzinfo | None) -> datetime:
    return Instant.fromtimestamp(at_s, zone)


def day_clock(at: datetime, now: datetime) -> str:
    """The clock time, with the day when it is not today.

    >>> day_clock(datetime(2026, 5, 17, 7), datetime(2026, 5, 16, 22))
    '07:00 tomorrow'
    """
    days = (at.date() - now.date()).days
    return clock(at) + ("" if days == 0 else " tomorrow" if days == 1 else at.strftime(" on %a"))


def odds(share: float, asked: float | None = None) -> str:
    """Odds in words people use; asked: odds that were asked for: what falls short of them is not rounded up to them.

    >>> odds(0.78), odds(0.999), odds(0.0)
    ('4 in 5', 'better than 19 in 20', 'less than 1 in 20')
    >>> odds(0.87, 0.9), odds(0.9, 0.9), odds(0.8, 0.9)
    ('just under 9 in 10', '9 in 10', '4 in 5')
    """
    if asked is not None and share < asked - 1e-9 and odds(share) == odds(asked):
        return f"just under {odds(asked)}"
    if share > 0.975:
        return "better than 19 in 20"
    if share < 0.025:
        return "less than 1 in 20"
    return min(_ODDS, key=lambda pair: abs(pair[0] - share))[1]


def hours(span_s: float) -> str:
    """ "50 min", "3 h", "2 h 40" """
    minutes = round(span_s / 600) * 10
    if minutes < 90:
        return f"{minutes} min"
    return f"{minutes // 60} h" + (f" {minutes % 60}" if minutes % 60 else "")


def quantile(samples: Floats, share: float) -> float:
    """A quantile that stands samples at infinity (later than the horizon)."""
    ordered = np.sort(samples)
    return float(ordered[min(len(ordered) - 1, max(0, math.ceil(share * len(ordered)) - 1))])


def time_range(samples_s: Floats, now: datetime) -> str:
    """ "about 12:50 (12:15 to 13:25)" from samples of a time; 8 in 10 fall inside. Honest about a far edge."""
    low, mid, high = (quantile(samples_s, share) for share in (0.1, 0.5, 0.9))
    if not math.isfinite(mid):
        return "not within the hours I can see" if not math.isfinite(low) else (
            f"after {day_clock(to_five(moment(low, now.tzinfo)), now)}, when I cannot say")
    middle = day_clock(to_five(moment(mid, now.tzinfo)), now)
    first = clock(to_five(moment(low, now.tzinfo)))
    last = clock(to_five(moment(high, now.tzinfo))) if math.isfinite(high) else "later than I can see"
    return f"about {middle} ({first} to {last})"


def heat_range(samples_c: Floats) -> str:
    """ "about 148 (140 to 156)" from samples of a heat [degC]; 8 in 10 fall inside."""
    low, mid, high = np.quantile(samples_c, (0.1, 0.5, 0.9))
    return f"about {mid:.0f} ({low:.0f} to {high:.0f})"


def which_oven(known: Sequence[str], name: str | None = None) -> str:
    """What is asked when no oven of the class is meant for sure; name: one that was named and is not known."""
    if not known:
        return "No oven is known yet. Say 'lit the dome', or what it reads: 'dome floor 180 air 170'."
    if name is not None:
        return f"Nothing is known of {the([name])} in this class. Ovens so far: {', '.join(known)}."
    return f"Which oven: {the(known)}?"


def the(names: Sequence[str], joint: str = "or") -> str:
    """ "the lamb or the beans" """
    said = [f"the {name}" for name in names]
    return said[0] if len(said) == 1 else f"{', '.join(said[:-1])} {joint} {said[-1]}"


def is_plural(name: str) -> bool:
    """Whether a dish's name is said of several: "beans", "loaves"; not "swiss"."""
    return name.endswith("s") and not name.endswith("ss")


def be(name: str) -> str:
    """ "is" or "are" """
    return "are" if is_plural(name) else "is"


def was(name: str) -> str:
    """ "were" or "was" """
    return "were" if is_plural(name) else "was"


def capital(text: str) -> str:
    return text[:1].upper() + text[1:]


def number(value: float) -> str:
    """ "180", "2.5" """
    return f"{value:g}"


# So many letters a line of the room holds.
LINE = 160


def in_lines(text: str) -> str:
    """The words in lines that a room shows whole, broken where a sentence of it ends."""
    lines: list[str] = []
    for piece in re.split(r"(?<=\.) ", text):
        if lines and len(lines[-1]) + 1 + len(piece) <= LINE:
            lines[-1] += f" {piece}"
        else:
            lines.append(piece)
    return "\n".join(lines)
