"""Cure: how much leaves, how fast, and when bars are called cured.

Masses in grams, losses and residual moisture as fractions, time in days; floats and arrays broadcast.
Water is the only thing of account that leaves, so every loss is bounded by the water in the batter.
The residual moisture of 6 to 10 % and the curve are common practice; the curve's constant is our own
judgement, to be replaced by the maker's own weighings.

Formula: loss to residual r = (water − r × wet) ÷ (1 − r), at most all the water; dried = 1 − exp(−days ÷
    14).
Source: the bound is conservation of mass; 6 to 10 % of residual water is common practice; 14 days is our
    judgement.
Check: the trade's table of losses by lye concentration; one house's weighings; most gone in two to four
    weeks.
Limits: bars of 2 to 3 cm in air; high humidity, big bars and salt bars dry otherwise; lather goes on
    improving after.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from blendwise.science.guards import Floats, numbers

# Water that stays in a cured bar, as a fraction of its mass: common practice, no publication.
RESIDUAL_LOW = 0.06
RESIDUAL_HIGH = 0.10

# Days in which the drying that is left falls to 1/e.  Our own judgement: with it, most is gone in two to
# four weeks and the weekly change falls below 1 % to 0.5 % in weeks four to six, as makers report.
DRYING_DAYS = 14.0

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


def loss_to_residual(water: ArrayLike, wet: ArrayLike, residual: ArrayLike) -> Floats:
    """The same as a fraction of the wet mass (25 % lye, to 10 % residual: about 18 %)."""
    return grams_to_residual(water, wet, residual) / np.asarray(wet, np.float64)


def dried_fraction(days: ArrayLike) -> Floats:
    """Fraction of the final loss that has left after ``days``: 1 − exp(−days / 14).

    Exponential-like by common report, its constant our judgement; valid for bars cut to 2 to 3 cm, in air.
    """
    return -np.expm1(-numbers("the days of cure", days, least=0) / DRYING_DAYS)


def mass_on_day(wet: ArrayLike, final_loss: ArrayLike, days: ArrayLike) -> Floats:
    """Grams of a bar of ``wet`` grams after ``days``; ``final_loss``: the fraction that leaves in all."""
    loss = numbers("the cure loss", final_loss, least=0, below=1)
    return numbers("the wet mass", wet, least=0) * (1 - loss * dried_fraction(days))
