"""Questions of the kitchen: safety, allergens, amounts, wood."""

from __future__ import annotations

from typing import Any

from bot.reading.asked import Asked, ReadFacts, people_asked, with_names
from bot.reading.clock_times import Clock
from bot.reading.lexicon import allergens_in, bag
from bot.reading.scene import clean


def refuel_asked(asked: Asked, read_facts: ReadFacts) -> dict[str, Any] | None:
    del read_facts
    if asked.match(r"(?:pot|pots|tray|dish|loaf|loaves|pan|pizza|tin)"):
        return None
    wood = (
        r"(?:wood|feeding|fuel|fuelling|a split|another split|another log|a log|stoking|a feed|logs?"
        r"|splits?|more wood|refuelling|more fuel|topping up with wood|another piece|a bit more wood|feed"
        r"|fed|stoked|another stick|a stick|more on|another one on|one more on|another)"
    )
    if asked.match(
        rf"(?:does|do|will|is|should|would|can)(?: <DW>| <O>| <P>)*? (?:want|need|needing|ready for|due"
        rf"|take|hungry for|wanting|require|like|asking for|short of|after|be due|due for)(?: (?:more|some"
        rf"|any|to be|a|an|another|its|it|be|bit|bit of|bit more|yet|the))*? {wood}(?! to (?:eat|serve"
        rf"|drink))"
    ) and not asked.items("D"):
        return with_names(asked, {"is": "refuel"}, dish=False)
    if (
        asked.match(
            r"(?:when|what time|how soon|how long (?:till|until|before|to)|how often)(?: <DW>| <O>"
            r"| <P>)*? (?:feed|feeding|fed|wood|fuel|stoke|split|log|refuel|stoking|refuelled|splits"
            r"|logs)(?! (?:everyone|the guests|guests|people|them|kids))"
        )
        and not asked.items("D")
        and not asked.match(r"light|eat|delivery|arrive|chop|how much")
    ):
        return with_names(asked, {"is": "refuel"}, dish=False)
    if (
        asked.match(
            r"(?:should|shall|do|must|can|ought|could) (?:i|we) (?:feed|stoke|refuel|need to feed|have to feed"
            r"|add|put|chuck|throw|give|stick|top up|want|need)(?: (?:it|<O>|fire|more|another|some|a|on|wood"
            r"|split|log|any|to|feed|fire up|one|in|put|add|the))* ?(?:wood|split|splits|log|logs|fire|<O>|it"
            r"|fuel|on|piece|feed)(?: (?:on|in|now|yet|again|the|<O>|fire|soon|to|it|another|more))*(?: ?\?)*$"
        )
        and asked.match(r"(?:wood|split|splits|log|logs|fuel|feed|stoke|refuel)")
        and not asked.items("D")
    ):
        return with_names(asked, {"is": "refuel"}, dish=False)
    if _feeds(asked):
        return with_names(asked, {"is": "refuel"}, dish=False)
    if asked.match(
        r"^(?:(?:ok|so|and|hey|is it) )*time (?:to|for)(?: (?:a|an|another|some|more|put|put on|add|chuck|stick"
        r"|in|on))* "
        r"?(?:feed|fed|feeding|stoke"
        r"|wood|log|split)"
        r"(?: (?:<O>|fire|it|her|him|now|on|again))*(?: ?\?)*$"
        r"|^(?:(?:ok|so|and|hey) )*(?:(?:more|another|any|time for|need|needs|needing|next) )+(?:wood|split"
        r"|log|feed|feeding|fuel|logs|a split|another split|another log|a log|a feed"
        r"|more wood)(?: (?:needed|yet|now|on|for|in|due|when|the|<O>|fire|wanted|at|required"
        r"|soon))*(?: ?\?)*$|^(?:wood|feed|split|log|fuel)(?: (?:now|yet|time|due|needed|wanted"
        r"|on))*(?: ?\?)+$|is (?:it |fire |<O> |there )?(?:time|enough|getting|running)(?: (?:to|for|short"
        r"|low))*(?: (?:feed|another|more|wood|a|split|log|of|on|stoke|fire|it|in|fuel|the|<O>))+|(?:is"
        r"|are) there enough (?:wood|fire|fuel) (?:on|in)|is (?:fire|<O>) (?:hungry|getting low|dying"
        r"|dying down|burning low|ok for wood|alright for wood|low)|does (?:fire|<O>|it) (?:need"
        r"|want) (?:me|anything|attention|something|any more|more)|how 's (?:fire|<O>) for (?:wood|fuel)"
        r"|<O> (?:need|needs|want|wants|due|hungry)(?: (?:more|a|some|another|any))*(?: (?:wood|feeding"
        r"|split|log|fuel|feed))+|(?:fire|it) (?:need|needs|want|wants)(?: (?:more|a|some|another"
        r"|any))*(?: (?:wood|feeding|split|log|fuel|feed))+"
    ) and not asked.items("D"):
        return with_names(asked, {"is": "refuel"}, dish=False)
    return None


def _feeds(asked: Asked) -> bool:
    """ "time to stoke it or nah", "another split or hold off", "do i chuck a log on", "barrel hungry?"."""
    if asked.match(
        r"(?:<O>|fire|oven)(?: (?:is|getting|'s|looking|a bit|still))* (?:hungry|starving|peckish|low|thirsty)"
        r"|(?:is|are) (?:<O>|fire|oven|it)(?: (?:getting|looking|a|bit))* (?:hungry|starving|peckish|low on wood)"
    ):
        return True
    wood = asked.match(
        r"(?:another|more|a|one more|some|any|extra|two|couple of|couple more|next|<N>)(?: more)?"
        r" (?:split|splits|log|logs|wood|stick|sticks|fuel|piece)"
        r"|(?:stoke|stoking|refuel|refuelling|top up|feed|feeding)(?: (?:fire|<O>|it|her|him|them|now|up|oven))+"
        r"|stoke|stoking"
        r"|feed (?=or|now|yet|\?)|(?:wood|log|split) (?:on|in)"
    )
    dishes = [n for n in asked.items("D") if asked.scene.items[n].words != ("chuck",)]
    if wood is None or dishes or asked.match(r"(?:feed|feeding) (?:everyone|guests|people|us|them all|class|kids|<N>)"):
        return False
    opened = asked.match(
        r"^(?:(?:ok|so|and|hey|right|then|or) )*(?:time (?:to|for)|do (?:i|we|you)|does|should (?:i|we)|shall (?:i"
        r"|we)|is it"
        r"|need|worth|any need|would|another|more|can (?:i|we)|must (?:i|we)|feed|stoke|log|split|wood|one more"
        r"|<N> more"
        r"|want me to"
        r"|you want me to|am i|are we|ok to|ready for|ready to|due)"
    )
    chosen = asked.match(
        r"or (?:nah|no|not|what|nope|hold|leave|wait|hang|is|are|let|stay|later)|y / (?:and|n)|yes or no"
        r"|(?:<W> )?(?:reckon|think)"
    )
    asks = asked.match(r"^(?:(?:ok|so|and|hey) )*(?:do|should|shall|must|am|are) (?:i|we)") or asked.text.endswith("?")
    if asked.match(r"(?:how much|how many|how long|when|what|why|who|where|which oven|left|fetch|bring|buy|order)"):
        return False
    return opened is not None and bool(chosen or asks)


def amount_asked(asked: Asked, read_facts: ReadFacts) -> dict[str, Any] | None:
    del read_facts
    match = asked.match(
        r"(?:how (?:much|many)(?: of)?|what (?:weight|quantity|amount|volume) of|how (?:big|large|heavy) (?:a"
        r"|an))(?: (?:kilos?|kg|kgs|litres?|grams|g|pounds|lbs?|pints|loaves|portions|bags|pieces|ml|l"
        r"|kilograms?)(?: of)?)?(?: (?:more|extra))? (?P<item>(?:<W>|<D>)(?: (?:<W>|<D>)){0,2}?)(?= ?(?:$|for|do|does"
        r"|should|to|will|would|can|shall|\?|per|are|we|i|each|is needed|needed|goes|in|with|did|must|on"
        r"|serves|makes|feeds|have|per head|at))"
    )
    if match is None:
        thing = r"(?P<item>(?:<W>|<D>)(?: (?:<W>|<D>)){0,2}?)"
        match = asked.match(
            rf"^(?:(?:ok|so|and|what|what 's|which|right|quick|hey) )*{thing} (?:qty|quantity|quantities|amount"
            rf"|amounts|weight"
            rf"|weights|volume)(?: (?:needed|required|please))* (?:for|per|to feed)(?= )"
            rf"|how (?:much|many) of {thing} (?:for|to)(?= )|{thing} for <TN>(?: (?:people|guests"
            rf"|of us))*(?: ,)? how (?:much|many)(?= )"
            rf"|(?:qty|quantity|quantities|amount|weight|volume) (?:of|for) {thing}(?= ?(?:$|for|to|if|\?|per|do"
            rf"|should|is|we"
            rf"|i|needed))"
        )
        if match is not None:
            return _amount(
                asked,
                clean(
                    asked.text_of(
                        match, next(name for name in ("item", "item__2", "item__3", "item__4") if match[name])
                    )
                ),
            )
    if match is None or asked.match(
        r"how (?:much|many) (?:longer|time|more time|is|are|was|were|did|heat|hotter|cooler|warmer|do"
        r"|does|will|would|minutes|hours|degrees|later|colder|has|have|should|slower|faster|difference"
        r"|notice|left|further|room|space|to|wiggle|slack|chance|hope)"
    ):
        match = asked.match(
            r"how (?:much|many) (?:do|should|does|will) (?:i|we) (?:need|want|get|buy|order|use|put|make"
            r"|cook)(?: of)? (?P<item>(?:<W>|<D>)(?: (?:<W>|<D>)){0,2}?)(?= ?(?:$|for|\?|to|in))"
        ) or asked.match(
            r"(?:will|is|are|would) (?:<N>|<K>|<L>|a|an)(?: (?:kilo|kilos|kg|litres"
            r"|litre))*(?: of)? (?P<item>(?:<W>|<D>)(?: (?:<W>|<D>))?) (?:be )?enough(?= )"
        )
        if match is None:
            return None
    guests = people_asked(asked)
    left = asked.match(
        r"(?:left|remaining|have we got|do we have|have we|is there|are there|did we|did you|was|is in"
        r"|are in|in there|gone|have i got|are coming|are eating|does it cost|cost|per kilo|have you|is on"
        r"|did i|has|went|gone on|so far|used up|went on|been)"
    )
    if left and guests is None:
        return {"is": "person"}
    return _amount(asked, clean(asked.text_of(match, "item")))


def _amount(asked: Asked, item: str) -> dict[str, Any]:
    guests = people_asked(asked)
    if guests is None and (bare := asked.match(r"for (?P<t><T>)(?: ,)? how (?:much|many)")) is not None:
        clock = asked.scene.clock(bare["t"])
        guests = clock.hour if isinstance(clock, Clock) and not clock.minute else None
    if not item or item.split()[0] in bag(
        "for to miles quid pounds euros people guests longer more chairs tables students of time minutes hours degrees "
        "readings times "
        "days coeliacs allergies does do is"
    ):
        return {"is": "person"}
    fields: dict[str, Any] = {"is": "amount", "item": item.removeprefix("more ")}
    if guests is not None:
        fields["guests"] = guests
    return fields


def allergens_asked(asked: Asked, read_facts: ReadFacts) -> dict[str, Any] | None:
    del read_facts
    scene = asked.scene
    dish_at = list(asked.items("D"))
    words = [item.words for item in scene.items[asked.first : asked.last]]
    [word for each in words for word in each]
    dish: str | None = None
    for n in reversed(dish_at):
        before = {scene.items[m].word for m in range(max(asked.first, n - 2), n)}
        if before & bag("in is does has on are do with of eat have about for of can contain got") or n == dish_at[-1]:
            dish = str(scene.items[n].value)
            dish_n = n
            break
    rest = [
        word
        for n in range(asked.first, asked.last)
        if scene.items[n].kind != "." and not (dish is not None and n == dish_n)
        for word in scene.items[n].words
    ]
    named = allergens_in([word for word in rest if word not in ("free",)])
    fields: dict[str, Any] = {"is": "allergens"}
    has = asked.match(
        r"(?:any|is there|are there|there any|does|do|has|have|contain|contains|got|did (?:we|you|anyone"
        r"|i) (?:use|put|add)|is there any|what about|did) .*|.*(?:free|safe for|ok for|okay for"
        r"|suitable for|alright for|fine for|all right for|can (?:a|the|our|my)?.*(?:eat|have)).*|which .*"
        r"|there (?:is|are|'s) .*|.*(?:anything|something) .*|.* y / (?:and|n).*|.*yes or no.*|^(?:(?:ok|so"
        r"|and) )*(?:<W>|<D>)(?: (?:<W>"
        r"|<D>))? in (?:<D>|it|this|that|there"
        r"|<W>)(?: (?:or not|at all|is there|too|as well))*(?: ?\?)*$|.* or not.*"
    )
    if (
        named
        and has
        and not asked.match(
            r"how (?:much|many|long)|(?:who|when|what time|why|where)|do we have (?:any )?(?:<W>|<D>) left"
            r"|(?:any|got any) (?:<W>|<D>) left|can (?:you|someone|anyone|we|i) (?:get|buy|bring|pass|put|add"
            r"|use)|need (?:more|any)|left \?|ready|done|make <T>|overnight|reheat|keep|leave|by <T>|at <T>"
            r"|out of (?:<W>|<D>) \?|want(?:s)? |shall|should|enough"
        )
    ):
        if dish is None and not asked.match(
            r"(?:in|free|contain|contains|has|have|got|eat|use|safe|ok|okay|suitable|allergen|allergens|any"
            r"|there)"
        ):
            return None
        about_guests = asked.match(
            r"(?:any|are there any|is there any|do we have any|got any|have we got any"
            r"|how many) (?:coeliacs?|(?:nut|egg|milk|sesame|fish|dairy|celery|mustard|soya?) allerg(?:y"
            r"|ies))(?: (?:today|in|coming|this time|on|at|booked|tonight))*(?: ?\?)*$"
        )
        if about_guests:
            return {"is": "person"}
        fields["allergen"] = named[0]
        if (
            (dish is not None and str(dish) not in ("bread",))
            or (dish is not None and dish in scene.context.dishes)
            or (dish == "bread" and named and "bread" not in named)
        ):
            fields["dish"] = dish
        return fields
    if asked.match(
        r"(?:what|which) (?:allergens?|allergies)|any allergens|allergens? (?:in|for|list|sheet|of)"
        r"|list (?:the )?allergens|what 's (?:in|in the|inside)(?: (?:the|that|this|it))*(?: (?:<D>|pot|rub"
        r"|marinade|sauce|gravy|dressing|it|that|there))(?: (?:again|exactly|made of|please))*(?: ?\?)*$"
        r"|what 's (?:<D>|it) made (?:of|with)|what (?:is|did|went|goes|have) (?:you |we |i )?(?:in|put in"
        r"|into|used in|put into) (?:<D>|it|there|rub|marinade|sauce|gravy)|what is in (?:<D>|it|there|rub"
        r"|marinade|sauce|gravy)|ingredients (?:of|in|for)|what does (?:<D>|it) (?:contain|have in it)"
        r"|(?:is|are) (?:<D>|it|they) (?:allergen free|free of allergens)|contains what"
        r"|what (?:are )?ingredients|what 's in it"
    ):
        if dish is not None:
            fields["dish"] = dish
        return fields
    return None


def safe_asked(asked: Asked, read_facts: ReadFacts) -> dict[str, Any] | None:
    del read_facts
    if asked.match(r"^(?:(?:ok|so|and|hey) )*(?:when|what time|why|who|where)"):
        return None
    keep = (
        r"(?:leave|leaving|left|keep|keeping|kept|hold|holding|stay|stays|sit|sitting|stand|standing"
        r"|overnight|reheat|reheated|reheating|eat|serve|wait|rest|be out|out|hang about|store|freeze"
        r"|stored|save|take home|use|used|warm up|cool slowly|refrigerate|sits|holds|keeps|chill|cool"
        r"|go in fridge|be left|go home|do|edible|serving|eating|warm|remain|go back|last)"
    )
    if (
        asked.match(
            rf"(?:safe|ok|okay|fine|alright|all right|good|risky|dangerous|danger|risk|harm|possible|allowed|acceptable"
            rf"|any (?:problem|issue|worries|trouble|harm)|bad idea|get away with|happy to|sensible|wise|hurt"
            rf"|can (?:we|i|<D>|it|they|you"
            rf"|that|this|pot|leftovers|rest|everyone|guests|people)|could (?:we|i|<D>|it|they)|should (?:we|i"
            rf"|<D>|it|they) (?:chuck|bin|throw|still)|is it ok|how long can|how long (?:is|are|will|does|do"
            rf"|may|could)|do (?:i|we) (?:need|have) to (?:chill|bin|throw|reheat|chuck|cool)|(?:will|would|does"
            rf"|do) (?:<D>|it"
            rf"|they) (?:be ok|be safe|be fine|keep|hold|be alright|survive|last|still be ok|be all right)"
            rf"|does (?:<D>|it|that) (?:keep|need chilling|need to be)|are (?:<D>|they|those|leftovers) (?:ok"
            rf"|safe|still|good|fine)|is (?:<D>|it|that|this|leftover <D>) (?:ok|safe|still|good|fine|alright"
            rf"|edible))(?: .*)? ?{keep}"
        )
        and (
            asked.items("D")
            or asked.match(
                r"(?:it|they|them|leftovers|leftover|rest|pot|food|meat|this|that|these|those|overnight|eat|out"
                r"|meal|everything|reheat|trays?|pots?)"
            )
        )
        and not _not_food(asked)
    ):
        return with_names(asked, {"is": "safe"})
    if (
        asked.match(
            r"(?:is|are|will|still|be) (?:(?:<D>|it|that|this|they|those|food|meat|leftovers|pot|rest of it"
            r"|these|the)(?: <D>)? )?(?:still )?(?:safe|ok to eat|safe to eat|good to eat|fine to eat|edible"
            r"|be safe|ok to serve|past it|off|gone off|ok to use|still safe|still ok|still good"
            r"|still fine)(?: (?:now|still|to eat|to serve|if|at|after|in|to keep|for|there|out|or|with"
            r"|like that|overnight|till|until|yet|that|to use|to chill).*)?(?: ?\?)*$"
        )
        and not _not_food(asked)
        and (asked.items("D") or asked.match(r"(?:it|that|this|they|those|food|meat|leftovers|pot|eat|these)"))
    ):
        return with_names(asked, {"is": "safe"})
    if asked.match(
        r"(?:<D>|it|they|leftovers) (?:can|could|may|is possible to)(?: be)? (?:eaten|kept|left|served|reheated|held"
        r"|stay|keep"
        r"|sit|wait|rest|last)|can (?:stay|keep|sit|wait|rest|remain) (?:<D>|it|they|leftovers)"
        r"|(?:may|can|could) (?:<D>|it|they|this|that|leftovers) (?:be left|stay|sit|wait|rest|remain)(?: .*)? ?"
        r"(?:overnight|all night|till (?:morning|tomorrow)|until (?:morning|tomorrow))"
    ) and not _not_food(asked):
        return with_names(asked, {"is": "safe"})
    if asked.match(
        r"(?:will|would|does|do|can|should) (?:<D>|it|they|leftovers|that) (?:keep|last|hold)"
    ) and not _not_food(asked):
        return with_names(asked, {"is": "safe"})
    if (
        asked.match(
            r"how long (?:can|will|could|is it ok|is it safe|does|do|may|should)(?: <DW>| <O>)* (?:keep|sit"
            r"|stay|stand|be out|hold|be left|left|out|last|wait|leave|rest)"
        )
        and not _not_food(asked)
        and (asked.items("D") or asked.match(r"(?:it|they|leftovers|pot|food|meat|this|that|rest|them|these)"))
    ):
        return with_names(asked, {"is": "safe"})
    return None


def _not_food(asked: Asked) -> bool:
    return bool(
        asked.match(
            r"(?:door|lid|fire|wood|log|gate|chairs|bike|car|bag|coat|phone|early|here|go home|apron|dog|kids"
            r"|job|smoke|park|gloves|knife|peel|embers|ash|ask|question|music|class|table|tools|radio|hose|come"
            r"|talk|sit (?:down|here|with)|have a|photo|lights?|leave (?:early|now|at|soon|you|it to|my|in"
            r"|at <T>)|stay (?:for|and|here|late))"
        )
    ) and not asked.items("D")
