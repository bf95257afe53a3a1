"""What a correction takes back: "not 148", "not the dome", "instead of two"."""

from __future__ import annotations

from bot.reading.lexicon import bag
from bot.reading.scene import Scene


def denied_values(scene: Scene, first: int, last: int) -> list[tuple[int, int]]:
    """ "not 148", "not the dome", "instead of two": the wrong value, dropped from what is told."""
    found: list[tuple[int, int]] = []
    items = scene.items
    value_kinds = {"N", "H", "K", "L", "C", "T", "U", "M", "A"}
    for at in range(first, last - 1):
        word = items[at].word
        if items[at].kind != "" or word not in bag("not instead than isn't wasn't"):
            continue
        if word == "than" and items[at - 1].word != "rather":
            continue
        end = at + 1
        while end < last - 1 and items[end].kind == "" and items[end].word in bag("the at of on in a an that about"):
            if items[end].word in ("on", "in") and items[end + 1].kind in ("", "."):
                break  # "not on, sorry": the state itself
            end += 1
        if end >= last:
            continue
        begin = at
        if word in ("isn't", "wasn't"):
            continue
        kind = items[end].kind
        others = [item for number, item in enumerate(items[first:last], start=first) if not begin <= number <= end]
        if kind in value_kinds:
            family = {"N", "H"} if kind in ("N", "H") else {kind, "N"} if kind in ("K", "L", "C", "T", "U") else {kind}
            if not any(item.kind in family or (kind == "N" and item.kind in value_kinds) for item in others):
                continue
            stop = end + 1
            said = {item.word for item in items[first:at]}
            while (
                stop < last
                and items[stop].kind == ""
                and items[stop].word in bag("guests people splits split logs kg ml oclock minutes count pieces")
                and (kind != "N" or said & bag("guests people splits split logs count pieces"))
            ):
                stop += 1
            found.append((begin, stop))
        elif (
            kind == ""
            and items[end].word in bag("c f celsius fahrenheit centigrade")
            and any(item.kind in ("H", "N") for item in items[first:at])
        ):
            found.append((begin, end + 1))
        elif kind in ("O", "D", "P"):
            if any(item.kind == kind for item in others) or (
                kind in "OP" and any(item.kind in "OP" for item in others)
            ):
                found.append((begin, end + 1))
        elif (
            kind == ""
            and items[end].word
            in bag(
                "on off ajar shut open closed in out flour ash oak birch beech wet dry cold hot warm clay iron "
                "tender tough giving"
            )
            and any(
                item.kind == ""
                and item.word
                in bag(
                    "on off ajar shut open closed in out cornflour ash oak birch beech wet dry cold hot warm "
                    "clay iron alder hornbeam apple steel enamel propped tender tough giving"
                )
                for item in others
            )
        ):
            found.append((begin, end + 1))
    return found
