"""One question's stretch of the message, and what every question rule asks of it."""

from __future__ import annotations

import re
from collections.abc import Callable, Container
from typing import Any

from bot.reading.clock_times import Ago, Clock
from bot.reading.lexicon import bag
from bot.reading.phrases import tokens_of
from bot.reading.scene import Scene, compiled

ReadFacts = Callable[[Scene], None]


class Asked:
    """One question's stretch of the message, as canon text."""

    def __init__(self, scene: Scene, first: int, last: int) -> None:
        self.scene = scene
        self.first, self.last = first, last
        start, stop = scene.row.offset(first), scene.row.offset(last)
        # "barrel: when is it ready": the name in front belongs to the question, the rules look behind it.
        named = compiled(r"(?:<O>|<D>)(?: oven)? (?:[:,-])(?= )").match(scene.row.canon, start, stop)
        if named is not None:
            start = named.end() + 1
        self.text = scene.row.canon[start:stop].strip().replace("what hour", "what time")
        self.offset = start
        self.words = set(scene.row.words(first, last))

    def match(self, pattern: str) -> re.Match[str] | None:
        return compiled(pattern).search(self.text)

    def items(self, kind: str) -> list[int]:
        return [n for n in range(self.first, self.last) if self.scene.items[n].kind == kind]

    def name(self, kind: str) -> str | None:
        found = self.items(kind)
        return str(self.scene.items[found[0]].value) if found else None

    def tokens(self) -> list[str]:
        return tokens_of(self.text)

    def words_besides(self, name: str | None) -> list[str]:
        """The words of the stretch without those of a name."""
        return [
            word
            for item in self.scene.items[self.first : self.last]
            if item.kind != "." and not (item.kind == "D" and item.value == name)
            for word in item.words
        ]

    def text_of(self, match: re.Match[str], group: str) -> str:
        a, b = self.scene.row.items_of(self.offset + match.start(group), self.offset + match.end(group))
        return self.scene.row.spelled(a, b)


def with_names(asked: Asked, fields: dict[str, Any], *, oven: bool = True, dish: bool = True) -> dict[str, Any]:
    if oven and (name := asked.name("O")) is not None:
        fields["oven"] = name
    if dish and (name := dish_asked(asked)) is not None:
        fields["dish"] = name
    return fields


def dish_asked(asked: Asked) -> str | None:
    for n in asked.items("D"):
        item = asked.scene.items[n]
        if str(item.value) in ("stock", "broth", "meat") and str(item.value) not in asked.scene.context.dishes:
            continue
        return str(item.value)
    return None


def time_asked(
    asked: Asked, *, meal: bool = False, loose: bool = False, besides: Container[str] = frozenset()
) -> str | None:
    """The time that a question names; tokens of canon in `besides` are known to be something else."""
    scene = asked.scene
    # What can only be a time goes before a number that may be one: "14 for lunch, half one".
    for n in sorted(range(asked.first, asked.last), key=lambda each: scene.items[each].kind != "T"):
        item = scene.items[n]
        if f"{item.kind}{n}" in besides:
            continue
        before = scene.items[n - 1].word if n else ""
        said: Clock | Ago | None = None
        if item.kind == "T":
            said = item.value
        elif item.kind == "U" and (
            before in ("in", "after")
            or (n + 1 < len(scene.items) and scene.items[n + 1].word in ("from", "time", "'s"))
        ):
            said = Ago(float(item.value))
        elif item.kind == "N" and (
            loose
            or before in bag("at by for till until make before around about hit come")
            or (meal and before in bag("eating eat lunch dinner supper serving"))
        ):
            after = scene.items[n + 1].word if n + 1 < len(scene.items) else ""
            if after in bag("people guests persons of eating degrees students minutes kg"):
                continue
            said = scene.clock(f"N{n}")
            if isinstance(said, Clock) and item.value.value > 24 and said.minute == 0 and not item.value.words:
                continue
        if said is not None:
            return scene.coming_meal(said) if meal else scene.coming(said)
    return _same_time(asked)


def _same_time(asked: Asked) -> str | None:
    """ "and what's the dome at by then?": the time that the question before named."""
    last = asked.scene.context.last
    if not last or asked.match(r"(?:by|at|around|come) (?:then|that time)") is None:
        return None
    times = [time for entry in last[-1].heard.questions if (time := entry.said().get("by")) is not None]
    return str(times[0]) if len(times) == 1 else None


def people_asked(asked: Asked) -> int | None:
    match = asked.match(
        r"(?:if (?:it 's|it is|there are|there 's|we are|we 're)(?: for)?) (?P<n><N>)|for (?P<n><N>)(?= ?(?:$|people"
        r"|guests|of us|eating|\?|,|at|students|and|to|adults|in|heads|by"
        r"|portions|mouths|hungry|eaters|today|tomorrow|kids|at|then|tonight|on|with|please|if|who|it|we"
        r"|when|lunch|dinner|<D>))|(?P<m><N>) (?:people|guests|of us|students|eating|adults|mouths|portions"
        r"|eaters|kids|children|diners)|(?:feed|feeding|serve|serving|to feed|cooking for) (?P<o><N>)"
    )
    if match is None:
        return None
    token = next(value for value in match.groupdict().values() if value)
    to_be = r"(?:go|goes|put|need|come|be|start|started|<D>) (?:to |in |out |on |it |ready |done )*"
    if asked.match(rf"{to_be}for {token}(?=$| [?.])") and not asked.match("how (?:much|many)"):
        return None  # "when does the brisket go in for 1": the meal's hour
    number = asked.scene.number(token)
    return int(number) if number is not None and number % 1 == 0 and 0 < number < 10_000 else None


def by_asked(asked: Asked) -> dict[str, Any]:
    by = time_asked(asked, meal=True, loose=bool(asked.match(r"(?:make|hit|for|by|before|at) (?:<N>)")))
    return {"by": by} if by is not None else {}
