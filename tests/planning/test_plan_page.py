"""The plan on paper and on phones: table, picture, calendar file, and the command that makes them."""

from __future__ import annotations

import itertools
from datetime import UTC, datetime, timedelta

import icalendar
import matplotlib.image
import pytest

from bot.cli import main
from bot.plan_page import acts_of, bars_of_plan, calendar, picture, table
from bot.rooms.house import House
from bot.store import Store
from bot.talk import Message, School
from skills.planning.course import FEED_EVERY_S
from skills.planning.curve import curve_of_plan
from tests.planning import helpers


@pytest.fixture(scope="module")
def made():
    return helpers.plan()


def test_the_table_begins_with_the_fire_and_ends_at_the_table(made):
    lines = table(acts_of(made), helpers.NOW).splitlines()
    assert lines[0].split() == ["what", "sure", "even"]
    assert lines[1].startswith("light")
    assert lines[-1].startswith("table")
    acts = acts_of(made)
    assert [act.at for act in acts] == sorted(act.at for act in acts)
    assert all(act.likely is None or act.likely >= act.at for act in acts)


def test_the_calendar_file_is_read_back_as_the_same_acts(made):
    """RFC 5545, by the parser of the library icalendar: required properties, UTC times, one alarm an event."""
    acts = acts_of(made)
    data = calendar(acts, "dome", made.eat, helpers.NOW)
    read = icalendar.Calendar.from_ical(data)
    assert read["VERSION"] == "2.0"
    assert read["PRODID"]
    events = list(read.walk("VEVENT"))
    begun = [(str(event["SUMMARY"]).removeprefix("Dome: "), event.decoded("DTSTART")) for event in events]
    assert [each for each in begun if each[0] != "feed"] == [
        (act.what, act.at.astimezone(UTC)) for act in acts if act.what != "feed"]
    assert len({str(event["UID"]) for event in events}) == len(events)
    for event in events:
        assert event.decoded("DTSTAMP") == helpers.NOW.astimezone(UTC)
        assert event.decoded("DTEND") > event.decoded("DTSTART")
        assert [alarm.decoded("TRIGGER") for alarm in event.walk("VALARM")] == [timedelta(minutes=-10)]
    # RFC 5545, 3.1: lines end in CRLF and hold at most 75 octets.
    assert all(len(line) <= 75 for line in data.split(b"\r\n"))
    assert data.count(b"\n") == data.count(b"\r\n")


def test_the_calendar_file_holds_every_act_and_every_feed(made):
    """Issue of the plan: light-up, feeds, ceiling clear, rake-out, settling, pot in, looks, out, rest, table."""
    acts = acts_of(made)
    events = list(icalendar.Calendar.from_ical(calendar(acts, "dome", made.eat, helpers.NOW)).walk("VEVENT"))
    assert {str(event["SUMMARY"]) for event in events} == {
        "Dome: light", "Dome: feed", "Dome: ceiling clear", "Dome: rake", "Dome: settle", "Dome: lamb: in",
        "Dome: lamb: look", "Dome: lamb: out", "Dome: lamb: rest", "Dome: table"}
    fed = [event.decoded("DTSTART") for event in events if str(event["SUMMARY"]) == "Dome: feed"]
    assert len(fed) > 3
    assert {after - before for before, after in itertools.pairwise(fed)} == {timedelta(seconds=FEED_EVERY_S)}
    light, rake = (next(act.at for act in acts if act.what == name) for name in ("light", "rake"))
    # Common practice, no source: nothing new goes on in the last forty minutes.
    assert light < fed[0]
    assert fed[-1] <= rake - timedelta(minutes=40)


def test_a_plan_made_again_replaces_its_events(made):
    first = icalendar.Calendar.from_ical(calendar(acts_of(made), "dome", made.eat, helpers.NOW))
    again = icalendar.Calendar.from_ical(calendar(acts_of(made), "dome", made.eat, helpers.NOW + timedelta(hours=1)))
    assert [str(each["UID"]) for each in first.walk("VEVENT")] == [str(each["UID"]) for each in again.walk("VEVENT")]


def test_the_curve_is_that_of_a_firing_and_falls_after_raking(made):
    curve = curve_of_plan(helpers.start(), made, helpers.wish())
    rake = made.row("rake").sure.timestamp()
    assert (curve.air_c[0] <= curve.air_c[1]).all()
    assert (curve.air_c[1] <= curve.air_c[2]).all()
    assert curve.floor_c[1].max() > 200.0
    later = curve.at_s > rake + 2 * 3600
    assert curve.air_c[1][later].max() < curve.air_c[1][~later].max()


def test_the_picture_is_as_wide_as_a_phone_shows_and_grey(made, tmp_path):
    curve = curve_of_plan(helpers.start(), made, helpers.wish())
    path = tmp_path / "plan.png"
    picture(curve, acts_of(made), bars_of_plan(made), "The dome", path)
    pixels = matplotlib.image.imread(path)
    height, width = pixels.shape[:2]
    assert 700 <= width <= 1200 < 1.7 * height
    assert abs(pixels[..., 0] - pixels[..., 1]).max() == 0.0
    assert abs(pixels[..., 0] - pixels[..., 2]).max() == 0.0


COMMAND = ["plan", "--eat", "13:30", "--oven", "the dome is 90 across, 6 cm floor brick, 10 of insulation", "--now",
           "16:00"]


def test_the_command_writes_table_and_calendar(capsys, tmp_path):
    told = [*COMMAND, "--dish", "3 kg lamb shoulder, litre of hot stock, iron pot", "--wood", "25", "--data",
            str(tmp_path / "none"), "--ics", str(tmp_path / "plan.ics"), "--guests", "14", "--avoid", "gluten"]
    assert main(told) == 0
    out = capsys.readouterr().out
    assert "For 14, a tenth over:" in out
    assert "1 avoids gluten" in out
    assert "Lamb shoulder in the dome" in out
    assert "20 % water (25 on a pin meter, dry basis)" in out
    assert icalendar.Calendar.from_ical((tmp_path / "plan.ics").read_bytes()).walk("VEVENT")


@pytest.mark.parametrize(
    ("more", "words"),
    [
        (["--eat", "25:30", "--dish", "lamb"], "is no time of day"),
        (["--dish", "lamb", "--odds", "always"], "are no odds to plan by"),
        (["--dish", "lamb", "--wood", "wet"], "is no moisture"),
        (["--dish", "lamb", "--guests", "0"], "0 guests"),
        (["--dish", "lamb", "--day", "2020-01-01"], "has passed"),
        (["--dish", "lamb", "--oven", "something else entirely"], "says no size that I can read"),
        ([], "What is cooking?"),
    ],
    ids=["time", "odds", "wood", "guests", "day", "oven", "dish"],
)
def test_a_mistake_on_the_command_line_is_one_line(capsys, tmp_path, more, words):
    assert main([*COMMAND, "--data", str(tmp_path / "none"), *more]) == 2
    captured = capsys.readouterr()
    assert captured.out == ""
    assert captured.err.count("\n") == 1
    assert words in captured.err


def test_what_is_to_dry_goes_in_when_the_heat_is_low(capsys, tmp_path):
    """50 to 90 degrees, hours after the pots (common practice, no source)."""
    told = [*COMMAND, "--dish", "3 kg lamb shoulder, litre of hot stock", "--dish", "2 kg plums to dry", "--data",
            str(tmp_path / "none"), "--table"]
    assert main(told) == 0
    acts = [line.split("  ")[0] for line in capsys.readouterr().out.splitlines()]
    assert acts.index("plums to dry: in") > acts.index("lamb shoulder: out")


def test_the_next_day_is_the_next_day(capsys, tmp_path):
    day = (datetime.now(UTC) + timedelta(days=3)).date().isoformat()
    told = [*COMMAND, "--dish", "loaves", "--data", str(tmp_path / "none"), "--day", day, "--table"]
    assert main(told) == 0
    assert "light" in capsys.readouterr().out


def test_the_command_plans_for_the_class_that_runs(capsys, tmp_path):
    # Five in the afternoon in the school's zone, at whatever hour this runs: a dish of the night is left out of a plan.
    now = datetime.now(UTC)
    ahead_h = (17 - now.hour + 12) % 24 - 12
    meal, school = "13:00", School(lead="Mara", seed=7, zone=f"Etc/GMT{-ahead_h:+d}")
    store = Store.open(tmp_path)
    store.set_school("yard", school)
    house = House(store, "yard", school)
    for row, text in enumerate((
            "the dome is 90 across, 6 cm floor brick, 10 cm dome, 10 of insulation. we fire it and rake it",
            f"class: shoulder day, 14 guests, eating at {meal}", "one guest no gluten",
            "3 kg lamb shoulder, litre of hot stock, iron pot", "2.4 kg loaves")):
        house.hear(Message(f"m{row}", now, "Mara", text), now)
    store.close()
    assert main(["plan", "--data", str(tmp_path)]) == 0
    out = capsys.readouterr().out
    assert out.startswith("2 dishes in the dome, eating ")
    for part in (meal, "shoulder: in", "loaves: in", "For 14, a tenth over:", "1 avoids gluten"):
        assert part in out
    assert main(["plan", "--data", str(tmp_path), "--dish", "rice pudding, 3 l milk", "--table"]) == 0
    out = capsys.readouterr().out
    assert "pudding: in" in out
    assert "shoulder" not in out
    assert main(["plan", "--data", str(tmp_path), "--alone"]) == 2
    assert "eating when?" in capsys.readouterr().err
