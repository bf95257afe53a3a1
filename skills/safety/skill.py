"""Food safety in plain numbers: what is logged and reckoned, the rule set, the next act; and fire cautions."""
from __future__ import annotations

from skills.safety import cautions, first_aid, watch
from skills.safety.answers import say_how_long_to_chill, say_where_it_stands
from skills.skill import Skill
from skills.vocabulary import ChillTime, Safe

SKILL = Skill(
    name="safety", about="holding, chilling, reheating and overnight cooks against your region's figures",
    answers={Safe: say_where_it_stands, ChillTime: say_how_long_to_chill},
    prompts=(watch.prompts, cautions.prompts, first_aid.hurts),
    examples=("are the beans ok to leave overnight?", "how long to chill 5 cm of this on ice?"),
)
