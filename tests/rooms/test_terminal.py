"""The room at a keyboard, typed into through a terminal; and the room without one."""
from __future__ import annotations

import os
import re
import sys
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


@pytest.fixture
def room(tmp_path):
    started = []

    def start(**env):
        child = pexpect.spawn(sys.executable, [str(HERE / "room_child.py"), str(tmp_path / "data")], encoding="utf-8",
                              dimensions=(30, 100), timeout=20,
                              env=os.environ | {"PYTHONPATH": str(HERE.parents[1]), "TERM": "xterm-256color"} | env)
        child.screen = []
        child.logfile_read = type("Screen", (), {"write": lambda _, text: child.screen.append(text),
                                                 "flush": lambda _: None})()
        started.append(child)
        child.expect("Mara: ")
        return child

    yield start
    for child in started:
        child.close(force=True)


def seen(child):
    return CONTROL.sub("", "".join(child.screen))


def test_what_is_typed_is_answered_with_a_mark_or_words(room):
    child = room()
    child.send("floor 180\r")
    child.expect(r"09:30.*ok.*Mara: .*floor 180")
    child.send("Idris: when?\r")
    child.expect(r"Idris: .*when\?")
    child.expect(r"yardhand: .*1 facts and 1 words so far")
    child.expect("third line")
    child.send("/quit\r")
    child.expect("left in peace")


def test_a_prompt_comes_while_someone_types_and_the_half_typed_line_stays(room):
    child = room()
    child.send("wood in 0.03\r")
    child.expect("ok.*Mara: .*wood in 0.03")
    child.send("half a li")
    child.expect(r"yardhand, unasked: .*Wood, 1 facts\.")
    child.send("ne, floor 200\r")
    child.expect("ok.*Mara: .*half a line, floor 200")
    child.sendeof()
    child.expect("left in peace")
    assert seen(child).count("Wood, 1 facts.") == 1


def test_bad_typing_leaves_the_room_standing(room):
    child = room()
    for typed in ("\r", "   \r", "/nothing\r", "/\r", "\x03", "///\r", "Lamb: tough\r", "\x1b[201~\x07 \t\r", "é" * 300 + "\r",
                  "'; DROP TABLE message; --\r", ":\r", "a: b: c\r"):
        child.send(typed)
    child.send("floor 191\r")
    child.expect("ok.*floor 191")
    assert "Traceback" not in seen(child)
    assert "'/nothing'" in seen(child)
    child.sendeof()
    child.expect("left in peace")


def test_a_message_the_engine_fails_on_is_kept_and_outlived(room):
    child = room()
    child.send("floor 180\r")
    child.expect("ok.*floor 180")
    child.send("boom\r")
    child.expect("yardhand: .*I could not work with that")
    child.send("when?\r")
    child.expect("1 facts and 2 words so far")
    child.sendeof()
    child.expect("left in peace")
    child = room()
    child.expect("boom")
    child.send("when?\r")
    child.expect("1 facts and 4 words so far")


def test_stopped_and_started_again_the_class_goes_on_and_its_last_lines_are_shown(room):
    child = room()
    child.send("floor 180\rIdris: when?\r")
    child.expect("third line")
    child.kill(9)
    child.expect(pexpect.EOF)
    child = room()
    # Shown from the log before the first prompt.
    before = CONTROL.sub("", "".join(child.screen))
    assert "09:30 ok Mara: floor 180" in before
    assert "1 facts and 1 words so far" in before
    child.send("floor 190\rwhen?\r")
    child.expect("2 facts and 4 words so far")
    child.sendeof()
    child.expect("left in peace")


def test_without_colour_every_mark_is_still_there(room):
    child = room(NO_COLOR="1")
    child.send("wood in 0.02\r")
    child.expect("unasked")
    child.sendeof()
    child.expect("left in peace")
    assert "09:30 ok Mara: wood in 0.02" in seen(child)
    assert not re.search(r"\x1b\[[0-9;]*(3[0-7]|9[0-7])m", "".join(child.screen))


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
