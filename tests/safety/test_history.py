"""The history of a dish: where it is measured, where reckoned, where forecast; and what the meters make of it."""
from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from skills.safety import chill, lethality, meters
from skills.safety.history import SHARES, History, bench_tau_s, history
from skills.safety.packs import pack
from skills.safety.spans import story
from skills.view import View
from tests.hazards.cases import LAMB, LAMB_OUT, NIGHT, STEW, core, into, load, stage
from tests.hazards.cases import chill as chilled
from tests.safety.helpers import at, view


def made(lines: tuple, now: str, name: str = "lamb", **more: object) -> tuple[History, View]:
    seen = view(lines, now, **more)  # type: ignore[arg-type]
    found = history(story(name, seen.record, seen.now), seen)
    assert found is not None
    return found, seen


def index(seen: History, clock: str) -> int:
    return int(np.argmin(np.abs(seen.at_s - at(clock).timestamp())))


def test_kinds_say_which_is_which() -> None:
    seen, _ = made((*LAMB, ("13:10", "Idris", core("lamb", 92))), "13:20",
                   kitchen={"lamb": [("13:20", 91, 2), ("21:00", 70, 4)]})
    assert seen.kind[index(seen, "13:10")] == "measured"
    assert seen.kind[index(seen, "11:00")] == "reckoned"
    assert seen.kind[-1] == "forecast"
    assert all(kind == "forecast" for kind in seen.kind[seen.now + 1:])
    assert all(kind != "forecast" for kind in seen.kind[:seen.now + 1])


def test_history_passes_through_what_was_measured() -> None:
    lines = (("08:30", "Idris", load("lamb")), ("08:45", "Idris", into("lamb")), ("10:00", "Idris", core("lamb", 41)),
             ("11:30", "Idris", core("lamb", 78)))
    seen, _ = made(lines, "11:40")
    for clock, celsius in (("10:00", 41.0), ("11:30", 78.0)):
        assert np.abs(seen.core_c[index(seen, clock)] - celsius).max() < 1.0


def test_between_two_readings_every_way_stays_between_them() -> None:
    lines = (("08:30", "Idris", load("lamb")), ("08:45", "Idris", into("lamb")), ("10:00", "Idris", core("lamb", 41)),
             ("11:30", "Idris", core("lamb", 78)))
    seen, _ = made(lines, "11:40")
    between = seen.core_c[index(seen, "10:00"):index(seen, "11:30") + 1]
    assert between.min() >= 41.0 - 1.0
    assert between.max() <= 78.0 + 1.0
    assert (np.diff(between, axis=0) >= -1e-9).all()


def test_doubt_grows_away_from_a_reading() -> None:
    seen, _ = made((*LAMB_OUT, ("13:33", "Idris", core("lamb", 90))), "15:30")
    spread = seen.core_c.max(axis=1) - seen.core_c.min(axis=1)
    assert spread[index(seen, "13:33")] < 2.0 < spread[index(seen, "14:30")] < spread[index(seen, "15:20")] + 5.0


def test_a_pot_on_the_bench_follows_newton() -> None:
    """Newton's law of cooling: after one time constant a 1/e share of the excess is left."""
    seen, _ = made((*STEW, ("14:11", "Bea", core("stew", 90))), "20:00", "stew")
    lane = len(SHARES) // 2
    tau = float(bench_tau_s(6.0, True)[lane])
    begin, later = index(seen, "14:11"), int(np.argmin(np.abs(seen.at_s - at("14:11").timestamp() - tau)))
    room = 18.0
    got = (seen.core_c[later, lane] - room) / (seen.core_c[begin, lane] - room)
    assert got == pytest.approx(np.exp(-(seen.at_s[later] - seen.at_s[begin]) / tau), rel=1e-6)


def test_larger_pots_cool_more_slowly() -> None:
    assert (bench_tau_s(12.0, True) > bench_tau_s(3.0, True)).all()
    assert (bench_tau_s(3.0, False) < bench_tau_s(3.0, True)).all()


def test_kitchen_forecast_is_taken_over() -> None:
    seen, _ = made(LAMB, "13:10", kitchen={"lamb": [("13:10", 90, 2), ("21:10", 50, 5)]})
    end = seen.core_c[-1]
    assert np.median(end) == pytest.approx(50.0, abs=0.5)
    assert np.median(seen.core_c[seen.now]) == pytest.approx(90.0, abs=1.0)


def test_a_reading_in_trays_narrows_the_ways() -> None:
    lines = (*LAMB_OUT, ("14:20", "Tomos", chilled(depth_cm=4, method="ice")))
    before, _ = made(lines, "14:56")
    after, _ = made((*lines, ("14:55", "Tomos", core("lamb", 30))), "14:56")
    when = index(after, "15:20")
    assert np.ptp(after.core_c[when]) < np.ptp(before.core_c[index(before, "15:20")])


def test_equal_minutes_of_a_probe_history_match_the_closed_form() -> None:
    """Straight rise 60 to 85 degC in 120 min: 1562.7 equivalent minutes (closed form, row leth-ramp-60-85-120)."""
    at_s = np.linspace(0, 7200, 61)
    lanes = np.repeat(np.linspace(60, 85, 61)[:, None], 5, axis=1)
    assert lethality.equivalent_min(at_s, lanes)[-1] == pytest.approx(1562.734, rel=1e-3)


def test_cooked_is_judged_at_the_cool_edge() -> None:
    seen, _ = made(LAMB, "10:05", kitchen={"lamb": [("10:05", 66, 8), ("14:00", 88, 3)]})
    assert not meters.cooked(seen).reached
    later, _ = made((*LAMB, ("13:20", "Idris", core("lamb", 91))), "13:30")
    assert meters.cooked(later).reached
    assert meters.cooked(later).probed


def test_clock_of_holding_starts_no_later_than_the_reading_that_shows_it() -> None:
    seen, _ = made((*STEW, ("14:40", "Bea", core("stew", 60))), "15:00", "stew")
    held = meters.hold_clock(seen, pack("uk"))
    assert held is not None
    assert at("14:10").timestamp() < held.since_s <= at("14:40").timestamp()
    assert held.measured


def test_clock_of_holding_does_not_run_before_food_was_cooked() -> None:
    seen, _ = made((("08:30", "Idris", load("lamb")), ("08:45", "Idris", into("lamb"))), "08:50")
    assert meters.hold_clock(seen, pack("uk")) is None


def test_times_add_up_in_australia_and_end_in_england() -> None:
    """AU/NZ 2 h / 4 h: times add up. England: one period, not restarted."""
    lines = (*LAMB_OUT, ("13:50", "Bea", core("lamb", 56)), ("14:20", "Bea", core("lamb", 55)),
             ("14:30", "Bea", {"is": "store", "place": "hot_hold", "celsius": 72, "dish": "lamb"}),
             ("15:00", "Bea", core("lamb", 68)), ("15:30", "Bea", core("lamb", 57)))
    seen, _ = made(lines, "15:31")
    anz, uk = meters.hold_clock(seen, pack("anz")), meters.hold_clock(seen, pack("uk"))
    assert anz is not None
    assert uk is not None
    assert uk.again
    assert uk.use_by_s == uk.since_s
    spent = anz.since_s + 240 * 60 - anz.use_by_s
    assert 25 * 60 < spent < 90 * 60


def test_coolest_hour_is_the_lowest_of_the_night() -> None:
    drawn = {"beans": [("20:50", 90, 2), ("+05:00", 60, 5), ("+07:00", 70, 5)]}
    seen, now = made(NIGHT, "20:50", "beans", kitchen=drawn)
    found = meters.coolest_hour(seen, pack("uk"), now.now.timestamp(), at("+07:00").timestamp())
    # The forecast of eight hours ends at 04:50, so the hour before that is the coolest in sight.
    assert found is not None
    assert found.at_s >= at("+04:00").timestamp()
    assert found.cool_c < found.mid_c < found.warm_c


def test_growth_counts_from_the_last_full_heat() -> None:
    warm = (*STEW, ("14:11", "Bea", core("stew", 90)), ("16:00", "Bea", core("stew", 45)),
            ("18:00", "Bea", core("stew", 38)))
    seen, _ = made(warm, "18:00", "stew")
    before = meters.grown(seen)
    assert before.mid > 1.0
    # A band of a log on either side at the least (reference, section 6.1).
    assert before.low <= max(0.0, before.mid - 1.0)
    assert before.high >= before.mid + 1.0
    boiled = (*warm, ("18:05", "Bea", {"is": "reheat", "act": "start", "dish": "stew"}),
              ("18:40", "Bea", core("stew", 95)))
    again, _ = made(boiled, "18:45", "stew")
    assert meters.grown(again).mid < 0.1


def test_raw_meat_set_aside_is_not_taken_for_cooked() -> None:
    seen, _ = made((("09:00", "Idris", load("lamb")), ("09:10", "Idris", stage("lamb", "aside"))), "10:00")
    assert not meters.cooked(seen).reached
    assert seen.now_c(0.95) < 30.0


@settings(max_examples=30, deadline=None)
@given(depth=st.floats(1.0, 12.0), start=st.floats(40.0, 95.0), method=st.sampled_from(sorted(chill.METHODS)))
def test_chilling_never_warms_and_never_passes_its_surroundings(depth: float, start: float, method: str) -> None:
    """Second law: the warmest point falls unless it was just stirred, and stays above the coldest surroundings."""
    times = np.arange(0.0, 6 * 3600.0, 300.0)
    got = chill.curves(chill.tray(depth), chill.METHODS[method], start, times)
    if chill.METHODS[method].stir_s is None:
        assert (np.diff(got, axis=0) <= 1e-9).all()
    assert got.max() <= start
    assert got.min() >= min(chill.METHODS[method].sink_c - 5.0, chill.METHODS[method].top_c or 99.0)
    assert (np.diff(got, axis=1) >= -0.3).all()


@settings(max_examples=40, deadline=None)
@given(temps=st.lists(st.floats(0.0, 100.0), min_size=2, max_size=12), cut=st.floats(0.05, 0.95))
def test_equivalent_minutes_do_not_depend_on_where_a_history_is_cut(temps: list[float], cut: float) -> None:
    at_s = np.arange(len(temps)) * 600.0
    whole = lethality.equivalent_min(at_s, np.array(temps))
    split_s = cut * at_s[-1]
    fine = np.unique(np.append(at_s, split_s))
    parted = lethality.equivalent_min(fine, np.interp(fine, at_s, temps))
    assert parted[-1] == pytest.approx(whole[-1], rel=1e-9, abs=1e-9)
    assert (np.diff(whole) >= 0.0).all()


@pytest.mark.parametrize("lines", [LAMB_OUT, STEW, NIGHT], ids=["lamb", "stew", "night"])
def test_the_same_facts_give_the_same_bytes(lines: tuple) -> None:
    name = lines[0][2].get("dish") or "beans"
    first, second = (made(lines, "22:00", name)[0] for _ in range(2))
    assert first.core_c.tobytes() == second.core_c.tobytes()


@pytest.mark.parametrize(("region", "passes"), [("us", ("13:40", "14:00")), ("uk", ("13:20", "13:20"))])
def test_the_chill_clock_starts_where_the_rule_starts_it(region: str, passes: tuple[str, str]) -> None:
    """FDA Food Code 3-501.14 (read as Delaware's) counts from 57 degC; the UK trainers' 90 min from off the heat."""
    lines = (*STEW[:3], ("13:15", "Bea", {"is": "pot", "act": "out", "dish": "stew"}), ("13:20", "Bea", core("stew",
             85)),
             ("13:20", "Bea", chilled(dish="stew", depth_cm=8, method="fridge")), ("13:40", "Bea", core("stew", 62)),
             ("14:00", "Bea", core("stew", 52)))
    seen, _ = made(lines, "14:00", "stew", region=region)
    span = seen.story.last
    assert span is not None
    first = meters.chill_stages(seen, pack(region), span)[0]
    allowed_s = pack(region).chill[0].within_min * 60.0
    assert at(passes[0]).timestamp() <= first.by_s - allowed_s <= at(passes[1]).timestamp()


def test_a_chill_that_was_probed_slower_than_any_way_goes_on_as_slowly() -> None:
    """Most cooling curves are log-linear (J Environ Health 2022, two points give the rate): 82 to 58 in 80 min above 2
    degC is 0.116 a hour, so that 21 is not there for another three hours."""
    lines = (*STEW, ("14:25", "Bea", core("stew", 82)),
             ("14:25", "Bea", chilled(dish="stew", litres=12, method="ice")), ("15:45", "Bea", core("stew", 58)))
    seen, _ = made(lines, "15:45", "stew", region="us")
    ahead = seen.at_s >= at("15:45").timestamp()
    reached = seen.at_s[ahead][np.argmax(seen.edge(0.5)[ahead] < 21.0)]
    rate_h = np.log10((82 - 2) / (58 - 2)) / (80 / 60)
    two_points_s = np.log10((58 - 2) / (21 - 2)) / rate_h * 3600.0
    assert reached - at("15:45").timestamp() == pytest.approx(two_points_s, rel=0.35)
