""" "when do I light up to eat at half one?": what a plan needs from the room, and the plan in three lines."""
from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import datetime, timedelta

import numpy as np

from skills.dish.promise import promise
from skills.kitchen import ensemble as kitchen
from skills.kitchen.acts import OvenStory
from skills.planning import amounts, course
from skills.planning.asked_for import known_dishes, meal_asked, no_figures, oven_asked, ovens_known
from skills.planning.course import RAKE_S, SETTLE_S
from skills.planning.firing_plan import ODDS, POT_FOOT_M2, POT_MOST_KG, DishPlan, Wish, for_the_night, plan_dish
from skills.planning.heats import heat_of
from skills.planning.ladder import Ladder, Left, places
from skills.planning.other_oven import down_in, meal_of, placed, shared_out, sooner
from skills.planning.outcome import Start
from skills.planning.say_ladder import (
    said_of,
    said_of_left,
    say_all_left,
    say_instead,
    say_ladder,
    then,
    wood_of,
)
from skills.planning.shopping import mind
from skills.planning.wood import Stack, wood_told
from skills.record import DishRecord, OvenRecord
from skills.skill import Reply
from skills.view import View
from skills.vocabulary import Plan
from skills.wording import be, capital, clock, day_clock, hours, odds, quantile, the, to_five

MEMBERS = 100
# The name under which the times of a ladder are remembered.
LADDER = "ladder"
# The name under which the odds that were asked for are remembered.
ASKED = "odds asked"
# So many times what one dish can feed is said to be too many: a class eats of several dishes.
TOO_LITTLE = 3.0
# A raked oven is worth putting a pot in for so long, if it is still near the dish's heat.
RAKED_LATELY = timedelta(hours=8)


@dataclass(frozen=True)
class Worked:
    """A plan as it was worked out: of one dish or of several; `trouble` instead if something is missing."""
    trouble: str = ""
    start: Start | None = None
    plan: DishPlan | None = None
    wish: Wish | None = None
    ladder: Ladder | None = None
    roomy: str = ""
    cooking: DishRecord | None = None
    eat: datetime | None = None
    wanted: tuple[Wish, ...] = ()          # every dish as it was wanted, before it went into pots
    instead: DishPlan | None = None        # of one dish that will be late: its plan in another oven, which is sooner
    left: tuple[Left, ...] = ()            # what does not go with that one dish, a ladder of them being out of reach


def say_plan(question: Plan, view: View) -> Reply:
    """The answer in the room: at most three lines, each an act with its time, or what is missing."""
    reply = _said(question, view)
    return reply if question.odds is None else Reply(reply.lines, {**reply.said, ASKED: question.odds})


def _said(question: Plan, view: View) -> Reply:
    in_already = _all_in(question, view)
    if in_already is not None:
        return in_already
    made = work_out(question, view)
    if made.trouble:
        return Reply((made.trouble,))
    if made.ladder is not None:
        oven = view.record.ovens.get(made.ladder.oven)
        said = say_ladder(made.ladder, view.now, _inside(made.ladder.oven, eat=made.ladder.eat, view=view),
                          oven.raked_at if oven is not None else None, mind(made.wanted, view.record))
        return replace(said, lines=_in_oven(made.ladder.oven, said.lines, question, view))
    if made.cooking is not None and made.eat is not None:
        return _under_way(made.cooking, made.eat, view)
    assert made.plan is not None
    return Reply(_in_oven(made.plan.oven, lines_of(made, view), question, view),
                 said=said_of(made.plan) | said_of_left(made.left))


def _all_in(question: Plan, view: View) -> Reply | None:
    """What is left of the plan where every dish is in, in several ovens; none if something is still to go in."""
    dishes = [dish for dish in view.record.dishes.values() if not dish.served and dish.out_at is None]
    eat, _ = meal_asked(question, view)
    if eat is None or question.oven is not None or question.dish is not None or not dishes \
            or not all(dish.cooking for dish in dishes) or len({dish.oven for dish in dishes}) < 2:
        return None
    parts = [_under_way(dish, eat, view) for dish in dishes[:3]]
    return Reply(tuple(part.lines[0] for part in parts), {key: at for part in parts for key, at in part.said.items()})


def _in_oven(oven: str, lines: Sequence[str], question: Plan, view: View) -> tuple[str, ...]:
    """The same with the oven that was taken, where several are known and none was named."""
    if question.oven is not None or len(ovens_known(view)) < 2 or not lines or not lines[0]:
        return tuple(lines)
    return (f"In {the([oven])}: {lines[0][0].lower()}{lines[0][1:]}", *lines[1:])



def work_out(question: Plan, view: View, chance: float | None = None, quick: bool = False) -> Worked:
    """The plan for a meal, from what the class and earlier ones have told; chance: the odds asked, else those of the
    question, or of the one before; quick: nothing of the evening before."""
    chance = chance or question.odds or view.told.get(ASKED, {}).get("mid") or ODDS
    question, strange = known_dishes(question, view)
    if strange and question.dish is None:
        return Worked(no_figures(strange))
    eat, trouble = meal_asked(question, view)
    if eat is None:
        return Worked(trouble)
    oven, trouble = oven_asked(question, view)
    if oven is None:
        return Worked(trouble)
    wood, guests = wood_told(view.record), question.guests or view.record.guests
    unknown = tuple(Left(wish_of(name, None, None, eat, wood), "no figures for it, name its cut or kind")
                    for name in strange)
    several = _several(question, oven, view)
    left: tuple[Left, ...] = ()
    if several:
        wishes = [replace(wish_of(dish.name, dish, guests, eat, wood), odds=chance) for dish in several]
        inside = _cooking_in(oven, view)
        # A raked oven is used as it stands if something is in it, or something of this meal could go in by now.
        soon = view.now if inside else eat - timedelta(
            seconds=2.0 * max(wish.heat.usual_s for wish in wishes) + 7200.0)
        start = start_of(oven, view, soon)
        taken = sum(places(wish_of(dish.name, dish, guests, eat, wood)) for dish in inside)
        start, raked_first = for_the_night(start, max(wishes, key=lambda each: each.heat.usual_s), view.now)

        def down(dishes: Sequence[Wish]) -> Ladder:
            return down_in(start, dishes, eat, view.now, chance, not quick and raked_first is None, taken)

        made = down(wishes)
        if made.rungs or inside:
            made = shared_out(made, _others(oven, view, soon), down, view.now)
            made = replace(made, raked_first=raked_first, left=(*made.left, *unknown))
            return Worked(start=start, ladder=made, wanted=tuple(wishes))
        left = made.left
    dish, trouble = _dish(question, oven, view)
    if trouble:
        return Worked(trouble)
    record = view.record.dishes.get(dish)
    if record is not None and record.cooking:
        return Worked(cooking=record, eat=eat)
    wish = wish_of(dish, record, guests, eat, wood)
    soon = eat - timedelta(seconds=2.0 * wish.heat.usual_s + 7200.0)
    start = start_of(oven, view, soon)
    wanted = (wish,)
    roomy, wish = _fit_pots(wish, start)
    wish = replace(wish, odds=chance)
    start, raked_first = for_the_night(start, wish, view.now)
    plan = plan_dish(start, wish, view.now, not quick and raked_first is None)
    late = meal_of(plan) != eat
    free = _others(oven, view, soon) if late or left else []
    instead = sooner(free, wish, meal_of(plan), view.now) if late else None
    left = placed([each for each in left if each.wish.dish != dish],
                  [each for each in free if instead is None or each.name != instead.oven], view.now)
    return Worked(start=start, plan=replace(plan, raked_first=raked_first), wish=wish, roomy=roomy, wanted=wanted,
                  instead=instead, left=(*left, *unknown))






def _others(oven: str, view: View, soon: datetime) -> list[Start]:
    """The other ovens that were told of and in which nothing cooks."""
    return [start_of(name, view, soon) for name in view.record.ovens if name != oven and not _cooking_in(name, view)]


def _several(question: Plan, oven: str, view: View) -> list[DishRecord]:
    """The dishes that are still to go into one firing; none if it is of one dish."""
    record = view.record.ovens.get(oven)
    if question.dish is not None and not question.also:
        return []
    dishes = [dish for dish in view.record.dishes.values() if not dish.served] if question.dish is None else \
        [view.dish(name) or DishRecord(name) for name in (question.dish, *(question.also or ()))]
    if record is None or record.lit_at is None:
        return dishes if len(dishes) > 1 and not any(dish.cooking for dish in dishes) else []
    waiting = [dish for dish in dishes if dish.in_at is None and dish.oven in (None, oven)]
    return waiting if len(waiting) + len(_cooking_in(oven, view)) > 1 else []


def _cooking_in(oven: str, view: View) -> list[DishRecord]:
    return [dish for dish in view.record.dishes.values() if dish.cooking and dish.oven == oven]


def _inside(oven: str, eat: datetime, view: View) -> str:
    """ "Shoulder is in: tender 12:50 (12:15 to 13:25)." """
    said = []
    for dish in _cooking_in(oven, view):
        believed = promise(dish, view, eat)
        when = f": {believed.when()}" if believed is not None else ""
        said.append(f"{capital(dish.name)} in{when}.")
    return " ".join(said[:2])


def _dish(question: Plan, oven: str, view: View) -> tuple[str, str]:
    if question.dish is not None:
        known = view.dish(question.dish)
        return (known.name if known is not None else question.dish), ""
    waiting = [name for name, dish in view.record.dishes.items()
               if dish.in_at is None and not dish.served and dish.oven in (None, oven)]
    if len(waiting) == 1 and len(view.record.ovens) > 1 and not _cooking_in(oven, view):
        return waiting[0], ""
    found = view.dish(None)
    if found is not None:
        return found.name, ""
    names = [name for name, dish in view.record.dishes.items() if not dish.served]
    if not names:
        return "", "What is cooking? Such as '3 kg lamb shoulder, litre of hot stock, iron pot'."
    # The slowest decides when to light.
    return max(names, key=lambda name: heat_of(name, view.record.dishes[name].cut)[0].usual_s), ""


def wish_of(name: str, dish: DishRecord | None, guests: int | None, eat: datetime, wood: Stack) -> Wish:
    """The dish as far as it is known; meat that was not weighed is reckoned from the guests."""
    load = {} if dish is None else {key: value for key in ("cut", "meat_kg", "liquid_l", "pan", "start")
                                    if (value := getattr(dish, key)) is not None}
    heat, cut, known = heat_of(name, dish.cut if dish is not None else None)
    notes = [] if known else [f"no figures for {name}: reckoned as {cut.name}"]
    serving, told = amounts.serving_of(heat.name, load.get("cut"), name), load.get("meat_kg")
    if isinstance(told, float | int) and guests is not None and guests * serving.low > TOO_LITTLE * told:
        notes.append(f"{told:g} kg feeds about {max(1, round(told / serving.low))}, not {guests}")
    if told is None and guests is not None:
        load["meat_kg"] = round(guests * 0.5 * (serving.low + serving.high) * amounts.OVER, 1)
        notes.append(f"{load['meat_kg']:g} kg for {guests}")
    return Wish(name, heat, load, eat, wood=wood, notes=tuple(notes))


def _fit_pots(wish: Wish, start: Start) -> tuple[str, Wish]:
    """What does not go into one pot goes into several; what the floor cannot hold is said. The plan is for one pot."""
    kg = wish.load.get("meat_kg")
    if not isinstance(kg, float | int) or kg <= POT_MOST_KG or wish.heat.name not in ("braise", "beans", "roots"):
        return "", wish
    pots = int(np.ceil(kg / POT_MOST_KG))
    room = max(1, int(float(np.median(start.ensemble.built.floor_m2)) / POT_FOOT_M2))
    each = kg / pots
    load = {**wish.load, "meat_kg": each}
    if "liquid_l" in load and isinstance(load["liquid_l"], float | int):
        load["liquid_l"] = float(load["liquid_l"]) / pots
    beyond = f", {the([start.name])} holds about {room}: the rest needs another oven or day" if pots > room else ""
    return f"{kg:.0f} kg is {pots} pots of {each:.1f} kg{beyond}", replace(wish, load=load)


def start_of(name: str, view: View, soon: datetime, members: int = MEMBERS) -> Start:
    """The oven as it stands: as the models follow it, or as earlier classes left it, cold.

    soon: a pot for this meal would go in about then; before that a raked oven waits for another fire.
    """
    setting, record = view.setting, view.record.ovens.get(name)
    standing = view.belief.standing if view.belief is not None else None
    now_s = int(view.now.timestamp()) // 60 * 60
    if standing is not None and name in standing.names:
        alone = course.tiled(standing, name, 1)
    else:
        alone = course.tiled(kitchen.assemble(setting, {name: OvenStory(name, now_s)}, now_s), name, 1)
    alone = kitchen.thinned(alone, min(members, setting.foreseeing))
    tended = view.tended(name)
    if record is None:
        return Start(name, alone, setting, tended)
    settles_s = _settles_s(record, view, tended) if soon <= view.now else None
    fed = record.fed_at or record.lit_at
    fed_ago_s = max(0.0, (view.now - fed).total_seconds()) if fed is not None else float(course.FEED_EVERY_S)
    lit_ago_s = (view.now - record.lit_at).total_seconds() if record.lit_at is not None else 0.0
    return Start(name, alone, setting, tended, record.burning, settles_s, fed_ago_s, lit_ago_s)


def _settles_s(oven: OvenRecord, view: View, tended: bool) -> float | None:
    """How long a raked oven has still to settle; None if it has to be fired."""
    if tended:
        if not oven.burning or oven.lit_at is None:
            return None
        return max(0.0, course.TENDED_WARM_S - (view.now - oven.lit_at).total_seconds())
    if oven.burning or oven.raked_at is None or view.now - oven.raked_at > RAKED_LATELY:
        return None
    return max(0.0, RAKE_S + SETTLE_S - (view.now - oven.raked_at).total_seconds())


def _under_way(dish: DishRecord, eat: datetime, view: View) -> Reply:
    """The pot is in: what is left of the plan."""
    believed = promise(dish, view, eat)
    if believed is None:
        return Reply((f"{capital(dish.name)} {be(dish.name)} in, and I cannot follow that yet. An air reading would "
                      "do.",))
    out = to_five(eat - timedelta(seconds=heat_of(dish.name, dish.cut)[0].rest_s))
    return Reply((f"{capital(dish.name)} {be(dish.name)} in: {believed.when()}; out by {clock(out)}.",
                  believed.odds_line()), said={dish.name: quantile(believed.tender_s, 0.5)})


def lines_of(made: Worked, view: View) -> tuple[str, ...]:
    """At most three lines: the acts; wood and what to mind; another oven, the evening before, or what would sharpen the
    plan."""
    plan, wish = made.plan, made.wish
    assert plan is not None
    assert wish is not None
    first = _ahead_line(plan, view.now) if plan.mode == "ahead" else _now_line(plan, view.now)
    second = "; ".join(part for part in (_wood(plan, wish), made.roomy, *plan.notes) if part)
    second = f"{capital(second)}." if second else ""
    second = " ".join(part for part in (second, mind(made.wanted, view.record)) if part)
    other = f"Or {say_instead(made.instead, view.now)}." if made.instead is not None else ""
    third = " ".join(part for part in (other, say_all_left(made.left, view.now)) if part)
    third = third or _sharper(plan, view) or _evening_line(plan, view.now)
    return tuple(line for line in (first, second, third) if line)


def _near(plan: DishPlan) -> float:
    return 5.0 * round(float(np.median(plan.outcome.heat_c)) / 5)


def _in(plan: DishPlan) -> str:
    """What goes in: "pot in", "loaves in"."""
    named = {"loaves": "loaves in", "flatbreads": "first flatbread", "roast": "roast in", "bird": "bird in",
             "fish": "fish in", "drying": "trays in"}
    return named.get(plan.heat.name, "pot in")


def _ahead_line(plan: DishPlan, now: datetime) -> str:
    light, pot = plan.row("light"), plan.row("pot in")
    assert pot is not None
    if light is None:
        sure = f" ({clock(pot.sure)} to be {odds(plan.odds)} sure)" if pot.sure and pot.sure != pot.at else ""
        return f"{then('no fire needed', plan.raked_first, now)}: {plan.dish} in {day_clock(pot.at, now)}{sure}, " \
               f"{plan.heat.place} near {_near(plan):.0f}."
    sure = ""
    if light.sure is not None:
        night = " the evening before" if light.sure.date() != light.at.date() else ""
        sure = f" ({clock(light.sure)}{night} to be {odds(plan.odds)} sure)"
    fire = "feed small" if plan.tended else f"{hours(float(np.median(plan.outcome.fire_s)))} fire"
    if not plan.tended and not plan.heat.fire:
        fire += f", {SETTLE_S // 60} min settle"
    line = f"{then('light', plan.raked_first, now)} {day_clock(light.at, now)}{sure}: {fire}, {_in(plan)} " \
           f"{clock(pot.at)} near {_near(plan):.0f}, eat {clock(plan.eat)}."
    if light.sure is None:
        line += f" {capital(odds(plan.odds))} is out of reach: at best {odds(plan.reached, plan.odds)}."
    return line


def _now_line(plan: DishPlan, now: datetime) -> str:
    """Late, or under way."""
    rake, pot = plan.row("rake"), plan.row("pot in")
    assert pot is not None
    acts = []
    if plan.row("light") is not None:
        acts.append("light now")
    if rake is not None:
        acts.append("rake now" if rake.at <= now + timedelta(minutes=5) else f"rake {clock(rake.at)}")
    acts.append(f"{_in(plan)} now" if pot.at <= now + timedelta(minutes=5) else f"{_in(plan)} {clock(pot.at)}")
    table = f"on the table at {day_clock(plan.eat, now)}: {odds(plan.reached, plan.odds)}"
    later = ""
    if plan.reached < plan.odds - 1e-9:
        later = f" {capital(odds(plan.odds))} by {day_clock(plan.sure_meal, now)}." if plan.sure_meal is not None else \
            f" {capital(odds(plan.odds))} is out of reach on this heat."
    return f"{capital(', '.join(acts))} near {_near(plan):.0f}; {table}.{later}"


def _wood(plan: DishPlan, wish: Wish) -> str:
    if plan.kg <= 0.05:
        return ""
    each = f"about {plan.kg:.0f} kg of wood, {plan.splits} splits"
    have = f" (have {plan.kg_sure:.0f} kg)" if plan.kg_sure >= plan.kg + 1 else ""
    remark = wish.wood.remark()
    return f"{each}{have}" + (f" {remark}" if remark.startswith("at ") else f"; {remark}" if remark else "")


def _evening_line(plan: DishPlan, now: datetime) -> str:
    evening = plan.evening
    if evening is None:
        return ""
    sure = f" ({clock(evening.light_sure)})" if evening.light_sure is not None else ""
    when = "tonight" if evening.lit.date() == now.date() else "the evening before"
    then = f"light {clock(evening.light)}{sure} for {hours(evening.fire_s)}" if evening.fire_s > 0 else \
        f"no fire in the morning, pot in {clock(evening.pot_in)}"
    return f"Or fire 2 h {when} at {clock(evening.lit)}, rake, door on; then {then}."


def _sharper(plan: DishPlan, view: View) -> str:
    """What would narrow a plan of an oven that nobody has described."""
    record = view.record.ovens.get(plan.oven)
    if plan.oven in view.setting.ovens or (record is not None and (record.size or record.readings)):
        return ""
    return f"I do not know {the([plan.oven])} yet: say its size, such as '90 across, 6 cm brick, 10 of insulation'."


def wood_burnt(made: Worked, sure: bool = False) -> list[tuple[str, float]]:
    """For each oven that burns any the wood of a plan [kg]; sure: what to have there to keep the odds."""
    plan = made.plan
    burnt = wood_of(made.ladder) if made.ladder is not None else \
        [(plan.oven, plan.kg, plan.kg_sure)] if plan is not None else []
    return [(oven, max(kg, have) if sure else kg) for oven, kg, have in burnt if kg > 0.05]
