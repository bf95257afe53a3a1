"""What went wrong: somebody is hurt, or something burns that should not."""

from __future__ import annotations

from datetime import timedelta

from bot.reading.lexicon import bag
from bot.reading.mended import people_of
from bot.reading.scene import Found, Scene, clean

_BODY = (
    r"(?:hand|hands|wrist|wrists|arm|arms|finger|fingers|thumb|thumbs|leg|legs|foot|feet|toe|toes|knee|face"
    r"|head|eye|eyes|eyebrows?|hair|fringe|ankle|elbow|shoulder|back|forearm|palm|knuckles?|lip|tongue"
    r"|cheek|ear|chin|nose|neck|knees|shin|himself|herself|themselves|myself|itself|D\d+)"
)
_HURT = (
    r"(?:burnt|burned|cut|scalded|singed|hurt|nicked|sliced|scorched|bashed|banged|hit|knocked|bumped"
    r"|twisted|sprained|grazed|stabbed|crushed|trapped|blistered|gashed|scraped|broke|bruised|pinched"
    r"|jammed|caught|split open|skinned)"
)
_WHOSE = r"(?:my|her|his|their|its|the|a|own|left|right|our|both|little|index|bare)"


_HURT_WORDS = bag(
    "burnt burned cut scalded singed hurt nicked sliced scorched bashed banged hit knocked bumped twisted "
    "sprained grazed stabbed crushed trapped blistered gashed scraped broke bruised pinched jammed caught "
    "split skinned bleeding blistering swollen slipped tripped fell fallen fainted passed collapsed keeled "
    "choking choked gone went stung sick threw thrown dizzy got having allergic had bitten nosebleed "
    "splashed spilt spilled dropped tipped poured knocked scorched landed jumped flew eye eyes face throat lungs set "
    "touched grabbed leant leaned brushed "
    "fire alight gas smoke alarm ambulance aid burn called finger fingers thumb hand palm wrist arm"
)


def incidents(scene: Scene) -> None:
    """Somebody is hurt, or something went badly wrong."""
    if not scene.has_any(_HURT_WORDS):
        return
    for pattern in (
        rf"{_HURT}(?: {_WHOSE})+ {_BODY}",
        rf"{_HURT} (?:(?:<N>|some|several|both|two|three) )?{_BODY}",
        rf"{_HURT} (?:on|in|at)(?: {_WHOSE})* (?:hands?|arms?|wrists?|fingers?|thumbs?|foot|feet|face|eyes?|forearm"
        rf"|palm|knee)",
        r"(?:hand|finger|thumb|palm|wrist|arm|fingers)(?: (?:'s|is|are|gone|went|all|looks|bit|a))* (?:red|sore"
        r"|stinging)(?= ?(?:$|[.,;!|]|and ))",
        rf"{_BODY}(?: (?:'s|is|got|was|been|badly|a|bit))* (?:burnt|burned|scalded|cut|bleeding"
        rf"|blistered|blistering|singed|swollen)",
        r"(?:has|have|had|got|has got|have got|gets)(?: (?:some|a|bit|of|lot|hot|an|ash|smoke|dust))* (?:<W> )?(?:in"
        r"|into|on)"
        r" (?:his|her|my|their|your)(?: (?:left|right|own))? (?:eyes?|face|throat|lungs|hair|ear|mouth)",
        r"(?:ember|embers|ash|smoke|sparks?|fat|splinter|oil|dust|grit|steam)(?: (?:is|went|got|gone))? (?:in|into)"
        r" (?:my|his|her|their)(?: (?:left|right|own))? (?:eyes?|face|throat|lungs|hair|ear|mouth)",
        r"(?:slipped|tripped|fell|fallen|fainted|passed out|collapsed|keeled over|choking|choked"
        r"|gone over|went flying|been stung|got stung|stung by|been sick|threw up|thrown up|dizzy"
        r"|got a (?:burn|cut|scald|splinter|blister|nosebleed|headache from (?:the )?smoke)"
        r"|having a reaction|allergic reaction|had a fall|had a reaction|bitten by|nosebleed)(?: (?:on"
        r"|over|off|down|by|in|near|from|at|into|and|with)(?: (?:<DW>|<O>|<P>))*?)?(?= ?(?:$|[.,;!|]"
        r"|and |but |at <T>|<T>))",
        r"(?:splashed|spilt|spilled|dropped|tipped|poured|knocked)(?: (?:<W>|<D>)){1,4} (?:on|over|onto"
        r"|down)(?: (?:my|his|her"
        r"|their|a guest's|own|left|right|bare))+ (?:hands?|arms?|wrists?|legs?|foot|feet|face|lap|chest|neck"
        r"|thighs?|shins?"
        r"|knees?|back|D\d+)",
        r"(?:touched|grabbed|leant on|leaned on|brushed against) hot (?:door|oven|<O>|pan|tin|tray|lid|bricks?|metal"
        r"|flue|chimney|grate|pot)",
        r"(?:<D>|child|kid|kids|pupils?|students?|guests|toddler|guest|boy|girl|little one|lad)(?: (?:has|just|'s))*"
        r" (?:touched|grabbed|leant on) (?:door|oven|<O>|pan|tin|tray|lid|bricks?|flue|chimney|grate|pot)",
        r"(?:sparks?|ember|embers|hot coal|fat|oil|flames?)(?: has| have| just)? (?:burnt|burned|singed|scorched"
        r"|caught|set fire to|set light to|jumped on"
        r"|jumped onto|landed on|hit|flew into|got in|went in) (?:<W> ?){1,3}",
        r"(?:tea towel|towel|apron|sleeve|tablecloth|grass|thatch|fence|shed|bin|gazebo|tent|roof"
        r"|oven glove|glove|hair)(?: (?:'s|is|was|has|just))* (?:caught fire|on fire|alight"
        r"|caught light|caught)",
        r"(?:gas leak|smoke inhalation|co alarm|carbon monoxide alarm|monoxide alarm"
        r"|ambulance (?:called|coming|here)|first aid (?:given|needed)|called (?:an )?ambulance"
        r"|small burn|minor burn|bad burn|burn on (?:<W> ?){1,3})",
    ):
        for found in scene.find(pattern, mood=None, fresh=False):
            if any(mood in ("question", "what_if") for mood in scene.moods[found.first : found.last]):
                continue
            if scene.moods[found.first] != "fact":
                continue
            if {"nearly", "almost"} & set(scene.row.words(max(0, found.first - 2), found.first)):
                continue
            if not _somebody(scene, found):
                continue
            first, last = _clause(scene, found)
            if any(draft.rule == "incident" and draft.first < last and first < draft.last for draft in scene.drafts):
                continue
            for draft in [each for each in scene.drafts if each.first >= first and each.last <= last]:
                scene.drafts.remove(draft)
            scene.add({"is": "incident", "what": clean(scene.row.text(first, last))}, first, last, "incident")


# What is told of a hurt person for so long after it is about that (judgement).
CARED_FOR = timedelta(hours=1)
_CARE = bag(
    "plaster plasters bandage bandaged dressing film clingfilm aloe blister blisters swelling swollen bleeding stopped "
    "aider aid doctor nurse hospital ambulance clinic pharmacy 111 999 911 000 wound hurts painkiller paracetamol"
)
_COOLING = bag("water tap hose cold cool running")


def cared_for(scene: Scene) -> None:
    """After an incident: "under cold water 20 min, Idris watching her", "no blister, cling film on"."""
    if not any(fact.is_ == "incident" and scene.context.now - said.at <= CARED_FOR
               for said in scene.context.last for fact in said.heard.facts):
        return
    if any(scene.used) or any(item.kind in ("O", "D", "L", "H") for item in scene.items):
        return
    words = {item.word for item in scene.items if item.kind == ""}
    if not words & _CARE and len(words & _COOLING) < 2:
        return
    if any(mood not in ("fact", "plan") for mood in scene.moods):
        return
    if _bids_a_person(scene):
        return
    what = clean(scene.row.text(0, len(scene.items))).strip(" .")
    scene.add({"is": "incident", "what": what, "follow_up": True}, 0, len(scene.items), "care of the hurt")


def _bids_a_person(scene: Scene) -> bool:
    """ "under the cold tap for twenty minutes, Bea": what she is to do, and not what was done."""
    items = [item for item in scene.items if not (item.kind == "." and item.word in ".!")]
    people = people_of(scene)
    named = len(items) > MOST_NAMED and (
        (items[-1].word in people and items[-2].word == ",") or (items[0].word in people and items[1].word == ","))
    return named and not {item.word for item in items} & bag("is 's was has had been done did are now already")


MOST_NAMED = 2
_ASH = bag("ash ashes embers coals cinders charcoal")
# Where ash may be told to be: whether that is wrong is decided by the food and fire rules (skills/safety/cautions.py).
_PLACES = bag(
    "tub plastic cardboard wooden paper bag bags sack shed woodshed garage indoors kitchen barn deck "
    "decking porch boot van car compost wheelie skip box carton crate inside dustbin marquee tent gazebo "
    "yurt tipi cabin hut greenhouse polytunnel conservatory classroom hall caravan trailer basket straw "
    "hay leaves sawdust cupboard store hallway dustpan hedge fence woodpile rubbish recycling bracken "
    "heather pallet pallets trug wall walls house building tree trees bales "
)
_DEAD = bag("empty cold dead yesterday yesterday's drowned doused")
_SHUT = bag("shut closed down blocked drawn")
_AIR_WAYS = bag(
    "doors windows window shutters flaps sides fan extraction extractor vents vent skylight"
)
_LIVE = bag("hot glowing live burning warm red lit smouldering smoking")
_ROOMS = bag("barn room tent marquee gazebo hall indoors shed garage fan extraction extractor vent vents windows")


def where_fire_is_wrong(scene: Scene) -> None:
    """Ash put where it burns or gives off gas, and a place shut up: told in passing, kept as a note."""
    if not scene.has_any(_ASH | _SHUT):
        return
    for a, b in scene.sentences:
        _bin_with_its_lid(scene, a, b)
        told = _told_of_ash(scene, a, b)
        words = {word for n in told if scene.items[n].kind in ("", "D", "O") for word in scene.items[n].words}
        burns = words & (_ASH - {"charcoal"}) or words & _LIVE      # bagged charcoal is fuel
        fuel = words & _WOOD and words & _ASH == {"ash"} and not words & _LIVE
        placed = words & _ASH and words & _PLACES and not words & _DEAD and not _of_the_bin(scene, told)
        ash = burns and placed and not fuel
        shut = words & _SHUT and words & _AIR_WAYS and words & _ROOMS and "open" not in words
        if not (ash or shut):
            continue
        telling = (_ASH | _PLACES) if ash else (_SHUT | _AIR_WAYS)
        at = [n for n in told if set(scene.items[n].words) & telling]
        first, last = max(told[0], scene.segment(at[0])[0]), scene.segment(at[-1])[1]
        inside = [n for n in range(first, last) if scene.used[n]]
        if any((scene.used[n] or "").startswith(("note", "ash in")) for n in at):
            continue
        if any(scene.used[n] for n in at) and not _in_one_clause(scene, at):
            continue            # "embers raked to the side, box of logs by the door"
        scene.add({"is": "note", "text": clean(scene.row.text(first, last)).strip(" .")}, first, last,
                  "fire in the wrong place", keep=bool(inside))


_WOOD = bag("logs log splits split wood kindling timber seasoned stacked barrow delivery faggots")
_BINS = bag("tub bin can bucket pan tin drum box dustbin")
_MAYBE = bag("if should could would will gonna going don't dont not never no shall may might can't cannot won't ?")


def _in_one_clause(scene: Scene, at: list[int]) -> bool:
    """Whether ash and a place are told of without a comma between them."""
    ashes = {scene.segment(n) for n in at if set(scene.items[n].words) & _ASH}
    return any(set(scene.items[n].words) & _PLACES and scene.segment(n) in ashes for n in at)


def _told_of_ash(scene: Scene, a: int, b: int) -> list[int]:
    """The items that tell; also what follows from something that was not: "couldn't find the can, so it's in a box"."""
    told = [n for n in range(a, b) if scene.moods[n] == "fact"]
    so = next((n for n in range(b - 1, a, -1) if scene.items[n].word in ("so", "but")), None)
    if told or so is None or _MAYBE & {item.word for item in scene.items[so:b]}:
        return told
    return list(range(so + 1, b))


def _of_the_bin(scene: Scene, told: list[int]) -> bool:
    """ "the ash bin is by the shed": where a bin stands, and not that there is anything in it."""
    ashes = [n for n in told if scene.items[n].word in _ASH]
    return len(ashes) == 1 and scene.row.words(ashes[0] + 1, ashes[0] + 2)[:1] != () and (
        scene.items[ashes[0] + 1].word in _BINS and scene.row.words(ashes[0] + 2, ashes[0] + 3) in (("is",), ("'s",)))


def _bin_with_its_lid(scene: Scene, a: int, b: int) -> None:
    """ "embers in the metal bin, lid on": the lid of the bin and of no pot."""
    words = {item.word for item in scene.items[a:b]}
    if not words & _ASH or not words & _BINS:
        return
    lids = [draft for draft in scene.drafts if draft.fields.get("act") in ("lid_on", "lid_off") and a <= draft.first < b
            and "dish" not in draft.fields]
    if not lids or any(item.kind == "D" for item in scene.items[a:b]):
        return
    scene.drafts[:] = [draft for draft in scene.drafts if draft not in lids]
    if not any(draft for draft in scene.drafts if a <= draft.first < b):
        scene.add({"is": "note", "text": clean(scene.row.text(a, b)).strip(" .")}, a, b, "ash in its bin")
    else:
        scene.use(a, b, "ash in its bin")


def _somebody(scene: Scene, found: Found) -> bool:
    """The hurt one is a person: not the bread that burnt, the embers that fell or the price that was cut."""
    words = found.match.group().split()
    a, b = scene.segment(found.first)
    around = scene.row.words(a, b)
    if words[0] in bag("slipped fell fallen tripped collapsed split gone hit choked stung dizzy") or words[0] in (
        "caught",
        "broke",
        "jammed",
        "trapped",
    ):
        before = scene.items[a : found.first]
        people = {part.lower() for name in scene.context.people for part in name.split()}
        named = [item for item in before if item.kind == ""]
        someone = any(
            item.word in people
            or item.word in _PERSONS
            or (
                item.kind == ""
                and scene.message_of(item)[:1].isupper()
                and item.word not in bag("the it fork knife bone oven floor door air probe log temp")
            )
            for item in named
        )
        if words[0] in bag("caught broke jammed trapped hit split"):
            return someone or bool(set(words) & {"my", "her", "his", "their"})
        things = {
            "temp",
            "floor",
            "air",
            "oven",
            "probe",
            "door",
            "log",
            "logs",
            "fork",
            "bone",
            "time",
            "timing",
            "schedule",
            "it",
            "meat",
            "class",
            "rain",
            "fire",
            "wind",
            "dome",
            "stew",
            "cake",
            "number",
            "ash",
            "ember",
            "lid",
            "leaf",
            "snow",
            "price",
            "tree",
            "wood",
            "stack",
            "bread",
            "soufflé",
            "roof",
        }
        return (
            (someone or not named)
            and not {word for item in before for word in item.words} & things
            and not any(item.kind in ("D", "O", "P") for item in before)
        )
    owned = set(words) & {"my", "her", "his", "their"}
    if words[0] in ("cut", "split") and not owned and set(around) & {"bread", "onions", "cake", "logs", "wood"}:
        return False
    if words[0][0] == "D" and words[0][1:].isdigit():
        whose = scene.items[found.first - 1].word if found.first else ""
        return whose in bag("my her his their left right")
    if words[-1][0] == "D" and words[-1][1:].isdigit():
        return (
            scene.item(words[-1]).words[0] in _PARTS_OF_BOTH
            and len(words) > 2
            and bool(set(words) & {"my", "her", "his", "their"})
        )
    return True


# Cuts of meat that people have too: "burnt his knuckles" hurts, "burnt the knuckles" does not.
_PARTS_OF_BOTH = bag("shoulder cheek shin neck leg tongue knuckle knuckles shins cheeks legs shoulders ear ears")

_PERSONS = bag(
    "i he she they someone somebody guest guests student student's kid kids child lady man woman mara "
    "idris tomos bea boy girl helper visitor chap guy bloke fella lad girl gentleman one"
)


def _clause(scene: Scene, found: Found) -> tuple[int, int]:
    a, b = scene.segment(found.first)
    first = a
    while (
        first < found.first
        and scene.items[first].kind == ""
        and scene.items[first].word
        in bag("sorry oh no ok so right ow ouch and just also um damn heads up fyi well but argh")
    ):
        first += 1
    return first, max(b, found.last)
