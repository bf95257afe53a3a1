"""Words that say little alone: "yes" to a person, "out" of what is in an oven, "the dome" of what just went in."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace
from datetime import timedelta

from bot.reading.context import Context, Said
from bot.reading.lexicon import bag
from bot.reading.result import Reading, Span
from bot.reading.scene import Scene, compiled

# So long a question among people waits for its yes (common practice, no source).
A_REPLY = timedelta(minutes=6)
# As long as a person takes to see what she left out (common practice, no source).
A_MOMENT = timedelta(minutes=4)

# --- yes to a person

_YES = re.compile(
    r"(?:y|ye|yes|yep|yeah|yup|yea|aye|ja|si|oui|it is|it has|they are|it's|course|ofc)\b[\s,.!-]*"
    r"(?P<more>.*)", re.IGNORECASE | re.DOTALL)
# What may stand behind a yes and tells no more than it; anything else must be a time.
_NO_MORE = re.compile(r"(?:(?:it is|it has|they are|all|done|chef|mate|boss|sure|thanks|ta|just now|just|now|already"
                      r"|of course|obvs|definitely|sorry)?[\s.,!-]*)*", re.IGNORECASE)
_WHEN = re.compile(r"(?:at |about |since |from |just after |just before )?[\w:. ]*\d[\w:. ]*(?:ago)?"
                   r"|(?:at )?(?:quarter|half|ten|five|twenty)[\w ]*", re.IGNORECASE)
_LEAD = re.compile(
    r"(?:(?:ok|okay|so|and|hey|right|er|um|oh|but|hi|is that|wait)[\s,]+)*"
    r"(?P<lead>is|are|was|were|has|have|had|did|you|we|any|'s)?\s*"
    r"(?P<who>(?:you|we|they|u|anyone|anybody|someone|somebody|there|any|guys|all|got)\b\s*)*", re.IGNORECASE)
_TAIL = re.compile(r"(?:[\s,]+(?:yet|then|or what|or not|or no|already|right|yes|yeah|no|eh|please|anyone|anybody))*"
                   r"[\s?.!]*$", re.IGNORECASE)
# Told as done in the words in which it was asked after: "did you feed the barrel".
_DONE = {"feed": "fed", "take": "took", "light": "lit", "get": "got", "rake": "raked", "turn": "turned",
         "move": "moved", "top": "topped", "add": "added", "give": "gave", "throw": "threw", "chuck": "chucked",
         "stick": "stuck",
         "spread": "spread", "put": "put", "shut": "shut", "close": "closed", "open": "opened", "pull": "pulled"}
_NO_STATE = re.compile(r"\b(?:when|what|who|whose|where|how|why|which|can|could|will|would|shall|should|may|do|does"
                       r"|need|want|wants|needs|going to|gonna|ready|ok|okay|or)\b", re.IGNORECASE)
_TOLD = bag("pot door fire check stage chill contents reheat food reading guests load")
MOST_TOLD = 2


def yes_to(text: str, context: Context) -> tuple[str, Context] | None:
    """The statement that a yes stands for, and what was said before it was asked; None if it stands for none."""
    match = _YES.fullmatch(text.strip())
    if match is None or not context.last:
        return None
    more = match["more"].strip(" .!,")
    when = ""
    if not _NO_MORE.fullmatch(more):
        if not _WHEN.fullmatch(more):
            return None
        when = f" {more}"
    at = next((at for at in (len(context.last) - 1, len(context.last) - 2)
               if at >= 0 and context.last[at].text.rstrip().endswith("?")), None)
    if at is None or any(said.heard.facts for said in context.last[at + 1:]):
        return None
    said = context.last[at]
    if said.who == context.sender or context.now - said.at > A_REPLY or said.text.count("?") != 1:
        return None
    if context.pending is not None and context.pending.at > said.at:
        return None     # the yes is to the bot
    statement = _stated(said.text, context.people)
    return (f"{statement}{when}", replace(context, last=context.last[:at], pending=None)) if statement else None


def _stated(asked: str, people: Sequence[str]) -> str | None:
    asked = asked.strip()
    for name in people:
        asked = re.sub(rf"^{re.escape(name)}\b[\s,:]*|[\s,]+{re.escape(name)}(?=\s*\?)", "", asked, flags=re.IGNORECASE)
    asked = _TAIL.sub("", asked)
    if _NO_STATE.search(asked):
        return None
    match = _LEAD.match(asked)
    rest = asked[match.end():].strip() if match is not None else asked
    first, _, others = rest.partition(" ")
    if match is not None and (match["lead"] or "").lower() == "did":
        first = _DONE.get(first.lower(), first)
    return f"{first} {others}".strip() or None


def taken_as_said(text: str, alone: Reading, whole: Reading) -> Reading:
    """The reading of the statement in place of the bare yes, if it tells something and asks nothing."""
    facts = whole.heard.facts
    fit = 0 < len(facts) <= MOST_TOLD and all(fact.is_ in _TOLD for fact in facts)
    if not fit or whole.heard.questions or whole.ask is not None or whole.trouble is not None:
        return alone
    meaning = "; ".join(span.meaning for span in whole.spans)
    return Reading(whole.heard, None, (Span(0, len(text), text, "yes to what was asked", meaning),))


# --- out, in

_BARE = compiled(
    r"(?:(?:and|ok|right|now|it|it 's|they|they 're|is|are|all|came|just|taken|got|went|yep|yes|back|going|putting|put"
    r"|taking|them) )*(?P<act>out|in)"
    r"(?: (?:now|at last|finally|safely|too|already|as well|(?P<time><T>)|at (?P<time2><T>)))*"
    r"(?P<hold>(?: [,.])?(?: and)? (?:into|in|to) (?:hot )?(?:cupboard|hot box|box|hot hold|warmer|warming drawer))?"
    r"(?:(?: ,)?(?: and)? resting)?(?: [.!,])*"
)
_WHERE = re.compile(r"\b(?:where|who)\b|\b(?:you|u|he|she|mara|anyone|anybody)\b.*\?", re.IGNORECASE)


def bare_act(scene: Scene) -> None:
    """ "out", and nothing else: what stands in an oven, where one does; the record asks of which, if it cannot tell."""
    match = _BARE.fullmatch(scene.row.canon)
    resting = [draft for draft in scene.drafts if draft.fields == {"is": "stage", "stage": "resting"}]
    if match is None or len(resting) < len(scene.drafts) or scene.context.pending is not None or not scene.context.last:
        return
    last = scene.context.last[-1]
    if scene.context.now - last.at <= A_REPLY and _of_people(last, scene.context):
        return
    inside = {dish for dish, _ in scene.context.standing}
    act = match["act"]
    back = "back" in scene.row.canon.split()
    waiting = scene.context.out if back else [
        dish for dish in scene.context.dishes if dish not in inside and dish not in scene.context.out]
    if not (inside if act == "out" else waiting):
        return
    token = match["time"] or match["time2"]
    fields = {"is": "pot", "act": act, "at": scene.past(scene.clock(token)) if token else None}
    if match["hold"]:
        if act != "out":
            return
        fields["onto"] = "hot_hold"
    scene.add(fields, 0, len(scene.items), "act alone")


def _of_people(said: Said, context: Context) -> bool:
    """Whether what was said just before is about where somebody is."""
    named = any(re.search(rf"\b{re.escape(name)}\b", said.text, re.IGNORECASE) for name in context.people)
    asks = "?" in said.text or said.text.lower().startswith(("where", "who", "anyone", "anybody"))
    return asks and (named or _WHERE.search(said.text) is not None) and not said.heard.questions


# --- the name of what was just told

COMPLETED = "names what was told"
_ONLY_NAME = compiled(
    r"(?:(?:oh|yes|in|into|to|from|that 's|it 's|i mean|meant|and|of) )*(?P<name><O>|<D>)"
    r"(?: (?:oven|obvs|obv|obviously|of course|one|as usual|i mean|that is|duh|pot))*(?P<rest>(?: [.,!;-].*)?)"
)
_OF_OVEN, _OF_DISH = bag("pot reading door fire"), bag("pot food check stage chill reheat")
_INTO, _BESIDE = bag("in moved"), bag("pot door reading load")


def names_completed(scene: Scene) -> None:
    """ "loaves in", then "in the dome obvs"; "air 178", "dome"; "moved it over", "the ribs": the name that its
    sender left out just before. The fact is said whole, in place of the one without it."""
    match = _ONLY_NAME.fullmatch(scene.row.canon)
    own = [said for said in scene.context.last if said.who == scene.context.sender]
    if match is None or not own or scene.context.now - own[-1].at > A_MOMENT:
        return
    # "oxtail in", then "dome, lid on": what it tells besides stands behind the name
    name_at = scene.row.items_of(match.start("name"), match.end("name"))[0]
    if scene.items[-1].word == "?" or any(
            draft.first <= name_at or draft.question or draft.kind not in _BESIDE for draft in scene.drafts):
        return
    item = scene.item(match["name"])
    key, kinds = ("oven", _OF_OVEN) if item.kind == "O" else ("dish", _OF_DISH)
    told = [fact.said() for fact in own[-1].heard.facts]
    lacking = [fact for fact in told if fact["is"] in kinds and key not in fact]
    if not lacking or len(lacking) < len([fact for fact in told if fact["is"] in kinds]):
        return
    if key == "oven" and any(fact["is"] == "pot" and fact["act"] not in _INTO for fact in lacking):
        return
    if scene.drafts and not (key == "oven" and all(fact.get("act") in _INTO for fact in lacking)):
        return
    for fact in lacking:
        scene.add({**fact, key: str(item.value)}, 0, name_at + 1, COMPLETED)


# --- "on", and what is on

_LONE = re.compile(r"(?P<state>on|off)[\s.!]*", re.IGNORECASE)
_ASKS = re.compile(r"\s*(?:and |so |ok )?(?:how|what|which|who|when|where|whose|why)\b", re.IGNORECASE)
_COUNT_LONE = re.compile(r"(?P<count>\d{1,2})[\s.!]*")
MOST_COUNTED = 15
_THING = compiled(
    r"(?:(?:the|our|that 's|it 's|i mean|sorry) )*(?:(?:(?P<dish><D>) )?(?P<lid>lid)(?: (?:of|on) (?P<dish2><D>))?"
    r"|(?:(?P<oven><O>)(?: 's)? )?(?P<door>door)(?: of (?P<oven2><O>))?)(?: [.!,])*"
)
_COUNTED = compiled(r"(?:(?:the|a|that 's|it 's|hand) )*count(?:(?: ,)?(?: (?:at|in|of|on))* (?P<place><P>))?"
                    r"(?: (?:in|of|at))?(?: (?P<oven><O>))?(?: [.!,])*")


def lone_word(scene: Scene) -> None:
    """ "on" or "5", and nothing else, says nothing of what; the next words of its sender may: "brisket lid"."""
    own = [said for said in scene.context.last if said.who == scene.context.sender]
    before = own[-1] if own and scene.context.now - own[-1].at <= A_MOMENT and not own[-1].heard.facts else None
    text = scene.row.message.strip()
    if scene.drafts:
        return
    lone = _LONE.fullmatch(before.text.strip()) if before is not None else None
    thing = _THING.fullmatch(scene.row.canon)
    if lone is not None and thing is not None:
        state = lone["state"].lower()
        dish, oven = thing["dish"] or thing["dish2"], thing["oven"] or thing["oven2"]
        fields = {"is": "pot", "act": f"lid_{state}", "dish": scene.name(dish) if dish else None} if thing["lid"] else {
            "is": "door", "state": state, "oven": scene.name(oven) if oven else None}
        scene.add(fields, 0, len(scene.items), "goes on with a lone word")
        return
    number = _COUNT_LONE.fullmatch(before.text.strip()) if before is not None else None
    counted = _COUNTED.fullmatch(scene.row.canon)
    if number is not None and counted is not None and 0 < int(number["count"]) <= MOST_COUNTED:
        place, oven = counted["place"], counted["oven"]
        fields = {"is": "reading", "count": float(number["count"]), "tool": "hand",
                  "place": scene.name(place) if place else None, "oven": scene.name(oven) if oven else None}
        scene.add(fields, 0, len(scene.items), "goes on with a lone word")
        return
    last = scene.context.last[-1] if scene.context.last else None
    asks = last is not None and (last.text.rstrip().endswith("?") or _ASKS.match(last.text) is not None)
    answers = asks and last is not None and scene.context.now - last.at <= A_REPLY
    if answers or scene.context.pending is not None or scene.trouble is not None or last is None:
        return
    if (alone := _COUNT_LONE.fullmatch(text)) is not None and 0 < int(alone["count"]) <= MOST_COUNTED:
        scene.trouble = f"{text.strip(' .!')}: a hand's count, and of which spot?"
    if _LONE.fullmatch(text):
        scene.trouble = f"{text.strip(' .!').capitalize()}: a lid, a door or wood?"
