"""What was told to be in a dish and is not is taken back, whoever told of it. The talk is ours; common practice, no
source."""
from __future__ import annotations

import pytest

from tests.dish.room import SCHOOL_DAY, play

ASKED = "08:46 Mara: what's in the cheeks?"
STOUT = "08:40 Mara: stout in the cheeks\n08:41 Bea: stout has gluten"


@pytest.mark.parametrize("words", [
    "scrap the stout", "no stout in it after all", "stout isn't in it", "left the stout out", "didn't use the stout"])
def test_what_never_went_in_is_out_of_the_log_of_contents(words: str) -> None:
    played = play(SCHOOL_DAY, "08:38 Mara: 4 kg cheeks", STOUT, f"08:45 Mara: {words}", ASKED)
    assert "Taken back: stout (gluten)" in played.replies["08:45"]
    assert "stout" not in played.replies["08:46"].splitlines()[0]


@pytest.mark.parametrize("words", [
    "no stout left in the shed", "no stout for me", "stout is in the shed", "no salt in it"])
def test_other_talk_of_it_takes_nothing_back(words: str) -> None:
    played = play(SCHOOL_DAY, "08:38 Mara: 4 kg cheeks", STOUT, f"08:45 Mara: {words}", ASKED)
    assert "stout" in played.replies["08:46"].splitlines()[0]
