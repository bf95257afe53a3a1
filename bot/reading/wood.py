"""Wood as it is told: pieces, weight and species, and the words that go with them."""

from __future__ import annotations

from typing import Any

from bot.reading.lexicon import bag, longest
from bot.reading.scene import Scene, compiled

WOOD = (
    r"(?:splits?|logs?|woods|pieces?|sticks?|billets?|chunks?|lumps?|bits?|staves?|lengths?|rounds?|quarters"
    r"|branches|branch|faggots?)"
)


SIZE = (
    r"(?:small|big|large|little|thin|thick|fat|good|dry|more|half|decent|chunky|tiny|wee|medium|whole"
    r"|skinny|split|size|sized|fresh|further|extra|nice|seasoned|of|wood|short|long|kiln|dried|another"
    r"|of the)"
)


_BEFORE_SPECIES = bag(
    "of with some and a dry , small big large little thin thick fat good chunky short long half wee tiny"
)


def word_of_item(scene: Scene, at: int) -> str:
    """The word of an item, articles passed over."""
    while at < len(scene.items) and scene.items[at].word in ("the", "our", "my", "a"):
        at += 1
    return scene.items[at].word if at < len(scene.items) else ""


def wood_behind(scene: Scene, at: int, *, lit: bool) -> tuple[dict[str, Any], int]:
    """Weight, pieces and species that follow: "lit the dome, 1.2 kg in", "fed the barrel, 2 splits of ash"."""
    fields: dict[str, Any] = {}
    _, stop = scene.sentence(at) if at < len(scene.items) else (at, at)
    last = at
    here = at
    while here < stop:
        item = scene.items[here]
        if scene.moods[here] != "fact" or scene.used[here]:
            break
        if item.kind == "K" and "wood_kg" not in fields and not _meat(scene, here):
            fields["wood_kg"] = item.value
            last = here + 1
        elif (
            item.kind == "N"
            and item.value.value % 0.5 == 0
            and "pieces" not in fields
            and _pieces_follow(scene, here, bare=not lit)
        ):
            fields["pieces"] = scene.number(f"N{here}")
            last = here + 1
        elif item.kind == "" and item.word in ("a", "an", "another") and _pieces_follow(scene, here, bare=False):
            fields["pieces"] = 1
            last = here + 1
        elif (
            item.kind == ""
            and longest(item.words, "wood", "species")
            and (
                here == at or scene.items[here - 1].word in _BEFORE_SPECIES or scene.items[here - 1].kind in ("K", "N")
            )
        ):
            if "species" in fields:
                break
            words = scene.row.words(here, min(here + 2, stop))
            length = 2 if len(words) == 2 and longest(words, "wood", "species") == (0, 2) else 1
            fields["species"] = " ".join(words[:length])
            here += length - 1
            last = here + 1
        elif item.kind == "" and (
            item.word
            in bag(
                "well with of on in to start using and at it about around wood up some dry big small good large "
                "roughly approx circa more kindling just now thick thin chunky short long wee tiny "
                "little for first begin off plus gave put got then straight "
                "logs splits bits pieces split log piece stick sticks load going fat armful bundle burning since from"
            )
            or item.word in ("the",)
        ):
            if item.word in ("at", "it") and lit is False and "wood_kg" in fields:
                break
        elif item.kind == "." and item.word in (",", "-", "(", ")", "+", ":"):
            if not _wood_next(scene, here + 1, stop):
                break
        elif item.kind in ("T", "A"):
            pass
        else:
            break
        here += 1
    return fields, last


def _wood_next(scene: Scene, at: int, stop: int) -> bool:
    """Whether the piece behind a comma still tells of wood."""
    words: list[str] = []
    has_amount = False
    for here in range(at, stop):
        item = scene.items[here]
        if item.kind == ".":
            break
        if item.kind in ("D", "P", "O", "H", "L"):
            return False
        has_amount = has_amount or item.kind in ("K", "N")
        words += item.words
    woody = (
        bool(set(words) & bag("wood split splits log logs piece pieces start kindling sticks armful"))
        or longest(words, "wood", "species") is not None
    )
    weighed = any(scene.items[here].kind == "K" for here in range(at, min(stop, at + 4)))
    return (has_amount and (woody or weighed)) or (
        woody
        and bool(words)
        and not set(words) & {"embers", "raked", "out"}
        and longest(words, "wood", "species") is not None
        and len(words) <= 3
    )


def _meat(scene: Scene, at: int) -> bool:
    return any(item.kind == "D" for item in scene.items[at + 1 : at + 4])


def _pieces_follow(scene: Scene, at: int, *, bare: bool) -> bool:
    match = compiled(rf"(?:<N>|a|an|another)(?: {SIZE})*(?: (?P<sp>[a-z]+))?(?: {WOOD})").match(
        scene.row.canon, scene.row.offset(at)
    )
    if match is not None and compiled(r"(?: ?of)? ?kindling").match(scene.row.canon, match.end() + 1):
        return False
    kind = compiled(r"<N> (?P<sp>[a-z]+(?: [a-z]+)?)(?= ?(?:$|[.,;!|]|at|<T>))").match(
        scene.row.canon, scene.row.offset(at)
    )
    if kind is not None and longest(kind["sp"].split(), "wood", "species") == (0, len(kind["sp"].split())):
        return True
    if match is not None:
        species = match.group("sp")
        return species is None or longest((species,), "wood", "species") is not None
    return (
        bare
        and compiled(r"<N>(?: more)?(?= ?(?:$|[.,;!|]|at|now|<T>))").match(scene.row.canon, scene.row.offset(at))
        is not None
    )
