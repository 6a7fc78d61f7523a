"""What batter, jobs and styles of pour take in minutes, each with two ends: least, the middle, most."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Final

import numpy as np

from blendwise.beliefs.lessons import Pace
from blendwise.facts.columns import Floats
from blendwise.facts.pour.fats import cloudiness, share_of
from blendwise.facts.pour.temperatures import split_temperature
from blendwise.facts.situation.worked_out import Situation
from blendwise.quantity import Amount
from blendwise.records.kinds.pour import PourStyle
from blendwise.records.kinds.usual import CupMinutes
from blendwise.science import clock

FEW, MANY = 2, 8  # portions for which the low and the high end of a style's minutes are taken: judgement
STATED: Final = ("the plan", "usual.yaml")  # where a maker states the minutes
SPEED_OF: Final = {"slow": -1.0, "medium": 0.0, "fast": 1.0}


@dataclass(frozen=True, slots=True)
class Base:
    """Minutes from emulsion that unscented batter stays fluid, and where that comes from.

    ``low``, ``high``: as told; ``least``, ``most``: with the doubt of a single figure, from day to day.
    """

    low: float
    high: float
    least: float
    most: float
    source: str


def base_of(s: Situation) -> Base:
    """How long the unscented batter stays fluid; less where its fats begin to cloud it.

    A figure typed by hand does not outrank the fats.
    """
    low, high, source = _told(s)
    cold = cloudiness(s)
    least, most = (low, high) if high > low else (low * clock.DAY_DOUBT[0], high * clock.DAY_DOUBT[1])
    if source not in STATED:
        least = min(least, _of_class(s, recipe_class(s, harsh=True))[0])
    return Base(low, high, float(clock.clouded(least, cold)), most, source)


def _told(s: Situation) -> tuple[float, float, str]:
    process = s.plan.process
    stated = process.stays_fluid if process and process.stays_fluid else None
    if stated is not None:
        return stated.low, stated.high, STATED[0]
    if s.book.usual.stays_fluid is not None and s.plan.recipe is None:
        usual = s.book.usual.stays_fluid
        return usual.low, usual.high, STATED[1]
    kind = recipe_class(s)
    return *_of_class(s, kind), f"the recipe's class ({clock.RECIPE_CLASSES[kind]})"


def _of_class(s: Situation, kind: int) -> tuple[float, float]:
    low, high = clock.fluid_minutes(kind, split_temperature(s), class_minutes(s))
    return float(low), float(high)


def class_minutes(s: Situation) -> Floats:
    """Minutes (classes, 2) that a class of batter stays fluid: the rulebook's own, else common practice."""
    said = s.scales.fluid
    rows = [
        (said[kind].minutes.low, said[kind].minutes.high) if kind in said else usual
        for kind, usual in zip(clock.RECIPE_CLASSES, clock.CLASS_MINUTES, strict=True)
    ]
    return np.array(rows, dtype=float)


def recipe_class(s: Situation, *, harsh: bool = False) -> int:
    """Index into the classes of how fast a recipe thickens: slow, ordinary, fast.

    ``harsh``: oils of which nobody knows how hard they are taken for hard.
    """
    oils = [s.book.oils[name] for name in s.pot.oils]
    shares = s.pot.masses / s.pot.oils_total
    hard = share_of(s, "hard", "soft", *((None,) if harsh else ()))
    speed = float(shares @ np.array([SPEED_OF.get(o.speed or "medium", 0.0) for o in oils]))
    # Rounded: 30 % of lye stands on an edge, and must stand on the same side of it in grams and in ounces.
    return int(clock.recipe_class(*np.round([hard, s.pot.lye_concentration, speed], 9)))


@dataclass(frozen=True, slots=True)
class Paces:
    """What one cup takes at each job: as judged, with the quickest hands and with the slowest."""

    usual: clock.Jobs
    quick: clock.Jobs
    slow: clock.Jobs


def jobs_of(s: Situation, cups: int = 0) -> Paces:
    """Minutes that one cup takes at each job: the maker's own, else common practice, more for a big cup.

    ``cups``: into how many the batter is thought to be split; 0 for the plan's own portions.
    """
    own, usual = s.book.usual.minutes_a_cup or CupMinutes(), clock.Jobs()
    grown = float(clock.grown(float(s.split.batter.sum()) / (cups or len(s.portions)), clock.CUP_GRAMS))
    ends = (
        _ends(own.split, usual.split * grown),
        _ends(own.colour, usual.colour * grown),
        _ends(own.scent, usual.scent * grown),
        _ends(own.pour, usual.pour * grown),
    )
    return Paces(*(clock.Jobs(*each) for each in zip(*ends, strict=True)))


def _ends(stated: Amount | None, usual: float) -> tuple[float, float, float]:
    """(middle, least, most) of a job: as typed where it is typed as a range, else by judgement's doubt."""
    if stated is None:
        return usual, usual / clock.JOBS_DOUBT, usual * clock.JOBS_DOUBT
    if stated.high > stated.low:
        return stated.mid, stated.low, stated.high
    return stated.mid, stated.mid / clock.OWN_DOUBT, stated.mid * clock.OWN_DOUBT


def hands_of(s: Situation) -> int:
    """Pairs of hands that can work at once."""
    process = s.plan.process
    return min(2, (process.hands if process else None) or s.book.usual.hands or 1)


def hole_minutes(s: Situation) -> float:
    """Minutes to fill the cavities of the mould one by one; 0 for a mould without."""
    recipe = s.plan.recipe or s.book.usual.recipe
    amount = recipe.amount if recipe else None
    holes = (amount.cavities or 1) if amount and amount.mould == "cavities" else 0
    return float(clock.filling_minutes(holes))


def style_minutes(s: Situation, pour: PourStyle) -> float:
    """Minutes of a style with this maker: the rulebook's, by the pace that own timed pours have shown."""
    own = pace_of(s, pour)
    return rulebook_minutes(s, pour) * (math.exp(own.mean) if own else 1.0)


def style_ends(s: Situation, pour: PourStyle) -> tuple[float, float]:
    """The least and the most for a style: as makers take, else 80 % of the next pours of this maker."""
    own = pace_of(s, pour)
    if own is None:
        return _makers(s, pour)
    least, most = (rulebook_minutes(s, pour) * math.exp(end) for end in own.ends())
    return least, most


def pace_of(s: Situation, pour: PourStyle) -> Pace | None:
    """What own timed pours of the style have shown; None where none was timed."""
    lessons = s.believing.lessons
    return lessons.pours.get(pour.name) if lessons else None


def rulebook_minutes(s: Situation, pour: PourStyle) -> float:
    """Minutes of a style: the low end for two portions, the high end for eight, straight between; more for a
    batch of more than two kilograms."""
    share = np.clip((len(s.portions) - FEW) / (MANY - FEW), 0.0, 1.0)
    least, most = _makers(s, pour)
    return float(least + share * (most - least))


def _makers(s: Situation, pour: PourStyle) -> tuple[float, float]:
    """The least and the most that makers take for a style, grown with the batch."""
    grown = float(clock.grown(max(float(s.split.batter.sum()), 1.0), clock.BATCH_GRAMS))
    return pour.minutes.low * grown, pour.minutes.high * grown
