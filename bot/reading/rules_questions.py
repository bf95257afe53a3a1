"""Questions to the bot; what is asked of people ("can someone bring the long peel") stays silent."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from typing import Any

from bot.reading.asked import Asked, ReadFacts, people_asked, time_asked, with_names
from bot.reading.carry import DISH_QUESTIONS, OVEN_QUESTIONS
from bot.reading.heard import heard
from bot.reading.lexicon import bag
from bot.reading.mended import people_of
from bot.reading.questions_what_if import what_if_asked
from bot.reading.scene import Draft, Scene, compiled
from bot.reading.whole_dishes import strange


def questions(scene: Scene, read_facts: ReadFacts) -> None:
    """Every question of the message, in order."""
    for draft in [each for each in scene.drafts if each.question and each.kind == "chill_time"]:
        draft.first, draft.last = _said_around(scene, draft.fields, draft.first, draft.last)
    for first, last in _regions(scene):
        _ask(scene, first, last, read_facts)
    _conditions(scene)
    _only_named(scene)
    _and_the(scene)
    _of_both(scene)
    _for_as_many(scene)
    _of_whom(scene)


def _conditions(scene: Scene) -> None:
    """ "if dinner is 8 pm, when do i start the fire?": two clauses, and the first only says for when."""
    for asked in [draft for draft in scene.drafts if draft.question and draft.kind in _GIVEN_BY_CONDITION]:
        for draft in [each for each in scene.drafts if each.kind == "what_if" and each.last <= asked.first]:
            if scene.items[draft.first].word == "if" and _only_says_when(draft.fields):
                asked.fields = _given(asked.fields, draft.fields)
                asked.first = draft.first
                scene.drafts.remove(draft)


def _only_named(scene: Scene) -> None:
    """ "the barrel, does it need wood?": the oven or dish is only named, for the question behind it."""
    asked = [draft for draft in scene.drafts if draft.question]
    for draft in asked:
        names = [item for item in scene.items[draft.first : draft.last] if item.kind in ("O", "D")]
        words = {item.word for item in scene.items[draft.first : draft.last] if item.kind == ""}
        answered = [word for word in scene.row.words(draft.last, draft.last + 3) if word not in ("?", ",")]
        if draft.kind == "status" and len(names) == 1 and answered[:1] == ["no"]:
            scene.drafts.remove(draft)  # "lamb? no, that's next friday": the asker answers
            continue
        behind = [each for each in asked if each.first >= draft.last and each.kind != "status"]
        if draft.kind == "status" and len(names) == 1 and words <= bag("the our and so oh") and behind:
            scene.drafts.remove(draft)
            key = "oven" if names[0].kind == "O" else "dish"
            if behind[0].kind in (OVEN_QUESTIONS if key == "oven" else DISH_QUESTIONS):
                behind[0].fields.setdefault(key, str(names[0].value))


def _of_whom(scene: Scene) -> None:
    """ "who has the barrel and does it want wood": it is the oven that somebody has."""
    asked = [draft for draft in scene.drafts if draft.question]
    for who in (draft for draft in asked if draft.kind == "who" and draft.fields["what"] in scene.context.ovens):
        for draft in (each for each in asked if each.first >= who.last and each.kind in OVEN_QUESTIONS):
            if "it" in scene.row.words(draft.first, draft.last):
                draft.fields.setdefault("oven", who.fields["what"])


def _and_the(scene: Scene) -> None:
    """ "will the goat be ready in time, and the ribs": the same is asked of both."""
    asked = [draft for draft in scene.drafts if draft.question and draft.kind in DISH_QUESTIONS]
    for found in scene.find(
        r"(?:and|or|what about|and what about) (?P<dish><D>)(?: (?:too|as well))?(?= ?(?:\?|$))", None
    ):
        behind = [draft for draft in asked if draft.last <= found.first <= draft.last + 2 and "dish" in draft.fields]
        if behind and behind[-1].fields["dish"] != found.name("dish"):
            fields = {**behind[-1].fields, "dish": found.name("dish")}
            scene.add(fields, found.first, found.last, behind[-1].rule, question=True)
            return


_OF_A_DISH = bag("eta ready_by status safe")


def _of_both(scene: Scene) -> None:
    """ "when are the cassoulet and the ham done", "lamb and beans, how long for each": asked of both dishes."""
    for found in scene.find(r"(?P<one><D>) (?:and|&|,) (?:the |our |my )?(?P<other><D>)", None):
        names = [found.name("one"), found.name("other")]
        asked = [draft for draft in scene.drafts if draft.question and draft.kind in _OF_A_DISH]
        own = [draft for draft in asked if draft.fields.get("dish") in (None, *names)]
        if len(own) != 1 or len(asked) != 1 or names[0] == names[1]:
            continue
        inside = own[0].first <= found.first < own[0].last or own[0].last <= found.first
        if not inside and "each" not in scene.row.words(own[0].first, own[0].last):
            continue
        for name in names:
            if own[0].fields.setdefault("dish", name) != name and {"dish": name} != own[0].fields:
                scene.add({**own[0].fields, "dish": name}, found.first, found.last, own[0].rule, question=True)


def _for_as_many(scene: Scene) -> None:
    """ "how much brisket for 30, and how much stock": the second is asked for the same people."""
    asked = [draft for draft in scene.drafts if draft.question and draft.kind == "amount"]
    told = {draft.fields["guests"] for draft in asked if "guests" in draft.fields}
    if len(asked) > 1 and len(told) == 1:
        for draft in asked:
            draft.fields.setdefault("guests", *told)


def _regions(scene: Scene) -> list[tuple[int, int]]:
    found: list[tuple[int, int]] = []
    at = 0
    while at < len(scene.items):
        if scene.moods[at] == "question" and not (scene.used[at] or "").startswith("phrase"):
            end = at
            _a, b = scene.sentence(at)
            while (
                end < b
                and scene.moods[end] == "question"
                and not (scene.used[end] or "").startswith("phrase")
                and not (end - at >= 3 and _second(scene, end, b))
            ):
                end += 1
            found.append((at, end))
            at = end
        else:
            at += 1
    return found


_ITS = bag("it that this the our my O D P")
_MAY = bag("can could may should")
_SHOW = bag("post show send draw plot print share")


def _second(scene: Scene, at: int, last: int) -> bool:
    """ "how are the beans and who's got the barrel": the second question of two begins here."""
    words = [item.word if item.kind == "" else item.kind for item in scene.items[at : min(last, at + 3)]]
    if words[:1] + words[2:] in (["and", "there"], ["also", "there"]) and words[1] in ("is", "are"):
        return scene.items[at - 1].word not in bag("how when what where who")
    if len(words) == 3 and words[0] == "and" and words[1] in _MAY and words[2] in ("we", "i", "D"):
        return True  # "what will it be at six and can we leave the broth in till then"
    more = words[1:] in (["how", "much"], ["how", "many"], ["is", "it"]) or words[1:2] in [[each] for each in _SHOW]
    if more and words[0] in ("and", "also", "plus"):
        return scene.items[at - 1].word not in bag("how when what where who")
    return (
        len(words) == 3
        and words[0] in ("and", "also", "plus")
        and words[1] in bag("who how where what when does")
        and (words[2] in bag("'s is are has have do does did should") or (words[1] == "does" and words[2] in _ITS))
        and not (words[1] == "when" and words[2] in bag("do should"))
        and scene.items[at - 1].word not in bag("how when what where who")
    )


def _ask(scene: Scene, first: int, last: int, read_facts: ReadFacts) -> None:
    asked = Asked(scene, first, last)
    if not asked.text.strip(" .,?!:;-"):
        return
    supposed = what_if_asked(asked, read_facts)
    emptied = supposed is not None and not supposed["facts"] and "wait" not in supposed
    if emptied and asked.match(r"next (?:week|term|month|year|time|class|session|weekend|summer|winter)"):
        return  # "what if we did pizza next term": nothing of today
    fields = heard(asked) if supposed is None or emptied or _only_says_when(supposed) else supposed
    if supposed is not None and not emptied:
        fields = _given(fields, supposed)
    if fields is None or fields["is"] == "status":
        spot = _spot_before(scene, first, last)
        if spot is not None:
            scene.add(*spot, "question oven_at", question=True)
            return
    if fields is None:
        supposition = scene.items[first:last]
        of_ours = emptied and any(
            item.kind in "ODPUTNCLKH" if item.kind else item.word in _OURS for item in supposition)
        if not _second_try(scene, first, last) and of_ours and (asked.text.endswith("?") or "what" in asked.words):
            scene.add({"is": "what_if", "facts": []}, first, last, "question what_if", question=True)
        return
    if fields["is"] == "nobody" or (fields == {"is": "ready_by"} and _second_try(scene, first, last)):
        return
    if fields == {"is": "status"} and any(
        draft.question and draft.kind == "oven_at" and draft.last >= first - 1 for draft in scene.drafts
    ):
        return
    if fields["is"] in ("plan", "chill_time"):
        first, last = _said_around(scene, fields, first, last)
    draft = scene.add(fields, first, last, f"question {fields['is']}", question=True)
    draft.hidden["pronoun"] = _pronoun(asked)
    draft.hidden["heat of it"] = "it" in asked.words and bool(asked.words & _HOT)


# Questions that a condition only gives their own fields: "if we eat at 8, when do I light", "when cold if on ice".
_GIVEN_BY_CONDITION = {"plan": {"serve", "guests"}, "chill_time": {"chill"}}




# What a supposition that tells no known fact must name to be of this class: "what if it goes wrong".
_OURS = bag("it they them this that door lid lids fire wood pot pots oven ovens rain rains embers probe")


def _given(fields: dict[str, Any] | None, supposed: dict[str, Any]) -> dict[str, Any]:
    """What is asked with what its condition gives; the supposition itself where that is what is asked."""
    if fields is None or fields["is"] not in _GIVEN_BY_CONDITION:
        return supposed
    given = {key: value for fact in supposed["facts"] for key, value in fact.items() if key in ("by", "count")}
    if fields["is"] == "plan":
        for key, name in (("by", "by"), ("count", "guests")):
            if key in given:
                fields.setdefault(name, given[key])
    return fields


def _only_says_when(supposed: dict[str, Any]) -> bool:
    kinds = {fact["is"] for fact in supposed["facts"]}
    return any(kinds and kinds <= given for given in _GIVEN_BY_CONDITION.values())


_ABOUT_CHILLING = bag(
    "ice tray trays deep on in of the a an thick shallow fridge side depth tub tubs 's it is each with iced "
    "pot pots pan pans same big deep-ish left when if"
)


_ABOUT_MEALS = bag(
    "eating eat serving lunch dinner supper tea brunch meal serve is 's at by for we we're are tomorrow today on "
    "saturday sunday monday tuesday "
    "wednesday thursday friday guests people of us with and around about ok so hi morning"
)


def _chill_fields(asked: Asked) -> dict[str, Any]:
    """Depth, volume, method and dish of what is to be chilled."""
    fields: dict[str, Any] = {"is": "chill_time"}
    for n in asked.items("C"):
        fields["depth_cm"] = asked.scene.items[n].value
    for n in asked.items("L"):
        fields["litres"] = asked.scene.items[n].value
    if asked.match(r"(?:on|in|over|into|with) (?:an? )?(?:ice|iced water|ice water|ice bath)|ice bath|ice packs"):
        fields["method"] = "ice"
    elif asked.match(r"in (?:the )?(?:fridge|walk in|chiller|cold room|cooler)"):
        fields["method"] = "fridge"
    elif asked.match(r"(?:on|at) (?:the )?(?:side|bench|counter|room temp|room temperature|worktop|rack|table)"):
        fields["method"] = "room"
    return with_names(asked, fields, oven=False)


def _said_around(scene: Scene, fields: dict[str, Any], first: int, last: int) -> tuple[int, int]:
    """ "cold in how long, 4 cm of stew on ice", "want to eat at 1.30, so light when": what the next clause gives."""
    a, b = scene.sentence(first)
    cuts = [a, *(n for n in range(a, b) if scene.items[n].kind == "." and scene.items[n].word in ",-:;."), b]
    asked = range(first, last)
    giving: list[tuple[int, int]] = []
    for start, stop in pairwise(cuts):
        if (start < asked.stop and asked.start < stop) or any(scene.used[start:stop]):
            continue
        items = [item for item in scene.items[start:stop] if item.kind != "."]
        words = {item.word for item in items if item.kind == ""}
        if fields["is"] == "chill_time":
            ours = {item.kind for item in items} <= {"", "C", "L", "D", "N"} and words <= _ABOUT_CHILLING
            more = _chill_fields(Asked(scene, start, stop)) if ours and items else {}
        else:
            meant = words & bag("want wants need needs to like have if hoping gotta must") and words & bag(
                "eat eating serve serving lunch dinner supper food feed guests"
            )
            more = {}
            counted = any(item.kind == "N" for item in items) and words <= bag("guests people of us for with and")
            eats = words & bag("eating eat serving lunch dinner supper brunch meal serve") and words <= _ABOUT_MEALS
            if meant or counted or eats:
                clause = Asked(scene, start, stop)
                more = {"by": time_asked(clause, meal=True, loose=True), "guests": people_asked(clause)}
            if eats and more["by"] and fields.get("by") == f"{fields.get('guests', 0):02}:00":
                fields.pop("by")  # "light when for 8, eating 12.30?"
        added = {key: value for key, value in more.items() if value is not None and key not in fields}
        if added:
            fields.update(added)
            giving.append((start, stop))
    # A clause in between that gives something else ("3 kg shoulder") stays free for that.
    for start, stop in reversed(giving):
        first = start if stop >= first > start else first
    for start, stop in giving:
        last = stop if start <= last < stop else last
        scene.use(start, stop, f"question {fields['is']}")
    return first, last


_TOMORROW = bag("tomorrow tomorrow's tomorrows tmrw")
_DAYS = bag("yesterday monday tuesday wednesday thursday friday saturday sunday")
_BEFORE_DISH = bag("the a an our my some this that")
_JOINED = bag("and & + plus , or")
# What a fire is lit for besides a dish (beside every word that some rule knows).
_OCCASIONS = bag("wedding picnic anniversary birthday birthdays us them him her me you your their funeral feast do "
                 "fair fete demo course workshop visitors parents children students")
MOST_DISHES = 8


def _dishes_of_plan(scene: Scene, draft: Draft) -> None:
    """ "light for the lamb, the loaves and the kimchi": every dish that is named, known to anybody or not."""
    names: list[str] = []
    last = scene.sentence(draft.first)[1]
    for begin in (n + 1 for n in range(draft.first, draft.last) if scene.items[n].word == "for"):
        at = begin
        while len(names) < MOST_DISHES:
            while at < last and scene.items[at].word in _BEFORE_DISH:
                at += 1
            name, at = _dish_named(scene, at, last)
            if name is None:
                break
            names.append(name)
            scene.use(begin, at, "question plan")
            if at >= last or scene.items[at].word not in _JOINED:
                break
            at += 1
    names = list(dict.fromkeys(names))
    if names and draft.fields.get("dish") in (None, *names):
        draft.fields["dish"] = names[0]
        if len(names) > 1:
            draft.fields["also"] = tuple(names[1:])


def _dish_named(scene: Scene, at: int, last: int) -> tuple[str | None, int]:
    """A dish, with a word before it that nobody knows, or that word alone ("kimchi", "kimchi stew")."""
    begin = at
    while at < last and at - begin < 2 and _strange(scene, at):
        at += 1
    if at < last and scene.items[at].kind == "D":
        own = " ".join(item.word for item in scene.items[begin:at])
        return f"{own} {scene.items[at].value}".strip(), at + 1
    return (" ".join(item.word for item in scene.items[begin:at]), at) if at > begin else (None, at)


def _strange(scene: Scene, at: int) -> bool:
    """A word for food, or one that nobody knows."""
    return scene.items[at].word not in _OCCASIONS and strange(scene.items[at], people_of(scene))


def meals_of_plans(scene: Scene) -> None:
    """ "3 kg shoulder for half one. when do I light": a time that nothing else took is the meal that is planned for."""
    plans = [draft for draft in scene.drafts if draft.question and draft.kind == "plan"]
    if scene.has_any(_TOMORROW):
        for draft in plans:
            draft.fields["tomorrow"] = True
    named = [item.word for item in scene.items if item.kind == "" and item.word in _DAYS]
    for draft in plans if named else ():
        draft.fields["day"] = named[0]
    for draft in plans:
        _dishes_of_plan(scene, draft)
    _odds_of_plans(scene, plans)
    plans = [draft for draft in plans if "by" not in draft.fields]
    if not plans or any(draft.kind == "serve" or "serve" in draft.fields for draft in scene.drafts):
        return
    for at, item in enumerate(scene.items):
        first, last = scene.segment(at)
        alone = {each.word for each in scene.items[first:last] if each.kind == ""} <= _ABOUT_MEALS
        led = at > first and scene.items[at - 1].word in bag("for at by eating eat lunch dinner serving")
        if scene.used[at] or not (led or (alone and item.kind == "T")):
            continue
        by = time_asked(Asked(scene, at, at + 1), meal=True, loose=item.kind == "T" or led)
        if by is not None:
            plans[0].fields["by"] = by
            scene.use(at, at + 1, "question plan")
            return


def _odds_of_plans(scene: Scene, plans: Sequence[Draft]) -> None:
    """ "4 in 5 sure to eat at one": the odds that a plan is to keep."""
    for at, item in enumerate(scene.items[1:-1], 1):
        many, of = scene.items[at - 1], scene.items[at + 1]
        if item.word != "in" or many.kind != "N" or of.kind != "N" or not of.value.value:
            continue
        share = many.value.value / of.value.value
        if 0.5 <= share <= 0.99 and of.value.value <= 100:
            for draft in plans:
                draft.fields["odds"] = round(share, 2)
                scene.use(at - 1, at + 2, "question plan")


def _second_try(scene: Scene, first: int, last: int) -> bool:
    """ "brisket for 3 o'clock, are we ok?": the clause before belongs to the question."""
    a, b = scene.sentence(first)
    if first == a or scene.items[b - 1].word != "?":
        return False
    before, _ = scene.segment(max(a, first - 2))
    if any(scene.used[before:first]) or not compiled(
        r".*(?:are we|is it|is that|will it|will that|still|we|ok|on track|doable|possible|any chance|good"
        r"|realistic).*"
    ).fullmatch(Asked(scene, first, last).text):
        return False
    asked = Asked(scene, before, last)
    by = time_asked(asked, meal=True)
    if by is None or asked.items("P") or any(scene.items[n].kind == "H" for n in range(before, first)):
        return False
    scene.add(with_names(asked, {"is": "ready_by", "by": by}), before, last, "question ready_by", question=True)
    return True


def _spot_before(scene: Scene, first: int, last: int) -> tuple[dict[str, Any], int, int] | None:
    """ "turtle floor at 4, what'll it be?": the spot and the hour stand before the question."""
    asks = scene.row.words(first, last)
    if first < 2 or "it" not in asks or "be" not in asks or asks[0] != "what" or not set(asks) & {"'ll", "will"}:
        return None
    begin, end = scene.segment(first - 2)
    items = scene.items[begin:end]
    kinds = [item.kind for item in items if item.kind]
    small = all(item.word in ("at", "by", "in", "the", "of") for item in items if not item.kind)
    if not small or kinds.count("T") != 1 or not set(kinds) <= {"T", "O", "P", "I"} or len(kinds) < 2:
        return None
    if any(scene.used[begin:end]):
        return None
    asked = Asked(scene, begin, end)
    by = scene.coming(next(item.value for item in items if item.kind == "T"))
    fields = {"is": "oven_at", "by": by, "oven": asked.name("O"), "place": asked.name("P")}
    return fields, begin, last


_HOT = bag("hot temp temperature heat warm cool cold at reading reads running")


def _pronoun(asked: Asked) -> bool:
    """Whether the question stands for what was spoken of: "why is it late", and "why?" alone."""
    short = {"why", "so"} <= asked.words and not asked.words & bag("oven fire door lid pot")
    return short or bool(asked.words & bag("it they that this there them these those")) or asked.words <= {
        "why",
        "so",
        "then",
        "now",
    }
