"""Hazard and calm classes as people talk, played through the replay that `yardhand replay --trace` runs.

A hazard's header names its rule, the dish ("-": any, or a store), from when a prompt counts, the limit, whether it
was foreseeable 20 min ahead, and the kind of its prompt where that is not `safety`.

The talk was written from the job and the vocabulary before the rules were set by it.
"""
from __future__ import annotations

import io
import json
from dataclasses import dataclass
from datetime import datetime, time, timedelta
from pathlib import Path
from typing import Any

from bot.rooms.house import House
from bot.rooms.look import Page
from bot.rooms.replay import Replay
from bot.rooms.transcript import read_transcript
from bot.store import Store

FOLDER = Path(__file__).parent / "transcripts"
HAZARDS = sorted(FOLDER.glob("hazard_*.txt"))
CALM = sorted(FOLDER.glob("calm_*.txt"))
AHEAD = timedelta(minutes=20)


@dataclass(frozen=True)
class Expected:
    """What the header of a hazard asks for."""
    rule: str
    dish: str | None
    since: datetime
    limit: datetime
    ahead: bool
    kind: str


class _Quiet(Replay):
    """A replay whose trace leaves out the forecasts, which cost most of the time and which nobody reads here."""

    def play(self) -> None:
        house: House = self.house
        house.start()
        for message in self._transcript.messages:
            house.run_until(message.at)
            house.hear(message, message.at)
        house.run_until(self._transcript.end)


def play(path: Path, folder: Path) -> list[dict[str, Any]]:
    """The trace of a transcript."""
    out = io.StringIO()
    store = Store.open(folder)
    try:
        _Quiet(read_transcript(path), store, "yard", Page([].append), trace=out).play()
    finally:
        store.close()
    return [json.loads(line) for line in out.getvalue().splitlines()]


def open_at(path: Path, folder: Path, until: datetime) -> tuple[str, ...]:
    """What the board of the class calls open at a time."""
    store = Store.open(folder)
    try:
        transcript = read_transcript(path)
        replay = _Quiet(transcript, store, "yard", Page([].append))
        replay.house.start()
        for message in transcript.messages:
            if message.at <= until:
                replay.house.run_until(message.at)
                replay.house.hear(message, message.at)
        replay.house.run_until(until)
        board = replay.house.board()
        return board.parts.get("Open", ()) if board is not None else ()
    finally:
        store.close()


def expected(path: Path) -> Expected:
    keys = dict(line[2:].split(": ", 1) for line in path.read_text(encoding="utf-8").splitlines()
                if line.startswith("# ") and ": " in line)
    first = read_transcript(path).messages[0].at

    def moment(clock: str) -> datetime:
        at = datetime.combine(first.date(), time.fromisoformat(clock), first.tzinfo)
        return at if at >= first else at + timedelta(days=1)

    dish = None if keys["dish"] == "-" else keys["dish"]
    return Expected(keys["rule"], dish, moment(keys["from"]), moment(keys["limit"]), keys["ahead"] == "yes",
                    keys.get("kind", "safety"))


def safety_prompts(trace: list[dict[str, Any]], kind: str = "safety") -> list[dict[str, Any]]:
    return [line for line in trace if line.get("prompt") == kind]
