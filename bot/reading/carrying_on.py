"""A message that goes on with what its sender said a moment before: "lamb core 88", then "giving now"."""

from __future__ import annotations

from datetime import timedelta

from bot.reading.lexicon import bag
from bot.reading.scene import Scene

A_MOMENT = timedelta(minutes=2)


def carry_on(scene: Scene) -> None:
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
