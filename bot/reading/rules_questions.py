"""Questions to the bot. What is asked of people ("can someone bring the long peel") matches none of these and stays silent."""
from __future__ import annotations

import re
from collections.abc import Callable
from typing import Any

from bot.reading.clock_times import Ago, Clock
from bot.reading.items import Item, Row
from bot.reading.lexicon import allergens_in
from bot.reading.scene import Draft, Scene, clean, compiled

ReadFacts = Callable[[Scene], None]


class Asked:
    """One question's stretch of the message, as canon text."""

    def __init__(self, scene: Scene, first: int, last: int) -> None:
        self.scene = scene
        self.first, self.last = first, last
        start, stop = scene.row.offset(first), scene.row.offset(last)
        self.text = scene.row.canon[start:stop].strip()
        self.offset = start
        self.words = set(scene.row.words(first, last))

    def match(self, pattern: str) -> re.Match[str] | None:
        return compiled(pattern).search(self.text)

    def items(self, kind: str) -> list[int]:
        return [n for n in range(self.first, self.last) if self.scene.items[n].kind == kind]

    def name(self, kind: str) -> str | None:
        found = self.items(kind)
        return str(self.scene.items[found[0]].value) if found else None

    def text_of(self, match: re.Match[str], group: str) -> str:
        a, b = self.scene.row.items_of(self.offset + match.start(group), self.offset + match.end(group))
        return self.scene.row.text(a, b)


def questions(scene: Scene, read_facts: ReadFacts) -> None:
    """Every question of the message, in order."""
    for first, last in _regions(scene):
        _ask(scene, first, last, read_facts)


def _regions(scene: Scene) -> list[tuple[int, int]]:
    found: list[tuple[int, int]] = []
    at = 0
    while at < len(scene.items):
        if scene.moods[at] == "question":
            end = at
            a, b = scene.sentence(at)
            while end < b and scene.moods[end] == "question":
                end += 1
            found.append((at, end))
            at = end
        at += 1
    return found


def _ask(scene: Scene, first: int, last: int, read_facts: ReadFacts) -> None:
    asked = Asked(scene, first, last)
    if not asked.text.strip(" .,?!:;-"):
        return
    for rule in (_what_if, _help, _log, _hush_or_person, _why, _who, _measure, _refuel, _plan, _chill_time, _amount, _allergens, _ready_by, _oven_at, _safe, _eta, _status):
        fields = rule(asked, read_facts)
        if fields is not None:
            if fields.get("is") == "person":
                return
            if fields == {"is": "ready_by"} and _second_try(scene, first, last):
                return
            draft = scene.add(fields, first, last, f"question {fields['is']}", question=True)
            draft.hidden["pronoun"] = _pronoun(asked)
            return
    _second_try(scene, first, last)


def _second_try(scene: Scene, first: int, last: int) -> bool:
    """ "brisket for 3 o'clock, are we ok?": the clause before belongs to the question."""
    a, b = scene.sentence(first)
    if first == a or scene.items[b - 1].word != "?":
        return False
    before, _ = scene.segment(max(a, first - 2))
    if any(scene.used[before:first]) or not compiled(r".*(?:are we|is it|is that|will it|will that|still|we|ok|on track|doable|possible|any chance|good|realistic).*").fullmatch(Asked(scene, first, last).text):
        return False
    asked = Asked(scene, before, last)
    by = _time(asked, meal=True)
    if by is None or asked.items("P") or any(scene.items[n].kind == "H" for n in range(before, first)):
        return False
    scene.add(_named(asked, {"is": "ready_by", "by": by}), before, last, "question ready_by", question=True)
    return True


def _pronoun(asked: Asked) -> bool:
    return bool(asked.words & {"it", "they", "that", "this", "there", "them", "these", "those"})


def _named(asked: Asked, fields: dict[str, Any], *, oven: bool = True, dish: bool = True) -> dict[str, Any]:
    if oven and (name := asked.name("O")) is not None:
        fields["oven"] = name
    if dish and (name := _dish(asked)) is not None:
        fields["dish"] = name
    return fields


def _dish(asked: Asked) -> str | None:
    for n in asked.items("D"):
        item = asked.scene.items[n]
        if str(item.value) in ("stock", "broth", "meat") and str(item.value) not in asked.scene.context.dishes:
            continue
        return str(item.value)
    return None


def _time(asked: Asked, *, meal: bool = False, loose: bool = False) -> str | None:
    scene = asked.scene
    for n in range(asked.first, asked.last):
        item = scene.items[n]
        before = scene.items[n - 1].word if n else ""
        said: Clock | Ago | None = None
        if item.kind == "T":
            said = item.value
        elif item.kind == "U" and (before in ("in", "after") or (n + 1 < len(scene.items) and scene.items[n + 1].word in ("from", "time", "'s"))):
            said = Ago(float(item.value))
        elif item.kind == "N" and (loose or before in ("at", "by", "for", "till", "until", "make", "before", "around", "about", "hit", "come")):
            after = scene.items[n + 1].word if n + 1 < len(scene.items) else ""
            if after in ("people", "guests", "of", "eating", "degrees", "students", "minutes", "kg"):
                continue
            said = scene.clock(f"N{n}")
            if isinstance(said, Clock) and item.value.value > 24 and said.minute == 0 and not item.value.words:
                continue
        if said is not None:
            return scene.coming_meal(said) if meal else scene.coming(said)
    return None


_CHANGES = {"leave": "left", "put": "put", "feed": "fed", "rake": "raked", "move": "moved", "take": "took", "turn": "turned", "open": "opened", "add": "added", "light": "lit",
            "close": "closed", "shut": "shut", "pull": "pulled", "get": "got", "shift": "shifted", "top": "topped", "spread": "spread", "give": "gave", "chuck": "chucked", "throw": "threw", "stick": "stuck",
            "load": "loaded", "swap": "swapped", "bring": "brought", "prop": "propped", "crack": "cracked", "slide": "slid", "drop": "dropped", "transfer": "transferred", "lift": "lifted", "keep": "left", "kept": "left", "have": "had",
            "pop": "popped", "stoke": "stoked", "leaving": "left", "putting": "put", "feeding": "fed", "raking": "raked", "moving": "moved", "taking": "took", "turning": "turned", "opening": "opened", "adding": "added", "lighting": "lit",
            "closing": "closed", "shutting": "shut", "pulling": "pulled", "topping": "topped", "propping": "propped", "stays": "is", "goes": "goes", "comes": "comes", "cook": "cook", "clear": "cleared", "fire": "fire", "loading": "loaded", "go": "going", "come": "came", "went": "going", "came": "came", "browned": "browned", "seal": "sealed", "rotate": "rotated"}
_DROPPED = frozenset("i we you they someone could can would should were was just only also do did decide decided maybe say have".split())


def _what_if(asked: Asked, read_facts: ReadFacts) -> dict[str, Any] | None:
    opener = compiled(r"(?:(?:and|so|but|ok|then|hey|also|or) )*(?:what if|what happens (?:if|when)|what would happen if|what will happen if|what about if|what 's the (?:effect|cost|damage) (?:if|of)|what 's effect if|what difference (?:does it make|would it make|is there) if|suppose|supposing|say (?=we|i)|how (?:much|long|late|bad|far|many|hot|will|would)(?: <DW>| <O>| <P>)*? if|(?:would|will|does|could|can|is|do) (?:it|we|that|this|<D>|<O>|<P>)(?: <DW>| <O>| <P>| <N>| <T>)*? if|when (?:<DW> |<O> |<P> )*?if|if|what (?:<DW> |<O> )*?if|what about|how about|what does it cost (?:if|to)|what would it cost (?:if|to)|what does it do if|would <DW>(?: <DW>)? help|any harm (?:if|in)|any difference if|where (?:<DW> |<O> )*?if)(?= )")
    match = opener.match(asked.text)
    if match is None:
        return None
    head = match.group()
    if head.endswith(("about", "help")) and not asked.match(r"(?:leaving|putting|feeding|raking|moving|taking|opening|adding|turning|propping|shutting|closing|lighting|topping|pulling)"):
        return None
    scene = asked.scene
    _, begin = scene.row.items_of(asked.offset, asked.offset + match.end())
    stop = _main_clause(scene, begin, asked.last, head)
    kept: list[Item] = []
    for n in range(begin, stop):
        item = scene.items[n]
        if item.kind == "" and item.word in _DROPPED:
            if item.word in ("was", "were") and n > begin and scene.items[n - 1].kind in ("D", "P", "O"):
                kept.append(item)
            continue
        if item.kind == "" and item.word in ("'d", "'ll", "will", "going", "don't") and item.word != "going":
            continue
        if item.kind == "" and item.word in _CHANGES:
            word = _CHANGES[item.word]
            kept.append(Item("", word, item.start, item.end))
            continue
        if item.kind == "." and item.word == "?":
            continue
        kept.append(item)
    if not kept:
        return {"is": "what_if", "facts": []}
    sub = Scene(Row(scene.row.message, kept), scene.context)
    read_facts(sub)
    _eating(sub)
    facts = [_nested(sub, draft) for draft in sorted(sub.drafts, key=lambda each: each.first) if not draft.question and draft.kind not in ("incident", "note", "fix", "task", "hush")]
    return {"is": "what_if", "facts": [each for each in facts if each is not None]}


def _main_clause(scene: Scene, begin: int, last: int, head: str) -> int:
    """ "if I leave the door off ten minutes, when will it be done?": the condition ends where the question begins."""
    del head
    for n in range(begin, last):
        if scene.items[n].kind == "." and scene.items[n].word == ",":
            after = scene.items[n + 1].word if n + 1 < last else ""
            if after in ("when", "how", "what", "will", "does", "is", "would", "are", "do", "where", "can", "then", "it", "whats", "still", "any"):
                return n
    return last


def _eating(sub: Scene) -> None:
    """ "eat at 2", "16 people come" inside a what-if."""
    if any(draft.kind == "serve" for draft in sub.drafts):
        return
    for found in sub.find(r"(?:eat|ate|eating|serve|serving|lunch|dinner)(?: (?:is|at|later|earlier|instead|by|around|moved|to|pushed|back|<W>))*? (?P<t><TN>)"):
        clock = found.time("t")
        if clock is not None:
            sub.add({"is": "serve", "by": sub.coming_meal(clock)}, found.first, found.last, "eating time")
            return


def _nested(sub: Scene, draft: Draft) -> dict[str, Any] | None:
    fields = dict(draft.fields)
    a, b = sub.segment(draft.first)
    minutes = [n for n in range(a, b) if sub.items[n].kind == "U" and sub.items[n - 1].word not in ("in", "after", "every")]
    later = [n for n in range(a, b) if sub.items[n].kind == "U" and sub.items[n - 1].word in ("in", "after")]
    if fields["is"] in ("door", "pot", "fire", "check", "chill", "reheat") and minutes and "minutes" not in fields:
        nearest = [n for n in minutes if sub.used[n] is None or True]
        fields["minutes"] = float(sub.items[nearest[0]].value)
    times = [n for n in range(a, b) if sub.items[n].kind in ("T",)]
    if "at" not in fields and fields["is"] not in ("serve", "guests", "class") and times:
        fields["at"] = sub.coming(sub.items[times[0]].value)
    elif "at" not in fields and later and fields["is"] not in ("serve", "guests", "class"):
        fields["at"] = sub.coming(Ago(float(sub.items[later[0]].value)))
    if fields["is"] in ("reading", "door", "fire", "pot") and "oven" not in fields:
        ovens = [item for item in sub.items if item.kind == "O"]
        if ovens:
            fields["oven"] = str(ovens[0].value)
    if fields["is"] in ("pot", "food", "load", "check", "stage", "chill", "reheat", "contents") and "dish" not in fields:
        dishes = [str(item.value) for item in sub.items if item.kind == "D" and str(item.value) not in ("stock", "broth", "water")]
        if dishes:
            fields["dish"] = dishes[0]
    return fields


def _help(asked: Asked, read_facts: ReadFacts) -> dict[str, Any] | None:
    del read_facts
    if asked.match(r"what (?:can|could|should|may|do) (?:i|we|you|people|one) (?:say|ask|tell|type|do|write|understand|know|send|post|read|track)(?: (?:you|to you|here|for (?:me|us)|about|in here|yardhand|bot|him|with you|it))*(?: ?[?.!])*$|^help(?: me| please)?(?: (?:with (?:you|this|the bot)|bot))?(?: ?[?!.])*$|how do (?:i|we) (?:use|talk to|work|ask|speak to|tell) (?:you|this|it|bot|this thing|this bot)|how does (?:this|it|bot|this thing|this bot) work|what (?:commands|words|questions|things|sort of things|kind of things|messages) (?:do|can|are|should|could) (?:you|i|we|there)|what do you (?:understand|know about|do|listen for|read)|how (?:do|should) (?:i|we) (?:word|phrase|say|write)(?: (?:it|things|this|that|stuff|readings))?(?: ?\?)*$|what (?:are|is) you (?:for|able|good)|show (?:me )?help|what else can (?:i|we|you)|how can you help|what can you help|what can you do"):
        return {"is": "help"}
    return None


def _log(asked: Asked, read_facts: ReadFacts) -> dict[str, Any] | None:
    del read_facts
    noun = r"(?:chart|charts|graph|graphs|plot|curves?|tables?|summary|recap|round up|log|logs|record|records|history|numbers|readings|temps|timeline|write up|report|list of readings|notes so far|story so far|diary|sheet|log page|run down|rundown|overview|log book|logbook)"
    verb = r"(?:post|show|print|send|share|see|get|have|give|display|draw|plot|pull up|bring up|put up|make|do|write|drop|throw up|view|want|read|type|chart|stick up|sum up|summarise|summarize|look at)"
    ask = asked.match(rf"(?:{verb})(?: (?:me|us|a|an|up|the|today 's|our|out|quick|full|class|whole|all|over|latest|in here|everyone|to|them|of|temperature|temp|heat|oven|<O>|<D>|<P>|today|this|that|morning 's|fire))* (?P<form>{noun})|^(?:(?:the|a|quick|full|today 's|class) )*(?P<form2>{noun})(?: (?:please|so far|of|for|today|<O>|<D>|till now|up to now|the|class|day|to date|everything))*(?: ?[?!.])*$|where 's (?:the )?(?P<form3>{noun})|(?:sum|summarise|summarize)(?: (?:it|up|things|class|today|day|us))+|(?:is|are) there (?:a )?(?P<form4>{noun})|(?:got|have you got) (?:a |the )?(?P<form5>{noun})")
    if ask is None:
        return None
    if asked.match(r"(?:oven|barrel|dome) log|log (?:on|in|onto)|another log|a log on|more logs|logs (?:on|in|left|do)|table (?:cloth|number|for)|for table|long table|which reading|what reading|reading (?:do|would|should)|how many|need"):
        return None
    if asked.text.split()[0] in ("which", "who", "when", "how", "why") and not asked.text.startswith("how about"):
        return None
    form = next((value for value in ask.groupdict().values() if value), "summary" if "sum" in ask.group() else "")
    fields: dict[str, Any] = {"is": "log"}
    if re.match(r"chart|graph|plot|curve", form) or ask.group().split()[0] in ("plot", "draw", "chart"):
        fields["form"] = "plot"
    elif re.match(r"table|sheet|list of readings", form):
        fields["form"] = "table"
    elif re.match(r"summary|recap|round up|write up|run ?down|overview|story", form):
        fields["form"] = "summary"
    elif form in ("numbers", "readings", "temps") and asked.match(rf"(?:see|have|get|want|read) .*{form}") and not asked.match(r"(?:so far|all|today)"):
        return None
    return fields


def _hush_or_person(asked: Asked, read_facts: ReadFacts) -> dict[str, Any] | None:
    """What is asked of people."""
    del read_facts
    if asked.match(r"^(?:(?:ok|hey|and|so|hi) )*(?:can|could|would|will|did|has|have|is|does|do) (?:someone|somebody|anyone|anybody|one of you|you all|you lot|you guys|you two|tomos|idris|bea|mara|everyone|everybody)"):
        return {"is": "person"}
    if asked.match(r"^(?:can|could|would|will) you (?:bring|pass|grab|get|fetch|take|help|come|give me a hand|hold|move|put|open|shut|close|check|turn|feed|look|watch|swap|do|carry|lend|pop|keep|stop|stand|please (?:bring|pass|grab|get|fetch|take|put|open|shut|turn|feed)|make|call|ring|ask|tell (?:them|him|her|everyone)|hear|see|stir|wash|light|rake|chop|cover|lift|cut|run|set)"):
        return {"is": "person"}
    if asked.match(r"^(?:who|what|where|which) (?:wants|want|fancies|needs a|needs to|left|moved|took|stole|ate|is hungry|'s hungry|likes|brought|ordered|'s coming|is coming|'s for|'s in for|'s up for|else|parked|broke|put|'s that|is that|'s this|knows|told|said|can|could|will|would|should)"):
        return None if asked.match(r"^who (?:should|will|would|can|could) (?:be )?(?:watch|watching|have|take|do|feed|look after|mind)|^what (?:should|will|would|could|can|is that|'s that|'s this|'s in)|^which|^where|who (?:took|left) (?:over )") else {"is": "person"}
    return None


def _why(asked: Asked, read_facts: ReadFacts) -> dict[str, Any] | None:
    del read_facts
    if not asked.match(r"^(?:(?:and|so|but|ok|hey|any idea|do you know|tell me|explain) )*(?:why|how come|what 's (?:causing|making|behind|gone wrong)|what is (?:causing|making)|what made|what changed|what makes|for what reason)"):
        return None
    if asked.match(r"why (?:don't|not|are you|is everyone|do people|did you|isn't anyone|is nobody|do i|did i|am i|is she|is he|are they all|can't we|bother|me)(?! (?:think|say|reckon|believe|so|expect|move|change|trust|using|used|throw|read))") and not asked.items("D") and not asked.items("O") and not asked.items("P"):
        return {"is": "person"}
    return _named(asked, {"is": "why"})


def _who(asked: Asked, read_facts: ReadFacts) -> dict[str, Any] | None:
    del read_facts
    match = asked.match(r"^(?:(?:and|so|ok|hey|right|remind me|tell me|do we know) )*(?:who|who else|which of (?:you|us)) (?:'s got|'s on|has got|has|'s|is|got|is on|had|takes|took|took over|is doing|does|is watching|'s watching|was on|owns|looks after|minds|watches|should|will be|will|runs|claimed|feeds|have|holds)(?: (?:looking after|watching|minding|got|on|doing|in charge of|covering|taking|taking care of|running|feeding|the one on|responsible for|having|have|supposed to be on|supposed to be watching|supposed to be doing|meant to be on|meant to be watching|be on|be watching|watch|take|manning|holding|keeping an eye on|sorting|handling|down for|tending|seeing to|with|keeping|over|charge of|mind|feed|do))*(?: (?P<what>.+?))?(?: (?:now|today|right now|at moment|at the moment|next|this time|then|currently|please|tonight|from here|while (?:i|we) <DW>.*|till <T>|at <T>|after <T>|for now))*(?: ?[?!.])*$")
    if match is not None and match.group("what"):
        what = clean(asked.text_of(match, "what"))
        words = what.split()
        if words and not (set(words) & {"hungry", "coming", "here", "there", "that", "this", "ready", "up", "late", "missing", "eating", "vegan", "allergic", "birthday", "thirsty", "you", "who"}) and len(words) <= 5:
            head = asked.match(r"^who (?:'s|is|was|will be|will|should|has|had)(?: (?:got|on|looking after|watching|minding|doing|covering|feeding|running|manning|in charge of|taking|keeping an eye on|handling|holding|tending|responsible for|supposed to be (?:on|watching|doing)|meant to be (?:on|watching)|be (?:on|watching|feeding)|seeing to|down for|taking care of|sorting|taken|with))+")
            has = asked.match(r"^(?:and |so |ok )?who (?:'s got|has|has got|got|had|takes|took|owns|looks after|minds|watches|runs|feeds|does|is on|'s on)")
            if head or has:
                if words[0] in ("a", "an", "any", "some", "my", "time", "got", "been", "seen", "left", "eaten", "moved", "made", "the time", "taken", "brought", "used", "put", "room", "spare", "change", "nut", "allergy", "allergies", "car", "phone", "keys"):
                    return {"is": "person"}
                return {"is": "who", "what": what}
    if asked.match(r"^who "):
        return {"is": "person"}
    match = asked.match(r"^(?:is|has) (?:anyone|anybody|someone|somebody) (?:got|on|watching|looking after|minding|doing|feeding|covering) (?P<what>.+?)(?: ?[?!.])*$")
    if match is not None:
        return {"is": "who", "what": clean(asked.text_of(match, "what"))}
    return None


def _measure(asked: Asked, read_facts: ReadFacts) -> dict[str, Any] | None:
    del read_facts
    if asked.match(r"(?:what|which|where|any|anything|what else|which one)(?: (?:reading|readings|temp|temps|temperature|temperatures|measurement|measurements|number|numbers|spot|spots|place|one|figure|bit|thing|else|probe|shot|check))*(?: (?:do you|would you|should i|should we|shall i|shall we|you|do i|can i|would|will|could i|d 'you|next|is|are|to|else))*(?: (?:want|need|like|take|read|measure|check|help|useful|shoot|probe|prefer|most useful|missing|after|help most|be useful|test|do|give you|tell you|get you))(?: (?:me|us|to|measure|read|take|check|next|first|from (?:me|us)|now|you|most|shoot|probe|measured|measuring|reading|checked|checking|for you|a|get|send|tell|best|test))*(?: ?[?!.])*$") and asked.words & {"reading", "readings", "measure", "measured", "measurement", "measurements", "temp", "temps", "temperature", "temperatures", "read", "spot", "spots", "number", "numbers", "check", "probe", "shoot", "shot", "take", "measuring", "test", "figure"} and not asked.items("D") and not asked.match(r"(?:order|food|sauce|bread|bring|home|photo|tea|drinks|break|turn|away)"):
        return {"is": "measure"}
    if asked.match(r"(?:do you (?:want|need)|want|need|would you like|shall i (?:take|get|do)|should i (?:take|get|do)|do you need me to)(?: (?:a|another|any|more|me to|to|us to|take|get|do|shoot|read|the|new|fresh|check))* (?:readings?|temps?|temperatures?|measurements?|measure|shot|numbers?|measured|hand count|probe reading)"):
        return {"is": "measure"}
    if asked.match(r"where (?:should|shall|do|can) (?:i|we|you want me to|you want us to) (?:point|aim|shoot|measure|read|stick|put|probe)(?: (?:the|me to))?(?: (?:<I>|probe|thermometer|next|temp|first))*|what 's next to (?:measure|read|check)|what (?:to|needs) (?:measure|read|measuring|reading)"):
        return {"is": "measure"}
    return None


def _refuel(asked: Asked, read_facts: ReadFacts) -> dict[str, Any] | None:
    del read_facts
    wood = r"(?:wood|feeding|fuel|fuelling|a split|another split|another log|a log|stoking|a feed|logs?|splits?|more wood|refuelling|more fuel|topping up with wood|another piece|a bit more wood|feed|fed|stoked|another stick|a stick|more on|another one on|one more on|another)"
    if asked.match(rf"(?:does|do|will|is|should|would|can)(?: <DW>| <O>| <P>)*? (?:want|need|needing|ready for|due|take|hungry for|wanting|require|like|asking for|short of|after|be due|due for)(?: (?:more|some|any|to be|a|an|another|its|it|be|bit|bit of|bit more|yet|the))*? {wood}(?! to (?:eat|serve|drink))") and not asked.items("D"):
        return _named(asked, {"is": "refuel"}, dish=False)
    if asked.match(r"(?:when|what time|how soon|how long (?:till|until|before|to)|how often)(?: <DW>| <O>| <P>)*? (?:feed|feeding|fed|wood|fuel|stoke|split|log|refuel|stoking|refuelled|splits|logs)(?! (?:everyone|the guests|guests|people|them|kids))") and not asked.items("D") and not asked.match(r"light|eat|delivery|arrive|chop|how much"):
        return _named(asked, {"is": "refuel"}, dish=False)
    if asked.match(r"(?:should|shall|do|must|can|ought|could) (?:i|we) (?:feed|stoke|refuel|need to feed|have to feed|add|put|chuck|throw|give|stick|top up|want|need)(?: (?:it|<O>|fire|more|another|some|a|on|wood|split|log|any|to|feed|fire up|one|in|put|add|the))* ?(?:wood|split|splits|log|logs|fire|<O>|it|fuel|on|piece|feed)(?: (?:on|in|now|yet|again|the|<O>|fire|soon|to|it|another|more))*(?: ?\?)*$") and asked.match(r"(?:wood|split|splits|log|logs|fuel|feed|stoke|refuel)") and not asked.items("D"):
        return _named(asked, {"is": "refuel"}, dish=False)
    if asked.match(r"^(?:(?:ok|so|and|hey) )*(?:(?:more|another|any|time for|need|needs|needing|next) )+(?:wood|split|log|feed|feeding|fuel|logs|a split|another split|another log|a log|a feed|more wood)(?: (?:needed|yet|now|on|for|in|due|when|the|<O>|fire|wanted|at|required|soon))*(?: ?\?)*$|^(?:wood|feed|split|log|fuel)(?: (?:now|yet|time|due|needed|wanted|on))*(?: ?\?)+$|is (?:it |fire |<O> |there )?(?:time|enough|getting|running)(?: (?:to|for|short|low))*(?: (?:feed|another|more|wood|a|split|log|of|on|stoke|fire|it|in|fuel|the|<O>))+|(?:is|are) there enough (?:wood|fire|fuel) (?:on|in)|is (?:fire|<O>) (?:hungry|getting low|dying|dying down|burning low|ok for wood|alright for wood|low)|does (?:fire|<O>|it) (?:need|want) (?:me|anything|attention|something|any more|more)|how 's (?:fire|<O>) for (?:wood|fuel)|<O> (?:need|needs|want|wants|due|hungry)(?: (?:more|a|some|another|any))*(?: (?:wood|feeding|split|log|fuel|feed))+|(?:fire|it) (?:need|needs|want|wants)(?: (?:more|a|some|another|any))*(?: (?:wood|feeding|split|log|fuel|feed))+") and not asked.items("D"):
        return _named(asked, {"is": "refuel"}, dish=False)
    return None


def _plan(asked: Asked, read_facts: ReadFacts) -> dict[str, Any] | None:
    del read_facts
    light = r"(?:light|lit|fire up|start|get|begin|kindle|lighting|firing|fire|relight|put|load|rake|set|have|go|need)"
    if not asked.match(rf"(?:when|what time|how early|how soon|by when|how late|at what time)(?: (?:should|shall|do|must|does|would|can|need|ought|could|to|for|did|is|will|best|'s|latest|you|reckon|suggest|say|the|are|have|a|good|earliest|time))*(?: (?:i|we|you|one|someone|<D>|<O>|fire|pot|idris|tomos|bea|mara|they|it|the))*(?: (?:need|have|want|best|to|be|reckon|ought|got|start|have to|should|get|going))*(?: (?:to|lighting))*(?: ?{light})") and not asked.match(r"what 's the plan|lighting time|(?:when|what time) to (?:light|fire|start|rake|load)|light up time|lighting up time|(?:when|what time) 's lighting"):
        return None
    lights = asked.match(r"(?:light|light up|lit|fire up|kindle|lighting|firing|relight|light up)|(?:start|begin|get|have|start on) (?:the )?(?:fire|<O>|firing|oven|lighting)|start firing|fire (?:up )?(?:the )?(?:<O>|oven|it)|fire (?:up )?for|get (?:the )?(?:fire|oven|<O>) (?:going|lit|started|on)|fire (?:to be|be) lit|start (?:up )?(?:to|for)")
    puts = asked.match(r"(?:put|load|get|have|set|go|start)(?: (?:<D>|pot|it|on|them|into))*(?: (?:in|into|go in|in for|to go in|cooking|goes in))|(?:<D>|pot|it) (?:to )?(?:go|goes|be|need to go|have to go|has to go|need to be) in|load (?:the )?(?:<D>|pot|<O>|it|oven)|start (?:the )?<D>|rake out|rake")
    eats = asked.match(r"(?:eat|eating|lunch|serve|dinner|serving|supper|feed|sit down|guests|people)")
    if not (lights or (puts and (eats or asked.items("T"))) or (puts and asked.match(r"(?:should|shall|must|need|do) "))):
        return None
    if asked.match(r"when (?:is|are|will|'s) (?:<D>|<O>|it|they)(?: <DW>)* (?:ready|done|finished|cooked|tender)") and not lights:
        return None
    fields: dict[str, Any] = {"is": "plan"}
    by = _time(asked, meal=True)
    if by is not None:
        fields["by"] = by
    guests = _people(asked)
    if guests is not None:
        fields["guests"] = guests
    return _named(asked, fields)


def _people(asked: Asked) -> int | None:
    match = asked.match(r"for (?P<n><N>)(?= ?(?:$|people|guests|of us|eating|\?|,|at|students|and|to|adults|in|heads|by|portions|mouths|hungry|eaters|today|tomorrow|kids|at|then|tonight|on|with|please|if|who|it|we|when|lunch|dinner|<D>))|(?P<m><N>) (?:people|guests|of us|students|eating|adults|mouths|portions|eaters|kids|children|diners)|(?:feed|feeding|serve|serving|to feed|cooking for) (?P<o><N>)")
    if match is None:
        return None
    token = next(value for value in match.groupdict().values() if value)
    number = asked.scene.number(token)
    return int(number) if number is not None and number == int(number) and 0 < number < 1000 else None


def _chill_time(asked: Asked, read_facts: ReadFacts) -> dict[str, Any] | None:
    del read_facts
    cold = r"(?:chill|chilled|cool|cooled|cooling|chilling|cold|cool down|chill down|get cold|be cold|get down to (?:fridge temp|fridge|<V>)|below <V>|under <V>|fridge temp|fridge cold|cool off|fridge-cold|down to <V>|cooled down|chilled down|chilled through)"
    if not asked.match(rf"(?:how long|when|what time|how quick|how quickly|how fast|how soon|how much time|will|can)(?: .*)? {cold}"):
        if not asked.match(r"how long(?: <DW>| <L>| <C>| <D>)* (?:on ice|in ice|in ice bath|in an ice bath|in fridge|on side)") or asked.match(r"how long (?:can|is it ok|may|could|will it keep|does it keep|should)"):
            return None
    if asked.items("O") or asked.items("P") or asked.match(r"(?:oven|brick|floor|class|barrel|can (?:it|<D>|they) (?:stay|sit|be left|stand|wait)|how long can|beers?|drinks|wine)") or (asked.match(r"^(?:will|can)") and not asked.match(r"in time|by <T>|before")):
        return None
    if asked.match(r"cool (?:to|down to|off to) <V>") and not (asked.items("D") or asked.items("L") or asked.items("C")):
        return None
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
    return _named(asked, fields, oven=False)


def _amount(asked: Asked, read_facts: ReadFacts) -> dict[str, Any] | None:
    del read_facts
    match = asked.match(r"(?:how (?:much|many)|what (?:weight|quantity|amount|volume) of|how (?:big|large|heavy) (?:a|an))(?: (?:kilos?|kg|litres?|grams|pounds|pints|loaves|portions|bags|pieces|ml|lb) of)?(?: (?:more|extra))? (?P<item>(?:<W>|<D>)(?: (?:<W>|<D>)){0,2}?)(?= ?(?:$|for|do|does|should|to|will|would|can|shall|\?|per|are|we|i|each|is needed|needed|goes|in|with|did|must|on|serves|makes|feeds|have|per head|at))")
    if match is None or asked.match(r"how (?:much|many) (?:longer|time|more time|is|are|was|were|did|heat|hotter|cooler|warmer|of|do|does|will|would|minutes|hours|degrees|later|colder|has|have|should|slower|faster|difference|notice|left|further|room|space|to|wiggle|slack|chance|hope)"):
        match = asked.match(r"how (?:much|many) (?:do|should|does|will) (?:i|we) (?:need|want|get|buy|order|use|put|make|cook)(?: of)? (?P<item>(?:<W>|<D>)(?: (?:<W>|<D>)){0,2}?)(?= ?(?:$|for|\?|to|in))") or asked.match(r"(?:will|is|are|would) (?:<N>|<K>|<L>|a|an)(?: (?:kilo|kilos|kg|litres|litre))*(?: of)? (?P<item>(?:<W>|<D>)(?: (?:<W>|<D>))?) (?:be )?enough(?= )")
        if match is None:
            return None
    guests = _people(asked)
    left = asked.match(r"(?:left|remaining|have we got|do we have|have we|is there|are there|did we|did you|was|is in|are in|in there|gone|have i got|are coming|are eating|does it cost|cost|per kilo|have you|is on|did i|has)")
    if left and guests is None:
        return {"is": "person"}
    item = clean(asked.text_of(match, "item"))
    if not item or item.split()[0] in ("people", "guests", "longer", "more", "chairs", "tables", "students", "of", "time", "minutes", "hours", "degrees", "readings", "times", "days", "coeliacs", "allergies", "does", "do", "is"):
        return {"is": "person"}
    fields: dict[str, Any] = {"is": "amount", "item": item.removeprefix("more ")}
    if guests is not None:
        fields["guests"] = guests
    return fields


def _allergens(asked: Asked, read_facts: ReadFacts) -> dict[str, Any] | None:
    del read_facts
    scene = asked.scene
    dish_at = [n for n in asked.items("D")]
    words = [item.words for item in scene.items[asked.first:asked.last]]
    flat = [word for each in words for word in each]
    dish: str | None = None
    for n in reversed(dish_at):
        before = {scene.items[m].word for m in range(max(asked.first, n - 2), n)}
        if before & {"in", "is", "does", "has", "on", "are", "do", "with", "of", "eat", "have", "about", "for", "of", "can", "contain", "got"} or n == dish_at[-1]:
            dish = str(scene.items[n].value)
            dish_n = n
            break
    rest = [word for n in range(asked.first, asked.last) if scene.items[n].kind != "." and not (dish is not None and n == dish_n) for word in scene.items[n].words]
    named = allergens_in([word for word in rest if word not in ("free",)])
    fields: dict[str, Any] = {"is": "allergens"}
    has = asked.match(r"(?:any|is there|are there|there any|does|do|has|have|contain|contains|got|did (?:we|you|anyone|i) (?:use|put|add)|is there any|what about|did) .*|.*(?:free|safe for|ok for|okay for|suitable for|alright for|fine for|all right for|can (?:a|the|our|my)?.*(?:eat|have)).*|which .*")
    if named and has and not asked.match(r"how (?:much|many|long)|(?:who|when|what time|why|where)|do we have (?:any )?(?:<W>|<D>) left|(?:any|got any) (?:<W>|<D>) left|can (?:you|someone|anyone|we|i) (?:get|buy|bring|pass|put|add|use)|need (?:more|any)|left \?|ready|done|make <T>|overnight|reheat|keep|leave|by <T>|at <T>|out of (?:<W>|<D>) \?|want(?:s)? |shall|should|enough"):
        if dish is None and not asked.match(r"(?:in|free|contain|contains|has|have|got|eat|use|safe|ok|okay|suitable|allergen|allergens|any|there)"):
            return None
        about_guests = asked.match(r"(?:any|are there any|is there any|do we have any|got any|have we got any|how many) (?:coeliacs?|(?:nut|egg|milk|sesame|fish|dairy|celery|mustard|soya?) allerg(?:y|ies))(?: (?:today|in|coming|this time|on|at|booked|tonight))*(?: ?\?)*$")
        if about_guests:
            return {"is": "person"}
        fields["allergen"] = named[0]
        if dish is not None and str(dish) not in ("bread",) or (dish is not None and dish in scene.context.dishes) or (dish == "bread" and named and "bread" not in named):
            fields["dish"] = dish
        return fields
    if asked.match(r"(?:what|which) (?:allergens?|allergies)|any allergens|allergens? (?:in|for|list|sheet|of)|list (?:the )?allergens|what 's (?:in|in the|inside)(?: (?:the|that|this|it))*(?: (?:<D>|pot|rub|marinade|sauce|gravy|dressing|it|that|there))(?: (?:again|exactly|made of|please))*(?: ?\?)*$|what 's (?:<D>|it) made (?:of|with)|what (?:is|did|went|goes|have) (?:you |we |i )?(?:in|put in|into|used in|put into) (?:<D>|it|there|rub|marinade|sauce|gravy)|what is in (?:<D>|it|there|rub|marinade|sauce|gravy)|ingredients (?:of|in|for)|what does (?:<D>|it) (?:contain|have in it)|(?:is|are) (?:<D>|it|they) (?:allergen free|free of allergens)|contains what|what (?:are )?ingredients|what 's in it"):
        if dish is not None:
            fields["dish"] = dish
        return fields
    return None


def _ready_by(asked: Asked, read_facts: ReadFacts) -> dict[str, Any] | None:
    del read_facts
    if asked.match(r"^(?:when|how long|how much longer|why|who|where|what will|how hot|what 's|which)(?! are (?:our|chances|odds))") and not asked.match(r"what (?:are|'s) (?:the )?(?:chances?|odds|likelihood)"):
        return None
    if asked.match(r"(?:eat|serve|have lunch|sit down|feed everyone) (?:at|by|for|before) (?:<TN>)") and asked.match(r"^(?:can|could|will|are|is|shall|do|would|think)") and not asked.items("P"):
        return _named(asked, {"is": "ready_by", **_by(asked)})
    in_time = asked.match(r"(?:in time|on time|on track|on schedule|ok for (?:time|lunch|dinner|serving)|good for (?:lunch|dinner|time)|late for|behind|ahead|going to make it|make it|make lunch|make dinner|make serving|be late|cutting it fine|running late|still ok|still good|still on|are we ok|make eating time|make it for lunch|ready for (?:lunch|dinner|serving|guests|eating)|done for (?:lunch|dinner|serving|guests)|in good time|before guests|for when we eat|for lunch|for dinner|hit lunch|hit (?:our|the) time|be ready to eat|hit eating time)")
    timed = asked.match(r"(?:make|by|for|before|at|hit|come|till|until|be|for about|good for|up for|on for|in) (?:about |around )?(?P<t><TN>)|(?:in) (?P<u><U>)")
    subject = asked.items("D") or asked.match(r"(?:it|they|we|pot|meat|lunch|dinner|food|everything|this|that|all|both)")
    verbs = asked.match(r"(?:will|are|is|can|do|does|think|reckon|chance|chances|odds|likely|possible|ready|done|make|track|ok|okay|still|doable|realistic|good|going|hit|finished|tender|cooked|be|enough time|time)")
    if timed is not None and subject is not None and verbs is not None and not asked.items("P") and not _heat_talk(asked):
        if asked.items("O") and not asked.items("D") and not asked.match(r"(?:ready|done)"):
            return None
        if asked.match(r"(?:what|how) (?:will|would|hot|is)|(?:be|keep|hold|stay|still|sit|left|leave|wait)(?: <DW>)* (?:warm|hot|safe|ok to eat|out|hotter|overnight|till|until)") and not asked.match(r"(?:ready|done|make)"):
            return None
        by = _by(asked)
        if by:
            return _named(asked, {"is": "ready_by", **by})
    if in_time is not None and verbs is not None and not asked.match(r"(?:keep|stay|overnight|safe|leave|left|ok to|fridge|wood|chairs|guests arriving|bread group)"):
        return _named(asked, {"is": "ready_by", **_by(asked)})
    plain = asked.match(r"^(?:(?:ok|so|and) )*(?:<D>|everything|lunch|dinner)(?: (?:ready|done|out|tender|ok|still|on track|good|going to be))* (?:by|for|at) (?:<TN>)(?: ?\?)*$")
    if plain is not None:
        return _named(asked, {"is": "ready_by", **_by(asked)})
    return None


def _by(asked: Asked) -> dict[str, Any]:
    by = _time(asked, meal=True, loose=bool(asked.match(r"(?:make|hit|for|by|before|at) (?:<N>)")))
    return {"by": by} if by is not None else {}


def _heat_talk(asked: Asked) -> bool:
    return bool(asked.match(r"(?:how hot|what temp|temperature|degrees|how warm|what heat|hot enough|drop to|get to <V>|below <V>|above <V>|over <V>|under <V>|reach <V>)"))


def _oven_at(asked: Asked, read_facts: ReadFacts) -> dict[str, Any] | None:
    del read_facts
    scene = asked.scene
    oven_word = asked.items("O") or asked.items("P") or asked.match(r"(?:it|we|oven|temp|temperature|heat|they|brick|bricks|ovens|probe|that|this)")
    if not oven_word or (asked.items("D") and not asked.items("O") and not asked.items("P")):
        return None
    fields: dict[str, Any] = {"is": "oven_at"}
    heats = [n for n in range(asked.first, asked.last) if scene.items[n].kind == "H" or (scene.items[n].kind == "N" and scene.items[n].value.value >= 30 and scene.items[n].value.value == scene.items[n].value.value)]
    reach = asked.match(r"(?:drop|drops|fall|falls|get|gets|down|reach|reaches|hit|hits|cool|cools|come|comes|be|go|goes|hold|holds|stay|stays|below|under|above|over|at|to|past|still|touch|settle|sink|climb|rise|warm|heat|heats|lose|dip|dips|up|make|see|sees)(?: (?:to|down|back|at|below|under|above|over|past|up|about|around|be|as low as|near|on|still|to about|hot|than|of|by))* (?P<v><V>)")
    wanted = asked.match(r"^(?:(?:ok|so|and|any idea|do you know|tell me|hey|roughly) )*(?:when|what time|how long|how soon|will|how much longer|is|at what time|how many hours|would|does|can|do|by when|how quickly|how fast)")
    if reach is not None and wanted is not None:
        token = reach.group("v")
        item = scene.item(token)
        if item.kind == "H" or scene.items.index(item) in heats:
            fields["celsius"] = scene.number(token)
    by = None
    for_time = asked.match(r"(?:will|be|where|how hot|what|temp|hot|still|hold|holding|have|fall|drop|heat|expect|is|sit|sitting|at|by|would|going|should|dropped|get)")
    if for_time is not None:
        by = _time(asked, loose=bool(asked.match(r"(?:at|by|around|till|until|about|come) (?:about |around )?(?:<N>)")))
        if by is not None and "celsius" in fields:
            token_items = [n for n in heats]
            clock_only = _time_without(asked, set(token_items))
            by = clock_only
    if by is None and "celsius" not in fields:
        return _overnight(asked, fields)
    if "celsius" not in fields and not asked.match(r"(?:^(?:(?:ok|so|and|any idea|do you know|tell me|hey|roughly|predict|guess) )*(?:what|where|how hot|how warm|how much heat|how will|what 's|how|temp|forecast|will|predicted|expected|prediction|is|<O>|<P>)|what (?:will|temp|heat|would|'ll|can|should|does|do)|how hot|how warm|where (?:will|do|would|'ll))"):
        return None
    if asked.match(r"(?:ready|done|make|cooked|tender|light|lit|feed|wood|eat|serve|load)") and "celsius" not in fields and not asked.match(r"(?:what will|how hot|where will|what temp)"):
        return None
    if by is not None:
        fields["by"] = by
    places = asked.items("P")
    if places:
        fields["place"] = str(scene.items[places[0]].value)
    return _named(asked, fields, dish=False)


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
    if asked.match(r"(?:what|how hot|where|how warm)(?: <DW>| <O>| <P>)* (?:be|will|sit|end up|get to|drop to)(?: <DW>| <O>| <P>)*(?: (?:in (?:the )?morning|overnight|tomorrow|by morning|tonight|later|this evening|first thing))") and (asked.items("O") or asked.items("P")):
        places = asked.items("P")
        if places:
            fields["place"] = str(asked.scene.items[places[0]].value)
        return _named(asked, fields, dish=False)
    return None


def _safe(asked: Asked, read_facts: ReadFacts) -> dict[str, Any] | None:
    del read_facts
    if asked.match(r"^(?:(?:ok|so|and|hey) )*(?:when|what time|why|who|where)"):
        return None
    keep = r"(?:leave|leaving|left|keep|keeping|kept|hold|holding|stay|stays|sit|sitting|stand|standing|overnight|reheat|reheated|reheating|eat|serve|wait|rest|be out|out|hang about|store|freeze|stored|save|take home|use|used|warm up|cool slowly|refrigerate|sits|holds|keeps|chill|cool|go in fridge|be left|go home|do|edible|serving|eating|warm|remain|go back|last)"
    if asked.match(rf"(?:safe|ok|okay|fine|alright|all right|good|risky|dangerous|allowed|can (?:we|i|<D>|it|they|you|that|this|pot|leftovers|rest|everyone|guests|people)|could (?:we|i|<D>|it|they)|should (?:we|i|<D>|it|they) (?:chuck|bin|throw|still)|is it ok|how long can|how long (?:is|are|will|does|do|may|could)|do (?:i|we) (?:need|have) to (?:chill|bin|throw|reheat|chuck|cool)|will (?:<D>|it|they) (?:be ok|be safe|be fine|keep|hold|be alright|survive|last|still be ok|be all right)|does (?:<D>|it|that) (?:keep|need chilling|need to be)|are (?:<D>|they|those|leftovers) (?:ok|safe|still|good|fine)|is (?:<D>|it|that|this|leftover <D>) (?:ok|safe|still|good|fine|alright|edible))(?: .*)? ?{keep}") and (asked.items("D") or asked.match(r"(?:it|they|them|leftovers|leftover|rest|pot|food|meat|this|that|these|those|overnight|eat|out|meal|everything|reheat|trays?|pots?)")) and not _not_food(asked):
        return _named(asked, {"is": "safe"})
    if asked.match(r"(?:is|are|will|still|be) (?:(?:<D>|it|that|this|they|those|food|meat|leftovers|pot|rest of it|these|the)(?: <D>)? )?(?:still )?(?:safe|ok to eat|safe to eat|good to eat|fine to eat|edible|be safe|ok to serve|past it|off|gone off|ok to use|still safe|still ok|still good|still fine)(?: (?:now|still|to eat|to serve|if|at|after|in|to keep|for|there|out|or|with|like that|overnight|till|until|yet|that|to use|to chill).*)?(?: ?\?)*$") and not _not_food(asked) and (asked.items("D") or asked.match(r"(?:it|that|this|they|those|food|meat|leftovers|pot|eat|these)")):
        return _named(asked, {"is": "safe"})
    if asked.match(r"how long (?:can|will|could|is it ok|is it safe|does|do|may|should)(?: <DW>| <O>)* (?:keep|sit|stay|stand|be out|hold|be left|left|out|last|wait|leave|rest)") and not _not_food(asked) and (asked.items("D") or asked.match(r"(?:it|they|leftovers|pot|food|meat|this|that|rest|them|these)")):
        return _named(asked, {"is": "safe"})
    return None


def _not_food(asked: Asked) -> bool:
    return bool(asked.match(r"(?:door|lid|fire|wood|log|gate|chairs|bike|car|bag|coat|phone|early|here|go home|apron|dog|kids|job|smoke|park|gloves|knife|peel|embers|ash|ask|question|music|class|table|tools|radio|hose|come|talk|sit (?:down|here|with)|have a|photo|lights?|leave (?:early|now|at|soon|you|it to|my|in|at <T>)|stay (?:for|and|here|late))")) and not asked.items("D")


def _eta(asked: Asked, read_facts: ReadFacts) -> dict[str, Any] | None:
    del read_facts
    done = r"(?:done|ready|tender|cooked|finished|out|good|there|soft|falling apart|come out|eat|carve|perfect|good to go|be up|serve|ready to eat|ready to serve|come good|settled|settle|hot enough|up to heat|up to temp|ready to load|clear|load|put|pot in|be in|go in|take|equalised|even)"
    asks_when = r"(?:when|what time|how long|how much longer|how many (?:more )?(?:minutes|hours)|eta|how soon|how close|how far off|how near|roughly when|any idea when|long till|how much more time|at what time|expected|predicted|what 's (?:the )?(?:eta|time|estimate|forecast)|what (?:is|are)(?: the)? (?:eta|estimate|time)|how are we for time)"
    person = asked.match(r"(?:arrive|arriving|coming|come back|delivery|here|back from|break|lunch break|guests (?:come|arrive|get|here)|class (?:start|end|finish|over)|you (?:free|coming|back|done|here)|open|train|bus|rain|stop|tea|start|group|students|kids|clean|sunset|dark|shop|wash|washing|meet|bring|call|dough|bread group|finish up|go home|we finish|we start|we stop|we clear)")
    oven = bool(asked.items("O")) or bool(asked.match(r"(?:oven|floor|brick)"))
    dish = bool(asked.items("D")) or bool(asked.match(r"(?:it|they|meat|pot|food|lunch|dinner|that|this|pots|everything|all|we eat|both|eat|mains?)"))
    bare = asked.match(r"^(?:(?:ok|so|and|any idea|do you know|hey) )*(?:how (?:much )?long(?:er)?(?: (?:left|to go|now|still|do we have|have we got|more|then|again|yet|is left|we got))*|eta|when|how long to go|how long left|how much longer(?: now)?|how long is left|what 's eta)(?: ?\?)*$")
    if bare is not None:
        return _named(asked, {"is": "eta"})
    if asked.match(asks_when) and (dish or oven) and not person:
        if asked.match(rf"(?:be|is|are|'s|it|they|<D>|<O>|for|till|until|on|before|to|left|oven|pot|eat|longer|does|do|will|need|needs|want|wants|take|takes|have|in|floor|get|lunch|dinner|food)(?: .*)? ?(?:{done}|<D>|<O>|go|left|need|needs|longer|take|want|long|get|have|in|settle|it|lunch|dinner|food|cook|still)") and not _heat_talk(asked):
            if oven and not asked.items("D"):
                if not asked.match(r"(?:ready|settled|settle|load|hot enough|up to (?:heat|temp|temperature)|clear|even|equalised|good|done|put|go|take|pot in|cook|bake|use|long till|how long for|eta)"):
                    return None
                return _named(asked, {"is": "eta"}, dish=False)
            return _named(asked, {"is": "eta"}, oven=not asked.items("D"))
    if asked.match(r"^(?:(?:ok|so|and|hey) )*(?:is|are) (?:<D>|it|they|meat|pot|everything|lunch|that)(?: <D>)?(?: (?:nearly|almost|close to|close|anywhere near|any nearer|near|about|all|going to be|not|still not|far off|far from|getting))*(?: (?:done|ready|tender|cooked|finished|there|soft enough|good to go|being done|being ready|to come out))(?: (?:yet|now|soon|or what|to come out|to eat|to serve|already))*(?: ?\?)*$|^(?:<D>|meat)(?: (?:nearly|almost|all))*(?: (?:done|ready|tender|cooked|finished))(?: (?:yet|now|soon))*(?: ?\?)+$"):
        return _named(asked, {"is": "eta"})
    if asked.match(r"^(?:(?:ok|so|and|hey) )*is (?:<O>|oven|floor)(?: (?:nearly|almost|close to|all))*(?: (?:ready|settled|hot enough|up to (?:heat|temp)))(?: (?:yet|now|to load|for|to go|to use|soon|<D>|pot|the|to cook|bread))*(?: ?\?)*$"):
        return _named(asked, {"is": "eta"}, dish=False)
    if asked.match(r"(?:time|time left|estimate|finish time|ready time|done time|forecast|expected) (?:for|on|of) <D>|^<D> (?:eta|when|how long|time|ready when|done when)(?: ?\?)*$|^(?:eta|time) <D>|any (?:eta|estimate|idea when|update on when|time)(?: (?:on|for|of))* <D>|(?:eta|estimate) (?:for|on) <O>"):
        return _named(asked, {"is": "eta"})
    return None


def _status(asked: Asked, read_facts: ReadFacts) -> dict[str, Any] | None:
    del read_facts
    if asked.match(r"(?:dog|kids|mum|dad|weather|traffic|holiday|weekend|you (?:doing|feeling|today|all|keeping|getting on)|your|everyone|guests|dough|tea|bread group|party|group|hand|finger|wrist|arm|ankle|it look|that look|this look|my hair|you\b|for dessert|for pudding|your day|van|match|score|job)") and not (asked.items("O") or asked.items("D")):
        return None
    about = r"(?:<O>|<D>|<P>|it|they|everything|things|pot|fire|oven|we|all|ovens|pots|that|this|meat|class|stuff)"
    if asked.match(rf"(?:how 's|how are|how is|how 're)(?: the)? {about}(?: (?:oven|pot|now|doing|looking|getting on|going|coming on|coming along|holding|holding up|at|behaving|sitting|faring|in there|today|then|so far|on|temp|bearing up|over there|along|up|feeling|running))*(?: ?[?.!])*$"):
        return _named(asked, {"is": "status"})
    if asked.match(rf"(?:what 's|what is|what are|what 're|what was)(?: the)? {about}(?: (?:oven|pot))?(?: (?:on|at|reading|doing|showing|up to|sitting at|saying|like|temp|temperature|running at|now|right now|sitting on|down to|currently|looking like|at now|heat|probe|settled at|holding at|registering|core|hovering at))+(?: (?:now|then|at moment|at the moment|currently|right now|please|today|so far))*(?: ?[?.!])*$"):
        return _named(asked, {"is": "status"})
    if asked.match(r"where (?:are|'re) (?:we|things|they)(?: (?:up to|at|now|with|on|up|to|today|so far|then|all|<D>|<O>|the|standing|everything))*(?: ?[?.!])*$|where (?:do|does) (?:we|things|everything|<D>|<O>|it) stand(?: .*)?$|where 's (?:<D>|<O>|everything|it) (?:at|up to|now)|how (?:are|is) (?:we|it|everything|things|all)(?: (?:doing|going|getting on|looking|for time|today|so far|now|with|on|coming along|all|progressing))*(?: (?:<D>|<O>))?(?: ?[?.!])*$|^(?:(?:ok|so|hey|and|quick) )*(?:status|state of play|progress|update|updates|latest|any (?:update|updates|news))(?: (?:update|report|check|please|now|on|of|for|the|things|everything|<D>|<O>|so far|from|about|with|pots|ovens|fire))*(?: ?[?.!])*$|what 's (?:happening|going on|the latest|latest|the state of play|the score|status|the status|state of play|state|the state|the news|up|the position|where we are)(?: (?:with|in|on|of|now|the|<D>|<O>|so far|right now|today|then|over|at|here|pots|everything))*(?: ?[?.!])*$|how 's it (?:going|looking|all going|doing|getting on|coming along)(?: (?:with|in|the|<D>|<O>|so far|now|today|over|there|on))*(?: ?[?.!])*$|bring me up to speed|catch me up|fill me in|what did i miss|what have i missed|(?:give|tell|send) (?:me|us) (?:a |an |the )?(?:status|update|latest|state of play|quick update|progress)"):
        return _named(asked, {"is": "status"})
    if asked.match(r"^(?:(?:ok|so|and|hey|any idea|do you know|tell me|roughly|just) )*(?:how (?:hot|warm|cold|cool) (?:is|are|'s)(?: the)? (?:<O>|<D>|<P>|it|oven|we|they|floor|that|core)(?: (?:oven|now|at moment|right now|in there|currently|at the moment|then|running|in the middle|at|<P>|<O>|inside|of))*|what (?:temp|temperature|heat)(?: is| 's| are| do| does)?(?: (?:<O>|<D>|<P>|it|we|oven|they|floor|at|on|now|in|the|have|is|of|there|running|right|currently|reading|says))*|what 's (?:temp|temperature|heat|air|floor|probe|core|the temp|the temperature)(?: (?:in|of|on|at|now|the|like|<O>|<D>|<P>|oven|say|saying|right now|reading|currently))*|what does (?:probe|<P>|thermometer|<I>|<O>)(?: (?:say|read|show|in|the|<O>|<D>|<P>|now))*|(?:temp|temperature|reading) (?:of|on|in) (?:<O>|<D>|<P>)|what do we have (?:on|in)(?: <O>)?|which (?:oven|one) is (?:hotter|hottest|cooler)|what 's (?:in|on) <O>|<O>(?: (?:temp|status|now|at))*|<D> (?:status|update))(?: ?[?.!])*$"):
        return _named(asked, {"is": "status"})
    return None
