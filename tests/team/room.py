"""A class without models: what is called, heard and answered goes straight into the session's fold."""
from __future__ import annotations

from datetime import datetime, timedelta

from bot.binding import bind
from bot.planner import due_now, next_due
from bot.reading.read import read
from bot.session import Session
from bot.talk import Action, Answer, Message, Prompted, School
from skills.skill import Prompt

NOON = datetime.fromisoformat("2026-05-16T12:00:00+01:00")
PEOPLE = ("Mara", "Idris", "Tomos", "Bea")


def at(minutes: float) -> datetime:
    return NOON + timedelta(minutes=minutes)


def refuel(minutes: float, who: str = "Tomos", oven: str = "barrel", n: int = 0) -> Prompt:
    due = at(minutes)
    return Prompt("refuel", f"refuel:{oven}:{n}", due, f"{who}: {oven}, one split by {due:%H:%M}.", oven, None, who,
                  due + timedelta(minutes=30), urgent=True)


def out(minutes: float, dish: str = "lamb", who: str = "Idris") -> Prompt:
    due = at(minutes)
    return Prompt("serve", f"out:{dish}:13:30", due, f"{who}: {dish} out by {due:%H:%M}.", "dome", dish, who,
                  due + timedelta(minutes=60))


class Yard:
    """A session with two ovens, four people and a lead; `plan` holds the prompts that may fall due."""

    def __init__(self, plan: list[Prompt] | None = None, school: School | None = None) -> None:
        self.session = Session("yard-1", school or School(lead="Mara"), {})
        self.plan = plan or []
        self.log: list[Answer | Prompted] = []
        self.said: list[Action] = []
        self.count = 0
        for who in PEOPLE:
            self.say(-60, "morning", who)

    def say(self, minutes: float, text: str, who: str = "Tomos", **more: str) -> Answer:
        """Somebody says something; what is due before then is said first."""
        if minutes > -60:
            self.run(minutes)
        self.count += 1
        message = Message(more.pop("id", f"m{self.count}"), at(minutes), who, text, **more)
        reading = read("" if message.removes else text, self.session.context(message))
        bound = None
        if not message.removes:
            reading, bound = bind(self.session, message, reading)
        answer = Answer(message, "yard-1", reading.heard, (), None, {"bound": bound} if bound else {})
        self.session.absorb(answer)
        self.log.append(answer)
        return answer

    def run(self, until: float) -> list[Action]:
        """Let the clock run; what was said on the way."""
        said: list[Action] = []
        while (wake := next_due(self.plan, self.session)) is not None and wake <= at(until):
            actions = due_now(self.plan, self.session, wake)
            assert actions, f"nothing to say at {wake}"
            prompted = Prompted(wake, tuple(actions))
            self.session.absorb_prompts(prompted)
            self.log.append(prompted)
            said += actions
        self.said += said
        return said

    def again(self) -> Session:
        """The session as a restart would make it from the log."""
        session = Session("yard-1", self.session.school, {})
        for line in self.log:
            if isinstance(line, Prompted):
                session.absorb_prompts(line)
            else:
                session.absorb(line)
        return session
