"""Which dishes the food-safety clocks are for, told by their names. Common practice, no source, where not said."""
from __future__ import annotations

from skills import vocabulary as v
from skills.dish.cuts import cut_of
from skills.safety.packs import Pack
from skills.safety.spans import Story
from skills.safety.words import in_words, words_of


def clocked(story: Story) -> bool:
    """Whether the hold and chill clocks are for this dish."""
    words = in_words(story.words)
    if in_words(story.name) & words_of("keeps_plain"):
        meat = words & (words_of("meats") | words_of("poultry") | words_of("ground") | words_of("fish"))
        return bool(meat) or story.dish.meat_kg is not None or any(
            isinstance(dated.fact, v.Food | v.Chill | v.Reheat | v.StoreHeat) for dated in story.facts)
    return not in_words(story.name) & words_of("keeps")


def raw_meat(story: Story) -> bool:
    """Meat that was told of by weight, cut or name, not of the kind that is served pink: its core is heated through."""
    words = in_words(story.words)
    named = words & (words_of("meats") | words_of("poultry") | words_of("ground"))
    told = (story.dish.meat_kg is not None or story.dish.cut is not None) and not words & words_of("meatless")
    return bool(told or named) and clocked(story) and not beans(story) and not words & words_of("pink") and not (
        story.dish.done_c is not None and pinkable(story))


def over_flame(story: Story) -> bool:
    """Whether only an open flame cooked it, dry: how hot it is inside only a probe tells."""
    return story.last_of("oven") is None and story.last_of("ring") is not None and story.dish.liquid_l is None and not (
        in_words(story.words) & words_of("soups")) and not any(
            isinstance(dated.fact, v.Check) and dated.fact.simmer is not None for dated in story.facts)


def flesh(story: Story) -> bool:
    """Meat, bird or fish by its words, or a weight of nothing that is known as meatless."""
    return cut_of(story.dish)[0].finish.flesh and not in_words(story.words) & words_of("meatless")


def pinkable(story: Story) -> bool:
    """A whole piece of beef, lamb or the like, which may be served pink if somebody asks for it: no pork, bird or fish,
    nothing minced, rolled or stuffed (UK guidance on rare meat, from memory)."""
    words = in_words(story.words)
    no = any(words & words_of(kind) for kind in ("poultry", "ground", "fish", "never_pink"))
    return bool(words & (words_of("pinkable") | words_of("pink"))) and not no


def cook_figure(story: Story, rules: Pack) -> tuple[str, float]:
    """The key and the core heat [degC] that the rules ask of this dish."""
    words = in_words(story.words)
    key = "cook_c"
    if words & words_of("poultry") and "poultry_c" in rules.figures:
        key = "poultry_c"
    elif words & words_of("fish"):
        key = "fish_c"
    return key, rules.value(key)


def beans(story: Story) -> bool:
    """Beans that must be boiled hard before a slow oven (US agency, as health pages quote it), or a dish with them."""
    held = [in_words(dated.fact.item) for dated in story.facts if isinstance(dated.fact, v.Contents)]
    told = (in_words(story.words), *held)
    return any(words & words_of("beans") and not words & words_of("other_beans") for words in told) or (
        bool(told[0] & words_of("bean_dishes")))


def boiled_hard(story: Story, notes: tuple[str, ...] = ()) -> bool:
    """Whether a hard boil was told: a hard simmer seen, liquor at the boil, or words that say so."""
    for dated in story.facts:
        fact = dated.fact
        if isinstance(fact, v.Check) and fact.simmer == "hard":
            return True
        if isinstance(fact, v.Food) and fact.part == "liquid" and fact.celsius >= 98.0:
            return True
        if isinstance(fact, v.Contents) and {"tin", "tins", "tinned", "can", "canned"} & in_words(fact.item):
            return True
        if isinstance(fact, v.Task) and fact.act == "done" and "boil" in (fact.what or ""):
            return True
    return any("boil" in note and "not boil" not in note and "to boil" not in note for note in notes)
