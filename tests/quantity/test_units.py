"""Factors against pint, which holds them from the definitions."""

from __future__ import annotations

from typing import Any

import pint
import pytest

from blendwise.quantity import Dimension, parse_amount
from blendwise.quantity.units import UNITS, celsius, fahrenheit

REGISTRY: Any = pint.UnitRegistry()
CANONICAL = {
    Dimension.MASS: "gram",
    Dimension.VOLUME: "milliliter",
    Dimension.LENGTH: "centimeter",
    Dimension.TIME: "minute",
}
SPELT_IN_PINT = {
    "cm³": "centimeter**3",
    "cm3": "centimeter**3",
    "cc": "centimeter**3",
    "in³": "inch**3",
    "in3": "inch**3",
    "cubic inch": "inch**3",
    "cubic inches": "inch**3",
    "fl oz": "US_fluid_ounce",
    "fluid ounce": "US_fluid_ounce",
    "fluid ounces": "US_fluid_ounce",
    "tsp": "teaspoon",
    "tbsp": "tablespoon",
    "ml": "milliliter",
    "l": "liter",
    "lbs": "pound",
    "h": "hour",
    "mins": "minute",
    "sec": "second",
    "kilo": "kilogram",
    "kilos": "kilogram",
    "gramme": "gram",
    "grammes": "gram",
}
WORDS = sorted(word for word, (dimension, _) in UNITS.items() if dimension in CANONICAL)


@pytest.mark.parametrize("word", WORDS)
def test_factor(word: str) -> None:
    """One of each unit is as much as pint says, to the last bits."""
    dimension, _ = UNITS[word]
    expected = REGISTRY.Quantity(1.0, SPELT_IN_PINT.get(word, word)).to(CANONICAL[dimension]).magnitude
    assert expected == pytest.approx(parse_amount(f"1 {word}", dimension).value, rel=1e-14)


@pytest.mark.parametrize("degrees", [-40.0, 0.0, 32.0, 98.6, 100.0, 212.0, 400.0])
def test_fahrenheit(degrees: float) -> None:
    """Degrees Fahrenheit are what pint makes of them, and come back."""
    expected = REGISTRY.Quantity(degrees, "degF").to("degC").magnitude
    assert expected == pytest.approx(celsius(degrees), abs=1e-9)
    assert degrees == pytest.approx(fahrenheit(celsius(degrees)), abs=1e-9)
