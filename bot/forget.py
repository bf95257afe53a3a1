"""Taking people's names out of what is kept, and classes that are old. The one place where rows are rewritten.

What was said, read and corrected stays, under "Hand 1", "Hand 2" in place of the names. Backups, exported files and
printed pages are out of reach: whoever asks is told so.
"""
from __future__ import annotations

import json
import re
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from sqlite_utils import Database

from bot.store import ClassRow, Store

# Values under these keys are words of the vocabulary or names of things, never of people.
NOT_PEOPLE = frozenset(("is", "act", "oven", "dish", "place", "state", "stage", "tool", "part", "allergen", "cut",
                        "pan", "species", "missing", "method", "sky", "wind", "basis", "at", "prior", "foreseen"))
ELSEWHERE = "Backups, exported files, printed pages and trouble.log are not changed: see to them yourself."


@dataclass(frozen=True)
class Forgotten:
    """How often each name stood in the messages and words that were, or would be, changed."""
    names: dict[str, str]
    rows: int


def people(store: Store) -> list[str]:
    """Every name of a person in the file: who spoke, who leads, whom a task or a word was for."""
    with store.writing() as db:
        found = [row["name"] for row in db.query("""
            SELECT name, min(n) AS first FROM (
                SELECT sender AS name, n FROM message
                UNION ALL SELECT who, n FROM said WHERE who IS NOT NULL AND who != ''
                UNION ALL SELECT json_extract(fact.value, '$.who'), message.n FROM message,
                    json_each(message.heard, '$.facts') AS fact WHERE json_extract(fact.value, '$.who') IS NOT NULL
                UNION ALL SELECT lead, 0 FROM school WHERE lead IS NOT NULL
                UNION ALL SELECT name, 0 FROM post_person)
            GROUP BY name ORDER BY first, name""")]
    return [name for name in found if not re.fullmatch(r"Hand \d+", name)]


def forget(store: Store, names: Sequence[str], *, dry: bool) -> Forgotten:
    """Put "Hand n" in the place of names, everywhere in the file; dry: only count."""
    with store.writing() as db:
        used = [int(found[1]) for row in db.query("SELECT DISTINCT sender FROM message")
                if (found := re.fullmatch(r"Hand (\d+)", row["sender"]))]
        first = max(used, default=0) + 1
        instead = {name: f"Hand {first + place}" for place, name in enumerate(names)}
        longest = sorted(names, key=len, reverse=True)
        pattern = re.compile("|".join(rf"(?<!\w){re.escape(name)}(?!\w)" for name in longest), re.IGNORECASE)
        folded = {name.casefold(): new for name, new in instead.items()}

        def swap(text: str) -> str:
            return pattern.sub(lambda found: folded[found[0].casefold()], text)

        rows = _rewrite(db, swap, instead, dry)
    if not dry:
        _wipe(store)
    return Forgotten(instead, rows)


def _rewrite(db: Database, swap: Any, instead: dict[str, str], dry: bool) -> int:
    changed = 0
    for table, plain, deep in (("message", ("sender", "text"), ("heard", "read")), ("said", ("text", "who"), ("data",)),
                               ("class", ("title",), ()), ("school", ("lead",), ()), ("post_person", ("name",), ()),
                               ("post_out", (), ("content",))):
        for row in list(db.query(f"SELECT rowid AS row_, {', '.join((*plain, *deep))} FROM {table}")):
            new = {name: swap(row[name]) for name in plain if row[name]}
            new |= {name: json.dumps(_deep(json.loads(row[name]), swap), ensure_ascii=False, sort_keys=True,
                                     separators=(",", ":")) for name in deep if row[name]}
            new = {name: value for name, value in new.items() if value != row[name]
                   and (name in plain or json.loads(value) != json.loads(row[name]))}
            if new:
                changed += 1
                if not dry:
                    db.execute(f"UPDATE {table} SET {', '.join(f'{name} = ?' for name in new)} WHERE rowid = ?",
                               [*new.values(), row["row_"]])
    if not dry:
        # Their addresses on the chat server say who they are as plainly as the names do.
        for new_name in instead.values():
            for row in list(db.query("SELECT user FROM post_person WHERE name = ?", [new_name])):
                address = f"forgotten {new_name}"
                for table in ("post_person", "post_event", "post_sealed"):
                    db.execute(f"UPDATE {table} SET user = ? WHERE user = ?", [address, row["user"]])
                db.execute("UPDATE post_room SET asked_by = ? WHERE asked_by = ?", [address, row["user"]])
    return changed


def _deep(value: Any, swap: Any, key: str = "") -> Any:
    if key in NOT_PEOPLE:
        return value
    if isinstance(value, dict):
        return {name: _deep(item, swap, name) for name, item in value.items()}
    if isinstance(value, list):
        return [_deep(item, swap) for item in value]
    return swap(value) if isinstance(value, str) else value


def old_classes(store: Store, before: datetime) -> list[ClassRow]:
    """The classes that were opened before a time."""
    return [each for each in store.classes() if each.opened_at < before]


def drop(store: Store, classes: Sequence[ClassRow]) -> None:
    """Take whole classes out; what they taught of ovens and cuts stays, without saying which class it was."""
    with store.writing() as db:
        for each in classes:
            db.execute("DELETE FROM message WHERE class_id = ?", [each.id])
            db.execute("DELETE FROM said WHERE class_id = ?", [each.id])
            db.execute("DELETE FROM outcome WHERE class_id = ?", [each.id])
            db.execute("UPDATE learnt SET class_id = NULL WHERE class_id = ?", [each.id])
            db.execute("DELETE FROM class WHERE id = ?", [each.id])
    _wipe(store)


def _wipe(store: Store) -> None:
    """Leave nothing of it in free pages or in the write-ahead file."""
    store.rewrite_file()
