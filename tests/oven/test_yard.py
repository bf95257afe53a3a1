"""Wind, rain and colder air from when they are told: what they cost the brick, against the films of the handbooks."""
from __future__ import annotations

import numpy as np
import pytest

from skills.kitchen.kitchen import Kitchen
from skills.kitchen.setting import Setting
from skills.oven.yard import FAIR, WINDY_FILM, Yard
from tests.kitchen.days import at, dome_day, told

RADIATION_W_M2K = 6.0      # added to a free film of 5 to 8 on a dome at 30 to 50 degC (heat-transfer handbooks)


def outside_film_w_m2k(speed_m_s: float, slope: float, power: float) -> float:
    """DOE-2 model of outside surfaces (EnergyPlus Engineering Reference): free and forced film, a brick's roughness."""
    free, rough = 5.5, 1.52
    smooth = np.hypot(free, slope * speed_m_s ** power)
    return float(free + rough * (smooth - free) + RADIATION_W_M2K)


def test_wind_betters_the_outer_film_as_the_model_of_outside_walls_has_it() -> None:
    """Leeward 2.86 v^0.617 (EnergyPlus Engineering Reference), windward 3.26 v^0.89 (the same, from memory)."""
    calm = outside_film_w_m2k(0.0, 1.0, 1.0)
    assert outside_film_w_m2k(3.0, 2.86, 0.617) / calm <= WINDY_FILM <= outside_film_w_m2k(5.0, 3.26, 0.89) / calm


@pytest.fixture(scope="module")
def kitchen() -> Kitchen:
    return Kitchen(Setting(members=60, foreseeing=60))


def air_in_4_h(kitchen: Kitchen, *weather: dict[str, object]) -> np.ndarray:
    facts = [*dome_day(), told(240, **{"is": "weather", "celsius": 14})]
    facts += [told(500, index=place, **each) for place, each in enumerate(weather, start=1)]
    forecast = kitchen.believe(facts, at(510)).forecast(hours=4.0)
    found: np.ndarray = forecast.ovens["dome"].air_c[-1]
    return found


@pytest.mark.parametrize("weather", [{"is": "weather", "sky": "rain"}, {"is": "weather", "wind": "windy"},
                                     {"is": "weather", "celsius": 4}])
def test_rain_wind_and_colder_air_each_cost_the_oven_heat(kitchen: Kitchen, weather: dict[str, object]) -> None:
    colder_k = air_in_4_h(kitchen) - air_in_4_h(kitchen, weather)
    assert np.median(colder_k) > 0.1
    assert np.quantile(colder_k, 0.1) > 0.0


def test_weather_that_is_over_costs_nothing_more(kitchen: Kitchen) -> None:
    over = air_in_4_h(kitchen, {"is": "weather", "sky": "rain", "wind": "windy"},
                      {"is": "weather", "sky": "dry", "wind": "calm"})
    np.testing.assert_allclose(over, air_in_4_h(kitchen), atol=1e-6)


def test_what_is_not_spoken_of_stays() -> None:
    rain = FAIR.told(None, "rain", None)
    assert rain.told(-3.0, None, "windy") == Yard(-3.0, True, True)
    assert rain.told(None, "dry", None) == FAIR


def test_colder_air_of_the_evening_does_not_change_what_the_morning_was(kitchen: Kitchen) -> None:
    before = kitchen.believe([*dome_day(), told(240, **{"is": "weather", "celsius": 14})], at(300))
    after = kitchen.believe([*dome_day(), told(240, **{"is": "weather", "celsius": 14}),
                             told(299, **{"is": "weather", "celsius": 2})], at(300))
    now = [belief.forecast(hours=1.0).ovens["dome"].air_c[0] for belief in (before, after)]
    np.testing.assert_allclose(now[0], now[1], atol=1.0)
