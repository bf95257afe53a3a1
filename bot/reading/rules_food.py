"""The food itself: how tender, how it simmers, how much liquid; its stages; chilling and heating again."""
from __future__ import annotations

from typing import Any

from bot.reading.scene import Draft, Scene, compiled

_TENDER = {
    "falling": r"(?:falling apart|falling off (?:the )?bones?|fallen apart|falling to bits|falling to pieces|fell apart|fell off bones?|falls apart|falls off bones?|collapsing|collapsed|pulls apart|pulling apart|pulled apart|shredding|shreds|shreds easily|dropping off bones?|dropped off bones?|coming off bones?|comes off bones?|coming away from bones?|bones? (?:slides?|pulls?|comes?|coming|slid|pulled|came|sliding|pulling|slips?|slipped)(?: right| straight| clean| clear)? (?:out|away|clean)(?: clean)?|mush|mushy|gone to mush|overdone|falling|gone past tender|melting|broken down completely|disintegrating|spoonable|cut it with a spoon|cut with a spoon)",
    "tough": r"(?:still |very |a bit |bit |pretty |quite |too )*(?:tough|firm|hard|chewy|rubbery|solid|like (?:a )?boots?|like leather|like old boots|tight|resisting|raw|tough as(?: old)? boots|hard as (?:nails|bullets|rocks?|stones?)|crunchy|al dente|undercooked)(?: as(?: old)?(?: boots?| nails| bullets| leather| rock| a rock| stone))?|fork (?:bounces?|bounced|bouncing)(?: off| back)?|fork (?:won't|doesn't|wouldn't|can't|didn't|will not) (?:go|get|slide|move)(?: in| through| near)?|bounces? off fork|no give(?: at all| yet| in it)?|not giving(?: at all| yet)?|(?:isn't|not|no|not at all|nowhere near|not even close to|far from) (?:yet |quite |at all |anywhere near |even |remotely |near )*(?:tender|soft)(?: yet| at all)?|doesn't give(?: yet| at all)?|(?:isn't|aren't) giving(?: yet| at all)?|not a hint of give|doesn't want to give|fighting fork|long way off tender",
    "giving": r"(?:giving|(?:just )?(?:starting|beginning|started|begun|starts|begins|beginning|about) to (?:give|soften|yield|relax|loosen|go tender|get tender|come|feel tender|turn tender)|gives? a (?:bit|little|touch)|giving a (?:bit|little|touch)|softening|getting (?:there|tender|softer|soft)|loosening|yielding|starting giving|some give|bit of give|a little give|a bit of give|coming along|nearly tender|almost tender|nearly there|almost there|not far off tender|fork (?:goes|going|went) in with (?:a )?(?:bit of |some |a little )?(?:push|effort|resistance|pressure|shove)|half tender|on its way|coming on|relaxing|partly tender|fairly tender|more tender|beginning to go|give in it|has some give|slight give)",
    "tender": r"(?:fork tender|fork-tender|tender|soft|done|cooked through|perfect|ready|butter soft|soft as butter|like butter|beautifully soft|lovely and soft|fork (?:goes|slides|went|slid|going|slips|slipped)(?: straight| right| clean| easily| easy)? (?:in|through)(?: easily| easy| like butter| no bother)?|knife (?:goes|slides|went|slid|slips)(?: straight| right| clean| easily)? (?:in|through)(?: easily| like butter)?|probe tender|goes in like butter|meltingly|creamy|cooked|melt in mouth|skewer (?:goes|slides|went|slid)(?: straight| right)? (?:in|through))",
}
_SIMMER = {
    "none": r"(?:(?:no|not a|zero|without a|not any|without any) (?:single )?(?:bubbles?|simmer|blips?|movement|sign of (?:a )?(?:bubble|simmer)|simmering|bubbling|murmur|action)(?: at all| yet| in it| to be seen)?|(?:isn't|not|hasn't|stopped|never|ain't|no longer|not even) (?:yet |quite |really |started |even |actually )*(?:simmering|bubbling|blipping|simmer|ticking)(?: at all| yet)?|dead still|completely still|flat calm|still as a pond|gone quiet|no action|stopped (?:simmering|bubbling|blipping)|gone off simmer|off simmer|off boil|gone off boil|not moving|off the simmer|off the boil|barely warm)",
    "hard": r"(?:(?:rolling|hard|fast|furious|full|proper|violent|mad|big|strong|vigorous|rapid|galloping) (?:boil|boiling|simmer|rolling boil|bubble|bubbling)|boiling(?: (?:hard|away|like mad|fast|furiously|its head off|over|madly|too hard|well|merrily|rapidly))*|boils?|(?:bubbling|simmering|blipping) (?:hard|away hard|like mad|furiously|fast|too hard|madly|too fast|strongly|wildly|like crazy|rapidly|violently|vigorously|over)|going like (?:the clappers|mad|a train)|at (?:a )?boil|on boil|on the boil|at a rolling boil|too (?:hard|fast) a simmer|galloping|spitting|bubbling over|raging|at (?:a )?gallop|come to boil|came to boil|hammering)",
    "gentle": r"(?:(?:barely|hardly|only|just|gently|slowly|softly|lazily|quietly|still|nicely|happily|steadily|lightly|only just|very gently) (?:a )?(?:simmering|simmer|bubbling|blipping|blip|ticking|ticking over|bubble|murmuring|trembling)|(?:simmering|bubbling|blipping|ticking|murmuring|trembling|plopping|burbling|gurgling|chugging|puttering|shimmering|quivering)(?: (?:away|along|gently|nicely|softly|slowly|quietly|over|lazily|happily|steadily|lightly|beautifully|well|just|barely|still|now))*|(?:gentle|slow|soft|lazy|bare|barest|light|quiet|low|nice|steady|good|tiny|faint|slight|lovely|easy) (?:simmer|bubble|bubbles|bubbling|blip|blips|tick|blipping|simmering|tremble|murmur)|barely a (?:blip|bubble|simmer|murmur)|(?:a|one|odd|few|occasional|the odd|an odd|couple of|a few|single) (?:blip|blips|bubble|bubbles|plop)(?: now and then| every (?:few|couple of|so) [a-z]+| here and there)?|at (?:a )?simmer|on (?:a )?simmer|a simmer|simmer(?: 's)?(?: is)? (?:gentle|slow|fine|good|nice)|blip blip|just ticking|come to (?:a )?simmer|came to (?:a )?simmer|just on simmer|surface shivering|shivering|smiling|simmers|simmer)",
}
_LIQUID = {
    "low": r"(?:(?:liquid|liquor|stock|water|level|broth|gravy|juice|juices|sauce|pot|it)(?: 's| is| are| are| looks| looking| look| looked| getting| a| bit| rather| has| gone| very| going| running| too| down| well| went| now| quite| pretty| bone)* (?:low|down|short|dry|dropped|reduced|gone|nearly gone|almost gone|right down|drying out|drying up|shallow)|(?:getting|running|gone|looking|bit|a bit|rather|very|low|going|too|quite|pretty|ran|nearly|almost|bone|boiled) (?:on |a bit |bit |rather |very |pretty |quite )?(?:low|dry|short)(?: on| of| in)?(?: (?:liquid|liquor|stock|water|broth|there|pot|juice|it))*|low (?:on|in|liquid|liquor|stock|level)(?: (?:liquid|liquor|stock|water|there|pot|juice))*|not much (?:liquid|liquor|stock|water|left in it|juice|broth)(?: left| in there| in it)*|hardly any (?:liquid|liquor|stock|water|juice)(?: left| in there)*|little (?:liquid|liquor) left|wants? (?:topping up|a top up|top up|more liquid|more stock|liquid)|needs? (?:topping up|a top up|top up|more liquid|more stock|liquid|more water|a splash|water)|drying out|catching|nearly dry|almost dry|short of liquid|short of liquor|short on liquid|just (?:covering|covers) (?:bottom|base))",
    "ok": r"(?:(?:plenty|lots|enough|loads|tons|still plenty|still lots|good amount|still enough|ample|bags|a good bit)(?: of| left| in there)*(?: (?:liquid|liquor|stock|water|broth|juice|gravy|sauce|juices))(?: left| in there| still| in it| yet| in)*|plenty (?:in there|in it|left|in pot|in)|(?:liquid|liquor|stock|water|level|broth|liquids|juices|levels)(?: 's| is| are| looks| looking| level| still| all| seems| now| are)* (?:ok|okay|fine|good|plenty|alright|all right|healthy|high|spot on|well up|up|enough|where it was|covering|halfway|half way up|holding)|good level of (?:liquid|liquor|stock)|well covered|covered in liquid|still covered|liquid level fine|halfway up meat|half way up meat|enough (?:liquid|liquor|stock)|good (?:liquid|liquor))",
}
_GROUPS: tuple[tuple[str, dict[str, str]], ...] = (("liquid", _LIQUID), ("simmer", _SIMMER), ("tender", _TENDER))
_WEAK_TENDER = frozenset("done ready perfect cooked hard solid raw firm tight soft falling creamy soft getting there".split())
_SUBJECTS_NOT_FOOD = frozenset("wood dough butter bread ice cream log logs bread brick bricks water ground crowd work day job chair rain wind floor dome oven fire door barrel air probe lid ash ashes embers chairs tables students class gate kettle tea lunch table washing".split())


def checks(scene: Scene) -> None:
    """One check for every dish that a message speaks of."""
    found: dict[str | None, Draft] = {}
    hits: list[tuple[int, int, str, str]] = []
    for name, group in _GROUPS:
        for value, pattern in group.items():
            for each in scene.find(pattern, mood=None):
                if not _allowed(scene, each.first, each.last):
                    continue
                if not _fits(scene, name, value, each.first, each.last, each.match.group()):
                    continue
                if any(a < each.last and each.first < b for a, b, _, _ in hits):
                    continue
                hits.append((each.first, each.last, name, value))
    for first, last, name, value in sorted(hits):
        dish = _subject(scene, first)
        draft = found.get(dish)
        if draft is not None and name not in draft.fields:
            draft.fields[name] = value
            scene.use(first, last, "check")
            draft.first, draft.last = min(draft.first, first), max(draft.last, last)
        elif draft is None:
            found[dish] = scene.add({"is": "check", name: value, "dish": dish}, first, last, "check")
        else:
            if name == "tender" and draft.fields["tender"] != value:
                draft.fields["tender"] = _stronger(scene, draft, value, first)
            scene.use(first, last, "check")
    for draft in found.values():
        draft.no_carry = draft.fields.get("dish") is not None


_ORDER = ("tough", "giving", "tender", "falling")


def _stronger(scene: Scene, draft: Draft, value: str, first: int) -> str:
    """ "giving now but not there", "fork-tender, nearly falling apart": what comes first, unless "now" says otherwise."""
    del scene, first
    return str(draft.fields["tender"]) if value in ("tender", "falling") and draft.fields["tender"] in ("giving", "tender") else \
        str(draft.fields["tender"])


def _allowed(scene: Scene, first: int, last: int) -> bool:
    moods = set(scene.moods[first:last])
    if moods <= {"fact"}:
        return True
    if moods & {"question", "what_if"}:
        return False
    # The phrase itself holds the "no" that silenced the clause: "no bubbles", "fork won't go in".
    word = scene.items[first].word
    began = first == 0 or scene.moods[first - 1] == "fact" or scene.items[first - 1].kind == "."
    return began and (word in ("no", "not", "isn't", "aren't", "won't", "hasn't", "fork", "without", "zero", "nowhere", "doesn't", "never", "far", "nearly", "almost", "wants", "needs", "want", "need", "about", "hardly", "little", "stopped") or scene.items[first].kind == "")


def _fits(scene: Scene, name: str, value: str, first: int, last: int, text: str) -> bool:
    items = scene.items
    before = items[first - 1] if first else None
    words = text.split()
    segment_first, segment_last = scene.segment(first)
    segment = items[segment_first:segment_last]
    nouns = {item.word for item in segment if item.kind == ""}
    dish = _subject(scene, first) is not None
    after = items[last].word if last < len(items) and items[last].kind == "" else ""
    if name == "liquid":
        if value == "low" and words[0] in ("pot", "it") and words[-1] not in ("dry", "low", "reduced"):
            return False
        if "on" in words and after in ("wood", "logs", "splits", "ice", "salt", "flour", "coffee", "sleep", "chairs", "time", "kindling", "milk", "gas"):
            return False
        if words[-1] == "short" and not dish:
            return False
        if (words[0] in ("needs", "need", "wants", "want") and not dish) or after in ("wood", "log", "fire", "air"):
            return False
        if value == "low" and any(item.kind in ("P", "O", "H", "N") for item in segment) and "low" in words and not (nouns & {"liquid", "liquor", "stock"}):
            return False
        return not (nouns & {"fire", "embers", "wood", "battery", "morale", "energy", "phone", "sun", "kettle", "tank", "gas", "van", "fuel"} and not nouns & {"liquid", "liquor", "stock"})
    if name == "simmer":
        if words[0] in ("boiling", "hot") and after in ("water", "stock", "liquid", "liquor", "kettle", "cider", "milk") or (last < len(items) and items[last].kind == "D" and words[-1] in ("boiling", "boil")):
            return False
        if nouns & {"kettle", "water", "urn", "tea", "coffee", "resentment", "potatoes", "eggs", "pasta"} and not nouns & {"liquor", "liquid"}:
            return False
        if any(item.kind == "L" for item in segment):
            return False
        return words != ["smiling"] and words != ["spitting"] or dish
    if name == "tender":
        if any(item.kind in ("H", "P", "O") for item in segment) and not dish:
            return False
        if last < len(items) and items[last].kind == "D" and after == "":
            return False
        weak = all(word in _WEAK_TENDER or word in ("still", "very", "a", "bit", "quite", "pretty", "too") for word in words)
        if nouns & _SUBJECTS_NOT_FOOD and not dish:
            return False
        if "done" in words or "ready" in words or "perfect" in words or "cooked" in words:
            linked = before is not None and (before.kind == "D" or before.word in ("'s", "is", "are", "all", "and", "now", "looks", "feels", "look", "feel", ",", ":"))
            return dish and linked and not (after in ("the", "for", "to", "with", "a") or nouns & {"prep", "pans", "washing", "sheet"})
        if weak and value == "falling" and words == ["falling"]:
            return dish
        if weak and not dish and _anything_else(scene, segment_first, segment_last, first, last):
            return False
        if words[-1] in ("hard", "solid", "firm", "tight", "raw", "soft", "tough", "done") and after and after not in ("as", "and", "still", "now", "yet", "but", "in", "at", "on", "through", "inside", "though", "sorry", "when", "with", "to", "like", "enough", "after", "probe", "core", "liquor", "simmering", "blipping", "bubbling", "boiling", "plenty", "no", "barely", "gentle", "fork", "ticking"):
            return False
        if value == "giving" and words == ["giving"] and after in ("me", "us", "him", "her", "them", "a", "the", "out", "up", "it", "everyone", "guests", "off", "you"):
            return "bit" in [item.word for item in items[last:last + 2]]
        if value == "giving" and set(words) & {"there", "along", "way", "on"} and not dish and not _checked(scene, first):
            return False
        if before is not None and before.word in ("too", "work", "working", "it's") and "hard" in words:
            return False
        return True
    return True


def _checked(scene: Scene, at: int) -> bool:
    a, b = scene.sentence(at)
    words = set(scene.row.words(a, b))
    return bool(words & {"check", "checked", "looked", "poke", "poked", "fork", "meat", "giving", "tender", "simmer", "blipping", "liquid"})


def _anything_else(scene: Scene, a: int, b: int, first: int, last: int) -> bool:
    others = [item for number, item in enumerate(scene.items[a:b], start=a) if not first <= number < last and item.kind == ""]
    return any(item.word not in ("still", "it", "'s", "is", "at", "now", "and", "meat", "a", "bit", "very", "quite", "pretty", "all", "nice", "lovely", "they", "are", "the", "feels", "feel", "here", "sadly", "looking", "in", "middle", "pot", "them", "up", "fork", "says") for item in others)


def _subject(scene: Scene, at: int) -> str | None:
    """The dish spoken of at a place: the nearest named before it in the message, else one named behind it in the clause."""
    for number in range(at - 1, -1, -1):
        item = scene.items[number]
        if item.kind == "D" and not _is_liquid_word(scene, number):
            return str(item.value)
    _, end = scene.segment(at)
    for number in range(at, end):
        if scene.items[number].kind == "D" and not _is_liquid_word(scene, number):
            return str(scene.items[number].value)
    return None


_LIQUIDS = frozenset("stock broth gravy milk water".split())


def _is_liquid_word(scene: Scene, at: int) -> bool:
    item = scene.items[at]
    return str(item.value) in _LIQUIDS and str(item.value) not in scene.context.dishes


_POT = r"(?:<D>(?: <D>)?|it|they|meat|pot|pots|dish|everything|joint|all of it|all|that|both)"
_STAGES: tuple[tuple[str, str], ...] = (
    ("seared", r"(?:(?:all|well|nicely|now|just|meat|both|is|'s|are|been|fully|both sides|lovely and) )*(?:browned|seared|caramelised|caramelized|coloured up|coloured|charred)(?: (?:off|up|all over|all sides|well|nicely|and|both sides|on all sides|meat|it|<D>|in the pan|over flames|all|by fire|now|hard))*|got colour on (?:it|<D>|meat|them)|(?:searing|browning) (?:is |all |'s )?(?:done|finished|complete)|(?:done|finished) (?:searing|browning)|got a good (?:sear|crust) on(?: it| <D>)?|good (?:crust|colour) on (?:it|<D>|meat)"),
    ("assembled", r"(?:assembled|put together|all together|built|layered|made up|constructed|all made up|pot packed|pot 's packed|packed into pot|assembly done|all in pot|together in pot)(?: (?:in pot|in tin|and ready|now|all))*|(?:done|finished) assembling|assembling done"),
    ("aside", r"(?:set|put|left|kept|sat|sitting|standing|stood|parked|waiting|is|are|'s)(?: it| them| <D>| pot)?(?: (?:all|well|now))* (?:aside|to one side|off to side|to side)(?: (?:for now|off))*|aside(?= ?(?:$|[.,;!|]|till|until|for|while))|parked(?= ?(?:$|[.,;!|]|till|until|for|while|on))"),
    ("resting", r"resting(?! (?:at|place))(?: (?:under foil|<D>|it|them|meat|on board|in tin|off heat|now|covered|on side|in pan|out of oven))*|(?:left|put|set|out) to rest|having a rest|at rest|(?:on|under) foil(?: to rest)?|rested|(?:its|'s) resting|to rest under foil|off and resting"),
    ("served", r"(?:all |now |just |been |we have |have |food |lunch |dinner |mains? |plates? )*(?:served|dished up|plated|plated up|dished out|all dished up)(?: (?:up|it|<D>|everyone|out|all|now|to guests|guests|at <T>))*|plates(?: (?:'s|are|is|have|has|all|just|now))* (?:gone out|out|away|gone|up|down|on table|on tables)|food(?: (?:'s|is|has|all|now|just))* (?:gone out|out|on table|on tables|served|on plates|on the table)|everyone(?: (?:'s|is|has|are|now|been))* (?:eating|served|got food|fed|tucking in|been fed|got a plate)|they(?: 're| are) eating|we are eating|guests(?: (?:are|now|all))* (?:eating|served|fed|tucking in)|(?:<D>)(?: (?:'s|is|are|has|now|all|on|gone))* (?:on table|on tables|gone out to guests|on plates|gone to table|at table|plated)|on (?:the )?plates|mains(?: (?:are|have|all|gone))* out|sent out|taken to table|went out to guests|on tables now|lunch is (?:served|out|up)|carved and (?:served|out)"),
)


def stages(scene: Scene) -> None:
    """Browned, assembled, set aside, resting, served."""
    for stage, pattern in _STAGES:
        for found in scene.find(pattern):
            if not _stage_fits(scene, stage, found.first, found.last, found.match.group()):
                continue
            fields: dict[str, Any] = {"is": "stage", "stage": stage}
            inside = [item for item in scene.items[found.first:found.last] if item.kind == "D"]
            if inside:
                fields["dish"] = str(inside[0].value)
            scene.add(fields, found.first, found.last, f"stage {stage}")


def _stage_fits(scene: Scene, stage: str, first: int, last: int, text: str) -> bool:
    a, b = scene.segment(first)
    words = set(scene.row.words(a, b))
    dish = _subject(scene, first) is not None
    plain = text.split()
    if stage == "resting":
        if any(draft.kind == "stage" and draft.fields.get("stage") == "seared" and draft.last <= first and "pan" in words for draft in scene.drafts):
            return False
        if "foil" in plain and not (set(plain) & {"rest", "resting"}) and not dish:
            return False
        if words & {"dough", "legs", "feet", "arm", "her", "him", "hand", "peel"}:
            return False
        return True
    if stage == "served" and words & {"drinks", "tea", "coffee", "cake", "starter", "starters", "purpose", "bread", "salad", "wine", "water", "canapes"} and not dish:
        return False
    if stage == "served" and text in ("on plates", "on the plates", "sent out"):
        return dish
    if stage == "assembled":
        return (dish or bool(words & {"pot", "pots", "dish", "everything", "all"})) and not words & {"table", "tables", "fire", "tent", "chairs", "gazebo", "team", "everyone", "kindling", "marquee", "list"}
    if stage == "aside":
        return not words & {"time", "money", "chairs", "wood", "logs", "embers", "lid", "day", "ashes"} and (dish or bool(words & {"pot", "it", "meat", "dish", "them", "pots"}) or len(words) <= 4)
    if stage == "seared":
        if words & {"butter", "onions", "crust", "flour", "garlic", "bones"} and not dish:
            return False
        return not words & {"dome", "hand", "arm", "lawn", "grass", "fingers", "door", "sleeve", "beer"} or dish
    return True


_CHILL_WORDS = frozenset("chill chilled chilling cool cooled cooling cooler cold ice iced fridge fridges trays tray tubs side bench counter room rack racks shade chiller refrigerator containers worktop larder pantry tupperware".split())


def chills(scene: Scene) -> None:
    """Leftovers into the cold, with depth, litres and way."""
    if not scene.has_any(_CHILL_WORDS):
        return
    tray = r"(?:trays?|tubs?|containers?|tins?|dishes|dish|boxes|box|gastros?|pans?|tupperware|lots|batches|bowls?|pots?)"
    start_words = r"(?:in|into|on|over|onto|poured|spread|portioned|ladled|decanted|split|tipped|divided|transferred|cooling|cooled|chilling|left|set|put|sat|standing|sitting|to cool|outside)"
    ice = compiled(r".*(?:on|in|over|into|onto) (?:an? )?(?:ice|ice bath|iced water|ice water|ice slurry).*|.*ice bath.*|.*ice-bath.*|.*iced down.*|.*with ice packs.*")
    room = compiled(r".*(?:on side|on the side|on bench|on counter|at room temp|at room temperature|room temp|on worktop|on rack|on racks|in shade|on table|outside|in the yard|in larder|in pantry|on the bench).*")
    for first, last in scene.sentences:
        for a, b in _clauses(scene, first, last):
            if any(scene.moods[n] != "fact" for n in range(a, b) if scene.items[n].kind != "."):
                continue
            text = " ".join((f"{item.kind}{n}" if item.kind.isalpha() else item.word) for n, item in enumerate(scene.items[a:b], start=a)
                            if item.word not in ("the", "just") or item.kind != "")
            _chill(scene, a, b, text, tray, start_words, bool(ice.fullmatch(text)), bool(room.fullmatch(text)))


def _clauses(scene: Scene, first: int, last: int) -> list[tuple[int, int]]:
    """A chill can run over commas: "soup in trays, 4 cm deep, on ice". The clause is the sentence, cut at other acts."""
    cuts = [first]
    for at in range(first, last):
        if scene.items[at].kind == "." and scene.items[at].word == "," and at + 1 < last:
            follow = {item.word for item in scene.items[at + 1:scene.segment(at + 1)[1]] if item.kind == ""}
            kinds = {item.kind for item in scene.items[at + 1:scene.segment(at + 1)[1]]}
            ours = follow & {"ice", "deep", "trays", "tray", "tubs", "side", "cool", "fridge", "depth", "litres", "deep-ish", "lids", "chill", "thick", "shallow"} or "C" in kinds or ("L" in kinds and len(follow) < 3)
            if not ours:
                cuts.append(at + 1)
    return list(zip(cuts, [*cuts[1:], last], strict=True))


_LEFT = compiled(r"(?:leftovers?|rest of it|rest|what 's left|remains|remainder|spare|extra|all of it|everything|<L>|<D>|it|trays?|batch|left)")


def _chill(scene: Scene, a: int, b: int, text: str, tray: str, starts: str, ice: bool, room: bool) -> None:
    words = set(text.split())
    cm = next((n for n in range(a, b) if scene.items[n].kind == "C"), None)
    litres = next((n for n in range(a, b) if scene.items[n].kind == "L"), None)
    dish = next((n for n in range(a, b) if scene.items[n].kind == "D" and not _is_liquid_word(scene, n)), None)
    if dish is None:
        dish = next((n for n in range(a, b) if scene.items[n].kind == "D"), None)
    food = dish is not None or bool(words & {"leftovers", "leftover", "rest", "remainder", "left", "it", "everything", "trays", "remains", "tray", "tubs", "batch", "all"}) or litres is not None
    done = compiled(r".*(?:chilled|chill done|cooled right down|cold through|fully cooled|down to fridge temp|cooling done|chilling done|chill finished|finished (?:chilling|cooling)|stone cold|cooled down fully|cooled completely|chilled right down|chilled down|all chilled|properly cold).*").fullmatch(text)
    fridge = compiled(r".*(?:in|into|to|inside) (?:the )?(?:walk in )?(?:fridge|walk in|cold room|chiller|refrigerator|cooler|fridges).*").fullmatch(text)
    span_last = b if b > a and scene.items[b - 1].kind != "." else max(a + 1, b - 1)
    if any(scene.used[n] for n in range(a, b) if scene.items[n].kind != "." and scene.used[n] not in (None, "load", "stage aside", "pot out", "comment")) and not (ice or fridge or done):
        return
    fields: dict[str, Any] = {"is": "chill"}
    if dish is not None:
        fields["dish"] = str(scene.items[dish].value)
    if done and not words & {"out", "wine", "beer", "beers", "drinks", "water"}:
        fields["act"] = "done"
    elif fridge and (food or text.split()[0] in ("in", "into", "all", "straight", "now", "gone", "went")) and not words & {"from", "milk", "butter", "beers", "drinks", "cream", "thermometer", "space", "cheese", "salad", "says"} - ({"from"} if dish is not None else set()):
        fields["act"] = "fridge"
    elif (ice or compiled(rf".*(?:{starts}).*").fullmatch(text)) and (ice or room or words & {"chill", "chilling", "cool", "cooling", "trays", "tray", "tubs"} and (cm is not None or litres is not None or words & {"cool", "cooling", "chill", "chilling", "shallow", "trays"})) and food:
        if words & {"drinks", "beers", "water", "wine", "wrist", "hand", "burn", "finger", "thumb", "arm"} or (words & {"aside"}):
            return
        if room and not ice and not words & {"cool", "cooling", "chill", "chilling", "leftovers", "leftover", "left"}:
            return
        if not (ice or room) and not words & {"cool", "cooling", "chill", "chilling", "leftovers", "leftover", "left", "rest"} and cm is None:
            return
        fields["act"] = "start"
        if ice:
            fields["method"] = "ice"
        elif room and words & {"side", "bench", "counter", "room", "worktop", "rack", "racks", "shade", "table", "outside", "larder", "pantry", "yard"}:
            fields["method"] = "room"
    else:
        return
    if cm is not None and fields["act"] != "done":
        fields["depth_cm"] = scene.items[cm].value
    if litres is not None and fields["act"] != "done":
        fields["litres"] = scene.items[litres].value
    if fields["act"] == "start" and compiled(r".*(?:in|into) (?:the )?(?:fridge|blast chiller).*").fullmatch(text):
        fields["method"] = "fridge"
    stop = span_last
    if fields["act"] == "done":
        stop = next((n for n in range(a, b) if scene.items[n].kind == "."), span_last)
    elif fields["act"] == "fridge":
        at = next(n for n in range(a, b) if scene.items[n].word in ("fridge", "cooler", "chiller", "refrigerator", "fridges", "room", "in"))
        at = next((n for n in range(a, b) if scene.items[n].word in ("fridge", "cooler", "chiller", "refrigerator", "fridges", "room")), at)
        stop = at + 1
    for draft in [each for each in scene.drafts if each.first >= a and each.last <= b and each.rule in ("pot in", "stage aside", "load", "check")]:
        if draft.rule == "check" and fields["act"] == "start":
            continue
        scene.drafts.remove(draft)
    times = [n for n in range(a, stop) if scene.items[n].kind in ("T", "A")]
    draft = scene.add(fields, a, stop, "chilling")
    for n in times:
        draft.time = scene.items[n].value


_REHEAT_WORDS = frozenset("reheat reheated reheating heat heated heating hot warm warmed warming back".split())


def reheats(scene: Scene) -> None:
    """Heating what was cold."""
    if not scene.has_any(_REHEAT_WORDS):
        return
    for pattern, act in (
        (r"(?P<dish><D>)(?: (?:'s|is|are|now|all|been|was|fully))* (?:reheated|hot again|heated through|piping hot|hot through|reheated through|warmed through)(?: (?:through|now|fully|properly|to|all))*", "done"),
        (r"(?:reheated|heated through|hot again|reheat(?: 's| is)? (?:done|finished|complete)|reheating (?:done|finished))(?: (?P<dish><D>))?(?: (?:through|fully|now|up|properly))*", "done"),
        (r"(?P<dish><D>)(?: (?:'s|is|are|now|all|gone|went|going))* (?:back on|on|back in|in)(?: <O>| oven| stove| heat| hob| gas)?(?: ?[,-])?(?: (?:to|for|and|for a|it 's|now))* (?:reheat|reheating|heat up|warm through|heat through|warm up|hot up|warming through|heating up|heating through|come back up)(?: (?:now|up))*", "start"),
        (r"(?P<dish><D>)(?: (?:'s|is|are|now|all))* (?:reheating|being reheated|heating up|heating through|warming through|warming up|warming back up)", "start"),
        (r"(?:reheating|started reheating|begun reheating|reheat started|warming up|heating up|warming through) (?:now )?(?P<dish><D>)", "start"),
        (r"(?:started|begun) (?:to )?(?:reheat|reheating)(?: (?P<dish><D>))?", "start"),
        (r"(?:put|got|popped|stuck) (?P<dish><D>) (?:back )?(?:on|in)(?: (?:<O>|stove|hob|heat|gas))? to (?:reheat|heat up|warm through|heat through|warm up)", "start"),
        (r"(?:reheating|reheat started|reheat on)(?= ?(?:$|[.,;!|]|now))", "start"),
        (r"(?:it 's |pot 's |pot |trays? )?back on to (?:reheat|heat through|warm through|heat up)", "start"),
    ):
        for found in scene.find(pattern, fresh=False):
            overlapping = {scene.used[n] for n in range(found.first, found.last) if scene.used[n]}
            if overlapping - {"pot in", "check", "fire fed", "lid"}:
                continue
            for draft in [each for each in scene.drafts if each.first < found.last and found.first < each.last and each.rule in ("pot in", "check", "fire fed")]:
                scene.drafts.remove(draft)
            scene.add({"is": "reheat", "act": act, "dish": found.name("dish") if found.has("dish") else None},
                      found.first, found.last, "reheating")
