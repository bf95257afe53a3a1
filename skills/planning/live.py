"""The plan during the class: reminders at its acts, and new times when the day goes otherwise.

Only what changes an act is said: a time that moved ten minutes or more, or other odds. What was last said is known from
the answer to the plan (`view.told`) and from the keys of what was said unasked since (`view.said`).
"""
from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import datetime, timedelta

from skills import vocabulary as v
from skills.planning.course import RAKE_S, SETTLE_S
from skills.planning.firing_plan import EVENING_S, DishPlan, evening_fire
from skills.planning.ladder import Ladder
from skills.planning.say_ladder import acts_of
from skills.planning.say_plan import LADDER, work_out
from skills.record import OvenRecord
from skills.skill import Prompt
from skills.view import View
from skills.wording import capital, clock, moment, odds, to_five

MOVED = timedelta(minutes=10)
SOON = timedelta(minutes=5)
# So long after the planned time it is asked whether the fire was lit.
UNLIT = timedelta(minutes=15)
# Odds below this call for the meal that would be kept.
LATE = 0.5
# New times come no more often than this, unless the act is near.
AT_MOST_EVERY = timedelta(minutes=30)
# In the key of new times of a ladder: all of them follow.
ALL_ACTS = "acts"
# What may move the times of a plan; feeding is what the plan counts on.
MOVERS = (v.Reading, v.Wood, v.Weather, v.Serve, v.Load, v.Class)


@dataclass(frozen=True)
class Told:
    """A plan as it was last said: its acts' times, and its odds in words."""
    dish: str
    oven: str
    acts: dict[str, datetime]
    odds: str

    def unlit(self, oven: OvenRecord) -> bool:
        """Whether its fire is still to be lit: none was, or only the evening before's."""
        light = self.acts.get("light sure") or self.acts.get("light")
        return oven.lit_at is None or (light is not None and evening_fire(oven.lit_at, light))


def plans_told(view: View) -> list[Told]:
    """Every plan that this class was told of."""
    found: dict[tuple[str, str], dict[str, tuple[float, float]]] = {}
    for key, value in view.told.items():
        if key.startswith("plan:") and value.get("mid") is not None:
            whose, act = key.removeprefix("plan:").rsplit(":", 1)
            dish, _, oven = whose.partition("@")
            found.setdefault((dish, oven), {})[act] = (value["at"], value["mid"])
    words = {}
    for key, when in sorted(view.said.items(), key=lambda item: item[1]):
        if key.startswith("replan:"):
            whose, act, at_s, said = key.removeprefix("replan:").rsplit(":", 3)
            dish, _, oven = whose.partition("@")
            acts = found.get((dish, oven), {})
            if act == ALL_ACTS:
                for name, _, each in (pair.rpartition("=") for pair in at_s.split("|")):
                    if acts.get(name, (0.0, 0.0))[0] <= when.timestamp():
                        acts[name] = (when.timestamp(), float(each))
                continue
            if act in acts and acts[act][0] <= when.timestamp():
                acts[act] = (when.timestamp(), float(at_s))
                words[dish, oven] = (when.timestamp(), said)
    told = []
    ladders = {oven: max(at for at, _ in acts.values()) for (dish, oven), acts in found.items() if dish == LADDER}
    singles = {oven: max(at for (dish, where), acts in found.items() if where == oven and dish != LADDER
                         for at, _ in acts.values()) for dish, oven in found if dish != LADDER}
    for (dish, oven), acts in found.items():
        # A plan of everything in an oven takes the place of what was planned of one dish in it, and the reverse.
        if oven in ladders and oven in singles and (dish == LADDER) == (ladders[oven] < singles[oven]):
            continue
        at, share = acts.pop("odds", (0.0, 0.0))
        said_at, said = words.get((dish, oven), (0.0, ""))
        told.append(Told(dish, oven, {act: moment(at_s, view.now.tzinfo) for act, (_, at_s) in acts.items()},
                         said if said_at > at else odds(share)))
    return told


def plan_prompts(view: View) -> Iterable[Prompt]:
    """Unasked words of the plans that this class was told of."""
    if view.record.ended is not None:
        return
    first: set[str] = set()
    for told in sorted(plans_told(view), key=lambda each: each.acts.get("light", view.now)):
        oven = view.record.ovens.get(told.oven, OvenRecord(told.oven))
        if told.dish == LADDER:
            yield from _ladder(told, oven, view)
            continue
        dish = view.record.dishes.get(told.dish)
        if (dish is not None and (dish.in_at is not None or dish.served)) or _filled(oven, view):
            continue
        if view.record.serve is not None and view.record.serve <= view.now:
            continue
        # One fire is lit and raked for all: for the dish that needs it first.
        if told.oven in first and (oven.raked_at is None or oven.burning):
            continue
        first.add(told.oven)
        made = _again(told, view) if _may_have_moved(told, view) else None
        yield from _moved(told, made, oven, view)
        yield from _reminders(told, made, oven, view)


def _filled(oven: OvenRecord, view: View) -> bool:
    """Whether a pot has gone in since the oven was raked, by whatever name."""
    return oven.raked_at is not None and any(
        dish.oven == oven.name and dish.in_at is not None and dish.in_at >= oven.raked_at
        for dish in view.record.dishes.values())


def _who(oven: str, view: View) -> str:
    return view.holder(oven) or view.record.lead or "all"


def _may_have_moved(told: Told, view: View) -> bool:
    """Whether the latest message told something that may move this plan."""
    newest = max((dated.told for dated in view.record.facts), default=None)
    return newest == view.now and any(
        dated.told == newest and dated.oven in (None, told.oven)
        and (isinstance(dated.fact, MOVERS) or getattr(dated.fact, "act", "") in ("lit", "raked", "out"))
        for dated in view.record.facts)


def _again(told: Told, view: View) -> DishPlan | None:
    oven = view.record.ovens.get(told.oven)
    if oven is not None and oven.raked_at is not None and not oven.burning and not told.unlit(oven):
        return None                      # what is left is to settle: its time follows from the rake
    return work_out(v.Plan(dish=told.dish, oven=told.oven), view, quick=True).plan


def _moved(told: Told, made: DishPlan | None, oven: OvenRecord, view: View) -> Iterator[Prompt]:
    """New times, if an act has moved."""
    if made is None:
        return
    under_way = oven.burning and made.raked_first is None
    act = "rake" if under_way else "light"
    row, before = made.row(act), told.acts.get(act)
    if row is None or before is None:
        return
    pot = made.row("pot in")
    into = f", {told.dish} in {clock(pot.at)}" if pot is not None else ""
    said = odds(made.reached)
    other = under_way and said != told.odds
    if abs(row.at - before) < MOVED and not other:
        return
    whose = f"replan:{told.dish}@{told.oven}:"
    last = max((when for key, when in view.said.items() if key.startswith(whose)), default=None)
    if last is not None and view.now - last < AT_MOST_EVERY and row.at - view.now > AT_MOST_EVERY:
        return
    was = f" (was {clock(before)})" if abs(row.at - before) >= MOVED else ""
    late = made.sure_meal is not None and made.reached < LATE
    later = f", {odds(made.odds)} at {clock(made.sure_meal)}" if made.sure_meal is not None and late else ""
    table = f" On the table at {clock(made.eat)}: {said}{later}." if under_way else ""
    sure = f" ({clock(row.sure)} to be {odds(made.odds)} sure)" if act == "light" and row.sure is not None else ""
    who = _who(oven.name, view)
    yield Prompt("plan", f"{whose}{act}:{row.at.timestamp():.0f}:{said}", view.now,
                 f"{who}: {act} {oven.name} {clock(row.at)}{sure}{was}{into}.{table}", oven.name, told.dish, who,
                 view.now + timedelta(minutes=20))


def _reminders(told: Told, made: DishPlan | None, oven: OvenRecord, view: View) -> Iterator[Prompt]:
    """The acts at their times."""
    who = _who(oven.name, view)

    def at(act: str) -> datetime | None:
        row = made.row(act) if made is not None else None
        return row.at if row is not None else told.acts.get(act)

    if told.unlit(oven):
        yield from _evening_reminder(told, who, oven)
        yield from _light_reminders(told, who, at("light"))
    elif oven.raked_at is not None and not oven.burning:
        into = to_five(oven.raked_at + timedelta(seconds=RAKE_S + SETTLE_S))
        yield Prompt("plan", f"plan-in:{told.dish}@{told.oven}:{oven.raked_at.isoformat()}", into - SOON,
                     f"{who}: {told.dish} into {oven.name} {clock(into)}, if floor and ceiling agree within about 20.",
                     oven.name, told.dish, who, into + timedelta(minutes=30))
    elif oven.burning:
        rake = at("rake")
        if rake is not None:
            yield _rake(f"plan-rake:{told.dish}@{told.oven}", rake, oven, who, "door on to settle")


def _rake(key: str, rake: datetime, oven: OvenRecord, who: str, then: str) -> Prompt:
    return Prompt("plan", key, rake - MOVED,
                  f"{who}: rake {oven.name} {clock(rake)}. Embers into the lidded bin outdoors, {then}.", oven.name,
                  None, who, rake + timedelta(minutes=30))


def _evening_reminder(told: Told, who: str, oven: OvenRecord) -> Iterator[Prompt]:
    """The fire of the evening before is raked, and its heat kept for the morning."""
    if oven.burning and oven.lit_at is not None:
        rake = to_five(oven.lit_at + timedelta(seconds=EVENING_S))
        yield _rake(f"plan-bank:{told.oven}:{oven.lit_at.isoformat()}", rake, oven, who,
                    f"door on for the night; light again {clock(told.acts['light'])}")


def _light_reminders(told: Told, who: str, light: datetime | None) -> Iterator[Prompt]:
    if light is None:
        return
    sure = told.acts.get("light sure")
    if sure is not None and sure < light:
        yield Prompt("plan", f"plan-light:{told.dish}@{told.oven}", sure,
                     f"{who}: light {told.oven} now to be sure of the {told.dish}; {clock(light)} is an even chance.",
                     told.oven, None, who, light)
    else:
        yield Prompt("plan", f"plan-light:{told.dish}@{told.oven}", light - MOVED,
                     f"{who}: light {told.oven} {clock(light)}.", told.oven, None, who, light + UNLIT)
    yield Prompt("plan", f"plan-unlit:{told.dish}@{told.oven}", light + UNLIT,
                 f"{who}: {told.oven} was to be lit by {clock(light)} and I have not heard of it. "
                 "Say 'lit', or ask for the plan again.", told.oven, None, who, light + timedelta(hours=3), urgent=True)


def _ladder(told: Told, oven: OvenRecord, view: View) -> Iterator[Prompt]:
    """The dishes of a ladder at their times, which move with the rake and with what is told."""
    who, rake = _who(oven.name, view), told.acts.get("rake")
    rungs = {act.removeprefix("in "): at for act, at in told.acts.items() if act.startswith("in ")}
    # A dish of another name by now ("shoulder", then "lamb shoulder") is the one that this name finds.
    left = {dish: at for dish, at in rungs.items()
            if (known := view.record.dishes.get(dish) or view.dish(dish)) is not None and known.in_at is None}
    if rake is None or not left:
        return
    if told.unlit(oven):
        moved = _ladder_moved(told, told.acts, oven, view)
        yield from moved
        if not moved:
            yield from _evening_reminder(told, who, oven)
            yield from _light_reminders(told, who, told.acts.get("light"))
        return
    if oven.burning:
        moved = _ladder_moved(told, told.acts, oven, view)
        yield from moved
        if moved:
            return
        yield _rake(f"plan-rake:{LADDER}@{told.oven}", rake, oven, who, "door on to settle")
        return
    raked = oven.raked_at or rake
    shift = timedelta(seconds=0) if abs(raked - rake) < MOVED else raked - rake
    after = {dish: to_five(at + shift) for dish, at in left.items() if at >= rake}
    if shift and after:
        late = "later" if shift > timedelta(0) else "earlier"
        listed = ", ".join(f"{dish} {clock(at)}" for dish, at in sorted(after.items(), key=lambda each: each[1]))
        yield Prompt("plan", f"plan-shift:{told.oven}:{raked.isoformat()}", view.now,
                     f"{who}: {oven.name} raked {abs(shift) // timedelta(minutes=1)} min {late} than planned. "
                     f"In: {listed}.", oven.name, None, who, view.now + timedelta(minutes=20))
    moved = _ladder_moved(told, told.acts | {f"in {dish}": at for dish, at in after.items()}, oven, view)
    yield from moved
    if moved:
        return
    for dish, at in after.items():
        yield Prompt("plan", f"plan-in:{dish}@{told.oven}:{raked.isoformat()}", at - SOON,
                     f"{who}: {capital(dish)} into {oven.name} {clock(at)}.", oven.name, dish, who,
                     at + timedelta(minutes=30))


def _ladder_again(told: Told, oven: OvenRecord, view: View) -> Ladder | None:
    """The ladder as it would be planned now, if the latest message may have moved it."""
    if not _may_have_moved(told, view):
        return None
    newest = [dated for dated in view.record.facts if dated.told == view.now]
    if all(isinstance(dated.fact, v.Reading) for dated in newest):
        # Readings come often; one in half an hour is enough, and an oven that is not lit waits for its fire.
        lately = view.now - AT_MOST_EVERY
        if told.unlit(oven) or any(isinstance(dated.fact, v.Reading) and lately < dated.told < view.now
                                      for dated in view.record.facts):
            return None
    elif oven.raked_at is not None and not oven.burning and not told.unlit(oven) and any(
            getattr(dated.fact, "act", "") == "raked" for dated in newest):
        return None                      # its times follow from the rake
    return work_out(v.Plan(oven=told.oven), view, quick=True).ladder


def _ladder_moved(told: Told, before: dict[str, datetime], oven: OvenRecord, view: View) -> list[Prompt]:
    """New times of a ladder: only the acts that moved, and a dish that no longer fits."""
    made = _ladder_again(told, oven, view)
    if made is None:
        return []
    acts = acts_of(made, oven.raked_at)
    moved = {act: at for act, at in acts.items()
             if act not in before or abs(at - before[act]) >= MOVED}
    if made.stage == "raked":
        moved.pop("rake", None)
    gone = [each for each in made.left if f"in {each.wish.dish}" in before]
    if not moved and not gone:
        return []
    last = max((when for key, when in view.said.items() if key.startswith(f"replan:{LADDER}@{oven.name}:")),
               default=None)
    if last is not None and view.now - last < AT_MOST_EVERY and not gone and not _meal_moved(view) \
            and min(acts.values()) - view.now > AT_MOST_EVERY:
        return []

    def was(act: str) -> str:
        return f"{clock(acts[act])} (was {clock(before[act])})" if act in before else clock(acts[act])

    parts = [f"{act} {oven.name} {was(act)}" for act in ("light", "rake") if act in moved]
    parts += [f"{act.removeprefix('in ')} in {was(act)}" for act in sorted(moved, key=lambda each: acts[each])
              if act.startswith("in ")]
    if "meal" in moved:
        parts.append(f"all ready by {was('meal')}, {odds(made.reached)}")
    lines = [f"{'; '.join(parts)}."] if parts else []
    lines += [f"Not {each.wish.dish}: {each.why}." for each in gone[:1]]
    who = _who(oven.name, view)
    times = "|".join(f"{act}={at.timestamp():.0f}" for act, at in acts.items())
    return [Prompt("plan", f"replan:{LADDER}@{oven.name}:{ALL_ACTS}:{times}:{odds(made.reached)}", view.now,
                   f"{who}: {' '.join(lines)}", oven.name, None, who, view.now + timedelta(minutes=20))]


def _meal_moved(view: View) -> bool:
    return any(isinstance(dated.fact, v.Serve) for dated in view.record.facts if dated.told == view.now)
