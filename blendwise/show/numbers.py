"""Numbers as a maker reads them: enough digits to differ, never an exponent, in the book's own units."""

from __future__ import annotations

import math

from blendwise.answers.results import Units
from blendwise.quantity.units import GRAMS_PER_OUNCE, OUNCES_PER_POUND, fahrenheit

METRIC = Units()
FEWEST_DIGITS, MOST_DIGITS = 3, 15


def digits(value: float, significant: int = FEWEST_DIGITS) -> str:
    """A number with at least so many significant digits; whole digits are never dropped, end zeros are."""
    if not math.isfinite(value):
        return "no bound" if value == value else "not known"
    if value == 0:
        return "0"
    places = max(0, significant - 1 - math.floor(math.log10(abs(value))))
    text = f"{value:.{places}f}"
    text = text.rstrip("0").rstrip(".") if "." in text else text
    return "0" if text == "-0" else text


def apart(value: float, limit: float) -> tuple[str, str]:
    """Both numbers with as many digits as it takes to tell them apart (equal numbers read alike)."""
    for significant in range(FEWEST_DIGITS, MOST_DIGITS + 1):
        pair = digits(value, significant), digits(limit, significant)
        if pair[0] != pair[1]:
            return pair
    return digits(value), digits(limit)


def in_units(value: float, unit: str, units: Units = METRIC) -> tuple[float, str]:
    """A canonical value and its unit as the book shows them (0.04 "% of oils" is 4 "% of oils")."""
    if unit.startswith("%"):
        if units.rates == "ppo" and unit.endswith("oils"):
            return value * OUNCES_PER_POUND, f"oz per lb{unit.removeprefix('%')}"
        return value * 100, unit
    if unit == "g" and units.mass == "oz":
        return value / GRAMS_PER_OUNCE, "oz"
    if unit == "°C" and units.temperature == "F":
        return fahrenheit(value), "°F"
    return value, unit


def with_unit(text: str, unit: str) -> str:
    """A number's text and its unit, with a space unless there is no unit."""
    return f"{text} {unit}" if unit else text


def short_unit(unit: str) -> str:
    """The unit without its basis, for the second number of a sentence ("% of oils" gives "%")."""
    return unit.split(" of ", 1)[0]


def amount(value: float, unit: str, units: Units = METRIC, significant: int = FEWEST_DIGITS) -> str:
    """One canonical value with its unit, as the book shows it."""
    number, shown = in_units(value, unit, units)
    return with_unit(digits(number, significant), shown)


def grams(value: float, units: Units = METRIC) -> str:
    """A mass to weigh: 0.01 g or 0.001 oz at the finest, so that no digit is shown that no scale has."""
    number, unit = in_units(value, "g", units)
    text = f"{number:.{2 if unit == 'g' else 3}f}".rstrip("0").rstrip(".")
    return f"{'0' if text == '-0' else text} {unit}"


_WORDS = [
    *("no", "one", "two", "three", "four", "five", "six"),
    *("seven", "eight", "nine", "ten", "eleven", "twelve"),
]


def counted(number: int, one: str, many: str = "") -> str:
    """A count in words up to twelve: "one rule", "four rules", "13 rules"."""
    word = _WORDS[number] if number < len(_WORDS) else str(number)
    return f"{word} {one if number == 1 else many or one + 's'}"
