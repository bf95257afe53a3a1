"""Clauses that are wholly one known phrase: a table of ways to say a question or a fact, kept as data.

The tables stand in the folder phrase_tables (how they are written: bot.reading.ways). A clause that fits whole is
understood, so no word in it can make it a plan, a denial or chatter; what stands around it still can.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from importlib import resources
from typing import Any

from bot.reading.carry import TIMED
from bot.reading.clock_times import Ago, Clock
from bot.reading.items import Item, Row
from bot.reading.lexicon import allergens_in, bag, longest
from bot.reading.mended import people_of
from bot.reading.numbers import Number, from_words
from bot.reading.rules_contents import of_a_deed
from bot.reading.scene import Draft, Scene, is_stop
from bot.reading.ways import SLOTS, Ways

_LEAD = {
    "question": bag(
        "ok okay hey hi hello right so and but then also bot yardhand now btw question quick sorry um er well "
        "please oh hmm tomorrow all everyone guys wondering just erm plus morning afternoon anyone anybody team "
        "excuse me"
    ),
    "fact": bag(
        "ok okay right so and but then also plus now btw just fyi update done hi hey all oh yes yep finally "
        "morning chef"
    ),
}
_TAIL = {
    "question": bag(
        "please pls now then today tomorrow bot yardhand mate chef ta thanks cheers everyone all guys btw exactly "
        "roughly again currently folks team thx you anyone lol haha eh actually"
    ),
    "fact": bag(
        "now again today finally thanks cheers ta chef team all already fyi btw everyone folks then here too "
        "guys mate thx lol haha yay"
    ),
}
# An eating time that is told lies at most this far ahead.
MOST_HOURS = 14
# No phrase of the tables is longer, in tokens.
MOST_TOKENS = 20
_PEOPLE = bag("people guests persons students adults mouths kids diners heads")
_BEFORE_TIME = bag("at about around since by from")


@dataclass(frozen=True)
class Entry:
    """What the ways of one entry of a table mean."""

    means: Mapping[str, Any]
    question: bool


@dataclass(frozen=True)
class Hit:
    """A stretch of items that a phrase fits from end to end."""

    first: int
    last: int
    question: bool
    fields: Mapping[str, Any]
    time: Clock | Ago | None


@cache
def phrase_tables() -> tuple[Mapping[str, Any], ...]:
    """The tables as they are written, in the order of their names."""
    folder = resources.files("bot.reading").joinpath("phrase_tables")
    files = sorted((file for file in folder.iterdir() if file.name.endswith(".toml")), key=lambda each: each.name)
    return tuple(tomllib.loads(file.read_text(encoding="utf-8")) for file in files)


@cache
def _tables() -> tuple[tuple[Entry, ...], Ways]:
    entries: list[Entry] = []
    ways = Ways()
    for table in phrase_tables():
        for kind in ("question", "fact"):
            for entry in table.get(kind, ()):
                entries.append(Entry(entry["means"], kind == "question"))
                for way in entry.get("say", ()):
                    ways.add(len(entries) - 1, way, table.get("words", {}))
    return tuple(entries), ways


def find_phrases(scene: Scene) -> list[Hit]:
    """The clauses of a message that are wholly one phrase, the longest runs of clauses first."""
    found: list[Hit] = []
    for first, last in scene.sentences:
        cuts = [first, *(n + 1 for n in range(first, last) if is_stop(scene.items[n]) and n + 1 < last), last]
        taken: set[int] = set()
        for length in (3, 2, 1):
            for at in range(len(cuts) - length):
                a, b = cuts[at], cuts[at + length]
                if a >= b or any(n in taken for n in range(a, b)):
                    continue
                hit = _hit(scene, a, b)
                if hit is not None:
                    found.append(hit)
                    taken.update(range(a, b))
    return found


def _hit(scene: Scene, first: int, last: int) -> Hit | None:
    tokens = _tokens(scene, first, last)
    if not 0 < len(tokens) <= MOST_TOKENS:
        return None
    if len(tokens) == 1 and any(item.kind != "." for item in (*scene.items[:first], *scene.items[last:])):
        return None  # "update: air 163" asks for no update
    if first >= 2 and scene.items[first - 1].word == ":" and scene.items[first - 2].word in _CLAIMS:
        return None  # "mine: allergen sheet"
    entries, ways = _tables()
    fitting = ways.fitting(tokens)
    if not fitting:
        return None
    spans = {kind: list(spans_of(tokens, kind)) for kind in ("question", "fact")}
    for way in fitting:
        entry = entries[way.meaning]
        for text in spans["question" if entry.question else "fact"]:
            match = way.match(text)
            fields = fields_of(scene, entry.means, match) if match is not None else None
            if fields is not None and not _other_time_stands(scene, first, last, fields):
                hit = _made(scene, first, last, entry, fields)
                if hit.time is None or hit.question or hit.fields["is"] in TIMED:
                    return hit
    return None


_CLAIMS = bag("mine me bags dibs note task todo")


def _other_time_stands(scene: Scene, first: int, last: int, fields: Mapping[str, Any]) -> bool:
    """ "serving 14 at 1.15": what fits as a time is a number, and the time itself stands beside it."""
    if fields.get("is") != "serve":
        return False
    kinds = "".join(item.kind for item in scene.items[first:last] if item.kind in ("T", "N"))
    return kinds.startswith("NT")


def _made(scene: Scene, first: int, last: int, entry: Entry, fields: dict[str, Any]) -> Hit:
    while last > first and scene.items[last - 1].kind == ".":
        last -= 1
    times = [item.value for item in scene.items[first:last] if item.kind in ("T", "A")]
    used = any(key in fields for key in ("by", "serve", "at", "moisture_pct"))
    return Hit(first, last, entry.question, fields, times[0] if len(times) == 1 and not used else None)


def _tokens(scene: Scene, first: int, last: int) -> list[str]:
    row = scene.row
    if any(_of_the_meat(scene.items, at) for at in range(first, last)):
        kept = [Item(each.kind, "well-" if _of_the_meat(scene.items, at) else each.word, each.start, each.end)
                for at, each in enumerate(scene.items)]  # one hyphen more keeps it from being a filler
        row = Row(row.message, kept)
    canon = row.canon[row.offset(first) : row.offset(last)] if last > first else ""
    tokens = tokens_of(canon.replace("well-", "well"))
    wished = any(item.kind == "" and item.word in _PLEASE for item in scene.items[first:last])
    return [*tokens, "please"] if wished and tokens and tokens[-1] != "?" else tokens


def _of_the_meat(items: list[Item], at: int) -> bool:
    """ "well done", "medium well": how far it is to be cooked, no filler."""
    if items[at].word != "well":
        return False
    after = items[at + 1].word if at + 1 < len(items) else ""
    return after == "done" or (at > 0 and items[at - 1].word == "medium")


# A filler to the rules, but "lamb rare please" is a wish and "lamb rare" none.
_PLEASE = bag("please pls plz")


def tokens_of(text: str) -> list[str]:
    """The words of a piece of canon, and whether it asks."""
    found = text.split()
    asks = bool(found) and "?" in found[-2:]
    words = [token for token in found if token[0].isalnum() or token[0] == "'"]
    for at in range(len(words) - 1):
        if words[at] in _WHAT and words[at + 1] in _HOUR:
            words[at : at + 2] = ["what", "time"]
    words = [token for at, token in enumerate(words) if token not in ("my", "our") or not _names(words, at + 1)]
    return [*words, "?"] if asks and words else words


# "at which hour", "what o'clock": at what time.
_WHAT = bag("what which")
_HOUR = bag("hour oclock time")


def _names(words: list[str], at: int) -> bool:
    """ "how's my duck doing": whether a dish or an oven stands there."""
    return at < len(words) and words[at][0] in "DO" and words[at][1:].isdigit()


# "can you tell me how the goat is", "I'd like to know when ...": what is asked stands behind.
_BEFORE_ASKING = bag("can could would please i do may have")
_ASKING_TO_BE_TOLD = re.compile(
    r"(?:please )?(?:(?:can|could|would|will) you (?:please )?(?:tell|remind|say to) (?:me |us )"
    r"|(?:may|can|could) i (?:ask|know) |i (?:'d like|would like|want|wanted|need) to (?:know|ask) "
    r"|i wonder |do you know |(?:do|have) you (?:have |got )?(?:an |any )?idea )"
    r"(?=(?:when|what|how|where|who|why|which|if|whether|is|are|will|can) )"
)


def spans_of(tokens: list[str], kind: str) -> Iterator[str]:
    """The clause without some of what only leads it in or rounds it off, whole first."""
    words = tokens[:-1] if kind == "question" and tokens[-1] == "?" else tokens
    begin, end = 0, len(words)
    begins, ends = [0], [end]
    if kind == "question" and words[0] in _BEFORE_ASKING and (told := _ASKING_TO_BE_TOLD.match(" ".join(words))):
        begin = told.group().count(" ")
        begins.append(begin)
    while begin < end and (words[begin] in _LEAD[kind] or (kind == "fact" and _is_time(words, begin))):
        begin += 1
        begins.append(begin)
    while end > begin and (words[end - 1] in _TAIL[kind] or (kind == "fact" and _is_time(words, end - 1))):
        end -= 1
        ends.append(end)
    asks = words is not tokens
    for a in begins:
        for b in ends:
            if a < b:
                text = " ".join(words[a:b]) + " "
                if asks:
                    yield f"{text}? "
                yield text


def _is_time(words: list[str], at: int) -> bool:
    def told(token: str) -> bool:
        return token[0] in "TA" and token[1:].isdigit()

    return told(words[at]) or (words[at] in _BEFORE_TIME and at + 1 < len(words) and told(words[at + 1]))


def fields_of(scene: Scene, means: Mapping[str, Any], match: re.Match[str]) -> dict[str, Any] | None:
    slots: dict[str, str] = {}
    for name, value in match.groupdict().items():
        if value:
            slot = name.partition("__")[0].upper()
            slots.setdefault(slot, value)
            if slot.startswith("NUMBER") and scene.number(value) != float(slot[6:]):
                return None
            if slot == "TIME" and (scene.clock(value) is None or _counts_people(scene, value)):
                return None  # "soup 58, is it safe?"
    fields: dict[str, Any] = {}
    for key, value in means.items():
        if isinstance(value, list):
            parts = [fields_of(scene, part, match) for part in value]
            fields[key] = [part for part in parts if part is not None]
            continue
        if value not in SLOTS:
            fields[key] = value
            continue
        if value not in slots:
            continue
        filled = _value(scene, str(means["is"]), key, str(value), slots[value])
        if filled is None:
            return None
        fields[key] = filled
    if fields["is"] == "contents" and "allergen" not in fields:
        if fields.get("dish") in _PARTS_OF_DISHES - set(scene.context.dishes):
            return None
        words = tuple(str(fields["item"]).split())
        if of_a_deed(words):
            return None  # "used up the cream": for the rules too
        named = allergens_in(words)
        if len(named) > 1:
            return None  # "buttermilk and eggs": each is an entry of its own, for the rules
        fields.update({"allergen": named[0]} if named else {})
    return fields


_NOT_OF_THE_CLASS = bag("my bus train boat plane phone wifi sugar milk tea coffee biscuits biscuit seconds")
_MEASURES = bag("kilo kilos kg kgs litre litres grams g pounds lb lbs pints bags loads pots trays")
_NO_ITEM = bag(
    "got it this that they them there what which who the a any some much many more time people guests one "
    "your his her their you"
)


# What may be told of a dish though nobody has to be warned of it.
_PLAIN_THINGS = bag(
    "cornflour cornstarch salt sugar honey vinegar oil garlic onion onions lard dripping rice potato wine cider lemon "
    "stock arrowroot buckwheat polenta bacon chorizo ham chilli pork"
)


_PARTS_OF_DISHES = bag(
    "stock gravy butter cream bread marmalade ketchup chutney broth sausages rolls naan custard barley"
)


def _counts_people(scene: Scene, token: str) -> bool:
    """ "for 12 people": no time."""
    after = int(token[1:]) + 1 if token[1:].isdigit() else len(scene.items)
    return after < len(scene.items) and scene.items[after].word in _PEOPLE


def _value(scene: Scene, kind: str, key: str, slot: str, token: str) -> Any:
    if slot == "DISH" and scene.name(token) in _PARTS_OF_DISHES - {"bread", "sausages"} - set(scene.context.dishes):
        return None
    if slot in ("DISH", "OVEN", "PLACE"):
        return scene.name(token)
    if slot in ("TIME", "AGO"):
        return _time(scene, kind, key, token)
    if slot in ("WHAT", "ITEM", "ALLERGEN", "PERSON", "SPECIES", "HELD", "FLOUR"):
        return _words(scene, slot, token)
    if token[0] == "T" and slot == "PERCENT":
        word = scene.item(token).word
        value: float | None = float(word) if word.isdigit() else None
    else:
        value = _heat_in_time(scene, token) if token[0] == "T" else scene.number(token)
    if value is None or value != value:
        return None
    if (slot == "HEAT" and token[0] == "N" and value < 40) or (slot == "COLD" and not -30 <= value <= 45):
        return None
    if key == "done_c" and not 40 <= value < 100:
        return None
    if slot == "CORE" and not 30 <= value <= 100:
        return None
    if slot == "PERCENT" and not 0 < value <= 70:
        return None
    if slot == "COUNT":
        return int(value) if value % 1 == 0 and 0 < value < 10_000 else None
    return value


def _heat_in_time(scene: Scene, token: str) -> float | None:
    """ "till 120", "till one twenty": a number that was taken for a time before the question was known."""
    item = scene.item(token)
    if item.word.isdigit() and len(item.word) == 3:
        return float(item.word)
    spoken = from_words(item.words)
    return spoken[1].value if spoken is not None and spoken[1].value >= 100 else None


def _time(scene: Scene, kind: str, key: str, token: str) -> str | None:
    item = scene.item(token)
    if isinstance(item.value, Number) and item.value.value > 24 and item.value.clock is not None and item.value.words:
        clock: Clock | Ago | None = Clock(*item.value.clock)
    else:
        clock = scene.clock(token)
    if clock is None:
        return None
    if key == "at":
        return scene.past(clock)
    if kind == "oven_at":
        return scene.coming(clock)
    by = scene.coming_meal(clock)
    return by if kind != "serve" or _within_hours(scene, by) else None


def _within_hours(scene: Scene, by: str | None) -> bool:
    """Whether a meal told without its day can be today's: "food on the table at 2", said at three, is none to come."""
    hour, _, minute = str(by).partition(":")
    now = scene.context.now
    return (int(hour) * 60 + int(minute) - now.hour * 60 - now.minute) % 1440 <= MOST_HOURS * 60


_NOT_HELD = bag(
    "assembled built together gone added has have contain contains got is are was with no not of in on for to "
    "into through"
)


def _words(scene: Scene, slot: str, text: str) -> str | None:
    words = tuple(
        word
        for token in text.split()
        for word in (scene.item(token).words if token[0].isupper() and token[1:].isdigit() else (token,))
    )
    if slot == "ALLERGEN":
        named = allergens_in(words)
        return named[0] if len(named) == 1 else None
    if slot == "PERSON":
        return words[0] if words[0] in people_of(scene) else None
    if slot == "SPECIES":
        return " ".join(words) if longest(words, "wood", "species") == (0, len(words)) else None
    if slot == "HELD" and set(words) & _NOT_HELD:
        return None
    if slot == "HELD" and not (allergens_in(words) or words[-1] in _PLAIN_THINGS):
        return None
    while len(words) > 1 and words[-1] in _PLEASE:
        words = words[:-1]
    if slot == "ITEM" and len(words) > 2 and words[1] == "of" and words[0] in _MEASURES:
        words = words[2:]  # "how many kilos of beans"
    if slot == "ITEM" and len(words) > 2 and words[-2:] in (("we", "making"), ("we", "doing"), ("we", "cooking")):
        words = words[:-2]
    if slot == "WHAT" and words[0] in _NOT_OF_THE_CLASS:
        return None  # "who took my chair", "is anyone on the bus": nothing that the class's record knows
    return None if words[0] in _NO_ITEM or words[-1] in ("i", "we", "you", "is", "are", "'s") else " ".join(words)


def asked(scene: Scene) -> None:
    """The questions among the phrases of a message."""
    for hit in scene.phrases:
        if hit.question and not any(scene.used[hit.first : hit.last]):
            if all(mood != "question" for mood in scene.moods[hit.first : hit.last]):
                continue
            draft = _add(scene, hit)
            words = {item.word for item in scene.items[hit.first : hit.last] if item.kind == ""}
            short = scene.items[hit.first].word == "why" and "so" in words and not words & bag("oven fire door lid pot")
            draft.hidden["pronoun"] = short or bool(words & bag("it they that this there them these those"))


def told(scene: Scene) -> None:
    """The facts among the phrases of a message."""
    for hit in scene.phrases:
        free = not any(scene.used[hit.first : hit.last])
        if hit.question or not free or any(mood != "fact" for mood in scene.moods[hit.first : hit.last]):
            continue
        first, last = scene.sentence(hit.first)
        around = (*scene.items[first : hit.first], *scene.items[hit.last : last])
        if hit.fields["is"] == "chill" and any(item.kind in ("C", "L") for item in around):
            continue  # "left on the side to cool, 5 cm deep": the rules read the whole
        draft = _add(scene, hit)
        draft.time = hit.time
        if draft.kind == "wood" and "basis" not in draft.fields:
            words = {item.word for item in around}
            basis = next((each for each in ("dry", "wet") if {each, "basis"} <= words), None)
            draft.fields.update({"basis": basis} if basis else {})


def _add(scene: Scene, hit: Hit) -> Draft:
    kind = str(hit.fields["is"])
    return scene.add(dict(hit.fields), hit.first, hit.last, f"phrase for {kind}", question=hit.question)
