"""Plausible figures: outside its band a figure is refused, with the slip that it most likely is.

Bands are wide on purpose, so that nothing that makers do is refused; what is merely odd is left to the rules.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from blendwise.quantity import Amount, Dimension
from blendwise.quantity.units import celsius

SLIPS: Final = (
    (10.0, "a point too far left"),
    (0.1, "a point too far right"),
    (100.0, "a share for per cent"),
)
"""What a figure is multiplied by to undo a slip, and how that slip is called."""


@dataclass(frozen=True, slots=True)
class Band:
    """The least and the most of a field, in canonical units (fractions, °C), and what is usual, in words."""

    what: str
    low: float
    high: float
    usual: str


PURITY: Final = Band("a purity of lye", 0.85, 1.0, "Sodium hydroxide is sold at 95 to 100 %")
"""Common practice; down to 85 % so that a figure of potassium hydroxide (about 90 %) meets the lye rules."""
BATTER: Final = Band("a temperature of batter", 5.0, 90.0, "Batter is split at 20 to 60 °C (68 to 140 °F)")
"""Common practice; in cold process nothing is near boiling or freezing."""
ROOM: Final = Band("a temperature of a room", -20.0, 50.0, "A room has 10 to 35 °C (50 to 95 °F)")
"""Common practice."""
GEL: Final = Band("a temperature of gel", 40.0, 120.0, "Gel is forced at 60 to 80 °C (140 to 175 °F)")
"""Common practice: an oven that is warmed and left, never one that cooks the soap."""
SUPERFAT: Final = Band("a superfat", float("-inf"), 0.4, "It is 3 to 8 %, with coconut alone up to 20 %")
"""Common practice; what is below zero is stopped by the rules of lye."""


def outside(amount: Amount, band: Band) -> tuple[str, str] | None:
    """(message, remedy) where an end of the amount lies outside the band; None where all is well."""
    slack = 1e-9
    for value in (amount.low, amount.high):
        if not band.low - slack <= value <= band.high + slack:
            return f'"{amount}" is no plausible figure for {band.what}.', _remedy(value, amount, band)
    return None


def _remedy(value: float, amount: Amount, band: Band) -> str:
    slip = _slip(value, amount, band)
    return f"{band.usual}; look for {slip}." if slip else f"{band.usual}; look for a slip of the pen."


def _slip(value: float, amount: Amount, band: Band) -> str:
    """What most likely happened; empty where nothing that is known to happen leads into the band."""
    if amount.dimension is Dimension.TEMPERATURE:
        in_fahrenheit = str(amount).rstrip().lower().endswith("f")
        meant = value * 9 / 5 + 32 if in_fahrenheit else float(celsius(value))
        slip = "°C written as °F" if in_fahrenheit else "°F written as °C"
        if band.low <= meant <= band.high:
            return slip
        if value <= 0:
            return ""
    return next((said for factor, said in SLIPS if band.low <= value * factor <= band.high), "")
