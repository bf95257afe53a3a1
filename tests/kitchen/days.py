"""Invented days in the yard, as facts: Mara and the others with the dome and the barrel."""

from __future__ import annotations

from datetime import datetime, timedelta

from skills.dated import Dated
from skills.vocabulary import fact

START = datetime.fromisoformat("2026-05-16T06:00:00+01:00")


def at(minute):
    return START + timedelta(minutes=minute)


def told(minute, oven=None, dish=None, told_at=None, who="Mara", index=0, **data):
    """One fact: when it was (minutes from START), about what."""
    return Dated(
        at(minute), at(minute if told_at is None else told_at), who, f"m{minute}", index, fact(data), oven, dish
    )


def dome_day():
    """Fired three hours, raked, a shoulder in; readings every half hour, two looks."""
    facts = [
        told(
            0,
            "dome",
            **{
                "is": "oven",
                "across_cm": 90,
                "floor_cm": 6,
                "dome_cm": 10,
                "insulation_cm": 10,
                "probe_cm": 5,
                "fired": "retained",
            },
        ),
        told(5, "dome", **{"is": "fire", "act": "lit", "wood_kg": 1.2}),
    ]
    facts += [told(11 + 20 * each, "dome", **{"is": "fire", "act": "fed", "pieces": 3}) for each in range(0, 8, 2)]
    facts += [
        told(120, "dome", **{"is": "reading", "place": "floor", "celsius": 150, "tool": "probe"}),
        told(185, "dome", **{"is": "fire", "act": "raked"}),
        told(195, "dome", **{"is": "door", "state": "on"}),
        told(
            228,
            dish="lamb",
            **{"is": "load", "cut": "lamb shoulder", "meat_kg": 3.0, "liquid_l": 1.0, "pan": "iron", "start": "cold"},
        ),
        told(230, "dome", "lamb", **{"is": "pot", "act": "in"}),
    ]
    for step in range(10):
        facts += [
            told(215 + 30 * step, "dome", **{"is": "reading", "place": "air", "celsius": 178 - 6 * step}),
            told(
                216 + 30 * step,
                "dome",
                **{"is": "reading", "place": "floor", "celsius": 214 - 8 * step, "tool": "probe"},
            ),
        ]
    facts += [
        told(340, dish="lamb", **{"is": "check", "tender": "tough", "simmer": "gentle"}),
        told(420, dish="lamb", **{"is": "food", "part": "core", "celsius": 88}),
    ]
    return sorted(facts, key=lambda each: (each.at, each.told, each.message, each.index))
