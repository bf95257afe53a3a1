"""The heat ladder in three lines: when to light and rake, what goes in when, what does not fit and why."""
from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime, timedelta

from skills.planning.firing_plan import DishPlan
from skills.planning.ladder import WAIT_H, WAITS_H, Ladder, Left, Rung
from skills.planning.other_oven import meal_of
from skills.skill import Reply
from skills.wording import capital, clock, day_clock, hours, is_plural, odds

MOST_REASONS = 2
# A dish that stands done for so much longer than its kind may is said to [s].
TOLD_STANDING_S = 2700.0


def say_ladder(made: Ladder, now: datetime, inside: str = "", raked: datetime | None = None,
               avoids: str = "") -> Reply:
    """At most three lines. inside: what is in the oven already, in a sentence; raked: when that was, if it has been;
    avoids: what guests avoid, for those who shop."""
    acts = acts_of(made, raked)
    third = " ".join(part for part in (inside, _third(made, now), avoids) if part)
    return Reply(tuple(line for line in (_first(made, now, bool(inside)), _rungs(made), third) if line),
                 said={f"plan:ladder@{made.oven}:{act}": at.timestamp() for act, at in acts.items()}
                 | {f"plan:ladder@{made.oven}:eat": made.eat.timestamp()}
                 | said_of_left(made.left))


def acts_of(made: Ladder, raked: datetime | None = None) -> dict[str, datetime]:
    """The times that later words are compared with; light only as long as the fire is not lit."""
    acts = {f"in {rung.wish.dish}": rung.into for rung in made.rungs}
    if made.stage == "ahead":
        acts["light"] = made.light
    if not made.rungs:
        return acts
    if made.tended:
        return acts | {"meal": made.meal}
    return acts | {"rake": raked if made.stage == "raked" and raked is not None else made.rake, "meal": made.meal}


def _first(made: Ladder, now: datetime, inside: bool) -> str:
    if not made.rungs:
        return ""
    sure = _sure(made, now)
    if made.tended:
        return _held_first(made, now)
    if made.stage != "ahead":
        what = "the rest" if inside else "all"
        all_by = f"{what} ready by {day_clock(made.meal, now)} ({sure})" + (
            f", not by {clock(made.eat)}" if made.late_by_s > 0.0 else "")
        if made.stage == "raked":
            return f"{all_by[0].upper()}{all_by[1:]}."
        when = "now" if made.rake <= now + timedelta(minutes=5) else clock(made.rake)
        wood = f"; about {made.kg:.0f} kg more wood" if made.kg >= 1.0 else "; no more wood"
        return f"Rake {when}, {all_by}{wood}."
    wood = f"about {made.kg:.0f} kg of wood"
    if made.late_by_s > 0.0:
        late = made.eat + timedelta(seconds=made.late_by_s)
        return f"Lit now all is ready by {day_clock(late, now)} ({sure}), not by {clock(made.eat)}: rake " \
               f"{clock(made.rake)}, {wood}."
    evening = ""
    if made.evening is not None and made.evening_lit is not None:
        when = "tonight" if made.evening_lit.date() == now.date() else "the evening before"
        evening = f" (or fire 2 h {when} at {clock(made.evening_lit)}, rake, door on, and light " \
                  f"{clock(made.evening.light)})"
    return f"{then('light', made.raked_first, now)} {day_clock(made.light, now)}{evening} to have all by " \
           f"{clock(made.eat)} ({sure}), rake {clock(made.rake)}: {wood}."


def _sure(made: Ladder, now: datetime) -> str:
    """ "9 in 10", or "4 in 5; 9 in 10 without beans": the nearest plan that keeps what was asked, if this does not."""
    reached, asked = odds(made.reached, made.odds), odds(made.odds)
    if made.reached >= made.odds - 1e-9:
        return reached
    nearest = f"by {day_clock(made.sure_meal, now)}" if made.sure_meal is not None else \
        f"without {made.sure_without}" if made.sure_without else "is out of reach with all of these"
    return f"{reached}; {asked} {nearest}"


def _held_first(made: Ladder, now: datetime) -> str:
    """The same of a light oven, which is not raked."""
    sure, wood = _sure(made, now), f"about {made.kg:.0f} kg of {'more ' if made.stage == 'burning' else ''}wood"
    fed = "" if made.rungs[0].wish.heat.fire else ", feed small"
    if made.late_by_s > 0.0:
        lit = "Lit now" if made.stage == "ahead" else "From now on"
        return f"{lit} all is ready by {day_clock(made.meal, now)} ({sure}), not by {clock(made.eat)}{fed}: {wood}."
    if made.stage == "burning":
        return f"All ready by {day_clock(made.meal, now)} ({sure}){fed}: {wood}."
    return f"Light {day_clock(made.light, now)} to have all by {clock(made.eat)} ({sure}){fed}: {wood}."


def then(act: str, raked_first: datetime | None, now: datetime) -> str:
    """ "Light", or what comes before it where the evening's fire burns: "Rake 21:30, door on; light" """
    if raked_first is None:
        return capital(act)
    return f"Rake {'now' if raked_first <= now + timedelta(minutes=5) else clock(raked_first)}, door on; {act}"


def _rungs(made: Ladder) -> str:
    """ "In: loaves 08:10 at floor 230, lamb 08:50 at 185; ..." """
    if not made.rungs:
        return ""
    return "In: " + ", ".join(_rung(rung, made.meal) for rung in made.rungs) + "."


def _rung(rung: Rung, meal: datetime) -> str:
    place = "floor " if rung.wish.heat.place == "floor" else ""
    when = " by the flame" if rung.wish.heat.fire else ""
    after = "" if not rung.after_meal else \
        " (after the meal)" if rung.into.date() == meal.date() else " (the day after)"
    return f"{rung.wish.dish} {clock(rung.into)}{when} at {place}{5 * round(rung.heat_c / 5)}{after}"


def _third(made: Ladder, now: datetime) -> str:
    notes = [note for rung in made.rungs for note in rung.wish.notes if " feeds about " in note]
    parts = (say_all_left(made.left, now), _standing(made), *(f"{note}." for note in notes[:1]))
    return " ".join(part for part in parts if part)


def _standing(made: Ladder) -> str:
    """ "Trout done about 12:00, stands 1 h 30." of what stands badly and longest."""
    waits = [(stands_s - 3600.0 * WAITS_H.get(rung.wish.heat.name, WAIT_H), rung, stands_s) for rung in made.rungs
             if not (rung.wish.heat.dry or rung.wish.heat.fire)
             and (stands_s := (made.meal - rung.out).total_seconds() - rung.wish.heat.rest_s) > 0.0]
    over_s, rung, stands_s = max(waits, key=lambda each: each[0], default=(0.0, None, 0.0))
    if rung is None or over_s < TOLD_STANDING_S:
        return ""
    dish, plural = rung.wish.dish, is_plural(rung.wish.dish)
    return f"{capital(dish)} done about {clock(rung.out)}: {'stand' if plural else 'stands'} {hours(stands_s)}, " \
           f"keep {'them' if plural else 'it'} hot."


def say_all_left(left: Sequence[Left], now: datetime) -> str:
    """What does not fit: two dishes with their reasons, first those that another oven takes, and the rest by name."""
    shared: dict[str, list[DishPlan]] = {}
    for each in left:
        if each.instead is not None:
            shared.setdefault(each.instead.oven, []).append(each.instead)
    several = {oven for oven, plans in shared.items() if len(plans) > 1}
    said = [_say_shared(shared[oven], now) for oven in shared if oven in several]
    ordered = sorted((each for each in left if each.instead is None or each.instead.oven not in several),
                     key=lambda each: each.instead is None)
    most = max(1, MOST_REASONS - len(said))
    rest = [each.wish.dish for each in ordered[most:]]
    return " ".join([*said, *(say_left(each, now) for each in ordered[:most]),
                     *([f"Nor {', '.join(rest)}."] if rest else [])])


def _say_shared(plans: Sequence[DishPlan], now: datetime) -> str:
    """ "In the barrel, light it 04:10: shoulder 05:10, pudding 08:40 (9 in 10)." """
    light = next((row for plan in plans if (row := plan.row("light")) is not None), None)
    lit = "" if light is None else f", light it {'now' if light.at <= now else day_clock(light.sure or light.at, now)}"
    pots = sorted((pot.at, plan.dish) for plan in plans if (pot := plan.row("pot in")) is not None)
    late = next((plan.sure_meal for plan in plans if meal_of(plan) != plan.eat and plan.sure_meal is not None), None)
    sure = odds(plans[0].reached, plans[0].odds) if late is None else f"{odds(plans[0].odds)} by {day_clock(late, now)}"
    return f"In the {plans[0].oven}{lit}: {', '.join(f'{dish} {clock(at)}' for at, dish in pots)} ({sure})."


def say_left(left: Left, now: datetime) -> str:
    """ "Flatbreads in the barrel, light it 09:50, in 12:40: done 08:10 here, long before the meal." """
    if left.instead is None:
        return f"Not {left.wish.dish}: {left.why}" + (f"; {left.nearest}." if left.nearest else ".")
    return f"{capital(left.wish.dish)} {say_instead(left.instead, now)}: {left.why}."


def say_instead(plan: DishPlan, now: datetime) -> str:
    """ "in the barrel, light it 09:20, in 12:40 (4 in 5)" """
    light, pot = plan.row("light"), plan.row("pot in")
    assert pot is not None
    acts = [] if light is None else [f"light it {'now' if light.at <= now else day_clock(light.sure or light.at, now)}"]
    acts.append(f"in {'now' if pot.at <= now + timedelta(minutes=5) else clock(pot.at)}")
    sure = odds(plan.reached, plan.odds)
    if meal_of(plan) != plan.eat and plan.sure_meal is not None:
        sure = f"{odds(plan.odds)} by {day_clock(plan.sure_meal, now)}"
    return f"in the {plan.oven}, {', '.join(acts)} ({sure})"


def said_of(plan: DishPlan) -> dict[str, float]:
    """What later words are compared with: the times of the acts to come, and the odds."""
    whose = f"plan:{plan.dish}@{plan.oven}"
    said = {f"{whose}:{row.what}": row.at.timestamp() for row in plan.rows if row.what in ("light", "rake", "pot in")}
    light = plan.row("light")
    if light is not None and light.sure is not None:
        said[f"{whose}:light sure"] = light.sure.timestamp()
    return said | {f"{whose}:odds": plan.reached, f"{whose}:eat": plan.eat.timestamp()}


def said_of_left(left: Sequence[Left]) -> dict[str, float]:
    """The same of what other ovens take."""
    return {key: value for each in left if each.instead is not None for key, value in said_of(each.instead).items()}


def wood_of(made: Ladder) -> list[tuple[str, float, float]]:
    """For each oven that burns any: its name, the wood of the plan and what to have there [kg]."""
    others = [(each.instead.oven, each.instead.kg, each.instead.kg_sure) for each in made.left
              if each.instead is not None and each.instead.kg > 0.0]
    return [(made.oven, made.kg, made.kg), *others]


def wood_words(made: Ladder) -> str:
    """ "about 18 kg for the dome and 7 kg for the barrel" """
    return "about " + " and ".join(f"{kg:.0f} kg for the {oven}" for oven, kg, _ in wood_of(made) if kg > 0.05)
