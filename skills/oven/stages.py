"""How far an oven without a pot is: fired, or raked and settling. Told when asked, and when a reading bears on it."""
from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime, timedelta

from skills.oven.settling import settling, settling_lines, waits_for_a_pot
from skills.planning.raking import is_fired, raking, raking_key, raking_lines
from skills.record import OvenRecord
from skills.skill import Reply
from skills.view import View
from skills.vocabulary import Reading

# What was said of a stage is said again when its time has moved so far, or after so long (job: minutes of silence).
MOVED, AGAIN = timedelta(minutes=10), timedelta(minutes=45)
# Two spots and more in one message are a round of the oven.
ROUND = 2


def stage_lines(oven: OvenRecord, view: View) -> tuple[str, ...]:
    """What is said of an oven without a pot; nothing of one in use."""
    return raking_lines(oven, view) or settling_lines(oven, view)


def stage_heard(oven: OvenRecord, readings: Sequence[Reading], view: View) -> Reply | None:
    """What readings of one message call for: once the ceiling is clear, when to rake; of a round of spots after the
    rake, when the pot may go in. None while that has not moved since it was said."""
    solid = [fact for fact in readings if fact.place not in (None, "air", "mouth")]
    if is_fired(oven, view) and solid:
        fired = raking(oven, view)
        if fired is not None and fired.clear and _new(raking_key(oven.name), fired.rake, view):
            return Reply(fired.lines(), fired.said)
    spots = [fact for fact in readings if fact.tool == "infrared"]
    if len(spots) >= ROUND and waits_for_a_pot(oven, view):
        found, key = settling(oven, view), f"settled:{oven.name}"
        if found is not None and found.ready is not None and _new(key, found.ready, view):
            return Reply(found.lines(), {key: found.ready.timestamp()})
    return None


def _new(key: str, at: datetime, view: View) -> bool:
    before = view.told.get(key)
    if before is None or before["mid"] is None:
        return True
    moved_s, since_s = abs(at.timestamp() - float(before["mid"])), view.now.timestamp() - float(before["at"])
    return moved_s >= MOVED.total_seconds() or since_s >= AGAIN.total_seconds()
