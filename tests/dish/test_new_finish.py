"""A new finish is one entry and the words for it: forecast, prompt and plan take it as they take the others."""
from __future__ import annotations

import pytest

from skills.dish import cuts, heats
from skills.dish.cuts import Cut
from skills.dish.finishes import Finish
from skills.physics.food import Composition
from skills.planning.heats import heat_of
from tests.dish.room import SCHOOL_DAY, play

# Invented: it is done at 88 degC in the middle.
CHEESE = Finish("cheese", "core", heats.PUDDING, "Invented for this test.", target_c=88.0, done="molten",
                trial="press")
WHEEL = Cut("cheese wheel", ("wheel", "cheese wheel"), Composition(0.45, 0.22, 0.28, 0.02, ash=0.03), CHEESE, 1.0,
            slender=2.0)


def test_an_invented_finish_is_forecast_asked_and_planned_from_its_entry_alone(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(cuts, "CUTS", (*cuts.CUTS, WHEEL))
    played = play(SCHOOL_DAY, "08:34 Tomos: dome probe 217 air 196\n08:38 Tomos: 1 kg cheese wheel in a tin",
                  "08:45 Tomos: wheel in the dome\n08:48 Mara: when will the wheel be done?\n11:30 Mara: hello all")
    assert "molten" in played.replies["08:48"]
    assert [each for each in played.prompts_of("ready") if "press the wheel" in each.text]
    assert heat_of("wheel")[0] is heats.PUDDING
