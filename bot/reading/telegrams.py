"""Clauses of names and numbers alone: "dome 3 splits more", "hand 6 dome mouth", "2 trays 4 cm ice", "barrel mine"."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta

from bot.reading.joining import between
from bot.reading.lexicon import bag, phrase_set
from bot.reading.scene import Scene, compiled

_SPECIES = "|".join(sorted(" ".join(words) for words in phrase_set("wood", "species")))
_WOOD = r"(?:splits?|logs?|sticks?|pieces?|billets?)"
_FED = compiled(
    rf"(?:(?P<oven><O>) )?(?P<n><N>)(?P<more> more)?(?: {_WOOD})?(?: of)?(?: (?P<sp>{_SPECIES}))?(?: {_WOOD})?"
    r"(?P<more> more)?(?: on)?(?: (?P<oven><O>))?(?: now)?"
)
_WEIGHED = compiled(
    rf"(?:(?P<sp>{_SPECIES})(?: ,)? (?P<kg><K>)|(?P<kg><K>)(?: of)? (?P<sp>{_SPECIES}))(?: or so)?(?: more| now)?"
    r"(?: [.])*"
)
_PLUS = compiled(r"(?:plus|and|another) (?:another )?(?P<n><N>)(?: more)?")
# So long a fire that was told of is what wood, weighed and named alone, is for (common practice, no source).
A_FIRING = timedelta(minutes=90)
_SOME_OF_THEM = compiled(r"(?:all )?<N> (?P<act>out)(?= ?$| <N> (?:inside|core|in middle))")
_GUESTS = compiled(r"<N>")
MOST_GUESTS = 200
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
    _left_over(scene)
    for first, last in scene.sentences:
        _fed_before(scene, _canon(scene, first, last), first, last)
    for first, last in _clauses(scene):
        canon = _canon(scene, first, last)
        _some_out(scene, canon, first)
        if any(scene.used[first:last]) or any(mood in ("question", "what_if") for mood in scene.moods[first:last]):
            continue
        # "hand 6" has the look of a request ("hand me the peel").
        if scene.doubted.isdisjoint(range(first, last)):
            _hand(scene, canon, first, last)
        if "silent" in scene.moods[first:last]:
            continue
        _fed(scene, canon, first, last)
        _eaters(scene, canon, first, last)
        _chilled(scene, canon, first, last)
        match = _MINE.fullmatch(canon)
        if match is not None:
            what = scene.name(match["oven"])
            scene.add({"is": "task", "act": "claim", "what": what}, first, last, "telegram of a task")


def _canon(scene: Scene, first: int, last: int) -> str:
    canon = scene.row.canon[scene.row.offset(first) :]
    return canon[: scene.row.offset(last) - scene.row.offset(first)].strip() if last < len(scene.items) else canon


def _clauses(scene: Scene) -> Iterator[tuple[int, int]]:
    return between(scene.items, 0, len(scene.items), lambda item: item.kind == "." and item.word in ".,;!|")


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


def _fed_before(scene: Scene, canon: str, first: int, last: int) -> None:
    """ "oak 10kg", "plus 4" of one who told of a fire: the wood that it was given."""
    match = _WEIGHED.fullmatch(canon) or _PLUS.fullmatch(canon)
    if match is None or any(scene.used[first:last]) or any(mood != "fact" for mood in scene.moods[first:last]):
        return
    own = [said for said in scene.context.last if said.who == scene.context.sender and said.heard.facts]
    if not own or scene.context.now - own[-1].at > A_FIRING or not any(
            fact.is_ == "fire" and fact.said()["act"] in ("lit", "fed") for fact in own[-1].heard.facts):
        return
    groups = match.groupdict()
    species = next((value for key, value in groups.items() if key.partition("__")[0] == "sp" and value), None)
    kilos = next((value for key, value in groups.items() if key.partition("__")[0] == "kg" and value), None)
    pieces = scene.number(groups.get("n"))
    if pieces is not None and not 0 < pieces <= 12:
        return
    fields = {"is": "fire", "act": "fed", "pieces": pieces, "species": species, "wood_kg": scene.number(kilos)}
    scene.add({**fields, "oven": own[-1].heard.facts[-1].oven}, first, last, "telegram of a feed")


def _some_out(scene: Scene, canon: str, first: int) -> None:
    """ "6 out", "6 out 97 inside", with one dish in an oven: its pieces came out."""
    match = _SOME_OF_THEM.match(canon)
    dishes = {dish for dish, _ in scene.context.standing}
    told = any(fact.is_ == "pot" for said in scene.context.last for fact in said.heard.facts)
    if match is None or any(scene.used[first : first + 2]) or len(dishes) > 1 or not (dishes or told):
        return
    fields = {"is": "pot", "act": "out", "dish": next(iter(dishes), None)}
    scene.add(fields, first, first + 2, "telegram of pieces")


def _eaters(scene: Scene, canon: str, first: int, last: int) -> None:
    """ "lamb today, fourteen, eat at half one": a number alone, beside a meal's time, counts who eats."""
    value = scene.number(canon) if _GUESTS.fullmatch(canon) else None
    kinds = {draft.kind for draft in scene.drafts}
    if value is None or not 1 < value <= MOST_GUESTS or value != int(value):
        return
    if "serve" in kinds and "guests" not in kinds:
        scene.add({"is": "guests", "count": int(value)}, first, last, "telegram of guests")


_LEFT = bag("left leftover leftovers over")
_BESIDE_LEFT = _LEFT | bag("there 's is about some of the a an and got we still have 've nearly roughly maybe now bit")


def _left_over(scene: Scene) -> None:
    """ "2 kg brisket left 3 l beans", "5 l curry left, 3 l dal": every dish of the list with what is left of it."""
    for first, last in scene.sentences:
        items = scene.items[first:last]
        words = {item.word for item in items if item.kind == ""}
        pairs = [(at, item) for at, item in enumerate(items) if item.kind in ("K", "L")]
        dishes = [at for at, item in enumerate(items) if item.kind == "D"]
        told = words & _LEFT and words <= _BESIDE_LEFT and {item.kind for item in items} <= {"", "K", "L", "D", "."}
        if not told or len(pairs) < 2 or len(pairs) != len(dishes) or any(
                mood != "fact" for mood in scene.moods[first:last]):
            continue
        if any(draft.kind != "load" for draft in scene.drafts if first <= draft.first < last) or not all(
                amount < dish for (amount, _), dish in zip(pairs, dishes, strict=True)):
            continue
        scene.drafts[:] = [draft for draft in scene.drafts if not first <= draft.first < last]
        scene.used[first:last] = [None] * (last - first)
        for (at, item), dish in zip(pairs, dishes, strict=True):
            amount = {"meat_kg" if item.kind == "K" else "liquid_l": float(item.value)}
            fields = {"is": "load", "dish": str(items[dish].value), **amount}
            scene.add(fields, first + at, first + dish + 1, "telegram of leftovers")


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
