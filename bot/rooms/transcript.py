"""Transcripts: a room's talk in a text file that people write and read. Parsed whole before anything is played.

Header lines "# key: value" come before the first message; "HH:MM NAME: TEXT" is a message; "# until: HH:MM" as the
last line lets the clock run on. Blank lines and other lines that begin with # mean nothing here.
"""
from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import UTC, date, datetime, time, timedelta
from pathlib import Path
from typing import get_args
from zoneinfo import ZoneInfo

from bot.mistakes import MistakeError
from bot.regions import Region
from bot.talk import Message, School

_HEADER = re.compile(r"#\s*(title|date|zone|region|altitude_m|seed|until)\s*:\s*(.*)")
_MESSAGE = re.compile(r"(\S+)\s+([^:]*):(.*)")
_CLOCK = re.compile(r"([01]\d|2[0-3]):([0-5]\d)")
_SHAPE = "write it as '09:30 Mara: floor 180'"
# The lowest and highest places with a road, rounded outwards (from memory).
_ALTITUDES_M = (-450.0, 6000.0)


class TranscriptError(MistakeError):
    """A transcript that cannot be played; the text names the file and the line and says what to write."""


@dataclass(frozen=True)
class Transcript:
    """A transcript, checked. `until` is None when the clock stops at the last message."""
    title: str | None
    school: School
    messages: tuple[Message, ...]
    until: datetime | None

    @property
    def end(self) -> datetime:
        return self.until or self.messages[-1].at


def read_transcript(path: Path) -> Transcript:
    """The transcript in a file."""
    try:
        raw = path.read_bytes()
    except OSError as error:
        raise TranscriptError(f"{path}: cannot be read ({error.strerror}); name a transcript file") from error
    try:
        text = raw.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = raw[:error.start].count(b"\n") + 1
        raise TranscriptError(f"{path}:{line}: not plain text in UTF-8; save the file as UTF-8 text") from error
    return parse(str(path), text.splitlines())


def parse(name: str, lines: Iterable[str]) -> Transcript:
    """The transcript in lines of text; `name` is for what an error says."""
    parser = _Parser(name)
    for number, line in enumerate(lines, 1):
        parser.take(number, line.strip())
    return parser.done()


class _Parser:
    def __init__(self, name: str) -> None:
        self._name = name
        self._line = 0
        self._keys: dict[str, str] = {}
        self._day: date | None = None
        self._zone: ZoneInfo | None = None
        self._region: Region = "uk"
        self._altitude_m: float | None = None
        self._seed = 0
        self._messages: list[Message] = []
        self._face: datetime | None = None
        self._until: datetime | None = None

    def take(self, number: int, line: str) -> None:
        self._line = number
        header = _HEADER.fullmatch(line)
        if header and header[1] == "until":
            if not self._messages:
                raise self._wrong("'# until:' before any message; put it in the last line")
            if self._until is not None:
                raise self._wrong("a second '# until:'; keep one, in the last line")
            self._until = self._moment(header[2], "# until: 18:00")
        elif header and not self._messages:
            self._head(header[1], header[2].strip())
        elif line and not line.startswith("#"):
            self._say(line)

    def done(self) -> Transcript:
        if not self._messages:
            self._line += 1
            raise self._wrong(f"no message in the whole file; {_SHAPE}")
        assert self._zone is not None
        school = School(self._zone.key, self._region, self._altitude_m, self._seed)
        return Transcript(self._keys.get("title"), school, tuple(self._messages), self._until)

    def _head(self, key: str, value: str) -> None:
        if key in self._keys:
            raise self._wrong(f"a second '# {key}:'; keep one")
        self._keys[key] = value
        try:
            if key == "date":
                self._day = date.fromisoformat(value) if re.fullmatch(r"\d{4}-\d\d-\d\d", value) else date.max
                if self._day.year > 9000 or self._day.year < 1900:
                    raise ValueError
            elif key == "zone":
                self._zone = ZoneInfo(value)
            elif key == "region":
                found = [each for each in get_args(Region) if each == value]
                self._region = found[0]
            elif key == "altitude_m":
                self._altitude_m = float(value)
                if not _ALTITUDES_M[0] <= self._altitude_m <= _ALTITUDES_M[1]:
                    raise ValueError
            elif key == "seed":
                self._seed = int(value)
                if not 0 <= self._seed < 2**31:
                    raise ValueError
        except (ValueError, KeyError, IndexError, OSError) as error:
            raise self._wrong(f"{value!r} is no {_CALLED[key]}; write it as '# {key}: {_EXAMPLES[key]}'") from error

    def _say(self, line: str) -> None:
        if self._until is not None:
            raise self._wrong("a message after '# until:'; put '# until:' in the last line")
        found = _MESSAGE.fullmatch(line)
        if found is None or not found[1][0].isdigit():
            what = "no name and colon after the time" if line[0].isdigit() else "no time at the start"
            raise self._wrong(f"{what} of {_short(line)}; {_SHAPE}")
        clock, who, text = found[1], found[2].strip(), found[3].strip()
        if _CLOCK.fullmatch(clock) is None:
            raise self._wrong(f"{_short(clock)} is no time of day; {_SHAPE}")
        if not who or len(who) > 80:
            raise self._wrong(f"no name (of at most 80 letters) before the colon in {_short(line)}; {_SHAPE}")
        if not text:
            raise self._wrong(f"{who} says nothing; {_SHAPE}, or take the line out")
        if not self._messages:
            self._settle()
        at = self._moment(clock, _SHAPE)
        self._messages.append(Message(f"m{len(self._messages) + 1:04d}", at, who, text))

    def _settle(self) -> None:
        """What must be known before the first message."""
        if self._day is None:
            raise self._wrong("no date before the first message; write it above as '# date: 2026-05-16'")
        if self._zone is None:
            self._zone = ZoneInfo(School().zone)

    def _moment(self, clock: str, shape: str) -> datetime:
        """A clock time; earlier than the line before means the next day."""
        found = _CLOCK.fullmatch(clock.strip())
        if found is None:
            raise self._wrong(f"{_short(clock)} is no time of day; write it as '{shape}'")
        assert self._day is not None
        assert self._zone is not None
        face = datetime.combine(self._day, time(int(found[1]), int(found[2])))
        if self._face is not None and face < self._face:
            self._day += timedelta(days=1)
            face += timedelta(days=1)
        at = face.replace(tzinfo=self._zone)
        if at.astimezone(UTC).astimezone(self._zone).replace(tzinfo=None) != face:
            raise self._wrong(f"{clock} is skipped by the clocks of {self._zone.key} on {self._day} (summer time "
                              "begins); write the time that the clock showed")
        self._face = face
        return at

    def _wrong(self, what: str) -> TranscriptError:
        return TranscriptError(f"{self._name}:{self._line}: {what}")


_CALLED = {"date": "date", "zone": "time zone", "region": "region (uk, scotland, us, anz, eu)",
           "altitude_m": "height in metres", "seed": "seed (a whole number from 0)"}
_EXAMPLES = {"date": "2026-05-16", "zone": "Europe/London", "region": "uk", "altitude_m": "120", "seed": "7"}


def _short(text: str) -> str:
    return repr(text if len(text) <= 40 else text[:37] + "...")
