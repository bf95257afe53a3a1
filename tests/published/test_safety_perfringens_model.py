"""C. perfringens in cooked uncured meat (Food Microbiology 2011;28:791-795; RAKIP records 1157-1162)."""
from __future__ import annotations

from typing import Any

import numpy as np
import pytest

from skills.safety import growth
from tests.published.safety_rows import ROWS, ids

RATES = list(ids("mu-beef-", "mu-chicken-", "mu-pork-"))
STRAIGHT = [row_id for row_id in ids("g-") if not ROWS[row_id]["what"].startswith("OBSERVATION")
            and "times_h" in ROWS[row_id]["inputs"]]
DECAYS = [row_id for row_id in ids("g-") if not ROWS[row_id]["what"].startswith("OBSERVATION")
          and "segments_c" in ROWS[row_id]["inputs"]]


def straight(inputs: dict[str, Any]) -> float:
    at = np.array(inputs["times_h"]) * 3600.0
    return float(growth.growth_log10(at, np.array(inputs["core_temps_c"], dtype=float), inputs["meat"],
                                     inputs.get("q0"))[0])


def decays(segments_c: list[list[float]], hours: list[float], sink_c: float, meat: str, q0: float | None) -> float:
    """Each segment an exponential decay towards sink_c."""
    at, temp, begin = [0.0], [segments_c[0][0]], 0.0
    for (hot, cold), span in zip(segments_c, hours, strict=True):
        share = np.linspace(0.0, 1.0, 400)[1:]
        at += (begin + share * span * 3600.0).tolist()
        temp += (sink_c + (hot - sink_c) * ((cold - sink_c) / (hot - sink_c)) ** share).tolist()
        begin += span * 3600.0
    return float(growth.growth_log10(np.array(at), np.array(temp), meat, q0)[0])


@pytest.mark.parametrize("row_id", RATES)
def test_rate_at_a_temperature(row_id: str) -> None:
    row = ROWS[row_id]
    inputs, meat = row["inputs"], row_id.split("-")[1]
    model = growth.MEATS[meat]
    assert (model.b, model.t_min_c, model.c, model.t_max_c) == (
        inputs["b"], inputs["t_min_c"], inputs["c_per_c"], inputs["t_max_c"])
    assert float(growth.growth_rate(inputs["temp_c"], meat)) == pytest.approx(row["expect"], abs=row["tolerance"])


@pytest.mark.parametrize("row_id", ids("mu-max-"))
def test_highest_rate_and_where(row_id: str) -> None:
    row = ROWS[row_id]
    temps = np.linspace(5.0, 60.0, 5501)
    rates = growth.growth_rate(temps, row["inputs"]["meat"])
    got = [float(rates.max()), float(temps[rates.argmax()])]
    assert got[0] == pytest.approx(row["expect"][0], abs=row["tolerance"][0])
    assert got[1] == pytest.approx(row["expect"][1], abs=row["tolerance"][1])


@pytest.mark.parametrize("row_id", ids("lag-"))
def test_lag_at_forty(row_id: str) -> None:
    row = ROWS[row_id]
    inputs = row["inputs"]
    assert growth.MEATS[inputs["meat"]].q0 == inputs["q0"]
    assert growth.lag_h(inputs["temp_c"], inputs["meat"]) == pytest.approx(row["expect"], abs=row["tolerance"])


@pytest.mark.parametrize("row_id", [each for each in STRAIGHT if "cap" not in each])
def test_growth_on_straight_lines(row_id: str) -> None:
    row = ROWS[row_id]
    assert straight(row["inputs"]) == pytest.approx(row["expect"], abs=row["tolerance"])


@pytest.mark.parametrize("row_id", DECAYS)
def test_growth_on_exponential_decays(row_id: str) -> None:
    row = ROWS[row_id]
    inputs = row["inputs"]
    got = decays(inputs["segments_c"], inputs["segment_hours"], inputs["sink_temp_c"], inputs["meat"], inputs["q0"])
    assert got == pytest.approx(row["expect"], abs=row["tolerance"])


@pytest.mark.parametrize("row_id", ids("g-beef-cap"))
def test_growth_under_a_ceiling(row_id: str) -> None:
    row = ROWS[row_id]
    inputs = row["inputs"]
    steady = np.full(2, float(inputs["temp_c"]))
    rise = growth.growth_log10(np.array([0.0, inputs["hours"] * 3600.0]), steady, inputs["meat"], inputs["q0"])
    got = growth.with_ceiling(float(rise[0]), inputs["start_log10"], inputs["ceiling_log10"])
    assert got == pytest.approx(row["expect"], abs=row["tolerance"])


def test_generation_time_at_41() -> None:
    row = ROWS["gt-beef-41-model"]
    assert growth.generation_min(41.0) == pytest.approx(row["expect"], abs=row["tolerance"])


def test_a_long_stay_gives_a_number_and_not_an_overflow() -> None:
    week = growth.growth_log10(np.array([0.0, 7 * 86400.0]), np.array([45.0, 45.0]))
    assert np.isfinite(week[0])
    assert week[0] > 300.0
