"""The class record: the facts in force folded in order. Same messages, same record; nothing is ever edited.

`fold` takes the messages as heard and works out, in this order: which facts stand after all corrections
(skills/mending.py), when each happened, which oven and dish it is about (skills/naming.py), and what the class
looks like when they are applied one by one. To take a message back is to fold again without it.
"""
from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import datetime, timedelta
from functools import singledispatch

from skills import vocabulary as v
from skills.dated import Change, Dated, Open, Told, coming_time, past_time
from skills.mending import Standing, mend
from skills.naming import Names

# Two people who report one value this close together took one reading (job: "a minute apart").
SAME_READING = timedelta(minutes=2)
# A dish at one of these stages no longer stands in an oven, said or not.
OUT_STAGES = ("aside", "resting", "served")
# What is told of the simmer so soon after it came out is how it was in there (judgement).
JUST_OUT = timedelta(minutes=15)


@dataclass(frozen=True)
class OvenRecord:
    """What is known of one oven in this class."""
    name: str
    size: Mapping[str, float] = field(default_factory=dict)
    fired: str | None = None
    door: str | None = None
    door_at: datetime | None = None
    lit_at: datetime | None = None
    fed_at: datetime | None = None
    fed_by: str | None = None
    raked_at: datetime | None = None
    out_at: datetime | None = None
    feeds: int = 0
    readings: Mapping[str, Dated] = field(default_factory=dict)
    called: tuple[str, ...] = ()            # other names that it goes by since it was renamed

    @property
    def burning(self) -> bool:
        """Lit, and neither raked out nor gone out since."""
        ended = [at for at in (self.raked_at, self.out_at) if at is not None]
        return self.lit_at is not None and not any(at >= self.lit_at for at in ended)


@dataclass(frozen=True)
class DishRecord:
    """What is known of one dish in this class."""
    name: str
    cut: str | None = None
    meat_kg: float | None = None
    liquid_l: float | None = None
    pan: str | None = None
    start: str | None = None
    done_c: float | None = None
    oven: str | None = None
    in_at: datetime | None = None
    out_at: datetime | None = None
    ring_at: datetime | None = None
    lid: str | None = None
    stages: Mapping[str, datetime] = field(default_factory=dict)
    tender: str | None = None
    tender_at: datetime | None = None
    liquid: str | None = None
    looked_at: datetime | None = None
    core: Dated | None = None
    contents: tuple[Dated, ...] = ()

    @property
    def cooking(self) -> bool:
        """In the heat: in an oven, or out of it and on a ring."""
        return self.oven is not None or self.ring_at is not None

    @property
    def over_fire(self) -> bool:
        """Over a flame without having been in an oven: no model knows its heat."""
        return self.ring_at is not None and self.out_at is None

    @property
    def served(self) -> bool:
        return "served" in self.stages


@dataclass(frozen=True)
class Offer:
    """A thing that one person gives to another, who has not said yes."""
    what: str
    by: str
    to: str
    at: datetime
    message: str


@dataclass(frozen=True)
class ClassRecord:
    """One class, as it stands. `facts` are in force, in the order in which they happened."""
    facts: tuple[Dated, ...] = ()
    repeats: tuple[Dated, ...] = ()
    changes: tuple[Change, ...] = ()
    open: tuple[Open, ...] = ()
    title: str | None = None
    guests: int | None = None
    serve: datetime | None = None
    started: datetime | None = None
    ended: datetime | None = None
    lead: str | None = None
    ovens: Mapping[str, OvenRecord] = field(default_factory=dict)
    dishes: Mapping[str, DishRecord] = field(default_factory=dict)
    avoids: Mapping[str, int] = field(default_factory=dict)
    seats: Mapping[str, tuple[str, ...]] = field(default_factory=dict)      # where they sit, as it was said
    told_allergens: tuple[str, ...] = ()
    tasks: Mapping[str, tuple[str, datetime]] = field(default_factory=dict)
    offers: Mapping[str, Offer] = field(default_factory=dict)
    hush_until: datetime | None = None
    people: tuple[str, ...] = ()
    gone: tuple[str, ...] = ()
    goings: tuple[datetime, ...] = ()       # when somebody was said to leave
    comes: datetime | None = None           # when somebody was last said to be back
    unwell: tuple[tuple[datetime, str], ...] = ()       # when somebody was said to be unwell, and by whom
    watches: tuple[datetime, ...] = ()      # when somebody was said to stay with the ovens through the night

    def person(self, name: str) -> str:
        """A person as the room spells the name: "tomos" is Tomos."""
        return next((each for each in self.people if each.casefold() == name.casefold()), name[:1].upper() + name[1:])

    def has(self, what: str) -> tuple[str, datetime] | None:
        """Who has a thing, and since when: who took it; an oven that nobody took is with who fed it last."""
        if what in self.tasks:
            return self.tasks[what]
        oven = self.ovens.get(what)
        if oven is None or not oven.burning or oven.fed_by is None or oven.fed_at is None:
            return None
        return oven.fed_by, oven.fed_at

    def with_oven(self, name: str, **changed: object) -> ClassRecord:
        oven = replace(self.ovens.get(name, OvenRecord(name)), **changed)  # type: ignore[arg-type]
        return replace(self, ovens={**self.ovens, name: oven})

    def with_dish(self, name: str, **changed: object) -> ClassRecord:
        dish = replace(self.dishes.get(name, DishRecord(name)), **changed)  # type: ignore[arg-type]
        return replace(self, dishes={**self.dishes, name: dish})


def fold(messages: Sequence[Told], lead: str | None = None) -> ClassRecord:
    """The record of these messages of one class (in the order in which they arrived)."""
    ordered = sorted(messages, key=lambda told: told.at)  # stable: arrival order within a second
    mended = mend(ordered)
    names = Names.of(mended.standing)
    placed: list[Dated] = []
    lost: list[Open] = list(mended.lost)
    heats: dict[str, list[v.Reading]] = {}
    for standing in mended.standing:
        if isinstance(standing.fact, v.Reading) and standing.fact.oven is None:
            heats.setdefault(standing.told.id, []).append(standing.fact)
    for standing in mended.standing:
        dated, missing = _place(standing, names, heats.get(standing.told.id, ()))
        if missing is not None:
            lost.append(missing)
        else:
            placed.append(dated)
            names = names.after(dated)
    placed.sort(key=lambda dated: (dated.at, dated.told))
    facts, repeats = _once(placed)
    people = tuple(dict.fromkeys(told.who for told in ordered))
    record = ClassRecord(facts=tuple(facts), repeats=tuple(repeats), changes=tuple(mended.changes), open=tuple(lost),
                         lead=lead or _lead(facts) or (people[0] if people else None), people=people,
                         gone=_gone(ordered),
                         watches=tuple(told.at for told in ordered if told.watched and told.removes is None),
                         unwell=tuple((told.at, told.who) for told in ordered if told.unwell and told.removes is None),
                         goings=tuple(coming_time(told.goes, told.at) for told in ordered if told.goes),
                         comes=max(((told.at, coming_time(told.comes, told.at)) for told in ordered if told.comes),
                                   default=(None, None))[1])
    for dated in facts:
        record = apply(dated.fact, record, dated)
    return record


def _gone(ordered: Sequence[Told]) -> tuple[str, ...]:
    """Who has said that he goes now, and nothing since."""
    last = {told.who: told for told in ordered if told.removes is None}
    return tuple(who for who, told in last.items() if told.goes == f"{told.at:%H:%M}")


def _lead(facts: Sequence[Dated]) -> str | None:
    """Who announced the class leads it, where the school has not said."""
    return next((dated.who for dated in facts if isinstance(dated.fact, v.Class) and dated.fact.act == "start"), None)


def _place(standing: Standing, names: Names, beside: Sequence[v.Reading]) -> tuple[Dated, Open | None]:
    fact, told = standing.fact, standing.told
    at = past_time(fact.at, told.at) if fact.at else told.at
    oven, dish, options, missing = names.resolve(standing, at, beside)
    dated = Dated(at, told.at, told.who, told.id, standing.index, fact, oven, dish, mended=standing.mended)
    return dated, Open(told.id, standing.index, fact, missing, options) if missing else None


def _once(placed: Sequence[Dated]) -> tuple[list[Dated], list[Dated]]:
    """The same reading from two people counts once."""
    facts: list[Dated] = []
    repeats: list[Dated] = []
    seen: dict[tuple[object, ...], list[Dated]] = {}
    for dated in placed:
        if not isinstance(dated.fact, v.Reading | v.Food):
            facts.append(dated)
            continue
        alike = seen.setdefault((dated.oven, dated.dish, *_bare(dated.fact)), [])
        if any(other.who != dated.who and dated.at - other.at <= SAME_READING for other in reversed(alike)):
            repeats.append(dated)
        else:
            facts.append(dated)
            alike.append(dated)
    return facts, repeats


def _bare(fact: v.Fact) -> tuple[object, ...]:
    return fact.is_, getattr(fact, "place", None), getattr(fact, "part", None), getattr(fact, "celsius", None), \
        getattr(fact, "count", None)


@singledispatch
def apply(fact: v.Fact, record: ClassRecord, dated: Dated) -> ClassRecord:
    """The record after one more fact. Facts that change nothing here live on in `facts`."""
    del fact, dated
    return record


@apply.register
def _(fact: v.Class, record: ClassRecord, dated: Dated) -> ClassRecord:
    if fact.act == "end":
        return replace(record, ended=dated.at)
    return replace(record, started=dated.at, title=fact.title or record.title,
                   guests=fact.guests if fact.guests is not None else record.guests,
                   serve=coming_time(fact.serve, dated.at) if fact.serve else record.serve)


@apply.register
def _(fact: v.Oven, record: ClassRecord, dated: Dated) -> ClassRecord:
    if dated.oven is None:
        return record
    oven = record.ovens.get(dated.oven, OvenRecord(dated.oven))
    return record.with_oven(dated.oven, size={**oven.size, **fact.sizes()}, fired=fact.fired or oven.fired,
                            called=(*oven.called, fact.called) if fact.called else oven.called)


@apply.register
def _(fact: v.Reading, record: ClassRecord, dated: Dated) -> ClassRecord:
    if dated.oven is None or fact.place is None:
        return record
    oven = record.ovens.get(dated.oven, OvenRecord(dated.oven))
    return record.with_oven(dated.oven, readings={**oven.readings, fact.place: dated})


@apply.register
def _(fact: v.Door, record: ClassRecord, dated: Dated) -> ClassRecord:
    if dated.oven is None:
        return record
    if fact.over:
        return record.with_oven(dated.oven, door="on", door_at=dated.told)
    return record.with_oven(dated.oven, door=fact.state, door_at=dated.at)


@apply.register
def _(fact: v.Fire, record: ClassRecord, dated: Dated) -> ClassRecord:
    if dated.oven is None:
        return record
    oven = record.ovens.get(dated.oven, OvenRecord(dated.oven))
    if fact.act == "lit":
        return record.with_oven(dated.oven, lit_at=dated.at, fed_at=dated.at, fed_by=dated.who)
    if fact.act == "fed":
        return record.with_oven(dated.oven, fed_at=dated.at, fed_by=dated.who, feeds=oven.feeds + 1,
                                lit_at=oven.lit_at or dated.at)
    if fact.act == "raked":
        return record.with_oven(dated.oven, raked_at=dated.at)
    return record.with_oven(dated.oven, out_at=dated.at) if fact.act == "out" else record


@apply.register
def _(fact: v.Pot, record: ClassRecord, dated: Dated) -> ClassRecord:
    if dated.dish is None:
        return record
    dish = record.dishes.get(dated.dish, DishRecord(dated.dish))
    if fact.act == "in" and fact.onto is not None:
        return record.with_dish(dated.dish, oven=None, in_at=dish.in_at or dated.at, out_at=None, ring_at=dated.at)
    if fact.act in ("in", "moved"):
        return record.with_dish(dated.dish, oven=dated.oven, in_at=dish.in_at or dated.at, out_at=None, ring_at=None)
    if fact.act == "out" and fact.onto == "ring" and _may_go_on(dish, record, dated):
        return record.with_dish(dated.dish, oven=None, out_at=dish.out_at or dated.at, ring_at=dish.ring_at or dated.at)
    if fact.act == "out":
        again = not dish.cooking and dish.out_at is not None
        return record.with_dish(dated.dish, oven=None, out_at=dish.out_at if again else dated.at, ring_at=None)
    if fact.act in ("lid_on", "lid_off"):
        return record.with_dish(dated.dish, lid=fact.act.removeprefix("lid_"))
    return record.with_dish(dated.dish, looked_at=dated.at, liquid=None if fact.act == "topped_up" else dish.liquid)


def _may_go_on(dish: DishRecord, record: ClassRecord, dated: Dated) -> bool:
    """Whether a ring goes on with the cooking: it was in an oven, and not eaten, chilled or in the hot cupboard since;
    what was is warmed up again."""
    begun = dish.in_at
    return begun is not None and not dish.served and not any(
        isinstance(each.fact, v.Chill | v.StoreHeat) and each.dish == dish.name and begun <= each.at <= dated.at
        for each in record.facts)


def boils(fact: v.Fact) -> bool:
    """Words for liquor at the simmer: of what was taken out some time before, that somebody has put it on a ring."""
    return isinstance(fact, v.Check) and fact.simmer in ("gentle", "hard")


@apply.register
def _(fact: v.Load, record: ClassRecord, dated: Dated) -> ClassRecord:
    if dated.dish is None:
        return record
    dish = record.dishes.get(dated.dish)
    if dish is not None and dish.out_at is not None and not dish.cooking and fact.left:
        # What is left of it: what went in is no measure of that any more.
        return record.with_dish(dated.dish, meat_kg=fact.meat_kg, liquid_l=fact.liquid_l)
    if fact.share is not None and not fact.left:
        off = dish is not None and not dish.cooking and dish.out_at is not None
        return record.with_dish(dated.dish, meat_kg=_part(dish.meat_kg, fact.share),
                                liquid_l=_part(dish.liquid_l, fact.share)) if dish is not None and off else record
    return record.with_dish(dated.dish, **fact.told())


def _part(amount: float | None, share: float) -> float | None:
    return amount * share if amount is not None else None


@apply.register
def _(fact: v.Stage, record: ClassRecord, dated: Dated) -> ClassRecord:
    names = [dated.dish] if dated.dish else []
    if fact.stage == "served" and not names:
        waiting = [dish for dish in record.dishes.values() if dish.in_at is not None and not dish.served]
        # What still stands in an oven while something else was taken out is not what went to the table.
        names = [dish.name for dish in waiting if dish.oven is None] or [dish.name for dish in waiting]
    for name in names:
        dish = record.dishes.get(name, DishRecord(name))
        record = record.with_dish(name, stages={**dish.stages, fact.stage: dated.at})
        if dish.cooking and fact.stage in OUT_STAGES:
            record = record.with_dish(name, oven=None, out_at=dated.at, ring_at=None)
    return record


@apply.register(v.Chill)
@apply.register(v.StoreHeat)
def _(fact: v.Chill | v.StoreHeat, record: ClassRecord, dated: Dated) -> ClassRecord:
    """What is chilled or in the hot cupboard is out of its oven, said or not."""
    del fact
    dish = record.dishes.get(dated.dish or "")
    if dish is None or not dish.cooking:
        return record
    return record.with_dish(dish.name, oven=None, out_at=dated.at, ring_at=None)


@apply.register
def _(fact: v.Check, record: ClassRecord, dated: Dated) -> ClassRecord:
    if dated.dish is None:
        return record
    dish = record.dishes.get(dated.dish, DishRecord(dated.dish))
    if dish.served:
        return record                       # kept among the facts; what was eaten is not judged anew
    if boils(fact) and not dish.cooking and dish.out_at is not None and dated.at - dish.out_at >= JUST_OUT \
            and _may_go_on(dish, record, dated):
        record = record.with_dish(dated.dish, ring_at=dated.at)
    return record.with_dish(dated.dish, looked_at=dated.at, tender=fact.tender or dish.tender,
                            tender_at=dated.at if fact.tender else dish.tender_at, liquid=fact.liquid or dish.liquid)


@apply.register
def _(fact: v.Food, record: ClassRecord, dated: Dated) -> ClassRecord:
    if dated.dish is None:
        return record
    return record.with_dish(dated.dish, core=dated) if fact.part == "core" else record


@apply.register
def _(fact: v.Contents, record: ClassRecord, dated: Dated) -> ClassRecord:
    del fact
    if dated.dish is None:
        return record
    dish = record.dishes.get(dated.dish, DishRecord(dated.dish))
    return record.with_dish(dated.dish, contents=(*dish.contents, dated))


@apply.register
def _(fact: v.Serve, record: ClassRecord, dated: Dated) -> ClassRecord:
    return replace(record, serve=coming_time(fact.by, dated.told))


@apply.register
def _(fact: v.Guests, record: ClassRecord, dated: Dated) -> ClassRecord:
    del dated
    if fact.allergen is None:
        return record if fact.count is None else replace(record, guests=fact.count)
    if fact.told:
        return replace(record, told_allergens=tuple(dict.fromkeys((*record.told_allergens, fact.allergen))))
    count, seats = fact.count or 1, record.seats.get(fact.allergen, ())
    if fact.seat is not None:
        # One who is told of by a seat is another than those at the seats before.
        seats = tuple(dict.fromkeys((*seats, fact.seat)))
        count = max(count, record.avoids.get(fact.allergen, 0), sum(len(re.findall(r"\d+", each)) for each in seats))
    return replace(record, avoids={**record.avoids, fact.allergen: count},
                   seats={**record.seats, fact.allergen: seats} if seats else record.seats)


@apply.register
def _(fact: v.Task, record: ClassRecord, dated: Dated) -> ClassRecord:
    """Who takes a thing has it. Who is named for a thing that another has must say yes first (job, section 5)."""
    what = (fact.what or "it").removesuffix(" oven")
    tasks, offers = dict(record.tasks), {name: offer for name, offer in record.offers.items() if name != what}
    if fact.act == "done":
        tasks.pop(what, None)
        return replace(record, tasks=tasks, offers=offers)
    who, speaker = record.person(fact.who or dated.who), record.person(dated.who)
    held = record.has(what)
    if speaker in record.gone and tasks.get(what, (speaker, dated.at))[0] != who:
        # Who leaves and names another has it till that other says yes, though he may have fed it himself.
        held = held if held is not None and held[0] != who else (speaker, dated.at)
    if held is not None and who not in (speaker, held[0]):
        offers[what] = Offer(what, held[0], who, dated.at, dated.message)
        return replace(record, tasks={**tasks, what: held}, offers=offers)
    if what not in tasks or tasks[what][0] != who:
        tasks[what] = (who, dated.at)
    return replace(record, tasks=tasks, offers=offers)


@apply.register
def _(fact: v.Hush, record: ClassRecord, dated: Dated) -> ClassRecord:
    if fact.act == "off":
        return replace(record, hush_until=None)
    # A class talk rarely runs longer than half an hour without the lead lifting the hush (common practice, no source).
    return replace(record, hush_until=dated.at + timedelta(minutes=fact.minutes or 30))
