"""What is drawn from what was said."""
from __future__ import annotations

import numpy as np
import pytest

from skills.dish import model
from skills.dish.cuts import CUTS, find_cut, taken_for
from skills.dish.pans import find_pan
from skills.dish.prior import CutProfile, Said
from tests.dish.helpers import SHOULDER, ZERO_K, medians


@pytest.mark.parametrize(("said", "cut"), [
    ("lamb shanks", "shanks"), ("shin of beef", "shin"), ("ox cheek", "cheeks"), ("goat leg", "goat leg"),
    ("hogget shoulder", "hogget shoulder"), ("mutton shoulder", "mutton shoulder"), ("pork collar", "pork collar"),
    ("oxtail", "oxtail"), ("belly pork", "pork belly"), ("brisket", "brisket"), ("short ribs", "short ribs"),
    ("ribs", "short ribs"), ("white beans", "beans"), ("chickpeas", "chickpeas"), ("rice pudding", "rice pudding"),
    ("chicken thighs", "chicken pieces"), ("chicken", "whole bird"), ("carrots", "roots"),
    ("roast pork", "roast joint"),
    ("sourdough", "bread"), ("flatbreads", "flatbread"), ("lamb neck", "lamb neck"), ("pork shoulder", "pork shoulder"),
])
def test_the_words_of_the_room_find_their_cut(said: str, cut: str) -> None:
    assert find_cut(said)[0].name == cut


def test_an_unknown_cut_is_treated_as_a_shoulder_and_says_so() -> None:
    strange = Said(name="surprise", cut="yak hump", meat_kg=3.0)
    assert model.treated_as(strange) == "lamb shoulder"
    assert not find_cut("yak hump")[1]
    assert model.draw(np.random.default_rng(0), 5, strange).treated_as == "lamb shoulder"


def test_the_dish_s_name_serves_if_no_cut_was_said() -> None:
    assert model.treated_as(Said(name="hogget")) == "hogget shoulder"
    assert model.treated_as(Said(name="beans", cut=None)) == "beans"


def test_beans_and_bread_never_go_through_collagen() -> None:
    for cut in CUTS:
        if cut.name in ("beans", "chickpeas", "lentils", "roots", "potatoes", "rice pudding", "custard", "bread",
                        "flatbread"):
            assert cut.finish.name != "collagen", cut.name


@pytest.mark.parametrize("finish", dict.fromkeys(cut.finish for cut in CUTS), ids=lambda finish: finish.name)
def test_each_finish_says_where_its_figures_come_from(finish: object) -> None:
    source = str(getattr(finish, "source", ""))
    marks = ("common practice, no source", "from memory", "Food Code", "UK cooking guidance", "arXiv")
    assert any(mark in source for mark in marks)


def test_what_was_not_said_is_drawn_wider() -> None:
    rng = np.random.default_rng(2)
    weighed = model.draw(rng, 2000, SHOULDER)
    guessed = model.draw(rng, 2000, Said(name="lamb"))
    for name in ("meat_kg", "liquid_start_kg", "pot_capacity_j_k"):
        wide, narrow = (np.std(np.log(getattr(each, name))) for each in (guessed, weighed))
        assert wide > 1.3 * narrow, name


def test_an_unknown_animal_is_drawn_wider_than_a_known_one() -> None:
    known = model.draw(np.random.default_rng(2), 2000, SHOULDER)
    strange = model.draw(np.random.default_rng(2), 2000, Said(cut="yak hump", meat_kg=3.0, liquid_l=1.0, pan="iron"))
    assert np.std(np.log(strange.rate_1_s)) > 1.2 * np.std(np.log(known.rate_1_s))


def test_a_profile_of_earlier_classes_moves_and_narrows_the_rate() -> None:
    plain = model.draw(np.random.default_rng(3), 2000, SHOULDER)
    taught = model.draw(np.random.default_rng(3), 2000, SHOULDER, profile=CutProfile(log_rate=0.3, spread=0.1))
    assert np.median(taught.rate_1_s / plain.rate_1_s) == pytest.approx(np.exp(0.3), rel=0.05)
    assert np.std(np.log(taught.rate_1_s)) < 0.6 * np.std(np.log(plain.rate_1_s))


def test_the_same_seed_draws_the_same_dish() -> None:
    first, second = (model.draw(np.random.default_rng(7), 30, SHOULDER) for _ in range(2))
    assert model.parameter_vector(first).tobytes() == model.parameter_vector(second).tobytes()


def test_a_change_of_one_word_leaves_the_other_draws_alone() -> None:
    iron = model.draw(np.random.default_rng(7), 30, SHOULDER)
    clay = model.draw(np.random.default_rng(7), 30, Said(cut="lamb shoulder", meat_kg=3.0, liquid_l=1.0, pan="clay"))
    assert np.array_equal(iron.rate_1_s, clay.rate_1_s)
    assert np.array_equal(iron.half_thickness_m, clay.half_thickness_m)


def test_water_boils_cooler_at_the_school_on_the_hill() -> None:
    """1.66 K lower at 500 m: tests/published/test_water_boiling.py."""
    down, up = medians(altitude_m=0.0), medians(altitude_m=500.0)
    assert (down.boiling_k - up.boiling_k)[0] == pytest.approx(99.974 - 98.313, abs=0.01)
    assert model.initial_state(up, ZERO_K + 20.0, ZERO_K + 100.0).liquid_k[0] <= up.boiling_k[0]


@pytest.mark.parametrize("cut", CUTS, ids=lambda cut: cut.name)
def test_every_cut_has_sizes_that_can_be(cut: object) -> None:
    """A piece is between 2 mm and 20 cm thick, and all of it fits a pot that a person can lift."""
    parameters = medians(Said(cut=str(getattr(cut, "name", ""))))
    assert parameters.treated_as == getattr(cut, "name", "")
    assert 0.001 < parameters.half_thickness_m[0] < 0.1
    assert 0.005 < parameters.base_area_m2[0] < 0.15
    assert parameters.laid[0] == 1.0 or 0.02 < parameters.pot_area_m2[0] < 0.6
    assert np.abs(parameters.shell_share.sum(axis=1) - 1.0).max() < 1e-12


@pytest.mark.parametrize(("said", "pan"), [
    ("iron pot", "cast iron"), ("cast iron", "cast iron"), ("clay pot", "clay"),
    ("the big enamel roaster", "enamelled steel"),
    ("stainless", "steel"), ("roasting tin", "open tin"), (None, "cast iron"), ("pot", "cast iron"),
])
def test_the_words_for_pans_are_found(said: str | None, pan: str) -> None:
    assert find_pan(said)[0].name == pan


@pytest.mark.parametrize(("said", "guess"), [
    (Said(name="yak", cut="yak"), "lamb shoulder"), (Said(name="yak", cut="yak shoulder"), "lamb shoulder"),
    (Said(name="zebra", cut="zebra shanks"), "shanks"), (Said(name="lamb", cut="lamb shoulder"), None),
    (Said(name="shoulder", cut="big boned shoulder"), None), (Said(name="shin", cut="shin of beef"), None),
    (Said(name="beans", cut="white beans"), None), (Said(name="ribs"), None),
])
def test_what_the_table_does_not_name_says_what_it_is_taken_for(said: Said, guess: str | None) -> None:
    assert taken_for(said) == guess
