"""The page of the ovens, and profiles as files: what goes out comes back, and a bad file is one clear line."""
from __future__ import annotations

import json
from datetime import date

import numpy as np
import pytest

from bot.ovens import ProfileError, export_text, import_text, ovens_page
from skills.kitchen.setting import OvenProfile, Seen
from skills.oven.parameters import NAMES, OvenWords, prior


def learnt() -> dict[str, dict[str, object]]:
    mean, sd = prior(OvenWords(across_m=0.9, floor_m=0.06))
    profile = OvenProfile(name="dome", classes=2, unknowns=NAMES, mean=tuple(mean),
                          covariance=tuple(tuple(row) for row in np.diag(sd ** 2)),
                          seen=(Seen(day="2026-05-16", log_loss=float(np.log(0.05)), sd=0.2),
                                Seen(day="2026-05-23", log_loss=float(np.log(0.051)), sd=0.15)))
    return {"ovens": {"dome": profile.model_dump(mode="json")}, "cuts": {}}


def test_the_page_tells_size_fall_and_change_with_spread():
    page = ovens_page(learnt(), date(2026, 6, 1))
    assert page.startswith("dome: 2 classes, the last on 23 May\n")
    assert "90 (88 to 92) cm across" in page
    assert "at 180 it falls 8 an hour (7 to 10)" in page  # 165 K over the yard times 0.051, e to the 1.28 * 0.15
    assert "no change between classes" in page


def test_an_empty_folder_says_when_a_profile_comes():
    assert "when a class ends" in ovens_page({"ovens": {}, "cuts": {}}, date(2026, 6, 1))


def test_a_profile_that_goes_out_comes_back_the_same_under_any_name():
    text = export_text("dome", learnt())
    assert import_text("dome", text).model_dump(mode="json") == learnt()["ovens"]["dome"]
    assert import_text("big dome", text).name == "big dome"


def damaged(**changes) -> str:
    data = json.loads(export_text("dome", learnt()))
    data["profile"].update(changes.pop("profile", {}))
    data.update(changes)
    return json.dumps(data)


@pytest.mark.parametrize(("text", "says"), [
    ("not json", "not JSON"),
    ("[1, 2]", "not an oven profile"),
    (damaged(version=9), "version 9"),
    (damaged(profile={"classes": 0}), "damaged at 'classes'"),
    (damaged(profile={"unknowns": ["size"]}), "other unknowns"),
    (damaged(profile={"mean": [0.0]}), "not whole"),
    (damaged(profile={"covariance": [[-1.0] * len(NAMES)] * len(NAMES)}), "not whole"),
])
def test_a_bad_profile_file_is_one_line_that_says_what_to_do(text, says):
    with pytest.raises(ProfileError) as caught:
        import_text("dome", text)
    assert says in str(caught.value)
    assert "--export" in str(caught.value)
    assert "\n" not in str(caught.value)


def test_an_unknown_oven_is_told_with_those_that_are_known():
    with pytest.raises(ProfileError, match="known: dome"):
        export_text("barrel", learnt())
