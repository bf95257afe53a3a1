"""What a look at the pot says about each lane: words, the core probe, the heat of the liquor.

People judge with noise: limits between two words are soft, and any word is now and then the wrong one.
"""
from __future__ import annotations

import numpy as np

from skills.dish.model import WATER_KG_L, core_k, tender_fraction
from skills.dish.state import Array, DishParameters, DishState

TENDER_WORDS = ("tough", "giving", "tender", "falling")
SIMMER_WORDS = ("none", "gentle", "hard")
LIQUID_WORDS = ("low", "ok")

# Share of the meat that counts as tender at which a cook's word changes, and how soft that limit is (share). The words'
# order is common practice, no source; the limits are the makers' reading of a few simulated cooks and held wide.
_GIVING_FROM, _GIVING_SOFT = 0.40, 0.13
_TENDER_FROM, _TENDER_SOFT = 0.90, 0.05
_FALLING_FROM, _FALLING_SOFT = 0.60, 0.20     # [-] log progress of the slowest shell: 1.8 times what tender takes
# Kelvin under the boil at which bubbles stop rising, and at which they rise fast: common practice, no source.
_STILL_FROM_K, _STILL_SOFT_K = 7.0, 1.5
_HARD_UNDER_K, _HARD_SOFT_K = 0.8, 0.4
_HARD_WHEN_BOILING = 0.5                      # [-] a pot at the boil may tick over or gallop: the state does not tell
_LOW_L_KG, _LOW_SOFT = 0.13, 0.35             # liquor for each kg of meat that is called low; softness of its logarithm
_WET_KG, _WET_SOFT = 0.12, 0.5                # [kg] liquor in which a simmer can be seen; softness of its logarithm
_WRONG_WORD = 0.03                            # [-] share of words that mean nothing

# [K] Needle between hot and cold spots, meat cooled by the look, slow or cheap probes (common practice, no source).
CORE_SD_K = 3.5
LIQUID_SD_K = 2.5


def _above(value: Array, limit: float, soft: float) -> Array:
    share: Array = 1.0 / (1.0 + np.exp(-np.clip((value - limit) / (0.55 * soft), -40.0, 40.0)))
    return share


def tender_word_chances(state: DishState, parameters: DishParameters) -> Array:
    """(lanes, 4) [-]: chance of each of TENDER_WORDS from a cook who tries the dish now."""
    fraction = tender_fraction(state, parameters)
    slowest = np.log(np.maximum(state.progress.min(axis=1), 1e-9))
    giving = _above(fraction, _GIVING_FROM, _GIVING_SOFT)
    tender = giving * _above(fraction, _TENDER_FROM, _TENDER_SOFT)
    falling = tender * _above(slowest, _FALLING_FROM, _FALLING_SOFT) * (parameters.law == 0.0)
    return np.stack([1.0 - giving, giving - tender, tender - falling, falling], axis=1)


def seen_wet_log_likelihood(state: DishState) -> Array:
    """Log likelihood (lanes,) of bubbles having been seen: there is liquor for them to rise through."""
    wet = _above(np.log(np.maximum(state.liquid_kg, 1e-6)), float(np.log(_WET_KG)), _WET_SOFT)
    return np.asarray(np.log((1.0 - _WRONG_WORD) * wet + _WRONG_WORD))


def simmer_word_chances(state: DishState, parameters: DishParameters) -> Array:
    """(lanes, 3) [-]: chance of each of SIMMER_WORDS, of the liquor as it was before the lid came off."""
    under_k = parameters.boiling_k - state.liquid_k
    moving = _above(-under_k, -_STILL_FROM_K, _STILL_SOFT_K)
    hard = moving * _HARD_WHEN_BOILING * _above(-under_k, -_HARD_UNDER_K, _HARD_SOFT_K)
    return np.stack([1.0 - moving, moving - hard, hard], axis=1)


def liquid_word_chances(state: DishState, parameters: DishParameters) -> Array:
    """(lanes, 2) [-]: chance of each of LIQUID_WORDS."""
    litres_kg = state.liquid_kg / WATER_KG_L / parameters.meat_kg
    ok = _above(np.log(np.maximum(litres_kg, 1e-6)), float(np.log(_LOW_L_KG)), _LOW_SOFT)
    return np.stack([1.0 - ok, ok], axis=1)


def check_log_likelihood(state: DishState, parameters: DishParameters, tender: str | None = None,
                         simmer: str | None = None, liquid: str | None = None) -> Array:
    """Log likelihood (lanes,) of what was said after a look; None: nothing was said of it."""
    total = np.zeros(parameters.lanes)
    for said, words, chances in ((tender, TENDER_WORDS, tender_word_chances),
                                 (simmer, SIMMER_WORDS, simmer_word_chances),
                                 (liquid, LIQUID_WORDS, liquid_word_chances)):
        if said is not None:
            chance = chances(state, parameters)[:, words.index(said)]
            total = total + np.log((1.0 - _WRONG_WORD) * chance + _WRONG_WORD / len(words))
    return total


def tenderness_score(state: DishState, parameters: DishParameters) -> Array:
    """Log progress, averaged over the meat (lanes,): smooth all the way, so that words can be regressed on it."""
    logs = np.log(np.maximum(state.progress, 1e-6))
    score: Array = (parameters.shell_share * logs).sum(axis=1)
    return score


def core_observation(state: DishState, parameters: DishParameters) -> tuple[Array, float]:
    """What a probe in the middle should read (lanes,) [K], and the standard deviation of people's readings [K]."""
    return core_k(state, parameters), CORE_SD_K


def liquid_observation(state: DishState) -> tuple[Array, float]:
    """What a probe in the liquor should read (lanes,) [K], and the standard deviation of people's readings [K]."""
    return state.liquid_k, LIQUID_SD_K
