"""The 120 labelled messages (written and labelled by others; the copy in data/ is the project's own)."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from tests.reading.helpers import as_set, heard

LINES = (Path(__file__).parent / "data" / "messages_dev.jsonl").read_text(encoding="utf-8").splitlines()
MESSAGES = [json.loads(line) for line in LINES]


@pytest.mark.parametrize("message", MESSAGES, ids=lambda message: message["id"])
def test_a_labelled_message_is_read_as_its_writer_meant_it(message):
    known = message["known"]
    got = heard(message["text"], message["now"], known["ovens"], known["dishes"])
    assert as_set(got) == as_set(message["facts"] + message["questions"])
