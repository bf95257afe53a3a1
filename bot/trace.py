"""The replay trace: one JSON object a line, for a message or for an unasked prompt.

The models below are the contract (`yardhand schema` prints it as JSON Schema); `message_line` and `prompt_line` make
the lines. Times are ISO 8601 with offset, temperatures degrees Celsius, volumes litres.
"""
from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime
from typing import Annotated, Any, Self

from pydantic import AwareDatetime, BaseModel, ConfigDict, Field, TypeAdapter, model_validator

from bot.talk import Action, Answer
from skills.vocabulary import Heard

Word = Annotated[str, Field(pattern=r"^[a-z]+$")]


class _Part(BaseModel):
    model_config = ConfigDict(frozen=True, extra="forbid", populate_by_name=True)


class Band(_Part):
    """Quantiles along the forecast's times: 1 in 20 below p05, half below p50, 19 in 20 below p95."""
    p05: tuple[float, ...]
    p50: tuple[float, ...]
    p95: tuple[float, ...]

    @model_validator(mode="after")
    def _in_order(self) -> Self:
        if not len(self.p05) == len(self.p50) == len(self.p95):
            raise ValueError("the quantiles of a band have one length")
        if any(not low <= mid <= high for low, mid, high in zip(self.p05, self.p50, self.p95, strict=True)):
            raise ValueError("p05 <= p50 <= p95 at every time")
        return self


class When(_Part):
    """Quantiles of a moment; null for later than the forecast's horizon."""
    p05: AwareDatetime | None
    p50: AwareDatetime | None
    p95: AwareDatetime | None

    @model_validator(mode="after")
    def _in_order(self) -> Self:
        known = [each for each in (self.p05, self.p50, self.p95) if each is not None]
        if known != sorted(known) or [self.p05, self.p50, self.p95][:len(known)] != known:
            raise ValueError("p05 <= p50 <= p95, and only the later ones may be null")
        return self


class OvenForecast(_Part):
    """Every ten minutes for at least six hours. air: as a thermometer hangs; floor: its probe; dome: inner face."""
    at: tuple[AwareDatetime, ...] = Field(min_length=37)
    air: Band
    floor: Band
    dome: Band

    @model_validator(mode="after")
    def _one_length(self) -> Self:
        if {len(band.p50) for band in (self.air, self.floor, self.dome)} != {len(self.at)}:
            raise ValueError("every band has a value for every time")
        return self


class DishForecast(_Part):
    """tender: when it will be tender; liquid [l] and core [degC] at the times of its oven."""
    tender: When
    liquid: Band
    core: Band


class Forecast(_Part):
    """What the bot believes right after a message."""
    ovens: dict[str, OvenForecast]
    dishes: dict[str, DishForecast]


class MessageLine(_Part):
    """A message, what was heard in it, and what was said to it. `ms` is the time from message to reply."""
    at: AwareDatetime
    sender: str = Field(alias="from")
    text: str
    heard: Heard
    replies: tuple[str, ...]
    tick: bool
    forecast: Forecast | None
    ms: float = Field(ge=0)


class PromptLine(_Part):
    """Words that nobody asked for."""
    at: AwareDatetime
    prompt: Word
    text: str
    oven: str | None = None
    dish: str | None = None


line_adapter: TypeAdapter[MessageLine | PromptLine] = TypeAdapter(MessageLine | PromptLine)


def message_line(answer: Answer, ms: float) -> dict[str, Any]:
    message = answer.message
    return {
        "at": _iso(message.at), "from": message.sender, "text": message.text, "heard": answer.heard.said(),
        "replies": [action.text for action in answer.actions if action.kind == "reply"],
        "tick": any(action.kind == "tick" for action in answer.actions),
        "forecast": answer.forecast, "ms": round(ms, 3),
    }


def prompt_line(action: Action) -> dict[str, Any]:
    line: dict[str, Any] = {"at": _iso(action.at), "prompt": action.prompt, "text": action.text}
    return line | {name: value for name, value in (("oven", action.oven), ("dish", action.dish)) if value is not None}


def schema() -> dict[str, Any]:
    """The JSON Schema (draft 2020-12) of one line of a trace."""
    made = line_adapter.json_schema()
    for entry in _entries(made):
        entry["properties"] = {name: _without_null(each) for name, each in entry["properties"].items()}
        if "is" in entry["properties"]:
            entry["required"] = ["is", *(name for name in entry.get("required", ()) if name != "is")]
    return {"$schema": "https://json-schema.org/draft/2020-12/schema", "title": "One line of a replay trace", **made}


def _entries(made: dict[str, Any]) -> Iterator[dict[str, Any]]:
    """The objects in which a field that was not given is absent: facts, questions and prompts."""
    for entry in made["$defs"].values():
        if "is" in entry.get("properties", {}) or entry.get("title") == "PromptLine":
            yield entry


def _without_null(field: dict[str, Any]) -> dict[str, Any]:
    if "anyOf" not in field:
        return field
    kinds = [each for each in field["anyOf"] if each != {"type": "null"}]
    rest = {key: value for key, value in field.items() if key not in ("anyOf", "default")}
    return {**rest, **kinds[0]} if len(kinds) == 1 else {**rest, "anyOf": kinds}


def _iso(at: datetime) -> str:
    return at.isoformat(timespec="seconds")
