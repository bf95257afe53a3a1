"""What a skill may look at: the record, what the models believe, and the time. Nothing here can be changed."""
from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from typing import TYPE_CHECKING, Any

from skills.dated import Dated
from skills.instants import Instant
from skills.kitchen import Belief, Forecast, Setting
from skills.naming import one_of_each
from skills.record import ClassRecord, DishRecord, OvenRecord

if TYPE_CHECKING:
    from skills.team.calls import Standing

# From the fork going in clean to the plate: rest and carve (common practice, no source).
REST = timedelta(minutes=20)
# The hours between which people have gone home, and how long after the last word some may still be there.
NIGHT = (22, 6)
STILL_UP = timedelta(minutes=40)


# Who has these has the oven that is fired.
FIRE_TASKS = ("fire", "wood", "feeding", "the fire", "the wood", "the feeding", "oven", "the oven")
# What one tells of who has a dish or an oven in hand.
_HANDLED = frozenset({"pot", "check", "food"})
_TENDED = frozenset({"fire", "reading", "door"})


@dataclass
class View:
    """The class as it stands at `now`. `belief` is None while no oven is known. `said`: prompt key -> when."""
    record: ClassRecord
    now: datetime
    belief: Belief | None
    region: str = "uk"
    said: Mapping[str, datetime] = field(default_factory=dict)
    told: Mapping[str, Any] = field(default_factory=dict)
    class_id: str = ""
    examples: Sequence[str] = ()
    setting: Setting = field(default_factory=Setting)
    calls: Sequence[Standing] = ()
    _forecasts: dict[tuple[float, bool, bool], Forecast] = field(default_factory=dict)
    _imagined: dict[tuple[object, ...], Forecast] = field(default_factory=dict)

    @property
    def serve(self) -> datetime | None:
        """When people eat: as it was told, or else the meal that a plan was last asked for."""
        if self.record.serve is not None:
            return self.record.serve
        meals = [(value["at"], value["mid"]) for key, value in self.told.items()
                 if key.startswith("plan:") and key.endswith(":eat") and value["mid"] is not None]
        return Instant.fromtimestamp(max(meals)[1], self.now.tzinfo) if meals else None

    def forecast(self, hours: float = 8.0, feeding: bool = True, untouched: bool = False) -> Forecast | None:
        """The forecast from now on; made once and shared by all who ask. untouched: nobody takes anything out."""
        if self.belief is None:
            return None
        key = (hours, feeding, untouched)
        if key not in self._forecasts:
            self._forecasts[key] = self.belief.forecast(hours=hours, feeding=feeding, untouched=untouched)
        return self._forecasts[key]

    def made_already(self) -> Forecast | None:
        """The usual forecast if somebody has asked for it at this moment; never makes one."""
        return self._forecasts.get((8.0, True, False))

    def what_if(self, acts: Sequence[Dated], hours: float = 8.0) -> Forecast | None:
        """The forecast with acts that are only thought of; made once and shared by all who ask."""
        if self.belief is None:
            return None
        key = (hours, *((dated.at, dated.oven, dated.dish, dated.fact) for dated in acts))
        if key not in self._imagined:
            self._imagined[key] = self.belief.forecast(hours=hours, acts=acts)
        return self._imagined[key]

    def oven(self, name: str | None) -> OvenRecord | None:
        """The oven of that name; without a name the only one, or the one that holds a dish."""
        ovens = self.record.ovens
        if name is not None:
            short = name.removesuffix(" oven")
            return next((oven for key, oven in ovens.items() if key.removesuffix(" oven") == short
                         or name in oven.called), None)
        if len(ovens) == 1:
            return next(iter(ovens.values()))
        holding = {dish.oven for dish in self.record.dishes.values() if dish.oven}
        return ovens.get(holding.pop()) if len(holding) == 1 else None

    def tended(self, name: str) -> bool:
        """Whether an oven is kept going with a small fire: as was said of it, or else as it was in earlier classes."""
        told = self.record.ovens[name].fired if name in self.record.ovens else None
        learnt = self.setting.ovens.get(name)
        return (told or (learnt.fired if learnt is not None else None)) == "tended"

    def dish(self, name: str | None) -> DishRecord | None:
        """The dish of that name; without a name the one that cooks, or the only one."""
        dishes = self.record.dishes
        if name is not None:
            if name in dishes:
                return dishes[name]
            words = one_of_each(name.split())
            return next((dish for key, dish in dishes.items()
                         if words & one_of_each((*key.split(), *(dish.cut or "").split()))), None)
        cooking = [dish for dish in dishes.values() if dish.cooking]
        pool = cooking or [dish for dish in dishes.values() if not dish.served]
        return pool[0] if len(pool) == 1 else None

    def when_there(self, due: datetime) -> datetime:
        """Nobody acts at night: what falls due then waits for the morning, unless people still talk shortly before."""
        told = max((dated.told for dated in self.record.facts), default=None)
        if (told is not None and due - told <= STILL_UP) or NIGHT[1] <= due.hour < NIGHT[0]:
            return due
        morning = due.replace(hour=NIGHT[1], minute=30, second=0, microsecond=0)
        return morning if morning >= due else morning + timedelta(days=1)

    def last_reading(self, oven: str) -> Dated | None:
        return max(self.record.ovens[oven].readings.values(), key=lambda dated: dated.at, default=None)

    def person(self) -> str:
        """Whom to turn to when nobody has claimed a thing: the last to read a heat who has not left, else the lead."""
        reader = next((dated.who for dated in reversed(self.record.facts)
                       if dated.fact.is_ == "reading" and dated.who not in self.record.gone), None)
        return reader or self.record.lead or ""

    def minder(self, oven: str | None, dish: str | None = None) -> str:
        """Who looks after an oven and a dish in it: who claimed the oven, else who told most of the two, else whom one
        turns to for anything."""
        told = [dated.who for dated in self.record.facts if dated.who not in self.record.gone
                and ((dish is not None and dated.dish == dish and dated.fact.is_ in _HANDLED)
                     or (oven is not None and dated.oven == oven and dated.fact.is_ in _TENDED))]
        most = max(reversed(told), key=told.count, default=None)        # of two the one who told last
        return (self.holder(oven) if oven else None) or most or self.person()

    def holder(self, oven: str) -> str | None:
        """Who has claimed an oven, or the fire or its wood where only one oven is fired."""
        tasks = self.record.tasks.items()
        named = next((who for what, (who, _) in tasks if oven in what), None)
        if named is not None:
            return named
        fired = [name for name, each in self.record.ovens.items() if each.burning] or list(self.record.ovens)
        return next((who for what, (who, _) in tasks if what in FIRE_TASKS), None) if fired == [oven] else None
