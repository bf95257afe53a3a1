"""Fire cautions: once a class, at the moment they apply, deferring to those who know the place."""
from __future__ import annotations

import pytest

from skills.safety import cautions
from skills.safety.cautions import astray, prompts
from skills.safety.first_aid import hurts
from tests.safety.helpers import view


def fire(act: str, oven: str = "dome") -> dict:
    return {"is": "fire", "act": act, "oven": oven}


def door(state: str, oven: str = "dome") -> dict:
    return {"is": "door", "state": state, "oven": oven}


LIT = (("06:00", "Idris", {"is": "oven", "oven": "dome", "fired": "retained"}), ("06:05", "Idris", fire("lit")))


def said(lines: tuple, now: str) -> dict[str, str]:
    return {prompt.key: prompt.text for prompt in prompts(view(lines, now))}


def test_door_on_a_live_fire_is_called_at_once() -> None:
    got = said((*LIT, ("08:00", "Idris", door("on"))), "08:00")
    assert list(got) == ["caution:door"]
    assert "carbon monoxide" in got["caution:door"]
    assert "stand aside" in got["caution:door"]


def test_door_on_after_the_rake_out_is_not() -> None:
    got = said((*LIT, ("08:00", "Idris", fire("raked")), ("08:10", "Idris", door("on"))), "08:10")
    assert "caution:door" not in got


def test_ash_goes_into_a_lidded_bin_outdoors() -> None:
    """US fire district and department notices: days alive, distance (rows haz-ash-*)."""
    text = said((*LIT, ("08:00", "Idris", fire("raked"))), "08:01")["caution:ash"]
    figures = (f"{cautions.ASH_M} m", f"{cautions.ASH_DAYS} days")
    for words in ("lidded metal bin", "outdoors", "carbon monoxide", *figures):
        assert words in text


def test_rain_on_a_live_fire_brings_the_cover_caution() -> None:
    lines = (*LIT, ("07:00", "Bea", {"is": "weather", "sky": "rain"}))
    assert "caution:cover" in said(lines, "07:01")
    assert said((("07:00", "Bea", {"is": "weather", "sky": "rain"}),), "07:01") == {}


def contents(item: str, dish: str | None = None) -> dict:
    return {"is": "contents", "item": item} | ({"dish": dish} if dish else {})


@pytest.mark.parametrize(("item", "key"), [
    ("red wine", "caution:wine"), ("a splash of brandy", "caution:wine"), ("deep oil for frying", "caution:oil")])
def test_wine_and_oil_by_a_flame_are_cautioned_once(item: str, key: str) -> None:
    """Never from the bottle near flame, never water on burning fat: from memory, no source read."""
    lines = (*LIT, ("08:00", "Bea", contents(item)), ("08:10", "Bea", contents(item)))
    got = said(lines, "08:10")
    assert list(got) == [key]
    assert ("bottle" if key == "caution:wine" else "no water") in got[key]


@pytest.mark.parametrize("item", ["red wine vinegar", "beef marinated in red wine", "olive oil", "carrots"])
def test_what_does_not_flare_is_let_be(item: str) -> None:
    assert said((*LIT, ("08:00", "Bea", contents(item))), "08:01") == {}


def test_wine_with_no_fire_about_is_let_be() -> None:
    out = (*LIT, ("08:00", "Idris", fire("raked")), ("09:00", "Bea", contents("red wine")))
    assert said(out, "09:01") == {}
    assert said((("08:00", "Bea", contents("red wine")),), "08:01") == {}


def test_wine_in_a_pot_of_another_oven_than_the_lit_one_is_let_be() -> None:
    lines = (*LIT, ("06:10", "Idris", {"is": "reading", "oven": "barrel", "place": "air", "celsius": 180}),
             ("08:00", "Bea", {"is": "pot", "oven": "barrel", "dish": "beef", "act": "in"}),
             ("08:05", "Bea", contents("red wine", "beef")))
    assert "caution:wine" not in said(lines, "08:06")


def test_a_caution_has_one_name_for_the_whole_class() -> None:
    """The planner says nothing twice under one key."""
    lines = (*LIT, ("08:00", "Idris", fire("raked")), ("08:05", "Tomos", fire("lit", "barrel")),
             ("08:20", "Tomos", fire("raked", "barrel")))
    assert list(said(lines, "08:21")) == ["caution:ash"]


@pytest.mark.parametrize("now", ["09:00", "12:00"])
def test_a_caution_is_not_dug_up_later(now: str) -> None:
    assert said((*LIT, ("08:00", "Idris", fire("raked"))), now) == {}


def test_cautions_are_no_food_safety_prompts() -> None:
    got = list(prompts(view((*LIT, ("08:00", "Idris", fire("raked"))), "08:00")))
    assert {prompt.kind for prompt in got} == {"fire"}


INCIDENT = {"is": "incident", "what": "burnt his forearm on the door"}


def first_care(lines: tuple, now: str) -> list:
    return list(hurts(view(lines, now)))


def test_first_care_for_a_burn_is_said_at_once_to_who_told_of_it() -> None:
    """UK cool, call, cover page: 20 minutes of cool running water, no ice (rows burn-*)."""
    got, = first_care((("10:47", "Idris", INCIDENT),), "10:47")
    assert (got.kind, got.who) == ("safety", "Idris")
    for words in ("20 min of cool running water", "till 11:07", "no ice", "no butter", "First-aider"):
        assert words in got.text


def test_first_care_is_said_once_an_incident() -> None:
    again = (("10:47", "Idris", INCIDENT), ("10:52", "Mara", INCIDENT))
    assert len({prompt.key for prompt in first_care(again, "10:53")}) == 1
    assert first_care(again, "12:00") == []
    later = (*again, ("11:50", "Mara", INCIDENT))
    assert len({prompt.key for prompt in first_care(later, "11:51")}) == 1
    follow = (("10:47", "Idris", {**INCIDENT, "follow_up": True}),)
    assert first_care(follow, "10:48") == []


@pytest.mark.parametrize(("what", "words"), [
    ("cut her thumb on the peel", "press on it"),
    ("ember in his eye", "rinse"), ("tea towel caught fire", "never on fat"),
    ("a guest is choking", "five blows"), ("having a reaction", "emergency number"),
    ("fainted by the dome", "lay them"),
    ("banged his head on the arch", "sit them still"), ("slipped on the step", "do not move it")])
def test_other_hurts_have_their_own_first_care(what: str, words: str) -> None:
    """First-aid teaching, from memory: the words name an act and who goes first."""
    got, = first_care((("10:47", "Idris", {"is": "incident", "what": what}),), "10:47")
    assert words in got.text
    assert any(each in got.text for each in ("irst-aider", "emergency number", "fire service"))


@pytest.mark.parametrize("words", ["hot ash in a cardboard box", "embers in a plastic bucket by the hedge",
                                   "ash in a bag", "embers in the metal bin by the shed", "coals behind the shed"])
def test_where_ash_can_set_fire_to_something(words: str) -> None:
    """US fire district and department notices: metal, lid, outdoors, 10 ft from buildings, never card or bags."""
    assert astray(frozenset(words.split()))


@pytest.mark.parametrize("words", ["ash in the metal can lid on", "embers in the lidded metal bin away from the barn",
                                   "cold ash on the compost", "embers in the lidded bin by the wall"])
def test_where_ash_is_right(words: str) -> None:
    """The same notices, and ash that is dead."""
    assert not astray(frozenset(words.split()))
