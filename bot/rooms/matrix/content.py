"""The contents of the events that the bot sends. Whatever people wrote is escaped before it stands in HTML."""
from __future__ import annotations

import html
import re
from collections.abc import Mapping
from typing import Any

Content = dict[str, Any]

TICK = "✅"
# A name at the start of a line is someone who must act: "Tomos: one split by 11:10".
_CALLED = re.compile(r"^(?P<name>[^\s:,][^:,\n]{0,31})[:,] ", re.MULTILINE)


def notice(text: str, people: Mapping[str, str] | None = None, *, reply_to: str | None = None,
           thread: str | None = None, calls: tuple[str, ...] = ()) -> Content:
    """A notice of these lines. people: name -> user id; those whom a line calls by name are mentioned, and `calls`."""
    people = people or {}
    called = [user for match in _CALLED.finditer(text) if (user := people.get(match["name"])) is not None]
    mentioned = list(dict.fromkeys((*called, *calls)))
    content: Content = {
        "msgtype": "m.notice", "body": text, "format": "org.matrix.custom.html",
        "formatted_body": "<br>".join(_line(line, people) for line in text.split("\n")),
        "m.mentions": {"user_ids": mentioned} if mentioned else {},
    }
    relation: Content = {}
    if thread is not None:
        relation = {"rel_type": "m.thread", "event_id": thread, "is_falling_back": False}
    if reply_to is not None:
        relation["m.in_reply_to"] = {"event_id": reply_to}
    elif thread is not None:
        relation |= {"is_falling_back": True, "m.in_reply_to": {"event_id": thread}}
    if relation:
        content["m.relates_to"] = relation
    return content


def _line(line: str, people: Mapping[str, str]) -> str:
    """One line as HTML: the one who is called stands out."""
    called = _CALLED.match(line)
    if called is None or called["name"] not in people:
        return html.escape(line)
    return f"<strong>{html.escape(called['name'])}</strong>{html.escape(line[called.end('name'):])}"


def board(heading: str, parts: Mapping[str, tuple[str, ...]]) -> Content:
    """The board: a heading, and under each title its lines."""
    plain = [heading]
    rich = [f"<strong>{html.escape(heading)}</strong>"]
    for title, lines in parts.items():
        if lines:
            plain += ["", title, *(f"- {line}" for line in lines)]
            items = "".join(f"<li>{html.escape(line)}</li>" for line in lines)
            rich.append(f"<p>{html.escape(title)}</p><ul>{items}</ul>")
    return {"msgtype": "m.notice", "body": "\n".join(plain), "format": "org.matrix.custom.html",
            "formatted_body": "".join(rich), "m.mentions": {}}


def edited(event_id: str, content: Content) -> Content:
    """The content of an edit that puts `content` in the place of an event's. Nobody is called twice for it."""
    new = {name: value for name, value in content.items() if name != "m.relates_to"}
    outer = {**new, "body": f"* {new['body']}", "m.mentions": {}}
    if "formatted_body" in new:
        outer["formatted_body"] = f"* {new['formatted_body']}"
    return {**outer, "m.new_content": new, "m.relates_to": {"rel_type": "m.replace", "event_id": event_id}}


def tick(event_id: str) -> Content:
    return {"m.relates_to": {"rel_type": "m.annotation", "event_id": event_id, "key": TICK}}


def picture(name: str, png: bytes, address: str, keys: Mapping[str, Any] | None, *, reply_to: str | None = None,
            thread: str | None = None) -> Content:
    """A picture that was uploaded to `address`, sealed with `keys` in an encrypted room."""
    width, height = _size(png)
    content: Content = {"msgtype": "m.image", "body": name, "m.mentions": {},
                        "info": {"mimetype": "image/png", "w": width, "h": height, "size": len(png)}}
    if keys is None:
        content["url"] = address
    else:
        content["file"] = {**keys, "url": address}
    relation = notice("", reply_to=reply_to, thread=thread).get("m.relates_to")
    return {**content, "m.relates_to": relation} if relation else content


def _size(png: bytes) -> tuple[int, int]:
    """Width and height of a PNG: big-endian at bytes 16 to 24 (W3C PNG specification, 11.2.2 IHDR)."""
    return int.from_bytes(png[16:20], "big"), int.from_bytes(png[20:24], "big")
