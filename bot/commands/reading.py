"""What a message means, which food-safety figures are in use, and the schema of a trace."""
from __future__ import annotations

import argparse
import json
import re
import sys
from contextlib import ExitStack
from datetime import datetime
from pathlib import Path
from typing import TextIO

from bot.commands.common import Commands, UsageError, say


def add(commands: Commands) -> None:
    read = commands.add_parser("read", help="what a message means", description=(
        "Prints the facts and questions of a message as JSON."))
    read.add_argument("text", nargs="*", metavar="TEXT", help="the message")
    read.add_argument("--now", metavar="HH:MM", help="when it was said (default: now)")
    read.add_argument("--ovens", metavar="A,B", help="ovens that have been named")
    read.add_argument("--dishes", metavar="X,Y", help="dishes that have been named")
    read.add_argument("--why", action="store_true", help="also say which words were taken for what")
    read.add_argument("--lines", nargs="?", const="-", metavar="FILE", help="read JSON lines from a file or the input")
    read.set_defaults(run=_read)

    rules = commands.add_parser("rules", help="the food-safety figures of a region, each with its source")
    rules.add_argument("region", nargs="?", default="uk", choices=("uk", "scotland", "us", "anz", "eu"),
                       help="uk unless you name another")
    rules.set_defaults(run=_rules)
    schema = commands.add_parser("schema", help="the JSON Schema of a line of a replay trace")
    schema.set_defaults(run=_schema)


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
    say(json.dumps(reading.heard.said(), ensure_ascii=False))
    if options.why:
        say(explain(reading))
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
                say(line)
        except UnicodeDecodeError as error:
            raise UsageError(f"{name} is not text in UTF-8: save it as UTF-8") from error
        except ValueError as error:
            raise UsageError(str(error)) from error
    return 0


def _rules(options: argparse.Namespace) -> int:
    from skills.safety.packs import rules_text

    say(rules_text(options.region))
    return 0


def _schema(options: argparse.Namespace) -> int:
    del options
    from bot.trace import schema

    say(json.dumps(schema(), ensure_ascii=False, indent=1))
    return 0


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
