"""From a message to its row of items: split, mend slips, put numbers and units together, then names and times."""

from __future__ import annotations

import re
from collections.abc import Sequence

from bot.reading import numbers, units
from bot.reading.clock_times import Clock, past
from bot.reading.context import Context
from bot.reading.items import FILLERS, Item, Row
from bot.reading.lexicon import as_typed, bag, split_words
from bot.reading.names import known_names
from bot.reading.new_names import named_by_act
from bot.reading.normalise import Plain
from bot.reading.places_mended import lettered, listed_place, sides
from bot.reading.quantities import find_quantities, weighed
from bot.reading.rows_mended import hundreds_apart, of_the_night_before, without_owners
from bot.reading.run_ons import apart
from bot.reading.spelling import counted_thing, mend, ordinary_words
from bot.reading.spoken_times import find_times
from bot.reading.whole_dishes import whole_dishes

MOST_TOKENS = 450


# Of a text that is mostly signs and single letters no more than this is read: nobody talks so.
FEW_TOKENS = 120
# Slips are mended in messages of a chat's length only; in a long text the look-ups would take too long.
MOST_MENDED = 600


_TOKEN = re.compile(
    r"\n|(?<![^\s(])\.\d+(?![\d.])|\d{1,2}/\d{1,2}(?![\d/])|\d+(?:[.,:]\d+)*|[a-z]+(?:'[a-z]+)?|[°%#@&+=<>/]|\.{2,}|[.,:;!?()\"-]"
)


_ALIKE = as_typed()


_ENDINGS = {"'s": "'s", "'ll": "'ll", "'ve": "have", "'re": "are", "'m": "am", "'d": "'d"}


# A noun with its apostrophe left out: "doors on" is "door's on".
_NOUNS_WITH_S = bag(
    "door fire pot floor air oven lid probe core fridge liquor liquid roof ceiling crown hearth deck sole "
    "food lunch dinner meat lamb beef pork mutton venison veal soup stew rain wind weather wood "
    "someone somebody everyone everybody anyone anybody nobody mum dad"
)


_BEFORE_MANY = bag("both all some of many few more")
_VERBS_OF_SKY = bag("it if when never always strong high light")
_APART = ("pot", "door", "lid")
_BEHIND = frozenset({"in", "out", "on", "off"})
_GLUED = _BEHIND | {"is", "was", "has"}


def _put_apart(tokens: list[_Token], context: Context) -> list[_Token]:
    """Spaces that slipped: "lam bin" and "lambin" are "lamb in"."""
    known = frozenset((*_APART, *(name for name in context.dishes if name.isalpha())))
    at = 0
    while at < len(tokens):
        token = tokens[at]
        following = tokens[at + 1] if at + 1 < len(tokens) else None
        short = token.end - token.start == len(token.word) - 1
        split = short and token.word in known and following is not None and following.word[1:] in _BEHIND
        if split and following is not None and following.word[0] == token.word[-1]:
            following.word = following.word[1:]
        if not token.word.isalpha() or token.word in known:
            at += 1
            continue
        if following is not None and following.word[1:] in _BEHIND and token.word + following.word[0] in known:
            token.word += following.word[0]
            following.word = following.word[1:]
        elif token.word not in ordinary_words():
            name = next(
                (word for word in known if token.word.startswith(word) and token.word[len(word) :] in _GLUED), None
            )
            if name is not None:
                middle = token.start + len(name)
                tokens[at : at + 1] = [
                    _Token(name, token.start, middle, token.glued, True),
                    _Token(token.word[len(name) :], middle, token.end, False, token.spaced),
                ]
        at += 1
    return tokens


_PUNCTUATION = frozenset('.,:;!?()"-/\n')


_SIGNS = {"&": "and", "+": "and", "@": "at", "=": "is"}


class _Token:
    __slots__ = ("end", "glued", "spaced", "start", "word")

    def __init__(self, word: str, start: int, end: int, glued: bool, spaced: bool) -> None:
        self.word, self.start, self.end, self.glued, self.spaced = word, start, end, glued, spaced


def row_of(message: str, folded: Plain, context: Context) -> Row:
    """The row of items of a message."""
    names = tuple(word for name in (*context.ovens, *context.dishes) for word in split_words(name))
    tokens = _split(folded, names, context)
    items = find_quantities(lettered(sides(message, _without_doubles(_does(_items(_put_apart(tokens, context)))))))
    for at in range(len(items)):
        if items[at].kind == "" and (place := listed_place(items, at)) is not None:
            items[at] = Item("", place, items[at].start, items[at].end)
    for at in range(1, len(items)):
        after = items[at + 1] if at + 1 < len(items) else None
        if (
            items[at].word == "of"
            and items[at - 1].word in ("door", "lid")
            and (after is None or after.kind in (".", "U"))
        ):
            items[at] = Item("", "off", items[at].start, items[at].end)
    items = weighed(named_by_act(whole_dishes(known_names(items, context), context), context))
    items = without_owners(hundreds_apart(items))
    items = _cold_in_the_fridge(_of_last_evening(find_times(_arrows(items)), context), context)
    return Row(message, apart(items))


_AFTER_DOES = bag("it that this the they anyone anybody have contain need")


def _does(items: list[Item]) -> list[Item]:
    """ "dose it have sesame": the commonest slip that makes another word."""
    for at in range(len(items) - 1):
        if items[at].word == "dose" and items[at + 1].word in _AFTER_DOES:
            items[at] = Item("", "does", items[at].start, items[at].end)
        if items[at].word == "o" and at and items[at + 1].word != "clock":
            items[at] = Item("", "of", items[at].start, items[at].end)  # "2 splits o birch"
    return items


_FIRED = bag("lit fired raked fed")


def _of_last_evening(items: list[Item], context: Context) -> list[Item]:
    """ "lit yesterday at 16:00, raked at 18:30" before noon: the last such times there were, and their heat is in the
    brick; the word says nothing more."""
    items = of_the_night_before(items, context)
    clocks = [item.value for item in items if item.kind == "T"]
    words = {item.word for item in items if item.kind == ""}
    if "yesterday" not in words or not clocks or not words & _FIRED:
        return items
    now = f"{context.now:%H:%M}"
    if not all(isinstance(clock, Clock) and clock.exact and past(clock, context.now) > now for clock in clocks):
        return items
    return [item for item in items if item.word != "yesterday"]


# "floor 18O": the letter beside the nought.
_O_FOR_ZERO = re.compile(r"(?<=\d)o(?=[\do]*(?![a-z'\d]))")


def _arrows(items: list[Item]) -> list[Item]:
    """ "clay pot -> dome 09:02": an arrow to an oven is a clause of its own."""
    for at in range(len(items) - 4, -1, -1):
        arrow = items[at + 1].word in ("-", "is") and items[at + 2].word == ">"
        if arrow and items[at].kind == items[at + 3].kind and items[at].kind in ("N", "H"):
            del items[at : at + 3]  # "core 71 -> 74": what it is now
    for at in range(1, len(items) - 2):
        if items[at].word in ("-", "is") and items[at + 1].word == ">" and items[at + 2].kind == "O":
            items[at] = Item(".", ",", items[at].start, items[at].end)
            items[at + 1] = Item("", "into", items[at + 1].start, items[at + 1].end)
    return items


# So long ago nobody put into the fridge what is only told now; a number of this size is its heat then.
_TOLD_LATE_MIN, _WARMEST_COLD = 90, 10


def _cold_in_the_fridge(items: list[Item], context: Context) -> list[Item]:
    """ "beans in the fridge at 6", told at four: six degrees, and no time of day."""
    now = context.now.hour * 60 + context.now.minute
    for at in range(2, len(items)):
        item = items[at]
        if item.kind != "T" or items[at - 1].word != "at" or items[at - 2].word not in _FRIDGES:
            continue
        if not item.word.isdigit() or int(item.word) > _WARMEST_COLD or not isinstance(item.value, Clock):
            continue
        if min((now - minute) % 1440 for minute in item.value.day_minutes()) > _TOLD_LATE_MIN:
            items[at] = Item("H", item.word, item.start, item.end, float(item.word), item.words)
    return items


_FRIDGES = bag("fridge chiller refrigerator cooler")


def _split(folded: Plain, names: Sequence[str], context: Context) -> list[_Token]:
    tokens: list[_Token] = []
    text = _O_FOR_ZERO.sub("0", folded.text)
    people = {word.lower() for name in context.people for word in name.split()}
    known = frozenset(names) | people
    mending = len(text) <= MOST_MENDED
    last_end = -1
    starred = message_is_starred(text)
    if starred:
        tokens.append(_Token("correction", 0, 0, False, True))
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
        if word == "/" and glued and tokens and tokens[-1].word == "with":
            continue  # "w/ stock"
        base, mark, ending = word.partition("'")
        if mark and not word.endswith("n't"):
            if mark + ending in _ENDINGS:
                cut = folded.origin[start + len(base)] if match.group().count("'") else stop
                tokens.append(_Token(_ALIKE.get(base, _mended(base, names)), begin, max(begin, cut), glued, False))
                tokens.append(_Token(_ENDINGS[mark + ending], max(begin, cut), stop, True, spaced))
                continue
            word = base
        if (joined := _JOINED.fullmatch(word)) is not None and word not in known:
            cut = folded.origin[start + joined.end(1)]
            tokens.append(_Token(joined.group(1), begin, cut, glued, True))
            tokens.append(_Token("the", cut, stop, False, spaced))
            continue
        if word.isalpha():
            previous = tokens[-1].word if tokens else ""
            if mending and word not in known and word.removesuffix("s") not in people:
                counted = previous.isdigit() or previous in numbers.NUMBER_WORDS
                word = (counted_thing(word) if counted else None) or _mended(word, names)
                word = _ALIKE.get(word, word)
            if (
                word.endswith("s")
                and (word[:-1] in _NOUNS_WITH_S or word[:-1] in known)
                and word not in known
                and not (
                    previous.isdigit() or previous in numbers.NUMBER_WORDS or previous in _BEFORE_MANY
                    or (previous in _VERBS_OF_SKY and word in ("rains", "winds"))
                )
            ):
                tokens.append(_Token(word[:-1], begin, stop, glued, False))
                tokens.append(_Token("'s", stop, stop, True, spaced))
                continue
        elif word == "+" and text[end : end + 2].strip()[:1].isdigit() and (
            text[end : end + 1].isdigit() or not tokens or tokens[-1].word in _PUNCTUATION
        ):
            word = "plus"  # "beans +200ml"
        elif (
            word == "." and glued and text[end : end + 1] == " " and _SHORT_WORD.search(text, max(0, start - 8), start)
        ):
            continue  # "fl. 195"
        elif word in _SIGNS:
            word = _SIGNS[word]
        if word == "not" and tokens and tokens[-1].word == "can":
            tokens[-1] = _Token("can't", tokens[-1].start, stop, tokens[-1].glued, spaced)
            continue
        tokens.append(_Token(word, begin, stop, glued, spaced))
    if len(tokens) > FEW_TOKENS and not _is_talk(tokens):
        return tokens[:FEW_TOKENS]
    return tokens


_SHORT_WORD = re.compile(r"(?<![a-z])(?:fl|flr|bk|ceil|temp|approx|therm)$")
# "inthe fridge": a space that the thumb missed.
_JOINED = re.compile(r"(in|on|of|to|into|onto|at|for|from|by|with|is|and|out)(the)")


def _is_talk(tokens: Sequence[_Token]) -> bool:
    """Whether a long text has words in it, and words of a length that people use."""
    words = [token.word for token in tokens if token.word.isalpha()]
    return 3 * len(words) > len(tokens) and sum(map(len, words)) > 2.7 * len(words)


def message_is_starred(text: str) -> bool:
    """ "floor 210*": one star at the beginning or the end is how a slip is mended in a chat."""
    stripped = text.strip()
    return len(stripped) > 2 and stripped.count("*") == 1 and "*" in (stripped[0], stripped[-1])


def _mended(word: str, names: Sequence[str]) -> str:
    if word in FILLERS or word in units.UNITS or word in numbers.NUMBER_WORDS:
        return word
    return mend(word, names)


_HUNDREDS = bag("few couple several many some a by")


def _items(tokens: Sequence[_Token]) -> list[Item]:
    """Numbers recognised; words and punctuation as they are."""
    items: list[Item] = []
    at = 0
    tokens = _doubled(_without_hyphens(tokens))
    words = [token.word for token in tokens]
    while at < len(tokens):
        token = tokens[at]
        word = token.word
        if word == "a" and at + 1 < len(tokens) and words[at + 1] == "hundred":
            taken, number = numbers.from_words(["one", *words[at + 1 : at + 8]]) or (0, None)
            if number is not None and number.value > 100:
                items.append(
                    Item("N", "one", token.start, tokens[at + taken - 1].end, number, tuple(words[at : at + taken]))
                )
                at += taken
                continue
        if word == "hundred" and (at == 0 or words[at - 1] not in _HUNDREDS):
            taken, number = numbers.from_words(["one", *words[at : at + 7]]) or (0, None)
            if number is not None and number.value > 100:  # "is hundred ninety two"
                items.append(
                    Item("N", "one", token.start, tokens[at + taken - 2].end, number, tuple(words[at : at + taken - 1]))
                )
                at += taken - 1
                continue
        if word in numbers.SMALL or word in numbers.TENS:
            found = numbers.from_words(words[at : at + 8])
            if found is not None:
                taken, number = found
                items.append(
                    Item("N", word, token.start, tokens[at + taken - 1].end, number, tuple(words[at : at + taken]))
                )
                at += taken
                continue
        if word[0].isdigit() or (word[0] == "." and word[1:].isdigit()):
            items.append(_digits(token))
            at += 1
            continue
        if (
            word == "-"
            and at + 1 < len(tokens)
            and tokens[at + 1].word[0].isdigit()
            and not token.spaced
            and not token.glued
        ):
            minus = _digits(tokens[at + 1])
            if minus.kind == "N":
                value = minus.value.value
                items.append(Item("N", "-" + minus.word, token.start, minus.end, numbers.Number(-value)))
                at += 2
                continue
        if word == "-" and token.glued and not token.spaced and items and items[-1].kind == "" and at + 1 < len(tokens):
            at += 1  # a hyphen inside a word
            continue
        if word in _PUNCTUATION or word.startswith(".."):
            items.append(
                Item(".", "|" if word == "\n" else "." if word.startswith("..") else word, token.start, token.end)
            )
        else:
            items.append(Item("", word, token.start, token.end, glued=token.glued))
        at += 1
    return items


def _without_hyphens(tokens: Sequence[_Token]) -> list[_Token]:
    """ "eighty-four", "one-seventy-two": a hyphen between two number words says nothing."""
    return [
        token
        for at, token in enumerate(tokens)
        if not (
            token.word == "-"
            and token.glued
            and 0 < at < len(tokens) - 1
            and tokens[at - 1].word in numbers.NUMBER_WORDS
            and tokens[at + 1].word in numbers.NUMBER_WORDS
        )
    ]


def _doubled(tokens: Sequence[_Token]) -> list[_Token]:
    """ "one double eight": the digit twice."""
    out: list[_Token] = []
    for at, token in enumerate(tokens):
        digit = at + 1 < len(tokens) and tokens[at + 1].word in numbers.SMALL
        if token.word == "double" and digit:
            token = _Token(tokens[at + 1].word, token.start, token.end, token.glued, True)
        out.append(token)
    return out


_VERBS = bag("is 's has was have are")
_DOES = bag("starts begins looks feels seems gets goes stays comes boils simmers")
_DO = bag("start begin look feel seem get go stay come boil simmer")


def _without_doubles(items: list[Item]) -> list[Item]:
    """ "the lamb it is in", "the door he is shut": a pronoun right behind its noun says nothing new."""
    return [
        item
        for at, item in enumerate(items)
        if not (
            item.kind == ""
            and item.word in ("it", "he", "she", "they")
            and 0 < at < len(items) - 1
            and items[at - 1].kind == ""
            and items[at + 1].word in (_DO if item.word == "they" else _VERBS | _DOES)
            and items[at - 1].word not in _NOT_NOUNS
            and items[at - 1].word.isalpha()
            and (at == 1 or items[at - 2].word in ("the", "a", "our", "my") or items[at - 2].kind == ".")
        )
    ]


_NOT_NOUNS = bag(
    "can could will would shall should may might must do does did are is were was have has had "
    "and but so when if because that what where how is was think like now then yes no ok right as well "
    "while since till until whether "
    "oh hey hi sorry not just still also maybe or for of in on at before after once "
    "though although why who which to all ah oops actually"
)


def _digits(token: _Token) -> Item:
    part = numbers.fraction(token.word)
    if part is not None:
        return Item("N", token.word, token.start, token.end, numbers.Number(part))
    number = numbers.from_digits(token.word)
    if number is None:
        return Item("R", token.word, token.start, token.end)
    return Item("N", token.word, token.start, token.end, number, glued=token.glued)
