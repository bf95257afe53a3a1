"""The figures of each region's rules against the texts that were read; each row names its own."""
from __future__ import annotations

import pytest

from skills.safety import cautions, first_aid, lethality
from skills.safety.packs import REGIONS, pack, rules_text
from tests.published.safety_rows import ROWS

MARKS = {"read", "read via", "memory", "practice"}


def expect(row_id: str) -> object:
    return ROWS[row_id]["expect"]


def test_uk_holding() -> None:
    uk = pack("uk")
    assert uk.hot_hold_c == expect("lim-uk-hot") == pack("scotland").hot_hold_c
    assert uk.value("use_by_min") == expect("lim-uk-hot-exempt") * 60
    assert uk.once
    assert uk.cold_hold_c == expect("lim-uk-cold")
    assert uk.value("cold_display_min") == expect("lim-uk-cold-exempt") * 60


def test_scottish_reheat() -> None:
    assert pack("scotland").value("reheat_c") == expect("lim-sco-reheat")
    assert pack("scotland").figures["reheat_c"].firm


def test_us_cooling_holding_and_reheating() -> None:
    us = pack("us")
    assert [mark.within_min / 60 for mark in us.chill] == expect("lim-us-cool")
    assert [(mark.from_c, mark.to_c) for mark in us.chill] == [(57.0, 21.0), (57.0, 5.0)]
    assert [us.hot_hold_c, us.value("roast_hold_c"), us.cold_hold_c] == expect("lim-us-hold")
    assert [us.value("reheat_c"), us.value("reheat_hold_s"), us.value("reheat_by_min") / 60] == expect("lim-us-reheat")
    assert us.value("first_heat_min") == expect("lim-us-noncont")
    assert [us.value("use_by_min") / 60, us.value("cold_start_use_by_min") / 60, us.value("cold_start_ceiling_c")] \
        == expect("lim-us-tphc")
    assert lethality.fsis_dwell_s(54.4) / 60 == expect("lim-us-roast-130")
    assert us.value("chill_by_min") == expect("us-2h") * 60


def test_australia_and_new_zealand() -> None:
    anz = pack("anz")
    first, second = anz.chill
    assert [first.within_min / 60, (second.within_min - first.within_min) / 60] == expect("lim-anz-cool")
    assert [anz.hot_hold_c, anz.cold_hold_c] == expect("lim-anz-hold")
    assert [anz.value("chill_by_min") / 60, anz.value("use_by_min") / 60] == expect("lim-anz-2h4h")
    assert not anz.once


def test_french_cooling() -> None:
    mark, = pack("eu").chill
    assert [mark.from_c, mark.to_c, mark.within_min / 60] == expect("lim-fr-cool")


def test_allergen_lists() -> None:
    assert len(pack("eu").allergens) == len(pack("uk").allergens) == expect("lim-eu-allergens")
    assert len(pack("us").allergens) == expect("lim-us-allergens")
    assert pack("uk").value("sulphite_mg_kg") == expect("lim-so2")


def test_hazard_figures() -> None:
    assert expect("haz-ash-days") == cautions.ASH_DAYS
    assert expect("haz-ash-ft") == cautions.ASH_FT
    assert pytest.approx(cautions.ASH_FT * 0.3048, abs=0.1) == cautions.ASH_M
    assert expect("haz-burn-min") == first_aid.BURN_WATER_MIN
    assert expect("haz-flue") == cautions.FLUE_CLEARANCE_DIAMETERS
    assert expect("haz-lev-months") == cautions.EXTRACTION_MONTHS


@pytest.mark.parametrize("region", REGIONS)
def test_every_figure_has_a_source_and_a_mark_and_is_printed_with_both(region: str) -> None:
    rules = pack(region)
    text = rules_text(region)
    for figure in (*rules.figures.values(), *rules.chill):
        assert figure.mark in MARKS
        assert figure.source in text
        assert figure.words in text
    unsure = [figure for figure in (*rules.figures.values(), *rules.chill) if not figure.firm]
    assert text.count("CHECK LOCALLY") >= len(unsure) > 0


@pytest.mark.parametrize("region", REGIONS)
def test_what_was_not_read_is_never_named_as_a_bare_rule(region: str) -> None:
    rules = pack(region)
    for key, figure in rules.figures.items():
        assert rules.named(key).endswith("check locally") is not figure.firm
