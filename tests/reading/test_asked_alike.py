"""Questions in words that no phrase and no rule has: taken for what they are most like, or left alone.

The texts were written for these tests and stand in no corpus; what each asks is common practice, no source.
"""

import numpy as np
import pytest

from bot.reading import likeness
from bot.reading.normalise import plain
from bot.reading.tokens import row_of
from tests.reading.helpers import context, heard

ASKED = [
    ("what's your best guess on when the lamb is fork soft", {"is": "eta", "dish": "lamb"}),
    ("do you see the lamb making it for two", {"is": "ready_by", "dish": "lamb", "by": "14:00"}),
    ("is half one still on for the lamb", {"is": "ready_by", "dish": "lamb", "by": "13:30"}),
    ("what heat do you see in the dome come 4", {"is": "oven_at", "oven": "dome", "by": "16:00"}),
    ("is it time the barrel had another log", {"is": "refuel", "oven": "barrel"}),
    ("is there any risk in the beans sitting in there all night", {"is": "safe", "dish": "beans"}),
    ("give me a lighting time for 12 guests at one", {"is": "plan", "by": "13:00", "guests": 12}),
    ("which of the allergens are in the lamb", {"is": "allergens", "dish": "lamb"}),
    ("what number would help you most right now", {"is": "measure"}),
    ("where should the gun point next", {"is": "measure"}),
    ("could we see the day as a picture", {"is": "log"}),
    ("what are the things you understand", {"is": "help"}),
]

NOT_ASKED_OF_US = [
    "what do you make of the new fence",
    "where did you park",
    "how was the bus this morning",
    "did you see the geese",
    "what time's your train",
    "when is your birthday",
    "will it ever stop raining at mine",
    "is the radio too loud for you",
    "xq?zv bbr? whn kk?",
]


@pytest.mark.parametrize(("text", "asked"), ASKED)
def test_a_question_in_other_words_is_heard(text, asked):
    assert heard(text, "11:30", ["dome", "barrel"], ["lamb", "beans"]) == [asked]


@pytest.mark.parametrize("text", NOT_ASKED_OF_US)
def test_what_is_asked_of_people_is_left_alone(text):
    assert heard(text, "11:30", ["dome", "barrel"], ["lamb", "beans"]) == []


def test_what_is_learnt_twice_is_the_same():
    first, again = (likeness._learnt.__wrapped__() for _ in range(2))
    shapes = ["how far on is DISH", "where did you park", "would OVEN like more wood ?"]
    odds = [model.predict_proba(vectors.transform(shapes)) for vectors, model, _ in (first, again)]
    assert np.array_equal(*odds)
    assert first[2] == again[2]


def test_a_clause_of_other_words_is_strange_by_each_of_them():
    assert likeness.likest(_items("when will the zebra be ironed")).strange == 2
    assert likeness.likest(_items("when will the lamb be done")).strange == 0


def _items(text):
    return row_of(text, plain(text), context()).items
