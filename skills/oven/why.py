"""A true reason in a sentence or two, from the model at this minute: worth repeating to guests."""
from __future__ import annotations

import numpy as np

from skills.dish.cuts import cut_of
from skills.oven.budget import Budget
from skills.planning.why import plan_reasons
from skills.record import DishRecord, OvenRecord
from skills.safety.reasons import reasons
from skills.skill import Reply
from skills.view import View
from skills.vocabulary import Why
from skills.wording import capital, clock

# Liquor this hot cooks at a simmer's pace (common practice, no source) [degC].
SIMMER_C = 95.0
GAS_J_MOLK = 8.314
# A probe that moves less than this stands still for who reads it (judgement); over this time ahead it is told.
STEADY_K_H, SOON_S = 3.0, 1800.0
# Meat begins to soften in earnest from here (common practice, no source) [degC].
BEGINS_C = 75.0


def say_why(question: Why, view: View) -> Reply:
    """ "why is the probe still climbing?", "why so late?" """
    dish = view.dish(question.dish)
    oven = view.oven(question.oven or (dish.oven if dish is not None else None)) or _last_read(question, view)
    lines = reasons(view) if question.oven is None else []
    if not lines:
        lines = plan_reasons(question, view)
    if lines:
        return Reply(tuple(lines[:3]))
    if dish is not None and dish.cooking and question.oven is None:
        lines += _dish_lines(dish, view)
    if oven is not None and (not lines or question.dish is None):
        lines += _oven_lines(oven, view)
    if not lines:
        return Reply(("I need an oven with a reading or a pot in it before I can say why.",))
    return Reply(tuple(lines[:3]))


def _last_read(question: Why, view: View) -> OvenRecord | None:
    """Of several ovens none of which was named: the one that was read last."""
    if question.oven is not None or question.dish is not None:
        return None
    read = {name: dated for name in view.record.ovens if (dated := view.last_reading(name)) is not None}
    return view.record.ovens[max(read, key=lambda name: read[name].at)] if read else None


def _oven_lines(oven: OvenRecord, view: View) -> list[str]:
    budget = view.belief.budget(oven.name) if view.belief is not None else None
    if budget is None:
        return []
    name = capital(oven.name)
    if oven.burning and budget.fire_w > 500.0:
        return [f"{name}: the fire gives about {budget.fire_w / 1000:.0f} kW. The face takes it first; brick passes it "
                "down slowly, so the probe is about an hour behind."]
    lines = []
    goes = _going(_probe_k_h(oven.name, view))
    if budget.behind_k > 2.0:
        lines.append(f"{name}: the face is {budget.behind_k:.0f} hotter than the brick at the probe and passes heat "
                     f"down to it, while the face and the air fall. The probe {goes}.")
    elif budget.behind_k < -2.0:
        lines.append(f"{name}: the brick at the probe is {-budget.behind_k:.0f} hotter than the face: depth feeds the "
                     f"face now. The probe {goes}.")
    parts = _parts(budget, any(dish.oven == oven.name for dish in view.record.dishes.values()))
    return [*lines, *parts]


def _probe_k_h(name: str, view: View) -> float:
    """How fast the floor's probe moves, middle of the forecast over the next half hour [K/h]."""
    forecast = view.forecast()
    if forecast is None or name not in forecast.ovens:
        return 0.0
    floor_c = forecast.ovens[name].floor_c
    step = int(np.argmin(np.abs(forecast.at_s - forecast.at_s[0] - SOON_S)))
    return float(np.median(floor_c[step] - floor_c[0])) * 3600.0 / SOON_S


def _going(rate_k_h: float) -> str:
    if abs(rate_k_h) < STEADY_K_H:
        return "hardly moves now"
    return f"{'climbs' if rate_k_h > 0 else 'falls'} about {abs(rate_k_h):.0f} an hour now"


def _parts(budget: Budget, loaded: bool) -> list[str]:
    """Of ten parts of the heat that leaves the face: so many down, so many to the pot, so many out."""
    flows = {"down into cooler brick": budget.deeper_w, "to the pot" if loaded else "to the air and walls":
             budget.rest_w, "out by the door and its leaks": budget.door_w}
    whole = sum(flows.values())
    if whole < 30.0:
        return []
    tenths = {words: round(10.0 * flow / whole) for words, flow in flows.items()}
    if max(tenths.values()) >= 10:
        return [f"All the heat that leaves the hot face goes {max(tenths, key=lambda words: tenths[words])}."]
    said = [f"{share} {words}" for words, share in sorted(tenths.items(), key=lambda pair: -pair[1]) if share > 0]
    return [f"Of 10 parts of heat leaving the hot face, {', '.join(said)}."]


def _dish_lines(dish: DishRecord, view: View) -> list[str]:
    forecast = view.forecast()
    believed = forecast.dishes.get(dish.name) if forecast is not None else None
    if believed is None or not len(believed.liquor_c):
        return []
    liquor, core = float(np.median(believed.liquor_c[0])), float(np.median(believed.core_c[0]))
    name, finish = capital(dish.name), cut_of(dish)[0].finish
    if not finish.in_liquor:
        # Conduction: the time goes with the square of the thickness (any heat text).
        return [f"{name}: the middle is at about {core:.0f} and warms only from outside: half as thick takes about a "
                "quarter of the time."]
    if core < BEGINS_C and finish.flesh:
        since = f" since {clock(dish.in_at)}" if dish.in_at else ""
        return [f"{name}: in{since}, the middle is only about {core:.0f}; meat softens in earnest from about "
                f"{BEGINS_C:.0f} up."]
    if liquor < SIMMER_C - 2.0:
        apart_1_k = 1 / (liquor + 273.15) - 1 / (SIMMER_C + 273.15)
        pace = float(np.exp(-finish.activation_j_mol / GAS_J_MOLK * apart_1_k))
        return [f"{name}: the liquor is at about {liquor:.0f}. There it softens at about {max(1, round(10 * pace))} "
                f"tenths of the pace of a full simmer."]
    return [f"{name}: at a simmer, middle about {core:.0f}. What is left is time: the toughest part sets the hour, "
            f"and no two {'animals' if finish.flesh else 'harvests'} agree."]
