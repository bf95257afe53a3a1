"""The door: on, off or ajar, told in time or late."""

from __future__ import annotations

from bot.reading.clock_times import Ago
from bot.reading.lexicon import bag
from bot.reading.scene import Found, Scene, compiled
from bot.reading.wood import word_of_item

_DOOR = (
    r"(?:(?P<oven><O>)(?: 's)? (?:oven )?)?doors?(?: (?:of|on) (?P<oven2><O>)(?= (?:'s|is|on|off|ajar|shut"
    r"|closed|open)))?"
)


_STATES = {
    "ajar": r"(?:ajar|propped|cracked|half open|half off|propped open|cracked open|half shut|half closed"
    r"|part open|partly open|slightly open|partway open|on a crack|open a crack|open a bit|open a touch|cracked "
    r"a (?:bit|touch|little|tad)"
    r"|open slightly|open halfway|a crack open|not (?:quite |fully |properly )?(?:shut|closed)"
    r"|wedged open|half on|a bit open|a little open|tilted|leaning|open a little|open an inch"
    r"|chocked open|chocked|open a hand 's breadth|off a crack|halfway open|on crack|open part way)",
    "on": r"(?:on|shut|closed|close|sealed|in place|back|up|fitted|put back|back in place|tight|in|to)",
    "off": r"(?:off|open|out|wide open|opened|away|removed|down|fully open|right off)",
}


_BE = (
    r"(?: (?:'s|is|are|was|been|has|have|got|now|back|still|all|put|left|went|gone|going|came|come|taken"
    r"|just|both|firmly|tight|tightly|nice|again|finally|properly|stays|stayed|sat|both|right|well|fully"
    r"|well and truly|being|set|closed|pulled|pushed|popped|shoved|swung|slid|slammed|goes|i))*"
)


_DOOR_WORDS = bag("door doors shut closed sealed opened open")


def doors(scene: Scene) -> None:
    """The door, in words of state or of what was done to it."""
    if not scene.has_any(_DOOR_WORDS):
        return
    _late_doors(scene)
    put = (
        r"(?:put|shut|closed|opened|propped|cracked|took|taken|left|set|popped|got|pulled|pushed|swung"
        r"|lifted|sealed|removed|hung|slid|stuck|wedged|slammed|shoved|replaced|have|had|keeping|kept"
        r"|leaving|leant|tilted|clapped)"
    )
    in_oven = r"(?: (?:of|on|from|to|for|at) (?P<oven3><O>))?"
    for state, pattern in (
        ("ajar", rf"{put} {_DOOR}(?: back)? {_STATES['ajar']}{in_oven}"),
        (
            "ajar",
            rf"(?:propped|cracked|wedged|chocked|tilted|leant)(?: open)? {_DOOR}(?: (?:open|ajar|a bit|a touch|a little"
            rf"|a crack|slightly|an inch|a hair|a smidge|a tad|partway|half way|halfway|bit|touch|crack))*{in_oven}",
        ),
        ("ajar", rf"{_DOOR}{_BE} {_STATES['ajar']}{in_oven}"),
        ("ajar", rf"{_DOOR}{_BE} (?:open|off) (?:about |by |maybe |just |around )*(?:<C>|<N> fingers?)"),
        ("off", rf"{put} {_DOOR}(?: right| wide| fully)* (?:off|open|out|away|wide open|down){in_oven}"),
        ("on", rf"{put} {_DOOR}(?: (?:back|firmly|right))* (?:on|shut|closed|to|up|in place|in){in_oven}"),
        (
            "on",
            rf"(?:shut|closed|sealed|replaced|slammed|(?:i|we) (?:close|shut|seal)) (?:both |all )?{_DOOR}{in_oven}",
        ),
        ("off", rf"(?:i|we) open {_DOOR}{in_oven}"),
        ("off", rf"(?:opened|removed|took down|lifted off|lifted|took off|pulled off)(?: up)? {_DOOR}{in_oven}"),
        ("off", rf"{_DOOR}{_BE} {_STATES['off']}{in_oven}"),
        ("on", rf"{_DOOR}{_BE} {_STATES['on']}{in_oven}"),
        ("on", r"(?:shut|closed|sealed)(?: up)? (?:(?P<oven><O>)|both(?: ovens)?)(?: (?:up|off|down|again))*"),
        ("on", r"(?:(?P<oven><O>)|both ovens)(?: (?:'s|is|are|now|all))* (?:shut|closed|sealed)(?: up)?"),
        ("off", r"opened(?: up)? (?P<oven><O>)(?: up)?"),
        ("off", r"(?P<oven><O>)(?: (?:'s|is|now|still))* open(?= ?(?:$|[.,;!|]|now|again|since|at ))"),
        ("on", r"(?<=raked and )(?:shut|closed|sealed)(?: up)?(?= ?(?:$|[.,;!|]))"),
        ("on", r"(?:just |now )?(?:shut|closed) it(?: now| again| up)*(?= ?(?:$|[.,;!|]|at <T>|<T>))"),
    ):
        for found in scene.find(pattern):
            if _is_other_door(scene, found):
                continue
            spoken = scene.has_any(bag("door doors")) or any(draft.kind == "door" for draft in scene.drafts)
            if found.match.group().split()[-1] in ("it", "again") and not spoken:
                continue
            text = found.match.group()
            if (
                state == "on"
                and compiled(r".*door(?: (?:in|to|up|back))").fullmatch(text)
                and not compiled(r".*(?:back|put|pushed|pulled|shoved|swung|slid|slammed).*").fullmatch(text)
            ) and text.split()[-1] in ("in", "to", "up"):
                continue
            oven = next((found.name(name) for name in ("oven", "oven2", "oven3") if found.has(name)), None)
            scene.add({"is": "door", "state": state, "oven": oven}, found.first, found.last, f"door {state}")


def _is_other_door(scene: Scene, found: Found) -> bool:
    """The gate, the shop door and the fridge door are no oven's door."""
    before = scene.items[found.first - 1].word if found.first else ""
    inside = found.match.group().split()
    after = word_of_item(scene, found.last)
    others = bag(
        "fire fridge shed kitchen car garage barn front toilet store cupboard freezer van side house loo shop "
        "classroom gate"
    )
    return (
        before in others
        or bool(set(inside) & others)
        or after in bag("thermometer step handle frame bell seal mat")
        or (
            after == "to"
            and inside[-1] == "on"
            and word_of_item(scene, found.last + 1) not in bag("settle hold soak equalise keep let even")
        )
        or ("door" in inside and inside.index("door") > 0 and inside[inside.index("door") - 1] in others)
    )


def _late_doors(scene: Scene) -> None:
    """ "door's been ajar 25 min, shut it now": open since then, shut now."""
    open_ = (
        r"(?:ajar|open|off|cracked|propped|half open|not shut|not closed|left open|left off|left ajar"
        r"|cracked open|propped open)"
    )
    bad = (
        r"(?:wasn't|was not|weren't|hadn't been|isn't|not|been not) (?:quite |fully |all the way )?(?:shut"
        r"|closed|on|sealed)(?: properly| right| fully| tight| all way)*"
    )
    between = r"(?: (?:for|about|around|a good|good|like|some|nearly|almost|maybe|last|past|probably|now|or so|in))*"
    after = r"(?: (?:or so|now|ish|i think|or|maybe|there|so))*(?: (?:for|to|while|so) <W>(?: <W>){0,3}?)?"
    closing = (
        r"(?:[.,;!-]?(?: and| but| now| is| it 's| have| 's| i)*(?P<shut> (?:shut|closed|on|back on|sealed"
        r"|it 's on|put it back|pushed it|fixed|sorted|put back on)(?: it| again| properly| tight"
        r"| up)?(?: back)?(?: on| shut| to)?(?: now| again| properly)*))?"
    )
    for pattern, state in (
        (
            rf"{_DOOR} (?:(?:'s|has|had|was|is|have|got) )*(?:been |left |stood |sat |sitting "
            rf"|standing )*(?P<how>{open_}){between} (?P<time><U>){after}(?: {closing})?",
            None,
        ),
        (rf"{_DOOR} (?:has |had |'s )?{bad}(?: ?[,;-])?{between} (?P<time><U>){after}(?: {closing})?", "ajar"),
        (
            rf"(?:found|noticed|saw|left|had) {_DOOR} (?:was )?(?P<how>{open_}"
            rf"|{bad}){between} (?P<time><U>){after}(?: {closing})?",
            None,
        ),
    ):
        for found in scene.find(pattern, mood=None):
            if any(each in ("question", "what_if") for each in scene.moods[found.first : found.last]):
                continue
            if any(each == "silent" for each in scene.moods[found.first : found.last]) and state is None:
                continue
            how = found.groups.get("how") or ""
            actual = state or (
                "ajar" if any(word in how for word in ("ajar", "cracked", "propped", "half", "not ", "n't")) else "off"
            )
            oven = next((found.name(name) for name in ("oven", "oven2") if found.has(name)), None)
            minutes = scene.number(found["time"])
            been = compiled(r".*(?:been|left|was|wasn't|had|found|stood|noticed|not|weren't|hadn't).*").fullmatch(
                found.match.group()
            )
            if not been and not found.has("shut"):
                continue
            spoken = found.match.group().split()
            over = not found.has("shut") and bool({"was", "had"} & set(spoken)) and "been" not in spoken
            scene.add(
                {"is": "door", "state": actual, "oven": oven, **({"over": True} if over else {})},
                found.first,
                found.last,
                "door told late",
                time=Ago(float(minutes or 0)),
            )
            if found.has("shut"):
                scene.add({"is": "door", "state": "on", "oven": oven}, found.first, found.last, "door shut now")
