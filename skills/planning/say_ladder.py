"""The heat ladder in three lines: when to light and rake, what goes in when, what does not fit and why."""
from __future__ import annotations

from datetime import datetime, timedelta

from skills.planning.ladder import Ladder, Rung
from skills.skill import Reply
from skills.wording import capital, clock, day_clock, odds


def say_ladder(made: Ladder, now: datetime, inside: str = "", raked: datetime | None = None) -> Reply:
    """At most three lines. inside: what is in the oven already, in a sentence; raked: when that was, if it has been."""
    acts = acts_of(made, raked)
    third = " ".join(part for part in (inside, _third(made)) if part)
    return Reply(tuple(line for line in (_first(made, now, bool(inside)), _rungs(made), third) if line),
                 said={f"plan:ladder@{made.oven}:{act}": at.timestamp() for act, at in acts.items()})


def acts_of(made: Ladder, raked: datetime | None = None) -> dict[str, datetime]:
    """The times that later words are compared with; light only as long as the fire is not lit."""
    acts = {f"in {rung.wish.dish}": rung.into for rung in made.rungs}
    if made.stage == "ahead":
        acts["light"] = made.light
    if not made.rungs:
        return acts
    return acts | {"rake": raked if made.stage == "raked" and raked is not None else made.rake, "meal": made.meal}


def _first(made: Ladder, now: datetime, inside: bool) -> str:
    if not made.rungs:
        return ""
    sure = odds(made.reached)
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


def then(act: str, raked_first: datetime | None, now: datetime) -> str:
    """ "Light", or what comes before it where the evening's fire burns: "Rake 21:30, door on; light" """
    if raked_first is None:
        return capital(act)
    return f"Rake {'now' if raked_first <= now + timedelta(minutes=5) else clock(raked_first)}, door on; {act}"


def _rungs(made: Ladder) -> str:
    """ "In: loaves 08:10 at floor 230, lamb 08:50 at 185; ..." """
    if not made.rungs:
        return ""
    return "In: " + ", ".join(_rung(rung) for rung in made.rungs) + "."


def _rung(rung: Rung) -> str:
    place = "floor " if rung.wish.heat.place == "floor" else ""
    when = " by the flame" if rung.wish.heat.fire else ""
    after = " (after the meal)" if rung.after_meal else ""
    return f"{rung.wish.dish} {clock(rung.into)}{when} at {place}{5 * round(rung.heat_c / 5)}{after}"


def _third(made: Ladder) -> str:
    notes = [note for rung in made.rungs for note in rung.wish.notes if " feeds about " in note]
    left = [f"Not {each.wish.dish}: {each.why}." for each in made.left[:2]]
    if left or notes:
        return " ".join([*left, *(f"{note}." for note in notes[:1])])
    return ""
