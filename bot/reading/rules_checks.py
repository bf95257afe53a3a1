"""How the food is coming on: tender, simmer, liquid."""

from __future__ import annotations

import re
from functools import cache

from bot.reading.items import FILLERS, Item
from bot.reading.lexicon import bag
from bot.reading.scene import Draft, Scene
from bot.reading.subjects import is_stuff, subject_of

_TENDER = {
    "falling": r"(?:falling apart|(?:falling|falls|fell|fallen|coming|comes)(?: (?:already|now|right|clean|easily))*"
    r" (?:off|from)(?: (?:the|its))? bones?|fallen apart|falling to bits|falling to pieces"
    r"|fell apart|fell off bones?|falls apart|falls off bones?|collapsing|collapsed|pulls apart"
    r"|pulling apart|pulled apart|shredding|shreds|shreds easily|dropping off bones?|dropped off bones?"
    r"|coming off bones?|comes off bones?|coming away from bones?|bones? (?:slides?|pulls?|comes?"
    r"|coming|slid|pulled|came|sliding|pulling|slips?|slipped)(?: right| straight| clean"
    r"| clear)? (?:out|away|clean)(?: clean)?|mush|mushy|gone to mush|overdone|falling|gone past tender"
    r"|melting|broken down completely|disintegrating|spoonable|cut it with a spoon|cut with a spoon)",
    "tough": r"(?:still |very |a bit |bit |pretty |quite |too )*(?:hard like (?:a )?(?:stone|rock|wood|bullet|brick)s?"
    r"|(?:hard|solid|tough|firm) as (?:a )?(?:nails?|bullets?|rocks?|stones?|gravel|bricks?|wood|concrete|marbles?)"
    r"|tough|firm|hard|chewy|rubbery|solid"
    r""
    r"|(?:tender|soft)(?: [?:-])? (?:no|nope|nah|not yet)(?= ?(?:$|[.,;!]))"
    r"|like (?:a )?boots?|like rubber|bounces? (?:right |straight )?back|like (?:shoe |old )?leather|like "
    r"(?:little )?(?:bullets|marbles|rocks|stones|pebbles"
    r"|gravel)|like "
    r"old boots|(?<! on )tight|resisting|raw|tough as(?: old)? boots"
    r"|hard as (?:nails|bullets|rocks?|stones?)|crunchy|al dente|undercooked)(?: as(?: old)?(?: boots?"
    r"| nails| bullets| leather| rock| a rock| stone))?|fork (?:bounces?|bounced|bouncing)(?: off"
    r"| back)?|fork (?:won't|doesn't|wouldn't|can't|didn't|will not) (?:go|get|slide|move)(?: in"
    r"| through| near)?|bounces? off fork|no give(?: at all| yet| in it)?|not giving(?: at all| yet)?"
    r"|(?:isn't|not|no|not at all|nowhere near|not even close to|far from) (?:yet |quite |at all "
    r"|anywhere near |even |remotely |near )*(?:tender|soft)(?: yet| at all)?|doesn't give(?: yet"
    r"| at all)?|(?:isn't|aren't) giving(?: yet| at all)?|not a hint of give|doesn't want to give"
    r"|fighting fork|long way off tender",
    "giving": r"(?:giving|soft ?ish|tender ?ish"
    r"|(?:just )?(?:start|begin|starting|beginning|started|begun|starts|begins|about) to "
    r"(?:(?:become|get|be|go|turn) (?:more )?(?:soft|tender)|give"
    r"|soften|yield|relax|loosen|go tender|get tender|come|feel tender|turn tender)|gives? a (?:bit"
    r"|little|touch)|giving a (?:bit|little|touch)|softening|getting (?:there|tender|softer|soft)"
    r"|loosening|yielding|starting giving|some give|bit of give|a little give|a bit of give"
    r"|coming along|(?:nearly|almost|just about|not far off|close to) (?:being )?(?:tender|soft)|nearly there"
    r"|almost there|not far off tender"
    r"|(?:fork|knife|skewer) (?:goes|going|went|gets|slides) in with (?:a )?(?:bit of |some |a little )?(?:push"
    r"|effort|resistance"
    r"|pressure|shove)|(?:fork|knife|skewer) (?:goes|going|went|gets) in (?:a bit|a little|a touch|part way"
    r"|partway|halfway|half way|some"
    r"|slightly|just|only just|now but)(?: but)?|half tender|on its way|coming on|relaxing|partly tender|fairly tender"
    r"|more tender|beginning to go|give in it|has some give|slight give)",
    "tender": r"(?:(?:soft|tender) as (?:you (?:like|want|please)|anything|owt|can be|you could want|they come"
    r"|a pillow)"
    r"|fork tender|fork-tender|tender|soft|done|cooked through|perfect|ready|butter soft"
    r"|soft as butter|like butter|beautifully soft|lovely and soft|fork (?:goes|slides|went|slid|going"
    r"|slips|slipped)(?: straight| right| clean| easily| easy)? (?:in|through)(?! (?:a|just|only|part|half"
    r"|slightly|some) ?)(?: easily| easy"
    r"| like butter| no bother)?|knife (?:goes|slides|went|slid|slips)(?: straight| right| clean"
    r"| easily)? (?:in|through)(?: easily| like butter)?|fork (?:twists|turns|spins)(?: right| clean)?(?: easily| "
    r"easy| round| freely)+|probe tender|goes in like butter|meltingly"
    r"|creamy|cooked|melt in mouth|skewer (?:goes|slides|went|slid)(?: straight| right)? (?:in"
    r"|through)(?! (?:with|a|just|only|part|half|slightly|some) ?))",
}


_SIMMER = {
    "none": r"(?:(?:no|not a|not <N>|zero|without a|not any|without any) (?:single )?(?:bubbles?|simmer|blips?|movement"
    r"|sign of (?:a )?(?:bubble|simmer)|simmering|bubbling|murmur|action)(?: at all| yet| in it"
    r"| to be seen)?|(?:isn't|aren't|not|hasn't|haven't|stopped|never|ain't|no longer|not even) (?:yet |quite |really "
    r"|started |even |actually )*(?:simmering|bubbling|blipping|simmer|ticking)(?: at all| yet)?"
    r"|dead still|completely still|flat calm|still as a pond|gone quiet|no action|stopped (?:simmering"
    r"|bubbling|blipping)|gone off simmer|off simmer|off boil|gone off boil"
    r"|(?:does not|doesn't|do not|don't|is not|isn't|not) (?:make|making|show|showing|give|giving)(?: any)? "
    r"bubbles?|not moving|off the simmer|nothing (?:'s |is )?(?:bubbling|simmering|moving|blipping|stirring)"
    r"(?: in there| in it| at all| yet)*"
    r"|off the boil|barely warm)",
    "hard": r"(?:boiling <D> hard"
    r"|simmer(?:ing)?(?: 's| is)? (?:a bit |way )?(?:too )?(?:hard|strong|fast|fierce)|boil(?:s|ed)? "
    "(?:hard|too hard|strong|strongly|fast|much|too much)|(?:rolling|hard|fast|furious|full"
    r"|proper|violent|mad|big|strong|vigorous|rapid"
    r"|galloping) (?:boil|boiling|simmer|rolling boil|bubble|bubbling)|boiling(?: (?:hard|away|like mad"
    r"|fast|furiously|its head off|over|madly|too hard|well|merrily|rapidly))*|boils?|(?:bubbling"
    r"|simmering|blipping) (?:hard|away hard|like mad|furiously|fast|too hard|madly|too fast|strongly"
    r"|wildly|like crazy|rapidly|violently|vigorously|over)|going like (?:clappers|mad|a train)"
    r"|at (?:a )?boil|on boil|on the boil|at a rolling boil|too (?:hard|fast) a simmer|galloping|(?:big|large"
    r"|huge) bubbles|bubbles big"
    r"|spitting|bubbling over|raging|at (?:a )?gallop|come to boil|came to boil|hammering)",
    "gentle": r"(?:(?:barely|hardly|only|just|gently|slowly|softly|lazily|quietly|still|nicely|happily|steadily"
    r"|lightly|only just|very gently) (?:a )?(?:simmering|simmer|bubbling|blipping|blip|ticking"
    r"|ticking over|bubble|murmuring|trembling)|(?:simmering|bubbling|blipping|ticking|murmuring"
    r"|trembling|plopping|burbling|gurgling|chugging|puttering|shimmering|quivering)(?: (?:away|along"
    r"|gently|nicely|softly|slowly|quietly|over|lazily|happily|steadily|lightly|beautifully|well|just"
    r"|barely|still|now))*|(?:gentle|slow|soft|lazy|bare|barest|light|quiet|low|nice|steady|good|tiny"
    r"|faint|slight|lovely|easy) (?:simmer|bubble|bubbles|bubbling|blip|blips|tick|blipping|simmering"
    r"|tremble|murmur)|barely a (?:blip|bubble|simmer|murmur)|(?:a|one|odd|few|occasional|the odd"
    r"|an odd|couple of|a few|single) (?:blip|blips|bubble|bubbles|plop)(?: now and then| every (?:few"
    r"|couple of|so) [a-z]+| here and there)?|at (?:a )?simmer|on (?:a )?simmer|a simmer|(?:small|little|few "
    r"small) bubbles|(?:barely|hardly|just) moving"
    r"|simmer(?: 's)?(?: is)? (?:gentle|slow|fine|good|nice)|blip blip|just ticking"
    r"|come to (?:a )?simmer|came to (?:a )?simmer|just on simmer|surface shivering|shivering|smiling"
    r"|simmers|simmer|gentle(?= ?(?:$|[.,;!|]|and )))",
}


_LIQUID = {
    "low": r"(?:<D> low(?=(?: ,)? (?:(?:and|but) )?still "
    r"|(?: ?[,;])?(?: (?:so|and|i|we|just))* (?:topped|added|poured) )"
    r"|<D> (?:was|looked|'s|is|looks|looking|getting)(?: (?:a|bit|rather|very|quite|getting|running|pretty))* low"
    r"(?! (?:on|in|down) )"
    r"|(?:no|not) (?:more|much more) (?:<STUFF>|liquid|liquor|stock|water|broth)(?: left| in there| in it)*"
    r"|(?:<STUFF>|liquid|liquor|stock|water|level|broth|gravy|juice|juices|sauce|pot|it)(?: (?:in|of|on) (?:<D>|pot"
    r"|it|there))?"
    r"(?: 's| is| now| are| was| were| seems| seemed"
    r"| looks| looking| look| looked| getting| a| bit| rather| has| gone| very| going| running| too"
    r"| down| well| went| now| quite| pretty| bone)* (?:low|down|short|dry|dropped|reduced|gone"
    r"|nearly gone|almost gone|right down|drying out|drying up|shallow)|(?:getting|running|gone|looking"
    r"|bit|a bit|rather|very|low|going|too|quite|pretty|ran|nearly|almost|bone|boiled) (?:on |a bit "
    r"|bit |rather |very |pretty |quite )?(?:low|dry|short)(?: on| of| in)?(?: (?:<STUFF>|liquid|liquor|stock"
    r"|water|broth|there|pot|juice|it))*|low (?:on|in|liquid|liquor|stock|level)(?: (?:liquid|liquor"
    r"|stock|water|there|pot|juice))*|not much (?:<STUFF>|liquid|liquor|stock|water|left in it|juice"
    r"|broth)(?: left| in there| in it)*|hardly any (?:<STUFF>|liquid|liquor|stock|water|juice)(?: left"
    r"| in there)*|little (?:liquid|liquor) left|wants? (?:topping up|a top up|top up|more liquid"
    r"|more stock|liquid)|needs? (?:topping up|a top up|top up|more liquid|more stock|liquid|more water"
    r"|a splash|water)|drying out|catching|nearly dry|almost dry|low again|short of liquid|short of liquor"
    r"|short on liquid|lost (?:a lot|lots|loads|most|half|too much) of (?:<STUFF>|liquid|liquor|water)"
    r"|only (?:<C>|(?:a|an|<N>) (?:inch|inches|bit|drop|finger|cup|dribble|puddle)) of (?:<STUFF>|liquid|liquor|water)"
    r"(?: left| in there| in it)*|just (?:covering|covers) (?:bottom|base))",
    "ok": r"(?:(?:plenty|lots|enough|loads|tons|still plenty|still lots|good amount|still enough|ample|bags"
    r"|a good bit)(?: of| left| in there)*(?: (?:<STUFF>|liquid|liquor|stock|water|broth|juice|gravy|sauce"
    r"|juices))(?: left| in there| still| in it| yet| in)*|plenty (?:in there|in it|left|in pot|in)"
    r"|(?:<STUFF>|liquid|liquor|stock|water|level|broth|liquids|juices|levels)(?: (?:in|of|on|for) (?:<D>|pot|it))?"
    r"(?: 's| is| are| was| were| looks| looking"
    r"| level| still| all| seems| now| are)* (?:ok|okay|fine|good|plenty|alright|all right|healthy|high"
    r"|spot on|well up|up(?! on)|enough|where it was|covering|halfway|half way up|holding)"
    r"|good level of (?:<STUFF>|liquid|liquor|stock)|well covered|covered in liquid|still covered|swimming"
    r"|liquid level fine|halfway up meat|half way up meat|enough (?:<STUFF>|liquid|liquor|stock)|good (?:liquid"
    r"|liquor))",
}


_GROUPS: tuple[tuple[str, dict[str, str]], ...] = (("liquid", _LIQUID), ("simmer", _SIMMER), ("tender", _TENDER))


_WEAK_TENDER = bag("done ready perfect cooked hard solid raw firm tight soft falling creamy soft getting there")


_SPOTS = bag("left right back front side edge edges corner corners top tops crust crusts")
_SUBJECTS_NOT_FOOD = bag(
    "wood dough butter bread ice cream log logs bread brick bricks water ground crowd work day job chair "
    "rain wind floor dome oven fire door barrel air probe lid ash ashes embers chairs tables students "
    "class gate kettle tea lunch table washing"
)


_SHUT_WITH = bag("lid lids door foil string wrapped tied sealed clamped covered shut")


def _shut_tight(before: list[Item]) -> bool:
    """ "beans in, lid on tight": what is tight is what was named last, and that is no food."""
    last = next((each for each in reversed(before) if each.kind == "D" or each.word in _SHUT_WITH), None)
    return last is not None and last.kind != "D"


_LINKS = bag("'s is are all and now looks feels look feel just")
_LOOKS = bag(
    "colour color crust top skin bark glaze smell look taste seasoning bottom edges base sauce shape rise crumb"
)


@cache
def _named(pattern: str) -> str:
    return pattern.replace("<STUFF>", r"d\d+").replace("<D>", r"[Dd]\d+")


_DISH_TOKEN = re.compile(r"\bD(\d+)\b")


def _stuff_marked(scene: Scene) -> str:
    """The canon with a small letter for stock and the like: one pattern for all messages, compiled once."""
    return _DISH_TOKEN.sub(lambda each: f"d{each[1]}" if is_stuff(scene, int(each[1])) else each[0], scene.row.canon)


def checks(scene: Scene) -> None:
    """One check for every dish that a message speaks of."""
    found: dict[str | None, Draft] = {}
    hits: list[tuple[int, int, str, str]] = []
    # Stock and gravy are names of dishes too; here the ones of this message that are none stand beside "liquor".
    canon = _stuff_marked(scene)
    for name, group in _GROUPS:
        for value, pattern in group.items():
            for each in scene.find(_named(pattern), mood=None, canon=canon):
                if not _allowed(scene, each.first, each.last):
                    continue
                if not _fits(scene, name, value, each.first, each.last, each.match.group()):
                    continue
                if any(a < each.last and each.first < b for a, b, _, _ in hits):
                    continue
                hits.append((each.first, each.last, name, value))
    for first, last, name, value in sorted(hits):
        dish = subject_of(scene, first) or _named_behind(scene, first, hits, (name, value))
        draft = found.get(dish)
        if draft is not None and name not in draft.fields:
            draft.fields[name] = value
            scene.use(first, last, "check")
            draft.first, draft.last = min(draft.first, first), max(draft.last, last)
        elif draft is None:
            found[dish] = scene.add({"is": "check", name: value, "dish": dish}, first, last, "check")
        else:
            # "giving now but not there", "fork-tender, nearly falling apart": what comes first is what was found, but
            # "done" only says so by and by: "lamb done, falling apart".
            earlier = scene.items[draft.first : draft.last]
            if name == "tender" and any(item.word in ("done", "ready", "cooked") for item in earlier):
                draft.fields[name] = value
            scene.use(first, last, "check")
    for draft in found.values():
        draft.no_carry = draft.fields.get("dish") is not None


def _named_behind(
    scene: Scene, first: int, hits: list[tuple[int, int, str, str]], said: tuple[str, str]
) -> str | None:
    """ "fork slides right in, rabbit is tender": said once with no name and once more with it, which is one check."""
    _, end = scene.sentence(first)
    again = (at for at, _, name, value in sorted(hits) if first < at < end and (name, value) == said)
    return next((subject_of(scene, at) for at in again), None)


def _allowed(scene: Scene, first: int, last: int) -> bool:
    moods = set(scene.moods[first:last])
    if moods <= {"fact"}:
        return True
    if moods & {"question", "what_if"}:
        return False
    # The phrase itself holds the "no" that silenced the clause: "no bubbles", "fork won't go in".
    if scene.moods[first] == "fact":
        return True
    sentence, _ = scene.sentence(first)
    began = first == sentence or scene.moods[first - 1] == "fact"
    return began and scene.items[first].word in _OWN_NO


_OWN_NO = bag(
    "no not isn't aren't won't hasn't haven't fork without zero nowhere doesn't never far nearly almost wants "
    "needs want need "
    "about hardly little stopped"
)


_YARD = bag("degrees out outside here yard dry wet rain raining wind windy sky sunny sun cold frost frosty mist misty")


def _looked_at(scene: Scene, at: int) -> bool:
    words = set(scene.row.words(*scene.sentence(at)))
    looked = bag("tough tender giving firm hard soft liquor liquid low")
    return subject_of(scene, at) is not None and bool(words & looked)


def _fits(scene: Scene, name: str, value: str, first: int, last: int, text: str) -> bool:
    items = scene.items
    before = items[first - 1] if first else None
    words = text.split()
    segment_first, segment_last = scene.segment(first)
    segment = items[segment_first:segment_last]
    nouns = {item.word for item in segment if item.kind == ""}
    dish = subject_of(scene, first) is not None
    behind = next((item for item in items[last:] if item.word not in FILLERS), None)
    after = behind.word if behind is not None and behind.kind == "" else ""
    worked = [draft for draft in scene.drafts if draft.fields.get("act") in ("moved", "turned") and draft.last <= first]
    if text == "done" and first == segment_first and worked:
        return False  # "beans to the dome, ribs to the barrel, done": the work is
    if text == "gentle":
        # "lamb tough gentle": of the simmer, beside another word on the same pot.
        looked = _looked_at(scene, first)
        return looked and not nouns & bag("heat fire warmth flame breeze wind hand hands touch please")
    if text.endswith("still") and not dish and _YARD & set(scene.row.words(*scene.sentence(first))):
        return False  # "2 degrees out here, dry and dead still"
    if name == "liquid":
        if not dish and nouns & bag("windy outside yard calm breezy sunny raining weather"):
            return False  # "bone dry and windy out here"
        if value == "low" and words[0] in ("pot", "it") and words[-1] not in ("dry", "low", "reduced"):
            return False
        if "on" in words and after in bag("wood logs splits ice salt flour coffee sleep chairs time kindling milk gas"):
            return False
        if words == ["catching"] and any(item.kind == "P" or item.word in _SPOTS for item in segment):
            return False  # "back left is catching": a corner of the oven
        if words[-1] == "short" and not dish:
            return False
        if (words[0] in ("needs", "need", "wants", "want") and not dish) or after in ("wood", "log", "fire", "air"):
            return False
        if (
            value == "low"
            and any(item.kind in ("P", "O", "H", "N") for item in segment)
            and "low" in words
            and not (nouns & {"liquid", "liquor", "stock"})
        ):
            return False
        return not (
            nouns & bag("fire embers wood battery morale energy phone sun kettle tank gas van fuel")
            and not nouns & {"liquid", "liquor", "stock"}
        )
    if name == "simmer":
        if words == ["boil"] and first - segment_first <= 1 and (before is None or before.word in _BIDDING):
            return False  # "boil the beans hard 10 min first" bids somebody do it
        if (words[0] in ("boiling", "hot") and after in bag("water stock liquid liquor kettle cider milk")) or (
            last < len(items) and items[last].kind == "D" and words[-1] in ("boiling", "boil")
        ):
            return False
        beside = segment[max(0, first - segment_first - 4) : last - segment_first + 3]
        near = {item.word for item in beside}
        if near & bag("kettle water urn tea coffee resentment potatoes eggs pasta i am") and not nouns & {
            "liquor",
            "liquid",
        }:
            return False
        if any(item.kind == "L" for item in beside):
            return False  # "a litre of boiling stock"
        return (words != ["smiling"] and words != ["spitting"]) or dish
    if name == "tender":
        if any(item.kind in ("H", "P", "O") for item in segment) and not dish and not nouns & bag("core liquor meat"):
            return False
        told_first = before is not None and before.kind == "D"  # "beans soft pork tough"
        if last < len(items) and items[last].kind == "D" and after == "" and not told_first:
            return False
        weak = all(word in _WEAK_TENDER or word in bag("still very a bit quite pretty too") for word in words)
        if nouns & _SUBJECTS_NOT_FOOD and not dish:
            return False
        if words[-1] == "tight" and _shut_tight(items[segment_first:first]):
            return False
        if words == ["hard"] and nouns & bag("boil boiling boiled"):
            return False
        if words[-1] in ("done", "cooked") and nouns & bag("outside surface skin edges edge rim crust outer"):
            return False  # "only the outside is done"
        if "done" in words and nouns & bag("chilled cooled cold ice fridge served washing chill chilling"):
            return False
        if "done" in words or "ready" in words or "perfect" in words or "cooked" in words:
            linked = before is not None and (
                before.kind == "D"
                or before.word in ("'s", "is", "are", "all", "and", "now", "looks", "feels", "look", "feel", ",", ":")
            )
            at = first - 1
            while at > segment_first and items[at].word in _LINKS:
                at -= 1
            other = at >= segment_first and items[at].kind == "" and (items[at].word in _LOOKS or _job(items, at))
            return (
                dish
                and linked
                and not other
                and not (after in bag("the for to with a") or nouns & {"prep", "pans", "washing", "sheet"})
            )
        if weak and value == "falling" and words == ["falling"]:
            return dish
        if weak and not dish and _anything_else(scene, segment_first, segment_last, first, last):
            return False
        if (
            (words[-1] in bag("hard solid firm tight raw soft tough done") or (words == ["tender"] and not dish))
            and after
            and after
            not in bag(
                "also too well as and still now already yet but in at on through inside though sorry when with to like "
                "so enough after probe core liquor simmering blipping bubbling boiling plenty no barely gentle fork "
                "ticking thanks cheers chef ta all"
            )
        ):
            return False
        if (
            value == "giving"
            and words == ["giving"]
            and after in bag("me us him her them a the out up it everyone guests off you")
        ):
            return bool(bag("bit little touch tad wee") & {item.word for item in items[last : last + 2]})
        probed = nouns & bag("core liquor middle inside centre probe fork meat")
        if value == "giving" and words == ["giving"] and not dish and not probed and _anything_else(
                scene, segment_first, segment_last, first, last):
            return False  # "this apron is giving medieval"
        if (
            value == "giving"
            and set(words) & {"there", "along", "way", "on"}
            and not dish
            and not _checked(scene, first)
        ):
            return False
        return not (before is not None and before.word in ("too", "work", "working", "it's") and "hard" in words)
    return True


def _checked(scene: Scene, at: int) -> bool:
    a, b = scene.sentence(at)
    words = set(scene.row.words(a, b))
    return bool(words & bag("check checked looked poke poked fork meat giving tender simmer blipping liquid"))


_BIDDING = bag("please pls then and so ok just now you")


def _job(items: list[Item], at: int) -> bool:
    """ "cabbage is reheated, and the ash bin is done": a thing of its own, told after an "and", and no food."""
    if items[at].word in bag("meat core middle inside centre joint"):
        return False
    article = next((n for n in (at - 1, at - 2) if n > 0 and items[n].word in ("the", "our", "my")), None)
    return article is not None and (items[article - 1].kind == "." or items[article - 1].word in ("and", "but", "also"))


def _anything_else(scene: Scene, a: int, b: int, first: int, last: int) -> bool:
    others = [
        item for number, item in enumerate(scene.items[a:b], start=a) if not first <= number < last and item.kind == ""
    ]
    return any(
        item.word
        not in bag(
            "still it 's is at now and meat a bit very quite pretty all nice lovely they are the feels feel "
            "here sadly looking in middle pot them up fork says"
        )
        for item in others
    )
