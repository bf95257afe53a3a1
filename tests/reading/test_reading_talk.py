"""Answers to the bot's question and corrections of what was said before (the labelling rules on talk)."""

from __future__ import annotations

import pytest

from bot.reading.read import read
from tests.reading.helpers import Talk, as_set, context, facts_of


def heard_after(who, before, then, after):
    """What a message means that comes two minutes behind another."""
    talk = Talk(start="11:30")
    talk.say(who, before)
    said = talk.say(then, after, "11:32").heard.said()
    return said["facts"] + said["questions"]


def dome(**more):
    return {"is": "reading", "celsius": 210, "oven": "dome", **more}


@pytest.mark.parametrize(
    ("answer", "wanted"),
    [
        ("floor probe", {"place": "floor", "tool": "probe"}),
        ("floor", {"place": "floor"}),
        ("the floor", {"place": "floor"}),
        ("air", {"place": "air"}),
        ("ceiling", {"place": "dome"}),
        ("sorry, floor", {"place": "floor"}),
        ("ir on the back", {"place": "back", "tool": "infrared"}),
        ("hanging thermometer", {"place": "air"}),
    ],
)
def test_dome_with_a_bare_number_is_asked_and_the_answer_completes_it(answer, wanted):
    talk = Talk()
    first = talk.say("Bea", "dome 210")
    assert first.ask is not None
    assert first.ask.missing == "place"
    assert first.ask.text.count("?") == 1
    assert as_set(facts_of(first)) == as_set([dome()])
    second = talk.say("Bea", answer)
    assert second.ask is None
    assert as_set(facts_of(second)) == as_set([dome(**wanted)])


def test_a_place_word_settles_it_and_nothing_is_asked():
    assert Talk().say("Bea", "dome floor 210").ask is None
    assert Talk().say("Bea", "dome 240 floor 210").ask is None
    assert Talk().say("Bea", "air 170").ask is None


def test_the_last_readings_settle_it_and_nothing_is_asked():
    talk = Talk()
    talk.say("Bea", "barrel air 180")
    assert talk.say("Bea", "barrel's at 185").ask is None


def test_a_number_that_could_be_a_time_or_a_heat_is_asked():
    talk = Talk(start="14:20")
    first = talk.say("Bea", "two ten")
    assert facts_of(first) == []
    assert first.ask is not None
    assert as_set(facts_of(talk.say("Bea", "heat"))) == as_set([{"is": "reading", "celsius": 210}])


def test_the_same_words_with_a_place_behind_are_a_time_and_a_heat():
    got = facts_of(Talk(start="14:20").say("Bea", "at two ten floor one ninety"))
    assert as_set(got) == as_set([{"is": "reading", "place": "floor", "celsius": 190, "at": "14:10"}])


@pytest.mark.parametrize(("answer", "celsius"), [("F", 204.4), ("fahrenheit", 204.4), ("C", 400), ("celsius", 400)])
def test_a_heat_that_fits_only_in_fahrenheit_is_asked(answer, celsius):
    talk = Talk()
    talk.say("Bea", "floor 205")
    first = talk.say("Bea", "floor 400")
    assert facts_of(first) == []
    assert first.ask is not None
    assert first.ask.missing == "unit"
    assert as_set(facts_of(talk.say("Bea", answer))) == as_set(
        [{"is": "reading", "place": "floor", "celsius": celsius}]
    )


def test_a_swapped_digit_is_read_as_it_stands():
    talk = Talk()
    talk.say("Bea", "air 161")
    assert as_set(facts_of(talk.say("Bea", "air 411"))) == as_set([{"is": "reading", "place": "air", "celsius": 411}])


def test_a_move_that_names_no_dish_is_asked_when_there_are_several():
    talk = Talk()
    first = talk.say("Idris", "moved it to the barrel")
    assert first.ask is not None
    assert first.ask.options == ("lamb", "beans")
    assert as_set(facts_of(talk.say("Idris", "the lamb"))) == as_set(
        [{"is": "pot", "act": "moved", "dish": "lamb", "oven": "barrel"}]
    )


@pytest.mark.parametrize("said", ["swapped the pots over", "pots swapped", "swapped lamb and beans round"])
def test_two_pots_that_are_swapped_stand_where_the_other_stood(said):
    stood = context(standing=(("lamb", "dome"), ("beans", "barrel")))
    assert as_set(read(said, stood).heard.said()["facts"]) == as_set([
        {"is": "pot", "act": "moved", "dish": "lamb", "oven": "barrel"},
        {"is": "pot", "act": "moved", "dish": "beans", "oven": "dome"},
    ])


def test_a_swap_of_which_nobody_knows_where_the_pots_stood_is_asked_about():
    assert read("swapped the pots over", context()).ask is not None


def test_a_dish_at_six_may_be_cold_or_ready_at_that_hour():
    talk = Talk(dishes=("stew",), start="10:15")
    first = talk.say("Bea", "stew is at 6")
    assert facts_of(first) == []
    assert first.ask is not None
    assert as_set(facts_of(talk.say("Bea", "degrees"))) == as_set([{"is": "food", "dish": "stew", "celsius": 6}])


def test_a_move_is_not_asked_with_one_dish():
    talk = Talk(dishes=("lamb",))
    assert talk.say("Idris", "moved it to the barrel").ask is None


def test_a_question_of_the_record_about_the_oven_takes_its_answer():
    from tests.reading.helpers import Pending, at

    talk = Talk()
    talk.pending = Pending(
        "180 on the floor: which oven?",
        {"is": "reading", "place": "floor", "celsius": 180},
        "oven",
        ("dome", "barrel"),
        at("08:14"),
        "Bea",
    )
    assert as_set(facts_of(talk.say("Bea", "the barrel"))) == as_set(
        [{"is": "reading", "place": "floor", "celsius": 180, "oven": "barrel"}]
    )


def test_the_dome_is_an_oven_when_the_oven_was_asked():
    from tests.reading.helpers import Pending, at

    talk = Talk()
    talk.pending = Pending("Which oven?", {"is": "door", "state": "on"}, "oven", ("dome", "barrel"), at("08:14"), "Bea")
    assert as_set(facts_of(talk.say("Bea", "dome"))) == as_set([{"is": "door", "state": "on", "oven": "dome"}])


def test_a_message_that_says_more_is_no_answer():
    talk = Talk()
    talk.say("Bea", "dome 210")
    got = facts_of(talk.say("Bea", "floor 205, lamb in"))
    assert as_set(got) == as_set(
        [{"is": "reading", "place": "floor", "celsius": 205}, {"is": "pot", "act": "in", "dish": "lamb"}]
    )


def test_chatter_leaves_the_question_open():
    talk = Talk()
    talk.say("Bea", "dome 210")
    assert facts_of(talk.say("Idris", "coffee's on")) == []
    assert as_set(facts_of(talk.say("Bea", "floor"))) == as_set([dome(place="floor")])


@pytest.mark.parametrize(
    ("text", "wanted"),
    [
        ("that was the barrel", [{"is": "fix", "act": "replace", "oven": "barrel"}]),
        ("meant the barrel", [{"is": "fix", "act": "replace", "oven": "barrel"}]),
        ("scrap my last two", [{"is": "fix", "act": "undo"}, {"is": "fix", "act": "undo"}]),
        (
            "the 11.20 floor one should say 178",
            [{"is": "fix", "act": "replace", "of": "reading", "place": "floor", "celsius": 178, "at": "11:20"}],
        ),
        ("sorry 184 not 148", [{"is": "fix", "act": "replace", "of": "reading", "celsius": 184}]),
    ],
)
def test_corrections_pick_and_mend(text, wanted):
    talk = Talk(start="11:30")
    talk.say("Idris", "floor 148")
    assert as_set(facts_of(talk.say("Idris", text))) == as_set(wanted)


def test_a_bare_number_mends_the_thing_that_held_the_wrong_one():
    talk = Talk()
    talk.say("Idris", "16 guests now")
    talk.say("Idris", "floor 160")
    assert as_set(facts_of(talk.say("Idris", "sorry, 14 not 16"))) == as_set(
        [{"is": "fix", "act": "replace", "of": "guests", "count": 14}]
    )


# What one person says within a moment is one piece of talk: names go on (the labelling rules on talk).
@pytest.mark.parametrize(
    ("before", "after", "wanted"),
    [
        (
            "beans into the barrel, 1 kg, iron pot",
            "oh and lid on",
            [{"is": "pot", "act": "lid_on", "dish": "beans", "oven": "barrel"}],
        ),
        ("lamb in", "lid on too", [{"is": "pot", "act": "lid_on", "dish": "lamb"}]),
        ("barrel 5 count at the mouth", "n 1 log on", [{"is": "fire", "act": "fed", "pieces": 1, "oven": "barrel"}]),
        (
            "does the barrel want wood",
            "stuck a split on it",
            [{"is": "fire", "act": "fed", "pieces": 1, "oven": "barrel"}],
        ),
        ("the dome is 110 cm across", "And its probe is 6 cm down.", [{"is": "oven", "oven": "dome", "probe_cm": 6}]),
        ("beans in the fridge now", "it is at 3,5", [{"is": "store", "place": "fridge", "celsius": 3.5}]),
        ("beans in the fridge now", "it is at 35", [{"is": "food", "dish": "beans", "celsius": 35}]),
        ("lamb still firm", "and its core is 74", [{"is": "food", "part": "core", "celsius": 74, "dish": "lamb"}]),
        (
            "beans liquid low",
            "put half a litre in",
            [{"is": "pot", "act": "topped_up", "litres": 0.5, "dish": "beans"}],
        ),
        (
            "beans in 2 trays 5 cm deep on ice",
            "how long will that take to chill",
            [{"is": "chill_time", "depth_cm": 5, "method": "ice", "dish": "beans"}],
        ),
    ],
)
def test_what_its_sender_says_next_goes_on_with_the_names_just_said(before, after, wanted):
    assert as_set(heard_after("Bea", before, "Bea", after)) == as_set(wanted)


@pytest.mark.parametrize(
    ("who", "when", "after"),
    [
        ("Idris", "11:31", "oh and lid on"),  # another person
        ("Bea", "11:50", "oh and lid on"),  # another time
        ("Bea", "11:31", "flour in the sear"),  # another thing
    ],
)
def test_no_name_goes_on_to_other_people_other_times_and_other_things(who, when, after):
    talk = Talk(start="11:30")
    talk.say("Bea", "lamb in")
    told = facts_of(talk.say(who, after, when))
    assert told
    assert not any("dish" in fact for fact in told)


def test_a_place_an_oven_and_a_unit_in_one_answer_complete_the_heat():
    talk = Talk(start="09:40")
    assert facts_of(talk.say("Idris", "three fifty")) == []
    assert as_set(facts_of(talk.say("Idris", "air in the barrel, its beas dial so F"))) == as_set(
        [{"is": "reading", "place": "air", "celsius": 176.7, "oven": "barrel"}]
    )


def test_a_move_is_recorded_at_once_and_the_answer_completes_it():
    talk = Talk()
    assert as_set(facts_of(talk.say("Idris", "shifted it to the barrel"))) == as_set(
        [{"is": "pot", "act": "moved", "oven": "barrel"}]
    )


def test_heats_from_before_the_rake_settle_no_place():
    talk = Talk(start="08:00")
    talk.say("Idris", "mouth 204 floor 330")
    talk.say("Idris", "raked out", "08:30")
    assert talk.say("Idris", "dome 205", "09:05").ask is not None


def test_a_pardon_with_a_weight_mends_the_load():
    talk = Talk()
    talk.say("Idris", "lamb 3.5 kg, iron pot")
    assert as_set(facts_of(talk.say("Idris", "5.3 kg, I beg your pardon."))) == as_set(
        [{"is": "fix", "act": "replace", "of": "load", "meat_kg": 5.3}]
    )


@pytest.mark.parametrize(
    ("before", "after", "wanted"),
    [
        ("who's on the barrel?", "me", [{"is": "task", "act": "claim", "what": "barrel"}]),
        ("who has the door check?", "it is mine", [{"is": "task", "act": "claim", "what": "door check"}]),
        ("barrel wants wood or not?", "i gave already two pieces at 11:20", [
            {"is": "fire", "act": "fed", "pieces": 2, "at": "11:20", "oven": "barrel"}
        ]),
        ("who's got the door check", "tomos has", [
            {"is": "task", "act": "claim", "what": "door check", "who": "tomos"}
        ]),
        ("beans in trays 4 deep on ice", "how long till that's cold?", [
            {"is": "chill_time", "dish": "beans", "depth_cm": 4, "method": "ice"}
        ]),
        ("will the lamb be done for one?", "and what's the dome at by then?", [
            {"is": "oven_at", "oven": "dome", "by": "13:00"}
        ]),
        ("lamb core 85", "88 now", [{"is": "food", "dish": "lamb", "part": "core", "celsius": 88}]),
    ],
)
def test_what_another_says_next_is_about_what_was_just_asked_or_told(before, after, wanted):
    assert as_set(heard_after("Mara", before, "Tomos", after)) == as_set(wanted)


@pytest.mark.parametrize(
    ("before", "after", "wanted"),
    [
        ("lamb core 91 and tender", "out and resting", [
            {"is": "pot", "act": "out", "dish": "lamb"}, {"is": "stage", "stage": "resting", "dish": "lamb"}
        ]),
        ("beans in", "out again", [{"is": "pot", "act": "out", "dish": "beans"}]),
        ("lamb 3 kg, iron pot", "in now", [{"is": "pot", "act": "in", "dish": "lamb"}]),
        ("the barrel is 60 across", "tended", [{"is": "oven", "oven": "barrel", "fired": "tended"}]),
        ("the dome is 90 across", "oh and that one's retained heat, the barrel's tended", [
            {"is": "oven", "oven": "dome", "fired": "retained"}, {"is": "oven", "oven": "barrel", "fired": "tended"}
        ]),
        ("floor 190", "out again", []),
        ("lamb and beans in", "out again", []),
    ],
)
def test_an_act_alone_is_of_the_one_thing_its_sender_just_spoke_of(before, after, wanted):
    talk = Talk(start="11:30")
    talk.say("Bea", before)
    assert as_set(facts_of(talk.say("Bea", after, "11:32"))) == as_set(wanted)


def test_it_in_an_answer_is_the_oven_that_was_asked_about():
    talk = Talk(start="10:15")
    talk.say("Bea", "barrel want a log?")
    assert as_set(facts_of(talk.say("Idris", "just fed it, 1 log", "10:16"))) == as_set(
        [{"is": "fire", "act": "fed", "pieces": 1, "oven": "barrel"}]
    )


@pytest.mark.parametrize(
    ("before", "after", "wanted"),
    [
        ("beans low still hard", "half litre boiling in", [
            {"is": "pot", "act": "topped_up", "litres": 0.5, "dish": "beans"}
        ]),
        ("floor 190", "half litre boiling in", []),
        ("beans low still hard", "half litre boiling in the kettle", []),
    ],
)
def test_liquid_that_goes_in_after_a_look_at_a_dish_is_poured_into_that_dish(before, after, wanted):
    talk = Talk(start="11:30")
    talk.say("Bea", before)
    assert as_set(facts_of(talk.say("Bea", after, "11:32"))) == as_set(wanted)
