"""Golden transcripts: the talk with the expected replies at the line that causes them.

`#> text` after a message is a line of the reply to it; `#> ok` is a tick. Unasked prompts stand at the end of the
file as `#> [kind {HH:MM +-reach}] text`. Braces give the reach of a time or a number: {13:40 +-20}, {148 +-12};
{odds} is any odds. `pytest tests/golden --update-golden` writes the files anew; a person reads the difference.
"""
from __future__ import annotations

import re
from pathlib import Path

import pytest

from bot.engine import Room
from bot.rooms.transcript import parse
from bot.talk import Action

HERE = Path(__file__).parent
FILES = sorted(HERE.glob("*.txt"))
TIME = r"\b\d\d:\d\d\b"
ODDS = r"better than 19 in 20|less than 1 in 20|\b\d+ in \d+\b"
# How far a forecast may move before a person must look at it: minutes of a time, units of a heat.
REACH_MIN, REACH = 25, 15


def play(path: Path) -> tuple[list[str], list[list[str]], list[Action]]:
    """The file's own talk lines, the reply lines to each message, and the prompts."""
    lines = [line for line in path.read_text(encoding="utf-8").splitlines() if not line.startswith("#>")]
    transcript = parse(path.name, lines)
    room = Room(path.stem, transcript.school)
    replies, prompts = [], []

    def run_until(until: object) -> None:
        while (wake := room.next_wake()) is not None and wake <= until:
            actions = room.tick(wake)
            assert actions, f"nothing to say at {wake}"
            prompts.extend(actions)

    for message in transcript.messages:
        run_until(message.at)
        actions = room.hear(message).actions
        replies.append([line for action in actions
                        for line in (["ok"] if action.kind == "tick" else action.text.splitlines())])
    run_until(transcript.end)
    return lines, replies, prompts


def loosened(text: str, talk: str) -> str:
    """A reply with braces round what the models worked out; what the talk itself says stays exact."""
    def loosen(found: re.Match[str]) -> str:
        word = found.group()
        if re.fullmatch(ODDS, word):
            return "{odds}"
        if re.fullmatch(TIME, word):
            return word if word in talk else f"{{{word} +-{REACH_MIN}}}"
        return word if re.search(rf"(?<!\d){word}(?!\d)", talk) else f"{{{word} +-{REACH}}}"
    return re.sub(rf"{ODDS}|{TIME}|(?<![\w.:])\d{{2,3}}(?![\w:.]\d)", loosen, text)


def written(path: Path) -> str:
    lines, replies, prompts = play(path)
    talk = path.read_text(encoding="utf-8")
    talk = "\n".join(line for line in talk.splitlines() if not line.startswith("#>"))
    out, said = [], iter(replies)
    for line in lines:
        if not line.startswith("# until"):
            out.append(line)
        if line and not line.startswith("#"):
            out.extend(f"#> {each}" for each in (loosened(each, talk) for each in next(said)))
    out.extend(f"#> [{prompt.prompt} {{{prompt.at:%H:%M} +-{REACH_MIN}}}] {loosened(each, talk)}" for prompt in prompts
               for each in [prompt.text.replace("\n", " / ")])
    out.extend(line for line in lines if line.startswith("# until"))
    return "\n".join(out) + "\n"


def expected(path: Path) -> tuple[list[list[str]], list[str]]:
    replies: list[list[str]] = []
    prompts = []
    for line in path.read_text(encoding="utf-8").splitlines():
        if line.startswith("#> ["):
            prompts.append(line.removeprefix("#> "))
        elif line.startswith("#> "):
            replies[-1].append(line.removeprefix("#> "))
        elif line and not line.startswith("#"):
            replies.append([])
    return replies, prompts


def minutes(clock: str) -> int:
    return int(clock[:2]) * 60 + int(clock[3:])


def agrees(want: str, got: str) -> bool:
    """Whether a reply is the expected one, within the reaches in braces."""
    pattern, checks = "", []
    for piece in re.split(r"(\{[^}]*\})", want):
        if piece == "{odds}":
            pattern += f"(?:{ODDS})"
        elif piece.startswith("{"):
            value, reach = re.fullmatch(r"\{(\S+) \+-(\d+)\}", piece).groups()
            pattern += rf"({TIME})" if ":" in value else r"(-?\d+(?:\.\d+)?)"
            checks.append((value, float(reach)))
        else:
            pattern += re.escape(piece)
    found = re.fullmatch(pattern, got)
    if found is None:
        return False
    for (value, reach), word in zip(checks, found.groups(), strict=True):
        if ":" in value:
            away = abs(minutes(value) - minutes(word))
            if min(away, 1440 - away) > reach:
                return False
        elif abs(float(value) - float(word)) > reach:
            return False
    return True


@pytest.mark.slow
@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_the_room_says_what_the_golden_transcript_says(path: Path, request: pytest.FixtureRequest) -> None:
    if request.config.getoption("--update-golden"):
        path.write_text(written(path), encoding="utf-8")
    replies, prompts = expected(path)
    _, got, got_prompts = play(path)
    assert len(replies) == len(got)
    for want, have in zip(replies, got, strict=True):
        assert len(want) == len(have), (want, have)
        assert all(agrees(one, other) for one, other in zip(want, have, strict=True)), (want, have)
    said = [f"[{prompt.prompt} {prompt.at:%H:%M}] {prompt.text}".replace("\n", " / ") for prompt in got_prompts]
    assert len(prompts) == len(said), (prompts, said)
    for want_one, have_one in zip(prompts, said, strict=True):
        assert agrees(want_one, have_one), (want_one, have_one)


def test_every_golden_transcript_has_expected_replies() -> None:
    assert FILES
    for path in FILES:
        replies, _ = expected(path)
        assert any(replies), f"{path.name}: no '#>' line; run pytest tests/golden --update-golden"


@pytest.mark.parametrize(("want", "got", "same"), [
    ("about {13:40 +-20} (4 left)", "about 13:55 (4 left)", True),
    ("about {13:40 +-20}", "about 14:05", False),
    ("air {148 +-12}: {odds}.", "air 158: better than 19 in 20.", True),
    ("air {148 +-12}", "air 170", False),
    ("changed", "changed it", False),
])
def test_braces_give_the_reach(want: str, got: str, same: bool) -> None:
    assert agrees(want, got) is same
