"""Dishes that are told of before they are in a pot name what is weighed for them (the labelling rules on loads)."""

from __future__ import annotations

import pytest

from bot.reading.introduced import introduced
from tests.reading.helpers import as_set, heard


@pytest.mark.parametrize(
    ("text", "names"),
    [
        ("two pots on the go today, the shin and the beans", ("shin", "beans")),
        ("right, we've got three pots today: goat, lentils and rice pudding", ("goat", "lentils", "rice pudding")),
        ("on the menu: lamb n beans", ("lamb", "beans")),
        ("morning. cooking today, brisket and dumplings", ("brisket", "dumplings")),
        # Negative neighbours: titles, plans, other days, other pots.
        ("class: shin and beans day, 12 guests", ()),
        ("two pots in the sink, the big and the old", ()),
        ("two pots tomorrow, the shin and the beans", ()),
        ("two pots today, the shin or the beans?", ()),
        ("the beans and the shin", ()),
    ],
)
def test_dishes_are_introduced(text, names):
    assert introduced(text) == names


def test_a_load_of_an_introduced_dish_is_that_dishs():
    wanted = {"is": "load", "dish": "beans", "meat_kg": 1.5, "liquid_l": 3, "start": "cold"}
    text = "beans 1.5 kg, 3 litres cold water"
    assert as_set(heard(text, dishes=(), introduced=("shin", "beans"))) == as_set([wanted])
    without = {"is": "load", "cut": "beans", "meat_kg": 1.5, "liquid_l": 3, "start": "cold"}
    assert as_set(heard(text, dishes=())) == as_set([without])


def test_the_butchers_word_beside_it_is_its_cut():
    wanted = {"is": "load", "dish": "lamb", "cut": "shoulder", "meat_kg": 3.5}
    assert as_set(heard("3.5 kg lamb shoulder", dishes=(), introduced=("lamb",))) == as_set([wanted])
