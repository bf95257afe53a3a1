"""Clock times and whiles ago among the items: "half ten", "ten to eleven", "at 9.06", "20 mins ago"."""

from __future__ import annotations

from collections.abc import Sequence

from bot.reading import numbers, units
from bot.reading.clock_times import Ago, Clock, half_hour_before
from bot.reading.items import Item
from bot.reading.joining import is_number, join_items, word_at
from bot.reading.lexicon import bag

_BEFORE_TIME = bag("at by since from till until around before after about for past")


def find_times(items: list[Item]) -> list[Item]:
    """Clock times and whiles ago."""
    at = 0
    while at < len(items):
        if not _clock_phrase(items, at):
            _ago(items, at)
        at += 1
    _times_after_words(items)
    _parts_of_day(items)
    _times_of_acts(items)
    _minutes_of_acts(items)
    _times_alone(items)
    _times_from_others(items)
    _times_of_heats(items)
    return items


def _hot(items: list[Item], at: int) -> bool:
    item = items[at]
    return item.kind in ("N", "H") and 40 <= float(item.value.value if item.kind == "N" else item.value) <= 700


def _times_of_heats(items: list[Item]) -> None:
    """ "probe: 9.15 142, 9.45 158": pairs of a time and a heat, two at least."""
    pairs = [
        at
        for at in range(1, len(items) - 1)
        if items[at].kind == "N"
        and items[at].word.replace(":", ".").count(".") == 1
        and (clock := _clock(items, at)) is not None
        and clock.minute is not None
        and _hot(items, at + 1)
        and (items[at - 1].kind in (".", "P") or items[at - 1].word in ("and", "probe", "then"))
    ]
    if len(pairs) > 1:
        for at in pairs:
            join_items(items, at, at + 1, "T", _clock(items, at))


def _clock(items: Sequence[Item], at: int) -> Clock | None:
    """The clock time that a number item can be."""
    if not is_number(items, at) or items[at].value.clock is None:
        return None
    hour, minute = items[at].value.clock
    if hour > 24:
        return None
    return Clock(hour, minute, exact=items[at].value.zero_led or hour > 12)


_GOES_ON = bag("and the it was air floor probe core lid door pot fire sorry when with because so but as since i we not")


def _clock_phrase(items: list[Item], at: int) -> bool:
    word = word_at(items, at)
    if word in ("noon", "midday", "midnight"):
        join_items(items, at, at + 1, "T", Clock(0 if word == "midnight" else 12, 0, exact=True))
        return True
    if word == "half":
        end = at + 2 if word_at(items, at + 1) == "past" else at + 1
        hour = _clock(items, end)
        if hour is not None and hour.minute == 0 and hour.hour is not None and 1 <= hour.hour <= 12:
            join_items(items, at, end + 1, "T", Clock(hour.hour, 30))
            return _half_day(items, at)
        if end == at + 2:
            join_items(items, at, end, "T", Clock(None, 30))
            return True
        return False
    if (
        is_number(items, at)
        and word_at(items, at + 1) == "and"
        and word_at(items, at + 2) == "half"
        and word_at(items, at - 1) in _BEFORE_TIME
        and (hour := _clock(items, at)) is not None
        and hour.minute == 0
    ):
        join_items(items, at, at + 3, "T", Clock(hour.hour, 30))
        return _half_day(items, at)
    minutes: int | None = None
    end = at
    if word == "quarter":
        minutes, end = 15, at + 1
    elif word == "a" and word_at(items, at + 1) == "quarter":
        minutes, end = 15, at + 2
    elif is_number(items, at) and items[at].value.value in (5, 10, 15, 20, 25) and not items[at].value.colon:
        minutes, end = int(items[at].value.value), at + 1
    elif items[at].kind == "U" and items[at].value in (5, 10, 15, 20, 25, 12, 8, 7, 3, 2):
        minutes, end = int(items[at].value), at + 1
    if minutes is not None and word_at(items, end) in bag("past to before after of til till"):
        way = word_at(items, end)
        hour = _clock(items, end + 1)
        plain_hour = hour is not None and hour.minute == 0 and hour.hour is not None and 1 <= hour.hour <= 12
        # "at ten after twelve" is a time, "5 after 3 goes" is none.
        said = word in ("quarter", "a") or (way in ("after", "till", "til") and _said_as_time(items, at))
        if way in bag("before after of til till") and not (plain_hour and said):
            plain_hour = False
            # "raked at quarter after." is of the hour that runs; "a quarter after the bell" is no time.
            alone = word == "quarter" and word_at(items, at - 1) in _BEFORE_TIME
            if way == "after" and alone and (end + 1 >= len(items) or items[end + 1].kind == "."):
                join_items(items, at, end + 1, "T", Clock(None, minutes))
                return True
            if way != "past" and way != "to":
                return _explicit(items, at)
        if plain_hour and hour is not None:
            if word_at(items, end + 2) in units.UNITS:
                return _explicit(items, at)
            late = way in ("past", "after")
            clock = Clock(hour.hour, minutes) if late else half_hour_before(hour, minutes)
            join_items(items, at, end + 2, "T", clock)
            return _half_day(items, at)
        if word_at(items, end + 1) in ("noon", "midday", "midnight"):
            base = Clock(0 if word_at(items, end + 1) == "midnight" else 12, 0, exact=True)
            join_items(
                items,
                at,
                end + 2,
                "T",
                Clock(base.hour, minutes, True)
                if way == "past"
                else half_hour_before(Clock(base.hour or 24, 0, True), minutes),
            )
            return True
        if (
            way in ("past", "to")
            and (
                end + 1 >= len(items)
                or items[end + 1].kind in (".", "P", "D", "O", "I")
                or (word_at(items, at - 1) == "at" and is_number(items, end + 1) and items[end + 1].value.value >= 60)
                or word_at(items, end + 1) in _GOES_ON
            )
            and (
                way == "past"
                or word in ("quarter", "a")
                or word_at(items, at - 1) in _BEFORE_TIME
                or end + 1 >= len(items)
                or (at > 0 and (items[at - 1].kind == "O" or items[at - 1].word in _DONE) and items[at].value.words)
            )
        ):
            join_items(items, at, end + 1, "T", Clock(None, minutes if way == "past" else 60 - minutes))
            return True
    return _explicit(items, at)


# "pork in the dome twenty to, door shut": what stands right before a time without "at".
_DONE_AT_FIRE = bag("raked lit spread")
_DONE = bag("in out on off lit raked fed turned shut loaded")


_PUT_AWAY = bag("fridge ice chilled out in raked lit served fed chill trays tray")


def _times_alone(items: list[Item]) -> None:
    """ "rest in the fridge, 12.50": two decimals alone in a clause behind an act are a time; no heat is read so."""
    for at in range(2, len(items)):
        clock = _clock(items, at)
        written = is_number(items, at) and len(items[at].word.partition(".")[2]) == 2 and clock is not None
        alone = items[at - 1].word == "," and (at + 1 >= len(items) or items[at + 1].kind == ".")
        if written and alone and clock is not None and clock.hour and any(
                each.kind == "" and each.word in _PUT_AWAY for each in items[max(0, at - 4) : at]):
            join_items(items, at, at + 1, "T", clock)


def _minutes_of_acts(items: list[Item]) -> None:
    """ "raked at 40": forty minutes past the hour that runs or ran."""
    for at in range(2, len(items)):
        number = items[at].value.value if items[at].kind == "N" else 0
        if number % 1 == 0 and 25 <= number < 60 and word_at(items, at - 1) == "at" and (
            word_at(items, at - 2) in _DONE_AT_FIRE and (at + 1 >= len(items) or items[at + 1].kind == ".")
        ):
            join_items(items, at, at + 1, "T", Clock(None, int(number)))


def _said_as_time(items: list[Item], at: int) -> bool:
    return word_at(items, at - 1) in bag("at since by from about around until") or bool(
        is_number(items, at) and items[at].value.words
    )


def _explicit(items: list[Item], at: int) -> bool:
    """ "10:30", "5pm", "3 o'clock" """
    clock = _clock(items, at)
    if clock is None:
        return False
    if word_at(items, at + 1) in ("o", "oclock") or word_at(items, at + 1) == "o'clock":
        end = at + 2
        if word_at(items, at + 1) == "o" and word_at(items, at + 2) in ("clock", "'clock"):
            end = at + 3
        elif word_at(items, at + 1) == "o":
            return False
        join_items(items, at, end, "T", clock)
        return _half_day(items, at)
    if items[at].value.colon:
        join_items(items, at, at + 1, "T", clock)
        return _half_day(items, at)
    if not clock.minute and 1 <= (clock.hour or 0) <= 12:
        end = next((at + 1 + len(words) for words in _TO_THE_MINUTE if all(
            word_at(items, at + 1 + n) == word for n, word in enumerate(words))), at)
        if end > at:
            join_items(items, at, end, "T", clock)  # "lit six exactly"
            return True
        if _spaced_minutes(items, at):
            join_items(items, at, at + 2, "T", Clock(clock.hour, int(items[at + 1].word)))
            return _half_day(items, at)
    if word_at(items, at + 1) in ("am", "pm") or (
        word_at(items, at + 1) in ("a", "p") and word_at(items, at + 2) in (".", "m")
    ):
        join_items(items, at, at + 1, "T", clock)
        return _half_day(items, at)
    return False


_TO_THE_MINUTE = (("exactly",), ("sharp",), ("on", "the", "dot"), ("dead",))


def _spaced_minutes(items: Sequence[Item], at: int) -> bool:
    """ "eat at 12 15": a space for the point, where nothing is counted behind it."""
    if at + 1 >= len(items) or items[at + 1].kind != "N" or word_at(items, at - 1) not in bag("at by till until"):
        return False
    minutes = items[at + 1].word
    behind = items[at + 2] if at + 2 < len(items) else None
    ends = behind is None or behind.kind == "." or behind.word in bag("now today please for sharp and")
    return len(minutes) == 2 and minutes.isdigit() and int(minutes) < 60 and int(minutes) % 5 == 0 and ends


def _half_day(items: list[Item], at: int) -> bool:
    """An "am" or "pm" behind a time settles it."""
    clock = items[at].value
    word = word_at(items, at + 1)
    end = at + 2
    if word in ("a", "p") and word_at(items, at + 2) == "." and word_at(items, at + 3) == "m":
        word, end = word + "m", at + (5 if word_at(items, at + 4) == "." else 4)
    if word in ("a", "p") and word_at(items, at + 2) == "m":
        word, end = word + "m", at + 3
    if word in ("am", "pm") and clock.hour is not None and clock.hour <= 12:
        hour = clock.hour % 12 + (12 if word == "pm" else 0)
        join_items(items, at, end, "T", Clock(hour, clock.minute, True))
    return True


_MORNING, _EVENING = bag("morning mornin"), bag("afternoon evening night")


def _parts_of_day(items: list[Item]) -> None:
    """ "8.30 in the morning", "five this morning", "nine tomorrow morning": the part of the day settles the half."""
    for at in reversed(range(len(items))):
        clock = items[at].value
        if items[at].kind != "T" or not isinstance(clock, Clock) or clock.exact:
            continue
        if clock.hour is None or not 1 <= clock.hour <= 12:
            continue
        lead = at + 1
        while word_at(items, lead) in ("in", "the", "at", "this", "tomorrow", "that", "next"):
            lead += 1
        word = word_at(items, lead)
        if lead == at + 1 and word not in ("tonight", "tomorrow"):
            continue
        late = word in _EVENING or word == "tonight"
        if word in _MORNING or late:
            hour = clock.hour % 12 + 12 * late
            # "twelve at night" is midnight, "two at night" is two in the morning.
            if word in ("night", "tonight") and hour < 17:
                hour = hour % 12
            join_items(items, at, lead + 1, "T", Clock(hour, clock.minute, True))


def _ago(items: list[Item], at: int) -> None:
    if items[at].kind != "U":
        return
    if word_at(items, at - 1) == "since" and word_at(items, at + 1) not in bag("ago earlier back or max odd past to"):
        join_items(items, at, at + 1, "A", Ago(items[at].value))  # "inside since 5 minutes and the lid is on"
        return
    word = word_at(items, at + 1)
    end = at + 2
    if word in ("or", "max", "odd") and word_at(items, at + 2) in ("so", ""):
        word, end = word_at(items, at + 3), at + 4
    if word in ("ago", "earlier") or (word == "back" and (end >= len(items) or items[end].kind != "")):
        join_items(items, at, end, "A", Ago(items[at].value))


def _times_with_colon(items: list[Item]) -> None:
    """ "nine: 148", "10.30: floor 184": a time at the head of a clause, with a colon behind it and a heat to come."""
    for at in range(len(items) - 2):
        clock = _clock(items, at)
        head = at == 0 or items[at - 1].kind == "."
        if clock is None or not head:
            continue
        minutes = "." in items[at].word and clock.minute + 1 and items[at + 1].kind in ("P", "O", "D")
        listed = word_at(items, at + 1) in bag("readings reading temp numbers shots") and bool(clock.minute)
        if word_at(items, at + 1) not in (":", "-") and not minutes and not listed:
            continue
        if items[at].value.value > 24 and not clock.minute:
            continue
        if any(item.kind in ("N", "H") for item in items[at + 2 : at + 6]):
            items[at] = Item("T", items[at].word, items[at].start, items[at].end, clock, items[at].words)


_HEAT_NOUNS = bag(
    "fridge freezer core middle centre liquor liquid outside cupboard hold meat probe sitting holding "
    "steady it temp temperature reading read reads"
)


def _times_after_words(items: list[Item]) -> None:
    """ "at ten", "since 9.06", "by two": a number after such a word is a time if it can be one."""
    if any(item.kind in ("T", "A") for item in items) or len(items) > 3:
        _times_with_colon(items)
    for at in range(1, len(items)):
        if not is_number(items, at):
            continue
        number = items[at].value
        clock = _clock(items, at)
        prep = items[at - 1].word if items[at - 1].kind == "" else ""
        back = 2
        if prep == "of" and at >= 2 and items[at - 2].word == "as":
            prep, back = "since", 3  # "as of 7.10"
        if prep in ("about", "around") and at >= 2 and items[at - 2].word in ("at", "since", "by", "from"):
            prep, back = items[at - 2].word, 3
        if clock is not None and prep in _DONE and _bare_time(items, at):
            items[at] = Item("T", items[at].word, items[at].start, items[at].end, clock, items[at].words)
            continue
        if clock is not None and prep in ("lit", "relit", "raked", "fired") and _hour_alone(items, at):
            items[at] = Item("T", items[at].word, items[at].start, items[at].end, clock, items[at].words)
            continue
        if clock is None or prep not in bag("at by since till until from around before after"):
            continue
        before = items[at - back] if at >= back else None
        after = items[at + 1] if at + 1 < len(items) else None
        if (
            after is not None
            and after.kind == ""
            and after.word in bag("people guests minutes logs splits on of and")
            and (after.word in bag("people guests minutes logs splits"))
        ):
            continue
        if prep == "at" and _is_heat(number, before, items, at, back):
            continue
        if (
            prep in ("around", "before", "after", "from")
            and number.value > 24
            and not (number.zero_led or number.words)
        ):
            continue
        if before is not None and before.word == "in" and at > back and items[at - back - 1].word == "walk":
            continue
        if prep in ("around", "from") and (before is not None and before.kind in ("P", "O", "D")):
            continue
        if prep in ("before", "after") and after is not None and after.word in ("goes", "went"):
            continue
        if (
            prep == "by"
            and number.value > 24
            and number.clock
            and number.words is False
            and "." not in items[at].word
            and len(items[at].word) < 4
        ):
            continue
        items[at] = Item("T", items[at].word, items[at].start, items[at].end, clock, items[at].words)


def _hour_alone(items: list[Item], at: int) -> bool:
    """ "lit 7, oak": nobody lights or rakes so many of anything."""
    stops = at + 1 >= len(items) or (items[at + 1].kind == "." and items[at + 1].word in ",.;!")
    whole = items[at].word.isdigit() or (items[at].value.words and items[at].value.value == int(items[at].value.value))
    return stops and 4 <= items[at].value.value <= 12 and whole


def _times_from_others(items: list[Item]) -> None:
    """ "raked at 8.20, door on ten minutes later": a time that counts from the one told before it."""
    at = 0
    base: Clock | None = None
    while at < len(items):
        if items[at].kind == "T" and isinstance(items[at].value, Clock):
            base = items[at].value
        word, that = word_at(items, at + 1), word_at(items, at + 2) in ("that", "then")
        later = word == "later" or (word == "after" and that)
        counts = items[at].kind == "U" and (later or (word == "before" and that))
        if counts and base is not None and base.hour is not None:
            minute = base.hour * 60 + base.minute + round(float(items[at].value)) * (1 if later else -1)
            if 0 <= minute < 24 * 60:
                hour = minute // 60 if base.exact or base.hour > 12 else minute // 60 % 12 or 12
                join_items(items, at, at + (3 if that else 2), "T", Clock(hour, minute % 60, base.exact))
        at += 1


_DONE = bag("in out lit raked fed on off served turned browned shut since started")

# What is done at a time that is told bare: "fired it up 5.40", "8.20 raked", "embers spread 7.15".
_ACTS = bag(
    "in out lit relit raked fed on off served turned browned seared shut started spread fired stoked opened closed "
    "propped cracked rotated spun flipped moved topped added put took pulled lifted rested resting assembled dished "
    "pulled plated reheated chilled swept went loaded check checked ajar open up aside tender giving simmering "
    "blipping going burning"
)
_HEAT_KINDS = frozenset("PIHL")


def _times_of_acts(items: list[Item]) -> None:
    """Bare times with their minutes, before or behind an act of the clause: "shin browned 8.10", "8.25 door on"."""
    for at in range(len(items)):
        clock = _clock(items, at)
        if clock is None or not (_with_minutes(items, at) or _hour_in_words(items, at)):
            continue
        after = items[at + 1] if at + 1 < len(items) else None
        before = items[at - 1] if at else None
        ends = (
            after is None
            or (after.kind == "." and after.word != "-")
            or after.word in bag("and this then but so sharp ish exactly bang with in on at by from")
            or (after.kind in frozenset("PODI") and _with_minutes(items, at))
            or (after.kind == "" and "." in items[at].word and after.word not in _COUNTED_THINGS)
        )
        begins = before is None or before.kind == "." or before.word in ("and", "then", "but")
        begin, end = at, at + 1
        while begin and items[begin - 1].kind not in (".", "T", "A"):
            begin -= 1
        while end < len(items) and items[end].kind not in (".", "T", "A"):
            end += 1
        lit_dome = (
            before is not None
            and before.value == "dome"
            and any(item.word in _LEADING_ACTS for item in items[max(0, at - 3) : at])
        )
        if begins:
            acts = any(item.kind == "" and item.word in _ACTS for item in items[at + 1 : end]) and not (
                after is not None and after.kind == "" and after.word in _COUNTED_THINGS
            )
            acts = acts or ("." in items[at].word and _heat_follows(items[at + 1 : end]))
        elif ends and (
            lit_dome
            or (before is not None and before.kind == "P" and "." in items[at].word)
            or not (before is not None and (before.kind in _HEAT_KINDS or before.word in _NO_TIME_BEHIND))
        ):
            acts = any(item.kind == "" and item.word in _ACTS for item in items[begin:at])
        else:
            acts = False
        if begins and not acts:
            acts = _alone_behind_act(items, at, before, after)
        if acts:
            items[at] = Item("T", items[at].word, items[at].start, items[at].end, clock, items[at].words)


def _alone_behind_act(items: Sequence[Item], at: int, before: Item | None, after: Item | None) -> bool:
    """ "rice pudding out, 13.05": a time with its minutes, alone behind the comma after what was done."""
    if before is None or before.word not in (",", "-", "(") or not (after is None or after.kind == "."):
        return False
    _, dot, minutes = items[at].word.partition(".")
    return bool(dot) and len(minutes) == 2 and at > 1 and items[at - 2].word in _ACTS | {"ice"}


def _heat_follows(clause: Sequence[Item]) -> bool:
    """ "9.50 the probe was 158": what stands behind the time has its own number."""
    heats = [item for item in clause if item.kind == "H" or (item.kind == "N" and item.value.value >= 40)]
    return len(heats) == 1 and any(item.word in ("probe", "core", "thermocouple") for item in clause)


_NO_TIME_BEHIND = bag("core probe temp temperature to of not was is be 's than serve eating eat lunch says reads")
_COUNTED_THINGS = bag("on in more splits split logs log people guests")


def _with_minutes(items: Sequence[Item], at: int) -> bool:
    """ "8.20", "0905", "nine fifteen" """
    number = items[at].value
    if "." in items[at].word:
        return True
    return bool(len(items[at].word) == 4 and items[at].word.isdigit() and (number.zero_led or _late(items, at)))


def _late(items: Sequence[Item], at: int) -> bool:
    """ "lit 1730": no brick oven is so hot; what is poured is measured in such numbers."""
    poured = bag("added topped poured tipped put with of to")
    return 1300 <= items[at].value.value < 2400 and not any(item.word in poured for item in items[max(0, at - 4) : at])


def _hour_in_words(items: Sequence[Item], at: int) -> bool:
    """ "nine fifteen" right behind an act and at the end of its clause, or at the head of a clause."""
    number = items[at].value
    if not (number.words and number.clock[1] and number.value < 1300):
        return False
    if at == 0 or items[at - 1].kind == ".":
        return at + 1 < len(items) and items[at + 1].kind in ("D", "O", "")
    words = [item.word for item in items[max(0, at - 4) : at] if item.word not in ("the", "up")]
    return items[at - 1].word in _ACTS or (words[-2:-1] != [] and words[-2] in _LEADING_ACTS)


_LEADING_ACTS = bag("lit raked fired shut opened turned")


def _bare_time(items: Sequence[Item], at: int) -> bool:
    """ "lamb in 9.15", "lit six thirty": behind an act a number with minutes is a time, if nothing goes on from it."""
    number = items[at].value
    late = items[at].word.isdigit() and len(items[at].word) == 4 and _late(items, at)
    if not (number.clock[1] or late) or number.value >= 2400 or not ("." in items[at].word or number.words or late):
        return False
    after = items[at + 1] if at + 1 < len(items) else None
    subject = items[at - 2].kind if at >= 2 else ""
    return (after is None or (after.kind == "." and after.word != "-")) and subject not in ("P", "I")


def _put_in(items: Sequence[Item], at: int) -> bool:
    """ "lentils into the fridge at 3.40": what was put there, against "fridge at 4"."""
    return any(
        item.word == "into" or (item.word == "in" and items[n - 1].word != "walk")
        for n, item in enumerate(items[max(0, at - 5) : at], start=max(0, at - 5))
    )


_DONE_TO_OVENS = bag("lit relit fired fed raked stoked opened closed shut sealed")


def _is_heat(number: numbers.Number, before: Item | None, items: Sequence[Item], at: int, back: int) -> bool:
    """Whether "at N" is a heat: "floor at 184", "fridge is at 4", against "at 11 floor 184", "in at 9"."""
    told = before
    while told is not None and told.word in bag(
        "'s is was sitting still now steady are be running holding up reading down only already currently back"
    ):
        back += 1
        told = items[at - back] if at >= back else None
    linked = told is not before
    noun = told is not None and (
        told.kind in ("P", "O", "I") or (told.kind == "D" and linked) or (told.kind == "" and told.word in _HEAT_NOUNS)
    )
    if number.clock is not None and number.clock[1] and 700 <= number.value < 2400 and noun:
        later = items[at + 1 : at + 5]
        if any(item.kind in ("N", "H") for item in later) or number.words:
            return False
    if "." in items[at].word or number.zero_led:
        return (
            noun
            and number.clock is not None
            and number.value < 10
            and told is not None
            and told.word in ("fridge", "freezer", "outside")
            and not (number.clock[1] and told is before and _put_in(items, at))
        )
    if (
        told is not None
        and told.word in ("fridge", "freezer")
        and any(
            item.word in ("in", "into") and items[n - 1].word != "walk"
            for n, item in enumerate(items[: at - back])
            if n >= at - back - 2
        )
    ):
        return False
    if number.value <= 24:
        cold = told is not None and told.word in ("fridge", "freezer", "outside", "count")
        return cold or (noun and linked and told is not None and told.kind != "D" and number.value not in range(1, 13))
    done = items[max(0, at - back - 3) : max(0, at - back)]
    if noun and told is before and number.clock is not None and any(item.word in _DONE_TO_OVENS for item in done):
        return False  # "lit the dome at five forty five"
    if noun or linked:
        return True
    if number.words and number.clock is not None and number.clock[1] and number.value < 1300:
        return False
    return number.value < 700 or number.value >= 2400
