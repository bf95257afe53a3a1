"""What is left out to be quick changes no figure: each shortcut against the plain way that it stands for.

No outside source: the plain way of the same sum is the reference. Tolerances are those of rounding.
"""

from __future__ import annotations

from dataclasses import fields, replace

import numpy as np
import pytest

from skills.dish import model as dish
from skills.dish.prior import Said, draw
from skills.kitchen import Kitchen, Setting, ensemble, forecast, habits
from skills.kitchen.acts import timeline
from tests.bench.bench_forecast import day

SETTING = Setting(seed=7, members=80, foreseeing=60)


@pytest.fixture(scope="module")
def noon():
    """Two ovens and three pots, six hours into the day."""
    facts = noon_facts()
    return Kitchen(SETTING).believe(facts, facts[-1].at)


def noon_facts():
    return [each for each in day() if each.at <= day()[-20].at]


def test_members_that_are_tender_need_not_be_followed(noon, monkeypatch):
    quick = noon.forecast(3.0)

    def follow_all(members, recorder, ends_s):
        ensemble.advance(members, ends_s, recorder.course, recorder)

    monkeypatch.setattr(forecast, "_follow", follow_all)
    noon._made.clear()
    plain = noon.forecast(3.0)
    horizon_s = quick.at_s[-1]
    late = [(each.tender_s > horizon_s) & np.isfinite(each.tender_s) for each in plain.dishes.values()]
    assert np.any(late)                   # some were followed on
    assert not np.all(late)               # and some need not be
    for name, made in plain.dishes.items():
        # To a second in hours: a look into any member's pot divides the step of all that are followed with it.
        assert quick.dishes[name].tender_s == pytest.approx(made.tender_s, abs=1.0)
        assert quick.dishes[name].core_c == pytest.approx(made.core_c, abs=1e-9)
    for name, oven in plain.ovens.items():
        assert quick.ovens[name].air_c == pytest.approx(oven.air_c, abs=1e-9)


def test_members_on_their_own_go_the_way_they_go_among_all(noon):
    everyone = noon.standing
    pick = np.array([3, 17, 40, 41, 79])
    ends_s = [everyone.at_s + 300 * step for step in range(1, 25)]
    among = ensemble.picked(ensemble.advance(everyone, ends_s), pick)
    alone = ensemble.advance(ensemble.picked(everyone, pick), ends_s)
    assert alone.state.temp_k == pytest.approx(among.state.temp_k, abs=1e-6)
    assert alone.shelf.state.meat_k == pytest.approx(among.shelf.state.meat_k, abs=1e-6)
    assert alone.shelf.state.liquid_kg == pytest.approx(among.shelf.state.liquid_kg, abs=1e-9)


def test_an_oven_that_is_not_fed_is_the_same_whether_or_not_slow_dishes_are_followed(noon, monkeypatch):
    quick = noon.forecast(3.0, feeding=False)
    run = forecast.run
    monkeypatch.setattr(forecast, "run", lambda *given, **_: run(*given, slow=True))
    noon._made.clear()
    plain = noon.forecast(3.0, feeding=False)
    assert any((each.tender_s > plain.at_s[-1]).any() for each in plain.dishes.values())
    for name, oven in plain.ovens.items():
        assert (quick.ovens[name].air_c == oven.air_c).all()
        assert (quick.ovens[name].floor_c == oven.floor_c).all()
    for name, made in plain.dishes.items():
        assert (quick.dishes[name].core_c == made.core_c).all()


def test_seconds_of_looks_are_those_of_every_look_taken_one_by_one(noon):
    course = habits.to_come(noon.standing, SETTING, 14 * 3600, timeline(noon_facts(), noon.standing.at_s))
    course.out_s[:] = noon.standing.at_s + np.linspace(0.0, 9 * 3600.0, len(course.out_s))
    some = 0.0
    for from_s in range(noon.standing.at_s, noon.standing.at_s + 10 * 3600, 700):
        end_s = from_s + 600
        plain = np.zeros_like(course.out_s)
        for looks in course.looks_s:
            for lane, look_s in enumerate(looks):
                if look_s < course.out_s[lane]:
                    plain[lane] += max(0.0, min(look_s + habits.LOOK_S, end_s) - max(look_s, from_s))
        assert course._looked_s(from_s, end_s, habits.LOOK_S) == pytest.approx(plain, abs=1e-6)
        some += plain.sum()
    assert some > 0.0


def test_lids_for_a_share_of_the_time_leave_nothing_behind_of_the_lids_before():
    parameters = draw(np.random.default_rng(2), 40, Said("lamb", "lamb shoulder", 3.0, 1.0, "iron", "cold"))
    assert parameters.ready.any_open is False
    lids = np.linspace(0.0, 1.0, 40)
    quick, fresh = dish.with_lids(parameters, lids).ready, replace(parameters, lid_on=lids).ready
    for each in fields(fresh):
        assert getattr(quick, each.name) == pytest.approx(getattr(fresh, each.name), rel=1e-12), each.name
