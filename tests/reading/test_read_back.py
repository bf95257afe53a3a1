"""What a message was taken for is told when it is asked. The talk is ours; common practice, no source."""
from __future__ import annotations

import pytest

from tests.dish.room import SCHOOL_DAY, play


@pytest.mark.parametrize("words", [
    "why did you read that?", "what did you take that for", "how did you read that", "Yardhand, what did you read?"])
def test_the_room_is_told_what_was_taken_for_what_and_what_was_left_over(words: str) -> None:
    played = play(SCHOOL_DAY, "08:34 Tomos: dome floor 187 air 160 n lovely sausages", f"08:35 Mara: {words}")
    said = played.replies["08:35"]
    assert 'Tomos 08:34: "dome floor 187 air 160 n lovely sausages"' in said
    assert "187" in said.splitlines()[1]
    assert "160" in said.splitlines()[1]
    assert "sausages" in said.splitlines()[2]
    assert len(said.splitlines()) <= 3


@pytest.mark.parametrize("words", ["why is it late?", "how did you get that time", "why did you bring that"])
def test_other_questions_are_not_about_reading(words: str) -> None:
    played = play(SCHOOL_DAY, "08:34 Tomos: dome floor 187 air 160", f"08:35 Mara: {words}")
    assert 'Tomos 08:34: "' not in played.replies["08:35"]
