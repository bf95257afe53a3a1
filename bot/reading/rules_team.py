"""The team: who takes what, what is done, quiet please, and notes for the record."""

from __future__ import annotations

from typing import Any

from bot.reading.clock_times import Clock, coming
from bot.reading.items import FILLERS
from bot.reading.lexicon import bag
from bot.reading.mended import people_of
from bot.reading.normalise import without_pictures
from bot.reading.scene import Found, Scene, clean, compiled
from bot.reading.spelling import rule_words

_HUSH_WORDS = bag(
    "talk speak chat post quiet silent silence hush hushed shush shh mute unmute unhush demo teaching "
    "messages prompts lesson speech presentation briefing demonstration demonstrating interrupt disturb "
    "message zip schtum pipe bot talking notifications chatter posting pings ping bother intro"
)


def hushes(scene: Scene) -> None:
    """Quiet while the lead teaches, and talk again."""
    if not scene.has_any(_HUSH_WORDS):
        return
    off = (
        r"(?:(?:ok |right |and )?you (?:can|may) (?:talk|speak|chat|chime in|post|message us|come back"
        r"|carry on|start talking|ping us|pipe up)(?: (?:again|now|freely|to us|away))*|(?:talk|speak|chat"
        r"|post) (?:again|away|freely)(?: now| please)?|chat(?: (?:'s|is))? (?:back on|open again|on again"
        r"|open|back)|unmute(?: yourself| chat| bot)?|unhush|(?:demo|talk|teaching|speech|intro"
        r"|presentation|briefing|demonstration)(?: (?:'s|is|all|now|bit))* (?:over|done|finished|ended"
        r"|through)(?: (?:now|you can (?:talk|speak)(?: again)?))*|(?:done|finished) (?:teaching|talking"
        r"|demo|the demo|with demo|demonstrating)|back to normal chat|messages (?:ok|fine|on|back on"
        r"|are fine) (?:again|now)|(?:resume|restart) (?:chat|messages|talking|prompts|normal service)"
        r"|no need to (?:be|keep|stay) quiet|quiet (?:time )?(?:over|off|finished)|hush off|silence over"
        r"|carry on (?:talking|chatting|messaging)|prompts (?:back )?on|ok to (?:talk|speak|post) (?:again"
        r"|now)|talk to us again|(?:we 're|i 'm|i am|we are) done teaching"
        r"|(?<![\w'] )(?:ok |right |and )?can (?:talk|speak|chat|post) (?:again|now))"
    )
    on = (
        r"(?:keep (?:chat|channel|room|messages|phones?|it all|everything) (?:quiet|down|clear|silent|off)"
        r"|(?:keep|stay|be|go) (?:quiet|silent|schtum|shush|hushed)|hold (?:chat|messages|your messages"
        r"|off (?:chat|messages|prompts|messaging|talking|the chat)|fire on messages|it down|your tongue"
        r"|posts|prompts|all messages|the messages|notifications)|(?:no|stop|pause|mute|silence"
        r"|hush) (?:(?:more|any|all) )?(?:chat|messages|talking|posting|prompts|notifications|chatter|pings"
        r"|pinging|posts|bot|yourself|chatting|messaging)|(?:quiet|silence|hush|shush|shh+|sh+|schtum"
        r"|zip it|pipe down)(?: (?:now|for a bit|everyone|bot|for now|in here|in chat|time|for|on chat"
        r"|while we teach|during demo))*|don't (?:talk|post|message|chat|ping|prompt|speak|interrupt"
        r"|bother us|disturb)(?: (?:us|me|now|to us|here|anything))*|do not disturb|(?:demo|teaching|(?<!can )talk"
        r"|lesson|briefing|speech|intro|presentation|demonstration|safety talk)(?: (?:'s|is|now|time|just"
        r"|about to))* (?:starting|started|begins|on|now|start|beginning|in progress|going on|under way"
        r"|time|begun)(?: (?:now|please|so|:|,))*|(?:starting|beginning|start) (?:the )?(?:demo|teaching"
        r"|lesson|talk|briefing|safety talk|demonstration)(?: now)?|(?:i 'm|i am|we 're|we are|mara 's"
        r"|mara is) (?:teaching|demonstrating|on with the demo|doing the demo|in demo|mid demo)(?: now)?"
        r"|teaching(?: (?:now|time))+|mute|not now bot)"
    )
    for pattern, act in ((off, "off"), (on, "on")):
        for found in scene.find(pattern, mood=None):
            if any(mood in ("question", "what_if") for mood in scene.moods[found.first : found.last]):
                continue
            if act == "off" and found.first and _not_yet(scene, found.first):
                continue
            if any(draft.kind == "hush" for draft in scene.drafts):
                return
            if act == "on" and not _really(scene, found):
                continue
            fields: dict[str, Any] = {"is": "hush", "act": act}
            if act == "on":
                minutes = _minutes(scene, found) or _minutes_of_silence(scene)
                if minutes is not None:
                    fields["minutes"] = minutes
            first, last = scene.sentence(found.first)
            scene.add(fields, found.first, found.last, "quiet" if act == "on" else "talk again")
            for at in range(first, last):
                if scene.items[at].kind in ("U", "T") and act == "on":
                    scene.used[at] = "quiet"
            return


def _not_yet(scene: Scene, at: int) -> bool:
    """ "we'll feed it once the demo's done": told of a time to come."""
    a, _ = scene.segment(at)
    return bool(set(scene.row.words(a, at)) & bag("once when after till until before if as unless while"))


def _really(scene: Scene, found: Found) -> bool:
    a, b = scene.sentence(found.first)
    words = scene.row.words(a, b)
    text = found.match.group()
    if text.split()[0] in ("quiet", "silence", "mute", "hush") and len(words) > len(text.split()):
        return (
            bool(set(words) & bag("please for everyone bot chat minutes now demo teaching till until while"))
            and not set(words) & bag("crowd street yard lot it's group day here's road very today morning")
            and words[0]
            in bag("quiet silence mute hush please ok right bot everyone teaching demo shh sh demoing talking")
        )
    if "quiet" in text and words[0] in ("don't", "didn't"):
        return False
    before = [item.word for item in scene.items[max(a, found.first - 3) : found.first]]
    if text.split()[0] in bag("keep stay be go") and set(before) & _WHOSE_QUIET and "teaching" not in words:
        return False  # "sorry if I go quiet": of herself, and nobody is asked to be
    if set(words) & bag("tomorrow later after soon before next when") and not set(words) & {
        "chat",
        "quiet",
        "messages",
    }:
        return False
    return not (
        text.split()[0] in bag("demo teaching talk lesson starting beginning start")
        and any(item.kind == "T" for item in scene.items[found.last : found.last + 2])
    )


_WHOSE_QUIET = bag("i he she it they may might 'll will phone battery mine")


def _minutes_of_silence(scene: Scene) -> float | None:
    """ "Teaching now; silence here for 15 minutes": the while stands in the next sentence."""
    lengths = [at for at, item in enumerate(scene.items) if item.kind == "U"]
    if len(lengths) != 1:
        return None
    words = set(scene.row.words(*scene.sentence(lengths[0])))
    return float(scene.items[lengths[0]].value) if words & bag("silence quiet silent hush mute shush") else None


def _minutes(scene: Scene, found: Found) -> float | None:
    first, last = scene.sentence(found.first)
    for at in range(first, last):
        item = scene.items[at]
        if item.kind == "U":
            return float(item.value)
        if item.kind == "N" and at and scene.items[at - 1].word == "for" and at + 1 in (last, len(scene.items)):
            return float(item.value.value) if 1 <= item.value.value <= 180 else None
        if (
            item.kind == "T"
            and at
            and scene.items[at - 1].word in ("till", "until", "to")
            and isinstance(item.value, Clock)
        ):
            now = scene.context.now
            hour, minute = map(int, coming(item.value, now).split(":"))
            span = (hour * 60 + minute - now.hour * 60 - now.minute) % 1440
            return float(span)
    return None


_NOTE_WORDS = bag(
    "note notes record log nb diary routine now here plan forward point noting remember jot write file book n"
)


def notes(scene: Scene) -> None:
    """Words for the record, kept whole; a routine that holds from now on is one of them."""
    if not scene.has_any(_NOTE_WORDS):
        return
    message = scene.row.message
    for pattern, whole in (
        (
            r"(?:note for tomorrow|note to self|note for (?:log|record|next time|file|book)|note it|note this"
            r"|note that|note down|note"
            r"|notes|a note|note for (?:log|record|next time|file|book)|for (?:record"
            r"|log|notes|the book)|make a note|make note|log this|log it|please note|note down"
            r"|for the record|record this|note that|to note|worth noting|nb|n b|diary|take a note"
            r"|add a note|add note|remember(?= [:-] )|remember for next time|log note|log entry|write down|jot down"
            r"|note it"
            r"|note this|put in (?:log|notes|record))(?: (?:that|this|:|,|-|for next time|please))*",
            False,
        ),
        (
            r"(?:from now on|from here on|plan from here|from here|routine|the routine|routine from (?:now"
            r"|here)|new routine|feeding plan|feeding routine|plan from now|fire plan|plan from now on"
            r"|going forward|feed plan|new plan from here|from this point)(?: (?:is|:|,|-))*",
            True,
        ),
    ):
        match = compiled(pattern).search(scene.row.canon)
        if match is None:
            continue
        first, at = scene.row.items_of(match.start(), match.end())
        start, _ = scene.sentence(first)
        if scene.moods[first] in ("question", "what_if") or not _note_head(scene, start, first):
            continue
        if whole and not _routine(scene, first):
            continue
        if at >= len(scene.items):
            continue
        if (
            not whole
            and match.group() in ("note", "notes", "diary", "note it", "a note", "nb")
            and scene.items[at - 1].kind != "."
            and not _plain_note(scene, first)
        ):
            continue
        while not whole and at < len(scene.items) and scene.items[at].kind == ".":
            at += 1
        begin = scene.items[start if whole else at].start
        end = _asked_behind(scene, at)
        stop = scene.items[end - 1].end if end < len(scene.items) else len(message)
        text = " ".join(without_pictures(message[begin:stop]).lower().replace("’", "'").split()).strip(" .!")
        if not text:
            continue
        for draft in [each for each in scene.drafts if end > each.first and each.last > first]:
            scene.drafts.remove(draft)
        scene.add({"is": "note", "text": text}, start if whole else first, end, "note")
        return


def _asked_behind(scene: Scene, at: int) -> int:
    """Where a note ends: at its last sentences if they ask, for those are not for the record."""
    end = len(scene.items)
    for first, last in reversed(scene.sentences):
        asks = first > at and scene.items[first - 1].word in ".!?|" and scene.moods[first] == "question"
        if last != end or not asks:
            break
        end = first
    return end


def _plain_note(scene: Scene, first: int) -> bool:
    """ "note the flue cap rattles": without its colon a note opens the message and has a sentence behind it."""
    words = scene.row.words(first + 1, len(scene.items))
    return (
        scene.items[first].word in ("note", "nb")
        and all(item.word in FILLERS or item.kind == "." for item in scene.items[:first])
        and len(words) >= (5 if scene.items[first].word == "note" else 2)
        and (
            scene.items[first].word == "nb" or words[0] in bag("the our a an that all both there this these those some")
        )
        and words[1] not in ("time", "change", "date", "one", "new")
    )


def _note_head(scene: Scene, start: int, first: int) -> bool:
    return all(
        item.kind == "."
        or item.word
        in bag("ok right so and also please pls plz fyi btw bot hey one for just can you a quick the yardhand")
        for item in scene.items[start:first]
    )


def _routine(scene: Scene, first: int) -> bool:
    words = set(scene.row.words(first, len(scene.items)))
    return bool(words & bag("every each hourly stays keep always only half once twice per"))


_TASK_WORDS = bag(
    "i mine bagsy bags shotgun did will has 's is got takes taking me dibs done finished did completed complete sorted "
    "taken on have give hand pass "
    "cleaned washed dealt seen are doing owns over leave"
)


def mine(scene: Scene) -> None:
    """ "mine: wood for the barrel": claimed, before a rule takes the wood for fed."""
    for found in scene.find(r"(?<![a-z0-9] )mine [:-] (?P<what>[a-zDOPITNU].*?)(?= ?(?:$|[.,;!|]))"):
        what = clean(scene.row.spelled(*found.items_of("what")))
        scene.add({"is": "task", "act": "claim", "what": what}, found.first, found.last, "task taken")


def _labels(scene: Scene) -> None:
    """ "labels read", "I've read the labels on the lamb": the reading of what was bought, done."""
    if not scene.has_any(bag("label labels")):
        return
    of = r"(?: (?:on|of|for|in) (?:all )?(?:(?P<dish><D>)|everything|them))?"
    end = r"(?= ?(?:$|[.,;:!|]|and |<T>))"
    for found in scene.find(
        rf"(?:all |both )*labels?{of}(?: (?:are|is|all|now|been|have|has|'s))* (?:read|checked){end}"
        rf"|(?:i|we|i have|we have|have)(?: all| just)* (?:read|checked)(?: all| both)* labels?{of}{end}"
    ):
        dish = found.name("dish") if found.has("dish") else None
        scene.add({"is": "task", "act": "done", "what": "labels", "dish": dish}, found.first, found.last, "labels read")


def tasks(scene: Scene) -> None:
    """ "I've got the door check", "Pell has done the pans"."""
    _labels(scene)
    if not scene.has_any(_TASK_WORDS) and not scene.has_any(people_of(scene)):
        return
    end = r"(?= ?(?:$|[.,;!|]|<TN>(?= ?$)|over from |off you|from now|from here|now|today|for now|till |until "
    r"|from <T>|at <T>"
    others = "|".join(sorted(name for name in people_of(scene) if name.isalpha()))
    end += r"|(?:all|chef|folks|everyone|guys|mate|team|thanks|ta)(?= ?(?:$|[.,!]))"
    end += r"|this time|then|so |while "
    end += rf"|(?:who|what|when|where|how|why) |(?:and )?(?:{others}|i) (?:has|have|is|'s|got|on|takes|does|am) ))"
    what = r"(?P<what>(?:<W>|<D>|<O>|<P>|<I>)(?: (?:<W>|<D>|<O>|<P>|'s|<I>)){0,4}?)"
    own = what.replace("(?:<W>", "(?:(?!and )<W>")
    for pattern, act in (
        (
            rf"(?:i have got|i have|i 'll take|i 'll do|i 'll watch|i 'll mind|i 'll look after|i 'll cover"
            rf"|i 'll handle|i 'll keep|i am taking|i am doing|i am on|i am watching|i am minding|i take"
            rf"|i will take|i will do|i can take|i got|i 'll sort|i 'll be on|i 'll run|i am looking after"
            rf"|i am covering|i 'll see to|bagsy|bags i|shotgun|i am in charge of|i will watch|i will mind|i 'll own"
            rf"|i am running|have got|i am manning|i 'll man|leave me with) {what}{end}",
            "claim",
        ),
        (rf"mine ?[:,-]? {what}{end}", "claim"),
        (rf"{what} ?[:-] (?P<who>{others})(?= ?(?:$|[.,;!|]))", "claim"),
        (rf"{what} (?:is|'s|are) mine{end}", "claim"),
        (rf"(?:give|hand|pass|hand over|pass over) {what} (?:over )?to (?P<who>{others})(?= ?(?:$|[.,;!|])|"
         rf" (?:please|now|then|for now|from here|from now)(?= ?(?:$|[.,;!])))", "claim"),
        (rf"(?P<who>{others}) (?:take|please take|can you take|you take|you have|you are on) {what}{end}", "claim"),
        (rf"(?P<what>(?:<W>|<D>|<O>|<P>|<I>|<N>|<U>)(?: (?:<W>|<D>|<O>|<P>|<I>|<N>|<U>)){{0,9}}?) (?:is|'s|are) "
         rf"(?:my job|my turn){end}", "claim"),
        (rf"{what} (?:is|'s|are) (?:on|down to|with|up to|my job|my turn|over to)(?: me)?{end}", "claim"),
        (
            rf"{what} ?[:,-] (?:mine|me|i have got it|got it|i 'll do it|i 'll take it|on it"
            rf"|i 've got it){end}",
            "claim",
        ),
        (
            rf"(?:put me (?:down )?(?:on|for)|me on|dibs on|i claim|claiming|taking over|i am taking over"
            rf"|i have taken over|i have taken|taking|leave) {what}(?: to me)?{end}",
            "claim",
        ),
        (
            rf"(?P<who>[a-z]+) (?:has got|has|'s got|is on|'s on|is doing|'s doing|is watching|'s watching"
            rf"|takes|is taking|'s taking|got|is minding|'s minding|has taken|'s taken|is covering"
            rf"|is looking after|'s looking after|has taken over|takes over|will take|'ll take|'ll do"
            rf"|'ll watch|'ll mind|will do|will watch|will mind|will cover|will look after|will be on|'ll be on|on"
            rf"|is in charge of"
            rf"|owns|is running|'s running) {what}{end}",
            "claim",
        ),
        (
            rf"(?P<who>[a-z]+) (?:has done|has finished|'s done|'s finished|did|finished|has sorted|sorted"
            rf"|has cleaned|has washed|completed|has completed|done) {what}{end}",
            "done",
        ),
        (
            rf"(?:i have done|i have finished|i did|i have finish|i finish|done|finished|i have sorted"
            rf"|i am done with|done with"
            rf"|completed|did|i 've done|have done|all done with|finished with|ticked off|sorted) {what}{end}",
            "done",
        ),
        (
            rf"{what}(?: (?:is|'s|are|all|now|been|has|have))* (?:done|finished|complete|completed|sorted"
            rf"|ticked off|dealt with|seen to){end}",
            "done",
        ),
        (
            rf"(?<=and ){own}(?: (?:is|'s|are|all|now|been|has|have))* (?:done|finished|complete|completed|sorted"
            rf"|ticked off|dealt with|seen to){end}",
            "done",
        ),
    ):
        for found in scene.find(pattern, mood=None):
            if any(mood in ("question", "what_if") for mood in scene.moods[found.first : found.last]):
                continue
            _task(scene, found, act)


_NO_TASK = bag(
    "done finish finished did sorted cleaned washed completed no not a an to some two three time headache idea "
    "feeling question it that this them everything nothing one you been him her us me cold hiccups giggles "
    "hunch doubt already more lots enough much many any never always "
    "only still all both there here fun home late off out down up early holiday break "
    "lunch in on at by with from "
    "made put taken turned moved opened closed shut lit fed raked brought left cooked baked browned seared "
    "poured tipped "
    "added set given got had been seen heard found lost burnt spilt street road phone bus train roof way call mend"
)
_NOT_WHO = bag(
    "it that this there everyone everybody he she they we you who someone somebody nobody anyone pot lamb "
    "floor air oven dome barrel probe door fire lid what which class table guest lunch stock salt flour "
    "cube label one two and but so "
    "meat rain sun wind beer i all thermometer core liquor liquid food bread dog cat "
    "kid everything nothing time today dough recipe book page forecast meter sauce "
    "gravy wood tea coffee the a is has room kitchen fridge yard crew group "
    "van car phone kettle radio gate sink shop school cook oven's lights light rest "
    "yes yep yeah yup ok okay no right sure great "
    "or if guests people students kids"
)
_DUTIES = bag(
    "watch check checks fire wood door barrel dome oven pans pan washing washing-up dishes log timer prep "
    "veg dough table tables stock readings reading temp temps thermometer probe floor temps temperature ash lids gate "
    "aid feed feeding shift plates sauce "
    "serving cleaning sweep sweeping pot pots top topping salad drinks guests board "
    "clipboard notes allergens allergy labels label logs kindling embers rake peel "
    "trays ice chill chilling fridge cooling leftovers bins bin floor-sweep bread "
    "flatbreads pizza list sheet bar tea coffee hot cupboard hold holding line station "
    "pass stall garden herb herbs cups glasses knives tools kit "
    "mop mopping brush count counts register till money parking safety first-aid kit "
    "lookout duty job jobs round rounds up down shopping cake pudding dessert starters "
    "starter gravy marinade sear searing stew lamb beans carving plating setup "
    "pack-down packing up look looks chairs benches forks cutlery napkins plates bowls jugs signs bunting tent gazebo "
    "hose apron aprons towels gloves wash wipe hoovering"
)


_LEADS = bag("and but also so the yes yep yeah yup ok okay right aye sure oh")


def _task(scene: Scene, found: Found, act: str) -> None:
    words = found.words("what")
    counted = scene.items[found.items_of("what")[0]].kind == "N"
    if not words or (words[0] in _NO_TASK and not counted) or words[0] in ("'s", "is"):
        return
    if words[-1] in bag("on off to in of for and out"):
        return
    begin, end = found.items_of("what")
    while begin < end - 1 and scene.items[begin].word in _LEADS:
        begin += 1  # "and the ash bin is done"
    lone = scene.items[begin] if end == begin + 1 and scene.items[begin].kind in ("O", "D") else None
    text = str(lone.value) if lone is not None else clean(scene.row.spelled(begin, end))
    groups = found.groups
    who = groups.get("who")
    duty = bool(set(words) & _DUTIES) or any(
        item.kind in ("O", "D") for item in scene.items[found.items_of("what")[0] : found.items_of("what")[1]]
    )
    a, b = found.items_of("what")
    before = scene.items[a - 1] if a else None
    with_the = before is not None and before.word == "the"
    fields: dict[str, Any] = {"is": "task", "act": act, "what": text}
    items = scene.items[a:b]
    if any(scene.used[n] for n in range(found.first, found.last)):
        return
    if who is not None:
        bare = scene.items[found.items_of("who")[1] : found.items_of("what")[0]]
        lower = scene.message_of(scene.items[found.items_of("who")[0]])[:1].islower()
        if [item.word for item in bare if item.word != "the"] == ["on"] and lower and who not in people_of(scene):
            return  # "beers on ice"
        if who in _NOT_WHO or not who.isalpha() or len(who) < 2 or not duty or not _is_name(scene, found):
            return
        fields["who"] = who
    elif act == "claim" and found.first and scene.items[found.first - 1].word in people_of(scene):
        fields["who"] = scene.items[found.first - 1].word
    elif (
        act == "claim" and not (duty or with_the or found.match.group().startswith(("mine :", "mine -")))
    ) or found.match.group().endswith((" on", " with", " down to", " up to", " over to")):
        return
    elif act == "done":
        if items and items[-1].kind == "D":
            return
        if not duty or set(words) & {"class", "bit", "fire"} or (len(words) > 4):
            return
        if compiled(r".*(?:when|how|not|nearly|almost|un).*").fullmatch(found.match.group()) or (
            any(item.kind in ("O",) for item in items) and len(items) == 1
        ):
            return
    if (
        act == "claim"
        and who is None
        and set(words)
        & {
            "headache",
            "giggles",
            "hiccups",
            "idea",
            "feeling",
            "time",
            "question",
            "keys",
            "key",
            "message",
            "joke",
            "wrong",
            "point",
            "hang",
            "gist",
            "blues",
            "hump",
            "chance",
        }
    ):
        return
    if words in (("job",), ("jobs",)) or (act == "claim" and set(words) & bag("my elbows everywhere knees")):
        return
    if (words == ("fire",) and not with_the) or (
        who and set(words) & bag("talk demo intro speech lesson tour welcome")
    ):
        return
    if set(words) & {"if", "when", "what", "why", "not", "was", "were", "said", "because"}:
        return
    if (
        act == "claim"
        and any(scene.moods[n] == "silent" for n in range(*scene.segment(found.first)))
        and not compiled(r"(?:i|mine|put me|give|hand|pass|.* (?:'ll|will)) .*").match(found.match.group())
    ):
        return
    scene.add(fields, found.first, found.last, "task taken" if act == "claim" else "task done")


def _is_name(scene: Scene, found: Found) -> bool:
    """A person of the room, or a word that is capitalised or begins the message and is no word of ours."""
    at = found.items_of("who")[0]
    item = scene.items[at]
    people = {part.lower() for name in scene.context.people for part in name.split()} | {
        "mara",
        "idris",
        "tomos",
        "bea",
    }
    if item.word in people:
        return True
    typed = scene.message_of(item)
    return (typed[:1].isupper() and (at > 0 or typed[1:].islower()) and item.kind == "") or (
        at == scene.sentence(at)[0] and item.kind == "" and item.word not in _COMMON_STARTS
    ) or (
        # "I'll take the ash, vesna has the barrel": a word that is nobody else's opens the clause.
        scene.row.words(scene.segment(at)[0], at) in ((), ("and",)) and item.kind == ""
        and item.word not in rule_words()
        and any(draft.kind == "task" for draft in scene.drafts)
    )


_COMMON_STARTS = bag(
    "just now have got still only also who what lid lids stuff bit lots half some more another my our your "
    "their his her its then when where fork knife someone everybody nobody dad mum friend neighbour "
    "delivery driver boss kids bloke guy"
)
