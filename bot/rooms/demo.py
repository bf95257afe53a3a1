"""Plays a whole class at a pace a person can read, then leaves the reader in that room."""
from __future__ import annotations

import time
from pathlib import Path

from bot.mistakes import MistakeError

# The class to show to someone who has seen none.
FIRST = "shoulder_day"

# How fast people read short lines on a screen: about 200 words a minute (common practice, no source) [s].
SECONDS_A_LETTER = 0.05
SHORTEST_S, LONGEST_S = 0.5, 4.0


class NoSuchDemoError(MistakeError):
    """There is no such demo class; the text names those that there are."""


def find(name: str | None, folder: Path) -> Path:
    """The transcript of a demo class; without a name the one to see first."""
    found = {path.stem: path for path in sorted(folder.glob("*.txt"))}
    if not found:
        raise NoSuchDemoError("no demo class came with this copy: run it from a checkout that has transcripts_demo")
    if name is None:
        return found.get(FIRST) or next(iter(found.values()))
    wanted = [stem for stem in found if stem.startswith(name.lower().replace(" ", "_").replace("-", "_"))]
    if len(wanted) != 1 and name not in found:
        raise NoSuchDemoError(f"no demo class is called {name!r}: choose one of {', '.join(found)}")
    return found[name] if name in found else found[wanted[0]]


def let_read(text: str) -> None:
    time.sleep(min(LONGEST_S, max(SHORTEST_S, SECONDS_A_LETTER * len(text))))
