"""What stands in the water with pulses: acid and hard water keep them firm, soda softens them (common practice, no
source; directions only are held, the sizes are from memory)."""
from __future__ import annotations

import pytest

from skills.dish.finishes import COLLAGEN, PULSE, slowings
from tests.dish.room import SCHOOL_DAY, Played, play

WARM = "08:20 Bea: dome floor 200 air 190\n"
BEANS = "08:30 Bea: 1 kg soaked white beans, 3 l hot water, clay pot, lid on\n"
BEANS_IN = "08:45 Bea: beans in the dome, door on\n"


def tender_h(played: Played) -> float:
    forecast = played.view.forecast()
    assert forecast is not None
    assert played.now is not None
    times = sorted(float(at_s) for at_s in forecast.dishes["beans"].tender_s)
    return (times[len(times) // 2] - played.now.timestamp()) / 3600.0


@pytest.fixture(scope="module")
def plain() -> float:
    return tender_h(play(SCHOOL_DAY, WARM, BEANS, BEANS_IN))


@pytest.mark.parametrize("item", ["tin of tomatoes", "vinegar", "lemon"])
def test_beans_with_acid_from_the_start_take_longer_and_the_answer_says_so(item: str, plain: float) -> None:
    played = play(SCHOOL_DAY, WARM, BEANS, f"08:40 Bea: {item} in the beans\n", BEANS_IN,
                  "08:50 Mara: when will the beans be done?")
    assert tender_h(played) > 1.1 * plain
    assert "Acid in the pot" in played.replies["08:50"]


def test_what_goes_in_when_the_pot_has_long_been_in_changes_nothing_of_the_time(plain: float) -> None:
    late = play(SCHOOL_DAY, WARM, BEANS, BEANS_IN, "10:15 Bea: tomatoes in the beans\n")
    same = play(SCHOOL_DAY, WARM, BEANS, BEANS_IN, "10:15 Bea: lovely crowd\n")
    assert tender_h(late) == tender_h(same)
    assert plain > 0.0


def test_acid_is_no_matter_for_meat_and_names_within_other_words_are_not_taken() -> None:
    assert slowings(COLLAGEN, ("red wine",)) == ()
    assert [each.name for each in slowings(PULSE, ("red wine",))] == ["acid"]
    assert slowings(PULSE, ("winery herbs", "lemongrass")) == ()
    assert [each.times > 1.0 for each in slowings(PULSE, ("hard water", "pinch of bicarb"))] == [True, False]
