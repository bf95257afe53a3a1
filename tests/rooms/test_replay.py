"""Replays of whole classes on the real engine: the trace keeps its contract, and a replay is the same every time."""
from __future__ import annotations

import io
import json
from dataclasses import replace
from datetime import datetime, timedelta
from itertools import pairwise
from pathlib import Path

import jsonschema
import pytest
from fake_engine import FakeRoom

from bot.rooms.look import Page, plain
from bot.rooms.replay import Replay, free_name
from bot.rooms.transcript import Transcript, parse, read_transcript
from bot.store import Store
from bot.trace import line_adapter, schema

COOKS = Path(__file__).parents[1] / "data" / "cooks"
NAMES = sorted(path.stem for path in COOKS.glob("*.txt"))

SHORT = """\
# date: 2026-05-16
# zone: Europe/London
09:00 Mara: class: short day, 6 guests, eating at 13:00
09:01 Idris: the barrel is 70 across, 6 cm floor brick, 8 cm dome, 5 cm insulation, kept going with a small fire
09:02 Idris: lit the barrel, 2 kg of ash
09:40 Idris: air 230 floor 190
09:45 Bea: lovely morning
09:50 Tomos: two splits on
10:00 Tomos: 2 kg pork shoulder, litre of hot stock, iron pot, lid on
10:01 Tomos: pork in the barrel, door on
10:02 Mara: when will the pork be done?
10:02 Idris: air 411
10:03 Idris: sorry, air 211 not 411
# until: 11:45
"""


def play(transcript: Transcript, folder: Path, make=None, trace: bool = True) -> tuple[list[str], list[dict], list]:
    """(the page, the trace, the log) of a transcript played into a folder, on from where the folder stands."""
    page: list[str] = []
    out = io.StringIO()
    store = Store.open(folder)
    try:
        more = {} if make is None else {"make": make}
        Replay(transcript, store, "yard", Page(lambda line: page.append(plain(line))), trace=out if trace else None,
               **more).play()
        log = store.log("yard")
    finally:
        store.close()
    return page, [json.loads(line) for line in out.getvalue().splitlines()], log


def without_ms(trace):
    return [json.dumps({key: value for key, value in line.items() if key != "ms"}) for line in trace]


def told(lines):
    return [repr(line) for line in lines]


@pytest.mark.slow
@pytest.mark.parametrize("name", NAMES)
def test_a_whole_cook_plays_and_its_trace_keeps_the_contract(name, tmp_path):
    """The contract: JSON Schema draft 2020-12 as `yardhand schema` prints it; what a schema cannot say is said here."""
    transcript = read_transcript(COOKS / f"{name}.txt")
    _, trace, _ = play(transcript, tmp_path)
    check = jsonschema.Draft202012Validator(schema(), format_checker=jsonschema.FormatChecker())
    for line in trace:
        check.validate(line)
        line_adapter.validate_python(line)
    said = [line for line in trace if "from" in line]
    assert [(line["from"], line["text"]) for line in said] == [(each.sender, each.text) for each in transcript.messages]
    assert [line["at"] for line in trace] == sorted(line["at"] for line in trace)
    forecasts = [line for line in said if line["forecast"]]
    assert forecasts
    for line in forecasts:
        for oven in line["forecast"]["ovens"].values():
            times = [datetime.fromisoformat(each) for each in oven["at"]]
            assert abs(times[0] - datetime.fromisoformat(line["at"])) <= timedelta(minutes=10)
            assert times[-1] - datetime.fromisoformat(line["at"]) >= timedelta(hours=6)
            assert {later - earlier for earlier, later in pairwise(times)} == {timedelta(minutes=10)}
        assert not line["tick"] or not line["replies"], "a tick or words, not both"


@pytest.mark.slow
def test_a_replay_is_the_same_every_time_but_for_how_long_it_took(tmp_path):
    transcript = parse("short", SHORT.splitlines())
    first, second = (play(transcript, tmp_path / name) for name in ("a", "b"))
    assert without_ms(first[1]) == without_ms(second[1])
    assert first[0] == second[0]
    assert told(first[2]) == told(second[2])
    assert any("prompt" in line for line in first[1]), "a prompt falls into it"


@pytest.mark.slow
@pytest.mark.parametrize(("name", "cuts"), [("short", (1, 4, 8, 10)), ("d03b", (30,))])
def test_a_replay_in_pieces_is_a_replay_at_once(name, cuts, tmp_path):
    """Stopped, restored from the store, and gone on: what was heard, replies, prompts and forecasts agree."""
    transcript = parse("short", SHORT.splitlines()) if name == "short" else read_transcript(COOKS / f"{name}.txt")
    once = play(transcript, tmp_path / "once")
    pieces: list[dict] = []
    for cut in (*cuts, len(transcript.messages)):
        rest = transcript.until if cut == len(transcript.messages) else None
        part = replace(transcript, messages=transcript.messages[:cut], until=rest)
        _, trace, log = play(part, tmp_path / "pieces")
        pieces += trace
    assert told(log) == told(once[2])
    assert without_ms(pieces) == without_ms(once[1])


def test_prompts_between_two_messages_fall_at_their_own_times_and_the_clock_runs_on(tmp_path):
    text = ("# date: 2026-05-16\n# zone: Europe/London\n23:50 Mara: wood in 15\n23:50 Idris: wood in 3\n"
            "00:10 Bea: floor 90\n00:11 Bea: wood in 30\n# until: 00:45")
    page, trace, _ = play(parse("night", text.splitlines()), tmp_path, FakeRoom)
    assert [(line["at"][5:16], line.get("prompt", line.get("text"))) for line in trace] == [
        ("05-16T23:50", "wood in 15"), ("05-16T23:50", "wood in 3"), ("05-16T23:53", "refuel"),
        ("05-17T00:05", "refuel"), ("05-17T00:10", "floor 90"), ("05-17T00:11", "wood in 30"),
        ("05-17T00:41", "refuel")]
    assert trace[2] == {"at": "2026-05-16T23:53:00+01:00", "prompt": "refuel", "text": "Wood, 2 facts.",
                        "oven": "barrel"}
    assert "-- Sunday 17 May 2026" in page


def test_without_an_until_the_clock_stops_at_the_last_message(tmp_path):
    text = "# date: 2026-05-16\n# zone: Europe/London\n09:30 Mara: wood in 15"
    _, trace, _ = play(parse("stop", text.splitlines()), tmp_path, FakeRoom)
    assert [line.get("text") for line in trace] == ["wood in 15"]


def test_messages_of_one_minute_keep_the_order_of_the_file(tmp_path):
    text = "# date: 2026-05-16\n# zone: Europe/London\n" + "".join(f"09:30 Mara: floor {n}\n" for n in range(100, 120))
    _, _, log = play(parse("minute", text.splitlines()), tmp_path, FakeRoom)
    assert [line.message.text for line in log] == [f"floor {n}" for n in range(100, 120)]


def test_a_second_replay_in_one_folder_gets_a_name_of_its_own(tmp_path):
    store = Store.open(tmp_path)
    names = []
    for _ in range(3):
        names.append(free_name(store, "day"))
        Replay(parse("short", SHORT.splitlines()), store, names[-1], Page(lambda _: None), make=FakeRoom).play()
    assert names == ["day", "day 2", "day 3"]
    assert [each.messages for each in store.classes()] == [11, 11, 11]
    store.close()


@pytest.mark.parametrize("line", [
    {"at": "2026-05-16T09:30:00", "prompt": "refuel", "text": "x"},
    {"at": "2026-05-16T09:30:00+01:00", "prompt": "re fuel", "text": "x"},
    {"at": "2026-05-16T09:30:00+01:00", "prompt": "refuel", "text": "x", "oven": None},
    {"at": "2026-05-16T09:30:00+01:00", "from": "Mara", "text": "x", "heard": {"facts": [], "questions": []},
     "replies": "x", "tick": False, "forecast": None, "ms": 1},
    {"at": "2026-05-16T09:30:00+01:00", "from": "Mara", "text": "x", "heard": {"facts": [
        {"is": "door", "state": "on", "oven": None}], "questions": []}, "replies": [], "tick": True, "forecast": None,
     "ms": 1},
    {"at": "2026-05-16T09:30:00+01:00", "from": "Mara", "text": "x", "heard": {"facts": [{"state": "on"}],
     "questions": []}, "replies": [], "tick": True, "forecast": None, "ms": 1},
    {"at": "2026-05-16T09:30:00+01:00", "from": "Mara", "text": "x", "heard": {"facts": [], "questions": []},
     "replies": [], "tick": True, "forecast": {"ovens": {"dome": {"at": []}}, "dishes": {}}, "ms": 1},
])
def test_the_schema_refuses_what_breaks_the_contract(line):
    check = jsonschema.Draft202012Validator(schema(), format_checker=jsonschema.FormatChecker())
    refused = not check.is_valid(line)
    if "T09:30:00+" not in line["at"]:
        # The offset is a matter of format, which a JSON Schema only states; the model behind it insists.
        with pytest.raises(ValueError, match="timezone"):
            line_adapter.validate_python(line)
    else:
        assert refused


def test_the_schema_takes_a_line_of_each_kind():
    check = jsonschema.Draft202012Validator(schema())
    jsonschema.Draft202012Validator.check_schema(schema())
    check.validate({"at": "2026-05-16T09:30:00+01:00", "prompt": "refuel", "text": "x", "oven": "barrel"})
    check.validate({"at": "2026-05-16T09:30:00+01:00", "from": "Mara", "text": "x", "heard": {
        "facts": [{"is": "door", "state": "on"}],
        "questions": [{"is": "what_if", "facts": [{"is": "door", "state": "off"}]}]},
        "replies": [], "tick": True, "forecast": None, "ms": 0.5})
