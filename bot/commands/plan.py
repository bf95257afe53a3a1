"""`yardhand plan`: when to light for a meal, as a table, a picture and a calendar file."""
from __future__ import annotations

import argparse
import re
from dataclasses import replace
from datetime import date, datetime, timedelta
from pathlib import Path
from typing import TYPE_CHECKING
from zoneinfo import ZoneInfo

from bot.commands.common import ROOM, Commands, UsageError, add_data, folder_of, say, store_of

if TYPE_CHECKING:
    from bot.session import Session
    from bot.store import Store
    from skills.planning.say_plan import Worked
    from skills.view import View
    from skills.vocabulary import Fact

_CLOCK = re.compile(r"([01]?\d|2[0-3])[:.]([0-5]\d)")
_ODDS = re.compile(r"(\d+) in (\d+)|0?\.(\d+)|(\d+) ?%")
UNNAMED = "oven"
# A class that nobody closed is over so long after its last word, if its meal is over (common practice, no source).
RUNS_FOR = timedelta(hours=14)


def add(commands: Commands) -> None:
    plan = commands.add_parser("plan", help="when to light for a meal: table, picture, calendar file", description=(
        "Works a firing back from a meal with the same models as the room. Say oven, dish and wood in the words of the "
        "room; several --dish make a heat ladder. What is not said is that of the class that runs in the data folder: "
        "meal, ovens as they stand, dishes, guests, wood and weather. Times are forecasts with odds."))
    plan.add_argument("--eat", metavar="HH:MM", help="when people eat (the next such time, or --day)")
    plan.add_argument("--day", metavar="YYYY-MM-DD", help="the day of the meal")
    plan.add_argument("--dish", action="append", metavar="WORDS", default=[],
                      help="such as '3 kg lamb shoulder, litre of hot stock, iron pot'; may be given several times")
    plan.add_argument("--oven", action="append", metavar="WORDS", default=[],
                      help="a name known in the data folder, or words such as 'dome 90 across, 10 of insulation'; "
                           "another one ('barrel 66 across, fire stays in') takes what the first leaves out")
    plan.add_argument("--guests", type=int, metavar="N",
                      help="for how many: weighs what was not weighed, and adds the shopping list")
    plan.add_argument("--avoid", action="append", metavar="ALLERGEN", default=[],
                      help="what a guest avoids, such as gluten; may be given several times")
    plan.add_argument("--wood", metavar="PERCENT", help="moisture on a pin meter; '18 wet' if by total weight")
    plan.add_argument("--odds", default="9 in 10", metavar="ODDS", help="such as '4 in 5' (default: 9 in 10)")
    plan.add_argument("--weather", metavar="WORDS", default="", help="such as '9 degrees and raining'")
    plan.add_argument("--table", action="store_true", help="the table only, without wood and remarks")
    plan.add_argument("--png", metavar="FILE", help="also draw the plan")
    plan.add_argument("--ics", metavar="FILE", help="also write it for people's calendars")
    plan.add_argument("--now", metavar="HH:MM", help="plan as if it were this time")
    plan.add_argument("--alone", action="store_true", help="leave out what the running class has told")
    add_data(plan)
    plan.set_defaults(run=_plan)


def _plan(options: argparse.Namespace) -> int:
    from bot.plan_page import (
        acts_of,
        acts_of_ladder,
        bars_of_ladder,
        bars_of_plan,
        calendar,
        page_of_ladder,
        page_of_plan,
        picture,
        table,
    )
    from skills.planning.curve import curve_of_ladder, curve_of_plan
    from skills.planning.say_plan import say_plan, wood_burnt, work_out
    from skills.planning.shopping import list_lines, mind, shopping
    from skills.vocabulary import Plan

    view, oven = _view(options)
    question = Plan(oven=oven, by=view.serve.strftime("%H:%M") if options.eat and view.serve else None)
    made: Worked = work_out(question, view, _odds(options.odds))
    if made.trouble:
        raise UsageError(made.trouble)
    if made.start is None:
        # All is in already: what is left is a forecast, not a plan.
        say(say_plan(question, view).text)
        return 0
    if made.ladder is not None:
        acts, page = acts_of_ladder(made.ladder), page_of_ladder(made.ladder, (), view.now)
        eat = made.ladder.eat
    else:
        assert made.plan is not None
        assert made.wish is not None
        acts, page = acts_of(made.plan), page_of_plan(
            made.plan, _remarks(made.roomy, made.wish.wood.remark()), view.now)
        eat = made.plan.eat
    say(table(acts, view.now) if options.table else page)
    guests = options.guests or view.record.guests
    if guests is not None and not options.table:
        items = shopping(made.wanted, guests, view.record)
        say("\n" + "\n".join(list_lines(items, guests, wood_burnt(made), mind(made.wanted, view.record))))
    if options.ics:
        _write(options.ics, calendar(acts, made.start.name, eat, view.now))
    if options.png:
        if made.ladder is not None:
            curve, bars = curve_of_ladder(made.start, made.ladder), bars_of_ladder(made.ladder)
        else:
            assert made.plan is not None
            assert made.wish is not None
            curve, bars = curve_of_plan(made.start, made.plan, made.wish), bars_of_plan(made.plan)
        try:
            picture(curve, acts, bars, f"The {made.start.name}, {eat:%a %d %b}", Path(options.png))
        except (OSError, ValueError) as error:
            raise UsageError(f"the picture cannot be written to {options.png} ({error}): name a .png file") from None
    return 0


def _remarks(roomy: str, wood: str) -> list[str]:
    return [each for each in (roomy, f"The wood is {wood}" if wood.startswith("at ") else wood) if each]


def _write(name: str, data: bytes) -> None:
    try:
        Path(name).write_bytes(data)
    except OSError as error:
        raise UsageError(f"{name} cannot be written ({error.strerror}): name another file") from None


def _odds(text: str) -> float:
    found = _ODDS.fullmatch(text.strip())
    share = 0.0
    if found is not None:
        many, of, point, percent = found.groups()
        share = int(many) / max(int(of), 1) if many else float(f"0.{point}") if point else int(percent) / 100.0
    if not 0.5 <= share <= 0.99:
        raise UsageError(f"{text!r} are no odds to plan by: write --odds '9 in 10', between 1 in 2 and 99 in 100")
    return share


def _view(options: argparse.Namespace) -> tuple[View, str | None]:
    """What was said on the command line, told to the class that runs, or to one that has just begun."""
    from bot.rooms.clock import local_zone
    from bot.session import Session
    from bot.store import StoreError
    from bot.talk import Message, School
    from skills.vocabulary import Heard

    learnt: dict[str, dict[str, object]] = {}
    school = session = None
    try:
        with store_of(folder_of(options), shared=True) as store:
            learnt, school = store.learnt(), store.school(ROOM)
            if not options.alone:
                session = _running(store, options)
    except StoreError:
        # No class is kept there yet: the plan goes by the words alone.
        pass
    school = session.school if session is not None else school or School(zone=local_zone(School().zone))
    zone = ZoneInfo(school.zone)
    now = _now(options.now, zone)
    if session is not None and session.last_at is not None:
        now = max(now, session.last_at.astimezone(zone))
    serve = _serve(options, now) if options.eat else session.view(now).serve if session is not None else None
    if serve is None:
        raise UsageError("eating when? write --eat 13:30")
    if session is None:
        session = Session("plan", school, learnt)
    facts, oven = _facts(options, now, (*session.record.ovens, *learnt.get("ovens", {})))
    if options.eat:
        if serve - now > timedelta(hours=24):
            # The record takes the next such time: it is told on the day before.
            now = max(now, serve - timedelta(hours=24) + timedelta(minutes=1))
        facts.append(_fact({"is": "serve", "by": serve.strftime("%H:%M")}))
    if facts:
        session.add(Message("plan/1", now, "Lead", ""), Heard(facts=tuple(facts)))
    view = session.view(now)
    if options.dish:
        # What is named is planned; what cooks already keeps its place.
        named = {dated.dish for dated in view.record.facts if dated.message == "plan/1"}
        view.record = replace(view.record, dishes={
            name: dish for name, dish in view.record.dishes.items() if name in named or dish.cooking})
    return view, oven


def _running(store: Store, options: argparse.Namespace) -> Session | None:
    """The class that runs in the data folder, as it was last heard."""
    from bot.engine import Room

    for row in reversed(store.classes()):
        school = store.school(row.room)
        if school is None:
            continue
        session = Room(row.room, school, store.learnt(), store.log(row.room, row.id)).session
        if session is None or session.last_at is None:
            continue
        record, now = session.record, _now(options.now, ZoneInfo(school.zone))
        waits = record.serve is not None and record.serve > now
        return session if record.ended is None and (waits or now - session.last_at < RUNS_FOR) else None
    return None


def _serve(options: argparse.Namespace, now: datetime) -> datetime:
    found = _CLOCK.fullmatch(options.eat.strip())
    if found is None:
        raise UsageError(f"{options.eat!r} is no time of day: write --eat 13:30")
    at = now.replace(hour=int(found[1]), minute=int(found[2]))
    if options.day is not None:
        try:
            day = date.fromisoformat(options.day)
        except ValueError:
            raise UsageError(f"{options.day!r} is no day: write --day 2026-05-16") from None
        at = at.replace(year=day.year, month=day.month, day=day.day)
        if at <= now:
            raise UsageError(f"{options.eat} on {options.day} has passed: name a meal to come")
        return at
    return at if at > now else at + timedelta(days=1)


def _now(text: str | None, zone: ZoneInfo) -> datetime:
    now = datetime.now(zone).replace(second=0, microsecond=0)
    if text is None:
        return now
    found = _CLOCK.fullmatch(text.strip())
    if found is None:
        raise UsageError(f"{text!r} is no time of day: write --now 09:30")
    return now.replace(hour=int(found[1]), minute=int(found[2]))


def _fact(data: dict[str, object]) -> Fact:
    from skills.vocabulary import fact

    return fact(data)


def _facts(options: argparse.Namespace, now: datetime, known: tuple[str, ...]) -> tuple[list[Fact], str | None]:
    """Oven, dishes, wood, weather and guests as facts, and the oven's name."""
    from bot.reading.context import Context
    from bot.reading.read import read
    from skills.planning.heats import heat_of

    def heard(text: str, kind: str) -> dict[str, object] | None:
        context = Context(now, known)
        return next((each.said() for each in read(text, context).heard.facts if each.is_ == kind), None)

    facts: list[Fact] = []
    ovens: list[str] = []
    for said in filter(None, (each.strip() for each in options.oven)):
        words = said.lower().removeprefix("the ")
        sizes = heard(f"the {words}", "oven") or heard(words, "oven")
        oven = str(sizes.get("oven") or "") if sizes else ""
        oven = oven or next((name for name in known if re.search(rf"\b{re.escape(name)}\b", words)), "") or (
            words.split()[0] if re.match(r"[a-z]+\b", words) else UNNAMED)
        if sizes is not None:
            facts.append(_fact({**sizes, "oven": oven}))
        elif oven not in known and len(words.split()) > 1:
            raise UsageError(f"{said!r} says no size that I can read: write --oven 'dome 90 across, 6 cm floor "
                             "brick, 10 of insulation'")
        ovens.append(oven)
    for text in options.dish:
        load = heard(text, "load") or {"is": "load"}
        name = str(load.get("dish") or load.get("cut") or text.split(",")[0]).strip().lower()[:60]
        if heat_of(text)[0].dry and not heat_of(name)[0].dry:
            name = f"{name} to dry"
        if not name:
            raise UsageError("a dish without a name: write --dish '3 kg lamb shoulder'")
        facts.append(_fact({**load, "dish": name}))
    if options.wood is not None:
        found = re.fullmatch(r"(\d+(?:[.,]\d+)?) ?%?(?: ?(wet|dry))?(?: ?basis)?", options.wood.strip().lower())
        if found is None or float(found[1].replace(",", ".")) > 200.0:
            raise UsageError(f"{options.wood!r} is no moisture: write --wood 18, or --wood '18 wet' if by total weight")
        basis = {"basis": found[2]} if found[2] else {}
        facts.append(_fact({"is": "wood", "moisture_pct": float(found[1].replace(",", ".")), **basis}))
    if options.weather:
        weather = heard(options.weather, "weather")
        if weather is None:
            raise UsageError(f"{options.weather!r} is no weather that I can read: write '9 degrees and raining'")
        facts.append(_fact(weather))
    if options.guests is not None:
        if not 1 <= options.guests <= 10_000:
            raise UsageError(f"{options.guests} guests: write how many eat, 1 to 10000")
        facts.append(_fact({"is": "guests", "count": options.guests}))
    facts += [_fact({"is": "guests", "count": options.avoid.count(each), "allergen": each.strip().lower()})
              for each in dict.fromkeys(options.avoid) if each.strip()]
    return facts, ovens[0] if ovens else None
