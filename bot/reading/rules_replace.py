"""Mending: "sorry, floor 210 not 120", "meant the barrel", "the 11.20 floor one should say 178"."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from bot.reading.clock_times import Clock
from bot.reading.denied import denied_values
from bot.reading.excuses import why_wrong
from bot.reading.items import Item, Row
from bot.reading.lexicon import bag
from bot.reading.mended import contents_mended, task_mended
from bot.reading.mended_bare import bare_fix
from bot.reading.numbers import Number
from bot.reading.scene import Draft, Scene, compiled, is_stop
from bot.reading.states_mended import state_mended

_CUE = compiled(
    r"(?:(?:sorry|no|oops|whoops|ah|wait|got|put|wrote|read|typed|had|was|were|'s|are|is)(?: ,)?(?: (?:them|those|it"
    r"|these|all|both))* (?:other|wrong) way (?:round|around|about)"
    r"|sorry|correction|corrections|correct that|typo|oops|whoops|oopsie|ooops|my mistake|my bad"
    r"|my fault|i meant|meant to (?:say|type|write|put)|meant|(?:that |it )?should have been"
    r"|should have said|should say|should read|(?:that|it|one|this|which) should be|(?:that|it"
    r"|one) should|should be(?= (?:<V>|<T>|<K>|<L>) not)|make that|actually|wrong|misread|mistyped"
    r"|misheard|mis typed|fat fingers|fat thumbs|thumb slip|wait no|no wait|no , wait"
    r"|slip of (?:the )?thumb|fix|amend|amendment|change that to|edit|not right"
    r"|read it (?:wrong|back to front|backwards|the wrong way round|upside down)"
    r"|got it wrong|i got that wrong|that was (?:wrong|false|incorrect)|it was false"
    r"|(?<!by )mistake|apologies|scuse me|i mean|rather"
    r"|was in fact|in fact|was really|was actually|is actually|it 's actually|ought to say|(?<!no )change(?! of plan)"
    r"|corrected|numbers swapped|swapped digits|hang on|(?<!hot )(?<!warm )hold on|ahem|erratum|instead of|not|i said"
    r"|(?:i )?wrote(?! (?:it|that|this) (?:on|down|up|in))|i typed|(?:i )?misspoke|mis spoke|(?:i )?miscounted"
    r"|i put(?= (?:<H>|<T>|<N>(?= ?(?:$|[.,;!|]))))|mixed (?:up )?(?:my|the) (?:digits|numbers|figures)(?: up)?"
    r"|(?:shoulda|should of|should have) (?:been|said|put|read|typed|written)"
    r"|(?:clumsy|cold|butter|big) (?:thumbs|fingers)|me being (?:daft|silly|stupid"
    r"|thick|dozy|blind|an idiot|half asleep)|my error|error|no no(?= )|made (?:an |a )?(?:error|mistake)|i was wrong"
    r"|my apologies|(?:i )?beg (?:your )?pardon"
    r"|pardon(?: me)?|soz|silly me|daft me|autocorrect|auto correct|mean(?= (?:<O>|<D>|<P>|<V>|<T>))"
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

# "other way round, air 131 floor 150".
_ROUND_FIRST = compiled(r"(?P<cue>(?:other|wrong) way (?:round|around|about))(?=.* <V>)")

# "should be two splits": the first words of a message, with a value and no time to come.
_SHOULD_FIRST = compiled(
    r"(?P<cue>should (?:be|say|read|have been|have said))(?= .*(?:<N>|<H>|<K>|<L>|<C>))"
    r"(?!.* (?:by|in|soon|when|after|later|before|tomorrow|ready|enough|done|till|until)(?: |$))"
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


# "I said 195 on the floor but I meant 185": what was said is wrong, if what is meant follows.
_SAID_WRONG = compiled(
    r"(?:said|wrote|typed|posted|reported|sent|put) (?:it was |was |down )?(?P<v><V>|<T>)(?: (?:on|in|at|for|as)"
    r" (?:<P>|<O>|<D>|core))*(?= (?:[,;:-] )?(?:(?:but|and|when|it|i|that|,) )*(?:meant|mean|should|really|actually"
    r"|was|is|'s) (?:<DW> ){0,4}?(?:<V>|<T>))"
)

_STRONG = bag(
    "correction corrections typo meant misread mistyped actually amend amendment edit mistake wrong "
    "misheard rather change corrected ought erratum swapped misspoke miscounted shoulda wrote typed daft error "
    "thumbs fingers digits false incorrect"
)


_NO_CUE = compiled(
    r"sorry(?: ,)?(?: (?:i|we|all|everyone|guys|for|about|to|that|it|chef|team|mate|folks|if|was|been|but"
    r"|only|can't|have|am|just|had|got))*(?: ,)? ?(?:forgot|forgotten|late|for|about|missed|busy|to|if"
    r"|can't|didn't|was busy|was late|phone|battery|lost|signal|was on|behind|slow|delay|delayed|running"
    r"|hands|been|forget|forgetting|american|imperial|fahrenheit|got distracted|distracted|couldn't|wet"
    r"|should have posted|should have said earlier|no signal|posting)"
)


_PARDONS = ("sorry", "soz", "apologies", "my bad", "my fault", "my apologies")
_WHY_LATE = bag(
    "gloves busy forgot forgotten late distracted phone missed hands signal battery slow behind remembered posting "
    "pocket hectic swamped tied caught feet rushed"
)


def replaces(scene: Scene, read_facts: Callable[[Scene], None]) -> None:
    """ "X not Y" and every correcting word with a value: what is told in that sentence is a mending."""
    for first, last in list(scene.sentences):
        _replace(scene, first, last, read_facts)


_DATED = compiled(r"(?<=[,;:.-] )(?:and )?(?:that|this|it|which) (?:was|'s) (?:about |around |a good )*<T> actually")


def _replace(scene: Scene, first: int, last: int, read_facts: Callable[[Scene], None]) -> None:
    last = _before_a_question(scene, first, last)
    items = scene.items[first:last]
    if not items or any(scene.used[first:last]):
        return
    if scene.row.words(first, last)[:2] in (("rather", "than"), ("instead", "of")):
        return  # only what it is not
    if scene.has_any(bag("meant")) and compiled(r"(?:are|is|am|was|were|'s) meant to").search(scene.row.canon):
        return  # "we're meant to have 180"
    if any(mood in ("question", "what_if") for mood in scene.moods[first:last]):
        return
    values = [at for at in range(first, last) if scene.items[at].kind in frozenset("NHTKL")]
    if values and scene.doubted.issuperset(values):
        return  # "next week it's 16 guests, not 12"
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
    if first == 0 and (turned := _ROUND_FIRST.match(canon, start, stop)) is not None:
        cues.append(turned)
    if first == 0 and (should := _SHOULD_FIRST.match(canon, start, stop)) is not None:
        cues.append(should)
    denied = denied_values(scene, first, last)
    neighbours = _neighbour_cue(scene, first, last)
    for match in _WRONG_BEFORE.finditer(canon, start, stop):
        a, b = scene.row.items_of(match.start(), match.end())
        if any(item.kind in ("N", "H", "T") for item in scene.items[b:last]):
            denied += [
                (a, a + 1),
                (scene.row.items_of(match.start("p"), match.end("p"))[1] if match["p"] else a + 1, b),
            ]
    for match in _SAID_WRONG.finditer(canon, start, stop):
        denied.append(scene.row.items_of(match.start("v"), match.end("v")))
    if not cues and not denied and not neighbours:
        return
    words = {word for item in items for word in item.words}
    if _NO_CUE.search(canon, start, stop) and not denied and not words & _STRONG:
        return
    only_sorry = all(match.group() in _PARDONS for match in cues)
    excuse = words & _WHY_LATE or not _sorry_for_a_value(scene, first, last)
    if only_sorry and not denied and not neighbours and excuse:
        return  # "floor was 207 at twenty past, got busy sorry", "sorry was chatting, another log on"
    if not denied and all(match.group() == "actually" for match in cues) and _DATED.search(canon, start, stop):
        return  # "lamb's in at last, that was half an hour ago actually"
    if "now" in words and not words & _STRONG and (only_sorry or "oops" not in words):
        return
    drop: set[int] = set(why_wrong(scene, first, last))
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
        if (end := _clause_alone(scene, sub, drafts, denied, last)) is not None:
            _replace(scene, first, end, read_facts)
            return
        apart = _apart(scene, sub, drafts, drop) if denied and not neighbours else {}
        _mend(scene, sub, [draft for draft in drafts if id(draft) not in apart], first, last)
        for a, b in apart.values():
            scene.used[a:b] = [None] * (b - a)
        return
    fields = bare_fix(scene, sub, sure, denied)
    if fields is None:
        return
    scene.add({"is": "fix", "act": "replace", **fields}, first, last, "correction")


def _clause_alone(
    scene: Scene, sub: Scene, drafts: list[Draft], denied: list[tuple[int, int]], last: int
) -> int | None:
    """ "sorry 88 not 84, door's on": where the clause that mends ends, if all that was read stands behind it."""
    ends = [scene.segment(a)[1] for a, _ in denied]
    wrong = {n for a, b in denied for n in range(a, b)}
    begins = [scene.segment(a)[0] for a, _ in denied]
    right = [n for n in range(min(begins, default=0), max(ends, default=0)) if n not in wrong
             and scene.items[n].kind in ("N", "H", "T", "K", "L", "C", "M")]
    if not ends or max(ends) >= last or not right:
        return None
    end = scene.items[max(ends)].start
    return max(ends) if all(sub.items[draft.first].start > end for draft in drafts) else None


def _apart(scene: Scene, sub: Scene, drafts: list[Draft], drop: set[int]) -> dict[int, tuple[int, int]]:
    """ "eating 1.45 not 1.15, door on": what another clause tells of another kind of thing is told, not mended."""
    starts = {item.start: number for number, item in enumerate(scene.items)}
    clauses = {id(draft): scene.segment(starts[sub.items[draft.first].start]) for draft in drafts}
    mended = {draft.kind for draft in drafts if drop.intersection(range(*clauses[id(draft)]))}
    alone = [draft for draft in drafts if draft.kind not in mended]
    return {id(draft): clauses[id(draft)] for draft in alone} if mended else {}


def _before_a_question(scene: Scene, first: int, last: int) -> int:
    """ "sorry the air is 166 not 116, where are we now?": what is asked behind it is no part of the mending."""
    asked = next((n for n in range(first, last) if scene.moods[n] in ("question", "what_if")), last)
    return asked if first < asked < last and is_stop(scene.items[asked - 1]) else last


_TO_A_VALUE = bag("it 's is was the a that in on of for chef reads read says i make probe core gun should be , : -")


def _sorry_for_a_value(scene: Scene, first: int, last: int) -> bool:
    """Whether "sorry" stands beside what it mends; else it asks pardon for something else."""
    items = scene.items[first:last]
    at = [number for number, item in enumerate(items) if item.word in ("sorry", "soz", "apologies")]
    for number in at:
        rest = [each for each in items[number + 1 :] if each.word not in _TO_A_VALUE]
        before = [each for each in items[:number] if each.word not in (",", "-")]
        if (rest and rest[0].kind) or (not rest and before and before[-1].kind):
            return True
    return not at


_OH = (r"(?:sorry|soz|no|nope|nah|oops|whoops|ah|oh|argh|ugh|doh|damn|gah|sugar|wait|hang on|hold on|actually|ok|er|hmm"
       r"|my mistake|my bad)")


def _renamed(scene: Scene, first: int, last: int) -> dict[str, Any] | None:
    """ "that was the barrel", "no, the beans": a name alone, said of what was told before."""
    start, stop = scene.row.offset(first), scene.row.offset(last)
    text = compiled(r"(?: ?[,.!-])*(?: (?:sorry|my mistake|my bad|soz))+$").sub("", scene.row.canon[start:stop])
    text = text.strip(" .!,")
    text, kind = _by_what_was_done(scene, text)
    match = compiled(
        rf"(?:{_OH}(?: ,)? )*(?:that|it|those|they|that one|last one"
        r"|that last one|this|the last one|all that|both|mine|my one|my last one|my last)(?: (?:was"
        r"|were|is|'s|are|should be"
        r"|for))+(?: (?:for|in|of|from|on|at|all|both|actually|about))* (?P<name><O>|<D>|<P>)(?: oven| one"
        r"| reading| not mine)*|(?:no|nope|sorry|oops)(?: ,)?(?: (?:not|in|on|it 's))* (?P<name><O>"
        r"|<D>)(?: oven)?"
    ).fullmatch(text)
    if match is None:
        return _picked(scene, text)
    token = next(value for value in match.groupdict().values() if value)
    item = scene.item(token)
    if item.kind == "O":
        return {"oven": str(item.value), **kind}
    if item.kind == "D":
        return {"dish": str(item.value)} if text.split()[0] not in ("it", "they", "this") else None
    return {"of": "reading", "place": str(item.value)} if text.split()[0] == "that" else None


_DONE_TO = {"fed": "fire", "lit": "fire", "raked": "fire", "opened": "door", "shut": "door", "read": "reading",
            "shot": "reading", "measured": "reading", "turned": "pot", "topped up": "pot"}
_ACTS = {"fed": "fed", "lit": "lit", "raked": "raked", "opened": "off", "shut": "on", "turned": "turned",
         "topped up": "topped_up"}
_WHAT_WAS_DONE = compiled(rf"(?P<name>.* <O>) (?:that )?(?:i|we) (?:just )?(?P<done>{'|'.join(_DONE_TO)})")


def _by_what_was_done(scene: Scene, text: str) -> tuple[str, dict[str, str]]:
    """ "no that's the dome I fed": which of the things told before gets the other name."""
    match = _WHAT_WAS_DONE.fullmatch(text)
    own = [said for said in scene.context.last[-6:] if said.who == scene.context.sender]
    if match is None:
        return text, {}
    kind, act = _DONE_TO[match["done"]], _ACTS.get(match["done"])
    told = [fact.said() for said in own for fact in said.heard.facts if fact.is_ == kind]
    if not any(act in (None, fact.get("act"), fact.get("state")) for fact in told):
        return text, {}
    return match["name"], {"of": kind}


_KIND_OF = {"feed": "fire", "split": "fire", "one": None}
_PICKED = compiled(
    r"(?:(?:sorry|no|oops|ah|wait|actually|ok|and|,) )*(?:that |my |this |last )*(?P<at><T>|<N>)?(?: ?(?P<place><P>))?"
    r"(?: ?(?P<noun>reading|one|number|temp|shot|figure|feed|split))?"
    r"(?: (?:was|should be|should have been|meant))(?: (?:for|of|from))*"
    r" (?P<name><O>|<D>)(?: oven| one| reading| 's)*(?:(?: ,)? (?:not|rather than|instead of) (?:<O>|<D>)(?: 's)?)?"
    r"(?: (?:sorry|my mistake|my bad))?"
)


def _picked(scene: Scene, text: str) -> dict[str, Any] | None:
    """ "the 11.20 was the barrel", "the floor one was the dome's": a thing told before, picked by its time or place."""
    match = _PICKED.fullmatch(text)
    if match is None or not (match["at"] or match["noun"]):
        return None
    name = scene.item(match["name"])
    fields: dict[str, Any] = {"oven" if name.kind == "O" else "dish": str(name.value)}
    if match["at"]:
        clock = scene.clock(match["at"])
        if not isinstance(clock, Clock) or not clock.minute:
            return None
        fields["at"] = scene.past(clock)
    kind = _KIND_OF.get(match["noun"], "reading") if match["noun"] else None
    if match["place"]:
        fields.update(of="reading", place=scene.name(match["place"]))
    elif kind is not None:
        fields["of"] = kind
    return fields


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


_DONE_AT = bag("in out went gone lit raked fed turned")


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
                and (before.word not in ("was", "were") or any(each.word in _DONE_AT for each in items[at + 1 :]))
                and before.word
                in bag(
                    "in out at lit on off eating eat serving serve lunch dinner supper food till until by raked from "
                    "was were"
                )
            )
            meal = any(
                each.kind == "" and each.word in bag("eating eat serving lunch dinner supper food meal service")
                for each in items[max(0, at - 3) : at]
            )
            picks = (
                after is not None
                and (after.kind in ("P", "O", "D") or after.word in ("core", "liquor", "probe", "food"))
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
