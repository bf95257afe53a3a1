"""What was done and when, said or not: the facts in force become one timeline that the models run along.

People tell of half of what they do. A pot that went in, a look or a fork test means that the door was off for some
minutes; a fire was fed between two told feeds; a tended oven goes on being fed as was said. Such acts are `minor`.
Times are whole minutes, in seconds of the epoch.
"""
from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import Literal, cast

from skills import vocabulary as v
from skills.dated import Dated, coming_time
from skills.dish.cuts import find_cut
from skills.dish.probes import telling
from skills.kitchen import firing
from skills.kitchen.routine import Routine, days_idle, is_damp, stated_routine
from skills.oven.parameters import OvenWords
from skills.physics.combustion import wet_basis_pct
from skills.record import JUST_OUT, OUT_STAGES, boils

LID_S = (-120, 60)         # lid off around a fork test or a probe
LOOK_S = (-180, 60)        # door off around a message that tells of a look (simulated classes: 3 to 5 min in all)
ONE_LOOK_S = 600           # what is told of a pot within this long is of one look
POT_IN_S = (-180, 60)
POT_OUT_S = (-120, 60)
# Who feeds by the clock now and then forgets, and lays two on when it drops (simulated classes).
MISSED, DOUBLED = 0.07, 0.18
FEED_OPEN_S = 60           # the door is off while a split goes on (judgement)
RAKED_TO_SHUT_S = 900       # brushed and mopped, then the door (common practice, no source)
STILL_BURNS_S = 1800       # a split flames and glows for half an hour (common practice, no source)
LONG_FIRING_S = 4 * 3600    # firings take 1.5 to 4 h (heat reference 9.3)
PROBE_CM = 5.0              # depth of a floor probe of which none was said (common practice, no source)
HOT_C = 60.0                # a reading over this shows that the oven was fired before
FIRED_C = 120.0             # one over this before any fire was told, that it burned not long ago
DEFAULT_ROUTINE_S = 2100.0  # a small split every 30 to 40 min (owner's figure of the job notes)
# Wood that is no usual feed: as much as several of them beside the lighting, or a load at any time (judgement).
CHARGE_KG, LAID_S, BIG_LOAD_KG = 2.5, 900, 5.0
ORDER = {"weather": 0, "measure": 0, "lit": 1, "spread": 2, "feed": 3, "raked": 4, "fire_out": 5, "door": 6,
         "pot_out": 7, "ring": 8, "pot_in": 9, "top_up": 10, "lid": 11, "cover": 12, "uncover": 13}


@dataclass(frozen=True)
class Act:
    """One thing done to one oven or dish. kg or pieces of wood; state of a door, a lid or a ring; litres topped up."""
    at_s: int
    kind: str
    oven: str | None = None
    dish: str | None = None
    state: str = ""
    kg: float | None = None
    pieces: float | None = None
    doubt: float = 0.1         # deviation of the logarithm of the wood
    missed: float = 0.0        # chance that it was not done
    doubled: float = 0.0       # chance that it was twice as much
    litres: float = 0.0
    minor: bool = False
    fact: Dated | None = None
    wet_pct: float | None = None    # water in the wood by total weight, if told
    warmer_k: float | None = None   # yard air less the first told, if told


@dataclass
class OvenStory:
    """All that was said of one oven."""
    name: str
    first_s: int
    size: dict[str, float] = field(default_factory=dict)
    fired: str | None = None
    idle: float | None = None
    damp: bool = False
    probed: bool = False
    wood_pct: float | None = None
    ambient_c: float | None = None
    fire: list[Dated] = field(default_factory=list)
    doors: list[Dated] = field(default_factory=list)
    looks: list[tuple[int, int]] = field(default_factory=list)
    looked_s: list[int] = field(default_factory=list)
    pots: list[tuple[int, str, str]] = field(default_factory=list)
    routine: tuple[int, Routine] | None = None

    def looked(self, at_s: int) -> None:
        """Someone looked into a pot: the door was off around then. Words about one look come in several messages."""
        self.looks.append((at_s + LOOK_S[0], at_s + LOOK_S[1]))
        if not self.looked_s or at_s - self.looked_s[-1] > ONE_LOOK_S:
            self.looked_s.append(at_s)

    def _charge(self, dated: Dated) -> bool:
        """Whether wood is what a fire was laid or loaded up with: it tells nothing of the feeds that follow."""
        fact = dated.fact
        assert isinstance(fact, v.Fire)
        lit = [minute(each) for each in self.fire if isinstance(each.fact, v.Fire) and each.fact.act == "lit"]
        kg = fact.wood_kg or 0.0
        return kg > BIG_LOAD_KG or (kg > CHARGE_KG and any(abs(minute(dated) - at_s) <= LAID_S for at_s in lit))

    def words(self) -> OvenWords:
        centi = {name: self.size[f"{name}_cm"] / 100.0 if f"{name}_cm" in self.size else None
                 for name in ("across", "floor", "dome", "insulation", "probe")}
        fed = [dated.fact for dated in self.fire if isinstance(dated.fact, v.Fire) and dated.fact.act == "fed"
               and not self.in_routine(minute(dated)) and not self._charge(dated)]
        weights = [fact.wood_kg for fact in fed if fact.wood_kg]
        counts = [fact.pieces for fact in fed if fact.pieces]
        pieces = sum(counts) / len(counts) if counts else 3.0
        kg = sum(weights) / len(weights) / pieces if weights and counts else None
        small = None
        if self.routine is not None and self.routine[1].kg:
            small = self.routine[1].kg / (self.routine[1].pieces or 1.0)
        if centi["probe"] is None and self.probed:
            centi["probe"] = PROBE_CM / 100.0
        return OvenWords(centi["across"], centi["floor"], centi["dome"], centi["insulation"], centi["probe"],
                         self.tended, self.idle, None if self.ambient_c is None else self.ambient_c + 273.15, kg,
                         self.damp, small)

    @property
    def tended(self) -> bool:
        """Kept going with a small fire: said so, a routine stated, or fed with a pot in or before it, and not raked."""
        if self.fired is not None:
            return self.fired == "tended"
        beside_fire = self._fed_on_s is not None or self._into_fire
        return self.routine is not None or (beside_fire and not self._did("raked"))

    @property
    def kept_as(self) -> Literal["retained", "tended"] | None:
        """How it was kept, as far as this class tells: fed on, or raked."""
        return "tended" if self.tended else "retained" if self.fired is not None or self._did("raked") else None

    @property
    def _into_fire(self) -> bool:
        """Whether a pot was put in so shortly after wood was laid on that it still burns; what bakes in minutes is no
        pot: it is done beside the flame of a firing."""
        return any(act == "in" and any(0 <= at_s - fed <= STILL_BURNS_S for fed in self._did("fed"))
                   and not find_cut(dish)[0].finish.brief for at_s, act, dish in self.pots)

    def _did(self, act: str) -> list[int]:
        return [minute(dated) for dated in self.fire if getattr(dated.fact, "act", "") == act]

    @property
    def _fed_on_s(self) -> int | None:
        """The first pot after which wood was laid on."""
        inside = [at_s for at_s, act, _ in self.pots if act == "in"]
        return min((pot for pot in inside if any(each > pot for each in self._did("fed"))), default=None)

    @property
    def tending_s(self) -> int | None:
        """When the firing was over and the small fire began: as said, else with the door on or the first pot in."""
        if self.routine is not None:
            return self.routine[0]
        if not self.tended:
            return None
        lit = min([*self._did("lit"), *self._did("fed")], default=self.first_s)
        shut = [minute(dated) for dated in self.doors if getattr(dated.fact, "state", "") == "on"]
        inside = [at_s for at_s, act, _ in self.pots if act == "in"]
        return min((at_s for at_s in (*shut, *inside) if at_s > lit), default=None)

    @property
    def emptied_s(self) -> int | None:
        """When the last pot left, if nothing has gone in and no wood was told of since; None: in use, or never was."""
        inside: set[str] = set()
        left: int | None = None
        for at_s, act, dish in self.pots:
            (inside.add if act == "in" else inside.discard)(dish)
            left = None if inside else at_s
        if left is None or any(each > left for each in (*self._did("fed"), *self._did("lit"))):
            return None
        return left

    @property
    def filled_s(self) -> int | None:
        """When the first pot went in since the oven last stood empty; None: it stands empty."""
        inside: set[str] = set()
        begun: int | None = None
        for at_s, act, dish in self.pots:
            begun = at_s if act == "in" and not inside else begun
            (inside.add if act == "in" else inside.discard)(dish)
        return begun if inside else None

    def door_told(self, since_s: float) -> bool:
        """Whether anything was said of the door since then."""
        return any(minute(dated) >= since_s for dated in self.doors)

    def in_routine(self, at_s: int) -> bool:
        """Whether a feed at that time is one of the small ones."""
        begun = self.tending_s
        return begun is not None and at_s >= begun - 60


@dataclass(frozen=True)
class Timeline:
    """Acts in order, and what was said of ovens and dishes. `burning`: ovens that will be fed on."""
    acts: tuple[Act, ...]
    ovens: Mapping[str, OvenStory]
    loads: Mapping[str, Mapping[str, object]]
    serve_s: float | None = None
    found_s: Mapping[str, int] = field(default_factory=dict)     # when a dish was first called tender

    def first_sight(self, reading: Act) -> bool:
        """Whether it is an oven's first reading and no wood was told before it: how hot it is nobody could foresee."""
        for act in self.acts:
            if act.at_s > reading.at_s:
                break
            if act.oven != reading.oven or act.fact is None:
                continue
            if act.kind == "feed" or (act.kind == "measure" and act.at_s < reading.at_s and act.dish is None):
                return False
        return True


def minute(dated: Dated) -> int:
    return int(dated.at.timestamp()) // 60 * 60


def timeline(facts: Sequence[Dated], now_s: int, feed_until_s: int | None = None) -> Timeline:
    """The acts up to `now_s` (and a little past it: doors that are about to be shut again).

    feed_until_s: routine feeding goes on to then (forecasts); None: to now.
    """
    ovens: dict[str, OvenStory] = {}
    loads: dict[str, dict[str, object]] = {}
    acts: list[Act] = []
    where: dict[str, str | None] = {}
    served: set[str] = set()
    ringed: set[str] = set()
    out_s: dict[str, int] = {}
    lids: dict[str, str] = {}
    general: list[Dated] = []
    serve_s: float | None = None
    found_s: dict[str, int] = {}
    for dated in sorted(telling(facts), key=lambda each: (each.at, each.told, each.message, each.index)):
        at_s = minute(dated)
        fact = dated.fact
        if dated.oven is not None and isinstance(fact, v.Oven | v.Reading | v.Door | v.Fire | v.Pot):
            story = ovens.setdefault(dated.oven, OvenStory(dated.oven, at_s))
        else:
            story = None
        if isinstance(fact, v.Oven) and story is not None:
            _describe(story, fact)
        elif isinstance(fact, v.Note | v.Weather | v.Wood):
            general.append(dated)
        elif isinstance(fact, v.Class | v.Serve):
            clock = fact.serve if isinstance(fact, v.Class) else fact.by
            serve_s = coming_time(clock, dated.told).timestamp() if clock else serve_s
        elif isinstance(fact, v.Reading) and story is not None:
            if fact.tool == "probe" and fact.place == "floor":
                # It has one, at a depth that nobody has said yet.
                story.probed = True
            acts.append(Act(at_s, "measure", dated.oven, fact=dated))
        elif isinstance(fact, v.Door) and story is not None:
            story.doors.append(dated)
            if fact.over:
                story.doors.append(replace(dated, at=dated.told, fact=v.Door(state="on")))
        elif isinstance(fact, v.Fire) and story is not None:
            story.fire.append(dated)
        elif isinstance(fact, v.Load) and dated.dish is not None and fact.share is None and not (
                fact.left and where.get(dated.dish, "") is None and dated.dish not in ringed):
            loads[dated.dish] = {**loads.get(dated.dish, {}), **fact.told()}
        elif isinstance(fact, v.Contents) and dated.dish is not None and where.get(dated.dish) is None:
            # What comes in later finds the dish half done: it changes the rate less than the spread between harvests.
            load = loads.setdefault(dated.dish, {})
            load["contents"] = (*cast(tuple[str, ...], load.get("contents", ())), fact.item)
        elif isinstance(fact, v.Pot) and fact.act == "in" and fact.onto is not None and where.get(
                dated.dish or "") is None:
            continue            # over a flame that no model knows
        elif isinstance(fact, v.Pot) and dated.dish is not None:
            if fact.act == "in":
                served.discard(dated.dish)
            if fact.onto == "hot_hold":
                served.add(dated.dish)
            on = fact.onto == "ring" and dated.dish in where and dated.dish not in served
            _pot(fact, dated, at_s, ovens, where, lids, acts)
            if fact.act == "out":
                _ring(dated.dish, on, at_s, ringed, acts)
                out_s.setdefault(dated.dish, at_s)
            elif fact.act in ("in", "moved"):
                ringed.discard(dated.dish)
                out_s.pop(dated.dish, None)
        elif isinstance(fact, v.Chill | v.StoreHeat) and dated.dish is not None:
            # Trays on ice and the hot cupboard are no oven: what is probed there says nothing of one.
            served.add(dated.dish)
            _ring(dated.dish, False, at_s, ringed, acts)
            inside = where.get(dated.dish)
            if inside is not None:
                acts.append(Act(at_s, "pot_out", inside, dated.dish, minor=True))
                ovens[inside].pots.append((at_s, "out", dated.dish))
                where[dated.dish] = None
        elif isinstance(fact, v.Stage) and fact.stage in OUT_STAGES:
            out = [dish for dish, place in where.items() if place is None and dish not in served]
            names = [dated.dish] if dated.dish else (out or list(where)) if fact.stage == "served" else []
            if fact.stage == "served":
                served |= set(names)
            for dish in names:
                _ring(dish, False, at_s, ringed, acts)
                inside = where.get(dish)
                if inside is not None:
                    acts.append(Act(at_s, "pot_out", inside, dish, minor=True))
                    ovens[inside].pots.append((at_s, "out", dish))
                    where[dish] = None
        elif isinstance(fact, v.Check | v.Food) and dated.dish is not None and dated.dish not in served:
            inside = where.get(dated.dish)
            if boils(fact) and at_s - out_s.get(dated.dish, at_s) >= JUST_OUT.total_seconds() and dated.dish in where:
                _ring(dated.dish, True, at_s, ringed, acts)
            acts.append(Act(at_s if inside is None else _lifted_s(ovens[inside], dated.dish, at_s), "measure", inside,
                            dated.dish, fact=dated))
            if isinstance(fact, v.Check) and fact.tender is not None:
                if fact.tender in ("tender", "falling"):
                    found_s.setdefault(dated.dish, at_s)
                else:
                    found_s.pop(dated.dish, None)
            if inside is not None:
                ovens[inside].looked(at_s)
                acts += [Act(at_s + LID_S[0], "uncover", inside, dated.dish, minor=True),
                         Act(at_s + LID_S[1], "cover", inside, dated.dish, minor=True)]
    _notes(general, ovens)
    acts += _weather(general)
    for story in ovens.values():
        _fires(story, acts, now_s, feed_until_s)
        _doors(story, acts)
    wet = {name: story.wood_pct for name, story in ovens.items() if story.wood_pct is not None}
    if wet:
        acts = [replace(act, wet_pct=wet.get(act.oven or "")) if act.kind in ("lit", "feed") else act for act in acts]
    acts.sort(key=lambda act: (act.at_s, ORDER[act.kind]))
    return Timeline(tuple(acts), ovens, loads, serve_s, found_s)


def _describe(story: OvenStory, fact: v.Oven) -> None:
    story.size.update(fact.sizes())
    story.fired = fact.fired or story.fired


def _pot(fact: v.Pot, dated: Dated, at_s: int, ovens: dict[str, OvenStory], where: dict[str, str | None],
         lids: dict[str, str], acts: list[Act]) -> None:
    dish = dated.dish
    assert dish is not None
    inside = where.get(dish)
    if fact.act in ("in", "moved"):
        to = dated.oven
        if inside is not None and inside != to:
            acts.append(Act(at_s, "pot_out", inside, dish))
            ovens[inside].looks.append((at_s + POT_OUT_S[0], at_s + POT_OUT_S[1]))
            ovens[inside].pots.append((at_s, "out", dish))
        if to is not None and inside != to:
            acts.append(Act(at_s, "pot_in", to, dish))
            ovens[to].looks.append((at_s + POT_IN_S[0], at_s + POT_IN_S[1]))
            ovens[to].pots.append((at_s, "in", dish))
            if dish in lids:
                acts.append(Act(at_s, "lid", to, dish, state=lids.pop(dish)))
        where[dish] = to
        return
    if inside is not None:
        if fact.act == "out":
            ovens[inside].looks.append((at_s + POT_OUT_S[0], at_s + POT_OUT_S[1]))
        else:
            ovens[inside].looked(at_s)
    if fact.act == "out" and inside is not None:
        acts.append(Act(at_s, "pot_out", inside, dish))
        ovens[inside].pots.append((at_s, "out", dish))
        where[dish] = None
    elif fact.act == "topped_up":
        acts += [Act(at_s - 60, "uncover", inside, dish, minor=True), Act(at_s + 60, "cover", inside, dish, minor=True),
                 Act(at_s, "top_up", inside, dish, litres=fact.poured_l)]
    elif fact.act in ("lid_on", "lid_off"):
        state = fact.act.removeprefix("lid_")
        acts.append(Act(at_s, "lid", inside, dish, state=state))
        if dish not in where:
            lids[dish] = state              # it goes in so


def _ring(dish: str, on: bool, at_s: int, ringed: set[str], acts: list[Act]) -> None:
    """A dish that is out goes onto a ring, or off the one that it is on."""
    if on != (dish in ringed):
        acts.append(Act(at_s, "ring", None, dish, state="on" if on else "off"))
        (ringed.add if on else ringed.discard)(dish)


def _lifted_s(story: OvenStory, dish: str, at_s: int) -> int:
    """When the lid came off for what is told at at_s: a simmer is that of the pot as it was found, not of one that has
    stood open for two minutes."""
    came_s = max(each for each, act, name in story.pots if act == "in" and name == dish)
    return max(at_s + LID_S[0], min(came_s + 60, at_s))


def _notes(general: Sequence[Dated], ovens: dict[str, OvenStory]) -> None:
    """Notes and weather belong to the oven that they name, else to all (weather), else to the only one."""
    for dated in general:
        fact = dated.fact
        mine = [ovens[dated.oven]] if dated.oven in ovens else list(ovens.values())
        if isinstance(fact, v.Weather):
            for story in ovens.values():
                story.ambient_c = story.ambient_c if story.ambient_c is not None else fact.celsius
                # Rain on a cold oven wets it; a fired one only loses heat by it.
                story.damp = story.damp or (fact.sky == "rain" and not any(each.at < dated.at for each in story.fire))
        elif isinstance(fact, v.Wood) and fact.moisture_pct is not None:
            # Most pin meters read on the dry basis (job notes).
            wet = fact.moisture_pct if fact.basis == "wet" else wet_basis_pct(fact.moisture_pct)
            for story in mine:
                story.wood_pct = wet
        elif isinstance(fact, v.Note):
            routine = stated_routine(fact.text)
            named = [story for story in mine if story.name.removesuffix(" oven") in fact.text.lower()]
            tended = [story for story in mine if story.fired == "tended"]
            for story in (named or tended or mine)[:1]:
                if routine is not None and story.fired != "retained":
                    story.routine = (minute(dated), routine)
            for story in named or mine:
                idle = days_idle(fact.text)
                story.idle = idle if idle is not None else story.idle
                story.damp = story.damp or is_damp(fact.text)


def _weather(general: Sequence[Dated]) -> list[Act]:
    """What is told of the weather holds from then on; the air is held against what was told of it first."""
    told = [(dated, dated.fact) for dated in general if isinstance(dated.fact, v.Weather)]
    first_c = next((fact.celsius for _, fact in told if fact.celsius is not None), None)
    return [Act(minute(dated), "weather", fact=dated, warmer_k=None if fact.celsius is None or first_c is None
                else fact.celsius - first_c) for dated, fact in told]


def _fires(story: OvenStory, acts: list[Act], now_s: int, feed_until_s: int | None) -> None:
    """Told and untold acts of the fire."""
    lit = [minute(dated) for dated in story.fire if getattr(dated.fact, "act", "") == "lit"]
    fed = [dated for dated in story.fire if getattr(dated.fact, "act", "") == "fed"]
    ends = [minute(dated) for dated in story.fire if getattr(dated.fact, "act", "") in ("raked", "out")]
    shut = [minute(dated) for dated in story.doors if getattr(dated.fact, "state", "") == "on"]
    pots = [at_s for at_s, act, _ in story.pots if act == "in"]
    for dated in story.fire:
        fact = dated.fact
        assert isinstance(fact, v.Fire)
        at_s = minute(dated)
        kind = {"lit": "lit", "fed": "feed", "spread": "spread", "raked": "raked", "out": "fire_out"}[fact.act]
        small = kind == "feed" and story.in_routine(at_s)
        acts.append(Act(at_s, kind, story.name, kg=fact.wood_kg, pieces=fact.pieces, state="small" if small else "",
                        doubt=max(0.12, 0.03 / fact.wood_kg) if fact.wood_kg else 0.18, fact=dated))
        if small:
            story.looks.append((at_s, at_s + FEED_OPEN_S))
    told = [minute(dated) for dated in fed]
    first_s = min([*lit, *told], default=None)
    hot = [act.at_s for act in acts if act.kind == "measure" and act.oven == story.name and _shows_heat(
        act, HOT_C if first_s is None else FIRED_C)]
    before = [*hot, *pots, *(ends if first_s is None else ())]
    if before and (first_s is None or min(before) < first_s):
        begun = min(before)
        _supposed_firing(story, acts, ends, begun)
        if story.tended and not lit:
            _tend(story, acts, begun - 2400, told, ends, now_s, feed_until_s)
            return
    if first_s is None:
        return
    usual = firing.USUAL_S["tended" if story.tended else "retained"]
    starts = lit or ([told[0]] if told else [])
    for at_s in starts:
        later = [each for each in starts if each > at_s]
        stop = [each for each in (*ends, *later) if each > at_s]
        if story.tended:
            stop += [each for each in shut if each > at_s] + [pot for pot in pots if pot > at_s]
            if story.routine is not None:
                stop.append(story.routine[0])
        elif pots:
            stop += [pot - 1800 for pot in pots if pot - 1800 > at_s]
        end_s = min(stop, default=now_s)
        mine = [each for each in told if at_s <= each <= end_s]
        quiet = 240 if story.tended else firing.LAST_BEFORE_RAKE_S
        first = at_s if lit else None
        if not stop:
            # A firing of which no end was told is not fed for ever.
            end_s = min(end_s, max([at_s + LONG_FIRING_S, *mine]))
        acts += [Act(each, "feed", story.name, doubt=0.3, missed=0.1, minor=True)
                 for each in firing.untold_feeds_s(first, mine, end_s, bool(stop), usual, quiet)]
        if story.tended:
            _tend(story, acts, end_s, told, [each for each in ends if each > at_s], now_s, feed_until_s)


def _tend(story: OvenStory, acts: list[Act], from_s: int, told: Sequence[int], ends: Sequence[int], now_s: int,
          feed_until_s: int | None) -> None:
    """The small fire of a tended oven, as was said or as is usual, until it is let out: told, or with the last pot."""
    until_s = min([*ends, now_s if feed_until_s is None else feed_until_s])
    if story.emptied_s is not None:
        until_s = min(until_s, story.emptied_s)
    if story.routine is not None:
        from_s, routine = story.routine
    else:
        routine = Routine(firing.feed_interval_s([each for each in told if each >= from_s], DEFAULT_ROUTINE_S))
        pots = [at_s for at_s, act, _ in story.pots if act == "in"]
        from_s = max(from_s, min([each for each in (*told, *pots) if each > from_s], default=from_s + 2400))
    feeds = firing.routine_feeds_s(from_s, [each for each in told if each >= from_s - 60], until_s, routine.interval_s)
    acts += [Act(each, "feed", story.name, state="small", pieces=routine.pieces, doubt=0.2, missed=MISSED,
                 doubled=DOUBLED, minor=True) for each in feeds]


def _shows_heat(act: Act, over_c: float) -> bool:
    fact = act.fact.fact if act.fact is not None else None
    return isinstance(fact, v.Reading) and (fact.count is not None or (fact.celsius or 0.0) > over_c)


def _supposed_firing(story: OvenStory, acts: list[Act], ends: Sequence[int], first: int) -> None:
    """An oven that was hot when the talk began was fired before: a firing of unknown size, told by nobody."""
    if story.tended:
        lit, until = first - 5400, first - 2400
        spacing = 690
    else:
        raked = [each for each in ends if each <= first + 60]
        until = (raked[0] if raked else first - 2700)
        lit, spacing = until - 9000, 1140
        if not raked:
            acts.append(Act(until, "raked", story.name, minor=True))
    acts.append(Act(lit, "lit", story.name, doubt=0.3, minor=True))
    acts += [Act(each // 60 * 60, "feed", story.name, doubt=0.7, minor=True)
             for each in range(lit + 360, until - (240 if story.tended else 1800), spacing)]
    if not any(getattr(dated.fact, "state", "") == "on" and minute(dated) <= first + 600 for dated in story.doors):
        acts.append(Act(until + 600, "door", story.name, state="supposed_on", minor=True))


def _doors(story: OvenStory, acts: list[Act]) -> None:
    """The door along the day: told states, openings that other words imply, and shut again after a pot went in."""
    base: list[tuple[int, str]] = []
    for act in acts:
        if act.oven == story.name and act.kind == "lit":
            base.append((act.at_s, "off"))
        if act.oven == story.name and act.state == "supposed_on":
            base.append((act.at_s, "on"))
    acts[:] = [act for act in acts if not (act.oven == story.name and act.state == "supposed_on")]
    told = [(minute(dated), str(getattr(dated.fact, "state", "on"))) for dated in story.doors]
    base += told
    # What is raked out is shut to settle, told or not.
    base += [(act.at_s + RAKED_TO_SHUT_S, "on") for act in acts if act.oven == story.name and act.kind == "raked"
             and not any(act.at_s - 60 <= each <= act.at_s + RAKED_TO_SHUT_S for each, _ in told)]
    for at_s, act_name, _ in story.pots:
        spoken = any(-300 <= each - at_s <= 900 for each, _ in told)
        if act_name == "in" and not spoken:
            base.append((at_s + 60, "on"))
    base.sort(key=lambda each: each[0])
    marks = sorted({at_s for at_s, _ in base} | {edge for look in story.looks for edge in look})
    state, index, last = "on", 0, ""
    for at_s in marks:
        while index < len(base) and base[index][0] <= at_s:
            state = base[index][1]
            index += 1
        looking = any(begin <= at_s < end for begin, end in story.looks)
        shown = "off" if looking else state
        if shown != last:
            acts.append(Act(at_s, "door", story.name, state=shown, minor=looking))
            last = shown
