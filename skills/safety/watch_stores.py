"""The watch over stores: a hot cupboard that is too cool, a fridge that is too warm; said once, and in time."""
from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime, timedelta

from skills import vocabulary as v
from skills.safety import kinds
from skills.safety.case import HOLD_NOTICE, KIND
from skills.safety.packs import Pack
from skills.safety.spans import held_at, story
from skills.skill import Prompt
from skills.view import View
from skills.wording import clock, number

# A reading that was right this long before is where the time beyond the figure is counted from (judgement).
LAST_GOOD = timedelta(hours=2)
# So many readings in a row, each lower, and so much in all, are a fall and no opened door [degC] (judgement).
FALLING, FALL_C = 3, 1.5
# A fridge that rose this much since its last reading and is so near its figure is about to pass it (judgement) [degC].
WARMING_C, NEAR_C = 1.5, 1.5


@dataclass(frozen=True)
class _Read:
    """One reading of a store."""
    at: datetime
    celsius: float
    who: str
    message: str
    of: str = ""    # what was measured: a dish in the store, or the store itself


def stores(view: View, rules: Pack) -> Iterable[Prompt]:
    for place, figure in (("hot_hold", rules.hot_hold_c), ("fridge", rules.cold_hold_c)):
        read = [_Read(dated.at, dated.fact.celsius, dated.who, dated.message) for dated in view.record.facts
                if isinstance(dated.fact, v.StoreHeat) and dated.at <= view.now and dated.fact.place == place]
        right = [each.celsius >= figure if place == "hot_hold" else each.celsius <= figure for each in read]
        begun = max((index + 1 for index, each in enumerate(right) if each), default=0)
        if begun == len(read):
            if place == "hot_hold":
                since = read[0].at if read else _filled_at(view)
                found = [*read, *(_of_what_stands_in_it(view, since) if since is not None else ())]
                yield from _sinks(view, rules, sorted(found, key=lambda each: each.at)) if found else ()
            else:
                yield from _warms(view, rules, read)
            continue
        good = read[begun - 1] if begun and read[begun].at - read[begun - 1].at <= LAST_GOOD else None
        yield from (_hot if place == "hot_hold" else _fridge)(view, rules, good, read[begun:])


def _hot(view: View, rules: Pack, good: _Read | None, under: list[_Read]) -> Iterable[Prompt]:
    """What stands in it has a clock of its own, so nothing more is said of the cupboard."""
    last = under[-1]
    inside = [name for name in held_at(view.record, last.at) if kinds.clocked(story(name, view.record, view.now))]
    held = f" with the {' and the '.join(inside)}" if inside else ""
    was = f", {number(good.celsius)} at {clock(good.at)}" if good is not None else ""
    yield Prompt(KIND, f"{KIND}:store:hot_hold:{under[0].message}", view.now,
                 f"{last.who}: hot hold{held} {number(last.celsius)} is under {number(rules.hot_hold_c)} "
                 f"({rules.named('hot_hold_c')}){was}. Turn it up; probe what is in it, and note the time.", None,
                 inside[0] if inside else None, last.who, view.now + HOLD_NOTICE, urgent=True,
                 act="hot hold, turn it up and probe")


def _of_what_stands_in_it(view: View, since: datetime) -> list[_Read]:
    """The heats taken of the dishes that stood in the hot cupboard then."""
    return [_Read(dated.at, dated.fact.celsius, dated.who, dated.message, dated.dish) for dated in view.record.facts
            if isinstance(dated.fact, v.Food) and dated.dish is not None and since < dated.at <= view.now
            and dated.dish in held_at(view.record, dated.at)]


def _filled_at(view: View) -> datetime | None:
    """When the first dish went into the hot cupboard."""
    return next((dated.at for dated in view.record.facts if isinstance(dated.fact, v.Pot)
                 and dated.fact.onto == "hot_hold"), None)


def _sinks(view: View, rules: Pack, read: list[_Read]) -> Iterable[Prompt]:
    """What is measured of it and in it falls from reading to reading: said while it can be turned up in time."""
    run = read[-1:]
    for each in reversed(read[:-1]):
        if each.celsius <= run[0].celsius:
            break
        run.insert(0, each)
    recent = run[-FALLING:]
    if len(recent) < FALLING or recent[-1].celsius < rules.hot_hold_c:
        return
    last = recent[-1]
    # How fast it goes is told by readings of one thing; a cupboard and the food in it differ by themselves.
    of = [[each for each in recent if each.of == what] for what in (last.of, *(each.of for each in recent))]
    alike = next((each for each in of if len(each) > 1), [last])
    span, fall = alike[-1].at - alike[0].at, alike[0].celsius - alike[-1].celsius
    inside = [name for name in held_at(view.record, last.at) if kinds.clocked(story(name, view.record, view.now))]
    if fall < FALL_C or not timedelta(0) < span <= LAST_GOOD or not inside:
        return
    at = last.at + span * ((last.celsius - rules.hot_hold_c) / fall)
    if at - last.at > LAST_GOOD:
        return
    yield Prompt(KIND, f"{KIND}:store:sinks:{run[0].message}", view.when_there(max(view.now, at - HOLD_NOTICE)),
                 f"{last.who}: hot hold with the {' and the '.join(inside)} {number(last.celsius)} at {clock(last.at)} "
                 f"and falling: under {number(rules.hot_hold_c)} about {clock(at)} ({rules.named('hot_hold_c')}). Turn "
                 "it up now; probe what is in it.", None, inside[0], last.who, at, urgent=True,
                 act="hot hold, turn it up and probe")


def _warms(view: View, rules: Pack, read: list[_Read]) -> Iterable[Prompt]:
    """A fridge that is near its figure and has risen towards it: said while a shut door and ice still keep it there."""
    if len(read) < 2:
        return
    before, last = read[-2:]
    rise, span = last.celsius - before.celsius, last.at - before.at
    if rise < WARMING_C or not timedelta(0) < span <= LAST_GOOD or last.celsius < rules.cold_hold_c - NEAR_C:
        return
    at = last.at + span * ((rules.cold_hold_c - last.celsius) / rise)
    yield Prompt(KIND, f"{KIND}:store:warms:{before.message}", view.now,
                 f"{last.who}: fridge {number(last.celsius)}, was {number(before.celsius)} at {clock(before.at)}: over "
                 f"{number(rules.cold_hold_c)} about {clock(at)} like this ({rules.named('cold_hold_c')}). Door shut, "
                 "ice in, or move what must stay cold.", None, None, last.who, max(at, view.now + HOLD_NOTICE),
                 urgent=True, act="fridge, door shut and ice")


def _fridge(view: View, rules: Pack, good: _Read | None, over: list[_Read]) -> Iterable[Prompt]:
    """good: the last reading that was right. over: those since."""
    last, since = over[-1], (good or over[0]).at
    key = "cold_display_min" if "cold_display_min" in rules.figures else "chill_by_min"
    by = since + timedelta(minutes=rules.value(key))
    rule = rules.named("cold_hold_c", key)
    what = f"{last.who}: fridge {number(last.celsius)} is over {number(rules.cold_hold_c)}"
    until = f" by {clock(by)}, as it was {number(good.celsius)} at {clock(good.at)}" if good is not None else ""
    yield Prompt(KIND, f"{KIND}:store:fridge:{over[0].message}", view.now,
                 f"{what} ({rules.named('cold_hold_c')}). Move what must stay cold, or ice it{until}; probe it"
                 f"{'' if until else ', and find out since when'}.", None, None, last.who, view.now + HOLD_NOTICE,
                 urgent=True, act="fridge, move what must stay cold")
    used = since + timedelta(minutes=rules.value("use_by_min"))
    keep = f"cold again by {clock(by)}" + (f", or used by {clock(used)}" if used > by else "")
    yield Prompt(KIND, f"{KIND}:store:fridge:by:{over[0].message}",
                 view.when_there(max(view.now, by - HOLD_NOTICE)),
                 f"{what} since {clock(since)} by the readings: what stands in it is to be {keep}, else "
                 f"discarded ({rule}).",
                 None, None, last.who, by + HOLD_NOTICE, urgent=True, act="fridge, cold again or used")
