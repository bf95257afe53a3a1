"""The chart: what is drawn is what was said and foreseen, and it can be read on a phone, in grey, by every eye."""
from __future__ import annotations

import io
import itertools
import struct
from dataclasses import replace
from datetime import datetime, timedelta
from zoneinfo import ZoneInfo

import matplotlib.colors
import pytest
from matplotlib.dates import date2num
from PIL import Image, ImageChops

from bot import chart
from bot.log import foreseen
from bot.talk import Answer

LONDON = ZoneInfo("Europe/London")
PHONE_PX = 390


@pytest.fixture(scope="module")
def drawn(kept):
    made = chart.figure(kept.lines, kept.school)
    made.draw_without_rendering()
    return made


@pytest.fixture(scope="module")
def live(kept):
    """The class at 11:31, still going on."""
    lines = [line for line in kept.lines if (line.message.at if isinstance(line, Answer) else line.at)
             <= datetime(2026, 5, 16, 11, 31, tzinfo=LONDON)]
    made = chart.figure(lines, kept.school)
    made.draw_without_rendering()
    return lines, made


def at(clock):
    hour, minute = map(int, clock.split(":"))
    return date2num(datetime(2026, 5, 16, hour, minute, tzinfo=LONDON).replace(tzinfo=None))


def lines_of(axes, label):
    return [line for line in axes.lines if line.get_label() == label]


def panel(drawn, begins):
    return next(axes for axes in drawn.axes if axes.get_title(loc="left").startswith(begins))


def test_it_shows_oven_pots_liquid_and_what_was_done(drawn):
    assert [axes.get_title(loc="left").split(",")[0] for axes in drawn.axes] == ["Dome", "Pots", "Liquid", "Done"]
    dome = panel(drawn, "Dome")
    for place in ("air", "floor", "ceiling"):
        assert lines_of(dome, place), place
        assert [each for each in dome.collections if each.get_label() == f"band {place}"], place
    assert lines_of(panel(drawn, "Pots"), "lamb core")
    assert lines_of(panel(drawn, "Liquid"), "lamb liquid")
    words = [text.get_text().strip() for text in panel(drawn, "Done").texts]
    for act in ("lit", "raked", "lamb in", "lamb tender", "lamb out", "served", "chill", "incident"):
        assert act in words


def test_every_reading_is_a_mark_at_its_time_and_a_doubted_one_is_a_cross(drawn):
    dome = panel(drawn, "Dome")
    marks = {(round(float(line.get_xdata()[0]), 6), float(line.get_ydata()[0])) for line in lines_of(dome, "reading")}
    assert marks == {(round(at(clock), 6), value) for clock, value in (
        ("07:00", 300.0), ("08:30", 210.0), ("08:30", 186.0), ("09:40", 199.0), ("09:40", 160.0), ("10:40", 184.0),
        ("10:40", 146.0), ("11:31", 137.0))}
    crosses = lines_of(dome, "reading not used")
    assert [(line.get_marker(), float(line.get_ydata()[0])) for line in crosses] == [("x", 290.0)]


def test_the_band_at_a_time_is_the_one_foreseen_an_hour_before(kept, drawn):
    made = list(foreseen.forecasts(kept.lines))
    shade = next(each for each in panel(drawn, "Dome").collections if each.get_label() == "band floor")
    corners = shade.get_paths()[0].vertices
    for clock in ("10:00", "11:00", "12:30"):
        moment = datetime(2026, 5, 16, *map(int, clock.split(":")), tzinfo=LONDON)
        stood = [each for each in made if each.at <= moment - timedelta(hours=1)][-1]
        low, _, high = stood.band("dome", "floor", moment)
        here = sorted({round(float(y), 3) for x, y in corners if abs(x - at(clock)) < 1e-6})
        assert here == [pytest.approx(low, abs=0.01), pytest.approx(high, abs=0.01)]


@pytest.mark.parametrize(("region", "cold", "hot"), [
    ("uk", 8, 63),      # Food Hygiene (Wales) Regulations 2006, Sch. 4 paras 2 and 6
    ("us", 5, 57),      # model Food Code 3-501.16
    ("anz", 5, 60),     # Standard 3.2.2
])
def test_the_growth_range_of_the_region_is_shaded(kept, region, cold, hot):
    made = chart.figure(kept.lines, replace(kept.school, region=region))
    shade = next(each for each in panel(made, "Pots").patches if each.get_label() == "growth range")
    assert (shade.get_y(), shade.get_y() + shade.get_height()) == (cold, hot)


def test_the_meal_is_a_line_through_every_panel(drawn):
    for axes in drawn.axes:
        assert [float(line.get_xdata()[0]) for line in lines_of(axes, "meal")] == [pytest.approx(at("14:00"))]
    assert any(text.get_text() == "meal 14:00" for text in drawn.axes[0].texts)


def test_a_class_that_ended_has_no_now_and_a_live_one_shows_what_is_to_come(drawn, live):
    made = live[1]
    assert not lines_of(drawn.axes[0], "now")
    assert [float(line.get_xdata()[0]) for line in lines_of(made.axes[0], "now")] == [pytest.approx(at("11:31"))]
    coming = next(each for each in made.axes[0].collections if each.get_label() == "band air to come")
    assert coming.get_paths()[0].vertices[:, 0].max() > at("13:00")
    assert lines_of(made.axes[0], "meal"), "the meal lies ahead and is in the picture"


def test_a_live_picture_says_when_a_dish_is_likely_tender_as_the_log_foresees_it(drawn, live):
    made = live[1]
    assert not lines_of(panel(drawn, "Done"), "tender to come"), "it was found tender"
    (bar,) = lines_of(panel(made, "Done"), "tender to come")
    kept = list(foreseen.forecasts(live[0]))[-1].data["dishes"]["lamb"]["tender"]
    due = [date2num(datetime.fromtimestamp(each, LONDON).replace(tzinfo=None)) for each in (kept[0], kept[-1])]
    assert list(bar.get_xdata()) == pytest.approx([max(due[0], at("11:31")), due[1]], abs=1e-4)
    assert any(text.get_text().strip() == "lamb tender" for text in panel(made, "Done").texts)


def test_each_place_differs_without_colour_by_dashes_and_mark():
    looks = list(chart.PLACES.values())
    assert len({str(look.dashes) for look in looks}) == len({look.mark for look in looks}) == 3
    assert len({look.hatch for look in looks}) == 3
    assert len({str(look.dashes) for look in chart.DISHES}) == len({look.mark for look in chart.DISHES}) == 3


def light(colour):
    """Relative luminance, WCAG 2.1."""
    parts = [each / 12.92 if each <= 0.03928 else ((each + 0.055) / 1.055) ** 2.4
             for each in matplotlib.colors.to_rgb(colour)]
    return 0.2126 * parts[0] + 0.7152 * parts[1] + 0.0722 * parts[2]


def test_the_colours_are_seen_on_white_and_told_apart_by_every_eye():
    """WCAG 2.1, 1.4.11: 3 to 1 for graphics. The three are of the set of Okabe and Ito (2008) for all colour sight."""
    okabe_ito = {"#000000", "#E69F00", "#56B4E9", "#009E73", "#F0E442", "#0072B2", "#D55E00", "#CC79A7"}
    for look in (*chart.PLACES.values(), *chart.DISHES):
        assert look.colour in okabe_ito
        assert 1.05 / (light(look.colour) + 0.05) >= 3.0


def test_at_phone_width_no_word_is_smaller_than_ten_pixels(drawn):
    shrunk = PHONE_PX / (chart.WIDTH_IN * chart.DPI)
    sizes = [text.get_fontsize() * chart.DPI / 72.0 * shrunk for axes in drawn.axes
             for text in (*axes.texts, *axes.get_xticklabels(), *axes.get_yticklabels(), axes.title, axes.xaxis.label)]
    assert min(sizes) >= 10.0


@pytest.mark.parametrize("which", ["drawn", "live"])
def test_no_words_of_what_was_done_lie_on_others_or_outside(request, which):
    made = request.getfixturevalue(which)
    made = made[1] if isinstance(made, tuple) else made
    boxes = [text.get_window_extent() for text in panel(made, "Done").texts if text.get_label() == "act"]
    for one, other in itertools.combinations(boxes, 2):
        assert not (one.x0 < other.x1 - 2 and other.x0 < one.x1 - 2 and one.y0 < other.y1 - 2
                    and other.y0 < one.y1 - 2)
    assert all(box.x0 >= 0 and box.x1 <= made.bbox.x1 for box in boxes)


def test_the_png_is_a_phones_width_and_the_same_each_time(kept):
    """PNG specification: width is the big-endian number at offset 16. The rasteriser may round an edge otherwise."""
    made, again = chart.png(kept.lines, kept.school), chart.png(kept.lines, kept.school)
    assert struct.unpack(">I", made[16:20])[0] == 1080
    one, other = (Image.open(io.BytesIO(each)).convert("RGB") for each in (made, again))
    assert max(high for _, high in ImageChops.difference(one, other).getextrema()) <= 8


def test_a_class_of_which_nothing_is_known_says_so(kept):
    made = chart.figure([], kept.school)
    assert made.texts[0].get_text().startswith("No oven was read")
    chat = [line for line in kept.lines if isinstance(line, Answer)][:1]
    assert not chart.figure(chat, kept.school).axes
