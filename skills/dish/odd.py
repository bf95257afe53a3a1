"""What is said of a pot and cannot be as it was told: one line each, and nothing is lost."""
from __future__ import annotations

from datetime import timedelta

from skills import vocabulary as v
from skills.dated import Dated
from skills.dish.cuts import cut_of
from skills.naming import UNNAMED_DISH
from skills.record import ClassRecord, DishRecord
from skills.wording import capital, clock, number, the

# Two people who tell of one act within this time mean one act (common practice, no source).
SAME_ACT = timedelta(minutes=15)
_UNITS = {"meat_kg": " kg", "liquid_l": " l", "done_c": " in the middle"}


def odd_line(dated: Dated, before: ClassRecord) -> str:
    """The line for a fact that does not fit the record before it; empty if it fits."""
    fact, name = dated.fact, dated.dish
    if isinstance(fact, v.Food) and _no_heat_of_food(fact, name, before):
        what = " ".join(([] if name in (None, UNNAMED_DISH) else [str(name)]) + [fact.part or "core"])
        doubt = ": frozen, or a slip? Noted" if fact.celsius < v.FOOD_C[0] else " cannot be right: noted"
        return f"{capital(what)} {number(fact.celsius)}{doubt}, not used. Read it again, such as '{what} 88'."
    if name is None:
        return ""
    known = before.dishes.get(name, DishRecord(name))
    if isinstance(fact, v.Load) and fact.odd():
        values = " and ".join(f"{number(getattr(fact, each))}{_UNITS[each]}" for each in fact.odd())
        return f"{capital(name)}: {values} cannot be right: noted, not used. " \
               f"Say it again, such as '3 kg {name}, 1 l stock'."
    if isinstance(fact, v.Check) and known.served:
        return f"{capital(name)}: served at {clock(known.stages['served'])}. Noted; nothing is forecast of it any more."
    if not isinstance(fact, v.Pot):
        return _cooks_unseen(dated, known, before)
    if fact.act == "topped_up" and fact.odd_litres:
        return (f"{capital(name)}: {number(fact.litres or 0)} l cannot be right: noted, "
                f"{number(v.USUAL_TOP_UP_L)} l used. Say it again.")
    if fact.act in ("in", "moved") and fact.onto is None:
        return _put_in(dated, known)
    if fact.act == "out" and fact.onto == "ring" and known.ring_at is not None:
        return f"{capital(name)}: on the ring since {clock(known.ring_at)} already. Nothing changed."
    if fact.act == "out" and not known.cooking and (fact.onto is None or known.in_at is None or known.served):
        return _taken_out(dated, known)
    if fact.act == "turned" and not known.cooking:
        return f"{capital(name)}: not in an oven by my log{_since(known)}. Noted."
    return ""


# So hot no liquor is that only stands about (judgement).
_IN_THE_HEAT_C = 80.0


def _cooks_unseen(dated: Dated, known: DishRecord, before: ClassRecord) -> str:
    """ "still tough", "liquor 94" of a loaded pot that nobody put anywhere: the line that was missed, asked once."""
    if known.cooking or known.in_at is not None or known.out_at is not None or (
            known.meat_kg is None and known.liquid_l is None):
        return ""
    asked = any(each.dish == known.name and _in_the_heat(each.fact) for each in before.facts)
    if asked or not _in_the_heat(dated.fact):
        return ""
    return (f"{capital(known.name)}: not in an oven by my log. If it is, say since when, such as "
            f"'{known.name} in at {clock(dated.at)}'.")


def _in_the_heat(fact: v.Fact) -> bool:
    if isinstance(fact, v.Food):
        return fact.part == "liquid" and fact.celsius >= _IN_THE_HEAT_C and not fact.odd
    return isinstance(fact, v.Check) and fact.tender is not None


def _no_heat_of_food(fact: v.Food, name: str | None, before: ClassRecord) -> bool:
    """Whether it is no heat of food; of what nobody called a core or the liquor, and that is no meat, it may be one:
    jam and fat get hotter."""
    if not fact.odd:
        return False
    known = before.dishes.get(name or "", DishRecord(name or ""))
    cut, named = cut_of(known)
    return fact.part is not None or fact.celsius < v.FOOD_C[0] or (named and cut.finish.flesh)


def _put_in(dated: Dated, known: DishRecord) -> str:
    place = the([dated.oven or "oven"])
    if known.served:
        return f"{capital(known.name)}: served at {clock(known.stages['served'])}; noted as back in {place}."
    if known.oven is not None and known.oven == dated.oven and known.in_at is not None:
        return f"{capital(known.name)}: in {place} since {clock(known.in_at)} already. Nothing changed."
    return ""


def _taken_out(dated: Dated, known: DishRecord) -> str:
    if known.out_at is not None:
        return "" if dated.at - known.out_at <= SAME_ACT else f"{capital(known.name)}: out since {clock(known.out_at)}."
    return f"{capital(known.name)}: not in an oven by my log. If it was, say when, such as '{known.name} in at 08:00'."


def _since(known: DishRecord) -> str:
    return f" (out at {clock(known.out_at)})" if known.out_at is not None else ""
