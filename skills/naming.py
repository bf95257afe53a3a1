"""Which oven and which dish a fact is about, when the message does not say.

A name that was said wins. Else: the only oven there is, the oven that the dish stands in, what this person spoke
of just now, the oven whose last reading fits. If two are left and it matters, the fact waits for a name.
"""
from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import datetime, timedelta

from skills import vocabulary as v
from skills.breads import FLATBREADS, LOAVES, one_of
from skills.dated import Dated
from skills.mending import Standing

# What a person spoke of this lately is what they still speak of (common practice, no source).
STILL_ON_IT = timedelta(minutes=12)
# A reading belongs to the oven whose last like reading is this close, if every other is this far [K].
CLOSE_K, FAR_K = 25.0, 45.0
# ... while that last reading is no older: a raked oven falls as far in an hour (common practice, no source).
LIKE_FOR = timedelta(minutes=75)
# Who told of one oven so often, and of no other, looks after it (common practice, no source).
KEEPS_IT = 2

# Below this what is probed without a name is what chills, if one dish does (common practice, no source) [degC].
_NO_LONGER_COOKS_C = 60.0

# Kinds of one pulse, and what any of them is called once it is in the pot.
_PULSES = {"kidney", "borlotti", "cannellini", "haricot", "pinto", "navy", "butter", "black", "white", "red"}
_ANY_PULSE = {"bean", "pulse"}

UNNAMED_OVEN = "oven"
UNNAMED_DISH = "pot"
_OVEN_FACTS = (v.Oven, v.Reading, v.Door, v.Fire)
_DISH_FACTS = (v.Food, v.Check, v.Stage, v.Load)
_INTO_OVEN = ("in", "moved")

Resolved = tuple[str | None, str | None, tuple[str, ...], str]


def _over_flame(dish: str | None) -> bool:
    """What wants a fire beside it, and goes into no raked oven: flatbreads (common practice, no source)."""
    return dish is not None and one_of(dish, FLATBREADS)


def _baked(dish: str) -> bool:
    return one_of(dish, (*FLATBREADS, *LOAVES))


def one_of_each(words: Iterable[str]) -> set[str]:
    """Words as of one thing: "loaves" and "loaf", "shanks" and "shank" mean one dish."""
    return {word[:-3] + "f" if word.endswith("aves") else word.removesuffix("s") for word in words}


@dataclass(frozen=True)
class DishSeen:
    name: str
    oven: str | None = None
    loaded: bool = False
    was_in: bool = False
    lidless: bool = False
    put_by: bool = False
    chilled: bool = False
    words: frozenset[str] = frozenset()


@dataclass(frozen=True)
class Names:
    """What the room's talk has named so far."""
    first_oven: str | None
    coming_dishes: tuple[str, ...]
    ovens: tuple[str, ...] = ()
    tended: frozenset[str] = frozenset()
    burning: frozenset[str] = frozenset()
    in_use: frozenset[str] = frozenset()            # lit, read, opened or with a pot in it; not only described
    dishes: Mapping[str, DishSeen] = field(default_factory=dict)
    called: Mapping[str, str] = field(default_factory=dict)     # another name: the oven that goes by it since
    raked: frozenset[str] = frozenset()             # raked out, and nothing has gone in since
    spoke: Mapping[str, tuple[datetime, str]] = field(default_factory=dict)         # who: when of which oven
    spoke_dish: Mapping[str, tuple[datetime, str]] = field(default_factory=dict)    # who: when of which dish
    heats: Mapping[tuple[str, str], tuple[datetime, float]] = field(default_factory=dict)
    told_of: Mapping[str, frozenset[tuple[str, datetime]]] = field(default_factory=dict)    # who: which oven, when
    claimed: Mapping[str, str] = field(default_factory=dict)                        # oven: who took it

    @classmethod
    def of(cls, standing: Sequence[Standing]) -> Names:
        """Names before the first fact; names that come later serve facts that nobody had named yet."""
        ovens = [each.fact.oven for each in standing if each.fact.oven]
        dishes = [each.fact.dish for each in standing if each.fact.dish]
        return cls(ovens[0] if ovens else None, tuple(dict.fromkeys(dishes)))

    def resolve(self, standing: Standing, at: datetime, beside: Sequence[v.Reading] = ()) -> Resolved:
        """(oven, dish, options, what is missing or ""). beside: the heats of the same message that name no oven."""
        fact = standing.fact
        who = standing.told.who
        if isinstance(fact, v.Pot):
            return self._pot(fact, who, at)
        if isinstance(fact, _OVEN_FACTS):
            oven, options = self._oven(fact, who, at, beside)
            return oven, None, options, "oven" if options else ""
        if isinstance(fact, v.Contents | v.Chill | v.Reheat | v.Stage) and fact.dish is None:
            if isinstance(fact, v.Stage) and fact.stage == "served" and any(
                    dish.was_in and dish.oven is None for dish in self.dishes.values()):
                return None, None, (), ""       # what came out is eaten, not what still stands in an oven
            dish, options = self._dish(fact, who, at)
            # "served" is said of the whole meal; contents may be a label read out: both may stand without a dish.
            return None, dish, (), ""
        if isinstance(fact, v.StoreHeat) and fact.holds is not None:
            dish = self._known_dish(fact.holds) or fact.holds
            return self._stands_in(dish), dish, (), ""
        if isinstance(fact, _DISH_FACTS) or fact.dish is not None:
            dish, options = self._dish(fact, who, at)
            place = self._stands_in(dish)
            return place, dish, options, "dish" if options else ""
        return self._oven_named(fact), None, (), ""

    def _oven_named(self, fact: v.Fact) -> str | None:
        return self.called.get(fact.oven, fact.oven) if fact.oven is not None else None

    def _pot(self, fact: v.Pot, who: str, at: datetime) -> Resolved:
        dish, options = self._dish(fact, who, at)
        if options:
            return None, None, options, "dish"
        if fact.act == "in" and fact.onto is not None:
            return None, dish, (), ""
        stands_in = self._stands_in(dish)
        if fact.oven is not None:
            return self._oven_named(fact), dish, (), ""
        if fact.act not in _INTO_OVEN or (fact.act == "in" and stands_in is not None):
            return stands_in, dish, (), ""
        oven, options = self._oven(fact, who, at)
        return oven, dish, options, "oven" if options else ""

    def _stands_in(self, dish: str | None) -> str | None:
        return self.dishes[dish].oven if dish is not None and dish in self.dishes else None

    def _oven(self, fact: v.Fact, who: str, at: datetime, beside: Sequence[v.Reading] = ()) -> tuple[
            str | None, tuple[str, ...]]:
        if fact.oven is not None:
            return self._known_oven(fact.oven), ()
        if not self.ovens:
            return self.first_oven or UNNAMED_OVEN, ()
        candidates = self.ovens
        if len(candidates) == 1:
            return candidates[0], ()
        if len(self.in_use) == 1 and not (isinstance(fact, v.Fire) and fact.act == "lit"):
            # A cold oven that was only described is not what people read, feed or fill.
            return next(iter(self.in_use)), ()
        spoke_at, oven = self.spoke.get(who, (None, None))
        if isinstance(fact, v.Fire) and fact.act != "lit":
            burning = [name for name in candidates if name in self.burning]
            fed = [name for name in burning if name in self.tended] if fact.act == "fed" else burning
            if len(fed or burning) == 1:
                return (fed or burning)[0], ()
        if spoke_at is not None and oven is not None and at - spoke_at <= STILL_ON_IT:
            return oven, ()
        keeps = self._keeps(who) if isinstance(fact, _OVEN_FACTS) else None
        if isinstance(fact, v.Reading):
            heats = beside or (fact,)
            fitting = self._by_heat(heats, at)
            if fitting is not None or keeps is None:
                keeps = fitting if keeps in (None, fitting) else None
            keeps = keeps or (self._by_places(heats) if fitting is None else None)
        if keeps is not None:
            return keeps, ()
        if isinstance(fact, v.Pot) and len(self.burning) == 1 and _over_flame(fact.dish):
            return next(iter(self.burning)), ()
        if isinstance(fact, v.Pot) and len(self.raked) == 1:
            # What is raked out and empty is what the pot was waiting for.
            return next(iter(self.raked)), ()
        return None, candidates

    def _keeps(self, who: str) -> str | None:
        """The oven that a person looks after: it was taken over aloud, or all that was told came of it alone."""
        mine = {oven for oven, keeper in self.claimed.items() if keeper.lower() == who.lower()}
        if len(mine) == 1:
            return next(iter(mine))
        told = self.told_of.get(who, frozenset())
        ovens = {oven for oven, _ in told}
        return next(iter(ovens)) if len(ovens) == 1 and len(told) >= KEEPS_IT and not mine else None

    def _by_heat(self, heats: Sequence[v.Reading], at: datetime) -> str | None:
        """The oven whose last heats of these places are near, lately told, where those of every other are far."""
        away: dict[str, float] = {}
        for name in self.ovens:
            last = [(each.celsius, self.heats.get((name, each.place or "air"))) for each in heats]
            apart = [abs(was[1] - celsius) for celsius, was in last
                     if celsius is not None and was is not None and at - was[0] <= LIKE_FOR]
            if not apart:
                return None
            away[name] = max(apart)
        (near, oven), (far, _), *_ = sorted((apart, name) for name, apart in away.items())
        return oven if near <= CLOSE_K and far >= FAR_K else None

    def _by_places(self, heats: Sequence[v.Reading]) -> str | None:
        """The one oven that has been read in all of several places that are told in one breath."""
        places = {each.place or "air" for each in heats}
        fit = [name for name in self.ovens if all((name, place) in self.heats for place in places)]
        return fit[0] if len(places) > 1 and len(fit) == 1 else None

    def _known_oven(self, name: str) -> str:
        """"the dome oven" and "dome" are one; an oven nobody had named yet takes the first name it gets."""
        name = self.called.get(name, name)
        for known in self.ovens:
            if name == known or name.removesuffix(" oven") == known.removesuffix(" oven"):
                return known
        return name

    def _known_dish(self, name: str) -> str | None:
        if name in self.dishes:
            return name
        words = one_of_each(name.split())
        for seen in self.dishes.values():
            of_name = one_of_each(seen.name.split())
            if words & one_of_each(seen.words) or words <= of_name or of_name <= words:
                return seen.name
        return self._only_pulse(words)

    def _only_pulse(self, words: set[str]) -> str | None:
        """ "borlotti" soaked and "beans" put in: the one pulse that there is, whatever word it goes by."""
        kinds = _PULSES | _ANY_PULSE
        if not words <= kinds:
            return None
        there = [name for name in self.dishes if one_of_each(name.split()) <= kinds]
        own = [name for name in there if words <= _ANY_PULSE or one_of_each(name.split()) <= _ANY_PULSE]
        return own[0] if len(there) == len(own) == 1 else None

    def _dish(self, fact: v.Fact, who: str, at: datetime) -> tuple[str | None, tuple[str, ...]]:
        if fact.dish is not None:
            return self._known_dish(fact.dish) or fact.dish, ()
        if isinstance(fact, v.Load) and set(fact.told()) != {"done_c"} and fact.share is None:
            return self._loaded_dish(fact), ()
        seen = list(self.dishes.values())
        if isinstance(fact, v.Load) and fact.share is not None and (
                off := [dish.name for dish in seen if dish.was_in and dish.oven is None]):
            return self._one(off, who, at)
        if isinstance(fact, v.Pot):
            if fact.act == "in":
                waiting = [dish.name for dish in seen if dish.oven is None and not dish.was_in and not dish.put_by]
                waiting = [name for name in waiting if self.dishes[name].loaded] or waiting
                # Out to be shown and back in, or in already and told twice; a pot more is told by its name.
                waiting = waiting or [dish.name for dish in seen if dish.oven is None and not dish.put_by]
                inside = [dish.name for dish in seen if dish.oven is not None]
                if not waiting and len(inside) == 1:
                    return inside[0], ()
                if not waiting:
                    unseen = [name for name in self.coming_dishes if self._known_dish(name) is None]
                    return (unseen[0] if unseen and not seen else UNNAMED_DISH), ()
                return self._one(waiting, who, at, newest=True)
            inside = [dish.name for dish in seen if dish.oven is not None
                      and (fact.oven is None or (dish.oven == fact.oven) != (fact.act == "moved"))]
            waiting = inside or [dish.name for dish in seen if not dish.put_by] or [dish.name for dish in seen]
            if fact.act == "lid_on":  # "lid back on": what stands without one
                waiting = [name for name in waiting if self.dishes[name].lidless] or waiting
            return self._one(waiting or [UNNAMED_DISH], who, at)
        inside = [dish.name for dish in seen if dish.oven is not None]
        if isinstance(fact, v.Chill):
            # What came out is what is left over, and nobody chills bread.
            inside = [dish.name for dish in seen if dish.was_in and dish.oven is None and not dish.chilled
                      and not _baked(dish.name)] or inside
        cold = [dish.name for dish in seen if dish.chilled]
        if isinstance(fact, v.Food) and fact.celsius < _NO_LONGER_COOKS_C and len(cold) == 1:
            return cold[0], ()      # "trays 31": what chills, and not what cooks
        names = inside or [dish.name for dish in seen]
        if not names:
            return (self.coming_dishes[0] if self.coming_dishes else UNNAMED_DISH), ()
        dish, options = self._one(names, who, at)
        kept = [name for name in options if self.dishes[name].oven is not None
                and self.dishes[name].oven == self._keeps(who)]
        # Who looks after one oven looks into what stands in it.
        return (kept[0], ()) if len(kept) == 1 else (dish, options)

    def _one(self, names: Sequence[str], who: str, at: datetime, newest: bool = False) -> tuple[
            str | None, tuple[str, ...]]:
        if len(names) == 1:
            return names[0], ()
        spoke_at, dish = self.spoke_dish.get(who, (None, None))
        if dish in names and spoke_at is not None and at - spoke_at <= STILL_ON_IT:
            return dish, ()
        if newest and (lately := self._lately(names, at)):
            return lately, ()
        return None, tuple(names)

    def _lately(self, names: Sequence[str], at: datetime) -> str | None:
        spoken = sorted((when, dish) for when, dish in self.spoke_dish.values()
                        if dish in names and at - when <= STILL_ON_IT)
        return spoken[-1][1] if spoken else None

    def _loaded_dish(self, fact: v.Load) -> str:
        words = one_of_each((fact.cut or "").split())
        for seen in self.dishes.values():
            if words & one_of_each((*seen.name.split(), *seen.words)):
                return seen.name
        later = next((name for name in self.coming_dishes if one_of_each(name.split()) & words), None)
        if later:
            return later
        empty = [seen.name for seen in self.dishes.values() if not seen.loaded and not seen.was_in]
        if len(empty) == 1:
            return empty[0]
        waiting = [seen.name for seen in self.dishes.values() if not seen.was_in]
        if fact.cut is None and fact.meat_kg is None and len(waiting) == 1:
            return waiting[0]       # "2 litres of hot stock": on the meat that was weighed before
        return fact.cut.split()[-1] if fact.cut else UNNAMED_DISH

    def after(self, dated: Dated) -> Names:
        """What is known once this fact has been placed."""
        fact, oven = dated.fact, dated.oven
        names = self
        if oven is not None and oven not in names.ovens:
            names = replace(names, ovens=(*names.ovens, oven))
        if oven is not None:
            names = names._oven_after(fact, oven)
        if dated.dish is not None:
            names = names._dish_after(fact, dated)
        if isinstance(fact, v.Reading) and oven and fact.celsius is not None:
            names = replace(names, heats={**names.heats, (oven, fact.place or "air"): (dated.at, fact.celsius)})
        if isinstance(fact, v.Task) and fact.act == "claim" and fact.what is not None:
            taken = names._known_oven(fact.what)
            if taken in names.ovens:
                names = replace(names, claimed={**names.claimed, taken: fact.who or dated.who})
        if oven is not None:
            names = replace(names, spoke={**names.spoke, dated.who: (dated.told, oven)})
        if oven is not None and isinstance(fact, v.Reading | v.Door | v.Fire):
            told = names.told_of.get(dated.who, frozenset()) | {(oven, dated.told)}
            names = replace(names, told_of={**names.told_of, dated.who: told})
        if dated.dish is not None:
            names = replace(names, spoke_dish={**names.spoke_dish, dated.who: (dated.told, dated.dish)})
        return names

    def _oven_after(self, fact: v.Fact, oven: str) -> Names:
        if not isinstance(fact, v.Oven) and oven not in self.in_use:
            return replace(self, in_use=self.in_use | {oven})._oven_after(fact, oven)
        if isinstance(fact, v.Oven) and fact.called is not None:
            return replace(self, called={**self.called, fact.called: oven})
        if isinstance(fact, v.Oven) and fact.fired == "tended":
            return replace(self, tended=self.tended | {oven})
        if isinstance(fact, v.Fire):
            over = fact.act in ("raked", "out")
            raked = self.raked | {oven} if fact.act == "raked" else self.raked - {oven}
            return replace(self, burning=self.burning - {oven} if over else self.burning | {oven}, raked=raked)
        if isinstance(fact, v.Pot) and fact.act in _INTO_OVEN:
            return replace(self, raked=self.raked - {oven})
        return self

    def _dish_after(self, fact: v.Fact, dated: Dated) -> Names:
        assert dated.dish is not None
        seen = self.dishes.get(dated.dish, DishSeen(dated.dish))
        if isinstance(fact, v.Pot):
            if fact.act in _INTO_OVEN:
                seen = replace(seen, oven=dated.oven, was_in=True, put_by=False)
            elif fact.act == "out":
                # It was in, told or not: what is weighed next is another dish.
                seen = replace(seen, oven=None, was_in=True)
            if fact.act in ("lid_on", "lid_off"):
                seen = replace(seen, lidless=fact.act == "lid_off")
        if isinstance(fact, v.Chill):
            seen = replace(seen, chilled=True)
        proves = isinstance(fact, v.Chill) and _baked(dated.dish) and not seen.was_in   # loaves that wait in the cold
        if (isinstance(fact, v.Chill) and not proves) or (isinstance(fact, v.Stage) and fact.stage == "served"):
            seen = replace(seen, put_by=True)
        if isinstance(fact, v.Load) and fact.share is None:
            seen = replace(seen, loaded=True, words=seen.words | frozenset((fact.cut or "").split()))
        return replace(self, dishes={**self.dishes, dated.dish: seen})
