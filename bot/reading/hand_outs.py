"""Jobs given out in a list: "Tomos the barrel, Bea the beans"."""

from __future__ import annotations

from bot.reading.lexicon import bag
from bot.reading.mended import people_of
from bot.reading.scene import Scene

# A person and these may be called to, and then it is an order or no sentence at all.
_NO_JOBS = bag("door lid kettle floor air")
_WATCHED = bag("fire wood door check watch beans log board table tables drinks salad washing-up")
MOST_WORDS = 3


def hand_outs(scene: Scene) -> None:
    """A clause that is a person, "the", and an oven, a dish or a duty, with no verb: it is taken over."""
    people = people_of(scene)
    if not scene.has_any(people):
        return
    at = 0
    while at < len(scene.items):
        first, last = scene.segment(at)
        at = max(last, at) + 1
        while first < last and scene.items[first].word in ("and", "then"):
            first += 1
        if last - first < 2 or any(scene.used[first:last]) or any(mood != "fact" for mood in scene.moods[first:last]):
            continue
        who, behind = scene.items[first], first + 1
        with_the = scene.items[behind].word in ("the", "our")
        items = scene.items[behind + 1 : last] if with_the else scene.items[behind:last]
        listed = any(draft.kind == "task" for draft in scene.drafts)
        if who.word not in people or not 0 < len(items) <= MOST_WORDS or not (with_the or listed):
            continue
        words = {item.word for item in items}
        named = all(item.kind in ("O", "D") or item.word in _WATCHED for item in items)
        if not named or words <= _NO_JOBS or (last < len(scene.items) and scene.items[last].word == "?"):
            continue
        what = scene.row.spelled(last - len(items), last).lower()
        scene.add({"is": "task", "act": "claim", "what": what, "who": who.word}, first, last, "job given out")
