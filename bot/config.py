"""The file that tells a Matrix bot where to go and whom to hear (yardhand.toml). Every fault is named with its line.

Secrets do not stand in it: the password of the first login comes from YARDHAND_PASSWORD, and what the login brings is
kept in the data folder, readable by its owner alone.
"""
from __future__ import annotations

import difflib
import re
import tomllib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Annotated, Any, Literal
from zoneinfo import ZoneInfo

from pydantic import AfterValidator, BaseModel, ConfigDict, Field, ValidationError, field_validator

from bot.talk import School

Path_ = tuple[str | int, ...]
_USER = re.compile(r"@[^@:\s]+:[^\s@]+")
_ROOM = re.compile(r"![^\s]+")


class ConfigError(Exception):
    """The file cannot be used; one line for each fault, with the file, the line and what to write instead."""


def _user(value: str) -> str:
    if not _USER.fullmatch(value):
        raise ValueError(f"{value!r} is no user: write it as '@mara:example.org'")
    return value


def _heard(value: str) -> str:
    if not _USER.fullmatch(value):
        raise ValueError(f"{value!r} is no user: write '@mara:example.org', or '@*:example.org' for all of a server")
    return value


def _zone(value: str) -> str:
    try:
        return ZoneInfo(value).key
    except (ValueError, KeyError, OSError) as error:
        raise ValueError(f"no time zone is called {value!r}: write it as 'Europe/London'") from error


def _room_id(value: str) -> str:
    if not _ROOM.fullmatch(value):
        raise ValueError(f"{value!r} is no room id: it begins with '!' and stands in the room's settings")
    return value


User = Annotated[str, AfterValidator(_user)]
RoomId = Annotated[str, AfterValidator(_room_id)]
Zone = Annotated[str, AfterValidator(_zone)]
Region = Literal["uk", "scotland", "us", "anz", "eu"]


class _Part(BaseModel):
    model_config = ConfigDict(extra="forbid", frozen=True, strict=True)


class MatrixPart(_Part):
    """Where the bot lives and whom it hears."""
    homeserver: str = Field(examples=["https://matrix.example.org"])
    user: User = Field(examples=["@yardhand:example.org"])
    people: tuple[Annotated[str, AfterValidator(_heard)], ...] = Field(min_length=1, examples=[["@mara:example.org"]])
    data: Annotated[str, Field(min_length=1)] | None = None
    device_name: str = Field("Yardhand", min_length=1)
    encryption: bool = True
    board_every_s: float = Field(60.0, ge=1.0)

    @field_validator("people", mode="before")
    @classmethod
    def _listed(cls, value: object) -> object:
        return tuple(value) if isinstance(value, list) else value

    @field_validator("homeserver")
    @classmethod
    def _address(cls, value: str) -> str:
        if not re.fullmatch(r"https?://[^\s/]+/?", value):
            raise ValueError(f"{value!r} is no address of a server: write it as 'https://matrix.example.org'")
        return value.rstrip("/")


class SchoolPart(_Part):
    """What a room knows before its first message; a room's own table overrides the school's."""
    zone: Zone | None = None
    region: Region | None = None
    altitude_m: Annotated[float, Field(ge=-430, le=5000)] | None = None
    lead: User | None = None
    seed: int | None = None


class RoomPart(SchoolPart):
    """One room, by its id."""
    name: Annotated[str, Field(pattern=r"^[a-z0-9][a-z0-9-]{0,30}$")] | None = None


class Config(_Part):
    """The whole file."""
    matrix: MatrixPart
    school: SchoolPart = SchoolPart()
    names: dict[User, Annotated[str, Field(min_length=1, max_length=32)]] = Field(default_factory=dict)
    rooms: dict[RoomId, RoomPart] = Field(default_factory=dict)

    @field_validator("rooms")
    @classmethod
    def _own_names(cls, value: dict[str, RoomPart]) -> dict[str, RoomPart]:
        names = [room.name for room in value.values() if room.name is not None]
        if len(set(names)) != len(names):
            raise ValueError("two rooms have the same name: give each its own")
        return value

    def hears(self, user: str) -> bool:
        """Whether a person may speak to the bot and ask it into a room."""
        server = user.partition(":")[2]
        return user != self.matrix.user and (user in self.matrix.people or f"@*:{server}" in self.matrix.people)

    def school_of(self, room_id: str) -> School:
        """What a room is told before its first message."""
        own, common, usual = self.rooms.get(room_id, RoomPart()), self.school, School()

        def of(field: str) -> Any:
            values = (getattr(own, field), getattr(common, field), getattr(usual, field))
            return next((value for value in values if value is not None), None)

        lead = of("lead")
        if lead is not None:
            from bot.rooms.matrix.hearing import person

            lead = person(lead, self.names.get(lead))
        return School(zone=of("zone"), region=of("region"), altitude_m=of("altitude_m"), seed=of("seed"), lead=lead)


@dataclass(frozen=True)
class _Fault:
    line: int
    text: str


def read_config(path: Path) -> Config:
    """The file, checked. Raises ConfigError with every fault of it."""
    try:
        text = path.read_text(encoding="utf-8")
    except (OSError, UnicodeDecodeError) as error:
        why = error.strerror if isinstance(error, OSError) else "it is not text in UTF-8"
        raise ConfigError(f"{path}: cannot be read ({why}): name a file as the README shows it") from error
    try:
        data = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        found = re.search(r"\(at line (\d+), column \d+\)", str(error))
        line = int(found[1]) if found else len(text.splitlines())
        what = re.sub(r"\s*\(at .*\)$", "", str(error))
        raise ConfigError(f"{path}:{line}: {what[:1].lower() + what[1:]}") from error
    try:
        return Config.model_validate(data)
    except ValidationError as error:
        lines = lines_of(text)
        faults = sorted({_fault(dict(each), lines) for each in error.errors()}, key=lambda fault: fault.line)
        raise ConfigError("\n".join(f"{path}:{fault.line}: {fault.text}" for fault in faults)) from error


def _fault(error: Mapping[str, Any], lines: Mapping[Path_, int]) -> _Fault:
    where: Path_ = tuple(part for part in error["loc"] if part != "[key]")
    line = next((lines[where[:n]] for n in range(len(where), -1, -1) if where[:n] in lines), 1)
    name = ".".join(str(part) for part in where)
    if error["type"] == "missing":
        return _Fault(line, f"{name} is missing{_example(where)}")
    if error["type"] == "extra_forbidden":
        near = difflib.get_close_matches(str(where[-1]), _fields(where[:-1]), 1)
        hint = f"; did you mean {near[0]!r}?" if near else f"; there are: {', '.join(_fields(where[:-1]))}"
        return _Fault(line, f"nothing is called {name}{hint}")
    message = str(error["msg"]).removeprefix("Value error, ")
    return _Fault(line, f"{name}: {message[:1].lower() + message[1:]}")


def _part(where: Path_) -> type[BaseModel] | None:
    if not where:
        return Config
    parts: dict[str, type[BaseModel]] = {"matrix": MatrixPart, "school": SchoolPart}
    if len(where) == 1:
        return parts.get(str(where[0]))
    return RoomPart if where[0] == "rooms" and len(where) == 2 else None


def _fields(where: Path_) -> Sequence[str]:
    part = _part(where)
    return list(part.model_fields) if part is not None else []


def _example(where: Path_) -> str:
    part = _part(where[:-1])
    field = part.model_fields.get(str(where[-1])) if part is not None else None
    if field is None or not field.examples:
        return f": write a table [{where[-1]}]" if len(where) == 1 else ""
    return f": write {where[-1]} = {str(field.examples[0])!r}".replace('"', "") if isinstance(
        field.examples[0], str) else f": write {where[-1]} = {field.examples[0]}"


def lines_of(text: str) -> dict[Path_, int]:
    """The line (from 1) of every table, key and list member of a TOML text that can be read.

    >>> lines_of('[a]\\nb = [\\n  1,\\n  2]\\n')[("a", "b", 1)]
    4
    """
    found: dict[Path_, int] = {}
    table: Path_ = ()
    pending, begun = "", 0
    for number, line in enumerate(text.splitlines(), 1):
        if not pending and (not line.strip() or line.lstrip().startswith("#")):
            continue
        if not pending and line.lstrip().startswith("["):
            table = _only_path(_loads(line) or {})
            for n in range(1, len(table) + 1):
                found.setdefault(table[:n], number)
            continue
        begun = begun if pending else number
        pending += line + "\n"
        whole = _loads(pending)
        path = table + _only_path(whole if whole is not None else _loads(f"{pending}]") or {})
        if path != table:
            for n in range(len(table) + 1, len(path) + 1):
                found.setdefault(path[:n], begun)
            value = _at(whole if whole is not None else _loads(f"{pending}]") or {}, path[len(table):])
            for index in range(len(value) if isinstance(value, list) else 0):
                found.setdefault((*path, index), number)
        if whole is not None:
            pending = ""
    return found


def _loads(text: str) -> dict[str, Any] | None:
    try:
        return tomllib.loads(text)
    except tomllib.TOMLDecodeError:
        return None


def _only_path(data: object) -> Path_:
    path: list[str | int] = []
    while isinstance(data, dict) and len(data) == 1:
        key = next(iter(data))
        path.append(key)
        data = data[key]
    return tuple(path)


def _at(data: object, path: Path_) -> object:
    for part in path:
        data = data[part] if isinstance(data, dict) else None
    return data
