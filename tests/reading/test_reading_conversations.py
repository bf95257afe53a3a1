"""What a whole conversation adds to its messages: readings begun in one and ended in the next, names just heard, units
just used; and single turns that only a conversation shows. Meanings follow the labelling rules and the vocabulary.
"""

from __future__ import annotations

import pytest

from tests.reading.helpers import Talk, as_set, facts_of, heard


def pot(act, dish, **more):
    return {"is": "pot", "act": act, "dish": dish, **more}


def spoken(*turns, ovens=("dome", "barrel"), dishes=("lamb", "beans")):
    """The facts of the last of several turns, each (who, text, clock)."""
    talk = Talk(ovens, dishes)
    for who, text, clock in turns:
        said = talk.say(who, text, clock)
    return facts_of(said)


@pytest.mark.parametrize(
    ("first", "then", "wanted"),
    [
        ("dome back wall is", "231 on the gun", [
            {"is": "reading", "oven": "dome", "place": "back", "celsius": 231, "tool": "infrared"}
        ]),
        ("dome floor", "210 air 180", [
            {"is": "reading", "oven": "dome", "place": "floor", "celsius": 210},
            {"is": "reading", "oven": "dome", "place": "air", "celsius": 180},
        ]),
        ("lamb core...", "71", [{"is": "food", "dish": "lamb", "part": "core", "celsius": 71}]),
        ("lamb", "in at twenty to nine", [pot("in", "lamb", at="08:40")]),
        ("beans are", "still hard", [{"is": "check", "dish": "beans", "tender": "tough"}]),
        # Negative neighbours: nothing was begun, or what comes is whole by itself or no end of it.
        ("the barrel is", "lovely today", []),
        ("barrel air is at", "dome floor 190", [{"is": "reading", "oven": "dome", "place": "floor", "celsius": 190}]),
        ("barrel?", "190", []),
        ("whose is the barrel", "air 190", [{"is": "reading", "place": "air", "celsius": 190}]),
    ],
)
def test_a_reading_sent_in_two_pieces_is_one(first, then, wanted):
    assert as_set(spoken(("Idris", first, "08:55"), ("Idris", then, "08:56"))) == as_set(wanted)


def test_a_piece_is_ended_by_its_own_sender_and_soon():
    assert spoken(("Idris", "dome floor", "08:55"), ("Bea", "210", "08:56")) == []
    assert spoken(("Idris", "dome floor", "08:55"), ("Idris", "210", "09:05")) == []


@pytest.mark.parametrize(
    ("text", "wanted"),
    [
        ("peaches in the barrel", [pot("in", "peaches", oven="barrel")]),
        ("put some apricots into the dome", [pot("in", "apricots", oven="dome")]),
        ("kimchi pancakes in the dome now, air 210", [
            pot("in", "kimchi pancakes", oven="dome"),
            {"is": "reading", "oven": "dome", "place": "air", "celsius": 210},
        ]),
        ("beans in barell", [pot("in", "beans", oven="barrel")]),
        ("smoke in the barrel", []),
        ("there's a mouse in the barrel", []),
        ("Idris in the barrel", []),
        ("peaches in the barrel?", []),
        ("don't put peaches in the barrel yet", []),
        ("nice colour in the dome", []),
    ],
)
def test_a_dish_that_nobody_named_before_is_named_by_going_into_a_known_oven(text, wanted):
    assert as_set(heard(text)) == as_set(wanted)


@pytest.mark.parametrize(
    ("text", "wanted"),
    [
        ("lamb in the dome, cider's hot", [
            pot("in", "lamb", oven="dome"), {"is": "load", "dish": "lamb", "start": "hot"}
        ]),
        ("the tea is hot", []),
        ("I put the lamb inside the barrel, without the lid", [
            pot("in", "lamb", oven="barrel"), pot("lid_off", "lamb", oven="barrel")
        ]),
        ("beans in the dome with 4 l of boiling water, 1.8 kg of them", [
            pot("in", "beans", oven="dome"),
            {"is": "load", "dish": "beans", "meat_kg": 1.8, "liquid_l": 4, "start": "hot"},
        ]),
        ("dome ceiling gun says 490 F", [
            {"is": "reading", "oven": "dome", "place": "dome", "celsius": 254.4, "tool": "infrared"}
        ]),
        ("lamb fallen apart so it's out", [
            {"is": "check", "dish": "lamb", "tender": "falling"}, pot("out", "lamb")
        ]),
        ("2 degrees out here, dry and dead still", [
            {"is": "weather", "celsius": 2, "sky": "dry", "wind": "calm"}
        ]),
        ("lamb looks dead still", [{"is": "check", "dish": "lamb", "simmer": "none"}]),
        ("sorry, glasses! take away my last two", [{"is": "fix", "act": "undo"}, {"is": "fix", "act": "undo"}]),
        ("take away that plate", []),
        ("eating at nine in the morning", [{"is": "serve", "by": "09:00"}]),
        ("5 l of lamb left, into trays 4 cm deep on ice", [
            {"is": "chill", "act": "start", "dish": "lamb", "litres": 5, "depth_cm": 4, "method": "ice"}
        ]),
        ("the barrel, does it need wood?", [{"is": "refuel", "oven": "barrel"}]),
        ("how much flour is for 24 persons?", [{"is": "amount", "item": "flour", "guests": 24}]),
        ("who has batteries", []),
        ("whose are the dry ones", []),
        ("who has the ice", [{"is": "who", "what": "ice"}]),
        ("one of them can't have milk, and there's 9 of them now", [
            {"is": "guests", "count": 1, "allergen": "milk"}, {"is": "guests", "count": 9}
        ]),
        ("there's 9 of them now", []),
    ],
)
def test_turns_of_whole_classes(text, wanted):
    assert as_set(heard(text, now="19:30")) == as_set(wanted)


def test_a_bare_heat_behind_a_pardon_mends_what_its_sender_told_a_heat_of_last():
    got = spoken(("Idris", "lamb liquid 196 F", "11:30"), ("Idris", "sorry, 206 F", "11:31"))
    assert as_set(got) == as_set([{"is": "fix", "act": "replace", "of": "food", "celsius": 96.7}])
    got = spoken(("Idris", "dome air 196", "11:30"), ("Idris", "sorry, 206", "11:31"))
    assert as_set(got) == as_set([{"is": "fix", "act": "replace", "of": "reading", "celsius": 206}])
