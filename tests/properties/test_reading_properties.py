"""What must hold for every message, tried at random."""

from __future__ import annotations

import json

from hypothesis import assume, given, settings
from hypothesis import strategies as st

from bot.reading.lines import read_lines
from bot.reading.normalise import MOST_CHARACTERS
from bot.reading.read import explain, read
from tests import strategies as ours
from tests.reading.helpers import as_set, context, heard

_WORDS = """
floor air dome barrel lamb beans 180 two ten half past one kg litre of stock in out on off door lid shut
the a not sorry scrap that when will what if who has is it at 10:30 ago minutes guests coeliac nut
allergy class eating raked embers splits ash fridge ice trays core tender boiling , . ? ! : - / ( ) ° %
don't please yesterday
"""
WORDS = _WORDS.split()
yard_talk = st.lists(st.sampled_from(WORDS), max_size=25).map(" ".join)


@given(st.one_of(st.text(max_size=300), yard_talk))
@settings(max_examples=400, deadline=None, derandomize=True)
def test_no_text_raises_and_every_span_lies_in_it(text):
    reading = read(text, context())
    for span in reading.spans:
        assert 0 <= span.start <= span.end <= len(text)
        assert text[span.start : span.end] == span.text
    for piece in reading.leftover:
        assert piece in text
    assert explain(reading)


@given(st.one_of(st.text(max_size=300), yard_talk))
@settings(max_examples=150, deadline=None, derandomize=True)
def test_the_same_text_is_read_the_same_again(text):
    assert read(text, context()) == read(text, context())


@given(ours.said_facts)
@settings(max_examples=500, deadline=None, derandomize=True)
def test_what_is_said_is_what_is_heard(said):
    text, facts = said
    assert as_set(heard(text)) == as_set(facts)


@given(ours.reading_lists())
@settings(max_examples=200, deadline=None, derandomize=True)
def test_a_list_of_spots_is_heard_spot_by_spot(said):
    text, facts = said
    unlike = [json.loads(each) for each in dict.fromkeys(as_set(facts))]
    assert as_set(heard(text)) == as_set(unlike)


COURTESIES = (
    "{}",
    " {} ",
    "{}.",
    "ok, {}",
    "right, {}",
    "hi all, {}",
    "{} thanks",
    "{} 🔥",
    "{}, cheers",
    "just checked, {}",
    "update: {}",
    "\n{}\n",
)


@given(ours.said_facts, st.sampled_from(COURTESIES), st.sampled_from([str, str.upper, str.lower, str.capitalize]))
@settings(max_examples=400, deadline=None, derandomize=True)
def test_case_spacing_and_courtesy_change_nothing(said, courtesy, case):
    text, facts = said
    assert as_set(heard(courtesy.format(case(text)))) == as_set(facts)


@given(ours.said_facts)
@settings(max_examples=100, deadline=None, derandomize=True)
def test_spaces_change_nothing(said):
    text, facts = said
    assert as_set(heard(text.replace(" ", "   "))) == as_set(facts)


SILENT = ("if {} we'll wait", "yesterday {}", "last week {}", "tomorrow {}", "only joking, {}")


@given(ours.said_facts, st.sampled_from(SILENT))
@settings(max_examples=300, deadline=None, derandomize=True)
def test_conditions_other_days_and_jokes_are_no_facts(said, frame):
    text, _ = said
    assert heard(frame.format(text)) == []


@given(ours.said_facts)
@settings(max_examples=200, deadline=None, derandomize=True)
def test_a_question_mark_records_nothing(said):
    text, _ = said
    assume("," not in text)  # "floor 180, door off?" tells one thing and asks another
    assert read(f"{text}?", context()).heard.facts == ()


@given(
    st.integers(-20, 600),
    st.sampled_from(["floor {} F", "floor's at {}F", "{} degrees F on the floor", "floor {} fahrenheit"]),
)
@settings(max_examples=100, deadline=None, derandomize=True)
def test_fahrenheit_and_celsius_of_the_same_heat_agree(celsius, shape):
    # Definition of the scales (NIST SP 811): F = 9/5 C + 32.
    there = heard(shape.format(f"{celsius * 9 / 5 + 32:.1f}"))
    here = heard(f"floor {celsius} C")
    assert [round(each["celsius"]) for each in there] == [round(each["celsius"]) for each in here]


@given(st.text(alphabet=st.characters(codec="utf-8"), max_size=3 * MOST_CHARACTERS))
@settings(max_examples=20, deadline=None, derandomize=True)
def test_text_of_any_length_is_bounded(text):
    reading = read(text, context())
    assert all(span.end <= MOST_CHARACTERS for span in reading.spans)
    assert (reading.trouble is not None) >= (len(text) > MOST_CHARACTERS)


@given(yard_talk)
@settings(max_examples=150, deadline=None, derandomize=True)
def test_a_line_says_what_the_reader_hears(text):
    known = {"ovens": ["dome", "barrel"], "dishes": ["lamb", "beans"]}
    out = json.loads(next(read_lines([json.dumps({"text": text, "now": "11:30", "known": known})])))
    assert as_set(out["facts"] + out["questions"]) == as_set(heard(text))
