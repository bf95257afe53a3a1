"""Heats: every number that is a temperature finds the noun that it belongs to.

One scan serves the oven's spots, the food, fridge and hot cupboard, the yard's weather and the wood's moisture,
because the same shapes serve all of them: "floor 180", "180 on the floor", "ir says 180 on the floor",
"shot the crown, 274", "probe in the belly says 71".
"""

from __future__ import annotations

from typing import Any

from bot.reading.heat_limits import check_limits, typed_to_the_minute, value_of
from bot.reading.heat_nouns import GLUE, Noun, choose_noun, claimed, noun_before, noun_behind, told_to_hold
from bot.reading.heats_alone import (
    by_other_tool,
    cold_by_now,
    of_cold_food,
    of_the_chilled,
    of_the_hold_or_trays,
    of_the_oven,
    of_the_probed,
    of_the_taken_back,
    same_spot,
)
from bot.reading.heats_aside import aside, comment, denied, has_time_near
from bot.reading.heats_listed import listed_heats
from bot.reading.items import Item
from bot.reading.joining import word_at
from bot.reading.lexicon import bag, longest, phrase_set
from bot.reading.scene import Draft, Scene, compiled
from bot.reading.units import fahrenheit
from skills.vocabulary import FOOD_C

_UNIT_WORDS = bag(
    "people guests guest coeliacs coeliac splits split logs log pieces piece sticks trays tray pots pot "
    "cups jars plates chairs tables loaves minutes portions more others other count ct "
    "counts covers adults kids children x times of lids rolls pizzas bags small "
    "big large little vegans vegan veggies veggie th st nd rd staff students "
    "helpers spots shots tubs containers tins batches"
    " barrows barrow bottles pans oven ovens dishes potatoes onions eggs bits bit "
    "lumps chunks billets sheets tickets table chair bowls knives with who want "
    "wants need have are left out on-duty allergic boxes"
)


# A bare number above this is no fridge's heat [degC]; common practice, no source.
WARMEST_FRIDGE_C = 25.0
_COLD = bag("chilled cooled chilling cooling fridge cold")


def heats(scene: Scene) -> None:
    """Readings, food, store, weather and moisture in the parts of the message that are told."""
    listed_heats(scene)
    of_cold_food(scene)
    for first, last in scene.sentences:
        _scan(scene, first, last)


def _values(scene: Scene, first: int, last: int) -> list[int]:
    found = []
    for at in range(first, last):
        item = scene.items[at]
        if scene.moods[at] != "fact" or scene.used[at]:
            continue
        if item.kind == "H" or (item.kind == "N" and not _counts(scene.items, at, last)) or item.kind == "M":
            found.append(at)
    return found


def _counts(items: list[Item], at: int, last: int) -> bool:
    """Whether a bare number counts things, or is no heat at all."""
    number = items[at].value
    if number.colon or number.value != number.value or _is_side(items, at, last):
        return True
    after = items[at + 1] if at + 1 < last else None
    outside = (
        after is not None and after.word == "out" and at + 2 < last and items[at + 2].word in ("here", "there", "in")
    )
    if after is not None and after.kind == "" and after.word in _UNIT_WORDS and not outside:
        return not (after.word in bag("with of more left out oven inside are have") and number.value >= 25)
    return bool(number.value == 1 and number.words)


def _is_side(items: list[Item], at: int, last: int) -> bool:
    """ "30 x 20 x 5 cm": lengths side by side."""
    joined = [n for n in (at, at - 1) if n >= 0 and "x" in items[n].words and n + 1 < last]
    return any(items[n].kind in ("N", "C") and items[n + 1].kind in ("N", "C") for n in joined)


def _scan(scene: Scene, first: int, last: int) -> None:
    values = _values(scene, first, last)
    turned_round = _turned_round(scene, first, last, values)
    previous_end = first
    taken: set[int] = set()
    last_draft: Draft | None = None
    spare: Noun | None = None
    for order, at in enumerate(values):
        stop = values[order + 1] if order + 1 < len(values) else last
        left = noun_before(scene, previous_end, at, taken)
        right = noun_behind(scene, at, stop, taken)
        if (
            left is None
            and right is not None
            and right.kind in ("tool", "probe")
            and last_draft is not None
            and _two_of_a_kind(scene, at, last_draft)
        ):
            last_draft.fields["tool"] = "infrared" if right.kind == "tool" else "probe"
            right = None
        if left is not None and right is not None and left.kind == "place" and right.kind == "place":
            right = None
        if (
            left is None
            and right is not None
            and not turned_round
            and not right.fields.get("_linked")
            and claimed(scene, right)
        ):
            right = None  # "fl 190 air 172": the place has its own number
        behind = turned_round and right is not None and right.kind == "place" and not right.fields.get("_linked")
        noun = right if behind and (left is None or left.kind != "tool") else choose_noun(scene, left, right)
        draft = None
        if noun is not None and noun.kind == "probe" and _stuck_in(scene, noun):
            noun = None
        if noun is not None and noun.kind == "probe" and _of_what_came_off(scene, noun, at):
            noun = Noun("core", {}, noun.first, noun.last)
        if denied(scene, at, previous_end) or aside(scene, previous_end, at):
            noun = None
            if aside(scene, previous_end, at):
                scene.used[at] = "comment"
        elif comment(scene, at, previous_end, noun, last_draft):
            scene.used[at] = "comment"
            spare, noun = noun, None
        elif by_other_tool(scene, at, previous_end, noun, last_draft):
            draft = same_spot(scene, at, last_draft)
            noun = None
        elif noun is None and spare is not None and last_draft is None and word_at(scene.items, at + 1) == "now":
            noun = Noun(spare.kind, spare.fields, at, at + 1)  # "air was 160 before, 175 now"
        elif noun is None:
            draft = (
                _parallel(scene, at, previous_end, last_draft)
                or of_the_chilled(scene, at)
                or of_the_probed(scene, at)
                or of_the_oven(scene, at)
                or of_the_hold_or_trays(scene, at)
                or of_the_taken_back(scene, at)
                or _measured_moisture(scene, at)
            )
        if noun is not None:
            draft = _draft(scene, noun, at, last_draft)
            if draft is None and noun.kind in ("dish", "probe", "core") and scene.trouble is None:
                draft = of_the_chilled(scene, at) or of_the_probed(scene, at)
            if draft is not None and _core_of_list(scene, draft, last_draft):
                draft.fields["part"] = "core"
            if draft is not None:
                taken.update(range(noun.first, noun.last))
        if draft is not None:
            last_draft = draft
            previous_end = max(at + 1, draft.last)
        elif scene.used[at]:
            previous_end = at + 1
        else:
            previous_end = at + 1 if last_draft is None else previous_end


def _core_of_list(scene: Scene, draft: Draft, before: Draft | None) -> bool:
    """ "core: ribs 84, belly 79": the word at the head of the list holds for all of it."""
    if before is None or before.fields.get("part") != "core" or draft.kind != "food" or "part" in draft.fields:
        return False
    head = scene.items[before.first]
    gap = scene.items[before.last : draft.first]
    core = head.word in ("core", "cores", "inside", "middle")
    return core and all(each.word in (",", "and", "/", "the", "&") for each in gap)


def _turned_round(scene: Scene, first: int, last: int, values: list[int]) -> bool:
    """ "182 floor 170 air": every number stands before its place, not behind it."""
    if len(values) < 2:
        return False
    places = [n for n in range(first, last) if scene.items[n].kind == "P"]
    return len(places) >= len(values) and places[0] > values[0] and places[-1] > values[-1]


def _stuck_in(scene: Scene, noun: Noun) -> bool:
    """ "stuck a probe in, 84": into the meat."""
    before = {item.word for item in scene.items[max(0, noun.first - 2) : noun.first]}
    after = scene.items[noun.last].word if noun.last < len(scene.items) else ""
    return after == "in" and bool(before & bag("stuck put poked pushed shoved stabbed popped jabbed"))


def _of_what_came_off(scene: Scene, noun: Noun, at: int) -> bool:
    """ "sausages off, probe says 58": no oven or spot is spoken of, and no floor is so cool as food."""
    first, last = scene.sentence(at)
    out = any(draft.kind == "pot" and draft.fields.get("act") == "out" and first <= draft.first < noun.first
              and "dish" in draft.fields for draft in scene.drafts)
    spots = any(each.kind in ("O", "P") for each in scene.items[first:last])
    return out and not spots and value_of(scene, at) <= FOOD_C[1]


def _parallel(scene: Scene, at: int, start: int, before: Draft | None) -> Draft | None:
    """A number with no noun of its own goes on with the noun before: "air 141, was 160 at one", "nine: 148"."""
    item = scene.items[at]
    if before is None:
        before = _last_heat(scene, at)
    if before is None or before.kind not in ("reading", "food") or "celsius" not in before.fields:
        return None
    gap = scene.items[before.last : at] if before.last <= at else scene.items[start:at]
    words = [each for each in gap if each.kind == ""]
    if any(each.word not in GLUE and each.word not in ("now", "then", "earlier") for each in words):
        return None
    if any(each.kind in ("D", "P", "I", "O") for each in gap):
        return None
    value = value_of(scene, at)
    if item.kind == "M" or value < 20:
        return None
    if _two_of_a_kind(scene, at, before):
        fields = {key: entry for key, entry in before.fields.items() if key in ("is", "place", "tool")}
        draft = scene.add({**fields, "celsius": value}, at, at + 1, "heat of the other wall")
        check_limits(scene, draft)
        return draft
    timed = has_time_near(scene, at) or any(each.kind in ("T", "A") for each in gap)
    now = any(each.word == "now" for each in gap) or (at + 1 < len(scene.items) and scene.items[at + 1].word == "now")
    if not timed and not now:
        return None
    fields = {key: entry for key, entry in before.fields.items() if key in ("is", "place", "tool", "part")}
    draft = scene.add({**fields, "celsius": value}, at, at + 1, "heat with the noun before it")
    check_limits(scene, draft)
    return draft


def _two_of_a_kind(scene: Scene, at: int, before: Draft) -> bool:
    """ "side walls 207 and 211": a noun of several has several numbers."""
    if before.fields.get("place") != "wall" or before.last > at:
        return False
    nouns = [item for item in scene.items[before.first : before.last] if item.kind == "P"]
    gap = scene.items[before.last : at]
    return (
        bool(nouns)
        and nouns[-1].words[-1] in ("walls", "sides")
        and len(gap) == 1
        and gap[0].word in ("and", "/", ",", "&")
    )


_WOODY = bag(
    "wood firewood logs log split splits meter meters metered moisture kindling woodpile stack pile heap batch"
)


def _measured_moisture(scene: Scene, at: int) -> Draft | None:
    """ "tested the logs, they are 19 per cent", "meter on the ash: 17%": wood was talked of before."""
    first, last = scene.sentence(at)
    if scene.items[at].kind != "M" or not 0 < value_of(scene, at) <= 70:
        return None
    words = scene.row.words(first, last)
    woody = set(words) & _WOODY
    if not woody and longest(words, "wood", "species") is None:
        return None
    return _moisture(scene, Noun("wood", {}, at, at + 1), at, value_of(scene, at), at, at + 1)


def _last_heat(scene: Scene, at: int) -> Draft | None:
    earlier = [draft for draft in scene.drafts if draft.last <= at and draft.kind in ("reading", "food")]
    return max(earlier, key=lambda draft: draft.last) if earlier else None


def _draft(scene: Scene, noun: Noun, at: int, before: Draft | None) -> Draft | None:
    item = scene.items[at]
    value = value_of(scene, at)
    first = min(noun.first, at)
    last = max(noun.last, at + 1)
    span = scene.items[first:last]
    if any(each != "fact" for each in scene.moods[first:last]):
        return None
    if item.kind == "M" or (noun.kind == "wood" and (0 < value <= 70)):
        return _moisture(scene, noun, at, value, first, last)
    if noun.kind in ("place", "probe", "tool", "oven"):
        return _reading(scene, noun, at, value, first, last, before)
    if noun.kind in ("core", "liq", "dish"):
        if item.kind == "N" and noun.kind == "dish" and not _tells_heat(scene, noun, at):
            return None
        if item.kind == "N" and noun.kind == "dish" and value < 20 and not cold_by_now(scene, span, value):
            return None
        fields: dict[str, Any] = {"is": "food", "celsius": value}
        part = {"core": "core", "liq": "liquid"}.get(noun.kind)
        if part is not None:
            fields["part"] = part
        if (
            noun.kind == "core"
            and item.kind == "N"
            and value < 15
            and not any(each.word in ("core", "centre") for each in span)
            and not scene.has_any(_COLD)
        ):
            return None
        if noun.kind == "core" and value > 130 and any(each.word in ("inside", "middle", "centre") for each in span):
            return None
        draft = scene.add(fields, first, last, "heat of food")
        return draft if check_limits(scene, draft) else None
    apart = any(each.kind == "." or each.word == "and" for each in scene.items[noun.last : at])
    if noun.kind == "fridge" and item.kind == "N" and value > WARMEST_FRIDGE_C and apart:
        return None  # "stew in the fridge, 47 over there"
    if noun.kind == "fridge" and typed_to_the_minute(scene, at):
        return None  # "stew into fridge 3.35": no fridge is read to a hundredth
    named = scene.items[at - 1] if at else None
    if noun.kind in ("fridge", "hot") and named is not None and named.kind == "D" and any(
            draft.kind == "food" and draft.first < noun.first for draft in scene.drafts):
        # "goat 72 in the hot box dal 66": the next dish and its heat
        draft = scene.add({"is": "food", "dish": str(named.value), "celsius": value}, at - 1, at + 1, "heat of food")
        return draft if check_limits(scene, draft) else None
    if noun.kind in ("fridge", "hot"):
        fields = {"is": "store", "place": "fridge" if noun.kind == "fridge" else "hot_hold", "celsius": value}
        if noun.kind == "hot":
            fields["holds"] = told_to_hold(scene)
        draft = scene.add(fields, first, last, "heat of fridge or hot cupboard")
        return draft if check_limits(scene, draft) else None
    if noun.kind == "out" and value > 60 and scene.row.words(noun.first, noun.last) == ("ambient",):
        return _reading(scene, Noun("place", {"place": "air"}, noun.first, noun.last), at, value, first, last, before)
    if noun.kind == "out" and (item.kind == "H" or value <= 45):
        scene.add({"is": "weather", "celsius": value}, first, last, "weather")
        return scene.drafts[-1] if check_limits(scene, scene.drafts[-1]) else None
    return None


def _tells_heat(scene: Scene, noun: Noun, at: int) -> bool:
    """A dish with a bare number is its heat only if that number stands right behind it: "stew 83", "lamb's at 88"."""
    if noun.first > at:
        return (
            scene.items[noun.last - 1].kind == "D"
            and at + 1 < len(scene.items)
            and scene.items[at + 1].word in ("in", "on", "for")
        )
    gap = [item.word for item in scene.items[noun.last : at] if item.kind == ""]
    if gap[-1:] == ["and"] and set(gap) & bag("in out off on"):
        return False  # "lamb in and 63 by the gate": another matter
    return all(
        word
        in bag(
            "'s is are were running holding hovering steady back oven it down reading showing cruising ticking "
            "temp temperature probed measured probing along settled at was says reads now about around still "
            "only up to has reached hit in sitting and the dropped fallen fell dipped sunk slipped risen rose climbed "
            "crept come came jumped"
        )
        for word in gap
    ) and not any(item.kind == "." for item in scene.items[noun.last : at])


def _reading(
    scene: Scene, noun: Noun, at: int, value: float, first: int, last: int, before: Draft | None
) -> Draft | None:
    item = scene.items[at]
    fields: dict[str, Any] = {
        "is": "reading",
        **{key: entry for key, entry in noun.fields.items() if key[0] != "_"},
        "celsius": value,
    }
    if noun.kind == "probe":
        fields.update(place="floor", tool="probe")
    if noun.kind == "tool":
        fields["tool"] = "infrared"
    if (
        item.kind == "N"
        and value < 15
        and not (
            noun.kind == "place" and noun.last == at and "." not in item.word and value > 0 and _cold_ok(scene, at)
        )
    ):
        return None
    if noun.kind == "oven":
        own = next((n for n in range(noun.last - 1, noun.first - 1, -1) if scene.items[n].kind == "O"), None)
        if own is not None:
            fields["oven"] = str(scene.items[own].value)
        after_and = (
            before is not None
            and before.kind == "reading"
            and "place" in before.fields
            and any(each.word in ("and", ",", "/") for each in scene.items[before.last : noun.first + 1])
        )
        if after_and and before is not None:
            fields["place"] = before.fields["place"]
        elif (
            (value < 40 and first != at and any(each.kind == "." for each in scene.items[noun.last : at]))
            or (item.kind == "N" and first != at and (value < 40 or not _tells_heat(scene, noun, at)))
            or (first == at and not _of_whole_oven(scene, noun, at, value))
        ):
            return None
    tail = compiled(
        r"(?:by|with|on|from|off|using|via)? ?(?:laser |temp )?(?P<t><I>|probe)(?! (?:says|reads|on|in|<N>"
        r"|<H>))"
    ).match(scene.row.canon, scene.row.offset(last))
    if tail is not None and noun.kind in ("place", "oven") and "tool" not in fields:
        fields["tool"] = "probe" if tail.group("t") == "probe" else "infrared"
        last = scene.row.items_of(tail.start(), tail.end())[1]
    if fields.get("place") == "air":
        fields.pop("tool", None)
    draft = scene.add(fields, first, last, "heat of the oven")
    return draft if check_limits(scene, draft) else None


def _of_whole_oven(scene: Scene, noun: Noun, at: int, value: float) -> bool:
    """ "it's 185 in the barrel", "185 in the dome": a number before the oven it is told of."""
    linked = any(item.word in ("in", "on", "for", "from") for item in scene.items[at + 1 : noun.last])
    a, _ = scene.segment(at)
    before = [item for item in scene.items[a:at] if item.kind != "."]
    small = all(
        item.kind in ("T", "A")
        or item.word
        in bag(
            "it 's is now still about reading got at showing has a we have temp heat says the and was just "
            "steady holding temperature"
        )
        for item in before
    )
    return linked and small and value >= 60


def _cold_ok(scene: Scene, at: int) -> bool:
    after = scene.items[at + 1] if at + 1 < len(scene.items) else None
    return after is None or after.kind == "."


def _moisture(scene: Scene, noun: Noun, at: int, value: float, first: int, last: int) -> Draft | None:
    a, b = scene.sentence(at)
    words = {word for item in scene.items[a:b] for word in item.words}
    woody = words & (_WOODY | {"basis"})
    if not woody and not any((word,) in phrase_set("wood", "species") for word in words):
        return None
    if (
        noun.kind == "wood"
        and scene.items[at].kind == "N"
        and not (words & bag("meter moisture reading reads read basis percent"))
    ):
        return None
    if noun.kind == "wood" and scene.items[at].kind == "H":
        return None
    basis = None
    if "basis" in words or "weight" in words:
        # A share "by weight" is of all that the log weighs; a dry basis is said to be one.
        basis = "dry" if "dry" in words else "wet" if "wet" in words or "weight" in words else None
    return scene.add({"is": "wood", "moisture_pct": value, "basis": basis}, first, last, "moisture of the wood")


def _unit_of_first(scene: Scene) -> None:
    """ "crown 402 F, back 380": the unit of the first heat of a list holds on, if no other is said."""
    drafts = [draft for draft in scene.drafts if draft.kind == "reading" and "celsius" in draft.fields]
    drafts.sort(key=lambda draft: draft.first)
    heats = [[n for n in range(draft.first, draft.last) if scene.items[n].kind in "NH"] for draft in drafts]
    if len(drafts) < 2 or any(len(each) != 1 for each in heats):
        return
    kinds = [scene.items[each[0]].kind for each in heats]
    message = scene.row.message
    last = scene.items[heats[0][0]]
    if kinds[0] == "H" and "H" not in kinds[1:] and message[last.start : last.end].lower().rstrip(".").endswith("f"):
        for draft in drafts[1:]:
            draft.fields["celsius"] = fahrenheit(float(draft.fields["celsius"]))


def use_unit_of_message(scene: Scene) -> None:
    """ "350 on the floor, that's fahrenheit": the unit behind the list is meant for all of it."""
    _unit_of_first(scene)
    for at, item in enumerate(scene.items):
        if item.kind != "" or item.word not in ("fahrenheit", "farenheit", "f"):
            continue
        a, b = scene.segment(at)
        for draft in scene.drafts if item.word != "f" else ():
            plain = not any(each.kind == "H" for each in scene.items[draft.first : draft.last])
            if draft.kind in ("reading", "food") and "celsius" in draft.fields and plain and a <= draft.first < at:
                draft.fields["celsius"] = fahrenheit(float(draft.fields["celsius"]))
                scene.use(at, at + 1, "unit of the list")
        words = [each for each in scene.items[a:b] if each.kind != "."]
        if not all(
            each.kind == ""
            and each.word
            in bag(
                "that 's is in all both fahrenheit farenheit f degrees sorry those are it these american by way the so "
                "was were mind you obviously"
            )
            for each in words
        ):
            continue
        if item.word == "f" and len(words) < 2:
            continue
        for draft in scene.drafts:
            if (
                draft.kind in ("reading", "food", "store")
                and "celsius" in draft.fields
                and draft.last <= at
                and draft.first < a
                and not any(each.kind == "H" for each in scene.items[draft.first : draft.last])
            ):
                draft.fields["celsius"] = fahrenheit(float(draft.fields["celsius"]))
                scene.use(at, at + 1, "unit of the list")


def use_tool_of_list(scene: Scene) -> None:
    """One gun serves every spot of its list: "ir: back 231, floor 205", "shot the crown, 274, and the sole, 221"."""
    drafts = [draft for draft in scene.drafts if draft.kind == "reading" and "celsius" in draft.fields]
    if not drafts:
        return
    for first, last in scene.sentences:
        tools = [at for at in range(first, last) if _names_gun(scene.items[at]) and scene.moods[at] == "fact"]
        here = [draft for draft in drafts if first <= draft.first < last]
        if not tools:
            continue
        probes = [n for n in range(first, last) if scene.items[n].word in ("probe", "thermocouple")]
        numbers = [n for draft in here for n in range(draft.first, draft.last) if scene.items[n].kind in ("N", "H")]
        end = tools[0] > max(numbers, default=-1) and len(tools) == 1
        spot = next((item.value for item in scene.items[tools[0] + 1 : tools[0] + 4] if item.kind == "P"), None)
        if {"misread", "misreading", "flat", "dead"} & set(scene.row.words(first, last)):
            continue
        a, b = scene.segment(tools[0])
        led = scene.items[max(a, tools[0] - 2) : tools[0]]
        led_in = any(item.word in ("on", "with", "by", "off", "from") for item in led)
        if led_in and not any(a <= n < b for n in probes):
            for draft in (each for each in here if a <= each.first < tools[0] and spot is None):
                _by_gun(draft)  # "crown 305 sole 270 on the gun, probe 248"
        for draft in here:
            if end and spot is not None and draft.fields.get("place") != spot and tools[0] not in numbers:
                continue  # "floor 201 air 188 wall 207, gun on the wall"
            read_at = [n for n in range(draft.first, draft.last) if scene.items[n].kind in ("N", "H")]
            listed = max(read_at, default=draft.first) >= tools[0] if not end else not probes
            if listed and not any(tools[0] < n < draft.first for n in probes):
                _by_gun(draft)
        if here or scene.items[tools[0]].kind == "I":
            for draft in _goes_on(scene, drafts, last):
                _by_gun(draft)


def _names_gun(item: Item) -> bool:
    return item.kind == "I" or (
        item.kind == "" and item.word in bag("shot shots shoot shoots zapped pointed gunned lasered shooting")
    )


def _by_gun(draft: Draft) -> None:
    if draft.fields.get("place", "air") != "air" and "tool" not in draft.fields:
        draft.fields["tool"] = "infrared"


def _goes_on(scene: Scene, drafts: list[Draft], at: int) -> list[Draft]:
    """Readings of the next sentences, as long as these hold nothing else: "ir 231 on the back. 244 ceiling." """
    found: list[Draft] = []
    for first, last in scene.sentences:
        if first < at:
            continue
        here = [draft for draft in drafts if first <= draft.first < last]
        inside = {n for draft in here for n in range(draft.first, draft.last)}
        others = [n for n in range(first, last) if n not in inside and scene.items[n].kind != "."]
        if not here or any(scene.items[n].word not in _LIST_WORDS for n in others):
            break
        found += here
    return found


_LIST_WORDS = bag("and the on at is 's then plus also a")
