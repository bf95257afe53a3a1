"""What a dish went through, from the facts told of it: where it stood from when to when, and what was measured."""
from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import datetime
from typing import Literal

import numpy as np

from skills import vocabulary as v
from skills.dated import Dated
from skills.dish.cuts import find_cut
from skills.dish.probes import telling
from skills.record import ClassRecord, DishRecord
from skills.safety import chill
from skills.safety.words import in_words, words_of

Where = Literal["store", "aside", "oven", "bench", "open", "chill", "cold", "reheat", "hot_hold", "ring", "gone"]
# What a task that is done is called when none of a dish is there any more.
GONE = ("discarded", "eaten up")
OUT: tuple[Where, ...] = ("bench", "open", "hot_hold")
LEFTOVERS = "leftovers"
# A pot of nothing known is taken for this much (judgement).
USUAL_LITRES = 4.0
# A core above this was in the heat; what was loaded this long before it is chilled was cooked between (judgement).
HEATED_C, DONE_C = 40.0, 75.0
COOKED_SINCE_S = 5400.0
# How long after it came out a fork or a probe still tells how it was cooked (judgement).
JUST_OUT_S = 900.0
# What is first heard of at this heat or less came out of the cold (judgement).
OUT_OF_THE_COLD_C = 10.0

# A probe this much above what may be is no uneven pot, and above this heat it is cooked, not chilled (judgement).
STIRRED_K, REHEATING_C = 10.0, 60.0


@dataclass(frozen=True)
class Span:
    """Where a dish has been since at_s [epoch s]. celsius: of the store; vessel, method, stated: of a chill.

    hot: it must have been cooked by then, though nobody told of the heat. browned: aside, for that alone is known.
    """
    at_s: float
    where: Where
    celsius: float | None = None
    vessel: chill.Vessel | None = None
    method: str = "fridge"
    stated: bool = False
    who: str = ""
    hot: bool = False
    browned: bool = False


@dataclass(frozen=True)
class Anchor:
    """A heat at the core at at_s [epoch s]: measured by somebody, or reckoned from a word."""
    at_s: float
    celsius: float
    spread_c: float
    measured: bool


@dataclass(frozen=True)
class Story:
    """One dish: its facts, spans and anchors in order of time. litres: food and liquor together."""
    name: str
    dish: DishRecord
    facts: tuple[Dated, ...]
    spans: tuple[Span, ...]
    anchors: tuple[Anchor, ...]
    litres: float
    meaty: bool
    meal: datetime | None = None

    @property
    def last(self) -> Span | None:
        return self.spans[-1] if self.spans else None

    @property
    def words(self) -> str:
        return f"{self.name} {self.dish.cut or ''}".lower()

    def last_of(self, where: Where) -> Span | None:
        return next((span for span in reversed(self.spans) if span.where == where), None)

    @property
    def chill_begun_s(self) -> float | None:
        """When the last chill began [epoch s]: trays that go from ice to the fridge are still in the same one."""
        begun = None
        for span in reversed(self.spans):
            if span.where == "chill":
                begun = span.at_s
            elif begun is not None:
                break
        return begun

    def fact(self, kind: type[v.Fact], act: str | None = None) -> Dated | None:
        """The last fact of a kind (and act) told of it."""
        return next((dated for dated in reversed(self.facts) if isinstance(dated.fact, kind)
                     and (act is None or getattr(dated.fact, "act", None) == act)), None)


def names(record: ClassRecord) -> list[str]:
    """Every dish that anything was told of; leftovers that no dish was named for stand as themselves."""
    found = list(record.dishes)
    for dated in record.facts:
        if dated.dish is not None and dated.dish not in found and isinstance(
                dated.fact, v.Chill | v.Reheat | v.Food | v.StoreHeat | v.Stage | v.Pot):
            found.append(dated.dish)
    if not found and any(isinstance(dated.fact, v.Chill | v.Reheat) for dated in record.facts):
        found.append(LEFTOVERS)
    return found


def story(name: str, record: ClassRecord, now: datetime) -> Story:
    """What is known of one dish up to now."""
    facts = tuple(dated for dated in telling(record.facts) if dated.at <= now and _about(name, dated, record)
                  and not (isinstance(dated.fact, v.Food) and dated.fact.odd))
    dish = record.dishes.get(name, DishRecord(name))
    litres = (dish.meat_kg or 0.0) + (dish.liquid_l or 0.0)
    meaty = dish.meat_kg is not None or (
        not in_words(name) & words_of("soups") and (dish.liquid_l is None or _is_meat(name, dish)))
    made = Story(name, dish, facts, (), (), litres or USUAL_LITRES, meaty, record.serve)
    spans = tuple(replace(span, where="store") if span.browned and _into_a_pot(span.at_s, name, record, now) else span
                  for span in _merged(_spans(made)))
    return replace(made, spans=spans, anchors=tuple(_anchors(made, spans)))


def _into_a_pot(at_s: float, name: str, record: ClassRecord, now: datetime) -> bool:
    """Whether a pot of another name, or of none, was filled or put in after this was browned: it is in there.

    Or its own pot was filled with hot liquor: that is on its way into the heat, and not set aside.
    """
    for dated in record.facts:
        if not at_s <= dated.at.timestamp() <= now.timestamp():
            continue
        fact = dated.fact
        if dated.dish == name:
            if isinstance(fact, v.Load) and fact.liquid_l is not None and fact.start == "hot":
                return True
            continue
        if (isinstance(fact, v.Pot) and fact.act in ("in", "moved", "lid_on", "topped_up")) or (
                isinstance(fact, v.Load) and fact.liquid_l is not None):
            return True
    return False


def _is_meat(name: str, dish: DishRecord) -> bool:
    """Whether its name is a meat's: its core is then that of the meat, weighed or not."""
    cut, named = find_cut(dish.cut, name)
    return named and cut.finish.flesh


def _about(name: str, dated: Dated, record: ClassRecord) -> bool:
    """Leftovers, a reheat and "served" of no named dish are about every dish that was cooked."""
    if dated.dish is not None:
        return dated.dish == name
    if isinstance(dated.fact, v.Stage):
        return dated.fact.stage == "served" and name in _on_the_table(record, dated.at)
    if isinstance(dated.fact, v.Task) and dated.fact.what == "eaten up":
        # Of no dish by name: of what went to the table.
        eaten = record.dishes.get(name)
        return eaten is not None and not eaten.cooking and (eaten.served or (
            eaten.out_at is not None and eaten.out_at <= dated.at))
    if isinstance(dated.fact, v.StoreHeat):
        return dated.fact.place == "hot_hold" and name in held_at(record, dated.at)
    if not isinstance(dated.fact, v.Chill | v.Reheat):
        return False
    if name == LEFTOVERS:
        return True
    dish = record.dishes.get(name)
    left = dish is not None and ((dish.out_at is not None and dish.out_at <= dated.at) or dish.served)
    return left or names(record) == [name]


def _on_the_table(record: ClassRecord, at: datetime) -> list[str]:
    """The dishes that "served" of no named dish is about: those off the heat by then, else in it, else all.

    What was only weighed went into a pot of another name; what still stands in an oven did not go to the table.
    """
    inside: dict[str, bool] = {}
    for dated in record.facts:
        fact, name = dated.fact, dated.dish
        if name is None or dated.at > at:
            continue
        if isinstance(fact, v.Pot) and fact.act in ("in", "moved", "out"):
            inside[name] = fact.act != "out" and fact.onto is None
        elif isinstance(fact, v.StoreHeat | v.Reheat) or (
                isinstance(fact, v.Stage) and fact.stage in ("resting", "served", "aside") and name in inside):
            inside[name] = False
        elif _heat_seen(fact):
            inside.setdefault(name, True)
    off = [name for name in record.dishes if inside.get(name) is False]
    return off or [name for name in record.dishes if name in inside] or list(record.dishes)


def held_at(record: ClassRecord, at: datetime) -> tuple[str, ...]:
    """The dishes that a reading of the hot cupboard is about: those told to be in it, else those off the heat."""
    last: dict[str, str] = {}
    for dated in record.facts:
        if dated.dish is None or dated.at > at:
            continue
        fact = dated.fact
        if isinstance(fact, v.StoreHeat):
            last[dated.dish] = "held"
        elif isinstance(fact, v.Pot) and fact.act in ("in", "moved", "out"):
            last[dated.dish] = "" if fact.act != "out" else "out" if fact.onto is None else "held"
        elif isinstance(fact, v.Reheat):
            last[dated.dish] = "out" if fact.act == "done" else ""
        elif isinstance(fact, v.Stage) and fact.stage == "served" and last.get(dated.dish) in ("held", "part served"):
            last[dated.dish] = "part served"
        elif isinstance(fact, v.Food) and last.get(dated.dish) == "part served" and fact.celsius >= HEATED_C:
            # The rest of it is measured on, so it stands where it stood.
            last[dated.dish] = "held"
        elif isinstance(fact, v.Chill) or (isinstance(fact, v.Stage) and fact.stage in ("resting", "served", "aside")):
            last[dated.dish] = ""
    held = tuple(name for name, where in last.items() if where == "held")
    return held or tuple(name for name, where in last.items() if where == "out")


def _merged(spans: Iterable[Span]) -> list[Span]:
    kept: list[Span] = []
    for span in spans:
        if kept and kept[-1].where == span.where and span.where not in ("chill", "hot_hold"):
            continue
        kept.append(span)
    return kept


def _spans(made: Story) -> Iterable[Span]:
    where: Where | None = None
    vessel: chill.Vessel | None = None
    begun_s: float | None = None
    for dated in made.facts:
        begun_s = dated.at.timestamp() if begun_s is None else begun_s
        span = _span(dated, where, vessel, made)
        if span is None:
            continue
        # Told as stored or set aside, and now off the heat: somebody cooked it meanwhile and did not say so.
        raw = where == "store" and span.where == "chill" and span.at_s - begun_s < COOKED_SINCE_S
        off = ("bench", "open", "chill", "hot_hold") if where == "store" else OUT if where == "aside" else ()
        if span.where in off and not raw:
            span = replace(span, hot=True)
        where, vessel = span.where, span.vessel or vessel
        yield span


def _heat_seen(fact: v.Fact) -> bool:
    """Words and heats that only a dish in the heat gives."""
    if isinstance(fact, v.Food):
        return fact.celsius >= HEATED_C
    return isinstance(fact, v.Check) and (fact.tender is not None or fact.simmer in ("gentle", "hard"))


def _only_cooler(dated: Dated, made: Story) -> bool:
    """A heat no higher than the one told before it: seared, set aside and probed again, it has not been in the heat."""
    fact = dated.fact
    if not isinstance(fact, v.Food):
        return False
    before = [each.fact for each in made.facts if each.at < dated.at and isinstance(each.fact, v.Food)]
    return bool(before) and fact.celsius <= before[-1].celsius


def _done(made: Story, at: datetime) -> bool:
    """Called tender, or hot right through, by then."""
    return any(dated.at <= at and ((isinstance(dated.fact, v.Check) and dated.fact.tender in ("tender", "falling"))
                                   or (isinstance(dated.fact, v.Food) and dated.fact.celsius >= DONE_C))
               for dated in made.facts)


def _span(dated: Dated, where: Where | None, vessel: chill.Vessel | None, made: Story) -> Span | None:
    fact, at_s, who = dated.fact, dated.at.timestamp(), dated.who
    if isinstance(fact, v.Task) and fact.act == "done" and fact.what in GONE:
        return Span(at_s, "gone", who=who)
    if isinstance(fact, v.Pot) and fact.onto == "ring":
        return Span(at_s, "reheat" if where in ("cold", "chill") else "ring", who=who)
    if isinstance(fact, v.Pot) and fact.act in ("in", "moved"):
        return Span(at_s, "oven", who=who)
    if isinstance(fact, v.Pot) and fact.act == "out" and all(
            isinstance(each.fact, v.Pot) and each.fact.act == "out" for each in made.facts):
        return None             # the bare word that something came out tells of no food that was in the heat
    if isinstance(fact, v.Pot) and fact.act == "out":
        return Span(at_s, "bench" if fact.onto is None else "hot_hold", who=who)
    if isinstance(fact, v.Stage):
        if fact.stage == "aside" and where not in ("chill", "cold") and (where != "oven" or fact.dish is not None):
            return Span(at_s, "bench" if where in ("oven", "bench") and _done(made, dated.at) else "aside", who=who)
        if fact.stage == "seared" and where in (None, "store"):
            # Brown outside and raw inside, from here till it is told to be in the heat.
            return Span(at_s, "aside", who=who, browned=True)
        if fact.stage == "resting":
            return Span(at_s, "open", who=who)
        if fact.stage == "served" and where not in ("chill", "cold"):
            return Span(at_s, "open", who=who)
    if isinstance(fact, v.Load) and fact.share is not None and (where in (None, "store") or (
            where in ("oven", "ring", "reheat") and made.meal is not None and dated.at >= made.meal)):
        return Span(at_s, "open", who=who)      # eaten from, so that it is off the heat, said or not
    if isinstance(fact, v.Chill):
        if fact.act == "done":
            return Span(at_s, "cold", vessel=vessel, who=who)
        if where is None and fact.act in ("fridge", "start") and _raw_in_the_cold(dated, made):
            return Span(at_s, "store", who=who)
        measured = fact.depth_cm is not None or fact.litres is not None or fact.trays is not None
        stated = measured or (vessel is not None and fact.act == "fridge")
        told = _vessel(fact, made) if measured or vessel is None else vessel
        method = fact.method or ("fridge" if fact.act == "fridge" else "room")
        return Span(at_s, "chill", vessel=told, method=method, stated=stated, who=who)
    if isinstance(fact, v.Reheat):
        return Span(at_s, "reheat" if fact.act == "start" else "bench", who=who)
    if isinstance(fact, v.StoreHeat) and fact.place == "hot_hold":
        return Span(at_s, "hot_hold", celsius=fact.celsius, who=who)
    if where is None and isinstance(fact, v.Food) and fact.celsius <= OUT_OF_THE_COLD_C and made.dish.meat_kg is None:
        return Span(at_s, "cold", who=who)
    if where in ("store", "aside") and _heat_seen(fact) and not _only_cooler(dated, made):
        return Span(at_s, "oven", who=who)
    if where in ("chill", "cold") and isinstance(fact, v.Food) and _too_hot_for_a_chill(dated, fact.celsius, made):
        return Span(at_s, "reheat", who=who)
    if where in ("cold", "chill", *OUT) and isinstance(fact, v.Check) and fact.simmer in ("gentle", "hard"):
        # Out of its oven, or the cold, and on the boil: somebody has put it over a flame.
        return Span(at_s, "reheat" if where in ("cold", "chill") else "ring", who=who)
    if where is None and isinstance(fact, v.Load | v.Stage):
        return Span(at_s, "store", who=who)
    return None


def _raw_in_the_cold(dated: Dated, made: Story) -> bool:
    """Plain meat that is first heard of in a fridge, before the meal, of no told depth: it was never in the heat.

    Unless it is probed there at a heat that no raw meat has: then it is something cooked that chills.
    """
    fact = dated.fact
    assert isinstance(fact, v.Chill)
    after = made.meal is not None and dated.at >= made.meal
    measured = fact.depth_cm is not None or fact.litres is not None or fact.trays is not None
    if after or measured or fact.method == "room" or (fact.act == "start" and fact.method != "ice"):
        return False
    if not in_words(made.words) <= words_of("meats") | words_of("poultry") | words_of("ground") | words_of("fish"):
        return False
    later = [each for each in made.facts if each.at >= dated.at]
    moved = next((each.at for each in later if isinstance(each.fact, v.Pot | v.Reheat | v.StoreHeat | v.Stage)), None)
    return not any(isinstance(each.fact, v.Food) and each.fact.celsius > OUT_OF_THE_COLD_C
                   and (moved is None or each.at < moved)
                   and not _too_hot_for_a_chill(each, each.fact.celsius, made) for each in later)


def _too_hot_for_a_chill(probed: Dated, celsius: float, made: Story) -> bool:
    """Hotter than the slowest way of a chill from the boil, or than it was when it was probed in it before: it is in
    the heat again, and nobody said so."""
    begun = next((each for each in reversed(made.facts) if isinstance(each.fact, v.Chill) and each.at <= probed.at
                  and each.fact.act != "done"), None)
    if begun is None or celsius < REHEATING_C:
        return False
    assert isinstance(begun.fact, v.Chill)
    before = [each.fact.celsius for each in made.facts
              if isinstance(each.fact, v.Food) and begun.at < each.at < probed.at]
    gone_s = (probed.at - begun.at).total_seconds()
    method = begun.fact.method or ("fridge" if begun.fact.act == "fridge" else "room")
    at_s = np.array([0.0, max(gone_s, 1.0)])
    slowest = chill.curves(_vessel(begun.fact, made), chill.METHODS[method], v.FOOD_C[1], at_s)
    return celsius > min([float(slowest[-1].max()), *before]) + STIRRED_K


def _vessel(fact: v.Chill, made: Story) -> chill.Vessel:
    if fact.depth_cm is not None:
        return chill.tray(fact.depth_cm, fact.litres)
    if fact.trays is not None:
        return chill.trays(fact.trays, fact.litres or made.litres)
    return chill.pot(fact.litres or made.litres)


def _anchors(made: Story, spans: tuple[Span, ...]) -> Iterable[Anchor]:
    """Probes (good to about half a degree if checked, from memory) and words that tell a heat (common practice)."""
    for dated in made.facts:
        fact, at_s = dated.fact, dated.at.timestamp()
        where = _where(at_s, spans)
        # Off the heat the liquor tells of the pieces in it; in an oven it is ahead of them.
        if isinstance(fact, v.Food) and (fact.part != "liquid" or not made.meaty or where in (*OUT, "chill")):
            yield Anchor(at_s, fact.celsius, 0.5, True)
        elif isinstance(fact, v.Check) and fact.tender in ("giving", "tender", "falling") and (
                (hot_s := _in_heat_s(at_s, spans)) is not None):
            yield Anchor(hot_s, 90.0, 3.0, False)
        elif isinstance(fact, v.Check) and where == "oven" and not made.meaty and fact.simmer in ("gentle", "hard"):
            yield Anchor(at_s, 93.0 if fact.simmer == "gentle" else 99.0, 2.0, False)


def _in_heat_s(at_s: float, spans: tuple[Span, ...]) -> float | None:
    """When what is felt at a time was hot [epoch s]: then, in an oven; as it came out, if that was just before."""
    gone = [span for span in spans if span.at_s <= at_s]
    if gone and gone[-1].where in ("oven", "ring"):
        return at_s
    while len(gone) > 1 and gone[-1].where in OUT and gone[-2].where in OUT:
        gone.pop()
    just = len(gone) > 1 and gone[-1].where in OUT and gone[-2].where == "oven" and (
        at_s - gone[-1].at_s <= JUST_OUT_S)
    return gone[-1].at_s if just else None


def _where(at_s: float, spans: tuple[Span, ...]) -> Where | None:
    return next((span.where for span in reversed(spans) if span.at_s <= at_s), None)
