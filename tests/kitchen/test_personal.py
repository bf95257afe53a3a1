"""A gun that reads low and a hand that counts fast are found out. Truth: the readings are made from a known oven."""

from __future__ import annotations

import pytest

from skills.kitchen import Kitchen, Setting
from skills.kitchen.instruments import HAND_COUNT_C, HAND_COUNT_S, kind_of, usual_log_count
from skills.kitchen.personal import Used, counted
from skills.vocabulary import Reading
from tests.kitchen.days import at, dome_day, told

SETTING = Setting(seed=5, members=120, foreseeing=60)


def shot(facts, off, who="Tomos"):
    """The dome day with a gun shot every half hour at ceiling and floor, `off` K from what is believed of the oven."""
    shots, belief = [], Kitchen(SETTING)
    for minute in range(240, 480, 30):
        oven = belief.believe(facts, at(minute)).ovens["dome"]
        for index, (place, heat) in enumerate(
            (("dome", oven.quantile("dome", 0.5)), ("floor", oven.quantile("surface", 0.5) - 10.0))
        ):
            shots.append(
                told(
                    minute,
                    "dome",
                    who=who,
                    index=index,
                    **{"is": "reading", "place": place, "tool": "infrared", "celsius": round(heat + off)},
                )
            )
    return sorted([*facts, *shots], key=lambda each: (each.at, each.told, each.message, each.index))


@pytest.mark.parametrize("off", [-25, 0, 25])
def test_a_gun_that_reads_off_all_day_is_found_out(off):
    mean, sd, count = Kitchen(SETTING).believe(shot(dome_day(), off), at(500)).offsets()["infrared", "Tomos"]
    assert count == 16
    assert mean == pytest.approx(off, abs=12.0)
    assert sd < 8.0
    if off:
        assert abs(mean) > 2.0 * sd


def test_a_gun_that_reads_low_hardly_moves_the_oven():
    facts = dome_day()
    plain = Kitchen(SETTING).believe(facts, at(500)).ovens["dome"].quantile("air", 0.5)
    low = Kitchen(SETTING).believe(shot(facts, -25), at(500)).ovens["dome"].quantile("air", 0.5)
    assert low == pytest.approx(plain, abs=4.0)


def test_a_person_who_counts_fast_is_learnt_and_nobody_else_is():
    facts = dome_day()
    quick = [told(minute, "dome", who="Bea", **{"is": "reading", "count": 40.0}) for minute in range(250, 480, 40)]
    found = (
        Kitchen(SETTING)
        .believe(sorted([*facts, *quick], key=lambda each: (each.at, each.told, each.message)), at(500))
        .offsets()
    )
    mean, sd, count = found["hand", "Bea"]
    assert set(found) == {("hand", "Bea")}
    assert count == len(quick)
    assert sd < 0.3
    assert mean > 0.2


def test_the_usual_count_is_the_published_hand_model():
    """Rows of the hand model, heat reference section 10 (own computation there from skin constants)."""
    import numpy as np

    assert usual_log_count(np.array(HAND_COUNT_C) + 273.15) == pytest.approx(np.log(HAND_COUNT_S))


def test_a_wall_without_a_tool_is_a_gun_and_a_floor_is_the_probe():
    assert kind_of(Reading(place="back", celsius=200)) == "infrared"
    assert kind_of(Reading(place="floor", celsius=200)) is None
    assert kind_of(Reading(place="floor", celsius=200, tool="infrared")) == "infrared"
    assert kind_of(Reading(count=6)) == "hand"
    assert kind_of(Reading(place="air", celsius=170)) is None


def test_the_tally_keeps_ovens_and_places_apart():
    one, other = Used("infrared", "Bea", "dome", "floor", 1), Used("infrared", "Bea", "barrel", "floor", 1)
    tally = counted(counted(counted((), one), other), one)
    assert tally == (Used("infrared", "Bea", "dome", "floor", 2), other)
