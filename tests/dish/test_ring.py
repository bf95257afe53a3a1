"""A dish that is put on a ring to finish is told, kept and forecast on; one that was only taken out is not."""
from __future__ import annotations

import json
from datetime import datetime

import pytest

from bot.reading.read import Context, read
from skills.dish import moves
from skills.dish.promise import promise
from skills.safety.spans import story
from skills.wording import quantile
from tests.dish.room import SCHOOL_DAY, Played, play

BRAISE = """
08:34 Tomos: dome probe 187 air 160
08:38 Tomos: 3 kg lamb shoulder, litre of hot stock, iron pot, lid on
08:45 Tomos: lamb in the dome, door on
10:20 Idris: dome floor 168, air 142
"""
NOW = datetime.fromisoformat("2026-05-16T11:50:00+01:00")


def at_half_way(*more: str) -> Played:
    return play(SCHOOL_DAY, BRAISE, *more)


def heard(text: str, standing: bool = True, one: bool = False) -> list[dict[str, object]]:
    context = Context(NOW, ("dome", "barrel"), ("brisket", "lamb", "stock", "onions"), ("Mara", "Idris"), "Mara",
                      standing=(("brisket", "dome"),) if standing else (),
                      out=("lamb",) if standing and not one else ())
    return list(read(text, context).heard.kept()["facts"])


@pytest.mark.parametrize(("text", "dish"), [
    ("lamb out to the ring", "lamb"), ("brisket on the ring now", "brisket"),
    ("moved the brisket to the hob", "brisket"), ("brisket over to the gas", "brisket"),
    ("finishing the brisket on the ring", "brisket"), ("took brisket out n on the ring", "brisket"),
    ("Idris put the lamb on the small burner", "lamb"), ("put the brisket on the hob to finish", "brisket"),
    ("put brisket on the ring", "brisket"), ("brisket's gone on the ring", "brisket")])
def test_it_is_heard(text: str, dish: str) -> None:
    assert heard(text) == [{"is": "pot", "dish": dish, "act": "out", "onto": "ring"}]


@pytest.mark.parametrize("text", [
    "it's on the ring now", "gone on the ring", "moved the stew to the gas", "moved it to the ring",
    "put it on the hob to finish", "that's on the gas now", "it's gone on the hob", "shifted it over to the stove"])
def test_the_only_pot_that_there_is_needs_no_name(text: str) -> None:
    assert heard(text, one=True) == [{"is": "pot", "dish": "brisket", "act": "out", "onto": "ring"}]


@pytest.mark.parametrize("text", [
    "the ring's on now", "gas ring's on", "that ring's broken", "kettle's on the ring now", "now on gas mark 4",
    "put the onions on the hob", "is it on the ring now", "has it gone on the ring", "it goes on the ring at 12",
    "it needs to go on the ring", "it'll go on the ring", "it should go on the ring now", "it's on the board now",
    "can you put the brisket on the hob", "put the brisket on the hob please", "put the brisket on the hob when it "
    "drops", "don't put it on the ring"])
def test_what_is_asked_for_or_is_no_pot_is_not(text: str) -> None:
    assert not any("onto" in fact for fact in heard(text, one=True))


def test_of_two_pots_it_is_the_one_that_the_talk_was_of_else_it_is_asked() -> None:
    two = BRAISE + "10:25 Idris: 2 kg brisket, litre of stock\n10:30 Idris: brisket in the dome\n"
    spoken = play(SCHOOL_DAY, two, "11:00 Idris: brisket still tough", "11:05 Mara: it's on the ring now").view.record
    assert [dish.name for dish in spoken.dishes.values() if dish.ring_at is not None] == ["brisket"]
    asked = play(SCHOOL_DAY, two, "11:10 Mara: gone on the ring", "11:11 Mara: the lamb")
    assert asked.replies["11:10"] == "Which one: the lamb or the brisket?"
    assert [dish.name for dish in asked.view.record.dishes.values() if dish.ring_at is not None] == ["lamb"]


@pytest.mark.parametrize("text", [
    "kettle on the ring", "onions on the ring", "stock on the hob", "brisket stock on the hob",
    "should the brisket go on the ring?", "brisket on the ring?", "brisket not on the ring yet",
    "not putting the brisket on the ring", "what if we put the brisket on the ring",
    "brisket on the ring when it drops", "brisket going on the ring at 12", "finish the brisket on the ring",
    "gonna put the brisket on the ring", "the ring is on for the brisket", "put the brisket on the ring later",
    "lamb next to the gas", "brisket to go on the ring", "lamb on gas mark 4"])
def test_plans_questions_and_other_pots_are_not(text: str) -> None:
    assert not any("onto" in fact for fact in heard(text))


def test_only_what_stood_in_an_oven_goes_on_a_ring() -> None:
    assert not any("onto" in fact for fact in heard("brisket on the ring now", standing=False))


def test_told_it_is_kept_and_forecast_much_as_the_move_had_it() -> None:
    """What the best move ran through the model and what is believed once it is made are one thing."""
    before = at_half_way("11:00 Mara: lovely crowd").view
    assert before.belief is not None
    thought = quantile(before.belief.on_ring("lamb").dishes["lamb"].tender_s, 0.5)
    told = at_half_way("11:00 Idris: lamb out to the ring")
    dish = told.view.record.dishes["lamb"]
    assert dish.oven is None
    assert dish.cooking
    assert told.replies["11:00"].startswith("Lamb on the ring, 11:00.\nLamb")
    believed = promise(dish, told.view)
    assert believed is not None
    assert abs(quantile(believed.tender_s, 0.5) - thought) <= 600.0
    move = moves.best_move(dish, told.view)
    assert move is None or "ring" not in move.words


def test_it_goes_on_on_the_ring_and_not_on_the_bench() -> None:
    ring = at_half_way("11:00 Idris: lamb out to the ring", "12:30 Mara: when will the lamb be done?").view
    bench = at_half_way("11:00 Idris: lamb out", "12:30 Mara: lovely crowd").view
    assert ring.belief is not None
    assert bench.belief is not None
    on, off = ring.belief.dishes["lamb"], bench.belief.dishes["lamb"]
    # Water boils at 100 degC at the sea and no more than 2 K lower in a low-lying yard (water tables).
    assert 95.0 <= quantile(on.liquor_c, 0.5) <= 102.0
    assert quantile(off.liquor_c, 0.5) < quantile(on.liquor_c, 0.5) - 10.0
    assert on.tender_share >= off.tender_share
    assert promise(bench.record.dishes["lamb"], bench) is None


def test_asked_of_it_the_room_tells_the_time() -> None:
    told = at_half_way("11:00 Idris: lamb out to the ring", "11:30 Mara: when will the lamb be done?")
    assert told.replies["11:30"].startswith("Lamb tender about")


def test_back_in_an_oven_it_cooks_on_there() -> None:
    told = at_half_way("11:00 Idris: lamb out to the ring", "11:40 Idris: lamb back in the dome, door on").view
    dish = told.record.dishes["lamb"]
    assert (dish.oven, dish.ring_at) == ("dome", None)
    assert told.belief is not None
    assert told.belief.dishes["lamb"].oven == "dome"
    assert promise(dish, told) is not None


@pytest.mark.parametrize("end", ["lamb served", "lamb off the ring", "lamb resting", "lamb out"])
def test_what_ends_it(end: str) -> None:
    told = at_half_way("11:00 Idris: lamb out to the ring", f"12:30 Idris: {end}").view
    dish = told.record.dishes["lamb"]
    assert not dish.cooking
    assert promise(dish, told) is None
    forecast = told.forecast()
    assert forecast is not None
    assert "lamb" not in forecast.dishes


def test_a_simmer_long_after_it_came_out_means_a_ring() -> None:
    told = at_half_way("11:00 Idris: lamb out", "11:40 Idris: lamb at a gentle simmer, still tough").view
    assert told.record.dishes["lamb"].ring_at is not None
    forecast = told.forecast()
    assert forecast is not None
    assert "lamb" in forecast.dishes
    soon = at_half_way("11:00 Idris: lamb out", "11:04 Idris: lamb at a gentle simmer, still tough").view
    assert soon.record.dishes["lamb"].ring_at is None


def test_a_ring_is_no_bench_to_the_clock_of_what_stands_about() -> None:
    told = at_half_way("11:00 Idris: lamb out to the ring", "12:30 Mara: lovely crowd").view
    assert story("lamb", told.record, told.now).spans[-1].where == "ring"


def test_what_is_put_on_a_ring_from_the_cold_is_a_reheating() -> None:
    told = at_half_way("11:00 Idris: lamb out", "11:20 Idris: lamb into the fridge",
                       "15:00 Idris: lamb on the ring now").view
    assert not told.record.dishes["lamb"].cooking


def test_the_same_talk_gives_the_same_bytes() -> None:
    def trace() -> str:
        view = at_half_way("11:00 Idris: lamb out to the ring", "12:00 Mara: lovely crowd").view
        forecast = view.forecast()
        assert forecast is not None
        return json.dumps(forecast.trace(NOW.tzinfo))
    first = trace()
    assert "lamb" in json.loads(first)["dishes"]
    assert first == trace()
