"""What is left, told in litres: the answer comes at once and is of the pot, the trays and the clock."""
from __future__ import annotations

import re

import pytest

from skills.safety.chill import TRAY_CM, TRAY_M2
from tests.dish.room import play

STEW = """
09:00 Mara: class: stew day, 14 guests, eating at 1
09:05 Tomos: 4 kg shin, 3 l stock for the stew, big iron pot
09:10 Tomos: stew in the dome
12:35 Tomos: stew tender, core 95
13:05 Mara: served
"""


def test_one_big_pot_is_too_slow_and_trays_on_ice_are_told_with_their_times() -> None:
    """63 to 8 within 90 min by the figure of the UK pack; a tray of 30 by 20 cm under 5 cm deep (food safety
    reference, section 7)."""
    yard = play(STEW, "14:12 Tomos: 6 l stew left, off heat 14.10, one big pot", "14:14 Mara: how do we chill it?")
    said = yard.replies["14:12"]
    assert "too slow" in said
    assert "Three trays" in said
    assert 3 * TRAY_M2 * TRAY_CM * 10 >= 6.0
    begin, probe = re.search(r"Start by (\d\d:\d\d), probe at (\d\d:\d\d)", said).groups()
    assert "14:12" <= begin < probe <= "16:10"
    assert "6 l" in yard.replies["14:14"]


@pytest.mark.parametrize("words", ["stew in the dome, 6 l of it", "we have 6 l stock left"])
def test_litres_of_what_is_in_the_heat_or_was_never_cooked_are_no_leftovers(words: str) -> None:
    assert "too slow" not in play(STEW.split("12:35")[0], f"10:00 Tomos: {words}").replies["10:00"]


def test_this_is_the_dish_that_the_room_spoke_of() -> None:
    yard = play(STEW, "13:06 Bea: beans in the dome, 2 kg", "14:10 Tomos: 6 l stew left, off heat 14.10",
                "14:15 Mara: can we eat this?")
    assert yard.replies["14:15"].startswith("Stew")
