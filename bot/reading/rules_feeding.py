"""Wood on the fire: pieces, weight, species, and bag words that give no number."""

from __future__ import annotations

from typing import Any

from bot.reading.lexicon import bag, longest, phrase_set
from bot.reading.scene import Found, Scene, compiled
from bot.reading.subjects import elsewhere
from bot.reading.wood import SIZE, WOOD, wood_behind, word_of_item

_ON = (
    r"(?:on|in|onto|into|added|went on|gone on|going on|went in|gone in|going in|just on|just in|now on"
    r"|now in|thrown on|put on|put in|chucked on|chucked in|popped on|popped in|on now|in now|are on|are in"
    r"|is on|is in|'s on|'s in|just gone on|just went on|have gone on|has gone on|has gone in|have gone in"
    r"|have been added|laid on|to)"
)


_PUT = (
    r"(?:put|added|threw|thrown|chucked|popped|stuck|bunged|laid|dropped|tossed|slid|fed|lobbed|given|gave"
    r"|placed|whacked|pushed|slung|loaded|shoved|got|set)"
)


_FIRE = r"(?:(?P<oven><O>)|both(?: ovens| fires)?|fire|it|oven|embers|there|back|flames|her|him|she|beast|old girl)"


_SPECIES = "|".join(sorted(" ".join(words) for words in phrase_set("wood", "species")))
_FED_WORDS = bag(
    "on in fed stoked added put threw chucked popped gave given fuelled refuelled onto into split splits "
    "log logs had built banked made went bit bits thrown tossed dropped lobbed loaded"
)


def find_feeds(scene: Scene) -> None:
    if not scene.has_any(_FED_WORDS) and not (scene.has_any(bag("more another others")) and scene.context.last):
        return
    species = r"(?:(?P<sp>[a-z]+(?: [a-z]+)?) )?"
    count = r"(?P<n><N>|a|an|another|one|couple|few|some|several)(?: <N>)?"
    of = rf"(?: of(?: dry| seasoned| good| the| split)*(?P<sp2>(?: [a-z]+){{1,2}}?)| (?P<sp2>{_SPECIES}))?"
    target = rf"(?: (?:to|on|onto|in|into|for|under) {_FIRE})?"
    patterns = (
        # "three birch splits in", "another split of ash on the barrel", "2 small on"
        rf"{count}(?: more| another| other)?(?: {SIZE})* {species}{WOOD}{of}(?: more)?(?: (?:now|just|have|has"
        rf"|been|all|both))* {_ON}(?: {_FIRE})?",
        # "2 splits birch barrel": a telegram of pieces, species and oven
        rf"(?<![a-z0-9'] )(?P<n><N>)(?: {SIZE})* (?:{WOOD}(?: of)? (?P<sp>{_SPECIES})|(?P<sp2>{_SPECIES}) {WOOD})"
        rf" (?P<oven><O>)(?= ?(?:$|[.,;!|]))",
        # "two more on", "2 small on", "another on", "one more in"
        rf"(?P<n><N>|another)(?: <N>)?(?: more| another| small| big| large| little| thin)*(?: (?P<sp>{_SPECIES}))?"
        rf" (?:on|on now|in|onto fire|gone on|went on)(?: {_FIRE})?(?= ?(?:$"
        rf"|[.,;!|]|at |<T>|and |for ))",
        # "1.1 kg of wood on", "another 1.0 kg on the fire", "0.15 kg of wood on", "half a kilo of oak in"
        rf"(?:another |about |around )*(?P<kg><K>)(?: more)?(?: of)?(?: (?P<sp>[a-z]+(?: "
        rf"[a-z]+)?))??(?: (?:wood|logs|splits|kindling))? {_ON}(?: {_FIRE})?(?= ?(?:$|[.,;!|]|at |<T>"
        rf"|and |of |in|on))",
        # "put two splits on the barrel", "chucked another log in", "added 1.2 kg of ash"
        rf"{_PUT}(?: (?:it|(?P<oven2><O>)|fire|on|in|another|about|a further))*(?: {count})?(?: more"
        rf"| another)?(?: {SIZE})* {species}{WOOD}{of}(?: {_ON})?{target}",
        rf"{_PUT}(?: (?:it|(?P<oven2><O>)|fire|on|in|another|about"
        rf"|a further))* (?P<kg><K>)(?: more)?(?: of)?(?: (?P<sp>[a-z]+(?: [a-z]+)?))??(?: (?:wood|logs"
        rf"|splits))?(?: {_ON})?{target}(?= ?(?:$|[.,;!|]|at |<T>|and |on|in))",
        # "put two ash on the barrel", "threw on another two", "stuck one more oak in"
        rf"{_PUT} {count}(?: more| another)?(?: {SIZE})* (?P<sp>[a-z]+) (?:on|in|onto|into)(?: {_FIRE})?(?= "
        rf"?(?:$|[.,;!|]"
        rf"|at |<T>|and ))",
        rf"(?:threw|chucked|put|stuck|popped|bunged|slung|lobbed|tossed) (?:on|in) (?:another |a further "
        rf")?{count}(?: more)?(?: (?P<sp>{_SPECIES}))?"
        rf"(?= ?(?:$|[.,;!|]|at |<T>|and ))",
        # "fed the barrel", "fed it 1 piece", "stoked the fire"
        rf"(?:fed|stoked|refuelled|refueled|topped up fire|built up|made up|banked up"
        rf"|fuelled)(?: up)?(?: {_FIRE})?(?: (?:again|up))?(?: (?:at )?<T>)?",
        rf"(?P<oven><O>|fire|it|she)(?: (?:'s|is|has|just|been|was|got))* (?:fed|stoked|refuelled"
        rf"|had (?P<n><N>|another|a)(?: {SIZE})*(?: {WOOD})?)",
        # bag words and no number: "armful of ash on", "more wood on", "wood on the fire"
        rf"(?P<n>split|log|stick|billet|chunk|lump)(?: of (?P<sp>[a-z]+))? (?:on|in)(?: {_FIRE})?(?= ?(?:$"
        rf"|[.,;!|]|at |<T>))",
        rf"(?:(?:a|an|another|some|more|bit more|good|half a|one|the|big|small) )*(?:armfuls?|barrow"
        rf"|barrowload|basket|ladle|handful|bundle|load|bucket|shovel|bit|arm load|armload|stack"
        rf"|few bits|few sticks|few logs|few splits|kindling|wood"
        rf"|fuel)(?: of)?(?: (?P<sp>[a-z]+(?: [a-z]+)?))??(?: wood| logs| splits"
        rf"| sticks)? {_ON}(?: {_FIRE})?(?= ?(?:$|[.,;!|]|at |<T>|and |for |on|just))",
        rf"{_PUT}(?: (?:some|more|a|an|another|bit|bit of|good|little|few|half|big))* (?:wood|fuel|logs"
        rf"|splits|sticks|kindling|bits|armful|handful|bundle|load|armload"
        rf"|bit)(?: of)?(?: (?P<sp>[a-z]+(?: [a-z]+)?))??(?: wood| logs)?(?: {_ON}){target}",
        r"(?:some |more |a bit of |bit of )*(?P<sp>[a-z]+) (?:on|in)(?: fire| barrel)?(?= ?(?:$|[.,;!|]))",
        rf"(?:gave|(?:i|we) (?:give|put|add|throw|feed|chuck))(?: already)?(?: (?:to )?{_FIRE}| in| on)?(?: with)? "
        rf"{count}(?: more)?(?: {SIZE})*(?: {species}{WOOD})?{of}",
    )
    _two_feeds(scene)
    _more_of_it(scene)
    for pattern in patterns:
        for found in scene.find(pattern):
            _one_feed(scene, found)
    _other_oven(scene)
    _told_behind(scene)


_SAID_BEHIND = bag("i think reckon it was all about roughly approx around circa say of dry seasoned fire 's")


def _told_behind(scene: Scene) -> None:
    """ "2 splits beech, 1.1 kg", "another log on the fire, hickory I think": the wood of the feed before it."""
    fed = [draft for draft in scene.drafts if draft.kind == "fire" and draft.fields.get("act") == "fed"]
    if len(fed) != 1:
        return
    draft, at = fed[0], fed[0].last
    _, last = scene.sentence(draft.first)
    while at < last:
        end = at
        while end < last and scene.items[end].kind != ".":
            end += 1
        words = tuple(item.word for item in scene.items[at:end] if item.kind == "" and item.word not in _SAID_BEHIND)
        species = words in phrase_set("wood", "species") or set(words) <= {"splits", "split", "logs"}
        weights = [n for n in range(at, end) if scene.items[n].kind == "K"]
        others = any(item.kind not in ("", "K") for item in scene.items[at:end])
        if (words and not species and words[1:] not in phrase_set("wood", "species")) or others or len(weights) > 1 \
                or any(scene.used[at:end]) or any(mood != "fact" for mood in scene.moods[at:end]):
            return
        named = next((w for w in (words, words[1:]) if w in phrase_set("wood", "species")), None)
        if named and (words == named or words[0] in _WOOD_SAID):
            draft.fields.setdefault("species", " ".join(named))
        elif words and not set(words) <= _WOOD_SAID:
            return
        if weights:
            draft.fields.setdefault("wood_kg", scene.items[weights[0]].value)
        if named or weights:
            draft.last = end
            scene.use(at, end, draft.rule)
        at = end + 1


def _other_oven(scene: Scene) -> None:
    """ "two splits on the barrel, one for the dome": the other oven's share of the same feeding."""
    if not any(draft.fields.get("act") == "fed" for draft in scene.drafts):
        return
    for found in scene.find(
        rf"(?:(?:and|then|plus|,|[.]|;) )+(?:just )?(?P<n><N>|a|an|one|another|same)(?: {SIZE})*"
        rf"(?: (?P<sp>{_SPECIES}))?(?: {WOOD})?(?: (?:on|in))?"
        r" (?:for|in|on|to|into|onto) (?P<oven><O>)(?= ?(?:$|[.,;!|]|<T>|at |and ))"
    ):
        first, _ = scene.sentence(found.first)
        before = [each for each in scene.drafts if first <= each.first < found.first]
        if not before or before[-1].fields.get("act") != "fed" or before[-1].kind != "fire":
            continue
        pieces = {"N": found.number("n"), "s": before[-1].fields.get("pieces")}.get(found["n"][0], 1)
        fields = {"is": "fire", "act": "fed", "pieces": pieces, "oven": found.name("oven")}
        scene.add({**fields, "species": found["sp"] or None}, found.first, found.last, "fire fed, the other oven")


_WOOD_SAID = bag("split splits log logs billet billets")


def _more_of_it(scene: Scene) -> None:
    """ "another 3 splits", "three more", "last two on": a clause of its own that goes on with the feeding."""
    count = (
        r"(?:another|last|final|next|other|and|plus|a further|a)* ?(?P<n><N>|another|one|last|final)(?: more| others| "
        r"another)?"
    )
    for found in scene.find(
        rf"(?<![a-z0-9'] )(?:just |and |then |put |added |stuck )*{count}(?: {SIZE})*(?: (?P<sp>[a-z]+))?(?: {WOOD})?"
        rf"(?: of (?P<sp2>[a-z]+))?(?: {_ON}(?: {_FIRE})?)?(?: (?:now|just now|at <T>|<T>))*(?= ?(?:$|[.!|;,]))"
    ):
        first, last = scene.segment(found.first)
        if found.first != first or found.last < last or scene.items[found.first].kind == "H":
            continue
        words = found.match.group().split()
        if not set(words) & _WOOD_SAID and not (_feeding_told(scene) and (len(words) > 1)):
            continue
        if not set(words) & _WOOD_SAID and not set(words) & bag(
            "more another last on in final next other others pieces bits sticks"
        ):
            continue
        fields: dict[str, Any] = {"is": "fire", "act": "fed"}
        own = "" if compiled(rf"{WOOD}|on|in|now|left").fullmatch(found["sp"]) else found["sp"]
        if found["sp"] == "left" or _fed_just_before(scene, first):
            continue
        species = found["sp2"] or own
        if species and longest((species,), "wood", "species") is not None:
            fields["species"] = species
        elif own:
            continue
        pieces = found.number("n") if found["n"][:1] == "N" else 1
        if pieces is None or not 0 < pieces <= 20 or pieces != int(pieces):
            continue
        fields["pieces"] = pieces
        fields["oven"] = found.name("oven") if found["oven"][:1] == "O" else None
        scene.add(fields, found.first, found.last, "fire fed, as before")


def _fed_just_before(scene: Scene, first: int) -> bool:
    """ "barrel fed, two splits": the clause before tells of the same feeding, and takes the pieces."""
    if first < 2 or scene.items[first - 1].word not in (",", "-", ":"):
        return False
    a, b = scene.segment(first - 2)
    return bool({"fed", "stoked", "refuelled", "fuelled"} & set(scene.row.words(a, b)))


def _feeding_told(scene: Scene) -> bool:
    """Whether the last facts of the room are about wood on a fire, not long ago."""
    for said in reversed(scene.context.last):
        if not said.heard.facts:
            continue
        minutes = (scene.context.now - said.at).total_seconds() / 60
        return minutes <= 120 and any(
            each.said().get("is") == "fire" and each.said().get("act") in ("lit", "fed") for each in said.heard.facts
        )
    return False


def _two_feeds(scene: Scene) -> None:
    """ "two ash and one oak on": two woods are two feeds; one wood in two sizes is one."""
    word = r"(?: (?!(?:on|in|and|also|plus|to|onto|added|at)\b)[a-z]+)"
    unit = (
        rf"(?:<N>|a|an|one|another|<K>)(?: (?:more|another"
        rf"|of))*(?: {SIZE})*{word}?(?: {WOOD})?(?:(?: of)?{word})?(?: wood)?"
    )
    one, other = unit, unit
    for found in scene.find(
        rf"(?P<put>{_PUT} |fed(?: (?:it|fire|<O>))?(?: [,:-]| with)? )?(?P<one>{one})(?P<on> (?:on"
        rf"|in|onto|into)(?: (?P<oven>O\d+|fire|it))?)?"
        rf"(?: ,)?(?: (?:and|also|plus|,))* (?P<other>{other})(?P<on> (?:on|in|added|went on"
        rf"|onto|into))?(?: (?P<oven>O\d+|fire|it))?(?: fire)?(?= ?(?:$|[.,;!|]|at |<T>|in |on |to ))"
    ):
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
            scene.add(
                {"is": "fire", "act": "fed", "oven": oven, "pieces": sum(part["pieces"] for part in kinds)},
                found.first,
                found.last,
                "fire fed",
            )
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
        fields["species"] = " ".join(words[where[0] : where[1]])
    woody = set(words) & _WOOD_WORDS
    strange = [item for item in scene.items[first + 1 : last] if item.kind not in ("", ".")]
    known = set(words[where[0] : where[1]]) if where else set()
    rest = [
        word
        for word in scene.row.words(first + 1, last)
        if word not in known | _WOOD_WORDS | _ALSO | bag("a more another of one")
    ]
    if strange or rest or (where is None and not woody):
        return None
    return fields


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
            fields["species"] = " ".join(parts[where[0] : where[1]])
        elif not all(part in _ALSO or part in _SPECIES_NOISE for part in parts):
            return
    if groups.get("n"):
        token = str(groups["n"])
        if token[0] == "N":
            fields["pieces"] = found.number("n")
        elif token in bag("a an another one split log stick billet chunk lump"):
            second = compiled(r"another (?P<m><N>)").match(text)
            fields["pieces"] = scene.number(second.group("m")) if second else 1
            half = "half" in (words[1:2] or [""])[0] or (found.first and scene.items[found.first - 1].word == "half")
            fields["pieces"] = 0.5 if half else fields["pieces"]
        elif token == "couple":
            fields["pieces"] = 2
        if "armful" in words or "ladle" in words:
            fields.pop("pieces", None)
        bare = not set(words) & _WOOD_WORDS and "species" not in fields
        if "N" in token[:1] and bare and not _plain_feed(scene, found, fields):
            return
        if fields.get("pieces") is not None and not 0 < float(fields["pieces"]) <= 40:
            return
    elif compiled(r".* (?:another|a further) (?:log|split|stick|piece|billet|chunk|lump)").fullmatch(text):
        fields["pieces"] = 1    # "threw on another log": the verb's "another" is the number
    elif groups.get("kg"):
        if _meat_in(scene, found):
            return
        fields["wood_kg"] = found.number("kg")
    else:
        only = set(words) & bag("fed stoked refuelled fuelled built made banked")
        if (
            not only
            and "species" not in fields
            and not set(words) & bag("wood fuel logs splits sticks kindling armful armfuls log split stick")
            and not set(words) & {"handful", "bundle"}
        ):
            return
        if only & {"built", "made"} and "fire" not in words:
            return
        if (
            "species" in fields
            and not only
            and not set(words) & _WOOD_WORDS
            and len(words) == 2
            and words[0] in bag("apple plum pear cherry orange lemon lime chestnut walnut almond olive pecan")
        ):
            return
        if only and words[-1] in ("fed", "stoked") and words[0] in ("she", "it") and "fed" not in words:
            return
    oven = next(
        (found.name(name) for name in ("oven", "oven2") if groups.get(name) and str(groups[name])[0] == "O"), None
    )
    last = found.last
    if "pieces" not in fields or "species" not in fields or "wood_kg" not in fields:
        more, last = wood_behind(scene, found.last, lit=False)
        for key, value in more.items():
            fields.setdefault(key, value)
        last = max(last, found.last)
    if _people_fed(scene, found) or (
        found.last < len(scene.items) and scene.items[found.last].word in ("twice", "daily")
    ):
        return
    if words == ["fed", "up"] or elsewhere(scene, found.last) or elsewhere(scene, found.last - 1):
        return
    following = scene.items[found.last] if found.last < len(scene.items) else None
    plain = following is not None and following.kind == "" and following.word not in bag("on at now and more again")
    woody = "species" in fields or set(words[1:]) & _WOOD_WORDS - {"fire"}
    if words[0] in ("gave", "i", "we") and plain and not woody:
        return  # "gave it a splash of stock"
    vague = set(words) & _WOOD_WORDS <= bag(
        "bit bits lump lumps round rounds quarter quarters length lengths chunk chunks piece pieces"
    )
    if groups.get("n") and vague and "species" not in fields and not bag("on in fire fed stoked gave") & set(words):
        return
    scene.add({"is": "fire", "act": "fed", "oven": oven, **fields}, found.first, last, "fire fed")


_WOOD_WORDS = bag(
    "split splits log logs piece pieces stick sticks billet billets chunk chunks lump lumps bit bits stave "
    "staves length lengths round rounds quarters branch branches faggot faggots fire wood"
)


_ALSO = bag("small big large little thin thick fat good dry more half decent of wood whole split seasoned")


_SPECIES_NOISE = bag("kindling kindlings sticks logs hard soft mixed local kiln dried the some more")


def _plain_feed(scene: Scene, found: Found, fields: dict[str, Any]) -> bool:
    """ "two more on", "2 on": only as a message of its own or beside other talk of fire."""
    pieces = fields.get("pieces")
    if pieces is None or not pieces <= 9 or pieces % 1:
        return False
    words = found.match.group().split()
    begin, _ = scene.sentence(found.first)
    alone = found.first == begin or (
        scene.items[found.first - 1].kind == "." or scene.items[found.first - 1].word == "and"
    )
    if "in" in words and "more" not in words and "species" not in fields:
        return False
    led = found.first > begin and scene.items[found.first - 1].word in bag(
        "put chucked threw stuck tossed added bunged"
    )
    return alone or led or "more" in words


_FOOD = frozenset(words[-1] for words in phrase_set("dishes", "words"))
_SPECIES_WORDS = frozenset(word for words in phrase_set("wood", "species") for word in words)


def _meat_in(scene: Scene, found: Found) -> bool:
    """Whether the weight is of food: a dish within it, or named right before it with no word of wood behind."""
    if any(item.kind == "D" for item in scene.items[found.first : found.last]):
        return True
    begin, _ = scene.segment(found.first)
    before = scene.row.words(begin, found.first)
    named = any(item.kind == "D" for item in scene.items[begin : found.first]) or bool(before and before[-1] in _FOOD)
    return named and not set(found.match.group().split()) & (_WOOD_WORDS | _SPECIES_WORDS)


_EATERS = bag("dog dogs cat kids children guests everyone chickens horses animals baby people class they students pigs")


def _people_fed(scene: Scene, found: Found) -> bool:
    words = found.match.group().split()
    if words[0] not in ("fed", "stoked", "made", "built"):
        return False
    begin, _ = scene.segment(found.first)
    if set(scene.row.words(begin, found.first)) & _EATERS:
        return True
    after = word_of_item(scene, found.last)
    return (
        after in bag("kids guests everyone them dog cat chickens us up starter people")
        or ("up" in words[1:2] and "made" in words)
        or (
            found.last < len(scene.items)
            and scene.items[found.last].kind == ""
            and words == ["fed"]
            and after not in bag("at and again with twice once now on about")
        )
    )
