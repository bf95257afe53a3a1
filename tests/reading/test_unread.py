"""What a message tells and nobody took is said, and hardly ever anything else."""

from __future__ import annotations

import json
from dataclasses import replace
from datetime import timedelta
from pathlib import Path

import pytest

from bot.reading.context import Pending, Said
from bot.reading.read import read
from tests.reading.helpers import as_set, at, context, heard

DATA = Path(__file__).parent / "data"
# Invented words: no rule will ever take them.
STRANGE = ("wimbrel at 183 on the snorgle", "the lid is snorgled", "4 cm of wimbrel", "flemmed 2 litres of it")


@pytest.mark.parametrize("strange", STRANGE)
@pytest.mark.parametrize("told", ["floor 180", "two splits on the barrel", "lamb still tough", "raked out the dome"])
def test_a_part_that_nobody_took_is_not_lost_in_silence(told: str, strange: str) -> None:
    reading = read(f"{told}, {strange}", context())
    assert as_set(reading.heard.said()["facts"]) == as_set(heard(told))
    assert reading.ask is not None or (reading.trouble is not None and strange.split()[0] in reading.trouble)


def test_a_report_of_a_known_dish_of_which_nothing_was_taken_is_asked_about() -> None:
    reading = read("the lamb has flemmed 3 litres", context())
    assert not reading.heard.facts
    assert reading.trouble is not None


@pytest.mark.parametrize("said", ["4 loaves, 3.2 kg", "6 shanks, 2.7 kg, litre of stock", "12 flatbreads, 3 kg"])
def test_how_many_pieces_are_weighed_is_not_asked_about(said: str) -> None:
    reading = read(said, context())
    assert reading.heard.facts
    assert reading.trouble is None


@pytest.mark.parametrize("said", ["dome lit six exactly, 8 kilo ash on", "cieling gone white. probe 121",
                                  "2 veggies and a nut allergy", "barrel is the small one tended 60 across",
                                  "embers pushed to the side. floor 340"])
def test_what_the_record_has_no_place_for_is_left_aside_without_a_question(said: str) -> None:
    reading = read(said, context("08:00", ["dome", "barrel"], []))
    assert reading.heard.facts
    assert reading.trouble is None


def test_a_pot_on_the_side_is_out_if_it_stood_in_an_oven() -> None:
    known = context("13:06", ["dome", "barrel"], ["beans"])
    standing = replace(known, standing=(("beans", "barrel"),))
    assert as_set(read("beans out on the side", standing).heard.said()["facts"]) == as_set(
        [{"is": "pot", "act": "out", "dish": "beans"}])
    assert not read("beans out on the side", known).heard.facts


def test_a_number_behind_the_fridge_is_its_heat_where_it_is_no_time_just_gone() -> None:
    late, just = context("16:00", ["dome"], ["beans"]), context("18:05", ["dome"], ["beans"])
    assert as_set(read("beans in the fridge at 6", late).heard.said()["facts"]) == as_set(
        [{"is": "chill", "act": "fridge", "dish": "beans"}, {"is": "store", "place": "fridge", "celsius": 6}])
    assert read("beans in the fridge at 6", just).heard.said()["facts"] == [
        {"is": "chill", "dish": "beans", "at": "18:00", "act": "fridge"}]


def test_another_word_for_a_dish_of_the_room_is_that_dish() -> None:
    known = replace(context("13:05", ["dome"], ["potatoes"]), standing=(("potatoes", "dome"),))
    assert {fact["dish"] for fact in read("spuds crisp. out", known).heard.said()["facts"]} == {"potatoes"}


def test_a_pot_that_a_dish_stands_in_is_no_oven() -> None:
    facts = read("goat out of oven, standing in its pot", context("12:51", ["dome"], ["goat"])).heard.said()["facts"]
    assert facts == [{"is": "pot", "dish": "goat", "act": "out"}]


def test_a_weight_alone_goes_on_the_fire_of_who_told_of_it_last() -> None:
    known = context("06:30", ["dome"], [])
    lit = Said(known.now - timedelta(minutes=30), "Idris", "lit the dome", read("lit the dome", known).heard)
    told = replace(known, sender="Idris", last=(lit,))
    for text, kilos in (("7 kg beech, dry", 7), ("3 kg more", 3), ("bout 9 kilos so far", 9)):
        (fed,) = read(text, told).heard.said()["facts"]
        assert (fed["act"], fed["wood_kg"], fed["oven"]) == ("fed", kilos, "dome")
    others = read("3 kg more", replace(told, sender="Bea")).heard.said()["facts"]
    assert not any(fact["is"] == "fire" for fact in others)


def _messages() -> list[dict]:
    files = [*sorted(DATA.glob("blind_*.jsonl")), DATA / "messages_dev.jsonl"]
    return [json.loads(line) for file in files for line in file.read_text(encoding="utf-8").splitlines()]


def test_hardly_any_message_that_was_read_right_or_is_chatter_is_asked_about() -> None:
    asked, right = [], 0
    for message in _messages():
        known = message["known"]
        reading = read(message["text"], context(message["now"], known["ovens"], known["dishes"]))
        said = reading.heard.said()
        if as_set(said["facts"] + said["questions"]) == as_set(message["facts"] + message["questions"]):
            right += 1
            asked += [message["text"]] * (reading.trouble is not None)
    assert len(asked) <= 0.005 * right, asked


@pytest.mark.parametrize("text", ["out", "Out!", "in."])
def test_an_act_of_nothing_known_is_asked_of_what(text: str) -> None:
    bare = read(text, context(ovens=(), dishes=()))
    assert bare.heard.facts == ()
    assert bare.trouble is not None
    assert "Of which pot or oven" in bare.trouble


@pytest.mark.parametrize("text", ["yes", "ok", "on it", "out of gloves", "tea's in"])
def test_a_word_between_people_is_not(text: str) -> None:
    assert read(text, context(ovens=(), dishes=())).trouble is None


@pytest.mark.parametrize("said", ["air minus 40", "floor -15", "dome air -40"])
def test_a_spot_of_an_oven_under_nought_is_not_passed_over(said: str) -> None:
    reading = read(said, context())
    assert not reading.heard.facts
    assert reading.trouble is not None


HOT = {"is": "reading", "place": "floor", "celsius": 900.0}
UNIT = Pending("900: C or F?", HOT, "unit", ("C", "F"), at("08:10"), "Mara")
OVEN = Pending("Which oven?", {"is": "door", "state": "on"}, "oven", ("dome", "barrel"), at("08:10"), "Mara")


@pytest.mark.parametrize(("pending", "wanted"), [(UNIT, ("900 C", "900 F")), (OVEN, ("dome", "barrel"))])
@pytest.mark.parametrize("said", ["yes", "yep", "no", "yes it is"])
def test_a_yes_to_which_of_two_is_told_what_to_write(said: str, pending: Pending, wanted: tuple[str, ...]) -> None:
    reading = read(said, replace(context(), pending=pending, sender="Mara"))
    assert not reading.heard.facts
    assert reading.ask is not None
    assert all(each in reading.ask.text for each in wanted)
    assert (reading.ask.about, reading.ask.missing) == (pending.about, pending.missing)     # it is still open


@pytest.mark.parametrize(("said", "celsius"), [("900 F", 482.222), ("F", 482.222), ("900 C", 900.0), ("no, C", 900.0)])
def test_what_it_says_to_write_is_an_answer(said: str, celsius: float) -> None:
    """(900 - 32) / 1.8 by the definition of the scale."""
    facts = read(said, replace(context(), pending=UNIT, sender="Mara")).heard.said()["facts"]
    assert [each["celsius"] for each in facts] == [pytest.approx(celsius, abs=0.1)]


def test_another_heat_is_no_answer_to_the_unit_of_the_last() -> None:
    reading = read("air is minus 40 F", replace(context(), pending=UNIT, sender="Mara"))
    assert all(each.get("celsius") != pytest.approx(482.2, abs=0.1) for each in reading.heard.said()["facts"])
