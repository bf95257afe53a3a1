"""Which rules are in use here, in three lines, when somebody in the room asks."""
from __future__ import annotations

from skills.safety.packs import Pack
from skills.safety.watch import rules_of_the_day
from skills.skill import Reply
from skills.view import View
from skills.wording import number


def say_rules(view: View) -> Reply:
    """ "which rules are we on?" """
    rules = rules_of_the_day(view)
    allowed = f"once, under {_hours(rules)}" if rules.once else f"{_hours(rules)} in all"
    hold = f"hot {_figure(rules, 'hot_hold_c')} or more, below it {allowed}"
    cook = f"cook {_figure(rules, 'cook_c', ' for 2 min' if rules.value('cook_c') == 70.0 else '')}"
    bird = f", birds {_figure(rules, 'poultry_c')}" if "poultry_c" in rules.figures else ""
    chill = ", ".join(f"{number(mark.from_c)} to {number(mark.to_c)} in {_length(mark.within_min)}"
                      f"{'' if mark.firm else ' (check locally)'}" for mark in rules.chill)
    return Reply((
        f"{rules.title}. Guidance: your own plan, local code and officer go first.",
        f"C: {hold}; cold {_figure(rules, 'cold_hold_c')} or less; chill {chill}; {cook}{bird}; reheat "
        f"{_figure(rules, 'reheat_c')}.",
        f"Every figure with its source: 'yardhand rules {rules.region}'.",
    ))


def _figure(rules: Pack, key: str, more: str = "") -> str:
    return f"{number(rules.value(key))}{more}{'' if rules.figures[key].firm else ' (check locally)'}"


def _hours(rules: Pack) -> str:
    figure = rules.figures["use_by_min"]
    return f"{_length(figure.value)}{'' if figure.firm else ' (check locally)'}"


def _length(minutes: float) -> str:
    return f"{number(minutes)} min" if minutes < 120 else f"{number(minutes / 60)} h"
