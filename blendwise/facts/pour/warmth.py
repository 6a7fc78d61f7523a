"""How warm one piece gets in its mould, with the doubt of it: the loaf or slab, or one cavity."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from blendwise.facts.columns import Missing
from blendwise.facts.pour.temperatures import USUAL_ROOM, oven_celsius, room_celsius, split_temperature
from blendwise.facts.situation.appearance import gel_word
from blendwise.facts.situation.worked_out import Situation, once_for_all_doses
from blendwise.records.kinds.plan import Embed
from blendwise.records.kinds.recipe import RecipeAmount
from blendwise.science import heat

HEATING = "spice"
"""The tag of a scent that heats the batter."""


@dataclass(frozen=True, slots=True)
class Warmth:
    """Peaks and chances at the middle of judgement, and the half width of doubt about the peak (°C)."""

    heat: heat.Heat
    doubt: float

    @property
    def peak(self) -> float:
        """°C in the middle of the piece."""
        return float(self.heat.middle)


def sugar_share(s: Situation) -> float:
    """Grams of sugar in the additives a gram of oils."""
    return sum(each.sugar for each in s.pot.added) / s.pot.oils_total


@once_for_all_doses
def warmth(s: Situation) -> Warmth:
    """The heat balance of one piece."""
    recipe = s.plan.recipe or s.book.usual.recipe
    amount = recipe.amount if recipe else None
    mould = (amount.mould if amount else None) or "loaf"
    pieces = (amount.cavities or 1) if amount and mould == "cavities" else 1
    intent = gel_word(s) or "leave"
    room = room_celsius(s)
    around = oven_celsius(s) if intent == "force" else USUAL_ROOM if room is None else room
    spicy = any(HEATING in r.tags for r in s.scent_records)
    alcohol = sum(each.alcohol for each in s.pot.added) / s.pot.oils_total
    added = heat.added_celsius(sugar_share(s), spicy, alcohol)
    deep = _depth(amount)
    kept = heat.kept_share(s.pot.batter / pieces, mould, intent, heat.SLAB_DEPTH if deep is None else deep)
    warming = heat.warming_celsius(s.pot.oils_total, s.pot.naoh, s.pot.all_water) + added[1]
    found = heat.heat_of(
        split_temperature(s), around, warming, kept, heat.gel_celsius(s.pot.lye_concentration)
    )
    return Warmth(found, float(heat.peak_doubt(kept, added, mould == "slab" and deep is None)))


def _depth(amount: RecipeAmount | None) -> float | None:
    """cm of the batter's least side in its mould; None where nobody says."""
    return None if amount is None or amount.inside is None else float(min(amount.inside))


def softening(s: Situation) -> tuple[float, float] | None:
    """°C at which the softest embed that is known begins to soften, and its doubt; None where none is."""
    return min(filter(None, (_softens(embed) for embed in s.plan.embeds)), default=None)


def not_told(s: Situation) -> tuple[Missing, ...]:
    """The embeds of which nothing tells where they soften."""
    return tuple(Missing(embed.what, "softens") for embed in s.plan.embeds if _softens(embed) is None)


def _softens(embed: Embed) -> tuple[float, float] | None:
    if embed.softens is not None:
        return embed.softens.low, heat.STATED_SOFTENS_DOUBT
    words = embed.what.casefold().replace("-", " ")
    is_melted = "melt and pour" in words or "m&p" in words
    return (heat.SOFTENS_CELSIUS, heat.SOFTENS_DOUBT) if is_melted else None


def room_under_embeds(s: Situation) -> tuple[float, float, float] | None:
    """(least, middle, most) °C between the peak and where the embeds soften, as far as that is known."""
    point, found = softening(s), warmth(s)
    if point is None:
        return None
    room, doubt = point[0] - found.peak, float(np.hypot(found.doubt, point[1]))
    return room - doubt, room, room + doubt
