"""What has no meat in it never goes through collagen, and what nobody knows is said to be taken for something."""
from __future__ import annotations

import pytest

from bot.reading.lexicon import phrase_set
from skills.dish.cuts import find_cut
from skills.safety.words import words_of
from tests.dish.room import SCHOOL_DAY, play


@pytest.mark.parametrize("name", sorted(words_of("meatless")))
def test_what_food_safety_knows_as_meatless_has_a_finish_of_its_own(name: str) -> None:
    """The words are the safety rules' own list (common practice, no source): none of them is flesh that braises."""
    cut, known = find_cut(name)
    assert known
    assert not cut.finish.flesh


@pytest.mark.parametrize(("name", "finish"), [
    ("lamb with leeks", "collagen"), ("beef and mushroom", "collagen"), ("chicken and leek", "bird"),
    ("stuffed peppers", "root"), ("baguettes", "bread"),
    ("smoked haddock", "fish"), ("kippers", "fish"), ("pies", "bake"), ("lasagne", "bake"), ("plum cobbler", "cake"),
    ("apple crumble", "cake"), ("steak pie", "bake"), ("mushroom risotto", "grain"), ("pork chops", "roast"),
    ("chicken skewers", "bird"), ("turkey burgers", "minced"), ("tatties", "root"), ("goat curry", "collagen"),
    ("ham", "roast"), ("pheasants", "bird"), ("baked apples", "root")])
def test_a_name_has_its_finish_and_meat_in_it_goes_first(name: str, finish: str) -> None:
    assert find_cut(name)[0].finish.name == finish


# Dishes of the lexicon that have no finish of their own: they are said to be taken for something.
WITHOUT = 45


def test_what_the_reading_hears_as_a_dish_has_a_finish_of_its_own_all_but_a_few() -> None:
    """Common practice, no source: most of what a yard names is nearer to its own kind than to a lamb shoulder."""
    strange = {name for name in (" ".join(words) for words in phrase_set("dishes", "words")) if not find_cut(name)[1]}
    assert len(strange) <= WITHOUT
    assert {"tofu", "mussels", "meringues"} <= strange


def test_what_nobody_knows_is_said_to_be_taken_for_something() -> None:
    played = play(SCHOOL_DAY, "08:34 Tomos: dome probe 187 air 160",
                  "08:38 Tomos: 2 kg kimchi, litre of water, iron pot\n08:40 Tomos: kimchi in",
                  "08:45 Mara: when will the kimchi be done?")
    assert "taken for lamb shoulder" in played.replies["08:40"]
    assert "taken for lamb shoulder" in played.replies["08:45"]
