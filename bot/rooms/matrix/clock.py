"""The server's clock. People's messages carry its time; the machine's own may be wrong or be set while a class runs."""
from __future__ import annotations

import time
from collections.abc import Callable
from datetime import UTC, datetime
from email.utils import parsedate_to_datetime

# Answers come late by less than this; the server's clock was set if it differs by more [s].
SLACK_S = 2.0


class ServerClock:
    """Runs on from the last time that the server told. Before the first it shows the machine's time."""

    def __init__(self, steady: Callable[[], float] = time.monotonic,
                 wall: Callable[[], datetime] = lambda: datetime.now(UTC)) -> None:
        self._steady = steady
        self._ahead_s = wall().timestamp() - steady()

    def told(self, date: str | None) -> None:
        """Set by the Date header of an answer (RFC 9110, 6.6.1), which has whole seconds."""
        if date is None:
            return
        try:
            at = parsedate_to_datetime(date)
        except ValueError:
            return
        ahead_s = at.replace(tzinfo=at.tzinfo or UTC).timestamp() - self._steady()
        if abs(ahead_s - self._ahead_s) > SLACK_S:
            self._ahead_s = ahead_s

    def __call__(self) -> datetime:
        """Now, to the whole second."""
        return datetime.fromtimestamp(int(self._ahead_s + self._steady()), UTC)

    def ms(self) -> int:
        return int((self._ahead_s + self._steady()) * 1000)
