"""Questions that do not open with a question word: "barrel situation", "beans done by what time", "feed it or not"."""

from __future__ import annotations

from bot.reading.scene import compiled

_END = r"(?= ?(?:(?:please|pls|plz|bot|yardhand|now|then|today|mate|chef|ta|thanks|everyone|so far|\?|!|\.) ?)*$)"
_THINGS = (
    r"(?:<D>|<O>|<P>|the <D>|the <O>|the <P>|fire|the fire|oven|the oven|everything|things|it|all|class|the class)"
)

# At the start of a clause.
OPENS = compiled(
    rf"(?:{_THINGS} )(?:situation|status|state|progress|news|update|eta|finish(?:ing)? time|ready time|done time"
    rf"|timing|serving time|time left|readiness|forecast|prediction|estimate|projection)(?= ?(?:$|[?,.!]|please|pls|plz"
    r"|now|yet|bot|for|at|by))"
    r"|(?:(?:quick|any|a|an|another|short|brief|full|gimme a|give us a|need a|want an|need an|want a"
    r"|can i get a|can i get an) )*(?:update|sitrep|situation report|status update|status report|status check|status"
    r"|rundown|run down|summary|recap)"
    rf"(?: (?:on|for|of|about) (?:{_THINGS}|all|where we are|today))?{_END}"
    rf"|{_THINGS} (?:in time|on time|on track) for (?:lunch|dinner|supper|us|guests|table|eating)(?= ?(?:\?|$|,|and))"
    r"|(?:finish|ready|done|finishing|serving) time (?:for|of|on)(?= )"
    r"|(?:in|by|for|at|from|till|until|to|with|on|after) (?:what|which|how)(?= )|by when (?:are|is|will|do|does|can"
    r"|should)"
    r"|(?:log|numbers|readings|temps?) (?:as|in) (?:a )?(?:table|chart|graph|plot)"
    r"|(?:chill|chilling|cooling|cool|cool down) time (?:for|of|on|with)(?= )"
    r"|y (?:so|is|are|the|did|does|has|'s|not|it)(?= )"
    r"|(?:next|best|which|most useful|useful) (?:reading|measurement|temp|number|check|spot|probe reading)"
    r"(?: (?:you 'd|you|to|would|please|pls|wanted|needed|for))"
    r"|(?:<W>|<D>) (?:qty|quantity|amount|weight|volume|quantities) (?:for|per)(?= )"
    r"|(?:qty|quantity|amount|weight|volume) (?:of|for) (?:the )?(?:<W>|<D>)(?= )"
    r"|(?:temp|heat|temperature) (?:at|by|in|come) (?:<T>|<N>|<U>|noon)(?= ?\?)"
    r"|(?:<P>|<O>|<O> <P>|<P> (?:in|of|on) <O>)(?: temp| heat)? (?:(?:at|by|come|around|in) (?:<T>|<U>)"
    r"|<U> from now)(?= ?(?:\?|roughly|do you|you"
    r"|d 'you"
    r"|about ?\?))"
    r"|(?:curious|dunno|no idea|not sure|unsure|any clue)(?: (?:if|whether|when|what|how|who|why|which))(?=.*\?)"
    r"|(?:just |i |i was |i 'm |we are |we 're )*(?:wonder|wondering)(?: (?:if|whether|when|what|how|who|why|which))"
    r"|any (?:harm|risk|danger|problem|worry|worries|issue|hope|chance|idea)(?: (?:in|with|of|if|to|for|leaving|keeping"
    r"|holding|who|when|what|how|whether|on))(?= )"
    r"|would it be (?:ok|okay|safe|dodgy|risky|iffy|daft|wrong|bad|alright|fine|a problem) (?:to|if)(?= )"
    r"|in (?:what|which) state (?:is|are|'s)(?= )|light(?:ing)?(?: up)? (?:when|what time)(?= ?(?:\?|for |$))"
    r"|(?:it is|it 's|is it) (?:possible|ok|okay|safe|alright|fine|allowed) (?:to|if|for)(?= .*\?)"
    r"|(?:suppose|supposing)(?= .*(?:what|how|when|will|would|does|\?))"
    r"|(?:from|until|till|since) when(?= )"
    rf"|{_THINGS} (?:ready|done|finished|out|cooked|tender) (?:around|about|roughly|at|by|round)"
    r" (?:when|what time)(?= ?)"
    r"|(?:assume|assuming|let 's say)(?= .*(?:what|how|when|will|would|does|\?)| (?:we|i|you|they|door|<O>"
    r"|<D>))"
    r"|(?:i 'd like|i would like|i want|i need|we 'd like|need|want|we need) to know"
    r" (?:when|what|how|where|who|why|which|if)(?= )"
    r"|explain (?:to )?(?:me |us )?(?:why|how|what)(?= )"
    r"|(?:anyone|anybody|someone|somebody) (?:on|watching|looking after|minding|doing|feeding|covering)(?= .*\?)"
    r"|say (?:the |that |our )?(?:door|lid|fire|lids|someone|it|they|pot|<D>|<O>|<P>)(?= .*(?:what|how|when|will"
    r"|would|does|\?))"
    r"|(?:time|worth|safe|ok|okay|good|fine|alright|risky|dangerous|bad idea|bad) (?:to|for|on|if)"
    r"(?= .*(?:\?| or (?:nah|no|not|what)))"
    r"|(?:plan|schedule|timings?|times|working back|backwards|work back|countdown) (?:for|from|to) "
    r"(?:eating|eat|lunch|dinner|a|an|serving|food|<T>|<N>)(?=.*\?)"
    r"|(?:would|will|does|could|is) (?:moving|putting|leaving|feeding|raking|opening|adding|turning|propping"
    r"|shutting|closing"
    r"|taking|topping|lighting|spreading)(?= )"
    r"|work(?:ing)? (?:it )?back(?:wards)? from (?:<T>|<N>)|(?:predict|forecast|estimate|guess) (?:the |our )?(?:<O>"
    r"|<P>|<D>)"
    r"|(?:how|where) (?:we|they|things) (?:looking|doing|getting on|at|up to|standing|stand|for time|now|at now)"
    r"|(?:<D>|<O>|<P>) when(?= (?:it|they|ready|done|is|are|will|you|finished|cooked|finish))|must (?:i|we)(?= )"
    r"|when (?:the )?(?:<O>|<P>|it|we|they) (?:arrive|reach|get|drop|come|be|go|fall)(?: <W>){0,2} <V>(?= ?(?:\?|$|\.))"
    r"|(?:roughly|about|around|approx) (?:when|what time|how long|how much longer)(?= )"
    r"|(?:gimme|give (?:me|us)|what 's) (?:a |the )?(?:lowdown|low down|picture|skinny|score)"
    r"|(?:gimme|giz|lemme see|let me see|let us see|get me|get us|fetch me|i want|i need|i 'd like|need|want) "
    r"(?:the |a |an |our |today 's |todays )?(?:(?!another |more |big |small )<W> )?(?:chart|graph|plot|table"
    r"|summary|recap|log|curve|curves|record)"
    r"|(?:graph|plot|chart|tabulate|summarise|summarize|sum up) (?:it|the|today|todays|today 's|us|this|that|our|all"
    r"|everything|temps?|<O>|<P>|<D>|class|me)"
    r"|(?!(?:put|call|throw|give) (?:a |an |another |one )?(?:<W> )?logs? (?:on|in|to|into|onto))(?:post|show"
    r"|print|share|send|display|pull|bring|put|call|throw)(?: up)? (?:me |us )?(?:a |an |up |the |todays "
    r"|today 's |our |out )*(?:(?!another |more |small |big |extra |last |split |log |one |two )<W> "
    r"){0,2}(?:chart|log|graph|plot|table|summary|record|curve|curves|history|recap"
    r"|timeline)"
)

# At the end of a sentence.
_TAIL = compiled(
    r"(?:in how long|how long|how much|how many|what heat|what temp|what temperature|at what time|by what time"
    r"|what time|by when|till when|until when|when|which|which one|whose"
    r"|who|where|why)(?: (?:job|turn|one|is it|is that|now|then|roughly|about|again|would that be|will that be"
    r"|exactly|you think|you reckon|do you think|do you reckon|do we need|needed|do i need))*"
    r"(?: ?(?:please|pls|plz|bot|mate|chef|\?|\.|!))*$"
    r"|or (?:nah|no|not|what|nope|hold off|leave it|wait|hang on|hold|is it fine|is it ok|are we good|not yet"
    r"|should (?:i|we)"
    r" (?:wait|leave|hold).*|leave)(?: (?:it|be|off|for now|yet|now|alone|a bit|which))*(?: ?(?:please|pls|, which"
    r"|which"
    r"|bot|\?|\.|!))*$"
    r"|y / (?:n|and)(?: ?(?:\?|pls|please|\.|!))*$|yes or no(?: ?(?:\?|pls|please|\.|!))*$"
    r"|(?:do|d 'you|d 'ya) ?(?:you |ya )?(?:reckon|think|guess|figure|say)(?: ?(?:\?|bot|mate|\.|!))*$"
    r"|(?:you|ya) (?:reckon|think) ?\?"
    r"|(?:is|are) (?:whose|who 's)(?: (?:job|turn|baby|now))*(?: ?(?:\?|\.|!))*$"
)


def tail_of(text: str, start: int, stop: int) -> int | None:
    """Where a question at the end of a sentence begins, such as "or not"; None if there is none."""
    match = _TAIL.search(text, start, stop)
    return None if match is None or match.start() == start else match.start()
