"""What the room has shown since it began settles what a few words mean: who asked what, what stands in an oven, how
people here tell things. Played through a room; what is meant follows the labelling rules on talk."""

from __future__ import annotations

from datetime import datetime, timedelta
from zoneinfo import ZoneInfo

import pytest

from bot.engine import Room
from bot.talk import Message, School
from tests.reading.helpers import as_set

LIT = "09:00 Idris: lit the dome"
LAMB = "09:30 Bea: lamb in the dome, 2 kg shoulder, 1 l stock"
BEANS = "09:40 Bea: beans in the dome, 1 kg"
BOTH_LIT = "07:00 Tomos: lit the dome and the barrel"


def in_room(*turns):
    """(facts, questions back) of the last turn; a clock that goes back is the next day's."""
    room, day, before = Room("yard", School()), datetime(2026, 5, 16, tzinfo=ZoneInfo("Europe/London")), None
    for number, turn in enumerate(turns):
        head, _, text = turn.partition(": ")
        hour, minute = map(int, head.split()[0].split(":"))
        at = day.replace(hour=hour, minute=minute)
        if before is not None and at < before:
            day, at = day + timedelta(days=1), at + timedelta(days=1)
        before = at
        room.tick(at)
        answer = room.hear(Message(f"m{number}", at, head.split()[1], text))
    asked = [line for action in answer.actions for line in action.text.splitlines() if line.endswith("?")]
    return answer.heard.said()["facts"], asked


def pot(act, dish=None, **more):
    return {"is": "pot", "act": act, **({"dish": dish} if dish else {}), **more}


@pytest.mark.parametrize(
    ("asked", "said", "wanted"),
    [
        ("is the lamb out?", "yes", [pot("out", "lamb")]),
        ("Bea, lid on the lamb?", "y", [pot("lid_on", "lamb")]),
        ("have you turned the lamb yet?", "yep at ten past eleven", [pot("turned", "lamb", at="11:10")]),
        ("door on?", "yeah", [{"is": "door", "state": "on"}]),
        ("lamb still tough?", "yes chef", [{"is": "check", "tender": "tough", "dish": "lamb"}]),
        ("is the fire out?", "yes", [{"is": "fire", "act": "out"}]),
        ("flour in the lamb?", "y", [{"is": "contents", "item": "flour", "allergen": "gluten", "dish": "lamb"}]),
        # Negative neighbours: wishes, plans, people, and a no.
        ("shall we take the lamb out?", "yes", []),
        ("can you put the lid on?", "yep", []),
        ("want the lamb out now?", "yeah", []),
        ("is the lamb out?", "no", []),
        ("is the lamb out or in?", "yes", []),
        ("is Tomos out?", "yes", []),
        ("is the lamb out?", "yes and lovely weather too", []),
    ],
)
def test_a_yes_to_a_person_tells_what_was_asked(asked, said, wanted):
    facts, _ = in_room(LIT, LAMB, f"11:30 Mara: {asked}", f"11:31 Bea: {said}")
    assert as_set(facts) == as_set(wanted)


@pytest.mark.parametrize("late", ["11:40 Bea: yes", "11:31 Mara: yes"])
def test_a_yes_too_late_or_to_oneself_tells_nothing(late):
    assert in_room(LIT, LAMB, "11:30 Mara: is the lamb out?", late)[0] == []


def test_out_is_of_the_one_pot_that_is_in_and_asked_about_with_two():
    assert in_room(LIT, LAMB, "12:00 Mara: out") == ([pot("out")], [])
    facts, asked = in_room(LIT, LAMB, BEANS, "12:00 Mara: out")
    assert facts == [pot("out")]
    assert asked == ["Which one: the lamb or the beans?"]


@pytest.mark.parametrize(
    "turns",
    [
        (LIT, "12:00 Mara: out"),                                           # nothing stands in an oven
        (LIT, LAMB, "11:59 Mara: where's Tomos", "12:00 Bea: out"),         # of a person
        (LIT, LAMB, "12:00 Bea: out for milk"),
        (LIT, LAMB, "12:00 Bea: in"),                                       # nothing waits
    ],
)
def test_out_and_in_tell_nothing_where_no_pot_can_be_meant(turns):
    assert in_room(*turns)[0] == []


def test_back_in_is_of_what_was_out_to_be_shown():
    shown = "11:00 Mara: lamb out to show them"
    assert in_room(LIT, LAMB, shown)[0] == [pot("out", "lamb")]
    assert in_room(LIT, LAMB, shown, "11:04 Mara: back in")[0] == [pot("in", "lamb")]
    assert in_room(LIT, LAMB, shown, "11:04 Bea: back in")[0] == [pot("in")]


@pytest.mark.parametrize("said", ["in the dome obvs", "the dome!", "into the dome of course"])
def test_an_oven_alone_is_where_the_pot_went_that_its_sender_told_of_just_before(said):
    facts, _ = in_room(BOTH_LIT, "09:58 Bea: loaves in", f"09:59 Bea: {said}")
    assert facts == [pot("in", "loaves", oven="dome")]


@pytest.mark.parametrize(
    "turns",
    [
        ("09:58 Bea: loaves in the dome", "09:59 Bea: the barrel!"),    # where it is was told
        ("09:58 Bea: loaves in", "10:30 Bea: the dome!"),
        ("09:58 Bea: loaves lovely today", "09:59 Bea: the dome!"),
    ],
)
def test_an_oven_alone_tells_nothing_else(turns):
    assert pot("in", "loaves", oven="dome") not in in_room(BOTH_LIT, *turns)[0]


def test_of_which_spot_a_bare_heat_is_gets_asked_once_a_class():
    first = ("09:00 Idris: lit the barrel", "10:00 Idris: barrel 176")
    assert in_room(*first)[1] == ["176 in the barrel: floor, air or ceiling?"]
    told = (*first, "10:01 Idris: air")
    spot = {"is": "reading", "oven": "barrel", "place": "air"}
    assert in_room(*told, "11:00 Bea: barrel 150") == ([{**spot, "celsius": 150}], [])
    # Near another spot's heat and far from the usual one's, it is that other one's.
    facts, _ = in_room(*told, "10:10 Idris: barrel floor 250", "11:00 Bea: barrel 248")
    assert facts == [{"is": "reading", "oven": "barrel", "celsius": 248}]


HANK = ("09:00 Hank: lit the barrel", "10:40 Hank: air in the barrel 350")


def test_who_was_asked_once_and_writes_fahrenheit_is_taken_so_from_then_on():
    facts, asked = in_room(*HANK)
    assert facts == []
    assert asked == ["350: C or F?"]
    told = (*HANK, "10:41 Hank: F")
    spot = {"is": "reading", "oven": "barrel", "place": "air"}
    # 325 F is 162.8 C and 150 F is 65.6 C by the definition of the scale (32 + 1.8 C).
    assert in_room(*told, "12:30 Hank: barrel air 325")[0] == [{**spot, "celsius": 162.8}]
    assert in_room(*told, "12:30 Hank: chicken 150")[0] == [{"is": "food", "dish": "chicken", "celsius": 65.6}]
    # Negative neighbours: another's numbers, what is near the spot's last heat in Celsius, Celsius said.
    assert in_room(*told, "12:30 Idris: barrel air 160")[0] == [{**spot, "celsius": 160}]
    assert in_room(*told, "11:40 Hank: barrel air 170")[0] == [{**spot, "celsius": 170}]
    assert in_room(*told, "11:00 Hank: barrel air 165 C", "12:30 Hank: barrel air 325") == ([], ["325: C or F?"])
    assert in_room(*told, "12:30 Hank: 14 guests now")[0] == [{"is": "guests", "count": 14}]


def test_a_heat_with_its_hundreds_apart_is_one_number():
    facts, asked = in_room("09:00 Hank: lit the barrel", "09:10 Hank: air 3 50")
    assert (facts, asked) == ([], ["350: C or F?"])
    facts, _ = in_room("09:00 Hank: lit the barrel", "09:10 Hank: air 3 50", "09:11 Hank: sorry F")
    assert facts == [{"is": "reading", "place": "air", "celsius": 176.7}]


def test_both_is_an_act_on_each_and_no_heat_of_two():
    pots = (BOTH_LIT, "07:40 Tomos: lamb in the dome, 2 kg", "07:50 Idris: beans in the barrel, 1 kg")
    facts, _ = in_room(*pots, "09:58 Bea: lid's on", "09:59 Bea: both")
    assert as_set(facts) == as_set([pot("lid_on", "lamb"), pot("lid_on", "beans")])
    assert in_room(*pots, "09:58 Bea: core 71", "09:59 Bea: both")[0] == []


def test_what_is_told_behind_an_answer_is_of_the_oven_that_was_asked_about():
    facts, _ = in_room("05:00 Mara: lit the dome", "06:50 Mara: dome 110", "06:51 Mara: thats air, probe 103")
    assert as_set(facts) == as_set([
        {"is": "reading", "oven": "dome", "place": "air", "celsius": 110},
        {"is": "reading", "oven": "dome", "place": "floor", "tool": "probe", "celsius": 103},
    ])


def test_who_keeps_an_oven_looks_into_what_stands_in_it():
    pots = (BOTH_LIT, "08:00 Idris: lamb in the dome, 2 kg", "08:10 Bea: beans in the barrel, 1 kg")
    look = "gentle simmer still tuff"
    assert in_room(*pots, "08:11 Mara: Tomos has the dome", f"10:11 Tomos: {look}")[1] == []
    assert in_room(*pots, f"10:11 Tomos: {look}")[1] == ["Which one: the lamb or the beans?"]


def test_no_dish_is_offered_that_lies_in_the_fridge():
    pots = (BOTH_LIT, "08:00 Idris: lamb in the dome, 2 kg", "08:10 Bea: ham in the dome, 1 kg",
            "08:20 Bea: stew in the fridge")
    assert in_room(*pots, "12:00 Mara: pot out")[1] == ["Which one: the lamb or the ham?"]


@pytest.mark.parametrize(
    ("before", "said", "wanted"),
    [
        ("08:10 Bea: cheeks in the dome, 3 kg", "08:13 Bea: plus 1.5 l hot stock",
         [{"is": "load", "dish": "cheeks", "liquid_l": 1.5, "start": "hot"}]),
        # Its liquid was told, or it is another's and later: poured on.
        ("08:10 Bea: cheeks in the dome, 3 kg, 1 l stock", "08:13 Bea: plus 1.5 l hot stock",
         [pot("topped_up", "cheeks", litres=1.5, oven="dome")]),
        ("08:10 Bea: cheeks in the dome, 3 kg", "10:13 Bea: added 0.5 l hot stock to the cheeks",
         [pot("topped_up", "cheeks", litres=0.5)]),
    ],
)
def test_liquid_told_at_once_behind_the_weight_is_part_of_the_load(before, said, wanted):
    assert in_room(LIT.replace("09:00", "07:00"), before, said)[0] == wanted


def test_last_night_is_this_class_if_it_began_then():
    evening = ("17:00 Idris: lit the dome", "18:00 Idris: ham in the dome, 3 kg", "22:00 Idris: ham out")
    late = "07:20 Idris: forgot: ham in the fridge at half ten last night"
    assert in_room(*evening, late)[0] == [{"is": "chill", "act": "fridge", "dish": "ham", "at": "22:30"}]
    assert in_room("06:00 Idris: lit the dome", late)[0] == []


@pytest.mark.parametrize(
    ("told", "said", "wanted"),
    [
        ("07:30 Idris: dome sole 210", "sole was gun as well",
         [{"is": "fix", "act": "replace", "of": "reading", "place": "floor", "tool": "infrared"}]),
        ("07:30 Idris: 3 splits on the barrel", "oh wait no thats the dome i fed",
         [{"is": "fix", "act": "replace", "of": "fire", "oven": "dome"}]),
        # Nothing was told that this could mend.
        ("07:30 Idris: dome back 240", "sole was gun as well", []),
        ("07:30 Idris: morning all", "that's the dome I fed", [{"is": "fire", "act": "fed", "oven": "dome"}]),
    ],
)
def test_the_tool_and_the_oven_of_what_was_told_are_mended(told, said, wanted):
    assert in_room(BOTH_LIT, told, f"07:31 Idris: {said}")[0] == wanted


def test_the_name_that_was_left_out_is_of_the_fact_told_just_before():
    ovens = ("06:30 Idris: lit the cob", "06:44 Mara: lit the dome")
    facts, _ = in_room(*ovens, "10:48 Mara: air 178", "10:49 Mara: dome")
    assert facts == [{"is": "reading", "oven": "dome", "place": "air", "celsius": 178}]
    pots = (*ovens, "09:00 Tomos: ribs in the dome, 4 kg", "12:20 Tomos: moved over to the cob")
    facts, _ = in_room(*pots, "12:21 Tomos: the ribs, dome was too slow for em")
    assert facts == [pot("moved", "ribs", oven="cob")]
    # A name that was said, a question.
    assert in_room(*ovens, "10:48 Mara: cob air 178", "10:49 Mara: dome")[0] == []
    assert in_room(*ovens, "10:48 Mara: air 178", "10:49 Mara: dome?")[0] == []


def test_a_fact_said_whole_stands_once():
    room = Room("yard", School())
    day = datetime(2026, 5, 16, 9, tzinfo=ZoneInfo("Europe/London"))
    for number, text in enumerate(("lit the cob", "lit the dome", "air 178", "dome")):
        room.hear(Message(f"m{number}", day + timedelta(minutes=number), "Mara", text))
    heats = [(dated.oven, dated.fact.celsius) for dated in room.session.record.facts if dated.fact.is_ == "reading"]
    assert heats == [("dome", 178)]


def test_out_and_resting_is_of_the_pot_that_is_named_when_asked():
    pots = (BOTH_LIT, "08:00 Idris: hock in the dome, 2 kg", "08:10 Bea: beans in the dome, 1 kg",
            "11:56 Mara: out and resting")
    facts, asked = in_room(*pots)
    assert as_set(facts) == as_set([pot("out"), {"is": "stage", "stage": "resting"}])
    assert asked == ["Which one: the hock or the beans?"]
    facts, _ = in_room(*pots, "11:57 Mara: the hock, beans are staying in")
    assert as_set(facts) == as_set([pot("out", "hock"), {"is": "stage", "stage": "resting", "dish": "hock"}])


def test_a_borrowed_gun_in_fahrenheit_makes_nobody_a_writer_of_it():
    asked = ("06:02 Tomos: barrel lit at ten to six", "06:15 Mara: barrel floor 190",
             "09:05 Idris: barrel is reading 400 on the visitors gun",
             "09:06 Idris: fahrenheit, and its the floor")
    assert in_room(*asked)[0] == [
        {"is": "reading", "oven": "barrel", "place": "floor", "tool": "infrared", "celsius": 204.4}]
    assert in_room(*asked, "10:10 Idris: barrel air 201")[0] == [
        {"is": "reading", "oven": "barrel", "place": "air", "celsius": 201}]


@pytest.mark.parametrize(
    ("before", "said", "wanted"),
    [
        ("07:42 Bea: cheeks are 4 kilo trimmed and", "litre and a half of hot stock, iron pot",
         [{"is": "load", "dish": "cheeks", "liquid_l": 1.5, "start": "hot", "pan": "iron pot"}]),
        ("07:42 Bea: the barrel at seven", "air was 164",
         [{"is": "reading", "oven": "barrel", "place": "air", "celsius": 164, "at": "07:00"}]),
        ("07:42 Bea: cheeks in at half seven", "no it was twenty five past, not half past",
         [{"is": "fix", "act": "replace", "of": "pot", "at": "07:25"}]),
        ("07:42 Bea: dome air 185", "ugh 158. glasses",
         [{"is": "fix", "act": "replace", "of": "reading", "celsius": 158}]),
        ("07:42 Bea: one fifty five", "air, not the time", [{"is": "reading", "place": "air", "celsius": 155}]),
        # Negative neighbours.
        ("07:42 Bea: 12 guests now", "ugh 58. glasses", [{"is": "fix", "act": "replace", "of": "guests", "count": 58}]),
        ("07:42 Bea: see you at the barrel at seven", "air was 164",
         [{"is": "reading", "place": "air", "celsius": 164}]),
    ],
)
def test_what_its_sender_sends_next_ends_or_mends_it(before, said, wanted):
    facts, _ = in_room(BOTH_LIT, "07:30 Bea: cheeks all browned", before, f"07:43 Bea: {said}")
    assert as_set(facts) == as_set(wanted)
