"""Somebody is unwell in a way that carbon monoxide makes people: heard beside what a message says, never written down.

Headache, dizziness, sickness, faintness: the signs that health advice names (flu without a fever, from memory).
"""

from __future__ import annotations

import re

_UNWELL = re.compile(
    r"\b(?:head ?-?aches?|migraine|(?:thumping|pounding|banging|splitting|throbbing|sore|thick"
    r"|fuzzy|foggy|woolly|muzzy|heavy) heads?"
    r"|dizz(?:y|iness)|giddy"
    r"|head(?:'?s| is)(?: \w+)? (?:banging|pounding|splitting|thumping|throbbing|spinning|swimming|sore)"
    r"|light[ -]?headed(?:ness)?|woozy|groggy"
    r"|(?:been|being|was|were|got) sick|thr(?:ew|own|owing) up|vomit(?:ed|ing|s)?"
    r"|nause(?:a|ous|ated)|faint(?:ed|ing)|pass(?:ed|ing) out|collapsed|keeled over"
    r"|(?:feel|feels|feeling|felt|gone|looks?|looking) (?:a bit |really |very |quite |rather |all |so )?"
    r"(?:faint|sick|ill|queasy|unwell|drowsy|peaky|off colou?r)|feel(?:ing)? (?:a bit |really |very )?(?:funny|rough)"
    r"|(?:co|monoxide) alarm(?:'?s| is| has|)? (?:going|gone|went|beep|sound|ring|off|scream|chirp)\w*)\b"
)
_NOT = re.compile(
    r"\b(?:no|not|never|kidding|joking|messing|haha"
    r"|lol|without|any|if|gives? me|giving me|what an?|(?:a|real|such a|bit of a) (?:\w+ )?headache"
    r"(?= (?:of|for|to|with|this|that)\b)|sick of|yesterday|last (?:night|week|year|time)|gone now|better now|cleared"
    r"|passed out (?:the|a|plates|bowls|forks|leaflets|sheets|aprons)|test\w*)\b"
)


def unwell(text: str) -> bool:
    """Whether somebody is said to be unwell so, here and now.

    >>> unwell("bit of a headache by the barrel"), unwell("no headaches today"), unwell("anyone dizzy?")
    (True, False, False)
    """
    plain = text.lower().replace("\u2019", "'")
    return "?" not in plain and bool(_UNWELL.search(plain)) and not _NOT.search(plain)
