"""Clauses of names and numbers alone: "dome 3 splits more", "hand 6 dome mouth", "2 trays 4 cm ice", "barrel mine"."""

from __future__ import annotations

from collections.abc import Iterator

from bot.reading.lexicon import phrase_set
from bot.reading.scene import Scene, compiled

_SPECIES = "|".join(sorted(" ".join(words) for words in phrase_set("wood", "species")))
_WOOD = r"(?:splits?|logs?|sticks?|pieces?|billets?)"
_FED = compiled(
    rf"(?:(?P<oven><O>) )?(?P<n><N>)(?P<more> more)?(?: {_WOOD})?(?: of)?(?: (?P<sp>{_SPECIES}))?(?: {_WOOD})?"
    r"(?P<more> more)?(?: on)?(?: (?P<oven><O>))?(?: now)?"
)
_HAND = compiled(
    r"(?:(?P<oven><O>) )?(?:(?P<place><P>) )?(?:hand|palm)(?: at)?(?: (?P<oven><O>))?(?: (?P<place><P>))?"
    r"(?: (?P<n><N>)| (?P<s><S>))(?: (?:count|secs?|seconds|s))?(?: (?P<oven><O>))?(?: (?P<place><P>))?"
)
_CHILL = compiled(
    r"(?:(?:all|it|into|in|the) )*(?:(?P<dish><D>) )?(?:(?:into|in) )?(?:<N> )?(?:trays?|tubs?|pans?|containers?|tins?)"
    r"(?: ,)? (?P<depth><C>)(?: deep)?(?: ,)?(?: on| in)? (?P<how>ice|side|fridge)(?: now)?"
)
_MINE = compiled(r"(?P<oven><O>) (?:mine|is mine)(?: now)?")
_METHODS = {"ice": "ice", "side": "room"}


def telegrams(scene: Scene) -> None:
    """What no other rule took and is nothing but a telegram."""
    if scene.row.canon.rstrip().endswith("?"):
        return
    for first, last in _clauses(scene):
        if any(scene.used[first:last]) or any(mood in ("question", "what_if") for mood in scene.moods[first:last]):
            continue
        canon = scene.row.canon[scene.row.offset(first) :]
        canon = canon[: scene.row.offset(last) - scene.row.offset(first)].strip() if last < len(scene.items) else canon
        # "hand 6" has the look of a request ("hand me the peel").
        if scene.doubted.isdisjoint(range(first, last)):
            _hand(scene, canon, first, last)
        if "silent" in scene.moods[first:last]:
            continue
        _fed(scene, canon, first, last)
        _chilled(scene, canon, first, last)
        match = _MINE.fullmatch(canon)
        if match is not None:
            what = scene.name(match["oven"])
            scene.add({"is": "task", "act": "claim", "what": what}, first, last, "telegram of a task")


def _clauses(scene: Scene) -> Iterator[tuple[int, int]]:
    begin = 0
    for at, item in enumerate(scene.items):
        if item.kind == "." and item.word in ".,;!|":
            if at > begin:
                yield begin, at
            begin = at + 1
    if begin < len(scene.items):
        yield begin, len(scene.items)


def _one(scene: Scene, groups: dict[str, str | None], name: str) -> str | None:
    found = next((value for key, value in groups.items() if key.partition("__")[0] == name and value), None)
    return scene.name(found) if found else None


def _fed(scene: Scene, canon: str, first: int, last: int) -> None:
    match = _FED.fullmatch(canon)
    if match is None:
        return
    groups = match.groupdict()
    number, words = scene.number(match["n"]), set(canon.split())
    wood = bool(compiled(rf".*{_WOOD}.*").fullmatch(canon))
    oven, species = _one(scene, groups, "oven"), match["sp"]
    # A number and a wood, or pieces that are "more" or of an oven: "2 logs" alone may be any two.
    told = (species and not wood) or (wood and (species or oven or "more" in words))
    if not told or number is None or not 0 < number <= 12:
        return
    fields = {"is": "fire", "act": "fed", "pieces": number, "species": species, "oven": oven}
    scene.add(fields, first, last, "telegram of a feed")


def _hand(scene: Scene, canon: str, first: int, last: int) -> None:
    match = _HAND.fullmatch(canon)
    groups = match.groupdict() if match is not None else {}
    value = scene.number(groups.get("n") or groups.get("s"))
    if match is None or value is None or not 0 < value <= 30:
        return
    fields = {"is": "reading", "place": _one(scene, groups, "place"), "oven": _one(scene, groups, "oven")}
    scene.add({**fields, "count": int(value), "tool": "hand"}, first, last, "telegram of a hand count")


def _chilled(scene: Scene, canon: str, first: int, last: int) -> None:
    match = _CHILL.fullmatch(canon)
    if match is None:
        return
    how = match["how"]
    fields = {"is": "chill", "act": "fridge" if how == "fridge" else "start", "method": _METHODS.get(how)}
    scene.add(
        {**fields, "depth_cm": scene.number(match["depth"]), "dish": scene.name(match["dish"])},
        first, last, "telegram of a chill",
    )
