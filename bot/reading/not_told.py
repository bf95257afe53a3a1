"""Words that make what they stand with no fact: denials, plans, requests, conditions, other days and places, jokes."""

from __future__ import annotations

from typing import Literal

Reach = Literal["on", "rest", "clause", "sentence", "message"]

_THEN = (
    r"(?:hits|gets|is|'s|reaches|drops|comes|goes|falls|settles|are|you|we|cools|heats|clears|i get|they"
    r"|dies|looks|starts|stops|finishes|arrive|arrives|have|has)"
)
BASE = (
    r"(?:bring|fetch|get|grab|take|leave|keep|turn|rake|open|close|feed|light|add|move|pull|give|make|watch"
    r"|mind|lift|swap|rotate|stick|chuck|throw|pop|shove|"
    r"pass|hand|hold|wait|stop|remember|tell|ask|let|go|come|see|look|try|use|push|drop|lower"
    r"|raise|cover|uncover|slide|wipe|brush|baste|stir|measure|wash|clean|empty|fill|"
    r"stay|call|ring|text|meet|sit|stand|find|save|start|finish|carry|load|top up|crack|prop|chop"
    r"|slice|peel|season|salt|warm|heat|cool|chill|serve|eat|drink|enjoy|put)"
)

# Places where people cooked before they came here, and what they did there.
_PLACES = (
    r"(?:bakery|bakehouse|bistro|hotel|canteen|cafe|trattoria|taverna|army|navy|village|mill|farm|college|deli|market"
    r"|festival|food truck|camp|hostel|castle|monastery|boulangerie|diner|kitchens)"
)
_DID = (
    r"(?:ran|had|used|did|kept|fired|baked|always|never|cooked|lit|got|put|left|made|worked|could|would|were|was|raked"
    r"|took|served|chilled)"
)
_WHOSE = r"(?:the |a |an |my |his |her |our |that |their )"

# (reach, pattern over the full row). "on": to the end of the clause; "rest": to the end of the sentence; "clause":
# the whole clause; "sentence", "message": all of it.
HELD_BACK: tuple[tuple[Reach, str], ...] = (
    # denials
    (
        "on",
        r"(?:don't|doesn't|didn't|never|isn't|wasn't|aren't|weren't|hasn't|haven't|hadn't|won't|can't"
        r"|couldn't(?! (?:get|hold|keep|stand|bear))|shouldn't|wouldn't|nobody|no one|none of|neither|without|no "
        r"need|no sign|yet to|nothing(?! (?:'s |is )?(?:bubbling|simmering|moving|blipping|stirring))"
        r"|nor)",
    ),
    (
        "on",
        r"not(?: yet| quite)? (?:been|lit|in|on|out|put|going|ready|raked|fed|browned|served|done|at|<V>"
        r"|<P>|up|touched|moved|turned|opened|today|now|the|a|yet)",
    ),
    (
        "on",
        r"(?:no|zero) (?:<W> )?(?:allergies|allergens|problems|issues|dietary|diets|coeliacs|vegans|change"
        r"|reading|readings|sign|wood|rain|wind|one|fire|more|flour|nuts|dairy|gluten|burns|injuries)",
    ),
    # plans, wishes, guesses
    (
        "on",
        rf"(?:going(?= {BASE} )|going to(?! (?:the )?(?:fridge|oven|chiller|<O>))|about to|'ll|will|shall"
        rf"|planning|plan to"
        rf"|plan is|plan 's|the plan"
        rf"|plan for|want to"
        r"|wants to|want|wants|need to|needs to|need|needs|needed|should|might|may"
        r"|could(?! (?:only )?(?:hold|keep|stand|bear|count|manage))|would|'d (?:like|better|rather|say"
        r"|love|guess)|let 's|lets|let us|time to|time for|ready to|ready for|hoping|hopefully|hope|have to"
        r"|has to|had to|gotta|must|ought|remember to|expecting|expect|aim|aiming|supposed to|trying to"
        r"|try to|tried to|thinking of|thinking about|think we|due|almost ready|nearly ready|nearly time"
        r"|almost time|nearly there|getting ready|in a (?:bit|minute|mo|sec|while|moment|few|second|min)"
        r"|in a couple|shortly|soon|later|next one|up next|next up|next i|next we|wish|intend|prepare to"
        r"|preparing|set to|looking to|bound to|likely to|tempted|better to|keen|would be|can be|able to"
        r"|can you|could you|can we|(?:i|we) can(?! (?:only |just |barely )?(?:hold|keep|bear|stand|have|count) )"
        r"|you can|can go|can come|can have)",
    ),
    ("on", r"got to (?:go|get|do|put|take|light|feed|rake|run|be|move|turn|keep|start|make|wait)"),
    # requests
    (
        "clause",
        r"(?:can|could|would|will) (?:you|someone|somebody|anyone|anybody|one of|tomos|idris|bea|mara"
        r"|we get|i get|i have)",
    ),
    (
        "on",
        rf"(?:someone|somebody|anyone|anybody|everyone|everybody|you|one of you|who can"
        rf"|whoever) (?:<W> )?{BASE}",
    ),
    (
        "clause",
        r"(?:please|pls|plz|when you|if you|for me|would you|you should|you need|if someone"
        r"|as you(?! (?:like|want|please))|on your way|while you|your turn)",
    ),
)


# These tell no eating time and no guest either: guesses, conditions, other days and places, jokes.
DOUBTED: tuple[tuple[Reach, str], ...] = (
    # guesses
    ("on", r"(?:not sure|unsure|not certain|not convinced|no way|no idea|hard to say)"),
    ("rest", r"(?:it|that|this) (?:'d|would) be"),
    # wagers, memories, what is to be cooked
    (
        "clause",
        r"(?:bet|betting|wager|wagering) (?:you|u|ya|me|any|anyone|anybody|on|a|my|<N>)"
        r"|(?:a |my )?(?:fiver|tenner|quid|pint|pound|beer|drink) (?:says|that|on|it)",
    ),
    ("clause", r"(?:do you |anyone |you |who )?(?:remember|recall) (?:when|that time|how|last|the (?:time|day|year))"),
    (
        "sentence",
        r"(?:menu|bill of fare)(?: (?:today|tonight|for <W>|now|then))*(?: (?:is|'s|will be|:|-|=))"
        r"|on (?:the )?menu(?: (?:today|tonight|for <W>))*",
    ),
    ("rest", r"(?:it 's|it is|that 's|that is|is|was) (?:not|hardly|never) true"),
    ("rest", r"(?:myth|lie|fib|nonsense|rubbish) that"),
    ("rest", r"(?:practice|test|quiz|exam) (?:question|message)"),
    ("rest", r"(?:am|is|are|'s|was|were|'re|'m) meant to"),
    ("on", r"(?:some|most|many|other|plenty of) people"),
    ("on", r"(?:almost|nearly) (?:raked|lit|fed|in|served|spread|put|forgot|dropped|moved|shut|closed|turned)"),
    (
        "clause",
        r"(?:i|we|i 'd|he|she|they) (?:reckon|guess|suppose|imagine|bet|doubt|expect|assume|wonder|thought|figured"
        r"|guessed|reckoned|assumed|presumed|hoped|expected|imagined|believed|swore|dreamed)",
    ),
    (
        "clause",
        r"(?:probably|maybe|perhaps|possibly|presumably|no doubt|touch wood|fingers crossed|by then"
        r"|by the time|at this rate|aim for|target|targeting|goal|guessing|reckon|in theory|ideally"
        r"|wondering|suggest|suggests)",
    ),
    # conditions
    (
        "rest",
        r"(?:wake|remind|tell|call|ping|ring|text|shout|yell|warn|alert|give) (?:(?:me|us|him|her|them|out|a|shout"
        r"|know|ring) ){0,3}(?:when|once|as soon as)|let (?:me|us|him|her|them) know (?:when|once|as soon as|if)",
    ),
    (
        "rest",
        r"(?:when|once|as soon as)(?= (?:[^ .;!?|]+ ){1,8}?(?:shout|yell|holler|ping|wake|text|tell|"
        r"(?:we|you|i) (?:can|'ll|will|could|should)))",
    ),
    ("on", r"not (?:till|until)"),
    ("rest", r"(?:if|unless|in case|whenever|as long as|provided|assuming|suppose|supposing|so long as)"),
    (
        "rest",
        rf"(?:when|once|as soon as|by the time|until|till|before|after|while|the moment) (?:<W> |<D> |<O> "
        rf"|<P> |'s ){{0,2}}?{_THEN}",
    ),
    (
        "on",
        r"(?:until|till|before|once|as soon as|rather than|instead of|in order to|so that|waiting (?:for|on"
        r"|till|until)|wait (?:for|on|till|until)|ready when|after)"
        r"(?! <T>| <N>(?: ?$| [.,;:!|]| (?:and|degrees|<P>|<O>)))",
    ),
    (
        "on",
        r"(?:wait|waiting|look|looking|hope|hoping|watch|watching|holding out|holding on|gunning|shooting|pushing"
        r"|going) "
        r"for(?: the| a)?(?= (?:<P>|<O>|<H>|<N> (?:on|in|at|degrees)|core|it|probe|<D>)(?: |$))",
    ),
    ("on", rf"(?:i|you|we) (?:'d|would)(?= (?:<W> )?{BASE} )"),
    (
        "clause",
        r"(?:book|books|recipe|chart|manual|article|blog|poster|guide) (?:says|said|reckons|recommends|has it)"
        r"|(?:<W>) (?:reckons|thinks|guesses|bets|swears|claims)",
    ),
    # other days
    (
        "sentence",
        r"(?:yesterday|tomorrow|last (?:week|night|year|month|time|class|session|weekend|summer|winter"
        r"|autumn|spring|monday|tuesday|wednesday|thursday|friday|saturday|sunday|firing|group|january|february|march"
        r"|april|may|june|july|august|september|october|november|december)"
        r"|next (?:week|month|year|term|time|class|session|weekend|monday|tuesday|wednesday|thursday|friday"
        r"|saturday|sunday|firing|group)|the other day|day before|other week|week before|in the old days"
        r"|back then|years ago|weeks ago|days ago|months ago|<N> (?:days|weeks|months|years) ago"
        r"|on (?:monday|tuesday|wednesday|thursday|friday|saturday|sunday)s?|(?:monday|tuesday|wednesday"
        r"|thursday|friday|saturday|sunday) 's|this time last|always|usually|normally|typically|used to"
        r"|generally|every (?:time|week|day|class)|in general|back in (?:the day|my day|<N>|may|june|july"
        r"|april|march|spring|summer|winter|autumn|january|february|august|september|october|november"
        r"|december)|once had|previous class|previous week|previous firing|earlier in the week|a week ago"
        r"|week ago|the first time|in the past|most days|some days|sometimes|often|for the weekend"
        r"|at the weekend)",
    ),
    ("sentence", r"(?:<N> day(?= (?:we|i|there|it|they|the|<D>|<O>|door|stew))|some day|someday|once upon a time)"),
    ("clause", r"(?:old|previous|earlier|last) (?:log|record|records|notes|chart|sheet|diary|logbook) (?:shows|says|has"
     r"|had|showed|said|reads)"),
    (
        "clause",
        r"(?:in|last|since|every) (?:january|february|june|july|august|september|october|november|december"
        r"|winter|summer|autumn|spring)(?= ?(?:$|[.,!;|]))|once(?= ?(?:$|[.!;|]))"
        r"|(?:the )?(?:other|old|previous) (?:class|course|group|lot|school|yard)"
        r"(?= (?:had|has|was|were|did|ate|lit|got))",
    ),
    # prices and scores
    ("clause", r"<N> (?:quid|pounds|euros?|dollars|bucks|pence|p|grand|fiver|tenner)(?= |$)|costs?(?= <N>)"),
    ("clause", r"<N> - <N> (?:up|down|ahead|behind)(?= ?(?:$|[.,!;|]))|<N> nil(?= |$)|(?:half|full) time score"),
    # other places, hearsay
    (
        "clause",
        r"(?:they|he|she|everyone|everybody|someone|somebody|people|forecast|radio|app|news|telly|website)"
        r" (?:just )?(?:said|say|says|reckon|reckons|reckoned|told me)(?= ?(?:$|[.!;|]))"
        r"|(?:at|over at|round at|round) (?:mine|ours|theirs|hers|my mate 's|my mum 's|my dad 's|bea 's|idris 's"
        r"|tomos 's|mara 's)(?= ?(?:$|[.,!;|]|this morning|last night|today|all |when |though|apparently))",
    ),
    (
        "sentence",
        r"(?:at|in|from) (?:the |our |my |their |his |her )?(?:other|old|previous|last) (?:place|yard|kitchen|site"
        r"|venue|school|course|garden)",
    ),
    (
        "sentence",
        rf"(?:at|in|back at|back in) {_WHOSE}?(?:<W> )?{_PLACES}(?: (?:there|once|then|where|,))*"
        rf"(?= (?:we|i|they|he|she|you) (?:<W> )?{_DID} )"
        rf"|(?:they|he|she|we|i) {_DID}(?= [^.;!?|]*(?:at|in) {_WHOSE}(?:<W> )?{_PLACES}(?: ?$| [.,;!?|]| and))"
        rf"|{_PLACES} (?:where )?(?:i|we|he|she) (?:trained|worked|learnt|learned|started|baked|cooked)",
    ),
    (
        "sentence",
        r"in (?:the |a |an |this |that )?(?:photo|picture|film|clip|drawing|painting|poster|story|song|ideal world"
        r"|perfect world|parallel universe)",
    ),
    (
        "sentence",
        r"(?:at home|at my|my house|my place|our house|at ours|in town|next door|down the road"
        r"|over the road|at work|my (?:mum|dad|mother|father|brother|sister|gran|nan|wife|husband|partner"
        r"|neighbour|friend|mate|uncle|aunt|old|own|cousin|granny|kitchen|garden|flat|car|kettle|phone|bath"
        r"|shower)|(?:his|her|their|your|a) (?:neighbour|friend|mate|uncle|aunt|cousin|mum|dad|brother|sister) 's"
        r"|home oven|a friend|a mate|his oven|her oven|their oven|their place|on telly|on tv"
        r"|on the radio|in the book|the book|recipe|recipes|website|internet|online|youtube|video|podcast"
        r"|magazine|forecast|apparently|i heard|heard that|heard of|supposedly|rumour|read somewhere"
        r"|read that|they say|people say|some say|according to(?! (?:the |my |our )?(?:<I>|<P>|probe|meter"
        r"|thermometer))|in theory|back home|in italy|in spain"
        r"|in france|in the shop|at the shop"
        r"|the shop (?:has|had|sells|says|said|does)|pizzeria|restaurant|the pub|met office|the news"
        r"|somebody told|the manual|the paper|in a film|on holiday|another school|other school"
        r"|the other school|in london)",
    ),
    # jokes and comparisons
    (
        "message",
        r"(?:joking|kidding|joke|jokes|jk|only messing|pulling your leg|april fool|as if|pretend|imagine"
        r"|imaginary|in my dreams|dreamt|dreamed|dream|pretended|pretending|make believe)",
    ),
    (
        "clause",
        r"(?:feels like|felt like|hotter than|colder than|as hot as|as cold as|like a|like an|looks like a"
        r"|smells like|tastes like|could fry|could swear|million|billion|a hundred times|wouldn't it be"
        r"|what a)",
    ),
    (
        "clause",
        r"(?:trick question|for example|for instance|e g|eg|hypothetically|in principle|practice run"
        r"|as a rule|rule of thumb|rule|anyone else|example)",
    ),
)
