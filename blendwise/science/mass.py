"""Masses: batter, portions, doses on every basis, the finished bar.

All masses in grams, all rates and losses as fractions (4 % is 0.04); floats and arrays broadcast.
Only water leaves a bar.  That no scent evaporates is the safe assumption wherever a limit is at stake
(our own judgement); what stays in pot and cup the maker states.

Formula: batter = oils + NaOH + water + additives; bar = (1 − loss) × (oils + NaOH + water) + colourants +
    additives + scent + embeds; on batter and bar x = r × W ÷ (1 − r), W the mass without the dose.
Source: conservation of mass; losses in pot and cups are common practice.
Check: tables of the trade at 33 % lye; mass balance to 1 mg as a property; doses there and back on every
    basis.
Limits: no scent evaporates and nothing but water leaves: the safe assumption where a limit is at stake, not
    what a nose finds.
"""

from __future__ import annotations

from collections.abc import Mapping

from numpy.typing import ArrayLike

from blendwise.quantity import Basis
from blendwise.science.guards import ROUNDING, Floats, numbers

# Bases whose mass holds the dose itself: 4 g in 96 g of batter are 4 % of batter but 4.17 % of the rest.
COUNTS_ITSELF = frozenset({Basis.BATCH_BATTER, Basis.PORTION_BATTER, Basis.BATTER, Basis.FINISHED_BAR})


def batter_mass(oils: ArrayLike, lye: ArrayLike, water: ArrayLike, additives: ArrayLike = 0.0) -> Floats:
    """Grams of batter before the split: oils + lye + water + what went in with them (grams each)."""
    return (
        numbers("the mass of oils", oils, least=0)
        + numbers("the mass of lye", lye, least=0)
        + numbers("the mass of water", water, least=0)
        + numbers("the mass of additives", additives, least=0)
    )


def batter_to_oils(oils: ArrayLike, lye: ArrayLike, water: ArrayLike, additives: ArrayLike = 0.0) -> Floats:
    """Batter ÷ oils, a plain number: (oils + lye + water + additives) / oils.  Oils must be above zero."""
    fats = numbers("the mass of oils", oils, above=0)
    return batter_mass(fats, lye, water, additives) / fats


def usable(mass: ArrayLike, loss: ArrayLike) -> Floats:
    """Grams that leave the vessel: mass · (1 − loss), loss a fraction of what it held, 0 ≤ loss < 1."""
    return numbers("the mass", mass, least=0) * (1 - numbers("the loss", loss, least=0, below=1))


def dose_grams(rate: ArrayLike, basis: Basis, weights: Mapping[Basis, ArrayLike]) -> Floats:
    """Grams of a dose given as a rate on a basis.

    ``weights``: grams of each basis, for batter and bar **without this dose**, because those bases count
    the dose itself: x = r·(W + x), so x = r·W / (1 − r).
    KeyError where the basis has no weight; ValueError for a rate below 0, or of 100 % of what holds it.
    """
    rest = numbers(f"the mass {basis}", weights[basis], least=0)
    if basis in COUNTS_ITSELF:
        share = numbers(f"the dose {basis}", rate, least=0, below=1)
        return share * rest / (1 - share)
    return numbers(f"the dose {basis}", rate, least=0) * rest


def water_leaving(oils: ArrayLike, lye: ArrayLike, water: ArrayLike, loss: ArrayLike) -> Floats:
    """Grams of water that leave through cure: loss · (oils + lye + water).

    ValueError where more would leave than there is: drying takes water only.
    """
    leaving = numbers("the cure loss", loss, least=0, below=1) * batter_mass(oils, lye, water)
    there = numbers("the mass of water", water, least=0)
    # Additions are arranged so that a loss of exactly all water, rounded, still passes.
    if (leaving > there * (1 + ROUNDING) + ROUNDING).any():
        raise ValueError("the cure loss takes more water than there is: only water leaves a bar")
    return leaving


def finished_bar(
    oils: ArrayLike,
    lye: ArrayLike,
    water: ArrayLike,
    loss: ArrayLike,
    *,
    colourants: ArrayLike = 0.0,
    additives: ArrayLike = 0.0,
    scent: ArrayLike = 0.0,
    embeds: ArrayLike = 0.0,
) -> Floats:
    """Grams after cure: (1 − loss)·(oils + lye + water) + colourants + additives + scent + embeds.

    Works for the batch, a portion or one cavity alike.  ``embeds`` hold their own scent within their mass.
    ValueError where the loss takes more water than there is.
    """
    dried = batter_mass(oils, lye, water) - water_leaving(oils, lye, water, loss)
    return (
        dried
        + numbers("the mass of colourants", colourants, least=0)
        + numbers("the mass of additives", additives, least=0)
        + numbers("the mass of scent", scent, least=0)
        + numbers("the mass of embeds", embeds, least=0)
    )
