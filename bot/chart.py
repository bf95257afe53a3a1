"""The picture of a class: ovens, pots, what was done, and while it runs what is still to come.

Drawn for a phone's width and for a printer without colours: each line has its own dashes and each reading its own
mark, and the three colours differ for every kind of colour sight (Okabe and Ito 2008, their black, blue, vermilion).
"""
from __future__ import annotations

import io
from bisect import bisect_right
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from functools import cached_property
from typing import Any

from matplotlib.axes import Axes
from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.dates import HourLocator
from matplotlib.figure import Figure
from matplotlib.ticker import FuncFormatter

from bot.log import foreseen, outcomes
from bot.log.foreseen import Foreseen
from bot.log.rows import told_of
from bot.talk import Answer, LogLine, School
from skills import vocabulary as v
from skills.dated import Dated
from skills.record import ClassRecord, fold
from skills.safety.packs import pack
from skills.wording import capital, clock, number

BLACK, BLUE, VERMILION = "#000000", "#0072B2", "#D55E00"
WIDTH_IN, DPI = 5.4, 200
TEXT, SMALL = 12.0, 10.5
GRID = timedelta(minutes=10)
AHEAD = timedelta(hours=1)
# As far as the picture looks ahead of now, and how far one kept forecast reaches.
TO_COME = timedelta(hours=4)
MOST_DISHES, MOST_OVENS, LEAST_ROWS = 3, 3, 5
KEY = """shaded: 9 in 10, as foreseen an hour before
hollow mark: infrared gun; star: tender (hollow: likely)"""
# A letter of the small words as a share of the picture's time axis.
LETTER = 0.0185


@dataclass(frozen=True)
class Look:
    """How one quantity is drawn: colour, dashes, mark of a reading, and how its band is filled."""
    colour: str
    dashes: Any
    mark: str
    hatch: str | None = None


PLACES = {"air": Look(BLUE, "solid", "o"), "floor": Look(VERMILION, (0, (5, 2)), "s", "////"),
          "dome": Look(BLACK, (0, (1, 1.5)), "^", "....")}
DISHES = (Look(BLACK, "solid", "o"), Look(BLUE, (0, (5, 2)), "s", "////"), Look(VERMILION, (0, (1, 1.5)), "^", "...."))
FIRES = {"lit": "lit", "fed": "wood", "spread": "embers", "raked": "raked", "out": "fire out"}
NAMES = {"air": "air", "floor": "floor", "dome": "ceiling"}


@dataclass(frozen=True)
class Day:
    """What is drawn. now: the end of what has happened; end: the end of the picture (later while it is live)."""
    record: ClassRecord
    made: tuple[Foreseen, ...]
    doubts: frozenset[tuple[str, int]]
    start: datetime
    now: datetime
    end: datetime
    school: School
    times: tuple[datetime, ...] = field(default=())

    def n(self, at: datetime) -> float:
        """A time as matplotlib counts it, in days since 1970: the room's clock as the class began, so that no hour is
        drawn twice."""
        return (at.timestamp() + self.offset_s) / 86400.0

    @cached_property
    def offset_s(self) -> float:
        return (self.start.utcoffset() or timedelta(0)).total_seconds()

    @property
    def live(self) -> bool:
        return self.end > self.now

    def believed(self, at: datetime) -> Foreseen | None:
        """The forecast that stood at a time (after now: the last one)."""
        place = bisect_right(self.made_s, at.timestamp())
        return self.made[place - 1] if place else None

    @cached_property
    def made_s(self) -> list[float]:
        return [each.at.timestamp() for each in self.made]

    def foreseen(self, at: datetime) -> Foreseen | None:
        """The forecast that stood an hour before; for what is to come the present one."""
        return self.believed(self.now if at > self.now else at - AHEAD)


def png(lines: Sequence[LogLine], school: School, now: datetime | None = None,
        record: ClassRecord | None = None) -> bytes:
    """The picture of a class from its kept lines (Store.log), as a PNG. now: of a class that is still going on; record:
    what is folded from the lines, if it is at hand."""
    out = io.BytesIO()
    # The canvas draws once; Figure.savefig draws all once more, unseen, before it.
    FigureCanvasAgg(figure(lines, school, now, record)).print_png(  # type: ignore[no-untyped-call]
        out, metadata={"Software": None})
    return out.getvalue()


def figure(lines: Sequence[LogLine], school: School, now: datetime | None = None,
           record: ClassRecord | None = None) -> Figure:
    """The same as a figure, for whoever wants another format or looks at what was drawn."""
    day = day_of(lines, school, now, record)
    ovens = [name for name in day.record.ovens if any(name in each.ovens for each in day.made)
             or day.record.ovens[name].readings][:MOST_OVENS] if day else []
    dishes = _dishes(day)[:MOST_DISHES] if day else []
    if day is None or not (ovens or dishes):
        return _nothing()
    heights = [2.7] * len(ovens) + ([2.3, 1.0] if dishes else []) + [1.5]
    drawn = Figure(figsize=(WIDTH_IN, sum(heights) + 1.15), dpi=DPI, layout="constrained")
    FigureCanvasAgg(drawn)
    axes = list(drawn.subplots(len(heights), 1, sharex=True, height_ratios=heights, squeeze=False)[:, 0])
    title = f"{capital(day.record.title or 'class')}, {day.start.day} {day.start:%B}"
    drawn.suptitle(title, fontsize=TEXT + 2, fontweight="bold")
    for name in ovens:
        _oven(axes.pop(0), name, day)
    if dishes:
        _pots(axes.pop(0), dishes, day)
        _liquid(axes.pop(0), dishes, day)
    _acts(axes.pop(0), day)
    for each in drawn.axes:
        _time_lines(each, day)
        each.tick_params(labelsize=SMALL)
        each.set_xlim(day.n(day.start), day.n(day.end))
    _time_axis(drawn.axes[-1], day)
    return drawn


def day_of(lines: Sequence[LogLine], school: School, now: datetime | None = None,
           record: ClassRecord | None = None) -> Day | None:
    """The class as it is drawn; None if nothing of it has a time."""
    answers = [line for line in lines if isinstance(line, Answer)]
    if not answers:
        return None
    record = record or fold([told_of(answer) for answer in answers], school.lead)
    made = tuple(foreseen.forecasts(lines))
    times = [dated.at for dated in record.facts] or [answer.message.at for answer in answers]
    last = max([answer.message.at for answer in answers] + times)
    here = max(now or last, last).astimezone(last.tzinfo)
    end = here
    if record.ended is None and made:
        meal = [record.serve + timedelta(hours=1)] if record.serve is not None else []
        end = min(max([here + timedelta(hours=2), *meal]), here + TO_COME, made[-1].marks[-1])
    start, end = min(times) - timedelta(minutes=10), max(end, here) + timedelta(minutes=10)
    grid = [start + GRID * step for step in range(int((end - start) / GRID) + 1)]
    marks = tuple(sorted({*grid, here, *(each.at for each in made)}))
    doubts = frozenset(foreseen.doubts(lines) or {})
    return Day(record, made, doubts, start, here if end > here + GRID * 1.5 else end, end, school, marks)


def _dishes(day: Day) -> list[str]:
    told = [dated.dish for dated in day.record.facts if isinstance(dated.fact, v.Food) and dated.dish]
    return list(dict.fromkeys([name for each in day.made for name in each.dishes] + told))


Band = Callable[[Foreseen, datetime], tuple[float, float, float] | None]


def _draw(axes: Axes, day: Day, band: Band, look: Look, label: str, *, filled: bool = True) -> list[float]:
    """The band as it stood an hour before, and the middle of what was believed at the time. Gives the middles."""
    edges = [(at, found) for at in day.times if (each := day.foreseen(at)) is not None
             and (found := band(each, at)) is not None]
    if filled and edges:
        for part, faint in ((True, 1.0), (False, 0.6)):
            here = [(at, found) for at, found in edges if (at <= day.now) == part or at == day.now]
            if len(here) < 2:
                continue
            x, low, high = [day.n(at) for at, _ in here], [each[0] for _, each in here], [each[2] for _, each in here]
            shade = axes.fill_between(x, low, high, facecolor=look.colour if look.hatch is None else "none",
                                      alpha=0.22 * faint if look.hatch is None else 0.45 * faint,
                                      hatch=look.hatch, edgecolor=look.colour, linewidth=0.0,
                                      label=f"band {label}{'' if part else ' to come'}")
            shade.set_hatch_linewidth(0.6)
    believed = [(at, found[1]) for at in day.times if (each := day.believed(at)) is not None
                and (found := band(each, at)) is not None]
    for gap in _unbroken(believed):
        axes.plot([day.n(at) for at, _ in gap], [mid for _, mid in gap], color=look.colour, linestyle=look.dashes,
                  linewidth=1.8, label=label)
    return [mid for _, mid in believed]


def _unbroken(points: Sequence[tuple[datetime, float]]) -> Iterator[list[tuple[datetime, float]]]:
    run: list[tuple[datetime, float]] = []
    for at, value in points:
        if run and at - run[-1][0] > GRID * 1.5:
            yield run
            run = []
        run.append((at, value))
    if run:
        yield run


def _oven(axes: Axes, name: str, day: Day) -> None:
    tops = [120.0]
    for place, look in PLACES.items():
        def band(each: Foreseen, at: datetime, place: str = place) -> tuple[float, float, float] | None:
            return each.band(name, place, at)
        tops += _draw(axes, day, band, look, NAMES[place])
    for dated in day.record.facts:
        fact = dated.fact
        if isinstance(fact, v.Reading) and dated.oven == name and fact.celsius is not None:
            tops.append(fact.celsius)
            _reading(axes, dated, fact.celsius, PLACES.get(fact.place or "", PLACES["dome"]), day,
                     hollow=fact.tool == "infrared")
    axes.set_ylim(0, min(max(tops) * 1.08, 650.0))
    _head(axes, f"{capital(name)}, °C", [
        (PLACES[place], NAMES[place]) for place in PLACES])


def _reading(axes: Axes, dated: Dated, value: float, look: Look, day: Day, *, hollow: bool = False) -> None:
    doubted = (dated.message, dated.index) in day.doubts
    axes.plot([day.n(dated.at)], [value], linestyle="none", marker="x" if doubted else look.mark, markersize=7.5,
              markerfacecolor="white" if hollow else look.colour, markeredgecolor=look.colour if doubted or hollow
              else "white", markeredgewidth=2.0 if doubted else 1.4 if hollow else 0.8, zorder=5,
              label="reading not used" if doubted else "reading")
    if doubted:
        axes.annotate("not used", (day.n(dated.at), value), xytext=(7, 0), textcoords="offset points", fontsize=SMALL,
                      va="center", annotation_clip=True)


def _pots(axes: Axes, names: Sequence[str], day: Day) -> None:
    rules = pack(day.school.region)
    axes.axhspan(rules.cold_hold_c, rules.hot_hold_c, facecolor="#dddddd", edgecolor="none", zorder=0,
                 label="growth range")
    axes.text(0.01, (rules.cold_hold_c + 3) / 108.0, f"germs grow {number(rules.cold_hold_c)} to "
              f"{number(rules.hot_hold_c)} ({rules.short})", transform=axes.transAxes, fontsize=SMALL, va="bottom",
              zorder=4, bbox={"facecolor": "#dddddd", "edgecolor": "none", "pad": 0.5, "alpha": 0.9})
    for name, look in zip(names, DISHES, strict=False):
        def core(each: Foreseen, at: datetime, name: str = name) -> tuple[float, float, float] | None:
            return each.dish_band(name, "core", at) if _inside(name, at, day) else None

        def liquor(each: Foreseen, at: datetime, name: str = name) -> tuple[float, float, float] | None:
            return each.dish_band(name, "liquor", at) if _inside(name, at, day) else None
        _draw(axes, day, core, look, f"{name} core")
        _draw(axes, day, liquor, Look(look.colour, (0, (1, 3)), look.mark), f"{name} liquor", filled=False)
        for dated in day.record.facts:
            fact = dated.fact
            if isinstance(fact, v.Food) and dated.dish == name:
                _reading(axes, dated, fact.celsius, look, day, hollow=fact.part == "liquid")
    axes.set_ylim(0, 108)
    _head(axes, "Pots, °C: core; liquor in dots", [(look, name) for name, look in zip(names, DISHES, strict=False)])


def _inside(name: str, at: datetime, day: Day) -> bool:
    """Whether a dish is in an oven at a time; what is believed of it elsewhere is not drawn."""
    dish = day.record.dishes.get(name)
    if dish is None or dish.in_at is None:
        return False
    return dish.in_at <= at and (dish.out_at is None or at <= dish.out_at)


def _liquid(axes: Axes, names: Sequence[str], day: Day) -> None:
    most = 0.5
    for name, look in zip(names, DISHES, strict=False):
        def liquid(each: Foreseen, at: datetime, name: str = name) -> tuple[float, float, float] | None:
            return each.dish_band(name, "liquid", at) if _inside(name, at, day) else None
        most = max([most, *_draw(axes, day, liquid, look, f"{name} liquid")])
    axes.set_ylim(0, most * 1.3)
    _head(axes, "Liquid, l", [])


def _head(axes: Axes, title: str, keys: Sequence[tuple[Look, str]]) -> None:
    """A title and a key above the panel, so that neither hides what is drawn."""
    axes.set_title(title, loc="left", fontsize=TEXT, pad=6)
    axes.grid(visible=True, color="#cccccc", linewidth=0.6)
    if not keys:
        return
    from matplotlib.lines import Line2D

    made = [Line2D([], [], color=look.colour, linestyle=look.dashes, linewidth=1.8, marker=look.mark, markersize=6,
                   markeredgecolor="white", label=name) for look, name in keys]
    axes.legend(handles=made, loc="lower right", bbox_to_anchor=(1.0, 1.0), ncols=len(made), fontsize=SMALL,
                frameon=False, handlelength=2.6, columnspacing=0.9, borderaxespad=0.1, handletextpad=0.4)


def _acts(axes: Axes, day: Day) -> None:
    """What was done, as words under the time at which it was done; rows so that no words lie on others."""
    axes.set_title("Done, and to come" if day.live else "Done", loc="left", fontsize=TEXT, pad=6)
    whole = day.n(day.end) - day.n(day.start)
    taken: list[list[tuple[float, float]]] = [[]]
    for at, words, low, high in [*((at, words, at, at) for at, words in acts(day.record)), *_to_come(day)]:
        x = day.n(at)
        width = (len(words) + 1.5) * LETTER * whole
        left = x + width > day.n(day.end)
        span = (min(x - width, day.n(low)), max(x, day.n(high))) if left else (
            min(x, day.n(low)), max(x + width, day.n(high)))
        row = next((index for index, each in enumerate(taken)
                    if all(span[1] <= begin or end <= span[0] for begin, end in each)), len(taken))
        if row == len(taken):
            taken.append([])
        taken[row].append(span)
        if low < high:
            axes.plot([day.n(low), day.n(high)], [-row - 0.05] * 2, color=BLACK, linewidth=1.6, label="tender to come")
            axes.plot([x], [-row - 0.05], marker="*", markersize=11, markerfacecolor="white", markeredgecolor=BLACK,
                      clip_on=False, zorder=4)
        else:
            axes.plot([x, x], [0, -row - 0.7], color="#777777", linewidth=0.9, zorder=1)
        axes.text(x, -row - 0.5, f"{words} " if left else f" {words}", fontsize=SMALL, va="center", zorder=3,
                  ha="right" if left else "left", label="act",
                  bbox={"facecolor": "white", "edgecolor": "none", "pad": 0.0, "alpha": 0.85})
    axes.set_ylim(-max(len(taken), LEAST_ROWS) - 0.1, 0.3)
    axes.set_yticks([])
    for side in ("left", "right", "top"):
        axes.spines[side].set_visible(False)


def _to_come(day: Day) -> Iterator[tuple[datetime, str, datetime, datetime]]:
    """When each dish in an oven is likely tender, and its 9 in 10 range, as far as the picture goes."""
    now = day.believed(day.now) if day.live else None
    found = outcomes.tender_times(day.record)
    for name in now.dishes if now is not None else ():
        assert now is not None
        mid = now.tender(name, 0.5)
        if name not in found and _inside(name, day.now, day) and mid is not None and day.now < mid < day.end:
            low, high = now.tender(name, 0.05) or day.now, now.tender(name, 0.95) or day.end
            yield mid, f"{name} tender", max(low, day.now), min(high, day.end)


def acts(record: ClassRecord) -> list[tuple[datetime, str]]:
    """What was done, in order, in a word or two; the same done again within the hour once."""
    many = len(record.ovens) > 1
    found: list[tuple[datetime, str]] = []
    for dated in record.facts:
        fact, words = dated.fact, ""
        oven = f" {dated.oven}" if many and dated.oven else ""
        if isinstance(fact, v.Fire):
            words = FIRES[fact.act] + oven
        elif isinstance(fact, v.Door) and fact.state != "on":
            words = f"door {fact.state}{oven}"
        elif isinstance(fact, v.Pot) and fact.act in ("in", "out", "moved", "topped_up"):
            words = f"{dated.dish or 'pot'} {fact.act.replace('_', ' ')}"
        elif isinstance(fact, v.Check) and fact.tender is not None:
            words = f"{dated.dish or 'dish'} {fact.tender}"
        elif isinstance(fact, v.Stage) and fact.stage in ("served", "aside"):
            words = fact.stage if fact.stage == "served" else f"{dated.dish or 'dish'} aside"
        elif isinstance(fact, v.Chill | v.Reheat):
            words = {"start": "chill", "fridge": "fridge", "done": "chilled"}[fact.act] if isinstance(fact, v.Chill) \
                else "reheat"
        elif isinstance(fact, v.Incident):
            words = "incident"
        before = next((at for at, said in reversed(found) if said == words), None)
        if words and (before is None or dated.at - before > timedelta(hours=1)):
            found.append((dated.at, words))
    return found


def _time_lines(axes: Axes, day: Day) -> None:
    meal = day.record.serve
    if meal is not None and day.start <= meal <= day.end:
        axes.axvline(day.n(meal), color=BLACK, linewidth=1.6, linestyle="dashdot", label="meal")
        if axes is axes.figure.axes[0]:
            _over(axes, meal, f"meal {clock(meal)}", day, line=1 if day.live else 0)
    if day.live:
        axes.axvline(day.n(day.now), color=BLACK, linewidth=0.9, label="now")
        if axes is axes.figure.axes[0]:
            _over(axes, day.now, f"now {clock(day.now)}", day)
    for came in outcomes.tender_times(day.record).values():
        if axes is not axes.figure.axes[-1]:
            continue
        axes.plot([day.n(came.found)], [0.0], marker="*", markersize=11, color=BLACK, clip_on=False, label="tender")


def _over(axes: Axes, at: datetime, words: str, day: Day, line: int = 0) -> None:
    late = at > day.start + (day.end - day.start) * 0.75
    axes.annotate(words, (day.n(at), 1.0), xycoords=("data", "axes fraction"),
                  xytext=(-4 if late else 4, -4 - 1.4 * SMALL * line), textcoords="offset points",
                  ha="right" if late else "left", va="top", fontsize=SMALL, fontweight="bold",
                  bbox={"facecolor": "white", "edgecolor": "none", "pad": 1.0, "alpha": 0.8})


def _time_axis(axes: Axes, day: Day) -> None:
    hours = (day.end - day.start).total_seconds() / 3600.0
    every = next((step for step in (1, 2, 3, 4, 6) if hours / step <= 7), 12)
    axes.xaxis.set_major_locator(HourLocator(byhour=range(0, 24, every)))  # type: ignore[no-untyped-call]
    began = day.n(day.start)
    axes.xaxis.set_major_formatter(FuncFormatter(
        lambda x, _: clock(day.start + timedelta(minutes=round((x - began) * 1440.0)))))
    axes.set_xlabel(f"time, {day.school.zone}\n{KEY}", fontsize=SMALL)


def _nothing() -> Figure:
    drawn = Figure(figsize=(WIDTH_IN, 2.0), dpi=DPI)
    FigureCanvasAgg(drawn)
    drawn.text(0.5, 0.5, "No oven was read and no dish was told of yet.", ha="center", fontsize=TEXT)
    return drawn
