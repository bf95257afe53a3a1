"""A message that goes on with what its sender said a moment before: "lamb core 88", then "giving now"."""

from __future__ import annotations

from datetime import timedelta
from typing import Any

from bot.reading.lexicon import bag
from bot.reading.scene import Scene, compiled

A_MOMENT = timedelta(minutes=2)

# So long after a heat "now 168" goes on with it, if it is no further off [K]; common practice, no source.
STILL_THERE, MOST_MOVED_K = timedelta(minutes=30), 60.0
_SMALL = r"(?:(?:and|it|it 's|is|still|down|up|back|at|to|about|around|only) )*"
_NOW_HEAT = rf"(?:{_SMALL}now {_SMALL}<V>|(?:back )?(?:down|up) to <V>(?: now)?)(?: [.!])*"


def carry_on(scene: Scene) -> None:
    """What goes on with a message before it: a heat of the same spot, a check of the same dish."""
    _same_spot_now(scene)
    _same_dish(scene)


def _same_spot_now(scene: Scene) -> None:
    """ "air 175", then "now 168": the spot of the last message, if it told of one spot alone."""
    if scene.drafts or not scene.context.last or not compiled(_NOW_HEAT).fullmatch(scene.row.canon):
        return
    told = [fact.said() for fact in scene.context.last[-1].heard.facts]
    value = next(scene.number(f"{item.kind}{at}") for at, item in enumerate(scene.items) if item.kind in ("N", "H"))
    if len(told) != 1 or scene.context.now - scene.context.last[-1].at > STILL_THERE or value is None:
        return
    if told[0]["is"] == "reading" and "place" in told[0] and abs(value - told[0].get("celsius", -999)) <= MOST_MOVED_K:
        spot: dict[str, Any] = {key: told[0].get(key) for key in ("is", "oven", "place", "tool")}
        scene.add({**spot, "celsius": value}, 0, len(scene.items), "the same spot now")


def _same_dish(scene: Scene) -> None:
    """Give a check without a name the dish that its sender looked into just before."""
    open_ = [draft for draft in scene.drafts if draft.kind in ("check", "food") and "dish" not in draft.fields]
    if not open_ or len(scene.context.dishes) < 2 or any(item.kind == "D" for item in scene.items):
        return
    if not scene.context.last or scene.context.sender is None:
        return
    said = scene.context.last[-1]
    if said.who != scene.context.sender or scene.context.now - said.at > A_MOMENT:
        return
    looked = [fact for fact in said.heard.facts if fact.is_ in bag("food check")]
    names = {fact.dish for fact in said.heard.facts if fact.dish}
    if looked and len(names) == 1:
        for draft in open_:
            draft.fields["dish"] = next(iter(names))
