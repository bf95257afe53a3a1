"""A small engine with the manners of the real one, quick enough for a hundred restarts: what it says depends on all
that stands, and its state follows from the log.

"floor 180" gets a tick; "?" a reply that names every number that stands, in order of time; "wood in 7" sets a prompt 7
seconds later for the one who said it; "sure?" asks a question that yes or no answers; "board" makes a board.
"""
from __future__ import annotations

import re
import time
from datetime import timedelta

from bot.board import Board
from bot.talk import Action, Answer, Prompted
from skills.vocabulary import Class, Eta, Fire, Heard, Reading, ShowLog


class SmallRoom:
    slow_s = 0.0

    def __init__(self, name, school, learnt=None, log=()):
        del learnt
        self.name = name
        self.school = school
        self.messages = []
        self.actions = 0
        self.due = {}
        self.class_id = None
        for line in log:
            if isinstance(line, Prompted):
                self._said(line.actions)
            else:
                self._heard(line.message, line.class_id)
                self._said(line.actions)

    def hear(self, message, *, forecast=False):
        del forecast
        time.sleep(self.slow_s)
        text = message.text
        if "boom" in text:
            raise RuntimeError("boom")
        facts, questions = [], []
        if text == "end of class":
            facts.append(Class(act="end"))
        if found := re.search(r"wood in ([\d.]+)", text):
            facts.append(Fire(act="fed", minutes=float(found[1])))
        elif found := re.search(r"\d+", text):
            facts.append(Reading(place="floor", celsius=float(found[0][:6])))
        if "chart" in text:
            questions.append(ShowLog(form="plot"))
        elif "?" in text or text in ("got it", "done", "yes", "no"):
            questions.append(Eta())
        class_id = self.class_id or f"{self.name}-{message.at:%Y%m%d}"
        self._heard(message, class_id)
        said = []
        if text in ("got it", "done", "yes", "no"):
            said = [f"{message.sender} says {text} to {message.reply_to}"]
        elif "sure?" in text:
            said = ["Are you sure?"]
        elif "?" in text:
            said = [f"{len(self.standing())} stand: {' '.join(self.standing())}", f"{message.sender}, that is all <b>&"]
        actions = [self._action("reply", message, n, line) for n, line in enumerate(said, 1)]
        if "sure?" in text:
            actions[0].data["ask"] = {"question": said[0], "about": {}, "missing": "confirm", "options": ["yes", "no"]}
        if not actions and (facts or message.removes):
            actions = [self._action("tick", message, 1, "")]
        self._said(actions)
        return Answer(message, class_id, Heard(facts=tuple(facts), questions=tuple(questions)), tuple(actions))

    def standing(self):
        """Every number that was said and neither edited away nor removed."""
        removed = {each.removes for each in self.messages}
        edits = {each.replaces: each for each in self.messages if each.replaces and each.id not in removed}
        kept = [edits.get(each.id, each).text for each in self.messages
                if each.replaces is None and each.removes is None and each.id not in removed]
        return [number for text in kept for number in re.findall(r"\d+", text)]

    def tick(self, now):
        due = sorted(key for key, (at, _) in self.due.items() if at <= now)
        actions = tuple(
            Action(f"{self.class_id}/{self.actions + n}", "prompt", now, self.class_id,
                   f"{self.due[key][1]}: one split on the barrel.", prompt="refuel", oven="barrel",
                   who=self.due[key][1], data={"key": key})
            for n, key in enumerate(due, 1))
        self._said(actions)
        return actions

    def next_wake(self):
        return min((at for at, _ in self.due.values()), default=None)

    def board(self):
        if not any("board" in each.text for each in self.messages):
            return None
        return Board(self.class_id, f"{self.name} <b>", {"Ovens": tuple(self.standing()[-3:]), "Pots": ()})

    def learnt(self):
        return {"ovens": {}, "cuts": {}}

    def _action(self, kind, message, n, text):
        return Action(f"{self.class_id}/{self.actions + n}", kind, message.at, self.class_id, text, to=message.id)

    def _heard(self, message, class_id):
        self.class_id = class_id
        self.messages.append(message)
        self.messages.sort(key=lambda each: each.at)
        if found := re.search(r"wood in ([\d.]+)", message.text):
            self.due[message.id] = (message.at + timedelta(seconds=float(found[1])), message.sender)

    def _said(self, actions):
        self.actions += len(actions)
        for action in actions:
            self.due.pop(action.data.get("key"), None)
