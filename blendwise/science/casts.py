"""Casts: what soap turns by constituents other than vanillin, each family of colours by itself.

Families are brown (vanillin's; clove's phenols count in it by their weight), yellow to orange (citral,
cinnamal, anthranilates, some aldehydes) and pink (indole).  A *load* is grams of the family's constituents,
each by its weight, over grams of the portion's wet batter, as a fraction.

Formula: load = Σ dose × content × weight ÷ batter; then the last word whose lower edge is reached; cast by
    straight lines between the words' colours.
Source: families as makers report them (common practice); weights, edges and colours are our judgement.
Check: a litsea oil of three quarters citral at 3 % of oils goes yellow and never brown; clove at 1.5 % goes
    tan to brown; no word falls as the load rises.
Limits: lots differ; yellow fades in light over months; amines beside aldehydes go further than either alone,
    and have a rule of their own.
"""

from __future__ import annotations

from functools import cache
from typing import Literal

import numpy as np
from numpy.typing import ArrayLike

from blendwise.science.checks import Floats, Ints, not_negative
from blendwise.science.mixing import absorption_of, linear_from_hex
from blendwise.science.tables import plain_key, read_table

Family = Literal["brown", "yellow", "pink"]
# The words of a family, the load from which each but the first holds, and the colour on the plain base there.
WORDS = {
    "yellow": ("none", "pale yellow", "yellow", "orange"),
    "pink": ("none", "pinkish", "pink", "red-brown"),
}
EDGES = {"yellow": (0.001, 0.005, 0.02), "pink": (0.00005, 0.0003, 0.001)}
HEXES = {"yellow": ("#f1e7b9", "#ecd78a", "#ecc07f"), "pink": ("#eedccf", "#eccfc2", "#b98a72")}


@cache
def weights() -> dict[str, tuple[Family, float]]:
    """Family and weight of each constituent of the table, by its plain key."""
    return {plain_key(row["substance"]): (_family(row), float(row["weight"])) for row in read_table("casts")}


def _family(row: dict[str, str]) -> Family:
    found = row["family"]
    assert found in ("brown", "yellow", "pink"), found
    return found  # type: ignore[return-value]


def weight(substance: str, family: Family) -> float:
    """How much a gram of a substance does in a family; 0 where it belongs to another or to none."""
    found = weights().get(plain_key(substance))
    return found[1] if found is not None and found[0] == family else 0.0


def is_listed(substance: str) -> bool:
    """Whether the table says what family a substance belongs to."""
    return plain_key(substance) in weights()


def cast_of(load: ArrayLike, family: Family) -> Ints:
    """Index into ``WORDS`` of each load (fraction of batter), any shape."""
    amounts = not_negative("cast load", load, "nothing tints less than nothing", endless=True)
    return np.asarray(np.searchsorted(np.array(EDGES[family]), amounts, side="right"))


def cast_absorption(load: ArrayLike, family: Family) -> Floats:
    """Absorption (..., 3) that a load (...) adds on the plain base; it stays at the last colour beyond it."""
    amounts = not_negative("cast load", load, "nothing tints less than nothing", endless=True)
    knots = np.array([0.0, *EDGES[family]])
    absorbed = np.vstack([np.zeros(3), absorption_of(linear_from_hex(HEXES[family]))])
    return np.stack([np.interp(amounts, knots, channel) for channel in absorbed.T], axis=-1)
