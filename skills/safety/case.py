"""One dish as the watches of food safety see it, and how they make a prompt of it."""
from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta

from skills import vocabulary as v
from skills.safety import meters, say
from skills.safety.history import History, moment_of
from skills.safety.packs import Pack
from skills.safety.spans import OUT, Story
from skills.skill import Prompt
from skills.view import View

KIND = "safety"
# Time in which food can be loaded, moved or chilled (common practice, no source).
TO_LOAD = timedelta(minutes=15)
HOLD_NOTICE = timedelta(minutes=30)
COOLED_C = 25.0
# A meal further off than this is not what a dish rests for (judgement).
FAR_MEAL = timedelta(hours=3)
# What is to be done, by the name that a prompt goes by, in the words of its reminder.
ACTS = {
    "aside": "into heat, or chill", "aside-past": "into heat, or discard",
    "boil": "hard boil, or say that it was", "slow": "more heat, or up on the ring",
    "night": "out and chill, or a top-up fire", "core": "probe it, or back into heat",
    "flame": "probe it before it is served", "pink": "probe it, or back into heat",
    "rises": "more heat, or eat later", "hold": "use or chill",
    "sinks": "more heat, or out and chill", "past": "discard", "chill": "shallower, on ice", "left": "into the cold",
    "late": "reheat and chill again, or discard", "uncold": "on ice, and probe again", "twice": "discard",
    "reheat": "back on the heat, and probe",
}


@dataclass(frozen=True)
class Case:
    """One dish as the watches see it."""
    made: Story
    seen: History
    view: View
    rules: Pack
    like: str | None = None     # a dish of the same oven that was warned of for the night already

    @property
    def now(self) -> datetime:
        return self.view.now

    def moment(self, at_s: float) -> datetime:
        return moment_of(at_s, self.now.tzinfo)

    @property
    def out_s(self) -> float:
        """When it went to where it now falls [epoch s]: bench, rest, hot cupboard and table are one."""
        begun = self.made.spans[-1]
        for span in reversed(self.made.spans):
            if span.where not in OUT:
                break
            begun = span
        return begun.at_s

    @property
    def cooled_unsaid(self) -> bool:
        """A probe so low that no pot gets there by itself in the time: it was chilled, and nobody said so."""
        return any(anchor.measured and anchor.celsius <= COOLED_C and anchor.at_s > self.out_s
                   and anchor.at_s >= self.now.timestamp() - 7200.0 for anchor in self.made.anchors)

    @property
    def kept(self) -> bool:
        """Whether there is some to keep: told of after it was served, or cooked for a meal that is hours off."""
        serve, served = self.view.record.serve, self.made.dish.stages.get("served")
        if any(isinstance(dated.fact, v.Load) and dated.fact.share is not None for dated in self.made.facts):
            return True
        if served is None:
            return serve is not None and serve - self.now > FAR_MEAL and meters.cooked(self.seen).reached
        if serve is not None and serve > self.now:
            return False
        return any(dated.told > served and (isinstance(dated.fact, v.Food | v.Load) or (
            isinstance(dated.fact, v.Pot) and dated.fact.act in ("out", "lid_on"))) for dated in self.made.facts)

    def prompt(self, key: str, due: datetime, text: str, lapses: datetime | None = None, who: str = "",
               act: str = "") -> Prompt:
        """act: for its reminder, behind the dish's name, where it is not the usual one of its kind."""
        act = act or ACTS.get(key.split(":")[0], "")
        who = who or say.owner(self.view, self.made)
        due = max(due, self.now)
        return Prompt(KIND, f"{KIND}:{key}:{self.made.name}", due, f"{who}: {text}", self.made.dish.oven,
                      self.made.name, who, lapses or due + timedelta(minutes=45), urgent=True,
                      act=f"{self.made.name}, {act}" if act else "")
