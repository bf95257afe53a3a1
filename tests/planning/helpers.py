"""Ovens, dishes and meals of the invented yard, for plans."""

from __future__ import annotations

from datetime import datetime

from skills.kitchen import Setting
from skills.kitchen import ensemble as kitchen
from skills.kitchen.acts import OvenStory
from skills.planning import course
from skills.planning.firing_plan import Wish, plan_dish
from skills.planning.heats import heat_of
from skills.planning.outcome import Start
from skills.planning.wood import Stack

DOME = {"across_cm": 90.0, "floor_cm": 6.0, "dome_cm": 10.0, "insulation_cm": 10.0, "probe_cm": 5.0}
BARREL = {"across_cm": 66.0, "floor_cm": 4.0, "dome_cm": 5.0, "insulation_cm": 3.0}
SHOULDER = {"cut": "lamb shoulder", "meat_kg": 3.0, "liquid_l": 1.0, "pan": "iron", "start": "hot"}
NOW = datetime.fromisoformat("2026-05-15T16:00:00+01:00")
EAT = datetime.fromisoformat("2026-05-16T13:30:00+01:00")


def start(size=DOME, seed=1, members=60, fired=None, damp=False, name="dome"):
    """A cold oven of the yard at NOW."""
    now_s = int(NOW.timestamp())
    story = OvenStory(name, now_s, size=dict(size), fired=fired, damp=damp)
    setting = Setting(seed=seed, members=members)
    alone = course.tiled(kitchen.assemble(setting, {name: story}, now_s), name, 1)
    return Start(name, alone, setting, tended=fired == "tended")


def wish(dish="lamb", load=SHOULDER, eat=EAT, wood=None, odds=0.9):
    """A dish wanted at a time."""
    heat, _, _ = heat_of(dish, load.get("cut"))
    return Wish(dish, heat, dict(load), eat, odds, wood or Stack())


def plan(evening=False, now=NOW, **said):
    """The plan of a dish in an oven; keywords of `start` and `wish` together."""
    oven = {key: said.pop(key) for key in ("size", "seed", "members", "fired", "damp") if key in said}
    return plan_dish(start(**oven), wish(**said), now, evening)
