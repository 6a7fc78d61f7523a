"""Measures of additives: what is known of each, and what they bring into the pot."""

from __future__ import annotations

import numpy as np

from blendwise.facts.columns import Column, Missing, SetColumn
from blendwise.facts.measure import flag, number, tags
from blendwise.facts.measures.lye import superfat_of_portions
from blendwise.facts.plain_columns import flags, known, sets
from blendwise.facts.registry import Use
from blendwise.facts.situation.additions.additives import unknown, words_of
from blendwise.facts.situation.worked_out import Situation
from blendwise.science.substances import worst_lye

SOURCE = "additives.yaml over the shipped table of additives"

WHAT_IT_IS = "what it is"


@flag("additive known", "additive")
def additive_known(s: Situation) -> Column:
    """Whether additives.yaml, the shipped table or the last word of its name says what it does to the lye."""
    return flags([each.known for each in s.pot.added])


@flag("additive belongs with the oils", "additive")
def belongs_with_oils(s: Situation) -> Column:
    """Whether it is a fat or wax, whose need for lye is not counted while it stands among the additives."""
    oils = {words_of(name) for name in s.book.oils}
    return flags([each.what.belongs == "oils.yaml" or words_of(each.name) in oils for each in s.pot.added])


@number("additive share", "additive", unit="% of oils", dimension="FRACTION")
def additive_share(s: Situation) -> Column:
    """The additive's mass on the oils.

    Formula: grams ÷ oils mass
    """
    return known([each.grams / s.pot.oils_total for each in s.pot.added])


@number(
    "portion superfat if the unknown is lye",
    "portion",
    unit="%",
    dimension="FRACTION",
    lowest=-np.inf,
    highest=1.0,
)
def worst_superfat(s: Situation) -> Column:
    """Superfat of the portion, at its low end as if all unknown additives were sodium hydroxide.

    Formula: portion superfat, down to that with NaOH × purity + unknown additives in place of NaOH × purity
    """
    found = unknown(s.pot.added)
    named = superfat_of_portions(s, "named")
    worst = superfat_of_portions(s, "named", float(worst_lye(s.pot.unknown_mass)))
    lost = tuple(Missing(each.name, WHAT_IT_IS) for each in found)
    gaps = dict.fromkeys(range(len(named)), lost) if lost else {}
    return Column(worst, named, asked=np.full(len(named), bool(found)), missing=gaps)


@number(
    "portion superfat by the table alone",
    "portion",
    unit="%",
    dimension="FRACTION",
    lowest=-np.inf,
    highest=1.0,
)
def superfat_by_the_table(s: Situation) -> Column:
    """Superfat of the portion if what only the book says of its additives and fats were wrong.

    No additive eats more lye than the shipped table says, no fat of a kind that is not known takes more than
    an ordinary one (200 mg of KOH a gram), no lot without a certificate more than the middle of its kind.
    Formula: portion superfat, NaOH × purity + what additives and fats take on their maker's word alone
    """
    credited = sum(each.credited for each in s.pot.added) + s.pot.credited_to_oils
    superfat = superfat_of_portions(s, "named", credited)
    return Column(superfat, superfat, asked=np.full(len(superfat), credited > 0))


@number("lye eaten by additives", "batch", unit="g", dimension="MASS", lowest=-np.inf, use=Use(of_size=True))
def lye_eaten(s: Situation) -> Column:
    """Pure NaOH that acids among the additives eat, less what an alkali of additives.yaml brings.

    Formula: Σ grams ÷ 1000 × mol per kg × 39.9971
    """
    return known([s.pot.acids_need])


@number("water of additives", "batch", unit="g", dimension="MASS", use=Use(of_size=True))
def water_of_additives(s: Situation) -> Column:
    """Water in milk, beer, vinegar, purée and other additives.

    Formula: Σ grams × water content
    """
    return known([s.pot.additive_water])


@number("reducing sugars", "batch", unit="% of oils", dimension="FRACTION", basis="of batch oils")
def reducing_sugars(s: Situation) -> Column:
    """Sugar that lye browns (of honey, milk, fruit, not table sugar) in the additives, on the oils.

    Formula: Σ grams × content of reducing sugar ÷ oils mass
    """
    return known([sum(each.reducing_sugar for each in s.pot.added) / s.pot.oils_total])


@number("alcohol", "batch", unit="% of oils", dimension="FRACTION", basis="of batch oils")
def alcohol(s: Situation) -> Column:
    """Alcohol in the additives, on the oils: it warms, thickens, and can make batter seize.

    Formula: Σ grams × alcohol content ÷ oils mass
    """
    return known([sum(each.alcohol for each in s.pot.added) / s.pot.oils_total])


@tags("fresh additives", "batch")
def fresh_additives(s: Situation) -> SetColumn:
    """The additives that are fresh food, which can spoil in the bar."""
    return sets([[each.name for each in s.pot.added if each.grams > 0 and each.what.fresh]])
