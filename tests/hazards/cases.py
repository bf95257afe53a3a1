"""Hazards, each with the latest time at which its prompt still helps, and calm classes that must hear nothing.

The rule is named in each case; the times follow from the rule's figures (skills/safety/packs, checked in
tests/published/test_safety_limits.py) and the facts told.
"""
from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any

Line = tuple[Any, ...]
Curve = list[tuple[str, float, float]]


@dataclass(frozen=True)
class Hazard:
    """rule: the prompt's key after "safety:". by: the last time at which somebody can still act on it."""
    name: str
    rule: str
    region: str
    now: str
    by: str
    lines: tuple[Line, ...]
    says: tuple[str, ...] = ()
    kitchen: dict[str, Curve] = field(default_factory=dict)
    not_before: str | None = None


@dataclass(frozen=True)
class Calm:
    name: str
    now: str
    lines: tuple[Line, ...]
    region: str = "uk"
    kitchen: dict[str, Curve] = field(default_factory=dict)


def load(dish: str, kg: float | None = 3.0, litres: float | None = 1.0, cut: str | None = None) -> dict[str, Any]:
    said: dict[str, Any] = {"is": "load", "dish": dish}
    said |= {key: value for key, value in (("meat_kg", kg), ("liquid_l", litres), ("cut", cut)) if value is not None}
    return said


def stage(dish: str | None, which: str) -> dict[str, Any]:
    return {"is": "stage", "stage": which} | ({"dish": dish} if dish else {})


def into(dish: str, oven: str = "dome") -> dict[str, Any]:
    return {"is": "pot", "act": "in", "dish": dish, "oven": oven}


def out(dish: str) -> dict[str, Any]:
    return {"is": "pot", "act": "out", "dish": dish}


def core(dish: str, celsius: float) -> dict[str, Any]:
    return {"is": "food", "dish": dish, "part": "core", "celsius": celsius}


def check(dish: str, **seen: str) -> dict[str, Any]:
    return {"is": "check", "dish": dish} | seen


def chill(act: str = "start", dish: str | None = None, **how: Any) -> dict[str, Any]:
    return {"is": "chill", "act": act} | ({"dish": dish} if dish else {}) | how


def reheat(dish: str, act: str = "start") -> dict[str, Any]:
    return {"is": "reheat", "act": act, "dish": dish}


def store(place: str, celsius: float, dish: str | None = None) -> dict[str, Any]:
    return {"is": "store", "place": place, "celsius": celsius} | ({"dish": dish} if dish else {})


def note(text: str) -> dict[str, Any]:
    return {"is": "note", "text": text}


def serve(by: str) -> dict[str, Any]:
    return {"is": "serve", "by": by}


LAMB = (("08:30", "Idris", load("lamb", cut="shoulder")), ("08:45", "Idris", into("lamb")),
        ("13:05", "Idris", check("lamb", tender="tender")))
LAMB_OUT = (*LAMB, ("13:32", "Idris", out("lamb")))
STEW = (("08:30", "Bea", load("stew", 2.0, 4.0)), ("08:50", "Bea", into("stew", "barrel")),
        ("13:10", "Bea", check("stew", tender="tender")), ("14:10", "Bea", out("stew")))
READ = ("08:30", "Idris", {"is": "reading", "oven": "dome", "place": "air", "celsius": 110})
NIGHT = (("17:00", "Mara", serve("12:30")), ("20:00", "Tomos", load("beans", 1.5, 2.0, "white beans")),
         ("20:05", "Tomos", check("beans", simmer="hard")), ("20:45", "Tomos", into("beans")))
PORK = (("16:55", "Mara", serve("12:30")), ("19:50", "Tomos", load("pork", 2.5, 1.0, "pork shoulder")),
        ("20:45", "Tomos", into("pork")))

HAZARDS = (
    # Part-cooked food set aside (FDA 3-401.14: at once; AU/NZ 2 h / 4 h; 2 h elsewhere, taken over: practice).
    Hazard("lamb seared and forgotten", "aside", "uk", "09:10", "11:00",
           (("09:00", "Idris", load("lamb")), ("09:10", "Idris", stage("lamb", "seared"), stage("lamb", "aside"))),
           ("11:10",)),
    Hazard("shin set aside, plan made late", "aside", "uk", "11:30", "11:40",
           (("09:50", "Tomos", stage("shin", "aside")),), ("11:50",)),
    Hazard("brisket set aside in the US", "aside", "us", "10:00", "12:00",
           (("10:00", "Bea", stage("brisket", "aside")),), ("12:00", "US model code")),
    Hazard("goat set aside in Australia", "aside", "anz", "10:00", "12:00",
           (("10:00", "Bea", stage("goat", "aside")),), ("12:00",)),
    Hazard("shanks set aside in France", "aside", "eu", "10:00", "11:50",
           (("10:00", "Bea", stage("shanks", "aside")),), ("check locally",)),
    Hazard("pork set aside in Scotland, long past", "aside", "scotland", "12:00", "12:00",
           (("09:50", "Bea", stage("pork", "aside")),), ("Scottish rule",)),

    # Kidney beans not boiled hard (US agency, as health pages quote it: 10 min at least, 30 advised).
    Hazard("beans straight into the oven", "boil", "uk", "20:45", "21:15",
           (("20:30", "Tomos", load("beans", 1.5, 2.0, "soaked kidney beans")), ("20:45", "Tomos", into("beans"))),
           ("10 min",)),
    Hazard("kidney beans named by cut only", "boil", "us", "09:00", "09:30",
           (("08:50", "Bea", load("pot beans", 1.0, 2.0, "red kidney")), ("09:00", "Bea", into("pot beans")))),
    Hazard("white beans, gentle simmer only", "boil", "uk", "10:30", "11:00",
           (("09:30", "Bea", load("beans", 1.0, 2.0, "white beans")), ("09:40", "Bea", into("beans")),
            ("10:30", "Bea", check("beans", simmer="gentle")))),
    Hazard("beans with liquor well under the boil", "boil", "anz", "10:30", "11:00",
           (("09:40", "Bea", into("beans")), ("10:30", "Bea", {"is": "food", "dish": "beans", "part": "liquid",
                                                              "celsius": 82}))),
    Hazard("note says they were not boiled", "boil", "eu", "09:45", "10:15",
           (("09:30", "Bea", note("beans not boiled yet")), ("09:40", "Bea", into("beans")))),

    # The liquor passes below the hold figure when nobody is there: said before they go (UK and EU 63, US 57, AU/NZ 60).
    Hazard("beans fall to 58 by morning", "night", "uk", "20:45", "22:00", NIGHT, ("63", "UK rule", "Before you go"),
           {"beans": [("20:45", 90, 2), ("+07:00", 58, 6)]}),
    Hazard("only the cool edge falls below", "night", "uk", "20:45", "22:00", NIGHT, ("may pass",),
           {"beans": [("20:45", 90, 2), ("+07:00", 68, 8)]}),
    Hazard("pork passes 57 in the US", "night", "us", "20:45", "22:00", PORK, ("57", "US model code"),
           {"pork": [("20:45", 60, 5), ("22:30", 85, 4), ("+07:00", 52, 6)]}),
    Hazard("pork passes 60 in New Zealand", "night", "anz", "20:45", "22:00", PORK, ("60",),
           {"pork": [("20:45", 60, 5), ("22:30", 85, 4), ("+07:00", 57, 5)]}),
    Hazard("in since the afternoon, meal tomorrow", "night", "uk", "16:00", "18:00",
           (("10:00", "Mara", serve("13:00")), ("15:30", "Idris", load("pork")), ("15:40", "Mara", serve("13:00")),
            ("16:00", "Idris", into("pork"))), ("63",),
           {"pork": [("16:00", 20, 5), ("18:30", 88, 4), ("+07:00", 55, 8)]}),
    Hazard("late, no meal named", "night", "scotland", "21:30", "22:00",
           (("20:30", "Tomos", load("pork")), ("21:30", "Tomos", into("pork"))), ("Scottish rule",),
           {"pork": [("21:30", 20, 5), ("23:30", 84, 4), ("+07:00", 56, 8)]}),

    # The core not past 54.4 degC within a slow cook's limit (FSIS 2021, from memory: check locally).
    Hazard("cold joint in a slack oven", "slow", "uk", "10:00", "15:00",
           (READ, ("08:45", "Idris", load("pork")), ("09:00", "Idris", into("pork"))), ("15:00", "check locally"),
           {"pork": [("10:00", 8, 2), ("18:00", 50, 6)]}),
    Hazard("only the cool edge is late", "slow", "us", "10:00", "15:00",
           (READ, ("08:45", "Idris", load("pork")), ("09:00", "Idris", into("pork"))), ("54",),
           {"pork": [("10:00", 8, 2), ("14:30", 55, 9), ("18:00", 70, 9)]}),
    Hazard("no model, probe says 22 after three hours", "slow", "uk", "12:00", "15:00",
           (("08:45", "Idris", load("pork")), ("09:00", "Idris", into("pork")), ("12:00", "Idris", core("pork", 22)))),
    Hazard("no model, probe does not move", "slow", "anz", "13:00", "15:00",
           (("08:45", "Idris", load("pork")), ("09:00", "Idris", into("pork")), ("11:00", "Idris", core("pork", 15)),
            ("13:00", "Idris", core("pork", 24)))),

    # Out of the heat and not heated through (FSA list: 70 degC 2 min or an equal; more after a slow rise).
    Hazard("core 55 and out", "core", "uk", "12:10", "12:20",
           (("10:00", "Bea", load("chicken", 2.0, None)), ("10:10", "Bea", into("chicken")),
            ("12:05", "Bea", core("chicken", 55)), ("12:10", "Bea", out("chicken"))), ("55", "70")),
    Hazard("never probed, short cook", "core", "uk", "11:00", "11:10",
           (("10:00", "Bea", load("chicken", 2.0, None)), ("10:10", "Bea", into("chicken")),
            ("11:00", "Bea", out("chicken"))), ("no core reading",)),
    Hazard("67 after a slow rise is not yet enough", "core", "uk", "13:05", "13:15",
           (("09:00", "Bea", load("lamb")), ("09:10", "Bea", into("lamb")), ("11:00", "Bea", core("lamb", 40)),
            ("13:00", "Bea", core("lamb", 61)), ("13:05", "Bea", out("lamb"))), ("61",)),
    Hazard("Australian figure is 75", "core", "anz", "12:10", "12:20",
           (("10:00", "Bea", load("chicken", 2.0, None)), ("10:10", "Bea", into("chicken")),
            ("12:05", "Bea", core("chicken", 58)), ("12:10", "Bea", out("chicken"))), ("75",)),

    # Below the hot-hold figure (England 2005 Sch. 4 para 7: once, under 2 h; AU/NZ 2 h / 4 h; US 2 h, 4 h to use).
    Hazard("stew by the serving hatch, probe 60", "hold", "uk", "14:40", "16:10",
           (*STEW, ("14:40", "Bea", core("stew", 60))), ("UK rule",), not_before="14:40"),
    Hazard("stew, nobody probes it", "hold", "uk", "14:10", "17:30", STEW, ("by my figures",)),
    Hazard("lamb rested and served, the rest stands", "hold", "uk", "13:58", "16:10",
           (*LAMB_OUT, ("13:34", "Idris", stage("lamb", "resting")), ("13:58", "Mara", stage(None, "served"))),
           ("what is left",)),
    Hazard("hot hold sank to 59 an hour ago", "hold", "uk", "15:00", "16:30",
           (*LAMB_OUT, ("13:40", "Bea", store("hot_hold", 70, "lamb")), ("14:00", "Bea", core("lamb", 72)),
            ("15:00", "Bea", core("lamb", 59))), ("by probe",)),
    Hazard("second fall: the one allowance is spent", "hold", "uk", "15:30", "15:35",
           (*LAMB_OUT, ("13:50", "Bea", core("lamb", 60)), ("14:20", "Bea", core("lamb", 58)),
            ("14:30", "Bea", store("hot_hold", 70, "lamb")), ("15:00", "Bea", core("lamb", 66)),
            ("15:30", "Bea", core("lamb", 61))), ("spent",)),
    Hazard("Australia: two hours to chill, four to use", "hold", "anz", "14:40", "16:20",
           (*STEW, ("14:40", "Bea", core("stew", 57))), ("chill by", "use by")),
    Hazard("US: under 57", "hold", "us", "15:00", "16:30", (*STEW, ("15:00", "Bea", core("stew", 55))), ("57",)),
    Hazard("France: 63, figure to be checked", "hold", "eu", "14:40", "16:10",
           (*STEW, ("14:40", "Bea", core("stew", 60))), ("check locally",)),
    Hazard("known too late is said at once", "hold", "uk", "16:20", "16:20",
           (*STEW, ("14:40", "Bea", core("stew", 60)), ("16:20", "Bea", core("stew", 44)))),
    Hazard("past its time", "past", "uk", "17:30", "17:30",
           (*STEW, ("14:40", "Bea", core("stew", 60)), ("17:30", "Bea", core("stew", 35))), ("discard",)),
    Hazard("oven sinks below 63 before the meal", "hold", "uk", "12:00", "14:45",
           (("06:00", "Mara", serve("16:00")), ("06:00", "Idris", load("lamb")), ("06:10", "Idris", into("lamb")),
            ("11:55", "Idris", check("lamb", tender="tender"))), ("63",),
           {"lamb": [("12:00", 80, 2), ("13:30", 58, 2), ("20:00", 45, 3)]}),

    # Chilling (UK 63 to 8 in 90 min, taught figure; US 57 to 21 in 2 h, to 5 in 6; AU/NZ 60 to 21 in 2, 5 in 4 more).
    Hazard("six litres in one pot in the fridge", "chill", "uk", "14:25", "14:45",
           (*STEW, ("14:25", "Tomos", chill(litres=6, method="fridge"))), ("tray", "ice", "UK rule")),
    Hazard("the same in the US", "chill", "us", "14:25", "14:45",
           (*STEW, ("14:25", "Tomos", chill(litres=6, method="fridge"))), ("21",)),
    Hazard("ten centimetres deep in the fridge", "chill", "anz", "14:25", "14:45",
           (*STEW, ("14:25", "Tomos", chill(depth_cm=10, method="fridge"))), ("10 cm",)),
    Hazard("left in the room to cool", "chill", "uk", "14:25", "14:45",
           (*STEW, ("14:25", "Tomos", chill(method="room"))), ("in the room",)),
    Hazard("shallow trays, but the probe says 48", "chill", "uk", "14:58", "15:20",
           (*STEW, ("14:22", "Tomos", chill(depth_cm=4, method="ice")), ("14:58", "Tomos", core("stew", 48))), ("48",)),
    Hazard("US first stage will be missed by the probe", "chill", "us", "15:45", "16:15",
           (*STEW, ("14:22", "Tomos", chill(depth_cm=5, method="fridge")), ("15:45", "Tomos", core("stew", 47))),
           ("47", "21")),
    Hazard("five centimetres in a still fridge, France", "chill", "eu", "14:25", "14:45",
           (*STEW, ("14:25", "Tomos", chill(depth_cm=5, method="fridge"))), ("10",)),
    Hazard("leftovers that nobody named", "chill", "uk", "14:25", "14:45",
           (("14:25", "Tomos", chill(litres=8, method="fridge")),), ("tray",)),

    # Reheating (UK 70 for 2 min, advice; Scotland 82, law; US 74 for 15 s within 2 h; AU/NZ 60).
    Hazard("soup called done at 62", "reheat", "uk", "12:40", "12:45",
           (("12:00", "Tomos", reheat("soup")), ("12:38", "Tomos", core("soup", 62)),
            ("12:40", "Tomos", reheat("soup", "done"))), ("62", "70")),
    Hazard("Scotland wants 82", "reheat", "scotland", "12:40", "12:45",
           (("12:00", "Tomos", reheat("soup")), ("12:38", "Tomos", core("soup", 76)),
            ("12:40", "Tomos", reheat("soup", "done"))), ("82", "Scottish rule")),
    Hazard("called done and never probed", "reheat", "uk", "12:40", "12:45",
           (("12:00", "Tomos", reheat("soup")), ("12:40", "Tomos", reheat("soup", "done"))), ("no core reading",)),
    Hazard("two hours run out in the US", "reheat", "us", "12:00", "13:45", (("12:00", "Tomos", reheat("soup")),),
           ("14:00", "74")),
    Hazard("meal in ten minutes and the core is 55", "reheat", "uk", "12:50", "13:00",
           (("09:00", "Mara", serve("13:00")), ("12:20", "Tomos", reheat("soup")),
            ("12:50", "Tomos", core("soup", 55))),
           ("55",)),
    Hazard("an hour runs out by the Codex", "reheat", "eu", "12:00", "12:45", (("12:00", "Tomos", reheat("soup")),),
           ("75", "check locally")),

    # Hot cupboard too cool, fridge too warm.
    Hazard("hot hold at 58", "store", "uk", "12:00", "12:05", (("12:00", "Bea", store("hot_hold", 58)),), ("63",)),
    Hazard("fridge at 11", "store", "uk", "12:00", "12:05", (("12:00", "Bea", store("fridge", 11)),), ("8",)),
    Hazard("fridge at 7 in the US", "store", "us", "12:00", "12:05", (("12:00", "Bea", store("fridge", 7)),), ("5",)),
    Hazard("hot hold at 58 in Australia", "store", "anz", "12:00", "12:05", (("12:00", "Bea", store("hot_hold", 58)),),
           ("60",)),
)

CALM = (
    Calm("nothing but talk", "10:00", (("09:00", "Mara", {"is": "class", "act": "start", "title": "shoulder day"}),)),
    Calm("braise in the oven, forecast hot", "10:00", LAMB[:2],
         kitchen={"lamb": [("10:00", 40, 6), ("12:00", 88, 4), ("20:00", 80, 4)]}),
    Calm("braise in the oven, no model", "10:00", LAMB[:2]),
    Calm("seared, aside, and in after twenty minutes", "09:20",
         (("08:55", "Idris", load("lamb")), ("09:00", "Idris", stage("lamb", "aside")),
          ("09:20", "Idris", into("lamb")))),
    Calm("tender and still in", "13:06", LAMB, kitchen={"lamb": [("13:05", 92, 2), ("22:00", 80, 4)]}),
    Calm("rested, served, class over", "14:45",
         (*LAMB_OUT, ("13:58", "Mara", stage(None, "served")), ("14:45", "Mara", {"is": "class", "act": "end"}))),
    Calm("into shallow trays on ice, deep enough probe", "15:10",
         (*LAMB_OUT, ("14:00", "Tomos", chill(depth_cm=2.5, method="ice")), ("14:30", "Tomos", core("lamb", 16)),
          ("15:10", "Tomos", core("lamb", 5)))),
    Calm("trays 4 cm deep on ice, as advised", "14:20",
         (*LAMB_OUT, ("14:20", "Tomos", chill(depth_cm=4, method="ice")))),
    Calm("US: trays 4 cm deep on ice", "14:20", (*LAMB_OUT, ("14:20", "Tomos", chill(depth_cm=4, method="ice"))), "us"),
    Calm("AU/NZ: trays 2.5 cm deep in ice", "14:20", (*LAMB_OUT, ("14:20", "Tomos", chill(depth_cm=2.5, method="ice"))),
         "anz"),
    Calm("chilled and away", "15:40",
         (*LAMB_OUT, ("14:20", "Tomos", chill(depth_cm=4, method="ice")), ("15:30", "Tomos", core("lamb", 6)),
          ("15:40", "Tomos", chill("done")))),
    Calm("fridge at 4", "12:00", (("12:00", "Bea", store("fridge", 4)),)),
    Calm("fridge at 7 is within the UK figure", "12:00", (("12:00", "Bea", store("fridge", 7)),)),
    Calm("hot hold at 66", "12:00", (("12:00", "Bea", store("hot_hold", 66)),)),
    Calm("hot hold at 58 is within the US figure", "12:00", (("12:00", "Bea", store("hot_hold", 58)),), "us"),
    Calm("lamb in hot hold at 70, probed", "15:00",
         (*LAMB_OUT, ("13:40", "Bea", store("hot_hold", 70, "lamb")), ("15:00", "Bea", core("lamb", 68)))),
    Calm("beans boiled hard, then in", "20:45", (("20:00", "Tomos", load("beans", 1.5, 2.0)),
                                                 ("20:05", "Tomos", check("beans", simmer="hard")),
                                                 ("20:45", "Tomos", into("beans"))),
         kitchen={"beans": [("20:45", 90, 2), ("+08:00", 74, 5)]}),
    Calm("beans boiled hard by a note", "10:00", (("09:20", "Tomos", note("beans boiled hard 15 minutes on the ring")),
                                                  ("09:30", "Tomos", into("beans")))),
    Calm("tinned beans", "10:00", (("09:20", "Tomos", load("tinned beans", 1.0, 1.0)),
                                   ("09:30", "Tomos", into("tinned beans")))),
    Calm("green beans", "10:00", (("09:30", "Tomos", into("green beans")),)),
    Calm("overnight in a heavy oven that holds", "20:45", NIGHT,
         kitchen={"beans": [("20:45", 90, 2), ("+07:00", 74, 6)]}),
    Calm("US: overnight above 57", "20:45", PORK, "us",
         kitchen={"pork": [("20:45", 20, 4), ("22:30", 88, 4), ("+07:00", 66, 5)]}),
    Calm("evening meal, oven falls after it", "17:00",
         (("10:00", "Mara", serve("19:00")), ("13:00", "Idris", load("lamb")), ("13:10", "Idris", into("lamb"))),
         kitchen={"lamb": [("17:00", 92, 2), ("20:00", 80, 4), ("+07:00", 40, 6)]}),
    Calm("bread and pizza stand as long as they like", "14:00",
         (("10:00", "Bea", into("bread")), ("10:40", "Bea", out("bread")), ("11:00", "Bea", into("pizza")),
          ("11:03", "Bea", out("pizza")))),
    Calm("soup reheated and probed", "12:40",
         (("12:00", "Tomos", reheat("soup")), ("12:38", "Tomos", core("soup", 84)),
          ("12:40", "Tomos", reheat("soup", "done")))),
    Calm("Scotland: soup at 83", "12:40",
         (("12:00", "Tomos", reheat("soup")), ("12:38", "Tomos", core("soup", 83)),
          ("12:40", "Tomos", reheat("soup", "done"))), "scotland"),
    Calm("chicken probed at 78", "12:10",
         (("10:00", "Bea", load("chicken", 2.0, None)), ("10:10", "Bea", into("chicken")),
          ("12:05", "Bea", core("chicken", 78)), ("12:10", "Bea", out("chicken")),
          ("12:30", "Mara", stage("chicken", "served")), ("12:45", "Mara", {"is": "class", "act": "end"}))),
    Calm("custard with a core reading in the oven", "14:00",
         (("13:00", "Bea", into("custard")), ("14:00", "Bea", core("custard", 76)))),
)
