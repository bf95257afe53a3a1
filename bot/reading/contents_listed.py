"""What a dish is put together from, told as a list: "beef assembled: celery, red wine", "stock label: celery, soya"."""

from __future__ import annotations

from bot.reading.items import Item
from bot.reading.joining import JOINTS, listed
from bot.reading.lexicon import allergens_in, bag
from bot.reading.rules_contents import is_dish, is_ingredient
from bot.reading.scene import Scene, clean, is_stop

_PUT_TOGETHER = bag("assembled built made layered constructed together contains ingredients holds")
_LABELS = bag("label labels packet")
_OF_LABELS = _LABELS | bag("read checked looked at out on of for from the says lists now again back i we 've have just")
_DENIED = bag("no not without free nothing none never zero minus")
_BETWEEN = bag("in it them there bit of some a little the with as well too plus also into through on says")
_MOST_WORDS = 4


def listed_contents(scene: Scene) -> None:
    """A head (a dish that is put together, or a label that is read), then its things between commas."""
    _and_too(scene)
    for first, last in scene.sentences:
        _and_more(scene, first, last)
        (begin, end), *pieces = list(listed(scene.items, first, last)) or [(first, first)]
        if not pieces or any(mood != "fact" for mood in scene.moods[begin:end]):
            continue
        head = scene.row.words(begin, end)
        dishes = [str(item.value) for item in scene.items[begin:end] if item.kind == "D" and is_dish(scene, item.words)]
        if not dishes and set(head) & _PUT_TOGETHER:
            # "assembled: lamb, onions, stout": the dish stands among its things.
            dishes = [name for item in scene.items[end:last] if item.kind == "D"
                      and (name := str(item.value)) in scene.context.dishes]
        holder = " ".join(word for word in head if word not in _OF_LABELS)
        for a, b in pieces:
            words = _bare(scene.row.words(a, b))
            if any(scene.used[a:b]) or any(mood != "fact" for mood in scene.moods[a:b]) or not words \
                    or set(words) & _DENIED or len(words) > _MOST_WORDS:
                continue
            fields = {"is": "contents", "item": clean(" ".join(words))}
            named = allergens_in(words)
            if set(head) & _LABELS:
                if not holder:
                    continue
                fields["item"] = clean(holder)
            elif len(dishes) == 1 and set(head) & _PUT_TOGETHER and (named or is_ingredient(words)):
                fields["dish"] = dishes[0]
            else:
                continue
            for name in named:
                scene.add({**fields, "allergen": name}, a, b, "contents listed")
            if not named and "dish" in fields:
                scene.add(fields, a, b, "contents listed")


def _and_more(scene: Scene, first: int, last: int) -> None:
    """ "walnuts in the pudding, and butter": one more thing, told behind the dish that holds it."""
    for begin, end in list(listed(scene.items, first, last)):
        before = [draft for draft in scene.drafts if draft.kind == "contents" and first <= draft.first < begin]
        near = [draft for draft in before if draft.last <= begin and "dish" in draft.fields
                and all(_joins(scene.items[n]) for n in range(draft.last, begin))]
        words = scene.row.words(begin, end)
        while words and words[-1] in ("too", "also"):
            words = words[:-1]
        fresh = not any(scene.used[begin:end]) and all(mood == "fact" for mood in scene.moods[begin:end])
        if not near or not fresh or not 0 < len(words) <= 2 or set(words) & (_DENIED | _BETWEEN):
            continue
        named = allergens_in(words)
        if named or is_ingredient(words):
            fields = {"is": "contents", "item": clean(" ".join(words)), "dish": near[-1].fields["dish"]}
            scene.add({**fields, "allergen": named[0] if named else None}, begin, end, "contents listed")


def _and_too(scene: Scene) -> None:
    """ "dal has butter in it and mustard seeds": what "and" adds to it, an allergen or known ingredient."""
    last = len(scene.items)
    for draft in [each for each in scene.drafts if each.kind == "contents"]:
        at = draft.last
        while at < last and scene.items[at].word in ("in", "it", "them", "."):
            at += 1
        if "dish" not in draft.fields or at >= last or scene.items[at].word not in ("and", "plus", "&"):
            continue
        end = at + 1
        while end < last and not is_stop(scene.items[end]) and scene.items[end].word not in ("and", "in", "on"):
            end += 1
        words = _bare(scene.row.words(at + 1, end))
        fresh = not any(scene.used[at + 1 : end]) and all(mood == "fact" for mood in scene.moods[at + 1 : end])
        if not fresh or not 0 < len(words) <= _MOST_ADDED or set(words) & (_DENIED | _BETWEEN) or (
                end < last and scene.items[end].word in ("in", "on")):
            continue
        named = allergens_in(words)
        if named or is_ingredient(words):
            fields = {"is": "contents", "item": clean(" ".join(words)), "dish": draft.fields["dish"]}
            for more in [{"allergen": name} for name in named] or [{}]:
                scene.add({**fields, **more}, at + 1, end, "contents listed")


_MOST_ADDED = 3


def _joins(item: Item) -> bool:
    return item.word in JOINTS or item.word in (",", "also", "the", "some")


def _bare(words: tuple[str, ...]) -> tuple[str, ...]:
    left = [word for word in words if word.isalpha() or "-" in word]
    while left and left[0] in _BETWEEN:
        left.pop(0)
    while left and left[-1] in _BETWEEN:
        left.pop()
    return tuple(left)
