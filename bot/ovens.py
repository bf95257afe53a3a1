"""What is known of each oven, in words, and a profile as a file that can be moved to another machine."""
from __future__ import annotations

import json
from collections.abc import Mapping
from datetime import date
from typing import Any

import numpy as np
from pydantic import ValidationError

from skills.kitchen.character import drawn, drift
from skills.kitchen.setting import OvenProfile
from skills.oven.drift import say_day, say_drift
from skills.oven.parameters import UNKNOWNS
from skills.wording import the

FORMAT = "yardhand oven profile"
VERSION = 1
# What people recognise of an oven: unknown, how it is called, factor to the unit shown, decimals.
_SHOWN = (("across_m", "cm across", 100.0, 0), ("floor_m", "cm floor brick", 100.0, 1), ("dome_m", "cm dome", 100.0, 1),
          ("insulation_m", "cm insulation", 100.0, 0))
# A standard day for the fall: a shut oven at 180 degC, the yard at 15 degC.
FALL_AT_C, YARD_C = 180.0, 15.0
EIGHT_IN_TEN = 1.28             # deviations of a normal spread either side of the middle


class ProfileError(ValueError):
    """A profile file that cannot be used; the text says why and what to do instead."""


def _spread(profile: OvenProfile, name: str, factor: float, digits: int) -> str:
    row = [unknown.name for unknown in UNKNOWNS].index(name)
    mean, sd = profile.mean[row], float(np.sqrt(max(profile.covariance[row][row], 0.0)))
    ends = mean + sd * np.array([-EIGHT_IN_TEN, 0.0, EIGHT_IN_TEN])
    low, middle, high = (round(factor * float(each), digits) + 0.0 for each in UNKNOWNS[row].back(ends))
    if f"{low:.{digits}f}" == f"{high:.{digits}f}":
        return f"{middle:.{digits}f}"
    return f"{middle:.{digits}f} ({low:.{digits}f} to {high:.{digits}f})"


def _fall(log_loss: float, sd: float) -> str:
    ends = log_loss + sd * np.array([-EIGHT_IN_TEN, 0.0, EIGHT_IN_TEN])
    low, middle, high = np.exp(ends) * (FALL_AT_C - YARD_C)
    return f"{middle:.0f} an hour ({low:.0f} to {high:.0f})"


def oven_lines(profile: OvenProfile, today: date) -> list[str]:
    """The few lines that tell what is known of one oven; ranges hold 8 in 10 of what the models think possible."""
    many = f"{profile.classes} {'class' if profile.classes == 1 else 'classes'}"
    last = f", the last on {say_day(profile.seen[-1].day, today)}" if profile.seen else ""
    head = f"{profile.name}: {many}{last}"
    if not profile.usable():
        return [head, "  written by another version of the model: kept, not used"]
    sizes = ", ".join(f"{_spread(profile, name, factor, digits)} {words}" for name, words, factor, digits in _SHOWN)
    lines = [head, f"  {sizes}"]
    if profile.seen:
        last_seen = profile.seen[-1]
        lines.append(f"  shut and settled at {FALL_AT_C:.0f} it falls {_fall(last_seen.log_loss, last_seen.sd)}")
    lines.append(f"  a split weighs {_spread(profile, 'piece_kg', 1.0, 2)} kg; "
                 f"hanging thermometer off by {_spread(profile, 'hang_bias_k', 1.0, 0)}, "
                 f"gun by {_spread(profile, 'gun_bias_k', 1.0, 0)}")
    found = drift(profile.seen)
    lines.append(f"  {say_drift(the([profile.name]), found, today)}" if found else
                 f"  no change between classes that one can be sure of ({len(profile.seen)} measured)")
    return lines


def ovens_page(learnt: Mapping[str, Mapping[str, Any]], today: date) -> str:
    """Every oven that past classes have taught."""
    profiles = [OvenProfile.model_validate(data) for data in learnt.get("ovens", {}).values()]
    if not profiles:
        return "No oven is known yet. A profile is kept when a class ends ('class over')."
    return "\n".join(line for profile in profiles for line in oven_lines(profile, today))


def oven_named(name: str, learnt: Mapping[str, Mapping[str, Any]]) -> str:
    """The oven of that name as it is kept: "the Dome" is "dome"."""
    known = learnt.get("ovens", {})
    short = name.strip().lower().removeprefix("the ").removesuffix(" oven")
    found = [each for each in known if each.removesuffix(" oven") == short]
    if not found:
        raise ProfileError(f"no oven {name!r} is known here; known: {', '.join(known) or 'none yet'}")
    return found[0]


def export_text(name: str, learnt: Mapping[str, Mapping[str, Any]]) -> str:
    """One profile as JSON text."""
    profile = OvenProfile.model_validate(learnt["ovens"][oven_named(name, learnt)])
    return json.dumps({"format": FORMAT, "version": VERSION, "profile": profile.model_dump(mode="json")},
                      ensure_ascii=False, indent=1, sort_keys=True) + "\n"


def import_text(name: str, text: str) -> OvenProfile:
    """The profile of such a text, under the name it is to have here."""
    how = f"write one with: yardhand oven {name} --export FILE"
    try:
        data = json.loads(text)
    except ValueError as error:
        raise ProfileError(f"this is not JSON ({error}); {how}") from None
    if not isinstance(data, dict) or data.get("format") != FORMAT:
        raise ProfileError(f"this is JSON, but not an oven profile; {how}")
    if data.get("version") != VERSION:
        raise ProfileError(f"this profile is of version {data.get('version')!r}, this program reads {VERSION}; {how}")
    try:
        profile = OvenProfile.model_validate({**data["profile"], "name": name})
    except (KeyError, TypeError, ValidationError) as error:
        first = error.errors()[0] if isinstance(error, ValidationError) else None
        where = ".".join(str(each) for each in first["loc"]) if first else "profile"
        raise ProfileError(f"the profile is damaged at {where!r}; {how}") from None
    if not _whole(profile):
        raise ProfileError(f"the profile was written for other unknowns than this version's, or its numbers are not "
                           f"whole; {how}")
    return profile


def _whole(profile: OvenProfile) -> bool:
    """Of this model's shape, with a covariance that is one."""
    count = len(profile.unknowns)
    shape = [len(row) for row in profile.covariance]
    if len(profile.mean) != count or shape != [count] * count or not profile.usable():
        return False
    try:
        drawn(profile, members=2)
    except np.linalg.LinAlgError:
        return False
    return True


