"""Allergens: what guests avoid (counts, no names) and what each pan holds; said at plan, assembly and serving."""
from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta

from skills import vocabulary as v
from skills.allergens.sheet import avoid, avoided, cell, clashes, dishes, held_in, items, labels_read
from skills.dated import Dated
from skills.record import ClassRecord, DishRecord
from skills.skill import Prompt, Reply, Skill
from skills.view import View
from skills.vocabulary import Allergens
from skills.wording import capital, clock, the

KIND = "allergen"
# How long before the meal it is repeated; how long a change waits for its answer (common practice, no source).
BEFORE_SERVING = timedelta(minutes=15)
REMIND = timedelta(minutes=10)
# While the meal is further off than this the lead has time to answer; nobody reminds her in the minutes before another
# is sent to find her (judgement).
NEAR_MEAL, LAST_WORD = timedelta(minutes=30), timedelta(minutes=5)
IN_IT = "logged in it: "
ANSWER = "Say yes when you have it."
# What the lead's "yes" is taken down as.
CHECKED = "allergens of the"


def _lead(record: ClassRecord) -> str:
    return record.lead or "Lead"


def _dish(name: str | None, view: View) -> str | None:
    known = dishes(view.record)
    if name is None:
        return known[0] if len(known) == 1 else None
    if name in known:
        return name
    found = view.dish(name)
    return found.name if found is not None else None


def say_what_is_in(question: Allergens, view: View) -> Reply:
    """ "any nuts in the lamb?", "what's in the stew?" """
    record = view.record
    last = f"What nobody logged I cannot know: read the labels, ask {_lead(record)}."
    name = _dish(question.dish, view)
    if name is None and question.dish is not None:
        return Reply((f"Nothing is logged of {the([question.dish])}.", last))
    if name is None:
        return Reply((*_all(question.allergen, view), last))
    if question.allergen is not None:
        return Reply((_one(name, question.allergen, record), last))
    return Reply((_contents(name, record), _against(name, record), last))


def _one(name: str, allergen: str, record: ClassRecord) -> str:
    here = cell(name, allergen, record)
    if here.state == "logged":
        return f"{capital(name)}: {allergen} logged: {', '.join(item.said() for item in here.items[-2:])}."
    if here.state == "may hold":
        return (f"{capital(name)}: {' and '.join(item.words for item in here.items[-2:])} may hold {allergen}; "
                "its label is not logged. Read it out.")
    many = len(items(name, record))
    what = f"{many} thing{'s' if many != 1 else ''} logged" if many else "nothing logged"
    return f"{capital(name)}: {what}, none of it named as {allergen}. That is no proof."


def _contents(name: str, record: ClassRecord) -> str:
    logged = items(name, record)
    if not logged:
        return f"{capital(name)}: no contents logged."
    parts = []
    for item in logged[-4:]:
        notes = [*item.holds, *(f"often {each}" for each in item.often)]
        parts.append(f"{item.words}" + (f" ({', '.join(notes)})" if notes else ""))
    return f"{capital(name)}, logged: {', '.join(parts)}."


def _against(name: str, record: ClassRecord) -> str:
    if not record.avoids:
        return "No guest is logged as avoiding anything."
    found = clashes(name, record)
    held = f"In it: {', '.join(found)}." if found else "None of that was logged in it."
    return f"{capital(avoided(record))}. {held}"


def _all(allergen: str | None, view: View) -> tuple[str, ...]:
    record = view.record
    known = dishes(record)
    if not known:
        return (f"{capital(avoided(record))}. No dish is logged yet." if record.avoids else "No dish is logged yet.",)
    wanted = [allergen] if allergen is not None else list(record.avoids)
    if not wanted:
        return ("No guest is logged as avoiding anything.", "; ".join(_contents(name, record) for name in known[:2]))
    parts = []
    for name in known:
        cells = [(each, cell(name, each, record)) for each in wanted]
        held = [f"{each} ({here.items[-1].words}{'' if here.state == 'logged' else ' may'})" for each, here in cells
                if here.items]
        parts.append(f"{name}: {', '.join(held) if held else 'none of it logged'}")
    head = f"{capital(avoided(record))}." if record.avoids else f"{capital(allergen or '')}:"
    return head, capital(f"{'; '.join(parts[:4])}.")


def prompts(view: View) -> Iterable[Prompt]:
    """Repeated at plan, assembly and serving; a change after assembly goes to the lead until it is acknowledged."""
    record = view.record
    if record.ended is not None:
        return
    yield from changed(view)
    if not record.avoids:
        return
    lead = _lead(record)
    loaded = [dated for dated in record.facts if isinstance(dated.fact, v.Load | v.Contents)]
    if loaded:
        yield _prompt("plan", max(view.now, loaded[0].at), f"{lead}: {avoided(record)}. {_board(record)}", lead)
    for name, dish in record.dishes.items():
        recent = "assembled" in dish.stages and view.now - dish.stages["assembled"] <= timedelta(minutes=30)
        if recent and not any(alert.key == f"assembled:{name}" for alert in open_alerts(record)):
            found = clashes(name, record)
            read = labels_read(name, record)
            labels = f"labels read {clock(read.at)} ({read.who})" if read is not None else "labels read?"
            held = f"{IN_IT}{', '.join(found)}" if found else f"none of that logged in it; {labels}"
            yield _prompt(f"assembled:{name}", view.now,
                          f"{lead}: {name} assembled. {capital(avoided(record))}; {held}", lead, name)
    untold = [allergen for allergen in record.avoids if allergen not in record.told_allergens]
    served = [dish.stages["served"] for dish in record.dishes.values() if dish.served]
    if not untold or not dishes(record):
        return
    if served and view.now - max(served) <= timedelta(minutes=30):
        due = view.now
    elif not served and record.serve is not None and record.serve >= view.now:
        due = max(view.now, record.serve - BEFORE_SERVING)
    else:
        return
    yield _prompt(f"serving:{record.serve:%H:%M}" if record.serve else "serving", due,
                  f"{lead}: at the table, {avoided(record)}. {_board(record)} Say it aloud.", lead)


def _prompt(key: str, due: datetime, text: str, who: str, dish: str | None = None) -> Prompt:
    return Prompt(KIND, f"{KIND}:{key}", due, text, None, dish, who, due + timedelta(minutes=45), urgent=True)


def _board(record: ClassRecord) -> str:
    """Dish by what is avoided, in one breath."""
    parts = []
    for name in dishes(record)[:3]:
        found = clashes(name, record)
        parts.append(f"{name}: {', '.join(found)}" if found else f"{name}: none of it logged")
    return capital(f"{'; '.join(parts)}. Labels decide.") if parts else "No contents are logged yet."


@dataclass(frozen=True)
class Alert:
    """What a guest avoids is in a dish, or came into it after it was put together. at: since when that is known."""
    key: str
    dish: str
    at: datetime
    what: str
    text: str


def open_alerts(record: ClassRecord) -> list[Alert]:
    """What a guest avoids in a dish that stands together, and what changed after, until the lead answers."""
    lead = _lead(record)
    late = [alert for dated in record.facts for alert in _late(dated, lead, record)]
    found = [*_clashing(record), *late, *_mended(record)]
    return [alert for alert in found if not _seen(lead, alert.at, record)]


def changed(view: View) -> Iterable[Prompt]:
    """What must not be missed goes to the lead at once; near the meal to the next in line, if it is still not answered.
    """
    lead, serve = _lead(view.record), view.record.serve
    for alert in open_alerts(view.record):
        again = alert.at + REMIND
        if serve is not None:
            again = max(again, serve - NEAR_MEAL)
        yield _alarm(alert.key, max(view.now, alert.at), f"{lead}: {alert.text}. {ANSWER}", lead, alert.dish,
                     again - LAST_WORD, f"{alert.dish}, {alert.what.removeprefix(IN_IT)}: say yes when you have it")
        others = [who for who in reversed(view.record.people) if who != lead]
        second = next((who for who in others if f"({who}, " not in alert.text), others[0] if others else lead)
        yield _alarm(f"{alert.key}:again", max(view.now, again),
                     f"{second}: {lead} has not answered on the {alert.dish}: {alert.what}. Find {lead}; hold the "
                     "plates.", second, alert.dish)


def _alarm(key: str, due: datetime, text: str, who: str, dish: str, lapses: datetime | None = None,
           act: str = "") -> Prompt:
    lapses = max(lapses, due) if lapses is not None else due + timedelta(minutes=45)
    return Prompt("safety", f"{KIND}:{key}", due, text, None, dish, who, lapses, urgent=True, act=act)


def _late(dated: Dated, lead: str, record: ClassRecord) -> Iterable[Alert]:
    """A fact that was told after a dish was put together and matters to a guest."""
    fact, key = dated.fact, f"changed:{dated.message}:{dated.index}"
    if isinstance(fact, v.Contents) and dated.who != lead:
        dish = record.dishes.get(dated.dish or "")
        holds, often = held_in(fact.item, fact.allergen)
        known = {need.fact.allergen for need in record.facts if isinstance(need.fact, v.Guests)
                 and not need.fact.told and need.told <= dated.told}
        also = ", ".join([*holds, *(f"often {each}" for each in often)])
        if dated.dish is None and {*holds, *often} & known:
            # Of no pan by name: it may be in any that stands, so that whoever knows has to say.
            stand = [each.name for each in record.dishes.values()
                     if not each.served and _stood(each, dated.told, record)]
            if stand:
                what = f"{fact.item} is logged, in no pan by name ({also})"
                yield Alert(f"{key}:{stand[0]}", stand[0], dated.told, what,
                            f"{the(stand)}, after assembly: {what} ({dated.who}, {clock(dated.told)}); find out which")
        if dish is not None and _stood(dish, dated.told, record) and {*holds, *often} & known:
            yield _changed(key, dish.name, dated.told, dated.who, f"{fact.item} is logged in it ({also})")
    elif isinstance(fact, v.Guests) and fact.allergen is not None and not fact.told:
        for dish in record.dishes.values():
            # What is logged later calls by itself.
            inside = [item for item in cell(dish.name, fact.allergen, record).items if item.told <= dated.told]
            # Who leads knows of the guest she tells of, and not of what others put in.
            told_her = dated.who == lead and not any(item.who != lead for item in inside)
            if dish.served or told_her or not _stood(dish, dated.told, record) or not (
                    inside or "assembled" in dish.stages):
                continue
            held = f"{IN_IT}{inside[-1].words}" if inside else "none of it logged, labels not read"
            yield _changed(key, dish.name, dated.told, dated.who, f"{avoid(fact.count or 1, fact.allergen)}; {held}")


def heard(facts: Sequence[Dated], view: View) -> tuple[str, ...]:
    """The answer to guests' needs: what the log, or a dish's own name, says of each, and whose label is missing."""
    record, lead = view.record, _lead(view.record)
    live = [name for name in dishes(record) if name not in record.dishes or not record.dishes[name].served]
    needs = [fact for dated in facts if isinstance(fact := dated.fact, v.Guests) and fact.allergen and not fact.told]
    plain: list[str] = []
    lines: list[str] = []
    labels: list[str] = []
    for need in needs:
        allergen = need.allergen or ""
        held = []
        for name in live:
            here = cell(name, allergen, record)
            if here.state == "logged":
                held.append(f"{name}: {here.items[-1].said()}")
            elif allergen in held_in(name)[0]:
                held.append(f"{name} by its name")
        labels += _labels(allergen, live, record)
        if held:
            lines.append(f"{_need(need, True)}. By the log, {'; '.join(held[:3])}. {lead}: confirm before serving, and "
                         "read every label.")
        else:
            plain.append(_need(need, not plain))
    if plain:
        lines.append(f"{', '.join(plain)}. {lead}: check every label before serving.")
    return *lines, *labels


def _need(need: v.Guests, first: bool) -> str:
    """ "2 guests avoid gluten", and behind it "1 nuts (seat 4)" """
    many = need.count or 1
    verb = f" {'guest avoids' if many == 1 else 'guests avoid'}" if first else ""
    return f"{many}{verb} {need.allergen}{f' ({need.seat})' if need.seat else ''}"


def _labels(allergen: str, live: list[str], record: ClassRecord) -> tuple[str, ...]:
    """Who is to read out the label of a thing that may hold it."""
    for name in live:
        maybe = [item for item in items(name, record) if allergen in item.often]
        if maybe and labels_read(name, record) is None:
            return (f"{capital(maybe[-1].words)} label not logged: {maybe[-1].who}, read it out?",)
    return ()


def _changed(key: str, dish: str, at: datetime, who: str, what: str) -> Alert:
    return Alert(f"{key}:{dish}", dish, at, what, f"{dish}, after it was assembled: {what} ({who}, {clock(at)})")


def _clashing(record: ClassRecord) -> Iterable[Alert]:
    """What was put in while a dish was made, and is what a guest avoids: told when the dish stands together."""
    lead = _lead(record)
    for dish in record.dishes.values():
        stands = _together(dish, record)
        if stands is None or dish.served:
            continue
        needs = {dated.fact.allergen: dated.told for dated in record.facts
                 if isinstance(dated.fact, v.Guests) and not dated.fact.told and dated.told <= stands}
        # Who leads, and logs it knowing of the guest, knows of it.
        held = {each: item for item in items(dish.name, record) if item.told <= stands for each in item.holds
                if each in needs and not (item.who == lead and needs[each] <= item.told)}
        if held:
            known = max(at for each, item in held.items() for at in (item.told, needs[each]))
            what = f"{IN_IT}{', '.join(f'{each} ({item.said()})' for each, item in held.items())}"
            yield Alert(f"assembled:{dish.name}", dish.name, known, what,
                        f"{dish.name} assembled. {capital(avoided(record))}; {what}")


def _together(dish: DishRecord, record: ClassRecord) -> datetime | None:
    """When it was put together at the latest: said so, or in the heat, looked at there, out of it, on the table."""
    times = [at for stage, at in dish.stages.items() if stage in ("assembled", "resting", "served")]
    times += [at for at in (dish.in_at, dish.out_at) if at is not None]
    times += [dated.at for dated in record.facts if dated.dish == dish.name and isinstance(dated.fact, v.Check)]
    return min(times, default=None)


def _stood(dish: DishRecord, told: datetime, record: ClassRecord) -> bool:
    at = _together(dish, record)
    return at is not None and told > at


def _mended(record: ClassRecord) -> Iterable[Alert]:
    """Corrections of contents after assembly, by another than the lead."""
    lead = _lead(record)
    for change in record.changes:
        if change.old.get("is") != "contents":
            continue
        told = next((dated for dated in record.facts if dated.message == change.message
                     and dated.index == change.index), None)
        name = told.dish if told is not None else change.old.get("dish")
        dish = record.dishes.get(name) if isinstance(name, str) else None
        if dish is None or change.by == lead or not _stood(dish, change.at, record):
            continue
        now = change.new.get("item", "?") if change.new is not None else "taken back"
        yield _changed(f"mended:{change.message}:{change.index}:{clock(change.at)}", dish.name, change.at, change.by,
                       f"its contents were changed: {now}, was {change.old.get('item', '?')}")


def _seen(lead: str, since: datetime, record: ClassRecord) -> bool:
    """The lead spoke of allergens after it: told the table, took or did the check, noted it, or logged contents."""
    for dated in record.facts:
        if dated.who != lead or dated.told <= since:
            continue
        fact = dated.fact
        if isinstance(fact, v.Guests) and fact.told:
            return True
        words = fact.what if isinstance(fact, v.Task) else fact.text if isinstance(fact, v.Note) else None
        if isinstance(fact, v.Contents) or (words is not None and any(
                each in words.lower() for each in ("allerg", "label", "seen", *record.avoids))):
            return True
    return False


SKILL = Skill(
    name="allergens", about="what guests avoid, and what each dish holds by the log",
    answers={Allergens: say_what_is_in}, prompts=(prompts,),
    examples=("any nuts in the lamb?", "what's in the stew?"),
)
