"""What the rules work on: the row of items, the mood of each, and the drafts of facts and questions found so far."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from functools import cache, cached_property
from typing import Any, Literal

from bot.reading.clock_times import Ago, Clock, coming, coming_meal, past
from bot.reading.context import Context
from bot.reading.items import Item, Row
from bot.reading.lexicon import bag
from bot.reading.normalise import without_pictures
from bot.reading.numbers import Number

Mood = Literal["fact", "silent", "question", "what_if"]

# Shorthand of the patterns: <V> any heat, <T> any time, and one letter for every other kind of item.
_SHORT = {
    "<V>": r"(?:[NH]\d+)",
    "<T>": r"(?:[TA]\d+)",
    "<N>": r"(?:N\d+)",
    "<H>": r"(?:H\d+)",
    "<K>": r"(?:K\d+)",
    "<L>": r"(?:L\d+)",
    "<C>": r"(?:C\d+)",
    "<CN>": r"(?:[CN]\d+)",
    "<M>": r"(?:M\d+)",
    "<MN>": r"(?:[MN]\d+)",
    "<U>": r"(?:U\d+)",
    "<S>": r"(?:S\d+)",
    "<P>": r"(?:P\d+)",
    "<O>": r"(?:O\d+)",
    "<D>": r"(?:D\d+)",
    "<I>": r"(?:I\d+)",
    "<W>": r"(?:[a-z']+)",
    "<TN>": r"(?:[TN]\d+)",
    "<KL>": r"(?:[KL]\d+)",
    "<DW>": r"(?:D\d+|[a-z']+)",
    "<BREAK>": r"[.,:;!?|/()-]",
}


@cache
def compiled(pattern: str) -> re.Pattern[str]:
    """A pattern over canon: whole items only, with the shorthand above."""
    for short, full in _SHORT.items():
        pattern = pattern.replace(short, full)
    seen: Counter[str] = Counter()
    # A group name may come twice in a pattern (two ways to name the dish); the later ones get a number.
    pattern = _GROUP.sub(lambda match: _numbered(match.group(1), seen), pattern)
    return re.compile(rf"(?<!\S)(?:{pattern})(?!\S)")


_GROUP = re.compile(r"\(\?P<([a-z]+\d?)>")


def _numbered(name: str, seen: Counter[str]) -> str:
    seen[name] += 1
    return f"(?P<{name}>" if seen[name] == 1 else f"(?P<{name}__{seen[name]}>"


@dataclass
class Draft:
    """A fact or question on its way: its fields, and the items (first up to last) that it was read from."""

    fields: dict[str, Any]
    first: int
    last: int
    rule: str
    question: bool = False
    time: Clock | Ago | None = None
    no_carry: bool = False
    hidden: dict[str, Any] = field(default_factory=dict)

    @property
    def kind(self) -> str:
        return str(self.fields["is"])


@dataclass
class Scene:
    """One message in the making."""

    row: Row
    context: Context
    moods: list[Mood] = field(default_factory=list)
    used: list[str | None] = field(default_factory=list)
    drafts: list[Draft] = field(default_factory=list)
    trouble: str | None = None
    ask: dict[str, Any] | None = None
    sentences: list[tuple[int, int]] = field(default_factory=list)
    phrases: list[Any] = field(default_factory=list)
    # Items that are silent for more than a plan, a denial or a request.
    doubted: set[int] = field(default_factory=set)
    # Where the stretches begin and end, with the row that they are of: looked up so often that a long message crept.
    _stretches: tuple[Row, list[int], list[int]] | None = field(default=None, init=False, repr=False)

    def __post_init__(self) -> None:
        if not self.moods:
            self.moods = ["fact"] * len(self.row.items)
        if not self.used:
            self.used = [None] * len(self.row.items)
        if not self.sentences:
            self.sentences = list(sentences_of(self.row.items))

    @property
    def items(self) -> list[Item]:
        return self.row.items

    def has_any(self, words: frozenset[str]) -> bool:
        """Whether any of these words stands in the message: the quick look before a rule is tried."""
        return not words.isdisjoint(self.vocabulary)

    @cached_property
    def vocabulary(self) -> frozenset[str]:
        return frozenset(item.word for item in self.row.items if item.kind == "")

    @cached_property
    def kinds(self) -> frozenset[str]:
        """The letters of the items in the message."""
        return frozenset(item.kind for item in self.row.items)

    def find(self, pattern: str, mood: Mood | None = "fact", *, fresh: bool = True,
             canon: str | None = None) -> Iterator[Found]:
        """Matches in order; `mood` all items must have (None: any), `fresh` leaves out what another rule used; `canon`
        is the row's own with some letters changed."""
        rule, canon, start = compiled(pattern), self.row.canon if canon is None else canon, 0
        while (match := rule.search(canon, start)) is not None:
            start = match.end() if match.end() > match.start() else match.end() + 1
            found = Found(self, match)
            if mood is not None and any(each != mood for each in self.moods[found.first : found.last]):
                continue
            if fresh and any(self.used[found.first : found.last]):
                # What was taken may only be the head of it: "... hot stock and put the lid back on".
                joint = (at for at in range(found.first, found.last) if self.items[at].word in _JOINTS)
                if (at := next(joint, None)) is not None and at > found.first:
                    start = min(start, self.row.offset(at))
                continue
            yield found

    def use(self, first: int, last: int, rule: str) -> None:
        for at in range(first, last):
            self.used[at] = rule

    def add(
        self,
        fields: dict[str, Any],
        first: int,
        last: int,
        rule: str,
        *,
        question: bool = False,
        time: Clock | Ago | None = None,
        keep: bool = False,
    ) -> Draft:
        """Take a draft and mark its items as used (keep: they stay free for other rules)."""
        given = {key: value for key, value in fields.items() if value is not None}
        draft = Draft(given, first, last, rule, question, time)
        self.drafts.append(draft)
        if not keep:
            self.use(first, last, rule)
        return draft

    def taken(self) -> list[bool]:
        """Which items a draft was read from, or a rule used."""
        covered = {n for draft in self.drafts for n in range(draft.first, draft.last)}
        return [at in covered or used is not None for at, used in enumerate(self.used)]

    def sentence(self, at: int) -> tuple[int, int]:
        return next(((a, b) for a, b in self.sentences if a <= at < b), (0, len(self.items)))

    def segment(self, at: int) -> tuple[int, int]:
        """The stretch between commas and other stops around an item."""
        if self._stretches is None or self._stretches[0] is not self.row:
            self._stretches = (self.row, *_stretches(self.row.items))
        _, begins, ends = self._stretches
        return begins[at], max(ends[at], begins[at])

    def item(self, token: str) -> Item:
        return self.items[int(token[1:])]

    def number(self, token: str | None) -> float | None:
        """The value of a number or quantity token."""
        if not token:
            return None
        item = self.item(token)
        value = item.value
        if isinstance(value, Number):
            return value.value
        return float(value) if isinstance(value, int | float) else None

    def clock(self, token: str) -> Clock | Ago | None:
        """The time of a T or A token, or of a number that can be one."""
        item = self.item(token)
        if isinstance(item.value, Clock | Ago):
            return item.value
        if isinstance(item.value, Number) and item.value.clock is not None and item.value.clock[0] <= 24:
            hour, minute = item.value.clock
            return Clock(hour, minute, exact=item.value.zero_led or hour > 12)
        if item.kind == "U":
            return Ago(float(item.value))
        return None

    def past(self, said: Clock | Ago | None) -> str | None:
        return None if said is None else past(said, self.context.now)

    def coming(self, said: Clock | Ago | None) -> str | None:
        return None if said is None else coming(said, self.context.now)

    def coming_meal(self, said: Clock | Ago | None) -> str | None:
        return None if said is None else coming_meal(said, self.context.now)

    def message_of(self, item: Item) -> str:
        """An item as it was typed."""
        return self.row.message[item.start : item.end]

    def name(self, token: str | None) -> str | None:
        """The name behind an oven or dish token."""
        if not token:
            return None
        return str(self.item(token).value)


class Found:
    """A match of a rule's pattern, with the items that it covers. Groups of one name count as one."""

    def __init__(self, scene: Scene, match: re.Match[str]) -> None:
        self.scene = scene
        self.match = match
        self.first, self.last = scene.row.items_of(match.start(), match.end())
        self.groups: dict[str, str] = {}
        self._real: dict[str, str] = {}
        for real, value in match.groupdict().items():
            name = real.partition("__")[0]
            if value and name not in self.groups:
                self.groups[name] = value
                self._real[name] = real

    def __getitem__(self, name: str) -> str:
        return self.groups.get(name, "")

    def has(self, name: str) -> bool:
        return name in self.groups

    def number(self, name: str) -> float | None:
        return self.scene.number(self.groups.get(name))

    def name(self, name: str) -> str | None:
        return self.scene.name(self.groups.get(name))

    def start(self, name: str) -> int:
        """Where a group stands in canon."""
        return self.match.start(self._real[name])

    def items_of(self, name: str) -> tuple[int, int]:
        real = self._real[name]
        return self.scene.row.items_of(self.match.start(real), self.match.end(real))

    def text(self, name: str) -> str:
        """The group as it was typed, slips in its words mended."""
        return self.scene.row.spelled(*self.items_of(name))

    def words(self, name: str) -> tuple[str, ...]:
        return self.scene.row.words(*self.items_of(name))

    def time(self, name: str) -> Clock | Ago | None:
        token = self.groups.get(name)
        return self.scene.clock(token) if token else None


_JOINTS = bag("and then but so , ; : -")
_HARD = frozenset(".!?|;")
_STOPS = frozenset(".,:;!?|/()-")


def is_hard(item: Item) -> bool:
    return item.kind == "." and item.word in _HARD


def is_stop(item: Item) -> bool:
    return item.kind == "." and item.word in _STOPS


def _stretches(items: list[Item]) -> tuple[list[int], list[int]]:
    """For every place, one past the end included: behind the last stop before it, and at the next stop from it on."""
    begins, ends = [0], [len(items)]
    for at, item in enumerate(items):
        begins.append(at + 1 if is_stop(item) else begins[-1])
    for at in range(len(items) - 1, -1, -1):
        ends.append(at if is_stop(items[at]) else ends[-1])
    return begins, ends[::-1]


def sentences_of(items: list[Item]) -> Iterable[tuple[int, int]]:
    """Ranges of items between hard stops, the stop included."""
    first = 0
    for at, item in enumerate(items):
        if is_hard(item):
            if at > first:
                yield first, at + 1
            first = at + 1
    if first < len(items):
        yield first, len(items)


def clean(text: str) -> str:
    """Free text as the record keeps it: lower case, single spaces, no article in front, no stop behind.

    >>> clean("The  wood watch. ")
    'wood watch'
    """
    words = without_pictures(text).lower().replace("’", "'").split()
    while words and words[0] in bag("the a an my our some any and"):
        words.pop(0)
    return " ".join(words).strip(" .,;:!?-")
