"""The class: its start and end, the oven's measures, eating time, guests and what they avoid, what a dish holds."""
from __future__ import annotations

import re
from typing import Any

from bot.reading.lexicon import allergens_in
from bot.reading.scene import Found, Scene, clean, compiled

_EAT = r"(?:eating|eat|we eat|serving|serve|lunch|dinner|supper|sitting down|food|feed|plates|on table|meal|service|tea|served|dishing up|sit down|eating time|serve up|dining|to eat|plating|plating up)"
_PEOPLE = r"(?:guests?|people|students?|of us|eaters|mouths|diners|visitors|adults?|punters|learners|participants|cooks|attending|attendees|booked in|booked|customers|to feed|eating|on the course|round table|at table|strong)"


def classes(scene: Scene) -> None:
    """A class announced, or over."""
    _end(scene)
    _start(scene)


def _end(scene: Scene) -> None:
    for pattern in (
        r"(?:that 's|that is|and that 's|right that 's|thats) (?:it for (?:today|class|this class|this one|the day|everyone)|class (?:done|over|finished|ended|wrapped|wrapped up)|us (?:done|finished)|a wrap|end of class|class all done|the end of class|us done for today|all folks|class done and dusted)(?: (?:for today|today|now|everyone))*",
        r"end of (?:class|session|lesson|day|course|today 's class)(?: (?:today|everyone|all))*",
        r"class(?: (?:'s|is|now|has|all|been|officially))* (?:over|done|finished|ended|closed|wrapped|wrapped up|complete|dismissed|done and dusted|packed up)(?: (?:for today|today|now))*",
        r"(?:finished|ended|wrapped up|closed|closing|ending|wrapping up|done with)(?: the)? class(?: (?:for today|today|now))*",
        r"class end|end class|close (?:the )?class|session (?:over|finished|ended|done|closed)|lesson (?:over|finished|done)|(?:we are|we 're) (?:all )?(?:done|finished) for (?:today|day)|all done for (?:today|day)|we 're done here for today",
    ):
        for found in scene.find(pattern):
            scene.add({"is": "class", "act": "end"}, found.first, found.last, "class over")
            return


def _start(scene: Scene) -> None:
    head = compiled(
        r"(?:(?:ok|right|hello|morning|hi|good|all|everyone|team|so|welcome|folks|afternoon|to|,|!|\.|:) )*"
        r"(?:(?P<new>new class|class today|class|todays class|today 's class|this class|starting class|start class|class starting|starting a class|starting a new class|class start|new session|opening class|class begins|begin class|starting today 's class|class now|we start class|class is|start of class|today class|starting|evening class|afternoon class|morning class|todays session|today 's session|this is|class on|class up|class for today|this morning 's class|tonight 's class|tonights class|todays|today 's)"
        r"(?: (?:is|'s|today|now|called|will be|for today))*)(?: ?[:,-])?")
    match = head.match(scene.row.canon)
    if match is None:
        return
    said = match.group("new")
    first, at = scene.row.items_of(match.start(), match.end())
    start = scene.row.items_of(match.start("new"), match.end("new"))[0]
    words = scene.row.words(start, at)
    if "class" not in words and "session" not in words:
        # "starting the lamb class, 12 guests"
        rest = scene.row.words(at, min(len(scene.items), at + 8))
        if said not in ("starting", "this is", "todays", "today 's") or "class" not in rest:
            return
    if scene.moods[start] in ("question", "what_if"):
        return
    if said in ("class",) and match.group().rstrip()[-1] not in ":,-" and not _announced(scene, at):
        return
    if at < len(scene.items) and scene.items[at].word in ("photo", "list", "kit", "notes", "fee", "fees", "size", "full", "went", "was", "loved", "sheet", "sheets", "plan", "will", "has", "have", "are", "starts", "laughed", "looks", "photos", "seems", "likes", "loves", "of", "hamster", "president", "act"):
        return
    fields: dict[str, Any] = {"is": "class", "act": "start"}
    title_first = at
    title_last = _title_end(scene, at)
    title = clean(scene.row.text(title_first, title_last)) if title_last > title_first else ""
    for lead in ("called ", "is ", "on ", "about ", "for today ", "today "):
        title = title.removeprefix(lead)
    if title and title not in ("today", "now", "class", "with"):
        fields["title"] = title
    guests = _guest_count(scene, at, len(scene.items))
    if guests is not None:
        fields["guests"] = guests[0]
    serve = _serve_time(scene, at, len(scene.items))
    if serve is not None:
        fields["serve"] = scene.coming_meal(serve[0])
    if len(fields) == 2 and said == "class":
        return
    end = max([at, title_last, *([guests[2]] if guests else []), *([serve[2]] if serve else [])])
    scene.add(fields, start, max(end, start + 1), "class starts")


def _announced(scene: Scene, at: int) -> bool:
    """ "class pot day, 14 guests": without its colon a class needs guests or an eating time."""
    return _guest_count(scene, at, len(scene.items)) is not None or _serve_time(scene, at, len(scene.items)) is not None


def _title_end(scene: Scene, at: int) -> int:
    end = at
    while end < len(scene.items):
        item = scene.items[end]
        if item.kind == "." and item.word in ".,;!|:-(/":
            break
        if item.kind == "N" and _guest_count(scene, end, min(len(scene.items), end + 4)) is not None and not _is_plain_title(scene, end):
            break
        if compiled(rf"(?:with |for |and |we |we 're |we are )*(?:{_EAT} (?:at|by|from|for|around) <T>|{_EAT} <T>|with <N>|for <N>|we have <N>|we are <N>)").match(scene.row.canon, scene.row.offset(end)):
            break
        end += 1
    return end


def _is_plain_title(scene: Scene, at: int) -> bool:
    del scene, at
    return False


def _guest_count(scene: Scene, first: int, last: int) -> tuple[int, int, int] | None:
    """How many eat, and where it stands: "14 guests", "13 of us", "we're 16", "for 12"."""
    canon = scene.row.canon
    start, stop = scene.row.offset(first), scene.row.offset(last)
    for pattern in (rf"(?P<n><N>)(?: (?:hungry|lovely|paying|happy|in|all|keen|or so))* {_PEOPLE}", r"(?:we are|we 're|there are|there 's|we have got|we have|we 've got|expecting|feeding|cooking for|with|guests|for|party of|headcount|head count|numbers|group of|total|total of|making us) (?P<n><N>)(?= ?(?:$|[.,;!|]|eating|in total|today|now|,|and|at|in all|altogether))"):
        for match in compiled(pattern).finditer(canon, start, stop):
            number = scene.number(match.group("n"))
            if number is not None and number == int(number) and 1 <= number <= 500:
                a, b = scene.row.items_of(match.start(), match.end())
                return int(number), a, b
    return None


def _serve_time(scene: Scene, first: int, last: int) -> tuple[Any, int, int] | None:
    canon = scene.row.canon
    start, stop = scene.row.offset(first), scene.row.offset(last)
    for match in compiled(rf"{_EAT}(?: (?:is|'s|are|now|will be|planned|set|up|set for|we eat|them|time))*(?: ?[:,-])?(?: (?:at|by|from|for|around|about|is|moved to|now|:))*(?: about| around)? (?P<t><TN>)").finditer(canon, start, stop):
        token = match.group("t")
        clock = scene.clock(token)
        if clock is None or scene.item(token).kind == "A":
            continue
        a, b = scene.row.items_of(match.start(), match.end())
        after = scene.items[b] if b < len(scene.items) else None
        if token[0] == "N" and after is not None and after.kind == "" and after.word in ("people", "guests", "of", "students", "minutes"):
            continue
        return clock, a, b
    return None


def serves(scene: Scene) -> None:
    """Eating time alone: "eating at 2 now, not 1.30", "we'll eat at 3 instead"."""
    canon = scene.row.canon
    if any(draft.kind == "class" and draft.fields["act"] == "start" for draft in scene.drafts):
        return
    not_old = r"(?: (?:now|instead|today|then|please|sharp|ish|everyone|all|not))*(?:(?: ,)? (?:not|rather than|instead of|was) (?:at )?<TN>)?"
    plan = r"(?:(?:we|we 'll|we 're|we are|let 's|going to|we will|'ll|will|we 've decided to|'re|decided to|guests|they|people|guests are|everyone|everyone 's|now|change of plan|new plan|update|plan)(?: ?[,:-])? )*"
    moved = r"(?:lunch|dinner|supper|serving|eating|eating time|service|serve time|meal|food|serving time|meal time|lunchtime|dinner time|the meal)(?: (?:'s|is|has|been|now|time))*(?: (?:moved|pushed|put back|brought forward|shifted|delayed|slipped|pushed back|changed|moved back|set|back|going))*(?: (?:to|till|until|for|at|by|forward to|back to))+ (?:about |around )?(?P<t><TN>)"
    for pattern in (
        rf"{plan}(?:eating|eat|serving|serve|sitting down|sit down|dishing up|feed everyone|feeding everyone|serve up|serve lunch|have lunch|eat lunch|have dinner|serving lunch|plating up|plate up|having lunch|eat dinner|serving up|all eating|we eat|serve food)(?: (?:is|'s|now|everyone|instead|them|it|at|by|for|around|about|from|moved|to|pushed|back|later|earlier|time))* (?P<t><TN>){not_old}",
        rf"{moved}{not_old}",
        r"(?:lunch|dinner|supper|eating|meal|service|serving)(?: (?:time|now|is|'s))* (?P<t><T>)(?: (?:now|instead|sharp))*",
        r"(?:moved|pushed|shifted|put|delayed|brought|bumped) (?:lunch|dinner|eating|serving|meal|supper|service|serve|food)(?: (?:time|back|forward|on|out|up))* (?:to|till|until) (?P<t><TN>)",
        r"push(?:ing|ed) (?:lunch|dinner|eating|serving|meal) (?:back )?to (?P<t><TN>)",
    ):
        for match in compiled(pattern).finditer(canon):
            found = Found(scene, match)
            token = found["t"]
            if token is None or scene.clock(token) is None or any(scene.used[found.first:found.last]):
                continue
            if any(mood in ("question", "what_if") for mood in scene.moods[found.first:found.last]):
                continue
            if _doubtful_serve(scene, found):
                continue
            after = scene.items[found.last].word if found.last < len(scene.items) else ""
            if token[0] == "N" and after in ("people", "guests", "of", "students", "portions", "plates", "minutes", "loaves"):
                continue
            if token[0] == "N" and not compiled(r".*(?:at|by|to|around|about|for|now|from|till|until) N\d+.*").fullmatch(match.group()):
                continue
            scene.add({"is": "serve", "by": scene.coming_meal(scene.clock(token))}, found.first, found.last, "eating time")
            return


def _doubtful_serve(scene: Scene, found: Found) -> bool:
    first, _ = scene.sentence(found.first)
    a, b = scene.segment(found.first)
    words = set(scene.row.words(a, b))
    if words & {"if", "can", "could", "should", "might", "may", "would", "want", "wants", "usually", "yesterday", "tomorrow", "last", "hope", "hoping", "unless", "maybe", "don't", "won't", "ideally", "used", "when", "wanted", "asked", "like", "hopefully", "probably", "wish", "monday", "home", "bread", "can't", "otherwise", "or", "cannot", "didn't"}:
        return True
    before = set(scene.row.words(first, a))
    return bool(before & {"if", "unless", "tomorrow", "yesterday", "last", "whether"})


_DIET = r"(?:coeliacs?|vegans?|vegetarians?)"


def guests(scene: Scene) -> None:
    """Head count and what guests must not have."""
    _told(scene)
    _avoid(scene)
    _count(scene)


_TOLD_WORDS = frozenset("told warned reminded informed announced declared know knows aware read called explained let".split())


def _told(scene: Scene) -> None:
    if not scene.has_any(_TOLD_WORDS):
        return
    who = r"(?:everyone|everybody|guests?|table|tables|them|people|all|class|coeliacs?|group|both|folk|students?|room|diners|whole table|all tables|<N>|guest with <W> allergy|nut guest|<W> guest)"
    for pattern in (
        rf"(?:told|warned|reminded|informed|let) (?:all )?(?:{who}|all of them|the lot)(?: (?:all|know))*(?: (?:about|of|that|there 's|it 's got|it has|there is|<D>|has|contains|in|all|got|have|we|it|the|on|table))* (?P<what>[a-zD].*?)(?= ?(?:$|[.,;!|]|at <T>|<T>|and then))",
        rf"(?P<what>(?:<W>|<D>)(?: <W>| <D>)?)(?: (?:'s|is|has|was|been|were|are|all|have))* (?:announced|read out|called out|declared|told)(?: (?:to|at|out) (?:{who}|table))?",
        rf"(?:announced|read out|called out|declared|explained) (?P<what>(?:<W>|<D>)(?: <W>| <D>)*?)(?: (?:to|at) (?:{who}|table))?(?= ?(?:$|[.,;!|]|at <T>|<T>))",
        rf"(?:{who})(?: 's)? (?:know|knows|been told|have been told|has been told|are told|told|all know|all told|now know|were told|are aware|aware|informed) (?:about|of|that)(?: (?:there 's|it 's got|<D>|has|contains))* (?P<what>[a-zD].*?)(?= ?(?:$|[.,;!|]))",
    ):
        for found in scene.find(pattern, mood="fact"):
            what = found.words("what")
            named = allergens_in(what)
            if not named and set(what) & {"allergens", "allergies", "allergen", "allergy"}:
                scene.add({"is": "guests", "told": True}, found.first, found.last, "guests told")
                continue
            for name in named:
                scene.add({"is": "guests", "allergen": name, "told": True}, found.first, found.last, "guests told")


_COUNT = r"(?:<N>|a|an|one|someone|somebody|another|no)"


_AVOID_WORDS = frozenset("coeliac coeliacs intolerant intolerance intolerants allergy allergies allergic anaphylactic anaphylaxis sensitivity sensitive reacts can't cannot avoid avoids avoiding free no off doesn't don't must mustn't".split())


def _avoid(scene: Scene) -> None:
    if not scene.has_any(_AVOID_WORDS):
        return
    what = r"(?P<what>(?:<W>|<D>)(?: (?:<W>|<D>|and|or|/|free))*?)"
    thing = r"(?P<what>(?:<W>|<D>)(?: (?:<W>|<D>))?)"
    who = r"(?:guests?|people|person|students?|of (?:us|them|guests)|kids?|child|lady|man|woman|gentleman|chap|girl|boy|learner|diner|visitor|eater|adults?|bloke|guy|mum)"
    for pattern in (
        # "two coeliacs", "a coeliac"
        rf"(?P<n>{_COUNT})?(?: more| other| new)?(?: {who})?(?: (?:with|is|are|'s|who is|who 's|who are|say they are|has|have))*(?: a)? (?P<what>(?:coeliacs?|(?:gluten|lactose|dairy|wheat)(?: |-)(?:intolerant|intolerance|intolerants)|coeliac disease|gluten-intolerant|lactose-intolerant|gluten sensitive|gluten sensitivity))(?: {who})?",
        rf"(?P<what>(?:coeliacs?)) ?(?:x|:) ?(?P<n><N>)",
        # "two with nut allergy", "one nut allergy", "a guest with a sesame allergy", "egg allergy x2"
        rf"(?P<n>{_COUNT})(?: more| other| new)?(?: {who})?(?: (?:with|has|have|having|who has|who have|got|has got))*(?: an?| severe| bad| serious| mild| slight)* {thing}(?: and (?P<what2>(?:<W>|<D>)))? (?:allerg(?:y|ies|ic)|intolerances?|anaphylaxis|sensitivity)(?: {who}| sufferers?)?",
        # "one allergic to sesame", "someone's allergic to eggs"
        rf"(?P<n>{_COUNT})(?: more| other)?(?: {who})?(?: (?:'s|is|are|who is|who 's|who are|has|says she 's|says he 's|badly|severely|very|seriously))* (?:allergic|intolerant|anaphylactic|reacts badly|reacts) to {what}(?= ?(?:$|[.,;!?|]|and <N>|and a|and one|and someone|at|today|in|sitting))",
        # "no dairy for one guest"
        rf"no {thing} (?:for|at) (?P<n><N>|a|one|someone|the)(?: {who}| seat| table)?",
        # "two can't have dairy", "one avoids nuts", "one is gluten free", "one no dairy"
        rf"(?P<n>{_COUNT})(?: more| other)?(?: {who})? (?:who )?(?:can't have|can't eat|cannot have|doesn't eat|don't eat|avoids?|avoiding|off|must avoid|can not have|has to avoid|mustn't have|not allowed|can't do|can't touch|doesn't do|don't do|can't take) {thing}",
        rf"(?P<n>{_COUNT})(?: more| other)?(?: {who})?(?: (?:is|are|'s|needs?|wants?|who needs?|on|who is|who are|needing|has to be|have to be))*(?: to be)? (?P<what>(?:gluten|dairy|nut|egg|wheat|lactose|soya|soy|sesame|milk|D\d+))(?: |-)free(?: {who})?(?= ?(?:$|[.,;!?|]|and|today|please|at))",
        rf"(?P<what>(?:gluten|dairy|nut|egg|wheat|lactose))(?: |-)free (?:for|x) (?P<n><N>|a|one)(?: {who})?",
        rf"{thing} (?:allerg(?:y|ies)) ?(?:x|:|-) ?(?P<n><N>)",
        rf"(?P<n><N>) x? ?{thing} allerg(?:y|ies)",
        rf"(?:we have got|we 've got|got|there 's|we have) an? {thing} allergy(?: in| today| at table| here)*",
        rf"{thing} allergy(?= ?(?:$|[.,;!|]|at table|today|in |on table|as well|too))",
        rf"(?P<n><N>|a|one) (?:and|also) (?:an? )?{thing}(?: allergy)",
    ):
        for match in compiled(pattern).finditer(scene.row.canon):
            found = Found(scene, match)
            if any(scene.used[found.first:found.last]):
                continue
            if any(mood in ("question", "what_if") for mood in scene.moods[found.first:found.last]):
                continue
            if _not_ours(scene, found):
                continue
            _avoids(scene, found)
    _more_avoid(scene)


def _not_ours(scene: Scene, found: Found) -> bool:
    a, b = scene.segment(found.first)
    words = set(scene.row.words(a, b))
    if words & {"nobody", "nobody's", "none", "if", "yesterday", "last", "tomorrow", "next", "usually", "my", "mine", "neither", "isn't", "aren't", "wasn't", "any", "could", "might", "would", "isnt", "joking"} and not (
            scene.items[found.first].word in ("no",)):
        return True
    return found.groups.get("n") == "no" and not found.match.group().startswith("no ") or (
        found.groups.get("n") == "no" and "for" not in found.match.group().split())


def _avoids(scene: Scene, found: Found) -> None:
    groups = found.groups
    words: list[str] = []
    for name in ("what", "what2"):
        if groups.get(name):
            words += found.words(name)
    named = allergens_in([word.removesuffix("s") if word.endswith("allergys") else word for word in words])
    if not named:
        return
    token = groups.get("n")
    count: float | None = 1
    if token and token[0] == "N":
        count = found.number("n")
    if token is None and "coeliac" in words and found.match.group() != "coeliac":
        count = 1
    if token is None and words and words[-1] == "coeliacs":
        count = None
    if count is not None and (count != int(count) or not 0 < count <= 200):
        return
    for name in named:
        fields: dict[str, Any] = {"is": "guests", "allergen": name}
        if count is not None:
            fields["count"] = int(count)
        scene.add(fields, found.first, found.last, "what guests avoid")


def _more_avoid(scene: Scene) -> None:
    """ "two coeliacs, one dairy": the second goes on with the first."""
    if not any(draft.rule == "what guests avoid" for draft in scene.drafts):
        return
    for found in scene.find(r"(?P<n><N>|a|an|one) (?P<what>(?:<W>|<D>)(?: (?:<W>|<D>))?)(?= ?(?:$|[.,;!|]|and ))"):
        named = allergens_in(found.words("what"))
        if len(named) == 1:
            count = found.number("n") if str(found["n"])[0] == "N" else 1
            scene.add({"is": "guests", "allergen": named[0], "count": int(count or 1)}, found.first, found.last, "what guests avoid")


def _count(scene: Scene) -> None:
    if any(draft.kind == "class" and draft.fields["act"] == "start" for draft in scene.drafts):
        return
    people = r"(?:guests?|people|of us|eaters|diners|eating|for lunch|to feed|for dinner|to eat|in total|all told|altogether|at table|round table|mouths|booked|visitors|students)"
    for pattern in (
        rf"(?:we are|we 're|there are|there 's|we have|we have got|we 've got|got|now|it 's|makes us|that makes us|that makes|guests(?: (?:'s|is|are|now|:))*|numbers(?: (?:are|now|up to|down to|:))*|headcount(?: (?:is|'s|now|:))*|head count(?: (?:is|'s|now|:))*|feeding|total(?: is)?|cooking for|up to|down to|party of|make that|so) (?:now |up to |down to |only |going to be |at )*(?P<n><N>)(?: (?:now|in total|all told|altogether|today|for lunch|{people}))*(?= ?(?:$|[.,;!|]|and |not ))",
        rf"(?P<n><N>) {people}(?: (?:now|today|not|in total|total|all told|coming|here|confirmed|in all|altogether|for lunch|arrived))*(?= ?(?:$|[.,;!|]|and |eating|at))",
        r"(?P<n><N>) (?:now|in total|all told|altogether)(?: (?:for lunch|eating))*(?= ?(?:$|[.,;!|]))",
    ):
        for found in scene.find(pattern):
            number = found.number("n")
            text = found.match.group()
            if number is None or number != int(number) or not 1 <= number <= 500:
                continue
            words = set(text.split())
            counted = words & {"guests", "guest", "people", "us", "eaters", "diners", "eating", "headcount", "numbers", "head", "feeding", "total", "told", "altogether", "makes", "party", "lunch", "dinner", "feed", "mouths", "booked", "visitors", "students", "cooking"}
            we = compiled(r"(?:and |so )?(?:we are|we 're|there are|there 's) .*").fullmatch(text)
            if not counted and not we and not (found.first == 0 and found.last >= len(scene.items) - 1 and "now" in words and number <= 60):
                continue
            after = scene.items[found.last] if found.last < len(scene.items) else None
            if after is not None and after.word in ("minutes", "degrees", "late", "short", "behind", "down"):
                continue
            if words & {"extra", "late"} or (found.first and scene.items[found.first - 1].word in ("other", "extra", "more", "about", "first", "of", "fewer", "for", "serves", "feeds")):
                continue
            a, b = scene.segment(found.first)
            around = set(scene.row.words(a, b))
            if around & {"photo", "arrived", "late", "missing", "outside", "waiting", "more", "fewer", "less", "extra", "asked", "asking", "want", "bench", "each", "table", "watching"} and "total" not in words:
                continue
            scene.add({"is": "guests", "count": int(number)}, found.first, found.last, "head count")


_MEASURES: tuple[tuple[str, str], ...] = (
    ("across_cm", r"(?:(?:is |about |roughly |some |inside )*(?P<v><CN>) (?:across|wide|in diameter|diameter|inside diameter|internal diameter|dia|internal|inside)(?: inside| internally)?|(?:diameter|inside diameter|internal diameter|width|across|inside width)(?: (?:is|of|:|about))* (?P<w><CN>)(?: across)?)"),
    ("probe_cm", r"(?:(?:floor )?probe(?: (?:'s|is|sits|set|sunk|buried|goes|at|in|about|sitting|down|depth|hole|reaches|drilled|placed|lies|sat))* (?P<v><CN>)(?: (?:down|deep|in|into|under|below|from|of))*(?: (?:in|into|the|surface|brick|bricks|floor|<P>|top|of))*|(?P<w><CN>) (?:down|deep|into <P>|below surface|in)(?: (?:for|is|to))?(?: (?:floor )?probe)|<P> probe(?: (?:'s|is|sits|set|at|about|in|sunk|down|buried))* (?P<x><CN>)(?: (?:down|deep|in|into <P>|below surface))*)"),
    ("insulation_cm", r"(?:(?P<v><CN>)(?: (?:of|thick|layer|deep))* (?:insulation|lagging|blanket|ceramic blanket|ceramic fibre|ceramic fiber|vermiculite|perlite|wool|rockwool|insulating blanket|fibre|lagged)(?: (?:over it|over|on top|all round|around|round it|on it|over dome|over top))*|(?:insulation|lagging|blanket|vermiculite|insulated with|ceramic blanket|insulated)(?: (?:is|of|'s|:|over|it|about|thickness|layer|by|<P>))* (?P<w><CN>)(?: (?:thick|over it|all round|over))*)"),
    ("dome_cm", r"(?:(?P<v><CN>) (?:thick |of )*(?:dome|vault|wall|walls|shell|arch|P\d+|O\d+)(?: (?:thick|brick|thickness|bricks))*|(?:dome|vault|shell|arch|walls?|P\d+|O\d+)(?: (?:is|of|'s|thickness|bricks?|:|shell))* (?P<w><CN>)(?: thick)?)"),
    ("floor_cm", r"(?:(?P<v><CN>) (?:thick |of )*(?:floor|hearth|P\d+)(?: (?:bricks?|thick|tiles?|slab))*|(?:floor|hearth|P\d+)(?: (?:is|of|'s|bricks?|tiles?|thickness|:|slab|are))* (?P<w><CN>)(?: thick)?)"),
)
_FIRED = {
    "retained": r"(?:retained(?: heat)?|stored heat|fired then (?:cleared|raked)|fired and (?:cleared|raked)|fire it rake it|fire (?:it )?,? ?rake (?:it )?(?:out )?(?:,? ?and )?(?:cook|bake)[a-z ']*|(?:we )?fire it(?: (?:up|then|and|,|rake|it|out|cook|bake|on))* (?:what|after|left|heat)(?: (?:'s|left|is))*|raked before (?:cooking|baking)|cook on (?:what 's|whats|what is|the) left|no fire while cooking|falling oven|falling heat|cook(?:s|ed|ing)? (?:on|with) (?:what 's left|falling heat|stored heat|retained heat|heat left)|raked out before (?:cooking|we cook)|cook after raking|residual heat|fire 's raked (?:out )?before.*)",
    "tended": r"(?:tended|kept (?:going|alight|lit|fed) with (?:a )?(?:small |little )?fire|kept going|fire (?:stays|kept|is kept|stays lit|stays on|always) (?:in|going|burning|on|lit|alight)(?: all (?:day|through))?|small fire (?:kept )?(?:going|in|all (?:day|along|through))|live fire|fed (?:all through|through|as we go|throughout|while we cook|by hand)|with (?:a )?(?:small )?(?:live )?fire (?:in|going|burning)(?: all day| throughout)?|fire (?:burns|burning) throughout|keep a (?:small )?fire going|we keep feeding it|fire tended)",
}


_FIRED_WORDS = frozenset("retained tended stored fire fired kept raked fed residual falling cook cooks keep".split())


def ovens(scene: Scene) -> None:
    """An oven described: its measures and how it is fired."""
    if "C" not in scene.kinds and not scene.has_any(_FIRED_WORDS):
        return
    for first, last in _descriptions(scene):
        _describe(scene, first, last)


def _descriptions(scene: Scene) -> list[tuple[int, int]]:
    """Stretches that describe one oven each."""
    names = [n for n, item in enumerate(scene.items) if item.kind == "O"]
    if len(names) <= 1:
        return [(0, len(scene.items))]
    cuts = [0]
    for n in names[1:]:
        begin, _ = scene.segment(n)
        if scene.items[n].words == ("dome",) and _is_measure(scene, n):
            continue
        if begin > 0:
            cuts.append(begin)
    cuts = sorted(set(cuts))
    return list(zip(cuts, [*cuts[1:], len(scene.items)], strict=True))


def _is_measure(scene: Scene, n: int) -> bool:
    near = [item.kind for item in scene.items[max(0, n - 1):n + 2]]
    return "C" in near


def _describe(scene: Scene, first: int, last: int) -> None:
    canon = scene.row.canon
    start, stop = scene.row.offset(first), scene.row.offset(last)
    fields: dict[str, Any] = {}
    spans: list[tuple[int, int]] = []
    taken: set[int] = set()
    name, name_at = _described_name(scene, first, last)
    if name_at is not None:
        taken.add(name_at)
    sized = any(item.kind == "C" for item in scene.items[first:last])
    if sized:
        for key, pattern in _MEASURES:
            for match in compiled(pattern).finditer(canon, start, stop):
                token = next((match.group(group) for group in ("v", "w", "x") if match.groupdict().get(group)), None)
                if token is None or key in fields:
                    continue
                a, b = scene.row.items_of(match.start(), match.end())
                at = int(token[1:])
                if at in taken or any(n in taken for n in range(a, b)) or any(scene.used[a:b]):
                    continue
                if not _noun_fits(scene, key, a, b):
                    continue
                if any(mood in ("question", "what_if", "silent") for mood in scene.moods[a:b]):
                    continue
                value = scene.number(token)
                if value is None or not 0 < value < 1000:
                    continue
                fields[key] = value
                taken.update(range(a, b))
                spans.append((a, b))
    for value, pattern in _FIRED.items():
        for match in compiled(pattern).finditer(canon, start, stop):
            a, b = scene.row.items_of(match.start(), match.end())
            if any(mood in ("question", "what_if") for mood in scene.moods[a:b]) or "fired" in fields:
                continue
            if not fields and name is None:
                continue
            if not fields and not _states_kind(scene, first, a):
                continue
            fields["fired"] = value
            spans.append((a, b))
    if not fields or (set(fields) == {"fired"} and name is None):
        return
    if any(scene.items[n].kind == "D" for n in range(first, last)) and len(fields) == 1 and "fired" not in fields and name is None:
        return
    if len(fields) == 1 and name is None and not fields.keys() & {"across_cm", "probe_cm", "insulation_cm"}:
        a, b = spans[0]
        if not any(item.kind == "C" for item in scene.items[a:b]):
            return
    for draft in [each for each in scene.drafts if each.rule in ("raked out", "fire lit", "dome cleared") and any(a <= each.first < b for a, b in spans)]:
        scene.drafts.remove(draft)
    draft = scene.add({"is": "oven", "oven": name, **fields}, min(a for a, _ in spans), max(b for _, b in spans), "oven described", keep=True)
    del draft
    for a, b in spans:
        scene.use(a, b, "oven described")


def _states_kind(scene: Scene, first: int, at: int) -> bool:
    """ "barrel is tended": the way of firing alone counts when it is said of the oven itself."""
    between = [item for item in scene.items[first:at]]
    return all(item.kind in ("O", "P", ".") or item.word in ("'s", "is", "on", "the", "a", "and", "today", "we", "are", "using", "with", "will", "be", "oven", "s", "of", "runs", "going", "fully", ",", "was", "also", "now", "this", "one", "run") for item in between)


def _noun_fits(scene: Scene, key: str, a: int, b: int) -> bool:
    """A place token in a measure must be the right part of the oven."""
    places = [item for item in scene.items[a:b] if item.kind in ("P", "O")]
    words = {word for item in scene.items[a:b] for word in item.words}
    if key == "dome_cm":
        return all(item.value in ("dome", "wall", "back") for item in places) and (bool(places) or bool(words & {"vault", "shell", "arch", "wall", "walls", "dome"}))
    if key == "floor_cm":
        return all(item.value == "floor" for item in places) and (bool(places) or bool(words & {"floor", "hearth"})) and "probe" not in words
    if key == "probe_cm":
        return all(item.value == "floor" for item in places)
    return True


def _described_name(scene: Scene, first: int, last: int) -> tuple[str | None, int | None]:
    for n in range(first, last):
        item = scene.items[n]
        if item.kind == "O" and not (item.words == ("dome",) and _is_measure(scene, n) and n > first + 1 and not _copula(scene, n)):
            return str(item.value), n
    match = re.compile(r"(?:oven is|using|cooking in|today 's oven is|oven :|oven called|oven 's) (?:the )?((?:[a-z]+ )?[a-z]+)").search(scene.row.canon, scene.row.offset(first))
    if match is not None:
        a, b = scene.row.items_of(match.start(1), match.end(1))
        if b <= last and b < len(scene.items) and scene.items[b].kind == ".":
            return clean(scene.row.text(a, b)), a
    return None, None


def _copula(scene: Scene, n: int) -> bool:
    after = scene.items[n + 1] if n + 1 < len(scene.items) else None
    return after is not None and after.word in ("is", "'s", ":")


_CONTENT_WORDS = frozenset("in into has have contains contain includes lists used using put added with got through on".split())


def contents(scene: Scene) -> None:
    """What a dish or an ingredient holds."""
    if not scene.has_any(_CONTENT_WORDS):
        return
    item = r"(?P<item>(?:<W>|<D>)(?: (?:<W>|<D>)){0,3}?)"
    into = r"(?P<dish><D>|sear|marinade|rub|gravy|sauce|dressing|crust|topping|glaze|pastry|mash|braise|pot|stuffing|dough|salad|batter|mix|liquor|dumplings|crumb|crumbs|roux|paste|dip|pickle)"
    holds = r"(?:has got|has|have|have got|contains?|includes?|lists?|says|with|'s got|is made with|made with|got|is full of|comes with|does have|does contain|says it has|says contains)"
    for pattern in (
        rf"(?:used|using|put|added|stirred in|sprinkled|mixed in|rubbed) {item} (?:in|into|to|for|on|through) {into}(?= ?(?:$|[.,;!|]|too|as well|today|and|btw))",
        rf"(?:there 's|there is|there are|we have got|it 's got|it has|contains) {item} (?:in|on) {into}(?= ?(?:$|[.,;!|]|too|as well|today|and))",
        rf"(?P<dish><D>)(?: (?:'s|is|are|was|were|been|has))* (?:thickened|finished|made|topped|glazed|dusted|marinated|cooked|mounted|brushed|enriched|started|fried|dressed|rubbed) (?:with|in|using) (?P<item2>(?:<W>|<D>)(?: (?:<W>|<D>))?)(?= ?(?:$|[.,;!|]|today|and|this time))",
        rf"(?P<holder>(?:<W>|<D>)(?: (?:<W>|<D>)){{0,3}}?) {holds} (?P<what>(?:<W>|<D>)(?: (?:<W>|<D>))?)(?: (?:in|in it|in that|in there|and|on label))*(?= ?(?:$|[.,;!|]|so |by the|fyi|btw))",
        rf"{item}(?: (?:'s|is|are|was|were|goes|went|gone|going))* (?:in|into|through|on|to) {into}(?= ?(?:$|[.,;!|]|too|as well|today|and|btw|fyi|by|now|this time|already|also))",
        rf"(?P<item3>(?:<W>|<D>)(?: (?:<W>|<D>))?) (?:contains|has) (?:traces of|trace of) (?P<what>(?:<W>|<D>))",
    ):
        for found in scene.find(pattern):
            _content(scene, found)


_NOT_ITEMS = frozenset("it we they i you he she there this that everyone guest guests people someone somebody nobody who what which one two kettle pot pots lid lids fork knife spoon probe thermometer water hand hands arm wood fire splits logs embers foil peel bea mara idris tomos "
                       "core air floor meter label fridge class everything all both more thyme-less today now then still yes ok right also and but so just please lots plenty time rain wind music".split())


def _content(scene: Scene, found: Found) -> None:
    groups = found.groups
    dish = found.name("dish") if groups.get("dish") and str(groups["dish"])[0] == "D" else None
    dish_first, _ = found.items_of("dish") if groups.get("dish") else (None, None)
    if groups.get("holder"):
        holder = found.words("holder")
        named = allergens_in(found.words("what"))
        if not named or not holder or holder[0] in _NOT_ITEMS or set(holder) & {"guest", "guests", "someone", "who", "lady", "man", "one"} or not holder[0].isalpha():
            return
        holder_items = scene.items[found.items_of("holder")[0]:found.items_of("holder")[1]]
        if len(holder_items) == 1 and holder_items[0].kind == "D" and _is_dish(scene, holder_items[0].words):
            for name in named:
                scene.add({"is": "contents", "item": clean(found.text("what")), "dish": str(holder_items[0].value), "allergen": name}, found.first, found.last, "contents")
            return
        if _person(scene, holder):
            return
        for name in named:
            scene.add({"is": "contents", "item": clean(found.text("holder")), "allergen": name}, found.first, found.last, "contents")
        return
    key = next((name for name in ("item", "item2", "item3") if groups.get(name)), None)
    if key is None:
        return
    words = found.words(key)
    if not words or words[0] in _NOT_ITEMS or words[-1] in _NOT_ITEMS:
        return
    named = allergens_in(words)
    if dish is not None and found.items_of(key)[0] == dish_first:
        return
    if not named and not (dish is not None and _ingredient(words)):
        if not _ingredient(words):
            return
    if words[0] in ("pot", "probe", "lid"):
        return
    fields: dict[str, Any] = {"is": "contents", "item": clean(found.text(key))}
    if dish is not None:
        fields["dish"] = dish
    if len(named) > 1 and "and" in words:
        return
    if named:
        fields["allergen"] = named[0]
    scene.add(fields, found.first, found.last, "contents")


_INGREDIENTS = frozenset("cornflour cornstarch salt sugar pepper honey vinegar oil garlic onion onions thyme rosemary bay cumin paprika chilli lard dripping suet rice potato tomato tomatoes wine cider treacle molasses ketchup stock cube cubes marmite bouillon paste puree lemon orange capers olives saffron herbs parsley coriander mint ginger turmeric cinnamon nutmeg bacon pancetta chorizo ham lentils beans carrot carrots leek leeks parsnip swede powder gravy spice spices cornmeal polenta buckwheat xanthan arrowroot margarine".split())


def _ingredient(words: tuple[str, ...]) -> bool:
    return bool(words) and words[-1] in _INGREDIENTS


def _is_dish(scene: Scene, words: tuple[str, ...]) -> bool:
    name = " ".join(words)
    if name in scene.context.dishes:
        return True
    return name not in ("stock", "gravy", "butter", "cream", "bread", "marmalade", "ketchup", "chutney", "broth", "sausages", "rolls", "naan", "custard", "polenta", "rice", "barley")


def _person(scene: Scene, words: tuple[str, ...]) -> bool:
    people = {part.lower() for name in scene.context.people for part in name.split()} | {"mara", "idris", "tomos", "bea"}
    return bool(set(words) & people)
