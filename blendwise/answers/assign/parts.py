"""What goes with a split, as data: its cost, the pot scented whole, and the facts that it waits on."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field


@dataclass(frozen=True, slots=True)
class Cost:
    """What the scents of a batch cost, in the book's currency; ``per_bar`` where the plan says how many bars.

    ``not_known``: oils without a price, which are not in the sum.  ``short``: grams that a bottle lacks.
    """

    batch: float
    per_bar: float | None
    not_known: tuple[str, ...] = ()
    short: Mapping[str, float] = field(default_factory=dict)
    currency: str = ""


@dataclass(frozen=True, slots=True)
class PotScented:
    """One blend for all: scenting the whole pot before it is split saves weighings and costs minutes.

    ``fluid_until``: minute until which all of it then stays fluid; ``instead_of``: until which the first
    portion to thicken does, scented in turn; ``needed``: the end of the pour.
    """

    saves: int
    fluid_until: float
    instead_of: float
    needed: float

    @property
    def fits(self) -> bool:
        """Whether the pour still ends in time."""
        return self.fluid_until >= self.needed


@dataclass(frozen=True, slots=True)
class WaitsOn:
    """A fact nobody knows on which a stop or conflict hangs: the split is the best *if* it turns out well."""

    subject: str
    fact: str
    rules: tuple[str, ...]
