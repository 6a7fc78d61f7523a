"""A colour seen as a hex code, turned into the browning that would explain it beside the planned colour.

The planned colour and what the portion scatters are those frozen at the pour.  The load is the one whose
browned colour lies nearest (CIEDE2000); loads within a just noticeable step of it make the width.  A
portion that hides its browning, or a colour that no browning explains, says nothing.  Hue comes first: a
colour that a yellow, pink, mauve or green cast explains better than brown alone is that cast, and says
nothing of how brown an oil turns.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from typing import Final

import numpy as np

from blendwise.beliefs.learning.evidence import BROWNING_NOISE, HexLook, Row
from blendwise.beliefs.learning.regression import AT_LEAST, AT_MOST, TWO_SIDED
from blendwise.science.browning import browned_lab, cast_absorption, own_cast_absorption
from blendwise.science.checks import Floats
from blendwise.science.colour import colour_difference, lab_from_hex, lab_from_linear
from blendwise.science.mixing import Paint, ks_from_reflectance, linear_from_hex, soap_colour

# Casts that no browning makes, in the trade's words (orange is left out: beside tan nobody tells it by eye),
# and how strongly each is tried (parts of a usual dose).
CASTS: Final = ("pale yellow", "yellow", "pink", "mauve", "green", "grey-green", "blue-green")
STRENGTHS: Final = (0.5, 1.0, 1.5, 2.0)
LOADS: Final = np.geomspace(2e-5, 2e-2, 49)
NOTICED: Final = 3.0  # CIEDE2000 that a maker tells apart with two bars in hand: judgement
EXPLAINED: Final = 14.0  # beyond this no browning explains the colour: something else happened
MOST_SPREAD: Final = math.log(12.0)  # a wider span of loads says nothing


def rows_of(looks: Sequence[HexLook]) -> Iterator[Row]:
    """A row for each look that says something of browning."""
    if not looks:
        return
    gaps = _gaps(looks)
    for look, gap, cast in zip(looks, gaps, casts_of(looks), strict=True):
        found = None if cast else _reading(gap, look.settled)
        if found is not None and look.at_most:
            found = (found[0], AT_MOST, found[2]) if look.settled and found[1] != AT_LEAST else None
        if found is not None:
            yield Row(
                look.batch, look.portion, *found, 0.0, look.amounts, look.seen, look.note, is_cup=look.is_cup
            )


def casts_of(looks: Sequence[HexLook]) -> list[str]:
    """The cast that each colour shows, "" where brown alone explains it as well or nothing does.

    A cast with as much brown beside it as brown alone would need is still brown.
    """
    if not looks:
        return []
    gaps = _gaps(looks)
    brown, load = gaps.min(axis=1), LOADS[gaps.argmin(axis=1)]
    tried = [_with_cast(looks, cast) for cast in CASTS]
    best = np.argmin([gap for gap, _ in tried], axis=0)
    found = []
    for n, at in enumerate(best):
        gap, beside = tried[at][0][n], tried[at][1][n]
        told = gap < brown[n] - NOTICED and gap <= EXPLAINED and beside <= load[n] / 2
        found.append(CASTS[at] if told else "")
    return found


def _with_cast(looks: Sequence[HexLook], cast: str) -> tuple[Floats, Floats]:
    """The least CIEDE2000 of each look to its planned colour with a cast, and the load with it: (looks,)."""
    loads = np.concatenate([[0.0], LOADS[::3]])
    added = own_cast_absorption(cast, np.array(STRENGTHS))[:, None, :] + cast_absorption(loads)[None, :, :]
    flat = added.reshape(-1, 3)
    there = lab_from_linear(soap_colour(_paint(looks, len(flat)), flat[None, :, :]))
    gaps = _apart(looks, there)
    return gaps.min(axis=1), loads[gaps.argmin(axis=1) % len(loads)]


def _gaps(looks: Sequence[HexLook]) -> Floats:
    """CIEDE2000 between each colour seen and the planned one at each load: (looks, loads)."""
    wide = (len(looks), len(LOADS))
    return _apart(looks, browned_lab(_paint(looks, len(LOADS)), np.broadcast_to(LOADS, wide)))


def _paint(looks: Sequence[HexLook], wide: int) -> Paint:
    """Each look's planned colour, so many times: (looks, wide)."""
    scatter = np.array([look.covering for look in looks])
    absorb = ks_from_reflectance(linear_from_hex([look.planned for look in looks])) * scatter[:, None]
    shape = (len(looks), wide)
    return Paint(np.broadcast_to(absorb[:, None, :], (*shape, 3)), np.broadcast_to(scatter[:, None], shape))


def _apart(looks: Sequence[HexLook], there: Floats) -> Floats:
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
