"""Fats that are not clear: where they set on cooling, where they melt on warming, alone and in a recipe.

A fat is a mixture of triglycerides.  Cooled, it sets in a less stable form and below the point at which the
stable form melts: trilaurin and its kin (coconut), POP, POS and SOS (palm, shea, cocoa butter), with a few
per cent of PPP and SSS (palm, lard, tallow) in oil.  So there are two points.  In a recipe the rest of the
oils dissolves it, which lowers both; fats that melt as high or higher set together with it.

Formula: 1/T = 1/T alone − R ln(share of it and of all that set as high) ÷ heat, in kelvin; the highest of
    the fats; heat 130 kJ/mol where it sets, 180 where it melts.
Source: Schröder and van Laar, ideal solubility; "no large deviations from the ideal liquidus" (tristearin in
    trioctanoin, DSC, abstract); 197 kJ/mol of stable tristearin (J. Chem. Eng. Data 50, 2005, 1624, abstract:
    221.6 J/g); where fats melt: Belitz, Grosch, Schieberle, Food Chemistry, table 14.8 and 14.9; an abstract
    for palm; Wiley, Foods and Their Adulteration, for lard.  Where they set: from memory and common practice.
Check: 15 mol % of tripalmitin in triolein (Hale and Schroeder, Lipids, November 1981, abstract): 37 °C
    measured, 43 here; nine mixtures as makers pour them; more of a hard fat never lowers a point.
Limits: ± 4 °C, by the width of what is known of mixtures; a seeded or long-held batter sets higher.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from blendwise.science.checks import Floats, numbers, positive, share
from blendwise.science.clock import ZERO_CELSIUS
from blendwise.science.tables import plain_key

# Molar gas constant, J/(mol K), exact in the SI since 2019 (CODATA 2018).
GAS_CONSTANT = 8.314462618
# J/mol by which a dissolving oil lowers the point: of the form that sets on cooling, and of the stable form.
# Judgement within what is published: 85,000 is what the 19 degrees of Hale and Schroeder come to, 197,000
# is stable tristearin; the less stable form has about half the heat (trielaidin: 95 and 177 J/g).
SETTING_J_PER_MOL = 130_000.0
MELTING_J_PER_MOL = 180_000.0
# Half width of doubt about a point of a recipe, °C.  Judgement: mixtures are known to 3.5 to 5 either way.
DOUBT_CELSIUS = 4.0
# Where only the melting point of a fat is known, it sets so much below.  Judgement, the table's middle.
UNDERCOOLING = 9.0


@dataclass(frozen=True, slots=True)
class Points:
    """°C at which a fat alone sets on cooling, and melts on warming."""

    sets: float
    melts: float


# By the words of a fat's name, the first that fit.  Within the ends that are published or in use:
# coconut and babassu set at 18 to 22, melt at 20 to 28; palm kernel 20 to 25, 23 to 30; palm 22 to 31,
# 32 to 40; lard 24 to 31, 28 to 44; tallow 31 to 40, 40 to 50; shea 20 to 30, 23 to 42; cocoa butter
# 17 to 26, 28 to 36; palm stearin 38 to 46, 44 to 56; stearic acid 53 to 57, 54 to 70.  Chosen so that
# mixtures lie where they are known to.
FATS = {
    "stearic acid": Points(55.0, 68.0),
    "palm stearin": Points(43.0, 52.0),
    "palm kernel": Points(22.0, 28.0),
    "cocoa": Points(25.0, 35.0),
    "coconut": Points(21.0, 27.0),
    "babassu": Points(20.5, 26.0),
    "palm": Points(30.0, 39.0),
    "lard": Points(30.0, 40.0),
    "tallow": Points(36.0, 47.0),
    "shea": Points(29.0, 40.0),
}
# Words that make another fat of it, of which the table knows nothing: a liquid fraction, or one hardened.
OTHER = frozenset({"olein", "fractionated", "mct", "hydrogenated", "hardened", "nilotica"})


def points_of(name: str) -> Points | None:
    """Where the fat of this name sets and melts alone; None where the table does not know it."""
    words = plain_key(name)
    if any(word in words for word in OTHER):
        return None
    return next((points for fat, points in FATS.items() if set(fat.split()) <= set(words.split())), None)


# Oils that stay liquid in a larder, by the words of their names.  Common practice.
LIQUIDS = frozenset(
    (
        *("almond", "apricot", "argan", "avocado", "camellia", "canola", "castor", "corn", "grapeseed"),
        *("hazelnut", "hemp", "linseed", "macadamia", "olive", "peanut", "rapeseed", "rice", "safflower"),
        *("sesame", "soya", "soybean", "sunflower", "walnut"),
    )
)


def is_liquid(name: str) -> bool:
    """Whether an oil of this name is known to be liquid; a butter or a hardened oil of it is not."""
    words = set(plain_key(name).split())
    return bool(words & LIQUIDS) and not words & {"butter", "hydrogenated", "hardened", "stearin", "wax"}


def setting_celsius(sets: ArrayLike, shares: ArrayLike) -> Floats:
    """°C (...) below which a recipe sets on cooling within a pour; -inf without such a fat.

    ``sets``: °C at which each fat alone sets (..., n), infinite where not known; ``shares``: its fraction of
    the oils (..., n).
    """
    return _highest(sets, shares, SETTING_J_PER_MOL)


def melting_celsius(melts: ArrayLike, shares: ArrayLike) -> Floats:
    """°C (...) from which a recipe is clear once warmed; as :func:`setting_celsius`."""
    return _highest(melts, shares, MELTING_J_PER_MOL)


def _highest(points: ArrayLike, shares: ArrayLike, heat: float) -> Floats:
    part = share("share of the oils", shares, "it is a fraction of the oils")
    alone, part = np.broadcast_arrays(numbers("point of a fat", points, endless=True), part)
    there = part > 0
    usual = there & np.isfinite(alone)
    kelvin = positive("point of a fat in kelvin", np.where(usual, alone, 0.0) + ZERO_CELSIUS, "too cold")
    as_high = usual[..., None, :] & (alone[..., None, :] >= alone[..., :, None])
    together = np.minimum((as_high * part[..., None, :]).sum(axis=-1), 1.0)
    lowered = 1 / (1 / kelvin - GAS_CONSTANT * np.log(np.where(usual, together, 1.0)) / heat)
    each = np.where(usual, lowered - ZERO_CELSIUS, np.where(there, alone, -np.inf))
    return np.asarray(each.max(axis=-1, initial=-np.inf))
