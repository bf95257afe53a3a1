"""The shopping list: it grows with the guests, keeps what was said, and flags what the guests avoid."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from skills.planning.shopping import FILL, list_lines, shopping
from tests.planning import helpers


def lamb(**load):
    return helpers.wish(load={"cut": "lamb shoulder", **load})


@given(few=st.integers(1, 200), more=st.integers(1, 200))
def test_more_guests_never_need_less(few, more):
    few, more = sorted((few, more))
    low, high = (shopping([lamb()], each)[0] for each in (few, more))
    assert high.raw_kg >= low.raw_kg
    assert high.liquor_l >= low.liquor_l
    assert high.pots >= low.pots


@given(guests=st.integers(1, 400))
def test_no_pot_is_filled_past_two_thirds(guests):
    """Common practice, no source: a pot two thirds full does not boil over, and its lid still closes."""
    item = shopping([lamb()], guests)[0]
    assert (item.raw_kg + item.liquor_l) / item.pots <= FILL * item.pot_l


def test_a_weight_that_was_said_stands():
    item = shopping([lamb(meat_kg=3.0, liquid_l=1.0)], 40)[0]
    assert (item.raw_kg, item.liquor_l) == (3.0, 1.0)


def test_a_braise_gives_back_two_thirds_of_its_weight():
    """A third is lost in a braise (common practice, no source)."""
    item = shopping([lamb(meat_kg=3.0)], 14)[0]
    assert item.cooked_kg == pytest.approx(2.0, abs=0.1)


def test_what_guests_avoid_is_flagged_on_the_dish_and_at_the_foot():
    items = shopping([helpers.wish("flatbreads", {}), lamb()], 14, {"gluten": 2})
    assert items[0].flags == ("gluten",)
    assert items[1].flags == ()
    assert "2 avoid gluten" in list_lines(items, 14, 13.0, {"gluten": 2})[-1]
