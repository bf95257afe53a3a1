"""Firings side by side: figures worked out by hand from data/yard_day.txt, and how honestly the bands are judged."""
from __future__ import annotations

import json
import shutil
from datetime import UTC, datetime, timedelta

import pytest
from scipy.stats import binom

from bot import compare, compare_chart
from bot.cli import main
from bot.log import foreseen, outcomes
from bot.store import Store
from bot.talk import Answer, Message
from skills.vocabulary import Heard


@pytest.fixture
def folder(kept, tmp_path):
    return shutil.copytree(kept.folder, tmp_path / "copy")


@pytest.fixture(scope="module")
def made(kept):
    return compare.reckon(kept.row, kept.lines, kept.school)


def test_a_firing_has_its_wood_hours_and_fall_as_they_were_told(made):
    (firing,) = made.firings
    assert firing.oven == "dome"
    # 1.5 kg weighed and eight splits of 0.37 kg; lit 05:02, raked 07:50.
    assert firing.wood_kg == pytest.approx(1.5 + 8 * 0.37, abs=0.01)
    assert not firing.weighed
    assert firing.fire_h == pytest.approx(168 / 60)
    # Air 160 at 09:40 and 137 at 11:31; the doubted 290 at 09:10 does not count.
    air = firing.fall["air"]
    assert (air.first_c, air.last_c, air.hours) == (160, 137, pytest.approx(111 / 60))
    assert air.per_hour == pytest.approx(23 / (111 / 60))
    # Floor 199 at 09:40 and 184, corrected from 148, at 10:40.
    assert (firing.fall["floor"].first_c, firing.fall["floor"].last_c) == (199, 184)
    assert made.doubted >= 1


def test_the_heat_kept_is_less_than_the_wood_could_give(made):
    """Dry wood gives at most about 19 MJ/kg, net of no moisture at all (heat of combustion, handbooks, from memory)."""
    (firing,) = made.firings
    low, middle, high = firing.stored_mj
    assert 0 < low < middle < high
    assert 1.0 < firing.kept_mj_kg < 19.0


def test_no_forecast_is_judged_by_a_reading_that_it_may_have_known(kept):
    found = outcomes.hits(kept.rows.record, list(foreseen.forecasts(kept.lines)), foreseen.doubts(kept.lines))
    assert found
    for hit in found:
        assert timedelta(hours=hit.lead_h) <= hit.at - hit.made_at <= timedelta(hours=1.5 * hit.lead_h)
    assert not any(hit.read_c == 290 for hit in found)
    assert {hit.alone for hit in found} == {True, False}


@pytest.mark.parametrize("many", [20, 41, 100, 500, 3000])
def test_what_chance_alone_gives_is_the_binomial_of_the_library(many):
    """scipy.stats.binom, quantiles 0.025 and 0.975."""
    assert compare.chance(many, 0.9) == (binom.ppf(0.025, many, 0.9), binom.ppf(0.975, many, 0.9))


def scores(many, inside, **more):
    base = {"oven": "dome", "place": "air", "lead_h": 1.0, "alone": True, "error_c": 4.0, "stays_c": 12.0, **more}
    return compare.Figures(id="c", title="Day", day=None, firings=(), dishes=(), doubted=2, rows=tuple(
        compare.Score(**base, inside=n < inside) for n in range(many)))


def test_few_readings_are_called_too_few_and_many_are_held_against_chance():
    few = "\n".join(compare.calibration([scores(6, 6)]))
    assert "6 of 6 in the band (too few to judge by)" in few
    many = "\n".join(compare.calibration([scores(60, 40), scores(40, 38)]))
    assert "78 of 100 in the band (chance alone gives 84 to 95)" in many
    assert "known before: 4, and 12 had it stayed" in many
    assert "4 doubted readings left out" in many
    assert "hang together" in many
    assert "no reading came" in "\n".join(compare.calibration([scores(0, 0)]))


def test_two_firings_are_told_apart_in_words(made):
    hotter = made.model_copy(update={"id": "d", "title": "Other", "firings": tuple(firing.model_copy(update={
        "stored_mj": tuple(2 * each for each in firing.stored_mj),
        "fall": {"air": compare.Fall(first_c=200, last_c=160, hours=2.0)}}) for firing in made.firings)})
    words = " ".join(compare.words("dome", [made, hotter]))
    assert "MJ a kg more in Other" in words
    assert "Its air fell 20 an hour from 200 in Other, 16 May, 12 from 160 in Yard day, 16 May" in words
    assert "no two firings" in " ".join(compare.words("dome", [made]))
    assert [row[0] for row in compare.table("dome", [made, hotter])] == ["Yard day, 16 May", "Other, 16 May"]


def test_figures_are_reckoned_once_and_again_after_more_talk(folder, monkeypatch):
    store = Store.open(folder)
    first = compare.figures_of(store, store.classes())
    with monkeypatch.context() as patch:
        patch.setattr(compare, "reckon", None)
        assert compare.figures_of(store, store.classes()) == first
    at = datetime(2026, 5, 16, 15, 0, tzinfo=UTC)
    late = Message("late", at, "Mara", "thanks all")
    store.take("yard_day", late, at)
    store.answer(store.classes()[0].room, Answer(late, store.classes()[0].given, Heard()))
    called = []
    monkeypatch.setattr(compare, "reckon", lambda row, *_: called.append(row.id) or first[0])
    compare.figures_of(store, store.classes())
    assert called == [first[0].id]
    store.close()


def test_the_command_says_it_in_words_json_and_a_picture(folder, capfdbinary, tmp_path):
    data = ["--data", str(folder)]
    assert main(["compare", "last", *data]) == 0
    said = capfdbinary.readouterr().out.decode()
    assert "Yard day, 16 May" in said
    assert "12 an hour (160 to 137 in 1." in said
    assert "All 1 classes" in said
    assert main(["compare", "--json", *data]) == 0
    assert json.loads(capfdbinary.readouterr().out)["classes"][0]["firings"][0]["oven"] == "dome"
    assert main(["compare", "--plot", "--out", str(tmp_path / "x.png"), *data]) == 0
    assert (tmp_path / "x.png").read_bytes().startswith(b"\x89PNG")
    assert main(["compare", "zz", *data]) == 2
    assert b"no class is called" in capfdbinary.readouterr().err


def test_the_picture_has_a_line_a_firing_of_what_was_read(made):
    drawn = compare_chart.figure([made, made.model_copy(update={"title": "Other"})])
    assert [axes.get_title(loc="left") for axes in drawn.axes] == ["Dome air, °C", "Dome floor, °C"]
    one, other = drawn.axes[0].lines
    assert list(one.get_ydata()) == [186, 160, 146, 137]
    assert (one.get_marker(), one.get_linestyle()) != (other.get_marker(), other.get_linestyle())
    assert compare_chart.figure([]).texts[0].get_text().startswith("No oven was read")


@pytest.mark.parametrize(("shift", "says"), [(0.5, "No clear difference in heat kept"), (2.0, "MJ a kg more in Other")])
def test_firings_differ_only_if_a_middle_lies_outside_the_others_doubt(made, shift, says):
    """shift: of the way from the middle of the heat to its upper end, of the whole range."""
    firing = made.firings[0]
    more = shift * (firing.stored_mj[2] - firing.stored_mj[1])
    other = made.model_copy(update={"title": "Other", "firings": (
        firing.model_copy(update={"stored_mj": tuple(each + more for each in firing.stored_mj)}),)})
    assert says in compare.words(firing.oven, [made, other])[0]
