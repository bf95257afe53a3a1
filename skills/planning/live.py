"""The plan during the class: reminders at its acts, and new times when the day goes otherwise.

Only what changes an act is said: a time that moved ten minutes or more, or other odds. What was last said is known from
the answer to the plan (`view.told`) and from the keys of what was said unasked since (`view.said`).
"""
from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta

from skills import vocabulary as v
from skills.planning.course import RAKE_S, SETTLE_S
from skills.planning.firing_plan import EVENING_S, DishPlan, evening_fire
from skills.planning.ladder import Left
from skills.planning.say_ladder import acts_of, said_of_left, say_all_left, say_instead
from skills.planning.say_plan import LADDER, Worked, work_out
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
    # What the newest answer did not name is no longer planned.
    found = {whose: {act: each for act, each in acts.items() if each[0] == max(at for at, _ in acts.values())}
             for whose, acts in found.items()}
    words = {}
    for key, when in sorted(view.said.items(), key=lambda item: item[1]):
        if key.startswith("replan:"):
            whose, act, at_s, said = key.removeprefix("replan:").rsplit(":", 3)
            dish, _, oven = whose.partition("@")
            acts = found.get((dish, oven), {})
            if act == ALL_ACTS:
                if all(at <= when.timestamp() for at, _ in acts.values()):
                    acts.clear()
                    acts.update({name: (when.timestamp(), float(each)) for name, _, each in (
                        pair.rpartition("=") for pair in at_s.split("|") if pair)})
                continue
            if act in acts and acts[act][0] <= when.timestamp():
                acts[act] = (when.timestamp(), float(at_s))
                words[dish, oven] = (when.timestamp(), said)
    _only_the_newest(found)
    told = []
    ladders = {oven: max(at for at, _ in acts.values()) for (dish, oven), acts in found.items() if dish == LADDER}
    singles = {oven: max(at for (dish, where), acts in found.items() if where == oven and dish != LADDER
                         for at, _ in acts.values()) for dish, oven in found if dish != LADDER}
    for (dish, oven), acts in found.items():
        # A plan of everything in an oven takes the place of what was planned of one dish in it, and the reverse.
        if oven in ladders and oven in singles and (dish == LADDER) == (ladders[oven] < singles[oven]):
            continue
        at, share = acts.pop("odds", (0.0, 0.0))
        acts.pop("eat", None)
        said_at, said = words.get((dish, oven), (0.0, ""))
        told.append(Told(dish, oven, {act: moment(at_s, view.now.tzinfo) for act, (_, at_s) in acts.items()},
                         said if said_at > at else odds(share)))
    return told


def _only_the_newest(found: dict[tuple[str, str], dict[str, tuple[float, float]]]) -> None:
    """A dish is planned where it was planned last, by itself or among others."""
    newest: dict[str, float] = {}
    for (dish, _), acts in found.items():
        at = max((each for each, _ in acts.values()), default=0.0)
        for name in [act.removeprefix("in ") for act in acts if act.startswith("in ")] if dish == LADDER else [dish]:
            newest[name] = max(newest.get(name, 0.0), at)
    for (dish, oven), acts in list(found.items()):
        at = max((each for each, _ in acts.values()), default=0.0)
        if dish != LADDER and at < newest[dish]:
            del found[dish, oven]
        elif dish == LADDER:
            for act in [each for each in acts if at < newest.get(each.removeprefix("in "), 0.0)]:
                del acts[act]


def plan_prompts(view: View) -> Iterable[Prompt]:
    """Unasked words of the plans that this class was told of."""
    if view.record.ended is not None:
        return
    first: set[str] = set()
    known = plans_told(view)
    moved = [prompt for told in known if told.dish == LADDER
             for prompt in _ladder(told, view.record.ovens.get(told.oven, OvenRecord(told.oven)), view)]
    yield from moved
    known = _with_moved([told for told in known if told.dish != LADDER], moved, view)
    shared = {each.oven for each in known if sum(other.oven == each.oven for other in known) > 1}
    for told in sorted(known, key=lambda each: each.acts.get("light", view.now)):
        oven = view.record.ovens.get(told.oven, OvenRecord(told.oven))
        dish = view.record.dishes.get(told.dish)
        if (dish is not None and (dish.in_at is not None or dish.served)) or _filled(oven, view):
            continue
        if view.serve is not None and view.serve <= view.now:
            continue
        # One fire is lit and raked for all: for the dish that needs it first.
        if told.oven in first and (oven.raked_at is None or oven.burning) and (
                told.unlit(oven) or "rake" in told.acts):
            continue
        first.add(told.oven)
        # Dishes that share an oven are timed together, with those of the oven that left them out.
        made = _again(told, view) if told.oven not in shared and _may_have_moved(told, view) else None
        yield from _moved(told, made, oven, view)
        yield from _reminders(told, made, oven, view)


def _with_moved(known: Sequence[Told], prompts: Sequence[Prompt], view: View) -> list[Told]:
    """The plans of single dishes as they stand once these new times of a ladder are said: what it moves into another
    oven is called for there, and what it takes back is not."""
    found: dict[tuple[str, str], dict[str, float]] = {}
    gone: set[str] = set()
    for prompt in prompts:
        gone |= set(re.findall(r"[:|]in ([^=|]+)=", prompt.key))
        for key, at_s in prompt.said.items():
            whose, act = key.removeprefix("plan:").rsplit(":", 1)
            dish, _, oven = whose.partition("@")
            found.setdefault((dish, oven), {})[act] = at_s
    gone |= {dish for dish, _ in found}
    zone = view.now.tzinfo
    return [*(told for told in known if told.dish not in gone), *(
        Told(dish, oven, {act: moment(at_s, zone) for act, at_s in acts.items() if act not in ("odds", "eat")},
             odds(acts.get("odds", 0.0))) for (dish, oven), acts in found.items())]


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
        yield from _light_reminders(told, who, at("light"), view)
    elif oven.raked_at is not None and not oven.burning:
        into = to_five(oven.raked_at + timedelta(seconds=RAKE_S + SETTLE_S))
        yield Prompt("plan", f"plan-in:{told.dish}@{told.oven}:{oven.raked_at.isoformat()}", into - SOON,
                     f"{who}: {told.dish} into {oven.name} {clock(into)}, if floor and ceiling agree within about 20.",
                     oven.name, told.dish, who, into + timedelta(minutes=30))
    elif oven.burning:
        rake, pot = at("rake"), at("pot in")
        if rake is None and pot is not None:
            yield _in(told.dish, oven, pot, who)
        elif rake is not None:
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


def _light_reminders(told: Told, who: str, light: datetime | None, view: View) -> Iterator[Prompt]:
    if light is None:
        return
    sure = told.acts.get("light sure")
    if sure is not None and sure < light:
        yield Prompt("plan", f"plan-light:{told.dish}@{told.oven}", sure,
                     f"{who}: light {told.oven} now to be sure of the {told.dish}; {clock(light)} is an even chance.",
                     told.oven, None, who, light)
    elif light - MOVED > view.now:
        yield Prompt("plan", f"plan-light:{told.dish}@{told.oven}", light - MOVED,
                     f"{who}: light {told.oven} {clock(light)}.", told.oven, None, who, light + UNLIT)
    yield Prompt("plan", f"plan-unlit:{told.dish}@{told.oven}", light + UNLIT,
                 f"{who}: {told.oven} was to be lit by {clock(light)} and I have not heard of it. "
                 "Say 'lit', or ask for the plan again.", told.oven, None, who, light + timedelta(hours=3), urgent=True)


def _ladder(told: Told, oven: OvenRecord, view: View) -> Iterator[Prompt]:
    """The dishes of a ladder at their times, which move with the rake and with what is told."""
    who, rake = _who(oven.name, view), told.acts.get("rake")
    if (rake is None and not view.tended(oven.name)) or not _to_go_in(told.acts, view):
        return
    moved, acts = _ladder_moved(told, oven, view)
    yield from moved
    rake = acts.get("rake", rake)
    if rake is None:
        yield from _held_reminders(told, acts, oven, view)
    elif told.unlit(oven):
        yield from _evening_reminder(told, who, oven)
        yield from _light_reminders(told, who, acts.get("light"), view)
    elif oven.burning:
        yield _rake(f"plan-rake:{LADDER}@{told.oven}", rake, oven, who, "door on to settle")
    else:
        raked = oven.raked_at or rake
        for dish, at in _to_go_in(acts, view).items():
            if at >= rake:
                yield Prompt("plan", f"plan-in:{dish}@{told.oven}:{raked.isoformat()}", at - SOON,
                             f"{who}: {capital(dish)} into {oven.name} {clock(at)}.", oven.name, dish, who,
                             at + timedelta(minutes=30))


def _held_reminders(told: Told, acts: dict[str, datetime], oven: OvenRecord, view: View) -> Iterator[Prompt]:
    """A light oven is lit, and its dishes go in at their times."""
    who = _who(oven.name, view)
    if told.unlit(oven):
        yield from _light_reminders(told, who, acts.get("light"), view)
        return
    for dish, at in _to_go_in(acts, view).items():
        yield _in(dish, oven, at, who)


def _in(dish: str, oven: OvenRecord, at: datetime, who: str) -> Prompt:
    return Prompt("plan", f"plan-in:{dish}@{oven.name}:{(oven.lit_at or at).isoformat()}", at - SOON,
                  f"{who}: {capital(dish)} into {oven.name} {clock(at)}.", oven.name, dish, who,
                  at + timedelta(minutes=30))


def _to_go_in(acts: dict[str, datetime], view: View) -> dict[str, datetime]:
    """The dishes of a ladder that are not in yet. One of another name by now ("shoulder", then "lamb shoulder") is the
    one that this name finds."""
    rungs = {act.removeprefix("in "): at for act, at in acts.items() if act.startswith("in ")}
    return {dish: at for dish, at in rungs.items()
            if (known := view.record.dishes.get(dish) or view.dish(dish)) is not None and known.in_at is None}


def _ladder_again(told: Told, oven: OvenRecord, view: View) -> Worked | None:
    """What would be planned now, if the latest message may have moved it."""
    if not _may_have_moved(told, view):
        return None
    newest = [dated for dated in view.record.facts if dated.told == view.now]
    if all(isinstance(dated.fact, v.Reading) for dated in newest):
        # Readings come often; one in half an hour is enough, and an oven that is not lit waits for its fire.
        lately = view.now - AT_MOST_EVERY
        if told.unlit(oven) or any(isinstance(dated.fact, v.Reading) and lately < dated.told < view.now
                                   for dated in view.record.facts):
            return None
    elif oven.raked_at is not None and not oven.burning and not told.unlit(oven) \
            and abs(oven.raked_at - told.acts["rake"]) < MOVED and any(
                getattr(dated.fact, "act", "") == "raked" for dated in newest):
        return None                      # raked as planned: its times follow from that
    made = work_out(v.Plan(oven=told.oven), view, quick=True)
    return made if made.ladder is not None or made.plan is not None else None


def _ladder_moved(told: Told, oven: OvenRecord, view: View) -> tuple[list[Prompt], dict[str, datetime]]:
    """New times of a ladder, where an act moved or a dish no longer fits; and the acts that then hold."""
    before, made = told.acts, _ladder_again(told, oven, view)
    if made is None:
        return [], before
    acts, left = _acts_and_left(made, oven)
    moved = {act: at for act, at in acts.items() if act not in before or abs(at - before[act]) >= MOVED}
    if oven.raked_at is not None and not told.unlit(oven):
        moved.pop("rake", None)
    gone = [each for each in left if f"in {each.wish.dish}" in before]
    last = max((when for key, when in view.said.items() if key.startswith(f"replan:{LADDER}@{oven.name}:")),
               default=None)
    lately = last is not None and view.now - last < AT_MOST_EVERY and not gone and not _done_or_wanted(view) \
        and min(acts.values()) - view.now > AT_MOST_EVERY
    if lately or not (moved or gone):
        return [], before
    who = _who(oven.name, view)
    # What goes elsewhere is told with what that oven has already: its times may have moved with it.
    there = {each.instead.oven for each in gone if each.instead is not None}
    about = [each for each in left if each in gone or (each.instead is not None and each.instead.oven in there)]
    said = [_moved_words(moved, acts, before, oven.name), say_all_left(about, view.now)]
    reached = 0.0
    if made.ladder is not None:
        reached = made.ladder.reached
        if "meal" in moved:
            sure = odds(reached, made.ladder.odds)
            said.insert(1, f"All ready by {clock(acts['meal'])}, not {clock(before['meal'])}: {sure}.")
    elif made.plan is not None:
        reached = made.plan.reached
        sure = odds(reached, made.plan.odds)
        said.insert(1, f"{capital(made.plan.dish)} on the table at {clock(made.plan.eat)}: {sure}.")
        said += [f"Or {say_instead(made.instead, view.now)}."] if made.instead is not None else []
    times = "|".join(f"{act}={at.timestamp():.0f}" for act, at in acts.items())
    return [Prompt("plan", f"replan:{LADDER}@{oven.name}:{ALL_ACTS}:{times}:{odds(reached)}", view.now,
                   f"{who}: {' '.join(each for each in said if each)}", oven.name, None, who,
                   view.now + timedelta(minutes=20), said=said_of_left(left))], acts


def _acts_and_left(made: Worked, oven: OvenRecord) -> tuple[dict[str, datetime], tuple[Left, ...]]:
    """The acts of a plan, and what it leaves out; of the one dish that is left of a ladder in the same names."""
    if made.ladder is not None:
        return acts_of(made.ladder, oven.raked_at), made.ladder.left
    assert made.plan is not None
    rows = {row.what: row.at for row in made.plan.rows if row.what in ("light", "rake")}
    pot = made.plan.row("pot in")
    assert pot is not None
    rake = {"rake": oven.raked_at} if oven.raked_at is not None and "rake" not in rows else {}
    return rows | rake | {f"in {made.plan.dish}": pot.at, "meal": made.plan.eat}, made.left


def _moved_words(moved: dict[str, datetime], acts: dict[str, datetime], before: dict[str, datetime], oven: str) -> str:
    """ "rake dome 08:40 (was 07:50). In: loaves 09:50, shoulder 10:20." """
    fire = [f"{act} {oven} {clock(acts[act])}" + (f" (was {clock(before[act])})" if act in before else "")
            for act in ("light", "rake") if act in moved]
    into = [f"{act.removeprefix('in ')} {clock(moved[act])}" for act in sorted(moved, key=lambda each: acts[each])
            if act.startswith("in ")]
    head = "In" if fire else f"into {oven}"
    parts = ["; ".join(fire), f"{head}: {', '.join(into)}" if into else ""]
    return " ".join(f"{part}." for part in parts if part)


def _done_or_wanted(view: View) -> bool:
    """Whether the latest message told of the fire itself, or of another meal: that is not put off."""
    return any(isinstance(dated.fact, v.Serve) or getattr(dated.fact, "act", "") in ("lit", "raked", "out")
               for dated in view.record.facts if dated.told == view.now)
