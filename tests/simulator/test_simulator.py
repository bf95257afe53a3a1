"""The simulated classes are fit to judge by: their heat balances, and their talk is heard as it was meant."""

from __future__ import annotations

import numpy as np

from bot.reading.read import read
from bot.rooms.transcript import parse
from bot.session import Session
from tests.simulator.cook import make
from tests.simulator.masonry import SIGMA, STEP_S, Oven, Pot, draw_kind


def test_a_sealed_oven_settles_to_one_temperature_and_keeps_its_heat():
    """No fire, door on and nothing lost outside: what one zone gives another takes (first law)."""
    kind = draw_kind(np.random.default_rng(4), tended=False)
    kind.outer, kind.leak, kind.door, kind.k_back, kind.k_under = 0.0, 0.0, 0.0, 1e-6, 1e-6
    oven = Oven(kind, np.random.default_rng(1), 288.0, 500.0, 0.0)
    oven.temp[:16, :5] = 420.0
    spread = np.ptp(oven.temp[:16])
    for step in range(int(6 * 3600 / STEP_S)):
        oven.step(step * STEP_S)
    assert np.ptp(oven.temp[:16]) < 0.2 * spread
    assert 420.0 < oven.temp[:16].mean() < 500.0


def tender_h(oven_c):
    """Hours until a pot of middling size is tender in an oven that stays as hot as that."""
    around, pot, hours = oven_c + 273.15, Pot(2.75, 1.2, 373.0, 320.0), 0.0
    while pot.done < 1.0:
        pot.step(SIGMA * 0.07 * 0.85 * (around**4 - pot.body**4) + 2.92 * (around - pot.body), STEP_S)
        hours += STEP_S / 3600.0
    return hours


def test_a_simulated_pot_is_tender_when_the_trade_says_so():
    """A steady 150 C oven about 4 h, a steady 100 C oven 8 to 10 h (common practice, no source)."""
    assert 3.5 <= tender_h(150.0) <= 4.5
    assert 8.0 <= tender_h(100.0) <= 10.0


def test_what_the_simulated_people_say_is_heard_as_they_mean_it():
    """The readings of one class, place and degrees, against what the simulator wrote down for each message."""
    text, truth = make(3)
    transcript = parse("simulated", text.splitlines())
    session = Session("x", transcript.school, {})
    meant = heard_right = 0
    for message, wrote in zip(transcript.messages, truth["messages"], strict=True):
        heard = read(message.text, session.context(message)).heard
        session.add(message, heard)
        for fact in wrote["facts"]:
            meant += 1
            heard_right += any(getattr(each, "place", None) == fact["place"] for each in heard.facts)
    assert meant >= 5
    assert heard_right == meant
