"""Questions of the room: how things stand, why, who, what to measure, the log, help."""

from __future__ import annotations

import re
from typing import Any

from bot.reading.asked import Asked, ReadFacts, with_names
from bot.reading.lexicon import bag
from bot.reading.scene import clean


def help_asked(asked: Asked, read_facts: ReadFacts) -> dict[str, Any] | None:
    del read_facts
    if asked.match(
        r"(?:which|what) (?:commands|words|questions|things|sort of things|kind of things|messages)(?: (?:<W>)){0,4}"
        r" (?:understand|understands|know|knows|answer|answers|listen to|get|read|reads|respond to)(?: ?[?.!])*$"
        r"|what (?:can|could|should|may|do) (?:i|we|you|people|one) (?:say|ask|tell|type|do|write|understand"
        r"|know|send|post|read|track)(?: (?:you|to you|here|for (?:me|us)|about|in here|yardhand|bot|him"
        r"|with you|it))*(?: ?[?.!])*$|^help(?: me| please)?(?: (?:with (?:you|this|the bot)"
        r"|bot))?(?: ?[?!.])*$|how do (?:i|we) (?:use|talk to|work|ask|speak to|tell) (?:you|this|it|bot"
        r"|this thing|this bot)|how does (?:this|it|bot|this thing|this bot) work|what (?:commands|words"
        r"|questions|things|sort of things|kind of things|messages) (?:do|does|can|are|should|could|will) (?:you|i|we"
        r"|there|this bot|bot|it|this|yardhand|this thing)|what do you (?:understand|know about|do|listen for|read)"
        r"|how (?:do|should) (?:i"
        r"|we) (?:word|phrase|say|write)(?: (?:it|things|this|that|stuff|readings))?(?: ?\?)*$|what (?:are"
        r"|is) you (?:for|able|good)|show (?:me )?help|what else can (?:i|we|you)|how can you help"
        r"|what can you help|what can you do"
    ):
        return {"is": "help"}
    return None


def log_asked(asked: Asked, read_facts: ReadFacts) -> dict[str, Any] | None:
    del read_facts
    noun = (
        r"(?:chart|charts|graph|graphs|graphic|graphics|plot|curves?|tables?|summary|recap|round up|log|logs|record"
        r"|records"
        r"|history|numbers|readings|temps|temp|timeline|write up|report|list of readings|notes so far"
        r"|story so far|diary|sheet|log page|run down|rundown|overview|log book|logbook)"
    )
    verb = (
        r"(?:post|show|print|send|share|see|get|have|give|display|draw|plot|pull up|bring up|put up|make|do"
        r"|write|drop|throw up|view|want|read|type|chart|stick up|sum up|summarise|summarize|look at)"
    )
    ask = asked.match(
        rf"(?:{verb})(?: (?:me|us|a|an|up|the|today 's|todays|our|out|quick|full|class|whole|all|over|latest"
        rf"|in here|everyone|to|them|of|temperature|temp|heat|oven|<O>|<D>|<P>|today|this|that|morning 's"
        rf"|fire))* (?P<form>{noun})|^(?:(?:the|a|quick|full|today 's"
        rf"|class) )*(?P<form2>{noun})(?: (?:please|as|in|a|table|chart|graph|so far|of|for|today|<O>|<D>|till now"
        rf"|up to now|the"
        rf"|class|day|to date|everything))*(?: ?[?!.])*$|where 's (?:the )?(?P<form3>{noun})|(?:sum"
        rf"|summarise|summarize)(?: (?:it|up|things|class|today|day|us))+|(?:is"
        rf"|are) there (?:a )?(?P<form4>{noun})|(?:got|have you got) (?:a |the )?(?P<form5>{noun})"
    )
    drawn = asked.match(r"(?:plot|chart|graph) (?:the )?(?:<O>|<P>|temp|heat|readings)")
    if drawn is not None:
        return {"is": "log", "form": "plot"}
    if asked.match(
        r"(?:graph|plot|chart) (?:it|the|today|todays|this|that|our|all|everything|<O>|<P>|<D>|me|us|class|floor"
        r"|temp|temps"
        r"|morning|how)"
    ) and not asked.match(r"(?:who|when|why) "):
        return {"is": "log", "form": "plot"}
    if ask is None:
        return None
    if asked.match(
        r"(?:want|wants|need|needs|take|fancy|have) (?:a|an|another|one more|its|the) (?:<W> )?logs?"
        r"|(?:oven|barrel|dome) log|log (?:on|in|onto)|another log|a log on|more logs|logs (?:on|in|left|do)"
        r"|table (?:cloth|number|for)|for table|long table|which reading|what reading|reading (?:do|would"
        r"|should)|how many|need"
    ):
        return None
    if asked.text.split()[0] in bag("which who when how why") and not asked.text.startswith("how about"):
        return None
    form = next((value for value in ask.groupdict().values() if value), "summary" if "sum" in ask.group() else "")
    fields: dict[str, Any] = {"is": "log"}
    if (
        asked.match(r"(?:as|in) (?:a )?(?:chart|graph|plot)")
        or re.match(r"chart|graph|plot|curve", form)
        or ask.group().split()[0] in ("plot", "draw", "chart")
    ):
        fields["form"] = "plot"
    elif re.match(r"table|sheet|list of readings", form) or asked.match(r"(?:as|in) (?:a )?table"):
        fields["form"] = "table"
    elif re.match(r"summary|recap|round up|write up|run ?down|overview|story", form):
        fields["form"] = "summary"
    elif (
        form in ("numbers", "readings", "temps", "temp")
        and asked.match(rf"(?:see|have|get|want|read|give|show) .*{form}")
        and not asked.match(r"(?:so far|all|today)")
    ):
        return None
    return fields


def asked_of_people(asked: Asked, read_facts: ReadFacts) -> dict[str, Any] | None:
    """What is asked of people."""
    del read_facts
    if asked.match(
        r"^(?:(?:ok|hey|and|so|hi) )*(?!(?:is|has) (?:anyone|anybody|someone|somebody) (?:got|on|watching|looking after"
        r"|minding|doing|feeding|covering) )(?:can|could|would|will|did|has|have|is|does|do) (?:someone|somebody"
        r"|anyone|anybody|one of you|you all|you lot|you guys|you two|tomos|idris|bea|mara|everyone"
        r"|everybody)"
    ):
        return {"is": "person"}
    if asked.match(
        r"^(?:can|could|would|will) you (?:bring|pass|grab|get|fetch|take|help|come|give me a hand|hold"
        r"|move|put|open|shut|close|check|turn|feed|look|watch|swap|do|carry|lend|pop|keep|stop|stand"
        r"|please (?:bring|pass|grab|get|fetch|take|put|open|shut|turn|feed)|make|call|ring|ask"
        r"|tell (?:them|him|her|everyone)|hear|see|stir|wash|light|rake|chop|cover|lift|cut|run|set)"
    ):
        return {"is": "person"}
    if asked.match(
        r"^(?:(?:ok|hey|and|so|hi) )*(?:have|did|has) (?:you|we|anyone|someone|<W>) (?:told|tell|warned"
        r"|warn|asked|ask)"
    ):
        return {"is": "person"}
    if asked.match(
        r"^(?:who|what|where|which) (?:wants|want|fancies|needs a|needs to|left|moved|took|stole|ate"
        r"|is hungry|'s hungry|likes|brought|ordered|'s coming|is coming|'s for|'s in for|'s up for|else"
        r"|parked|broke|put|'s that|is that|'s this|knows|told|said|can|could|will|would|should)"
    ):
        return (
            None
            if asked.match(
                r"^who (?:should|will|would|can|could) (?:be )?(?:watch|watching|have|take|do|feed|look after"
                r"|mind)|^what (?:should|will|would|could|can|is that|'s that|'s this|'s in)|^which|^where"
                r"|who (?:took|left) (?:over )"
            )
            else {"is": "person"}
        )
    return None


def why_asked(asked: Asked, read_facts: ReadFacts) -> dict[str, Any] | None:
    del read_facts
    if not asked.match(
        r"^(?:(?:and|so|but|ok|hey|any idea|do you know|tell me|explain) )*(?:why|y|how come"
        r"|what 's (?:causing|making|behind|gone wrong)|what is (?:causing|making)|what made|what changed"
        r"|what makes|for what reason)"
    ):
        return None
    if (
        asked.match(
            r"why (?:don't|not|are you|is everyone|do people|did you|isn't anyone|is nobody|do i|did i|am i"
            r"|is she|is he|are they all|can't we|bother|me)(?! (?:think|say|reckon|believe|so|expect|move"
            r"|change|trust|using|used|throw|read))"
        )
        and not asked.items("D")
        and not asked.items("O")
        and not asked.items("P")
    ):
        return {"is": "person"}
    if asked.match(r"(?:always|only) (?:me|us|mine)|me(?= ?[?.!]*$)") and not (asked.items("D") or asked.items("O")):
        return {"is": "person"}
    return with_names(asked, {"is": "why"})


def who_asked(asked: Asked, read_facts: ReadFacts) -> dict[str, Any] | None:
    del read_facts
    match = asked.match(
        r"^(?:(?:and|so|ok|hey|right|remind me|tell me|do we know) )*(?:who|who else|which of (?:you"
        r"|us)) (?:'s got|'s on|has got|has|'s|is|got|is on|had|takes|took|took over|is doing|does"
        r"|is watching|'s watching|was on|owns|looks after|minds|watches|should|will be|will|runs|claimed"
        r"|feeds|have|holds)(?: (?:looking after|watching|minding|got|on|doing|in charge of|covering|taking"
        r"|taking care of|running|feeding|the one on|responsible for|having|have|supposed to be on"
        r"|supposed to be watching|supposed to be doing|meant to be on|meant to be watching|be on"
        r"|be watching|watch|take|manning|holding|keeping an eye on|sorting|handling|down for|tending"
        r"|seeing to|with|keeping|over|charge of|mind|feed|do))*(?: (?P<what>.+?))?(?: (?:now|today"
        r"|right now|at moment|at the moment|next|this time|then|currently|please|tonight|from here"
        r"|while (?:i|we) <DW>.*|till <T>|at <T>|after <T>|for now))*(?: ?[?!.])*$"
    )
    if match is not None and match.group("what"):
        what = clean(asked.text_of(match, "what"))
        if asked.text_of(match, "what").lower().split()[0] in ("a", "an", "any", "some", "my"):
            return {"is": "person"}
        words = what.split()
        if (
            words
            and not (
                set(words)
                & bag(
                    "hungry coming here there that this ready up late missing eating vegan allergic birthday "
                    "thirsty you who"
                )
            )
            and len(words) <= 5
        ):
            head = asked.match(
                r"^who (?:'s|is|was|will be|will|should|has|had)(?: (?:got|on|looking after|watching"
                r"|minding|doing|covering|feeding|running|manning|in charge of|taking|keeping an eye on"
                r"|handling|holding|tending|responsible for|responsible of|supposed to be (?:on|watching|doing)"
                r"|meant to be (?:on|watching)|be (?:on|watching|feeding)|seeing to|down for|taking care of"
                r"|sorting|taken|with))+"
            )
            has = asked.match(
                r"^(?:and |so |ok )?who (?:'s got|has|have|has got|got|had|takes|took|owns|looks after|minds"
                r"|watches|runs|feeds|does|is on|'s on)"
            )
            if head or has:
                if words[0] in (
                    "a",
                    "an",
                    "any",
                    "some",
                    "my",
                    "time",
                    "got",
                    "been",
                    "seen",
                    "left",
                    "eaten",
                    "moved",
                    "made",
                    "the time",
                    "taken",
                    "brought",
                    "used",
                    "put",
                    "room",
                    "spare",
                    "change",
                    "nut",
                    "allergy",
                    "allergies",
                    "car",
                    "phone",
                    "keys",
                ):
                    return {"is": "person"}
                return {"is": "who", "what": what}
    match = asked.match(
        r"^(?:(?:and|so|ok) )*(?P<what>(?:<W>|<D>|<O>|<P>)(?: (?:<W>|<D>|<O>|<P>)){0,2}?)(?: (?:is|'s|are))"
        r" (?:whose|who 's)(?: (?:job|turn|one|baby|thing|to do))*(?: (?:now|today|again|please))*(?: ?[?.!])*$"
        r"|^(?:(?:and|so|ok) )*whose (?:job|turn|baby)(?: (?:is|'s|it))*(?: (?:on|for|to do|to watch|doing|to mind))*"
        r" (?P<what>(?:<W>|<D>|<O>|<P>)(?: (?:<W>|<D>|<O>|<P>)){0,2}?)(?: (?:now|today|again|please"
        r"|next))*(?: ?[?.!])*$"
        r"|^(?:(?:and|so|ok) )*whose (?:is|'s|are) (?P<what>(?:<O>|<D>|<W>)(?: <W>)?)(?: (?:now|today"
        r"|again))*(?: ?[?.!])*$"
    )
    if match is not None:
        name = next(each for each in ("what", "what__2", "what__3") if match[each])
        what = clean(asked.text_of(match, name))
        if what.split()[0] not in ("to", "it", "this", "that", "it", "coat", "phone", "car", "bag", "those", "these"):
            return {"is": "who", "what": what}
    if asked.match(r"^who "):
        return {"is": "person"}
    match = asked.match(
        r"^(?:is|has) (?:anyone|anybody|someone|somebody) (?:got|on|watching|looking after|minding|doing"
        r"|feeding|covering) (?P<what>.+?)(?: ?[?!.])*$"
    )
    if match is not None and not (
        asked.match(r"^has (?:anyone|anybody|someone|somebody) got") and asked.words & _THINGS
    ):
        return {"is": "who", "what": clean(asked.text_of(match, "what"))}
    return None


# What people ask each other to lend, and what nobody is in charge of.
_THINGS = bag(
    "gloves glove plaster plasters lighter matches pen phone charger key keys towel towels scissors knife spoon "
    "tongs peel "
    "apron coat hat umbrella change cash spare torch string tape foil bag bags cup mug sugar salt oil"
)


def measure_asked(asked: Asked, read_facts: ReadFacts) -> dict[str, Any] | None:
    del read_facts
    if (
        asked.match(
            r"(?:what|which|where|any|anything|what else|which one)(?: (?:reading|readings|temp|temps"
            r"|temperature|temperatures|measurement|measurements|number|numbers|spot|spots|place|one|figure|bit"
            r"|thing|else|probe|shot|check))*(?: (?:do you|would you|should i|should we|shall i|shall we|you"
            r"|do i|can i|would|will|could i|d 'you|next|is|are|to|else))*(?: (?:want|need|like|take|read"
            r"|measure|check|help|useful|be most useful"
            r"|be best|be most help|shoot|probe|prefer|most useful|missing|after|help most|be useful|test"
            r"|do|give you|tell you|get you))(?: (?:me|us|to|measure|read|take|check|next|first|from (?:me|us)"
            r"|now|you|most|shoot|probe|measured|measuring|reading|checked|checking|for you|a|get|send|tell"
            r"|best|test))*(?: ?[?!.])*$"
        )
        and asked.words
        & bag(
            "reading readings measure measured measurement measurements temp temps temperature temperatures "
            "read spot spots number numbers check probe shoot shot take measuring test figure"
        )
        and not asked.items("D")
        and not asked.match(r"(?:order|food|sauce|bread|bring|home|photo|tea|drinks|break|turn|away)")
    ):
        return {"is": "measure"}
    if asked.match(
        r"^(?:(?:ok|so|and|right|now|then) )*(?:(?:what|which|next|best|most useful|useful) )+(?:reading|measurement"
        r"|temp"
        r"|temperature|spot|check|number|readings)(?: (?:next|you 'd|you|would|like|want|need|wanted|needed|now|to take"
        r"|to get|for you|do|d 'you|then|first|is next|would help|helps|best))*(?: ?[?.!])*$"
    ) and asked.words & bag("next you best useful wanted needed like want need helps help"):
        return {"is": "measure"}
    if asked.match(
        r"(?:do you (?:want|need)|want|need|would you like|shall i (?:take|get|do)|should i (?:take|get|do)"
        r"|do you need me to)(?: (?:a|another|any|more|me to|to|us to|take|get|do|shoot|read|the|new|fresh"
        r"|check))* (?:readings?|temps?|temperatures?|measurements?|measure|shot|numbers?|measured"
        r"|hand count|probe reading)"
    ):
        return {"is": "measure"}
    if asked.match(
        r"where (?:should|shall|do|can) (?:i|we|you want me to|you want us to) (?:point|aim|shoot|measure"
        r"|read|probe|(?:stick|put) (?:it|this|probe|<I>|thermometer|P\d+)|(?:stick|put)(?= ?(?:$|[?.!,])))"
        r"(?: (?:the|me to))?(?: (?:<I>|probe|thermometer|next|temp|first))*"
        r"|what 's next to (?:measure|read|check)|what (?:to|needs) (?:measure|read|measuring|reading)"
    ):
        return {"is": "measure"}
    return None


def status_asked(asked: Asked, read_facts: ReadFacts) -> dict[str, Any] | None:
    del read_facts
    if asked.match(
        r"(?:dog|kids|mum|dad|weather|traffic|holiday|weekend|you (?:doing|feeling|today|all|keeping"
        r"|getting on)|your|everyone|guests|dough|tea|bread group|party|group|hand|finger|wrist|arm|ankle"
        r"|it look|that look|this look|my hair|you\b|for dessert|for pudding|your day|van|match|score|job)"
    ) and not (asked.items("O") or asked.items("D")):
        return None
    if asked.match(
        r"^(?:(?:ok|so|hey|and|what 's|the) )*(?:<O>|<D>|<P>|fire|oven|everything)(?: oven)? (?:situation|state"
        r"|progress|update"
        r"|news|status)(?: (?:now|please|bot|today|yet))*(?: ?[?.!])*$"
        r"|^(?:(?:ok|so|hey|and|quick|any|a|an|another|short|brief|full|need|want|can i get|can we get|give us) )*"
        r"(?:update|sitrep|situation report|status update|status report|status check|status|situation)(?: (?:on|for"
        r"|of|about"
        r"|with|bot|yardhand|now|today|all|everything|<O>|<D>|please|the|where we are|so far))*(?: ?[?.!])*$"
        r"|^(?:(?:ok|so|hey|and|right) )*(?:how|where) (?:we|they|things|is things|are things|'s things"
        r"|'s everything|'s it all)"
        r"(?: (?:looking|doing|getting on|at|up to|standing|stand|for time|going|with|on|in|now|so far|then|today"
        r"|all|over"
        r"|there|<D>|<O>))*(?: ?[?.!])*$"
        r"|(?:lowdown|low down|skinny)(?: (?:on|for|of|please|now|<D>|<O>|everything))*(?: ?[?.!])*$"
        r"|^how (?:is|are|'s) (?:going|doing|looking|coming) (?:<O>|<D>|<P>|fire|oven|everything)(?: ?[?.!])*$"
        r"|^(?:in )?what state (?:is|are) (?:<O>|<D>|<P>|fire|oven|we|it|everything)(?: (?:in|now|oven))*(?: ?[?.!])*$"
        r"|^what 's (?:the )?(?:situation|picture|lie of the land)(?: (?:with|in|on|for|now|<O>|<D>))*(?: ?[?.!])*$"
    ):
        return with_names(asked, {"is": "status"})
    about = r"(?:<O>|<D>|<P>|it|they|everything|things|pot|fire|oven|we|all|ovens|pots|that|this|meat|class|stuff)"
    if asked.match(
        rf"(?:how 's|how are|how is|how 're)(?: the)? {about}(?: (?:oven|pot|now|doing|looking|getting on"
        rf"|going|coming on|coming along|holding|holding up|at|behaving|sitting|faring|in there|today|then"
        rf"|so far|on|temp|bearing up|over there|along|up|feeling|running))*(?: ?[?.!])*$"
    ):
        return with_names(asked, {"is": "status"})
    if asked.match(
        rf"(?:what 's|what is|what are|what 're|what was)(?: the)? {about}(?: (?:oven|pot))?(?: (?:on|at"
        rf"|reading|doing|showing|up to|sitting at|saying|like|temp|temperature|running at|now|right now"
        rf"|sitting on|down to|currently|looking like|at now|heat|probe|settled at|holding at|registering"
        rf"|core|hovering at))+(?: (?:now|then|at moment|at the moment|currently|right now|please|today"
        rf"|so far))*(?: ?[?.!])*$"
    ):
        return with_names(asked, {"is": "status"})
    if asked.match(
        r"where (?:have|had) (?:we|things|you|they) (?:got|gotten|come|reached)(?: (?:to|up to|now|so far|with|<D>"
        r"|<O>))*(?: ?[?.!])*$|where (?:are|'re) (?:we|things|they)"
        r"(?: (?:up to|at|now|with|on|up|to|today|so far|then|all"
        r"|<D>|<O>|the|standing|everything))*(?: ?[?.!])*$|where (?:do|does) (?:we|things|everything|<D>|<O>"
        r"|it) stand(?: .*)?$|where 's (?:<D>|<O>|everything|it) (?:at|up to|now)|how (?:are|is) (?:we|it"
        r"|everything|things|all)(?: (?:doing|going|getting on|looking|for time|today|so far|now|with|on"
        r"|coming along|all|progressing))*(?: (?:<D>|<O>))?(?: ?[?.!])*$|^(?:(?:ok|so|hey|and"
        r"|quick) )*(?:status|state of play|progress|update|updates|latest|any (?:update|updates"
        r"|news))(?: (?:update|report|check|please|now|on|of|for|the|things|everything|<D>|<O>|so far|from"
        r"|about|with|pots|ovens|fire))*(?: ?[?.!])*$|what 's (?:happening|going on|the latest|latest"
        r"|the state of play|the score|status|the status|state of play|state|the state|the news|up"
        r"|the position|where we are)(?: (?:with|in|on|of|now|the|<D>|<O>|so far|right now|today|then|over"
        r"|at|here|pots|everything))*(?: ?[?.!])*$|how 's it (?:going|looking|all going|doing|getting on"
        r"|coming along)(?: (?:with|in|the|<D>|<O>|so far|now|today|over|there|on))*(?: ?[?.!])*$"
        r"|bring me up to speed|catch me up|fill me in|what did i miss|what have i missed|(?:give|tell"
        r"|send) (?:me|us) (?:a |an |the )?(?:status|update|latest|state of play|quick update|progress)"
    ):
        return with_names(asked, {"is": "status"})
    if asked.match(
        r"^(?:(?:ok|so|and|hey|any idea|do you know|tell me|roughly|just) )*(?:how (?:hot|warm|cold"
        r"|cool) (?:is|are|'s)(?: the)? (?:<O>|<D>|<P>|it|oven|we|they|floor|that|core)(?: (?:oven|now"
        r"|at moment|right now|in there|currently|at the moment|then|running|in the middle|at|<P>|<O>"
        r"|inside|of))*|what (?:temp|temperature|heat)(?: is| 's| are| do| does)?(?: (?:<O>|<D>|<P>|it|we"
        r"|oven|they|floor|at|on|now|in|the|have|is|of|there|running|right|currently|reading|says))*"
        r"|what 's (?:temp|temperature|heat|air|floor|probe|core|the temp|the temperature)(?: (?:in|of|on"
        r"|at|now|the|like|<O>|<D>|<P>|oven|say|saying|right now|reading|currently))*|what does (?:probe"
        r"|<P>|thermometer|<I>|<O>)(?: (?:say|read|show|in|the|<O>|<D>|<P>|now))*|(?:temp|temperature"
        r"|reading) (?:of|on|in) (?:<O>|<D>|<P>)|what (?:do we have|have we got|are we on) (?:on|in)(?: <O>)?"
        r"|which (?:oven"
        r"|one) is (?:hotter|hottest|cooler)|what 's (?:in|on) <O>|<O>(?: (?:temp|status|now|at))*"
        r"|<D> (?:status|update))(?: ?[?.!])*$"
    ):
        return with_names(asked, {"is": "status"})
    return None
