"""Which dishes the food-safety clocks are for, told by their names. Common practice, no source, where not said."""
from __future__ import annotations

import tomllib
from functools import cache
from importlib.resources import files

from skills import vocabulary as v
from skills.safety.spans import Story


@cache
def words_of(kind: str) -> frozenset[str]:
    """The words of skills/safety/dishes.toml under a key."""
    data = tomllib.loads(files("skills.safety").joinpath("dishes.toml").read_text(encoding="utf-8"))
    return frozenset(data[kind])


def clocked(story: Story) -> bool:
    """Whether the hold and chill clocks are for this dish."""
    return not set(story.name.split()) & words_of("keeps")


def raw_meat(story: Story) -> bool:
    """Meat that was told of by weight or cut: its core has to be heated through."""
    return (story.dish.meat_kg is not None or story.dish.cut is not None) and clocked(story) and not beans(story)


def beans(story: Story) -> bool:
    """Beans that must be boiled hard before a slow oven (US agency, as health pages quote it)."""
    words = set(story.words.replace(",", " ").split())
    return bool(words & words_of("beans")) and not words & words_of("other_beans")


def boiled_hard(story: Story, notes: tuple[str, ...] = ()) -> bool:
    """Whether a hard boil was told: a hard simmer seen, liquor at the boil, or words that say so."""
    for dated in story.facts:
        fact = dated.fact
        if isinstance(fact, v.Check) and fact.simmer == "hard":
            return True
        if isinstance(fact, v.Food) and fact.part == "liquid" and fact.celsius >= 98.0:
            return True
        if isinstance(fact, v.Contents) and "tin" in fact.item:
            return True
        if isinstance(fact, v.Task) and fact.act == "done" and "boil" in (fact.what or ""):
            return True
    return any("boil" in note and "not boil" not in note and "to boil" not in note for note in notes)
