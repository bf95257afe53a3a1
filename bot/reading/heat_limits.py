"""How hot anything in the yard can be, and the plain line for what is beyond it."""

from __future__ import annotations

import re

from bot.reading.numbers import Number
from bot.reading.scene import Draft, Scene

# Highest and lowest heats that anything in the yard can show [degC]: flame and embers reach about 1000 (handbook
# values for wood flames 800 to 1000, from memory); beyond it a digit is too many.
LIMITS = {"reading": (-30.0, 1000.0), "food": (-30.0, 300.0), "store": (-40.0, 150.0), "weather": (-50.0, 60.0)}


# Nobody tells the heat of a wall below this [degC]; common practice, no source.
LEAST_WALL_C = 40.0


_TO_THE_MINUTE = re.compile(r"\d{1,2}[.:][0-5]\d")


def typed_to_the_minute(scene: Scene, at: int) -> bool:
    """ "3.35": as a time is typed; no fridge is read to a hundredth."""
    return scene.items[at].kind == "N" and _TO_THE_MINUTE.fullmatch(scene.message_of(scene.items[at])) is not None


def value_of(scene: Scene, at: int) -> float:
    item = scene.items[at]
    return item.value.value if isinstance(item.value, Number) else float(item.value)


def check_limits(scene: Scene, draft: Draft) -> bool:
    low, high = LIMITS[draft.kind]
    value = draft.fields["celsius"]
    if draft.kind == "reading" and value < LEAST_WALL_C and [scene.items[n].words for n in range(
            draft.first, draft.last) if scene.items[n].kind == "P"] == [("left",)]:
        scene.drafts.remove(draft)  # "coals spread and left 20"
        return False
    if low <= value <= high:
        return True
    scene.drafts.remove(draft)
    number = f"{value:g}"
    what = {
        "reading": str(draft.fields.get("place", "that")),
        "food": "food",
        "store": "a fridge or hot cupboard",
        "weather": "weather",
    }[draft.kind]
    subject = what[:1].upper() + what[1:]
    scene.trouble = (
        f"{subject} {number} is beyond any brick oven: nothing recorded of it. Write it again, such as 'floor 180'."
        if draft.kind == "reading"
        else f"{number} is beyond what {what} can be: nothing recorded of it. Write it again, such as 'core 88'."
    )
    return False
