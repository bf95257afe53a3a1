"""Amounts by cut and bone: what is bought raw leaves the cooked helping that the reply names."""
from __future__ import annotations

import math

import pytest

from skills.planning.amounts import SERVINGS, find
from skills.planning.pot_fill import PACKED, filled
from tests.dish.room import play


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


# US tables of 3 oz cooked servings in a raw pound: lowest and highest of the cuts of each kind; a 6 lb bone-in roast
# leaves 2.5 to 3 lb.
@pytest.mark.parametrize(("item", "low", "high"), [
    ("stewing meat", 3 * 3 / 16, 4 * 3 / 16), ("shoulder on bone", 2.5 / 6, 3.0 / 6),
    ("shanks", 2 * 3 / 16, 2 * 3 / 16), ("short ribs", 1.5 * 3 / 16, 1.5 * 3 / 16)])
def test_what_is_left_of_a_cut_lies_within_the_published_servings(item: str, low: float, high: float) -> None:
    serving = find(item)
    assert serving is not None
    assert low - 0.005 <= serving.left <= high + 0.005


@pytest.mark.parametrize("serving", [each for each in SERVINGS if each.left], ids=lambda each: each.names[0])
def test_what_is_bought_leaves_a_helping(serving: object) -> None:
    """A helping of cooked meat or fish is 110 to 180 g (common practice, no source)."""
    low, high, left = (getattr(serving, name) for name in ("low", "high", "left"))
    assert low * left >= 0.110
    assert high * left <= 0.180


def test_liquor_in_a_heap_is_what_the_gaps_of_its_lower_half_hold() -> None:
    """Random packing of balls: 0.60 to 0.64 of the heap is ball (Scott 1960, from memory)."""
    assert 0.60 <= PACKED <= 0.64
    heap = filled(6.0, 30.0, 0.05)
    meat_l = 6.0 / 1.05
    for packed in (0.60, 0.64):
        gaps_l = 0.5 * meat_l / packed * (1.0 - packed)
        assert heap.liquor_l == pytest.approx(gaps_l, rel=0.12)


def test_a_wider_pot_takes_more_liquor_for_one_joint_and_lies_no_deeper() -> None:
    """Half-way up a joint that stands free: half its height of the whole floor of the pot, less half of the joint."""
    narrow, wide = filled(3.0, 26.0, 3.0), filled(3.0, 34.0, 3.0)
    assert narrow.deep_cm == wide.deep_cm
    more_l = 0.5 * wide.deep_cm / 10.0 * math.pi * (1.7 ** 2 - 1.3 ** 2)
    assert wide.liquor_l - narrow.liquor_l == pytest.approx(more_l)


@pytest.mark.parametrize(("asked", "parts"), [
    ("how much stock for 18 in a 30 cm pot?", ("for 18 in a 30 cm pot", "half-way up", "1 pot")),
    ("how much stock for 18 in a 20 cm pot?", ("3 pots",)),
    ("how much stock for 18 in a 2 cm pot?", ("cannot be right",)),
    ("how many short ribs for 18?", ("cooked to serve",)),
])
def test_the_room_reckons_by_pot_and_by_cut(asked: str, parts: tuple[str, ...]) -> None:
    reply = play("08:00 Mara: class: ribs, 18 guests, eating at 13:00", f"08:01 Mara: {asked}").replies["08:01"]
    assert all(part in reply for part in parts), reply
    assert len(reply.splitlines()) <= 3
