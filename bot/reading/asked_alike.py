"""A question that no phrase and no rule hears: taken for the kind that it is most like, if it is like enough."""

from __future__ import annotations

from typing import Any

from bot.reading.asked import Asked
from bot.reading.heard import elsewhere
from bot.reading.items import Item
from bot.reading.likeness import KINDS, likest
from bot.reading.mended import people_of
from bot.reading.scene import Scene
from bot.reading.spelling import ordinary_words, rule_words, table_words

# The odds from which a clause is taken for a question: one that opens as a question does, one that does so with a word
# that no other question has, and any other clause.
_ODDS_ASKED, _ODDS_STRANGE, _ODDS_ANY = 0.65, 0.8, 0.9
_LEAST_WORDS, _MOST_WORDS = 3, 20

# What each kind may hold, by the slots of the tables. A supposition needs its facts told: none here.
_OF_KIND: dict[str, dict[str, str]] = {
    "eta": {"dish": "DISH", "oven": "OVEN"},
    "ready_by": {"dish": "DISH", "by": "TIME"},
    "status": {"dish": "DISH", "oven": "OVEN"},
    "oven_at": {"oven": "OVEN", "place": "PLACE", "by": "TIME"},
    "refuel": {"oven": "OVEN"},
    "safe": {"dish": "DISH"},
    "plan": {"by": "TIME", "guests": "COUNT", "dish": "DISH", "oven": "OVEN"},
    "chill_time": {"dish": "DISH", "depth_cm": "DEPTH", "litres": "LITRES"},
    "allergens": {"dish": "DISH", "allergen": "ALLERGEN"},
    "measure": {"oven": "OVEN", "dish": "DISH"},
    "why": {"oven": "OVEN", "dish": "DISH"},
    "log": {},
    "help": {},
}
_NEEDS = {"oven_at": "by"}
_FORMS = (("plot", ("plot", "chart", "graph", "curve", "curves")), ("table", ("table", "rows", "columns")))
_SUMMED = ("summary", "sum", "summarise", "summarize", "recap", "paragraph", "short", "brief", "roundup", "gist")


def asked_alike(scene: Scene) -> bool:
    """Take every unheard clause for a question if it is like enough to those of the corpora; whether one was taken."""
    before = len(scene.drafts)
    for first, last in scene.sentences:
        if any(scene.used[first:last]) or any(first <= draft.first < last for draft in scene.drafts):
            continue
        kind = _kind(scene, first, last)
        fields = _fields(Asked(scene, first, last), kind) if kind is not None else None
        if fields is not None:
            draft = scene.add(fields, first, last, "like other questions", question=True)
            draft.hidden["pronoun"] = not fields.keys() & {"dish", "oven"}
    return len(scene.drafts) > before


def _kind(scene: Scene, first: int, last: int) -> str | None:
    items = [item for item in scene.items[first:last] if item.kind != "." or item.word == "?"]
    words = [item for item in items if item.kind != "."]
    asks = any(mood == "question" for mood in scene.moods[first:last]) or scene.items[last - 1].word == "?"
    if not _LEAST_WORDS <= len(words) <= _MOST_WORDS or not all(_known(scene, item) for item in words):
        return None
    if not asks and any(at in scene.doubted for at in range(first, last)):
        return None
    found = likest(items)
    least = _ODDS_ANY if not asks else _ODDS_STRANGE if found.strange else _ODDS_ASKED
    return found.kind if found.kind in KINDS and found.odds >= least and found.strange <= asks else None


def _known(scene: Scene, item: Item) -> bool:
    """Whether a word is one that people use: no letters at random, and nobody's name."""
    if item.kind:
        return True
    return item.word not in people_of(scene) and (
        item.word in ordinary_words() | rule_words() | table_words() or not item.word.isalpha() or len(item.word) < 3)


def _fields(asked: Asked, kind: str) -> dict[str, Any] | None:
    fields: dict[str, Any] = {"is": kind}
    if kind not in _OF_KIND:
        return None
    for key, slot in _OF_KIND[kind].items():
        value = elsewhere(asked, fields, slot)
        if value is not None:
            fields[key] = value
    if kind == "log":
        form = next((form for form, words in _FORMS if asked.words & set(words)), None)
        form = form or ("summary" if asked.words & set(_SUMMED) else None)
        fields.update({"form": form} if form else {})
    return fields if _NEEDS.get(kind, "is") in fields else None
