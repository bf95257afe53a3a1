"""The belief about a class: its facts run through the ensemble, kept so that a new fact costs only its own time.

The facts become a timeline; the timeline is cut into groups of the same minute. After each group the ensemble is kept
under a fingerprint of everything that led to it. A new list of facts starts from the last kept ensemble that it shares,
so that working on from there and working from scratch are the same computation.
"""
from __future__ import annotations

import hashlib
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime
from functools import partial

from skills.dated import Dated
from skills.kitchen import ensemble as model
from skills.kitchen import personal
from skills.kitchen.acts import Act, Timeline, timeline
from skills.kitchen.belief import Belief
from skills.kitchen.learn import Learnt, learn
from skills.kitchen.setting import Setting

KEPT = 600      # snapshots held at most


@dataclass(frozen=True)
class Group:
    """Acts of one minute; `mark`: the half-hour grid is passed here."""
    at_s: int
    acts: tuple[Act, ...]
    mark: bool


class Kitchen:
    """Turns facts into beliefs. Holds only snapshots: what it answers depends on its arguments alone."""

    def __init__(self, setting: Setting | None = None) -> None:
        self.setting = setting or Setting()
        self._kept: dict[bytes, Learnt] = {}

    def believe(self, facts: Sequence[Dated], now: datetime) -> Belief:
        """What is believed at `now` after these facts (in force, corrections applied)."""
        now_s = int(now.timestamp()) // 60 * 60
        known = [dated for dated in facts if dated.at <= now or dated.told <= now]
        story = timeline(known, now_s)
        if not story.ovens:
            return Belief(now, self.setting, None, (), story, tuple(known))
        begin_s = min((act.at_s for act in story.acts), default=now_s)
        begin_s = min([begin_s, now_s, *(each.first_s for each in story.ovens.values())])
        groups = list(_groups(story, begin_s, now_s))
        prints = list(_fingerprints(self._cast(story, begin_s), groups, story))
        at = max((place for place, mark in enumerate(prints) if mark in self._kept), default=None)
        if at is None:
            learnt = Learnt(model.assemble(self.setting, story.ovens, begin_s))
            self._keep(prints[0], learnt)
            at = 0
        learnt = self._kept[prints[at]]
        for group, mark in zip(groups[at:], prints[at + 1:], strict=True):
            learnt = self._pass(learnt, group, story)
            self._keep(mark, learnt)
        ends = model.boundaries(learnt.ensemble.at_s, now_s)
        final = model.advance(learnt.ensemble, ends)
        return Belief(now, self.setting, final, learnt.doubts, story, tuple(known),
                      personal.offsets(final, learnt.own, learnt.used))

    def _pass(self, learnt: Learnt, group: Group, story: Timeline) -> Learnt:
        learnt = learnt.changed(lambda each: model.advance(each, model.boundaries(each.at_s, group.at_s)))
        if group.mark:
            learnt = learnt.changed(lambda each: model.wander(each, self.setting))
        for act in group.acts:
            if act.kind == "measure":
                learnt = learn(learnt, act, self.setting.seed, story.first_sight(act))
            else:
                learnt = learnt.changed(partial(model.perform, act=act, setting=self.setting, loads=story.loads))
        return learnt

    def _cast(self, story: Timeline, begin_s: int) -> str:
        ovens = [(name, each.words()) for name, each in story.ovens.items()]
        return repr((self.setting.seed, self.setting.members, begin_s, ovens))

    def _keep(self, mark: bytes, learnt: Learnt) -> None:
        self._kept[mark] = learnt
        while len(self._kept) > KEPT:
            del self._kept[next(iter(self._kept))]


def _groups(story: Timeline, begin_s: int, now_s: int) -> Iterator[Group]:
    by_minute: dict[int, list[Act]] = {}
    for act in story.acts:
        if act.at_s <= now_s:
            by_minute.setdefault(max(act.at_s, begin_s), []).append(act)
    marks = set(model.marks_between(begin_s, now_s))
    for at_s in sorted(set(by_minute) | marks):
        yield Group(at_s, tuple(by_minute.get(at_s, ())), at_s in marks)


def _fingerprints(cast: str, groups: Sequence[Group], story: Timeline) -> Iterator[bytes]:
    """One for the start, and one after each group: a chain over all that went in so far."""
    chain = hashlib.blake2b(cast.encode(), digest_size=16)
    yield chain.digest()
    for group in groups:
        loads = [story.loads.get(act.dish, {}) for act in group.acts if act.dish is not None and act.kind == "pot_in"]
        chain.update(repr((group.at_s, group.mark, group.acts, loads)).encode())
        yield chain.digest()
