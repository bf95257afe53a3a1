"""The page of a class: what was said, what was understood, by whom and when, with every correction kept in sight.

A fact that was corrected has a row for each value that it held: the old value, the new one, who changed it and when.
"""
from __future__ import annotations

import csv
import io
import json
from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass, field, replace
from datetime import datetime
from typing import Any

from bot.rooms.look import Page, harmless, plain
from bot.talk import Answer, LogLine
from skills.dated import Change, Dated, Told
from skills.record import ClassRecord, fold
from skills.vocabulary import FACTS, Fact, Fix

IN_FORCE, CORRECTED, TAKEN_BACK, DOUBTED = "in force", "corrected", "taken back", "doubted"
# Said by a second person within two minutes; waits for the name of an oven or a dish; corrects another fact.
REPEATED, WAITING, CORRECTION = "said twice", "waiting for a name", "correction"

# Where a fact stands: (message, place in it).
Place = tuple[str, int]

_ALWAYS = ("at", "told", "who", "text", "kind", "oven", "dish", "value", "status", "old", "new", "by", "changed_at")
_LEFT_OUT = frozenset(("is", "at", "oven", "dish", "text", "act"))
VALUES = ("act", *dict.fromkeys(
    info.alias or name for kind in FACTS for name, info in kind.model_fields.items()
    if (info.alias or name) not in _LEFT_OUT and f"{info.alias or name}" not in _ALWAYS))


@dataclass(frozen=True)
class Row:
    """One fact as it stands or, with status corrected or taken back, as it stood. at: when it happened."""
    at: datetime
    told: datetime
    who: str
    text: str
    message: str
    fact: dict[str, Any]
    oven: str | None
    dish: str | None
    status: str
    old: dict[str, Any] | None = None
    new: dict[str, Any] | None = None
    by: str | None = None
    changed_at: datetime | None = None


@dataclass(frozen=True)
class ClassPage:
    """A class's log with what the fold made of it."""
    class_id: str
    room: str
    title: str | None
    lines: tuple[LogLine, ...]
    record: ClassRecord
    rows: tuple[Row, ...] = field(default=())

    def rows_of(self, message: str) -> list[Row]:
        return [row for row in self.rows if row.message == message]


def page_of(class_id: str, room: str, title: str | None, lines: Sequence[LogLine], lead: str | None = None,
            doubted: Collection[Place] = ()) -> ClassPage:
    """The page of one class from its kept lines."""
    answers = [line for line in lines if isinstance(line, Answer)]
    record = fold([told_of(answer) for answer in answers], lead)
    rows = tuple(row for answer in answers for row in _rows(answer, answers, record, doubted))
    return ClassPage(class_id, room, record.title or title, tuple(lines), record, rows)


def told_of(answer: Answer) -> Told:
    """A kept message in the form that the record is folded from."""
    message = answer.message
    return Told(message.id, message.at, message.sender, message.text, answer.heard, message.replaces, message.removes,
                answer.read.get("answers"))


def _rows(answer: Answer, answers: Sequence[Answer], record: ClassRecord, doubted: Collection[Place]) -> Iterator[Row]:
    """The rows of what one message told. An edit has rows only for what the message that it edits did not have."""
    message = answer.message
    first = 0
    stands_as = message.id
    if message.replaces is not None:
        edited = next((each for each in answers if each.message.id == message.replaces), None)
        if edited is not None:
            first, stands_as = len(edited.heard.facts), edited.message.id
    if message.removes is not None:
        return
    for index, fact in enumerate(answer.heard.facts):
        if index >= first:
            yield from _fact_rows(answer, fact, (stands_as, index), record, doubted)


def _fact_rows(answer: Answer, fact: Fact, place: Place, record: ClassRecord, doubted: Collection[Place]
               ) -> Iterator[Row]:
    message = answer.message
    dated = _dated(record, place)
    at = dated.at if dated else message.at

    def row(said: dict[str, Any], status: str, change: Change | None = None) -> Row:
        # What stands is about the oven that it was placed at; what was changed, about the one that it named.
        oven, dish = (dated.oven, dated.dish) if dated else (None, None)
        oven, dish = (said.get("oven") or oven, said.get("dish") or dish) if change else (
            oven or said.get("oven"), dish or said.get("dish"))
        made = Row(at, message.at, message.sender, message.text, message.id, said, oven, dish, status)
        if change is None:
            return made
        return replace(made, old=change.old, new=change.new, by=change.by, changed_at=change.at)

    changes = [change for change in record.changes if (change.message, change.index) == place]
    if not changes:
        yield row(fact.said(), _status(fact, place, record, doubted))
        return
    for change in changes:
        yield row(change.old, CORRECTED if change.new is not None else TAKEN_BACK, change)
    if changes[-1].new is not None:
        yield row(changes[-1].new, _status(fact, place, record, doubted))


def _status(fact: Fact, place: Place, record: ClassRecord, doubted: Collection[Place]) -> str:
    if isinstance(fact, Fix):
        return CORRECTION
    if any((each.message, each.index) == place for each in record.open):
        return WAITING
    if any((each.message, each.index) == place for each in record.repeats):
        return REPEATED
    return DOUBTED if place in doubted else IN_FORCE


def _dated(record: ClassRecord, place: Place) -> Dated | None:
    return next((each for each in (*record.facts, *record.repeats) if (each.message, each.index) == place), None)


# The three forms

def as_text(page: ClassPage) -> str:
    """The page to read: the talk, and under each message what was understood."""
    out: list[str] = [f"{harmless(page.title or 'Class')} ({page.class_id})"]
    paper = Page(lambda fragments: out.append(plain(fragments).rstrip()))
    for line in page.lines:
        if isinstance(line, Answer):
            paper.message(line)
            for row in page.rows_of(line.message.id):
                paper.under("= " + _row_words(row))
        for action in line.actions:
            paper.action(action)
    messages = sum(1 for line in page.lines if isinstance(line, Answer))
    stand = sum(1 for row in page.rows if row.status == IN_FORCE)
    changed = sum(1 for row in page.rows if row.changed_at is not None)
    paper.remark(f"{messages} messages, {stand} facts in force, {changed} corrected or taken back")
    return "\n".join(out) + "\n"


def as_csv(page: ClassPage) -> str:
    """One row a fact, a header row on top; the fields of the fact follow the columns that every row has."""
    out = io.StringIO()
    writer = csv.DictWriter(out, (*_ALWAYS, *VALUES), lineterminator="\n")
    writer.writeheader()
    for row in page.rows:
        cells = {
            **{name: row.fact[name] for name in VALUES if name in row.fact},
            "at": _iso(row.at), "told": _iso(row.told), "who": row.who, "text": row.text, "kind": row.fact["is"],
            "oven": row.oven or "", "dish": row.dish or "", "value": words(_bare(row.fact)), "status": row.status,
            "old": words(row.old) if row.old else "", "new": words(row.new) if row.new else "", "by": row.by or "",
            "changed_at": _iso(row.changed_at) if row.changed_at else "",
        }
        writer.writerow({name: _inert(cell) for name, cell in cells.items()})
    return out.getvalue()


def _inert(cell: object) -> object:
    """A spreadsheet takes text that begins so for a formula; with the stroke before it, it is text."""
    return f"'{cell}" if isinstance(cell, str) and cell[:1] in ("=", "+", "-", "@", "\t", "\r") else cell


def as_json(page: ClassPage) -> str:
    """The page whole."""
    lines: list[dict[str, Any]] = []
    for line in page.lines:
        said = [{name: value for name, value in (
            ("at", _iso(action.at)), ("kind", action.kind), ("text", action.text), ("prompt", action.prompt),
            ("oven", action.oven), ("dish", action.dish), ("who", action.who)) if value not in (None, "")}
            for action in line.actions]
        if isinstance(line, Answer):
            message = line.message
            about = {name: value for name, value in (
                ("replaces", message.replaces), ("removes", message.removes), ("reply_to", message.reply_to)) if value}
            lines.append({
                "id": message.id, "at": _iso(message.at), "who": message.sender, "text": message.text, **about,
                "heard": line.heard.said(), "said": said,
                "facts": [_row_json(row) for row in page.rows_of(message.id)]})
        else:
            lines.append({"at": _iso(line.at), "unasked": said})
    whole = {"class": page.class_id, "room": page.room, "title": page.title, "lines": lines}
    return json.dumps(whole, ensure_ascii=False, indent=1) + "\n"


def _row_json(row: Row) -> dict[str, Any]:
    made: dict[str, Any] = {"at": _iso(row.at), "fact": row.fact, "oven": row.oven, "dish": row.dish,
                            "status": row.status}
    if row.changed_at is not None:
        made |= {"old": row.old, "new": row.new, "by": row.by, "changed_at": _iso(row.changed_at)}
    return {name: value for name, value in made.items() if value is not None or name == "new"}


def _row_words(row: Row) -> str:
    where = " ".join(dict.fromkeys(each for each in (row.oven, row.dish) if each))
    text = f"{where + ': ' if where else ''}{words(_bare(row.fact))}"
    if row.at != row.told:
        text += f" at {row.at:%H:%M}"
    if row.changed_at is not None:
        to = words(row.new) if row.new is not None else None
        did = f"changed to {to}" if to is not None else "taken back"
        return f"{text} -> {did} by {harmless(row.by or '')}, {row.changed_at:%H:%M}"
    return text if row.status == IN_FORCE else f"{text} ({row.status})"


def _bare(fact: dict[str, Any]) -> dict[str, Any]:
    """A fact without what stands beside it: its oven, its dish and its time."""
    return {name: value for name, value in fact.items() if name not in ("oven", "dish", "at")}


_UNITS = {"celsius": "C", "kg": "kg", "l": "l", "litres": "l", "cm": "cm", "pct": "%", "minutes": "min"}


def words(said: dict[str, Any]) -> str:
    """A flat fact in words.

    >>> words({"is": "reading", "place": "floor", "celsius": 180, "tool": "probe"})
    'reading floor 180 C probe'
    >>> words({"is": "load", "meat_kg": 3, "cut": "lamb shoulder", "start": "hot"})
    'load meat 3 kg, cut lamb shoulder, start hot'
    >>> words({"is": "door", "oven": "barrel", "state": "off"})
    'barrel: door off'
    """
    about = " ".join(harmless(str(said[name])) for name in ("oven", "dish") if name in said)
    parts = [f"{about}: {said['is']}" if about else said["is"]]
    plain_values = {"act", "place", "celsius", "tool", "state", "part", "stage", "text", "what"}
    named = []
    for name, value in said.items():
        if name in ("is", "oven", "dish"):
            continue
        stem, _, tail = name.rpartition("_")
        unit = _UNITS.get(name) or (_UNITS.get(tail) if stem else None)
        text = harmless(f"{value}{f' {unit}' if unit else ''}")
        if name in plain_values:
            parts.append(text)
        else:
            label = (stem if stem and tail in _UNITS else name).replace("_", " ")
            named.append(f"{label} {text}" if label != unit else text)
    return " ".join(filter(None, (" ".join(parts), ", ".join(named))))


def _iso(at: datetime) -> str:
    return at.isoformat(timespec="seconds")
