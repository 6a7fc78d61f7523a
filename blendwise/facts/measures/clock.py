"""Measures of time: how fast scents thicken a portion, and whether the pour outruns it.

All minutes are counted from emulsion and use the cautious end of what is known.
"""

from __future__ import annotations

import numpy as np

from blendwise.facts.build import flags, known, numbers, words
from blendwise.facts.columns import Column, Floats, Missing
from blendwise.facts.forms import AffineFraction, fraction
from blendwise.facts.measure import affine, flag, number, word
from blendwise.facts.scales import ACCELERATION
from blendwise.facts.situation import Situation
from blendwise.facts.timeline import base_minutes, recipe_class, split_temperature

RECIPE_SPEED = ("slow", "ordinary", "fast")


def _missing_speed(s: Situation) -> list[tuple[Missing, ...]]:
    return [() if t.speed.known else (Missing(t.name, "acceleration"),) for t in s.traits]


@affine("thickening", "portion", unit="× unscented", dimension="NUMBER", missing=_missing_speed)
def thickening(s: Situation) -> AffineFraction:
    """How many times faster than unscented batter the portion thickens; thinning is never credited.

    Formula: 1 + Σ max(0, factor − 1) × dose ÷ the dose of its note
    """
    unit = s.unit_of_portion() / s.split.oils[None, None, :]
    low, high = pace(s)
    return fraction(
        low[None, :, None] * unit,
        d0=1.0,
        a0=1.0,
        a_high=np.where(unit > 0, high[None, :, None] * np.maximum(unit, 1e-300), 0.0),
    )


def pace(s: Situation) -> tuple[Floats, Floats]:
    """What one unit of dose (g per g of oils) of each oil adds to q: (low, high), high infinite if not known."""
    low = [max(0.0, t.speed.low - 1) / t.speed.dose if t.speed.known else 0.0 for t in s.traits]
    high = [max(0.0, t.speed.high - 1) / t.speed.dose if t.speed.known else np.inf for t in s.traits]
    return np.array(low, dtype=float), np.array(high, dtype=float)


def _in_time(s: Situation, low: Floats, high: Floats) -> Column:
    """Minutes of the portions, unknown where a scent's acceleration is not known; not asked without a pour."""
    q = s.home("thickening")
    assert isinstance(q, Column)
    asked = np.full(len(s.portions), s.timeline is not None)
    return Column(low, high, asked=asked, missing=q.missing)


@number("minutes fluid", "portion", unit="min", dimension="TIME", form="clock")
def minutes_fluid(s: Situation) -> Column:
    """How long the portion stays fluid from its scenting, in its slot of the pour.

    Formula: (B − t) ÷ thickening, B the minutes the unscented batter stays fluid, t the minute of its scenting
    """
    line = s.timeline
    if line is None:
        return numbers([0.0] * len(s.portions), [], np.zeros(len(s.portions), dtype=bool))
    q = s.home("thickening")
    assert isinstance(q, Column)
    left = np.maximum(line.base[0] - line.scented_at, 0.0)
    return _in_time(s, np.where(np.isfinite(q.high), left / q.high, -np.inf), left / q.low)


@number("minutes needed", "portion", unit="min", dimension="TIME", form="clock")
def minutes_needed(s: Situation) -> Column:
    """How long the portion must stay fluid from its scenting: to the common end, or to its own layer's pour.

    Not asked for a pour that wants thick batter.
    """
    line = s.timeline
    asked = np.full(len(s.portions), line is not None and line.family != "thick")
    if line is None:
        return numbers([0.0] * len(s.portions), [], asked)
    return known(line.needed_until - line.scented_at, asked)


@number("fluid until", "portion", unit="min", dimension="TIME", form="clock")
def fluid_until(s: Situation) -> Column:
    """The minute from emulsion until which the portion is fluid, by the cautious end of the batter's time."""
    line = s.timeline
    if line is None:
        return numbers([0.0] * len(s.portions), [], np.zeros(len(s.portions), dtype=bool))
    q = s.home("thickening")
    assert isinstance(q, Column)
    worst = np.where(np.isfinite(q.high), line.fluid_until[0], -np.inf)
    best = line.scented_at + np.maximum(line.base[0] - line.scented_at, 0.0) / q.low
    return _in_time(s, worst, best)


@number("minutes before scenting", "batch", unit="min", dimension="TIME")
def minutes_before_scenting(s: Situation) -> Column:
    """Minutes of splitting and colouring before the first portion is scented."""
    line = s.timeline
    return numbers([line.first if line else None], [Missing("plan", "pour")])


@number("pour minutes", "batch", unit="min", dimension="TIME")
def pour_minutes(s: Situation) -> Column:
    """What the style of pour takes with so many portions, from the first scenting to the last movement."""
    line = s.timeline
    return numbers([line.minutes if line else None], [Missing("plan", "pour")])


@number("unscented minutes", "batch", unit="min", dimension="TIME")
def unscented_minutes(s: Situation) -> Column:
    """How long the unscented batter stays fluid from emulsion: as the plan says, else the low end of its class."""
    return known([base_minutes(s)[0]])


@word("recipe speed", "batch", RECIPE_SPEED)
def recipe_speed(s: Situation) -> Column:
    """How fast the recipe itself thickens: slow, ordinary, fast."""
    return words([RECIPE_SPEED[recipe_class(s)]], RECIPE_SPEED)


@number("batter temperature", "batch", unit="°C", dimension="TEMPERATURE")
def batter_temperature(s: Situation) -> Column:
    """Temperature of the batter at the split."""
    return known([split_temperature(s)])


@word("fastest the pour bears", "batch", ACCELERATION)
def tolerates(s: Situation) -> Column:
    """The quickest scent with which makers still manage this style."""
    return words([s.pour.tolerates if s.pour else None], ACCELERATION, [Missing("plan", "pour")])


@flag("seizes", "scent")
def seizes(s: Situation) -> Column:
    """Whether it turns batter solid within a minute: a gate, whatever the minutes say."""
    gates = {"yes": True, "no": False, "unknown": None}
    return flags([gates[t.seizes] for t in s.traits], [Missing(t.name, "acceleration") for t in s.traits])
