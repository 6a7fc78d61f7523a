"""Benchmark: cured colours of 100,000 portions and their differences to a neighbour, within a second.

Run with ``python tests/bench/colours.py``; exits 1 where the best of three runs takes longer.
"""

from __future__ import annotations

import sys
from time import perf_counter

import numpy as np

from blendwise.science.browning import browned_lab
from blendwise.science.colour import colour_difference, lightness_gap
from blendwise.science.mixing import COVERS_SCATTER, colours_without_cast, linear_from_hex, paint_of

PORTIONS = 100_000
SECONDS_ALLOWED = 1.0
PIGMENTS = ("#f8f5ec", "#3a6ea8", "#98402f", "#1c1b1a")


def once() -> float:
    """Seconds for all colours with browning, CIEDE2000 and lightness to the next portion."""
    random = np.random.default_rng(1)
    paints = paint_of(linear_from_hex(PIGMENTS), [*COVERS_SCATTER.values(), 1.0])
    rates = random.uniform(0, 1, (PORTIONS, len(PIGMENTS)))
    loads = random.uniform(0, 0.006, PORTIONS)
    start = perf_counter()
    lab = browned_lab(colours_without_cast(rates, paints), loads)
    apart = colour_difference(lab, np.roll(lab, 1, axis=0))
    gap = lightness_gap(lab, np.roll(lab, 1, axis=0))
    taken = perf_counter() - start
    assert np.isfinite(apart).all()
    assert np.isfinite(gap).all()
    return taken


def main() -> int:
    """Print the best of three; 1 where it is too slow."""
    best = min(once() for _ in range(3))
    print(f"{PORTIONS:,} cured colours with differences: {best:.3f} s (allowed: {SECONDS_ALLOWED:g} s)")
    return int(best > SECONDS_ALLOWED)


if __name__ == "__main__":
    sys.exit(main())
