"""When to light, how much wood, and how much of a thing a class takes."""
from __future__ import annotations

from skills.planning.amounts import say_amount
from skills.planning.live import plan_prompts
from skills.planning.say_plan import say_plan
from skills.skill import Skill
from skills.vocabulary import HowMuch, Plan

SKILL = Skill(
    name="planning", about="when to light for a meal, wood, and how much of a thing so many guests take",
    answers={HowMuch: say_amount, Plan: say_plan}, prompts=(plan_prompts,),
    examples=("how much stock for 18?", "when do I light up to eat at one?"))
