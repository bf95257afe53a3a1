"""Amounts by cut and bone: what is bought raw leaves the cooked helping that the reply names."""
from __future__ import annotations

import pytest

from skills.planning.amounts import SERVINGS, find


@pytest.mark.parametrize("said", ["bone in lamb shoulder", "lamb shoulder on the bone", "bone-in shoulder"])
def test_a_shoulder_on_the_bone_is_bought_heavier_than_one_off_it(said: str) -> None:
    """A shoulder is a fifth to a third bone (common practice, no source)."""
    boneless, bony = find("lamb shoulder"), find(said)
    assert boneless is not None
    assert bony is not None
    assert 1.2 <= bony.low / boneless.low <= 1.5
    assert "on the bone" in bony.remark


def test_the_cooked_helping_is_what_a_braise_leaves_of_the_raw_one() -> None:
    """Braised beef keeps about 0.65 to 0.70 of its raw weight (USDA cooking yields for meat, from memory)."""
    meat = find("beef")
    assert meat is not None
    assert "120 to 150 g each cooked" in meat.remark
    assert 0.62 <= 0.120 / meat.low <= 0.72
    assert 0.62 <= 0.150 / meat.high <= 0.72


def test_each_name_has_one_row_and_finds_it() -> None:
    names = [name for serving in SERVINGS for name in serving.names]
    assert len(names) == len(set(names))
    for serving in SERVINGS:
        for name in serving.names:
            assert find(name) is serving, name
