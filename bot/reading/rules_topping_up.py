"""What is poured into a pot that is cooking: topped up."""

from __future__ import annotations

from bot.reading.lexicon import bag, phrase_set
from bot.reading.scene import Found, Scene
from bot.reading.subjects import SUBJECT, next_word

_TOP_WORDS = bag(
    "splashed sloshed poured tipped ladled stirred given drank topped topping splash ladle drop "
    "glug jug kettle kettleful mug added dash slosh ladleful cup"
)


_LIQUIDS = {words[-1] for words in phrase_set("liquids", "words")} - bag("tomatoes cream milk brine")
POURED = frozenset(_LIQUIDS | bag("brandy sherry port rum marsala vermouth whisky kettle"))


def topped_up(scene: Scene) -> None:
    """Liquid added to what is in the pot, with its litres where these are told."""
    if not (scene.has_any(_TOP_WORDS) or "L" in scene.kinds):
        return
    what = (
        r"(?: (?:of|more|extra|boiling|hot|cold|warm|water|stock|liquid|liquor|cider|wine|beer|kettle|from"
        r"|<D>|a|bit|splash|fresh|just|boiled|ladle|ladles|half))*(?: , (?:boiling|hot|cold)(?= ?(?:$|[.,;!|]|and )))?"
    )
    to = r"(?: (?:to|into|in|on|for) (?:(?P<dish2><D>)|pot|it|pan|them|both))?"
    amount = r"(?P<litres><L>)"
    vague = (
        r"(?:a |some |more |another |bit |little |drop |extra |good |big |of )*(?:splash|ladle|ladles|ladleful"
        r"|drop|glug|bit|jug|kettle"
        r"|kettleful|mug|cup|dash|slosh|water|boiling|hot|stock|liquid|liquor|broth|cider|wine)(?: (?:of|more"
        r"|extra|boiling|hot|cold|warm"
        r"|water|stock|liquid|liquor|cider|wine|beer|kettle|from|<DW>))*?"
    )
    gave = r"(?:had|got|has had|have had|given|was given|were given|needed|took|drank|taken)"
    poured = "|".join(sorted(POURED))
    for pattern in (
        rf"topped up (?:,|-|:) {amount}{what}",
        rf"(?:topped(?: up)?|topping up) {SUBJECT}(?: (?:back )?up)?(?:(?: with| by| ,| -"
        rf"| :)?(?: (?:another|about|a further|extra|roughly|around))* {amount}{what})?",
        rf"{SUBJECT}(?: (?:'s|is|was|has|have|been|just|all|both))* {gave}(?: (?:another|about|a further|extra|around"
        rf"|roughly|more))* {amount}{what}(?: in)?(?= ?(?:$|[.,;!|]|<T>|at |and ))",
        rf"(?:added|tipped|poured|put|sloshed|splashed|stirred|chucked|ladled|slipped|bunged|threw|dropped) {vague}"
        rf" (?:in|into|in with|over|on)(?: (?:to|with|our))* (?:(?P<dish8><D>)|pot|it|pan|them)",
        rf"{SUBJECT}(?: (?:'s|is|was|has|have|been|just|all|both))* {gave} (?:a|some|another|more) {vague}(?: in)?"
        rf"(?= ?(?:$|[.,;!|]|<T>|at |and ))",
        rf"topped up(?: (?:with|by))?(?: (?:another|about|around))? {amount}{what}{to}",
        rf"{SUBJECT}(?: (?:'s|is|was|has|have|been|got|all|both|just))* topped(?: back)? up(?:(?: with"
        rf"| by| ,| -| :)?(?: another| about)? {amount}{what})?",
        rf"(?:added|tipped|poured|put|sloshed|gave|stirred|chucked|splashed|given|ladled"
        rf"|slipped)(?: (?:it|them|another|in|about|a further|{SUBJECT}))*? {amount}{what}{to}(?: in)?",
        rf"(?:another|extra|further|about|around) {amount}{what}(?: (?:in|into|added|to|went in"
        rf"|gone in)(?: (?:(?P<dish3><D>)|pot|it))?)",
        rf"(?:a |another |little |big |good |small |just |bit )*(?:splash|ladle|ladleful|drop|glug|jug|slosh|dash|bit"
        rf"|kettle|kettleful|mug|cup|bit more|drop more)(?: (?:of|more|boiling|hot|cold|warm|from|<D>|{poured}))+"
        r" (?:in|into|added to|to|on|over)(?: (?:(?P<dish7><D>)|pot|it))",
        rf"{amount} (?:more|extra)(?: (?:of|boiling|hot|cold|warm|water|stock|liquid|cider|wine"
        rf"|<D>))*(?: (?:in|into|added|to|went in|gone in))(?: (?:(?P<dish4><D>)|pot|it))?",
        rf"{amount}{what} (?:into|in)(?: (?:(?P<dish9><D>)|pot|it))?(?P<end>(?= ?(?:$|[.,;!|]|now|and )))",
        rf"{amount}{what} added(?: (?:to) (?:(?P<dish5><D>)|pot|it))?",
        rf"(?<![A-Za-z0-9'] )plus {amount}{what}{to}(?= ?(?:$|[.,;!|]))",
        rf"(?:a |another )?top up(?: (?:of|,|with|-))* {amount}{what}{to}",
        r"topped up(?: with (?:a )?(?:bit|splash|ladle|drop|cup|jug|kettle|water|stock|hot|boiling|some"
        r"|little)(?: <DW>)*?)?(?= ?(?:$|[.,;!?|]|and|at <T>))",
        rf"(?:added|gave it|gave {SUBJECT}|put in|poured in|tipped in) (?:a |some |more "
        rf"|another )*(?:splash|ladle|drop|glug|bit|jug|kettle|kettleful|mug|water|boiling|hot"
        rf"|stock)(?: (?:of|more|water|stock|boiling|hot|liquid|<D>))*(?: (?:to|in"
        rf"|into) (?:(?P<dish6><D>)|pot|it))?",
    ):
        for found in scene.find(pattern):
            groups = found.groups
            name = next((found.name(f"dish{n}") for n in ("", 2, 3, 4, 5, 6, 7, 8, 9) if groups.get(f"dish{n}")), None)
            if found.match.re.groupindex.get("end") and not _added_later(scene, found, name):
                continue
            if groups.get("litres") and not _is_liquid(scene, found):
                continue
            if found.match.group().startswith("topped up") and next_word(scene, found.first - 1) in _NO_POTS:
                continue  # "ice topped up"
            if not groups.get("litres") and "topped" not in found.match.group() and not _is_liquid(scene, found):
                continue
            scene.add(
                {
                    "is": "pot",
                    "act": "topped_up",
                    "dish": name,
                    "litres": found.number("litres") if groups.get("litres") else None,
                },
                found.first,
                found.last,
                "topped up",
            )
    _how_much(scene)
    _say_once(scene)


_NO_POTS = bag("ice log basket urn kettle salt water glasses drinks wine tea cups bowl bin tank jugs woodpile stack")


def _how_much(scene: Scene) -> None:
    """ "put some water in the dal, 400 ml": the litres in a clause of their own behind the act."""
    for draft in scene.drafts:
        if draft.rule != "topped up" or "litres" in draft.fields or draft.last + 1 >= len(scene.items):
            continue
        a, b = scene.segment(draft.last + 1)
        litres = [n for n in range(a, b) if scene.items[n].kind == "L" and not scene.used[n]]
        others = {scene.items[n].word for n in range(a, b)} - {scene.items[n].word for n in litres}
        if a == draft.last + 1 and len(litres) == 1 and others <= bag("about around roughly maybe just of another"):
            draft.fields["litres"] = scene.items[litres[0]].value
            draft.last = b
            scene.use(a, b, draft.rule)


def _say_once(scene: Scene) -> None:
    """ "200 ml into the lamb, topped up": one top-up, told twice."""
    drafts = [draft for draft in scene.drafts if draft.rule == "topped up"]
    if any("litres" in draft.fields for draft in drafts):
        for draft in drafts:
            if "litres" not in draft.fields and "dish" not in draft.fields:
                scene.drafts.remove(draft)


# Told alone as going into a pot that is known, so little is a top-up and no filling [L]; common practice, no source.
MOST_ADDED_L = 0.5


def _added_later(scene: Scene, found: Found, dish: str | None) -> bool:
    """ "200 ml of boiling stock into the lamb": a top-up, if no weight and no pan is told with it."""
    first, last = scene.sentence(found.first)
    words = set(scene.row.words(first, last))
    loaded = any(item.kind == "K" for item in scene.items[first:last]) or words & bag("pan iron clay load loaded")
    into = "into" in found.match.group().split() or scene.items[found.last - 1].word in ("in", "into")
    into = into or (dish in scene.context.dishes and 0 < float(found.number("litres") or 0) <= MOST_ADDED_L)
    known = dish is None or dish in scene.context.dishes
    said = bool(dish or words & {"low", "dry"} or {"lid", "off"} <= words)
    return known and not loaded and into and (said or _cooking_told(scene, found, first, last))


def _cooking_told(scene: Scene, found: Found, first: int, last: int) -> bool:
    """ "half litre boiling in", alone, after "beans low still hard": into the pot that was talked of."""
    alone = found.first == first and not scene.row.words(found.last, last)
    told = scene.context.last[-1].heard.facts if scene.context.last else ()
    return alone and any(fact.is_ == "check" for fact in told)


def _liquid_talk(scene: Scene, at: int) -> bool:
    """ "beans needed water, added 500 ml": the clause before names what was added."""
    first, _ = scene.sentence(at)
    words = set(scene.row.words(first, at))
    return bool(words & bag("water stock liquid liquor low dry drying topping"))


def _is_liquid(scene: Scene, found: Found) -> bool:
    words = set(scene.row.words(found.first, found.last))
    named = any(found.groups.get(f"dish{n}") for n in ("", 2, 3, 4, 5, 6, 7, 8)) and bool(found.groups.get("litres"))
    return (
        "topped" in words
        or ("plus" in words and (named or _liquid_talk(scene, found.first)))
        or ("added" in words and _liquid_talk(scene, found.first))
        or (named and bool(words & bag("added poured tipped gave given had got sloshed splashed ladled")))
        or "topping" in words
        or bool(words & (POURED | bag("boiling more extra another further")))
    )
