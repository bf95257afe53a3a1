"""Messages written by people who had seen only the vocabulary, the labelling rules and the scene, never the rules.

data/README.md tells for each set what share was read right before any rule was touched for it: that figure shows how
the rules generalise. All sets have been used for development since, and must stay read.
"""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from tests.reading.helpers import as_set, heard

DATA = Path(__file__).parent / "data"


def right(message: dict) -> bool:
    known = message["known"]
    got = heard(message["text"], message["now"], known["ovens"], known["dishes"])
    return as_set(got) == as_set(message["facts"] + message["questions"])


@pytest.mark.parametrize(
    ("name", "share"),
    [
        ("blind_first", 0.98),
        ("blind_second", 0.98),
        ("blind_third", 0.98),
        ("blind_fourth", 0.95),
        ("blind_fifth", 0.98),
        ("blind_seventh", 0.98),
        ("blind_eighth", 0.98),
        ("blind_ninth", 0.98),
        ("blind_tenth", 0.98),
        ("blind_eleventh", 0.98),
        ("blind_twelfth", 0.98),
        ("blind_thirteenth", 0.98),
        ("blind_fourteenth", 0.98),
        ("blind_fifteenth", 0.98),
        ("blind_sixteenth", 0.98),
        ("blind_seventeenth", 0.95),
        ("blind_eighteenth", 0.98),
        ("blind_nineteenth", 0.98),
        ("blind_twentieth", 0.98),
        ("blind_twentyfirst", 0.98),
        ("blind_twentysecond", 0.98),
        ("blind_twentythird", 0.98),
        ("each_kind", 0.98),
        ("each_kind_second", 0.95),
        ("each_kind_third", 0.95),
        ("blind_twentyfourth", 0.98),
        ("blind_twentyfifth", 0.98),
        ("blind_twentysixth", 0.93),
        ("blind_twentyseventh", 0.97),
        ("blind_twentyeighth", 0.93),
        ("blind_twentyninth", 0.97),
        ("blind_thirtieth", 0.97),
        ("blind_thirtyfirst", 0.97),
    ],
)
def test_a_blind_set_is_read_as_its_writers_meant_it(name: str, share: float) -> None:
    messages = [json.loads(line) for line in (DATA / f"{name}.jsonl").read_text(encoding="utf-8").splitlines()]
    wrong = [message["text"] for message in messages if not right(message)]
    assert len(wrong) <= (1 - share) * len(messages), wrong


@pytest.mark.parametrize("name", sorted(path.stem for path in DATA.glob("blind_*.jsonl")))
def test_chatter_of_a_blind_set_is_left_alone(name: str) -> None:
    messages = [json.loads(line) for line in (DATA / f"{name}.jsonl").read_text(encoding="utf-8").splitlines()]
    chatter = [message for message in messages if not message["facts"] and not message["questions"]]
    wrong = [message["text"] for message in chatter if not right(message)]
    assert len(wrong) <= 0.07 * len(chatter), wrong
