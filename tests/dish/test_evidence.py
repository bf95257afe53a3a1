"""Words and probes move belief the way they should. The order of the words is common practice, no source."""
from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from skills.dish import evidence, model
from tests.dish.helpers import ZERO_K, cold, medians


def at_progress(*values: float) -> tuple[model.DishState, model.DishParameters]:
    parameters = medians(lanes=len(values))
    state = cold(parameters)
    return replace(state, progress=np.array(values)[:, None] + np.zeros_like(state.progress)), parameters


def test_each_word_fits_its_own_stage_best() -> None:
    state, parameters = at_progress(0.3, 1.1, 1.6, 3.0)
    assert evidence.tender_word_chances(state, parameters).argmax(axis=1).tolist() == [0, 1, 2, 3]


def test_tough_speaks_against_tender_and_the_other_way_round() -> None:
    state, parameters = at_progress(0.3, 1.6)
    tough = evidence.check_log_likelihood(state, parameters, tender="tough")
    tender = evidence.check_log_likelihood(state, parameters, tender="tender")
    assert tough[0] > tough[1] + 1.0
    assert tender[1] > tender[0] + 1.0


def test_a_simmer_says_how_near_the_boil_the_liquor_is() -> None:
    parameters = medians(lanes=3)
    below_k = np.array([25.0, 4.0, 0.0])
    state = replace(cold(parameters), liquid_k=parameters.boiling_k - below_k)
    none, gentle, hard = (evidence.check_log_likelihood(state, parameters, simmer=word)
                          for word in evidence.SIMMER_WORDS)
    assert none.argmax() == 0
    assert gentle.argmax() == 1
    assert hard.argmax() == 2


def test_low_speaks_for_the_emptier_pot() -> None:
    parameters = medians(lanes=2)
    state = replace(cold(parameters), liquid_kg=np.array([0.1, 1.0]))
    low = evidence.check_log_likelihood(state, parameters, liquid="low")
    assert low[0] > low[1] + 1.0


@pytest.mark.parametrize("chances", [evidence.tender_word_chances, evidence.simmer_word_chances,
                                     evidence.liquid_word_chances])
def test_chances_of_all_words_add_up_to_one(chances: object) -> None:
    """Law of total probability."""
    rng = np.random.default_rng(1)
    parameters = medians(lanes=50)
    state = replace(cold(parameters), progress=rng.uniform(0.0, 3.0, (50, model.CELLS)),
                    liquid_k=parameters.boiling_k - rng.uniform(0.0, 40.0, 50), liquid_kg=rng.uniform(0.0, 2.0, 50))
    assert callable(chances)
    table = chances(state, parameters)
    assert np.abs(table.sum(axis=1) - 1.0).max() < 1e-12
    assert (table >= -1e-15).all()


def test_saying_nothing_says_nothing() -> None:
    state, parameters = at_progress(0.2, 2.0)
    assert evidence.check_log_likelihood(state, parameters).tolist() == [0.0, 0.0]


def test_no_word_rules_a_lane_out_for_good() -> None:
    """People misjudge and mistype: no word is worth more than about 5 in log likelihood."""
    state, parameters = at_progress(0.0, 0.01, 1.0, 5.0)
    for word in evidence.TENDER_WORDS:
        assert evidence.check_log_likelihood(state, parameters, tender=word).min() > -5.2


def test_the_score_rises_with_progress() -> None:
    state, parameters = at_progress(0.01, 0.1, 1.0, 2.0)
    assert (np.diff(evidence.tenderness_score(state, parameters)) > 0.5).all()


def test_probes_read_the_middle_and_the_liquor() -> None:
    parameters = medians()
    state = model.initial_state(parameters, ZERO_K + 60.0, ZERO_K + 95.0)
    assert evidence.core_observation(state, parameters)[0][0] == pytest.approx(ZERO_K + 60.0)
    assert evidence.liquid_observation(state)[0][0] == pytest.approx(ZERO_K + 95.0)
