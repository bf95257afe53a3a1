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


@STEPS(name="2 post of a chat server")
def chat_server(db: Database) -> None:
    # The place in the server's stream up to which everything is kept, and a grain of salt for transaction numbers.
    db.execute("CREATE TABLE post_state (name TEXT PRIMARY KEY, value TEXT NOT NULL)")
    # Rooms that the bot was asked into. `room` is the name under which their talk is kept; `joined_ms`: since when it
    # hears (server's clock); `gone`: left, removed or replaced by another.
    db.execute("""
        CREATE TABLE post_room (
            id TEXT PRIMARY KEY, room TEXT NOT NULL, asked_by TEXT NOT NULL, joined_ms INTEGER,
            gone INTEGER NOT NULL DEFAULT 0)""")
    db.execute("""
        CREATE TABLE post_person (
            room TEXT NOT NULL, user TEXT NOT NULL, name TEXT NOT NULL, PRIMARY KEY (room, user),
            UNIQUE (room, name))""")
    # Every event that was dealt with. `about`: the event that it edits, removes or reacts to.
    db.execute("""
        CREATE TABLE post_event (
            id TEXT PRIMARY KEY, place TEXT NOT NULL, user TEXT NOT NULL, at_ms INTEGER NOT NULL, kind TEXT NOT NULL,
            about TEXT, thread TEXT)""")
    db.execute("CREATE INDEX post_event_by_about ON post_event (about)")
    # Encrypted events whose keys have not come.
    db.execute("""
        CREATE TABLE post_sealed (
            id TEXT PRIMARY KEY, place TEXT NOT NULL, user TEXT NOT NULL, session TEXT NOT NULL, at_ms INTEGER NOT NULL,
            since_ms INTEGER NOT NULL, source TEXT NOT NULL)""")
    # Letters to the server, written before they are sent; `txn`, made from the cause, makes
    # a second sending harmless. `words`: the ids of the said words in it; `reply_to`: the event that it answers;
    # `event`: what the server made of it.
    db.execute("""
        CREATE TABLE post_out (
            n INTEGER PRIMARY KEY, place TEXT NOT NULL, txn TEXT NOT NULL UNIQUE, cause TEXT NOT NULL,
            type TEXT NOT NULL, kind TEXT NOT NULL, content TEXT NOT NULL, words TEXT NOT NULL, reply_to TEXT,
            event TEXT, failed TEXT)""")
    db.execute("CREATE INDEX post_out_by_cause ON post_out (cause)")
    db.execute("CREATE INDEX post_out_by_event ON post_out (event)")
    db.execute("CREATE INDEX post_out_by_reply_to ON post_out (reply_to)")
    db.execute("CREATE INDEX post_out_waiting ON post_out (place, n) WHERE event IS NULL AND failed IS NULL")


@STEPS(name="3 plain views")
def plain_views(db: Database) -> None:
    """For people who look into the file with a tool of their own: DATA.md says what they hold."""
    db.execute("""
        CREATE VIEW classes AS
        SELECT class.id AS class, class.title, class.room, class.opened_at,
               (SELECT count(*) FROM message WHERE message.class_id = class.id) AS messages
        FROM class ORDER BY class.opened_at""")
    db.execute("""
        CREATE VIEW messages AS
        SELECT class_id AS class, at, sender AS who, text, id AS message, replaces AS edits, removes
        FROM message ORDER BY room, seq""")
    db.execute("""
        CREATE VIEW facts_as_heard AS
        SELECT message.class_id AS class, message.at AS told_at, message.sender AS who, message.id AS message,
               fact.key AS place, json_extract(fact.value, '$.is') AS kind, json_extract(fact.value, '$.oven') AS oven,
               json_extract(fact.value, '$.dish') AS dish, json_extract(fact.value, '$.at') AS happened_at,
               fact.value AS fact
        FROM message, json_each(message.heard, '$.facts') AS fact ORDER BY message.room, message.seq, fact.key""")
    db.execute("""
        CREATE VIEW readings_as_heard AS
        SELECT class, told_at, who, message, oven, happened_at, json_extract(fact, '$.place') AS place,
               json_extract(fact, '$.celsius') AS celsius, json_extract(fact, '$.count') AS hand_count_s,
               json_extract(fact, '$.tool') AS tool
        FROM facts_as_heard WHERE kind = 'reading'""")
    db.execute("""
        CREATE VIEW replies AS
        SELECT class_id AS class, at, text, to_message AS message
        FROM said WHERE kind = 'reply' ORDER BY room, seq, n""")
    db.execute("""
        CREATE VIEW prompts AS
        SELECT class_id AS class, at, prompt AS about, oven, dish, who, text
        FROM said WHERE kind = 'prompt' ORDER BY room, seq, n""")
    db.execute("""
        CREATE VIEW profiles AS
        SELECT kind, name, saved_at, class_id AS class, json AS profile FROM learnt
        WHERE n = (SELECT max(n) FROM learnt AS newer WHERE newer.kind = learnt.kind AND newer.name = learnt.name)
        ORDER BY kind, name""")


@STEPS(name="4 figures of a class")
def figures(db: Database) -> None:
    # What was reckoned from the rows of a class up to a row count, by a version of the reckoning; may be deleted.
    db.execute("""
        CREATE TABLE outcome (
            class_id TEXT PRIMARY KEY REFERENCES class (id), upto INTEGER NOT NULL, version INTEGER NOT NULL,
            json TEXT NOT NULL)""")


@STEPS(name="5 rows of a class")
def rows_of_a_class(db: Database) -> None:
    db.execute("CREATE INDEX message_by_class ON message (class_id)")
    db.execute("CREATE INDEX said_by_class ON said (class_id)")
