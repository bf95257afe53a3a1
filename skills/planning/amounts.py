"""Amounts for a number of guests: a table of servings, common practice, no source, but for what is left when cooked.

low and high are what one adult's main-course serving takes of the raw thing; the reply adds a tenth for waste. What is
left of meat, cooked and picked off the bone: US tables of servings a pound, of 3 oz cooked each (boneless chuck and
stewing meat 3, brisket 4, shank and bone-in rump 2, short ribs 1.5), and a 6 lb bone-in roast that leaves 2.5 to 3 lb.
"""
from __future__ import annotations

import re
from dataclasses import dataclass

from rapidfuzz import fuzz, process

from skills.dish.cuts import cut_of
from skills.dish.finishes import COLLAGEN
from skills.planning.pot_fill import DEEP, FULL, NARROWEST_CM, WIDEST_CM, filled
from skills.skill import Reply
from skills.view import View
from skills.vocabulary import HowMuch
from skills.wording import capital, number

OVER = 1.10
# Braising pieces, where no cut was told (common practice, no source).
PIECE_KG = 0.4
MOST_GUESTS = 1000


@dataclass(frozen=True)
class Serving:
    """One row: what one guest takes, [kg] or [l] or pieces; left [-]: cooked share of raw meat."""
    names: tuple[str, ...]
    low: float
    high: float
    unit: str
    remark: str
    left: float = 0.0


SERVINGS: tuple[Serving, ...] = (
    Serving(("meat", "beef", "lamb", "pork", "shoulder", "boneless shoulder", "shin", "brisket", "collar", "cheek",
             "cheeks", "stewing meat"), 0.18, 0.23, "kg", "raw, off the bone; 120 to 150 g each cooked", 0.65),
    Serving(("meat on the bone", "shoulder on the bone", "leg on the bone"), 0.265, 0.33, "kg",
            "raw, on the bone; 120 to 150 g each cooked and picked", 0.45),
    Serving(("shanks", "shank", "neck", "shin on the bone"), 0.32, 0.40, "kg",
            "raw, on the bone; one small shank each", 0.375),
    Serving(("ribs", "short ribs", "oxtail"), 0.43, 0.54, "kg", "raw, on the bone", 0.28),
    Serving(("chicken", "bird", "poultry"), 0.35, 0.45, "kg", "whole birds, raw", 0.38),
    Serving(("fish", "fillet"), 0.15, 0.20, "kg", "raw fillet", 0.80),
    Serving(("beans", "pulses", "lentils", "chickpeas", "dried beans"), 0.07, 0.09, "kg",
            "dry; about 2.3 times that soaked"),
    Serving(("stock", "liquor", "broth", "cider", "liquid"), 0.07, 0.12, "l",
            "half-way up the meat; fill no pot past two thirds"),
    Serving(("soup",), 0.30, 0.40, "l", "as a first course 0.25"),
    Serving(("flour", "bread flour"), 0.065, 0.085, "kg", "one flatbread of about 120 g dough"),
    Serving(("dough", "flatbread", "flatbreads", "pizza", "pizzas"), 0.11, 0.14, "kg", "dough; one flatbread each"),
    Serving(("bread", "loaves", "loaf"), 0.10, 0.15, "kg", "baked"),
    Serving(("cake", "cakes"), 0.08, 0.12, "kg", "batter"),
    Serving(("potatoes", "spuds"), 0.20, 0.25, "kg", "raw"),
    Serving(("carrots", "roots", "vegetables", "veg", "onions", "cabbage"), 0.12, 0.18, "kg",
            "raw, all kinds together"),
    Serving(("rice",), 0.065, 0.085, "kg", "dry"),
    Serving(("pasta",), 0.09, 0.12, "kg", "dry"),
    Serving(("pudding rice", "rice pudding"), 0.025, 0.035, "kg", "dry rice; ten times that in milk"),
    Serving(("custard", "flan"), 0.12, 0.16, "kg", "mixed: milk, eggs and sugar"),
    Serving(("milk",), 0.25, 0.35, "l", "for rice pudding"),
    Serving(("wine",), 0.04, 0.06, "l", "in the pot"),
    Serving(("salad", "leaves", "greens"), 0.04, 0.06, "kg", "dressed leaves"),
    Serving(("eggs",), 1.0, 2.0, "", "each"),
    Serving(("apples", "fruit"), 0.15, 0.20, "kg", "raw"),
)
# The row of a kind of dish of which no word has one of its own.
_OF_A_KIND = {"braise": "meat", "roast": "meat", "bird": "chicken", "fish": "fish", "beans": "beans",
              "roots": "vegetables", "pudding": "pudding rice", "custard": "custard", "loaves": "bread",
              "flatbreads": "dough", "cakes": "cake", "drying": "fruit"}
_BY_NAME = {name: serving for serving in SERVINGS for name in serving.names}


def find(item: str) -> Serving | None:
    """The row that fits a name, its last word first ("lamb stock" is stock); slips of the thumb are forgiven.

    >>> find("lamb stock").unit
    'l'
    """
    plain = " ".join(item.lower().replace("-", " ").split())
    words = [word for word in re.split(r" ?\b(?:bone in|on (?:the )?bone|in)\b ?| ", plain) if word]
    found = next((_BY_NAME[tried] for tried in (plain, *reversed(words)) if tried in _BY_NAME), None)
    if found is _BY_NAME["meat"] and re.search(r"\b(bone in|on (?:the )?bone)\b", plain):
        return _BY_NAME["meat on the bone"]
    if found is not None:
        return found
    close = process.extractOne(item.lower(), list(_BY_NAME), scorer=fuzz.ratio, score_cutoff=82)
    return _BY_NAME[close[0]] if close else None


def serving_of(kind: str, *names: object) -> Serving:
    """The row [kg] of a dish by its names, else that of its kind (`Heat.name`)."""
    found = (find(name) for name in names if isinstance(name, str))
    usual = _BY_NAME[_OF_A_KIND.get(kind, "meat")]
    return next((each for each in found if each is not None and each.unit == "kg"), usual)


def _figure(value: float, unit: str) -> str:
    if unit == "":
        return f"{value:.0f}"
    if value < 1:
        return f"{max(50, round(value * 20) * 50)} {'g' if unit == 'kg' else 'ml'}"
    return f"{value:.1f} {unit}"


def say_amount(question: HowMuch, view: View) -> Reply:
    """ "how much stock for 18?" """
    guests = question.guests if question.guests is not None else view.record.guests
    if question.item is None:
        return Reply(("How much of what? Such as 'how much stock for 18?'.",))
    if guests is None:
        return Reply((f"For how many? Such as 'how much {question.item} for 18?'.",))
    if not 1 <= guests <= MOST_GUESTS:
        return Reply((f"{guests} guests is beyond what I can reckon; ask for 1 to {MOST_GUESTS}.",))
    serving = find(question.item)
    if serving is None:
        return Reply((f"I have no figure for {question.item}. I know meat on or off the bone, beans, stock, flour, "
                      "roots and the like.",))
    if question.pot_cm is not None and "stock" in serving.names:
        return _in_pot(question.item, guests, question.pot_cm, view)
    low, high = serving.low * guests * OVER, serving.high * guests * OVER
    left = ""
    if serving.left:
        left = f" Leaves {serving.left * low:.1f} to {serving.left * high:.1f} kg cooked to serve."
    return Reply((f"{capital(question.item)} for {guests}: {_figure(low, serving.unit)} to "
                  f"{_figure(high, serving.unit)}, a tenth over included ({serving.remark}).{left}",
                  "Common practice, no source: go by your own yields where you have them."))


def _in_pot(item: str, guests: int, pot_cm: float, view: View) -> Reply:
    """Liquor half-way up the meat of the one dish with liquor that was told, else of a helping each."""
    if not NARROWEST_CM <= pot_cm <= WIDEST_CM:
        return Reply((f"A pot {number(pot_cm)} cm across cannot be right. Ask such as 'stock for 18 in a 30 cm pot'.",))
    wet = [dish for dish in view.record.dishes.values() if dish.meat_kg and cut_of(dish)[0].finish is COLLAGEN]
    told = wet[0] if len(wet) == 1 else None
    meat, cut = _BY_NAME["meat"], cut_of(told)[0] if told is not None else None
    kg = told.meat_kg if told is not None and told.meat_kg else 0.5 * (meat.low + meat.high) * guests * OVER
    piece_kg = PIECE_KG if cut is None else cut.piece_kg or kg
    found = filled(kg, pot_cm, piece_kg, cut.slender if cut is not None else 1.5)
    what = f"{kg:.1f} kg of {told.name if told is not None else 'meat in pieces'}"
    lies = f"half-way up {what}, which lies {found.deep_cm:.0f} cm deep"
    pots = "1 pot" if found.pots == 1 else f"{found.pots} pots"
    head = f"{capital(item)} for {guests} in a {number(pot_cm)} cm pot"
    lines = [f"{head}: about {_figure(found.liquor_l, 'l')}, {lies}."]
    if found.deep_cm > pot_cm * DEEP * FULL * 1.05:
        lines.append("It stands higher than two thirds of such a pot: a wider one, or cut it.")
    else:
        lines.append(f"Takes {pots} of that width, half as deep as wide, two thirds full.")
    return Reply((*lines, "Common practice, no source: look how high it stands, and go by that."))
