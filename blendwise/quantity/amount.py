"""What an amount is: a number or a range, in one canonical unit a dimension, with the basis it is of.

Canonical units: gram, millilitre, centimetre, degree Celsius, minute, fraction (4 % is 0.04), part, number.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum


class Dimension(StrEnum):
    """What kind of thing a number measures."""

    MASS = "mass"
    VOLUME = "volume"
    LENGTH = "length"
    TEMPERATURE = "temperature"
    TIME = "time"
    FRACTION = "rate"
    PARTS = "parts"
    NUMBER = "number"


class Basis(StrEnum):
    """What a rate is a fraction of; the value is the wording in the files."""

    BATCH_OILS = "of batch oils"
    PORTION_OILS = "of portion oils"
    OILS = "of oils"
    BATCH_BATTER = "of batch batter"
    PORTION_BATTER = "of portion batter"
    BATTER = "of batter"
    FINISHED_BAR = "of finished bar"
    SCENT = "of the scent"
    WHOLE = ""


class QuantityError(ValueError):
    """An amount that cannot be read: ``message`` says what is wrong, ``remedy`` what to write."""

    def __init__(self, message: str, remedy: str = "") -> None:
        super().__init__(message if not remedy else f"{message} {remedy}")
        self.message = message
        self.remedy = remedy


@dataclass(frozen=True, slots=True)
class Amount:
    """A number or a range in canonical units; a single number has ``low == high``.

    ``basis`` is None except for rates.  ``text`` is what the maker typed.
    """

    low: float
    high: float
    dimension: Dimension
    basis: Basis | None = None
    text: str = ""

    @property
    def value(self) -> float:
        """The number it counts by: a range counts by its top."""
        return self.high

    @property
    def mid(self) -> float:
        """The middle of the range (infinite where the range is open)."""
        return (self.low + self.high) / 2

    @property
    def is_range(self) -> bool:
        """Whether two different ends were written."""
        return self.low != self.high

    def __str__(self) -> str:
        return self.text


@dataclass(frozen=True, slots=True)
class Price:
    """A price per gram in the maker's own currency, with the currency word if one was typed."""

    per_gram: float
    text: str
    currency: str = ""

    def __str__(self) -> str:
        return self.text
