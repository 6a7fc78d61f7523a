"""Where the fats of a recipe set on cooling and where they are clear, beside the batter's own temperature."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np

from blendwise.facts.columns import Column, Missing
from blendwise.facts.pour.temperatures import split_temperature
from blendwise.facts.situation.worked_out import Situation, once_for_all_doses
from blendwise.records import BaseOil
from blendwise.records.kinds.recipe import FluidAt
from blendwise.science import fats

COLDEST: Final = -40.0  # °C: what stands for a liquid oil, which never sets at the pour
OWN: Final = ("own batch", "own cup")
"""Evidence by which an own pour outranks the estimate; a bare guess does not."""


@dataclass(frozen=True, slots=True)
class Clouding:
    """°C below which the fats set within a pour, and from which they are clear; ``lost``: what is not known.

    ``own``: °C at which the maker poured these fats fluid, None where nobody has.
    """

    sets: float
    clear: float
    lost: tuple[Missing, ...]
    own: float | None

    def column(self, middle: float) -> Column:
        """One of the two as a column, with the estimate's doubt; never above an own pour that was fluid."""
        most = np.inf if self.own is None else self.own
        low, high = min(middle, most), min(np.inf if self.lost else middle, most)
        least = max(min(middle - fats.DOUBT_CELSIUS, most), COLDEST)
        gaps = {0: self.lost} if self.lost and high > low else {}
        narrowed = () if self.own is not None else (Missing("plan", "fluid at"),)
        return Column(
            np.array([low]),
            np.array([high]),
            missing=gaps,
            least=np.array([min(least, low)]),
            most=np.array([max(min(high + fats.DOUBT_CELSIUS, most), high)]),
            narrowed_by={0: narrowed} if narrowed else {},
        )


@once_for_all_doses
def clouding(s: Situation) -> Clouding:
    """The recipe's two points, from each fat's own and its share of the oils."""
    oils = [s.book.oils[name] for name in s.pot.oils]
    known = [_points(oil) for oil in oils]
    shares = s.pot.masses / s.pot.oils_total
    lost = [
        Missing(oil.name, "clear at")
        for oil, points in zip(oils, known, strict=True)
        if points is None and hardness_of(oil) != "liquid"
    ]
    sets = np.array([COLDEST if p is None else p.sets for p in known], dtype=float)
    melts = np.array([COLDEST if p is None else p.melts for p in known], dtype=float)
    low, high = float(fats.setting_celsius(sets, shares)), float(fats.melting_celsius(melts, shares))
    own = _own(s)
    at = own.at.low if own is not None and own.evidence in OWN else None
    return Clouding(max(low, COLDEST), max(high, low, COLDEST), tuple(lost), at)


def hardness_of(oil: BaseOil) -> str | None:
    """As the catalogue says, else by the oil's name; None where neither tells, which is not liquid."""
    if oil.hardness is not None or fats.points_of(oil.name) is None:
        return oil.hardness or ("liquid" if fats.is_liquid(oil.name) else None)
    return "hard"


def share_of(s: Situation, *hardness: str | None) -> float:
    """The share of the oils that are of one of these."""
    here = np.array([hardness_of(s.book.oils[name]) in hardness for name in s.pot.oils], dtype=bool)
    return float(s.pot.masses[here].sum() / s.pot.oils_total)


def _points(oil: BaseOil) -> fats.Points | None:
    """A fat's own points: those of its kind, and where the maker saw it clear."""
    usual = fats.points_of(oil.name)
    if oil.clear_at is None:
        return None if hardness_of(oil) == "liquid" else usual
    melts = oil.clear_at.mid
    sets = melts - fats.UNDERCOOLING if usual is None else usual.sets
    return fats.Points(min(sets, melts), melts)


def _own(s: Situation) -> FluidAt | None:
    if s.plan.process and s.plan.process.fluid_at:
        return s.plan.process.fluid_at
    return s.book.usual.fluid_at if s.plan.recipe is None else None


def cloudiness(s: Situation) -> float:
    """How far the batter has gone from clear (0) to where its fats set (1), by the middle estimates."""
    found, batter = clouding(s), split_temperature(s)
    sets, clear = (float(found.column(value).low[0]) for value in (found.sets, found.clear))
    if batter >= clear:
        return 0.0
    return float((clear - batter) / (clear - sets)) if clear > sets else np.inf


def has_set(s: Situation) -> bool:
    """Whether the batter is colder than its fats bear: cooling thickens it, and no minutes hold."""
    return cloudiness(s) > 1
