"""Input that cannot stand: a clear line, nothing half recorded, never an exception."""

from __future__ import annotations

import json

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bot.reading.lexicon import bag
from bot.reading.lines import LineError, read_lines
from bot.reading.read import explain, read
from tests.reading.helpers import as_set, context, heard


def test_a_heat_beyond_any_oven_is_not_recorded_and_the_rest_stands():
    reading = read("floor 1800, lamb in", context())
    assert as_set(reading.heard.said()["facts"]) == as_set([{"is": "pot", "act": "in", "dish": "lamb"}])
    assert reading.trouble is not None
    assert "1800" in reading.trouble
    assert "floor 180" in reading.trouble


@pytest.mark.parametrize("text", ["floor 1800", "core 910", "fridge 400", "air 9999"])
def test_beyond_belief_is_said_so(text):
    reading = read(text, context())
    assert reading.heard.said() == {"facts": [], "questions": []}
    assert reading.trouble


def test_an_impossible_time_is_named():
    reading = read("at 25:71 floor 180", context())
    assert reading.trouble is not None
    assert "25:71" in reading.trouble


@pytest.mark.parametrize(
    "text",
    ["", " ", "\n\n", "\x00\x07", "🔥🔥", "?!.,", "'" * 50, "°", "-", "1/2/3", "57/2", "9.9.9", "½", "\u202e180 roolf"],
)
def test_odd_text_is_read_without_raising(text):
    assert heard(text) == []


def test_a_very_long_text_is_cut_and_says_so():
    reading = read("floor 180 " * 2_000, context())
    assert reading.trouble is not None
    assert {"is": "reading", "place": "floor", "celsius": 180} in reading.heard.said()["facts"]


@pytest.mark.parametrize(
    ("line", "number_named"),
    [
        ("{", "line 1"),
        ("[]", "line 1"),
        ('{"now": "10:00"}', "line 1"),
        ('{"text": "floor 180"}', "line 1"),
        ('{"text": "floor 180", "now": "25:00"}', "line 1"),
        ('{"text": 3, "now": "10:00"}', "line 1"),
        ('{"text": "a", "now": "10:00", "known": []}', "line 1"),
        ('{"text": "a", "now": "10:00", "known": {"ovens": "dome"}}', "line 1"),
    ],
)
def test_a_line_that_is_no_message_is_named(line, number_named):
    with pytest.raises(LineError, match=number_named):
        list(read_lines([line]))


def test_lines_go_in_and_come_out_in_order():
    lines = [
        json.dumps({"text": text, "now": "11:30", "known": {"ovens": ["dome"], "dishes": ["lamb"]}})
        for text in ("floor 180", "", "when will the lamb be done?")
    ]
    out = [json.loads(line) for line in read_lines([*lines, "", "\n"])]
    assert [set(each) for each in out] == [{"text", "now", "facts", "questions"}] * 3
    assert [each["text"] for each in out] == ["floor 180", "", "when will the lamb be done?"]
    assert out[2]["questions"] == [{"is": "eta", "dish": "lamb"}]


def test_a_reading_gives_its_reasons_in_words_of_the_message():
    reading = read("floor 180 and the cat sat down, lamb in", context())
    for span in reading.spans:
        assert reading.spans
        assert span.text == "floor 180 and the cat sat down, lamb in"[span.start : span.end]
    told = explain(reading)
    assert '"floor 180"' in told
    assert "cat" in told


def test_what_means_nothing_says_so():
    assert "nothing" in explain(read("lovely crowd today", context())) or "not used" in explain(
        read("lovely crowd today", context())
    )


WORDS = sorted(bag(
    "in out on at for by no when do we light up how much stock guests floor air dome count kg l shoulder splits sorry "
    "not was eating lamb barrel chill cm minutes core ? , ; /"
))


@given(st.lists(st.sampled_from([*WORDS, "25:71", "9:99", "99:99", "0:00", "24:00", "-3", "1e9", "0"]), max_size=9))
@settings(max_examples=300, deadline=None, derandomize=True)
def test_numbers_that_are_no_time_and_no_heat_never_stop_the_reading(words):
    heard_it = read(" ".join(words), context())
    assert isinstance(heard_it.heard.facts, list | tuple)


@pytest.mark.parametrize("text", ["at 11.00 floor 230", "floor 230 at 11", "at 14:00 air 150", "core 88 at 10.30"])
def test_a_heat_at_a_time_to_come_is_not_recorded_and_said_to_be_so(text: str) -> None:
    reading = read(text, context("09:25"))
    assert not reading.heard.facts
    assert reading.trouble is not None
    assert "is still to come" in reading.trouble


def test_an_act_at_a_time_to_come_is_a_plan_and_left_alone() -> None:
    reading = read("lamb in at 12", context("09:25"))
    assert not reading.heard.facts
    assert reading.trouble is None


@pytest.mark.parametrize("text", ["beans boiled 15 min hard last night", "boiled em already 20 min",
                                  "yes boiled already", "boiled the beans hard for 15 minutes"])
def test_a_hard_boil_of_beans_counts_on_whatever_day_it_was(text: str) -> None:
    facts = read(text, context("09:25", dishes=("beans",))).heard.said()["facts"]
    assert [fact for fact in facts if fact["is"] == "check" and fact["simmer"] == "hard"]


@pytest.mark.parametrize("text", ["boil the beans hard 10 min first", "the beans must be boiled hard",
                                  "beans not boiled yet", "have the beans been boiled hard?", "boiled eggs 6 min",
                                  "boiled the kettle already"])
def test_a_boil_that_was_not_clears_no_beans(text: str) -> None:
    assert not read(text, context("09:25", dishes=("beans",))).heard.facts


@pytest.mark.parametrize("text", ["lamb core 31, only the outside is done", "lamb is done on the outside, core 31"])
def test_what_is_done_outside_alone_is_not_called_tender(text: str) -> None:
    assert "check" not in {fact.is_ for fact in read(text, context()).heard.facts}
