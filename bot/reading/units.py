"""Units as they are written in a yard, brought to the units of the record with pint."""

from __future__ import annotations

from functools import cache
from typing import Literal

import pint

Kind = Literal["kg", "litre", "cm", "minute", "second", "percent", "degree", "celsius", "fahrenheit"]

# pint's own pint is the American one; the yard's is the imperial one (0.568 l), as the school buys it.
_NAMES: dict[tuple[Kind, str], str] = {
    ("kg", "kilogram"): "kg kgs kilo kilos kilogram kilograms kilogramme kilogrammes keys",
    ("kg", "gram"): "g gm gms gr gram grams gramme grammes",
    ("kg", "pound"): "lb lbs pound pounds",
    ("kg", "ounce"): "oz ounce ounces",
    ("kg", "stone"): "stone",
    ("litre", "litre"): "l lt ltr ltrs ls litre litres liter liters",
    ("litre", "millilitre"): "ml mls mil mils millilitre millilitres milliliter milliliters",
    ("litre", "centilitre"): "cl centilitre centilitres",
    ("litre", "decilitre"): "dl decilitre decilitres deciliter deciliters",
    ("litre", "imperial_pint"): "pint pints pt pts",
    ("litre", "imperial_gallon"): "gallon gallons gal",
    ("litre", "quart"): "quart quarts qt qts",
    ("litre", "cup"): "cup cups cupful cupfuls",
    ("cm", "centimetre"): "cm cms centimetre centimetres centimeter centimeters cent cents",
    ("cm", "millimetre"): "mm millimetre millimetres millimeter millimeters",
    ("cm", "inch"): "inch inches",
    ("cm", "metre"): "metre metres meter meters",
    ("cm", "foot"): "ft foot feet",
    ("minute", "minute"): "min mins minute minutes mn",
    ("minute", "hour"): "hr hrs hour hours",
    ("second", "second"): "sec secs second seconds",
    ("percent", "percent"): "% percent percents pct",
    ("celsius", "degree_Celsius"): "celsius centigrade celcius celsuis",
    ("fahrenheit", "degree_Fahrenheit"): "fahrenheit farenheit fahrenhiet farenheight",
    ("degree", "degree_Celsius"): "° deg degs degree degrees degress",
}
_STANDARD: dict[Kind, str] = {
    "kg": "kilogram",
    "litre": "litre",
    "cm": "centimetre",
    "minute": "minute",
    "second": "second",
    "percent": "percent",
    "degree": "degree_Celsius",
    "celsius": "degree_Celsius",
    "fahrenheit": "degree_Celsius",
}
_DIGITS: dict[Kind, int] = {
    "kg": 3,
    "litre": 3,
    "cm": 2,
    "minute": 1,
    "second": 1,
    "percent": 2,
    "degree": 1,
    "celsius": 1,
    "fahrenheit": 1,
}
UNITS: dict[str, tuple[Kind, str]] = {
    word: (kind, unit) for (kind, unit), words in _NAMES.items() for word in words.split()
}


@cache
def _registry() -> pint.UnitRegistry[float]:
    return pint.UnitRegistry()


@cache
def _line(unit: str, standard: str) -> tuple[float, float]:
    """Slope and offset from a unit to the record's own; every unit here is a straight line away from it."""
    registry = _registry()
    zero = registry.Quantity(0.0, unit).to(standard).magnitude
    hundred = registry.Quantity(100.0, unit).to(standard).magnitude
    return (hundred - zero) / 100.0, zero


def convert(value: float, word: str) -> tuple[Kind, float]:
    """A number with a unit word, in kg, litre, cm, minute, second, percent or degree Celsius, rounded for the record.

    >>> convert(5, "lb"), convert(2, "pints"), convert(350, "fahrenheit")
    (('kg', 2.268), ('litre', 1.137), ('fahrenheit', 176.7))
    """
    kind, unit = UNITS[word]
    standard = _STANDARD[kind]
    if unit == standard:
        return kind, value
    slope, zero = _line(unit, standard)
    return kind, round(value * slope + zero, _DIGITS[kind])


def fahrenheit(value: float) -> float:
    """Degrees Celsius from Fahrenheit, to a tenth.

    >>> fahrenheit(212)
    100.0
    """
    return convert(value, "fahrenheit")[1]
