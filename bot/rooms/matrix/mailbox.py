"""What is kept of the post: rooms, people, handled events, letters that are written and not yet sent.

What a batch of the server brings and the place in its stream are one transaction: after a kill the server is asked
from the same place again, and what was taken is known by its event id. A letter is a row with a fixed transaction
number before it is sent, so that sending it again makes no second event.
"""
from __future__ import annotations

import hashlib
import json
import secrets
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta
from typing import Any
from zoneinfo import ZoneInfo

from sqlite_utils import Database

from bot.rooms.matrix import content
from bot.rooms.matrix.hearing import Incoming, gesture, person
from bot.store import Store
from bot.talk import Action, Message

# While letters wait behind the server's limit, those that are ready meanwhile go out as one, up to this long; but a few
# are sent one by one all the same, since each can then be answered.
MOST_TOGETHER = 4_000
MOST_APART = 3
# After an absence an answer older than this is no help any more: the state has moved on.
OLD_WORDS = timedelta(minutes=20)
WORDS, TICK, BOARD, BOARD_EDIT, PICTURE, REMARK = "words", "tick", "board", "board edit", "picture", "remark"


@dataclass(frozen=True)
class Place:
    """A room of the server. `room`: the name under which its talk is kept; `joined_ms`: since when the bot hears."""
    id: str
    room: str
    asked_by: str
    joined_ms: int | None
    gone: bool


@dataclass(frozen=True)
class Sealed:
    """An event whose key has not come."""
    id: str
    place: str
    user: str
    session: str
    at_ms: int
    since_ms: int
    source: dict[str, Any]


@dataclass(frozen=True)
class Letter:
    """Something to be sent. `words`: the ids of what is said in it."""
    n: int
    place: str
    txn: str
    type: str
    kind: str
    content: dict[str, Any]
    words: tuple[str, ...]
    reply_to: str | None
    event: str | None


@dataclass
class News:
    """What one batch brings of one room. `displays`: what people are called in it."""
    place: str
    heard: list[Incoming] = field(default_factory=list)
    sealed: list[Sealed] = field(default_factory=list)
    opened: list[str] = field(default_factory=list)
    displays: dict[str, str] = field(default_factory=dict)
    joined_ms: int | None = None
    gone: bool = False


class Mailbox:
    """The post of one account in a store."""

    def __init__(self, store: Store, names: dict[str, str] | None = None) -> None:
        self.store = store
        self._names = names or {}
        # What was said before this is old, by place: measured on the newest message, since clocks are set.
        self._old: dict[str, datetime] = {}
        self._old_at_first: datetime | None = None
        with store.writing() as db:
            db.execute("INSERT OR IGNORE INTO post_state (name, value) VALUES ('salt', ?)", [secrets.token_hex(16)])
        self._salt = str(self.state("salt"))

    # The account

    def state(self, name: str) -> str | None:
        with self.store.writing() as db:
            return next((str(row["value"]) for row in db.query("SELECT value FROM post_state WHERE name = ?", [name])),
                        None)

    def set_state(self, name: str, value: str) -> None:
        with self.store.writing() as db:
            _set_state(db, name, value)

    # Rooms

    def places(self) -> list[Place]:
        with self.store.writing() as db:
            return [Place(row["id"], row["room"], row["asked_by"], row["joined_ms"], bool(row["gone"]))
                    for row in db.query("SELECT * FROM post_room ORDER BY rowid")]

    def welcome(self, place: str, asked_by: str, room: str | None = None) -> None:
        """Take a room for one of ours, before it is joined; it hears only what is said after the joining."""
        with self.store.writing() as db:
            known = {row["id"]: row["room"] for row in db.query("SELECT id, room FROM post_room")}
            if place not in known and room is None:
                room = next(name for n in range(1, len(known) + 2) if (name := f"room-{n}") not in known.values())
            db.execute("""INSERT INTO post_room (id, room, asked_by) VALUES (?, ?, ?)
                          ON CONFLICT (id) DO UPDATE SET asked_by = excluded.asked_by,
                              joined_ms = CASE WHEN gone THEN NULL ELSE joined_ms END, gone = 0""",
                       [place, known.get(place, room), asked_by])

    def follow(self, old: str, new: str) -> None:
        """A room was replaced by another: the talk goes on there, and so do the letters that are still to be sent."""
        with self.store.writing() as db:
            for row in list(db.query("SELECT room, asked_by FROM post_room WHERE id = ?", [old])):
                db.execute("INSERT OR IGNORE INTO post_room (id, room, asked_by) VALUES (?, ?, ?)",
                           [new, row["room"], row["asked_by"]])
                db.execute("UPDATE post_room SET gone = 1 WHERE id = ?", [old])
                db.execute("""UPDATE post_out SET place = ?, content = json_remove(content, '$."m.relates_to"')
                              WHERE place = ? AND event IS NULL AND failed IS NULL AND kind IN (?, ?, ?)""",
                           [new, old, WORDS, REMARK, PICTURE])

    def gone(self, place: str) -> None:
        with self.store.writing() as db:
            db.execute("UPDATE post_room SET gone = 1 WHERE id = ?", [place])

    # Hearing

    def take(self, news: Sequence[News], since: str | None, now: datetime, zones: dict[str, ZoneInfo]) -> set[str]:
        """Keep what a batch brought, and the place in the stream; the rooms in which something new was said.

        since: None when the news is not a batch of the stream (late keys). zones: of the rooms, by place.
        """
        fresh: set[str] = set()
        if self._old_at_first is None:
            self._old_at_first = now - OLD_WORDS
        with self.store.writing() as db:
            places = {place.id: place for place in self.places()}
            for each in news:
                place = places.get(each.place)
                if place is None:
                    continue
                if each.joined_ms is not None and (place.joined_ms is None or each.joined_ms > place.joined_ms):
                    db.execute("UPDATE post_room SET joined_ms = ? WHERE id = ?", [each.joined_ms, place.id])
                    place = Place(place.id, place.room, place.asked_by, each.joined_ms, place.gone)
                if place.joined_ms is not None and not place.gone:
                    zone = zones.get(place.id, ZoneInfo("UTC"))
                    for heard in each.heard:
                        if heard.at_ms >= place.joined_ms and self._take(db, place, heard, each.displays, now, zone):
                            fresh.add(place.id)
                    self._grows_old(place.id, each.heard, now)
                    for sealed in each.sealed:
                        if sealed.at_ms >= place.joined_ms:
                            _keep_sealed(db, sealed)
                for opened in each.opened:
                    db.execute("DELETE FROM post_sealed WHERE id = ?", [opened])
                if each.gone:
                    db.execute("UPDATE post_room SET gone = 1 WHERE id = ?", [place.id])
            if since is not None:
                _set_state(db, "since", since)
            self.store.checkpoint("in batch")
        self.store.checkpoint("after batch")
        return fresh

    def _grows_old(self, place: str, heard: Sequence[Incoming], now: datetime) -> None:
        newest = max((datetime.fromtimestamp(each.at_ms // 1000, UTC) for each in heard), default=None)
        if newest is not None and self._old_at_first is not None:
            before = self._old.get(place, self._old_at_first)
            self._old[place] = max(before, min(newest, now) - OLD_WORDS)

    def _take(self, db: Database, place: Place, heard: Incoming, displays: dict[str, str], now: datetime,
              zone: ZoneInfo) -> bool:
        """Keep one thing heard. False: it was known, or says nothing to the class."""
        if _one(db, "SELECT 1 FROM post_event WHERE id = ?", [heard.id]) is not None:
            return False
        message = self._message(db, place, heard, displays, zone)
        if message is not None or heard.kind == "removal":
            db.execute("""INSERT INTO post_event (id, place, user, at_ms, kind, about, thread)
                          VALUES (?, ?, ?, ?, ?, ?, ?)""",
                       [heard.id, place.id, heard.user, heard.at_ms, heard.kind, heard.about, heard.thread])
        if heard.kind == "removal":
            db.execute("DELETE FROM post_sealed WHERE id = ?", [heard.about])
        return message is not None and self.store.take(place.room, message, now)

    def _message(self, db: Database, place: Place, heard: Incoming, displays: dict[str, str], zone: ZoneInfo
                 ) -> Message | None:
        at = datetime.fromtimestamp(heard.at_ms // 1000, UTC).astimezone(zone)
        name = self._name(db, place.room, heard.user, displays)
        about = None if heard.about is None else _one(
            db, "SELECT id, user, kind FROM post_event WHERE id = ?", [heard.about])
        if heard.kind == "removal":
            if about is None or about["kind"] == "removal":
                return None
            return Message(heard.id, at, name, "", removes=about["id"])
        if _one(db, "SELECT 1 FROM post_event WHERE about = ? AND kind = 'removal'", [heard.id]) is not None:
            return None
        if heard.kind == "edit":
            if about is not None and (about["user"] != heard.user or about["kind"] != "message"):
                return None
            later = _one(db, """SELECT 1 FROM post_event WHERE about = ? AND kind = 'edit' AND user = ?
                                AND (at_ms, id) > (?, ?)""", [heard.about, heard.user, heard.at_ms, heard.id])
            return None if later is not None else Message(heard.id, at, name, heard.text, replaces=heard.about)
        if heard.kind == "reaction":
            said = self._said_in(db, place, heard.about)
            asks = said is not None and "ask" in said.data
            if said is None or not (asks or said.kind == "prompt"):
                return None
            text = gesture(heard.text, yes_or_no=asks)
            return None if text is None else Message(heard.id, at, name, text, reply_to=said.id)
        said = self._said_in(db, place, heard.reply_to)
        return Message(heard.id, at, name, heard.text, reply_to=said.id if said is not None else heard.reply_to)

    def _said_in(self, db: Database, place: Place, event: str | None) -> Action | None:
        """What the bot said in an event of its own; of several things the first that waits for an answer."""
        row = None if event is None else _one(db, "SELECT words FROM post_out WHERE event = ?", [event])
        if row is None:
            return None
        ids = set(json.loads(row["words"]))
        said = [action for action in self.store.said(place.room, ids) if action.kind != "tick"]
        return next((action for action in said if "ask" in action.data), said[0] if said else None)

    def _name(self, db: Database, room: str, user: str, displays: dict[str, str]) -> str:
        """What someone is called here: kept from the first word on, and nobody else's."""
        row = _one(db, "SELECT name FROM post_person WHERE room = ? AND user = ?", [room, user])
        if row is not None:
            return str(row["name"])
        taken = {str(each["name"]).lower() for each in db.query("SELECT name FROM post_person WHERE room = ?", [room])}
        plain = user.removeprefix("@")
        names = (person(user, self._names.get(user) or displays.get(user)), person(user, None), plain)
        name = next((each for each in names if each.lower() not in taken), plain)
        db.execute("INSERT INTO post_person (room, user, name) VALUES (?, ?, ?)", [room, user, name])
        return name

    def people(self, room: str) -> dict[str, str]:
        """name -> user id"""
        with self.store.writing() as db:
            return {row["name"]: row["user"] for row in db.query(
                "SELECT name, user FROM post_person WHERE room = ? ORDER BY rowid", [room])}

    # What is sealed

    def sealed(self) -> list[Sealed]:
        with self.store.writing() as db:
            return [_sealed(row) for row in db.query("SELECT * FROM post_sealed ORDER BY at_ms, rowid")]

    def tell_of_sealed(self, before_ms: int) -> int:
        """Write to those whose words have waited for a key since `before_ms`: once for a sender and session."""
        written = 0
        with self.store.writing() as db:
            rows = list(db.query("""
                SELECT *, min(at_ms) FROM post_sealed AS one WHERE since_ms <= ? AND NOT EXISTS (
                    SELECT 1 FROM post_out WHERE cause = 'sealed ' || one.user || ' ' || one.session)
                GROUP BY place, user, session""", [before_ms]))
            rooms = {place.id: place.room for place in self.places() if not place.gone}
            for row in rows:
                if row["place"] not in rooms:
                    continue
                name = self._name(db, rooms[row["place"]], row["user"], {})
                text = f"{name}: I could not read your message, its key did not reach me. Please type it again."
                made = content.notice(text, {name: row["user"]}, reply_to=row["id"])
                written += self._write(db, row["place"], f"sealed {row['user']} {row['session']}", REMARK, made,
                                       reply_to=row["id"])
        return written

    # Letters

    def pack(self, place: Place, *, together: bool = False) -> None:
        """Write letters for what was said and has no letter yet; the words of one message go in one letter.

        together: the server holds letters back, so everything that waits goes in as few as possible. What has become
        old while the bot was away is left out, which one letter says; what it asks and what still presses is kept.
        """
        with self.store.writing() as db:
            actions = self.store.undelivered(place.room)
            if not actions:
                return
            people = self.people(place.room)
            old = self._old.get(place.id, self._old_at_first)
            missed = [action for action in actions if old is not None and _is_over(action, old)]
            if missed:
                self._write(db, place.id, f"late {missed[0].id}", REMARK, content.notice(_late(missed)))
                self.store.delivered(place.room, [action.id for action in missed])
                actions = [action for action in actions if action not in missed]
            groups = list(_groups(actions, False))
            if together and len(groups) > MOST_APART:
                groups = list(_groups(actions, True))
            for group in groups:
                self._write_group(db, place, group, people)
            self.store.delivered(place.room, [action.id for action in actions])

    def _write_group(self, db: Database, place: Place, group: Sequence[Action], people: dict[str, str]) -> None:
        first = group[0]
        ids = tuple(action.id for action in group)
        answered = None if first.to is None else _one(
            db, "SELECT id, kind, about, thread FROM post_event WHERE id = ?", [first.to])
        original = first.to if answered is None or answered["kind"] == "message" else answered["about"]
        if first.kind == "tick":
            if answered is None or answered["kind"] in ("message", "edit"):
                self._write(db, place.id, first.id, TICK, content.tick(original or ""), words=ids, reply_to=original,
                            kind_of_event="m.reaction")
            return
        several = len({action.to for action in group}) > 1
        text = "\n".join(_quoted(action, group) for action in group) if several else "\n".join(
            action.text for action in group)
        calls = tuple(people[action.who] for action in group if action.who in people)
        earlier = None
        if answered is not None and answered["kind"] in ("edit", "removal") and not several:
            earlier = _one(db, """SELECT event FROM post_out WHERE reply_to = ? AND kind = ? AND place = ?
                                  ORDER BY n LIMIT 1""", [original, WORDS, place.id])
        reply_to = None if several or (answered is not None and answered["kind"] == "removal") else original
        if answered is not None and answered["kind"] == "reaction":
            reply_to = None
        made = content.notice(text, people, reply_to=reply_to, calls=calls,
                              thread=answered["thread"] if answered is not None and not several else None)
        if earlier is not None and earlier["event"] is not None:
            made = content.edited(earlier["event"], made)
        self._write(db, place.id, first.id, WORDS, made, words=ids, reply_to=original)

    def put_board(self, place: Place, class_id: str, made: dict[str, Any]) -> bool:
        """Write the board of a class, or an edit of it. False: it stands so already, or the last one is on its way."""
        with self.store.writing() as db:
            rows = list(db.query("""SELECT * FROM post_out WHERE place = ? AND kind IN (?, ?) AND words = ?
                                    ORDER BY n""", [place.id, BOARD, BOARD_EDIT, json.dumps([class_id])]))
            letters = [_letter(row) for row in rows]
            if any(row["event"] is None and row["failed"] is None for row in rows):
                return False
            first = letters[0] if letters else None
            if first is None:
                return self._write(db, place.id, f"board {class_id}", BOARD, made, words=(class_id,))
            shown = letters[-1].content
            if first.event is None or shown.get("m.new_content", shown) == made or _one(
                    db, "SELECT 1 FROM post_event WHERE about = ? AND kind = 'removal'", [first.event]) is not None:
                return False
            return self._write(db, place.id, f"board {class_id} {len(letters)}", BOARD_EDIT,
                               content.edited(first.event, made), words=(class_id,))

    def put_picture(self, place: Place, cause: str, made: dict[str, Any]) -> bool:
        with self.store.writing() as db:
            return self._write(db, place.id, f"picture {cause}", PICTURE, made)

    def remark(self, place: str, cause: str, text: str) -> bool:
        """Write something that is not the class's talk; once for a cause."""
        with self.store.writing() as db:
            return self._write(db, place, cause, REMARK, content.notice(text))

    def has_letter(self, place: str, cause: str) -> bool:
        with self.store.writing() as db:
            return _one(db, "SELECT 1 FROM post_out WHERE place = ? AND cause = ?", [place, cause]) is not None

    def _write(self, db: Database, place: str, cause: str, kind: str, made: dict[str, Any], *,
               words: Sequence[str] = (), reply_to: str | None = None, kind_of_event: str = "m.room.message") -> bool:
        txn = hashlib.sha256(f"{self._salt} {place} {cause}".encode()).hexdigest()[:40]
        cursor = db.execute("""INSERT OR IGNORE INTO post_out (place, txn, cause, type, kind, content, words, reply_to)
                               VALUES (?, ?, ?, ?, ?, ?, ?, ?)""",
                            [place, txn, cause, kind_of_event, kind, json.dumps(made, ensure_ascii=False),
                             json.dumps(list(words)), reply_to])
        return cursor.rowcount == 1

    def waiting(self, place: str) -> list[Letter]:
        """What is to be sent, in order."""
        with self.store.writing() as db:
            return [_letter(row) for row in db.query(
                "SELECT * FROM post_out WHERE place = ? AND event IS NULL AND failed IS NULL ORDER BY n", [place])]

    def sent(self, letter: Letter, event: str) -> None:
        with self.store.writing() as db:
            db.execute("UPDATE post_out SET event = ? WHERE n = ?", [event, letter.n])
            self.store.checkpoint("in sent")
        self.store.checkpoint("after sent")

    def failed(self, letter: Letter, why: str) -> None:
        """The server will never take it."""
        with self.store.writing() as db:
            db.execute("UPDATE post_out SET failed = ? WHERE n = ?", [why[:200], letter.n])

    def boards(self, place: str) -> list[str]:
        """The events of the boards of a room, the newest first."""
        with self.store.writing() as db:
            return [str(row["event"]) for row in db.query(
                "SELECT event FROM post_out WHERE place = ? AND kind = ? AND event IS NOT NULL ORDER BY n DESC",
                [place, BOARD])]


def _groups(actions: Sequence[Action], together: bool) -> Iterator[list[Action]]:
    """Actions that go in one letter: the words for one message; with `together`, all words up to a length."""
    words = [action for action in actions if action.kind != "tick"]
    group: list[Action] = []
    length = 0
    for action in words:
        joins = together or (group and action.kind == "reply" and action.to == group[0].to)
        if group and (not joins or length + len(action.text) > MOST_TOGETHER):
            yield group
            group, length = [], 0
        group.append(action)
        length += len(action.text)
    if group:
        yield group
    for action in actions:
        if action.kind == "tick":
            yield [action]


def _quoted(action: Action, group: Sequence[Action]) -> str:
    """The words of an action among others, with the time of what they answer."""
    first = next(each for each in group if each.to == action.to) if action.to is not None else action
    return f"({action.at:%H:%M}) {action.text}" if action is first else action.text


def _is_over(action: Action, old: datetime) -> bool:
    """Whether words that were not sent in their time are no help any more."""
    if action.kind == "tick" or action.at >= old or "ask" in action.data:
        return False
    lapses = action.data.get("lapses")
    presses = action.data.get("urgent") and (lapses is None or datetime.fromisoformat(lapses) > old + OLD_WORDS)
    return not (action.kind == "prompt" and presses)


def _late(missed: Sequence[Action]) -> str:
    first, last = min(action.at for action in missed), max(action.at for action in missed)
    when = f"at {first:%H:%M}" if f"{first:%H:%M}" == f"{last:%H:%M}" else f"from {first:%H:%M} to {last:%H:%M}"
    return (f"What you wrote {when} reached me late. It is all in the log; my answers would be old, so I leave them out"
            ".\nAsk again what you still need.")


def _one(db: Database, sql: str, values: Sequence[object]) -> dict[str, Any] | None:
    return next(iter(db.query(sql, values)), None)


def _set_state(db: Database, name: str, value: str) -> None:
    db.execute("INSERT OR REPLACE INTO post_state (name, value) VALUES (?, ?)", [name, value])


def _keep_sealed(db: Database, each: Sealed) -> None:
    if _one(db, "SELECT 1 FROM post_event WHERE id = ? OR (about = ? AND kind = 'removal')", [each.id] * 2) is None:
        db.execute("""INSERT OR IGNORE INTO post_sealed (id, place, user, session, at_ms, since_ms, source)
                      VALUES (?, ?, ?, ?, ?, ?, ?)""",
                   [each.id, each.place, each.user, each.session, each.at_ms, each.since_ms, json.dumps(each.source)])


def _sealed(row: dict[str, Any]) -> Sealed:
    return Sealed(row["id"], row["place"], row["user"], row["session"], row["at_ms"], row["since_ms"],
                  json.loads(row["source"]))


def _letter(row: dict[str, Any]) -> Letter:
    return Letter(row["n"], row["place"], row["txn"], row["type"], row["kind"], json.loads(row["content"]),
                  tuple(json.loads(row["words"])), row["reply_to"], row["event"])
