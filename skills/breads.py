"""Words for what is baked of dough: the record places it without a model, and the dish's table has its figures."""
from __future__ import annotations

from collections.abc import Iterable

FLATBREADS = (
    "flatbread", "flatbreads", "pizza", "pizzas", "pitta", "naan", "focaccia", "tortilla", "lavash", "chapati",
    "roti", "paratha", "calzone", "margherita", "pissaladiere", "farl", "oatcake", "crumpet",
)
LOAVES = (
    "bread", "loaf", "loaves", "sourdough", "rolls", "buns", "baguette", "batard", "boule", "ciabatta", "brioche",
    "bap", "challah", "bagel", "bialy", "pretzel", "teacake", "bannock", "babka", "panettone", "stollen",
    "croissant", "rye",
)


def one_of(dish: str, words: Iterable[str]) -> bool:
    """Whether the last word of a name is one of these, or several of it: "margheritas", "rye bread"."""
    last = dish.lower().split()[-1] if dish.split() else ""
    return last in words or last.removesuffix("s") in words
