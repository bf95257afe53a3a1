"""Heats in lists: spots and their numbers side by side, and a change told before the new value."""

from __future__ import annotations

from bot.reading.heat_limits import check_limits, value_of
from bot.reading.lexicon import bag
from bot.reading.scene import Found, Scene

_JOINT = r"(?: (?:/|,|and|[|]))+"
_SPOTS = rf"(?P<spots><P>(?:{_JOINT} <P>)+)"
_VALUES = rf"(?P<values><V>(?:{_JOINT} <V>)+)"
_BETWEEN = r"(?: (?:temps?|are|is|'s|at|reading|readings|now|:|-|were|respectively))*"
_CHANGED = r"(?:lost|gained|dropped|fallen|fell|risen|rose|climbed|down|up|gone down|gone up|come down|come up)"


def listed_heats(scene: Scene) -> None:
    """ "floor/air 180/170", "floor and air are 180 and 170", "floor and air both 180", "floor's lost 10, now 184"."""
    _heats_by_the_clock(scene)
    if "P" not in scene.kinds:
        return
    for pattern in (
        rf"{_SPOTS}{_BETWEEN} {_VALUES}",
        rf"{_VALUES}(?: (?:on|for|in|at|:|-|,))* {_SPOTS}",
        rf"{_VALUES} (?P<spots><P>(?: <P>)+)(?= ?(?:$|[.;!|]))",
    ):
        for found in scene.find(pattern):
            spots, values = _of(scene, found, "spots", "P"), _of(scene, found, "values", "NH")
            if _in_pairs(scene, found):
                continue
            if len(spots) == len(values) and all(40 <= value_of(scene, at) <= 1000 for at in values):
                for spot, value in zip(spots, values, strict=True):
                    _add(scene, found, spot, value)
                scene.use(found.first, found.last, "heats of a list")
    for found in scene.find(
        rf"{_SPOTS}(?: (?:are|is|at|'s|now))* (?:both|all|each)(?: (?:at|on|reading|now))* (?P<v><V>)"
    ):
        at = int(found["v"][1:])
        for spot in _of(scene, found, "spots", "P"):
            _add(scene, found, spot, at)
        scene.use(found.first, found.last, "heats of a list")
    for pattern in (
        r"(?P<spot><P>)(?: (?:'s|is|has|have|gone|come|from|at|temp|fell|fallen|dropped|rose|risen|climbed|crept"
        r"|slid|slipped"
        r"|sagged|went|down|up|off))* <V>(?: degrees)?(?: -)?(?: >| to)+ (?P<v><V>)",
        rf"(?P<spot><P>)(?: (?:'s|has|is|just|temp))* {_CHANGED}(?: by| about| another)* <V>(?: degrees)?"
        r"(?: (?:,|and|so|it 's|is|now|to|at|-))* (?:now|to|at|is)(?: (?:at|about|on))* (?P<v><V>)",
        rf"(?P<spot><P>)(?: (?:'s|has|is|temp))* {_CHANGED}(?: by| about| another)* <V>(?: degrees)?"
        r"(?: (?:since|from) <T>| in <U>)?(?: (?:,|and|so|it 's|is|now|-))* (?P<v><V>)(?= now| ?(?:$|[.;!|]))",
    ):
        for found in scene.find(pattern):
            at = int(found["v"][1:])
            if value_of(scene, at) >= 40:
                _add(scene, found, int(found["spot"][1:]), at)
                scene.use(found.first, found.last, "heat after a change")


_BESIDE_TIMES = bag(
    "the a at was is it 's and then now both all each every time times off on from of by with for in readings reading "
    "read reads were got showed said"
)


def _heats_by_the_clock(scene: Scene) -> None:
    """ "nine o'clock 155, ten o'clock 171, floor probe both times": each heat has its time, the spot stands last."""
    if "T" not in scene.kinds:
        return
    for first, last in scene.sentences:
        told = range(first, last)
        if any(scene.used[at] or scene.moods[at] != "fact" for at in told):
            continue
        row = [at for at in told if scene.items[at].kind in ("T", "N", "H")]
        kinds = "".join("T" if scene.items[at].kind == "T" else "V" for at in row)
        if len(row) < 4 or kinds not in ("TV" * (len(row) // 2), "VT" * (len(row) // 2)):
            continue
        behind = range(row[-1] + 1, last)
        spots = [at for at in behind if scene.items[at].kind == "P"]
        words = {scene.items[at].word for at in told if scene.items[at].kind == ""}
        probe = bool({scene.items[at].word for at in behind} & {"probe", "thermocouple"})
        others = [at for at in told if scene.items[at].kind not in (*"TNHIP", "", ".")]
        early = [at for at in range(first, row[-1]) if scene.items[at].kind in ("P", "I")]
        if others or early or len(spots) > 1 or not (spots or probe):
            continue
        if words - _BESIDE_TIMES - {"probe", "thermocouple"}:
            continue
        gun = any(scene.items[at].kind == "I" for at in behind)
        for one, other in zip(row[::2], row[1::2], strict=True):
            time, at = (one, other) if kinds[0] == "T" else (other, one)
            if not 40 <= value_of(scene, at) <= 1000:
                break
            draft = scene.add(
                {
                    "is": "reading",
                    "place": str(scene.items[spots[0]].value) if spots else "floor",
                    "celsius": value_of(scene, at),
                    "tool": "probe" if probe else "infrared" if gun else None,
                },
                min(time, at),
                max(time, at) + 1,
                "heats by the clock",
                time=scene.items[time].value,
            )
            check_limits(scene, draft)
        else:
            scene.use(first, last, "heats by the clock")


_ON = bag("on the at in for is are 's by of - :")


def _in_pairs(scene: Scene, found: Found) -> bool:
    """ "180 on the ceiling, air 170, 190 on the back wall": each number has its own spot; these are no two lists."""
    before, after = found.first - 1, found.last
    while before >= 0 and scene.items[before].word in _ON:
        before -= 1
    while after < len(scene.items) and scene.items[after].word in _ON:
        after += 1
    ends = [scene.items[at].kind for at in (before, after) if 0 <= at < len(scene.items)]
    return any(kind and kind in "NHP" for kind in ends)


def _of(scene: Scene, found: Found, group: str, kinds: str) -> list[int]:
    first, last = found.items_of(group)
    return [at for at in range(first, last) if scene.items[at].kind in kinds and scene.items[at].kind]


def _add(scene: Scene, found: Found, spot: int, at: int) -> None:
    draft = scene.add(
        {"is": "reading", "place": str(scene.items[spot].value), "celsius": value_of(scene, at)},
        found.first,
        found.last,
        "heats of a list",
        keep=True,
    )
    check_limits(scene, draft)
