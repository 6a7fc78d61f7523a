"""Lye: need, water, superfat of the batch and of each portion as split.

Saponification values in mg KOH per g of fat (the sense of ISO 3657), masses in grams, superfat, purity and
concentration as fractions; floats and arrays broadcast, a list of oils lies along the last axis.
Lye burns: these figures stand beside a certificate of the lot, they never replace it.

Formula: NaOH = (need × (1 − superfat) + acids) ÷ purity; need = Σ oil × mg KOH per g ÷ 1000 × 39.9971 ÷
    56.1056; portion: 1 − w × (NaOH × purity − acids) ÷ (w × need of the pot + need of what returns + need
    of what is mixed in).
Source: atomic masses of IUPAC; saponification values are those in the book; 50 % as the strongest lye is
    common practice.
Check: pure triglycerides by their molar masses; published ranges and their NaOH values; ten everyday recipes
    at 3 to 5 %.
Limits: fats vary by up to 5 % about the middle of their range: a lot's certificate outranks any table; lye
    burns, and figures do not replace a certificate.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from blendwise.science.guards import Bools, Floats, numbers

# Molar masses in g/mol, from the atomic masses of IUPAC.
NAOH_MOLAR_MASS = 39.9971
KOH_MOLAR_MASS = 56.1056

# Half by mass is the strongest lye that keeps in practice (stock solution): common practice.
STRONGEST_LYE = 0.50

# Which figures look like one for KOH: the usual superfat goes to 8 %, and KOH flakes hold about 90 %
# (both common practice), so a KOH mass lies between these two multiples of the need for NaOH.
KOH_USUAL_SUPERFAT = 0.08
KOH_USUAL_PURITY = 0.90

# Acids of a recipe by what they eat: 0.5 to 3 % of citric acid on the oils (common practice), 0.6245 g of
# sodium hydroxide a gram (derived); the usual superfat on top.
ACID_EATS = (0.005 * 0.6245, 0.03 * 0.6245)
ACID_USUAL_SUPERFAT = 0.05
LITTLE_SUPERFAT = 0.02

# Part of a step of the scale that floats may take from a whole number of steps.
WHOLE = 1e-6


def naoh_per_koh() -> float:
    """Grams of NaOH that do the work of one gram of KOH: 39.9971 / 56.1056 = 0.71289."""
    return NAOH_MOLAR_MASS / KOH_MOLAR_MASS


def naoh_per_gram(sap_mg_koh_per_g: ArrayLike) -> Floats:
    """Grams of NaOH per gram of fat, from mg KOH per g; any shape."""
    sap = numbers("the saponification value", sap_mg_koh_per_g, least=0, below=1000)
    return sap / 1000 * naoh_per_koh()


def naoh_need(masses: ArrayLike, per_gram: ArrayLike) -> Floats:
    """Grams of pure NaOH that turn all of the fats into soap: Σ mass · need per gram.

    ``masses`` (…, oils) in g and ``per_gram`` (oils,) or (…, oils) from :func:`naoh_per_gram`; the sum goes
    over the last axis.
    """
    grams = np.atleast_1d(numbers("the mass of an oil", masses, least=0))
    return np.asarray((grams * np.asarray(per_gram, dtype=np.float64)).sum(axis=-1))


def lye_for_superfat(
    need: ArrayLike, superfat: ArrayLike, purity: ArrayLike = 1.0, acids: ArrayLike = 0.0
) -> Floats:
    """Grams of lye to weigh: (need · (1 − superfat) + acids) / purity.

    ``need``: g NaOH of the fats; ``acids``: g NaOH that acids eat first and in full, below zero where alkalis
    among the additives bring more.  A superfat below zero is computed (it is lye-heavy, and for the rules to
    stop); 100 % is refused.
    """
    left_free = numbers("the superfat", superfat, above=-1, below=1)
    pure = numbers("the need", need, least=0) * (1 - left_free) + np.asarray(acids, dtype=np.float64)
    return np.maximum(pure, 0.0) / _purity(purity)


def weighed_down(lye: ArrayLike, step: ArrayLike) -> Floats:
    """Grams of lye in whole steps of the scale, rounded down: what is weighed never burns more than asked.

    At least one step of something; grams that are whole steps but for the noise of floats stay.
    """
    grams = numbers("the mass of lye", lye, least=0)
    one = numbers("the step of the lye scale", step, above=0)
    return np.where(grams > 0, np.maximum(np.floor(grams / one + WHOLE), 1) * one, 0.0)


def water_from_concentration(lye: ArrayLike, concentration: ArrayLike) -> Floats:
    """Grams of water for lye at a concentration c = lye / (lye + water): lye · (1 − c) / c, 0 < c ≤ 50 %."""
    share = checked_concentration(concentration)
    return numbers("the mass of lye", lye, least=0) * (1 - share) / share


def water_from_ratio(lye: ArrayLike, water_to_lye: ArrayLike) -> Floats:
    """Grams of water from parts of water to one of lye; a ratio below 1 is a lye of over 50 %, refused."""
    ratio = numbers("water ÷ lye", water_to_lye, above=0)
    checked_concentration(1 / (1 + ratio))
    return numbers("the mass of lye", lye, least=0) * ratio


def water_from_oils(oils: ArrayLike, fraction: ArrayLike) -> Floats:
    """Grams of water given as a fraction of the oils (a habit whose meaning changes with the fats)."""
    return numbers("the mass of oils", oils, least=0) * numbers("water of oils", fraction, above=0)


def concentration(lye: ArrayLike, water: ArrayLike) -> Floats:
    """Lye concentration: lye / (lye + water), lye as weighed.  Over 50 % is refused."""
    grams = numbers("the mass of lye", lye, above=0)
    return checked_concentration(grams / (grams + numbers("the mass of water", water, least=0)))


def checked_concentration(share: ArrayLike) -> Floats:
    """A lye concentration above 0 and up to 50 %; ValueError otherwise."""
    found = numbers("the lye concentration", share, above=0)
    if np.any(found > STRONGEST_LYE * (1 + 1e-12)):
        raise ValueError(
            f"the lye concentration must be at most {100 * STRONGEST_LYE:g} %, "
            f"not {100 * found.max():.4g} %: a stronger lye does not stay dissolved"
        )
    return found


def superfat(lye: ArrayLike, purity: ArrayLike, need: ArrayLike, acids: ArrayLike = 0.0) -> Floats:
    """Fraction of the fats left free: 1 − (lye · purity − acids) / need.  Below zero the soap is lye-heavy.

    ``need``: of the fats; ``acids``: g NaOH that acids eat (below zero: that alkalis bring).  For the pot as
    split while oil is held back, ``need`` is that of what is in the pot then.
    """
    left = _pure(lye, purity) - np.asarray(acids, dtype=np.float64)
    return np.asarray(1 - left / numbers("the need", need, above=0))


def portion_superfat(
    share_of_pot: ArrayLike,
    lye: ArrayLike,
    purity: ArrayLike,
    pot_need: ArrayLike,
    returned_need: ArrayLike = 0.0,
    mixed_in_need: ArrayLike = 0.0,
    acids: ArrayLike = 0.0,
) -> Floats:
    """Superfat of a portion as split: 1 − w·(lye·purity − acids) / (w·pot need + returned + mixed-in need).

    ``share_of_pot`` w: its fraction of the pot as split, 0 < w ≤ 1.  ``lye``: grams for the whole pot.
    ``pot_need``: g NaOH that the pot's oils need, without what was held back; ``acids``: for the whole pot.
    ``returned_need``/``mixed_in_need``: g NaOH that the oils returned to or added on top of it need.
    """
    share = numbers("the share of the pot", share_of_pot, above=0, most=1)
    need = (
        share * numbers("the need of the pot", pot_need, least=0)
        + numbers("the need of what is returned", returned_need, least=0)
        + numbers("the need of what is mixed in", mixed_in_need, least=0)
    )
    eaten = share * np.asarray(acids, dtype=np.float64)
    return superfat(share * numbers("the mass of lye", lye, least=0), purity, need, eaten)


def superfat_error(scale_step: ArrayLike, purity: ArrayLike, need: ArrayLike) -> Floats:
    """How far half a step of the lye scale moves the superfat either way: step / 2 · purity / need."""
    half = numbers("the step of the lye scale", scale_step, least=0) / 2
    return _pure(half, purity) / numbers("the need", need, above=0)


def looks_like_koh(lye: ArrayLike, need: ArrayLike) -> Bools:
    """Whether a mass of lye is about 1.40 × the need for NaOH, as a figure for KOH would be.

    From 1.403 · (1 − 8 %) (pure KOH at a usual superfat) to 1.403 / 90 % (flakes of 90 %, no superfat).
    """
    ratio = numbers("the mass of lye", lye, least=0) / numbers("the need", need, above=0)
    pure = 1 / naoh_per_koh()
    return np.asarray((ratio >= pure * (1 - KOH_USUAL_SUPERFAT)) & (ratio <= pure / KOH_USUAL_PURITY))


def looks_like_an_acid(lye: ArrayLike, purity: ArrayLike, need: ArrayLike, oils: ArrayLike) -> Bools:
    """Whether lye that leaves less than 2 % of superfat would leave 5 % were an acid in the recipe.

    ``lye``, ``need`` and ``oils`` in g: what is above the need at 5 % is what citric acid of 0.5 to 3 % of
    the oils eats.
    """
    wants = numbers("the need", need, above=0)
    over = _pure(lye, purity) - wants * (1 - ACID_USUAL_SUPERFAT)
    part = over / numbers("the mass of oils", oils, above=0)
    little = superfat(lye, purity, wants) < LITTLE_SUPERFAT
    return np.asarray(little & (part >= ACID_EATS[0]) & (part <= ACID_EATS[1]))


def _purity(purity: ArrayLike) -> Floats:
    return numbers("the purity of the lye", purity, above=0, most=1)


def _pure(lye: ArrayLike, purity: ArrayLike) -> Floats:
    return numbers("the mass of lye", lye, least=0) * _purity(purity)
