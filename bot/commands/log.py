"""The classes that are kept, and the log of one."""
from __future__ import annotations

import argparse
import sys

from bot.commands import matrix
from bot.commands.common import Commands, UsageError, add_data, class_called, folder_of, say, store_of
from bot.talk import School


def add(commands: Commands) -> None:
    classes = commands.add_parser("classes", help="list the classes that are kept")
    add_data(classes)
    classes.set_defaults(run=_classes)

    log = commands.add_parser("log", help="the log of a class, with every correction", description=(
        "What was said and understood, by whom and when; a correction shows the old value, the new one, who and when."))
    log.add_argument("id", metavar="CLASS", nargs="?", help="the class, the beginning of its name, or 'last'")
    form = log.add_mutually_exclusive_group()
    form.add_argument("--csv", action="store_true", help="one row a fact, for a spreadsheet")
    form.add_argument("--json", action="store_true", help="the whole log")
    matrix.add_events(log)
    add_data(log)
    log.set_defaults(run=_log)


def _classes(options: argparse.Namespace) -> int:
    with store_of(folder_of(options), shared=True) as store:
        classes = store.classes()
        if not classes:
            raise UsageError(f"no class is kept in {store.path.parent} yet: 'yardhand room' starts one")
        for each in classes:
            say(f"{each.id:<28} {each.opened_at:%Y-%m-%d %H:%M}  {each.messages:>4} messages  {each.title or ''}"
                   .rstrip())
    return 0


def _log(options: argparse.Namespace) -> int:
    if options.events or options.room:
        return matrix.events(options)
    if options.id is None:
        raise UsageError("name the CLASS: 'last', or one that 'yardhand classes' lists")
    from bot.log_page import as_csv, as_json, as_text, doubts, page_of

    with store_of(folder_of(options), shared=True) as store:
        chosen = class_called(options.id, store)
        school = store.school(chosen.room) or School()
        lines = store.log(chosen.room, chosen.id)
    page = page_of(chosen.id, chosen.room, chosen.title, lines, school.lead, doubts(chosen.given, school, lines))
    write = as_csv if options.csv else as_json if options.json else as_text
    sys.stdout.write(write(page))
    return 0
