"""Which heat a dish of these words wants."""
from __future__ import annotations

import re

from skills.dish.cuts import DEFAULT, Cut, find_cut
from skills.dish.heats import DRYING, Heat

_DRYING = re.compile(r"\b(?:dry|drying|dried|dehydrat\w*)\b(?! ?(?:beans|pulses))")
# Words for a dish of which the cut is not said.
_BRAISES = re.compile(r"\b(?:braise\w*|stew\w*|pot|casserole|tagine|ragu|curry|main|dish|meat|joint|roast(?:ing)?"
                      r"|shoulder|dinner|lunch|supper)\b")


def heat_of(name: str | None, cut: str | None = None) -> tuple[Heat, Cut, bool]:
    """The heat of a dish, the cut that the models take it for, and whether its words were known.

    >>> heat_of("rice pudding")[0].name, heat_of("plums to dry")[0].name, heat_of("lamb")[0].name
    ('pudding', 'drying', 'braise')
    """
    if name and _DRYING.search(name.lower()):
        return DRYING, DEFAULT, True
    found, known = find_cut(cut, name)
    if not known:
        known = any(text and _BRAISES.search(text.lower()) for text in (cut, name))
    return found.finish.heat, found, known
