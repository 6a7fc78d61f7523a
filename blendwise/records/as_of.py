"""How a book is read: on which day, and which end of what is believed counts."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date


@dataclass(frozen=True, slots=True)
class AsOf:
    """The day of the answer (today), and how beliefs count.

    ``as_written``: the catalogue alone, own looks left out; ``careful``: the worse end of what is believed.
    """

    today: date = field(default_factory=lambda: date.today())
    as_written: bool = False
    careful: bool = False
