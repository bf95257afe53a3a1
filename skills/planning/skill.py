"""When to light, how much wood, and how much of a thing a class takes."""
from __future__ import annotations

from skills.planning.live import plan_prompts
from skills.planning.raking import say_when
from skills.planning.say_shopping import say_how_much
from skills.skill import Skill
from skills.vocabulary import HowMuch, Plan

SKILL = Skill(
    name="planning", about="when to light for a meal, wood, and how much of a thing so many guests take",
    answers={HowMuch: say_how_much, Plan: say_when}, prompts=(plan_prompts,),
    examples=("how much stock for 18?", "what do I need to buy for 14?", "when do I light up to eat at one?"))
