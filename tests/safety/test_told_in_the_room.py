"""Whole talks: the rules in use, short names of the hold and the trays, somebody unwell by a fire, a night that comes
sooner. Region figures: see beside each; what people say and when is common practice, no source."""
from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from bot.reading.unwell import unwell
from tests.hazards.transcripts import play

HEAD = "# title: Yard\n# date: 2026-11-07\n# zone: Europe/London\n# region: {region}\n"


def told(text: str, folder: Path, region: str = "uk") -> list[dict[str, Any]]:
    path = folder / "talk.txt"
    path.write_text(HEAD.format(region=region) + text, encoding="utf-8")
    return play(path, folder)


def prompts(trace: list[dict[str, Any]], kind: str) -> list[str]:
    return [line["text"] for line in trace if line.get("prompt") == kind]


@pytest.mark.parametrize(("region", "figures"), [
    ("uk", ("hot 63", "cold 8", "reheat 70")),          # Food Hygiene (Wales) Regulations 2006, Sch. 4; FSA 70 C 2 min
    ("scotland", ("hot 63", "reheat 82")),              # Food Hygiene (Scotland) Regulations 2006, Sch. 4
    ("us", ("hot 57", "cold 5", "57 to 21 in 2 h", "57 to 5 in 6 h", "reheat 74")),  # Food Code 3-501.14/16, 3-403.11
    ("anz", ("hot 60", "cold 5", "60 to 21 in 2 h", "cook 75")),                        # Standard 3.2.2
    ("eu", ("63 to 10 in 2 h", "check locally")),       # French order, as a refrigeration trade page gives it
])
@pytest.mark.parametrize("asked", ["yardhand rules?", "which rules are we on?"])
def test_the_rules_in_use_are_named_with_their_figures_in_three_lines(asked, region, figures, tmp_path):
    reply = told(f"10:00 Mara: class: lamb, 8 guests\n10:01 Mara: {asked}\n", tmp_path, region)[-1]["replies"][0]
    assert len(reply.split("\n")) <= 3
    for figure in figures:
        assert figure in reply
    assert f"yardhand rules {region}" in reply
    assert "local code" in reply


def test_the_hold_and_the_trays_go_by_their_short_names(tmp_path):
    trace = told("10:00 Mara: class: pork, 8 guests\n10:05 Bea: pork in the hot hold, 72\n11:00 Bea: hold's 139f\n"
                 "11:10 Bea: soup in trays on ice, 4 cm\n11:30 Bea: trays at 30\n", tmp_path)
    heard = [fact for line in trace for fact in line.get("heard", {}).get("facts", [])]
    # 139 F is (139 - 32) * 5 / 9 = 59.4 C by the definition of the scales.
    assert {"is": "store", "place": "hot_hold", "celsius": 59.4} in heard
    assert {"is": "food", "dish": "soup", "celsius": 30} in heard


@pytest.mark.parametrize("words", ["headache", "bit of a headache by the barrel", "Bea feels faint", "I'm dizzy",
                                   "feeling light-headed in here", "the CO alarm is going off",
                                   "two of them have a thick head"])
def test_who_is_unwell_by_a_fire_is_told_of_carbon_monoxide_once(words, tmp_path):
    # Signs and the first act, out into the air: HSE information on carbon monoxide (symptoms like flu).
    trace = told("10:00 Mara: class: lamb\n10:02 Mara: barrel lit\n"
                 f"10:30 Tomos: {words}\n10:40 Bea: {words}\n", tmp_path)
    said = [text for text in prompts(trace, "safety") if "carbon monoxide" in text]
    assert len(said) == 1
    assert "open air" in said[0]
    assert "emergency number" in said[0]
    assert len(said[0].split("\n")) <= 3


@pytest.mark.parametrize("words", ["headache", "feeling dizzy"])
def test_no_word_of_it_without_a_fire(words, tmp_path):
    trace = told(f"10:00 Mara: class: lamb\n10:30 Tomos: {words}\n", tmp_path)
    assert not [text for text in prompts(trace, "safety") if "carbon monoxide" in text]


@pytest.mark.parametrize("words", ["no headaches today", "passed out the plates", "the faint glow of it",
                                   "anyone dizzy?", "this gravy gives me a headache", "sick of onions",
                                   "CO alarm test at ten"])
def test_what_only_sounds_like_it_is_left_alone(words):
    assert not unwell(words)


NIGHT = """14:00 Mara: class: ox cheeks for tomorrow, 12 guests
14:02 Mara: dome's been fired, raked out, floor 240 air 220
14:10 Mara: 4 kg ox cheeks, 2 l hot stock, iron pot
14:12 Mara: cheeks in the dome, door on
16:00 Idris: dome air 160 floor 175
17:00 Idris: cheeks liquor 92, gentle simmer
19:30 Idris: dome air 108 floor 118
20:20 Idris: cheeks liquor 88
20:40 Idris: dome air 70 floor 78, door had slipped
20:45 Idris: cheeks liquor 72
21:10 Idris: dome air 68
21:30 Mara: locking up now, back at 7
"""


def test_a_fall_in_the_night_that_comes_much_sooner_is_said_once_more_and_shorter(tmp_path):
    said = [text for text in prompts(told(NIGHT, tmp_path), "safety") if "cheeks" in text]
    again = [text for text in said if "sooner than said" in text]
    assert len(again) == 1
    assert said.index(again[0]) > 0
    assert len(again[0]) < len(said[0])
