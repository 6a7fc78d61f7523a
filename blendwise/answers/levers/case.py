"""What a finding is about, in indices of the plan; and a way to mend it: a change with the values to try."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, field
from typing import Any, Final

from blendwise.answers.levers.result import Details
from blendwise.facts.situation.worked_out import Situation
from blendwise.judge.findings.finding import Finding
from blendwise.quantity import Basis, Dimension, format_number, in_units
from blendwise.quantity.units import GRAMS_PER_OUNCE
from blendwise.records.book import BookFiles
from blendwise.records.reading.document import Document

Edit = Callable[[Document, Any], Document]
Grams = dict[tuple[int, int], float]
"""(scent, portion) → g of the doses that a change writes."""
FINE: Final = {"g": 0.1, "oz": 0.01 * GRAMS_PER_OUNCE}
"""Grams of one step where the book names no scale."""
SLACK: Final = 1e-6
DIGITS: Final = 6
OF_A_STEP: Final = 12


@dataclass(frozen=True, eq=False)
class Way:
    """One change of a plan and the values it may take.

    ``name``: its row in the table of costs.  ``ordered``: each value goes further than the one before it, so
    that the least which serves is found by halving.  ``cut``: by what share a value lowers all scent of the
    bar, or of a portion (1 where a portion falls below what is still smelled).
    ``doses``: what it writes, where it changes doses alone.  ``book``: the book with the change, where it is
    none of the plan's.
    """

    name: str
    values: Sequence[Any]
    edit: Edit
    details: Callable[[Any], Details]
    ordered: bool = False
    cut: Callable[[Any], float] = field(default=lambda _: 0.0)
    doses: Callable[[Any], Grams] | None = None
    book: Callable[[BookFiles, Any], BookFiles] | None = None

    def weight(self, value: Any) -> float:
        """How far along its values one is: 0 the mildest, 1 the end."""
        return self.values.index(value) / len(self.values)


@dataclass(frozen=True)
class Case:
    """The findings of one rule to be mended together, against the plan as it stands."""

    s: Situation
    found: tuple[Finding, ...]

    @property
    def first(self) -> Finding:
        """The finding that is told first."""
        return self.found[0]

    @property
    def portions(self) -> list[int]:
        """The portions spoken of; every portion where none is."""
        at = {"portion": slice(0, 1), "edge": slice(0, 2), "dose": slice(1, 2), "pair": slice(2, 3)}
        part = at.get(self.first.looks_at, slice(0, 0))
        named = dict.fromkeys(name for each in self.found for name in each.subject[part])
        return [self.s.portions.index(name) for name in named if name in self.s.portions] or list(
            range(len(self.s.portions))
        )

    @property
    def cells(self) -> list[tuple[int, int]]:
        """The doses spoken of, as (scent, portion); of a pair, those of its first oil."""
        s, found = self.s, []
        for each in self.found:
            if each.looks_at in ("dose", "pair") and each.subject[0] in s.scents:
                i, p = s.scents.index(each.subject[0]), s.portions.index(each.subject[-1])
                found.append((i, p))
        return list(dict.fromkeys(found))

    @property
    def scents(self) -> list[int]:
        """The oils spoken of; else those in the portions spoken of, the most of it first."""
        part = {"scent": slice(0, 1), "dose": slice(0, 1), "pair": slice(0, 2)}.get(self.first.looks_at)
        if part is not None:
            named = dict.fromkeys(name for each in self.found for name in each.subject[part])
            return [self.s.scents.index(name) for name in named if name in self.s.scents]
        grams = self.s.x[:, self.portions].sum(axis=1)
        return [i for i in sorted(range(len(grams)), key=lambda i: -grams[i]) if grams[i] > 0]

    @property
    def alone(self) -> bool:
        """Whether the rule speaks of portions or doses and not of the whole batch."""
        return self.first.looks_at in ("portion", "dose", "pair", "edge")


def own_step(s: Situation) -> float:
    """Grams of one step of the scent scale; a fine one in the book's unit where none is named."""
    step = s.book.usual.scale_step
    return step.value if step is not None else FINE[s.book.usual.units.mass]


def whole_steps(grams: float, step: float, up: bool = False) -> float:
    """Grams in whole steps of a scale, rounded down (or up)."""
    steps = math.ceil(grams / step - SLACK) if up else math.floor(grams / step + SLACK)
    return round(steps * step, 12)


def mass_text(grams: float, s: Situation) -> str:
    """A mass as the book writes it: ``3.2 g``, ``0.11 oz``; ``none`` for nothing."""
    if grams <= 0:
        return "none"
    number, unit = in_units(grams, Dimension.MASS, s.book.usual.units)
    return f"{format_number(number, OF_A_STEP)} {unit}"  # no less than a whole step, in either system


def rate_text(rate: float, s: Situation) -> str:
    """A rate of batch oils as the book writes it: ``3.4 % of batch oils``, ``0.5 oz ppo``."""
    number, unit = in_units(rate, Dimension.FRACTION, s.book.usual.units, Basis.BATCH_OILS)
    tail = " of batch oils" if unit == "%" else ""
    return f"{format_number(number, DIGITS)} {unit}{tail}"


def warmth_text(celsius: float, s: Situation) -> str:
    """A temperature in whole degrees of the book's own."""
    number, unit = in_units(celsius, Dimension.TEMPERATURE, s.book.usual.units)
    return f"{round(number)} {unit}"


def names(known: Sequence[str], which: Iterable[int]) -> str:
    """Names in a row, as data: joined by commas."""
    return ", ".join(known[index] for index in which)
