"""How full a firing is: asked in words, told unasked once when the ceiling is clear, and held against the models."""
from __future__ import annotations

from datetime import timedelta

import numpy as np
import pytest

from skills.dish.heats import BRAISE
from skills.planning import raking
from skills.planning.course import RAKE_S, SETTLE_S
from skills.planning.outcome import CLEAR_C
from tests.dish.room import play

FIRING = """
04:40 Idris: lit the dome
04:41 Idris: dome is 90 across, 6 cm floor brick, 10 cm dome, 10 of insulation, probe 5 down. we fire it and rake it
05:10 Idris: 3 splits on
06:00 Idris: 3 splits on
"""
CLEAR = "07:05 Idris: ceiling white, floor ir 340, probe 118"


def test_a_clear_ceiling_over_a_cool_probe_is_not_full_and_is_told_once() -> None:
    """Soot burns off a skin, full depth takes hours (common practice, no source)."""
    yard = play(FIRING, CLEAR, "07:10 Idris: ceiling white, floor ir 342, probe 120", "07:12 Mara: is it full yet?")
    assert "clear, not full: probe 118" in yard.replies["07:05"]
    assert "Keep firing to" in yard.replies["07:05"]
    assert "Raking now would leave" in yard.replies["07:05"]
    assert yard.replies["07:10"] == ""
    assert "not full" in yard.replies["07:12"]


def test_a_longer_fire_leaves_more_heat_at_the_same_hour() -> None:
    """Heat that the fire still gives stays in the brick for hours: never less for a later rake (energy balance)."""
    view = play(FIRING, CLEAR).view
    noon = view.now.replace(hour=12, minute=0)
    left = []
    for minutes in (0, 30, 60, 90):
        found = raking._left("dome", view.now + timedelta(minutes=minutes), noon, view)
        assert found is not None
        left.append(float(np.median(found)))
    assert left == sorted(left)
    assert left[-1] > left[0] + 10.0


def test_without_a_meal_the_fire_goes_on_till_a_braise_would_stay_in_its_heat() -> None:
    """A braise wants 150 or more to its end (common practice, no source)."""
    view = play(FIRING, CLEAR).view
    oven = view.record.ovens["dome"]
    rake = raking._holding(oven, view)
    span = timedelta(seconds=RAKE_S + SETTLE_S + BRAISE.usual_s)
    held = raking._left("dome", rake, rake + span, view)
    sooner = raking._left("dome", rake - timedelta(minutes=15), rake - timedelta(minutes=15) + span, view)
    assert held is not None
    assert sooner is not None
    assert float(np.median(sooner)) < BRAISE.low_c <= float(np.median(held))


def test_a_planned_meal_sets_the_rake_and_its_odds_are_told() -> None:
    yard = play(FIRING, "06:30 Mara: class: shoulder day, 14 guests, eating at 2",
                "06:31 Mara: 3 kg lamb shoulder, litre of hot stock, iron pot", CLEAR, "07:08 Mara: when do I rake?",
                "07:09 Mara: what if we rake now?")
    assert "On the table at 14:00" in yard.replies["07:05"]
    assert "14:00" in yard.replies["07:08"]
    assert "Raking now would leave" in yard.replies["07:08"]
    assert "Raking now would leave" in yard.replies["07:09"]


@pytest.mark.parametrize("reading", ["air 180", "mouth 120"])
def test_a_reading_that_tells_nothing_of_the_brick_is_only_ticked(reading: str) -> None:
    assert play(FIRING, f"06:10 Idris: {reading}").replies["06:10"] == ""


def test_a_face_shot_as_hot_as_a_clear_ceiling_counts_as_clear() -> None:
    yard = play(FIRING, f"06:40 Idris: ir {CLEAR_C + 40:.0f} on the ceiling")
    assert "clear" in yard.replies["06:40"]
