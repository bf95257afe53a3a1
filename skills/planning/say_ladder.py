"""The heat ladder in three lines: when to light and rake, what goes in when, what does not fit and why."""
from __future__ import annotations

from datetime import datetime, timedelta

from skills.planning.ladder import Ladder, Rung
from skills.skill import Reply
from skills.wording import capital, clock, day_clock, odds, the

# Nobody likes to be in the yard between these hours.
NIGHT = (22, 5)


def say_ladder(made: Ladder, now: datetime) -> Reply:
    """At most three lines."""
    return Reply(tuple(line for line in (_first(made, now), _rungs(made), _third(made)) if line),
                 said={f"plan:ladder@{made.oven}:in {rung.wish.dish}": rung.into.timestamp() for rung in made.rungs}
                 | {f"plan:ladder@{made.oven}:light": made.light.timestamp(),
                    f"plan:ladder@{made.oven}:rake": made.rake.timestamp()})


def _first(made: Ladder, now: datetime) -> str:
    sure = odds(made.reached)
    wood = f"about {made.kg:.0f} kg of wood"
    if made.late_by_s > 0.0:
        late = made.eat + timedelta(seconds=made.late_by_s)
        return f"Lit now all is ready by {day_clock(late, now)} ({sure}), not by {clock(made.eat)}: rake " \
               f"{clock(made.rake)}, {wood}."
    return f"Light {day_clock(made.light, now)} to have all by {clock(made.eat)} ({sure}), rake {clock(made.rake)}: " \
           f"{wood}."


def _rungs(made: Ladder) -> str:
    """ "In: loaves 08:10 at floor 230, lamb 08:50 at 185; ..." """
    return "In: " + ", ".join(_rung(rung) for rung in made.rungs) + "."


def _rung(rung: Rung) -> str:
    place = "floor " if rung.wish.heat.place == "floor" else ""
    when = " by the flame" if rung.wish.heat.fire else ""
    after = " (after the meal)" if rung.after_meal else ""
    return f"{rung.wish.dish} {clock(rung.into)}{when} at {place}{5 * round(rung.heat_c / 5)}{after}"


def at_night(made: Ladder) -> list[Rung]:
    """Dishes that would go in while people sleep."""
    return [rung for rung in made.rungs if rung.into.hour >= NIGHT[0] or rung.into.hour < NIGHT[1]]


def _third(made: Ladder) -> str:
    if made.left:
        return " ".join(f"Not {each.wish.dish}: {each.why}." for each in made.left[:2])
    night = at_night(made)
    if night:
        return f"{capital(the([rung.wish.dish for rung in night], 'and'))} would go in at night: another oven or the " \
               "day before would spare that."
    return ""
