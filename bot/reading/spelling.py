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


@cache
def rule_words() -> frozenset[str]:
    """Every word of four letters and more that a rule looks for, the small words of mood and number among them."""
    text = resources.files("bot.reading").joinpath("rule_words.txt").read_text(encoding="utf-8")
    return frozenset(text.split()) | frozenset(word for word in own_words() if len(word) >= SHORTEST)


@cache
def table_words() -> frozenset[str]:
    """The words of the phrase tables: none of them is a slip of another."""
    found: set[str] = set()
    for file in resources.files("bot.reading").joinpath("phrase_tables").iterdir():
        if file.name.endswith(".toml"):
            found.update(re.findall(r"[a-z]{3,}", file.read_text(encoding="utf-8")))
    return frozenset(found)


@cache
def _yard() -> frozenset[str]:
    """Words that a kitchen message is likelier to mean than any other."""
    return frozenset(_targets())


@cache
def _dropped() -> Mapping[str, tuple[str, ...]]:
    """Rule words by what is left of them when one letter is dropped, so that one look-up finds the near ones."""
    found: dict[str, list[str]] = {}
    for word in sorted(rule_words()):
        for left in _one_dropped(word):
            found.setdefault(left, []).append(word)
    return {left: tuple(words) for left, words in found.items()}


def _one_dropped(word: str) -> set[str]:
    return {word, *(word[:at] + word[at + 1 :] for at in range(len(word)))}


# The rows of a keyboard, each shifted by about half a key against the one above.
_ROWS = ("qwertyuiop", "asdfghjkl", "zxcvbnm")


@cache
def _beside() -> frozenset[tuple[str, str]]:
    """Pairs of letters whose keys touch."""
    spots = {letter: (column + row / 2, row) for row, keys in enumerate(_ROWS) for column, letter in enumerate(keys)}
    return frozenset(
        (one, other)
        for one, (x, y) in spots.items()
        for other, (u, v) in spots.items()
        if one != other and abs(x - u) <= 1 and abs(y - v) <= 1
    )


def slip_cost(typed: str, word: str) -> float | None:
    """How unlikely a single slip from word to typed is: 0.5 to 1.3; None if it takes more than one.

    Two letters swapped and a letter doubled or halved are the commonest slips, then a neighbouring key.

    >>> slip_cost("barrle", "barrel"), slip_cost("barel", "barrel"), slip_cost("floir", "floor")
    (0.5, 0.5, 0.7)
    """
    start = 0
    while start < min(len(typed), len(word)) and typed[start] == word[start]:
        start += 1
    end = 0
    while end < min(len(typed), len(word)) - start and typed[-1 - end] == word[-1 - end]:
        end += 1
    left, right = typed[start : len(typed) - end], word[start : len(word) - end]
    late = 0.3 if start == 0 else 0.0
    if len(left) == len(right) == 2 and left == right[::-1]:
        return 0.5 + late
    if len(left) == len(right) == 1:
        if (left, right) in _beside():
            return 0.7 + late
        return 1.0 if start else None
    if {len(left), len(right)} == {0, 1}:
        letter = left or right
        longer = typed if left else word
        if start and longer[start - 1] == letter:
            return 0.5
        return (0.9 if left else 0.7 if letter in "aeiou" else 0.8) + late
    return None


def one_slip_away(typed: str) -> str | None:
    """The rule word that a single slip most likely made this of; None if there is none, "" if two are as likely."""
    found: dict[str, float] = {}
    yard = _yard()
    for left in _one_dropped(typed):
        for word in _dropped().get(left, ()):
            cost = slip_cost(typed, word)
            if cost is not None and word not in found and (len(typed) > 3 or typed[0] == word[0]):
                found[word] = cost + (0.2 if len(word) == SHORTEST and cost > 0.5 else 0.0) - 0.1 * (word in yard)
    ranked = sorted((cost, word) for word, cost in found.items())
    if not ranked or ranked[0][0] > 1.05:
        return None
    return "" if len(ranked) > 1 and ranked[1][0] - ranked[0][0] < 0.05 else ranked[0][1]


# Short words that are typed with a letter held down: "offf", "lidd", "irr".
_HELD = bag("ir in on off out lid pot lit fed air in not the and")


def _let_go(word: str) -> str | None:
    """The short word under a key that was held too long."""
    once = _DOUBLES.sub(r"\1", word)
    if once != word:
        if once in _HELD:
            return once
        twice = _DOUBLES.sub(r"\1\1", word)
        if twice != word and (twice in _HELD or twice in rule_words()):
            return twice
    return None


@lru_cache(maxsize=4096)
def _mended(word: str) -> str | None:
    if len(word) < 3 or word in ordinary_words() or word in own_words() or word in rule_words():
        return None
    sure = _let_go(word) or shortened(word, _skeletons()) or _undoubled().get(_DOUBLES.sub(r"\1", word))
    near = None if sure else one_slip_away(word)
    if near == "":
        return None
    return sure or near or nearest(word, _targets()) or _jumbled().get(_letters(word))


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


@cache
def _undoubled() -> Mapping[str, str]:
    """Rule words by what is left when no letter is doubled, those that stand alone there."""
    found: dict[str, str] = {}
    for word in sorted(rule_words()):
        once = _DOUBLES.sub(r"\1", word)
        found[once] = "" if once in found else word
    return {once: word for once, word in found.items() if word and len(once) >= SHORTEST}


def nearest(word: str, targets: Iterable[str]) -> str | None:
    """The one target that is a slip away: one slip in a short word, two in a long one with the same beginning."""
    most = 2 if len(word) >= 8 else 1
    found = process.extract(word, list(targets), scorer=OSA.distance, score_cutoff=most, limit=2)
    found = [each for each in found if each[1] == 1 or each[0][:2] == word[:2]]
    if not found or (len(found) == 2 and found[0][1] == found[1][1]):
        return None
    return str(found[0][0]) if len(found[0][0]) >= SHORTEST else None


def _doubled_elsewhere(word: str, names: Iterable[str]) -> str | None:
    """ "barell" for barrel: the letter that is doubled is the wrong one."""
    once = _DOUBLES.sub(r"\1", word)
    found = {name for name in names if once != word and _DOUBLES.sub(r"\1", name) == once}
    return found.pop() if len(found) == 1 else None


# "leavin", "boilin": the g is dropped as it is in speech.
_GERUNDS = bag(
    "leaving sitting keeping holding starting going coming feeding cooking boiling simmering eating serving resting "
    "warming cooling heating chilling lighting doing looking having reheating putting turning burning raining blipping "
    "ticking bubbling standing giving getting running watching taking bringing moving opening closing shutting adding "
    "saying reading dropping falling climbing rising sliding browning searing raking spreading firing teaching talking "
    "making using being waiting stoking topping propping finishing dying hanging minding checking needing wanting "
    "cracking steaming pouring spitting drying serving storing"
)


@lru_cache(maxsize=1024)
def _drops_its_g(word: str) -> bool:
    """ "rakin", "provin": with its g the word is one of ours, and without it nobody's."""
    ours = rule_words() | table_words() | own_words()
    return len(word) > 4 and word + "g" in ours and word not in ours | ordinary_words()


_COUNTED = ("guests", "guest", "people", "splits", "split", "logs", "litres", "litre", "minutes", "degrees", "seconds")


def counted_thing(word: str) -> str | None:
    """ "12 gest", "3 spits": what was counted, where a slip stands right behind a number and is nobody's word."""
    if len(word) < 4 or word in ordinary_words() or word in rule_words() or word in own_words():
        return None
    costs = sorted((cost, thing) for thing in _COUNTED if (cost := slip_cost(word, thing)) is not None)
    return costs[0][1] if costs and costs[0][0] <= 1.05 else None


def mend(word: str, names: Iterable[str]) -> str:
    """The word that was meant; the word itself if it is a word, or nothing of ours is near.

    names: words of the room's own ovens and dishes.
    """
    if word.endswith("in") and (word + "g" in _GERUNDS or _drops_its_g(word)):
        return word + "g"
    if len(word) < 3 or word in ordinary_words() or word in rule_words() or word in table_words():
        return word
    own = tuple(name for name in names if len(name) >= SHORTEST)
    if word in own:
        return word
    if own and word not in own_words():
        name = shortened(word, skeletons_of(own)) or nearest(word, own) or _doubled_elsewhere(word, own)
        if name is not None:
            return name
    return _mended(word) or word
