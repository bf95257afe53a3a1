"""How the data file came to have its present tables: one step a version, each in a transaction of its own.

A step that has been released is never edited; a change is a new step at the end.
"""
from __future__ import annotations

from typing import TYPE_CHECKING

from sqlite_utils.migrations import Migrations

if TYPE_CHECKING:
    from sqlite_utils import Database

STEPS = Migrations("yardhand")


@STEPS(name="1 first tables")
def first_tables(db: Database) -> None:
    db.execute("""
        CREATE TABLE school (
            room TEXT PRIMARY KEY, zone TEXT NOT NULL, region TEXT NOT NULL, altitude_m REAL, seed INTEGER NOT NULL,
            lead TEXT)""")
    # `given` is the name that the room's engine gave the class; `id` is unique in the file.
    db.execute("""
        CREATE TABLE class (
            id TEXT PRIMARY KEY, room TEXT NOT NULL, given TEXT NOT NULL, opened_at TEXT NOT NULL, title TEXT,
            UNIQUE (room, given))""")
    # `n` is the order of arrival, `seq` the order in which the room dealt with what came (null: not yet).
    db.execute("""
        CREATE TABLE message (
            n INTEGER PRIMARY KEY, room TEXT NOT NULL, id TEXT NOT NULL, class_id TEXT REFERENCES class (id),
            seq INTEGER, at TEXT NOT NULL, sender TEXT NOT NULL, text TEXT NOT NULL, replaces TEXT, removes TEXT,
            reply_to TEXT, received_at TEXT NOT NULL, heard TEXT, read TEXT, answered INTEGER NOT NULL DEFAULT 0,
            UNIQUE (room, id))""")
    # Words with the `seq` of a message answer it; the others were said unasked, those of one moment under one `seq`.
    db.execute("""
        CREATE TABLE said (
            n INTEGER PRIMARY KEY, room TEXT NOT NULL, id TEXT NOT NULL, class_id TEXT REFERENCES class (id),
            seq INTEGER NOT NULL, at TEXT NOT NULL, kind TEXT NOT NULL, text TEXT NOT NULL, to_message TEXT,
            prompt TEXT, oven TEXT, dish TEXT, who TEXT, data TEXT NOT NULL, delivered INTEGER NOT NULL DEFAULT 0,
            UNIQUE (room, id))""")
    db.execute("""
        CREATE TABLE learnt (
            n INTEGER PRIMARY KEY, kind TEXT NOT NULL CHECK (kind IN ('oven', 'cut')), name TEXT NOT NULL,
            json TEXT NOT NULL, class_id TEXT, saved_at TEXT NOT NULL)""")
    db.execute("CREATE INDEX message_by_seq ON message (room, seq)")
    db.execute("CREATE INDEX said_by_seq ON said (room, seq)")
