"""The first crossing: how far a value may rise before a measure of it first falls short.

A contrast can fall below its limit and come back; whoever relies on "up to this load" needs the first
fall, not the last.  The search is over arrays: one row a question, all rows at once.

Formula: the least load at which a measure first falls short: a coarse walk, a closer look at suspects, then
    halving.
Source: numerical analysis; nothing of soap is in it.
Check: functions whose crossing is known; the answer is never past it.
Limits: a dip narrower than the finest step, away from the named kinks, could be stepped over.
"""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
from numpy.typing import ArrayLike

from blendwise.science.checks import Bools, Floats, Ints, numbers

# Steps of the first look and of each closer look; judgement, tried on 4,000 random colours.
COARSE_STEPS = 96
FINE_STEPS = 24
# Halvings of the step in which it falls; 40 of them leave less than rounding.
HALVINGS = 40
# The answer stands this part short of the fall: CIEDE2000 jumps where two hues are opposite, and rounding
# must not carry whoever computes it anew over the jump.  Judgement.
BACK_OFF = 1e-9

Measure = Callable[[Floats, Ints], Floats]


def first_crossing(
    measure: Measure, rows: int, least: ArrayLike, most: ArrayLike, kinks: ArrayLike = ()
) -> Floats:
    """Per row the greatest x in 0 to ``most`` with measure >= ``least`` everywhere from 0 to x.

    ``measure(x, row)`` takes x of shape (k, m) and the k row numbers it belongs to, and returns (k, m).
    ``least``, ``most``: broadcast to (rows,); ``kinks``: values of x where the measure may turn sharply.
    The answer is -1 where even x = 0 falls short, and
    ``most`` where nothing does.  Dips between two looks are followed wherever either end stands nearer
    to the limit than the measure moves in a step or two; ``measure`` should move smoothly at that scale.
    """
    floor = np.broadcast_to(numbers("least", least), (rows,))
    top = np.broadcast_to(numbers("most", most), (rows,))
    every = np.arange(rows)
    grid = _grid(top, numbers("kinks", kinks))
    seen = measure(grid, every) - floor[:, None]
    low, high = _first_fall(measure, grid, seen, floor)
    found = _halve(measure, low, high, floor)
    return np.where(seen[:, 0] < 0, -1.0, np.where(np.isinf(high), top, found * (1 - BACK_OFF)))


def _grid(top: Floats, kinks: Floats) -> Floats:
    """Where to look (rows, points), rising from 0 to ``top``: closer where scents are dosed, and at kinks."""
    even = np.linspace(0, 1, COARSE_STEPS + 1) ** 2 * top[:, None]
    return np.sort(np.concatenate([even, np.minimum(kinks, top[:, None])], axis=1), axis=1)


def _suspects(seen: Floats) -> Bools:
    """Steps (rows, steps) in which the measure is, or may dip, below the limit."""
    move = np.abs(np.diff(seen, axis=1))
    near = np.pad(move, ((0, 0), (1, 1)), mode="edge")
    reach = 2 * np.maximum(move, np.maximum(near[:, :-2], near[:, 2:]))
    lowest = np.minimum(seen[:, :-1], seen[:, 1:])
    return np.asarray((lowest < 0) | (lowest < reach))


def _first_fall(measure: Measure, grid: Floats, seen: Floats, floor: Floats) -> tuple[Floats, Floats]:
    """Per row the ends of the finest step in which the measure first falls; high inf where it never does."""
    rows = len(grid)
    low, high = np.zeros(rows), np.full(rows, np.inf)
    suspect = _suspects(seen)
    open_rows = np.flatnonzero(suspect.any(axis=1) & (seen[:, 0] >= 0))
    while open_rows.size:
        step = suspect[open_rows].argmax(axis=1)
        suspect[open_rows, step] = False
        low[open_rows], high[open_rows] = _closer(measure, grid, open_rows, step, floor)
        open_rows = open_rows[np.isinf(high[open_rows]) & suspect[open_rows].any(axis=1)]
    return low, high


def _closer(measure: Measure, grid: Floats, rows: Ints, step: Ints, floor: Floats) -> tuple[Floats, Floats]:
    start, stop = grid[rows, step], grid[rows, step + 1]
    fine = start[:, None] + np.linspace(0, 1, FINE_STEPS + 1) * (stop - start)[:, None]
    short = measure(fine, rows) < floor[rows, None]
    at = np.maximum(short.argmax(axis=1), 1)
    each = np.arange(len(rows))
    return fine[each, at - 1], np.where(short.any(axis=1), fine[each, at], np.inf)


def _halve(measure: Measure, low: Floats, high: Floats, floor: Floats) -> Floats:
    """Close in on the fall between ``low`` (holds) and ``high`` (falls short); the end that holds."""
    rows = np.flatnonzero(np.isfinite(high))
    good, bad = low[rows], high[rows]
    for _ in range(HALVINGS):
        middle = (good + bad) / 2
        holds = measure(middle[:, None], rows)[:, 0] >= floor[rows]
        good, bad = np.where(holds, middle, good), np.where(holds, bad, middle)
    found = low.copy()
    found[rows] = good
    return found
