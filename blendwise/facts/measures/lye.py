"""Measures of lye and superfat: of the batch and of every portion as split."""

from __future__ import annotations

from math import inf

from blendwise.facts.columns import Column, Floats
from blendwise.facts.measure import flag, number
from blendwise.facts.plain_columns import flags, known
from blendwise.facts.registry import Use
from blendwise.facts.situation.pot import lye_step
from blendwise.facts.situation.worked_out import Situation
from blendwise.science import lye as lye_science

SOURCE = "stoichiometry of NaOH; saponification values in oils.yaml"


@number("superfat", "batch", unit="%", dimension="FRACTION", lowest=-inf, highest=1.0)
def superfat(s: Situation) -> Column:
    """Fat that the lye asked for leaves free, by the lot's certificate where one is named, else by the mid.

    Formula: 1 − (NaOH × purity − what acids eat) ÷ need of the fats
    """
    return known([_superfat(s, "named")])


@number(
    "superfat as weighed",
    "batch",
    unit="%",
    dimension="FRACTION",
    lowest=-inf,
    highest=1.0,
    use=Use(of_size=True),
)
def superfat_weighed(s: Situation) -> Column:
    """Fat left free by the lye that is weighed: in whole steps of the lye scale, rounded down.

    Formula: 1 − (NaOH as weighed × purity − what acids eat) ÷ need of the fats
    """
    pot = s.pot
    found = lye_science.superfat(pot.weighed, pot.purity, pot.fat_need("named"), pot.acids_need)
    return known([float(found)])


@number("superfat at the low end", "batch", unit="%", dimension="FRACTION", lowest=-inf, highest=1.0)
def superfat_low(s: Situation) -> Column:
    """Fat left free if every oil sat at the low end of its published saponification range.

    Formula: 1 − (NaOH × purity − what acids eat) ÷ need at the low end
    """
    return known([_superfat(s, "low")])


@number("superfat at the high end", "batch", unit="%", dimension="FRACTION", lowest=-inf, highest=1.0)
def superfat_high(s: Situation) -> Column:
    """Fat left free if every oil sat at the high end of its published saponification range.

    Formula: 1 − (NaOH × purity − what acids eat) ÷ need at the high end
    """
    return known([_superfat(s, "high")])


def _superfat(s: Situation, which: str) -> float:
    pot = s.pot
    return float(lye_science.superfat(pot.naoh, pot.purity, pot.fat_need(which), pot.acids_need))


@number("portion superfat", "portion", unit="%", dimension="FRACTION", lowest=-inf, highest=1.0)
def portion_superfat(s: Situation) -> Column:
    """Superfat of the portion as split, with what it gets back and has mixed in.

    Formula: 1 − w × (NaOH × purity − what acids eat) ÷ (w × need of the pot + of returned and mixed-in oil)
    """
    return known(superfat_of_portions(s, "named"))


@number(
    "portion superfat at the low end", "portion", unit="%", dimension="FRACTION", lowest=-inf, highest=1.0
)
def portion_superfat_low(s: Situation) -> Column:
    """Superfat of the portion if every oil sat at the low end of its published saponification range.

    Formula: as portion superfat, every need at the low end
    """
    return known(superfat_of_portions(s, "low"))


def superfat_of_portions(s: Situation, which: str, more: float = 0.0) -> Floats:
    """Superfat of each portion by one end of the saponification values; ``more``: g of NaOH beside it."""
    pot, split = s.pot, s.split
    return lye_science.portion_superfat(
        split.share * (1 - pot.loss),
        pot.naoh + more / pot.purity,
        pot.purity,
        pot.pot_need(which),
        split.returned_need[which],
        split.mixed_in_need[which],
        pot.acids_need,
    )


@number("lye to need", "batch")
def lye_to_need(s: Situation) -> Column:
    """Pure NaOH over what the recipe needs: 0.95 is a superfat of 5 %, 1.40 smells of a figure for KOH.

    Formula: NaOH × purity ÷ need, acids included
    """
    return known([s.pot.naoh * s.pot.purity / s.pot.need("named")])


@flag("lye looks like KOH", "batch")
def looks_like_koh(s: Situation) -> Column:
    """Whether the lye is about 1.40 times the need for NaOH, as a figure meant for KOH would be."""
    return flags([bool(lye_science.looks_like_koh(s.pot.naoh * s.pot.purity, s.pot.need("named")))])


@flag("lye looks like an acid unsaid", "batch")
def looks_like_an_acid(s: Situation) -> Column:
    """Whether lye as weighed is over the need by what citric acid would eat, and the recipe names no acid."""
    pot, recipe = s.pot, s.plan.recipe or s.book.usual.recipe
    lye = (recipe.lye if recipe else None) or s.book.usual.lye
    typed = lye is not None and lye.naoh is not None
    found = lye_science.looks_like_an_acid(pot.naoh, pot.purity, pot.fat_need("named"), pot.oils_total)
    return flags([typed and pot.acids_need == 0 and bool(found)])


@number("superfat error of the lye scale", "batch", unit="%", dimension="FRACTION", use=Use(of_size=True))
def superfat_error(s: Situation) -> Column:
    """How far half a step of the lye scale moves the superfat; a step of 1 g is assumed where none is stated.

    Formula: step ÷ 2 × purity ÷ need
    """
    error = lye_science.superfat_error(lye_step(s.book), s.pot.purity, s.pot.fat_need("named"))
    return known([float(error)])


@number("lye concentration", "batch", unit="%", dimension="FRACTION", highest=1.0)
def concentration(s: Situation) -> Column:
    """NaOH as weighed, as a share of NaOH and all water, that in milk, beer and other additives included.

    Formula: NaOH ÷ (NaOH + water + water of additives)
    """
    return known([s.pot.lye_concentration])


@number("sodium hydroxide", "batch", unit="g", dimension="MASS", use=Use(of_size=True))
def sodium_hydroxide(s: Situation) -> Column:
    """NaOH asked for; what is weighed of it are whole steps of the lye scale, rounded down.

    Formula: (need × (1 − superfat) + acids) ÷ purity, or as the plan gives it
    """
    return known([s.pot.naoh])


@number("water", "batch", unit="g", dimension="MASS", use=Use(of_size=True))
def water(s: Situation) -> Column:
    """Water to weigh.

    Formula: NaOH × (1 − concentration) ÷ concentration, or as the plan gives it
    """
    return known([s.pot.water])


@number("lye needed", "batch", unit="g", dimension="MASS", use=Use(of_size=True))
def lye_needed(s: Situation) -> Column:
    """Pure NaOH that would leave no fat free, what acids eat included.

    Formula: Σ oil × mg KOH per g ÷ 1000 × 39.9971 ÷ 56.1056 + acids
    """
    return known([s.pot.need("named")])


@flag("purity stated", "batch")
def purity_stated(s: Situation) -> Column:
    """Whether the purity of the NaOH is written down (else it counts as 100 %)."""
    return flags([s.pot.purity_stated])


@number("water in batter", "batch", unit="% of batter", dimension="FRACTION", highest=1.0)
def water_in_batter(s: Situation) -> Column:
    """Water as a share of the batter as split, that of additives included.

    Formula: (water + water of additives) ÷ batter mass
    """
    return known([s.pot.all_water / s.pot.batter])


@number("held back", "batch", unit="% of oils", dimension="FRACTION", highest=1.0)
def held_back(s: Situation) -> Column:
    """Oils kept out of the pot, as a share of the recipe's oils.

    Formula: Σ held back ÷ oils mass
    """
    return known([float(s.pot.held.sum()) / s.pot.oils_total])


@number("mixed in", "portion", unit="% of portion mass", dimension="FRACTION", highest=1.0)
def mixed_in(s: Situation) -> Column:
    """Oil added on top of the portion (carrier of colour, for one), as a share of its mass.

    Formula: grams mixed in ÷ portion mass
    """
    return known(s.split.mixed_in / s.split.batter)
