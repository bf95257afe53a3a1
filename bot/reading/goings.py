"""Who goes and who comes, and when: "off home", "locks up at nine", "see you at half six"."""

from __future__ import annotations

import re
from datetime import datetime

from bot.reading.clock_times import Clock, coming
from bot.reading.context import Context
from bot.reading.items import Row
from bot.reading.normalise import plain
from bot.reading.tokens import row_of

_BETWEEN = r"(?: (?:tomorrow|tonight|in|the|morning|again|all|we|out|here|now|then))*?"
_AT = rf"{_BETWEEN}(?: (?:at|by|from|about|around|for))? (?P<at>[TN]\d+)"
_ENDS = r"(?= ?(?:$|[,.;]))"
# Nobody who says this is there much longer.
_GOES = re.compile(
    r"\b(?:(?:off|going|heading|gone|all|away|drive) home|home time|(?:i am|i 'm|we are|we 're|i|we) (?:away|leaving|"
    rf"(?:heading |now )?off(?:(?= (?:now|all|then|see|x))|{_ENDS}))|heading (?:off|out){_ENDS}|"
    rf"lock(?:ing|ed)(?: [a-z]+)? up|(?:good ?)?night(?: night)?(?: all| x| team| everyone| folks){_ENDS}|"
    rf"(?:^|[,.] )(?:good ?|n)?night{_ENDS}|(?:^|[,.] )bed{_ENDS}|"
    r"see you(?: all)? (?:tomorrow|in the morning|in morning|(?:at )?T\d))"
)
_GOES_AT = re.compile(
    r"\b(?:locks?(?: [a-z]+)? up|locking up|leav(?:e|es|ing)|(?<!door )(?<!lid )off(?: home)?|go(?:es)?|gone|home|"
    rf"everyone (?:out|off|gone)|shut(?:s|ting)?(?: the)? gate){_AT}"
)
_COMES_AT = re.compile(
    r"\b(?:see you|back|(?<!\S)P\d+|opens?(?: [a-z]+)? up|opening up|(?:nobody|no one|noone|none)(?: 's| is)?"
    r"(?: here| in| about| back)?(?: till| until)|[a-z]+(?: 'll be| will be| 's| is| are| am)? (?:in|here|back))"
    rf"{_AT}"
)


def goings(text: str, now: datetime) -> tuple[str | None, str | None]:
    """When people go and when somebody comes, as "HH:MM" each; None: not said.

    >>> at = datetime.fromisoformat("2026-05-16T20:35:00+01:00")
    >>> goings("last one out locks up at nine, Idris opens up half seven", at)
    ('21:00', '07:30')
    """
    row = row_of(text, plain(text), Context(now))
    comes = _time(_COMES_AT.search(row.canon), row, now)
    goes = _time(_GOES_AT.search(row.canon), row, now)
    if goes is None and _GOES.search(row.canon):
        goes = f"{now:%H:%M}"
    return goes, comes


_WATCHES = re.compile(
    r"\b(?:(?:sleep(?:ing|s)?|kip(?:ping|s)?|camp(?:ing|s)?|bed(?:ding)? down|stay(?:ing|s)?|bunk(?:ing|s)?)"
    r"(?: \w+){0,2}? (?:here|on site|overnight with|by the (?:oven|dome|barrel|fire)s?|in the (?:loft|yard|barn|van|hut"
    r"|shed|cabin|bothy|bunkhouse|tent|house)|next to it|with it|over|up (?:with|all night))"
    r"|alarms?(?: \w+){0,3} every|(?:every|each) (?:\w+ )?(?:h|hrs?|hours?) (?:all night|through the night|overnight"
    r"|tonight)"
    r"|(?:up|checking|check it|look in|read it|reading it|probe it) every (?:\w+ )?(?:h|hrs?|hours?)"
    r"|night (?:watch|shift|duty)|watch(?:ing)? it (?:all night|through the night|overnight)"
    r"|(?:there|here|up|with it) (?:all night|through the night|right through))\b"
)
_NOT_HERE = re.compile(r"\b(?:no|not|nobody|no one|none|won't|wont|isn't|can't|if|should|who|who's|could)\b")


def watches(text: str) -> bool:
    """Whether somebody says to stay with the ovens through the night, or to look in every few hours.

    >>> watches("I'm sleeping in the loft, alarm set for every 3 hrs"), watches("nobody here all night")
    (True, False)
    """
    said = text.lower().replace("\u2019", "'")
    return "?" not in said and bool(_WATCHES.search(said)) and not _NOT_HERE.search(said)


def _time(found: re.Match[str] | None, row: Row, now: datetime) -> str | None:
    if found is None:
        return None
    item = row.items[int(found["at"][1:])]
    said = item.value if isinstance(item.value, Clock) else None
    if item.kind == "N" and item.value.clock is not None and 1 <= item.value.clock[0] <= 23:
        said = Clock(*item.value.clock)
    return coming(said, now) if said is not None else None
