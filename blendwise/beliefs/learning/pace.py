"""How long a style of pour takes with this maker, from the times that notes at the pot give.

A batch is one trial.  Logarithms of minutes over the rulebook's for the same portions and mass: the
maker's own pace ~ N(0, MAKERS), a day's ~ N(pace, DAYS); posterior of a normal mean, variances known.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from typing import Final

from blendwise.beliefs.lessons import Pace
from blendwise.records.notes.batches import Batch

MAKERS: Final = 0.35  # makers differ by a factor of 1.4 about a style's minutes: judgement
DAYS: Final = 0.2  # and one maker's day from another by 1.2: judgement


def paces(batches: Iterable[Batch]) -> dict[str, Pace]:
    """The pace of every style whose time was kept, by the style's name."""
    kept: dict[str, list[float]] = {}
    for style, ratio in _timed(batches):
        kept.setdefault(style, []).append(math.log(ratio))
    return {style: pace(logs) for style, logs in kept.items()}


def pace(logs: Sequence[float]) -> Pace:
    """The posterior of one style; ``logs``: log of the minutes taken over the rulebook's, a batch each."""
    precision = MAKERS**-2 + len(logs) * DAYS**-2
    sd = precision**-0.5
    return Pace(sum(logs) * DAYS**-2 / precision, sd, math.hypot(sd, DAYS), len(logs))


def _timed(batches: Iterable[Batch]) -> Iterator[tuple[str, float]]:
    """Style and minutes taken over expected, of each batch whose pour was timed; the last word counts."""
    for batch in batches:
        took = [look.pour_took for look in batch.looks if look.pour_took]
        day = next(iter(batch.poured_as.values()), None)
        if took and day is not None and day.pour and day.pour_minutes:
            yield day.pour, took[-1] / day.pour_minutes
