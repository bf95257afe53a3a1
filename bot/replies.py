"""What is said to a message: receipts for what matters, answers to questions, a tick or silence for the rest.

A receipt repeats the value that was taken down. A forecast is said again only when it has moved enough to change
what people do. Chatter gets nothing.
"""
from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from datetime import timedelta
from typing import Any

from bot.handover import calls_of, taken_over
from bot.reading.read import Ask, Reading
from bot.session import PENDING_FOR, Session
from bot.talk import Action, Message
from skills import vocabulary as v
from skills.all_skills import ANSWERS
from skills.allergens.skill import heard as allergen_heard
from skills.dated import Change, Dated, Open
from skills.dish.brief import brief_line, is_brief
from skills.dish.liquor import liquor_line
from skills.dish.moves import BEHIND, best_move
from skills.dish.odd import odd_line
from skills.dish.promise import Promise, first_look, promise
from skills.dish.skill import MISSES, miss_key
from skills.kitchen.instruments import Doubt
from skills.oven.stages import stage_heard
from skills.record import ClassRecord
from skills.safety.leftovers import leftovers
from skills.safety.wanted import wanted_lines
from skills.view import REST, View
from skills.wording import capital, clock, day_clock, number, odds, quantile, the

# A forecast that moved less than this since it was last said is not said again (job, section 8).
MOVED_S = 600.0
# Plain readings speak up only for a greater move, and not more often than this.
READING_MOVED_S = 1200.0
READING_EVERY = timedelta(minutes=20)
MOST_LINES = 3
NOTED = " noted."
# A correction of these moves no forecast that is worth saying.
TOLD_ONLY = ("contents", "guests", "incident", "note", "task", "hush")
# What a plan may have lacked.
LACKED = frozenset({v.Serve, v.Oven, v.Load, v.Class})
# A braise that is tender so long before it is taken out waits in its oven (common practice, no source).
KEEPS = timedelta(minutes=25)


@dataclass
class Draft:
    """The lines of one reply while they are gathered, and what the state must remember of them."""
    lines: list[str] = field(default_factory=list)
    data: dict[str, Any] = field(default_factory=dict)
    who: str | None = None

    def add(self, *lines: str) -> None:
        self.lines.extend(line for line in lines if line)


def respond(session: Session, before: ClassRecord, view: View, message: Message, reading: Reading) -> list[Action]:
    """The actions that answer one message. `view` already holds it; `before` is the record without it."""
    receipt = Draft()
    if reading.trouble:
        receipt.add(reading.trouble)
    reading = replace(reading, ask=_which_cooks(reading.ask, before))
    _ask(receipt, view, message, reading)
    _receipts(receipt, before, view, message, reading.ask)
    _ask_last(receipt)
    answered: list[Draft] = []
    for question in reading.heard.questions:
        reply = ANSWERS[type(question)](question, view)
        answered.append(Draft(list(reply.lines), {"told": _told(view, reply.said)} if reply.said else
                              _which_oven(question, reply.lines, view)))
    answered += _asked_before(session, view, message, reading)
    answered = [draft for draft in answered if any(draft.lines)]
    drafts = answered if _carried(receipt, answered) else [receipt, *answered] if receipt.lines else answered
    actions = []
    for count, draft in enumerate(drafts):
        actions.append(Action(session.next_id(count), "reply", message.at, session.class_id,
                              "\n".join(draft.lines[:MOST_LINES]), message.id, who=draft.who, data=draft.data))
    if not actions and (reading.heard.facts or message.removes):
        actions.append(Action(session.next_id(), "tick", message.at, session.class_id, to=message.id))
    return actions


def _which_oven(question: v.Question, lines: Sequence[str], view: View) -> dict[str, Any]:
    """What the room asks back of a plan: its oven may be named by itself."""
    if not isinstance(question, v.Plan) or not lines or not lines[0].startswith("Which oven"):
        return {}
    # "dome" by itself is a spot of an oven to the reader, where no oven goes by that name yet.
    return {"ask": {"question": lines[0], "about": {"is": "oven"}, "missing": "oven",
                    "options": list(view.record.ovens) or ["dome"]}}


def _asked_before(session: Session, view: View, message: Message, reading: Reading) -> list[Draft]:
    """The plan that was asked for a moment ago and lacked what is told now: nobody need ask twice."""
    told = {type(fact) for fact in reading.heard.facts}
    if reading.heard.questions or not told & LACKED or message.replaces:
        return []
    since = message.at - PENDING_FOR
    asked = next((each for each in reversed(session.messages) if each.at >= since and each.id != message.id
                  and any(isinstance(question, v.Plan) for question in each.heard.questions)), None)
    if asked is None or any(key.startswith("plan:") and value["at"] >= asked.at.timestamp()
                            for key, value in session.told.items()):
        return []
    question = next(each for each in asked.heard.questions if isinstance(each, v.Plan))
    named = next((fact.oven for fact in reading.heard.facts if isinstance(fact, v.Oven) and fact.oven), None)
    question = question.model_copy(update={"oven": question.oven or named})
    reply = ANSWERS[v.Plan](question, view)
    # What is still missing is asked once more where a part of it was told just now.
    wanted = reply.said or told & {v.Serve, v.Oven}
    data = {"told": _told(view, reply.said)} if reply.said else _which_oven(question, reply.lines, view)
    return [Draft(list(reply.lines), data)] if wanted else []


def _ask_last(receipt: Draft) -> None:
    """What is asked stands last and is not cut off: it is what is to be answered."""
    asked = receipt.data.get("ask")
    if asked is not None and asked["question"].endswith("?") and asked["question"] in receipt.lines:
        others = [line for line in receipt.lines if line != asked["question"]]
        receipt.lines[:] = [*others[: MOST_LINES - 1], asked["question"]]


def _carried(receipt: Draft, answered: list[Draft]) -> bool:
    """Whether plain receipts stand in front of the answer to the same message: nobody reads two posts for one."""
    plain = bool(receipt.lines) and not receipt.data and all(line.endswith(NOTED) for line in receipt.lines)
    if plain and answered and answered[0].lines:
        noted = ", ".join(line.removesuffix(NOTED) for line in receipt.lines)
        answered[0].lines[0] = f"{noted}{NOTED} {answered[0].lines[0]}"
        return True
    return False


def _ask(draft: Draft, view: View, message: Message, reading: Reading) -> None:
    """One short question: the reader's, or the record's when a fact has no place."""
    if reading.ask is not None:
        ask = reading.ask
        draft.add(ask.text)
        draft.data["ask"] = {"question": ask.text, "about": ask.about, "missing": ask.missing,
                             "options": list(ask.options)}
        return
    mine = [each for each in view.record.open if each.message == message.id]
    for point in mine:
        if point.missing == "target":
            draft.add("Nothing found to change. Write it whole, such as 'dome floor 184 at 12:16'.")
            return
    if mine:
        point = mine[0]
        text = _open_question(point)
        draft.add(text)
        draft.data["ask"] = {"question": text, "about": point.fact.kept(), "missing": point.missing,
                             "options": list(point.options)}


def _which_cooks(ask: Ask | None, before: ClassRecord) -> Ask | None:
    """What was moved is one of the pots that cook: of one nobody is asked, of several only those are named."""
    if ask is None or ask.missing != "dish" or ask.about.get("act") != "moved":
        return ask
    cooking = tuple(dish.name for dish in before.dishes.values() if dish.cooking and dish.oven != ask.about.get("oven"))
    if len(cooking) == 1:
        return None
    return replace(ask, text=f"Which went over: {the(cooking)}?", options=cooking) if cooking else ask


def _open_question(point: Open) -> str:
    fact = point.fact
    which = the(point.options)
    if isinstance(fact, v.Reading):
        value = f"{number(fact.celsius)}" if fact.celsius is not None else f"A count of {number(fact.count or 0)}"
        return f"{value}: {which}?"
    if isinstance(fact, v.Door):
        return f"Door {fact.state}: {which}?"
    if isinstance(fact, v.Fire):
        return f"Fire {fact.act}: {which}?"
    if isinstance(fact, v.Food):
        return f"{number(fact.celsius)} in {which}?"
    if isinstance(fact, v.Pot) and point.missing == "oven":
        return f"{capital(fact.dish or 'pot')} in: {which}?"
    return f"Which one: {which}?"


def _receipts(draft: Draft, before: ClassRecord, view: View, message: Message, ask: Ask | None = None) -> None:
    # What was just asked about is not told as known.
    open_ = ask.about if ask is not None and ask.missing == "dish" else None
    facts = [dated for dated in view.record.facts if dated.message == message.id and dated.fact.said() != open_]
    changes = [change for change in view.record.changes if change not in before.changes]
    for change in changes[:2]:
        draft.add(_change_line(change, before, view))
    if message.removes and not changes:
        draft.add("Taken back.")
    doubted = _doubts(view, message)
    draft.add(*(line for line, _ in doubted[:2]))
    unsure = {each.index for each in view.belief.doubted if each.message == message.id} if view.belief else set()
    if doubted and doubted[0][1] and "ask" not in draft.data:
        draft.data["ask"] = {"question": doubted[0][0], "about": doubted[0][1], "missing": "confirm",
                             "options": ["yes", "no"]}
    odd = {} if message.replaces else {dated.index: odd_line(dated, before) for dated in facts
                                       if dated.index not in unsure}
    if (left := leftovers(facts, view)) is not None:
        draft.add(*left.lines)
        draft.data.setdefault("told", {}).update(_told(view, left.said))
        odd = {}
    for dated in facts:
        draft.add(*([odd[dated.index]] if odd.get(dated.index) else _fact_lines(dated, before, view)))
    draft.add(*allergen_heard(facts, view))
    _stages(draft, facts, view)
    for call in calls_of(facts, before, view):
        draft.who = call.who
        draft.add(*call.lines)
        draft.data |= call.data()
    mended = {(change.message, change.index) for change in changes if change.old.get("is") not in TOLD_ONLY}
    # What was taken back stands in the record before.
    changed = list({key: dated for dated in (*before.facts, *view.record.facts)
                    if (key := (dated.message, dated.index)) in mended}.values())
    # A heat that is not used moves no forecast that is worth saying with it.
    facts = [dated for dated in facts if not odd.get(dated.index)
             and not (dated.index in unsure and isinstance(dated.fact, v.Food))
             and not (isinstance(dated.fact, v.Serve) and before.serve == view.record.serve)]
    if any(dated.fact.is_ in ("pot", "check", "food", "serve", "reading", "load") for dated in facts) or changed:
        _forecast_lines(draft, facts, changed, view)


def _stages(draft: Draft, facts: list[Dated], view: View) -> None:
    """What readings of an oven without a pot make of its rake, or of the time at which it takes a pot."""
    read = [dated for dated in facts if isinstance(dated.fact, v.Reading)]
    for name in dict.fromkeys(dated.oven for dated in read):
        oven = view.record.ovens.get(name or "")
        reply = stage_heard(oven, [dated.fact for dated in read if dated.oven == name
                                   and isinstance(dated.fact, v.Reading)], view) if oven is not None else None
        if reply is not None:
            draft.add(*reply.lines)
            draft.data.setdefault("told", {}).update(_told(view, reply.said))


def _value(said: dict[str, Any]) -> str:
    """ "dome floor 184", "shin 2.4 kg", "door off" """
    kind = said.get("is")
    if kind == "contents":
        holds = f" ({said['allergen']})" if said.get("allergen") not in (None, said["item"]) else ""
        return f"{said['item']}{holds}" + (f" in {the([said['dish']])}" if said.get("dish") else "")
    names = " ".join(str(said[key]) for key in ("oven", "dish", "place", "part") if key in said)
    if "celsius" in said:
        return f"{names or kind} {number(said['celsius'])}".strip()
    if "count" in said and kind == "reading":
        return f"{names or 'hand'} count {number(said['count'])}"
    rest = []
    for key, value in said.items():
        if key in ("is", "oven", "dish", "place", "part", "at"):
            continue
        unit = {"meat_kg": " kg", "wood_kg": " kg", "liquid_l": " l", "litres": " l", "minutes": " min"}.get(key, "")
        word = number(value) if isinstance(value, float | int) else str(value).replace("_", " ")
        rest.append(f"{word}{unit}")
    named = {"pot": "", "load": "", "serve": "eating at"}.get(str(kind), str(kind))
    return " ".join(part for part in (names, named, *rest) if part)


def _change_line(change: Change, before: ClassRecord, view: View) -> str:
    told = next((dated for dated in (*view.record.facts, *before.facts)
                 if dated.message == change.message and dated.index == change.index), None)
    at = f" at {clock(told.at)}" if told is not None else ""
    oven = told.oven if told is not None else None
    old, new = dict(change.old), dict(change.new) if change.new is not None else None
    if old.get("is") == "contents" and new is not None and old.get("item") != new.get("item"):
        inside = f" in the {told.dish}" if told is not None and told.dish else ""
        return f"Changed: {new['item']}{inside} (was {old['item']}), told by {change.by} {clock(change.at)}."
    unnamed = "oven" not in old and (new is None or "oven" not in new)
    if oven and unnamed and old.get("is") in ("reading", "door", "fire"):
        old = {"is": old["is"], "oven": oven, **old}
        new = {"is": new["is"], "oven": oven, **new} if new is not None else None
    if new is None:
        return f"Taken back: {_value(old)}{at}."
    was = {key: value for key, value in old.items() if new.get(key) != value and key != "is"}
    was_text = ", ".join(number(each) if isinstance(each, int | float) else str(each) for each in was.values())
    return f"Changed: {_value(new)}{at} (was {was_text or 'not said'})."


def _doubts(view: View, message: Message) -> list[tuple[str, dict[str, Any]]]:
    """Readings of this message, or just corrected by it, that the model cannot believe: the words and the fact."""
    if view.belief is None:
        return []
    mended = {(change.message, change.index) for change in view.record.changes if change.through == message.id}
    lines: list[tuple[str, dict[str, Any]]] = []
    for doubt in view.belief.doubted:
        if doubt.found_by == message.id:
            at = next(dated.at for dated in view.record.facts if dated.message == doubt.message)
            lines.append((f"{capital(doubt.oven)} {_spot(doubt)} {number(doubt.celsius)} at {clock(at)} does not fit "
                          "what was read since: no longer used.", {}))
        elif doubt.message == message.id or (doubt.message, doubt.index) in mended:
            fact = next(dated.fact for dated in view.record.facts
                        if (dated.message, dated.index) == (doubt.message, doubt.index))
            if isinstance(fact, v.Reading) and fact.place is None:
                continue
            about = {key: value for key, value in {"oven": doubt.oven, **fact.said()}.items() if key != "at"}
            away = doubt.celsius - doubt.expected_p50_c
            side = "over" if away > 0 else "under"
            lines.append((f"{capital(doubt.oven)} {_spot(doubt)} {number(doubt.celsius)} is "
                          f"{abs(away):.0f} {side} my figure: noted, not used. Read it again?", about))
    return lines


def _spot(doubt: Doubt) -> str:
    return "ceiling" if doubt.place == "dome" else doubt.place or "reading"


def _fact_lines(dated: Dated, before: ClassRecord, view: View) -> list[str]:
    """The receipt of one fact, for the kinds that somebody should hear repeated."""
    fact, record = dated.fact, view.record
    if isinstance(fact, v.Class) and fact.act == "start":
        parts = [capital(fact.title or "class")]
        if fact.guests is not None:
            parts.append(f"{fact.guests} guests")
        if record.serve is not None:
            parts.append(f"eating {day_clock(record.serve, view.now)}")
        return [f"Class open: {', '.join(parts)}."]
    if isinstance(fact, v.Class):
        return [f"Class closed at {clock(dated.at)}. The log is kept."]
    if isinstance(fact, v.Oven) and dated.oven:
        return _oven_lines(fact, dated.oven, before)
    if isinstance(fact, v.Serve):
        if record.serve is None or record.serve == before.serve:
            return []
        return [f"{day_clock(record.serve, view.now)} noted{_was(before, record)}."]
    if isinstance(fact, v.Task) and fact.act == "claim":
        return taken_over(dated, before, record)
    if isinstance(fact, v.Guests) and fact.count is not None and not fact.allergen:
        return [f"{fact.count} guests noted."]
    if isinstance(fact, v.Incident) and fact.follow_up:
        first = next((each for each in reversed(record.facts) if isinstance(each.fact, v.Incident)
                      and not each.fact.follow_up and each.at <= dated.at), None)
        return [f"Added to the incident of {clock(first.at)}." if first is not None else "Logged."]
    if isinstance(fact, v.Incident):
        return [f"Logged {clock(dated.at)}, {dated.who}: {fact.what}.", _who_saw(dated, record)]
    if isinstance(fact, v.Load) and fact.done_c is not None and (dish := view.dish(dated.dish)) is not None:
        return wanted_lines(dish, view)
    if isinstance(fact, v.Pot) and fact.act == "moved" and dated.oven:
        return [f"{capital(dated.dish or 'pot')} moved to {the([dated.oven])}, {clock(dated.at)}."]
    if isinstance(fact, v.Pot) and fact.act == "out" and fact.onto == "ring" and (dish := view.dish(dated.dish)) \
            and dish.ring_at is not None:
        return [f"{capital(dish.name)} on the ring, {clock(dated.at)}."]
    if isinstance(fact, v.Hush) and fact.act == "on" and record.hush_until:
        return [f"Quiet till {clock(record.hush_until)}; only fire, food safety and a missed meal get through."]
    return []


# Sizes as people say them.
_SIZES = {"across_cm": "across", "floor_cm": "of floor brick", "dome_cm": "of dome", "insulation_cm": "of insulation",
          "probe_cm": "down to the probe"}
# Two descriptions that differ by less are one (tape and memory).
SAME_SIZE = 0.06


def _oven_lines(fact: v.Oven, oven: str, before: ClassRecord) -> list[str]:
    """Sizes that cannot be, and sizes that differ from what was told before."""
    if fact.called is not None:
        return [f"{capital(fact.called)} and {oven} are one oven now: say either name. My lines go on saying {oven}."]
    odd = [f"{number(getattr(fact, name))} cm {_SIZES[name]}" for name in fact.odd_sizes()]
    if odd:
        return [f"{capital(oven)}: {' and '.join(odd)} cannot be right: noted, not used. "
                f"Say it again, such as 'the {oven} is 90 across, 6 cm floor brick'."]
    known = before.ovens[oven].size if oven in before.ovens else {}
    other = [f"{number(value)} cm {_SIZES[name]} (was {number(known[name])})" for name, value in fact.sizes().items()
             if name in known and abs(value - known[name]) > SAME_SIZE * max(known[name], 1.0)]
    below = {**known, **fact.sizes()}
    if fact.probe_cm is not None and below.get("probe_cm", 0.0) > below.get("floor_cm", math.inf):
        return [f"{capital(oven)}: a probe {number(fact.probe_cm)} down is below the {number(below['floor_cm'])} cm of "
                "floor brick: taken as told. Say the right depth if it is not."]
    return [f"{capital(oven)} now: {', '.join(other)}. Say the old figure again if that is wrong."] if other else []


def _who_saw(dated: Dated, record: ClassRecord) -> str:
    """What the page of the incident still wants; its first care is told beside it (skills/safety/first_aid.py)."""
    lead = record.lead if record.lead is not None and record.lead != dated.who else None
    return f"{f'{lead}: who' if lead else 'Who'} saw it, and what was done? It goes on the incident page."


def _was(before: ClassRecord, record: ClassRecord) -> str:
    return f", was {clock(before.serve)}" if before.serve and before.serve != record.serve else ""


def _forecast_lines(draft: Draft, facts: list[Dated], changed: list[Dated], view: View) -> None:
    """The forecast of the dish that this message speaks of, if it is new or has moved enough to matter."""
    named = [dated.dish for dated in facts if dated.dish is not None]
    entered = {dated.dish for dated in facts if isinstance(dated.fact, v.Pot)
               and (dated.fact.act in ("in", "moved") or dated.fact.onto is not None)}
    weighed = {dated.dish for dated in facts if isinstance(dated.fact, v.Load)}
    strong = any(isinstance(dated.fact, v.Check | v.Food) or getattr(dated.fact, "act", "") in ("lid_on", "lid_off")
                 for dated in facts)
    looked = {dated.dish for dated in facts if isinstance(dated.fact, v.Check) and dated.fact.tender is not None}
    retimed = any(isinstance(dated.fact, v.Serve) for dated in facts)
    ovens = {dated.oven for dated in (*facts, *changed) if dated.oven is not None}
    names = list(dict.fromkeys(named)) or [dish.name for dish in view.record.dishes.values()
                                           if dish.cooking and (not ovens or dish.oven in ovens)]
    for name in names[:2]:
        dish = view.record.dishes.get(name)
        if dish is None or not dish.cooking or len(draft.lines) >= MOST_LINES:
            continue
        if dish.tender in ("tender", "falling") and not retimed:
            continue
        believed = promise(dish, view)
        if believed is None:
            if name in entered and is_brief(dish):
                draft.add(brief_line(dish, view.record.ovens.get(dish.oven or ""), view))
            elif name in entered and dish.meat_kg is None and not dish.over_fire:
                put = f"{capital(name)} in {the([dish.oven or 'oven'])} at {clock(view.now)}. "
                draft.add(f"{put if dish.ring_at is None else ''}What weighs it, and how much liquid?")
            continue
        fresh = name in entered or name in weighed or retimed or bool(changed)
        if fresh or _moved(name, believed, strong, view) or (name in looked and _old(name, view)):
            draft.add(f"{_one_line(believed)}{_waits(believed) if retimed else ''}")
            middle = quantile(believed.tender_s, 0.5)
            if name in entered and dish.looked_at is None and math.isfinite(middle):
                look = first_look(dish, middle, view.now)
                if look > view.now + timedelta(minutes=20):
                    draft.lines[-1] += f" First look {clock(look)}."
            if believed.share < MISSES and len(draft.lines) < MOST_LINES and (move := best_move(dish, view)):
                # A meal that will be missed calls for a move, said in the same breath.
                draft.add(move.line())
                assert believed.serve is not None
                draft.data["key"] = miss_key(name, believed.serve)
            elif believed.serve is not None and len(draft.lines) < MOST_LINES and (retimed or believed.share < BEHIND):
                draft.add(liquor_line(dish, view))
            draft.data.setdefault("told", {}).update(_told(view, {name: quantile(believed.tender_s, 0.5)}))


def _one_line(believed: Promise) -> str:
    return f"{believed.eta_line()} {believed.odds_line()}".strip()


def _waits(believed: Promise) -> str:
    """What is done with a dish that is ready well before a meal that moved."""
    if believed.serve is None or believed.finish.law != "rate":
        return ""
    out = believed.serve - REST
    early = out.timestamp() - quantile(believed.tender_s, 0.5) >= KEEPS.total_seconds()
    return f" It waits: in the oven, lid on, till {clock(out)}." if early else ""


def _told(view: View, said: Any) -> dict[str, Any]:
    """What was last said of each dish: its time, its odds, and when that was."""
    told: dict[str, Any] = {}
    for name, mid in dict(said).items():
        dish = view.record.dishes.get(name)
        believed = promise(dish, view) if dish is not None else None
        told[name] = {"mid": mid if math.isfinite(mid) else None, "at": view.now.timestamp(),
                      "odds": odds(believed.share) if believed is not None and believed.serve is not None else None}
    return told


def _old(name: str, view: View) -> bool:
    """Whether its time was not said lately: who has opened a pot wants to know what came of the look."""
    before = view.told.get(name)
    return before is None or view.now.timestamp() - before["at"] >= READING_EVERY.total_seconds()


def _moved(name: str, believed: Promise, strong: bool, view: View) -> bool:
    before = view.told.get(name)
    if before is None:
        return False
    mid = quantile(believed.tender_s, 0.5)
    in_sight = math.isfinite(mid)
    if not in_sight and before["mid"] is None:
        return False
    shift = abs(mid - before["mid"]) if in_sight and before["mid"] is not None else math.inf
    band = believed.serve is not None and odds(believed.share) != before["odds"]
    if strong:
        return shift >= MOVED_S
    waited = view.now.timestamp() - before["at"] >= READING_EVERY.total_seconds()
    return waited and band and shift >= READING_MOVED_S
