"""What a probe on the bench tells of the time in the oven before it: nothing against the oven's own law."""
from __future__ import annotations

import re
from datetime import datetime
from pathlib import Path

import pytest

from tests.hazards.transcripts import play, safety_prompts

HEAD = "# title: Goat day\n# date: 2026-05-16\n# zone: Europe/London\n"
GOAT = """\
09:00 Mara: class: goat day, 12 guests, eating at 1.30
09:02 Mara: dome is 90 across 6 cm floor 12 dome 10 insulation probe 5 down
09:05 Mara: lit the dome 6.30
09:20 Bea: floor 240 air 290
09:30 Mara: raked out, door on
10:00 Mara: 3 kg goat, litre of cold stock, iron pot, pot in
12:00 Mara: floor 180 air 165
{probe}13:10 Mara: {out}
13:30 Mara: goat served
15:30 Bea: goat 45
16:30 Bea: goat 31
"""
PROBE = "12:10 Bea: core 91\n"


@pytest.mark.parametrize(("probe", "out"), [(PROBE, "goat tender, out"), ("", "goat tender, out"),
                                            (PROBE, "goat out"), ("", "goat out, fork tender")])
def test_a_dish_does_not_cool_in_the_oven_towards_a_later_probe_on_the_bench(
        probe: str, out: str, tmp_path: Path) -> None:
    path = tmp_path / "goat.txt"
    path.write_text(HEAD + GOAT.format(probe=probe, out=out), encoding="utf-8")
    prompts = safety_prompts(play(path, tmp_path))
    since = [each for line in prompts for each in re.findall(r"below 63 since (\d\d:\d\d)", line["text"])]
    # It left the oven at 13:10 hot through: under two hours below 63 (Food Hygiene (England) Regulations 2005, Sch. 4
    # para 7) cannot be over by 15:10.
    assert since
    assert min(since) >= "13:10"
    assert all(datetime.fromisoformat(line["at"]).strftime("%H:%M") > "15:10" for line in prompts
               if "discard" in line["text"])
    assert not any("not surely heated through" in line["text"] for line in prompts)
