""" "what do I need to buy?", "how much wood?": the list for the dishes that were told, and the wood of the plan."""
from __future__ import annotations

import re

import numpy as np

from skills.dish.liquor import LIQUOR, say_liquor
from skills.planning.amounts import MOST_GUESTS, say_amount
from skills.planning.room import POTS, say_room
from skills.planning.say_plan import wish_of, wood_burnt, work_out
from skills.planning.shopping import mind, shopping
from skills.planning.wood import wood_told
from skills.skill import Reply
from skills.view import View
from skills.vocabulary import HowMuch, Plan
from skills.wording import capital, the

MOST_ITEMS = 6
_WOOD = re.compile(r"\b(?:wood|splits?|logs?|firewood|kindling)\b")


def say_how_much(question: HowMuch, view: View) -> Reply:
    """An amount of one thing, the wood, or all that the dishes of the class take."""
    if question.item is None:
        return _list(question, view)
    if _WOOD.search(question.item.lower()):
        return _wood(question, view)
    cooks = any(dish.cooking for dish in view.record.dishes.values())
    if question.guests is None and LIQUOR.search(question.item.lower()) and (cooks or question.item == "liquor"):
        return say_liquor(question.dish, view)
    if question.guests is None and POTS.search(question.item.lower()):
        return say_room(view)
    return say_amount(question, view)


def _list(question: HowMuch, view: View) -> Reply:
    guests = question.guests if question.guests is not None else view.record.guests
    dishes = [dish for dish in view.record.dishes.values() if not dish.served
              and question.dish in (None, dish.name)]
    if not dishes:
        return Reply(("What is cooking? Tell me the dishes, such as '3 kg lamb shoulder, iron pot', then ask again.",))
    if guests is None and any(dish.meat_kg is None for dish in dishes):
        return Reply(("For how many? Such as 'what do I need to buy for 14?'.",))
    if guests is not None and not 1 <= guests <= MOST_GUESTS:
        return Reply((f"{guests} guests is beyond what I can reckon; ask for 1 to {MOST_GUESTS}.",))
    eat = view.serve or view.now
    wishes = [wish_of(dish.name, dish, None, eat, wood_told(view.record)) for dish in dishes]
    items = shopping(wishes, guests or 0, view.record)
    head = f"For {guests}" if guests is not None else "By what was told"
    over = ", a tenth over where I reckon" if any(dish.meat_kg is None for dish in dishes) else ""
    more = f"; and {len(items) - MOST_ITEMS} more" if len(items) > MOST_ITEMS else ""
    lines = [f"{head}{over}: {'; '.join(item.amounts() for item in items[:MOST_ITEMS])}{more}."]
    avoids = mind(wishes, view.record)
    if avoids:
        lines.append(f"{avoids} Keep the labels.")
    lines.append("Yields and pots are common practice; wood and one spare firing: ask 'how much wood'.")
    return Reply(tuple(lines))


def _wood(question: HowMuch, view: View) -> Reply:
    """The wood of the plan that would be made now."""
    made = work_out(Plan(oven=question.oven, dish=question.dish), view, quick=True)
    if made.trouble:
        return Reply((made.trouble,))
    if made.cooking is not None:
        return Reply(("The pot is in: what a fire still wants, 'does the oven want wood?' says.",))
    burnt = wood_burnt(made)
    if not burnt:
        return Reply(("No more wood: what is hot now is enough for this meal.",))
    splits = f", {made.plan.splits} splits" if made.plan is not None else ""
    kg = " and ".join(f"{kg:.0f} kg for {the([oven])}" for oven, kg in burnt)
    have = sum(np.ceil(kg) for _, kg in wood_burnt(made, sure=True))
    lines = [f"About {kg}{splits}; have {have:.0f} kg there, and as much again for one spare firing."]
    told = wood_told(view.record).remark()
    if told:
        lines.append(f"The wood is {told}." if told.startswith("at ") else f"{capital(told)}.")
    return Reply(tuple(lines))
