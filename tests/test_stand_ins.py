"""A thing that stands in for another takes its place in the record; both stay in the log."""
from __future__ import annotations

import pytest

from tests.dish.room import SCHOOL_DAY, play

SEAR = "07:40 Bea: flour in the sear"
LAMB = "07:41 Bea: lamb all browned, set aside"


def items(yard):
    return [dated.fact.item for dated in yard.view.record.facts if dated.fact.is_ == "contents"]


def test_cornflour_today_takes_the_place_of_flour_and_says_who_told_it() -> None:
    yard = play(SCHOOL_DAY, SEAR, LAMB, "12:50 Bea: two coeliacs just told me", "12:52 Mara: cornflour today")
    assert "flour 07:40" in yard.replies["12:50"]
    assert "Mara" in yard.replies["12:50"]
    assert yard.replies["12:52"].startswith("Changed: cornflour")
    assert "(was flour), told by Mara 12:52" in yard.replies["12:52"]
    assert items(yard) == ["cornflour"]
    change = yard.view.record.changes[-1]
    assert (change.old["item"], change.new["item"], change.by) == ("flour", "cornflour", "Mara")


def test_what_was_something_else_takes_its_allergen_along_and_leaves_the_others() -> None:
    """Gluten goes with the flour that was none; celery in the same dish stays (caution for the guest)."""
    yard = play(SCHOOL_DAY, "07:40 Bea: plain flour in the lamb", "07:41 Bea: celery in the lamb",
                "09:25 Mara: cornflour in the lamb not plain")
    held = {dated.fact.item: dated.fact.allergen for dated in yard.view.record.facts if dated.fact.is_ == "contents"}
    assert held == {"cornflour": None, "celery": "celery"}


def test_a_dish_named_afterwards_mends_no_word_on_the_weather() -> None:
    """Weather has no dish (common sense, no source)."""
    yard = play(SCHOOL_DAY, "08:00 Bea: 4 degrees and dry", "08:01 Bea: lamb I meant")
    assert all(change.old["is"] != "weather" for change in yard.view.record.changes)


@pytest.mark.parametrize("words", ["cornflour in the gravy", "butter in the lamb today"])
def test_a_thing_beside_another_leaves_it_where_it_is(words: str) -> None:
    """Flour that was logged is not lost for another thing that went in too (caution for the guest)."""
    yard = play(SCHOOL_DAY, SEAR, LAMB, f"12:52 Bea: {words}")
    assert "flour" in items(yard)


def test_a_change_by_another_than_the_lead_goes_to_the_lead() -> None:
    yard = play(SCHOOL_DAY, SEAR, "08:28 Idris: 3 kg lamb shoulder, iron pot", "08:30 Idris: lamb in",
                "09:00 Mara: two coeliacs today", "12:52 Bea: cornflour in it today, not flour", "# until: 13:00")
    said = [each for each in yard.prompts if each.prompt == "safety" and each.who == "Mara"]
    assert any("changed" in each.text or "flour" in each.text for each in said)


def test_a_dish_says_by_its_name_what_it_holds() -> None:
    yard = play(SCHOOL_DAY, "08:00 Bea: flatbreads assembled", "08:10 Bea: two coeliacs just told me")
    assert "flatbreads by its name" in yard.replies["08:10"]
