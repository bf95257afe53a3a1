"""From a message to its row of items: split, mend slips, put numbers and units together, know names and times."""

from __future__ import annotations

import re
from collections.abc import Sequence

from bot.reading import numbers, units
from bot.reading.context import Context
from bot.reading.items import FILLERS, Item, Row
from bot.reading.joining import word_at
from bot.reading.lexicon import Phrases, as_typed, bag, common_phrases, index, phrase_set, split_words
from bot.reading.new_names import named_by_act
from bot.reading.normalise import Plain
from bot.reading.places_mended import heard_place, lettered, listed_place, sides
from bot.reading.quantities import find_quantities
from bot.reading.run_ons import apart
from bot.reading.spelling import counted_thing, mend, ordinary_words, rule_words
from bot.reading.spoken_times import find_times

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
    "food lunch dinner meat"
)


_BEFORE_MANY = bag("both all some of many few more")
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
    items = find_quantities(lettered(sides(message, _without_doubles(_items(_put_apart(tokens, context))))))
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
    items = named_by_act(_names(items, context), context)
    items = find_times(_arrows(items))
    return Row(message, apart(items))


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


# Place words that are also everyday words: places only beside a number or after a tool.
_EVERYDAY = frozenset(
    [
        ("left",),
        ("right",),
        ("side",),
        ("sides",),
        ("front",),
        ("back",),
        ("rear",),
        ("base",),
        ("top",),
        ("opening",),
        ("entrance",),
        ("dial",),
        ("gauge",),
        ("left", "side"),
        ("left", "one"),
        ("right", "one"),
        ("right", "side"),
        ("back", "end"),
    ]
)


def _names(items: list[Item], context: Context) -> list[Item]:
    """Places, tools, ovens and dishes; the room's own names first."""
    own = _own_names(context)
    own_singles = {split_words(name) for name in (*context.ovens, *context.dishes)}
    out: list[Item] = []
    at = 0
    while at < len(items):
        item = items[at]
        if item.kind != "":
            out.append(item)
            at += 1
            continue
        heard = heard_place(items, at)
        if heard is not None and (item.word,) not in own_singles:
            out.append(Item("P", heard, item.start, item.end, heard, (heard,)))
            at += 1
            continue
        if item.word == "chuck" and item.word not in context.dishes and word_at(items, at + 1) in _THROWN:
            out.append(item)  # "chuck another log on" is no dish
            at += 1
            continue
        if (known := _other_word_for(items, at, context)) is not None:
            out.append(Item("O", known, item.start, items[at + 1].end, known, (item.word, "one")))
            at += 2
            continue
        match = _longest(items, at, own)
        common = _longest(items, at, common_phrases())
        # "dome ceiling" is the ceiling of the dome, where an oven is called so.
        named = common is not None and common[1] == "P" and match is not None and match[1] == "O"
        if common is not None and (match is None or (common[0] > match[0] and common[1] in "PI" and not named)):
            match = common
        if match is None:
            out.append(item)
            at += 1
            continue
        end, kind, meaning, words = match
        if kind == "D" and (whole := _dish_of_cut(words, context)) is not None:
            meaning = whole
        behind = _behind_oven(items, end, own)
        if kind == "P" and words in _EVERYDAY and (not _beside_number(items, behind, out) or _come_back(out, words)):
            out.append(item)
            at += 1
            continue
        before = out[-1] if out else None
        if kind == "D" and before is not None and before.end < item.start and _flavour(before, words, context):
            name = f"{before.word} {meaning}"
            out[-1] = Item("D", name, before.start, items[end - 1].end, name, (*before.words, *words))
            at = end
            continue
        if (
            kind == "D"
            and words[0] in CUTS
            and meaning not in context.dishes
            and before is not None
            and before.kind == "D"
            and str(before.value) in context.dishes
        ):
            out[-1] = Item("D", before.word, before.start, items[end - 1].end, before.value, (*before.words, *words))
        else:
            out.append(Item(kind, meaning, item.start, items[end - 1].end, meaning, words))
        at = end
    return out


def _flavour(before: Item, words: tuple[str, ...], context: Context) -> bool:
    """Whether the word in front belongs to the dish's name: "plum crumble"; a name of the room stands."""
    if (words[-1],) not in phrase_set("dishes", "compounds") or " ".join(words) in context.dishes:
        return False
    return before.kind == "" and (before.word,) in phrase_set("dishes", "flavours")


def _behind_oven(items: list[Item], at: int, own: Phrases) -> int:
    """ "back of the dome 249": the number that counts stands behind the oven."""
    if word_at(items, at) != "of":
        return at
    oven = at + 1 + (word_at(items, at + 1) in ("the", "our"))
    match = _longest(items, oven, own) if oven < len(items) and items[oven].kind == "" else None
    return match[0] if match is not None and match[1] == "O" else at


_PERSONS = bag("everybody everyone he she they we you somebody someone i anybody anyone people guests class folks")


def _come_back(out: Sequence[Item], words: tuple[str, ...]) -> bool:
    """ "till everybody's back at four": people are, not the back wall."""
    if words != ("back",) or not out:
        return False
    if out[-1].word in bag("come comes came get gets got go went coming"):
        return True
    return len(out) > 1 and out[-1].word in bag("'s is are am be") and out[-2].word in _PERSONS


_THROWN = bag("a an another some it them more that this one in on out away")
CUTS = bag(
    "shoulder shoulders shank shanks neck leg legs breast breasts thigh thighs wing wings drumsticks belly cheek "
    "cheeks "
    "shin ribs rib collar hock hocks joint chops of"
)


def _dish_of_cut(words: tuple[str, ...], context: Context) -> str | None:
    """The room's own dish in "shoulder of lamb": the room cooks one lamb, whatever piece of it is named."""
    if " ".join(words) in context.dishes:
        return None
    own = [name for name in context.dishes if name in words]
    return own[0] if len(own) == 1 and all(word in CUTS or word == own[0] for word in words) else None


def _other_word_for(items: list[Item], at: int, context: Context) -> str | None:
    """ "the big one": the big oven, if the room has one."""
    one = at + 1 < len(items) and items[at + 1].words == ("one",) and items[at + 1].kind == "N"
    counted = at > 0 and (items[at - 1].kind == "N" or items[at - 1].word in ("a", "another", "more"))
    name = f"{items[at].word} oven"
    return name if one and not counted and name in context.ovens else None


def _own_names(context: Context) -> Phrases:
    entries = [(name, "O", name) for name in context.ovens]
    entries += [(f"{name} oven", "O", name) for name in context.ovens if not name.endswith("oven")]
    entries += [(name, "D", name) for name in context.dishes]
    entries += [(short, "O", name) for name in context.ovens if (short := _short_name(name, context)) is not None]
    taken = {entry[0] for entry in entries}
    entries += [(other, "D", name) for name in context.dishes if (other := _other_number(name)) not in taken]
    return index(entries)


def _short_name(name: str, context: Context) -> str | None:
    """ "bertha" for big bertha, if the word means nothing else here and no other oven has it."""
    short = name.split()[-1]
    alike = sum(short in other.split() for other in (*context.ovens, *context.dishes))
    common = short in rule_words() or (short,) in {words for words, _, _ in common_phrases().get(short, ())}
    return short if short != name and len(short) > 3 and alike == 1 and not common else None


def _other_number(name: str) -> str:
    """One bean for beans, ribs for rib: the room means the same dish."""
    return name[:-1] if name.endswith("s") and len(name) > 4 else f"{name}s"


def _longest(items: Sequence[Item], at: int, phrases: Phrases) -> tuple[int, str, str, tuple[str, ...]] | None:
    """The longest phrase that begins at an item: one past its end, class, meaning, words; articles are skipped."""
    for words, kind, meaning in phrases.get(items[at].word, ()):
        end = _end_of(items, at, words)
        if end is not None:
            return end, kind, meaning, words
    return None


def _end_of(items: Sequence[Item], at: int, words: Sequence[str]) -> int | None:
    here = at
    for number, word in enumerate(words):
        while (
            number
            and here < len(items)
            and items[here].kind == ""
            and items[here].word in ("the", "a")
            and word != items[here].word
        ):
            here += 1
        if here >= len(items) or items[here].kind != "" or items[here].word != word:
            return None
        here += 1
    return here


_COUNTING = bag("count counts ct and only now by with on at hand then but sec secs the so before just when to for")


def _beside_number(items: Sequence[Item], end: int, out: Sequence[Item]) -> bool:
    after = end
    while word_at(items, after) in bag("'s is at was says reads reading about around : the a"):
        after += 1
    if after < len(items) and items[after].kind in ("N", "H"):
        if items[after].kind == "H" or items[after].value.value >= 40:
            return True
        return not word_at(items, after + 1).isalpha() or word_at(items, after + 1) in _COUNTING
    if word_at(items, end) in ("now", "away", "then", "sorry"):
        return False
    before = len(out) - 1
    while before >= 0 and out[before].word in bag("the on at of in off from"):
        before -= 1
    return before >= 0 and (
        out[before].kind in ("I", "H", "S")
        or (out[before].word in ("count", "ct", "hand") and before < len(out) - 1)
        or (out[before].kind == "N" and out[before].words != ("one",))
    )
