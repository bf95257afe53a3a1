"""How it looks inside: "juices running pink", "still raw at the bone". Kept as a note in its words, for what that means
depends on the meat (skills/safety/watch.py: a bird or pork that is pink is not heated through).
"""

from __future__ import annotations

from bot.reading.lexicon import bag
from bot.reading.scene import Scene, clean

_RAW = bag("pink raw bloody blood rare pinkish undercooked")
# Of a whole dish these say how it is inside; "raw chicken in the fridge" says that it is not cooked yet.
_BY_ITSELF = bag("pink bloody pinkish undercooked")
_INSIDE = bag("juices juice middle bone inside joint thigh thighs centre center leg breast flesh core "
              "meat running through")
_NO_MORE = bag("no not never without nothing none clear gone any isn't wasn't aren't lovely nice nicely "
               "perfect perfectly onion onions wine peppercorns")


def raw_inside(scene: Scene) -> None:
    """A sentence that tells of raw looks inside, or of a dish that is pink."""
    if not scene.has_any(_RAW):
        return
    for first, last in scene.sentences:
        for begin, end in {scene.segment(n) for n in range(first, last)}:
            words = {word for item in scene.items[begin:end] for word in item.words}
            dish = any(item.kind == "D" for item in scene.items[begin:end])
            inside = bool(words & _INSIDE) or (dish and bool(words & _BY_ITSELF))
            told = bool(words & _RAW) and inside and not words & _NO_MORE
            if not told or scene.items[last - 1].word == "?" or "silent" in scene.moods[begin:end] \
                    or "question" in scene.moods[begin:end]:
                continue
            if any(draft.kind in ("stage", "pot", "load", "guests") and begin <= draft.first < end
                   for draft in scene.drafts):
                continue
            scene.add({"is": "note", "text": clean(scene.row.text(begin, end)).strip(" .")}, begin, end, "raw inside",
                      keep=True)
