"""Numbers with their units: heats, weights, volumes, lengths and lengths of time, each one item of the row."""

from __future__ import annotations

import re
from collections.abc import Sequence

from bot.reading import numbers, units
from bot.reading.clock_times import Clock
from bot.reading.items import Item
from bot.reading.joining import is_number, join_items, word_at
from bot.reading.lexicon import bag

_COUNTED = {"couple": 2.0, "pair": 2.0, "dozen": 12.0}


_KINDS: dict[units.Kind, str] = {
    "kg": "K",
    "litre": "L",
    "cm": "C",
    "minute": "U",
    "second": "S",
    "percent": "M",
    "degree": "H",
    "celsius": "H",
    "fahrenheit": "H",
}


def find_quantities(items: list[Item]) -> list[Item]:
    """Numbers with their units become one item; fractions, halves and "a couple of" too."""
    at = 0
    while at < len(items):
        if _amount_phrase(items, at):
            pass
        if items[at].kind == "N":
            _mixed(items, at)
            _with_unit(items, at)
        elif items[at].word in ("minus", "negative") and is_number(items, at + 1):
            number = items[at + 1].value
            join_items(items, at, at + 2, "N", numbers.Number(-number.value))
            _with_unit(items, at)
        elif items[at].kind == "":
            _bare_unit(items, at)
        at += 1
    _ranges(items)
    _pronouns(items)
    return items


_BEFORE_ONE = bag(
    "no any every some last that this the wrong late good earlier first new next door previous other "
    "latest which hanging left right"
)


def _pronouns(items: list[Item]) -> None:
    """ "that last one", "the floor one should say 178": no number."""
    for at in range(1, len(items)):
        item = items[at]
        if item.kind != "N" or item.words != ("one",):
            continue
        after = word_at(items, at + 1)
        if items[at - 1].word in bag("half past to at quarter till by for"):
            continue
        led = items[at - 1].kind == "" and items[at - 1].word in _BEFORE_ONE
        if (led and after not in _COUNTABLE) or after in ("should", "was", "not", "again"):
            items[at] = Item("", "one", item.start, item.end)


# A joint of this weight has one figure behind its point and no unit: "lamb is 3.2 bone in", "3.2 of lamb" [kg].
_LEAST_KG, _MOST_KG = 0.3, 12.0
_WEIGHS = bag("is 's weighs weighed weighing are")


def weighed(items: list[Item]) -> list[Item]:
    """Such a number behind or before the name of a dish is its weight; of two figures it would be a time."""
    for at, item in enumerate(items):
        if item.kind != "N" or not re.fullmatch(r"\d{1,2}\.\d", item.word):
            continue
        named = at > 1 and items[at - 1].word in _WEIGHS and items[at - 2].kind == "D"
        weighs = at > 0 and items[at - 1].word in _WEIGHS - {"is", "'s", "are"}
        of_dish = word_at(items, at + 1) == "of" and at + 2 < len(items) and items[at + 2].kind == "D"
        in_all = word_at(items, at + 1) in ("total", "altogether") and any(each.kind == "D" for each in items[:at])
        if (named or weighs or of_dish or in_all) and _LEAST_KG <= item.value.value <= _MOST_KG:
            items[at] = Item("K", item.word, item.start, item.end, item.value.value, item.words)
    return items


_COUNTABLE = bag("split splits log logs coeliac guest person piece small big more nut with hundred kg count")


def _amount_phrase(items: list[Item], at: int) -> bool:
    """ "half a litre", "a couple of", "three quarters of an hour", "half a dozen" """
    word = word_at(items, at)
    if word in _COUNTED or (word == "a" and word_at(items, at + 1) in _COUNTED):
        end = at + (2 if word == "a" else 1)
        counted = _COUNTED[word_at(items, end - 1)]
        if word_at(items, end) == "of":
            end += 1
        elif word not in _COUNTED and counted == 2.0 and not items[end : end + 1]:
            return False
        join_items(items, at, end, "N", numbers.Number(counted, words=True))
        return True
    if word in ("half", "quarter", "third"):
        part = {"half": 0.5, "quarter": 0.25, "third": 1 / 3}[word]
        end = at + 1
        if word_at(items, end) == "of":
            end += 1
        if word_at(items, end) in ("a", "an"):
            end += 1
        unit = word_at(items, end)
        if unit in _COUNTED:
            join_items(items, at, end + 1, "N", numbers.Number(part * _COUNTED[unit], words=True))
            return True
        if unit in units.UNITS and (end > at + 1 or unit not in ("past", "to")):
            if unit in ("second", "seconds"):
                return False
            join_items(items, at, end, "N", numbers.Number(part, words=True))
            return True
    if items[at].kind == "N" and items[at].value.value == 3 and word_at(items, at + 1) in ("quarters", "quarter"):
        end = at + 2
        if word_at(items, end) == "of":
            end += 1
        if word_at(items, end) in ("a", "an"):
            end += 1
        if word_at(items, end) in units.UNITS:
            join_items(items, at, end, "N", numbers.Number(0.75, words=True))
            return True
    if (
        word in ("a", "an")
        and word_at(items, at + 1) in units.UNITS
        and word_at(items, at + 1) not in bag("second seconds stone foot degree")
    ):
        join_items(items, at, at + 1, "N", numbers.Number(1.0, words=True))
        return True
    return False


def _mixed(items: list[Item], at: int) -> None:
    """ "1 1/2", "two and a half", "2 and a quarter" """
    number = items[at].value
    if is_number(items, at + 1) and 0 < items[at + 1].value.value < 1 and "/" in items[at + 1].word:
        join_items(items, at, at + 2, "N", numbers.Number(number.value + items[at + 1].value.value))
        return
    if (
        word_at(items, at + 1) == "and"
        and word_at(items, at + 2) == "a"
        and word_at(items, at + 3) in ("half", "quarter")
    ):
        part = 0.5 if word_at(items, at + 3) == "half" else 0.25
        join_items(items, at, at + 4, "N", numbers.Number(number.value + part, words=True))
    if word_at(items, at + 1) == "hundred" and number.value < 100:
        join_items(items, at, at + 2, "N", numbers.Number(number.value * 100))


def _with_unit(items: list[Item], at: int) -> None:
    number = items[at].value
    value = number.value
    end = at + 1
    if word_at(items, end) == "-":
        return
    if word_at(items, end) in ("ish", "odd"):
        join_items(items, at, end + 1, "N", number)
    word = word_at(items, end)
    if word in ("x", "of") and word == "x":
        join_items(items, at, end + 1, "N", number)
        word = word_at(items, end)
    if word == '"':
        join_items(items, at, end + 1, "C", units.convert(value, "inch")[1])
        return
    if word == "per" and word_at(items, end + 1) == "cent":
        join_items(items, at, end + 2, "M", value)
        return
    if word in ("fl", "fluid") and word_at(items, end + 1) in ("oz", "ounces", "ounce"):
        join_items(items, at, end + 2, "L", round(value * 0.0284131, 3))
        return
    if word == "(" and word_at(items, end + 1) in ("c", "f") and word_at(items, end + 2) == ")":
        _heat(items, at, end + 3, value, items[end + 1].word == "f")
        return
    if word in ("c", "f") and (items[end].glued or _ends_phrase(items, end + 1)):
        _heat(items, at, end + 1, value, word == "f")
        return
    if word == "m" and (items[end].glued or word_at(items, end + 1) in ("across", "wide", "of", "diameter")):
        join_items(items, at, end + 1, "C", value * 100)
        return
    if word == "h" and items[end].glued and is_number(items, end + 1) and items[end + 1].glued and value < 24:
        minute = items[end + 1].value.value
        if minute < 60 and len(items[end + 1].word) == 2:
            join_items(items, at, end + 2, "T", Clock(int(value), int(minute), exact=value > 12))
            return
    if word == "h" and items[end].glued and word_at(items, at - 1) in ("at", "by", "since", "until") and (
        value <= 24 and value == int(value) and number.clock
    ):
        join_items(items, at, end + 1, "T", Clock(int(value) % 24, 0, exact=value > 12))
        return
    if word == "h" and items[end].glued:
        join_items(items, at, end + 1, "U", value * 60)
        _more_time(items, at)
        return
    if word in bag("h hrs hr hours") and len(items[at].word) == 4 and items[at].word.isdigit() and number.clock:
        join_items(items, at, end + 1, "T", Clock(number.clock[0], number.clock[1], exact=True))
        return
    if word == "s" and items[end].glued and value <= 60:
        join_items(items, at, end + 1, "S", value)
        return
    if word not in units.UNITS:
        return
    kind, converted = units.convert(value, word)
    if kind in ("degree", "celsius", "fahrenheit"):
        end += 1
        scale = "f" if kind == "fahrenheit" else ""
        if kind == "degree" and word_at(items, end) in bag("c f celsius centigrade fahrenheit farenheit"):
            scale = "f" if word_at(items, end).startswith("f") else "c"
            end += 1
        _heat(items, at, end, value, scale == "f")
        return
    if kind == "second" and word == "second":
        return
    smaller = _spoken_part(items, end, word)
    if smaller is not None:
        join_items(items, at, end + 2, _KINDS[kind], round(converted + smaller, 3))
        return
    join_items(items, at, end + 1, _KINDS[kind], converted)
    if (
        kind == "kg"
        and word in ("lb", "lbs", "pound", "pounds")
        and is_number(items, at + 1)
        and word_at(items, at + 2) in ("oz", "ounces")
    ):
        join_items(items, at, at + 3, "K", round(converted + units.convert(items[at + 1].value.value, "oz")[1], 3))
    if kind == "minute":
        _more_time(items, at)
    elif (
        word_at(items, at + 1) == "and"
        and word_at(items, at + 2) == "a"
        and word_at(items, at + 3) in ("half", "quarter")
    ):
        per = units.convert(1.0, word)[1]
        join_items(
            items, at, at + 4, _KINDS[kind], round(converted + per * (0.5 if items[at + 3].word == "half" else 0.25), 3)
        )


# A unit with the number of its smaller one behind it: "one metre ten" in centimetres, "two kilo five hundred" in grams.
_THOUSANDTHS = bag("kilo kilos kg kgs litre litres liter liters")
_HUNDREDTHS = bag("metre metres meter meters")
_OF_SIZE = bag("across wide in inside diameter round deep")


def _spoken_part(items: list[Item], at: int, unit: str) -> float | None:
    if not is_number(items, at + 1):
        return None
    value, after = float(items[at + 1].value.value), word_at(items, at + 2)
    if unit in _THOUSANDTHS and 100 <= value < 1000 and value % 50 == 0 and after == "of":
        return value / 1000  # without "of" it may be a heat: "lamb 3 kg 200 on the floor"
    if unit in _HUNDREDTHS and 5 <= value < 100 and after in _OF_SIZE:
        return value
    return None


def _heat(items: list[Item], at: int, end: int, value: float, is_fahrenheit: bool) -> None:
    join_items(items, at, end, "H", units.fahrenheit(value) if is_fahrenheit else value)
    items[at].word = "f" if is_fahrenheit else "c"


def _more_time(items: list[Item], at: int) -> None:
    """ "an hour and a half", "1 hr 20", "1 hour and 10 minutes" """
    minutes = items[at].value
    nxt = at + 1
    if (
        word_at(items, nxt) == "and"
        and word_at(items, nxt + 1) == "a"
        and word_at(items, nxt + 2) in ("half", "quarter")
    ):
        join_items(items, at, nxt + 3, "U", minutes + (30 if items[nxt + 2].word == "half" else 15))
        return
    if minutes % 60:
        return
    if word_at(items, nxt) == "and":
        nxt += 1
    if is_number(items, nxt) and word_at(items, nxt + 1) in ("min", "mins", "minutes", "m"):
        join_items(items, at, nxt + 2, "U", minutes + items[nxt].value.value)


def _ends_phrase(items: Sequence[Item], at: int) -> bool:
    """A lone "c" or "f" after a number is a unit, save before a name ("2 f ...")."""
    return at >= len(items) or items[at].kind in (".", "N", "") or items[at].kind.isalpha()


def _bare_unit(items: list[Item], at: int) -> None:
    """ "litre of stock" with no number is one litre; "kilo of beans" one kilo."""
    word = items[at].word
    if (
        word in bag("litre liter kilo pint pound quart")
        and not (at and items[at - 1].kind == "N")
        and (
            word_at(items, at + 1) in ("of", "and") or word_at(items, at + 1) not in ("", ",", ".", "a", "jug", "jugs")
        )
    ):
        half = (
            word_at(items, at + 1) == "and"
            and word_at(items, at + 2) == "a"
            and word_at(items, at + 3) in ("half", "quarter")
        )
        kind, one = units.convert(1.0, word)
        more = 0.0
        if half:
            more = 0.5 if word_at(items, at + 3) == "half" else 0.25
        elif word_at(items, at + 1) == "and":
            return
        join_items(items, at, at + (4 if half else 1), _KINDS[kind], round(one * (1 + more), 3))


def _ranges(items: list[Item]) -> None:
    """ "165-170", "between 165 and 170", "low 170s": no one value, so nobody takes one."""
    at = 0
    while at < len(items):
        if (
            items[at].kind in ("N", "H")
            and word_at(items, at + 1) in ("-", "to")
            and not (at and items[at - 1].word == "from" and items[at + 1].word == "to")
            and at + 2 < len(items)
            and items[at + 2].kind in ("N", "H", "M")
        ):
            low, high = _plain(items[at]), _plain(items[at + 2])
            clocks = items[at].kind == "N" and items[at + 2].kind == "N" and low < 60 and high <= 12 and low >= 1
            dash = word_at(items, at + 1) == "-"
            spaced = dash and items[at].end < items[at + 1].start
            if (
                low < high
                and not (clocks and not dash)
                and not spaced
                and high < 1000
                and (dash or (low >= 25 and high <= low * 1.5))
            ):
                join_items(items, at, at + 3, "R", None)
        elif (
            items[at].word == "between"
            and at + 3 < len(items)
            and items[at + 1].kind in ("N", "H")
            and word_at(items, at + 2) == "and"
            and items[at + 3].kind in ("N", "H")
        ):
            join_items(items, at, at + 4, "R", None)
        elif (
            items[at].kind == "N"
            and word_at(items, at + 1) == "s"
            and items[at + 1].glued
            and items[at].value.value > 60
        ):
            join_items(items, at, at + 2, "R", None)
        at += 1


def _plain(item: Item) -> float:
    value = item.value.value if item.kind == "N" else item.value
    return float(value)
