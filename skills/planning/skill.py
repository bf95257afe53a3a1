"""How much of a thing a class takes."""
from __future__ import annotations

from skills.planning.amounts import say_amount
from skills.skill import Skill
from skills.vocabulary import HowMuch

SKILL = Skill(name="planning", about="how much of a thing so many guests take", answers={HowMuch: say_amount},
              examples=("how much stock for 18?",))
