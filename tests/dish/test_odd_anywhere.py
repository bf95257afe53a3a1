"""Bad input of a dish, wherever that dish is: one line, at most one question, nothing lost, nothing used."""
from __future__ import annotations

from datetime import timedelta

import pytest

from skills.safety.spans import story
from tests.dish.room import SCHOOL_DAY, Played, play

KNOWN = "08:34 Tomos: dome probe 217 air 186\n"
WAITING = KNOWN + "08:38 Tomos: 3 kg lamb, litre of hot stock, iron pot, lid on\n"
IN = WAITING + "08:45 Tomos: lamb in the dome, door on\n"
OUT = IN + "12:00 Idris: lamb out\n"
PLACES = {
    "no dish": KNOWN, "waiting": WAITING, "in": IN, "out": OUT,
    "on the ring": IN + "12:00 Idris: lamb out to the ring\n",
    "served": OUT + "12:20 Mara: lamb served\n"}
EVERYWHERE = tuple(PLACES)
LAMB_NEVER_IN, OFF_THE_HEAT = ("no dish", "waiting"), ("no dish", "waiting", "out", "served")

# What is said, where the lamb is then, and what the one line has to hold. What has water in it gets no hotter than
# that boils, 100 degC at the sea (water tables); the other limits are common practice, no source.
BAD = [
    ("lamb core 150", EVERYWHERE, "not used"), ("core 150", EVERYWHERE, "not used"),
    ("lamb core 102", EVERYWHERE, "not used"), ("lamb liquor 130", EVERYWHERE, "not used"),
    ("lamb core -5", EVERYWHERE, "not used"),
    ("lamb is 300 kg", EVERYWHERE, "300 kg cannot be right: noted, not used"),
    ("lamb is 0 kg", EVERYWHERE, "0 kg cannot be right: noted, not used"),
    ("pot in again", ("in",), "Nothing changed"),
    ("lamb in the dome", ("in",), "Nothing changed"), ("lamb in the dome", ("served",), "served at 12:20"),
    ("lamb out", LAMB_NEVER_IN, "not in an oven by my log"), ("lamb out", ("out", "served"), "out since 12:00"),
    ("turned the lamb", OFF_THE_HEAT, "not in an oven by my log"),
    ("lamb on the ring now", ("on the ring",), "Nothing changed"),
    ("lamb still tough", ("served",), "Noted"), ("lamb's giving, gentle simmer", ("served",), "Noted"),
]
CASES = [(said, place, holds) for said, places, holds in BAD for place in places]


def told_in(place: str, said: str) -> Played:
    return play(SCHOOL_DAY, PLACES[place], f"12:40 Bea: {said}")


@pytest.mark.parametrize(("said", "place", "holds"), CASES, ids=[f"{said}, {place}" for said, place, _ in CASES])
def test_one_line_and_nothing_lost(said: str, place: str, holds: str) -> None:
    played = told_in(place, said)
    reply = played.replies["12:40"]
    assert holds in reply
    assert len(reply.splitlines()) == 1
    assert reply.count("?") <= 1
    kept = [dated for dated in played.view.record.facts if f"{dated.told:%H:%M}" == "12:40"]
    assert len(kept) == 1


@pytest.mark.parametrize("place", ["in", "out", "on the ring"])
@pytest.mark.parametrize("said", ["lamb core 150", "lamb core -5", "lamb is 300 kg", "lamb is 0 kg"])
def test_the_dish_is_believed_as_without_it(place: str, said: str) -> None:
    plain, played = told_in(place, "coffee's on").view, told_in(place, said).view
    assert plain.belief is not None
    assert played.belief is not None
    expected, found = plain.belief.dishes["lamb"], played.belief.dishes["lamb"]
    # A probe means a lid off for a look; no more than that may show.
    assert abs(found.core_c.mean() - expected.core_c.mean()) < 2.0
    assert played.record.dishes["lamb"].meat_kg == 3.0
    mine = story("lamb", played.record, played.now)
    assert all(0.0 <= anchor.celsius <= 101.0 for anchor in mine.anchors)


def test_jam_is_no_meat() -> None:
    """Jam sets at 104 to 105 degC (common practice, no source): no slip."""
    assert told_in("no dish", "jam's at 104").replies["12:40"] == ""


def test_the_bare_word_that_something_came_out_starts_no_clock() -> None:
    """Nothing is known of a goat: one line, and no call hours later for food that nobody may have cooked."""
    played = play(SCHOOL_DAY, KNOWN, "09:00 Mara: goat out", "13:00 Idris: all well here", "16:00 Bea: bye")
    assert "not in an oven by my log" in played.replies["09:00"]
    assert not [each for each in played.prompts_of("safety") if "goat" in each.text.lower()]
    probed = play(SCHOOL_DAY, KNOWN, "09:00 Mara: goat out", "09:05 Mara: goat core 71", "13:00 Idris: all well here")
    mine = story("goat", probed.view.record, probed.view.now + timedelta(minutes=1))
    assert [span.where for span in mine.spans] == ["bench"]


def test_a_pot_that_comes_back_without_a_name_is_the_one_that_is_out() -> None:
    """Out to be looked at and in again it is no second pot; once it is eaten, another is."""
    back = told_in("out", "pot back in").view.record.dishes
    assert set(back) == {"lamb"}
    assert back["lamb"].oven == "dome"
    another = told_in("served", "pot in").view.record.dishes
    assert len(another) == 2
    assert another["lamb"].oven is None
