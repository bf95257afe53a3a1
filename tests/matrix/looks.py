"""What tests look for in a room, and in what the bot keeps."""
from __future__ import annotations

from nio import ReactionEvent, RoomMessageNotice

from bot.store import Store


def relation(event):
    return event.source["content"].get("m.relates_to", {})


def is_edit(event):
    return relation(event).get("rel_type") == "m.replace"


def notice(text):
    """A notice of the bot's with these words in it."""
    return lambda event: isinstance(event, RoomMessageNotice) and text in event.body


def answers(event_id):
    """A notice that answers an event."""
    return lambda event: isinstance(event, RoomMessageNotice) and not is_edit(event) and (
        relation(event).get("m.in_reply_to", {}).get("event_id") == event_id)


def edits(event_id):
    """An edit of an event of the bot's."""
    return lambda event: isinstance(event, RoomMessageNotice) and is_edit(event) and (
        relation(event)["event_id"] == event_id)


def tick_on(event_id):
    return lambda event: isinstance(event, ReactionEvent) and event.reacts_to == event_id


def said_by(person, room, user):
    """Every notice and tick of a user that a person has seen in a room, the server's repetitions left out."""
    found = {event.event_id: event for where, event in person.seen if where == room and event.sender == user
             and isinstance(event, RoomMessageNotice | ReactionEvent)}
    return list(found.values())


def recorded(folder, room):
    """The event ids that `yardhand log --room ROOM --events` prints."""
    store = Store.open(folder, shared=True)
    try:
        return store.message_ids(store.rooms()[room])
    finally:
        store.close()


def log(folder, room):
    store = Store.open(folder, shared=True)
    try:
        return store.log(store.rooms()[room])
    finally:
        store.close()
