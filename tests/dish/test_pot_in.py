"""Whether a pot can go in. That nothing simmers in a cold oven is common practice, no source."""
from __future__ import annotations

from tests.dish.room import SCHOOL_DAY, play


def test_a_cold_oven_takes_no_pot() -> None:
    played = play("09:05 Tomos: barrel is 60 across, 4 cm brick, tended", "09:06 Tomos: barrel air 18",
                  "09:07 Mara: 3 kg lamb", "09:10 Mara: can i go in")
    assert "too cool for a pot" in played.replies["09:10"]
    assert "tender" not in played.replies["09:10"]


def test_a_raked_oven_takes_one() -> None:
    played = play(SCHOOL_DAY, "08:34 Tomos: dome probe 187 air 160", "08:35 Mara: 3 kg lamb", "08:40 Mara: can i go in")
    assert "too cool" not in played.replies["08:40"]
    assert "amb tender about" in played.replies["08:40"]
