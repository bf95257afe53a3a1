"""Which of several probings of one dish tells: "thigh 65, breast 76" is a bird at 65.

A dish is cooked where it is coldest and cooled where it is warmest (safety reference: the coldest point counts in
heating, the warmest in cooling), so of what one message tells of the same dish only that is reckoned with. The log
keeps all.
"""
from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import replace

from skills import vocabulary as v
from skills.dated import Dated

SIMMERS_C = 85.0        # liquor that is called simmering is no colder than this (common practice, no source)


def telling(facts: Sequence[Dated]) -> list[Dated]:
    """The facts without the probings that a colder one of the message outdoes (a warmer one, once it is cooled)."""
    facts = [_of_the_liquor(dated, facts) for dated in facts]
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


def _of_the_liquor(dated: Dated, facts: Sequence[Dated]) -> Dated:
    """ "venison simmering, 96": the heat told with a simmer is the liquor's; the pieces may be far behind it."""
    fact = dated.fact
    if not isinstance(fact, v.Food) or fact.part is not None or fact.celsius < SIMMERS_C:
        return dated
    beside = any(isinstance(each.fact, v.Check) and each.fact.simmer in ("gentle", "hard") and each.fact.tender is None
                 for each in facts if each.message == dated.message and each.dish == dated.dish)
    return replace(dated, fact=fact.model_copy(update={"part": "liquid"})) if beside else dated


def _celsius(dated: Dated) -> float:
    assert isinstance(dated.fact, v.Food)
    return float(dated.fact.celsius)
