"""Turns of later whole classes, each beside neighbours that mean something else. Meanings follow the labelling rules
and the vocabulary.
"""

from __future__ import annotations

import pytest

from tests.reading.helpers import as_set, heard
from tests.reading.test_reading_conversations import pot, spoken


@pytest.mark.parametrize(
    ("text", "wanted"),
    [
        ("22 now, two off sick", [{"is": "guests", "count": 22}]),
        ("19 now, someones brought her gran", [{"is": "guests", "count": 19}]),
        ("their dad is coeliac", [{"is": "guests", "count": 1, "allergen": "gluten"}]),
        ("one kid is sesame allergic", [{"is": "guests", "count": 1, "allergen": "sesame"}]),
        ("told the parents about the celery", [{"is": "guests", "allergen": "celery", "told": True}]),
        ("winds died down", [{"is": "weather", "wind": "calm"}]),
        ("lambs all browned", [{"is": "stage", "stage": "seared", "dish": "lamb"}]),
        ("soup gentle simmer, carrots still hard", [
            {"is": "check", "dish": "soup", "simmer": "gentle", "tender": "tough"}
        ]),
        ("soup in the barrel, 2 kg veg", [
            pot("in", "soup", oven="barrel"), {"is": "load", "dish": "soup", "meat_kg": 2}
        ]),
        ("beans in the barrel ten to, door shut", [
            pot("in", "beans", oven="barrel", at="11:50"), {"is": "door", "state": "on", "oven": "barrel"}
        ]),
        ("barrel had a fire in it yesterday. lit it at six", [
            {"is": "fire", "act": "lit", "oven": "barrel", "at": "06:00"}
        ]),
        ("embers in the bin, bin lid on", []),
        ("is the lamb ok kept hot till two?", [{"is": "safe", "dish": "lamb"}]),
        ("lamb soft as you like", [{"is": "check", "dish": "lamb", "tender": "tender"}]),
        ("barrel going now too", [{"is": "fire", "act": "lit", "oven": "barrel"}]),
        ("minus three. clear as a bell, no wind", [
            {"is": "weather", "celsius": -3, "sky": "dry", "wind": "calm"}
        ]),
        ("told the nut lady about the walnuts", [{"is": "guests", "allergen": "nuts", "told": True}]),
        ("allergies: 2 fish (!), 1 egg", [
            {"is": "guests", "count": 2, "allergen": "fish"}, {"is": "guests", "count": 1, "allergen": "eggs"}
        ]),
        ("lamb soft, 93", [
            {"is": "check", "dish": "lamb", "tender": "tender"}, {"is": "food", "dish": "lamb", "celsius": 93}
        ]),
        ("lamb: simmer yes, tender no", [{"is": "check", "dish": "lamb", "simmer": "gentle", "tender": "tough"}]),
        ("moved the beans in with the lamb", [pot("moved", "beans")]),
        ("crown 402 F, back 380", [
            {"is": "reading", "place": "dome", "celsius": 205.6}, {"is": "reading", "place": "back", "celsius": 193.3}
        ]),
        ("it's in, doors shut", [pot("in", None), {"is": "door", "state": "on"}]),
        ("raked at 40, door on", [{"is": "fire", "act": "raked", "at": "11:40"}, {"is": "door", "state": "on"}]),
        ("lamb in the fridge, 11.50", [{"is": "chill", "act": "fridge", "dish": "lamb", "at": "11:50"}]),
        ("dome 85 wide, walls 9 thick, floor 6", [
            {"is": "oven", "oven": "dome", "across_cm": 85, "dome_cm": 9, "floor_cm": 6}
        ]),
        ("theres celery in the lamb isnt there", [{"is": "allergens", "dish": "lamb", "allergen": "celery"}]),
        ("is it ok till morning in there?", [{"is": "safe"}]),
        # Negative neighbours.
        ("barrel going well", []),
        ("lid off the lamb to calm it", [pot("lid_off", "lamb")]),
        ("wood was 21 on the meter, its the wet stack", [{"is": "wood", "moisture_pct": 21}]),
        ("air 190 C, floor 202", [
            {"is": "reading", "place": "air", "celsius": 190}, {"is": "reading", "place": "floor", "celsius": 202}
        ]),
        ("it's in the shed, door shut", [{"is": "door", "state": "on"}]),
        ("fridge, 4.5", [{"is": "store", "place": "fridge", "celsius": 4.5}]),
        ("22 now, two trays off", [pot("out", None)]),
        ("one kid wants to marry the pizza", []),
        ("two coeliac mums? no", []),
        ("if it rains we stop", []),
        ("lambs in the field next door are loud", []),
        ("lamb 68 inside, carrots soft", [
            {"is": "food", "dish": "lamb", "part": "core", "celsius": 68},
            {"is": "check", "dish": "carrots", "tender": "tender"},
        ]),
        ("beans in the barrel, ten to carry", [pot("in", "beans", oven="barrel")]),
        ("lamb lid on", [pot("lid_on", "lamb")]),
        ("turned the lamb the other way round, floor 150", [
            pot("turned", "lamb"), {"is": "reading", "place": "floor", "celsius": 150}
        ]),
    ],
)
def test_more_turns_of_whole_classes(text, wanted):
    wanted = [{key: value for key, value in each.items() if value is not None} for each in wanted]
    assert as_set(heard(text, now="12:00")) == as_set(wanted)


@pytest.mark.parametrize(
    ("before", "after", "wanted"),
    [
        ("dome air 150 floor 131", "sorry other way round, air 131 floor 150", [
            {"is": "fix", "act": "replace", "of": "reading", "place": "air", "celsius": 131},
            {"is": "fix", "act": "replace", "of": "reading", "place": "floor", "celsius": 150},
        ]),
        ("lamb in at twenty to", "went in quarter to not twenty to", [
            {"is": "fix", "act": "replace", "of": "pot", "at": "07:45"}
        ]),
        ("plain flour in the lamb", "cornflour in the lamb not plain", [
            {"is": "fix", "act": "replace", "of": "contents", "dish": "lamb", "item": "cornflour"}
        ]),
        ("barrel floor 400", "f, its the visitors gun", [
            {"is": "reading", "oven": "barrel", "place": "floor", "celsius": 204.4, "tool": "infrared"}
        ]),
        ("flatbreads in", "and out, blistered to bits", [pot("out", "flatbreads")]),
        ("flatbreads in", "out, lovely colour", [pot("out", "flatbreads")]),
        ("lamb 61", "now 68 and its going lovely", [{"is": "food", "dish": "lamb", "celsius": 68}]),
        ("lamb 53", "60 now", [{"is": "food", "dish": "lamb", "celsius": 60}]),
        # 118 F is 47.8 C; of 195 no more need be said, wet food boils before it is so hot in Celsius.
        ("lamb core 118", "F that is", [
            {"is": "fix", "act": "replace", "of": "food", "dish": "lamb", "part": "core", "celsius": 47.8}
        ]),
        ("lamb core 195", "F that is", [
            {"is": "fix", "act": "replace", "of": "food", "dish": "lamb", "part": "core", "celsius": 90.6}]),
        # Negative neighbours: a person is out, and nobody's heat was told.
        ("flatbreads in", "out, back in ten", []),
        ("door on", "out, lovely colour", []),
        ("door on", "17 now", [{"is": "guests", "count": 17}]),
    ],
)
def test_more_that_goes_on_with_what_was_said(before, after, wanted):
    assert as_set(spoken(("Bea", before, "08:30"), ("Bea", after, "08:31"))) == as_set(wanted)
