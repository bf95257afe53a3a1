"""Guests: how many, what they must not have, what they were told."""

from __future__ import annotations

from datetime import timedelta
from typing import Any

from bot.reading.came_or_went import came_or_went
from bot.reading.lexicon import allergens_in, bag
from bot.reading.numbers_alone import chill_told
from bot.reading.scene import Found, Scene, compiled


def guests(scene: Scene) -> None:
    """Head count and what guests must not have."""
    _told(scene)
    _avoid(scene)
    _known_by_it(scene)
    _of_them(scene)
    _count(scene)
    _before_meal(scene)


def seats_in_brackets(scene: Scene) -> None:
    """ "1 coeliac (seat 2)": whose seat it is stands right behind."""
    for draft in (each for each in scene.drafts if each.kind == "guests" and "allergen" in each.fields):
        behind = scene.items[draft.last : draft.last + 4]
        if [item.word for item in behind[:1]] == ["("] and len(behind) > 2 and behind[1].word in _SEATS and \
                behind[2].kind == "N" and "seat" not in draft.fields:
            draft.fields["seat"] = f"{behind[1].word} {behind[2].value.value:g}"
            scene.use(draft.last, draft.last + 4, draft.rule)


_TOLD_WORDS = bag(
    "told warned reminded informed announced declared know knows aware read called explained let briefed walked"
)


def _told(scene: Scene) -> None:
    if not scene.has_any(_TOLD_WORDS):
        return
    _told_that(scene)
    _told_too(scene)


def _told_too(scene: Scene) -> None:
    """ "told everyone about the celery, also the sesame": a clause that holds one more thing they were told of."""
    for found in scene.find(
        r"(?:and|also|plus|as well as|\+|&)(?: (?:about|of))* (?P<what>(?:<W>|<D>)(?: (?:<W>|<D>))?)(?: (?:too|as "
        r"well))*"
        r"(?= ?(?:$|[.,;!|]))"
    ):
        before = [draft for draft in scene.drafts if draft.last <= found.first and draft.fields.get("told")]
        named = allergens_in(found.words("what"))
        if before and len(named) == 1 and found.first - before[-1].last <= 2:
            fields = {"is": "guests", "allergen": named[0], "told": True}
            scene.add(fields, found.first, found.last, "guests told")


def _told_that(scene: Scene) -> None:
    who = (
        r"(?:everyone|everybody|guests?|table|tables|them|people|all|class|coeliacs?|group|both|folk"
        r"|students?|room|diners|teachers?|parents?|carers?|staff|kids|children|waiters?|servers?|mum|dad"
        r"|(?:(?:whole|far|near|end|top|other|big|long|corner|back|front|family"
        r"|first|second|third) )+"
        r"(?:tables?|group|class|end|room)|all tables|<N>|guest with <W> allergy|nut guest|<W> guest)"
    )
    for found in scene.find(
        rf"(?:told|warned|reminded|informed|briefed|walked) (?:all )?(?:{who}|(?!(?:me|us|you|i|not|about|that) )<W>)"
        r"(?: [(](?: (?:<W>|<N>|<D>)){1,4} [)])?(?: (?:all|about|of|on|just|exactly"
        rf"|through))*"
        r" (?:what 's|what is|what goes|what went|everything that 's|everything|all that 's|what we put|contents"
        r"|ingredients)"
        r"(?: (?:in|inside|into|of))*(?: (?:<D>|it|them|all|dishes|dish|food|pots?|everything|each|every|lot|that"
        r"|there|today"
        r"|<W>))*?(?= ?(?:$|[.,;!|]))",
        mood="fact",
    ):
        scene.add({"is": "guests", "told": True}, found.first, found.last, "guests told")
    for pattern in (
        # "told the fish guest", "told the nut and dairy ones, no crumble"
        r"(?:told|warned|reminded) (?:both )?(?P<what>(?:<W>|<D>)(?: (?:and |& )?(?:<W>|<D>))?) "
        r"(?:guests?|ones?|<N>|people|person|lady|man|woman|lad|girl|folk|table|lot)"
        r"(?: about (?:it|(?:<W>|<D>)(?: <W>)?))?"
        r"(?= ?(?:$|[.,;!|]|no|not))",
        rf"(?:{who})(?: (?:all|been|now|have|has|are|were))* (?:told|warned)(?: (?:about"
        rf"|of))? ?[:,-] (?P<what>[a-zD].*?)(?= ?(?:$|[.,;!|]))",
        rf"(?:told|warned|reminded|informed|let) (?:all )?(?:{who}|all of them|the lot)(?: <N>)?(?: (?:all"
        rf"|know))*(?: ?[:-])?(?: (?:no|any|about|of|that|there 's|it 's got|it has|there is|<D>|has|contains|in|all"
        rf"|got|have|we|it|the|on|table))* (?P<what>[a-zD].*?)(?= ?(?:$|[.,;!|]|at <T>|<T>|and then"
        r"|and (?:served|plated|dished)))",
        rf"(?P<what>(?:<W>|<D>)(?: <W>| <D>)?)(?: (?:'s|is|has|was|been|were|are|all"
        rf"|have))* (?:announced|read out|called out|declared|told)(?! (?:me|us|him|her|it))"
        rf"(?: (?:to|at|out) (?:{who}|table))?",
        rf"(?:announced|read out|called out|declared|explained) (?P<what>(?:<W>|<D>)(?: <W>"
        rf"| <D>)*?)(?: (?:to|at) (?:{who}|table))?(?= ?(?:$|[.,;!|]|at <T>|<T>))",
        rf"(?:{who})(?: 's)? (?:know|knows|been told|have been told|has been told|are told|told"
        rf"|all know|all told|now know|were told|are aware|aware|informed) (?:about|of"
        rf"|that)(?: (?:there 's|it 's got|<D>|has|contains))* (?P<what>[a-zD].*?)(?= ?(?:$|[.,;!|]))",
    ):
        for found in scene.find(pattern, mood="fact"):
            what = found.words("what")
            named = allergens_in(what)
            if not named and set(what) & {"allergens", "allergies", "allergen", "allergy"}:
                scene.add({"is": "guests", "told": True}, found.first, found.last, "guests told")
                continue
            for name in named:
                scene.add({"is": "guests", "allergen": name, "told": True}, found.first, found.last, "guests told")


_COUNT = (
    r"(?:<N>|a|an|one|someone|somebody|another|no|(?:guest|kid|child|lady|man|woman|chap|girl|boy|person|student|bloke)"
    r"(?= (?:with|in|at|on|by|near|has|just|told|tells|is|who|can't|says|'s)))"
)


_AVOID_WORDS = bag(
    "coeliac coeliacs intolerant intolerance intolerants allergy allergies allergic anaphylactic "
    "anaphylaxis sensitivity sensitive reacts can't cannot avoid avoids avoiding free no off doesn't don't "
    "must mustn't dietaries diets allergens"
)


def _avoid(scene: Scene) -> None:
    if not scene.has_any(_AVOID_WORDS):
        return
    what = r"(?P<what>(?:<W>|<D>)(?: (?:<W>|<D>|and|or|/|free))*?)"
    thing = r"(?P<what>(?:<W>|<D>)(?: (?:<W>|<D>))?)"
    who = (
        r"(?:guests?|people|person|students?|of (?:us|them|guests|ladies|men|women|girls|boys|lads|kids|group|class"
        r"|party|visitors|people|students)|kids?|child|lady|man|woman|gentleman"
        r"|chap|girl|boy|learner|diner|visitor|eater|adults?|bloke|guy|mum)"
    )
    for pattern in (
        # "two coeliacs", "a coeliac"
        rf"(?P<n>{_COUNT})?(?: more| other| new)?(?: {who})?(?: (?:with|is|are|'s|who is|who 's|who are"
        rf"|say they are|has|have))*(?: a)? (?P<what>(?:coeliacs?|(?:gluten|lactose|dairy|wheat)(?: "
        rf"|-)(?:intolerant|intolerance|intolerants)|coeliac disease|gluten-intolerant"
        rf"|lactose-intolerant|gluten sensitive|gluten sensitivity))(?: {who})?",
        r"(?P<what>(?:coeliacs?)) ?(?:x|:) ?(?P<n><N>)",
        # "two with nut allergy", "one nut allergy", "a guest with a sesame allergy", "egg allergy x2"
        rf"(?P<n>{_COUNT})(?: more| other| new)?(?: {who})?(?: (?:with|has|have|having|who has|who have"
        rf"|got|has got|is|are|'s|who is|who 's))*(?: an?| severe| bad| serious| mild| slight)* {thing}(?: and "
        rf"(?P<what2>(?:<W>|<D>)))? (?:allerg(?:y|ies|ic)|intolerances?|anaphylaxis|sensitivity)"
        rf"(?: {who}| sufferers?)?",
        # "one allergic to sesame", "someone's allergic to eggs"
        rf"(?P<n>{_COUNT})(?: more| other)?(?: {who})?(?: (?:'s|is|are|who is|who 's|who are|has"
        rf"|says she 's|says he 's|badly|severely|very|seriously))* (?:allergic|intolerant|anaphylactic"
        rf"|reacts badly|reacts) to {what}(?= ?(?:$|[.,;!?|]|and <N>|and a|and one|and someone|at|today"
        rf"|in|sitting))",
        # "a guest has an allergy to peanuts", "two with allergies of nuts"
        rf"(?P<n>{_COUNT})?(?: more| other| new)?(?: {who})?(?: (?:with|has|have|having|who has|who have|got|has got"
        rf"|is|are"
        rf"|'s))*(?: an?| severe| bad| serious| mild| slight| badly| very)* (?:allerg(?:y|ies|ic)|intolerances?"
        rf"|intolerant"
        rf"|sensitivity|sensitive|reacts|anaphylactic) (?:to|of|with|for|against|from|on) {what}(?= ?(?:$|[.,;!|]"
        rf"|and|today"
        rf"|at|so|in))",
        rf"no {thing} (?:for|at) (?:seat|table|guest|chair|place) <N>",
        # "no dairy for one guest"
        rf"no {thing} (?:for|at) (?P<n><N>|a|one|someone|the)(?: {who}| seat| table)?",
        # "two can't have dairy", "one avoids nuts", "one is gluten free", "one no dairy"
        rf"(?P<n>{_COUNT})(?: more| other)?(?: {who})? (?:who )?(?:(?:in|at|on|with|by|near) (?:<W> )?<W> )?"
        r"(?:(?:has|have|just|now|tells|told|says|said|mentioned|me|us|that|she|he|they) )*(?:can't have"
        rf"|can't eat|cannot have"
        rf"|doesn't eat|don't eat|avoids?|avoiding|off|must avoid|can not have|has to avoid"
        rf"|mustn't have|not allowed|can't do|can't touch|doesn't do|don't do|can't take) {thing}",
        rf"(?P<n>{_COUNT})(?: more| other)?(?: {who})?(?: (?:is|are|'s|needs?|wants?|who needs?|on"
        rf"|who is|who are|needing|has to be|have to be))*(?: to be)? (?P<what>(?:gluten|dairy|nut|egg"
        rf"|wheat|lactose|soya|soy|sesame|milk|D\d+))(?: |-)free(?: {who})?(?= ?(?:$|[.,;!?|]|and|today"
        rf"|please|at|<N>|a |one ))",
        rf"(?P<what>(?:gluten|dairy|nut|egg|wheat|lactose))(?: |-)free (?:for|x) (?P<n><N>|a|one)(?: {who})?",
        rf"{thing} (?:allerg(?:y|ies)) ?(?:x|:|-) ?(?P<n><N>)",
        rf"(?P<n><N>) x? ?{thing} allerg(?:y|ies)",
        rf"(?:we have got|we 've got|got|there 's|we have) an? {thing} allergy(?: in| today| at table| here)*",
        rf"(?P<n><N>|a|an|one|someone|somebody|another)(?: else)?(?: {who})? no {thing}(?= ?(?:$|[.,;!|]|and |today))",
        rf"(?P<n><N>|a|an|one|another)(?: (?:new|more|extra|late))?(?: {who})? [,(:-] no {thing}"
        r"(?= ?(?:$|[.,;!|)]|and ))",
        rf"{thing} allergy ?, (?P<n><N>|one|a) (?:guest|person|of them)(?= ?(?:$|[.,;!|]))",
        rf"{thing} allergy(?= ?(?:$|[.,;!|]|at table|today|in |on table|as well|too))",
        rf"(?P<n><N>|a|one) (?:and|also) (?:an? )?{thing}(?: allergy)",
    ):
        for match in compiled(pattern).finditer(scene.row.canon):
            found = Found(scene, match)
            if any(scene.used[found.first : found.last]):
                continue
            if any(mood in ("question", "what_if") for mood in scene.moods[found.first : found.last]):
                continue
            # What is only heard of a guest is kept: an allergen that is lost can hurt.
            hearsay = "apparently" in scene.row.words(*scene.sentence(found.first))
            doubted = not scene.doubted.isdisjoint(range(found.first, found.last))
            if _not_ours(scene, found) or (doubted and not hearsay):
                continue
            _avoids(scene, found)
    _more_avoid(scene)


def _known_by_it(scene: Scene) -> None:
    """ "the egg one is egg and nuts": a guest who goes by one allergen has another too."""
    for found in scene.find(
        r"(?P<what><W>|<D>) (?:<N>|guest|kid|child|lad|girl|boy|person|lady|man|woman)(?: (?:'s|is|has|also|can't|have"
        r"|says|actually|said))+ (?P<more>(?:<W>|<D>)(?: (?:<W>|<D>)){0,3})", mood=None, fresh=False
    ):
        if any(scene.moods[at] in ("question", "what_if") for at in range(found.first, found.last)):
            continue
        counted = scene.items[found.items_of("what")[1]]
        known = allergens_in(found.words("what"))
        if not known or (counted.kind == "N" and counted.words != ("one",)):
            continue
        for name in allergens_in(found.words("more")):
            if name not in known and not any(draft.fields.get("allergen") == name for draft in scene.drafts):
                fields = {"is": "guests", "allergen": name, "count": 1}
                scene.add(fields, found.first, found.last, "what guests avoid")


def _not_ours(scene: Scene, found: Found) -> bool:
    a, b = scene.segment(found.first)
    words = set(scene.row.words(a, b))
    if words & bag(
        "monday tuesday wednesday thursday friday saturday sunday nobody nobody's none if yesterday last tomorrow "
        "next usually my mine neither isn't aren't wasn't "
        "any could might would isnt joking"
    ) and scene.items[found.first].word not in ("no",):
        return True
    return (found.groups.get("n") == "no" and not found.match.group().startswith("no ")) or (
        found.groups.get("n") == "no" and "for" not in found.match.group().split()
    )


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
    before = scene.items[found.first - 1].word if found.first else ""
    if token and token[0] == "N" and before not in bag("guest seat table number chair"):
        count = found.number("n")
    if token is None and "coeliac" in words and found.match.group() != "coeliac":
        count = 1
    if token is None and words and words[-1] == "coeliacs":
        count = None
    if count is not None and (count % 1 or not 0 < count <= 200):
        return
    seats, seat = _seats(scene, found.first)
    if seats > 1 and token and token[0] == "N" and scene.items[found.items_of("n")[0]].word in seat.split():
        count = seats
    for name in named:
        fields: dict[str, Any] = {"is": "guests", "allergen": name}
        if count is not None:
            fields["count"] = int(count)
        if seat:
            fields["seat"] = seat
        scene.add(fields, found.first, found.last, "what guests avoid")


_SEATS = bag("seat seats chair chairs table tables")


def _seats(scene: Scene, first: int) -> tuple[int, str]:
    """How many seats a clause names, and its words for them: "seats 4 and 6"; 0 and none if it names none."""
    a, b = scene.segment(first)
    for at in range(a, b - 1):
        if scene.items[at].word not in _SEATS or scene.items[at + 1].kind != "N":
            continue
        found, here = [at + 1], at + 2
        while here + 1 < b and scene.items[here].word in ("and", "&") and scene.items[here + 1].kind == "N":
            found.append(here + 1)
            here += 2
        numbers = [f"{scene.number(f'N{each}') or 0:g}" for each in found]
        return len(numbers), f"{scene.items[at].word} {' and '.join(numbers)}"
    return 0, ""


def _more_avoid(scene: Scene) -> None:
    """ "two coeliacs, one dairy": the second goes on with the first."""
    headed = compiled(
        r"(?:allergies|allergens|dietaries|diets|dietary|allergy)(?: (?:today|are|so far))* ?[:-] .*"
    ).match(scene.row.canon)
    avoided = [draft for draft in scene.drafts if draft.kind == "guests" and "told" not in draft.fields]
    if headed is None and not any("allergen" in draft.fields for draft in avoided):
        return
    for found in scene.find(
        r"(?P<n><N>|a|an|one) (?P<what>(?:<W>|<D>)(?: (?:<W>|<D>))?)(?= ?(?:$|[.,;!|(]|and |(?:<N>|a|an|one) ))"
    ):
        named = allergens_in(found.words("what"))
        if len(named) == 1:
            count = found.number("n") if str(found["n"])[0] == "N" else 1
            scene.add(
                {"is": "guests", "allergen": named[0], "count": int(count or 1)},
                found.first,
                found.last,
                "what guests avoid",
            )


def _of_them(scene: Scene) -> None:
    """ "one can't have milk, and there's 9 of them now": of the guests, if they are what is talked of."""
    last = scene.context.last[-1] if scene.context.last else None
    fresh = last is not None and scene.context.now - last.at <= timedelta(minutes=5)
    before = [fact for fact in last.heard.facts if fact.is_ in ("guests", "class")] if last and fresh else []
    if not before and not any(draft.kind == "guests" for draft in scene.drafts):
        return
    for found in scene.find(
        r"(?:there 's|there are|there is|that makes|makes|now|we have|we have got|it 's|got) (?:now |only )*(?P<n><N>) "
        r"of them(?: (?:now|in total|all told|altogether|today))*(?= ?(?:$|[.,;!|]|and ))"
    ):
        count = found.number("n")
        if count is not None and count % 1 == 0 and 1 < count <= 200:
            scene.add({"is": "guests", "count": int(count)}, found.first, found.last, "guests counted")


# "22 now, two no shows": what changed the count stands behind it.
_CHANGED_BEHIND = (
    r" (?:,|[.]|-|;|as|with) (?:<N>|a|couple) (?:no shows?|didn't (?:show|come)|dropped out|cancelled|pulled out"
    r"|can't come|(?:more|extra|fewer|less)(?= ?$| [.,!|]| (?:guests?|people|turned|came|coming|booked)))"
)


def _count(scene: Scene) -> None:
    if any(draft.kind == "class" and draft.fields["act"] == "start" for draft in scene.drafts):
        return
    people = (
        r"(?:guests?|people|of us|eaters|diners|eating|for lunch|to feed|for dinner|to eat|in total"
        r"|all told|altogether|at table|round table|mouths|booked|visitors|students)"
    )
    for pattern in (
        rf"(?:we are|we 're|there are|there 's|we have|we have got|we 've got|got|now|it 's|makes us"
        rf"|that makes us|that makes|guests(?: (?:'s|is|are|now|:))*|numbers(?: (?:are|now|up to"
        rf"|down to|:))*|headcount(?: (?:is|'s|now|:))*|head count(?: (?:is|'s|now|:))*|feeding"
        rf"|total(?: is)?|cooking for|up to|down to|party of|make that|so) (?:now |up to |down to "
        rf"|only |going to be |at )*(?P<n><N>)(?: (?:now|in total|all told|altogether|today|for lunch"
        rf"|{people}))*(?= ?(?:$|[.,;!|]|and |not |incl |including ))",
        rf"(?P<n><N>) {people}(?: (?:now|today|not|in total|total|all told|coming|here|confirmed|in all"
        rf"|altogether|for lunch|arrived))*(?= ?(?:$|[.,;!|]|and |eating|for (?:eating|eat)|at))",
        r"(?:serving|feeding|seating) (?P<n><N>)(?= (?:at|by|from|around) <T>)",
        r"(?:dropped out|cancelled|pulled out|can't come|turned up|joined)(?: ,| and| which makes| making| leaves"
        r"| leaving| now)* (?P<n><N>)(?: (?:now|left|in all|altogether))*(?= ?(?:$|[.,;!|]))",
        r"(?:<N>|a|couple) (?:more|extra|fewer|less)(?: (?:guests?|people|coming|now|booked|turning up|on way))*"
        r"(?: ,| and| which| that 's| makes| making| now)* (?P<n><N>)(?: (?:now|in all|altogether))*"
        r"(?= ?(?:$|[.,;!|]))",
        r"(?:and |so )?were (?P<n><N>) (?:now|today|in all|altogether)(?= ?(?:$|[.,;!|]))",
        rf"(?P<n><N>) now(?={_CHANGED_BEHIND})",
        r"(?P<n><N>) (?:now|in total|in all|all told|altogether|all in all)(?: (?:for lunch|eating|now"
        r"|today))*(?= ?(?:$|[.,;!"
        r"|]))",
    ):
        for found in scene.find(pattern):
            number = found.number("n")
            text = found.match.group()
            if number is None or number % 1 or not 1 <= number <= 500:
                continue
            words = set(text.split())
            counted = words & bag(
                "guests guest people us eaters diners eating headcount numbers head feeding total told "
                "altogether makes party lunch dinner feed mouths booked visitors students cooking serving seating"
            )
            we = compiled(r"(?:and |so )?(?:we are|we 're|were|there are|there 's) .*").fullmatch(text)
            joined = compiled(
                r"(?:<N>|couple|few|some)(?: 's| has| have)* "
                r"(?:(?:extra|more)(?! (?:split|log|piece|stick|bit|tray|chair|minute)s?(?: |$))"
                r"|less|fewer|short|didn't show|no show|dropped out|cancelled)"
                r"|(?:more|extra|others?|late ones?|have|has|people|guests?)(?: <W>)? (?:turned up|arrived|came|come"
                r"|booked|joined"
                r"|showed up|dropped out|cancelled|pulled out|left|coming|walked in|can't come|added).*"
            ).search(scene.row.canon, 0, scene.row.offset(found.first))
            changed = compiled(
                r"(?:dropped|cancelled|pulled|can't|turned|joined|(?:<N>|a|couple) (?:more|extra|fewer|less)) .*"
            ).fullmatch(text)
            behind = compiled(rf"<N> now{_CHANGED_BEHIND}").match(scene.row.canon, scene.row.offset(found.first))
            joined = joined or changed or behind
            reason = came_or_went(scene, found.first, found.last)
            whole = found.first == 0 and found.last == len(scene.items) and words & bag("all altogether total told")
            if (
                not counted
                and not joined
                and not reason
                and not whole
                and not we
                and not (_of_guests(scene, found.first, found.last) and words & {"now", "so"} and number <= 60
                         and not _heat_before(scene, number))
            ):
                continue
            after = scene.items[found.last] if found.last < len(scene.items) else None
            if after is not None and after.word in bag("minutes degrees late short behind down"):
                continue
            if words & {"extra", "late"} or (
                found.first
                and scene.items[found.first - 1].word in bag("other extra more about first of fewer for serves feeds")
            ):
                continue
            a, b = scene.segment(found.first)
            around = set(scene.row.words(a, b))
            if not counted & bag("guests guest people eaters diners headcount numbers visitors students") and any(
                item.kind in ("P", "O", "I") for item in scene.items[a:b]
            ):
                continue  # "barrel air has come down to 150"
            if (
                around
                & bag(
                    "photo arrived late missing outside waiting more fewer less extra asked asking want bench "
                    "each table watching"
                )
                and "total" not in words
                and not (we or changed)
            ):
                continue
            scene.add({"is": "guests", "count": int(number)}, found.first, found.last, "head count")


def _before_meal(scene: Scene) -> None:
    """ "16 eating at 1": the people stand before the meal's time."""
    if "question" in scene.moods:
        return      # "14 for lunch half 1, when do we fire": of the plan
    for meal in [draft for draft in scene.drafts if draft.kind == "serve" and draft.first]:
        at = meal.first - (2 if meal.first > 1 and scene.items[meal.first - 1].word == "for" else 1)
        item, begin = scene.items[at], scene.segment(at)[0]
        number = item.value.value if item.kind == "N" else None
        alone = all(each.word in ("for", "we", "'re", "are", "so", "now", "and") for each in scene.items[begin:at])
        eats = scene.items[at + 1].word in ("eating", "eatin", "eat", "for")
        if number and not number % 1 and 2 <= number <= 200 and alone and eats and not scene.used[at]:
            scene.add({"is": "guests", "count": int(number)}, at, at + 1, "head count")


def _heat_before(scene: Scene, number: float) -> bool:
    """ "bass 53", then "60 now": the heat that was told last, moved on; or that of what this person chills."""
    if chill_told(scene) is not None:
        return True
    told = [fact.said() for fact in scene.context.last[-1].heard.facts] if scene.context.last else []
    fresh = bool(told) and scene.context.now - scene.context.last[-1].at <= timedelta(minutes=30)
    return fresh and any(abs(fact.get("celsius", -999) - number) <= 60 for fact in told)


def _of_guests(scene: Scene, first: int, last: int) -> bool:
    """ "13 now": the whole message, or a clause beside what guests must not have."""
    alone = first == 0 and last >= len(scene.items) - 1
    a, b = scene.segment(first)
    clause = all(item.word in ("and", "so", "we", "are", "'re") for item in scene.items[a:first]) and last >= b
    return alone or (clause and any(draft.kind == "guests" for draft in scene.drafts))
