"""A guest known by what they avoid, without a word of allergy: "new girl is lupin", "late arrival, no eggs", "bea's
table: two gluten one nuts". What is lost here can hurt, so that the words around decide little.
"""

from __future__ import annotations

from bot.reading.lexicon import allergen_runs, bag
from bot.reading.scene import Scene

_PERSONS = bag(
    "girl lad lass guy chap lady woman man boy kid child guest one person student bloke fella mum dad couple pair "
    "twins sisters brothers arrival latecomer walk-in walkin visitor addition newcomer gentleman teenager toddler "
    "learner two"
)
_NEW = bag("new late extra last-minute other another more")
_LINKS = bag("is 's are was also both all actually apparently a an the says she he they 're")
_GROUPS = bag("lot table tables group party bench side gang crew bunch half")
# "the girl is nuts", "he's fish on Fridays": as much a joke or an order as a need.
_JOKES = bag("nuts nut fish crab beer ale stout bread egg pasta")
_ENDS = bag("too now today apparently btw fyi and , only guest as well")


def new_guests(scene: Scene) -> None:
    """Every sentence of such a form."""
    for first, last in scene.sentences:
        end = last - 1 if scene.items[last - 1].word in (".", "!") else last
        if scene.items[last - 1].word == "?" or any(
                mood in ("question", "what_if") for mood in scene.moods[first:last]) or any(scene.used[first:end]):
            continue
        if not _of_a_group(scene, first, end):
            _is_it(scene, first, end) or _without(scene, first, end)


def _allergens(scene: Scene, first: int, last: int) -> list[tuple[int, int, str]] | None:
    """The allergens that these items are made of, small words apart; None where something else stands among them."""
    words = [(word, n) for n in range(first, last) for word in scene.items[n].words]
    runs = allergen_runs([word for word, _ in words])
    taken = {at for a, b, _ in runs for at in range(a, b)}
    others = [word for at, (word, n) in enumerate(words) if at not in taken and scene.items[n].kind != "N"]
    if not runs or any(name is None for _, _, name in runs) or set(others) - _ENDS - {".", "&", "plus", "x"}:
        return None
    return [(words[a][1], words[b - 1][1] + 1, name) for a, b, name in runs if name is not None]


def _is_it(scene: Scene, first: int, end: int) -> bool:
    """ "new girl's lupin", "the two at the end are celery": who, and then nothing but allergens."""
    link = next((n for n in range(first + 1, end) if scene.items[n].word in ("is", "'s", "are")), None)
    if link is None:
        return False
    who = [word for item in scene.items[first:link] for word in item.words]
    if not set(who) & _PERSONS or len(who) > 7 or any(item.kind in ("D", "O") for item in scene.items[first:link]):
        return False
    start = link + 1
    while start < end and scene.items[start].word in _LINKS:
        start += 1
    found = _allergens(scene, start, end)
    plain = {word for item in scene.items[start:end] for word in item.words}
    if not found or (plain <= _JOKES and not set(who) & _NEW):
        return False
    count = 2 if set(who) & bag("two couple pair twins sisters brothers both") else 1
    for _, _, name in found:
        scene.add({"is": "guests", "allergen": name, "count": count}, first, end, "guest by what they avoid")
    return True


def _without(scene: Scene, first: int, end: int) -> bool:
    """ "late arrival, no eggs", "a walk-in, sesame"."""
    comma = next((n for n in range(first, end) if scene.items[n].word in (",", ":", "-")), None)
    if comma is None or comma - first > 5:
        return False
    who = [word for item in scene.items[first:comma] for word in item.words]
    counted = who[:1] == ["one"] or bool(set(who) & (_NEW | bag("a an walk")))
    if not counted or not set(who) & (_PERSONS | bag("turned walk")):
        return False
    start = comma + 1
    while start < end and scene.items[start].word in ("no", "not", "can't", "is", "'s", "he", "she", "they"):
        start += 1
    found = _allergens(scene, start, end)
    for _, _, name in found or ():
        scene.add({"is": "guests", "allergen": name, "count": 1}, first, end, "guest by what they avoid")
    return bool(found)


def _of_a_group(scene: Scene, first: int, end: int) -> bool:
    """ "bea's table: two gluten one nuts": counts of a table."""
    if end - first > 2 and scene.items[first].word in ("seat", "chair") and scene.items[first + 1].kind == "N":
        seat = f"{scene.items[first].word} {scene.items[first + 1].value.value:g}"
        start = first + 2
        while start < end and scene.items[start].word in _LINKS:
            start += 1
        seated = _allergens(scene, start, end)
        for _, _, name in seated or ():
            fields = {"is": "guests", "allergen": name, "count": 1, "seat": seat}
            scene.add(fields, first, end, "guest by what they avoid")
        return bool(seated)
    head = next((n for n in range(first, min(end, first + 5)) if scene.items[n].word in _GROUPS), None)
    if head is None or head + 1 >= end:
        return False
    start = head + 1
    while start < end and scene.items[start].word in (":", ",", "-", "has", "have", "is", "'s", "got", "are", "of"):
        start += 1
    if start >= end or scene.items[start].kind != "N":
        return False
    found = _allergens(scene, start, end)
    if not found:
        return False
    for at, _, name in found:
        number = scene.items[at - 1]
        count = int(number.value.value) if number.kind == "N" and number.value.value % 1 == 0 else 1
        if 0 < count <= 50:
            scene.add({"is": "guests", "allergen": name, "count": count}, first, end, "guest by what they avoid")
    return True
