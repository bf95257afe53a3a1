"""The word lists of skills/safety/dishes.toml, by which a dish is known for what it is."""
from __future__ import annotations

import tomllib
from functools import cache
from importlib.resources import files


@cache
def words_of(kind: str) -> frozenset[str]:
    """The words of skills/safety/dishes.toml under a key."""
    data = tomllib.loads(files("skills.safety").joinpath("dishes.toml").read_text(encoding="utf-8"))
    return frozenset(data[kind])


def in_words(text: str) -> frozenset[str]:
    """ "pork & beans, smoked" -> its words, lower case."""
    return frozenset(text.lower().replace(",", " ").replace("-", " ").split())
