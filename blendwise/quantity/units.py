"""Exact factors to the canonical units, and the words that name them.

Sources: the international yard and pound agreement of 1959 (1 lb = 0.45359237 kg, 1 in = 2.54 cm, exact);
US customary volumes from the gallon of 231 cubic inches (1 tsp = 231 in³ / 768), exact.
"""

from __future__ import annotations

from typing import Final

from blendwise.quantity.amount import Dimension

GRAMS_PER_POUND: Final = 453.59237
GRAMS_PER_OUNCE: Final = GRAMS_PER_POUND / 16
OUNCES_PER_POUND: Final = 16
CM_PER_INCH: Final = 2.54
ML_PER_TEASPOON: Final = 4.92892159375
ML_PER_TABLESPOON: Final = 3 * ML_PER_TEASPOON
ML_PER_FLUID_OUNCE: Final = 6 * ML_PER_TEASPOON
ML_PER_CUBIC_INCH: Final = CM_PER_INCH**3
FAHRENHEIT_ZERO: Final = 32.0
FAHRENHEIT_STEP: Final = 9 / 5

Unit = tuple[Dimension, float]


def _named(dimension: Dimension, factor: float, *words: str) -> dict[str, Unit]:
    return dict.fromkeys(words, (dimension, factor))


UNITS: Final[dict[str, Unit]] = {
    **_named(Dimension.MASS, 1.0, "g", "gram", "grams", "gramme", "grammes"),
    **_named(Dimension.MASS, 1000.0, "kg", "kilogram", "kilograms", "kilo", "kilos"),
    **_named(Dimension.MASS, 0.001, "mg", "milligram", "milligrams"),
    **_named(Dimension.MASS, GRAMS_PER_OUNCE, "oz", "ounce", "ounces"),
    **_named(Dimension.MASS, GRAMS_PER_POUND, "lb", "lbs", "pound", "pounds"),
    **_named(Dimension.VOLUME, 1.0, "ml", "millilitre", "millilitres", "milliliter", "milliliters"),
    **_named(Dimension.VOLUME, 1.0, "cm³", "cm3", "cc"),
    **_named(Dimension.VOLUME, 1000.0, "l", "litre", "litres", "liter", "liters"),
    **_named(Dimension.VOLUME, ML_PER_TEASPOON, "tsp", "teaspoon", "teaspoons"),
    **_named(Dimension.VOLUME, ML_PER_TABLESPOON, "tbsp", "tablespoon", "tablespoons"),
    **_named(Dimension.VOLUME, ML_PER_FLUID_OUNCE, "fl oz", "fluid ounce", "fluid ounces"),
    **_named(Dimension.VOLUME, ML_PER_CUBIC_INCH, "in³", "in3", "cubic inch", "cubic inches"),
    **_named(Dimension.LENGTH, 1.0, "cm", "centimetre", "centimetres", "centimeter", "centimeters"),
    **_named(Dimension.LENGTH, 0.1, "mm", "millimetre", "millimetres", "millimeter", "millimeters"),
    **_named(Dimension.LENGTH, 100.0, "m", "metre", "metres", "meter", "meters"),
    **_named(Dimension.LENGTH, CM_PER_INCH, "in", "inch", "inches"),
    **_named(Dimension.TEMPERATURE, 1.0, "°c", "c"),
    **_named(Dimension.TEMPERATURE, 0.0, "°f", "f"),
    **_named(Dimension.TIME, 1.0, "min", "mins", "minute", "minutes"),
    **_named(Dimension.TIME, 1 / 60, "s", "sec", "second", "seconds"),
    **_named(Dimension.TIME, 60.0, "h", "hr", "hour", "hours"),
    **_named(Dimension.TIME, 1440.0, "day", "days"),
    **_named(Dimension.TIME, 10080.0, "week", "weeks"),
    **_named(Dimension.FRACTION, 0.01, "%", "percent", "per cent"),
    **_named(Dimension.FRACTION, 1 / OUNCES_PER_POUND, "oz ppo"),
    **_named(Dimension.PARTS, 1.0, "part", "parts"),
}
"""Unit word (lower case) → (dimension, canonical units in one of it)."""

BOUNDS: Final[dict[Dimension, tuple[float, float]]] = {
    Dimension.MASS: (0.0, 1e6),
    Dimension.VOLUME: (0.0, 1e6),
    Dimension.LENGTH: (0.0, 1000.0),
    Dimension.TEMPERATURE: (-100.0, 500.0),
    Dimension.TIME: (0.0, 10 * 366 * 1440.0),
    Dimension.FRACTION: (0.0, 1.0),
    Dimension.PARTS: (0.0, 1e6),
    Dimension.NUMBER: (0.0, 1e6),
}
"""What is not absurd in a soap maker's book, in canonical units (our own guard against slips of the pen)."""


def celsius(fahrenheit: float) -> float:
    """Degrees Fahrenheit → degrees Celsius (exact definition)."""
    return (fahrenheit - FAHRENHEIT_ZERO) / FAHRENHEIT_STEP


def fahrenheit(celsius: float) -> float:
    """Degrees Celsius → degrees Fahrenheit (exact definition)."""
    return celsius * FAHRENHEIT_STEP + FAHRENHEIT_ZERO
