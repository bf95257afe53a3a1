"""What an event of the server says: pure functions from its JSON, which may be of any shape, to something heard."""
from __future__ import annotations

import re
from collections.abc import Collection, Mapping
from dataclasses import dataclass
from typing import Any, Literal

Kind = Literal["message", "edit", "removal", "reaction"]
Source = Mapping[str, Any]

# The longest text that is kept. The server's own limit of a whole event is 64 KiB.
MOST_LETTERS = 65_536

_SPOKEN = ("m.text", "m.emote")
# Clients once put the message that is answered before the answer, each line behind "> ".
_QUOTED = re.compile(r"\A(?:> [^\n]*(?:\n|\Z))+\n*")
_QUOTED_PERSON = re.compile(r"\A> (?:\* )?<@")

# What a reaction says on a prompt; on a question that yes or no answers, the first two mean yes.
_SAYS = {"got it": frozenset((*"👍👌🆗🙋🤝💪🫡🙌✋🏃👀", "ok", "okay", "yes", "got it", "on it", "mine", "+1")),
         "done": frozenset((*"✅☑✔🏁", "done")),
         "no": frozenset((*"👎❌✖🚫✗🙅", "no", "-1"))}
# Skin tones, the mark that asks for a coloured picture, joined genders.
_PICTURE_MARKS = re.compile("[\U0001F3FB-\U0001F3FF\uFE0E\uFE0F]|\u200D[♀♂]")


@dataclass(frozen=True)
class Incoming:
    """Something that a person did in a room. `about`: the event that is edited, removed or reacted to."""
    id: str
    user: str
    at_ms: int
    kind: Kind
    text: str = ""
    about: str | None = None
    reply_to: str | None = None
    thread: str | None = None


def incoming(source: Source, names: Collection[str] = ()) -> Incoming | None:
    """What the event says to a bot that is called by one of `names`; None if it says nothing.

    Notices say nothing: they come from bots, and two bots that answer each other never end.
    """
    event_id, user, at_ms = source.get("event_id"), source.get("sender"), source.get("origin_server_ts")
    content = source.get("content")
    if not (_is_id(event_id) and _is_id(user) and isinstance(at_ms, int) and isinstance(content, Mapping)):
        return None
    assert isinstance(event_id, str)
    assert isinstance(user, str)
    if "state_key" in source:
        return None
    kind = source.get("type")
    if kind == "m.room.message":
        return _message(event_id, user, at_ms, content, names)
    if kind == "m.room.redaction":
        target = content.get("redacts", source.get("redacts"))
        return Incoming(event_id, user, at_ms, "removal", about=target) if _is_id(target) else None
    if kind == "m.reaction":
        relation = _mapping(content.get("m.relates_to"))
        target, key = relation.get("event_id"), relation.get("key")
        if relation.get("rel_type") == "m.annotation" and _is_id(target) and isinstance(key, str):
            return Incoming(event_id, user, at_ms, "reaction", _text(key)[:64], about=target)
    return None


def _message(event_id: str, user: str, at_ms: int, content: Source, names: Collection[str]) -> Incoming | None:
    relation = _mapping(content.get("m.relates_to"))
    if relation.get("rel_type") == "m.replace":
        target, new = relation.get("event_id"), _mapping(content.get("m.new_content"))
        text = _spoken(new, answers=False, names=names)
        return Incoming(event_id, user, at_ms, "edit", text, target) if text is not None and _is_id(target) else None
    answered = _mapping(relation.get("m.in_reply_to")).get("event_id")
    reply_to = answered if _is_id(answered) else None
    text = _spoken(content, answers=reply_to is not None, names=names)
    if text is None:
        return None
    thread = None
    if relation.get("rel_type") == "m.thread" and _is_id(relation.get("event_id")):
        thread = relation["event_id"]
        if relation.get("is_falling_back") is True:
            # The reply is there for clients that know no threads; nobody chose that message.
            reply_to = None
    return Incoming(event_id, user, at_ms, "message", text, reply_to=reply_to, thread=thread)


def _spoken(content: Source, *, answers: bool, names: Collection[str]) -> str | None:
    """The words of a message's content; None if it has none for us."""
    kind, body = content.get("msgtype"), content.get("body")
    if not isinstance(body, str):
        return None
    if kind not in _SPOKEN:
        # A picture with words under it: then the file's name stands apart.
        name = content.get("filename")
        if kind not in ("m.image", "m.video", "m.file", "m.audio") or not isinstance(name, str) or name == body:
            return None
    text = _text(body)
    if answers or _QUOTED_PERSON.match(text):
        text = _QUOTED.sub("", text)
    text = _without_name(text, names).strip()
    return text or None


def _without_name(text: str, names: Collection[str]) -> str:
    """Without the bot's name in front ("yardhand: when will the lamb be done?")."""
    for name in names:
        if name and re.match(rf"@?{re.escape(name)}\s*[:,]\s*(?=\S)", text, re.IGNORECASE):
            return re.sub(rf"\A@?{re.escape(name)}\s*[:,]\s*", "", text, count=1, flags=re.IGNORECASE)
    return text


def gesture(key: str, *, yes_or_no: bool) -> str | None:
    """The words that a reaction stands for, on a prompt or on a question of the bot's; None if it stands for none.

    >>> [gesture(key, yes_or_no=False) for key in ("👍🏽", "✅", "👎", "🍞")], gesture("✅", yes_or_no=True)
    (['got it', 'done', 'no', None], 'yes')
    """
    bare = _PICTURE_MARKS.sub("", key).strip().lower()
    says = next((word for word, keys in _SAYS.items() if bare in keys), None)
    return "yes" if yes_or_no and says in ("got it", "done") else says


def person(user: str, display: str | None) -> str:
    """What to call someone: the name shown in the room, tidied, or the first part of the user's id.

    >>> person("@idris:yard.example", None), person("@i:yard.example", "  Idris\\n(barrel): ")
    ('Idris', 'Idris (barrel)')
    """
    name = " ".join("".join(each if each.isprintable() else " " for each in _text(display or "")).split())
    name = name.strip(" :,@")[:32].strip()
    if not name:
        name = user.removeprefix("@").split(":", 1)[0][:32] or "Somebody"
    return name[:1].upper() + name[1:]


def _text(text: str) -> str:
    """Text that any file can hold, without halves of characters."""
    return text[:MOST_LETTERS].encode("utf-8", "replace").decode("utf-8").replace("\x00", "")


def _is_id(value: object) -> bool:
    return isinstance(value, str) and 0 < len(value) <= 255 and value.isprintable()


def _mapping(value: object) -> Source:
    return value if isinstance(value, Mapping) else {}
