"""When a dish is done, and whether the meal is on time."""
from __future__ import annotations

import math
from collections.abc import Iterable
from datetime import datetime, timedelta

from skills.dish.brief import brief_line, is_brief
from skills.dish.carry import carry_line, out_at, rest_words
from skills.dish.liquor import liquid_prompts, liquor_line
from skills.dish.moves import BEHIND, SURE, best_move
from skills.dish.pot_in import say_pot_in, where_to
from skills.dish.promise import Promise, promise
from skills.record import DishRecord
from skills.skill import Prompt, Reply, Skill
from skills.view import REST, View
from skills.vocabulary import Eta, Plan, ReadyBy
from skills.wording import be, capital, clock, day_clock, moment, odds, quantile, the, was

# A dish set out later than this before the meal cannot be rested and carried (common practice, no source).
CARRY = timedelta(minutes=5)
# Odds of a meal on time below this are told unasked.
MISSES = 0.4


def _unknown(name: str | None, view: View) -> Reply:
    known = list(view.record.dishes)
    if name is not None:
        have = f"Dishes so far: {', '.join(known)}." if known else "No dish has been named yet."
        return Reply((f"Nothing is known of {the([name])} in this class. {have}",))
    left = [dish for dish in view.record.dishes.values() if not dish.served]
    oven = where_to(view)
    waiting = all(dish.in_at is None and dish.out_at is None for dish in left)
    if name is None and len(left) != 1 and waiting and oven is not None and oven.lit_at is not None:
        return Reply(say_pot_in(None, oven, view))      # it is the oven that is asked about, whatever goes in
    if len(left) > 1:
        return Reply((f"Which one: {the([dish.name for dish in left])}?",))
    return Reply(("No pot is in yet. Say what goes in, such as '3 kg lamb shoulder, 1 l hot stock', then 'lamb in'.",))


def _not_in(dish: DishRecord, view: View) -> Reply:
    if is_brief(dish):
        return Reply((brief_line(dish, where_to(view), view),))
    if dish.served:
        return Reply((f"{capital(dish.name)} {was(dish.name)} served at {clock(dish.stages['served'])}.",))
    if dish.out_at is not None:
        told = f", called {dish.tender} at {clock(dish.tender_at)}" if dish.tender_at and dish.tender else ""
        return Reply((f"{capital(dish.name)} came out at {clock(dish.out_at)}{told}.",))
    oven = where_to(view)
    if oven is None:
        return Reply((f"{capital(dish.name)} {be(dish.name)} not in an oven yet; I can say more then.",))
    return Reply(say_pot_in(dish, oven, view))


def _planned(question: ReadyBy, view: View) -> Reply | None:
    """The plan for a meal of what has not gone in; none if it cannot be made."""
    from skills.planning.say_plan import say_plan
    # An oven that burns, or is raked, answers for itself.
    begun = any(oven.lit_at is not None for oven in view.record.ovens.values())
    reply = say_plan(Plan(dish=question.dish, by=question.by, oven=question.oven), view) if not begun else None
    # What is only asked is not taken for the plan.
    return Reply(reply.lines) if reply is not None and reply.said else None


def _dishes(name: str | None, view: View) -> list[DishRecord]:
    dish = view.dish(name)
    if dish is not None:
        return [dish]
    return [each for each in view.record.dishes.values() if each.cooking] if name is None else []


def say_when_done(question: Eta, view: View) -> Reply:
    """ "when will the ribs be done?"; with an oven's name: when is it ready to load?"""
    if question.dish is None and question.oven is not None:
        return _oven_ready(question.oven, view)
    dishes = _dishes(question.dish, view)
    if not dishes:
        return _unknown(question.dish, view)
    lines: list[str] = []
    said: dict[str, float] = {}
    for dish in dishes[:3]:
        if not dish.cooking or dish.served:
            return _not_in(dish, view)
        believed = promise(dish, view)
        if believed is None:
            lines.append(_lacking(dish, view))
            continue
        lines.append(f"{believed.eta_line()} {believed.odds_line()}".strip())
        said[dish.name] = quantile(believed.tender_s, 0.5)
        if len(dishes) == 1 and dish.tender not in ("tender", "falling"):
            if believed.serve is not None and believed.share < BEHIND and (move := best_move(dish, view)):
                lines.append(move.line())
            lines.append(liquor_line(dish, view) or carry_line(dish, view) or _slowed_line(dish, view))
    return Reply(tuple(line for line in lines if line), said)


def _slowed_line(dish: DishRecord, view: View) -> str:
    """What in the water changes the time, so that nobody is surprised and the next pot waits with it."""
    found = () if view.belief is None else view.belief.slowings(dish.name)
    return found[0].says if found else ""


def _lacking(dish: DishRecord, view: View) -> str:
    """What the models want before they can say anything of a dish that is in; of what bakes in minutes, how long."""
    if is_brief(dish):
        return brief_line(dish, view.record.ovens.get(dish.oven or ""), view)
    if dish.meat_kg is None and dish.pan is None:
        return f"{capital(dish.name)}: say its weight and what it stands in, then I can work it out."
    oven = the([dish.oven]) if dish.oven else "the oven"
    reads = f"{dish.oven} floor 180 air 170" if dish.oven else "floor 180 air 170"
    return f"{capital(dish.name)}: nothing is known of {oven} yet. Say what it reads, such as '{reads}'."


def _oven_ready(name: str, view: View) -> Reply:
    oven = view.oven(name)
    if oven is None:
        return Reply((f"Nothing is known of {the([name])} yet. Say when it was lit and what it reads.",))
    waiting = [dish for dish in view.record.dishes.values() if dish.in_at is None and not dish.served]
    return Reply(say_pot_in(waiting[0] if len(waiting) == 1 else None, oven, view))


def say_whether_in_time(question: ReadyBy, view: View) -> Reply:
    """ "will the lamb make one thirty?" """
    from skills.dated import coming_time
    dishes = _dishes(question.dish, view)
    by = coming_time(question.by, view.now) if question.by else view.serve
    if not dishes:
        waits = question.dish is None and any(each.in_at is None for each in view.record.dishes.values())
        return (_planned(question, view) if waits else None) or _unknown(question.dish, view)
    if by is None:
        return Reply(("By when? Say the eating time, such as 'eating at 13:30'.",))
    believed = [(dish, promise(dish, view, by)) for dish in dishes if dish.cooking and not dish.served]
    if not believed:
        # What is in no oven yet is in time if its plan is.
        waits = all(dish.in_at is None and not dish.served and not is_brief(dish) for dish in dishes)
        return (_planned(question, view) if waits else None) or _not_in(dishes[0], view)
    known = [(dish, each) for dish, each in believed if each is not None]
    if not known:
        return Reply((_lacking(dishes[0], view),))
    dish, worst = min(known, key=lambda pair: pair[1].share)
    lines = [f"{capital(dish.name)} on the table at {day_clock(by, view.now)}: {odds(worst.share)}. "
             f"{capital(worst.when())}."]
    if worst.share < SURE and dish.tender not in ("tender", "falling") and (move := best_move(dish, view, by)):
        lines.append(move.line())
    lines.append(liquor_line(dish, view))
    return Reply(tuple(line for line in lines if line), {dish.name: quantile(worst.tender_s, 0.5)})


def ready_prompts(view: View) -> Iterable[Prompt]:
    """A look when the dish is as likely tender as not; again after each look that found it short of that."""
    for dish in view.record.dishes.values():
        if not dish.cooking or dish.tender in ("tender", "falling"):
            continue
        believed = promise(dish, view)
        if believed is None:
            continue
        mid = quantile(believed.tender_s, 0.5)
        if not math.isfinite(mid):
            continue
        due = out_at(dish, view) or max(moment(mid, view.now.tzinfo), view.now)
        if dish.looked_at is not None:
            due = max(due, dish.looked_at + timedelta(minutes=20))
        due = view.when_there(due)
        looks = sum(1 for dated in view.record.facts if dated.dish == dish.name and dated.fact.is_ == "check")
        table = _out_by(believed, due)
        told = rest_words(dish, view) or f"{capital(believed.when())}."
        who = view.minder(dish.oven, dish.name)
        yield Prompt("ready", f"ready:{dish.name}:{looks}", due,
                     f"{who}: {believed.finish.trial} the {dish.name}. {told}{table}",
                     dish.oven, dish.name, who, due + timedelta(minutes=30))


def _out_by(believed: Promise, due: datetime) -> str:
    if believed.serve is None or believed.serve - REST < due:
        return ""
    off = "Out" if believed.dish.ring_at is None else "Off the ring"
    return f" {off} by {clock(believed.serve - REST)} for {clock(believed.serve)}."


def miss_key(dish: str, serve: datetime) -> str:
    """The name under which "this will miss the meal" is said once."""
    return f"miss:{dish}:{clock(serve)}"


def serve_prompts(view: View) -> Iterable[Prompt]:
    """The meal will be missed while a move is left; and: time to take it out."""
    serve = view.serve
    if serve is None or view.record.ended is not None:
        return
    lead = view.record.lead or ""
    for dish in view.record.dishes.values():
        if dish.served:
            continue
        believed = promise(dish, view) if dish.cooking else None
        key = miss_key(dish.name, serve)
        if believed is not None and believed.share < MISSES and view.now < serve - timedelta(minutes=25) \
                and dish.tender not in ("tender", "falling") and key not in view.said \
                and (move := best_move(dish, view)):
            yield Prompt("serve", key, view.now,
                         f"{lead}: {dish.name} will likely miss {clock(serve)}: {believed.when()}, "
                         f"on the table in time {odds(believed.share)}.\n"
                         f"{move.line()}", dish.oven, dish.name, lead, serve, urgent=True)
        if dish.cooking and dish.tender in ("tender", "falling") and not is_brief(dish):
            who = view.minder(dish.oven, dish.name)
            out, off = serve - REST - CARRY, "off the ring" if dish.ring_at is not None else "out"
            yield Prompt("serve", f"out:{dish.name}:{clock(serve)}", max(out, view.now),
                         f"{who}: {dish.name} {off} by {clock(out + CARRY)}, 20 min rest, table {clock(serve)}.",
                         dish.oven, dish.name, who, serve, act_at=out + CARRY,
                         late=f"{dish.name} was to be {off} by {clock(out + CARRY)}: table {clock(serve)}.")


SKILL = Skill(
    name="dish", about="when a dish is tender, and whether the meal is on time",
    answers={Eta: say_when_done, ReadyBy: say_whether_in_time}, prompts=(ready_prompts, serve_prompts, liquid_prompts),
    examples=("when will the ribs be done?", "will the lamb make half one?"),
)
