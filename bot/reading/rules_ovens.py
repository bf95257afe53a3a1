"""An oven described: its measures and how it is fired."""

from __future__ import annotations

import re
from typing import Any

from bot.reading.lexicon import bag, common_phrases
from bot.reading.scene import Scene, clean, compiled, is_stop
from skills.vocabulary import OVEN_SIZES_CM

_MEASURES: tuple[tuple[str, str], ...] = (
    (
        "across_cm",
        r"(?:(?:is |about |roughly |some |inside )*(?P<v><CN>) (?:across|wide|in diameter|diameter"
        r"|inside diameter|internal diameter|dia|internal|inside)(?: inside| internally)?|(?:diameter"
        r"|inside diameter|internal diameter|width|across|inside width)(?: (?:is|of|:"
        r"|about))* (?P<w><CN>)(?: across)?)",
    ),
    (
        "probe_cm",
        r"(?:(?:floor )?probe(?: in <O>)?(?: (?:'s|is|sits|set|sunk|buried|goes|at|in|about|sitting|down|depth|hole"
        r"|reaches|drilled|placed|lies|sat))* (?P<v><CN>|<T>)(?: (?:down|deep|in|into|under|below|from"
        r"|of))*(?: (?:in|into|the|surface|brick|bricks|floor|<P>|top|of))*|(?P<w><CN>) (?:down|deep"
        r"|into <P>|below surface|in)(?: (?:for|is|to))?(?: (?:floor )?probe)|<P> probe(?: in <O>)?(?: (?:'s|is|sits"
        r"|set|at|about|in|sunk|down|buried))* (?P<x><CN>)(?: (?:down|deep|in|into <P>|below surface))*)",
    ),
    (
        "insulation_cm",
        r"(?:(?P<v><CN>)(?: (?:of|thick|layer|deep))* (?:insulation|lagging|blanket|ceramic blanket"
        r"|ceramic fibre|ceramic fiber|vermiculite|perlite|wool|rockwool|insulating blanket|fibre"
        r"|lagged)(?: (?:over it|over|on top|all round|around|round it|on it|over dome|over top))*"
        r"|(?:insulation|lagging|blanket|vermiculite|insulated with|ceramic blanket|insulated)(?: (?:is|of"
        r"|'s|:|over|it|about|thickness|layer|by|<P>))* (?P<w><CN>)(?: (?:thick|over it|all round|over))*)",
    ),
    (
        "dome_cm",
        r"(?:(?P<v><CN>) (?:thick |of )*(?:dome|vault|wall|walls|shell|arch|P\d+|O\d+)(?: (?:thick|brick"
        r"|thickness|bricks))*|(?:dome|vault|shell|arch|walls?|P\d+|O\d+)(?: (?:is|of|'s|thickness|bricks?"
        r"|:|shell))* (?P<w><CN>)(?: thick)?)",
    ),
    (
        "floor_cm",
        r"(?:(?P<v><CN>) (?:thick |of |brick |fire |firebrick )*(?:floor|hearth|P\d+"
        r"|bricks?(?= ?(?:$|[.,;!|]|and |with )))"
        r"(?: (?:bricks?|thick|tiles?|slab))*|(?:floor"
        r"|hearth|P\d+)(?: (?:is|of|'s|bricks?|tiles?|thickness|:|slab|are|O\d+))* (?P<w><CN>)(?: thick)?)",
    ),
)


_FIRED = {
    "retained": r"(?:retained(?: heat)?|stored heat|fired then (?:cleared|raked)|fired and (?:cleared|raked)"
    r"|fire it rake it|fire (?:it )?,? ?rake (?:it )?(?:out )?(?:,? ?and )?(?:cook|bake)[a-z ']*"
    r"|(?:we )?fire it(?: (?:up|then|and|,|rake|it|out|cook|bake|on))* (?:what|after|left"
    r"|heat)(?: (?:'s|left|is))*|raked before (?:cooking|baking)|cook on (?:what 's|whats|what is"
    r"|the) left|no fire while cooking|falling oven|falling heat|cook(?:s|ed|ing)? (?:on"
    r"|with) (?:what 's left|falling heat|stored heat|retained heat|heat left)"
    r"|raked out before (?:cooking|we cook)|cook after raking|residual heat"
    r"|fire 's raked (?:out )?before.*)",
    "tended": r"(?:tended|kept (?:going|alight|lit|fed) with (?:a )?(?:small |little )?fire|kept going"
    r"|fire (?:stays|kept|is kept|stays lit|stays on|always) (?:in|going|burning|on|lit"
    r"|alight)(?: all (?:day|through))?|small fire (?:kept )?(?:going|in|all (?:day|along|through))"
    r"|live fire|fed (?:all through|through|as we go|throughout|while we cook|by hand)"
    r"|with (?:a )?(?:small )?(?:live )?fire (?:in|going|burning)(?: all day| throughout)?"
    r"|fire (?:burns|burning) throughout|keep a (?:small )?fire going|we keep feeding it|fire tended)",
}


_ACROSS = bag("across diameter")
_FIRED_WORDS = bag("retained tended stored fire fired kept raked fed residual falling cook cooks keep")


def ovens(scene: Scene) -> None:
    """An oven described: its measures and how it is fired."""
    if "C" not in scene.kinds and not scene.has_any(_FIRED_WORDS) and not scene.has_any(_ACROSS) and (
            not _bare_depth(scene, 0, len(scene.row.canon))):
        return
    _both_fired(scene)
    for first, last in _descriptions(scene):
        _describe(scene, first, last)
    _probe_says(scene)


def _probe_says(scene: Scene) -> None:
    """ "probe is 5 cm down, says 41": where it sits, then what it reads."""
    if not any(draft.kind == "oven" and "probe_cm" in draft.fields for draft in scene.drafts):
        return
    told = [draft for draft in scene.drafts if draft.kind == "oven"]
    for found in scene.find(
        r"(?:and |it |now )*(?:says|reads|reading|shows|stands at) (?P<v><V>)(?= ?(?:$|[.,;!]|now|and ))"
    ):
        before = [draft for draft in told if found.first - 3 <= draft.last <= found.first]
        if before:
            fields = {"is": "reading", "place": "floor", "tool": "probe", "celsius": found.number("v")}
            oven = before[-1].fields.get("oven")
            scene.add({**fields, "oven": oven}, found.first, found.last, "heat of the probe")


def _descriptions(scene: Scene) -> list[tuple[int, int]]:
    """Stretches that describe one oven each."""
    names = [n for n, item in enumerate(scene.items) if item.kind == "O"]
    cuts = [0]
    heads = [a for a in range(len(scene.items)) if (a == 0 or _begins(scene, a)) and _head(scene, a) is not None]
    other_first = bool(heads and names and heads[0] < names[0]) or 0 in heads
    other_first = other_first or _THAT_ONE.match(scene.row.canon) is not None
    for n in names if other_first else names[1:]:
        begin, _ = scene.segment(n)
        if scene.items[n].words == ("dome",) and _is_measure(scene, n):
            continue
        if begin > 0:
            cuts.append(begin)
    cuts += [a for a in heads if a]
    cuts = sorted(set(cuts))
    return list(zip(cuts, [*cuts[1:], len(scene.items)], strict=True))


def _begins(scene: Scene, at: int) -> bool:
    """Whether a sentence or a clause begins here."""
    before = scene.items[at - 1]
    return is_stop(before) or before.word == "and"


def _head(scene: Scene, at: int) -> re.Match[str] | None:
    """ "mushroom has 100 cm across", "cart is tended": any noun that heads a description is an oven's name."""
    headed = _HEADED.match(scene.row.canon, scene.row.offset(at))
    if headed is None:
        return None
    words, called = set(headed["name"].removesuffix(" oven").split()), headed["name"].endswith(" oven")
    return None if words & _NO_OVEN or (called and words & _NO_NAMES) else headed


def _both_fired(scene: Scene) -> None:
    """ "barrel and the pup are tended": each of them, one of which nobody may have named yet."""
    for found in scene.find(r"(?P<one><O>|[a-z]{3,}) and (?:our )?(?P<other><O>|[a-z]{3,}) are (?:both |all )*"
                            r"(?P<fired>tended|retained)"):
        names = [found.name(key) if found[key][0] == "O" and found[key][1:].isdigit() else found[key]
                 for key in ("one", "other")]
        if any(found[key][0] == "O" for key in ("one", "other")) and not set(names) & _NO_OVEN:
            for name in names:
                fields = {"is": "oven", "oven": name, "fired": found["fired"]}
                scene.add(fields, found.first, found.last, "ovens of a list", keep=True)


def _is_measure(scene: Scene, n: int) -> bool:
    near = scene.items[max(0, n - 1) : n + 3]
    kinds = [item.kind for item in near]
    return "C" in kinds[:3] or ("N" in kinds and any(item.word in ("thick", "brick", "bricks") for item in near))


def _describe(scene: Scene, first: int, last: int) -> None:
    canon = scene.row.canon
    start, stop = scene.row.offset(first), scene.row.offset(last)
    fields: dict[str, Any] = {}
    spans: list[tuple[int, int]] = []
    taken: set[int] = set()
    name, name_at = _described_name(scene, first, last)
    if name_at is not None:
        taken.add(name_at)
    sized = any(item.kind == "C" or item.word in _ACROSS for item in scene.items[first:last]) or (
        _bare_depth(scene, start, stop))
    if sized:
        for key, pattern in _MEASURES:
            for match in compiled(pattern).finditer(canon, start, stop):
                token = next((match.group(group) for group in ("v", "w", "x") if match.groupdict().get(group)), None)
                if token is None or key in fields:
                    continue
                a, b = scene.row.items_of(match.start(), match.end())
                at = int(token[1:])
                named = {name_at} if key in ("probe_cm", "floor_cm") else set()  # "the probe in the pod is 4 cm down"
                if at in taken or any(n in taken - named for n in range(a, b)) or any(scene.used[a:b]):
                    continue
                if not _noun_fits(scene, key, a, b):
                    continue
                if any(mood in ("question", "what_if", "silent") for mood in scene.moods[a:b]):
                    continue
                size = scene.number(token) if token[0] != "T" else _heard_as_time(scene, token, fields)
                if size is None or size < 0:
                    continue
                if key != "across_cm" and token[0] != "C" and size > OVEN_SIZES_CM[key][1]:
                    continue  # "20 cm insulation, raked, floor 240": a heat
                fields[key] = size
                taken.update(range(a, b))
                spans.append((a, b))
    for value, pattern in _FIRED.items():
        for match in compiled(pattern).finditer(canon, start, stop):
            a, b = scene.row.items_of(match.start(), match.end())
            if any(mood in ("question", "what_if") for mood in scene.moods[a:b]) or "fired" in fields:
                continue
            if not fields and name is None:
                that = _THAT_ONE.match(canon, start)
                if that is None or a != scene.row.items_of(that.start("fired"), that.end("fired"))[0]:
                    continue
            elif not fields and not _states_kind(scene, first if name_at is None else name_at + 1, a):
                continue
            fields["fired"] = value
            spans.append((a, b))
    if not fields:
        return
    if name is None and _OTHER_THINGS & set(scene.row.words(first, last)):
        return
    if set(fields) == {"across_cm"} and name is not None and not _is_oven(scene, name):
        a, b = min(a for a, _ in spans), max(b for _, b in spans)
        if scene.trouble is None:
            scene.trouble = f'Not taken: "{scene.row.text(min(a, first), b)}". Is the {name} an oven?'
        scene.use(min(a, first), b, "width of a thing")
        return
    if (
        any(scene.items[n].kind == "D" for n in range(first, last))
        and len(fields) == 1
        and "fired" not in fields
        and name is None
    ):
        return
    if len(fields) == 1 and name is None and not fields.keys() & {"across_cm", "probe_cm", "insulation_cm", "fired"}:
        a, b = spans[0]
        if not any(item.kind == "C" for item in scene.items[a:b]):
            return
    for draft in [
        each
        for each in scene.drafts
        if each.rule in ("raked out", "fire lit", "dome cleared") and any(a <= each.first < b for a, b in spans)
    ]:
        scene.drafts.remove(draft)
    scene.add(
        {"is": "oven", "oven": name, **fields},
        min(a for a, _ in spans),
        max(b for _, b in spans),
        "oven described",
        keep=True,
    ).no_carry = set(fields) == {"fired"}
    for a, b in spans:
        scene.use(a, b, "oven described")


# Deeper than any probe is sunk, and colder than any floor that people read [cm, degC].
_DEEPEST = 30.0
_BARE_DEPTH = compiled(r"(?:<P> )?probe(?: (?:'s|is|sits|goes|about))* (?P<v><N>) (?:down|deep|below)"
                       r"(?: (?:in|into|the|oven|<O>|<P>))*(?: (?:[.,;!]|and )|$)")


# "cob 85 wide, walls 9 thick".
_BARE_WIDTH = compiled(r"<O>(?: (?:is|'s|about))* <N> wide(?= ?(?:$|[.,;!]))")


def _bare_depth(scene: Scene, start: int, stop: int) -> bool:
    """ "probe 5 down in the dome": no unit, but a depth and no heat."""
    match = _BARE_DEPTH.search(scene.row.canon, start, stop)
    if match is not None and (scene.number(match["v"]) or _DEEPEST) < _DEEPEST:
        return True
    return _BARE_WIDTH.search(scene.row.canon, start, stop) is not None


def _is_oven(scene: Scene, name: str) -> bool:
    """Whether a name is an oven's: a width alone tells it of a parasol as well."""
    words = common_phrases().get(name.split()[0], ())
    return (
        any(bag("oven ovens call calls called named name nicknamed") & set(item.words) for item in scene.items)
        or any(item.kind == "O" and item.value == name for item in scene.items)
        or name in scene.context.ovens
        or name.endswith("oven")
        or name == "dome"
        or any(item.kind == "O" and item.named_here and item.value == name for item in scene.items)
        or any(kind == "O" and meaning == name for _, kind, meaning in words)
    )


def _heard_as_time(scene: Scene, token: str, fields: dict[str, Any]) -> float | None:
    """ "60 across, probe at 5": behind other measures "at 5" is no time."""
    word = scene.item(token).word
    return float(word) if fields and word.isdigit() else None


def _states_kind(scene: Scene, first: int, at: int) -> bool:
    """ "barrel is tended": the way of firing alone counts when it is said of the oven itself."""
    between = list(scene.items[first:at])
    return all(
        item.kind in ("O", "P", ".")
        or item.word
        in (
            "'s",
            "is",
            "on",
            "the",
            "a",
            "and",
            "today",
            "we",
            "are",
            "using",
            "with",
            "will",
            "be",
            "oven",
            "s",
            "of",
            "runs",
            "going",
            "fully",
            ",",
            "which",
            "little",
            "small",
            "big",
            "other",
            "was",
            "also",
            "now",
            "this",
            "one",
            "run",
            "only",
            "just",
        )
        for item in between
    )


def _noun_fits(scene: Scene, key: str, a: int, b: int) -> bool:
    """A place token in a measure must be the right part of the oven."""
    places = [item for item in scene.items[a:b] if item.kind in ("P", "O")]
    words = {word for item in scene.items[a:b] for word in item.words}
    if key == "dome_cm":
        return all(item.value in ("dome", "wall", "back") for item in places) and (
            bool(places) or bool(words & bag("vault shell arch wall walls dome"))
        )
    if key == "floor_cm":
        return (
            all(item.value == "floor" for item in places if item.kind == "P")
            and (bool(places) or bool(words & {"floor", "hearth", "brick", "bricks"}))
            and "probe" not in words
        )
    if key == "probe_cm":
        return all(item.value == "floor" for item in places if item.kind == "P")
    return True


_SAID_FIRED = (
    r"(?: (?:only|just|purely|always|on))* (?P<fired>retained (?:heat|one|oven)|tended)(?: (?:one|oven|only|fire))*"
    r"(?=$| (?:[.,;!]|and|but) ?)"
)
_AS_EVER = (
    r"(?:exactly |just )?as (?:usual|always|ever|before)"
    r"|(?:the )?same as (?:always|ever|before|usual|last time|yesterday)|like (?:always|before|last time)"
    r"|(?:the )?usual"
)
_HEADED = compiled(
    r"(?:(?:and|so|also|then|ok|,) )*(?P<name>(?:[a-z]+ )??[a-z]+(?! oven))"
    rf"(?:(?: (?:is|'s|has|:|-|,|[(]|oven|about|roughly|measures|{_AS_EVER}|retained(?: heat)?|tended))+"
    r" <CN> (?:across|wide|in diameter|diameter|dia)"
    rf"|(?: oven)?(?: (?:is|'s))+{_SAID_FIRED})"
)
_THAT_ONE = compiled(rf"(?:(?:and|so|also|oh|,) )*(?:that one|this one|that|it|this)(?: (?:is|'s))+{_SAID_FIRED}")

# "tin oven is the tended one", "and the tin oven: 60 across": a word before "oven" is its name.
_CALLED = compiled(
    r"(?:(?:and|also|ok|then|the|our|forgot|plus|,) )*(?P<name>[a-z]+ oven)"
    r"(?: (?:is|'s|:|-|,|measures|has|we|runs|<C>))"
)
_NO_NAMES = bag(
    "the our his her their your my whole same hot cold warm empty full main dutch gas electric home kitchen other "
    "another each every which what any no retained tended fired this that it inside outside everything and so but"
)


_AS_IT_IS_CALLED = compiled(r"(?:called|named|christened|known as) (?:the )?(?P<name><O>)")


def _described_name(scene: Scene, first: int, last: int) -> tuple[str | None, int | None]:
    named = _AS_IT_IS_CALLED.search(scene.row.canon, scene.row.offset(first), scene.row.offset(last))
    if named is not None:
        # "new little oven is called the hive": what stands before it only describes, unless the room knows it so
        before = [item for item in scene.items[first:scene.row.items_of(*named.span("name"))[0]] if item.kind == "O"]
        if not any(str(item.value) in scene.context.ovens for item in before):
            return scene.name(named["name"]), scene.row.items_of(*named.span("name"))[0]
    for n in range(first, last):
        item = scene.items[n]
        if item.kind == "O" and not (
            item.words == ("dome",) and _is_measure(scene, n) and n > first + 1 and not _copula(scene, n)
        ):
            return str(item.value), n
    if (headed := _head(scene, first)) is not None:
        a, b = scene.row.items_of(headed.start("name"), headed.end("name"))
        return clean(scene.row.text(a, b)), b - 1
    called = _CALLED.match(scene.row.canon, scene.row.offset(first))
    if called is not None and not set(called["name"].split()) & _NO_NAMES:
        a, b = scene.row.items_of(called.start("name"), called.end("name"))
        return clean(scene.row.text(a, b)), b - 1
    match = re.compile(
        r"(?:oven is|using|cooking in|today 's oven is|oven :|oven called"
        r"|oven 's) (?:the )?((?:[a-z]+ )?[a-z]+)"
    ).search(scene.row.canon, scene.row.offset(first))
    if match is not None:
        a, b = scene.row.items_of(match.start(1), match.end(1))
        if b <= last and b < len(scene.items) and scene.items[b].kind == ".":
            return clean(scene.row.text(a, b)), a
    return None, None


_OTHER_THINGS = bag("table tray tin pan pot loaf pizza dough hole gap crack stump parasol gazebo board pie tart")
_NO_OVEN = bag(
    "it that this oven floor brick bricks table door pot tin tray pan log logs hole gap crack loaf pizza dough "
    "they we he "
    "she is 's mouth inside outside everything one and so but tray's mine yours what which how opening entrance arch "
    "throat chimney flue slab landing shelf peel retained stored tended usual same always before like as ever last "
    "has today tomorrow heat fire fires ember embers wood cooking baking "
    "garden cut wound"
)


def _copula(scene: Scene, n: int) -> bool:
    after = scene.items[n + 1] if n + 1 < len(scene.items) else None
    return after is not None and after.word in ("is", "'s", ":")
