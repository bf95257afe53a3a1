"""Units, numbers and clock times against definitions outside the project."""

from __future__ import annotations

from datetime import datetime, timedelta
from zoneinfo import ZoneInfo

import pytest

from bot.reading import clock_times, numbers, units
from bot.reading.clock_times import Ago, Clock


@pytest.mark.parametrize(
    ("value", "unit", "kind", "wanted"),
    [
        (1, "lb", "kg", 0.454),  # international pound: 0.45359237 kg exactly (yard and pound agreement, 1959)
        (1, "oz", "kg", 0.028),  # 1/16 lb
        (1, "stone", "kg", 6.35),  # 14 lb
        (1, "pint", "litre", 0.568),  # imperial pint: 568.26125 ml (UK Weights and Measures Act 1985)
        (1, "gallon", "litre", 4.546),  # imperial gallon: 4.54609 l exactly (the same act)
        (1, "quart", "litre", 0.946),  # US liquid quart: 0.946352946 l (NIST Handbook 44, appendix C)
        (1, "inch", "cm", 2.54),  # exactly (1959 agreement)
        (1, "foot", "cm", 30.48),
        (250, "g", "kg", 0.25),
        (300, "ml", "litre", 0.3),
        (2, "hours", "minute", 120),
    ],
)
def test_units_are_converted_as_defined(value, unit, kind, wanted):
    assert units.convert(value, unit) == (kind, pytest.approx(wanted, abs=5e-4))


@pytest.mark.parametrize(
    ("fahrenheit", "celsius"),
    [
        (32, 0),
        (212, 100),
        (-40, -40),  # definition of the scale (NIST SP 811, B.8)
        (350, 176.7),
        (400, 204.4),
        (165, 73.9),
        (135, 57.2),  # 165 and 135 F: FDA Food Code (74 and 57 C as rounded there)
    ],
)
def test_fahrenheit_is_converted_to_a_tenth(fahrenheit, celsius):
    assert units.fahrenheit(fahrenheit) == pytest.approx(celsius, abs=0.05)


@pytest.mark.parametrize(
    ("words", "value"),
    [
        ("one seventy five", 175),
        ("two ten", 210),
        ("one oh five", 105),
        ("a hundred", None),
        ("one hundred and eighty", 180),
        ("two hundred", 200),
        ("ninety nine", 99),
        ("twelve", 12),
        ("three fifty", 350),
        ("one point five", 1.5),
        ("floor", None),
    ],
)
def test_numbers_in_words(words, value):
    found = numbers.from_words(words.split())
    assert (found is None and value is None) or (found is not None and found[1].value == value)


@pytest.mark.parametrize(
    ("text", "value"), [("155,5", 155.5), ("1,200", 1200), ("9.06", 9.06), ("180", 180), ("3.5", 3.5)]
)
def test_numbers_in_digits(text, value):
    found = numbers.from_digits(text)
    assert found is not None
    assert found.value == value


NOW = datetime(2026, 5, 16, 12, 25, tzinfo=ZoneInfo("Europe/London"))


@pytest.mark.parametrize(
    ("clock", "wanted"),
    [
        (Clock(10, 30), "10:30"),
        (Clock(1, 0), "01:00"),
        (Clock(12, 10), "12:10"),
        (Clock(11, 50), "11:50"),
        (Clock(None, 10), "12:10"),
        (Clock(None, 45), "11:45"),
        (Clock(13, 0, True), "13:00"),
        (Ago(25), "12:00"),
    ],
)
def test_a_late_report_is_the_last_such_time(clock, wanted):
    assert clock_times.past(clock, NOW) == wanted


@pytest.mark.parametrize(
    ("clock", "wanted"),
    [
        (Clock(3, 0), "15:00"),
        (Clock(1, 30), "13:30"),
        (Clock(9, 0), "21:00"),
        (Clock(12, 30), "12:30"),
        (Ago(60), "13:25"),
    ],
)
def test_a_question_looks_ahead(clock, wanted):
    assert clock_times.coming(clock, NOW) == wanted


@pytest.mark.parametrize(
    ("now", "clock", "wanted"),
    [
        (17, Clock(12, 30), "12:30"),
        (16, Clock(1, 0), "13:00"),
        (8, Clock(7, 0), "19:00"),
        (8, Clock(1, 30), "13:30"),
    ],
)
def test_meals_are_eaten_by_day(now, clock, wanted):
    assert clock_times.coming_meal(clock, NOW.replace(hour=now, minute=6)) == wanted


@pytest.mark.parametrize("minutes", range(0, 1440, 7))
def test_past_and_coming_are_a_day_apart_at_most(minutes):
    now = NOW.replace(hour=0, minute=0) + timedelta(minutes=minutes)
    for said in (Clock(10, 30), Clock(None, 10), Clock(23, 5, True)):
        assert clock_times.past(said, now) in {
            f"{h:02}:{m:02}" for h, m in (divmod(each, 60) for each in said.day_minutes())
        }
        assert clock_times.coming(said, now) in {
            f"{h:02}:{m:02}" for h, m in (divmod(each, 60) for each in said.day_minutes())
        }
