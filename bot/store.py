"""What a room keeps: every message before it is answered, what was heard, what was said, what was learnt.

One SQLite file in a folder that only its owner can read. Rows are added and marked, never rewritten: a correction is
a later message. No clock here: every time is passed in. Each public method that writes is one transaction, so a
process that is killed at any moment leaves either all of it or nothing.
"""
from __future__ import annotations

import json
import os
import sqlite3
import sys
import threading
from collections import defaultdict
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import IO, Any
from zoneinfo import ZoneInfo

from sqlite_utils import Database

from bot.migrations import STEPS
from bot.mistakes import MistakeError
from bot.talk import Action, Answer, LogLine, Message, Prompted, School
from skills.vocabulary import Heard

FILE_NAME = "yardhand.sqlite"
# Marks the file as ours in its header ("YDHD").
APPLICATION_ID = 0x59444844
# What stands in the place of words that were removed from the room.
ERASED = "(removed)"

Learnt = Mapping[str, Mapping[str, Any]]
Row = dict[str, Any]
KNOWN_STEPS = frozenset(step.name for step in STEPS.pending(Database(memory=True)))
_KINDS = {"ovens": "oven", "cuts": "cut"}


class StoreError(MistakeError):
    """The data folder cannot be used; the text says why and what to do instead, in one line."""


@dataclass(frozen=True)
class ClassRow:
    """One class in the file. `messages` counts what was said by people."""
    id: str
    room: str
    given: str
    opened_at: datetime
    title: str | None
    messages: int


def _pass(name: str) -> None:
    del name


class Store:
    """The data of all rooms of one folder. `checkpoint` is called by name around each write, for tests that kill."""

    def __init__(self, db: Database, path: Path, lock: IO[str] | None, checkpoint: Callable[[str], None]) -> None:
        self._db = db
        self._lock = lock
        self._turn = threading.RLock()
        self.checkpoint = checkpoint
        self.path = path

    @classmethod
    def open(cls, folder: Path, *, shared: bool = False, checkpoint: Callable[[str], None] = _pass) -> Store:
        """The store of a folder, made if it is not there; with `shared`, to read it beside a room that is open."""
        path = folder / FILE_NAME
        if shared and not path.exists():
            raise StoreError(f"no class is kept in {folder}: start one with 'yardhand room --data {folder}'")
        try:
            folder.mkdir(mode=0o700, parents=True, exist_ok=True)
            os.close(os.open(path, os.O_CREAT | os.O_RDWR, 0o600))
        except OSError as error:
            raise StoreError(f"cannot keep anything in {folder} ({error.strerror}): "
                             "name another folder with --data") from error
        held = None if shared else lock(folder)
        try:
            db = _opened(path)
        except BaseException:
            if held is not None:
                held.close()
            raise
        return cls(db, path, held, checkpoint)

    def close(self) -> None:
        self._db.close()
        if self._lock is not None:
            self._lock.close()

    @contextmanager
    def writing(self) -> Iterator[Database]:
        """One transaction. A room's talk and its transport write in threads of their own, so they take turns."""
        with self._turn, self._db.atomic():
            yield self._db

    def _rows(self, sql: str, values: Sequence[object] | dict[str, object] | None = None) -> list[Row]:
        """What a question to the file finds. It takes its turn too: the library sets a mark in the transaction."""
        with self._turn:
            return list(self._db.query(sql, values))

    # Rooms and classes

    def school(self, room: str) -> School | None:
        """What was set for a room; None if the room is new."""
        for row in self._rows("SELECT * FROM school WHERE room = ?", [room]):
            del row["room"]
            return School(**row)
        return None

    def set_school(self, room: str, school: School) -> None:
        with self.writing():
            self._db.execute(
                "INSERT OR REPLACE INTO school (room, zone, region, altitude_m, seed, lead) VALUES (?, ?, ?, ?, ?, ?)",
                [room, school.zone, school.region, school.altitude_m, school.seed, school.lead])

    def classes(self) -> list[ClassRow]:
        """Every class, the earliest first."""
        rows = self._rows("""
            SELECT class.*, (SELECT count(*) FROM message WHERE message.class_id = class.id) AS messages
            FROM class ORDER BY class.rowid""")
        found = [ClassRow(row["id"], row["room"], row["given"], datetime.fromisoformat(row["opened_at"]), row["title"],
                          row["messages"]) for row in rows]
        return sorted(found, key=lambda each: each.opened_at)

    # Talk

    def take(self, room: str, message: Message, received_at: datetime) -> bool:
        """Keep a message before anything is made of it. False: a message of this id was taken before."""
        self.checkpoint("before take")
        with self.writing():
            cursor = self._db.execute(
                """INSERT OR IGNORE INTO message (room, id, at, sender, text, replaces, removes, reply_to, received_at)
                   VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?)""",
                [room, message.id, message.at.isoformat(), message.sender, message.text, message.replaces,
                 message.removes, message.reply_to, received_at.isoformat()])
            new = cursor.rowcount == 1
            self.checkpoint("in take")
        self.checkpoint("after take")
        return new

    def erase(self, room: str, message_id: str) -> None:
        """Blank the words of a message that its sender has removed from the room; what it meant is taken back apart."""
        with self.writing():
            self._db.execute("""UPDATE message SET text = ?, read = json_remove(read, '$.leftover')
                                WHERE room = ? AND id = ? AND answered = 1""", [ERASED, room, message_id])

    def answer(self, room: str, answer: Answer, *, title: str | None = None, learnt: Learnt | None = None) -> None:
        """Keep what came of a message: what was heard, the class it belongs to, and what is to be said."""
        self.checkpoint("before answer")
        at = answer.message.at
        with self.writing():
            seq = self._next_seq(room)
            class_id = self._class_of(room, answer.class_id, at, title)
            self._db.execute(
                """UPDATE message SET class_id = ?, seq = ?, heard = ?, read = ?, answered = 1
                   WHERE room = ? AND id = ? AND answered = 0""",
                [class_id, seq, _dump(answer.heard.kept()), _dump(answer.read), room, answer.message.id])
            self.checkpoint("in answer")
            self._keep_said(room, seq, answer.actions)
            if learnt is not None:
                self._keep_learnt(learnt, class_id, at)
        self.checkpoint("after answer")

    def prompt(self, room: str, prompted: Prompted) -> None:
        """Keep what is to be said unasked."""
        self.checkpoint("before prompt")
        with self.writing():
            self._keep_said(room, self._next_seq(room), prompted.actions)
            self.checkpoint("in prompt")
        self.checkpoint("after prompt")

    def undelivered(self, room: str) -> list[Action]:
        """What was decided and has not been said yet, in order."""
        zone = self._zone(room)
        return [_action(row, zone) for row in self._rows(
            f"{_SAID} WHERE said.room = ? AND delivered = 0 ORDER BY said.seq, said.n", [room])]

    def said(self, room: str, ids: Iterable[str]) -> list[Action]:
        """The words under these ids, in order."""
        zone = self._zone(room)
        wanted = _dump(sorted(ids))
        return [_action(row, zone) for row in self._rows(
            f"{_SAID} WHERE said.room = ? AND said.id IN (SELECT value FROM json_each(?)) ORDER BY said.seq, said.n",
            [room, wanted])]

    def delivered(self, room: str, ids: Iterable[str]) -> None:
        """Mark words as said."""
        self.checkpoint("before delivered")
        with self.writing():
            for each in ids:
                self._db.execute("UPDATE said SET delivered = 1 WHERE room = ? AND id = ?", [room, each])
        self.checkpoint("after delivered")

    def unanswered(self, room: str, most: int = -1) -> list[Message]:
        """What was taken and not answered yet, in the order in which it came."""
        zone = self._zone(room)
        return [_message(row, zone) for row in self._rows(
            "SELECT * FROM message WHERE room = ? AND answered = 0 ORDER BY n LIMIT ?", [room, most])]

    def log(self, room: str, class_id: str | None = None) -> list[LogLine]:
        """The talk of a room, or of one of its classes, as the room dealt with it."""
        zone = self._zone(room)
        only, values = ("", [room]) if class_id is None else (" AND {0}.class_id = ?", [room, class_id])
        said: dict[int, list[Action]] = defaultdict(list)
        for row in self._rows(
                f"{_SAID} WHERE said.room = ?{only.format('said')} ORDER BY said.seq, said.n", values):
            said[row["seq"]].append(_action(row, zone))
        lines: dict[int, LogLine] = {}
        for row in self._rows(f"""
                SELECT message.*, class.given FROM message JOIN class ON class.id = message.class_id
                WHERE message.room = ? AND answered = 1{only.format('message')}""", values):
            lines[row["seq"]] = Answer(
                _message(row, zone), row["given"], Heard.model_validate_json(row["heard"]),
                tuple(said.pop(row["seq"], ())), None, json.loads(row["read"]))
        for seq, actions in said.items():
            lines[seq] = Prompted(actions[0].at, tuple(actions))
        return [lines[seq] for seq in sorted(lines)]

    # What was learnt

    # The post of a chat server

    def rooms(self) -> dict[str, str]:
        """Every name by which a room can be called -> the name under which its talk is kept."""
        names = {row["room"]: row["room"] for row in self._rows("SELECT DISTINCT room FROM message ORDER BY n")}
        return names | {row["id"]: row["room"] for row in self._rows("SELECT id, room FROM post_room")}

    def message_ids(self, room: str) -> list[str]:
        """The ids of all that was said in a room, edits and removals among it, in the order in which it came."""
        return [str(row["id"]) for row in self._rows("SELECT id FROM message WHERE room = ? ORDER BY n", [room])]

    def learnt(self) -> dict[str, dict[str, Any]]:
        """What is known of ovens and cuts; of each the newest counts."""
        known: dict[str, dict[str, Any]] = {plural: {} for plural in _KINDS}
        plurals = {kind: plural for plural, kind in _KINDS.items()}
        for row in self._rows("SELECT kind, name, json FROM learnt ORDER BY n"):
            known[plurals[row["kind"]]][row["name"]] = json.loads(row["json"])
        return known

    def save_learnt(self, room: str, given: str, learnt: Learnt, saved_at: datetime) -> None:
        """Add what a class taught; what has not changed is not added again."""
        self.checkpoint("before learnt")
        with self.writing():
            self._keep_learnt(learnt, self._class_of(room, given, saved_at, None), saved_at)
        self.checkpoint("after learnt")

    def import_learnt(self, kind: str, name: str, profile: Mapping[str, Any], saved_at: datetime) -> None:
        """Add a profile that no class of this file taught; it is the newest, so it counts."""
        with self._db.atomic():
            self._db.execute("INSERT INTO learnt (kind, name, json, class_id, saved_at) VALUES (?, ?, ?, NULL, ?)",
                             [kind, name, _dump(profile), saved_at.isoformat()])

    def rewrite_file(self) -> None:
        """Write the file anew, so that nothing of what was deleted or rewritten is left in it."""
        with self._turn:
            self._db.execute("VACUUM")
            self._db.execute("PRAGMA wal_checkpoint(TRUNCATE)").fetchall()

    # Inside a transaction

    def _next_seq(self, room: str) -> int:
        rows = self._rows("""
            SELECT max(coalesce((SELECT max(seq) FROM message WHERE room = :room), 0),
                       coalesce((SELECT max(seq) FROM said WHERE room = :room), 0)) + 1 AS seq""", {"room": room})
        return int(next(iter(rows))["seq"])

    def _class_of(self, room: str, given: str, at: datetime, title: str | None) -> str:
        """The id in this file of a class that the room calls `given`; a new class is opened."""
        for row in self._rows("SELECT id FROM class WHERE room = ? AND given = ?", [room, given]):
            if title is not None:
                self._db.execute("UPDATE class SET title = ? WHERE id = ?", [title, row["id"]])
            return str(row["id"])
        taken = {row["id"] for row in self._rows("SELECT id FROM class")}
        free = given
        count = 1
        while free in taken:
            count += 1
            free = f"{given}.{count}"
        self._db.execute("INSERT INTO class (id, room, given, opened_at, title) VALUES (?, ?, ?, ?, ?)",
                         [free, room, given, at.isoformat(), title])
        return free

    def _keep_said(self, room: str, seq: int, actions: Sequence[Action]) -> None:
        for action in actions:
            cursor = self._db.execute(
                """INSERT OR IGNORE INTO said
                   (room, id, class_id, seq, at, kind, text, to_message, prompt, oven, dish, who, data)
                   VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)""",
                [room, action.id, self._class_of(room, action.class_id, action.at, None), seq, action.at.isoformat(),
                 action.kind, action.text, action.to, action.prompt, action.oven, action.dish, action.who,
                 _dump(action.data)])
            if cursor.rowcount != 1:
                raise ValueError(f"words under the id {action.id} of room {room} are kept already")

    def _keep_learnt(self, learnt: Learnt, class_id: str, saved_at: datetime) -> None:
        known = self.learnt()
        for plural, kind in _KINDS.items():
            for name, profile in learnt.get(plural, {}).items():
                text = _dump(profile)
                if name in known[plural] and _dump(known[plural][name]) == text:
                    continue
                self._db.execute("INSERT INTO learnt (kind, name, json, class_id, saved_at) VALUES (?, ?, ?, ?, ?)",
                                 [kind, name, text, class_id, saved_at.isoformat()])

    def _zone(self, room: str) -> ZoneInfo:
        school = self.school(room)
        return ZoneInfo(school.zone if school is not None else School().zone)


_SAID = "SELECT said.*, class.given FROM said JOIN class ON class.id = said.class_id"


def _dump(data: object) -> str:
    return json.dumps(data, ensure_ascii=False, sort_keys=True, separators=(",", ":"))


def _at(text: str, zone: ZoneInfo) -> datetime:
    return datetime.fromisoformat(text).astimezone(zone)


def _message(row: Row, zone: ZoneInfo) -> Message:
    return Message(row["id"], _at(row["at"], zone), row["sender"], row["text"], row["replaces"], row["removes"],
                   row["reply_to"])


def _action(row: Row, zone: ZoneInfo) -> Action:
    return Action(row["id"], row["kind"], _at(row["at"], zone), row["given"], row["text"], row["to_message"],
                  row["prompt"], row["oven"], row["dish"], row["who"], json.loads(row["data"]))


def _opened(path: Path) -> Database:
    """The file, checked to be ours and brought to the present version. A file that is not ours is left as it was."""
    # One thread at a time uses a store; which thread that is may change (a room hands it to its worker).
    connection = sqlite3.connect(path, check_same_thread=False)
    try:
        return _ours(connection, path)
    except sqlite3.DatabaseError as error:
        connection.close()
        if isinstance(error, sqlite3.OperationalError):
            raise StoreError(f"{path} cannot be used now ({error}): try again, or name another folder with --data"
                             ) from error
        with path.open("rb") as file:
            ours = file.read(72)[68:] == APPLICATION_ID.to_bytes(4, "big")
        if ours:
            raise StoreError(f"{path} is damaged ({error}): 'yardhand restore' puts a backup in its place, "
                             "'yardhand rescue' saves what can be read") from error
        raise StoreError(f"{path} is not a Yardhand data file: move it away or name another folder with --data"
                         ) from error
    except BaseException:
        connection.close()
        raise


def _ours(connection: sqlite3.Connection, path: Path) -> Database:
    connection.execute("PRAGMA busy_timeout = 5000")
    marked = connection.execute("PRAGMA application_id").fetchone()[0]
    tables = connection.execute("SELECT count(*) FROM sqlite_master").fetchone()[0]
    if marked != APPLICATION_ID and (marked or tables):
        raise StoreError(f"{path} belongs to another program: move it away or name another folder with --data")
    db = Database(connection)
    ahead = [step.name for step in STEPS.applied(db) if step.name not in KNOWN_STEPS]
    if ahead:
        raise StoreError(f"{path} was written by a newer Yardhand (its step '{ahead[-1]}' is unknown here): "
                         "update Yardhand, or name another folder with --data")
    path.chmod(0o600)
    # The mark comes before the first table, so that a file whose making was cut short is still known as ours.
    if marked != APPLICATION_ID:
        connection.execute(f"PRAGMA application_id = {APPLICATION_ID}")
    db.enable_wal()
    connection.execute("PRAGMA synchronous = FULL")
    connection.execute("PRAGMA foreign_keys = ON")
    STEPS.apply(db)
    return db


def lock(folder: Path) -> IO[str] | None:
    """Hold the folder: two rooms that answer the same talk would say everything twice. Let go when the process ends."""
    if sys.platform == "win32":
        return None
    import fcntl

    path = folder / "in-use.lock"
    handle = os.fdopen(os.open(path, os.O_CREAT | os.O_RDWR, 0o600), "w")
    try:
        fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except OSError as error:
        handle.close()
        raise StoreError(f"another Yardhand room is open on {folder}: leave it first, or name another folder with "
                         "--data") from error
    return handle
