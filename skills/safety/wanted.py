"""A core heat that somebody asked for, beside the one that the rules ask: said once, when it is asked for."""
from __future__ import annotations

from skills.record import DishRecord
from skills.safety import kinds
from skills.safety.packs import pack
from skills.safety.spans import story
from skills.view import View
from skills.wording import capital, number


def wanted_lines(dish: DishRecord, view: View) -> list[str]:
    """What becomes of the wish; nothing where the rules ask no more."""
    if dish.done_c is None:
        return []
    rules = pack(view.region)
    made = story(dish.name, view.record, view.now)
    key, figure = kinds.cook_figure(made, rules)
    name = f"{capital(dish.name)} at {number(dish.done_c)} in the middle"
    if dish.done_c >= figure or not kinds.flesh(made):
        return [f"{name}: noted."]
    wants = f"{number(figure)}{' for 2 min or an equal' if figure == 70.0 else ''} ({rules.named(key)})"
    if kinds.pinkable(made):
        return [f"{name}: noted. That is under {wants}:",
                "for a whole piece of beef or lamb, browned all over, and not for guests at risk."]
    return [f"{name}: noted, but it wants {wants}: probe that before it is served."]
