"""Taking back: "scrap that", "undo the door", "scratch my last two"."""

from __future__ import annotations

import re
from datetime import timedelta
from typing import Any

from bot.reading.excuses import says_why
from bot.reading.lexicon import bag
from bot.reading.scene import Scene, compiled

_UNDO_VERB = (
    r"(?:scrap|scratch|ignore|undo|delete|forget|cancel|strike|disregard|remove|wipe|bin|retract|discard"
    r"|scrub|rescind|drop|void|withdraw|erase|dump|take back|kill|never mind|nevermind|rub out|take out|skip|unsay)"
)


_THING = (
    r"(?:that one|this one|those (?:two|ones)|that (?:message|entry|report|post|line|bit)|that|this|it|those|them"
    r"|these|last|previous|above|both of them|both of those|both"
    r"|(?:one|message|bit|thing) before(?: that)?|what i (?:said|wrote|put|posted|sent)"
    r"|(?:that |this |my |our |your |those |both |both of )*(?:very )?(?:last|previous|latest|earlier"
    r"|prior)?(?: (?P<n><N>))?(?: (?:one|ones|message|messages|entry|entries|post|posts|line|lines|bit"
    r"|report|reports|update|updates|thing|things|text|comment|of mine|of those))*)"
)


_KINDS: tuple[tuple[str, str], ...] = (
    ("oven", r"oven (?:description|size|measurements|dimensions)|measurements|dimensions"),
    ("food", r"core(?: temp| reading)?|food temp|meat temp|liquor(?: temp| reading)?"),
    (
        "reading",
        r"(?P<place><P>)?(?: probe| temp| temperature)? ?(?:readings?|temps?|temperatures?|shots?|counts?"
        r"|heat)|<P>|probe|temps?|hand count|count",
    ),
    ("door", r"door(?: one| bit| report| thing)?"),
    ("pot", r"pot(?: in| out| one)?|lid(?: on| off)?|turn|top up|move"),
    ("load", r"load|weight|weights|meat weight"),
    ("fire", r"fire(?: one)?|feed|split|splits|log|logs|wood feed|rake out|rake"),
    ("wood", r"moisture|wood moisture|moisture reading|meter reading"),
    ("weather", r"weather|rain"),
    (
        "guests",
        r"(?:guests?|people|allergy|allergen|coeliac)(?: one)?|guests?|head ?count|guest count|numbers|allergy|coeliac",
    ),
    ("serve", r"eating time|serve time|serving time|lunch time|time change"),
    ("check", r"check|fork test|simmer"),
    ("stage", r"browned|stage|resting|served"),
    ("chill", r"chill|chilling|ice"),
    ("store", r"fridge(?: reading| temp)?|hot cupboard(?: reading| temp)?"),
    ("note", r"note"),
    ("task", r"task|claim|job"),
    ("contents", r"contents|ingredient|flour"),
    ("hush", r"hush|quiet"),
    ("incident", r"incident|burn"),
    ("class", r"class"),
    ("reheat", r"reheat|reheating"),
)


_UNDO_WORDS = bag(
    "scrap scratch ignore undo delete forget cancel strike disregard remove wipe bin retract discard drop "
    "void scrub rescind withdraw erase dump take kill never nevermind rub skip unsay wrong mistake rubbish nonsense "
    "error typo garbage bogus right duff that last"
)


def undos(scene: Scene) -> None:
    """ "scrap that", "undo the door", "scratch my last two"."""
    if _never_was(scene) or _never_went_in(scene) or not scene.has_any(_UNDO_WORDS):
        return
    alone = compiled(
        r"(?:(?:no|nope|nah|ah|oops|whoops|sorry|ok|wait|argh|doh|bot|yardhand|hang on|er|right)(?: ,)? )*"
        r"(?:undo|scrap|scratch|delete|ignore|retract|cancel|disregard)(?: (?:please|sorry|bot"
        r"|now))*(?= ?(?:$|[.!,;|]))"
    ).match(scene.row.canon)
    if alone is not None:
        first, last = scene.row.items_of(alone.start(), alone.end())
        scene.add({"is": "fix", "act": "undo"}, first, last, "taken back")
        return
    for pattern in (
        rf"{_UNDO_VERB} {_THING}(?: (?:please|again|entirely|completely|too|altogether|sorry|i said"
        rf"|i sent|from me|about))*(?= ?(?:$|[.,;!:|)-]|<W> ?$|wrong|i |it |was|sorry|<P>|<D>|<O>|meant"
        rf"|typo|should|pot|door|lid|not|but|and|we|misread|actually|that|probe))",
        r"(?:i )?(?:take|took|taking) (?:back|away|off|out) (?:my |the |our )?(?:last|previous|both)(?: (?P<n><N>))?"
        r"(?: (?:one|ones|messages|posts|readings))*(?= ?(?:$|[.,;!|]))",
        r"(?:i )?(?:take|took|taking) (?:my |the |our )?(?:last|previous|both)(?: (?P<n><N>))?(?: (?:ones"
        r"|messages|posts|readings))* "
        r"(?:back|off|out|away|<P>)(?= ?(?:$|[.,;!|]))",
        r"(?:i )?(?:take|took|taking) (?:that|it|this|that one|my last"
        r"|the last one)(?: last)?(?: one)? (?:back|off|out)"
        r"(?= ?(?:$|[.,;!|]))",
        r"(?:that|last one|that one|last message|that last one|my last|my last one"
        r"|last reading)(?: (?:was|is|'s))+ (?:wrong|a mistake|rubbish|nonsense|an error|a typo|garbage"
        r"|bogus|not right|duff|in error)(?= ?(?:$|[.,;!|]))(?!.*(?:not <V>|, <V>(?= ?$)))",
    ):
        for found in scene.find(pattern, mood=None):
            if _asked(scene, found.first, found.last) or _not_an_order(scene, found.first):
                continue
            groups = found.groups
            count = int(scene.number(groups["n"]) or 1) if groups.get("n") else 1
            words = found.match.group().split()
            if "both" in words:
                count = 2
            if groups.get("n") and scene.item(str(groups["n"])).value.value == 1:
                count = 1
            if words[-1] in ("about",):
                continue
            tail = _kind_after(scene, found.last) if words[-1] in bag("that this last my previous those") else None
            if tail is not None:
                continue
            if (
                words[0] in bag("drop skip kill wipe bin dump remove cancel forget take never nevermind")
                and words[-1] == "it"
                and found.last < len(scene.items)
                and scene.items[found.last].kind == ""
            ):
                continue
            if words[-1] in ("forget", "cancel", "drop") or words == ["forget", "it"]:
                continue
            if (
                len(words) == 1
                and scene.row.words(0, len(scene.items)) != (words[0],)
                and not (found.last < len(scene.items) and scene.items[found.last].kind == ".")
            ):
                continue
            if len(words) == 1 and words[0] in bag("drop kill wipe bin dump skip forget take remove strike"):
                continue
            for _ in range(min(count, 9)):
                scene.add({"is": "fix", "act": "undo"}, found.first, found.last, "taken back", keep=True)
            scene.use(*_undo_span(scene, found.first, found.last), "taken back")
            return
    for kind, words_ in _KINDS:
        pattern = (
            rf"(?:{_UNDO_VERB}|take)(?: (?:that|my|last|this|previous|the|earlier|our|latest"
            rf"|very|what i (?:said|wrote|put|posted|sent)(?: about| on)?))*"
            rf"(?: (?P<oven><O>))?(?: (?P<dish><D>))? (?:{words_})(?: (?:one|<N>|reading|entry|message"
            rf"|bit|thing|report|please|i sent|i posted|off|out|down|back|away))*(?= ?(?:$|[.,;!|]"
            rf"|<W> ?$|wrong|it |that |sorry|i "
            rf"|from |at ))"
        )
        for found in scene.find(pattern, mood=None):
            if _asked(scene, found.first, found.last) or _not_an_order(scene, found.first):
                continue
            if found.match.group().split()[0] == "take":
                if found.match.group().split()[-1] not in bag("off out down back away"):
                    continue
            elif found.match.group().split()[0] in bag(
                "drop skip kill remove take bin dump forget wipe cancel"
            ) and not set(found.match.group().split()) & {
                "reading",
                "readings",
                "entry",
                "last",
                "message",
                "one",
                "report",
                "said",
                "wrote",
            }:
                continue
            fields: dict[str, Any] = {
                "is": "fix",
                "act": "undo",
                "of": kind,
                "oven": found.name("oven") if found.has("oven") else None,
                "dish": found.name("dish") if found.has("dish") else None,
            }
            place = found.groups.get("place")
            if place:
                fields["place"] = scene.name(place)
            scene.add(fields, found.first, found.last, "taken back", keep=True)
            scene.use(*_undo_span(scene, found.first, found.last), "taken back")
            return


_NOT_DONE = compiled(
    r"(?:(?:oops|oh|sorry|no|ah|whoops|actually|er|wait|hang on|ok|[.,!]) )*(?:i |we )?(?:didn't|did not|haven't"
    r"|hadn't)(?: (?:then|actually|after all|do it|put it|do that|in the end|do any|put any|put them|yet|though|on"
    r"|in))*(?: [.!])*")
A_MOMENT = timedelta(minutes=5)


def _never_was(scene: Scene) -> bool:
    """ "put 2 on", then from the same person "oops, didn't then"."""
    own = [said for said in scene.context.last if said.who == scene.context.sender]
    if not own or not own[-1].heard.facts or scene.context.now - own[-1].at > A_MOMENT:
        return False
    if _NOT_DONE.fullmatch(scene.row.canon) is None:
        return False
    scene.add({"is": "fix", "act": "undo"}, 0, len(scene.items), "taken back")
    return True


def _never_went_in(scene: Scene) -> bool:
    """ "scrap the stout", "no stout in it after all": what was told to be in a dish lately, and is not."""
    told = {str(fact.said()["item"]) for said in scene.context.last for fact in said.heard.facts
            if fact.is_ == "contents"}
    end = r"(?: (?:after all|actually|now|in the end|sorry|then|at all|please))*(?= ?(?:$|[.,;!|]))"
    for item in sorted(told, key=len, reverse=True):
        name = " ".join(re.escape(word) for word in item.split())
        denied = (
            rf"{_UNDO_VERB} (?:that |our |my )?{name}",
            rf"(?:there 's |there is |used |put )?no {name} (?:in|into|went in|going in)"
            r"(?: (?:it|them|there|that|<D>))?",
            rf"{name} (?:isn't|never went|didn't go|not|is not|was not|wasn't)(?: (?:going|put))? (?:in|used|into)"
            r"(?: (?:it|them|there|<D>))?",
            rf"(?:we |i )?(?:left|leaving) {name} out",
            rf"(?:we |i )?(?:didn't|did not|never) (?:use|put|add)(?: any)? {name}(?: in)?",
        )
        found = next(scene.find(rf"(?:{'|'.join(denied)}){end}", None), None)
        if found is not None and not _asked(scene, found.first, found.last):
            fields = {"is": "fix", "act": "undo", "of": "contents", "item": item}
            scene.add(fields, found.first, found.last, "taken back")
            return True
    return False


def _asked(scene: Scene, first: int, last: int) -> bool:
    return any(mood in ("question", "what_if") for mood in scene.moods[first:last])


def _not_an_order(scene: Scene, first: int) -> bool:
    before = scene.items[first - 1].word if first else ""
    return before in bag("don't not to never can't didn't i'd must won't you someone somebody anyone anybody everyone")


def _kind_after(scene: Scene, at: int) -> str | None:
    for kind, words in _KINDS:
        if compiled(rf"(?:{words})(?: (?:reading|one|temp|message|entry|thing))?(?= ?(?:$|[.,;!|]))").match(
            scene.row.canon, scene.row.offset(at)
        ) and at < len(scene.items):
            return kind
    return None


def _undo_span(scene: Scene, first: int, last: int) -> tuple[int, int]:
    """The reason that goes with it ("wrong oven", "it was last week") is used up too."""
    _a, b = scene.sentence(first)
    end = last
    while end < b:
        item = scene.items[end]
        _seg_a, seg_b = scene.segment(end)
        if item.kind == ".":
            end += 1
            continue
        words = set(scene.row.words(end, seg_b))
        if words & bag("wrong misread mistake typo sorry mistyped bad error") and not any(
            each.kind in ("N", "H", "P") for each in scene.items[end:seg_b]
        ):
            end = seg_b
            continue
        if says_why(scene, end, seg_b):
            end = seg_b
            continue
        break
    return first, max(end, last)
