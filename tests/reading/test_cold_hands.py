"""What cold, wet hands type: no units, no names, no commas. Played through a room; what is meant follows the labelling
rules on talk."""

from __future__ import annotations

import pytest

from tests.reading.helpers import as_set, heard
from tests.reading.test_short_words import in_room, pot

LIT = "09:00 Idris: lit the dome"
LOAVES = "09:10 Bea: loaves shaped, in the fridge"


def reading(celsius, place, **more):
    return {"is": "reading", "celsius": celsius, "place": place, **more}


def fed(**more):
    return {"is": "fire", "act": "fed", "oven": "dome", **more}


@pytest.mark.parametrize(
    ("turns", "wanted"),
    [
        # A bare number is of the spot that its sender told of before.
        (["10:00 Tomos: floor 325", "10:20 Tomos: 280"], [reading(280, "floor")]),
        (["10:00 Tomos: air 260", "10:20 Tomos: 215"], [reading(215, "air")]),
        # Negative neighbours: too far, between two spots, another person's.
        (["10:00 Tomos: floor 325", "10:20 Tomos: 150"], []),
        (["10:00 Tomos: floor 215 air 200", "10:20 Tomos: 172"], []),
        (["10:00 Tomos: floor 325", "10:20 Bea: 280"], []),
        # Wood by weight or as a number more, of one who told of the fire.
        (["09:03 Idris: oak 10kg"], [fed(wood_kg=10, species="oak")]),
        (["09:03 Idris: ash, 5kg ish"], [fed(wood_kg=5, species="ash")]),
        (["09:40 Idris: plus 4"], [fed(pieces=4)]),
        (["09:03 Bea: oak 10kg"], []),
        (["09:05 Idris: floor 300", "09:40 Idris: plus 4"], []),
    ],
)
def test_a_number_alone_goes_on_with_what_its_sender_told(turns, wanted):
    facts, _ = in_room(LIT, *turns)
    assert as_set(facts) == as_set(wanted)


@pytest.mark.parametrize("said", ["i only do fahrenheit sorry", "im in F always", "my gun is in F"])
def test_who_says_that_he_tells_fahrenheit_is_taken_at_his_word(said):
    facts, asked = in_room(LIT, f"09:02 Hank: {said}", "10:25 Hank: air 475 floor 500")
    # 475 F and 500 F on the Celsius scale, by (F - 32) x 5/9
    assert as_set(facts) == as_set([reading(246.1, "air"), reading(260, "floor")])
    assert asked == []


@pytest.mark.parametrize("said", ["is it all in F?", "tell Hank it's 500", "the F on the sign is loose"])
def test_other_words_with_an_f_change_no_unit(said):
    facts, _ = in_room(LIT, f"09:02 Hank: {said}", "10:25 Hank: floor 260")
    assert as_set(facts) == as_set([reading(260, "floor")])


def test_loaves_that_prove_in_the_cold_are_what_the_first_lot_is_of():
    assert in_room(LIT, LOAVES, "10:00 Mara: first 6 in")[0] == [pot("in")]
    _, asked = in_room(LIT, LOAVES, "10:00 Mara: first 6 in", "10:25 Bea: 6 out 97 inside", "10:30 Mara: second lot in")
    assert asked == []
    told, _ = in_room(LIT, LOAVES, "10:00 Mara: first 6 in", "10:25 Bea: 6 out 97 inside")
    assert pot("out") in [{key: fact[key] for key in ("is", "act") if key in fact} for fact in told]


def test_people_who_go_out_are_no_loaves():
    assert in_room(LIT, "10:25 Bea: 6 out")[0] == []


@pytest.mark.parametrize(
    ("text", "wanted"),
    [
        ("move lunch 3", [{"is": "serve", "by": "15:00"}]),
        ("push it to 2", [{"is": "serve", "by": "14:00"}]),
        ("push the lamb to the back", []),
        ("lamb 72 in hot box beans 66", [{"is": "food", "dish": "lamb", "celsius": 72},
                                         {"is": "food", "dish": "beans", "celsius": 66}]),
        ("hot box 66", [{"is": "store", "place": "hot_hold", "celsius": 66}]),
        ("fire in", [{"is": "fire", "act": "lit"}]),
        ("fire in the bin", []),
        ("roots in", [pot("in", "roots")]),
        ("puds out", [pot("out", "puds")]),
        ("lamb in skin side up", [pot("in", "lamb")]),
        ("lamb in the dome today, fourteen, eat at half one",
         [{"is": "serve", "by": "13:30"}, {"is": "guests", "count": 14}]),
        ("lamb in the dome today", []),
        ("2kg lamb left 3 l beans", [{"is": "load", "dish": "lamb", "meat_kg": 2},
                                     {"is": "load", "dish": "beans", "liquid_l": 3}]),
        ("2kg lamb left to buy, 3 l beans", []),
    ],
)
def test_what_is_run_together_is_told_apart(text, wanted):
    assert as_set([fact for fact in heard(text) if fact["is"] != "load" or "left to" not in text]) == as_set(wanted)


@pytest.mark.parametrize("asked", [
    "load now?", "hot enough for lamb?", "hot enough for batch 2", "too hot for overnight?"])
def test_whether_a_pot_may_go_in_is_asked_in_few_words(asked):
    assert {entry["is"] for entry in heard(asked)} == {"eta"}
