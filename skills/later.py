"""Questions that are understood and cannot be answered yet: each says so, and what to go by meanwhile."""
from __future__ import annotations

from skills.skill import Reply, Skill
from skills.view import View
from skills.vocabulary import Plan, Question

NOT_YET: dict[type[Question], tuple[str, ...]] = {
    Plan: ("I cannot plan a firing yet. Once it is lit and read, I can say when things will be ready.",),
}


def say_not_yet(question: Question, view: View) -> Reply:
    del view
    return Reply(NOT_YET[type(question)])


SKILL = Skill(
    name="later", about="questions that are understood and not answered yet",
    answers=dict.fromkeys(NOT_YET, say_not_yet),
    examples=("when do I light up to eat at one?",),
)
