"""Why a plan begins so early: what takes the time from lighting to the table, and what the sure time adds."""
from __future__ import annotations

from datetime import datetime, timedelta

import numpy as np

from skills.planning.course import RAKE_S, SETTLE_S
from skills.planning.firing_plan import DishPlan
from skills.planning.ladder import Ladder
from skills.planning.live import Told, plans_told
from skills.planning.outcome import late
from skills.planning.say_plan import LADDER, work_out
from skills.view import View
from skills.vocabulary import Plan, Why
from skills.wording import capital, clock, hours, odds

# A "why" is about the plan if nothing else was told since (judgement: as long as a question stays open).
ABOUT = timedelta(minutes=15)


def plan_reasons(question: Why, view: View) -> list[str]:
    """Why the plan that was told last is as it is; nothing if another answer was."""
    told = _told_last(question, view)
    if told is None:
        return []
    made = work_out(Plan(dish=None if told.dish == LADDER else told.dish, oven=told.oven), view, quick=True)
    if made.plan is not None:
        return _of_dish(made.plan)
    return _of_ladder(made.ladder) if made.ladder is not None and made.ladder.rungs else []


def _told_last(question: Why, view: View) -> Told | None:
    newest = max(((value["at"], key) for key, value in view.told.items()), default=None)
    if newest is None or not any(key.startswith("plan:") and value["at"] == newest[0]
                                 for key, value in view.told.items()):
        return None
    if view.now.timestamp() - newest[0] > ABOUT.total_seconds() and question.oven is None and question.dish is None:
        return None
    at = {(whose.partition("@")[0], whose.partition("@")[2]): value["at"] for key, value in view.told.items()
          if key.startswith("plan:") for whose in [key.removeprefix("plan:").rsplit(":", 1)[0]]}
    known = [told for told in plans_told(view) if at.get((told.dish, told.oven)) == newest[0]
             and question.oven in (None, told.oven) and question.dish in (None, told.dish)]
    # What other ovens take is told with the ladder that leaves it out.
    return max(known, key=lambda told: told.dish == LADDER, default=None)


def _of_dish(plan: DishPlan) -> list[str]:
    made, heat = plan.outcome, plan.heat
    fire_s, pot_s = float(np.median(made.fire_s)), float(np.median(made.to_pot_s))
    cook_s = late(made.cook_s, 0.5)
    if plan.tended and not heat.fire:
        parts = [f"{hours(pot_s)} till the {plan.oven} is hot"] if pot_s > 0.0 else []
    elif fire_s > 0.0:
        parts = [f"{hours(fire_s)} fire till it will give {heat.place} {5 * round(made.aim_c / 5)}"]
        if not heat.fire:
            parts.append(f"{hours(RAKE_S)} to rake, {hours(SETTLE_S)} to settle")
    else:
        parts = []
    parts.append(f"{hours(cook_s)} {'by the flame' if heat.fire else 'in the oven'}")
    if heat.rest_s >= 600.0:
        parts.append(f"{hours(heat.rest_s)} rest")
    lines = [f"{capital(plan.dish)} by {clock(plan.eat)}: {', '.join(parts)}."]
    more_s = made.sure_s(plan.odds) - late(made.total_s, 0.5)
    if np.isfinite(more_s) and more_s >= 600.0:
        slow, warm = (late(each, plan.odds) - late(each, 0.5) for each in (made.cook_s, made.to_pot_s))
        why = [f"a slow {what} takes up to {hours(span)} more" for what, span in (
            (heat.name, slow), (plan.oven, warm)) if span >= 600.0]
        lines.append(f"To be {odds(plan.odds)} sure it begins {hours(more_s)} earlier"
                     + (f": {', '.join(why)}." if why else "."))
    return lines


def _of_ladder(made: Ladder) -> list[str]:
    cooked = [rung for rung in made.rungs if not rung.wish.heat.dry and not rung.after_meal]
    lead = "" if made.stage != "ahead" else f"{_span(made.light, made.rake)} " + (
        f"till the {made.oven} is hot, " if made.tended else
        f"of fire till it will give {made.heat.place} {5 * round(made.aimed_c / 5)}, ")
    settle = "" if made.tended or made.stage == "raked" else f"{hours(RAKE_S)} to rake, {hours(SETTLE_S)} to settle. "
    last = max(cooked, key=lambda rung: rung.out_sure + timedelta(seconds=rung.wish.heat.rest_s))
    long = max(cooked, key=lambda rung: rung.out_sure - rung.into)
    lines = [f"{capital((lead + settle).strip().rstrip(',. '))}." if lead or settle else "",
             f"Longest is {long.wish.dish}: right for it {clock(long.into)}, then {_span(long.into, long.out)} likely, "
             f"{_span(long.into, long.out_sure)} to be {odds(made.odds)} sure."]
    if last is not long:
        lines.append(f"All wait for {last.wish.dish}: its heat comes at {clock(last.into)}, then "
                     f"{_span(last.into, last.out_sure)} and its rest.")
    if made.likely is not None and made.likely - made.light >= timedelta(minutes=10):
        lines.append(f"Lit {_span(made.light, made.likely)} later it would be an even chance.")
    return [line for line in lines if line]


def _span(begin: datetime, end: datetime) -> str:
    return hours((end - begin).total_seconds())
