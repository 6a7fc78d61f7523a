"""A colour seen as a hex code, turned into the browning that would explain it beside the planned colour.

The planned colour and what the portion scatters are those frozen at the pour.  The load is the one whose
browned colour lies nearest (CIEDE2000); loads within a just noticeable step of it make the width.  A
portion that hides its browning, or a colour that no browning explains, says nothing.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from typing import Final

import numpy as np

from blendwise.beliefs.learning.evidence import BROWNING_NOISE, HexLook, Row
from blendwise.beliefs.learning.regression import AT_LEAST, AT_MOST, TWO_SIDED
from blendwise.science.browning import browned_lab
from blendwise.science.colour import colour_difference, lab_from_hex
from blendwise.science.mixing import Paint, ks_from_reflectance, linear_from_hex

LOADS: Final = np.geomspace(2e-5, 2e-2, 49)
NOTICED: Final = 3.0  # CIEDE2000 that a maker tells apart with two bars in hand: judgement
EXPLAINED: Final = 14.0  # beyond this no browning explains the colour: something else happened
MOST_SPREAD: Final = math.log(12.0)  # a wider span of loads says nothing


def rows_of(looks: Sequence[HexLook]) -> Iterator[Row]:
    """A row for each look that says something of browning."""
    if not looks:
        return
    gaps = _gaps(looks)
    for look, gap in zip(looks, gaps, strict=True):
        found = _reading(gap, look.settled)
        if found is not None:
            yield Row(
                look.batch, look.portion, *found, 0.0, look.amounts, look.seen, look.note, is_cup=look.is_cup
            )


def _gaps(looks: Sequence[HexLook]) -> np.ndarray:
    """CIEDE2000 between each colour seen and the planned one at each load: (looks, loads)."""
    scatter = np.array([look.covering for look in looks])
    absorb = ks_from_reflectance(linear_from_hex([look.planned for look in looks])) * scatter[:, None]
    wide = (len(looks), len(LOADS))
    paint = Paint(np.broadcast_to(absorb[:, None, :], (*wide, 3)), np.broadcast_to(scatter[:, None], wide))
    there = browned_lab(paint, np.broadcast_to(LOADS, wide))
    return np.asarray(colour_difference(lab_from_hex([look.seen for look in looks])[:, None, :], there))


def _reading(gap: np.ndarray, settled: bool) -> tuple[float, int, float] | None:
    """(value, side, sd) in log load, None where the colour does not tell."""
    best = float(gap.min())
    close = np.flatnonzero(gap <= best + NOTICED)
    low, high = math.log(LOADS[close[0]]), math.log(LOADS[close[-1]])
    if best > EXPLAINED:
        return None
    if close[0] == 0:
        telling = high < math.log(LOADS[-1]) - 1 and settled
        return (high, AT_MOST, BROWNING_NOISE) if telling else None
    if close[-1] == len(LOADS) - 1 or not settled:
        return low, AT_LEAST, BROWNING_NOISE
    if high - low > MOST_SPREAD:
        return None
    return (low + high) / 2, TWO_SIDED, math.hypot(BROWNING_NOISE, (high - low) / 12**0.5)
