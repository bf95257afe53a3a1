"""Every skill there is. The only list."""
from __future__ import annotations

from skills.allergens import skill as allergens
from skills.class_log import skill as class_log
from skills.dish import skill as dish
from skills.fire import skill as fire
from skills.oven import skill as oven
from skills.planning import skill as planning
from skills.safety import skill as safety
from skills.skill import Answerer, Skill
from skills.team import skill as team
from skills.vocabulary import Question

SKILLS: tuple[Skill, ...] = (dish.SKILL, oven.SKILL, fire.SKILL, team.SKILL, class_log.SKILL, planning.SKILL,
                             safety.SKILL, allergens.SKILL)

ANSWERS: dict[type[Question], Answerer] = {kind: answer for skill in SKILLS for kind, answer in skill.answers.items()}
