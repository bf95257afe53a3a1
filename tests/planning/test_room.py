"""How many pots an oven takes, and whether the liquor lasts: both from the models, for each oven or pot in use."""
from __future__ import annotations

import re

from skills.planning.room import _cost_k
from tests.dish.room import SCHOOL_DAY, play

LOADED = "08:30 Idris: lamb in the dome, 3 kg shoulder, litre of hot stock, iron pot, lid on"


def test_a_cold_pot_costs_the_oven_more_than_one_with_boiling_stock() -> None:
    """Food warmed from 4 instead of 100 degrees takes more heat (specific heat of water, any handbook)."""
    view = play(SCHOOL_DAY, "08:30 Tomos: probe 200 air 190").view
    oven = view.record.ovens["dome"]
    cold, hot = (_cost_k(oven, start, view) for start in ("cold", "hot"))
    assert cold is not None
    assert hot is not None
    assert 0.0 < hot < cold


def test_how_many_pots_is_answered_with_room_and_cost() -> None:
    yard = play(SCHOOL_DAY, "08:30 Tomos: probe 200 air 190", "08:31 Mara: how many pots can it take?")
    said = r"Dome: room for about \d+ pots; each cold pot .* costs it about \d+ degrees"
    assert re.search(said, yard.replies["08:31"])


def test_whether_the_liquor_lasts_is_told_for_the_pot_that_cooks() -> None:
    yard = play(SCHOOL_DAY, LOADED, "10:00 Mara: is there enough liquor?")
    assert re.search(r"0\.\d l left by 1\d:\d\d|enough", yard.replies["10:00"])


def test_how_much_stock_for_so_many_is_still_an_amount() -> None:
    yard = play(SCHOOL_DAY, LOADED, "10:00 Mara: how much stock for 18?")
    assert "for 18" in yard.replies["10:00"]
