"""Hand counts of several spots in one breath: "mouth 3 secs by hand, back 2", "four seconds at the mouth, then six at
the back"."""

from __future__ import annotations

from bot.reading.clock_times import Clock
from bot.reading.lexicon import bag
from bot.reading.scene import Scene

MOST_SECONDS = 30
_HAND = bag("hand hands palm count counts counted ct fingers arm")
_SMALL = _HAND | bag(
    "the a an at in on by of over inside my bare with for only about around just and then but now is was 's are "
    "seconds second secs sec s test check i we could can hold held bear stand keep kept got to managed lasted stayed "
    "deeper further near nearer close up also it there before pulling away out end side says gives made maybe so till "
    "until still again then did thing trick bit went"
)


def listed_counts(scene: Scene) -> None:
    """Every spot of a sentence with its own seconds, if nothing else is told in it."""
    if "P" not in scene.kinds or not ("S" in scene.kinds or scene.has_any(_HAND)):
        return
    for first, last in scene.sentences:
        pairs = _pairs(scene, first, last)
        if len(pairs) < 2:
            continue
        ovens = [item for item in scene.items[first:last] if item.kind == "O"]
        for spot, at in pairs:
            scene.add(
                {
                    "is": "reading",
                    "place": str(scene.items[spot].value or scene.items[spot].word),
                    "count": _seconds(scene, at),
                    "tool": "hand",
                    "oven": str(ovens[0].value) if len(ovens) == 1 else None,
                },
                min(spot, at),
                max(spot, at) + 1,
                "hand counts of a list",
            )
        asked = (at for at in range(first, last) if scene.moods[at] == "question")
        scene.use(first, next(asked, last), "hand counts of a list")


def _seconds(scene: Scene, at: int) -> float | None:
    """ "3 secs", "3", and "till three" where it follows a hand."""
    item = scene.items[at]
    if item.kind == "S":
        value = float(item.value)
    elif item.kind == "N":
        value = float(item.value.value)
    elif item.kind == "T" and isinstance(item.value, Clock) and len(item.words) == 1 and item.value.minute == 0:
        value = float(item.value.hour or 0)
    else:
        return None
    return value if 0 < value <= MOST_SECONDS else None


def _at_back(scene: Scene, at: int) -> bool:
    """ "six deeper in, at the back": an everyday word that is a spot only here."""
    before = [item.word for item in scene.items[max(0, at - 2) : at] if item.word != "the"]
    return scene.items[at].word == "back" and before[-1:] in (["at"], ["by"], ["near"], ["in"])


def _is_spot(scene: Scene, at: int) -> bool:
    return scene.items[at].kind == "P" or _at_back(scene, at)


def _pairs(scene: Scene, first: int, last: int) -> list[tuple[int, int]]:
    """Spots and counts side by side, in one order all along; nothing if anything else stands between."""
    row: list[int] = []
    hand = False
    for at in range(first, last):
        item = scene.items[at]
        if scene.moods[at] == "question" and at > first:
            break
        if scene.used[at] or scene.moods[at] != "fact":
            return []
        hand = hand or item.kind == "S" or item.word in _HAND
        if item.kind in ("S", "N", "P", "T") or _at_back(scene, at):
            row.append(at)
        elif item.kind not in (".", "O") and (item.kind != "" or item.word not in _SMALL):
            return []
    if not hand or len(row) % 2:
        return []
    pairs = []
    for one, other in zip(row[::2], row[1::2], strict=True):
        spot, at = (one, other) if _is_spot(scene, one) else (other, one)
        if not _is_spot(scene, spot) or _seconds(scene, at) is None:
            return []
        pairs.append((spot, at))
    return pairs
