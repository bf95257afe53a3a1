"""Every kind of hazard in every region: the prompt comes before the limit that the region's own figures set, and the
same day well handled hears nothing.

The figures are those of skills/safety/packs, which tests/published/test_safety_limits.py holds against the texts that
were read; each case names the figure that its limit comes from, and so its source.
"""
from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest

from skills.safety.packs import REGIONS, Pack, pack
from tests.hazards.transcripts import AHEAD, play, safety_prompts

ZONES = {"uk": "Europe/London", "scotland": "Europe/London", "us": "America/Chicago", "anz": "Australia/Sydney",
         "eu": "Europe/Paris"}
DAY = date(2026, 5, 16)


@dataclass(frozen=True)
class Day:
    """rule: the key of the figure behind the limit ("chill": the cooling stages). limit: the last time to act, None for
    a day in which nothing is to be said. ahead: it could be foreseen. until: how long the clock runs on."""
    rule: str
    lines: tuple[str, ...]
    limit: str | None
    until: str
    ahead: bool = True


def later(clock: str, minutes: float) -> str:
    return (datetime.combine(DAY, time.fromisoformat(clock)) + timedelta(minutes=minutes)).strftime("%H:%M")


def aside(rules: Pack) -> Day:
    lines = ("09:00 Mara: class: lamb, 12 guests, eating at 4", "09:05 Idris: 3 kg lamb shoulder",
             "09:20 Idris: lamb seared and set aside")
    limit = later("09:20", rules.value("aside_min"))
    return Day("aside_min", lines, limit, later(limit, 20))


def aside_well(rules: Pack) -> Day:
    lines = (*aside(rules).lines, "09:25 Idris: dome floor 190 air 175", "09:50 Idris: hot stock in, lamb in the dome",
             "13:30 Idris: lamb tender", "15:20 Idris: lamb core 92")
    return Day("aside_min", lines, None, "15:30")


OVERNIGHT = ("15:00 Mara: class: overnight pork, 15 guests, eating at noon tomorrow",
             "15:05 Idris: barrel: 66 across, 4 cm floor, 5 cm dome, 2 of insulation",
             "15:10 Idris: lit the barrel, 2 kg",
             "15:30 Idris: 2 kg on", "16:10 Idris: 1 kg on", "17:00 Idris: fire's out, door on",
             "17:10 Tomos: 3 kg pork shoulder, litre of hot stock, iron pot, lid on", "17:15 Tomos: pork in the barrel")


def night(_: Pack) -> Day:
    lines = (*OVERNIGHT, "18:20 Idris: air 130", "20:00 Idris: air 108", "21:00 Mara: locking up, see you at eight")
    return Day("hot_hold_c", lines, "21:00", "21:10")


def night_well(_: Pack) -> Day:
    """The pork is done, out and cold before anybody goes."""
    lines = (*OVERNIGHT[:1], "08:00 Tomos: 3 kg pork shoulder, litre of hot stock, iron pot, lid on",
             "08:10 Idris: dome floor 200 air 180", "08:15 Tomos: pork in the dome",
             "15:10 Tomos: pork tender, core 94",
             "15:20 Tomos: pork out, straight into trays 2 cm deep on ice, stirring", "15:50 Tomos: pork 12",
             "16:15 Tomos: pork 3, in the fridge, chill done")
    order = sorted(lines, key=lambda line: line[:5])
    return Day("hot_hold_c", ("07:50 Mara: class: overnight pork, 15 guests, eating at noon tomorrow",
                              *[line for line in order if "class:" not in line], "21:00 Mara: locking up"), None,
               "21:10")


STEW = ("08:30 Mara: class: stew, 14 guests, eating at 1",
        "08:35 Bea: stew: 2 kg beef shin, 4 l hot stock, iron pot, lid on",
        "08:40 Idris: barrel air 185", "08:50 Bea: stew in the barrel", "12:10 Bea: stew tender, core 94",
        "12:40 Bea: stew out")


def hold(rules: Pack) -> Day:
    low = rules.hot_hold_c - 2
    lines = (*STEW, "13:00 Mara: served", f"13:40 Bea: stew core {low:.0f}, seconds still to come")
    limit = later("13:40", rules.value("chill_by_min"))
    return Day("chill_by_min", lines, limit, later(limit, 10))


def hold_well(rules: Pack) -> Day:
    lines = (*STEW, f"12:45 Bea: stew in the hot hold, {rules.hot_hold_c + 9:.0f}", "13:00 Mara: stew served",
             f"13:30 Bea: stew core {rules.hot_hold_c + 5:.0f}, seconds going out",
             "13:50 Bea: stew all gone, scraped clean")
    return Day("hot_hold_c", lines, None, "16:30")


def first_stage(rules: Pack) -> Day:
    mark = rules.chill[0]
    lines = (*STEW, "13:00 Mara: served",
             f"13:20 Bea: rest of the stew {mark.from_c + 1:.0f}, in trays 5 cm deep in the fridge",
             f"13:55 Bea: stew core {0.8 * mark.from_c + 0.2 * mark.to_c:.0f}")
    limit = later("13:20", mark.within_min)
    return Day("chill", lines, limit, later(limit, 10))


def first_stage_well(rules: Pack) -> Day:
    lines = (*STEW, "13:00 Mara: served",
             f"13:20 Bea: rest of the stew {rules.chill[0].from_c + 4:.0f}, in trays 2 cm deep on ice, "
             "stirring", "13:40 Bea: stew core 26", "14:00 Bea: stew core 9",
             "14:25 Bea: stew core 3, in the fridge, chill done")
    return Day("chill", lines, None, "16:30")


def reheat(rules: Pack) -> Day:
    figure = rules.value("reheat_c")
    lines = ("10:00 Mara: class: soup, 20 guests, eating at 1", "12:00 Tomos: soup out of the fridge, on to reheat",
             f"12:25 Tomos: soup core {figure - 22:.0f}", f"12:40 Tomos: soup core {figure - 16:.0f}")
    return Day("reheat_c", lines, "13:00", "13:05")


def reheat_well(rules: Pack) -> Day:
    figure = rules.value("reheat_c")
    lines = ("10:00 Mara: class: soup, 20 guests, eating at 1", "12:00 Tomos: soup out of the fridge, on to reheat",
             f"12:25 Tomos: soup core {figure - 12:.0f}", f"12:38 Tomos: soup core {figure + 4:.0f}",
             "12:50 Tomos: soup reheated", "13:00 Mara: soup served", "13:25 Tomos: soup's all eaten")
    return Day("reheat_c", lines, None, "15:30")


def called_hot(rules: Pack) -> Day:
    lines = ("10:00 Mara: class: soup, 20 guests, eating at 1", "11:50 Tomos: soup out of the fridge, on to reheat",
             f"12:25 Tomos: soup core {rules.value('reheat_c') - 3:.0f}", "12:27 Tomos: soup reheated, off the heat")
    return Day("reheat_c", lines, "13:00", "13:05")


def beans(_: Pack) -> Day:
    lines = ("08:30 Mara: class: beans, 14 guests, eating at 1", "08:40 Idris: barrel air 160",
             "08:45 Tomos: 1.5 kg soaked kidney beans, 3 l water, lid on", "08:50 Tomos: beans in the barrel")
    return Day("", lines, "13:00", "13:05")


def beans_well(rules: Pack) -> Day:
    lines = (*beans(rules).lines[:3], "08:46 Tomos: beans boiled hard for 20 minutes on the ring",
             "08:50 Tomos: beans in the barrel", "12:30 Tomos: beans soft, core 95")
    return Day("", lines, None, "12:50")


def core(rules: Pack) -> Day:
    figure = rules.get("poultry_c") or rules.value("cook_c")
    lines = ("10:00 Mara: class: chicken, 10 guests, eating at 1", "10:10 Bea: two chickens, 1.6 kg each",
             "10:20 Idris: dome air 200",
             "10:25 Bea: chicken in the dome", f"12:15 Bea: chicken core {figure - 9:.0f}",
             "12:17 Bea: chicken out to rest")
    return Day("cook_c", lines, "13:00", "13:05")


def core_well(rules: Pack) -> Day:
    lines = (*core(rules).lines[:4], "11:50 Bea: chicken core 79", "12:10 Bea: chicken core 84, out to rest",
             "12:40 Mara: chicken served", "13:20 Mara: chicken all eaten, class over")
    return Day("cook_c", lines, None, "14:00")


def slow(rules: Pack) -> Day:
    lines = ("07:40 Mara: class: mutton, 12 guests, eating at 7",
             "07:50 Tomos: 5 kg rolled mutton shoulder, cold, covered tin",
             "08:00 Tomos: mutton in the barrel", "08:02 Idris: barrel air 88", "10:00 Tomos: mutton core 15",
             "12:00 Tomos: mutton core 27")
    return Day("slow_rise_min", lines, later("08:00", rules.value("slow_rise_min")), "14:10")


def slow_well(rules: Pack) -> Day:
    lines = (*slow(rules).lines[:3], "08:02 Idris: barrel air 170", "10:00 Tomos: mutton core 38",
             "11:00 Tomos: mutton core 62",
             "12:00 Tomos: mutton core 80")
    return Day("slow_rise_min", lines, None, "14:10")


def fridge(rules: Pack) -> Day:
    key = "cold_display_min" if "cold_display_min" in rules.figures else "chill_by_min"
    lines = ("09:00 Mara: class: lamb, 12 guests, eating at 4", f"09:30 Bea: fridge {rules.cold_hold_c + 3:.0f}")
    return Day("cold_hold_c", lines, later("09:30", rules.value(key)), later("09:30", 30))


def fridge_well(rules: Pack) -> Day:
    lines = ("09:00 Mara: class: lamb, 12 guests, eating at 4", f"09:30 Bea: fridge {rules.cold_hold_c - 1:.0f}",
             f"12:30 Bea: fridge {rules.cold_hold_c:.0f}")
    return Day("cold_hold_c", lines, None, "15:00")


def left_out(rules: Pack) -> Day:
    """Nobody measures it: off the heat at 12:40, and the shorter of the two clocks that a pot left out has."""
    lines = (*STEW, "13:00 Mara: served", "13:20 Bea: 3 l of stew left in the pot", "13:30 Mara: walk round the garden")
    allowed = min(rules.get("fridge_by_min") or 999.0, rules.chill[0].within_min, rules.value("chill_by_min"))
    limit = later("12:40", allowed + (0 if "fridge_by_min" in rules.figures else 60))
    return Day("chill_by_min", lines, limit, later(limit, 10))


def left_out_well(_: Pack) -> Day:
    lines = (*STEW, "13:00 Mara: served", "13:25 Bea: stew all gone")
    return Day("chill_by_min", lines, None, "17:00")


def out_on_a_hot_day(rules: Pack) -> Day:
    lines = ("08:50 Mara: 35 degrees out here today", *aside(rules).lines)
    limit = later("09:20", rules.on_a_hot_day().value("aside_min"))
    return Day("hot_day_min", lines, limit, later(limit, 20))


def allergen(_: Pack) -> Day:
    lines = ("08:00 Mara: class: shin, 12 guests, eating at 1", "08:05 Mara: one milk allergy, seat 4",
             "08:20 Idris: dome air 180",
             "08:30 Bea: shin: 3 kg beef shin, litre of hot stock", "09:00 Bea: shin assembled",
             "09:10 Bea: shin in the dome",
             "12:20 Bea: shin tender, core 94", "12:25 Bea: butter in the shin")
    return Day("", lines, "13:00", "13:05")


def allergen_well(rules: Pack) -> Day:
    lines = (*allergen(rules).lines[:6], "12:20 Bea: shin tender, core 94", "12:25 Bea: parsley in the shin")
    return Day("", lines, None, "12:50")


HAZARDS = (aside, night, hold, first_stage, reheat, called_hot, beans, core, slow, fridge, left_out,
           out_on_a_hot_day, allergen)
CALM = (aside_well, night_well, hold_well, first_stage_well, reheat_well, beans_well, core_well, slow_well, fridge_well,
        left_out_well, allergen_well)


def prompts(day: Day, region: str, folder: Path, kind: str = "safety") -> list[tuple[datetime, str]]:
    path = folder / "day.txt"
    head = [f"# date: {DAY}", f"# zone: {ZONES[region]}", f"# region: {region}"]
    path.write_text("\n".join([*head, *day.lines, f"# until: {day.until}"]) + "\n", encoding="utf-8")
    return [(datetime.fromisoformat(line["at"]), line["text"]) for line in safety_prompts(play(path, folder), kind)]


@pytest.mark.parametrize("region", REGIONS)
@pytest.mark.parametrize("hazard", HAZARDS, ids=lambda each: each.__name__)
def test_a_hazard_is_said_before_the_limit_of_its_region(hazard, region: str, tmp_path: Path) -> None:
    day = hazard(pack(region))
    said = prompts(day, region, tmp_path)
    assert day.limit is not None
    limit = datetime.combine(DAY, time.fromisoformat(day.limit), ZoneInfo(ZONES[region]))
    notice = AHEAD if day.ahead else timedelta(0)
    assert said, day
    assert said[0][0] <= limit - notice, (day, said)


@pytest.mark.parametrize("region", REGIONS)
@pytest.mark.parametrize("calm", CALM, ids=lambda each: each.__name__)
def test_the_same_day_well_handled_hears_nothing(calm, region: str, tmp_path: Path) -> None:
    day = calm(pack(region))
    assert prompts(day, region, tmp_path) == []


FIRES = {
    # Fire services' advice on ash, and on carbon monoxide from embers and starved fires (food safety reference).
    "embers": ("safety", "10:30 Idris: brought the glowing embers into the marquee for the warmth", "carbon monoxide"),
    "ash": ("safety", "10:30 Idris: hot ashes tipped in a cardboard box on the deck", "metal bin"),
    "door": ("safety", "10:30 Idris: door on the dome", "carbon monoxide"),
    "rake": ("fire", "10:30 Idris: dome raked out", "metal bin"),
}


@pytest.mark.parametrize("region", REGIONS)
@pytest.mark.parametrize("act", FIRES)
def test_a_fire_handled_wrongly_is_said_at_once_in_every_region(act: str, region: str, tmp_path: Path) -> None:
    kind, line, word = FIRES[act]
    lines = ("10:00 Mara: class: bread, 8 guests, eating at 2", "10:10 Idris: lit the dome, four splits of oak", line)
    said = prompts(Day("", lines, None, "10:40"), region, tmp_path, kind)
    at = datetime.combine(DAY, time(10, 30), ZoneInfo(ZONES[region]))
    assert any(when == at and word in text for when, text in said), said
    (tmp_path / "calm").mkdir()
    calm = Day("", (*lines[:2], "10:30 Idris: two splits on the dome"), None, "10:40")
    assert prompts(calm, region, tmp_path / "calm", "safety") == []
