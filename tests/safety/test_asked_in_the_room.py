"""Whether a dish can be kept, left or eaten, asked through the room at every state: number, rule set, next act.

The figures are those of the rules (tests/published/test_safety_limits.py); times follow from the talk.
"""
from __future__ import annotations

import re
from pathlib import Path

import pytest

from tests.hazards.transcripts import play

HEAD = "# title: Asked\n# date: 2026-05-16\n# zone: Europe/London\n# region: {region}\n"
NEVER = re.compile(r"safe to eat|is safe|are safe|is fine|!", re.IGNORECASE)

LAMB = """\
06:00 Mara: class: shoulder day, 14 guests, eating at 1.30
06:02 Idris: the dome is 90 across, 6 cm floor brick, 10 cm dome, 10 of insulation, retained heat
06:05 Idris: dome raked out at 5, door on
08:00 Tomos: 3 kg lamb shoulder browned, set aside
08:50 Idris: floor 208 air 180
08:55 Tomos: litre of hot stock in the lamb, iron pot, lid on
09:00 Tomos: lamb in the dome, door on
12:30 Idris: lamb giving, core 91
12:40 Tomos: 1.5 kg kidney beans, 2 l water, clay pot, lid on
12:45 Tomos: beans in the dome
13:10 Idris: lamb out
13:40 Mara: served
14:35 Bea: lamb core 58
14:50 Tomos: lamb leftovers into three trays 3 cm deep on ice
15:30 Tomos: lamb core 7
15:32 Tomos: lamb in the fridge
17:00 Idris: dome air 120
"""
CHILI = """\
09:00 Mara: class: chili, 10 guests, eating at 1pm
09:05 Bea: chili core 4
10:00 Bea: chili on to reheat
11:00 Bea: chili core 79
11:05 Bea: chili reheated
11:06 Bea: chili in the hot cupboard, hot hold 65
12:30 Tomos: 3 kg chicken thighs, chicken in the barrel
12:50 Tomos: chicken core 68
12:58 Tomos: chicken out, core 77
13:00 Mara: served
"""
# (talk, region, when, what is asked, words of the answer)
ASKED = [
    (LAMB, "uk", "06:10", "is the lamb safe yet", ("63 or more", "8 or less", "UK rule", "discard")),
    (LAMB, "uk", "08:20", "can the lamb wait like this?", ("part-cooked", "10:00", "chill")),
    (LAMB, "uk", "10:30", "is the lamb ok to eat?", ("core", "70", "UK rule", "probe")),
    (LAMB, "uk", "12:31", "is the lamb safe", ("91 by probe", "63", "UK rule")),
    (LAMB, "uk", "12:46", "are the beans ok?", ("boil hard 10 min", "UK rule")),
    (LAMB, "uk", "13:20", "can we keep the lamb on the side till two?", ("below 63", "under 2 h", "UK rule")),
    (LAMB, "uk", "14:30", "is the lamb still ok to serve", ("below 63 since", "by my figures", "by 1", "UK rule")),
    (LAMB, "uk", "14:36", "can we still eat the lamb?", ("below 63 since", "by probe", "UK rule")),
    (LAMB, "uk", "14:52", "is the lamb ok", ("8 wanted by 16:20", "UK rule", "robe")),
    (LAMB, "uk", "15:40", "can we reheat the lamb tomorrow?", ("7 at 15:30", "8 or less", "Reheat once", "70")),
    (LAMB, "uk", "17:05", "can the beans stay in overnight", ("coolest hour", "63", "UK rule", "boil hard")),
    (LAMB, "uk", "17:05", "is the stew safe", ("Nothing is logged of the stew", "discard")),
    (LAMB, "scotland", "15:40", "can we reheat the lamb tomorrow?", ("Scottish rule", "82 in all parts")),
    (LAMB, "anz", "14:36", "can we still eat the lamb?", ("below 60 since", "AU/NZ rule", "use by")),
    (LAMB, "eu", "14:52", "is the lamb ok", ("10 wanted by", "EU guide figures")),
    (CHILI, "us", "09:10", "is the chili ok to use?", ("4 at 09:05", "5 or less", "74 in all parts", "US model code")),
    (CHILI, "us", "10:20", "is the chili safe?", ("reheat since 10:00", "74", "12:00", "once only")),
    (CHILI, "us", "11:10", "how long can the chili hold", ("hot hold 65", "57 or more", "US model code")),
    (CHILI, "us", "12:52", "is the chicken safe", ("core 68 by probe", "74", "US model code, check locally")),
    (CHILI, "us", "15:40", "is the chicken safe to eat", ("below 57 since", "use by", "US model code")),
    (CHILI, "us", "15:43", "can it all stay in the barrel overnight", ("Nothing is logged in the barrel",)),
]


@pytest.mark.parametrize(("talk", "region", "clock", "asked", "words"), ASKED,
                         ids=[f"{region}-{clock}-{asked}" for _, region, clock, asked, _ in ASKED])
def test_an_answer_has_the_number_the_rule_and_the_act(
        talk: str, region: str, clock: str, asked: str, words: tuple[str, ...], tmp_path: Path) -> None:
    lines = [line for line in talk.splitlines(keepends=True) if line[:5] <= clock]
    path = tmp_path / "asked.txt"
    path.write_text(f"{HEAD.format(region=region)}{''.join(lines)}{clock} Mara: {asked}\n", encoding="utf-8")
    last = [line for line in play(path, tmp_path) if "from" in line][-1]
    assert [question["is"] for question in last["heard"]["questions"]] == ["safe"]
    answer = "\n".join(last["replies"])
    assert 1 <= len(answer.split("\n")) <= 3
    assert not NEVER.search(answer)
    for each in words:
        assert each in answer
