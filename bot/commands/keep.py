"""What is done with the kept data: moved as a file, copied and put back, saved from damage, forgotten."""
from __future__ import annotations

import argparse
import re
import sys
from datetime import datetime, timedelta
from pathlib import Path

from bot.commands.common import Commands, UsageError, add_data, class_called, folder_of, say, store_of, write_out

DAYS = {"d": 1, "w": 7, "m": 31, "y": 366}


def add(commands: Commands) -> None:
    out = commands.add_parser("export", help="a whole class as one JSON file")
    out.add_argument("id", metavar="CLASS", help="the class, the beginning of its name, or 'last'")
    out.add_argument("--out", metavar="FILE", help="write it to this file (default: the output)")
    add_data(out)
    out.set_defaults(run=_export)

    back = commands.add_parser("import", help="take in a class that was exported")
    back.add_argument("file", metavar="FILE")
    add_data(back)
    back.set_defaults(run=_import)

    copy = commands.add_parser("backup", help="a copy of all that is kept, also while a room is open")
    copy.add_argument("to", nargs="?", metavar="PLACE", help="a file or folder (default: 'backups' in the data folder)")
    copy.add_argument("--keep", type=int, metavar="N", help="leave only the newest N copies of that folder")
    add_data(copy)
    copy.set_defaults(run=_backup)

    put = commands.add_parser("restore", help="put a backup in the place of the data file")
    put.add_argument("file", metavar="FILE", help="the copy")
    put.add_argument("--replace", action="store_true", help="set a data file aside that stands there")
    add_data(put)
    put.set_defaults(run=_restore)

    save = commands.add_parser("rescue", help="save what can be read of a damaged data file")
    save.add_argument("--to", metavar="DIR", required=True, help="an empty folder for what is saved")
    add_data(save)
    save.set_defaults(run=_rescue)

    forget = commands.add_parser("forget", help="take names, or old classes, out of what is kept", description=(
        "Puts 'Hand 1' and so on in the place of names, or takes out whole classes by age. It cannot be undone: "
        "--dry-run says what would go, --yes does it."))
    forget.add_argument("names", nargs="*", metavar="NAME", help="whose name")
    forget.add_argument("--everyone", action="store_true", help="every name of the file")
    forget.add_argument("--older-than", metavar="AGE", help="classes older than this, such as 90d, 18m or 4y")
    sure = forget.add_mutually_exclusive_group(required=True)
    sure.add_argument("--dry-run", action="store_true", help="only say what would go")
    sure.add_argument("--yes", action="store_true", help="do it")
    add_data(forget)
    forget.set_defaults(run=_forget)


def _export(options: argparse.Namespace) -> int:
    from bot.export import export_class

    with store_of(folder_of(options), shared=True) as store:
        made = export_class(store, class_called(options.id, store).id)
    if options.out is None:
        sys.stdout.buffer.write(made)
        return 0
    write_out(options.out, made)
    return 0


def _import(options: argparse.Namespace) -> int:
    from bot.export import RefusedError, import_class

    try:
        source = Path(options.file).read_bytes()
    except OSError as error:
        raise UsageError(f"{options.file} cannot be read ({error.strerror}): name a file that 'yardhand export' wrote"
                         ) from error
    with store_of(folder_of(options)) as store:
        try:
            say(f"taken in as {import_class(store, source)}")
        except RefusedError as error:
            raise UsageError(f"{options.file}: {error}") from error
    return 0


def _now() -> datetime:
    return datetime.now().astimezone()


def _backup(options: argparse.Namespace) -> int:
    from bot.backup import copy

    if options.keep is not None and options.keep < 1:
        raise UsageError("--keep wants at least 1: the copy that is made now stays")
    say(f"copied to {copy(folder_of(options), Path(options.to) if options.to else None, _now(), options.keep)}")
    return 0


def _restore(options: argparse.Namespace) -> int:
    from bot.backup import restore

    folder = folder_of(options)
    aside = restore(Path(options.file), folder, replace=options.replace)
    say(f"{options.file} is now the data file of {folder}" + (f"; the one before is {aside}" if aside else ""))
    return 0


def _rescue(options: argparse.Namespace) -> int:
    from bot.backup import rescue

    for each in rescue(folder_of(options), Path(options.to)):
        say(f"{each.table:<12} {each.rows:>7} rows saved{', some could not be read' if each.lost else ''}")
    say(f"kept in {options.to}: look it over with 'yardhand classes --data {options.to}'")
    return 0


def _forget(options: argparse.Namespace) -> int:
    from bot import forget

    if not options.names and not options.everyone and options.older_than is None:
        raise UsageError("say whom or what to forget: NAME, --everyone, or --older-than 4y")
    before = _before(options.older_than) if options.older_than is not None else None
    would = "would be " if options.dry_run else ""
    with store_of(folder_of(options), shared=options.dry_run) as store:
        if before is not None:
            old = forget.old_classes(store, before)
            for each in old:
                say(f"{would}taken out: {each.id}, {each.opened_at:%Y-%m-%d}, {each.messages} messages")
            if not old:
                say(f"no class is older than {options.older_than}")
            if options.yes and old:
                forget.drop(store, old)
        if options.names or options.everyone:
            known = forget.people(store)
            unknown = [name for name in options.names if name.casefold() not in {each.casefold() for each in known}]
            if unknown:
                raise UsageError(f"nobody is called {', '.join(unknown)} here: "
                                 f"there are {', '.join(known) or 'no names'}")
            wanted = {name.casefold() for name in options.names}
            names = [each for each in known if options.everyone or each.casefold() in wanted]
            done = forget.forget(store, names, dry=options.dry_run) if names else None
            for name, new in (done.names if done else {}).items():
                say(f"{name} {would or 'is now '}{new}")
            say(f"{done.rows if done else 0} rows {would or 'were '}changed")
    say(forget.ELSEWHERE)
    return 0


def _before(age: str) -> datetime:
    found = re.fullmatch(r"(\d{1,5})\s*([dwmy])[a-z]*", age.strip().lower())
    if found is None:
        raise UsageError(f"{age!r} is no age: write 90d, 18m or 4y")
    return _now() - timedelta(days=int(found[1]) * DAYS[found[2]])
