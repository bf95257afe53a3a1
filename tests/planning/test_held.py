"""Several dishes in a light oven: one heat held for all, done together, in no more room than there is."""

from __future__ import annotations

from datetime import timedelta

import numpy as np
import pytest

from bot.plan_page import acts_of_ladder, bars_of_ladder, calendar, page_of_ladder
from skills.planning.course import TENDED_WARM_S
from skills.planning.curve import curve_of_ladder
from skills.planning.firing_plan import plan_dish
from skills.planning.held import SWINGS_K, held, replay_held
from skills.planning.say_ladder import say_ladder
from tests.planning import helpers
from tests.planning.test_ladder import LOADS
from tests.planning.test_live_ladder import Talk
from tests.planning.test_replays import FRESH, MEMBERS, least

BARREL = "the barrel is 66 across, 4 cm floor, 5 cm dome, 3 of insulation. fire stays in"
SETS = {"two": ("lamb", "beans"), "three": ("lamb", "beans", "rice pudding"), "roast": ("roast pork", "lamb")}


def barrel(seed=1, members=MEMBERS):
    return helpers.start(size=helpers.BARREL, fired="tended", name="barrel", seed=seed, members=members)


def make(*names, now=helpers.NOW):
    return held(barrel(), [helpers.wish(name, LOADS[name]) for name in names], helpers.EAT, now)


@pytest.mark.parametrize("seed", [121, 122])
@pytest.mark.parametrize("name", SETS)
def test_all_is_in_time_in_ovens_and_food_drawn_afresh(name, seed):
    made = make(*SETS[name])
    assert [rung.wish.dish for rung in made.rungs]
    assert not made.left
    assert made.reached >= made.odds
    assert replay_held(barrel(seed, FRESH), made).mean() >= least(made.odds, MEMBERS, FRESH)


def test_the_slowest_goes_in_first_after_the_oven_has_warmed():
    """45 to 60 min to cooking heat (owner's figure)."""
    made = make("rice pudding", "lamb", "beans")
    assert [rung.wish.dish for rung in made.rungs] == ["lamb", "beans", "rice pudding"]
    assert made.rungs[0].into - made.light == timedelta(seconds=TENDED_WARM_S)
    for rung in made.rungs:
        assert rung.heat_c <= rung.wish.heat.high_c + SWINGS_K
        assert rung.out_sure + timedelta(seconds=rung.wish.heat.rest_s) <= made.eat


def test_an_earlier_meal_is_never_lit_for_later():
    lights = [held(barrel(), [helpers.wish(name, LOADS[name]) for name in SETS["two"]], helpers.EAT - timedelta(
        hours=earlier), helpers.NOW).light for earlier in (2, 1, 0)]
    assert lights == sorted(lights)


def test_a_meal_that_is_too_soon_is_named_with_the_one_that_is_kept():
    made = make(*SETS["two"], now=helpers.EAT - timedelta(hours=4))
    assert made.late_by_s > 0.0
    assert replay_held(barrel(123, FRESH), made).mean() >= least(made.odds, MEMBERS, FRESH)
    assert "not by 13:30" in say_ladder(made, helpers.EAT - timedelta(hours=4)).lines[0]


def test_what_a_light_oven_cannot_do_is_left_out_with_the_reason():
    made = make("lamb", "loaves", "flatbreads", "plums to dry")
    why = {each.wish.dish: each.why for each in made.left}
    assert set(why) == {"loaves", "flatbreads", "plums to dry"}
    assert "floor at 210" in why["loaves"]
    assert "door" in why["flatbreads"]


def test_what_does_not_go_with_the_others_is_told_when_it_would_go():
    now = helpers.NOW
    made = make("lamb", "beans", "rice pudding", "roast pork", "flatbreads")
    said = "\n".join(say_ladder(made, now).lines)
    nearest = {each.wish.dish: each.nearest for each in made.left}
    assert "after the others, by " in nearest[next(dish for dish in nearest if dish != "flatbreads")]
    assert "first, beside a brisk fire lit " in nearest["flatbreads"]
    assert any(each in said for each in nearest.values())


def test_no_more_pots_than_stand_on_its_floor():
    """66 cm across is 0.34 m2: three pots of 0.11 m2 (common practice, no source)."""
    made = make("lamb", "beans", "rice pudding", "roast pork")
    assert len(made.rungs) == 3
    assert "holds about 3 pots" in made.left[0].why


def test_flatbreads_alone_want_a_short_brisk_fire():
    """Light ovens bake flatbread after an hour or two of fire, not three (common practice, no source)."""
    made = plan_dish(barrel(), helpers.wish("flatbreads", LOADS["flatbreads"]), helpers.NOW, False)
    assert 0.5 <= float(np.median(made.outcome.fire_s)) / 3600.0 <= 2.0
    assert made.row("feed").remark.startswith("9 splits")


def test_paper_picture_and_calendar_of_a_light_oven():
    made = make(*SETS["two"])
    acts = acts_of_ladder(made)
    assert not any(act.what in ("rake", "settle") for act in acts)
    assert {"light", "feed small", "lamb: in", "beans: out", "table"} <= {act.what for act in acts}
    assert "fed small" in page_of_ladder(made, (), helpers.NOW)
    assert bars_of_ladder(made)[0].name == "fire"
    assert calendar(acts, "barrel", made.eat, helpers.NOW).count(b"BEGIN:VEVENT") > 10
    curve = curve_of_ladder(barrel(), made)
    noon = np.argmin(np.abs(curve.at_s - (made.eat - timedelta(hours=2)).timestamp()))
    assert 110.0 <= curve.air_c[1][noon] <= 230.0


def test_in_the_room_every_dish_of_a_light_oven_is_planned_and_called_for():
    talk = Talk(dishes=(BARREL, "3 kg lamb shoulder, litre of hot stock, iron pot", "2 kg borlotti beans, 3 l hot"))
    text = talk.say(2, "when do we light the barrel")
    assert text.startswith("Light ")
    assert "shoulder" in text
    assert "beans" in text
    light = text.split()[1]
    hours, minutes = (int(each) for each in light.split(":"))
    minute = 60 * hours + minutes - 240
    assert any("light barrel" in said for said in talk.prompts(minute))
    talk.say(minute + 1, "lit the barrel", "Idris")
    said = talk.prompts(minute + 360)
    assert sum("houlder into barrel" in each for each in said) == 1
    assert sum("eans into barrel" in each for each in said) == 1


def test_a_dish_that_a_running_firing_gives_away_is_called_for_in_the_other_oven():
    talk = Talk(dishes=(BARREL, "3 kg lamb shoulder, litre of hot stock, iron pot", "2.4 kg loaves",
                        "rice pudding, 3 l milk"))
    assert "rice pudding" in talk.answer
    talk.prompts(299)
    talk.say(300, "lit the dome", "Idris")
    (moved,) = talk.prompts(302)
    assert "Rice pudding in the barrel, light it " in moved
    light = moved.split("light it ")[1][:5]
    called = [each for each in talk.prompts(600) if "light barrel" in each]
    assert len(called) == 1
    assert "rice pudding" in called[0]
    hours, minutes = (int(each) for each in light.split(":"))
    talk.say(60 * hours + minutes - 240 + 5, "lit the barrel", "Tomos")
    assert any("ice pudding into barrel" in each for each in talk.prompts(900))
