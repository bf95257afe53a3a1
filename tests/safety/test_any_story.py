"""Whatever is told, in whatever order: an answer of three lines at most, prompts that are due from now on, no crash."""
from __future__ import annotations

import math

from hypothesis import given, settings
from hypothesis import strategies as st

from skills.allergens.skill import prompts as allergen_prompts
from skills.safety import cautions, watch
from skills.safety.answers import say_how_long_to_chill, say_where_it_stands
from skills.safety.history import history
from skills.safety.packs import REGIONS
from skills.safety.spans import names, story
from skills.vocabulary import ChillTime, Safe
from tests.hazards.cases import check, chill, core, into, load, note, out, reheat, stage, store
from tests.safety.helpers import view

DISHES = st.sampled_from(["lamb", "beans", "stew", "chicken"])
HEATS = st.integers(0, 110)
FACTS = st.one_of(
    DISHES.map(load), DISHES.map(into), DISHES.map(out), st.builds(core, DISHES, HEATS), DISHES.map(reheat),
    st.builds(stage, DISHES, st.sampled_from(["seared", "assembled", "aside", "resting", "served"])),
    st.builds(lambda dish, how: check(dish, simmer=how), DISHES, st.sampled_from(["none", "gentle", "hard"])),
    st.builds(lambda dish: check(dish, tender="tender"), DISHES),
    st.builds(lambda dish, depth, how: chill("start", dish, depth_cm=depth, method=how), DISHES,
              st.floats(0.0, 40.0), st.sampled_from(["ice", "fridge", "room"])),
    st.builds(lambda litres: chill(litres=litres), st.floats(0.0, 60.0)),
    st.just(chill("done")), st.just(chill("fridge")), st.builds(lambda dish: reheat(dish, "done"), DISHES),
    st.builds(store, st.sampled_from(["hot_hold", "fridge"]), HEATS, DISHES), st.just(stage(None, "served")),
    st.just(note("beans not boiled")), st.just({"is": "guests", "count": 2, "allergen": "nuts"}),
    st.builds(lambda dish: {"is": "contents", "item": "pesto", "dish": dish}, DISHES),
    st.just({"is": "fire", "act": "raked", "oven": "dome"}), st.just({"is": "door", "state": "on", "oven": "dome"}),
)
TOLD = st.lists(st.tuples(st.integers(5 * 60, 23 * 60), st.sampled_from(["Mara", "Idris", "Bea"]), FACTS), max_size=12)


@settings(max_examples=40, deadline=None)
@given(told=TOLD, region=st.sampled_from(REGIONS), wait=st.integers(0, 50))
def test_any_story_can_be_judged(told: list, region: str, wait: int) -> None:
    lines = [(f"{minute // 60:02d}:{minute % 60:02d}", who, fact) for minute, who, fact in sorted(
        told, key=lambda each: each[0])]
    last = max((minute for minute, _, _ in told), default=12 * 60) + wait
    seen = view(lines, f"{last // 60:02d}:{last % 60:02d}", region)
    for name in [*names(seen.record), None]:
        for reply in (say_where_it_stands(Safe(dish=name), seen), say_how_long_to_chill(ChillTime(dish=name), seen)):
            assert 1 <= len(reply.lines) <= 3
            assert all(reply.lines)
    for name in names(seen.record):
        found = history(story(name, seen.record, seen.now), seen)
        if found is not None:
            assert (found.at_s[1:] > found.at_s[:-1]).all()
            assert found.at_s[found.now] <= seen.now.timestamp()
            assert math.isfinite(float(found.core_c.sum()))
            assert found.core_c.min() > -30.0
            assert found.core_c.max() < 130.0
    for prompt in [*watch.prompts(seen), *cautions.prompts(seen), *allergen_prompts(seen)]:
        assert prompt.due >= seen.now
        assert len(prompt.text.split("\n")) <= 3
