"""Dissolving lye: how hot the jug gets, and how much room the lye takes.

Sodium hydroxide gives off much heat as it dissolves; the less water, the less a gram gives.  All of that
heat in the lye alone is the hottest it can get; a jug, air and slow hands take some.

Formula: T = T water + kept × heat(r) ÷ 39.9971 × c ÷ heat capacity(c); r = mol water ÷ mol NaOH; volume =
    (NaOH + water) ÷ density(c).
Source: integral heats of solution at 25 °C: Felder and Rousseau, Elementary Principles of Chemical Processes,
    table B.11 (34.43 kJ/mol at r = 4 as its solutions manual quotes it, read; other rows from memory); heat
    capacities and densities of the lye: from memory of handbooks.
Check: 34.43 at r = 4; between 25 and 33 % lye from 20 °C the 70 to 95 °C that makers see.
Limits: ± 12 % of the rise (what jug and air take); water at the room's temperature, all lye at once; ice and
    frozen milk are not counted.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from blendwise.science.guards import Floats, numbers
from blendwise.science.lye import NAOH_MOLAR_MASS

WATER_MOLAR_MASS = 18.0153
# mol of water to one of NaOH, and kJ given off a mol of NaOH; the first two are carried on from the table.
RATIO = (1.0, 2.0, 3.0, 4.0, 5.0, 10.0, 20.0)
HEAT = (10.0, 21.0, 28.87, 34.43, 37.74, 42.51, 42.84)
# Fraction of NaOH; J per g and kelvin at about 60 °C; g per mL at 20 °C.
STRENGTH = (0.0, 0.10, 0.20, 0.25, 0.30, 0.33, 0.36, 0.40, 0.50)
HEAT_CAPACITY = (4.18, 3.80, 3.66, 3.62, 3.58, 3.55, 3.51, 3.46, 3.25)
DENSITY = (0.998, 1.109, 1.219, 1.275, 1.328, 1.362, 1.393, 1.430, 1.525)
# Share of the heat that stays in the lye: least, middle, most.  Judgement.
KEPT = (0.75, 0.875, 1.0)


def heat_of_solution(water_per_mol: ArrayLike) -> Floats:
    """kJ that a mol of NaOH gives off in so many mol of water, straight between the rows of the table."""
    ratio = numbers("the water to a mol of lye", water_per_mol, least=0)
    return np.asarray(np.interp(ratio, RATIO, HEAT), dtype=np.float64)


def hottest_lye(concentration: ArrayLike, start_celsius: ArrayLike) -> tuple[Floats, Floats, Floats]:
    """°C that fresh lye reaches (least, middle, most), from water at ``start_celsius``.

    ``concentration``: NaOH over NaOH and the water it is dissolved in, 0 < c < 1.
    """
    c = numbers("the lye's strength", concentration, above=0, below=1)
    ratio = (1 - c) / WATER_MOLAR_MASS / (c / NAOH_MOLAR_MASS)
    rise = heat_of_solution(ratio) * 1000 / NAOH_MOLAR_MASS * c / np.interp(c, STRENGTH, HEAT_CAPACITY)
    start = np.asarray(start_celsius, dtype=np.float64)
    least, middle, most = (np.asarray(start + kept * rise) for kept in KEPT)
    return least, middle, most


def lye_volume(naoh: ArrayLike, water: ArrayLike) -> Floats:
    """mL of lye from grams of NaOH and of water, cooled."""
    lye, wet = numbers("the lye", naoh, least=0), numbers("the water", water, above=0)
    return np.asarray((lye + wet) / np.interp(lye / (lye + wet), STRENGTH, DENSITY), dtype=np.float64)
