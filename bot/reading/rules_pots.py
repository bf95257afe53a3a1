"""Pots and what is in them: in, out, moved, turned, topped up, the lid, and the load with its weight and liquid."""
from __future__ import annotations

from typing import Any

from bot.reading.lexicon import longest, phrase_set
from bot.reading.scene import Found, Scene, compiled

_POT = r"(?:pot|pots|pan|pans|tray|trays|tin|tins|dish|crock|it|they|everything|both|lot|big pot|small pot|iron pot|clay pot|cast iron|both pots)"
# A dish can have its cut or a describing word behind it: "lamb shoulder in", "beans all in".
_SUBJECT = rf"(?:(?P<dish><D>)(?: <D>)?(?: pot| pan| tin| tray)?|(?:our |my |that )?{_POT}|(?:pot|pan|tray|tin) (?:of|with) (?P<dish2><D>))"
_INTO = r"(?: (?:to|into|in|inside)(?: (?P<oven><O>)| oven| there)?)"
_BE = r"(?: (?:'s|is|are|was|were|has|have|had|been|gone|went|go|goes|going|got|put|now|both|all|back|finally|straight|safely|just|also|too|well|already|popped|slid|loaded|came|come|coming|moving|being|again))*"
_AT = r"(?: (?:at|since|from|about|around))?"
# What may stand behind "in" so that it means the oven.
_AFTER_IN = r"(?= ?(?:$|[.,:;!?|/()-]|<T>|<U>|and |now|at |since |about |with lid|lid |door |<P>|<N>|<H>|<I>|probe |sorry|already|again|fire |back|finally|there|safely|on (?:trivet|tile|floor)|for |by |after|together|from|while|<D>|pot |raked|all |next to|beside|yay|thanks|cheers|chef|team|everyone|folks|as of|then|but|so|core|liquor|this|bang|dead|<K>|<L>|<A>))"


def _dish(found: Found) -> str | None:
    for name in ("dish", "dish2"):
        if found.has(name):
            return found.name(name)
    return None


def pots(scene: Scene) -> None:
    """Acts on a pot."""
    _moved(scene)
    _lids(scene)
    _topped_up(scene)
    _turned(scene)
    _in(scene)
    _out(scene)
    _likewise(scene)


def _likewise(scene: Scene) -> None:
    """ "lamb in at 10, beans at half past": the second goes on with the act of the first."""
    for found in scene.find(r"(?P<dish><D>)(?: pot)? at (?P<time><T>)(?= ?(?:$|[.,;!|]|and ))"):
        first, _ = scene.sentence(found.first)
        before = [draft for draft in scene.drafts if draft.kind == "pot" and first <= draft.first < found.first and draft.fields["act"] in ("in", "out", "turned")]
        if before:
            draft = scene.add({"is": "pot", "act": before[-1].fields["act"], "dish": found.name("dish")}, found.first, found.last, "pot likewise")
            draft.time = found.time("time")


def _act(scene: Scene, found: Found, act: str, rule: str, **more: Any) -> None:
    fields: dict[str, Any] = {"is": "pot", "act": act, "dish": _dish(found), **more}
    if found.has("oven") and "oven" not in more:
        fields["oven"] = found.name("oven")
    scene.add(fields, found.first, found.last, rule)


def _moved(scene: Scene) -> None:
    if "O" not in scene.kinds:
        return
    verb = r"(?:moved|shifted|swapped|switched|transferred|carried|taken|took|swapped over|moving|brought|relocated|slid|put|popped|got|lifted|switching|shunted|migrated)"
    for pattern in (
        rf"{verb} {_SUBJECT}(?: (?:out|over|across|up|down))?(?: (?:from|out of|off) (?:<O>))?(?: (?:over|across|back|out|up|down|and))*(?: (?:to|into|in|onto)) (?P<oven><O>)(?: (?:from|out of) <O>)?",
        rf"{_SUBJECT}{_BE} (?:moved|shifted|swapped|switched|transferred|over|across|moved over|moved across|over now|off)(?: (?:from|out of) <O>)?(?: (?:over|across|now))* (?:to|into|in) (?P<oven><O>)(?: (?:from|out of) <O>)?",
        rf"{_SUBJECT}{_BE} (?:out of|from|out) <O>(?: (?:and|,|now|over|across|straight))* (?:to|into) (?P<oven><O>)",
        rf"{_SUBJECT}(?: (?:'s|is|are|now))* (?:to) (?P<oven><O>)(?= ?(?:$|[.,;!|]|<T>|at ))",
        rf"(?:swapped|moved|shifted|switched) (?:over )?(?:to) (?P<oven><O>)",
    ):
        for found in scene.find(pattern):
            text = found.match.group()
            sure = any(word in text.split() for word in ("moved", "shifted", "swapped", "switched", "transferred", "over", "across", "from", "carried", "moving", "relocated", "out", "migrated", "shunted"))
            if not sure and "to" not in text.split():
                continue
            _act(scene, found, "moved", "pot moved")


_LID_WORDS = frozenset("lid lids lidded uncovered unlidded".split())


def _lids(scene: Scene) -> None:
    if not scene.has_any(_LID_WORDS):
        return
    pot = r"(?: (?:of|on|off|from|for|to) (?:(?P<dish><D>)|pot|pan|(?P<oven>O\d+)|it|them|both))?"
    on = r"(?:(?:put|got|popped|stuck|jammed|clamped|whacked|bunged|set)(?: the)? lids?(?: back)? on|lids?(?: 's| is| are| now| went| gone| going| all| both| put| firmly| tight| tightly| stays| stayed| still| safely)*(?: back)? on|lid back|back on with lid|with (?:a |its |tight )?lid on|lidded|lid sealed|covered with (?:a |its )?lid|lid down|replaced lid|lid replaced|put lid back|lids? clamped(?: on| down)?|lid shut)"
    off = r"(?:(?:took|taken|pulled|lifted|got|had|whipped)(?: the)? lids?(?: back)? off|lids?(?: 's| is| are| now| came| come| taken| all| both| gone| been| still| left)*(?: right)? off|without (?:a |its )?lid|uncovered|unlidded|lid removed|removed lid|lid lifted|lifted lid|no lid)"
    before = r"(?:(?P<dish2><D>)(?: (?:in|'s|is|are|and|with|now))*? )?"
    for act, word in (("lid_on", on), ("lid_off", off)):
        for found in scene.find(rf"{before}{word}{pot}"):
            if found.has("dish2") and " in " in f" {found.match.group()} ":
                start = compiled(word).search(scene.row.canon, found.start("dish2"))
                assert start is not None
                first, last = scene.row.items_of(start.start(), start.end())
                scene.add({"is": "pot", "act": act}, first, found.last, "lid")
                continue
            scene.add({"is": "pot", "act": act, "dish": _dish(found), "oven": found.name("oven") if found.has("oven") else None},
                      found.first, found.last, "lid")


_TOP_WORDS = frozenset("topped topping splash ladle drop glug jug kettle kettleful mug added".split())


def _topped_up(scene: Scene) -> None:
    if not (scene.has_any(_TOP_WORDS) or "L" in scene.kinds):
        return
    what = r"(?: (?:of|more|extra|boiling|hot|cold|warm|water|stock|liquid|liquor|cider|wine|beer|kettle|from|<D>|a|bit|splash|fresh|just|boiled|ladle|ladles|half))*"
    to = r"(?: (?:to|into|in|on|for) (?:(?P<dish2><D>)|pot|it|pan|them|both))?"
    amount = r"(?P<litres><L>)"
    for pattern in (
        rf"(?:topped(?: up)?|topping up) {_SUBJECT}(?: (?:back )?up)?(?:(?: with| by| ,| -| :)?(?: (?:another|about|a further|extra|roughly|around))* {amount}{what})?",
        rf"topped up(?: (?:with|by))?(?: (?:another|about|around))? {amount}{what}{to}",
        rf"{_SUBJECT}(?: (?:'s|is|was|has|have|been|got|all|both|just))* topped(?: back)? up(?:(?: with| by| ,| -| :)?(?: another| about)? {amount}{what})?",
        rf"(?:added|tipped|poured|put|sloshed|gave|stirred|chucked|splashed|given|ladled|slipped)(?: (?:it|another|in|about|a further|{_SUBJECT}))*? {amount}{what}{to}(?: in)?",
        rf"(?:another|extra|further|about|around) {amount}{what}(?: (?:in|into|added|to|went in|gone in)(?: (?:(?P<dish3><D>)|pot|it))?)",
        rf"(?:a |another |little |big |good |small |just |bit )*(?:splash|ladle|ladleful|drop|glug|jug|kettle|kettleful|mug|cup|bit more|drop more)(?: (?:of|more|water|stock|boiling|hot|liquid|cider|wine|from|kettle))+ (?:in|into|added to|to|on|over)(?: (?:(?P<dish7><D>)|pot|it))",
        rf"{amount} (?:more|extra)(?: (?:of|boiling|hot|cold|warm|water|stock|liquid|cider|wine|<D>))*(?: (?:in|into|added|to|went in|gone in))(?: (?:(?P<dish4><D>)|pot|it))?",
        rf"{amount}{what} added(?: (?:to) (?:(?P<dish5><D>)|pot|it))?",
        r"topped up(?: with (?:a )?(?:bit|splash|ladle|drop|cup|jug|kettle|water|stock|hot|boiling|some|little)(?: <DW>)*?)?(?= ?(?:$|[.,;!?|]|and|at <T>))",
        rf"(?:added|gave it|gave {_SUBJECT}|put in|poured in|tipped in) (?:a |some |more |another )*(?:splash|ladle|drop|glug|bit|jug|kettle|kettleful|mug|water|boiling|hot|stock)(?: (?:of|more|water|stock|boiling|hot|liquid|<D>))*(?: (?:to|in|into) (?:(?P<dish6><D>)|pot|it))?",
    ):
        for found in scene.find(pattern):
            groups = found.groups
            name = next((found.name(f"dish{n}") for n in ("", 2, 3, 4, 5, 6, 7) if groups.get(f"dish{n}")), None)
            if groups.get("litres") and not _is_liquid(scene, found):
                continue
            if not groups.get("litres") and "topped" not in found.match.group() and not _is_liquid(scene, found):
                continue
            scene.add({"is": "pot", "act": "topped_up", "dish": name, "litres": found.number("litres") if groups.get("litres") else None},
                      found.first, found.last, "topped up")


def _is_liquid(scene: Scene, found: Found) -> bool:
    words = set(scene.row.words(found.first, found.last))
    return "topped" in words or "topping" in words or bool(words & {"water", "stock", "liquid", "liquor", "cider", "wine", "beer", "broth", "kettle", "boiling", "more", "extra", "another", "further"})


_TURN_WORDS = frozenset("turned rotated spun flipped swivelled swiveled twisted pivoted turn spin twist gave given".split())


def _turned(scene: Scene) -> None:
    if not scene.has_any(_TURN_WORDS):
        return
    for pattern in (
        rf"(?:turned|rotated|spun|flipped|swivelled|swiveled|twisted|pivoted)(?: round| around)? {_SUBJECT}(?: (?:round|around|over|end for end|half|a quarter|halfway|back to front|180))*",
        rf"{_SUBJECT}(?: (?:'s|is|are|was|has|have|been|got|all|both|just|now))* (?:turned|rotated|spun|flipped|swivelled)(?: (?:round|around|over))?",
        rf"(?:gave|given) {_SUBJECT} a (?:quarter |half |little |wee )?(?:turn|spin|rotate|twist)",
    ):
        for found in scene.find(pattern):
            text = found.match.group()
            if compiled(r".* (?:down|off|out|on|up)").fullmatch(text + " " + _next_word(scene, found.last)):
                continue
            _act(scene, found, "turned", "turned")


def _next_word(scene: Scene, at: int) -> str:
    return scene.items[at].word if at < len(scene.items) and scene.items[at].kind == "" else ""


_IN_WORDS = frozenset("in into inside loaded".split())


def _in(scene: Scene) -> None:
    if not scene.has_any(_IN_WORDS):
        return
    verb = r"(?:put|got|popped|slid|loaded|stuck|chucked|slipped|shoved|placed|bunged|whacked|lobbed|pushed|set|tucked|parked|slotted|have|had|returned|dropped)"
    for pattern in (
        rf"{verb} (?:both |all )?{_SUBJECT}(?: back)?(?: (?:in|into|inside)(?: (?P<oven><O>)| oven)?){_AFTER_IN}",
        rf"{verb} {_SUBJECT} (?:in|into|inside) (?:(?P<oven><O>)|oven)",
        rf"(?:in|in now) (?:went|goes|go|with) {_SUBJECT}",
        rf"{_SUBJECT}{_BE} (?:in|into|inside) (?:(?P<oven><O>)|oven)",
        rf"{_SUBJECT}{_BE} in{_AFTER_IN}",
        rf"loaded {_SUBJECT}(?= ?(?:$|[.,;!|]|<T>|at |and |into |in ))(?: (?:into|in) (?:(?P<oven><O>)|oven))?",
        rf"{_SUBJECT}(?: (?:'s|is|are|has|have|been|now|all))* loaded(?= ?(?:$|[.,;!|]|<T>|at |and |into |in ))(?: (?:into|in) (?:(?P<oven><O>)|oven))?",
        r"(?P<oven><O>) loaded(?: with (?P<dish><D>))?",
    ):
        for found in scene.find(pattern):
            if _not_in_oven(scene, found):
                continue
            words = found.match.group().split()
            if not any(part in found.groups and found.groups[part] for part in ("dish", "dish2")) and any(
                    word in ("it", "they", "everything", "both", "lot") for word in words) and not _about_pot(scene, found):
                continue
            _act(scene, found, "in", "pot in")


def _about_pot(scene: Scene, found: Found) -> bool:
    """ "it's in" is the pot's only if wood is not what is talked of."""
    a, b = scene.sentence(found.first)
    words = set(scene.row.words(a, b))
    return not words & {"wood", "split", "splits", "log", "logs", "kindling", "fire", "post", "delivery", "sun", "book", "list", "diary", "water"} and found.first == a or found.has("oven") if "oven" in found.groups else False


def _not_in_oven(scene: Scene, found: Found) -> bool:
    after = _next_word(scene, found.last)
    if after in ("fridge", "water", "stock", "trays", "ice", "middle", "centre", "pan", "tin", "bag", "half", "bits", "pieces", "charge", "bath", "cupboard", "shade"):
        return True
    if found.last < len(scene.items) and scene.items[found.last].kind in ("N", "H") and found.last + 1 < len(scene.items):
        following = scene.items[found.last + 1]
        if following.kind == "" and following.word in ("trays", "tray", "pots", "tins", "batches", "bits", "pieces", "goes", "tubs", "boxes", "portions", "minutes", "hours", "dishes"):
            return True
    if found.last < len(scene.items) and scene.items[found.last].kind == "U":
        return True
    if found.last < len(scene.items) and scene.items[found.last].kind == "D" and scene.items[found.last - 1].word == "in":
        return True  # butter in the soup
    return False


_OUT_WORDS = frozenset("out off pulled removed drew from emptied unloaded".split())


def _out(scene: Scene) -> None:
    if not scene.has_any(_OUT_WORDS):
        return
    verb = r"(?:took|taken|pulled|got|lifted|brought|had|whipped|fished|drew|pull|slid|removed|hauled|dragged|fetched|have)"
    of = r"(?: (?:of|from) (?:(?P<oven><O>)|oven|there|it))?"
    for pattern in (
        rf"{verb} {_SUBJECT} (?:back |right |all )?out{of}",
        rf"(?:took|pulled|removed|lifted|drew) out {_SUBJECT}(?: from (?P<oven><O>))?",
        rf"(?:pulled|removed|drew) {_SUBJECT}(?= ?(?:$|[.,;!|]|<T>|at |and |from |off ))(?: (?:from|off) (?:(?P<oven><O>)|oven|heat))?",
        rf"{_SUBJECT}{_BE} (?:out of|from|out from) (?:(?P<oven><O>)|oven)",
        rf"{_SUBJECT}{_BE}(?: (?:done|cooked|ready|finished|done and|and|tender))* out(?! (?:on|to|for|in|into|front|cold|over|loud|here|there|with|by bike))",
        rf"(?:out) (?:come|came|comes|go|went|with) {_SUBJECT}",
        rf"{_SUBJECT}{_BE} (?:off heat|off the heat|off)(?= ?(?:$|[.,;!|]|<T>|at |and ))",
        rf"(?:took|taken) {_SUBJECT} off(?: heat)?(?= ?(?:$|[.,;!|]|<T>|at |and ))",
        r"(?P<oven><O>) (?:emptied|unloaded)",
    ):
        for found in scene.find(pattern):
            words = found.match.group().split()
            if not (found.groups.get("dish") or found.groups.get("dish2")) and any(
                    word in ("it", "they", "everything", "both", "lot") for word in words) and found.first != scene.sentence(found.first)[0]:
                if not any(draft.kind in ("check", "stage", "pot", "food") for draft in scene.drafts):
                    continue
            if any(word in words for word in ("'s", "is")) and "it" in words and "off" in words:
                continue
            _act(scene, found, "out", "pot out")


_START = {"cold": "cold", "chilled": "cold", "fridge": "cold", "hot": "hot", "boiling": "hot", "boiled": "hot", "simmering": "hot", "warm": "warm", "tepid": "warm", "lukewarm": "warm", "warmed": "warm", "room": "warm", "kettle": "hot", "scalding": "hot", "steaming": "hot", "frozen": "cold", "heated": "hot"}
_WOODY = frozenset("wood lit fire fed log logs split splits kindling start embers burn burnt oak ash beech birch alder hornbeam barrow".split())
_SKIP_CUT = frozenset("of the a an in with and cold hot warm boiling litre litres soaked raw whole diced dry dried cubed for each about around roughly into big nice total some from fridge pot pan on now lid is 's it going we have got used put to all - : , load loaded loading weighed weighs weighing weight at its just over under bone-in boneless trimmed drained overnight bone boned rolled tied cut up browned fresh good more or so pre seared off today dry-weight".split())


def loads(scene: Scene) -> None:
    """What goes into a pot: "3 kg shoulder, litre of hot stock, clay pot"."""
    for first, last in scene.sentences:
        _load(scene, first, last)


def _load(scene: Scene, first: int, last: int) -> None:
    items = scene.items
    free = [at for at in range(first, last) if scene.moods[at] == "fact" and not scene.used[at]]
    kilos = [at for at in free if items[at].kind == "K"]
    litres = [at for at in free if items[at].kind == "L"]
    if not kilos and not litres:
        return
    sentence_words = set(scene.row.words(first, last))
    kilos = [at for at in kilos if not _woody(scene, at)]
    litres = [at for at in litres if not _other_liquid(scene, at)]
    if not kilos and (not litres or not _loading(scene, first, last, litres)):
        return
    if not kilos and sentence_words & {"left", "trays", "chill", "cool", "tray", "ice", "leftovers"}:
        return
    groups = _split_loads(scene, first, last, kilos, litres)
    for begin, end in groups:
        _one_load(scene, begin, end, [at for at in kilos if begin <= at < end], [at for at in litres if begin <= at < end])


def _split_loads(scene: Scene, first: int, last: int, kilos: list[int], litres: list[int]) -> list[tuple[int, int]]:
    """Two dishes in one message are two loads: "lamb 3 kg, 1 l stock; beans 1 kg, 2 l water"."""
    del litres
    if len(kilos) < 2:
        return [(first, last)]
    cuts = [first]
    for at in kilos[1:]:
        begin, _ = scene.segment(at)
        named = [n for n in range(begin, scene.segment(at)[1]) if scene.items[n].kind == "D"]
        if named:
            cuts.append(begin)
    if len(cuts) == 1:
        return [(first, last)]
    return list(zip(cuts, [*cuts[1:], last], strict=True))


def _woody(scene: Scene, at: int) -> bool:
    begin, end = scene.segment(at)
    words = set(scene.row.words(begin, end))
    if words & _WOODY and not any(item.kind == "D" for item in scene.items[begin:end]):
        return True
    start, _ = scene.sentence(at)
    before = set(scene.row.words(start, at))
    return bool(before & {"lit", "fed", "fire", "stoked", "lighting"}) and not any(item.kind == "D" for item in scene.items[start:end])


def _other_liquid(scene: Scene, at: int) -> bool:
    begin, end = scene.segment(at)
    words = set(scene.row.words(begin, end))
    return bool(words & {"left", "leftover", "leftovers", "trays", "tray", "ice", "chill", "topped", "top", "cool", "fridge"} - ({"fridge"} if words & {"stock", "water", "from"} else set()))


def _loading(scene: Scene, first: int, last: int, litres: list[int]) -> bool:
    """Liquid alone is a load when it is named and has its heat or its pot: "a litre of cold stock in the clay pot"."""
    words = scene.row.words(first, last)
    liquid = longest(words, "liquids", "words") is not None
    started = any(word in _START for word in words)
    pan = longest(words, "pans", "words") is not None
    dish = any(item.kind == "D" and item.words not in phrase_set("liquids", "words") for item in scene.items[first:last])
    added = set(words) & {"another", "more", "extra", "added", "drank", "need", "jug", "each"}
    return bool(litres) and liquid and (started or pan or dish) and not added


def _one_load(scene: Scene, first: int, last: int, kilos: list[int], litres: list[int]) -> None:
    items = scene.items
    fields: dict[str, Any] = {"is": "load"}
    used: list[int] = []
    if kilos:
        fields["meat_kg"] = round(sum(float(items[at].value) for at in kilos), 3)
        used += kilos
    if litres:
        fields["liquid_l"] = round(sum(float(items[at].value) for at in litres), 3)
        used += litres
        _liquid_state(scene, fields, litres[0])
    _pan(scene, fields, first, last, used)
    _name_and_cut(scene, fields, first, last, kilos, litres, used)
    if kilos and not litres and "cut" not in fields and "dish" not in fields and "pan" not in fields:
        if not scene.row.words(first, last) or first != 0:
            return
        if not any(item.kind == "D" for item in items[first:last]) and len([i for i in items[first:last] if i.kind != "."]) > 1:
            return
    if not kilos and not litres:
        return
    begin, end = min(used), max(used) + 1
    draft = scene.add(fields, begin, end, "load", keep=True)
    draft.hidden["load"] = True
    for at in used:
        scene.used[at] = "load"
    for at in range(begin, end):
        if scene.used[at] is None and (items[at].kind == "D" or items[at].word in _START or items[at].word in ("stock", "water", "of", "wine", "cider", "pot", "iron", "clay", "beer")):
            scene.used[at] = "load"


def _liquid_state(scene: Scene, fields: dict[str, Any], at: int) -> None:
    _, end = scene.segment(at)
    begin = max(scene.segment(at)[0], at - 3)
    words = scene.row.words(begin, end)
    for word in (*words, *_lone_state(scene, at)):
        if word in _START:
            fields["start"] = _START[word]
            break
    for number in range(at, end):
        if scene.items[number].word in _START and scene.moods[number] == "fact":
            scene.used[number] = "load"


def _lone_state(scene: Scene, at: int) -> tuple[str, ...]:
    """ "3 l water, boiling": the heat of the liquid behind its own comma."""
    _, end = scene.segment(at)
    a, b = scene.segment(end + 1) if end + 1 < len(scene.items) else (0, 0)
    words = scene.row.words(a, b)
    if not words or words[-1] not in _START or len(words) > 2 or a < at:
        return ()
    for draft in [each for each in scene.drafts if each.rule == "check" and a <= each.first < b]:
        draft.fields.pop("simmer", None)
        if not draft.fields.keys() & {"tender", "liquid", "simmer"}:
            scene.drafts.remove(draft)
    scene.use(a, b, "load")
    return words


def _pan(scene: Scene, fields: dict[str, Any], first: int, last: int, used: list[int]) -> None:
    free = [at for at in range(first, last) if scene.items[at].kind != "." and scene.moods[at] == "fact"]
    flat: list[tuple[int, str]] = [(at, word) for at in free for word in scene.items[at].words]
    words = [word for _, word in flat]
    found = longest(words, "pans", "words")
    if found is None:
        return
    begin, end = found
    if any(scene.items[flat[n][0]].kind == "." for n in range(begin, end)):
        return
    fields["pan"] = " ".join(words[begin:end])
    used += sorted({flat[n][0] for n in range(begin, end)})


def _name_and_cut(scene: Scene, fields: dict[str, Any], first: int, last: int, kilos: list[int], litres: list[int], used: list[int]) -> None:
    """The dish's name is the dish; the butcher's word left over is the cut; with no dish known the meat's word is the cut."""
    items = scene.items
    liquid_words = phrase_set("liquids", "words")
    known = {name for name in scene.context.dishes}
    region: list[int] = []
    if kilos:
        begin, end = scene.segment(kilos[0])
        begin = max(begin, first)
        stop = next((at for at in range(kilos[0] + 1, end) if items[at].kind in ("L", "T", "A", "N", "K") or items[at].word in ("in", "with", "plus", "and", "cold", "from", "lid", "at", "on") and at > kilos[0] + 1), end)
        region = [at for at in range(begin, stop) if at not in litres and items[at].kind in ("", "D")]
    words_used: list[tuple[int, str]] = []
    for at in region:
        if scene.used[at] or scene.moods[at] != "fact" or at in used:
            continue
        for word in items[at].words:
            if word in _SKIP_CUT or word in _START or word == "'s" and items[at].kind == "":
                continue
            words_used.append((at, word))
    head = _head_dish(scene, first, kilos, litres)
    if head is not None:
        fields["dish"] = str(items[head].value)
        used.append(head)
        words_used = [(at, word) for at, word in words_used if at != head]
    elif not kilos:
        for at in range(first, last):
            if items[at].kind == "D" and items[at].words not in liquid_words and not scene.used[at] and str(items[at].value) in known:
                fields["dish"] = str(items[at].value)
                used.append(at)
                return
    words = [word for _, word in words_used]
    if head is None:
        named = _known_in(words, known)
        if named is not None:
            name, a, b = named
            fields["dish"] = name
            del words[a:b]
    if words and kilos:
        cut = " ".join(words)
        if cut != fields.get("dish"):
            fields["cut"] = cut.removeprefix("'s ").strip()
        used += [at for at, _ in words_used]
    elif words_used:
        used += [at for at, _ in words_used]


def _known_in(words: list[str], known: set[str]) -> tuple[str, int, int] | None:
    for name in sorted(known, key=len, reverse=True):
        parts = name.split()
        for at in range(len(words) - len(parts) + 1):
            if words[at:at + len(parts)] == parts:
                return name, at, at + len(parts)
    return None


def _head_dish(scene: Scene, first: int, kilos: list[int], litres: list[int]) -> int | None:
    """ "the cheeks: 3 kg ox cheek": the name at the head of the list."""
    quantities = sorted([*kilos, *litres])
    if not quantities:
        return None
    for at in range(first, quantities[0]):
        if scene.items[at].kind == "D" and at + 1 < quantities[0] + 1 and at + 1 < len(scene.items):
            after = scene.items[at + 1]
            if after.kind == "." and after.word in ":,-":
                return at
    return None
