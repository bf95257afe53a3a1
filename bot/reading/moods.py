"""What is told, what is asked, what is only talked of.

Facts are told; plans, requests, denials, conditions, other days, other places and jokes are not. A mood is given to
every item: the rules for facts look only at items that are told, those for questions only at what is asked.
"""

from __future__ import annotations

import re

from bot.reading.items import Item
from bot.reading.lexicon import bag
from bot.reading.not_told import BASE, DOUBTED, HELD_BACK, Reach
from bot.reading.openers import OPENS as OPENS_WITHOUT_WORD
from bot.reading.openers import tail_of
from bot.reading.scene import Scene, compiled, is_stop

_SUBJECT = (
    r"(?:it|we|i|they|he|she|you|there|this|that|these|those|someone|anyone|everyone|anybody|everybody"
    r"|anything|everything|either|all"
    r"|<D>|<O>|<P>|pot|pots|oven|fire|door|lid|lids|probe|core|liquor|class|lunch|dinner|guests|food|meat"
    r"|our|my|(?:the|any|some) <W>|stock|wood|<I>)"
)
_ADDRESS = (
    r"(?:(?:ok|okay|hey|hi|hello|right|so|and|but|then|also|bot|yardhand|now|btw|quick question|question"
    r"|quick one|sorry|um|er|well|please|or|oh|quickly|hmm|anyone|guys|all|team|everyone|just wondering"
    r"|wondering|erm|plus)(?: [,:-])? ){0,3}"
)

# Openings of a question at the start of a clause.
_OPENS = compiled(
    rf"when (?:will|is|are|do|does|should|can|could|would|'s|did|shall|must|to|was|might|abouts|exactly|roughly)"
    rf"|(?!what (?:'s|is) left (?:of |from |(?:(?:is|now|all|gone|went) )*(?:in|into|on|over|onto) (?:<W> |<N> )*"
    rf"(?:trays|tray|ice|tubs)(?: |$)))(?!which (?:is|'s|are|was|has) (?:tended|retained"
    r"|fish|milk|dairy|gluten|wheat|nuts?|eggs?|celery|mustard|soya|sesame)(?: |$))"
    r"(?:what|where|how|why|who|which|whose)(?: (?:<W>|<D>|<O>|<P>|<N>|'s))"
    rf"|(?:when|why|how come|how|what)(?= ?$)|light (?:up )?when(?= (?:for|to|do|should|if|we|i|eating|[?]))"
    rf"|(?!have (?:[a-z]+ed|put|lit|fed|taken|got|given|spread|shut|done|made|told|left|cut|set|swept|brought) )"
    rf"(?!could (?:only |just |barely )?(?:hold|keep|bear|stand|have) )"
    rf"(?!did (?:the |a )?<I> (?:on|at|round|around|in|over|for|and|again|too) )"
    r"(?!had (?:my|our|a|the) )(?!can (?:only|just|barely) (?:hold|keep|bear|stand) )"
    rf"(?:will|does|do|did|is|are|can|could|should|would|shall|has|have|was|were|isn't|aren't|won't"
    rf"|doesn't|don't|am|may|might|had) (?:<W> )?{_SUBJECT}"
    r"|(?:any|got any|is there any) (?:<W>|<D>) (?:in|at|on|for|yet|left)"
    r"|anything (?:in|i|we|you|to|a|for) (?:<W>|<D>|<O>)"
    r"|any (?:idea|chance|clue|guess|news|word|update|updates|danger|nuts|need|sign|point|dairy|gluten|harm|worry|risk"
    r"|allergens|wheat|sesame|celery|mustard|egg|eggs|fish|milk|flour|nut|peanuts|soya)"
    r"|(?:ok|okay|safe|fine|alright|all right|good|enough time|time|possible|worth|better) (?:to|for"
    r"|if) (?:<W>|<D>|<O>|<N>)"
    r"|(?:eta|status|help|state of play|time check|progress)(?= ?(?:$|on|of|for|for|please|,|\?|-|<D>|<O>))"
    r"|(?:tell|show|give|send|post|print|share) (?:me|us)"
    r"|(?!(?:put|call|throw|give) (?:a |an |another |one )?(?:<W> )?logs? (?:on|in|to|into|onto))(?:post|show"
    r"|print|share|send|display|draw|plot|pull up|bring up|put up|give) (?:a |an |up |the "
    r"|today's |today 's |our |out |over )?(?:(?!another |more |small |big |extra |last |split |log |one |two "
    r")<W> ){0,2}(?:chart|log|graph|plot|table|summary|record"
    r"|curve|curves|numbers|readings|history|notes|recap|temps|temp|sheet|list|timeline|report)"
    r"|(?:summary|recap|chart|graph|log|table|plot)(?= ?(?:$|please|,|of|for|so far|\?|pls))"
    r"|(?:plot|chart|graph) (?:the )?(?:<O>|<P>|temp|heat)"
    r"|(?:suppose|supposing|assume|assuming|let 's say|say) (?:we|i|you)"
    r"|(?:<D>|<O>) (?:eta|status|update|when|how long)(?= ?(?:$|[?,.!]|please|now|yet))"
)
# Openings that are sure enough to begin a question without a comma before them.
_OPENS_ANYWHERE = compiled(
    r"(?:when (?:will|is|do|does|should|can|'s|are|would|could|did)|what (?:will|if|then|changes|happens|'s|is|time"
    r"|would|heat|temp|temperature|should|are)|how (?:long|much|hot|many|'s|is|are|far|soon|late|warm"
    r"|to|do|best|should|chill|cool)"
    r"|(?:what|which) reading (?:do|should|would|shall|is)"
    r"|where (?:are|is|will|do)|why (?:is|'s|are|has|does|did|so|isn't|won't)"
    r"|who (?:'s|has|is|'s got)|would (?:it|that|this) (?:help|change|matter|make|do)"
    r"|will (?:it|we|they|<D>|<O>|<P>)|does (?:it|<O>|<D>|<P>|fire|that)"
    r"|is (?:it|<D>|there) (?:<W> )?(?:ready|done|ok|okay|safe|going|any|enough|fine|too|alright|all"
    r"|time|worth)|do (?:we|i|you) (?:need|want|have|light|rake|reckon|think)|should (?:we|i)"
    r"|(?:can|could|would) you (?:post|show|send|print|share|draw|plot)"
    r"|can (?:we|i|<D>|it)|are we (?:ok|on|still|going|good|ready)|ok to|safe to|any (?:idea|chance) )"
)

_DOUBTED = tuple((reach, compiled(pattern)) for reach, pattern in DOUBTED)
_HELD_BACK = tuple((reach, compiled(pattern)) for reach, pattern in HELD_BACK)
_IMPERATIVE_START = compiled(
    rf"{BASE} (?:the|a|an|it|them|that|this|some|more|another|me|us|him|her|your|my|our|those|these|all"
    rf"|both|<N>|<D>|<O>|<P>|<K>|<L>|door|lid|pot|fire|wood|water|two|one|up|out)"
)
_FIRING = frozenset({"light", "lit", "lighting", "fire", "firing", "plan"})
_SAME_IN_PAST = frozenset({"put"})


class Full:
    """The row with its fillers, for the mood patterns; places in it lead back to items."""

    def __init__(self, items: list[Item]) -> None:
        parts: list[str] = []
        self.index: list[int] = []
        self.starts: list[int] = []
        at = 0
        for number, item in enumerate(items):
            text = f"{item.kind}{number}" if item.kind.isalpha() else item.word
            parts.append(text)
            self.starts.append(at)
            at += len(text) + 1
        self.text = " ".join(parts)

    def end_of(self, last: int) -> int:
        """Where the item before `last` ends."""
        return self.starts[last] - 1 if last < len(self.starts) else len(self.text)

    def item(self, offset: int) -> int:
        low, high = 0, len(self.starts)
        while low < high:
            middle = (low + high) // 2
            if self.starts[middle] <= offset:
                low = middle + 1
            else:
                high = middle
        return max(0, low - 1)


def set_moods(scene: Scene) -> None:
    """Give every item its mood."""
    full = Full(scene.items)
    for first, last in scene.sentences:
        _questions(scene, full, first, last)
    understood: set[int] = set()
    for phrase in scene.phrases:
        stretch = range(phrase.first, phrase.last)
        understood.update(stretch)
        first = phrase.first
        if phrase.question or first == 0 or scene.moods[first - 1] != "question":
            for number in stretch:
                scene.moods[number] = "question" if phrase.question else "fact"
    _quieten(scene, full, _DOUBTED, understood)
    _conditions_behind(scene)
    scene.doubted = {at for at, mood in enumerate(scene.moods) if mood == "silent"}
    _quieten(scene, full, _HELD_BACK, understood)
    for first, last in scene.sentences:
        _imperatives(scene, full, first, last, understood)
    _hand_held(scene)


_HAND = compiled(
    r"(?:i |we )?(?:can|can't|cannot|could|couldn't|can not|could not)(?: (?:only|just|barely|hardly))* "
    r"(?:hold|keep|bear|leave|stand|get) (?:my |me |a |bare )*hand (?:<W> )*(?:(?:P|O)\d+ )*(?:[NS]\d+)(?: .*)?"
)


def _hand_held(scene: Scene) -> None:
    """ "can hold my hand in for 4": asks nobody and denies nothing; it tells how long."""
    for first, last in scene.sentences:
        text = scene.row.canon[scene.row.offset(first) : scene.row.offset(last)].strip(" .!,")
        if _HAND.fullmatch(text) is not None and scene.items[last - 1].word != "?":
            scene.moods[first:last] = ["fact"] * (last - first)


def _quieten(
    scene: Scene, full: Full, patterns: tuple[tuple[Reach, re.Pattern[str]], ...], understood: set[int]
) -> None:
    for reach, pattern in patterns:
        for match in pattern.finditer(full.text):
            at = full.item(match.start())
            if at in understood or _is_about(scene, at) or _since_then(scene, at) or _as_ever(scene, at):
                continue
            if match.group() == "tomorrow" and _plans(scene):
                continue
            end = full.item(match.end() - 1) + 1
            if scene.moods[at] in ("question", "what_if"):
                if reach == "message":
                    _hush(scene, 0, len(scene.items))
                continue
            if reach == "rest" and scene.items[at].word in ("till", "until"):
                reach = "on" if _read_behind(scene, end) else reach
            _silence(scene, "clause" if reach == "sentence" and _fired_then(scene, at) else reach, at, end)


_HAPPENED = bag("went gone put was were is 's are got came been just now took have has")


def _conditions_behind(scene: Scene) -> None:
    """ "lamb in at half past, if it's settled": an act that waits for something, told before what it waits for."""
    for at in range(2, len(scene.items) - 2):
        after = scene.items[at + 1]
        if scene.items[at].word not in ("if", "unless", "provided") or scene.items[at - 1].word != ",":
            continue
        if after.kind not in ("O", "D", "P") and after.word not in ("it", "they", "oven", "the", "all", "everything"):
            continue
        first, last = scene.segment(at - 2)
        words = set(scene.row.words(first, last))
        timed = any(item.kind == "T" for item in scene.items[first:last])
        if timed and words & {"in", "out", "on", "off"} and not words & _HAPPENED:
            _set(scene, first, last)


def _read_behind(scene: Scene, at: int) -> bool:
    """ "aside till it cools a bit, floor's 248": the next clause is a reading and waits for nothing."""
    begin = scene.segment(at)[1] + 1
    here = begin + 1
    while here < len(scene.items) and scene.items[here].word in ("'s", "is", "at", "now"):
        here += 1
    return here < len(scene.items) and scene.items[begin].kind in ("P", "I") and scene.items[here].kind in ("N", "H")


def _plans(scene: Scene) -> bool:
    """ "3 kg shoulder, eating 1.30 tomorrow, when do I light": a plan is asked for, and tomorrow is the day of it."""
    asked = {item.word for item, mood in zip(scene.items, scene.moods, strict=True) if mood == "question"}
    return bool(asked & _FIRING)


def _is_about(scene: Scene, at: int) -> bool:
    """ "air maybe 165": the spot was read, the needle was not sharp."""
    return (
        scene.items[at].word in ("maybe", "perhaps", "probably")
        and 0 < at < len(scene.items) - 1
        and scene.items[at - 1].kind in ("P", "I")
        and scene.items[at + 1].kind in ("N", "H")
    )


def _fired_then(scene: Scene, at: int) -> bool:
    """ "dome fired last night, air 176": the fire was another day's, and what is read of the oven is of now."""
    begin, end = scene.segment(at)
    return (
        scene.items[at].word in ("last", "yesterday")
        and any(item.word in ("fired", "lit", "raked", "burnt", "heated", "burned") for item in scene.items[begin:at])
        and any(item.kind == "P" or item.word == "probe" for item in scene.items[end : scene.sentence(at)[1]])
    )


_MADE_READY = bag("soaked soaking marinated marinading marinating brined brining salted cured curing rubbed warm hot")


def _since_then(scene: Scene, at: int) -> bool:
    """ "beans soaked since yesterday, 1.8 kg", "dome still warm from last night": how it came to be as it is."""
    begin, _ = scene.segment(at)
    since = at > begin and scene.items[at - 1].word in ("since", "from")
    return since and scene.items[at].word in ("last", "yesterday") and any(
        item.word in _MADE_READY for item in scene.items[begin:at])


def _as_ever(scene: Scene, at: int) -> bool:
    """ "barrel as always, tended, 70 across": described as it is, and is so today."""
    alike = at > 0 and scene.items[at - 1].word in ("as", "like") and scene.items[at].word in (
        "always", "last", "yesterday", "usual", "usually")
    return alike and any(item.kind == "C" or item.word in bag("across retained tended") for item in scene.items)


def _clause_starts(scene: Scene, first: int, last: int) -> list[int]:
    starts = [first]
    for at in range(first, last):
        item = scene.items[at]
        if at + 1 < last and (is_stop(item) or (item.kind == "" and item.word in ("and", "but", "so", "or"))):
            starts.append(at + 1)
    return starts


def _questions(scene: Scene, full: Full, first: int, last: int) -> None:
    if first >= last:
        return
    marked = scene.items[last - 1].kind == "." and scene.items[last - 1].word == "?"
    end_offset = full.starts[last - 1] + len(full.text)
    opened: list[int] = []
    address = _address()
    for start in _clause_starts(scene, first, last):
        offset = full.starts[start]
        skipped = address.match(full.text, offset)
        offset = skipped.end() if skipped else offset
        if _OPENS.match(full.text, offset, min(len(full.text), end_offset)):
            opened.append(full.item(offset) if offset < len(full.text) else start)
        elif (
            (named := _named(full, offset)) is not None and _OPENS.match(full.text, named)
        ) or OPENS_WITHOUT_WORD.match(full.text, offset, min(len(full.text), full.end_of(last))):
            opened.append(start)
    if scene.items[first].word == "if" and (marked or _OPENS_ANYWHERE.search(full.text, full.starts[first])):
        opened.append(first)
    for match in _OPENS_ANYWHERE.finditer(full.text, full.starts[first]):
        at = full.item(match.start())
        if at >= last:
            break
        before = scene.items[at - 1] if at > first else None
        if before is None or before.kind == "." or (before.kind == "" and before.word in _TELLING):
            continue
        if _told_of(scene, first, at):
            continue
        if before.kind == "" and before.word in ("in", "by", "at", "till", "until", "for"):
            while at > first and not is_stop(scene.items[at - 1]):
                at -= 1
        opened.append(at)
    tail = tail_of(full.text, full.starts[first], full.end_of(last))
    told = tail is not None and scene.items[max(first, full.item(tail) - 1)].word in _TELLING and not marked
    if tail is not None and not told and not any(at < full.item(tail) for at in opened):
        start = _asked_from(scene, full.item(tail), first)
        for number in range(start, last):
            scene.moods[number] = "question"
        return
    if not opened and marked:
        opened.append(_last_clause(scene, first, last))
    if not opened:
        return
    for at in sorted(set(opened)):
        stop = _question_end(scene, at, last, full)
        for number in range(at, stop):
            scene.moods[number] = "question"
    if marked and opened:
        # "brisket for 3 o'clock, are we ok?": what stands before an asking clause may belong to it; rules look there.
        return


def _told_of(scene: Scene, first: int, at: int) -> bool:
    """ "I've told the table what's in it": no question, it was told."""
    start = at
    while start > first and not is_stop(scene.items[start - 1]) and at - start < 6:
        start -= 1
    return any(
        item.kind == "" and item.word in ("told", "informed", "briefed", "explained", "showed", "shown", "warned")
        for item in scene.items[start:at]
    )


_TELLING = bag(
    "know knows knew wonder see saw remember forgot forget depends idea sure care tell told say says said "
    "asked ask that's of "
    "on from with by than like show matter matters check understand explain guess "
    "about exactly just is 's me us to for"
)
_ADDRESS_COMPILED: list[re.Pattern[str]] = []


def _address() -> re.Pattern[str]:
    if not _ADDRESS_COMPILED:
        _ADDRESS_COMPILED.append(re.compile(_ADDRESS))
    return _ADDRESS_COMPILED[0]


_FOUND = bag(
    "giving tough tender soft hard falling simmering boiling dry low wet raining in out on off shut ajar served"
)
_NAMED = compiled(r"(?:the |our |my )?(?:<D>|<O>|<P>|[a-z]+)(?: oven)?(?: [,:-])?")


def _named(full: Full, offset: int) -> int | None:
    """ "lamb - when will it be done": the name first, then the question."""
    match = _NAMED.match(full.text, offset)
    if match is None or match.end() + 1 >= len(full.text) or match.group()[-1] not in ",:-":
        return None
    if match.group().split()[0] in _FOUND:
        return None  # "core 86 and giving, can we have it by two?"
    return match.end() + 1


def _last_clause(scene: Scene, first: int, last: int) -> int:
    start = first
    for at in range(first, last - 1):
        if scene.items[at].kind == "." and scene.items[at].word in ",:-/" and at + 1 < last - 1:
            start = at + 1
    return start


def _asked_from(scene: Scene, at: int, first: int) -> int:
    """ "another split or hold off, which": where the clause begins that a question at the end asks about."""
    start = at
    while start > first and not (is_stop(scene.items[start - 1]) and scene.items[start - 1].word != "/"):
        start -= 1
    held = set(scene.row.words(start, at))
    if held & {"plenty", "enough", "lots"} and held & _TOLD_OF and "is" not in scene.row.words(start, start + 1):
        return at  # "and there's plenty of liquid how long now"
    if start == at:
        if _tells(scene, first, at):
            return at
        start = max(first, at - 1)
        while start > first and not (is_stop(scene.items[start - 1]) and scene.items[start - 1].word != "/"):
            start -= 1
    return start


_TOLD_OF = bag("lid door pot fire liquid liquor stock")


def _tells(scene: Scene, first: int, at: int) -> bool:
    """ "bread in, how long?": the clause before tells what was done."""
    a, b = scene.segment(max(first, at - 2))
    items = scene.items[a:b]
    return (
        any(item.kind in ("D", "P", "O") or item.word in _TOLD_OF for item in items)
        and len(items) <= 6
        and any(
            item.kind in ("N", "H")
            or item.word in bag("tough hard low dry simmering boiling falling dead shut ajar plenty")
            or item.word in ("in", "out", "on", "turned", "moved", "tender", "giving")
            for item in items
        )
        and not any(item.word in ("or", "will") for item in items)
        and items[0].word not in ("is", "are")
    )


def _question_end(scene: Scene, at: int, last: int, full: Full) -> int:
    """A question runs to the next comma; a "what if" to the end of its sentence."""
    head = full.text[full.starts[at] : full.starts[at] + 40]
    if re.match(
        r"(?:and |so |but |ok )?(?:what (?:if|happens|would happen|about if)|suppose|supposing|say (?:the |that "
        r")?(?:we|i|door|lid|fire|someone|it|they|pot|[DOP]\d+)"
        r"|if |how (?:much|long|late|bad|far)[a-z ]* if |would it|will it [a-z]+ if)",
        head,
    ) or (" if " in full.text[full.starts[at] : full.starts[last - 1] + 1]):
        return last
    for number in range(at, last):
        item = scene.items[number]
        if item.kind == "." and item.word in ",;|" and number > at + 1:
            return number
    return last


def _hush(scene: Scene, first: int, last: int) -> None:
    for at in range(first, last):
        scene.moods[at] = "silent"


def _silence(scene: Scene, reach: Reach, at: int, end: int) -> None:
    first, last = scene.sentence(at)
    items = scene.items
    if reach == "message":
        _hush(scene, 0, len(items))
        return
    if reach == "sentence":
        start = _back(scene, at, first)
        stop = _forward(scene, end, last)
        content = any(items[number].kind not in ("", ".") for number in range(start, stop) if not at <= number < end)
        if content or start == first:
            start, stop = first, last
        _set(scene, start, stop)
        return
    stop = last if reach == "rest" else _forward(scene, end, last)
    start = _back(scene, at, first) if reach == "clause" else at
    _set(scene, start, stop)


def _set(scene: Scene, start: int, stop: int) -> None:
    for number in range(start, stop):
        if scene.moods[number] == "fact":
            scene.moods[number] = "silent"


def _forward(scene: Scene, at: int, last: int) -> int:
    while (
        at < last
        and not (scene.items[at].kind == "." and scene.items[at].word in ",;:|/()-.!?")
        and not (scene.items[at].kind == "" and scene.items[at].word == "but")
    ):
        at += 1
    return at


def _back(scene: Scene, at: int, first: int) -> int:
    while (
        at > first
        and not is_stop(scene.items[at - 1])
        and not (scene.items[at - 1].kind == "" and scene.items[at - 1].word in ("and", "but"))
    ):
        at -= 1
    return at


def _imperatives(scene: Scene, full: Full, first: int, last: int, understood: set[int]) -> None:
    """An order opens a clause with a bare verb: "bring the long peel", "turn the lamb"."""
    for start in _clause_starts(scene, first, last):
        at = start
        while (
            at < last
            and scene.items[at].kind == ""
            and scene.items[at].word in bag("and then now ok right so also please just everyone all guys team")
        ):
            at += 1
        if at >= last or at in understood or scene.moods[at] != "fact":
            continue
        called = at > first and scene.items[at - 1].word == "," and at - 2 >= first and _is_call(scene, first, at - 1)
        match = _IMPERATIVE_START.match(full.text, full.starts[at])
        if match is None:
            continue
        if (
            scene.items[at].word == "let"
            and at + 2 < last
            and "fire" in (scene.items[at + 1].word, scene.items[at + 2].word)
        ):
            continue
        if scene.items[at].word in _SAME_IN_PAST and not called:
            continue
        if any(item.word in ("done", "finished", "complete") for item in scene.items[at + 1 : at + 4]):
            continue  # "rake out done 8.10"
        _set(scene, at, _forward(scene, at, last))


def _is_call(scene: Scene, first: int, comma: int) -> bool:
    """ "Tomos, ..." or "can you, ...": one or two words before the comma, none of them ours."""
    words = scene.items[first:comma]
    people = {word.lower() for name in scene.context.people for word in name.split()}
    if words and words[0].word in bag("hi hello morning hey ok right thanks evening afternoon"):
        return False
    return (
        1 <= len(words) <= 2
        and all(item.kind == "" for item in words)
        and (words[-1].word in people or words[-1].word in _COMMON_CALLS)
    )


_COMMON_CALLS = bag("someone somebody guys team all everyone mara idris tomos bea folks people")
