"""Moulds: volume, and oils to fill it.

Lengths in cm, volumes in mL (1 cm³ = 1 mL), masses in grams, fractions plain; floats and arrays broadcast.
Densities are handbook values at about 20 °C, from memory; beaten-in air (1 to 5 %) is not reckoned.
A maker's own multiplier (oils ÷ measured batter volume of a past batch) is better than all of it.

Formula: oils = (volume × fill − embeds ÷ 1.03) ÷ (1 ÷ oils per mL + scent per oil ÷ 1.01) ÷ (1 − loss);
    oils per mL from 0.91 g/mL of oil and the density of the lye solution.
Source: densities are handbook values at 20 °C, from memory.
Check: the trade's oils per volume at six concentrations; a worked loaf of 1,435 mL; fresh batter of 1.00 to
    1.02 g/mL.
Limits: air beaten in (1 to 5 %) and the room of clay, salt and sugar are not reckoned; a maker's own
    multiplier is better.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from blendwise.science.guards import Floats, numbers
from blendwise.science.lye import checked_concentration

# g/mL of common soap oils at room temperature: handbook value, from memory.
OIL_DENSITY = 0.91
# g/mL of scent oils: they lie between 0.97 and 1.05 (common practice); this is the middle.
SCENT_DENSITY = 1.01
# g/mL of embeds and cured soap: common practice, from memory.
EMBED_DENSITY = 1.03

# NaOH solutions at 20 °C, mass fraction and g/mL: handbook values, from memory.
LYE_STRENGTHS = (0.0, 0.10, 0.20, 0.25, 0.28, 0.30, 0.33, 0.36, 0.40, 0.50)
LYE_DENSITIES = (0.998, 1.109, 1.219, 1.275, 1.307, 1.328, 1.362, 1.393, 1.430, 1.525)


def box_volume(length: ArrayLike, width: ArrayLike, height: ArrayLike) -> Floats:
    """mL inside a loaf or slab of length × width × height (cm), to the height poured."""
    return (
        numbers("the length", length, above=0)
        * numbers("the width", width, above=0)
        * numbers("the height", height, above=0)
    )


def cavities_volume(count: ArrayLike, each: ArrayLike) -> Floats:
    """mL of a mould of ``count`` cavities of ``each`` mL."""
    one = numbers("the volume", each, above=0)
    return numbers("the number of cavities", count, least=1) * one


def lye_density(concentration: ArrayLike) -> Floats:
    """g/mL of a NaOH solution of a mass fraction up to 50 %, straight lines between handbook values."""
    return np.asarray(np.interp(checked_concentration(concentration), LYE_STRENGTHS, LYE_DENSITIES))


def batter_volume(oils: ArrayLike, lye: ArrayLike, concentration: ArrayLike) -> Floats:
    """mL of fresh batter: oils / 0.91 + (lye / c) / density of the solution at c (grams, fraction)."""
    solution = numbers("the mass of lye", lye, least=0) / checked_concentration(concentration)
    return numbers("the mass of oils", oils, least=0) / OIL_DENSITY + solution / lye_density(concentration)


def oils_per_ml(concentration: ArrayLike, lye_per_oil: ArrayLike) -> Floats:
    """Grams of oils per mL of batter (33 % lye, 0.14 g of lye a gram of oils: 0.709).

    ``lye_per_oil``: grams of lye per gram of oils, from the recipe.
    """
    return 1 / batter_volume(1.0, lye_per_oil, concentration)


def oils_to_fill(
    volume: ArrayLike,
    per_ml: ArrayLike,
    *,
    scent_per_oil: ArrayLike = 0.0,
    embeds: ArrayLike = 0.0,
    fill: ArrayLike = 1.0,
    loss: ArrayLike = 0.0,
) -> Floats:
    """Grams of oils for a mould of ``volume`` mL at ``per_ml`` grams of oils a mL of batter.

    (volume·fill − embeds/1.03) / (1/per mL + scent per oil/1.01) / (1 − loss): scent takes up room,
    embeds leave less of it, and pot and cups keep ``loss`` of the batter.  ``embeds`` in g, the rest
    fractions.  ValueError where the embeds alone fill the mould.
    """
    room = numbers("the volume", volume, above=0) * numbers("the fill", fill, above=0, most=1)
    room = room - numbers("the mass of embeds", embeds, least=0) / EMBED_DENSITY
    if np.any(room <= 0):
        raise ValueError("the embeds leave no room for batter")
    scent = numbers("scent per oil", scent_per_oil, least=0) / SCENT_DENSITY
    each = 1 / numbers("grams of oils per mL", per_ml, above=0) + scent
    return room / each / (1 - numbers("the loss", loss, least=0, below=1))
