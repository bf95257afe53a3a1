"""The `yardhand` command. A mistake of its user is one line on the error stream that says what to do, and exit 2."""
from __future__ import annotations

import argparse
import io
import json
import logging
import os
import re
import sqlite3
import sys
import tempfile
from collections.abc import Callable, Iterator, Sequence
from contextlib import ExitStack, contextmanager
from dataclasses import replace
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING, NoReturn, TextIO, get_args
from zoneinfo import ZoneInfo

from bot.rooms.transcript import Region
from bot.talk import School

if TYPE_CHECKING:
    from bot.store import Store

ROOM = "yard"
DEMOS = Path(__file__).parents[1] / "transcripts_demo"
WRONG = 2


class UsageError(Exception):
    """What the user asked for cannot be done; the text says why and what to do instead."""


class _Parser(argparse.ArgumentParser):
    def error(self, message: str) -> NoReturn:
        """One line instead of the usage and a line."""
        what = message[:1].lower() + message[1:]
        raise UsageError(f"{what}; '{self.prog} --help' shows how it is written")


def main(arguments: Sequence[str] | None = None) -> int:
    from bot.rooms.demo import NoSuchDemoError
    from bot.rooms.transcript import TranscriptError
    from bot.store import StoreError

    # A stray byte in what is piped in, or a letter that the terminal lacks, is shown as a mark and stops nothing.
    for stream in (sys.stdin, sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(errors="replace")
    try:
        options = _parser().parse_args(arguments)
        run: Callable[[argparse.Namespace], int] = options.run
        status = run(options)
        sys.stdout.flush()
        return status
    except (UsageError, NoSuchDemoError, TranscriptError, StoreError) as error:
        print(f"yardhand: {' '.join(str(error).split())}", file=sys.stderr)
        return WRONG
    except sqlite3.OperationalError as error:
        print(f"yardhand: the data file could not be used ({error}): see to the disk; what was answered is kept",
              file=sys.stderr)
        return WRONG
    except KeyboardInterrupt:
        return 130
    except BrokenPipeError:
        # Whoever read the output has gone; nothing more can be said to them, not even on the way out.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return 1


# Commands

def _room(options: argparse.Namespace) -> int:
    from bot.rooms import terminal
    from bot.rooms.clock import wall

    with _store(_folder(options)) as store:
        school = _school_of(options, store.school(ROOM))
        known = store.school(ROOM) is not None
        setting = terminal.Setting(ROOM, school, options.name or school.lead or "Lead", wall(school.zone))
        with _troubles_to(store.path.parent / "trouble.log"):
            if not terminal.is_live():
                terminal.listen(sys.stdin, store, setting, _print)
                return 0
            greeting = [f"{'the class goes on' if known else 'a new room'}, kept in {store.path}",
                        f"a line is a message from {setting.speaker}; 'Idris: pot in' is one from Idris; /help, /quit"]
            terminal.run(store, setting, terminal.styled_page(_width()), greeting=greeting)
    return 0


def _demo(options: argparse.Namespace) -> int:
    from bot.rooms import demo, terminal
    from bot.rooms.clock import running_from
    from bot.rooms.look import Page, plain
    from bot.rooms.replay import Replay
    from bot.rooms.transcript import read_transcript

    transcript = read_transcript(demo.find(options.name, DEMOS))
    live = terminal.is_live()
    page = terminal.styled_page(_width()) if live else Page(lambda fragments: _print(plain(fragments)))
    with tempfile.TemporaryDirectory(prefix="yardhand-") as folder, _store(Path(folder)) as store:
        page.remark(f"a demo class, {transcript.title or 'untitled'}: nothing of it is kept")
        pause = None if options.fast else demo.let_read
        Replay(transcript, store, ROOM, page, pause=pause).play()
        if live:
            speaker = transcript.school.lead or transcript.messages[0].sender
            setting = terminal.Setting(ROOM, transcript.school, speaker, running_from(transcript.end))
            terminal.run(store, setting, page, recall=0, greeting=[
                f"the class stands at {transcript.end:%H:%M} and its clock runs on: it is yours, as {speaker}",
                "ask it something, such as 'where are we'; /help, /quit"])
    return 0


def _replay(options: argparse.Namespace) -> int:
    from bot.rooms.look import Page, plain
    from bot.rooms.replay import Replay, free_name
    from bot.rooms.transcript import read_transcript

    transcript = read_transcript(Path(options.file))
    with ExitStack() as stack:
        folder = Path(options.data) if options.data else Path(stack.enter_context(
            tempfile.TemporaryDirectory(prefix="yardhand-")))
        store = stack.enter_context(_store(folder))
        trace: TextIO | None = None
        if options.trace:
            try:
                trace = stack.enter_context(Path(options.trace).open("w", encoding="utf-8", newline="\n"))
            except OSError as error:
                raise UsageError(f"the trace cannot be written to {options.trace} ({error.strerror}): "
                                 "name another file") from error
        page = Page(lambda fragments: _print(plain(fragments)))
        replay = Replay(transcript, store, free_name(store, Path(options.file).stem), page, trace=trace,
                        guarded=True)
        replay.play()
        if replay.house.failures:
            print(f"yardhand: {replay.house.failures} messages could not be worked with; the rest of the talk stands",
                  file=sys.stderr)
        if options.data:
            replay.house.save_learnt(transcript.end)
    return 0


def _read(options: argparse.Namespace) -> int:
    if options.lines is not None:
        return _read_lines(options.lines)
    now = _now(options.now)
    from bot.reading.context import Context
    from bot.reading.read import read
    from bot.reading.result import explain

    text = " ".join(options.text)
    if not text.strip():
        raise UsageError("nothing to read; write yardhand read \"floor 180 air 170\"")
    context = Context(now, _names(options.ovens), _names(options.dishes))
    reading = read(text, context)
    _print(json.dumps(reading.heard.said(), ensure_ascii=False))
    if options.why:
        _print(explain(reading))
    elif reading.trouble:
        print(f"yardhand: {reading.trouble}", file=sys.stderr)
    return 0


def _read_lines(name: str) -> int:
    from bot.reading.lines import read_lines

    with ExitStack() as stack:
        source: TextIO = sys.stdin
        if name != "-":
            try:
                source = stack.enter_context(Path(name).open(encoding="utf-8"))
            except OSError as error:
                raise UsageError(f"{name} cannot be read ({error.strerror}): name a file of JSON lines") from error
        try:
            for line in read_lines(source):
                _print(line)
        except UnicodeDecodeError as error:
            raise UsageError(f"{name} is not text in UTF-8: save it as UTF-8") from error
        except ValueError as error:
            raise UsageError(str(error)) from error
    return 0


def _classes(options: argparse.Namespace) -> int:
    with _store(_folder(options), shared=True) as store:
        classes = store.classes()
        if not classes:
            raise UsageError(f"no class is kept in {store.path.parent} yet: 'yardhand room' starts one")
        for each in classes:
            _print(f"{each.id:<28} {each.opened_at:%Y-%m-%d %H:%M}  {each.messages:>4} messages  {each.title or ''}"
                   .rstrip())
    return 0


def _log(options: argparse.Namespace) -> int:
    from bot.log_page import as_csv, as_json, as_text, doubts, page_of

    with _store(_folder(options), shared=True) as store:
        classes = store.classes()
        wanted = options.id
        found = classes[-1:] if wanted == "last" else [each for each in classes if each.id.startswith(wanted)]
        found = [each for each in found if each.id == wanted] or found
        if not found:
            raise UsageError(f"no class is called {wanted!r} in {store.path.parent}: 'yardhand classes' lists them")
        if len(found) > 1:
            raise UsageError(f"{wanted!r} begins {len(found)} classes ({', '.join(each.id for each in found[:4])}): "
                             "write more of the one you want")
        chosen = found[0]
        school = store.school(chosen.room) or School()
        lines = store.log(chosen.room, chosen.id)
    page = page_of(chosen.id, chosen.room, chosen.title, lines, school.lead, doubts(chosen.given, school, lines))
    write = as_csv if options.csv else as_json if options.json else as_text
    sys.stdout.write(write(page))
    return 0


def _rules(options: argparse.Namespace) -> int:
    from skills.safety.packs import rules_text

    _print(rules_text(options.region))
    return 0


def _schema(options: argparse.Namespace) -> int:
    del options
    from bot.trace import schema

    _print(json.dumps(schema(), ensure_ascii=False, indent=1))
    return 0


# Arguments

def _parser() -> argparse.ArgumentParser:
    parser = _Parser(prog="yardhand", description="A chat assistant for a wood-fired cookery class.", epilog=(
        "Start with 'yardhand demo'. Times and odds are forecasts: food is done when your probe and your plan say so."))
    parser.set_defaults(run=lambda _: _help(parser))
    commands = parser.add_subparsers(metavar="COMMAND", parser_class=_Parser)

    demo = commands.add_parser("demo", help="watch a whole class, then type in it", description=(
        "Plays a whole class in the terminal, then leaves you in its room. Nothing is kept."))
    demo.add_argument("name", nargs="?", metavar="NAME", help="which class (default: the first)")
    demo.add_argument("--fast", action="store_true", help="play it at once")
    demo.set_defaults(run=_demo)

    room = commands.add_parser("room", help="a live room in this terminal", description=(
        "A live room on the wall clock. What is said is kept: leave with /quit, come back, and the class goes on."))
    _add_data(room)
    room.add_argument("--name", help="who speaks lines without a name (default: who led the room first)")
    room.add_argument("--zone", help="time zone, such as Europe/London (default: this machine's)")
    room.add_argument("--region", choices=get_args(Region),
                      help="whose food-safety rules are named")
    room.add_argument("--altitude", type=float, metavar="METRES", help="height above the sea")
    room.add_argument("--seed", type=int, help="seed of the forecasts (set when the room is new)")
    room.set_defaults(run=_room)

    replay = commands.add_parser("replay", help="play a transcript", description=(
        "Plays a transcript with the clock taken from the file, and prints the talk with the bot's replies."))
    replay.add_argument("file", metavar="FILE", help="the transcript")
    replay.add_argument("--trace", metavar="OUT.jsonl", help="also write what was heard and forecast, as JSON lines")
    replay.add_argument("--data", metavar="DIR", help="use and keep what is learnt of ovens and cuts in this folder")
    replay.set_defaults(run=_replay)

    read = commands.add_parser("read", help="what a message means", description=(
        "Prints the facts and questions of a message as JSON."))
    read.add_argument("text", nargs="*", metavar="TEXT", help="the message")
    read.add_argument("--now", metavar="HH:MM", help="when it was said (default: now)")
    read.add_argument("--ovens", metavar="A,B", help="ovens that have been named")
    read.add_argument("--dishes", metavar="X,Y", help="dishes that have been named")
    read.add_argument("--why", action="store_true", help="also say which words were taken for what")
    read.add_argument("--lines", nargs="?", const="-", metavar="FILE", help="read JSON lines from a file or the input")
    read.set_defaults(run=_read)

    classes = commands.add_parser("classes", help="list the classes that are kept")
    _add_data(classes)
    classes.set_defaults(run=_classes)

    log = commands.add_parser("log", help="the log of a class, with every correction", description=(
        "What was said and understood, by whom and when; a correction shows the old value, the new one, who and when."))
    log.add_argument("id", metavar="CLASS", help="the class, the beginning of its name, or 'last'")
    form = log.add_mutually_exclusive_group()
    form.add_argument("--csv", action="store_true", help="one row a fact, for a spreadsheet")
    form.add_argument("--json", action="store_true", help="the whole log")
    _add_data(log)
    log.set_defaults(run=_log)

    rules = commands.add_parser("rules", help="the food-safety figures of a region, each with its source")
    rules.add_argument("region", nargs="?", default="uk", choices=("uk", "scotland", "us", "anz", "eu"),
                       help="uk unless you name another")
    rules.set_defaults(run=_rules)
    schema = commands.add_parser("schema", help="the JSON Schema of a line of a replay trace")
    schema.set_defaults(run=_schema)
    return parser


def _add_data(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--data", metavar="DIR", help="the folder of the kept classes (default: your data folder)")


def _help(parser: argparse.ArgumentParser) -> int:
    parser.print_help()
    return 0


def _folder(options: argparse.Namespace) -> Path:
    if options.data:
        return Path(options.data)
    import platformdirs

    return platformdirs.user_data_path("yardhand", appauthor=False)


def _school_of(options: argparse.Namespace, kept: School | None) -> School:
    """The room's school: as it was kept, with what is given now in its place."""
    from bot.rooms.clock import local_zone

    school = kept or School(zone=local_zone(School().zone), lead=options.name)
    if options.zone is not None:
        try:
            ZoneInfo(options.zone)
        except (ValueError, KeyError, OSError) as error:
            raise UsageError(f"no time zone is called {options.zone!r}: write it as Europe/London") from error
        school = replace(school, zone=options.zone)
    if options.region is not None:
        school = replace(school, region=options.region)
    if options.altitude is not None:
        school = replace(school, altitude_m=options.altitude)
    if options.seed is not None and kept is not None and options.seed != kept.seed:
        raise UsageError(f"the seed of this room is {kept.seed} and stays: name another folder with --data for another")
    return school if options.seed is None else replace(school, seed=options.seed)


def _now(clock: str | None) -> datetime:
    now = datetime.now().astimezone().replace(second=0, microsecond=0)
    if clock is None:
        return now
    given = re.fullmatch(r"([01]?\d|2[0-3]):([0-5]\d)", clock)
    if given is None:
        raise UsageError(f"{clock!r} is no time of day: write --now 09:30")
    return now.replace(hour=int(given[1]), minute=int(given[2]))


def _names(listed: str | None) -> tuple[str, ...]:
    return tuple(name.strip() for name in (listed or "").split(",") if name.strip())


@contextmanager
def _store(folder: Path, *, shared: bool = False) -> Iterator[Store]:
    from bot.store import Store

    store = Store.open(folder, shared=shared)
    try:
        yield store
    finally:
        store.close()


@contextmanager
def _troubles_to(path: Path) -> Iterator[None]:
    """Failures of the engine go to a file beside the data, not over the talk."""
    os.close(os.open(path, os.O_CREAT | os.O_WRONLY, 0o600))
    handler = logging.FileHandler(path, encoding="utf-8")
    handler.setFormatter(logging.Formatter("%(asctime)s %(name)s %(levelname)s %(message)s"))
    logger = logging.getLogger("bot")
    propagated, logger.propagate = logger.propagate, False
    logger.addHandler(handler)
    try:
        yield
    finally:
        logger.removeHandler(handler)
        logger.propagate = propagated
        handler.close()


def _width() -> int:
    try:
        return os.get_terminal_size().columns
    except OSError:
        return 80


def _print(line: str) -> None:
    print(line, flush=True)


if __name__ == "__main__":
    sys.exit(main())
