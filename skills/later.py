"""Questions that are understood and cannot be answered yet: each says so, and what to go by meanwhile."""
from __future__ import annotations

from skills.skill import Reply, Skill
from skills.view import View
from skills.vocabulary import Allergens, ChillTime, Plan, Question, Safe

NOT_YET: dict[type[Question], tuple[str, ...]] = {
    Safe: ("I cannot judge that yet. Probe it, note the time, and go by your own food-safety plan and local rules.",),
    Plan: ("I cannot plan a firing yet. Once it is lit and read, I can say when things will be ready.",),
    ChillTime: ("I cannot work out chilling yet. Shallow trays, ice and a probe; your local rule has the times.",),
    Allergens: ("I cannot answer for allergens yet. Read the labels and ask the lead before anything is served.",),
}


def say_not_yet(question: Question, view: View) -> Reply:
    del view
    return Reply(NOT_YET[type(question)])


SKILL = Skill(
    name="later", about="questions that are understood and not answered yet",
    answers=dict.fromkeys(NOT_YET, say_not_yet),
    examples=("are the beans ok to leave overnight?", "when do I light up to eat at one?",
              "how long to chill 5 cm of this on ice?",
              "any nuts in the lamb?"),
)
