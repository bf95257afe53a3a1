"""Untold acts, feeding notes and the readings of instruments. Facts of the trade: common practice, no source."""

from __future__ import annotations

import pytest

from skills.kitchen import firing
from skills.kitchen.acts import timeline
from skills.kitchen.instruments import slips
from skills.kitchen.routine import Routine, days_idle, is_damp, stated_routine
from tests.kitchen.days import at, dome_day, told


def minutes(*values):
    return [60 * each for each in values]


@pytest.mark.parametrize(
    ("told_at", "spacing"), [((9, 27, 61, 96, 133, 151), 18), ((6, 26, 69, 146, 166), 20), ((6, 46, 66, 87, 106), 20)]
)
def test_the_spacing_of_feeds_is_found_though_half_are_untold(told_at, spacing):
    assert firing.feed_interval_s(minutes(*told_at), firing.USUAL_S["retained"]) / 60 == pytest.approx(spacing, abs=1)


def test_gaps_between_told_feeds_are_filled_and_told_ones_left_alone():
    found = firing.untold_feeds_s(0, minutes(6, 26, 66, 86), 60 * 130, True, 1140.0, 1800)
    assert [each // 60 for each in found] == [46]


def test_nobody_feeds_in_the_half_hour_before_raking():
    found = firing.untold_feeds_s(0, minutes(6, 26), 60 * 180, True, 1140.0, 1800)
    assert max(found) <= 60 * 150


def test_a_routine_goes_on_between_told_feeds():
    found = firing.routine_feeds_s(0, minutes(30, 92), 60 * 150, 1800.0)
    assert [each // 60 for each in found] == [4, 60, 122]


@pytest.mark.parametrize(
    ("text", "routine"),
    [
        ("from now on it gets one split (about 0.1 kg) every 30 mins", Routine(1800.0, 1.0, 0.1)),
        ("plan from here: one small split every 30 min, fire stays on the left", Routine(1800.0, 1.0, None)),
        ("barrel: two sticks each half hour", Routine(1800.0, 2.0, None)),
        ("feeding 200 g of wood every 40 minutes", Routine(2400.0, None, 0.2)),
        ("a log every hour", Routine(3600.0, 1.0, None)),
        ("turn the tray every 20 min", None),
        ("the back left corner runs hot", None),
    ],
)
def test_a_note_states_a_routine_or_does_not(text, routine):
    assert stated_routine(text) == routine


@pytest.mark.parametrize(
    ("text", "days"),
    [
        ("last fired two days ago", 2.0),
        ("not been lit for over a week", 7.0),
        ("we cooked in it yesterday", 1.0),
        ("two coeliacs", None),
    ],
)
def test_a_note_tells_how_long_the_oven_stood(text, days):
    assert days_idle(text) == days


def test_damp_is_heard():
    assert is_damp("might be damp")
    assert not is_damp("dry as a bone")


def doors(facts, now):
    return [
        (act.at_s // 60 - int(at(0).timestamp()) // 60, act.state)
        for act in timeline(facts, int(now.timestamp())).acts
        if act.kind == "door"
    ]


def test_a_pot_that_went_in_had_the_door_off_and_a_look_too():
    found = doors(dome_day(), at(500))
    assert (195, "on") in found
    assert [each for each in found if 225 <= each[0] <= 235] == [(227, "off"), (231, "on")]
    assert [each for each in found if 335 <= each[0] <= 345] == [(337, "off"), (341, "on")]


def test_a_door_that_is_said_to_stay_off_stays_off():
    facts = [
        *dome_day(),
        told(510, "dome", "lamb", **{"is": "pot", "act": "out"}),
        told(510, "dome", index=1, **{"is": "door", "state": "off"}),
    ]
    assert doors(facts, at(560))[-1][1] == "off"


def test_lighting_opens_the_mouth():
    assert doors(dome_day(), at(60))[:1] == [(5, "off")]


def test_half_of_the_feeds_are_supposed():
    acts = timeline(dome_day(), int(at(500).timestamp())).acts
    feeds = [act for act in acts if act.kind == "feed"]
    assert sum(act.minor for act in feeds) >= 3
    assert all(act.at_s <= at(185 - 30).timestamp() for act in feeds)


def test_an_oven_that_is_hot_when_the_talk_begins_was_fired():
    acts = timeline(
        [told(240, "dome", **{"is": "reading", "place": "air", "celsius": 170})], int(at(240).timestamp())
    ).acts
    assert {"lit", "feed", "raked", "door"} <= {act.kind for act in acts}
    assert all(act.minor for act in acts if act.kind in ("lit", "feed", "raked"))


def test_a_cold_oven_that_was_only_described_was_not():
    acts = timeline([told(0, "dome", **{"is": "oven", "across_cm": 90})], int(at(10).timestamp())).acts
    assert not any(act.kind in ("lit", "feed") for act in acts)


@pytest.mark.parametrize("minute", [5, 12, 70])
def test_what_a_fire_is_laid_with_tells_nothing_of_the_splits_that_follow(minute):
    """Eight kilograms are a load and not three splits. Common practice, no source."""
    fire = [told(5, "dome", **{"is": "fire", "act": "lit"}),
            told(45, "dome", **{"is": "fire", "act": "fed", "pieces": 3})]

    def split_kg(*more):
        return timeline([*fire, *more], int(at(120).timestamp())).ovens["dome"].words().kg_feed

    assert split_kg(told(minute, "dome", **{"is": "fire", "act": "fed", "wood_kg": 8.0})) is None
    assert split_kg(told(70, "dome", **{"is": "fire", "act": "fed", "wood_kg": 1.2})) == pytest.approx(0.4)


@pytest.mark.parametrize(("typed", "meant"), [(411, 141), (170, 107), (202, 102), (511, 151), (148, 184)])
def test_slips_of_the_finger_are_known(typed, meant):
    assert float(meant) in slips(float(typed))


BARREL = {"is": "oven", "across_cm": 66, "floor_cm": 4, "dome_cm": 5, "insulation_cm": 2, "probe_cm": 2}


def barrel(**more):
    return [
        told(0, "barrel", **BARREL, **more),
        told(5, "barrel", **{"is": "fire", "act": "lit", "wood_kg": 0.9}),
        told(16, "barrel", **{"is": "fire", "act": "fed", "pieces": 2}),
        told(38, "barrel", **{"is": "door", "state": "on"}),
        told(70, "barrel", **{"is": "fire", "act": "fed", "pieces": 1}),
        told(95, "barrel", "shanks", **{"is": "pot", "act": "in"}),
        told(130, "barrel", **{"is": "fire", "act": "fed", "pieces": 1}),
    ]


def test_splits_after_the_door_is_on_are_small_ones_though_no_routine_was_said():
    acts = timeline(barrel(fired="tended"), int(at(131).timestamp())).acts
    told_feeds = [act for act in acts if act.kind == "feed" and act.fact is not None]
    assert [act.state for act in told_feeds] == ["", "small", "small"]


def test_an_oven_that_is_fed_on_with_a_pot_in_is_tended():
    story = timeline(barrel(), int(at(131).timestamp())).ovens["barrel"]
    assert story.tended
    raked = told(90, "barrel", **{"is": "fire", "act": "raked"})
    assert not timeline([*barrel(), raked], int(at(131).timestamp())).ovens["barrel"].tended


def test_laying_a_split_on_opens_the_mouth_for_a_minute():
    found = doors(barrel(fired="tended"), at(140))
    assert [each for each in found if 129 <= each[0] <= 132] == [(130, "off"), (131, "on")]


@pytest.mark.parametrize(("basis", "wet"), [(None, 20.0), ("dry", 20.0), ("wet", 25.0)])
def test_a_pin_meter_reads_on_the_dry_basis_unless_said_otherwise(basis, wet):
    """25 % on the meter is 20 % of the log's weight (definition of the two bases; job notes, section 1)."""
    wood = told(4, **{"is": "wood", "moisture_pct": 25, **({"basis": basis} if basis else {})})
    acts = timeline([*barrel(), wood], int(at(131).timestamp())).acts
    laid_on = [act.wet_pct for act in acts if act.kind in ("lit", "feed")]
    assert laid_on == pytest.approx([wet] * len(laid_on))
    assert len(laid_on) >= 4


def barrel_with_a_pot_out(*more):
    return [
        told(0, "barrel", **{"is": "oven", "across_cm": 66, "floor_cm": 4, "dome_cm": 5, "fired": "tended"}),
        told(2, "barrel", **{"is": "fire", "act": "lit", "wood_kg": 0.9}),
        told(35, "barrel", **{"is": "door", "state": "on"}),
        told(40, "barrel", **{"is": "note", "text": "one split every 30 min from now"}),
        told(60, "barrel", "lamb", **{"is": "pot", "act": "in"}),
        told(300, "barrel", "lamb", **{"is": "pot", "act": "out"}),
        *more,
    ]


def feeds_after(facts, minute):
    found = timeline(facts, stamp(600), stamp(600)).acts
    return [act for act in found if act.kind == "feed" and act.at_s > stamp(minute)]


def stamp(minute):
    return int(at(minute).timestamp())


def test_the_small_fire_is_let_go_with_the_last_pot():
    """Nobody feeds an empty oven, told or not (common practice, no source)."""
    assert feeds_after(barrel_with_a_pot_out(), 60)
    assert not feeds_after(barrel_with_a_pot_out(), 301)


@pytest.mark.parametrize(
    "still",
    [
        told(310, "barrel", **{"is": "fire", "act": "fed", "pieces": 1}),
        told(320, "barrel", "beans", **{"is": "pot", "act": "in"}),
    ],
)
def test_an_oven_that_is_fed_or_filled_again_is_fed_on(still):
    assert len(feeds_after(barrel_with_a_pot_out(still), 330)) >= 6


def test_what_a_look_tells_is_of_the_pot_as_the_lid_came_off():
    """A simmer is seen before the pot has stood open: the evidence comes in with the lid still on."""
    facts = [*dome_day(), told(400, dish="lamb", **{"is": "check", "simmer": "gentle"})]
    acts = timeline(facts, int(at(410).timestamp())).acts
    seen = next(act for act in acts if act.fact is facts[-1])
    lifted = [act for act in acts if act.kind == "uncover" and seen.at_s <= act.at_s <= at(400).timestamp()]
    assert lifted
    assert acts.index(seen) < acts.index(lifted[0])


def test_a_look_told_with_the_pot_going_in_comes_after_it():
    facts = [*dome_day(), told(231, dish="lamb", **{"is": "food", "part": "core", "celsius": 12.0})]
    acts = timeline(facts, int(at(240).timestamp())).acts
    into = next(act for act in acts if act.kind == "pot_in")
    assert acts.index(next(act for act in acts if act.fact is facts[-1])) > acts.index(into)
