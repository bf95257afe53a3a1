"""The shopping list: it grows with the guests, keeps what was said, and flags what the guests avoid."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from skills.dated import Dated
from skills.planning.shopping import FILL, list_lines, mind
from skills.planning.shopping import shopping as shopping_of
from skills.record import ClassRecord
from skills.vocabulary import fact
from tests.planning import helpers


def shopping(wishes, guests, avoids=None):
    return shopping_of(wishes, guests, ClassRecord(avoids=avoids or {}))


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
    wishes, record = [helpers.wish("flatbreads", {}), lamb()], ClassRecord(avoids={"gluten": 2})
    items = shopping_of(wishes, 14, record)
    assert items[0].flags == ("gluten",)
    assert items[1].flags == ()
    foot = list_lines(items, 14, [("dome", 13.0)], mind(wishes, record))[-1]
    assert "2 avoid gluten: flatbreads nearly always hold gluten" in foot


def test_what_was_logged_into_a_dish_is_flagged_before_people_shop():
    flour = fact({"is": "contents", "item": "flour", "allergen": "gluten"})
    told = Dated(helpers.NOW, helpers.NOW, "Bea", "m1", 0, flour, None, "lamb")
    record = ClassRecord(avoids={"gluten": 1}, facts=(told,))
    assert shopping_of([lamb()], 14, record)[0].flags == ("gluten",)
    assert "lamb: gluten (flour " in mind([lamb()], record)
    assert mind([lamb()], ClassRecord(facts=(told,))) == ""


PUDDING = {"meat_kg": 0.4}


def test_a_pudding_takes_ten_times_its_rice_in_milk_and_a_dish_that_holds_both():
    """Common practice, no source: a hundred grams of rice to the litre of milk; the dish two thirds full."""
    item = shopping([helpers.wish("rice pudding", PUDDING)], 14)[0]
    assert item.liquor_l == pytest.approx(4.0)
    assert item.pots * item.pot_l * FILL >= 4.4
    assert "4.0 l of milk" in item.amounts()
    told = shopping([helpers.wish("rice pudding", {**PUDDING, "liquid_l": 3.0})], 14)[0]
    assert "3.0 l of milk" in told.amounts()


def test_dough_is_bought_as_flour_and_salt_and_counted_in_pieces():
    """A baker's percentage of 65 of water to 100 of flour, 2 of salt (common practice, no source)."""
    item = shopping([helpers.wish("loaves", {"meat_kg": 2.4})], 14)[0]
    parts = {name: amount for name, amount, _ in item.parts}
    assert parts["water"] / parts["flour"] == pytest.approx(0.65, abs=0.01)
    assert parts["salt"] / parts["flour"] == pytest.approx(0.02, abs=0.001)
    assert sum(parts.values()) == pytest.approx(2.4, rel=0.01)
    assert item.pieces == 3
    assert item.pots == 0


@pytest.mark.parametrize("dish", ["flatbreads", "rice pudding", "custard", "beans", "roast pork", "chicken", "salmon",
                                  "carrots", "loaves", "kimchi", "plums to dry"])
def test_what_was_not_weighed_grows_with_the_guests_whatever_the_dish(dish):
    few, many = (shopping([helpers.wish(dish, {})], guests)[0] for guests in (10, 20))
    assert many.raw_kg == pytest.approx(2 * few.raw_kg)
    assert [amount for _, amount, _ in many.parts] == pytest.approx([2 * amount for _, amount, _ in few.parts])
