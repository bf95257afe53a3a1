"""From a message to its row of items: split, mend slips, put numbers and units together, know names and times."""
from __future__ import annotations

import re
from collections.abc import Sequence

from bot.reading import numbers, units
from bot.reading.clock_times import Ago, Clock, half_hour_before
from bot.reading.context import Context
from bot.reading.items import FILLERS, Item, Row
from bot.reading.lexicon import Phrases, common_phrases, index, split_words
from bot.reading.normalise import Plain
from bot.reading.spelling import mend

MOST_TOKENS = 450
# Slips are mended in messages of a chat's length only; in a long text the look-ups would take too long.
MOST_MENDED = 600

_TOKEN = re.compile(r"\n|\d{1,2}/\d{1,2}(?![\d/])|\d+(?:[.,:]\d+)*|[a-z]+(?:'[a-z]+)?|[°%#@&+=<>/]|\.{2,}|[.,:;!?()\"-]")
_ALIKE = {
    "dont": "don't", "didnt": "didn't", "doesnt": "doesn't", "isnt": "isn't", "wasnt": "wasn't", "arent": "aren't",
    "hasnt": "hasn't", "havent": "haven't", "cant": "can't", "wont": "won't", "couldnt": "couldn't",
    "shouldnt": "shouldn't", "wouldnt": "wouldn't", "werent": "weren't", "aint": "isn't", "ain't": "isn't",
    "cannot": "can't", "tmrw": "tomorrow", "tomoz": "tomorrow", "w": "with", "temps": "temp", "temperatures": "temperature",
    "u": "you", "r": "are", "whos": "who's", "whats": "what's", "hows": "how's", "wheres": "where's", "whens": "when's",
    "thats": "that's", "its": "it's", "heres": "here's", "theres": "there's", "im": "i'm", "ive": "i've", "ill": "i'll",
    "weve": "we've", "were": "were", "theyre": "they're", "hes": "he's", "shes": "she's", "youre": "you're", "itll": "it'll",
    "outta": "out", "gonna": "going", "wanna": "want", "celcius": "celsius", "okay": "ok", "folks": "people",
    "persons": "people", "ppl": "people", "pax": "people", "covers": "people", "heads": "people", "tmp": "temp",
    "flr": "floor", "clg": "ceiling", "therm": "thermometer", "bk": "back", "wl": "wall", "dr": "door",
    "lite": "lit", "raining": "raining", "celiacs": "coeliacs", "celiac": "coeliac", "coals": "embers", "coal": "embers",
    "thro": "through", "tho": "though", "cos": "because", "til": "till", "n": "and", "nd": "and", "mt": "empty",
}
_ENDINGS = {"'s": "'s", "'ll": "'ll", "'ve": "have", "'re": "are", "'m": "am", "'d": "'d"}
# A noun with its apostrophe left out: "doors on" is "door's on".
_NOUNS_WITH_S = frozenset("door fire pot floor air oven lid probe core fridge liquor liquid roof ceiling crown hearth deck sole".split())
_PUNCTUATION = frozenset(".,:;!?()\"-/\n")
_SIGNS = {"&": "and", "+": "and", "@": "at", "=": "is"}
_COUNTED = {"couple": 2.0, "pair": 2.0, "dozen": 12.0}


class _Token:
    __slots__ = ("end", "glued", "spaced", "start", "word")

    def __init__(self, word: str, start: int, end: int, glued: bool, spaced: bool) -> None:
        self.word, self.start, self.end, self.glued, self.spaced = word, start, end, glued, spaced


def row_of(message: str, folded: Plain, context: Context) -> Row:
    """The row of items of a message."""
    names = tuple(word for name in (*context.ovens, *context.dishes) for word in split_words(name))
    tokens = _split(folded, names)
    items = _quantities(_without_doubles(_items(tokens)))
    items = _names(items, context)
    items = _times(items)
    return Row(message, items)


def _split(folded: Plain, names: Sequence[str]) -> list[_Token]:
    tokens: list[_Token] = []
    text = folded.text
    known = frozenset(names)
    mending = len(text) <= MOST_MENDED
    last_end = -1
    for match in _TOKEN.finditer(text):
        if len(tokens) > MOST_TOKENS:
            break
        word, start, end = match.group(), match.start(), match.end()
        glued = start == last_end
        last_end = end
        spaced = end < len(text) and text[end] == " "
        begin, stop = folded.origin[start], folded.origin[end - 1] + 1
        if "'" in word or word in _ALIKE:
            word = _ALIKE.get(word, word)
        base, mark, ending = word.partition("'")
        if mark and not word.endswith("n't"):
            if mark + ending in _ENDINGS:
                cut = folded.origin[start + len(base)] if match.group().count("'") else stop
                tokens.append(_Token(_ALIKE.get(base, _mended(base, names)), begin, max(begin, cut), glued, False))
                tokens.append(_Token(_ENDINGS[mark + ending], max(begin, cut), stop, True, spaced))
                continue
            word = base
        if word.isalpha():
            previous = tokens[-1].word if tokens else ""
            if mending and word not in known:
                word = _mended(word, names)
            if word.endswith("s") and (word[:-1] in _NOUNS_WITH_S or word[:-1] in known) and word not in known and not (
                    previous.isdigit() or previous in numbers.NUMBER_WORDS or previous in ("both", "all", "some", "of")):
                tokens.append(_Token(word[:-1], begin, stop, glued, False))
                tokens.append(_Token("'s", stop, stop, True, spaced))
                continue
        elif word in _SIGNS:
            word = _SIGNS[word]
        tokens.append(_Token(word, begin, stop, glued, spaced))
    return tokens


def _mended(word: str, names: Sequence[str]) -> str:
    if word in FILLERS or word in units.UNITS or word in numbers.NUMBER_WORDS:
        return word
    return mend(word, names)


def _items(tokens: Sequence[_Token]) -> list[Item]:
    """Numbers recognised; words and punctuation as they are."""
    items: list[Item] = []
    at = 0
    words = [token.word for token in tokens]
    while at < len(tokens):
        token = tokens[at]
        word = token.word
        if word in numbers.SMALL or word in numbers.TENS:
            found = numbers.from_words(words[at:at + 8])
            if found is not None:
                taken, number = found
                items.append(Item("N", word, token.start, tokens[at + taken - 1].end, number,
                                  tuple(words[at:at + taken])))
                at += taken
                continue
        if word[0].isdigit():
            items.append(_digits(token, items))
            at += 1
            continue
        if word == "-" and at + 1 < len(tokens) and tokens[at + 1].word[0].isdigit() and not token.spaced and not token.glued:
            minus = _digits(tokens[at + 1], items)
            if minus.kind == "N":
                value = minus.value.value
                items.append(Item("N", "-" + minus.word, token.start, minus.end, numbers.Number(-value)))
                at += 2
                continue
        if word == "-" and token.glued and not token.spaced and items and items[-1].kind == "" and at + 1 < len(tokens):
            at += 1  # a hyphen inside a word
            continue
        if word in _PUNCTUATION or word.startswith(".."):
            items.append(Item(".", "|" if word == "\n" else "." if word.startswith("..") else word, token.start,
                              token.end))
        else:
            items.append(Item("", word, token.start, token.end, glued=token.glued))
        at += 1
    return items


_VERBS = frozenset("is 's has was have are".split())


def _without_doubles(items: list[Item]) -> list[Item]:
    """ "the lamb it is in", "the door he is shut": a pronoun right behind its noun says nothing new."""
    return [item for at, item in enumerate(items) if not (
        item.kind == "" and item.word in ("it", "he", "she") and 0 < at < len(items) - 1 and items[at - 1].kind == ""
        and items[at + 1].word in _VERBS and items[at - 1].word not in _NOT_NOUNS and items[at - 1].word.isalpha() and (
            at == 1 or items[at - 2].word in ("the", "a", "our", "my") or items[at - 2].kind == "."))]


_NOT_NOUNS = frozenset("and but so when if because that what where how is was think like now then yes no ok right as well while since till until whether "
                       "oh hey hi sorry not just still also maybe or for of in on at before after once though although why who which to all ah oops actually".split())


def _digits(token: _Token, before: Sequence[Item]) -> Item:
    part = numbers.fraction(token.word)
    if part is not None:
        return Item("N", token.word, token.start, token.end, numbers.Number(part))
    number = numbers.from_digits(token.word)
    if number is None:
        return Item("R", token.word, token.start, token.end)
    return Item("N", token.word, token.start, token.end, number, glued=token.glued)


def _is_number(items: Sequence[Item], at: int) -> bool:
    return 0 <= at < len(items) and items[at].kind == "N"


def _word(items: Sequence[Item], at: int) -> str:
    return items[at].word if 0 <= at < len(items) and items[at].kind in ("", ".") else ""


def _join(items: list[Item], first: int, last: int, kind: str, value: object) -> None:
    """Put items first..last-1 together into one."""
    words = tuple(word for item in items[first:last] for word in item.words)
    items[first:last] = [Item(kind, items[first].word, items[first].start, items[last - 1].end, value, words,
                              items[first].glued)]


_KINDS: dict[units.Kind, str] = {"kg": "K", "litre": "L", "cm": "C", "minute": "U", "second": "S", "percent": "M",
                                 "degree": "H", "celsius": "H", "fahrenheit": "H"}
_HEDGES = frozenset("about around roughly approx approximately circa near nearly almost bang exactly say maybe".split())


def _quantities(items: list[Item]) -> list[Item]:
    """Numbers with their units become one item; fractions, halves and "a couple of" too."""
    at = 0
    while at < len(items):
        if _amount_phrase(items, at):
            pass
        if items[at].kind == "N":
            _mixed(items, at)
            _with_unit(items, at)
        elif items[at].word in ("minus", "negative") and _is_number(items, at + 1):
            number = items[at + 1].value
            _join(items, at, at + 2, "N", numbers.Number(-number.value))
            _with_unit(items, at)
        elif items[at].kind == "":
            _bare_unit(items, at)
        at += 1
    _ranges(items)
    return items


def _amount_phrase(items: list[Item], at: int) -> bool:
    """ "half a litre", "a couple of", "three quarters of an hour", "half a dozen" """
    word = _word(items, at)
    if word in _COUNTED or (word == "a" and _word(items, at + 1) in _COUNTED):
        end = at + (2 if word == "a" else 1)
        counted = _COUNTED[_word(items, end - 1)]
        if _word(items, end) == "of":
            end += 1
        elif word not in _COUNTED and counted == 2.0 and not items[end:end + 1]:
            return False
        _join(items, at, end, "N", numbers.Number(counted, words=True))
        return True
    if word in ("half", "quarter", "third"):
        part = {"half": 0.5, "quarter": 0.25, "third": 1 / 3}[word]
        end = at + 1
        if _word(items, end) == "of":
            end += 1
        if _word(items, end) in ("a", "an"):
            end += 1
        unit = _word(items, end)
        if unit in _COUNTED:
            _join(items, at, end + 1, "N", numbers.Number(part * _COUNTED[unit], words=True))
            return True
        if unit in units.UNITS and (end > at + 1 or unit not in ("past", "to")):
            if unit in ("second", "seconds"):
                return False
            _join(items, at, end, "N", numbers.Number(part, words=True))
            return True
    if items[at].kind == "N" and items[at].value.value == 3 and _word(items, at + 1) in ("quarters", "quarter"):
        end = at + 2
        if _word(items, end) == "of":
            end += 1
        if _word(items, end) in ("a", "an"):
            end += 1
        if _word(items, end) in units.UNITS:
            _join(items, at, end, "N", numbers.Number(0.75, words=True))
            return True
    if word in ("a", "an") and _word(items, at + 1) in units.UNITS and _word(items, at + 1) not in (
            "second", "seconds", "stone", "foot", "degree"):
        _join(items, at, at + 1, "N", numbers.Number(1.0, words=True))
        return True
    return False


def _mixed(items: list[Item], at: int) -> None:
    """ "1 1/2", "two and a half", "2 and a quarter" """
    number = items[at].value
    if _is_number(items, at + 1) and 0 < items[at + 1].value.value < 1 and "/" in items[at + 1].word:
        _join(items, at, at + 2, "N", numbers.Number(number.value + items[at + 1].value.value))
        return
    if _word(items, at + 1) == "and" and _word(items, at + 2) == "a" and _word(items, at + 3) in ("half", "quarter"):
        part = 0.5 if _word(items, at + 3) == "half" else 0.25
        _join(items, at, at + 4, "N", numbers.Number(number.value + part, words=True))
    if _word(items, at + 1) == "hundred" and number.value < 100:
        _join(items, at, at + 2, "N", numbers.Number(number.value * 100))


def _with_unit(items: list[Item], at: int) -> None:
    number = items[at].value
    value = number.value
    end = at + 1
    if _word(items, end) == "-":
        return
    if _word(items, end) in ("ish", "odd"):
        _join(items, at, end + 1, "N", number)
    word = _word(items, end)
    if word in ("x", "of") and word == "x":
        _join(items, at, end + 1, "N", number)
        word = _word(items, end)
    if word == "\"":
        _join(items, at, end + 1, "C", units.convert(value, "inch")[1])
        return
    if word == "per" and _word(items, end + 1) == "cent":
        _join(items, at, end + 2, "M", value)
        return
    if word in ("fl", "fluid") and _word(items, end + 1) in ("oz", "ounces", "ounce"):
        _join(items, at, end + 2, "L", round(value * 0.0284131, 3))
        return
    if word in ("c", "f") and (items[end].glued or _ends_phrase(items, end + 1)):
        _heat(items, at, end + 1, value, word == "f")
        return
    if word == "m" and items[end].glued:
        _join(items, at, end + 1, "C", value * 100)
        return
    if word == "h" and items[end].glued:
        _join(items, at, end + 1, "U", value * 60)
        _more_time(items, at)
        return
    if word == "s" and items[end].glued and value <= 60:
        _join(items, at, end + 1, "S", value)
        return
    if word not in units.UNITS:
        return
    kind, converted = units.convert(value, word)
    if kind in ("degree", "celsius", "fahrenheit"):
        end += 1
        scale = "f" if kind == "fahrenheit" else ""
        if kind == "degree" and _word(items, end) in ("c", "f", "celsius", "centigrade", "fahrenheit", "farenheit"):
            scale = "f" if _word(items, end).startswith("f") else "c"
            end += 1
        _heat(items, at, end, value, scale == "f")
        return
    if kind == "second" and word == "second":
        return
    _join(items, at, end + 1, _KINDS[kind], converted)
    if kind == "kg" and word in ("lb", "lbs", "pound", "pounds") and _is_number(items, at + 1) and _word(items, at + 2) in ("oz", "ounces"):
        _join(items, at, at + 3, "K", round(converted + units.convert(items[at + 1].value.value, "oz")[1], 3))
    if kind == "minute":
        _more_time(items, at)
    elif _word(items, at + 1) == "and" and _word(items, at + 2) == "a" and _word(items, at + 3) in ("half", "quarter"):
        per = units.convert(1.0, word)[1]
        _join(items, at, at + 4, _KINDS[kind], round(converted + per * (0.5 if items[at + 3].word == "half" else 0.25), 3))


def _heat(items: list[Item], at: int, end: int, value: float, is_fahrenheit: bool) -> None:
    _join(items, at, end, "H", units.fahrenheit(value) if is_fahrenheit else value)
    items[at].word = "f" if is_fahrenheit else "c"


def _more_time(items: list[Item], at: int) -> None:
    """ "an hour and a half", "1 hr 20", "1 hour and 10 minutes" """
    minutes = items[at].value
    nxt = at + 1
    if _word(items, nxt) == "and" and _word(items, nxt + 1) == "a" and _word(items, nxt + 2) in ("half", "quarter"):
        _join(items, at, nxt + 3, "U", minutes + (30 if items[nxt + 2].word == "half" else 15))
        return
    if minutes % 60:
        return
    if _word(items, nxt) == "and":
        nxt += 1
    if _is_number(items, nxt) and _word(items, nxt + 1) in ("min", "mins", "minutes", "m"):
        _join(items, at, nxt + 2, "U", minutes + items[nxt].value.value)


def _ends_phrase(items: Sequence[Item], at: int) -> bool:
    """A lone "c" or "f" after a number is a unit, save before a name ("2 f ...")."""
    return at >= len(items) or items[at].kind in (".", "N", "") or items[at].kind.isalpha()


def _bare_unit(items: list[Item], at: int) -> None:
    """ "litre of stock" with no number is one litre; "kilo of beans" one kilo."""
    word = items[at].word
    if word in ("litre", "liter", "kilo", "pint", "pound") and not (at and items[at - 1].kind == "N") and (
            _word(items, at + 1) in ("of", "and") or _word(items, at + 1) not in ("", ",", ".", "a", "jug", "jugs")):
        half = _word(items, at + 1) == "and" and _word(items, at + 2) == "a" and _word(items, at + 3) in ("half", "quarter")
        kind, one = units.convert(1.0, word)
        more = 0.0
        if half:
            more = 0.5 if _word(items, at + 3) == "half" else 0.25
        elif _word(items, at + 1) == "and":
            return
        _join(items, at, at + (4 if half else 1), _KINDS[kind], round(one * (1 + more), 3))


def _ranges(items: list[Item]) -> None:
    """ "165-170", "between 165 and 170", "low 170s": no one value, so nobody takes one."""
    at = 0
    while at < len(items):
        if items[at].kind in ("N", "H") and _word(items, at + 1) in ("-", "to") and at + 2 < len(items) and items[
                at + 2].kind in ("N", "H"):
            low, high = _plain(items[at]), _plain(items[at + 2])
            clocks = items[at].kind == "N" and items[at + 2].kind == "N" and low < 60 and high <= 12 and low >= 1
            dash = _word(items, at + 1) == "-"
            spaced = dash and items[at].end < items[at + 1].start
            if low < high and not (clocks and not dash) and not spaced and high < 1000 and (
                    dash or (low >= 25 and high <= low * 1.5)):
                _join(items, at, at + 3, "R", None)
        elif items[at].word == "between" and at + 3 < len(items) and items[at + 1].kind in ("N", "H") and _word(
                items, at + 2) == "and" and items[at + 3].kind in ("N", "H"):
            _join(items, at, at + 4, "R", None)
        elif items[at].kind == "N" and _word(items, at + 1) == "s" and items[at + 1].glued and items[at].value.value > 60:
            _join(items, at, at + 2, "R", None)
        at += 1


def _plain(item: Item) -> float:
    value = item.value.value if item.kind == "N" else item.value
    return float(value)


# Place words that are also everyday words: places only beside a number or after a tool.
_EVERYDAY = frozenset([("left",), ("right",), ("side",), ("front",), ("back",), ("rear",), ("base",), ("opening",),
                       ("entrance",), ("dial",), ("gauge",), ("left", "side"), ("right", "side"), ("back", "end")])


def _names(items: list[Item], context: Context) -> list[Item]:
    """Places, tools, ovens and dishes; the room's own names first."""
    own = _own_names(context)
    out: list[Item] = []
    at = 0
    while at < len(items):
        item = items[at]
        if item.kind != "":
            out.append(item)
            at += 1
            continue
        match = _longest(items, at, own)
        common = _longest(items, at, common_phrases())
        if common is not None and (match is None or (common[0] > match[0] and common[1] in "PI")):
            match = common
        if match is None:
            out.append(item)
            at += 1
            continue
        end, kind, meaning, words = match
        if kind == "P" and words in _EVERYDAY and not _beside_number(items, at, end, out):
            out.append(item)
            at += 1
            continue
        out.append(Item(kind, meaning, item.start, items[end - 1].end, meaning, words))
        at = end
    return out


def _own_names(context: Context) -> Phrases:
    entries = [(name, "O", name) for name in context.ovens]
    entries += [(f"{name} oven", "O", name) for name in context.ovens if not name.endswith("oven")]
    entries += [(name, "D", name) for name in context.dishes]
    taken = {entry[0] for entry in entries}
    entries += [(other, "D", name) for name in context.dishes if (other := _other_number(name)) not in taken]
    return index(entries)


def _other_number(name: str) -> str:
    """One bean for beans, ribs for rib: the room means the same dish."""
    return name[:-1] if name.endswith("s") and len(name) > 4 else f"{name}s"


def _longest(items: Sequence[Item], at: int, phrases: Phrases) -> tuple[int, str, str, tuple[str, ...]] | None:
    """The longest phrase that begins at an item: one past its last item, class, meaning, words; articles in it are skipped."""
    for words, kind, meaning in phrases.get(items[at].word, ()):
        end = _end_of(items, at, words)
        if end is not None:
            return end, kind, meaning, words
    return None


def _end_of(items: Sequence[Item], at: int, words: Sequence[str]) -> int | None:
    here = at
    for number, word in enumerate(words):
        while number and here < len(items) and items[here].kind == "" and items[here].word in ("the", "a") and word != items[here].word:
            here += 1
        if here >= len(items) or items[here].kind != "" or items[here].word != word:
            return None
        here += 1
    return here


def _beside_number(items: Sequence[Item], at: int, end: int, out: Sequence[Item]) -> bool:
    after = end
    while _word(items, after) in ("'s", "is", "at", "was", "says", "reads", "reading", "about", "around", ":", "the"):
        after += 1
    if after < len(items) and items[after].kind in ("N", "H"):
        return True
    before = len(out) - 1
    while before >= 0 and out[before].word in ("the", "on", "at", "of", "in"):
        before -= 1
    return before >= 0 and out[before].kind in ("I", "H", "N")


_BEFORE_TIME = frozenset("at by since from till until around before after about for past".split())


def _times(items: list[Item]) -> list[Item]:
    """Clock times and whiles ago."""
    at = 0
    while at < len(items):
        if not _clock_phrase(items, at):
            _ago(items, at)
        at += 1
    _times_after_words(items)
    return items


def _clock(items: Sequence[Item], at: int) -> Clock | None:
    """The clock time that a number item can be."""
    if not _is_number(items, at) or items[at].value.clock is None:
        return None
    hour, minute = items[at].value.clock
    if hour > 24:
        return None
    return Clock(hour, minute, exact=items[at].value.zero_led or hour > 12)


def _clock_phrase(items: list[Item], at: int) -> bool:
    word = _word(items, at)
    if word in ("noon", "midday", "midnight"):
        _join(items, at, at + 1, "T", Clock(0 if word == "midnight" else 12, 0, exact=True))
        return True
    if word == "half":
        end = at + 2 if _word(items, at + 1) == "past" else at + 1
        hour = _clock(items, end)
        if hour is not None and hour.minute == 0 and hour.hour is not None and 1 <= hour.hour <= 12:
            _join(items, at, end + 1, "T", Clock(hour.hour, 30))
            return _half_day(items, at)
        if end == at + 2:
            _join(items, at, end, "T", Clock(None, 30))
            return True
        return False
    minutes: int | None = None
    end = at
    if word == "quarter":
        minutes, end = 15, at + 1
    elif word == "a" and _word(items, at + 1) == "quarter":
        minutes, end = 15, at + 2
    elif _is_number(items, at) and items[at].value.value in (5, 10, 15, 20, 25) and not items[at].value.colon:
        minutes, end = int(items[at].value.value), at + 1
    elif items[at].kind == "U" and items[at].value in (5, 10, 15, 20, 25, 12, 8, 7, 3, 2):
        minutes, end = int(items[at].value), at + 1
    if minutes is not None and _word(items, end) in ("past", "to", "before", "after", "of", "til", "till"):
        way = _word(items, end)
        hour = _clock(items, end + 1)
        plain_hour = hour is not None and hour.minute == 0 and hour.hour is not None and 1 <= hour.hour <= 12
        if way in ("before", "after", "of", "til", "till") and not (plain_hour and word in ("quarter", "a")):
            plain_hour = False
            if way != "past" and way != "to":
                return _explicit(items, at)
        if plain_hour and hour is not None:
            if _word(items, end + 2) in units.UNITS:
                return _explicit(items, at)
            late = way in ("past", "after")
            clock = Clock(hour.hour, minutes) if late else half_hour_before(hour, minutes)
            _join(items, at, end + 2, "T", clock)
            return _half_day(items, at)
        if _word(items, end + 1) in ("noon", "midday", "midnight"):
            base = Clock(0 if _word(items, end + 1) == "midnight" else 12, 0, exact=True)
            _join(items, at, end + 2, "T", Clock(base.hour, minutes, True) if way == "past"
                  else half_hour_before(Clock(base.hour or 24, 0, True), minutes))
            return True
        if way in ("past", "to") and (end + 1 >= len(items) or items[end + 1].kind in (".", "P", "D", "O", "I") or _word(items, end + 1) in (
                "and", "the", "it", "was", "air", "floor", "probe", "core", "lid", "door", "pot", "fire", "sorry", "when")) and (
                way == "past" or word in ("quarter", "a") or _word(items, at - 1) in _BEFORE_TIME or end + 1 >= len(items)):
            _join(items, at, end + 1, "T", Clock(None, minutes if way == "past" else 60 - minutes))
            return True
    return _explicit(items, at)


def _explicit(items: list[Item], at: int) -> bool:
    """ "10:30", "5pm", "3 o'clock" """
    clock = _clock(items, at)
    if clock is None:
        return False
    if _word(items, at + 1) in ("o", "oclock") or _word(items, at + 1) == "o'clock":
        end = at + 2
        if _word(items, at + 1) == "o" and _word(items, at + 2) in ("clock", "'clock"):
            end = at + 3
        elif _word(items, at + 1) == "o":
            return False
        _join(items, at, end, "T", clock)
        return _half_day(items, at)
    if items[at].value.colon:
        _join(items, at, at + 1, "T", clock)
        return _half_day(items, at)
    if _word(items, at + 1) in ("am", "pm") or (_word(items, at + 1) in ("a", "p") and _word(items, at + 2) in (".", "m")):
        _join(items, at, at + 1, "T", clock)
        return _half_day(items, at)
    return False


def _half_day(items: list[Item], at: int) -> bool:
    """An "am" or "pm" behind a time settles it."""
    clock = items[at].value
    word = _word(items, at + 1)
    end = at + 2
    if word in ("a", "p") and _word(items, at + 2) == "." and _word(items, at + 3) == "m":
        word, end = word + "m", at + (5 if _word(items, at + 4) == "." else 4)
    if word in ("a", "p") and _word(items, at + 2) == "m":
        word, end = word + "m", at + 3
    if word in ("am", "pm") and clock.hour is not None and clock.hour <= 12:
        hour = clock.hour % 12 + (12 if word == "pm" else 0)
        _join(items, at, end, "T", Clock(hour, clock.minute, True))
    return True


def _ago(items: list[Item], at: int) -> None:
    if items[at].kind != "U":
        return
    word = _word(items, at + 1)
    end = at + 2
    if word in ("or", "max", "odd") and _word(items, at + 2) in ("so", ""):
        word, end = _word(items, at + 3), at + 4
    if word in ("ago", "earlier") or (word == "back" and (end >= len(items) or items[end].kind != "")):
        _join(items, at, end, "A", Ago(items[at].value))


def _times_with_colon(items: list[Item]) -> None:
    """ "nine: 148", "10.30: floor 184": a time at the head of a clause, with a colon behind it and a heat to come."""
    for at in range(len(items) - 2):
        clock = _clock(items, at)
        head = at == 0 or items[at - 1].kind == "."
        if clock is None or not head or _word(items, at + 1) not in (":", "-"):
            continue
        if items[at].value.value > 24 and not clock.minute:
            continue
        if any(item.kind in ("N", "H") for item in items[at + 2:at + 6]):
            items[at] = Item("T", items[at].word, items[at].start, items[at].end, clock, items[at].words)


_HEAT_NOUNS = frozenset("fridge freezer core middle centre liquor liquid outside cupboard hold meat probe sitting holding "
                        "steady it temp temperature reading read reads".split())


def _times_after_words(items: list[Item]) -> None:
    """ "at ten", "since 9.06", "by two": a number after such a word is a time if it can be one."""
    if any(item.kind in ("T", "A") for item in items) or len(items) > 3:
        _times_with_colon(items)
    for at in range(1, len(items)):
        if not _is_number(items, at):
            continue
        number = items[at].value
        clock = _clock(items, at)
        prep = items[at - 1].word if items[at - 1].kind == "" else ""
        back = 2
        if prep in ("about", "around") and at >= 2 and items[at - 2].word in ("at", "since", "by", "from"):
            prep, back = items[at - 2].word, 3
        if clock is None or prep not in ("at", "by", "since", "till", "until", "from", "around", "before", "after"):
            continue
        before = items[at - back] if at >= back else None
        after = items[at + 1] if at + 1 < len(items) else None
        if after is not None and after.kind == "" and after.word in ("people", "guests", "minutes", "logs", "splits", "on", "of", "and") and (
                after.word in ("people", "guests", "minutes", "logs", "splits")):
            continue
        if prep == "at" and _is_heat(number, before, items, at, back):
            continue
        if prep in ("around", "before", "after", "from") and number.value > 24 and not (number.zero_led or number.words):
            continue
        if before is not None and before.word == "in" and at > back and items[at - back - 1].word == "walk":
            continue
        if prep in ("around", "from") and (before is not None and before.kind in ("P", "O", "D")):
            continue
        if prep in ("before", "after") and after is not None and after.word in ("goes", "went"):
            continue
        if prep == "by" and number.value > 24 and number.clock and number.words is False and "." not in items[at].word and len(items[at].word) < 4:
            continue
        items[at] = Item("T", items[at].word, items[at].start, items[at].end, clock, items[at].words)


def _is_heat(number: numbers.Number, before: Item | None, items: Sequence[Item], at: int, back: int) -> bool:
    """Whether "at N" is a heat: "floor at 184", "fridge is at 4", against "at 11 floor 184", "in at 9"."""
    told = before
    while told is not None and told.word in ("'s", "is", "was", "sitting", "still", "now", "steady", "are", "be", "running", "holding", "up", "reading",
                                             "down", "only", "already", "currently", "back"):
        back += 1
        told = items[at - back] if at >= back else None
    linked = told is not before
    noun = told is not None and (told.kind in ("P", "O", "I") or (told.kind == "D" and linked) or (told.kind == "" and told.word in _HEAT_NOUNS))
    if "." in items[at].word or number.zero_led:
        return noun and number.clock is not None and number.value < 10 and told is not None and told.word in ("fridge", "freezer", "outside")
    if told is not None and told.word in ("fridge", "freezer") and any(item.word in ("in", "into") for item in items[max(0, at - back - 2):at - back]):
        return False
    if number.value <= 24:
        cold = told is not None and told.word in ("fridge", "freezer", "outside", "count")
        return cold or (noun and linked and told is not None and told.kind != "D" and number.value not in range(1, 13))
    if noun or linked:
        return True
    if number.words and number.clock is not None and number.clock[1] and number.value < 1300:
        return False
    return number.value < 700 or number.value >= 2400
