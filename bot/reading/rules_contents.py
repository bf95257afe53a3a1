"""What a dish or an ingredient holds."""

from __future__ import annotations

import re
from typing import Any

from bot.reading.lexicon import allergens_in, bag, phrase_set, split_words
from bot.reading.scene import Found, Scene, clean

_CONTENT_WORDS = bag(
    "sear marinade rub crust glaze roux coating in into has have contains contain includes lists used using put added "
    "with got through on over"
)


def contents(scene: Scene) -> None:
    """What a dish or an ingredient holds."""
    if not scene.has_any(_CONTENT_WORDS):
        return
    leads = r"and|but|also|plus|yeah|yes|yep|yup|aye|ok|okay|right|used|took|taken|using|put|added"
    these = "(?:that|this|these|those)"
    item = rf"(?P<item>(?!(?:{leads}|in|it|on|of|to|with|has) )(?:<W>|<D>)(?: (?:<W>|<D>)){{0,3}}?)"
    into = (
        r"(?P<dish><D>|(?:(?!(?:the|a|an|our|my|this|that|it|and|to|in|on) )<W> )?"
        r"(?:sear|marinade|rub|gravy|sauce|dressing|crust|topping|glaze|pastry|mash|braise|pot"
        r"|stuffing|dough|salad|batter|mix|liquor|dumplings|crumb|crumbs|roux|paste|dip|pickle|stock cubes?|stock"
        r"|cubes?"
        r"|seasoning|spice mix|coating|oil|breading|wrap))"
    )
    holds = (
        r"(?:has got|has|have|have got|contains?|includes?|lists?|says|with|'s got|is made with|made with"
        r"|got|is full of|comes with|does have|does contain|says it has|says contains)"
    )
    for pattern in (
        rf"(?:used|using|put|added|poured|tipped|splashed|stirred in|sprinkled|mixed in|rubbed|drizzled|scattered"
        rf"|crumbled|grated|spooned|strewn)(?: a| some| more)* {item} (?:in|into|to|for|on|onto|over|through) {into}"
        r"(?= ?(?:$|[.,;!|]|too|as well|today|and|btw))",
        rf"(?:there 's|there is|there are|we have got|it 's got|it has|contains) {item} (?:in"
        rf"|on)(?: that| this)? {into}(?= ?(?:$|[.,;!|]|too|as well|today|and|fyi|btw))",
        rf"in (?P<dish><D>)(?: (?:it|there|has|'s|is|are|we|i|have|put|goes|went|come|comes))+ {item}"
        r"(?= ?(?:$|[.,;!|]|too|as well|today|and|fyi|btw))",
        r"(?P<dish><D>)(?: (?:'s|is|are|was|were|been|has))* (?:thickened|finished|made|topped|glazed"
        r"|dusted|marinated|cooked|mounted|brushed|enriched|started|fried|dressed|rubbed) (?:with|in"
        r"|using) (?P<item2>(?:<W>|<D>)(?: (?:<W>|<D>))?)(?= ?(?:$|[.,;!|]|today|and|this time))",
        rf"(?:{these} )?(?P<holder>(?!(?:{leads}|{these}) )(?:<W>|<D>)(?: (?:<W>|<D>)){{0,3}}?) {holds} (?P<what>(?:<W>"
        rf"|<D>)(?: (?:and <W>|and <D>|<W>"
        rf"|<D>))?)(?: (?:in|in it|in them|in that|in there|on it|on them|on top|and|on label))*(?= ?(?:$|[.,;!|]|so "
        rf"|and (?:<W>|<D>) (?:'s|is|are|in) |by the|fyi"
        rf"|btw))",
        rf"{item}(?: (?:'s|is|are|was|were|goes|went|gone|going|all))* (?:in|into|through|on|over"
        rf"|to|in with) {into}(?= ?(?:$|[.,;!|]|too|as well|today|and|btw|fyi|by|now|for <D>|this time|already|also"
        rf"|that 's (?:all|it)|nothing else|only))",
        rf"{item} (?:for|on) (?P<dish>(?:sear|marinade|rub|crust|glaze|roux|coating))(?= ?(?:$|[.,;!|]|btw|fyi|today))",
        rf"(?:there 's |there is )?{item}(?: (?:'s|is|are|was))* (?:in|inside) (?:<D> )?(?:cubes?|granules|powder"
        rf"|mix|paste"
        rf"|bouillon)(?= ?(?:$|[.,;!|]|too|as well|today|and|fyi|btw))",
        r"(?P<item3>(?:<W>|<D>)(?: (?:<W>|<D>))?) (?:contains|has) (?:traces of|trace of) (?P<what>(?:<W>|<D>))",
    ):
        for found in scene.find(pattern):
            _content(scene, found)


# What is done with a food ("stirred in"), and to a dish by means of one ("brushed with"): bot.reading.contents_told.
ADDED = bag(
    "stirred chucked threw thrown bunged slung tipped poured folded mixed added popped splashed whisked beat beaten "
    "worked sprinkled scattered crumbled grated drizzled dolloped swirled spooned dotted smeared spread strewed strewn "
    "slipped snuck used put shoved dropped piled shaved squeezed lobbed dumped ladled rubbed dripped piped sloshed "
    "plopped melted tossed sifted slathered daubed"
)
MADE_WITH = bag(
    "finished thickened brushed topped glazed dusted loosened enriched bound coated rolled dredged basted marinated "
    "dressed garnished deglazed assembled made layered stuffed filled sweetened mounted seasoned let washed encrusted "
    "crusted floured battered breaded lined cooked fried slackened thinned emulsified crumbed tossed rubbed smeared "
    "sprinkled spread stirred gave bulked lifted cut rounded slathered drizzled scattered"
)
# These are said of the food itself too: "grated parmesan in the lamb", "rolled oats".
_OF_ITSELF = bag("grated crumbled rolled whisked beaten melted shaved sifted made cooked fried stuffed")



_AMOUNT = re.compile(
    r"^(?:last|rest|end|bit|knob|splash|glug|drop|dash|glass|spoon|spoonful|handful|lump|tub|tin|pinch|dollop|pat"
    r"|sprinkle|sprinkling|scoop|squeeze|couple of spoons|good bit)s? of (?:the )?(?=\w)"
)


def _without_amount(item: str) -> str:
    """ "bit of cream" -> "cream" """
    return _AMOUNT.sub("", item)


def of_a_deed(words: tuple[str, ...]) -> bool:
    """ "used up the last of the cream", "flour before browning": more than the name of a thing."""
    return bool(set(words) & ((ADDED | MADE_WITH | bag("before after up")) - _OF_ITSELF))


# What is read from: it is not what it names (bot.reading.contents_beside).
LABELS = bag("label labels packet pack jar box tin tub bottle")
_NOT_ITEMS = bag(
    "it we they i you he she there this that everyone guest guests people someone somebody nobody who what "
    "which one two kettle pot pots lid lids fork knife spoon probe thermometer water hand hands arm wood "
    "fire splits logs embers foil peel bea mara idris tomos "
    "core air floor meter label fridge class everything all both more thyme-less "
    "no not zero today now then still yes ok right also and but so just please lots plenty time "
    "rain wind music"
)


def _content(scene: Scene, found: Found) -> None:
    groups = found.groups
    dish = found.name("dish") if groups.get("dish") and str(groups["dish"])[0] == "D" else None
    dish_first, _ = found.items_of("dish") if groups.get("dish") else (None, None)
    if groups.get("holder"):
        holder = found.words("holder")
        if set(holder) & (ADDED | MADE_WITH):
            return                  # "loosened it with milk": a deed, and no thing that holds
        named = allergens_in(found.words("what"))
        if "in" in holder or "on" in holder:
            _held_within(scene, found, named)
            return
        if (
            not named
            or not holder
            or holder[0] in _NOT_ITEMS
            or set(holder) <= LABELS
            or set(holder) & bag("guest guests someone who lady man one")
            or not holder[0].isalpha()
            or found.words("what")[-1]
            in bag("station shift watch prep board table tables duty stall line round rounds job oven run class demo")
        ):
            return
        holder_items = scene.items[found.items_of("holder")[0] : found.items_of("holder")[1]]
        if len(holder_items) == 1 and holder_items[0].kind == "D" and is_dish(scene, holder_items[0].words):
            for piece in _pieces(found.text("what")):
                for name in allergens_in(split_words(piece)):
                    held = {
                        "is": "contents",
                        "item": clean(piece),
                        "dish": str(holder_items[0].value),
                        "allergen": name,
                    }
                    scene.add(held, found.first, found.last, "contents")
            return
        if _person(scene, holder):
            return
        for name in named:
            scene.add(
                {"is": "contents", "item": clean(found.text("holder")), "allergen": name},
                found.first,
                found.last,
                "contents",
            )
        return
    key = next((name for name in ("item", "item2", "item3") if groups.get(name)), None)
    if key is None:
        return
    if dish is not None and not is_dish(scene, (dish,)):
        dish = None
    words = found.words(key)
    if not words or words[0] in _NOT_ITEMS or words[-1] in _NOT_ITEMS:
        return
    if of_a_deed(words):
        return
    before = scene.items[found.items_of(key)[0] - 1].word if found.items_of(key)[0] else ""
    if before in _DENIED or _DENIED & set(words):
        return
    named = allergens_in(words)
    if dish is not None and found.items_of(key)[0] == dish_first:
        return
    if not named and not (dish is not None and is_ingredient(words)) and not is_ingredient(words):
        return
    if words[0] in ("pot", "probe", "lid"):
        return
    fields: dict[str, Any] = {"is": "contents", "item": _without_amount(clean(found.text(key)))}
    if dish is not None:
        fields["dish"] = dish
    if len(named) > 1 and "and" in words:
        for piece in _pieces(found.text(key)):
            for name in allergens_in(split_words(piece)):
                scene.add({**fields, "item": clean(piece), "allergen": name}, found.first, found.last, "contents")
        return
    if named:
        fields["allergen"] = named[0]
    scene.add(fields, found.first, found.last, "contents")


def _held_within(scene: Scene, found: Found, named: list[str]) -> None:
    """ "the stock cube in the lamb has celery in it": the thing, the dish that it went into, and what it holds."""
    items = scene.items[slice(*found.items_of("holder"))]
    at = next((n for n, item in enumerate(items) if item.kind == "" and item.word in ("in", "on")), 0)
    rest = [item for item in items[at + 1 :] if item.word not in ("the", "our", "that")]
    if at == 0 or len(rest) != 1 or rest[0].kind != "D" or items[0].word in _NOT_ITEMS:
        return
    words = " ".join(word for item in items[:at] for word in item.words)
    for name in named:
        fields = {"is": "contents", "item": clean(words), "dish": str(rest[0].value), "allergen": name}
        scene.add(fields, found.first, found.last, "contents")


_DENIED = bag("no not without zero never")


def _pieces(text: str) -> list[str]:
    """ "butter and flour": each thing for itself."""
    return [piece for piece in re.split(r"\band\b|,|&|\+", text.lower()) if piece.strip()]


_INGREDIENTS = bag(
    "chestnuts chestnut "
    "cornflour cornstarch salt sugar pepper honey vinegar oil garlic onion onions thyme rosemary bay cumin "
    "paprika chilli lard dripping suet rice potato tomato tomatoes wine cider treacle molasses ketchup "
    "stock cube cubes marmite bouillon paste puree lemon orange capers olives saffron herbs parsley "
    "coriander mint ginger turmeric cinnamon nutmeg bacon pancetta chorizo ham lentils beans carrot "
    "carrots leek leeks parsnip swede powder gravy spice spices cornmeal polenta buckwheat xanthan "
    "arrowroot margarine"
)


def is_ingredient(words: tuple[str, ...]) -> bool:
    return bool(words) and (words[-1] in _INGREDIENTS or words in phrase_set("allergens", "free_of"))


def is_dish(scene: Scene, words: tuple[str, ...]) -> bool:
    name = " ".join(words)
    if name in scene.context.dishes:
        return True
    return name not in bag(
        "stock gravy butter cream bread marmalade ketchup chutney broth sausages rolls naan custard polenta rice barley"
    )


def _person(scene: Scene, words: tuple[str, ...]) -> bool:
    people = {part.lower() for name in scene.context.people for part in name.split()} | {
        "mara",
        "idris",
        "tomos",
        "bea",
    }
    return bool(set(words) & people)
