"""Clauses that no other rule read anything from, to be understood by what is in them, whatever its order.

Every word of such a clause has to be accounted for: one word that is in none of the lists leaves it unread.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from bot.reading.heats_composed import stretches
from bot.reading.items import FILLERS
from bot.reading.lexicon import bag
from bot.reading.scene import Scene
from bot.reading.subjects import is_stuff

# What may stand beside any act and changes nothing of it.
SAYS_NOTHING = FILLERS | bag(
    "the a an our my your this that these those i we he she they it him her them his its 's is are was were am has "
    "have had been be being got get did now just already again finally too also here there all both then so ok okay "
    "right well and at by about around since from of for me us lot whole thing together nicely safely carefully "
    "straight properly good fine quick quickly last time once more chef team everyone update done of job 've ago "
    "before as soon first second next still only early late bit earlier "
)
PUT = bag(
    "put placed set sat sitting sits popped stuck slid slipped shoved pushed loaded tucked parked chucked bunged slung "
    "dropped lowered gone went go goes going come came taken took pulled lifted brought fetched carried moved landed "
    "returned nestled standing stood given gave"
)


_WHOSE = bag("the our my a its it 's his their")


@dataclass(frozen=True)
class Clause:
    """One clause: its plain words, and the items of every other kind."""

    scene: Scene
    first: int
    last: int
    words: frozenset[str]
    found: dict[str, list[int]]

    def says_only(self, *words: frozenset[str]) -> bool:
        """Whether every word is one of these or says nothing."""
        return not self.words - SAYS_NOTHING.union(*words) - self.people

    def has_only(self, kinds: str) -> bool:
        """Whether every item is a plain word, a time or of these kinds."""
        return not set(self.found) - set(kinds + "TA")

    @property
    def people(self) -> frozenset[str]:
        return frozenset(word.lower() for name in self.scene.context.people for word in name.split())

    @property
    def dishes(self) -> list[str]:
        return [str(self.scene.items[n].value) for n in self.found.get("D", ()) if not is_stuff(self.scene, n)]

    @property
    def ovens(self) -> list[str]:
        return [str(self.scene.items[n].value) for n in self.found.get("O", ())]

    @property
    def oven(self) -> str | None:
        return next(iter(self.ovens), None)

    @property
    def dish(self) -> str | None:
        return next(iter(self.dishes), None)

    def word_before(self, at: int) -> str:
        """The word before an item, articles left out."""
        while at > self.first and self.scene.items[at - 1].word in _WHOSE:
            at -= 1
        return self.scene.items[at - 1].word if at > self.first else ""


def unread(scene: Scene) -> Iterator[Clause]:
    """The clauses that are still wholly unread, the longer runs of them first."""
    for first, last in stretches(scene):
        while first < last and _joint(scene, first):
            first += 1
        while last > first and _joint(scene, last - 1):
            last -= 1
        if first == last or any(scene.used[first:last]) or not _whole(scene, first, last):
            continue
        clause = _clause(scene, first, last)
        if clause is not None:
            yield clause


def _whole(scene: Scene, first: int, last: int) -> bool:
    """Whether nothing of the clause stands outside, taken by another rule or not told at all."""
    return (first == 0 or _joint(scene, first - 1)) and (last == len(scene.items) or _joint(scene, last))


def _joint(scene: Scene, at: int) -> bool:
    item = scene.items[at]
    return item.kind == "." or (item.kind == "" and item.word in ("and", "but", "then", "so"))


def _clause(scene: Scene, first: int, last: int) -> Clause | None:
    found: dict[str, list[int]] = {}
    words: set[str] = set()
    for at in range(first, last):
        item = scene.items[at]
        if item.kind == "." and item.word not in (",", ":", "-"):
            return None
        if item.kind == "":
            words.add(item.word)
        elif item.kind != ".":
            found.setdefault(item.kind, []).append(at)
    if not words or len(found.get("T", ())) + len(found.get("A", ())) > 1:
        return None
    return Clause(scene, first, last, frozenset(words), found)
