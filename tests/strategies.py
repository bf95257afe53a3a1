"""Facts as people may say them: each strategy gives a text and the flat objects that it means.

The renderings are the corpus's own shapes put together at random (common practice, no source).
"""

from __future__ import annotations

from hypothesis import strategies as st

OVENS = ("dome", "barrel")
DISHES = ("lamb", "beans")
ONES = (
    "",
    "one",
    "two",
    "three",
    "four",
    "five",
    "six",
    "seven",
    "eight",
    "nine",
    "ten",
    "eleven",
    "twelve",
    "thirteen",
    "fourteen",
    "fifteen",
    "sixteen",
    "seventeen",
    "eighteen",
    "nineteen",
)
TENS = ("", "", "twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety")


def spoken(value):
    """A heat as it is spoken: 175 is "one seventy five", 105 "one oh five", 200 "two hundred"."""
    hundreds, rest = divmod(value, 100)
    if rest == 0:
        return f"{ONES[hundreds]} hundred"
    tail = (
        f"oh {ONES[rest]}"
        if rest < 10
        else ONES[rest]
        if rest < 20
        else f"{TENS[rest // 10]} {ONES[rest % 10]}".strip()
    )
    return f"{ONES[hundreds]} {tail}"


def number_text(value):
    """Ways to write a heat in whole degrees Celsius."""
    return st.sampled_from(
        [f"{value}", f"{value}C", f"{value} C", f"{value}°", f"{value} degrees", f"{value} deg c", spoken(value)]
    )


PLACES = {
    "floor": ("floor", "hearth", "sole", "the floor"),
    "air": ("air", "air temp", "hanging thermometer", "door thermometer"),
    "dome": ("ceiling", "crown", "roof"),
    "back": ("back wall",),
    "wall": ("left wall", "side wall"),
    "mouth": ("mouth",),
}


@st.composite
def place_readings(draw):
    """ "floor's at 180", "180 on the floor", "infrared says 180 on the back wall" """
    place = draw(st.sampled_from(sorted(PLACES)))
    word = draw(st.sampled_from(PLACES[place]))
    value = draw(st.integers(101, 399))
    number = draw(number_text(value))
    fact = {"is": "reading", "place": place, "celsius": value}
    shapes = ["{word} {number}", "{word} is {number}", "{word}'s at {number}", "{word}: {number}"]
    if place != "air":
        shapes += ["ir {number} on the {word}", "{word} {number} with the ir gun", "{number} on the {word}"]
    shape = draw(st.sampled_from(shapes))
    if "ir" in shape.split():
        fact["tool"] = "infrared"
    return shape.format(word=word, number=number).replace("the the", "the"), [fact]


@st.composite
def hand_counts(draw):
    """ "5 count at the mouth" """
    count = draw(st.integers(2, 30))
    text = draw(st.sampled_from(["{n} count", "hand test, got to {n}", "got to {n} with my hand in", "count of {n}"]))
    return text.format(n=count), [{"is": "reading", "count": count, "tool": "hand"}]


@st.composite
def pot_acts(draw):
    """ "lamb in", "turned the beans" """
    dish = draw(st.sampled_from(DISHES))
    act, text = draw(
        st.sampled_from(
            [
                ("in", "{d} in"),
                ("in", "put the {d} in"),
                ("in", "{d} gone in"),
                ("out", "{d} out"),
                ("out", "took the {d} out"),
                ("turned", "turned the {d}"),
                ("lid_off", "lid off the {d}"),
                ("topped_up", "topped up the {d}"),
            ]
        )
    )
    return text.format(d=dish), [{"is": "pot", "act": act, "dish": dish}]


@st.composite
def moves(draw):
    dish, oven = draw(st.sampled_from(DISHES)), draw(st.sampled_from(OVENS))
    text = draw(st.sampled_from(["moved the {d} to the {o}", "{d} over to the {o}"]))
    return text.format(d=dish, o=oven), [{"is": "pot", "act": "moved", "dish": dish, "oven": oven}]


DOORS = [
    ("on", "door on"),
    ("on", "shut the door"),
    ("on", "door's shut"),
    ("on", "put the door back on"),
    ("off", "door off"),
    ("off", "opened the door"),
    ("off", "door open"),
    ("ajar", "door ajar"),
    ("ajar", "door propped open"),
    ("ajar", "door half open"),
]
doors = st.sampled_from(DOORS).map(lambda pair: (pair[1], [{"is": "door", "state": pair[0]}]))


@st.composite
def feeds(draw):
    """ "two splits of ash on the barrel" """
    pieces = draw(st.integers(1, 6))
    species = draw(st.sampled_from([None, "ash", "oak", "birch", "beech", "alder"]))
    oven = draw(st.sampled_from([None, "barrel"]))
    noun = "split" if pieces == 1 else "splits"
    number = draw(st.sampled_from([str(pieces), ONES[pieces]]))
    text = f"{number} {noun}{f' of {species}' if species else ''} on{f' the {oven}' if oven else ''}"
    fact = {"is": "fire", "act": "fed", "pieces": pieces, "species": species, "oven": oven}
    return text, [{key: value for key, value in fact.items() if value is not None}]


fires = st.sampled_from(
    [
        ("raked", "raked out"),
        ("raked", "raked out and swept"),
        ("spread", "embers spread over the floor"),
        ("out", "fire's out"),
        ("lit", "fire's lit"),
    ]
).map(lambda pair: (pair[1], [{"is": "fire", "act": pair[0]}]))

TENDER = [
    ("tough", "still tough"),
    ("giving", "starting to give"),
    ("tender", "fork-tender"),
    ("falling", "falling off the bone"),
]
SIMMER = [("gentle", "ticking over"), ("hard", "boiling hard"), ("none", "not a bubble")]
LIQUID = [("low", "liquid's low"), ("ok", "plenty of liquid")]


@st.composite
def checks(draw):
    """ "lamb: still tough, blipping gently" """
    dish = draw(st.sampled_from(DISHES))
    fact, words = {"is": "check", "dish": dish}, []
    for key, ways in (("tender", TENDER), ("simmer", SIMMER), ("liquid", LIQUID)):
        chosen = draw(st.sampled_from([None, *ways]))
        if chosen is not None:
            fact[key] = chosen[0]
            words.append(chosen[1])
    if not words:
        fact["tender"] = "tough"
        words = ["still tough"]
    lead = draw(st.sampled_from(["{d}: ", "{d} ", "checked the {d}, ", "{d} check - "])).format(d=dish)
    return lead + ", ".join(words), [fact]


@st.composite
def food_heats(draw):
    dish, value = draw(st.sampled_from(DISHES)), draw(st.integers(40, 99))
    part, text = draw(
        st.sampled_from(
            [
                ("core", "{d} core {v}"),
                ("core", "core of the {d} {v}"),
                ("core", "{d} {v} in the middle"),
                ("liquid", "{d} liquor {v}"),
                ("core", "probe in the {d} says {v} C"),
            ]
        )
    )
    return text.format(d=dish, v=value), [{"is": "food", "part": part, "celsius": value, "dish": dish}]


said_facts = st.one_of(
    place_readings(), hand_counts(), pot_acts(), moves(), doors, feeds(), fires, checks(), food_heats()
)


def _one_tool(parts):
    return len({"tool" in fact for _, found in parts for fact in found if fact["place"] != "air"}) <= 1


@st.composite
def reading_lists(draw):
    """Several spots in one message, with or without the oven's name at the head.

    One tool serves all spots of a list (labelling rule 7), so lists with a tool here and none there are left out.
    """
    parts = draw(st.lists(place_readings(), min_size=2, max_size=4).filter(_one_tool))
    oven = draw(st.sampled_from([None, "barrel"]))
    joint = draw(st.sampled_from([", ", " / ", ". ", "; "]))
    facts = [dict(fact, oven=oven) if oven else fact for _, found in parts for fact in found]
    return (f"{oven}: " if oven else "") + joint.join(text for text, _ in parts), facts


# Samples for the slots of bot/reading/phrase_tables.
SLOT_SAMPLES = {
    "DISH": DISHES,
    "OVEN": OVENS,
    "PLACE": ("floor", "ceiling", "air"),
    "TIME": ("13:30", "half one", "1.30"),
    "HEAT": ("150", "120 degrees"),
    "CORE": ("60", "63 degrees"),
    "COLD": ("4", "9 degrees"),
    "COUNT": ("16", "12"),
    "DEPTH": ("5 cm",),
    "LITRES": ("6 litres",),
    "KILOS": ("3 kg",),
    "LENGTH": ("ten minutes", "10 min"),
    "PERCENT": ("18%", "18"),
    "GUN": ("gun",),
    "WHAT": ("barrel", "door check"),
    "ITEM": ("stock", "onions"),
    "ALLERGEN": ("nuts", "celery"),
    "PERSON": ("mara", "tomos"),
    "SPECIES": ("ash", "oak"),
    "HELD": ("flour", "celery"),
    "FLOUR": ("cornflour",),
}
