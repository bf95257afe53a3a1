"""Readings as plain objects, and comparing them without minding their order."""

from __future__ import annotations

import json
from datetime import datetime
from zoneinfo import ZoneInfo

from bot.reading.context import Context, Pending, Said
from bot.reading.read import Reading, read

# An invented class day in the invented school yard.
DAY = datetime(2026, 5, 16, tzinfo=ZoneInfo("Europe/London"))
PEOPLE = ("Mara", "Idris", "Tomos", "Bea")


def at(clock):
    hour, minute = map(int, clock.split(":"))
    return DAY.replace(hour=hour, minute=minute)


def context(now="11:30", ovens=("dome", "barrel"), dishes=("lamb", "beans"), **more):
    return Context(at(now), tuple(ovens), tuple(dishes), PEOPLE, **more)


def heard(text, now="11:30", ovens=("dome", "barrel"), dishes=("lamb", "beans"), **more):
    """The facts and questions of a message, as the flat objects of the vocabulary."""
    said = read(text, context(now, ovens, dishes, **more)).heard.said()
    return said["facts"] + said["questions"]


def as_set(entries):
    """Flat objects in an order of their own, numbers as floats: two readings are equal if these are."""
    return sorted(json.dumps(_plain(entry), sort_keys=True) for entry in entries)


def _plain(value):
    if isinstance(value, dict):
        return {key: _plain(entry) for key, entry in value.items()}
    if isinstance(value, list):
        return sorted((_plain(entry) for entry in value), key=json.dumps)
    if isinstance(value, int | float) and not isinstance(value, bool):
        return float(value)
    return value


class Talk:
    """A room's talk, message by message, with what was said before and the question that waits."""

    def __init__(self, ovens=("dome", "barrel"), dishes=("lamb", "beans"), start="08:15"):
        self.ovens, self.dishes = ovens, dishes
        self.now = start
        self.last: tuple[Said, ...] = ()
        self.pending: Pending | None = None

    def say(self, who, text, now=None) -> Reading:
        self.now = now or self.now
        reading = read(
            text, context(self.now, self.ovens, self.dishes, sender=who, last=self.last, pending=self.pending)
        )
        self.last = (*self.last, Said(at(self.now), who, text, reading.heard))[-12:]
        if reading.ask is not None:
            ask = reading.ask
            self.pending = Pending(ask.text, ask.about, ask.missing, ask.options, at(self.now), who)
        elif reading.heard.facts:
            self.pending = None
        return reading


def facts_of(reading):
    return reading.heard.said()["facts"]
