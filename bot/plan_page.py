"""A plan as a table, as a picture of the oven's heat with the dishes on it, and as an iCalendar file (RFC 5545)."""
from __future__ import annotations

import uuid
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import TYPE_CHECKING

import numpy as np

from skills.planning.curve import Curve
from skills.planning.firing_plan import DishPlan
from skills.planning.ladder import Ladder
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
    """One line of a plan for people: `at` is the time that keeps the odds, `likely` the time of an even chance."""
    what: str
    at: datetime
    likely: datetime | None = None
    remark: str = ""
    long: timedelta = timedelta(0)


def acts_of(plan: DishPlan) -> list[Act]:
    """The acts of one dish, set by the sure times."""
    shift = timedelta(0)
    light = plan.row("light")
    if plan.mode == "ahead" and light is not None and light.sure is not None:
        shift = light.at - light.sure
    acts = []
    for row in plan.rows:
        sure = row.sure or (row.at - shift if row.what in ("feed", "ceiling clear") else row.at)
        what = plan.heat.name if row.what == "pot in" and plan.heat.fire else row.what
        acts.append(Act(f"{plan.dish}: {what}" if row.what in ("pot in", "look", "out") else what, sure,
                        row.at if plan.mode == "ahead" else None, row.remark))
    settle, rake = plan.row("settle"), plan.row("rake")
    if settle is not None and rake is not None and rake.sure is not None:
        at = rake.sure + (settle.at - rake.at)
        acts = [Act(each.what, at, each.likely, each.remark) if each.what == "settle" else each for each in acts]
    return sorted(acts, key=lambda act: act.at)


def acts_of_ladder(made: Ladder) -> list[Act]:
    """The acts of several dishes."""
    acts = [Act("light", made.light, made.likely, "small dry splits at the mouth, door off")] \
        if made.stage == "ahead" else []
    if made.stage != "raked":
        acts.append(Act("rake", made.rake, None,
                        "embers into a lidded metal bin outdoors, brush, damp mop, door on to settle"))
    for rung in made.rungs:
        fire = " beside the flame" if rung.wish.heat.fire else ""
        acts.append(Act(f"{rung.wish.dish}: in", rung.into, None,
                        f"{rung.wish.heat.place} near {5 * round(rung.heat_c / 5)}{fire}"
                        + (", after the meal" if rung.after_meal else "")))
        acts.append(Act(f"{rung.wish.dish}: done", rung.out_sure, rung.out, ""))
    acts.append(Act("table", made.eat + timedelta(seconds=made.late_by_s), None, "say the allergens aloud"))
    return sorted(acts, key=lambda act: act.at)


def table(acts: Sequence[Act], now: datetime) -> str:
    """The acts in columns: what, when to be sure, when at an even chance, what to mind."""
    heads = ("what", "sure", "even", "")
    rows = [(act.what, _when(act.at, now), _when(act.likely, now) if act.likely and act.likely != act.at else "",
             act.remark) for act in acts]
    wide = [max(len(each) for each in column) for column in zip(heads, *rows, strict=True)]
    return "\n".join("  ".join(cell.ljust(width) for cell, width in zip(row, wide, strict=True)).rstrip()
                     for row in (heads, *rows))


def _when(at: datetime, now: datetime) -> str:
    return clock(at) if at.date() == now.date() else f"{at:%a} {clock(at)}"


def page_of_plan(plan: DishPlan, extra: Sequence[str], now: datetime) -> str:
    """The whole page of one dish."""
    head = f"{capital(plan.dish)} in the {plan.oven}, eating {_when(plan.eat, now)}"
    if plan.mode == "ahead":
        promise = f"Kept to the sure times it is on the table in time: {odds(plan.reached)}."
    else:
        promise = f"From now on it is on the table in time: {odds(plan.reached)}."
        if plan.sure_meal is not None and plan.reached < plan.odds - 0.02:
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
    head = f"{len(made.rungs)} dishes in the {made.oven}, eating {_when(made.eat, now)}"
    late = made.eat + timedelta(seconds=made.late_by_s)
    begun = made.stage != "ahead"
    promise = f"{'From' if begun else 'Lit'} now all is ready by {_when(late, now)}, not before" \
        if made.late_by_s > 0 else \
        f"{'Raked' if begun else 'Lit then and raked'} when it is full, all is on the table in time"
    promise += f": {odds(made.reached)}."
    left = [f"Not {each.wish.dish}: {each.why}." for each in made.left]
    if made.evening is not None and made.evening_lit is not None:
        left.append(f"Or fire 2 h from {_when(made.evening_lit, now)}, rake, door on; then light "
                    f"{_when(made.evening.light, now)}, rake {clock(made.evening.rake)}: {odds(made.evening.reached)}.")
    return _page(head, table(acts_of_ladder(made), now), (
        promise, f"Wood: about {made.kg:.0f} kg.", *extra, *left))


def _page(head: str, body: str, lines: Sequence[str]) -> str:
    return "\n".join([head, "", body, "", *(line if line.endswith(".") else f"{line}." for line in lines if line), "",
                      *CAUTIONS])


def calendar(acts: Sequence[Act], oven: str, eat: datetime, now: datetime) -> bytes:
    """The acts as an iCalendar file. Times are UTC, so that every phone shows its own clock."""
    from icalendar import Alarm, Calendar, Event

    made = Calendar()
    made.add("prodid", "-//Yardhand//plan//EN")
    made.add("version", "2.0")
    made.add("method", "PUBLISH")
    seen: dict[str, int] = {}
    for act in acts:
        seen[act.what] = seen.get(act.what, 0) + 1
        event = Event()
        event.add("uid", f"{uuid.uuid5(EVENTS, f'{oven}|{eat.isoformat()}|{act.what}|{seen[act.what]}')}@yardhand")
        event.add("dtstamp", now.astimezone(UTC))
        event.add("dtstart", act.at.astimezone(UTC))
        event.add("dtend", (act.at + max(act.long, timedelta(minutes=5))).astimezone(UTC))
        event.add("summary", f"{capital(oven)}: {act.what}")
        if act.remark:
            event.add("description", act.remark)
        event.add("transp", "TRANSPARENT")
        alarm = Alarm()
        alarm.add("action", "DISPLAY")
        alarm.add("trigger", -AHEAD)
        alarm.add("description", f"{capital(oven)}: {act.what}")
        event.add_component(alarm)
        made.add_component(event)
    return bytes(made.to_ical())


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

    figure = Figure(figsize=(4.6, 5.4 + 0.22 * len(bars)), dpi=200, layout="constrained")
    FigureCanvasAgg(figure)
    heat, line = figure.subplots(2, 1, sharex=True, height_ratios=(3.2, 0.8 + 0.5 * len(bars)))
    zone = acts[0].at.tzinfo
    hours = np.array([_days(moment(float(at_s), zone)) for at_s in curve.at_s])
    heat.fill_between(hours, curve.air_c[0], curve.air_c[2], color="0.8", linewidth=0, label="air, 8 in 10")
    heat.plot(hours, curve.air_c[1], color="black", linewidth=1.8, label="air")
    heat.plot(hours, curve.floor_c[1], color="black", linewidth=1.4, linestyle=(0, (4, 2)), label="floor")
    heat.set_ylabel("degrees C", fontsize=10)
    heat.set_title(title, fontsize=11)
    heat.legend(fontsize=9, frameon=False, loc="upper right")
    heat.grid(axis="y", color="0.85", linewidth=0.6)
    for row, bar in enumerate(bars):
        left, right = _days(bar.into), _days(bar.out)
        if bar.band_c is not None:
            heat.plot([left, left], bar.band_c, color="black", linewidth=3.0, marker="_", markersize=9)
            heat.annotate(bar.name, (left, bar.band_c[1]), fontsize=9, xytext=(2, 3), textcoords="offset points")
        line.barh(-row, right - left, left=left, height=0.62, facecolor="white", edgecolor="black", hatch=_HATCHES[
            row % len(_HATCHES)], linewidth=1.0)
        late = left > hours[0] + 0.55 * (hours[-1] - hours[0])
        line.annotate(f"{bar.name} {clock(bar.into)}-{clock(bar.out)}", (right if late else left, -row - 0.42),
                      fontsize=9, va="top", ha="right" if late else "left")
    line.set_ylim(-len(bars) - 0.2, 0.6)
    line.set_yticks([])
    _marks(heat, line, acts)
    _clock_axis(line)
    figure.savefig(path)


_HATCHES = ("////", "....", "\\\\\\\\", "xxxx", "----", "++++")


def _days(at: datetime) -> float:
    """The wall clock as matplotlib counts it: days since 1970."""
    return (at.replace(tzinfo=None) - datetime(1970, 1, 1)) / timedelta(days=1)  # noqa: DTZ001


def _marks(heat: Axes, line: Axes, acts: Sequence[Act]) -> None:
    """Lines for the acts that everybody waits for, their names at alternating heights."""
    shown = [act for act in acts if act.what in ("light", "rake", "table")]
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


def bars_of_plan(plan: DishPlan) -> list[Bar]:
    """Fire, settling and dish as bars."""
    acts = {act.what.split(": ")[-1]: act.at for act in acts_of(plan)}
    bars = []
    if "light" in acts and "rake" in acts:
        bars.append(Bar("fire", acts["light"], acts["rake"]))
    into = acts.get("pot in") or acts.get(plan.heat.name)
    if "rake" in acts and into is not None:
        bars.append(Bar("settle", acts["rake"], into))
    if into is not None:
        out = plan.row("out") or plan.row("done")
        bars.append(Bar(plan.dish, into, out.at if out is not None else plan.eat, (plan.heat.low_c, plan.heat.high_c)))
    return bars


def bars_of_ladder(made: Ladder) -> list[Bar]:
    """Fire and dishes as bars; what goes on long after the meal is cut there."""
    end = made.eat + timedelta(seconds=made.late_by_s, hours=1)
    fire = [] if made.stage == "raked" else [Bar("fire", made.light, made.rake)]
    return [*fire, *(
        Bar(rung.wish.dish, rung.into, min(rung.out_sure, end), (rung.wish.heat.low_c, rung.wish.heat.high_c))
        for rung in made.rungs if rung.into < end)]
