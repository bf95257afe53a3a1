"""Chilling what is left, and heating it again."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from bot.reading.heat_limits import typed_to_the_minute
from bot.reading.lexicon import allergens_in, bag
from bot.reading.scene import Found, Scene, compiled
from bot.reading.subjects import is_bread, is_liquid_word

_CHILL_WORDS = bag(
    "walk chill chilled chilling cool cooled cooling cooler cold ice iced fridge fridges trays tray tubs side "
    "bench counter room rack racks shade chiller refrigerator containers worktop larder pantry tupperware"
)


def chills(scene: Scene) -> None:
    """Leftovers into the cold, with depth, litres and way."""
    if not scene.has_any(_CHILL_WORDS):
        return
    start_words = (
        r"(?:in|into|on|over|onto|poured|spread|portioned|ladled|decanted|split|tipped|divided|transferred"
        r"|cooling|cooled|chilling|left|set|put|sat|standing|sitting|to cool|outside)"
    )
    ice = compiled(
        r".*(?:on|in|over|into|onto) (?:an? )?(?:ice|ice bath|iced water|ice water|ice slurry|cold water"
        r"|cold bath|water bath).*"
        r"|.*, ice(?: ,.*)?|.*ice bath.*|.*ice-bath.*|.*iced down.*|.*with ice packs.*"
    )
    room = compiled(
        r".*(?:on side|on the side|on bench|on counter|at room temp|at room temperature|room temp"
        r"|on worktop|on rack|on racks|in shade|on table|outside|in the yard|in larder|in pantry"
        r"|on the bench).*"
    )
    for first, last in scene.sentences:
        for a, b in _clauses(scene, first, last):
            if any(scene.moods[n] != "fact" for n in range(a, b) if scene.items[n].kind != "."):
                continue
            text = " ".join(
                (f"{item.kind}{n}" if item.kind.isalpha() else item.word)
                for n, item in enumerate(scene.items[a:b], start=a)
                if item.word not in ("the", "just") or item.kind != ""
            )
            _chill(scene, a, b, text, start_words, bool(ice.fullmatch(text)), bool(room.fullmatch(text)))
    _said_by_chill(scene)
    _of_each_left(scene)


_MAY_HOLD_IT = (None, "load", "phrase for load", "stage aside", "pot out", "comment")
_VESSEL = bag("into pot pan tub one big small large same still whole in the a its their deep wide steel iron")
_GOES_ON = bag("'s is are was i we he she been done")


def _of_each_left(scene: Scene) -> None:
    """ "3 l beans left and 1 kg brisket, trays 4 cm in the fridge": what is left of each goes into them."""
    chilled = [draft for draft in scene.drafts if draft.kind == "chill"]
    if len(chilled) != 1 or not scene.has_any(bag("left leftover leftovers")):
        return
    first, last = scene.sentence(chilled[0].first)
    names = [n for n in range(first, last) if scene.items[n].kind == "D" and n < chilled[0].last]
    left = next((n for n in range(first, last) if scene.items[n].word in ("left", "leftover", "leftovers")), last)
    named = list(dict.fromkeys(str(scene.items[n].value) for n in names))
    parted = any(item.kind == "." for item in scene.items[min(names, default=first) : max(names, default=first)])
    if len(named) < 2 or left > chilled[0].last or parted:
        return
    own = chilled[0].fields.setdefault("dish", named[0])
    for name in named:
        if name != own:
            fields = {key: each for key, each in chilled[0].fields.items() if key != "litres"}
            scene.add({**fields, "dish": name}, chilled[0].first, chilled[0].last, "chill of what is left", keep=True)


def _said_by_chill(scene: Scene) -> None:
    """ "5 l of beef left, into trays on ice": how much is left is how much is chilled."""
    measured = {"litres", "depth_cm"}
    chilled = [draft for draft in scene.drafts if draft.kind == "chill" and measured <= draft.fields.keys()]
    for draft in [each for each in scene.drafts if each.kind == "load" and "meat_kg" not in each.fields]:
        left = "left" in scene.row.words(draft.first, draft.last)
        if left and any(each.fields["litres"] == draft.fields.get("liquid_l") for each in chilled):
            scene.drafts.remove(draft)


def _clauses(scene: Scene, first: int, last: int) -> list[tuple[int, int]]:
    """A chill can run over commas: "soup in trays, 4 cm deep, on ice"; the sentence is cut at other acts."""
    cuts = [first]
    for at in range(first, last):
        if scene.items[at].kind == "." and scene.items[at].word == "," and at + 1 < last:
            follow = {item.word for item in scene.items[at + 1 : scene.segment(at + 1)[1]] if item.kind == ""}
            kinds = {item.kind for item in scene.items[at + 1 : scene.segment(at + 1)[1]]}
            begin, end = scene.segment(at + 1)
            of_fridge = any(draft.kind == "store" and begin <= draft.first < end for draft in scene.drafts)
            ours = not of_fridge and bool(
                follow & bag("ice deep trays tray tubs side cool fridge depth litres deep-ish lids chill thick shallow")
                or "C" in kinds
                or ("L" in kinds and len(follow) < 3)
            )
            ours = ours or (bool(follow & bag("pot pan tub")) and follow <= _VESSEL and "O" not in kinds)
            own = "D" in kinds and any(item.kind == "D" for item in scene.items[cuts[-1] : at])
            settled = "fridge" in follow and bool(
                {item.word for item in scene.items[cuts[-1] : at]} & bag("chilled cooled cold done")
            )  # "stew fully chilled, put it in the fridge"
            # "hot cupboard 67, fridge 3, and the soup's in the fridge"; "flour in the stew, and eggs in the fridge"
            behind = scene.row.words(at + 1, scene.segment(at + 1)[1])
            stored = "fridge" in follow and ("D" in kinds or bool(allergens_in(behind)))
            stored = stored or ("D" in kinds and any(scene.used[n] for n in range(cuts[-1], at)))
            if not ours or own or settled or stored or scene.moods[at + 1] in ("question", "what_if"):
                cuts.append(at + 1)
        elif scene.items[at].word == "and" and scene.items[at].kind == "" and at + 1 < last:
            follow = {item.word for item in scene.items[at + 1 : scene.segment(at + 1)[1]] if item.kind == ""}
            kinds = {item.kind for item in scene.items[at + 1 : scene.segment(at + 1)[1]]}
            if follow & _GOES_ON and not follow & _CHILL_WORDS and not kinds & {"C", "L", "D"}:
                cuts.append(at + 1)  # "two trays on ice and the washing up's done"
    return list(zip(cuts, [*cuts[1:], last], strict=True))


_DEEP_VESSELS = bag("pan pans tray trays tub tubs tin tins pot pots dish dishes container containers bowl bowls bucket")


def _depth(scene: Scene, a: int, b: int) -> int | None:
    """ "trays 4 deep" is centimetres, said or not, "one deep pan" counts pans. Of two depths the deeper cools last."""
    marks = [
        n
        for n in range(a, b)
        if scene.items[n].kind == "C"
        or (
            scene.items[n].kind == "N"
            and scene.row.words(n + 1, n + 2) == ("deep",)
            and not _DEEP_VESSELS & set(scene.row.words(n + 2, n + 3))
        )
    ]
    said = [n for n in marks if scene.row.words(n + 1, n + 2) == ("deep",)]
    for sides in () if said else _sides(scene, a, b):
        marks = [n for n in marks if n not in sides]
        if len(sides) > 2:  # length, breadth and depth
            return min(sides, key=lambda n: scene.number(f"{scene.items[n].kind}{n}") or 0.0)
        if len(sides) == 2 and _counts_trays(scene, *sides):
            return sides[1]
        if not marks:
            scene.trouble = f'Not taken: "{scene.row.text(sides[0], sides[-1] + 1)}". How deep is it?'
    return max(said or marks, key=lambda n: scene.number(f"{scene.items[n].kind}{n}") or 0.0, default=None)


# What is soaked, thawed or marinated in the cold has not been cooked yet.
_RAW_IN_THE_COLD = bag(
    "soaked soaking soak soaks marinated marinating marinade brined brining thawed thawing defrosting defrosted"
)


def _sides(scene: Scene, a: int, b: int) -> list[list[int]]:
    """ "20 by 30", "30 x 20 x 5 cm": measures side by side."""
    found: list[list[int]] = []
    for n in range(a, b - 1):
        by = scene.items[n + 1].word in ("by", "x")
        times = scene.message_of(scene.items[n]).lower().endswith("x")  # "30 x" is one item
        other = n + 2 if by else n + 1
        if scene.items[n].kind not in ("C", "N") or not (by or times) or other >= b:
            continue
        if scene.items[other].kind in ("C", "N"):
            if found and found[-1][-1] == n:
                found[-1].append(other)
            else:
                found.append([n, other])
    return found


def _counts_trays(scene: Scene, one: int, other: int) -> bool:
    """ "2 x 5 cm": two of that depth."""
    many = scene.items[one]
    return many.kind == "N" and scene.items[other].kind == "C" and "x" in many.words and many.value.value <= 8


def _chill(scene: Scene, a: int, b: int, text: str, starts: str, ice: bool, room: bool) -> None:
    if any((scene.used[n] or "").startswith("question") for n in range(a, b)):
        return
    words = set(text.split())
    if compiled(r"(?:.* )?(?:i|have|'ve|we) (?:got|have|take) (?:ice bath|ice)(?: (?:all|now|sorted|covered))*"
                ).fullmatch(text):
        return  # who has the duty
    if words & _RAW_IN_THE_COLD:
        raw = next((n for n in range(a, b) if scene.items[n].kind == "D"), None)
        if raw is not None and words & bag("fridge chiller fridges"):
            scene.add({"is": "load", "dish": str(scene.items[raw].value), "start": "cold"}, a, b, "load from the cold")
        return
    cm = _depth(scene, a, b)
    litres = next((n for n in range(a, b) if scene.items[n].kind == "L"), None)
    dish = next((n for n in range(a, b) if scene.items[n].kind == "D" and not is_liquid_word(scene, n)), None)
    if dish is None:
        dish = next((n for n in range(a, b) if scene.items[n].kind == "D"), None)
    food = (
        dish is not None
        or bool(words & bag("leftovers leftover rest remainder trays remains tray tubs batch"))
        or (bool(words & bag("left it everything all")) and not _other_thing(scene, a, b))
        or litres is not None
        or (ice and cm is not None)
    )
    done = compiled(
        r".*(?:chilled|chill done|cooled right down|cold through|fully cooled|down to fridge temp"
        r"|cooling done|chilling done|chilling (?:'s|is|all|now) (?:all )?(?:done|finished|complete|over)"
        r"|cooling (?:'s|is|all) (?:done|finished|complete|over)"
        r"|chill (?:'s|is) (?:done|finished|complete|over)"
        r"|(?:done|finished) (?:with |to )?(?:chilling|cooling|chill|cool)"
        r"|chill finished|finished (?:chilling|cooling)|stone cold"
        r"|cooled down fully|cooled completely|chilled right down|chilled down|all chilled|properly cold).*"
    ).fullmatch(text)
    fridge = compiled(
        r".*(?:in|into|to|inside) (?:the )?(?:walk in )?(?:fridge|walk in|cold room|chiller|refrigerator"
        r"|cooler|fridges).*"
        r"|(?=.*\b[LC]\d).*, (?:fridge|walk in|chiller)(?: in .*)?"
        r"|(?=.*\b[LC]\d).*(?:deep|trays?|tubs?) (?:fridge|walk in|chiller)(?: now)?"
    ).fullmatch(text)
    span_last = b if b > a and scene.items[b - 1].kind != "." else max(a + 1, b - 1)
    if any(
        scene.used[n]
        for n in range(a, b)
        if scene.items[n].kind != "." and scene.used[n] not in _MAY_HOLD_IT
    ) and not (ice or fridge or done):
        return
    fields: dict[str, Any] = {"is": "chill"}
    if dish is not None:
        fields["dish"] = str(scene.items[dish].value)
    stone_cold = "stone" in words and not food  # "stone cold to begin with": an oven, not what is left
    if done and not stone_cold and not words & {"out", "wine", "beer", "beers", "drinks", "water"}:
        fields["act"] = "done"
    elif (
        fridge
        and not (dish is None and any(scene.items[n].kind == "H" for n in range(a, b)))
        and (food or text.split()[0] in bag("in into all straight now gone went"))
        and not words
        & bag("from milk butter beers drinks cream thermometer space cheese salad says")
        - ({"from"} if dish is not None else set())
    ):
        fields["act"] = "fridge"
    elif (
        not (is_bread(fields.get("dish")) and not ice)
        and (ice or compiled(rf".*(?:{starts}).*").fullmatch(text))
        and (
            ice
            or room
            or (
                words & bag("chill chilling cool cooling trays tray tubs")
                and (cm is not None or litres is not None or words & bag("cool cooling chill chilling shallow trays"))
            )
        )
        and food
    ):
        if words & bag("drinks beers water wine wrist hand burn finger thumb arm") or (words & {"aside"}):
            return
        spread_out = cm is not None and words & bag("tray trays tub tubs tin tins shallow deep")
        cools = words & bag("cool cooling chill chilling leftovers leftover left")
        if room and not ice and not cools and not spread_out:
            return
        if (
            not (ice or room)
            and not words & bag("cool cooling chill chilling leftovers leftover left rest")
            and cm is None
        ):
            return
        fields["act"] = "start"
        if ice:
            fields["method"] = "ice"
        elif room and words & {
            "side",
            "bench",
            "counter",
            "room",
            "worktop",
            "rack",
            "racks",
            "shade",
            "table",
            "outside",
            "larder",
            "pantry",
            "yard",
        }:
            fields["method"] = "room"
    else:
        return
    if cm is not None and fields["act"] != "done":
        fields["depth_cm"] = scene.number(f"{scene.items[cm].kind}{cm}")
    if litres is not None and fields["act"] != "done":
        fields["litres"] = scene.items[litres].value
    kilos = [n for n in range(a, b) if scene.items[n].kind == "K"]
    if litres is None and len(kilos) == 1 and fields["act"] != "done":
        fields["litres"] = scene.items[kilos[0]].value  # a kilo of it takes about a litre
    if fields["act"] != "done" and cm is None and (trays := _trays(scene, a, b)) is not None:
        fields["trays"] = trays
    if fields["act"] == "start" and compiled(r".*(?:in|into) (?:the )?(?:fridge|blast chiller).*").fullmatch(text):
        fields["method"] = "fridge"
    stop = span_last
    if fields["act"] == "done":
        stop = next((n for n in range(a, b) if scene.items[n].kind == "."), span_last)
    elif fields["act"] == "fridge":
        at = next(
            n for n in range(a, b) if scene.items[n].word in bag("fridge cooler chiller refrigerator fridges room in")
        )
        at = next(
            (n for n in range(a, b) if scene.items[n].word in bag("fridge cooler chiller refrigerator fridges room")),
            at,
        )
        stop = at + 1
    for draft in [
        each
        for each in scene.drafts
        if each.first >= a and each.last <= b and each.rule in ("pot in", "stage aside", "load", "check")
    ]:
        if draft.rule == "check" and fields["act"] == "start":
            continue
        scene.drafts.remove(draft)
    times = [n for n in range(a, stop) if scene.items[n].kind in ("T", "A")]
    draft = scene.add(fields, a, stop, "chilling")
    for n in times:
        draft.time = scene.items[n].value
    if fields["act"] == "fridge" and not times and stop < len(scene.items) and typed_to_the_minute(scene, stop):
        draft.time = scene.clock(f"N{stop}")  # "stew into fridge 3.35"
        scene.use(stop, stop + 1, "chilling")


def _trays(scene: Scene, a: int, b: int) -> int | None:
    """ "in 2 trays": how many flat things hold it; two where several are told of and nobody counts them."""
    for n in range(a, b):
        word, before = scene.items[n].word, scene.items[n - 1] if n > a else None
        if scene.items[n].kind == "" and word in bag("tray trays tubs"):
            counted = before is not None and before.kind == "N" and 1 <= before.value.value <= 12
            return int(before.value.value) if counted and before is not None else 1 if word == "tray" else 2
    return None


def _other_thing(scene: Scene, a: int, b: int) -> bool:
    """ "someone's left a phone on the bench": what was left is not food, nor anything that the clause tells of food."""
    return any(
        item.kind == "" and item.word.isalpha() and item.word not in _CHILL_WORDS | _SAID_OF_CHILLING
        for item in scene.items[a:b]
    )


_SAID_OF_CHILLING = bag(
    "left it everything all the is are was been has have had got i we they them that this that's now just put set in "
    "into on onto over out up to for and a an at by of from still safely sat sitting standing stood down off bath "
    "water packs deep thick leave leaving going gone went temp temperature table outside yard kitchen shallow cooked "
    "minutes ages while bit again already too also then chef pot pots food meat batch lot done fully completely right "
    "through properly nice nicely cover covered lid lids uncovered lidded since about around spread poured portioned "
    "ladled decanted split tipped divided transferred ok fine well both two three four moved popped stuck"
)


def _dishes_of(scene: Scene, found: Found, act: str) -> tuple[int, list[str | None]]:
    """ "beans and shoulder back on to reheat"; "beans 88, shoulder core 84, reheated": every dish that is meant."""
    if not found.has("dish"):
        first, last = scene.segment(found.first)
        alone = first == found.first and found.last == last
        start, _ = scene.sentence(found.first)
        heated = [
            item
            for at, item in enumerate(scene.items[start : found.first], start=start)
            if item.kind == "D" and any(each.kind in ("N", "H") for each in scene.items[slice(*scene.segment(at))])
        ]
        names = list(dict.fromkeys(str(item.value) for item in heated))
        return found.first, list(names) if act == "done" and alone and names else [None]
    at, _ = found.items_of("dish")
    names = [str(found.name("dish"))]
    first = found.first
    while at >= 2 and scene.items[at - 1].word in ("and", "plus", "&", ",") and scene.items[at - 2].kind == "D":
        at -= 2
        names.insert(0, str(scene.items[at].value))
        first = min(first, at)
    return first, list(names)


_REHEAT_WORDS = bag("reheat reheated reheating heat heated heating hot warm warmed warming back")


def _heat_behind(scene: Scene, names: Sequence[str | None], act: str, at: int) -> None:
    """ "dal reheat done 167F": the heat right behind it is the dish's."""
    while at < len(scene.items) and scene.items[at].word in ("at", "to", "now", "is", "'s", ","):
        at += 1
    if act != "done" or len(names) != 1 or at >= len(scene.items):
        return
    if scene.items[at].kind == "H" and not scene.used[at]:
        scene.add({"is": "food", "dish": names[0], "celsius": scene.items[at].value}, at, at + 1, "reheated to")


def reheats(scene: Scene) -> None:
    """Heating what was cold."""
    if not scene.has_any(_REHEAT_WORDS):
        return
    for pattern, act in (
        (
            r"(?P<dish><D>)(?: (?:'s|is|are|now|all|been|was|fully))* (?:reheated|hot again|again hot|heated through"
            r"|piping hot|hot through|reheated through|warmed through)(?: (?:through|now|fully|properly|to"
            r"|all))*",
            "done",
        ),
        (
            r"(?P<dish><D>)(?: (?:'s|is|are|has|have|now|all))* (?:done|finished|through)(?: with)? (?:reheating"
            r"|heating (?:up|through)|warming (?:up|through))",
            "done",
        ),
        (
            r"(?:reheated|heated through|hot again|reheat(?: 's| is)? (?:done|finished|complete)"
            r"|(?:done|finished)(?: with)? reheating"
            r"|reheating(?: (?:'s|is|all|now))* (?:done|finished|complete|over))(?: (?P<dish><D>))?"
            r"(?: (?:through|fully|now|up|properly))*",
            "done",
        ),
        (
            r"(?P<dish><D>)(?: (?:taken |brought |come |just )?(?:out|out of|from)"
            r"(?: (?:fridge|chiller|cold room|walk in))?(?: ,| and| now| straight| then)*)?"
            r"(?: (?:'s|is|are|now|all|gone|went|going))* (?:back )?(?:on|onto|in|into)(?: <O>"
            r"| oven| stove| heat| hob| gas| ring| burner| trivet| fire| flame)?"
            r"(?: ?[,-])?(?: (?:to|for|and|for a|it 's|now|at|<T>))* (?:reheat"
            r"|reheating|heat up|warm through|heat through|warm up|hot up|warming through|heating up"
            r"|heating through|come back up)(?: (?:now|up))*",
            "start",
        ),
        (
            r"(?P<dish><D>)(?: ?[:-])?(?: (?:'s|is|are|now|all))* (?:reheating|being reheated|heating up|heating again"
            r"|warming again"
            r"|heating through|warming through|warming up|warming back up)",
            "start",
        ),
        (
            r"(?:reheating|started reheating|begun reheating|reheat started|warming up|heating up"
            r"|warming through) (?:now )?(?P<dish><D>)|(?:warming|heating|bringing|hotting) (?P<dish><D>)"
            r" (?:back )?(?:through|up|again)(?: (?:through|up|again|now))*",
            "start",
        ),
        (r"(?:i|we) (?:now )?(?:(?:warm|heat|reheat) (?:again|back up)|reheat) (?P<dish><D>)", "start"),
        (r"(?:i|we) (?:now )?(?:warm|heat) (?P<dish><D>) (?:again|back up|up again)", "start"),
        (r"(?:started|begun) (?:to )?(?:reheat|reheating)(?: (?P<dish><D>))?", "start"),
        (
            r"(?:put|got|popped|stuck) (?P<dish><D>) (?:back )?(?:on|in)(?: (?:<O>|stove|hob|heat"
            r"|gas))? to (?:reheat|heat up|warm through|heat through|warm up)",
            "start",
        ),
        (r"(?:reheating|reheat started|reheat on)(?= ?(?:$|[.,;!|]|now))", "start"),
        (r"(?:it 's |pot 's |pot |trays? )?back on to (?:reheat|heat through|warm through|heat up)", "start"),
    ):
        for found in scene.find(pattern, fresh=False):
            overlapping = {scene.used[n] for n in range(found.first, found.last) if scene.used[n]}
            if overlapping - {"pot in", "check", "fire fed", "lid"}:
                continue
            for draft in [
                each
                for each in scene.drafts
                if each.first < found.last and found.first < each.last and each.rule in ("pot in", "check", "fire fed")
            ]:
                scene.drafts.remove(draft)
            first, names = _dishes_of(scene, found, act)
            for name in names:
                scene.add({"is": "reheat", "act": act, "dish": name}, first, found.last, "reheating")
            _heat_behind(scene, names, act, found.last)
