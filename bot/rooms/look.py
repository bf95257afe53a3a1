"""How talk looks on a page: the time on the left, people as they speak, the bot set in, what it says unasked marked.

    09:32 ok Mara: lit the dome
    09:33    Mara: when will the lamb be done?
                 yardhand: Lamb tender about 12:50 (12:15 to 13:25).
    11:04        yardhand, unasked: Tomos: barrel, one split by 11:10.

Every mark is a word, so that the page reads the same without colour.
"""
from __future__ import annotations

import textwrap
import unicodedata
from collections.abc import Callable, Sequence
from datetime import date, datetime

from bot.talk import Action, Answer, LogLine, Message

BOT = "yardhand"
MARK = "ok"
UNASKED = f"{BOT}, unasked"
_GUTTER = 9
_SET_IN = 4

# (style class, text); the style classes are coloured by the terminal room and mean nothing on paper.
Fragments = Sequence[tuple[str, str]]
Emit = Callable[[Fragments], None]


def plain(fragments: Fragments) -> str:
    return "".join(text for _, text in fragments)


def harmless(text: str) -> str:
    """Text without the control characters that could move a reader's cursor; a line break becomes a space."""
    return "".join(" " if letter in "\n\r\t" else "\N{REPLACEMENT CHARACTER}"
                   if unicodedata.category(letter) in ("Cc", "Cs") else letter for letter in text)


class Page:
    """Writes talk line by line; a new day gets a line of its own. `width` None: no wrapping."""

    def __init__(self, emit: Emit, width: int | None = None) -> None:
        self._emit = emit
        self._width = width
        self._day: date | None = None

    def message(self, said: Message | Answer) -> None:
        """A person's line: with the mark if it was answered by a tick, bare while it is still being heard."""
        message, ok = (said.message, ticked(said)) if isinstance(said, Answer) else (said, False)
        self._new_day(message.at)
        how = " (edited)" if message.replaces else " (removes)" if message.removes else ""
        self._block("who", message.at, MARK if ok else "", f"{harmless(message.sender)}{how}", message.text, 0)

    def action(self, action: Action) -> None:
        """A reply or unasked words; a tick stands at its message and is nothing here."""
        if action.kind == "reply":
            self._block("bot", None, "", BOT, action.text, _SET_IN)
        elif action.kind == "prompt":
            self._new_day(action.at)
            self._block("unasked", action.at, "", UNASKED, action.text, _SET_IN)

    def late_mark(self, message: Message) -> None:
        """A tick that came after its message was already on the page."""
        said = harmless(message.text)
        self._emit([("time", " " * 6), ("ok", MARK), ("", f" (to {said if len(said) <= 40 else said[:37] + '...'!r})")])

    def line(self, line: LogLine) -> None:
        """A kept line of talk: a message and what was said to it, or what was said unasked."""
        if isinstance(line, Answer):
            self.message(line)
        for action in line.actions:
            self.action(action)

    def remark(self, text: str) -> None:
        """A line about the room itself, not of the talk."""
        self._emit([("remark", f"-- {text}")])

    def under(self, text: str, style: str = "") -> None:
        """A line that belongs to the one above it."""
        self._emit([("", " " * (_GUTTER + _SET_IN)), (style, text)])

    def _new_day(self, at: datetime) -> None:
        if at.date() != self._day:
            self._day = at.date()
            self._emit([("remark", f"-- {at:%A} {at.day} {at:%B %Y}")])

    def _block(self, style: str, at: datetime | None, mark: str, who: str, text: str, set_in: int) -> None:
        start = f"{'' if at is None else f'{at:%H:%M}':<6}"
        lead = " " * set_in
        indent = " " * (_GUTTER + set_in + len(BOT) + 2 if set_in else _GUTTER + set_in)
        for count, row in enumerate(text.split("\n")):
            head = f"{who}: " if count == 0 else ""
            room = None if self._width is None else max(20, self._width - _GUTTER - set_in)
            rows = [head + harmless(row)] if room is None else (
                textwrap.wrap(head + harmless(row), room, break_long_words=True) or [head])
            for place, piece in enumerate(rows):
                if count == 0 and place == 0:
                    cut = min(len(head), len(piece))
                    self._emit([("time", start), ("ok", f"{mark:<3}"), ("", lead), (style, piece[:cut]),
                                ("", piece[cut:])])
                else:
                    self._emit([("", indent + piece)])


def ticked(answer: Answer) -> bool:
    return any(action.kind == "tick" for action in answer.actions)
