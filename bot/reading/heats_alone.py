"""Heats with no noun right beside them: of what was probed before, of the whole oven, of the same spot again."""

from __future__ import annotations

from collections.abc import Sequence

from bot.reading.heat_limits import check_limits, value_of
from bot.reading.heat_nouns import GLUE, Noun
from bot.reading.items import Item
from bot.reading.lexicon import bag
from bot.reading.scene import Draft, Scene, compiled


def of_the_chilled(scene: Scene, at: int) -> Draft | None:
    """ "beans fully chilled, 4C", "reheated the soup, 82C": a heat in degrees that stands alone is the food's."""
    item = scene.items[at]
    a, b = scene.segment(at)
    alone = all(
        each.kind == "T" or each is item or each.word in bag("now at and down to it 's is") for each in scene.items[a:b]
    )
    first, _ = scene.sentence(at)
    words = set(scene.row.words(first, at))
    dish = any(each.kind == "D" for each in scene.items[first:at])
    before = [each.word for each in scene.items[max(0, at - 3) : at] if each.kind == ""]
    if (
        (
            before[-1:] in (["to"], ["at"])
            or (item.kind == "H" and before[-1:] in (["chilled"], ["reheated"], ["cooled"]))
        )
        and set(before) & bag("chilled reheated down cooled through up hot")
        and words & {"chilled", "reheated", "cooled", "reheat"}
        and dish
    ):
        draft = scene.add({"is": "food", "celsius": value_of(scene, at)}, at, at + 1, "heat of food")
        return draft if check_limits(scene, draft) else None
    finished = words & bag("done finished over")
    again = words & bag("reheated reheat piping hot") or (finished and words & bag("reheating heating warming"))
    hot = item.kind == "N" and 60 <= value_of(scene, at) <= 100 and again
    over = finished and words & bag("chilling cooling reheating heating warming")
    told_so = not bag("it down now").isdisjoint(scene.row.words(a, b))
    cold = item.kind == "N" and told_so and -5 <= value_of(scene, at) <= MOST_COLD_C
    if (
        not (item.kind == "H" or hot or (cold and words & bag("chilled cooled chilling cooling")))
        or not alone
        or a == first
        or not ((words & bag("chilled reheated cooled chill hot cold") or over) and dish)
    ):
        return None
    draft = scene.add({"is": "food", "celsius": value_of(scene, at)}, at, at + 1, "heat of food")
    return draft if check_limits(scene, draft) else None


# Warmer than this, a bare number of few degrees is no cold food's [degC]; the UK's limit for chilled food is 8.
MOST_COLD_C = 19.5
# Beside a dish's name a bare number from here up is a heat by itself [degC].
LEAST_ALONE_C = 30.0


_CHILLED = bag("chilled cooled cold chilling cooling fridge")


def cold_by_now(scene: Scene, span: Sequence[Item], value: float) -> bool:
    """ "stew is at 6", once it was chilled: degrees, not a time of day."""
    if not -5 <= value <= MOST_COLD_C:
        return False
    name = next((str(each.value) for each in span if each.kind == "D"), None)
    if name is None:
        return True  # "leftovers at 7"
    if scene.has_any(_CHILLED):
        return True
    told = (fact for said in scene.context.last for fact in said.heard.facts)
    return any(fact.is_ == "chill" and fact.dish in (None, name) for fact in told)


def of_cold_food(scene: Scene) -> None:
    """ "stew is at 6", "leftovers at 7": a number that might be a time, of food that is cold by now."""
    _beside_its_name(scene)
    if "T" not in scene.kinds:
        return
    small = r"(?: (?:'s|is|are|now|down|still|sat|sitting|only|all))*"
    for found in scene.find(rf"(?:<D>|leftovers?|trays?|tubs?|rest){small} (?:at|to) (?P<v><T>)(?= ?(?:$|[.,;!|]))"):
        item = scene.item(found["v"])
        if item.word.isdigit() and cold_by_now(scene, scene.items[found.first : found.last], float(item.word)):
            item.kind, item.value = "H", float(item.word)  # no time that anything happened at
            scene.add({"is": "food", "celsius": item.value}, found.first, found.last, "heat of cold food")


def _beside_its_name(scene: Scene) -> None:
    """ "beans 12, brisket 10", after trays went into the fridge: a few degrees, not pieces or guests."""
    told = (fact for said in scene.context.last for fact in said.heard.facts)
    if not any(fact.is_ == "chill" for fact in told):
        return
    small = r"(?: (?:'s|is|are|now|down|still|only|at))*"
    for found in scene.find(rf"<D>{small} (?P<v><N>)(?= ?(?:$|[.,;!|]|now|and|<D>))"):
        value = found.number("v")
        if value is not None and -5 <= value < LEAST_ALONE_C:
            scene.add({"is": "food", "celsius": value}, found.first, found.last, "heat of cold food")


def by_other_tool(scene: Scene, at: int, start: int, noun: Noun | None, before: Draft | None) -> bool:
    """ "floor 222 gun, 216 probe": the same spot with another tool."""
    after = scene.items[at + 1] if at + 1 < len(scene.items) else None
    following = scene.items[at + 2] if at + 2 < len(scene.items) else None
    gap = [item for item in scene.items[start:at] if item.kind != "." and item.kind != "I"]
    return (
        before is not None
        and before.kind == "reading"
        and before.fields.get("place", "air") != "air"
        and (noun is None or (noun.first < at and noun.last <= start + 1) or noun.first > at)
        and all(item.word in bag("and on by with the gun is 's probe but vs") for item in gap)
        and after is not None
        and (after.kind == "I" or after.word == "probe")
        and (following is None or following.kind == ".")
    )


def same_spot(scene: Scene, at: int, before: Draft | None) -> Draft | None:
    assert before is not None
    tool = "probe" if scene.items[at + 1].word == "probe" else "infrared"
    fields = {key: entry for key, entry in before.fields.items() if key in ("is", "place", "oven")}
    fields.update(celsius=value_of(scene, at), tool=tool)
    draft = scene.add(fields, at, at + 2, "heat of the spot before, by another tool")
    return draft if check_limits(scene, draft) else None


def up_there(scene: Scene) -> None:
    """ "ceiling's gone white, ir 352 up there": of the spot that the words before it named."""
    for draft in scene.drafts:
        if draft.kind != "reading" or "place" in draft.fields or "celsius" not in draft.fields:
            continue
        behind = [item.word for item in scene.items[draft.last : draft.last + 2]]
        spots = [item for item in scene.items[: draft.first] if item.kind == "P"]
        if "there" in behind and len(spots) == 1 and behind[0] in ("up", "down", "there"):
            draft.fields["place"] = str(spots[0].value)


def of_the_looked_at(scene: Scene) -> None:
    """ "lamb soft, 93", "beans out, still 84": a clause that is nothing but a number, behind a look at a dish."""
    for at, item in enumerate(scene.items):
        if item.kind != "N" or scene.used[at] or scene.moods[at] != "fact":
            continue
        first, last = scene.segment(at)
        looked = [each for each in scene.drafts if each.last <= first and (
            each.kind == "check" or (each.fields.get("act") == "out" and "dish" in each.fields))]
        rest = [each.word for n, each in enumerate(scene.items[first:last], first) if n != at]
        whole = bool(looked) and looked[-1].last >= first - 1 and scene.segment(looked[-1].first)[1] == first - 1
        heats = any(each.kind in ("food", "reading") for each in scene.drafts)
        if whole and not heats and set(rest) <= _STILL and 50 <= value_of(scene, at) <= 105:
            fields = {"is": "food", "celsius": value_of(scene, at), "dish": looked[-1].fields.get("dish")}
            scene.add(fields, at, at + 1, "heat of what was looked at")


_STILL = bag("now and at about still it 's is")


def of_the_probed(scene: Scene, at: int) -> Draft | None:
    """ "stuck the probe in the meat, 83", "probed it: 88": a bare number behind the probing is the core's."""
    value = value_of(scene, at)
    if not 20 <= value <= 110 or scene.items[at].kind == "M":
        return None
    first, last = scene.sentence(at)
    following = scene.items[at + 1] if at + 1 < last else None
    if following is not None and following.kind not in (".", "P", "D") and following.word not in ("now", "in", "and"):
        return None
    match = None
    for each in compiled(
        r"(?:(?:stuck|put|poked|pushed|shoved|stabbed|popped|slid|got|have|jabbed|with) )?(?:my |a )?(?:probe"
        r"|thermometer|skewer|P\d+)"
        r" (?:is |'s |went )?(?:in|into|inside) (?:middle of )?(?P<what><D>|meat|joint|middle|centre"
        r"|thickest(?: part| bit)?|it|him|her)"
        r"|(?:probed|stabbed|temped|spiked) (?:<D>|meat|joint|it|middle)"
        r"|(?:stuck|put|poked|pushed|shoved|stabbed|popped|jabbed) (?:a |my )?(?:probe|thermometer"
        r"|P\d+) in(?= ?[,:-]| <V>)"
    ).finditer(scene.row.canon, scene.row.offset(first), scene.row.offset(at)):
        match = each
    if match is None:
        return None
    _, end = scene.row.items_of(match.start(), match.end())
    if any(item.kind != "." and item.word not in GLUE for item in scene.items[end:at]):
        return None
    begin, _ = scene.row.items_of(match.start(), match.end())
    if any(mood != "fact" for mood in scene.moods[begin:at]):
        return None
    draft = scene.add({"is": "food", "part": "core", "celsius": value}, begin, at + 1, "heat of what was probed")
    return draft if check_limits(scene, draft) else None


def of_the_oven(scene: Scene, at: int) -> Draft | None:
    """ "oven at 182", "oven temp 182", "182 in the oven": the oven with no name and no spot."""
    value = value_of(scene, at)
    if not 40 <= value <= 700 or scene.items[at].kind == "M":
        return None
    begin, end = scene.segment(at)
    token = f"{scene.items[at].kind}{at}"
    small = (
        r"(?: (?:'s|is|at|now|temp|temperature|heat|about|around|up to|down to|reading|reads|sitting"
        r"|holding|says|still|only|just))*"
    )
    match = compiled(
        rf"(?:our |my )?oven{small} (?P<v>[A-Z]\d+)(?: (?:now|degrees|steady|and|holding|or so|today|again|right))*"
        r"|(?:it 's |we have |got |reading |about |now )*(?P<v>[A-Z]\d+) in oven(?: now)?"
    ).fullmatch(scene.row.canon, scene.row.offset(begin), max(0, scene.row.offset(end) - (end < len(scene.items))))
    if match is None or token not in (match["v"], match["v__2"]):
        return None
    first, last = scene.row.items_of(match.start(), match.end())
    if any(mood != "fact" for mood in scene.moods[first:last]) or any(scene.used[first:last]):
        return None
    draft = scene.add({"is": "reading", "celsius": value}, first, last, "heat of the oven")
    return draft if check_limits(scene, draft) else None


_SMALL = (
    r"(?: (?:'s|is|are|at|now|temp|about|around|up to|down to|reading|reads|sitting|says|still|only|just|all|by))*"
)


def of_the_hold_or_trays(scene: Scene, at: int) -> Draft | None:
    """ "hold's 62", "trays at 30": the hot cupboard by its short name, and what was said to chill."""
    begin, end = scene.segment(at)
    match = compiled(
        rf"(?P<what>hold|trays?|tubs?){_SMALL} (?P<v>{scene.items[at].kind}{at})"
        r"(?: (?:now|degrees|and|falling|or so|today))*"
    ).fullmatch(scene.row.canon, scene.row.offset(begin), max(0, scene.row.offset(end) - (end < len(scene.items))))
    if match is None or scene.items[at].kind == "M":
        return None
    first, last = scene.row.items_of(match.start(), match.end())
    if any(mood != "fact" for mood in scene.moods[first:last]) or any(scene.used[first:last]):
        return None
    told = [fact for said in scene.context.last for fact in said.heard.facts]
    value = value_of(scene, at)
    if match["what"] == "hold":
        known = scene.items[at].kind == "H" or any(fact.said().get("place") == "hot_hold" for fact in told)
        if not known or not 30 <= value <= 110:
            return None
        draft = scene.add({"is": "store", "place": "hot_hold", "celsius": value}, first, last, "heat of the hold")
        return draft if check_limits(scene, draft) else None
    chilled = next((fact for fact in reversed(told) if fact.is_ == "chill"), None)
    if chilled is None or not -5 <= value <= 95:
        return None
    draft = scene.add({"is": "food", "dish": chilled.dish, "celsius": value}, first, last, "heat of the trays")
    return draft if check_limits(scene, draft) else None


_PLAINLY = bag("it 's is now actually really should be at")


def of_the_taken_back(scene: Scene, at: int) -> Draft | None:
    """ "scratch the fridge temp, I was looking at the freezer. it's 40F": the heat that was taken back, told anew."""
    first, last = scene.segment(at)
    undone = next((each for each in scene.drafts if each.last <= first and each.fields.get("of") == "store"), None)
    if undone is None or undone.fields.get("act") != "undo":
        return None
    words = scene.row.words(first, at) + scene.row.words(at + 1, last)
    if words[:1] != ("it",) or not set(words) <= _PLAINLY:
        return None
    place = "fridge" if "fridge" in scene.row.words(undone.first, undone.last) else "hot_hold"
    draft = scene.add({"is": "store", "place": place, "celsius": value_of(scene, at)}, first, last, "heat told anew")
    return draft if check_limits(scene, draft) else None
