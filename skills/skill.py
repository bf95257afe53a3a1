"""What a skill is: small and declarative. Pure functions of a view; skills/all_skills.py is the only list."""
from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field
from datetime import datetime
from typing import Any

from skills.view import View
from skills.vocabulary import Question


@dataclass(frozen=True)
class Reply:
    """At most three short lines. `said` is what later replies compare with ("lamb": its forecast in seconds)."""
    lines: tuple[str, ...]
    said: Mapping[str, Any] = field(default_factory=dict)

    @property
    def text(self) -> str:
        return "\n".join(self.lines)


@dataclass(frozen=True)
class Prompt:
    """Unasked words that are due at a time, unless something is told before then that makes them needless.

    key: said once under this name. lapses: not worth saying after this. urgent: passes a hush.
    act_at: when it is to be done; nobody is reminded before it. act: what is to be done, in the words of a reminder;
    late: the whole of what is true, and asked, once act_at has passed.
    said: as of a reply, what later words are compared with.
    """
    kind: str
    key: str
    due: datetime
    text: str
    oven: str | None = None
    dish: str | None = None
    who: str | None = None
    lapses: datetime | None = None
    urgent: bool = False
    act_at: datetime | None = None
    act: str = ""
    late: str = ""
    said: Mapping[str, float] = field(default_factory=dict)


Answerer = Callable[[Any, View], Reply]
Prompter = Callable[[View], Iterable[Prompt]]


@dataclass(frozen=True)
class Skill:
    """A name, the questions it answers, the prompts it may give, and examples that are tested."""
    name: str
    about: str
    answers: Mapping[type[Question], Answerer] = field(default_factory=dict)
    prompts: tuple[Prompter, ...] = ()
    examples: tuple[str, ...] = ()
