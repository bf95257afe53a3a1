"""What comes out of the reader: what was heard, one question at most, and the reason for every part of it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from skills.vocabulary import Heard


@dataclass(frozen=True)
class Ask:
    """One short question, and the fact that its answer completes (fields as in context.Pending)."""

    text: str
    about: dict[str, Any]
    missing: str
    options: tuple[str, ...]


@dataclass(frozen=True)
class Span:
    """A piece of the message (characters start to end) and what it was taken for."""

    start: int
    end: int
    text: str
    rule: str
    meaning: str


@dataclass(frozen=True)
class Reading:
    """One message as it was read. `trouble` is a line for the writer when the input could not stand."""

    heard: Heard
    ask: Ask | None = None
    spans: tuple[Span, ...] = ()
    leftover: tuple[str, ...] = ()
    trouble: str | None = None


def explain(reading: Reading) -> str:
    """The reading piece by piece, for "why did you read that?"."""
    lines = [f'"{span.text}": {span.meaning} (rule: {span.rule})' for span in reading.spans]
    if reading.leftover:
        lines.append("not used: " + ", ".join(f'"{piece}"' for piece in reading.leftover))
    if reading.ask is not None:
        lines.append(f"asked: {reading.ask.text}")
    if reading.trouble is not None:
        lines.append(reading.trouble)
    return "\n".join(lines) if lines else "nothing in it for the record"
