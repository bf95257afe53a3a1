"""The unasked words of food safety: each hazard while something can still be done. Said once, owned, with its rule.

Every watch takes one dish as it stands and gives at most one prompt. Doubt goes to the cautious side.
"""
from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import replace
from datetime import datetime, timedelta

import numpy as np

from skills import vocabulary as v
from skills.safety import kinds, meters, night, say
from skills.safety.case import HOLD_NOTICE, KIND, Case
from skills.safety.history import history
from skills.safety.packs import Pack, pack
from skills.safety.spans import JUST_OUT_S, OUT, Anchor, names, story
from skills.safety.watch_chill import (
    NEAR_MEAL,
    chilling,
    left_standing,
    on_the_line,
    reheat_short,
    reheated_again,
    reheating,
)
from skills.safety.watch_stores import stores
from skills.safety.words import in_words, words_of
from skills.skill import Prompt
from skills.view import View
from skills.wording import clock, number

# An oven that is not down yet may need half an hour more, and a chill a quarter; a dead one an hour for its fire
# (judgement).
ASIDE_NOTICE = timedelta(minutes=40)
SINK_NOTICE = timedelta(minutes=60)
# A deadline is called passed when nobody has said anything for so long after it (judgement).
PAST = timedelta(minutes=5)
# From the first plate to the last (judgement).
SERVING = timedelta(minutes=30)
# A fall in fewer than half of the ways waits for the looks of the first hours in the oven, and one in few of them for
# the evening, when they go (judgement).
NIGHT_LIKELY, NIGHT_DOUBT, NIGHT_UNSURE, NIGHT_BEFORE = 0.25, 0.5, timedelta(minutes=150), timedelta(minutes=30)
# A fall told for the night is told again if it comes this much sooner (judgement); and what it is remembered by.
SOONER, NIGHT = timedelta(hours=1), "night:"
# A slow core is foreseen loosely at first: what only may be late is said when this much time has gone (judgement).
SLOW_UNSURE, SLOW_FIRST = timedelta(hours=3), timedelta(minutes=30)
SLOW_CORE_C = 54.4
# A core over a flame is asked for so long before the meal, and not before it has lain there for a while (judgement).
FLAME_ASKED, FLAME_NOTICE = timedelta(minutes=22), timedelta(minutes=5)
FLAME_FIRST, FLAME_LAST = timedelta(minutes=10), timedelta(minutes=5)
# How the inside looked is told of the meat as it stands for so long (judgement).
LOOKS = timedelta(minutes=45)


def prompts(view: View) -> Iterable[Prompt]:
    """Every food-safety prompt that may fall due if nothing more is told."""
    if view.record.ended is not None:
        return
    rules = rules_of_the_day(view)
    warned = {dish.oven: dish.name for dish in view.record.dishes.values()
              if _night_key(view.now, dish.name) in view.said}
    for name in names(view.record):
        made = story(name, view.record, view.now)
        if not kinds.clocked(made):
            continue
        seen = history(made, view) if made.last is not None and made.last.where != "gone" else None
        if seen is None:
            continue
        case = Case(made, seen, view, rules, warned.get(made.dish.oven))
        for watch in (aside, beans, slow_core, late_core, over_flame, pink, undercooked, sinking, hold, left_standing,
                      chilling, reheating, reheated_again):
            yield from watch(case)
        for prompt in tonight(case):
            warned.setdefault(made.dish.oven, name)
            yield prompt
    yield from stores(view, rules)


def rules_of_the_day(view: View) -> Pack:
    """The region's rules, with shorter times if it was last told to be hot outside."""
    rules = pack(view.region)
    heats = [dated.fact.celsius for dated in view.record.facts
             if isinstance(dated.fact, v.Weather) and dated.fact.celsius is not None and dated.at <= view.now]
    return rules.on_a_hot_day() if heats and heats[-1] > rules.value("hot_day_c") else rules


def aside(case: Case) -> Iterable[Prompt]:
    """Part-cooked food stands about: into heat, or chilled."""
    span = case.made.last
    if span is None or span.where != "aside" or _asked_where(case):
        return
    by = case.moment(span.at_s) + timedelta(minutes=case.rules.value("aside_min"))
    ahead = min(ASIDE_NOTICE, (by - case.moment(span.at_s)) / 2)
    yield case.prompt(f"aside:{span.at_s:.0f}", by - ahead,
                      f"{case.made.name} set aside part-cooked since {say.at(span.at_s, case.view)}. By {clock(by)} "
                      f"into hot liquor and heat, or chill it ({case.rules.named('aside_min')}).")
    if f"{KIND}:aside:{span.at_s:.0f}:{case.made.name}" not in case.view.said:
        return
    yield case.prompt(f"aside-past:{span.at_s:.0f}", case.view.when_there(by + PAST),
                      f"{case.made.name} part-cooked on the side since {say.at(span.at_s, case.view)}, past "
                      f"{clock(by)} ({case.rules.named('aside_min')}). Into heat now, cooked through, or discard it.")


def _asked_where(case: Case) -> bool:
    """Whether it went into an oven and it is only asked into which."""
    return any(isinstance(each.fact, v.Pot) and each.fact.act in ("in", "moved")
               and each.fact.dish in (None, case.made.name) for each in case.view.record.open)


def beans(case: Case) -> Iterable[Prompt]:
    """Beans in a slow oven that nobody boiled hard."""
    span = case.made.last
    if span is None or span.where != "oven" or not kinds.beans(case.made):
        return
    notes = tuple(dated.fact.text for dated in case.view.record.facts if isinstance(dated.fact, v.Note))
    if kinds.boiled_hard(case.made, notes):
        return
    yield case.prompt("boil", case.now, f"no hard boil is logged for the {case.made.name}. Boil hard 10 min at the "
                      "least (US advice 30) before the oven; half-cooked kidney beans poison. Boiled already: say so.",
                      case.now + timedelta(hours=3))


def _night_key(now: datetime, name: str) -> str:
    return f"{KIND}:night:{night.morning(now).date()}:{name}"


def tonight(case: Case) -> Iterable[Prompt]:
    """The liquor will pass below the hold figure when nobody is there: said before they go."""
    due = case.now if night.stays_overnight(case.view) else night.if_left(case.made, case.view)
    if case.made.last is None or case.made.last.where != "oven" or due is None:
        return
    found = night.night_of(case.made, case.view, case.rules)
    if found is None or not found.may_fall:
        return
    low = found.coolest
    falls = night.passes(found, case.view)
    assert falls is not None
    rule = case.rules.named("hot_hold_c")
    told, key = case.view.told.get(f"{NIGHT}{case.made.name}"), f"night:{night.morning(case.now).date()}"
    coolest = f"coolest {say.heat(low.cool_c, low.mid_c, low.warm_c)} at {say.clock_only(low.at_s, case.view)}"
    if told is not None and f"{KIND}:{key}:{case.made.name}" in case.view.said:
        # Said already; once more if the time told has come much nearer while somebody may still act on it.
        was, again = case.moment(float(told["mid"])), f"{key}:sooner"
        there = f"{KIND}:{again}:{case.made.name}" in case.view.said or case.view.when_there(case.now) == case.now
        if falls <= was - SOONER and there:
            yield case.prompt(again, case.now,
                              f"{case.made.name} sooner than said: {found.how} {number(case.rules.hot_hold_c)} from "
                              f"{clock(falls)}, not {clock(was)} ({rule}). Out and chill, or a top-up fire now.",
                              night.morning(case.now), say.lead(case.view.record))
            return
    text = (f"{case.made.name} {found.how} {number(case.rules.hot_hold_c)} from {clock(falls)} with nobody "
            f"there: {coolest} ({rule}).\nBefore you go: out and chill in trays, or a top-up fire tonight. Not left "
            "unseen.")
    if low.share < NIGHT_DOUBT and case.made.dish.in_at is not None:
        # Yet before they go: as they said, else at a usual hour.
        goes = night.leaving(case.view) or case.now.replace(hour=night.LATE, minute=30, second=0, microsecond=0)
        before = goes - NIGHT_BEFORE
        due = max(due, before if low.share < NIGHT_LIKELY else min(case.made.dish.in_at + NIGHT_UNSURE, before))
    if case.like not in (None, case.made.name):
        if low.share < NIGHT_LIKELY:
            return
        text = (f"{case.made.name} too, from {clock(falls)}, {coolest} ({rule}): out with the {case.like}, or the same "
                "top-up.")
    yield replace(case.prompt(key, due, text, night.morning(case.now), say.lead(case.view.record)),
                  said={f"{NIGHT}{case.made.name}": falls.timestamp()})


def slow_core(case: Case) -> Iterable[Prompt]:
    """The core of a joint will not be past the growth range within the slow cook's limit."""
    span = case.made.last
    if span is None or span.where != "oven" or not kinds.raw_meat(case.made) or case.made.dish.in_at is None:
        return
    limit = case.made.dish.in_at + timedelta(minutes=case.rules.value("slow_rise_min"))
    if case.now >= limit + timedelta(hours=1) or case.made.dish.tender in ("giving", "tender", "falling"):
        return
    if any(isinstance(dated.fact, v.Check) and dated.fact.simmer in ("gentle", "hard") for dated in case.made.facts):
        return
    reach, likely = (_core_reaches(case, share) for share in (meters.COOL, meters.MID))
    if reach is not None and reach <= limit.timestamp():
        return
    if not _probed_inside(case) and not _seen_oven(case):
        return
    surely = _heat_read(case) and (likely is None or likely > limit.timestamp())
    due = case.now if surely else case.made.dish.in_at + SLOW_UNSURE
    yield case.prompt("slow", due,
                      f"{case.made.name} core may not be past {SLOW_CORE_C:.0f} by {clock(limit)}, 6 h after it went "
                      f"in ({case.rules.named('slow_rise_min')}).\nHotter oven, or up to a simmer on the ring, now.",
                      limit + timedelta(hours=1))


def _probed_inside(case: Case) -> list[Anchor]:
    """Probes of what has been in for a while: how it was when it went in says nothing of how fast it warms there."""
    begun_s = (case.made.dish.in_at + SLOW_FIRST).timestamp() if case.made.dish.in_at is not None else 0.0
    return [anchor for anchor in case.made.anchors if anchor.measured and anchor.at_s >= begun_s]


def _heat_read(case: Case) -> bool:
    """Whether a reading stands behind what is foreseen: of its oven, or of the dish in it."""
    oven = case.view.oven(case.made.dish.oven)
    return case.view.belief is None or bool(_probed_inside(case)) or (
        oven is not None and bool(oven.readings))


def _seen_oven(case: Case) -> bool:
    """Whether anybody has read or fired the oven that it stands in; else its heat is anybody's guess."""
    oven = case.view.oven(case.made.dish.oven)
    return case.view.belief is None or (oven is not None and (bool(oven.readings) or oven.lit_at is not None))


def _core_reaches(case: Case, share: float) -> float | None:
    """When the core passes the figure: by an edge of the forecast, else on the line through the last probe."""
    if "forecast" in case.seen.kind and case.view.belief is not None:
        return meters.reaches(case.seen, SLOW_CORE_C, share)
    begun = case.made.dish.in_at
    if begun is None or not (probed := _probed_inside(case)):
        return case.now.timestamp()
    last = probed[-1]
    if last.celsius >= SLOW_CORE_C:
        return last.at_s
    first_c = float(case.seen.edge(meters.MID)[0])
    rate = (last.celsius - first_c) / max(last.at_s - begun.timestamp(), 60.0)
    return last.at_s + (SLOW_CORE_C - last.celsius) / rate if rate > 0.0 else math.inf


def undercooked(case: Case) -> Iterable[Prompt]:
    """Meat is out of the heat and its core is not known to have been heated through."""
    span = case.made.last
    if span is None or span.where not in ("bench", "open") or not kinds.raw_meat(case.made):
        return
    out_s = case.out_s
    probed = [anchor for anchor in case.made.anchors if anchor.measured and anchor.at_s <= out_s + JUST_OUT_S]
    heated = case.made.last_of("oven") is not None or case.made.last_of("ring") is not None
    if case.made.last_of("chill") is not None or (not heated and not probed) or _cooked_through(case, probed):
        return
    key, figure = kinds.cook_figure(case.made, case.rules)
    flame = case.made.last_of("ring") if kinds.over_flame(case.made) else None
    if flame is not None and not probed and f"{KIND}:flame:{flame.at_s:.0f}:{case.made.name}" in case.view.said:
        return                  # asked for just now, and still to be told
    wants = f"{number(figure)}" + (" for 2 min" if figure == 70.0 else "")
    known = (f"core {number(probed[-1].celsius)} at {say.at(probed[-1].at_s, case.view)}, not heated through" if probed
             else "no core reading" if flame is not None
             else "no core reading, and by my figures not surely heated through")
    yield case.prompt("core", case.now, f"{case.made.name} out with {known}. Probe the thickest part: {wants} or an "
                      f"equal ({case.rules.named(key)}), else back into heat.", case.now + timedelta(hours=1))


def _cooked_through(case: Case, probed: list[Anchor]) -> bool:
    """Whether the core is known to have been heated through; of what only a flame cooked, by its probes."""
    key, figure = kinds.cook_figure(case.made, case.rules)
    if any(anchor.celsius >= figure for anchor in probed) and (key == "fish_c" or kinds.over_flame(case.made)):
        return True
    return meters.cooked(case.seen).reached and (bool(probed) or not kinds.over_flame(case.made))


def over_flame(case: Case) -> Iterable[Prompt]:
    """Raw meat over a flame just before the meal, and no core told: no model knows how far it is."""
    span, serve = case.made.last, case.view.record.serve
    if span is None or span.where != "ring" or serve is None or not kinds.raw_meat(case.made):
        return
    probed = [anchor for anchor in case.made.anchors if anchor.measured and anchor.at_s >= span.at_s]
    if not kinds.over_flame(case.made) or _cooked_through(case, probed):
        return
    key, figure = kinds.cook_figure(case.made, case.rules)
    known = "no core reading"
    if probed:
        known = f"core {number(probed[-1].celsius)} at {say.at(probed[-1].at_s, case.view)}"
    begun = case.moment(span.at_s)
    if not probed and serve - FLAME_ASKED >= begun + FLAME_FIRST:
        # A plain request, while there is time for ten minutes more over the flame; people mostly probe by themselves.
        who = say.owner(case.view, case.made)
        yield Prompt("reading", f"reading:flame:{span.at_s:.0f}:{case.made.name}", serve - FLAME_ASKED,
                     f"{who}: probe the {case.made.name} soon, the thickest part of several: {number(figure)} by "
                     f"{clock(serve)} ({case.rules.named(key)}).", None, case.made.name, who, serve - FLAME_NOTICE)
    due = max(serve - FLAME_NOTICE, min(begun + FLAME_FIRST, serve - FLAME_LAST))
    yield case.prompt(f"flame:{span.at_s:.0f}", due,
                      f"{case.made.name} over the fire since {say.at(span.at_s, case.view)}, {known}: probe the "
                      f"thickest part of several before it is served: {number(figure)} ({case.rules.named(key)}).",
                      max(due, serve) + timedelta(minutes=30))


def pink(case: Case) -> Iterable[Prompt]:
    """A bird, pork or mince was seen pink or raw inside: taken for not heated through until a probe says so.

    A reason to probe and no more: colour tells of no heat (USDA and FSA advice on colour, from memory).
    """
    span = case.made.last
    if span is None or span.where not in ("oven", "ring", *OUT) or not kinds.raw_meat(case.made):
        return
    if kinds.pinkable(case.made):
        return
    key, figure = kinds.cook_figure(case.made, case.rules)
    for dated in case.view.record.facts:
        if not isinstance(dated.fact, v.Note) or case.now - dated.told > LOOKS or not _of_this(dated.fact.text, case):
            continue
        since = [anchor for anchor in case.made.anchors if anchor.measured and anchor.at_s >= dated.at.timestamp()]
        if any(anchor.celsius >= figure for anchor in since):
            continue
        yield case.prompt(f"pink:{dated.message}", case.now,
                          f"{case.made.name} told as \"{dated.fact.text}\" at {clock(dated.at)}: taken for not heated "
                          f"through. Probe the thickest part: {number(figure)} ({case.rules.named(key)}), else back "
                          "into heat; colour alone decides nothing.", case.now + timedelta(hours=1))
        return


def _of_this(text: str, case: Case) -> bool:
    """Whether a note tells of raw looks inside, of this dish: by name, or it is the only one that may be meant."""
    words = in_words(text.replace("'", " "))
    if not words & words_of("raw_looks"):
        return False
    known = [name for name in names(case.view.record) if in_words(name) & words]
    if known:
        return case.made.name in known
    return sum(not each.served or each.name == case.made.name for each in case.view.record.dishes.values()) <= 1 \
        or bool(words & (words_of("poultry") | words_of("meats")) & in_words(case.made.words))


def late_core(case: Case) -> Iterable[Prompt]:
    """In the oven near the meal, and on the line through its last two probes not heated through by then."""
    span, serve = case.made.last, case.view.record.serve
    if span is None or span.where != "oven" or serve is None or not kinds.raw_meat(case.made):
        return
    key, figure = kinds.cook_figure(case.made, case.rules)
    probed = [anchor for anchor in case.made.anchors if anchor.measured and anchor.at_s >= span.at_s]
    near = timedelta(0) <= serve - case.now <= NEAR_MEAL
    if not near or len(probed) < 2 or probed[-1].celsius >= figure or meters.cooked(case.seen).reached:
        return
    there = on_the_line(case, span.at_s, figure)
    if there is None or there <= serve:
        return
    yield case.prompt(f"rises:{span.at_s:.0f}", case.now,
                      f"{case.made.name} core {number(probed[-1].celsius)} at {say.at(probed[-1].at_s, case.view)}, at "
                      f"this rate {number(figure)} about {clock(there)}, later than {clock(serve)} "
                      f"({case.rules.named(key)}). More heat, or eat later; not out before it is there.", serve)


def sinking(case: Case) -> Iterable[Prompt]:
    """What is cooked stands in an oven that falls: said before it passes below the hold figure, while heat helps."""
    span = case.made.last
    if span is None or span.where != "oven" or case.made.dish.served or night.stays_overnight(case.view):
        return
    falls = meters.falls_below(case.seen, case.rules.hot_hold_c)
    if falls is None or not meters.cooked(case.seen).reached or case.view.belief is None or not _heat_read(case):
        return
    at = case.moment(falls)
    serve = case.view.record.serve
    if serve is not None and case.now <= serve <= at - SERVING:
        return
    where = f" in the {case.made.dish.oven}" if case.made.dish.oven else ""
    yield case.prompt(f"sinks:{span.at_s:.0f}", case.view.when_there(at - SINK_NOTICE),
                      f"{case.made.name} may pass below {number(case.rules.hot_hold_c)}{where} from {clock(at)} "
                      f"({case.rules.named('hot_hold_c')}). More heat, a hotter oven, or out and chill. Core now?", at)


def hold(case: Case) -> Iterable[Prompt]:
    """Half an hour before the time below the hot-hold figure is used up."""
    span = case.made.last
    if span is None or span.where in ("chill", "cold", "store", "aside", "reheat") or reheat_short(case):
        return
    if span.where == "oven" and (case.made.dish.served or night.stays_overnight(case.view)):
        return
    if case.cooled_unsaid:
        return
    held = _hold_ahead(case)
    if held is None:
        return
    # A time that is spent ends when it falls again, and not before.
    spent = held.again and case.rules.once
    due = case.view.when_there(case.moment(held.since_s if spent else held.chill_by_s - HOLD_NOTICE.total_seconds()))
    key = f"{case.out_s:.0f}" + (f":{held.turn}" if held.again else "")
    rule = case.rules.named("use_by_min", "hot_hold_c")
    if held.since_s > due.timestamp():
        below = f"may pass below {number(case.rules.hot_hold_c)} from {say.at(held.since_s, case.view)} (by my figures)"
    else:
        below = (f"{say.below(held)} {number(case.rules.hot_hold_c)} since {say.at(held.since_s, case.view)} "
                 f"({say.how(held)})")
    # It falls in the night: the first one there in the morning finds it past its time.
    first = max(due, case.now)
    if case.moment(held.use_by_s) < first and not (held.again and case.rules.once):
        if held.measured:
            yield case.prompt(f"past:{key}", first,
                              f"{case.made.name} {below}, past its time: discard what is left ({rule}).")
        elif f"{KIND}:hold:{key}:{case.made.name}" not in case.view.said:
            yield case.prompt(f"past:{key}", first,
                              f"{case.made.name} {below}, past its time: discard what is left ({rule}). "
                              "Was it held hot or reheated meanwhile? Then say the core and when.")
        return
    left = f"what is left of the {case.made.name}" if case.made.dish.served else case.made.name
    yield case.prompt(f"hold:{key}", due, f"{left} {below}: {say.deadline(held, case.rules, case.view)}.",
                      max(case.moment(held.chill_by_s), due, case.now) + timedelta(minutes=30),
                      act="reheat fully, or discard" if spent else "")


def _hold_ahead(case: Case) -> meters.HoldClock | None:
    """The clock that runs now, or will run first within what is foreseen if nothing is done."""
    held = meters.hold_clock(case.seen, case.rules)
    if held is not None:
        return held
    # A cooked dish that was probed below the figure is taken to be so till somebody tells of heat again.
    span, told = case.made.last, case.made.anchors[-1] if case.made.anchors else None
    if span is not None and told is not None and told.measured and told.celsius < case.rules.hot_hold_c \
            and told.at_s >= span.at_s:
        found = int(np.searchsorted(case.seen.at_s, told.at_s))
        if (held := meters.hold_clock(case.seen, case.rules, found)) is not None:
            return held
    last = len(case.seen.at_s) - 1
    return meters.hold_clock(case.seen, case.rules, last) if last > case.seen.now else None
