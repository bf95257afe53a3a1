"""Questions of time: when it is done, whether it makes it, what the oven will be, when to light, how long to chill."""

from __future__ import annotations

from typing import Any

from bot.reading.asked import Asked, ReadFacts, by_asked, people_asked, time_asked, with_names
from bot.reading.clock_times import Ago


def plan_asked(asked: Asked, read_facts: ReadFacts) -> dict[str, Any] | None:
    del read_facts
    light = (
        r"(?:light|lit|fire up|start|get|begin|kindle|lighting|firing|fire|relight|put|load|rake|set|have"
        r"|go|need)"
    )
    if not asked.match(
        rf"(?:when|what time|how early|how soon|by when|how late|at what time)(?: (?:should|shall|do|must"
        rf"|does|would|can|need|ought|could|to|for|did|is|will|best|'s|latest|you|reckon|suggest|say|the"
        rf"|are|have|a|good|earliest|time))*(?: (?:i|we|you|one|someone|<D>|<O>|fire|pot|idris|tomos|bea"
        rf"|mara|they|it|the))*(?: (?:need|have|want|best|to|be|reckon|ought|got|start|have to|should|get"
        rf"|going))*(?: (?:to|lighting))*(?: ?{light})"
    ) and not asked.match(
        r"what 's the plan|lighting time|(?:when|what time) to (?:light|fire|start|rake|load)|light up time"
        r"|lighting up time|(?:when|what time) 's lighting"
        r"|(?:matches|match|light|lighting|light up|flames?|kindling|fire|fire up|lit|torch)(?: (?:at|by|from|on))*"
        r" (?:what time|when)"
        r"|^(?:(?:ok|so|and|a|any|full|our) )*(?:plan|schedule|timings?|times|countdown|timeline|work(?:ing)? back"
        r"|backwards|work it back|work back)(?: (?:please|to|back|it))* (?:for|from|to) (?:eating|eat|lunch|dinner"
        r"|serving|food|<T>|<N>|a|an|us)"
    ):
        return None
    lights = asked.match(
        r"(?:light|light up|lit|fire up|kindle|lighting|firing|relight|light up)|(?:start|begin|get|have"
        r"|start on) (?:the )?(?:fire|<O>|firing|oven|lighting)|start firing|fire (?:up )?(?:the )?(?:<O>"
        r"|oven|it)|fire (?:up )?for|get (?:the )?(?:fire|oven|<O>) (?:going|lit|started|on)|fire (?:to be"
        r"|be) lit|start (?:up )?(?:to|for)|match|matches|plan|schedule|timings?|countdown|work back|working back"
        r"|backwards|torch|flames?|kindling"
    )
    puts = asked.match(
        r"(?:put|load|get|have|set|go|start)(?: (?:<D>|pot|it|on|them|into))*(?: (?:in|into|go in|in for"
        r"|to go in|cooking|goes in))|(?:<D>|pot|it) (?:to )?(?:go|goes|be|need to go|have to go|has to go"
        r"|need to be) in|load (?:the )?(?:<D>|pot|<O>|it|oven)|start (?:the )?<D>|rake out|rake"
    )
    eats = asked.match(r"(?:eat|eating|lunch|serve|dinner|serving|supper|feed|sit down|guests|people)")
    if not (
        lights or (puts and (eats or asked.items("T"))) or (puts and asked.match(r"(?:should|shall|must|need|do) "))
    ):
        return None
    if (
        asked.match(r"when (?:is|are|will|'s) (?:<D>|<O>|it|they)(?: <DW>)* (?:ready|done|finished|cooked|tender)")
        and not lights
    ):
        return None
    fields: dict[str, Any] = {"is": "plan"}
    by = time_asked(asked, meal=True)
    if by is not None:
        fields["by"] = by
    guests = people_asked(asked)
    if guests is not None:
        fields["guests"] = guests
    return with_names(asked, fields)


def chill_time_asked(asked: Asked, read_facts: ReadFacts) -> dict[str, Any] | None:
    del read_facts
    cold = (
        r"(?:chill|chilled|cool|cooled|cooling|chilling|cold|cool down|chill down|get cold|be cold"
        r"|get down to (?:fridge temp|fridge|<V>)|below <V>|under <V>|fridge temp|fridge cold|cool off"
        r"|fridge-cold|down to <V>|cooled down|chilled down|chilled through)"
    )
    if asked.match(
        rf"(?:chill|chilling|cooling|cool|cool down|chill down) (?:time|times)|time (?:to|for) (?:chill|chilling"
        rf"|cool|cooling)|{cold}(?: (?:enough|right|all|down"
        r"|properly|through|by))*(?: (?:in how long|by when|how long|when|by what time|at what time))"
    ) and not (asked.items("O") or asked.items("P")):
        return chill_fields(asked)
    if not asked.match(
        rf"(?:how long|when|what time|how quick|how quickly|how fast|how soon|how much time|will"
        rf"|can)(?: .*)? {cold}"
    ) and (
        not asked.match(
            r"how long(?: <DW>| <L>| <C>| <D>)* (?:on ice|in ice|in ice bath|in an ice bath|in fridge"
            r"|on side)"
        )
        or asked.match(r"how long (?:can|is it ok|may|could|will it keep|does it keep|should)")
    ):
        return None
    if any(
        asked.scene.number(f"{asked.scene.items[n].kind}{n}") or 0 >= 40 for n in (*asked.items("H"), *asked.items("N"))
    ) and not (asked.items("D") or asked.items("L") or asked.items("C")):
        return None
    if (
        asked.items("O")
        or asked.items("P")
        or asked.match(
            r"(?:oven|brick|floor|class|barrel|can (?:it|<D>|they) (?:stay|sit|be left|stand|wait)|how long can"
            r"|beers?|drinks|wine)"
        )
        or (asked.match(r"^(?:will|can)") and not asked.match(r"in time|by <T>|before"))
    ):
        return None
    if asked.match(r"cool (?:to|down to|off to) <V>") and not (
        asked.items("D") or asked.items("L") or asked.items("C")
    ):
        return None
    return chill_fields(asked)


def chill_fields(asked: Asked) -> dict[str, Any]:
    """Depth, volume, method and dish of what is to be chilled."""
    fields: dict[str, Any] = {"is": "chill_time"}
    for n in asked.items("C"):
        fields["depth_cm"] = asked.scene.items[n].value
    for n in asked.items("L"):
        fields["litres"] = asked.scene.items[n].value
    if asked.match(r"(?:on|in|over|into|with) (?:an? )?(?:ice|iced water|ice water|ice bath)|ice bath|ice packs"):
        fields["method"] = "ice"
    elif asked.match(r"in (?:the )?(?:fridge|walk in|chiller|cold room|cooler)"):
        fields["method"] = "fridge"
    elif asked.match(r"(?:on|at) (?:the )?(?:side|bench|counter|room temp|room temperature|worktop|rack|table)"):
        fields["method"] = "room"
    return with_names(asked, fields, oven=False)


def ready_by_asked(asked: Asked, read_facts: ReadFacts) -> dict[str, Any] | None:
    del read_facts
    if asked.match(
        r"^(?:at what time|by what time|what time|by when|from when|when|how long|how much longer|why|who|where"
        r"|what will|how hot|what 's|which)(?! are (?:our"
        r"|chances|odds))"
    ) and not asked.match(r"what (?:are|'s) (?:the )?(?:chances?|odds|likelihood)"):
        return None
    if (
        asked.match(r"(?:eat|serve|have lunch|sit down|feed everyone) (?:at|by|for|before) (?:<TN>)")
        and asked.match(r"^(?:can|could|will|are|is|shall|do|would|think)")
        and not asked.items("P")
    ):
        return with_names(asked, {"is": "ready_by", **by_asked(asked)})
    in_time = asked.match(
        r"(?:in time|on time|on track|on schedule|ok for (?:time|lunch|dinner|serving)|good for (?:lunch"
        r"|dinner|time)|late for|behind|ahead|going to make it|make it|make lunch|make dinner|make serving"
        r"|be late|cutting it fine|running late|still ok|still good|still on|are we ok|make eating time"
        r"|make it for lunch|ready for (?:lunch|dinner|serving|guests|eating)|done for (?:lunch|dinner"
        r"|serving|guests)|in good time|before guests|for when we eat|for lunch|for dinner|hit lunch"
        r"|hit (?:our|the) time|be ready to eat|hit eating time)"
    )
    timed = asked.match(
        r"(?:make|by|for|before|at|hit|come|till|until|be|for about|good for|up for|on for|in) (?:about "
        r"|around )?(?P<t><TN>)|(?:in) (?P<u><U>)"
    )
    subject = asked.items("D") or asked.match(
        r"(?:it|they|we|pot|meat|lunch|dinner|food|everything|this|that|all|both)"
    )
    verbs = asked.match(
        r"(?:will|are|is|can|do|does|think|reckon|chance|chances|odds|likely|possible|ready|done|make|track"
        r"|ok|okay|still|doable|realistic|good|going|hit|finished|tender|cooked|be|enough time|time)"
    )
    if (
        timed is not None
        and subject is not None
        and verbs is not None
        and not asked.items("P")
        and not _heat_talk(asked)
    ):
        if asked.items("O") and not asked.items("D") and not asked.match(r"(?:ready|done)"):
            return None
        if asked.match(
            r"(?:what|how) (?:will|would|hot|is)|(?:be|keep|hold|stay|still|sit|left|leave"
            r"|wait)(?: <DW>)* (?:warm|hot|safe|ok to eat|out|hotter|overnight|till|until)"
        ) and not asked.match(r"(?:ready|done|make)"):
            return None
        by = by_asked(asked)
        if by:
            return with_names(asked, {"is": "ready_by", **by})
    if (
        in_time is not None
        and verbs is not None
        and not asked.match(
            r"(?:keep|stay|overnight|safe|leave|left|ok to|fridge|wood|chairs|guests arriving|bread group)"
        )
    ):
        return with_names(asked, {"is": "ready_by", **by_asked(asked)})
    plain = asked.match(
        r"^(?:(?:ok|so|and) )*(?:<D>|everything|lunch|dinner)(?: (?:ready|done|out|tender|ok|still|on track"
        r"|good|going to be))* (?:by|for|at) (?:<TN>)(?: ?\?)*$"
    )
    if plain is not None:
        return with_names(asked, {"is": "ready_by", **by_asked(asked)})
    return None


def _heat_talk(asked: Asked) -> bool:
    return bool(
        asked.match(
            r"(?:how hot|what temp|temperature|degrees|how warm|what heat|hot enough|drop to|get to <V>"
            r"|below <V>|above <V>|over <V>|under <V>|reach <V>)"
        )
    )


def oven_at_asked(asked: Asked, read_facts: ReadFacts) -> dict[str, Any] | None:
    del read_facts
    scene = asked.scene
    oven_word = (
        asked.items("O")
        or asked.items("P")
        or asked.match(r"(?:it|we|oven|temp|temperature|heat|they|brick|bricks|ovens|probe|that|this)")
    )
    if not oven_word or (asked.items("D") and not asked.items("O") and not asked.items("P")):
        return None
    fields: dict[str, Any] = {"is": "oven_at"}
    heats = [
        n
        for n in range(asked.first, asked.last)
        if scene.items[n].kind == "H"
        or (
            scene.items[n].kind == "N"
            and scene.items[n].value.value >= 30
            and scene.items[n].value.value == scene.items[n].value.value
        )
    ]
    reach = asked.match(
        r"(?:drop|drops|fall|falls|get|gets|arrive|arrives|down|reach|reaches|hit|hits|cool|cools|come|comes|be|go|goes"
        r"|hold|holds|stay|stays|below|under|above|over|at|to|past|still|touch|settle|sink|climb|rise|warm"
        r"|heat|heats|lose|dip|dips|up|make|see|sees)(?: (?:to|down|back|at|below|under|above|over|past|up"
        r"|about|around|be|as low as|near|on|still|to about|hot|than|of|by))* (?P<v><V>)"
    )
    wanted = asked.match(
        r"^(?:(?:ok|so|and|any idea|do you know|tell me|hey|roughly) )*(?:when|what time|how long|how soon"
        r"|will|how much longer|is|at what time|how many hours|would|does|can|do|by when|how quickly"
        r"|how fast)"
    )
    if reach is not None and wanted is not None:
        token = reach.group("v")
        item = scene.item(token)
        if item.kind == "H" or scene.items.index(item) in heats:
            fields["celsius"] = scene.number(token)
    by = None
    for_time = asked.match(
        r"(?:will|be|where|how hot|what|temp|hot|still|hold|holding|have|fall|drop|heat|expect|is|sit"
        r"|sitting|at|by|would|going|should|dropped|get)"
    )
    if for_time is not None:
        by = time_asked(
            asked, loose=bool(asked.match(r"(?:at|by|around|till|until|about|come) (?:about |around )?(?:<N>)"))
        )
        if by is not None and "celsius" in fields:
            token_items = list(heats)
            clock_only = _time_without(asked, set(token_items))
            by = clock_only
    if by is None and "celsius" not in fields:
        return _overnight(asked, fields)
    if "celsius" not in fields and not asked.match(
        r"(?:^(?:(?:ok|so|and|any idea|do you know|tell me|hey|roughly|predict|guess) )*(?:what|where"
        r"|how hot|how warm|how much heat|how will|what 's|how|temp|forecast|will|predicted|expected"
        r"|prediction|is|<O>|<P>)|what (?:will|temp|heat|would|'ll|can|should|does|do)|how hot|how warm"
        r"|where (?:will|do|would|'ll))"
    ):
        return None
    if (
        asked.match(r"(?:ready|done|make|cooked|tender|light|lit|feed|wood|eat|serve|load)")
        and "celsius" not in fields
        and not asked.match(r"(?:what will|how hot|where will|what temp)")
    ):
        return None
    if by is not None:
        fields["by"] = by
    places = asked.items("P")
    if places:
        fields["place"] = str(scene.items[places[0]].value)
    return with_names(asked, fields, dish=False)


def _time_without(asked: Asked, heats: set[int]) -> str | None:
    scene = asked.scene
    for n in range(asked.first, asked.last):
        if n in heats:
            continue
        item = scene.items[n]
        if item.kind == "T":
            return scene.coming(item.value)
        if item.kind == "U" and scene.items[n - 1].word == "in":
            return scene.coming(Ago(float(item.value)))
    return None


def _overnight(asked: Asked, fields: dict[str, Any]) -> dict[str, Any] | None:
    if asked.match(
        r"(?:what|how hot|where|how warm)(?: <DW>| <O>| <P>)* (?:be|will|sit|end up|get to|drop to)(?: <DW>"
        r"| <O>| <P>)*(?: (?:in (?:the )?morning|overnight|tomorrow|by morning|tonight|later|this evening"
        r"|first thing))"
    ) and (asked.items("O") or asked.items("P")):
        places = asked.items("P")
        if places:
            fields["place"] = str(asked.scene.items[places[0]].value)
        return with_names(asked, fields, dish=False)
    return None


def eta_asked(asked: Asked, read_facts: ReadFacts) -> dict[str, Any] | None:
    del read_facts
    done = (
        r"(?:done|ready|tender|cooked|finished|finish|out|good|there|soft|falling apart|come out|eat|carve|perfect"
        r"|good to go|be up|serve|ready to eat|ready to serve|come good|settled|settle|hot enough"
        r"|up to heat|up to temp|ready to load|clear|load|put|pot in|be in|go in|take|equalised|even)"
    )
    asks_when = (
        r"(?:when|what time|how long|how much longer|how many (?:more )?(?:minutes|hours)|eta|how soon"
        r"|how close|how far off|how near|roughly when|any idea when|long till|how much more time"
        r"|at what time|expected|predicted|what 's (?:the )?(?:eta|time|estimate|forecast)|what (?:is"
        r"|are)(?: the)? (?:eta|estimate|time)|how are we for time)"
    )
    if asked.match(r"(?:how long|what time|when) did"):
        return None
    person = asked.match(
        r"(?:arrive|arriving|coming|come back|delivery|here|back from|break|lunch break|guests (?:come"
        r"|arrive|get|here)|class (?:start|end|finish|over)|you (?:free|coming|back|done|here)|open|train"
        r"|bus|rain|stop|tea|start|group|students|kids|clean|sunset|dark|shop|wash|washing|meet|bring|call"
        r"|(?:when|what time) (?:did|was|were|had)|dough|bread group|finish up|go home|we finish|we start|we stop"
        r"|we clear)"
    )
    oven = bool(asked.items("O")) or bool(asked.match(r"(?:oven|floor|brick)"))
    dish = bool(asked.items("D")) or bool(
        asked.match(r"(?:it|they|meat|pot|food|lunch|dinner|that|this|pots|everything|all|we eat|both|eat|mains?)")
    )
    bare = asked.match(
        r"^(?:(?:ok|so|and|any idea|do you know|hey) )*(?:how (?:much )?long(?:er)?(?: (?:left|to go|now"
        r"|still|do we have|have we got|more|then|again|yet|is left|we got))*|eta|when|how long to go"
        r"|how long left|how much longer(?: now)?|how long is left|what 's eta)(?: ?\?)*$"
    )
    if bare is not None:
        return with_names(asked, {"is": "eta"})
    if (
        asked.match(asks_when)
        and (dish or oven)
        and not person
        and asked.match(
            rf"(?:be|is|are|'s|it|they|<D>|<O>|for|till|until|on|before|to|left|oven|pot|eat|longer|does|do"
            rf"|will|need|needs|want|wants|take|takes|have|in|floor|get|lunch|dinner"
            rf"|food)(?: .*)? ?(?:{done}|<D>|<O>|go|left|need|needs|longer|take|want|long|get|have|in"
            rf"|settle|it|lunch|dinner|food|cook|still)"
        )
        and not _heat_talk(asked)
    ):
        if oven and not asked.items("D"):
            if not asked.match(
                r"(?:ready|settled|settle|load|hot enough|up to (?:heat|temp|temperature)|clear|even"
                r"|equalised|good|done|put|go|take|pot in|cook|bake|use|long till|how long for|eta)"
            ):
                return None
            return with_names(asked, {"is": "eta"}, dish=False)
        return with_names(asked, {"is": "eta"}, oven=not asked.items("D"))
    if asked.match(
        r"^(?:(?:ok|so|and|hey) )*(?:is|are) (?:<D>|it|they|meat|pot|everything|lunch"
        r"|that)(?: <D>)?(?: (?:nearly|almost|close to|close|anywhere near|any nearer|near|about|all"
        r"|going to be|not|still not|far off|far from|getting))*(?: (?:done|ready|tender|cooked|finished"
        r"|there|soft enough|good to go|being done|being ready|to come out))(?: (?:yet|now|soon|or what"
        r"|to come out|to eat|to serve|already))*(?: ?\?)*$|^(?:<D>|meat)(?: (?:nearly|almost"
        r"|all))*(?: (?:done|ready|tender|cooked|finished))(?: (?:yet|now|soon))*(?: ?\?)+$"
    ):
        return with_names(asked, {"is": "eta"})
    if asked.match(
        r"^(?:(?:ok|so|and|hey) )*is (?:<O>|oven|floor)(?: (?:nearly|almost|close to|all))*(?: (?:ready"
        r"|settled|hot enough|up to (?:heat|temp)))(?: (?:yet|now|to load|for|to go|to use|soon|<D>|pot|the"
        r"|to cook|bread))*(?: ?\?)*$"
    ):
        return with_names(asked, {"is": "eta"}, dish=False)
    if asked.match(
        r"(?:time|time left|estimate|finish time|ready time|done time|forecast|expected) (?:for|on|of) <D>"
        r"|^<D> (?:finish|finishing|ready|done|serving|carving|pull|out)(?: |-)?time(?: ?[?.!])*$"
        r"|(?:finish|finishing|ready|done|serving) time (?:for|of|on) (?:<D>|it|meat|pot)"
        r"|^(?:(?:ok|so|and|then) )*(?:<D>|it|they|meat|food|lunch|dinner|pot|that)(?: (?:be|is|will|'s|are|going|to"
        r"|being|all))*(?: (?:done|ready|cooked|tender|out|finished|due|good|up))+(?: (?:at|by|in|for|till|until))*"
        r" (?:when|what time|how long)(?: (?:do|you|reckon|think|now|about|roughly))*(?: ?[?.!])*$"
        r"|^(?:<D>|meat|food|pot) when (?:it |they |is |are |will |be )*(?:ready|done|finished|cooked|finish|tender"
        r"|out)"
        r"(?: ?[?.!])*$"
        r"|^<D> (?:eta|when|how long|time|ready when|done when)(?: ?\?)*$|^(?:eta|time) <D>|any (?:eta"
        r"|estimate|idea when|update on when|time)(?: (?:on|for|of))* <D>|(?:eta|estimate) (?:for|on) <O>"
    ):
        return with_names(asked, {"is": "eta"})
    return None
