"""What-ifs: the facts that are only supposed."""

from __future__ import annotations

from typing import Any

from bot.reading.asked import Asked, ReadFacts
from bot.reading.clock_times import Ago
from bot.reading.items import Item, Row
from bot.reading.lexicon import bag
from bot.reading.scene import Draft, Scene, compiled

_CHANGES = {
    "leave": "left",
    "put": "put",
    "feed": "fed",
    "rake": "raked",
    "move": "moved",
    "take": "took",
    "turn": "turned",
    "open": "opened",
    "add": "added",
    "light": "lit",
    "close": "closed",
    "shut": "shut",
    "pull": "pulled",
    "get": "got",
    "shift": "shifted",
    "top": "topped",
    "spread": "spread",
    "give": "gave",
    "chuck": "chucked",
    "throw": "threw",
    "stick": "stuck",
    "load": "loaded",
    "swap": "swapped",
    "bring": "brought",
    "prop": "propped",
    "crack": "cracked",
    "slide": "slid",
    "drop": "dropped",
    "transfer": "transferred",
    "lift": "lifted",
    "keep": "left",
    "kept": "left",
    "have": "had",
    "pop": "popped",
    "stoke": "stoked",
    "leaving": "left",
    "putting": "put",
    "feeding": "fed",
    "raking": "raked",
    "moving": "moved",
    "taking": "took",
    "turning": "turned",
    "opening": "opened",
    "adding": "added",
    "lighting": "lit",
    "closing": "closed",
    "shutting": "shut",
    "pulling": "pulled",
    "topping": "topped",
    "propping": "propped",
    "stays": "is",
    "moves": "moved",
    "shifts": "moved",
    "gets": "got",
    "turns": "turned",
    "opens": "opened",
    "shuts": "shut",
    "closes": "closed",
    "goes": "goes",
    "cook": "cook",
    "clear": "cleared",
    "fire": "fire",
    "loading": "loaded",
    "go": "going",
    "come": "came",
    "went": "going",
    "came": "came",
    "rains": "raining",
    "comes": "came",
    "browned": "browned",
    "seal": "sealed",
    "rotate": "rotated",
}


_PARTS_OF_DAY = bag("morning afternoon evening day night")
_DROPPED = bag(
    "i we you they someone could can would should were was just only also do did decide decided maybe say have"
)


def what_if_asked(asked: Asked, read_facts: ReadFacts) -> dict[str, Any] | None:
    opener = compiled(
        r"(?:(?:and|so|but|ok|then|hey|also|or) )*(?:what if|what happens (?:to (?:<D>|<O>) )?(?:if|when)"
        r"|what would happen if"
        r"|what (?:will|would|does) happen when|what happen if|what will happen if"
        r"|what about if|what 's the (?:effect|cost|damage) (?:if|of)|what 's effect if"
        r"|what difference (?:does it make|would it make|is there) if|suppose|supposing|assume|assuming"
        r"|let 's say|say(?= (?:we|i|door|lid|lids"
        r"|fire|someone|it|they|pot|<D>|<O>|<P>|you))"
        r"|how (?:much|long|late|bad|far|many|hot|will|would)(?: <DW>| <O>| <P>)*? if|(?:would|will|does"
        r"|could|can|is|do) (?:it|we|that|this|<D>|<O>|<P>)(?: <DW>| <O>| <P>| <N>| <T>)*? if|when (?:<DW> "
        r"|<O> |<P> )*?if|if|what (?:<DW> |<O> )*?if|what about|how about|what does it cost (?:if|to)"
        r"|what would it cost (?:if|to)|what does it do if|would <DW>(?: <DW>)? help|any harm (?:if|in)"
        r"|(?:would|will|does|is|could)(?= (?:moving|putting|leaving|feeding|raking|opening|adding|turning|propping"
        r"|shutting"
        r"|closing|taking|topping|lighting|spreading) )"
        r"|any difference if|where (?:<DW> |<O> )*?if)(?= )"
    )
    match = opener.match(asked.text)
    if match is None:
        return None
    head = match.group()
    if asked.match(r"how (?:much|many) (?:<W>|<D>).* if (?:it 's|it is|there are|there 's|we are|we 're)(?: for)? <N>"):
        return None
    if head.endswith(("about", "help")) and not asked.match(
        r"(?:leaving|putting|feeding|raking|moving|taking|opening|adding|turning|propping|shutting|closing"
        r"|lighting|topping|pulling)"
    ):
        return None
    if " if " in f" {head} " and asked.match(
        r"(?:when|what time)(?: <DW>| <O>)*? (?:light|lit|fire up|kindle|start (?:fire|<O>)|get (?:fire"
        r"|<O>) going)(?: <DW>"
        r"| <O>)* if (?:<W> )*?(?:eat|eating|serve|serving|lunch|dinner|feed|feeding|have|having|supper|cooking)"
    ):
        return None
    scene = asked.scene
    _, begin = scene.row.items_of(asked.offset, asked.offset + match.end())
    stop = _main_clause(scene, begin, asked.last, head)
    kept: list[Item] = []
    for n in range(begin, stop):
        item = scene.items[n]
        if item.word == "all" or (item.word in _PARTS_OF_DAY and n > begin and scene.items[n - 1].word == "all"):
            continue
        if item.kind == "" and item.word in _DROPPED:
            if item.word in ("was", "were") and n > begin and scene.items[n - 1].kind in ("D", "P", "O"):
                kept.append(item)
            continue
        if item.kind == "" and item.word in bag("'d 'll will going don't") and item.word != "going":
            continue
        if item.kind == "" and item.word in _CHANGES:
            word = _CHANGES[item.word]
            kept.append(Item("", word, item.start, item.end))
            continue
        if item.kind == "." and item.word == "?":
            continue
        kept.append(item)
    if not kept:
        return {"is": "what_if", "facts": []}
    said = {item.word for item in kept}
    if "ajar" in said and not said & {"door", "doors"}:  # only a door is
        kept = [Item("", "door", item.start, item.end) if item.word == "it" else item for item in kept]
    sub = Scene(Row(scene.row.message, kept), scene.context)
    read_facts(sub)
    _eating(sub)
    facts = [
        _nested(sub, draft)
        for draft in sorted(sub.drafts, key=lambda each: each.first)
        if not draft.question and draft.kind not in bag("incident note fix task hush")
    ]
    whose = scene.row.items_of(asked.offset, asked.offset + match.end())
    named = [str(item.value) for item in scene.items[whose[0] : whose[1]] if item.kind == "D"]
    for each in facts:  # "what happens to the ham if the lid is off"
        if named and each is not None and each["is"] in ("pot", "load") and "dish" not in each:
            each["dish"] = named[0]
    if not facts and (minutes := _waited(scene, begin, stop)) is not None:
        return {"is": "what_if", "facts": [], "wait": minutes}
    return {"is": "what_if", "facts": [each for each in facts if each is not None]}


_WAITS = compiled(
    r"(?:(?:i|we|you|they|all|just|simply|it|<D>|<O>) )*(?:wait|waits|waited|hold on|hold off|hang on|give it|leave it"
    r"|sit tight|do nothing)(?: (?:another|a|for|further|more|till|until|to|extra|about))*"
    r"(?: (?P<long><U>)| (?P<till><T>|<N>))(?: (?:more|longer|first|before))*"
)


def _waited(scene: Scene, begin: int, stop: int) -> float | None:
    """ "what if we wait half an hour", "... till 12": so long nobody does anything."""
    match = _WAITS.match(scene.row.canon, scene.row.offset(begin), scene.row.offset(stop))
    if match is None:
        return None
    if match["long"]:
        return float(scene.item(match["long"]).value)
    clock = scene.clock(match["till"])
    if clock is None:
        return None
    hour, minute = (int(part) for part in (scene.coming(clock) or "0:0").split(":"))
    now = scene.context.now
    return float((hour * 60 + minute - now.hour * 60 - now.minute) % (24 * 60))


_AS_IT_IS = compiled(r"(?:leave|keep|left|stays?) (?:it |them |door |lid |pot |fire )?(?:like that|like this|as it is"
                     r"|as is|that way|so)")


def as_it_is(scene: Scene) -> None:
    """ "door's ajar. what if I leave it like that 20 min": what was told right before is what is supposed."""
    for draft in scene.drafts:
        if draft.kind != "what_if" or draft.fields.get("facts") or "wait" in draft.fields:
            continue
        start, stop = scene.row.offset(draft.first), scene.row.offset(draft.last)
        told = [each for each in scene.drafts if each.last <= draft.first and each.kind in ("door", "fire", "pot")]
        if not told or _AS_IT_IS.search(scene.row.canon, start, stop) is None:
            continue
        fields = {key: value for key, value in told[-1].fields.items() if key != "at"}
        long = [n for n in range(draft.first, draft.last) if scene.items[n].kind == "U"]
        draft.fields["facts"] = [fields | ({"minutes": float(scene.items[long[0]].value)} if long else {})]


def _main_clause(scene: Scene, begin: int, last: int, head: str) -> int:
    """ "if I leave the door off ten minutes, when will it be done?": the condition ends where the question begins."""
    del head
    for n in range(begin, last):
        if scene.items[n].kind == "." and scene.items[n].word == ",":
            after = scene.items[n + 1].word if n + 1 < last else ""
            if after in bag("when how what will does is would are do where can then it whats still any"):
                return n
        if n > begin + 1 and scene.items[n].kind == "" and scene.items[n].word in bag("will when how what does would"):
            return n
    return last


def _eating(sub: Scene) -> None:
    """ "eat at 2", "16 people come" inside a what-if."""
    for found in sub.find(r"(?P<n><N>) (?:guests|people|persons|eaters) (?:come|came|coming|turned|turn|eat|ate)"):
        number = sub.number(found["n"]) if all(draft.kind != "guests" for draft in sub.drafts) else None
        if number is not None:
            sub.add({"is": "guests", "count": int(number)}, found.first, found.last, "guests who come")
    if any(draft.kind == "serve" for draft in sub.drafts):
        return
    for found in sub.find(
        r"(?:eat|ate|eating|serve|serving|lunch|dinner)(?: (?:is|at|later|earlier|instead|by|around|moved"
        r"|to|pushed|back|<W>))*? (?P<t><TN>)"
    ):
        clock = found.time("t")
        if clock is not None:
            sub.add({"is": "serve", "by": sub.coming_meal(clock)}, found.first, found.last, "eating time")
            return


def _nested(sub: Scene, draft: Draft) -> dict[str, Any] | None:
    fields = dict(draft.fields)
    a, b = sub.segment(draft.first)
    minutes = [
        n for n in range(a, b) if sub.items[n].kind == "U" and sub.items[n - 1].word not in ("in", "after", "every")
    ]
    later = [n for n in range(a, b) if sub.items[n].kind == "U" and sub.items[n - 1].word in ("in", "after")]
    if fields["is"] in bag("door pot fire check chill reheat") and minutes and "minutes" not in fields:
        nearest = [n for n in minutes if sub.used[n] is None or True]
        fields["minutes"] = float(sub.items[nearest[0]].value)
    meals = {n for each in sub.drafts if each.kind == "serve" for n in range(each.first, each.last)}
    times = [n for n in range(a, b) if sub.items[n].kind in ("T",) and n not in meals]
    if "at" not in fields and fields["is"] not in ("serve", "guests", "class") and times:
        fields["at"] = sub.coming(sub.items[times[0]].value)
    elif "at" not in fields and later and fields["is"] not in ("serve", "guests", "class"):
        fields["at"] = sub.coming(Ago(float(sub.items[later[0]].value)))
    if fields["is"] in ("reading", "door", "fire", "pot") and "oven" not in fields:
        ovens = [item for item in sub.items if item.kind == "O"]
        if ovens:
            fields["oven"] = str(ovens[0].value)
    if fields["is"] in bag("pot food load check stage chill reheat contents") and "dish" not in fields:
        dishes = [
            str(item.value)
            for item in sub.items
            if item.kind == "D" and str(item.value) not in ("stock", "broth", "water")
        ]
        if dishes:
            fields["dish"] = dishes[0]
    return fields
