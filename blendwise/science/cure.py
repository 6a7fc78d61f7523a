"""Cure: how much leaves, and when bars are called cured.

Masses in grams, residual moisture as a fraction; floats and arrays broadcast.  Water is the only thing of
account that leaves, so every loss is bounded by the water in the batter.

Formula: loss to residual r = (water − r × wet) ÷ (1 − r), at most all the water.
Source: the bound is conservation of mass; 6 to 10 % of residual water is common practice.
Check: the trade's table of losses by lye concentration.
Limits: bars of 2 to 3 cm in air; high humidity, big bars and salt bars dry otherwise; lather goes on
    improving after.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from blendwise.science.guards import Floats, numbers

# Water that stays in a cured bar, as a fraction of its mass: common practice, no publication.
RESIDUAL_LOW = 0.06

# First and last of the days on which bars are called cured: four to six weeks, common practice.
CURE_DAYS = (28, 42)


def grams_to_residual(water: ArrayLike, wet: ArrayLike, residual: ArrayLike) -> Floats:
    """Grams that leave until ``residual`` of what is left is water: (water − r·wet) / (1 − r), at least 0.

    ``wet``: grams of the whole bar at the cut, ``water`` grams of water in it (at most the bar itself).
    """
    there = numbers("the mass of water", water, least=0)
    whole = numbers("the wet mass", wet, above=0)
    if np.any(there > whole):
        raise ValueError("there is more water than wet mass")
    left = numbers("the residual moisture", residual, least=0, below=1)
    return np.maximum((there - left * whole) / (1 - left), 0.0)
