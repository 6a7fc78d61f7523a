"""Base oils by kind: names for the list of ingredients, and the share that turns rancid.

Oils are known by the words of their names, the kind of most words first; what is not known stays not known.
Polyunsaturated fatty acids (linoleic, linolenic) take up oxygen many times sooner than oleic; what of them is
left free in a bar is what spots and smells.

Formula: polyunsaturated of a recipe = Σ share × content, by the middle, the least and the most of each range.
Source: ``data/base_oils.csv``: Codex Alimentarius CXS 210, 33, 211, 325R for fatty acids; the Commission's
    glossary of common ingredient names; from memory, soaps' names partly by published lists.
Check: every row by its own name; words that make another fat of it; high-oleic against ordinary sunflower.
Limits: an oil's own paper outranks the range of its kind; a name from memory is a draft for the assessor.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache, lru_cache

import numpy as np

from blendwise.science.guards import Floats
from blendwise.science.tables import plain_key, read_table

HARDENED = "hydrogenated"  # another fat, of which the table knows nothing
IN_BRACKETS = " ("


@dataclass(frozen=True, slots=True)
class BaseOil:
    """A kind of oil.  ``inci``, ``saponate``: "" where not known; ``polyunsaturated``: least and most."""

    words: frozenset[str]
    but: frozenset[str]
    inci: str
    saponate: str
    polyunsaturated: tuple[float, float]
    standing: str

    @property
    def latin(self) -> str:
        """The name without the common name in brackets, as in the European Union."""
        head, bracket, tail = self.inci.partition(IN_BRACKETS)
        return f"{head}{tail.partition(')')[2]}" if bracket else head


@cache
def base_oils() -> tuple[BaseOil, ...]:
    """All rows of the table."""
    return tuple(
        BaseOil(
            words=frozenset(row["words"].split()),
            but=frozenset(part for part in row["not"].split("|") if part),
            inci=row["inci"],
            saponate=row["saponate"],
            polyunsaturated=(
                float(row["polyunsaturated_least"]) / 100,
                float(row["polyunsaturated_most"]) / 100,
            ),
            standing=row["standing"],
        )
        for row in read_table("base_oils")
    )


@lru_cache(maxsize=1024)
def base_oil(name: str) -> BaseOil | None:
    """The kind of an oil by the words of its name; None where the table does not know it."""
    words = set(plain_key(name).split())
    if HARDENED in words:
        return None
    fits = [kind for kind in base_oils() if kind.words <= words and not kind.but & words]
    return max(fits, key=lambda kind: len(kind.words), default=None)


def polyunsaturated(names: Sequence[str], shares: Floats, stated: Sequence[float | None]) -> Floats:
    """Polyunsaturated fraction of a recipe: (least, middle, most, most by what is not known).

    ``shares`` (n,) of the oils; ``stated``: by the maker's own paper, else None.  An oil that nobody knows
    counts as none in the first three and as all in the last.
    """
    total = np.zeros(4)
    for name, share, own in zip(names, shares, stated, strict=True):
        kind = base_oil(name)
        if own is not None:
            least = most = own
        elif kind is not None:
            least, most = kind.polyunsaturated
        else:
            total += share * np.array([0.0, 0.0, 0.0, 1.0])
            continue
        total += share * np.array([least, (least + most) / 2, most, most])
    return total
