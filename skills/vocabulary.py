"""Everything that a message can mean: every fact and every question, in one file.

Facts change the class record, questions ask for an answer; a message with neither is chatter. Each model
is frozen, refuses unknown fields and is checked when it is made. `said()` gives the flat object that
`yardhand read` prints: the key "is" names the kind, and a field that the message did not give is absent.
Units are in the field names: celsius [degC], kg, l or litres, cm, minutes; clock times are "HH:MM".
"""
from __future__ import annotations

from typing import Annotated, Any, Literal, Self

from pydantic import BaseModel, ConfigDict, Field, TypeAdapter, model_validator

Clock = Annotated[str, Field(pattern=r"^([01]\d|2[0-3]):[0-5]\d$")]
Name = Annotated[str, Field(min_length=1, max_length=80)]
Words = Annotated[str, Field(min_length=1, max_length=10_000)]
Place = Literal["floor", "air", "dome", "back", "wall", "mouth"]
Celsius = Annotated[float, Field(gt=-273.15, lt=1e5)]
Amount = Annotated[float, Field(ge=0, lt=1e6)]


def _neat(value: Any) -> Any:
    """Whole numbers print as whole numbers, so 180.0 is said as 180."""
    if isinstance(value, float) and value.is_integer() and abs(value) < 1e15:
        return int(value)
    if isinstance(value, dict):
        return {key: _neat(item) for key, item in value.items()}
    if isinstance(value, list | tuple):
        return [_neat(item) for item in value]
    return value


# Fields that the contract has not; what is written for others leaves them out.
BESIDE = frozenset({"tomorrow", "pot_cm", "called", "wait", "seat", "follow_up", "day", "also", "holds", "about",
                    "onto", "trays", "over", "share"})


class Entry(BaseModel):
    """One thing that a message means."""
    model_config = ConfigDict(frozen=True, extra="forbid", populate_by_name=True)

    is_: str = Field(alias="is")
    oven: Name | None = None
    dish: Name | None = None
    at: Clock | None = None

    def said(self) -> dict[str, Any]:
        """The flat object of the contract; absent fields are left out."""
        return {key: value for key, value in self.kept().items() if key not in BESIDE}

    def kept(self) -> dict[str, Any]:
        """The same with what was heard beside the contract: what the store keeps."""
        data: dict[str, Any] = _neat(self.model_dump(by_alias=True, exclude_none=True))
        return data


class Fact(Entry):
    """Something that has happened or is true now. `minutes` is a length of time, in what-ifs and hushes."""
    minutes: Amount | None = None


class Class(Fact):
    """ "class: shoulder day, 14 guests, eating at 1.30" """
    is_: Literal["class"] = Field("class", alias="is")
    act: Literal["start", "end"]
    title: Words | None = None
    guests: int | None = Field(None, ge=0, le=100_000)
    serve: Clock | None = None


class Oven(Fact):
    """ "the dome is 90 across, 6 cm floor brick, 10 of insulation, probe 5 down"; called: another name it goes by."""
    is_: Literal["oven"] = Field("oven", alias="is")
    across_cm: Amount | None = None
    floor_cm: Amount | None = None
    dome_cm: Amount | None = None
    insulation_cm: Amount | None = None
    probe_cm: Amount | None = None
    fired: Literal["retained", "tended"] | None = None
    called: Name | None = None

    def sizes(self) -> dict[str, float]:
        """The sizes that it gives, less those that no brick oven has."""
        given = {name: getattr(self, name) for name in OVEN_SIZES_CM}
        return {name: value for name, value in given.items() if value is not None and name not in self.odd_sizes()}

    def odd_sizes(self) -> list[str]:
        """Names of the sizes that it gives and no brick oven has."""
        return [name for name, (low, high) in OVEN_SIZES_CM.items()
                if getattr(self, name) is not None and not low <= getattr(self, name) <= high]


# The smallest and the largest that a brick oven of a yard may have [cm] (common practice, no source).
OVEN_SIZES_CM = {"across_cm": (30.0, 300.0), "floor_cm": (1.5, 40.0), "dome_cm": (1.5, 50.0),
                 "insulation_cm": (0.0, 60.0), "probe_cm": (0.0, 40.0)}


class Reading(Fact):
    """A heat that someone took: "floor 180 air 170", "ir 205 on the back wall", "five count"."""
    is_: Literal["reading"] = Field("reading", alias="is")
    place: Place | None = None
    celsius: Celsius | None = None
    count: Amount | None = None
    tool: Literal["probe", "infrared", "hand"] | None = None

    @model_validator(mode="after")
    def _one_value(self) -> Self:
        if (self.celsius is None) == (self.count is None):
            raise ValueError("a reading holds exactly one of celsius and count")
        return self


class Food(Fact):
    """ "core 91", "liquor's at 96" """
    is_: Literal["food"] = Field("food", alias="is")
    part: Literal["core", "liquid"] | None = None
    celsius: Celsius

    @property
    def odd(self) -> bool:
        """Whether it tells of a heat that food in the hand of a cook has not."""
        return not FOOD_C[0] <= self.celsius <= FOOD_C[1]


# What has water in it gets no hotter in the middle than that boils, and what is frozen goes into no pot [degC].
FOOD_C = (0.0, 101.0)


class Pot(Fact):
    """ "pot in", "turned the lamb", "beans over to the barrel"; with moved, `oven` is where to; onto: where to.

    Out onto a ring from an oven; in onto one, or over any flame, what was in none.
    """
    is_: Literal["pot"] = Field("pot", alias="is")
    act: Literal["in", "out", "moved", "turned", "topped_up", "lid_on", "lid_off"]
    litres: Amount | None = None
    onto: Literal["ring", "hot_hold"] | None = None

    @property
    def odd_litres(self) -> bool:
        """Whether it tells of more than anybody pours into a pot."""
        return self.litres is not None and self.litres > LOAD_AMOUNTS["liquid_l"][1]

    @property
    def poured_l(self) -> float:
        """What was poured in, or the usual if none was said or it cannot be right [l]."""
        return USUAL_TOP_UP_L if not self.litres or self.odd_litres else self.litres


class Load(Fact):
    """ "3 kg shoulder, litre of cold stock, iron pot"; done_c: "want the roast at 54", the core heat that is asked for;
    share: what part of it is left, "half the stew left", 1 where nobody said how much.
    """
    is_: Literal["load"] = Field("load", alias="is")
    meat_kg: Amount | None = None
    liquid_l: Amount | None = None
    cut: Words | None = None
    pan: Words | None = None
    start: Literal["cold", "warm", "hot"] | None = None
    done_c: Celsius | None = None
    share: Annotated[float, Field(gt=0, le=1)] | None = None

    def told(self) -> dict[str, object]:
        """What it says of the dish, less weights and volumes that no yard has."""
        given = {name: getattr(self, name) for name in ("meat_kg", "liquid_l", "cut", "pan", "start", "done_c")}
        return {name: value for name, value in given.items() if value is not None and name not in self.odd()}

    @property
    def left(self) -> bool:
        """Whether it may tell of what is left of a dish off the heat: an amount, and nothing of cut or pan."""
        return bool(self.meat_kg or self.liquid_l) and self.cut is None and not self.odd()

    def odd(self) -> list[str]:
        """Names of the amounts that it gives and that cannot be right."""
        return [name for name, (low, high) in LOAD_AMOUNTS.items()
                if getattr(self, name) is not None and not low <= getattr(self, name) <= high]


# The smallest and the largest that goes into one pot or onto one floor, and the core heats that anybody asks for
# (common practice, no source).
USUAL_TOP_UP_L = 0.3
LOAD_AMOUNTS = {"meat_kg": (0.02, 60.0), "liquid_l": (0.0, 40.0), "done_c": (40.0, 99.0)}


class Door(Fact):
    """ "door's on"; over: "was ajar ten minutes", told when it is back on. """
    is_: Literal["door"] = Field("door", alias="is")
    state: Literal["on", "off", "ajar"]
    over: Literal[True] | None = None


class Fire(Fact):
    """ "lit the barrel", "two splits of ash on", "raked out"; spread = embers over the floor."""
    is_: Literal["fire"] = Field("fire", alias="is")
    act: Literal["lit", "fed", "spread", "raked", "out"]
    wood_kg: Amount | None = None
    pieces: Amount | None = None
    species: Words | None = None


class Wood(Fact):
    """ "wood's reading 18 on the meter"; `basis` only when it was said."""
    is_: Literal["wood"] = Field("wood", alias="is")
    moisture_pct: Amount
    basis: Literal["dry", "wet"] | None = None


class Weather(Fact):
    """ "9 degrees out here and raining" """
    is_: Literal["weather"] = Field("weather", alias="is")
    celsius: Celsius | None = None
    sky: Literal["dry", "rain"] | None = None
    wind: Literal["calm", "windy"] | None = None


class Stage(Fact):
    """ "all browned", "dish set aside till the oven's ready" """
    is_: Literal["stage"] = Field("stage", alias="is")
    stage: Literal["seared", "assembled", "aside", "resting", "served"]


class Check(Fact):
    """ "still tough, barely a blip" """
    is_: Literal["check"] = Field("check", alias="is")
    tender: Literal["tough", "giving", "tender", "falling"] | None = None
    simmer: Literal["none", "gentle", "hard"] | None = None
    liquid: Literal["low", "ok"] | None = None


class Chill(Fact):
    """ "into two trays 4 cm deep on ice"; trays: how many, 2 where that is not said. """
    is_: Literal["chill"] = Field("chill", alias="is")
    act: Literal["start", "fridge", "done"]
    trays: int | None = None
    depth_cm: Amount | None = None
    litres: Amount | None = None
    method: Literal["ice", "fridge", "room"] | None = None


class Contents(Fact):
    """ "flour in the sear", "the stock cube has celery" """
    is_: Literal["contents"] = Field("contents", alias="is")
    item: Words
    allergen: Words | None = None


class StoreHeat(Fact):
    """ "fridge is at 4", "hot hold 66"; holds: the dish that is told to stand in it."""
    is_: Literal["store"] = Field("store", alias="is")
    place: Literal["hot_hold", "fridge"]
    celsius: Celsius
    holds: Name | None = None


class Reheat(Fact):
    """ "soup back on to reheat" """
    is_: Literal["reheat"] = Field("reheat", alias="is")
    act: Literal["start", "done"]


class Serve(Fact):
    """ "eating at 2 now, not 1.30" """
    is_: Literal["serve"] = Field("serve", alias="is")
    by: Clock


class Guests(Fact):
    """ "two coeliacs", "16 now", "told the table about the celery"; seat: "seat 4", "seats 2 and 6", never a name. """
    is_: Literal["guests"] = Field("guests", alias="is")
    count: int | None = Field(None, ge=0, le=100_000)
    allergen: Words | None = None
    told: Literal[True] | None = None
    seat: Words | None = None


class Task(Fact):
    """ "I've got the door check" """
    is_: Literal["task"] = Field("task", alias="is")
    act: Literal["claim", "done"]
    what: Words | None = None
    who: Words | None = None


class Incident(Fact):
    """ "Bea's burnt her hand on the peel" """
    is_: Literal["incident"] = Field("incident", alias="is")
    what: Words
    follow_up: Literal[True] | None = None      # what was done about the one before


class Hush(Fact):
    """ "teaching now, hold the chat" """
    is_: Literal["hush"] = Field("hush", alias="is")
    act: Literal["on", "off"]


class Note(Fact):
    """ "note: the back left corner runs hot" """
    is_: Literal["note"] = Field("note", alias="is")
    text: Words


class Fix(Fact):
    """A correction: "scrap that" (undo), "sorry, floor 210 not 120" (replace; the right values, and `of`)."""
    is_: Literal["fix"] = Field("fix", alias="is")
    act: Literal["undo", "replace"]
    of: str | None = None
    title: Words | None = None
    guests: int | None = None
    serve: Clock | None = None
    across_cm: Amount | None = None
    floor_cm: Amount | None = None
    dome_cm: Amount | None = None
    insulation_cm: Amount | None = None
    probe_cm: Amount | None = None
    fired: Literal["retained", "tended"] | None = None
    place: Place | Literal["hot_hold"] | Literal["fridge"] | None = None
    celsius: Celsius | None = None
    count: Amount | None = None
    tool: Literal["probe", "infrared", "hand"] | None = None
    part: Literal["core", "liquid"] | None = None
    litres: Amount | None = None
    meat_kg: Amount | None = None
    liquid_l: Amount | None = None
    cut: Words | None = None
    pan: Words | None = None
    start: Literal["cold", "warm", "hot"] | None = None
    done_c: Celsius | None = None
    state: Literal["on", "off", "ajar"] | None = None
    wood_kg: Amount | None = None
    pieces: Amount | None = None
    species: Words | None = None
    moisture_pct: Amount | None = None
    basis: Literal["dry", "wet"] | None = None
    sky: Literal["dry", "rain"] | None = None
    wind: Literal["calm", "windy"] | None = None
    stage: Literal["seared", "assembled", "aside", "resting", "served"] | None = None
    tender: Literal["tough", "giving", "tender", "falling"] | None = None
    simmer: Literal["none", "gentle", "hard"] | None = None
    liquid: Literal["low", "ok"] | None = None
    depth_cm: Amount | None = None
    method: Literal["ice", "fridge", "room"] | None = None
    item: Words | None = None
    allergen: Words | None = None
    told: Literal[True] | None = None
    by: Clock | None = None
    what: Words | None = None
    who: Words | None = None
    text: Words | None = None


FACTS: tuple[type[Fact], ...] = (
    Class, Oven, Reading, Food, Pot, Load, Door, Fire, Wood, Weather, Stage, Check, Chill, Contents, StoreHeat,
    Reheat, Serve, Guests, Task, Incident, Hush, Note, Fix,
)

AnyFact = Annotated[
    Class | Oven | Reading | Food | Pot | Load | Door | Fire | Wood | Weather | Stage | Check | Chill | Contents
    | StoreHeat | Reheat | Serve | Guests | Task | Incident | Hush | Note | Fix,
    Field(discriminator="is_"),
]


class Question(Entry):
    """Something that asks for an answer."""


class Eta(Question):
    """ "when will the ribs be done?" """
    is_: Literal["eta"] = Field("eta", alias="is")


class ReadyBy(Question):
    """ "will the lamb make one thirty?"; "in time" gives no `by`."""
    is_: Literal["ready_by"] = Field("ready_by", alias="is")
    by: Clock | None = None


class Status(Question):
    """ "how's the dome?", "where are we?" """
    is_: Literal["status"] = Field("status", alias="is")


class OvenAt(Question):
    """ "what will the dome be at three?", "when do we drop to 120?" """
    is_: Literal["oven_at"] = Field("oven_at", alias="is")
    by: Clock | None = None
    celsius: Celsius | None = None
    place: Place | None = None


class Refuel(Question):
    """ "does the barrel want wood?" """
    is_: Literal["refuel"] = Field("refuel", alias="is")


class Safe(Question):
    """ "are the beans ok to leave overnight?" """
    is_: Literal["safe"] = Field("safe", alias="is")


class WhatIf(Question):
    """ "what if I leave the door off ten minutes?"; wait: so long is nothing done, "what if we wait half an hour?" """
    is_: Literal["what_if"] = Field("what_if", alias="is")
    facts: tuple[AnyFact, ...] = ()
    wait: Amount | None = None


class Plan(Question):
    """ "when do I light up to eat at one?"; tomorrow: the meal is said to be tomorrow's; day: or that of a named day;
    also: dishes named beside the first; odds: those asked for. """
    is_: Literal["plan"] = Field("plan", alias="is")
    by: Clock | None = None
    tomorrow: Literal[True] | None = None
    day: Literal[
        "yesterday", "monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday"] | None = None
    also: tuple[Words, ...] | None = None
    guests: int | None = None
    odds: float | None = Field(None, ge=0.5, le=0.99)


class HowMuch(Question):
    """ "how much stock for 18?"; pot_cm: "in a 30 cm pot", how wide it is."""
    is_: Literal["amount"] = Field("amount", alias="is")
    item: Words | None = None
    guests: int | None = None
    pot_cm: Amount | None = None


class ChillTime(Question):
    """ "how long to chill 5 cm of this on ice?" """
    is_: Literal["chill_time"] = Field("chill_time", alias="is")
    depth_cm: Amount | None = None
    litres: Amount | None = None
    method: Literal["ice", "fridge", "room"] | None = None


class Allergens(Question):
    """ "any nuts in the lamb?", "what's in the stew?" """
    is_: Literal["allergens"] = Field("allergens", alias="is")
    allergen: Words | None = None


class Who(Question):
    """ "who has the barrel?" """
    is_: Literal["who"] = Field("who", alias="is")
    what: Words | None = None


class Measure(Question):
    """ "which reading do you want next?" """
    is_: Literal["measure"] = Field("measure", alias="is")


class Why(Question):
    """ "why is the probe still climbing?" """
    is_: Literal["why"] = Field("why", alias="is")


class ShowLog(Question):
    """ "post the chart" """
    is_: Literal["log"] = Field("log", alias="is")
    form: Literal["summary", "plot", "table"] | None = None


class Help(Question):
    """ "what can I say?"; about: the rules, where those of food safety are asked for."""
    is_: Literal["help"] = Field("help", alias="is")
    about: Literal["rules"] | None = None


QUESTIONS: tuple[type[Question], ...] = (
    Eta, ReadyBy, Status, OvenAt, Refuel, Safe, WhatIf, Plan, HowMuch, ChillTime, Allergens, Who, Measure, Why,
    ShowLog, Help,
)

AnyQuestion = Annotated[
    Eta | ReadyBy | Status | OvenAt | Refuel | Safe | WhatIf | Plan | HowMuch | ChillTime | Allergens | Who
    | Measure | Why | ShowLog | Help,
    Field(discriminator="is_"),
]

fact_adapter: TypeAdapter[AnyFact] = TypeAdapter(AnyFact)
question_adapter: TypeAdapter[AnyQuestion] = TypeAdapter(AnyQuestion)


def fact(data: dict[str, Any]) -> Fact:
    """A fact from its flat object.

    >>> fact({"is": "reading", "place": "floor", "celsius": 180}).said()
    {'is': 'reading', 'place': 'floor', 'celsius': 180}
    """
    return fact_adapter.validate_python(data)


def question(data: dict[str, Any]) -> Question:
    """A question from its flat object."""
    return question_adapter.validate_python(data)


class Heard(BaseModel):
    """What one message was heard to mean."""
    model_config = ConfigDict(frozen=True, extra="forbid")

    facts: tuple[AnyFact, ...] = ()
    questions: tuple[AnyQuestion, ...] = ()

    def said(self) -> dict[str, Any]:
        return {"facts": [fact_.said() for fact_ in self.facts],
                "questions": [question_.said() for question_ in self.questions]}

    def kept(self) -> dict[str, Any]:
        """ `said`, with what was heard beside the contract. """
        return {"facts": [fact_.kept() for fact_ in self.facts],
                "questions": [question_.kept() for question_ in self.questions]}


WhatIf.model_rebuild()
