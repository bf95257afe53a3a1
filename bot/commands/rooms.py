"""Rooms in the terminal: a live one, a demo class, and the replay of a transcript."""
from __future__ import annotations

import argparse
import logging
import os
import sys
import tempfile
from collections.abc import Iterator
from contextlib import ExitStack, contextmanager
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, TextIO, get_args
from zoneinfo import ZoneInfo

from bot.commands.common import ROOM, Commands, UsageError, add_data, folder_of, say, store_of
from bot.regions import Region

if TYPE_CHECKING:
    from bot.talk import School

DEMOS = Path(__file__).parents[2] / "transcripts_demo"


def add(commands: Commands) -> None:
    demo = commands.add_parser("demo", help="watch a whole class, then type in it", description=(
        "Plays a whole class in the terminal, then leaves you in its room. Nothing is kept."))
    demo.add_argument("name", nargs="?", metavar="NAME", help="which class (default: the first)")
    demo.add_argument("--fast", action="store_true", help="play it at once")
    demo.set_defaults(run=_demo)

    room = commands.add_parser("room", help="a live room in this terminal", description=(
        "A live room on the wall clock. What is said is kept: leave with /quit, come back, and the class goes on."))
    add_data(room)
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


def _room(options: argparse.Namespace) -> int:
    from bot.rooms import terminal
    from bot.rooms.clock import wall

    with store_of(folder_of(options)) as store:
        school = _school_of(options, store.school(ROOM))
        known = store.school(ROOM) is not None
        setting = terminal.Setting(ROOM, school, options.name or school.lead or "Lead", wall(school.zone))
        with _troubles_to(store.path.parent / "trouble.log"):
            if not terminal.is_live():
                terminal.listen(sys.stdin, store, setting, say)
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
    page = terminal.styled_page(_width()) if live else Page(lambda fragments: say(plain(fragments)))
    with tempfile.TemporaryDirectory(prefix="yardhand-") as folder, store_of(Path(folder)) as store:
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
        store = stack.enter_context(store_of(folder))
        trace: TextIO | None = None
        if options.trace:
            try:
                trace = stack.enter_context(Path(options.trace).open("w", encoding="utf-8", newline="\n"))
            except OSError as error:
                raise UsageError(f"the trace cannot be written to {options.trace} ({error.strerror}): "
                                 "name another file") from error
        page = Page(lambda fragments: say(plain(fragments)))
        replay = Replay(transcript, store, free_name(store, Path(options.file).stem), page, trace=trace,
                        guarded=True)
        replay.play()
        if replay.house.failures:
            print(f"yardhand: {replay.house.failures} messages could not be worked with; the rest of the talk stands",
                  file=sys.stderr)
        if options.data:
            replay.house.save_learnt(transcript.end)
    return 0


def _school_of(options: argparse.Namespace, kept: School | None) -> School:
    """The room's school: as it was kept, with what is given now in its place."""
    from bot.rooms.clock import local_zone
    from bot.talk import School

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
