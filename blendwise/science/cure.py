"""Cure: how much leaves, how fast, and when a bar is ready by weight.

Masses in grams, losses and residual moisture as fractions, time in days; floats and arrays broadcast.
Water is the only thing of account that leaves, so every loss is bounded by the water in the batter.
The residual moisture of 6 to 10 % and the curve are common practice; the curve's constant is our own
judgement, to be replaced by the maker's own weighings.

Formula: loss to residual r = (water − r × wet) ÷ (1 − r), at most all the water; dried = 1 − exp(−days ÷
    14).
Source: the bound is conservation of mass; 6 to 10 % of residual water is common practice; 14 days is our
    judgement.
Check: the trade's table of losses by lye concentration; one house's weighings; readiness by weight in weeks
    four to six.
Limits: bars of 2 to 3 cm in air; high humidity, big bars and salt bars dry otherwise; lather goes on
    improving after.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from blendwise.science.guards import Bools, Floats, numbers
from blendwise.science.mass import batter_mass

# Water that stays in a cured bar, as a fraction of its mass: common practice, no publication.
RESIDUAL_LOW = 0.06
RESIDUAL_HIGH = 0.10

# Days in which the drying that is left falls to 1/e.  Our own judgement: with it, most is gone in two to
# four weeks and the weekly change falls below 1 % to 0.5 % in weeks four to six, as makers report.
DRYING_DAYS = 14.0

DAYS_A_WEEK = 7.0
# A bar is ready when a week changes it by less than this: our own judgement from makers' habits.
READY_WEEKLY_LOW = 0.005
READY_WEEKLY_HIGH = 0.01


def greatest_loss(oils: ArrayLike, lye: ArrayLike, water: ArrayLike) -> Floats:
    """The bound of any cure loss: water / (oils + lye + water), a fraction of that same mass."""
    whole = numbers("the mass of batter", batter_mass(oils, lye, water), above=0)
    return np.asarray(water, np.float64) / whole


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


def usual_loss(water: ArrayLike, wet: ArrayLike) -> tuple[Floats, Floats]:
    """Least and most of the wet mass that usually leaves: to 10 % and to 6 % residual moisture."""
    return loss_to_residual(water, wet, RESIDUAL_HIGH), loss_to_residual(water, wet, RESIDUAL_LOW)


def dried_fraction(days: ArrayLike) -> Floats:
    """Fraction of the final loss that has left after ``days``: 1 − exp(−days / 14).

    Exponential-like by common report, its constant our judgement; valid for bars cut to 2 to 3 cm, in air.
    """
    return -np.expm1(-numbers("the days of cure", days, least=0) / DRYING_DAYS)


def mass_on_day(wet: ArrayLike, final_loss: ArrayLike, days: ArrayLike) -> Floats:
    """Grams of a bar of ``wet`` grams after ``days``; ``final_loss``: the fraction that leaves in all."""
    loss = numbers("the cure loss", final_loss, least=0, below=1)
    return numbers("the wet mass", wet, least=0) * (1 - loss * dried_fraction(days))


def weekly_loss(earlier: ArrayLike, later: ArrayLike, days: ArrayLike) -> Floats:
    """Change a week as a fraction of the earlier weighing; below zero where the bar took up water.

    ``earlier``, ``later`` grams of the same bar, ``days`` between them (above 0).
    """
    before = numbers("the earlier weighing", earlier, above=0)
    after = numbers("the later weighing", later, above=0)
    return (before - after) / before * DAYS_A_WEEK / numbers("the days between", days, above=0)


def ready_by_weight(earlier: ArrayLike, later: ArrayLike, days: ArrayLike, *, strict: bool = False) -> Bools:
    """Whether a week changes the bar by less than 1 % (``strict``: 0.5 %).  It says nothing of lather."""
    bound = READY_WEEKLY_LOW if strict else READY_WEEKLY_HIGH
    return np.asarray(weekly_loss(earlier, later, days) < bound)


def ready_days(final_loss: ArrayLike, *, strict: bool = False) -> Floats:
    """Days until the curve of `mass_on_day` changes by less than 1 % (``strict``: 0.5 %) in the next week.

    Solved: with L the loss and u = exp(−t/14), L·u·(1 − k) < b·(1 − L + L·u), k = exp(−7/14).
    """
    loss = numbers("the cure loss", final_loss, least=0, below=1)
    bound = READY_WEEKLY_LOW if strict else READY_WEEKLY_HIGH
    a_week = -np.expm1(-DAYS_A_WEEK / DRYING_DAYS)
    # At the bound: u = b(1 − L) / (L (1 − k − b)); where u ≥ 1 the bar is ready from the start.
    left = np.maximum(loss * (a_week - bound), np.finfo(np.float64).tiny)
    return np.asarray(-np.log(np.minimum(bound * (1 - loss) / left, 1.0)) * DRYING_DAYS)
