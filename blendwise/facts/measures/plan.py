"""Measures of the plan as written: purpose, masses, the pour, counts."""

from __future__ import annotations

import numpy as np

from blendwise.facts.build import flags, known, numbers, sets, words
from blendwise.facts.columns import Column, Missing, SetColumn
from blendwise.facts.measure import flag, number, tags, word
from blendwise.facts.scales import BATTER, FAMILY, PURPOSE
from blendwise.facts.situation import Situation


@word("purpose", "batch", PURPOSE)
def purpose(s: Situation) -> Column:
    """Whether the soap is for sale or for home.  A plan that does not say counts as for sale."""
    return words([s.plan.for_ or "sale"], PURPOSE)


@number("oils mass", "batch", unit="g", dimension="MASS")
def oils_mass(s: Situation) -> Column:
    """All oils of the recipe, what is held back included."""
    return known([s.pot.oils_total])


@number("batter mass", "batch", unit="g", dimension="MASS")
def batter_mass(s: Situation) -> Column:
    """The pot as split: oils, lye, water and additives, before colour and scent.

    Formula: pot oils + NaOH + water + additives
    """
    return known([s.pot.batter])


@number("portions", "batch")
def portions(s: Situation) -> Column:
    """How many portions the batter is split into."""
    return known([float(len(s.portions))])


@number("portion mass", "portion", unit="g", dimension="MASS")
def portion_mass(s: Situation) -> Column:
    """Batter in the portion with colour, returned and mixed-in oil, before its scent."""
    return known(s.split.batter)


@number("portion oils", "portion", unit="g", dimension="MASS")
def portion_oils(s: Situation) -> Column:
    """Oils in the portion: its share of the pot's, and what it gets back.

    Formula: share × pot oils × (1 − pot loss) + returned
    """
    return known(s.split.oils)


@number("share", "portion", unit="% of the pot", dimension="FRACTION")
def share(s: Situation) -> Column:
    """The portion's share of the pot as split."""
    return known(s.split.share)


@word("pour family", "batch", FAMILY)
def pour_family(s: Situation) -> Column:
    """How the pour uses time: single, sequential (layers), interleaved, or thick on purpose."""
    return words([s.pour.family if s.pour else None], FAMILY, [Missing("plan", "pour")])


@word("pour batter", "batch", BATTER)
def pour_batter(s: Situation) -> Column:
    """How thick the batter must be for this pour."""
    return words([s.pour.batter if s.pour else None], BATTER, [Missing("plan", "pour")])


@flag("thin lines", "batch")
def thin_lines(s: Situation) -> Column:
    """Whether the pour draws lines of a few millimetres."""
    return flags([s.pour.thin_lines if s.pour else None], [Missing("plan", "pour")])


@tags("pour", "batch")
def pour(s: Situation) -> SetColumn:
    """The name of the pour, as a set of one word."""
    return sets([[s.plan.pour] if s.plan.pour else []])


@flag("embeds", "batch")
def embeds(s: Situation) -> Column:
    """Whether ready pieces of soap are set into the batter."""
    return flags([bool(s.plan.embeds)])


@number("embeds soften", "batch", unit="°C", dimension="TEMPERATURE")
def embeds_soften(s: Situation) -> Column:
    """The lowest temperature at which an embed softens (not asked without embeds)."""
    found = [e.softens.value if e.softens else None for e in s.plan.embeds]
    lowest = None if None in found or not found else min(v for v in found if v is not None)
    return numbers([lowest], [Missing("embeds", "softens")], np.array([bool(s.plan.embeds)]))


@tags("additives", "batch")
def additives(s: Situation) -> SetColumn:
    """The names of the additives with a mass above zero."""
    return sets([[name for name, grams in s.pot.additives.items() if grams > 0]])


@tags("oils", "batch")
def oils(s: Situation) -> SetColumn:
    """The names of the base oils in the recipe."""
    return sets([[n for n, grams in zip(s.pot.oils, s.pot.masses, strict=True) if grams > 0]])


@flag("stick blend portions", "batch")
def stick_blend(s: Situation) -> Column:
    """Whether the plan says that portions are stick blended (no unless written)."""
    process = s.plan.process
    return flags([bool(process and process.stick_blend)])
