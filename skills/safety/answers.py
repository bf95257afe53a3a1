"""What is said when somebody asks whether a dish can be left, kept or eaten, and how long a chill takes.

Two lines: the number with its rule set, and the next act. It never says that food may be eaten.
"""
from __future__ import annotations

import math
from collections.abc import Sequence
from datetime import timedelta

import numpy as np
from numpy.typing import NDArray

from skills.safety import chill, kinds, meters, night, say
from skills.safety.case import TO_LOAD
from skills.safety.history import History, history, moment_of
from skills.safety.packs import Pack
from skills.safety.reasons import ANSWERED
from skills.safety.spans import Span, Story, names, story
from skills.safety.watch import rules_of_the_day
from skills.skill import Reply
from skills.view import View
from skills.vocabulary import Chill, ChillTime, Note, Safe, Task
from skills.wording import capital, clock, number, the, to_five

# What was spoken of so lately is what "this" and "it" mean (common practice, no source).
JUST_NOW = timedelta(minutes=12)
UNSEEN = "No, not unseen"
TIGHT = "It may run late: 2 to 3 cm is surer."


def find(name: str | None, view: View) -> str | None:
    """The dish that is meant: by name, by a word of it, or the only one that is not served and gone."""
    known = names(view.record)
    if name is None:
        live = [each for each in known if each not in view.record.dishes or not view.record.dishes[each].served]
        pool = live or known
        return _spoken_of(known, view) or (pool[0] if len(pool) == 1 else None)
    if name in known:
        return name
    dish = view.dish(name)
    if dish is not None:
        return dish.name
    return known[0] if len(known) == 1 and name in ("leftovers", "it", "food", "pot") else None


def _spoken_of(known: Sequence[str], view: View) -> str | None:
    """The dish that the room spoke of just now, if it is off the heat: "can we eat this?" is about it."""
    told = [dated for dated in view.record.facts if dated.dish in known and view.now - dated.told <= JUST_NOW]
    name = max(told, key=lambda dated: dated.told).dish if told else None
    dish = view.record.dishes.get(name or "")
    return name if dish is not None and dish.out_at is not None and not dish.cooking else None


def say_where_it_stands(question: Safe, view: View) -> Reply:
    """ "are the beans ok to leave overnight?", "can we still eat the stew?" """
    rules = rules_of_the_day(view)
    name = find(question.dish, view)
    if question.dish is None and question.oven is not None:
        inside = [each.name for each in view.record.dishes.values() if each.oven == question.oven]
        if not inside:
            return Reply((f"Nothing is logged in the {question.oven}. {_limits(rules)}",
                          "Say what is in it and since when, such as 'beans in the barrel at 17:30'."))
        name = inside[0] if len(inside) == 1 else name if name in inside else None
    if name is None:
        return _which(question.dish, view, rules)
    made = story(name, view.record, view.now)
    seen = history(made, view)
    if made.last is not None and made.last.where == "gone":
        told = made.fact(Task, "done")
        what = told.fact.what if told is not None and isinstance(told.fact, Task) else "gone"
        return Reply((f"{say.title(made)}: {what} at {say.at(made.last.at_s, view)} by the log.",))
    if seen is None or made.last is None:
        return Reply((f"{say.title(made)}: no heats or times are logged, so I cannot judge it. {_limits(rules)}",
                      "Probe it, say the core and since when; if nobody knows, discard it."))
    lines = list(_lines(made, seen, view, rules))
    if kinds.beans(made) and not kinds.boiled_hard(made, _notes(view)) and made.last.where in ("oven", "store"):
        unseen = "No, not unseen. " if lines[-1].startswith(UNSEEN) else ""
        lines[-1] = f"{unseen}No hard boil is logged: boil hard 10 min at the least before anything else."
    lines = [*lines[:2], *_avoided(made, view)][:3]
    return Reply(tuple(line for line in lines if line), said={f"{ANSWERED}{name}": view.now.timestamp()})


def _which(asked: str | None, view: View, rules: Pack) -> Reply:
    known = names(view.record)
    if asked is not None:
        return Reply((f"Nothing is logged of {the([asked])}, so I cannot judge it. {_limits(rules)}",
                      "Probe it, say the core and since when; if nobody knows, discard it."))
    if known:
        return Reply((f"Which one: {the(known)}?",))
    return Reply((f"No dish is logged yet. {_limits(rules)}",))


def _limits(rules: Pack) -> str:
    return (f"Hot at {number(rules.hot_hold_c)} or more, cold at {number(rules.cold_hold_c)} or less "
            f"({rules.named('hot_hold_c', 'cold_hold_c')}).")


def _notes(view: View) -> tuple[str, ...]:
    return tuple(dated.fact.text for dated in view.record.facts if isinstance(dated.fact, Note))


def _avoided(made: Story, view: View) -> list[str]:
    """What is logged in it that a guest avoids; not a word about the rest."""
    from skills.allergens.sheet import clashes
    found = clashes(made.name, view.record)
    return [f"Logged in it and avoided by guests: {', '.join(found)}."] if found else []


def _lines(made: Story, seen: History, view: View, rules: Pack) -> tuple[str, ...]:
    assert made.last is not None
    where = made.last.where
    if where == "store":
        return (f"{say.title(made)}: logged, not cooked.",
                f"Cold at {number(rules.cold_hold_c)} or less till it goes in, then the core to "
                f"{_cook_words(made, rules)}.")
    if where == "aside":
        by = moment_of(made.last.at_s, view.now.tzinfo) + timedelta(minutes=rules.value("aside_min"))
        return (f"{say.title(made)} part-cooked and set aside for "
                f"{say.length(view.now.timestamp() - made.last.at_s)}, inside still raw.",
                f"By {clock(by)} into hot liquor and heat, or chill it ({rules.named('aside_min')}).")
    if where == "oven":
        return _in_oven(made, seen, view, rules)
    if where == "chill":
        return _chilling(made, seen, view, rules, made.last)
    if where == "cold":
        return _cold(made, seen, view, rules)
    if where == "reheat":
        return _reheat(made, seen, view, rules)
    return _off_heat(made, seen, view, rules)


def _cook_words(made: Story, rules: Pack) -> str:
    key, figure = kinds.cook_figure(made, rules)
    return f"{number(figure)}{' for 2 min or an equal' if figure == 70.0 else ''} ({rules.named(key)})"


def _core(seen: History) -> str:
    """ "core 91 by probe at 12:16" while that is fresh, else what is reckoned."""
    probed = [anchor for anchor in seen.story.anchors if anchor.measured]
    now_s = float(seen.at_s[seen.now])
    if probed and now_s - probed[-1].at_s <= 900.0:
        return f"core {number(probed[-1].celsius)} by probe"
    return f"core {say.heat(*(seen.now_c(share) for share in (meters.COOL, meters.MID, meters.WARM)))} by my figures"


def _heated(done: meters.Cooked) -> str:
    if done.minutes >= 20.0 or (done.reached and done.minutes < done.need_min):
        return f"far past the {number(done.need_min)} min at 70 asked"
    return f"{done.minutes:.1f} of the {number(done.need_min)} min at 70 asked"


def _in_oven(made: Story, seen: History, view: View, rules: Pack) -> tuple[str, ...]:
    if night.stays_overnight(view, asked=True):
        ahead = night.night_of(made, view, rules)
        if ahead is not None:
            return _overnight(made, ahead, view, rules)
    done = meters.cooked(seen)
    first = f"{say.title(made)} {_core(seen)}: {_heated(done)} ({rules.named('cook_c')})."
    falls = meters.falls_below(seen, rules.hot_hold_c)
    if not done.reached:
        return first, f"Leave it in and probe the thickest part: {_cook_words(made, rules)}."
    if falls is not None:
        return first, (f"Above {number(rules.hot_hold_c)} till about {say.about(falls, view)} "
                       f"({rules.named('hot_hold_c')}). Out before then, or more heat; probe it first.")
    held = meters.hold_clock(seen, rules)
    if held is not None:
        return first, f"{capital(say.below(held))} {number(rules.hot_hold_c)} since {say.at(held.since_s, view)}: " \
                      f"{say.deadline(held, rules, view)}."
    return first, (f"Holds above {number(rules.hot_hold_c)} as far as I see ({rules.named('hot_hold_c')}). "
                   "Probe before serving.")


def _overnight(made: Story, ahead: night.Night, view: View, rules: Pack) -> tuple[str, ...]:
    low = ahead.coolest
    heat = say.heat(low.cool_c, low.mid_c, low.warm_c)
    rule = rules.named("hot_hold_c")
    falls = night.passes(ahead, view)
    first = f"{say.title(made)}: coolest hour of the night {heat} about {say.about(low.at_s, view)}"
    if falls is None:
        return (f"{first}, above {number(rules.hot_hold_c)} ({rule}).",
                "Door shut, lid on; probe it first thing, before anything is added.")
    return (f"{first}; {ahead.how} {number(rules.hot_hold_c)} from {clock(falls)} ({rule}).",
            f"{UNSEEN}: out and chill in trays now, or a top-up fire tonight and ask me again.")


def _off_heat(made: Story, seen: History, view: View, rules: Pack) -> tuple[str, ...]:
    done = meters.cooked(seen)
    if kinds.raw_meat(made) and not done.reached:
        return (f"{say.title(made)} {_core(seen)}: {_heated(done)} ({rules.named('cook_c')}).",
                f"Not heated through by what is logged. Back into heat; probe the thickest part: "
                f"{_cook_words(made, rules)}.")
    held = meters.hold_clock(seen, rules)
    if held is None:
        falls = meters.falls_below(seen, rules.hot_hold_c)
        until = "" if falls is None else (
            f"; may be below {number(rules.hot_hold_c)} from about {say.about(falls, view)}")
        once = f"then once, under {number(rules.value('use_by_min') / 60)} h" if rules.once else (
            f"then {number(rules.value('chill_by_min') / 60)} h")
        hot = made.last
        held_hot = ""
        if hot is not None and hot.where == "hot_hold" and hot.celsius is not None:
            held_hot = f", hot hold {number(hot.celsius)} at {say.at(hot.at_s, view)}"
        return (f"{say.title(made)} {_core(seen)}{held_hot}{until}.",
                f"Keep it at {number(rules.hot_hold_c)} or more, {once} ({rules.named('hot_hold_c', 'use_by_min')}). "
                "Probe it before serving.")
    first = (f"{say.title(made)} {say.below(held)} {number(rules.hot_hold_c)} since {say.at(held.since_s, view)} "
             f"({say.how(held)}), {say.length(view.now.timestamp() - held.since_s)} so far.")
    grown = say.growth_line(meters.grown(seen))
    if held.use_by_s <= view.now.timestamp():
        return first, f"{grown} Past its time: discard it ({rules.named('hot_hold_c', 'use_by_min')}).".strip()
    if "discard" in grown:
        return first, f"{grown} Do not wait for {say.at(held.use_by_s, view)} ({rules.named('use_by_min')})."
    return first, f"{capital(say.deadline(held, rules, view))}. {grown}".strip()


def _chilling(made: Story, seen: History, view: View, rules: Pack, span: Span) -> tuple[str, ...]:
    stages = meters.chill_stages(seen, rules, span)
    if all(stage.reached_s[1] <= view.now.timestamp() for stage in stages) and not any(
            stage.reached_s[1] > stage.by_s for stage in stages):
        return _cold(made, seen, view, rules)
    coming = [stage for stage in stages if stage.reached_s[1] > view.now.timestamp()] or stages[-1:]
    stage = coming[0]
    first = (f"{say.title(made)} {_core(seen)}; below {number(stage.mark.to_c)} wanted by {say.at(stage.by_s, view)} "
             f"({rules.named_chill()}), by my figures {say.reached(stage, view)}.")
    grown = say.growth_line(meters.grown(seen, _index(seen, stage.reached_s[1])))
    if stage.by_s < view.now.timestamp() and stage.reached_s[1] > view.now.timestamp():
        # What the model would throw away is not offered another heat.
        act = "" if "discard" in grown else "Past its time: reheat it fully now and chill shallow, or discard it."
        return first, f"{grown} {act}".strip()
    if stage.miss > 0.5:
        return first, say.better_chill(made, span, seen.now_c(meters.WARM), stage.mark.to_c, view.now)[0]
    look = to_five(moment_of(min(stage.reached_s[1], stage.by_s - TO_LOAD.total_seconds() / 2), view.now.tzinfo))
    return first, f"Stir, and probe the middle at {clock(max(look, view.now))}. {grown}".strip()


def _index(seen: History, at_s: float) -> int:
    if not math.isfinite(at_s):
        return len(seen.at_s) - 1
    return min(int(np.searchsorted(seen.at_s, at_s)), len(seen.at_s) - 1)


def _cold(made: Story, seen: History, view: View, rules: Pack) -> tuple[str, ...]:
    cold = made.last
    probed = [anchor for anchor in made.anchors if anchor.measured]
    last = "no probe logged"
    if probed:
        last = f"last probe {number(probed[-1].celsius)} at {say.at(probed[-1].at_s, view)}"
    called = cold is not None and cold.where == "cold" and made.fact(Chill, "done") is not None
    since = f" called chilled at {say.at(cold.at_s, view)}," if cold is not None and called else ":"
    between = f"about {meters.in_range_min(seen, rules):.0f} min between {number(rules.hot_hold_c)} and " \
              f"{number(max(rules.cold_hold_c, meters.BOTTOM_C))} by my figures"
    return (f"{say.title(made)}{since} {last}; {between}. Keep at {number(rules.cold_hold_c)} or "
            f"less ({rules.named('cold_hold_c')}).",
            f"Label it. Reheat once, to {number(rules.value('reheat_c'))} in all parts ({rules.named('reheat_c')}).")


def _reheat(made: Story, seen: History, view: View, rules: Pack) -> tuple[str, ...]:
    figure = rules.value("reheat_c")
    span = made.last
    assert span is not None
    begun = say.at(span.at_s, view)
    by = rules.get("reheat_by_min")
    last = f" by {say.at(span.at_s + by * 60.0, view)}" if by is not None else ""
    return (f"{say.title(made)} on to reheat since {begun}, {_core(seen)}.",
            f"{number(figure)} in all parts{last} ({rules.named('reheat_c')}), by probe, stirred; once only.")


def say_how_long_to_chill(question: ChillTime, view: View) -> Reply:
    """ "how long to chill 5 cm of this on ice?" """
    rules = rules_of_the_day(view)
    name = find(question.dish, view)
    made = story(name, view.record, view.now) if name is not None else None
    told = made.last if made is not None and made.last is not None and made.last.where == "chill" else None
    vessel = _vessel(question, made, told)
    if vessel is None:
        return Reply(("How deep will it lie, or how many litres, and on ice or in the fridge?",))
    method = question.method or (told.method if told is not None else "fridge" if vessel.shape else "ice")
    first_mark, last_mark = rules.chill[0], rules.chill[-1]
    start = max(_start_c(made, view), first_mark.from_c)
    parts, late, tight = [], False, False
    for mark in dict.fromkeys((first_mark, last_mark)):
        takes = chill.chill_time(vessel, method, start, mark.to_c, mark.from_c)
        late = late or float(takes[len(takes) // 2]) > mark.within_min * 60.0
        tight = tight or float(takes[-2]) > mark.within_min * 60.0
        parts.append(f"below {number(mark.to_c)} in {span_words(takes)}")
    wanted = " and ".join(f"{number(mark.within_min)} min" for mark in dict.fromkeys((first_mark, last_mark)))
    first = (f"{capital(vessel.words)} {chill.METHODS[method].words}, from {number(first_mark.from_c)}: "
             f"{', '.join(parts)}; {wanted} by {rules.named_chill()}.")
    litres = question.litres or vessel.litres or (made.litres if made is not None else None)
    if not late:
        surer = f" {TIGHT}" if tight else ""
        return Reply((first, f"Metal, uncovered. Probe the middle before it goes away.{surer}"))
    return Reply((first, f"Too slow. {trays_instead(vessel, method, first_mark.from_c, first_mark.to_c, litres)}"))


def _vessel(question: ChillTime, made: Story | None, told: Span | None) -> chill.Vessel | None:
    if question.depth_cm is not None:
        return chill.tray(max(question.depth_cm, 0.5), question.litres)
    if question.litres:
        return chill.pot(question.litres)
    if told is not None and told.stated:
        return told.vessel
    if made is not None and (made.dish.meat_kg or made.dish.liquid_l):
        return chill.pot(round(made.litres, 1))
    return None


def _start_c(made: Story | None, view: View) -> float:
    seen = history(made, view) if made is not None else None
    return min(seen.now_c(meters.WARM), 95.0) if seen is not None else 0.0


def span_words(takes: NDArray[np.float64]) -> str:
    last = len(takes) - 1
    low, mid, high = (float(takes[round(share * last)]) / 60.0 for share in (meters.COOL, meters.MID, meters.WARM))
    if not math.isfinite(mid) or mid > 360.0:
        return "well over 6 h"
    most = f"{_tens(high)}" if math.isfinite(high) and high <= 600.0 else "many hours"
    return f"about {_tens(mid)} min ({_tens(low)} to {most})"


def _tens(minutes: float) -> str:
    return f"{5 * round(minutes / 5):.0f}"


def trays_instead(vessel: chill.Vessel, method: str, start_c: float, mark_c: float, litres: float | None) -> str:
    """The quicker way: how many shallow trays, and how long they take."""
    tray = vessel.shape == 0.0 and vessel.size_m <= 0.045
    depth = 2.5 if tray and method == "ice" else chill.TRAY_CM
    takes = chill.chill_time(chill.tray(depth), "ice", start_c, mark_c)
    many = chill.trays_for(litres, depth) if litres else 0
    trays = (f"{capital(say.count(many))} tray{'s' if many != 1 else ''}" if many else "Trays") + \
        (" 2 to 3 cm deep" if depth < 4.0 else " under 5 cm")
    return f"{trays} in ice, stirred every 10 min: below {number(mark_c)} in {span_words(takes)}."
