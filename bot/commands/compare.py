"""Firings side by side, and how good the forecasts were."""
from __future__ import annotations

import argparse
import sys

from bot.commands.common import Commands, UsageError, add_data, class_called, folder_of, store_of, write_out


def add(commands: Commands) -> None:
    compare = commands.add_parser("compare", help="firings side by side, and how good the forecasts were", description=(
        "Wood, heat kept, fall of heat and forecast errors of each firing of an oven; and over all classes how often "
        "what was read lay in the band that was forecast."))
    compare.add_argument("ids", nargs="*", metavar="CLASS", help="a class, the beginning of its name, or 'last' "
                         "(default: every class)")
    form = compare.add_mutually_exclusive_group()
    form.add_argument("--json", action="store_true", help="the figures as JSON")
    form.add_argument("--plot", action="store_true", help="a picture of what was read after each rake-out, a PNG")
    compare.add_argument("--out", metavar="FILE", help="write it to this file")
    add_data(compare)
    compare.set_defaults(run=_compare)


def _compare(options: argparse.Namespace) -> int:
    from bot.compare import as_json, as_text, figures_of

    with store_of(folder_of(options), shared=True) as store:
        classes = store.classes()
        if not classes:
            raise UsageError(f"no class is kept in {store.path.parent} yet: 'yardhand room' starts one")
        wanted = [class_called(each, store).id for each in options.ids] or [each.id for each in classes]
        everything = figures_of(store, classes)
    made = sorted((each for each in everything if each.id in wanted), key=lambda each: wanted.index(each.id))
    if options.plot:
        from bot.compare_chart import png

        written = png(made)
        if options.out is None and sys.stdout.isatty():
            options.out = "compare.png"
    else:
        written = (as_json if options.json else as_text)(made, everything).encode()
    if options.out is None:
        if options.plot:
            sys.stdout.buffer.write(written)
        else:
            sys.stdout.write(written.decode())
        return 0
    write_out(options.out, written)
    return 0
