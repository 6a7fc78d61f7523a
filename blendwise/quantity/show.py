"""Amounts as text in the book's units, with enough digits to tell two numbers apart."""

from __future__ import annotations

import math
from dataclasses import dataclass
from decimal import Decimal
from typing import Final, Protocol

from blendwise.quantity.amount import Amount, Basis, Dimension
from blendwise.quantity.units import (
    CM_PER_INCH,
    GRAMS_PER_OUNCE,
    ML_PER_FLUID_OUNCE,
    OUNCES_PER_POUND,
    fahrenheit,
)

SIGNIFICANT: Final = 3
MOST_DIGITS: Final = 15
OF_OILS: Final = frozenset({Basis.BATCH_OILS, Basis.PORTION_OILS, Basis.OILS})
_UNIT: Final = {
    Dimension.MASS: "g",
    Dimension.VOLUME: "mL",
    Dimension.LENGTH: "cm",
    Dimension.TEMPERATURE: "°C",
    Dimension.TIME: "min",
    Dimension.FRACTION: "%",
    Dimension.PARTS: "parts",
    Dimension.NUMBER: "",
}
_AMERICAN: Final = {
    Dimension.MASS: (GRAMS_PER_OUNCE, "oz"),
    Dimension.VOLUME: (ML_PER_FLUID_OUNCE, "fl oz"),
    Dimension.LENGTH: (CM_PER_INCH, "in"),
}
"""What a book in ounces shows; fluid ounces and inches go with them."""


class Units(Protocol):
    """How a book shows amounts: ``mass`` g or oz, ``temperature`` C or F, ``rates`` percent or ppo."""

    @property
    def mass(self) -> str: ...
    @property
    def temperature(self) -> str: ...
    @property
    def rates(self) -> str: ...


@dataclass(frozen=True, slots=True)
class ShownIn:
    """Units of display chosen in memory; grams, °C and per cent unless said otherwise."""

    mass: str = "g"
    temperature: str = "C"
    rates: str = "percent"


METRIC: Final = ShownIn()


def in_units(
    value: float, dimension: Dimension, units: Units = METRIC, basis: Basis | None = None
) -> tuple[float, str]:
    """A canonical number → (number, unit word) as the book shows it, unrounded."""
    if units.mass == "oz" and dimension in _AMERICAN:
        factor, unit = _AMERICAN[dimension]
        return value / factor, unit
    if dimension is Dimension.TEMPERATURE and units.temperature == "F":
        return fahrenheit(value), "°F"
    if dimension is Dimension.FRACTION:
        if units.rates == "ppo" and basis in OF_OILS:
            return value * OUNCES_PER_POUND, "oz ppo"
        return value * 100, "%"
    return value, _UNIT[dimension]


ENDLESS: Final = 1000
"""So many times the whole tells no more than that it is past it, such as what is used of a limit of zero."""


def format_number(value: float, significant: int = SIGNIFICANT) -> str:
    """A number in plain digits: ``significant`` of them, or its whole part; no exponent, no padding."""
    if math.isnan(value):
        return "not known"
    if math.isinf(value):
        return "∞" if value > 0 else "-∞"
    exact = Decimal(repr(float(value)))
    if exact == 0:
        return "0"
    decimals = min(max(significant - 1 - exact.adjusted(), 0), 30)
    text = f"{exact:.{decimals}f}"
    text = text.rstrip("0").rstrip(".") if "." in text else text
    return "0" if text == "-0" else text


def format_value(
    value: float,
    dimension: Dimension,
    units: Units = METRIC,
    basis: Basis | None = None,
    significant: int = SIGNIFICANT,
) -> str:
    """One canonical number with unit and basis: ``0.04`` → ``4 % of portion oils``."""
    number, unit = in_units(value, dimension, units, basis)
    if dimension is Dimension.FRACTION and value > ENDLESS:
        return _joined(f"more than {100 * ENDLESS}", "%", basis)
    return _joined(format_number(number, significant), unit, basis)


def format_amount(amount: Amount, units: Units = METRIC, significant: int = SIGNIFICANT) -> str:
    """An amount in the book's units: ``5 to 7 % of the scent``, ``above 93 °C``."""
    low, unit = in_units(amount.low, amount.dimension, units, amount.basis)
    high, _ = in_units(amount.high, amount.dimension, units, amount.basis)
    if math.isinf(high):
        return "above " + _joined(format_number(low, significant), unit, amount.basis)
    if not amount.is_range:
        return _joined(format_number(high, significant), unit, amount.basis)
    ends = told_apart(low, high, significant)
    return _joined(f"{ends[0]} to {ends[1]}", unit, amount.basis)


def format_pair(
    one: float,
    other: float,
    dimension: Dimension,
    units: Units = METRIC,
    basis: Basis | None = None,
    significant: int = SIGNIFICANT,
) -> tuple[str, str]:
    """Two canonical numbers with as many digits as it takes to tell them apart (where they differ)."""
    if dimension is Dimension.FRACTION and max(one, other) > ENDLESS:
        return format_value(one, dimension, units, basis), format_value(other, dimension, units, basis)
    first, unit = in_units(one, dimension, units, basis)
    second, _ = in_units(other, dimension, units, basis)
    texts = told_apart(first, second, significant)
    return _joined(texts[0], unit, basis), _joined(texts[1], unit, basis)


def told_apart(one: float, other: float, significant: int = SIGNIFICANT) -> tuple[str, str]:
    """Two bare numbers with as many digits as it takes to tell them apart (where they differ)."""
    for digits in range(significant, MOST_DIGITS + 3):
        texts = format_number(one, digits), format_number(other, digits)
        if texts[0] != texts[1] or one == other:
            return texts
    return texts


def _joined(number: str, unit: str, basis: Basis | None) -> str:
    return " ".join(part for part in (number, unit, basis.value if basis else "") if part)
