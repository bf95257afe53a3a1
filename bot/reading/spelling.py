"""Slips of the thumb: a word that is nobody's word but stands one slip from one of ours becomes ours.

Ordinary English words are left alone, however near they are ("moor" is no floor, "lids" no lit): ordinary.txt
lists those that stand within one slip of a word of ours.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from functools import cache, lru_cache
from importlib import resources

from rapidfuzz import process
from rapidfuzz.distance import OSA

from bot.reading.lexicon import bag, split_words, table

SHORTEST = 4


@cache
def ordinary_words() -> frozenset[str]:
    text = resources.files("bot.reading").joinpath("ordinary.txt").read_text(encoding="utf-8")
    return frozenset(line for line in text.split() if line)


@cache
def own_words() -> frozenset[str]:
    """Every word that stands somewhere in the lexicon."""
    words = table()
    found: set[str] = set()
    for section in words.values():
        for phrases in section.values():
            for phrase in phrases:
                found.update(split_words(phrase))
    return frozenset(found)


@cache
def _targets() -> tuple[str, ...]:
    return tuple(sorted(set(table()["slips"]["words"])))


@lru_cache(maxsize=4096)
def _mended(word: str) -> str | None:
    if len(word) < 3 or word in ordinary_words() or word in own_words():
        return None
    return shortened(word, _skeletons()) or nearest(word, _targets()) or _jumbled().get(_letters(word))


# Places, gear and acts that are written without their vowels: "flr", "brl", "hrth", "splt".
_SHORTENED = (
    "floor hearth ceiling crown dome barrel thermometer temperature probe split splits kindling lamb beans brisket "
    "shoulder shank shanks chicken stock litre litres core liquor liquid pot oven fridge raked spread lit turned "
    "browned tender simmer guests embers mouth laser"
)
_VOWELS = re.compile(r"[aeiou]")
_DOUBLES = re.compile(r"(.)\1+")


def skeleton(word: str) -> str:
    """A word without its vowels and doubled letters.

    >>> skeleton("barrel"), skeleton("oven")
    ('brl', 'ovn')
    """
    return _DOUBLES.sub(r"\1", word[0] + _VOWELS.sub("", word[1:]))


def shortened(word: str, skeletons: Mapping[str, str]) -> str | None:
    """The word that was written without vowels: "hrth" is hearth."""
    if len(word) < 3 or _VOWELS.search(word[1:]):
        return None
    return skeletons.get(_DOUBLES.sub(r"\1", word))


def skeletons_of(words: Iterable[str]) -> Mapping[str, str]:
    """Skeletons of three letters and more, each with the one word that it stands for."""
    found: dict[str, str | None] = {}
    for word in words:
        bones = skeleton(word)
        if len(bones) >= 3 and bones != word:
            found[bones] = None if bones in found and found[bones] != word else word
    return {bones: word for bones, word in found.items() if word is not None}


@cache
def _skeletons() -> Mapping[str, str]:
    return skeletons_of(_SHORTENED.split())


def _letters(word: str) -> str:
    """First and last letter and the letters between them in order: the same for "pobre" and "probe"."""
    return word[0] + "".join(sorted(word[1:-1])) + word[-1]


@cache
def _jumbled() -> Mapping[str, str]:
    return {_letters(word): word for word in _targets() if len(word) >= 5}


def nearest(word: str, targets: Iterable[str]) -> str | None:
    """The one target that is a slip away: one slip in a short word, two in a long one with the same beginning."""
    most = 2 if len(word) >= 8 else 1
    found = process.extract(word, list(targets), scorer=OSA.distance, score_cutoff=most, limit=2)
    found = [each for each in found if each[1] == 1 or each[0][:2] == word[:2]]
    if not found or (len(found) == 2 and found[0][1] == found[1][1]):
        return None
    return str(found[0][0]) if len(found[0][0]) >= SHORTEST else None


# "leavin", "boilin": the g is dropped as it is in speech.
_GERUNDS = bag(
    "leaving sitting keeping holding starting going coming feeding cooking boiling simmering eating serving resting "
    "warming cooling heating chilling lighting doing looking having reheating putting turning burning raining blipping "
    "ticking bubbling standing giving getting running watching taking bringing moving opening closing shutting adding "
    "saying reading dropping falling climbing rising sliding browning searing raking spreading firing teaching talking "
    "making using being waiting stoking topping propping finishing dying hanging minding checking needing wanting "
    "cracking steaming pouring spitting drying serving storing"
)


def mend(word: str, names: Iterable[str]) -> str:
    """The word that was meant; the word itself if it is a word, or nothing of ours is near.

    names: words of the room's own ovens and dishes.
    """
    if word.endswith("in") and word + "g" in _GERUNDS:
        return word + "g"
    if len(word) < 3 or word in ordinary_words():
        return word
    own = tuple(name for name in names if len(name) >= SHORTEST)
    if word in own:
        return word
    if own and word not in own_words():
        name = shortened(word, skeletons_of(own)) or nearest(word, own)
        if name is not None:
            return name
    return _mended(word) or word
