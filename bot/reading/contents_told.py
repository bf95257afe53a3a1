"""What was done with a food while a dish was made or after: "stirred in two handfuls of almonds", "brushed with egg",
"breadcrumbs on top", "dumplings are suet and flour". What went where is what a guest must hear of, so the deed and the
food decide, whatever words stand around them.
"""

from __future__ import annotations

from datetime import timedelta

from bot.reading.contents_beside import MAY_HOLD, named_in
from bot.reading.joining import between, listed
from bot.reading.lexicon import allergen_runs, bag
from bot.reading.rules_contents import ADDED, MADE_WITH, is_dish
from bot.reading.scene import Scene, is_stop

_WITH = bag("with w in using of from")
_ONTO = bag("in into on onto over through to across around under top onto inside")
# What is floured or buttered is no dish, and what is put there is not in one.
_ELSEWHERE = bag(
    "fridge freezer table tables bench board boards peel peels paddle tin tins tray trays counter hands basket baskets "
    "bowl bowls jug larder cupboard shed shelf shop van bin bins side sink floor worktop surface plate plates "
    "list box bag cart trolley car cool bannetons banneton pantry store cooler esky bottle"
)
_DENIED = bag(
    "no not without free nothing none never zero instead if when unless until before can't cannot don't didn't won't "
    "allergy allergic avoid avoids need needs buy bought order ordered skip skipped left out off away separate "
    "separately forgot swapped tomorrow yesterday home"
)
_PARTS = bag(
    "dumplings dumpling topping crust crumb crumbs marinade sauce dressing glaze stuffing filling pastry batter gravy "
    "base rub roux coating garnish icing frosting dough paste seasoning streusel crumble mash"
)
_LINKS = bag("is are was were 's has have contains got")
_STAYS = bag("all went goes gone going is are was were 's just now also too as well then")
_TAILS = (
    ("on", "top"), ("over", "top"), ("on", "the", "top"), ("over", "the", "top"), ("all", "over"), ("on", "each"),
    ("in", "it"), ("in", "them"), ("in", "there"), ("in", "that"), ("over", "it"), ("over", "them"), ("on", "it"),
    ("on", "them"), ("through", "it"), ("through", "them"), ("to", "it"), ("into", "it"), ("into", "them"),
    ("in", "at", "the", "end"), ("in", "at", "end"), ("went", "in"), ("to", "finish"), ("to", "thicken"),
    ("to", "thicken", "it"), ("at", "the", "end"), ("at", "end"), ("on", "before", "serving"), ("went", "on"),
    ("gone", "in"), ("gone", "on"), ("in", "for", "the", "end"), ("on", "for"), ("on", "now"), ("in", "now"),
)
# These go into ovens by themselves: "put the bread in" tells of no contents.
_BAKED = bag(
    "bread loaf loaves pizza pizzas fish dough pastry salmon cod haddock mackerel tuna focaccia pasta noodles couscous "
    "barley mussels prawns squid oysters clams crab lobster"
)
_FILL = bag("some a an the bit of more last few little good big extra couple dash then also and just finally")
_MOST_BEFORE = 8


def contents_told(scene: Scene) -> None:
    """Every clause with a deed of the kitchen and a food that holds or may hold an allergen."""
    for first, last in scene.sentences:
        dish = _only_dish(scene, first, last)
        for begin, end in between(scene.items, first, last, is_stop):
            # "dusted in flour before browning": what is silent may stand behind the deed.
            end = next((n for n in range(begin, end) if scene.moods[n] != "fact"), end)
            if begin == end:
                continue
            words = [scene.items[n].word if scene.items[n].kind == "" else "" for n in range(begin, end)]
            if set(words) & _DENIED or scene.items[last - 1].word == "?":
                continue
            at = next((n for n in range(begin, end) if scene.items[n].kind == ""
                       and scene.items[n].word in ADDED | MADE_WITH), None)
            if at is not None:
                _of_the_deed(scene, begin, at, end, last, dish)
            else:
                _part(scene, begin, end, last, dish) or _upon(scene, begin, end, dish)


def _only_dish(scene: Scene, first: int, last: int) -> str | None:
    names = {str(scene.items[n].value) for n in range(first, last) if scene.items[n].kind == "D"
             and str(scene.items[n].value) in scene.context.dishes}
    if not names:
        names = {str(item.value) for item in scene.items[first:last] if item.kind == "D" and is_dish(scene, item.words)
                 and not set(item.words) & (_PARTS | MAY_HOLD) and not allergen_runs(item.words)}
    return names.pop() if len(names) == 1 else None


def _of_the_deed(scene: Scene, begin: int, at: int, end: int, last: int, dish: str | None) -> None:
    """ "stirred in ...", "finished (the lamb) with ...": the foods behind the deed."""
    deed = scene.items[at].word
    start = at + 1
    if _elsewhere(scene, at, end):
        return
    by_means = any(scene.items[n].word in _WITH - {"in"} for n in range(at + 1, end))
    if deed in MADE_WITH and (deed not in ADDED or by_means):
        behind = at + 1 if deed == "gave" else end
        start = next((n + 1 for n in range(at + 1, end) if scene.items[n].word in _WITH), behind)
    elif at > begin and scene.row.words(at + 1, min(at + 2, end)) and scene.items[at + 1].word in _ONTO \
            and not named_in(scene, at + 1, end):
        # "two handfuls of ground almonds stirred in", "butter melted through the beans".
        start, end = begin, at
    else:
        onto = any(scene.items[n].word in _ONTO for n in range(at + 1, end))
        if not onto and deed not in bag("added stirred folded whisked sprinkled scattered crumbled drizzled"):
            return
    if deed == "topped":
        # "topped it with hazelnuts": no pouring on.
        scene.drafts[:] = [draft for draft in scene.drafts if not (
            draft.fields.get("act") == "topped_up" and "litres" not in draft.fields and draft.first <= at < draft.last
            and named_in(scene, start, end) and "up" not in scene.row.words(at, end))]
        if not any(draft.first <= at < draft.last for draft in scene.drafts):
            scene.used[at:end] = [None] * (end - at)
    foods = [(n, food) for n, food in named_in(scene, start, end) if _free(scene, n, n + 1)]
    bare = deed in ADDED and dish is None and not {"it", "them", "that"} & set(scene.row.words(at, end))
    foods = [(n, food) for n, food in foods if not (bare and set(food[0].split()[-1:]) & _BAKED)]
    if not foods:
        return
    reach = end
    for a, b in listed(scene.items, end, last):
        # "with tahini, lemon and garlic": as far as the list goes on.
        more = named_in(scene, a, b)
        if b - a > 3 or not _free(scene, a, b) or any(mood != "fact" for mood in scene.moods[a:b]):
            break
        foods += more
        reach = b if more else reach
    _add(scene, foods, min(at, start), max(at + 1, reach), dish)


def _free(scene: Scene, a: int, b: int) -> bool:
    """Nothing was read from it, but perhaps that the dish was put together."""
    return all(rule is None or rule.startswith("stage") for rule in scene.used[a:b])


def _elsewhere(scene: Scene, at: int, end: int) -> bool:
    """ "put the butter on the table", "brushed the peel with flour"; not "threw in a tin of anchovies"."""
    for n in range(at + 1, end):
        if scene.items[n].word in _ELSEWHERE and scene.row.words(n + 1, min(n + 2, end)) != ("of",):
            return True
    return False


def _part(scene: Scene, begin: int, end: int, last: int, dish: str | None) -> bool:
    """ "dumplings are suet and flour", "marinade was yoghurt": a part of a dish, and what it is."""
    link = next((n for n in range(begin, end) if scene.items[n].word in _LINKS), None)
    if link is None or link == begin or link - begin > 3 or any(scene.used[begin:end]):
        return False
    head = scene.items[link - 1]
    foods = named_in(scene, link + 1, end)
    if not set(head.words) & _PARTS or not foods or end - link > _MOST_BEFORE:
        return False
    for a, b in listed(scene.items, end, last):
        more = named_in(scene, a, b)
        if b - a > 3 or not more or any(scene.used[a:b]):
            break
        foods += more
    _add(scene, foods, begin, end, dish)
    return True


def _upon(scene: Scene, begin: int, end: int, dish: str | None) -> bool:
    """ "breadcrumbs on top", "a spoon of miso went in": a food and where it went, and nothing else."""
    if any(scene.used[begin:end]):
        return False
    stop = next((n for n in range(begin + 1, end) if any(
        scene.row.words(n, min(n + len(tail), end)) == tail for tail in _TAILS)
        or (n == end - 1 and scene.items[n].word in ("on", "in"))), None)
    if stop is None:
        return False
    foods = named_in(scene, begin, stop)
    at = foods[0][0] if foods else stop
    rest = [item for item in scene.items[at:stop] if item.word not in _STAYS]
    if not foods or at - begin > _MOST_BEFORE or len(rest) > 3 * len(foods) + 1:
        return False
    before = [item.word for item in scene.items[begin:at] if item.kind == "" and item.word not in _FILL]
    if len(before) > 2 or (not dish and set(foods[0][1][0].split()[-1:]) & _BAKED):
        return False
    _add(scene, foods, begin, end, dish)
    return True


def _add(scene: Scene, foods: list[tuple[int, tuple[str, str]]], first: int, last: int, dish: str | None) -> None:
    known = {(draft.fields.get("item"), draft.fields.get("dish")) for draft in scene.drafts if draft.kind == "contents"}
    for _, (item, allergen) in foods:
        if (item, dish) in known or item == dish:
            continue
        fields = {"is": "contents", "item": item, "dish": dish, "allergen": allergen or None}
        scene.add(fields, first, last, "contents told")


# So long a dish that was spoken of stays what a topping is told of (common practice, no source).
A_TOPIC = timedelta(minutes=30)


def dish_of_contents(scene: Scene) -> None:
    """ "finished with a knob of butter": of the dish that its teller, else anybody, spoke of just now."""
    open_ = [draft for draft in scene.drafts if draft.rule == "contents told" and "dish" not in draft.fields]
    if not open_ or any(item.kind == "D" and is_dish(scene, item.words) and str(item.value) in scene.context.dishes
                        for item in scene.items):
        return
    fresh = [said for said in reversed(scene.context.last) if scene.context.now - said.at <= A_TOPIC]
    mine = [said for said in fresh if said.who == scene.context.sender]
    for said in (*mine, *fresh):
        names = {str(told["dish"]) for each in said.heard.facts if "dish" in (told := each.said())}
        names &= set(scene.context.dishes)
        if names:
            if len(names) == 1:
                for draft in open_:
                    draft.fields["dish"] = next(iter(names))
            return
