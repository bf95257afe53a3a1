"""Fire and door: lit, fed, embers spread, raked, out; the door on, off or ajar, told late or not."""
from __future__ import annotations

from typing import Any

from bot.reading.clock_times import Ago
from bot.reading.lexicon import longest
from bot.reading.scene import Found, Scene, compiled

_IN = r"(?: (?:in|on|for|under|at) (?:(?P<oven><O>)|oven|it))?"
_WOOD = r"(?:splits?|logs?|pieces?|sticks?|billets?|chunks?|lumps?|bits?|staves?|lengths?|rounds?|quarters|branches|branch|faggots?)"
_SIZE = r"(?:small|big|large|little|thin|thick|fat|good|dry|more|half|decent|chunky|tiny|wee|medium|whole|skinny|split|size|sized|fresh|further|extra|nice|seasoned|of|wood|short|long|kiln|dried|another|of the)"
_ON = r"(?:on|in|onto|into|added|went on|gone on|going on|went in|gone in|going in|just on|just in|now on|now in|thrown on|put on|put in|chucked on|chucked in|popped on|popped in|on now|in now|are on|are in|is on|is in|'s on|'s in|just gone on|just went on|have gone on|has gone on|has gone in|have gone in|have been added|laid on|to)"
_PUT = r"(?:put|added|threw|thrown|chucked|popped|stuck|bunged|laid|dropped|tossed|slid|fed|lobbed|given|gave|placed|whacked|pushed|slung|loaded|shoved|got|slipped|set)"
_FIRE = r"(?:(?P<oven><O>)|fire|it|oven|embers|there|back|flames)"


def fires(scene: Scene) -> None:
    """Acts on a fire."""
    _spread(scene)
    _raked(scene)
    _lit(scene)
    _fed(scene)
    _out(scene)


def _add(scene: Scene, found: Found, act: str, rule: str, **more: Any) -> None:
    oven = next((found.name(name) for name in ("oven", "oven2", "oven3") if found.has(name)), None)
    scene.add({"is": "fire", "act": act, "oven": oven, **more}, found.first, found.last, rule)


_SPREAD_WORDS = frozenset("ember embers ashes bed spread scattered spreading".split())


def _spread(scene: Scene) -> None:
    if not scene.has_any(_SPREAD_WORDS):
        return
    embers = r"(?:embers?|hot embers|bed of embers|ember bed|ashes|fire|bed)"
    over = r"(?: (?:out|all|evenly|right|flat|now|wide|again|thin|thinly))*(?: (?:over|across|on|around|about|along|round|to|in)(?: all)?(?: whole| entire| full)? (?:<P>|oven|(?P<oven><O>))(?: (?:<P>|brick|bricks|of (?P<oven2><O>)|in (?P<oven3><O>)|floor))*)?"
    for pattern in (
        rf"{embers}(?: (?:'s|is|are|been|have|has|all|now|got))* (?:spread|scattered|raked flat|levelled|leveled|pushed|pulled|drawn|dragged|raked)(?: (?:out|all|evenly|flat|now))*(?: (?:over|across|around|all over)(?: whole| all| entire)? (?:<P>|oven))(?: (?:in|of) (?P<oven><O>))?",
        rf"{embers}(?: (?:'s|is|are|been|have|has|all|now|got))* (?:spread|scattered){over}",
        rf"(?:spread|scattered|spreading)(?: out)?(?: all)? {embers}{over}",
        rf"(?:raked|pulled|pushed|dragged|drew|levelled|moved) {embers}(?: (?:out|evenly|flat|all))*(?: (?:over|across|all over)(?: whole| all| entire)? (?:<P>|oven))(?: (?:in|of) (?P<oven><O>))?",
        rf"{embers}(?: (?:'s|is|are|all|now|out))* (?:over|across|all over)(?: whole| all)? <P>(?: (?:in|of) (?P<oven><O>))?",
    ):
        for found in scene.find(pattern):
            if "fire" in found.match.group().split() and "spread" not in found.match.group().split():
                continue
            _add(scene, found, "spread", "embers spread")


_RAKE_WORDS = frozenset("raked rake raking scraped shovelled shoveled cleared hoed drew drawn dragged pulled ember embers ash ashes fired burnt".split())


def _raked(scene: Scene) -> None:
    if not scene.has_any(_RAKE_WORDS):
        return
    stuff = r"(?:embers?|ash|ashes|fire|it|everything|lot|oven|(?P<oven><O>)|all|bed|floor|<P>)"
    after = r"(?: (?:out|clean|clear|off|away|now|all|right|it))*(?: (?:of|from) (?:(?P<oven2><O>)|oven))?(?:(?: and|,)? (?:swept|brushed|mopped|wiped|cleaned|swabbed|clean)(?: (?:out|down|off|up|floor|clean|<P>|it))*)*"
    for pattern in (
        rf"(?:raked|scraped|shovelled|shoveled|cleared|pulled|dragged|drawn|hoed|drew)(?: out)? {stuff} (?:out|clear|clean|away|off){after}",
        rf"(?:raked|cleared) out(?: {stuff})?{after}",
        rf"raked (?:{stuff}){after}",
        rf"(?P<oven3><O>)(?: (?:'s|is|has|been|now|all))* (?:raked|cleared|emptied of embers){after}",
        rf"(?:embers?|ash|ashes|fire|floor|oven)(?: (?:'s|is|are|has|have|been|all|now|got))* (?:raked|cleared|scraped|pulled|drawn|shovelled|all out|out of (?P<oven4><O>)){after}",
        rf"(?:embers|ashes|ash)(?: (?:'s|is|are|all|now))* out{after}",
        rf"(?:all |fully |now |done )*raked{after}",
        r"(?:pulled|cleared|shovelled|drew|hoed|scraped) (?:embers|ashes|ash)(?: (?:and|,) (?:swept|brushed|mopped))*(?= ?(?:$|[.,;!|]|<T>|at |and ))",
        r"(?:swept|brushed)(?: out)?(?: (?:floor|oven|(?P<oven><O>)))? and raked(?: out)?",
        r"(?:rake out|raking|rake)(?: 's| is)? (?:done|finished|complete)",
        r"(?:fired|burnt) (?:then|and) (?:cleared|raked)(?: out)?",
    ):
        for found in scene.find(pattern):
            if compiled(r".*(?:over|across) <P>").match(found.match.group()):
                continue
            oven = next((found.name(name) for name in ("oven", "oven2", "oven3", "oven4") if found.has(name)), None)
            scene.add({"is": "fire", "act": "raked", "oven": oven}, found.first, found.last, "raked out")


_LIT_WORDS = frozenset("lit relit kindled fired started lighting fire fires alight burning".split())


def _lit(scene: Scene) -> None:
    if not scene.has_any(_LIT_WORDS):
        return
    for pattern in (
        r"(?:lit|re lit|relit|kindled|fired up|fired|got (?P<x>a )?fire (?:going|lit|started) in|started|lighting) (?:up )?(?P<oven><O>)(?: (?:up|fire))?",
        rf"(?:lit|relit|started|kindled|laid and lit)(?: up)?(?: a| an| our| my)?(?: small| little| big| good)? fire(?: (?:going|lit|started|up|burning|in))*{_IN}",
        rf"(?:got|have got|made|built)(?: a| an| our| my)?(?: small| little| big| good)? fire(?: (?:going|lit|started|burning|alight|roaring))+{_IN}",
        rf"fires?(?: (?:'s|is|are|has|been|all|was|now|got))* (?:lit|going|started|burning|alight|away|under way|underway|kindled|up and running|roaring|caught|on)(?: nicely| well| up| now| again)*{_IN}",
        rf"fire (?:in|on) (?P<oven2><O>)(?: (?:'s|is|now))* (?:lit|going|started|burning|alight|away)",
        r"(?P<oven><O>)(?: fire)?(?: (?:'s|is|was|has|been|now|got))* (?:lit|alight|fired up|burning|kindled)",
        r"(?:lit|relit) (?:it|up|this|one|both|oven|both ovens|ovens|all ovens)(?: (?:up|again))?(?= ?(?:$|[.,;!|]|with|<T>|at|about|in|now|on))(?: in (?P<oven><O>))?",
        r"lit(?= ?(?:$|[.,;!|]|with |<T>|at |since|about|<K>|<N>))",
        rf"(?:we have|got|have got|there 's) a fire(?: going| lit)?(?= ?(?:$|[.,;!|]|<T>|since|at )){_IN}",
    ):
        for found in scene.find(pattern):
            text = found.match.group()
            if " on" in text and "fire on" in text and not compiled(r"fire(?: 's| is)? on").fullmatch(text.split(" in ")[0]):
                continue
            if compiled(r"(?:candle|candles|stove|gas|bbq|lights?|torch).*").match(_next(scene, found.last)):
                continue
            more, last = _wood_behind(scene, found.last, lit=True)
            found.last = max(found.last, last)
            _add(scene, found, "lit", "fire lit", **more)


def _next(scene: Scene, at: int) -> str:
    return scene.items[at].word if at < len(scene.items) else ""


def _wood_behind(scene: Scene, at: int, *, lit: bool) -> tuple[dict[str, Any], int]:
    """Weight, pieces and species that follow: "lit the dome, 1.2 kg in", "fed the barrel, 2 splits of ash"."""
    fields: dict[str, Any] = {}
    _, stop = scene.sentence(at) if at < len(scene.items) else (at, at)
    last = at
    here = at
    while here < stop:
        item = scene.items[here]
        if scene.moods[here] != "fact" or scene.used[here]:
            break
        if item.kind == "K" and "wood_kg" not in fields and not _meat(scene, here):
            fields["wood_kg"] = item.value
            last = here + 1
        elif item.kind == "N" and "pieces" not in fields and _pieces_follow(scene, here, bare=not lit):
            fields["pieces"] = scene.number(f"N{here}")
            last = here + 1
        elif item.kind == "" and item.word in ("a", "an", "another") and _pieces_follow(scene, here, bare=False):
            fields["pieces"] = 1
            last = here + 1
        elif item.kind == "" and longest(item.words, "wood", "species") and (here == at or scene.items[here - 1].word in ("of", "with", "some", "and", "a", "dry", ",", "small", "big") or scene.items[here - 1].kind in ("K", "N")):
            if "species" in fields:
                break
            words = scene.row.words(here, min(here + 2, stop))
            length = 2 if len(words) == 2 and longest(words, "wood", "species") == (0, 2) else 1
            fields["species"] = " ".join(words[:length])
            here += length - 1
            last = here + 1
        elif item.kind == "" and (item.word in ("with", "of", "on", "in", "to", "start", "using", "and", "at", "it", "about", "around", "wood", "up", "some", "dry", "big", "small", "good", "large", "more", "kindling", "just", "now",
                                                "thick", "thin", "little", "for", "first", "begin", "off", "plus", "gave", "put", "got", "then", "straight", "logs", "splits", "bits", "pieces", "split", "log", "piece", "stick", "sticks", "load", "going", "fat", "armful", "bundle", "burning") or item.word in ("the",)):
            if item.word in ("at", "it") and lit is False and "wood_kg" in fields:
                break
        elif item.kind == "." and item.word in (",", "-", "(", ")", "+", ":"):
            if not _wood_next(scene, here + 1, stop):
                break
        elif item.kind in ("T", "A"):
            pass
        else:
            break
        here += 1
    return fields, last


def _wood_next(scene: Scene, at: int, stop: int) -> bool:
    """Whether the piece behind a comma still tells of wood."""
    words: list[str] = []
    has_amount = False
    for here in range(at, stop):
        item = scene.items[here]
        if item.kind == ".":
            break
        if item.kind in ("D", "P", "O", "H", "L"):
            return False
        has_amount = has_amount or item.kind in ("K", "N")
        words += item.words
    woody = bool(set(words) & {"wood", "split", "splits", "log", "logs", "piece", "pieces", "start", "kindling", "sticks", "armful"}) or longest(words, "wood", "species") is not None
    weighed = any(scene.items[here].kind == "K" for here in range(at, min(stop, at + 4)))
    return (has_amount and (woody or weighed)) or (woody and bool(words) and not set(words) & {"embers", "raked", "out"} and longest(words, "wood", "species") is not None and len(words) <= 3)


def _meat(scene: Scene, at: int) -> bool:
    return any(item.kind == "D" for item in scene.items[at + 1:at + 4])


def _pieces_follow(scene: Scene, at: int, *, bare: bool) -> bool:
    match = compiled(rf"(?:<N>|a|an|another)(?: {_SIZE})*(?: (?P<sp>[a-z]+))?(?: {_WOOD})").match(scene.row.canon, scene.row.offset(at))
    if match is not None:
        species = match.group("sp")
        return species is None or longest((species,), "wood", "species") is not None
    return bare and compiled(r"<N>(?: more)?(?= ?(?:$|[.,;!|]|at|<T>))").match(scene.row.canon, scene.row.offset(at)) is not None


_FED_WORDS = frozenset("on in fed stoked added put threw chucked popped gave given fuelled refuelled onto into split splits log logs had built banked made went bit bits thrown tossed dropped lobbed loaded".split())


def _fed(scene: Scene) -> None:
    if not scene.has_any(_FED_WORDS):
        return
    species = r"(?:(?P<sp>[a-z]+(?: [a-z]+)?) )?"
    count = r"(?P<n><N>|a|an|another|one|couple|few|some|several)(?: <N>)?"
    of = r"(?: of(?: dry| seasoned| good| the| split)*(?P<sp2>(?: [a-z]+){1,2}?))?"
    target = rf"(?: (?:to|on|onto|in|into|for|under) {_FIRE})?"
    patterns = (
        # "three birch splits in", "another split of ash on the barrel", "2 small on"
        rf"{count}(?: more| another| other)?(?: {_SIZE})* {species}{_WOOD}{of}(?: (?:now|just|have|has|been|all|both))* {_ON}(?: {_FIRE})?",
        # "two more on", "2 small on", "another on", "one more in"
        rf"(?P<n><N>|another)(?: <N>)?(?: more| another| small| big| large| little| thin| ash| oak| birch| beech| alder)* (?:on|on now|in|onto fire|gone on|went on)(?: {_FIRE})?(?= ?(?:$|[.,;!|]|at |<T>|and |for ))",
        # "1.1 kg of wood on", "another 1.0 kg on the fire", "0.15 kg of wood on", "half a kilo of oak in"
        rf"(?:another |about |around )*(?P<kg><K>)(?: more)?(?: of)?(?: (?P<sp>[a-z]+(?: [a-z]+)?))??(?: (?:wood|logs|splits|kindling))? {_ON}(?: {_FIRE})?(?= ?(?:$|[.,;!|]|at |<T>|and |of |in|on))",
        # "put two splits on the barrel", "chucked another log in", "added 1.2 kg of ash"
        rf"{_PUT}(?: (?:it|(?P<oven2><O>)|fire|on|in|another|about|a further))*(?: {count})?(?: more| another)?(?: {_SIZE})* {species}{_WOOD}{of}(?: {_ON})?{target}",
        rf"{_PUT}(?: (?:it|(?P<oven2><O>)|fire|on|in|another|about|a further))* (?P<kg><K>)(?: more)?(?: of)?(?: (?P<sp>[a-z]+(?: [a-z]+)?))??(?: (?:wood|logs|splits))?(?: {_ON})?{target}(?= ?(?:$|[.,;!|]|at |<T>|and |on|in))",
        # "fed the barrel", "fed it 1 piece", "stoked the fire"
        rf"(?:fed|stoked|refuelled|refueled|topped up fire|built up|made up|banked up|fuelled)(?: up)?(?: {_FIRE})?(?: (?:again|up))?",
        rf"(?P<oven><O>|fire|it|she)(?: (?:'s|is|has|just|been|was|got))* (?:fed|stoked|refuelled|had (?P<n><N>|another|a)(?: {_SIZE})*(?: {_WOOD})?)",
        # bag words and no number: "armful of ash on", "more wood on", "wood on the fire"
        rf"(?P<n>split|log|stick|billet|chunk)(?: of (?P<sp>[a-z]+))? (?:on|in)(?: {_FIRE})?(?= ?(?:$|[.,;!|]|at |<T>))",
        rf"(?:(?:a|an|another|some|more|bit more|good|half a|one|the|big|small) )*(?:armfuls?|barrow|barrowload|basket|ladle|handful|bundle|load|bucket|shovel|bit|arm load|armload|stack|few bits|few sticks|few logs|few splits|kindling|wood|fuel)(?: of)?(?: (?P<sp>[a-z]+(?: [a-z]+)?))??(?: wood| logs| splits| sticks)? {_ON}(?: {_FIRE})?(?= ?(?:$|[.,;!|]|at |<T>|and |for |on|just))",
        rf"{_PUT}(?: (?:some|more|a|an|another|bit|bit of|good|little|few|half|big))* (?:wood|fuel|logs|splits|sticks|kindling|bits|armful|handful|bundle|load|armload|bit)(?: of)?(?: (?P<sp>[a-z]+(?: [a-z]+)?))??(?: wood| logs)?(?: {_ON}){target}",
        rf"(?:some |more |a bit of |bit of )*(?P<sp>[a-z]+) (?:on|in)(?: fire| barrel)?(?= ?(?:$|[.,;!|]))",
        rf"gave {_FIRE} {count}(?: more)?(?: {_SIZE})*(?: {species}{_WOOD})?{of}",
    )
    _two_feeds(scene)
    for pattern in patterns:
        for found in scene.find(pattern):
            _one_feed(scene, found)


def _two_feeds(scene: Scene) -> None:
    """ "two ash and one oak on": two woods are two feeds; one wood in two sizes is one."""
    word = r"(?: (?!(?:on|in|and|plus|to|onto|added|at)\b)[a-z]+)"
    unit = rf"(?:<N>|a|an|one|another|<K>)(?: (?:more|another|of))*(?: {_SIZE})*{word}?(?: {_WOOD})?(?:(?: of)?{word})?(?: wood)?"
    one, other = unit, unit
    for found in scene.find(rf"(?P<put>{_PUT} |fed(?: (?:it|fire|<O>))?(?: ,| with)? )?(?P<one>{one})(?P<on> (?:on|in))?(?: ,)?(?: (?:and|plus|,))+ (?P<other>{other})(?P<on> (?:on|in|added|went on|onto))?(?: (?P<oven>O\d+|fire|it))?(?= ?(?:$|[.,;!|]|at |<T>|in |on |to ))"):
        if not found.has("put") and not found.has("on"):
            continue
        parts = [_unit_of(scene, *found.items_of(name)) for name in ("one", "other")]
        if any(part is None for part in parts):
            continue
        kinds = [part for part in parts if part is not None]
        oven = found.name("oven") if found["oven"][:1] == "O" else None
        if not any("species" in part for part in kinds):
            if not all("pieces" in part for part in kinds):
                continue
            scene.add({"is": "fire", "act": "fed", "oven": oven, "pieces": sum(part["pieces"] for part in kinds)}, found.first, found.last, "fire fed")
            continue
        if len({part.get("species") for part in kinds}) == 1:
            continue
        for name, part in zip(("one", "other"), kinds, strict=True):
            first, last = found.items_of(name)
            scene.add({"is": "fire", "act": "fed", "oven": oven, **part}, first, last, "fire fed", keep=True)
        scene.use(found.first, found.last, "fire fed")


def _unit_of(scene: Scene, first: int, last: int) -> dict[str, Any] | None:
    """ "two big ash splits", "one oak", "1 kg of birch": pieces or weight, and species; None if it is no wood."""
    words = scene.row.words(first, last)
    fields: dict[str, Any] = {}
    head = scene.items[first]
    if head.kind == "N":
        fields["pieces"] = scene.number(f"N{first}")
    elif head.kind == "K":
        fields["wood_kg"] = head.value
    else:
        fields["pieces"] = 1
    where = longest(words, "wood", "species")
    if where is not None:
        fields["species"] = " ".join(words[where[0]:where[1]])
    woody = set(words) & _WOOD_WORDS
    strange = [item for item in scene.items[first + 1:last] if item.kind not in ("", ".")]
    known = set(words[where[0]:where[1]]) if where else set()
    rest = [word for word in scene.row.words(first + 1, last) if word not in known | _WOOD_WORDS | _ALSO | {"a", "more", "another", "of", "one"}]
    if strange or rest or (where is None and not woody):
        return None
    return fields


_PRONOUNS = frozenset("it she he they".split())


def _one_feed(scene: Scene, found: Found) -> None:
    groups = found.groups
    fields: dict[str, Any] = {}
    text = found.match.group()
    words = text.split()
    for name in ("sp", "sp2"):
        raw = groups.get(name)
        if not raw:
            continue
        parts = raw.split()
        where = longest(parts, "wood", "species")
        if where is not None:
            fields["species"] = " ".join(parts[where[0]:where[1]])
        elif name == "sp" and not all(part in _ALSO or part in _SPECIES_NOISE for part in parts):
            return
    if groups.get("n"):
        token = str(groups["n"])
        if token[0] == "N":
            fields["pieces"] = found.number("n")
        elif token in ("a", "an", "another", "one", "split", "log", "stick", "billet", "chunk"):
            second = compiled(r"another (?P<m><N>)").match(text)
            fields["pieces"] = scene.number(second.group("m")) if second else 1
        elif token == "couple":
            fields["pieces"] = 2
        if "armful" in words or "ladle" in words:
            fields.pop("pieces", None)
        if "N" in token[:1] and not set(words) & _WOOD_WORDS and not _plain_feed(scene, found, fields):
            return
        if fields.get("pieces") is not None and not 0 < float(fields["pieces"]) <= 40:
            return
    elif groups.get("kg"):
        if _meat_in(scene, found):
            return
        fields["wood_kg"] = found.number("kg")
    else:
        only = set(words) & {"fed", "stoked", "refuelled", "fuelled", "built", "made", "banked"}
        if not only and "species" not in fields and not set(words) & {"wood", "fuel", "logs", "splits", "sticks", "kindling", "armful", "armfuls", "log", "split", "stick"} and not set(words) & {"handful", "bundle"}:
            return
        if only & {"built", "made"} and "fire" not in words:
            return
        if "species" in fields and not only and not set(words) & _WOOD_WORDS and len(words) == 2 and words[0] in ("apple", "plum", "pear", "cherry", "orange", "lemon", "lime", "chestnut", "walnut", "almond", "olive", "pecan"):
            return
        if only and words[-1] in ("fed", "stoked") and words[0] in ("she", "it") and "fed" not in words:
            return
    oven = next((found.name(name) for name in ("oven", "oven2") if groups.get(name) and str(groups[name])[0] == "O"), None)
    last = found.last
    if "pieces" not in fields or "species" not in fields or "wood_kg" not in fields:
        more, last = _wood_behind(scene, found.last, lit=False)
        for key, value in more.items():
            fields.setdefault(key, value)
        last = max(last, found.last)
    if _people_fed(scene, found):
        return
    scene.add({"is": "fire", "act": "fed", "oven": oven, **fields}, found.first, last, "fire fed")


_WOOD_WORDS = frozenset("split splits log logs piece pieces stick sticks billet billets chunk chunks lump lumps bit bits stave staves length lengths round rounds quarters branch branches faggot faggots fire wood".split())
_ALSO = frozenset("small big large little thin thick fat good dry more half decent of wood whole split seasoned".split())
_SPECIES_NOISE = frozenset("kindling kindlings sticks logs hard soft mixed local kiln dried the some more".split())


def _plain_feed(scene: Scene, found: Found, fields: dict[str, Any]) -> bool:
    """ "two more on", "2 on": only as a message of its own or beside other talk of fire."""
    pieces = fields.get("pieces")
    if pieces is None or pieces > 9 or pieces != int(pieces):
        return False
    words = found.match.group().split()
    begin, _ = scene.sentence(found.first)
    alone = found.first == begin or (scene.items[found.first - 1].kind == "." or scene.items[found.first - 1].word == "and")
    if "in" in words and "more" not in words:
        return False
    return alone or "more" in words


def _meat_in(scene: Scene, found: Found) -> bool:
    return any(item.kind == "D" for item in scene.items[found.first:found.last])


def _people_fed(scene: Scene, found: Found) -> bool:
    words = found.match.group().split()
    if words[0] not in ("fed", "stoked", "made", "built"):
        return False
    after = _next(scene, found.last)
    return after in ("kids", "guests", "everyone", "them", "dog", "cat", "chickens", "us", "up", "starter", "people") or "up" in words[1:2] and "made" in words or (
        found.last < len(scene.items) and scene.items[found.last].kind == "" and words == ["fed"] and after not in ("at", "and", "again", "with", "twice", "once", "now", "on", "about"))


_OUT_WORDS = frozenset("out dead died fire fires extinguished doused".split())


def _out(scene: Scene) -> None:
    if not scene.has_any(_OUT_WORDS):
        return
    for pattern in (
        rf"fires?(?: (?:in|on) (?P<oven2><O>))?(?: (?:'s|is|are|has|have|been|gone|went|all|now|let|burnt|burned|died|well|completely|got|just))* (?:out|dead|off|died|down to nothing|extinguished|died out|cold|over|finished){_IN}",
        rf"(?:let|put|doused) (?:a )?fire (?:go |die |burn |right )?out{_IN}",
        r"(?P<oven><O>)(?: fire)?(?: (?:'s|is|has|gone|went|now|let))* (?:gone out|went out|fire out|fire 's out|gone cold|has gone out|died|fire is out|fire has gone out)",
    ):
        for found in scene.find(pattern):
            _add(scene, found, "out", "fire out")


_DOOR = r"(?:(?P<oven><O>)(?: 's)? (?:oven )?)?doors?(?: (?:of|on) (?P<oven2><O>)(?= (?:'s|is|on|off|ajar|shut|closed|open)))?"
_STATES = {
    "ajar": r"(?:ajar|propped|cracked|half open|half off|propped open|cracked open|half shut|half closed|part open|partly open|slightly open|partway open|on a crack|open a crack|open a bit|open a touch|open slightly|open halfway|a crack open|not (?:quite |fully |properly )?(?:shut|closed)|wedged open|half on|a bit open|a little open|tilted|leaning|open a little|open an inch|chocked open|chocked|open a hand 's breadth|off a crack|halfway open|on crack|open part way)",
    "on": r"(?:on|shut|closed|close|sealed|in place|back|up|fitted|put back|back in place|tight|in|to)",
    "off": r"(?:off|open|out|wide open|opened|away|removed|down|fully open|right off)",
}
_BE = r"(?: (?:'s|is|are|was|been|has|have|got|now|back|still|all|put|left|went|gone|going|came|come|taken|just|both|firmly|tight|tightly|nice|again|finally|properly|stays|stayed|sat|both|right|well|fully|well and truly|being|set|closed|pulled|pushed|popped|goes|i))*"


_DOOR_WORDS = frozenset("door doors shut closed sealed opened".split())


def doors(scene: Scene) -> None:
    """The door, in words of state or of what was done to it."""
    if not scene.has_any(_DOOR_WORDS):
        return
    _late_doors(scene)
    put = r"(?:put|shut|closed|opened|propped|cracked|took|taken|left|set|popped|got|pulled|pushed|swung|lifted|sealed|removed|hung|slid|stuck|wedged|slammed|shoved|replaced|have|had|keeping|kept|leaving|leant|tilted|clapped)"
    in_oven = r"(?: (?:of|on|from|to|for|at) (?P<oven3><O>))?"
    for state, pattern in (
        ("ajar", rf"{put} {_DOOR}(?: back)? {_STATES['ajar']}{in_oven}"),
        ("ajar", rf"(?:propped|cracked|wedged|chocked|tilted|leant)(?: open)? {_DOOR}(?: (?:open|ajar))?{in_oven}"),
        ("ajar", rf"{_DOOR}{_BE} {_STATES['ajar']}{in_oven}"),
        ("off", rf"{put} {_DOOR}(?: right| wide| fully)* (?:off|open|out|away|wide open|down){in_oven}"),
        ("on", rf"{put} {_DOOR}(?: (?:back|firmly|right))* (?:on|shut|closed|to|up|in place|in){in_oven}"),
        ("on", rf"(?:shut|closed|sealed|replaced|slammed) {_DOOR}{in_oven}"),
        ("off", rf"(?:opened|removed|took down|lifted off|lifted|took off|pulled off)(?: up)? {_DOOR}{in_oven}"),
        ("off", rf"{_DOOR}{_BE} {_STATES['off']}{in_oven}"),
        ("on", rf"{_DOOR}{_BE} {_STATES['on']}{in_oven}"),
        ("on", r"(?:shut|closed|sealed)(?: up)? (?P<oven><O>)(?: (?:up|off|down|again))*"),
        ("on", r"(?P<oven><O>)(?: (?:'s|is|now|all))* (?:shut up|closed up|shut|closed|sealed up|sealed)"),
        ("off", r"opened(?: up)? (?P<oven><O>)(?: up)?"),
    ):
        for found in scene.find(pattern):
            if _is_other_door(scene, found):
                continue
            text = found.match.group()
            if state == "on" and compiled(r".*door(?: (?:in|to|up|back))").fullmatch(text) and not compiled(r".*(?:back|put|pushed|pulled).*").fullmatch(text):
                if text.split()[-1] in ("in", "to", "up"):
                    continue
            oven = next((found.name(name) for name in ("oven", "oven2", "oven3") if found.has(name)), None)
            scene.add({"is": "door", "state": state, "oven": oven}, found.first, found.last, f"door {state}")


def _is_other_door(scene: Scene, found: Found) -> bool:
    """The gate, the shop door and the fridge door are no oven's door."""
    before = scene.items[found.first - 1].word if found.first else ""
    inside = found.match.group().split()
    after = _next(scene, found.last)
    others = {"fridge", "shed", "kitchen", "car", "garage", "barn", "front", "toilet", "store", "cupboard", "freezer", "van", "side", "house", "loo", "shop", "classroom", "gate"}
    return before in others or bool(set(inside) & others) or after in ("thermometer", "step", "handle", "frame", "to", "bell", "seal", "mat") or (
        "door" in inside and inside.index("door") > 0 and inside[inside.index("door") - 1] in others)


def _late_doors(scene: Scene) -> None:
    """ "door's been ajar 25 min, shut it now": open since then, shut now."""
    open_ = r"(?:ajar|open|off|cracked|propped|half open|not shut|not closed|left open|left off|left ajar|cracked open|propped open)"
    bad = r"(?:wasn't|was not|weren't|hadn't been|isn't|not|been not) (?:quite |fully |all the way )?(?:shut|closed|on|sealed)(?: properly| right| fully| tight| all way)*"
    between = r"(?: (?:for|about|around|a good|good|like|some|nearly|almost|maybe|last|past|probably|now|or so|in))*"
    after = r"(?: (?:or so|now|ish|i think|or|maybe|there|so))*"
    closing = r"(?:[.,;!-]?(?: and| but| now| is| it 's| have| 's| i)*(?P<shut> (?:shut|closed|on|back on|sealed|it 's on|put it back|pushed it|fixed|sorted|put back on)(?: it| again| properly| tight| up)?(?: back)?(?: on| shut| to)?(?: now| again| properly)*))?"
    for pattern, state in (
        (rf"{_DOOR} (?:(?:'s|has|had|was|is|have|got) )*(?:been |left |stood |sat |sitting |standing )*(?P<how>{open_}){between} (?P<time><U>){after}(?: {closing})?", None),
        (rf"{_DOOR} (?:has |had |'s )?{bad}(?: ?[,;-])?{between} (?P<time><U>){after}(?: {closing})?", "ajar"),
        (rf"(?:found|noticed|saw|left|had) {_DOOR} (?:was )?(?P<how>{open_}|{bad}){between} (?P<time><U>){after}(?: {closing})?", None),
    ):
        for found in scene.find(pattern, mood=None):
            if any(each in ("question", "what_if") for each in scene.moods[found.first:found.last]):
                continue
            if any(each == "silent" for each in scene.moods[found.first:found.last]) and state is None:
                continue
            how = found.groups.get("how") or ""
            actual = state or ("ajar" if any(word in how for word in ("ajar", "cracked", "propped", "half", "not ", "n't")) else "off")
            oven = next((found.name(name) for name in ("oven", "oven2") if found.has(name)), None)
            minutes = scene.number(found["time"])
            been = compiled(r".*(?:been|left|was|wasn't|had|found|stood|noticed|not|weren't|hadn't).*").fullmatch(found.match.group())
            if not been and not found.has("shut"):
                continue
            scene.add({"is": "door", "state": actual, "oven": oven}, found.first, found.last, "door told late",
                      time=Ago(float(minutes or 0)))
            if found.has("shut"):
                scene.add({"is": "door", "state": "on", "oven": oven}, found.first, found.last, "door shut now")
