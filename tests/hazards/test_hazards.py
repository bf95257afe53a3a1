"""Both errors: a hazard whose prompt does not come in time, and a calm class that is disturbed."""
from __future__ import annotations

import re

import pytest

from skills.safety import watch
from skills.safety.packs import pack
from skills.skill import Prompt
from tests.hazards.cases import CALM, HAZARDS, Calm, Hazard
from tests.safety.helpers import at, view

NEVER = re.compile(r"safe to eat|is safe|are safe|perfectly|!|lethality|pasteuri", re.IGNORECASE)


def said(case: Hazard | Calm) -> list[Prompt]:
    return [prompt for prompt in watch.prompts(view(case.lines, case.now, case.region, kitchen=case.kitchen or None))
            if prompt.kind == "safety"]


def test_there_are_enough_cases() -> None:
    assert len(HAZARDS) >= 40
    assert len(CALM) >= 20
    assert len({case.name for case in (*HAZARDS, *CALM)}) == len(HAZARDS) + len(CALM)


@pytest.mark.parametrize("case", HAZARDS, ids=lambda case: case.name)
def test_the_right_prompt_comes_while_it_helps(case: Hazard) -> None:
    mine = [prompt for prompt in said(case) if prompt.key.startswith(f"safety:{case.rule}:")]
    assert mine, [prompt.text for prompt in said(case)]
    prompt = mine[0]
    assert at(case.now) <= prompt.due <= at(case.by)
    if case.not_before is not None:
        assert prompt.due > at(case.not_before)
    for words in case.says:
        assert words in prompt.text


@pytest.mark.parametrize("case", HAZARDS, ids=lambda case: case.name)
def test_it_is_owned_short_and_names_its_rule(case: Hazard) -> None:
    for prompt in said(case):
        assert prompt.who
        assert prompt.text.startswith(f"{prompt.who}: ")
        assert prompt.urgent
        lines = prompt.text.split("\n")
        assert len(lines) <= 3
        assert all(len(line) <= 260 for line in lines)
        assert not NEVER.search(prompt.text)
        assert pack(case.region).short in prompt.text or prompt.key.startswith("safety:boil:")
        assert prompt.lapses is not None
        assert prompt.lapses >= prompt.due


@pytest.mark.parametrize("case", HAZARDS, ids=lambda case: case.name)
def test_it_is_said_under_the_same_name_a_minute_later(case: Hazard) -> None:
    """A prompt whose name moved with the clock would be said again and again."""
    later = (at(case.now).hour * 60 + at(case.now).minute) + 4
    again = Hazard(case.name, case.rule, case.region, f"{later // 60:02d}:{later % 60:02d}", case.by, case.lines,
                   case.says, case.kitchen)
    first = {prompt.key for prompt in said(case) if prompt.key.startswith(f"safety:{case.rule}:")}
    assert first & {prompt.key for prompt in said(again)}


@pytest.mark.parametrize("case", CALM, ids=lambda case: case.name)
def test_a_calm_class_hears_nothing_in_the_hour(case: Calm) -> None:
    horizon = at(case.now).timestamp() + 3600.0
    soon = [prompt.text for prompt in said(case) if prompt.due.timestamp() <= horizon]
    assert soon == []
