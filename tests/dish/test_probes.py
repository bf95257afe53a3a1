"""Several probings of one dish in one message: the coldest tells while it cooks, the warmest while it cools.

Source: FSIS Appendix A (heating is judged at the coldest point) and Appendix B (cooling at the warmest), as the safety
reference has them.
"""
from __future__ import annotations

from dataclasses import replace

import pytest

from skills.dish.probes import telling
from tests.kitchen.days import told


def probed(*celsius, minute=60, message="m60"):
    return [replace(told(minute, dish="chicken", index=index, **{"is": "food", "celsius": each}), message=message)
            for index, each in enumerate(celsius)]


def kept(facts):
    return [each.fact.celsius for each in telling(facts) if each.fact.is_ == "food"]


@pytest.mark.parametrize("order", [(65.0, 75.6), (75.6, 65.0)])
def test_a_bird_is_as_done_as_its_coldest_part(order):
    assert kept(probed(*order)) == [65.0]


@pytest.mark.parametrize("order", [(9.0, 6.0), (6.0, 9.0)])
def test_trays_are_as_cold_as_the_warmest(order):
    assert kept([told(0, dish="chicken", **{"is": "chill", "act": "start"}), *probed(*order)]) == [9.0]


def test_probings_of_two_messages_or_two_dishes_all_tell():
    beans = told(60, dish="beans", index=5, **{"is": "food", "celsius": 80.0})
    facts = [*probed(65.0), *probed(75.6, minute=70, message="m70"), beans]
    assert sorted(kept(facts)) == [65.0, 75.6, 80.0]


def test_a_heat_told_with_a_simmer_is_the_liquors():
    """Common practice, no source."""
    heat = probed(96.0)[0]
    simmer = replace(told(60, dish="chicken", index=1, **{"is": "check", "simmer": "gentle"}), message="m60")
    found = telling([heat, simmer])[0].fact
    assert (found.part, found.celsius) == ("liquid", 96.0)
    assert telling([heat])[0].fact.part is None
