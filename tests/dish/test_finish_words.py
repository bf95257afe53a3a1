"""Each finish is told in its own words, and what the table does not know says what it was taken for."""
from __future__ import annotations

from datetime import timedelta

import pytest

from skills.dish.carry import out_at
from skills.dish.promise import promise
from tests.dish.room import SCHOOL_DAY, play


@pytest.mark.parametrize(("load", "name", "words"), [
    ("3 kg bison, 1 l hot stock, iron pot", "bison", "Bison (taken for lamb shoulder) tender about"),
    ("1.6 kg loaves on the stone", "loaves", "Loaves baked about"),
    ("2 kg whole chicken in a tin", "chicken", "Chicken at 74 in the thickest part about"),
    ("1 kg custard in a tin", "custard", "Custard set about"),
])
def test_a_finish_is_told_in_its_own_words(load: str, name: str, words: str) -> None:
    told = play(SCHOOL_DAY, f"08:34 Tomos: dome probe 217 air 196\n08:38 Tomos: {load}",
                f"08:45 Tomos: {name} in the dome\n08:48 Mara: when will the {name} be done?")
    assert words in told.replies["08:48"]
    assert ("tender" in told.replies["08:48"]) == ("tender" in words)


def test_a_meal_that_is_not_today_is_told_with_its_day():
    played = play("""
18:00 Mara: class: beans, 12 guests, eating at 12.30
18:05 Idris: dome air 150, floor 160
18:10 Idris: 2 kg beans, 4 l hot water, lid on
18:12 Idris: beans in the dome
18:20 Mara: will the beans make it?
""")
    assert "eating 12:30 tomorrow" in played.replies["18:00"]
    assert "at 12:30 tomorrow: " in played.replies["18:20"]


def test_a_strange_animal_is_known_by_its_name_from_then_on_and_says_what_it_is_taken_for() -> None:
    told = play(SCHOOL_DAY, "08:34 Tomos: dome probe 217 air 196\n08:38 Tomos: 3 kg yak shoulder, 1 l stock, iron pot",
                "08:45 Tomos: yak in the dome\n08:48 Mara: when will the yak be done?\n10:00 Tomos: yak core 60")
    assert "(taken for lamb shoulder)" in told.replies["08:48"]
    assert len(told.view.record.dishes) == 1


def test_what_sets_while_it_rests_is_not_charged_the_rest_twice() -> None:
    """Out at 79 and set when it has rested: the meal waits for one of the two, not for both (common practice)."""
    told = play(SCHOOL_DAY, "08:34 Tomos: dome probe 217 air 186\n08:38 Tomos: 2.5 kg topside roast, in a roasting tin",
                "08:45 Tomos: roast in the dome\n08:46 Mara: hello").view
    dish = told.record.dishes["roast"]
    out = out_at(dish, told)
    assert out is not None
    at_rest = promise(dish, told, out + timedelta(minutes=25))
    assert at_rest is not None
    assert at_rest.share > 0.4
