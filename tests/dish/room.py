"""A room played to a point, for tests of what is said of dishes."""
from __future__ import annotations

from dataclasses import dataclass, field
from datetime import datetime

from bot.engine import Room
from bot.rooms.transcript import parse
from bot.talk import Action
from skills.view import View

HEAD = ("# date: 2026-05-16", "# zone: Europe/London", "# seed: 7")
SCHOOL_DAY = """
05:02 Idris: lit the dome, 1.2 kg to start
05:04 Idris: dome is 90 across, 6 cm floor brick, 10 cm dome, 10 of insulation, probe 5 down. we fire it and rake it
05:10 Idris: 3 splits of ash on
05:31 Idris: three more on
06:04 Idris: another 3 splits
06:22 Mara: class: shoulder day, 14 guests, eating at 1.30
06:40 Idris: 3 on
07:20 Idris: raked out and brushed
07:30 Idris: door on
"""


@dataclass
class Played:
    """What was said to each line (by its time) and unasked."""
    room: Room
    replies: dict[str, str] = field(default_factory=dict)
    prompts: list[Action] = field(default_factory=list)
    now: datetime | None = None

    @property
    def view(self) -> View:
        assert self.room.session is not None
        assert self.now is not None
        return self.room.session.view(self.now)

    def prompts_of(self, kind: str) -> list[Action]:
        return [each for each in self.prompts if each.prompt == kind]


def play(*parts: str) -> Played:
    """Plays lines "HH:MM NAME: TEXT" after HEAD, with prompts at their own times."""
    lines = [line for part in parts for line in part.strip().splitlines()]
    transcript = parse("test", [*HEAD, *lines])
    played = Played(Room("test", transcript.school))
    for message in transcript.messages:
        while (wake := played.room.next_wake()) is not None and wake <= message.at:
            played.prompts.extend(played.room.tick(wake))
        answer = played.room.hear(message)
        played.now = message.at
        said = "\n".join(action.text for action in answer.actions if action.kind == "reply")
        key = message.at.strftime("%H:%M")
        played.replies[key] = (played.replies.get(key, "") + "\n" + said).strip()
    while transcript.until and (wake := played.room.next_wake()) is not None and wake <= transcript.until:
        played.prompts.extend(played.room.tick(wake))
    return played
