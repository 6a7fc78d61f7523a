"""Measures of the plan as written: purpose, masses, the pour, counts."""

from __future__ import annotations

import numpy as np

from blendwise.facts.columns import Column, Missing, SetColumn
from blendwise.facts.forms import AffineFraction, fraction
from blendwise.facts.measure import affine, flag, number, tags, word
from blendwise.facts.plain_columns import flags, known, sets, words
from blendwise.facts.pour.warmth import not_told, softening
from blendwise.facts.registry import Use
from blendwise.facts.scales import BATTER, FAMILY, PURPOSE
from blendwise.facts.situation.worked_out import Situation

SOURCE = "the plan and usual.yaml"


@word("purpose", "batch", PURPOSE)
def purpose(s: Situation) -> Column:
    """Whether the soap is for sale or for home.  Not said counts as usual, else as for sale."""
    return words([s.purpose], PURPOSE)


@number("oils mass", "batch", unit="g", dimension="MASS", use=Use(of_size=True))
def oils_mass(s: Situation) -> Column:
    """All oils of the recipe, what is held back included."""
    return known([s.pot.oils_total])


@number("batter mass", "batch", unit="g", dimension="MASS", use=Use(of_size=True))
def batter_mass(s: Situation) -> Column:
    """The pot as split: oils, lye, water and additives, before colour and scent.

    Formula: pot oils + NaOH + water + additives
    """
    return known([s.pot.batter])


@number("portions", "batch", lowest=1.0)
def portions(s: Situation) -> Column:
    """How many portions the batter is split into."""
    return known([float(len(s.portions))])


@number("portion mass", "portion", unit="g", dimension="MASS", use=Use(of_size=True, warns_of="riced"))
def portion_mass(s: Situation) -> Column:
    """Batter in the portion with colour, returned and mixed-in oil, before its scent.

    Formula: share × batter mass × (1 − pot loss) + returned + mixed in + colourants
    """
    return known(s.split.batter)


@number("portion oils", "portion", unit="g", dimension="MASS", use=Use(of_size=True))
def portion_oils(s: Situation) -> Column:
    """Oils in the portion, on which rates count: its share of the pot's, and what it gets back.

    Formula: share × pot oils × (1 − pot loss) + returned
    """
    return known(s.split.oils)


@number("share", "portion", unit="% of the pot", dimension="FRACTION", highest=1.0)
def share(s: Situation) -> Column:
    """The portion's share of the pot as split."""
    return known(s.split.share)


@word("pour family", "batch", FAMILY, use=Use(of_pour=True))
def pour_family(s: Situation) -> Column:
    """How the pour uses time: single, sequential (layers), interleaved, or thick on purpose."""
    return words([s.pour.family if s.pour else None], FAMILY, [Missing("plan", "pour")])


@word("pour batter", "batch", BATTER, use=Use(of_pour=True))
def pour_batter(s: Situation) -> Column:
    """How thick the batter must be for this pour."""
    return words([s.pour.batter if s.pour else None], BATTER, [Missing("plan", "pour")])


@flag("thin lines", "batch", use=Use(of_pour=True))
def thin_lines(s: Situation) -> Column:
    """Whether the pour draws lines of a few millimetres."""
    return flags([s.pour.thin_lines if s.pour else None], [Missing("plan", "pour")])


@tags("pour", "batch", use=Use(of_pour=True))
def pour(s: Situation) -> SetColumn:
    """The name of the pour, as a set of one word."""
    return sets([[s.pour.name] if s.pour else []])


@flag("embeds", "batch")
def embeds(s: Situation) -> Column:
    """Whether ready pieces of soap are set into the batter."""
    return flags([bool(s.plan.embeds)])


@number("embeds soften", "batch", unit="°C", dimension="TEMPERATURE")
def embeds_soften(s: Situation) -> Column:
    """The lowest temperature at which an embed begins to soften (not asked without embeds).

    Melt-and-pour of which nobody says is taken to begin at 52.5 °C, ± 4.5; a stated figure is doubted by ± 3.
    """
    lost, asked, point = not_told(s), np.array([bool(s.plan.embeds)]), softening(s)
    if lost or point is None:
        high = np.array([np.inf if point is None else point[0]])
        return Column(np.array([-np.inf]), high, asked=asked, missing={0: lost} if lost else {})
    at = np.array([point[0]])
    taken = tuple(Missing(e.what, "softens") for e in s.plan.embeds if e.softens is None)
    narrowed = {0: taken} if taken else {}
    return Column(at, at, asked=asked, least=at - point[1], most=at + point[1], narrowed_by=narrowed)


@tags("additives", "batch")
def additives(s: Situation) -> SetColumn:
    """The names of the additives with a mass above zero."""
    return sets([[name for name, grams in s.pot.additives.items() if grams > 0]])


@tags("oils", "batch")
def oils(s: Situation) -> SetColumn:
    """The names of the base oils in the recipe."""
    return sets([[n for n, grams in zip(s.pot.oils, s.pot.masses, strict=True) if grams > 0]])


@flag("stick blend portions", "batch", use=Use(warns_of="riced"))
def stick_blend(s: Situation) -> Column:
    """Whether the plan says that portions are stick blended (no unless written)."""
    process = s.plan.process
    return flags([bool(process and process.stick_blend)])


@number("cure loss", "batch", unit="%", dimension="FRACTION", highest=1.0)
def cure_loss(s: Situation) -> Column:
    """Share of oils, lye and water that leaves through cure, as stated or 12 %, never more than the water.

    Formula: min(stated, water ÷ (oils + NaOH + water))
    """
    return known([s.cure_loss])


@number("water left", "batch", unit="% of the cured soap", dimension="FRACTION", highest=1.0)
def water_left(s: Situation) -> Column:
    """Water that is still in oils, lye and water when they have lost the cure loss.

    Formula: (water share − cure loss) ÷ (1 − cure loss)
    """
    pot = s.pot
    share_of_water = pot.water / (pot.oils_total + pot.naoh + pot.water)
    return known([max(0.0, share_of_water - s.cure_loss) / (1 - s.cure_loss)])


@affine("bar mass", "batch", unit="g", dimension="MASS", use=Use(of_size=True))
def bar_mass(s: Situation) -> AffineFraction:
    """Mass of one finished bar, all batter divided evenly (not asked where the plan does not say how many).

    Formula: finished mass of the batch ÷ bars
    """
    recipe = s.plan.recipe or s.book.usual.recipe
    amount = recipe.amount if recipe else None
    bars = (amount.bars or (amount.cavities if amount.mould == "cavities" else None)) if amount else None
    return fraction(np.ones((1, *s.shape)), d0=float(bars or 0), a0=s.bar_constant)


@tags("base casts", "batch")
def base_casts(s: Situation) -> SetColumn:
    """The colours that the base oils lend to plain soap, in the words of oils.yaml."""
    casts = [s.book.oils[name].cast for name in s.pot.oils]
    return sets([[cast for cast in casts if cast and not cast.startswith("#")]])
