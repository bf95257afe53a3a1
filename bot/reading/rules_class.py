"""The class: its start and end, and when people eat."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from bot.reading.clock_times import Clock
from bot.reading.lexicon import bag
from bot.reading.scene import Found, Scene, clean, compiled

_EAT = (
    r"(?:eating|eat|we eat|serving|serve|lunch|dinner|supper|sitting down|food|feed|plates|on table|meal"
    r"|breakfast|brunch|service|tea|served|dishing up|sit down|eating time|serve up|dining|to eat|plating|plating up)"
)


_PEOPLE = (
    r"(?:guests?|people|students?|of us|of them|eaters|mouths|diners|visitors|adults?|punters|learners|participants"
    r"|cooks|attending|attendees|here|booked in|booked|today|customers|to feed|eating|on the course|round table"
    r"|at table|strong|sitting down|sat down|to sit down|coming to eat|at the table)"
)


def classes(scene: Scene) -> None:
    """A class announced, or over."""
    _end(scene)
    _start(scene)


def _end(scene: Scene) -> None:
    for pattern in (
        r"(?:that 's|that is|and that 's|right that 's|thats) (?:it for (?:today|class|this class"
        r"|this one|the day|everyone)|class (?:done|over|finished|ended|wrapped|wrapped up)|us (?:done"
        r"|finished)|a wrap|end of class|class all done|the end of class|us done for today|all folks"
        r"|class done and dusted)(?: (?:for today|today|now|everyone))*",
        r"end of (?:class|session|lesson|day|course|today 's class)(?: (?:today|everyone|all))*",
        r"class(?: (?:'s|is|now|has|all|been|officially))* (?:over|done|finished|finish|ended|closed|wrapped"
        r"|wrapped up|complete|dismissed|done and dusted|packed up)(?: (?:for today|today|now))*",
        r"(?:finished|ended|wrapped up|closed|closing|ending|wrapping up"
        r"|done with)(?: the)? class(?: (?:for today|today|now))*",
        r"class end|end class|close (?:the )?class|session (?:over|finished|ended|done|closed)"
        r"|lesson (?:over|finished|done)|(?:we are|we 're) (?:all )?(?:done|finished) for (?:today|day)"
        r"|all done for (?:today|day)|we 're done here for today",
    ):
        for found in scene.find(pattern):
            ended = compiled(r"(?:(?:at|by|about|around|from|,) )*(?P<t><T>|<N>(?= ?(?:$|[.!|])))").match(
                scene.row.canon, scene.row.offset(found.last)
            )
            clock = scene.clock(ended["t"]) if ended is not None else None
            ended = ended if clock is not None else None
            at = scene.past(clock)
            last = scene.row.items_of(ended.start(), ended.end())[1] if ended is not None else found.last
            scene.add({"is": "class", "act": "end", "at": at}, found.first, last, "class over")
            return


def _start(scene: Scene) -> None:
    head = compiled(
        r"(?:(?:ok|okay|right|hello|morning|hi|good|all|everyone|everybody|guys|team|so|welcome|folks"
        r"|afternoon|to|,|!|\.|:) )*"
        r"(?:(?P<new>we are starting class|we are starting the class"
        r"|(?:kicking off|opening|beginning|kicked off|opened) (?:the |our |today 's )?class"
        r"|i am starting class|new class"
        r"|class(?: (?:is|'s|has|now))* (?:starting|started|begun|beginning|kicking off|kicked off|open|under way"
        r"|underway)"
        r"(?= ?(?:$|[.,;!:-]|now))|class (?:start|starts|begins|begin)(?= ?(?:$|[.,;!:-]|now))|class today|class"
        r"|todays class|today 's class|this class|starting class"
        r"|start class|class starting|starting a class|starting a new class|class start|new session"
        r"|opening class|class begins|begin class|starting today 's class|class now|we start class|we begin class"
        r"|now we start class|we are beginning class|beginning class"
        r"|class is|start of class|today class|starting|evening class|afternoon class|morning class"
        r"|todays session|today 's session|this is|class on|class up|class for today"
        r"|this morning 's class|tonight 's class|tonights class|todays|today 's)"
        r"(?: (?:is|'s|today|now|called|will be|for today))*)(?: ?[:,-])?"
    )
    # "big one today! class: ...": a remark may stand in front of an announcement.
    starts = [scene.row.offset(first) for first, _ in scene.sentences]
    begun = compiled(r"(?<=[:,-] )(?:class ?:|(?:we are )?starting (?:the )?class)").search(scene.row.canon)
    starts += [begun.start()] if begun is not None else []
    tries = (head.match(scene.row.canon, at) for at in dict.fromkeys([0, *starts]))
    match = next((each for each in tries
                  if each is not None and (not each.start() or ":" in each.group() or begun)), None)
    if match is None:
        return
    said = match.group("new")
    if said == "this is" and compiled(r"(?:my|her|his|their|your|such|not)(?= )").match(
        scene.row.canon, match.end() + 1
    ):
        return  # "this is my first class"
    _first, at = scene.row.items_of(match.start(), match.end())
    start = scene.row.items_of(match.start("new"), match.end("new"))[0]
    words = scene.row.words(start, at)
    if "class" not in words and "session" not in words:
        # "starting the lamb class, 12 guests"
        rest = scene.row.words(at, min(len(scene.items), at + 8))
        if said not in ("starting", "this is", "todays", "today 's") or "class" not in rest:
            return
    if scene.moods[start] in ("question", "what_if"):
        return
    food = at < len(scene.items) and scene.items[at].kind == "D" and match.group().split()[-1] in ("is", "'s")
    if said == "class" and food and not any(scene.items[n].word in _NO_TITLE for n in range(at, len(scene.items))):
        said = "class is"
    if said in ("class",) and match.group().rstrip()[-1] not in ":,-" and not _announced(scene, at):
        return
    of_many = compiled(r"of <N>").match(scene.row.canon, scene.row.offset(at)) if at < len(scene.items) else None
    if (
        of_many is None
        and match.group().rstrip()[-1] != ":"
        and at < len(scene.items)
        and scene.items[at].word
        in bag(
            "photo list kit notes fee fees size full went was loved sheet sheets plan will has have are starts "
            "laughed looks photos seems likes loves of hamster president act"
        )
    ):
        return
    fields: dict[str, Any] = {"is": "class", "act": "start"}
    title_first = at
    title_last = _title_end(scene, at)
    title = clean(scene.row.text(title_first, title_last)) if title_last > title_first else ""
    for lead in ("called ", "is ", "on ", "about ", "for today ", "today "):
        title = title.removeprefix(lead)
    if title in ("on", "open", "live", "go") and title_last < len(scene.items) and scene.items[title_last].kind == ".":
        title_first = title_last + 1
        title_last = _title_end(scene, title_first)
        title = clean(scene.row.text(title_first, title_last)) if title_last > title_first else ""
    if not title and at < len(scene.items) and scene.items[at].kind == ".":
        # "starting the class. it's shoulder and smoke, 12 guests"
        more = compiled(
            r"(?:\.|!|,|:|;|-)+ (?:it 's|it is|today is|today 's|this is|we are doing|we 're doing|title|called)"
        ).match(scene.row.canon, scene.row.offset(at))
        if more is not None:
            _, title_first = scene.row.items_of(more.start(), more.end())
            title_last = _title_end(scene, title_first)
            title = clean(scene.row.text(title_first, title_last)) if title_last > title_first else ""
        elif _is_title(scene, at + 1, _title_end(scene, at + 1)):
            title_first, title_last = at + 1, _title_end(scene, at + 1)
            title = clean(scene.row.text(title_first, title_last))
    elif title and scene.items[title_first - 1].word == "," and not _is_title(scene, title_first, title_last):
        title, title_last = "", title_first
    if title and title not in ("today", "now", "class", "with", "tomorrow"):
        fields["title"] = title
    guests = _guest_count(scene, at, len(scene.items)) or _lone_count(scene, at, len(scene.items))
    if guests is not None:
        fields["guests"] = guests[0]
    serve = _serve_time(scene, at, len(scene.items))
    if serve is not None:
        fields["serve"] = scene.coming_meal(serve[0])
    if len(fields) == 2 and said == "class":
        return
    end = max([at, title_last, *([guests[2]] if guests else []), *([serve[2]] if serve else [])])
    scene.add(fields, start, max(end, start + 1), "class starts")


# What a class is called ends with one of these, or it is food and fire and no sentence.
_TITLES_END = bag(
    "day days night morning evening afternoon lunch supper dinner breakfast brunch feast class course workshop session "
    "school weekend club party sunday saturday friday thursday wednesday tuesday monday basics beginners bake roast"
)
_VERBS = bag("is are 's was were am 're 'll 've have has here now please who what when where i we you they it")


def _is_title(scene: Scene, first: int, last: int) -> bool:
    """ "starting the class. belly and bread night, 9 guests": the sentence behind it is its title."""
    words = scene.row.words(first, last)
    if not words or len(words) > MOST_OF_A_TITLE or set(words) & _VERBS or any(
            item.kind in ("N", "T", "K", "L", "H") for item in scene.items[first:last]):
        return False
    return words[-1] in _TITLES_END or any(item.kind == "D" for item in scene.items[first:last])


MOST_OF_A_TITLE = 6
_NO_TITLE = bag("was were done over late mad crazy keen obsessed in out not off gone")


def _announced(scene: Scene, at: int) -> bool:
    """ "class pot day, 14 guests": without its colon a class needs guests or an eating time."""
    return _guest_count(scene, at, len(scene.items)) is not None or _serve_time(scene, at, len(scene.items)) is not None


def _title_end(scene: Scene, at: int) -> int:
    end = at
    while end < len(scene.items):
        item = scene.items[end]
        if item.kind == "." and item.word in ".,;!|:-(/":
            break
        if (
            item.kind == "N"
            and _guest_count(scene, end, min(len(scene.items), end + 4)) is not None
            and not _is_plain_title(scene, end)
        ):
            break
        if compiled(
            rf"(?:with |for |and |we |we 're |we are )*(?:{_EAT} (?:at|by|from|for|around) <T>|{_EAT} <T>"
            rf"|with <N>|for <N>|we have <N>|we are <N>|there are <N>|there 's <N>)"
        ).match(scene.row.canon, scene.row.offset(end)):
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
    for pattern in (
        rf"(?P<n><N>)(?: (?:hungry|lovely|paying|happy|in|all|keen|or so))* {_PEOPLE}",
        r"(?:we are|we 're|there are|there 's|we have got|we have|we 've got|expecting|feeding|cooking for"
        r"|with|guests|(?<!lunch )(?<!eating )(?<!dinner )(?<!serving )(?<!eat )for|of|party of|headcount|head count"
        r"|numbers|group of|total|total of"
        r"|making us) (?P<n><N>)(?= ?(?:$|[.,;!|]|eating|in total|today|now|,|and|at|in all|altogether))",
    ):
        for match in compiled(pattern).finditer(canon, start, stop):
            number = scene.number(match.group("n"))
            if number is not None and number % 1 == 0 and 1 <= number <= 500:
                a, b = scene.row.items_of(match.start(), match.end())
                return int(number), a, b
    return None


def _lone_count(scene: Scene, first: int, last: int) -> tuple[int, int, int] | None:
    """ "class: bread and braise, 12, eating 1.15": a whole number between two commas of an announcement."""
    for at in range(first, last):
        item = scene.items[at]
        alone = scene.segment(at) == (at, at + 1) and at > first
        if alone and item.kind == "N" and item.value.value % 1 == 0 and 2 <= item.value.value <= 60:
            return int(item.value.value), at, at + 1
    return None


def _serve_time(scene: Scene, first: int, last: int) -> tuple[Any, int, int] | None:
    canon = scene.row.canon
    start, stop = scene.row.offset(first), scene.row.offset(last)
    for match in compiled(
        rf"{_EAT}(?: (?:is|'s|are|now|will be|planned|set|up|set for|we eat|them"
        rf"|time))*(?: ?[:,-])?(?: (?:at|by|from|for|around|about|is|moved to|now|:))*(?: about"
        rf"| around)? (?P<t><TN>)"
    ).finditer(canon, start, stop):
        token = match.group("t")
        clock = scene.clock(token)
        if clock is None or scene.item(token).kind == "A":
            continue
        if match.group().startswith("breakfast") and isinstance(clock, Clock) and clock.hour is not None:
            clock = replace(clock, exact=True)  # the one of the morning
        a, b = scene.row.items_of(match.start(), match.end())
        after = scene.items[b] if b < len(scene.items) else None
        if (
            token[0] == "N"
            and after is not None
            and after.kind == ""
            and after.word in bag("people guests of students minutes")
        ):
            continue
        return clock, a, b
    return None


def _meal_of_load(scene: Scene) -> None:
    """ "3 kg shoulder for 14 at half one": who eats and when, behind what is cooked for them."""
    if "K" not in scene.kinds:
        return
    for found in scene.find(
        r"for (?P<n><N>)(?: people| guests| of us)? (?:at|eating at|by) (?P<t><T>)(?= ?(?:$|[.,;!|]|today))"
    ):
        first, _ = scene.sentence(found.first)
        count, time = found.number("n"), scene.coming_meal(found.time("t"))
        told = any(item.kind == "K" for item in scene.items[first : found.first])
        if told and time is not None and count is not None and count % 1 == 0 and 2 <= count <= 500:
            at, _ = found.items_of("t")
            scene.add({"is": "guests", "count": int(count)}, found.first, at, "guests of the load")
            scene.add({"is": "serve", "by": time}, at, found.last, "eating time of the load")
            return


def serves(scene: Scene) -> None:
    """Eating time alone: "eating at 2 now, not 1.30", "we'll eat at 3 instead"."""
    _meal_of_load(scene)
    canon = scene.row.canon
    if any(draft.kind == "class" and draft.fields["act"] == "start" for draft in scene.drafts):
        return
    not_old = (
        r"(?: (?:now|instead|today|then|please|sharp|ish|everyone|all|not))*(?:(?: ,)? (?:not|rather than"
        r"|instead of|was) (?:at )?<TN>)?"
    )
    plan = (
        r"(?:(?:we|we 'll|we 're|we are|let 's|going to|we will|'ll|will|we 've decided to|'re|decided to"
        r"|guests|they|people|guests are|everyone|everyone 's|now|change of plan|new plan|update"
        r"|plan)(?: ?[,:-])? )*"
    )
    moved = (
        r"(?:lunch|dinner|supper|serving|eating|eating time|service|serve time|meal|food|serving time"
        r"|meal time|lunchtime|dinner time|the meal)(?: (?:'s|is|has|been|now|time))*(?: (?:moved|pushed"
        r"|put back|brought forward|shifted|delayed|slipped|pushed back|changed|moved back|set|back"
        r"|going))*(?: (?:to|till|until|for|at|by|forward to|back to))+ (?:about |around )?(?P<t><TN>)"
    )
    for pattern in (
        r"(?P<head>serving|feeding|seating) <N>(?: people| guests| of us)? (?:at|by|from|around) (?P<t><T>)",
        r"(?P<head><N> (?:guests|people|of us|students|covers)) (?:at|for) (?P<t><T>)(?= ?(?:$|[.,;!|]|sharp|today))",
        rf"{plan}(?:eating|eat|serving|serve|sitting down|sit down|dishing up|feed everyone"
        rf"|feeding everyone|serve up|serve lunch|have lunch|eat lunch|have dinner|serving lunch"
        rf"|plating up|plate up|having lunch|eat dinner|serving up|all eating|we eat"
        rf"|serve food)(?: (?:is|'s|now|everyone|instead|them|it|at|by|for|around|about|from|moved|to"
        rf"|pushed|back|later|earlier|time))* (?P<t><TN>){not_old}",
        rf"{moved}{not_old}",
        rf"(?:lunch|dinner|supper|food|the meal|meal)(?: (?:'s|is|will|'ll|to|be|now))+ served(?: up)? (?:at|by|from) "
        rf"(?P<t><TN>){not_old}",
        r"(?:lunch|dinner|supper|eating|meal|service|serving)(?: (?:time|now|is"
        r"|'s))* (?P<t><T>)(?: (?:now|instead|sharp))*",
        r"(?:moved|pushed|shifted|put|delayed|brought|bumped) (?:lunch|dinner|eating|serving|meal"
        r"|supper|service|serve|food)(?: (?:time|back|forward|on|out|up))* (?:to|till"
        r"|until) (?P<t><TN>)",
        r"(?:push|mov|shift|delay|bring|put)(?:ing|ed|ting)? (?:lunch|dinner|eating|serving|meal)(?: (?:time|back"
        r"|forward"
        r"|on|by|<U>|out))* to (?P<t><TN>)",
    ):
        for match in compiled(pattern).finditer(canon):
            found = Found(scene, match)
            token = found["t"]
            if (
                found.first
                and scene.items[found.first - 1].kind == "N"
                and (scene.items[found.first].word in ("guests", "people", "now"))
            ):
                _, comma = scene.segment(found.first)  # "17 guests now, eating at 2": the count is a clause of its own
                found.first = comma + 1 if comma < found.last - 1 else found.first
            if token is None or scene.clock(token) is None or any(scene.used[found.first : found.last]):
                continue
            if any(mood in ("question", "what_if") for mood in scene.moods[found.first : found.last]):
                continue
            if _doubtful_serve(scene, found) or not scene.doubted.isdisjoint(range(found.first, found.last)):
                continue
            if found.has("head"):
                found.first = found.items_of("t")[0]  # "serving 14 at 1.15": the rest tells how many
            after = scene.items[found.last].word if found.last < len(scene.items) else ""
            if token[0] == "N" and after in bag("people guests of students portions plates minutes loaves"):
                continue
            if token[0] == "N" and compiled(r"(?:at|by|from|around|about) <T>").match(
                scene.row.canon, scene.row.offset(found.last)
            ):
                continue  # "serving 14 at 1.15"
            if token[0] == "N" and not compiled(
                r".*(?:at|by|to|around|about|for|now|from|till|until) N\d+.*"
            ).fullmatch(match.group()):
                continue
            scene.add(
                {"is": "serve", "by": scene.coming_meal(scene.clock(token))}, found.first, found.last, "eating time"
            )
            _eaters(scene, found.last)
            return


def _eaters(scene: Scene, at: int) -> None:
    """ "eat at noon with 12", "lunch at 1 for 16": who eats, right behind the time."""
    match = compiled(
        rf"(?:(?:,|now|today|and) )*(?:with|for|we are|all)(?: about| around)? (?P<n><N>)(?: {_PEOPLE}| now| today)*"
        r"(?= ?(?:$|[.,;!|]|and ))"
    ).match(scene.row.canon, scene.row.offset(at)) if at < len(scene.items) else None
    number = scene.number(match["n"]) if match is not None else None
    if match is None or number is None or number % 1 or not 2 <= number <= 500:
        return
    first, last = scene.row.items_of(match.start(), match.end())
    if not any(scene.used[first:last]) and all(mood == "fact" for mood in scene.moods[first:last]):
        scene.add({"is": "guests", "count": int(number)}, first, last, "guests at the meal")


def _doubtful_serve(scene: Scene, found: Found) -> bool:
    first, _ = scene.sentence(found.first)
    a, b = scene.segment(found.first)
    words = set(scene.row.words(a, b))
    if words & {
        "if",
        "can",
        "could",
        "should",
        "might",
        "may",
        "would",
        "want",
        "wants",
        "usually",
        "yesterday",
        "tomorrow",
        "last",
        "hope",
        "hoping",
        "unless",
        "maybe",
        "don't",
        "won't",
        "ideally",
        "used",
        "when",
        "wanted",
        "asked",
        "like",
        "hopefully",
        "probably",
        "wish",
        "monday",
        "home",
        "bread",
        "can't",
        "otherwise",
        "or",
        "cannot",
        "didn't",
    }:
        return True
    before = set(scene.row.words(first, a))
    return bool(before & bag("if unless tomorrow yesterday last whether"))
