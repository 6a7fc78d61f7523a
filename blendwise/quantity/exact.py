"""An amount as it is written, times a fraction: exact, in the unit and manner in which it was typed.

``5 1/16 oz`` twice is ``10 1/8 oz``, ``1 lb 2 oz`` twice is ``2 lb 4 oz``.  What neither decimals nor kitchen
fractions can say is rounded far below the scale's step, so that it can be weighed and scaled back again.
Factors: the international yard and pound agreement of 1959 (1 lb = 453.59237 g, exact).
"""

from __future__ import annotations

import re
from fractions import Fraction
from typing import Final

from blendwise.quantity.amount import Dimension, QuantityError
from blendwise.quantity.parse import COMPOUND, parse_amount, tidy
from blendwise.quantity.units import UNITS

NUMBER: Final = re.compile(r"\d+ \d+/\d+|\d+/\d+|\d+(?:\.\d+)?|\.\d+", re.ASCII)
KITCHEN: Final = frozenset({1, 2, 3, 4, 5, 6, 8, 12, 16, 24, 32, 64})
"""Denominators that a maker reads off a scale or a spoon."""
FINER: Final = 10
"""How many times finer than the scale's step a rounded figure is written."""
PLAIN_DECIMALS: Final = 3
MOST_DECIMALS: Final = 9
SPOON: Final = Fraction(1, 20)
"""The step of what no scale weighs, in its own unit."""


def exact_number(text: str) -> Fraction:
    """``5 1/16``, ``1/2``, ``7.5`` as the fraction that it is."""
    return sum((Fraction(part) for part in text.split(" ")), Fraction(0))


def exact_grams(text: str) -> Fraction:
    """A single mass in grams, without rounding; QuantityError where it is none."""
    parse_amount(text, Dimension.MASS, ranges=False)
    terms = re.findall(rf"({NUMBER.pattern})\s*((?:(?!\.\d)[^\d])*)", tidy(text), re.ASCII)
    return sum((exact_number(number) * _grams_in(unit) for number, unit in terms), Fraction(0))


def _grams_in(unit: str) -> Fraction:
    return Fraction(str(UNITS[unit.lower().replace(" and", "").strip(" .+")][1]))


def times(text: str, factor: Fraction, step: Fraction | None = None) -> str:
    """The same amount ``factor`` times, as it was typed.

    ``step``: the scale's, in grams; without one a twentieth of the unit.  What comes out can always be read
    again, and lies within a twentieth of a step (times the factor where that is below 1) of the truth.
    """
    if factor <= 0:
        raise QuantityError(f'"{text}" cannot be taken {factor} times.', "Name an amount above nothing.")
    if factor == 1:
        return text
    return _one(tidy(text), factor, step)


def _one(plain: str, factor: Fraction, step: Fraction | None) -> str:
    both = COMPOUND.fullmatch(plain)
    if both is None:
        grid = _grid(plain, factor, step)
        return NUMBER.sub(lambda found: _written(found.group(), factor, grid), plain)
    many, large, digits, small = both.groups()
    each = round(UNITS[large.lower()][1] / UNITS[small.lower()][1])
    whole = (int(many) * each + exact_number(digits)) * factor
    count, rest = divmod(_rounded(whole, _grid(f"1 {small}", factor, step), "/" in digits), each)
    said = _text(rest, "/" in digits)
    parts = [f"{count} {large}"] * (count > 0) + [f"{said} {small}"] * (rest > 0)
    return " ".join(parts)


def _grid(plain: str, factor: Fraction, step: Fraction | None) -> Fraction:
    """The finest figure that is written, in the unit of the text: below the step, as a power of ten."""
    unit = re.sub(r"[\d\s./+-]*", "", plain, count=1)
    dimension, per = UNITS.get(unit.strip().lower().rstrip("."), (None, 1.0))
    own = SPOON if step is None or dimension is not Dimension.MASS else step / Fraction(str(per))
    wanted, found = own * min(Fraction(1), factor) / FINER, Fraction(1)
    for _ in range(MOST_DECIMALS):
        if found <= wanted:
            break
        found /= 10
    return found


def _written(number: str, factor: Fraction, grid: Fraction) -> str:
    fraction = "/" in number
    return _text(_rounded(exact_number(number) * factor, grid, fraction), fraction)


def _rounded(value: Fraction, grid: Fraction, fraction: bool) -> Fraction:
    """The value itself where it can be written plainly, else the nearest on the grid (never nothing)."""
    if (fraction and value.denominator in KITCHEN) or (value * 10**PLAIN_DECIMALS).denominator == 1:
        return value
    while round(value / grid) == 0 and value > 0:
        grid /= 10
    return round(value / grid) * grid


def _text(value: Fraction, fraction: bool) -> str:
    """``10 1/8`` where it was typed as a fraction and still is a kitchen one, else decimals."""
    if fraction and value.denominator in KITCHEN and value.denominator > 1:
        whole, rest = divmod(value, 1)
        return f"{whole} {rest}" if whole else str(rest)
    digits = next(n for n in range(400) if (value * 10**n).denominator == 1)
    scaled = str(round(value * 10**digits)).rjust(digits + 1, "0")
    return f"{scaled[: len(scaled) - digits]}.{scaled[len(scaled) - digits :]}" if digits else scaled
