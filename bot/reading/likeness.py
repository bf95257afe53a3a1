"""What kind of question a clause is most like, learnt from the phrases of the corpora and the ways of the tables.

For a question that no phrase and no rule hears. The phrases that a person adds to a corpus teach it, the neighbours
that mean nothing among them. It is learnt where it is first needed, which takes a few seconds.
"""

from __future__ import annotations

import random
import tomllib
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import UTC, datetime
from functools import cache
from importlib import resources
from typing import Any

from bot.reading.context import Context
from bot.reading.items import Item
from bot.reading.lexicon import allergens_in
from bot.reading.normalise import plain
from bot.reading.phrases import phrase_tables
from bot.reading.tokens import row_of
from bot.reading.ways import SLOTS, said_in_a_way
from skills.vocabulary import QUESTIONS

KINDS = frozenset(str(kind.model_fields["is_"].default) for kind in QUESTIONS)
NOTHING, TOLD = "nothing", "told"
# Texts drawn of each way of saying.
_DRAWN = 3
_SEED = 1


@dataclass(frozen=True)
class Likeness:
    """The likeliest kind of question, its odds against all other kinds, facts and chatter (0 to 1), and how many words
    of the clause are in no question that it was learnt from."""

    kind: str
    odds: float
    strange: int


def likest(items: list[Item]) -> Likeness:
    """What a clause is most like; `kind` is `nothing` for chatter and `told` for a fact."""
    vectors, model, words = _learnt()
    clause = shape(items)
    odds = model.predict_proba(vectors.transform([clause]))[0]
    best = int(odds.argmax())
    return Likeness(str(model.classes_[best]), float(odds[best]), len(set(clause.split()) - words))


def shape(items: list[Item]) -> str:
    """A clause with the names, times and amounts left open: "when will DISH be done"."""
    words: list[str] = []
    for item in items:
        if item.kind == "":
            words += ["ALLERGEN"] if allergens_in([item.word]) else [item.word.lstrip("'")]
        elif item.kind == ".":
            words += [item.word] if item.word == "?" else []
        else:
            words.append(_KINDS_OF_ITEMS.get(item.kind, "NUMBER"))
    return " ".join(words)


_KINDS_OF_ITEMS = {"O": "OVEN", "D": "DISH", "P": "PLACE"}


@cache
def _learnt() -> tuple[Any, Any, frozenset[str]]:
    # Here and not above: the import alone takes a second, and most rooms never ask what no rule hears.
    from sklearn.feature_extraction.text import TfidfVectorizer
    from sklearn.linear_model import SGDClassifier
    from sklearn.pipeline import make_union

    texts, kinds = zip(*[*_of_corpora(), *_of_ways()], strict=True)
    vectors = make_union(
        TfidfVectorizer(lowercase=False, ngram_range=(1, 3), sublinear_tf=True, token_pattern=r"[A-Za-z]+|\?"),
        TfidfVectorizer(lowercase=False, analyzer="char_wb", ngram_range=(2, 5), sublinear_tf=True),
    )
    model = SGDClassifier(loss="log_loss", alpha=1e-5, random_state=_SEED)
    words = {word for text, kind in zip(texts, kinds, strict=True) if kind in KINDS for word in text.split()}
    return vectors, model.fit(vectors.fit_transform(texts), kinds), frozenset(words)


def _of_corpora() -> Iterator[tuple[str, str]]:
    folder = resources.files("bot.reading").joinpath("corpus")
    noon = datetime(2026, 5, 5, 12, tzinfo=UTC)
    for file in sorted((each for each in folder.iterdir() if each.name.endswith(".toml")), key=lambda each: each.name):
        corpus = tomllib.loads(file.read_text(encoding="utf-8"))
        for group in corpus["group"]:
            ovens, dishes = (tuple(group.get(key, corpus[key])) for key in ("ovens", "dishes"))
            for saying in group["say"]:
                row = row_of(saying, plain(saying), Context(noon, ovens, dishes))
                yield shape(row.items), _kind(group["means"])


def _kind(means: list[dict[str, Any]]) -> str:
    asked = [str(each["is"]) for each in means if each["is"] in KINDS]
    return asked[0] if asked else TOLD if means else NOTHING


def _of_ways() -> Iterator[tuple[str, str]]:
    chance = random.Random(_SEED)
    slots = {slot: (_SLOTS.get(slot, "NUMBER"),) for slot in SLOTS}
    for table in phrase_tables():
        for entry in table.get("question", ()):
            for way in entry.get("say", ()):
                for _ in range(_DRAWN):
                    yield said_in_a_way(way, table.get("words", {}), chance, slots), str(entry["means"]["is"])


_SLOTS = {
    "DISH": "DISH", "OVEN": "OVEN", "PLACE": "PLACE", "WHAT": "DISH", "ITEM": "DISH", "HELD": "DISH",
    "ALLERGEN": "ALLERGEN", "FLOUR": "ALLERGEN", "PERSON": "mara", "SPECIES": "wood",
}
