"""What is known of the ovens, and moving a profile from one machine to another."""
from __future__ import annotations

import argparse
import sys
from datetime import UTC, datetime
from pathlib import Path

from bot.commands.common import Commands, UsageError, add_data, folder_of, say, store_of


def add(commands: Commands) -> None:
    ovens = commands.add_parser("ovens", help="what past classes taught of each oven, with its spread")
    add_data(ovens)
    ovens.set_defaults(run=_ovens)

    oven = commands.add_parser("oven", help="one oven; its profile to a file, or from one", description=(
        "What is known of one oven. A profile in a file (JSON) carries it to another machine or another school."))
    oven.add_argument("name", metavar="NAME", help="the oven as the room calls it, such as dome")
    way = oven.add_mutually_exclusive_group()
    way.add_argument("--export", metavar="FILE", help="write the profile to a file ('-': to the screen)")
    way.add_argument("--import", metavar="FILE", dest="take", help="take the profile from a file, for the next class")
    add_data(oven)
    oven.set_defaults(run=_oven)


def _ovens(options: argparse.Namespace) -> int:
    from bot.ovens import ovens_page

    with store_of(folder_of(options), shared=True) as store:
        say(ovens_page(store.learnt(), datetime.now(UTC).date()))
    return 0


def _oven(options: argparse.Namespace) -> int:
    from bot.ovens import ProfileError, export_text, import_text, oven_named, ovens_page

    try:
        if options.take is not None:
            profile = import_text(options.name, _read(options.take))
            with store_of(folder_of(options)) as store:
                store.import_learnt("oven", options.name, profile.model_dump(mode="json"), datetime.now(UTC))
            say(f"{options.name}: profile of {profile.classes} "
                f"{'class' if profile.classes == 1 else 'classes'} taken in; the next class starts from it")
            return 0
        with store_of(folder_of(options), shared=True) as store:
            learnt = store.learnt()
        name = oven_named(options.name, learnt)
        if options.export is None:
            say(ovens_page({"ovens": {name: learnt["ovens"][name]}}, datetime.now(UTC).date()))
        elif options.export == "-":
            sys.stdout.write(export_text(name, learnt))
        else:
            Path(options.export).write_text(export_text(name, learnt), encoding="utf-8")
            say(f"{name}: profile written to {options.export}")
    except ProfileError as error:
        raise UsageError(str(error)) from None
    except OSError as error:
        raise UsageError(f"{error.filename} could not be written ({error.strerror}): name another file") from None
    return 0


def _read(path: str) -> str:
    try:
        return sys.stdin.read() if path == "-" else Path(path).read_text(encoding="utf-8")
    except (OSError, UnicodeDecodeError) as error:
        why = error.strerror if isinstance(error, OSError) else "it is not text"
        raise UsageError(f"{path} could not be read ({why}): name a file that 'yardhand oven --export' wrote") from None
