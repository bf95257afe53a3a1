"""Pots: in, out, moved and turned."""

from __future__ import annotations

from bot.reading.lexicon import bag
from bot.reading.rules_lids import lids
from bot.reading.rules_topping_up import topped_up
from bot.reading.scene import Found, Scene, compiled
from bot.reading.subjects import BE, SUBJECT, add_act, elsewhere, is_stuff, next_word

# What may stand behind "in" so that it means the oven.
_AFTER_IN = (
    r"(?= ?(?:$|[.,:;!?|/()-]|<T>|<U>|and |now|at |since |about |with (?!<U>|<N>|<T>)"
    r"|with <P>|with door|lid |door |<P>|<N>"
    r"|<H>|<I>|probe "
    r"|sorry|already|again|fire |back|finally|there|safely|on (?:trivet|tile|floor)|for |by |after|together"
    r"|from|while|round |around |behind |alongside "
    r"|<D>|pot |raked|all |next to|beside|yay|thanks|cheers|chef|team|everyone|folks|as of|then"
    r"|too|as well|an all|and all"
    r"|(?:fat|skin|bone|cut)(?: side)? (?:up|down)"
    r"|but|so|core|liquor|this|bang|dead|instead|with <D>|<K>|<L>|<A>))"
)


def pots(scene: Scene) -> None:
    """Acts on a pot."""
    _act_first(scene)
    _several(scene)
    _moved(scene)
    topped_up(scene)  # before the lids: "topped up with hot stock and put the lid on" is no lid of the stock
    lids(scene)
    _in_behind_load(scene)
    _turned(scene)
    _listed_in(scene)
    _behind_weight(scene)
    _in(scene)
    _from_the_cold(scene)
    _out(scene)
    _likewise(scene)
    _stand_swapped(scene)


_ACTS = {
    "in": (
        r"(?:put|got|popped|slid|loaded|stuck|chucked|slipped|shoved|placed|bunged|set|have|had)",
        r"(?:in"
        r"|into|inside)",
    ),
    "out": (r"(?:took|taken|pulled|got|lifted|brought|slid|had|have)", r"(?:out(?: of)?|from|out from)"),
    "turned": (r"(?:turned|rotated|spun|flipped)", r"(?:turned|rotated|spun|flipped)"),
}


def _several(scene: Scene) -> None:
    """ "goat and beans both in the dome", "all in at 11: lamb, beans, ham": one act for every dish of the list."""
    if sum(item.kind == "D" for item in scene.items) < 2:
        return
    joined = r"(?P<list><D>(?: pot)?(?: , <D>)*(?: ,)? (?:and|plus|with) (?:our |my )?<D>(?: pot)?)"
    listed = r"(?P<list><D>(?: pot)?(?: (?:,|and|plus|/|[|])(?: and)? <D>(?: pot)?)+)"
    for act, (verb, done) in _ACTS.items():
        where = r"(?: (?P<oven><O>)| oven)?"
        patterns = [
            rf"(?:all|both|everything|pots|pans|(?:<N> )?dishes)?(?: 's| is| are| now)* ?{done}{where}(?: now"
            rf"| (?:at )?<T>)* [:-] {listed}(?= ?(?:$|[.;!|]))",
            rf"(?:{verb} )?(?:both |all )?{joined}{BE} {done}{where}{_AFTER_IN}",
        ]
        if act == "turned":
            patterns.append(rf"{verb} (?:both |all )?{joined}")
        for pattern in patterns:
            for found in scene.find(pattern):
                first, last = found.items_of("list")
                names = [n for n in range(first, last) if scene.items[n].kind == "D" and not is_stuff(scene, n)]
                if len(names) < 2:
                    continue
                oven = found.name("oven") if found.has("oven") else None
                for n in names:
                    name = str(scene.items[n].value)
                    draft = scene.add(
                        {"is": "pot", "act": act, "dish": name, "oven": oven},
                        n,
                        found.last,
                        "pots of a list",
                        keep=True,
                    )
                    draft.first = found.first if n == names[0] else n
                    for each in scene.items[found.first : found.last]:
                        if each.kind == "T":
                            draft.time = each.value
                scene.use(found.first, found.last, "pots of a list")


def _likewise(scene: Scene) -> None:
    """ "lamb in at 10, beans at half past": the second goes on with the act of the first."""
    for found in scene.find(
        r"(?P<dish><D>)(?: pot)? (?:at (?P<time><T>)|(?:too|as well|also|likewise))(?= ?(?:$|[.,;!|]|and ))"
    ):
        first, _ = scene.sentence(found.first)
        before = [
            draft
            for draft in scene.drafts
            if draft.kind == "pot"
            and first <= draft.first < found.first
            and draft.fields["act"] in ("in", "out", "turned")
        ]
        if before:
            draft = scene.add(
                {"is": "pot", "act": before[-1].fields["act"], "dish": found.name("dish")},
                found.first,
                found.last,
                "pot likewise",
            )
            draft.time = found.time("time") if found.has("time") else None


def _swapped(scene: Scene) -> None:
    """ "swapped the pots over": each to where the other was."""
    pots = r"(?:both |two |our )*(?:pots|pot 's|dishes|pans|trays)"
    for found in scene.find(
        rf"(?:swapped|switched|changed) (?:{pots}|them|(?:both|those|these)(?: <N>)?|<N>|<D> and (?:our |my )?<D>)"
        r"(?: (?:over|round|around|about|places|between ovens|now))+"
        rf"|{pots}(?: (?:are|have|been|now|all|got))* (?:swapped|switched)(?: (?:over|round|around|about|now))*"
    ):
        scene.add({"is": "pot", "act": "moved"}, found.first, found.last, "pots swapped")


def _stand_swapped(scene: Scene) -> None:
    """Two dishes in two ovens, swapped: each stands where the other stood, as the record or this message has it."""
    swap = next((draft for draft in scene.drafts if draft.rule == "pots swapped"), None)
    if swap is None:
        return
    standing = dict(scene.context.standing)
    for draft in scene.drafts:
        if draft.kind == "pot" and draft.fields["act"] in ("in", "moved") and "oven" in draft.fields:
            standing[str(draft.fields.get("dish"))] = str(draft.fields["oven"])
    first, last = scene.segment(swap.first)
    named = {str(item.value) for item in scene.items[first:last] if item.kind == "D"}
    here = {dish: oven for dish, oven in standing.items() if not named or dish in named or len(standing) == 2}
    if len(here) != 2 or len(set(here.values())) != 2 or "None" in here:
        return
    (one, its_oven), (other, other_oven) = here.items()
    scene.drafts.remove(swap)
    for dish, oven in ((one, other_oven), (other, its_oven)):
        scene.add({"is": "pot", "act": "moved", "dish": dish, "oven": oven}, swap.first, swap.last, "pots swapped")


def _moved(scene: Scene) -> None:
    if scene.has_any(bag("swapped switched changed")):
        _swapped(scene)
    for found in scene.find(
        r"(?:i have |we have |have |just )*(?:moved|shifted|switched|transferred|swapped) (?P<one><N>|one)(?: pots?)?"
        r"(?: of (?:them|pots))?(?: (?:over|across|back))* (?:to|into|in) (?P<oven><O>)(?= ?(?:$|[.,;!|]|now|at ))"
    ):
        if found.number("one") in (None, 1.0):  # which of them is asked
            add_act(scene, found, "moved", "pot moved")
    for found in scene.find(r"(?:moved|shifted|switched|transferred) (?P<dish><D>)(?: over)? in (?:with|beside) <D>"):
        add_act(scene, found, "moved", "pot moved")
    if "O" not in scene.kinds:
        return
    verb = (
        r"(?:moved|shifted|swapped|switched|transferred|carried|taken|took|swapped over|moving|brought"
        r"|relocated|slid|put|popped|got|lifted|switching|shunted|migrated)"
    )
    for pattern in (
        rf"{verb} (?:{SUBJECT}|one)(?: (?:out|over|across|up|down))?(?: (?:(?:from|out of"
        rf"|off) )?(?:<O>))?(?: (?:over|across|back|out|up|down|and))*(?: (?:to|into|in"
        rf"|onto)) (?P<oven><O>)(?: (?:from|out of) <O>)?",
        rf"{SUBJECT}{BE} (?:moved|shifted|swapped|switched|transferred|over|across|moved over"
        rf"|moved across|over now|off)(?: (?:from|out of) <O>)?(?: (?:over|across|now))* (?:to|into"
        rf"|in) (?P<oven><O>)(?: (?:from|out of) <O>)?",
        rf"{SUBJECT}{BE} (?:out of|from|out) <O>(?: (?:and|,|now|over|across|straight))* (?:to|into) (?P<oven><O>)",
        rf"{SUBJECT}(?: (?:'s|is|are|now|going|gone|has|have|went|back|straight))* (?:to) (?P<oven><O>)"
        r"(?= ?(?:$|[.,;!|]|<T>|at |and ))",
        r"(?P<over>over) to (?P<oven><O>)(?: (?:with (?:them|it|that|those)|(?:it|they) (?:go|goes|went)|now))*"
        r"(?= ?(?:$|[.,;!|]))",
        r"(?:swapped|moved|shifted|switched) (?:over )?(?:to) (?P<oven><O>)",
        r"(?P<dish><D>) (?:i|we)(?: have)? (?:moved|shifted|switched|transferred|swapped)(?: over)? (?:in|into|to"
        r"|onto) (?P<oven><O>)",
    ):
        for found in scene.find(pattern):
            text = found.match.group()
            sure = any(
                word in text.split()
                for word in bag(
                    "moved shifted swapped switched transferred over across from carried moving relocated out "
                    "migrated shunted"
                )
            )
            if not sure and "to" not in text.split():
                continue
            if found.has("over") and not any(item.kind == "D" for item in scene.items[: found.first]):
                continue
            add_act(scene, found, "moved", "pot moved")
    moved = [draft for draft in scene.drafts if draft.rule == "pot moved"]
    for draft in [each for each in scene.drafts if each.rule == "pots swapped" and len(moved) > 1]:
        scene.drafts.remove(draft)  # "swapped them round. goat to the barrel, ribs to the dome"


def _listed_in(scene: Scene) -> None:
    """ "in the dome: brisket since 11.30, chickpeas since 11.40": the oven heads the list of what went in."""
    head = compiled(r"(?:now )?in (?:(?P<oven><O>)|oven) [:-]").match(scene.row.canon)
    if head is None:
        return
    oven = scene.name(head["oven"])
    for found in scene.find(r"(?P<dish><D>)(?: (?:since|at|from|in))* (?P<time><T>)(?= ?(?:$|[.,;!|]|and ))"):
        scene.add(
            {"is": "pot", "act": "in", "dish": found.name("dish"), "oven": oven},
            found.first,
            found.last,
            "pot in",
            time=found.time("time"),
        )


_WOOD_WORDS = bag("wood split splits log logs kindling ash oak beech birch")


def _in_behind_load(scene: Scene) -> None:
    """ "3 kg shoulder, hot stock, lid on in the dome", "4 loaves, 3.2 kg, in the dome": where what was weighed went."""
    if not scene.kinds & {"K", "L"} or scene.has_any(_WOOD_WORDS):
        return
    for found in scene.find(r"(?:in|into) (?P<oven><O>)(?: (?:now|already|(?:at )?<T>))*(?= ?(?:$|[.,;!|]| on ))"):
        first, _ = scene.segment(found.first)
        loaded = any(item.kind in ("K", "L") for item in scene.items[scene.sentence(found.first)[0] : first])
        lidded = found.first > 1 and [item.word for item in scene.items[found.first - 2 : found.first]] == ["lid", "on"]
        if lidded or (first == found.first and loaded):
            scene.add({"is": "pot", "act": "in", "oven": found.name("oven")}, found.first, found.last, "pot in")


def _act_first(scene: Scene) -> None:
    """ "in. lid on.": the act alone, and what was done to the pot or the door along with it."""
    match = compiled(
        r"(?:(?:and|ok|right) )*(?:(?:it|they)(?: (?:'s|is|are|all|both|went|now))* )?(?P<act>in|out)(?: now)?"
        r"(?= [.,;] (?:and )?(?:lid|door))"
    ).match(scene.row.canon)
    if match is not None and not scene.used[0] and scene.moods[0] == "fact":
        last = scene.row.items_of(match.start(), match.end())[1]
        scene.add({"is": "pot", "act": match["act"]}, 0, last, f"pot {match['act']}")


_TURN_WORDS = bag("turned rotated spun flipped swivelled swiveled twisted pivoted turn spin twist gave given")


def _turned(scene: Scene) -> None:
    if not scene.has_any(_TURN_WORDS):
        return
    for pattern in (
        rf"(?:turned|rotated|spun|flipped|swivelled|swiveled|twisted|pivoted)(?: round"
        rf"| around| already| also| now)? {SUBJECT}(?: (?:round|around|over|end for end|half|a quarter|halfway"
        rf"|back to front|180))*",
        rf"{SUBJECT}(?: (?:'s|is|are|was|has|have|been|got|all|both|just|now))* (?:turned|rotated|spun"
        rf"|flipped|swivelled)(?: (?:round|around|over))?",
        rf"(?:gave|given) {SUBJECT} a (?:quarter |half |little |wee )?(?:turn|spin|rotate|twist)",
    ):
        for found in scene.find(pattern):
            text = found.match.group()
            if compiled(r".* (?:down|off|out|on|up|cold|dark|nice|late|warm|left|right|sunny|wet|grey)").fullmatch(
                text + " " + next_word(scene, found.last)
            ):
                continue
            add_act(scene, found, "turned", "turned")


_IN_WORDS = bag("in into inside loaded")


def _in(scene: Scene) -> None:
    if not scene.has_any(_IN_WORDS):
        return
    verb = (
        r"(?:put|got|popped|slid|loaded|stuck|chucked|slipped|shoved|placed|bunged|whacked|lobbed|pushed"
        r"|set|tucked|parked|slotted|have|had|returned|dropped)"
    )
    for pattern in (
        rf"{verb} (?:both |all )?{SUBJECT}(?: back)?(?: (?:in|into|inside)(?: (?P<oven><O>)| oven)?){_AFTER_IN}",
        rf"{verb} {SUBJECT} (?:in|into|inside) (?:(?P<oven><O>)|oven)",
        rf"(?<![A-Za-z0-9'] )(?:in|in now) (?:went|goes|go|with) {SUBJECT}",
        r"(?<![A-Za-z0-9'] )(?:and )?in (?:it|she|he|they) (?:goes|went|go)(?: (?P<oven><O>))?"
        r"(?= ?(?:$|[.,;!|]|now|<T>))",
        r"(?<![A-Za-z0-9'] )(?:she|he) (?:is|'s|went|goes)(?: (?:now|just|gone|back))* in(?= ?(?:$|[.,;!|]|now|<T>))",
        rf"{SUBJECT}{BE} in(?= with <D>)",
        rf"{SUBJECT}{BE} (?:in|into|inside)(?: of)? (?:(?P<oven><O>)|oven)",
        rf"{SUBJECT}{BE} (?:in|inside){_AFTER_IN}",
        r"loaded (?P<oven><O>) (?:up )?with <D>",
        rf"loaded {SUBJECT}(?= ?(?:$|[.,;!|]|<T>|at |and |into |in ))(?: (?:into|in) (?:(?P<oven><O>)|oven))?",
        rf"{SUBJECT}(?: (?:'s|is|are|has|have|been|now|all))* loaded(?= ?(?:$|[.,;!|]|<T>|at |and "
        rf"|into |in ))(?: (?:into|in) (?:(?P<oven><O>)|oven))?",
        r"(?P<oven><O>) loaded(?: with (?P<dish><D>))?",
        r"(?<![a-z0-9] )(?:then |now |and |straight )*into (?P<oven><O>)(?: (?:at )?<T>)?(?= ?(?:$|[.,;!|]))",
        r"(?<![a-z0-9] )(?:then |now |and |straight |is |are |it 's )*(?P<later>going|gone|went|goes) (?:in|into"
        r"|inside)"
        r" (?:(?P<oven><O>)|oven)(?: (?:now|at last|finally|together|again))*(?= ?(?:$|[.,;!|]))",
        r"(?:(?:and |then )?(?:it |they )?(?:went |gone |goes |put ))?in (?P<oven><O>)(?: at)? (?P<behind><T>)"
        r"(?= ?(?:$|[.,;!|]|and ))",
        r"(?:went |gone |goes |put )?(?:(?:back|<P>) )?in(?: (?:at|since))? (?P<behind><T>)(?= ?(?:$|[.,;!|]|and ))",
        r"(?:(?:and|then) )*(?P<later>(?:(?:it |they |all )?(?:went |gone |going |goes ))?straight(?: back)? in)"
        r"(?: now)?(?= ?(?:$|[.,;!|]|lid |with lid|door ))",
    ):
        for found in scene.find(pattern):
            if _not_in_oven(scene, found) or elsewhere(scene, found.last):
                continue
            words = found.match.group().split()
            if found.has("later") and not _goes_on(scene, found.first):
                continue
            if found.has("behind"):
                if not _goes_on(scene, found.first):
                    continue
                if not found.has("oven"):
                    found.last = int(found["behind"][1:])
            if (
                not any(part in found.groups and found.groups[part] for part in ("dish", "dish2"))
                and any(word in bag("it they everything both lot") for word in words)
                and "pots" not in words
                and not _about_pot(scene, found)
                and not ("went" in words and any(item.kind == "D" for item in scene.items[: found.first]))
            ):
                continue
            add_act(scene, found, "in", "pot in")


def _behind_weight(scene: Scene) -> None:
    """ "lamb shoulder 3 kg in", "14 l stock in the dome": what is weighed and goes in, all in one breath."""
    if not scene.kinds & {"K", "L"}:
        return
    went = r"(?:is |'s |went |gone |going |now )*(?:in|into)"
    where = rf"(?P<act>(?:{went} (?:(?P<oven><O>)|oven)|(?:now )?in{_AFTER_IN}))"
    for pattern in (
        rf"(?P<dish><D>)(?: <D>)?(?: ,| -)? <K>(?: each| apiece| a piece)?(?: ,)? {where}",
        rf"<K>(?: of)? (?P<dish><D>)(?: <D>)? {where}",
        rf"<L>(?: of)? (?P<dish><D>) (?P<act>{went} (?P<oven><O>))",
    ):
        for found in scene.find(pattern):
            first, last = found.items_of("act")
            if _not_in_oven(scene, found):
                continue
            oven = found.name("oven") if found.has("oven") else None
            scene.add({"is": "pot", "act": "in", "dish": found.name("dish"), "oven": oven}, first, last, "pot in")


def _goes_on(scene: Scene, at: int) -> bool:
    """ "goat 2 kg, half a litre of stock. in at 9.05": a clause that tells when the dish before it went in."""
    before = scene.items[at - 1] if at else None
    joint = ("and", "then")
    begins = before is not None and (before.kind == "." or before.word in joint or scene.items[at].word in joint)
    return begins and any(
        item.kind in ("D", "K") or item.word in ("pot", "pan", "tray", "tin", "dish") for item in scene.items[:at]
    )


def _about_pot(scene: Scene, found: Found) -> bool:
    """ "it's in" is the pot's only if wood is not what is talked of."""
    a, b = scene.sentence(found.first)
    words = set(scene.row.words(a, b))
    return (
        (
            not words & bag("wood split splits log logs kindling fire post delivery sun book list diary water")
            and found.first == a
        )
        or found.has("oven")
        if "oven" in found.groups
        else False
    )


def _not_in_oven(scene: Scene, found: Found) -> bool:
    behind = found.last
    while next_word(scene, behind) in ("the", "a", "our"):
        behind += 1
    after = next_word(scene, behind)
    start = found.first
    while start and scene.items[start - 1].word in ("have", "has", "'s", "got"):
        start -= 1
    has = {item.word for item in scene.items[start : found.first + 1]} & {"have", "has", "'s", "got"}
    if has and start and scene.items[start - 1].kind == "D":
        return True  # "the beans have got ham in"
    planned = bag("soon shortly later next tomorrow presently today tonight overnight")
    if after in planned or scene.moods[found.last : found.last + 1] == [
        "silent"
    ]:
        return True  # "lamb going in soon"
    if after == "in" and any(
        item.kind == "U" or item.word in bag("minute bit sec second moment mo while tick min")
        for item in scene.items[behind + 1 : behind + 3]
    ):
        return True  # "pasties in the dome in a minute"
    inside = scene.items[found.last - 1].word == "inside"
    if inside and found.last < len(scene.items) and scene.items[found.last].kind in ("N", "H"):
        return True  # "meat inside 82"
    if found.match.group().split()[0] == "both" and _both_told(scene, found.first):
        return True
    if after == "there" and scene.has_any(bag("hold cupboard fridge box bain press warmer")):
        return True
    if any(
        scene.items[at].kind == "D"
        and is_stuff(scene, at)
        and found.first
        and any(each.kind == "L" for each in scene.items[max(0, found.first - 3) : found.first])
        for at in range(found.first, found.last)
    ):
        return True
    if after == "pot" and next_word(scene, behind + 1) not in ("lid", "is", "'s", "with"):
        return True  # "built the stew in the pot"
    if after in bag(
        "fridge water stock trays ice middle centre pan tin bag half bits pieces charge bath cupboard shade"
    ):
        return True
    if (
        found.last < len(scene.items)
        and scene.items[found.last].kind in ("N", "H")
        and found.last + 1 < len(scene.items)
    ):
        following = scene.items[found.last + 1]
        if following.kind == "" and following.word in bag(
            "trays tray pots tins batches bits pieces goes tubs boxes portions minutes hours dishes"
        ):
            return True
    if found.last < len(scene.items) and scene.items[found.last].kind == "U":
        return "been" not in found.match.group().split()
    if found.last < len(scene.items) and scene.items[found.last].kind == "L":
        return scene.items[found.last - 1].word == "in"
    # "butter in the soup" is no pot in an oven.
    at = found.last
    while at < len(scene.items) and scene.items[at].word in ("the", "our", "a"):
        at += 1
    return at < len(scene.items) and scene.items[at].kind == "D" and scene.items[found.last - 1].word == "in"


def _both_told(scene: Scene, at: int) -> bool:
    """ "sole 203, roof 241, both in the cob": two heats, or a pot that went in and a heat."""
    first, _ = scene.sentence(at)
    spots = sum(item.kind in ("P", "I") for item in scene.items[first:at])
    dishes = sum(item.kind == "D" for item in scene.items[first:at])
    return spots > 0 and spots + dishes == 2


def _named(scene: Scene, at: int) -> bool:
    return any(item.kind == "D" for item in scene.items[scene.sentence(at)[0] : at])


def _food_told(scene: Scene, at: int) -> bool:
    """ "core's 91 and it's tender, taking it out now": the sentence is about what is in the pot."""
    words = scene.row.words(scene.sentence(at)[0], at)
    return not bag(
        "core tender giving soft tough simmering falling fallen apart done cooked ready browned golden risen crisp"
    ).isdisjoint(words)


def _of_fire(scene: Scene, found: Found, words: list[str]) -> bool:
    """ "relit the barrel, it had gone out": the fire had."""
    first, _ = scene.sentence(found.first)
    before = [draft.kind for draft in scene.drafts if first <= draft.first < found.first]
    named = any(item.kind == "D" for item in scene.items[first : found.last])
    return "it" in words and before[-1:] == ["fire"] and not named


_FOUND = r"(?:done|cooked|ready|finished|tender|perfect|soft|spot on)"
_OUT_WORDS = bag("pulling taking lifting out off pulled removed drew from emptied unloaded")


def _from_the_cold(scene: Scene) -> None:
    """ "lamb out the fridge": it was in no oven, and is cold."""
    for found in scene.find(rf"(?P<dish><D>){BE} out(?: of)?(?: the| our)? (?:fridge|freezer|chiller|cold room)"):
        scene.add({"is": "load", "dish": str(found.name("dish")), "start": "cold"}, found.first, found.last,
                  "load from the cold")


def _out(scene: Scene) -> None:
    if not scene.has_any(_OUT_WORDS):
        return
    verb = (
        r"(?:took|taken|pulled|got|lifted|brought|had|whipped|fished|drew|pull|slid|removed|hauled|dragged"
        r"|fetched|have)"
    )
    of = r"(?: (?:of|from) (?:(?P<oven><O>)|oven|there|it))?"
    for pattern in (
        rf"{verb} {SUBJECT} (?:back |right |all )?out{of}",
        rf"(?:took|pulled|removed|lifted|drew) out {SUBJECT}(?: from (?P<oven><O>))?",
        rf"(?:pulled|removed|drew) {SUBJECT}(?= ?(?:$|[.,;!|]|<T>|at |and |from |off ))(?: (?:from"
        rf"|off) (?:(?P<oven><O>)|oven|heat))?",
        rf"{SUBJECT}{BE} (?:out of|from|out from) (?:(?P<oven><O>)|oven)",
        rf"{SUBJECT}{BE}(?: (?P<found>{_FOUND}(?: {_FOUND}| and| ,)*))? out(?! "
        rf"(?:on|to(?! (?:make|free|let|give|stop|show|see|look|check|probe|turn|rest|cool|baste|carve)(?: |$))"
        r"|for(?! (?:a |the )?(?:look|photo|photos|picture|pictures|show|peek))"
        r"|in|into|front|cold|over|loud|here|there|with|by bike))",
        rf"{SUBJECT}{BE} (?:off|out)(?: and)? (?:on|onto) (?P<aside>(?:our |its )?(?:side|bench|board|table|rack"
        r"|counter|worktop|trivet|wall|hob))",
        rf"(?:out) (?:come|came|comes|go|went|with) {SUBJECT}|out (?:it|they) (?:comes?|came)",
        rf"{SUBJECT}{BE} (?:off heat|off the heat|off)(?= ?(?:$|[.,;!|]|<T>|at |and ))",
        rf"(?:lifted|pulled|got|brought) {SUBJECT} off (?:heat|fire|stove|hob)(?= ?(?:$|[.,;!|]|<T>|at |and ))",
        rf"(?:took|taken) {SUBJECT} off(?: heat)?(?= ?(?:$|[.,;!|]|<T>|at |and ))",
        r"(?P<oven><O>) (?:emptied|unloaded)",
        rf"{SUBJECT}{BE} (?:pulled|lifted out|removed|hauled out)(?= ?(?:$|[.,;!|]|<T>|at |from ))",
        rf"(?:(?:am|we are|i am) )?(?:pulling|taking|lifting) {SUBJECT}(?: (?:out|off))?(?= ?(?:$|[.,;!|]|now))",
        r"(?:pulling|taking|lifting) (?:them|it|him|her)(?: (?:out|off|now))*(?= ?(?:$|[.,;!|]))",
        r"(?P<later>(?:(?:and|then|so|now) )?(?:off (?:the )?heat|(?:came |come |gone |went )?out(?: of "
        r"(?:(?P<oven><O>)|oven))?|(?:took"
        r"|taken|pulled|lifted|got"
        r"|brought|have|had) (?:it|them|him"
        r"|her)"
        r"(?: back)? out|pulled (?:it|them)))(?: (?:now|already|again|on board|on side|too|also|as well|as))*"
        r"(?: (?:at )?(?P<behind><T>))?"
        r"(?= ?(?:$|[.,;!|]|and (?:resting|on)))",
    ):
        for found in scene.find(pattern):
            words = found.match.group().split()
            dish = found.name("dish") if found.has("dish") else None
            if found.has("aside") and dish not in (None, *(name for name, _ in scene.context.standing)):
                continue  # raw, or out for long: only of what stands in an oven is it news
            if found.has("later"):
                and_out = words[0] == "and" and _food_told(scene, found.first) and _named(scene, found.first)
                goes_on = and_out or _goes_on(scene, found.first)
                if not goes_on and words[0] not in ("took", "taken", "pulled", "lifted"):
                    continue
                oven = found.name("oven") if found.has("oven") else None
                draft = scene.add({"is": "pot", "act": "out", "oven": oven}, found.first, found.last, "pot out")
                draft.time = found.time("behind") if found.has("behind") else None
                continue
            if (
                not (found.groups.get("dish") or found.groups.get("dish2"))
                and any(word in bag("it they everything both lot") for word in words)
                and found.first != scene.sentence(found.first)[0]
                and not _food_told(scene, found.first)
            ) and not any(draft.kind in ("check", "stage", "pot", "food") for draft in scene.drafts):
                continue
            if any(word in words for word in ("'s", "is")) and "it" in words and "off" in words:
                continue
            from_where = found.last - (words[-1] in ("of", "from"))
            out_of_other = next_word(scene, from_where) in ("of", "from") and elsewhere(scene, from_where)
            if out_of_other or _of_fire(scene, found, words):
                continue
            add_act(scene, found, "out", "pot out")
            for at in range(*found.items_of("found")) if found.has("found") else ():
                if scene.items[at].word in ("tender", "soft"):
                    scene.used[at] = None  # left for the checks
