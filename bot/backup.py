"""Copies of the data file: made while a room is open, put back, and what can be saved of a damaged one."""
from __future__ import annotations

import os
import sqlite3
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from bot.store import APPLICATION_ID, FILE_NAME, Store, StoreError

STAMP = "yardhand-%Y%m%d-%H%M%S.sqlite"
ASIDE = f"{FILE_NAME}.before-restore"
# As far as row numbers are searched where the file no longer says how far they go.
FAR = 2 ** 20


def copy(folder: Path, to: Path | None, now: datetime, keep: int | None = None) -> Path:
    """A consistent copy by SQLite's own backup, also while a room writes. keep: how many of a folder's copies stay."""
    source = folder / FILE_NAME
    if not source.exists():
        raise StoreError(f"no class is kept in {folder}: name the folder with --data")
    target = to or folder / "backups"
    if to is None or target.is_dir():
        target.mkdir(mode=0o700, parents=True, exist_ok=True)
        target = target / now.strftime(STAMP)
    part = target.with_name(target.name + ".part")
    try:
        os.close(os.open(part, os.O_CREAT | os.O_WRONLY | os.O_TRUNC, 0o600))
        reading, writing = sqlite3.connect(f"{source.absolute().as_uri()}?mode=ro", uri=True), sqlite3.connect(part)
        try:
            reading.backup(writing)
            writing.execute("PRAGMA journal_mode = DELETE")
        finally:
            reading.close()
            writing.close()
        check(part)
        part.replace(target)
    except (OSError, sqlite3.OperationalError) as error:
        raise StoreError(f"no copy could be written to {target} ({error}): name another place") from error
    finally:
        part.unlink(missing_ok=True)
    if keep is not None:
        for old in sorted(target.parent.glob("yardhand-????????-??????.sqlite"))[:-keep]:
            old.unlink()
    return target


def check(path: Path) -> None:
    """Raise if a file is not ours, or not sound."""
    try:
        connection = sqlite3.connect(f"{path.absolute().as_uri()}?mode=ro", uri=True)
        try:
            marked = connection.execute("PRAGMA application_id").fetchone()[0]
            found = [row[0] for row in connection.execute("PRAGMA integrity_check(3)")]
        finally:
            connection.close()
    except sqlite3.DatabaseError as error:
        raise StoreError(f"{path} is not a sound data file ({error}): try another copy") from error
    if marked != APPLICATION_ID:
        raise StoreError(f"{path} is not a Yardhand data file: name one that 'yardhand backup' wrote")
    if found != ["ok"]:
        raise StoreError(f"{path} is damaged ({found[0]}): try another copy, or 'yardhand rescue'")


def restore(copied: Path, folder: Path, *, replace: bool) -> Path | None:
    """Put a copy in the place of the data file; the file that stood there is set aside (its new path)."""
    if not copied.exists():
        raise StoreError(f"{copied} is not there: name a copy that 'yardhand backup' wrote")
    check(copied)
    target = folder / FILE_NAME
    if target.exists() and not replace:
        raise StoreError(f"{folder} holds a data file already: add --replace to set it aside, or name another folder")
    folder.mkdir(mode=0o700, parents=True, exist_ok=True)
    part = folder / f"{FILE_NAME}.part"
    part.write_bytes(copied.read_bytes())
    part.chmod(0o600)
    aside = None
    if target.exists():
        with held(folder):
            aside = folder / ASIDE
            for tail in ("", "-wal", "-shm"):
                left = target.with_name(target.name + tail)
                if left.exists():
                    left.replace(aside.with_name(aside.name + tail))
    part.replace(target)
    Store.open(folder).close()
    return aside


class held:  # noqa: N801
    """The folder held, so that no room is open on it meanwhile."""

    def __init__(self, folder: Path) -> None:
        self._folder = folder

    def __enter__(self) -> None:
        from bot.store import lock

        self._lock = lock(self._folder)

    def __exit__(self, *_: object) -> None:
        if self._lock is not None:
            self._lock.close()


@dataclass(frozen=True)
class Saved:
    """Rows that were saved of a table, and whether some could not be read."""
    table: str
    rows: int
    lost: bool


def rescue(folder: Path, to: Path) -> list[Saved]:
    """Read what can be read of a damaged data file into a new one in another folder. The damaged one is not touched."""
    source = folder / FILE_NAME
    if (to / FILE_NAME).exists():
        raise StoreError(f"{to} holds a data file already: name an empty folder with --to")
    reading = sqlite3.connect(f"{source.absolute().as_uri()}?mode=ro", uri=True)
    reading.row_factory = sqlite3.Row
    try:
        reading.execute("SELECT count(*) FROM sqlite_master").fetchone()
    except sqlite3.DatabaseError as error:
        reading.close()
        raise StoreError(f"nothing can be read of {source} ({error}): restore a backup") from error
    store = Store.open(to)
    done = []
    try:
        with store.writing() as db:
            db.execute("PRAGMA defer_foreign_keys = ON")
            tables = [name for name in db.table_names() if not name.startswith(("_", "sqlite_")) and name != "outcome"]
            for table in ("school", "class", *(name for name in tables if name not in ("school", "class"))):
                lost = [False]
                count = 0
                for row in _rows(reading, table, lost):
                    kept = {name: row[name] for name in row.keys() if name in db[table].columns_dict}  # noqa: SIM118
                    marks = ", ".join("?" * len(kept))
                    cursor = db.execute(f"INSERT OR IGNORE INTO {table} ({', '.join(kept)}) VALUES ({marks})",
                                        list(kept.values()))
                    count += cursor.rowcount
                done.append(Saved(table, count, lost[0]))
            # Talk whose class row was lost: the class as its messages tell of it.
            db.execute("""
                INSERT INTO class (id, room, given, opened_at, title)
                SELECT class_id, min(room), class_id, min(at), 'saved from a damaged file' FROM
                    (SELECT class_id, room, at FROM message UNION ALL SELECT class_id, room, at FROM said)
                WHERE class_id IS NOT NULL AND class_id NOT IN (SELECT id FROM class) GROUP BY class_id""")
    finally:
        reading.close()
        store.close()
    return done


def _rows(reading: sqlite3.Connection, table: str, lost: list[bool]) -> Iterator[sqlite3.Row]:
    try:
        low, high = reading.execute(f"SELECT min(rowid), max(rowid) FROM {table}").fetchone()
    except sqlite3.OperationalError:
        return      # a table of a later version than the file
    except sqlite3.DatabaseError:
        low, high = 1, FAR
    if low is None:
        return
    todo = [(low, high)]
    while todo:
        first, last = todo.pop()
        try:
            yield from reading.execute(
                f"SELECT * FROM {table} WHERE rowid BETWEEN ? AND ? ORDER BY rowid", [first, last]).fetchall()
        except sqlite3.DatabaseError:
            if first == last:
                lost[0] = True
                continue
            middle = (first + last) // 2
            todo += [(middle + 1, last), (first, middle)]
