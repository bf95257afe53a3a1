"""What the sub-commands share: their parser, the data folder, and how a mistake of the user is told."""
from __future__ import annotations

import argparse
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING, NoReturn, Protocol

from bot.mistakes import MistakeError

if TYPE_CHECKING:
    from bot.store import ClassRow, Store

ROOM = "yard"


class UsageError(MistakeError):
    """What the user asked for cannot be done; the text says why and what to do instead."""


class Parser(argparse.ArgumentParser):
    def error(self, message: str) -> NoReturn:
        """One line instead of the usage and a line."""
        what = message[:1].lower() + message[1:]
        raise UsageError(f"{what}; '{self.prog} --help' shows how it is written")


class Commands(Protocol):
    """Where a module adds its sub-commands."""

    def add_parser(self, name: str, *, help: str = ..., description: str = ...) -> argparse.ArgumentParser: ...


def add_data(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--data", metavar="DIR", help="the folder of the kept classes (default: your data folder)")


def folder_of(options: argparse.Namespace) -> Path:
    if options.data:
        return Path(options.data)
    import platformdirs

    return platformdirs.user_data_path("yardhand", appauthor=False)


@contextmanager
def store_of(folder: Path, *, shared: bool = False) -> Iterator[Store]:
    from bot.store import Store

    store = Store.open(folder, shared=shared)
    try:
        yield store
    finally:
        store.close()


def class_called(wanted: str, store: Store) -> ClassRow:
    """The class of that name, of that beginning of a name, or the last one."""
    classes = store.classes()
    found = classes[-1:] if wanted == "last" else [each for each in classes if each.id.startswith(wanted)]
    found = [each for each in found if each.id == wanted] or found
    if not found:
        raise UsageError(f"no class is called {wanted!r} in {store.path.parent}: 'yardhand classes' lists them")
    if len(found) > 1:
        raise UsageError(f"{wanted!r} begins {len(found)} classes ({', '.join(each.id for each in found[:4])}): "
                         "write more of the one you want")
    return found[0]


def write_out(path: str, written: bytes) -> None:
    """Write to the file that the user named, and say so."""
    try:
        Path(path).write_bytes(written)
    except OSError as error:
        raise UsageError(f"nothing can be written to {path} ({error.strerror}): "
                         "name another file with --out") from error
    say(f"written to {path}")


def say(line: str) -> None:
    print(line, flush=True)
