"""The only clocks: the wall's, and one that starts at another time and runs on with the wall's."""
from __future__ import annotations

import os
import time
from collections.abc import Callable
from datetime import datetime, timedelta
from pathlib import Path
from zoneinfo import ZoneInfo

Clock = Callable[[], datetime]


def local_zone(fallback: str) -> str:
    """The name of the machine's time zone, where the machine tells it (the TZ variable, or the link that tz makes)."""
    linked = Path("/etc/localtime")
    names = [os.environ.get("TZ", "").removeprefix(":"),
             str(linked.resolve()).partition("zoneinfo/")[2] if linked.is_symlink() else ""]
    for name in names:
        try:
            return ZoneInfo(name).key or fallback
        except (ValueError, KeyError, OSError):
            continue
    return fallback


def wall(zone: str) -> Clock:
    """Now, to the whole second, in the room's zone."""
    where = ZoneInfo(zone)
    return lambda: datetime.now(where).replace(microsecond=0)


def running_from(start: datetime) -> Clock:
    """A clock that shows `start` now and runs on at the pace of the world."""
    begun = time.monotonic()

    def now() -> datetime:
        # Added to the instant, not to the face of the clock, so that a summer-time change cannot bend it.
        moment = start.timestamp() + int(time.monotonic() - begun)
        return datetime.fromtimestamp(moment, start.tzinfo)

    return now


def seconds_until(when: datetime | None, now: datetime, most: float) -> float:
    """How long to sleep before looking again: till `when`, at most `most` (clocks are set, laptops nap)."""
    if when is None:
        return most
    return min(most, max(0.0, (when - now) / timedelta(seconds=1)))
