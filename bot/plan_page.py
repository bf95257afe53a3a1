"""A plan as a table, as a picture of the oven's heat with the dishes on it, and as an iCalendar file (RFC 5545)."""
from __future__ import annotations

import uuid
from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import TYPE_CHECKING

import numpy as np

from skills.planning.course import FEED_EVERY_S
from skills.planning.curve import Curve
from skills.planning.firing_plan import DishPlan
from skills.planning.ladder import Ladder
from skills.planning.rows import (
    Row,
    feeding,
    kept_small,
    last_feed,
    lighting,
    looks,
    raking,
    serving,
    taking_out,
    tending,
)
from skills.planning.say_ladder import say_left, wood_words
from skills.wording import capital, clock, moment, odds

if TYPE_CHECKING:
    from matplotlib.axes import Axes

# One namespace for the events of all plans, so that a plan made again replaces its events in people's calendars.
EVENTS = uuid.UUID("9c7f6a52-6f0b-5d55-9d1a-2b8b0c1d7e31")
AHEAD = timedelta(minutes=10)
CAUTIONS = (
    "Figures are forecasts: probe, taste and look before you serve. Rake before the door goes on; never shut a live "
    "fire.",
    "Embers go into a lidded metal bin outdoors and give off carbon monoxide. Local codes and licensed practice go "
    "first.")


@dataclass(frozen=True)
class Act:
    """One line of a plan for people: `at` is the time that keeps the odds, `likely` the time of an even chance; every,
    until: done again so often until then; oven: where, if it is not the plan's own."""
    what: str
    at: datetime
    likely: datetime | None = None
    remark: str = ""
    lasts: timedelta = timedelta(0)
    every: timedelta | None = None
    until: datetime | None = None
    oven: str = ""

    @property
    def name(self) -> str:
        return f"{self.oven}: {self.what}" if self.oven else self.what


# What is done to one dish, and so has its name in front.
_OF_A_DISH = ("pot in", "look", "out", "done", "rest")


def _act(row: Row, dish: str, sure: datetime, likely: datetime | None, oven: str = "") -> Act:
    what = f"{dish}: {row.what.removeprefix('pot ')}" if row.what in _OF_A_DISH else row.what
    until = None if row.until is None else row.until + (sure - row.at)
    return Act(what, sure, likely, row.remark, row.lasts, row.every, until, oven)


def acts_of(plan: DishPlan, oven: str = "") -> list[Act]:
    """The acts of one dish, set by the sure times; oven: named with each, where it is another than the others'."""
    shift = timedelta(0)
    light, rake, pot = plan.row("light"), plan.row("rake"), plan.row("pot in")
    assert pot is not None
    if plan.mode == "ahead" and light is not None and light.sure is not None:
        shift = light.at - light.sure
    acts = [_act(Row("rake the evening's fire", plan.raked_first), plan.dish, plan.raked_first, None, oven)] \
        if plan.raked_first is not None else []
    for row in plan.rows:
        fire = row.what in ("feed", "feed small", "ceiling clear")
        sure = row.sure or (row.at - shift if fire else row.at)
        act = _act(row, plan.dish, sure, row.at if plan.mode == "ahead" else None, oven)
        if row.what == "feed":
            end = last_feed(rake.sure or rake.at) if rake is not None else pot.sure or pot.at
            act = replace(act, until=feeding(sure, max(sure, end))[0].until)
        acts.append(act)
    return sorted(acts, key=lambda act: act.at)


def acts_of_ladder(made: Ladder) -> list[Act]:
    """The acts of several dishes, in this oven and in others that take what it leaves out."""
    rows: list[tuple[Row, str, datetime | None]] = []
    if made.raked_first is not None:
        rows.append((Row("rake the evening's fire", made.raked_first), "", None))
    if made.stage == "ahead":
        rows.append((lighting(made.light), "", made.likely))
    if made.tended and not made.rungs[0].wish.heat.fire:
        fed = made.light + timedelta(seconds=FEED_EVERY_S)
        rows += [(row, "", None) for row in feeding(fed, made.rake, small=True) if made.stage == "ahead"]
        rows.append((tending(made.rake, max(rung.out_sure for rung in made.rungs)), "", None))
    elif made.tended:
        fed = made.light + timedelta(seconds=FEED_EVERY_S)
        rows += [(row, "", None) for row in feeding(fed, made.rake, flame=True)]
    elif made.stage != "raked":
        fed = made.light + timedelta(seconds=FEED_EVERY_S if made.stage == "ahead" else 0.0)
        full = min(made.full or made.rake, made.rake)
        rows += [(row, "", None) for row in (*feeding(fed, last_feed(full)), *kept_small(full, made.rake),
                                             *raking(made.rake))]
    for rung in made.rungs:
        heat, dish = rung.wish.heat, rung.wish.dish
        near = f"{heat.place} near {5 * round(rung.heat_c / 5)}" + (", beside the flame" if heat.fire else "") + (
            ", after the meal" if rung.after_meal else "")
        cook_s = (rung.out - rung.into).total_seconds()
        seen = looks(heat, bool(rung.wish.load.get("liquid_l")), rung.into, None, cook_s)
        rows += [(Row("pot in", rung.into, None, near), dish, None), *((row, dish, None) for row in seen),
                 *((row, dish, rung.out) for row in taking_out(heat, rung.out_sure))]
    rows.append((serving(made.meal), "", None))
    acts = [_act(row, dish, row.at, likely) for row, dish, likely in rows]
    acts += [act for each in made.left if each.instead is not None
             for act in acts_of(each.instead, each.instead.oven) if act.what != "table"]
    return sorted(acts, key=lambda act: act.at)


def table(acts: Sequence[Act], now: datetime) -> str:
    """The acts in columns: what, when to be sure, when at an even chance, what to mind."""
    heads = ("what", "sure", "even", "")
    rows = [(act.name, _when(act.at, now), _when(act.likely, now) if act.likely and act.likely != act.at else "",
             act.remark + (f" until {clock(act.until)}" if act.until is not None else "")) for act in acts]
    wide = [max(len(each) for each in column) for column in zip(heads, *rows, strict=True)]
    return "\n".join("  ".join(cell.ljust(width) for cell, width in zip(row, wide, strict=True)).rstrip()
                     for row in (heads, *rows))


def _when(at: datetime, now: datetime) -> str:
    return clock(at) if at.date() == now.date() else f"{at:%a} {clock(at)}"


def page_of_plan(plan: DishPlan, extra: Sequence[str], now: datetime) -> str:
    """The whole page of one dish."""
    head = f"{capital(plan.dish)} in the {plan.oven}, eating {_when(plan.eat, now)}"
    if plan.mode == "ahead":
        promise = f"Kept to the sure times it is on the table in time: {odds(plan.reached, plan.odds)}."
    else:
        promise = f"From now on it is on the table in time: {odds(plan.reached, plan.odds)}."
        if plan.sure_meal is not None and plan.reached < plan.odds - 1e-9:
            promise += f" {capital(odds(plan.odds))} for {_when(plan.sure_meal, now)}."
    have = max(plan.kg, plan.kg_sure)
    wood = f"Wood: about {plan.kg:.0f} kg, {plan.splits} splits; have {have:.0f} kg at the oven." if plan.kg > 0.05 \
        else ""
    evening = ""
    if plan.evening is not None:
        each = plan.evening
        evening = f"Or fire 2 h from {_when(each.lit, now)}, rake, door on; then light {_when(each.light, now)}" + (
            f" ({clock(each.light_sure)} to be sure)" if each.light_sure else "") + f", pot in {clock(each.pot_in)}."
    return _page(head, table(acts_of(plan), now), (promise, wood, *extra, *plan.notes, evening))


def page_of_ladder(made: Ladder, extra: Sequence[str], now: datetime) -> str:
    """The whole page of several dishes."""
    many = f"{len(made.rungs)} dishes" if len(made.rungs) > 1 else "1 dish"
    head = f"{many} in the {made.oven}, eating {_when(made.eat, now)}"
    late = made.meal
    begun = made.stage != "ahead"
    promise = f"{'From' if begun else 'Lit'} now all is ready by {_when(late, now)}, not before" \
        if made.late_by_s > 0 else \
        f"{'Fed on' if begun else 'Lit then and fed small'}, all is on the table in time" if made.tended else \
        f"{'Raked' if begun else 'Lit then and raked'} when it is full, all is on the table in time"
    promise += f": {odds(made.reached, made.odds)}."
    left = [say_left(each, now) for each in made.left]
    if made.evening is not None and made.evening_lit is not None:
        sure = odds(made.evening.reached, made.odds)
        left.append(f"Or fire 2 h from {_when(made.evening_lit, now)}, rake, door on; then light "
                    f"{_when(made.evening.light, now)}, rake {clock(made.evening.rake)}: {sure}.")
    return _page(head, table(acts_of_ladder(made), now), (
        promise, f"Wood: {wood_words(made)}.", *extra, *left))


def _page(head: str, body: str, lines: Sequence[str]) -> str:
    return "\n".join([head, "", body, "", *(capital(f"{line.rstrip('.')}.") for line in lines if line), "",
                      *CAUTIONS])


def calendar(acts: Sequence[Act], oven: str, eat: datetime, now: datetime) -> bytes:
    """The acts as an iCalendar file. Times are UTC, so that every phone shows its own clock."""
    from icalendar import Alarm, Calendar, Event

    made = Calendar()
    made.add("prodid", "-//Yardhand//plan//EN")
    made.add("version", "2.0")
    made.add("method", "PUBLISH")
    seen: dict[str, int] = {}
    for act in (turn for each in acts for turn in _each_time(each)):
        seen[act.name] = seen.get(act.name, 0) + 1
        summary = f"{capital(act.oven or oven)}: {act.what}"
        event = Event()
        event.add("uid", f"{uuid.uuid5(EVENTS, f'{oven}|{eat.isoformat()}|{act.name}|{seen[act.name]}')}@yardhand")
        event.add("dtstamp", now.astimezone(UTC))
        event.add("dtstart", act.at.astimezone(UTC))
        event.add("dtend", (act.at + max(act.lasts, timedelta(minutes=5))).astimezone(UTC))
        event.add("summary", summary)
        if act.remark:
            event.add("description", act.remark)
        event.add("transp", "TRANSPARENT")
        alarm = Alarm()
        alarm.add("action", "DISPLAY")
        alarm.add("trigger", -AHEAD)
        alarm.add("description", summary)
        event.add_component(alarm)
        made.add_component(event)
    return bytes(made.to_ical())


def _each_time(act: Act) -> list[Act]:
    """An act that is done again and again, once for each time: phones do not repeat things by the minute."""
    if act.every is None or act.until is None:
        return [act]
    return [replace(act, at=act.at + turn * act.every) for turn in range((act.until - act.at) // act.every + 1)]


@dataclass(frozen=True)
class Bar:
    """Something that takes its time; band_c: the heat that a dish wants as it goes in."""
    name: str
    into: datetime
    out: datetime
    band_c: tuple[float, float] | None = None


def picture(curve: Curve, acts: Sequence[Act], bars: Sequence[Bar], title: str, path: Path) -> None:
    """Bands of the oven's heat along the day with the dishes under them, legible on a phone in black and white."""
    from matplotlib.backends.backend_agg import FigureCanvasAgg
    from matplotlib.figure import Figure
    from matplotlib.patheffects import withStroke

    figure = Figure(figsize=(4.6, 5.4 + 0.22 * len(bars)), dpi=200, layout="constrained")
    FigureCanvasAgg(figure)
    halo = [withStroke(linewidth=3, foreground="white")]
    heat, line = figure.subplots(2, 1, sharex=True, height_ratios=(3.2, 0.8 + 0.5 * len(bars)))
    zone = acts[0].at.tzinfo
    hours = np.array([_days(moment(float(at_s), zone)) for at_s in curve.at_s])
    heat.fill_between(hours, curve.air_c[0], curve.air_c[2], color="0.8", linewidth=0, label="air, 8 in 10")
    heat.plot(hours, curve.air_c[1], color="black", linewidth=1.8, label="air")
    heat.plot(hours, curve.floor_c[1], color="black", linewidth=1.4, linestyle=(0, (4, 2)), label="floor")
    heat.set_ylabel("degrees C", fontsize=10)
    heat.set_title(title, fontsize=11)
    heat.legend(fontsize=9, loc="upper right", framealpha=1.0, edgecolor="white", borderpad=0.1)
    heat.grid(axis="y", color="0.85", linewidth=0.6)
    named: list[tuple[float, float]] = []
    for row, bar in enumerate(bars):
        left, right = _days(bar.into), _days(bar.out)
        if bar.band_c is not None:
            heat.plot([left, left], bar.band_c, color="black", linewidth=3.0, marker="_", markersize=9)
            top = _clear_of(named, left, bar.band_c[1], 0.12 * (hours[-1] - hours[0]), 0.055 * heat.get_ylim()[1])
            named.append((left, top))
            heat.annotate(bar.name, (left, top), fontsize=9, xytext=(2, 3), textcoords="offset points",
                          path_effects=halo)
        line.barh(-row, right - left, left=left, height=0.62, facecolor="white", edgecolor="black", hatch=_HATCHES[
            row % len(_HATCHES)], linewidth=1.0)
        late = left > hours[0] + 0.55 * (hours[-1] - hours[0])
        line.annotate(f"{bar.name} {clock(bar.into)}-{clock(bar.out)}", (right if late else left, -row - 0.42),
                      fontsize=9, va="top", ha="right" if late else "left", path_effects=halo)
    line.set_ylim(-len(bars) - 0.2, 0.6)
    line.set_yticks([])
    _marks(heat, line, acts)
    _clock_axis(line)
    figure.savefig(path)


def _clear_of(named: Sequence[tuple[float, float]], left: float, top: float, wide: float, high: float) -> float:
    """How high a name stands so that it does not write over those before it: dishes go in within the hour."""
    for at, height in named:
        if abs(left - at) < wide and abs(top - height) < high:
            top = height - high
    return top


_HATCHES = ("////", "....", "\\\\\\\\", "xxxx", "----", "++++")


def _days(at: datetime) -> float:
    """The wall clock as matplotlib counts it: days since 1970."""
    return (at.replace(tzinfo=None) - datetime(1970, 1, 1)) / timedelta(days=1)  # noqa: DTZ001


def _marks(heat: Axes, line: Axes, acts: Sequence[Act]) -> None:
    """Lines for the acts that everybody waits for, their names at alternating heights."""
    shown = [act for act in acts if act.name in ("light", "rake", "table")]
    top = heat.get_ylim()[1]
    for count, act in enumerate(shown):
        for axes in (heat, line):
            axes.axvline(_days(act.at), color="0.35", linewidth=0.9, linestyle=":")
        heat.annotate(f"{act.what} {clock(act.at)}", (_days(act.at), top * (0.06 + 0.09 * (count % 2))), fontsize=9,
                      ha="right" if act.what == "table" else "left", xytext=(-3 if act.what == "table" else 3, 0),
                      textcoords="offset points")


def _clock_axis(line: Axes) -> None:
    """Whole hours, few enough to be read."""
    low, high = line.get_xlim()
    step = next(each for each in (1, 2, 3, 4, 6, 12, 24) if (high - low) * 24 / each <= 7 or each == 24)
    ticks = [tick / 24 for tick in range(int(np.ceil(low * 24 / step)) * step, int(high * 24) + 1, step)]
    line.set_xticks(ticks, [f"{round(tick * 24) % 24:02d}:00" for tick in ticks])
    line.tick_params(axis="x", labelsize=9)


def bars_of_plan(plan: DishPlan, oven: str = "") -> list[Bar]:
    """Fire, settling and dish as bars; of another oven than the picture's the dish alone."""
    acts = {act.what.split(": ")[-1]: act.at for act in acts_of(plan)}
    into, out = acts["in"], plan.row("out") or plan.row("done")
    until = out.at if out is not None else plan.eat
    if oven:
        return [Bar(f"{plan.dish} ({oven})", into, until)]
    bars = []
    if "light" in acts:
        bars.append(Bar("fire", acts["light"], acts.get("rake", into if plan.heat.fire else until)))
    if "rake" in acts:
        bars.append(Bar("settle", acts["rake"], into))
    return [*bars, Bar(plan.dish, into, until, (plan.heat.low_c, plan.heat.high_c))]


def bars_of_ladder(made: Ladder) -> list[Bar]:
    """Fire and dishes as bars; what goes on long after the meal is cut there."""
    end = made.meal + timedelta(hours=1)
    fed = max((rung.out_sure for rung in made.rungs), default=made.rake) if made.tended else made.rake
    fire = [] if made.stage == "raked" else [Bar("fire", made.light, min(fed, end))]
    return [*fire, *(
        Bar(rung.wish.dish, rung.into, min(rung.out_sure, end), (rung.wish.heat.low_c, rung.wish.heat.high_c))
        for rung in made.rungs if rung.into < end), *(
        bar for each in made.left if each.instead is not None for bar in bars_of_plan(each.instead, each.instead.oven))]
