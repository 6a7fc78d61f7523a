"""Amounts inside the sentences of rules and symptoms, in the units of the book that reads them."""

from __future__ import annotations

import re
from typing import Final

from blendwise.quantity.show import Units, format_number
from blendwise.quantity.units import (
    CM_PER_INCH,
    FAHRENHEIT_STEP,
    GRAMS_PER_OUNCE,
    ML_PER_FLUID_OUNCE,
    celsius,
    fahrenheit,
)

DIFFERENCE: Final = "°C apart"
"""The unit of a measure that is a difference of two temperatures: no temperature itself."""
_FIGURE: Final = r"\d+(?:\.\d+)?"
_AMOUNT: Final = re.compile(
    r"`[^`]*`"  # what is to be typed stays as it is
    rf"|(?P<low>{_FIGURE})(?P<to> to )?(?(to)(?P<high>{_FIGURE})) (?P<unit>°C|°F|g|oz|mm|cm|mL)\b"
    r"(?! ppo| a )(?P<apart> (?:cooler|warmer|hotter|lower|higher|apart|below|above))?"
)
_TO_OUNCES: Final = {
    "g": (1 / GRAMS_PER_OUNCE, "oz"),
    "mm": (0.1 / CM_PER_INCH, "in"),
    "cm": (1 / CM_PER_INCH, "in"),
    "mL": (1 / ML_PER_FLUID_OUNCE, "fl oz"),
}
_TO_GRAMS: Final = {"oz": (GRAMS_PER_OUNCE, "g")}
_WARMTH: Final = {"C": celsius, "F": fahrenheit}
_APART: Final = {"C": lambda step: step / FAHRENHEIT_STEP, "F": lambda step: step * FAHRENHEIT_STEP}


def theirs(text: str, units: Units) -> str:
    """A sentence with its amounts as the book shows them: ``27 to 38 °C`` → ``81 to 100 °F``."""
    if not any(sign.isdigit() for sign in text):
        return text
    return _AMOUNT.sub(lambda found: _told(found, units), text)


def asked(limit: str, unit: str, units: Units) -> str:
    """What was asked of a measure, in the book's units; a bare limit of degrees apart has its unit."""
    if unit != DIFFERENCE:
        return theirs(limit, units)
    step, sign = (FAHRENHEIT_STEP, "°F") if units.temperature == "F" else (1.0, "°C")
    return re.sub(_FIGURE, lambda found: f"{format_number(float(found[0]) * step)} {sign}", limit)


def _told(found: re.Match[str], units: Units) -> str:
    if found["low"] is None:
        return found[0]
    ends = [float(end) for end in (found["low"], found["high"]) if end is not None]
    if found["unit"] in ("°C", "°F"):
        if found["unit"].endswith(units.temperature):
            return found[0]
        apart = found["apart"] or ""
        turned = (_APART if apart else _WARMTH)[units.temperature]
        return f"{' to '.join(f'{turned(end):.0f}' for end in ends)} °{units.temperature}{apart}"
    factors = _TO_OUNCES if units.mass == "oz" else _TO_GRAMS
    if found["unit"] not in factors:
        return found[0]
    factor, unit = factors[found["unit"]]
    return f"{' to '.join(format_number(end * factor, 2) for end in ends)} {unit}{found['apart'] or ''}"
