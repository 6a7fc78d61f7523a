"""Measures of an embed: ready soap that is set in, and the scents it brings."""

from __future__ import annotations

import numpy as np

from blendwise.facts.columns import Column, Floats, SetColumn
from blendwise.facts.measure import number, tags
from blendwise.facts.measures.scent import tags_of
from blendwise.facts.plain_columns import known, sets
from blendwise.facts.registry import Use
from blendwise.facts.situation.worked_out import Situation
from blendwise.quantity import Dimension

SOURCE = "the plan's embeds"


@tags("embed", "embed")
def embed(s: Situation) -> SetColumn:
    """What the embed is called, so that a rule can speak of one."""
    return sets([[each.what] for each in s.plan.embeds])


@tags("embed holds", "embed")
def embed_holds(s: Situation) -> SetColumn:
    """The scents in the embed: their names and their tags."""
    scents = s.book.scents
    return sets(
        [[word for name in each.scents for word in (name, *tags_of(scents[name]))] for each in s.plan.embeds]
    )


@number("embed mass", "embed", unit="g", dimension="MASS", use=Use(of_size=True))
def embed_mass(s: Situation) -> Column:
    """Mass of all its pieces together."""
    return known([each.mass.value for each in s.plan.embeds])


@number("embed scent", "embed", unit="% of embed", dimension="FRACTION", highest=1.0)
def embed_scent(s: Situation) -> Column:
    """All scent in the embed, as a share of it.

    Formula: Σ grams of scent ÷ its mass
    """
    return known([float(_grams(s, i).sum()) / each.mass.value for i, each in enumerate(s.plan.embeds)])


def _grams(s: Situation, index: int) -> Floats:
    """Grams of each scent of an embed."""
    each = s.plan.embeds[index]
    whole = each.mass.value
    amounts = each.scents.values()
    return np.array([a.value if a.dimension is Dimension.MASS else a.value * whole for a in amounts])
