"""How a book is read: on which day, and which end of what is believed counts."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date
from typing import Final

from blendwise.quantity.amount import QuantityError

LAST: Final = 9000
"""The last year that can be asked of: looks and cures of its soap are still days of the calendar."""


@dataclass(frozen=True, slots=True)
class AsOf:
    """The day of the answer (today), and how beliefs count.

    ``as_written``: the catalogue alone, own looks left out; ``careful``: the worse end of what is believed.
    """

    today: date = field(default_factory=lambda: date.today())
    as_written: bool = False
    careful: bool = False

    def __post_init__(self) -> None:
        if self.today.year > LAST:
            raise QuantityError(
                f"{self.today} is too far away for any soap.", "Name a day such as 2026-03-14."
            )
