"""Ricing, gel in part and ash by oil, lot and temperature: in how many batches, and how warm they were.

The batch is the trial: a batch in which any portion with the oil showed it counts once.  A count is no cause:
an oil that was poured beside others is counted with them.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

from blendwise.answers.review.result import Tally
from blendwise.beliefs.expected import Trouble, Unit, trouble

COUNTED: Final[tuple[Trouble, ...]] = ("riced", "partial gel", "ash")


def tallies_of(units: Sequence[Unit], oil: str) -> Iterator[Tally]:
    """A tally a trouble and lot of the oil, where anybody looked."""
    held = [unit for unit in units if _grams(unit, oil) > 0]
    for kind in COUNTED:
        for lot in dict.fromkeys(_lot(unit, oil) for unit in held):
            seen = _by_batch([unit for unit in held if _lot(unit, oil) == lot], kind)
            if seen:
                yield _tally(kind, lot, seen, held)


def _grams(unit: Unit, oil: str) -> float:
    return unit.poured.doses.get(unit.portion, {}).get(oil, 0.0) if unit.poured else 0.0


def _lot(unit: Unit, oil: str) -> str:
    own = unit.made.lots if unit.made else {}
    return own.get(oil) or unit.batch.lots.get(oil, "")


def _by_batch(units: Sequence[Unit], kind: Trouble) -> dict[str, bool]:
    """Batch → whether any of its portions showed it; batches at which nobody looked are not there."""
    found: dict[str, bool] = {}
    for unit in units:
        shown = trouble(unit, kind, {})
        if shown is not None:
            found[unit.batch.key] = found.get(unit.batch.key, False) or shown
    return found


def _tally(kind: Trouble, lot: str, seen: dict[str, bool], units: Sequence[Unit]) -> Tally:
    warm = {unit.batch.key: _batter(unit) for unit in units}
    came = tuple(sorted(w for key, shown in seen.items() if shown and (w := warm[key]) is not None))
    stayed = tuple(sorted(w for key, shown in seen.items() if not shown and (w := warm[key]) is not None))
    return Tally(kind, lot, sum(seen.values()), len(seen), came, stayed)


def _batter(unit: Unit) -> float | None:
    return next((look.batter_at_split for look in unit.batch.looks if look.batter_at_split is not None), None)
