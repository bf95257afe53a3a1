"""Hand counts: the seconds that a bare hand stays in ("five count", "got to six", "hand in for 8 seconds")."""

from __future__ import annotations

from bot.reading.lexicon import bag
from bot.reading.scene import Draft, Scene, compiled

_COUNT_WORDS = bag(
    "elephant elephants crocodile crocodiles count ct counts counted hand palm got managed lasted made "
    "reached"
)


def counts(scene: Scene) -> None:
    if not scene.has_any(_COUNT_WORDS) and "S" not in scene.kinds:
        return
    where = (
        r"(?:(?: ,)? (?:at|on|in|by|over|above|near|inside) (?:(?P<place><P>)(?: of (?P<oven><O>))?"
        r"|(?P<oven2><O>)(?: (?P<place2><P>))?|oven)| , (?P<place4><P>)(?= ?(?:$|[.,;!|]))"
        r"| (?P<place5><P>)(?= ?(?:$|[.,;!|]|O\d))| (?P<oven4><O>)(?= ?(?:$|[.,;!|])))*"
    )
    head = r"(?:(?P<oven3><O>) )?(?:(?P<place3><P>) (?:(?:'s|is|was) (?:an? )?)?)?"
    value = r"(?P<n>[NS]\d+)"
    for pattern in (
        rf"(?:(?:at|on|in|by|over) )?(?P<place3><P>)(?: ,)?(?: i)?(?: can| could)? (?:hold|keep|held|kept|stand|bear)"
        rf"(?: (?:my|the|a|hand|in|for|it))* {value}",
        rf"{head}{value}(?: second| sec| hand)* (?:count|ct|counts)(?: (?:by hand|with (?:my "
        rf"|bare )?hand|hand|now|only))*{where}",
        rf"{head}(?:hand |bare hand )?(?:count|ct)(?: (?:of|is|'s|was|at|now|still|:|to|in|got|only|,"
        rf"|about))* {value}(?= ?(?:$|[.,;!?|]|now|only|at |with |by |before |sec|on |so |in |over |<P>|<O>|hand"
        rf"|thanks|thank|please|cheers|chef|ta"
        rf"|and <P>|again)){where}",
        rf"{head}(?:hand|bare hand|hand test|palm|hand check|my hand)(?: ?[,:-])?(?: (?:test|in|says"
        rf"|got|to|for|of|lasted|stayed|stays|managed|was|is|at|about|out|after|could|hold|count|only|:"
        rf"|,|got to|bearable|check|good|i|gave|held|there|,|inside|over|floor|<P>|mouth"
        rf"|comfortable|<O>|slow|good))* {value}(?: (?:seconds?|secs?|count|before|on(?! <P>)))?{where}",
        rf"{head}(?:got to|counted(?: to)?|managed|made it to|reached|lasted|(?:could"
        rf"|can)(?: only)? (?:count to|hold (?:my hand|it|hand) (?:in|there|over|inside)(?: for)?"
        rf"|keep my hand in(?: for)?|manage|stand|bear)|held for|held my hand (?:in|there"
        rf"|over)(?: for)?) {value}(?: (?:second|seconds|secs?))?(?: (?:with|on|by|of)(?: (?:my|bare|a"
        rf"|the|own))* (?:hand|palm|hand test|arm))(?: (?:in|inside|at|out)(?! <P>| <O>))?{where}",
        rf"{head}(?:could|can|held|kept|put)(?: only| barely| just)* ?(?:hold|keep|bear"
        rf"|stand|have)?(?: (?:my|me|a|bare|own|our))* (?:hand|palm|arm) (?:in|there|over|inside)(?: (?:for"
        rf"|about|to|there|it|only"
        rf"|till|a|count|of|<P>|<O>|oven))* {value}(?: (?:second"
        rf"|seconds|secs?))?{where}",
        rf"{head}(?:(?:can't|couldn't|can not|could not|cannot|can|could|only|just|barely|i|we) )+"
        rf"(?:hold|keep|bear|leave|stand)(?: (?:my|me|a|bare|own|our))* hand(?: (?:in|there|inside|over|it))*"
        rf"(?: (?:for|longer|more|past|beyond|than|over|about|to|only|just))* {value}"
        rf"(?: (?:seconds?|secs?|count))?{where}",
        rf"{head}(?<!in )(?<!with )(?<!on )(?<!by ){value}(?: second| sec)? hand(?: test| count| check)?{where}",
        rf"{head}(?:got to|counted(?: to)?|managed|lasted|made it to) {value}(?: on)?{where}(?= ?(?:$"
        rf"|[.,;!|]|before|at|in))",
        rf"{head}(?:get|got|getting) (?:past|beyond|to)(?: a)? (?:count|ct) of {value}{where}",
        rf"{head}(?:got|counted|managed|reached) {value}{where} (?:with|by) (?:my |bare |a |the )?(?:hand|palm)",
        rf"{head}{value} (?:with|by) (?:my |bare |a |the )?(?:hand|palm)(?: (?:in|inside))?{where}",
        rf"{head}{value} (?:elephants?|crocodiles?)(?: (?:with"
        rf"|my|bare|by|a|hand|in|there|inside))*{where}",
        rf"{head}(?:could|can)(?: only| just| barely)* (?:stand|bear|take|hold|keep)(?: (?:it|in|there|for|about))*"
        rf" (?P<s>S\d+){where}",
        rf"{head}(?P<s>S\d+)(?: (?:with my hand|by hand|on hand test|on a hand test|in hand test|hand|hand test|hand in"
        rf"|bare hand))*{where}",
    ):
        for found in scene.find(pattern):
            groups = found.groups
            number = found.number("n") if groups.get("n") else found.number("s")
            token = groups.get("n") or groups.get("s") or ""
            if number is None or not 0 < number <= 90:
                continue
            if {"lend", "need", "gimme"} & set(scene.row.words(*scene.sentence(found.first))):
                continue
            text = found.match.group()
            hand = (
                not bag("elephant elephants crocodile crocodiles stand bear").isdisjoint(text.split())
                or "hand" in text
                or "palm" in text
                or "arm" in text.split()
                or not {"count", "counts", "ct"}.isdisjoint(text.split())
            )
            place = next(
                (groups[name] for name in ("place", "place2", "place3", "place4", "place5") if groups.get(name)), None
            )
            inside = [item for item in scene.items[found.first : found.last] if item.kind == "P"]
            if place is None and len(inside) == 1:
                place = f"P{scene.items.index(inside[0])}"
            if place is None and (hand or _hand_near(scene, found.first)):
                place = _only_spot(scene, found.first)
            if not hand and token[0] == "S" and place is None:
                continue
            if not hand and token[0] == "N" and place is None and not _hand_near(scene, found.first):
                continue
            if text.startswith(("count", "counted")) and "guests" in " ".join(
                scene.row.words(*scene.segment(found.first))
            ):
                continue
            oven = next((groups[name] for name in ("oven", "oven2", "oven3", "oven4") if groups.get(name)), None)
            draft = scene.add(
                {
                    "is": "reading",
                    "place": str(scene.item(place).value) if place else None,
                    "count": number,
                    "tool": "hand",
                    "oven": str(scene.item(oven).value) if oven else None,
                },
                found.first,
                found.last,
                "hand count",
            )
            _further_counts(scene, draft, found.last)


def _only_spot(scene: Scene, at: int) -> str | None:
    """ "hand in the mouth, counted to seven": the one spot of the sentence, if it has one number."""
    first, last = scene.sentence(at)
    spots = [n for n in range(first, last) if scene.items[n].kind == "P" and not scene.used[n]]
    numbers = [n for n in range(first, last) if scene.items[n].kind in ("N", "H", "S")]
    return f"P{spots[0]}" if len(spots) == 1 and len(numbers) == 1 and scene.moods[spots[0]] == "fact" else None


def _further_counts(scene: Scene, draft: Draft, at: int) -> None:
    """ "counted to 4 at the mouth, 7 at the back": the next spot of the list goes on with the counting.

    "6 count now, was 4 at eleven" tells of the same spot, earlier.
    """
    further = compiled(
        r"(?:now )?(?:[,;] ?)?(?:(?:and|then|but) )?(?:<P>(?: (?:'s|is|at|only))* (?P<w>N\d+)|(?P<n>N\d+) "
        r"(?:at|on|in|by|over) <P>|(?:it )?was (?P<was>N\d+)(?= (?:at )?<T>))"
    )
    while at < len(scene.items):
        match = further.match(scene.row.canon, scene.row.offset(at))
        if match is None:
            return
        first, last = scene.row.items_of(match.start(), match.end())
        number = scene.number(match.group("n") or match.group("w") or match.group("was"))
        if number is None or not 0 < number <= 30 or any(mood != "fact" for mood in scene.moods[first:last]):
            return
        place = next((str(item.value) for item in scene.items[first:last] if item.kind == "P"), None)
        spot = {**draft.fields} if match.group("was") else {"is": "reading", "place": place, "tool": "hand"}
        scene.add({**spot, "count": number}, first, last, "hand count of the list")
        at = last


def _hand_near(scene: Scene, at: int) -> bool:
    a, b = scene.sentence(at)
    return bool({"hand", "count", "palm", "counted"} & set(scene.row.words(a, b)))


_HANDS = bag("hand hands palm")
_NO_COUNT = bag(
    "burn burnt burned hurt cut water tap cold blister hands-on need needs give lend shake wash washed free"
)


def _counted_till(scene: Scene, at: int) -> bool:
    """ "the hand stayed in till nine": behind a hand that is kept in, a number is counted to."""
    item = scene.items[at]
    till = at > 0 and scene.items[at - 1].word in ("till", "until", "til", "to")
    whole = item.kind == "T" and len(item.words) == 1 and getattr(item.value, "minute", None) == 0
    before = {each.word for each in scene.items[max(0, at - 6) : at]}
    return till and whole and bool(before & _HANDS) and bool(before & _KEPT_IN)


_KEPT_IN = bag("stayed stays lasted kept held hold holds in bearable fine ok lasts survived")


def composed_counts(scene: Scene) -> None:
    """ "had my hand at the mouth, seven seconds before I pulled away": a hand, one length in seconds, a spot at "
    "most."""
    if not scene.kinds & {"S", "T"} or not scene.has_any(_HANDS | {"hold", "bear"}):
        return
    for first, last in scene.sentences:
        items = scene.items[first:last]
        words = {item.word for item in items if item.kind == ""}
        seconds = [at for at in range(first, last) if scene.items[at].kind == "S" or _counted_till(scene, at)]
        spots = [item for item in items if item.kind == "P"]
        ovens = [item for item in items if item.kind == "O"]
        others = any(item.kind in ("N", "H", "U", "D") for item in items)
        if len(seconds) != 1 or others or len(spots) > 1 or len(ovens) > 1 or words & _NO_COUNT:
            continue
        if not words & _HANDS and not (words & {"hold", "bear"} and words & {"only", "just", "can", "could", "barely"}):
            continue
        told = range(first, seconds[0] + 1)  # what follows may say "before I pulled away"
        if any(scene.moods[at] != "fact" for at in told) or any(scene.used[first:last]):
            continue
        item = scene.items[seconds[0]]
        value = float(item.value if item.kind == "S" else item.value.hour)
        if 0 < value <= 90:
            fields = {
                "is": "reading",
                "place": str(spots[0].value) if spots else None,
                "count": value,
                "tool": "hand",
                "oven": str(ovens[0].value) if ovens else None,
            }
            scene.add(fields, first, last, "hand count of the sentence")
