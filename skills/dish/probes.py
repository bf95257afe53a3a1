"""Which of several probings of one dish tells: "thigh 65, breast 76" is a bird at 65.

A dish is cooked where it is coldest and cooled where it is warmest (safety reference: the coldest point counts in
heating, the warmest in cooling), so of what one message tells of the same dish only that is reckoned with. The log
keeps all.
"""
from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence

from skills import vocabulary as v
from skills.dated import Dated


def telling(facts: Sequence[Dated]) -> list[Dated]:
    """The facts without the probings that a colder one of the message outdoes (a warmer one, once it is cooled)."""
    told: defaultdict[tuple[str, str], list[Dated]] = defaultdict(list)
    for dated in facts:
        if isinstance(dated.fact, v.Food) and dated.fact.part != "liquid" and dated.dish is not None:
            told[dated.message, dated.dish].append(dated)
    outdone: set[tuple[str, int]] = set()
    for (_, dish), several in told.items():
        at_once = [dated for dated in several if dated.at == several[0].at]
        if len(at_once) > 1:
            cooled = any(isinstance(each.fact, v.Chill) and each.dish == dish and each.at < at_once[0].at
                         for each in facts)
            kept = (max if cooled else min)(at_once, key=_celsius)
            outdone |= {(dated.message, dated.index) for dated in at_once if dated is not kept}
    return [dated for dated in facts if (dated.message, dated.index) not in outdone] if outdone else list(facts)


def _celsius(dated: Dated) -> float:
    assert isinstance(dated.fact, v.Food)
    return float(dated.fact.celsius)
