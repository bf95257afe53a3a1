"""The two nights on which clocks change, in Europe/London (IANA time zone data: 29 March and 25 October 2026)."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bot import chart
from bot.engine import Room
from bot.talk import Answer, Message, School
from skills.instants import Instant

LONDON = ZoneInfo("Europe/London")
SPRING, AUTUMN = datetime(2026, 3, 28, 22, 0, tzinfo=LONDON), datetime(2026, 10, 24, 22, 0, tzinfo=LONDON)
NIGHTS = pytest.mark.parametrize("evening", [SPRING, AUTUMN], ids=["spring", "autumn"])


@NIGHTS
@given(minutes=st.integers(-600, 900), more=st.integers(0, 900))
def test_sums_differences_and_order_are_those_of_utc(evening, minutes, more):
    """Checked against the same sums in UTC, where no clock changes."""
    start = Instant.of(evening)
    one, other = start + timedelta(minutes=minutes), start + timedelta(minutes=minutes + more)
    assert one.astimezone(UTC) == evening.astimezone(UTC) + timedelta(minutes=minutes)
    if more % 1440 and (minutes + more) % 1440:   # whole days keep the face: they are another thing than hours
        assert other - one == timedelta(minutes=more)
        assert one < other
        assert one != other
    assert one.tzinfo is LONDON
    assert (one.hour, one.minute) == (lambda at: (at.hour, at.minute))(one.plain().astimezone(UTC).astimezone(LONDON))


@NIGHTS
def test_tomorrow_at_seven_is_at_seven(evening):
    assert f"{Instant.of(evening).replace(hour=7) + timedelta(days=1):%H:%M %d}" in ("07:00 29", "07:00 25")


class Night:
    """A room that talks through the night; times are real hours after 22:00."""

    def __init__(self, evening):
        self.room, self.evening, self.count, self.answers = Room("yard", School(lead="Mara", seed=7)), evening, 0, []

    def say(self, hours, text):
        self.count += 1
        at = (self.evening.astimezone(UTC) + timedelta(hours=hours)).astimezone(LONDON)
        self.answers.append(self.room.hear(Message(f"n{self.count}", at, "Mara", text)))
        return self.answers[-1]


def through(evening):
    night = Night(evening)
    night.say(0.0, "the dome is 90 across, 6 cm floor brick, 10 cm dome, 10 of insulation, probe 5 cm down")
    night.say(0.1, "lit the dome")
    night.say(0.9, "raked out, door on")
    night.say(1.0, "3 kg lamb shoulder, litre of hot stock, iron pot, lamb in")
    night.say(1.1, "dome air 165 floor 190")
    night.say(5.0, "dome air 150 floor 170")
    return night


@pytest.fixture(scope="module", params=[SPRING, AUTUMN], ids=["spring", "autumn"])
def night(request):
    return through(request.param)


def test_what_was_told_an_hour_apart_stands_an_hour_apart(night):
    facts = night.room.session.record.facts
    readings = [dated for dated in facts if dated.fact.is_ == "reading" and dated.fact.place == "air"]
    # 23:06 and, five real hours after ten, 04:00 in spring and 02:00 in autumn.
    assert readings[1].at - readings[0].at == timedelta(hours=3.9)
    assert f"{readings[1].at:%H:%M}" in ("04:00", "02:00")
    assert [dated.at for dated in readings] == sorted(dated.at for dated in readings)


def test_the_chart_has_no_hour_twice_and_its_axis_shows_the_clock(night):
    drawn = chart.figure([each for each in night.answers if isinstance(each, Answer)], School(lead="Mara", seed=7))
    axes = drawn.axes[0]
    (line,) = [each for each in axes.lines if each.get_label() == "air"][:1]
    xs = list(line.get_xdata())
    assert xs == sorted(xs)
    marks = [float(each.get_xdata()[0]) for each in axes.lines if "reading" in each.get_label()]
    assert (max(marks) - min(marks)) * 24.0 == pytest.approx(3.9, abs=0.02)
    label = drawn.axes[-1].xaxis.get_major_formatter()
    begin = min(marks)
    assert label(begin, None) == "23:06"
    assert label(begin + 3.9 / 24.0, None) in ("04:00", "02:00")
