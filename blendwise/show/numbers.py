"""Facts as a maker reads them: by their unit word, in the book's units, with enough digits to differ."""

from __future__ import annotations

import math
from typing import Final

from blendwise.quantity import METRIC, Basis, Dimension, Units, format_number
from blendwise.quantity import in_units as measure_in_units
from blendwise.quantity.prose import DIFFERENCE
from blendwise.quantity.units import FAHRENHEIT_STEP

DIMENSIONS: Final = {
    **{"g": Dimension.MASS, "mL": Dimension.VOLUME, "cm": Dimension.LENGTH},
    **{"°C": Dimension.TEMPERATURE, "%": Dimension.FRACTION},
}
"""Units that a book may show otherwise; all others (min, none) are shown as they are."""
FINEST: Final = {"g": 2, "oz": 3}
"""Decimals of a mass to weigh."""


def in_units(value: float, unit: str, units: Units = METRIC) -> tuple[float, str]:
    """A canonical value and its unit as the book shows them (0.04 "% of oils" is 4 "% of oils")."""
    if unit == DIFFERENCE:
        return (value * FAHRENHEIT_STEP, "°F") if units.temperature == "F" else (value, "°C")
    word, of, what = unit.partition(" of ")
    if word not in DIMENSIONS:
        return value, unit
    basis = Basis(f"of {what}") if f"of {what}" in list(Basis) else None
    number, shown = measure_in_units(value, DIMENSIONS[word], units, basis)
    return number, f"{shown}{of}{what}"


def with_unit(text: str, unit: str) -> str:
    """A number's text and its unit, with a space unless there is no unit."""
    return f"{text} {unit}" if unit else text


def short_unit(unit: str) -> str:
    """The unit without its basis, for the second number of a sentence ("% of oils" gives "%")."""
    return unit.split(" of ", 1)[0]


def minutes_left(value: float) -> str:
    """Minutes to spare, or of a deadline: whole from ten on, else tenths, never more than there are."""
    part = 1 if abs(value) >= 10 else 10
    return format_number(math.floor(value * part + 1e-9) / part)


def halves_left(value: float) -> str:
    """The same as it is told at the bench: whole from ten on, else in halves, never more than there are."""
    whole, half = divmod(math.floor(value * 2 + 1e-9), 2)
    return f"{whole}½".removeprefix("0") if half and 0 <= whole < 10 else str(whole)


def minutes_short(value: float) -> str:
    """Minutes that are lacking: whole from ten on, else tenths, never fewer than are lacking."""
    part = 1 if value >= 10 else 10
    return format_number(math.ceil(value * part - 1e-9) / part)


def amount(value: float, unit: str, units: Units = METRIC) -> str:
    """One canonical value with its unit, as the book shows it."""
    number, shown = in_units(value, unit, units)
    return with_unit(format_number(number), shown)


def grams(value: float, units: Units = METRIC) -> str:
    """A mass to weigh: 0.01 g or 0.001 oz at the finest, so that no digit is shown that no scale has."""
    number, unit = in_units(value, "g", units)
    return f"{format_number(round(number, FINEST[unit]), 15)} {unit}"


_WORDS = [
    *("no", "one", "two", "three", "four", "five", "six"),
    *("seven", "eight", "nine", "ten", "eleven", "twelve"),
]


def counted(number: int, one: str, many: str = "") -> str:
    """A count in words up to twelve: "one rule", "four rules", "13 rules"."""
    word = _WORDS[number] if number < len(_WORDS) else str(number)
    return f"{word} {one if number == 1 else many or one + 's'}"


EIGHTHS: Final = ("", "⅛", "¼", "⅜", "½", "⅝", "¾", "⅞")


def teaspoons(number: float | None) -> str:
    """Level teaspoons to the nearest eighth; empty where none was weighed, or for less than can be seen."""
    if number is None or number < LEAST_SPOON:
        return ""
    whole, eighths = divmod(round(number * 8), 8)
    return f"{whole or ''}{EIGHTHS[eighths]} tsp"


LEAST_SPOON: Final = 0.12
"""Of a teaspoon: about the smallest spoon that is sold."""
