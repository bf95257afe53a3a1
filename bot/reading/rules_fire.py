"""The fire: lit, embers spread, raked, out."""

from __future__ import annotations

from itertools import pairwise
from typing import Any

from bot.reading.lexicon import bag
from bot.reading.rules_feeding import find_feeds
from bot.reading.scene import Found, Scene, compiled
from bot.reading.wood import wood_behind, word_of_item

_IN = r"(?:(?: (?:at|about))?(?: <T>)? (?:in|on|for|under|at) (?:(?P<oven><O>)|oven|it))?"


def fires(scene: Scene) -> None:
    """Acts on a fire."""
    _listed(scene)
    _spread(scene)
    _raked(scene)
    _lit(scene)
    _lit_new(scene)
    _lit_too(scene)
    _wood_of_its_own(scene)
    find_feeds(scene)
    _out(scene)


def _listed(scene: Scene) -> None:
    """ "lit: dome 06:50, barrel 07:20": one act for every oven of the list, each with its time."""
    for found in scene.find(
        r"(?P<act>lit|raked|spread|out)(?: out)?(?: ovens?| fires?)?(?: [:-])? "
        r"(?P<list><O>(?: at)? <T>(?: (?:[,;/]|and)(?: and)? <O>(?: at)? <T>)+)"
    ):
        first, last = found.items_of("list")
        for at in range(first, last):
            if scene.items[at].kind == "O":
                time = next(item for item in scene.items[at:last] if item.kind == "T")
                draft = scene.add(
                    {"is": "fire", "act": found["act"], "oven": str(scene.items[at].value)},
                    at,
                    at + 2,
                    "fires of a list",
                    keep=True,
                )
                draft.time = time.value
        scene.use(found.first, found.last, "fires of a list")


def _add(scene: Scene, found: Found, act: str, rule: str, **more: Any) -> None:
    oven = next((found.name(name) for name in ("oven", "oven2", "oven3") if found.has(name)), None)
    scene.add({"is": "fire", "act": act, "oven": oven, **more}, found.first, found.last, rule)


_SPREAD_WORDS = bag("ember embers ashes bed spread scattered spreading")


def _spread(scene: Scene) -> None:
    if not scene.has_any(_SPREAD_WORDS):
        return
    embers = r"(?:embers?|hot embers|bed of embers|ember bed|ashes|fire|bed)"
    over = (
        r"(?: (?:out|all|evenly|right|flat|now|wide|again|thin|thinly))*(?: (?:over|across|on|around|about"
        r"|along|round|to|in)(?: all)?(?: whole| entire| full)? (?:<P>|oven|(?P<oven><O>))(?: (?:<P>|brick"
        r"|bricks|of (?P<oven2><O>)|in (?P<oven3><O>)|floor))*)?"
    )
    for pattern in (
        rf"{embers}(?: (?:'s|is|are|been|have|has|all|now|got|were|was))* (?:spread|scattered|raked flat"
        rf"|levelled|leveled|pushed|pulled|drawn|dragged|raked)(?: (?:out|all|evenly|flat"
        rf"|now|right|back|thin|thinly))*(?: (?:over|across|around|all over)(?: whole| all| entire)? (?:<P>"
        rf"|oven))(?: (?:in"
        rf"|of) (?P<oven><O>))?",
        rf"{embers}(?: (?:'s|is|are|been|have|has|all|now|got|were|was))* (?:spread|scattered){over}",
        rf"(?:spread|scattered|spreading)(?: out)?(?: all)? {embers}{over}",
        rf"(?:raked|pulled|pushed|dragged|drew|levelled|moved) {embers}(?: (?:out|evenly|flat"
        rf"|all))*(?: (?:over|across|all over)(?: whole| all| entire)? (?:<P>|oven))(?: (?:in"
        rf"|of) (?P<oven><O>))?",
        rf"{embers}(?: (?:'s|is|are|all|now|out))* (?:over|across|all over)(?: whole"
        rf"| all)? <P>(?: (?:in|of) (?P<oven><O>))?",
    ):
        for found in scene.find(pattern):
            if "fire" in found.match.group().split() and "spread" not in found.match.group().split():
                continue
            _add(scene, found, "spread", "embers spread")


_RAKE_WORDS = bag(
    "raked rake raking scraped shovelled shoveled cleared hoed drew drawn dragged pulled ember embers ash "
    "ashes fired burnt"
)


def _raked(scene: Scene) -> None:
    if not scene.has_any(_RAKE_WORDS):
        return
    stuff = r"(?:embers?|ash|ashes|fire|it|everything|lot|oven|(?P<oven><O>)|all|bed|floor|<P>)"
    after = (
        r"(?: (?:out|clean|clear|off|away|now|all|right|it))*(?: (?:of|from) (?:(?P<oven2><O>)"
        r"|oven))?(?:(?: and|,)? (?:swept|brushed|mopped|wiped|cleaned|swabbed|clean)(?: (?:out|down|off|up"
        r"|floor|clean|<P>|it))*)*"
    )
    for pattern in (
        rf"(?:raked|scraped|shovelled|shoveled|cleared|hoed)(?: out)? {stuff} (?:out|clear|clean|away|off){after}",
        rf"(?:pulled|dragged|drawn|drew)(?: out)? (?:embers?|ash|ashes|fire|bed) (?:out|clear|clean|away|off){after}",
        rf"(?:raked|cleared) out(?: {stuff})?{after}",
        rf"raked (?:{stuff}){after}",
        rf"(?P<oven3><O>)(?: (?:'s|is|has|been|now|all))* (?:raked|cleared (?:out|of embers)|emptied of embers){after}",
        rf"(?:embers?|ash|ashes|fire|floor|oven)(?: (?:'s|is|are|has|have|been|all|now|got))* (?:raked"
        rf"|cleared|scraped|pulled|drawn|shovelled|out of (?:oven|(?P<oven4><O>))|all out(?! of)){after}",
        rf"(?:embers|ashes|ash)(?: (?:'s|is|are|all|now))* out(?! of (?!<O>|oven)){after}",
        rf"(?:all |fully |now |done )*raked{after}",
        r"(?:pulled|cleared|shovelled|drew|hoed|scraped) (?:embers|ashes|ash)(?: (?:and|,) (?:swept"
        r"|brushed|mopped))*(?= ?(?:$|[.,;!|]|<T>|at |and ))",
        r"(?:swept|brushed)(?: out)?(?: (?:floor|oven|(?P<oven><O>)))? and raked(?: out)?",
        r"(?:rake out|raking|rake)(?: 's| is)? (?:done|finished|complete)",
        r"(?:fired|burnt) (?:then|and) (?:cleared|raked)(?: out)?",
    ):
        for found in scene.find(pattern):
            if compiled(r".*(?:over|across) <P>").match(found.match.group()):
                continue
            if word_of_item(scene, found.last) in bag("leaves grass lawn gravel hay garden path yard"):
                continue
            oven = next((found.name(name) for name in ("oven", "oven2", "oven3", "oven4") if found.has(name)), None)
            scene.add({"is": "fire", "act": "raked", "oven": oven}, found.first, found.last, "raked out")


_LIT_WORDS = bag("since sparked torched going lit relit kindled fired started lighting fire fires alight burning")


def _lit(scene: Scene) -> None:
    if not scene.has_any(_LIT_WORDS):
        return
    for pattern in (
        r"(?:lit|re lit|relit|kindled|fired up|fired|got (?P<x>a )?fire (?:going|lit|started) in"
        r"|started|lighting) (?:up )?(?P<oven><O>)(?: (?:up|fire|again|back up|too|also|as well|as))*",
        rf"(?:lit|relit|started|kindled|laid and lit)(?: up)?(?: a| an| our| my)?(?: small| little| big"
        rf"| good)? fire(?: (?:going|lit|started|up|burning|in))*{_IN}",
        rf"(?:got|have got|made|built)(?: a| an| our| my)?(?: small| little| big"
        rf"| good)? fire(?: (?:going|lit|started|burning|alight|roaring))+{_IN}",
        rf"fires?(?: (?:'s|is|are|has|been|all|was|now|got))* (?:lit|going|started|burning|alight|away"
        rf"|under way|underway|kindled|up and running|roaring|caught|on)(?: nicely| well| up| now"
        rf"| again)*{_IN}",
        r"fire (?:in|on) (?P<oven2><O>)(?: (?:'s|is|now))* (?:lit|going|started|burning|alight|away)",
        r"(?P<oven><O>)(?: fire)?(?: (?:'s|is|was|has|been|now|got))* (?:lit|alight|fired up|burning|kindled)"
        r"(?: (?:too|also|as well|as(?= ?(?:$|[.,;!|]))|(?:as |for )?(?:a )?(?:backup|back up|spare|reserve)))*",
        r"(?P<oven><O>)(?: (?:'s|is))? going (?:now|too|as well|at last|finally)(?: (?:now|too|as well))*"
        r"(?= ?(?:$|[.,;!|]))",
        r"fired(?= at <T>)",
        r"(?:got|sparked|set|have|getting)(?: up)? (?P<oven><O>)(?: (?:lit|going|alight|fired up|burning|on fire))",
        r"(?:sparked up|torched|put (?:a )?(?:small |little |good )?fire (?:in|under)) (?P<oven><O>)",
        r"fire(?: (?:'s|has|been|going|burning|alight))* (?:in|on) (?P<oven><O>) since(?= <T>)",
        r"(?P<oven><O>)(?: (?:'s|has|been|is))* (?:going|burning|alight|lit|roaring|on)? ?since(?= <T>)",
        r"(?<![A-Za-z0-9'] )(?:been )?(?:going|burning|alight) since(?= <T>)",
        r"fired (?:it|her|him|this|oven|this one)(?: up)?(?= ?(?:$|[.,;!|]|with|<T>|at|about|now|and|this))",
        r"(?:lit|relit) (?:it|her|him|up|this|one|both|oven|both ovens|ovens|all ovens)(?: (?:up"
        r"|again))?(?= ?(?:$|[.,;!|]|with|<T>|at|about|in|now|on))(?: in (?P<oven><O>))?",
        r"lit(?= ?(?:$|[.,;!|]|with |using |<T>|at |since|about|<K>|<N>))",
        rf"(?:we have|got|have got|there 's) a fire(?: going| lit)?(?= ?(?:$|[.,;!|]|<T>|since|at )){_IN}",
    ):
        for found in scene.find(pattern):
            text = found.match.group()
            behind = set(scene.row.words(found.last, scene.sentence(found.first)[1]))
            if text.startswith("lighting") and behind & bag("after soon later before once next when tomorrow"):
                continue  # "lighting the pup after my tea"
            if (
                " on" in text
                and "fire on" in text
                and not compiled(r"fire(?: 's| is)? on").fullmatch(text.split(" in ")[0])
            ):
                continue
            if compiled(r"(?:candle|candles|stove|gas|bbq|lights?|torch).*").match(word_of_item(scene, found.last)):
                continue
            if text.endswith("since") and any(
                item.kind == "D" for item in scene.items[scene.segment(found.first)[0] : found.first]
            ):
                continue  # "shanks in dome since 10.35"
            if text == "lit" and not _oven_lit(scene, found.first):
                continue
            if text.split()[0] in ("been", "going", "burning", "alight") and _told_of_other(scene, found.first):
                continue
            more, last = wood_behind(scene, found.last, lit=True)
            found.last = max(found.last, last)
            _add(scene, found, "lit", "fire lit", **more)


def _told_of_other(scene: Scene, at: int) -> bool:
    """ "stew in the barrel, going since nine": of the stew, or of a fire that is told of already."""
    first, last = scene.sentence(at)
    return any(item.kind == "D" for item in scene.items[first:last]) or any(
        draft.kind == "fire" and first <= draft.first < at for draft in scene.drafts
    )


def _lit_new(scene: Scene) -> None:
    """ "lit the pod 15 min ago": an oven that nobody has named before."""
    for found in scene.find(
        r"(?:lit|relit|fired up) (?P<new>[a-z]+(?P<two> oven)?)(?: (?:up|now|again))*"
        r"(?= ?(?:$|[.,;!|]|<A>|<T>|at |with |about ))"
    ):
        at, _ = found.items_of("new")
        item = scene.items[at]
        known = scene.context.ovens and not found.has("two")
        if scene.items[at - 1].word not in ("the", "our") or item.word in _NO_OVENS or known:
            continue
        more, last = wood_behind(scene, found.last, lit=True)
        fields = {"is": "fire", "act": "lit", "oven": " ".join(found.words("new")), **more}
        scene.add(fields, found.first, max(found.last, last), "fire lit")


def _lit_too(scene: Scene) -> None:
    """ "lit the dome at half six with 8 kg of oak and the barrel at seven with 4": an oven more, at its own time."""
    for found in scene.find(
        r"(?:and|,|, and|;) (?P<oven><O>)(?: at)? (?:(?P<time><T>)|just|now|just now)(?: with (?P<kg><K>|<N>))?"
        r"(?= ?(?:$|[.,;!|]|and ))"
    ):
        first, _ = scene.sentence(found.first)
        before = [draft for draft in scene.drafts if first <= draft.first < found.first]
        if not before or before[-1].kind != "fire" or before[-1].fields.get("act") != "lit":
            continue
        given = {"wood_kg": found.number("kg")} if "wood_kg" in before[-1].fields and found.has("kg") else {}
        fields = {"is": "fire", "act": "lit", "oven": found.name("oven"), **given}
        time = found.time("time") if found.has("time") else None
        scene.add(fields, found.first, found.last, "fire lit too").time = time
        listed = scene.items[before[-1].last - 1].kind == "O" and before[-1].last == found.first
        if listed and scene.items[found.first].word == "and":
            before[-1].time = time  # "lit the dome and the barrel at six": at the end of the list, for both


_NO_OVENS = bag(
    "fire fires oven ovens candle candles stove gas bbq lamp lamps light lights lantern torch match kindling wood "
    "logs log "
    "fuse burner hob grill cigarette pipe way cake barbecue heater boiler beast thing one lot other first second"
)


def _wood_of_its_own(scene: Scene) -> None:
    """ "Fire lit. 6 kilos of ash.": a sentence that holds nothing but wood goes with the fire of the one before."""
    for before, (first, last) in pairwise(scene.sentences):
        told = [draft for draft in scene.drafts if before[0] <= draft.first < before[1]]
        if not told or told[-1].kind != "fire" or told[-1].fields.get("act") not in ("lit", "fed"):
            continue
        if told[-1].fields.keys() & {"wood_kg", "pieces", "species"} or any(scene.used[first:last]):
            continue
        more, end = wood_behind(scene, first, lit=True)
        if more and all(item.kind == "." for item in scene.items[end:last]):
            told[-1].fields.update(more)
            scene.use(first, end, told[-1].rule)


def _oven_lit(scene: Scene, at: int) -> bool:
    """ "lit at 7" is a fire's; "this party is lit" is not."""
    a, _ = scene.segment(at)
    words = {item.word for item in scene.items[a:at] if item.kind == ""}
    return words <= bag(
        "we all oven it it's is are just now finally and both 's have got i fire fires then ok right been was her"
    )


_OUT_WORDS = bag("out dead died fire fires extinguished doused")


def _out(scene: Scene) -> None:
    if not scene.has_any(_OUT_WORDS):
        return
    for pattern in (
        rf"fires?(?: (?:in|on) (?P<oven2><O>))?(?: (?:'s|is|are|has|have|been|gone|went|all|now|let"
        rf"|burnt|burned|died|well|completely|got|just))* (?:out|dead|off|died|down to nothing"
        rf"|extinguished|died out|cold|over|finished){_IN}",
        rf"(?:let|put|doused) (?:a )?fire (?:go |die |burn |right )?out{_IN}",
        r"(?P<oven><O>)(?: fire)?(?: (?:'s|is|has|gone|went|now|let))* (?:gone out|went out|fire out"
        r"|fire 's out|gone cold|has gone out|died|fire is out|fire has gone out)",
    ):
        for found in scene.find(pattern):
            _add(scene, found, "out", "fire out")
