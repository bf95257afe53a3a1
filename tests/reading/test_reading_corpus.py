"""Every phrase of the corpus means what stands beside it. Add phrases in bot/reading/corpus; they are tested here.

The phrases and their meanings were written by hand (common practice, no source).
"""

from __future__ import annotations

import tomllib
from importlib import resources

import pytest

from skills.vocabulary import FACTS, QUESTIONS, fact, question
from tests.reading.helpers import as_set, heard

QUESTION_KINDS = {kind.model_fields["is_"].default for kind in QUESTIONS}
FACT_KINDS = {kind.model_fields["is_"].default for kind in FACTS}


def corpora():
    folder = resources.files("bot.reading").joinpath("corpus")
    return {
        each.name: tomllib.loads(each.read_text(encoding="utf-8"))
        for each in folder.iterdir()
        if each.name.endswith(".toml")
    }


CORPORA = corpora()
CASES = [
    pytest.param(corpus, group, saying, id=f"{name}: {saying}")
    for name, corpus in sorted(CORPORA.items())
    for group in corpus["group"]
    for saying in group["say"]
]


@pytest.mark.parametrize(("corpus", "group", "saying"), CASES)
def test_a_phrase_means_what_its_corpus_says(corpus, group, saying):
    known = {key: group.get(key, corpus[key]) for key in ("now", "ovens", "dishes")}
    assert as_set(heard(saying, **known)) == as_set(group["means"])


@pytest.mark.parametrize("name", sorted(CORPORA))
def test_the_meanings_of_a_corpus_are_of_the_vocabulary(name):
    for group in CORPORA[name]["group"]:
        for entry in group["means"]:
            made = question(entry) if entry["is"] in QUESTION_KINDS else fact(entry)
            assert as_set([made.said()]) == as_set([entry])


@pytest.mark.parametrize("name", sorted(CORPORA))
def test_every_corpus_holds_neighbours_that_mean_nothing(name):
    assert any(group["means"] == [] for group in CORPORA[name]["group"])


def test_every_kind_of_fact_and_question_has_a_phrase():
    said = {entry["is"] for corpus in CORPORA.values() for group in corpus["group"] for entry in group["means"]}
    assert said == FACT_KINDS | QUESTION_KINDS
