"""A whole class as one JSON file, and back: what is exported from where it was imported is the same, byte for byte.

The file holds the rows of the class as they are kept (see DATA.md), in order, with `seq` counted from 1, and the
profiles of ovens and cuts that the class taught. A chat server's own numbers stay behind.
"""
from __future__ import annotations

import json
from datetime import datetime
from typing import Any, TypeVar

from pydantic import BaseModel, ConfigDict, ValidationError

from bot.store import Store
from skills.vocabulary import Heard

VERSION = 1


class RefusedError(Exception):
    """The file cannot be taken in; the text says why and what to do."""


class _Row(BaseModel):
    model_config = ConfigDict(extra="forbid", strict=True)


class MessageRow(_Row):
    id: str
    seq: int
    at: str
    sender: str
    text: str
    replaces: str | None
    removes: str | None
    reply_to: str | None
    received_at: str
    heard: dict[str, Any]
    read: dict[str, Any]


class SaidRow(_Row):
    id: str
    seq: int
    at: str
    kind: str
    text: str
    to_message: str | None
    prompt: str | None
    oven: str | None
    dish: str | None
    who: str | None
    data: dict[str, Any]
    delivered: int


class LearntRow(_Row):
    kind: str
    name: str
    profile: dict[str, Any]
    saved_at: str


class SchoolRow(_Row):
    zone: str
    region: str
    altitude_m: float | None
    seed: int
    lead: str | None


class ClassFile(_Row):
    """The exported class."""
    yardhand: int
    id: str
    given: str
    room: str
    opened_at: str
    title: str | None
    school: SchoolRow | None
    messages: list[MessageRow]
    said: list[SaidRow]
    learnt: list[LearntRow]


Kind = TypeVar("Kind", bound=_Row)
_JSON = {"heard", "read", "data", "profile"}


def export_class(store: Store, class_id: str) -> bytes:
    """The class of that id."""
    with store.writing() as db:
        head = dict(next(iter(db.query("SELECT * FROM class WHERE id = ?", [class_id]))))
        rows = {table: [_read(row) for row in db.query(
            f"SELECT {what} FROM {table} WHERE class_id = ? ORDER BY {order}", [class_id])]
            for table, what, order in (("message", "*", "seq"), ("said", "*", "seq, n"),
                                       ("learnt", "kind, name, json AS profile, saved_at", "n"))}
    school = store.school(head["room"])
    places = {seq: place for place, seq in enumerate(
        sorted({row["seq"] for table in ("message", "said") for row in rows[table]}), start=1)}
    for table in ("message", "said"):
        for row in rows[table]:
            row["seq"] = places[row["seq"]]
    made = ClassFile(
        yardhand=VERSION, id=head["id"], given=head["given"], room=head["room"], opened_at=head["opened_at"],
        title=head["title"], school=None if school is None else SchoolRow(
            zone=school.zone, region=school.region, altitude_m=school.altitude_m, seed=school.seed, lead=school.lead),
        messages=[_taken(MessageRow, row) for row in rows["message"]],
        said=[_taken(SaidRow, row) for row in rows["said"]],
        learnt=[_taken(LearntRow, row) for row in rows["learnt"]])
    return (json.dumps(made.model_dump(), ensure_ascii=False, indent=1, sort_keys=True) + "\n").encode()


def _read(row: dict[str, Any]) -> dict[str, Any]:
    return {name: json.loads(value) if name in _JSON and value is not None else value for name, value in row.items()}


def _taken(kind: type[Kind], row: dict[str, Any]) -> Kind:
    return kind(**{name: row[name] for name in kind.model_fields})


def import_class(store: Store, source: bytes) -> str:
    """Take a class in; gives its id. All of it or nothing."""
    try:
        made = ClassFile.model_validate_json(source)
        for message in made.messages:
            Heard.model_validate(message.heard)
        for time in (made.opened_at, *(row.at for row in made.messages), *(row.at for row in made.said)):
            datetime.fromisoformat(time)
    except (ValidationError, ValueError) as error:
        raise RefusedError("it is not a class that 'yardhand export' wrote: export it again") from error
    if made.yardhand != VERSION:
        raise RefusedError("it was written by a newer Yardhand: update this one")
    taken = {each.id for each in store.classes()}
    if made.id in taken:
        raise RefusedError(f"a class called {made.id!r} is kept here already: name another folder with --data")
    room, count = made.room, 1
    # A room of its own, so that a live room never takes up an imported class as its own past.
    while room in {each.room for each in store.classes()} or store.school(room) is not None:
        count += 1
        room = f"{made.room}.{count}"
    with store.writing() as db:
        if made.school is not None:
            db.table("school").insert({"room": room, **made.school.model_dump()})
        db.table("class").insert({"id": made.id, "room": room, "given": made.given, "opened_at": made.opened_at,
                            "title": made.title})
        for message in made.messages:
            db.table("message").insert({"room": room, "class_id": made.id, "answered": 1, **_written(message)})
        for words in made.said:
            db.table("said").insert({"room": room, "class_id": made.id, **_written(words)})
        known = {(row["kind"], row["name"]) for row in db.query("SELECT kind, name FROM learnt")}
        lowest = int(next(iter(db.query("SELECT coalesce(min(n), 1) AS n FROM learnt")))["n"])
        for place, row in enumerate(made.learnt):
            # What this folder has learnt itself stays the newest.
            older = {"n": lowest - len(made.learnt) + place} if (row.kind, row.name) in known else {}
            db.table("learnt").insert({"class_id": made.id, **older,
                                       **{("json" if name == "profile" else name): value
                                          for name, value in _written(row).items()}})
    return made.id


def _written(row: _Row) -> dict[str, Any]:
    return {name: json.dumps(value, ensure_ascii=False, sort_keys=True, separators=(",", ":"))
            if name in _JSON else value for name, value in row.model_dump().items()}
