"""Mending: "sorry, floor 210 not 120", "meant the barrel", "the 11.20 floor one should say 178"."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from bot.reading.clock_times import Clock
from bot.reading.items import Item, Row
from bot.reading.lexicon import bag, longest, phrase_set
from bot.reading.mended import contents_mended, length_mended, task_mended, unit_mended
from bot.reading.numbers import Number
from bot.reading.scene import Draft, Scene, compiled
from bot.reading.states_mended import state_mended

_CUE = compiled(
    r"(?:sorry|correction|corrections|correct that|typo|oops|whoops|oopsie|ooops|my mistake|my bad"
    r"|my fault|i meant|meant to (?:say|type|write|put)|meant|(?:that |it )?should have been"
    r"|should have said|should say|should read|(?:that|it|one|this|which) should be|(?:that|it"
    r"|one) should|should be(?= (?:<V>|<T>|<K>|<L>) not)|make that|actually|wrong|misread|mistyped"
    r"|misheard|mis typed|fat fingers|fat thumbs|thumb slip|wait no|no wait|no , wait"
    r"|slip of (?:the )?thumb|fix|amend|amendment|change that to|edit|not right|read it wrong"
    r"|got it wrong|i got that wrong|that was wrong|mistake|apologies|scuse me|i mean|rather"
    r"|was in fact|in fact|was really|was actually|is actually|it 's actually|ought to say|(?<!no )change(?! of plan)"
    r"|corrected|numbers swapped|swapped digits|hang on|hold on|ahem|erratum|instead of|not|i said"
    r"|(?:i )?wrote(?! (?:it|that|this) (?:on|down|up|in))|i typed|(?:i )?misspoke|mis spoke|(?:i )?miscounted"
    r"|i put(?= (?:<H>|<T>|<N>(?= ?(?:$|[.,;!|]))))|mixed (?:up )?(?:my|the) (?:digits|numbers|figures)(?: up)?"
    r"|(?:shoulda|should of|should have) (?:been|said|put|read|typed|written)"
    r"|(?:clumsy|cold|butter|big) (?:thumbs|fingers)|me being (?:daft|silly|stupid"
    r"|thick|dozy|blind|an idiot|half asleep)|my error|error|no no(?= )|made (?:an |a )?(?:error|mistake)|i was wrong"
    r"|my apologies|soz|silly me|daft me|autocorrect|auto correct|mean(?= (?:<O>|<D>|<P>|<V>|<T>))"
    r"|(?:reading|one|entry|figure|number|value) should (?:be|read|say))"
)


# "the 11.20 floor should be 178": what is placed at its time was read; without a time the words tell what is wished.
_SHOULD = compiled(
    r"<TN>(?: (?:<O>|'s|core|liquor|air|temp|probe))*(?: <P>)?(?: (?:temp|core"
    r"|probe))? (?P<cue>should(?: have)? (?:be|been"
    r"|read|say)) <V>|(?:<P>|core|probe|air) (?:at|from) <TN> (?P<cue2>should(?: have)? (?:be|been|read|say)) <V>"
)
# "no, floor 210": the first word of a message, with a value to come.
_NO_FIRST = compiled(
    r"(?P<cue>(?:no|nope|nah|wait|hang on|hmm no) ,)(?= (?:<P>|<O> <P>|core|probe|<D> core|it 's|air).* <V>)"
)

# Said with any of the cues above, these bring in the right value and say nothing more.
_RIGHTLY = compiled(
    r"(?:should|shoulda|ought to|must|meant to|supposed to)(?: (?:of|have|be|been|say|said|read))+|shoulda|make it"
    r"|needs to be|but|lol|haha|ha|doh|duh|whoopsie|chef|yikes|argh|ugh|d'oh"
)

# "280 on the floor was a typo, it's 208": the value in front is the wrong one.
_WRONG_BEFORE = compiled(
    r"(?P<v><V>|<T>)(?: (?:on|in|at|for) (?P<p><P>|<O>|core))?(?: (?:was|is|'s))+ (?:me being <W>|wrong"
    r"|a typo|typo|a slip"
    r"|a mistake|my mistake|rubbish|nonsense|a misread|misread|fat thumbs|fat fingers|not right|an error|off)"
)


_STRONG = bag(
    "correction corrections typo meant misread mistyped actually amend amendment edit mistake wrong "
    "misheard rather change corrected ought erratum swapped misspoke miscounted shoulda wrote typed daft error "
    "thumbs fingers digits"
)


_NO_CUE = compiled(
    r"sorry(?: ,)?(?: (?:i|we|all|everyone|guys|for|about|to|that|it|chef|team|mate|folks|if|was|been|but"
    r"|only|can't|have|am|just|had|got))*(?: ,)? ?(?:forgot|forgotten|late|for|about|missed|busy|to|if"
    r"|can't|didn't|was busy|was late|phone|battery|lost|signal|was on|behind|slow|delay|delayed|running"
    r"|hands|been|forget|forgetting|american|imperial|fahrenheit|got distracted|distracted|couldn't|wet"
    r"|should have posted|should have said earlier|no signal|posting)"
)


_WHY_LATE = bag(
    "gloves busy forgot forgotten late distracted phone missed hands signal battery slow behind remembered posting "
    "pocket hectic swamped tied caught"
)


def replaces(scene: Scene, read_facts: Callable[[Scene], None]) -> None:
    """ "X not Y" and every correcting word with a value: what is told in that sentence is a mending."""
    for first, last in list(scene.sentences):
        _replace(scene, first, last, read_facts)


def _replace(scene: Scene, first: int, last: int, read_facts: Callable[[Scene], None]) -> None:
    items = scene.items[first:last]
    if not items or any(scene.used[first:last]):
        return
    if any(mood in ("question", "what_if") for mood in scene.moods[first:last]):
        return
    canon = scene.row.canon
    start, stop = scene.row.offset(first), scene.row.offset(last)
    renamed = (
        _renamed(scene, first, last)
        or state_mended(scene, first, last)
        or task_mended(scene, first, last)
        or contents_mended(scene, first, last)
    )
    if renamed is not None:
        scene.add({"is": "fix", "act": "replace", **renamed}, first, last, "correction")
        return
    cues = [match for match in _CUE.finditer(canon, start, stop) if match.group() != "not"]
    cues += list(_SHOULD.finditer(canon, start, stop))
    if first == 0 and (denial := _NO_FIRST.match(canon, start, stop)) is not None:
        cues.append(denial)
    denied = _denied_values(scene, first, last)
    neighbours = _neighbour_cue(scene, first, last)
    for match in _WRONG_BEFORE.finditer(canon, start, stop):
        a, b = scene.row.items_of(match.start(), match.end())
        if any(item.kind in ("N", "H", "T") for item in scene.items[b:last]):
            denied += [
                (a, a + 1),
                (scene.row.items_of(match.start("p"), match.end("p"))[1] if match["p"] else a + 1, b),
            ]
    if not cues and not denied and not neighbours:
        return
    words = {word for item in items for word in item.words}
    if _NO_CUE.search(canon, start, stop) and not denied and not words & _STRONG:
        return
    only_sorry = all(match.group() in ("sorry", "apologies", "my bad", "my fault", "my apologies") for match in cues)
    excuse = words & _WHY_LATE or not _sorry_for_a_value(scene, first, last)
    if only_sorry and not denied and not neighbours and excuse:
        return  # "floor was 207 at twenty past, got busy sorry", "sorry was chatting, another log on"
    if "now" in words and not words & _STRONG and (only_sorry or "oops" not in words):
        return
    drop: set[int] = set()
    for match in cues:
        named = next((name for name in match.re.groupindex if match[name]), 0)
        a, b = scene.row.items_of(match.start(named), match.end(named))
        drop.update(range(a, b))
    for match in _RIGHTLY.finditer(canon, start, stop):
        drop.update(range(*scene.row.items_of(match.start(), match.end())))
    for a, b in denied:
        drop.update(range(a, b))
    kept = [
        item
        for number, item in enumerate(items, start=first)
        if number not in drop
        and not (
            item.kind == ""
            and item.word
            in bag(
                "sorry one ones i that oops my bad mistake typo was it this said say says put wrote typed in "
                "earlier before of have been sent posted reported gave"
            )
            and _noise(item, items)
        )
    ]
    kept = _trim(kept)
    if not kept:
        return
    sure = (
        bool(denied)
        or bool(neighbours & _STRONG)
        or bool(words & _STRONG)
        or any("should" in match.group() or match.group() in ("mean", "i mean") for match in cues)
    )
    sub = Scene(Row(scene.row.message, _times_in_fix(kept)), scene.context)
    read_facts(sub)
    drafts = [
        draft for draft in sub.drafts if not draft.question and draft.kind not in bag("fix note task incident hush")
    ]
    if drafts and "instead" in words and all(draft.kind == "serve" for draft in drafts):
        return
    if drafts:
        if not sure and not any(_has_value(draft) for draft in drafts):
            return
        _mend(scene, sub, drafts, first, last)
        return
    fields = _bare(scene, sub, sure, denied)
    if fields is None:
        return
    scene.add({"is": "fix", "act": "replace", **fields}, first, last, "correction")


_TO_A_VALUE = bag("it 's is was the a that in on of for chef reads read says i make probe core gun should be , : -")


def _sorry_for_a_value(scene: Scene, first: int, last: int) -> bool:
    """Whether "sorry" stands beside what it mends; else it asks pardon for something else."""
    items = scene.items[first:last]
    at = [number for number, item in enumerate(items) if item.word in ("sorry", "apologies")]
    for number in at:
        rest = [each for each in items[number + 1 :] if each.word not in _TO_A_VALUE]
        before = [each for each in items[:number] if each.word not in (",", "-")]
        if (rest and rest[0].kind) or (not rest and before and before[-1].kind):
            return True
    return not at


def _renamed(scene: Scene, first: int, last: int) -> dict[str, Any] | None:
    """ "that was the barrel", "no, the beans": a name alone, said of what was told before."""
    start, stop = scene.row.offset(first), scene.row.offset(last)
    text = scene.row.canon[start:stop].strip(" .!,")
    match = compiled(
        r"(?:(?:sorry|no|oops|ah|wait|actually|ok|oh)(?: ,)? )*(?:that|it|those|they|that one|last one"
        r"|that last one|this|the last one|all that|both|mine|my one|my last one|my last)(?: (?:was"
        r"|were|is|'s|are|should be"
        r"|for))+(?: (?:for|in|of|from|on|at|all|both|actually|about))* (?P<name><O>|<D>|<P>)(?: oven| one"
        r"| reading| not mine)*|(?:no|nope|sorry|oops)(?: ,)?(?: (?:not|in|on|it 's))* (?P<name><O>"
        r"|<D>)(?: oven)?"
    ).fullmatch(text)
    if match is None:
        return None
    token = next(value for value in match.groupdict().values() if value)
    item = scene.item(token)
    if item.kind == "O":
        return {"oven": str(item.value)}
    if item.kind == "D":
        return {"dish": str(item.value)} if text.split()[0] not in ("it", "they", "this") else None
    return {"of": "reading", "place": str(item.value)} if text.split()[0] == "that" else None


def _noise(item: Item, items: list[Item]) -> bool:
    """Small words around a correction; "was" and "in" are kept where they carry a meaning."""
    if item.word in ("in", "of"):
        return False
    if item.word in bag("was it that this have been"):
        at = items.index(item)
        after = items[at + 1] if at + 1 < len(items) else None
        return after is None or after.kind != "" or after.word in bag("was the meant should be at actually one not")
    return True


def _trim(items: list[Item]) -> list[Item]:
    kept = list(items)
    while kept and kept[0].kind == ".":
        kept.pop(0)
    while kept and kept[-1].kind == "." and kept[-1].word != "?":
        kept.pop()
    out: list[Item] = []
    for item in kept:
        if item.kind == "." and out and out[-1].kind == ".":
            continue
        out.append(item)
    return out


def _times_in_fix(items: list[Item]) -> list[Item]:
    """ "went in nine fifteen", "the 11.20 floor one": in a correction a bare time with minutes is a time."""
    out: list[Item] = []
    for at, item in enumerate(items):
        before = items[at - 1] if at else None
        after = items[at + 1] if at + 1 < len(items) else None
        if (
            item.kind == "N"
            and isinstance(item.value, Number)
            and item.value.clock is not None
            and item.value.clock[1]
            and item.value.clock[0] < 24
        ):
            led = (
                before is not None
                and before.kind == ""
                and before.word
                in bag(
                    "in out at lit on off eating eat serving serve lunch dinner supper food till until by raked from"
                )
            )
            meal = any(
                each.kind == "" and each.word in bag("eating eat serving lunch dinner supper food meal service")
                for each in items[max(0, at - 3) : at]
            )
            picks = (
                after is not None
                and after.kind in ("P", "O", "D")
                and any(other.kind in ("N", "H") for other in items[at + 1 :])
            )
            if led or meal or (picks and ("." in item.word or item.value.words)):
                hour, minute = item.value.clock
                out.append(
                    Item(
                        "T",
                        item.word,
                        item.start,
                        item.end,
                        Clock(hour, minute, item.value.zero_led or hour > 12),
                        item.words,
                    )
                )
                continue
        out.append(item)
    return out


# One of these must be said in a sentence that only says that its neighbour mends something.
_ALONE = bag(
    "typo sorry correction oops whoops mistake bad misread wrong thumbs fingers doh soz daft error wrote typed said "
    "wait"
)


def _neighbour_cue(scene: Scene, first: int, last: int) -> frozenset[str]:
    """ "Typo! air 107": a cue that stands alone as the sentence before or behind."""
    if not scene.has_any(_ALONE):
        return frozenset()
    for a, b in scene.sentences:
        before = b <= first and all(item.kind == "." for item in scene.items[b:first])
        if before or (last <= a and all(item.kind == "." for item in scene.items[last:a])):
            words = [word for item in scene.items[a:b] for word in item.words if item.kind == ""]
            if (
                words
                and all(
                    word
                    in bag(
                        "typo sorry correction oops whoops my mistake bad wait no misread wrong fat thumbs fingers "
                        "ah oh ugh doh argh lol haha soz d'oh daft silly me error i wrote said put "
                        "typed meant a an the it that "
                        "was being on off ajar apologies"
                    )
                    for word in words
                )
                and set(words) & _ALONE
            ):
                if (words == ["wrong"] and not before) or any(scene.used[a:b]):
                    continue
                if before or words != ["sorry"]:
                    return frozenset(words)
    return frozenset()


def _denied_values(scene: Scene, first: int, last: int) -> list[tuple[int, int]]:
    """ "not 148", "not the dome", "instead of two": the wrong value, dropped from what is told."""
    found: list[tuple[int, int]] = []
    items = scene.items
    value_kinds = {"N", "H", "K", "L", "C", "T", "U", "M", "A"}
    for at in range(first, last - 1):
        word = items[at].word
        if items[at].kind != "" or word not in bag("not instead than isn't wasn't"):
            continue
        if word == "than" and items[at - 1].word != "rather":
            continue
        end = at + 1
        while end < last - 1 and items[end].kind == "" and items[end].word in bag("the at of on in a an that about"):
            if items[end].word in ("on", "in") and items[end + 1].kind in ("", "."):
                break  # "not on, sorry": the state itself
            end += 1
        if end >= last:
            continue
        begin = at
        if word in ("isn't", "wasn't"):
            continue
        kind = items[end].kind
        others = [item for number, item in enumerate(items[first:last], start=first) if not begin <= number <= end]
        if kind in value_kinds:
            family = {"N", "H"} if kind in ("N", "H") else {kind, "N"} if kind in ("K", "L", "C", "T", "U") else {kind}
            if not any(item.kind in family or (kind == "N" and item.kind in value_kinds) for item in others):
                continue
            stop = end + 1
            said = {item.word for item in items[first:at]}
            while (
                stop < last
                and items[stop].kind == ""
                and items[stop].word in bag("guests people splits split logs kg ml oclock minutes count pieces")
                and (kind != "N" or said & bag("guests people splits split logs count pieces"))
            ):
                stop += 1
            found.append((begin, stop))
        elif (
            kind == ""
            and items[end].word in bag("c f celsius fahrenheit centigrade")
            and any(item.kind in ("H", "N") for item in items[first:at])
        ):
            found.append((begin, end + 1))
        elif kind in ("O", "D", "P"):
            if any(item.kind == kind for item in others) or (
                kind in "OP" and any(item.kind in "OP" for item in others)
            ):
                found.append((begin, end + 1))
        elif (
            kind == ""
            and items[end].word
            in bag(
                "on off ajar shut open closed in out flour ash oak birch beech wet dry cold hot warm clay iron "
                "tender tough giving"
            )
            and any(
                item.kind == ""
                and item.word
                in bag(
                    "on off ajar shut open closed in out cornflour ash oak birch beech wet dry cold hot warm "
                    "clay iron alder hornbeam apple steel enamel propped tender tough giving"
                )
                for item in others
            )
        ):
            found.append((begin, end + 1))
    return found


def _has_value(draft: Draft) -> bool:
    return any(
        key in draft.fields
        for key in (
            "celsius",
            "count",
            "meat_kg",
            "liquid_l",
            "wood_kg",
            "pieces",
            "moisture_pct",
            "depth_cm",
            "litres",
            "across_cm",
            "floor_cm",
            "dome_cm",
            "insulation_cm",
            "probe_cm",
            "by",
            "guests",
            "serve",
        )
    )


_OWN = frozenset(bag("pot fire chill reheat class task hush"))


def _mend(scene: Scene, sub: Scene, drafts: list[Draft], first: int, last: int) -> None:
    for draft in drafts:
        fields = dict(draft.fields)
        kind = fields.pop("is")
        if kind in _OWN:
            fields.pop("act", None)
        oven, dish = _names_of(sub, draft)
        if oven is not None and kind in bag("reading door fire pot oven"):
            fields.setdefault("oven", oven)
        if str(fields.get("dish")) in ("stock", "broth", "water", "gravy") and fields["dish"] not in sub.context.dishes:
            fields.pop("dish")
        if dish is not None and kind in bag("pot load food check stage chill reheat contents"):
            fields.setdefault("dish", dish)
        if kind == "chill" and not fields.keys() - {"dish", "oven"}:
            continue
        shot = any(item.kind == "I" for item in sub.items) and fields.get("place") != "air" and "celsius" in fields
        if kind == "reading" and shot:
            fields.setdefault("tool", "infrared")
        new = scene.add({"is": "fix", "act": "replace", "of": kind, **fields}, first, last, "correction")
        new.time = draft.time or _time_of(sub)
        if draft.kind in ("serve", "guests"):
            new.time = None
    for number in range(first, last):
        scene.used[number] = "correction"


def _names_of(sub: Scene, draft: Draft) -> tuple[str | None, str | None]:
    ovens = [str(item.value) for item in sub.items if item.kind == "O"]
    dishes = [
        str(item.value)
        for item in sub.items
        if item.kind == "D" and item.words not in (("stock",), ("broth",), ("water",))
    ]
    del draft
    return (ovens[0] if ovens else None), (dishes[0] if dishes else None)


def _time_of(sub: Scene) -> Any:
    times = [item.value for item in sub.items if item.kind in ("T", "A")]
    return times[0] if times else None


def _bare(scene: Scene, sub: Scene, sure: bool, denied: list[tuple[int, int]]) -> dict[str, Any] | None:
    """A correction that holds only a name, a place, a time or a number."""
    items = [item for item in sub.items if item.kind != "."]
    words = [
        item
        for item in items
        if item.kind == ""
        and item.word
        not in bag(
            "the it that was i is 's a on for of one at to oven reading about this all those were be from no "
            "ah oh wait meant and so said last my both by just with message been temp them guys everyone entry "
            "post number readings have had not say says really"
        )
    ]
    told = {word.word for word in words}
    if not told <= bag(
        "guests people degrees probe kg splits split logs guest count minutes pieces door pot core "
        "celsius cold hot warm wet dry off ajar shut open closed lit went gone served cornflour us "
        "are eating out half ago earlier in deep depth tray trays tub tubs insulation across wide thick thickness "
        "lagging shell brick bricks f c fahrenheit farenheit celsius centigrade degs wood"
    ) | {word.word for word in words if longest([word.word], "wood", "species")}:
        return None
    fields: dict[str, Any] = {}
    species = longest([word.word for word in words], "wood", "species")
    if species is not None and denied:
        fields.update(of="fire", species=" ".join(word.word for word in words[species[0] : species[1]]))
        fields.update({"oven": str(item.value)} if (item := next((o for o in items if o.kind == "O"), None)) else {})
        return fields
    no_value = not any(item.kind in ("N", "H", "T", "A", "K", "L", "C") for item in items)
    if sure and no_value and (unit := unit_mended(scene, told)) is not None:
        return unit
    if denied and len(words) == 1 and words[0].word in _INGREDIENTS:
        return {"of": "contents", "item": words[0].word}
    for item in items:
        if item.kind == "O":
            fields["oven"] = str(item.value)
        elif item.kind == "D":
            if str(item.value) in scene.context.dishes or item.words not in phrase_set("liquids", "words"):
                fields["dish"] = str(item.value)
        elif item.kind == "P":
            fields["place"] = str(item.value)
            fields["of"] = "reading"
        elif item.kind in ("T", "A"):
            fields["at"] = scene.past(item.value)
        elif item.kind == "H":
            fields["celsius"] = item.value
            fields["of"] = "reading"
        elif item.kind == "K":
            fields.update(
                {"of": "fire", "wood_kg": item.value} if "wood" in told else {"of": "load", "meat_kg": item.value}
            )
        elif item.kind == "L":
            fields["liquid_l"] = item.value
            fields["of"] = "load"
        elif item.kind == "C":
            places = {word for each in items if each.kind in ("P", "O") for word in each.words}
            fields.update(length_mended(item, told | places, any(each.kind == "O" for each in items)))
            fields.pop("place", None)
        elif item.kind == "N":
            _bare_number(scene, fields, item, {word.word for word in words})
        elif item.kind == "I":
            fields["tool"] = "infrared"
            fields["of"] = "reading"
    if any(word.word == "probe" for word in words) and "celsius" in fields:
        fields.update(place="floor", tool="probe", of="reading")
    if any(word.word == "core" for word in words) and "celsius" in fields:
        fields.update(part="core", of="food")
    states = {"off": "off", "ajar": "ajar", "shut": "on", "open": "off", "closed": "on"}
    for word in words:
        if word.word in states and denied:
            fields.update(of="door", state=states[word.word])
    if "at" in fields and "of" not in fields:
        acts = {"in": "pot", "out": "pot", "lit": "fire", "served": "stage"}
        kind = next((acts[word] for word in ("lit", "served", "in", "out") if word in told), None)
        if kind is not None:
            fields["of"] = kind
    if not fields or (not sure and set(fields) <= bag("oven dish place of at")):
        return None
    _kind_of_last(scene, fields, denied)
    return fields or None


_INGREDIENTS = bag("cornflour cornstarch flour butter margarine oil cream oat soya potato rice buckwheat spelt rye")


def _bare_number(scene: Scene, fields: dict[str, Any], item: Item, words: set[str]) -> None:
    value = item.value.value
    if value != value:
        if item.value.clock is not None:
            fields["at"] = scene.past(Clock(*item.value.clock))
        return
    if words & {"guests", "people", "guest", "us"}:
        fields.update(of="guests", count=int(value))
    elif words & {"splits", "split", "logs", "pieces"}:
        fields.update(of="fire", pieces=value)
    elif words & {"count"}:
        fields.update(of="reading", count=value)
    elif value >= 25:
        fields.update(of="reading", celsius=value)
    else:
        fields["_number"] = value
        if item.value.clock is not None and item.value.clock[1] and "." in item.word:
            fields["_clock"] = scene.past(Clock(*item.value.clock))


def _kind_of_last(scene: Scene, fields: dict[str, Any], denied: list[tuple[int, int]]) -> None:
    """What a bare number mends: the thing said lately that held the wrong one, else the last that held any number."""
    number = fields.pop("_number", None)
    clock = fields.pop("_clock", None)
    if clock is not None:
        for said in reversed(scene.context.last):
            for fact in reversed(said.heard.facts):
                if fact.is_ in bag("pot fire door stage chill reheat"):
                    fields.update({"of": fact.is_, "at": clock})
                    return
                if fact.is_ in ("serve", "class") or "celsius" in fact.said():
                    break
    value = number if number is not None else fields.get("celsius")
    if value is None:
        return
    wrong = {float(scene.number(f"N{n}") or 0.0) for a, b in denied for n in range(a, b) if scene.items[n].kind == "N"}
    wrong |= {float(scene.number(f"H{n}") or 0.0) for a, b in denied for n in range(a, b) if scene.items[n].kind == "H"}
    keys = ("celsius", "count", "meat_kg", "liquid_l", "pieces", "wood_kg", "depth_cm", "litres", "moisture_pct")
    latest: tuple[str, str] | None = None
    for said in reversed(scene.context.last):
        for fact in reversed(said.heard.facts):
            data = fact.said()
            for key in keys:
                if key in data and not isinstance(data[key], str):
                    if float(data[key]) in wrong:
                        fields.pop("celsius", None)
                        fields.update({"of": data["is"], key: value})
                        return
                    latest = latest or (str(data["is"]), key)
    if number is not None and latest is not None:
        fields.update({"of": latest[0], latest[1]: number})
