"""The tables of phrases: how they are written, and that every entry of them can be meant."""

from __future__ import annotations

import random
import tomllib
from importlib import resources

import pytest

from bot.reading.ways import SLOTS, Ways, said_in_a_way
from skills.vocabulary import FACTS, QUESTIONS
from tests.reading.helpers import heard
from tests.strategies import SLOT_SAMPLES

KINDS = {kind.model_fields["is_"].default: kind for kind in (*FACTS, *QUESTIONS)}


def fits(way, text, lists=None):
    ways = Ways()
    ways.add(0, way, lists or {})
    return any(each.match(f"{text} ") for each in ways.fitting(text.split()))


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("when is D0", True),
        ("when is D0 done", True),
        ("when is D0 cooked", True),
        ("when D0 done", False),
        ("when is done", False),
        ("when is D0 done now", False),
    ],
)
def test_a_way_fits_with_and_without_what_may_be_left_out(text, said):
    assert fits("when (is|will) DISH [<done>]", text, {"done": "done|cooked"}) is said


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("is D0 done", True),
        ("you think is D0 any nearer to being done", True),
        ("is D0 nearly almost done", True),
        ("is done D0", False),
        ("is D0 nearly", False),
    ],
)
def test_dots_are_any_words_and_braces_any_number_of_some(text, said):
    assert fits("... is DISH {nearly|almost|any|nearer|to|being} done", text) is said


def test_a_way_that_needs_no_word_at_all_is_refused():
    with pytest.raises(ValueError, match="fits anything"):
        Ways().add(0, "[please] [now]", {})


@pytest.mark.parametrize("way", ["when (is DISH", "when is] DISH"])
def test_a_bracket_too_few_or_too_many_is_refused(way):
    with pytest.raises(ValueError, match="bracket"):
        Ways().add(0, way, {})


def tables():
    folder = resources.files("bot.reading").joinpath("phrase_tables")
    return [tomllib.loads(file.read_text(encoding="utf-8")) for file in folder.iterdir() if file.name.endswith(".toml")]


def test_every_entry_of_the_tables_means_something_of_the_vocabulary():
    for table in tables():
        for entry in (*table.get("question", ()), *table.get("fact", ())):
            if entry["means"] == {"is": "nobody"}:
                continue
            fields = KINDS[entry["means"]["is"]].model_fields
            names = {field.alias or name for name, field in fields.items()} | {"minutes"}
            assert set(entry["means"]) <= names
            slots = [value for value in entry["means"].values() if isinstance(value, str) and value.isupper()]
            assert set(slots) <= set(SLOTS)
            assert "hear" in entry or all(any(slot in way for way in entry["say"]) for slot in slots)


def test_what_is_heard_in_parts_names_no_slot_that_it_cannot_find():
    for table in tables():
        for entry in table.get("question", ()):
            assert ("hear" in entry) != ("say" in entry)
            assert set(entry.get("needs", ())) <= set(map(str, entry["means"].values()))


@pytest.mark.parametrize("seed", [1, 2])
def test_what_the_tables_say_is_read_as_they_mean_it(seed):
    """Texts put together at random from the tables; some of them no human would say, so a few may miss."""
    chance, missed, texts = random.Random(seed), [], 0
    for table in tables():
        for entry in (*table.get("question", ()), *table.get("fact", ())):
            for way in entry.get("say", ()):
                text = said_in_a_way(way, table.get("words", {}), chance, SLOT_SAMPLES)
                if text.startswith("'s"):
                    continue  # the short form of "is" follows a word
                texts += 1
                if [each["is"] for each in heard(text)] != [entry["means"]["is"]]:
                    missed.append(text)
    assert len(missed) < 0.06 * texts, missed
