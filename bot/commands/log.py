"""The classes that are kept, and the log of one in its forms."""
from __future__ import annotations

import argparse
import sys
from typing import TYPE_CHECKING

from bot.commands import matrix
from bot.commands.common import Commands, UsageError, add_data, class_called, folder_of, say, store_of, write_out

if TYPE_CHECKING:
    from bot.log.rows import ClassPage
    from bot.talk import School

# What is put in a file when nobody has said where and the output is a terminal: the end of its name.
FILES = {"html": ".html", "pdf": ".pdf", "plot": "-chart.png"}


def add(commands: Commands) -> None:
    classes = commands.add_parser("classes", help="list the classes that are kept")
    add_data(classes)
    classes.set_defaults(run=_classes)

    log = commands.add_parser("log", help="the log of a class, with every correction", description=(
        "What was said and understood, by whom and when; a correction shows the old value, the new one, who and when. "
        "The page, the PDF and the chart go to --out, else into a pipe, else into a file named after the class."))
    log.add_argument("id", metavar="CLASS", nargs="?", help="the class, the beginning of its name, or 'last'")
    form = log.add_mutually_exclusive_group()
    form.add_argument("--html", dest="form", action="store_const", const="html", help="the page, for phone and paper")
    form.add_argument("--pdf", dest="form", action="store_const", const="pdf", help="the page as a PDF on A4")
    form.add_argument("--plot", dest="form", action="store_const", const="plot", help="the chart of the day, a PNG")
    form.add_argument("--csv", dest="form", action="store_const", const="csv", help="one row a fact, for a spreadsheet")
    form.add_argument("--json", dest="form", action="store_const", const="json", help="the whole log")
    matrix.add_events(log)
    log.add_argument("--out", metavar="FILE", help="write it to this file")
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
    from bot.log.foreseen import doubts
    from bot.log.rows import page_of
    from bot.talk import School

    with store_of(folder_of(options), shared=True) as store:
        chosen = class_called(options.id, store)
        school = store.school(chosen.room) or School()
        lines = store.log(chosen.room, chosen.id)
    made = page_of(chosen.id, chosen.room, chosen.title, lines, school.lead, doubts(lines) or ())
    _give(_written(made, school, options.form), options, chosen.id)
    return 0


def _written(made: ClassPage, school: School, form: str | None) -> bytes:
    """The log in one of its forms; what draws and sets pages is loaded only for the forms that need it."""
    if form in (None, "csv", "json"):
        from bot.log import rows

        return {None: rows.as_text, "csv": rows.as_csv, "json": rows.as_json}[form](made).encode()
    from bot.chart import png

    chart = png(made.lines, school, record=made.record)
    if form == "plot":
        return chart
    from bot.log.page import page

    if form == "pdf":
        from bot.log.pdf import as_pdf

        return as_pdf(page(made, school), chart)
    from bot.log.html import as_html

    return as_html(page(made, school), chart).encode()


def _give(written: bytes, options: argparse.Namespace, name: str) -> None:
    out = options.out
    if out is None and options.form in FILES and sys.stdout.isatty():
        out = name + FILES[options.form]
    if out is None and options.form in ("pdf", "plot"):
        sys.stdout.buffer.write(written)
    elif out is None:
        sys.stdout.write(written.decode())
    else:
        write_out(out, written)
