"""The room at a keyboard, typed into through a terminal; and the room without one."""
from __future__ import annotations

import os
import re
import signal
import sys
import time
from datetime import datetime, timedelta
from pathlib import Path
from zoneinfo import ZoneInfo

import pexpect
import pytest
from fake_engine import FakeRoom

from bot.rooms.speakers import Speakers
from bot.rooms.terminal import Setting, listen
from bot.store import Store
from bot.talk import School
from skills.vocabulary import Check, Heard

HERE = Path(__file__).parent
NOON = datetime(2026, 5, 16, 12, tzinfo=ZoneInfo("Europe/London"))
# Cursor moves, colours and modes of a terminal (ECMA-48 control sequences), and carriage returns.
CONTROL = re.compile(r"\x1b\[[0-9;?]*[ -/]*[@-~]|\x1b[=>]|\r")


class Keyboard:
    """A person at the room's terminal: types, and looks for words on the screen below those seen last."""

    def __init__(self, folder, **env):
        self.screen = ""
        self.child = pexpect.spawn(
            sys.executable, [str(HERE / "room_child.py"), str(folder)], encoding="utf-8", dimensions=(30, 100),
            env=os.environ | {"PYTHONPATH": str(HERE.parents[1]), "TERM": "xterm-256color",
                              "PROMPT_TOOLKIT_NO_CPR": "1"} | env)
        self._looked = 0
        self.see("welcome")

    @property
    def words(self):
        return CONTROL.sub("", self.screen)

    def type(self, text):
        self.child.send(text)

    def see(self, pattern, within_s=30.0):
        """What stands on the screen up to and with the pattern."""
        until = time.monotonic() + within_s
        while (found := re.compile(pattern).search(self.words, self._looked)) is None:
            assert time.monotonic() < until, f"{pattern!r} is not in {self.words[self._looked:]!r}"
            self._read()
        self._looked = found.end()
        return self.words[:found.end()]

    def leave(self):
        """Ctrl-D, as often as a person would: one that falls into the moment of a line being printed is lost."""
        until = time.monotonic() + 30
        while "left in peace" not in self.words:
            assert time.monotonic() < until, f"still there: {self.words[-300:]!r}"
            self.type("\x04")
            self._read()

    def kill(self):
        self.child.kill(signal.SIGKILL)
        self.child.wait()

    def _read(self):
        try:
            self.screen += self.child.read_nonblocking(4096, 0.2)
        except pexpect.TIMEOUT:
            return
        except pexpect.EOF:
            if "left in peace" in self.words:
                return
            raise AssertionError(f"the room has ended: {self.words[-300:]!r}") from None


@pytest.fixture
def room(tmp_path):
    started = []

    def start(**env):
        started.append(Keyboard(tmp_path / "data", **env))
        return started[-1]

    yield start
    for keyboard in started:
        keyboard.child.close(force=True)


def test_what_is_typed_is_answered_with_a_mark_or_words(room):
    keys = room()
    keys.type("floor 180\r")
    keys.see("09:30 ok Mara: floor 180")
    keys.type("Idris: when?\r")
    keys.see(r"09:30    Idris: when\?")
    keys.see("yardhand: 1 facts and 1 words so far")
    keys.see("third line")
    keys.type("/quit\r")
    keys.see("left in peace")


def test_a_prompt_comes_while_someone_types_and_the_half_typed_line_stays(room):
    keys = room()
    keys.type("wood in 0.03\r")
    keys.see("ok Mara: wood in 0.03")
    keys.type("half a li")
    keys.see(r"yardhand, unasked: Wood, 1 facts\.")
    keys.type("ne, floor 200\r")
    keys.see("ok Mara: half a line, floor 200")
    keys.leave()
    assert keys.words.count("Wood, 1 facts.") == 1


def test_bad_typing_leaves_the_room_standing(room):
    keys = room()
    for typed in ("\r", "   \r", "/nothing\r", "/\r", "\x03", "///\r", "Lamb: tough\r", "\x1b[201~\x07 \t\r",
                  "é" * 300 + "\r", "'; DROP TABLE message; --\r", ":\r", "a: b: c\r"):
        keys.type(typed)
    keys.type("floor 191\r")
    keys.see("ok Mara: floor 191")
    assert "Traceback" not in keys.words
    assert "nothing is called '/nothing' here" in keys.words
    keys.leave()


def test_a_message_the_engine_fails_on_is_kept_and_outlived(room):
    keys = room()
    keys.type("floor 180\r")
    keys.see("ok Mara: floor 180")
    keys.type("boom\r")
    keys.see("yardhand: I could not work with that")
    keys.type("when?\r")
    keys.see("1 facts and 2 words so far")
    keys.leave()
    keys = room()
    keys.see("the talk so far")
    keys.see("Mara: boom")
    keys.type("when?\r")
    keys.see("1 facts and 4 words so far")


def test_stopped_and_started_again_the_class_goes_on_and_its_last_lines_are_shown(room):
    keys = room()
    keys.type("floor 180\rIdris: when?\r")
    keys.see("third line")
    keys.kill()
    keys = room()
    keys.see("09:30 ok Mara: floor 180")
    keys.see("1 facts and 1 words so far")
    keys.type("floor 190\rwhen?\r")
    keys.see("2 facts and 4 words so far")
    keys.leave()


def test_without_colour_every_mark_is_still_there(room):
    keys = room(NO_COLOR="1")
    keys.type("wood in 0.02\r")
    keys.see("09:30 ok Mara: wood in 0.02")
    keys.see("unasked: Wood")
    keys.leave()
    assert not re.search(r"\x1b\[[0-9;]*(3[0-7]|9[0-7])m", keys.screen)


# Without a keyboard

def heard(tmp_path, lines, at=NOON, **more):
    out = []
    store = Store.open(tmp_path / "data")
    try:
        listen(lines, store, Setting("yard", School(), "Mara", lambda: at, make=FakeRoom, **more), out.append)
    finally:
        store.close()
    return out


def test_piped_lines_are_answered_and_the_room_ends(tmp_path):
    assert heard(tmp_path, ["floor 180\n", "\n", "Idris: when?\n"]) == [
        "-- Saturday 16 May 2026",
        "12:00 ok Mara: floor 180",
        "12:00    Idris: when?",
        "             yardhand: 1 facts and 1 words so far",
        "             yardhand: second line",
        "                       third line",
    ]


def test_a_prompt_that_fell_due_while_nobody_was_there_is_said_at_the_next_start(tmp_path):
    heard(tmp_path, ["wood in 5"])
    later = heard(tmp_path, ["floor 180"], at=NOON + timedelta(minutes=30))
    assert later == [
        "-- the talk so far:", "-- Saturday 16 May 2026", "12:00 ok Mara: wood in 5",
        "12:30        yardhand, unasked: Wood, 1 facts.", "12:30 ok Mara: floor 180"]


def test_quit_leaves_the_rest_unread(tmp_path):
    out = heard(tmp_path, ["/quit", "floor 180"])
    assert out == []


# Who speaks

@pytest.mark.parametrize(("line", "who", "what"), [
    ("floor 180", "Mara", "floor 180"),
    ("Idris: pot in", "Idris", "pot in"),
    ("idris: pot in", "Idris", "pot in"),
    ("Anne Marie: pot in", "Anne Marie", "pot in"),
    ("Zoë: pot in", "Zoë", "pot in"),
    ("Lamb: still tough", "Mara", "Lamb: still tough"),
    ("Ox cheeks: falling", "Mara", "Ox cheeks: falling"),
    ("Floor: 180", "Mara", "Floor: 180"),
    ("Note: back left runs hot", "Mara", "Note: back left runs hot"),
    ("Class: shoulder day", "Mara", "Class: shoulder day"),
    ("class: shoulder day", "Mara", "class: shoulder day"),
    ("Gizmo: giving", "Mara", "Gizmo: giving"),
    ("someone: hello", "Mara", "someone: hello"),
    ("Idris:", "Mara", "Idris:"),
    ("12:30 floor 180", "Mara", "12:30 floor 180"),
    ("", "Mara", ""),
])
def test_a_name_before_a_colon_speaks_and_a_thing_does_not(line, who, what):
    speakers = Speakers("Mara", ["Idris"])
    speakers.met("Mara", Heard(facts=(Check(dish="gizmo", tender="giving"),)))
    assert speakers.split(line) == (who, what)


def test_a_chart_is_written_to_a_file_and_it_is_said_where(tmp_path):
    """PNG specification: a file begins with these eight bytes."""
    out = []
    store = Store.open(tmp_path / "data")
    try:
        listen(["the dome is 90 across", "dome air 180", "post the chart"], store,
               Setting("yard", School(), "Mara", lambda: NOON), out.append)
    finally:
        store.close()
    (said,) = [line for line in out if line.startswith("-- the chart is written to ")]
    assert Path(said.removeprefix("-- the chart is written to ")).read_bytes().startswith(b"\x89PNG\r\n\x1a\n")
