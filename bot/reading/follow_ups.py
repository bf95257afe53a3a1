"""What is asked or told of what the talk was about just now, whoever spoke: "and the beans?", "when will it be done",
"anchovies, mustard, butter" to the question what is in it.
"""

from __future__ import annotations

import re
from datetime import timedelta
from typing import Any

from bot.reading.carry import DISH_KINDS, DISH_QUESTIONS, OVEN_KINDS, OVEN_QUESTIONS
from bot.reading.clock_times import Clock
from bot.reading.context import Said
from bot.reading.lexicon import allergens_in, bag, phrase_set
from bot.reading.numbers import Number
from bot.reading.rules_contents import is_ingredient
from bot.reading.scene import Draft, Scene, clean, compiled, is_stop
from bot.reading.units import fahrenheit

# So long a question waits for its second half or its answer, and so long "it" stays what was last spoken of, if
# nothing was told in between; common practice, no source.
A_REPLY, A_TOPIC = timedelta(minutes=6), timedelta(minutes=30)
HOTTEST_FOOD_C, HOTTEST_BRICK_C = 115.0, 520.0
_IN_F = re.compile(r"\d ?°? ?F\b|fahrenheit", re.IGNORECASE)
MOST_WORDS = 3


def follow_up(scene: Scene) -> None:
    """All of these; the sender's own sentences that go on were joined before."""
    if not scene.context.last or not scene.items:
        return
    if _asked_again(scene) or _lists_contents(scene):
        return
    _fire_too(scene)
    _pot_too(scene)
    _told_anew(scene)
    _how_it_went_in(scene)
    _same_unit(scene)
    _probed_outside(scene)
    _meal_settled(scene)
    topic = _topic(scene)
    if topic is None:
        return
    _act_on_it(scene, topic)
    _it_is_hot(scene, topic)
    _name_it(scene, topic)


def _topic(scene: Scene) -> Said | None:
    """The last message that told or asked of something of a name, if it is fresh."""
    for said in reversed(scene.context.last):
        if scene.context.now - said.at > A_TOPIC:
            return None
        if _names(scene, said, "dish") or _names(scene, said, "oven"):
            return said
    return None


def topic_dishes(scene: Scene) -> set[str]:
    """The dishes that the talk was of just now."""
    topic = _topic(scene)
    return set() if topic is None else _names(scene, topic, "dish")


def _names(scene: Scene, said: Said, key: str) -> set[str]:
    entries = [entry.said() for entry in (*said.heard.facts, *said.heard.questions)]
    found = {str(entry[key]) for entry in entries if key in entry}
    if key == "oven":  # "who has the barrel"
        found |= {str(entry["what"]) for entry in entries if entry.get("what") in scene.context.ovens}
    if key == "dish" and not found:
        # What was weighed under its butcher's name is the dish until somebody names it.
        cuts = {str(entry["cut"]) for entry in entries if entry["is"] == "load" and "cut" in entry}
        found = {cut for cut in cuts if tuple(cut.split()) in phrase_set("dishes", "words")}
    return found


# --- questions

_AGAIN = compiled(
    r"(?:(?:ok|so|right|oh|then|no|thanks|,) )*(?P<lead>and|what about|how about|and what about|and how about|or"
    r"|same for|so|)(?: ?(?:if|with|for|on|in|by|at|we|are|there|to|from|a|into|,))* ?"
    r"(?P<what><D>|<O>|<T>|<C>(?: deep)?|<V>|<N>(?: (?:guests|people|of us|of them|persons|pax|portions))?"
    r"|ice|fridge|side|<W>)(?: (?:then|instead|too|as well|please|today))*(?P<ask>(?: \?)*)"
)
_GUESTS = bag("plan amount")
_BY = bag("ready_by oven_at plan")
_METHODS = {"ice": "ice", "fridge": "fridge", "side": "room"}


def _asked_again(scene: Scene) -> bool:
    """ "how much lamb for 18?", then "and beans?": the same question of something else."""
    match = _AGAIN.fullmatch(scene.row.canon)
    said = scene.context.last[-1]
    if not said.heard.questions:  # somebody's answer may stand in between
        asked_before = [each for each in scene.context.last[-3:] if each.heard.questions]
        said = next((each for each in reversed(asked_before) if each.who == scene.context.sender), said)
    if match is None or scene.context.now - said.at > A_REPLY or len(said.heard.questions) != 1:
        return False
    own = said.who == scene.context.sender
    if not (match["ask"] or "about" in match["lead"] or (own and match["lead"] == "and")):
        return False
    if not match["lead"] and not (own and match["what"][0] in "TN"):
        return False
    asked = dict(said.heard.questions[0].said())
    changed = _changed(scene, asked, match["what"].split()[0])
    if changed is None or any(not draft.question for draft in scene.drafts):
        return False
    scene.drafts.clear()
    scene.add(changed, 0, len(scene.items), "goes on with the question", question=True)
    return True


def _changed(scene: Scene, asked: dict[str, Any], what: str) -> dict[str, Any] | None:
    kind, is_ = what[0], asked["is"]
    if what in _METHODS and is_ == "chill_time":
        return {**asked, "method": _METHODS[what]}
    if is_ == "amount" and (kind == "D" or (what.isalpha() and what.islower())):
        item = scene.name(what) if kind == "D" else what
        return {**asked, "item": item} if "guests" in asked else None
    if what.isalpha():
        return _of_allergen(asked, what)
    if kind == "D" and is_ in DISH_QUESTIONS | bag("status why"):
        kept = {key: value for key, value in asked.items() if key not in ("oven", "dish")}
        return {**kept, "dish": scene.name(what)}
    if kind == "O" and is_ in OVEN_QUESTIONS | bag("status eta why plan"):
        kept = {key: value for key, value in asked.items() if key != "dish"}
        return {**kept, "oven": scene.name(what)}
    if kind == "O" and is_ == "who":
        return {**asked, "what": scene.name(what)}
    clock = scene.clock(what) if kind in "TN" else None
    value = scene.number(what) if kind in "NHC" else None
    if kind == "N" and is_ in _GUESTS and value is not None and value % 1 == 0 and 1 <= value <= 200:
        return {**asked, "guests": int(value)}
    if is_ == "oven_at" and "celsius" in asked and kind in "NH" and value is not None and value >= 60:
        return {**asked, "celsius": value}
    if is_ in _BY and isinstance(clock, Clock) and ("celsius" not in asked):
        by = scene.coming(clock) if is_ == "oven_at" else scene.coming_meal(clock)
        return {**asked, "by": by}
    if kind == "C" and is_ == "chill_time":
        return {**asked, "depth_cm": value}
    return None


def _of_allergen(asked: dict[str, Any], what: str) -> dict[str, Any] | None:
    named = allergens_in((what,))
    return {**asked, "allergen": named[0]} if asked["is"] == "allergens" and "allergen" in asked and named else None


# --- what is in it

_YES = bag("yes yeah yep just only it it's has got there there's is 's some a bit of in and with the also plus well ok")
_NO_MORE = [("so", "no"), ("that", "'s", "it"), ("that", "'s", "all"), ("nothing", "else"), ("both",), ("i", "think")]
_NOT = bag("no not without free none never nothing don't isn't instead out on off later")


def _lists_contents(scene: Scene) -> bool:
    """ "anchovies, mustard, butter", when somebody just asked what is in the lamb."""
    said = next((each for each in reversed(scene.context.last) if each.heard.facts or each.heard.questions), None)
    if said is None or scene.context.now - said.at > A_REPLY or scene.items[-1].word == "?":
        return False
    asked = [entry.said() for entry in said.heard.questions if entry.is_ == "allergens"]
    loose = all(draft.kind in ("contents", "load") for draft in scene.drafts)
    if len(asked) != 1 or "dish" not in asked[0] or not loose:
        return False
    found: list[tuple[tuple[str, ...], int, int]] = []
    begin = 0
    for at in range(len(scene.items) + 1):
        item = scene.items[at] if at < len(scene.items) else None
        if item is not None and not (is_stop(item) or (item.kind == "" and item.word in ("and", "&", "+", "plus"))):
            continue
        words = scene.row.words(begin, at)
        while words and words[0] in _YES:
            words = words[1:]
        while words and words[-1] in bag("both too also well in it as then"):
            words = words[:-1]
        if words and words not in _NO_MORE:
            found.append((words, begin, at))
        begin = at + 1
    named = [bool(allergens_in(words)) for words, _, _ in found]
    plain = all(
        len(words) <= MOST_WORDS
        and not set(words) & _NOT
        and all(word.replace("-", "").isalpha() for word in words)
        and (told or is_ingredient(words) or len(words) <= 2)
        for told, (words, _, _) in zip(named, found, strict=True)
    )
    if not found or not any(named) or not plain or any(item.kind in "NTHKLCOP" for item in scene.items if item.kind):
        return False
    scene.drafts.clear()
    for words, first, last in found:
        fields = {"is": "contents", "item": clean(" ".join(words)), "dish": asked[0]["dish"]}
        allergens = allergens_in(words)
        for more in [{"allergen": name} for name in allergens] or [{}]:
            scene.add({**fields, **more}, first, last, "answers what is in it")
    return True


# --- what its sender told just before

A_FIX, A_UNIT = timedelta(minutes=20), timedelta(minutes=45)
_TOO = compiled(r"(?:and )?(?P<oven><O>)(?: (?:as well|too|same))?(?: (?:at|from|since))? (?P<time><T>)(?: [.!])*")
_PARDONS = bag("sorry oops whoops actually no correction wait hang")


def _own(scene: Scene, within: timedelta) -> Said | None:
    own = [said for said in scene.context.last if said.who == scene.context.sender and said.heard.facts]
    return own[-1] if own and scene.context.now - own[-1].at <= within else None


def _fire_too(scene: Scene) -> None:
    """ "lit the dome at five", then "and the barrel at quarter to six"."""
    said, match = _own(scene, A_REPLY), _TOO.fullmatch(scene.row.canon)
    if said is None or match is None or scene.drafts or not scene.row.canon.startswith("and "):
        return
    acts = [fact.said() for fact in said.heard.facts if fact.is_ == "fire"]
    if len(acts) == 1 and acts[0].get("oven") != scene.name(match["oven"]):
        fields = {"is": "fire", "act": acts[0]["act"], "oven": scene.name(match["oven"])}
        at = scene.past(scene.clock(match["time"]))
        scene.add({**fields, "at": at}, 0, len(scene.items), "goes on with the fire")


_POT_TOO = compiled(
    r"(?:(?:and|plus|then|also|oh) )+(?P<dish><D>)(?: (?:too|also|as well|now|with it|beside it|next to it|behind it))*"
    r"(?: [,-]?(?: ?(?:<P>|left|right|hand|side|back|front|on|at|to|in|of|it|corner|behind|beside))+)?(?: [.!])*"
)
_DONE_TO = ("in", "out", "moved", "turned")


def _pot_too(scene: Scene) -> None:
    """ "beans in the dome, lid on", then "and the ham, left hand side": done to it as to the other just before."""
    said, match = _own(scene, A_REPLY), _POT_TOO.fullmatch(scene.row.canon)
    if said is None or match is None or scene.drafts:
        return
    acts = [fact.said() for fact in said.heard.facts if fact.is_ == "pot" and fact.said()["act"] in _DONE_TO]
    dish = scene.name(match["dish"])
    if not acts or any("dish" not in act or act["dish"] == dish for act in acts):
        return
    kept = {key: acts[-1].get(key) for key in ("is", "act", "oven")}
    scene.add({**kept, "dish": dish}, 0, len(scene.items), "goes on with the pots")


def _told_anew(scene: Scene) -> None:
    """ "ribs in", then "sorry, ribs went in at ten to nine": its time, mended."""
    said = _own(scene, A_FIX)
    drafts = [draft for draft in scene.drafts if "at" in draft.fields and draft.kind in ("pot", "fire")]
    if said is None or len(drafts) != 1 or len(scene.drafts) != 1 or scene.items[0].word not in _PARDONS:
        return
    fields = drafts[0].fields
    before = [fact.said() for fact in said.heard.facts if fact.is_ == fields["is"]]
    told = [each for each in before if each["act"] == fields["act"]]
    same = [each for each in told if each.get("dish") == fields.get("dish", each.get("dish"))]
    if len(same) != 1 or same[0].get("at") == fields["at"] or scene.row.words(0, 2) == ("sorry", "forgot"):
        return
    kept = {key: value for key, value in fields.items() if key in ("oven", "dish", "at")}
    drafts[0].fields = {"is": "fix", "act": "replace", "of": fields["is"], **kept}


_STATE = compiled(
    r"(?:the )?(?:<D>|stock|water|cider|wine|broth|liquid|liquor|beer|ale|milk)(?: (?:was|were|is|'s|went in|already))*"
    r" (?P<state>boiling|hot|cold|warm|from (?:the )?fridge|straight from (?:the )?fridge)(?: hot| already)?(?: [.!])*"
)


def _how_it_went_in(scene: Scene) -> None:
    """ "brisket in with a litre of stock", then "stock was boiling": how the load began."""
    said, match = _own(scene, A_REPLY), _STATE.fullmatch(scene.row.canon)
    loads = [fact.said() for fact in said.heard.facts if fact.is_ == "load"] if said is not None else []
    if match is None or len(loads) != 1 or "liquid_l" not in loads[0] or "start" in loads[0]:
        return
    if any(item.kind == "D" and item.words not in phrase_set("liquids", "words") for item in scene.items):
        return
    start = {"boiling": "hot", "hot": "hot", "warm": "warm"}.get(match["state"], "cold")
    scene.drafts.clear()
    fields = {"is": "load", "dish": loads[0].get("dish"), "start": start}
    scene.add(fields, 0, len(scene.items), "goes on with the load")


def _same_unit(scene: Scene) -> None:
    """ "dome floor 610 F", then "back wall 655": its teller goes on in Fahrenheit, if Celsius is out of all reason."""
    said = [each for each in scene.context.last if each.who == scene.context.sender]
    recent = [each for each in said if scene.context.now - each.at <= A_UNIT]
    if not any(_IN_F.search(each.text) for each in recent):
        return
    for draft in scene.drafts:
        value = draft.fields.get("celsius")
        plain = not any(item.kind == "H" for item in scene.items[draft.first : draft.last])
        most = HOTTEST_FOOD_C if draft.kind == "food" else HOTTEST_BRICK_C
        if draft.kind in ("food", "reading") and value is not None and plain and value > most:
            draft.fields["celsius"] = fahrenheit(float(value))


def _probed_outside(scene: Scene) -> None:
    """ "lamb's out, resting", then "probe says 94": what came out is probed, not a floor."""
    said = _own(scene, A_REPLY)
    out = [fact.dish for fact in said.heard.facts if fact.said().get("act") == "out" or
           fact.said().get("stage") == "resting"] if said is not None else []
    for draft in scene.drafts:
        told = draft.fields
        bare = draft.kind == "reading" and told.get("tool") == "probe" and "oven" not in told and not any(
            item.kind in ("P", "O") for item in scene.items[draft.first : draft.last])
        if out and bare and _LEAST_PROBED_C <= float(told.get("celsius", 0.0)) <= HOTTEST_FOOD_C:
            draft.fields = {"is": "food", "dish": out[-1], "celsius": told["celsius"], "part": "core"}


_SETTLES = compiled(
    r"(?:(?:ok|yeah|yep|yes|right|fine|no|well|alright|then|so|,) )*(?:let 's |let us |we 'll |we will |we )?"
    r"(?:go for|go|go with|do|make it|call it|say|stick with|settle on|it 's) (?:for )?(?P<time><T>|<N>)"
    r"(?: (?:then|instead|it is|please|pls))*(?: [.!])*"
)


def _meal_settled(scene: Scene) -> None:
    """ "will it make half one?", "what if we eat at two?", then "ok make it two": that is when they eat."""
    match = _SETTLES.fullmatch(scene.row.canon)
    if match is None or any(not draft.question and draft.kind != "serve" for draft in scene.drafts):
        return
    asked = [entry.said() for said in scene.context.last[-6:] if scene.context.now - said.at <= A_REPLY
             for entry in said.heard.questions]
    of_meal = any(each["is"] == "ready_by" or (each["is"] == "what_if" and any(
        fact["is"] == "serve" for fact in each["facts"])) for each in asked)
    clock = scene.clock(match["time"])
    if of_meal and isinstance(clock, Clock):
        scene.drafts.clear()
        scene.add({"is": "serve", "by": scene.coming_meal(clock)}, 0, len(scene.items), "settles the meal")


# A joint that comes out is at least this warm in its middle, where it is worth the probing [degC].
_LEAST_PROBED_C = 40.0


# --- it

_IT = bag("it it's its they them they're that's those")
_DISH_FACTS = DISH_KINDS - bag("contents load")


def _name_it(scene: Scene, topic: Said) -> None:
    """ "lamb 57 inside", and another: "took it out", "when will it be done"."""
    own = topic.who == scene.context.sender
    for key, facts, questions in (
        ("dish", _DISH_FACTS, DISH_QUESTIONS),
        ("oven", OVEN_KINDS - bag("pot reading"), OVEN_QUESTIONS | {"eta"}),
    ):
        names = _names(scene, topic, key)
        if len(names) != 1 or any(item.kind in "OD" for item in scene.items if item.kind):
            continue
        said_it = False
        for draft in scene.drafts:
            wanted = draft.kind in (questions if draft.question else facts)
            if not wanted or {"dish", "oven"} & draft.fields.keys() or draft.fields.get("act") == "moved":
                continue
            if draft.fields.get("act") == "out" and not own and _of_two(scene, topic):
                continue
            if key == "oven" and draft.kind == "eta" and not own and _names(scene, topic, "dish"):
                continue
            if _says_it(scene, draft) or (said_it and not draft.question):
                draft.fields[key] = next(iter(names))
                said_it = True  # "it's giving, 89 inside": the name holds on


def _of_two(scene: Scene, topic: Said) -> bool:
    """Whether another than who spoke of a pot a while ago may mean the other pot by "took it out"."""
    return len(scene.context.standing) > 1 and scene.context.now - topic.at > A_REPLY


def _says_it(scene: Scene, draft: Draft) -> bool:
    if draft.rule == "telegram of a chill":
        return True
    a, b = scene.segment(draft.first)
    words = set(scene.row.words(min(a, draft.first), max(b, draft.last)))
    return bool(words & _IT)


_ACT = compiled(
    r"(?:and |now |then |it 's |it |they |they 're |went |back )*(?P<act>in|out)(?:(?: in| into|to)? (?P<oven><O>))?"
    r"(?:(?: at| since)? (?P<time><T>))?(?: now)?(?: [.!])*"
)


def _act_on_it(scene: Scene, topic: Said) -> None:
    """ "goose 4.5 kg, roasting tin", a while later "in the dome at 9.18"; "and out"."""
    match, names = _ACT.fullmatch(scene.row.canon), _names(scene, topic, "dish")
    own = topic.who == scene.context.sender and scene.context.now - topic.at <= A_FIX
    if match is None or not own or len(names) != 1 or scene.drafts or len(scene.items) < 2:
        return
    at = scene.past(scene.clock(match["time"])) if match["time"] else None
    fields = {"is": "pot", "act": match["act"], "dish": next(iter(names)), "oven": scene.name(match["oven"]), "at": at}
    scene.add(fields, 0, len(scene.items), "goes on with the dish")


_HOT = compiled(
    r"(?:and |ok |yes |now )*(?:it|that|they) (?:'s|is|are|reads|shows|says|was|hit|reached|got to)"
    r"(?: (?:at|on|about|now|only|up|to|just|still))* (?P<value><V>)(?P<core>(?: (?:in|at) (?:middle|centre|center|core"
    r"|thickest(?: part| bit)?)| inside| core)?)(?: (?:now|inside|already))*"
)


def _it_is_hot(scene: Scene, topic: Said) -> None:
    """ "lamb 49 in the middle", later "it's 57, took it out": the food's heat."""
    names = _names(scene, topic, "dish")
    entries = (*topic.heard.facts, *topic.heard.questions)
    food = any(entry.is_ in bag("food check eta ready_by status") for entry in entries)
    stop = next((at for at, item in enumerate(scene.items) if is_stop(item)), len(scene.items))
    if len(names) != 1 or not food or any(draft.first < stop for draft in scene.drafts) or not stop:
        return
    end = scene.row.offset(stop) if stop < len(scene.items) else len(scene.row.canon)
    match = _HOT.fullmatch(scene.row.canon[:end].strip())
    if match is None:
        return
    item = scene.item(match["value"])
    value = scene.number(match["value"])
    written = item.kind == "H" or (isinstance(item.value, Number) and not item.value.words)
    if value is None or not written or not 20 <= value <= HOTTEST_FOOD_C:
        return
    fields = {"is": "food", "celsius": value, "part": "core" if match["core"] else None, "dish": next(iter(names))}
    scene.add(fields, 0, stop, "goes on with the food's heat")
