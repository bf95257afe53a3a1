"""A message that goes on with what its sender said a moment before: "lamb core 88", then "and its liquor is low"."""

from __future__ import annotations

import re
from datetime import timedelta
from typing import Any

from bot.reading.carry import DISH_KINDS, DISH_QUESTIONS, OVEN_KINDS, OVEN_QUESTIONS
from bot.reading.context import Said
from bot.reading.lexicon import bag, phrase_set
from bot.reading.mended import people_of
from bot.reading.names import CUTS
from bot.reading.numbers_alone import number_alone
from bot.reading.scene import Draft, Scene, compiled, is_stop

# As long as a person takes to look again and type on (common practice, no source).
A_MOMENT = timedelta(minutes=3)

# So long after a heat "now 168" goes on with it, if it is no further off [K]; common practice, no source.
STILL_THERE, MOST_MOVED_K = timedelta(minutes=45), 60.0
# Warmer than this it is the food that is told of, not the fridge; common practice, no source.
WARMEST_FRIDGE_C = 15.0
_SMALL = r"(?:(?:and|it|it 's|is|still|down|up|back|at|to|about|around|only) )*"
_NOW_HEAT = rf"(?:{_SMALL}now {_SMALL}<V>|(?:back )?(?:down|up) to <V>(?: now)?|<V> now)(?: [.!])*"

# "In there" is said of the oven last spoken of, and a question answered, for longer than a moment.
# Who fed the fire last still talks of it (common practice, no source).
A_FIRING = timedelta(minutes=60)
A_WHILE, A_REPLY = timedelta(minutes=12), timedelta(minutes=5)

# As long as bread or a tart is in; common practice, no source.
A_BAKE = timedelta(minutes=75)

# "cheeks are 4 kilo trimmed and": the next piece goes on.
_OPEN_END = re.compile(r"(?:\b(?:and|plus|with)|[,+&])\s*(?:\.{2,}|…)?\s*$", re.IGNORECASE)

_JOINS = bag("and also plus then")
_LEADS = bag("oh ah ok right yes yep sorry")
_TOO = bag("too also well")
_PRONOUNS = bag("it they them that this those these its their there")
# Said of a dish that was just looked into, these need no word that joins them: "giving now", "out and resting".
_LOOKED = bag("check food stage")
_WENT_IN = ("in", "moved")
_DONE_TO_IT = bag("out turned topped_up lid_on lid_off")


def carry_on(scene: Scene) -> None:
    """What goes on with a message before it: a heat of the same spot, the names its sender spoke of just before."""
    _wood_goes_on(scene)
    _same_spot_now(scene)
    _answers_who(scene)
    _same_chill(scene)
    said = _just_before(scene)
    _shut_again(scene)
    _it_stands_at(scene, said)
    number_alone(scene)
    _baked(scene)
    if said is not None:
        _take_names(scene, said, _joined(scene) or _OPEN_END.search(said.text) is not None)
        _take_gun(scene, said)
        _weigh(scene, said)
        _pour(scene, said)
        _still_loading(scene, said)
        _act_alone(scene, said)
    elif scene.context.last and scene.context.last[-1].heard.questions:
        last = scene.context.last[-1]
        if scene.context.now - last.at <= A_MOMENT:
            # "Barrel want a log?", and another: "just fed it", or "gave two pieces already".
            asked_for_wood = all(entry.is_ == "refuel" for entry in last.heard.questions)
            fed = all(draft.fields.get("act") == "fed" for draft in scene.drafts)
            _take_names(scene, last, asked_for_wood and fed)
    _any_in_it(scene)
    _loaded_and_in(scene)
    _drop_ways_of_firing(scene)


_ANY_IN = compiled(
    r"(?:and |so )?(?:is there |are there |have we |got )?any (?:of (?:it|that) )?(?:in|on) (?P<dish><D>)(?: \?)?"
)


def _any_in_it(scene: Scene) -> None:
    """ "someone with a mustard allergy too. any in the pork?": of what was just told to be avoided."""
    said = scene.context.last[-1] if scene.context.last else None
    fresh = said is not None and scene.context.now - said.at <= A_REPLY
    before = [fact.said() for fact in said.heard.facts if fact.is_ == "guests"] if said is not None and fresh else []
    avoided = [draft.fields for draft in scene.drafts if draft.kind == "guests"] or before
    named = [fields["allergen"] for fields in avoided if "allergen" in fields]
    for first, last in scene.sentences:
        start, stop = scene.row.offset(first), scene.row.offset(last)
        match = _ANY_IN.fullmatch(scene.row.canon[start:stop].strip())
        if match is not None and named and not any(scene.used[first:last]):
            fields = {"is": "allergens", "allergen": named[-1], "dish": scene.name(match["dish"])}
            scene.add(fields, first, last, "goes on with what is avoided", question=True)


def _loaded_and_in(scene: Scene) -> None:
    """ "beans are 1.5 kilos with 4 l of water and they're going in": what was weighed is what went in."""
    loads = [draft for draft in scene.drafts if draft.kind == "load"]
    if len(loads) != 1 or "dish" in loads[0].fields or "cut" not in loads[0].fields:
        return
    words = str(loads[0].fields["cut"]).split()
    names = [str(item.value) for item in scene.items[: loads[0].last] if item.kind == "D"]
    bare = [each for each in scene.drafts if each.kind in ("pot", "stage") and "dish" not in each.fields]
    said = {word for each in bare for word in scene.row.words(max(0, each.first - 2), each.last)}
    if not names or words[0] != names[0] or not said & bag("it they them it's they're"):
        return
    for draft in bare:
        draft.fields["dish"] = names[0]
    loads[0].fields["dish"] = names[0]
    if words[1:]:
        loads[0].fields["cut"] = " ".join(words[1:])
    else:
        del loads[0].fields["cut"]


def _drop_ways_of_firing(scene: Scene) -> None:
    """ "tended" of no oven says nothing, nor of an oven that was just described so."""
    for draft in [each for each in scene.drafts if each.fields.keys() <= {"is", "fired", "oven"}]:
        said = [each for each in scene.drafts if each is not draft and draft.fields.items() <= each.fields.items()]
        if draft.kind == "oven" and (said or "oven" not in draft.fields):
            scene.drafts.remove(draft)


def _take_names(scene: Scene, said: Said, joined: bool) -> None:
    for kind, key, facts, questions in (
        ("O", "oven", OVEN_KINDS, OVEN_QUESTIONS),
        ("D", "dish", DISH_KINDS, DISH_QUESTIONS | {"why"}),
    ):
        name = _name(said, key)
        if name is None:
            continue
        liquids = phrase_set("liquids", "words")
        named = any(item.kind == kind and (str(item.value) in scene.context.dishes or item.words not in liquids)
                    for item in scene.items)
        for draft in scene.drafts:
            goes = draft.kind in (questions if draft.question else facts)
            # "That one's tended, the barrel is retained heat" names another oven beside the one it goes on with.
            goes = goes and (not named or (draft.kind == "oven" and draft.no_carry))
            if goes and key not in draft.fields and (joined or _goes_on(scene, draft, key)):
                draft.fields[key] = name


def _take_gun(scene: Scene, said: Said) -> None:
    """ "gun says floor 268 back 290", then "and mouth 215": the gun goes round on."""
    heats = [fact.said() for fact in said.heard.facts if fact.is_ == "reading" and "celsius" in fact.said()]
    shot = [heat for heat in heats if heat.get("place") != "air"]
    if not _joined(scene) or not shot or any(heat.get("tool") != "infrared" for heat in shot):
        return
    for draft in scene.drafts:
        if draft.kind == "reading" and draft.fields.get("place", "air") != "air" and "celsius" in draft.fields:
            draft.fields.setdefault("tool", "infrared")


def _weigh(scene: Scene, said: Said) -> None:
    """ "belly in the barrel", then "2.8 kg, 400 ml cider, roasting tin": of the pot that just went in."""
    dish = _name(said, "dish")
    put = any(fact.said().get("act") in _WENT_IN for fact in said.heard.facts)
    own = [draft for draft in scene.drafts if draft.kind == "load"]
    others = [item for item in scene.items if item.kind == "D" and not set(item.words) <= CUTS]
    if dish is None or not put or len(own) != 1 or "dish" in own[0].fields or others:
        return
    own[0].fields["dish"] = dish


_PLUS = compiled(
    r"(?:plus |and |added |gave it |another )*(?P<litres><L>)(?: (?:more|water|in|of (?:hot |boiling )?water))*"
    r"(?: [.!])*"
)


def _pour(scene: Scene, said: Said) -> None:
    """ "liquor low", then "+200 ml": poured into the pot that was just looked into."""
    match = _PLUS.fullmatch(scene.row.canon)
    looked = any(fact.is_ == "check" for fact in said.heard.facts)
    # "stew tender, out", then "7 l": what is left of it, and nothing that was poured.
    gone = any(fact.is_ == "pot" and fact.said()["act"] == "out" for fact in said.heard.facts)
    if match is not None and looked and not gone and not scene.drafts:
        fields = {"is": "pot", "act": "topped_up", "litres": scene.number(match["litres"]), "dish": _name(said, "dish")}
        scene.add(fields, 0, len(scene.items), "goes on with the dish")


_LIQUID_TOO = compiled(
    r"(?:oh |ah |and |plus |also |with |then )+(?P<litres><L>)(?: (?:of|(?P<state>hot|boiling|cold|warm)|<D>|<W>))*"
    r"(?: (?:in|too|with it))*(?: [.!])*"
)
_STARTS = {"hot": "hot", "boiling": "hot", "cold": "cold", "warm": "warm"}


def _still_loading(scene: Scene, said: Said) -> None:
    """ "cheeks in the dome, 3 kg", then "plus 1.5 l hot stock": part of what went in, not poured on later."""
    match, dish = _LIQUID_TOO.fullmatch(scene.row.canon), _name(said, "dish")
    told = [fact.said() for fact in said.heard.facts]
    went_in = any(fact["is"] == "load" or fact.get("act") in _WENT_IN for fact in told)
    wet = any("liquid_l" in fact for fact in told) or any(fact["is"] == "check" for fact in told)
    loose = all(draft.kind in ("load", "contents") or draft.fields.get("act") == "topped_up" for draft in scene.drafts)
    if match is None or dish is None or not went_in or wet or not loose or "added" in scene.vocabulary:
        return
    scene.drafts.clear()
    start = _STARTS.get(match["state"] or "")
    fields = {"is": "load", "dish": dish, "liquid_l": scene.number(match["litres"]), "start": start}
    scene.add(fields, 0, len(scene.items), "goes on with the load")


_MORE_WOOD = compiled(
    r"(?:about |and |another |now |roughly |so far |plus )*(?P<kilos><K>)(?: (?:more|on|far|of|dry|again|another"
    r"|now|to start|total|in all|all|wood|logs|,|(?P<species><W>)))*(?: [.!])*"
)


def _wood_goes_on(scene: Scene) -> None:
    """ "lit the dome", then "7 kg beech, dry"; later "3 kg more": a weight alone, from who told of the fire last."""
    match = _MORE_WOOD.fullmatch(scene.row.canon)
    own = next((said for said in reversed(scene.context.last)
                if said.who == scene.context.sender and said.heard.facts), None)
    if match is None or own is None or scene.context.now - own.at > A_FIRING:
        return
    fires = [fact.said() for fact in own.heard.facts if fact.is_ == "fire"]
    species = match["species"]
    known = species is None or (species,) in phrase_set("wood", "species")
    if not fires or len(fires) < len(own.heard.facts) or fires[-1]["act"] not in ("lit", "fed") or not known:
        return
    scene.drafts.clear()
    fields = {"is": "fire", "act": "fed", "oven": fires[-1].get("oven"), "species": species}
    scene.add({**fields, "wood_kg": scene.number(match["kilos"])}, 0, len(scene.items), "goes on with the fire")


def _same_spot_now(scene: Scene) -> None:
    """ "air 175", then "now 168": the spot of the last message, if it told of one spot alone."""
    stop = next((at for at, item in enumerate(scene.items) if is_stop(item) or (at and item.word == "and")),
                len(scene.items))
    clause = scene.row.canon[: scene.row.offset(stop)].strip() if stop < len(scene.items) else scene.row.canon
    free = not any(draft.first < stop for draft in scene.drafts)
    if not free or not scene.context.last or not compiled(_NOW_HEAT).fullmatch(clause):
        return
    told = [fact.said() for fact in scene.context.last[-1].heard.facts]
    value = next(scene.number(f"{item.kind}{at}") for at, item in enumerate(scene.items) if item.kind in ("N", "H"))
    if len(told) != 1 or scene.context.now - scene.context.last[-1].at > STILL_THERE or value is None:
        return
    spot_told = told[0]["is"] == "food" or (told[0]["is"] == "reading" and "place" in told[0])
    if spot_told and abs(value - told[0].get("celsius", -999)) <= MOST_MOVED_K:
        spot: dict[str, Any] = {key: told[0].get(key) for key in ("is", "oven", "place", "tool", "dish", "part")}
        scene.add({**spot, "celsius": value}, 0, stop, "the same spot now")


_I_HAVE = compiled(
    r"(?:yes |yep |(?:that|it) (?:'s|is) |(?:that|it) (?:'d|would|will) be )?"
    r"(?:(?P<me>me|i am|i do|i have|i have got it|i have it|i got it|mine|i 'm on it|i am on it)"
    r"|(?P<who>[a-z]+)(?: (?:'s|has|is|has got|'s got|is on|'s on|does|got|on))?(?: it)?)"
    r"(?: (?:till <T>|until <T>|now|for now|today|again|still|chef|ta))*(?: [.!])*"
)


_ALONE = compiled(
    r"(?:and |now |then |all |it 's |they are |they 're |back )*(?P<act>out|in|turned)"
    r"(?: (?:again|now|already|at last|finally|too))*"
    r"(?: (?:[.,!]|and resting.*|, resting.*))*"
)
# "and out, blistered to bits, gorgeous": what it looks like may follow.
_ALONE_AND_MORE = compiled(
    r"(?:and|then|and then) (?P<act>out|in|turned)(?: (?:again|now|already|at last|finally|too))*"
    r" [,.!-](?: (?:<W>|[,.!]))+"
)


_SHUT = compiled(r"(?:(?:and|now|ok|it 's|is|back) )*(?:shut|closed|on)(?: (?:again|now|back|up|tight|it))+(?: [.!])*")


def _shut_again(scene: Scene) -> None:
    """ "door ajar", and a while later "shut again": the door that stood open."""
    told = [(said.at, fact) for said in scene.context.last for fact in said.heard.facts if fact.is_ == "door"]
    if scene.drafts or not told or _SHUT.fullmatch(scene.row.canon) is None:
        return
    at, door = told[-1]
    if door.said()["state"] != "on" and scene.context.now - at <= A_FIRING:
        scene.add({"is": "door", "state": "on", "oven": door.said().get("oven")}, 0, len(scene.items), "shut again")


def _act_alone(scene: Scene, said: Said) -> None:
    """ "core 91 and tender", then "out and resting": what was done to the dish just spoken of."""
    match = _ALONE.fullmatch(scene.row.canon) or _ALONE_AND_MORE.fullmatch(scene.row.canon)
    dish = _name(said, "dish")
    if match is None or dish is None or any(draft.kind == "pot" for draft in scene.drafts):
        return
    if any(fact.is_ in bag("pot check food load stage") for fact in said.heard.facts):
        at, last = scene.row.items_of(match.start("act"), match.end("act"))
        scene.add({"is": "pot", "act": match["act"], "dish": dish}, at, last, "goes on with the dish")


_OUT_OF_OVEN = compiled(r"(?:(?:and|ok|all|now|there|they 're|it 's) )*(?P<act>out)(?: now)? [,.!-](?: (?:<W>|[,.!]))+")
_PEOPLE_OUT = bag("back off home lunch break minutes shop shops till until for if of the walk later")


def _baked(scene: Scene) -> None:
    """ "batards in", half an hour later "out, nice ears": what its sender put in last, if nothing went in since."""
    match = _OUT_OF_OVEN.fullmatch(scene.row.canon)
    if match is None or scene.drafts or scene.has_any(_PEOPLE_OUT):
        return
    told = [(said, fact.said()) for said in scene.context.last for fact in said.heard.facts if fact.is_ == "pot"]
    told = [(said, fact) for said, fact in told if fact["act"] in ("in", "out", "moved")]
    if not told or told[-1][1]["act"] != "in" or told[-1][0].who != scene.context.sender:
        return
    if "dish" in told[-1][1] and scene.context.now - told[-1][0].at <= A_BAKE:
        at, last = scene.row.items_of(match.start("act"), match.end("act"))
        scene.add({"is": "pot", "act": "out", "dish": told[-1][1]["dish"]}, at, last, "goes on with the dish")


def _answers_who(scene: Scene) -> None:
    """ "who's on the barrel?", then "me": what was asked about is claimed."""
    if scene.drafts or not scene.context.last or scene.context.now - scene.context.last[-1].at > A_REPLY:
        return
    asked = [entry.said() for entry in scene.context.last[-1].heard.questions if entry.is_ == "who"]
    match = _I_HAVE.fullmatch(scene.row.canon)
    if len(asked) != 1 or match is None or (match["who"] and match["who"] not in people_of(scene)):
        return
    who = {"who": match["who"]} if match["who"] else {}
    scene.add({"is": "task", "act": "claim", "what": asked[0]["what"], **who}, 0, len(scene.items), "answers who")


def _just_before(scene: Scene) -> Said | None:
    """The sender's last message, if it told or asked something and is fresh."""
    own = [said for said in scene.context.last if said.who == scene.context.sender]
    there = compiled(r"in (?:there|that one|that|it)").search(scene.row.canon) is not None
    if scene.context.sender is None or not own or scene.context.now - own[-1].at > (A_WHILE if there else A_MOMENT):
        return None
    return own[-1]


def _name(said: Said, key: str) -> str | None:
    """The one oven or dish that a message was about; None if it was about several or none."""
    entries = [entry for entry in (*said.heard.facts, *said.heard.questions) if entry.is_ not in ("fix", "class")]
    names = {name for entry in entries if (name := getattr(entry, key, None)) is not None}
    return str(names.pop()) if len(names) == 1 else None


_IT_IS = compiled(
    r"(?:and )?(?:it|that) (?:'s|is|reads|shows|says)(?: (?:at|on|about|now|only))* (?P<value><V>)(?: now)?(?: [.!])*"
)


def _it_stands_at(scene: Scene, said: Said | None) -> None:
    """ "chickpeas in the fridge now", then "it is at 3.5": a cold heat, of the fridge just spoken of."""
    match = _IT_IS.fullmatch(scene.row.canon)
    if said is None or match is None or scene.drafts or "fridge" not in said.text.lower().split():
        return
    value = scene.number(match["value"])
    if value is not None and value <= WARMEST_FRIDGE_C:
        scene.add({"is": "store", "place": "fridge", "celsius": value}, 0, len(scene.items), "goes on with the fridge")


def _joined(scene: Scene) -> bool:
    """Whether the words join it to the sentence before: "oh and lid on", "lid on too"."""
    words = [item.word for item in scene.items if item.kind != "."]
    while words and words[0] in _LEADS:
        words.pop(0)
    stop = next((at for at, item in enumerate(scene.items) if is_stop(item)), 0)
    ends = {scene.items[stop - 1].word} if stop else set()  # "mouth too, 150"
    return bool(words) and (words[0] in _JOINS or words[-1] in _TOO or bool(ends & {"too"}))


def _goes_on(scene: Scene, draft: Draft, key: str) -> bool:
    if (key == "dish" and draft.kind in _LOOKED and not draft.question) or draft.kind == "oven":
        return True
    if key == "dish" and draft.kind == "pot" and draft.fields.get("act") in _DONE_TO_IT:
        return True
    if key == "dish" and draft.rule == "telegram of a chill":
        return True
    a, b = scene.segment(draft.first)
    here = range(min(a, draft.first), max(b, draft.last))
    words = {scene.items[n].word for n in here if scene.items[n].kind == "" and not _existing(scene, n)}
    return bool(words & _PRONOUNS)


def _existing(scene: Scene, at: int) -> bool:
    """ "there's flour in the sear": this "there" points at nothing."""
    behind = scene.items[at + 1].word if at + 1 < len(scene.items) else ""
    return scene.items[at].word == "there" and behind in ("'s", "is", "are")


def _same_chill(scene: Scene) -> None:
    """ "beans in trays 5 cm deep on ice", then "how long will that take to chill": the depth was given."""
    asked = [draft for draft in scene.drafts if draft.kind == "chill_time" and _goes_on(scene, draft, "")]
    last = scene.context.last[-1] if scene.context.last else None
    fresh = last is not None and scene.context.now - last.at <= A_REPLY
    told = [fact.said() for fact in last.heard.facts if fact.is_ == "chill"] if last is not None and fresh else []
    for draft in asked:
        for key in ("dish", "depth_cm", "litres", "method"):
            if told and key in told[-1]:
                draft.fields.setdefault(key, told[-1][key])
