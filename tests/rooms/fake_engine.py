"""A small engine with the manners of the real one: what it says depends on everything it heard, and its state
follows from the log. "wood in 7" sets a prompt 7 minutes later, "?" gets a reply, other numbers are readings."""
from __future__ import annotations

import re
from datetime import timedelta

from bot.talk import Action, Answer, Prompted
from skills.vocabulary import Class, Eta, Fire, Heard, Reading


class FakeRoom:
    def __init__(self, name, school, learnt=None, log=()):
        self.name = name
        self.school = school
        self.facts = 0
        self.actions = 0
        self.due = {}
        self.class_id = None
        self.tended = dict((learnt or {}).get("ovens", {}))
        for line in log:
            if isinstance(line, Prompted):
                self._said(line.actions)
            else:
                self._heard(line.message, line.heard, line.class_id)
                self._said(line.actions)

    def hear(self, message, *, forecast=False):
        del forecast
        if "boom" in message.text:
            self.facts += 1000
            raise RuntimeError("boom")
        facts, questions = [], []
        if message.text.startswith("class: "):
            facts.append(Class(act="start", title=message.text[7:]))
        elif message.text == "end of class":
            facts.append(Class(act="end"))
        elif found := re.search(r"wood in ([\d.]+)", message.text):
            facts.append(Fire(act="fed", minutes=float(found[1])))
        elif found := re.search(r"(\d+)", message.text):
            facts.append(Reading(place="floor", celsius=float(found[1])))
        if "?" in message.text:
            questions.append(Eta())
        heard = Heard(facts=tuple(facts), questions=tuple(questions))
        class_id = self.class_id
        if class_id is None or message.text.startswith("class: "):
            class_id = f"{self.name}-{message.at:%Y%m%d-%H%M}"
        self._heard(message, heard, class_id)
        actions = []
        if questions:
            actions.append(self._action("reply", message, 1, f"{self.facts} facts and {self.actions} words so far"))
            actions.append(self._action("reply", message, 2, "second line\nthird line"))
        elif facts:
            actions.append(self._action("tick", message, 1, ""))
        self._said(actions)
        return Answer(message, class_id, heard, tuple(actions), None, {"facts": self.facts})

    def tick(self, now):
        due = sorted(key for key, at in self.due.items() if at <= now)
        actions = tuple(
            Action(f"{self.class_id}/{self.actions + n}", "prompt", now, self.class_id, f"Wood, {self.facts} facts.",
                   prompt="refuel", oven="barrel", data={"key": key})
            for n, key in enumerate(due, 1))
        self._said(actions)
        return actions

    def next_wake(self):
        return min(self.due.values(), default=None)

    def board(self):
        return None

    def learnt(self):
        return {"ovens": {"barrel": {"facts": self.facts}}, "cuts": {}}

    def _action(self, kind, message, n, text):
        return Action(f"{self.class_id}/{self.actions + n}", kind, message.at, self.class_id, text, to=message.id)

    def _heard(self, message, heard, class_id):
        self.class_id = class_id
        self.facts += len(heard.facts)
        for fact in heard.facts:
            if isinstance(fact, Fire):
                self.due[message.id] = message.at + timedelta(minutes=fact.minutes)

    def _said(self, actions):
        self.actions += len(actions)
        for action in actions:
            self.due.pop(action.data.get("key"), None)
