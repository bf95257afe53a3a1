"""Why a word of food safety was said: the figure behind it, its source, and how well that is known."""
from __future__ import annotations

from datetime import timedelta

from skills.safety.case import KIND
from skills.safety.packs import Figure, Pack
from skills.safety.watch import rules_of_the_day
from skills.view import View
from skills.wording import capital

# A "why" so soon after a word of food safety is about that too (judgement).
SOON = timedelta(minutes=6)
ANSWERED = "safe:"
# What a prompt goes by: its name in the key, and the figures of the rules.
FIGURES = {
    "aside": ("aside_min",), "aside-past": ("aside_min",),
    "slow": ("slow_rise_min",), "core": ("cook_c",), "night": ("hot_hold_c",),
    "sinks": ("hot_hold_c",), "hold": ("hot_hold_c", "use_by_min"), "past": ("hot_hold_c", "use_by_min"),
    "reheat": ("reheat_c",), "twice": ("reheat_times",), "left": ("fridge_by_min",), "uncold": ("cold_hold_c",),
    "store": ("hot_hold_c", "cold_hold_c"), "chill": (), "late": (),
}


def reasons(view: View) -> list[str]:
    """A line for the last word of food safety, if it was said just now."""
    said = {key.split(":")[1]: at for key, at in sorted(view.said.items(), key=lambda pair: pair[1])
            if key.startswith(f"{KIND}:") and timedelta(0) <= view.now - at <= SOON}
    asked = any(key.startswith(ANSWERED) and view.now.timestamp() - answered["at"] <= SOON.total_seconds()
                for key, answered in view.told.items())
    if not said and not asked:
        return []
    name = list(said)[-1] if said else "hold"
    rules = rules_of_the_day(view)
    found: list[Figure] = [rules.figures[key] for key in FIGURES.get(name, ()) if key in rules.figures]
    marks = [(mark.words, mark.source, mark.firm) for mark in rules.chill] if not found and name in FIGURES else []
    return [_line(words, source, firm, rules) for words, source, firm in
            ([(each.words, each.source, each.firm) for each in found] + marks)[:2]]


def _line(words: str, source: str, firm: bool, rules: Pack) -> str:
    return f"{capital(words)} ({rules.short}: {source}{'' if firm else '; check locally'})."
