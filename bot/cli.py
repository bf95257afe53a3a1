"""The `yardhand` command. A mistake of its user is one line on the error stream that says what to do, and exit 2."""
from __future__ import annotations

import argparse
import io
import os
import sqlite3
import sys
from collections.abc import Callable, Sequence

from bot.commands import compare, keep, log, matrix, ovens, plan, reading, rooms
from bot.commands.common import Parser
from bot.mistakes import MistakeError

# Every family of sub-commands, in the order of the help.
FAMILIES = (rooms, matrix, reading, plan, log, compare, ovens, keep)
WRONG = 2


def main(arguments: Sequence[str] | None = None) -> int:
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
    except MistakeError as error:
        print(f"yardhand: {' '.join(str(error).split())}", file=sys.stderr)
        return WRONG
    except sqlite3.OperationalError as error:
        print(f"yardhand: the data file could not be used ({error}): see to the disk; what was answered is kept",
              file=sys.stderr)
        return WRONG
    except sqlite3.DatabaseError as error:
        print(f"yardhand: the data file is damaged ({error}): 'yardhand restore' puts a backup in its place, "
              "'yardhand rescue' saves what can be read", file=sys.stderr)
        return WRONG
    except KeyboardInterrupt:
        return 130
    except BrokenPipeError:
        # Whoever read the output has gone; nothing more can be said to them, not even on the way out.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return 1


def _parser() -> argparse.ArgumentParser:
    parser = Parser(prog="yardhand", description="A chat assistant for a wood-fired cookery class.", epilog=(
        "Start with 'yardhand demo'. Times and odds are forecasts: food is done when your probe and your plan say so."))
    parser.set_defaults(run=lambda _: _help(parser))
    commands = parser.add_subparsers(metavar="COMMAND", parser_class=Parser)
    for family in FAMILIES:
        family.add(commands)
    return parser


def _help(parser: argparse.ArgumentParser) -> int:
    parser.print_help()
    return 0


if __name__ == "__main__":
    sys.exit(main())
