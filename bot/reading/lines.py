"""Many messages at once: JSON Lines in, JSON Lines out."""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator
from datetime import UTC, datetime
from typing import Any

from bot.reading.context import Context
from bot.reading.read import read

_SHAPE = '{"text": "floor 180", "now": "10:30", "known": {"ovens": ["dome"], "dishes": []}}'
# Clock times alone matter here; the day is a fixed one.
_DAY = datetime(2000, 1, 3, tzinfo=UTC)


class LineError(ValueError):
    """A line that is no message: which, and what to write instead."""


def read_lines(lines: Iterable[str]) -> Iterator[str]:
    """Each line is an object with `text`, `now` and `known`; the answer repeats text and now, with facts and questions,
    and what is asked back, if anything.

    >>> next(read_lines(['{"text": "door on", "now": "10:30", "known": {"ovens": [], "dishes": []}}']))
    '{"text": "door on", "now": "10:30", "facts": [{"is": "door", "state": "on"}], "questions": []}'
    """
    for number, line in enumerate(lines, start=1):
        if not line.strip():
            continue
        text, now, context = _message(line, number)
        reading = read(text, context)
        back = reading.ask.text if reading.ask is not None else reading.trouble
        asked = {"asked_back": back} if back is not None else {}
        yield json.dumps({"text": text, "now": now, **reading.heard.said(), **asked}, ensure_ascii=False)


def _message(line: str, number: int) -> tuple[str, str, Context]:
    try:
        data = json.loads(line)
    except json.JSONDecodeError as error:
        raise LineError(f"line {number}: no JSON object ({error.msg}). Write it like this: {_SHAPE}") from None
    except RecursionError:
        raise LineError(f"line {number}: nested too deeply. Write it like this: {_SHAPE}") from None
    if not isinstance(data, dict):
        raise LineError(f"line {number}: no JSON object. Write it like this: {_SHAPE}")
    text, now = data.get("text"), data.get("now")
    if not isinstance(text, str):
        raise LineError(f'line {number}: "text" is missing or no text. Write it like this: {_SHAPE}')
    if not isinstance(now, str):
        raise LineError(f'line {number}: "now" is missing. Write the time of the message, such as "10:30".')
    try:
        at = datetime.strptime(now, "%H:%M").replace(tzinfo=UTC)
    except ValueError:
        raise LineError(f'line {number}: "{now}" is no time of day. Write it as "HH:MM", such as "09:05".') from None
    known: Any = data.get("known", {})
    if not isinstance(known, dict):
        raise LineError(
            f'line {number}: "known" must be an object with "ovens" and "dishes". Write it like this: {_SHAPE}'
        )
    context = Context(
        _DAY.replace(hour=at.hour, minute=at.minute),
        _names(known, "ovens", number),
        _names(known, "dishes", number),
        _names(known, "people", number),
    )
    return text, now, context


def _names(known: dict[str, Any], key: str, number: int) -> tuple[str, ...]:
    names = known.get(key, [])
    if not isinstance(names, list) or not all(isinstance(name, str) for name in names):
        raise LineError(f'line {number}: "{key}" must be a list of names, such as ["dome", "barrel"].')
    return tuple(name.strip().lower() for name in names if name.strip())
