"""The command line: it does what it says, and a mistake is one clear line and exit 2."""
from __future__ import annotations

import csv
import io
import json
import os
import signal
import sqlite3
import subprocess
import sys
from pathlib import Path

import jsonschema
import pexpect
import pytest

from bot import cli
from bot.store import FILE_NAME, Store

ROOT = Path(__file__).parents[1]
ENV = {name: value for name, value in os.environ.items() if name != "NO_COLOR"} | {
    "PYTHONPATH": str(ROOT), "PROMPT_TOOLKIT_NO_CPR": "1", "TERM": "xterm-256color"}
SHORT = """\
# title: Short day
# date: 2026-05-16
# zone: Europe/London
09:00 Mara: class: short day, 6 guests, eating at 13:00
09:05 Idris: lovely morning
09:06 Tomos: floor 148
09:07 Tomos: sorry, floor 184 not 148
"""


@pytest.fixture
def short(tmp_path):
    path = tmp_path / "short.txt"
    path.write_text(SHORT, encoding="utf-8")
    return path


def run(capsys, *arguments, status=0):
    assert cli.main([str(each) for each in arguments]) == status
    said = capsys.readouterr()
    if status:
        assert said.out == ""
        assert said.err.startswith("yardhand: ")
        assert said.err.count("\n") == 1, "one line"
        return said.err
    return said.out


# Help and mistakes

def test_help_reads_in_neither_models_nor_store():
    code = ("import sys; from bot.cli import main; main([]); print('read in:', *sorted("
            "{'numpy', 'pydantic', 'sqlite_utils', 'nio', 'asyncio', 'argparse'} & set(sys.modules)), file=sys.stderr)")
    done = subprocess.run([sys.executable, "-c", code], check=True, capture_output=True, text=True, env=ENV)
    assert done.stdout.startswith("usage: yardhand")
    assert done.stderr.strip() == "read in: argparse"


def test_help_names_every_command(capsys):
    with pytest.raises(SystemExit) as left:
        cli.main(["--help"])
    assert left.value.code == 0
    said = capsys.readouterr().out
    for command in ("demo", "room", "replay", "read", "classes", "log", "ovens", "oven", "schema"):
        assert f"    {command} " in said
    assert run(capsys) == said, "no command at all shows the help"


@pytest.mark.parametrize(("arguments", "says"), [
    (["fly"], "choose from"),
    (["--fly"], "yardhand --help"),
    (["replay"], "FILE"),
    (["replay", "none.txt"], "none.txt: cannot be read"),
    (["log"], "CLASS"),
    (["log", "last", "--csv", "--json"], "not allowed with"),
    (["log", "last", "--data", "none"], "yardhand room --data none"),
    (["classes", "--data", "none"], "no class is kept in none"),
    (["demo", "opera"], "choose one of"),
    (["read"], "nothing to read"),
    (["read", "--now", "25:71", "floor 180"], "--now 09:30"),
    (["read", "--lines", "none.jsonl"], "none.jsonl cannot be read"),
    (["room", "--zone", "Mars", "--data", "new"], "Europe/London"),
    (["room", "--altitude", "high"], "invalid float"),
    (["room", "--region", "mars"], "choose from"),
])
def test_a_mistake_is_one_line_that_says_what_to_do(capsys, tmp_path, monkeypatch, arguments, says):
    monkeypatch.chdir(tmp_path)
    assert says in run(capsys, *arguments, status=2)
    assert not (tmp_path / "none").exists()


def test_a_malformed_transcript_is_named_and_nothing_of_it_is_kept(capsys, tmp_path, short):
    short.write_text(SHORT + "9.30 floor 180\n", encoding="utf-8")
    said = run(capsys, "replay", short, "--data", tmp_path / "data", "--trace", tmp_path / "out.jsonl", status=2)
    assert "short.txt:8: " in said
    assert "write it as '09:30 Mara: floor 180'" in said
    assert not (tmp_path / "data").exists()
    assert not (tmp_path / "out.jsonl").exists()


def test_a_trace_that_cannot_be_written_is_told_before_anything_is_played(capsys, tmp_path, short):
    assert "name another file" in run(capsys, "replay", short, "--trace", tmp_path, status=2)


@pytest.mark.parametrize("command", [["classes"], ["log", "last"], ["room"], ["replay", "short.txt"]])
def test_a_data_file_that_is_not_ours_is_refused(capsys, tmp_path, short, monkeypatch, command):
    monkeypatch.chdir(short.parent)
    folder = tmp_path / "data"
    folder.mkdir()
    connection = sqlite3.connect(folder / FILE_NAME)
    connection.execute("CREATE TABLE x (y)")
    connection.close()
    assert "belongs to another program" in run(capsys, *command, "--data", folder, status=2)


def test_a_data_file_of_a_newer_version_is_refused(capsys, tmp_path):
    Store.open(tmp_path).close()
    connection = sqlite3.connect(tmp_path / FILE_NAME)
    connection.execute("INSERT INTO _sqlite_migrations (migration_set, name, applied_at) VALUES ('yardhand', '99', '')")
    connection.commit()
    connection.close()
    assert "newer Yardhand" in run(capsys, "classes", "--data", tmp_path, status=2)


def test_an_unknown_or_unclear_class_is_told_and_an_empty_folder_too(capsys, tmp_path, short):
    data = tmp_path / "data"
    Store.open(data).close()
    assert "yet" in run(capsys, "classes", "--data", data, status=2)
    assert "'yardhand classes' lists them" in run(capsys, "log", "last", "--data", data, status=2)
    run(capsys, "replay", short, "--data", data)
    run(capsys, "replay", short, "--data", data)
    assert "no class is called 'x'" in run(capsys, "log", "x", "--data", data, status=2)
    assert "begins 2 classes" in run(capsys, "log", "short", "--data", data, status=2)


# Commands

def test_a_replay_prints_the_talk_and_keeps_nothing_without_a_folder(capsys, short, monkeypatch, tmp_path):
    monkeypatch.setattr("tempfile.tempdir", str(tmp_path / "temporary"))
    (tmp_path / "temporary").mkdir()
    said = run(capsys, "replay", short).splitlines()
    assert said[:2] == ["-- Saturday 16 May 2026", "09:00    Mara: class: short day, 6 guests, eating at 13:00"]
    assert any(line.startswith("             yardhand: ") for line in said)
    assert "09:05    Idris: lovely morning" in said
    assert list((tmp_path / "temporary").iterdir()) == []


def test_a_replays_trace_keeps_the_schema_that_the_command_prints(capsys, tmp_path, short):
    run(capsys, "replay", short, "--trace", tmp_path / "out.jsonl")
    check = jsonschema.Draft202012Validator(json.loads(run(capsys, "schema")))
    lines = [json.loads(line) for line in (tmp_path / "out.jsonl").read_text(encoding="utf-8").splitlines()]
    for line in lines:
        check.validate(line)
    assert [line["text"] for line in lines] == [line.split(": ", 1)[1] for line in SHORT.splitlines()[3:]]
    assert lines[2]["heard"]["facts"] == [{"is": "reading", "place": "floor", "celsius": 148}]


def test_a_kept_replay_is_listed_and_its_log_shows_the_correction(capsys, tmp_path, short):
    data = tmp_path / "data"
    run(capsys, "replay", short, "--data", data)
    listed = run(capsys, "classes", "--data", data)
    name = listed.split()[0]
    assert "2026-05-16 09:00" in listed
    assert "4 messages  short day" in listed
    text = run(capsys, "log", "last", "--data", data)
    assert "reading floor 148 C -> changed to reading floor 184 C by Tomos, 09:07" in text.replace("oven: ", "")
    table = list(csv.DictReader(io.StringIO(run(capsys, "log", name, "--csv", "--data", data))))
    assert [(row["celsius"], row["status"]) for row in table if row["kind"] == "reading"] == [
        ("148", "corrected"), ("184", "in force")]
    whole = json.loads(run(capsys, "log", name[:8], "--json", "--data", data))
    assert whole["class"] == name
    assert [line["who"] for line in whole["lines"]] == ["Mara", "Idris", "Tomos", "Tomos"]


def test_a_replay_never_changes_a_class_that_was_kept_before(capsys, tmp_path, short):
    data = tmp_path / "data"
    run(capsys, "replay", short, "--data", data)
    first = run(capsys, "classes", "--data", data).split()[0]
    before = run(capsys, "log", first, "--json", "--data", data)
    run(capsys, "replay", short, "--data", data)
    assert run(capsys, "log", first, "--json", "--data", data) == before
    assert len(run(capsys, "classes", "--data", data).splitlines()) == 2


def test_read_prints_facts_and_questions(capsys):
    text = "floor 180 air 170, will the lamb make one thirty?"
    said = run(capsys, "read", text, "--now", "12:00", "--dishes", "lamb")
    assert json.loads(said) == {
        "facts": [{"is": "reading", "place": "floor", "celsius": 180},
                  {"is": "reading", "place": "air", "celsius": 170}],
        "questions": [{"is": "ready_by", "dish": "lamb", "by": "13:30"}]}
    assert "180" in run(capsys, "read", "floor 180", "--why").splitlines()[1]


def test_read_takes_json_lines_from_a_file_and_from_the_input(capsys, tmp_path, monkeypatch):
    line = json.dumps({"text": "floor 180", "now": "12:00", "known": {"ovens": ["dome"], "dishes": []}})
    (tmp_path / "in.jsonl").write_text(line + "\n", encoding="utf-8")
    from_file = run(capsys, "read", "--lines", tmp_path / "in.jsonl")
    monkeypatch.setattr("sys.stdin", io.StringIO(line + "\n"))
    assert run(capsys, "read", "--lines") == from_file
    assert json.loads(from_file)["facts"] == [{"is": "reading", "place": "floor", "celsius": 180}]
    (tmp_path / "in.jsonl").write_text(line + "\n{\n", encoding="utf-8")
    assert cli.main(["read", "--lines", str(tmp_path / "in.jsonl")]) == 2
    assert "2" in capsys.readouterr().err


def test_a_piped_room_answers_and_goes_on_where_it_stopped(capsys, tmp_path, monkeypatch):
    data = tmp_path / "data"
    monkeypatch.setattr("sys.stdin", io.StringIO("Idris: floor 180 in the dome\nwho has the dome?\n"))
    said = run(capsys, "room", "--data", data, "--name", "Mara")
    assert " Idris: floor 180 in the dome" in said
    assert " Mara: who has the dome?" in said
    assert "yardhand: " in said
    monkeypatch.setattr("sys.stdin", io.StringIO("air 170\n"))
    again = run(capsys, "room", "--data", data)
    assert "Idris: floor 180 in the dome" in again
    assert " Mara: air 170" in again
    assert again.count("who has the dome?") == 1
    assert "3 messages" in run(capsys, "classes", "--data", data)


def test_a_room_can_be_read_while_it_is_open_and_not_opened_twice(capsys, tmp_path, monkeypatch):
    monkeypatch.setattr("sys.stdin", io.StringIO("floor 180\n"))
    run(capsys, "room", "--data", tmp_path)
    held = Store.open(tmp_path)
    try:
        assert "1 messages" in run(capsys, "classes", "--data", tmp_path)
        assert "another Yardhand room is open" in run(capsys, "room", "--data", tmp_path, status=2)
    finally:
        held.close()


def test_a_reader_who_goes_away_is_no_error():
    command = f"{sys.executable} -m bot.cli schema | head -1"
    done = subprocess.run(["bash", "-c", command], env=ENV, capture_output=True, text=True, check=True)
    assert done.stderr == ""


@pytest.mark.parametrize("encoding", ["utf-8:strict", "ascii:strict"])
def test_stray_bytes_and_a_poor_terminal_stop_nothing(tmp_path, encoding):
    typed = "hello é \U0001f525\n".encode() + b"hi \xff\n"
    done = subprocess.run([sys.executable, "-m", "bot.cli", "room", "--data", tmp_path], check=True, input=typed,
                          capture_output=True, env=ENV | {"PYTHONIOENCODING": encoding})
    assert done.stderr == b""
    assert [line.split(b": ")[1][:2] for line in done.stdout.splitlines() if b": " in line] == [b"he", b"hi"]


@pytest.mark.slow
def test_the_demo_plays_a_whole_class_and_without_a_keyboard_ends(tmp_path):
    done = subprocess.run([sys.executable, "-m", "bot.cli", "demo", "--fast"], env=ENV | {"HOME": str(tmp_path)},
                          capture_output=True, text=True, stdin=subprocess.DEVNULL, check=True, timeout=300)
    assert done.stderr == ""
    assert "nothing of it is kept" in done.stdout.splitlines()[0]
    assert done.stdout.count("yardhand: ") >= 3
    assert list(tmp_path.iterdir()) == []


@pytest.mark.slow
def test_after_the_demo_its_reader_can_type_in_that_class(tmp_path):
    child = pexpect.spawn(sys.executable, ["-m", "bot.cli", "demo", "--fast"], encoding="utf-8", timeout=240,
                          dimensions=(40, 120), env=ENV | {"HOME": str(tmp_path)})
    child.expect("its clock runs on")
    child.send("post the summary\r")
    child.expect("post the summary")
    child.expect("yardhand: ")
    child.send("/quit\r")
    child.expect(pexpect.EOF)
    child.close()
    assert child.exitstatus == 0
    assert list(tmp_path.iterdir()) == []


@pytest.mark.slow
def test_a_live_room_that_is_killed_comes_back_with_its_talk(tmp_path):
    def start():
        room = ["-m", "bot.cli", "room", "--data", str(tmp_path / "data"), "--name", "Bea"]
        child = pexpect.spawn(sys.executable, room, encoding="utf-8", timeout=60, dimensions=(40, 120), env=ENV)
        child.expect("kept in")
        return child

    child = start()
    child.send("dome floor 180\r")
    child.expect("ok.*dome floor 180")
    child.kill(signal.SIGKILL)
    child.wait()
    child = start()
    child.expect("dome floor 180")
    child.send("/quit\r")
    child.expect(pexpect.EOF)
    child.close()
    assert child.exitstatus == 0


# Ovens

def test_a_profile_moves_from_one_folder_to_another(tmp_path, capsys):
    talk = tmp_path / "day.txt"
    talk.write_text(SHORT + "09:10 Tomos: the dome is 90 across, probe 5 down\n09:20 Tomos: dome air 160\n"
                    "10:00 Mara: class over\n", encoding="utf-8")
    run(capsys, "replay", talk, "--data", tmp_path / "one")
    assert "dome: 1 class, the last on 16 May" in run(capsys, "ovens", "--data", tmp_path / "one")
    run(capsys, "oven", "the Dome", "--export", tmp_path / "dome.json", "--data", tmp_path / "one")
    run(capsys, "oven", "dome", "--import", tmp_path / "dome.json", "--data", tmp_path / "two")
    page = run(capsys, "oven", "dome", "--data", tmp_path / "two")
    assert page == run(capsys, "oven", "dome", "--data", tmp_path / "one")
    assert "known: dome" in run(capsys, "oven", "barrel", "--data", tmp_path / "two", status=2)
    assert "--export" in run(capsys, "oven", "dome", "--import", talk, "--data", tmp_path / "two", status=2)
    assert "could not be read" in run(capsys, "oven", "dome", "--import", tmp_path / "none", status=2)
